//! The sites of the diagram: the edges of an outline and the nodes where they meet, in an order of their
//! own.
//!
//! Coordinates are lattice steps.

use super::boxes::BoxTree;
use crate::geometry::Rect;
use crate::geometry::region::Segment;
use glam::DVec2;
use i_overlay::i_float::int::point::IntPoint;
use rayon::prelude::*;
use std::collections::BTreeMap;

/// One of the two sides of an outline.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::geometry) enum Face {
    #[default]
    Inside = 0,
    Outside = 1,
}

#[cfg(test)]
impl Face {
    pub(in crate::geometry) const BOTH: [Face; 2] = [Face::Inside, Face::Outside];
}

/// A segment without its ends, or a node. A node is named by the first segment that leaves it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::geometry) struct Site(u32);

impl Site {
    pub(in crate::geometry) fn segment(segment: u32) -> Site {
        Site(2 * segment)
    }

    pub(in crate::geometry) fn node(leaving: u32) -> Site {
        Site(2 * leaving + 1)
    }

    pub(in crate::geometry) fn is_node(self) -> bool {
        self.0 & 1 == 1
    }

    /// Its place in a list of all sites.
    pub(super) fn place(self) -> usize {
        self.0 as usize
    }

    /// The segment itself, or the one a node is named by.
    pub(in crate::geometry) fn index(self) -> u32 {
        self.0 >> 1
    }
}

/// The places nearest to a node, which lie in a wedge with its point there. It runs counter-clockwise
/// from the normal of `first` to the normal of `last`, both on `face`, through less than half a turn.
#[derive(Clone, Copy, Debug)]
pub(in crate::geometry) struct Cone {
    pub(in crate::geometry) face: Face,
    pub(in crate::geometry) first: u32,
    pub(in crate::geometry) last: u32,
}

/// The edges of an outline and the nodes where they meet.
///
/// They are sorted along a curve that fills the plane (Morton's), so near sites have near numbers. That order
/// depends on places alone: it does not change with the order of rings, or where a ring starts.
pub(in crate::geometry) struct Sites {
    segments: Vec<Known>,
    /// Of the node that is named by each segment: where its cell lies. `None` where the corner cannot be
    /// nearest to anything but itself, and for segments that name no node.
    pub(in crate::geometry) cones: Vec<Option<Cone>>,
}

/// What is known of a segment: as much as the processor fetches at once.
#[derive(Clone, Copy)]
#[repr(align(64))]
struct Known {
    ends: Segment,
    /// Its unit direction.
    along: DVec2,
    length: f64,
    /// The nodes at both ends, by their names; the second is that of the segment after it, too.
    nodes: [u32; 2],
    /// The segment before it.
    before: u32,
}

impl Known {
    fn of(ends: Segment) -> Known {
        let [a, b] = ends;
        let length = Direction::from(a, b).length();
        Known { ends, along: (point(b) - point(a)) / length, length, nodes: [0; 2], before: 0 }
    }
}

impl Sites {
    /// `O(n log n)`.
    pub(in crate::geometry) fn of(segments: &[Segment]) -> Sites {
        let mut order: Vec<(u64, u32)> = (0..).zip(segments).map(|(i, &at)| (along_curve(at), i)).collect();
        order.par_sort_unstable_by(|a, b| {
            a.0.cmp(&b.0).then_with(|| ends(segments[a.1 as usize]).cmp(&ends(segments[b.1 as usize])))
        });
        let known = |&(_, i): &(u64, u32)| Known::of(segments[i as usize]);
        let known: Vec<Known> = order.par_iter().map(known).collect();
        drop(order);
        let mut sites = Sites { cones: vec![None; known.len()], segments: known };
        sites.link();
        sites
    }

    /// How many segments there are.
    pub(in crate::geometry) fn count(&self) -> usize {
        self.segments.len()
    }

    pub(in crate::geometry) fn segments(&self) -> impl Iterator<Item = Segment> {
        self.segments.iter().map(|known| known.ends)
    }

    pub(in crate::geometry) fn segment(&self, segment: u32) -> Segment {
        self.segments[segment as usize].ends
    }

    pub(in crate::geometry) fn length(&self, segment: u32) -> f64 {
        self.segments[segment as usize].length
    }

    /// The segments before and after one, along its ring (where rings touch, along either).
    pub(super) fn neighbours(&self, segment: u32) -> [u32; 2] {
        let Known { nodes, before, .. } = self.segments[segment as usize];
        [before, nodes[1]]
    }

    /// A tree of boxes round the segments. `O(n log n)`.
    pub(in crate::geometry) fn tree(&self) -> BoxTree {
        BoxTree::of(self.segments())
    }

