//! Why a job cannot be as it was asked to be, and the check that finds it out.

use super::{Clearing, Job, Place, Placement, Size, Treatment};
use crate::design::DesignError;
use crate::design::lettering::LetteringError;
use crate::shop::{Blemish, BlemishShape, Check, Cutter, CutterPart, Experience, Problem, Wrong};
use crate::units::Mm;
use glam::DVec2;
use std::ops::RangeInclusive;
use thiserror::Error;

/// Why an edit was rejected, or a job could not be made. The job is as it was.
#[derive(Debug, Error)]
pub enum Rejected {
    /// A length is out of range.
    Length {
        /// Which.
        quantity: Quantity,
        /// What it was set to; may be no number.
        length: Mm,
        /// The least it may be. The most is [`LONGEST`].
        least: Mm,
    },
    /// The moisture content is out of [range](MOISTURES).
    Moisture {
        /// What it was set to, per cent; may be no number.
        moisture: f64,
    },
    /// A value of the machine is under 0 or over [`LONGEST`].
    Machine {
        /// Which.
        quantity: Quantity,
        /// What it was set to, in the machine's own units; may be no number.
        value: f64,
    },
    /// A feed is not over 0, or over [`LONGEST`].
    Feed {
        /// Which.
        quantity: Quantity,
        /// What it was set to, millimetres a minute; may be no number.
        feed: f64,
    },
    /// A cutter without edges, or that does not turn.
    Spindle {
        /// Turns a minute; may be no number.
        speed: f64,
    },
    /// What a cutter's record came to is out of range.
    Experience {
        /// How many times as thick walls are to be, along the grain and across.
        factor: [f64; 2],
        /// The scatter of the thickness at which they break.
        scatter: f64,
    },
    /// The chances between which a wall is chancy are none, or the wrong way round.
    Trust {
        /// From which chance on it is sound.
        sound: f64,
        /// Below which it is unsound.
        unsound: f64,
    },
    /// The size is out of [range](FACTORS).
    Factor {
        /// What it was set to, times as large as drawn; may be no number.
        factor: f64,
    },
    /// The wood has a value that no wood has.
    Wood {
        /// Its name.
        name: String,
        /// What is wrong.
        wrong: Wrong,
    },
    /// A cutter has a value that no cutter has.
    Cutter {
        /// Its name.
        name: String,
        /// What is wrong.
        wrong: Wrong,
    },
    /// Clearing the floors in such small steps would take no end of cuts.
    TooMuchClearing {
        /// How far the cutter would travel.
        length: Mm,
    },
    /// The design has no element at that place.
    NoSuchElement,
    /// The design has no element of that name.
    NoElementNamed {
        /// The name.
        name: String,
    },
    /// The job has no piece, or no copy of it, at that place in its list.
    NoSuchPiece,
    /// The job would have no piece.
    LastPiece,
    /// There would be no copy of a piece.
    NoCopy,
    /// There would be more copies, or pieces, than go on one board.
    TooManyOnBoard {
        /// How many.
        copies: usize,
        /// How many there may be.
        most: usize,
    },
    /// The board has no blemish at that place in its list.
    NoSuchBlemish,
    /// A blemish lies wholly off the board, with the room kept round it.
    BlemishOffBoard {
        /// How far it is from the board.
        beyond: Mm,
    },
    /// This line of the bench list is no length.
    NoLength {
        /// Which.
        check: Check,
    },
    /// An element would have no name.
    NoName,
    /// What is to be split is one piece already.
    OnePiece,
    /// There would be more elements than a design may have.
    TooManyPieces {
        /// How many.
        elements: usize,
        /// How many there may be.
        most: usize,
    },
    /// Too few elements were named for it to mean anything.
    TooFew {
        /// How many it takes.
        needed: usize,
    },
    /// The design would have no element.
    LastElement,
    /// Nothing would be left of an element.
    NothingLeft {
        /// Its name.
        name: String,
    },
    /// The words cannot be set.
    Lettering(LetteringError),
    /// What would come of it is no design that could be read from a file either.
    Design(DesignError),
}

// Without `source`: the sentence of the rejection has the cause's in it.
impl From<LetteringError> for Rejected {
    fn from(error: LetteringError) -> Rejected {
        Rejected::Lettering(error)
    }
}

