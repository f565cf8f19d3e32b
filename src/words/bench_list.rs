//! What the bench list says of a board: each check, and what to do about it.

use super::{capitalised, fine};
use crate::proof::stock::{StockReason, StockRow};
use crate::shop::Check;
use crate::units::{LengthUnit, Mm, trimmed};

/// One line of the bench list worked out: a sentence without a full stop.
pub fn row(row: &StockRow, unit: LengthUnit) -> String {
    match row.reason {
        StockReason::NotChecked => format!("Not checked: {}", row.check.label()),
        StockReason::Within if row.depth_error > Mm::ZERO => {
            format!("{}, which does not show", depth(row, unit))
        }
        StockReason::Within if row.sideways > Mm::ZERO => {
            format!("{}, which does not show", aside(row, unit))
        }
        StockReason::Within => format!("{}: nothing to correct", capitalised(row.check.label())),
        StockReason::TooDeep { tolerance } => {
            format!("{}; sanding hides only {}", depth(row, unit), fine(unit, tolerance))
        }
        StockReason::TooFarAside { tolerance } => {
            format!("{}; up to {} does not show", aside(row, unit), fine(unit, tolerance))
        }
        StockReason::MayCrack { stress, strength } => format!(
            "{}; pressed by the rollers the board may crack, with {} across the grain where it bears {}",
            depth(row, unit),
            unit.show_stress(stress),
            unit.show_stress(strength)
        ),
        StockReason::Rough => "A rough face has no one thickness to set the depth from".to_owned(),
        StockReason::Moves { moisture, by } => moves(moisture, by, unit),
    }
}

/// What to do about it: a sentence without a full stop; empty where there is nothing to do.
pub fn advice(row: &StockRow) -> &'static str {
    match (row.reason, row.check) {
        (StockReason::NotChecked, check) => check.how(),
        (StockReason::Within, _) => "",
        (_, Check::Cup) => "Rip and reglue it, plane it flat, or put it in a carrier",
        (_, Check::Bow | Check::Twist) => "Cut it shorter, plane it flat, or put it in a carrier",
        (_, Check::Crook | Check::UnequalWidth) => "Joint one edge and rip the other parallel to it",
        (_, Check::OffSquare) => "Joint the reference edge square",
        (_, Check::Planed) => "Plane both faces",
        (_, Check::Moisture) => "Keep it in the shop until it is as dry as the room",
    }
}

/// What a line that is not as it should be does to the carving, as part of the verdict's sentence.
pub fn fault(row: &StockRow, unit: LengthUnit) -> String {
    match row.reason {
        StockReason::Rough => "a rough face has no one thickness to set the depth from".to_owned(),
        StockReason::Moves { moisture, by } => {
            let percent = trimmed(moisture, 1);
            match by {
                Some(by) if by < Mm::ZERO => format!("wood at {percent} % moisture is too wet to carve"),
                Some(_) => format!("wood at {percent} % moisture is too dry to carve"),
                None => format!("wood at {percent} % moisture is too wet or too dry to carve"),
            }
        }
        StockReason::MayCrack { .. } => {
            format!("pressed by the rollers, {} may crack the board", cause(row, unit))
        }
        StockReason::TooFarAside { .. } => {
            let by = fine(unit, row.sideways);
            format!("{} puts the carving up to {by} off its place", cause(row, unit))
        }
        StockReason::NotChecked | StockReason::Within | StockReason::TooDeep { .. } => {
            let by = fine(unit, row.depth_error);
            format!("{} makes the depth wrong by up to {by}", cause(row, unit))
        }
    }
}

/// `the 1/16 in cup`.
fn cause(row: &StockRow, unit: LengthUnit) -> String {
    // As it was read off the gauge: a mark before it would read badly here.
    let length =
        row.length.map(|length| format!("{} {}", unit.number(length), unit.symbol())).unwrap_or_default();
    match row.check {
        Check::UnequalWidth => format!("the {length} difference in width"),
        Check::OffSquare => format!("the reference edge, {length} out of square,"),
        check => format!("the {length} {}", check.label()),
    }
}

fn depth(row: &StockRow, unit: LengthUnit) -> String {
    let (cause, depth) = (capitalised(&cause(row, unit)), fine(unit, row.depth_error));
    if row.width_error > Mm::ZERO {
        let width = fine(unit, row.width_error);
        format!(
            "{cause} makes the depth wrong by up to {depth}, and V grooves up to {width} too wide or too narrow"
        )
    } else if matches!(row.check, Check::Cup | Check::Bow | Check::Twist) {
        format!(
            "{cause} makes the depth wrong by up to {depth}: where the board lies low the carving comes out shallow by that much, where it stands high too deep"
        )
    } else {
        format!("{cause} makes the depth wrong by up to {depth}")
    }
}

fn aside(row: &StockRow, unit: LengthUnit) -> String {
    let (cause, by) = (capitalised(&cause(row, unit)), fine(unit, row.sideways));
    format!("{cause} puts the carving up to {by} off its place")
}

fn moves(moisture: f64, by: Option<Mm>, unit: LengthUnit) -> String {
    let percent = trimmed(moisture, 1);
    match by {
        Some(by) if by < Mm::ZERO => format!(
            "Wood at {percent} % moisture is too wet to carve: indoors this board shrinks by {} across",
            fine(unit, -by)
        ),
        Some(by) => format!(
            "Wood at {percent} % moisture is too dry to carve: indoors this board swells by {} across",
            fine(unit, by)
        ),
        None => format!("Wood at {percent} % moisture is too wet or too dry to carve"),
    }
}
