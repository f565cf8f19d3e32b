//! What is looked for: a file a subject, each with a function from a job and its measured design to findings.

mod blemishes;
mod cutters;
mod ends;
mod fit;
mod grooves;
mod invisible;
mod loose;
mod sensing_strip;
mod stock;
mod thin;
mod travel;
mod walls;

pub(super) use thin::{element_at, in_design, thin_wall_id};

use super::ends::Feeding;
use super::finding::{Finding, sort_worst_first};
use super::stock::Stock;
use super::{Fit, Measured, finding::DesignFinding};
use crate::geometry::Rect;
use crate::job::Job;
use glam::DAffine2;

/// A job at its size, with what has been worked out of it before anything is looked for.
pub(super) struct AtSize<'a> {
    pub(super) job: &'a Job,
    pub(super) measured: &'a Measured,
    pub(super) factor: f64,
    pub(super) board_from_design: DAffine2,
    pub(super) fit: &'a Fit,
    pub(super) feeding: &'a Feeding,
    pub(super) stock: &'a Stock,
}

/// All there is to know, worst first: of the board and how it is held, and what is thin in the design.
pub(super) fn findings(at_size: &AtSize, thin: Vec<DesignFinding>) -> Vec<Finding> {
    let of_the_board = [
        fit::fit,
        fit::machine,
        cutters::cutters,
        fit::misplaced,
        ends::snipe,
        blemishes::blemishes,
        sensing_strip::sensing_strip,
        stock::warp,
        stock::not_checked,
        stock::thickness_left,
        travel::travel,
    ];
    // Where they stand: there may be some hundred thousand, and no second list of them is needed.
    let mut findings: Vec<Finding> =
        thin.into_iter().map(|finding| finding.on_board(at_size.board_from_design)).collect();
    findings.extend(of_the_board.iter().flat_map(|look| look(at_size)));
    sort_worst_first(&mut findings);
    findings
}

impl AtSize<'_> {
    /// A finding about the whole board.
    fn of_the_board(&self, id: impl Into<String>, facts: super::Facts) -> Finding {
        let board = self.job.board();
        Finding::of_the_board(id.into(), [board.length, board.width], facts)
    }

    /// A box of the design on the board: quarter turns keep boxes boxes.
    fn box_on_board(&self, area: Rect) -> Rect {
        moved(area, self.board_from_design)
    }
}

fn moved(area: Rect, to_from: DAffine2) -> Rect {
    Rect::new(to_from.transform_point2(area.min), to_from.transform_point2(area.max))
}
