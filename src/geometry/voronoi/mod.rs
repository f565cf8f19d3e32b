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
//! corners of that lower envelope are the corners of the cell.
//!
//! # How sites are found
//!
//! A tree of boxes says which sites can count: those that reach into a disc which the envelope so far allows.
//! Along one curve of the envelope those discs fill the convex hull of the first and the last, and that is
//! what the tree is asked for, a *window* at a time. Where too much comes near, the window is cut at a corner
//! of the envelope, so that a cell which is narrow at one end and wide at the other never looks for the wide
//! discs along all of its edge. Boxes are turned the way their edges run, and edges are halved into boxes by
//! area, so long slanting edges that lie side by side have thin boxes side by side.
//! Windows overlap by more than curves do, and none is narrower than that: what one curve leaves to the next at
//! the end of a window is then seen from one side or the other.
//!
//! Where nothing is known yet, the disc that is tried first takes in all, and only a near edge makes it small. That
//! walk takes whichever box may be nearest next, wherever it lies in the tree; one that went down into a box before
//! the box beside it looked at a thousand edges of a hundred thousand in concentric rings, for each of them. A window in
//! which boxes come near by the hundred, and which is not worth cutting, gets such a walk at its middle too.
//!
//! The cells of edges report what the nodes beside them border on, which leaves gaps where nodes border on
//! nodes alone. Gaps that close a ring are triangulated (`ring.rs`). In one that does not, all discs through
//! two nodes lie within the first and the last of them together, so each corner costs one look at one disc.
//!
//! # The curve at one distance
//!
//! What is so far from the outline is straight in the cell of an edge and an arc in that of a node. `level.rs` strings
//! those pieces together where edges of the diagram pass the distance, for the passes of a
//! cutter, whose diagram is kept with the widths, and for offsets of outlines whose own offsets would cut each other by
//! the thousand. Grown back by the same distance, it is what a disc of that radius reaches: each piece becomes the site it
//! goes round, and each corner a part of the disc there.
//!
//! # An outline that changed
//!
//! A mended outline differs from what it was in a few places. Cells that bordered on nothing that is gone, and have no
//! disc that something new comes into, are taken over (`change.rs`); the rest is worked out, and nodes go by what their
//! segments report, as ever.
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
//! Near-linear for most outlines; `benches/README.md` has the figures by shape. Sorting, boxes, reports of
//! nodes and closed rings of gaps take `O(n log n)`. There is no such bound for the walks through the tree:
//! a disc that all but touches many edges looks into the box of each. The worst case known is a regular
//! polygon, whose largest discs touch nearly every side.

mod boxes;
mod cell;
mod change;
mod diagram;
mod envelope;
mod level;
mod ring;
mod sites;
mod tuning;
mod wedge;

pub(super) use boxes::{BoxTree, Walk};
pub(super) use cell::Edge;
pub(super) use change::{Cells, Change, Known};
pub(super) use diagram::edges_after;
pub(crate) use level::LevelCurve;
pub(super) use sites::{Direction, Face, Site, Sites, point};
pub(super) use tuning::MERGED_STEPS;
