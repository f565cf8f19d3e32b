//! Offsets of a floor that are known already.
//!
//! Where a floor is all that is carved, its edge is the line that the widths were measured by, and perhaps the edge of
//! the ground. An offset of the one is a curve at one distance in the diagram, which the widths are kept with; the ground
//! is convex, and its offset a matter of its sides. What keeps its distance from both keeps it from either, so the two
//! are put together in one go, and no edge is offset by itself.

use super::paths::{SLACK, grid, on_board, reach as reach_of};
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

    /// Where the middle of a round cutter may go, on the board; `None` where it cannot be told from the diagram.
    /// `O(n log n)` in edges, a small part of what measuring takes.
    pub(super) fn middles(&self, radius: f64) -> Option<Region> {
        let curve = self.measured.carved_curve(radius / self.factor, self.factor)?;
        let on_board = |ring: Vec<DVec2>| -> Vec<DVec2> {
            ring.into_iter().map(|at| self.board_from_design.transform_point2(at)).collect()
        };
        let curve: Vec<Vec<DVec2>> = curve.into_iter().map(on_board).collect();
        if !self.has_ground {
            return Some(Region::clean(self.grid, &curve, FillRule::NonZero));
        }
        let within = shrunk_hull(&self.ground, radius - SLACK);
        let mut within = Region::clean(self.grid, &[within], FillRule::NonZero);
        if let Some(reach) = self.reach {
            let reach = shrunk_hull(&reach.corners(), radius);
            within = within.intersection(&Region::clean(self.grid, &[reach], FillRule::NonZero));
        }
        Some(within.left_of(&curve))
    }
}

#[cfg(test)]
mod tests {
    use super::super::paths::TreatedRegions;
    use super::KnownFloor;
    use crate::design::samples::samples;
    use crate::geometry::Ring;
    use crate::job::sample::sample_job;
    use crate::job::{Edit, Size};
    use crate::proof::measure;

    /// What is read off the diagram that a design was measured by is what the overlay engine makes of the floor on the
    /// board, on every sample, at three sizes, turned, and for cutters that hardly fit: the two differ by what chords
    /// stray along an edge.
    #[test]
    fn what_is_read_off_the_diagram_is_what_offsets_give() {
        let mut compared = 0;
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
                        let read_off = known.middles(radius).unwrap();
                        read_off.check_invariants();
                        let offset = floor.open.grown(-radius);
                        let off = read_off.minus(&offset).area() + offset.minus(&read_off).area();
                        let edges = floor.open.rings().flat_map(Ring::segments);
                        let length: f64 = edges.map(|[a, b]| a.distance(b)).sum();
                        assert!(off < 0.004 * length, "{}: {off} mm2 at {radius} mm", sample.id);
                        compared += usize::from(!offset.is_empty());
                    }
                }
            }
        }
        assert!(compared > 50, "{compared}");
    }
}
