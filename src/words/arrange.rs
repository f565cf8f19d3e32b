//! Several pieces on one board, in words.

use super::{count, listed, thousands};
use crate::arrange::{OnRack, PieceSums};
use crate::job::SAWN_APART;
use crate::proof::Severity;
use crate::shop::Money;
use crate::units::{LengthUnit, Mm, trimmed};

/// What the columns of the list of pieces are called.
pub const COLUMNS: [&str; 6] = ["piece", "size", "laid", "min each", "price each", "one more"];

/// Over what the boards of the rack take.
pub const RACK: &str = "Boards of the rack, those that take all first, then by the least waste:";

/// Where the rack has no board that takes any.
pub const RACK_TAKES_NONE: &str = "No board of the rack takes any of the pieces.";

/// `third`, `12th`.
pub fn ordinal(number: usize) -> String {
    const FIRST: [&str; 10] =
        ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"];
    if let Some(word) = number.checked_sub(1).and_then(|index| FIRST.get(index)) {
        return (*word).to_owned();
    }
    let end = match (number % 10, number % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    };
    format!("{}{end}", thousands(number))
}

/// A copy, told from the others of its piece: `house number, third copy`. `copy` counts from 0.
pub fn copy(name: &str, copy: usize, of: usize) -> String {
    if of < 2 { name.to_owned() } else { format!("{name}, {} copy", ordinal(copy + 1)) }
}

/// Several copies that have something in common.
pub fn copies(name: &str, which: &[usize], of: usize) -> String {
    match which {
        [only] => copy(name, *only, of),
        all if all.len() == of => format!("{name}, every copy"),
        some if some.len() <= 6 => {
            let numbers: Vec<String> = some.iter().map(|copy| (copy + 1).to_string()).collect();
            format!("{name}, copies {}", listed(&numbers.iter().map(String::as_str).collect::<Vec<_>>()))
        }
        some => format!("{name}, {} of {of} copies", some.len()),
    }
}

/// What was found of some copies of a piece.
pub fn found_of(name: &str, which: &[usize], of: usize, message: &str) -> String {
    format!("{}: {message}", copies(name, which, of))
}

/// So many findings more than there is room for.
pub fn more_found(more: usize) -> String {
    format!("and {} more", thousands(more))
}

/// Minutes in a table; a dash where nobody can say.
pub fn minutes(minutes: Option<f64>) -> String {
    minutes.map_or_else(|| "-".to_owned(), |minutes| trimmed(minutes, 1))
}

/// What all pieces of a board are called together: by their names, each once.
pub fn pieces_called<'a>(names: impl Iterator<Item = &'a str>) -> String {
    let mut each: Vec<&str> = Vec::new();
    for name in names {
        if !each.contains(&name) {
            each.push(name);
        }
    }
    listed(&each)
}

/// How many pieces are laid.
pub fn laid(count_laid: usize, left_over: usize) -> String {
    let pieces = count(count_laid, "piece goes", "pieces go");
    match left_over {
        0 => format!("{pieces} on this board."),
        left => format!("{pieces} on this board; there is no place for {}.", count(left, "more", "more")),
    }
}

/// What the proof of all copies comes to.
pub fn verdict(severities: &[Severity]) -> String {
    let number = |wanted: Severity| severities.iter().filter(|&&severity| severity == wanted).count();
    let (chancy, unsound) = (number(Severity::Chancy), number(Severity::Unsound));
    match (chancy, unsound) {
        (0, 0) => "All of them should come out whole.".to_owned(),
        (chancy, 0) => format!("{} chancy.", count(chancy, "piece is", "pieces are")),
        (0, unsound) => format!("{} unsound.", count(unsound, "piece is", "pieces are")),
        (chancy, unsound) => {
            format!("{} unsound, and {chancy} chancy.", count(unsound, "piece is", "pieces are"))
        }
    }
}

/// How much of the board is taken.
pub fn used(used: Mm, board: Mm, waste: f64, unit: LengthUnit) -> String {
    format!(
        "They take {} of the board's {}; {} of it does not become a finished piece.",
        unit.show(used),
        unit.show(board),
        share(waste)
    )
}

fn share(share: f64) -> String {
    format!("{} %", trimmed(share * 100.0, 0))
}

/// The shortest board of the same width.
pub fn shortest(length: Mm, width: Mm, unit: LengthUnit) -> String {
    format!(
        "The shortest board {} wide that was found for all of them: {}.",
        unit.show(width),
        unit.show(length)
    )
}

/// Board at the ends that all pieces share.
pub fn allowance(each: Mm, pieces: usize, unit: LengthUnit) -> String {
    format!(
        "The rollers need {} at the two ends together: {} a piece.",
        unit.show(each * pieces as f64),
        unit.show(each)
    )
}

/// Time and money for all pieces.
pub fn total(minutes: f64, cost: Option<f64>, price: Option<f64>, money: &Money) -> String {
    let time = format!("All of them take {} min at the machine", trimmed(minutes, 0));
    match (cost, price) {
        (Some(cost), Some(price)) => {
            format!("{time}, cost {} and sell for {}.", money.show(cost), money.show(price))
        }
        _ => format!("{time}. The price is not worked out: the wood or the hours have none."),
    }
}

/// How far the pieces are kept apart.
pub fn gap(gap: Mm, set: Option<Mm>, unit: LengthUnit) -> String {
    match set {
        Some(_) => format!("Pieces are kept {} apart.", unit.show(gap)),
        None => format!(
            "Pieces are kept {} apart: the largest cutter, and {} to saw between them.",
            unit.show(gap),
            unit.show(SAWN_APART)
        ),
    }
}

/// The cutters in their order.
pub fn cutters(names: &[&str]) -> String {
    match names {
        [only] => format!("One cutter does all: {only}."),
        several => format!("Put the cutters in once each, in this order: {}.", several.join(", then ")),
    }
}

/// Some pieces lie a quarter turned.
pub fn across_the_grain(turned: usize) -> String {
    format!(
        "{} a quarter turned: walls that ran along the grain run across it there, where they are weaker. Each is proofed so.",
        count(turned, "piece lies", "pieces lie")
    )
}

/// One more piece goes on, or does not. Its price is for the machine, the bench and the finish: the wood is there.
pub fn one_more(piece: &PieceSums, fits: bool, money: &Money) -> String {
    match (fits, piece.one_more) {
        (true, Some(cost)) => money.show(cost),
        (true, None) => "fits".to_owned(),
        (false, _) => "no place".to_owned(),
    }
}

/// What a board of the rack takes.
pub fn on_rack(row: &OnRack, unit: LengthUnit) -> String {
    let takes = if row.takes_all { "all".to_owned() } else { thousands(row.count) };
    format!("{}: takes {takes}; {} wasted, {} left over", row.name, share(row.waste), unit.show(row.offcut))
}
