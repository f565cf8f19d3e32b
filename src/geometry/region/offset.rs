//! Outlines grown and shrunk.

use super::{FARTHEST, FillRule, Region, Ring};
use crate::geometry::voronoi::{Face, LevelCurve, point};
use crate::geometry::{Rect, near_segment, sampled_pairs, segment_distance};
use glam::DVec2;
use i_overlay::i_float::int::angle::Angle;
use i_overlay::i_float::int::point::IntPoint;
use i_overlay::i_shape::int::shape::IntShapes;
use i_overlay::mesh::int::arc::ArcOptions;
use i_overlay::mesh::int::outline::offset::IntOutlineOffset;
use i_overlay::mesh::int::style::{IntLineJoin, IntOutlineStyle};
use std::f64::consts::{PI, TAU};

/// How far the chords of a grown region's round corners may stray, in millimetres: under what a cutter
/// leaves.
const CHORD_STRAYS: f64 = 0.002;

/// Outlines of fewer edges are never offset edge by edge.
const FEWEST_TANGLED: usize = 2000;

/// How many pairs of edges are looked at to tell whether offsets tangle.
const SAMPLES: usize = 20_000;

/// With how many others, in the mean, a long edge's offset has to overlap to be called tangled.
const TANGLED_WITH: f64 = 40.0;

/// So many offsets of small outlines may overlap in all: each takes about a kilobyte in the overlay engine (a round
/// value of our own).
const MOST_SPECKS_OVERLAP: f64 = 500_000.0;

/// Of how many edges or outlines the surroundings are united at once.
const AT_ONCE: usize = 8;

impl Region {
    /// The region grown by `distance` millimetres on every side, with round corners, or shrunk by as much
    /// where it is negative; parts and gaps narrower than twice that vanish. The chords of a round corner stray
    /// by no more than 0.002 mm or one part in 10 000 of the distance. What would reach beyond four
    /// times the grid's extent is cut short. `O(n log n)` in edges and crossings.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// let within = square(2.0, 12.0).grown(-1.0);
    /// assert!((within.area() - 64.0).abs() < 1e-4);
    /// ```
    #[must_use]
    #[expect(clippy::cast_sign_loss, reason = "a turn is not negative")]
    pub fn grown(&self, distance: f64) -> Region {
        let steps = (distance / self.grid.step()).round();
        if self.is_empty() || steps == 0.0 || !steps.is_finite() {
            return self.clone();
        }
        if self.tangles(steps.abs()) {
            return self
                .by_diagram(distance, LevelCurve::rings)
                .unwrap_or_else(|| self.grown_by_halves(distance));
        }
        let turns = turn_of_chord(distance) / TAU;
        // A whole turn is 2^32 of the engine's steps of angle.
        let max_step = Angle::from_bits((turns * 4_294_967_296.0) as u32);
        let style = IntOutlineStyle::new(steps.clamp(-FARTHEST, FARTHEST) as i32)
            .line_join(IntLineJoin::Round(ArcOptions { max_step, ..ArcOptions::default() }));
        // A part too small to leave anything is not offset at all: its edges would pass through each other, each
        // through each.
        let leaves_some = |shape: &&Vec<Vec<IntPoint<i32>>>| {
            let nodes = shape.first().map_or(&[][..], Vec::as_slice);
            let extent = |of: fn(&IntPoint<i32>) -> i32| {
                let (low, high) = (nodes.iter().map(of).min(), nodes.iter().map(of).max());
                f64::from(high.unwrap_or(0)) - f64::from(low.unwrap_or(0))
            };
            extent(|node| node.x).min(extent(|node| node.y)) + 2.0 * steps > 0.0
        };
        let shapes: IntShapes<i32> = self.shapes.iter().filter(leaves_some).cloned().collect();
        match shapes.outline(&style) {
            Ok(shapes) => Region::of(self.grid, shapes),
            Err(error) => unreachable!("offsets are checked by nobody but the caller: {error}"),
        }
    }

