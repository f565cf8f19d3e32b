//! The curves a DXF drawing is made of, exact until they are flattened.
//!
//! Kernels use bare `f64` in whatever space the curve is in: the drawing's own units first, millimetres
//! once mapped.

use crate::geometry::nearest_on;
use glam::{DAffine2, DVec2, DVec3};
use std::f64::consts::TAU;

/// The most times a piece of a spline is halved: far finer than any tolerance asks for.
const MAX_HALVINGS: u32 = 24;

/// The highest degree of a spline that is read.
pub(super) const MAX_DEGREE: usize = 5;

/// One curve from a start to an end.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Curve {
    Line([DVec2; 2]),
    /// `center + u cos t + v sin t` as `t` runs from `start` through `sweep` radians: an arc of a circle
    /// or an ellipse, and what any affine map makes of one.
    Arc {
        center: DVec2,
        u: DVec2,
        v: DVec2,
        start: f64,
        sweep: f64,
    },
    /// A spline as Bézier pieces in homogeneous coordinates `(w x, w y, w)`; every piece has the same
    /// number of points and starts where the one before ends.
    Pieces(Vec<Vec<DVec3>>),
}

impl Curve {
    /// The arc with this bulge between two points: the tangent of a quarter of its angle, positive where
    /// it runs counter-clockwise (DXF reference, LWPOLYLINE). A bulge of nothing is a line.
    pub(super) fn bulged(from: DVec2, to: DVec2, bulge: f64) -> Curve {
        let chord = to - from;
        // Flatter than this the arc strays from its chord by less than a millionth of a millionth.
        if bulge.abs() < 1e-12 || chord == DVec2::ZERO {
            return Curve::Line([from, to]);
        }
        let center = (from + to) * 0.5 + chord.perp() * ((1.0 - bulge * bulge) / (4.0 * bulge));
        let u = from - center;
        Curve::Arc { center, u, v: u.perp(), start: 0.0, sweep: 4.0 * bulge.atan() }
    }

    /// A spline through its control points `(x, y, weight)`; `None` where degree, knots and points do not
    /// go together.
    pub(super) fn spline(degree: usize, knots: &[f64], points: &[DVec3]) -> Option<Curve> {
        let sound = (1..=MAX_DEGREE).contains(&degree)
            && points.len() > degree
            && knots.len() == points.len() + degree + 1
            && knots.windows(2).all(|pair| pair[0] <= pair[1])
            && points.iter().all(|point| point.z > 0.0 && point.z.is_finite());
        if !sound {
            return None;
        }
        let weighted: Vec<DVec3> = points.iter().map(|p| DVec3::new(p.x * p.z, p.y * p.z, p.z)).collect();
        let pieces: Vec<Vec<DVec3>> = (degree..points.len())
            .filter(|&span| knots[span] < knots[span + 1])
            .map(|span| {
                let (from, to) = (knots[span], knots[span + 1]);
                // The control points of a piece are its blossom at the span's two ends, mixed (Ramshaw,
                // "Blossoms are polar forms", 1989).
                let corner = |count: usize| {
                    let at = |index: usize| if index < count { to } else { from };
                    blossom(degree, knots, &weighted, span, at)
                };
                (0..=degree).map(corner).collect()
            })
            .collect();
        (!pieces.is_empty()).then_some(Curve::Pieces(pieces))
    }

