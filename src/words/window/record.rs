//! Words of the window: the record of walls that held and broke.

#![expect(missing_docs, reason = "a sentence says what it says")]

use crate::proof::WallRow;
use crate::units::{LengthUnit, trimmed};
use crate::words::{count, fine, limits};

pub const WHAT_HELD: &str = "What held, what broke";
pub const NO_WALL_IS_NEAR_ITS_LIMIT: &str =
    "No wall of this job is under twice its limit, so there is nothing to learn from it";
pub const SAY_OF_EACH_WALL_WHETHER_IT_HELD: &str = "After the carve, click a wall's mark on the board: once where it held, twice where it broke. Or say it here. \
     Spelk learns from both how hard your cutter pushes";
pub const HELD: &str = "Held";
pub const BROKE: &str = "Broke";
pub const NOT_SAID_MARK: &str = "?";
pub const THE_REST_HELD: &str = "The rest held";
pub const EVERY_WALL_YOU_SAID_NOTHING_OF: &str = "Every wall you said nothing of held";
pub const ON_RECORD: &str = "On record";
pub const NO_WALL_IS_ON_RECORD_YET: &str = "No wall is on record yet";
pub const GIVEN_AND_HELD: &str = "What was given, and what held";
pub const CHANCE_GIVEN: &str = "chance given, %";
pub const SHARE_THAT_HELD: &str = "held, %";
pub const WHAT_COUNTS_AS_SOUND: &str = "What counts as sound";
pub const SOUND_FROM: &str = "Sound from";
pub const SOUND_FROM_A_CHANCE_OF: &str = "A wall is sound from a chance of";
pub const UNSOUND_UNDER: &str = "unsound under";
pub const UNSOUND_UNDER_A_CHANCE_OF: &str = "A wall is unsound under a chance of";
pub const PER_CENT: &str = " %";
pub const TOO_FEW_TO_SAY: &str =
    "Too few walls to say whether chances come true: ten of one chance are a start";

/// A wall in the list.
pub fn wall(number: usize, row: &WallRow, unit: LengthUnit) -> String {
    format!("{number}: {}, {}", fine(unit, row.width), limits::ends(&row.held, unit))
}

/// A wall's mark on the board, to whoever hovers over it or hears it.
pub fn mark(number: usize, row: &WallRow, held: Option<bool>, unit: LengthUnit) -> String {
    let wall = wall(number, row, unit);
    match held {
        None => format!("Wall {wall}: not said"),
        Some(true) => format!("Wall {wall}: held"),
        Some(false) => format!("Wall {wall}: broke"),
    }
}

/// The answer that a wall held, to a screen reader.
pub fn wall_held(number: usize) -> String {
    format!("Wall {number} held")
}

/// The answer that it broke.
pub fn wall_broke(number: usize) -> String {
    format!("Wall {number} broke")
}

/// The chance that a wall was given.
pub fn chance(chance: f64) -> String {
    format!("{} %", trimmed(100.0 * chance, 0))
}

/// How many walls there are, and how many were said to have held and to have broken.
pub fn counted(walls: usize, [held, broke]: [usize; 2]) -> String {
    format!("{} near the limit, {held} held, {broke} broke", count(walls, "wall", "walls"))
}

/// How many of those that were given a chance held.
pub fn held_of(held: u32, walls: u32) -> String {
    format!("{held} of {walls}")
}
