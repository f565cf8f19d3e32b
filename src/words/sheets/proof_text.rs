//! The proof, the rack and the sizes as text, for a terminal.

use crate::proof::rack::RackRow;
use crate::proof::sizes::SizeRow;
use crate::proof::{Finding, Severity};
use crate::units::{LengthUnit, Mm, trimmed};
use crate::words::{between, count, duration, finding, listed, sizes};

/// A row of the text, by its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TextRow {
    /// More of the row above.
    More,
    /// The design.
    Design,
    /// The finished size.
    Size,
    /// The board.
    Board,
    /// Whether the ends are held.
    Ends,
    /// The board it needs.
    Needs,
    /// Whether it fits.
    Fit,
    /// What the board has room for.
    Room,
    /// Where the design lies.
    Place,
    /// The floor it takes.
    Floor,
    /// The carrier it needs.
    Carrier,
    /// What was measured of the board.
    Stock,
    /// The cutter.
    Cutter,
    /// The limits.
    Limits,
    /// The thinnest wall and groove.
    Thinnest,
    /// The chance that every wall holds.
    Chance,
    /// What the cutter leaves.
    Uncut,
    /// The size from which it is sound.
    SoundFrom,
    /// The time.
    Time,
    /// The surface of a relief.
    Surface,
    /// The job's remark.
    Remark,
    /// The finished size of one of several.
    OneFinished,
    /// How large one of several is against the drawing.
    OneFactor,
    /// The board that one of several needs.
    OneBoard,
    /// The thinnest wall of one of several.
    OneThinnest,
    /// What one of several loses.
    OneLost,
    /// The time of one of several.
    OneTime,
    /// The price of one of several.
    OnePrice,
    /// The verdict of one of several.
    OneVerdict,
    /// What would help one of several.
    OneOffer,
}

impl TextRow {
    /// Every row.
    pub const ALL: [TextRow; 30] = [
        TextRow::More,
        TextRow::Design,
        TextRow::Size,
        TextRow::Board,
        TextRow::Ends,
        TextRow::Needs,
        TextRow::Fit,
        TextRow::Room,
        TextRow::Place,
        TextRow::Floor,
        TextRow::Carrier,
        TextRow::Stock,
        TextRow::Cutter,
        TextRow::Limits,
        TextRow::Thinnest,
        TextRow::Chance,
        TextRow::Uncut,
        TextRow::SoundFrom,
        TextRow::Time,
        TextRow::Surface,
        TextRow::Remark,
        TextRow::OneFinished,
        TextRow::OneFactor,
        TextRow::OneBoard,
        TextRow::OneThinnest,
        TextRow::OneLost,
        TextRow::OneTime,
        TextRow::OnePrice,
        TextRow::OneVerdict,
        TextRow::OneOffer,
    ];

    /// Its name, no longer than eleven letters.
    pub fn label(self) -> &'static str {
        match self {
            TextRow::More => "",
            TextRow::Design => "design",
            TextRow::Size => "size",
            TextRow::Board => "board",
            TextRow::Ends => "ends",
            TextRow::Needs => "needs",
            TextRow::Fit => "fit",
            TextRow::Room => "room",
            TextRow::Place => "place",
            TextRow::Floor => "floor",
            TextRow::Carrier => "carrier",
            TextRow::Stock => "stock",
            TextRow::Cutter => "cutter",
            TextRow::Limits => "limits",
            TextRow::Thinnest => "thinnest",
            TextRow::Chance => "chance",
            TextRow::Uncut => "uncut",
            TextRow::SoundFrom => "sound from",
            TextRow::Time => "time",
            TextRow::Surface => "surface",
            TextRow::Remark => "remark",
            TextRow::OneFinished => "  finished",
            TextRow::OneFactor => "  factor",
            TextRow::OneBoard => "  board",
            TextRow::OneThinnest => "  thinnest",
            TextRow::OneLost => "  lost",
            TextRow::OneTime => "  time",
            TextRow::OnePrice => "  price",
            TextRow::OneVerdict => "  verdict",
            TextRow::OneOffer => "  would help",
        }
    }
}

/// The design, with how many elements and edges it has.
pub fn design(name: &str, elements: usize, edges: usize) -> String {
    let elements = if elements == 1 { "1 element".to_owned() } else { format!("{elements} elements") };
    format!("{name}: {elements}, {edges} edges")
}

