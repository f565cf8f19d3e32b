//! The search: where to lay the copies, one after the other, and which order to try next.

use super::check::keep_apart;
use super::shape::{Shape, grid_for, least_used, shapes};
use super::{Arrangement, Impossible, Wanted};
use crate::geometry::Region;
use crate::geometry::nofit::no_fit;
use crate::job::{Job, Lie, MOST_COPIES};
use crate::units::Mm;
use glam::DVec2;
use rayon::prelude::*;
use std::sync::atomic::{AtomicBool, Ordering};

/// How much is tried: never how long, so that the same job is always arranged the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effort {
    /// The first order alone, and a few others.
    Quick,
    /// As is usual: seconds.
    Usual,
    /// Ten times as many.
    Long,
}

/// What the tries of [`Effort::Usual`] may cost in all: for each copy, the corners of every shape of its piece. Set so
/// that 40 copies of a shape of many corners take a few seconds.
const BUDGET: usize = 400_000;
/// The fewest and the most tries.
const TRIES: [usize; 2] = [8, 800];
/// Orders that are tried side by side: fixed, so that the number of threads decides nothing.
const SIDE_BY_SIDE: usize = 8;
/// Slants that are tried first: how many millimetres across the board count as one along it.
const SLANTS: [f64; 4] = [1e-4, 0.02, 0.2, 0.7];

/// An order to lay the copies in.
#[derive(Clone, Debug)]
struct Order {
    /// The pieces of the copies, first to last.
    pieces: Vec<usize>,
    /// For each copy which of its shapes is taken, counted round; any if `None`.
    turns: Vec<Option<usize>>,
    /// How many millimetres across count as one along the board.
    slant: f64,
}

/// What came of an order.
#[derive(Clone, Debug)]
struct Laid {
    /// Which shape, and where, in the order they were laid.
    spots: Vec<(usize, usize, DVec2)>,
    /// The farthest that any reaches along the board.
    reach: f64,
    /// The sum of how far each reaches.
    sum: f64,
}

impl Laid {
    /// More copies first, then less of the board, then all of them farther to the left.
    fn is_better(&self, than: &Laid) -> bool {
        let key = |laid: &Laid| (std::cmp::Reverse(laid.spots.len()), laid.reach, laid.sum);
        key(self) < key(than)
    }
}

/// All that an order is tried with.
struct Table {
    shapes: Vec<Vec<Shape>>,
    /// Where each shape may be on the bare board.
    spots: Vec<Vec<Region>>,
    /// By the number of the laid shape, then of the one to be laid.
    no_fit: Vec<Vec<Region>>,
    /// The number of the first shape of each piece.
    first: Vec<usize>,
}

/// Where the copies of a job's pieces go. The same job, and the same effort, always give the same.
///
/// # Errors
///
/// Where a piece does not go on the bare board, or it is called off.
pub fn arrange(
    job: &Job,
    wanted: Wanted,
    effort: Effort,
    cancel: &AtomicBool,
) -> Result<Arrangement, Impossible> {
    arrange_telling(job, wanted, effort, cancel, &|_, _| {})
}

/// The same, which tells `tried` now and then how many orders have been tried, and of how many.
///
/// # Errors
///
/// As [`arrange`].
pub fn arrange_telling(
    job: &Job,
    wanted: Wanted,
    effort: Effort,
    cancel: &AtomicBool,
    tried: &dyn Fn(usize, usize),
) -> Result<Arrangement, Impossible> {
    let gap = job.gap();
    let grid = grid_for(job, job.board().length);
    let shapes = shapes(job, gap, grid)?;
    let spots: Vec<Vec<Region>> =
        shapes.par_iter().map(|of_piece| of_piece.iter().map(|shape| shape.spots(job)).collect()).collect();
    let all: Vec<&Shape> = shapes.iter().flatten().collect();
    let no_fit = all
        .par_iter()
        .map(|laid| {
            let next = |shape: &&Shape| {
                if cancel.load(Ordering::Relaxed) {
                    Region::empty(grid)
                } else {
                    no_fit(&laid.kept, &shape.kept)
                }
            };
            all.iter().map(next).collect::<Vec<Region>>()
        })
        .collect();
    let first = shapes
        .iter()
        .scan(0, |next, of_piece| {
            let first = *next;
            *next += of_piece.len();
            Some(first)
        })
        .collect();
    let table = Table { shapes, spots, no_fit, first };
    let start = table.starting_order(job, wanted);
    let best = table.search(&start, effort, cancel, tried).ok_or(Impossible::CalledOff)?;
    Ok(table.arrangement(job, wanted, best))
}

