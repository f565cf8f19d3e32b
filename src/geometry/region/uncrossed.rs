//! Outlines that cross nothing, as most drawings are: which ring lies in which is all there is to find.
//!
//! The overlay engine cuts edges where they may cross, by strips of the plane, and long slanting edges that lie side by
//! side cost it the square of their number in time and room. A tree of boxes that are turned as edges run has no such
//! trouble.

use super::below::{Halves, below};
use super::{FillRule, Grid, Node, Segment, edges_of, meet_badly};
use crate::geometry::Rect;
use crate::geometry::voronoi::{BoxTree, Direction, Walk, point};
use glam::DVec2;
use i_overlay::i_shape::int::shape::IntShapes;
use rayon::prelude::*;

/// The engine is quick enough for fewer points. A round value of our own.
const MANY: usize = 4096;

/// Edges are long if the mean one is longer than so many cells are wide, where their box is laid out in as many cells
/// as there are edges: about so often the engine cuts each up. Of 100,000 edges squares in rows come to 0.7, and the
/// engine is the quicker; a star of spikes comes to 29, and the engine takes ten times as long. A round value of our
/// own between.
const LONG: f64 = 8.0;

/// So many edges are looked at in a row by one thread.
const BLOCK: usize = 1024;

/// What rings fill that have many long edges and meet nowhere, as the engine gives it; `None` for all others, which are
/// the engine's business. `O(n log n)` for most outlines, in points.
pub(super) fn filled(grid: Grid, rings: &[Vec<DVec2>], rule: FillRule) -> Option<IntShapes<i32>> {
    let nodes = |ring: &Vec<DVec2>| ring.iter().map(|&point| grid.node(point)).collect();
    if !are_many_and_long(rings) {
        return None;
    }
    filled_by(rings.iter().map(nodes).collect(), rule)
}

/// `O(n)`.
fn are_many_and_long(rings: &[Vec<DVec2>]) -> bool {
    let count: usize = rings.iter().map(Vec::len).sum();
    if count < MANY {
        return false;
    }
    let around = |ring: &Vec<DVec2>| ring.windows(2).map(|ends| ends[0].distance(ends[1])).sum::<f64>();
    let across = Rect::around(rings.iter().flatten().copied()).map_or(0.0, |bounds| bounds.size().length());
    rings.iter().map(around).sum::<f64>() > LONG * across * (count as f64).sqrt()
}

/// What rings of nodes fill; `None` where they meet each other or themselves, or one has no inside. Points on straight
/// edges are dropped, as the engine does.
fn filled_by(rings: Vec<Vec<Node>>, rule: FillRule) -> Option<IntShapes<i32>> {
    let mut rings: Vec<Outline> = rings.into_iter().map(Outline::of).collect::<Option<_>>()?;
    let mut nodes: Vec<Node> = rings.iter().flat_map(|ring| &ring.nodes).copied().collect();
    nodes.par_sort_unstable();
    if nodes.windows(2).any(|pair| pair[0] == pair[1]) {
        return None;
    }
    drop(nodes);
    // From left to right: what lies round a ring starts to the left of it.
    rings.sort_unstable_by_key(|ring| ring.nodes[0]);
    let segments: Vec<Segment> = rings.iter().flat_map(|ring| edges_of(&ring.nodes)).collect();
    let tree = BoxTree::of(segments.iter().copied());
    (!any_meet(&segments, &tree)).then(|| nested(rings, &segments, &tree, rule))
}

/// Positive where the way from `a` by `b` to `c` turns left.
fn turn(a: Node, b: Node, c: Node) -> i64 {
    Direction::from(a, b).cross(Direction::from(b, c))
}

/// A ring that starts at its least node: the leftmost, of several the lowest. It has no points on straight edges.
struct Outline {
    nodes: Vec<Node>,
    /// Whether it runs counter-clockwise.
    is_left: bool,
}

