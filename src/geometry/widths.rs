//! Widths of walls and grooves, from the medial axis of the line between standing and carved wood.
//!
//! Everything here is measured once, in design space. Scaling a design by `k` multiplies every width
//! by `k`, so a question about a size is a lookup, never new geometry.
//!
//! The width at a point of the axis is the diameter of the largest circle that fits there: the circle
//! touches the outline in two places, and only places that see at least 120 degrees between them count
//! (two sides of a wall face each other; two sides of a square corner do not).
//!
//! # What is told at an end
//!
//! - A *sharp* end, a corner of 60 degrees or less, has a width that goes to nothing at any size. The
//!   run that widens behind it is a taper: told as a [`FeatureShape::Tip`], by how much of it is
//!   under the limit, never as a wall of width 0.
//! - A *blunted* point, whose end is less than an eighth as wide as its taper becomes, is told as a tip
//!   too: the drawn end is next to nothing, and what is lost is again a length of the point.
//! - A *blunt* end that widens, such as a serif arm, is a wall. What is told is the largest circle
//!   that touches the end and both sides, not the end edge itself: an arm that ends in an edge of
//!   0.8 mm and widens at 20 degrees is told as 0.94 mm. Past that circle there is no wall to measure,
//!   only two corners.

use super::reach::{self, Branch};
use super::{Region, Uncut, axis};
use glam::DVec2;
use i_overlay::i_float::int::point::IntPoint;

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
    /// The whole axis, corners and all.
    branches: Vec<Branch>,
    /// How near, in millimetres, two ends of branches are one.
    welded: f64,
}

/// A place on the medial axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxisPoint {
    /// Where, in design space.
    pub at: DVec2,
    /// Diameter of the largest circle that fits here, in millimetres of the design as drawn.
    pub width: f64,
    /// Which axis vertex this is: pieces that share a vertex meet there. [`AxisPoint::BETWEEN`] where
    /// it is none.
    pub vertex: u32,
}

impl AxisPoint {
    /// The `vertex` of a place between two vertices.
    pub const BETWEEN: u32 = u32::MAX;
}

/// A stretch of the medial axis along which the width grows from `narrow` to `wide`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// The narrow end.
    pub narrow: AxisPoint,
    /// The wide end; its width is at least that of the narrow end.
    pub wide: AxisPoint,
    /// Direction in which the wall or groove runs at the narrow end, radians in `0..pi` from the x axis.
    pub direction: f64,
    /// The two nearest boundary points seen from the narrow end.
    pub feet: [DVec2; 2],
    /// Whether the piece belongs to the taper behind a sharp corner or blunted point: its width goes to
    /// nothing at any size, so it is judged as a tip, never as a wall.
    pub taper: bool,
    pub(super) curve: Curve,
    /// Which tip a taper belongs to.
    pub(super) tip: u32,
}

/// The `tip` of a piece that is no taper.
pub(super) const NO_TIP: u32 = u32::MAX;

/// A sharp corner or blunted point.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tip {
    pub(super) at: DVec2,
    pub(super) apex: f64,
}

/// What a piece is, so that it can be cut at a given width. The parameter grows with the width.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Curve {
    /// Straight, the width linear in the length. Parameter 0 to 1.
    Line,
    /// Equally far from a point, which is the first foot, and a line at distance `h` from it. The
    /// parameter is the distance along the line from the foot of the point: width `(x^2 + h^2) / h`.
    Parabola { h: f64, from: f64, to: f64 },
    /// Equally far from two points `d` apart. The parameter is the distance from their middle: width
    /// `sqrt(4 t^2 + d^2)`.
    Bisector { d: f64, from: f64, to: f64 },
}

impl Curve {
    pub(super) fn scaled(self, k: f64) -> Curve {
        match self {
            Curve::Line => Curve::Line,
            Curve::Parabola { h, from, to } => Curve::Parabola { h: h * k, from: from * k, to: to * k },
            Curve::Bisector { d, from, to } => Curve::Bisector { d: d * k, from: from * k, to: to * k },
        }
    }

    /// The parameters of the narrow and the wide end.
    fn range(self) -> [f64; 2] {
        match self {
            Curve::Line => [0.0, 1.0],
            Curve::Parabola { from, to, .. } | Curve::Bisector { from, to, .. } => [from, to],
        }
    }
}

impl Piece {
    /// Length along the axis, in millimetres.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region, widths::measure};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(40.0, 10.0)));
    /// let bar = vec![dvec2(0.0, 0.0), dvec2(40.0, 0.0), dvec2(40.0, 10.0), dvec2(0.0, 10.0)];
    /// let widths = measure(&Region::clean(grid, &[bar], FillRule::NonZero));
    /// assert!((widths.inside.pieces()[0].length() - 30.0).abs() < 1e-6);
    /// ```
    pub fn length(&self) -> f64 {
        let [from, to] = self.curve.range();
        self.length_between(from, to)
    }

