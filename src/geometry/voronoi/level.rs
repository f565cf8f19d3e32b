//! The curve at one distance from an outline, read off its diagram.
//!
//! Inside the cell of a segment that curve is a straight line, inside that of a node an arc; it passes from one cell
//! to the next where the edge between the two is just so far from both. So the places where edges pass the distance
//! are all its corners: sorted along each site they come by turns as the start and the end of a piece, and each is
//! the end of one piece and the start of another. Where a piece passes from a segment to the node at its end, no edge
//! lies; there it passes at the end of the segment.
//!
//! Lattice steps throughout, but for what comes of it.

use super::diagram::{Edge, edges};
use super::sites::{Cone, Face, Site, Sites, point};
use crate::geometry::region::turn_of_chord;
use crate::geometry::{Grid, Region};
use glam::DVec2;
use rayon::prelude::*;
use std::sync::atomic::AtomicBool;

/// By how many steps the distance is made less at most, so that no edge ends just there: where an end lies is
/// certain to a millionth of a step, unless its disc is very large.
const CLEAR_STEPS: f64 = 1.0;

/// So many edges are looked at in a row by one thread. A round value of our own.
const BLOCK: usize = 4096;

/// The curve at one distance from an outline on one of its faces, in closed rings with what is farther away to their
/// left, which meet nowhere.
pub(crate) struct LevelCurve {
    grid: Grid,
    /// Millimetres.
    distance: f64,
    sites: Sites,
    face: Face,
    corners: Vec<DVec2>,
    /// Pieces, each of a site and from a corner on.
    rings: Vec<Vec<(Site, u32)>>,
}

impl LevelCurve {
    /// That of a region's outline, at `distance` millimetres or at a few steps less. `None` where rounding leaves the curve
    /// open, or the distance is not under half the outline's extent. As long as measuring one face takes.
    pub(in crate::geometry) fn of_outline(region: &Region, face: Face, distance: f64) -> Option<LevelCurve> {
        let sites = Sites::of(&region.node_segments());
        let tree = sites.tree();
        let never = AtomicBool::new(false);
        let edges = edges(&sites, &tree, face, &never);
        drop(tree);
        LevelCurve::of(region, sites, face, edges.par_chunks(BLOCK).map(<[Edge]>::to_vec), distance)
    }

    /// The same where the region's sites and the edges of its diagram on that face are known, in blocks. `O(n log n)` in
    /// edges.
    pub(in crate::geometry) fn of(
        region: &Region,
        sites: Sites,
        face: Face,
        blocks: impl IndexedParallelIterator<Item = Vec<Edge>>,
        distance: f64,
    ) -> Option<LevelCurve> {
        let grid = region.grid();
        let far = distance / grid.step();
        if far >= 0.5 * sites.extent() {
            return None;
        }
        let ways = |edges: Vec<Edge>| {
            let (mut passing, mut near) = (Vec::new(), Near::default());
            for edge in edges {
                let way = Way::of(&sites, &edge);
                let [least, most] = way.range();
                if most < far - CLEAR_STEPS {
                    near.shallow
                        .extend(edge.sites.into_iter().filter(|site| !site.is_node()).map(Site::index));
                } else if least < far {
                    passing.push((edge.sites, way));
                    let ends = way.radii().into_iter().chain([least]);
                    near.radii.extend(ends.filter(|r| (far - CLEAR_STEPS..far).contains(r)));
                }
            }
            (passing, near)
        };
        let (passing, near): (Vec<_>, Vec<Near>) = blocks.map(ways).unzip();
        let mut shallow = vec![false; sites.count()];
        near.iter().flat_map(|near| &near.shallow).for_each(|&segment| shallow[segment as usize] = true);
        let clear = clear_of(near.into_iter().flat_map(|near| near.radii).collect(), far);
        let mut walk = Walk { sites: &sites, face, distance: clear, corners: Vec::new(), passes: Vec::new() };
        for (between, way) in passing.into_iter().flatten() {
            walk.take(between, &way, &mut shallow);
        }
        walk.pass_to_nodes(&shallow)?;
        let rings = walk.strung_together()?;
        let corners = walk.corners;
        Some(LevelCurve { grid, distance, sites, face, corners, rings })
    }

