//! From the bytes of a file to a [`Design`]: named elements in millimetres, y up, clean.
//!
//! A file is SVG or DXF, or there is none and the design is made of words ([`lettering`]). What follows is
//! SVG; for DXF see `dxf/mod.rs`.
//!
//! # What a drawing becomes
//!
//! - **Size.** Outlines come in at the size the file states: 96 px to the inch (CSS Values and Units 3),
//!   `width`, `height`, `viewBox`, `preserveAspectRatio` and transforms resolved. A file that states no
//!   physical size is read at one unit to the pixel, and a notice says so; [`read_with`] tells what other
//!   units would make of it.
//! - **Shape.** Any visible fill or stroke is shape; its colour does not matter, but see white below.
//!   Strokes become outlines. Clip paths are applied. Curves are flattened, see [`FLATTENING`].
//! - **Elements.** The outermost id names an element: everything in the group (or path, or text) that
//!   carries it belongs to it. It is called by its id, or by the `label` an editor gave it in a namespace
//!   of its own. Where one group with an id holds the whole drawing and there are more
//!   ids inside, it is a wrapper and the ids inside count instead. A group in it that has a `label` too, as
//!   layers have, is an element of its own, `Sign / Letters`; so are layers in that. What stands in no group with an id
//!   becomes one element called `outline`. Past [`MAX_ELEMENTS`] ids the drawing is taken as one
//!   element: nobody sets a hundred treatments by hand, and editors number every path.
//! - **White.** Opaque white (`#ffffff`) is bare page: inside an element it takes away what lies under
//!   it. An element that is white all over is an element like any other, unless it covers the whole
//!   page and something else is drawn: then it is the page.
//! - **Painter's order.** What a later element covers is taken from those before it.
//!
//! What cannot be carried over is listed in the design's notices, with counts; the full list is in
//! `docs/drawings.md`.
//!
//! # What is never done
//!
//! No other file is opened and no network is used, whatever the drawing points at. The one exception
//! is text: for a file with a `text` element the fonts installed on the machine are looked up.
//!
//! # Precision
//!
//! The parser works in single precision: a coordinate is good to one part in 16 million of its distance
//! from the origin of its own coordinate system, 0.02 µm on a 300 mm drawing. A drawing so far from its
//! origin that this shows gets a notice.

mod dxf;
mod elements;
pub mod face;
mod layering;
pub mod lettering;
mod outline;
pub mod samples;
mod size;
mod survey;
mod svg;

pub use elements::{Mirror, Specks};
pub use size::{DrawingUnit, SizeReading, UnstatedSize};

use crate::geometry::{Grid, Rect, Region};
use crate::notice::Notice;
use crate::units::Mm;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;
use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::Path;
use thiserror::Error;

/// The largest file read, in bytes; the same for what a compressed one unpacks to. A traced picture of
/// 4 million edges is about half of that.
pub const MAX_BYTES: u64 = 64 << 20;

/// The most edges a flattened drawing may have. Measuring takes tens of microseconds an edge, so this is
/// already minutes of work.
pub const MAX_SEGMENTS: usize = 4_000_000;

/// The most objects a drawing may have, counted with every `use` written out. The parser stops at as
/// many.
pub const MAX_OBJECTS: u64 = 1_000_000;

/// The deepest nesting of groups read.
pub const MAX_DEPTH: usize = 500;

/// The most elements taken from a drawing's ids; beyond that the drawing is one element.
pub const MAX_ELEMENTS: usize = 64;

/// The largest design, in millimetres along either axis: 100 m.
pub const MAX_EXTENT: f64 = 100_000.0;

/// The smallest design, in millimetres along its longer side: 1 µm.
pub const MIN_EXTENT: f64 = 0.001;

/// How far a flattened curve or stroke may stray from the true one: at most this many millimetres at
/// drawn size. Well under what a cutter leaves (hundredths of a millimetre).
pub const FLATTENING: f64 = 0.005;

/// The same, as a part of the design's longer side, where that is finer: a small drawing may be carved
/// much larger, and at 20 000 parts a design blown up to 300 mm strays 0.015 mm.
pub const FLATTENING_PARTS: f64 = 20_000.0;

