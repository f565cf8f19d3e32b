//! A tree of boxes round the edges of an outline: which edges may lie in a part of the plane?
//!
//! Boxes of a node are turned the way the edges under it run, so that long slanting edges have thin boxes.
//! In steps, in `f64` throughout: in single precision every edge of a circle would touch the disc inside it.

use super::sites::point;
use super::tuning::{BOX_SLACK, MOST_CORNERS};
use crate::geometry::Rect;
use crate::geometry::region::Segment;
use glam::DVec2;
use rayon::prelude::*;

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
        let (sum, length) = segments.iter().fold((DVec2::ZERO, 0.0), |(sum, length), &[a, b]| {
            let run = point(b) - point(a);
            (sum + doubled(run), length + run.length())
        });
        let agrees = sum.length() > 0.5 * length;
        let turn = if agrees { halved(sum) } else { DVec2::X };
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

    /// The middle and half the extent of one box.
    fn one(&self, i: usize) -> (DVec2, DVec2) {
        (DVec2::new(self.x[i], self.y[i]), DVec2::new(self.half_x[i], self.half_y[i]))
    }

    /// How far away the nearest place of each box is, squared.
    fn nearest_to(&self, at: DVec2) -> [f64; FAN] {
        let at = self.own(at);
        std::array::from_fn(|i| {
            let off_x = larger((self.x[i] - at.x).abs() - self.half_x[i], 0.0);
            let off_y = larger((self.y[i] - at.y).abs() - self.half_y[i], 0.0);
            off_x * off_x + off_y * off_y
        })
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
    around: Rect,
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
    let sum: DVec2 = edges.iter().map(|&([a, b], _)| doubled(point(b) - point(a))).sum();
    let turn = halved(sum);
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

/// A disc.
pub(super) struct Disc {
    pub(super) at: DVec2,
    pub(super) radius: f64,
}

/// What a node looks at: a convex part of the plane, told from there. It shrinks while it is looked at.
#[derive(Default)]
pub(super) struct View {
    at: DVec2,
    /// Its corners, counter-clockwise.
    corners: Vec<DVec2>,
    /// Of the side from each corner to the next, the outward normal and how far out it lies: nothing for a side with
    /// nothing beyond.
    sides: Vec<(DVec2, f64)>,
    /// How far away its farthest place is, squared.
    reach: f64,
    /// Lists that are used again.
    spare: (Vec<DVec2>, Vec<(DVec2, f64)>),
}

impl View {
    /// What lies in a box, at least a quarter turn away from both of two unit directions.
    pub(super) fn start(&mut self, at: DVec2, around: Rect, away: [DVec2; 2]) {
        self.at = at;
        self.corners.clear();
        self.corners.extend(around.grown(1.0).corners().map(|corner| corner - at));
        self.sides.clear();
        self.sides.resize(self.corners.len(), (DVec2::ZERO, 0.0));
        for away in away {
            self.cut(away, BOX_SLACK);
        }
        self.reach = self.farthest();
    }

    fn farthest(&self) -> f64 {
        self.corners.iter().map(|corner| corner.length_squared()).fold(0.0, f64::max)
    }

    /// Leaves out what lies beyond a place, seen from there: a disc between the two has that place in it.
    pub(super) fn leave_out_beyond(&mut self, place: DVec2) {
        let length = place.length();
        if length == 0.0 {
            return;
        }
        let (normal, out) = (place / length, length + BOX_SLACK);
        // A corner comes to those that there are, less what is cut off.
        let off = self.corners.iter().filter(|corner| normal.dot(**corner) > out).count();
        if off > 1 || (off == 1 && self.corners.len() < MOST_CORNERS) {
            self.cut(normal, out);
            self.reach = self.farthest();
        }
    }

    /// Leaves out what lies farther than `out` along a direction.
    fn cut(&mut self, normal: DVec2, out: f64) {
        let off = |corner: DVec2| normal.dot(corner) - out;
        if self.corners.iter().all(|&corner| off(corner) <= 0.0) {
            return;
        }
        let (corners, sides) = &mut self.spare;
        corners.clear();
        sides.clear();
        let count = self.corners.len();
        for i in 0..count {
            let (a, b) = (self.corners[i], self.corners[(i + 1) % count]);
            let (over, next) = (off(a), off(b));
            if over <= 0.0 {
                corners.push(a);
                sides.push(self.sides[i]);
            }
            if (over <= 0.0) != (next <= 0.0) {
                corners.push(a.lerp(b, over / (over - next)));
                sides.push(if over <= 0.0 { (normal, out) } else { self.sides[i] });
            }
        }
        std::mem::swap(&mut self.corners, corners);
        std::mem::swap(&mut self.sides, sides);
    }

    /// Of those of four boxes that it may touch, how far away the nearest place of each is, squared.
    #[expect(clippy::needless_bitwise_bool, reason = "without branches four boxes are asked at once")]
    fn boxes(&self, four: &Four) -> [Option<f64>; FAN] {
        let at = four.own(self.at);
        let [x, y] = [four.x.map(|x| x - at.x), four.y.map(|y| y - at.y)];
        let nearest = four.nearest_to(self.at);
        let (mut low, mut high) = (DVec2::INFINITY, DVec2::NEG_INFINITY);
        for &corner in &self.corners {
            let corner = four.own(corner);
            (low, high) = (low.min(corner), high.max(corner));
        }
        let mut missed: [bool; FAN] = std::array::from_fn(|i| {
            (nearest[i] > self.reach)
                | (x[i] - four.half_x[i] > high.x)
                | (x[i] + four.half_x[i] < low.x)
                | (y[i] - four.half_y[i] > high.y)
                | (y[i] + four.half_y[i] < low.y)
                | (four.half_x[i] < 0.0)
        });
        for &(normal, out) in &self.sides {
            let normal = four.own(normal);
            let wide = normal.abs();
            for i in 0..FAN {
                let nearest =
                    normal.x * x[i] + normal.y * y[i] - wide.x * four.half_x[i] - wide.y * four.half_y[i];
                missed[i] |= nearest > out;
            }
        }
        std::array::from_fn(|i| (!missed[i]).then_some(nearest[i]))
    }

    /// Whether it may touch an edge.
    fn may_touch(&self, [a, b]: [DVec2; 2]) -> bool {
        let (a, b) = (a - self.at, b - self.at);
        self.sides.iter().all(|&(normal, out)| normal.dot(a) <= out || normal.dot(b) <= out)
    }
}

/// A run at twice its angle and as long, so that a mean can be taken of which way undirected runs go.
fn doubled(run: DVec2) -> DVec2 {
    run.rotate(run) / run.length().max(f64::MIN_POSITIVE)
}

/// The unit direction at half the angle.
fn halved(way: DVec2) -> DVec2 {
    let half = DVec2::new(way.length() + way.x, way.y);
    half.try_normalize().unwrap_or(if way.x < 0.0 { DVec2::Y } else { DVec2::X })
}

// Plain comparisons, which compile to one instruction each.
fn larger(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

/// Walks through a tree.
#[derive(Default)]
pub(in crate::geometry) struct Walk {
    /// What the present one still has to look into: how near it may be, squared, its level, and its number there.
    ahead: Vec<(f64, u32, u32)>,
    /// How many nodes of the tree all of them have looked into.
    pub(super) looks: u64,
}

impl BoxTree {
    /// `O(n log n)`.
    pub(in crate::geometry) fn of(segments: impl Iterator<Item = Segment>) -> BoxTree {
        let mut order: Vec<(Segment, u32)> = segments.zip(0..).collect();
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
        let nowhere = Rect::new(DVec2::ZERO, DVec2::ZERO);
        let around = Rect::around(segments.iter().flatten().copied().map(point)).unwrap_or(nowhere);
        BoxTree { levels, segments, names, around }
    }

    /// The box round all edges.
    pub(in crate::geometry) fn around(&self) -> Rect {
        self.around
    }

    /// Calls `visit` with every edge that comes upon the straight way between two places, and some near misses.
    pub(in crate::geometry) fn along(
        &self,
        walk: &mut Walk,
        [from, to]: [DVec2; 2],
        mut visit: impl FnMut(u32),
    ) {
        let touches = |four: &Four| {
            let [a, b] = [from, to].map(|place| four.own(place));
            let (low, high, across) = (a.min(b), a.max(b), (b - a).perp());
            std::array::from_fn(|i| {
                let (middle, half) = four.one(i);
                let (apart, wide) = (across.dot(middle - a).abs(), across.abs().dot(half));
                (middle + half).cmpge(low).all() && (middle - half).cmple(high).all() && apart <= wide
            })
        };
        self.visit(walk, touches, |i| {
            visit(self.names[i]);
            false
        });
    }

    /// Whether an edge that comes into a disc, or misses it by little, is one that is looked for.
    pub(super) fn any_in_disc(
        &self,
        walk: &mut Walk,
        disc: &Disc,
        mut is_it: impl FnMut(Segment) -> bool,
    ) -> bool {
        let most = disc.radius * disc.radius;
        let touches = |four: &Four| four.nearest_to(disc.at).map(|near| near <= most);
        self.visit(walk, touches, |i| is_it(self.segments[i]))
    }

    /// Calls `visit` with the place in the tree of every edge in a box that is touched, until it has found what it looks
    /// for.
    fn visit(
        &self,
        walk: &mut Walk,
        touches: impl Fn(&Four) -> [bool; FAN],
        mut visit: impl FnMut(usize) -> bool,
    ) -> bool {
        let Walk { ahead, looks, .. } = walk;
        ahead.clear();
        if !self.segments.is_empty() {
            // Level 0 is the edges themselves.
            ahead.push((0.0, self.levels.len() as u32, 0));
        }
        while let Some((_, level, index)) = ahead.pop() {
            *looks += 1;
            let Some(above) = (level as usize).checked_sub(1) else {
                if self.run(index).any(&mut visit) {
                    return true;
                }
                continue;
            };
            let four = &self.levels[above][index as usize];
            for (i, touched) in (0..).zip(touches(four)) {
                if touched && four.half_x[i as usize] >= 0.0 {
                    ahead.push((0.0, level - 1, FAN as u32 * index + i));
                }
            }
        }
        false
    }

    /// Calls `visit` with every edge that a view may touch and its number, in nearer boxes first. It may shrink meanwhile.
    pub(super) fn visit_view(
        &self,
        walk: &mut Walk,
        view: &mut View,
        mut visit: impl FnMut(&mut View, u32, Segment),
    ) {
        let Walk { ahead, looks, .. } = walk;
        ahead.clear();
        ahead.push((0.0, self.levels.len() as u32, 0));
        while let Some((near, level, index)) = ahead.pop() {
            if near > view.reach {
                continue;
            }
            *looks += 1;
            let Some(above) = (level as usize).checked_sub(1) else {
                for i in self.run(index) {
                    let edge = self.segments[i];
                    if view.may_touch(edge.map(point)) {
                        visit(view, self.names[i], edge);
                    }
                }
                continue;
            };
            let keys = view.boxes(&self.levels[above][index as usize]);
            let first = ahead.len();
            let found = (0_u32..).zip(keys).filter_map(|(i, key)| Some((i, key?)));
            ahead.extend(found.map(|(i, key)| (key, level - 1, FAN as u32 * index + i)));
            ahead[first..].sort_unstable_by(|a, b| b.0.total_cmp(&a.0));
        }
    }

    /// The edges of a box of the lowest level, by their place in the tree.
    fn run(&self, index: u32) -> std::ops::Range<usize> {
        let first = FAN * index as usize;
        first..self.segments.len().min(first + FAN)
    }
}
