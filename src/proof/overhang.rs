//! Where the board goes while it is carved: the floor it needs, and whether its own weight tips it.
//!
//! With the cutter `s` from the end fed first, the board reaches `L - s` from the cutter on the infeed
//! side and `s` on the outfeed side. It rocks about a roller once more of it lies outside that roller
//! than on the other side of it: it then lifts away from the bed at the other roller, whose spring has
//! to push it back. A stand may be as far outside the roller as there is board on the other side of it,
//! for a tail that long does not tip the board; a longer tail takes further stands at the same distance.

use super::beam::{Strip, support_force, weight};
use super::fit::{carved_box, falls_short};
use crate::job::Job;
use crate::shop::FeedDirection;
use crate::units::Mm;

/// No more stands than this are told: a board that needs more is a slip of the keyboard.
const MOST_STANDS: usize = 12;

/// The room a board takes as it is fed, and what holds it up.
#[derive(Clone, Debug, PartialEq)]
pub struct Travel {
    /// Floor needed in front of the cutter, on the side where the board goes in.
    pub in_front: Mm,
    /// Floor needed behind it.
    pub behind: Mm,
    /// The board past the infeed roller, when the carve starts.
    pub infeed: Overhang,
    /// The board past the outfeed roller, when the carve ends.
    pub outfeed: Overhang,
}

/// The board past one of the rollers, when most of it is there.
#[derive(Clone, Debug, PartialEq)]
pub struct Overhang {
    /// Which roller.
    pub side: FeedSide,
    /// How far it reaches past the roller.
    pub reach: Mm,
    /// How much of the board there is on the other side of that roller: a longer overhang tips it.
    pub balance: Mm,
    /// The force that lifts the board away from the bed at the other roller, newtons; 0 where it does
    /// not tip, `None` where the wood's density is not known.
    pub lift: Option<f64>,
    /// How far its free end hangs down, where it is known and the board is under both rollers.
    pub sag: Option<Mm>,
    /// Where to put stands, from the roller outwards; none where it does not tip.
    pub stands: Vec<Mm>,
}

/// A side of the machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FeedSide {
    /// Where the board goes in.
    Infeed,
    /// Where it comes out.
    Outfeed,
}

impl Overhang {
    /// Whether the board's own weight tips it.
    pub fn tips(&self) -> bool {
        falls_short(self.balance, self.reach)
    }

    /// The force that lifts the board at the other roller as a share of what that roller holds down with,
    /// newtons; infinite where the force is not known, for it may be any.
    pub fn lift_share(&self, hold_down: f64) -> f64 {
        self.lift.map_or(f64::INFINITY, |lift| lift / hold_down.max(1e-9))
    }
}

/// What a job's board does as it is fed at `factor`. `O(1)`.
pub fn travel(job: &Job, factor: f64) -> Travel {
    let length = job.board().length.get();
    let carved = carved_box(job, factor);
    let held = |s: f64| s.clamp(0.0, length);
    // Measured from the end that is fed first.
    let (first, last) = match job.machine().feed {
        FeedDirection::LeftFirst => (held(carved.min.x), held(carved.max.x)),
        FeedDirection::RightFirst => (held(length - carved.max.x), held(length - carved.min.x)),
    };
    let (infeed, outfeed) = (job.machine().infeed_roller.get(), job.machine().outfeed_roller.get());
    Travel {
        in_front: Mm::new(length - first),
        behind: Mm::new(last),
        infeed: overhang(job, FeedSide::Infeed, length - first - infeed, first - outfeed),
        outfeed: overhang(job, FeedSide::Outfeed, last - outfeed, length - last - infeed),
    }
}

