//! What a node borders on, from what the cells of segments tell of it.
//!
//! Going round a node through its wedge one passes the segments it borders on, each known from its own
//! cell, and between them gaps in which it borders on other nodes alone. Where a segment's stretch beside
//! the node ends, its cell shows what comes next: that is the first, or last, node of the gap. If both are
//! one, the gap is all of that node's: the middles of the balls that touch the two and hold a third node lie on one
//! half of a line, so a third cannot come between. Only gaps that hold several nodes have to be searched.

use super::axis::WELDED_STEPS;
use super::cell::Edge;
use super::sites::{Cone, Face, Site, Sites, point};
use glam::DVec2;

/// How far, in steps, and by what share of it the radius of a ball may miss a node that it should touch.
const MISSED_STEPS: f64 = 0.01;
const MISSED_SHARE: f64 = 1e-8;

/// Stretches round a node that are next to each other meet within so many steps, however large the ball.
const MEETING_STEPS: f64 = 1.0;

/// Where a node borders on a segment, counter-clockwise round the node; or, of no extent, where its wedge
/// begins or ends.
#[derive(Clone, Copy, Debug)]
pub(super) struct Beside {
    pub(super) node: u32,
    /// The middles of the balls at either end, in steps.
    pub(super) ends: [DVec2; 2],
    /// What comes next beyond either end: the node itself where its wedge ends there.
    pub(super) beyond: [Site; 2],
}

/// What a node borders on through an angle is still open: other nodes alone.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gap {
    pub(super) node: u32,
    pub(super) face: Face,
    /// The unit ways from the node that bound it, counter-clockwise.
    pub(super) ways: [DVec2; 2],
    /// What comes first and last in it.
    pub(super) near: [Site; 2],
}

/// Pushes a node's edges with nodes of a higher number where what its segments tell shows them, and the gaps
/// where it does not. Sorts `beside`, which is all that is told of the node.
pub(super) fn edges(
    sites: &Sites,
    node: u32,
    cone: Cone,
    beside: &mut [Beside],
    edges: &mut Vec<Edge>,
    gaps: &mut Vec<Gap>,
) {
    let own = Site::node(node);
    let at = point(sites.node_at(node));
    let [first, last] = [cone.first, cone.last].map(|segment| sites.along_from(cone.face, segment).perp());
    let order = |beside: &Beside| {
        let way = beside.ends[0] + beside.ends[1] - 2.0 * at;
        let turn = first.perp_dot(way).atan2(first.dot(way));
        let [begins, ends] = beside.beyond.map(|site| site == own);
        if begins {
            f64::NEG_INFINITY
        } else if ends {
            f64::INFINITY
        } else {
            turn
        }
    };
    beside.sort_unstable_by(|a, b| order(a).total_cmp(&order(b)));
    let told = |beside: Option<&Beside>, end: usize| beside.is_some_and(|beside| beside.beyond[end] == own);
    if !told(beside.first(), 0) || !told(beside.last(), 1) {
        gaps.push(Gap { node, face: cone.face, ways: [first, last], near: [Site::NONE; 2] });
        return;
    }
    for pair in beside.windows(2) {
        let (from, to) = (pair[0].ends[1], pair[1].ends[0]);
        let near = [pair[0].beyond[1], pair[1].beyond[0]];
        let apart = from.distance_squared(to);
        let meet = if near.iter().any(|site| site.is_node()) { WELDED_STEPS } else { MEETING_STEPS };
        if apart < meet * meet {
            continue;
        }
        let [before, after] = near;
        let touches = |middle: DVec2| {
            let other = point(sites.node_at(before.index()));
            let radius = middle.distance(at);
            (middle.distance(other) - radius).abs() < MISSED_STEPS + MISSED_SHARE * radius
        };
        let one = before == after && before.is_node() && before != Site::NONE && before != own;
        let ways = [from - at, to - at];
        if !one || ways[0].perp_dot(ways[1]) <= 0.0 || !touches(from) || !touches(to) {
            gaps.push(Gap { node, face: cone.face, ways: ways.map(DVec2::normalize), near });
        } else if before.index() > node {
            edges.push(Edge { sites: [own, before], face: cone.face, ends: [from, to] });
        }
    }
}
