//! The kept part of the medial axis, cut into monotone pieces: closed forms, side by side.
//!
//! At a point of the axis the radius `r` is the distance to the outline, and the *object angle* is the
//! angle, seen from the point, between its two nearest places on the outline (Blum; Attali and
//! Montanvert; Dey and Zhao). Two parallel sides give 180 degrees, the branch into a square corner 90.
//! Kept is what has at least [`LEAST_OBJECT_ANGLE`]; by the kind of the two sites of a Voronoi edge:
//!
//! | between | radius along it | kept | narrowest |
//! |---|---|---|---|
//! | two segments | linear | all or nothing, by the angle between their normals | the smaller end |
//! | a point and a segment, `h` apart | `(x^2 + h^2) / (2 h)`, `x` along the segment | `abs(x) <= h cot(angle / 2)` | `h / 2` at 0 |
//! | two points, `d` apart | `sqrt(t^2 + (d / 2)^2)`, `t` along their bisector | `abs(t) <= d / 2 cot(angle / 2)` | `d / 2` at 0 |
//!
//! A corner that does not jut into a side has no cell there and needs no rule.
//!
//! Bare `f64` lattice steps until a piece is finished, millimetres after.

use super::finish::{finish, in_millimetres};
use super::piece::{AxisPoint, Curve, NO_TIP, Piece, Tip};
use super::spots::{Disc, Rings, Seen};
use super::unreached::{Branch, Growth};
use crate::geometry::region::Segment;
use crate::geometry::voronoi::{Edge, Face, MERGED_STEPS, Site, Sites, edges, point};
use glam::DVec2;
use i_overlay::i_float::int::point::IntPoint;
use rayon::prelude::*;
use std::f64::consts::{FRAC_PI_3, PI};
use std::sync::atomic::{AtomicBool, Ordering};

/// The least object angle that is kept.
const LEAST_OBJECT_ANGLE: f64 = 2.0 * FRAC_PI_3;

/// By how much two straight sides may miss [`LEAST_OBJECT_ANGLE`], in radians, so that a corner of
/// 60 degrees is still kept after its ends were snapped to the lattice. At 300 mm that turns an edge of
/// 1 mm by 2e-6 radians.
const SNAPPED_ANGLE: f64 = 1e-5;

/// A place nearer to a line than this many steps lies on it.
const SAME_STEPS: f64 = 1e-3;

/// A curve whose end is this close to the end of its kept part is kept to its end, in steps: where three
/// walls meet at 120 degrees they see exactly the least angle there, and snapping their corners to the
/// lattice must not decide whether they meet.
const SNAPPED_STEPS: f64 = 8.0;

/// A [`Piece`] in the making, in steps.
#[derive(Clone, Copy)]
pub(super) struct Draft {
    pub(super) piece: Piece,
    /// The interior angle of the corner at the narrow end, if there is one.
    pub(super) apex: Option<f64>,
}

/// The `vertex` of the end of a draft that is a vertex of the diagram, to be named by its place.
const UNNAMED: u32 = 0;

/// Pieces of one side, finished.
pub(super) struct Side {
    pub(super) pieces: Vec<Piece>,
    pub(super) tips: Vec<Tip>,
    /// The whole axis, corners and all, in the blocks in which it was found.
    pub(super) branches: Vec<Vec<Branch>>,
}

/// A part of the axis of one face: what is kept of it in drafts, and all of it in branches.
#[derive(Default)]
pub(super) struct Found {
    pub(super) drafts: Vec<Draft>,
    pub(super) branches: Vec<Vec<Branch>>,
    seen: Seen,
}

/// So many edges of the diagram are looked at in a row by one thread, and so many rows before what came of them is
/// brought together. Round values of our own.
const BLOCK: usize = 2048;
const AT_A_TIME: usize = 16;

/// The kept axis of both sides, inside first; `origin` and `step` take lattice steps to millimetres. `None` where it is
/// called off.
pub(super) fn sides(
    segments: &[Segment],
    origin: DVec2,
    step: f64,
    cancel: &AtomicBool,
) -> Option<[Side; 2]> {
    let sites = Sites::of(segments);
    let tree = sites.tree();
    let of_face = |face: Face| {
        let edges = edges(&sites, &tree, face, cancel);
        let rings = Rings::of(&sites, face);
        with_spots(found(&sites, &rings, &edges, LEAST_OBJECT_ANGLE))
    };
    let (inside, outside) = rayon::join(|| of_face(Face::Inside), || of_face(Face::Outside));
    drop((sites, tree));
    if cancel.load(Ordering::Relaxed) {
        return None;
    }
    let (inside, outside) = rayon::join(|| finish(inside, origin, step), || finish(outside, origin, step));
    Some([inside, outside])
}

