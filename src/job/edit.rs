//! Every way a job changes. There is no other: a job's fields are written in this folder alone.

use super::change::{Change, Reach};
use super::redesign::Redesign;
use super::rejected::{Rejected, check_blemish};
use super::{Clearing, Ends, Frame, Job, Lie, Piece, Placement, Size, Treatment, Trust, Turn, Turns};
use crate::design::{Design, DrawingUnit, ReadOptions};
use crate::shop::{Blemish, Board, BoardPhoto, Check, Cutter, Machine, Planed, ReferenceWall, Sawn, Wood};
use crate::units::Mm;
use std::collections::BTreeSet;
use std::sync::Arc;

/// One change of a job. Elements are told by their places in the design.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// How every element is carved. Depths and cutters of their own stay.
    TreatAll(Treatment),
    /// How some elements are carved.
    Treat {
        /// Which.
        elements: Vec<usize>,
        /// How.
        treatment: Treatment,
    },
    /// How deep some elements are carved; as deep as the job says if `None`.
    OwnDepth {
        /// Which.
        elements: Vec<usize>,
        /// How deep.
        depth: Option<Mm>,
    },
    /// What some elements are cut with; the job's cutter if `None`.
    OwnCutter {
        /// Which.
        elements: Vec<usize>,
        /// The cutter.
        cutter: Option<Box<Cutter>>,
    },
    /// The board's length.
    BoardLength(Mm),
    /// The board's width.
    BoardWidth(Mm),
    /// The board's thickness.
    BoardThickness(Mm),
    /// How the board is sawn.
    Sawn(Sawn),
    /// The board's length, width and thickness.
    BoardSize([Mm; 3]),
    /// Another board, with all that is known of it.
    Board(Box<Board>),
    /// What the board is made of.
    Wood(Box<Wood>),
    /// A blemish more.
    AddBlemish(Blemish),
    /// Another blemish in place of the one at this place in the list.
    ChangeBlemish(usize, Blemish),
    /// The blemish at this place in the list less.
    RemoveBlemish(usize),
    /// A line of the bench list that is a length; `None` for not measured.
    Measured(Check, Option<Mm>),
    /// Whether the faces are planed.
    Planed(Option<Planed>),
    /// The moisture content, per cent.
    Moisture(Option<f64>),
    /// The photograph that lies under the design.
    Photo(Option<BoardPhoto>),
    /// The cutter.
    Cutter(Box<Cutter>),
    /// The thinnest wall that survives the cutter, as the shop found it.
    Limit(Box<ReferenceWall>),
    /// How deep.
    Depth(Mm),
    /// How places are cleared.
    Clearing(Box<Clearing>),
    /// From which chance on a wall is called sound.
    Trust(Trust),
    /// The machine.
    Machine(Box<Machine>),
    /// How many times as long as worked out the machine takes.
    TimeFactor(f64),
    /// Held or free.
    Ends(Ends),
    /// How large.
    Size(Size),
    /// What counts as the size.
    Frame(Frame),
    /// How far the design is turned.
    Turn(Turn),
    /// A quarter turn more about the design's middle, at the size it has.
    TurnByQuarter,
    /// Where on the board.
    Place(Placement),
    /// So much further along the board and across it.
    Nudge([Mm; 2]),
    /// Board left uncarved along each long edge; the machine's side margin if `None`.
    SideMargin(Option<Mm>),
    /// How far a relief's ground reaches past the outlines; one cutter diameter if `None`.
    GroundMargin(Option<Mm>),
    /// Whether a finding is carved all the same.
    Accept {
        /// Its id.
        finding: String,
        /// Whether.
        accepted: bool,
    },
    /// Only these findings stay accepted; the others are found no more.
    KeepAccepted(BTreeSet<String>),
    /// The remark for the bench.
    Remark(String),
    /// What one unit of the drawing is, where its file does not say; the design was read so already.
    DrawingUnit(DrawingUnit),
    /// Something is done to the elements of the design.
    Redesign(Box<Redesign>),
    /// Another design takes the place of the one there is: elements that share a name keep how they are
    /// carved, others take the first element's treatment. What was accepted is looked at anew.
    Redraw {
        /// The design.
        design: Arc<Design>,
        /// How its file was read.
        reading: ReadOptions,
        /// Why.
        why: Redraw,
    },
    /// Another piece on the same board, at the end of the list.
    AddPiece(Box<Piece>),
    /// A piece of the list less, with all its copies. The last one stays.
    RemovePiece(usize),
    /// Another piece, or copy of it, becomes the one that all else is about; the first of the laid copies where there
    /// are not so many.
    TakeInHand {
        /// Its place in the list.
        piece: usize,
        /// Which of its laid copies.
        copy: usize,
    },
    /// How many copies of a piece there are to be; of those that are laid the last go first.
    Count {
        /// Its place in the list.
        piece: usize,
        /// How many.
        count: usize,
    },
    /// How far a piece may be turned when all are arranged.
    Turns {
        /// Its place in the list.
        piece: usize,
        /// How far.
        turns: Turns,
    },
    /// From piece to piece; the largest cutter and the strip to saw them apart if `None`.
    Gap(Option<Mm>),
    /// Where every copy lies: those of each piece, in the order of the list. Pieces that the list goes on with stay
    /// where they are.
    Lay(Vec<Vec<Lie>>),
    /// Several edits as one, all or none, under one name.
    Several(EditKind, Vec<Edit>),
}

