//! From a job to its proof: everything Spelk works out.
//!
//! Three steps, so that the costly one is done once a design: [`measure`] the widths, [`rate`] each of
//! them against the limit of this cutter, depth and wood, then ask for the [`proof`] at a size, which
//! takes well under a frame.

mod finding;
mod fit;
mod measure;
mod rate;
mod verdict;

pub use finding::{Finding, FindingKind, Severity};
pub use fit::{Fit, FitOutcome};
pub use measure::{Measured, measure};
pub use rate::{Limits, Ratings, rate};
pub use verdict::Verdict;

use crate::job::Job;
use crate::units::Mm;
use glam::{DAffine2, DVec2};

/// What Spelk works out from a job at its size.
#[derive(Clone, Debug)]
pub struct Proof {
    /// How many times as large as drawn.
    pub factor: f64,
    /// Finished length of the design's frame, along the board.
    pub length: Mm,
    /// Finished width of the design's frame, across the board.
    pub width: Mm,
    /// Whether it fits the board, and what would.
    pub fit: Fit,
    /// The thinnest walls to be trusted.
    pub limits: Limits,
    /// The least wall at this size, tips apart.
    pub thinnest_wall: Option<Mm>,
    /// The least groove at this size, tips apart.
    pub thinnest_groove: Option<Mm>,
    /// The least factor at which no wall or groove is under its limit; `None` where nothing limits it.
    pub least_sound_factor: Option<f64>,
    /// Stretches of the board, along its length, that are carved while an end is past its roller.
    pub snipe_zones: Vec<[Mm; 2]>,
    /// The share of the design's area that lies in them, 0 to 1.
    pub sniped_share: f64,
    /// Worst first.
    pub findings: Vec<Finding>,
    /// The answer in plain words.
    pub verdict: Verdict,
    /// Design space to board space: board millimetres, origin at the corner where the leading (left)
    /// end meets the reference (lower) edge, x along the board, y up.
    pub board_from_design: DAffine2,
}

/// The proof of a job at its size. `O(log n + hits)` in measured pieces.
pub fn proof(job: &Job, measured: &Measured, ratings: &Ratings) -> Proof {
    let _ = (job, measured, ratings, DVec2::ZERO);
    unimplemented!("written next")
}
