//! The carving machine: what it takes, and how far its rollers stand from the cutter.

use super::{Problem, Wrong};
use crate::units::Mm;
use serde::{Deserialize, Serialize};
use std::sync::LazyLock;

/// A machine that feeds the board lengthwise under two hold-down rollers. Every value can be measured
/// on the machine with a rule: `docs/your-machine.md` tells how.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Machine {
    /// Short id.
    pub id: String,
    /// For a person.
    pub name: String,
    /// Along the board, from the cutter to the roller on the side where the board goes in: the end that
    /// is fed last needs this much board beyond the design to stay held.
    pub infeed_roller: Mm,
    /// Along the board, from the cutter to the roller on the side where it comes out: the end that is
    /// fed first needs this much.
    pub outfeed_roller: Mm,
    /// Which end of the board is fed first.
    pub feed: FeedDirection,
    /// Board left uncarved along each long edge.
    pub side_margin: Mm,
    /// Width of the strip of the underside that the position sensor reads, where there is one.
    pub sensing_strip: Mm,
    /// Along which edge of the board the strip lies; `None` for a machine without a sensor.
    pub sensing_edge: Option<BoardEdge>,
    /// How far the surface jumps where an end leaves its roller.
    pub release_step: Mm,
    /// How hard a roller presses the board down, newtons.
    pub hold_down: f64,
    /// Longest board taken.
    pub longest: Mm,
    /// Widest board taken.
    pub widest: Mm,
    /// Thickest board taken.
    pub thickest: Mm,
    /// Shortest board carved without a carrier.
    pub shortest: Mm,
    /// Narrowest board carved without a carrier.
    pub narrowest: Mm,
    /// Thinnest board carved without a carrier.
    pub thinnest: Mm,
    /// Fastest feed of the board, along its length, millimetres a minute.
    pub feed_along: f64,
    /// Fastest feed of the cutter, across the board, millimetres a minute.
    pub feed_across: f64,
    /// Fastest feed of the cutter, up and down, millimetres a minute.
    pub feed_down: f64,
    /// How fast it gains speed, millimetres a second each second.
    pub acceleration: f64,
    /// How long it takes to change a cutter, seconds.
    #[serde(default = "usual_cutter_change")]
    pub cutter_change: f64,
    /// How many times as long as worked out a job really takes, from one that was timed; 1 until then.
    #[serde(default = "as_worked_out")]
    pub time_factor: f64,
}

/// A round value of our own.
fn usual_cutter_change() -> f64 {
    120.0
}

fn as_worked_out() -> f64 {
    1.0
}

/// Which end of the board, as drawn, is fed first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FeedDirection {
    /// The left end leads.
    #[default]
    LeftFirst,
    /// The right end leads.
    RightFirst,
}

/// A long edge of the board, as drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum BoardEdge {
    /// The lower one, against the fence.
    #[default]
    Reference,
    /// The upper one.
    Far,
}

/// An end of the board, as drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BoardEnd {
    /// At x = 0.
    Left,
    /// At x = the board's length.
    Right,
}

/// The built-in profiles. Every value is a round one of our own and true of no machine: measure yours and
/// replace them. None has a position sensor; the width of the strip is a start for those who turn one on.
pub fn machines() -> &'static [Machine] {
    static MACHINES: LazyLock<Vec<Machine>> = LazyLock::new(|| {
        let inch = Mm::from_inches;
        let compact = Machine {
            id: "compact".to_owned(),
            name: "Compact, inch sizes".to_owned(),
            infeed_roller: inch(3.25),
            outfeed_roller: inch(3.25),
            feed: FeedDirection::LeftFirst,
            side_margin: Mm::ZERO,
            sensing_strip: inch(0.5),
            sensing_edge: None,
            release_step: Mm::new(0.2),
            hold_down: 40.0,
            longest: inch(120.0),
            widest: inch(12.0),
            thickest: inch(4.0),
            shortest: inch(8.0),
            narrowest: inch(2.0),
            thinnest: inch(0.5),
            feed_along: 4000.0,
            feed_across: 4000.0,
            feed_down: 1500.0,
            acceleration: 300.0,
            cutter_change: usual_cutter_change(),
            time_factor: as_worked_out(),
        };
        let metric = Machine {
            id: "compact-metric".to_owned(),
            name: "Compact, metric sizes".to_owned(),
            infeed_roller: Mm::new(80.0),
            outfeed_roller: Mm::new(80.0),
            sensing_strip: Mm::new(12.0),
            longest: Mm::new(3000.0),
            widest: Mm::new(300.0),
            thickest: Mm::new(100.0),
            shortest: Mm::new(200.0),
            narrowest: Mm::new(50.0),
            thinnest: Mm::new(12.0),
            ..compact.clone()
        };
        let long_bed = Machine {
            id: "long-bed".to_owned(),
            name: "Long bed, rollers apart".to_owned(),
            infeed_roller: Mm::new(150.0),
            outfeed_roller: Mm::new(120.0),
            side_margin: Mm::new(5.0),
            sensing_strip: Mm::new(12.0),
            release_step: Mm::new(0.1),
            hold_down: 60.0,
            longest: Mm::new(4000.0),
            widest: Mm::new(600.0),
            thickest: Mm::new(150.0),
            shortest: Mm::new(300.0),
            narrowest: Mm::new(60.0),
            thinnest: Mm::new(12.0),
            feed_along: 6000.0,
            feed_across: 6000.0,
            feed_down: 2000.0,
            acceleration: 500.0,
            ..compact.clone()
        };
        vec![compact, metric, long_bed]
    });
    &MACHINES
}