/// Why another design takes the place of the one there is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Redraw {
    /// Somebody chose another.
    Chosen,
    /// Its file changed.
    FileChanged,
    /// Somebody said what its unit is.
    Unit,
    /// Outlines that do not close are carved as lines.
    OpenOutlines,
    /// It was mended.
    Mended,
    /// Its picture was traced again.
    Traced,
}

/// What sort of edit: the name of a step that can be taken back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "each is named after its edit")]
pub enum EditKind {
    Opened,
    Treatment,
    OwnDepth,
    OwnCutter,
    BoardLength,
    BoardWidth,
    BoardThickness,
    Sawn,
    Board,
    RackBoard,
    Wood,
    Blemish,
    BenchList,
    Photo,
    Cutter,
    Limit,
    Depth,
    Clearing,
    Trust,
    Machine,
    TimeFactor,
    Ends,
    Size,
    Frame,
    Turn,
    Place,
    FoundPlace,
    SideMargin,
    GroundMargin,
    Accepted,
    Remark,
    DrawingSize,
    Drawing,
    OpenOutlines,
    Mending,
    Tracing,
    Rename,
    Combine,
    /// Elements in pieces.
    Split,
    Remove,
    Mirror,
    CutOut,
    Move,
    /// Elements larger or smaller.
    Resize,
    /// Outlines moved outwards or inwards.
    Grow,
    Repeat,
    Ground,
    Border,
    /// Fine details smoothed away.
    Smooth,
    Clean,
    Lettering,
    Options,
    Advice,
    AddPiece,
    RemovePiece,
    TakeInHand,
    Count,
    Turns,
    Gap,
    Arrangement,
    Names,
}

impl Edit {
    /// What sort of edit it is.
    pub fn kind(&self) -> EditKind {
        match self {
            Edit::TreatAll(_) | Edit::Treat { .. } => EditKind::Treatment,
            Edit::OwnDepth { .. } => EditKind::OwnDepth,
            Edit::OwnCutter { .. } => EditKind::OwnCutter,
            Edit::BoardLength(_) => EditKind::BoardLength,
            Edit::BoardWidth(_) => EditKind::BoardWidth,
            Edit::BoardThickness(_) => EditKind::BoardThickness,
            Edit::Sawn(_) => EditKind::Sawn,
            Edit::BoardSize(_) | Edit::Board(_) => EditKind::Board,
            Edit::Wood(_) => EditKind::Wood,
            Edit::AddBlemish(_) | Edit::ChangeBlemish(..) | Edit::RemoveBlemish(_) => EditKind::Blemish,
            Edit::Measured(..) | Edit::Planed(_) | Edit::Moisture(_) => EditKind::BenchList,
            Edit::Photo(_) => EditKind::Photo,
            Edit::Cutter(_) => EditKind::Cutter,
            Edit::Limit(_) => EditKind::Limit,
            Edit::Depth(_) => EditKind::Depth,
            Edit::Clearing(_) => EditKind::Clearing,
            Edit::Trust(_) => EditKind::Trust,
            Edit::Machine(_) => EditKind::Machine,
            Edit::TimeFactor(_) => EditKind::TimeFactor,
            Edit::Ends(_) => EditKind::Ends,
            Edit::Size(_) => EditKind::Size,
            Edit::Frame(_) => EditKind::Frame,
            Edit::Turn(_) | Edit::TurnByQuarter => EditKind::Turn,
            Edit::Place(_) | Edit::Nudge(_) => EditKind::Place,
            Edit::SideMargin(_) => EditKind::SideMargin,
            Edit::GroundMargin(_) => EditKind::GroundMargin,
            Edit::Accept { .. } | Edit::KeepAccepted(_) => EditKind::Accepted,
            Edit::Remark(_) => EditKind::Remark,
            Edit::DrawingUnit(_) => EditKind::DrawingSize,
            Edit::Redesign(redesign) => redesign.kind(),
            Edit::Redraw { why, .. } => match why {
                Redraw::Chosen | Redraw::FileChanged => EditKind::Drawing,
                Redraw::Unit => EditKind::DrawingSize,
                Redraw::OpenOutlines => EditKind::OpenOutlines,
                Redraw::Mended => EditKind::Mending,
                Redraw::Traced => EditKind::Tracing,
            },
            Edit::AddPiece(_) => EditKind::AddPiece,
            Edit::RemovePiece(_) => EditKind::RemovePiece,
            Edit::TakeInHand { .. } => EditKind::TakeInHand,
            Edit::Count { .. } => EditKind::Count,
            Edit::Turns { .. } => EditKind::Turns,
            Edit::Gap(_) => EditKind::Gap,
            Edit::Lay(_) => EditKind::Arrangement,
            Edit::Several(kind, _) => *kind,
        }
    }
}

