//! What the discs at the stops of a cutter cover between them: each the part of its own sector that is nearer to
//! its own middle than to any other.
//!
//! A sector is cut to a polygon by the lines half-way to the other stops, the nearest first. Another stop cuts it
//! only where it lies nearer to some corner of the polygon than the own stop does: within a disc round that corner,
//! through the own stop. So a tree of boxes is asked for the nearest stop in any of those discs, again and again;
//! of a row of a thousand stops within a cutter's width, two come up.
//!
//! Bare `f64` millimetres.

use crate::geometry::{Half, Halves, Rect};
use glam::DVec2;
use rayon::prelude::*;
use std::cmp::Ordering;
use std::collections::BinaryHeap;
use std::f64::consts::FRAC_PI_2;

/// The place of the axis where the radius is just that of a cutter.
pub(super) struct Stop {
    pub(super) at: DVec2,
    /// Unit direction along the axis to where it is narrower.
    pub(super) towards: DVec2,
    /// Half the angle between the two nearest spots of the outline.
    pub(super) half: f64,
}

/// How many sides the polygon round a sector has.
const SIDES: u32 = 4;

/// Discs are taken larger by this share of their squared radius, so that rounding leaves out no stop that cuts.
const SLACK: f64 = 1e-9;

/// What the disc at each stop covers of the narrow side: the part of its sector that is nearer to no other stop.
/// With it, how many boxes and stops were looked at. `O(n log n)` for stops in rows; along an arc boxes reach nearer
/// than what they hold, and each stop looks at some more of them, as the root of their number. A stop that hundreds
/// surround is cut by hundreds.
pub(super) fn covered<T: Sync>(stops: &[(T, Stop)], r: f64) -> (Vec<f64>, u64) {
    let tree = Halves::of(stops.iter().map(|(_, stop)| stop.at).collect(), |&at| at);
    let cover = |(_, stop): &(T, Stop)| {
        let mut nearest = Nearest::new(&tree, stop.at, 2.0 * r);
        (sector(stop.towards, stop.half, r, &mut nearest), nearest.looks)
    };
    let found: Vec<(f64, u64)> = stops.par_iter().map(cover).collect();
    let looks = found.iter().map(|(_, looks)| looks).sum();
    (found.into_iter().map(|(area, _)| area).collect(), looks)
}

/// The area of a sector of a disc about a place, `half` to either side of `towards`, that lies nearer to the place
/// than to any other.
fn sector(towards: DVec2, half: f64, r: f64, nearest: &mut Nearest) -> f64 {
    let half = half.min(FRAC_PI_2);
    let Some(first) = nearest.next(|_| true) else { return half * r * r };
    let step = 2.0 * half / f64::from(SIDES);
    let out = r / (0.5 * step).cos();
    // The origin first, and no side of it but the two through the origin cuts the disc.
    let corner = |i: u32| DVec2::from_angle(f64::from(i) * step - half).rotate(towards) * out;
    let mut polygon: Vec<DVec2> = vec![DVec2::ZERO];
    polygon.extend((0..=SIDES).map(corner));
    let mut spare = Vec::new();
    let mut next = Some(first);
    while let Some(other) = next {
        let farthest = polygon.iter().map(|p| p.length_squared()).fold(0.0, f64::max);
        if other.length_squared() >= 4.0 * farthest {
            break;
        }
        // Positive beyond half-way.
        let beyond = |p: DVec2| p.dot(other) - 0.5 * other.length_squared();
        spare.clear();
        for (i, &a) in polygon.iter().enumerate() {
            let b = polygon[(i + 1) % polygon.len()];
            let (s, t) = (beyond(a), beyond(b));
            if s <= 0.0 {
                spare.push(a);
            }
            if (s < 0.0 && t > 0.0) || (s > 0.0 && t < 0.0) {
                spare.push(a.lerp(b, s / (s - t)));
            }
        }
        std::mem::swap(&mut polygon, &mut spare);
        next = nearest.next(|held| polygon.iter().any(|&corner| held.may_be_nearer(corner)));
    }
    let next = polygon.iter().cycle().skip(1);
    polygon.iter().zip(next).map(|(&a, &b)| triangle_in_disc(a, b, r)).sum()
}

