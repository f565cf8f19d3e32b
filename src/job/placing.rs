//! Where the design lies on the board, and how large: what follows from a job's settings alone.

use super::{Ends, Frame, Job, Placement, Size, Treatment, Turn};
use crate::geometry::Rect;
use crate::shop::BoardEnd;
use crate::units::Mm;
use glam::{DVec2, dvec2};
use serde::{Deserialize, Serialize};

/// What is set about where the design lies, and how large it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Placing {
    pub(super) size: Size,
    pub(super) frame: Frame,
    pub(super) turn: Turn,
    pub(super) at: Placement,
    pub(super) ends: Ends,
    pub(super) side_margin: Option<Mm>,
    pub(super) ground_margin: Option<Mm>,
}

impl Default for Placing {
    fn default() -> Placing {
        Placing {
            size: Size::Factor(1.0),
            frame: Frame::default(),
            turn: Turn::default(),
            at: Placement::default(),
            ends: Ends::default(),
            side_margin: None,
            ground_margin: None,
        }
    }
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
        Surround::with_ends(job, job.ends())
    }

    /// The same with the ends held or free.
    pub fn with_ends(job: &Job, ends: Ends) -> Surround {
        let ground = job.ground_reach();
        let end = |end| match ends {
            Ends::Held => job.machine().allowance(end) + ground,
            Ends::Free => ground,
        };
        Surround {
            left: end(BoardEnd::Left),
            right: end(BoardEnd::Right),
            side: job.side_margin().unwrap_or(job.machine().side_margin) + ground,
        }
    }

    /// The free board between: its lower left and upper right corner, millimetres. Inside out where
    /// there is none.
    pub fn room(&self, job: &Job) -> [DVec2; 2] {
        let board = job.board();
        [
            dvec2(self.left.get(), self.side.get()),
            dvec2((board.length - self.right).get(), (board.width - self.side).get()),
        ]
    }
}

/// Where the design lies, and how large. Each costs a look at the outlines' box: `O(n)` in edges.
impl Job {
    /// How far the ground reaches past the frame, on the board. Nothing where nothing is carved in relief, or
    /// where the page is the frame: the page is then the ground.
    pub fn ground_reach(&self) -> Mm {
        match (self.has(Treatment::Relief), self.frame()) {
            (true, Frame::Outline) => self.ground_margin().unwrap_or(self.cutter().shape.diameter()),
            (true, Frame::Page) | (false, _) => Mm::ZERO,
        }
    }

    /// What counts as the design's size, in design space.
    pub fn frame_box(&self) -> Rect {
        let outline = self.design().outline_box();
        match self.frame() {
            Frame::Outline => outline,
            Frame::Page => self.design().page.unwrap_or(outline),
        }
    }

    /// The frame's size as drawn, turned as on the board: along the board, then across. Millimetres.
    pub fn frame_on_board(&self) -> DVec2 {
        let size = self.frame_box().size();
        if self.turn().swaps() { dvec2(size.y, size.x) } else { size }
    }

    /// The largest uniform factor that leaves the surround free: the smaller of the two rooms over the two
    /// sides of the frame. 0 where there is no room.
    pub fn largest_factor(&self) -> f64 {
        self.largest_for(self.frame_on_board(), self.ends()).0
    }

    /// The largest factor for a frame of this size with the ends held or free, and the side of the board that
    /// decides it.
    pub fn largest_for(&self, frame: DVec2, ends: Ends) -> (f64, Side) {
        let [low, high] = Surround::with_ends(self, ends).room(self);
        let shares = (high - low) / frame;
        if shares.x <= shares.y {
            (shares.x.max(0.0), Side::Length)
        } else {
            (shares.y.max(0.0), Side::Width)
        }
    }

    /// The factor the job's size comes to. A size asked to fit where nothing does is taken as drawn.
    pub fn factor(&self) -> f64 {
        let frame = self.frame_on_board();
        match self.size() {
            Size::Factor(factor) => factor,
            Size::Length(length) => length.get() / frame.x,
            Size::Width(width) => width.get() / frame.y,
            Size::Fit => match self.largest_factor() {
                0.0 => 1.0,
                largest => largest,
            },
        }
    }

    /// The lower left corner of the frame on the board at `factor`, millimetres.
    pub fn corner(&self, factor: f64) -> DVec2 {
        self.corner_at(self.at(), factor)
    }

    /// The same for another place.
    pub fn corner_at(&self, place: Placement, factor: f64) -> DVec2 {
        let [low, high] = Surround::of(self).room(self);
        let frame = self.frame_on_board() * factor;
        let board = dvec2(self.board().length.get(), self.board().width.get());
        match place {
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

    /// Turns the design by a quarter about its middle, at the size it has.
    pub(super) fn turn_by_quarter(&mut self) {
        let factor = self.factor();
        let (low, frame) = (self.corner(factor), self.frame_on_board() * factor);
        let placing = &mut self.placing;
        placing.turn = placing.turn.next();
        // What ran along the board runs across it now.
        placing.size = match placing.size {
            Size::Length(length) => Size::Width(length),
            Size::Width(width) => Size::Length(width),
            size => size,
        };
        if matches!(placing.at, Placement::At { .. }) {
            let turned = dvec2(frame.y, frame.x);
            let [x, y] = (low + (frame - turned) * 0.5).to_array().map(Mm::new);
            placing.at = Placement::At { x, y };
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::samples::samples;
    use crate::job::Edit;
    use crate::job::sample::sample_job;

    #[test]
    fn four_turns_are_none() {
        for size in [Size::Length(Mm::new(300.0)), Size::Width(Mm::new(90.0)), Size::Factor(0.7)] {
            let at = Placement::At { x: Mm::new(120.0), y: Mm::new(30.0) };
            let before =
                sample_job(&samples()[0]).unwrap().with([Edit::Size(size), Edit::Place(at)]).unwrap();
            let middle = |job: &Job| {
                let factor = job.factor();
                job.corner(factor) + job.frame_on_board() * factor * 0.5
            };
            let mut job = before.clone();
            for _ in 0..4 {
                let (was, factor) = (middle(&job), job.factor());
                job.apply(Edit::TurnByQuarter).unwrap();
                assert!((middle(&job) - was).length() < 1e-9, "the middle moved");
                assert!((job.factor() - factor).abs() < 1e-12, "the size changed");
            }
            let Placement::At { x, y } = job.at() else { panic!("{:?}", job.at()) };
            assert!((x.get() - 120.0).abs() < 1e-9 && (y.get() - 30.0).abs() < 1e-9, "{x} {y}");
            assert_eq!((job.turn(), job.size()), (before.turn(), before.size()));
        }
    }
}
