//! A job: everything the user sets, and nothing that is worked out.

mod carving;
mod change;
mod clearing;
mod edit;
pub mod history;
mod pieces;
mod placing;
pub mod recovery;
mod redesign;
mod rejected;
pub mod sample;
pub mod saved;
mod trust;

pub use carving::{Carving, Cut, CutterUse, Layout, Place};
pub use change::{Change, Done, ElementsChange, Reach};
pub use clearing::{Bridge, Clearing, ClearingDirection};
pub use edit::{Edit, EditKind, Redraw};
pub use history::History;
pub use pieces::{Lie, Lot, MOST_COPIES, MOST_PIECES, Piece, SAWN_APART, Turns};
pub use placing::{Side, Surround};
pub use redesign::{Redesign, Spot, Words, at_drawn_size};
pub use rejected::{FACTORS, LONGEST, MOISTURES, Quantity, Rejected};
pub use trust::Trust;

use crate::design::lettering::Lettering;
use crate::design::{Design, ReadOptions};
use crate::shop::{Board, Cutter, Machine, Shop, Wood};
use crate::units::Mm;
use glam::DVec2;
use pieces::Pieces;
use placing::Placing;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// The depth of a job until somebody sets one: a round value of our own.
pub const STARTING_DEPTH: Mm = Mm::new(3.0);

/// Everything the user sets; what is saved. A job that exists is a job that can be proofed.
///
/// A job is read through functions and changed by [`Job::apply`] alone.
#[derive(Clone, Debug)]
pub struct Job {
    design: Arc<Design>,
    /// One entry an element, in the design's order.
    carvings: Vec<Carving>,
    /// By the element's name.
    lettering: BTreeMap<String, Lettering>,
    reading: ReadOptions,
    board: Board,
    wood: Wood,
    tooling: Tooling,
    machine: Machine,
    placing: Placing,
    notes: Notes,
    /// What is beside the piece in hand, which the fields above are about.
    pieces: Pieces,
}

/// What the design is cut with, and how.
#[derive(Clone, Debug, PartialEq)]
struct Tooling {
    cutter: Cutter,
    depth: Mm,
    clearing: Clearing,
    trust: Trust,
}

/// What is noted on a job; nothing is worked out from it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Notes {
    /// The ids of the findings that were looked at and accepted. One that is found no more does no harm.
    pub accepted: BTreeSet<String>,
    /// A remark for whoever stands at the machine; may have several lines.
    pub remark: String,
}

/// What is set. Nothing outside this module writes it: a job changes by [`Job::apply`] alone.
impl Job {
    /// The drawing.
    pub fn design(&self) -> &Arc<Design> {
        &self.design
    }

    /// How each element is carved: one entry an element, in the design's order.
    pub fn carvings(&self) -> &[Carving] {
        &self.carvings
    }

    /// The board.
    pub fn board(&self) -> &Board {
        &self.board
    }

    /// What the board is made of.
    pub fn wood(&self) -> &Wood {
        &self.wood
    }

    /// The cutter, but for elements that have their own.
    pub fn cutter(&self) -> &Cutter {
        &self.tooling.cutter
    }

    /// The machine.
    pub fn machine(&self) -> &Machine {
        &self.machine
    }

    /// How deep the ground, a sunk floor, or the deepest V is cut, but for elements that have their own.
    pub fn depth(&self) -> Mm {
        self.tooling.depth
    }

    /// Whether the roller allowance is kept.
    pub fn ends(&self) -> Ends {
        self.placing.ends
    }

    /// How large the design is carved.
    pub fn size(&self) -> Size {
        self.placing.size
    }

    /// What counts as the design's size.
    pub fn frame(&self) -> Frame {
        self.placing.frame
    }

    /// How far the design is turned on the board.
    pub fn turn(&self) -> Turn {
        self.placing.turn
    }

    /// Where on the board the design goes.
    pub fn at(&self) -> Placement {
        self.placing.at
    }

