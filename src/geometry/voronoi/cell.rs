//! Voronoi cells of an outline's edges and corners, one by one, by the discs that touch them.
//!
//! At each place of an edge there is one largest disc that touches it there and crosses nothing; its
//! radius, along the edge, is the lowest of one simple curve for each other site: linear for a segment, a
//! parabola for a node. So the boundary of the edge's cell is the lower envelope of those curves, and its
//! corners are the corners of the envelope. Round a node the same holds of the discs through the node, by
//! their direction. A tree of boxes says which sites can count: those that cross a disc which the envelope
//! so far allows.
//!
//! Cells do not depend on each other, so they come out the same to the bit in any order and on any number of
//! threads. An edge between two segments is found twice, once from either side; what a node borders on is
//! mostly known from the segments ([`super::wedge`]), and only the gaps are searched.
//!
//! Questions of sides, such as which side of a line a node is on, are worked out in whole numbers; the rest,
//! in the cell's own frame, in `f64`: a corner of a cell is off by a
//! millionth of a step unless its curves all but coincide. In steps throughout.

use super::boxes::{BoxTree, DiscSize, Rolling};
use super::envelope::{Envelope, Height};
use super::sites::{Cone, Direction, Face, Site, Sites, point};
use super::tuning::{
    CROWDED, FIRST_BOUND, LARGER_BOUND, MERGED_STEPS, MOST_CUTS, MOST_PARTS, OVERLAP, OVERLAP_TURN,
    SAME_PLACE, WIDEST_PART,
};
use super::wedge::{Gap, NodeContact};
use crate::geometry::region::Segment;
use glam::DVec2;
use i_overlay::i_float::int::point::IntPoint;

/// A place of the diagram that is equally far from two sites.
#[derive(Clone, Copy, Debug)]
pub(in crate::geometry) struct Edge {
    pub(in crate::geometry) sites: [Site; 2],
    pub(in crate::geometry) face: Face,
    /// Where it ends, in steps.
    pub(in crate::geometry) ends: [DVec2; 2],
}

impl Edge {
    /// Whether it is shorter than a vertex is uncertain.
    pub(in crate::geometry) fn is_short(&self) -> bool {
        self.ends[0].distance_squared(self.ends[1]) < MERGED_STEPS * MERGED_STEPS
    }
}

/// How far along a segment or round a node a disc touches a site, in the frame of the one whose cell it
/// is. `away` is where the site ends and `normal` the unit normal there, into the face: the place where
/// the disc's middle would be level with that end.
fn tangent_factor(normal: DVec2) -> f64 {
    // 1 - y, without loss where the normal is nearly upright.
    if normal.y > 0.0 { normal.x * normal.x / (1.0 + normal.y) } else { 1.0 - normal.y }
}

/// The radius of the disc that touches the x axis at a parameter and a site:
/// `(a (x - m) + s) (x - m) + k`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Radius {
    m: f64,
    a: f64,
    s: f64,
    k: f64,
}

impl Radius {
    /// The same everywhere.
    fn even(radius: f64) -> Radius {
        Radius { m: 0.0, a: 0.0, s: 0.0, k: radius }
    }
}

impl Height for Radius {
    fn at(&self, x: f64) -> f64 {
        let x = x - self.m;
        (self.a * x + self.s) * x + self.k
    }

    fn crossings(&self, other: &Radius, from: f64, to: f64) -> [f64; 2] {
        let middle = 0.5 * (from + to);
        let slope = |curve: &Radius| 2.0 * curve.a * (middle - curve.m) + curve.s;
        let square = self.a - other.a;
        let linear = slope(self) - slope(other);
        let constant = self.at(middle) - other.at(middle);
        roots(square, linear, constant).map(|root| middle + root)
    }

    fn clears(&self, other: &Radius, from: f64, to: f64) -> bool {
        // What bends down is lowest at an end.
        self.a <= other.a && self.at(from) >= other.at(from) && self.at(to) >= other.at(to)
    }
}

/// The roots of `a x^2 + b x + c`; not a number where there are none.
fn roots(a: f64, b: f64, c: f64) -> [f64; 2] {
    // Kahan's way: the half that does not cancel first.
    let q = -0.5 * (b + (b * b - 4.0 * a * c).sqrt().copysign(b));
    [q / a, c / q]
}

