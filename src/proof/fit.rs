//! Does the design fit the board, how large may it be, and what board would take it.

use crate::geometry::Rect;
use crate::job::{Job, Placement, Side, Surround};
use crate::shop::{StockSize, dressed_size, surfaced_size};
use crate::units::Mm;
use glam::{DAffine2, DMat2, DVec2, dvec2};
use serde::{Deserialize, Serialize};

use super::FLOOR_LEFT;

/// Slack for comparing lengths that were worked out in two ways, as a share: far below what any
/// machine repeats, far above rounding.
const ROUNDING: f64 = 1e-9;

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
    let BoardNeeded { length: length_needed, width: width_needed, .. } = board_needed(job, factor);
    Fit { outcome, largest_factor, turned_factor, decided_by, room, length_needed, width_needed }
}

/// The smallest board for this job at `factor`, and the nearest sizes it is sold in.
pub fn board_needed(job: &Job, factor: f64) -> BoardNeeded {
    let surround = Surround::of(job);
    let frame = job.frame_on_board() * factor;
    let length = Mm::new(frame.x) + surround.left + surround.right;
    let width = Mm::new(frame.y) + surround.side * 2.0;
    let thickness = floor_needs(job).max(job.machine().thinnest);
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
    job.deepest_floor().unwrap_or(job.depth())
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
