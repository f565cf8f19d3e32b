//! Several pieces on one board: what is set for each, how many copies there are, and where they lie.
//!
//! One piece is in hand, and one of its copies: what a job says of its design, its size and its place is said of
//! that. The others lie beside it. A job of one piece with one copy has nothing of this.

use super::placing::Placing;
use super::rejected::{LONGEST, Quantity, check_length};
use super::{Carving, Job, Notes, Placement, Rejected, Size, Tooling, Turn};
use crate::design::lettering::Lettering;
use crate::design::{Design, ReadOptions};
use crate::units::Mm;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// The most copies on one board, of all pieces together. A round value of our own.
pub const MOST_COPIES: usize = 1000;
/// The most pieces, whatever their copies. A round value of our own.
pub const MOST_PIECES: usize = 200;
/// Wood left between two pieces to saw or break them apart: a saw's kerf and a little to go astray. A round value
/// of our own.
pub const SAWN_APART: Mm = Mm::new(5.0);

/// How far a piece may be turned from the way it is set, when all are arranged.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Turns {
    /// Not at all.
    #[default]
    None,
    /// By half, which keeps walls along or across the grain as they are.
    Half,
    /// By quarters, which takes walls that ran along the grain across it.
    Quarter,
}

impl Turns {
    /// Every one, the freer last.
    pub const ALL: [Turns; 3] = [Turns::None, Turns::Half, Turns::Quarter];

    /// The turns there may be of a piece that is set at `turn`, that one first.
    pub fn of(self, turn: Turn) -> Vec<Turn> {
        let quarters = match self {
            Turns::None => &[0][..],
            Turns::Half => &[0, 2],
            Turns::Quarter => &[0, 2, 1, 3],
        };
        quarters.iter().map(|&times| (0..times).fold(turn, |turn, _| turn.next())).collect()
    }
}

/// Where a copy lies.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lie {
    /// The lower left corner of its frame, along the board.
    pub x: Mm,
    /// The same across it.
    pub y: Mm,
    /// How far it is turned.
    pub turn: Turn,
}

/// How many copies of a piece there are, and where.
#[derive(Clone, Debug, PartialEq)]
pub struct Lot {
    /// How many there are to be.
    pub count: usize,
    /// How far it may be turned when all are arranged.
    pub turns: Turns,
    /// Whether the copy in hand is laid; the only copy of the only piece always is.
    pub is_laid: bool,
    /// Which of the laid copies is in hand.
    pub copy: usize,
    /// Where the others lie: no more than there are to be.
    pub others: Vec<Lie>,
}

impl Default for Lot {
    fn default() -> Lot {
        Lot { count: 1, turns: Turns::None, is_laid: true, copy: 0, others: Vec::new() }
    }
}

/// What is set for a piece that lies beside the one in hand.
#[derive(Clone, Debug)]
pub struct Piece {
    pub(super) design: Arc<Design>,
    pub(super) carvings: Vec<Carving>,
    pub(super) lettering: BTreeMap<String, Lettering>,
    pub(super) reading: ReadOptions,
    pub(super) tooling: Tooling,
    /// Ends and side margin are the board's, and stand at their usual values here.
    pub(super) placing: Placing,
    pub(super) accepted: BTreeSet<String>,
    pub(super) lot: Lot,
}

/// Two pieces are the same when their settings are, and they hold the very same design.
impl PartialEq for Piece {
    fn eq(&self, other: &Piece) -> bool {
        let Piece { design, carvings, lettering, reading, tooling, placing, accepted, lot } = other;
        Arc::ptr_eq(&self.design, design)
            && self.carvings == *carvings
            && self.lettering == *lettering
            && self.reading == *reading
            && self.tooling == *tooling
            && self.placing == *placing
            && self.accepted == *accepted
            && self.lot == *lot
    }
}

impl Piece {
    /// The piece that a job has in hand, with so many copies of it to be laid.
    pub fn of(job: &Job, count: usize, turns: Turns) -> Piece {
        let mut job = job.clone();
        job.pieces.lot = Lot { count, turns, is_laid: false, ..Lot::default() };
        job.fix_size();
        job.in_hand()
    }

    /// What it is called: after its design.
    pub fn name(&self) -> &str {
        &self.design.name
    }
}

/// The pieces of a job, beside what it says of the one in hand.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Pieces {
    /// From piece to piece; the largest cutter and [`SAWN_APART`] if `None`.
    pub(super) gap: Option<Mm>,
    /// Where the one in hand comes in the list.
    pub(super) place: usize,
    /// Its copies.
    pub(super) lot: Lot,
    /// The others, in the order of the list.
    pub(super) beside: Vec<Arc<Piece>>,
}

/// The pieces of a job, in the order of their list.
impl Job {
    /// How many pieces there are; at least 1.
    pub fn piece_count(&self) -> usize {
        self.pieces.beside.len() + 1
    }

    /// Whether there is more than one copy of one piece.
    pub fn is_batch(&self) -> bool {
        self.pieces != Pieces::default()
    }

