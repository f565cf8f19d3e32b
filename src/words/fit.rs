//! How a design sits on its board, and what can be done about it.

use super::percent_down;
use crate::job::Side;
use crate::proof::{BoardNeeded, FLOOR_LEFT, Fit, FitOutcome, Offer};
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

/// What can be done: a sentence without a full stop.
pub fn offer(offer: &Offer, unit: LengthUnit) -> String {
    match offer {
        Offer::CarveAsDrawn => "Carve it as drawn: this board takes it".to_owned(),
        Offer::Grow { factor } => {
            format!("Grow it: up to {} % of the drawing fits", percent_down(*factor))
        }
        Offer::Turn { factor, .. } => {
            format!("Turn it by a quarter: up to {} % of the drawing then fits", percent_down(*factor))
        }
        Offer::Shrink { factor } => format!("Shrink it to {} % of the drawing", percent_down(*factor)),
        Offer::SkipAllowance { factor, step } => format!(
            "Skip the roller allowance: up to {} % of the drawing then fits, with lines about {} high near the ends",
            percent_down(*factor),
            unit.show_fine(*step)
        ),
        Offer::TakeBoard(needed) => take_board(needed, unit),
        Offer::Carrier => {
            "Put the board in a carrier: it is smaller than the machine takes by itself".to_owned()
        }
    }
}

/// The board to take instead, and the nearest sizes it is sold in: a sentence without a full stop.
fn take_board(needed: &BoardNeeded, unit: LengthUnit) -> String {
    let board = format!(
        "{} x {} x {}",
        unit.show(needed.length),
        unit.show(needed.width),
        unit.show(needed.thickness)
    );
    let dressed = match &needed.dressed {
        Some(size) => format!(
            "the nearest dressed size is {} ({} x {})",
            size.name,
            unit.show(size.thickness),
            unit.show(size.width.unwrap_or_default())
        ),
        None => "no dressed size is as large: glue one up".to_owned(),
    };
    match &needed.surfaced {
        None => format!("Take another board: at least {board}; {dressed}"),
        Some(size) => format!(
            "Take another board: at least {board}; {dressed}; in hardwood {} ({} when surfaced)",
            size.name,
            unit.show(size.thickness)
        ),
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