impl Outline {
    /// `None` where the ring turns back on itself, or nothing is left of it.
    fn of(mut ring: Vec<Node>) -> Option<Outline> {
        ring.dedup();
        if ring.len() > 1 && ring.first() == ring.last() {
            ring.pop();
        }
        let count = ring.len();
        if count < 3 {
            return None;
        }
        let mut nodes = Vec::with_capacity(count);
        for i in 0..count {
            let [a, b, c] = [ring[(i + count - 1) % count], ring[i], ring[(i + 1) % count]];
            if turn(a, b, c) != 0 {
                nodes.push(b);
            } else if Direction::from(a, b).dot(Direction::from(b, c)) < 0 {
                return None;
            }
        }
        let least = (0..nodes.len()).min_by_key(|&i| nodes[i])?;
        nodes.rotate_left(least);
        let is_left = turn(nodes[nodes.len() - 1], nodes[0], *nodes.get(1)?) > 0;
        (nodes.len() >= 3).then_some(Outline { nodes, is_left })
    }

    /// As the outline of a shape or of a hole, each from where the engine starts it.
    fn written(mut self, is_hole: bool) -> Vec<Node> {
        // A hole runs clockwise.
        if self.is_left == is_hole {
            self.nodes[1..].reverse();
        }
        if !is_hole {
            self.nodes.rotate_right(1);
        }
        self.nodes
    }
}

/// Whether any two edges have more in common than an end. Stops soon after the first two that do.
fn any_meet(segments: &[Segment], tree: &BoxTree) -> bool {
    segments.par_chunks(BLOCK).enumerate().any(|(block, some)| {
        let mut walk = Walk::default();
        (block * BLOCK..).zip(some).any(|(i, &edge)| {
            let mut met = false;
            tree.along(&mut walk, edge.map(point), |other| {
                met |= other as usize > i && meet_badly(edge, segments[other as usize]);
            });
            met
        })
    })
}

/// What lies on one side of a ring.
#[derive(Clone, Copy)]
struct Area {
    /// How often rings wind round it; by the even-odd rule, how many there are round it.
    winding: i32,
    /// The shape that it is part of, or a hole in.
    shape: Option<usize>,
}

