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
//! # How
//!
//! Let the outline burn away from itself, evenly: the *front* (`front.rs`) at any distance is all that is just so far from it,
//! in closed chains of arcs that each belong to one site, and where two arcs meet it runs along an edge of the diagram.
//! Blum thought of the medial axis in this way (*A transformation for extracting new descriptors of shape*, 1967, from
//! memory); shrinking a polygon by its events, arcs that vanish and arcs that meet others, is known from straight
//! skeletons. When an arc vanishes is known from its site and the two beside it. Where arcs of different parts run into
//! each other is where those parts are nearest: a *contact* (`contact.rs`). Each of those places is found before, by
//! itself.
//!
//! So the face is cut at all of its contacts before the front sets out (`chains.rs`). What is left of the outline are
//! chains that go their own ways: small ones mostly, each burnt by one thread, near in memory.
//!
//! Why that is the whole diagram: follow an edge of it towards where the distance is less. It ends in a corner of the
//! outline; or where the distance is least along it, which is a contact; or in a vertex, and from there two other edges
//! lead on to less. So if all is right up to some distance, what happens next is one of two things, and the one, that arcs
//! run into each other, is done with. Between the arcs that a cut has made neighbours nothing happens before the front is
//! there, for along the edge between them the distance is least at the contact.
//!
//! Discs that touch a segment and two other sites are told in the segment's own frame (`frame.rs`). A tree of boxes
//! (`boxes.rs`), turned the way their edges run, says what lies in a part of the plane.
//!
//! # The curve at one distance
//!
//! What is so far from the outline is straight in the cell of an edge and an arc in that of a node. `level.rs` strings
//! those pieces together where edges of the diagram pass the distance, for the passes of a
//! cutter, whose diagram is kept with the widths, and for offsets of outlines whose own offsets would cut each other by
//! the thousand. Grown back by the same distance, it is what a disc of that radius reaches: each piece becomes the site it
//! goes round, and each corner a part of the disc there.
//!
//! # Spaces
//!
//! Input is the integer lattice of a [`Grid`](super::Grid), nodes within 2^28 steps. Everything here is in
//! lattice steps; millimetres come after. What must not depend on rounding, such as the side of a line a node
//! lies on or whether it lies in a contact's disc, is worked out in whole numbers; the rest in `f64`, in the frame of a
//! segment.
//!
//! # Guarantees
//!
//! - The same input gives the same bytes on any number of threads: each contact and each chain is worked out by itself, and
//!   they are brought together in the order of their sites.
//! - The order of rings, and where each starts, play no part: sites are sorted by place first.
//! - No panic and no error: a clean [`Region`](super::Region) is all it asks for.
//! - A vertex is as far from its three sites, and from nothing else less, to a ten-thousandth of a step and a ten-millionth
//!   of its distance, which is what the tests ask for; most are good to the last bits.
//!
//! # Ties
//!
//! Where four or more sites are equally far from a place, the diagram has one vertex of many edges. It may
//! come out as several vertices with edges between them that are too short to matter; vertices nearer than a
//! quarter of a step are made one when the axis is put together, and shorter edges are dropped.
//!
//! # Cost
//!
//! The front takes `O(n log n)` for every outline: each event takes an arc away, a contact adds two to begin with, and there
//! are no more contacts than edges of the diagram. So do sorting and boxes. A search for contacts goes down the tree to
//! what lies in its narrow view; what is met there is cut off at once. For that there is no proof, but no outline that was
//! tried takes more than some tens of boxes a node, whatever its size, but for one whose nodes do have hundreds of contacts
//! each. Discs that all but touch many edges, as in a regular polygon, cost nothing here: they are no contacts.

mod boxes;
mod chains;
mod contact;
mod diagram;
mod frame;
mod front;
mod level;
mod sites;
mod tuning;

pub(super) use boxes::{BoxTree, Walk};
pub(super) use diagram::{Edge, edges};
pub(crate) use level::LevelCurve;
pub(super) use sites::{Direction, Face, Site, Sites, point};
pub(super) use tuning::MERGED_STEPS;
