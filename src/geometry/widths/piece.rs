//! The pieces that the medial axis is made of.

use glam::DVec2;

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
    pub(super) fn range(self) -> [f64; 2] {
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
    pub(super) fn cut(&self, limit: f64) -> f64 {
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

    pub(super) fn length_between(&self, from: f64, to: f64) -> f64 {
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

    pub(super) fn place(&self, parameter: f64) -> AxisPoint {
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
    pub(super) fn chords(&self, limit: f64, into: &mut Vec<[AxisPoint; 2]>) {
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

    /// Whether the width is the same from end to end, to a millionth.
    pub(super) fn is_even(&self) -> bool {
        self.wide.width - self.narrow.width <= 1e-6 * self.narrow.width
    }
}
