//! Triangles between nodes that stand in a ring and look at each other.
//!
//! The circle of each triangle holds no other node, so the middles of circles are the vertices of the diagram.
//! Nodes are taken away in random order, each remembering its neighbours, and put back between them, which
//! costs a constant number of turned edges on average (Chew, Building Voronoi diagrams for convex polygons in
//! linear expected time, 1990). Whether a circle holds a node is worked out in whole numbers.

use super::sites::point;
use glam::DVec2;
use i_overlay::i_float::int::point::IntPoint;

type Node = IntPoint<i32>;

/// Three corners and, opposite each, the triangle beyond; `usize::MAX` where the ring itself is.
#[derive(Clone, Copy)]
struct Triangle {
    corners: [usize; 3],
    beyond: [usize; 3],
}

const NONE: usize = usize::MAX;

/// The corners of a triangle by number, and opposite each the triangle beyond.
pub(super) type Neighboured = ([usize; 3], [Option<[usize; 3]>; 3]);

/// The triangles between nodes of a ring, at least three, that runs clockwise: their corners by number, and
/// opposite each corner the triangle beyond. `O(n)` expected, `O(n^2)` at worst.
pub(super) fn triangles(nodes: &[Node]) -> Vec<Neighboured> {
    let count = nodes.len();
    let (mut before, mut after): (Vec<usize>, Vec<usize>) =
        (0..count).map(|i| ((i + count - 1) % count, (i + 1) % count)).unzip();
    let mut order: Vec<usize> = (0..count).collect();
    // Knuth's linear congruential generator (constants from memory; any would do): the same order every time.
    let mut state = 1_u64;
    for i in (1..count).rev() {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        order.swap(i, (state >> 33) as usize % (i + 1));
    }
    let (first, rest) = order.split_at(3);
    for &node in rest.iter().rev() {
        let (a, b) = (before[node], after[node]);
        (after[a], before[b]) = (b, a);
    }
    let start = first[0];
    let corners = [start, after[start], before[start]];
    let mut net = Net { nodes, all: vec![Triangle { corners, beyond: [NONE; 3] }], at: vec![0; count] };
    for &node in rest {
        let (a, b) = (before[node], after[node]);
        (after[a], before[b]) = (node, node);
        net.put(node, a, b, &after);
    }
    let corners = |i: usize| net.all.get(i).map(|triangle: &Triangle| triangle.corners);
    net.all.iter().map(|triangle| (triangle.corners, triangle.beyond.map(corners))).collect()
}

struct Net<'a> {
    nodes: &'a [Node],
    all: Vec<Triangle>,
    /// The triangle at the side of the ring that starts at each node.
    at: Vec<usize>,
}

impl Net<'_> {
    /// Puts a node between two that follow each other, and turns edges whose circles hold it.
    fn put(&mut self, node: usize, before: usize, next: usize, after: &[usize]) {
        let (new, old) = (self.all.len(), self.at[before]);
        self.all.push(Triangle { corners: [node, next, before], beyond: [old, NONE, NONE] });
        let opposite = self.opposite(old, before, next);
        self.all[old].beyond[opposite] = new;
        (self.at[before], self.at[node]) = (new, new);
        let mut stack = vec![new];
        while let Some(one) = stack.pop() {
            let Triangle { corners: [_, p, q], beyond: [other, to_next, to_before] } = self.all[one];
            if other == NONE {
                continue;
            }
            let i = self.opposite(other, p, q);
            let x = self.all[other].corners[i];
            if !holds([x, q, p].map(|i| self.nodes[i]), self.nodes[node]) {
                continue;
            }
            // Opposite `q` lies the side from `p` to `x`.
            let [opposite_q, opposite_p] = [q, p].map(|corner| {
                let at = self.all[other].corners.iter().position(|&c| c == corner);
                at.map_or(NONE, |at| self.all[other].beyond[at])
            });
            // Corners `node, p, q`: opposite `p` lies the side to `q`, opposite `q` the side to `p`.
            let (beside_q, beside_p) = (to_next, to_before);
            self.all[one] = Triangle { corners: [node, p, x], beyond: [opposite_q, other, beside_p] };
            self.all[other] = Triangle { corners: [node, x, q], beyond: [opposite_p, beside_q, one] };
            self.moved(opposite_q, other, one, [p, x], after);
            self.moved(beside_q, one, other, [q, node], after);
            stack.extend([one, other]);
        }
    }

    /// Which corner of a triangle is neither of two.
    fn opposite(&self, triangle: usize, a: usize, b: usize) -> usize {
        self.all[triangle].corners.iter().position(|&corner| corner != a && corner != b).unwrap_or(0)
    }

    /// Notes that a side belongs to another triangle now: for the triangle beyond it, or for the ring.
    fn moved(&mut self, beyond: usize, from: usize, to: usize, [a, b]: [usize; 2], after: &[usize]) {
        if beyond != NONE {
            for other in &mut self.all[beyond].beyond {
                if *other == from {
                    *other = to;
                }
            }
        } else if after[a] == b {
            self.at[a] = to;
        } else {
            self.at[b] = to;
        }
    }
}

/// Whether the circle through three nodes, clockwise, holds a fourth. Nodes lie within 2^28 steps, so products
/// within 2^121.
fn holds(corners: [Node; 3], node: Node) -> bool {
    let [a, b, c] = corners.map(|corner| {
        let (x, y) = (i128::from(corner.x) - i128::from(node.x), i128::from(corner.y) - i128::from(node.y));
        (x, y, x * x + y * y)
    });
    let turn = |p: (i128, i128, i128), q: (i128, i128, i128)| p.0 * q.1 - p.1 * q.0;
    a.2 * turn(b, c) + b.2 * turn(c, a) + c.2 * turn(a, b) < 0
}

/// The middle of the circle through three nodes.
pub(super) fn middle([a, b, c]: [Node; 3]) -> DVec2 {
    let across = |node: Node| (i64::from(node.x) - i64::from(a.x), i64::from(node.y) - i64::from(a.y));
    let ((bx, by), (cx, cy)) = (across(b), across(c));
    let turn = (bx * cy - by * cx) as f64;
    let (b, c) = ((bx * bx + by * by) as f64, (cx * cx + cy * cy) as f64);
    point(a) + DVec2::new(b * cy as f64 - c * by as f64, c * bx as f64 - b * cx as f64) / (2.0 * turn)
}
