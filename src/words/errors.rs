//! What went wrong, for each room's error: what happened and what to try, in one line.
//!
//! The enums hold facts and derive `Error`; their `Display` is here. Each match names every variant, so an
//! error without words does not compile.

use super::shop::wrong;
use super::sizes;
use crate::job::saved::{Damage, OLDEST, OpenError, SaveError, VERSION};
use crate::job::{LONGEST, Rejected};
use crate::proof::rack::UnusableBoard;
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

impl fmt::Display for SaveError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SaveError::Unwritable(error) => {
                write!(f, "cannot be written ({}); what was saved there before is unchanged", disk(error))
            }
        }
    }
}

impl fmt::Display for OpenError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            OpenError::Unreadable(error) => write!(f, "cannot be read ({})", disk(error)),
            OpenError::TooLarge { megabytes } => {
                write!(f, "is too large for a saved job ({megabytes} MB); open a file that Spelk saved")
            }
            OpenError::NotAJob => {
                f.write_str("is not a saved job; open a file that Spelk saved, ending in .spelk")
            }
            OpenError::UnknownVersion { found } if *found > u64::from(VERSION) => write!(
                f,
                "was saved in version {found} of the format, and this program reads versions up to {VERSION}; use a newer Spelk"
            ),
            OpenError::UnknownVersion { found } => write!(
                f,
                "says that it is version {found} of the format, and the oldest there was is {OLDEST}; open an earlier copy"
            ),
            OpenError::Damaged(damage) => write!(f, "is damaged: {damage}; open an earlier copy"),
        }
    }
}

impl fmt::Display for Damage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Damage::Text(error) => write!(f, "{error}"),
            Damage::Grid => f.write_str("the grid of the design has a step or origin out of range"),
            Damage::NoElements => f.write_str("the design has no element"),
            Damage::NotPoints { element } => write!(f, "an outline of '{element}' is not a list of points"),
            Damage::NoArea { element } => write!(f, "the element '{element}' has no area"),
            Damage::Value(rejected) => write!(f, "{rejected}"),
        }
    }
}

impl fmt::Display for UnusableBoard {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the board '{}' of the rack cannot be used: {}", self.board, self.why)
    }
}