/// Nearness, `sqrt(1 + t^2)` over the radius of the disc through the origin and a site whose middle lies
/// towards `(t, 1)`: `alpha sqrt(1 + t^2) + beta + gamma t`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Nearness {
    alpha: f64,
    beta: f64,
    gamma: f64,
}

impl Nearness {
    /// Of one radius everywhere.
    fn even(radius: f64) -> Nearness {
        Nearness { alpha: 1.0 / radius, beta: 0.0, gamma: 0.0 }
    }

    fn of(&self, t: f64) -> f64 {
        self.alpha * (1.0 + t * t).sqrt() + self.beta + self.gamma * t
    }

    fn radius(&self, t: f64) -> f64 {
        let nearness = self.of(t);
        if nearness > 0.0 { (1.0 + t * t).sqrt() / nearness } else { f64::INFINITY }
    }
}

impl Height for Nearness {
    fn at(&self, t: f64) -> f64 {
        -self.of(t)
    }

    fn crossings(&self, other: &Nearness, _: f64, _: f64) -> [f64; 2] {
        let alpha = self.alpha - other.alpha;
        let beta = self.beta - other.beta;
        let gamma = self.gamma - other.gamma;
        if alpha == 0.0 {
            return [-beta / gamma, f64::NAN];
        }
        roots(gamma * gamma - alpha * alpha, 2.0 * beta * gamma, beta * beta - alpha * alpha)
    }

    fn clears(&self, other: &Nearness, from: f64, to: f64) -> bool {
        // The difference bends as its root does.
        self.alpha >= other.alpha && self.of(from) <= other.of(from) && self.of(to) <= other.of(to)
    }
}

/// Works out cells one after the other, with lists that are used again from cell to cell.
pub(super) struct Tracer<'a> {
    sites: &'a Sites,
    tree: &'a BoxTree,
    stack: Vec<(u32, u32)>,
    envelope: Envelope<Radius>,
    seen: Vec<u32>,
}

