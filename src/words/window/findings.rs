//! Words of the window: findings.

#![expect(missing_docs, reason = "a sentence says what it says")]

use crate::proof::{Facts, Finding, HeldWall, Severity};
use crate::shop::Sawn;
use crate::units::{LengthUnit, Mm, trimmed};
use crate::words::{self, fine, thousands};

pub const FIND_A_PLACE_CLEAR_OF_IT: &str = "Find a place clear of it";
pub const FINDINGS: &str = "Findings";
pub const NOTHING_TO_REPORT_EVERY_WALL_AND_GROOVE: &str =
    "Nothing to report: every wall and groove is within its limit";
pub const ACCEPTED: &str = "Accepted";
pub const CARVE_IT_ALL_THE_SAME_THE_BENCH: &str = "Carve it all the same; the bench sheet ticks its box";
pub const ALL_ELEMENTS: &str = "All elements";
pub const FINDINGS_OF: &str = "Findings of";
pub const REMARK_FOR_THE_BENCH: &str = "Remark for the bench";
pub const PRINTED_ON_THE_BENCH_SHEET: &str = "Printed on the bench sheet";
pub const WOOD_ADDED: &str = "wood added";
pub const WOOD_TAKEN_AWAY: &str = "wood taken away";
pub const SEASONS: &str = "Seasons";
pub const WOOD_TAKES_UP_WATER_FROM_DAMP_AIR: &str = "Wood takes up water from damp air and widens; in dry air it narrows again. Along the grain it hardly moves";
pub const FROM: &str = "From";
pub const TO: &str = "To";
pub const DEGREES: &str = "Degrees";
pub const MOISTURE_BY_WOOD_HANDBOOK_EQ_4_5: &str = "Moisture by Wood Handbook eq. 4-5";
pub const HUMIDITY: &str = " % humidity";
pub const THE_COEFFICIENT_HOLDS_BETWEEN_6_AND_14: &str =
    "The coefficient holds between 6 and 14 % moisture; beyond that this is a rough guess";
pub const SIZE: &str = "Size";
pub const SIZE_HANDLE: &str = "Size handle";
pub const FINISHED_LENGTH: &str = "finished length";
pub const WIDTH: &str = "width";
pub const SIZE_STRIP: &str = "size strip";
pub const THINNEST_WALL: &str = "thinnest wall";
pub const THINNEST_GROOVE: &str = "thinnest groove";
pub const WHY_THIS_LIMIT: &str = "Why this limit";
pub const THE_CHOSEN_FINDING: &str = "The chosen finding";

/// What a finding asks of the carver.
pub fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Unsound => "to mend",
        Severity::Chancy => "may go wrong",
        Severity::Sound => "to know",
    }
}

/// How many findings there are of each severity.
pub fn tally(counted: [(usize, Severity); 3]) -> String {
    let parts: Vec<String> = counted
        .iter()
        .filter(|(number, _)| *number > 0)
        .map(|(number, of)| format!("{} {}", thousands(*number), severity(*of)))
        .collect();
    if parts.is_empty() { "none".to_owned() } else { parts.join(" \u{b7} ") }
}

/// The heading over findings of one kind, with how many there are.
pub fn group(title: &str, number: usize) -> String {
    format!("{title} \u{b7} {}", thousands(number))
}

/// What a screen reader calls the button that shows the arithmetic of a limit.
pub fn why_the_limit_of(number: usize) -> String {
    format!("Why the limit of finding {number}")
}

/// Under a list that is cut short.
pub fn more_findings(more: usize) -> String {
    format!("and {} more, less serious than these", thousands(more))
}

/// What a screen reader calls the tick of a finding.
pub fn accept(number: usize) -> String {
    format!("Accept finding {number}")
}

/// The element a finding is in.
pub fn in_element(name: &str) -> String {
    format!("in {name}")
}

/// The button over the offers after the best.
pub const OTHER_WAYS: &str = "Other ways";
/// Its hover.
pub const OTHER_WAYS_TIP: &str = "Other changes that would help, the least first";

/// What to know about a finding.
pub fn advice(advice: &str) -> String {
    format!("\u{203a} {advice}")
}

/// What a screen reader says of a finding.
pub fn finding(number: usize, finding: &Finding, unit: LengthUnit) -> String {
    format!(
        "{number} {}, {}: {}",
        words::finding::title(finding),
        finding.severity().label().to_lowercase(),
        words::finding::message(finding, unit)
    )
}

/// Where the numbers of a wood's movement come from.
pub fn moisture_and_movement_source(wood: &str, source: &str) -> String {
    format!("Moisture by Wood Handbook eq. 4-5; movement coefficient of {wood}: {source}")
}

/// What a screen reader calls the temperature of a climate: `From, temperature`.
pub fn temperature(of: &str) -> String {
    format!("{of}, temperature")
}

/// What a screen reader calls the humidity of a climate.
pub fn humidity(of: &str) -> String {
    format!("{of}, humidity")
}

/// The moisture of the wood in one climate and in the other, per cent.
pub fn moisture_then(from: f64, to: f64) -> String {
    format!("The wood settles at {} % moisture, then at {} %", trimmed(from, 1), trimmed(to, 1))
}

/// Nothing is known of how this wood moves.
pub fn movement_not_known(wood: &str, sawn: Sawn) -> String {
    match sawn {
        Sawn::Flat => format!(
            "No movement coefficient is published for flat-sawn {wood}, so nobody can say how much it moves"
        ),
        Sawn::Quarter => format!(
            "No movement coefficient is published for quarter-sawn {wood}, so nobody can say how much it moves"
        ),
    }
}

