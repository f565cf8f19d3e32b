//! The shop's record: which walls held and which broke, and what that comes to.
//!
//! After a carve each wall that was watched is noted with its wood, cutter, pass, thickness, height, length, ends and
//! direction; with the limit that the cutter's reference wall alone gave it, and the chance it was told to have. The
//! [estimate](crate::proof::wall::Estimate) of all walls of one cutter becomes its [`Experience`], and limits follow
//! from that. Whether chances come true shows when walls are put together by the chance they were given: of those
//! given 80 % about 80 % should have held ([`Record::told`]).
//!
//! A record is a CSV file, a wall a line, so that a spreadsheet reads it and two shops can put theirs together.

use super::limit::{HeldWall, Limits};
use super::wall::{Estimate, Trial, WoodNumbers, constant};
use crate::job::{Job, Place};
use crate::shop::{Cutter, Experience, Wood};
use crate::units::Mm;
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// A wall that was carved.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CarvedWall {
    /// The id of its wood.
    pub wood: String,
    /// The id of the cutter beside it.
    pub cutter: String,
    /// The depth of the passes beside it.
    #[serde(rename = "pass_mm")]
    pub pass: Mm,
    /// The feed per tooth of those passes.
    #[serde(rename = "feed_per_tooth_mm")]
    pub feed_per_tooth: Mm,
    /// Its thickness where it was thinnest for its limit.
    #[serde(rename = "thickness_mm")]
    pub thickness: Mm,
    /// How tall it stood.
    #[serde(rename = "height_mm")]
    pub height: Mm,
    /// Its length in plan; blank for a wall that did not feel its ends.
    #[serde(rename = "length_mm")]
    pub length: Option<Mm>,
    /// What its ends did, as in the JSON proof.
    pub ends: String,
    /// The angle it ran at to the grain, degrees.
    pub direction_deg: f64,
    /// The limit that the cutter's reference wall gave it.
    #[serde(rename = "limit_mm")]
    pub limit: Mm,
    /// The cutter's constant then, along the grain, newtons for each millimetre of edge.
    pub constant: f64,
    /// The chance it was told to have, 0 to 1.
    pub chance: f64,
    /// Whether it stayed whole.
    pub held: bool,
}

/// Why a text is no record.
#[derive(Debug, Error)]
pub enum RecordError {
    /// It is no CSV with these columns.
    Damaged(csv::Error),
    /// A number in it makes no sense.
    Wrong {
        /// The line, counted from 1 with the head.
        line: usize,
    },
}

/// Every wall that was noted, oldest first.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Record {
    /// The walls.
    pub walls: Vec<CarvedWall>,
}

/// Walls that were told about the same chance, and how many held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Told {
    /// From this chance.
    pub from: f64,
    /// Up to this one.
    pub to: f64,
    /// The mean of the chances told; nothing where there are no walls.
    pub mean: f64,
    /// How many walls there are.
    pub walls: u32,
    /// How many of them held.
    pub held: u32,
}

impl Told {
    /// Whether there are enough walls to say anything: ten, a round value of our own.
    pub fn is_enough(&self) -> bool {
        self.walls >= 10
    }
}

/// Whether two estimates contradict each other: of each it is likely that it lies where the other hardly does.
pub fn apart(one: [f64; 2], other: [f64; 2]) -> bool {
    one[1] < other[0] || other[1] < one[0]
}

/// Chances are put together by fifths.
const PARTS: u32 = 5;

impl Record {
    /// Reads a record.
    ///
    /// # Errors
    ///
    /// Where the text is no CSV with the columns of [`CarvedWall`], or a number in it makes no sense.
    pub fn from_csv(text: &str) -> Result<Record, RecordError> {
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let walls: Vec<CarvedWall> =
            reader.deserialize().collect::<Result<_, _>>().map_err(RecordError::Damaged)?;
        match walls.iter().position(|wall| !wall.makes_sense()) {
            Some(index) => Err(RecordError::Wrong { line: index + 2 }),
            None => Ok(Record { walls }),
        }
    }

    /// The record as CSV, its head first.
    pub fn to_csv(&self) -> String {
        let mut writer = csv::WriterBuilder::new().has_headers(false).from_writer(Vec::new());
        writer.write_record(COLUMNS).expect("writing to memory does not fail");
        for wall in &self.walls {
            writer.serialize(wall).expect("writing to memory does not fail");
        }
        let bytes = writer.into_inner().expect("writing to memory does not fail");
        String::from_utf8(bytes).expect("CSV of text is text")
    }

    /// Adds the walls of another record that are not here yet; how many those are.
    pub fn merge(&mut self, other: Record) -> usize {
        let before = self.walls.len();
        for wall in other.walls {
            if !self.walls.contains(&wall) {
                self.walls.push(wall);
            }
        }
        self.walls.len() - before
    }