impl<'a> Tracer<'a> {
    pub(super) fn new(sites: &'a Sites, tree: &'a BoxTree) -> Tracer<'a> {
        Tracer { sites, tree, stack: Vec::new(), envelope: Envelope::new(), seen: Vec::new() }
    }

    /// The edges of a segment's cell on one face. Of an edge between two segments, only the one with the lower
    /// number reports it. Returns the first and last site it borders on.
    ///
    /// `seeds` are guesses at neighbours: better ones make it faster, and change the outcome in ties alone.
    pub(super) fn segment_cell(
        &mut self,
        face: Face,
        segment: u32,
        seeds: [Site; 2],
        edges: &mut Vec<Edge>,
        contacts: &mut Vec<NodeContact>,
    ) -> [Site; 2] {
        let frame = Frame::of(self.sites, face, segment);
        let mut envelope = std::mem::replace(&mut self.envelope, Envelope::new());
        let mut seen = std::mem::take(&mut self.seen);
        seen.clear();
        envelope.start(0.0, frame.length, Site::NONE, Radius::even(self.tree.extent()));
        let mut search =
            SegmentSearch { sites: self.sites, frame, envelope, tallest: 0.0, seen, raised: false, crowd: 0 };
        search.measure();
        search.consider(segment);
        for neighbour in self.sites.neighbours[segment as usize] {
            search.consider(neighbour);
        }
        for site in seeds.into_iter().filter(|&site| site != Site::NONE) {
            let index = site.index();
            let [before, after] = self.sites.neighbours[index as usize];
            for guess in [index, before, after] {
                search.consider(guess);
            }
        }
        let mut bound = self.first_bound(frame.length);
        if search.envelope.has(Site::NONE) {
            search.envelope.replace(Site::NONE, Radius::even(bound));
            search.measure();
        }
        self.finish_segment(&mut search, 0);
        while search.envelope.has(Site::NONE) && bound < self.tree.extent() {
            bound *= LARGER_BOUND;
            search.envelope.replace(Site::NONE, Radius::even(bound));
            search.seen.clear();
            search.raised = true;
            search.measure();
            self.finish_segment(&mut search, 0);
        }
        // At a corner that juts out the next segment is nearest, which the neighbour knows anyhow: report the
        // site that faces both.
        let own = self.sites.neighbours[segment as usize];
        let mut facing = search
            .envelope
            .stretches
            .iter()
            .map(|stretch| stretch.site)
            .filter(|&site| site != Site::NONE && (site.is_node() || !own.contains(&site.index())));
        let first = facing.next().unwrap_or(Site::NONE);
        let last = facing.next_back().unwrap_or(first);
        let place = |x: f64, height: &Radius| search.frame.place(x, height.at(x));
        let stretches = &search.envelope.stretches;
        let names = self.sites.node_names(face, segment);
        // A node that juts out begins where the segment ends.
        let juts = [0, 1].map(|end| {
            let cone = self.sites.cones[names[end] as usize].filter(|cone| cone.face == face);
            cone.is_some_and(|cone| [cone.first, cone.last][end] == segment)
        });
        let end_site = |end: usize| if juts[end] { Site::node(names[end]) } else { Site::NONE };
        for (i, (from, stretch)) in search.envelope.parts().enumerate() {
            let site = stretch.site;
            if site == Site::NONE || (!site.is_node() && site.index() < segment) {
                continue;
            }
            let ends = [place(from, &stretch.height), place(stretch.to, &stretch.height)];
            edges.push(Edge { sites: [Site::segment(segment), site], face, ends });
            if site.is_node() {
                let before = i.checked_sub(1).map_or(end_site(0), |i| stretches[i].site);
                let after = stretches.get(i + 1).map_or(end_site(1), |next| next.site);
                contacts.push(NodeContact { node: site.index(), ends, beyond: [before, after] });
            }
        }
        for end in 0..2 {
            let stretch = if end == 0 { stretches.first() } else { stretches.last() };
            let (Some(stretch), true) = (stretch, juts[end]) else { continue };
            let at = place(if end == 0 { 0.0 } else { search.frame.length }, &stretch.height);
            let mut beyond = [Site::node(names[end]); 2];
            beyond[1 - end] = stretch.site;
            contacts.push(NodeContact { node: names[end], ends: [at; 2], beyond });
        }
        (self.envelope, self.seen) = (search.envelope, search.seen);
        [first, last]
    }

    /// The radius up to which discs are looked at first; larger ones only where nothing is met.
    fn first_bound(&self, length: f64) -> f64 {
        (FIRST_BOUND * length).min(self.tree.extent())
    }

    /// Takes in everything else that counts.
    fn finish_segment(&mut self, search: &mut SegmentSearch, cuts: u32) {
        let (from, to) = (search.envelope.from, search.envelope.to());
        let (start, along) = (point(search.frame.start), search.frame.along);
        let rolling = Rolling { start, along, from, to, floor: 0.0 };
        search.crowd = 0;
        // If the edge is short beside the disc, its halves see the same as the whole.
        let crowded = |search: &SegmentSearch| {
            search.crowd > CROWDED && cuts < MOST_CUTS && to - from > 0.25 * search.tallest
        };
        self.tree.visit(
            rolling,
            &mut self.stack,
            search,
            |search| DiscSize { height: search.tallest, radius: search.tallest, aside: 0.0 },
            |search, segment| {
                search.consider(segment);
                !crowded(search)
            },
        );
        if !crowded(search) {
            return;
        }
        let seen = search.seen.len();
        let mut rest = search.envelope.split_off(0.5 * (from + to));
        search.measure();
        self.finish_segment(search, cuts + 1);
        search.seen.truncate(seen);
        std::mem::swap(&mut search.envelope, &mut rest);
        search.measure();
        self.finish_segment(search, cuts + 1);
        std::mem::swap(&mut search.envelope, &mut rest);
        search.envelope.append(&rest);
    }

    /// The edges of a node's cell with other nodes of a higher number, as seen through a gap.
    pub(super) fn node_gap(&mut self, gap: &Gap, edges: &mut Vec<Edge>) {
        let at = point(self.sites.node_at(gap.node));
        let [first, last] = gap.ends.map(|end| (end - at).normalize());
        let middle = (first + last).try_normalize().unwrap_or(-first.perp());
        let half = (last - first).length().atan2((last + first).length());
        let parts =
            (1..MOST_PARTS).find(|&parts| f64::from(parts) * WIDEST_PART >= half).unwrap_or(MOST_PARTS);
        let mut seeds: Vec<Site> = gap.neighbours.into_iter().filter(|&site| site != Site::NONE).collect();
        let first = edges.len();
        // Counter-clockwise first, for within a part it goes on clockwise.
        for part in (0..parts).rev() {
            let share = (f64::from(part) + 0.5) / f64::from(parts);
            let turn = half * (2.0 * share - 1.0);
            let up = DVec2::from_angle(turn).rotate(middle);
            let reach = (half / f64::from(parts)).tan();
            self.node_part(gap, up, reach, &mut seeds, edges);
        }
        // An edge cut where two parts meet is one again.
        let mut whole = first;
        for i in first + 1..edges.len() {
            let next = edges[i];
            let last = &mut edges[whole];
            if last.sites == next.sites
                && last.ends[1].distance_squared(next.ends[0]) < SAME_PLACE * SAME_PLACE
            {
                last.ends[1] = next.ends[1];
            } else {
                whole += 1;
                edges[whole] = next;
            }
        }
        edges.truncate(edges.len().min(whole + 1));
    }

    fn node_part(&mut self, gap: &Gap, up: DVec2, reach: f64, seeds: &mut Vec<Site>, edges: &mut Vec<Edge>) {
        let Gap { face, node, .. } = *gap;
        let at = self.sites.node_at(node);
        let mut envelope = Envelope::new();
        envelope.start(-reach, reach, Site::NONE, Nearness::even(self.tree.extent()));
        let mut search = NodeSearch {
            sites: self.sites,
            face,
            node,
            at,
            up,
            envelope,
            tallest: 0.0,
            seen: Vec::new(),
            raised: false,
        };
        search.measure();
        for site in seeds.iter() {
            let index = site.index();
            let [before, after] = self.sites.neighbours[index as usize];
            for guess in [index, before, after] {
                search.consider(guess);
            }
        }
        let before = self.sites.neighbours[node as usize][0];
        let lengths = [node, before].map(|segment| self.sites.lengths[segment as usize]);
        let mut bound = self.first_bound(lengths[0].max(lengths[1]));
        if search.envelope.has(Site::NONE) {
            search.envelope.replace(Site::NONE, Nearness::even(bound));
            search.measure();
        }
        // Their middles lie on an arc; it is never further above its chord than this share of its radius.
        let (chord, rise) = {
            let turn = reach.atan();
            (turn.sin(), 1.0 - turn.cos())
        };
        let (start, along) = (point(at), -up.perp());
        let rolling = Rolling { start, along, from: 0.0, to: 0.0, floor: f64::NEG_INFINITY };
        loop {
            self.tree.visit(
                rolling,
                &mut self.stack,
                &mut search,
                |search| DiscSize {
                    height: search.tallest * (1.0 - rise),
                    radius: search.tallest * (1.0 + rise),
                    aside: search.tallest * chord,
                },
                |search, segment| {
                    search.consider(segment);
                    true
                },
            );
            if !search.envelope.has(Site::NONE) || bound >= self.tree.extent() {
                break;
            }
            bound *= LARGER_BOUND;
            search.envelope.replace(Site::NONE, Nearness::even(bound));
            search.seen.clear();
            search.raised = true;
            search.measure();
        }
        // The next part begins where this one ends.
        seeds.extend(
            search.envelope.stretches.last().map(|stretch| stretch.site).filter(|&site| site != Site::NONE),
        );
        for (from, stretch) in search.envelope.parts() {
            let site = stretch.site;
            if site == Site::NONE || !site.is_node() || site.index() < node {
                continue;
            }
            let place = |t: f64| {
                let middle = NodeSearch::middle(t, &stretch.height);
                point(at) + up * middle.y - up.perp() * middle.x
            };
            edges.push(Edge {
                sites: [Site::node(node), site],
                face,
                ends: [place(from), place(stretch.to)],
            });
        }
    }
}