    /// Board left uncarved along each long edge; the machine's side margin if `None`.
    pub fn side_margin(&self) -> Option<Mm> {
        self.placing.side_margin
    }

    /// How far a relief's ground reaches past the outlines, on the board; one cutter diameter if `None`.
    pub fn ground_margin(&self) -> Option<Mm> {
        self.placing.ground_margin
    }

    /// How the drawing's file is read where it leaves something open.
    pub fn reading(&self) -> ReadOptions {
        self.reading
    }

    /// The words of elements that were lettered, by the element's name.
    pub fn lettering(&self) -> &BTreeMap<String, Lettering> {
        &self.lettering
    }

    /// How places are cleared.
    pub fn clearing(&self) -> &Clearing {
        &self.tooling.clearing
    }

    /// From which chance on a wall is called sound.
    pub fn trust(&self) -> Trust {
        self.tooling.trust
    }

    /// The ids of the findings that were looked at and accepted.
    pub fn accepted(&self) -> &BTreeSet<String> {
        &self.notes.accepted
    }

    /// A remark for whoever stands at the machine; may have several lines.
    pub fn remark(&self) -> &str {
        &self.notes.remark
    }
}

/// Two jobs are the same when their settings are, and they hold the very same design.
impl PartialEq for Job {
    fn eq(&self, other: &Job) -> bool {
        Reach::between(self, other) == Reach::Nothing
    }
}

/// How an element is carved.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Treatment {
    /// It stands and the ground around it is lowered.
    #[default]
    Relief,
    /// It is lowered to a flat floor.
    Sunk,
    /// It is cut with a V whose depth follows the width.
    Incised,
    /// It is cut through.
    Pierced,
    /// It is not carved.
    Left,
}

/// Whether both rollers hold the board for the whole carve.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Ends {
    /// The roller allowance is kept at both ends.
    #[default]
    Held,
    /// It is skipped.
    Free,
}

/// How large the design is carved. Scaling is always uniform.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Size {
    /// This many times as large as drawn.
    Factor(f64),
    /// So that the design's frame is this long (along the board).
    Length(Mm),
    /// So that the design's frame is this wide (across the board).
    Width(Mm),
    /// As large as the board allows.
    Fit,
}

/// What counts as the design's size.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Frame {
    /// The box round the outlines.
    #[default]
    Outline,
    /// The drawing's page, where it has one.
    Page,
}

/// Where on the board the design's frame goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Placement {
    /// In the middle of the board.
    #[default]
    Middle,
    /// Tight to the corner of the left end and the reference edge: as near as allowance and margins let
    /// it.
    LowerLeft,
    /// Tight to the corner of the right end and the reference edge.
    LowerRight,
    /// Tight to the corner of the left end and the far edge.
    UpperLeft,
    /// Tight to the corner of the right end and the far edge.
    UpperRight,
    /// With the frame's lower left corner this far from the board's lower left corner.
    At {
        /// Along the board.
        x: Mm,
        /// Across it.
        y: Mm,
    },
}

/// How far the design is turned on the board, counter-clockwise.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Turn {
    /// As drawn: its x axis lies along the grain.
    #[default]
    AsDrawn,
    /// A quarter turn: its x axis lies across the grain, and points away from the reference edge.
    Quarter,
    /// A half turn.
    Half,
    /// Three quarter turns.
    ThreeQuarters,
}

impl Turn {
    /// Every turn, the smaller first.
    pub const ALL: [Turn; 4] = [Turn::AsDrawn, Turn::Quarter, Turn::Half, Turn::ThreeQuarters];

    /// The turn of so many degrees, counter-clockwise; `None` for what is no quarter turn.
    ///
    /// ```
    /// # use spelk::job::Turn;
    /// assert_eq!(Turn::from_degrees(-90), Some(Turn::ThreeQuarters));
    /// assert_eq!(Turn::from_degrees(45), None);
    /// ```
    pub fn from_degrees(degrees: i32) -> Option<Turn> {
        Turn::ALL.into_iter().find(|turn| turn.degrees() == degrees.rem_euclid(360))
    }

