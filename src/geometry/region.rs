//! Clean regions: outlines that do not cross, overlap or repeat, with their holes.

use super::{Grid, Rect};
use glam::DVec2;
use i_overlay::core::fill_rule::FillRule as OverlayFillRule;
use i_overlay::core::overlay::{IntOverlayOptions, Overlay, ShapeType};
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::core::solver::Solver;
use i_overlay::i_float::int::point::IntPoint;
use i_overlay::i_shape::int::shape::IntShapes;

/// Which places an outline fills where it winds round them more than once (SVG 1.1 section 11.3).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FillRule {
    /// Filled where the outline winds round at all.
    NonZero,
    /// Filled where the outline winds round an odd number of times.
    EvenOdd,
}

/// A set of polygons with holes, snapped to a [`Grid`].
///
/// What it promises: rings are closed (the last point is not repeated), outer rings run
/// counter-clockwise and holes clockwise, so the region always lies to the left of a ring; edges meet
/// only at their ends; no edge is repeated and none has zero length. Rings may touch at a point.
/// Empty is allowed.
///
/// Regions that are combined share one grid; a region is never moved or scaled (sizes are asked of
/// what was measured instead).
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    grid: Grid,
    shapes: IntShapes<i32>,
}

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
    pub fn empty(grid: Grid) -> Region {
        Region { grid, shapes: Vec::new() }
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
        let points = rings.iter().map(Vec::len).sum();
        let mut overlay = new_overlay(points);
        for ring in rings {
            overlay.add_path_iter(ring.iter().map(|&p| grid.node(p)), ShapeType::Subject);
        }
        let rule = match rule {
            FillRule::NonZero => OverlayFillRule::NonZero,
            FillRule::EvenOdd => OverlayFillRule::EvenOdd,
        };
        Region { grid, shapes: overlay.overlay(OverlayRule::Subject, rule) }
    }

    /// Everything that is in any of `regions`, on `grid`.
    pub fn union<'a>(grid: Grid, regions: impl IntoIterator<Item = &'a Region>) -> Region {
        let mut overlay = new_overlay(0);
        for region in regions {
            region.assert_on(grid);
            overlay.add_source(&region.shapes, ShapeType::Subject);
        }
        Region { grid, shapes: overlay.overlay(OverlayRule::Subject, OverlayFillRule::NonZero) }
    }

    /// What is in this region and not in `other`.
    #[must_use]
    pub fn minus(&self, other: &Region) -> Region {
        self.combined(other, OverlayRule::Difference)
    }

    /// What is in both.
    #[must_use]
    pub fn intersection(&self, other: &Region) -> Region {
        self.combined(other, OverlayRule::Intersect)
    }

    fn combined(&self, other: &Region, rule: OverlayRule) -> Region {
        other.assert_on(self.grid);
        let mut overlay = new_overlay(self.segment_count() + other.segment_count());
        overlay.add_source(&self.shapes, ShapeType::Subject);
        overlay.add_source(&other.shapes, ShapeType::Clip);
        Region { grid: self.grid, shapes: overlay.overlay(rule, OverlayFillRule::NonZero) }
    }

    fn assert_on(&self, grid: Grid) {
        assert!(self.grid == grid, "regions that are combined share one grid");
    }

    /// The grid the region is snapped to.
    pub fn grid(&self) -> Grid {
        self.grid
    }

    /// Whether there is nothing in it.
    pub fn is_empty(&self) -> bool {
        self.shapes.is_empty()
    }

    /// Every ring, each outer ring followed by its holes.
    pub fn rings(&self) -> impl Iterator<Item = Ring<'_>> {
        self.shapes.iter().flat_map(|shape| {
            shape.iter().enumerate().map(|(index, nodes)| Ring { grid: self.grid, nodes, hole: index > 0 })
        })
    }

    /// How many edges the outlines have in all.
    pub fn segment_count(&self) -> usize {
        self.shapes.iter().flatten().map(Vec::len).sum()
    }

    /// The box round the outlines; `None` when empty.
    pub fn bounds(&self) -> Option<Rect> {
        Rect::around(self.rings().filter(|ring| !ring.hole).flat_map(Ring::points))
    }

    /// Area in square millimetres.
    pub fn area(&self) -> f64 {
        self.rings().map(Ring::signed_area).sum()
    }

    /// Whether a point lies inside (winding number; a point on an edge may be either).
    /// `O(n)` in edges.
    pub fn contains(&self, point: DVec2) -> bool {
        let crossings = self.rings().flat_map(Ring::segments).filter(|&[a, b]| {
            (a.y > point.y) != (b.y > point.y) && point.x < a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x)
        });
        crossings.count() % 2 == 1
    }
}

impl<'a> Ring<'a> {
    /// The ring's lattice nodes, in order.
    pub fn nodes(self) -> &'a [IntPoint<i32>] {
        self.nodes
    }

    /// The ring's points in design space, in order; the first is not repeated.
    pub fn points(self) -> impl ExactSizeIterator<Item = DVec2> + 'a {
        self.nodes.iter().map(move |&node| self.grid.point(node))
    }

    /// The ring's edges; the region lies to the left of each.
    pub fn segments(self) -> impl Iterator<Item = [DVec2; 2]> + 'a {
        let nodes = self.nodes;
        (0..nodes.len())
            .map(move |i| [self.grid.point(nodes[i]), self.grid.point(nodes[(i + 1) % nodes.len()])])
    }

    /// Area in square millimetres, negative for a hole.
    pub fn signed_area(self) -> f64 {
        let Some(&first) = self.nodes.first() else { return 0.0 };
        let origin = self.grid.point(first);
        self.segments().map(|[a, b]| (a - origin).perp_dot(b - origin)).sum::<f64>() * 0.5
    }
}

/// Output points are kept even where they are collinear: dropping them would leave a corner of one
/// ring touching the middle of another's edge.
fn new_overlay(capacity: usize) -> Overlay<i32> {
    Overlay::new_custom(capacity, IntOverlayOptions::keep_output_points(), Solver::AUTO)
}
