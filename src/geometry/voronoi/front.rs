//! The front: every place of a face that is equally far from the outline, as that distance grows.
//!
//! At any distance it is a number of closed chains of *arcs*, each nearest to one site: straight in front of a segment,
//! round in front of a node. Where two arcs meet, the front moves along an edge of the diagram. Cut where it would run into
//! itself ([`chains`](super::chains)), it changes in one way alone: an arc *vanishes* between its neighbours, which then
//! meet. That is a vertex of the diagram.
//!
//! When that is follows from three sites. It takes a constant number of steps in a chain, and one in a queue by distance;
//! so all of it takes `O(n log n)`.
//!
//! # Ties
//!
//! Where events cannot be told apart by their distance, their order plays no part, but for one case: between two sides that
//! run nearly alike the front moves at once as far as they do, so what it meets first along them is what counts.

use super::chains::{Chains, NONE, Start};
use super::contact::Contact;
use super::diagram::Edge;
use super::frame::Frame;
use super::sites::{Direction, Face, Site, Sites, point};
use super::tuning::{ARCS, AT_A_TIME, EVENTS, LATE_SHARE, LATE_STEPS, MOST_TIES};
use glam::DVec2;
use i_overlay::i_float::int::point::IntPoint;
use rayon::prelude::*;
use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::sync::atomic::{AtomicBool, Ordering};

/// The edge along which an arc meets the next is half of one: from its contact on. The rest of the number is as
/// [`Start::cut`].
const HALF: u32 = 1 << 31;

/// A part of the front that is nearest to one site.
struct Arc {
    site: Site,
    before: u32,
    after: u32,
    /// The edge along which it meets the next, and from what distance on. `NONE` where none lies between.
    edge: u32,
    since: f64,
    /// How often it was worked out when it vanishes; `NONE` once it has.
    stamp: u32,
    /// Whether that waits in the queue.
    waits: bool,
    /// At what distance it vanishes, and where.
    radius: f64,
    at: DVec2,
}

/// When an arc may vanish: the distance, as bits that sort as numbers do, the arc, and its stamp.
type Event = Reverse<(u64, u32, u32)>;

/// Chains of the front, one after the other, and what they leave behind.
struct Front<'a> {
    sites: &'a Sites,
    face: Face,
    contacts: &'a [Contact],
    arcs: Vec<Arc>,
    events: BinaryHeap<Event>,
    edges: Vec<Edge>,
    /// Where the edges of contacts end, one way and the other.
    halves: Vec<(u32, DVec2)>,
}

/// The edges that the front leaves behind until it is as far away as the outline is large. `O(n log n)`.
pub(super) fn swept(
    sites: &Sites,
    face: Face,
    contacts: &[Contact],
    chains: &Chains,
    cancel: &AtomicBool,
) -> Vec<Edge> {
    let extent = sites.extent();
    let of_contact =
        |&Contact { sites: [a, b], at, .. }: &Contact| Edge { sites: in_order([a, b]), face, ends: [at; 2] };
    // No more than two to an arc: one where it sets out, and one as it vanishes. What is not used is never touched.
    let mut edges = Vec::with_capacity(2 * chains.arcs());
    edges.extend(contacts.iter().map(of_contact));
    // Some groups at a time, in lists that are used again: what a thread lets go of stays with the program.
    let mut fronts: Vec<Front> = (0..AT_A_TIME).map(|_| Front::of(sites, face, contacts)).collect();
    for groups in chains.groups(ARCS).chunks(AT_A_TIME) {
        // The largest, which may be all of a face, adds to the list itself.
        let arcs = |group: &[&[Start]]| group.iter().map(|chain| chain.len()).sum::<usize>();
        let largest = (0..groups.len()).max_by_key(|&group| arcs(&groups[group])).unwrap_or(0);
        fronts[largest].edges = std::mem::take(&mut edges);
        let of_group = |(group, front): (&Vec<&[Start]>, &mut Front)| {
            for chain in group.iter().take_while(|_| !cancel.load(Ordering::Relaxed)) {
                front.burn(chain, extent, cancel);
            }
        };
        groups.par_iter().zip(&mut fronts).for_each(of_group);
        edges = std::mem::take(&mut fronts[largest].edges);
        for front in &mut fronts {
            edges.append(&mut front.edges);
            for (half, at) in front.halves.drain(..) {
                edges[(half >> 1) as usize].ends[(half & 1) as usize] = at;
            }
        }
    }
    edges.retain(|edge| edge.ends[0] != edge.ends[1]);
    edges
}

