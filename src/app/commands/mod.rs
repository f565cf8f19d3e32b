//! Everything a person can ask of the window, and how it is offered.

pub(crate) mod arrange;
pub(crate) mod board;
pub(crate) mod command;
pub(crate) mod element;
pub(crate) mod export;
pub(crate) mod list;
pub(crate) mod menu;
pub(crate) mod middle;
pub(crate) mod table;
