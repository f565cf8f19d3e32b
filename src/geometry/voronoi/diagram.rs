//! Every edge of an outline's Voronoi diagram: first from the cells of segments, then from what those report
//! of nodes, last from the few gaps between nodes that are still open.
//!
//! Any thread may take any block, and no block depends on another, so the result does not depend on the
//! number of threads.

use super::boxes::BoxTree;
use super::cell::{Edge, Tracer};
use super::change::{Cell, Cells, Change};
use super::sites::{Face, Site, Sites};
use super::tuning::{AT_A_TIME, BLOCK};
use super::wedge::{self, NodeContact};
use rayon::prelude::*;
use std::sync::atomic::{AtomicBool, Ordering};

/// What a segment borders on, by face: at its start and at its end, seen from there.
type Borders = [[Site; 2]; 2];

/// What `take` makes of the edges on these faces, block by block, in the order of the sites. Each edge comes
/// once. `cancel` is looked at before each cell; some edges are missing once it is set. With it, how many nodes of the
/// tree were looked into: what it cost, the same on any machine.
pub(in crate::geometry) fn edges<T: Send>(
    sites: &Sites,
    tree: &BoxTree,
    faces: &[Face],
    cancel: &AtomicBool,
    take: impl Fn(Vec<Edge>) -> T + Sync,
) -> (Vec<T>, u64) {
    let mut all = Vec::new();
    let change = Change::none(sites, tree);
    let (_, looks) = edges_after(&change, faces, false, cancel, take, |taken| all.push(taken));
    (all, looks)
}

/// [`edges`] of an outline that was another before: cells that the change does not reach are taken over. What was taken
/// is handed to `gather`, block by block. Returns, if they are to be kept, the cells of all segments for the next change.
pub(in crate::geometry) fn edges_after<T: Send>(
    change: &Change,
    faces: &[Face],
    keep: bool,
    cancel: &AtomicBool,
    take: impl Fn(Vec<Edge>) -> T + Sync,
    mut gather: impl FnMut(T),
) -> (Option<Cells>, u64) {
    let Change { sites, tree, .. } = *change;
    let count = sites.segments.len();
    let mut kept = keep.then(Cells::default);
    let (mut contacts, mut looks): (Vec<NodeContact>, u64) = (Vec::new(), 0);
    let blocks = (0..count).step_by(BLOCK).map(|first| first..count.min(first + BLOCK));
    by_many_threads(
        blocks,
        |block| {
            let mut tracer = Tracer::new(sites, tree);
            let cells = of_segments(&mut tracer, change, faces, block, cancel);
            let kept = keep.then(|| cells.clone());
            (take(cells.edges), cells.contacts, kept, tracer.looks())
        },
        |(taken, of_block, cells, more)| {
            gather(taken);
            contacts.extend(of_block);
            if let (Some(kept), Some(cells)) = (&mut kept, cells) {
                kept.append(cells);
            }
            looks += more;
        },
    );
    contacts.par_sort_by_key(|contact| contact.node);
    let mut gaps = Vec::new();
    by_many_threads(
        contacts.chunk_by_mut(|a, b| a.node as usize / BLOCK == b.node as usize / BLOCK),
        |contacts| {
            let (mut edges, mut gaps) = (Vec::new(), Vec::new());
            for of_node in contacts.chunk_by_mut(|a, b| a.node == b.node) {
                if cancel.load(Ordering::Relaxed) {
                    break;
                }
                wedge::edges(sites, of_node, &mut edges, &mut gaps);
            }
            (take(edges), gaps)
        },
        |(taken, open)| {
            gather(taken);
            gaps.extend(open);
        },
    );
    drop(contacts);
    let mut edges = Vec::new();
    wedge::close(sites, &mut gaps, &mut edges);
    gather(take(edges));
    by_many_threads(
        gaps.chunks(BLOCK),
        |gaps| {
            let (mut tracer, mut edges) = (Tracer::new(sites, tree), Vec::new());
            for gap in gaps {
                if cancel.load(Ordering::Relaxed) {
                    break;
                }
                tracer.node_gap(gap, &mut edges);
            }
            (take(edges), tracer.looks())
        },
        |(taken, more)| {
            gather(taken);
            looks += more;
        },
    );
    (kept, looks)
}

/// Does each block on any thread, and gathers what came of them in order. Many at a time but not all: what threads leave
/// in small pieces takes room that the system does not get back, so it is brought together before it is much.
fn by_many_threads<B: Send, T: Send>(
    blocks: impl Iterator<Item = B>,
    work: impl Fn(B) -> T + Sync,
    mut gather: impl FnMut(T),
) {
    let mut blocks = blocks.peekable();
    while blocks.peek().is_some() {
        let some: Vec<B> = blocks.by_ref().take(AT_A_TIME * rayon::current_num_threads()).collect();
        let done: Vec<T> = some.into_par_iter().map(&work).collect();
        done.into_iter().for_each(&mut gather);
    }
}

