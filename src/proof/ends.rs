//! What skipping the roller allowance costs at the ends.
//!
//! A roller stands the allowance away from the cutter on either side. While the cutter is nearer to an
//! end of the board than that, the roller on that side has nothing under it and the end is free to
//! move: what is carved then is likely to show a line.

use super::fit::board_from_design;
use crate::geometry::{Region, Ring};
use crate::job::{Ends, Job};
use crate::units::Mm;
use glam::DVec2;

/// The stretches of the board, along its length, that are carved while an end is past its roller: the
/// leading end's, then the trailing end's. None where the ends are held.
pub fn snipe_zones(job: &Job) -> Vec<[Mm; 2]> {
    match job.ends {
        Ends::Held => Vec::new(),
        Ends::Free => {
            let length = job.board.length;
            let reach = job.machine.roller_allowance.min(length);
            vec![[Mm::ZERO, reach], [length - reach, length]]
        }
    }
}

/// The share of the design's area, 0 to 1, that lies within a stretch of the board. `O(n)` in edges.
pub fn share_within(job: &Job, factor: f64, zone: [Mm; 2]) -> f64 {
    let design_from_board = board_from_design(job, factor).inverse();
    let x_of = |along: Mm| design_from_board.transform_point2(DVec2::new(along.get(), 0.0)).x;
    let (from, to) = (x_of(zone[0]), x_of(zone[1]));
    let regions = || job.design.elements.iter().map(|element| &element.region);
    let inside: f64 = regions().map(|region| area_between(region, from, to)).sum();
    let whole: f64 = regions().map(Region::area).sum();
    (inside / whole).clamp(0.0, 1.0)
}

/// The area of a region between two upright lines: Green's theorem on each edge clipped to the strip
/// (what the lines themselves add cancels, for the strip's y does not change along them).
fn area_between(region: &Region, from: f64, to: f64) -> f64 {
    let origin = region.bounds().map_or(DVec2::ZERO, |bounds| bounds.min);
    let strip = |[a, b]: [DVec2; 2]| {
        let (left, right) = (a.x.clamp(from, to), b.x.clamp(from, to));
        if left == right {
            return 0.0;
        }
        let y_at = |x: f64| a.y + (b.y - a.y) * ((x - a.x) / (b.x - a.x)) - origin.y;
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
            let found = area_between(&region, from, to);
            assert!((found - expected).abs() < 1e-5, "{from}..{to}: {found}, not {expected}");
        };
        close(-5.0, 20.0, 49.0);
        close(0.0, 5.0, 36.5);
        close(1.0, 2.0, 7.5);
        close(1.5, 1.75, 1.84375);
        close(20.0, 30.0, 0.0);
    }
}
