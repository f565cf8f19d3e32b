//! Places on a board that a carving is kept clear of.
//!
//! In board space: millimetres from the corner where the left end meets the reference edge, x along the
//! board, y across it. Kernels are in bare `f64` millimetres.

use crate::geometry::{Rect, segment_distance};
use crate::units::Mm;
use glam::{DVec2, dvec2};
use serde::{Deserialize, Serialize};

/// A place to be kept clear of.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Blemish {
    /// What it is.
    pub kind: BlemishKind,
    /// Where it is and how large.
    pub shape: BlemishShape,
    /// How far the carving should stay away from it, all round; 0 or more.
    pub clearance: Mm,
}

/// What a blemish is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum BlemishKind {
    /// A knot: hard, and its grain runs every way.
    #[default]
    Knot,
    /// A split, a shake or a check.
    Split,
    /// A hole: of a nail, a worm, a bolt.
    Hole,
    /// Bark or a rounded place where the log's outside was.
    Wane,
    /// What was carved before.
    OldCarving,
}

/// Where a blemish is on the board.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum BlemishShape {
    /// A disc.
    Circle {
        /// Its middle, along the board.
        x: Mm,
        /// Its middle, across the board.
        y: Mm,
        /// Across it.
        diameter: Mm,
    },
    /// A rectangle that lies along the board.
    Rectangle {
        /// Its lower left corner, along the board.
        x: Mm,
        /// Its lower left corner, across the board.
        y: Mm,
        /// Along the board.
        length: Mm,
        /// Across the board.
        width: Mm,
    },
    /// A line without a width.
    Line {
        /// One end.
        from: [Mm; 2],
        /// The other.
        to: [Mm; 2],
    },
}

impl BlemishKind {
    /// Every kind, in the order a list shows them.
    pub const ALL: [BlemishKind; 5] = [
        BlemishKind::Knot,
        BlemishKind::Split,
        BlemishKind::Hole,
        BlemishKind::Wane,
        BlemishKind::OldCarving,
    ];

    /// Its name in files and on the command line.
    pub fn id(self) -> &'static str {
        match self {
            BlemishKind::Knot => "knot",
            BlemishKind::Split => "split",
            BlemishKind::Hole => "hole",
            BlemishKind::Wane => "wane",
            BlemishKind::OldCarving => "old-carving",
        }
    }

    /// Whether wood is missing or parted there, so that nothing carved on it can come out whole. A knot
    /// is only hard and brittle.
    pub fn breaks_the_wood(self) -> bool {
        !matches!(self, BlemishKind::Knot)
    }
}

impl Blemish {
    /// The box round the shape, without its clearance.
    pub fn bounds(&self) -> Rect {
        match self.shape {
            BlemishShape::Circle { x, y, diameter } => {
                let middle = dvec2(x.get(), y.get());
                Rect::new(middle, middle).grown(diameter.get().abs() * 0.5)
            }
            BlemishShape::Rectangle { x, y, length, width } => {
                let corner = dvec2(x.get(), y.get());
                Rect::new(corner, corner + dvec2(length.get(), width.get()))
            }
            BlemishShape::Line { from, to } => Rect::new(point(from), point(to)),
        }
    }

    /// A point of the shape: its middle.
    pub fn middle(&self) -> DVec2 {
        self.bounds().center()
    }

    /// How far the shape, without its clearance, is from a box; 0 where they touch. Exact.
    pub fn distance_to_box(&self, area: Rect) -> f64 {
        match self.shape {
            BlemishShape::Circle { diameter, .. } => {
                let middle = self.middle();
                (middle.distance(middle.clamp(area.min, area.max)) - diameter.get() * 0.5).max(0.0)
            }
            BlemishShape::Rectangle { .. } => {
                let own = self.bounds();
                (own.min - area.max).max(area.min - own.max).max(DVec2::ZERO).length()
            }
            BlemishShape::Line { from, to } => {
                let (a, b) = (point(from), point(to));
                let inside = |p: DVec2| p.cmpge(area.min).all() && p.cmple(area.max).all();
                if inside(a) || inside(b) {
                    return 0.0;
                }
                let corners = area.corners();
                (0..4)
                    .map(|k| segment_distance([a, b], [corners[k], corners[(k + 1) % 4]]))
                    .fold(f64::INFINITY, f64::min)
            }
        }
    }

    /// How far the shape, without its clearance, is from a line segment; 0 where they touch. Exact.
    pub fn distance_to_segment(&self, segment: [DVec2; 2]) -> f64 {
        match self.shape {
            BlemishShape::Circle { diameter, .. } => {
                let middle = self.middle();
                (segment_distance([middle, middle], segment) - diameter.get() * 0.5).max(0.0)
            }
            BlemishShape::Rectangle { .. } => {
                let line = Blemish {
                    shape: BlemishShape::Line {
                        from: segment[0].to_array().map(Mm::new),
                        to: segment[1].to_array().map(Mm::new),
                    },
                    ..*self
                };
                line.distance_to_box(self.bounds())
            }
            BlemishShape::Line { from, to } => segment_distance([point(from), point(to)], segment),
        }
    }
}

fn point([x, y]: [Mm; 2]) -> DVec2 {
    dvec2(x.get(), y.get())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn blemish(shape: BlemishShape) -> Blemish {
        Blemish { kind: BlemishKind::Knot, shape, clearance: Mm::ZERO }
    }

    fn close(found: f64, expected: f64) {
        assert!((found - expected).abs() < 1e-12, "{found}, not {expected}");
    }

    #[test]
    fn distances_are_those_of_a_rule() {
        let mm = Mm::new;
        let area = Rect::new(dvec2(10.0, 10.0), dvec2(20.0, 30.0));
        let circle = blemish(BlemishShape::Circle { x: mm(6.0), y: mm(7.0), diameter: mm(4.0) });
        close(circle.distance_to_box(area), 3.0); // 3-4-5 to the corner, less the radius
        close(circle.distance_to_segment([dvec2(0.0, 17.0), dvec2(9.0, 17.0)]), 8.0);
        let inside = blemish(BlemishShape::Circle { x: mm(15.0), y: mm(20.0), diameter: mm(1.0) });
        close(inside.distance_to_box(area), 0.0);
        let rectangle =
            blemish(BlemishShape::Rectangle { x: mm(0.0), y: mm(0.0), length: mm(7.0), width: mm(6.0) });
        close(rectangle.distance_to_box(area), 5.0);
        close(rectangle.distance_to_segment([dvec2(3.0, -5.0), dvec2(3.0, 20.0)]), 0.0);
        close(rectangle.distance_to_segment([dvec2(10.0, 10.0), dvec2(30.0, 10.0)]), 5.0);
        let line =
            |from: [f64; 2], to: [f64; 2]| blemish(BlemishShape::Line { from: from.map(mm), to: to.map(mm) });
        close(line([0.0, 20.0], [40.0, 20.0]).distance_to_box(area), 0.0); // right through
        close(line([12.0, 12.0], [13.0, 13.0]).distance_to_box(area), 0.0); // within
        close(line([0.0, 5.0], [40.0, 5.0]).distance_to_box(area), 5.0);
        close(line([0.0, 0.0], [4.0, 0.0]).distance_to_segment([dvec2(2.0, 3.0), dvec2(2.0, 9.0)]), 3.0);
    }
}
