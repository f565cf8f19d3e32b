//! Every sentence the user reads: on screen, on paper, in a terminal, in JSON.
//!
//! The rooms above hold facts: a finding knows its measured width and its limit, an error knows which
//! setting is out of range. This room turns facts into English, and nothing else does. A translation would
//! replace this room and touch no other.
//!
//! - One function a sentence. It takes every fact that the sentence states and returns it whole. No sentence
//!   is glued together from halves elsewhere, and none is read back.
//! - A function is named for what it says (`count`, `wrote_the_sheet`), a sentence without facts is a
//!   `pub const`, and what a kind of thing is called is a method on its type, in [`labels`].
//! - Numbers arrive as numbers. [`crate::units`] formats lengths, in the user's own unit.
//! - An error's words are its `Display`, in [`errors`]; an error that the caller names the file for starts
//!   with a verb.
//! - Nothing here knows the window, the command line or the sheet that asks.
//!
//! `tests/words.rs` prints every sentence with example facts and keeps them as snapshots, so a change of
//! wording shows in review; it fails where a sentence here is not printed there.

pub mod advice;
pub mod arrange;
pub mod bench_list;
pub mod carrier;
pub mod cautions;
pub mod command_line;
pub mod commands;
pub mod compare;
pub mod edits;
pub mod errors;
mod errors_design;
pub mod fault;
pub mod finding;
pub mod fit;
pub mod guide;
pub mod labels;
pub mod lesson;
pub mod lettering;
pub mod limits;
pub mod mend;
pub mod notices;
pub mod photo;
pub mod price;
pub mod record;
pub mod sheets;
pub mod shop;
pub mod sizes;
pub mod surface;
pub mod tour;
pub mod trace;
pub mod verdict;
pub mod window;

use crate::units::{LengthUnit, Mm, trimmed};
use std::borrow::Cow;

/// `1 wall`, `2 walls`.
///
/// ```
/// # use spelk::words::count;
/// assert_eq!(count(1, "wall", "walls"), "1 wall");
/// assert_eq!(count(0, "wall", "walls"), "0 walls");
/// ```
pub fn count(number: usize, one: &str, many: &str) -> String {
    format!("{} {}", thousands(number), if number == 1 { one } else { many })
}

/// `12 345`, with a thin space: no locale reads it as a decimal.
///
/// ```
/// # use spelk::words::thousands;
/// assert_eq!(thousands(999), "999");
/// assert_eq!(thousands(1_234_567), "1\u{2009}234\u{2009}567");
/// ```
pub fn thousands(number: usize) -> String {
    let digits = number.to_string();
    let mut grouped = String::with_capacity(digits.len() + digits.len() / 3);
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            grouped.push('\u{2009}');
        }
        grouped.push(digit);
    }
    grouped
}

/// `letters, dots and 3 more`: as many names as are read in one go.
///
/// ```
/// # use spelk::words::listed;
/// assert_eq!(listed(&["rim", "dots"]), "rim, dots");
/// assert_eq!(listed(&["a", "b", "c", "d", "e", "f"]), "a, b, c, d and 2 more");
/// ```
pub fn listed(names: &[&str]) -> String {
    const NAMED: usize = 4;
    match names.len().checked_sub(NAMED) {
        None | Some(0) => names.join(", "),
        Some(more) => format!("{} and {more} more", names[..NAMED].join(", ")),
    }
}

/// A time in seconds: `48 s`, `12 min`, `1 h 05 min`.
///
/// ```
/// # use spelk::words::duration;
/// assert_eq!(duration(48.0), "48 s");
/// assert_eq!(duration(3900.0), "1 h 05 min");
/// ```
pub fn duration(seconds: f64) -> String {
    if !seconds.is_finite() {
        return "unknown".to_owned();
    }
    if seconds < 59.5 {
        return format!("{seconds:.0} s");
    }
    let minutes = (seconds / 60.0).round();
    if minutes < 60.0 {
        format!("{minutes:.0} min")
    } else {
        format!("{:.0} h {:02.0} min", (minutes / 60.0).floor(), minutes % 60.0)
    }
}

/// Words with a capital at their start.
///
/// ```
/// # use spelk::words::capitalised;
/// assert_eq!(capitalised("a knot"), "A knot");
/// ```
pub fn capitalised(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

/// Text for a terminal: what a name has of control characters would move its cursor or change its colours, and
/// stands as `\u{fffd}`. Lines and tabs stay.
///
/// ```
/// # use spelk::words::printable;
/// assert_eq!(printable("a\tb\n"), "a\tb\n");
/// assert_eq!(printable("\u{1b}[31mred"), "\u{fffd}[31mred");
/// ```
pub fn printable(text: &str) -> Cow<'_, str> {
    let moves = |c: char| c.is_control() && !matches!(c, '\n' | '\t');
    if text.contains(moves) { text.replace(moves, "\u{fffd}").into() } else { text.into() }
}

/// What a library says went wrong, without the lines that some break it into.
pub(crate) fn one_line(error: &dyn std::fmt::Display) -> String {
    error.to_string().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Per cent to a tenth, rounded up: a size that is called sound must be sound.
///
/// ```
/// # use spelk::words::percent_up;
/// assert_eq!(percent_up(0.75001), "75.1");
/// ```
pub fn percent_up(factor: f64) -> String {
    trimmed((factor * 1000.0 - 1e-6).ceil() / 10.0, 1)
}

/// Per cent to a tenth, rounded down: a size that is said to fit must fit.
///
/// ```
/// # use spelk::words::percent_down;
/// assert_eq!(percent_down(0.75999), "75.9");
/// ```
pub fn percent_down(factor: f64) -> String {
    trimmed((factor * 1000.0 + 1e-6).floor() / 10.0, 1)
}

/// A width in the wood, as [`LengthUnit::show_fine`] has it; one that would show as nothing, though it is
/// something, is under the least that shows.
///
/// ```
/// # use spelk::{units::{LengthUnit, Mm}, words::fine};
/// assert_eq!(fine(LengthUnit::InchFraction, Mm::new(0.94)), "0.037 in");
/// assert_eq!(fine(LengthUnit::InchFraction, Mm::new(0.001)), "under 0.001 in");
/// assert_eq!(fine(LengthUnit::Millimetres, Mm::ZERO), "0 mm");
/// ```
pub fn fine(unit: LengthUnit, length: Mm) -> String {
    let least = match unit {
        LengthUnit::Millimetres => Mm::new(0.01),
        _ => Mm::from_inches(0.001),
    };
    // Half of the least is rounded up to it.
    if length > Mm::ZERO && length < least / 2.0 {
        format!("under {}", unit.show_fine(least))
    } else {
        unit.show_fine(length)
    }
}

/// A length that is only known to lie between two; one alone where both are shown alike.
pub fn between([low, high]: [Mm; 2], unit: LengthUnit) -> String {
    let (least, most) = (fine(unit, low), fine(unit, high));
    if least == most { least } else { format!("{least} to {most}") }
}

/// Whether a shown number is 0.
fn is_nothing(number: &str) -> bool {
    number.chars().all(|digit| matches!(digit, '0' | '.'))
}
