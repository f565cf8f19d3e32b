//! What the cutters cannot do.

use super::AtSize;
use crate::job::{Place, Treatment};
use crate::proof::finding::{CutterRefusal, Facts, Finding, OwnCutter};
use crate::proof::fit::falls_short;
use crate::shop::CutterShape;
use crate::units::Mm;

/// What each cutter cannot do that it is asked for: the job's own is told once for all it is for, an
/// element's own by itself.
pub(super) fn cutters(at_size: &AtSize) -> Vec<Finding> {
    let job = at_size.job;
    if !at_size.measured.carves() {
        return Vec::new();
    }
    let usual: Vec<Place> = job.places().filter(|&place| job.own_cutter(place).is_none()).collect();
    let own = job.places().filter(|&place| job.own_cutter(place).is_some());
    let mut found = Vec::new();
    for places in [usual].into_iter().chain(own.map(|place| vec![place])) {
        let Some(&first) = places.first() else { continue };
        let cuts = || places.iter().map(|&place| job.cut(place));
        let named = job.own_cutter(first).zip(first.element());
        let finding = |refusal: CutterRefusal| {
            let id = match named {
                None => format!("cutter_limit-{}", refusal.id()),
                Some((_, element)) => format!("cutter_limit-{}-{}", refusal.id(), element + 1),
            };
            let own = named.map(|(cutter, element)| OwnCutter {
                element: job.design().elements[element].name.clone(),
                cutter: cutter.name.clone(),
            });
            at_size.of_the_board(id, Facts::CutterLimit { refusal, own })
        };
        let depth = cuts().map(|cut| cut.depth).fold(Mm::ZERO, Mm::max);
        let edges = job.cut(first).cutter.flute_length;
        let too_deep = falls_short(edges, depth).then_some(CutterRefusal::TooDeep { depth, edges });
        let by_shape = cuts().find_map(|cut| refused(cut.cutter.shape, cut.treatment));
        found.extend(too_deep.into_iter().chain(by_shape).map(finding));
    }
    found
}

/// What a cutter of this shape cannot do, where it is asked for it.
fn refused(shape: CutterShape, treatment: Treatment) -> Option<CutterRefusal> {
    let pointed = matches!(shape, CutterShape::Vee { .. });
    match treatment {
        Treatment::Relief | Treatment::Sunk | Treatment::Pierced if pointed => {
            Some(CutterRefusal::PointOnAFloor)
        }
        Treatment::Incised if !pointed => Some(CutterRefusal::NoPoint),
        _ => None,
    }
}
