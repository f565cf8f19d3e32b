//! What went wrong, for each room's error: what happened and what to try, in one line.
//!
//! The enums hold facts and derive `Error`; their `Display` is here. Each match names every variant, so an
//! error without words does not compile.

use super::one_line;
use super::shop::wrong;
use super::sizes;
use crate::arrange::{Impossible, NamesError};
use crate::design::{MAX_SEGMENTS, NotAColor};
use crate::job::MOST_PIECES;
use crate::job::saved::{Damage, OLDEST, OpenError, SaveError, VERSION};
use crate::job::{LONGEST, Rejected};
use crate::proof::rack::UnusableBoard;
use crate::proof::record::{RecordError, RecordFileError};
use crate::proof::sizes::{MOST_SIZES, SizesError};
use crate::shop::{KeepError, MOST_PIXELS, PhotoError, RackError};
use crate::units::{LengthError, LengthUnit, trimmed};
use crate::whole_file::{ReadError, WriteError};
use std::fmt;
use std::io::{self, ErrorKind};

/// Why a disk said no, for a message that names the file: in our words where the cause is a common one, else
/// in the system's, without its number.
pub fn disk(error: &io::Error) -> String {
    let known = match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder",
        ErrorKind::PermissionDenied => "you do not have permission",
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only",
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "the disk is full",
        ErrorKind::IsADirectory => "it is a folder",
        ErrorKind::NotADirectory => "part of its path is a file and not a folder",
        ErrorKind::InvalidData => "it is not text in UTF-8",
        _ => {
            let said = error.to_string();
            return said.split(" (os error").next().unwrap_or_default().to_owned();
        }
    };
    known.to_owned()
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ReadError::NotAFile => f.write_str("it is not an ordinary file"),
            ReadError::TooLarge { most } => write!(f, "it is larger than {} MB", most >> 20),
            ReadError::Disk(error) => f.write_str(&disk(error)),
        }
    }
}

impl fmt::Display for WriteError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            WriteError::Exists => f.write_str("it is already there"),
            WriteError::ReadOnly => f.write_str("it is read-only"),
            WriteError::NotAFile => f.write_str("it is not an ordinary file"),
            WriteError::Device => f.write_str("Windows keeps that name for a device; choose another"),
            WriteError::HeldOpen => f.write_str("another program has it open; close it there and try again"),
            WriteError::Disk(error) => f.write_str(&disk(error)),
        }
    }
}

impl fmt::Display for LengthError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LengthError::Missing => f.write_str("type a length, for example 89 mm or 3 1/2 in"),
            LengthError::NotALength(text) => {
                write!(f, "'{text}' is not a length; write for example 89 mm, 3.5 in, 3 1/2 in or 1' 2 1/4\"")
            }
            LengthError::DivideByZero(text) => write!(f, "'{text}' divides by zero"),
            LengthError::NotABoard(text) => write!(
                f,
                "'{text}' is not a board; write length x width x thickness, for example 24x6x0.75in"
            ),
        }
    }
}

impl fmt::Display for KeepError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            KeepError::Wrong { name, wrong: found } => {
                write!(f, "'{name}' was not saved: {}", wrong(found, LengthUnit::Millimetres))
            }
            KeepError::Unreadable { path, error } => {
                write!(f, "{} cannot be read ({error}); nothing was changed", path.display())
            }
            KeepError::Damaged { path, error } => write!(
                f,
                "{} cannot be used: {error}; correct that file first, nothing was changed",
                path.display()
            ),
            KeepError::Unwritable { path, error } => {
                write!(f, "{} cannot be written ({error}); nothing was changed", path.display())
            }
        }
    }
}

impl fmt::Display for RackError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            RackError::Unreadable { path, error } => {
                write!(f, "{} cannot be read ({error})", path.display())
            }
            RackError::Damaged { path, error } => {
                write!(
                    f,
                    "{} cannot be used: {error}; correct that line or move the file away",
                    path.display()
                )
            }
            RackError::NoSize { path, board } => write!(
                f,
                "the board '{board}' has no size that makes sense: its lengths must be over 0; correct it in {}",
                path.display()
            ),
            RackError::NoPrice { path, board } => write!(
                f,
                "the price of the board '{board}' makes no sense: it must be 0 or more; correct it in {}",
                path.display()
            ),
            RackError::Unwritable { path, error } => {
                write!(f, "{} cannot be written ({error}); nothing was changed", path.display())
            }
        }
    }
}

impl fmt::Display for PhotoError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PhotoError::FlatCorners => {
                f.write_str("has three of its corners in a line; mark all four corners, going round")
            }
            PhotoError::CrossedCorners => f.write_str("has corners that cross over; mark them going round"),
            PhotoError::NotRead(error) => write!(f, "cannot be read ({error})"),
            PhotoError::Unreadable(error) => {
                // A decoder may end with a line of its own.
                let error = one_line(error);
                write!(f, "is not a PNG, JPEG, TIFF or WebP picture that Spelk can read ({error})")
            }
            PhotoError::NoPixels => f.write_str("is an empty picture; save it again"),
            PhotoError::TooLarge { width, height } => {
                write!(
                    f,
                    "has too many pixels ({width} x {height}); save it with at most {} million",
                    MOST_PIXELS / 1_000_000
                )
            }
        }
    }
}

