//! Words of the window: guide.

#![expect(missing_docs, reason = "a sentence says what it says")]

pub const GUIDE: &str = "Guide";
pub const SEARCH: &str = "Search the guide";
pub const NOTHING_FOUND: &str = "Nothing in the guide holds all of these words";
