//! Blemishes of the board that the carving comes upon.

use super::{AtSize, moved};
use crate::design::Element;
use crate::proof::finding::{Facts, Finding};
use crate::proof::place::blemishes_under;
use crate::shop::Blemish;
use crate::units::Mm;
use glam::DVec2;

/// Blemishes that the carved box reaches, clearance included.
pub(super) fn blemishes(at_size: &AtSize) -> Vec<Finding> {
    let job = at_size.job;
    let finding = |(index, distance): (usize, f64)| {
        let blemish = &job.board().blemishes[index];
        Finding {
            id: format!("blemish-{}", index + 1),
            at: blemish.middle(),
            facts: Facts::Blemish {
                kind: blemish.kind,
                distance: Mm::new(distance),
                clearance: blemish.clearance,
                met: met(at_size, blemish).map(|element| element.name.clone()),
            },
        }
    };
    blemishes_under(job, at_size.factor).into_iter().map(finding).collect()
}

/// The first element whose outline comes within a blemish's clearance, or that it lies in.
fn met<'a>(at_size: &AtSize<'a>, blemish: &Blemish) -> Option<&'a Element> {
    let (job, board_from_design) = (at_size.job, at_size.board_from_design);
    let design_from_board = board_from_design.inverse();
    let area = blemish.bounds().grown(blemish.clearance.get().max(0.0) + 1e-6);
    let area = moved(area, design_from_board);
    let is_near = |edge: [DVec2; 2]| {
        let edge = edge.map(|point| board_from_design.transform_point2(point));
        blemish.distance_to_segment(edge) <= blemish.clearance.get()
    };
    let middle = design_from_board.transform_point2(blemish.middle());
    let is_met = |&(index, element): &(usize, &Element)| {
        let meets = element.region.bounds().is_some_and(|bounds| bounds.meets(area));
        let locator = || at_size.measured.locator(index);
        meets && (locator().contains(middle) || locator().edges_near(area).any(is_near))
    };
    job.design().elements.iter().enumerate().find(is_met).map(|(_, element)| element)
}
