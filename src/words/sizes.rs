//! One design at several sizes, in words.

use super::{percent_up, thousands, verdict};
use crate::proof::Proof;
use crate::proof::sizes::{BoardTaken, Lost, RowKind, SizeName, SizeRow};
use crate::units::{LengthUnit, Mm, trimmed};

/// What takes the place of the drawing of a size that is not drawn.
pub const NOT_DRAWN: &str = "Not drawn: its board is so large that the others would be too small to see";

/// What a size is called.
pub fn name(name: &SizeName) -> &str {
    match name {
        SizeName::Given(name) => name,
        SizeName::AsDrawn => "As drawn",
        SizeName::Largest => "Largest for this board",
        SizeName::LeastSound => "Least sound size",
        SizeName::LeastSoundWalls => "Least size with sound walls",
    }
}

/// What a row is called; of the largest size that has a name of its own, what it is too.
pub fn heading(row: &SizeRow) -> String {
    match (row.kind, &row.name) {
        (RowKind::LargestForBoard, SizeName::Given(name)) if name != RowKind::LargestForBoard.label() => {
            format!("{name} (largest for this board)")
        }
        (_, other) => name(other).to_owned(),
    }
}

/// `12 in x 4 in (304.8 x 101.6 mm)`: the finished size in the user's unit and in the other.
pub fn finished(row: &SizeRow, unit: LengthUnit) -> String {
    let other = match unit {
        LengthUnit::Millimetres => LengthUnit::InchFraction,
        _ => LengthUnit::Millimetres,
    };
    let size = [row.proof.length, row.proof.width];
    format!("{} ({})", measures(size, unit), measures(size, other))
}

/// `12 x 4 in`: a finished size in one unit.
pub fn measures([length, width]: [Mm; 2], unit: LengthUnit) -> String {
    unit.show_several([length, width], " x ")
}

/// The board it needs, with the job's own where that takes it, or else the nearest dressed size.
pub fn board(row: &SizeRow, unit: LengthUnit) -> String {
    let size = |sides: [Mm; 3]| unit.show_several(sides, " x ");
    let needed = size(row.to_buy);
    match (row.board, &row.dressed) {
        (BoardTaken::Own, _) => {
            let own = row.job.board();
            format!("{needed}; the board of {} takes it", size([own.length, own.width, own.thickness]))
        }
        (BoardTaken::Other, Some(name)) => format!("{needed}, a dressed {name}"),
        (BoardTaken::Other, None) => format!("{needed}, glued up: no dressed size is as large"),
    }
}

/// The thinnest wall, or that there is none.
pub fn thinnest_wall(row: &SizeRow, unit: LengthUnit) -> String {
    row.proof.thinnest.wall.map_or_else(|| "none".to_owned(), |wall| unit.show_fine(wall))
}

/// `38 min`, `2 h 05 min`, or that nobody has worked it out.
pub fn minutes(minutes: Option<f64>) -> String {
    match minutes.filter(|minutes| minutes.is_finite()) {
        None => "not worked out".to_owned(),
        Some(minutes) if minutes < 60.0 => format!("{} min", trimmed(minutes.ceil(), 0)),
        Some(minutes) => {
            let whole = minutes.ceil();
            format!("{} h {:02.0} min", trimmed((whole / 60.0).floor(), 0), whole % 60.0)
        }
    }
}

/// What will not come out as drawn: `4 walls may chip out, 2 grooves cannot be entered`; `nothing`.
pub fn lost(lost: &Lost, unit: LengthUnit) -> String {
    let longest = unit.show_fine(lost.longest_point);
    let many = |number: usize, one: &str, several: String| match number {
        0 => None,
        1 => Some(one.to_owned()),
        _ => Some(several),
    };
    let said = |number: usize| thousands(number);
    let parts: Vec<String> = [
        many(lost.walls, "1 wall may chip out", format!("{} walls may chip out", said(lost.walls))),
        many(
            lost.points,
            &format!("1 point loses its last {longest}"),
            format!("{} points break off, up to {longest} of one", said(lost.points)),
        ),
        many(
            lost.grooves,
            "1 groove cannot be entered",
            format!("{} grooves cannot be entered", said(lost.grooves)),
        ),
        many(lost.corners, "1 corner stays round", format!("{} corners stay round", said(lost.corners))),
        many(
            lost.shallow,
            "1 V groove hardly shows",
            format!("{} V grooves hardly show", said(lost.shallow)),
        ),
    ]
    .into_iter()
    .flatten()
    .collect();
    if parts.is_empty() { "nothing".to_owned() } else { parts.join(", ") }
}

/// From what size on no wall or groove is too thin.
pub fn sound_from(proof: &Proof, unit: LengthUnit) -> String {
    match (&proof.thinnest.obstacle, proof.thinnest.sound_factor) {
        (Some(obstacle), _) => verdict::no_practical_size(obstacle, unit),
        (None, Some(factor)) => {
            let length = proof.length * (factor / proof.factor);
            format!("{} %, {} long", percent_up(factor), unit.show(length))
        }
        (None, None) => "nothing is thin at any size".to_owned(),
    }
}
