//! One design at several sizes: what each would be, need, lose and cost.
//!
//! A size that the job's own board takes is proofed on it. A larger one is proofed on the board that
//! would have to be bought for it: as long and wide as it needs, as thick as the job's (or thicker where
//! the depth asks for it), with nothing marked or measured yet. So a size is unsound for what would
//! become of the carving, not for want of a board, and the row says which board it takes.

use super::fit::{self, board_needed};
use super::ground;
use super::price::{Price, PricedPiece, price};
use super::{Finding, FindingKind, Measured, Proof, Ratings, Severity, proof, rate};
use crate::geometry::Rect;
use crate::job::{Edit, Job, Placement, Rejected, Size};
use crate::shop::{Board, Prices, StockCheck};
use crate::units::{LengthUnit, Mm, parse_length, trimmed};
use glam::{DVec2, dvec2};
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// The most sizes in one list: more is a slip of the keyboard.
pub const MOST_SIZES: usize = 48;

/// A size a customer may choose.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct NamedSize {
    /// What it is called on paper.
    pub name: String,
    /// How large.
    pub size: Size,
}

/// What the least sound size is called where only its walls and grooves are sound.
const WALLS_SOUND: &str = "Least size with sound walls";

/// Where a row comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RowKind {
    /// The user picked it.
    Picked,
    /// The least size at which no wall or groove is too thin.
    LeastSound,
    /// The largest the job's own board takes.
    LargestForBoard,
}

/// Which board a size is carved from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BoardTaken {
    /// The job's own.
    Own,
    /// One that has to be found or bought.
    Other,
}

/// A size, worked out.
#[derive(Clone, Debug)]
pub struct SizeRow {
    /// What it is called.
    pub name: String,
    /// Where it comes from.
    pub kind: RowKind,
    /// The job at this size, on the board it takes.
    pub job: Job,
    /// The proof of that.
    pub proof: Proof,
    /// The part of its board that is carved, with a little of the board round it, board millimetres.
    pub carved_part: Rect,
    /// Which board it takes.
    pub board: BoardTaken,
    /// The board this size needs: length, width, thickness.
    pub to_buy: [Mm; 3],
    /// The nearest dressed lumber that holds it, by name; `None` where none does.
    pub dressed: Option<String>,
    /// What will not come out as drawn.
    pub lost: Lost,
    /// Minutes at the machine; `None` where they are not worked out.
    pub minutes: Option<f64>,
    /// What it costs.
    pub price: Price,
}

/// What will not come out as drawn, counted. What is told as a note alone is left out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Lost {
    /// Walls that are too thin.
    pub walls: usize,
    /// Points whose ends will break.
    pub points: usize,
    /// The longest end lost of them.
    #[serde(rename = "longest_point_mm")]
    pub longest_point: Mm,
    /// Grooves the cutter cannot enter.
    pub grooves: usize,
    /// Long corners that it cannot follow.
    pub corners: usize,
    /// V grooves too narrow to show.
    pub shallow: usize,
}

/// Sizes that cannot be read.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum SizesError {
    /// There is none.
    #[error("name at least one size, for example 8in, 10in wide, 150%, drawn or fit")]
    None,
    /// There are too many.
    #[error("{count} sizes are too many for one list; name at most {MOST_SIZES}")]
    TooMany {
        /// How many there are.
        count: usize,
    },
    /// One does not read as a size.
    #[error("'{text}' is not a size; write for example 8in, 10in wide, 150%, drawn, fit or Small=8in")]
    NotASize {
        /// As it was written.
        text: String,
    },
    /// It is no length that can be carved.
    #[error("'{text}' is no size that can be carved; it must be over 0 and under 10000 times as drawn")]
    NoSuchSize {
        /// As it was written.
        text: String,
    },
}

impl SizeRow {
    /// How serious its worst finding is.
    pub fn severity(&self) -> Severity {
        self.proof.verdict.severity
    }

    /// `12 in x 4 in (304.8 x 101.6 mm)`: the finished size in the user's unit and in the other.
    pub fn both_units(&self, unit: LengthUnit) -> String {
        let other = match unit {
            LengthUnit::Millimetres => LengthUnit::InchFraction,
            _ => LengthUnit::Millimetres,
        };
        let both = |unit: LengthUnit| {
            format!("{} x {}", unit.number(self.proof.length), unit.show(self.proof.width))
        };
        format!("{} ({})", both(unit), both(other))
    }

