//! What a node borders on, from what the cells of segments report.
//!
//! Round a node, its wedge holds the segments it borders on, each known from its own cell, and gaps between
//! them in which it borders on other nodes alone. Where a segment stops bordering on the node, its cell shows
//! the next site: the first node of the gap, or the last. If first and last are the same node, the whole gap
//! borders on it: the middles of the discs that touch both nodes and hold a third lie on one half of a line,
//! so a third cannot come between. Where several nodes face each other, the gaps between them close a ring,
//! and the ring gives all their edges. Only a gap that closes no ring is searched, as where a node faces
//! nothing at all.

use super::cell::Edge;
use super::sites::{Face, Site, Sites, point};
use super::tuning::{LONGEST_RING, MEETING_STEPS, MERGED_STEPS, MISSED_SHARE, MISSED_STEPS};
use glam::DVec2;

/// Where a node borders on a segment, counter-clockwise round the node; or, of no extent, where its wedge
/// begins or ends.
#[derive(Clone, Copy, Debug)]
pub(super) struct NodeContact {
    pub(super) node: u32,
    /// The middles of the discs at either end, in steps.
    pub(super) ends: [DVec2; 2],
    /// The next site beyond either end: the node itself where its wedge ends there.
    pub(super) beyond: [Site; 2],
}

/// An angle through which a node borders on other nodes alone; which ones is not yet known.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gap {
    pub(super) node: u32,
    pub(super) face: Face,
    /// The middles of the discs that bound it, counter-clockwise, in steps.
    pub(super) ends: [DVec2; 2],
    /// The first and the last node in it.
    pub(super) neighbours: [Site; 2],
}

/// Pushes a node's edges with nodes of a higher number where its contacts show them, and the gaps where they
/// do not. Sorts `contacts`, which are all of one node.
pub(super) fn edges(sites: &Sites, contacts: &mut [NodeContact], edges: &mut Vec<Edge>, gaps: &mut Vec<Gap>) {
    let node = contacts[0].node;
    let Some(cone) = sites.cones[node as usize] else { return };
    let own = Site::node(node);
    let at = point(sites.node_at(node));
    let [first, last] = [cone.first, cone.last].map(|segment| sites.along_from(cone.face, segment).perp());
    let order = |contact: &NodeContact| {
        let direction = contact.ends[0] + contact.ends[1] - 2.0 * at;
        let turn = first.perp_dot(direction).atan2(first.dot(direction));
        let [begins, ends] = contact.beyond.map(|site| site == own);
        if begins {
            f64::NEG_INFINITY
        } else if ends {
            f64::INFINITY
        } else {
            turn
        }
    };
    contacts.sort_unstable_by(|a, b| order(a).total_cmp(&order(b)));
    let wedge_ends =
        |contact: Option<&NodeContact>, end: usize| contact.is_some_and(|contact| contact.beyond[end] == own);
    if !wedge_ends(contacts.first(), 0) || !wedge_ends(contacts.last(), 1) {
        gaps.push(Gap { node, face: cone.face, ends: [at + first, at + last], neighbours: [Site::NONE; 2] });
        return;
    }
    for pair in contacts.windows(2) {
        let (from, to) = (pair[0].ends[1], pair[1].ends[0]);
        let neighbours = [pair[0].beyond[1], pair[1].beyond[0]];
        let apart = from.distance_squared(to);
        let meet = if neighbours.iter().any(|site| site.is_node()) { MERGED_STEPS } else { MEETING_STEPS };
        if apart < meet * meet {
            continue;
        }
        let [before, after] = neighbours;
        let gap = Gap { node, face: cone.face, ends: [from, to], neighbours };
        if before != after || !gap.is_sound(sites) {
            gaps.push(gap);
        } else if before.index() > node {
            edges.push(Edge { sites: [own, before], face: cone.face, ends: gap.ends });
        }
    }
}

impl Gap {
    fn at(&self, sites: &Sites) -> DVec2 {
        point(sites.node_at(self.node))
    }

