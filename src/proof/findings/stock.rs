//! The board as it was measured at the bench.

use super::AtSize;
use crate::proof::FLOOR_LEFT;
use crate::proof::finding::{Facts, Finding, Severity};
use crate::proof::fit::{falls_short, floor_needs};
use crate::shop::Check;
use crate::units::Mm;

/// A finding for each line of the bench list that is not as it should be.
pub(super) fn warp(at_size: &AtSize) -> Vec<Finding> {
    let rows = at_size.stock.rows.iter().filter(|row| row.severity > Severity::Sound);
    rows.map(|row| at_size.of_the_board(format!("warp-{}", row.check.id()), Facts::Warp(row.clone())))
        .collect()
}

/// One finding for all that was not measured.
pub(super) fn not_checked(at_size: &AtSize) -> Vec<Finding> {
    let unmeasured: Vec<Check> = at_size.job.board().stock.unmeasured().collect();
    if unmeasured.is_empty() {
        return Vec::new();
    }
    vec![at_size.of_the_board("not_checked", Facts::NotChecked(unmeasured))]
}

/// Too little is left because of warp: a board that is too thin anyway is a finding of its own.
pub(super) fn thickness_left(at_size: &AtSize) -> Vec<Finding> {
    let (job, left) = (at_size.job, at_size.stock.thickness_left);
    let needed = floor_needs(job);
    let is_enough_as_set = needed > Mm::ZERO && !falls_short(job.board().thickness, needed);
    if at_size.measured.carves() && is_enough_as_set && falls_short(left, FLOOR_LEFT) {
        vec![at_size.of_the_board("thickness_left-stock", Facts::ThicknessLeft { left })]
    } else {
        Vec::new()
    }
}