    /// All that discs of `radius` millimetres reach which lie inside: the region shrunk by it and grown back, which is
    /// how a round cutter leaves it. Chords of round corners stray as in [`grown`](Region::grown). `O(n log n)` in
    /// edges for most outlines, as long as measuring one side takes.
    ///
    /// ```
    /// # use glam::{DVec2, dvec2};
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(30.0, 30.0)));
    /// # let square = |a, b| Region::clean(grid, &[Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().into()], FillRule::NonZero);
    /// let four_corners = square(2.0, 12.0).area() - square(2.0, 12.0).opened(1.0).area();
    /// assert!((four_corners - (4.0 - std::f64::consts::PI)).abs() < 0.01);
    /// ```
    #[must_use]
    pub fn opened(&self, radius: f64) -> Region {
        if self.is_empty() || !(radius > 0.0 && radius.is_finite()) {
            return self.clone();
        }
        // Grown back by the overlay engine, the many short chords round a corner all come back to that corner, and
        // run through each other there.
        self.by_diagram(-radius, LevelCurve::grown_back).unwrap_or_else(|| self.grown(-radius).grown(radius))
    }

    /// Whether the offsets of edges run through those of many others: the overlay engine would have to cut each by
    /// each. Told from a sample of pairs; `distance` in steps. Edges shorter than it are not counted: those of a finely
    /// drawn curve lie within each other's reach by the hundred, and their offsets follow one another. Outlines smaller
    /// than it are counted whole, by their boxes.
    fn tangles(&self, distance: f64) -> bool {
        let edges = self.node_segments();
        if edges.len() < FEWEST_TANGLED {
            return false;
        }
        let overlap = |&[one, other]: &[usize; 2]| {
            let [one_at, other_at] = [one, other].map(|index| edges[index].map(point));
            one != other
                && [one_at, other_at].iter().all(|[a, b]| a.distance(*b) > distance)
                && segment_distance(one_at, other_at) < 2.0 * distance
        };
        let reach = distance * self.grid.step();
        let small: Vec<Rect> = self
            .rings()
            .filter_map(|ring| Rect::around(ring.points()))
            .filter(|&bounds| is_speck(bounds, reach))
            .collect();
        let meet =
            |&[one, other]: &[usize; 2]| one != other && small[one].grown(2.0 * reach).meets(small[other]);
        let mean = |count: usize, meets: &dyn Fn(&[usize; 2]) -> bool| {
            if count < FEWEST_TANGLED {
                return 0.0;
            }
            let hits = sampled_pairs(count).take(SAMPLES).filter(meets).count();
            // Few hits say nothing about so many pairs.
            if hits < 10 { 0.0 } else { hits as f64 / SAMPLES as f64 * count as f64 }
        };
        let specks = mean(small.len(), &meet);
        mean(edges.len(), &overlap) > TANGLED_WITH
            || specks > TANGLED_WITH
            || specks * small.len() as f64 > MOST_SPECKS_OVERLAP
    }

    /// What a curve at that distance bounds in the diagram of the side it lies on: no offsets that pass through each
    /// other, however many edges lie within each other's reach. `None` where that curve cannot be told. As long as
    /// measuring one side takes.
    fn by_diagram(
        &self,
        distance: f64,
        rings: impl Fn(&LevelCurve, f64) -> Vec<Vec<DVec2>>,
    ) -> Option<Region> {
        let face = if distance < 0.0 { Face::Inside } else { Face::Outside };
        let curve = LevelCurve::of_outline(self, face, distance.abs())?;
        let mut rings = rings(&curve, 1.0);
        // What is farther lies to its left: what is left of a region that shrinks, but not of one that grows.
        if distance > 0.0 {
            for ring in &mut rings {
                ring.reverse();
            }
        }
        Some(Region::clean(self.grid, &rings, FillRule::NonZero))
    }

    /// As [`Region::grown`], by all that lies within the distance of an edge, put together by halves: where the
    /// offsets of neighbours cover each other, little is left of them before they meet those further off. An outline
    /// smaller than the distance goes as a whole, for nothing inside it is further away.
    fn grown_by_halves(&self, distance: f64) -> Region {
        let reach = distance.abs();
        let is_small =
            |ring: &Ring| Rect::around(ring.points()).is_some_and(|bounds| is_speck(bounds, reach));
        let (small, others): (Vec<Ring>, Vec<Ring>) = self.rings().partition(is_small);
        let edges: Vec<[DVec2; 2]> = others.into_iter().flat_map(Ring::segments).collect();
        // Holes run the other way round; turned, they are as solid as the others.
        let solid = |ring: Ring| {
            let mut points: Vec<DVec2> = ring.points().collect();
            if ring.hole {
                points.reverse();
            }
            points
        };
        let small: Vec<Vec<DVec2>> = small.into_iter().map(solid).collect();
        let near_edges = |edges: &[[DVec2; 2]]| {
            #[expect(clippy::cast_sign_loss, reason = "a count of chords is not negative")]
            let chords = (PI / turn_of_chord(reach)).ceil() as u32;
            let near: Vec<_> = edges.iter().map(|&edge| near_segment(edge, reach, chords)).collect();
            Region::clean(self.grid, &near, FillRule::NonZero)
        };
        let near_small =
            |outlines: &[Vec<DVec2>]| Region::clean(self.grid, outlines, FillRule::NonZero).grown(reach);
        let (band, specks) =
            rayon::join(|| self.by_halves(&edges, &near_edges), || self.by_halves(&small, &near_small));
        let band = Region::union(self.grid, [&band, &specks]);
        if distance > 0.0 { Region::union(self.grid, [self, &band]) } else { self.minus(&band) }
    }

    /// What `near` makes of a few of all, united.
    fn by_halves<T: Sync>(&self, all: &[T], near: &(impl Fn(&[T]) -> Region + Sync)) -> Region {
        if all.len() <= AT_ONCE {
            return near(all);
        }
        let (first, second) = all.split_at(all.len() / 2);
        let (first, second) = rayon::join(|| self.by_halves(first, near), || self.by_halves(second, near));
        Region::union(self.grid, [&first, &second])
    }
}

