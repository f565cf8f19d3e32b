//! What comes of all pieces of a board: each copy proofed where it lies, the time and the price of each, and the
//! order of the cutters.

use crate::job::{Ends, Job, Lie, Place};
use crate::proof::price::{BoardFeet, PriceItem, PricedPiece, price_by_feet};
use crate::proof::{Measured, Proof, Ratings, Severity, measure_unless, proof, rate_unless};
use crate::relief::field::ideal;
use crate::relief::time::Clock;
use crate::relief::{HeightField, Plan, plan};
use crate::shop::{Board, BoardEnd, Cutter, Prices};
use crate::units::Mm;
use glam::dvec3;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::sync::atomic::AtomicBool;

/// A copy, proofed where it lies.
#[derive(Clone, Debug)]
pub struct CopyProof {
    /// Its piece, by its place in the job's list.
    pub piece: usize,
    /// Which of the laid copies of that.
    pub copy: usize,
    /// Where it lies.
    pub lie: Lie,
    /// Its proof.
    pub proof: Proof,
}

/// What comes of one piece.
#[derive(Clone, Debug)]
pub struct PieceSums {
    /// What it is called.
    pub name: String,
    /// How many copies there are to be.
    pub wanted: usize,
    /// How many are laid.
    pub laid: usize,
    /// The finished frame as it is set: along the board, then across.
    pub size: [Mm; 2],
    /// Minutes at the machine for one, its share of the changes of cutters included; `None` where none is laid.
    pub minutes: Option<f64>,
    /// What one costs the shop; `None` where nobody can say.
    pub cost: Option<f64>,
    /// What one sells for; `None` where nobody can say.
    pub price: Option<f64>,
    /// What one more on the same board costs, which takes no more wood.
    pub one_more: Option<f64>,
}

/// One cutter in the machine, once.
#[derive(Clone, Debug, PartialEq)]
pub struct CutterStep {
    /// The cutter.
    pub cutter: Cutter,
    /// The pieces it cuts, by their places in the list.
    pub pieces: Vec<usize>,
}

/// What comes of all pieces of a board.
#[derive(Clone, Debug)]
pub struct Batch {
    /// Every laid copy, in the order of the list.
    pub copies: Vec<CopyProof>,
    /// Every piece, in the order of the list.
    pub pieces: Vec<PieceSums>,
    /// The cutters in the order they are put in, each once for the whole board where that can be.
    pub cutters: Vec<CutterStep>,
    /// Minutes at the machine, changes of cutters included.
    pub minutes: f64,
    /// What all of them cost the shop.
    pub cost: Option<f64>,
    /// What all of them sell for.
    pub price: Option<f64>,
    /// Board that is kept at both ends for the rollers, of each copy its share.
    pub allowance_each: Mm,
    /// The share of the board that does not become a finished piece, 0 to 1.
    pub waste: f64,
    /// The passes of all of them, cutter by cutter; their places are those of [`whole`](super::whole()).
    pub plan: Plan,
}

impl Batch {
    /// The verdict of each copy, in their order.
    pub fn severities(&self) -> Vec<Severity> {
        self.copies.iter().map(|copy| copy.proof.verdict.severity).collect()
    }

    /// The copy of a piece whose verdict is gravest, of several the one with the most findings as grave, and then the
    /// first; `None` where none is laid.
    pub fn gravest(&self, piece: usize) -> Option<&CopyProof> {
        let of_piece = self.copies.iter().filter(|copy| copy.piece == piece).rev();
        of_piece.max_by_key(|copy| {
            let severity = copy.proof.verdict.severity;
            let as_grave = copy.proof.findings.iter().filter(|finding| finding.severity() == severity);
            (severity, as_grave.count())
        })
    }

    /// The gravest verdict of any copy; sound where there is none.
    pub fn severity(&self) -> Severity {
        self.severities().into_iter().max().unwrap_or(Severity::Sound)
    }
}

/// A piece measured once, for all copies of it.
struct Worked {
    measured: Measured,
    /// By the turn.
    ratings: BTreeMap<i32, Ratings>,
    /// Passes at one place, by the turn, with that place.
    plans: BTreeMap<i32, (Lie, Plan)>,
}

/// Everything about the laid copies of a job; `None` once it is called off. Each piece is measured once, and rated and
/// planned once a turn.
pub fn batch(job: &Job, prices: &Prices, cancel: &AtomicBool) -> Option<Batch> {
    let lies = all_lies(job);
    let worked = worked_out(job, &lies, cancel)?;
    let all = one_by_one(&lies);
    let copies: Vec<CopyProof> = all
        .par_iter()
        .map(|&(piece, copy, lie)| {
            let Worked { measured, ratings, .. } = &worked[piece];
            let proof = proof(&job.copy(piece, lie), measured, &ratings[&lie.turn.degrees()]);
            CopyProof { piece, copy, lie, proof }
        })
        .collect();
    let cutters = cutter_steps(job, &lies);
    let (plan, owners) = merged(job, &all, &worked, &cutters);
    let clock = Clock::new(job, &plan);
    let mut seconds = vec![0.0; all.len()];
    for (owner, of_line) in owners.into_iter().zip(clock.line_seconds()) {
        seconds[owner] += of_line;
    }
    Some(sums(job, prices, copies, cutters, (&seconds, clock.total() / 60.0), plan))
}

