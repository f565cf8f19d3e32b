//! The sizes to choose from, and how each price is worked out.

use crate::proof::sizes::SizeRow;
use crate::units::{LengthUnit, Mm, trimmed};
use crate::words::sizes;

/// What the foot of its pages calls it.
pub const NAME: &str = "Offer";
/// What the sheet is called.
pub const HEAD: &str = "Offer";
/// What the foot of the shop's pages calls them.
pub const PRICES_NAME: &str = "Prices";
/// Who the offer is for.
pub const FOR_CUSTOMER: &str = "For";
/// The day it is made.
pub const DATE: &str = "Date";
/// The last day it holds.
pub const VALID_UNTIL: &str = "Valid until";
/// Over the line to sign.
pub const CHOICE: &str = "Please carve it in the size I have ticked.";
/// Under a line to write on.
pub const PLACE_AND_DATE: &str = "Place and date";
/// Under the line to sign.
pub const SIGNATURE: &str = "Signature";
/// In place of the price of a size that would not come out whole.
pub const CANNOT_BE_HAD: &str = "Too fine to be carved in this size";
/// What the shop's pages are called.
pub const PRICES: &str = "How each price is worked out, for the shop";

/// What the list of several pieces on one board is called.
pub const PIECES: &str = "Pieces on one board";
/// What its columns are called.
pub const PIECE_COLUMNS: [&str; 6] =
    ["Piece", "Size", "Number", "Minutes each", "Price each", "Price of all"];
/// Its last row.
pub const TOTAL: &str = "All pieces";

/// How the board of several pieces is drawn, one to `scale`, and what it is.
pub fn board_of_pieces([length, width]: [Mm; 2], wood: &str, scale: f64, unit: LengthUnit) -> String {
    format!(
        "In {wood}, on a board of {} x {}, drawn 1 : {}; the heavy line is the reference edge.",
        unit.show(length),
        unit.show(width),
        trimmed(scale, 1)
    )
}

/// How many of a piece are on the board, of those that there are to be.
pub fn number(laid: usize, wanted: usize) -> String {
    if laid == wanted { laid.to_string() } else { format!("{laid} of {wanted}") }
}

/// The title of the file.
pub fn title(design: &str) -> String {
    format!("Offer for {design}")
}

/// There is no size.
pub const NONE: &str = "No size was named.";

/// The wood, and how to read the pictures: one to `scale`.
pub fn drawn(wood: &str, scale: f64) -> String {
    format!(
        "In {wood}. The pictures show the carved wood from above, all to one scale, 1 : {}.",
        trimmed(scale, 1)
    )
}

/// The prices are worked out from the program's example figures.
pub const EXAMPLE_PRICES: &str = "Prices come from Spelk's example figures, not from this shop's own.";

/// Tax is in the prices, as a share of them before it.
pub fn with_tax(share: f64) -> String {
    format!("Prices include {} % tax.", trimmed(share * 100.0, 2))
}

/// The board it needs.
pub fn board(row: &SizeRow, unit: LengthUnit) -> String {
    format!("Board needed: {}", sizes::board(row, unit))
}

/// The thinnest wall, and what will not come out as drawn.
pub fn thinnest_and_lost(row: &SizeRow, unit: LengthUnit) -> String {
    format!("Thinnest wall {}; lost: {}", sizes::thinnest_wall(row, unit), sizes::lost(&row.lost, unit))
}

/// The time at the machine.
pub fn time(row: &SizeRow) -> String {
    format!("At the machine {}", sizes::minutes(row.minutes))
}
