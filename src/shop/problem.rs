//! What makes no sense in an entry of the shop's, and what of its own is not used for that.

use super::MachinePart;
use crate::units::Mm;
use crate::whole_file::ReadError;
use std::path::PathBuf;

/// Something of the shop's own that is left as it is and not used.
#[derive(Debug)]
pub enum ShopNotice {
    /// A file cannot be read; what is built in stands for it.
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the disk said.
        error: ReadError,
    },
    /// A file does not read as what it should hold; what is built in stands for it.
    Damaged {
        /// The file.
        path: PathBuf,
        /// Where and what.
        error: serde_json::Error,
    },
    /// An entry makes no sense; the file's others are used.
    WrongEntry {
        /// The file.
        path: PathBuf,
        /// What the entry is called.
        name: String,
        /// The first thing that is wrong with it.
        wrong: Wrong,
    },
    /// The prices make no sense; the built-in examples stand for them.
    WrongPrices {
        /// The file.
        path: PathBuf,
        /// The first thing that is wrong with them.
        wrong: Wrong,
    },
}

/// Something that makes no sense in an entry: which part of it, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem<P> {
    /// The part that is wrong.
    pub part: P,
    /// What it should be.
    pub wrong: Wrong,
}

/// Why a value makes no sense.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wrong {
    /// There is no name.
    NoName,
    /// Nothing says where the numbers come from.
    NoSource,
    /// It should be more than 0.
    NotOverZero,
    /// It should be 0 or more.
    Negative,
    /// It should lie within these, both included.
    Range {
        /// The least it may be.
        least: f64,
        /// The most.
        most: f64,
        /// In what.
        unit: RangeUnit,
    },
    /// A length should lie within these, both included.
    Length {
        /// The least it may be.
        least: Mm,
        /// The most.
        most: Mm,
    },
    /// A feed should lie within these, both included: lengths a minute.
    Feed {
        /// The least it may be.
        least: Mm,
        /// The most.
        most: Mm,
    },
    /// A V's tip is as wide as the cutter.
    TipTooWide,
    /// A ball should lie within these, and be no wider than its cutter.
    BallTooWide {
        /// The least it may be.
        least: Mm,
        /// The most.
        most: Mm,
    },
    /// A pass should be more than nothing, and no deeper than the flutes.
    PassTooDeep,
    /// The strength of the wood of a reference wall is none that wood has.
    WoodStrength,
    /// The least that a machine takes is more than the most it takes.
    OverMost {
        /// The part that is the most.
        most: MachinePart,
        /// What that is.
        bound: Mm,
    },
    /// A sign is longer than so many letters.
    TooLong {
        /// The most letters it may have.
        letters: usize,
    },
    /// The marks of decimals and thousands are the same, or digits.
    Marks,
}

/// What a range of numbers is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RangeUnit {
    /// Things that are counted.
    Count,
    /// Degrees of an angle.
    Degrees,
    /// Turns a minute.
    Turns,
    /// Per cent.
    Percent,
    /// Per cent of a cutter's diameter.
    PercentOfDiameter,
    /// Per cent of a price.
    PercentOfPrice,
    /// Per cent of the width, for each point of moisture.
    PercentOfWidthAPoint,
    /// Kilograms a cubic metre.
    Density,
    /// Megapascals.
    Megapascals,
}
