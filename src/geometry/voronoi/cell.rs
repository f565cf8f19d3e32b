//! Voronoi cells of an outline's edges and corners, one by one, by the discs that touch them.
//!
//! At each place of an edge there is one largest disc that touches it there and crosses nothing; its
//! radius, along the edge, is the lowest of one simple curve for each other site: linear for a segment, a
//! parabola for a node. So the boundary of the edge's cell is the lower envelope of those curves, and its
//! corners are the corners of the envelope. Round a node the same holds of the discs through the node, by
//! their direction. A tree of boxes says which sites can count: those that cross a disc which the envelope
//! so far allows, window by window.
//!
//! Cells do not depend on each other, so they come out the same to the bit in any order and on any number of
//! threads. An edge between two segments is found twice, once from either side; what a node borders on is
//! mostly known from the segments ([`super::wedge`]), and only the gaps are searched.
//!
//! Questions of sides, such as which side of a line a node is on, are worked out in whole numbers; the rest,
//! in the cell's own frame, in `f64`: a corner of a cell is off by a
//! millionth of a step unless its curves all but coincide. In steps throughout.

use super::boxes::{BoxTree, Hull, Walk};
use super::envelope::{Envelope, Height, Stretch};
use super::sites::{Cone, Direction, Face, Site, Sites, point};
use super::tuning::{
    ASTRAY, BENT, CROWDED, CROWDED_AT_FIRST, LONG_SHARE, MERGED_STEPS, MOST_PARTS, MOST_PROBES, MOST_SEEN,
    OVERLAP, OVERLAP_TURN, RING_GUESSES, SAME_PLACE, WIDEST_PART, WINDOW_OVERLAP, WORTH_PROBING,
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
    walk: Walk,
    envelope: Envelope<Radius>,
    seen: Vec<u32>,
    windows: Vec<(f64, usize)>,
}

