//! Clean regions: outlines that do not cross, overlap or repeat, with their holes.

mod below;
mod grid;
mod locate;
mod noding;
mod offset;
mod uncrossed;

pub use grid::Grid;
pub use locate::Locator;
pub(super) use offset::turn_of_chord;

use super::Rect;
use glam::DVec2;
use i_overlay::core::fill_rule::FillRule as OverlayFillRule;
use i_overlay::core::overlay::{IntOverlayOptions, Overlay, ShapeType};
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::core::solver::{Precision, Solver};
use i_overlay::i_float::int::point::IntPoint;
use i_overlay::i_shape::int::shape::IntShapes;
use noding::Corners;

/// Which places an outline fills where it winds round them more than once (SVG 1.1 section 11.3).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FillRule {
    /// Filled where the outline winds round at all.
    NonZero,
    /// Filled where the outline winds round an odd number of times.
    EvenOdd,
}

/// The farthest a region is grown, in lattice steps: twice a design's extent.
const FARTHEST: f64 = 134_217_728.0; // 2^27

/// A set of polygons with holes, snapped to a [`Grid`].
///
/// What it promises: rings are closed (the last point is not repeated), outer rings run
/// counter-clockwise and holes clockwise, so the region always lies to the left of a ring; edges meet
/// only at their ends; no edge is repeated and none has zero length. Rings may touch at a point.
/// Empty is allowed.
///
/// Regions that are combined share one grid. A region is never scaled, and moved by whole steps of its grid alone:
/// questions about a size are lookups in its measured widths.
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    grid: Grid,
    shapes: IntShapes<i32>,
    /// Worked out once: every question about a size asks for it.
    bounds: Option<Rect>,
}

/// A corner of an outline, in lattice steps.
type Node = IntPoint<i32>;

/// An edge of an outline, by its two nodes; the region lies to its left.
pub(super) type Segment = [IntPoint<i32>; 2];

/// One closed outline of a [`Region`].
#[derive(Clone, Copy)]
pub struct Ring<'a> {
    grid: Grid,
    nodes: &'a [IntPoint<i32>],
    /// Whether the ring bounds a hole.
    pub hole: bool,
}

impl Region {
    /// Nothing.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// assert!(Region::empty(grid).is_empty());
    /// ```
    pub fn empty(grid: Grid) -> Region {
        Region { grid, shapes: Vec::new(), bounds: None }
    }

    /// Cleans outlines: closes them, resolves crossings by the fill rule, snaps them to the grid.
    ///
    /// Rings of fewer than three points, and slivers that vanish on the grid, are dropped. Points must
    /// be finite. `O(n log n)` in points and crossings.
    ///
    /// ```
    /// use glam::dvec2;
    /// use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// let square = |a: f64, b: f64| vec![dvec2(a, a), dvec2(b, a), dvec2(b, b), dvec2(a, b)];
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// let frame = Region::clean(grid, &[square(0.0, 30.0), square(10.0, 20.0)], FillRule::EvenOdd);
    /// assert!((frame.area() - 800.0).abs() < 1e-3);
    /// ```
    pub fn clean(grid: Grid, rings: &[Vec<DVec2>], rule: FillRule) -> Region {
        if let Some(shapes) = uncrossed::filled(grid, rings, rule) {
            return Region::of(grid, shapes);
        }
        let points = rings.iter().map(Vec::len).sum();
        Region::cleaned_by(new_overlay(points), grid, rings, rule)
    }

    /// The region that these rings were written from: as `clean` with the rule `NonZero`, but corners on straight edges
    /// stay. So [`Region::rings`] gives what was written, and what is written again is the same.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{Grid, Rect, Region};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(10.0, 10.0)));
    /// let ring = vec![dvec2(0.0, 0.0), dvec2(4.0, 0.0), dvec2(10.0, 0.0), dvec2(10.0, 10.0)];
    /// assert_eq!(Region::restored(grid, &[ring]).segment_count(), 4);
    /// ```
    pub fn restored(grid: Grid, rings: &[Vec<DVec2>]) -> Region {
        let points = rings.iter().map(Vec::len).sum();
        let overlay = Overlay::new_custom(points, IntOverlayOptions::keep_all_points(), solver());
        Region::cleaned_by(overlay, grid, rings, FillRule::NonZero)
    }

