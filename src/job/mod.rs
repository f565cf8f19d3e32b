//! A job: everything the user sets, and nothing that is worked out.

mod carving;
mod clearing;
pub mod recovery;
pub mod sample;
pub mod saved;

pub use carving::{Carving, Cut, CutterUse, Layout, Place};
pub use clearing::{Bridge, Clearing, ClearingDirection};

use crate::design::lettering::Lettering;
use crate::design::{Design, ReadOptions};
use crate::shop::{BlemishShape, Board, Check, Cutter, Machine, Wood};
use crate::units::Mm;
use glam::DVec2;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use thiserror::Error;

/// Everything the user sets; what is saved.
#[derive(Clone, Debug)]
pub struct Job {
    /// The drawing.
    pub design: Arc<Design>,
    /// How each element is carved: one entry an element, in the design's order.
    pub carvings: Vec<Carving>,
    /// The board.
    pub board: Board,
    /// What the board is made of.
    pub wood: Wood,
    /// The cutter, but for elements that have their own.
    pub cutter: Cutter,
    /// The machine.
    pub machine: Machine,
    /// How deep the ground, a sunk floor, or the deepest V is cut, but for elements that have their own.
    pub depth: Mm,
    /// Whether the roller allowance is kept.
    pub ends: Ends,
    /// How large the design is carved.
    pub size: Size,
    /// What counts as the design's size.
    pub frame: Frame,
    /// How far the design is turned on the board.
    pub turn: Turn,
    /// Where on the board the design goes.
    pub at: Placement,
    /// Board left uncarved along each long edge; the machine's side margin if `None`.
    pub side_margin: Option<Mm>,
    /// How far a relief's ground reaches past the outlines, on the board; one cutter diameter if `None`.
    pub ground_margin: Option<Mm>,
    /// How the drawing's file is read where it leaves something open.
    pub reading: ReadOptions,
    /// The words of elements that were lettered, by the element's name, so that they can be set again.
    pub lettering: BTreeMap<String, Lettering>,
    /// How places are cleared.
    pub clearing: Clearing,
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
        &self.cutter
    }

    /// The machine.
    pub fn machine(&self) -> &Machine {
        &self.machine
    }

    /// How deep the ground, a sunk floor, or the deepest V is cut, but for elements that have their own.
    pub fn depth(&self) -> Mm {
        self.depth
    }

    /// Whether the roller allowance is kept.
    pub fn ends(&self) -> Ends {
        self.ends
    }

    /// How large the design is carved.
    pub fn size(&self) -> Size {
        self.size
    }

    /// What counts as the design's size.
    pub fn frame(&self) -> Frame {
        self.frame
    }

    /// How far the design is turned on the board.
    pub fn turn(&self) -> Turn {
        self.turn
    }

    /// Where on the board the design goes.
    pub fn at(&self) -> Placement {
        self.at
    }

    /// Board left uncarved along each long edge; the machine's side margin if `None`.
    pub fn side_margin(&self) -> Option<Mm> {
        self.side_margin
    }

    /// How far a relief's ground reaches past the outlines, on the board; one cutter diameter if `None`.
    pub fn ground_margin(&self) -> Option<Mm> {
        self.ground_margin
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
        &self.clearing
    }

    /// The ids of the findings that were looked at and accepted.
    pub fn accepted(&self) -> &BTreeSet<String> {
        &self.accepted
    }

    /// A remark for whoever stands at the machine; may have several lines.
    pub fn remark(&self) -> &str {
        &self.remark
    }
}

/// Two jobs are the same when their settings are, and they hold the very same design.
impl PartialEq for Job {
    fn eq(&self, other: &Job) -> bool {
        self.same_but_for_notes(other) && self.accepted == other.accepted && self.remark == other.remark
    }
}

impl Job {
    /// Whether two jobs are the same but for what is noted on them, which changes nothing that is worked
    /// out: what was accepted, and the remark.
    pub fn same_but_for_notes(&self, other: &Job) -> bool {
        Arc::ptr_eq(&self.design, &other.design)
            && self.carvings == other.carvings
            && self.board == other.board
            && self.wood == other.wood
            && self.cutter == other.cutter
            && self.machine == other.machine
            && self.depth == other.depth
            && self.ends == other.ends
            && self.size == other.size
            && self.frame == other.frame
            && self.turn == other.turn
            && self.at == other.at
            && self.side_margin == other.side_margin
            && self.ground_margin == other.ground_margin
            && self.reading == other.reading
            && self.lettering == other.lettering
            && self.clearing == other.clearing
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

/// Whether the board is kept under both rollers for the whole carve.
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

    /// Its name.
    pub fn label(self) -> &'static str {
        match self {
            Treatment::Relief => "Relief",
            Treatment::Sunk => "Sunk",
            Treatment::Incised => "Incised",
            Treatment::Pierced => "Pierced",
            Treatment::Left => "Left",
        }
    }

