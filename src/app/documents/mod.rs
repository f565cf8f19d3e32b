//! The jobs that are open: several at once, one of them shown; where each came from, what is followed
//! on disk, and what is kept against a crash.

pub(crate) mod dialogs;
pub(crate) mod document;
pub(crate) mod drawing;
pub(crate) mod keeper;
pub(crate) mod opening;
pub(crate) mod path_field;
pub(crate) mod questions;
pub(crate) mod shelf;
pub(crate) mod watch;
pub(crate) mod windows;
