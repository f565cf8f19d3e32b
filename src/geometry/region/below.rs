//! What lies straight below a place, however long and slanting the edges are.
//!
//! A look at a tree of boxes along a short way down, and along one four times as long where that found nothing. All
//! that decides is asked in whole numbers.

use super::{Node, Segment};
use crate::geometry::voronoi::{BoxTree, Walk};
use glam::DVec2;

/// A place in half steps, so that the places between nodes can be named.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Halves {
    pub(super) x: i64,
    pub(super) y: i64,
}

impl Halves {
    pub(super) fn node(node: Node) -> Halves {
        Halves { x: i64::from(node.x) * 2, y: i64::from(node.y) * 2 }
    }

    pub(super) fn steps(self) -> DVec2 {
        DVec2::new(self.x as f64, self.y as f64) * 0.5
    }
}

/// Positive where the way from `a` by `b` to `c` turns left, zero where it goes straight on.
///
/// Coordinates stay within 2^29 half steps and a bit, so products within 2^61.
pub(super) fn turn(a: Halves, b: Halves, c: Halves) -> i64 {
    ((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)).signum()
}

/// The edge straight below a place, as seen a hair to the right of it, of edges that do not cross. About `O(log n)`.
pub(super) fn below(at: Halves, segments: &[Segment], tree: &BoxTree) -> Option<u32> {
    let (mut walk, from) = (Walk::default(), at.steps());
    // The first look goes as far down as edges would lie apart if all lay over each other.
    for quartered in (0..=segments.len().max(1).ilog(4)).rev() {
        let reach = 2.0 * tree.around().size().length() / f64::from(quartered).exp2().powi(2);
        let mut nearest: Option<(u32, Rightward)> = None;
        tree.along(&mut walk, [from, from - DVec2::Y * reach], |edge| {
            let found = Rightward::of(segments[edge as usize]);
            if found.is_below(at) && nearest.is_none_or(|(_, other)| found.is_over(other)) {
                nearest = Some((edge, found));
            }
        });
        // Beyond the reach, another may lie in between.
        if let Some((edge, _)) = nearest.filter(|(_, found)| from.y - found.height_at(from.x) < reach) {
            return Some(edge);
        }
    }
    None
}

/// An edge from left to right.
#[derive(Clone, Copy)]
struct Rightward {
    start: Halves,
    end: Halves,
}

impl Rightward {
    fn of([a, b]: Segment) -> Rightward {
        let [start, end] = [a.min(b), a.max(b)].map(Halves::node);
        Rightward { start, end }
    }

    /// Positive where a place lies above it.
    fn side_of(self, at: Halves) -> i64 {
        turn(self.start, self.end, at)
    }

    /// Whether it passes below a place, or a hair to the right of it. An upright one passes nothing.
    fn is_below(self, at: Halves) -> bool {
        self.start.x <= at.x && at.x < self.end.x && self.side_of(at) > 0
    }

    /// Whether it is the higher of two that pass one place and do not meet, or rises more from where both start.
    fn is_over(self, other: Rightward) -> bool {
        if self.start == other.start {
            other.side_of(self.end) > 0
        } else if self.start.x < other.start.x {
            self.side_of(other.start) < 0
        } else {
            other.side_of(self.start) > 0
        }
    }

    /// In steps.
    fn height_at(self, x: f64) -> f64 {
        let [a, b] = [self.start, self.end].map(Halves::steps);
        a.y + (b.y - a.y) * ((x - a.x) / (b.x - a.x))
    }
}