impl fmt::Display for SizesError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SizesError::None => {
                f.write_str("name at least one size, for example 8in, 10in wide, 150%, drawn or fit")
            }
            SizesError::TooMany { count } => {
                write!(f, "{count} sizes are too many for one list; name at most {MOST_SIZES}")
            }
            SizesError::NotASize { text } => write!(
                f,
                "'{text}' is not a size; write for example 8in, 10in wide, 150%, drawn, fit or Small=8in"
            ),
            SizesError::NoSuchSize { name } => write!(
                f,
                "'{}' cannot be carved; a size must be over 0 and under 10000 times as drawn",
                sizes::name(name)
            ),
        }
    }
}

/// A number that may be anything, as it is where that is short.
pub(super) fn number(value: f64) -> String {
    let plain = value == 0.0 || (1e-4..1e9).contains(&value.abs());
    if plain { trimmed(value, 4) } else { format!("{value:e}") }
}

impl fmt::Display for Rejected {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Rejected::Length { quantity, length, least } => {
                let length = number(length.get());
                write!(f, "the {} must be from {least} to {LONGEST}, not {length} mm", quantity.label())
            }
            Rejected::Moisture { moisture } => {
                write!(f, "the moisture must be from 0 to 300 %, not {}", number(*moisture))
            }
            Rejected::Machine { quantity, value } => {
                write!(
                    f,
                    "the machine's {} must be from 0 to 1000000, not {}",
                    quantity.label(),
                    number(*value)
                )
            }
            Rejected::Feed { quantity, feed } => {
                let feed = number(*feed);
                write!(f, "the {} must be over 0 and up to 1000000 mm a minute, not {feed}", quantity.label())
            }
            Rejected::Spindle { speed } => {
                write!(
                    f,
                    "a cutter needs an edge and must turn from 1 to 1000000 times a minute, not {}",
                    number(*speed)
                )
            }
            Rejected::Experience { factor: [along, across], scatter } => {
                write!(
                    f,
                    "a cutter's record must come to 0.1 to 10 times as thick and a scatter of 0.01 to 2, not {}, {} and {}",
                    number(*along),
                    number(*across),
                    number(*scatter)
                )
            }
            Rejected::Trust { sound, unsound } => {
                write!(
                    f,
                    "a wall must be unsound below a chance from 0.001 up and sound from no lower one up to 0.999, not {} and {}",
                    number(*unsound),
                    number(*sound)
                )
            }
            Rejected::Factor { factor } => {
                write!(f, "the size must be from 0.0001 to 10000 times as drawn, not {}", number(*factor))
            }
            Rejected::Wood { name, wrong: found } => {
                write!(f, "the wood '{name}' makes no sense: {}", wrong(found, LengthUnit::Millimetres))
            }
            Rejected::Cutter { name, wrong: found } => {
                write!(f, "the cutter '{name}' makes no sense: {}", wrong(found, LengthUnit::Millimetres))
            }
            Rejected::TooMuchClearing { length } => write!(
                f,
                "clearing the floors would take {} km of cuts; set a larger stepover or pass depth",
                number((length.get() / 1e6).round())
            ),
            Rejected::NoSuchElement => write!(f, "the element is gone"),
            Rejected::NoElementNamed { name } => write!(f, "{name} is gone"),
            Rejected::NoSuchPiece => write!(f, "the piece is gone"),
            Rejected::LastPiece => write!(f, "a job has at least one piece; add another first"),
            Rejected::NoCopy => write!(f, "a piece is carved at least once; to leave it out, remove it"),
            Rejected::TooManyOnBoard { copies, most } => {
                write!(f, "that would be {copies} on one board, and {most} is the most; use several boards")
            }
            Rejected::NoSuchBlemish => write!(f, "the blemish is gone"),
            Rejected::BlemishOffBoard { beyond } => {
                write!(f, "the blemish lies {beyond} off the board; mark it where it reaches the board")
            }
            Rejected::NoLength { check } => {
                write!(f, "the {} on the bench list is not measured as a length", check.label())
            }
            Rejected::NoName => write!(f, "an element needs a name; it keeps the one it has"),
            Rejected::OnePiece => {
                write!(f, "what you chose is one piece already; choose an element of several")
            }
            Rejected::TooManyPieces { elements, most } => write!(
                f,
                "that would make {elements} elements, and {most} is the most; remove specks first, or split fewer"
            ),
            Rejected::TooFew { needed: 1 } => write!(f, "choose an element first"),
            Rejected::TooFew { needed } => write!(f, "choose {needed} elements first"),
            Rejected::LastElement => write!(f, "a design needs an element: the last one stays"),
            Rejected::NothingLeft { name } => {
                write!(f, "nothing is left of {name}; take a smaller margin")
            }
            Rejected::Lettering(error) => write!(f, "{error}"),
            Rejected::Design(error) => write!(f, "the design {error}"),
        }
    }
}