/// A drawing to be carved: named elements that do not overlap, at their true drawn size.
///
/// What it promises: every length is in millimetres with y up; elements are in paint order and what a
/// later one covers has been taken from those before it, so each place belongs to one element; all
/// regions share one [`Grid`]; there is at least one element and none is empty; names are unique and
/// not empty. [`Design::check_invariants`] checks all of that but the overlap by itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Design {
    /// What to call it: the file's name without its ending.
    pub name: String,
    /// The elements, in paint order.
    pub elements: Vec<Element>,
    /// The drawing's page, where the file has one: its lower left corner is the origin.
    pub page: Option<Rect>,
    /// The grid that all elements share.
    pub grid: Grid,
    /// What the reader left out or changed.
    pub notices: Vec<Notice>,
}

/// A named part of a design.
#[derive(Clone, Debug, PartialEq)]
pub struct Element {
    /// Unique in its design, one line, not empty.
    pub name: String,
    /// Where it is.
    pub region: Region,
}

impl Design {
    /// Edges in all elements.
    pub fn segment_count(&self) -> usize {
        self.elements.iter().map(|element| element.region.segment_count()).sum()
    }

    /// The box round all outlines.
    ///
    /// # Panics
    ///
    /// On a design without elements, which this room never makes.
    pub fn outline_box(&self) -> Rect {
        self.elements
            .iter()
            .filter_map(|element| element.region.bounds())
            .reduce(Rect::union)
            .expect("a design has at least one element and none is empty")
    }

    /// Asserts what the type promises, overlap included. `O(n log n)` in edges for each pair of elements
    /// whose boxes meet; for tests.
    ///
    /// # Panics
    ///
    /// Where a promise is broken, which is a bug in this crate.
    pub fn check_invariants(&self) {
        assert!(!self.elements.is_empty(), "a design has at least one element");
        let names: BTreeSet<&str> = self.elements.iter().map(|element| element.name.as_str()).collect();
        assert!(names.len() == self.elements.len(), "element names are unique");
        for element in &self.elements {
            assert!(!element.name.trim().is_empty(), "an element has a name");
            assert!(!element.name.contains(char::is_control), "a name is one line");
            assert!(!element.region.is_empty(), "element {:?} is not empty", element.name);
            assert!(element.region.area() > 0.0, "element {:?} has an area", element.name);
            assert!(element.region.grid() == self.grid, "element {:?} is on the grid", element.name);
        }
        // Clean regions of n edges overlap by rounding alone where edges cross: a crossing is moved to
        // the lattice, by less than a step, along edges no longer than the design.
        let size = self.outline_box().size().max_element();
        assert!(size.is_finite() && size <= MAX_EXTENT, "a design has a sensible size");
        let allowed = self.grid.step() * size * (self.segment_count() as f64).sqrt() * 2.0;
        for (index, one) in self.elements.iter().enumerate() {
            for other in &self.elements[index + 1..] {
                let shared = one.region.intersection(&other.region).area();
                assert!(shared <= allowed, "{:?} and {:?} share {shared} mm²", one.name, other.name);
            }
        }
    }
}

/// How a file is read where it leaves something open. A job keeps it, so that its drawing is read the same
/// way again.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReadOptions {
    /// What a unit is where the file states no size: for SVG a pixel, for DXF a millimetre, or an inch
    /// where the file says it was begun in inches, if `None`. A file that does state one is not overruled.
    pub unit: Option<DrawingUnit>,
    /// Ends of outlines this far apart are joined, at drawn size; 0.1 mm to start with (common practice,
    /// no source: under what a cutter shows), and at most a thousandth of the drawing. DXF only: a shape
    /// that SVG fills is closed by definition.
    pub join: Mm,
    /// Outlines that do not close are read as strokes this wide, with round ends, as a cutter run along
    /// them leaves; left out if `None`. In SVG these are hairlines that fill nothing.
    pub open_as_strokes: Option<Mm>,
}

