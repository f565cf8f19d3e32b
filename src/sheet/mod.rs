//! From a proof to pictures and files.

mod lettering;
pub mod picture;