/// The board past a roller: `reach` past this one, and `other` past the other (negative while it has
/// not come so far).
fn overhang(job: &Job, side: FeedSide, reach: f64, other: f64) -> Overhang {
    let span = job.machine().roller_span().get();
    let (reach, balance) = (reach.max(0.0), (span + other).max(0.0));
    let under_both = other >= 0.0 && span > 0.0;
    let tips = falls_short(Mm::new(balance), Mm::new(reach));
    let lift = weight(job).map(|weight| match (tips, under_both) {
        (false, _) => 0.0,
        (true, true) => -support_force(weight, span, other, reach),
        // Only one roller has hold of it: the torque over the length of the short side.
        (true, false) => weight * (reach * reach - balance * balance) / (2.0 * balance.max(1.0)),
    });
    let sag = Strip::of(job).filter(|_| under_both).map(|strip| strip.overhang_sag(reach, span).max(0.0));
    // The last tail must stay down by itself.
    let stand = |k: usize| balance * k as f64;
    let needed = (1..=MOST_STANDS).take_while(|&k| tips && balance > 0.0 && stand(k) < reach);
    Overhang {
        side,
        reach: Mm::new(reach),
        balance: Mm::new(balance),
        lift,
        sag: sag.map(Mm::new),
        stands: needed.map(|k| Mm::new(stand(k))).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Design, Element};
    use crate::geometry::{FillRule, Grid, Rect, Region};
    use crate::job::{Edit, Placement, Treatment};
    use crate::shop::Machine;
    use glam::{DVec2, dvec2};
    use std::sync::Arc;

    /// A 100 x 100 mm panel, sunk, `x` from the left end of a board this long; rollers 100 mm on either
    /// side of the cutter.
    fn fed(length: f64, x: f64) -> Job {
        let grid = Grid::covering(Rect::new(DVec2::ZERO, dvec2(100.0, 100.0)));
        let panel = Rect::new(DVec2::ZERO, dvec2(100.0, 100.0)).corners().to_vec();
        let region = Region::clean(grid, &[panel], FillRule::NonZero);
        let elements = vec![Element::new("panel", region)];
        let design = Design {
            name: "panel".to_owned(),
            elements,
            page: None,
            grid,
            notices: crate::notice::Notices::new(),
            sharpness: None,
        };
        let job = Job::new(Arc::new(design));
        let roller = Mm::new(100.0);
        let machine = Machine { infeed_roller: roller, outfeed_roller: roller, ..job.machine().clone() };
        job.with([
            Edit::TreatAll(Treatment::Sunk),
            Edit::BoardLength(Mm::new(length)),
            Edit::Machine(Box::new(machine)),
            Edit::Place(Placement::At { x: Mm::new(x), y: Mm::new(10.0) }),
        ])
        .unwrap()
    }

    fn close(found: f64, expected: f64) {
        assert!((found - expected).abs() < 1e-3, "{found}, not {expected}");
    }

    #[test]
    fn the_floor_is_what_the_board_reaches() {
        let travel = travel(&fed(1000.0, 300.0), 1.0);
        close(travel.in_front.get(), 700.0);
        close(travel.behind.get(), 400.0);
        close(travel.infeed.reach.get(), 600.0);
        close(travel.infeed.balance.get(), 400.0); // 200 past the outfeed roller, and the 200 between
        close(travel.outfeed.reach.get(), 300.0);
        close(travel.outfeed.balance.get(), 700.0);
        let left_first = fed(1000.0, 300.0);
        let machine = Machine { feed: FeedDirection::RightFirst, ..left_first.machine().clone() };
        let right_first = left_first.with([Edit::Machine(Box::new(machine))]).unwrap();
        let travel = super::travel(&right_first, 1.0);
        close(travel.in_front.get(), 400.0);
        close(travel.behind.get(), 700.0);
    }

    #[test]
    fn a_board_tips_when_more_of_it_is_outside_than_inside() {
        // 100 mm from the end: 200 mm inside the infeed roller and L - 200 outside it.
        assert!(!travel(&fed(399.0, 100.0), 1.0).infeed.tips(), "199 outside, 200 inside");
        let tipping = travel(&fed(401.0, 100.0), 1.0).infeed;
        assert!(tipping.tips(), "201 outside, 200 inside");
        assert_eq!(tipping.stands.len(), 1);
        close(tipping.stands[0].get(), 200.0);
        assert!(!travel(&fed(401.0, 100.0), 1.0).outfeed.tips(), "all of it is inside by then");
    }

    #[test]
    fn stands_leave_no_tail_that_tips() {
        let job = fed(2000.0, 100.0);
        let infeed = travel(&job, 1.0).infeed;
        close(infeed.reach.get(), 1800.0);
        let places: Vec<f64> = infeed.stands.iter().map(|at| at.get()).collect();
        assert_eq!(places.len(), 8);
        close(places[7], 1600.0);
        assert!(infeed.reach.get() - places[7] <= infeed.balance.get() + 1e-6, "the last tail stays down");
        // Moments about the infeed roller: all of it but what lies outside, over the roller span.
        let w = weight(&job).unwrap();
        let moment = w * (1800.0 * 900.0 - 200.0 * 100.0);
        close(infeed.lift.unwrap(), moment / 200.0);
    }
}
