//! Offsets of a floor that are known already.
//!
//! Where a floor is all that is carved, its edge is the line that the widths were measured by, and perhaps the edge of
//! the ground. An offset of the one is a curve at one distance in the diagram, which the widths are kept with; the ground
//! is convex, and its offset a matter of its sides. What keeps its distance from both keeps it from either, so the two
//! are put together in one go, and no edge is offset by itself. Grown back by the distance, that curve is what a round
//! cutter reaches.

use super::paths::{SLACK, grid, on_board, reach as reach_of};
use crate::geometry::voronoi::LevelCurve;
use crate::geometry::{FillRule, Grid, Locator, Rect, Region, Ring, shrunk_hull};
use crate::job::{Job, Place, Treatment};
use crate::proof::{Measured, fit, ground};
use crate::shop::Cutter;
use glam::{DAffine2, DVec2};

/// The one floor of a job that is carved with one cutter to one depth, all within the ground where it has one.
pub(super) struct KnownFloor<'a> {
    /// How deep, never below the underside. Millimetres.
    pub(super) depth: f64,
    pub(super) cutter: &'a Cutter,
    /// Each sunk element, by index.
    pub(super) sunk: Vec<(usize, Region)>,
    pub(super) has_ground: bool,
    measured: &'a Measured,
    board_from_design: DAffine2,
    factor: f64,
    grid: Grid,
    /// Round the ground on the board, without its slack; nothing where there is none.
    ground: Vec<DVec2>,
    /// What it is cut off by, where it reaches past the board.
    reach: Option<Rect>,
}

impl<'a> KnownFloor<'a> {
    /// `None` where a job has other floors, or something else is carved. `O(n log n)` in edges of what is sunk.
    pub(super) fn of(job: &'a Job, measured: &'a Measured) -> Option<KnownFloor<'a>> {
        let mut sunk = Vec::new();
        for ((index, element), treatment) in job.design().elements.iter().enumerate().zip(job.treatments()) {
            match treatment {
                Treatment::Incised | Treatment::Pierced => return None,
                Treatment::Sunk => sunk.push((index, &element.region)),
                Treatment::Relief | Treatment::Left => {}
            }
        }
        let factor = job.factor();
        let ground = ground::ground(job, factor);
        let has_ground = ground.len() >= 3;
        let mut places = sunk.iter().map(|&(index, _)| Place::Element(index)).collect::<Vec<Place>>();
        places.extend(has_ground.then_some(Place::Ground));
        let cut = |place: &Place| (job.cut(*place).depth.min(job.board().thickness), job.cut(*place).cutter);
        let (depth, cutter) = cut(places.first()?);
        if measured.standing_inside != has_ground || places.iter().any(|place| cut(place) != (depth, cutter))
        {
            return None;
        }
        let board_from_design = fit::board_from_design(job, factor);
        let grid = grid(job, board_from_design);
        let on_board = |(index, region): (usize, &Region)| (index, on_board(grid, region, board_from_design));
        let sunk: Vec<(usize, Region)> = sunk.into_iter().map(on_board).collect();
        let board = job.board().area();
        let is_on_board = |bounds: Rect| board.union(bounds) == board;
        let corners = || sunk.iter().flat_map(|(_, region)| region.rings()).flat_map(Ring::points);
        let is_within = if has_ground {
            let locator =
                Locator::new(&Region::clean(grid, std::slice::from_ref(&ground), FillRule::NonZero));
            corners().all(|corner| locator.contains(corner))
        } else {
            Rect::around(corners()).is_some_and(is_on_board)
        };
        if !is_within {
            return None;
        }
        let reach = Rect::around(ground.iter().copied()).filter(|&bounds| !is_on_board(bounds.grown(SLACK)));
        let reach = reach.map(|_| reach_of(job));
        let depth = depth.get();
        Some(KnownFloor {
            depth,
            cutter,
            sunk,
            has_ground,
            measured,
            board_from_design,
            factor,
            grid,
            ground,
            reach,
        })
    }

    /// What a round cutter does; `None` where it cannot be told from the diagram. `O(n log n)` in edges, a small part of
    /// what measuring takes.
    pub(super) fn for_radius(&self, radius: f64) -> Option<RoundCutter<'_>> {
        let curve = self.measured.carved_curve(radius / self.factor)?;
        Some(RoundCutter { floor: self, radius, curve })
    }

    /// What lies within the ground with its slack, where there is one, by so much; it is convex.
    fn shrunk_ground(&self, by: f64) -> Option<Region> {
        let hull = |points: Vec<DVec2>| Region::clean(self.grid, &[points], FillRule::NonZero);
        let within = self.has_ground.then(|| hull(shrunk_hull(&self.ground, by - SLACK)))?;
        Some(match self.reach {
            Some(reach) => within.intersection(&hull(shrunk_hull(&reach.corners(), by))),
            None => within,
        })
    }

    /// What lies within a part of the ground, where there is one, and to the left of a curve in design space.
    fn left_of(&self, mut curve: Vec<Vec<DVec2>>, ground: Option<&Region>) -> Region {
        for place in curve.iter_mut().flatten() {
            *place = self.board_from_design.transform_point2(*place);
        }
        match ground {
            Some(ground) => ground.left_of(&curve),
            None => Region::clean(self.grid, &curve, FillRule::NonZero),
        }
    }
}