impl Table {
    /// The larger pieces first, or each by turns where there are to be as many as go on.
    fn starting_order(&self, job: &Job, wanted: Wanted) -> Order {
        let count = self.shapes.len();
        let pieces: Vec<usize> = match wanted {
            Wanted::AsMany => (0..MOST_COPIES).map(|k| k % count).collect(),
            Wanted::Counts => {
                let mut pieces: Vec<usize> = (0..count).collect();
                let area = |piece: usize| self.shapes[piece][0].kept.area();
                pieces.sort_by(|&a, &b| area(b).total_cmp(&area(a)).then(a.cmp(&b)));
                pieces.iter().flat_map(|&piece| std::iter::repeat_n(piece, job.lot(piece).count)).collect()
            }
        };
        Order { turns: vec![None; pieces.len()], pieces, slant: SLANTS[0] }
    }

    fn search(
        &self,
        start: &Order,
        effort: Effort,
        cancel: &AtomicBool,
        tried: &dyn Fn(usize, usize),
    ) -> Option<(Laid, usize)> {
        let lay = |order: &Order| self.lay(order, cancel).map(|laid| (order.clone(), laid));
        let first: Vec<Order> = SLANTS.iter().map(|&slant| Order { slant, ..start.clone() }).collect();
        let laid: Vec<Option<(Order, Laid)>> = first.par_iter().map(lay).collect();
        let mut best = best_of(laid)?;
        let copies = best.1.spots.len().max(1);
        let corners: usize = self.shapes.iter().flatten().map(|shape| shape.kept.segment_count()).sum();
        let of_one = corners.div_ceil(self.shapes.len());
        let usual = (BUDGET / (copies * of_one).max(1)).clamp(TRIES[0], TRIES[1]);
        let tries = match effort {
            Effort::Quick => TRIES[0],
            Effort::Usual => usual,
            Effort::Long => usual * 10,
        };
        let mut done = first.len();
        while done < tries {
            tried(done, tries);
            let orders: Vec<Order> = (0..SIDE_BY_SIDE)
                .map(|k| best.0.varied(&mut Dice((done + k) as u64), copies, &self.shapes))
                .collect();
            let laid: Vec<Option<(Order, Laid)>> = orders.par_iter().map(lay).collect();
            let next = best_of(laid)?;
            // One as good takes its place: the search drifts on.
            if !best.1.is_better(&next.1) {
                best = next;
            }
            done += SIDE_BY_SIDE;
        }
        Some((best.1, done))
    }

