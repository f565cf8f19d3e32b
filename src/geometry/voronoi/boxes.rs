//! A tree of boxes round the edges of an outline: which edges may touch the discs between two?
//!
//! Boxes of a node are turned the way the edges under it run, so that long slanting edges have thin boxes.
//! In steps, in `f64` throughout: in single precision every edge of a circle would touch the disc inside it.

use super::sites::{extent, point};
use super::tuning::BOX_SLACK;
use crate::geometry::region::Segment;
use glam::DVec2;
use rayon::prelude::*;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Boxes a node of the tree holds, and edges a box of the lowest level.
const FAN: usize = 4;

/// Four boxes by their middles and half extents, in steps, turned so that `turn` is their x axis.
#[derive(Clone, Copy, Debug)]
struct Four {
    turn: DVec2,
    x: [f64; FAN],
    y: [f64; FAN],
    half_x: [f64; FAN],
    half_y: [f64; FAN],
}

/// Half the extent of a box that is not there: it misses everything.
const NO_BOX: f64 = -1e30;

impl Four {
    /// Boxes round each of up to four runs of edges.
    fn round(segments: &[Segment], each: usize) -> Four {
        // The mean of an undirected direction is taken of twice its angle.
        let doubled = |&[a, b]: &Segment| {
            let run = point(b) - point(a);
            let length = run.length();
            (run.rotate(run) / length.max(f64::MIN_POSITIVE), length)
        };
        let (sum, length) = segments
            .iter()
            .map(doubled)
            .fold((DVec2::ZERO, 0.0), |(sum, length), (run, long)| (sum + run, length + long));
        let agrees = sum.length() > 0.5 * length;
        let turn = if agrees { DVec2::from_angle(0.5 * sum.to_angle()) } else { DVec2::X };
        let mut four =
            Four { turn, x: [0.0; FAN], y: [0.0; FAN], half_x: [NO_BOX; FAN], half_y: [NO_BOX; FAN] };
        for (i, run) in segments.chunks(each).enumerate() {
            let places = run.iter().flatten().map(|&node| four.own(point(node)));
            let Some([low, high]) = places.map(|p| [p, p]).reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
            else {
                continue;
            };
            let (middle, half) = ((low + high) * 0.5, (high - low) * 0.5 + DVec2::splat(BOX_SLACK));
            (four.x[i], four.y[i], four.half_x[i], four.half_y[i]) = (middle.x, middle.y, half.x, half.y);
        }
        four
    }

    /// A direction or place in the boxes' own frame.
    fn own(&self, v: DVec2) -> DVec2 {
        DVec2::new(self.turn.dot(v), self.turn.perp_dot(v))
    }
}

/// A tree of boxes round edges, four to a node. Edges are halved, and halved again, whichever way leaves the
/// smaller boxes: short edges by place, long ones that run alike side by side.
#[derive(Clone, Debug)]
pub(in crate::geometry) struct BoxTree {
    /// From the boxes round four edges each up to the root; each level holds a node for four of the one
    /// below.
    levels: Vec<Vec<Four>>,
    /// The edges in the order of the tree, and their numbers.
    segments: Vec<Segment>,
    names: Vec<u32>,
    extent: f64,
}

/// Runs of fewer edges are sorted on one thread.
const SHARED: usize = 4096;

/// Sorts edges so that runs of `whole` and of each quarter of it, and so on down, have small boxes.
fn sort(edges: &mut [(Segment, u32)], whole: usize) {
    if edges.len() <= FAN || whole <= FAN {
        return;
    }
    let half = whole / 2;
    if edges.len() > half {
        let axis = best_axis(edges);
        let across = |&([a, b], _): &(Segment, u32)| axis.dot(point(a) + point(b));
        edges.select_nth_unstable_by(half, |a, b| across(a).total_cmp(&across(b)).then(a.1.cmp(&b.1)));
    }
    let (one, other) = edges.split_at_mut(half.min(edges.len()));
    if one.len() + other.len() > SHARED {
        rayon::join(|| sort(one, half), || sort(other, half));
    } else {
        sort(one, half);
        sort(other, half);
    }
}