/// The finished size.
pub fn size([length, width]: [Mm; 2], factor: f64, unit: LengthUnit) -> String {
    format!("{} x {}, {} % of the drawing", unit.show(length), unit.show(width), trimmed(factor * 100.0, 1))
}

/// The board.
pub fn board([length, width, thickness]: [Mm; 3], wood: &str, unit: LengthUnit) -> String {
    format!("{} x {} x {}, {wood}", unit.show(length), unit.show(width), unit.show(thickness))
}

/// The ends are held: the roller allowance at the left end and the right.
pub fn ends_held([left, right]: [Mm; 2], unit: LengthUnit) -> String {
    if left == right {
        format!("held, {} extra at each end", unit.show(left))
    } else {
        format!("held, {} extra at the left end and {} at the right", unit.show(left), unit.show(right))
    }
}

/// The ends are free: what share of the design may be sniped, and how high the lines are.
pub fn ends_free(sniped: f64, step: [Mm; 2], unit: LengthUnit) -> String {
    format!(
        "free, {:.0} % of the design in the snipe zones, with lines {} high",
        sniped * 100.0,
        between(step, unit)
    )
}

/// The board it needs at least.
pub fn needs([length, width]: [Mm; 2], unit: LengthUnit) -> String {
    format!("a board of {} x {}", unit.show(length), unit.show(width))
}

/// What the board has room for.
pub fn room([along, across]: [Mm; 2], unit: LengthUnit) -> String {
    format!("{} along the grain, {} across", unit.show(along), unit.show(across))
}

/// Where the design's corner is, from the board's, and how it is turned.
pub fn place([x, y]: [Mm; 2], degrees: i32, unit: LengthUnit) -> String {
    format!("{} from the corner, turned {degrees}\u{b0}", unit.show_several([x, y], ", "))
}

/// The floor that the board takes.
pub fn floor(in_front: Mm, behind: Mm, unit: LengthUnit) -> String {
    format!("{} in front of the cutter, {} behind", unit.show(in_front), unit.show(behind))
}

/// The cutter, and how deep it goes.
pub fn cutter(name: &str, depth: Mm, unit: LengthUnit) -> String {
    format!("{name}, {} deep", unit.show(depth))
}

/// The same for elements that have a cutter or depth of their own.
pub fn own_cutter(elements: &[&str], name: &str, depth: Mm, unit: LengthUnit) -> String {
    format!("{}: {name}, {} deep", listed(elements), unit.show(depth))
}

/// The limits of walls along the grain and across, and of grooves.
pub fn limits([along, across]: [Mm; 2], free_end: [Mm; 2], groove: Mm, unit: LengthUnit) -> String {
    let [end_along, end_across] = free_end.map(|end| unit.show_fine(end));
    format!(
        "long walls {} along the grain, {} across; their free ends {end_along} and {end_across}; grooves {}",
        unit.show_fine(along),
        unit.show_fine(across),
        unit.show_fine(groove)
    )
}

/// The same for elements that have limits of their own.
pub fn own_limits(elements: &[&str], [along, across, groove]: [Mm; 3], unit: LengthUnit) -> String {
    format!(
        "{}: walls {} along, {} across; grooves {}",
        listed(elements),
        unit.show_fine(along),
        unit.show_fine(across),
        unit.show_fine(groove)
    )
}

/// The thinnest wall and the narrowest groove, where there are any.
pub fn thinnest(wall: Option<Mm>, groove: Option<Mm>, unit: LengthUnit) -> String {
    match (wall, groove) {
        (Some(wall), Some(groove)) => {
            format!("wall {}, groove {}", unit.show_fine(wall), unit.show_fine(groove))
        }
        (Some(wall), None) => format!("wall {}, groove none", unit.show_fine(wall)),
        (None, Some(groove)) => format!("wall none, groove {}", unit.show_fine(groove)),
        (None, None) => "wall none, groove none".to_owned(),
    }
}

