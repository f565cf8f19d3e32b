//! Pieces that differ by their words: one frame, and a list of names or numbers.

use super::shape::HAIR;
use crate::design::lettering::Lettering;
use crate::geometry::Rect;
use crate::job::{
    Edit, EditKind, Job, MOST_PIECES, Piece, Redesign, Redraw, Rejected, Spot, Treatment, Words,
};
use crate::units::Mm;
use glam::DVec2;
use std::sync::Arc;
use thiserror::Error;

/// Capitals are this share of the frame's width across, where nothing else is said. A round value of our own.
const CAPITALS: f64 = 1.0 / 3.0;

/// Why a list of names cannot be carved. Lines count from 1.
#[derive(Debug, Error)]
pub enum NamesError {
    /// The list has none.
    NoNames,
    /// There are more than go on one board.
    TooMany {
        /// How many.
        names: usize,
    },
    /// A line is empty.
    Empty {
        /// Which.
        line: usize,
    },
    /// The words of a line reach beyond the outline of the frame.
    TooLong {
        /// Which.
        line: usize,
        /// Its words.
        words: String,
        /// How long they are, as carved.
        length: Mm,
        /// How much room there is.
        room: Mm,
    },
    /// The words of a line cannot be set.
    Words {
        /// Which.
        line: usize,
        /// Why.
        why: Box<Rejected>,
    },
}

/// The names in a list: the first column of each line of a table, or the whole line where there are no commas. Lines
/// with nothing in them are passed over.
///
/// # Errors
///
/// Where the table cannot be read.
pub fn names_in(list: &[u8]) -> Result<Vec<String>, csv::Error> {
    let table = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(list);
    let first =
        |record: csv::ByteRecord| String::from_utf8_lossy(record.get(0).unwrap_or_default()).into_owned();
    table.into_byte_records().map(|record| record.map(first)).collect()
}

/// How the words of a piece are set and carved, with other words for each: as the first element that was lettered, or
/// else in the middle, with capitals a third of the frame's width.
pub fn usual_words(job: &Job) -> (Words, Spot) {
    if let Some((name, lettering)) = job.lettering().iter().next() {
        let element = job.design().elements.iter().position(|element| element.name == *name);
        let treatment = element.map_or(Treatment::Sunk, |element| job.carvings()[element].treatment);
        return (Words { lettering: lettering.clone(), treatment }, Spot::InPlaceOf(name.clone()));
    }
    let across = (job.frame_on_board() * job.factor()).min_element();
    let lettering = Lettering { cap_height: Mm::new(across * CAPITALS), ..Lettering::default() };
    (Words { lettering, treatment: Treatment::Sunk }, Spot::Middle)
}

/// The edit that makes the piece in hand one piece for each name, each called by its name. Up to seconds for a long
/// list: the words of each are cut into its outline.
///
/// # Errors
///
/// Where a line is empty, its words do not fit into the outline of the design, or cannot be set.
pub fn names_edit(job: &Job, names: &[String], words: &Words, spot: &Spot) -> Result<Edit, NamesError> {
    let there = job.piece_count() - 1;
    if names.is_empty() {
        return Err(NamesError::NoNames);
    }
    if names.len() + there > MOST_PIECES {
        return Err(NamesError::TooMany { names: names.len() });
    }
    if let Some(empty) = names.iter().position(|name| name.trim().is_empty()) {
        return Err(NamesError::Empty { line: empty + 1 });
    }
    let (piece, _) = job.piece_in_hand();
    let (alone, turns) = (job.piece(piece), job.lot(piece).turns);
    let mut edits = Vec::new();
    if job.lot(piece).count > 1 {
        // Each name is carved once.
        edits.push(Edit::Count { piece, count: 1 });
    }
    for (index, name) in names.iter().enumerate() {
        let line = index + 1;
        let lettering = Lettering { words: name.trim().to_owned(), ..words.lettering.clone() };
        let set = Redesign::Letter(Words { lettering, treatment: words.treatment }, spot.clone());
        let why = |why: Rejected| NamesError::Words { line, why: Box::new(why) };
        let mut lettered = alone.clone();
        lettered.apply(Edit::Redesign(Box::new(set.clone()))).map_err(why)?;
        let (before, after) = (alone.design().outline_box(), lettered.design().outline_box());
        if !holds(before, after) {
            let long = (after.size() - before.size()).max(DVec2::ZERO);
            let axis = usize::from(long.x < long.y);
            let side = |size: DVec2| Mm::new(size[axis] * alone.factor());
            return Err(NamesError::TooLong {
                line,
                words: name.trim().to_owned(),
                length: side(after.size()),
                room: side(before.size()),
            });
        }
        let mut design = (**lettered.design()).clone();
        name.trim().clone_into(&mut design.name);
        let named =
            |design| Edit::Redraw { design: Arc::new(design), reading: alone.reading(), why: Redraw::Chosen };
        if index == 0 {
            edits.push(Edit::Redesign(Box::new(set)));
            edits.push(named(design));
        } else {
            lettered.apply(named(design)).map_err(why)?;
            edits.push(Edit::AddPiece(Box::new(Piece::of(&lettered, 1, turns))));
        }
    }
    Ok(Edit::Several(EditKind::Names, edits))
}

/// Whether one box holds another, but for rounding.
fn holds(outer: Rect, inner: Rect) -> bool {
    let outer = outer.grown(HAIR);
    outer.union(inner) == outer
}
