//! The ground of a relief: how far the lowered background reaches on the board.

use super::fit::board_from_design;
use crate::geometry::{Ring, convex_hull, grown_hull};
use crate::job::{Frame, Job, Treatment};
use glam::{DAffine2, DVec2};

/// The outline of a job's ground on the board, counter-clockwise; fewer than three points where nothing is
/// carved in relief. What stands in it, and what lies beyond the board, is for the caller to take off.
/// `O(n log n)` in points of the design.
pub fn ground(job: &Job, factor: f64) -> Vec<DVec2> {
    let elements = job.design().elements.iter().zip(job.treatments());
    let relief = elements.filter(|(_, treatment)| *treatment == Treatment::Relief);
    let points: Vec<DVec2> = relief
        .flat_map(|(element, _)| element.region.rings().filter(|ring| !ring.hole))
        .flat_map(Ring::points)
        .collect();
    round(job, &points, board_from_design(job, factor))
}

/// The same from points round the elements in relief, in design space.
///
/// The limits take everything outside the outlines as ground. So that this holds between neighbouring
/// elements too (an outline grown by the margin alone would leave fins between two letters that nobody
/// has looked at) the ground is the convex hull of what is in relief, grown by the ground margin with
/// round corners. Where the page is the frame, the page is the ground.
pub fn round<'a>(
    job: &Job,
    points: impl IntoIterator<Item = &'a DVec2>,
    board_from_design: DAffine2,
) -> Vec<DVec2> {
    let on_board = |&point: &DVec2| board_from_design.transform_point2(point);
    let hull = convex_hull(points.into_iter().map(on_board).collect());
    match job.frame() {
        Frame::Page if hull.len() >= 3 && job.design().page.is_some() => {
            job.frame_box().corners().iter().map(on_board).collect()
        }
        Frame::Page | Frame::Outline => grown_hull(&hull, job.ground_reach().get()),
    }
}
