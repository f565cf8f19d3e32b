//! Every edge of an outline's Voronoi diagram: first from the cells of segments, then from what those tell of
//! nodes, last from the few gaps between nodes that are still open.
//!
//! In blocks that any thread may take, each by itself, so that nothing hangs on how many threads there are.

use super::boxes::BoxTree;
use super::cell::{Edge, Tracer};
use super::sites::{Face, Site, Sites};
use super::wedge::{self, Beside, Gap};
use rayon::prelude::*;

/// So many cells are worked out by one thread after each other. Guesses are handed on within a block alone.
const BLOCK: usize = 512;

/// What a segment borders on, by face: at its start and at its end, seen from there.
type Borders = [[Site; 2]; 2];

/// What `take` makes of the edges on the faces asked for, block by block, in the order of the sites. Between two
/// sites each edge comes once.
pub(super) fn edges<T: Send>(
    sites: &Sites,
    tree: &BoxTree,
    faces: &[Face],
    take: impl Fn(Vec<Edge>) -> T + Sync,
) -> Vec<T> {
    let count = sites.segments.len();
    let blocks: Vec<_> = (0..count).step_by(BLOCK).map(|first| first..count.min(first + BLOCK)).collect();
    let from_segments: Vec<(T, Vec<Beside>)> = blocks
        .par_iter()
        .map(|block| {
            let (edges, beside) = of_segments(sites, tree, faces, block.clone());
            (take(edges), beside)
        })
        .collect();
    let (mut all, beside): (Vec<T>, Vec<_>) = from_segments.into_iter().unzip();
    let beside = by_node(count, beside);
    let from_nodes: Vec<(T, Vec<Gap>)> = beside
        .into_par_iter()
        .map(|mut beside| {
            let (mut edges, mut gaps) = (Vec::new(), Vec::new());
            beside.sort_unstable_by_key(|beside| beside.node);
            for beside in beside.chunk_by_mut(|a, b| a.node == b.node) {
                wedge::edges(sites, beside, &mut edges, &mut gaps);
            }
            (take(edges), gaps)
        })
        .collect();
    let mut gaps = Vec::new();
    for (taken, open) in from_nodes {
        all.push(taken);
        gaps.extend(open);
    }
    let mut edges = Vec::new();
    wedge::close(sites, &mut gaps, &mut edges);
    all.push(take(edges));
    all.par_extend(gaps.par_chunks(BLOCK).map(|gaps| {
        let (mut tracer, mut edges) = (Tracer::new(sites, tree), Vec::new());
        for gap in gaps {
            tracer.node_gap(gap, &mut edges);
        }
        take(edges)
    }));
    all
}

/// The edges of a block's segments, and where nodes border on them.
fn of_segments(
    sites: &Sites,
    tree: &BoxTree,
    faces: &[Face],
    block: std::ops::Range<usize>,
) -> (Vec<Edge>, Vec<Beside>) {
    let first = block.start;
    let mut tracer = Tracer::new(sites, tree);
    let (mut edges, mut beside) = (Vec::new(), Vec::new());
    let mut borders: Vec<Option<Borders>> = vec![None; block.len()];
    for start in block.clone() {
        // Along the ring as far as that stays in the block, so that each knows what the one before it borders on.
        let mut segment = start;
        while block.contains(&segment) && borders[segment - first].is_none() {
            let [before, after] = sites.neighbours[segment];
            let mut own: Borders = [[Site::NONE; 2]; 2];
            for &face in faces {
                // Inside, the neighbour before comes first; outside, the one after.
                let ends = if face == Face::Inside { [before, after] } else { [after, before] };
                let near = [0, 1].map(|end| {
                    let neighbour = (ends[end] as usize).checked_sub(first);
                    let borders = neighbour.and_then(|i| *borders.get(i)?);
                    borders.map_or(Site::NONE, |borders| borders[face as usize][1 - end])
                });
                own[face as usize] = tracer.segment_cell(face, segment as u32, near, &mut edges, &mut beside);
            }
            borders[segment - first] = Some(own);
            segment = after as usize;
        }
    }
    (edges, beside)
}

/// What is told of nodes, by blocks of them.
fn by_node(count: usize, told: Vec<Vec<Beside>>) -> Vec<Vec<Beside>> {
    let mut blocks = vec![Vec::new(); count.div_ceil(BLOCK)];
    for beside in told.into_iter().flatten() {
        blocks[beside.node as usize / BLOCK].push(beside);
    }
    blocks
}
