//! Words of the window: widgets.

#![expect(missing_docs, reason = "a sentence says what it says")]

use crate::proof::Finding;
use crate::units::{LengthUnit, Mm};
use crate::words::{self, count, thousands};

pub const CLOSE: &str = "Close";
pub const TYPE_A_NUMBER: &str = "type a number";
pub const IT_MUST_BE_OVER_0: &str = "it must be over 0";
pub const HACK_BEHIND: &str = "Hack behind";

/// What is typed is no number.
pub fn not_a_number(typed: &str) -> String {
    format!("'{typed}' is not a number")
}

/// Why what is typed in a field makes no sense.
pub fn wrong(caption: &str, reason: &str) -> String {
    format!("{caption}: {reason}")
}

/// A length no board has.
pub fn surely_a_slip(longest: Mm, unit: LengthUnit) -> String {
    format!("longer than {} must be a slip", unit.show(longest))
}

/// What a screen reader calls that number.
pub fn more_at_the_mark(more: usize, number: usize) -> String {
    format!("{} more at mark {number}", thousands(more))
}

/// The hover of that number.
pub fn more_at_the_mark_hover(more: usize) -> String {
    format!("{} here; zoom in to tell them apart", count(more, "more finding lies", "more findings lie"))
}

/// What a screen reader calls the mark of a finding.
pub fn mark(number: usize, finding: &Finding) -> String {
    format!("Mark {number} {}", words::finding::title(finding))
}
