//! Every wall that is near its limit, worst first: the list behind the findings.

use super::findings::thin_wall_id;
use super::limit::{HeldWall, PlaceLimits};
use super::rate::{RatedMap, Rule};
use super::wall::chance;
use super::{Measured, Ratings, fit};
use crate::geometry::widths::FeatureShape;
use crate::job::{Job, Place};
use crate::units::Mm;
use glam::DVec2;
use std::f64::consts::PI;

/// A wall at a size.
#[derive(Clone, Debug, PartialEq)]
pub struct WallRow {
    /// Where it is thinnest for its limit, board millimetres.
    pub at: DVec2,
    /// Its thickness there.
    pub width: Mm,
    /// How it is held to its limit there.
    pub held: HeldWall,
    /// The angle it runs at to the grain, radians in `0..pi`.
    pub to_grain: f64,
    /// The chance that it holds, 0 to 1.
    pub chance: f64,
    /// Its name: that of its finding, where it is thin.
    pub id: String,
    /// The cutter beside it.
    pub place: Place,
}

impl WallRow {
    /// Its thickness over its limit.
    pub fn margin(&self) -> f64 {
        self.width / self.held.limit.thickness
    }
}

/// The chance that every one of these walls holds, each by itself: walls beyond twice their limit, which are not
/// among them, hold but for one in ten thousand.
pub fn chance_of_all(walls: &[WallRow]) -> f64 {
    walls.iter().map(|wall| wall.chance).product()
}

/// Walls up to this many times their limit are listed.
const LISTED: f64 = 2.0;

/// Every wall of a job at its size that is under twice its limit, least margin first. `O(log n + hits log hits)`.
pub fn walls(job: &Job, measured: &Measured, ratings: &Ratings) -> Vec<WallRow> {
    let factor = job.factor();
    let board_from_design = fit::board_from_design(job, factor);
    let mut rows = Vec::new();
    for (index, (level, rated)) in measured.levels().iter().zip(&ratings.levels).enumerate() {
        let rule = Rule { limits: &ratings.limits, measured, level: index };
        let pieces = level.walls.pieces();
        let near = near(&rule, &rated.walls, factor);
        let necks = level.walls.features(&near).filter(|feature| feature.shape == FeatureShape::Neck);
        rows.extend(necks.filter_map(|feature| {
            let piece = &pieces[feature.name as usize];
            let direction = level.direction(feature.name);
            let held = rule.wall(feature.name, direction, factor)?;
            let wall = held.wall?;
            let width = Mm::new(piece.narrow.width * factor);
            let limits = ratings.limits.at(held.place);
            let at = if feature.name == feature.piece { feature.at } else { piece.narrow.at };
            Some(WallRow {
                id: thin_wall_id(feature.name, level.kind()),
                place: held.place,
                at: board_from_design.transform_point2(at),
                width,
                held: wall,
                to_grain: to_grain(&ratings.limits, direction),
                chance: chance(width / wall.limit.thickness, limits.rule.scatter),
            })
        }));
    }
    rows.sort_by(|a, b| {
        let by_place = || a.at.x.total_cmp(&b.at.x).then(a.at.y.total_cmp(&b.at.y));
        a.margin().total_cmp(&b.margin()).then_with(by_place)
    });
    rows
}

/// The pieces under twice their limit. A wall that is thin at some size is looked for at a size at which it would be
/// under its limit: half as large or less.
fn near(rule: &Rule, rated: &RatedMap, factor: f64) -> Vec<(u32, f64)> {
    let level = &rule.measured.levels()[rule.level];
    let limit = |piece: u32| Some(rule.wall(piece, level.direction(piece), factor)?.limit.get());
    // Limits change with length: what is under twice its limit here may be under it only far smaller.
    rated
        .pieces_under(factor / (LISTED * LISTED))
        .filter_map(|piece| Some((piece, LISTED * limit(piece)? / factor)))
        .collect()
}

fn to_grain(limits: &PlaceLimits, direction: f64) -> f64 {
    limits.usual().to_grain(direction).rem_euclid(PI)
}