    /// The ids of the cutters it has walls of, in the order of their first walls.
    pub fn cutters(&self) -> Vec<&str> {
        let mut ids: Vec<&str> = Vec::new();
        for wall in &self.walls {
            if !ids.contains(&wall.cutter.as_str()) {
                ids.push(&wall.cutter);
            }
        }
        ids
    }

    /// What it comes to for a cutter; `None` where it has no wall of that.
    pub fn experience(&self, cutter: &Cutter) -> Option<Experience> {
        let now = constant_of(cutter);
        let walls = || self.walls.iter().filter(|wall| wall.cutter.eq_ignore_ascii_case(&cutter.id));
        let trial = |wall: &CarvedWall| {
            let limit = wall.limit * (now / wall.constant).sqrt();
            Trial { ratio: wall.thickness / limit, held: wall.held }
        };
        let trials: Vec<Trial> = walls().map(trial).collect();
        if trials.is_empty() {
            return None;
        }
        let all = Estimate::of(&trials);
        let by_direction = [true, false].map(|along| {
            let own: Vec<Trial> = walls().filter(|wall| wall.is_along() == along).map(trial).collect();
            Estimate::of(&own)
        });
        let [along, across] = by_direction.map(|estimate| estimate.likely);
        // Where the two could be the same they are: all walls say more than half of them.
        let [along, across] = if apart(along, across) { by_direction } else { [all; 2] };
        let held = trials.iter().filter(|trial| trial.held).count();
        let count = |number: usize| u32::try_from(number).unwrap_or(u32::MAX);
        Some(Experience {
            factor: [along.factor, across.factor],
            likely: [along.likely, across.likely],
            scatter: all.scatter,
            held: count(held),
            broke: count(trials.len() - held),
        })
    }

    /// Its walls by the chance they were told, the least first.
    pub fn told(&self) -> Vec<Told> {
        #[expect(clippy::cast_sign_loss, reason = "a chance is not negative")]
        let part = |chance: f64| ((chance * f64::from(PARTS)) as u32).min(PARTS - 1);
        (0..PARTS)
            .map(|index| {
                let here = || self.walls.iter().filter(|wall| part(wall.chance) == index);
                let walls = here().count();
                let sum: f64 = here().map(|wall| wall.chance).sum();
                let share = |step: u32| f64::from(step) / f64::from(PARTS);
                Told {
                    from: share(index),
                    to: share(index + 1),
                    mean: if walls == 0 { 0.0 } else { sum / walls as f64 },
                    walls: u32::try_from(walls).unwrap_or(u32::MAX),
                    held: u32::try_from(here().filter(|wall| wall.held).count()).unwrap_or(u32::MAX),
                }
            })
            .collect()
    }
}

const COLUMNS: [&str; 13] = [
    "wood",
    "cutter",
    "pass_mm",
    "feed_per_tooth_mm",
    "thickness_mm",
    "height_mm",
    "length_mm",
    "ends",
    "direction_deg",
    "limit_mm",
    "constant",
    "chance",
    "held",
];

/// Nothing that a machine carves is thicker, millimetres.
const THICKEST: f64 = 1.0e6;

impl CarvedWall {
    /// A wall of a job that was carved as the job says.
    pub fn of(job: &Job, place: Place, limits: &Limits, wall: &Watched, held: bool) -> CarvedWall {
        let cutter = job.cut(place).cutter;
        let factor = cutter.experience.map_or(1.0, |experience| experience.factor_at(wall.to_grain));
        let run = wall.held.run;
        CarvedWall {
            wood: job.wood().id.clone(),
            cutter: cutter.id.clone(),
            pass: limits.rule.cut.pass,
            feed_per_tooth: limits.rule.cut.feed_per_tooth,
            thickness: wall.width,
            height: wall.held.height,
            length: run.length.get().is_finite().then_some(run.length),
            ends: run.ends.id().to_owned(),
            direction_deg: wall.to_grain.to_degrees(),
            limit: wall.held.limit.thickness / factor,
            constant: constant_of(cutter),
            chance: wall.chance,
            held,
        }
    }

    /// Whether it runs rather along the grain than across.
    fn is_along(&self) -> bool {
        self.direction_deg.to_radians().cos().abs() >= std::f64::consts::FRAC_1_SQRT_2
    }

    fn makes_sense(&self) -> bool {
        let length = |length: Mm| length.get() > 0.0 && length.get() <= THICKEST;
        let or_none = |least: Mm| least.get() >= 0.0 && least.get() <= THICKEST;
        length(self.thickness)
            && length(self.limit)
            && length(self.height)
            && or_none(self.pass)
            && or_none(self.feed_per_tooth)
            && self.length.is_none_or(length)
            && self.direction_deg.is_finite()
            && self.constant > 0.0
            && self.constant.is_finite()
            && (0.0..=1.0).contains(&self.chance)
    }
}

