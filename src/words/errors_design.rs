//! Why a drawing could not be read, or words not set: what happened and what to try, in one line. Of a
//! drawing the caller names the file, and the sentence goes on from there.

use super::errors::disk;
use crate::design::lettering::{LetteringError, LetteringSetting, MAX_CHARACTERS};
use crate::design::{
    DesignError, FileKind, MAX_BYTES, MAX_DEPTH, MAX_EXTENT, MAX_OBJECTS, MAX_SEGMENTS, Nothing,
};
use crate::units::trimmed;
use std::fmt;

impl fmt::Display for DesignError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            DesignError::Missing => f.write_str("is not there; check the name and the folder"),
            DesignError::Folder => f.write_str("is a folder; choose an SVG or DXF file in it"),
            DesignError::NotAFile => f.write_str("is not an ordinary file; save the drawing to a file first"),
            DesignError::Unreadable(error) => {
                write!(f, "cannot be read ({}); check that you may open it", disk(error))
            }
            DesignError::FileTooLarge => write!(
                f,
                "is larger than {} MB; simplify the drawing, or take out any pictures in it",
                MAX_BYTES >> 20
            ),
            DesignError::Empty => f.write_str("is empty; save the drawing again"),
            DesignError::Compressed => f.write_str("is compressed and damaged; save it again as plain SVG"),
            DesignError::BinaryDxf => f.write_str("is a binary DXF drawing; save it as an ASCII (text) DXF"),
            DesignError::BadGroupCode { line, found } => write!(
                f,
                "is damaged at line {line}: it has '{found}' where a group code belongs; save it again as DXF"
            ),
            DesignError::NotText => f.write_str("is not UTF-8 text; save the drawing as plain SVG in UTF-8"),
            DesignError::NotADrawing { found: found @ (FileKind::Png | FileKind::Jpeg | FileKind::Riff) } => {
                write!(
                    f,
                    "is not an SVG or DXF drawing but {}; turn a picture into a drawing with spelk trace",
                    found.named()
                )
            }
            DesignError::NotADrawing { found } => write!(
                f,
                "is not an SVG or DXF drawing but {}; draw or trace the outlines and save them as SVG",
                found.named()
            ),
            DesignError::CutShort => {
                f.write_str("is cut short: its last element never closes; save or download it again")
            }
            DesignError::Malformed { line, column, problem } => {
                write!(f, "is damaged at line {line}, column {column}: {problem}; save it again as plain SVG")
            }
            DesignError::EntityGrowth => {
                f.write_str("defines text that would unpack to a huge size; save it again as plain SVG")
            }
            DesignError::TooDeep => write!(
                f,
                "nests groups or copies more than {MAX_DEPTH} deep; ungroup the drawing and save it again"
            ),
            DesignError::TooManyObjects => write!(
                f,
                "has more than {MAX_OBJECTS} objects, copies included; simplify the drawing or carve it in parts"
            ),
            DesignError::Overloaded => f.write_str(
                "has too many style rules, attributes, nested clip paths or ends of one path; save it again as plain SVG",
            ),
            DesignError::TooManySegments => {
                write!(f, "has more than {MAX_SEGMENTS} edges; simplify its paths or carve it in parts")
            }
            DesignError::Tangled => f.write_str(
                "crosses itself too many times to untangle; simplify its paths or join them into one shape",
            ),
            DesignError::WildCoordinate { line, value } => write!(
                f,
                "has the coordinate {value} at line {line}, which is no place on a drawing; correct or delete it"
            ),
            DesignError::ZeroSize => {
                f.write_str("states a width or height of zero; set the page size in the drawing program")
            }
            DesignError::TooLarge { metres } => write!(
                f,
                "is {metres:.0} m long as drawn, and {} m is the most; check the units it was saved in",
                MAX_EXTENT / 1000.0
            ),
            DesignError::TooSmall => {
                f.write_str("is under a micrometre long as drawn; check the units it was saved in")
            }
            DesignError::NothingToCarve { found } => {
                write!(f, "has nothing to carve: {}", found.meaning())
            }
            DesignError::GaveUp => f.write_str(
                "could not be read to the end; save it again as plain SVG, with everything turned into paths",
            ),
        }
    }
}

impl FileKind {
    /// What it is, with its article: `a PNG picture`.
    pub fn named(&self) -> String {
        match self {
            FileKind::Png => "a PNG picture".to_owned(),
            FileKind::Jpeg => "a JPEG picture".to_owned(),
            FileKind::Gif => "a GIF picture".to_owned(),
            FileKind::Riff => "a picture or sound".to_owned(),
            FileKind::Bmp => "a BMP picture".to_owned(),
            FileKind::Pdf => "a PDF document".to_owned(),
            FileKind::PostScript => "a PostScript drawing".to_owned(),
            FileKind::Zip => "a ZIP archive".to_owned(),
            FileKind::Binary => "a binary file".to_owned(),
            FileKind::NotXml => "some other file, not XML at all".to_owned(),
            FileKind::EmptyXml => "an XML document with no elements".to_owned(),
            FileKind::Xml { root } => format!("an XML document of the kind <{root}>"),
        }
    }
}

impl Nothing {
    /// What there is instead, and what to try.
    pub fn meaning(self) -> &'static str {
        match self {
            Nothing::OnlyPictures => {
                "it only shows pictures, which have no outline; trace one of them with spelk trace"
            }
            Nothing::EmptyTexts => {
                "its text came out empty, perhaps because the font is missing; turn text into paths"
            }
            Nothing::NoShape => {
                "it has no filled shape and no stroke that encloses an area; close the outlines and fill them"
            }
            Nothing::NothingCloses => {
                "no outline in it closes; join the ends of its lines, or read open outlines as strokes"
            }
            Nothing::AllHidden => {
                "all of it is on layers that are off, or on a sheet of paper; switch the layers on"
            }
            Nothing::NoOutline => {
                "it has no line, arc, polyline, spline or hatch; export the outlines as polylines"
            }
            Nothing::OnlyUnread => "it has only texts, dimensions or the like; turn them into outlines",
            Nothing::AllInvisible => "every element is invisible; show one",
            Nothing::ElementGone => "nothing is left of the element; take less away",
            Nothing::AllGone => "nothing is left of it",
        }
    }
}

impl fmt::Display for LetteringError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LetteringError::Nothing { font } => {
                write!(f, "there is nothing to letter: type words that the font '{font}' has letters for")
            }
            LetteringError::NoFont { font, near } => {
                write!(f, "there is no font '{font}' on this machine; there are {}", near.join(", "))
            }
            LetteringError::TooLong => {
                write!(f, "the words are longer than {MAX_CHARACTERS} characters; letter them in parts")
            }
            LetteringError::Setting { setting, least, most } => {
                write!(f, "the {} must be from {least} to {most}", setting.label())
            }
            LetteringError::ArcTooTight { radius } => write!(
                f,
                "the words do not fit on an arc of radius {} mm; make it larger or the letters smaller",
                trimmed(radius.get(), 3)
            ),
            LetteringError::Design(error) => write!(f, "the lettering {error}"),
        }
    }
}

impl LetteringSetting {
    /// Its name and unit, for a sentence.
    pub fn label(self) -> &'static str {
        match self {
            LetteringSetting::CapHeight => "height of a capital, in mm,",
            LetteringSetting::Spacing => "spacing, in mm,",
            LetteringSetting::LineSpacing => "line spacing, in capitals,",
            LetteringSetting::ArcRadius => "radius of the arc, in mm,",
        }
    }
}