/// The passes of the whole board: of every laid copy, cutter by cutter, their places those of
/// [`whole`](super::whole()); of one piece its own. `measured` is the piece's in hand. `None` once it is called off.
pub fn passes(job: &Job, measured: &Measured, cancel: &AtomicBool) -> Option<Plan> {
    if !job.is_batch() {
        return plan(job, measured, cancel);
    }
    let lies = all_lies(job);
    let worked = worked_out(job, &lies, cancel)?;
    Some(merged(job, &one_by_one(&lies), &worked, &cutter_steps(job, &lies)).0)
}

/// What cutters of no width would leave of the whole board, as [`ideal`]; `measured` is the piece's in hand. `None`
/// once it is called off.
pub fn ideal_surface(
    job: &Job,
    measured: &Measured,
    mut field: HeightField,
    cancel: &AtomicBool,
) -> Option<HeightField> {
    if !job.is_batch() {
        return ideal(job, measured, field, cancel);
    }
    for piece in 0..job.piece_count() {
        let measured = measure_unless(&job.piece(piece), cancel)?;
        for lie in job.lies(piece) {
            field = ideal(&job.copy(piece, lie), &measured, field, cancel)?;
        }
    }
    Some(field)
}

/// Where the copies of each piece lie.
fn all_lies(job: &Job) -> Vec<Vec<Lie>> {
    (0..job.piece_count()).map(|piece| job.lies(piece)).collect()
}

/// Every copy: its piece, its number, and where it lies.
fn one_by_one(lies: &[Vec<Lie>]) -> Vec<(usize, usize, Lie)> {
    let copies = |(piece, lies): (usize, &Vec<Lie>)| -> Vec<(usize, usize, Lie)> {
        lies.iter().enumerate().map(|(copy, &lie)| (piece, copy, lie)).collect()
    };
    lies.iter().enumerate().flat_map(copies).collect()
}

fn worked_out(job: &Job, lies: &[Vec<Lie>], cancel: &AtomicBool) -> Option<Vec<Worked>> {
    (0..lies.len()).into_par_iter().map(|piece| worked(job, piece, &lies[piece], cancel)).collect()
}

fn worked(job: &Job, piece: usize, lies: &[Lie], cancel: &AtomicBool) -> Option<Worked> {
    let measured = measure_unless(&job.piece(piece), cancel)?;
    let (mut ratings, mut plans) = (BTreeMap::new(), BTreeMap::new());
    for &lie in lies {
        let turn = lie.turn.degrees();
        let copy = job.copy(piece, lie);
        if let Entry::Vacant(free) = ratings.entry(turn) {
            free.insert(rate_unless(&copy, &measured, cancel)?);
        }
        if let Entry::Vacant(free) = plans.entry(turn) {
            free.insert((lie, plan(&copy, &measured, cancel)?));
        }
    }
    Some(Worked { measured, ratings, plans })
}

/// The cutters of all laid pieces in the order they are put in. A cutter that clears floors for others goes before
/// those. Where pieces want two cutters in opposite orders, each piece is cut in its own.
fn cutter_steps(job: &Job, lies: &[Vec<Lie>]) -> Vec<CutterStep> {
    let pieces: Vec<(usize, Job)> = (0..lies.len())
        .filter(|&piece| !lies[piece].is_empty())
        .map(|piece| (piece, job.piece(piece)))
        .collect();
    let mut steps: Vec<CutterStep> = Vec::new();
    // Which step has to come before which.
    let mut before: Vec<[usize; 2]> = Vec::new();
    for (piece, one) in &pieces {
        let mut clearing = None;
        for (index, used) in one.cutters().iter().enumerate() {
            let step = steps.iter().position(|step| step.cutter == *used.cutter).unwrap_or_else(|| {
                steps.push(CutterStep { cutter: used.cutter.clone(), pieces: Vec::new() });
                steps.len() - 1
            });
            steps[step].pieces.push(*piece);
            if index == 0 && one.clearing().cutter.is_some() {
                clearing = Some(step);
            } else if let Some(first) = clearing.filter(|&first| first != step) {
                before.push([first, step]);
            }
        }
    }
    let mut ordered = Vec::with_capacity(steps.len());
    let mut left: Vec<usize> = (0..steps.len()).collect();
    while !left.is_empty() {
        let is_next =
            |&step: &usize| !before.iter().any(|&[first, then]| then == step && left.contains(&first));
        let Some(next) = left.iter().position(is_next) else {
            let own = |(piece, one): &(usize, Job)| {
                let used = one.cutters();
                used.iter()
                    .map(|used| CutterStep { cutter: used.cutter.clone(), pieces: vec![*piece] })
                    .collect::<Vec<CutterStep>>()
            };
            return pieces.iter().flat_map(own).collect();
        };
        ordered.push(steps[left.remove(next)].clone());
    }
    ordered
}