/// A segment seen from one of its faces: its start is the origin, x runs along it and y into the face.
#[derive(Clone, Copy)]
struct Frame {
    face: Face,
    segment: u32,
    start: IntPoint<i32>,
    direction: Direction,
    along: DVec2,
    length: f64,
}

impl Frame {
    fn of(sites: &Sites, face: Face, segment: u32) -> Frame {
        let [a, b] = sites.seen_from(face, segment);
        let length = sites.lengths[segment as usize];
        Frame {
            face,
            segment,
            start: a,
            direction: Direction::from(a, b),
            along: sites.along_from(face, segment),
            length,
        }
    }

    fn local(&self, node: IntPoint<i32>) -> DVec2 {
        let direction = point(node) - point(self.start);
        let local = DVec2::new(self.along.dot(direction), self.along.perp_dot(direction));
        if local.y.abs() > 1.0 {
            return local;
        }
        // On which side of the line a node lies, or whether on it, is not left to rounding.
        let direction = Direction::from(self.start, node);
        DVec2::new(local.x, self.direction.cross(direction) as f64 / self.length)
    }

    /// The normal of another segment into the same face.
    fn normal(&self, sites: &Sites, segment: u32) -> DVec2 {
        let along = sites.along_from(self.face, segment);
        let normal = DVec2::new(-self.along.perp_dot(along), self.along.dot(along));
        if normal.y < 0.99 {
            return normal;
        }
        // Where the two all but run along each other it is the small difference that counts.
        let [a, b] = sites.seen_from(self.face, segment);
        let direction = Direction::from(a, b);
        let scale = self.length * sites.lengths[segment as usize];
        DVec2::new(-self.direction.cross(direction) as f64, self.direction.dot(direction) as f64) / scale
    }

