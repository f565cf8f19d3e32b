//! What is carved while an end of the board is past its roller.

use super::AtSize;
use crate::proof::ends::share_within;
use crate::proof::finding::{Facts, FedEnd, Finding};
use crate::shop::BoardEnd;
use crate::units::Mm;
use glam::DVec2;

/// A finding for each snipe zone that the design reaches into.
pub(super) fn snipe(at_size: &AtSize) -> Vec<Finding> {
    let job = at_size.job;
    let outline = at_size.box_on_board(job.design().outline_box());
    let zones = at_size.feeding.snipe_zones.iter().zip([BoardEnd::Left, BoardEnd::Right]);
    let finding = |(&zone, board_end): (&[Mm; 2], BoardEnd)| {
        let (from, to) = (zone[0].get().max(outline.min.x), zone[1].get().min(outline.max.x));
        if to <= from {
            return None;
        }
        let end = if job.machine().leads(board_end) { FedEnd::Leading } else { FedEnd::Trailing };
        let facts = Facts::SnipeZone {
            end,
            length: Mm::new(to - from),
            share: share_within(job, at_size.measured, at_size.factor, zone),
            step: at_size.feeding.step.range(),
        };
        let at = DVec2::new((from + to) * 0.5, job.board().width.get() * 0.5);
        Some(Finding { id: format!("snipe_zone-{}", end.id()), at, facts })
    };
    zones.filter_map(finding).collect()
}
