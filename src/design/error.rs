//! Why a drawing could not be read, as facts; the words are in `words`.

use thiserror::Error;

/// Why a design could not be read or made. The caller names the file or the design.
#[derive(Debug, Error)]
pub enum DesignError {
    /// There is no such file.
    Missing,
    /// The path leads to a folder.
    Folder,
    /// The path leads to a device, a pipe or the like.
    NotAFile,
    /// The file could not be opened or read.
    Unreadable(std::io::Error),
    /// More than [`MAX_BYTES`](super::MAX_BYTES), as it is or unpacked.
    FileTooLarge,
    /// Nothing in it, or only blanks.
    Empty,
    /// A compressed SVG that cannot be unpacked.
    Compressed,
    /// A DXF drawing in its binary form.
    BinaryDxf,
    /// A DXF drawing whose lines are out of step.
    BadGroupCode {
        /// Line, from 1.
        line: u32,
        /// What the line holds in place of a group code, shortened.
        found: String,
    },
    /// Not in UTF-8.
    NotText,
    /// Some other kind of file.
    NotADrawing {
        /// What it looks like.
        found: FileKind,
    },
    /// The XML or DXF ends too early.
    CutShort,
    /// The XML is damaged.
    Malformed {
        /// Line, from 1.
        line: u32,
        /// Column in characters, from 1.
        column: u32,
        /// What the XML parser found, in its own words.
        problem: String,
    },
    /// Entities that grow without bound.
    EntityGrowth,
    /// More than [`MAX_DEPTH`](super::MAX_DEPTH) levels of groups, or copies of copies that deep or in a
    /// circle.
    TooDeep,
    /// More than [`MAX_OBJECTS`](super::MAX_OBJECTS).
    TooManyObjects,
    /// More styles, attributes or references than the parser gets through in seconds.
    Overloaded,
    /// More than [`MAX_SEGMENTS`](super::MAX_SEGMENTS).
    TooManySegments,
    /// Paths that cross each other or themselves so often that cleaning them would take hours.
    Tangled,
    /// A coordinate that cannot be meant.
    WildCoordinate {
        /// Line, from 1.
        line: u32,
        /// The number as written, shortened.
        value: String,
    },
    /// A width or height of zero or less.
    ZeroSize,
    /// Beyond [`MAX_EXTENT`](super::MAX_EXTENT).
    TooLarge {
        /// The longer side, in metres.
        metres: f64,
    },
    /// Under [`MIN_EXTENT`](super::MIN_EXTENT).
    TooSmall,
    /// No shape with an area.
    NothingToCarve {
        /// What there is instead.
        found: Nothing,
    },
    /// The parser panicked or its thread could not start.
    GaveUp,
}

/// What a file looks like that is no drawing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FileKind {
    /// A PNG picture.
    Png,
    /// A JPEG picture.
    Jpeg,
    /// A GIF picture.
    Gif,
    /// A RIFF file: a picture or sound.
    Riff,
    /// A BMP picture.
    Bmp,
    /// A PDF document.
    Pdf,
    /// A PostScript drawing.
    PostScript,
    /// A ZIP archive.
    Zip,
    /// Bytes that are no text.
    Binary,
    /// Text that is not XML.
    NotXml,
    /// XML without any element.
    EmptyXml,
    /// XML of some other kind.
    Xml {
        /// Its root element, shortened.
        root: String,
    },
}

/// Why a drawing that was read has nothing to carve.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Nothing {
    /// Only bitmap pictures.
    OnlyPictures,
    /// Only texts, which came out empty.
    EmptyTexts,
    /// No filled shape, and no stroke that encloses an area.
    NoShape,
    /// No outline in it closes.
    NothingCloses,
    /// All of it is on layers that are off, or on a sheet of paper.
    AllHidden,
    /// No line, arc, polyline, spline or hatch.
    NoOutline,
    /// Only entities of kinds that are not read.
    OnlyUnread,
    /// Every element is invisible.
    AllInvisible,
    /// Nothing is left of an element that something was taken from.
    ElementGone,
    /// Nothing is left of the design.
    AllGone,
}