/// The axis inside, as far as its object angle is at least `least` radians. Pieces come in no order: they form
/// no chains, tapers are not marked, vertices have no names.
pub(super) fn inside(segments: &[Segment], origin: DVec2, step: f64, least: f64) -> Vec<Piece> {
    let sites = Sites::of(segments);
    let tree = sites.tree();
    let edges = edges(&sites, &tree, Face::Inside, &AtomicBool::new(false));
    let found = found(&sites, &Rings::of(&sites, Face::Inside), &edges, least);
    found.drafts.into_iter().map(|draft| in_millimetres(draft.piece, origin, step)).collect()
}

/// The kept axis from a diagram's edges, whoever found them.
#[cfg(test)]
pub(super) fn sides_of(sites: &Sites, edges: &[Edge], origin: DVec2, step: f64) -> [Side; 2] {
    Face::BOTH.map(|face| {
        let rings = Rings::of(sites, face);
        let own: Vec<Edge> = edges.iter().copied().filter(|edge| edge.face == face).collect();
        finish(with_spots(found(sites, &rings, &own, LEAST_OBJECT_ANGLE)), origin, step)
    })
}

/// The same with outlines that have no axis of their own.
fn with_spots(mut found: Found) -> Found {
    found.drafts.extend(std::mem::take(&mut found.seen).spots());
    found
}

/// The axis on one face, in the order of the edges.
fn found(sites: &Sites, rings: &Rings, edges: &[Edge], least: f64) -> Found {
    // Nearly as many as there are edges; what is not used is never touched.
    let mut all = Found { drafts: Vec::with_capacity(edges.len()), ..Found::default() };
    // Many at a time but not all: what is not yet brought together is there twice. Lists are used again.
    let mut blocks: Vec<Tracer> = (0..AT_A_TIME).map(|_| Tracer::of(sites, rings, least)).collect();
    for some in edges.chunks(AT_A_TIME * BLOCK) {
        some.par_chunks(BLOCK).zip(&mut blocks).for_each(|(edges, block)| block.trace_all(edges));
        for Tracer { drafts, branches, seen, .. } in blocks.iter_mut().take(some.len().div_ceil(BLOCK)) {
            all.drafts.append(drafts);
            all.branches.push(std::mem::take(branches));
            all.seen.append(seen);
        }
    }
    all
}

/// Turns edges of the diagram into pieces.
struct Tracer<'a> {
    sites: &'a Sites,
    rings: &'a Rings,
    /// The least object angle that is kept.
    least: f64,
    drafts: Vec<Draft>,
    branches: Vec<Branch>,
    seen: Seen,
}

/// A stretch of one Voronoi edge: the parameter at either end, and whether that is where the edge ends.
#[derive(Clone, Copy)]
struct Span {
    from: f64,
    to: f64,
    vertices: [u32; 2],
}

impl Span {
    /// From the parameters at an edge's ends.
    fn new(a: f64, b: f64) -> Span {
        Span { from: a.min(b), to: a.max(b), vertices: [UNNAMED; 2] }
    }

    /// The part within `bound` of 0.
    fn within(self, bound: f64) -> Option<Span> {
        let mut span = self;
        if span.from < -bound - SNAPPED_STEPS {
            (span.from, span.vertices[0]) = (-bound, AxisPoint::BETWEEN);
        }
        if span.to > bound + SNAPPED_STEPS {
            (span.to, span.vertices[1]) = (bound, AxisPoint::BETWEEN);
        }
        (span.from <= span.to).then_some(span)
    }

    /// Whether there is enough of it for a piece.
    fn is_long(self) -> bool {
        self.to - self.from >= SAME_STEPS
    }

    /// The disc at the end that is farther from 0, where it is widest.
    fn widest(self, place: impl Fn(f64) -> (DVec2, f64), feet: impl Fn(f64) -> [DVec2; 2]) -> Disc {
        let x = if self.from.abs() > self.to.abs() { self.from } else { self.to };
        let (at, width) = place(x);
        Disc { at, radius: 0.5 * width, feet: feet(x) }
    }
}

