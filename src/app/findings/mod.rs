//! What the proof says: the verdict, the findings, the strip of sizes and the windows that explain them.

pub(crate) mod list;
pub(crate) mod mending;
pub(crate) mod seasons;
pub(crate) mod strip;
pub(crate) mod verdict;
pub(crate) mod view;
pub(crate) mod why;