impl ReadOptions {
    /// Whether nothing of it was set.
    pub fn is_usual(&self) -> bool {
        *self == ReadOptions::default()
    }
}

impl Default for ReadOptions {
    fn default() -> ReadOptions {
        ReadOptions { unit: None, join: Mm::new(0.1), open_as_strokes: None }
    }
}

/// A design as it was read, and what the user may be asked about it.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// The design.
    pub design: Design,
    /// Set where the file does not state a size: what it would be in each plausible unit. To take
    /// another, read again with [`ReadOptions::unit`].
    pub unstated: Option<UnstatedSize>,
    /// Outlines that do not close and were left out, or kept as hairlines. To have them carved, read
    /// again with [`ReadOptions::open_as_strokes`].
    pub open_outlines: usize,
}

/// Why a design could not be read. Each message is one line and says what, and what to try; the caller
/// names the file.
#[derive(Debug, Error)]
pub enum DesignError {
    /// There is no such file.
    #[error("is not there; check the name and the folder")]
    Missing,
    /// The path leads to a folder.
    #[error("is a folder; choose an SVG or DXF file in it")]
    Folder,
    /// The path leads to a device, a pipe or the like.
    #[error("is not an ordinary file; save the drawing to a file first")]
    NotAFile,
    /// The file could not be opened or read.
    #[error("cannot be read ({0}); check that you may open it")]
    Unreadable(#[source] std::io::Error),
    /// More than [`MAX_BYTES`], as it is or unpacked.
    #[error("is larger than {} MB; simplify the drawing, or take out pictures embedded in it", MAX_BYTES >> 20)]
    FileTooLarge,
    /// Nothing in it, or only blanks.
    #[error("is empty; save the drawing again")]
    Empty,
    /// A compressed SVG that cannot be unpacked.
    #[error("is compressed and damaged; save it again, as plain SVG")]
    Compressed,
    /// A DXF drawing in its binary form.
    #[error("is a binary DXF drawing; save it as an ASCII (text) DXF")]
    BinaryDxf,
    /// A DXF drawing whose lines are out of step.
    #[error("is damaged at line {line}: '{found}' stands where a group code should; save it again as DXF")]
    BadGroupCode {
        /// Line, from 1.
        line: u32,
        /// What stands there, shortened.
        found: String,
    },
    /// Not in UTF-8.
    #[error("is not UTF-8 text; save the drawing as plain SVG in UTF-8")]
    NotText,
    /// Some other kind of file.
    #[error("is not an SVG or DXF drawing but {found}; draw or trace the outlines and save them as SVG")]
    NotSvg {
        /// What it looks like: `a PNG picture`, `an <html> document`.
        found: String,
    },
    /// The XML ends too early.
    #[error("is cut short: its last element is never closed; save or download it again")]
    CutShort,
    /// The XML is damaged.
    #[error("is damaged at line {line}, column {column}: {problem}; save it again as plain SVG")]
    Malformed {
        /// Line, from 1.
        line: u32,
        /// Column in characters, from 1.
        column: u32,
        /// What the parser found.
        problem: String,
    },
    /// Entities that grow without bound.
    #[error("defines text that would unpack to a huge size; save it again as plain SVG")]
    EntityGrowth,
    /// More than [`MAX_DEPTH`] levels of groups, or copies of copies that deep or in a circle.
    #[error("nests groups or copies more than {MAX_DEPTH} deep; ungroup the drawing and save it again")]
    TooDeep,
    /// More than [`MAX_OBJECTS`].
    #[error(
        "has more than {MAX_OBJECTS} objects, copies included; simplify the drawing or carve it in parts"
    )]
    TooManyObjects,
    /// More styles, attributes or references than the parser gets through in seconds.
    #[error("has too many style rules, attributes or nested clip paths; save it again as plain SVG")]
    Overloaded,
    /// More than [`MAX_SEGMENTS`].
    #[error("has more than {MAX_SEGMENTS} edges; simplify its paths or carve it in parts")]
    TooManySegments,
    /// Paths that cross each other or themselves so often that cleaning them would take hours.
    #[error("crosses over itself too many times to untangle; simplify its paths or join them into one shape")]
    Tangled,
    /// A coordinate that cannot be meant.
    #[error(
        "has the coordinate {value} at line {line}, which is no place on a drawing; correct or delete it"
    )]
    WildCoordinate {
        /// Line, from 1.
        line: u32,
        /// The number as written, shortened.
        value: String,
    },
    /// A width or height of zero or less.
    #[error("states a width or height of zero; set the page size in the drawing program")]
    ZeroSize,
    /// Beyond [`MAX_EXTENT`].
    #[error("is {metres:.0} m long as drawn, over the {} m read; check the units it was saved in", MAX_EXTENT / 1000.0)]
    TooLarge {
        /// The longer side, in metres.
        metres: f64,
    },
    /// Under [`MIN_EXTENT`].
    #[error("is under a micrometre long as drawn; check the units it was saved in")]
    TooSmall,
    /// No shape with an area.
    #[error("has nothing to carve: {found}")]
    NothingToCarve {
        /// What there is instead, and what to do about it.
        found: &'static str,
    },
    /// The parser panicked or its thread could not start.
    #[error("could not be worked through; save it again as plain SVG, with everything turned into paths")]
    GaveUp,
}