/// The only way a job changes.
impl Job {
    /// Changes the job, and says what is to be worked out anew.
    ///
    /// An edit of the design's elements takes as long as its geometry does: up to seconds for a large
    /// drawing. The others take microseconds.
    ///
    /// # Errors
    ///
    /// Where the edit cannot be made, or would leave a setting that cannot be proofed. The job is then what
    /// it was, to the bit.
    pub fn apply(&mut self, edit: Edit) -> Result<Change, Rejected> {
        let mut after = self.clone();
        let elements = after.make(edit)?;
        after.check()?;
        let reach = Reach::between(self, &after);
        *self = after;
        Ok(Change { reach, elements })
    }

    /// The job with edits applied one after the other.
    ///
    /// # Errors
    ///
    /// The first edit that [`Job::apply`] rejects.
    pub fn with(&self, edits: impl IntoIterator<Item = Edit>) -> Result<Job, Rejected> {
        let mut job = self.clone();
        for edit in edits {
            job.apply(edit)?;
        }
        Ok(job)
    }

    /// Makes an edit without looking at what comes of it; where it fails the job may be half changed.
    fn make(&mut self, edit: Edit) -> Result<Option<super::ElementsChange>, Rejected> {
        let board = &mut self.board;
        match edit {
            Edit::TreatAll(treatment) => {
                self.carvings.iter_mut().for_each(|carving| carving.treatment = treatment);
            }
            Edit::Treat { elements, treatment } => {
                self.carve(&elements, |carving| carving.treatment = treatment)?;
            }
            Edit::OwnDepth { elements, depth } => self.carve(&elements, |carving| carving.depth = depth)?,
            Edit::OwnCutter { elements, cutter } => {
                self.carve(&elements, |carving| carving.cutter = cutter.as_deref().cloned())?;
            }
            Edit::BoardLength(length) => board.length = length,
            Edit::BoardWidth(width) => board.width = width,
            Edit::BoardThickness(thickness) => board.thickness = thickness,
            Edit::Sawn(sawn) => board.sawn = sawn,
            Edit::BoardSize(size) => [board.length, board.width, board.thickness] = size,
            Edit::Board(other) => *board = *other,
            Edit::Wood(wood) => self.wood = *wood,
            Edit::AddBlemish(blemish) => board.blemishes.push(on_board(blemish, board)?),
            Edit::ChangeBlemish(index, blemish) => {
                let blemish = on_board(blemish, board)?;
                *board.blemishes.get_mut(index).ok_or(Rejected::NoSuchBlemish)? = blemish;
            }
            Edit::RemoveBlemish(index) => {
                board.blemishes.get(index).ok_or(Rejected::NoSuchBlemish)?;
                board.blemishes.remove(index);
            }
            Edit::Measured(check, length) => {
                *board.stock.length_mut(check).ok_or(Rejected::NoLength { check })? = length;
            }
            Edit::Planed(planed) => board.stock.planed = planed,
            Edit::Moisture(moisture) => board.stock.moisture = moisture,
            Edit::Photo(photo) => board.photo = photo,
            Edit::Cutter(cutter) => self.tooling.cutter = *cutter,
            Edit::Limit(reference) => {
                self.tooling.cutter.reference = *reference;
                // What the record came to was said of the old reference wall.
                self.tooling.cutter.experience = None;
            }
            Edit::Depth(depth) => self.tooling.depth = depth,
            Edit::Clearing(clearing) => self.tooling.clearing = *clearing,
            Edit::Trust(trust) => self.tooling.trust = trust,
            Edit::Machine(machine) => self.machine = *machine,
            Edit::TimeFactor(factor) => self.machine.time_factor = factor,
            Edit::Ends(ends) => self.placing.ends = ends,
            Edit::Size(size) => self.placing.size = size,
            Edit::Frame(frame) => self.placing.frame = frame,
            Edit::Turn(turn) => self.placing.turn = turn,
            Edit::TurnByQuarter => self.turn_by_quarter(),
            Edit::Place(at) => self.placing.at = at,
            Edit::Nudge([along, across]) => {
                let at = self.corner(self.factor());
                self.placing.at = Placement::At { x: Mm::new(at.x) + along, y: Mm::new(at.y) + across };
            }
            Edit::SideMargin(margin) => self.placing.side_margin = margin,
            Edit::GroundMargin(margin) => self.placing.ground_margin = margin,
            Edit::Accept { finding, accepted: true } => {
                self.notes.accepted.insert(finding);
            }
            Edit::Accept { finding, accepted: false } => {
                self.notes.accepted.remove(&finding);
            }
            Edit::KeepAccepted(found) => self.notes.accepted.retain(|id| found.contains(id)),
            Edit::Remark(remark) => self.notes.remark = remark,
            Edit::DrawingUnit(unit) => self.reading.unit = Some(unit),
            Edit::Redesign(redesign) => return self.redesign(*redesign).map(Some),
            Edit::Redraw { design, reading, .. } => {
                self.redraw(design);
                self.reading = reading;
            }
            Edit::AddPiece(piece) => self.add_piece(*piece)?,
            Edit::RemovePiece(piece) => self.remove_piece(piece)?,
            Edit::TakeInHand { piece, copy } => self.take_in_hand(piece, copy)?,
            Edit::Count { piece, count } => self.change_lot(piece, |lot| lot.count = count)?,
            Edit::Turns { piece, turns } => self.change_lot(piece, |lot| lot.turns = turns)?,
            Edit::Gap(gap) => self.pieces.gap = gap,
            Edit::Lay(lies) => self.lay(&lies)?,
            Edit::Several(_, edits) => {
                let mut elements = None;
                for edit in edits {
                    elements = self.make(edit)?.or(elements);
                }
                return Ok(elements);
            }
        }
        Ok(None)
    }

