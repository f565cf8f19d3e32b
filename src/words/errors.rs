//! What went wrong, for each room's error: what happened and what to try, in one line.
//!
//! The enums hold facts and derive `Error`; their `Display` is here. Each match names every variant, so an
//! error without words does not compile.

use crate::job::{LONGEST, SettingError};
use crate::proof::sizes::{MOST_SIZES, SizesError};
use crate::words::sizes;
use std::fmt;

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

impl fmt::Display for SizesError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SizesError::None => {
                write!(f, "name at least one size, for example 8in, 10in wide, 150%, drawn or fit")
            }
            SizesError::TooMany { count } => {
                write!(f, "{count} sizes are too many for one list; name at most {MOST_SIZES}")
            }
            SizesError::NotASize { text } => {
                write!(f, "'{text}' is not a size; write for example 8in, 10in wide, 150%, drawn, fit or Small=8in")
            }
            SizesError::NoSuchSize { name } => write!(
                f,
                "'{}' is no size that can be carved; it must be over 0 and under 10000 times as drawn",
                sizes::name(name)
            ),
        }
    }
}
