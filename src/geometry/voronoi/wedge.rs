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
use super::ring;
use super::sites::{Face, Site, Sites, point};
use super::tuning::{MEETING_STEPS, MERGED_STEPS, MISSED_SHARE, MISSED_STEPS};
use glam::DVec2;
use i_overlay::i_float::int::point::IntPoint;

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
        let neighbours = [(pair[0].beyond[1], from), (pair[1].beyond[0], to)]
            .map(|(site, middle)| end_of(sites, cone.face, site, middle));
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

/// The node a segment ends in, where the disc about `middle` touches it just there: as where two straight
/// sides that face each other end side by side.
fn end_of(sites: &Sites, face: Face, site: Site, middle: DVec2) -> Site {
    if site == Site::NONE || site.is_node() {
        return site;
    }
    let segment = site.index();
    let [start, _] = sites.seen_from(face, segment);
    let foot = sites.along_from(face, segment).dot(middle - point(start));
    let names = sites.node_names(face, segment);
    let at_end = if foot.abs() < MEETING_STEPS {
        names[0]
    } else if (foot - sites.lengths[segment as usize]).abs() < MEETING_STEPS {
        names[1]
    } else {
        return site;
    };
    let juts = sites.cones[at_end as usize].is_some_and(|cone| cone.face == face);
    if juts { Site::node(at_end) } else { site }
}

impl Gap {
    fn at(&self, sites: &Sites) -> DVec2 {
        point(sites.node_at(self.node))
    }

    /// Whether it opens counter-clockwise and its ends touch the nodes that are said to come first and last.
    fn is_sound(&self, sites: &Sites) -> bool {
        let at = self.at(sites);
        let [from, to] = self.ends.map(|end| end - at);
        from.perp_dot(to) > 0.0 && self.is_sound_at(sites, 0) && self.is_sound_at(sites, 1)
    }

    /// Whether the disc at one end touches the node that is said to be there.
    pub(super) fn is_sound_at(&self, sites: &Sites, end: usize) -> bool {
        let (middle, site) = (self.ends[end], self.neighbours[end]);
        site.is_node() && site != Site::NONE && site.index() != self.node && {
            let radius = middle.distance(self.at(sites));
            let missed = middle.distance(point(sites.node_at(site.index()))) - radius;
            missed.abs() < MISSED_STEPS + MISSED_SHARE * radius
        }
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
        let closed = next == Some(start) && ring.len() >= 3;
        let sound = closed && ring.iter().all(|gap| gap.is_sound(sites));
        if !sound || !meet(sites, &ring, edges) {
            edges.truncate(found);
            open.append(&mut ring);
        }
    }
    *gaps = open;
}

/// Pushes the edges between the nodes of a ring of gaps: each is where two triangles of the nodes meet, from
/// the middle of the one's circle to the other's. `O(n log n)` expected. Returns whether the edges run the way
/// they must.
fn meet(sites: &Sites, ring: &[Gap], edges: &mut Vec<Edge>) -> bool {
    let nodes: Vec<IntPoint<i32>> = ring.iter().map(|gap| sites.node_at(gap.node)).collect();
    let last = nodes.len() - 1;
    let mut sound = true;
    let mut push = |a: usize, b: usize, left: DVec2, right: DVec2| {
        let [from, to] = [a, b].map(|i| point(nodes[i]));
        let along = (to - from).normalize().perp().dot(left - right);
        let radius = left.distance(from).min(right.distance(from));
        sound &= along >= -(MISSED_STEPS + MISSED_SHARE * radius);
        let sites = [a, b].map(|i| Site::node(ring[i].node));
        edges.push(Edge { sites, face: ring[0].face, ends: [right, left] });
    };
    // The ring runs clockwise: between two of its nodes the nodes in between lie to the left.
    for (corners, beyond) in ring::triangles(&nodes) {
        let middle = ring::middle(corners.map(|i| nodes[i]));
        for i in 0..3 {
            let (a, b) = (corners[(i + 1) % 3], corners[(i + 2) % 3]);
            match beyond[i] {
                // Each once, from the side of the corner in between.
                Some(other) => {
                    let (a, b) = (a.min(b), a.max(b));
                    if (a..b).contains(&corners[i]) {
                        push(a, b, middle, ring::middle(other.map(|i| nodes[i])));
                    }
                }
                None if a.abs_diff(b) == last => push(0, last, middle, ring[last].ends[1]),
                None => push(a.min(b), a.max(b), ring[a.min(b)].ends[1], middle),
            }
        }
    }
    sound
}
