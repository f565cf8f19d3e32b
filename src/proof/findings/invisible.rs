//! Elements that would be carved for nothing.

use crate::geometry::Rect;
use crate::job::Job;
use crate::proof::Measured;
use crate::proof::finding::{DesignFinding, Facts};
use glam::DVec2;

/// A finding for each element that does not show.
pub(super) fn invisible(job: &Job, measured: &Measured) -> Vec<DesignFinding> {
    let finding = |found: &crate::proof::invisible::Invisible| {
        let [element, around] = [found.element, found.around].map(|index| &job.design().elements[index]);
        DesignFinding {
            id: format!("unseen-{}", found.element + 1),
            at: element.region.bounds().map_or(DVec2::ZERO, Rect::center),
            facts: Facts::Invisible {
                element: element.name.clone(),
                around: around.name.clone(),
                stands: job.carvings()[found.element].treatment.stands(),
            },
        }
    };
    measured.invisible().iter().map(finding).collect()
}
