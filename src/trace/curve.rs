//! From the points where ink meets paper to an outline: corners sharp, and smooth curves between them.
//!
//! A picture rounds every corner off by about a pixel, and more where it is out of focus. So the points beside a corner are left out, each side is
//! carried on by itself, and the corner is where the two meet. Whether there is a corner at all is asked of the
//! same two sides: a parabola through each, carried on to the place, must meet the other at the corner angle. A
//! tight curve bends both towards one direction; a corner does not.
//!
//! Between corners the points are smoothed by a parabola through each and its neighbours, and `kurbo` fits as few
//! cubics as the tolerance allows. All lengths are pixels.

#![expect(
    clippy::cast_possible_wrap,
    clippy::cast_sign_loss,
    reason = "counts of pixels and samples are far under 2^31, and places round a ring are brought back into it"
)]

use super::contour::area;
use glam::{DVec2, dvec2};
use kurbo::simplify::{SimplifyOptions, simplify_bezpath};
use kurbo::{BezPath, PathEl, Point};

/// From one sample of an outline to the next.
const STEP: f64 = 0.5;

/// Nearer to a corner than this the picture has rounded it off: a pixel's own width (by measurement on the
/// samples, clean and blurred by a pixel).
const ROUNDED: f64 = 1.0;

/// How far on either side a corner is looked at. Longer sides are surer of their direction and run into the next
/// corner more often (by measurement on the samples).
const SIDE: f64 = 6.0;

/// Sides at least this long may be bent; shorter ones are taken for straight (by measurement on the samples).
const BENDS: f64 = 3.0;

/// How far on either side the first, rough look goes.
const GLANCE: f64 = 1.5;

/// The rough look lets pass what turns by this share of the corner angle: rounding hides the rest.
const GLANCED: f64 = 0.55;

/// Two corners are at least so far apart.
const APART: f64 = 1.25;

/// A corner lies this far from the rounded outline at most, times one over the sine of half its angle: twice
/// what a pixel's own width rounds off.
const CUT_OFF: f64 = 1.2;

/// Corners give or take at most so much area for each pixel of outline: a square 3 pixels wide gains a
/// twentieth, and where it is more the sides of a small ring have been carried on past each other (a round value of
/// our own).
const MOST_GAIN: f64 = 0.25;

/// A fitted curve is at most this much longer than the points it was fitted to; a longer one has a loop in it.
const LONGER: f64 = 1.05;

/// A curve goes back by no more than this where it does, in pixels (by measurement on the samples: a pixel).
const HAIR: f64 = 1.2;

/// Between corners nothing turns by so much, radians: a round value of our own.
const TURNS_BACK: f64 = 2.0;

/// A ring that keeps to a circle within so many pixels is one. By measurement of rings as pixels show them: discs from
/// 2 to 12 pixels in radius keep to 0.144, in focus and out; squares from 3 pixels in radius stray by 0.28, hexagons
/// from 4 by 0.19, and squares out of focus from 4 by 0.17. What is smaller is as round as a disc.
const ROUND: f64 = 0.15;

/// Points on either side that smooth one.
const NEIGHBOURS: usize = 4;

/// How the outline is to be.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fit {
    /// A turn of at least so much is a corner, radians.
    pub(super) corner_angle: f64,
    /// How far a curve may be from the smoothed points.
    pub(super) tolerance: f64,
    /// How far the chords of the curves may be from them.
    pub(super) flattening: f64,
    /// How much further than a pixel's own width rounds them off corners are rounded, 1 or more: everything that
    /// is looked at round a corner is so much larger.
    pub(super) scale: f64,
}

/// A parabola `at + slope s + bend s²` in the plane.
#[derive(Clone, Copy)]
struct Parabola {
    at: DVec2,
    slope: DVec2,
}

