//! Several pieces on one board: where each copy goes, and what comes of all of them.
//!
//! 1. [`Shape`]: the outline of a piece as it is carved, ground and all, at one turn, grown by half the gap.
//! 2. [`Shape::spots`]: where it may be on the bare board: clear of the ends, edges, blemishes and the sensing strip.
//! 3. [`arrange`]: the search. A piece goes where it touches what is laid already, as far to the left as it can; the
//!    order, the turns and the slant of "left" are tried out in a seeded search.
//! 4. [`too_near`]: every pair of copies measured by its true outline.
//! 5. [`batch()`]: each copy proofed where it lies; time, price, and the order of the cutters for the whole board.
//!
//! Where a piece touches others is exact: it is read off the no-fit regions of [`crate::geometry::nofit`] on a lattice
//! of nanometres, so that many equal rectangles come to as many rows and columns as a rule would count.
//!
//! What is looked for is first that all copies are laid, then that they take little of the board's length: what is
//! left is then one long offcut. Nothing is promised to be the best there is.
//!
//! Board space throughout: millimetres, x along the board from its left end, y across it from the reference edge.

mod batch;
mod check;
mod names;
mod questions;
mod search;
mod shape;
mod whole;

pub use batch::{Batch, CopyProof, CutterStep, PieceSums, batch, ideal_surface, passes};
pub use check::{LaidOutline, as_it_lies, laid_outlines, too_near};
pub use names::{NamesError, names_edit, names_in, usual_words};
pub use questions::{OnRack, OneMore, on_rack, one_more, shortest};
pub use search::{Effort, arrange, arrange_telling};
pub use shape::Shape;
pub use whole::whole;

use crate::job::{Edit, Lie};
use crate::units::Mm;
use thiserror::Error;

/// How many copies are to be laid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// As many of each piece as the job says.
    Counts,
    /// As many as go on: one of each piece by turns, until none fits.
    AsMany,
}

/// Where all copies go.
#[derive(Clone, Debug, PartialEq)]
pub struct Arrangement {
    /// Where the copies of each piece lie, in the order of the job's list.
    pub lies: Vec<Vec<Lie>>,
    /// How many copies of each piece found no place; 0 where as many as go on were asked for.
    pub left_over: Vec<usize>,
    /// The length of board that is taken, allowance and margins at both ends included.
    pub used: Mm,
    /// How many arrangements were tried.
    pub tries: usize,
}

impl Arrangement {
    /// How many copies are laid.
    pub fn count(&self) -> usize {
        self.lies.iter().map(Vec::len).sum()
    }

    /// The edit that lays them.
    pub fn edit(&self) -> Edit {
        Edit::Lay(self.lies.clone())
    }
}

/// Why nothing can be arranged.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Impossible {
    /// A piece is larger than the room on the board, however it may be turned.
    TooLarge {
        /// Its name.
        piece: String,
        /// How large it is: along the board, then across.
        size: [Mm; 2],
        /// The room there is, along and across.
        room: [Mm; 2],
    },
    /// A piece would fit on the board, but there is no place for it clear of the blemishes.
    NoPlace {
        /// Its name.
        piece: String,
    },
    /// The gap is longer than the board.
    WideGap {
        /// The gap.
        gap: Mm,
        /// The board's length.
        length: Mm,
    },
    /// It was called off.
    CalledOff,
}