impl<'a> Tracer<'a> {
    pub(super) fn new(sites: &'a Sites, tree: &'a BoxTree) -> Tracer<'a> {
        let (envelope, walk, seen, windows) = (Envelope::new(), Walk::default(), Vec::new(), Vec::new());
        Tracer { sites, tree, walk, envelope, seen, windows }
    }

    /// How many nodes of the tree were looked into so far.
    pub(super) fn looks(&self) -> u64 {
        self.walk.looks
    }

    /// The edges of a segment's cell on one face. Of an edge between two segments, only the one with the lower
    /// number reports it. Returns the first and last site it borders on, and whether it has a part that borders on
    /// nothing.
    ///
    /// `seeds` are guesses at neighbours: better ones make it faster, and change the outcome in ties alone.
    pub(super) fn segment_cell(
        &mut self,
        face: Face,
        segment: u32,
        seeds: [Site; 2],
        edges: &mut Vec<Edge>,
        contacts: &mut Vec<NodeContact>,
    ) -> ([Site; 2], bool) {
        let frame = Frame::of(self.sites, face, segment);
        let mut envelope = std::mem::replace(&mut self.envelope, Envelope::new());
        let mut seen = std::mem::take(&mut self.seen);
        seen.clear();
        envelope.start(0.0, frame.length, Site::NONE, Radius::even(self.tree.extent()));
        let mut search = SegmentSearch {
            sites: self.sites,
            frame,
            window: [0.0, frame.length],
            envelope,
            tallest: self.tree.extent(),
            hull: Hull::about(DVec2::ZERO, 0.0, DVec2::ZERO),
            probed: None,
            seen,
            visits: 0,
            guessed: false,
        };
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
        self.finish_segment(&mut search);
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
        let open = stretches.iter().any(|stretch| stretch.site == Site::NONE);
        (self.envelope, self.seen) = (search.envelope, search.seen);
        ([first, last], open)
    }

    /// Takes in everything else that counts, window by window: a part of the edge whose discs are looked at
    /// together. A window in which too much comes near is cut, so that each part of it has discs of its own.
    fn finish_segment(&mut self, search: &mut SegmentSearch) {
        let mut windows = std::mem::take(&mut self.windows);
        let mut cursor = search.envelope.from;
        let (mut probes, mut vain) = (0, false);
        windows.clear();
        windows.push((search.envelope.to(), search.seen.len()));
        // The innermost comes last. What was seen before it holds for what comes after it too.
        while let Some(&(end, seen)) = windows.last() {
            search.window = [cursor, end];
            if let Some(middle) = search.open().filter(|_| probes < MOST_PROBES) {
                self.probe(search, middle);
                // Where nothing is met at all, there is no more to be had from that.
                probes = if search.is_open(middle) { MOST_PROBES } else { probes + 1 };
                continue;
            }
            if self.look(search, !vain) {
                windows.pop();
                search.seen.truncate(seen);
                cursor = end;
                continue;
            }
            if !search.guessed {
                search.guess_along_ring();
            }
            let (astray, tallest) = (!vain && search.visits >= ASTRAY, search.tallest);
            if !search.guessed || astray || search.is_long() {
                self.probe(search, 0.5 * (cursor + end));
            }
            search.guessed = true;
            if astray {
                search.measure();
                vain = search.tallest > WORTH_PROBING * tallest;
            } else if let Some(cut) = search.cut() {
                windows.push((cut, search.seen.len()));
            }
        }
        self.windows = windows;
    }

    /// Takes in what touches the discs of the window. Returns whether that was all, or too much came near: the window
    /// is to be cut, or it is to be probed if that `may_help`.
    fn look(&mut self, search: &mut SegmentSearch, may_help: bool) -> bool {
        search.probed = None;
        search.visits = 0;
        search.measure();
        self.tree.visit(
            &mut self.walk,
            search,
            |search| &search.hull,
            |search| {
                search.visits += 1;
                search.visits % (CROWDED / 2) != 0 || !search.is_crowded(may_help)
            },
            SegmentSearch::consider,
        )
    }

    /// Finds what touches the largest disc at one place.
    fn probe(&mut self, search: &mut SegmentSearch, at: f64) {
        search.probed = Some(at);
        search.measure();
        self.tree.visit_nearest(&mut self.walk, search, |search| &search.hull, SegmentSearch::consider);
        search.probed = None;
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
        // The discs at either end of the gap are known to hold nothing, where it is known what they touch.
        let extent = self.tree.extent();
        let known = [0, 1].map(|end| {
            let open = gap.neighbours[end] == Site::NONE && gap.ends[end].distance(at) > 0.99 * extent;
            (open || gap.is_sound_at(self.sites, end)).then_some(gap.neighbours[end])
        });
        // Counter-clockwise first, for within a part it goes on clockwise.
        for part in (0..parts).rev() {
            let share = (f64::from(part) + 0.5) / f64::from(parts);
            let turn = half * (2.0 * share - 1.0);
            let up = DVec2::from_angle(turn).rotate(middle);
            let reach = (half / f64::from(parts)).tan();
            let known = [known[1].filter(|_| part + 1 == parts), known[0].filter(|_| part == 0)];
            self.node_part(gap, up, reach, known, &mut seeds, edges);
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

    fn node_part(
        &mut self,
        gap: &Gap,
        up: DVec2,
        reach: f64,
        known: [Option<Site>; 2],
        seeds: &mut Vec<Site>,
        edges: &mut Vec<Edge>,
    ) {
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
            extent: self.tree.extent(),
            hull: Hull::about(point(at), 0.0, point(at)),
            seen: Vec::new(),
        };
        for site in seeds.iter() {
            let index = site.index();
            let [before, after] = self.sites.neighbours[index as usize];
            for guess in [index, before, after] {
                search.consider(guess);
            }
        }
        self.finish_part(&mut search, known);
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

    /// Takes in everything else that counts, stretch by stretch: all discs through two nodes lie within the
    /// first and the last of them together, so those two are all that has to be looked at. Where it borders on
    /// nothing, the first, the last and what lies between their directions.
    #[expect(clippy::redundant_closure_for_method_calls, reason = "a path has one lifetime, the closure any")]
    fn finish_part(&mut self, search: &mut NodeSearch, known: [Option<Site>; 2]) {
        let (mut cursor, to) = (search.envelope.from, search.envelope.to());
        while known[0] != Some(search.stretch(cursor).site)
            && !self.look_round(search, cursor, cursor, |s, a, b| s.disc(a, b))
        {}
        while cursor < to {
            let stretch = *search.stretch(cursor);
            let end = stretch.to;
            let pencil = stretch.site.is_node() && stretch.site != Site::NONE;
            let looked_at = end == to && known[1] == Some(stretch.site);
            if (looked_at || self.look_round(search, cursor, end, |s, a, b| s.disc(a, b)))
                && (pencil || self.look_round(search, cursor, end, |s, a, b| s.sector(a, b)))
            {
                cursor = end;
            }
        }
    }

    /// Takes in what touches the disc at `end`, or another shape, of the stretch at `cursor`. Returns whether
    /// nothing changed that stretch.
    fn look_round(
        &mut self,
        search: &mut NodeSearch,
        cursor: f64,
        end: f64,
        shape: impl Fn(&NodeSearch<'_>, f64, f64) -> Hull,
    ) -> bool {
        let before = (search.stretch(cursor).site, search.stretch(cursor).to);
        search.seen.clear();
        search.hull = shape(search, cursor, end);
        self.tree.visit(
            &mut self.walk,
            search,
            |search| &search.hull,
            |_| true,
            |search, segment| {
                if search.consider(segment) {
                    search.hull = shape(search, cursor, end);
                }
            },
        );
        before == (search.stretch(cursor).site, search.stretch(cursor).to)
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
    /// The part that is worked on.
    window: [f64; 2],
    /// The largest radius the envelope allows there.
    tallest: f64,
    /// All discs that it allows there, or at the place that is probed.
    hull: Hull,
    probed: Option<f64>,
    /// What was taken in over the whole window.
    seen: Vec<u32>,
    /// How many boxes were looked into.
    visits: u32,
    /// Whether a window was crowded before, so that what comes next along the ring was taken in.
    guessed: bool,
}

impl SegmentSearch<'_> {
    fn knows(&self, site: Site) -> bool {
        // What lies by the window's ends may come from the window next to it.
        let [from, to] = self.window;
        self.envelope.has(site, from + WINDOW_OVERLAP, to - WINDOW_OVERLAP)
    }

    /// Where a curve is taken in: a little beyond the window, so that nothing is left between two.
    fn within_reach(&self, from: f64, to: f64) -> [f64; 2] {
        [from.max(self.window[0] - WINDOW_OVERLAP), to.min(self.window[1] + WINDOW_OVERLAP)]
    }

    /// The stretches in the window, each with the part of it that lies there.
    fn parts(&self) -> impl Iterator<Item = ([f64; 2], &Stretch<Radius>)> {
        let [from, to] = self.window;
        let within = self.envelope.within(from, to);
        let first = self.envelope.start_of(within.start);
        let stretches = &self.envelope.stretches[within];
        let starts = std::iter::once(first).chain(stretches.iter().map(|stretch| stretch.to));
        starts.zip(stretches).map(move |(start, stretch)| ([start.max(from), stretch.to.min(to)], stretch))
    }

    fn measure(&mut self) {
        let [from, to] = self.window;
        let (mut tallest, mut excess) = (0.0_f64, 0.0_f64);
        // What is next to nothing wide is left over where one curve ends and the next begins; it may be of any
        // height.
        let wide = || self.parts().filter(|([a, b], _)| b - a > OVERLAP);
        let mut reach = wide().map(|([a, b], stretch)| [a, b].map(|x| stretch.height.at(x).max(0.0)));
        let [first, mut last] = reach.next().unwrap_or_default();
        if let Some([_, height]) = reach.last() {
            last = height;
        }
        let slope = if to > from { (last - first) / (to - from) } else { 0.0 };
        // The curves are convex, so they are highest at their ends.
        for ([a, b], stretch) in wide() {
            for x in [a, b] {
                let radius = stretch.height.at(x);
                tallest = tallest.max(radius);
                excess = excess.max(radius - (first + slope * (x - from)));
            }
        }
        self.tallest = tallest;
        let ends = if let Some(at) = self.probed {
            let radius = self.envelope.stretches[self.envelope.within(at, at).start].height.at(at).max(0.0);
            [(at, radius); 2]
        } else {
            [(from, first + excess), (to, last + excess)]
        };
        self.hull = Hull::rolling(point(self.frame.start), self.frame.along, ends);
    }

    /// The middle of a part of the window where nothing is met yet.
    fn open(&self) -> Option<f64> {
        let open = self.parts().find(|([a, b], stretch)| stretch.site == Site::NONE && b - a > OVERLAP);
        open.map(|([a, b], _)| 0.5 * (a + b))
    }

    /// Whether parts of the window see less than the whole: not if it is short beside the disc.
    fn is_long(&self) -> bool {
        self.window[1] - self.window[0] > LONG_SHARE * self.tallest
    }

    /// Whether the look at the window is broken off, for it is better cut, or probed if that `may_help`.
    fn is_crowded(&self, may_help: bool) -> bool {
        let enough = if self.guessed || self.is_long() { CROWDED } else { CROWDED_AT_FIRST };
        (may_help && self.visits >= ASTRAY) || (self.visits >= enough && self.cut().is_some())
    }

    fn is_open(&self, at: f64) -> bool {
        self.envelope.stretches[self.envelope.within(at, at).start].site == Site::NONE
    }

    /// Where the window is best cut, if that helps.
    fn cut(&self) -> Option<f64> {
        let [from, to] = self.window;
        let within = self.envelope.within(from, to);
        let middle = 0.5 * (from + to);
        let long = self.is_long();
        let cut = if within.len() > 1 {
            self.envelope.stretches[within.start + (within.len() - 1) / 2].to
        } else {
            let height = self.envelope.stretches[within.start].height;
            let chord = 0.5 * (height.at(from) + height.at(to));
            if !long || chord - height.at(middle) < BENT * chord {
                return None;
            }
            middle
        };
        let holds = |from: f64, to: f64| to - from > 4.0 * WINDOW_OVERLAP;
        if holds(from, cut) && holds(cut, to) {
            return Some(cut);
        }
        (long && holds(from, middle)).then_some(middle)
    }

    /// Takes in what comes next along the ring, either way.
    fn guess_along_ring(&mut self) {
        for end in 0..2 {
            let mut segment = self.frame.segment;
            for _ in 0..RING_GUESSES {
                segment = self.sites.neighbours[segment as usize][end];
                self.consider(segment);
            }
        }
    }

    /// Takes in a segment and the node that is named by it.
    fn consider(&mut self, segment: u32) {
        if self.seen.contains(&segment) {
            return;
        }
        if self.seen.len() < MOST_SEEN {
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
        [from, to] = self.within_reach(from - overlap, to + overlap);
        if from >= to || radius.at(from).min(radius.at(to)) >= self.tallest {
            return;
        }
        if self.envelope.lower(from, to, site, radius) {
            self.measure();
        }
    }

    fn consider_node(&mut self, node: u32, cone: Cone) {
        let site = Site::node(node);
        let at = self.frame.local(self.sites.node_at(node));
        if at.y <= 0.0 {
            return;
        }
        let [low, high] = self.window;
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
        let [from, to] = self.within_reach(from - OVERLAP, to + OVERLAP);
        if from >= to || radius.at(radius.m.clamp(from, to)) >= self.tallest {
            return;
        }
        if self.envelope.lower(from, to, site, radius) {
            self.measure();
        }
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
    extent: f64,
    hull: Hull,
    seen: Vec<u32>,
}

impl NodeSearch<'_> {
    fn knows(&self, site: Site) -> bool {
        self.envelope.has(site, self.envelope.from, self.envelope.to())
    }

    fn stretch(&self, at: f64) -> &Stretch<Nearness> {
        &self.envelope.stretches[self.envelope.within(at, at).start]
    }

    fn direction(&self, t: f64) -> DVec2 {
        (self.up - self.up.perp() * t).normalize()
    }

    /// The disc in one direction, as the stretch at `cursor` has it. One that is not finite is no disc; the
    /// outline's extent takes its place.
    fn disc(&self, cursor: f64, t: f64) -> Hull {
        let radius = self.stretch(cursor).height.radius(t).min(self.extent);
        Hull::about(point(self.at) + self.direction(t) * radius, radius, point(self.at))
    }

    /// What lies between two directions.
    fn sector(&self, from: f64, to: f64) -> Hull {
        Hull::between(point(self.at), [from, to].map(|t| self.direction(t)), 4.0 * self.extent)
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

    /// Takes in a segment and the node that is named by it. Returns whether that changed anything.
    fn consider(&mut self, segment: u32) -> bool {
        if self.seen.contains(&segment) {
            return false;
        }
        if self.seen.len() < MOST_SEEN {
            self.seen.push(segment);
        }
        let mut changed = self.consider_segment(segment);
        if segment != self.node
            && let Some(cone) = self.sites.cones[segment as usize]
            && cone.face == self.face
        {
            changed |= self.consider_node(segment, cone);
        }
        changed
    }

    fn consider_segment(&mut self, segment: u32) -> bool {
        let (normal, distance) = self.line(segment);
        let site = Site::segment(segment);
        if distance <= 0.0 || 0.5 * distance >= self.extent || self.knows(site) {
            return false;
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
        let mut changed = false;
        for [from, to] in parts.into_iter().flatten() {
            changed |= self.envelope.lower(from - OVERLAP_TURN, to + OVERLAP_TURN, site, height);
        }
        changed
    }

    fn consider_node(&mut self, node: u32, cone: Cone) -> bool {
        let at = self.local(self.sites.node_at(node));
        let squared = at.length_squared();
        let height = Nearness { alpha: 0.0, beta: 2.0 * at.y / squared, gamma: 2.0 * at.x / squared };
        let site = Site::node(node);
        if (height.of(self.envelope.from) <= 0.0 && height.of(self.envelope.to()) <= 0.0) || self.knows(site)
        {
            return false;
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
        let mut changed = false;
        for [from, to] in parts.into_iter().flatten() {
            changed |= self.envelope.lower(from - OVERLAP_TURN, to + OVERLAP_TURN, site, height);
        }
        changed
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

#[cfg(test)]
mod tests {
    use super::*;

    /// Where curves of something far away overlap, borders lie a hair apart. A window of that hair alone would
    /// hold nothing wide enough to be looked at, and what is far away would stay in it.
    #[test]
    fn no_window_is_a_hair_wide() {
        let corners = [(0, 0), (10_000_000, 0), (10_000_000, 9_000_000), (0, 9_000_000)];
        let corner = |i: usize| IntPoint::new(corners[i % 4].0, corners[i % 4].1);
        let sites = Sites::of(&[0, 1, 2, 3].map(|i| [corner(i), corner(i + 1)]));
        let bottom =
            (0..4).find(|&i| sites.segments[i as usize] == [corner(0), corner(1)]).expect("is there");
        for hair in [0.0, 1e-7, 1.004e-6, 1e-5, 1e-4] {
            let (border, end) = (4_110_432.547_626_41, 1e7);
            let mut envelope = Envelope::new();
            envelope.start(0.0, end, Site::node(0), Radius::even(8e6));
            envelope.lower(border, end, Site::node(1), Radius::even(7e6));
            envelope.lower(border + hair, end, Site::node(2), Radius::even(6e6));
            let frame = Frame::of(&sites, Face::Inside, bottom);
            let hull = Hull::about(DVec2::ZERO, 0.0, DVec2::ZERO);
            for window in [[0.0, border + hair], [border, end], [border, border + hair]] {
                let (envelope, seen) = (envelope.clone(), Vec::new());
                let search = SegmentSearch {
                    sites: &sites,
                    frame,
                    envelope,
                    window,
                    tallest: 8e6,
                    hull,
                    probed: None,
                    seen,
                    visits: 0,
                    guessed: false,
                };
                let Some(cut) = search.cut() else { continue };
                assert!(
                    cut - window[0] > 4.0 * OVERLAP && window[1] - cut > 4.0 * OVERLAP,
                    "{hair} {window:?}"
                );
            }
        }
    }

    /// What is found in one window reaches into the next, and does not count as known there.
    #[test]
    fn windows_overlap() {
        let corners = [(0, 0), (10_000_000, 0), (10_000_000, 9_000_000), (0, 9_000_000)];
        let corner = |i: usize| IntPoint::new(corners[i % 4].0, corners[i % 4].1);
        let sites = Sites::of(&[0, 1, 2, 3].map(|i| [corner(i), corner(i + 1)]));
        let named =
            |i: usize| (0..4).find(|&name| sites.segments[name as usize] == [corner(i), corner(i + 1)]);
        let [bottom, top] = [0, 2].map(|i| named(i).expect("is there"));
        let frame = Frame::of(&sites, Face::Inside, bottom);
        let mut envelope = Envelope::new();
        envelope.start(0.0, 1e7, Site::NONE, Radius::even(1e9));
        let mut search = SegmentSearch {
            sites: &sites,
            frame,
            envelope,
            window: [2e6, 4e6],
            tallest: 1e9,
            hull: Hull::about(DVec2::ZERO, 0.0, DVec2::ZERO),
            probed: None,
            seen: Vec::new(),
            visits: 0,
            guessed: false,
        };
        let has = |search: &SegmentSearch<'_>, at: f64| search.envelope.has(Site::segment(top), at, at);
        search.consider_segment(top);
        assert!(has(&search, 4e6 + OVERLAP) && !has(&search, 4e6 + 1.0));
        assert!(search.knows(Site::segment(top)));
        search.window = [4e6, 1e7];
        search.measure();
        assert!(!search.knows(Site::segment(top)));
        search.consider_segment(top);
        assert!(has(&search, 9e6) && !has(&search, 1e6));
    }
}