/// The direction across which edges are best halved, by the area of the boxes that leaves: along or across
/// the way they run, on the whole, or along x or y.
fn best_axis(edges: &[(Segment, u32)]) -> DVec2 {
    let doubled = |run: DVec2| run.rotate(run) / run.length().max(f64::MIN_POSITIVE);
    let sum: DVec2 = edges.iter().map(|&([a, b], _)| doubled(point(b) - point(a))).sum();
    let turn = if sum == DVec2::ZERO { DVec2::X } else { DVec2::from_angle(0.5 * sum.to_angle()) };
    let mut best = (f64::INFINITY, DVec2::X);
    for axis in [DVec2::X, turn] {
        let own = |v: DVec2| DVec2::new(axis.dot(v), axis.perp_dot(v));
        let (mut low, mut high) = (DVec2::INFINITY, DVec2::NEG_INFINITY);
        let mut size = DVec2::ZERO;
        for &([a, b], _) in edges {
            let (a, b) = (own(point(a)), own(point(b)));
            let middle = (a + b) * 0.5;
            (low, high) = (low.min(middle), high.max(middle));
            size += (b - a).abs();
        }
        let (spread, size) = (high - low, size / edges.len() as f64);
        let area = |x: f64, y: f64| (spread.x * x + size.x) * (spread.y * y + size.y);
        for (area, axis) in [(area(0.5, 1.0), axis), (area(1.0, 0.5), axis.perp())] {
            if area < best.0 {
                best = (area, axis);
            }
        }
    }
    best.1
}

/// All discs between two, their convex hull: as a disc rolls along a line while its radius grows evenly, it
/// sweeps just that.
#[derive(Clone, Copy, Debug)]
pub(super) struct Hull {
    /// The two discs.
    small: DVec2,
    small_radius: f64,
    large: DVec2,
    large_radius: f64,
    /// The unit directions of the lines that touch both, from the small disc to the large one.
    along: DVec2,
    onward: DVec2,
    /// The unit normal of the second line, and how far up that the hull reaches.
    beyond: DVec2,
    top: f64,
    /// Away from the first line, and how far up that the hull begins.
    up: DVec2,
    floor: f64,
    /// Where discs touch the first line: from where to where along it, and how far up.
    home: [f64; 2],
    level: f64,
}

impl Hull {
    /// Of discs that touch the line through `start` along `along`, from its left, at two places along it. Each
    /// by its place and radius.
    pub(super) fn rolling(start: DVec2, along: DVec2, ends: [(f64, f64); 2]) -> Hull {
        let [(x0, r0), (x1, r1)] = ends;
        let up = along.perp();
        let [c0, c1] = ends.map(|(x, r)| start + along * x + up * r);
        let (run, rise) = (x1 - x0, r1 - r0);
        let squared = run * run + rise * rise;
        let (cos, sin) = if squared > 0.0 {
            ((run - rise) * (run + rise) / squared, 2.0 * run * rise / squared)
        } else {
            (1.0, 0.0)
        };
        let onward = along * cos + up * sin;
        let beyond = onward.perp();
        let top = (beyond.dot(c0) + r0).max(beyond.dot(c1) + r1);
        let floor = up.dot(start);
        let (way, small, large, [small_radius, large_radius]) =
            if r0 <= r1 { (1.0, c0, c1, [r0, r1]) } else { (-1.0, c1, c0, [r1, r0]) };
        let home = [x0, x1].map(|x| along.dot(start) + x).map(|x| x * way);
        let home = [home[0].min(home[1]), home[0].max(home[1])];
        Hull {
            small,
            small_radius: grown(small_radius),
            large,
            large_radius: grown(large_radius),
            along: along * way,
            onward: onward * way,
            beyond,
            top: top + BOX_SLACK,
            up,
            floor,
            home,
            level: floor,
        }
    }

    /// Of one disc, through a place where what touches first is looked for.
    pub(super) fn about(middle: DVec2, radius: f64, through: DVec2) -> Hull {
        let radius = grown(radius);
        let [along, up] = [DVec2::X, DVec2::Y];
        Hull {
            small: middle,
            small_radius: radius,
            large: middle,
            large_radius: radius,
            along,
            onward: along,
            beyond: up,
            top: middle.y + radius,
            up,
            floor: middle.y - radius,
            home: [through.x; 2],
            level: through.y,
        }
    }

    /// What lies between two directions from a place, counter-clockwise from the second to the first, less
    /// than half a turn: as far as `radius`.
    pub(super) fn between(at: DVec2, [last, first]: [DVec2; 2], radius: f64) -> Hull {
        let (up, beyond) = (first.perp(), last.perp());
        Hull {
            top: beyond.dot(at) + BOX_SLACK,
            up,
            floor: up.dot(at) - BOX_SLACK,
            level: up.dot(at),
            beyond,
            ..Hull::about(at, radius, at)
        }
    }