    /// Its rings, in millimetres. Chords of arcs stray as those of [`Region::grown`] do once the outline is so many times
    /// as large.
    pub(crate) fn rings(&self, factor: f64) -> Vec<Vec<DVec2>> {
        let turn = turn_of_chord(self.distance * factor);
        let ring = |pieces: &Vec<(Site, u32)>| {
            let mut ring = Vec::with_capacity(pieces.len());
            for (site, ends, _) in self.pieces(pieces) {
                ring.push(ends[0]);
                if site.is_node() {
                    arc(self.foot(site, ends[0]), ends, Turn::Clockwise, turn, &mut ring);
                }
            }
            self.in_mm(ring)
        };
        self.rings.iter().map(ring).collect()
    }

    /// The same rings grown back by the distance, one for one: what discs of that radius reach at most whose middles are
    /// no nearer. They follow the outline where those discs touch it, and one disc where two places hold it at once. They
    /// wind once round what one way in reaches, and twice where two do.
    pub(crate) fn grown_back(&self, factor: f64) -> Vec<Vec<DVec2>> {
        let turn = turn_of_chord(self.distance * factor);
        let distance = self.distance / self.grid.step();
        let strays = distance * (1.0 - (0.5 * turn).cos());
        // Each piece becomes what it lies nearest to, and each corner a part of the disc round it, from what it leaves
        // to what it comes to. Where the disc all but fills a corner of the outline, that corner stays as it is: else
        // each bend of a curve in chords would be cut off by a hair.
        let ring = |pieces: &Vec<(Site, u32)>| {
            let mut ring = Vec::with_capacity(pieces.len());
            for (site, [_, at], next) in self.pieces(pieces) {
                let corner = self.corner_between(site, next);
                if let Some(corner) = corner.filter(|corner| corner.distance(at) < distance + strays) {
                    ring.push(corner);
                } else {
                    let feet = [site, next].map(|site| self.foot(site, at));
                    ring.push(feet[0]);
                    arc(at, feet, Turn::CounterClockwise, turn, &mut ring);
                    ring.push(feet[1]);
                }
            }
            self.in_mm(ring)
        };
        self.rings.iter().map(ring).collect()
    }

    /// Where two segments meet that follow each other, and nothing else is between them.
    fn corner_between(&self, site: Site, next: Site) -> Option<DVec2> {
        if site.is_node() || next.is_node() {
            return None;
        }
        let [_, end] = self.sites.node_names(self.face, site.index());
        let [start, _] = self.sites.node_names(self.face, next.index());
        (end == start).then(|| point(self.sites.node_at(end)))
    }

    /// Each piece of a ring with its ends, and whose the next is.
    fn pieces(&self, ring: &[(Site, u32)]) -> impl Iterator<Item = (Site, [DVec2; 2], Site)> {
        ring.iter().zip(ring.iter().cycle().skip(1)).map(|(&(site, from), &(next, to))| {
            (site, [from, to].map(|corner| self.corners[corner as usize]), next)
        })
    }

    fn foot(&self, site: Site, at: DVec2) -> DVec2 {
        foot(&self.sites, self.face, site, at)
    }

    fn in_mm(&self, mut ring: Vec<DVec2>) -> Vec<DVec2> {
        let (origin, step) = (self.grid.origin(), self.grid.step());
        for place in &mut ring {
            *place = origin + *place * step;
        }
        ring
    }
}

/// The place of a site that is nearest to one in its cell.
fn foot(sites: &Sites, face: Face, site: Site, at: DVec2) -> DVec2 {
    if site.is_node() {
        return point(sites.node_at(site.index()));
    }
    let [start, _] = sites.seen_from(face, site.index()).map(point);
    let along = sites.along_from(face, site.index());
    start + along * along.dot(at - start)
}

/// What a block of edges has near the distance.
#[derive(Default)]
struct Near {
    /// Radii at ends, a few steps less than it.
    radii: Vec<f64>,
    /// Segments with an edge that is all nearer.
    shallow: Vec<u32>,
}

