//! Every constant that the diagram's speed or accuracy depends on, and how each was found.
//!
//! Lengths are lattice steps. Where no trial is named, how the value was found is not recorded. A change to
//! one of the speed constants is judged by `cargo bench --bench widths` and `benches/peers/run`; it must not
//! change a single result.

// Speed. Results do not depend on these.

/// How many cells one thread works out in a row. Guesses are handed on within a block alone. Not recorded.
pub(super) const BLOCK: usize = 512;

/// After so many candidates a long edge is cut in two: one of its ends is probably beside something wide
/// and the other beside much that is narrow. Not recorded.
pub(super) const CROWDED: u32 = 48;

/// How often an edge is cut in two at most. Not recorded.
pub(super) const MOST_CUTS: u32 = 24;

/// The first bound of radii, over an edge's length. Not recorded.
pub(super) const FIRST_BOUND: f64 = 4.0;

/// By how much a bound of radii grows that was too small. Not recorded.
pub(super) const LARGER_BOUND: f64 = 4.0;

/// Half the angle, in radians, of the parts in which wide wedges are searched: discs through a node spread
/// too far round it to ask for all of them at once. Not recorded.
pub(super) const WIDEST_PART: f64 = 0.25;

/// So many of those make half a turn.
pub(super) const MOST_PARTS: u32 = 7;

/// Rings of gaps with more nodes are searched: putting them together takes time that grows with the square.
/// Not recorded.
pub(super) const LONGEST_RING: usize = 64;

// Accuracy. Each allows for the rounding that it names; how its size was found is not recorded.

/// Vertices nearer than this are one, and edges shorter than this are none. The same vertex is worked out
/// once for each cell round it; where one edge goes on as another and turns by next to nothing, say one part
/// in 10^8, that comes out a tenth of a step apart for a large disc (up to a step at worst, for a disc as
/// large as the lattice; then two pieces do not join that should). And four cells that meet in a point may
/// come out as two vertices with an edge between them.
pub(in crate::geometry) const MERGED_STEPS: f64 = 0.25;

/// By how much boxes are drawn too large, as a share of the outline's extent: what single precision
/// leaves out of a product or three.
pub(super) const SINGLE_PRECISION: f64 = 1.0 / (1 << 20) as f64;

/// Curves are defined over so much more than they should be, so that rounding leaves no gap between an edge
/// and its end.
pub(super) const OVERLAP: f64 = 1e-6;

/// The same round a node, as the tangent of an angle.
pub(super) const OVERLAP_TURN: f64 = 1e-14;

/// How far apart the same place may come out in two parts of a wedge.
pub(super) const SAME_PLACE: f64 = 0.01;

/// How far the radius of a disc may miss a node that it should touch, in steps.
pub(super) const MISSED_STEPS: f64 = 0.01;

/// And by what share of the radius besides.
pub(super) const MISSED_SHARE: f64 = 1e-8;

/// Stretches round a node that are next to each other meet within so many steps, however large the disc.
pub(super) const MEETING_STEPS: f64 = 1.0;
