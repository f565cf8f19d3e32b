//! The Voronoi diagram of an outline.

mod boxes;
mod cell;
mod diagram;
mod envelope;
mod sites;
mod tuning;
mod wedge;

pub(super) use boxes::BoxTree;
pub(super) use cell::Edge;
pub(super) use diagram::edges;
pub(super) use sites::{Face, Site, Sites, point};
pub(super) use tuning::MERGED_STEPS;
