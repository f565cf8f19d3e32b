//! Where a round cutter does not reach: a place less its opening by a disc, at any size, from the whole
//! medial axis.
//!
//! The middle of a disc of radius `r` may lie wherever the outline is at least `r` away. Every point of a
//! place lies on a *spoke*: a straight line from the axis to the nearest outline. Spokes that start where the
//! axis is `r` or more from the outline are covered from end to end. So the unreached spots lie on spokes that
//! start where the axis is nearer, and a disc reaches them only from a *stop*: a place where the axis is just
//! `r` from the outline, beyond which the disc's middle cannot go. On the narrow side the disc there covers
//! the sector between its two feet; where sectors of several stops overlap, each counts the part that is
//! nearest to it. (The middle that is nearest to an unreached point lies at a corner of the set of all middles,
//! for along a smooth edge of that set the nearest line is a covered spoke.)
//!
//! So the area is a sum of closed forms: the spokes of a stretch of axis cover, with `x` along a segment,
//! `(r0 + r1) dx` between two segments, half as much again as `r dx` between a point and a segment, and
//! `d dt / 2` between two points `d` apart; a sector is cut to a polygon by the lines half-way to the other
//! stops, and a polygon meets a disc in triangles and sectors.
//!
//! Bare `f64` millimetres.

use super::merge::Merged;
use super::sectors::{Stop, covered};
use crate::geometry::voronoi::Site;
use glam::DVec2;
use std::cmp::Ordering;

/// A stretch of the axis, corners and all, along which the radius grows from `narrow` to `wide`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Branch {
    pub(super) narrow: DVec2,
    pub(super) wide: DVec2,
    pub(super) growth: Growth,
    /// What it lies between.
    pub(super) sites: [Site; 2],
}

/// How the radius grows along a branch.
#[derive(Clone, Copy, Debug)]
pub(super) enum Growth {
    /// Between two segments: from one radius to the other, evenly.
    Even { narrow: f64, wide: f64 },
    /// Between a point and a line at distance `h`: `(x^2 + h^2) / 2h`, `x` along the line from the foot of
    /// the point. `h` is negative where the point lies to the right, seen from narrow to wide.
    Parabola { h: f64, from: f64, to: f64 },
    /// Between two points `d` apart: `sqrt(t^2 + d^2 / 4)`, `t` along their bisector.
    Bisector { d: f64, from: f64, to: f64 },
}

impl Branch {
    pub(super) fn scaled(self, to_mm: impl Fn(DVec2) -> DVec2, k: f64) -> Branch {
        let growth = match self.growth {
            Growth::Even { narrow, wide } => Growth::Even { narrow: narrow * k, wide: wide * k },
            Growth::Parabola { h, from, to } => Growth::Parabola { h: h * k, from: from * k, to: to * k },
            Growth::Bisector { d, from, to } => Growth::Bisector { d: d * k, from: from * k, to: to * k },
        };
        Branch { narrow: to_mm(self.narrow), wide: to_mm(self.wide), growth, ..self }
    }

    /// The radius at either end.
    fn radii(&self) -> [f64; 2] {
        match self.growth {
            Growth::Even { narrow, wide } => [narrow, wide],
            Growth::Parabola { h, from, to } => [from, to].map(|x| (x * x + h * h) / (2.0 * h.abs())),
            Growth::Bisector { d, from, to } => [from, to].map(|t| t.hypot(0.5 * d)),
        }
    }

    /// The area of the spokes from where the radius is under `r`, and the stop where that part ends, if it does
    /// within the branch.
    fn below(&self, r: f64) -> (f64, Option<Stop>) {
        let [least, most] = self.radii();
        let ends = r < most;
        let chord = self.wide - self.narrow;
        match self.growth {
            Growth::Even { narrow, wide } => {
                let (length, growth) = (chord.length(), (wide - narrow).min(chord.length()));
                // Along either segment.
                let run = ((length - growth) * (length + growth)).max(0.0).sqrt();
                let share = if ends { (r - narrow) / (wide - narrow) } else { 1.0 };
                let stop = || Stop {
                    at: self.narrow + chord * share,
                    towards: -chord / length,
                    half: run.atan2(growth),
                };
                ((least + r.min(most)) * run * share, ends.then(stop))
            }
            Growth::Parabola { h, from, to } => {
                let (side, h) = (h.signum(), h.abs());
                let x = if ends { (h * (2.0 * r - h)).max(0.0).sqrt().clamp(from, to) } else { to };
                let whole = |x: f64| x * (x * x / (3.0 * h) + h);
                let stop = || {
                    // The chord leans against the line by what the radius grows.
                    let (run, rise) = (to - from, (to - from) * (to + from) / (2.0 * h));
                    let along = DVec2::new(run, -side * rise).rotate(chord) / (run * run + rise * rise);
                    let up = along.perp() * side;
                    let at = self.narrow + along * (x - from) + up * ((x - from) * (x + from) / (2.0 * h));
                    Stop { at, towards: -(along + up * (x / h)).normalize(), half: h.atan2(x) }
                };
                (0.75 * (whole(x) - whole(from)), ends.then(stop))
            }
            Growth::Bisector { d, from, to } => {
                let half = 0.5 * d;
                let t = if ends { ((r - half) * (r + half)).max(0.0).sqrt().clamp(from, to) } else { to };
                let stop = || Stop {
                    at: self.narrow + chord * ((t - from) / (to - from)),
                    towards: -chord.normalize(),
                    half: half.atan2(t),
                };
                (half * (t - from), ends.then(stop))
            }
        }
    }
}

