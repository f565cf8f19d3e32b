//! Words of the window: work.

#![expect(missing_docs, reason = "a sentence says what it says")]

use super::SPELK;
use std::fmt::Display;

pub const READING_THE_OUTLINE: &str = "Reading the outline";
pub const MEASURING_WALLS_AND_GROOVES: &str = "Measuring walls and grooves";
pub const COMPARING_WITH_THE_LIMITS: &str = "Comparing with the limits";
pub const PAINTING_THE_BOARD: &str = "Painting the board";
pub const TRYING_WHAT_WOULD_HELP: &str = "Trying out what would help";
pub const SAVING: &str = "Saving";
pub const MENDING: &str = "Mending";
pub const CHANGING_THE_ELEMENTS: &str = "Changing the elements";
pub const SETTING_THE_WORDS: &str = "Setting the words";
pub const LOOKING_FOR_A_PLACE: &str = "Looking for a place";
pub const ARRANGING_THE_PIECES: &str = "Arranging the pieces";
pub const LOOKING_FOR_A_BOARD: &str = "Looking for a board that takes every piece";
pub const WORKING_OUT_ALL_PIECES: &str = "Working out all pieces";
pub const PROOFING_THE_BOARDS_OF_THE_RACK: &str = "Proofing the boards of the rack";
pub const OPENING_THE_PHOTOGRAPH: &str = "Opening the photograph";
pub const COMPARING_THE_VERSIONS: &str = "Comparing the versions";
pub const WORKING_OUT_THE_SIZES: &str = "Working out the sizes";
pub const CARVING_THE_QUICK_SURFACE: &str = "Carving the quick surface";
pub const WORKING_OUT_THE_PASSES: &str = "Working out the passes";
pub const CARVING_WHAT_THE_CUTTERS_LEAVE: &str = "Carving what the cutters leave";
pub const DRAWING_THE_SURFACE: &str = "Drawing the surface";

/// No thread can be had for a piece of work.
pub fn no_thread(error: &dyn Display) -> String {
    format!("The work could not start: {error}")
}

/// A piece of work ended through a fault of the program.
pub fn broke_off(about: &str) -> String {
    format!("{about}: the work stopped because of a fault in {SPELK}. The job is unchanged")
}

/// The picture of the shop's mark is gone or cannot be read.
pub fn mark_unreadable(path: &str, error: &dyn Display) -> String {
    format!("the mark {path} cannot be read: {error}; choose another")
}

/// The picture of the shop's mark cannot be used; the error starts with a verb.
pub fn mark_unusable(path: &str, error: &dyn Display) -> String {
    format!("the mark {path} {error}")
}