/// A wall of a proof that somebody watched.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Watched {
    /// Its thickness.
    pub width: Mm,
    /// How it is held to its limit.
    pub held: HeldWall,
    /// The angle it runs at to the grain, radians.
    pub to_grain: f64,
    /// The chance it is told to have.
    pub chance: f64,
}

/// A cutter's constant along the grain by its reference wall alone.
pub fn constant_of(cutter: &Cutter) -> f64 {
    let built_in = Wood::find("basswood_american").expect("the starting wood is built in");
    let wood = WoodNumbers::of_reference(&cutter.reference, built_in);
    constant(&cutter.reference, &wood, 2.0 * cutter.shape.side_slope())[0]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wall(thickness: f64, chance: f64, held: bool) -> CarvedWall {
        let cutter = Cutter::find("flat-1/8in").unwrap();
        CarvedWall {
            wood: "basswood_american".to_owned(),
            cutter: cutter.id.clone(),
            pass: Mm::new(1.5),
            feed_per_tooth: Mm::new(0.04),
            thickness: Mm::new(thickness),
            height: Mm::new(3.0),
            length: (thickness > 1.0).then_some(Mm::new(20.0)),
            ends: "joined".to_owned(),
            direction_deg: 90.0,
            limit: Mm::new(1.5),
            constant: constant_of(cutter),
            chance,
            held,
        }
    }

    #[test]
    fn a_record_comes_back_from_its_csv() {
        let record = Record { walls: vec![wall(1.25, 0.3, true), wall(0.8, 0.01, false)] };
        let text = record.to_csv();
        assert!(text.starts_with("wood,cutter,pass_mm,"), "{text}");
        assert_eq!(Record::from_csv(&text).unwrap(), record);
        assert_eq!(Record::from_csv(&Record::default().to_csv()).unwrap(), Record::default());
        let mut twice = record.clone();
        assert_eq!(twice.merge(record.clone()), 0, "the same walls are not counted twice");
        assert_eq!(twice, record);
    }

    #[test]
    fn what_is_no_record_says_so() {
        assert!(matches!(Record::from_csv("a,b\n1,2\n"), Err(RecordError::Damaged(_))));
        let nonsense = Record { walls: vec![wall(1.0, 0.5, true), wall(-1.0, 0.5, true)] }.to_csv();
        assert!(matches!(Record::from_csv(&nonsense), Err(RecordError::Wrong { line: 3 })));
    }

    #[test]
    fn walls_that_broke_though_they_were_thick_ask_for_thicker_ones() {
        let cutter = Cutter::find("flat-1/8in").unwrap();
        let broke = Record { walls: (0..8).map(|i| wall(1.5 + 0.1 * f64::from(i), 0.6, false)).collect() };
        let experience = broke.experience(cutter).unwrap();
        assert!(
            experience.factor[0] > 1.3
                && experience.factor[0] == experience.factor[1]
                && experience.broke == 8,
            "{experience:?}"
        );
        assert_eq!(broke.experience(Cutter::find("vee-60").unwrap()), None);
        // A cutter trusted with a wall a tenth thinner since has a smaller constant: walls that broke before ask for
        // more of it. None of these is so thick that it counts as a slip.
        let mut finer = cutter.clone();
        finer.reference.along = cutter.reference.along * 0.9;
        let factor = |of: &Cutter| broke.experience(of).unwrap().factor[0];
        assert!(factor(&finer) > factor(cutter), "{} and {}", factor(&finer), factor(cutter));
    }

    #[test]
    fn a_ratio_that_contradicts_the_models_is_the_shops_own() {
        let cutter = Cutter::find("flat-1/8in").unwrap();
        let along = |thickness: f64, held| CarvedWall { direction_deg: 0.0, ..wall(thickness, 0.5, held) };
        // Along the grain walls hold at two thirds of their limit; across they break at half as much again.
        let mut walls: Vec<CarvedWall> =
            (0..10).map(|i| 0.6 + 0.1 * f64::from(i)).map(|t| along(t, t > 0.95)).collect();
        walls.extend((0..12).map(|i| 1.0 + 0.2 * f64::from(i)).map(|t| wall(t, 0.5, t > 2.25)));
        let Experience { factor: [along, across], .. } = Record { walls }.experience(cutter).unwrap();
        assert!((0.55..0.8).contains(&along) && (1.3..1.7).contains(&across), "{along} {across}");
    }

    #[test]
    fn walls_are_put_together_by_the_chance_they_were_told() {
        let walls = (0..20)
            .map(|i| wall(2.0, 0.81 + 0.001 * f64::from(i), i % 5 != 0))
            .chain([wall(1.0, 1.0, true), wall(1.0, 0.0, false)]);
        let told = Record { walls: walls.collect() }.told();
        assert_eq!(told.len(), 5);
        assert_eq!((told[4].walls, told[4].held, told[0].walls), (21, 17, 1));
        assert!(told[4].is_enough() && !told[0].is_enough());
        assert!((told[4].mean - 0.83).abs() < 0.01, "{}", told[4].mean);
    }
}