    /// The board it needs, with the job's own where that takes it, or else the nearest dressed size.
    pub fn board_words(&self, unit: LengthUnit) -> String {
        let [length, width, thickness] = self.to_buy;
        let size = format!("{} x {} x {}", unit.number(length), unit.number(width), unit.show(thickness));
        let dressed = match &self.dressed {
            Some(name) => format!(", a dressed {name}"),
            None => ", glued up: no dressed size is as large".to_owned(),
        };
        match self.board {
            BoardTaken::Own => {
                let own = self.job.board();
                let own = format!(
                    "{} x {} x {}",
                    unit.number(own.length),
                    unit.number(own.width),
                    unit.show(own.thickness)
                );
                format!("{size}; the board of {own} takes it")
            }
            BoardTaken::Other => format!("{size}{dressed}"),
        }
    }

    /// The thinnest wall, or that there is none.
    pub fn wall_words(&self, unit: LengthUnit) -> String {
        self.proof.thinnest_wall.map_or_else(|| "none".to_owned(), |wall| unit.show_fine(wall))
    }

    /// `38 min`, `2 h 05 min`, or that nobody has worked it out.
    pub fn time_words(&self) -> String {
        time_words(self.minutes)
    }
}

/// `38 min`, `2 h 05 min`, or that nobody has worked it out.
pub fn time_words(minutes: Option<f64>) -> String {
    match minutes.filter(|minutes| minutes.is_finite()) {
        None => "not worked out".to_owned(),
        Some(minutes) if minutes < 60.0 => format!("{} min", trimmed(minutes.ceil(), 0)),
        Some(minutes) => {
            let whole = minutes.ceil();
            format!("{} h {:02.0} min", trimmed((whole / 60.0).floor(), 0), whole % 60.0)
        }
    }
}

impl Lost {
    /// Counts what is graver than a note.
    fn of(findings: &[Finding]) -> Lost {
        let mut lost = Lost::default();
        for finding in findings.iter().filter(|finding| finding.severity > Severity::Sound) {
            match finding.kind {
                FindingKind::ThinWall => lost.walls += 1,
                FindingKind::LostTip => {
                    lost.points += 1;
                    lost.longest_point = lost.longest_point.max(finding.measured);
                }
                FindingKind::BlockedGroove if finding.apex > 0.0 => lost.corners += 1,
                FindingKind::BlockedGroove => lost.grooves += 1,
                FindingKind::ShallowGroove => lost.shallow += 1,
                _ => {}
            }
        }
        lost
    }

    /// In words: `4 walls may chip out, 2 grooves cannot be entered`; `nothing`.
    pub fn words(&self, unit: LengthUnit) -> String {
        let count = |number: usize, one: &str, many: &str| match number {
            0 => None,
            1 => Some(format!("1 {one}")),
            _ => Some(format!("{number} {many}")),
        };
        let points = count(self.points, "point breaks", "points break").map(|points| {
            let longest = unit.show_fine(self.longest_point);
            if self.points == 1 {
                format!("{points} off, {longest} of it")
            } else {
                format!("{points} off, up to {longest} of one")
            }
        });
        let parts: Vec<String> = [
            count(self.walls, "wall may chip out", "walls may chip out"),
            points,
            count(self.grooves, "groove cannot be entered", "grooves cannot be entered"),
            count(self.corners, "corner stays round", "corners stay round"),
            count(self.shallow, "V groove hardly shows", "V grooves hardly show"),
        ]
        .into_iter()
        .flatten()
        .collect();
        if parts.is_empty() { "nothing".to_owned() } else { parts.join(", ") }
    }
}

