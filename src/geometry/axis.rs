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

use super::boxes::BoxTree;
use super::cell::Edge;
use super::diagram;
use super::reach::{Branch, Span as Reach};
use super::sites::{Face, Segment, Site, Sites, point};
use super::widths::{AxisPoint, Curve, NO_TIP, Piece, Tip};
use glam::DVec2;
use i_overlay::i_float::int::point::IntPoint;
use rayon::prelude::*;
use std::f64::consts::{FRAC_PI_3, PI};

/// The least object angle that is kept.
const LEAST_OBJECT_ANGLE: f64 = 2.0 * FRAC_PI_3;

/// By how much two straight sides may miss [`LEAST_OBJECT_ANGLE`], in radians, so that a corner of
/// 60 degrees is still kept after its ends were snapped to the lattice. At 300 mm that turns an edge of
/// 1 mm by 2e-6 radians.
const SNAPPED_ANGLE: f64 = 1e-5;

/// What is nearer to a line than this many steps lies on it.
const SAME_STEPS: f64 = 1e-3;

/// Vertices nearer than this many steps are one, and edges shorter than this are none. The same vertex is
/// worked out once for each cell round it; where one edge goes on as another and turns by next to nothing,
/// say one part in 10^8, that comes out a tenth of a step apart for a large ball (up to a step at worst, for
/// a ball as large as the lattice; then two pieces do not join that should). And four cells
/// that meet in a point may come out as two vertices with an edge between them.
pub(super) const WELDED_STEPS: f64 = 0.25;

/// The extent of the squares by which vertices are sorted to be welded, by how near they must be.
const SQUARE: f64 = 64.0;

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

/// The `vertex` of the end of a draft that is a vertex of the diagram, to be named by its place.
const UNNAMED: u32 = 0;

/// Pieces of one side, finished.
pub(super) struct Side {
    pub(super) pieces: Vec<Piece>,
    pub(super) tips: Vec<Tip>,
    /// The whole axis, corners and all.
    pub(super) branches: Vec<Branch>,
}

/// What is found on one face: the kept axis, and all of it.
#[derive(Default)]
struct Found {
    drafts: Vec<Draft>,
    branches: Vec<Branch>,
}

/// The kept axis of both sides, inside first; `origin` and `step` take lattice steps to millimetres.
pub(super) fn sides(segments: &[Segment], origin: DVec2, step: f64) -> [Side; 2] {
    let sites = Sites::of(segments);
    let found = {
        let tree = BoxTree::of(&sites.segments);
        found(&sites, &tree, LEAST_OBJECT_ANGLE, &Face::BOTH)
    };
    drop(sites);
    let [inside, outside] = found;
    let (inside, outside) = rayon::join(|| finish(inside, origin, step), || finish(outside, origin, step));
    [inside, outside]
}

/// The axis inside, as far as its object angle is at least `least` radians, as it comes: pieces are in no
/// chain, tapers are not told, vertices have no names.
pub(super) fn inside(segments: &[Segment], origin: DVec2, step: f64, least: f64) -> Vec<Piece> {
    let sites = Sites::of(segments);
    let tree = BoxTree::of(&sites.segments);
    let [inside, _] = found(&sites, &tree, least, &[Face::Inside]);
    inside.drafts.into_iter().map(|draft| in_millimetres(draft.piece, origin, step)).collect()
}

/// The kept axis from a diagram's edges, whoever found them.
#[cfg(test)]
pub(super) fn sides_of(sites: &Sites, edges: Vec<Edge>, origin: DVec2, step: f64) -> [Side; 2] {
    let mut drafts = Drafts::new(sites, LEAST_OBJECT_ANGLE);
    for edge in edges {
        drafts.trace(edge);
    }
    drafts.found.map(|found| finish(found, origin, step))
}

