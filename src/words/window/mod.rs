//! The words of the window: captions, hovers, and what it says, a file for each room of `app`.
//!
//! A caption without facts is a constant named after its own words.

pub mod board;
pub mod commands;
pub mod documents;
pub mod elements;
pub mod findings;
pub mod handle;
pub mod lesson;
pub mod relief;
pub mod shell;
pub mod shop;
pub mod sizes;
pub mod widgets;
pub mod work;
