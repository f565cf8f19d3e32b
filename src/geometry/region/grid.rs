//! The integer lattice that outlines are snapped to, so that clipping and the medial axis are exact.

use crate::geometry::Rect;
use glam::DVec2;
use i_overlay::i_float::int::point::IntPoint;

/// Half the extent of a design, in steps. Well inside what the overlay engine allows (2^30 - 1) with
/// a factor eight to spare for a frame round the design; at 300 mm a step is about 2 nm.
const HALF_EXTENT_STEPS: f64 = 67_108_864.0; // 2^26

/// Maps design space to an integer lattice: `design = origin + step * node`.
///
/// The step is a power of two in millimetres and the origin a whole number of steps, so the way back
/// is exact: a snapped point survives any number of round trips unchanged.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Grid {
    origin: DVec2,
    step: f64,
}

impl Grid {
    /// The finest grid that covers `bounds`. A box without extent gets a step for 1 mm.
    ///
    /// `bounds` must be finite (callers refuse other coordinates when they read a file).
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{Grid, Rect};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(300.0, 100.0)));
    /// assert!(grid.step() < 4e-6);
    /// ```
    pub fn covering(bounds: Rect) -> Grid {
        Grid::no_finer_than(0.0, bounds)
    }

    /// As [`covering`](Self::covering), but with steps of `least` millimetres or more.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{Grid, Rect};
    /// let bounds = Rect::new(dvec2(0.0, 0.0), dvec2(300.0, 100.0));
    /// assert_eq!(Grid::no_finer_than(0.25, bounds).step(), 0.25);
    /// assert_eq!(Grid::no_finer_than(1e-9, bounds), Grid::covering(bounds));
    /// ```
    pub fn no_finer_than(least: f64, bounds: Rect) -> Grid {
        let half = (bounds.size() * 0.5).max_element();
        let half = if half > 0.0 { half } else { 1.0 };
        let step = (half / HALF_EXTENT_STEPS).max(least).log2().ceil().exp2();
        Grid { origin: (bounds.center() / step).round() * step, step }
    }

    /// Whether the step is a power of two and the origin a whole number of steps within reach: what
    /// every grid made by [`covering`](Self::covering) is, and what one read from a file may not be.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{Grid, Rect};
    /// assert!(Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(300.0, 100.0))).is_whole());
    /// ```
    pub fn is_whole(&self) -> bool {
        let steps = self.origin / self.step;
        self.step.is_normal()
            && self.step > 0.0
            && self.step.to_bits().trailing_zeros() >= 52
            && steps.is_finite()
            && steps.round() == steps
    }

    /// The lattice's pitch in millimetres.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{Grid, Rect};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(300.0, 100.0)));
    /// assert_eq!(grid.step().log2().fract(), 0.0);
    /// ```
    pub fn step(&self) -> f64 {
        self.step
    }

    /// Where node 0, 0 lies: places in steps count from there.
    pub(crate) fn origin(&self) -> DVec2 {
        self.origin
    }

    /// Whether a point is near enough to the covered box to have a node of its own, and is finite.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{Grid, Rect};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(300.0, 100.0)));
    /// assert!(grid.reaches(dvec2(310.0, -5.0)));
    /// assert!(!grid.reaches(dvec2(5000.0, 0.0)));
    /// ```
    pub fn reaches(&self, point: DVec2) -> bool {
        ((point - self.origin) / self.step).abs().max_element() <= 4.0 * HALF_EXTENT_STEPS
            && point.is_finite()
    }

    /// Design space to the nearest node. Points far outside the covered box are clamped to it, four
    /// extents away.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{Grid, Rect};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(300.0, 100.0)));
    /// let node = grid.node(dvec2(12.3, 45.6));
    /// assert!(grid.point(node).distance(dvec2(12.3, 45.6)) < grid.step());
    /// ```
    pub fn node(&self, point: DVec2) -> IntPoint<i32> {
        let steps = ((point - self.origin) / self.step).round();
        let limit = 4.0 * HALF_EXTENT_STEPS;
        let steps = steps.clamp(DVec2::splat(-limit), DVec2::splat(limit));
        IntPoint::new(steps.x as i32, steps.y as i32)
    }

    /// A node back to design space, exactly.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{Grid, Rect};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(300.0, 100.0)));
    /// let snapped = grid.point(grid.node(dvec2(12.3, 45.6)));
    /// assert_eq!(grid.point(grid.node(snapped)), snapped);
    /// ```
    pub fn point(&self, node: IntPoint<i32>) -> DVec2 {
        self.origin + DVec2::new(f64::from(node.x), f64::from(node.y)) * self.step
    }
}