/// What the cutter leaves: an area in square millimetres, what share of the carving that is where it is known,
/// and in how many places.
pub fn uncut(area: f64, share: Option<f64>, places: usize, unit: LengthUnit) -> String {
    if places == 0 {
        return "nothing that the cutter is too wide for".to_owned();
    }
    let (area, places) = (show_area(area, unit), count(places, "place", "places"));
    match share {
        None => format!("{area} in {places} that the cutter is too wide for"),
        Some(share) => format!(
            "{area}, {} % of what is carved, in {places} that the cutter is too wide for",
            trimmed(share * 100.0, 2)
        ),
    }
}

/// How much of one element is left.
pub fn uncut_of(area: f64, element: &str, unit: LengthUnit) -> String {
    format!("{} of {element}", show_area(area, unit))
}

/// Small areas, in square millimetres or inches.
fn show_area(area: f64, unit: LengthUnit) -> String {
    if unit == LengthUnit::Millimetres {
        format!("{} mm\u{b2}", trimmed(area, 1))
    } else {
        let inch = Mm::from_inches(1.0).get();
        format!("{} in\u{b2}", trimmed(area / (inch * inch), 3))
    }
}

/// The time, what share of it is cutting, how often the cutter is changed and how long that takes; in seconds.
pub fn time(total: f64, cutting: f64, changes: u32, changing: f64) -> String {
    let (whole, changing) = (duration(total), duration(changing));
    let share = if total > 0.0 { 100.0 * cutting / total } else { 0.0 };
    match changes {
        _ if total <= 0.0 => whole,
        0 => format!("{whole}, {share:.0} % of it cutting"),
        1 => format!("{whole}, {share:.0} % of it cutting; one change of cutter takes {changing}"),
        _ => format!("{whole}, {share:.0} % of it cutting; {changes} changes of cutter take {changing}"),
    }
}

/// How long each takes, in seconds.
pub fn times(parts: &[(&str, f64)]) -> String {
    let part = |&(name, seconds): &(&str, f64)| format!("{name} {}", duration(seconds));
    parts.iter().map(part).collect::<Vec<_>>().join(", ")
}

/// How serious a finding is, at the start of its line.
pub fn mark(severity: Severity) -> &'static str {
    match severity {
        Severity::Unsound => "UNSOUND",
        Severity::Chancy => "chancy",
        Severity::Sound => "note",
    }
}

/// A finding, where it is, and whether it was accepted.
pub fn found(found: &Finding, accepted: bool, unit: LengthUnit) -> String {
    let placed = finding::placed(found, unit);
    if accepted { format!("{placed}, accepted") } else { placed }
}

/// So many more of one kind.
pub fn more(number: usize) -> String {
    format!("and {number} more of this kind")
}

/// There is nothing on the rack.
pub const RACK_EMPTY: &str = "There is no board on the rack.";

/// What the columns of the rack are called.
pub const RACK_COLUMNS: [&str; 8] =
    ["board", "verdict", "carved", "largest", "offcut", "waste", "cost", "worst"];

/// Over what would help on each board of the rack.
pub const RACK_OFFERS: &str = "What would help on each board, tried out and proofed:";

/// The worst of a board of the rack; nothing where all is sound.
pub fn rack_worst(row: &RackRow, unit: LengthUnit) -> String {
    let worst = row.findings.first().filter(|finding| finding.severity() > Severity::Sound);
    let worst = match worst {
        _ if row.largest_factor <= 0.0 => "no room".to_owned(),
        None => String::new(),
        Some(worst) => finding::message(worst, unit),
    };
    match (row.wood_unknown, worst.is_empty()) {
        (false, _) => worst,
        (true, true) => "its wood is not known here".to_owned(),
        (true, false) => format!("{worst} (its wood is not known here)"),
    }
}

/// Prices come from the built-in example figures.
pub const EXAMPLE_PRICES: &str =
    "Prices come from the built-in example figures: enter the shop's own in prices.json.";

/// What the sizes are of.
pub fn sizes_of(design: &str, wood: &str, cutters: &[&str]) -> String {
    format!("{design}, {wood}, {}", listed(cutters))
}

/// How large a size is against the drawing.
pub fn of_the_drawing(factor: f64) -> String {
    format!("{} % of the drawing", trimmed(factor * 100.0, 1))
}

/// The thinnest wall of a size.
pub fn thinnest_wall(row: &SizeRow, unit: LengthUnit) -> String {
    format!("wall {}", sizes::thinnest_wall(row, unit))
}