    /// The place of the piece in hand in the list, and which of its laid copies is in hand.
    pub fn piece_in_hand(&self) -> (usize, usize) {
        (self.pieces.place, self.pieces.lot.copy)
    }

    /// How many copies of a piece there are to be, and how it may be turned; its copies are [`Job::lies`].
    pub fn lot(&self, piece: usize) -> &Lot {
        self.beside(piece).map_or(&self.pieces.lot, |piece| &piece.lot)
    }

    /// What a piece is called.
    pub fn piece_name(&self, piece: usize) -> &str {
        self.beside(piece).map_or(&self.design.name, |piece| piece.name())
    }

    /// How many copies there are to be, of all pieces.
    pub fn copies(&self) -> usize {
        (0..self.piece_count()).map(|piece| self.lot(piece).count).sum()
    }

    /// From piece to piece, as it is set; [`Job::gap`] is what is kept.
    pub fn set_gap(&self) -> Option<Mm> {
        self.pieces.gap
    }

    /// How far two pieces are kept apart: what is set, else the largest cutter of any piece, and [`SAWN_APART`].
    pub fn gap(&self) -> Mm {
        self.pieces.gap.unwrap_or_else(|| {
            let widest =
                |job: &Job| job.cutters().iter().map(|one| one.cutter.shape.diameter()).reduce(Mm::max);
            let pieces = (0..self.piece_count()).filter_map(|piece| widest(&self.piece(piece)));
            pieces.fold(Mm::ZERO, Mm::max) + SAWN_APART
        })
    }

    /// A job of one piece alone: the copy of it that is in hand, on the same board.
    ///
    /// # Panics
    ///
    /// Where there is no such piece.
    #[must_use]
    pub fn piece(&self, piece: usize) -> Job {
        let mut job = self.clone();
        job.pick(piece);
        job.pieces = Pieces::default();
        job
    }

    /// A job of one copy alone, where it lies.
    #[must_use]
    pub fn copy(&self, piece: usize, lie: Lie) -> Job {
        let mut job = self.piece(piece);
        job.lie(lie);
        job
    }

    /// Where the laid copies of a piece lie.
    pub fn lies(&self, piece: usize) -> Vec<Lie> {
        let lot = self.lot(piece);
        let mut lies = lot.others.clone();
        if lot.is_laid {
            let job = self.piece(piece);
            let corner = job.corner(job.factor());
            let lie = Lie { x: Mm::new(corner.x), y: Mm::new(corner.y), turn: job.turn() };
            lies.insert(lot.copy.min(lies.len()), lie);
        }
        lies
    }

    fn beside(&self, piece: usize) -> Option<&Arc<Piece>> {
        let place = self.pieces.place;
        match piece {
            _ if piece == place => None,
            _ => self.pieces.beside.get(if piece < place { piece } else { piece - 1 }),
        }
    }

    /// What is set for the piece in hand, to be laid beside another.
    pub(super) fn in_hand(&self) -> Piece {
        let usual = Placing::default();
        Piece {
            design: self.design.clone(),
            carvings: self.carvings.clone(),
            lettering: self.lettering.clone(),
            reading: self.reading,
            tooling: self.tooling.clone(),
            placing: Placing { ends: usual.ends, side_margin: usual.side_margin, ..self.placing },
            accepted: self.notes.accepted.clone(),
            lot: self.pieces.lot.clone(),
        }
    }

    /// Takes another piece of the list in hand.
    pub(super) fn pick(&mut self, piece: usize) {
        let place = self.pieces.place;
        if piece == place {
            return;
        }
        let mut list = std::mem::take(&mut self.pieces.beside);
        list.insert(place, Arc::new(self.in_hand()));
        let Piece { design, carvings, lettering, reading, tooling, placing, accepted, lot } =
            Arc::unwrap_or_clone(list.remove(piece));
        let Placing { ends, side_margin, .. } = self.placing;
        self.design = design;
        self.carvings = carvings;
        self.lettering = lettering;
        self.reading = reading;
        self.tooling = tooling;
        self.placing = Placing { ends, side_margin, ..placing };
        self.notes = Notes { accepted, remark: std::mem::take(&mut self.notes.remark) };
        self.pieces.place = piece;
        self.pieces.lot = lot;
        self.pieces.beside = list;
    }

    /// Takes a laid copy in hand.
    pub(super) fn take_in_hand(&mut self, piece: usize, copy: usize) -> Result<(), Rejected> {
        self.has_piece(piece)?;
        self.pick(piece);
        let mut lies = self.lies(piece);
        if copy < lies.len() && copy != self.pieces.lot.copy {
            let lie = lies.remove(copy);
            self.pieces.lot.others = lies;
            self.pieces.lot.copy = copy;
            self.lie(lie);
        }
        Ok(())
    }

