//! Advice in words: what could be changed, what comes of it, and what it costs.
//!
//! Each step is a clause in the imperative; an offer of two joins them by `and`.

use super::{capitalised, count, finding, listed, percent_down, percent_up, verdict};
use crate::advice::{BoardTaken, Nearest, Offer, SizeRange, Step};
use crate::job::{Ends, Treatment};
use crate::proof::Severity;
use crate::proof::mend::Mend;
use crate::shop::Money;
use crate::units::{LengthUnit, Mm, trimmed};

/// Over a list of offers.
pub const HEADING: &str = "What would help, the least change first; each was tried out and proofed:";
/// Where nothing has to be changed.
pub const NOTHING_TO_CHANGE: &str = "Nothing has to be changed.";
/// Where nothing helps.
pub const NOTHING_HELPS: &str = "No change of one or two things that was tried makes it better.";

/// What an offer changes: a sentence without a full stop.
pub fn changes(offer: &Offer, unit: LengthUnit) -> String {
    let steps: Vec<String> = offer.steps.iter().map(|one| step(one, unit)).collect();
    capitalised(&steps.join(" and "))
}

/// What an offer changes, what comes of it and what it costs: a sentence with its full stop.
pub fn offer(offer: &Offer, money: &Money, unit: LengthUnit) -> String {
    let (changes, cost) = (changes(offer, unit), cost(offer, money));
    match offer.severity() {
        Severity::Sound => format!("{changes}: it should then come out whole; {cost}."),
        Severity::Chancy => {
            format!("{changes}: it may then come out whole; {cost}. {}.", remains(offer, unit))
        }
        Severity::Unsound => format!("{changes}; {cost}. {}.", remains(offer, unit)),
    }
}

/// An offer in a table: what it changes and the verdict it comes to; a sentence with its full stop.
pub fn short(offer: &Offer, unit: LengthUnit) -> String {
    format!("{}: {}.", changes(offer, unit), offer.severity().label().to_lowercase())
}

/// The best offer, where it stands alone: a sentence with its full stop.
pub fn would_help(best: &Offer, money: &Money, unit: LengthUnit) -> String {
    format!("What would help most: {}", offer(best, money, unit))
}

/// What an offer comes to, for its preview: a sentence with its full stop.
pub fn preview(offer: &Offer, unit: LengthUnit) -> String {
    verdict::if_applied(&verdict::sentence(&offer.after.proof.verdict, unit))
}

/// What of the verdict's reasons is left after an offer: a sentence without a full stop; empty where none is.
pub fn remains(offer: &Offer, unit: LengthUnit) -> String {
    match verdict::why(&offer.after.proof.verdict, unit) {
        why if why.is_empty() => String::new(),
        why => format!("What remains: {why}"),
    }
}

/// What an offer costs, apart by commas: `3 min more at the machine, 12.50 to buy`.
pub fn cost(offer: &Offer, money: &Money) -> String {
    let cost = &offer.cost;
    let minutes = cost.minutes.unwrap_or_default();
    let whole = minutes.abs().round();
    let mut parts = Vec::new();
    if cost.bought {
        parts.push(match cost.money {
            Some(spent) => format!("{} to buy", money.show(spent)),
            None => "at a price that is not known".to_owned(),
        });
    }
    let says_size = |step: &Step| matches!(step, Step::Size { .. } | Step::Place { factor: Some(_), .. });
    if (cost.size - 1.0).abs() >= 5e-4 && !offer.steps.iter().any(says_size) {
        parts.push(format!("{} % as large", trimmed(cost.size * 100.0, 1)));
    }
    if cost.area > 0.0 {
        parts.push(if cost.area < 0.001 {
            "under 0.1 % of the carving changes".to_owned()
        } else {
            format!("{} % of the carving changes", trimmed(cost.area * 100.0, 1))
        });
    }
    if whole >= 1.0 {
        let more = if minutes > 0.0 { "more" } else { "less" };
        parts.push(format!("{whole} min {more} at the machine"));
    }
    if parts.is_empty() {
        "nothing to buy, and no more time at the machine".to_owned()
    } else {
        parts.join(", ")
    }
}

