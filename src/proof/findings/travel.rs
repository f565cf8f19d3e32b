//! A board that its own weight tips while it is fed.

use super::AtSize;
use crate::proof::finding::{Facts, Finding};
use crate::proof::overhang::Overhang;

/// A board that lifts a roller with less than this share of what it presses down with lies as still as
/// any (our own judgement).
const WORTH_TELLING: f64 = 0.5;

/// A finding for each end of the board whose weight tips it.
pub(super) fn travel(at_size: &AtSize) -> Vec<Finding> {
    let hold_down = at_size.job.machine().hold_down;
    let tips = |overhang: &&Overhang| overhang.tips() && overhang.lift_share(hold_down) > WORTH_TELLING;
    let finding = |overhang: &Overhang| {
        let facts = Facts::Overhang { overhang: overhang.clone(), hold_down };
        at_size.of_the_board(format!("overhang-{}", overhang.side.id()), facts)
    };
    let travel = &at_size.feeding.travel;
    [&travel.infeed, &travel.outfeed].into_iter().filter(tips).map(finding).collect()
}