    /// A smooth curve through points: piecewise cubic, its curvature without a jump and none at its ends,
    /// its parameter growing with the chords. What each program lays through such points differs a
    /// little. `None` for fewer than two points in different places.
    pub(super) fn through(points: &[DVec2], closed: bool) -> Option<Curve> {
        let mut points = points.to_vec();
        if closed && points.first() != points.last() {
            points.extend(points.first().copied());
        }
        points.dedup();
        let chords: Vec<f64> = points.windows(2).map(|pair| pair[0].distance(pair[1])).collect();
        if chords.is_empty() || !chords.iter().all(|&chord| chord.is_normal()) {
            return None;
        }
        // Derivatives at the points from a tridiagonal system (de Boor, "A Practical Guide to Splines",
        // chapter IV, free ends), solved from the front and back again.
        let last = points.len() - 1;
        let (mut upper, mut right) = (vec![0.0; last + 1], vec![DVec2::ZERO; last + 1]);
        for i in 0..=last {
            let slope = |chord: usize| (points[chord + 1] - points[chord]) / chords[chord];
            let (below, diagonal, above, value) = if i == 0 {
                (0.0, 2.0, 1.0, slope(0) * 3.0)
            } else if i == last {
                (1.0, 2.0, 0.0, slope(last - 1) * 3.0)
            } else {
                let (before, after) = (chords[i - 1], chords[i]);
                let value = (slope(i - 1) * after + slope(i) * before) * 3.0;
                (after, 2.0 * (before + after), before, value)
            };
            let (upper_before, right_before) =
                if i == 0 { (0.0, DVec2::ZERO) } else { (upper[i - 1], right[i - 1]) };
            let pivot = diagonal - below * upper_before;
            upper[i] = above / pivot;
            right[i] = (value - right_before * below) / pivot;
        }
        for i in (0..last).rev() {
            right[i] = right[i] - right[i + 1] * upper[i];
        }
        let piece = |i: usize| {
            let third = chords[i] / 3.0;
            let corners = [
                points[i],
                points[i] + right[i] * third,
                points[i + 1] - right[i + 1] * third,
                points[i + 1],
            ];
            corners.map(|p| p.extend(1.0)).to_vec()
        };
        Some(Curve::Pieces((0..last).map(piece).collect()))
    }

    /// The curve seen through an affine map.
    pub(super) fn mapped(&self, map: DAffine2) -> Curve {
        match self {
            Curve::Line(ends) => Curve::Line(ends.map(|p| map.transform_point2(p))),
            Curve::Arc { center, u, v, start, sweep } => Curve::Arc {
                center: map.transform_point2(*center),
                u: map.transform_vector2(*u),
                v: map.transform_vector2(*v),
                start: *start,
                sweep: *sweep,
            },
            Curve::Pieces(pieces) => {
                let point = |p: &DVec3| {
                    let moved = map.transform_vector2(p.truncate()) + map.translation * p.z;
                    moved.extend(p.z)
                };
                Curve::Pieces(pieces.iter().map(|piece| piece.iter().map(point).collect()).collect())
            }
        }
    }

    /// Where the curve starts.
    pub(super) fn start(&self) -> DVec2 {
        match self {
            Curve::Line([from, _]) => *from,
            Curve::Arc { center, u, v, start, .. } => *center + *u * start.cos() + *v * start.sin(),
            Curve::Pieces(pieces) => plain(pieces[0][0]),
        }
    }

    /// Where it ends.
    pub(super) fn end(&self) -> DVec2 {
        match self {
            Curve::Line([_, to]) => *to,
            Curve::Arc { center, u, v, start, sweep } => {
                let end = start + sweep;
                *center + *u * end.cos() + *v * end.sin()
            }
            Curve::Pieces(pieces) => {
                let last = &pieces[pieces.len() - 1];
                plain(last[last.len() - 1])
            }
        }
    }

    /// Points on the curve, or round it, whose box is near enough its own to tell how large it is.
    pub(super) fn hull(&self) -> Vec<DVec2> {
        match self {
            Curve::Line(ends) => ends.to_vec(),
            Curve::Arc { center, u, v, start, sweep } => (0..=16)
                .map(|step| {
                    let (sin, cos) = (start + sweep * f64::from(step) / 16.0).sin_cos();
                    *center + *u * cos + *v * sin
                })
                .collect(),
            Curve::Pieces(pieces) => pieces.iter().flatten().map(|&p| plain(p)).collect(),
        }
    }

