//! The guide on paper. What it says is in its own pages.

/// What the guide is called, over its contents and at the foot of its pages.
pub const NAME: &str = "The Spelk guide";

/// Over the list of its pages.
pub const CONTENTS: &str = "Contents";

/// A picture that is on the screen alone, by its caption.
pub fn picture(caption: &str) -> String {
    format!("Picture on the screen: {caption}")
}

/// In front of an entry of a list.
pub fn bullet(number: Option<u64>) -> String {
    number.map_or_else(|| "•".to_owned(), |number| format!("{number}."))
}
