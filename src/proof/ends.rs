//! What skipping the roller allowance costs at the ends.
//!
//! The order of things: with the cutter over the board at `s` from the end that is fed first, that end
//! is `s` past the cutter. It lies under the outfeed roller once `s` is at least that roller's distance
//! from the cutter. The end fed last is `L - s` short of the cutter, and lies under the infeed roller
//! while that is at least the infeed roller's distance. In between, the roller on that side has nothing
//! under it, the end is free to move, and what is carved then is likely to show a line.
//!
//! Where the end comes under its roller, or leaves it, the surface jumps: by the machine's own release
//! step, and by how far the free end had sagged.

use super::beam::Strip;
use super::fit::board_from_design;
use crate::geometry::{Region, Ring};
use crate::job::{Ends, Job};
use crate::shop::BoardEnd;
use crate::units::Mm;
use glam::{DAffine2, DVec2};

/// The stretches of the board, along its length, that are carved while an end is past its roller: the
/// left end's, then the right end's. None where the ends are held.
pub fn snipe_zones(job: &Job) -> Vec<[Mm; 2]> {
    match job.ends {
        Ends::Held => Vec::new(),
        Ends::Free => {
            let length = job.board.length;
            let reach = |end| job.machine.allowance(end).min(length);
            vec![[Mm::ZERO, reach(BoardEnd::Left)], [length - reach(BoardEnd::Right), length]]
        }
    }
}

/// How high a line is to be expected where an end leaves its roller.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// What the machine does by itself, whatever the board.
    pub release: Mm,
    /// How far the free end sags, held at the other roller: a cantilever as long as the rollers stand
    /// apart. `None` where the wood's stiffness or density is not known.
    pub sag: Option<Mm>,
}

impl Step {
    /// What to expect for a job. The same at both ends: either end is free over the whole way from
    /// roller to roller.
    pub fn of(job: &Job) -> Step {
        let free = job.machine.roller_span().min(job.board.length);
        let sag = Strip::of(job).map(|strip| Mm::new(strip.cantilever_sag(free.get())));
        Step { release: job.machine.release_step, sag }
    }

    /// Both together; a sag that is not known counts for nothing.
    pub fn height(&self) -> Mm {
        self.release + self.sag.unwrap_or(Mm::ZERO)
    }
}

/// The share of the design's area, 0 to 1, that lies within a stretch of the board. `O(n)` in edges.
pub fn share_within(job: &Job, factor: f64, zone: [Mm; 2]) -> f64 {
    let board_from_design = board_from_design(job, factor);
    let regions = || job.design.elements.iter().map(|element| &element.region);
    let within = |region| area_between(region, board_from_design, zone[0].get(), zone[1].get());
    let inside: f64 = regions().map(within).sum();
    let whole: f64 = regions().map(Region::area).sum();
    (inside / (whole * factor * factor)).clamp(0.0, 1.0)
}

/// The area of a region on the board between two upright lines: Green's theorem on each edge clipped to
/// the strip (what the lines themselves add cancels, for the strip's y does not change along them).
fn area_between(region: &Region, board_from_design: DAffine2, from: f64, to: f64) -> f64 {
    let origin = region.bounds().map_or(DVec2::ZERO, |bounds| bounds.min);
    let low = board_from_design.transform_point2(origin).y;
    let strip = |segment: [DVec2; 2]| {
        let [a, b] = segment.map(|point| board_from_design.transform_point2(point));
        let (left, right) = (a.x.clamp(from, to), b.x.clamp(from, to));
        if left == right {
            return 0.0;
        }
        let y_at = |x: f64| a.y + (b.y - a.y) * ((x - a.x) / (b.x - a.x)) - low;
        -(right - left) * 0.5 * (y_at(left) + y_at(right))
    };
    region.rings().flat_map(Ring::segments).map(strip).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{FillRule, Grid, Rect};
    use glam::dvec2;

    #[test]
    fn area_between_upright_lines_is_exact() {
        let triangle = vec![dvec2(0.0, 0.0), dvec2(10.0, 0.0), dvec2(0.0, 10.0)];
        let hole = vec![dvec2(1.0, 1.0), dvec2(2.0, 1.0), dvec2(2.0, 2.0), dvec2(1.0, 2.0)];
        let grid = Grid::covering(Rect::new(DVec2::ZERO, dvec2(10.0, 10.0)));
        let region = Region::clean(grid, &[triangle, hole], FillRule::EvenOdd);
        let close = |from, to, expected: f64| {
            let found = area_between(&region, DAffine2::IDENTITY, from, to);
            assert!((found - expected).abs() < 1e-5, "{from}..{to}: {found}, not {expected}");
        };
        close(-5.0, 20.0, 49.0);
        close(0.0, 5.0, 36.5);
        close(1.0, 2.0, 7.5);
        close(1.5, 1.75, 1.84375);
        close(20.0, 30.0, 0.0);
    }
}
