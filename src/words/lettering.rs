//! Letters held against the numbers for raised characters on signs.

use crate::design::lettering::{TactileCheck, TactileMeasure};
use crate::units::trimmed;

/// Where the numbers come from.
pub const TACTILE_SOURCE: &str =
    "2010 ADA Standards for Accessible Design, section 703.2 (US Department of Justice)";

/// What the check leaves to the eye.
pub const TACTILE_NOT_MEASURED: &str = "Spelk does not measure three things: a sans serif face (703.2.3), raised letters at least 1/32 in high (703.2.1), and 3/8 in to a raised border (703.2.7).";

/// What goes with raised letters. Dots: table 703.3.1; their place: 703.3.2 (read in an open copy of the standard).
pub const TACTILE_BRAILLE: &str = "Raised letters are repeated in braille (703.2), which Spelk does not set: domed dots 0.025 to 0.037 in high (703.3.1), below all the words, with 3/8 in to any letter and to a raised border (703.3.2).";

impl TactileMeasure {
    /// What is measured, for the start of a line.
    pub fn label(self) -> &'static str {
        match self {
            TactileMeasure::SmallLetters => "Letters that are not capitals",
            TactileMeasure::WidthOfO => "Width of a capital O, of I's height",
            TactileMeasure::HeightOfI => "Height of a capital I",
            TactileMeasure::StrokeOfI => "Stroke of a capital I, of its height",
            TactileMeasure::LeastGap => "Least room between letters",
            TactileMeasure::MostGap => "Most room between letters",
            TactileMeasure::LineSpacing => "From baseline to baseline, of I's height",
        }
    }

    /// A number in its unit.
    fn number(self, value: f64) -> String {
        let number = trimmed(value, 3);
        match self {
            TactileMeasure::SmallLetters => number,
            TactileMeasure::HeightOfI | TactileMeasure::LeastGap | TactileMeasure::MostGap => {
                format!("{number} in")
            }
            TactileMeasure::WidthOfO | TactileMeasure::StrokeOfI | TactileMeasure::LineSpacing => {
                format!("{number} %")
            }
        }
    }
}

/// Whether a number meets the standard, in a word or two.
pub fn tactile_verdict(check: &TactileCheck) -> &'static str {
    match check.passes() {
        Some(true) => "holds",
        Some(false) => "fails",
        None => "not measured",
    }
}

/// What was measured, and what it may be: `Height of a capital I: 1 in (0.625 to 2 in; 703.2.5)`.
pub fn tactile_number(check: &TactileCheck) -> String {
    let measure = check.measure;
    let number = |value: f64| measure.number(value);
    let measured = check.measured.map_or_else(|| "-".to_owned(), number);
    let bounds = if check.most.is_infinite() {
        format!("at least {}", number(check.least))
    } else if check.most == check.least {
        number(check.least)
    } else {
        format!("{} to {}", trimmed(check.least, 3), number(check.most))
    };
    format!("{}: {measured} ({bounds}; {})", measure.label(), measure.section())
}

/// A line of the check: whether it meets the standard, and what was measured.
pub fn tactile_line(check: &TactileCheck) -> String {
    format!("{}. {}", super::capitalised(tactile_verdict(check)), tactile_number(check))
}

/// What raised letters on a sign are held against.
pub fn against_the_standard() -> String {
    format!("Against the {TACTILE_SOURCE}")
}

/// Where the numbers come from, and what the check leaves to the eye.
pub fn tactile_source() -> String {
    format!("Source: {TACTILE_SOURCE}. {TACTILE_NOT_MEASURED} {TACTILE_BRAILLE}")
}
