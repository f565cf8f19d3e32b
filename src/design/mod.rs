//! From the bytes of a file to a [`Design`]: named elements in millimetres, y up, clean.
//!
//! A file is SVG or DXF, or there is none and the design is made of words ([`lettering`]). What follows is
//! SVG; for DXF see `dxf/mod.rs`.
//!
//! # What a drawing becomes
//!
//! - **Size.** Outlines come in at the size the file states: 96 px to the inch (CSS Values and Units 3),
//!   `width`, `height`, `viewBox`, `preserveAspectRatio` and transforms resolved. A file that states no
//!   physical size is read at one unit to the pixel, and a notice says so; [`read_with`] returns the
//!   size in other units.
//! - **Shape.** Any visible fill or stroke is shape; its colour does not matter, but see white below.
//!   Strokes become outlines. Clip paths are applied. Curves are flattened, see [`FLATTENING`].
//! - **Elements.** The outermost id names an element: everything in the group (or path, or text) that
//!   carries it belongs to it. It is called by its id, or by the `label` an editor gave it in a namespace
//!   of its own. Where one group with an id holds the whole drawing and there are more
//!   ids inside, it is a wrapper and the ids inside count instead. A group in it that a person named is an element of
//!   its own, `Sign / Letters`; so are groups in that. A person named what has a `label`, as layers have, and what has
//!   an id that is no number: editors number every group and path. Everything in no group with an id
//!   becomes one element called `outline`. Past [`MAX_ELEMENTS`] ids the drawing is taken as one
//!   element: nobody sets a hundred treatments by hand.
//! - **Groups and colours.** An element keeps the groups it is in and its colour, see [`Origin`]: they make the tree
//!   in which it is found again, and nothing that is carved depends on them.
//! - **White.** Opaque white (`#ffffff`) is bare page: inside an element it cuts away whatever lies
//!   under it. An element that is white all over is an element like any other, unless it covers the whole
//!   page and something else is drawn: then it is the page.
//! - **Painter's order.** A later element cuts away the parts of earlier ones that it covers.
//!
//! The design's notices list what was left out, with counts; `docs/drawings.md` lists everything that can be.
//!
//! # Spaces
//!
//! A design lies in design space: millimetres at drawn size, y up. It is never scaled or moved;
//! [`board_from_design`](crate::proof::fit::board_from_design) takes it to the board, whose space starts at the
//! lower left corner and runs along the board.
//!
#![doc = include_str!("../../docs/figures/spaces.svg")]
//!
//! # What it never does
//!
//! It opens no other file and uses no network, whatever the drawing points at. The one exception is text: for
//! a file with a `text` element it looks up the fonts installed on the machine.
//!
//! # Precision
//!
//! The parser works in single precision: a coordinate is good to one part in 16 million of its distance
//! from the origin of its own coordinate system, 0.02 µm on a 300 mm drawing. A drawing so far from its
//! origin that this shows gets a notice.

mod collections;
mod dxf;
mod elements;
pub mod embedded;
mod error;
pub mod face;
mod layering;
pub mod lettering;
mod notice;
mod origin;
mod outline;
mod painted;
pub mod samples;
mod size;
mod styling;
mod survey;
mod svg;

pub use elements::{Mirror, PlateShape, Specks};
pub use error::{DesignError, FileKind, Nothing};
pub(crate) use layering::{EdgesLie, check_crossings};
pub use notice::DrawingNotice;
pub use origin::{Branch, Color, MAX_GROUPS, NotAColor, Origin, TreeLine};
pub use size::{DrawingUnit, SizeReading, UnstatedSize};

use crate::file_name::is_device;
use crate::geometry::{Grid, Rect, Region};
use crate::notice::Notices;
use crate::units::Mm;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;
use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::Path;

/// The largest file read, in bytes; the same for what a compressed one unpacks to. A traced picture of
/// a million edges is about a third of that.
pub const MAX_BYTES: u64 = 64 << 20;

/// The most edges a flattened drawing may have. Measured in a release build: a whole proof needs 700 bytes an edge of
/// leaves, 1.7 kB of circles, 2.6 kB of a zigzag with its proof as JSON, and 3.6 kB of a star of random spikes, 1.45 GB in
/// all.
pub const MAX_SEGMENTS: usize = 400_000;

/// The most objects a drawing may have, counted with every `use` written out. The parser stops at as
/// many.
pub const MAX_OBJECTS: u64 = 1_000_000;

/// The deepest nesting of groups read.
pub const MAX_DEPTH: usize = 500;

/// The most elements of a design; a drawing with more ids than that is one element.
pub const MAX_ELEMENTS: usize = 5_000;

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
    pub notices: Notices<DrawingNotice>,
    /// How sharp the picture was that the outlines were traced from; `None` where they were drawn.
    pub sharpness: Option<Sharpness>,
}

/// The attribute of an SVG's root that holds [`Sharpness::pixel`], millimetres at the size the SVG states.
pub(crate) const PIXEL_ATTRIBUTE: &str = "data-traced-pixel";

