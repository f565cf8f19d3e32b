//! Does the design fit the board, how large may it be, and what board would take it.

use crate::geometry::Rect;
use crate::job::{Ends, Job, Placement, Side, Surround, Turn};
use crate::shop::{StockSize, dressed_size, surfaced_size};
use crate::units::{LengthUnit, Mm};
use glam::{DAffine2, DMat2, DVec2, dvec2};
use serde::{Deserialize, Serialize};

use super::{FLOOR_LEFT, Step, percent_down};

/// Slack for comparing lengths that were worked out in two ways, as a share: far below what any
/// machine repeats, far above rounding.
const ROUNDING: f64 = 1e-9;

/// A gain in size under this share is not worth offering.
const WORTH_OFFERING: f64 = 1e-3;

/// How the design sits on the board.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// In a word.
    pub outcome: FitOutcome,
    /// The largest uniform factor the board takes, turned as it is; 0 where it takes none.
    pub largest_factor: f64,
    /// The largest it takes with a quarter turn more.
    pub turned_factor: f64,
    /// Which side of the board decides the largest factor.
    pub decided_by: Side,
    /// Free board between allowances and margins: along, then across. Negative where they overlap.
    pub room: [Mm; 2],
    /// The board this size needs: length.
    pub length_needed: Mm,
    /// The board this size needs: width.
    pub width_needed: Mm,
    /// What can be done about it, what is least trouble first.
    pub offers: Vec<Offer>,
}

/// In a word, how the design sits on the board.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FitOutcome {
    /// It fits at this size.
    Fits,
    /// The board takes this size, but not where it has been put.
    Misplaced,
    /// It would fit if it were turned by a quarter.
    FitsTurned,
    /// It would fit if it were made smaller.
    Shrink,
    /// No size fits: allowance and margins leave no room.
    NoRoom,
}

/// A way to go on.
#[derive(Clone, Debug, PartialEq)]
pub enum Offer {
    /// Carve it as drawn: the board takes that.
    CarveAsDrawn,
    /// Carve it larger: this factor is the largest.
    Grow {
        /// The largest factor.
        factor: f64,
    },
    /// Turn it by a quarter: this factor is then the largest.
    Turn {
        /// The turn to set.
        turn: Turn,
        /// The largest factor then.
        factor: f64,
    },
    /// Carve it smaller: this factor is the largest.
    Shrink {
        /// The largest factor.
        factor: f64,
    },
    /// Skip the roller allowance, and take what it does to the ends: this factor is then the largest.
    SkipAllowance {
        /// The largest factor then.
        factor: f64,
        /// How high a line to expect near the ends.
        step: Mm,
    },
    /// Take another board.
    TakeBoard(BoardNeeded),
    /// Carry the board on a sled: it is smaller than the machine takes by itself.
    Carrier,
}

/// The smallest board for a size.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardNeeded {
    /// Along the grain.
    pub length: Mm,
    /// Across the grain.
    pub width: Mm,
    /// Face to face: the deepest cut and the wood to be left under it, or what the machine needs.
    pub thickness: Mm,
    /// The smallest dressed lumber that is large enough; `None` where none is.
    pub dressed: Option<StockSize>,
    /// The thinnest surfaced hardwood that is thick enough; `None` where none is.
    pub surfaced: Option<StockSize>,
}

/// Fits the design at `factor` to the board.
pub fn fit(job: &Job, factor: f64) -> Fit {
    let frame = job.frame_on_board();
    let (largest_factor, decided_by) = job.largest_for(frame, job.ends());
    let (turned_factor, _) = job.largest_for(dvec2(frame.y, frame.x), job.ends());
    let takes = |largest: f64| largest > 0.0 && factor <= largest * (1.0 + ROUNDING);
    let outcome = if takes(largest_factor) {
        if overlaps(job, factor).is_empty() { FitOutcome::Fits } else { FitOutcome::Misplaced }
    } else if takes(turned_factor) {
        FitOutcome::FitsTurned
    } else if largest_factor > 0.0 {
        FitOutcome::Shrink
    } else {
        FitOutcome::NoRoom
    };
    let [low, high] = Surround::of(job).room(job);
    let room = (high - low).to_array().map(Mm::new);
    let needed = board_needed(job, factor);
    let (length_needed, width_needed) = (needed.length, needed.width);
    let mut fit = Fit {
        outcome,
        largest_factor,
        turned_factor,
        decided_by,
        room,
        length_needed,
        width_needed,
        offers: Vec::new(),
    };
    fit.offers = offers(job, factor, &fit, needed);
    fit
}