    fn cleaned_by(mut overlay: Overlay<i32>, grid: Grid, rings: &[Vec<DVec2>], rule: FillRule) -> Region {
        for ring in rings {
            overlay.add_path_iter(ring.iter().map(|&p| grid.node(p)), ShapeType::Subject);
        }
        let rule = match rule {
            FillRule::NonZero => OverlayFillRule::NonZero,
            FillRule::EvenOdd => OverlayFillRule::EvenOdd,
        };
        Region::of(grid, overlay.overlay(OverlayRule::Subject, rule))
    }

    /// Everything that is in any of `regions`, on `grid`.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// let both = Region::union(grid, [&square(0.0, 10.0), &square(5.0, 15.0)]);
    /// assert_eq!(both.area(), 175.0);
    /// ```
    pub fn union<'a>(grid: Grid, regions: impl IntoIterator<Item = &'a Region>) -> Region {
        let regions: Vec<&Region> = regions.into_iter().collect();
        if let [only] = regions.as_slice() {
            only.assert_on(grid);
            return (*only).clone();
        }
        let corners = Corners::of(regions.iter().map(|region| &region.shapes));
        let mut overlay = new_overlay(regions.iter().map(|region| region.segment_count()).sum());
        for region in regions {
            region.assert_on(grid);
            region.add_to(&mut overlay, ShapeType::Subject, corners.as_ref());
        }
        Region::of(grid, overlay.overlay(OverlayRule::Subject, OverlayFillRule::NonZero))
    }

    /// The part of this region that is not in `other`.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// assert_eq!(square(0.0, 10.0).minus(&square(2.0, 4.0)).area(), 96.0);
    /// ```
    #[must_use]
    pub fn minus(&self, other: &Region) -> Region {
        self.combined(other, OverlayRule::Difference)
    }

    /// The part of this region that is in none of `others`: as [`minus`](Region::minus) for each, in one go.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// assert_eq!(square(0.0, 10.0).minus_all(&[square(2.0, 4.0), square(3.0, 5.0)]).area(), 93.0);
    /// ```
    #[must_use]
    pub fn minus_all(&self, others: &[Region]) -> Region {
        let mut overlay = new_overlay(self.segment_count());
        let corners = Corners::of(others.iter().chain([self]).map(|region| &region.shapes));
        self.add_to(&mut overlay, ShapeType::Subject, corners.as_ref());
        for other in others {
            other.assert_on(self.grid);
            other.add_to(&mut overlay, ShapeType::Clip, corners.as_ref());
        }
        Region::of(self.grid, overlay.overlay(OverlayRule::Difference, OverlayFillRule::NonZero))
    }

    /// What lies in the region and to the left of curves: closed rings, each with the same side of all of them to its
    /// left, as a curve at one distance from an outline has. They may wind more than once round what lies there. Snapped
    /// to the grid. `O(n log n)` in points.
    pub(crate) fn left_of(&self, curves: &[Vec<DVec2>]) -> Region {
        let mut overlay = new_overlay(self.segment_count() + curves.iter().map(Vec::len).sum::<usize>());
        self.add_to(&mut overlay, ShapeType::Subject, None);
        for curve in curves {
            overlay.add_path_iter(curve.iter().map(|&p| self.grid.node(p)), ShapeType::Subject);
        }
        // Beyond the curves they wind once the other way.
        Region::of(self.grid, overlay.overlay(OverlayRule::Subject, OverlayFillRule::Positive))
    }

    /// The region elsewhere on its grid: moved by whole steps of it, the nearest to `by`, so that its shape stays
    /// the same to the last bit. `O(n)` in edges.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// assert_eq!(square(0.0, 10.0).moved(dvec2(5.0, 5.0)), square(5.0, 15.0));
    /// ```
    #[must_use]
    pub fn moved(&self, by: DVec2) -> Region {
        let steps = (by / self.grid.step()).round().clamp(DVec2::splat(-FARTHEST), DVec2::splat(FARTHEST));
        let (x, y) = (steps.x as i32, steps.y as i32);
        let mut shapes = self.shapes.clone();
        for node in shapes.iter_mut().flatten().flatten() {
            *node = IntPoint::new(node.x.saturating_add(x), node.y.saturating_add(y));
        }
        Region::of(self.grid, shapes)
    }

    /// The region with its holes filled. `O(n)` in edges.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// assert_eq!(square(0.0, 10.0).minus(&square(2.0, 4.0)).filled().area(), 100.0);
    /// ```
    #[must_use]
    pub fn filled(&self) -> Region {
        let outer = |shape: &Vec<Vec<IntPoint<i32>>>| shape.iter().take(1).cloned().collect();
        // What lay in a hole of another shape lies over it now.
        let filled = Region::of(self.grid, self.shapes.iter().map(outer).collect());
        Region::union(self.grid, [&filled, &Region::empty(self.grid)])
    }

    /// The part of this region that is in `other` too.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// assert_eq!(square(0.0, 10.0).intersection(&square(5.0, 15.0)).area(), 25.0);
    /// ```
    #[must_use]
    pub fn intersection(&self, other: &Region) -> Region {
        self.combined(other, OverlayRule::Intersect)
    }

    fn combined(&self, other: &Region, rule: OverlayRule) -> Region {
        other.assert_on(self.grid);
        let mut overlay = new_overlay(self.segment_count() + other.segment_count());
        let corners = Corners::of([self, other].into_iter().map(|region| &region.shapes));
        self.add_to(&mut overlay, ShapeType::Subject, corners.as_ref());
        other.add_to(&mut overlay, ShapeType::Clip, corners.as_ref());
        Region::of(self.grid, overlay.overlay(rule, OverlayFillRule::NonZero))
    }

    /// From rings that are clean already.
    fn of(grid: Grid, shapes: IntShapes<i32>) -> Region {
        let mut region = Region { grid, shapes, bounds: None };
        region.bounds = Rect::around(region.rings().filter(|ring| !ring.hole).flat_map(Ring::points));
        region
    }

    /// Adds the region to an overlay, its edges led through the corners beside them.
    fn add_to(&self, overlay: &mut Overlay<i32>, part: ShapeType, corners: Option<&Corners>) {
        for ring in self.shapes.iter().flatten() {
            match corners {
                Some(corners) => overlay.add_path_iter(corners.lead_through(ring).into_iter(), part),
                None => overlay.add_path_iter(ring.iter().copied(), part),
            }
        }
    }

    fn assert_on(&self, grid: Grid) {
        assert!(self.grid == grid, "regions that are combined share one grid");
    }

    /// The grid the region is snapped to.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// assert_eq!(square(0.0, 10.0).grid(), grid);
    /// ```
    pub fn grid(&self) -> Grid {
        self.grid
    }

    /// Whether there is nothing in it.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// assert!(square(0.0, 10.0).minus(&square(0.0, 20.0)).is_empty());
    /// ```
    pub fn is_empty(&self) -> bool {
        self.shapes.is_empty()
    }

    /// Every ring, each outer ring followed by its holes.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// let frame = square(0.0, 10.0).minus(&square(2.0, 4.0));
    /// assert_eq!(frame.rings().map(|ring| ring.hole).collect::<Vec<_>>(), [false, true]);
    /// ```
    pub fn rings(&self) -> impl Iterator<Item = Ring<'_>> {
        self.shapes.iter().flat_map(|shape| {
            shape.iter().enumerate().map(|(index, nodes)| Ring { grid: self.grid, nodes, hole: index > 0 })
        })
    }

    /// How many edges the outlines have in all.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// assert_eq!(square(0.0, 10.0).segment_count(), 4);
    /// ```
    pub fn segment_count(&self) -> usize {
        self.shapes.iter().flatten().map(Vec::len).sum()
    }

    /// Every edge by its nodes; the region lies to the left of each.
    pub(super) fn node_segments(&self) -> Vec<Segment> {
        self.shapes.iter().flatten().flat_map(|ring| edges_of(ring)).collect()
    }

    /// Checks what the type promises, the slow way: for tests. `O(n^1.5)` in edges for most outlines.
    ///
    /// # Panics
    ///
    /// Where edges cross, touch other than at their ends, repeat or have no length, or where a ring runs
    /// the wrong way round.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(10.0, 10.0)));
    /// let bow_tie = vec![dvec2(0.0, 0.0), dvec2(10.0, 10.0), dvec2(10.0, 0.0), dvec2(0.0, 10.0)];
    /// Region::clean(grid, &[bow_tie], FillRule::NonZero).check_invariants();
    /// ```
    pub fn check_invariants(&self) {
        for ring in self.rings() {
            assert!(ring.nodes.len() >= 3, "a ring has an inside");
            assert!(
                (ring.signed_area() < 0.0) == ring.hole,
                "outer rings run counter-clockwise, holes clockwise"
            );
        }
        let mut edges = self.node_segments();
        edges.sort_unstable_by_key(|&[a, b]| a.x.min(b.x));
        for (i, &[a, b]) in edges.iter().enumerate() {
            assert!(a != b, "edge {a:?} has no length");
            let later = edges[i + 1..].iter().take_while(|[c, d]| c.x.min(d.x) <= a.x.max(b.x));
            for &other in later {
                assert!(!meet_badly([a, b], other), "edges {:?} and {other:?} cross or overlap", [a, b]);
            }
        }
    }

    /// The box round the outlines; `None` when empty.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// let bounds = square(2.0, 10.0).bounds().expect("it is not empty");
    /// assert_eq!(bounds.size(), dvec2(8.0, 8.0));
    /// ```
    pub fn bounds(&self) -> Option<Rect> {
        self.bounds
    }

    /// The region without the slivers among its pieces and holes: rings whose area is less than half
    /// their length times `thickness` millimetres. Such rings come of outlines that nearly coincide.
    ///
    /// ```
    /// use glam::dvec2;
    /// use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// let ring = |size: f64, low: f64, high: f64| {
    ///     vec![dvec2(low, low), dvec2(high, low), dvec2(high, low + size), dvec2(low, low + size)]
    /// };
    /// let slit = Region::clean(grid, &[ring(30.0, 0.0, 30.0), ring(0.001, 10.0, 20.0)], FillRule::EvenOdd);
    /// assert_eq!(slit.rings().count(), 2);
    /// assert_eq!(slit.without_slivers(0.01).rings().count(), 1);
    /// ```
    #[must_use]
    pub fn without_slivers(self, thickness: f64) -> Region {
        self.without_rings(|ring| {
            let length: f64 = ring.segments().map(|[a, b]| a.distance(b)).sum();
            ring.signed_area().abs() < 0.5 * length * thickness
        })
    }

    /// The region without the pieces and holes whose outlines enclose less than `area` square
    /// millimetres.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// let both = Region::union(grid, [&square(0.0, 10.0), &square(20.0, 21.0)]);
    /// assert_eq!(both.without_specks(2.0).area(), 100.0);
    /// ```
    #[must_use]
    pub fn without_specks(self, area: f64) -> Region {
        self.without_rings(|ring| ring.signed_area().abs() < area)
    }

    /// The region's pieces, each by itself with its holes.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// let both = Region::union(grid, [&square(0.0, 10.0).minus(&square(4.0, 5.0)), &square(20.0, 21.0)]);
    /// assert_eq!(both.pieces().map(|piece| piece.area()).collect::<Vec<_>>(), [99.0, 1.0]);
    /// ```
    pub fn pieces(&self) -> impl ExactSizeIterator<Item = Region> + '_ {
        self.shapes.iter().map(|shape| Region::of(self.grid, vec![shape.clone()]))
    }

    /// Drops pieces by their outer ring, with their holes, and holes.
    fn without_rings(mut self, dropped: impl Fn(Ring<'_>) -> bool) -> Region {
        let grid = self.grid;
        let dropped = |nodes: &Vec<IntPoint<i32>>| dropped(Ring { grid, nodes, hole: false });
        self.shapes.retain(|shape| shape.first().is_some_and(|outer| !dropped(outer)));
        for shape in &mut self.shapes {
            shape.retain(|ring| !dropped(ring));
        }
        Region::of(grid, self.shapes)
    }

    /// Area in square millimetres.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// assert_eq!(square(2.0, 10.0).area(), 64.0);
    /// ```
    pub fn area(&self) -> f64 {
        self.rings().map(Ring::signed_area).sum()
    }

    /// Whether a point lies inside (a point on an edge may be either). `O(n)` in edges; for many points of
    /// one region make a [`Locator`].
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// assert!(square(2.0, 10.0).contains(dvec2(3.0, 9.0)));
    /// ```
    pub fn contains(&self, point: DVec2) -> bool {
        is_inside(point, self.rings().flat_map(Ring::segments))
    }
}