/// A value of a machine that is a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MachinePart {
    /// [`Machine::name`]
    Name,
    /// [`Machine::longest`]
    Longest,
    /// [`Machine::widest`]
    Widest,
    /// [`Machine::thickest`]
    Thickest,
    /// [`Machine::shortest`]
    Shortest,
    /// [`Machine::narrowest`]
    Narrowest,
    /// [`Machine::thinnest`]
    Thinnest,
    /// [`Machine::infeed_roller`]
    InfeedRoller,
    /// [`Machine::outfeed_roller`]
    OutfeedRoller,
    /// [`Machine::hold_down`]
    HoldDown,
    /// [`Machine::release_step`]
    ReleaseStep,
    /// [`Machine::sensing_strip`]
    SensingStrip,
    /// [`Machine::side_margin`]
    SideMargin,
    /// [`Machine::feed_along`]
    FeedAlong,
    /// [`Machine::feed_across`]
    FeedAcross,
    /// [`Machine::feed_down`]
    FeedDown,
    /// [`Machine::acceleration`]
    Acceleration,
    /// [`Machine::cutter_change`]
    CutterChange,
    /// [`Machine::time_factor`]
    TimeFactor,
}

/// In what a value of a machine is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// Words.
    Words,
    /// Millimetres.
    Length,
    /// Millimetres a minute.
    Feed,
    /// Millimetres a second each second.
    Acceleration,
    /// Newtons.
    Force,
    /// Seconds.
    Time,
    /// So many times as much.
    Ratio,
}

impl MachinePart {
    /// Every part that is a number, in the order a form shows them.
    pub const NUMBERS: [MachinePart; 18] = [
        MachinePart::Longest,
        MachinePart::Widest,
        MachinePart::Thickest,
        MachinePart::Shortest,
        MachinePart::Narrowest,
        MachinePart::Thinnest,
        MachinePart::InfeedRoller,
        MachinePart::OutfeedRoller,
        MachinePart::HoldDown,
        MachinePart::ReleaseStep,
        MachinePart::SensingStrip,
        MachinePart::SideMargin,
        MachinePart::FeedAlong,
        MachinePart::FeedAcross,
        MachinePart::FeedDown,
        MachinePart::Acceleration,
        MachinePart::CutterChange,
        MachinePart::TimeFactor,
    ];