/// Every piece on the faces asked for, in the order of the sites.
fn found(sites: &Sites, tree: &BoxTree, least: f64, faces: &[Face]) -> [Found; 2] {
    let all = diagram::edges(sites, tree, faces, |edges| {
        let mut drafts = Drafts::new(sites, least);
        for edge in edges {
            drafts.trace(edge);
        }
        drafts.found
    });
    let (inside, outside): (Vec<Found>, Vec<Found>) = all.into_iter().map(|[a, b]| (a, b)).unzip();
    let (inside, outside) = rayon::join(|| whole(inside), || whole(outside));
    [inside, outside]
}

fn whole(parts: Vec<Found>) -> Found {
    let mut whole = Found {
        drafts: Vec::with_capacity(parts.iter().map(|found| found.drafts.len()).sum()),
        branches: Vec::with_capacity(parts.iter().map(|found| found.branches.len()).sum()),
    };
    for found in parts {
        whole.drafts.extend(found.drafts);
        whole.branches.extend(found.branches);
    }
    whole
}

/// Turns edges of the diagram into pieces.
struct Drafts<'a> {
    sites: &'a Sites,
    /// The least object angle that is kept.
    least: f64,
    found: [Found; 2],
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
}

impl<'a> Drafts<'a> {
    fn new(sites: &'a Sites, least: f64) -> Drafts<'a> {
        Drafts { sites, least, found: [Found::default(), Found::default()] }
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
        let span = Reach::Even { narrow: corner.map_or(narrow.1, |_| 0.0), wide: wide.1 };
        let start = corner.map_or(narrow.0, |(_, at)| at);
        self.push_branch(edge.face, Branch { narrow: start, wide: wide.0, span });
        let parts_ways = normals[0].dot(normals[1]) <= (self.least - SNAPPED_ANGLE).cos();
        if !parts_ways || edge.is_short() || wide.1 < SAME_STEPS {
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
        self.found[edge.face as usize].drafts.push(Draft {
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
        self.push_branches(edge.face, whole, &place, |from, to| Reach::Parabola {
            h: side(from + to),
            from: from.abs(),
            to: to.abs(),
        });
        let kept = whole.within(h / (0.5 * self.least).tan()).filter(|_| !edge.is_short());
        let Some(span) = kept else { return };
        let feet = |x: f64| [focus, foot + line.along * x];
        let curve = |from, to| Curve::Parabola { h, from, to };
        self.push_monotone(edge.face, span, place, feet, curve);
    }

    fn between_points(&mut self, edge: Edge, feet: [DVec2; 2]) {
        let middle = (feet[0] + feet[1]) * 0.5;
        let d = feet[0].distance(feet[1]);
        let along = ((feet[1] - feet[0]) / d).perp();
        let [from, to] = edge.ends.map(|at| (at - middle).dot(along));
        let whole = Span::new(from, to);
        let place = |t: f64| (middle + along * t, 2.0 * t.hypot(0.5 * d));
        self.push_branches(edge.face, whole, &place, |from, to| Reach::Bisector {
            d,
            from: from.abs(),
            to: to.abs(),
        });
        let kept = whole.within(0.5 * d / (0.5 * self.least).tan()).filter(|_| !edge.is_short());
        let Some(span) = kept else { return };
        let curve = |from, to| Curve::Bisector { d, from, to };
        self.push_monotone(edge.face, span, place, |_| feet, curve);
    }

    fn push_branch(&mut self, face: Face, branch: Branch) {
        self.found[face as usize].branches.push(branch);
    }

    /// Pushes all of a span whose radius is least at 0 and the same either way from it.
    fn push_branches(
        &mut self,
        face: Face,
        span: Span,
        place: &impl Fn(f64) -> (DVec2, f64),
        reach: impl Fn(f64, f64) -> Reach,
    ) {
        let mut part = |from: f64, to: f64| {
            let (from, to) = if from.abs() <= to.abs() { (from, to) } else { (to, from) };
            if from != to {
                let [narrow, wide] = [from, to].map(|x| place(x).0);
                self.push_branch(face, Branch { narrow, wide, span: reach(from, to) });
            }
        };
        if span.from < 0.0 && span.to > 0.0 {
            part(0.0, span.from);
            part(0.0, span.to);
        } else {
            part(span.from, span.to);
        }
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
        let mut part = |from: (f64, u32), to: (f64, u32)| {
            // From narrow to wide.
            let (from, to) = if from.0.abs() <= to.0.abs() { (from, to) } else { (to, from) };
            let end = |(x, vertex): (f64, u32)| {
                let (at, width) = place(x);
                AxisPoint { at, width, vertex }
            };
            let feet = feet(from.0);
            self.found[face as usize].drafts.push(Draft {
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
        if span.from < -WELDED_STEPS && span.to > WELDED_STEPS {
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

fn in_order([a, b]: [DVec2; 2]) -> [DVec2; 2] {
    if (a.x, a.y) <= (b.x, b.y) { [a, b] } else { [b, a] }
}

/// Which ends of pieces are one vertex: sets of numbers, each named by its least.
pub(super) struct Welds {
    parent: Vec<u32>,
}

impl Welds {
    pub(super) fn find(&mut self, mut name: u32) -> u32 {
        while self.parent[name as usize] != name {
            let above = self.parent[self.parent[name as usize] as usize];
            self.parent[name as usize] = above;
            name = above;
        }
        name
    }

    pub(super) fn unite(&mut self, a: u32, b: u32) {
        let (a, b) = (self.find(a), self.find(b));
        self.parent[a.max(b) as usize] = a.min(b);
    }

    /// Unites the ends that lie within `welded` of each other, of `count` in all. `O(n log n)`.
    pub(super) fn of(ends: &[(u32, DVec2)], count: u32, welded: f64) -> Welds {
        // By the square of the plane each lies in; near a side of it, by the next one too.
        let mut squares: Vec<(u64, u32)> = Vec::with_capacity(ends.len() + ends.len() / 4);
        let extent = SQUARE * welded;
        for (i, &(_, at)) in (0_u32..).zip(ends) {
            let low = ((at - DVec2::splat(welded)) / extent).floor();
            let high = ((at + DVec2::splat(welded)) / extent).floor();
            let word = |x: f64| u64::from((x as i32).cast_unsigned());
            let xs = [low.x, high.x];
            let ys = [low.y, high.y];
            for &x in if low.x < high.x { &xs[..] } else { &xs[..1] } {
                for &y in if low.y < high.y { &ys[..] } else { &ys[..1] } {
                    squares.push((word(x) << 32 | word(y), i));
                }
            }
        }
        squares.par_sort_unstable();
        let mut welds = Welds { parent: (0..count).collect() };
        for square in squares.chunk_by(|a, b| a.0 == b.0) {
            for (i, &(_, a)) in square.iter().enumerate() {
                let (a, at) = ends[a as usize];
                for &(_, b) in &square[i + 1..] {
                    let (b, other) = ends[b as usize];
                    if at.distance_squared(other) < welded * welded {
                        welds.unite(a, b);
                    }
                }
            }
        }
        welds
    }
}

/// A stretch of axis no longer than this, in steps, and as narrow, is no wall: two millionths of a
/// design across. Outlines that were cut along each other and put together again leave such places.
const DUST: f64 = 1024.0;

/// Which drafts belong to a part of the axis that hangs together in more than [`DUST`].
fn beyond_dust(drafts: &[Draft], welds: &Welds) -> Vec<bool> {
    let mut parts = Welds { parent: welds.parent.clone() };
    for i in 0..drafts.len() as u32 {
        parts.unite(2 * i, 2 * i + 1);
    }
    let mut extents = vec![0.0; parts.parent.len()];
    for (i, draft) in (0_u32..).zip(drafts) {
        extents[parts.find(2 * i) as usize] += draft.piece.length() + draft.piece.narrow.width;
    }
    (0..drafts.len() as u32).map(|i| extents[parts.find(2 * i) as usize] > DUST).collect()
}

/// Sorts, names vertices from 0, marks tapers, and turns steps into millimetres.
fn finish(Found { drafts, mut branches }: Found, origin: DVec2, step: f64) -> Side {
    // Narrowest first; then by place, so that the order of rings plays no part.
    let keys = |draft: &Draft| {
        let (narrow, wide) = (draft.piece.narrow, draft.piece.wide);
        [wide.width, narrow.at.x, narrow.at.y, wide.at.x, wide.at.y]
    };
    // Widths are not negative, so their bits are in order too.
    let mut order: Vec<(u64, u32)> =
        (0..).zip(&drafts).map(|(i, draft)| (draft.piece.narrow.width.to_bits(), i)).collect();
    order.par_sort_unstable_by(|a, b| {
        let by_place = || {
            let (a, b) = (keys(&drafts[a.1 as usize]), keys(&drafts[b.1 as usize]));
            let differ = a.iter().zip(&b).map(|(a, b)| a.total_cmp(b)).find(|order| order.is_ne());
            differ.unwrap_or(std::cmp::Ordering::Equal)
        };
        a.0.cmp(&b.0).then_with(by_place).then(a.1.cmp(&b.1))
    });
    let mut sorted: Vec<Draft> = order.iter().map(|&(_, i)| drafts[i as usize]).collect();
    drop((order, drafts));
    let drafts = &mut sorted;
    // The ends of draft `i` are `2 i`, the narrow one, and `2 i + 1`.
    let ends = |(i, draft): (u32, &Draft)| {
        [(2 * i, draft.piece.narrow), (2 * i + 1, draft.piece.wide)]
            .into_iter()
            .filter(|(_, point)| point.vertex != AxisPoint::BETWEEN)
            .map(|(end, point)| (end, point.at))
    };
    let ends: Vec<(u32, DVec2)> = (0..).zip(drafts.iter()).flat_map(ends).collect();
    let mut welds = Welds::of(&ends, 2 * drafts.len() as u32, WELDED_STEPS);
    drop(ends);
    let kept = beyond_dust(drafts, &welds);
    let mut names = vec![u32::MAX; welds.parent.len()];
    let mut count = 0;
    for (i, draft) in (0_u32..).zip(drafts.iter_mut()).filter(|&(i, _)| kept[i as usize]) {
        for (end, point) in [(2 * i, &mut draft.piece.narrow), (2 * i + 1, &mut draft.piece.wide)] {
            let name = &mut names[welds.find(end) as usize];
            if *name == u32::MAX {
                *name = count;
                count += 1;
            }
            point.vertex = *name;
        }
    }
    drop((names, welds));
    let mut keep = kept.into_iter();
    drafts.retain(|_| keep.next().unwrap_or(true));
    let mut tips = Vec::new();
    mark_tapers(drafts, count as usize, &mut tips);
    let to_mm = |at: DVec2| origin + at * step;
    branches.par_iter_mut().for_each(|branch| *branch = branch.scaled(to_mm, step));
    for tip in &mut tips {
        tip.at = to_mm(tip.at);
    }
    let pieces = sorted.into_par_iter().map(|draft| in_millimetres(draft.piece, origin, step)).collect();
    Side { pieces, tips, branches }
}

/// A piece measured in lattice steps, in millimetres.
fn in_millimetres(mut piece: Piece, origin: DVec2, step: f64) -> Piece {
    let to_mm = |at: DVec2| origin + at * step;
    for end in [&mut piece.narrow, &mut piece.wide] {
        end.at = to_mm(end.at);
        end.width *= step;
    }
    piece.feet = piece.feet.map(to_mm);
    piece.curve = piece.curve.scaled(step);
    piece
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