impl Parabola {
    /// The one nearest to points by the sum of their squared distances; a line where there are fewer than four or
    /// it is asked for.
    fn through(points: &[(f64, DVec2)], bends: bool) -> Parabola {
        let n = points.len() as f64;
        let sum = |power: i32| points.iter().map(|(s, _)| s.powi(power)).sum::<f64>();
        let weighted = |power: i32| points.iter().map(|(s, p)| *p * s.powi(power)).sum::<DVec2>();
        let (s1, s2) = (sum(1), sum(2));
        let (p0, p1) = (weighted(0), weighted(1));
        if bends && points.len() >= 4 {
            let (s3, s4, p2) = (sum(3), sum(4), weighted(2));
            let det = |m: [[f64; 3]; 3]| {
                m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1])
                    - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
                    + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0])
            };
            let whole = det([[n, s1, s2], [s1, s2, s3], [s2, s3, s4]]);
            if whole.abs() > 1e-9 {
                let at = |q: [f64; 3]| det([[q[0], s1, s2], [q[1], s2, s3], [q[2], s3, s4]]) / whole;
                let slope = |q: [f64; 3]| det([[n, q[0], s2], [s1, q[1], s3], [s2, q[2], s4]]) / whole;
                let (x, y) = ([p0.x, p1.x, p2.x], [p0.y, p1.y, p2.y]);
                return Parabola { at: dvec2(at(x), at(y)), slope: dvec2(slope(x), slope(y)) };
            }
        }
        let whole = n * s2 - s1 * s1;
        if whole.abs() < 1e-12 {
            return Parabola { at: p0 / n.max(1.0), slope: DVec2::ZERO };
        }
        Parabola { at: (p0 * s2 - p1 * s1) / whole, slope: (p1 * n - p0 * s1) / whole }
    }
}

/// A corner of a ring of samples.
#[derive(Clone, Copy)]
struct Corner {
    /// The sample nearest to it.
    index: usize,
    at: DVec2,
}

/// The outline through a closed ring of crossings, its corners sharp: a closed polygon, the last point not
/// repeated. A ring of fewer than three pixels round comes back as it is.
pub(super) fn outline(ring: &[DVec2], fit: &Fit) -> Vec<DVec2> {
    let samples = resampled(ring);
    if samples.len() < 8 {
        return ring.to_vec();
    }
    let corners = if is_round(&samples) { Vec::new() } else { corners(&samples, fit) };
    if !corners.is_empty() {
        let path = cornered(&samples, &corners, fit);
        let length = samples.len() as f64 * STEP;
        if (area(&path) - area(&samples)).abs() <= MOST_GAIN * fit.scale * length {
            return path;
        }
    }
    let mut path = Vec::new();
    let closed: Vec<DVec2> = samples.iter().copied().chain([samples[0]]).collect();
    add_curve(&mut path, &smoothed(&closed, true), fit);
    path.pop();
    path
}

/// The outline through a ring of samples that has corners.
fn cornered(samples: &[DVec2], corners: &[Corner], fit: &Fit) -> Vec<DVec2> {
    let mut path = Vec::new();
    let trim = samples_in(ROUNDED * fit.scale);
    for (k, corner) in corners.iter().enumerate() {
        let next = &corners[(k + 1) % corners.len()];
        let n = samples.len();
        let count = match (next.index + n - corner.index) % n {
            0 => n,
            count => count,
        };
        let between = (trim..(count + 1).saturating_sub(trim)).map(|i| samples[(corner.index + i) % n]);
        let side: Vec<DVec2> = [corner.at].into_iter().chain(between).chain([next.at]).collect();
        if is_straight(&side, fit.tolerance) {
            path.push(corner.at);
        } else {
            add_curve(&mut path, &smoothed(&side, false), fit);
            path.pop();
        }
    }
    path
}

/// Whether a ring of samples is a circle as far as its pixels tell. What turns by a corner's angle within a few pixels
/// is a corner elsewhere; round a peg's hole it is not.
fn is_round(samples: &[DVec2]) -> bool {
    let n = samples.len() as f64;
    let middle = samples.iter().sum::<DVec2>() / n;
    let radius = samples.iter().map(|p| p.distance(middle)).sum::<f64>() / n;
    samples.iter().all(|p| (p.distance(middle) - radius).abs() <= ROUND)
}