impl<'a> Tracer<'a> {
    fn of(sites: &'a Sites, rings: &'a Rings, least: f64) -> Tracer<'a> {
        let (drafts, branches, seen) = (Vec::new(), Vec::new(), Seen::default());
        Tracer { sites, rings, least, drafts, branches, seen }
    }

    fn trace_all(&mut self, edges: &[Edge]) {
        self.branches.reserve(edges.len());
        for &edge in edges {
            self.trace(edge);
        }
        self.branches.shrink_to_fit();
    }

    fn trace(&mut self, edge: Edge) {
        if edge.ends[0] == edge.ends[1] {
            return;
        }
        let [s, t] = edge.sites;
        match (s.is_node(), t.is_node()) {
            (false, false) => self.between_segments(edge, [s, t].map(|site| self.line(edge.face, site))),
            (false, true) => self.between_point_and_segment(edge, self.node(t), self.line(edge.face, s)),
            (true, false) => self.between_point_and_segment(edge, self.node(s), self.line(edge.face, t)),
            (true, true) => self.between_points(edge, [s, t].map(|site| self.node(site))),
        }
    }

    fn node(&self, site: Site) -> DVec2 {
        point(self.sites.node_at(site.index()))
    }

    fn line(&self, face: Face, site: Site) -> Line {
        let ends = self.sites.seen_from(face, site.index());
        Line { ends, start: point(ends[0]), along: self.sites.along_from(face, site.index()) }
    }

    fn between_segments(&mut self, edge: Edge, lines: [Line; 2]) {
        let normals = lines.map(Line::normal);
        // The mean of the two distances halves the rounding of the vertex.
        let radius = |at: DVec2| 0.5 * (lines[0].distance(at).abs() + lines[1].distance(at).abs());
        let ends = edge.ends.map(|at| (at, radius(at)));
        let [narrow, wide] = if ends[0].1 <= ends[1].1 { ends } else { [ends[1], ends[0]] };
        let corner = shared_node(lines.map(|line| line.ends))
            .map(|node| (node, point(node)))
            .filter(|&(_, at)| at.distance(narrow.0) < 1.0);
        let growth = Growth::Even { narrow: corner.map_or(narrow.1, |_| 0.0), wide: wide.1 };
        let start = corner.map_or(narrow.0, |(_, at)| at);
        let sites = edge.sites;
        self.push_branch(Branch { narrow: start, wide: wide.0, growth, sites });
        let parts_ways = normals[0].dot(normals[1]) <= (self.least - SNAPPED_ANGLE).cos();
        let kept = parts_ways && !edge.is_short() && wide.1 >= SAME_STEPS;
        let (at, radius) = wide;
        let feet = normals.map(|normal| at - normal * radius);
        self.see(&edge, kept, Disc { at, radius, feet });
        if !kept {
            return;
        }
        let end = |(at, radius): (DVec2, f64)| AxisPoint { at, width: 2.0 * radius, vertex: UNNAMED };
        let (mut narrow_end, wide_end) = (end(narrow), end(wide));
        let mut feet = normals.map(|normal| narrow_end.at - normal * narrow.1);
        let apex = corner.map(|(node, at)| {
            narrow_end = AxisPoint { at, width: 0.0, ..narrow_end };
            feet = [at; 2];
            angle_at(node, lines.map(|line| line.ends))
        });
        self.drafts.push(Draft {
            piece: Piece {
                narrow: narrow_end,
                wide: wide_end,
                direction: direction(wide_end.at - narrow_end.at),
                feet: in_order(feet),
                taper: false,
                curve: Curve::Line,
                tip: NO_TIP,
            },
            apex,
        });
    }

    fn between_point_and_segment(&mut self, edge: Edge, focus: DVec2, line: Line) {
        let normal = line.normal();
        let h = line.distance(focus);
        if h < SAME_STEPS {
            return;
        }
        let foot = focus - normal * h;
        let [from, to] = edge.ends.map(|at| (at - foot).dot(line.along));
        let whole = Span::new(from, to);
        let place = |x: f64| {
            let radius = (x * x + h * h) / (2.0 * h);
            (foot + line.along * x + normal * radius, 2.0 * radius)
        };
        // The point lies to the left where it goes along the line, to the right where it goes back.
        let side = |x: f64| if x > 0.0 { h } else { -h };
        self.push_branches(&edge, whole, &place, |from, to| Growth::Parabola {
            h: side(from + to),
            from: from.abs(),
            to: to.abs(),
        });
        let kept = whole.within(h / (0.5 * self.least).tan()).filter(|_| !edge.is_short());
        let feet = |x: f64| [focus, foot + line.along * x];
        self.see(&edge, kept.is_some_and(Span::is_long), whole.widest(place, feet));
        let Some(span) = kept else { return };
        let curve = |from, to| Curve::Parabola { h, from, to };
        self.push_monotone(span, place, feet, curve);
    }

    fn between_points(&mut self, edge: Edge, feet: [DVec2; 2]) {
        let middle = (feet[0] + feet[1]) * 0.5;
        let d = feet[0].distance(feet[1]);
        let along = ((feet[1] - feet[0]) / d).perp();
        let [from, to] = edge.ends.map(|at| (at - middle).dot(along));
        let whole = Span::new(from, to);
        let place = |t: f64| (middle + along * t, 2.0 * t.hypot(0.5 * d));
        self.push_branches(&edge, whole, &place, |from, to| Growth::Bisector {
            d,
            from: from.abs(),
            to: to.abs(),
        });
        let kept = whole.within(0.5 * d / (0.5 * self.least).tan()).filter(|_| !edge.is_short());
        self.see(&edge, kept.is_some_and(Span::is_long), whole.widest(place, |_| feet));
        let Some(span) = kept else { return };
        let curve = |from, to| Curve::Bisector { d, from, to };
        self.push_monotone(span, place, |_| feet, curve);
    }

    fn see(&mut self, edge: &Edge, kept: bool, widest: Disc) {
        self.seen.edge(self.rings, edge.sites, kept, widest);
    }

    fn push_branch(&mut self, branch: Branch) {
        self.branches.push(branch);
    }

    /// Pushes all of a span whose radius is least at 0 and grows alike to both sides.
    fn push_branches(
        &mut self,
        edge: &Edge,
        span: Span,
        place: &impl Fn(f64) -> (DVec2, f64),
        reach: impl Fn(f64, f64) -> Growth,
    ) {
        let mut part = |from: f64, to: f64| {
            let (from, to) = if from.abs() <= to.abs() { (from, to) } else { (to, from) };
            if from != to {
                let [narrow, wide] = [from, to].map(|x| place(x).0);
                let branch = Branch { narrow, wide, growth: reach(from, to), sites: edge.sites };
                self.push_branch(branch);
            }
        };
        if span.from < 0.0 && span.to > 0.0 {
            part(0.0, span.from);
            part(0.0, span.to);
        } else {
            part(span.from, span.to);
        }
    }

    /// Pushes a span whose width is least at 0 and grows alike to both sides.
    fn push_monotone(
        &mut self,
        span: Span,
        place: impl Fn(f64) -> (DVec2, f64),
        feet: impl Fn(f64) -> [DVec2; 2],
        curve: impl Fn(f64, f64) -> Curve,
    ) {
        if !span.is_long() {
            return;
        }
        let mut part = |from: (f64, u32), to: (f64, u32)| {
            // From narrow to wide.
            let (from, to) = if from.0.abs() <= to.0.abs() { (from, to) } else { (to, from) };
            let end = |(x, vertex): (f64, u32)| {
                let (at, width) = place(x);
                AxisPoint { at, width, vertex }
            };
            let feet = feet(from.0);
            self.drafts.push(Draft {
                piece: Piece {
                    narrow: end(from),
                    wide: end(to),
                    direction: direction((feet[1] - feet[0]).perp()),
                    feet,
                    taper: false,
                    curve: curve(from.0.abs(), to.0.abs()),
                    tip: NO_TIP,
                },
                apex: None,
            });
        };
        let [first, last] = span.vertices;
        if span.from < -MERGED_STEPS && span.to > MERGED_STEPS {
            part((0.0, UNNAMED), (span.from, first));
            part((0.0, UNNAMED), (span.to, last));
        } else {
            part((span.from, first), (span.to, last));
        }
    }
}

