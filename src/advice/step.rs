//! One thing that advice changes, as facts.

use crate::job::{EditKind, Ends, Treatment};
use crate::proof::mend::Mend;
use crate::units::Mm;

/// One thing that is changed, with what it is changed to.
#[derive(Clone, Debug, PartialEq)]
pub enum Step {
    /// Another board.
    Board {
        /// Where it comes from.
        taken: BoardTaken,
        /// Length, width and thickness.
        size: [Mm; 3],
        /// The name of its wood, where that is another than the job's.
        wood: Option<String>,
        /// What is paid for it, in the shop's money; `None` where nobody knows, or nothing is.
        price: Option<f64>,
    },
    /// The board is planed flat.
    Flatten {
        /// How thick it is then.
        thickness: Mm,
    },
    /// The board's edges are made straight, square and parallel.
    Joint {
        /// How wide it is then.
        width: Mm,
    },
    /// Another cutter.
    Cutter {
        /// Its name.
        name: String,
        /// The name of the one that clears the floors first: the job's until now.
        clears_first: Option<String>,
    },
    /// Another cutter for some elements.
    OwnCutter {
        /// Its name.
        name: String,
        /// The elements' names.
        elements: Vec<String>,
    },
    /// Another depth.
    Depth {
        /// How deep.
        depth: Mm,
    },
    /// Shallower passes.
    Pass {
        /// How deep each.
        depth: Mm,
    },
    /// A slower feed.
    Feed {
        /// Millimetres a minute.
        feed: f64,
    },
    /// Bridges hold what is cut out.
    Bridges,
    /// A quarter turn more.
    Turn,
    /// Ends held or free.
    Ends(Ends),
    /// Another size.
    Size {
        /// Times as large as drawn.
        factor: f64,
        /// Finished length along the board.
        length: Mm,
    },
    /// Another place on the board.
    Place {
        /// The frame's lower left corner, along the board and across it.
        corner: [Mm; 2],
        /// Whether the design is turned for it.
        turned: bool,
        /// Times as large as drawn, where the size changes with it.
        factor: Option<f64>,
    },
    /// The middle of the board.
    Middle,
    /// Elements that do not show are sunk, or left standing.
    Treat {
        /// Their names.
        elements: Vec<String>,
        /// How they are carved then.
        treatment: Treatment,
    },
    /// Specks and slivers are left out.
    Specks {
        /// How many.
        count: usize,
    },
    /// Walls are thickened, or grooves widened, in the drawing.
    Mend {
        /// Which.
        what: Mend,
        /// How many.
        count: usize,
    },
}

/// Where a board comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum BoardTaken {
    /// From the rack.
    Rack {
        /// Its name there.
        name: String,
    },
    /// It has to be bought.
    Bought {
        /// The dressed size to ask for; `None` where none is as large.
        dressed: Option<String>,
    },
}

/// What sort of step, in the order in which two are taken: what comes later goes by what came before.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum StepKind {
    /// A board from the rack.
    RackBoard,
    /// A board that is bought.
    BoughtBoard,
    /// The faces of the board.
    Flatten,
    /// The edges of the board.
    Joint,
    /// The job's cutter.
    Cutter,
    /// The cutter of some elements.
    OwnCutter,
    /// The depth.
    Depth,
    /// The passes.
    Pass,
    /// The feed.
    Feed,
    /// The bridges.
    Bridges,
    /// The turn.
    Turn,
    /// The ends.
    Ends,
    /// The size.
    Size,
    /// The place.
    Place,
    /// How elements are carved.
    Treat,
    /// Specks of the drawing.
    Specks,
    /// Walls of the drawing.
    MendWalls,
    /// Grooves of the drawing.
    MendGrooves,
}

impl Step {
    /// What sort of step it is.
    pub fn kind(&self) -> StepKind {
        match self {
            Step::Board { taken: BoardTaken::Rack { .. }, .. } => StepKind::RackBoard,
            Step::Board { taken: BoardTaken::Bought { .. }, .. } => StepKind::BoughtBoard,
            Step::Flatten { .. } => StepKind::Flatten,
            Step::Joint { .. } => StepKind::Joint,
            Step::Cutter { .. } => StepKind::Cutter,
            Step::OwnCutter { .. } => StepKind::OwnCutter,
            Step::Depth { .. } => StepKind::Depth,
            Step::Pass { .. } => StepKind::Pass,
            Step::Feed { .. } => StepKind::Feed,
            Step::Bridges => StepKind::Bridges,
            Step::Turn => StepKind::Turn,
            Step::Ends(_) => StepKind::Ends,
            Step::Size { .. } => StepKind::Size,
            Step::Place { .. } | Step::Middle => StepKind::Place,
            Step::Treat { .. } => StepKind::Treat,
            Step::Specks { .. } => StepKind::Specks,
            Step::Mend { what: Mend::Walls, .. } => StepKind::MendWalls,
            Step::Mend { what: Mend::Grooves, .. } => StepKind::MendGrooves,
        }
    }
}

impl StepKind {
    /// The kind's name in JSON.
    pub fn id(self) -> &'static str {
        match self {
            StepKind::RackBoard => "rack_board",
            StepKind::BoughtBoard => "bought_board",
            StepKind::Flatten => "flatten",
            StepKind::Joint => "joint",
            StepKind::Cutter => "cutter",
            StepKind::OwnCutter => "own_cutter",
            StepKind::Depth => "depth",
            StepKind::Pass => "pass",
            StepKind::Feed => "feed",
            StepKind::Bridges => "bridges",
            StepKind::Turn => "turn",
            StepKind::Ends => "ends",
            StepKind::Size => "size",
            StepKind::Place => "place",
            StepKind::Treat => "treat",
            StepKind::Specks => "specks",
            StepKind::MendWalls => "mend_walls",
            StepKind::MendGrooves => "mend_grooves",
        }
    }

    /// What the step is called when it can be taken back.
    pub(super) fn edit_kind(self) -> EditKind {
        match self {
            StepKind::RackBoard => EditKind::RackBoard,
            StepKind::BoughtBoard | StepKind::Flatten | StepKind::Joint => EditKind::Board,
            StepKind::Cutter | StepKind::Feed => EditKind::Cutter,
            StepKind::OwnCutter => EditKind::OwnCutter,
            StepKind::Depth => EditKind::Depth,
            StepKind::Pass | StepKind::Bridges => EditKind::Clearing,
            StepKind::Turn => EditKind::Turn,
            StepKind::Ends => EditKind::Ends,
            StepKind::Size => EditKind::Size,
            StepKind::Place => EditKind::FoundPlace,
            StepKind::Treat => EditKind::Treatment,
            StepKind::Specks => EditKind::Clean,
            StepKind::MendWalls | StepKind::MendGrooves => EditKind::Mending,
        }
    }
}
