//! Every wall that is near its limit, worst first: the list behind the findings.

use super::limit::{HeldWall, PlaceLimits};
use super::rate::{RatedMap, Rule};
use super::wall::chance;
use super::{Measured, Ratings, fit};
use crate::geometry::widths::FeatureShape;
use crate::job::Job;
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
    /// The chance that it holds, 0 to 1, with the starting scatter.
    pub chance: f64,
}

impl WallRow {
    /// Its thickness over its limit.
    pub fn margin(&self) -> f64 {
        self.width / self.held.limit.thickness
    }
}

/// Walls up to this many times their limit are listed.
const LISTED: f64 = 2.0;

/// How the logarithm of the thickness at which a wall breaks scatters from wall to wall, to start with: tension
/// strength across the grain scatters by about 25 % (Wood Handbook, from memory), and thickness goes with its root.
const STARTING_SCATTER: f64 = 0.18;

/// Every wall of a job at its size that is under twice its limit, least margin first. `O(log n + hits log hits)`.
pub fn walls(job: &Job, measured: &Measured, ratings: &Ratings) -> Vec<WallRow> {
    let factor = job.factor();
    let board_from_design = fit::board_from_design(job, factor);
    let mut rows = Vec::new();
    for (index, (level, rated)) in measured.levels().iter().zip(&ratings.levels).enumerate() {
        let rule = Rule { limits: &ratings.limits, measured, design: job.design(), level: index };
        let pieces = level.walls.pieces();
        let near = near(&rule, &rated.walls, factor);
        let necks =
            level.walls.features(&near).into_iter().filter(|feature| feature.shape == FeatureShape::Neck);
        rows.extend(necks.filter_map(|feature| {
            let piece = &pieces[feature.name as usize];
            let held = rule.wall(feature.name, piece.direction, factor)?;
            let wall = held.wall?;
            let width = Mm::new(piece.narrow.width * factor);
            let at = if feature.name == feature.piece { feature.at } else { piece.narrow.at };
            Some(WallRow {
                at: board_from_design.transform_point2(at),
                width,
                held: wall,
                to_grain: to_grain(&ratings.limits, piece.direction),
                chance: chance(width / wall.limit.thickness, STARTING_SCATTER),
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
    let pieces = rule.measured.levels()[rule.level].walls.pieces();
    let limit = |piece: u32| Some(rule.wall(piece, pieces[piece as usize].direction, factor)?.limit.get());
    // Limits change with length: what is under twice its limit here may be under it only far smaller.
    rated
        .pieces_under(factor / (LISTED * LISTED))
        .filter_map(|piece| Some((piece, LISTED * limit(piece)? / factor)))
        .collect()
}

fn to_grain(limits: &PlaceLimits, direction: f64) -> f64 {
    limits.usual().to_grain(direction).rem_euclid(PI)
}
