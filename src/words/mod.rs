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

pub mod errors;
mod errors_design;
pub mod labels;
pub mod lettering;
pub mod notices;
pub mod place;

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