    fn place(&self, x: f64, y: f64) -> DVec2 {
        point(self.start) + self.along * x + self.along.perp() * y
    }
}

/// A segment's cell as far as it is known.
struct SegmentSearch<'a> {
    sites: &'a Sites,
    frame: Frame,
    envelope: Envelope<Radius>,
    /// The largest radius the envelope allows.
    tallest: f64,
    seen: Vec<u32>,
    /// Whether the bound of radii has grown since some were taken in.
    raised: bool,
    /// How many came close.
    crowd: u32,
}

impl SegmentSearch<'_> {
    /// Whether a site was taken in, all of it: none of it may have been above the bound.
    fn knows(&self, site: Site) -> bool {
        !self.raised && self.envelope.has(site)
    }

    fn measure(&mut self) {
        let parts = self.envelope.parts();
        // The curves are convex, so they are highest at their ends.
        self.tallest = parts
            .filter(|(from, stretch)| stretch.to - from > OVERLAP)
            .map(|(from, stretch)| stretch.height.at(from).max(stretch.height.at(stretch.to)))
            .fold(0.0, f64::max);
    }

    /// Takes in a segment and the node that is named by it.
    fn consider(&mut self, segment: u32) {
        if self.seen.contains(&segment) {
            return;
        }
        if self.seen.len() < 16 {
            self.seen.push(segment);
        }
        if segment != self.frame.segment {
            self.consider_segment(segment);
        }
        if let Some(cone) = self.sites.cones[segment as usize]
            && cone.face == self.frame.face
        {
            self.consider_node(segment, cone);
        }
    }

    fn consider_segment(&mut self, segment: u32) {
        let site = Site::segment(segment);
        let ends: Segment = self.sites.seen_from(self.frame.face, segment);
        let [a, b] = ends.map(|end| self.frame.local(end));
        if (a.y <= 0.0 && b.y <= 0.0) || self.knows(site) {
            return;
        }
        let normal = self.frame.normal(self.sites, segment);
        let factor = tangent_factor(normal);
        if factor == 0.0 {
            return;
        }
        let slope = normal.x / factor;
        let limit = |end: DVec2| end.x + end.y * slope;
        // The foot moves back along the segment as the disc rolls on.
        let (mut from, mut to) = (limit(b), limit(a));
        let base = if a.y.abs() <= b.y.abs() { a } else { b };
        let radius = Radius { m: limit(base), a: 0.0, s: slope, k: base.y / factor };
        // Where it reaches below the x axis, only the part above counts.
        if a.y < 0.0 || b.y < 0.0 {
            let zero = radius.m - radius.k / radius.s;
            if slope > 0.0 {
                from = from.max(zero);
            } else {
                to = to.min(zero);
            }
        }
        let overlap = OVERLAP + 1e-15 * (from.abs() + to.abs());
        (from, to) = ((from - overlap).max(self.envelope.from), (to + overlap).min(self.envelope.to()));
        if from >= to || radius.at(from).min(radius.at(to)) >= self.tallest {
            return;
        }
        self.crowd += 1;
        self.envelope.lower(from, to, site, radius);
        self.measure();
    }

    fn consider_node(&mut self, node: u32, cone: Cone) {
        let site = Site::node(node);
        let at = self.frame.local(self.sites.node_at(node));
        if at.y <= 0.0 {
            return;
        }
        let (low, high) = (self.envelope.from, self.envelope.to());
        let radius = Radius { m: at.x, a: 0.5 / at.y, s: 0.0, k: 0.5 * at.y };
        if radius.at(at.x.clamp(low, high)) >= self.tallest || self.knows(site) {
            return;
        }
        let first = self.frame.normal(self.sites, cone.first);
        let last = self.frame.normal(self.sites, cone.last);
        let limit = |normal: DVec2| at.x + at.y * (normal.x / tangent_factor(normal));
        // Turning from the one normal to the other the disc rolls on, unless it passes straight up.
        let right = first.x > 0.0 || (first.x == 0.0 && first.y > 0.0);
        let left = last.x < 0.0 || (last.x == 0.0 && last.y > 0.0);
        if right && left {
            if first.x > 0.0 {
                self.lower_node(limit(first), f64::INFINITY, site, radius);
            }
            if last.x < 0.0 {
                self.lower_node(f64::NEG_INFINITY, limit(last), site, radius);
            }
        } else {
            self.lower_node(limit(first), limit(last), site, radius);
        }
    }

    fn lower_node(&mut self, from: f64, to: f64, site: Site, radius: Radius) {
        let from = (from - OVERLAP).max(self.envelope.from);
        let to = (to + OVERLAP).min(self.envelope.to());
        if from >= to || radius.at(radius.m.clamp(from, to)) >= self.tallest {
            return;
        }
        self.crowd += 1;
        self.envelope.lower(from, to, site, radius);
        self.measure();
    }
}

