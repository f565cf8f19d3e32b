//! What the cutter leaves uncut of the carved places: every inside corner, and what is too narrow for it.

use super::{Limits, Measured, fit};
use crate::job::{Job, Treatment};
use glam::DVec2;

/// A spot of less than this, square millimetres on the board, is not counted: a tenth of a millimetre each
/// way, and every facet of a curve leaves a speck.
const SPECK: f64 = 0.01;

/// What a job's cutter leaves uncut at its size.
#[derive(Clone, Debug, PartialEq)]
pub struct Uncut {
    /// All of it, square millimetres on the board.
    pub area: f64,
    /// As a share of the carved places, 0 to 1; `None` for a relief, whose ground has no edge of its own.
    pub share: Option<f64>,
    /// Where, largest first, without specks.
    pub spots: Vec<UncutSpot>,
}

/// One place that the cutter leaves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UncutSpot {
    /// Its corner, or where it is narrowest: board millimetres.
    pub at: DVec2,
    /// Square millimetres on the board.
    pub area: f64,
}

/// What the cutter of a job leaves at its size, at the full depth: the carved places less their opening by a
/// disc as wide as the cutter is there. A V in an incised place leaves nothing, for it runs out to a point.
/// `O(n)` in edges, unlike a [`proof`](super::proof()), for every inside corner counts.
pub fn uncut(job: &Job, measured: &Measured) -> Uncut {
    let (limits, factor) = (Limits::of(job), fit::factor(job));
    let entered = |treatment: Treatment| match treatment {
        Treatment::Incised if limits.incised_groove.is_some() => None,
        treatment => Some(limits.groove_in(treatment)),
    };
    let carved = measured.carved();
    let mut widths: Vec<f64> =
        carved.iter().filter_map(|&treatment| entered(treatment)).map(|width| width.get()).collect();
    widths.sort_unstable_by(f64::total_cmp);
    widths.dedup();
    let board_from_design = fit::board_from_design(job, factor);
    let (mut area, mut spots) = (0.0, Vec::new());
    for width in widths {
        let uncut = measured.grooves.uncut(0.5 * width / factor);
        let here = |inside: DVec2| match carved {
            [_] => true,
            _ => entered(measured.carved_at(&job.design, inside)).is_some_and(|here| here.get() == width),
        };
        for place in uncut.places.iter().filter(|place| here(place.inside)) {
            area += place.area * factor * factor;
            spots.push(UncutSpot {
                at: board_from_design.transform_point2(place.at),
                area: place.area * factor * factor,
            });
        }
    }
    spots.retain(|spot| spot.area >= SPECK);
    spots.sort_by(|a, b| b.area.total_cmp(&a.area));
    let whole = measured.outline.area() * factor * factor;
    let share = (!measured.standing_inside && whole > 0.0).then(|| (area / whole).min(1.0));
    Uncut { area, share, spots }
}