/// One thing to change, as a clause.
fn step(step: &Step, unit: LengthUnit) -> String {
    let show = |length: Mm| unit.show(length);
    let at = |x, y| unit.show_several([x, y], ", ");
    let board = |[length, width, thickness]: [Mm; 3]| {
        format!("{} x {} x {}", show(length), show(width), show(thickness))
    };
    match step {
        Step::Board { taken: BoardTaken::Rack { name }, wood: None, size, .. } => {
            format!("take {name} from the rack ({})", board(*size))
        }
        Step::Board { taken: BoardTaken::Rack { name }, wood: Some(wood), size, .. } => {
            format!("take {name} from the rack ({}, {wood})", board(*size))
        }
        Step::Board { taken: BoardTaken::Bought { dressed: Some(dressed) }, wood: None, size, .. } => {
            format!("get a dressed {dressed}, {} long", show(size[0]))
        }
        Step::Board {
            taken: BoardTaken::Bought { dressed: Some(dressed) }, wood: Some(wood), size, ..
        } => {
            format!("get a dressed {dressed} of {wood}, {} long", show(size[0]))
        }
        Step::Board { taken: BoardTaken::Bought { dressed: None }, wood: None, size, .. } => {
            format!("get or glue up a board of {}", board(*size))
        }
        Step::Board { taken: BoardTaken::Bought { dressed: None }, wood: Some(wood), size, .. } => {
            format!("get or glue up a board of {wood}, {}", board(*size))
        }
        Step::Flatten { thickness } => {
            format!("plane the board flat, which leaves {} of thickness", show(*thickness))
        }
        Step::Joint { width } => {
            format!("joint the edges straight and square, which leaves {} of width", show(*width))
        }
        Step::Cutter { name, clears_first: None } => format!("cut it with {name}"),
        Step::Cutter { name, clears_first: Some(first) } => {
            format!("cut it with {name}, after {first} has cleared the floors")
        }
        Step::OwnCutter { name, elements } => {
            let elements: Vec<&str> = elements.iter().map(String::as_str).collect();
            format!("cut {} with {name}", listed(&elements))
        }
        Step::Depth { depth } => format!("carve only {} deep", show(*depth)),
        Step::Pass { depth } => format!("cut no deeper than {} a pass", unit.show_fine(*depth)),
        Step::Feed { feed } => format!("feed no faster than {}/min", show(Mm::new(*feed))),
        Step::Bridges => "leave bridges under what is cut out".to_owned(),
        Step::Turn => "turn it by a quarter".to_owned(),
        Step::Ends(Ends::Held) => "keep the roller allowance at both ends".to_owned(),
        Step::Ends(Ends::Free) => "skip the roller allowance".to_owned(),
        Step::Size { factor, length } => {
            format!("carve it at {} % ({} long)", percent(*factor), show(*length))
        }
        Step::Place { corner: [x, y], turned: false, factor: None } => {
            format!("put its lower left corner at {}", at(*x, *y))
        }
        Step::Place { corner: [x, y], turned: true, factor: None } => {
            format!("turn it by a quarter, with its lower left corner at {}", at(*x, *y))
        }
        Step::Place { corner: [x, y], turned: false, factor: Some(factor) } => {
            format!("carve it at {} %, with its lower left corner at {}", percent(*factor), at(*x, *y))
        }
        Step::Place { corner: [x, y], turned: true, factor: Some(factor) } => format!(
            "carve it at {} %, turned by a quarter, with its lower left corner at {}",
            percent(*factor),
            at(*x, *y)
        ),
        Step::Middle => "put it in the middle of the board".to_owned(),
        Step::Treat { elements, treatment } => {
            let elements: Vec<&str> = elements.iter().map(String::as_str).collect();
            match treatment {
                Treatment::Left => format!("leave {} standing", listed(&elements)),
                other => format!("carve {} {}", listed(&elements), other.label().to_lowercase()),
            }
        }
        Step::Specks { count: specks } => {
            format!("leave out {}", count(*specks, "speck or sliver", "specks and slivers"))
        }
        Step::Mend { what: Mend::Walls, count: walls } => {
            format!("thicken {} in the drawing", count(*walls, "wall", "walls"))
        }
        Step::Mend { what: Mend::Grooves, count: grooves } => {
            format!("widen {} in the drawing", count(*grooves, "groove", "grooves"))
        }
    }
}

/// A size as it is set: mostly to a tenth of a per cent.
fn percent(factor: f64) -> String {
    trimmed(factor * 100.0, 4)
}

/// That no size is both sound and fits, and by how much that fails: a sentence with its full stop; empty where
/// there is such a size. `drawn` is how long the design is as drawn.
pub fn no_size(sizes: &SizeRange, drawn: Mm, unit: LengthUnit) -> String {
    if sizes.both().is_some() {
        return String::new();
    }
    match (&sizes.obstacle, sizes.sound_from) {
        (Some(obstacle), _) => format!("{}.", verdict::no_practical_size(obstacle, unit)),
        (None, Some(from)) if sizes.fits_up_to > 0.0 => format!(
            "No size is sound and fits this board: walls and grooves are sound from {} % ({} long), and the board takes {} % ({}); that is {} short.",
            percent_up(from),
            unit.show(drawn * from),
            percent_down(sizes.fits_up_to),
            unit.show(drawn * sizes.fits_up_to),
            unit.show(drawn * (from - sizes.fits_up_to))
        ),
        (None, _) => "This board takes it at no size.".to_owned(),
    }
}

/// What comes nearest where nothing makes it sound, and the place that forbids it: a sentence with its full stop.
pub fn nearest(nearest: &Nearest, is_offered: bool, money: &Money, unit: LengthUnit) -> String {
    let forbids = finding::placed(&nearest.forbids, unit);
    match (&nearest.way, is_offered) {
        (Some(way), _) => format!(
            "No change of one or two things makes it come out whole. This comes nearest: {} What stands in the way: {forbids}.",
            offer(way, money, unit)
        ),
        (None, true) => format!("Nothing that was tried makes it sound. What stands in the way: {forbids}."),
        (None, false) => format!("{NOTHING_HELPS} What stands in the way: {forbids}."),
    }
}