/// Reads a design file from disk. This and [`read`] never touch any other file, nor the network.
pub fn open(path: &Path) -> Result<Design, DesignError> {
    open_with(path, &ReadOptions::default()).map(|reading| reading.design)
}

/// [`open`], told how to take what the file leaves open, and telling what may be asked.
pub fn open_with(path: &Path, options: &ReadOptions) -> Result<Reading, DesignError> {
    open_in_stages(path, options, &|| ())
}

/// The same; calls `cleaning` once an SVG's outlines are read and their cleaning begins, for a clock.
pub fn open_in_stages(
    path: &Path,
    options: &ReadOptions,
    cleaning: &(dyn Fn() + Sync),
) -> Result<Reading, DesignError> {
    let unreadable = |error: std::io::Error| match error.kind() {
        ErrorKind::NotFound => DesignError::Missing,
        _ => DesignError::Unreadable(error),
    };
    // Asked before opening: opening a pipe would wait for somebody to write to it.
    let about = std::fs::metadata(path).map_err(unreadable)?;
    if about.is_dir() {
        return Err(DesignError::Folder);
    }
    if !about.is_file() {
        return Err(DesignError::NotAFile);
    }
    if about.len() > MAX_BYTES {
        return Err(DesignError::FileTooLarge);
    }
    let mut bytes = Vec::new();
    // A file may grow while it is read, and some report no length at all.
    let mut file = File::open(path).map_err(unreadable)?.take(MAX_BYTES + 1);
    file.read_to_end(&mut bytes).map_err(unreadable)?;
    let name =
        path.file_stem().map_or_else(|| "design".to_owned(), |stem| stem.to_string_lossy().into_owned());
    read_in_stages(&name, &bytes, options, cleaning)
}

/// Reads a design from the bytes of a file.
///
/// Near-linear in edges: some 3 µs each in a dev build, with up to half a million crossings at some 10 µs.
/// Never panics, whatever the bytes, and refuses what would take more than about a minute.
pub fn read(name: &str, bytes: &[u8]) -> Result<Design, DesignError> {
    read_with(name, bytes, &ReadOptions::default()).map(|reading| reading.design)
}

/// [`read`], told how to take what the file leaves open, and telling what may be asked.
pub fn read_with(name: &str, bytes: &[u8], options: &ReadOptions) -> Result<Reading, DesignError> {
    read_in_stages(name, bytes, options, &|| ())
}

fn read_in_stages(
    name: &str,
    bytes: &[u8],
    options: &ReadOptions,
    cleaning: &(dyn Fn() + Sync),
) -> Result<Reading, DesignError> {
    dxf::check_kind(bytes)?;
    let mut reading = if dxf::is_dxf(bytes) {
        dxf::read(name, bytes, options)
    } else {
        svg::read(name, bytes, options, cleaning)
    }?;
    let specks = reading.design.specks();
    reading.design.notices.extend(specks.notice());
    Ok(reading)
}
