//! The board's photograph.

use std::fmt::Display;

/// The board is drawn without its photograph; `error` says why and starts with a verb.
pub fn drawn_without(file: &str, error: &dyn Display) -> String {
    format!("{file} {error}; the picture shows drawn wood instead")
}