/// How many samples a length has.
fn samples_in(length: f64) -> usize {
    (length / STEP).round() as usize
}

/// Points a [`STEP`] apart along a closed ring.
fn resampled(ring: &[DVec2]) -> Vec<DVec2> {
    let next = |i: usize| ring[(i + 1) % ring.len()];
    let length: f64 = ring.iter().enumerate().map(|(i, p)| p.distance(next(i))).sum();
    let count = (length / STEP).round().max(1.0);
    let step = length / count;
    let mut samples = Vec::with_capacity(count as usize);
    let mut due = 0.0;
    for (i, &p) in ring.iter().enumerate() {
        let side = p.distance(next(i));
        while due < side && samples.len() < count as usize {
            samples.push(p.lerp(next(i), due / side));
            due += step;
        }
        due -= side;
    }
    samples
}

/// The angle between two directions, 0 to half a turn.
fn turn(from: DVec2, to: DVec2) -> f64 {
    from.perp_dot(to).atan2(from.dot(to)).abs()
}

/// The corners of a closed ring of samples, in its order.
fn corners(samples: &[DVec2], fit: &Fit) -> Vec<Corner> {
    let n = samples.len();
    let at = |i: isize| samples[i.rem_euclid(n as isize) as usize];
    let reach = samples_in(GLANCE * fit.scale).min(n / 4).max(1) as isize;
    let turns: Vec<f64> =
        (0..n as isize).map(|i| turn(at(i) - at(i - reach), at(i + reach) - at(i))).collect();
    let apart = samples_in(APART * fit.scale) as isize;
    let turn_at = |i: isize| turns[i.rem_euclid(n as isize) as usize];
    let is_peak = |&i: &usize| {
        let (i, own) = (i as isize, turns[i]);
        // Of equal ones, the first.
        own >= GLANCED * fit.corner_angle
            && (1..=apart).all(|k| turn_at(i - k) < own && turn_at(i + k) <= own)
    };
    let peaks: Vec<usize> = (0..n).filter(is_peak).collect();
    let corner = |(k, &index): (usize, &usize)| {
        let gap = |to: usize| (to + n - index - 1) % n + 1;
        let ahead = gap(peaks[(k + 1) % peaks.len()]);
        let behind = n - gap(peaks[(k + peaks.len() - 1) % peaks.len()]) % n;
        let side = |room: usize, sign: isize| side(&at, index as isize, room, sign, fit.scale);
        let (back, ahead) = (side(behind, -1), side(ahead, 1));
        let angle = turn(-back.slope, ahead.slope);
        (angle >= fit.corner_angle)
            .then(|| Corner { index, at: meeting(samples[index], back, ahead, angle, fit.scale) })
    };
    peaks.iter().enumerate().filter_map(corner).collect()
}

/// One side of a corner, carried on to it: `room` samples away is the next one.
fn side(at: &impl Fn(isize) -> DVec2, index: isize, room: usize, sign: isize, scale: f64) -> Parabola {
    let first = samples_in(ROUNDED * scale);
    // Longer where corners are rounder, but less so, for the next corner is no further away.
    let most = samples_in(SIDE * scale.sqrt());
    // What the next corner has rounded off is left out, as long as two samples stay.
    let last = most.min(room.saturating_sub(first)).max(first + 1).min(room.max(first + 1));
    let first = first.min(last - 1);
    let points: Vec<(f64, DVec2)> =
        (first..=last).map(|k| (k as f64 * STEP, at(index + sign * k as isize))).collect();
    Parabola::through(&points, last - first >= samples_in(BENDS * scale))
}

/// Where two sides meet; the rounded outline's own point where that is too far away to be meant.
fn meeting(rounded: DVec2, back: Parabola, ahead: Parabola, angle: f64, scale: f64) -> DVec2 {
    let (u, v) = (back.slope.normalize_or_zero(), ahead.slope.normalize_or_zero());
    let cross = u.perp_dot(v);
    let most = CUT_OFF * scale / (0.5 * (std::f64::consts::PI - angle)).sin().max(0.2);
    if cross.abs() > 0.05 {
        let met = back.at + u * ((ahead.at - back.at).perp_dot(v) / cross);
        if met.distance(rounded) <= most {
            return met;
        }
    }
    rounded
}