impl From<DesignError> for Rejected {
    fn from(error: DesignError) -> Rejected {
        Rejected::Design(error)
    }
}

/// What a job has a number for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is named after what it measures")]
pub enum Quantity {
    BoardLength,
    BoardWidth,
    BoardThickness,
    BlemishClearance,
    BlemishPlace,
    BlemishSize,
    Warp,
    Depth,
    OwnDepth,
    CutterDiameter,
    FluteLength,
    ReferenceAlong,
    ReferenceAcross,
    ReferenceHeight,
    ReferenceLength,
    ReferencePass,
    ReferenceFeedPerTooth,
    Give,
    ClearingDiameter,
    PassDepth,
    LinesApart,
    CutterFeed,
    CutterPlunge,
    BridgeLength,
    BridgeHeight,
    BridgesApart,
    InfeedRoller,
    OutfeedRoller,
    SideMargin,
    SensingStrip,
    ReleaseStep,
    HoldDown,
    FeedAlong,
    FeedAcross,
    FeedDown,
    Acceleration,
    CutterChange,
    TimeFactor,
    GroundMargin,
    PlaceAlong,
    PlaceAcross,
    FinishedLength,
    FinishedWidth,
    ElementsDistance,
    Gap,
}

/// Moisture contents that wood can have, per cent of its dry mass; green softwood may hold twice its own
/// mass of water.
pub const MOISTURES: RangeInclusive<f64> = 0.0..=300.0;
/// Factors that are proofed.
pub const FACTORS: RangeInclusive<f64> = 1e-4..=1e4;
/// The longest of all lengths: a kilometre of board is a slip of the keyboard.
pub const LONGEST: Mm = Mm::new(1.0e6);
/// The shortest length that makes sense for wood or steel.
const SHORTEST: Mm = Mm::new(0.001);
/// The most that cutters may travel to clear a job's floors: a round value of our own, months of a machine's
/// time, and some hundreds of megabytes of passes.
const MOST_CLEARED: Mm = Mm::new(2.0e8);
/// The finest step between passes or lines that is worth a machine's time.
const LEAST_STEP: Mm = Mm::new(0.005);
/// The least that a wall may give: a thousandth of what is seen.
const LEAST_GIVE: Mm = Mm::new(0.0001);

/// No wall ever holds, or breaks, for certain.
const LEAST_CHANCE: f64 = 0.001;
const MOST_CHANCE: f64 = 0.999;

impl Job {
    /// Whether every setting is one that can be proofed; the first that is not, if any.
    ///
    /// What passes here is finite and in a range where no sum overflows, so later steps need not ask.
    pub(super) fn check(&self) -> Result<(), Rejected> {
        self.check_lengths()?;
        self.check_board()?;
        self.check_clearing()?;
        self.check_machine()?;
        self.check_placing()?;
        self.check_shop()?;
        self.check_cleared()?;
        self.check_pieces()
    }

    /// How far the cutters would travel to clear all floors, at most.
    fn check_cleared(&self) -> Result<(), Rejected> {
        let factor = self.factor();
        let board = self.board.length.get() * self.board.width.get();
        let area = |size: DVec2| (size.x * size.y).min(board);
        let cleared = |place: Place| {
            let cut = self.cut(place);
            if !matches!(cut.treatment, Treatment::Relief | Treatment::Sunk) {
                return 0.0;
            }
            let size = match place {
                Place::Ground => {
                    self.design.outline_box().size() * factor + DVec2::splat(2.0 * self.ground_reach().get())
                }
                Place::Element(element) => {
                    self.design.elements[element].region.bounds().map_or(DVec2::ZERO, |b| b.size() * factor)
                }
            };
            let clearing = &self.tooling.clearing;
            let depth = cut.depth.min(self.board.thickness).get();
            let steps = (depth / clearing.pass_depth(cut.cutter)).ceil();
            area(size) / clearing.lines_apart(cut.cutter) * steps
        };
        let length = Mm::new(self.places().map(cleared).sum());
        if length <= MOST_CLEARED { Ok(()) } else { Err(Rejected::TooMuchClearing { length }) }
    }