    /// The parameter up to which the piece is narrower than `limit`; its far end where all of it is.
    fn cut(&self, limit: f64) -> f64 {
        let [from, to] = self.curve.range();
        if limit > self.wide.width {
            return to;
        }
        let cut = match self.curve {
            Curve::Line => (limit - self.narrow.width) / (self.wide.width - self.narrow.width),
            Curve::Parabola { h, .. } => (h * (limit - h)).max(0.0).sqrt(),
            Curve::Bisector { d, .. } => 0.5 * ((limit - d) * (limit + d)).max(0.0).sqrt(),
        };
        // A piece of even width at the limit divides nothing by nothing.
        if cut.is_finite() { cut.clamp(from, to) } else { from }
    }

    fn length_between(&self, from: f64, to: f64) -> f64 {
        match self.curve {
            Curve::Line => (to - from) * self.narrow.at.distance(self.wide.at),
            Curve::Bisector { .. } => to - from,
            Curve::Parabola { h, .. } => {
                // The integral of sqrt(1 + (x / h)^2).
                let primitive = |x: f64| {
                    let slope = x / h;
                    0.5 * h * (slope * slope.hypot(1.0) + slope.asinh())
                };
                primitive(to) - primitive(from)
            }
        }
    }

    fn place(&self, parameter: f64) -> AxisPoint {
        let [from, to] = self.curve.range();
        if parameter <= from {
            return self.narrow;
        }
        if parameter >= to {
            return self.wide;
        }
        let chord = self.wide.at - self.narrow.at;
        let share = (parameter - from) / (to - from);
        let (at, width) = match self.curve {
            Curve::Line => (
                self.narrow.at + chord * share,
                self.narrow.width + (self.wide.width - self.narrow.width) * share,
            ),
            Curve::Bisector { d, .. } => (self.narrow.at + chord * share, (2.0 * parameter).hypot(d)),
            Curve::Parabola { h, .. } => {
                let away = (self.narrow.at - self.feet[1]).normalize_or_zero();
                let along = chord - away * chord.dot(away);
                let rise = (parameter * parameter - from * from) / (2.0 * h);
                (self.narrow.at + along * share + away * rise, (parameter * parameter + h * h) / h)
            }
        };
        AxisPoint { at, width, vertex: AxisPoint::BETWEEN }
    }

    /// The part narrower than `limit` as chords with the width at either end. A curve is cut into as
    /// many as keep it within a two-hundredth of its width.
    fn chords(&self, limit: f64, into: &mut Vec<[AxisPoint; 2]>) {
        let [from, _] = self.curve.range();
        let to = self.cut(limit);
        // From one end of the kept part to the other a curve spans 0.58 h (0.29 d), and bends by 0.04 h.
        let count: u32 = match self.curve {
            Curve::Parabola { h: size, .. } | Curve::Bisector { d: size, .. } if to - from > 0.2 * size => 3,
            _ => 1,
        };
        let stop = |i: u32| {
            let share = f64::from(i) / f64::from(count);
            self.place(if i == count { to } else { from + (to - from) * share })
        };
        into.extend((0..count).map(|i| [stop(i), stop(i + 1)]));
    }

    /// Whether the width is the same all along, to a millionth.
    fn is_even(&self) -> bool {
        self.wide.width - self.narrow.width <= 1e-6 * self.narrow.width
    }
}

impl WidthMap {
    pub(super) fn of(axis::Side { pieces, tips, branches }: axis::Side, step: f64) -> WidthMap {
        WidthMap { pieces, tips, branches, welded: axis::WELDED_STEPS * step }
    }

    /// The same widths without what [`uncut`](Self::uncut) asks, which is most of the memory: it then finds
    /// nothing.
    #[must_use]
    pub(crate) fn without_corners(self) -> WidthMap {
        WidthMap { branches: Vec::new(), ..self }
    }