    /// Its name in files, and in the page that tells how to measure it.
    pub fn key(self) -> &'static str {
        match self {
            MachinePart::Name => "name",
            MachinePart::Longest => "longest",
            MachinePart::Widest => "widest",
            MachinePart::Thickest => "thickest",
            MachinePart::Shortest => "shortest",
            MachinePart::Narrowest => "narrowest",
            MachinePart::Thinnest => "thinnest",
            MachinePart::InfeedRoller => "infeed_roller",
            MachinePart::OutfeedRoller => "outfeed_roller",
            MachinePart::HoldDown => "hold_down",
            MachinePart::ReleaseStep => "release_step",
            MachinePart::SensingStrip => "sensing_strip",
            MachinePart::SideMargin => "side_margin",
            MachinePart::FeedAlong => "feed_along",
            MachinePart::FeedAcross => "feed_across",
            MachinePart::FeedDown => "feed_down",
            MachinePart::Acceleration => "acceleration",
            MachinePart::CutterChange => "cutter_change",
            MachinePart::TimeFactor => "time_factor",
        }
    }

    /// In what it is given.
    pub fn measure(self) -> Measure {
        match self {
            MachinePart::Name => Measure::Words,
            MachinePart::HoldDown => Measure::Force,
            MachinePart::FeedAlong | MachinePart::FeedAcross | MachinePart::FeedDown => Measure::Feed,
            MachinePart::Acceleration => Measure::Acceleration,
            MachinePart::CutterChange => Measure::Time,
            MachinePart::TimeFactor => Measure::Ratio,
            _ => Measure::Length,
        }
    }

    /// How to find it with a rule: a sentence of `docs/your-machine.md`; empty for the name.
    pub fn how(self) -> &'static str {
        how_to_measure(self.key())
    }

    /// Its value in the measure it is given in; 0 for the name.
    pub fn of(self, machine: &Machine) -> f64 {
        match self {
            MachinePart::Name => 0.0,
            MachinePart::Longest => machine.longest.get(),
            MachinePart::Widest => machine.widest.get(),
            MachinePart::Thickest => machine.thickest.get(),
            MachinePart::Shortest => machine.shortest.get(),
            MachinePart::Narrowest => machine.narrowest.get(),
            MachinePart::Thinnest => machine.thinnest.get(),
            MachinePart::InfeedRoller => machine.infeed_roller.get(),
            MachinePart::OutfeedRoller => machine.outfeed_roller.get(),
            MachinePart::HoldDown => machine.hold_down,
            MachinePart::ReleaseStep => machine.release_step.get(),
            MachinePart::SensingStrip => machine.sensing_strip.get(),
            MachinePart::SideMargin => machine.side_margin.get(),
            MachinePart::FeedAlong => machine.feed_along,
            MachinePart::FeedAcross => machine.feed_across,
            MachinePart::FeedDown => machine.feed_down,
            MachinePart::Acceleration => machine.acceleration,
            MachinePart::CutterChange => machine.cutter_change,
            MachinePart::TimeFactor => machine.time_factor,
        }
    }

    /// Sets its value, in the measure it is given in; nothing for the name.
    pub fn set(self, machine: &mut Machine, value: f64) {
        let length = Mm::new(value);
        match self {
            MachinePart::Name => {}
            MachinePart::Longest => machine.longest = length,
            MachinePart::Widest => machine.widest = length,
            MachinePart::Thickest => machine.thickest = length,
            MachinePart::Shortest => machine.shortest = length,
            MachinePart::Narrowest => machine.narrowest = length,
            MachinePart::Thinnest => machine.thinnest = length,
            MachinePart::InfeedRoller => machine.infeed_roller = length,
            MachinePart::OutfeedRoller => machine.outfeed_roller = length,
            MachinePart::HoldDown => machine.hold_down = value,
            MachinePart::ReleaseStep => machine.release_step = length,
            MachinePart::SensingStrip => machine.sensing_strip = length,
            MachinePart::SideMargin => machine.side_margin = length,
            MachinePart::FeedAlong => machine.feed_along = value,
            MachinePart::FeedAcross => machine.feed_across = value,
            MachinePart::FeedDown => machine.feed_down = value,
            MachinePart::Acceleration => machine.acceleration = value,
            MachinePart::CutterChange => machine.cutter_change = value,
            MachinePart::TimeFactor => machine.time_factor = value,
        }
    }
}

/// The page that tells how to measure a machine, as it is written (Markdown).
pub const MEASURING: &str = include_str!("../../docs/your-machine.md");

/// How to find a value, from the row of [`MEASURING`] that starts with its key; empty where there is
/// none.
pub fn how_to_measure(key: &str) -> &'static str {
    let row = |line: &'static str| {
        let mut cells = line.strip_prefix('|')?.split('|').map(str::trim);
        (cells.next()?.trim_matches('`') == key).then(|| cells.next())?
    };
    MEASURING.lines().find_map(row).unwrap_or_default()
}

/// Longer than any machine takes a board, faster than any feeds one: a slip of the keyboard.
const LARGEST: f64 = 1.0e6;

