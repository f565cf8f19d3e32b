//! The Voronoi diagram of an outline: which edge or corner is nearest, everywhere inside and outside it.
//!
//! The medial axis, and so every width of a wall or groove, is read off this diagram
//! ([`widths`](super::widths)).
//!
#![doc = include_str!("../../../docs/figures/voronoi.svg")]
//!
//! # What it computes
//!
//! The *sites* are the edges of the outline, without their ends, and the nodes where edges meet. The *cell*
//! of a site is every place that is nearer to it than to any other. A Voronoi *edge* is where two cells meet:
//! straight between two edges or two nodes, a parabola between an edge and a node. Each side of the outline,
//! the *face* inside and the face outside, is worked out by itself.
//!
//! Each cell is found alone. At each place of an edge there is one largest disc that touches it there and
//! crosses nothing; along the edge its radius is the lowest of one simple curve for each other site. The
//! corners of that lower envelope are the corners of the cell. A tree of boxes says which sites can count:
//! those that reach into a disc which the envelope so far allows. The cells of edges report what the nodes
//! beside them border on, which leaves only a few nodes to search.
//!
//! # Spaces
//!
//! Input is the integer lattice of a [`Grid`](super::Grid), nodes within 2^28 steps. Everything here is in
//! lattice steps; millimetres come after. What must not depend on rounding, such as the side of a line a node
//! lies on, is worked out in whole numbers; the rest in `f64`, in the frame of the cell's own site.
//!
//! # Guarantees
//!
//! - The same input gives the same bytes on any number of threads: cells do not depend on each other, and
//!   blocks of them are put together in a fixed order.
//! - The order of rings, and where each starts, play no part: sites are sorted by place first.
//! - No panic and no error: a clean [`Region`](super::Region) is all it asks for.
//! - A corner of a cell is off by a millionth of a step, unless its two curves all but coincide.
//!
//! # Ties
//!
//! Where four or more sites are equally far from a place, the diagram has one vertex of many edges. It may
//! come out as several vertices with edges between them that are too short to matter; vertices nearer than a
//! quarter of a step are made one when the axis is put together, and shorter edges are dropped.
//!
//! # Cost
//!
//! Near-linear for most outlines: 5.0 to 6.8 µs an edge for both width maps from a thousand edges to a
//! million, on two cores (`benches/README.md`). The worst case is a regular polygon, whose largest disc
//! touches every side: quadratic in the sides of one polygon.

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