/// Whether nothing inside an outline with this box is further than `distance` from it.
fn is_speck(bounds: Rect, distance: f64) -> bool {
    bounds.size().max_element() < distance
}

/// The angle that a chord of a round corner spans, radians.
pub(in crate::geometry) fn turn_of_chord(distance: f64) -> f64 {
    let strays = (CHORD_STRAYS / distance.abs()).clamp(1e-4, 0.1);
    (1.0 - strays).acos() * 2.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Grid;
    use glam::dvec2;

    fn region(outlines: &[Vec<DVec2>]) -> Region {
        let grid = Grid::covering(Rect::new(dvec2(-60.0, -60.0), dvec2(60.0, 60.0)));
        Region::clean(grid, outlines, FillRule::NonZero)
    }

    /// Thin rays from one point.
    fn rays(count: u32) -> Region {
        let ray = |i| {
            let along = DVec2::from_angle(f64::from(i) / f64::from(count) * TAU);
            let across = along.perp() * 0.05;
            vec![-across, along * 50.0 - across, along * 50.0 + across, across]
        };
        region(&(0..count).map(ray).collect::<Vec<_>>())
    }

    #[test]
    fn each_way_to_offset_comes_out_as_all_at_once() {
        let frame = [[50.0; 2], [20.0; 2]].map(|half| {
            let [x, y] = half;
            vec![dvec2(-x, -y), dvec2(x, -y), dvec2(x, y), dvec2(-x, y)]
        });
        let notched = region(&[frame[0].clone()]).minus(&rays(40)).minus(&region(&[frame[1].clone()]));
        // Pegs and their holes, no larger than what they are grown by.
        let peg = |k: u32, half: f64| {
            let middle = dvec2(f64::from(k % 7) * 1.1, f64::from(k / 7) * 0.9);
            (0..12).map(|i| middle + DVec2::from_angle(f64::from(i) / 12.0 * TAU) * half).collect::<Vec<_>>()
        };
        let pegs = region(&(0..49).map(|k| peg(k, 0.4)).collect::<Vec<_>>());
        let tubes = pegs.minus(&region(&(0..49).map(|k| peg(k, 0.2)).collect::<Vec<_>>()));
        let holes = region(&[frame[0].clone()]).minus(&pegs);
        for region in [rays(40), notched, pegs, tubes, holes] {
            for distance in [0.3, 1.6, -0.02, -1.6] {
                let (all, halves) = (region.grown(distance), region.grown_by_halves(distance));
                let curve = region.by_diagram(distance, LevelCurve::rings).expect("the curve closes");
                for each in [halves, curve] {
                    each.check_invariants();
                    let off = all.minus(&each).area() + each.minus(&all).area();
                    // Both stray by so much at round corners, and a strip as wide as a step may lie along edges.
                    let length: f64 =
                        region.rings().flat_map(Ring::segments).map(|[a, b]| a.distance(b)).sum();
                    assert!(off < length * CHORD_STRAYS, "{off} mm2 at {distance}");
                }
            }
        }
    }

    /// What comes of it is what the overlay engine makes of both offsets, one after the other.
    #[test]
    fn opened_is_shrunk_and_grown_back() {
        let square = |a: f64, b: f64| Rect::new(DVec2::splat(a), DVec2::splat(b)).corners().to_vec();
        let disc = |middle: DVec2, radius: f64| {
            (0..90)
                .map(|i| middle + DVec2::from_angle(f64::from(i) / 90.0 * TAU) * radius)
                .collect::<Vec<_>>()
        };
        // A field with round islands: between two of them necks of every width, and no way in to some corners.
        let islands: Vec<Vec<DVec2>> = (0..40_u32)
            .map(|k| {
                disc(dvec2(f64::from(k % 8) * 5.3, f64::from(k / 8) * 5.1) - 18.0, 1.6 + 0.02 * f64::from(k))
            })
            .collect();
        let field = region(&[square(-22.0, 24.0)]).minus(&region(&islands));
        for region in [field, rays(40), region(&[square(-50.0, 50.0)]).minus(&rays(12))] {
            for radius in [0.04, 0.4, 0.8, 1.6, 30.0] {
                let (opened, twice) = (region.opened(radius), region.grown(-radius).grown(radius));
                opened.check_invariants();
                let off = opened.minus(&twice).area() + twice.minus(&opened).area();
                let length: f64 = region.rings().flat_map(Ring::segments).map(|[a, b]| a.distance(b)).sum();
                assert!(off < length * 2.0 * CHORD_STRAYS, "{off} mm2 at {radius}");
                assert!(opened.minus(&region).area() < length * 1e-6);
            }
        }
    }

    /// Where rays leave their middle, each lies within the reach of dozens.
    #[test]
    fn what_tangles_is_told_from_what_is_finely_drawn() {
        let steps = |region: &Region| 1.6 / region.grid().step();
        let many = rays(1000);
        assert!(many.tangles(steps(&many)));
        let circle = |count: u32| {
            let at = |i| DVec2::from_angle(f64::from(i) / f64::from(count) * TAU) * 50.0;
            region(&[(0..count).map(at).collect()])
        };
        let fine = circle(20_000);
        assert!(!fine.tangles(steps(&fine)));
        // Squares half a millimetre apart lie within each other's reach by the hundred; two millimetres apart, by the
        // dozen.
        let squares = |apart: f64| {
            let corner = |k: u32| dvec2(f64::from(k % 50), f64::from(k / 50)) * apart - 50.0;
            let square = |k: u32| Rect::new(corner(k), corner(k) + 0.5 * apart).corners().to_vec();
            region(&(0..2500).map(square).collect::<Vec<_>>())
        };
        assert!(squares(0.5).tangles(steps(&squares(0.5))));
        assert!(!squares(2.0).tangles(steps(&squares(2.0))));
    }
}
