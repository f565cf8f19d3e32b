//! The carved surface: seen from any side, cut through along a line, and played as the machine carves it.
//!
//! [`view::ReliefView`] holds what is seen; what has been worked out is in [`worked`], each piece brought by a worker. In
//! a frame things are only looked up and drawn: the surface is a picture that a worker shaded.

pub(crate) mod card;
pub(crate) mod clearing;
pub(crate) mod clock;
pub(crate) mod desk;
pub(crate) mod eye;
pub(crate) mod light;
pub(crate) mod passes;
pub(crate) mod picture;
pub(crate) mod piece;
pub(crate) mod section;
pub(crate) mod surface;
pub(crate) mod time;
pub(crate) mod view;
pub(crate) mod worked;
