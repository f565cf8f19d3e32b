//! The elements of the design: the list of them, the marks of the chosen ones on the board, and what is
//! done with them.

pub(crate) mod arrange;
pub(crate) mod edited;
pub(crate) mod handles;
pub(crate) mod lettering;
pub(crate) mod list;
pub(crate) mod mark;
pub(crate) mod places;
pub(crate) mod reading;
pub(crate) mod rows;
pub(crate) mod tree;
pub(crate) mod typefaces;
pub(crate) mod view;
