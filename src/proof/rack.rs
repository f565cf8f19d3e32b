//! Which board of the rack takes this design?
//!
//! Every board is proofed as if it were the job's own. Its widths were measured once; they are rated
//! again only for another wood, thickness or turn, and what is thin is looked up again only for another
//! size.

use super::finding::DesignFinding;
use super::findings::in_design;
use super::fit::{board_needed, draw_for};
use super::place::{find_at_size, find_largest};
use super::{Finding, Measured, Proof, Ratings, Verdict, proof_with, rate};
use crate::job::{Edit, Job, Placement, Rejected, Size};
use crate::shop::{RackBoard, Shop, Wood};
use crate::units::Mm;
use std::collections::BTreeMap;
use std::rc::Rc;
use thiserror::Error;

/// Boards with blemishes are searched at this pitch: fine enough to choose by.
const RACK_PITCH: Mm = Mm::new(4.0);

/// A board of the rack, proofed.
#[derive(Clone, Debug)]
pub struct RackRow {
    /// Its place in the list that was asked about.
    pub index: usize,
    /// Its name.
    pub name: String,
    /// The job as it would be carved from this board, placed clear of its blemishes where that can be.
    pub job: Job,
    /// The largest factor the board takes, clear of its blemishes; 0 where it takes none.
    pub largest_factor: f64,
    /// Whether it takes the size that was asked for.
    pub takes_it: bool,
    /// The size proofed.
    pub factor: f64,
    /// What is left of the board's length once the board this size needs is cut off; 0 where nothing is.
    pub offcut: Mm,
    /// The share of the board that does not become the finished piece, 0 to 1.
    pub waste: f64,
    /// The board's price; `None` where nobody knows.
    pub cost: Option<f64>,
    /// Worst first.
    pub findings: Vec<Finding>,
    /// The answer in short.
    pub verdict: Verdict,
    /// The id of the board's wood.
    pub wood: String,
    /// Whether the board's wood is unknown here, so that the job's wood stands in.
    pub wood_unknown: bool,
}

/// A board of the rack that no job can be carved from.
#[derive(Debug, Error)]
pub struct UnusableBoard {
    /// Its name.
    pub board: String,
    /// What is wrong with it.
    pub why: Rejected,
}

/// Every board of the rack for a job, best first: sound before chancy before unsound, then those that
/// take the size asked for, then least waste, then the cheapest, then by name. A thousand boards take
/// 0.02 s at one size and 0.3 s each at its own largest, or 0.8 s where each has knots, in a dev build.
///
/// # Errors
///
/// Where a board is one that no job can be carved from: the first, by its name.
pub fn rack(
    job: &Job,
    measured: &Measured,
    boards: &[RackBoard],
    shop: &Shop,
) -> Result<Vec<RackRow>, UnusableBoard> {
    let mut ratings: BTreeMap<(String, u64, i32), Rc<Ratings>> = BTreeMap::new();
    let mut thin: BTreeMap<(String, u64, i32, u64), Rc<Vec<DesignFinding>>> = BTreeMap::new();
    let mut rows: Vec<RackRow> = boards
        .iter()
        .enumerate()
        .map(|(index, entry)| {
            let wood = shop.woods.iter().find(|wood| wood.id == entry.wood);
            let unusable = |why| UnusableBoard { board: entry.name.clone(), why };
            let (mut placed, largest) = on_board(job, entry, wood).map_err(unusable)?;
            // A size that fits is fixed, so that the same look-up serves boards it is the same on.
            let size = placed.factor();
            if largest > 0.0 && placed.size() == Size::Fit {
                placed = placed.with([Edit::Size(Size::Factor(size))]).unwrap_or(placed);
            }
            let wood_key = placed.wood().id.clone();
            let key = (wood_key, placed.board().thickness.get().to_bits(), placed.turn().degrees());
            let rated =
                ratings.entry(key.clone()).or_insert_with(|| Rc::new(rate(&placed, measured))).clone();
            let found = thin
                .entry((key.0, key.1, key.2, size.to_bits()))
                .or_insert_with(|| Rc::new(in_design(&placed, measured, &rated, size)))
                .clone();
            let proof = proof_with(&placed, measured, &rated, found.to_vec());
            Ok(row(index, entry, placed, proof, largest, wood.is_none()))
        })
        .collect::<Result<_, _>>()?;
    rows.sort_by(|a, b| {
        let price = |row: &RackRow| row.cost.unwrap_or(f64::INFINITY);
        a.verdict
            .severity
            .cmp(&b.verdict.severity)
            .then(b.takes_it.cmp(&a.takes_it))
            .then(a.waste.total_cmp(&b.waste))
            .then(price(a).total_cmp(&price(b)))
            .then_with(|| a.name.cmp(&b.name))
            .then(a.index.cmp(&b.index))
    });
    Ok(rows)
}

/// The job on one board, and the largest factor the board takes.
fn on_board(job: &Job, entry: &RackBoard, wood: Option<&Wood>) -> Result<(Job, f64), Rejected> {
    // A place typed for one board means nothing on another.
    let at = if matches!(job.at(), Placement::At { .. }) { Placement::Middle } else { job.at() };
    let wood = wood.unwrap_or(job.wood()).clone();
    let board = Edit::Board(Box::new(entry.board.clone()));
    let mut placed = job.with([board, Edit::Wood(Box::new(wood)), Edit::Place(at)])?;
    let fits = job.size() == Size::Fit;
    if entry.board.blemishes.is_empty() {
        let largest = placed.largest_factor();
        let turned = placed.with([Edit::Turn(placed.turn().next())])?;
        let if_turned = turned.largest_factor();
        let takes = |largest: f64| largest > 0.0 && job.factor() <= largest * (1.0 + 1e-9);
        let turn_it = if fits { if_turned > largest } else { !takes(largest) && takes(if_turned) };
        if turn_it {
            // A length or width is meant as the design lies now.
            let size = if fits { Size::Fit } else { Size::Factor(job.factor()) };
            placed = turned.with([Edit::Size(size)]).unwrap_or(turned);
        }
        return Ok((placed, largest.max(if_turned)));
    }
    let best = find_largest(&placed, RACK_PITCH);
    let largest = best.map_or(0.0, |found| found.factor);
    let found = if fits { best } else { find_at_size(&placed, RACK_PITCH) };
    // A size beyond all that is proofed leaves the design where it is.
    let moved = found.and_then(|found| placed.with([found.edit()]).ok());
    Ok((moved.unwrap_or(placed), largest))
}

fn row(
    index: usize,
    entry: &RackBoard,
    job: Job,
    proof: Proof,
    largest_factor: f64,
    wood_unknown: bool,
) -> RackRow {
    let needed = board_needed(&job, proof.factor);
    let board = job.board();
    let takes_it = proof.factor <= largest_factor * (1.0 + 1e-9) && draw_for(&job)[0] > Mm::ZERO;
    let finished = proof.length.get() * proof.width.get();
    let whole = board.length.get() * board.width.get();
    RackRow {
        index,
        name: entry.name.clone(),
        largest_factor,
        takes_it,
        factor: proof.factor,
        offcut: (board.length - needed.length).max(Mm::ZERO),
        waste: (1.0 - finished / whole).clamp(0.0, 1.0),
        cost: entry.price,
        findings: proof.findings,
        verdict: proof.verdict,
        wood: entry.wood.clone(),
        wood_unknown,
        job,
    }
}
