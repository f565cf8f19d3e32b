//! The cut through the carved surface along a line.

#![expect(clippy::cast_sign_loss, reason = "what is cast is not negative: counted, clamped or rounded up")]

use super::field::HeightField;
use super::paths::Plan;
use super::profile::Profile;
use glam::{DVec2, dvec2};

/// What a line across the surface shows. Places along the line are millimetres from its start, heights
/// millimetres from the face.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Where the line begins, on the board.
    pub from: DVec2,
    /// Where it ends.
    pub to: DVec2,
    /// The surface: x along the line, y up.
    pub profile: Vec<DVec2>,
    /// The carved places it crosses, in order.
    pub grooves: Vec<Groove>,
    /// The walls it crosses between two of those, in order.
    pub walls: Vec<Wall>,
}

/// A carved place in a section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Groove {
    /// Where its edges are at the face.
    pub from: f64,
    /// The other edge.
    pub to: f64,
    /// How deep it is where it is deepest, positive.
    pub depth: f64,
    /// Whether the line leaves the surface inside it, so that an edge of it is not in the section.
    pub open: bool,
    /// Where the cutter's point was, on this line, and which cutter of the plan it was; `None` where no
    /// path of the plan passes nearby.
    pub cutter: Option<(DVec2, u32)>,
}

impl Groove {
    /// From edge to edge at the face, along the line.
    pub fn width(&self) -> f64 {
        self.to - self.from
    }
}

/// Standing wood in a section, between two carved places.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wall {
    /// Where its edges are at the face.
    pub from: f64,
    /// The other edge.
    pub to: f64,
    /// How high it stands over the deeper of its two sides.
    pub height: f64,
}

impl Wall {
    /// How thick it is at the face, along the line.
    pub fn width(&self) -> f64 {
        self.to - self.from
    }
}

/// What is lowered by less than this is face, millimetres: under what a hand can feel.
const FACE: f64 = 0.01;

/// The section of a surface along a line, with the paths that made it, if they are given. `O(cells along the
/// line + points of the plan)`. A line without length has one point.
pub fn section(field: &HeightField, plan: Option<&Plan>, from: DVec2, to: DVec2) -> Section {
    let length = from.distance(to);
    let count = (length / (0.5 * field.lattice.pitch)).ceil().clamp(1.0, 100_000.0) as usize;
    let profile: Vec<DVec2> = (0..=count)
        .map(|i| {
            let share = i as f64 / count as f64;
            dvec2(length * share, field.height_at(from.lerp(to, share)))
        })
        .collect();
    let mut grooves: Vec<Groove> = Vec::new();
    let mut current: Option<Groove> = None;
    for (index, &p) in profile.iter().enumerate() {
        let before = index.checked_sub(1).map(|i| profile[i]);
        // The edge lies where the surface passes through the face level.
        let edge = |a: DVec2, b: DVec2| a.x + (b.x - a.x) * ((-FACE - a.y) / (b.y - a.y)).clamp(0.0, 1.0);
        let carved = p.y < -FACE;
        match (&mut current, carved) {
            (None, true) => {
                let from = before.map_or(p.x, |before| edge(before, p));
                current = Some(Groove { from, to: p.x, depth: -p.y, open: before.is_none(), cutter: None });
            }
            (Some(groove), true) => {
                groove.to = p.x;
                groove.depth = groove.depth.max(-p.y);
            }
            (Some(groove), false) => {
                groove.to = before.map_or(p.x, |before| edge(before, p));
                grooves.extend(current.take());
            }
            (None, false) => {}
        }
    }
    if let Some(mut groove) = current {
        groove.open = true;
        grooves.push(groove);
    }
    if let Some(plan) = plan {
        set_cutters(&mut grooves, plan, from, to);
    }
    let wall = |pair: &[Groove]| Wall {
        from: pair[0].to,
        to: pair[1].from,
        height: pair[0].depth.max(pair[1].depth),
    };
    let walls = grooves.windows(2).map(wall).collect();
    Section { from, to, profile, grooves, walls }
}

/// Finds, for each groove, the place where a path crosses the line in it: the deepest, and of those the
/// nearest to its middle.
fn set_cutters(grooves: &mut [Groove], plan: &Plan, from: DVec2, to: DVec2) {
    let length = from.distance(to);
    if length == 0.0 {
        return;
    }
    let along = (to - from) / length;
    for line in plan.lines.iter().filter(|line| line.last) {
        for pair in line.points.windows(2) {
            let [a, b] = [pair[0], pair[1]];
            let side = |p: glam::DVec3| along.perp_dot(p.truncate() - from);
            let (left, right) = (side(a), side(b));
            if (left > 0.0) == (right > 0.0) {
                continue;
            }
            let p = a.lerp(b, left / (left - right));
            let at = dvec2((p.truncate() - from).dot(along), p.z);
            let Some(groove) = grooves.iter_mut().find(|groove| (groove.from..=groove.to).contains(&at.x))
            else {
                continue;
            };
            let middle = f64::midpoint(groove.from, groove.to);
            let rank = |place: DVec2| (place.y, (place.x - middle).abs());
            if groove.cutter.is_none_or(|(best, _)| rank(at) < rank(best)) {
                groove.cutter = Some((at, line.cutter));
            }
        }
    }
}

/// A cutter's outline with its point at a place, up to a height above it: from its left edge round its end to
/// its right edge. For drawing it in a groove.
pub fn cutter_outline(profile: &Profile, point: DVec2, height: f64) -> Vec<DVec2> {
    const STEPS: u32 = 24;
    let top = height.max(0.0);
    let widest = profile.half_width(top).min(profile.reach);
    let mut offs: Vec<f64> = (0..=STEPS)
        // Evenly in the angle of a ball, which bends most towards its rim.
        .map(|i| widest * (f64::from(i) / f64::from(STEPS) * std::f64::consts::FRAC_PI_2).sin())
        .chain([profile.flat, profile.ball_reach])
        .filter(|&off| off <= widest)
        .collect();
    offs.sort_by(f64::total_cmp);
    offs.dedup();
    let mut right: Vec<DVec2> = offs.iter().map(|&off| dvec2(off, profile.height(off).min(top))).collect();
    right.push(dvec2(widest, top));
    right.dedup();
    let left = right.iter().rev().map(|p| dvec2(-p.x, p.y));
    left.chain(right.iter().copied()).map(|p| p + point).collect()
}
