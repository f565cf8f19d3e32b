//! A carrier: a shop-made tray for a piece too small or too crooked to be fed by itself.
//!
//! A flat base, a rail along each long edge and a stop at each end, as high as the piece is thick, so
//! that rollers and sensor run on them and never on the piece. The piece lies in the pocket between
//! them, wedged or shimmed.

use super::fit::falls_short;
use crate::job::Job;
use crate::shop::{Check, FeedDirection, board_feet};
use crate::units::Mm;

/// Thickness of the base (1/2 in; our own round value).
const BASE: Mm = Mm::from_inches(0.5);
/// Least width of a rail (3/4 in; our own round value): stout enough to carry a roller.
const RAIL: Mm = Mm::from_inches(0.75);
/// Least length of a stop at an end (3/4 in; our own round value).
const STOP: Mm = Mm::from_inches(0.75);
/// Room round the piece for its wedges, on each side (1 mm; our own round value).
const PLAY: Mm = Mm::new(1.0);

/// A carrier worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Carrier {
    /// Along the feed, outside.
    pub length: Mm,
    /// Across, outside.
    pub width: Mm,
    /// Base and rails together.
    pub height: Mm,
    /// Thickness of the base.
    pub base: Mm,
    /// Length of the pocket.
    pub pocket_length: Mm,
    /// Width of the pocket.
    pub pocket_width: Mm,
    /// Depth of the pocket: as deep as the piece is thick.
    pub pocket_depth: Mm,
    /// Width of each of the two rails, which run the whole length.
    pub rail: Mm,
    /// Length of the stop at the left end and at the right; both as wide as the pocket.
    pub stops: [Mm; 2],
    /// The wood it takes: base, rails and stops, true sizes, no waste.
    pub board_feet: f64,
    /// Why the piece needs one.
    pub reasons: Vec<CarrierReason>,
    /// What of the machine's largest the carrier itself exceeds.
    pub too_large: Vec<Measure>,
}

/// A measure of a carrier or a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// Along the feed.
    Length,
    /// Across it.
    Width,
    /// From the bed up.
    Thickness,
}

/// Why a piece is carried.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CarrierReason {
    /// Shorter than the machine takes.
    Short {
        /// What it takes.
        least: Mm,
    },
    /// Narrower than the machine takes.
    Narrow {
        /// What it takes.
        least: Mm,
    },
    /// Thinner than the machine takes.
    Thin {
        /// What it takes.
        least: Mm,
    },
    /// The roller allowance leaves no room on the piece itself.
    NoAllowance,
    /// It is warped or rough as measured.
    Warped {
        /// The item of the bench list.
        check: Check,
    },
}

/// The carrier for a job's board, whether it needs one or not: [`Carrier::reasons`] says.
pub fn carrier(job: &Job) -> Carrier {
    let (board, machine) = (job.board(), job.machine());
    // A crooked or uneven piece takes a wider pocket; a bowed or twisted one lies deeper.
    let [crook, unequal, bow, twist, cup] =
        [Check::Crook, Check::UnequalWidth, Check::Bow, Check::Twist, Check::Cup]
            .map(|check| board.stock.length(check).unwrap_or_default());
    let pocket_length = board.length + PLAY * 2.0;
    let pocket_width = board.width + crook + unequal + PLAY * 2.0;
    let pocket_depth = board.thickness + bow.max(twist).max(cup);
    let strip = machine.sensed_strip().map_or(Mm::ZERO, |(_, width)| width);
    let rail = RAIL
        .max(strip + job.side_margin().unwrap_or(machine.side_margin))
        .max((machine.narrowest - pocket_width) / 2.0);
    // All of the piece may be carved: the rollers stay on the stops.
    let reach = STOP.max((machine.shortest - pocket_length) / 2.0);
    let stops = [machine.outfeed_roller, machine.infeed_roller].map(|roller| roller.max(reach));
    let stops = match machine.feed {
        FeedDirection::LeftFirst => stops,
        FeedDirection::RightFirst => [stops[1], stops[0]],
    };
    let base = BASE.max(machine.thinnest - pocket_depth);
    let (length, width) = (pocket_length + stops[0] + stops[1], pocket_width + rail * 2.0);
    let height = base + pocket_depth;
    let wood = board_feet(length, width, base)
        + 2.0 * board_feet(length, rail, pocket_depth)
        + board_feet(stops[0] + stops[1], pocket_width, pocket_depth);
    let over = [
        (Measure::Length, length, machine.longest),
        (Measure::Width, width, machine.widest),
        (Measure::Thickness, height, machine.thickest),
    ];
    Carrier {
        length,
        width,
        height,
        base,
        pocket_length,
        pocket_width,
        pocket_depth,
        rail,
        stops,
        board_feet: wood,
        reasons: reasons(job),
        too_large: over
            .into_iter()
            .filter(|&(_, is, most)| falls_short(most, is))
            .map(|(measure, ..)| measure)
            .collect(),
    }
}

fn reasons(job: &Job) -> Vec<CarrierReason> {
    let (board, machine) = (job.board(), job.machine());
    let mut reasons = Vec::new();
    if falls_short(board.length, machine.shortest) {
        reasons.push(CarrierReason::Short { least: machine.shortest });
    }
    if falls_short(board.width, machine.narrowest) {
        reasons.push(CarrierReason::Narrow { least: machine.narrowest });
    }
    if falls_short(board.thickness, machine.thinnest) {
        reasons.push(CarrierReason::Thin { least: machine.thinnest });
    }
    if !falls_short(machine.roller_span(), board.length) {
        reasons.push(CarrierReason::NoAllowance);
    }
    let factor = job.factor();
    let warped =
        |row: &super::stock::StockRow| row.severity > super::Severity::Sound && row.check != Check::Moisture;
    let rows = super::stock::stock_rows(job, factor);
    reasons
        .extend(rows.iter().filter(|row| warped(row)).map(|row| CarrierReason::Warped { check: row.check }));
    reasons
}

impl Carrier {
    /// Whether the piece needs it.
    pub fn needed(&self) -> bool {
        !self.reasons.is_empty()
    }
}