    /// What it means, in a few words.
    pub fn meaning(self) -> &'static str {
        match self {
            Treatment::Relief => "stands; the ground around it is lowered",
            Treatment::Sunk => "lowered to a flat floor",
            Treatment::Incised => "cut with a V whose depth follows the width",
            Treatment::Pierced => "cut through",
            Treatment::Left => "not carved",
        }
    }

    /// Whether an element of this treatment is still standing after the carve.
    pub fn stands(self) -> bool {
        matches!(self, Treatment::Relief | Treatment::Left)
    }
}

impl Job {
    /// A job for this design with everything else at its starting value.
    pub fn new(design: Arc<Design>) -> Job {
        let board = Board::default();
        let wood = Wood::find(&board.wood).expect("the starting board's wood is built in").clone();
        Job {
            carvings: vec![Carving::default(); design.elements.len()],
            design,
            board,
            wood,
            cutter: Cutter::find("flat-1/8in").expect("the starting cutter is built in").clone(),
            machine: Machine::find("compact").expect("the starting machine is built in").clone(),
            depth: Mm::new(3.0),
            ends: Ends::default(),
            size: Size::Factor(1.0),
            frame: Frame::default(),
            turn: Turn::default(),
            at: Placement::default(),
            side_margin: None,
            ground_margin: None,
            reading: ReadOptions::default(),
            lettering: BTreeMap::new(),
            clearing: Clearing::default(),
            accepted: BTreeSet::new(),
            remark: String::new(),
        }
    }

    /// The same settings for another design: elements that share a name keep how they are carved, others
    /// take the first element's treatment. What was accepted of the other design is looked at anew.
    #[must_use]
    pub fn with_design(&self, design: Arc<Design>) -> Job {
        let usual = self.treatments().next().unwrap_or_default();
        let carving_of = |name: &str| {
            let known = self.design.elements.iter().position(|element| element.name == name);
            known.map_or_else(|| usual.into(), |index| self.carvings[index].clone())
        };
        let carvings = design.elements.iter().map(|element| carving_of(&element.name)).collect();
        let mut lettering = self.lettering.clone();
        lettering.retain(|name, _| design.elements.iter().any(|element| element.name == *name));
        Job { design, carvings, lettering, accepted: BTreeSet::new(), ..self.clone() }
    }

    /// Whether every setting is one that can be proofed; the first that is not, if any.
    ///
    /// What passes here is finite and in a range where no sum overflows, so later steps need not ask.
    pub fn check(&self) -> Result<(), SettingError> {
        let lengths = [
            ("board length", self.board.length),
            ("board width", self.board.width),
            ("board thickness", self.board.thickness),
            ("depth", self.depth),
        ];
        for (setting, length) in lengths {
            check_length(setting, length, SHORTEST)?;
        }
        for depth in self.carvings.iter().filter_map(|carving| carving.depth) {
            check_length("element's depth", depth, SHORTEST)?;
        }
        for cutter in self.carving_cutters() {
            check_length("cutter diameter", cutter.shape.diameter(), SHORTEST)?;
            check_length("cutter's flute length", cutter.flute_length, SHORTEST)?;
            check_length("reference wall along the grain", cutter.reference.along, SHORTEST)?;
            check_length("reference wall across the grain", cutter.reference.across, SHORTEST)?;
            check_length("reference wall height", cutter.reference.height, SHORTEST)?;
        }
        let margins = [
            ("infeed roller", self.machine.infeed_roller),
            ("outfeed roller", self.machine.outfeed_roller),
            ("side margin", self.side_margin.unwrap_or(self.machine.side_margin)),
            ("sensing strip", self.machine.sensing_strip),
            ("release step", self.machine.release_step),
            ("ground margin", self.ground_margin.unwrap_or(Mm::ZERO)),
        ];
        for (setting, length) in margins {
            check_length(setting, length, Mm::ZERO)?;
        }
        self.check_board()?;
        self.check_clearing()?;
        let machine = &self.machine;
        let feeds = [
            ("hold-down force", machine.hold_down),
            ("feed along the board", machine.feed_along),
            ("feed across the board", machine.feed_across),
            ("feed up and down", machine.feed_down),
            ("acceleration", machine.acceleration),
            ("time to change a cutter", machine.cutter_change),
            ("time factor", machine.time_factor),
        ];
        for (setting, value) in feeds {
            if !(value >= 0.0 && value <= LONGEST.get()) {
                return Err(SettingError::Machine { setting, value });
            }
        }
        if let Placement::At { x, y } = self.at {
            check_length("place along the board", x, -LONGEST)?;
            check_length("place across the board", y, -LONGEST)?;
        }
        match self.size {
            Size::Factor(factor) if !FACTORS.contains(&factor) => Err(SettingError::Factor { factor }),
            Size::Length(length) => check_length("length", length, SHORTEST),
            Size::Width(width) => check_length("width", width, SHORTEST),
            Size::Factor(_) | Size::Fit => Ok(()),
        }
    }

