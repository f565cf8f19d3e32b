//! Does the design fit the board, how large may it be, and what board would take it.

use crate::geometry::Rect;
use crate::job::{Ends, Frame, Job, Placement, Size, Treatment, Turn};
use crate::shop::{BoardEnd, StockSize, dressed_size, surfaced_size};
use crate::units::Mm;
use glam::{DAffine2, DMat2, DVec2, dvec2};
use serde::{Deserialize, Serialize};

use super::FLOOR_LEFT;
use super::ends::SnipeStep;

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

/// A direction of the board.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// Along the grain.
    Length,
    /// Across it.
    Width,
}

/// What can be done next.
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

/// Board beyond the design's frame that a job needs on each side, whatever the size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surround {
    /// At the left end.
    pub left: Mm,
    /// At the right end.
    pub right: Mm,
    /// Along each long edge.
    pub side: Mm,
}

impl Surround {
    /// What this job needs round its design: the roller allowance where the ends are held, the
    /// side margin, and a relief's ground.
    pub fn of(job: &Job) -> Surround {
        Surround::with_ends(job, job.ends)
    }

    /// The same with the ends held or free.
    pub fn with_ends(job: &Job, ends: Ends) -> Surround {
        let ground = ground_margin(job);
        let end = |end| match ends {
            Ends::Held => job.machine.allowance(end) + ground,
            Ends::Free => ground,
        };
        Surround {
            left: end(BoardEnd::Left),
            right: end(BoardEnd::Right),
            side: job.side_margin.unwrap_or(job.machine.side_margin) + ground,
        }
    }

    /// The free board between: its lower left and upper right corner, millimetres. Inside out where
    /// there is none.
    pub fn room(&self, job: &Job) -> [DVec2; 2] {
        let board = &job.board;
        [
            dvec2(self.left.get(), self.side.get()),
            dvec2((board.length - self.right).get(), (board.width - self.side).get()),
        ]
    }
}

/// How far the ground reaches past the frame, on the board. None where nothing is carved in relief, or
/// where the page is the frame: the page is then the ground.
pub fn ground_margin(job: &Job) -> Mm {
    let has_ground = job.has(Treatment::Relief);
    match (has_ground, job.frame) {
        (true, Frame::Outline) => job.ground_margin.unwrap_or(job.cutter.shape.diameter()),
        (true, Frame::Page) | (false, _) => Mm::ZERO,
    }
}

/// What counts as the design's size, in design space.
pub fn frame_box(job: &Job) -> Rect {
    let outline = job.design.outline_box();
    match job.frame {
        Frame::Outline => outline,
        Frame::Page => job.design.page.unwrap_or(outline),
    }
}

/// The frame's size as drawn, turned as on the board: along the board, then across. Millimetres.
pub fn frame_on_board(job: &Job) -> DVec2 {
    turned(frame_box(job).size(), job.turn)
}

fn turned(size: DVec2, turn: Turn) -> DVec2 {
    if turn.swaps() { dvec2(size.y, size.x) } else { size }
}

/// The largest uniform factor that leaves the surround free: the smaller of the two rooms over the two
/// sides of the frame. 0 where there is no room.
pub fn largest_factor(job: &Job) -> f64 {
    largest(job, frame_on_board(job), job.ends).0
}

/// The largest factor for a frame of this size, and the side of the board that decides it.
fn largest(job: &Job, frame: DVec2, ends: Ends) -> (f64, Side) {
    let [low, high] = Surround::with_ends(job, ends).room(job);
    let shares = (high - low) / frame;
    if shares.x <= shares.y { (shares.x.max(0.0), Side::Length) } else { (shares.y.max(0.0), Side::Width) }
}

/// The factor a job's size comes to. A size asked to fit where nothing does is taken as drawn.
pub fn factor(job: &Job) -> f64 {
    let frame = frame_on_board(job);
    match job.size {
        Size::Factor(factor) => factor,
        Size::Length(length) => length.get() / frame.x,
        Size::Width(width) => width.get() / frame.y,
        Size::Fit => match largest_factor(job) {
            0.0 => 1.0,
            largest => largest,
        },
    }
}