fn offers(job: &Job, factor: f64, fit: &Fit, needed: BoardNeeded) -> Vec<Offer> {
    let fits = fit.outcome == FitOutcome::Fits;
    let beyond = |larger: f64, than: f64| larger > than * (1.0 + WORTH_OFFERING);
    let mut offers = Vec::new();
    if fit.largest_factor * (1.0 + ROUNDING) >= 1.0 {
        offers.push(Offer::CarveAsDrawn);
    }
    if fits && beyond(fit.largest_factor, factor) {
        offers.push(Offer::Grow { factor: fit.largest_factor });
    }
    if beyond(fit.turned_factor, fit.largest_factor) {
        offers.push(Offer::Turn { turn: job.turn().next(), factor: fit.turned_factor });
    }
    if !fits && fit.largest_factor > 0.0 && beyond(factor, fit.largest_factor) {
        offers.push(Offer::Shrink { factor: fit.largest_factor });
    }
    if !fits && job.ends() == Ends::Held {
        let (free, _) = job.largest_for(job.frame_on_board(), Ends::Free);
        if beyond(free, fit.largest_factor) {
            offers.push(Offer::SkipAllowance { factor: free, step: Step::of(job).height() });
        }
    }
    if !fits && fit.outcome != FitOutcome::Misplaced {
        offers.push(Offer::TakeBoard(needed));
    }
    let (board, machine) = (job.board(), job.machine());
    if falls_short(board.length, machine.shortest)
        || falls_short(board.width, machine.narrowest)
        || falls_short(board.thickness, machine.thinnest)
    {
        offers.push(Offer::Carrier);
    }
    offers
}

impl Offer {
    /// In words: one sentence without a full stop.
    pub fn words(&self, unit: LengthUnit) -> String {
        match self {
            Offer::CarveAsDrawn => "Carve it as drawn: this board takes it".to_owned(),
            Offer::Grow { factor } => {
                format!("Grow it: up to {} % of the drawing fits", percent_down(*factor))
            }
            Offer::Turn { factor, .. } => {
                format!("Turn it by a quarter: up to {} % of the drawing fits then", percent_down(*factor))
            }
            Offer::Shrink { factor } => {
                format!("Shrink it to {} % of the drawing", percent_down(*factor))
            }
            Offer::SkipAllowance { factor, step } => format!(
                "Skip the roller allowance: up to {} % of the drawing fits then, with lines about {} high near the ends",
                percent_down(*factor),
                unit.show_fine(*step)
            ),
            Offer::TakeBoard(needed) => format!("Take another board: {}", needed.words(unit)),
            Offer::Carrier => {
                "Carry the board on a sled: it is smaller than the machine takes by itself".to_owned()
            }
        }
    }
}

impl BoardNeeded {
    /// In words: `at least 19 in x 5 in x 1/4 in; the nearest dressed size is 1 x 6 (…)`.
    pub fn words(&self, unit: LengthUnit) -> String {
        let true_size = format!(
            "at least {} x {} x {}",
            unit.show(self.length),
            unit.show(self.width),
            unit.show(self.thickness)
        );
        let dressed = match &self.dressed {
            Some(size) => format!(
                "; the nearest dressed size is {} ({} x {})",
                size.name,
                unit.show(size.thickness),
                unit.show(size.width.unwrap_or_default())
            ),
            None => "; no dressed size is as large: glue one up".to_owned(),
        };
        let surfaced = self.surfaced.as_ref().map_or_else(String::new, |size| {
            format!("; in hardwood {} ({} when surfaced)", size.name, unit.show(size.thickness))
        });
        true_size + &dressed + &surfaced
    }
}

impl Fit {
    /// The outcome with the number that decides it: one sentence without a full stop.
    pub fn words(&self, unit: LengthUnit) -> String {
        let (room, side) = match self.decided_by {
            Side::Length => (self.room[0], "length"),
            Side::Width => (self.room[1], "width"),
        };
        let deciding = format!("its {side} decides, with {} free", unit.show(room));
        let largest = percent_down(self.largest_factor);
        match self.outcome {
            FitOutcome::Fits => format!("fits; the largest this board takes is {largest} %: {deciding}"),
            FitOutcome::Misplaced => {
                format!(
                    "does not fit where it is put; the largest this board takes is {largest} %: {deciding}"
                )
            }
            FitOutcome::FitsTurned => format!(
                "fits if turned by a quarter, up to {} %; as it lies the largest is {largest} %: {deciding}",
                percent_down(self.turned_factor)
            ),
            FitOutcome::Shrink => {
                format!("does not fit; the largest this board takes is {largest} %: {deciding}")
            }
            FitOutcome::NoRoom => "allowance and margins leave no room on this board".to_owned(),
        }
    }
}