/// The area that the triangle of the origin, `a` and `b` has in common with a disc about the origin,
/// positive where it is counter-clockwise.
fn triangle_in_disc(a: DVec2, b: DVec2, r: f64) -> f64 {
    let side = b - a;
    let squared = side.length_squared();
    if squared == 0.0 {
        return 0.0;
    }
    let wedge = |a: DVec2, b: DVec2| 0.5 * r * r * a.angle_to(b);
    let triangle = |a: DVec2, b: DVec2| 0.5 * a.perp_dot(b);
    // Where the side's line enters the disc and leaves it, as shares of the side.
    let middle = -a.dot(side) / squared;
    let inside = r * r - (a + side * middle).length_squared();
    if inside <= 0.0 {
        return wedge(a, b);
    }
    let reach = (inside / squared).sqrt();
    let (enters, leaves) = ((middle - reach).clamp(0.0, 1.0), (middle + reach).clamp(0.0, 1.0));
    let (p, q) = (a + side * enters, a + side * leaves);
    let mut area = triangle(p, q);
    if enters > 0.0 {
        area += wedge(a, p);
    }
    if leaves < 1.0 {
        area += wedge(q, b);
    }
    area
}

/// A box of places, as seen from one.
#[derive(Clone, Copy)]
struct Seen {
    low: DVec2,
    high: DVec2,
}

impl Seen {
    /// The square of how far away its nearest place may be.
    fn squared(&self) -> f64 {
        self.low.max(-self.high).max(DVec2::ZERO).length_squared()
    }

    /// Whether a place in it may be nearer to a corner than the origin is.
    fn may_be_nearer(&self, corner: DVec2) -> bool {
        let off = (self.low - corner).max(corner - self.high).max(DVec2::ZERO);
        off.length_squared() <= corner.length_squared() * (1.0 + SLACK)
    }
}

/// The places of a tree from one of them outward, other than it.
struct Nearest<'a> {
    tree: &'a Halves<DVec2>,
    from: DVec2,
    /// The square of how near they have to be.
    within: f64,
    ahead: BinaryHeap<Ahead>,
    looks: u64,
}

/// What comes up in its turn: a box, or a place.
struct Ahead {
    squared: f64,
    /// `None` for a place.
    held: Option<usize>,
    seen: Seen,
}