/// The distance at or a few steps below one that is farthest from all radii given.
fn clear_of(mut radii: Vec<f64>, distance: f64) -> f64 {
    radii.extend([distance - CLEAR_STEPS, distance]);
    radii.sort_unstable_by(f64::total_cmp);
    let widest = radii.windows(2).max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])));
    widest.map_or(distance, |gap| gap[0].midpoint(gap[1]))
}

/// How the radius goes along an edge of the diagram.
#[derive(Clone, Copy)]
enum Way {
    /// Between two segments: evenly from end to end.
    Even { ends: [DVec2; 2], radii: [f64; 2] },
    /// As the place `foot + along * x + up * y` does for each `x` of a span: between a node and a line `h` away
    /// `y = r = (x^2 + h^2) / 2h`, between two nodes `h` from the middle `y = 0` and `r^2 = x^2 + h^2`.
    Bent { foot: DVec2, along: DVec2, up: DVec2, h: f64, span: [f64; 2] },
}

impl Way {
    fn of(sites: &Sites, edge: &Edge) -> Way {
        let Edge { sites: [s, t], face, ends } = *edge;
        let node = |site: Site| point(sites.node_at(site.index()));
        let line = |site: Site| {
            let [start, _] = sites.seen_from(face, site.index());
            (point(start), sites.along_from(face, site.index()))
        };
        let bent = |foot: DVec2, along: DVec2, up: DVec2, h: f64| {
            let [from, to] = ends.map(|at| (at - foot).dot(along));
            Way::Bent { foot, along, up, h, span: [from.min(to), from.max(to)] }
        };
        match (s.is_node(), t.is_node()) {
            (false, false) => {
                let lines = [s, t].map(line);
                let radii = ends.map(|at| {
                    let off = lines.map(|(start, along)| along.perp_dot(at - start).abs());
                    0.5 * (off[0] + off[1])
                });
                Way::Even { ends, radii }
            }
            (true, true) => {
                let middle = node(s).midpoint(node(t));
                let half = node(t) - middle;
                bent(middle, half.normalize_or_zero().perp(), DVec2::ZERO, half.length())
            }
            (first, _) => {
                let (focus, (start, along)) = if first { (node(s), line(t)) } else { (node(t), line(s)) };
                let h = along.perp_dot(focus - start);
                bent(focus - along.perp() * h, along, along.perp(), h.max(f64::MIN_POSITIVE))
            }
        }
    }

    /// The radius at a place of the span.
    fn radius(up: DVec2, h: f64, x: f64) -> f64 {
        if up == DVec2::ZERO { x.hypot(h) } else { (x * x + h * h) / (2.0 * h) }
    }

    fn radii(&self) -> [f64; 2] {
        match *self {
            Way::Even { radii, .. } => radii,
            Way::Bent { up, h, span, .. } => span.map(|x| Way::radius(up, h, x)),
        }
    }

    /// The least radius and the greatest.
    fn range(&self) -> [f64; 2] {
        let [a, b] = self.radii();
        match *self {
            Way::Bent { up, h, span: [from, to], .. } if from < 0.0 && to > 0.0 => {
                [Way::radius(up, h, 0.0), a.max(b)]
            }
            _ => [a.min(b), a.max(b)],
        }
    }

    /// Where it passes a radius, each place with the direction in which the radius grows.
    fn passes(&self, r: f64) -> impl Iterator<Item = (DVec2, DVec2)> {
        let found = match *self {
            Way::Even { ends: [a, b], radii: [from, to] } => {
                let passes = (from < r) != (to < r);
                let at = a.lerp(b, (r - from) / (to - from));
                [passes.then_some((at, (b - a) * (to - from).signum())), None]
            }
            Way::Bent { foot, along, up, h, span: [from, to] } => {
                let line = up != DVec2::ZERO;
                let squared = if line { h * (2.0 * r - h) } else { (r - h) * (r + h) };
                let reach = if squared > 0.0 { squared.sqrt() } else { f64::NAN };
                [-reach, reach].map(|x| {
                    let within = from < x && x < to;
                    let (y, rise) = if line { (r, x / h) } else { (0.0, 0.0) };
                    let grows = (along + up * rise) * x.signum();
                    within.then_some((foot + along * x + up * y, grows))
                })
            }
        };
        found.into_iter().flatten()
    }
}

