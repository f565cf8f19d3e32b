//! Widths of walls and grooves, from the medial axis of the line between standing and carved wood.
//!
//! Everything here is measured once, in design space. Scaling a design by `k` multiplies every width
//! by `k`, so a question about a size is a lookup, never new geometry.
//!
//! The width at a point of the axis is the diameter of the largest disc that fits there: the disc
//! touches the outline in two places, and only places that see at least 120 degrees between them count
//! (two sides of a wall face each other; two sides of a square corner do not).
//!
#![doc = include_str!("../../../docs/figures/widths.svg")]
//!
//! # Ends
//!
//! - A *sharp* end, a corner of 60 degrees or less, has a width that goes to nothing at any size. The
//!   run that widens behind it is a taper. It is reported as a [`FeatureShape::Tip`], by how much of it is
//!   under the limit, never as a wall of width 0.
//! - A *blunted* point, whose end is less than an eighth as wide as its taper becomes, is a tip too:
//!   the drawn end is tiny, and what breaks off is again a length of the point. Not so where the end is that of an even
//!   stretch: that is a wall, whatever it runs into.
//! - A *blunt* end that widens, such as a serif arm, is a wall. Its width is that of the largest
//!   disc that touches the end and both sides, not the end edge itself: an arm that ends in an edge of
//!   0.8 mm and widens at 20 degrees is 0.94 mm wide. Past that disc there is no wall to measure,
//!   only two corners.
//! - A *spot*, a peg or hole about as wide as it is long, has no two sides that face each other for any length. Its
//!   width is that of the largest disc in it, and it is a piece without length.

mod axis;
mod features;
mod finish;
mod merge;
mod piece;
#[cfg(test)]
mod reference;
mod runs;
mod sectors;
mod spots;
mod taper;
mod unreached;

pub use features::{Feature, FeatureShape};
pub use piece::{AxisPoint, Piece};
pub use runs::{Run, RunEnd};
pub use unreached::{Unreached, UnreachedSpot};

use super::Region;
use super::voronoi::{Edge, Face, LevelCurve, MERGED_STEPS, Sites};
use piece::{Curve, Tip};
use rayon::prelude::*;
use std::sync::atomic::{AtomicBool, Ordering};
use unreached::Branch;

/// The walls and grooves on the two sides of one outline.
#[derive(Clone, Debug, Default)]
pub struct Widths {
    /// Widths inside the region.
    pub inside: WidthMap,
    /// Widths outside the region; the outside has no far edge.
    pub outside: WidthMap,
}

/// The kept part of the medial axis on one side of an outline, cut into monotone pieces.
#[derive(Clone, Debug, Default)]
pub struct WidthMap {
    pieces: Vec<Piece>,
    tips: Vec<Tip>,
    /// The whole axis, corners and all, in the blocks in which it was found.
    branches: Vec<Vec<Branch>>,
    /// How near, in millimetres, two ends of branches are one.
    merged: f64,
    /// On which side of the outline it lies.
    face: Face,
    /// Whether the corners are still there: outside of what is convex there are none to begin with.
    has_corners: bool,
}

impl WidthMap {
    fn of(axis::Side { pieces, tips, branches }: axis::Side, step: f64, face: Face) -> WidthMap {
        WidthMap { pieces, tips, branches, merged: MERGED_STEPS * step, face, has_corners: true }
    }

    /// The same widths without what [`unreached`](Self::unreached) and [`level_curve`](Self::level_curve) ask, which is
    /// most of the memory: they then find nothing.
    #[must_use]
    pub(crate) fn without_corners(self) -> WidthMap {
        WidthMap { branches: Vec::new(), has_corners: false, ..self }
    }

    /// What a round cutter of `radius` design millimetres does not reach: all that is farther than `radius`
    /// from everywhere its middle can go. Nothing if `radius` is no radius.
    ///
    /// Exact but for a millionth of the radius, by which it is taken smaller where an end of the axis is
    /// just as wide; that much sharper is each corner, too. A radius may be as large as the outline's extent;
    /// places farther out than that are not known. `O(n)` in edges, and `O(hits log hits)` in
    /// what is narrower than the cutter, which every corner is.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region, widths::measure};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(40.0, 10.0)));
    /// let bar = vec![dvec2(0.0, 0.0), dvec2(40.0, 0.0), dvec2(40.0, 10.0), dvec2(0.0, 10.0)];
    /// let widths = measure(&Region::clean(grid, &[bar], FillRule::NonZero));
    /// let unreached = widths.inside.unreached(3.0);
    /// assert_eq!(unreached.spots.len(), 4);
    /// let four_corners = (4.0 - std::f64::consts::PI) * 9.0;
    /// assert!((unreached.area - four_corners).abs() < 1e-4);
    /// ```
    pub fn unreached(&self, radius: f64) -> Unreached {
        unreached::unreached(&self.branches, radius, self.merged)
    }

    /// The curve at `distance` design millimetres from the outline that was measured, on this side of it. `None` where it
    /// cannot be told, or the axis was let go. A walk along the axis, `O(n log n)` in edges: no geometry is worked out
    /// anew.
    pub(crate) fn level_curve(&self, outline: &Region, distance: f64) -> Option<LevelCurve> {
        if !self.has_corners {
            return None;
        }
        let grid = outline.grid();
        let (origin, step) = (grid.origin(), grid.step());
        let edge = |branch: &Branch| Edge {
            sites: branch.sites,
            face: self.face,
            ends: [branch.narrow, branch.wide].map(|at| (at - origin) / step),
        };
        let blocks = self.branches.par_iter().map(|block| block.iter().map(edge).collect());
        LevelCurve::of(outline, Sites::of(&outline.node_segments()), self.face, blocks, distance)
    }

