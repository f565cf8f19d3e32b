//! Convex hulls, and hulls grown with round corners.

#![expect(clippy::cast_sign_loss, reason = "what is cast is not negative: counted, clamped or rounded up")]

use glam::DVec2;
use std::collections::VecDeque;

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

/// A convex counter-clockwise polygon shrunk by `by` on every side, its corners sharp; no points where nothing is left.
/// Points that lie within a chord of others, as rounding leaves them, do no harm. `O(n)` after the hull.
///
/// ```
/// # use glam::dvec2;
/// # use spelk::geometry::{Rect, shrunk_hull};
/// let square = Rect::new(dvec2(0.0, 0.0), dvec2(4.0, 4.0)).corners();
/// let shrunk = Rect::around(shrunk_hull(&square, 1.0)).expect("it has points");
/// assert!((shrunk.size() - dvec2(2.0, 2.0)).length() < 1e-9);
/// assert!(shrunk_hull(&square, 2.5).is_empty());
/// ```
pub fn shrunk_hull(hull: &[DVec2], by: f64) -> Vec<DVec2> {
    let hull = convex_hull(hull.to_vec());
    // What lies to the left of each side, moved in. Sides turn one way, so of those that are kept the last is the
    // first to lie beyond what a new one leaves.
    let mut sides: VecDeque<[DVec2; 2]> = VecDeque::new();
    let corner = |[a, along]: [DVec2; 2], [b, other]: [DVec2; 2]| {
        a + along * ((b - a).perp_dot(other) / along.perp_dot(other))
    };
    let is_beyond = |at: DVec2, [from, along]: [DVec2; 2]| along.perp_dot(at - from) <= 0.0;
    for (&a, &b) in hull.iter().zip(hull.iter().cycle().skip(1)).filter(|_| hull.len() >= 3) {
        let along = (b - a).normalize();
        let side = [a + along.perp() * by, along];
        while sides.len() > 1 && is_beyond(corner(sides[sides.len() - 2], sides[sides.len() - 1]), side) {
            sides.pop_back();
        }
        while sides.len() > 1 && is_beyond(corner(sides[0], sides[1]), side) {
            sides.pop_front();
        }
        sides.push_back(side);
    }
    while sides.len() > 2 && is_beyond(corner(sides[sides.len() - 2], sides[sides.len() - 1]), sides[0]) {
        sides.pop_back();
    }
    while sides.len() > 2 && is_beyond(corner(sides[0], sides[1]), sides[sides.len() - 1]) {
        sides.pop_front();
    }
    let count = sides.len();
    let corners: Vec<DVec2> = (0..count).map(|i| corner(sides[i], sides[(i + 1) % count])).collect();
    // Of what is gone altogether, sides that face each other are left over, or ones that turn the other way.
    let area: f64 = (0..count).map(|i| corners[i].perp_dot(corners[(i + 1) % count])).sum();
    if count >= 3 && area > 0.0 && corners.iter().all(|at| at.is_finite()) { corners } else { Vec::new() }
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

    /// A convex polygon cut along a line, what is left of it kept: Sutherland and Hodgman's way.
    fn cut(polygon: &[DVec2], from: DVec2, along: DVec2) -> Vec<DVec2> {
        let off = |p: DVec2| along.perp_dot(p - from);
        let mut kept = Vec::new();
        for (&a, &b) in polygon.iter().zip(polygon.iter().cycle().skip(1)) {
            if off(a) >= 0.0 {
                kept.push(a);
            }
            if (off(a) >= 0.0) != (off(b) >= 0.0) {
                kept.push(a.lerp(b, off(a) / (off(a) - off(b))));
            }
        }
        kept
    }

    /// What is left is what cutting along each side, moved in, leaves one after the other. And shrunk by the margin
    /// again a grown hull is what it was, but for its chords.
    #[test]
    fn a_hull_is_shrunk_side_by_side() {
        let area = |ring: &[DVec2]| -> f64 {
            (0..ring.len()).map(|i| ring[i].perp_dot(ring[(i + 1) % ring.len()]) / 2.0).sum()
        };
        let oval: Vec<DVec2> = (0..97)
            .map(|i| DVec2::from_angle(f64::from(i) / 97.0 * std::f64::consts::TAU) * dvec2(30.0, 9.0))
            .collect();
        let wedge = vec![dvec2(0.0, 0.0), dvec2(40.0, 1.0), dvec2(40.5, 1.2), dvec2(0.5, 12.0)];
        for hull in [oval, wedge] {
            for by in [0.01, 0.5, 2.0, 5.0, 8.9, 20.0] {
                let sides = hull.iter().zip(hull.iter().cycle().skip(1));
                let left = sides.fold(hull.clone(), |left, (&a, &b)| {
                    let along = (b - a).normalize();
                    cut(&left, a + along.perp() * by, along)
                });
                let off = area(&shrunk_hull(&hull, by)) - area(&left);
                assert!(off.abs() < 1e-9, "{off} mm2 at {by}");
            }
            let back = area(&shrunk_hull(&grown_hull(&hull, 3.0), 3.0)) - area(&hull);
            assert!(back.abs() < 0.2, "{back} mm2");
        }
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
