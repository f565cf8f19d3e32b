//! Words of the window: versions of the job side by side.

#![expect(missing_docs, reason = "a sentence says what it says")]

use super::size;
use crate::compare::{Between, LimitedWall, SizeKind, VersionName};
use crate::units::LengthUnit;

pub const COMPARE: &str = "Side by side";
pub const WAITING: &str = "Waiting for the proof…";
pub const EXAMPLE_PRICES: &str = "Prices are examples until you set your own";
pub const VERSION: &str = "Version";
pub const VERDICT: &str = "Verdict";
pub const THINNEST_WALL: &str = "Thinnest wall";
pub const TIME: &str = "Time";
pub const PRICE: &str = "Price";
pub const NO_PRICE: &str = "not known";
pub const AS_IT_IS: &str = "as it is";
pub const TAKE: &str = "Take";
pub const SETS_THE_JOB: &str = "Sets the job to this version; you can undo it";

/// What is compared.
pub fn between(what: Between) -> &'static str {
    match what {
        Between::Woods => "Each wood",
        Between::Cutters => "Each cutter",
        Between::Sizes => "Several sizes",
    }
}

/// What the versions are of.
pub fn note(is_batch: bool) -> &'static str {
    if is_batch {
        "The piece in hand by itself. Its price is for a board as large as it needs."
    } else {
        "Nothing else of the job changes. The price is for a board as large as the piece needs."
    }
}

/// How many versions are worked out.
pub fn working_out(done: usize, of: usize) -> String {
    format!("Working out {} of {of}…", (done + 1).min(of.max(1)))
}

/// What a version is called.
pub fn name(name: &VersionName, unit: LengthUnit) -> String {
    match name {
        VersionName::Wood(name) | VersionName::Cutter(name) => name.clone(),
        VersionName::Size { size: at, kind: SizeKind::Other } => size(*at, unit),
        VersionName::Size { size: at, kind: SizeKind::LeastSound } => {
            format!("{}, the least with sound walls", size(*at, unit))
        }
        VersionName::Size { size: at, kind: SizeKind::Largest } => {
            format!("{}, the largest for this board", size(*at, unit))
        }
    }
}

/// The wall that a verdict goes by, and its limit.
pub fn wall(wall: Option<LimitedWall>, unit: LengthUnit) -> String {
    match wall {
        Some(LimitedWall { width, limit }) => format!("{}, limit {}", unit.show(width), unit.show(limit)),
        None => "no wall".to_owned(),
    }
}

/// What a screen reader calls the button that sets the job to a version.
pub fn take(name: &str) -> String {
    format!("Take {name}")
}