/// Whether a point lies inside closed outlines, given by their edges: a level line from it crosses an odd number of
/// them. A point on an edge may be either. `O(n)` in edges.
///
/// ```
/// # use glam::{DVec2, dvec2};
/// # use spelk::geometry::is_inside;
/// let [a, b, c] = [DVec2::ZERO, dvec2(4.0, 0.0), dvec2(0.0, 4.0)];
/// assert!(is_inside(dvec2(1.0, 1.0), [[a, b], [b, c], [c, a]]));
/// assert!(!is_inside(dvec2(3.0, 3.0), [[a, b], [b, c], [c, a]]));
/// ```
pub fn is_inside(point: DVec2, edges: impl IntoIterator<Item = [DVec2; 2]>) -> bool {
    let is_crossed = |&[a, b]: &[DVec2; 2]| {
        (a.y > point.y) != (b.y > point.y) && point.x < a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x)
    };
    edges.into_iter().filter(is_crossed).count() % 2 == 1
}

impl<'a> Ring<'a> {
    /// The ring's lattice nodes, in order.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// let region = square(0.0, 10.0);
    /// let ring = region.rings().next().expect("it has an outline");
    /// assert_eq!(ring.nodes().len(), 4);
    /// assert_eq!(grid.point(ring.nodes()[0]), ring.points().next().expect("it has points"));
    /// ```
    pub fn nodes(self) -> &'a [IntPoint<i32>] {
        self.nodes
    }

    /// The ring's points in design space, in order; the first is not repeated.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// let region = square(0.0, 10.0);
    /// let ring = region.rings().next().expect("it has an outline");
    /// assert!(ring.points().any(|p| p == dvec2(10.0, 10.0)));
    /// ```
    pub fn points(self) -> impl ExactSizeIterator<Item = DVec2> + 'a {
        self.nodes.iter().map(move |&node| self.grid.point(node))
    }

    /// The ring's edges; the region lies to the left of each.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// let region = square(0.0, 10.0);
    /// let ring = region.rings().next().expect("it has an outline");
    /// assert_eq!(ring.segments().map(|[a, b]| a.distance(b)).sum::<f64>(), 40.0);
    /// ```
    pub fn segments(self) -> impl Iterator<Item = [DVec2; 2]> + 'a {
        let nodes = self.nodes;
        (0..nodes.len())
            .map(move |i| [self.grid.point(nodes[i]), self.grid.point(nodes[(i + 1) % nodes.len()])])
    }

    /// Area in square millimetres, negative for a hole.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// let frame = square(0.0, 10.0).minus(&square(2.0, 4.0));
    /// assert_eq!(frame.rings().map(|ring| ring.signed_area()).collect::<Vec<_>>(), [100.0, -4.0]);
    /// ```
    pub fn signed_area(self) -> f64 {
        let Some(&first) = self.nodes.first() else { return 0.0 };
        let origin = self.grid.point(first);
        self.segments().map(|[a, b]| (a - origin).perp_dot(b - origin)).sum::<f64>() * 0.5
    }
}