impl fmt::Display for SaveError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SaveError::Unwritable(error) => {
                write!(f, "cannot be written ({error}); what was saved there before is unchanged")
            }
        }
    }
}

impl fmt::Display for NotAColor {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a colour is written as #rrggbb")
    }
}

impl fmt::Display for OpenError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            OpenError::Unreadable(error) => write!(f, "cannot be read ({error})"),
            OpenError::NotAJob => {
                f.write_str("is not a saved job; open a file that Spelk saved, ending in .spelk")
            }
            OpenError::UnknownVersion { found } if *found > u64::from(VERSION) => write!(
                f,
                "was saved in version {found} of the format, and this program reads versions up to {VERSION}; use a newer Spelk"
            ),
            OpenError::UnknownVersion { found } => write!(
                f,
                "says that it is version {found} of the format, and the oldest there was is {OLDEST}; open an earlier copy"
            ),
            OpenError::Damaged(damage) => write!(f, "is damaged: {damage}; open an earlier copy"),
        }
    }
}

impl fmt::Display for Damage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Damage::Text(error) => write!(f, "{error}"),
            Damage::Grid => f.write_str("the grid of the design has a step or origin out of range"),
            Damage::NoElements => f.write_str("the design has no element"),
            Damage::Page => f.write_str("the page of the design has no size that a page can have"),
            Damage::Sharpness => {
                f.write_str("the picture it was traced from has pixels of no size that a pixel can have")
            }
            Damage::TooManyPoints => write!(f, "the outlines have more than {MAX_SEGMENTS} corners"),
            Damage::Tangled => f.write_str("the outlines cross each other too often"),
            Damage::NoName => f.write_str("an element has no name"),
            Damage::OneName { element } => write!(f, "two elements are called '{element}'"),
            Damage::Overlap { one, other } => {
                write!(f, "the elements '{one}' and '{other}' lie over each other")
            }
            Damage::OffGrid { element } => {
                write!(f, "an outline of '{element}' lies far off the design's grid")
            }
            Damage::NotPoints { element } => write!(f, "an outline of '{element}' is not a list of points"),
            Damage::NoArea { element } => write!(f, "the element '{element}' has no area"),
            Damage::Value(rejected) => write!(f, "{rejected}"),
        }
    }
}

impl fmt::Display for Impossible {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Impossible::TooLarge { piece, size, room } => write!(
                f,
                "{piece} is {} x {}, and the board has room for {} x {}; make it smaller, or take a larger board",
                size[0], size[1], room[0], room[1]
            ),
            Impossible::NoPlace { piece } => {
                write!(
                    f,
                    "{piece} has no place on the board clear of its blemishes; make it smaller, or take another board"
                )
            }
            Impossible::WideGap { gap, length } => {
                write!(f, "a gap of {gap} is wider than the board is long ({length}); type a smaller one")
            }
            Impossible::CalledOff => f.write_str("the search was called off"),
        }
    }
}

impl fmt::Display for NamesError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NamesError::NoNames => f.write_str("the list has no names; write one a line"),
            NamesError::TooMany { names } => {
                write!(f, "the list has {names} names, and {MOST_PIECES} is the most on one board")
            }
            NamesError::Empty { line } => write!(f, "line {line} of the list is empty; take it out"),
            NamesError::TooLong { line, words, length, room } => write!(
                f,
                "line {line} of the list: '{words}' makes the piece {length} long, and the frame has {room}; shorten it, or take smaller letters"
            ),
            NamesError::Words { line, why } => write!(f, "line {line} of the list: {why}"),
        }
    }
}

impl fmt::Display for UnusableBoard {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the board '{}' of the rack cannot be used: {}", self.board, self.why)
    }
}

impl fmt::Display for RecordFileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            RecordFileError::Unreadable { path, error } => {
                write!(f, "{} cannot be read ({error}); nothing was changed", path.display())
            }
            RecordFileError::Damaged { path, error } => {
                write!(
                    f,
                    "{} {error}; correct that line or move the file away, nothing was changed",
                    path.display()
                )
            }
            RecordFileError::Unwritable { path, error } => {
                write!(f, "{} cannot be written ({error}); nothing was changed", path.display())
            }
        }
    }
}

impl fmt::Display for RecordError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            RecordError::Damaged(error) => write!(f, "is no record of walls: {error}"),
            RecordError::Wrong { line } => write!(f, "has a number in line {line} that makes no sense"),
        }
    }
}
