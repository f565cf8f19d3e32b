//! How the window is divided, and what stands round its rooms.

pub(crate) mod cards;
mod choosing;
pub(crate) mod help;
pub(crate) mod messages;
pub(crate) mod over_board;
pub(crate) mod over_middle;
pub(crate) mod panels;
pub(crate) mod view;
