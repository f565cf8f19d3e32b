//! What went wrong, for each room's error: what happened and what to try, in one line.
//!
//! The enums hold facts and derive `Error`; their `Display` is here. Each match names every variant, so an
//! error without words does not compile.

use crate::job::{LONGEST, SettingError};
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