    /// Whether it opens counter-clockwise and its ends touch the nodes that are said to come first and last.
    fn is_sound(&self, sites: &Sites) -> bool {
        let at = self.at(sites);
        let touches = |end: usize| {
            let (middle, site) = (self.ends[end], self.neighbours[end]);
            site.is_node() && site != Site::NONE && site.index() != self.node && {
                let radius = middle.distance(at);
                let missed = middle.distance(point(sites.node_at(site.index()))) - radius;
                missed.abs() < MISSED_STEPS + MISSED_SHARE * radius
            }
        };
        let [from, to] = self.ends.map(|end| end - at);
        from.perp_dot(to) > 0.0 && touches(0) && touches(1)
    }

    /// The gap that comes next in the ring, by its number in a list sorted by [`Gap::key`].
    fn next(&self, gaps: &[Gap]) -> Option<usize> {
        let key = (self.neighbours[1].index(), Site::node(self.node), self.face);
        gaps.binary_search_by_key(&key, Gap::key).ok().filter(|_| self.neighbours[1] != Site::NONE)
    }

    fn key(&self) -> (u32, Site, Face) {
        (self.node, self.neighbours[0], self.face)
    }
}

/// Pushes the edges of gaps that close a ring, and keeps the rest.
///
/// Where nodes border on nodes alone, the edges between them form trees: a loop of them would hold the cell
/// of a node, and the segments that leave it. So the gaps round a tree form one ring, in which each begins
/// with the node of the one before, and no other node has a part in it.
pub(super) fn close(sites: &Sites, gaps: &mut Vec<Gap>, edges: &mut Vec<Edge>) {
    gaps.sort_unstable_by_key(Gap::key);
    let mut seen = vec![false; gaps.len()];
    let mut open = Vec::new();
    for start in 0..gaps.len() {
        if seen[start] {
            continue;
        }
        let mut ring = Vec::new();
        let mut next = Some(start);
        while let Some(i) = next.filter(|&i| !seen[i]) {
            seen[i] = true;
            ring.push(gaps[i]);
            next = gaps[i].next(gaps);
        }
        let found = edges.len();
        let closed = next == Some(start) && (3..=LONGEST_RING).contains(&ring.len());
        let sound = closed && ring.iter().all(|gap| gap.is_sound(sites));
        if !sound || !meet(sites, &ring, edges) {
            edges.truncate(found);
            open.append(&mut ring);
        }
    }
    *gaps = open;
}

/// Pushes the edges between the nodes of a ring of gaps: from a place where two nodes are equally near, an edge
/// runs between them until a third node is as near, and from there between either and the third. `O(n^2)` at
/// worst. Returns whether the edges end where the gaps say.
fn meet(sites: &Sites, ring: &[Gap], edges: &mut Vec<Edge>) -> bool {
    let mut rest = vec![(0, ring.len() - 1, ring[0].ends[0])];
    while let Some((first, last, from)) = rest.pop() {
        let [a, b] = [first, last].map(|i| ring[i].at(sites));
        let direction = (b - a).normalize().perp();
        let radius = from.distance(a);
        let least = -(MISSED_STEPS + MISSED_SHARE * radius);
        let to = if last == first + 1 {
            ring[first].ends[1]
        } else {
            let third = (first + 1..last).filter_map(|i| {
                let c = ring[i].at(sites);
                let nearer = direction.dot(c - a);
                let far = from.distance_squared(c) - radius * radius;
                (nearer > 0.0).then_some((far / (2.0 * nearer), i))
            });
            let Some((ahead, i)) = third.min_by(|a, b| a.0.total_cmp(&b.0)) else { return false };
            let to = from + direction * ahead;
            rest.extend([(first, i, to), (i, last, to)]);
            to
        };
        let along = direction.dot(to - from);
        if along.is_nan() || along < least {
            return false;
        }
        let nodes = [first, last].map(|i| Site::node(ring[i].node));
        edges.push(Edge { sites: nodes, face: ring[first].face, ends: [from, to] });
    }
    true
}