/// A segment first, or the lower number.
fn in_order([a, b]: [Site; 2]) -> [Site; 2] {
    if (a.is_node(), a) <= (b.is_node(), b) { [a, b] } else { [b, a] }
}

/// From when on something at a distance may have happened, for all that rounding can tell.
fn early(radius: f64) -> f64 {
    radius * (1.0 - LATE_SHARE) - LATE_STEPS
}

impl<'a> Front<'a> {
    fn of(sites: &'a Sites, face: Face, contacts: &'a [Contact]) -> Front<'a> {
        let (arcs, edges, halves) = (Vec::new(), Vec::new(), Vec::new());
        Front { sites, face, contacts, arcs, events: BinaryHeap::new(), edges, halves }
    }

    /// Lets a chain burn until nothing is left of it, or it is as far away as `extent`.
    fn burn(&mut self, chain: &[Start], extent: f64, cancel: &AtomicBool) {
        self.set_out(chain);
        for count in 0_u64.. {
            if count % EVENTS == 0 && cancel.load(Ordering::Relaxed) {
                break;
            }
            let Some(Reverse((radius, arc, stamp))) = self.events.pop() else { break };
            if f64::from_bits(radius) > extent {
                break;
            }
            if self.arcs[arc as usize].stamp == stamp {
                self.vanish(self.first_of(arc));
            }
        }
        self.stop(extent);
    }

    /// A chain on the outline.
    fn set_out(&mut self, chain: &[Start]) {
        self.arcs.clear();
        self.arcs.reserve(chain.len());
        let count = chain.len() as u32;
        for (own, &Start { site, .. }) in (0..).zip(chain) {
            let [before, after] = [own + count - 1, own + 1].map(|arc| arc % count);
            let (edge, since, radius) = (NONE, 0.0, f64::INFINITY);
            let (stamp, waits, at) = (0, false, DVec2::ZERO);
            self.arcs.push(Arc { site, before, after, edge, since, stamp, waits, radius, at });
        }
        for (own, &Start { site, cut }) in (0..).zip(chain) {
            let after = self.arcs[own].after;
            let next = self.arcs[after as usize].site;
            (self.arcs[own].edge, self.arcs[own].since) = if cut != NONE {
                (HALF | cut, self.contacts[(cut >> 1) as usize].radius)
            } else if self.is_wall(site, next) {
                (NONE, 0.0)
            } else {
                let corner = point(self.sites.seen_from(self.face, site.index())[1]);
                (self.opened(own as u32, after, corner), 0.0)
            };
        }
        if let [a, b] = chain {
            // Both edges are the same one, from a contact on.
            let cut = if a.cut == NONE { b.cut } else { a.cut };
            if let Some(contact) = self.contacts.get((cut >> 1) as usize) {
                (0..2).for_each(|arc| self.close(arc, contact.at));
            }
            self.arcs.clear();
        }
        let arcs = 0..self.arcs.len() as u32;
        let mut vanishing = Vec::new();
        for from in arcs.clone().step_by(AT_A_TIME * ARCS) {
            let own = from..arcs.end.min(from + (AT_A_TIME * ARCS) as u32);
            own.into_par_iter().with_min_len(ARCS).map(|arc| self.when(arc)).collect_into_vec(&mut vanishing);
            for (arc, &(radius, at)) in self.arcs[from as usize..].iter_mut().zip(&vanishing) {
                (arc.radius, arc.at) = (radius, at);
            }
        }
        let mut events = std::mem::take(&mut self.events).into_vec();
        events.clear();
        events.extend(arcs.filter_map(|arc| self.due(arc)));
        self.events = BinaryHeap::from(events);
    }

    fn tie(&mut self, before: u32, after: u32, edge: u32, since: f64) {
        let arc = &mut self.arcs[before as usize];
        (arc.after, arc.edge, arc.since) = (after, edge, since);
        self.arcs[after as usize].before = before;
    }

    /// Whether two sites of arcs that follow each other are a segment and a node at its end. Between those the front
    /// moves straight away from the outline, and no edge of the diagram lies there.
    fn is_wall(&self, a: Site, b: Site) -> bool {
        match (a.is_node(), b.is_node()) {
            (false, true) => self.sites.node_names(self.face, a.index())[1] == b.index(),
            (true, false) => self.sites.node_names(self.face, b.index())[0] == a.index(),
            _ => false,
        }
    }

    /// Begins the edge between two arcs, and returns its number.
    fn opened(&mut self, before: u32, after: u32, at: DVec2) -> u32 {
        let [a, b] = [before, after].map(|arc| self.arcs[arc as usize].site);
        if a == b || self.is_wall(a, b) {
            return NONE;
        }
        self.edges.push(Edge { sites: in_order([a, b]), face: self.face, ends: [at; 2] });
        self.edges.len() as u32 - 1
    }

    /// Ends the edge between an arc and the next.
    fn close(&mut self, arc: u32, at: DVec2) {
        match self.arcs[arc as usize].edge {
            NONE => {}
            edge if edge & HALF == 0 => self.edges[edge as usize].ends[1] = at,
            half => self.halves.push((half & !HALF, at)),
        }
    }

    fn is_gone(&self, arc: u32) -> bool {
        self.arcs[arc as usize].stamp == NONE
    }

    /// At what distance an arc vanishes between those beside it, and where.
    fn when(&self, own: u32) -> (f64, DVec2) {
        let Arc { site, before, after, since, .. } = self.arcs[own as usize];
        let [before, next] = [before, after].map(|arc| &self.arcs[arc as usize]);
        let found = self.vertex([before.site, site, next.site], since.max(before.since));
        found.unwrap_or((f64::INFINITY, DVec2::ZERO))
    }

    /// Works that out anew.
    fn work_out(&mut self, own: u32) {
        let found = self.when(own);
        let arc = &mut self.arcs[own as usize];
        (arc.stamp, arc.waits) = (arc.stamp + 1, false);
        (arc.radius, arc.at) = found;
    }

    /// That an arc vanishes, if it waits for nothing: one beside it that vanishes sooner changes when it does itself.
    fn due(&mut self, own: u32) -> Option<Event> {
        let Arc { before, after, radius, waits, stamp, .. } = self.arcs[own as usize];
        let sooner = |other: u32| self.arcs[other as usize].radius < radius;
        if waits || stamp == NONE || radius == f64::INFINITY || sooner(before) || sooner(after) {
            return None;
        }
        self.arcs[own as usize].waits = true;
        Some(Reverse((radius.max(0.0).to_bits(), own, stamp)))
    }

    /// Works out anew when some arcs vanish, and puts into the queue what is due of them and of those beside them.
    fn expect(&mut self, arcs: [u32; 2]) {
        for arc in arcs {
            self.work_out(arc);
        }
        for arc in arcs {
            let Arc { before, after, .. } = self.arcs[arc as usize];
            for arc in [before, arc, after] {
                let event = self.due(arc);
                self.events.extend(event);
            }
        }
    }

    /// At what distance the arc of the second of three sites vanishes between those of the others, and where. Both met it
    /// no later than at the distance `since`.
    fn vertex(&self, [a, b, c]: [Site; 3], since: f64) -> Option<(f64, DVec2)> {
        if a == b || b == c || a == c || (self.is_wall(a, b) && self.is_wall(b, c)) {
            return None;
        }
        if a.is_node() && b.is_node() && c.is_node() {
            return self.middle_of([a, b, c]);
        }
        // Seen from a segment, of the two others one comes before and one after.
        let seen = [[a, b, c], [b, c, a], [c, a, b]];
        let mut segments = seen.into_iter().filter(|[_, own, _]| !own.is_node());
        let at_end =
            |&[before, own, after]: &[Site; 3]| self.is_wall(before, own) || self.is_wall(own, after);
        let (radius, at) = if let Some([before, own, after]) = segments.clone().find(at_end) {
            // Over the end of a segment a disc touches it and the node there at once.
            let frame = Frame::of(self.sites, self.face, own.index());
            let (x, other) = if self.is_wall(before, own) { (0.0, after) } else { (frame.length, before) };
            let radius = frame.radius(other, x)?;
            (radius, frame.place(x, radius))
        } else {
            let [before, own, after] = segments.next()?;
            let frame = Frame::of(self.sites, self.face, own.index());
            let (x, radius) = frame.meeting(before, after)?;
            (radius, frame.place(x, radius))
        };
        (self.comes_to([a, b, c], at) && radius >= early(since)).then_some((radius, at))
    }

    /// The same of three nodes.
    fn middle_of(&self, nodes: [Site; 3]) -> Option<(f64, DVec2)> {
        let [a, b, c] = nodes.map(|site| self.sites.node_at(site.index()));
        let converge = Direction::from(a, b).cross(Direction::from(b, c)) > 0;
        let at = middle([a, b, c]);
        converge.then(|| (at.distance(point(b)), at))
    }

    /// Whether the arc of a node between two others can vanish at a place. In front of a segment it only ever moves away
    /// from where the two are nearest.
    fn comes_to(&self, [a, b, c]: [Site; 3], at: DVec2) -> bool {
        if !b.is_node() {
            return true;
        }
        let away = at - point(self.sites.node_at(b.index()));
        let along = |site: Site| self.sites.along_from(self.face, site.index()).dot(away);
        (a.is_node() || self.is_wall(a, b) || along(a) <= LATE_STEPS)
            && (c.is_node() || self.is_wall(b, c) || along(c) >= -LATE_STEPS)
    }

    /// The arc that vanishes first, of those about one whose time cannot be told apart from its own: where the front
    /// moves between two sides that run nearly alike, the one whose end it comes to first.
    fn first_of(&self, arc: u32) -> u32 {
        let mut first = arc;
        for _ in 0..MOST_TIES {
            let own = &self.arcs[first as usize];
            if own.site.is_node() {
                break;
            }
            let along = self.sites.along_from(self.face, own.site.index());
            let is_earlier = |other: &Arc, ahead: f64| {
                !other.site.is_node() && early(other.radius) <= own.radius && ahead > LATE_STEPS
            };
            // The front goes on along a segment from what is before it, and back towards it from what is after.
            let [before, after] = [own.before, own.after].map(|arc| &self.arcs[arc as usize]);
            first = if is_earlier(before, along.dot(own.at - before.at)) {
                own.before
            } else if is_earlier(after, along.dot(after.at - own.at)) {
                own.after
            } else {
                break;
            };
        }
        first
    }

    /// An arc vanishes: those beside it meet.
    fn vanish(&mut self, own: u32) {
        let Arc { before, after, radius, at, .. } = self.arcs[own as usize];
        self.close(before, at);
        self.close(own, at);
        self.arcs[own as usize].stamp = NONE;
        if before == after || self.arcs[after as usize].after == before {
            // Of three arcs none is left.
            self.close(after, at);
            for arc in [before, after] {
                self.arcs[arc as usize].stamp = NONE;
            }
            return;
        }
        if self.arcs[before as usize].site == self.arcs[after as usize].site {
            // Two arcs of one site become one.
            let Arc { after: next, edge, since, .. } = self.arcs[after as usize];
            self.arcs[after as usize].stamp = NONE;
            self.tie(before, next, edge, since);
            self.expect([before, next]);
        } else {
            let edge = self.opened(before, after, at);
            self.tie(before, after, edge, radius);
            self.expect([before, after]);
        }
    }

    /// Ends what is still open where the front is at a distance.
    fn stop(&mut self, distance: f64) {
        for own in 0..self.arcs.len() as u32 {
            let Arc { site, after, edge, .. } = self.arcs[own as usize];
            if !self.is_gone(own) && edge != NONE {
                let next = self.arcs[after as usize].site;
                if let Some(at) = self.between(site, next, distance) {
                    self.close(own, at);
                }
            }
        }
    }

    /// Where two arcs that follow each other meet at a distance.
    fn between(&self, a: Site, b: Site, distance: f64) -> Option<DVec2> {
        if a.is_node() && b.is_node() {
            let [a, b] = [a, b].map(|site| point(self.sites.node_at(site.index())));
            let half = 0.5 * a.distance(b);
            let off = ((distance - half) * (distance + half)).max(0.0).sqrt();
            return Some(a.midpoint(b) + (b - a).normalize().perp() * off);
        }
        let (own, other) = if a.is_node() { (b, a) } else { (a, b) };
        let frame = Frame::of(self.sites, self.face, own.index());
        let x = frame.reach(other, distance, own == b)?;
        Some(frame.place(x, distance))
    }
}

/// The middle of the circle through three nodes.
fn middle([a, b, c]: [IntPoint<i32>; 3]) -> DVec2 {
    let [b, c] = [b, c].map(|node| Direction::from(a, node));
    let turn = b.cross(c) as f64;
    let [b, c] = [b, c].map(|way| (way.place(), way.dot(way) as f64));
    point(a) + (b.0.perp() * c.1 - c.0.perp() * b.1) / (2.0 * turn)
}
