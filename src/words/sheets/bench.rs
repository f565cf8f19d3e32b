//! The bench sheet: one page to tape beside the machine.

use crate::arrange::PieceSums;
use crate::job::Ends;
use crate::proof::Severity;
use crate::proof::overhang::FeedSide;
use crate::shop::{BoardEdge, BoardEnd, Check, Money, Planed};
use crate::units::{LengthUnit, Mm, trimmed};
use crate::words::{between, capitalised, count, finding, listed};

/// What the sheet and the foot of its page are called.
pub const NAME: &str = "Bench sheet";

/// The title of the file.
pub fn title(design: &str) -> String {
    format!("Bench sheet, {design}")
}

/// The heading of the board's size.
pub const BOARD: &str = "Board to cut";
/// The heading of how to lay it.
pub const LAY: &str = "How to lay it";
/// The heading of the design's place.
pub const PLACE: &str = "Where the design goes";
/// The heading of the pieces, where there are several.
pub const PIECES: &str = "Pieces on this board";
/// Where the pieces go, in the file that has all of them.
pub const PLACE_OF_ALL: &str = "The file with every piece has the board as its page: its lower left corner goes where the left end meets the reference edge";
/// The heading of the time and the price of all pieces.
pub const TIME_AND_PRICE: &str = "Time and price of all";
/// The heading of the cutters.
pub const CUTTERS: &str = "Cutters in order, and depth";
/// The heading of the ends.
pub const ENDS: &str = "Ends";
/// The heading of what holds the board up.
pub const SUPPORT: &str = "Support";
/// The heading of the time.
pub const TIME: &str = "Expected time at the machine";
/// The heading of the job's remark.
pub const REMARK: &str = "Remark";
/// The heading of the bench list.
pub const STOCK: &str = "Stock, checked at the bench";
/// The heading of the findings.
pub const FOUND: &str = "Found by the proof: tick what you accept";
/// The heading of the cautions.
pub const CAUTIONS: &str = "Cautions";
/// The heading of what to do then.
pub const AFTER: &str = "After the carve";

/// The board.
pub fn board([length, width, thickness]: [Mm; 3], wood: &str, unit: LengthUnit) -> String {
    format!("{} x {} x {}, {wood}", unit.show(length), unit.show(width), unit.show(thickness))
}

/// What of the board is kept for the rollers, at the left end and the right.
pub fn for_the_rollers([left, right]: [Mm; 2], unit: LengthUnit) -> String {
    format!(
        "This includes {} at the left end and {} at the right for the rollers: leave both uncarved",
        unit.show(left),
        unit.show(right)
    )
}

/// Nothing of the board is kept for the rollers.
pub const NOTHING_FOR_THE_ROLLERS: &str = "This includes nothing for the rollers: the ends are free";

/// Which side is up.
pub const BEST_FACE_UP: &str = "Best face up, grain along the feed";

/// Which edge goes against the fence, and which end in first.
pub fn reference_edge(first: BoardEnd) -> &'static str {
    match first {
        BoardEnd::Left => {
            "Reference edge (the heavy line in the drawing) against the fence, left end in first"
        }
        BoardEnd::Right => {
            "Reference edge (the heavy line in the drawing) against the fence, right end in first"
        }
    }
}

/// What must stay whole for the sensor.
pub fn sensing_strip(strip: Mm, edge: BoardEdge, unit: LengthUnit) -> String {
    let strip = unit.show(strip);
    match edge {
        BoardEdge::Reference => {
            format!("Keep the underside whole for {strip} along the reference edge: the sensor reads it")
        }
        BoardEdge::Far => {
            format!("Keep the underside whole for {strip} along the far edge: the sensor reads it")
        }
    }
}

/// Where the design's lower left corner is.
pub fn corner([x, y]: [Mm; 2], unit: LengthUnit) -> String {
    format!(
        "Lower left corner of the design {} from the left end and {} from the reference edge",
        unit.show(x),
        unit.show(y)
    )
}

/// The finished size; `degrees` is how far the design is turned.
pub fn finished([length, width]: [Mm; 2], factor: f64, degrees: i32, unit: LengthUnit) -> String {
    let (length, width, percent) = (unit.show(length), unit.show(width), trimmed(factor * 100.0, 2));
    match degrees {
        0 => format!("Finished {length} x {width}, {percent} % of the drawing"),
        degrees => {
            format!("Finished {length} x {width}, {percent} % of the drawing, turned by {degrees}\u{b0}")
        }
    }
}

/// What a cutter is for.
#[derive(Clone, Copy, Debug)]
pub enum CutterPurpose<'a> {
    /// Everything.
    All,
    /// It clears before the others.
    ClearFirst,
    /// These elements.
    Elements(&'a [&'a str]),
}