    /// What a round cutter of `radius` design millimetres does not reach: all that is farther than `radius`
    /// from everywhere its middle can go. Nothing for what is no radius.
    ///
    /// Exact but for a millionth of the radius, by which it is taken smaller where an end of the axis is
    /// just as wide; that much sharper is each corner, too. A radius may be as large as the outline's extent;
    /// outside, what lies farther out than that is not known. `O(n)` in edges, and `O(hits log hits)` in
    /// what is narrower than the cutter, which every corner is.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region, widths::measure};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(40.0, 10.0)));
    /// let bar = vec![dvec2(0.0, 0.0), dvec2(40.0, 0.0), dvec2(40.0, 10.0), dvec2(0.0, 10.0)];
    /// let widths = measure(&Region::clean(grid, &[bar], FillRule::NonZero));
    /// let uncut = widths.inside.uncut(3.0);
    /// assert_eq!(uncut.places.len(), 4);
    /// let four_corners = (4.0 - std::f64::consts::PI) * 9.0;
    /// assert!((uncut.area - four_corners).abs() < 1e-4);
    /// ```
    pub fn uncut(&self, radius: f64) -> Uncut {
        reach::uncut(&self.branches, radius, self.welded)
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

    /// What is narrower than a limit: the thin parts of `thin` pieces, joined where they meet.
    ///
    /// `thin` names pieces by index, each with its own limit in design millimetres (the limit may
    /// depend on the piece's direction). Pieces that are not narrower than their limit, or do not exist,
    /// are passed over; of a piece named twice the larger limit counts. Pieces join at a vertex that lies
    /// in the thin part of both, whatever their limits. A taper never joins a wall: where a thin wall ends
    /// in a point, both are told.
    ///
    /// Sorted by the index of the narrowest piece; the same feature keeps its [`name`](Feature::name) as the
    /// limits move. `O(hits log hits)`, whatever the size of the map.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// use spelk::geometry::widths::{FeatureShape, measure};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(40.0, 40.0)));
    /// let point = vec![dvec2(0.0, 0.0), dvec2(10.0, 0.0), dvec2(5.0, 40.0)];
    /// let widths = measure(&Region::clean(grid, &[point], FillRule::NonZero));
    /// let asked: Vec<_> = (0..widths.inside.pieces().len()).map(|i| (i as u32, 2.0)).collect();
    /// let found = widths.inside.features(&asked);
    /// let FeatureShape::Tip { apex } = found[0].shape else { unreachable!("a point") };
    /// assert!((apex.to_degrees() - 14.25).abs() < 0.01);
    /// assert!((found[0].length - 8.062).abs() < 0.001); // 2 / (2 sin(apex / 2))
    /// ```
    pub fn features(&self, thin: &[(u32, f64)]) -> Vec<Feature> {
        let is_thin =
            |&(i, limit): &(u32, f64)| self.pieces.get(i as usize).is_some_and(|p| p.narrow.width < limit);
        let mut hits: Vec<(u32, f64)> = thin.iter().copied().filter(is_thin).collect();
        hits.sort_unstable_by(|a, b| a.0.cmp(&b.0).then(b.1.total_cmp(&a.1)));
        hits.dedup_by_key(|hit| hit.0);
        let groups = self.groups(&hits);
        groups.chunk_by(|a, b| a.0 == b.0).map(|group| self.feature(&hits, group)).collect()
    }

    /// Every hit beside the first hit it hangs together with, sorted.
    fn groups(&self, hits: &[(u32, f64)]) -> Vec<(usize, usize)> {
        // Where each hit can be joined: at a vertex it reaches, or, for a taper, at its own corner.
        let mut meets: Vec<(bool, u32, usize)> = Vec::with_capacity(2 * hits.len());
        for (hit, &(i, limit)) in hits.iter().enumerate() {
            let piece = &self.pieces[i as usize];
            if piece.taper {
                meets.push((true, piece.tip, hit));
                continue;
            }
            meets.push((false, piece.narrow.vertex, hit));
            if piece.wide.width < limit {
                meets.push((false, piece.wide.vertex, hit));
            }
        }
        meets.sort_unstable();
        let mut parent: Vec<usize> = (0..hits.len()).collect();
        for pair in meets.windows(2) {
            if (pair[0].0, pair[0].1) == (pair[1].0, pair[1].1) {
                let (a, b) = (root(&mut parent, pair[0].2), root(&mut parent, pair[1].2));
                parent[a.max(b)] = a.min(b);
            }
        }
        let mut groups: Vec<_> = (0..hits.len()).map(|hit| (root(&mut parent, hit), hit)).collect();
        groups.sort_unstable();
        groups
    }

    fn feature(&self, hits: &[(u32, f64)], group: &[(usize, usize)]) -> Feature {
        let index = hits[group[0].0].0;
        let narrowest = &self.pieces[index as usize];
        // As all limits grow alike this one stays the first, and those that join it come later.
        let excess = |hit: usize| {
            let (i, limit) = hits[hit];
            limit / self.pieces[i as usize].narrow.width
        };
        // Where two are as thin but for rounding, the first.
        let thinner = |a, b| if excess(b) > excess(a) * (1.0 + 1e-9) { b } else { a };
        let worst = group.iter().map(|&(_, hit)| hit).reduce(thinner);
        let name = worst.map_or(index, |hit| hits[hit].0);
        let mut axis = Vec::with_capacity(group.len());
        let mut length = 0.0;
        // The mean of an undirected direction is taken of twice its angle.
        let mut doubled = DVec2::ZERO;
        for &(_, hit) in group {
            let (i, limit) = hits[hit];
            let piece = &self.pieces[i as usize];
            let part = piece.length_between(piece.curve.range()[0], piece.cut(limit));
            length += part;
            doubled += DVec2::from_angle(2.0 * piece.direction) * part;
            piece.chords(limit, &mut axis);
        }
        if narrowest.taper {
            let Tip { at, apex } = self.tips[narrowest.tip as usize];
            return Feature {
                shape: FeatureShape::Tip { apex },
                piece: index,
                name,
                width: 0.0,
                at,
                length,
                direction: narrowest.direction,
                axis,
            };
        }
        // Anywhere on a wall of even width is narrowest; the middle is where a person would point.
        let at = if narrowest.is_even() {
            let [from, _] = narrowest.curve.range();
            narrowest.place(0.5 * (from + narrowest.cut(hits[group[0].0].1))).at
        } else {
            narrowest.narrow.at
        };
        let straight = doubled.length() >= LEAST_STRAIGHTNESS * length && length > 0.0;
        let direction = if straight {
            axis::direction(DVec2::from_angle(0.5 * doubled.to_angle()))
        } else {
            narrowest.direction
        };
        Feature {
            shape: FeatureShape::Neck,
            piece: index,
            name,
            width: narrowest.narrow.width,
            at,
            length,
            direction,
            axis,
        }
    }
}

/// How well the directions of a wall's pieces must agree for their mean to mean anything: 1 for a
/// straight wall, 0 for a ring; an arc through 45 degrees has 0.9. Chosen so, no source.
const LEAST_STRAIGHTNESS: f64 = 0.9;

fn root(parent: &mut [usize], mut of: usize) -> usize {
    while parent[of] != of {
        parent[of] = parent[parent[of]];
        of = parent[of];
    }
    of
}

/// One thing that is narrower than asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Feature {
    /// A wall or groove, or the end of a point.
    pub shape: FeatureShape,
    /// The narrowest piece.
    pub piece: u32,
    /// The piece that is thinnest for its limit: a stable name for the feature, which it keeps while all
    /// limits grow alike, until it hangs together with one that is thinner still.
    pub name: u32,
    /// Least width in design millimetres; 0 for a tip.
    pub width: f64,
    /// Where it is narrowest: for an even wall the middle of its narrowest piece, for a tip the corner.
    pub at: DVec2,
    /// Length of the thin part along the axis, design millimetres; for a tip, from the corner.
    pub length: f64,
    /// Direction of run, radians in `0..pi` from the x axis: the mean along the thin part where that is
    /// nearly straight, else the direction at the narrowest place. For a tip, where it points.
    pub direction: f64,
    /// The thin part of the axis, as chords with the width at either end, for drawing.
    pub axis: Vec<[AxisPoint; 2]>,
}