/// The edges of a ring.
fn edges_of(ring: &[Node]) -> impl Iterator<Item = Segment> + '_ {
    (0..ring.len()).map(|i| [ring[i], ring[(i + 1) % ring.len()]])
}

/// Whether two edges have more in common than one end of each.
fn meet_badly([a, b]: [IntPoint<i32>; 2], [c, d]: [IntPoint<i32>; 2]) -> bool {
    // Nodes stay within 2^28 steps, so products within 2^59.
    let turn = |p: IntPoint<i32>, q: IntPoint<i32>, r: IntPoint<i32>| {
        let across = |from: i32, to: i32| i64::from(to) - i64::from(from);
        (across(p.x, q.x) * across(p.y, r.y) - across(p.y, q.y) * across(p.x, r.x)).signum()
    };
    let on = |p: IntPoint<i32>, q: IntPoint<i32>, r: IntPoint<i32>| {
        let between = |p: i32, q: i32, r: i32| p.min(q) <= r && r <= p.max(q);
        r != p && r != q && turn(p, q, r) == 0 && between(p.x, q.x, r.x) && between(p.y, q.y, r.y)
    };
    let same = (a == c && b == d) || (a == d && b == c);
    let end_on_edge = on(a, b, c) || on(a, b, d) || on(c, d, a) || on(c, d, b);
    let crossing = turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;
    same || end_on_edge || crossing
}

