//! From a proof to pictures and files.

pub mod json;
pub mod text;