impl<'a> Nearest<'a> {
    fn new(tree: &'a Halves<DVec2>, from: DVec2, within: f64) -> Nearest<'a> {
        let mut nearest = Nearest { tree, from, within: within * within, ahead: BinaryHeap::new(), looks: 0 };
        if !tree.boxes.is_empty() {
            nearest.push_box(0);
        }
        nearest
    }

    fn push_box(&mut self, index: usize) {
        let Rect { min, max } = self.tree.boxes[index].around;
        self.push(Some(index), Seen { low: min - self.from, high: max - self.from });
    }

    fn push(&mut self, held: Option<usize>, seen: Seen) {
        let squared = seen.squared();
        let is_own = seen.low == DVec2::ZERO && seen.high == DVec2::ZERO;
        if squared < self.within && !is_own {
            self.ahead.push(Ahead { squared, held, seen });
        }
    }

    /// The way to the next nearest place, of those in boxes that count: of two as near the one further left first,
    /// then the lower.
    fn next(&mut self, counts: impl Fn(&Seen) -> bool) -> Option<DVec2> {
        while let Some(Ahead { held, seen, .. }) = self.ahead.pop() {
            self.looks += 1;
            if !counts(&seen) {
                continue;
            }
            let Some(index) = held else { return Some(seen.low) };
            let Half { items, halves, .. } = &self.tree.boxes[index];
            if let Some(halves) = halves {
                for &half in halves {
                    self.push_box(half);
                }
                continue;
            }
            for &place in &self.tree.items[items.clone()] {
                let way = place - self.from;
                self.push(None, Seen { low: way, high: way });
            }
        }
        None
    }
}

impl Ord for Ahead {
    /// The nearest is greatest, for that is what a heap hands out; boxes come before places as near as they may
    /// hold.
    fn cmp(&self, other: &Ahead) -> Ordering {
        let [own, others] = [self, other].map(|ahead| (ahead.held.is_none(), ahead.seen.low));
        let by_place = || own.1.x.total_cmp(&others.1.x).then(own.1.y.total_cmp(&others.1.y));
        self.squared.total_cmp(&other.squared).then(own.0.cmp(&others.0)).then_with(by_place).reverse()
    }
}

impl PartialOrd for Ahead {
    fn partial_cmp(&self, other: &Ahead) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Ahead {
    fn eq(&self, other: &Ahead) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Ahead {}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;
    use proptest::prelude::*;
    use std::f64::consts::TAU;

    fn stop(at: DVec2, towards: f64, half: f64) -> ((), Stop) {
        ((), Stop { at, towards: DVec2::from_angle(towards), half })
    }

    /// The same, by cutting each sector by every other stop within reach in turn.
    fn plain(stops: &[((), Stop)], r: f64) -> Vec<f64> {
        let cover = |((), stop): &((), Stop)| {
            let mut others: Vec<DVec2> = stops.iter().map(|((), other)| other.at - stop.at).collect();
            others.retain(|other| *other != DVec2::ZERO && other.length_squared() < 4.0 * r * r);
            others.sort_unstable_by(|a, b| {
                let by_place = || a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y));
                a.length_squared().total_cmp(&b.length_squared()).then_with(by_place)
            });
            let half = stop.half.min(FRAC_PI_2);
            if others.is_empty() {
                return half * r * r;
            }
            let step = 2.0 * half / f64::from(SIDES);
            let out = r / (0.5 * step).cos();
            let corner = |i: u32| DVec2::from_angle(f64::from(i) * step - half).rotate(stop.towards) * out;
            let mut polygon: Vec<DVec2> =
                std::iter::once(DVec2::ZERO).chain((0..=SIDES).map(corner)).collect();
            for other in others {
                let beyond = |p: DVec2| p.dot(other) - 0.5 * other.length_squared();
                let mut cut = Vec::new();
                for (i, &a) in polygon.iter().enumerate() {
                    let b = polygon[(i + 1) % polygon.len()];
                    let (s, t) = (beyond(a), beyond(b));
                    if s <= 0.0 {
                        cut.push(a);
                    }
                    if s * t < 0.0 {
                        cut.push(a.lerp(b, s / (s - t)));
                    }
                }
                polygon = cut;
            }
            let next = polygon.iter().cycle().skip(1);
            polygon.iter().zip(next).map(|(&a, &b)| triangle_in_disc(a, b, r)).sum()
        };
        stops.iter().map(cover).collect()
    }

    proptest! {
        /// To the last bit, for what is left out changes nothing. Places on a lattice are often as far, or the same.
        #[test]
        fn it_is_what_cutting_by_every_stop_gives(
            rough in prop::collection::vec((0..12_i32, 0..12_i32, 0.0..TAU, 0.05..2.0_f64), 0..60),
            fine in prop::collection::vec((0.0..9.0_f64, 0.0..0.01_f64, 0.0..TAU, 0.05..2.0_f64), 0..60),
            r in 0.2..9.0_f64,
        ) {
            let rough = rough.iter().map(|&(x, y, towards, half)| {
                stop(dvec2(f64::from(x), f64::from(y)), towards, half)
            });
            let fine = fine.iter().map(|&(x, y, towards, half)| stop(dvec2(x, y), towards, half));
            let stops: Vec<_> = rough.chain(fine).collect();
            prop_assert_eq!(covered(&stops, r).0, plain(&stops, r));
        }
    }

    /// Stops in a row far closer than a cutter is wide, as at the mouths of a comb's gaps: each is cut by the one on
    /// either side, however many lie within reach.
    #[test]
    fn stops_in_a_row_look_at_their_neighbours_alone() {
        for count in [1_000_u32, 16_000] {
            let apart = 10.0 / f64::from(count);
            let rows: [Vec<_>; 2] = [
                (0..count).map(|i| stop(dvec2(f64::from(i) * apart, 0.0), -1.5, 0.4)).collect(),
                (0..count)
                    .map(|i| {
                        let angle = f64::from(i) / f64::from(count) * TAU;
                        stop(DVec2::from_angle(angle) * 3.0, angle, 0.4)
                    })
                    .collect(),
            ];
            for stops in rows {
                let (areas, looks) = covered(&stops, 1.6);
                assert!(looks < 300 * u64::from(count), "{looks} looks at {count} stops");
                // Those at the ends of a row have one neighbour.
                let middle = areas[areas.len() / 2];
                assert!(middle > 0.0 && middle < 6.0 * apart, "{middle} mm2 at {count} stops");
            }
        }
    }
}
