//! What went wrong, for each room's error: what happened and what to try, in one line.
//!
//! The enums hold facts and derive `Error`; their `Display` is here. Each match names every variant, so an
//! error without words does not compile.

use crate::job::{LONGEST, Rejected};
use crate::proof::rack::UnusableBoard;
use std::fmt;

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

impl fmt::Display for UnusableBoard {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the board '{}' of the rack cannot be used: {}", self.board, self.why)
    }
}
