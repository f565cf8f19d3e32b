//! What a person can ask of the board: where the design lies on it, what is marked on it, what was
//! measured of it, which machine and which board of the rack it is.

use crate::shop::{Blemish, Check, Machine, Planed, RackBoard};
use crate::units::Mm;
use egui::{Key, KeyboardShortcut, Modifiers};
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

    /// Its name.
    pub fn label(self) -> &'static str {
        match self {
            Tool::Look => "Look",
            Tool::Move => "Move design",
            Tool::Circle => "Circle",
            Tool::Rectangle => "Rectangle",
            Tool::Line => "Line",
        }
    }

    /// How it is used.
    pub(crate) fn hint(self) -> &'static str {
        match self {
            Tool::Look => "Drag to move the view",
            Tool::Move => {
                "Drag the design to its place; it snaps to the middle and to the margins, with Shift it does not. The arrow keys nudge it"
            }
            Tool::Circle => "Drag from the middle of the place outwards",
            Tool::Rectangle => "Drag from corner to corner",
            Tool::Line => "Drag along the split",
        }
    }
}

impl BoardCommand {
    /// The words on its menu entry or button.
    pub fn label(&self) -> &'static str {
        use BoardCommand as B;
        match self {
            B::Turn => "Turn",
            B::FindPlace => "Find a place at this size",
            B::FindLargest => "Find the largest place",
            B::UseTool(tool) => tool.label(),
            B::Nudge(_) | B::Grab | B::Drag(_) | B::Drop | B::Place(_) => "Move design",
            B::TakeSize(_) => "Take such a board",
            B::SideMargin(_) => "Side margin",
            B::Mark(_) | B::EditBlemish(..) | B::ChooseBlemish(_) => "Mark blemish",
            B::Unmark(_) => "Remove blemish",
            B::Measured(..) | B::Planed(_) | B::Moisture(_) => "Enter measurement",
            B::ToggleFit => "Fit…",
            B::ToggleBlemishes => "Blemishes…",
            B::ToggleBenchList => "Bench list…",
            B::ToggleMachines => "Machines…",
            B::ToggleMeasuring => "How to measure…",
            B::KeepMachine(_) => "Keep machine",
            B::RemoveMachine(_) => "Remove machine",
            B::AskExportCarrier | B::ExportCarrier(_) => "Export carrier drawing…",
            B::ToggleRack => "Rack…",
            B::KeepOnRack(..) => "Keep board",
            B::TakeOffRack(_) => "Take off the rack",
            B::UseRackBoard(_) => "Use this board",
            B::TogglePhoto => "Photograph…",
            B::AskPhoto | B::OpenPhoto(_) => "Open photograph…",
            B::LayPhoto(_) => "Lay it under the design",
            B::LiftPhoto => "Show drawn wood",
        }
    }

    /// A sentence more, for a hover; empty where the label says it all.
    pub fn tooltip(&self) -> &'static str {
        use BoardCommand as B;
        match self {
            B::Turn => "Turn the design by a quarter, counter-clockwise",
            B::FindPlace => {
                "A place for the size it has, its whole carved box clear of blemishes, snipe zones and edges"
            }
            B::FindLargest => {
                "The largest size with a place, its whole carved box clear of blemishes, snipe zones and edges"
            }
            B::UseTool(tool) => tool.hint(),
            B::ToggleFit => "What this board takes, what board this size needs, and what can be done",
            B::ToggleBlemishes => "Mark knots, splits and holes, so that the carving keeps clear of them",
            B::ToggleBenchList => "Enter what a straightedge, a square and feeler gauges say of this board",
            B::ToggleMachines => "Look at machines, and keep your own",
            B::ToggleMeasuring => "How to find each value on your own machine with a rule",
            B::AskExportCarrier => "Base, rails, stops and pocket at true size, as an SVG drawing",
            B::ToggleRack => "The boards of your shop, and which of them takes this design",
            B::TogglePhoto => "Lay a photograph of the real board under the design",
            _ => "",
        }
    }

    /// The keys for it.
    pub fn shortcut(&self) -> Option<KeyboardShortcut> {
        let bare = |key| Some(KeyboardShortcut::new(Modifiers::NONE, key));
        match self {
            BoardCommand::UseTool(Tool::Move) => bare(Key::M),
            // What changes the job is no bare letter: a word typed beside a field must not turn it.
            BoardCommand::Turn => Some(KeyboardShortcut::new(Modifiers::COMMAND, Key::T)),
            BoardCommand::ToggleFit => bare(Key::B),
            _ => None,
        }
    }
}
