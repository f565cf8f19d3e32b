//! The front: every place of a face that is equally far from the outline, as that distance grows.
//!
//! At first the front lies on the outline. At any distance it is a number of closed chains of *arcs*, each nearest to
//! one site: straight in front of a segment, round in front of a node. Where two arcs meet, the front moves along an edge
//! of the diagram. Its chains change in two ways, and in no other:
//!
//! - An arc *vanishes* between its neighbours, which then meet. That is a vertex of the diagram.
//! - Two arcs run into each other: the front *joins* there, two arcs become four, and they part to both sides along a new
//!   edge. Those are the [contacts](super::contact), which are found before.
//!
//! Each is known from the sites alone, and takes a constant number of steps in a chain and one in a queue by distance.
//! A contact adds two arcs, and each lies on an edge of the diagram of its own; so all of it takes `O(n log n)`.
//!
//! # Ties
//!
//! Where events cannot be told apart by their distance, their order is found some other way, or plays no part.
//! Contacts come first: arcs may as well be split a little early. Between two sides that run nearly alike the front moves
//! at once as far as they do, so what it meets first along them is what counts. An arc that has just vanished where it
//! takes part in a contact is put back.

use super::contact::Contact;
use super::diagram::Edge;
use super::frame::Frame;
use super::sites::{Direction, Face, Site, Sites, point};
use super::tuning::{EVENTS, LATE_SHARE, LATE_STEPS, MOST_TIES};
use glam::DVec2;
use i_overlay::i_float::int::point::IntPoint;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};
use std::sync::atomic::{AtomicBool, Ordering};

/// No arc, and no edge.
const NONE: u32 = u32::MAX;

/// A part of the front that is nearest to one site.
struct Arc {
    site: Site,
    /// The arcs beside it, where it has not vanished. Once it has, what was before it; `NONE` where nothing was left.
    before: u32,
    after: u32,
    /// The edge along which it meets the next: twice its number, and 1 more for its second end. `NONE` where none lies
    /// between.
    edge: u32,
    /// How often it was worked out when it vanishes; `NONE` once it has.
    stamp: u32,
    /// Whether that waits in the queue.
    waits: bool,
    /// At what distance it vanishes, and where.
    radius: f64,
    at: DVec2,
}

impl Arc {
    fn new(site: Site) -> Arc {
        Arc {
            site,
            before: NONE,
            after: NONE,
            edge: NONE,
            stamp: 0,
            waits: false,
            radius: f64::INFINITY,
            at: DVec2::ZERO,
        }
    }
}

/// When an arc may vanish: the distance, as bits that sort as numbers do, the arc, and its stamp.
type Event = Reverse<(u64, u32, u32)>;

/// The front, and the edges it left behind.
struct Front<'a> {
    sites: &'a Sites,
    face: Face,
    /// The distance.
    now: f64,
    arcs: Vec<Arc>,
    edges: Vec<Edge>,
    events: BinaryHeap<Event>,
    /// The arc of each node that juts out.
    of_node: Vec<u32>,
    /// The arcs that contacts split off, by their site and where along it they begin.
    parts: BTreeMap<(Site, u64), u32>,
}

/// The edges that the front leaves behind until it is as far away as the outline is large. `O(n log n)`.
pub(super) fn swept(
    sites: &Sites,
    following: &[u32],
    face: Face,
    contacts: &[Contact],
    cancel: &AtomicBool,
) -> Vec<Edge> {
    let extent = sites.extent();
    let mut front = Front::of(sites, following, face);
    let mut contacts = contacts.iter().peekable();
    for count in 0_u64.. {
        if count % EVENTS == 0 && cancel.load(Ordering::Relaxed) {
            break;
        }
        let event = front.events.peek().map(|Reverse(event)| f64::from_bits(event.0));
        let is_next = |contact: &&Contact| event.is_none_or(|event| early(contact.radius) <= event);
        if let Some(contact) = contacts.next_if(is_next) {
            front.now = front.now.max(early(contact.radius));
            front.join(contact);
            continue;
        }
        let Some(Reverse((radius, arc, stamp))) = front.events.pop() else { break };
        let radius = f64::from_bits(radius);
        if radius > extent {
            break;
        }
        if front.arcs[arc as usize].stamp == stamp {
            front.now = front.now.max(radius);
            front.vanish(front.first_of(arc));
        }
    }
    front.stop(extent);
    front.edges.retain(|edge| edge.ends[0] != edge.ends[1]);
    front.edges
}