/// The passes of every copy where it lies, and whose each line is.
fn merged(
    job: &Job,
    all: &[(usize, usize, Lie)],
    worked: &[Worked],
    steps: &[CutterStep],
) -> (Plan, Vec<usize>) {
    let mut merged =
        Plan { cutters: steps.iter().map(|step| step.cutter.clone()).collect(), lines: Vec::new() };
    let elements: Vec<usize> =
        (0..job.piece_count()).map(|piece| job.piece(piece).design().elements.len()).collect();
    let first: Vec<usize> = all
        .iter()
        .scan(0, |next, &(piece, ..)| {
            let first = *next;
            *next += elements[piece];
            Some(first)
        })
        .collect();
    let mut owners = Vec::new();
    for (number, step) in steps.iter().enumerate() {
        for (owner, &(piece, _, lie)) in all.iter().enumerate() {
            if !step.pieces.contains(&piece) {
                continue;
            }
            let (at, plan) = &worked[piece].plans[&lie.turn.degrees()];
            let by = dvec3((lie.x - at.x).get(), (lie.y - at.y).get(), 0.0);
            for line in plan.lines.iter().filter(|line| plan.cutters[line.cutter as usize] == step.cutter) {
                let mut line = line.clone();
                line.points.iter_mut().for_each(|point| *point += by);
                line.cutter = number as u32;
                line.place = line.place.element().map_or(Place::Ground, |k| Place::Element(first[owner] + k));
                merged.lines.push(line);
                owners.push(owner);
            }
        }
    }
    (merged, owners)
}

fn sums(
    job: &Job,
    prices: &Prices,
    copies: Vec<CopyProof>,
    cutters: Vec<CutterStep>,
    (seconds, minutes): (&[f64], f64),
    plan: Plan,
) -> Batch {
    let board = job.board();
    let sides = [board.length, board.width, board.thickness];
    let feet = BoardFeet::count(sides, prices.feet);
    let area = |copy: &CopyProof| copy.proof.length.get() * copy.proof.width.get();
    let whole: f64 = copies.iter().map(area).sum();
    let changing = (minutes - seconds.iter().sum::<f64>() / 60.0).max(0.0) / copies.len().max(1) as f64;
    let pieces: Vec<PieceSums> = (0..job.piece_count())
        .map(|piece| {
            let one = job.piece(piece);
            let mine: Vec<usize> = (0..copies.len()).filter(|&index| copies[index].piece == piece).collect();
            let laid = mine.len();
            let each = (laid > 0).then(|| {
                mine.iter().map(|&index| seconds[index]).sum::<f64>() / 60.0 / laid as f64 + changing
            });
            let size = (one.frame_on_board() * one.factor()).to_array().map(Mm::new);
            let priced = |feet: BoardFeet, minutes| {
                price_by_feet(prices, &PricedPiece::of(&one, sides, size, minutes), feet)
            };
            let share = size[0].get() * size[1].get() / if whole > 0.0 { whole } else { 1.0 };
            let price = priced(feet.share(share), each);
            let cost = |price: &crate::proof::price::Price| {
                price.line(PriceItem::Cost).and_then(|line| line.amount).filter(|_| laid > 0)
            };
            PieceSums {
                name: job.piece_name(piece).to_owned(),
                wanted: job.lot(piece).count,
                laid,
                size,
                minutes: each,
                cost: cost(&price),
                price: price.total.filter(|_| laid > 0),
                one_more: cost(&priced(feet.share(0.0), each.map(|each| each - changing))),
            }
        })
        .collect();
    let total = |of: fn(&PieceSums) -> Option<f64>| {
        let laid = pieces.iter().filter(|piece| piece.laid > 0);
        laid.map(|piece| of(piece).map(|each| each * piece.laid as f64)).sum::<Option<f64>>()
    };
    let allowance = match job.ends() {
        Ends::Held => job.machine().allowance(BoardEnd::Left) + job.machine().allowance(BoardEnd::Right),
        Ends::Free => Mm::ZERO,
    };
    Batch {
        cost: total(|piece| piece.cost),
        price: total(|piece| piece.price),
        allowance_each: allowance / copies.len().max(1) as f64,
        waste: waste(board, whole),
        copies,
        pieces,
        cutters,
        minutes,
        plan,
    }
}

/// The share of a board that does not become a finished piece, where those have so many square millimetres.
pub(super) fn waste(board: &Board, finished: f64) -> f64 {
    (1.0 - finished / (board.length.get() * board.width.get())).clamp(0.0, 1.0)
}
