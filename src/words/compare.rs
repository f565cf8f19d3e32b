//! Words of the versions of a job side by side.

#![expect(missing_docs, reason = "a sentence says what it says")]

use crate::compare::{Between, LimitedWall, SizeKind, VersionName};
use crate::units::LengthUnit;
use crate::words::window::size;

pub const VERSION: &str = "Version";
pub const VERDICT: &str = "Verdict";
pub const THINNEST_WALL: &str = "Thinnest wall";
pub const TIME: &str = "Time";
pub const PRICE: &str = "Price";
pub const NO_PRICE: &str = "not known";
pub const EXAMPLE_PRICES: &str = "Prices are examples until you set your own";
pub const STARRED: &str = "* is the job as it is";

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

/// Over the table: of what the versions are.
pub fn heading(design: &str, what: Between) -> String {
    format!("{design}: {}", between(what).to_lowercase())
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
        Some(LimitedWall { width, limit }) => {
            format!("{}, limit {}", unit.show_fine(width), unit.show_fine(limit))
        }
        None => "no wall".to_owned(),
    }
}
