//! Every constant that the diagram's speed or accuracy depends on, and how each was found.
//!
//! Lengths are lattice steps. A change to one of the speed constants is judged by `cargo bench --bench widths` and
//! `benches/peers/run`; it must not change a single result.

// Speed. Results do not depend on these.

/// How many nodes one thread looks from in a row. A round value of our own.
pub(super) const BLOCK: usize = 512;

/// A view has no more corners: what would cut off more of it is not taken in. A round value of our own.
pub(super) const MOST_CORNERS: usize = 12;

/// So many of what was met just before and after what may be a contact are asked first whether they are in its way: what is
/// in the way is nearly as near. A round value of our own.
pub(super) const LIKELY: usize = 16;

/// So many of what the node before has met narrow the view at once. A round value of our own: without, a star, a comb and
/// a zigzag of 100,000 edges took a twentieth to a tenth longer, and squares a thirtieth less.
pub(super) const SEEDS: usize = 4;

/// Chains of at least so many arcs together are a group, which one thread burns; and what came of so many groups is brought
/// together before the next begin. Round values of our own.
pub(super) const ARCS: usize = 2048;
pub(super) const AT_A_TIME: usize = 16;

/// Whether work is called off is looked for after so many events. A round value of our own: some tenth of a
/// millisecond.
pub(super) const EVENTS: u64 = 512;

// Accuracy. Each allows for the rounding that it names.

/// Vertices nearer than this are one, and edges shorter than this are none. Where four cells meet in a point they come
/// out as two vertices with an edge between them.
pub(in crate::geometry) const MERGED_STEPS: f64 = 0.25;

/// By how much boxes and views are drawn too large, in steps: far more than rounding in `f64`.
pub(super) const BOX_SLACK: f64 = 1e-3;

/// By how many steps a segment comes into a disc at least for that to be clear: a hundred times what the disc's middle is
/// uncertain by. With nothing in its place, points of a few steps lost their contacts to the far side of what they touch.
pub(super) const CLEARLY: f64 = 1e-6;

/// By what share of itself a distance is uncertain at most, and by how many steps besides: two events nearer to each other
/// than this may have changed places. Round values of our own.
pub(super) const LATE_SHARE: f64 = 1e-9;
pub(super) const LATE_STEPS: f64 = 1e-3;

/// So many arcs in a row are asked which of them ends first. A round value of our own.
pub(super) const MOST_TIES: u32 = 16;