impl Machine {
    /// What makes no sense about it, in the order of a form.
    pub fn problems(&self) -> Vec<Problem<MachinePart>> {
        use MachinePart as Part;
        let mut problems = Vec::new();
        let mut wrong = |part, wrong: Wrong| problems.push(Problem { part, wrong });
        if self.name.trim().is_empty() {
            wrong(Part::Name, Wrong::NoName);
        }
        let may_be_nothing = |part| {
            matches!(
                part,
                Part::HoldDown
                    | Part::ReleaseStep
                    | Part::SensingStrip
                    | Part::SideMargin
                    | Part::InfeedRoller
                    | Part::OutfeedRoller
                    | Part::CutterChange
            )
        };
        for part in Part::NUMBERS {
            let value = part.of(self);
            let least = if may_be_nothing(part) { value >= 0.0 } else { value > 0.0 };
            // Written so that a NaN is wrong.
            if !(least && value <= LARGEST) {
                wrong(part, if may_be_nothing(part) { Wrong::Negative } else { Wrong::NotOverZero });
            }
        }
        for (least, most) in [
            (Part::Shortest, Part::Longest),
            (Part::Narrowest, Part::Widest),
            (Part::Thinnest, Part::Thickest),
        ] {
            if least.of(self) > most.of(self) {
                wrong(least, Wrong::OverMost { most, bound: Mm::new(most.of(self)) });
            }
        }
        problems
    }

    /// The built-in machine of this id.
    pub fn find(id: &str) -> Option<&'static Machine> {
        machines().iter().find(|machine| machine.id.eq_ignore_ascii_case(id))
    }

    /// The roller allowance at an end: board beyond the design that keeps it under the roller.
    ///
    /// The end that is fed first has to reach the outfeed roller before the design comes under the
    /// cutter; the one fed last must not leave the infeed roller before the design is past it.
    pub fn allowance(&self, end: BoardEnd) -> Mm {
        if self.leads(end) { self.outfeed_roller } else { self.infeed_roller }
    }

    /// Whether an end is fed first.
    pub fn leads(&self, end: BoardEnd) -> bool {
        matches!(
            (end, self.feed),
            (BoardEnd::Left, FeedDirection::LeftFirst) | (BoardEnd::Right, FeedDirection::RightFirst)
        )
    }

    /// The strip of the underside that must stay whole: along which edge, and how wide. `None` where no
    /// sensor reads one.
    pub fn sensed_strip(&self) -> Option<(BoardEdge, Mm)> {
        self.sensing_edge.filter(|_| self.sensing_strip > Mm::ZERO).map(|edge| (edge, self.sensing_strip))
    }

    /// From roller to roller.
    pub fn roller_span(&self) -> Mm {
        self.infeed_roller + self.outfeed_roller
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_value_is_told_how_to_measure() {
        for part in MachinePart::NUMBERS {
            assert!(part.how().len() > 20, "{part:?}: {:?}", part.how());
        }
        for key in ["feed", "sensing_edge"] {
            assert!(how_to_measure(key).len() > 20, "{key}");
        }
        assert_eq!(how_to_measure("no such value"), "");
    }

    #[test]
    fn every_number_of_a_machine_is_a_part_of_it() {
        // As it is saved: whatever is a number there can be set here, under the same name.
        let machine = &machines()[0];
        let saved = serde_json::to_value(machine).unwrap();
        let numbers: Vec<&String> = saved
            .as_object()
            .unwrap()
            .iter()
            .filter(|(_, value)| value.is_number())
            .map(|(key, _)| key)
            .collect();
        assert_eq!(numbers.len(), MachinePart::NUMBERS.len());
        for part in MachinePart::NUMBERS {
            assert_eq!(saved[part.key()].as_f64(), Some(part.of(machine)), "{part:?}");
            let mut changed = machine.clone();
            part.set(&mut changed, 77.0);
            assert_eq!(part.of(&changed), 77.0, "{part:?}");
        }
    }

    #[test]
    fn built_in_machines_make_sense_and_slips_are_told() {
        for machine in machines() {
            assert_eq!(machine.problems(), []);
            assert_eq!(machine.sensed_strip(), None, "{}: a sensor is for the user to turn on", machine.id);
        }
        let mut machine = machines()[0].clone();
        machine.sensing_edge = Some(BoardEdge::Far);
        assert_eq!(machine.sensed_strip(), Some((BoardEdge::Far, machine.sensing_strip)));
        machine.widest = Mm::new(30.0);
        machine.feed_down = f64::NAN;
        let parts: Vec<_> = machine.problems().into_iter().map(|p| p.part).collect();
        assert_eq!(parts, [MachinePart::FeedDown, MachinePart::Narrowest]);
    }
}
