//! Pieces of the board that a cut through it runs all round.

use crate::job::Job;
use crate::proof::Measured;
use crate::proof::finding::{DesignFinding, Facts};
use crate::units::Mm;

/// A finding for each piece that nothing but bridges holds.
pub(super) fn loose(job: &Job, measured: &Measured, factor: f64) -> Vec<DesignFinding> {
    let bridged = job.clearing().bridge.length > Mm::ZERO;
    let finding = |(index, loose): (usize, &crate::proof::measure::Loose)| DesignFinding {
        id: format!("loose_piece-{}", index + 1),
        at: loose.at,
        facts: Facts::LoosePiece { across: Mm::new(loose.across * factor), bridged },
    };
    measured.loose().iter().enumerate().map(finding).collect()
}
