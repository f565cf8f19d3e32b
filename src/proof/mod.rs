//! From a job to its proof: everything Spelk works out.
//!
//! Three steps, so that the costly one is done once a design: [`measure()`] the widths, [`rate()`] each of
//! them against the limit of this cutter, depth and wood, then ask for the [`proof`] at a size, which
//! takes well under a frame.
//!
//! A width grows with the size of the design; the limit it is held against does not. So each wall has a least
//! size from which it holds, where its line crosses the limit:
//!
#![doc = include_str!("../../docs/figures/sizes.svg")]
//!
//! Everything here is facts and numbers; [`crate::words`] says them.

pub mod beam;
pub mod carrier;
pub mod ends;
mod finding;
mod findings;
pub mod fit;
pub mod ground;
mod invisible;
pub mod lesson;
pub mod limit;
mod lookup;
mod measure;
pub mod mend;
pub mod overhang;
pub mod place;
pub mod price;
pub mod rack;
mod rate;
pub mod record;
pub mod sizes;
pub mod stock;
mod thinnest;
mod uncut;
mod verdict;
pub mod wall;
mod walls;

pub use ends::{Feeding, SnipeStep};
pub use finding::{
    CutterRefusal, Facts, FedEnd, Finding, FindingKind, Gentler, MachineBound, OwnCutter, Severity, Site,
    StripBreach, ThinPlace,
};
pub use fit::{BoardNeeded, BoardSide, Fit, FitOutcome};
pub use limit::{Held, HeldWall, LimitSource, Limits, PlaceLimits, SHALLOW_DEPTH, WallEnds, WallRun};
pub use measure::{Level, Measured, measure, measure_unless};
pub use rate::{LevelRatings, RatedMap, Ratings, rate, rate_unless};
pub use stock::Stock;
pub use thinnest::{LONGEST_PRACTICAL, Obstacle, Thinnest};
pub use uncut::{Uncut, UncutSpot, uncut};
pub use verdict::{Larger, Reason, SoundSize, Verdict};
pub use walls::{WallRow, chance_of_all, walls};

use crate::job::Job;
use crate::units::Mm;
use finding::DesignFinding;
use findings::AtSize;
use glam::DAffine2;
use std::sync::Arc;

/// Wood that should be left under the deepest cut (1/8 in; common practice, no source).
pub const FLOOR_LEFT: Mm = Mm::from_inches(0.125);

/// What Spelk works out from a job at its size.
#[derive(Clone, Debug)]
pub struct Proof {
    /// How many times as large as drawn.
    pub factor: f64,
    /// Finished length of the design's frame, along the board.
    pub length: Mm,
    /// Finished width of the design's frame, across the board.
    pub width: Mm,
    /// Design space to board space: board millimetres, origin at the corner where the left end meets
    /// the reference (lower) edge, x along the board, y up.
    pub board_from_design: DAffine2,
    /// Whether it fits the board, and what would.
    pub fit: Fit,
    /// The thinnest walls and narrowest grooves to be trusted, in every carved place.
    pub limits: Arc<PlaceLimits>,
    /// The thinnest wall and the narrowest groove there are.
    pub thinnest: Thinnest,
    /// How the board is fed, and what that does to its ends.
    pub feeding: Feeding,
    /// The board as it was measured at the bench.
    pub stock: Stock,
    /// Worst first.
    pub findings: Vec<Finding>,
    /// The answer in short.
    pub verdict: Verdict,
}

/// The proof of a job at its size, from a design measured under the job's treatments and rated for the
/// job. `O(log n + hits)` in measured pieces; the first with its ends free, or with a blemish under the
/// design, takes `O(n)` in edges, once.
pub fn proof(job: &Job, measured: &Measured, ratings: &Ratings) -> Proof {
    let thin = findings::in_design(job, measured, ratings, job.factor());
    proof_with(job, measured, ratings, thin)
}

/// All three steps at once, for a caller that asks once.
pub fn proof_of(job: &Job) -> Proof {
    let measured = measure(job);
    proof(job, &measured, &rate(job, &measured))
}

/// The proof of a job of which it is known what there is to find in its design.
fn proof_with(job: &Job, measured: &Measured, ratings: &Ratings, in_design: Vec<DesignFinding>) -> Proof {
    let factor = job.factor();
    let frame = job.frame_on_board() * factor;
    let board_from_design = fit::board_from_design(job, factor);
    let fit = fit::fit(job, factor);
    let feeding = Feeding::of(job, measured, factor);
    let stock = Stock::of(job, measured, factor);
    let thinnest = Thinnest::of(job, measured, ratings, factor);
    let at_size =
        AtSize { job, measured, factor, board_from_design, fit: &fit, feeding: &feeding, stock: &stock };
    let findings = findings::findings(&at_size, in_design);
    let verdict = Verdict::of(&at_size, &thinnest, &findings);
    Proof {
        factor,
        length: Mm::new(frame.x),
        width: Mm::new(frame.y),
        board_from_design,
        fit,
        limits: ratings.limits.clone(),
        thinnest,
        feeding,
        stock,
        findings,
        verdict,
    }
}
