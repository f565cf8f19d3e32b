//! Does the design fit the board, how large may it be, and what board would take it.

use crate::geometry::Rect;
use crate::job::{Ends, Frame, Job, Placement, Size, Treatment};
use crate::units::Mm;
use glam::{DAffine2, DVec2};
use serde::{Deserialize, Serialize};

/// Slack for comparing lengths that were worked out in two ways, as a share: far below what any
/// machine repeats, far above rounding.
const ROUNDING: f64 = 1e-9;

/// How the design sits on the board.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// In a word.
    pub outcome: FitOutcome,
    /// The largest uniform factor the board takes; 0 where it takes none.
    pub largest_factor: f64,
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
    /// It would fit if it were made smaller.
    Shrink,
    /// No size fits: allowance and margins leave no room.
    NoRoom,
}

/// Board beyond the design's frame that a job needs on each side, whatever the size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surround {
    /// At each end.
    pub end: Mm,
    /// Along each long edge.
    pub side: Mm,
}

impl Surround {
    /// What this job needs round its design: the roller allowance where the ends are held, the
    /// machine's side margin, and a relief's ground.
    pub fn of(job: &Job) -> Surround {
        let ground = ground_margin(job);
        let end = match job.ends {
            Ends::Held => job.machine.roller_allowance + ground,
            Ends::Free => ground,
        };
        Surround { end, side: job.machine.side_margin + ground }
    }
}

/// How far the ground reaches past the frame, on the board. None where nothing is carved in relief, or
/// where the page is the frame: the page is then the ground.
pub fn ground_margin(job: &Job) -> Mm {
    let has_ground = job.treatments.contains(&Treatment::Relief);
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

/// The largest uniform factor that leaves the surround free: the smaller of the two rooms over the two
/// sides of the frame. 0 where there is no room.
pub fn largest_factor(job: &Job) -> f64 {
    let surround = Surround::of(job);
    let frame = frame_box(job).size();
    let along = (job.board.length - surround.end * 2.0).get();
    let across = (job.board.width - surround.side * 2.0).get();
    (along / frame.x).min(across / frame.y).max(0.0)
}

/// The factor a job's size comes to. A size asked to fit where nothing does is taken as drawn.
pub fn factor(job: &Job) -> f64 {
    let frame = frame_box(job).size();
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
    let surround = Surround::of(job);
    let frame = frame_box(job).size();
    let largest_factor = largest_factor(job);
    Fit {
        outcome: if largest_factor <= 0.0 {
            FitOutcome::NoRoom
        } else if factor <= largest_factor * (1.0 + ROUNDING) {
            FitOutcome::Fits
        } else {
            FitOutcome::Shrink
        },
        largest_factor,
        length_needed: Mm::new(frame.x * factor) + surround.end * 2.0,
        width_needed: Mm::new(frame.y * factor) + surround.side * 2.0,
    }
}

/// Whether the board would take this size if the roller allowance were skipped.
pub fn fits_ends_free(job: &Job, factor: f64) -> bool {
    fit(&Job { ends: Ends::Free, ..job.clone() }, factor).outcome == FitOutcome::Fits
}

/// Whether a length is too short, by more than rounding.
pub fn falls_short(measured: Mm, needed: Mm) -> bool {
    measured.get() < needed.get() * (1.0 - ROUNDING)
}

/// Design space to board space at `factor`: board millimetres, origin at the corner where the leading
/// (left) end meets the reference (lower) edge, x along the board, y up.
pub fn board_from_design(job: &Job, factor: f64) -> DAffine2 {
    let frame = frame_box(job);
    let surround = Surround::of(job);
    let board = DVec2::new(job.board.length.get(), job.board.width.get());
    let corner = match job.at {
        Placement::Middle => (board - frame.size() * factor) * 0.5,
        Placement::Corner => DVec2::new(surround.end.get(), surround.side.get()),
    };
    DAffine2::from_translation(corner)
        * DAffine2::from_scale(DVec2::splat(factor))
        * DAffine2::from_translation(-frame.min)
}