    /// The wood and the cutters, by what a shop may keep.
    fn check_shop(&self) -> Result<(), Rejected> {
        if let Some(problem) = self.wood.problems().first() {
            return Err(Rejected::Wood { name: self.wood.name.clone(), wrong: problem.wrong });
        }
        for cutter in self.carving_cutters().chain(&self.tooling.clearing.cutter) {
            // Its lengths and feeds are looked at above, in wider ranges than a shop keeps.
            let of_shape = |problem: &&Problem<CutterPart>| {
                use CutterPart as Part;
                matches!(problem.part, Part::Angle | Part::Tip | Part::Ball | Part::Lean)
            };
            if let Some(problem) = cutter.problems().iter().find(of_shape) {
                return Err(Rejected::Cutter { name: cutter.name.clone(), wrong: problem.wrong });
            }
        }
        Ok(())
    }

    fn check_lengths(&self) -> Result<(), Rejected> {
        use Quantity as Q;
        let lengths = [
            (Q::BoardLength, self.board.length),
            (Q::BoardWidth, self.board.width),
            (Q::BoardThickness, self.board.thickness),
            (Q::Depth, self.tooling.depth),
        ];
        for (quantity, length) in lengths {
            check_length(quantity, length, SHORTEST)?;
        }
        for depth in self.carvings.iter().filter_map(|carving| carving.depth) {
            check_length(Q::OwnDepth, depth, SHORTEST)?;
        }
        for cutter in self.carving_cutters() {
            check_length(Q::CutterDiameter, cutter.shape.diameter(), SHORTEST)?;
            check_length(Q::FluteLength, cutter.flute_length, SHORTEST)?;
            check_length(Q::ReferenceAlong, cutter.reference.along, SHORTEST)?;
            if let Some(across) = cutter.reference.across {
                check_length(Q::ReferenceAcross, across, SHORTEST)?;
            }
            check_length(Q::ReferenceHeight, cutter.reference.height, SHORTEST)?;
            if let Some(length) = cutter.reference.length {
                check_length(Q::ReferenceLength, length, SHORTEST)?;
            }
            check_length(Q::ReferencePass, cutter.reference.pass, LEAST_STEP)?;
            check_length(Q::ReferenceFeedPerTooth, cutter.reference.feed_per_tooth, Mm::ZERO)?;
            check_length(Q::Give, cutter.give, LEAST_GIVE)?;
            if let Some(Experience { factor, scatter, .. }) =
                cutter.experience.filter(|experience| !experience.is_in_range())
            {
                return Err(Rejected::Experience { factor, scatter });
            }
            // Written so that a NaN fails it.
            if !(cutter.spindle_speed >= 1.0 && cutter.spindle_speed <= LONGEST.get() && cutter.flutes > 0) {
                return Err(Rejected::Spindle { speed: cutter.spindle_speed });
            }
        }
        let trust = self.tooling.trust;
        // Written so that a NaN fails it.
        if !(trust.unsound >= LEAST_CHANCE && trust.unsound <= trust.sound && trust.sound <= MOST_CHANCE) {
            return Err(Rejected::Trust { sound: trust.sound, unsound: trust.unsound });
        }
        let machine = &self.machine;
        let margins = [
            (Q::InfeedRoller, machine.infeed_roller),
            (Q::OutfeedRoller, machine.outfeed_roller),
            (Q::SideMargin, self.placing.side_margin.unwrap_or(machine.side_margin)),
            (Q::SensingStrip, machine.sensing_strip),
            (Q::ReleaseStep, machine.release_step),
            (Q::GroundMargin, self.placing.ground_margin.unwrap_or(Mm::ZERO)),
        ];
        margins.into_iter().try_for_each(|(quantity, length)| check_length(quantity, length, Mm::ZERO))
    }

    /// The board's blemishes and what was measured of it.
    fn check_board(&self) -> Result<(), Rejected> {
        self.board.blemishes.iter().try_for_each(check_blemish)?;
        let stock = &self.board.stock;
        for length in Check::ALL.into_iter().filter_map(|check| stock.length(check)) {
            check_length(Quantity::Warp, length, Mm::ZERO)?;
        }
        match stock.moisture {
            Some(moisture) if !MOISTURES.contains(&moisture) => Err(Rejected::Moisture { moisture }),
            _ => Ok(()),
        }
    }

