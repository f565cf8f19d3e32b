//! What went wrong, for each room's error: what happened and what to try, in one line.
//!
//! The enums hold facts and derive `Error`; their `Display` is here. Each match names every variant, so an
//! error without words does not compile.

use super::shop::wrong;
use super::sizes;
use crate::job::{LONGEST, SettingError};
use crate::proof::sizes::{MOST_SIZES, SizesError};
use crate::shop::{KeepError, RackError};
use crate::units::{LengthError, LengthUnit};
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

impl fmt::Display for SettingError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SettingError::Length { setting, length, least } => {
                write!(f, "the {setting} must be from {least} to {LONGEST}, not {length}")
            }
            SettingError::Moisture { moisture } => {
                write!(f, "the moisture must be from 0 to 300 %, not {moisture}")
            }
            SettingError::Machine { setting, value } => {
                write!(f, "the machine's {setting} must be from 0 to 1000000, not {value}")
            }
            SettingError::Feed { setting, feed } => {
                write!(f, "the {setting} must be over 0 and up to 1000000 mm a minute, not {feed}")
            }
            SettingError::Factor { factor } => {
                write!(f, "the size must be from 0.0001 to 10000 times as drawn, not {factor}")
            }
        }
    }
}
