//! Everything a person can ask of the window, and how it is offered.

pub(crate) mod arrange;
pub(crate) mod board;
pub(crate) mod command;
pub(crate) mod element;
pub(crate) mod entry;
pub(crate) mod export;
pub(crate) mod folder;
pub(crate) mod list;
pub(crate) mod menu_bar;
pub(crate) mod menus;
pub(crate) mod middle;
pub(crate) mod situation;
pub(crate) mod table;
