//! The diagram itself: its edges, on one face.

use super::boxes::BoxTree;
use super::chains::Chains;
use super::contact::contacts;
use super::front::swept;
use super::sites::{Face, Site, Sites, point};
use super::tuning::MERGED_STEPS;
use glam::DVec2;
use rayon::prelude::*;
use std::sync::atomic::AtomicBool;

/// A part of the diagram that is equally far from two sites and farther from all others.
#[derive(Clone, Copy, Debug)]
pub(in crate::geometry) struct Edge {
    pub(in crate::geometry) sites: [Site; 2],
    pub(in crate::geometry) face: Face,
    /// Where it ends, in steps: on along the first site if that is a segment, counter-clockwise round it if it is a node.
    pub(in crate::geometry) ends: [DVec2; 2],
}

impl Edge {
    /// Whether it is shorter than a vertex is uncertain.
    pub(in crate::geometry) fn is_short(&self) -> bool {
        self.ends[0].distance_squared(self.ends[1]) < MERGED_STEPS * MERGED_STEPS
    }
}

/// The edges on one face, in the order of their sites, as far out as the outline is large. Some are missing once
/// `cancel` is set, which is looked at every few hundred nodes or events.
pub(in crate::geometry) fn edges(
    sites: &Sites,
    tree: &BoxTree,
    face: Face,
    cancel: &AtomicBool,
) -> Vec<Edge> {
    let following = sites.following(face);
    let (contacts, _) = contacts(sites, &following, tree, face, cancel);
    let chains = Chains::of(sites, &following, face, &contacts);
    let mut edges = swept(sites, face, &contacts, &chains, cancel);
    edges.par_iter_mut().for_each(|edge| {
        let ([site, _], [from, to]) = (edge.sites, edge.ends);
        let goes_on = if site.is_node() {
            let at = point(sites.node_at(site.index()));
            (from - at).perp_dot(to - at)
        } else {
            sites.along_from(face, site.index()).dot(to - from)
        };
        if goes_on < 0.0 {
            edge.ends.swap(0, 1);
        }
    });
    by_sites(&edges, sites.count())
}

