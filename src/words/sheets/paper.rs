//! What every sheet of paper has: its head, its foot, and what its hatches mean.

use crate::job::{Ends, Treatment};

/// Beside the bar of 100 mm.
pub const BAR_100_MM: &str = "100 mm";
/// Beside the bar of 4 in.
pub const BAR_4_IN: &str = "4 in";
/// How to print it.
pub const PRINT: &str = "Print at 100 % and check both bars with a rule.";

/// The head of a sheet: what it is, and of which design.
pub fn head(what: &str, of: &str) -> String {
    format!("{what}: {of}")
}

/// Which page this is.
pub fn page(what: &str, paper: &str, page: usize, pages: usize) -> String {
    format!("{what}, {paper}, page {page} of {pages}")
}

/// What the hatch of a treatment means.
pub fn hatch(treatment: Treatment) -> &'static str {
    match treatment {
        Treatment::Relief => "ground, lowered",
        Treatment::Sunk => "sunk to a flat floor",
        Treatment::Incised => "cut with a V",
        Treatment::Pierced => "cut through",
        Treatment::Left => "not carved",
    }
}

/// What the hatch at the ends means.
pub fn ends(ends: Ends) -> &'static str {
    match ends {
        Ends::Held => "for the rollers, not carved",
        Ends::Free => "may show snipe lines",
    }
}

/// What the firm line means.
pub const REFERENCE_EDGE: &str = "reference edge, against the fence";

/// Letters that no typeface has.
pub fn no_typeface(letters: &[char]) -> String {
    let letters: Vec<String> = letters.iter().map(|letter| format!("'{letter}'")).collect();
    format!("no typeface here has {}", letters.join(", "))
}

/// What comes of letters that no typeface has, and what to do.
pub const NO_TYPEFACE_HINT: &str =
    "Each prints as an empty box. Install a font that has it, or write it in other letters";

/// A shop's mark that is neither PNG nor JPEG.
pub const MARK_NOT_A_PICTURE: &str = "is not a PNG or JPEG picture; save the mark as one";

/// A shop's mark that does not read as a picture; `error` says where and why.
pub fn mark_damaged(error: &dyn std::fmt::Display) -> String {
    let error = crate::words::one_line(error);
    format!("cannot be read as a picture ({error})")
}