    /// The diagonal of the outline's box.
    pub(super) fn extent(&self) -> f64 {
        let around = Rect::around(self.segments().flatten().map(point));
        around.map_or(0.0, |around| around.size().length())
    }

    /// Finds the segments that meet at each node.
    fn link(&mut self) {
        let mut ends: Vec<(u64, u32)> = (0..)
            .zip(self.segments())
            .flat_map(|(i, [a, b])| [(key(a), 2 * i), (key(b), 2 * i + 1)])
            .collect();
        ends.par_sort_unstable();
        let mut around = Vec::new();
        for meeting in ends.chunk_by(|a, b| a.0 == b.0) {
            // Odd ends arrive.
            let arrives = |end: u32| end & 1 == 1;
            let leaving = meeting.iter().map(|end| end.1).find(|&end| !arrives(end));
            let arriving = meeting.iter().map(|end| end.1).find(|&end| arrives(end));
            let (Some(leaving), Some(arriving)) = (leaving, arriving) else { continue };
            for &(_, end) in meeting {
                let known = &mut self.segments[(end >> 1) as usize];
                known.nodes[usize::from(arrives(end))] = leaving >> 1;
                if !arrives(end) {
                    known.before = arriving >> 1;
                }
            }
            self.cones[(leaving >> 1) as usize] = self.cone(meeting, &mut around);
        }
    }

    /// Between which of the segments that meet at a node there is more than half a turn. The list is used again.
    fn cone(&self, meeting: &[(u64, u32)], around: &mut Vec<(Direction, u32)>) -> Option<Cone> {
        let away = |end: u32| {
            let [a, b] = self.segment(end >> 1);
            if end & 1 == 1 { Direction::from(b, a) } else { Direction::from(a, b) }
        };
        around.clear();
        around.extend(meeting.iter().map(|&(_, end)| (away(end), end)));
        around.sort_unstable_by(|a, b| a.0.angle_cmp(b.0));
        (0..around.len()).find_map(|i| {
            let (a, b) = (around[i], around[(i + 1) % around.len()]);
            (a.0.cross(b.0) < 0).then_some(Cone {
                // To the left of what leaves is inside.
                face: if a.1 & 1 == 0 { Face::Inside } else { Face::Outside },
                first: a.1 >> 1,
                last: b.1 >> 1,
            })
        })
    }

    /// A segment as seen from a face, which lies to its left.
    pub(in crate::geometry) fn seen_from(&self, face: Face, segment: u32) -> Segment {
        let [a, b] = self.segment(segment);
        match face {
            Face::Inside => [a, b],
            Face::Outside => [b, a],
        }
    }

    /// The unit direction of a segment as seen from a face.
    pub(in crate::geometry) fn along_from(&self, face: Face, segment: u32) -> DVec2 {
        let along = self.segments[segment as usize].along;
        match face {
            Face::Inside => along,
            Face::Outside => -along,
        }
    }

    /// The nodes at both ends of a segment as seen from a face, by their names.
    pub(in crate::geometry) fn node_names(&self, face: Face, segment: u32) -> [u32; 2] {
        let [start, end] = self.segments[segment as usize].nodes;
        match face {
            Face::Inside => [start, end],
            Face::Outside => [end, start],
        }
    }

    /// Of each segment the one that follows it round the same part of a face, which lies to the left of both. `O(n)`,
    /// and `O(m log m)` in segments that meet where rings touch.
    pub(in crate::geometry) fn following(&self, face: Face) -> Vec<u32> {
        let mut after: Vec<u32> = self.segments.iter().map(|known| known.nodes[1]).collect();
        for (segment, next) in self.after_touching(face) {
            after[segment as usize] = next;
        }
        if face == Face::Inside {
            return after;
        }
        let mut before = vec![0; after.len()];
        for (segment, &next) in (0..).zip(&after) {
            before[next as usize] = segment;
        }
        before
    }