/// Fits the design at `factor` to the board.
pub fn fit(job: &Job, factor: f64) -> Fit {
    let frame = frame_on_board(job);
    let (largest_factor, decided_by) = largest(job, frame, job.ends);
    let (turned_factor, _) = largest(job, dvec2(frame.y, frame.x), job.ends);
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
        offers.push(Offer::Turn { turn: job.turn.next(), factor: fit.turned_factor });
    }
    if !fits && fit.largest_factor > 0.0 && beyond(factor, fit.largest_factor) {
        offers.push(Offer::Shrink { factor: fit.largest_factor });
    }
    if !fits && job.ends == Ends::Held {
        let (free, _) = largest(job, frame_on_board(job), Ends::Free);
        if beyond(free, fit.largest_factor) {
            offers.push(Offer::SkipAllowance { factor: free, step: SnipeStep::of(job).height() });
        }
    }
    if !fits && fit.outcome != FitOutcome::Misplaced {
        offers.push(Offer::TakeBoard(needed));
    }
    let (board, machine) = (&job.board, &job.machine);
    if falls_short(board.length, machine.shortest)
        || falls_short(board.width, machine.narrowest)
        || falls_short(board.thickness, machine.thinnest)
    {
        offers.push(Offer::Carrier);
    }
    offers
}

/// The smallest board for this job at `factor`, and the nearest sizes it is sold in.
pub fn board_needed(job: &Job, factor: f64) -> BoardNeeded {
    let surround = Surround::of(job);
    let frame = frame_on_board(job) * factor;
    let length = Mm::new(frame.x) + surround.left + surround.right;
    let width = Mm::new(frame.y) + surround.side * 2.0;
    let thickness = floor_needs(job).max(job.machine.thinnest);
    BoardNeeded {
        length,
        width,
        thickness,
        dressed: dressed_size(width, thickness),
        surfaced: surfaced_size(thickness),
    }
}

/// How deep the deepest floor or V is; the job's depth where there is none.
pub(super) fn deepest_floor(job: &Job) -> Mm {
    job.deepest_floor().unwrap_or(job.depth)
}

/// The thickness a job needs for its floors: the deepest of them and the wood left under it; 0 where no floor
/// is left.
pub(super) fn floor_needs(job: &Job) -> Mm {
    job.deepest_floor().map_or(Mm::ZERO, |depth| depth + FLOOR_LEFT)
}

/// Measure the board first: what to draw for it. Along the board, then across; 0 where there is no room.
pub fn draw_for(job: &Job) -> [Mm; 2] {
    let [low, high] = Surround::of(job).room(job);
    (high - low).max(DVec2::ZERO).to_array().map(Mm::new)
}

/// Whether the board would take this size if the roller allowance were skipped.
pub fn fits_ends_free(job: &Job, factor: f64) -> bool {
    let (free, _) = largest(job, frame_on_board(job), Ends::Free);
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
    if !matches!(job.at, Placement::At { .. }) {
        return Vec::new();
    }
    let surround = Surround::of(job);
    let low = corner(job, factor);
    let board = dvec2(job.board.length.get(), job.board.width.get());
    let beyond = board - (low + frame_on_board(job) * factor);
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

/// The lower left corner of the frame on the board at `factor`, millimetres.
pub fn corner(job: &Job, factor: f64) -> DVec2 {
    let [low, high] = Surround::of(job).room(job);
    let frame = frame_on_board(job) * factor;
    let board = dvec2(job.board.length.get(), job.board.width.get());
    match job.at {
        // Rollers that stand unevenly move the middle of what is free; where they do not, that is the
        // middle of the board.
        Placement::Middle => {
            let free = (low + high - frame) * 0.5;
            let true_middle = (board - frame) * 0.5;
            let reaches = true_middle.cmpge(low) & (true_middle + frame).cmple(high);
            DVec2::select(reaches, true_middle, free)
        }
        Placement::LowerLeft => low,
        Placement::LowerRight => dvec2(high.x - frame.x, low.y),
        Placement::UpperLeft => dvec2(low.x, high.y - frame.y),
        Placement::UpperRight => high - frame,
        Placement::At { x, y } => dvec2(x.get(), y.get()),
    }
}

/// Design space to board space at `factor`: board millimetres, origin at the corner where the left
/// end meets the reference (lower) edge, x along the board, y up.
pub fn board_from_design(job: &Job, factor: f64) -> DAffine2 {
    let frame = frame_box(job);
    let turn = DMat2::from_cols(job.turn.of(DVec2::X), job.turn.of(DVec2::Y));
    // Turning carries the frame off its corner; this is where its lowest and leftmost come to lie.
    let low = (turn * frame.size()).min(DVec2::ZERO);
    DAffine2::from_translation(corner(job, factor) - low * factor)
        * DAffine2::from_mat2(turn * factor)
        * DAffine2::from_translation(-frame.min)
}

/// The box on the board that is carved at `factor`: the frame and a relief's ground round it.
pub fn carved_box(job: &Job, factor: f64) -> Rect {
    let low = corner(job, factor);
    Rect::new(low, low + frame_on_board(job) * factor).grown(ground_margin(job).get())
}
