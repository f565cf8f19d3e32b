//! Round the guide's own pages, on the screen and on paper.

/// What it is called on paper.
pub const NAME: &str = "The Spelk guide";

/// Over the list of its pages.
pub const CONTENTS: &str = "Contents";

/// A picture that its files have, by its caption.
pub fn picture(caption: &str) -> String {
    format!("Picture: {caption}")
}

/// In front of an entry of a list.
pub fn bullet(number: Option<u64>) -> String {
    number.map_or_else(|| "•".to_owned(), |number| format!("{number}."))
}
