//! What a person can ask of the board: where the design lies on it, what is marked on it, what was
//! measured of it, which machine and which board of the rack it is.

use crate::shop::{Blemish, Check, Machine, Planed, RackBoard};
use crate::units::Mm;
use std::path::PathBuf;

/// One thing to do with the board.
#[derive(Clone, Debug, PartialEq)]
pub enum BoardCommand {
    /// Turn the design by a quarter, about its middle.
    Turn,
    /// Look for a clear place at this size.
    FindPlace,
    /// Look for the largest size there is a clear place for.
    FindLargest,
    /// What a drag on the board does.
    UseTool(Tool),
    /// Move the design by so much along the board and across it.
    Nudge([Mm; 2]),
    /// Take hold of the design, to drag it.
    Grab,
    /// Put the lower left corner of its frame here while it is dragged.
    Drag([Mm; 2]),
    /// Let go of it.
    Drop,
    /// Put the lower left corner of its frame here.
    Place([Mm; 2]),
    /// Give the board these measures: along the grain, across it, thickness.
    TakeSize([Mm; 3]),
    /// Leave this much uncarved along each long edge; as the machine has it if `None`.
    SideMargin(Option<Mm>),
    /// Mark a blemish.
    Mark(Blemish),
    /// Change the blemish of this place in the list.
    EditBlemish(usize, Blemish),
    /// Take it off the list.
    Unmark(usize),
    /// Choose a blemish in the list.
    ChooseBlemish(Option<usize>),
    /// Enter what was measured; `None` for not measured.
    Measured(Check, Option<Mm>),
    /// Enter whether the faces are planed.
    Planed(Option<Planed>),
    /// Enter the moisture content, per cent.
    Moisture(Option<f64>),
    /// Show or hide how the design fits the board.
    ToggleFit,
    /// Show or hide the blemishes.
    ToggleBlemishes,
    /// Show or hide the bench list.
    ToggleBenchList,
    /// Show or hide the shop's machines.
    ToggleMachines,
    /// Show or hide how to measure a machine.
    ToggleMeasuring,
    /// Keep a machine in the shop's own list, in place of the one of its id.
    KeepMachine(Box<Machine>),
    /// Take the machine of this id out of the shop's own list.
    RemoveMachine(String),
    /// Ask where to write the drawing of a carrier.
    AskExportCarrier,
    /// Write it here.
    ExportCarrier(PathBuf),
    /// Show or hide the rack.
    ToggleRack,
    /// Keep a board on the rack, in place of the one at this place in the list.
    KeepOnRack(Option<usize>, Box<RackBoard>),
    /// Take the board at this place in the list off the rack.
    TakeOffRack(usize),
    /// Carve the design from the board of this row of the comparison.
    UseRackBoard(usize),
    /// Show or hide the list of pieces.
    TogglePieces,
    /// Find a place for every piece.
    Arrange,
    /// Answer a question about all pieces.
    AskOfPieces(PiecesQuestion),
    /// Ask for a list of names.
    AskNames,
    /// Read a list of names.
    OpenNames(PathBuf),
    /// Make the piece in hand one piece for each line of a list.
    MakeNames(String),
    /// Put the design of another open job, by its place on the shelf, on this board too.
    AddOpenJob(usize),
    /// Show or hide the board's photograph.
    TogglePhoto,
    /// Ask which photograph to open.
    AskPhoto,
    /// Open a photograph.
    OpenPhoto(PathBuf),
    /// Lay it under the design by its marked corners, in its pixels.
    LayPhoto([[f64; 2]; 4]),
    /// Show drawn wood again.
    LiftPhoto,
}

/// What a drag on the board does.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Tool {
    /// Moves the view.
    #[default]
    Look,
    /// Moves the design.
    Move,
    /// Marks a round blemish from its middle.
    Circle,
    /// Marks a rectangle from corner to corner.
    Rectangle,
    /// Marks a line from end to end.
    Line,
}

impl Tool {
    /// Those that mark a blemish.
    pub(crate) const MARKING: [Tool; 3] = [Tool::Circle, Tool::Rectangle, Tool::Line];
}

/// What is asked about all pieces of a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PiecesQuestion {
    /// The shortest board that takes them.
    Shortest,
    /// Which boards of the rack do.
    Rack,
}