    /// 0, 90, 180 or 270.
    pub fn degrees(self) -> i32 {
        match self {
            Turn::AsDrawn => 0,
            Turn::Quarter => 90,
            Turn::Half => 180,
            Turn::ThreeQuarters => 270,
        }
    }

    /// The same in radians.
    pub fn radians(self) -> f64 {
        f64::from(self.degrees()).to_radians()
    }

    /// Whether what lay along the board lies across it.
    pub fn swaps(self) -> bool {
        matches!(self, Turn::Quarter | Turn::ThreeQuarters)
    }

    /// A quarter turn further.
    #[must_use]
    pub fn next(self) -> Turn {
        match self {
            Turn::AsDrawn => Turn::Quarter,
            Turn::Quarter => Turn::Half,
            Turn::Half => Turn::ThreeQuarters,
            Turn::ThreeQuarters => Turn::AsDrawn,
        }
    }

    /// A vector turned with the design. Exact.
    pub fn of(self, vector: DVec2) -> DVec2 {
        match self {
            Turn::AsDrawn => vector,
            Turn::Quarter => vector.perp(),
            Turn::Half => -vector,
            Turn::ThreeQuarters => -vector.perp(),
        }
    }
}

impl Treatment {
    /// Every treatment, in the order a list shows them.
    pub const ALL: [Treatment; 5] =
        [Treatment::Relief, Treatment::Sunk, Treatment::Incised, Treatment::Pierced, Treatment::Left];

    /// Whether an element of this treatment is still standing after the carve.
    pub fn stands(self) -> bool {
        matches!(self, Treatment::Relief | Treatment::Left)
    }
}

impl Job {
    /// A job for this design with everything else at its starting value.
    pub fn new(design: Arc<Design>) -> Job {
        Job {
            carvings: vec![Carving::default(); design.elements.len()],
            design,
            lettering: BTreeMap::new(),
            reading: ReadOptions::default(),
            board: Board::default(),
            wood: Wood::find("basswood_american").expect("the starting wood is built in").clone(),
            tooling: Tooling {
                cutter: Cutter::find("flat-1/8in").expect("the starting cutter is built in").clone(),
                depth: STARTING_DEPTH,
                clearing: Clearing::default(),
                trust: Trust::default(),
            },
            machine: Machine::find("compact").expect("the starting machine is built in").clone(),
            placing: Placing::default(),
            notes: Notes::default(),
            pieces: Pieces::default(),
        }
    }

    /// The same with the shop's own wood, cutter and machine where it has some of these ids: what it measured and
    /// learned of them is in there.
    #[must_use]
    pub fn in_shop(mut self, shop: &Shop) -> Job {
        if let Some(own) = shop.woods.iter().find(|wood| wood.id == self.wood.id) {
            self.wood = own.clone();
        }
        if let Some(own) = shop.cutter(&self.tooling.cutter.id) {
            self.tooling.cutter = own.clone();
        }
        if let Some(own) = shop.machine(&self.machine.id) {
            self.machine = own.clone();
        }
        self
    }

    /// A new drawing on the board that is there already, as large as drawn: board, wood, cutter, machine and
    /// place are this job's, and nothing that was set about its elements.
    #[must_use]
    pub fn for_drawing(&self, design: Arc<Design>) -> Job {
        Job {
            carvings: vec![Carving::default(); design.elements.len()],
            design,
            lettering: BTreeMap::new(),
            reading: ReadOptions::default(),
            placing: Placing { size: Size::Factor(1.0), ..self.placing },
            notes: Notes::default(),
            pieces: Pieces::default(),
            ..self.clone()
        }
    }

    /// The same settings for another design: elements that share a name keep how they are carved, others take
    /// the first element's treatment. What was accepted of the other design is looked at anew.
    #[must_use]
    pub fn with_design(&self, design: Arc<Design>) -> Job {
        let mut job = self.clone();
        job.redraw(design);
        job
    }
}