/// Whether every point is within `tolerance` of the line from the first to the last.
fn is_straight(side: &[DVec2], tolerance: f64) -> bool {
    let (Some(&a), Some(&b)) = (side.first(), side.last()) else { return true };
    let along = (b - a).normalize_or_zero();
    let length = a.distance(b);
    // From a ring's only corner back to it.
    if length <= tolerance {
        return side.len() <= 2;
    }
    side.iter().all(|&p| {
        let s = (p - a).dot(along);
        (p - a).perp_dot(along).abs() <= tolerance && s > -1.0 && s < length + 1.0
    })
}

/// A point and the direction of the outline there.
type Node = (DVec2, DVec2);

/// Each point moved onto the parabola through it and its neighbours. The ends of an open row stay where they are;
/// a closed one ends on its first point.
fn smoothed(points: &[DVec2], closed: bool) -> Vec<Node> {
    let last = points.len() - 1;
    let mut along = vec![0.0; points.len()];
    for i in 1..points.len() {
        along[i] = along[i - 1] + points[i].distance(points[i - 1]);
    }
    let whole = along[last];
    let node = |i: usize| {
        let window: Vec<(f64, DVec2)> = if closed {
            let k = NEIGHBOURS as isize;
            (-k..=k)
                .map(|k| {
                    let j = i as isize + k;
                    let turns = j.div_euclid(last as isize) as f64;
                    let j = j.rem_euclid(last as isize) as usize;
                    (along[j] + turns * whole - along[i], points[j])
                })
                .collect()
        } else {
            let (low, high) = (i.saturating_sub(NEIGHBOURS), (i + NEIGHBOURS).min(last));
            (low..=high).map(|j| (along[j] - along[i], points[j])).collect()
        };
        let fitted = Parabola::through(&window, true);
        let is_end = !closed && (i == 0 || i == last);
        (if is_end { points[i] } else { fitted.at }, fitted.slope.normalize_or_zero())
    };
    // Every second sample is a pixel apart: between them the parabolas are one.
    let mut nodes: Vec<Node> = (0..last).step_by(2).map(node).collect();
    nodes.push(if closed { nodes[0] } else { node(last) });
    nodes
}

/// Fits cubics to smoothed points, and adds them as chords.
fn add_curve(path: &mut Vec<DVec2>, nodes: &[Node], fit: &Fit) {
    let point = |p: DVec2| Point::new(p.x, p.y);
    let mut curve = BezPath::new();
    curve.move_to(point(nodes[0].0));
    for pair in nodes.windows(2) {
        let [(a, u), (b, v)] = [pair[0], pair[1]];
        let handle = a.distance(b) / 3.0;
        if handle > 1e-9 {
            curve.curve_to(point(a + u * handle), point(b - v * handle), point(b));
        }
    }
    let curve = if curve.elements().len() > 2 {
        simplify_bezpath(curve, fit.tolerance, &SimplifyOptions::default())
    } else {
        curve
    };
    let start = path.len();
    path.push(nodes[0].0);
    kurbo::flatten(curve, fit.flattening, |element| {
        if let PathEl::LineTo(p) = element {
            let to = dvec2(p.x, p.y);
            // Where one cubic passes into the next it may go back by a hair, and on again.
            while let [.., before, last] = path[start..]
                && before.distance(last).min(last.distance(to)) < HAIR
                && turn(last - before, to - last) > TURNS_BACK
            {
                path.pop();
            }
            path.push(to);
        }
    });
    let length = |points: &[DVec2]| points.windows(2).map(|pair| pair[0].distance(pair[1])).sum::<f64>();
    let points: Vec<DVec2> = nodes.iter().map(|node| node.0).collect();
    let (fitted, followed) = (length(&path[start..]), length(&points));
    if fitted.is_nan() || fitted > LONGER * followed {
        path.truncate(start);
        path.extend(points);
    }
}
