//! Convex hulls, and hulls grown with round corners.

#![expect(clippy::cast_sign_loss, reason = "what is cast is not negative: counted, clamped or rounded up")]

use glam::DVec2;

/// The convex hull, counter-clockwise; fewer than three points where there is no area. Points that are
/// not finite are passed over. `O(n log n)`.
/// Andrew's monotone chain (A. M. Andrew, 1979).
///
/// ```
/// # use glam::dvec2;
/// # use spelk::geometry::convex_hull;
/// let points = vec![dvec2(0.0, 0.0), dvec2(4.0, 0.0), dvec2(1.0, 1.0), dvec2(0.0, 4.0)];
/// assert_eq!(convex_hull(points).len(), 3);
/// ```
pub fn convex_hull(mut points: Vec<DVec2>) -> Vec<DVec2> {
    points.retain(|p| p.is_finite());
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    points.dedup();
    if points.len() < 3 {
        return points;
    }
    let mut hull: Vec<DVec2> = Vec::new();
    let mut chain = |points: &mut dyn Iterator<Item = DVec2>| {
        let start = hull.len();
        for p in points {
            while hull.len() >= start + 2 {
                let (a, b) = (hull[hull.len() - 2], hull[hull.len() - 1]);
                if (b - a).perp_dot(p - b) > 0.0 {
                    break;
                }
                hull.pop();
            }
            hull.push(p);
        }
        hull.pop();
    };
    chain(&mut points.iter().copied());
    chain(&mut points.iter().rev().copied());
    hull
}

/// A convex counter-clockwise polygon grown by `margin`, its corners rounded by chords that turn by no more
/// than 0.05 radians. Fewer than three points, or a margin of nothing, come back as they are.
///
/// ```
/// # use glam::dvec2;
/// # use spelk::geometry::{Rect, grown_hull};
/// let square = Rect::new(dvec2(0.0, 0.0), dvec2(4.0, 4.0)).corners();
/// let grown = Rect::around(grown_hull(&square, 1.0)).expect("it has points");
/// assert!((grown.size() - dvec2(6.0, 6.0)).length() < 1e-9);
/// ```
pub fn grown_hull(hull: &[DVec2], margin: f64) -> Vec<DVec2> {
    let n = hull.len();
    if n < 3 || margin <= 0.0 {
        return hull.to_vec();
    }
    let mut out = Vec::with_capacity(n * 4);
    for i in 0..n {
        let (before, p, after) = (hull[(i + n - 1) % n], hull[i], hull[(i + 1) % n]);
        let normal = |a: DVec2, b: DVec2| -(b - a).perp().normalize_or_zero();
        let (from, to) = (normal(before, p), normal(p, after));
        // A chord of a round corner turns by no more than 0.05 radians.
        let steps = (from.angle_to(to).abs() / 0.05).ceil().clamp(1.0, 128.0);
        for k in 0..=steps as usize {
            let direction = from.lerp(to, k as f64 / steps).normalize_or(from);
            out.push(p + direction * margin);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;

    #[test]
    fn the_hull_of_a_star_is_its_five_points() {
        let star = (0..10).map(|i| {
            let angle = f64::from(i) * std::f64::consts::PI / 5.0;
            DVec2::from_angle(angle) * if i % 2 == 0 { 20.0 } else { 8.0 }
        });
        let hull = convex_hull(star.collect());
        assert_eq!(hull.len(), 5);
        assert!(hull.iter().all(|p| (p.length() - 20.0).abs() < 1e-9));
    }

    #[test]
    fn a_grown_square_gains_its_margin_and_round_corners() {
        let square =
            convex_hull(vec![dvec2(0.0, 0.0), dvec2(10.0, 0.0), dvec2(10.0, 10.0), dvec2(0.0, 10.0)]);
        let out = grown_hull(&square, 2.0);
        let area: f64 = (0..out.len()).map(|i| out[i].perp_dot(out[(i + 1) % out.len()]) / 2.0).sum();
        // Steiner's formula: area + perimeter * margin + pi * margin^2; chords lose a little.
        let exact = 100.0 + 80.0 + std::f64::consts::PI * 4.0;
        assert!(area < exact && area > exact - 0.1, "{area} {exact}");
    }
}
