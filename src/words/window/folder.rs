//! Words of the window: a folder of drawings.

#![expect(missing_docs, reason = "a sentence says what it says")]

use crate::words::count;

pub const OPEN_A_FOLDER: &str = "A folder of drawings";
pub const SAVE_THE_TABLE: &str = "Save the table";
pub const PATH_OF_THE_FOLDER: &str = "Path of the folder";
pub const PROOF_FOLDER: &str = "Proof this folder";
pub const THAT_IS_NO_FOLDER: &str = "That is a file: choose the folder it lies in";
pub const READING: &str = "Reading the folder…";
pub const NOTHING_TO_PROOF: &str = "There is no .svg, .svgz, .dxf or .spelk file in this folder";
pub const WORST_FIRST: &str = "Worst first";
pub const WORST_FIRST_TIP: &str = "Unsound drawings first, else by their names";
pub const PROOF_AGAIN: &str = "Proof again";
pub const PROOF_AGAIN_TIP: &str = "Reads the folder anew, on the board and with the cutter as they are now";
pub const OPEN: &str = "Open";
pub const BROKE_OFF: &str = "the proof broke off through a fault in Spelk";

/// The window's title.
pub fn title(folder: &str) -> String {
    format!("Drawings in {folder}")
}

/// On what the drawings lie: the wood and the cutter of the job in hand, where there is one.
pub fn lie_on(wood_and_cutter: Option<(&str, &str)>) -> String {
    match wood_and_cutter {
        Some((wood, cutter)) => format!(
            "Drawings at their own size on the board of {wood} with the {cutter}; saved jobs on their own board."
        ),
        None => {
            "Drawings at their own size on the board that a new job has; saved jobs on their own.".to_owned()
        }
    }
}

/// How far it is.
pub fn proofing(done: usize, of: usize) -> String {
    format!("Proofing {} of {of}…", (done + 1).min(of))
}

/// Files that were left out.
pub fn left_out(files: usize) -> String {
    format!(
        "{} left out here; the command line takes them all",
        count(files, "more file is", "more files are")
    )
}

/// A row's thinnest wall beside its limit.
pub fn wall(wall: &str) -> String {
    format!("Wall {wall}")
}

/// A row's time at the machine.
pub fn time(time: &str) -> String {
    format!("Time {time}")
}

/// What a screen reader calls the button that opens a file.
pub fn open(file: &str) -> String {
    format!("Open {file}")
}

/// What a screen reader says of a row's picture.
pub fn picture_of(file: &str) -> String {
    format!("{file} on its board")
}