    /// Of segments that arrive where rings touch, the one that leaves along the same part of the face.
    fn after_touching(&self, face: Face) -> Vec<(u32, u32)> {
        /// Where it leads from the node, the segment, and whether that leaves.
        type End = (Direction, u32, bool);
        let mut meeting: BTreeMap<u64, Vec<End>> = BTreeMap::new();
        for (segment, [start, end]) in (0_u32..).zip(self.segments()) {
            let [before, after] = self.neighbours(segment);
            if self.neighbours(before)[1] != segment {
                meeting.insert(key(start), Vec::new());
            }
            if self.neighbours(after)[0] != segment {
                meeting.insert(key(end), Vec::new());
            }
        }
        if meeting.is_empty() {
            return Vec::new();
        }
        for (segment, [start, end]) in (0_u32..).zip(self.segments()) {
            for (node, other, leaves) in [(start, end, true), (end, start, false)] {
                if let Some(ends) = meeting.get_mut(&key(node)) {
                    ends.push((Direction::from(node, other), segment, leaves));
                }
            }
        }
        let mut after = Vec::new();
        for ends in meeting.values_mut() {
            ends.sort_unstable_by(|a, b| a.0.angle_cmp(b.0).then(a.1.cmp(&b.1)));
            for (index, &(_, segment, leaves)) in ends.iter().enumerate() {
                // Seen from the node, the inside lies clockwise of what arrives, the outside the other way.
                let step = if face == Face::Inside { ends.len() - 1 } else { 1 };
                let (_, next, next_leaves) = ends[(index + step) % ends.len()];
                if !leaves && next_leaves {
                    after.push((segment, next));
                }
            }
        }
        after
    }

    /// A segment as a direction, seen from a face.
    pub(super) fn direction(&self, face: Face, segment: u32) -> Direction {
        let [start, end] = self.seen_from(face, segment);
        Direction::from(start, end)
    }

    /// Whether a segment and the one that follows it lie in one line, seen from a face.
    pub(super) fn goes_straight_on(&self, face: Face, segment: u32, next: u32) -> bool {
        self.direction(face, segment).cross(self.direction(face, next)) == 0
    }

    /// Whether the node at the end of a segment, seen from a face, juts out into it there.
    pub(super) fn juts_after(&self, face: Face, segment: u32) -> bool {
        let [_, node] = self.node_names(face, segment);
        self.cones[node as usize].is_some_and(|cone| cone.face == face && cone.last == segment)
    }

    /// Where a node is.
    pub(in crate::geometry) fn node_at(&self, leaving: u32) -> IntPoint<i32> {
        self.segment(leaving)[0]
    }
}

/// From one node to another, exactly. Nodes lie within 2^28 steps, so products within 2^58.
#[derive(Clone, Copy, Debug)]
pub(in crate::geometry) struct Direction {
    x: i64,
    y: i64,
}

impl Direction {
    pub(in crate::geometry) fn from(a: IntPoint<i32>, b: IntPoint<i32>) -> Direction {
        Direction { x: i64::from(b.x) - i64::from(a.x), y: i64::from(b.y) - i64::from(a.y) }
    }

    /// Positive where `other` turns left from here.
    pub(in crate::geometry) fn cross(self, other: Direction) -> i64 {
        self.x * other.y - self.y * other.x
    }

    pub(in crate::geometry) fn dot(self, other: Direction) -> i64 {
        self.x * other.x + self.y * other.y
    }

    pub(super) fn reversed(self) -> Direction {
        Direction { x: -self.x, y: -self.y }
    }

    /// As a place seen from where it starts, in steps.
    pub(super) fn place(self) -> DVec2 {
        DVec2::new(self.x as f64, self.y as f64)
    }

    fn angle_cmp(self, other: Direction) -> std::cmp::Ordering {
        let half = |way: Direction| way.y < 0 || (way.y == 0 && way.x < 0);
        half(self).cmp(&half(other)).then_with(|| 0.cmp(&self.cross(other)))
    }

    fn length(self) -> f64 {
        (self.dot(self) as f64).sqrt()
    }
}

/// A node as a place, in steps.
pub(in crate::geometry) fn point(node: IntPoint<i32>) -> DVec2 {
    DVec2::new(f64::from(node.x), f64::from(node.y))
}

/// Where the middle of a segment lies along the curve that fills the plane.
fn along_curve([a, b]: Segment) -> u64 {
    // The top bit turned over sorts signed numbers.
    let middle = |a: i32, b: i32| i32::midpoint(a, b).cast_unsigned() ^ 1 << 31;
    interleaved(middle(a.x, b.x), middle(a.y, b.y))
}

fn ends(segment: Segment) -> [(i32, i32); 2] {
    segment.map(|node| (node.x, node.y))
}

fn key(node: IntPoint<i32>) -> u64 {
    let word = |x: i32| u64::from(x.cast_unsigned());
    word(node.x) << 32 | word(node.y)
}

/// The bits of two numbers in turn.
fn interleaved(x: u32, y: u32) -> u64 {
    let spread = |x: u32| {
        let mut x = u64::from(x);
        x = (x | x << 16) & 0x0000_ffff_0000_ffff;
        x = (x | x << 8) & 0x00ff_00ff_00ff_00ff;
        x = (x | x << 4) & 0x0f0f_0f0f_0f0f_0f0f;
        x = (x | x << 2) & 0x3333_3333_3333_3333;
        (x | x << 1) & 0x5555_5555_5555_5555
    };
    spread(x) | spread(y) << 1
}
