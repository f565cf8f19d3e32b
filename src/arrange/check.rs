//! Whether copies keep apart, by their true outlines.

use super::Arrangement;
use super::shape::{Shape, grid_for, least_used};
use crate::geometry::{Rect, Region};
use crate::job::{Job, Lie, Surround};
use crate::units::Mm;
use glam::{DVec2, dvec2};
use std::collections::{BTreeMap, BTreeSet};

/// How much less than the gap two pieces may be apart, millimetres: a few hairs of the search, far below what any
/// machine repeats.
const SLACK: f64 = 0.01;

/// The outline of a shape, grown so that two of them meet where the pieces are nearer than the gap.
fn grown(shape: &Shape, gap: Mm) -> Region {
    shape.outline.grown((gap.get() - SLACK) * 0.5)
}

fn are_too_near(one: (&Region, DVec2), other: (&Region, DVec2)) -> bool {
    let at = |(region, at): (&Region, DVec2)| {
        region.bounds().map(|bounds| Rect::new(bounds.min + at, bounds.max + at))
    };
    let (Some(mine), Some(yours)) = (at(one), at(other)) else { return false };
    mine.meets(yours) && !one.0.moved(one.1).intersection(&other.0.moved(other.1)).is_empty()
}

/// What keeps apart of some copies; of two that do not, the first stays. The search leaves none such: this is what
/// makes sure of it. `O(pairs whose boxes meet)`.
pub(super) fn keep_apart(spots: Vec<(&Shape, DVec2)>, gap: Mm) -> Vec<(&Shape, DVec2)> {
    let mut regions: BTreeMap<(usize, i32), Region> = BTreeMap::new();
    let mut kept: Vec<(&Shape, DVec2)> = Vec::new();
    for (shape, at) in spots {
        let key = |shape: &Shape| (shape.piece, shape.turn.degrees());
        regions.entry(key(shape)).or_insert_with(|| grown(shape, gap));
        let region = |shape: &Shape| &regions[&key(shape)];
        let is_free = !kept
            .iter()
            .rev()
            .any(|&(other, there)| are_too_near((region(shape), at), (region(other), there)));
        debug_assert!(is_free, "the search laid two pieces nearer than their gap");
        if is_free {
            kept.push((shape, at));
        }
    }
    kept
}

/// A laid copy as it lies.
#[derive(Clone, Debug)]
pub struct LaidOutline {
    /// Its piece, by its place in the list.
    pub piece: usize,
    /// Which of the laid copies of that.
    pub copy: usize,
    /// The outline of all that is carved, on the board.
    pub rings: Vec<Vec<DVec2>>,
    /// Whether another copy is nearer than the gap.
    pub is_too_near: bool,
}

/// Where a laid copy lies.
struct LaidCopy {
    piece: usize,
    copy: usize,
    /// Degrees.
    turn: i32,
    /// Its reference point.
    at: DVec2,
}

/// The laid copies of a job, and the shape of each piece at each turn that they have.
struct LaidCopies {
    copies: Vec<LaidCopy>,
    shapes: BTreeMap<(usize, i32), Shape>,
}

impl LaidCopies {
    fn of(job: &Job) -> LaidCopies {
        let grid = grid_for(job, job.board().length);
        let (mut copies, mut shapes) = (Vec::new(), BTreeMap::new());
        for piece in 0..job.piece_count() {
            for (copy, lie) in job.lies(piece).into_iter().enumerate() {
                let turn = lie.turn.degrees();
                shapes.entry((piece, turn)).or_insert_with(|| {
                    let at_origin = Lie { x: Mm::ZERO, y: Mm::ZERO, ..lie };
                    Shape::of(&job.copy(piece, at_origin), piece, job.gap(), grid)
                });
                copies.push(LaidCopy { piece, copy, turn, at: dvec2(lie.x.get(), lie.y.get()) });
            }
        }
        LaidCopies { copies, shapes }
    }

    /// `O(n^2)` in copies, and an overlay for each pair whose boxes meet.
    fn too_near(&self, gap: Mm) -> Vec<[(usize, usize); 2]> {
        let regions: BTreeMap<(usize, i32), Region> =
            self.shapes.iter().map(|(key, shape)| (*key, grown(shape, gap))).collect();
        let placed = |laid: &LaidCopy| (&regions[&(laid.piece, laid.turn)], laid.at);
        let mut pairs = Vec::new();
        for (index, one) in self.copies.iter().enumerate() {
            for other in &self.copies[index + 1..] {
                if are_too_near(placed(one), placed(other)) {
                    pairs.push([(one.piece, one.copy), (other.piece, other.copy)]);
                }
            }
        }
        pairs
    }
}

/// The arrangement that a job has as it lies, with nothing looked for. `O(edges)` for each piece and turn.
pub fn as_it_lies(job: &Job) -> Arrangement {
    let laid = LaidCopies::of(job);
    let right = |piece: usize| Surround::of(&job.piece(piece)).right;
    let reach = |copy: &LaidCopy| {
        Mm::new(copy.at.x + laid.shapes[&(copy.piece, copy.turn)].frame.x) + right(copy.piece)
    };
    let lies: Vec<Vec<Lie>> = (0..job.piece_count()).map(|piece| job.lies(piece)).collect();
    let left_over = lies.iter().enumerate().map(|(piece, lies)| job.lot(piece).count - lies.len()).collect();
    let used = laid.copies.iter().map(reach).fold(least_used(job), Mm::max);
    Arrangement { lies, left_over, used, tries: 0 }
}

/// Every laid copy of a job as it lies. As costly as [`too_near`].
pub fn laid_outlines(job: &Job) -> Vec<LaidOutline> {
    let laid = LaidCopies::of(job);
    let near: BTreeSet<(usize, usize)> = laid.too_near(job.gap()).into_iter().flatten().collect();
    let outline = |&LaidCopy { piece, copy, turn, at }: &LaidCopy| {
        let rings = laid.shapes[&(piece, turn)].outline.rings();
        let rings = rings.map(|ring| ring.points().map(|point| point + at).collect());
        LaidOutline { piece, copy, rings: rings.collect(), is_too_near: near.contains(&(piece, copy)) }
    };
    laid.copies.iter().map(outline).collect()
}

/// Pairs of laid copies that are nearer than the gap, each as its piece and its number among the laid copies of it.
/// `O(n^2)` in copies, and an overlay for each pair whose boxes meet.
pub fn too_near(job: &Job) -> Vec<[(usize, usize); 2]> {
    LaidCopies::of(job).too_near(job.gap())
}
