//! Words of the window: several pieces on the board.

#![expect(missing_docs, reason = "a sentence says what it says")]

use crate::units::{LengthUnit, Mm};
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