    /// Every kept piece of the axis, narrowest first.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region, widths::measure};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(40.0, 10.0)));
    /// let bar = vec![dvec2(0.0, 0.0), dvec2(40.0, 0.0), dvec2(40.0, 10.0), dvec2(0.0, 10.0)];
    /// let widths = measure(&Region::clean(grid, &[bar], FillRule::NonZero));
    /// assert_eq!(widths.inside.pieces().len(), 1); // corners are no walls
    /// assert!(widths.outside.pieces().is_empty());
    /// ```
    pub fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    /// The least width of a wall or groove, tapers apart; `None` where there is none.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region, widths::measure};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(50.0, 10.0)));
    /// let bar = |x: f64| vec![dvec2(x, 0.0), dvec2(x + 6.0, 0.0), dvec2(x + 6.0, 10.0), dvec2(x, 10.0)];
    /// let two = Region::clean(grid, &[bar(0.0), bar(8.0)], FillRule::NonZero);
    /// let widths = measure(&two);
    /// assert_eq!(widths.inside.least(), Some(6.0));
    /// assert_eq!(widths.outside.least(), Some(2.0));
    /// ```
    pub fn least(&self) -> Option<f64> {
        self.pieces.iter().find(|piece| !piece.taper).map(|piece| piece.narrow.width)
    }
}

/// Debug builds check a region's promises up to this many edges: the engine would take edges that cross in
/// silence and give a wrong diagram. More would be slow.
const CHECKED_SEGMENTS: usize = 2000;

/// Measures both sides of a region's outline.
///
/// The outside is measured as if it went on for ever. Widths are exact to a lattice step (2 nm at
/// 300 mm). An empty region has no widths. `O(n log n)` in edges for every outline that was tried, some microseconds each.
/// Uses every core, and gives the same to the bit on any number of them.
///
/// Places where two parts of an outline touch in a point have no width and are left out.
///
/// ```
/// # use glam::dvec2;
/// use spelk::geometry::{FillRule, Grid, Rect, Region, widths::measure};
/// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(40.0, 10.0)));
/// let bar = vec![dvec2(0.0, 0.0), dvec2(40.0, 0.0), dvec2(40.0, 10.0), dvec2(0.0, 10.0)];
/// let widths = measure(&Region::clean(grid, &[bar], FillRule::NonZero));
/// assert_eq!(widths.inside.least(), Some(10.0));
/// ```
pub fn measure(region: &Region) -> Widths {
    measure_unless(region, &AtomicBool::new(false)).expect("it is never called off")
}

/// [`measure`] that looks now and then whether it is called off; `None` then. It looks every tenth of a millisecond or so
/// while the diagram is made, and between the steps after it.
pub fn measure_unless(region: &Region, cancel: &AtomicBool) -> Option<Widths> {
    let segments = region.node_segments();
    if segments.is_empty() {
        return Some(Widths::default());
    }
    if cfg!(debug_assertions) && segments.len() < CHECKED_SEGMENTS {
        region.check_invariants();
    }
    let grid = region.grid();
    let [inside, outside] = axis::sides(&segments, grid.origin(), grid.step(), cancel)?;
    let side = |side, face| WidthMap::of(side, grid.step(), face);
    let (inside, outside) = rayon::join(|| side(inside, Face::Inside), || side(outside, Face::Outside));
    (!cancel.load(Ordering::Relaxed)).then_some(Widths { inside, outside })
}

/// The medial axis inside a region as far as its two nearest places are at least `least` radians apart, seen
/// from it: what a pointed cutter follows. Unlike the width maps it runs on into corners (a corner of
/// interior angle `a` has a branch that sees `pi - a`). One chain of points a piece, from narrow to wide, with
/// the width at each; curves are cut so that chords stray by a few thousandths of the width. Pieces that
/// meet share the place, to a lattice step. Near-linear in edges for most outlines.
///
/// ```
/// # use glam::dvec2;
/// use spelk::geometry::{FillRule, Grid, Rect, Region, widths::axis_within};
/// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(40.0, 10.0)));
/// let bar = vec![dvec2(0.0, 0.0), dvec2(40.0, 0.0), dvec2(40.0, 10.0), dvec2(0.0, 10.0)];
/// let axis = axis_within(&Region::clean(grid, &[bar], FillRule::NonZero), 0.5);
/// assert_eq!(axis.len(), 5); // the middle, and a branch into each corner
/// ```
#[expect(clippy::cast_sign_loss, reason = "a count from 1 to 16")]
pub fn axis_within(region: &Region, least: f64) -> Vec<Vec<AxisPoint>> {
    let segments = region.node_segments();
    if segments.is_empty() {
        return Vec::new();
    }
    let grid = region.grid();
    let origin = grid.origin();
    let chain = |piece: &Piece| {
        let [from, to] = piece.curve.range();
        let count = match piece.curve {
            Curve::Line => 1,
            Curve::Parabola { h: size, .. } | Curve::Bisector { d: size, .. } => {
                // Even steps in the angle seen, which are short where the curve bends most.
                let (from, to) = ((from / size).atan(), (to / size).atan());
                ((to - from) / 0.12).ceil().clamp(1.0, 16.0) as u32
            }
        };
        let stop = |i: u32| match piece.curve {
            _ if i == 0 => piece.narrow,
            _ if i == count => piece.wide,
            Curve::Line => piece.wide,
            Curve::Parabola { h: size, .. } | Curve::Bisector { d: size, .. } => {
                let (from, to) = ((from / size).atan(), (to / size).atan());
                piece.place(size * (from + (to - from) * f64::from(i) / f64::from(count)).tan())
            }
        };
        (0..=count).map(stop).collect()
    };
    axis::inside(&segments, origin, grid.step(), least).iter().map(chain).collect()
}