/// Where the curve passes through the cell of a site, at a corner.
struct Pass {
    site: Site,
    /// How far along the site, in the way the curve runs.
    along: f64,
    corner: u32,
    /// Whether a piece begins there; else one ends.
    starts: bool,
}

/// A curve as it is found: its corners, and how it passes through them.
struct Walk<'a> {
    sites: &'a Sites,
    face: Face,
    distance: f64,
    corners: Vec<DVec2>,
    passes: Vec<Pass>,
}

impl Walk<'_> {
    /// Takes in where an edge between two sites passes the distance. What it does not pass lies farther out or nearer.
    fn take(&mut self, between: [Site; 2], way: &Way, shallow: &mut [bool]) {
        let mut passed = false;
        for (at, grows) in way.passes(self.distance) {
            passed = true;
            let [a, b] = between.map(|site| foot(self.sites, self.face, site, at));
            // What is farther lies ahead, and has to lie to the left of the curve: it runs from left to right.
            let [left, right] = if grows.perp_dot(a - b) > 0.0 { between } else { [between[1], between[0]] };
            self.push(at, [left, right]);
        }
        if !passed && way.range()[1] < self.distance {
            for site in between.into_iter().filter(|site| !site.is_node()) {
                shallow[site.index() as usize] = true;
            }
        }
    }

    /// Adds a corner where the piece of one site ends and that of another starts.
    fn push(&mut self, at: DVec2, ends_and_starts: [Site; 2]) {
        let corner = self.corners.len() as u32;
        self.corners.push(at);
        for (site, starts) in ends_and_starts.into_iter().zip([false, true]) {
            let along = if site.is_node() { -self.turn(site, at) } else { self.along(site, at) };
            self.passes.push(Pass { site, along, corner, starts });
        }
    }

    fn along(&self, segment: Site, at: DVec2) -> f64 {
        let [start, _] = self.sites.seen_from(self.face, segment.index());
        self.sites.along_from(self.face, segment.index()).dot(at - point(start))
    }

    fn cone(&self, node: u32) -> Option<Cone> {
        self.sites.cones[node as usize].filter(|cone| cone.face == self.face)
    }

    /// How far round a node, counter-clockwise from where its cell begins, radians.
    fn turn(&self, node: Site, at: DVec2) -> f64 {
        let Some(cone) = self.cone(node.index()) else { return f64::NAN };
        let first = self.sites.along_from(self.face, cone.first).perp();
        let way = at - point(self.sites.node_at(node.index()));
        first.perp_dot(way).atan2(first.dot(way))
    }

    /// Adds the corners where the curve passes between a segment and the node at its end: where the first thing it
    /// does along the segment is to end, or the last to start, or where it does neither and nothing is near.
    fn pass_to_nodes(&mut self, shallow: &[bool]) -> Option<()> {
        let by_site = |a: &Pass, b: &Pass| a.site.cmp(&b.site).then(a.along.total_cmp(&b.along));
        self.passes.sort_unstable_by(by_site);
        let mut open = vec![[None; 2]; shallow.len()];
        for of_site in self.passes.chunk_by(|a, b| a.site == b.site).filter(|found| !found[0].site.is_node())
        {
            let [first, last] = [&of_site[0], &of_site[of_site.len() - 1]];
            open[first.site.index() as usize] = [Some(!first.starts), Some(last.starts)];
        }
        for (segment, open) in (0_u32..).zip(open) {
            let names = self.sites.node_names(self.face, segment);
            let ends = self.sites.seen_from(self.face, segment).map(point);
            let up = self.sites.along_from(self.face, segment).perp() * self.distance;
            for end in 0..2 {
                if !open[end].unwrap_or(!shallow[segment as usize]) {
                    continue;
                }
                // A corner that does not jut out is the end of no piece.
                let cone = self.cone(names[end])?;
                if [cone.first, cone.last][end] != segment {
                    return None;
                }
                let (node, own) = (Site::node(names[end]), Site::segment(segment));
                self.push(ends[end] + up, if end == 0 { [node, own] } else { [own, node] });
            }
        }
        self.passes.sort_unstable_by(by_site);
        Some(())
    }

    /// The rings that the pieces make: each of a site and from a corner on. `None` where one does not close.
    fn strung_together(&self) -> Option<Vec<Vec<(Site, u32)>>> {
        let mut after = vec![None; self.corners.len()];
        for of_site in self.passes.chunk_by(|a, b| a.site == b.site) {
            for pair in of_site.chunks(2) {
                let [start, end] = pair else { return None };
                if !start.starts || end.starts {
                    return None;
                }
                after[start.corner as usize] = Some((start.site, end.corner));
            }
        }
        let mut rings = Vec::new();
        for first in 0..after.len() as u32 {
            let (mut pieces, mut corner) = (Vec::new(), first);
            while let Some((site, next)) = after[corner as usize].take() {
                pieces.push((site, corner));
                corner = next;
            }
            // Each corner starts one piece and ends one, so what is begun comes back to where it began.
            if !pieces.is_empty() {
                rings.push(pieces);
            }
        }
        Some(rings)
    }
}

