//! A photograph of the board: why it cannot be used. The caller names the file.

use super::errors::disk;
use std::fmt::Display;
use std::io;

/// Three of the marked corners lie in a line, or two in one place.
pub const FLAT_CORNERS: &str =
    "has three of its corners in a line; mark the board's four corners, going round it";

/// The marked corners do not go round the board.
pub const CROSSED_CORNERS: &str = "has corners that cross over; mark them going round the board";

/// There is no pixel in it.
pub const NO_PIXELS: &str = "is an empty picture; save it again";

/// The disk said no.
pub fn unreadable(error: &io::Error) -> String {
    format!("cannot be read ({})", disk(error))
}

/// It does not read as a picture; `error` says where and why.
pub fn not_a_picture(error: &dyn Display) -> String {
    format!("is not a PNG or JPEG picture that Spelk can read ({error})")
}

/// It has more pixels than are read.
pub fn too_large(width: u32, height: u32) -> String {
    format!("has too many pixels ({width} x {height}); save it smaller")
}