    /// Which of four boxes it misses, and of the others the least radius of a disc at home that touches them,
    /// about: the likely ones come first.
    #[expect(clippy::needless_bitwise_bool, reason = "without branches four boxes are asked at once")]
    fn boxes(&self, four: &Four) -> [Option<f64>; FAN] {
        let [along, onward, beyond, up] =
            [self.along, self.onward, self.beyond, self.up].map(|direction| four.own(direction));
        let [small, large] = [self.small, self.large].map(|middle| four.own(middle));
        let low = (small - self.small_radius).min(large - self.large_radius);
        let high = (small + self.small_radius).max(large + self.large_radius);
        let [small_along, small_onward] = [along, onward].map(|direction| direction.dot(small));
        let [large_along, large_onward] = [along, onward].map(|direction| direction.dot(large));
        let (small_squared, large_squared) =
            (self.small_radius * self.small_radius, self.large_radius * self.large_radius);
        let mut missed = [false; FAN];
        let mut keys = [0.0_f64; FAN];
        for i in 0..FAN {
            let (x, y, half_x, half_y) = (four.x[i], four.y[i], four.half_x[i], four.half_y[i]);
            let spread = |v: DVec2| (v.x * x + v.y * y, v.x.abs() * half_x + v.y.abs() * half_y);
            let (a, half_a) = spread(along);
            let (o, half_o) = spread(onward);
            let (b, half_b) = spread(beyond);
            let (u, half_u) = spread(up);
            let squared = |middle: DVec2| {
                let (dx, dy) =
                    (larger((x - middle.x).abs() - half_x, 0.0), larger((y - middle.y).abs() - half_y, 0.0));
                dx * dx + dy * dy
            };
            let outside = (u + half_u <= self.floor)
                | (b - half_b > self.top)
                | (x - half_x > high.x)
                | (x + half_x < low.x)
                | (y - half_y > high.y)
                | (y + half_y < low.y);
            // Beyond the small disc there is only that disc, and not towards it there is only the large one.
            let behind =
                (a + half_a < small_along) & (o + half_o < small_onward) & (squared(small) > small_squared);
            let ahead =
                ((a - half_a > large_along) | (o - half_o > large_onward)) & (squared(large) > large_squared);
            missed[i] = outside | behind | ahead | (half_x < 0.0);
            let away = larger(larger(a - half_a - self.home[1], self.home[0] - a - half_a), 0.0);
            let height = u - self.level;
            let over = larger(height.abs() - half_u, 0.0);
            keys[i] = (away * away + over * over) / larger(height + half_u, f64::MIN_POSITIVE);
        }
        std::array::from_fn(|i| (!missed[i]).then_some(keys[i]))
    }

    /// Whether it may touch an edge.
    fn may_touch(&self, [a, b]: [DVec2; 2]) -> bool {
        let spread = |v: DVec2| {
            let (a, b) = (v.dot(a), v.dot(b));
            (smaller(a, b), larger(a, b))
        };
        if spread(self.up).1 <= self.floor - BOX_SLACK || spread(self.beyond).0 > self.top {
            return false;
        }
        let squared = |middle: DVec2| {
            let (run, off) = (b - a, middle - a);
            let share = (off.dot(run) / run.length_squared()).clamp(0.0, 1.0);
            (off - run * share).length_squared()
        };
        let (along, onward) = (spread(self.along), spread(self.onward));
        let behind = along.1 < self.along.dot(self.small)
            && onward.1 < self.onward.dot(self.small)
            && squared(self.small) > self.small_radius * self.small_radius;
        let ahead = (along.0 > self.along.dot(self.large) || onward.0 > self.onward.dot(self.large))
            && squared(self.large) > self.large_radius * self.large_radius;
        !behind && !ahead
    }
}

/// A radius with what rounding may take from it.
fn grown(radius: f64) -> f64 {
    radius * (1.0 + 1e-12) + BOX_SLACK
}

