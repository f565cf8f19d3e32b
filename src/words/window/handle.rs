//! Words of the window: handle.

#![expect(missing_docs, reason = "a sentence says what it says")]

pub const REMOVED_THE_MACHINE: &str = "Removed the machine";
pub const TOOK_IT_OFF_THE_RACK: &str = "Took it off the rack";
pub const THIS_BOARD_HAS_NO_CLEAR_PLACE_FOR: &str =
    "this board has no clear place for the design at any size";
pub const THE_JOB_CHANGED_IN_THE_MEANTIME_SO: &str =
    "The job changed in the meantime, so the elements stay as they are";
pub const NOTHING_CHANGED: &str = "Nothing changed";
pub const THE_LAST_CHANGE_IS_STILL_BEING_PROOFED: &str =
    "The last change is still being proofed; export again in a moment";
pub const THE_SIZES_ARE_STILL_BEING_WORKED_OUT: &str =
    "The sizes are still being worked out; save them again in a moment";
pub const THE_PASSES_COULD_NOT_BE_PLANNED: &str = "the passes could not be planned";
pub const REMOVED_THE_CUTTER: &str = "Removed the cutter";
pub const REMOVED_THE_WOOD: &str = "Removed the wood";
pub const KEPT_THE_PRICES: &str = "Kept the prices";
pub const OPENING_WAS_CANCELLED_THE_JOB_IS_UNCHANGED: &str = "Opening was cancelled. The job is unchanged";
pub const THE_CHANGE_WAS_CANCELLED_THE_ELEMENTS_ARE: &str =
    "The change was cancelled. The elements are unchanged";
pub const MENDING_WAS_CANCELLED_THE_JOB_IS_UNCHANGED: &str = "Mending was cancelled. The job is unchanged";
pub const CARVING_WAS_CANCELLED_THE_LAST_GOOD_SURFACE: &str =
    "Carving was cancelled. The last good surface stays";
pub const CANCELLED_THE_JOB_IS_UNCHANGED: &str = "Cancelled. The job is unchanged";
pub const THE_CHANGE_WAS_CANCELLED_THE_JOB_IS: &str = "The change was cancelled. The job is unchanged";
pub const CHANGED_ON_DISK_IT: &str = " changed on disk: it";
pub const OPEN_OUTLINE_IS_CARVED_AS_A_LINE: &str = "open outline is carved as a line";
pub const OPEN_OUTLINES_ARE_CARVED_AS_LINES: &str = "open outlines are carved as lines";
