//! The words of the window: captions, hovers, and what it says, a file for each room of `app`.
//!
//! A caption without facts is a constant named after its own words. What every room says is here.

pub mod board;
pub mod commands;
pub mod compare;
pub mod documents;
pub mod elements;
pub mod findings;
pub mod folder;
pub mod guide;
pub mod handle;
pub mod pieces;
pub mod record;
pub mod relief;
pub mod shell;
pub mod shop;
pub mod sizes;
pub mod tracing;
pub mod widgets;
pub mod work;

use crate::units::{LengthUnit, Mm, trimmed};

/// The program's name.
pub const SPELK: &str = "Spelk";

/// The shop's own things have no place to be kept in.
pub const NO_SHOP_FOLDER: &str =
    "This machine has no config folder, so Spelk cannot keep your shop's own things";

/// The desktop shows no file dialog.
pub const NO_FILE_DIALOG: &str =
    "No file dialog opened on this desktop. Choose the file in the list, or type its path";

/// The caption of a field for a length: `Width, mm`.
pub fn with_unit(caption: &str, unit: LengthUnit) -> String {
    format!("{caption}, {}", unit.symbol())
}

/// The caption of a field for a share: `Moisture, %`.
pub fn in_percent(caption: &str) -> String {
    format!("{caption}, %")
}

/// `300 × 100 mm`: length and width.
pub fn size([length, width]: [Mm; 2], unit: LengthUnit) -> String {
    unit.show_several([length, width], " \u{d7} ")
}

/// A number on a ruler or an axis: no idle zeros, no unit.
pub fn ruler_mark(unit: LengthUnit, length: Mm) -> String {
    match unit {
        LengthUnit::InchDecimal => trimmed(length.to_inches(), 3),
        _ => unit.number(length),
    }
}
