//! The saved job: one JSON file with the outline inside it, that a person can read.
//!
//! ```json
//! {
//!   "format": "spelk.job", "version": 5,
//!   "design": { "name": "...", "grid": {...}, "page": null, "elements": [
//!     { "name": "border", "treatment": "relief", "rings": ["0,0 10,0 10,10 0,10", "..."] },
//!     { "name": "letters", "treatment": "sunk", "depth": 6.0, "cutter": {...}, "rings": ["..."] } ] },
//!   "board": {...}, "wood": {...}, "cutter": {...}, "machine": {...},
//!   "depth": 3.0, "ends": "held", "size": { "factor": 1.0 }, "frame": "outline",
//!   "turn": "as-drawn", "at": "middle", "side_margin": null, "ground_margin": null,
//!   "clearing": {...}, "accepted": ["thin_wall-thin_wall-17"], "remark": "Brass hinges, not steel"
//! }
//! ```
//!
//! Lengths are millimetres, y up. A ring is written as SVG writes the points of a polygon; holes run
//! clockwise. The wood, cutter and machine are written out in full, so that a job proofs the same in
//! another shop; what was not set is left out: `reading`, `clearing`, `trust`, an element's own `depth` and `cutter`,
//! `accepted`, `remark`. Reading a file back gives the same regions to the last bit.
//!
//! Version 1 had only `clearing` of these, and up to version 2 what the reader had noticed was kept as
//! sentences. Up to version 3 the board had no `sawn`, the cutter no speed of its spindle and its reference wall no
//! cut beside it, and the limits of walls followed from another sum. All are still read: the sentences are left out,
//! what is lacking starts at its usual value, and the job says that its limits are worked out anew. Up to version 4 no design
//! was traced from a picture; since then one that was has its `sharpness`: `{ "pixel": 0.2, "tolerance": 0.05 }`.
//! Version 6 is written where there are several copies or pieces; a job of one piece is written as version 5, which
//! holds all of it. What stands above is then said of the piece in hand, and `pieces` has the rest: the gap, where
//! the one in hand comes in the list, its copies, and the others with all that is set for each.
//! Version 7 is written where an element has `groups` it is in, or a `color`: `["Sign", "Letters"]`, `"#4a3020"`.