    /// Adds the curve's points after its start to `points`, such that chords stray by at most
    /// `tolerance`; at most `most` of them.
    pub(super) fn flatten(&self, tolerance: f64, most: usize, points: &mut Vec<DVec2>) {
        match self {
            Curve::Line([_, to]) => points.push(*to),
            Curve::Arc { center, u, v, start, sweep } => {
                let steps = arc_steps(u.length().max(v.length()), *sweep, tolerance, most);
                for step in 1..steps {
                    let (sin, cos) = (start + sweep * step as f64 / steps as f64).sin_cos();
                    points.push(*center + *u * cos + *v * sin);
                }
                points.push(self.end());
            }
            Curve::Pieces(pieces) => {
                for piece in pieces {
                    if points.len() > most {
                        return;
                    }
                    flatten_piece(piece, tolerance, MAX_HALVINGS, most, points);
                }
            }
        }
    }
}

/// Chords an arc needs: over a turn of `h` radians a chord strays by at most `r (1 - cos(h / 2))`. An
/// ellipse is a circle of its longer half axis, squeezed, and squeezing brings nothing further apart.
fn arc_steps(radius: f64, sweep: f64, tolerance: f64, most: usize) -> usize {
    let turn = 2.0 * (1.0 - (tolerance / radius).min(1.0)).acos();
    // At least eight to a full turn, so that a small circle is not a triangle.
    let turn = turn.clamp(1e-6, TAU / 8.0);
    #[expect(clippy::cast_sign_loss, reason = "it is at least one")]
    let steps = (sweep.abs() / turn).ceil().max(1.0) as usize;
    steps.min(most.max(1))
}

/// The polar form of a span of a spline at `degree` parameters: de Boor's algorithm with another
/// parameter in each round.
fn blossom(degree: usize, knots: &[f64], points: &[DVec3], span: usize, at: impl Fn(usize) -> f64) -> DVec3 {
    let mut d: Vec<DVec3> = points[span - degree..=span].to_vec();
    for round in 1..=degree {
        for index in (round..=degree).rev() {
            let knot = span - degree + index;
            let (low, high) = (knots[knot], knots[knot + degree + 1 - round]);
            // Not zero: the span lies between the two and has a length.
            let share = (at(round - 1) - low) / (high - low);
            d[index] = d[index - 1].lerp(d[index], share);
        }
    }
    d[degree]
}

/// Halves a piece until its control points lie within `tolerance` of its chord: the curve lies within
/// their hull, all weights being positive.
fn flatten_piece(piece: &[DVec3], tolerance: f64, halvings: u32, most: usize, points: &mut Vec<DVec2>) {
    let (from, to) = (plain(piece[0]), plain(piece[piece.len() - 1]));
    let inner = &piece[1..piece.len() - 1];
    let flat = inner.iter().map(|&p| plain(p)).all(|p| p.distance(nearest_on([from, to], p)) <= tolerance);
    if flat || halvings == 0 || points.len() > most {
        points.push(to);
        return;
    }
    let mut row = piece.to_vec();
    let (mut first, mut second) = (vec![row[0]], vec![row[row.len() - 1]]);
    while row.len() > 1 {
        row = row.windows(2).map(|pair| (pair[0] + pair[1]) * 0.5).collect();
        first.push(row[0]);
        second.push(row[row.len() - 1]);
    }
    second.reverse();
    flatten_piece(&first, tolerance, halvings - 1, most, points);
    flatten_piece(&second, tolerance, halvings - 1, most, points);
}

