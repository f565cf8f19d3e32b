//! Words of the window: documents.

#![expect(missing_docs, reason = "a sentence says what it says")]

use crate::words::count;
use std::fmt::Display;

pub const OPEN_A_FILE: &str = "Open a file";
pub const NO_PROGRAM_FOR_IT: &str = "no program on this computer opens such a file";
pub const SAVE_THE_JOB: &str = "Save the job";
pub const EXPORT_THE_OUTLINE: &str = "Export the outline";
pub const EXPORT_THE_COUPONS_OUTLINE: &str = "Export the coupon's outline";
pub const EXPORT_THE_COUPONS_KEY: &str = "Export the coupon's key";
pub const EXPORT_A_DRAWING_OF_THE_CARRIER: &str = "Export a drawing of the carrier";
pub const OPEN_A_LIST_OF_NAMES: &str = "Open a list of names";
pub const OPEN_A_PICTURE_TO_TRACE: &str = "Open a picture to trace";
pub const OPEN_A_PHOTOGRAPH_OF_THE_BOARD: &str = "Open a photograph of the board";
pub const OPEN_A_PICTURE_OF_THE_SHOPS_MARK: &str = "Open a picture of the shop's mark";
pub const OPEN_A_DRAWING_OR_A_JOB: &str = "Open a drawing or a job";
pub const OPEN_FILE: &str = "Open file";
pub const SAVE_FILE: &str = "Save file";
pub const PATH_OF_THE_FILE: &str = "Path of the file";
pub const NOT_NOW: &str = "Cancel";
pub const THAT_IS_A_FOLDER: &str = "That is a folder: click it in the list to look into it";
pub const FOLDER_ABOVE: &str = "Folder above";
pub const CHANGES_THAT_WERE_NOT_SAVED: &str = "Changes that were not saved";
pub const SPELK_STOPPED_BEFORE_THESE_JOBS_WERE_SAVED: &str =
    "Spelk stopped before these jobs were saved. It recovered them, up to a few seconds before it stopped";
pub const NEVER_SAVED: &str = "never saved";
pub const DROP_TO_OPEN: &str = "Drop to open";
pub const DROP_TO_OPEN_THEM_ONE_AFTER_ANOTHER: &str = "Drop to open them one after another";
pub const THE_OPEN_JOB_STAYS_OPEN: &str = "The open job stays open";
pub const SAVE_THE_JOB_BEFORE_CLOSING: &str = "Save the job before closing?";
pub const A_FILE_AS_A_DRAWING_OR_A: &str = "A file, as a drawing or a saved job";

/// A path at which nothing lies.
pub fn no_such_file(path: &dyn Display) -> String {
    format!("There is no file {path}")
}

/// A path in a folder that is not there.
pub fn no_such_folder(folder: &dyn Display) -> String {
    format!("There is no folder {folder}")
}

/// A file in the list that was opened before.
pub fn opened_before(name: &str) -> String {
    format!("{name} (opened before)")
}

/// A folder in the list.
pub fn folder(name: &str) -> String {
    format!("{name}/")
}

/// Changes are not kept against a crash.
pub fn changes_not_kept(error: &dyn Display) -> String {
    format!("Spelk cannot keep changes safe against a crash: {error}. Save the job")
}

/// A recovered job that cannot be read.
pub fn job_that(error: &dyn Display) -> String {
    format!("A job that {error}")
}

/// Where a recovered job was saved before.
pub fn saved_before_as(path: &str) -> String {
    format!("saved before as {path}")
}

/// More files than are listed.
pub fn and_more(files: usize) -> String {
    format!("and {}", count(files, "more", "more"))
}

/// A job has changes that closing would lose.
pub fn has_changes(name: &str) -> String {
    format!("{name} has changes since you opened or saved it")
}

/// What dropping a folder does.
pub fn drop_of_folder(name: &str) -> String {
    format!("{name} is a folder: every drawing in it, as a table with pictures")
}

/// What dropping a saved job does.
pub fn drop_of_job(name: &str) -> String {
    format!("{name}: a saved job, with its own board, wood and cutter")
}

/// What dropping a drawing does; it goes on the board of the open job, by its wood and cutter.
pub fn drop_of_drawing(name: &str, onto: Option<(&str, &str)>) -> String {
    match onto {
        None => format!("{name}: a drawing at its own size"),
        Some((wood, cutter)) => {
            format!("{name}: a drawing at its own size, on this board of {wood} with this {cutter}")
        }
    }
}