    /// The job's cutter and those that elements have of their own, used or not.
    fn carving_cutters(&self) -> impl Iterator<Item = &Cutter> {
        let own = self.carvings.iter().filter_map(|carving| carving.cutter.as_ref());
        std::iter::once(&self.tooling.cutter).chain(own)
    }

    /// Passes that end: a step of nothing would go on for ever.
    fn check_clearing(&self) -> Result<(), Rejected> {
        use Quantity as Q;
        let clearing: &Clearing = &self.tooling.clearing;
        for cutter in self.carving_cutters().chain(&clearing.cutter) {
            check_length(Q::ClearingDiameter, cutter.shape.diameter(), SHORTEST)?;
            check_length(Q::PassDepth, Mm::new(clearing.pass_depth(cutter)), LEAST_STEP)?;
            check_length(Q::LinesApart, Mm::new(clearing.lines_apart(cutter)), LEAST_STEP)?;
            for (quantity, feed) in [(Q::CutterFeed, cutter.feed), (Q::CutterPlunge, cutter.plunge)] {
                // Written so that a NaN fails it.
                if !(feed > 0.0 && feed <= LONGEST.get()) {
                    return Err(Rejected::Feed { quantity, feed });
                }
            }
        }
        check_length(Q::BridgeLength, clearing.bridge.length, Mm::ZERO)?;
        check_length(Q::BridgeHeight, clearing.bridge.height, Mm::ZERO)?;
        check_length(Q::BridgesApart, clearing.bridge.apart, SHORTEST)
    }

    fn check_machine(&self) -> Result<(), Rejected> {
        use Quantity as Q;
        let machine = &self.machine;
        let values = [
            (Q::HoldDown, machine.hold_down),
            (Q::FeedAlong, machine.feed_along),
            (Q::FeedAcross, machine.feed_across),
            (Q::FeedDown, machine.feed_down),
            (Q::Acceleration, machine.acceleration),
            (Q::CutterChange, machine.cutter_change),
            (Q::TimeFactor, machine.time_factor),
        ];
        for (quantity, value) in values {
            if !(value >= 0.0 && value <= LONGEST.get()) {
                return Err(Rejected::Machine { quantity, value });
            }
        }
        Ok(())
    }

    fn check_placing(&self) -> Result<(), Rejected> {
        if let Placement::At { x, y } = self.placing.at {
            check_length(Quantity::PlaceAlong, x, -LONGEST)?;
            check_length(Quantity::PlaceAcross, y, -LONGEST)?;
        }
        match self.placing.size {
            Size::Factor(factor) if !FACTORS.contains(&factor) => Err(Rejected::Factor { factor }),
            Size::Length(length) => check_length(Quantity::FinishedLength, length, SHORTEST),
            Size::Width(width) => check_length(Quantity::FinishedWidth, width, SHORTEST),
            Size::Factor(_) | Size::Fit => Ok(()),
        }
    }
}

/// Whether a blemish has a size and a place.
pub(super) fn check_blemish(blemish: &Blemish) -> Result<(), Rejected> {
    check_length(Quantity::BlemishClearance, blemish.clearance, Mm::ZERO)?;
    let (places, sizes) = match blemish.shape {
        BlemishShape::Circle { x, y, diameter } => (vec![x, y], vec![diameter]),
        BlemishShape::Rectangle { x, y, length, width } => (vec![x, y], vec![length, width]),
        BlemishShape::Line { from, to } => ([from, to].concat(), Vec::new()),
    };
    places.into_iter().try_for_each(|place| check_length(Quantity::BlemishPlace, place, -LONGEST))?;
    sizes.into_iter().try_for_each(|size| check_length(Quantity::BlemishSize, size, Mm::ZERO))
}

pub(super) fn check_length(quantity: Quantity, length: Mm, least: Mm) -> Result<(), Rejected> {
    // Written so that a NaN fails it.
    if length >= least && length <= LONGEST {
        Ok(())
    } else {
        Err(Rejected::Length { quantity, length, least })
    }
}
