//! Edits of a job: what the Undo menu calls them, and what they did.

use super::{capitalised, count};
use crate::job::{Done, EditKind, Rejected};
use crate::units::trimmed;

/// What a step that can be taken back is called: `Undo board length`.
pub fn edit_name(kind: EditKind) -> &'static str {
    match kind {
        EditKind::Opened => "open",
        EditKind::Treatment => "treatment",
        EditKind::OwnDepth => "element's depth",
        EditKind::OwnCutter => "element's cutter",
        EditKind::BoardLength => "board length",
        EditKind::BoardWidth => "board width",
        EditKind::BoardThickness => "board thickness",
        EditKind::Sawn => "how the board is sawn",
        EditKind::Board => "board",
        EditKind::RackBoard => "board from the rack",
        EditKind::Wood => "wood",
        EditKind::Blemish => "blemish",
        EditKind::BenchList => "bench list",
        EditKind::Photo => "photograph",
        EditKind::Cutter => "cutter",
        EditKind::Limit => "limit",
        EditKind::Depth => "depth",
        EditKind::Trust => "trusted chances",
        EditKind::Clearing => "clearing",
        EditKind::Machine => "machine",
        EditKind::TimeFactor => "machine's time",
        EditKind::Ends => "ends",
        EditKind::Size => "size",
        EditKind::Frame => "frame",
        EditKind::Turn => "turn",
        EditKind::Place => "place",
        EditKind::FoundPlace => "found place",
        EditKind::SideMargin => "side margin",
        EditKind::GroundMargin => "ground margin",
        EditKind::Accepted => "accepted finding",
        EditKind::Remark => "remark",
        EditKind::DrawingSize => "size of the drawing",
        EditKind::Drawing => "drawing",
        EditKind::OpenOutlines => "open outlines",
        EditKind::Mending => "mending",
        EditKind::Tracing => "trace",
        EditKind::Rename => "rename",
        EditKind::Combine => "combine",
        EditKind::Split => "split",
        EditKind::Remove => "remove",
        EditKind::Mirror => "mirror",
        EditKind::CutOut => "cut out",
        EditKind::Move => "move",
        EditKind::Resize => "resize",
        EditKind::Grow => "grow or shrink",
        EditKind::Repeat => "repeat",
        EditKind::Ground => "ground",
        EditKind::Border => "border",
        EditKind::Smooth => "smooth",
        EditKind::Clean => "clean",
        EditKind::Lettering => "lettering",
        EditKind::Options => "options",
        EditKind::Advice => "advice",
        EditKind::AddPiece => "another piece",
        EditKind::RemovePiece => "piece taken away",
        EditKind::TakeInHand => "piece in hand",
        EditKind::Count => "number of copies",
        EditKind::Turns => "turns allowed",
        EditKind::Gap => "gap between pieces",
        EditKind::Arrangement => "arrangement",
        EditKind::Names => "names",
    }
}

/// Why an edit is refused, as a sentence of its own.
pub fn rejection(rejected: &Rejected) -> String {
    capitalised(&rejected.to_string())
}

/// What was done to the elements of a design.
pub fn elements_done(done: &Done) -> String {
    match done {
        Done::Renamed { before, after } => format!("{before} is now called {after}"),
        Done::Combined { count: number, name } => {
            format!("Combined {} as {name}", count(*number, "element", "elements"))
        }
        Done::Split { names, pieces } => {
            format!("Split {} into {pieces} pieces", elements(names))
        }
        Done::Removed { names } => format!("Removed {}", elements(names)),
        Done::Mirrored { names } => format!("Mirrored {}", elements(names)),
        Done::CutOut { names, from } => format!("Cut {} out of {from}", elements(names)),
        Done::Moved { names } => format!("Moved {}", elements(names)),
        Done::Resized { names, factor } => {
            format!("Made {} {} % as large", elements(names), trimmed(factor * 100.0, 1))
        }
        Done::Grown { names, outwards } => {
            format!("{} {}", if *outwards { "Grew" } else { "Shrank" }, elements(names))
        }
        Done::Repeated { names, times: [along, across] } => {
            format!("Repeated {} {along} by {across} times", elements(names))
        }
        Done::Grounded { name } => {
            format!("Added {name}: it is sunk, so that what stands on it is in relief")
        }
        Done::Smoothed { names } => format!("Smoothed {}", elements(names)),
        Done::Bordered { name } => format!("Added {name}: it stands"),
        Done::Cleaned { specks } => {
            format!("Removed {}", count(*specks, "speck or sliver", "specks and slivers"))
        }
        Done::Lettered { name } => format!("Lettered {name}"),
    }
}

/// Elements are gone because others cover them.
pub fn elements_covered(names: &[String]) -> String {
    match names {
        [only] => format!("{only} lies wholly under another and is gone: Undo brings it back"),
        several => format!(
            "{} lie wholly under others and are gone: Undo brings them back",
            count(several.len(), "element", "elements")
        ),
    }
}

/// The file of a drawing is not followed any more, since the design was changed here.
pub fn not_followed(file: &str) -> String {
    format!("If {file} changes now it is not read again, unless this is undone")
}

/// `rim`, or `3 elements`.
fn elements(names: &[String]) -> String {
    match names {
        [only] => only.clone(),
        several => count(several.len(), "element", "elements"),
    }
}