/// Edges are cut where they cross, and cut again where that made new crossings. Each time a crossing may lie twice as far
/// from a corner to become one with it, at first a step, which ends it soon where many edges lie along each other.
fn solver() -> Solver {
    Solver::with_precision(Precision::MEDIUM)
}

/// Output points are kept even where they are collinear: dropping them would leave a corner of one
/// ring touching the middle of another's edge.
fn new_overlay(capacity: usize) -> Overlay<i32> {
    Overlay::new_custom(capacity, IntOverlayOptions::keep_output_points(), solver())
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;
    use proptest::prelude::*;

    /// A coarse grid makes crossings land off the lattice, where snapping has to get it right.
    fn rough_grid() -> Grid {
        Grid::covering(Rect::new(dvec2(-1e9, -1e9), dvec2(1e9, 1e9)))
    }

    fn regular(count: usize, every: usize, radius: f64, center: DVec2) -> Vec<DVec2> {
        let turn = std::f64::consts::TAU * every as f64 / count as f64;
        (0..count).map(|i| center + DVec2::from_angle(turn * i as f64) * radius).collect()
    }

    fn any_rings() -> impl Strategy<Value = Vec<Vec<DVec2>>> {
        let at = |reach: f64| (-reach..reach, -reach..reach).prop_map(|(x, y)| dvec2(x, y));
        let scribble = (1.0..1500.0_f64).prop_flat_map(move |reach| prop::collection::vec(at(reach), 3..25));
        // A star drawn in one stroke crosses itself many times round its middle.
        let star = (5_usize..61, 2_usize..25, 1.0..1500.0_f64, at(300.0))
            .prop_map(|(count, every, radius, center)| regular(count, every, radius, center));
        prop::collection::vec(prop_oneof![scribble, star], 1..5)
    }

    fn raw(rings: &[&[(i32, i32)]]) -> Region {
        let ring = |ring: &&[(i32, i32)]| ring.iter().map(|&(x, y)| IntPoint::new(x, y)).collect();
        Region::of(rough_grid(), vec![rings.iter().map(ring).collect()])
    }

    #[test]
    #[should_panic(expected = "cross or overlap")]
    fn the_check_finds_a_crossing() {
        raw(&[&[(0, 0), (10, 1), (10, 10), (4, -3), (0, 10)]]).check_invariants();
    }

    #[test]
    #[should_panic(expected = "cross or overlap")]
    fn the_check_finds_a_corner_on_an_edge() {
        raw(&[&[(0, 0), (10, 0), (10, 10), (0, 10)], &[(5, 0), (4, 4), (6, 4)]]).check_invariants();
    }

    #[test]
    #[should_panic(expected = "clockwise")]
    fn the_check_finds_a_ring_the_wrong_way_round() {
        raw(&[&[(0, 0), (0, 10), (10, 10), (10, 0)]]).check_invariants();
    }

    /// Circles of so many points each, laid over each other a few steps apart.
    fn circles(count: usize, points: usize) -> Vec<Vec<DVec2>> {
        let step = rough_grid().step();
        let circle = |i: usize| {
            let shift = dvec2((i * 37 % 101) as f64, (i * 53 % 89) as f64) * 7.3;
            regular(points, 1, 900.0 + i as f64 * 3.7, shift).iter().map(|&p| p * step).collect()
        };
        (0..count).map(circle).collect()
    }

    /// The overlay changes its way of finding crossings at 2,000 and at 32,000 edges.
    #[test]
    fn cleaning_many_edges_leaves_nothing_that_crosses() {
        for (count, points) in [(6, 700), (40, 1000)] {
            for rule in [FillRule::EvenOdd, FillRule::NonZero] {
                Region::clean(rough_grid(), &circles(count, points), rule).check_invariants();
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(256))]

        /// Rings of some ten to some thousand steps: snapping moves every crossing.
        #[test]
        fn cleaning_leaves_nothing_that_crosses(rings in any_rings(), even_odd: bool) {
            let grid = rough_grid();
            let rule = if even_odd { FillRule::EvenOdd } else { FillRule::NonZero };
            let rings: Vec<Vec<DVec2>> =
                rings.iter().map(|ring| ring.iter().map(|&p| p * grid.step()).collect()).collect();
            let region = Region::clean(grid, &rings, rule);
            region.check_invariants();
            // Cleaning what is clean changes nothing.
            let again = Region::union(grid, [&region]);
            again.check_invariants();
            prop_assert!((again.area() - region.area()).abs() <= 1e-12 * region.area());
        }

        #[test]
        fn combining_leaves_nothing_that_crosses(one in any_rings(), other in any_rings()) {
            let grid = rough_grid();
            let at_steps = |rings: &[Vec<DVec2>]| -> Vec<Vec<DVec2>> {
                rings.iter().map(|ring| ring.iter().map(|&p| p * grid.step()).collect()).collect()
            };
            let one = Region::clean(grid, &at_steps(&one), FillRule::EvenOdd);
            let other = Region::clean(grid, &at_steps(&other), FillRule::NonZero);
            for region in [one.minus(&other), one.intersection(&other), Region::union(grid, [&one, &other])] {
                region.check_invariants();
            }
        }
    }
}
