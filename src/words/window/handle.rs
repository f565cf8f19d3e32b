//! What the window says after a command.

use super::SPELK;
use crate::advice::Offer;
use crate::job::Done;
use crate::units::{LengthUnit, Mm};
use crate::words::edits::{elements_covered, elements_done, not_followed};
use crate::words::errors::disk;
use crate::words::{advice, count, percent_down};
use std::fmt::Display;
use std::io;

/// A machine was taken out of the shop's own list.
pub const REMOVED_THE_MACHINE: &str = "Removed the machine";
/// A cutter was taken out of the shop's own list.
pub const REMOVED_THE_CUTTER: &str = "Removed the cutter";
/// A wood was taken out of the shop's own list.
pub const REMOVED_THE_WOOD: &str = "Removed the wood";
/// A board was taken off the rack.
pub const TOOK_IT_OFF_THE_RACK: &str = "Took it off the rack";
/// The shop's prices were kept.
pub const KEPT_THE_PRICES: &str = "Kept the prices";
/// No size of the design has a clear place.
pub const NO_CLEAR_PLACE_AT_ANY_SIZE: &str = "This board has no clear place for the design at any size";
/// An edit of the elements came too late.
pub const JOB_CHANGED_IN_THE_MEANTIME: &str =
    "The job changed in the meantime, so the elements stay as they are";
/// An edit of the elements left all as it was.
pub const NOTHING_CHANGED: &str = "Nothing changed";
/// A sheet was asked for too early.
pub const STILL_PROOFING: &str = "The last change is still being proofed; export again in a moment";
/// A picture of the carved wood was copied.
pub const COPIED_THE_PICTURE: &str = "The picture is on the clipboard";
/// A surface has no passes.
pub const NO_PASSES: &str = "the passes could not be planned";
/// Opening was cancelled.
pub const OPENING_CANCELLED: &str = "Opening was cancelled. The job is unchanged";
/// An edit of the elements was cancelled.
pub const ELEMENTS_CANCELLED: &str = "The change was cancelled. The elements are unchanged";
/// Mending was cancelled.
pub const MENDING_CANCELLED: &str = "Mending was cancelled. The job is unchanged";
/// Carving was cancelled.
pub const CARVING_CANCELLED: &str = "Carving was cancelled. The last good surface stays";
/// Some other work was cancelled.
pub const CANCELLED: &str = "Cancelled. The job is unchanged";
/// Proofing was cancelled.
pub const CHANGE_CANCELLED: &str = "The change was cancelled. The job is unchanged";

/// A cutter, a wood or a machine was kept.
pub fn kept(name: &str) -> String {
    format!("Kept {name}")
}

/// A board was kept on the rack.
pub fn kept_on_the_rack(name: &str) -> String {
    format!("Kept {name} on the rack")
}

/// A board of the rack was taken for the job.
pub fn is_the_jobs_board(name: &str) -> String {
    format!("{name} is the job's board now")
}

/// A place on the board, by the lower left corner of the design; `pitch` is how fine it was looked for.
pub fn found_place([along, across]: [Mm; 2], pitch: Mm, is_moved: bool, unit: LengthUnit) -> String {
    let (along, across, pitch) = (unit.show(along), unit.show(across), unit.show(pitch));
    if is_moved {
        format!(
            "Moved the design to a clear place: {along} from the left end and {across} from the reference \
             edge, found to within {pitch}"
        )
    } else {
        format!(
            "The design is in a clear place already: {along} from the left end and {across} from the \
             reference edge, found to within {pitch}"
        )
    }
}

/// No place is clear at this size; there is one up to another.
pub fn clear_place_up_to(factor: f64) -> String {
    format!(
        "No place on the board is clear at this size. Up to {} % of the drawing there is one",
        percent_down(factor)
    )
}

/// What an edit of the elements did; `unfollowed` is the drawing's file, where it was followed until now.
pub fn edited(done: &Done, covered: &[String], unfollowed: Option<&str>) -> String {
    let mut sentences = vec![elements_done(done)];
    if !covered.is_empty() {
        sentences.push(elements_covered(covered));
    }
    sentences.extend(unfollowed.map(not_followed));
    sentences.join(". ")
}

/// A mended outline was applied; `mended` says what was done.
pub fn mended(mended: &str, unfollowed: Option<&str>) -> String {
    match unfollowed {
        None => format!("{mended} Undo takes it back"),
        Some(file) => format!("{mended} Undo takes it back. {}", not_followed(file)),
    }
}