// Plain comparisons, which compile to one instruction each.
fn larger(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

fn smaller(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}

/// Walks through a tree.
#[derive(Default)]
pub(in crate::geometry) struct Walk {
    /// What the present one still has to look into: levels, and numbers there.
    ahead: Vec<(u32, u32)>,
    /// The same with how near each may be, as bits that sort as their numbers do, where the nearest comes first.
    nearest: BinaryHeap<(Reverse<u64>, u32, u32)>,
    /// How many nodes of the tree all of them have looked into.
    pub(super) looks: u64,
}

impl BoxTree {
    /// `O(n log n)`.
    pub(in crate::geometry) fn of(segments: &[Segment]) -> BoxTree {
        let extent = extent(segments);
        let mut order: Vec<(Segment, u32)> = segments.iter().copied().zip(0..).collect();
        let mut height = 0;
        while FAN << (2 * height) < order.len() {
            height += 1;
        }
        sort(&mut order, FAN << (2 * height));
        let (segments, names): (Vec<Segment>, Vec<u32>) = order.into_iter().unzip();
        let mut levels: Vec<Vec<Four>> = Vec::new();
        let mut each = FAN;
        while levels.last().is_none_or(|level| level.len() > 1) {
            levels.push(segments.par_chunks(FAN * each).map(|under| Four::round(under, each)).collect());
            each *= FAN;
        }
        BoxTree { levels, segments, names, extent }
    }

    /// The diagonal of the outline's box.
    pub(in crate::geometry) fn extent(&self) -> f64 {
        self.extent
    }

    /// Calls `visit` with every edge that comes upon the straight way between two places, and some near misses.
    pub(in crate::geometry) fn along(
        &self,
        walk: &mut Walk,
        [from, to]: [DVec2; 2],
        mut visit: impl FnMut(u32),
    ) {
        let (run, length) = (to - from, from.distance(to));
        let mut hull = Hull::rolling(from, run / length, [(0.0, 0.0), (length, 0.0)]);
        self.visit(walk, &mut hull, |hull| hull, |_| true, |_, edge| visit(edge));
    }

    /// Calls `visit` with every edge that a hull touches, and some near misses; nearer ones come first, about.
    /// `hull` is asked again and again, for the hull may shrink meanwhile. Each node of the tree is asked
    /// `goes_on` first; returns whether it went on to the end.
    pub(super) fn visit<S>(
        &self,
        walk: &mut Walk,
        state: &mut S,
        hull: impl Fn(&S) -> &Hull,
        mut goes_on: impl FnMut(&mut S) -> bool,
        mut visit: impl FnMut(&mut S, u32),
    ) -> bool {
        let Walk { ahead, looks, .. } = walk;
        ahead.clear();
        if !self.segments.is_empty() {
            // Level 0 is the edges themselves.
            ahead.push((self.levels.len() as u32, 0));
        }
        while let Some((level, index)) = ahead.pop() {
            *looks += 1;
            if !goes_on(state) {
                return false;
            }
            let Some(above) = (level as usize).checked_sub(1) else {
                self.visit_edges(index, state, &hull, &mut visit);
                continue;
            };
            let mut order = [(0.0_f64, 0_u32); FAN];
            let mut count = 0;
            for (i, key) in (0_u32..).zip(hull(state).boxes(&self.levels[above][index as usize])) {
                let Some(key) = key else { continue };
                // Farthest first, for the last is taken first.
                let mut at = count;
                while at > 0 && order[at - 1].0 < key {
                    order[at] = order[at - 1];
                    at -= 1;
                }
                order[at] = (key, FAN as u32 * index + i);
                count += 1;
            }
            ahead.extend(order[..count].iter().map(|&(_, i)| (level - 1, i)));
        }
        true
    }

    /// The same for a hull that is one disc rolling nowhere, and of which nothing is known yet: whichever box may be
    /// nearest comes next, wherever it lies in the tree. A walk that goes down into one box first would look at all
    /// of it before the box beside, which may hold the only edge that counts.
    pub(super) fn visit_nearest<S>(
        &self,
        walk: &mut Walk,
        state: &mut S,
        hull: impl Fn(&S) -> &Hull,
        mut visit: impl FnMut(&mut S, u32),
    ) {
        let Walk { nearest, looks, .. } = walk;
        nearest.clear();
        if !self.segments.is_empty() {
            nearest.push((Reverse(0), self.levels.len() as u32, 0));
        }
        while let Some((Reverse(key), level, index)) = nearest.pop() {
            // A key is twice the radius of the least disc that can touch.
            if 0.5 * f64::from_bits(key) > hull(state).large_radius {
                break;
            }
            *looks += 1;
            let Some(above) = (level as usize).checked_sub(1) else {
                self.visit_edges(index, state, &hull, &mut visit);
                continue;
            };
            let keys = hull(state).boxes(&self.levels[above][index as usize]);
            let found = (0_u32..).zip(keys).filter_map(|(i, key)| Some((i, key?)));
            nearest.extend(found.map(|(i, key)| (Reverse(key.to_bits()), level - 1, FAN as u32 * index + i)));
        }
    }

    /// The edges of a box of the lowest level that a hull touches, and some near misses.
    fn visit_edges<S>(
        &self,
        index: u32,
        state: &mut S,
        hull: impl Fn(&S) -> &Hull,
        mut visit: impl FnMut(&mut S, u32),
    ) {
        let first = FAN * index as usize;
        for i in first..self.segments.len().min(first + FAN) {
            if hull(state).may_touch(self.segments[i].map(point)) {
                visit(state, self.names[i]);
            }
        }
    }
}