/// The node that two segments share.
fn shared_node([s, t]: [Segment; 2]) -> Option<IntPoint<i32>> {
    if s[1] == t[0] { Some(s[1]) } else { (s[0] == t[1]).then_some(s[0]) }
}

/// The angle between two segments at a node they share.
fn angle_at(node: IntPoint<i32>, segments: [Segment; 2]) -> f64 {
    let [a, b] = segments.map(|[a, b]| point(if a == node { b } else { a }) - point(node));
    a.perp_dot(b).abs().atan2(a.dot(b))
}

/// A segment's line, with the face it is seen from to its left.
#[derive(Clone, Copy)]
struct Line {
    ends: Segment,
    start: DVec2,
    along: DVec2,
}

impl Line {
    /// Positive into the face.
    fn distance(&self, at: DVec2) -> f64 {
        self.along.perp_dot(at - self.start)
    }

    /// The unit normal into the face.
    fn normal(self) -> DVec2 {
        self.along.perp()
    }
}

/// The angle of an undirected line, `0..pi`.
pub(super) fn direction(along: DVec2) -> f64 {
    let angle = along.y.atan2(along.x);
    let angle = if angle < 0.0 { angle + PI } else { angle };
    if angle >= PI { angle - PI } else { angle }
}

pub(super) fn in_order([a, b]: [DVec2; 2]) -> [DVec2; 2] {
    if (a.x, a.y) <= (b.x, b.y) { [a, b] } else { [b, a] }
}