/// A round cutter in a floor that is known.
pub(super) struct RoundCutter<'a> {
    floor: &'a KnownFloor<'a>,
    radius: f64,
    /// What its middle keeps to.
    curve: LevelCurve,
}

impl RoundCutter<'_> {
    /// Where its middle may go, on the board.
    pub(super) fn middles(&self) -> Region {
        let ground = self.floor.shrunk_ground(self.radius);
        self.floor.left_of(self.curve.rings(self.floor.factor), ground.as_ref())
    }

    /// What it reaches of the whole `open` floor, on the board, in parts that may overlap. Near the edge of the ground, by
    /// three radii, that is told from what lies as near to it as a cutter that comes there; farther in only the outlines
    /// matter.
    pub(super) fn reached(&self, open: &Region) -> Vec<Region> {
        let far = |ground| self.floor.left_of(self.curve.grown_back(self.floor.factor), ground);
        let ground = |radii: f64| self.floor.shrunk_ground(radii * self.radius);
        match ground(3.0).zip(ground(5.1)) {
            None => vec![far(None)],
            Some((_, innermost)) if innermost.is_empty() => vec![open.opened(self.radius)],
            Some((inner, innermost)) => {
                let near = open.minus(&innermost).opened(self.radius);
                vec![near.minus(&inner), far(Some(&inner))]
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::paths::TreatedRegions;
    use super::KnownFloor;
    use crate::design::samples::samples;
    use crate::geometry::{Region, Ring};
    use crate::job::sample::sample_job;
    use crate::job::{Edit, Size};
    use crate::proof::measure;

    /// What is read off the diagram that a design was measured by is what the overlay engine makes of the floor on the
    /// board, on every sample, at three sizes, turned, and for cutters that hardly fit: the two differ by what chords
    /// stray along an edge.
    #[test]
    fn what_is_read_off_the_diagram_is_what_offsets_give() {
        let (mut compared, mut grown_back) = (0, 0);
        for sample in samples() {
            let whole = sample_job(sample).unwrap();
            let measured = measure(&whole);
            for (share, turned) in [(1.0, false), (0.37, true), (1.4, false)] {
                let size = Edit::Size(Size::Factor(whole.factor() * share));
                let edits = [size].into_iter().chain(turned.then_some(Edit::TurnByQuarter));
                let job = whole.with(edits).unwrap();
                let Some(known) = KnownFloor::of(&job, &measured) else { continue };
                for floor in TreatedRegions::of(&job, &measured).floors {
                    for radius in [0.2, 1.0, 3.175, 9.0] {
                        let round = known.for_radius(radius).unwrap();
                        let read_off = round.middles();
                        read_off.check_invariants();
                        let offset = floor.open.grown(-radius);
                        let off = read_off.minus(&offset).area() + offset.minus(&read_off).area();
                        let edges = floor.open.rings().flat_map(Ring::segments);
                        let length: f64 = edges.map(|[a, b]| a.distance(b)).sum();
                        assert!(off < 0.004 * length, "{}: {off} mm2 at {radius} mm", sample.id);
                        compared += usize::from(!offset.is_empty());
                        let reached = Region::union(floor.open.grid(), &round.reached(&floor.open));
                        reached.check_invariants();
                        let back = floor.open.opened(radius);
                        let off = reached.minus(&back).area() + back.minus(&reached).area();
                        assert!(off < 0.004 * length, "{}: {off} mm2 back from {radius} mm", sample.id);
                        grown_back += usize::from(!back.is_empty());
                    }
                }
            }
        }
        assert!(compared > 50 && grown_back > 20, "{compared} and {grown_back}");
    }
}