fn plain(p: DVec3) -> DVec2 {
    p.truncate() / p.z
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;
    use std::f64::consts::{FRAC_1_SQRT_2, PI};

    fn flat(curve: &Curve, tolerance: f64) -> Vec<DVec2> {
        let mut points = vec![curve.start()];
        curve.flatten(tolerance, usize::MAX, &mut points);
        points
    }

    fn length(points: &[DVec2]) -> f64 {
        points.windows(2).map(|pair| pair[0].distance(pair[1])).sum()
    }

    #[test]
    fn a_bulge_of_one_is_half_a_circle() {
        let half = Curve::bulged(dvec2(0.0, 0.0), dvec2(2.0, 0.0), 1.0);
        let points = flat(&half, 1e-6);
        assert!((length(&points) - PI).abs() < 1e-4);
        // Counter-clockwise from the left to the right runs below.
        assert!(points.iter().all(|p| p.y <= 1e-12 && (p.distance(dvec2(1.0, 0.0)) - 1.0).abs() < 1e-12));
        assert_eq!(Curve::bulged(dvec2(0.0, 0.0), dvec2(2.0, 0.0), 0.0).hull().len(), 2);
    }

    #[test]
    fn a_bulge_is_the_tangent_of_a_quarter_of_the_angle() {
        for degrees in [-300.0_f64, -90.0, 1.0, 60.0, 200.0] {
            let angle = degrees.to_radians();
            let (from, to) = (dvec2(3.0, 1.0), dvec2(5.0, 7.0));
            let arc = Curve::bulged(from, to, (angle / 4.0).tan());
            let radius = from.distance(to) / (2.0 * (angle / 2.0).sin().abs());
            assert!((length(&flat(&arc, 1e-7)) - radius * angle.abs()).abs() < 1e-4, "{degrees}");
            assert!(arc.end().distance(to) < 1e-12, "{degrees}");
        }
    }

    #[test]
    fn a_rational_quadratic_is_a_quarter_circle() {
        let points =
            [DVec3::new(1.0, 0.0, 1.0), DVec3::new(1.0, 1.0, FRAC_1_SQRT_2), DVec3::new(0.0, 1.0, 1.0)];
        let quarter = Curve::spline(2, &[0.0, 0.0, 0.0, 1.0, 1.0, 1.0], &points).unwrap();
        let flattened = flat(&quarter, 1e-7);
        assert!(flattened.iter().all(|p| (p.length() - 1.0).abs() < 1e-12));
        assert!((length(&flattened) - PI / 2.0).abs() < 1e-5);
    }

    #[test]
    fn a_spline_of_any_degree_on_a_line_is_that_line() {
        for degree in 1..=MAX_DEGREE {
            let count = degree + 4;
            let points: Vec<DVec3> = (0..count).map(|i| DVec3::new(i as f64, 2.0 * i as f64, 1.0)).collect();
            let knots: Vec<f64> = (0..=(count + degree)).map(|i| (i as f64).powf(1.3)).collect();
            let curve = Curve::spline(degree, &knots, &points).unwrap();
            assert!(flat(&curve, 1e-6).iter().all(|p| (p.y - 2.0 * p.x).abs() < 1e-9), "{degree}");
        }
    }

    #[test]
    fn a_curve_through_points_on_a_circle_stays_near_it() {
        let around = |step: usize| DVec2::from_angle(step as f64 * PI / 20.0);
        let points: Vec<DVec2> = (0..=20).map(around).collect();
        let flattened = flat(&Curve::through(&points, false).unwrap(), 1e-5);
        assert!(points.iter().all(|p| flattened.iter().any(|q| q.distance(*p) < 1e-12)));
        // Free ends flatten the curve there: by an eighth of the curvature times the chord squared.
        assert!(flattened.iter().all(|p| (p.length() - 1.0).abs() < (PI / 20.0).powi(2) / 8.0));
        assert!(Curve::through(&[DVec2::ONE, DVec2::ONE], true).is_none());
    }

    #[test]
    fn splines_that_do_not_add_up_are_none() {
        let points = [DVec3::ONE; 3];
        assert!(Curve::spline(2, &[0.0; 5], &points).is_none(), "a knot is missing");
        assert!(Curve::spline(2, &[0.0; 6], &points).is_none(), "all knots in one place");
        assert!(Curve::spline(0, &[0.0, 0.5, 0.75, 1.0], &points).is_none());
        assert!(Curve::spline(2, &[0.0, 0.0, 0.0, 1.0, 1.0, 0.5], &points).is_none());
        let weightless = [DVec3::ONE, DVec3::X, DVec3::ONE];
        assert!(Curve::spline(2, &[0.0, 0.0, 0.0, 1.0, 1.0, 1.0], &weightless).is_none());
    }
}