/// Which way round.
#[derive(Clone, Copy, PartialEq)]
enum Turn {
    Clockwise,
    CounterClockwise,
}

/// The corners of chords between two places round a middle, without those places.
fn arc(middle: DVec2, ends: [DVec2; 2], way: Turn, turn: f64, ring: &mut Vec<DVec2>) {
    let [from, to] = ends.map(|end| end - middle);
    let counter_clockwise = from.perp_dot(to).atan2(from.dot(to));
    let whole = if way == Turn::Clockwise { -counter_clockwise } else { counter_clockwise };
    #[expect(clippy::cast_sign_loss, reason = "less than nothing is nothing")]
    let chords = (whole / turn).ceil() as u32;
    for chord in 1..chords {
        let angle = counter_clockwise * f64::from(chord) / f64::from(chords);
        ring.push(middle + DVec2::from_angle(angle).rotate(from));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::Design;
    use crate::design::face::Fonts;
    use crate::design::lettering::Lettering;
    use crate::geometry::nearest_on;
    use crate::geometry::region::Segment;
    use crate::geometry::{FillRule, Rect};
    use crate::{ornament, shapes};
    use proptest::prelude::*;
    use std::f64::consts::TAU;

    /// Stars of spikes, which may lie over each other or in each other.
    fn stars() -> impl Strategy<Value = Vec<Vec<DVec2>>> {
        let star = (-3.0..3.0_f64, -3.0..3.0_f64, prop::collection::vec(0.3..4.0_f64, 3..40));
        prop::collection::vec(star, 1..4).prop_map(|stars| {
            let ring = |(x, y, spikes): (f64, f64, Vec<f64>)| {
                let turn = TAU / spikes.len() as f64;
                let corner = move |(i, reach): (usize, f64)| {
                    DVec2::new(x, y) + DVec2::from_angle(i as f64 * turn) * reach
                };
                spikes.into_iter().enumerate().map(corner).collect()
            };
            stars.into_iter().map(ring).collect()
        })
    }

    proptest! {
        /// Its corners are just so far from the outline, and its chords no nearer than chords of an arc are.
        #[test]
        fn every_place_of_it_is_at_the_distance(rings in stars(), share in 0.001..0.4_f64) {
            let bounds = Rect::around(rings.iter().flatten().copied()).expect("stars have corners");
            let region = Region::clean(Grid::covering(bounds), &rings, FillRule::EvenOdd);
            let segments: Vec<Segment> = region.node_segments();
            let (grid, step) = (region.grid(), region.grid().step());
            let clearance = |at: DVec2| {
                let to_segment = |&ends: &Segment| at.distance(nearest_on(ends.map(|node| grid.point(node)), at));
                segments.iter().map(to_segment).fold(f64::INFINITY, f64::min) / step
            };
            let far = share * bounds.size().max_element();
            for face in Face::BOTH {
                let curve = LevelCurve::of_outline(&region, face, far);
                prop_assert!(curve.is_some(), "it is open {:?}", face);
                let rings = curve.map_or_else(Vec::new, |curve| curve.rings(1.0));
                prop_assert!(face == Face::Inside || !rings.is_empty());
                for ring in rings {
                    for (&a, &b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
                        let (corner, chord) = (clearance(a), clearance(a.midpoint(b)));
                        let distance = far / step;
                        prop_assert!((corner - distance).abs() < CLEAR_STEPS + 0.1, "{} {}", corner, distance);
                        let least = distance * (0.5 * turn_of_chord(far)).cos() - CLEAR_STEPS - 0.1;
                        prop_assert!((least..distance + 0.1).contains(&chord), "{} {}", chord, distance);
                    }
                }
            }
        }
    }

    /// Round a square it is four sides and four quarter circles, inside four sides; farther in than its middle nothing.
    #[test]
    fn round_a_square() {
        let square = Rect::new(DVec2::ZERO, DVec2::splat(10.0));
        let region = Region::clean(Grid::covering(square), &[square.corners().into()], FillRule::NonZero);
        let area = |ring: &Vec<DVec2>| 0.5 * doubled_area(ring);
        let curve = |face, distance| LevelCurve::of_outline(&region, face, distance).expect("it closes");
        let (outside, inside) = (curve(Face::Outside, 2.0), curve(Face::Inside, 2.0));
        // What is farther lies to the left: the hole in it runs clockwise.
        let rings = [&outside, &inside].map(|curve| curve.rings(100.0));
        assert_eq!(rings[0].len(), 1);
        assert!((area(&rings[0][0]) + 100.0 + 80.0 + 4.0 * std::f64::consts::PI).abs() < 4e-3);
        assert_eq!((rings[1].len(), rings[1][0].len()), (1, 4));
        assert!((area(&rings[1][0]) - 36.0).abs() < 1e-4);
        assert!(curve(Face::Inside, 5.1).rings(100.0).is_empty());
        // Grown back by the distance it has round corners inside, and is the square itself outside.
        let back = [&outside, &inside].map(|curve| area(&curve.grown_back(100.0)[0]));
        assert!((back[1] - 100.0 + 4.0 * (4.0 - std::f64::consts::PI)).abs() < 4e-3);
        assert!((back[0] + 100.0).abs() < 1e-9);
    }

    /// Millionths of a millimetre.
    #[derive(Clone, Copy, Debug, Default, Hash, PartialEq)]
    struct Fine;

    impl clipper2::PointScaler for Fine {
        const MULTIPLIER: f64 = 1e6;
    }

    fn doubled_area(ring: &[DVec2]) -> f64 {
        let next = ring.iter().cycle().skip(1);
        ring.iter().zip(next).map(|(a, b)| (*a - ring[0]).perp_dot(*b - ring[0])).sum()
    }

    /// How far the corners of some rings are from others at most, in millimetres.
    fn farthest(from: &[Vec<DVec2>], to: &[Vec<DVec2>]) -> f64 {
        let chords: Vec<[DVec2; 2]> = to
            .iter()
            .flat_map(|ring| ring.iter().copied().zip(ring.iter().copied().cycle().skip(1)))
            .map(|(a, b)| [a, b])
            .collect();
        let off = |at: &DVec2| {
            let to_chord = |&chord: &[DVec2; 2]| at.distance_squared(nearest_on(chord, *at));
            chords.iter().map(to_chord).fold(f64::INFINITY, f64::min).sqrt()
        };
        let corners: Vec<DVec2> = from.iter().flatten().copied().collect();
        corners.par_iter().map(off).reduce(|| 0.0, f64::max)
    }

    /// Holds both curves of a region against offsets that a general library makes of its rings (Clipper2, whose arcs
    /// stray by a five-hundredth of the distance): within a share of the area between, and ours within so many millimetres
    /// of theirs, and theirs of ours. What is next to nothing large may be there or not.
    fn check_against_offsets(
        region: &Region,
        distance: f64,
        share: f64,
        apart: [f64; 2],
    ) -> Result<(), TestCaseError> {
        const NEXT_TO_NOTHING: f64 = 1e-4;
        let large = |ring: &Vec<DVec2>| doubled_area(ring).abs() > 2.0 * NEXT_TO_NOTHING;
        let path = |ring: crate::geometry::Ring<'_>| -> clipper2::Path<Fine> {
            ring.points().map(|at| (at.x, at.y)).collect::<Vec<_>>().into()
        };
        let outline: clipper2::Paths<Fine> = clipper2::Paths::new(region.rings().map(path).collect());
        for (face, delta) in [(Face::Inside, -distance), (Face::Outside, distance)] {
            let curve = LevelCurve::of_outline(region, face, distance);
            let ours: Vec<Vec<DVec2>> = curve.map_or_else(Vec::new, |curve| curve.rings(100.0));
            let offset = outline.inflate(delta, clipper2::JoinType::Round, clipper2::EndType::Polygon, 2.0);
            let theirs: Vec<Vec<DVec2>> = offset
                .iter()
                .map(|path| path.iter().map(|at| DVec2::new(at.x(), at.y())).collect())
                .collect();
            let [own, other] =
                [&ours, &theirs].map(|rings| rings.iter().map(|ring| 0.5 * doubled_area(ring)).sum::<f64>());
            let other = if face == Face::Inside { other } else { -other };
            let band = (region.area() - own.abs()).abs();
            prop_assert!(
                (own - other).abs() < share * band + NEXT_TO_NOTHING,
                "{face:?}: {own} and {other}, {band} between"
            );
            let of_size =
                |rings: &[Vec<DVec2>]| rings.iter().filter(|ring| large(ring)).cloned().collect::<Vec<_>>();
            let off = [farthest(&of_size(&ours), &theirs), farthest(&of_size(&theirs), &ours)];
            prop_assert!(off[0] < apart[0] && off[1] < apart[1], "{face:?}: {off:?} mm apart");
        }
        Ok(())
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(100))]

        /// Stars some millimetres large, which have necks and spikes of any width. So many arcs tell on the area of the
        /// library's offsets, and where two of them cross at next to no angle they stray by far more.
        #[test]
        fn a_general_library_offsets_alike(rings in stars(), distance in 0.02..0.4_f64) {
            let bounds = Rect::around(rings.iter().flatten().copied()).expect("stars have corners");
            let region = Region::clean(Grid::covering(bounds), &rings, FillRule::EvenOdd);
            // From half of how large the outline is on, there is no curve to be had.
            check_against_offsets(&region, distance.min(0.4 * bounds.size().length()), 1e-3, [5e-3, 0.1])?;
        }
    }

    #[test]
    fn a_general_library_offsets_every_sample_alike() {
        for sample in crate::design::samples::samples() {
            let design =
                crate::design::read(sample.title, sample.svg.as_bytes()).expect("samples can be read");
            check_design(&design, sample.id);
        }
    }

    #[test]
    fn a_general_library_offsets_letters_alike() {
        let fonts = Fonts::built_in();
        for font in fonts.names() {
            let words = "Spelk 2, \u{d8}re & ag\u{e9}?\u{fb01}".into();
            let lettering = Lettering { words, font: font.into(), ..Lettering::default() };
            check_design(&lettering.design(&fonts).expect("it has all of these"), font);
        }
    }

    fn check_design(design: &Design, name: &str) {
        let region = Region::union(design.grid, design.elements.iter().map(|element| &element.region));
        if let Err(error) = check_against_offsets(&region, 0.35, 1e-4, [1e-3; 2]) {
            panic!("{name}: {error}");
        }
    }

    /// Places written as `x y, x y`.
    fn places(text: &str) -> Vec<DVec2> {
        let number = |word: &str| word.parse().expect("a number");
        let place = |pair: &str| pair.split_once(' ').map(|(x, y)| DVec2::new(number(x), number(y)));
        text.split(", ").map(|pair| place(pair).expect("two numbers")).collect()
    }

    /// Necks, arms, points, rings and gaps whose widths are worked out by hand in `tests/widths.rs`.
    fn plain_shapes() -> Vec<(&'static str, Vec<Vec<DVec2>>)> {
        let round = |at: DVec2, radius: f64| -> Vec<DVec2> {
            (0..256).map(|i| at + DVec2::from_angle(TAU * f64::from(i) / 256.0) * radius).collect()
        };
        let mirrored = |half: Vec<DVec2>, mirror: DVec2, twice: DVec2| -> Vec<DVec2> {
            let other: Vec<DVec2> = half.iter().rev().map(|&at| twice + mirror * at).collect();
            half.into_iter().chain(other).collect()
        };
        // A letter 40 high, from the right half of its foot.
        let letter = |foot: &str| {
            let right = mirrored(places(foot), DVec2::new(1.0, -1.0), DVec2::Y * 40.0);
            mirrored(right, DVec2::new(-1.0, 1.0), DVec2::ZERO)
        };
        let waist = (-200..=200).map(|i| f64::from(i) * 0.1).map(|x| DVec2::new(x, -1.5 - 0.02 * x * x));
        let rounded =
            [(18.0, 8.0), (2.0, 8.0), (2.0, 2.0), (18.0, 2.0)].into_iter().zip([0.0, 0.25, 0.5, 0.75]);
        let rounded = rounded.flat_map(|((x, y), first)| {
            let turn = move |i| TAU * (first + f64::from(i) / 64.0);
            (0..=16).map(move |i| DVec2::new(x, y) + DVec2::from_angle(turn(i)) * 2.0)
        });
        let inner = 20.0 * (TAU / 5.0).cos() / (TAU / 10.0).cos();
        let star = (0..10).map(|i| {
            let radius = if i % 2 == 0 { 20.0 } else { inner };
            DVec2::from_angle(TAU * (0.25 + f64::from(i) / 10.0)) * radius
        });
        let neck = "0 0, 20 0, 20 8.5, 30 8.5, 30 0, 50 0, 50 20, 30 20, 30 11.5, 20 11.5, 20 20, 0 20";
        vec![
            ("bar", vec![places("0 0, 40 0, 40 10, 0 10")]),
            ("rounded bar", vec![rounded.collect()]),
            ("neck", vec![places(neck)]),
            ("waist", vec![mirrored(waist.collect(), DVec2::new(1.0, -1.0), DVec2::ZERO)]),
            ("ring", vec![round(DVec2::ZERO, 20.0), round(DVec2::ZERO, 14.0)]),
            ("ring, its hole moved", vec![round(DVec2::ZERO, 20.0), round(DVec2::X * 4.0, 14.0)]),
            ("arms that taper", vec![letter("9 0, 9 0.8, 3 3")]),
            ("slab arms", vec![letter("9 0, 9 1.5, 3 1.5")]),
            ("triangle", vec![places("0 0, 10 0, 5 40")]),
            ("star", vec![star.collect()]),
            ("corners that face each other", vec![places("0 0, 8 8, 0 16"), places("10 8, 18 0, 18 16")]),
            ("L", vec![places("0 0, 40 0, 40 10, 10 10, 10 40, 0 40")]),
        ]
    }

    #[test]
    fn a_general_library_offsets_plain_shapes_alike() {
        for (name, rings) in plain_shapes() {
            let bounds = Rect::around(rings.iter().flatten().copied()).expect("each has corners");
            let region = Region::clean(Grid::covering(bounds), &rings, FillRule::EvenOdd);
            // From half a millimetre on the library's own arcs stray by more than this.
            for distance in [0.05, 0.2, 0.35] {
                if let Err(error) = check_against_offsets(&region, distance, 1e-4, [1e-3; 2]) {
                    panic!("{name} at {distance}: {error}");
                }
            }
        }
    }

    /// Ornaments that are hard to measure, as large as they are in the benches. Their arcs are a large part of the area
    /// between, and as with stars the library's stray by more than its chords where they cross at next to no angle.
    #[test]
    fn a_general_library_offsets_hard_shapes_alike() {
        for (name, draw) in shapes::SHAPES {
            let region = ornament::clean(&draw(600));
            for distance in [0.05, 0.35, 1.1] {
                let apart = [1e-3 + distance / 400.0, 0.1];
                if let Err(error) = check_against_offsets(&region, distance, 1e-3, apart) {
                    panic!("{name} at {distance}: {error}");
                }
            }
        }
    }
}