/// From when on something at a distance may have happened, for all that rounding can tell.
fn early(radius: f64) -> f64 {
    radius * (1.0 - LATE_SHARE) - LATE_STEPS
}

impl<'a> Front<'a> {
    /// The front on the outline.
    fn of(sites: &'a Sites, following: &[u32], face: Face) -> Front<'a> {
        let count = sites.segments.len() as u32;
        let mut front = Front {
            sites,
            face,
            now: 0.0,
            arcs: (0..count).map(|segment| Arc::new(Site::segment(segment))).collect(),
            // As many as there are vertices and ends, about; what is not used is never touched.
            edges: Vec::with_capacity(3 * count as usize),
            events: BinaryHeap::new(),
            of_node: vec![NONE; count as usize],
            parts: BTreeMap::new(),
        };
        for (segment, &next) in (0..).zip(following) {
            let [_, node] = sites.node_names(face, segment);
            let juts = sites.juts_after(face, segment);
            if juts || sites.goes_straight_on(face, segment, next) {
                let own = front.arcs.len() as u32;
                front.arcs.push(Arc::new(Site::node(node)));
                if juts {
                    front.of_node[node as usize] = own;
                }
                front.tie(segment, own, NONE);
                front.tie(own, next, NONE);
            } else {
                let corner = point(sites.seen_from(face, segment)[1]);
                let edge = front.opened(segment, next, corner);
                front.tie(segment, next, edge);
            }
        }
        let arcs = 0..front.arcs.len() as u32;
        arcs.clone().for_each(|arc| front.work_out(arc));
        let events: Vec<Event> = arcs.filter_map(|arc| front.due(arc)).collect();
        front.events = BinaryHeap::from(events);
        front
    }

    fn tie(&mut self, before: u32, after: u32, edge: u32) {
        self.arcs[before as usize].after = after;
        self.arcs[before as usize].edge = edge;
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

    /// Begins the edge between two arcs, and returns its second end, which is open.
    fn opened(&mut self, before: u32, after: u32, at: DVec2) -> u32 {
        let [a, b] = [before, after].map(|arc| self.arcs[arc as usize].site);
        if a == b || self.is_wall(a, b) {
            return NONE;
        }
        // A segment first, or the lower number.
        let sites = if (a.is_node(), a) <= (b.is_node(), b) { [a, b] } else { [b, a] };
        self.edges.push(Edge { sites, face: self.face, ends: [at; 2] });
        2 * (self.edges.len() as u32 - 1) + 1
    }

    /// Ends the edge between an arc and the next.
    fn close(&mut self, arc: u32, at: DVec2) {
        let edge = self.arcs[arc as usize].edge;
        if edge != NONE {
            self.edges[(edge >> 1) as usize].ends[(edge & 1) as usize] = at;
        }
    }

    fn is_gone(&self, arc: u32) -> bool {
        self.arcs[arc as usize].stamp == NONE
    }

    /// Takes an arc out; `before` is what takes its place.
    fn end(&mut self, arc: u32, before: u32) {
        self.arcs[arc as usize].stamp = NONE;
        self.arcs[arc as usize].before = before;
    }

    /// Works out when an arc vanishes between those beside it.
    fn work_out(&mut self, own: u32) {
        let Arc { site, before, after, .. } = self.arcs[own as usize];
        let found = self.vertex([self.arcs[before as usize].site, site, self.arcs[after as usize].site]);
        let arc = &mut self.arcs[own as usize];
        (arc.stamp, arc.waits) = (arc.stamp + 1, false);
        (arc.radius, arc.at) = found.unwrap_or((f64::INFINITY, DVec2::ZERO));
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
    fn expect(&mut self, arcs: &[u32]) {
        for &arc in arcs {
            if !self.is_gone(arc) {
                self.work_out(arc);
            }
        }
        for &arc in arcs {
            if self.is_gone(arc) {
                continue;
            }
            let Arc { before, after, .. } = self.arcs[arc as usize];
            for arc in [before, arc, after] {
                let event = self.due(arc);
                self.events.extend(event);
            }
        }
    }

    /// At what distance the arc of the second of three sites vanishes between those of the others, and where.
    fn vertex(&self, [a, b, c]: [Site; 3]) -> Option<(f64, DVec2)> {
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
        (self.comes_to([a, b, c], at) && radius >= early(self.now)).then_some((radius, at))
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
        let Arc { before, after, at, .. } = self.arcs[own as usize];
        self.close(before, at);
        self.close(own, at);
        if before == after || self.arcs[after as usize].after == before {
            // Of three arcs none is left.
            self.close(after, at);
            for arc in [before, own, after] {
                self.end(arc, NONE);
            }
            return;
        }
        self.end(own, before);
        if self.arcs[before as usize].site == self.arcs[after as usize].site {
            // Two arcs of one site become one.
            let Arc { after: next, edge, .. } = self.arcs[after as usize];
            self.end(after, before);
            self.tie(before, next, edge);
            self.expect(&[before, next]);
        } else {
            let edge = self.opened(before, after, at);
            self.tie(before, after, edge);
            self.expect(&[before, after]);
        }
    }

    /// Two arcs run into each other: what came before either goes on with what came after the other.
    fn join(&mut self, contact: &Contact) {
        let Some(p) = self.part(contact, 0) else { return };
        let Some(q) = self.part(contact, 1) else { return };
        let [p_after, q_after] = [self.split(contact, 0, p), self.split(contact, 1, q)];
        let edge = self.opened(p, q_after, contact.at);
        self.tie(p, q_after, edge);
        self.tie(q, p_after, if edge == NONE { NONE } else { edge - 1 });
        for [own, next] in [[p, q_after], [q, p_after]] {
            if self.arcs[next as usize].after == own {
                // They had met already: nothing lies between.
                for arc in [own, next] {
                    self.close(arc, contact.at);
                    self.end(arc, NONE);
                }
            }
        }
        self.expect(&[p, q_after, q, p_after]);
    }

    /// Splits an arc at one end of a contact. It keeps what is before it; returned is the arc that is to come after.
    fn split(&mut self, contact: &Contact, end: usize, own: u32) -> u32 {
        let Arc { site, after, edge, .. } = self.arcs[own as usize];
        let new = self.push(site);
        self.tie(new, after, edge);
        self.parts.insert((site, contact.along[end]), new);
        new
    }

    fn push(&mut self, site: Site) -> u32 {
        self.arcs.push(Arc::new(site));
        self.arcs.len() as u32 - 1
    }

    /// The arc at one end of a contact.
    fn part(&mut self, contact: &Contact, end: usize) -> Option<u32> {
        let (site, along) = (contact.sites[end], contact.along[end]);
        let whole = if site.is_node() { self.of_node[site.index() as usize] } else { site.index() };
        let mut arc =
            self.parts.range((site, 0)..=(site, along)).next_back().map_or(whole, |(_, &part)| part);
        if !self.is_gone(arc) {
            return Some(arc);
        }
        // It has vanished just now. It is put back between those that met.
        while self.is_gone(arc) {
            arc = self.arcs[arc as usize].before;
            if arc == NONE {
                return None;
            }
        }
        let (before, after) = (arc, self.arcs[arc as usize].after);
        if let Some(own) = [before, after].into_iter().find(|&arc| self.arcs[arc as usize].site == site) {
            return Some(own);
        }
        let new = self.push(site);
        self.close(before, contact.at);
        for [a, b] in [[before, new], [new, after]] {
            let edge = self.opened(a, b, contact.at);
            self.tie(a, b, edge);
        }
        self.expect(&[before, new, after]);
        Some(new)
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
