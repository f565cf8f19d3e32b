//! Words of the window: several pieces on the board.

#![expect(missing_docs, reason = "a sentence says what it says")]

use crate::units::{LengthUnit, Mm, trimmed};
use crate::words::count;

pub const PIECES: &str = "Pieces";
pub const WHAT_LIES_ON_THE_BOARD: &str =
    "What lies on the board. Click a piece there to take it in hand; all settings are then about that one.";
pub const IN_HAND: &str = "In hand";
pub const TAKE_IN_HAND: &str = "Take in hand";
pub const COPIES: &str = "Copies";
pub const NO_TURNS: &str = "Not turned";
pub const HALF_TURNS: &str = "Half turns";
pub const QUARTER_TURNS: &str = "Quarter turns";
pub const HOW_FAR_IT_MAY_BE_TURNED: &str =
    "How far Arrange may turn it. A half turn keeps the grain; a quarter turn takes walls across it";
pub const GAP: &str = "Gap";
pub const GAP_BETWEEN_PIECES: &str = "Gap between pieces";
pub const USUAL_GAP: &str = "Usual gap";
pub const ARRANGING: &str = "Looking for a place for every piece…";
pub const TOO_NEAR: &str = "Some pieces are nearer than the gap; they are outlined in dashes.";
pub const ARRANGING_CANCELLED: &str = "Arranging was stopped; the pieces lie as they did";

pub const ALL_OF_THEM: &str = "All of them";
pub const WORKING_OUT_ALL: &str = "Working out time, price and findings of all…";
pub const A_FILE_FOR_EACH: &str = "Exports write a file for each piece";
pub const A_FILE_FOR_EACH_TIP: &str = "Outlines, pictures, proofs, findings and surfaces go to a file for each piece, called after it, instead of one file with all";
pub const QUESTIONS: &str = "Which board?";
pub const NAMES: &str = "Names and numbers";
pub const NAMES_TIP: &str = "One a line, or a table with the name in its first column: the piece in hand becomes a piece for each, with that cut into it";
pub const LIST_OF_NAMES: &str = "List of names";
pub const NOTHING_LAID: &str = "no piece lies on the board; arrange them first";
pub const MAKING_PIECES: &str = "Cutting the names…";

/// What one of a piece takes, and whether one more goes on and what that costs; amounts are written already.
pub fn each(minutes: Option<f64>, price: Option<&str>, one_more: Option<&str>) -> String {
    let each = match (minutes, price) {
        (Some(minutes), Some(price)) => format!("Each {} min, {price}", trimmed(minutes, 1)),
        (Some(minutes), None) => format!("Each {} min", trimmed(minutes, 1)),
        _ => "None is laid".to_owned(),
    };
    match one_more {
        Some(cost) => format!("{each}; one more goes on and costs {cost}"),
        None => format!("{each}; no place for one more"),
    }
}

/// How many arrangements have been tried, of how many.
pub fn tried(done: usize, of: usize) -> String {
    format!("{done} of {of} orders tried")
}

/// A list of names has become pieces.
pub fn named(names: usize) -> String {
    format!("Made {}; arrange them next", count(names, "piece", "pieces"))
}

/// Several files, by how many there are and the first of them.
pub fn files(number: usize, first: &str) -> String {
    match number {
        1 => first.to_owned(),
        number => format!("{first} and {}", count(number - 1, "more file", "more files")),
    }
}

/// A button: another open job becomes a piece.
pub fn add(job: &str) -> String {
    format!("Add {job}")
}

/// A button of a row, told from those of other rows.
pub fn of_piece(what: &str, piece: &str) -> String {
    format!("{what}: {piece}")
}

/// How many of the copies lie on the board.
pub fn laid(laid: usize, of: usize) -> String {
    format!("{laid} of {of} laid")
}

/// All pieces have been laid.
pub fn arranged(pieces: usize, left_over: usize, used: Mm, unit: LengthUnit) -> String {
    let said = format!("Laid {} on {} of the board", count(pieces, "piece", "pieces"), unit.show(used));
    match left_over {
        0 => said,
        left => format!("{said}; there is no place for {}", count(left, "more", "more")),
    }
}