    fn carve(&mut self, elements: &[usize], change: impl Fn(&mut super::Carving)) -> Result<(), Rejected> {
        for &element in elements {
            change(self.carvings.get_mut(element).ok_or(Rejected::NoSuchElement)?);
        }
        Ok(())
    }

    /// Elements that share a name keep how they are carved, others take the first element's treatment. What
    /// was accepted of the other design is looked at anew.
    pub(super) fn redraw(&mut self, design: Arc<Design>) {
        let usual = self.treatments().next().unwrap_or_default();
        let carving_of = |name: &str| {
            let known = self.design.elements.iter().position(|element| element.name == name);
            known.map_or_else(|| usual.into(), |index| self.carvings[index].clone())
        };
        self.carvings = design.elements.iter().map(|element| carving_of(&element.name)).collect();
        self.lettering.retain(|name, _| design.elements.iter().any(|element| element.name == *name));
        self.notes.accepted.clear();
        self.design = design;
    }
}

/// Refuses a blemish that reaches the board nowhere, nor does the room kept round it: nothing would keep clear
/// of it.
fn on_board(blemish: Blemish, board: &Board) -> Result<Blemish, Rejected> {
    check_blemish(&blemish)?;
    let beyond = blemish.distance_to_box(board.area());
    if beyond > blemish.clearance.get() {
        return Err(Rejected::BlemishOffBoard { beyond: Mm::new(beyond) });
    }
    Ok(blemish)
}