    /// Lays the copy in hand.
    fn lie(&mut self, lie: Lie) {
        if self.placing.turn.swaps() != lie.turn.swaps() {
            // What ran along the board runs across it now.
            self.placing.size = match self.placing.size {
                Size::Length(length) => Size::Width(length),
                Size::Width(width) => Size::Length(width),
                size => size,
            };
        }
        self.placing.turn = lie.turn;
        self.placing.at = Placement::At { x: lie.x, y: lie.y };
        self.pieces.lot.is_laid = true;
    }

    pub(super) fn add_piece(&mut self, piece: Piece) -> Result<(), Rejected> {
        if self.piece_count() == MOST_PIECES {
            return Err(Rejected::TooManyOnBoard { copies: MOST_PIECES + 1, most: MOST_PIECES });
        }
        self.fix_size();
        // The one in hand may stand anywhere in the list, and keeps its place.
        self.pieces.beside.push(Arc::new(piece));
        Ok(())
    }

    pub(super) fn remove_piece(&mut self, piece: usize) -> Result<(), Rejected> {
        self.has_piece(piece)?;
        if self.piece_count() == 1 {
            return Err(Rejected::LastPiece);
        }
        let place = self.pieces.place;
        if piece == place {
            self.pick(if piece == 0 { 1 } else { piece - 1 });
        }
        let place = self.pieces.place;
        self.pieces.beside.remove(if piece < place { piece } else { piece - 1 });
        if piece < place {
            self.pieces.place -= 1;
        }
        self.settle();
        Ok(())
    }

    pub(super) fn change_lot(&mut self, piece: usize, change: impl FnOnce(&mut Lot)) -> Result<(), Rejected> {
        self.has_piece(piece)?;
        let in_hand = self.piece_in_hand();
        self.pick(piece);
        self.fix_size();
        change(&mut self.pieces.lot);
        let lot = &mut self.pieces.lot;
        // The last that were laid go first; the one in hand stays.
        let laid = usize::from(lot.is_laid);
        lot.others.truncate(lot.count.saturating_sub(laid));
        lot.copy = lot.copy.min(lot.others.len());
        self.pick(in_hand.0);
        self.settle();
        Ok(())
    }

    /// Lays every copy: in the order of the list, where the copies of each piece lie.
    pub(super) fn lay(&mut self, lies: &[Vec<Lie>]) -> Result<(), Rejected> {
        let (place, copy) = self.piece_in_hand();
        for (piece, lies) in lies.iter().enumerate() {
            self.has_piece(piece)?;
            self.pick(piece);
            self.fix_size();
            let lot = &mut self.pieces.lot;
            lot.count = lot.count.max(lies.len()).max(1);
            lot.copy = if piece == place { copy.min(lies.len().saturating_sub(1)) } else { 0 };
            lot.is_laid = false;
            lot.others.clear();
            if let Some(&lie) = lies.get(lot.copy) {
                lot.others.clone_from(lies);
                lot.others.remove(lot.copy);
                self.lie(lie);
            }
        }
        self.pick(place);
        self.settle();
        Ok(())
    }

    /// The only copy of the only piece is a job as there is without any others.
    fn settle(&mut self) {
        let lot = &mut self.pieces.lot;
        if self.pieces.beside.is_empty() && lot.count <= 1 {
            lot.is_laid = true;
            lot.others.clear();
            lot.copy = 0;
        }
    }

    /// As large as the board allows is said of one piece alone: of several each has its size.
    fn fix_size(&mut self) {
        if self.placing.size == Size::Fit {
            self.placing.size = Size::Factor(self.factor());
        }
    }

    fn has_piece(&self, piece: usize) -> Result<(), Rejected> {
        if piece < self.piece_count() { Ok(()) } else { Err(Rejected::NoSuchPiece) }
    }

    /// Every piece by itself, and all of them together.
    pub(super) fn check_pieces(&self) -> Result<(), Rejected> {
        if !self.is_batch() {
            return Ok(());
        }
        if let Some(gap) = self.pieces.gap {
            check_length(Quantity::Gap, gap, Mm::ZERO)?;
        }
        let lots = || (0..self.piece_count()).map(|piece| self.lot(piece));
        if lots().any(|lot| lot.count == 0) {
            return Err(Rejected::NoCopy);
        }
        let copies = lots().map(|lot| lot.count).fold(0, usize::saturating_add);
        if copies > MOST_COPIES {
            return Err(Rejected::TooManyOnBoard { copies, most: MOST_COPIES });
        }
        if self.piece_count() > MOST_PIECES {
            return Err(Rejected::TooManyOnBoard { copies: self.piece_count(), most: MOST_PIECES });
        }
        for lot in lots() {
            if lot.others.len() + usize::from(lot.is_laid) > lot.count || lot.copy > lot.others.len() {
                return Err(Rejected::NoSuchPiece);
            }
            for lie in &lot.others {
                check_length(Quantity::PlaceAlong, lie.x, -LONGEST)?;
                check_length(Quantity::PlaceAcross, lie.y, -LONGEST)?;
            }
        }
        (0..self.piece_count())
            .filter(|&piece| piece != self.pieces.place)
            .try_for_each(|piece| self.piece(piece).check())
    }
}
