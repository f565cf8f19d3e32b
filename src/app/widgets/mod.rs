//! What every room draws with. Nothing here knows a command.

pub(crate) mod camera;
pub(crate) mod figure;
pub(crate) mod form;
pub(crate) mod hand;
pub(crate) mod image;
pub(crate) mod length_field;
pub(crate) mod look;
pub(crate) mod marks;
pub(crate) mod outlines;
pub(crate) mod plot;
pub(crate) mod region;
pub(crate) mod window;
