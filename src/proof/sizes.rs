//! One design at several sizes: what each would be, need, lose and cost.
//!
//! A size that the job's own board takes is proofed on it. A larger one is proofed on the board that
//! would have to be bought for it: as long and wide as it needs, as thick as the job's (or thicker where
//! the depth asks for it), with nothing marked or measured yet. So a size is unsound for what would
//! become of the carving, not for want of a board, and the row says which board it takes.

use super::fit::{self, board_needed};
use super::ground;
use super::price::{Price, PricedPiece, price};
use super::{Facts, Finding, LONGEST_PRACTICAL, Measured, Proof, Ratings, Severity, proof, rate};
use crate::geometry::Rect;
use crate::job::{Edit, Job, Placement, Rejected, Size};
use crate::shop::{Board, Prices, StockCheck};
use crate::units::{LengthUnit, Mm, parse_length};
use glam::{DVec2, dvec2};
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// The most sizes in one list: more is a slip of the keyboard.
pub const MOST_SIZES: usize = 48;

/// A size a customer may choose.
#[derive(Clone, Debug, PartialEq)]
pub struct NamedSize {
    /// What it is called on paper.
    pub name: SizeName,
    /// How large.
    pub size: Size,
}

/// What a size is called.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SizeName {
    /// As the user says; else as the size was typed.
    Given(String),
    /// The size of the drawing.
    AsDrawn,
    /// The largest the job's own board takes.
    Largest,
    /// The least at which no wall or groove is too thin.
    LeastSound,
    /// The same where the board, the machine or an end is not sound: its walls and grooves are.
    LeastSoundWalls,
}

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
    pub name: SizeName,
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
    None,
    /// There are too many.
    TooMany {
        /// How many there are.
        count: usize,
    },
    /// One does not read as a size.
    NotASize {
        /// As it was written.
        text: String,
    },
    /// It is no length that can be carved.
    NoSuchSize {
        /// What it is called: as it was written.
        name: SizeName,
    },
}

impl SizeRow {
    /// How serious its worst finding is.
    pub fn severity(&self) -> Severity {
        self.proof.verdict.severity
    }
}

impl Lost {
    /// Counts what is graver than a note.
    fn of(findings: &[Finding]) -> Lost {
        let mut lost = Lost::default();
        for finding in findings.iter().filter(|finding| finding.severity() > Severity::Sound) {
            match &finding.facts {
                Facts::ThinWall { .. } => lost.walls += 1,
                Facts::LostTip { place, .. } => {
                    lost.points += 1;
                    lost.longest_point = lost.longest_point.max(place.run);
                }
                Facts::RoundedCorner { .. } => lost.corners += 1,
                Facts::BlockedGroove { .. } => lost.grooves += 1,
                Facts::ShallowGroove { .. } => lost.shallow += 1,
                _ => {}
            }
        }
        lost
    }
}

/// Reads sizes as they are typed, apart by commas: `8in`, `10in wide`, `150%`, `drawn`, `fit`, each with
/// a name if wanted, as in `Small=8in`. A length is along the board; a bare one is in `bare`.
///
/// ```
/// # use spelk::{job::Size, proof::sizes::{SizeName, parse_sizes}, units::{LengthUnit, Mm}};
/// let sizes = parse_sizes("Small=8in, 150%", LengthUnit::Millimetres).unwrap();
/// assert_eq!(sizes[0].size, Size::Length(Mm::from_inches(8.0)));
/// assert_eq!(sizes[1].name, SizeName::Given("150%".to_owned()));
/// ```
///
/// # Errors
///
/// Where there are none, more than [`MOST_SIZES`], or one that does not read as a size.
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
    let given = || SizeName::Given(name.to_owned());
    let (usual, size) = match lower.as_str() {
        "fit" => (SizeName::Largest, Size::Fit),
        "drawn" => (SizeName::AsDrawn, Size::Factor(1.0)),
        other => match (other.strip_suffix('%'), other.strip_suffix("wide")) {
            (Some(number), _) => {
                let percent: f64 = number.trim().parse().map_err(|_told_with_the_whole| not_a_size())?;
                (given(), Size::Factor(percent / 100.0))
            }
            (None, Some(width)) => (given(), Size::Width(length(width)?)),
            (None, None) => (given(), Size::Length(length(other)?)),
        },
    };
    Ok(NamedSize { name: if name == text { usual } else { given() }, size })
}

/// Works out the sizes of a job, smallest first: those that were picked, the least sound one, and the
/// largest for the job's board. A least sound size that nobody would carve is left out. The design was measured under the job's treatments and rated for the
/// job. `time` tells the minutes a job takes at the machine, where it can. A look-up a size.
///
/// # Errors
///
/// Where one is no size that the job takes.
pub fn sizes(
    job: &Job,
    measured: &Measured,
    ratings: &Ratings,
    wanted: &[NamedSize],
    prices: &Prices,
    time: &dyn Fn(&Job) -> Option<f64>,
) -> Result<Vec<SizeRow>, SizesError> {
    let longest = job.frame_on_board().max_element();
    let least = ratings.least_sound_factor().filter(|least| longest * least <= LONGEST_PRACTICAL.get());
    let largest = Some(job.largest_factor()).filter(|&largest| largest > 0.0);
    let picked = wanted.iter().filter(|named| named.size != Size::Fit);
    let named_largest = wanted.iter().find(|named| named.size == Size::Fit);
    let mut all: Vec<(RowKind, NamedSize)> = picked.map(|named| (RowKind::Picked, named.clone())).collect();
    all.extend(least.map(|factor| {
        (RowKind::LeastSound, NamedSize { name: SizeName::LeastSound, size: Size::Factor(factor) })
    }));
    all.extend(largest.map(|factor| {
        let name = named_largest.map_or(SizeName::Largest, |named| named.name.clone());
        (RowKind::LargestForBoard, NamedSize { name, size: Size::Factor(factor) })
    }));
    let mut rows = Vec::with_capacity(all.len());
    for (kind, named) in all {
        let name = named.name.clone();
        match row(job, named, kind, measured, ratings, prices, time) {
            Ok(row) => rows.push(row),
            // Nobody asked for it, and no board is as large.
            Err(_) if kind == RowKind::LeastSound => {}
            Err(_) => return Err(SizesError::NoSuchSize { name }),
        }
    }
    rows.sort_by(|a, b| a.proof.factor.total_cmp(&b.proof.factor).then(a.kind.cmp(&b.kind)));
    Ok(rows)
}

fn row(
    of: &Job,
    named: NamedSize,
    kind: RowKind,
    measured: &Measured,
    ratings: &Ratings,
    prices: &Prices,
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
    let name = if kind == RowKind::LeastSound && !sound { SizeName::LeastSoundWalls } else { named.name };
    let piece = PricedPiece::of(&job, to_buy, [proof.length, proof.width], minutes);
    Ok(SizeRow {
        carved_part: carved_part(&job, &proof),
        lost: Lost::of(&proof.findings),
        price: price(prices, &piece),
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
                sawn: job.board().sawn,
                blemishes: Vec::new(),
                stock: StockCheck::default(),
                photo: None,
            };
            (job.with([Edit::Board(Box::new(board)), middle])?, BoardTaken::Other)
        }
    })
}
