//! How a design sits on its board.

use super::percent_down;
use crate::job::Side;
use crate::proof::{FLOOR_LEFT, Fit, FitOutcome};
use crate::units::{LengthUnit, Mm};

/// Whether it fits, with the number that decides it: a sentence without a full stop.
pub fn outcome(fit: &Fit, unit: LengthUnit) -> String {
    let largest = percent_down(fit.largest_factor);
    let free = match fit.decided_by {
        Side::Length => format!("its length decides, with {} free", unit.show(fit.room[0])),
        Side::Width => format!("its width decides, with {} free", unit.show(fit.room[1])),
    };
    match fit.outcome {
        FitOutcome::Fits => format!("This size fits; the largest this board takes is {largest} %: {free}"),
        FitOutcome::Misplaced => format!(
            "This size does not fit where it is put; the largest this board takes is {largest} %: {free}"
        ),
        FitOutcome::FitsTurned => format!(
            "This size fits if turned by a quarter, up to {} %; as it lies the largest is {largest} %: {free}",
            percent_down(fit.turned_factor)
        ),
        FitOutcome::Shrink => {
            format!("This size does not fit; the largest this board takes is {largest} %: {free}")
        }
        FitOutcome::NoRoom => "Allowance and margins leave no room on this board".to_owned(),
    }
}

/// How large to draw for a board, along the grain and across, that is so thick: a sentence without a full
/// stop.
pub fn draw_for([along, across]: [Mm; 2], thickness: Mm, unit: LengthUnit) -> String {
    if along == Mm::ZERO || across == Mm::ZERO {
        return "This board has no room between allowance and margins: nothing can be drawn for it"
            .to_owned();
    }
    let (along, across, depth) = (unit.show(along), unit.show(across), thickness - FLOOR_LEFT);
    if depth > Mm::ZERO {
        format!(
            "For this board draw up to {along} along the grain and {across} across, and no deeper than {}",
            unit.show(depth)
        )
    } else {
        format!("For this board draw up to {along} along the grain and {across} across")
    }
}
