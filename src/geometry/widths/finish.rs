//! From pieces as they are found to the pieces of one side: sorted, joined at named vertices, in millimetres.

use super::axis::{Draft, Found, Side};
use super::merge::Merged;
use super::piece::{AxisPoint, Piece};
use super::taper::mark_tapers;
use crate::geometry::voronoi::MERGED_STEPS;
use glam::DVec2;
use rayon::prelude::*;

/// A stretch of axis no longer than this, in steps, and as narrow, is no wall: two millionths of a
/// design across. Outlines that were cut along each other and put together again leave such places.
const DUST: f64 = 1024.0;

/// Which drafts belong to a connected part of the axis larger than [`DUST`].
fn beyond_dust(drafts: &[Draft], merged: &Merged) -> Vec<bool> {
    let mut parts = Merged { parent: merged.parent.clone() };
    for i in 0..drafts.len() as u32 {
        parts.unite(2 * i, 2 * i + 1);
    }
    let mut extents = vec![0.0; parts.parent.len()];
    for (i, draft) in (0_u32..).zip(drafts) {
        extents[parts.find(2 * i) as usize] += draft.piece.length() + draft.piece.narrow.width;
    }
    (0..drafts.len() as u32).map(|i| extents[parts.find(2 * i) as usize] > DUST).collect()
}

/// The drafts by number: narrowest first; then by place, so that the order of rings plays no part. What is equally narrow,
/// as in a pattern most is, is compared by what is copied from the drafts, for these are too large to look up each time.
fn in_order(drafts: &[Draft]) -> Vec<(u64, u32)> {
    // Widths are not negative, so their bits are in order too.
    let ranks = (0..).zip(drafts).map(|(i, draft)| (draft.piece.narrow.width.to_bits(), i));
    let mut order: Vec<(u64, u32)> = ranks.collect();
    order.par_sort_unstable();
    order.par_chunk_by_mut(|a, b| a.0 == b.0).filter(|alike| alike.len() > 1).for_each(|alike| {
        let keyed = |&(_, i): &(u64, u32)| {
            let Piece { narrow, wide, .. } = drafts[i as usize].piece;
            ([wide.width, narrow.at.x, narrow.at.y, wide.at.x, wide.at.y], i)
        };
        let mut keys: Vec<([f64; 5], u32)> = alike.iter().map(keyed).collect();
        keys.par_sort_unstable_by(|(a, i), (b, j)| {
            let differ = a.iter().zip(b).map(|(a, b)| a.total_cmp(b)).find(|order| order.is_ne());
            differ.unwrap_or(std::cmp::Ordering::Equal).then(i.cmp(j))
        });
        for (at, (_, i)) in alike.iter_mut().zip(keys) {
            at.1 = i;
        }
    });
    order
}

/// Puts one side together: sorts, names vertices from 0, marks tapers, and turns steps into millimetres.
/// Drafts are most of what measuring holds, so no more than two copies of them exist at a time.
pub(super) fn finish(found: Found, origin: DVec2, step: f64) -> Side {
    let Found { drafts, mut branches, .. } = found;
    let mut sorted: Vec<Draft> = in_order(&drafts).par_iter().map(|&(_, i)| drafts[i as usize]).collect();
    drop(drafts);
    let drafts = &mut sorted;
    // The ends of draft `i` are `2 i`, the narrow one, and `2 i + 1`.
    let ends = |(i, draft): (usize, &Draft)| {
        let i = i as u32;
        [(2 * i, draft.piece.narrow), (2 * i + 1, draft.piece.wide)]
            .into_iter()
            .filter(|(_, point)| point.vertex != AxisPoint::BETWEEN)
            .map(|(end, point)| (end, point.at))
    };
    let ends: Vec<(u32, DVec2)> = drafts.par_iter().enumerate().flat_map_iter(ends).collect();
    let mut merged = Merged::of(&ends, 2 * drafts.len() as u32, MERGED_STEPS);
    drop(ends);
    let kept = beyond_dust(drafts, &merged);
    let mut names = vec![u32::MAX; merged.parent.len()];
    // Pieces that meet end in one point to the last bit: what is strung together from them by its ends holds.
    let mut places: Vec<DVec2> = Vec::new();
    for (i, draft) in (0_u32..).zip(drafts.iter_mut()).filter(|&(i, _)| kept[i as usize]) {
        for (end, point) in [(2 * i, &mut draft.piece.narrow), (2 * i + 1, &mut draft.piece.wide)] {
            let name = &mut names[merged.find(end) as usize];
            if *name == u32::MAX {
                *name = places.len() as u32;
                places.push(point.at);
            }
            point.vertex = *name;
            point.at = places[*name as usize];
        }
    }
    let count = places.len();
    drop((names, merged, places));
    let mut keep = kept.into_iter();
    drafts.retain(|_| keep.next().unwrap_or(true));
    let mut tips = Vec::new();
    mark_tapers(drafts, count, &mut tips);
    let to_mm = |at: DVec2| origin + at * step;
    branches.par_iter_mut().flatten().for_each(|branch| *branch = branch.scaled(to_mm, step));
    for tip in &mut tips {
        tip.at = to_mm(tip.at);
    }
    sorted.par_iter_mut().for_each(|draft| draft.piece = in_millimetres(draft.piece, origin, step));
    // One after the other, for so they stay where they are.
    let mut pieces: Vec<Piece> = sorted.into_iter().map(|draft| draft.piece).collect();
    pieces.shrink_to_fit();
    Side { pieces, tips, branches }
}

/// A piece measured in lattice steps, in millimetres.
pub(super) fn in_millimetres(mut piece: Piece, origin: DVec2, step: f64) -> Piece {
    let to_mm = |at: DVec2| origin + at * step;
    for end in [&mut piece.narrow, &mut piece.wide] {
        end.at = to_mm(end.at);
        end.width *= step;
    }
    piece.feet = piece.feet.map(to_mm);
    piece.curve = piece.curve.scaled(step);
    piece
}