/// The same for [`Sharpness::tolerance`].
pub(crate) const TOLERANCE_ATTRIBUTE: &str = "data-traced-tolerance";

/// How well a picture shows where an edge is, as drawn.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sharpness {
    /// The size of its largest pixel.
    pub pixel: Mm,
    /// How far a traced curve may be from what the picture shows.
    pub tolerance: Mm,
}

impl Sharpness {
    /// How far the width of a wall or groove may be off: half a pixel and the tolerance on either side.
    ///
    /// ```
    /// # use spelk::design::Sharpness;
    /// # use spelk::units::Mm;
    /// let sharpness = Sharpness { pixel: Mm::new(0.2), tolerance: Mm::new(0.05) };
    /// assert!((sharpness.width_within().get() - 0.3).abs() < 1e-12);
    /// ```
    pub fn width_within(&self) -> Mm {
        self.pixel + self.tolerance * 2.0
    }

    /// Of two pictures, the less sharp in each respect.
    pub(crate) fn or_blunter(self, other: Sharpness) -> Sharpness {
        let larger = |a: Mm, b: Mm| if a > b { a } else { b };
        Sharpness {
            pixel: larger(self.pixel, other.pixel),
            tolerance: larger(self.tolerance, other.tolerance),
        }
    }

    /// Whether both lengths are ones that can be.
    pub(crate) fn is_plausible(&self) -> bool {
        let sensible = |length: Mm| (0.0..=MAX_EXTENT).contains(&length.get());
        sensible(self.pixel) && sensible(self.tolerance)
    }
}

/// A named part of a design.
#[derive(Clone, Debug, PartialEq)]
pub struct Element {
    /// Unique in its design, one line, not empty.
    pub name: String,
    /// Where it is.
    pub region: Region,
    /// The groups it is in, and its colour.
    pub origin: Origin,
}

impl Element {
    /// An element of no group and no colour.
    pub fn new(name: impl Into<String>, region: Region) -> Element {
        Element { name: name.into(), region, origin: Origin::default() }
    }

    /// The same element somewhere else.
    #[must_use]
    pub fn with_region(&self, region: Region) -> Element {
        Element { name: self.name.clone(), region, origin: self.origin.clone() }
    }
}

impl Design {
    /// Edges in all elements.
    pub fn segment_count(&self) -> usize {
        self.elements.iter().map(|element| element.region.segment_count()).sum()
    }

    /// How many pictures its file holds, as its notices have it.
    pub fn embedded_pictures(&self) -> usize {
        let count = |notice: &DrawingNotice| match notice {
            DrawingNotice::EmbeddedPictures { count } => *count,
            _ => 0,
        };
        self.notices.iter().map(count).sum()
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

/// Reads a design file from disk. This and [`read`] never touch any other file, nor the network.
///
/// # Errors
///
/// As for [`read`], and where the file is not there or cannot be read.
pub fn open(path: &Path) -> Result<Design, DesignError> {
    open_with(path, &ReadOptions::default()).map(|reading| reading.design)
}

/// [`open()`] under `options`, with what the user may be asked.
///
/// # Errors
///
/// As for [`read`], and where the file is not there or cannot be read.
pub fn open_with(path: &Path, options: &ReadOptions) -> Result<Reading, DesignError> {
    open_in_stages(path, options, &|| ())
}

/// [`open_with`] that calls `cleaning` once an SVG's outlines are read and their cleaning begins, for a clock.
///
/// # Errors
///
/// As for [`read`], and where the file is not there or cannot be read.
pub fn open_in_stages(
    path: &Path,
    options: &ReadOptions,
    cleaning: &(dyn Fn() + Sync),
) -> Result<Reading, DesignError> {
    let unreadable = |error: std::io::Error| match error.kind() {
        ErrorKind::NotFound => DesignError::Missing,
        _ => DesignError::Unreadable(error),
    };
    if cfg!(windows) && is_device(path) {
        return Err(DesignError::NotAFile);
    }
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
/// Never panics, whatever the bytes, and refuses a drawing that would take more than about a minute.
///
/// # Errors
///
/// Where the file is no drawing, is damaged, holds nothing to carve, or goes beyond a limit of this module;
/// see [`DesignError`].
pub fn read(name: &str, bytes: &[u8]) -> Result<Design, DesignError> {
    read_with(name, bytes, &ReadOptions::default()).map(|reading| reading.design)
}

/// [`read`] under `options`, with what the user may be asked.
///
/// # Errors
///
/// As for [`read`].
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
    let plain = dxf::plain(bytes);
    let mut reading = if dxf::is_dxf(&plain) {
        dxf::read(name, &plain, options)
    } else {
        svg::read(name, bytes, options, cleaning)
    }?;
    let specks = reading.design.specks();
    reading.design.notices.push_count(specks.count, |count| DrawingNotice::Specks { count });
    Ok(reading)
}