/// The edges of a block's segments, and where nodes border on them.
fn of_segments(
    tracer: &mut Tracer,
    change: &Change,
    faces: &[Face],
    block: std::ops::Range<usize>,
    cancel: &AtomicBool,
) -> Cells {
    let first = block.start;
    let (mut edges, mut contacts) = (Vec::new(), Vec::new());
    let mut borders: Vec<Option<Borders>> = vec![None; block.len()];
    let mut by_segment = vec![<[Cell; 2]>::default(); block.len()];
    for start in block.clone() {
        // Along the ring as far as that stays in the block: each knows what the one before borders on.
        let mut segment = start;
        while block.contains(&segment)
            && borders[segment - first].is_none()
            && !cancel.load(Ordering::Relaxed)
        {
            let [before, after] = change.sites.neighbours[segment];
            let mut own: Borders = [[Site::NONE; 2]; 2];
            for &face in faces {
                // Inside, the neighbour before comes first; outside, the one after.
                let ends = if face == Face::Inside { [before, after] } else { [after, before] };
                let seeds = [0, 1].map(|end| {
                    let neighbour = (ends[end] as usize).checked_sub(first);
                    let borders = neighbour.and_then(|i| *borders.get(i)?);
                    borders.map_or(Site::NONE, |borders| borders[face as usize][1 - end])
                });
                let had = [edges.len() as u32, contacts.len() as u32];
                let cell = change.taken_over(face, segment, &mut edges, &mut contacts).unwrap_or_else(|| {
                    let (borders, open) =
                        tracer.segment_cell(face, segment as u32, seeds, &mut edges, &mut contacts);
                    Cell { borders, open, ..Cell::default() }
                });
                own[face as usize] = cell.borders;
                let [edges, contacts] = [had[0]..edges.len() as u32, had[1]..contacts.len() as u32];
                by_segment[segment - first][face as usize] = Cell { edges, contacts, ..cell };
            }
            borders[segment - first] = Some(own);
            segment = after as usize;
        }
    }
    Cells { by_segment, edges, contacts }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::region::Segment;
    use crate::geometry::voronoi::sites::point;
    use crate::geometry::voronoi::wedge::Gap;
    use glam::DVec2;
    use i_overlay::i_float::int::point::IntPoint;
    use proptest::prelude::*;
    use std::collections::BTreeMap;
    use std::f64::consts::TAU;

    /// Small polygons, scattered in a frame: much of the space between them borders on corners alone.
    fn dots() -> impl Strategy<Value = Vec<Segment>> {
        let dot = (3..7_usize, 0.0..TAU, 5e4..3e5_f64, -1e5..1e5_f64, -1e5..1e5_f64);
        prop::collection::vec(dot, 2..40).prop_map(|dots| {
            let rings = dots.iter().enumerate().map(|(i, &(corners, turn, radius, x, y))| {
                let middle = DVec2::new((i % 6) as f64 * 1e6 + x, (i / 6) as f64 * 1e6 + y);
                let corner = |j: usize| {
                    let at = middle + DVec2::from_angle(turn + TAU * j as f64 / corners as f64) * radius;
                    IntPoint::new(at.x as i32, at.y as i32)
                };
                (0..corners).map(move |j| [corner(j), corner(j + 1)]).collect::<Vec<_>>()
            });
            let frame = |low: i32, high: i32, x: [usize; 4], y: [usize; 4]| {
                let corner = move |j: usize| IntPoint::new([low, high][x[j]], [low, high][y[j]]);
                (0..4).map(move |j| [corner(j), corner((j + 1) % 4)])
            };
            let outer = frame(-2_000_000, 9_000_000, [0, 1, 1, 0], [0, 0, 1, 1]);
            let hole = frame(-1_000_000, 8_000_000, [0, 0, 1, 1], [0, 1, 1, 0]);
            rings.flatten().chain(outer).chain(hole).collect()
        })
    }

    /// Rounds of many chords in front of a long straight side, with a wide bow behind: cells of the side are
    /// narrow here and wide there, and what faces them joins smoothly.
    fn rounds() -> impl Strategy<Value = Vec<Segment>> {
        let round = (6..48_usize, 0.0..TAU, 0.1..0.45_f64, 0.01..0.5_f64);
        let rounds = prop::collection::vec(round, 1..6);
        (rounds, 6..60_usize, 0.0..TAU, 2e6..2e7_f64).prop_map(|(rounds, chords, turn, pitch)| {
            let count = rounds.len() as f64;
            let place = |at: DVec2| {
                let at = DVec2::from_angle(turn).rotate(at * pitch);
                IntPoint::new(at.x as i32, at.y as i32)
            };
            let bow = |i: usize| {
                let angle = TAU * 0.5 * i as f64 / chords as f64;
                place(DVec2::new(
                    0.5 * count + (0.5 * count + 1.0) * angle.cos(),
                    (1.2 + count) * angle.sin(),
                ))
            };
            let mut rings = vec![(0..=chords).map(bow).collect::<Vec<_>>()];
            for (i, (corners, start, radius, off)) in rounds.into_iter().enumerate() {
                let middle = DVec2::new(i as f64 + 0.5, radius + off);
                let corner = |j: usize| {
                    place(middle + DVec2::from_angle(start - TAU * j as f64 / corners as f64) * radius)
                };
                rings.push((0..corners).map(corner).collect());
            }
            let closed = |ring: Vec<IntPoint<i32>>| {
                let next = ring.clone().into_iter().cycle().skip(1);
                ring.into_iter().zip(next).map(|(a, b)| [a, b]).collect::<Vec<_>>()
            };
            rings.into_iter().flat_map(closed).collect()
        })
    }

    /// How far a place is from the nearest site, in steps: by looking at each.
    fn clearance(sites: &Sites, at: DVec2) -> f64 {
        let to_segment = |&[a, b]: &Segment| {
            let (a, run) = (point(a), point(b) - point(a));
            let share = ((at - a).dot(run) / run.length_squared()).clamp(0.0, 1.0);
            at.distance(a + run * share)
        };
        sites.segments.iter().map(to_segment).fold(f64::INFINITY, f64::min)
    }

    /// How long the edges between each two nodes are, in steps. Edges shorter than a vertex is uncertain are
    /// left out.
    fn lengths(edges: impl IntoIterator<Item = Edge>) -> BTreeMap<(Face, Site, Site), f64> {
        let mut lengths = BTreeMap::new();
        for edge in edges.into_iter().filter(|edge| edge.sites.iter().all(|site| site.is_node())) {
            let [a, b] = edge.sites;
            *lengths.entry((edge.face, a.min(b), a.max(b))).or_insert(0.0) +=
                edge.ends[0].distance(edge.ends[1]);
        }
        lengths.retain(|_, length| *length > 1.0);
        lengths
    }

    proptest! {
        /// Every edge, however short, ends as far from its two sites as from the nearest one.
        #[test]
        fn nothing_is_nearer_than_the_sites_of_an_edge(segments in rounds()) {
            let sites = Sites::of(&segments);
            let tree = BoxTree::of(&sites.segments);
            for edge in edges(&sites, &tree, &Face::BOTH, &AtomicBool::new(false), |edges| edges).0.into_iter().flatten() {
                for at in edge.ends {
                    let own = edge.sites.map(|site| {
                        if site.is_node() {
                            return at.distance(point(sites.node_at(site.index())));
                        }
                        let start = point(sites.segments[site.index() as usize][0]);
                        sites.along_from(Face::Inside, site.index()).perp_dot(at - start).abs()
                    });
                    let nearest = clearance(&sites, at);
                    for own in own.into_iter().filter(|own| *own < 0.9 * tree.extent()) {
                        prop_assert!((own - nearest).abs() < 0.01 + 1e-8 * nearest, "{:?} {} {}", edge, own, nearest);
                    }
                }
            }
        }

        /// Segments report the same borders of nodes as a search of every node's whole wedge finds.
        #[test]
        fn what_segments_report_of_nodes_is_what_a_search_finds(segments in dots()) {
            let sites = Sites::of(&segments);
            let tree = BoxTree::of(&sites.segments);
            let reported = lengths(edges(&sites, &tree, &Face::BOTH, &AtomicBool::new(false), |edges| edges).0.into_iter().flatten());
            let (mut tracer, mut found) = (Tracer::new(&sites, &tree), Vec::new());
            for (node, cone) in (0..).zip(&sites.cones) {
                let Some(cone) = *cone else { continue };
                let at = point(sites.node_at(node));
                let ends = [cone.first, cone.last].map(|side| at + sites.along_from(cone.face, side).perp());
                tracer.node_gap(&Gap { node, face: cone.face, ends, neighbours: [Site::NONE; 2] }, &mut found);
            }
            let found = lengths(found);
            prop_assert_eq!(reported.keys().collect::<Vec<_>>(), found.keys().collect::<Vec<_>>());
            for (reported, found) in reported.values().zip(found.values()) {
                prop_assert!((reported - found).abs() < 0.01 + 1e-6 * found, "{} {}", reported, found);
            }
        }
    }
}
