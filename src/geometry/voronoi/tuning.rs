//! Every constant that the diagram's speed or accuracy depends on, and how each was found.
//!
//! Lengths are lattice steps. Where no trial is named, how the value was found is not recorded. A change to
//! one of the speed constants is judged by `cargo bench --bench widths` and `benches/peers/run`; it must not
//! change a single result.

// Speed. Results do not depend on these.

/// How many cells one thread works out in a row. Guesses are handed on within a block alone. Not recorded.
pub(super) const BLOCK: usize = 512;

/// So many blocks for each thread are done before what came of them is gathered. A round value of our own.
pub(super) const AT_A_TIME: usize = 32;

/// After so many boxes a window is cut, if that can help. Of 12, 24 and 48 this took the fewest boxes on ten of
/// eleven ornaments of about 4,000 edges; regular polygons and parabolas took an eighth less time with 24.
pub(super) const CROWDED: u32 = 48;

/// The first crowded window after so many, if it is short beside its largest disc: the parts see nearly as much as the
/// whole, and a disc in a circle of up to some 150 sides, as curves are flattened to, looks at fewer boxes. With 48 in
/// place of this circles of 128 sides took twice the time; with 96 concentric rings took 7 % more.
pub(super) const CROWDED_AT_FIRST: u32 = CROWDED * 3 / 2;

/// After so many boxes in a window that cannot be cut, its discs are far too large, as where the only edge near lies deep
/// in the tree: it is probed, which goes to the nearest box first. Without that, one cell in a hundred of a star of
/// 400,000 edges took nineteen of twenty looks. A round value of our own.
pub(super) const ASTRAY: u32 = 8 * CROWDED;

/// Such probes go on in a cell while they leave less than this share of the largest radius. A round value of our own.
pub(super) const WORTH_PROBING: f64 = 0.5;

/// Half of a curve sees as much as the whole where the window is shorter than this share of its largest radius.
/// A round value of our own.
pub(super) const LONG_SHARE: f64 = 0.125;

/// A window with one curve is cut where the curve bends away from its chord by this share. A round value
/// of our own.
pub(super) const BENT: f64 = 0.25;

/// How many places at most are probed in search of a first bound. A round value of our own.
pub(super) const MOST_PROBES: u32 = 8;

/// So many candidates are kept in mind. A round value of our own.
pub(super) const MOST_SEEN: usize = 24;

/// How far along its own ring a crowded cell guesses. Tried on an engine before this one.
pub(super) const RING_GUESSES: u32 = 3;

/// Half the angle, in radians, of the parts in which wide wedges are searched: directions are told by their
/// tangents.
pub(super) const WIDEST_PART: f64 = 0.8;

/// So many of those make half a turn.
pub(super) const MOST_PARTS: u32 = 2;

// Accuracy. Each allows for the rounding that it names; how its size was found is not recorded.

/// Vertices nearer than this are one, and edges shorter than this are none. The same vertex is worked out
/// once for each cell round it; where one edge goes on as another and turns by next to nothing, say one part
/// in 10^8, that comes out a tenth of a step apart for a large disc (up to a step at worst, for a disc as
/// large as the lattice; then two pieces do not join that should). And four cells that meet in a point may
/// come out as two vertices with an edge between them.
pub(in crate::geometry) const MERGED_STEPS: f64 = 0.25;

/// By how much boxes and hulls are drawn too large, in steps: far more than rounding in `f64`.
pub(super) const BOX_SLACK: f64 = 1e-3;

/// Curves are defined over so much more than they should be, so that rounding leaves no gap between an edge
/// and its end.
pub(super) const OVERLAP: f64 = 1e-6;

/// A curve is taken in so far beyond the window in which it was found: more than curves overlap, so that what
/// two of them leave between each other by a window's end is seen from one side or the other. No window is
/// narrower than four times this.
pub(super) const WINDOW_OVERLAP: f64 = 16.0 * OVERLAP;

/// The overlap of curves round a node, as the tangent of an angle.
pub(super) const OVERLAP_TURN: f64 = 1e-14;

/// How far apart the same place may come out in two parts of a wedge.
pub(super) const SAME_PLACE: f64 = 0.01;

/// How far the radius of a disc may miss a node that it should touch, in steps.
pub(super) const MISSED_STEPS: f64 = 0.01;

/// And by what share of the radius besides.
pub(super) const MISSED_SHARE: f64 = 1e-8;

/// Stretches round a node that are next to each other meet within so many steps, however large the disc.
pub(super) const MEETING_STEPS: f64 = 1.0;