/// Walls of a carve are on record.
pub fn walls_on_record(walls: usize) -> String {
    format!("{} on record; the cutter's limits go by them from now on", count(walls, "wall", "walls"))
}

/// An offer was applied.
pub fn offer_applied(offer: &Offer, unit: LengthUnit) -> String {
    format!("Done: {}. Undo takes it back", advice::changes(offer, unit))
}

/// The shop's limit of a cutter is from its own coupon.
pub fn limit_from_coupon(cutter: &str) -> String {
    format!("The limit of {cutter} now comes from your own test piece")
}

/// A drawing that changed on disk cannot be read again.
pub fn changed_but_unreadable(file: &str, error: &dyn Display) -> String {
    format!("{file} changed on disk but {error}. The job keeps the drawing it has")
}

/// A drawing cannot be read in another way.
pub fn not_reread(file: &str, error: &dyn Display) -> String {
    format!("{file} {error}. The job keeps the drawing it has")
}

/// A drawing changed on disk and was read again.
pub fn reread(file: &str) -> String {
    format!("Read {file} again, since it changed on disk. Undo brings back the drawing before")
}

/// The size of a drawing was settled; `size` is width by height.
pub fn drawing_size(size: &str) -> String {
    format!("The drawing is {size} as drawn")
}

/// Open outlines became grooves of this width.
pub fn carved_as_lines(outlines: usize, width: Mm, unit: LengthUnit) -> String {
    let width = unit.show(width);
    if outlines == 1 {
        format!("Made a groove {width} wide of 1 open outline. Undo takes it back")
    } else {
        format!("Made grooves {width} wide of {outlines} open outlines. Undo takes it back")
    }
}

/// A file was opened; `lesson` is what a sample teaches.
pub fn opened(name: &str, elements: usize, notices: usize, lesson: Option<&str>) -> String {
    let elements = count(elements, "element", "elements");
    let opened = match notices {
        0 => format!("Opened {name}: {elements}"),
        notices => format!("Opened {name}: {elements}; its card has {}", count(notices, "notice", "notices")),
    };
    match lesson {
        None => opened,
        Some(lesson) => format!("{opened}. {lesson}"),
    }
}

/// A file could not be opened or used.
pub fn not_opened(file: &str, error: &dyn Display) -> String {
    format!("{file} {error}")
}

/// A dropped file could not be read.
pub fn unreadable(file: &str, error: &dyn Display) -> String {
    format!("{file} cannot be read: {error}")
}

/// Words cannot be set in letters; the words themselves come before it.
pub fn cannot_be_set(error: &dyn Display) -> String {
    format!("cannot be set: {error}")
}

/// A file is open already.
pub fn is_open_already(path: &str) -> String {
    format!("{path} is open already")
}

/// A job was saved.
pub fn saved(path: &str) -> String {
    format!("Saved {path}")
}

/// A file was written.
pub fn wrote(path: &str) -> String {
    format!("Wrote {path}")
}

/// The desktop was asked to open a file.
pub fn showing(path: &str) -> String {
    format!("{path} opens in the program that this computer has for it")
}

/// The desktop opens no such file.
pub fn not_shown(path: &str, error: &io::Error) -> String {
    format!("{path} cannot be opened from here: {}", disk(error))
}

/// Something about a file that was written.
pub fn of_file(path: &str, what: &str) -> String {
    format!("{path}: {what}")
}

/// A file was not written, for a reason that has nothing to do with the disk.
pub fn not_written(path: &str, reason: &str) -> String {
    format!("{path} was not written: {reason}")
}

/// A file cannot be written.
pub fn cannot_be_written(path: &str, error: &dyn Display) -> String {
    format!("{path} cannot be written: {error}")
}

/// Jobs are not kept against a crash.
pub fn not_kept(folder: &str, error: &dyn Display) -> String {
    format!("Spelk cannot keep changes safe against a crash: {folder} cannot be used: {error}")
}

/// A recovered job cannot be removed.
pub fn kept_not_removed(error: &dyn Display) -> String {
    format!("A recovered job cannot be removed: {error}")
}

/// A recovered job cannot be read.
pub fn kept_not_read(path: &str, error: &dyn Display) -> String {
    format!("The job recovered in {path} {error}")
}

/// The window's title: the job, with a star where it has changes that are not saved.
pub fn title(name: &str, is_changed: bool) -> String {
    let star = if is_changed { " *" } else { "" };
    format!("{name}{star} - {SPELK}")
}
