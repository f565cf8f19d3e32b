//! Words of the window: widgets.

#![expect(missing_docs, reason = "a sentence says what it says")]

pub const CLOSE: &str = "Close";
pub const A_NUMBER_IS_MISSING: &str = "a number is missing";
pub const IT_MUST_BE_OVER_0: &str = "it must be over 0";
pub const HACK_BEHIND: &str = "Hack behind";