/// What a round cutter leaves of a place.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Unreached {
    /// All of it, square millimetres.
    pub area: f64,
    /// Where, the largest first.
    pub spots: Vec<UnreachedSpot>,
}

/// One spot that a round cutter does not reach.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UnreachedSpot {
    /// Where it is narrowest: the corner itself, or the narrowest spot between two sides.
    pub at: DVec2,
    /// A place of its axis, strictly within what is carved with it.
    pub inside: DVec2,
    /// Its area, square millimetres.
    pub area: f64,
    /// From how many sides the cutter comes up to it: none where it is cut off altogether, one for a corner
    /// or a dead end, two where it lies between.
    pub sides: u32,
}

/// How far a radius may be lowered to keep clear of the ends of branches, as a share. The radius at a vertex
/// is worked out once for each branch there and differs by rounding; a cutter's radius between two of these
/// would miss the stop.
const CLEAR_SHARE: f64 = 1e-6;

/// The radius next below `r` that is far from every end of a branch.
fn clear_radius(branches: &[Vec<Branch>], r: f64) -> f64 {
    let least = r * (1.0 - CLEAR_SHARE);
    let mut near: Vec<f64> = branches.iter().flatten().flat_map(Branch::radii).collect();
    near.retain(|radius| (least..r).contains(radius));
    near.extend([least, r]);
    near.sort_unstable_by(f64::total_cmp);
    near.windows(2)
        .max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])))
        .map_or(r, |gap| gap[0].midpoint(gap[1]))
}

/// What a cutter of radius `r` leaves of a place with this axis; nothing if `r` is no radius. `merged` is how
/// near two ends of branches are one, in millimetres. `O(n)` in branches, and `O(hits log hits)` in those
/// that are somewhere narrower than the cutter.
pub(super) fn unreached(branches: &[Vec<Branch>], r: f64, merged: f64) -> Unreached {
    if !(r > 0.0 && r.is_finite()) {
        return Unreached::default();
    }
    let r = clear_radius(branches, r);
    let narrow: Vec<&Branch> = branches.iter().flatten().filter(|branch| branch.radii()[0] < r).collect();
    let mut areas: Vec<f64> = Vec::with_capacity(narrow.len());
    let mut stops: Vec<(u32, Stop)> = Vec::new();
    let mut open = Vec::with_capacity(2 * narrow.len());
    for (i, branch) in (0_u32..).zip(&narrow) {
        let (area, stop) = branch.below(r);
        areas.push(area);
        open.push((2 * i, branch.narrow));
        match stop {
            Some(stop) => stops.push((i, stop)),
            None => open.push((2 * i + 1, branch.wide)),
        }
    }
    for (&(i, _), covered) in stops.iter().zip(covered(&stops, r).0) {
        areas[i as usize] -= covered;
    }
    let mut parts = Merged::of(&open, 2 * narrow.len() as u32, merged);
    for i in 0..narrow.len() as u32 {
        parts.unite(2 * i, 2 * i + 1);
    }
    let mut number = vec![u32::MAX; 2 * narrow.len()];
    let mut spots: Vec<(f64, UnreachedSpot)> = Vec::new();
    for (i, branch) in (0_u32..).zip(&narrow) {
        let number = &mut number[parts.find(2 * i) as usize];
        let radius = branch.radii()[0];
        if *number == u32::MAX {
            *number = spots.len() as u32;
            let (at, inside) = (branch.narrow, branch.wide);
            spots.push((radius, UnreachedSpot { at, inside, area: 0.0, sides: 0 }));
        }
        let (least, spot) = &mut spots[*number as usize];
        spot.area += areas[i as usize];
        // Of corners that are equally narrow the place decides, not the order in which they come.
        if radius < *least || (radius == *least && by_place(branch.narrow, spot.at).is_lt()) {
            (*least, spot.at, spot.inside) = (radius, branch.narrow, branch.wide);
        }
    }
    for &(i, _) in &stops {
        spots[number[parts.find(2 * i) as usize] as usize].1.sides += 1;
    }
    // Rounding may turn nothing into less.
    let mut spots: Vec<UnreachedSpot> =
        spots.into_iter().map(|(_, spot)| spot).filter(|spot| spot.area > 0.0).collect();
    spots.sort_by(|a, b| b.area.total_cmp(&a.area).then_with(|| by_place(a.at, b.at)));
    Unreached { area: spots.iter().map(|spot| spot.area).sum(), spots }
}

fn by_place(a: DVec2, b: DVec2) -> Ordering {
    a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y))
}