/// A part of a node's cell as far as it is known. The frame has its origin at the node and its y axis
/// up the middle of the part.
struct NodeSearch<'a> {
    sites: &'a Sites,
    face: Face,
    node: u32,
    at: IntPoint<i32>,
    up: DVec2,
    envelope: Envelope<Nearness>,
    tallest: f64,
    seen: Vec<u32>,
    /// Whether the bound of radii has grown since some were taken in.
    raised: bool,
}

impl NodeSearch<'_> {
    /// Whether a site was taken in, all of it: none of it may have been above the bound.
    fn knows(&self, site: Site) -> bool {
        !self.raised && self.envelope.has(site)
    }

    fn measure(&mut self) {
        let parts = self.envelope.parts();
        // Within less than half a turn a disc that is finite throughout is largest at an end.
        self.tallest = parts
            .filter(|(from, stretch)| stretch.to - from > 4.0 * OVERLAP_TURN)
            .map(|(from, stretch)| stretch.height.radius(from).max(stretch.height.radius(stretch.to)))
            .fold(0.0, f64::max);
    }

    fn rotated(&self, direction: DVec2) -> DVec2 {
        DVec2::new(-self.up.perp().dot(direction), self.up.dot(direction))
    }

    fn local(&self, node: IntPoint<i32>) -> DVec2 {
        self.rotated(point(node) - point(self.at))
    }

    fn middle(t: f64, height: &Nearness) -> DVec2 {
        DVec2::new(t, 1.0) / height.of(t)
    }

    /// The normal of a segment into the face, and how far the node lies beyond it.
    fn line(&self, segment: u32) -> (DVec2, f64) {
        let [a, b] = self.sites.seen_from(self.face, segment);
        let length = self.sites.lengths[segment as usize];
        let along = self.sites.along_from(self.face, segment);
        let distance = along.perp_dot(point(self.at) - point(a));
        // On which side of the line the node lies, or whether on it, is not left to rounding.
        let distance = if distance.abs() > 1.0 {
            distance
        } else {
            Direction::from(a, b).cross(Direction::from(a, self.at)) as f64 / length
        };
        (self.rotated(along.perp()), distance)
    }

    /// Where the disc through the node touches a line at a place of it, seen from the node.
    fn limit(end: DVec2, normal: DVec2, distance: f64) -> f64 {
        let middle = end + normal * (end.length_squared() / (2.0 * distance));
        if middle.y > 0.0 && distance > 0.0 { middle.x / middle.y } else { f64::NAN }
    }

    fn consider(&mut self, segment: u32) {
        if self.seen.contains(&segment) {
            return;
        }
        if self.seen.len() < 16 {
            self.seen.push(segment);
        }
        self.consider_segment(segment);
        if segment != self.node
            && let Some(cone) = self.sites.cones[segment as usize]
            && cone.face == self.face
        {
            self.consider_node(segment, cone);
        }
    }

    fn consider_segment(&mut self, segment: u32) {
        let (normal, distance) = self.line(segment);
        if distance <= 0.0 || 0.5 * distance >= self.tallest {
            return;
        }
        let site = Site::segment(segment);
        if self.knows(site) {
            return;
        }
        let ends = self.sites.seen_from(self.face, segment).map(|end| self.local(end));
        let height =
            Nearness { alpha: 1.0 / distance, beta: -normal.y / distance, gamma: -normal.x / distance };
        let along = DVec2::new(normal.y, -normal.x);
        let length = self.sites.lengths[segment as usize];
        let stands = |t: f64| {
            let foot = (NodeSearch::middle(t, &height) - ends[0]).dot(along);
            foot >= 0.0 && foot <= length
        };
        let [p, q] = ends.map(|end| NodeSearch::limit(end, normal, distance));
        let parts = self.parts([p, q, f64::NAN], stands);
        for [from, to] in parts.into_iter().flatten() {
            self.envelope.lower(from - OVERLAP_TURN, to + OVERLAP_TURN, site, height);
        }
        self.measure();
    }

    fn consider_node(&mut self, node: u32, cone: Cone) {
        let at = self.local(self.sites.node_at(node));
        let squared = at.length_squared();
        if squared >= 4.0 * self.tallest * self.tallest {
            return;
        }
        let height = Nearness { alpha: 0.0, beta: 2.0 * at.y / squared, gamma: 2.0 * at.x / squared };
        let site = Site::node(node);
        if (height.of(self.envelope.from) <= 0.0 && height.of(self.envelope.to()) <= 0.0) || self.knows(site)
        {
            return;
        }
        let ((first, first_distance), (last, last_distance)) = (self.line(cone.first), self.line(cone.last));
        let stands = |t: f64| {
            let nearness = height.of(t);
            let direction = DVec2::new(t, 1.0) - at * nearness;
            nearness > 0.0 && first.perp_dot(direction) >= 0.0 && direction.perp_dot(last) >= 0.0
        };
        // A disc that touches both nodes is straight on one side of the line between them at most.
        let straight = -height.beta / height.gamma;
        let (p, q) =
            (NodeSearch::limit(at, first, first_distance), NodeSearch::limit(at, last, last_distance));
        let parts = self.parts([p, q, straight], stands);
        for [from, to] in parts.into_iter().flatten() {
            self.envelope.lower(from - OVERLAP_TURN, to + OVERLAP_TURN, site, height);
        }
        self.measure();
    }

    /// The parts of the cell, between three limits or beyond, where a site's nearest place is its own.
    fn parts(&self, mut limits: [f64; 3], stands: impl Fn(f64) -> bool) -> [Option<[f64; 2]>; 4] {
        // NaN is passed over wherever it sorts.
        limits.sort_unstable_by(f64::total_cmp);
        let [p, q, r] = limits;
        let to = self.envelope.to();
        let mut at = self.envelope.from;
        [p, q, r, to].map(|cut| {
            if !(at..=to).contains(&cut) || cut == at {
                return None;
            }
            let part = [at, cut];
            at = cut;
            stands(0.5 * (part[0] + part[1])).then_some(part)
        })
    }
}
