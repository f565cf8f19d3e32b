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
//! A corner that does not reach into a side has no cell there, so nothing need be asked about it.
//!
//! Bare `f64` lattice steps until a piece is finished, millimetres after.

use super::voronoi::{Diagram, DiagramError, Edge, Segment, Site, Vertex, point};
use super::widths::{AxisPoint, Curve, NO_TIP, Piece, Tip};
use glam::DVec2;
use i_overlay::i_float::int::point::IntPoint;
use std::f64::consts::{FRAC_PI_3, PI};

/// The least object angle that is kept.
const LEAST_OBJECT_ANGLE: f64 = 2.0 * FRAC_PI_3;

/// By how much two straight sides may miss [`LEAST_OBJECT_ANGLE`], in radians, so that a corner of
/// 60 degrees is still kept after its ends were snapped to the lattice. At 300 mm that turns an edge of
/// 1 mm by 2e-6 radians.
const SNAPPED_ANGLE: f64 = 1e-5;

/// Vertices nearer than this many steps are one, however short the edge between them. The diagram's own
/// rounding is a millionth of a step.
const SAME_STEPS: f64 = 1e-3;

/// A curve whose end is this close to the end of its kept part is kept to its end, in steps: where three
/// walls meet at 120 degrees they see exactly the least angle there, and snapping their corners to the
/// lattice must not decide whether they meet.
const SNAPPED_STEPS: f64 = 8.0;

/// Below this growth of the width per length of axis, a run is a wall of even width and no longer the
/// taper behind a corner: sides that meet at less than 3 degrees. A point that slender is under a
/// 2 mm limit for its last 38 mm, which anyone would call a wall. Our own judgement; a corner that is
/// itself more slender is a taper while it keeps half of its own growth.
const PLATEAU_GROWTH: f64 = 0.052;

/// A blunt end narrower than this share of the width its taper grows to is a point with its end nipped
/// off, and told as a point: an outline drawn with a rounded or clipped tip of a hundredth of a
/// millimetre is no wall of that width. Our own judgement: the serif arm that ends in a third of its
/// width stays a wall.
const BLUNTED_SHARE: f64 = 0.125;

/// A piece in steps, on its way to become a [`Piece`].
#[derive(Clone, Copy)]
struct Draft {
    piece: Piece,
    /// The interior angle of the corner at the narrow end, if there is one.
    apex: Option<f64>,
}

/// Pieces of one side, finished.
pub(super) struct Side {
    pub(super) pieces: Vec<Piece>,
    pub(super) tips: Vec<Tip>,
}

/// The kept axis of both sides, inside first; `origin` and `step` take lattice steps to millimetres.
pub(super) fn sides(segments: &[Segment], origin: DVec2, step: f64) -> Result<[Side; 2], DiagramError> {
    let diagram = Diagram::of(segments)?;
    let mut tracer = Tracer {
        segments,
        corners: corners_by_node(segments),
        vertices: VertexNames::new(diagram.vertex_count()),
        drafts: [Vec::new(), Vec::new()],
    };
    for edge in diagram.edges() {
        tracer.trace(edge?);
    }
    drop(diagram);
    let Tracer { mut vertices, drafts, .. } = tracer;
    Ok(drafts.map(|drafts| finish(drafts, &mut vertices, origin, step)))
}

/// One of the two sides of an outline.
#[derive(Clone, Copy, PartialEq)]
enum Face {
    Inside = 0,
    Outside = 1,
}

struct Tracer<'a> {
    segments: &'a [Segment],
    corners: Vec<(IntPoint<i32>, DVec2, Sense)>,
    vertices: VertexNames,
    drafts: [Vec<Draft>; 2],
}

/// Which way a segment runs, seen from one of its ends.
#[derive(Clone, Copy, PartialEq)]
enum Sense {
    Leaves,
    Arrives,
}

