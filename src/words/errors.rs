//! What went wrong, for each room's error: what happened and what to try, in one line.
//!
//! The enums hold facts and derive `Error`; their `Display` is here. Each match names every variant, so an
//! error without words does not compile.

use super::shop::wrong;
use super::sizes;
use crate::job::{LONGEST, Rejected};
use crate::proof::rack::UnusableBoard;
use crate::proof::record::RecordError;
use crate::proof::sizes::{MOST_SIZES, SizesError};
use crate::shop::{KeepError, PhotoError, RackError};
use crate::units::{LengthError, LengthUnit};
use image::ImageError;
use std::fmt;
use std::io::{self, ErrorKind};

/// Why a disk said no, for a message that names the file: in our words where the cause is a common one, else
/// in the system's, without its number.
pub fn disk(error: &io::Error) -> String {
    let known = match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder",
        ErrorKind::PermissionDenied => "you do not have permission",
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only",
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "the disk is full",
        ErrorKind::IsADirectory => "it is a folder",
        ErrorKind::NotADirectory => "part of its path is a file and not a folder",
        ErrorKind::InvalidData => "it is not text in UTF-8",
        _ => {
            let said = error.to_string();
            return said.split(" (os error").next().unwrap_or_default().to_owned();
        }
    };
    known.to_owned()
}

impl fmt::Display for LengthError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LengthError::Missing => f.write_str("type a length, for example 89 mm or 3 1/2 in"),
            LengthError::NotALength(text) => {
                write!(f, "'{text}' is not a length; write for example 89 mm, 3.5 in, 3 1/2 in or 1' 2 1/4\"")
            }
            LengthError::DivideByZero(text) => write!(f, "'{text}' divides by zero"),
            LengthError::NotABoard(text) => write!(
                f,
                "'{text}' is not a board; write length x width x thickness, for example 24x6x0.75in"
            ),
        }
    }
}

impl fmt::Display for KeepError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            KeepError::Wrong { name, wrong: found } => {
                write!(f, "'{name}' was not saved: {}", wrong(found, LengthUnit::Millimetres))
            }
            KeepError::Unreadable { path, error } => {
                write!(f, "{} cannot be read ({}); nothing was changed", path.display(), disk(error))
            }
            KeepError::Damaged { path, error } => write!(
                f,
                "{} cannot be used: {error}; correct or move that file first, nothing was changed",
                path.display()
            ),
            KeepError::Unwritable { path, error } => {
                write!(f, "{} cannot be written ({}); nothing was changed", path.display(), disk(error))
            }
        }
    }
}

impl fmt::Display for RackError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            RackError::Unreadable { path, error } => {
                write!(f, "{} cannot be read ({})", path.display(), disk(error))
            }
            RackError::Damaged { path, error } => {
                write!(
                    f,
                    "{} cannot be used: {error}; correct that line or move the file away",
                    path.display()
                )
            }
            RackError::NoSize { path, board } => write!(
                f,
                "the board '{board}' has no size that makes sense: its lengths must be over 0; correct it in {}",
                path.display()
            ),
            RackError::Unwritable { path, error } => {
                write!(f, "{} cannot be written ({}); nothing was changed", path.display(), disk(error))
            }
        }
    }
}

impl fmt::Display for PhotoError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PhotoError::FlatCorners => f.write_str(
                "has three of its corners in a line; mark the board's four corners, going round it",
            ),
            PhotoError::CrossedCorners => {
                f.write_str("has corners that cross over; mark them going round the board")
            }
            PhotoError::Unreadable(ImageError::IoError(error)) => {
                write!(f, "cannot be read ({})", disk(error))
            }
            PhotoError::Unreadable(error) => {
                write!(f, "is not a PNG or JPEG picture that Spelk can read ({error})")
            }
            PhotoError::NoPixels => f.write_str("is an empty picture; save it again"),
            PhotoError::TooLarge { width, height } => {
                write!(f, "has too many pixels ({width} x {height}); save it smaller")
            }
        }
    }
}

impl fmt::Display for SizesError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SizesError::None => {
                f.write_str("name at least one size, for example 8in, 10in wide, 150%, drawn or fit")
            }
            SizesError::TooMany { count } => {
                write!(f, "{count} sizes are too many for one list; name at most {MOST_SIZES}")
            }
            SizesError::NotASize { text } => write!(
                f,
                "'{text}' is not a size; write for example 8in, 10in wide, 150%, drawn, fit or Small=8in"
            ),
            SizesError::NoSuchSize { name } => write!(
                f,
                "'{}' cannot be carved; a size must be over 0 and under 10000 times as drawn",
                sizes::name(name)
            ),
        }
    }
}

impl fmt::Display for Rejected {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Rejected::Length { quantity, length, least } => {
                write!(f, "the {} must be from {least} to {LONGEST}, not {length}", quantity.label())
            }
            Rejected::Moisture { moisture } => {
                write!(f, "the moisture must be from 0 to 300 %, not {moisture}")
            }
            Rejected::Machine { quantity, value } => {
                write!(f, "the machine's {} must be from 0 to 1000000, not {value}", quantity.label())
            }
            Rejected::Feed { quantity, feed } => {
                write!(f, "the {} must be over 0 and up to 1000000 mm a minute, not {feed}", quantity.label())
            }
            Rejected::Spindle { speed } => {
                write!(
                    f,
                    "a cutter needs an edge and must turn from 1 to 1000000 times a minute, not {speed}"
                )
            }
            Rejected::Experience { factor: [along, across], scatter } => {
                write!(
                    f,
                    "a cutter's record must come to 0.1 to 10 times as thick and a scatter of 0.01 to 2, not {along}, {across} and {scatter}"
                )
            }
            Rejected::Trust { sound, unsound } => {
                write!(
                    f,
                    "a wall must be unsound below a chance from 0.001 up and sound from no lower one up to 0.999, not {unsound} and {sound}"
                )
            }
            Rejected::Factor { factor } => {
                write!(f, "the size must be from 0.0001 to 10000 times as drawn, not {factor}")
            }
            Rejected::NoSuchElement => write!(f, "the element is gone"),
            Rejected::NoElementNamed { name } => write!(f, "{name} is gone"),
            Rejected::NoSuchBlemish => write!(f, "the blemish is gone"),
            Rejected::BlemishOffBoard { beyond } => {
                write!(f, "the blemish lies {beyond} off the board; mark it where it reaches the board")
            }
            Rejected::NoLength { check } => {
                write!(f, "the {} on the bench list is not measured as a length", check.label())
            }
            Rejected::NoName => write!(f, "an element needs a name; it keeps the one it has"),
            Rejected::TooFew { needed: 1 } => write!(f, "choose an element first"),
            Rejected::TooFew { needed } => write!(f, "choose {needed} elements first"),
            Rejected::LastElement => write!(f, "a design needs an element: the last one stays"),
            Rejected::NothingLeft { name } => {
                write!(f, "nothing is left of {name}; take a smaller margin")
            }
            Rejected::Lettering(error) => write!(f, "{error}"),
            Rejected::Design(error) => write!(f, "the design {error}"),
        }
    }
}

impl fmt::Display for UnusableBoard {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the board '{}' of the rack cannot be used: {}", self.board, self.why)
    }
}

impl fmt::Display for RecordError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            RecordError::Damaged(error) => write!(f, "is no record of walls: {error}"),
            RecordError::Wrong { line } => write!(f, "has a number in line {line} that makes no sense"),
        }
    }
}
