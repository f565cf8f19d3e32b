//! Does the design fit the board, how large may it be, and what board would take it.

use crate::units::Mm;
use serde::{Deserialize, Serialize};

/// How the design sits on the board.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// In a word.
    pub outcome: FitOutcome,
    /// The largest uniform factor the board takes; 0 where it takes none.
    pub largest_factor: f64,
    /// The board this size needs: length.
    pub length_needed: Mm,
    /// The board this size needs: width.
    pub width_needed: Mm,
}

/// In a word, how the design sits on the board.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FitOutcome {
    /// It fits at this size.
    Fits,
    /// It fits if it is made smaller.
    Shrink,
    /// No size fits: allowance and margins leave no room.
    NoRoom,
}