/// Edges in the order of their sites; those of the same two stay in the order in which the front left them. `O(n)` but for
/// sites with many edges.
fn by_sites(edges: &[Edge], count: usize) -> Vec<Edge> {
    let first = |edge: &Edge| edge.sites[0].place();
    let mut next = vec![0_u32; 2 * count + 1];
    for edge in edges {
        next[first(edge) + 1] += 1;
    }
    for site in 1..next.len() {
        next[site] += next[site - 1];
    }
    let mut sorted = edges.to_vec();
    for edge in edges {
        let place = &mut next[first(edge)];
        sorted[*place as usize] = *edge;
        *place += 1;
    }
    sorted
        .chunk_by_mut(|a, b| a.sites[0] == b.sites[0])
        .for_each(|own| own.sort_by_key(|edge| edge.sites[1]));
    sorted
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::nearest_on;
    use crate::geometry::region::Segment;
    use crate::geometry::voronoi::Direction;
    use crate::geometry::{FillRule, Grid, Rect, Region};
    use glam::dvec2;
    use i_overlay::i_float::int::point::IntPoint;
    use proptest::prelude::*;
    use std::f64::consts::TAU;

    /// Small polygons, scattered in a frame: much of the space between them borders on corners alone.
    fn dots() -> impl Strategy<Value = Vec<Segment>> {
        let dot = (3..7_usize, 0.0..TAU, 5e4..3e5_f64, -1e5..1e5_f64, -1e5..1e5_f64);
        prop::collection::vec(dot, 2..40).prop_map(|dots| {
            let rings = dots.iter().enumerate().map(|(i, &(corners, turn, radius, x, y))| {
                let middle = DVec2::new((i % 6) as f64 * 1e6 + x, (i / 6) as f64 * 1e6 + y);
                let corner = |j: usize| {
                    let at = middle + DVec2::from_angle(turn + TAU * j as f64 / corners as f64) * radius;
                    IntPoint::new(at.x as i32, at.y as i32)
                };
                (0..corners).map(move |j| [corner(j), corner(j + 1)]).collect::<Vec<_>>()
            });
            let frame = |low: i32, high: i32, x: [usize; 4], y: [usize; 4]| {
                let corner = move |j: usize| IntPoint::new([low, high][x[j]], [low, high][y[j]]);
                (0..4).map(move |j| [corner(j), corner((j + 1) % 4)])
            };
            let outer = frame(-2_000_000, 9_000_000, [0, 1, 1, 0], [0, 0, 1, 1]);
            let hole = frame(-1_000_000, 8_000_000, [0, 0, 1, 1], [0, 1, 1, 0]);
            rings.flatten().chain(outer).chain(hole).collect()
        })
    }

    /// Rounds of many chords in front of a long straight side, with a wide bow behind: cells of the side are
    /// narrow here and wide there, and what faces them joins smoothly.
    fn rounds() -> impl Strategy<Value = Vec<Segment>> {
        let round = (6..48_usize, 0.0..TAU, 0.1..0.45_f64, 0.01..0.5_f64);
        let rounds = prop::collection::vec(round, 1..6);
        (rounds, 6..60_usize, 0.0..TAU, 2e6..2e7_f64).prop_map(|(rounds, chords, turn, pitch)| {
            let count = rounds.len() as f64;
            let place = |at: DVec2| {
                let at = DVec2::from_angle(turn).rotate(at * pitch);
                IntPoint::new(at.x as i32, at.y as i32)
            };
            let bow = |i: usize| {
                let angle = TAU * 0.5 * i as f64 / chords as f64;
                place(DVec2::new(
                    0.5 * count + (0.5 * count + 1.0) * angle.cos(),
                    (1.2 + count) * angle.sin(),
                ))
            };
            let mut rings = vec![(0..=chords).map(bow).collect::<Vec<_>>()];
            for (i, (corners, start, radius, off)) in rounds.into_iter().enumerate() {
                let middle = DVec2::new(i as f64 + 0.5, radius + off);
                let corner = |j: usize| {
                    place(middle + DVec2::from_angle(start - TAU * j as f64 / corners as f64) * radius)
                };
                rings.push((0..corners).map(corner).collect());
            }
            let closed = |ring: Vec<IntPoint<i32>>| {
                let next = ring.clone().into_iter().cycle().skip(1);
                ring.into_iter().zip(next).map(|(a, b)| [a, b]).collect::<Vec<_>>()
            };
            rings.into_iter().flat_map(closed).collect()
        })
    }

    /// Rings of long strokes, on a lattice or off it by a share of `step`: much meets, is in line, or all but that.
    fn strokes(step: f64) -> impl Strategy<Value = Vec<Segment>> {
        let at = (-6..=6_i32, -6..=6_i32, -1.0..1.0_f64, -1.0..1.0_f64)
            .prop_map(move |(x, y, dx, dy)| dvec2(f64::from(x), f64::from(y)) * 8.0 + dvec2(dx, dy) * step);
        prop::collection::vec(prop::collection::vec(at, 3..9), 1..5).prop_map(|rings| {
            let grid = Grid::covering(Rect::new(DVec2::splat(-60.0), DVec2::splat(60.0)));
            Region::clean(grid, &rings, FillRule::EvenOdd).node_segments()
        })
    }

    /// The bend of a stroke, round on the outside about its corner, which is nipped off by next to nothing: that runs as
    /// a chord of the round does, or nearly.
    fn bends() -> impl Strategy<Value = Vec<Segment>> {
        (0..4_i32, 0..4_i32, 1..24_usize, 1e3..1e7_f64).prop_map(|(back, down, chords, radius)| {
            let at = |place: DVec2| IntPoint::new((place.x * radius) as i32, (place.y * radius) as i32);
            let round = (0..=chords).map(|i| DVec2::from_angle(TAU * 0.25 * i as f64 / chords as f64));
            let legs = [dvec2(-2.0, 1.0), dvec2(-2.0, 0.0)].map(at);
            let corner = [IntPoint::new(-back, 0), IntPoint::new(0, -down)];
            let other = [dvec2(0.0, -2.0), dvec2(1.0, -2.0)].map(at);
            let mut ring: Vec<_> = round.map(at).chain(legs).chain(corner).chain(other).collect();
            ring.dedup();
            let next = ring.clone().into_iter().cycle().skip(1);
            ring.into_iter().zip(next).map(|(a, b)| [a, b]).collect()
        })
    }

    fn outlines() -> impl Strategy<Value = Vec<Segment>> {
        prop_oneof![dots(), rounds(), bends(), strokes(0.0), strokes(8.0), strokes(1e-5), strokes(1e-3)]
    }

    fn both_faces(sites: &Sites) -> Vec<Edge> {
        let tree = sites.tree();
        Face::BOTH.iter().flat_map(|&face| edges(sites, &tree, face, &AtomicBool::new(false))).collect()
    }

    /// How far a place is from a site, in steps.
    fn distance(sites: &Sites, site: Site, at: DVec2) -> f64 {
        let [a, b] = sites.segment(site.index()).map(point);
        at.distance(nearest_on([a, if site.is_node() { a } else { b }], at))
    }

    /// The radius of the least disc that touches a segment at a place, from a face, and another segment: at whichever of
    /// its places that is least.
    fn least_radius(sites: &Sites, face: Face, segment: u32, at: DVec2, other: Segment) -> f64 {
        let [start, _] = sites.seen_from(face, segment);
        let along = sites.direction(face, segment);
        let over = other.map(|node| along.cross(Direction::from(start, node)) as f64 / sites.length(segment));
        if over[0].max(over[1]) <= 0.0 {
            return f64::INFINITY;
        }
        let radius = |share: f64| {
            let place = point(other[0]).lerp(point(other[1]), share);
            let over = over[0] + (over[1] - over[0]) * share;
            (place - at).length_squared() / (2.0 * over)
        };
        // Only what lies above counts; the radius goes down and up again along it.
        let cut = over[0] / (over[0] - over[1]);
        let (mut low, mut high) =
            (if over[0] < 0.0 { cut } else { 0.0 }, if over[1] < 0.0 { cut } else { 1.0 });
        let is_end = |share: f64| share == 0.0 || share == 1.0;
        let ends = [low, high].into_iter().filter(|&share| is_end(share)).map(radius);
        let least_end = ends.filter(|radius| *radius > 0.0).fold(f64::INFINITY, f64::min);
        for _ in 0..200 {
            let (p, q) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
            if radius(p) <= radius(q) { high = q } else { low = p }
        }
        radius(0.5 * (low + high)).min(least_end)
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(400))]

        /// Every edge, however short, ends as far from its two sites as from the nearest one.
        #[test]
        fn nothing_is_nearer_than_the_sites_of_an_edge(segments in outlines()) {
            let sites = Sites::of(&segments);
            for edge in both_faces(&sites) {
                for at in edge.ends {
                    let all = (0..segments.len() as u32).map(Site::segment);
                    let nearest = all.map(|site| distance(&sites, site, at)).fold(f64::INFINITY, f64::min);
                    for own in edge.sites.map(|site| distance(&sites, site, at)) {
                        prop_assert!(own - nearest < 1e-4 + 1e-7 * nearest, "{edge:?}: {own}, {nearest}");
                    }
                }
            }
        }

        /// At any place of a segment the least disc that touches another has its middle on an edge.
        #[test]
        fn every_disc_of_a_segment_lies_on_an_edge(segments in outlines(), share in 0.01..0.99_f64) {
            let sites = Sites::of(&segments);
            let all = both_faces(&sites);
            for face in Face::BOTH {
                for segment in 0..segments.len() as u32 {
                    let start = point(sites.seen_from(face, segment)[0]);
                    let along = sites.along_from(face, segment);
                    let x = share * sites.length(segment);
                    let (at, up) = (start + along * x, along.perp());
                    let others = (0..segments.len() as u32).filter(|&other| other != segment);
                    let least = others.map(|other| least_radius(&sites, face, segment, at, sites.segment(other)));
                    let radius = least.fold(f64::INFINITY, f64::min);
                    if radius > 0.9 * sites.extent() {
                        continue;
                    }
                    let own = all.iter().filter(|edge| edge.face == face && edge.sites.contains(&Site::segment(segment)));
                    let is_there = own.into_iter().any(|edge| {
                        let [from, to] = edge.ends.map(|end| along.dot(end - start));
                        let slack = 1e-3 + 1e-8 * radius;
                        let off = edge.sites.map(|site| distance(&sites, site, at + up * radius) - radius);
                        from.min(to) - slack <= x && x <= from.max(to) + slack && off.iter().all(|off| off.abs() < slack)
                    });
                    prop_assert!(is_there, "{segment} {face:?} at {x}: {radius}");
                }
            }
        }
    }

    /// The inside of a region with corners at whole steps has a known number of edges: a vertex for each corner, and
    /// three at each meeting.
    #[test]
    fn a_bar_has_five_edges() {
        let corners = [[0, 0], [40, 0], [40, 10], [0, 10]].map(|[x, y]| IntPoint::new(x, y));
        let segments: Vec<Segment> = (0..4).map(|i| [corners[i], corners[(i + 1) % 4]]).collect();
        let sites = Sites::of(&segments);
        let tree = sites.tree();
        let inside = edges(&sites, &tree, Face::Inside, &AtomicBool::new(false));
        let mut ends: Vec<[DVec2; 2]> = inside.iter().map(|edge| edge.ends).collect();
        for ends in &mut ends {
            ends.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
        }
        ends.sort_by(|a, b| a[0].x.total_cmp(&b[0].x).then(a[0].y.total_cmp(&b[0].y)));
        let (left, right) = (dvec2(5.0, 5.0), dvec2(35.0, 5.0));
        let expected = [
            [dvec2(0.0, 0.0), left],
            [dvec2(0.0, 10.0), left],
            [left, right],
            [right, dvec2(40.0, 0.0)],
            [right, dvec2(40.0, 10.0)],
        ];
        let off = ends.iter().zip(&expected).flat_map(|(a, b)| [a[0].distance(b[0]), a[1].distance(b[1])]);
        assert!(ends.len() == 5 && off.fold(0.0, f64::max) < 1e-9, "{ends:?}");
    }
}