/// How much the finished piece changes in width.
pub fn piece_moves(width: Mm, change: Mm, unit: LengthUnit) -> String {
    let (width, by) = (unit.show(width), unit.show_fine(Mm::new(change.get().abs())));
    if change >= Mm::ZERO {
        format!("The finished piece, {width} wide, grows {by} wider")
    } else {
        format!("The finished piece, {width} wide, shrinks by {by}")
    }
}

/// How much the whole board changes in width.
pub fn board_moves(width: Mm, change: Mm, unit: LengthUnit) -> String {
    let (width, by) = (unit.show(width), unit.show_fine(Mm::new(change.get().abs())));
    if change >= Mm::ZERO {
        format!("The whole board, {width} wide, grows {by} wider")
    } else {
        format!("The whole board, {width} wide, shrinks by {by}")
    }
}

/// How much a wood moves: the share of its width for each point of moisture.
pub fn share_of_width(share: f64) -> String {
    format!("That is {} % of the width for each point of moisture", trimmed(100.0 * share, 3))
}

/// The limits of walls along the grain and across.
pub fn walls_should_be(along: Mm, across: Mm, unit: LengthUnit) -> String {
    format!(
        "A wall along the grain should be at least {} thick, a wall across it {}",
        unit.show_fine(along),
        unit.show_fine(across)
    )
}

/// Another wood's strength is used, for want of this one's.
pub fn no_strength_published(wood: &str, stand_in: &str) -> String {
    format!("Nobody has published a strength across the grain for {wood}, so Spelk uses that of {stand_in}")
}

/// The number before a step of the arithmetic.
pub fn step_number(number: usize) -> String {
    format!("{number}.")
}

/// The limits of walls beside what is cut through.
pub fn beside_pierced(thickness: Mm, [along, across]: [Mm; 2], unit: LengthUnit) -> String {
    format!(
        "A wall beside a pierced place is as tall as the board is thick, {}: it needs {} along the grain, {} across",
        unit.show(thickness),
        unit.show_fine(along),
        unit.show_fine(across)
    )
}

/// How the wall or point of a finding is held to its limit, as it runs at an angle to the grain, radians.
pub fn limit_of_finding(finding: &Finding, wall: &HeldWall, angle: f64, unit: LengthUnit) -> String {
    let (held, message) = (words::limits::of_wall(wall, angle, unit), words::finding::message(finding, unit));
    if is_point(finding) {
        format!("This point {held} {message}")
    } else {
        format!("This wall {held} {message}")
    }
}

fn is_point(finding: &Finding) -> bool {
    matches!(finding.facts, Facts::LostTip { .. })
}

/// The hover of the size handle.
pub fn finished_length(length: Mm, unit: LengthUnit) -> String {
    format!("Finished length, {}", unit.show_exact(length))
}

/// The finished width, after the length.
pub fn by_width(width: Mm, unit: LengthUnit) -> String {
    format!("\u{d7} {}", unit.show(width))
}

/// Its hover.
pub fn finished_width(width: Mm, unit: LengthUnit) -> String {
    format!("Finished width, {}", unit.show_exact(width))
}

/// How large the design is against the drawing.
pub fn scale(factor: f64) -> String {
    format!("{:.1} %", 100.0 * factor)
}

/// Its hover.
pub fn times_as_large(factor: f64) -> String {
    format!("{factor} times as large as drawn")
}

/// The thinnest wall, in short.
pub fn wall(width: Mm, unit: LengthUnit) -> String {
    format!("wall {}", fine(unit, width))
}

/// Its hover.
pub fn thinnest_wall(width: Mm, unit: LengthUnit) -> String {
    format!("Thinnest wall, {}", unit.show_exact(width))
}

/// The thinnest groove, in short.
pub fn groove(width: Mm, unit: LengthUnit) -> String {
    format!("groove {}", fine(unit, width))
}

/// Its hover.
pub fn thinnest_groove(width: Mm, unit: LengthUnit) -> String {
    format!("Thinnest groove, {}", unit.show_exact(width))
}

/// The size under the pointer.
pub fn long(length: Mm, unit: LengthUnit) -> String {
    format!("{} long", unit.show(length))
}

/// What a screen reader says of the size strip.
pub fn strip(length: Mm, sound_from: Option<Mm>, largest: Mm, unit: LengthUnit) -> String {
    let (length, largest) = (unit.show(length), unit.show(largest));
    match sound_from {
        None => format!("Size strip. Finished length {length}, the board takes up to {largest}"),
        Some(least) => format!(
            "Size strip. Finished length {length}, sound from {}, the board takes up to {largest}",
            unit.show(least)
        ),
    }
}

/// At the least sound size.
pub fn sound_from(length: Mm, unit: LengthUnit) -> String {
    format!("sound from {}", unit.show(length))
}

/// The least sound size is off the strip to the right.
pub fn sound_from_beyond(length: Mm, unit: LengthUnit) -> String {
    format!("sound from {} \u{203a}", unit.show(length))
}

/// At the largest size that the board takes.
pub fn board_takes(length: Mm, unit: LengthUnit) -> String {
    format!("this board takes {}", unit.show(length))
}

/// The limit of walls across the grain.
pub fn wall_across(limit: Mm, unit: LengthUnit) -> String {
    format!("wall across the grain {}", fine(unit, limit))
}

/// The limit of walls along the grain.
pub fn wall_along(limit: Mm, unit: LengthUnit) -> String {
    format!("wall along the grain {}", fine(unit, limit))
}

/// The limit of grooves.
pub fn groove_for_cutter(limit: Mm, unit: LengthUnit) -> String {
    format!("groove for the cutter {}", fine(unit, limit))
}
