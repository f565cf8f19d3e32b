//! After the carve: which walls held and which broke, said on the board or in a list, and what the shop's record of
//! such walls comes to.

mod list;
pub(crate) mod marks;
mod plot;
pub(crate) mod view;
mod window;

pub(crate) use window::record_ui;