/// Reads sizes as they are typed, apart by commas: `8in`, `10in wide`, `150%`, `drawn`, `fit`, each with
/// a name if wanted, as in `Small=8in`. A length is along the board; a bare one is in `bare`.
///
/// ```
/// # use spelk::{job::Size, proof::sizes::parse_sizes, units::{LengthUnit, Mm}};
/// let sizes = parse_sizes("Small=8in, 150%", LengthUnit::Millimetres).unwrap();
/// assert_eq!((sizes[0].name.as_str(), sizes[0].size), ("Small", Size::Length(Mm::from_inches(8.0))));
/// assert_eq!((sizes[1].name.as_str(), sizes[1].size), ("150%", Size::Factor(1.5)));
/// ```
pub fn parse_sizes(text: &str, bare: LengthUnit) -> Result<Vec<NamedSize>, SizesError> {
    let parts: Vec<&str> = text.split(',').map(str::trim).filter(|part| !part.is_empty()).collect();
    match parts.len() {
        0 => Err(SizesError::None),
        count if count > MOST_SIZES => Err(SizesError::TooMany { count }),
        _ => parts.into_iter().map(|part| parse_size(part, bare)).collect(),
    }
}

fn parse_size(text: &str, bare: LengthUnit) -> Result<NamedSize, SizesError> {
    let not_a_size = || SizesError::NotASize { text: text.to_owned() };
    let (name, size) = match text.rsplit_once('=') {
        Some((name, size)) => (name.trim(), size.trim()),
        None => (text, text),
    };
    let lower = size.to_lowercase();
    let length = |text: &str| parse_length(text, bare).map_err(|_told_with_the_whole| not_a_size());
    let (usual, size) = match lower.as_str() {
        "fit" => ("Largest for this board", Size::Fit),
        "drawn" => ("As drawn", Size::Factor(1.0)),
        other => match (other.strip_suffix('%'), other.strip_suffix("wide")) {
            (Some(number), _) => {
                let percent: f64 = number.trim().parse().map_err(|_told_with_the_whole| not_a_size())?;
                (size, Size::Factor(percent / 100.0))
            }
            (None, Some(width)) => (size, Size::Width(length(width)?)),
            (None, None) => (size, Size::Length(length(other)?)),
        },
    };
    let name = if name == text { usual } else { name };
    Ok(NamedSize { name: name.to_owned(), size })
}

/// Works out the sizes of a job, smallest first: those that were picked, the least sound one, and the
/// largest for the job's board. The design was measured under the job's treatments and rated for the
/// job. `time` tells the minutes a job takes at the machine, where it can. A look-up a size.
///
/// Refuses a size that is none; nothing else fails.
pub fn sizes(
    job: &Job,
    measured: &Measured,
    ratings: &Ratings,
    wanted: &[NamedSize],
    prices: &Prices,
    unit: LengthUnit,
    time: &dyn Fn(&Job) -> Option<f64>,
) -> Result<Vec<SizeRow>, SizesError> {
    let least = ratings.least_sound_factor().filter(|least| least.is_finite());
    let own = |kind: RowKind, factor: f64| {
        (kind, NamedSize { name: kind.label().to_owned(), size: Size::Factor(factor) })
    };
    let largest = Some(job.largest_factor()).filter(|&largest| largest > 0.0);
    let picked = wanted.iter().filter(|named| named.size != Size::Fit);
    let named_largest = wanted.iter().find(|named| named.size == Size::Fit);
    let mut all: Vec<(RowKind, NamedSize)> = picked.map(|named| (RowKind::Picked, named.clone())).collect();
    all.extend(least.map(|factor| own(RowKind::LeastSound, factor)));
    all.extend(largest.map(|factor| {
        let (kind, row) = own(RowKind::LargestForBoard, factor);
        (kind, NamedSize { name: named_largest.map_or(row.name, |named| named.name.clone()), ..row })
    }));
    let mut rows = Vec::with_capacity(all.len());
    for (kind, named) in all {
        let text = named.name.clone();
        match row(job, named, kind, measured, ratings, prices, unit, time) {
            Ok(row) => rows.push(row),
            // Nobody asked for it, and no board is as large.
            Err(_) if kind == RowKind::LeastSound => {}
            Err(_) => return Err(SizesError::NoSuchSize { text }),
        }
    }
    rows.sort_by(|a, b| a.proof.factor.total_cmp(&b.proof.factor).then(a.kind.cmp(&b.kind)));
    Ok(rows)
}