/// The smallest board for this job at `factor`, and the nearest sizes it is sold in.
pub fn board_needed(job: &Job, factor: f64) -> BoardNeeded {
    let surround = Surround::of(job);
    let frame = job.frame_on_board() * factor;
    let length = Mm::new(frame.x) + surround.left + surround.right;
    let width = Mm::new(frame.y) + surround.side * 2.0;
    let thickness = super::floor_needs(job).max(job.machine().thinnest);
    BoardNeeded {
        length,
        width,
        thickness,
        dressed: dressed_size(width, thickness),
        surfaced: surfaced_size(thickness),
    }
}

/// Measure the board first: what to draw for it. Along the board, then across; 0 where there is no room.
pub fn draw_for(job: &Job) -> [Mm; 2] {
    let [low, high] = Surround::of(job).room(job);
    (high - low).max(DVec2::ZERO).to_array().map(Mm::new)
}

/// [`draw_for`] in words: one sentence without a full stop.
pub fn draw_for_words(job: &Job, unit: LengthUnit) -> String {
    let [along, across] = draw_for(job);
    if along == Mm::ZERO || across == Mm::ZERO {
        return "This board has no room between allowance and margins: nothing can be drawn for it"
            .to_owned();
    }
    let depth = job.board().thickness - FLOOR_LEFT;
    let deep =
        if depth > Mm::ZERO { format!(", and no deeper than {}", unit.show(depth)) } else { String::new() };
    format!(
        "For this board draw it up to {} along the grain and {} across{deep}",
        unit.show(along),
        unit.show(across)
    )
}

/// Whether the board would take this size if the roller allowance were skipped.
pub fn fits_ends_free(job: &Job, factor: f64) -> bool {
    let (free, _) = job.largest_for(job.frame_on_board(), Ends::Free);
    free > 0.0 && factor <= free * (1.0 + ROUNDING)
}

/// Whether a length is too short, by more than rounding.
pub fn falls_short(measured: Mm, needed: Mm) -> bool {
    measured.get() < needed.get() * (1.0 - ROUNDING)
}

/// A side on which a design has been put too near the board's end or edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overlap {
    /// Which.
    pub side: BoardSide,
    /// Board beyond the frame there; negative where it runs off the board.
    pub free: Mm,
    /// What is needed.
    pub needed: Mm,
}

/// A side of the board, as drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BoardSide {
    /// The left end.
    Left,
    /// The right end.
    Right,
    /// The reference edge.
    Lower,
    /// The far edge.
    Upper,
}

/// The sides on which a typed or dragged place leaves too little board. Empty for the other placements,
/// which keep their distance wherever the size allows it.
pub fn overlaps(job: &Job, factor: f64) -> Vec<Overlap> {
    if !matches!(job.at(), Placement::At { .. }) {
        return Vec::new();
    }
    let surround = Surround::of(job);
    let low = job.corner(factor);
    let board = dvec2(job.board().length.get(), job.board().width.get());
    let beyond = board - (low + job.frame_on_board() * factor);
    // A place read back from its own typed millimetres may be off by their last bits.
    let slack = ROUNDING * board.max_element();
    [
        (BoardSide::Left, low.x, surround.left),
        (BoardSide::Right, beyond.x, surround.right),
        (BoardSide::Lower, low.y, surround.side),
        (BoardSide::Upper, beyond.y, surround.side),
    ]
    .into_iter()
    .filter(|&(_, free, needed)| free < needed.get() - slack)
    .map(|(side, free, needed)| Overlap { side, free: Mm::new(free), needed })
    .collect()
}

/// Design space to board space at `factor`: board millimetres, origin at the corner where the left
/// end meets the reference (lower) edge, x along the board, y up.
pub fn board_from_design(job: &Job, factor: f64) -> DAffine2 {
    let frame = job.frame_box();
    let turn = DMat2::from_cols(job.turn().of(DVec2::X), job.turn().of(DVec2::Y));
    // Turning carries the frame off its corner; this is where its lowest and leftmost come to lie.
    let low = (turn * frame.size()).min(DVec2::ZERO);
    DAffine2::from_translation(job.corner(factor) - low * factor)
        * DAffine2::from_mat2(turn * factor)
        * DAffine2::from_translation(-frame.min)
}

/// The box on the board that is carved at `factor`: the frame and a relief's ground round it.
pub fn carved_box(job: &Job, factor: f64) -> Rect {
    let low = job.corner(factor);
    Rect::new(low, low + job.frame_on_board() * factor).grown(job.ground_reach().get())
}