use super::pieces::Pieces;
use super::{
    Carving, Clearing, Ends, Frame, Job, Lie, Lot, Notes, Piece, Placement, Placing, Rejected, Size, Tooling,
    Treatment, Trust, Turn, Turns,
};
use crate::design::lettering::Lettering;
use crate::design::{
    Color, Design, DrawingNotice, EdgesLie, Element, MAX_EXTENT, MAX_SEGMENTS, MIN_EXTENT, Origin,
    ReadOptions, Sharpness, check_crossings,
};
use crate::geometry::{Grid, Rect, Region};
use crate::notice::Notices;
use crate::shop::{Cutter, Machine, Wood, WrittenBoard};
use crate::units::Mm;
use crate::whole_file::{self, Existing, ReadError, WriteError, ending};
use glam::DVec2;
use serde::de::IgnoredAny;
use serde::{Deserialize, Deserializer, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::Path;
use std::sync::Arc;
use thiserror::Error;

const FORMAT: &str = "spelk.job";
/// The newest version, which is written where elements have groups or colours.
pub const VERSION: u32 = 7;
/// The version that holds all of a job of several pieces without them.
const PIECES: u32 = 6;
/// The version that holds all of a job of one piece without them.
const ONE_PIECE: u32 = 5;
/// Since when the limits of walls follow from the push of the cutter.
const LIMITS_BY_PUSH: u32 = 4;
/// The oldest version that is still read.
pub const OLDEST: u32 = 1;

/// The endings of the files that a job is opened from: drawings, and saved jobs.
pub const OPENED: [&str; 4] = ["svg", "svgz", "dxf", "spelk"];

/// Whether a path is a saved job's, by its ending.
pub fn is_saved_job(path: &Path) -> bool {
    ending(path) == "spelk"
}

/// The largest job file that is read: far above any that is written for a design within its limits.
pub const MOST_BYTES: u64 = 128 << 20;

/// Why a job could not be saved. The caller names the file.
#[derive(Debug, Error)]
pub enum SaveError {
    /// What was there before is still there.
    Unwritable(WriteError),
}

/// Why a saved job could not be opened. The caller names the file; it is left alone.
#[derive(Debug, Error)]
pub enum OpenError {
    /// The file could not be opened or read.
    Unreadable(ReadError),
    /// The file is not a job.
    NotAJob,
    /// The file is of a version of the format that is not read: the [newest](VERSION) or older, down to the
    /// [oldest](OLDEST), are.
    UnknownVersion {
        /// The version in the file.
        found: u64,
    },
    /// The file is a job, but not whole.
    Damaged(Damage),
}

/// What is wrong with a damaged job.
#[derive(Debug, Error)]
pub enum Damage {
    /// The text breaks off, or is not what a job is written in.
    Text(serde_json::Error),
    /// The design's grid has a step or origin that no grid has.
    Grid,
    /// The design has no element.
    NoElements,
    /// The page has no size, or one that no drawing has.
    Page,
    /// The picture the design was traced from has pixels of no size that can be.
    Sharpness,
    /// There are more corners than a design may have.
    TooManyPoints,
    /// The outlines cross too often to be cleaned.
    Tangled,
    /// An element has no name.
    NoName,
    /// Two elements have one name.
    OneName {
        /// That name.
        element: String,
    },
    /// Two elements lie over each other.
    Overlap {
        /// The name of the one.
        one: String,
        /// The name of the other.
        other: String,
    },
    /// An outline lies where the design's grid does not reach.
    OffGrid {
        /// The element's name.
        element: String,
    },
    /// An outline does not read as points.
    NotPoints {
        /// The element's name.
        element: String,
    },
    /// An element's outlines have no area.
    NoArea {
        /// The element's name.
        element: String,
    },
    /// A value is not one that a job may have.
    Value(Box<Rejected>),
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SavedJob {
    format: String,
    version: u32,
    design: SavedDesign,
    board: WrittenBoard,
    wood: Wood,
    cutter: Cutter,
    machine: Machine,
    depth: Mm,
    ends: Ends,
    size: Size,
    frame: Frame,
    turn: Turn,
    at: Placement,
    side_margin: Option<Mm>,
    ground_margin: Option<Mm>,
    // Not in files saved before it was kept, nor where nothing was left open.
    #[serde(default, skip_serializing_if = "ReadOptions::is_usual")]
    reading: ReadOptions,
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    lettering: BTreeMap<String, Lettering>,
    // Not in files saved before there were clearing settings, nor where nothing was set.
    #[serde(default, skip_serializing_if = "Clearing::is_usual")]
    clearing: Clearing,
    #[serde(default, skip_serializing_if = "Trust::is_usual")]
    trust: Trust,
    #[serde(default, skip_serializing_if = "BTreeSet::is_empty")]
    accepted: BTreeSet<String>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    remark: String,
    // Not where there is one piece.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pieces: Option<SavedPieces>,
}

/// What lies beside the piece in hand.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SavedPieces {
    gap: Option<Mm>,
    place: usize,
    copies: SavedLot,
    beside: Vec<SavedPiece>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SavedLot {
    count: usize,
    turns: Turns,
    laid: bool,
    copy: usize,
    others: Vec<Lie>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SavedPiece {
    design: SavedDesign,
    copies: SavedLot,
    cut: SavedCut,
    lies: SavedPlacing,
    #[serde(default, skip_serializing_if = "ReadOptions::is_usual")]
    reading: ReadOptions,
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    lettering: BTreeMap<String, Lettering>,
    #[serde(default, skip_serializing_if = "BTreeSet::is_empty")]
    accepted: BTreeSet<String>,
}

/// What a piece is cut with.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SavedCut {
    cutter: Cutter,
    depth: Mm,
    #[serde(default, skip_serializing_if = "Clearing::is_usual")]
    clearing: Clearing,
    #[serde(default, skip_serializing_if = "Trust::is_usual")]
    trust: Trust,
}

/// How large a piece is, and where its copy in hand lies.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SavedPlacing {
    size: Size,
    frame: Frame,
    turn: Turn,
    at: Placement,
    ground_margin: Option<Mm>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SavedDesign {
    name: String,
    grid: Grid,
    page: Option<Rect>,
    elements: Vec<SavedElement>,
    #[serde(deserialize_with = "noticed")]
    notices: Notices<DrawingNotice>,
    // Not in files saved before pictures were traced, nor where the design was drawn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    sharpness: Option<Sharpness>,
}

/// What the reader noticed. Up to version 2 that is a list of sentences, which are no facts and are dropped.
fn noticed<'de, D: Deserializer<'de>>(from: D) -> Result<Notices<DrawingNotice>, D::Error> {
    #[derive(Deserialize)]
    #[serde(untagged)]
    enum Either {
        Facts(Notices<DrawingNotice>),
        Sentences(#[expect(dead_code, reason = "dropped")] Vec<IgnoredAny>),
    }
    Ok(match Either::deserialize(from)? {
        Either::Facts(notices) => notices,
        Either::Sentences(_) => Notices::new(),
    })
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SavedElement {
    name: String,
    treatment: Treatment,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    depth: Option<Mm>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    cutter: Option<Cutter>,
    // Not in files saved before groups and colours were kept, nor where there are none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    groups: Vec<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    color: Option<Color>,
    rings: Vec<String>,
}

/// Saves a job: written in full under a temporary name in the same folder, then renamed, so that the
/// file is at every moment either the old one or the new one.
///
/// # Errors
///
/// Where the file cannot be written; what was saved there before is unchanged.
pub fn save(job: &Job, path: &Path) -> Result<(), SaveError> {
    whole_file::write(path, to_text(job).as_bytes(), Existing::Replace).map_err(SaveError::Unwritable)
}

/// Opens a saved job.
///
/// # Errors
///
/// As for [`from_text`], and where the file cannot be read or is too large.
pub fn open(path: &Path) -> Result<Job, OpenError> {
    from_text(&whole_file::read(path, MOST_BYTES).map_err(OpenError::Unreadable)?)
}

/// The saved form of a job.
pub fn to_text(job: &Job) -> String {
    let saved = SavedJob {
        format: FORMAT.to_owned(),
        version: version_of(job),
        design: SavedDesign::of(&job.design, &job.carvings),
        board: WrittenBoard::of(&job.board, &job.wood.id),
        wood: job.wood.clone(),
        cutter: job.tooling.cutter.clone(),
        machine: job.machine.clone(),
        depth: job.tooling.depth,
        ends: job.placing.ends,
        size: job.placing.size,
        frame: job.placing.frame,
        turn: job.placing.turn,
        at: job.placing.at,
        side_margin: job.placing.side_margin,
        ground_margin: job.placing.ground_margin,
        reading: job.reading,
        lettering: job.lettering.clone(),
        clearing: job.tooling.clearing.clone(),
        trust: job.tooling.trust,
        accepted: job.notes.accepted.clone(),
        remark: job.notes.remark.clone(),
        pieces: job.is_batch().then(|| SavedPieces::of(&job.pieces)),
    };
    let mut text = serde_json::to_string_pretty(&saved).expect("a job has string keys and finite numbers");
    text.push('\n');
    text
}

/// The oldest version that holds all of a job.
fn version_of(job: &Job) -> u32 {
    let beside = job.pieces.beside.iter().map(|piece| &piece.design);
    let mut elements = std::iter::once(&job.design).chain(beside).flat_map(|design| &design.elements);
    if elements.any(|element| element.origin != Origin::default()) {
        VERSION
    } else if job.is_batch() {
        PIECES
    } else {
        ONE_PIECE
    }
}

/// Reads the saved form of a job.
///
/// # Errors
///
/// Where the text is no saved job, is of a later version, or is damaged.
pub fn from_text(bytes: &[u8]) -> Result<Job, OpenError> {
    #[derive(Deserialize)]
    struct Header {
        format: String,
        version: u64,
    }
    let damaged = |error: serde_json::Error| OpenError::Damaged(Damage::Text(error));
    // The header first, whatever else the file holds, so that a later version is told as such. A file
    // that says it is a job somewhere near its start is a damaged job, not some other file.
    match serde_json::from_slice::<Header>(bytes) {
        Ok(header) if header.format != FORMAT => return Err(OpenError::NotAJob),
        Ok(header) if !(u64::from(OLDEST)..=u64::from(VERSION)).contains(&header.version) => {
            return Err(OpenError::UnknownVersion { found: header.version });
        }
        Ok(_) => {}
        Err(error) => {
            let start = String::from_utf8_lossy(&bytes[..bytes.len().min(256)]);
            return Err(if start.contains(FORMAT) { damaged(error) } else { OpenError::NotAJob });
        }
    }
    let mut saved: SavedJob = serde_json::from_slice(bytes).map_err(damaged)?;
    if saved.version < LIMITS_BY_PUSH {
        saved.design.notices.push(DrawingNotice::SavedWithOtherLimits);
    }
    saved.into_job().map_err(OpenError::Damaged)
}

impl SavedJob {
    fn into_job(self) -> Result<Job, Damage> {
        let (design, carvings) = self.design.into_design()?;
        let job = Job {
            design: Arc::new(design),
            carvings,
            lettering: self.lettering,
            reading: self.reading,
            // The wood is there in full; its id beside the board is for whoever reads the file.
            board: self.board.into_board().0,
            wood: self.wood,
            tooling: Tooling {
                cutter: self.cutter,
                depth: self.depth,
                clearing: self.clearing,
                trust: self.trust,
            },
            machine: self.machine,
            placing: Placing {
                size: self.size,
                frame: self.frame,
                turn: self.turn,
                at: self.at,
                ends: self.ends,
                side_margin: self.side_margin,
                ground_margin: self.ground_margin,
            },
            notes: Notes { accepted: self.accepted, remark: self.remark },
            pieces: self.pieces.map(SavedPieces::into_pieces).transpose()?.unwrap_or_default(),
        };
        job.check().map_err(|error| Damage::Value(Box::new(error)))?;
        Ok(job)
    }
}

impl SavedPieces {
    fn of(pieces: &Pieces) -> SavedPieces {
        let beside = |piece: &Arc<Piece>| SavedPiece {
            design: SavedDesign::of(&piece.design, &piece.carvings),
            copies: SavedLot::of(&piece.lot),
            cut: SavedCut {
                cutter: piece.tooling.cutter.clone(),
                depth: piece.tooling.depth,
                clearing: piece.tooling.clearing.clone(),
                trust: piece.tooling.trust,
            },
            lies: SavedPlacing {
                size: piece.placing.size,
                frame: piece.placing.frame,
                turn: piece.placing.turn,
                at: piece.placing.at,
                ground_margin: piece.placing.ground_margin,
            },
            reading: piece.reading,
            lettering: piece.lettering.clone(),
            accepted: piece.accepted.clone(),
        };
        SavedPieces {
            gap: pieces.gap,
            place: pieces.place,
            copies: SavedLot::of(&pieces.lot),
            beside: pieces.beside.iter().map(beside).collect(),
        }
    }

    fn into_pieces(self) -> Result<Pieces, Damage> {
        if self.place > self.beside.len() {
            return Err(Damage::Value(Box::new(Rejected::NoSuchPiece)));
        }
        let beside = self.beside.into_iter().map(|piece| piece.into_piece().map(Arc::new));
        Ok(Pieces {
            gap: self.gap,
            place: self.place,
            lot: self.copies.into_lot(),
            beside: beside.collect::<Result<_, _>>()?,
        })
    }
}

impl SavedLot {
    fn of(lot: &Lot) -> SavedLot {
        SavedLot {
            count: lot.count,
            turns: lot.turns,
            laid: lot.is_laid,
            copy: lot.copy,
            others: lot.others.clone(),
        }
    }

    fn into_lot(self) -> Lot {
        Lot { count: self.count, turns: self.turns, is_laid: self.laid, copy: self.copy, others: self.others }
    }
}

impl SavedPiece {
    fn into_piece(self) -> Result<Piece, Damage> {
        let (design, carvings) = self.design.into_design()?;
        let SavedPlacing { size, frame, turn, at, ground_margin } = self.lies;
        Ok(Piece {
            design: Arc::new(design),
            carvings,
            lettering: self.lettering,
            reading: self.reading,
            tooling: Tooling {
                cutter: self.cut.cutter,
                depth: self.cut.depth,
                clearing: self.cut.clearing,
                trust: self.cut.trust,
            },
            placing: Placing { size, frame, turn, at, ground_margin, ..Placing::default() },
            accepted: self.accepted,
            lot: self.copies.into_lot(),
        })
    }
}

impl SavedDesign {
    fn of(design: &Design, carvings: &[Carving]) -> SavedDesign {
        let element = |(element, carving): (&Element, &Carving)| SavedElement {
            name: element.name.clone(),
            treatment: carving.treatment,
            depth: carving.depth,
            cutter: carving.cutter.clone(),
            groups: element.origin.groups.clone(),
            color: element.origin.color,
            rings: element.region.rings().map(|ring| points_text(ring.points())).collect(),
        };
        let mut notices = design.notices.clone();
        notices.retain(DrawingNotice::is_of_the_drawing);
        SavedDesign {
            name: design.name.clone(),
            grid: design.grid,
            page: design.page,
            elements: design.elements.iter().zip(carvings).map(element).collect(),
            notices,
            sharpness: design.sharpness,
        }
    }

    /// The design, and how each of its elements is carved.
    fn into_design(self) -> Result<(Design, Vec<Carving>), Damage> {
        let grid = self.grid;
        if !grid.is_whole() {
            return Err(Damage::Grid);
        }
        if self.elements.is_empty() {
            return Err(Damage::NoElements);
        }
        if self.page.is_some_and(|page| !is_page(page)) {
            return Err(Damage::Page);
        }
        if self.sharpness.is_some_and(|sharpness| !sharpness.is_plausible()) {
            return Err(Damage::Sharpness);
        }
        let outlines = self.elements.iter().map(SavedElement::outlines);
        let outlines = outlines.collect::<Result<Vec<_>, _>>()?;
        check_outlines(grid, &self.elements, &outlines)?;
        let mut carvings = Vec::with_capacity(self.elements.len());
        let mut elements: Vec<Element> = Vec::with_capacity(self.elements.len());
        for (element, rings) in self.elements.into_iter().zip(outlines) {
            let region = Region::restored(grid, &rings);
            if region.is_empty() {
                return Err(Damage::NoArea { element: element.name });
            }
            carvings.push(Carving {
                treatment: element.treatment,
                depth: element.depth,
                cutter: element.cutter,
            });
            let origin = Origin::tidy(element.groups, element.color);
            elements.push(Element { name: element.name, region, origin });
        }
        check_apart(&elements)?;
        let design = Design {
            name: self.name,
            elements,
            page: self.page,
            grid,
            notices: self.notices,
            sharpness: self.sharpness,
        };
        Ok((design, carvings))
    }
}

impl SavedElement {
    fn outlines(&self) -> Result<Vec<Vec<DVec2>>, Damage> {
        let rings = self.rings.iter().map(|ring| points_from(ring)).collect::<Option<Vec<_>>>();
        rings.ok_or_else(|| Damage::NotPoints { element: self.name.clone() })
    }
}

/// Whether a page has a size that a drawing may have.
fn is_page(page: Rect) -> bool {
    let size = page.size();
    let farthest = page.min.abs().max(page.max.abs()).max_element();
    // Written so that a NaN is none.
    size.min_element() >= MIN_EXTENT && size.max_element() <= MAX_EXTENT && farthest <= 100.0 * MAX_EXTENT
}

/// What the readers of drawings make sure of, and a file changed by hand may not keep to.
fn check_outlines(grid: Grid, elements: &[SavedElement], outlines: &[Vec<Vec<DVec2>>]) -> Result<(), Damage> {
    let mut names = BTreeSet::new();
    for (element, rings) in elements.iter().zip(outlines) {
        let name = || element.name.clone();
        if element.name.trim().is_empty() {
            return Err(Damage::NoName);
        }
        if !names.insert(&element.name) {
            return Err(Damage::OneName { element: name() });
        }
        if !rings.iter().flatten().all(|point| grid.reaches(*point)) {
            return Err(Damage::OffGrid { element: name() });
        }
    }
    let rings: Vec<&[DVec2]> = outlines.iter().flatten().map(Vec::as_slice).collect();
    if rings.iter().map(|ring| ring.len()).sum::<usize>() > MAX_SEGMENTS {
        return Err(Damage::TooManyPoints);
    }
    // What was saved was clean: nothing in it lies along anything else and crosses it.
    match check_crossings(&rings) {
        Ok(EdgesLie::Apart) => Ok(()),
        Ok(EdgesLie::Tangled | EdgesLie::NearlyCoincident) | Err(_) => Err(Damage::Tangled),
    }
}

/// How much two elements may overlap, as a share of the smaller: crossings are moved to the grid, by far less
/// than a billionth of any size.
const SLIVER: f64 = 1e-6;

/// Whether the elements lie side by side. `O(n log n)` in edges of elements whose boxes meet.
fn check_apart(elements: &[Element]) -> Result<(), Damage> {
    for (index, one) in elements.iter().enumerate() {
        for other in &elements[..index] {
            let boxes = one.region.bounds().zip(other.region.bounds());
            let meet = boxes.is_some_and(|(a, b)| a.min.cmple(b.max).all() && b.min.cmple(a.max).all());
            let least = SLIVER * one.region.area().min(other.region.area());
            if meet && one.region.intersection(&other.region).area() > least {
                return Err(Damage::Overlap { one: other.name.clone(), other: one.name.clone() });
            }
        }
    }
    Ok(())
}

/// `x,y x,y …`, each number in the shortest form that reads back the same.
fn points_text(points: impl Iterator<Item = DVec2>) -> String {
    let mut text = String::new();
    for (index, point) in points.enumerate() {
        let gap = if index == 0 { "" } else { " " };
        write!(text, "{gap}{},{}", point.x, point.y).expect("writing to a string does not fail");
    }
    text
}

fn points_from(text: &str) -> Option<Vec<DVec2>> {
    let number = |text: &str| text.parse::<f64>().ok().filter(|number| number.is_finite());
    text.split_whitespace()
        .map(|pair| {
            let (x, y) = pair.split_once(',')?;
            Some(DVec2::new(number(x)?, number(y)?))
        })
        .collect()
}
