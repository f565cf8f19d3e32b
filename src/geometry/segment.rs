//! Two straight lines between points.

use glam::DVec2;
use std::f64::consts::{FRAC_PI_2, PI};

/// Whether each of two segments runs from one side of the other to the other side.
pub(crate) fn segments_cross([a, b]: [DVec2; 2], [c, d]: [DVec2; 2]) -> bool {
    let side = |p: DVec2, q: DVec2, r: DVec2| (q - p).perp_dot(r - p);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

/// The place of a segment that is nearest to a point; it may be a point itself.
pub(crate) fn nearest_on([from, to]: [DVec2; 2], p: DVec2) -> DVec2 {
    let along = to - from;
    let share = (p - from).dot(along) / along.length_squared();
    // A point has no share.
    from + along * if share.is_nan() { 0.0 } else { share.clamp(0.0, 1.0) }
}

/// The distance between two segments; either may be a point. 0 where they cross or touch.
pub(crate) fn segment_distance([a, b]: [DVec2; 2], [c, d]: [DVec2; 2]) -> f64 {
    if segments_cross([a, b], [c, d]) {
        return 0.0;
    }
    let to_segment = |p: DVec2, segment: [DVec2; 2]| p.distance(nearest_on(segment, p));
    let ends = [to_segment(a, [c, d]), to_segment(b, [c, d]), to_segment(c, [a, b]), to_segment(d, [a, b])];
    ends.into_iter().fold(f64::INFINITY, f64::min)
}

/// All points within `radius` of a segment, but for what the chords of its round ends cut off, `chords` at each end.
/// Counter-clockwise. Both ends may be one point.
pub(crate) fn near_segment([a, b]: [DVec2; 2], radius: f64, chords: u32) -> Vec<DVec2> {
    let angle = (b - a).try_normalize().unwrap_or(DVec2::X).to_angle();
    let end = |center: DVec2, first: f64| {
        (0..=chords).map(move |step| {
            let turn = f64::from(step) / f64::from(chords) * PI;
            center + DVec2::from_angle(first + turn) * radius
        })
    };
    end(b, angle - FRAC_PI_2).chain(end(a, angle + FRAC_PI_2)).collect()
}
