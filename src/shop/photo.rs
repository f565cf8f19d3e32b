//! What can be wrong with a photograph of a board. [`crate::sheet::photo`] reads and straightens it.

use crate::whole_file::ReadError;
use image::ImageError;
use thiserror::Error;

/// The largest photograph that is opened, in pixels: a round value of our own. Decoding takes seven bytes a
/// pixel, and stays under a gigabyte.
pub const MOST_PIXELS: u64 = 100_000_000;

/// Why a photograph cannot be used.
#[derive(Debug, Error)]
pub enum PhotoError {
    /// Three of the corners lie in a line, or two in one place.
    FlatCorners,
    /// The corners do not go round the board.
    CrossedCorners,
    /// The file cannot be opened or read.
    NotRead(ReadError),
    /// It does not read as a picture.
    Unreadable(ImageError),
    /// There is no pixel in it.
    NoPixels,
    /// Too many pixels.
    TooLarge {
        /// Across.
        width: u32,
        /// Down.
        height: u32,
    },
}

/// One thing noticed about a photograph that was read all the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PhotoNotice {
    /// It does not say which way up it was taken.
    TurnUnknown,
}