    /// Lays copies in an order, each where it reaches the least far; `None` where it is called off.
    fn lay(&self, order: &Order, cancel: &AtomicBool) -> Option<Laid> {
        let mut free: Vec<Vec<Region>> = self.spots.clone();
        // How many of the laid copies are cut out of each of those.
        let mut cut: Vec<Vec<usize>> = self.shapes.iter().map(|shapes| vec![0; shapes.len()]).collect();
        let mut is_full = vec![false; self.shapes.len()];
        let mut laid: Vec<(usize, usize, DVec2)> = Vec::new();
        let (mut reach, mut sum) = (0.0_f64, 0.0);
        for (&piece, turn) in order.pieces.iter().zip(&order.turns) {
            if cancel.load(Ordering::Relaxed) {
                return None;
            }
            if is_full[piece] {
                if is_full.iter().all(|&full| full) {
                    break;
                }
                continue;
            }
            let shapes = &self.shapes[piece];
            for shape in 0..shapes.len() {
                let number = self.first[piece] + shape;
                let new = &laid[cut[piece][shape]..];
                if !new.is_empty() {
                    let regions: Vec<Region> = new
                        .iter()
                        .map(|&(other, turn, at)| self.no_fit[self.first[other] + turn][number].moved(at))
                        .collect();
                    free[piece][shape] = free[piece][shape].minus_all(&regions);
                    cut[piece][shape] = laid.len();
                }
            }
            let best_at = |shape: usize| {
                let nodes = free[piece][shape].rings().flat_map(crate::geometry::Ring::points);
                let key = |at: DVec2| at.x + shapes[shape].frame.x + order.slant * at.y;
                let least = nodes.map(|at| (key(at), at)).min_by(|a, b| {
                    a.0.total_cmp(&b.0).then(a.1.y.total_cmp(&b.1.y)).then(a.1.x.total_cmp(&b.1.x))
                });
                least.map(|(key, at)| (key, shape, at))
            };
            let asked = turn.map(|turn| turn % shapes.len()).and_then(best_at);
            let found = asked.or_else(|| {
                (0..shapes.len()).filter_map(best_at).min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)))
            });
            let Some((_, shape, at)) = found else {
                is_full[piece] = true;
                continue;
            };
            laid.push((piece, shape, at));
            reach = reach.max(at.x + shapes[shape].frame.x);
            sum += at.x + shapes[shape].frame.x;
        }
        Some(Laid { spots: laid, reach, sum })
    }

    fn arrangement(&self, job: &Job, wanted: Wanted, (laid, tries): (Laid, usize)) -> Arrangement {
        let mut spots: Vec<(&Shape, DVec2)> = laid
            .spots
            .iter()
            .map(|&(piece, shape, at)| (&self.shapes[piece][shape], self.shapes[piece][shape].held(at)))
            .collect();
        // From the left end to the right, as they are carved.
        spots.sort_by(|a, b| a.1.x.total_cmp(&b.1.x).then(a.1.y.total_cmp(&b.1.y)));
        let spots = keep_apart(spots, job.gap());
        let mut lies: Vec<Vec<Lie>> = vec![Vec::new(); self.shapes.len()];
        let mut reach = Mm::ZERO;
        for (shape, at) in spots {
            let [x, y] = at.to_array().map(Mm::new);
            lies[shape.piece].push(Lie { x, y, turn: shape.turn });
            let one = job.piece(shape.piece);
            let right = crate::job::Surround::of(&one).right;
            reach = reach.max(x + Mm::new(shape.frame.x) + right);
        }
        let left_over = match wanted {
            Wanted::AsMany => vec![0; lies.len()],
            Wanted::Counts => {
                lies.iter().enumerate().map(|(piece, laid)| job.lot(piece).count - laid.len()).collect()
            }
        };
        Arrangement { lies, left_over, used: reach.max(least_used(job)), tries }
    }
}

fn best_of(laid: Vec<Option<(Order, Laid)>>) -> Option<(Order, Laid)> {
    let mut best: Option<(Order, Laid)> = None;
    for one in laid {
        let one = one?;
        if best.as_ref().is_none_or(|best| one.1.is_better(&best.1)) {
            best = Some(one);
        }
    }
    best
}

impl Order {
    /// A neighbour of this order: two copies change places, or one is laid earlier, or turned; now and then another
    /// slant. `copies` is how many of the order came to be laid.
    fn varied(&self, dice: &mut Dice, copies: usize, shapes: &[Vec<Shape>]) -> Order {
        let mut order = self.clone();
        let among = (copies + 1).min(order.pieces.len());
        for _ in 0..=dice.below(3) {
            let (one, other) = (dice.below(among), dice.below(among));
            match dice.below(8) {
                0..3 => {
                    order.pieces.swap(one, other);
                    order.turns.swap(one, other);
                }
                3 => {
                    let (piece, turn) = (order.pieces.remove(one), order.turns.remove(one));
                    order.pieces.insert(other, piece);
                    order.turns.insert(other, turn);
                }
                4..7 => {
                    let turns = shapes[order.pieces[one]].len();
                    let turn = dice.below(turns + 1);
                    order.turns[one] = (turn < turns).then_some(turn);
                }
                _ => order.slant = dice.below(1000) as f64 / 1000.0,
            }
        }
        order
    }
}

/// Numbers that look thrown and are always the same (Steele, Lea and Flood, *Fast splittable pseudorandom number
/// generators*, OOPSLA 2014).
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) % most.max(1) as u64) as usize
    }
}