/// A stretch of one Voronoi edge: the parameter and the vertex at either end, `None` where it was cut.
#[derive(Clone, Copy)]
struct Span {
    from: f64,
    to: f64,
    vertices: [Option<u32>; 2],
}

impl Span {
    /// From the parameters at an edge's ends; an end at infinity has none.
    fn new(ends: [(f64, Option<u32>); 2]) -> Span {
        let [a, b] = ends;
        let (a, b) = if a.0 <= b.0 { (a, b) } else { (b, a) };
        Span { from: a.0, to: b.0, vertices: [a.1, b.1] }
    }

    /// The part within `bound` of 0.
    fn within(self, bound: f64) -> Option<Span> {
        let mut span = self;
        if span.from < -bound - SNAPPED_STEPS {
            (span.from, span.vertices[0]) = (-bound, None);
        }
        if span.to > bound + SNAPPED_STEPS {
            (span.to, span.vertices[1]) = (bound, None);
        }
        (span.from <= span.to).then_some(span)
    }
}

impl Tracer<'_> {
    fn trace(&mut self, edge: Edge) {
        // Joined before anything is named, kept or not: what is this short is one place.
        if let [Some(a), Some(b)] = edge.ends
            && a.at.distance(b.at) < SAME_STEPS
        {
            self.vertices.unite(a.index, b.index);
            return;
        }
        match edge.sites {
            [Site::Segment(a), Site::Segment(b)] => self.between_segments(edge, a, b),
            [Site::Point(p), Site::Segment(s)] | [Site::Segment(s), Site::Point(p)] => {
                self.between_point_and_segment(edge, p, s);
            }
            [Site::Point(a), Site::Point(b)] => self.between_points(edge, a, b),
        }
    }

    fn between_segments(&mut self, edge: Edge, s0: u32, s1: u32) {
        let [Some(a), Some(b)] = edge.ends else { return };
        let segments = [self.segments[s0 as usize], self.segments[s1 as usize]];
        let lines = segments.map(Line::through);
        let Some(face) = lines[0].face_of(&[a, b]) else { return };
        let normals = lines.map(|line| line.normal(face));
        if normals[0].dot(normals[1]) > (LEAST_OBJECT_ANGLE - SNAPPED_ANGLE).cos() {
            return;
        }
        // The mean of the two distances halves the rounding of the vertex.
        let radius = |at: DVec2| 0.5 * (lines[0].distance(at).abs() + lines[1].distance(at).abs());
        let ends = [(a, radius(a.at)), (b, radius(b.at))];
        let [narrow, wide] = if ends[0].1 <= ends[1].1 { ends } else { [ends[1], ends[0]] };
        let mut narrow_end = AxisPoint { at: narrow.0.at, width: 2.0 * narrow.1, vertex: narrow.0.index };
        let wide_end = AxisPoint { at: wide.0.at, width: 2.0 * wide.1, vertex: wide.0.index };
        let mut feet = normals.map(|normal| narrow_end.at - normal * narrow.1);
        let corner = shared_node(segments).filter(|&(node, _)| point(node).distance(narrow_end.at) < 1.0);
        let apex = corner.map(|(node, apex)| {
            let at = point(node);
            narrow_end = AxisPoint { at, width: 0.0, ..narrow_end };
            feet = [at; 2];
            apex
        });
        self.drafts[face as usize].push(Draft {
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

    fn between_point_and_segment(&mut self, edge: Edge, node: IntPoint<i32>, segment: u32) {
        // A point's cell against a segment's is bounded on both sides: only rounding makes it otherwise.
        let [Some(a), Some(b)] = edge.ends else { return };
        let line = Line::through(self.segments[segment as usize]);
        let Some(face) = line.face_of(&[a, b]) else { return };
        let normal = line.normal(face);
        let focus = point(node);
        let h = line.distance(focus).abs();
        if h < SAME_STEPS {
            return;
        }
        let foot = focus - normal * h;
        let along = |v: Vertex| ((v.at - foot).dot(line.along), Some(v.index));
        let Some(span) = Span::new([along(a), along(b)]).within(h / (0.5 * LEAST_OBJECT_ANGLE).tan()) else {
            return;
        };
        let place = |x: f64| {
            let radius = (x * x + h * h) / (2.0 * h);
            (foot + line.along * x + normal * radius, 2.0 * radius)
        };
        let feet = |x: f64| [focus, foot + line.along * x];
        let curve = |from, to| Curve::Parabola { h, from, to };
        self.push_monotone(face, span, place, feet, curve);
    }

    fn between_points(&mut self, edge: Edge, a: IntPoint<i32>, b: IntPoint<i32>) {
        let feet = [point(a), point(b)];
        let middle = (feet[0] + feet[1]) * 0.5;
        let d = feet[0].distance(feet[1]);
        // The first site lies to the left of the edge.
        let along = -((feet[0] - feet[1]) / d).perp();
        let end = |end: Option<Vertex>, none: f64| {
            end.map_or((none, None), |v| ((v.at - middle).dot(along), Some(v.index)))
        };
        let span = Span::new([end(edge.ends[0], f64::NEG_INFINITY), end(edge.ends[1], f64::INFINITY)]);
        let Some(span) = span.within(0.5 * d / (0.5 * LEAST_OBJECT_ANGLE).tan()) else { return };
        let place = |t: f64| (middle + along * t, 2.0 * t.hypot(0.5 * d));
        let face = self.face_at(a, place(0.5 * (span.from + span.to)).0);
        let curve = |from, to| Curve::Bisector { d, from, to };
        self.push_monotone(face, span, place, |_| feet, curve);
    }

    /// Pushes a span whose width is least at 0 and the same either way from it.
    fn push_monotone(
        &mut self,
        face: Face,
        span: Span,
        place: impl Fn(f64) -> (DVec2, f64),
        feet: impl Fn(f64) -> [DVec2; 2],
        curve: impl Fn(f64, f64) -> Curve,
    ) {
        if span.to - span.from < SAME_STEPS {
            return;
        }
        let split = span.from < -SAME_STEPS && span.to > SAME_STEPS;
        let [first, last] = span.vertices.map(|vertex| vertex.unwrap_or_else(|| self.vertices.fresh()));
        let mut part = |from: (f64, u32), to: (f64, u32)| {
            // From narrow to wide.
            let (from, to) = if from.0.abs() <= to.0.abs() { (from, to) } else { (to, from) };
            let end = |(x, vertex): (f64, u32)| {
                let (at, width) = place(x);
                AxisPoint { at, width, vertex }
            };
            let feet = feet(from.0);
            self.drafts[face as usize].push(Draft {
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
        if split {
            let middle = self.vertices.fresh();
            part((0.0, middle), (span.from, first));
            part((0.0, middle), (span.to, last));
        } else {
            part((span.from, first), (span.to, last));
        }
    }

    /// On which side of the outline a place lies that is nearest to a node, seen from that node: the
    /// first edge met turning clockwise from it tells, for its left side is inside.
    fn face_at(&self, node: IntPoint<i32>, place: DVec2) -> Face {
        let seen = place - point(node);
        let first = self.corners.partition_point(|corner| key(corner.0) < key(node));
        let clockwise = |direction: DVec2| {
            let turn = -seen.angle_to(direction);
            if turn < 0.0 { turn + 2.0 * PI } else { turn }
        };
        let nearest = self.corners[first..]
            .iter()
            .take_while(|corner| corner.0 == node)
            .min_by(|a, b| clockwise(a.1).total_cmp(&clockwise(b.1)));
        match nearest {
            Some((_, _, Sense::Leaves)) => Face::Inside,
            _ => Face::Outside,
        }
    }
}

fn key(node: IntPoint<i32>) -> (i32, i32) {
    (node.x, node.y)
}

/// Each end of each segment: the node, the way to the other end, and whether the segment leaves.
fn corners_by_node(segments: &[Segment]) -> Vec<(IntPoint<i32>, DVec2, Sense)> {
    let mut corners: Vec<_> = segments
        .iter()
        .flat_map(|&[a, b]| {
            let along = point(b) - point(a);
            [(a, along, Sense::Leaves), (b, -along, Sense::Arrives)]
        })
        .collect();
    corners.sort_by_key(|corner| key(corner.0));
    corners
}

/// The node that two segments share and the angle between them there.
fn shared_node([s, t]: [Segment; 2]) -> Option<(IntPoint<i32>, f64)> {
    let (node, a, b) = if s[1] == t[0] {
        (s[1], s[0], t[1])
    } else if s[0] == t[1] {
        (s[0], s[1], t[0])
    } else {
        return None;
    };
    let (a, b) = (point(a) - point(node), point(b) - point(node));
    Some((node, a.perp_dot(b).abs().atan2(a.dot(b))))
}

/// A segment's line.
#[derive(Clone, Copy)]
struct Line {
    start: DVec2,
    along: DVec2,
}

impl Line {
    fn through([a, b]: Segment) -> Line {
        Line { start: point(a), along: (point(b) - point(a)).normalize() }
    }

    /// Positive to the left.
    fn distance(&self, at: DVec2) -> f64 {
        self.along.perp_dot(at - self.start)
    }

    /// On which side an edge of the axis lies, by its end further from the line. `None` on the line.
    fn face_of(&self, ends: &[Vertex; 2]) -> Option<Face> {
        let [a, b] = [self.distance(ends[0].at), self.distance(ends[1].at)];
        let distance = if a.abs() >= b.abs() { a } else { b };
        if distance.abs() < SAME_STEPS {
            return None;
        }
        Some(if distance > 0.0 { Face::Inside } else { Face::Outside })
    }

    /// The unit normal away from the line into a side.
    fn normal(&self, face: Face) -> DVec2 {
        match face {
            Face::Inside => self.along.perp(),
            Face::Outside => -self.along.perp(),
        }
    }
}

/// The angle of an undirected line, `0..pi`.
pub(super) fn direction(along: DVec2) -> f64 {
    let angle = along.y.atan2(along.x);
    let angle = if angle < 0.0 { angle + PI } else { angle };
    if angle >= PI { angle - PI } else { angle }
}

fn in_order([a, b]: [DVec2; 2]) -> [DVec2; 2] {
    if (a.x, a.y) <= (b.x, b.y) { [a, b] } else { [b, a] }
}

/// Names of axis vertices, with those found to be one united.
struct VertexNames {
    parent: Vec<u32>,
}

impl VertexNames {
    fn new(count: usize) -> VertexNames {
        VertexNames { parent: (0..count as u32).collect() }
    }

    fn fresh(&mut self) -> u32 {
        let name = self.parent.len() as u32;
        self.parent.push(name);
        name
    }

    fn find(&mut self, mut name: u32) -> u32 {
        while self.parent[name as usize] != name {
            let above = self.parent[self.parent[name as usize] as usize];
            self.parent[name as usize] = above;
            name = above;
        }
        name
    }

    fn unite(&mut self, a: u32, b: u32) {
        let (a, b) = (self.find(a), self.find(b));
        // The lower name stays, so the outcome does not hang on the order.
        self.parent[a.max(b) as usize] = a.min(b);
    }
}

/// A stretch of axis no longer than this, in steps, and as narrow, is no wall: two millionths of a
/// design across. Outlines that were cut along each other and put together again leave such places.
const DUST: f64 = 1024.0;

/// Drops the parts of the axis that hang together in less than [`DUST`].
fn sweep(drafts: &mut Vec<Draft>, vertices: &mut VertexNames) {
    let mut parts = VertexNames { parent: vertices.parent.clone() };
    for draft in drafts.iter() {
        parts.unite(draft.piece.narrow.vertex, draft.piece.wide.vertex);
    }
    let mut extents = vec![0.0; parts.parent.len()];
    for draft in drafts.iter() {
        let part = parts.find(draft.piece.narrow.vertex) as usize;
        extents[part] += draft.piece.length() + draft.piece.narrow.width;
    }
    drafts.retain(|draft| extents[parts.find(draft.piece.narrow.vertex) as usize] > DUST);
}

/// Sorts, names vertices from 0, marks tapers, and turns steps into millimetres.
fn finish(mut drafts: Vec<Draft>, vertices: &mut VertexNames, origin: DVec2, step: f64) -> Side {
    sweep(&mut drafts, vertices);
    // Narrowest first; then by place, so that the order of rings plays no part.
    drafts.sort_by(|a, b| {
        let keys = |draft: &Draft| {
            let (narrow, wide) = (draft.piece.narrow, draft.piece.wide);
            [narrow.width, wide.width, narrow.at.x, narrow.at.y, wide.at.x, wide.at.y]
        };
        let (a, b) = (keys(a), keys(b));
        a.iter()
            .zip(&b)
            .map(|(a, b)| a.total_cmp(b))
            .find(|order| order.is_ne())
            .unwrap_or(std::cmp::Ordering::Equal)
    });
    let mut names = vec![u32::MAX; vertices.parent.len()];
    let mut count = 0;
    for draft in &mut drafts {
        for end in [&mut draft.piece.narrow, &mut draft.piece.wide] {
            let name = &mut names[vertices.find(end.vertex) as usize];
            if *name == u32::MAX {
                *name = count;
                count += 1;
            }
            end.vertex = *name;
        }
    }
    drop(names);
    let mut tips = Vec::new();
    mark_tapers(&mut drafts, count as usize, &mut tips);
    let to_mm = |at: DVec2| origin + at * step;
    for tip in &mut tips {
        tip.at = to_mm(tip.at);
    }
    let pieces = drafts
        .into_iter()
        .map(|Draft { mut piece, .. }| {
            for end in [&mut piece.narrow, &mut piece.wide] {
                end.at = to_mm(end.at);
                end.width *= step;
            }
            piece.feet = piece.feet.map(to_mm);
            piece.curve = piece.curve.scaled(step);
            piece
        })
        .collect();
    Side { pieces, tips }
}

/// Which pieces meet at each vertex.
struct Meetings {
    first: Vec<u32>,
    pieces: Vec<u32>,
}

impl Meetings {
    fn of(drafts: &[Draft], vertices: usize) -> Meetings {
        let mut first = vec![0_u32; vertices + 1];
        let ends = |draft: &Draft| [draft.piece.narrow.vertex as usize, draft.piece.wide.vertex as usize];
        for vertex in drafts.iter().flat_map(ends) {
            first[vertex + 1] += 1;
        }
        for i in 0..vertices {
            first[i + 1] += first[i];
        }
        let mut next = first.clone();
        let mut pieces = vec![0; 2 * drafts.len()];
        for (i, draft) in drafts.iter().enumerate() {
            for vertex in ends(draft) {
                pieces[next[vertex] as usize] = i as u32;
                next[vertex] += 1;
            }
        }
        Meetings { first, pieces }
    }

    fn at(&self, vertex: u32) -> &[u32] {
        let vertex = vertex as usize;
        &self.pieces[self.first[vertex] as usize..self.first[vertex + 1] as usize]
    }
}

/// From every sharp corner, marks the pieces along which the width keeps growing, up to a junction; from
/// every blunt end too, where that is next to nothing beside what the width grows to.
///
/// A piece goes on growing where it grows by [`PLATEAU_GROWTH`] itself, or where the axis does over a
/// stretch as long as the local width, which looks past facets and the lattice's noise.
fn mark_tapers(drafts: &mut [Draft], vertices: usize, tips: &mut Vec<Tip>) {
    let meetings = Meetings::of(drafts, vertices);
    for first in 0..drafts.len() {
        let Draft { piece: Piece { narrow, .. }, apex } = drafts[first];
        if apex.is_none() && meetings.at(narrow.vertex).len() > 1 {
            continue;
        }
        let run = run_from(drafts, &meetings, first);
        let start = Stop { piece: first, length: 0.0, width: narrow.width };
        // Between two sides that meet at an angle the width grows by twice the sine of half of it.
        let apex_behind = |growth: f64| 2.0 * (0.5 * growth).clamp(0.0, 1.0).asin();
        let apex = apex.unwrap_or_else(|| apex_behind(growth_ahead(start, &run, &mut 0)));
        let tapering = tapering_part(&run, PLATEAU_GROWTH.min((0.5 * apex).sin()));
        let Some(last) = tapering.last() else { continue };
        if narrow.width > BLUNTED_SHARE * last.width {
            continue;
        }
        let tip = tips.len() as u32;
        tips.push(Tip { at: narrow.at, apex });
        for stop in tapering {
            let piece = &mut drafts[stop.piece].piece;
            (piece.taper, piece.tip) = (true, tip);
        }
    }
}

/// The stops of a run up to where it stops growing; the first always belongs.
fn tapering_part(run: &[Stop], least_growth: f64) -> &[Stop] {
    let mut ahead = 0;
    for (i, pair) in run.windows(2).enumerate() {
        let [here, next] = [pair[0], pair[1]];
        ahead = ahead.max(i + 1);
        if here.growth(next) < least_growth && growth_ahead(here, run, &mut ahead) < least_growth {
            return &run[..=i];
        }
    }
    run
}

/// How much the width grows per length over a stretch as long as the width, from a stop or the start of a
/// run. `ahead` is a later stop that is not past the end of the stretch, and is moved on: along a run
/// length and width together never shrink, so one pass does for all stops.
fn growth_ahead(here: Stop, run: &[Stop], ahead: &mut usize) -> f64 {
    let horizon = here.length + here.width;
    while *ahead + 1 < run.len() && run[*ahead].length < horizon {
        *ahead += 1;
    }
    let Some(&beyond) = run.get(*ahead) else { return 0.0 };
    let before = if *ahead > 0 && run[*ahead - 1].length > here.length { run[*ahead - 1] } else { here };
    here.growth(before.towards(beyond, horizon))
}

/// The end of one piece of a run from a corner.
#[derive(Clone, Copy)]
struct Stop {
    piece: usize,
    /// Along the axis from the corner.
    length: f64,
    width: f64,
}

impl Stop {
    /// How much the width grows per length from here to a later stop.
    fn growth(self, later: Stop) -> f64 {
        (later.width - self.width) / (later.length - self.length).max(f64::MIN_POSITIVE)
    }

    /// The place so far along the axis, on the way to a later stop or at it.
    fn towards(self, later: Stop, length: f64) -> Stop {
        if length >= later.length {
            return later;
        }
        Stop { length, width: self.width + self.growth(later) * (length - self.length), ..later }
    }
}

/// The chain of pieces from a corner up to a junction, an end, or a piece that is another corner's.
/// `O(pieces in the chain)`, and a chain has two ends.
fn run_from(drafts: &[Draft], meetings: &Meetings, corner: usize) -> Vec<Stop> {
    let mut run: Vec<Stop> = Vec::new();
    let mut piece = corner;
    let mut behind = drafts[corner].piece.narrow.vertex;
    loop {
        let Piece { narrow, wide, taper, .. } = drafts[piece].piece;
        if taper || (piece != corner && drafts[piece].apex.is_some()) {
            return run;
        }
        let end = if narrow.vertex == behind { wide } else { narrow };
        let length = run.last().map_or(0.0, |stop| stop.length) + drafts[piece].piece.length();
        run.push(Stop { piece, length, width: end.width });
        let &[a, b] = meetings.at(end.vertex) else { return run };
        let next = if a as usize == piece { b } else { a } as usize;
        if next == piece || end.vertex == behind {
            return run;
        }
        behind = end.vertex;
        piece = next;
    }
}