/// The shapes that rings make which do not meet, sorted from left to right; `segments` are their edges in order.
fn nested(rings: Vec<Outline>, segments: &[Segment], tree: &BoxTree, rule: FillRule) -> IntShapes<i32> {
    let below: Vec<Option<u32>> =
        rings.par_iter().map(|ring| below(Halves::node(ring.nodes[0]), segments, tree)).collect();
    let owners: Vec<usize> =
        rings.iter().enumerate().flat_map(|(number, ring)| ring.nodes.iter().map(move |_| number)).collect();
    let is_filled = |area: Area| match rule {
        FillRule::NonZero => area.winding != 0,
        FillRule::EvenOdd => area.winding % 2 != 0,
    };
    // To the right and to the left of each ring so far.
    let mut sides: Vec<[Area; 2]> = Vec::with_capacity(rings.len());
    let mut shapes: IntShapes<i32> = Vec::new();
    for (ring, below) in rings.into_iter().zip(below) {
        let outside = below.map_or(Area { winding: 0, shape: None }, |edge| {
            let [a, b] = segments[edge as usize];
            // Above what goes to the right lies what is to the left of it.
            sides[owners[edge as usize]][usize::from(a.x < b.x)]
        });
        let is_left = ring.is_left;
        let winds = if rule == FillRule::EvenOdd || is_left { 1 } else { -1 };
        let mut inside = Area { winding: outside.winding + winds, ..outside };
        match (is_filled(outside), is_filled(inside)) {
            (false, true) => {
                inside.shape = Some(shapes.len());
                shapes.push(vec![ring.written(false)]);
            }
            (true, false) => {
                if let Some(shape) = outside.shape {
                    shapes[shape].push(ring.written(true));
                }
            }
            _ => {}
        }
        sides.push(if is_left { [outside, inside] } else { [inside, outside] });
    }
    shapes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::region::{Region, new_overlay};
    use glam::dvec2;
    use proptest::prelude::*;
    use std::f64::consts::TAU;

    /// One step is a hundredth, so that few directions are left for edges, and many nodes come to lie level.
    fn grid() -> Grid {
        Grid::covering(Rect::new(dvec2(-1e6, -1e6), dvec2(1e6, 1e6)))
    }

    fn in_steps(rings: &[Vec<DVec2>]) -> Vec<Vec<DVec2>> {
        rings.iter().map(|ring| ring.iter().map(|&at| at.round() * grid().step()).collect()).collect()
    }

    fn ours(rings: &[Vec<DVec2>], rule: FillRule) -> Option<Region> {
        let nodes = rings.iter().map(|ring| ring.iter().map(|&at| grid().node(at)).collect()).collect();
        Some(Region::of(grid(), filled_by(nodes, rule)?))
    }

    fn by_the_engine(rings: &[Vec<DVec2>], rule: FillRule) -> Region {
        Region::cleaned_by(new_overlay(64), grid(), rings, rule)
    }

    /// Rings about nine places, up to six round each other, and perhaps one round all; either way round, from anywhere.
    fn nests() -> impl Strategy<Value = Vec<Vec<DVec2>>> {
        let ring = (8..40_usize, 0.0..TAU, any::<bool>(), any::<prop::sample::Index>());
        let nest = prop::collection::vec(ring, 0..6);
        (prop::collection::vec(nest, 9), any::<bool>()).prop_map(|(nests, framed)| {
            let mut rings = Vec::new();
            for (place, nest) in nests.into_iter().enumerate() {
                let middle = dvec2((place % 3) as f64, (place / 3) as f64) * 1000.0;
                let mut radius = 450.0;
                for (corners, turn, turned, start) in nest {
                    let around = |i: usize| {
                        middle + DVec2::from_angle(turn + TAU * i as f64 / corners as f64) * radius
                    };
                    let mut ring: Vec<DVec2> = (0..corners).map(around).collect();
                    ring.rotate_left(start.index(corners));
                    if turned {
                        ring.reverse();
                    }
                    rings.push(ring);
                    radius *= 0.8;
                }
            }
            if framed {
                rings.push(Rect::new(dvec2(-700.0, -800.0), dvec2(2700.0, 2700.0)).corners().to_vec());
            }
            in_steps(&rings)
        })
    }

    #[test]
    fn a_drawing_of_long_edges_comes_out_as_from_the_engine() {
        let count = 6000_u32;
        let spike = |i: usize| {
            let radius = if i.is_multiple_of(2) { 20.0 } else { 60.0 + (i * 37 % 101) as f64 * 0.3 };
            DVec2::from_angle(TAU * i as f64 / f64::from(count)) * radius
        };
        let star: Vec<DVec2> = (0..count as usize).map(spike).collect();
        let rings = [star, Rect::new(DVec2::splat(-5.0), DVec2::splat(5.0)).corners().to_vec()];
        let grid = Grid::covering(Rect::new(DVec2::splat(-100.0), DVec2::splat(100.0)));
        assert!(filled(grid, &rings, FillRule::EvenOdd).is_some());
        let engine = Region::cleaned_by(new_overlay(8192), grid, &rings, FillRule::EvenOdd);
        assert_eq!(Region::clean(grid, &rings, FillRule::EvenOdd), engine);
    }

    proptest! {
        #[test]
        fn what_crosses_nothing_comes_out_as_from_the_engine(rings in nests(), even_odd: bool) {
            let rule = if even_odd { FillRule::EvenOdd } else { FillRule::NonZero };
            let region = ours(&rings, rule).expect("nests cross nothing");
            region.check_invariants();
            prop_assert_eq!(region, by_the_engine(&rings, rule));
        }

        /// Scribbles of a few steps touch and cross in every way.
        #[test]
        fn what_crosses_is_left_to_the_engine(
            rings in prop::collection::vec(prop::collection::vec((0..12, 0..12), 3..8), 1..4)
        ) {
            let rings: Vec<Vec<DVec2>> = rings
                .iter()
                .map(|ring| ring.iter().map(|&(x, y)| dvec2(f64::from(x), f64::from(y))).collect())
                .collect();
            let rings = in_steps(&rings);
            if let Some(region) = ours(&rings, FillRule::EvenOdd) {
                region.check_invariants();
                prop_assert_eq!(region, by_the_engine(&rings, FillRule::EvenOdd));
            }
        }

        #[test]
        fn two_that_meet_are_found_as_by_looking_at_all(
            ends in prop::collection::vec(((0..60, 0..60), (-9..9, 1..9)), 2..40)
        ) {
            let segments: Vec<Segment> = ends
                .iter()
                .map(|&((x, y), (u, v))| [Node::new(x, y), Node::new(x + u, y + v)])
                .collect();
            let pairs = segments.iter().enumerate().flat_map(|(i, &a)| {
                segments[i + 1..].iter().map(move |&b| meet_badly(a, b))
            });
            prop_assert_eq!(any_meet(&segments, &BoxTree::of(segments.iter().copied())), pairs.into_iter().any(|meets| meets));
        }
    }
}