#[expect(clippy::too_many_arguments, reason = "the list's own, and one row of it")]
fn row(
    of: &Job,
    named: NamedSize,
    kind: RowKind,
    measured: &Measured,
    ratings: &Ratings,
    prices: &Prices,
    unit: LengthUnit,
    time: &dyn Fn(&Job) -> Option<f64>,
) -> Result<SizeRow, Rejected> {
    let factor = of.with([Edit::Size(named.size)])?.factor();
    let (job, board) = on_its_board(of.with([Edit::Size(Size::Factor(factor))])?, factor)?;
    // Another thickness is another height of the walls beside a cut through the board.
    let proof = if job.board().thickness == of.board().thickness {
        proof(&job, measured, ratings)
    } else {
        proof(&job, measured, &rate(&job, measured))
    };
    let needed = board_needed(&job, factor);
    let to_buy = [needed.length, needed.width, needed.thickness.max(job.board().thickness)];
    let dressed = crate::shop::dressed_size(to_buy[1], to_buy[2]).map(|size| size.name);
    let minutes = time(&job);
    // Its walls and grooves are sound; where the board, the machine or an end is not, it may not say so.
    let sound = proof.verdict.severity < Severity::Unsound;
    let name = if kind == RowKind::LeastSound && !sound { WALLS_SOUND.to_owned() } else { named.name };
    let piece = PricedPiece::of(&job, to_buy, [proof.length, proof.width], minutes);
    Ok(SizeRow {
        carved_part: carved_part(&job, &proof),
        lost: Lost::of(&proof.findings),
        price: price(prices, &piece, unit),
        name,
        kind,
        job,
        proof,
        board,
        to_buy,
        dressed,
        minutes,
    })
}

/// How much larger than all other boards that of the least sound size may be, to be drawn with them.
/// Chosen by eye: past it the sizes somebody asked for are too small on paper to tell apart.
const MOST_TIMES: f64 = 1.5;

/// What stands in place of the drawing of a row that is not drawn.
pub const NOT_DRAWN: &str = "Not drawn: its board is so large that the others would be too small to see";

/// Which rows are drawn to the common scale: all but a least sound size, which nobody asked for, where its
/// board is so large that the others would be too small to see. It is told in words.
pub fn drawn(rows: &[SizeRow]) -> Vec<bool> {
    let size = |row: &SizeRow| dvec2(row.job.board().length.get(), row.job.board().width.get());
    let asked = rows.iter().filter(|row| row.kind != RowKind::LeastSound).map(size).reduce(DVec2::max);
    let fits = |row: &SizeRow| asked.is_none_or(|asked| size(row).cmple(asked * MOST_TIMES).all());
    rows.iter().map(|row| row.kind != RowKind::LeastSound || fits(row)).collect()
}

/// The box round the outlines and the ground of a relief, grown a little, as far as the board goes.
fn carved_part(job: &Job, proof: &Proof) -> Rect {
    const AROUND: f64 = 5.0;
    let board = dvec2(job.board().length.get(), job.board().width.get());
    let outline = job.design().outline_box().corners();
    let outline = outline.map(|corner| proof.board_from_design.transform_point2(corner));
    let carved = Rect::around(outline.into_iter().chain(ground::ground(job, proof.factor)));
    let carved = carved.map_or_else(|| Rect::new(DVec2::ZERO, board), |carved| carved.grown(AROUND));
    let inside = |corner: DVec2| corner.clamp(DVec2::ZERO, board);
    Rect { min: inside(carved.min), max: inside(carved.max) }
}

/// The job on its own board where that takes the size, where it was put if it fits there; or on a board
/// just large enough.
fn on_its_board(job: Job, factor: f64) -> Result<(Job, BoardTaken), Rejected> {
    let middle = Edit::Place(Placement::Middle);
    Ok(match fit::fit(&job, factor).outcome {
        fit::FitOutcome::Fits => (job, BoardTaken::Own),
        fit::FitOutcome::Misplaced => (job.with([middle])?, BoardTaken::Own),
        _ => {
            let needed = board_needed(&job, factor);
            let board = Board {
                length: needed.length,
                width: needed.width,
                thickness: needed.thickness.max(job.board().thickness),
                blemishes: Vec::new(),
                stock: StockCheck::default(),
                photo: None,
            };
            (job.with([Edit::Board(Box::new(board)), middle])?, BoardTaken::Other)
        }
    })
}