impl Feature {
    /// A place of the thin part that lies within the wall or groove itself: a tip's corner lies on the
    /// outline, and an outline belongs to either side.
    pub fn inside(&self) -> DVec2 {
        match self.shape {
            FeatureShape::Neck => self.at,
            FeatureShape::Tip { .. } => self.axis.first().map_or(self.at, |[a, b]| a.at.midpoint(b.at)),
        }
    }
}

/// Whether a thin feature is a wall or groove, or the end of a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FeatureShape {
    /// Thin between two sides.
    Neck,
    /// Thin because it ends in a sharp corner or a blunted point.
    Tip {
        /// Interior angle of the corner, radians; of the two sides behind it where it is blunted.
        apex: f64,
    },
}

/// Debug builds check a region's promises up to so many edges: the engine takes edges that cross without
/// a word, and gives a wrong diagram. More would be slow.
const CHECKED_SEGMENTS: usize = 2000;

/// Measures both sides of a region's outline.
///
/// The outside is measured as if it went on for ever. Widths are exact to a lattice step (2 nm at
/// 300 mm). An empty region has no widths. Near-linear in edges for most outlines;
/// quadratic in the edges of one regular polygon, whose largest ball touches them all. Uses every core, and
/// gives the same to the bit on any number of them.
///
/// Places where two parts of an outline touch in a point have no width and are not told.
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
    let segments = region.node_segments();
    if segments.is_empty() {
        return Widths::default();
    }
    if cfg!(debug_assertions) && segments.len() < CHECKED_SEGMENTS {
        region.check_invariants();
    }
    let grid = region.grid();
    let origin = grid.point(IntPoint::new(0, 0));
    let [inside, outside] = axis::sides(&segments, origin, grid.step());
    let (inside, outside) =
        rayon::join(|| WidthMap::of(inside, grid.step()), || WidthMap::of(outside, grid.step()));
    Widths { inside, outside }
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
    let origin = grid.point(IntPoint::new(0, 0));
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