    /// The job's cutter and those that elements have of their own, used or not.
    fn carving_cutters(&self) -> impl Iterator<Item = &Cutter> {
        [&self.cutter].into_iter().chain(self.carvings.iter().filter_map(|carving| carving.cutter.as_ref()))
    }

    /// Passes that end: a step of nothing would go on for ever.
    fn check_clearing(&self) -> Result<(), SettingError> {
        let clearing = &self.clearing;
        for cutter in self.carving_cutters().chain(&clearing.cutter) {
            check_length("clearing cutter's diameter", cutter.shape.diameter(), SHORTEST)?;
            check_length("cutter's pass depth", Mm::new(clearing.pass_depth(cutter)), LEAST_STEP)?;
            check_length(
                "distance between clearing lines",
                Mm::new(clearing.lines_apart(cutter)),
                LEAST_STEP,
            )?;
            for (setting, feed) in [("cutter's feed", cutter.feed), ("cutter's plunge", cutter.plunge)] {
                // Written so that a NaN fails it.
                if !(feed > 0.0 && feed <= LONGEST.get()) {
                    return Err(SettingError::Feed { setting, feed });
                }
            }
        }
        check_length("bridge's length", clearing.bridge.length, Mm::ZERO)?;
        check_length("bridge's height", clearing.bridge.height, Mm::ZERO)?;
        check_length("distance between bridges", clearing.bridge.apart, SHORTEST)
    }

    /// The board's blemishes and what was measured of it.
    fn check_board(&self) -> Result<(), SettingError> {
        for blemish in &self.board.blemishes {
            check_length("blemish's clearance", blemish.clearance, Mm::ZERO)?;
            let (places, sizes) = match blemish.shape {
                BlemishShape::Circle { x, y, diameter } => (vec![x, y], vec![diameter]),
                BlemishShape::Rectangle { x, y, length, width } => (vec![x, y], vec![length, width]),
                BlemishShape::Line { from, to } => ([from, to].concat(), Vec::new()),
            };
            for place in places {
                check_length("place of a blemish", place, -LONGEST)?;
            }
            for size in sizes {
                check_length("size of a blemish", size, Mm::ZERO)?;
            }
        }
        let stock = &self.board.stock;
        for length in Check::ALL.into_iter().filter_map(|check| stock.length(check)) {
            check_length("measured warp", length, Mm::ZERO)?;
        }
        match stock.moisture {
            Some(moisture) if !MOISTURES.contains(&moisture) => Err(SettingError::Moisture { moisture }),
            _ => Ok(()),
        }
    }
}

/// Moisture contents that wood can have, per cent of its dry mass; green softwood may hold twice its own
/// mass of water.
const MOISTURES: std::ops::RangeInclusive<f64> = 0.0..=300.0;

/// The shortest length that makes sense for wood or steel.
const SHORTEST: Mm = Mm::new(0.001);
/// The finest step between passes or lines that is worth a machine's time.
const LEAST_STEP: Mm = Mm::new(0.005);
/// The longest: a kilometre of board is a slip of the keyboard.
const LONGEST: Mm = Mm::new(1.0e6);
/// Factors that are proofed.
const FACTORS: std::ops::RangeInclusive<f64> = 1e-4..=1e4;

/// A setting that cannot be proofed.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum SettingError {
    /// A length is out of range.
    #[error("the {setting} must be from {least} to {LONGEST}, not {length}")]
    Length {
        /// Which.
        setting: &'static str,
        /// What it was set to.
        length: Mm,
        /// The least it may be.
        least: Mm,
    },
    /// The moisture content is out of range.
    #[error("the moisture must be from 0 to 300 %, not {moisture}")]
    Moisture {
        /// What it was set to.
        moisture: f64,
    },
    /// A value of the machine is out of range.
    #[error("the machine's {setting} must be from 0 to 1000000, not {value}")]
    Machine {
        /// Which.
        setting: &'static str,
        /// What it was set to.
        value: f64,
    },
    /// A feed is out of range.
    #[error("the {setting} must be over 0 and up to 1000000 mm a minute, not {feed}")]
    Feed {
        /// Which.
        setting: &'static str,
        /// What it was set to.
        feed: f64,
    },
    /// The factor is out of range.
    #[error("the size must be from 0.0001 to 10000 times as drawn, not {factor}")]
    Factor {
        /// What it was set to.
        factor: f64,
    },
}

fn check_length(setting: &'static str, length: Mm, least: Mm) -> Result<(), SettingError> {
    // Written so that a NaN fails it.
    if length >= least && length <= LONGEST {
        Ok(())
    } else {
        Err(SettingError::Length { setting, length, least })
    }
}
