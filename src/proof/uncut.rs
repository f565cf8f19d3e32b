//! What the cutters leave uncut of the carved places: every inside corner, and what is too narrow for it.

use super::{Measured, PlaceLimits, fit};
use crate::job::{Job, Place};
use crate::units::Mm;
use glam::DVec2;
use std::collections::BTreeMap;

/// A spot of less than this, square millimetres on the board, is not counted: a tenth of a millimetre each
/// way, and every facet of a curve leaves a speck.
const SPECK: f64 = 0.01;

/// What a job's cutters leave uncut at its size.
#[derive(Clone, Debug, PartialEq)]
pub struct Uncut {
    /// All of it, square millimetres on the board.
    pub area: f64,
    /// As a share of the carved places, 0 to 1; `None` for a relief, whose ground has no edge of its own.
    pub share: Option<f64>,
    /// The same by carved place, the ground first, then in the design's order; empty where all that is carved is
    /// cut alike.
    pub areas: Vec<(Place, f64)>,
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

/// What the cutters of a job leave at its size, at the full depth: the carved places less their opening by a
/// disc as wide as the place's cutter is there. A V in an incised place leaves nothing, for it runs out to a
/// point. Where a place lies open to a shallower one, the shallower is cleared over both, and the deeper by
/// itself. `O(n)` in edges, unlike a [`proof`](super::proof()), for every inside corner counts.
pub fn uncut(job: &Job, measured: &Measured) -> Uncut {
    let (limits, factor) = (PlaceLimits::of(job), job.factor());
    let board_from_design = fit::board_from_design(job, factor);
    let (mut area, mut spots) = (0.0, Vec::new());
    let mut areas: BTreeMap<Place, f64> = BTreeMap::new();
    for (index, level) in measured.levels().iter().enumerate() {
        let told = job.places().filter(|&place| measured.tells_of(index, place));
        let mut widths: Vec<f64> = told.filter_map(|place| limits.entered(place)).map(Mm::get).collect();
        widths.sort_unstable_by(f64::total_cmp);
        widths.dedup();
        for width in widths {
            for spot in level.grooves.unreached(0.5 * width / factor).spots {
                let spot_area = spot.area * factor * factor;
                if limits.common().is_none() {
                    let place = measured.carved_at(spot.inside);
                    let entered = limits.entered(place).map(Mm::get);
                    if !measured.tells_of(index, place) || entered != Some(width) {
                        continue;
                    }
                    *areas.entry(place).or_default() += spot_area;
                }
                area += spot_area;
                spots.push(UncutSpot { at: board_from_design.transform_point2(spot.at), area: spot_area });
            }
        }
    }
    spots.retain(|spot| spot.area >= SPECK);
    spots.sort_by(|a, b| b.area.total_cmp(&a.area));
    let whole = measured.outline.area() * factor * factor;
    let share = (!measured.standing_inside && whole > 0.0).then(|| (area / whole).min(1.0));
    Uncut { area, share, areas: areas.into_iter().collect(), spots }
}