/// A cutter in its order, counted from 1: from what depth to what, and in passes of `pass` at most.
pub fn cutter(
    number: usize,
    name: &str,
    [least, deepest]: [Mm; 2],
    pass: Mm,
    purpose: CutterPurpose,
    unit: LengthUnit,
) -> String {
    let depth = if least == deepest {
        unit.show(deepest)
    } else {
        format!("{} to {}", unit.show(least), unit.show(deepest))
    };
    let passes = (deepest / pass.max(Mm::new(1e-3)) - 1e-9).ceil().max(1.0);
    let cut = if passes > 1.0 {
        format!(
            "{number}. {name}: {depth} deep, in {} passes of up to {}",
            trimmed(passes, 0),
            unit.show(pass)
        )
    } else {
        format!("{number}. {name}: {depth} deep, in one pass")
    };
    match purpose {
        CutterPurpose::All => cut,
        CutterPurpose::ClearFirst => format!("{cut}, to clear first"),
        CutterPurpose::Elements(names) => format!("{cut}, for {}", listed(names)),
    }
}

/// Which elements are so deep.
pub fn of_depth(depth: Mm, elements: &[&str], unit: LengthUnit) -> String {
    format!("{} deep: {}", unit.show(depth), listed(elements))
}

/// How deep pierced elements go.
pub fn pierced(thickness: Mm, unit: LengthUnit) -> String {
    format!("Pierced elements are cut through, {} deep", unit.show(thickness))
}

/// How the ends are: what share of the design may be sniped, 0 to 1, and how high the lines are.
pub fn ends(ends: Ends, sniped: f64, step: [Mm; 2], unit: LengthUnit) -> String {
    match ends {
        Ends::Held => "Held: both rollers hold the board for the whole carve".to_owned(),
        Ends::Free if sniped == 0.0 => "Free: the design lies clear of the snipe zones".to_owned(),
        Ends::Free => format!(
            "Free: {} % of the design lies in the snipe zones; expect lines {} high",
            trimmed(sniped * 100.0, 0),
            between(step, unit)
        ),
    }
}

/// How much floor the board needs.
pub fn floor(in_front: Mm, behind: Mm, unit: LengthUnit) -> String {
    format!("Floor: {} in front of the cutter, {} behind it", unit.show(in_front), unit.show(behind))
}

/// Where to hold the board up by hand.
pub fn hold_up(side: FeedSide) -> String {
    format!("Hold the board up by hand past the {} roller: it tips", side.label())
}

/// A piece: how many are laid of how many, how large, and what one takes.
pub fn piece(piece: &PieceSums, money: &Money, unit: LengthUnit) -> String {
    let PieceSums { name, laid, wanted, size: [length, width], .. } = piece;
    let number = super::options::number(*laid, *wanted);
    let size = format!("{} x {}", unit.show(*length), unit.show(*width));
    let each = match (piece.minutes, piece.price) {
        (Some(minutes), Some(price)) => {
            format!("; each {} min, {}", trimmed(minutes, 1), money.show(price))
        }
        (Some(minutes), None) => format!("; each {} min", trimmed(minutes, 1)),
        _ => String::new(),
    };
    format!("{number} x {name}, {size}{each}")
}

/// So many pieces more than there is room for.
pub fn more_pieces(more: usize) -> String {
    format!("and {}: see the list of pieces", count(more, "more piece", "more pieces"))
}

/// Where to put stands, from the roller outwards.
pub fn stands(side: FeedSide, places: &[Mm], unit: LengthUnit) -> String {
    format!(
        "Put a stand as high as the bed {} past the {} roller",
        finding::stands(places, unit),
        side.label()
    )
}

/// What was measured for an item of the bench list that is a length.
pub fn measured(check: Check, length: Mm, unit: LengthUnit) -> String {
    format!("{}: {}", capitalised(check.label()), unit.show_fine(length))
}

/// How the faces are planed.
pub fn planed(planed: Planed) -> &'static str {
    match planed {
        Planed::Both => "Planed faces: both",
        Planed::Rough => "Planed faces: rough",
    }
}

/// The moisture, per cent.
pub fn moisture(percent: f64) -> String {
    format!("Moisture: {} %", trimmed(percent, 1))
}

/// An item that was not measured, to be filled in.
pub fn to_measure(check: Check) -> String {
    format!("{}: ______ ", capitalised(check.label()))
}

/// What to look at in any case.
pub const LOOK_AT: [&str; 2] = [
    "Both ends square, and no knots, splits or paint where it is carved or sensed",
    "Cutter sharp, clean and tight in its collet",
];

/// Nothing grave was found.
pub const NOTHING_FOUND: &str = "Nothing chancy or unsound";
/// How to read the places of findings.
pub const PLACES: &str = "Places are measured from the left end and the reference edge";

/// A finding: how grave it is, and what was found where.
pub fn found(severity: Severity, placed: &str) -> String {
    format!("{}: {placed}", severity.label())
}

/// So many findings more, of which so many are not accepted.
pub fn more(more: usize, open: usize) -> String {
    match open {
        0 => format!("and {more} more, all accepted: see the proof before you carve"),
        open => format!("and {more} more, {open} of them not accepted: see the proof before you carve"),
    }
}

/// Along the arrow under the board.
pub const FEED: &str = "grain and feed, this end first";
