//! What breaks the strip of the underside that the position sensor reads.

use super::AtSize;
use crate::geometry::Rect;
use crate::job::Treatment;
use crate::proof::finding::{Facts, Finding, StripBreach};
use crate::shop::BoardEdge;
use crate::units::Mm;
use glam::DVec2;

/// Blemishes anywhere along the strip, and cuts right through the board. `O(blemishes + elements)`.
pub(super) fn sensing_strip(at_size: &AtSize) -> Vec<Finding> {
    let job = at_size.job;
    let Some((edge, sensed)) = job.machine().sensed_strip() else { return Vec::new() };
    let strip = sensed.get();
    let (length, width) = (job.board().length.get(), job.board().width.get());
    // Beyond the edge as well: wane is marked there.
    let area = match edge {
        BoardEdge::Reference => Rect::new(DVec2::new(0.0, -strip), DVec2::new(length, strip)),
        BoardEdge::Far => Rect::new(DVec2::new(0.0, width - strip), DVec2::new(length, width + strip)),
    };
    let from_edge = |bounds: Rect| match edge {
        BoardEdge::Reference => bounds.min.y.max(0.0),
        BoardEdge::Far => (width - bounds.max.y).max(0.0),
    };
    let facts =
        |breach, from_edge| Facts::SensingStrip { breach, from_edge: Mm::new(from_edge), strip: sensed };
    let blemishes = job.board().blemishes.iter().enumerate().filter_map(|(index, blemish)| {
        let free = from_edge(blemish.bounds());
        (blemish.distance_to_box(area) == 0.0 && free < strip).then(|| Finding {
            id: format!("sensing_strip-blemish-{}", index + 1),
            at: blemish.middle(),
            facts: facts(StripBreach::Blemish(blemish.kind), free),
        })
    });
    let elements = job.design().elements.iter().zip(job.treatments()).enumerate();
    let pierced = elements.filter(|(_, (_, treatment))| *treatment == Treatment::Pierced);
    let cuts = pierced.filter_map(|(index, (element, _))| {
        let bounds = at_size.box_on_board(element.region.bounds()?);
        let free = from_edge(bounds);
        let y = if edge == BoardEdge::Reference { bounds.min.y } else { bounds.max.y };
        (free < strip).then(|| Finding {
            id: format!("sensing_strip-cut-{}", index + 1),
            at: DVec2::new(bounds.center().x, y),
            facts: facts(StripBreach::Cut { element: element.name.clone() }, free),
        })
    });
    blemishes.chain(cuts).collect()
}
