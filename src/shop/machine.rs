//! The carving machine: what it takes, and how far its rollers stand from the cutter.

use crate::units::Mm;
use serde::{Deserialize, Serialize};
use std::sync::LazyLock;

/// A machine that feeds the board lengthwise under two hold-down rollers. Every value can be measured
/// on the machine with a rule: `docs/measure-your-machine.md` tells how.
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
    /// Width of the strip of the underside that the position sensor reads; 0 for a machine without.
    pub sensing_strip: Mm,
    /// Along which edge of the board the strip lies.
    pub sensing_edge: BoardEdge,
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

/// The built-in profiles. The roller distance of 3.5 in, the smallest piece and the sensing strip are
/// common practice (no source); all other values are round ones of our own, to be replaced by what is
/// measured on the machine.
pub fn machines() -> &'static [Machine] {
    static MACHINES: LazyLock<Vec<Machine>> = LazyLock::new(|| {
        let inch = Mm::from_inches;
        let compact = Machine {
            id: "compact".to_owned(),
            name: "Compact, inch sizes".to_owned(),
            infeed_roller: inch(3.5),
            outfeed_roller: inch(3.5),
            feed: FeedDirection::LeftFirst,
            side_margin: Mm::ZERO,
            sensing_strip: inch(0.375),
            sensing_edge: BoardEdge::Reference,
            release_step: Mm::new(0.2),
            hold_down: 40.0,
            longest: inch(120.0),
            widest: inch(14.0),
            thickest: inch(4.0),
            shortest: inch(7.0),
            narrowest: inch(1.5),
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
            infeed_roller: Mm::new(90.0),
            outfeed_roller: Mm::new(90.0),
            sensing_strip: Mm::new(10.0),
            longest: Mm::new(3000.0),
            widest: Mm::new(350.0),
            thickest: Mm::new(100.0),
            shortest: Mm::new(180.0),
            narrowest: Mm::new(40.0),
            thinnest: Mm::new(12.0),
            ..compact.clone()
        };
        let long_bed = Machine {
            id: "long-bed".to_owned(),
            name: "Long bed, rollers apart".to_owned(),
            infeed_roller: Mm::new(150.0),
            outfeed_roller: Mm::new(120.0),
            side_margin: Mm::new(5.0),
            sensing_strip: Mm::ZERO,
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

impl Machine {
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

    /// From roller to roller.
    pub fn roller_span(&self) -> Mm {
        self.infeed_roller + self.outfeed_roller
    }
}
