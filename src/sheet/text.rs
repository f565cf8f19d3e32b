//! The proof as text, for a terminal.

use super::Besides;
use crate::job::{Ends, Job, Place, Placement, Turn};
use crate::notice::Notice;
use crate::proof::carrier::carrier;
use crate::proof::fit::{corner, draw_for};
use crate::proof::rack::RackRow;
use crate::proof::sizes::SizeRow;
use crate::proof::{Finding, FitOutcome, Proof, Severity, Uncut};
use crate::relief::time::{self, JobTime};
use crate::shop::{BoardEnd, Prices};
use crate::units::{LengthUnit, Mm, trimmed};
use crate::words::{self, percent_down};
use std::fmt::{self, Write as _};

/// How many findings of one kind and severity are written out before the rest are only counted.
const SHOWN_OF_A_KIND: usize = 5;

/// The proof as a person reads it in a terminal: verdict first, then size, fit, limits and findings; and what
/// else is known.
pub fn proof_text(job: &Job, proof: &Proof, besides: &Besides, unit: LengthUnit) -> String {
    let mut text = String::new();
    write_proof(&mut text, job, proof, besides, unit).expect("writing to a string does not fail");
    text
}

fn write_proof(
    text: &mut String,
    job: &Job,
    proof: &Proof,
    besides: &Besides,
    unit: LengthUnit,
) -> fmt::Result {
    let show = |length| unit.show(length);
    writeln!(text, "{}", words::verdict::sentence(&proof.verdict, unit))?;
    let advice = words::verdict::advice(&proof.verdict, unit);
    if !advice.is_empty() {
        writeln!(text, "{advice}")?;
    }
    writeln!(text)?;
    let elements = job.design.elements.len();
    let segments = job.design.segment_count();
    row(
        text,
        "design",
        format!(
            "{}: {}, {segments} edges",
            job.design.name,
            if elements == 1 { "1 element".to_owned() } else { format!("{elements} elements") }
        ),
    )?;
    row(
        text,
        "size",
        format!(
            "{} x {}, {} % of the drawing",
            show(proof.length),
            show(proof.width),
            trimmed(proof.factor * 100.0, 1)
        ),
    )?;
    let board = &job.board;
    row(
        text,
        "board",
        format!(
            "{} x {} x {}, {}",
            show(board.length),
            show(board.width),
            show(board.thickness),
            job.wood.name
        ),
    )?;
    let ends = match job.ends {
        Ends::Held => {
            let [left, right] = [BoardEnd::Left, BoardEnd::Right].map(|end| job.machine.allowance(end));
            if left == right {
                format!("held, {} extra at each end", show(left))
            } else {
                format!("held, {} extra at the left end and {} at the right", show(left), show(right))
            }
        }
        Ends::Free => format!(
            "free, {:.0} % of the design in the snipe zones, with lines about {} high",
            proof.feeding.sniped_share * 100.0,
            unit.show_fine(proof.feeding.step.height())
        ),
    };
    row(text, "ends", ends)?;
    row(
        text,
        "needs",
        format!("a board of {} x {}", show(proof.fit.length_needed), show(proof.fit.width_needed)),
    )?;
    row(text, "fit", words::fit::outcome(&proof.fit, unit))?;
    write_board(text, job, proof, unit)?;
    write_cut(text, job, proof, unit)?;
    let thinnest =
        |length: Option<_>| length.map_or_else(|| "none".to_owned(), |length| unit.show_fine(length));
    row(
        text,
        "thinnest",
        format!("wall {}, groove {}", thinnest(proof.thinnest.wall), thinnest(proof.thinnest.groove)),
    )?;
    if let Some(uncut) = besides.uncut {
        row(text, "uncut", uncut_words(uncut, unit))?;
        // Less than that is specks, which would be shown as nothing.
        let worth_a_line = |&&(_, area): &&(Place, f64)| area >= 0.1;
        for &(place, area) in uncut.areas.iter().filter(worth_a_line).take(SHOWN_OF_A_KIND) {
            row(text, "", format!("{} of {}", area_words(area, unit), job.name_of(place)))?;
        }
    }
    row(text, "sound from", words::sizes::sound_from(proof, unit))?;
    if let Some(time) = besides.time {
        text.push_str(&time_text(time));
    }
    if !proof.findings.is_empty() {
        writeln!(text)?;
        write_findings(text, job, &proof.findings, unit)?;
    }
    write_remark(text, &job.remark)
}

/// What it is cut with and how deep, and the limits that follow.
fn write_cut(text: &mut String, job: &Job, proof: &Proof, unit: LengthUnit) -> fmt::Result {
    row(text, "cutter", format!("{}, {} deep", job.cutter.name, unit.show(job.depth)))?;
    for own in own_cuts(job, unit) {
        row(text, "", own)?;
    }
    let limits = proof.limits.usual();
    row(
        text,
        "limits",
        format!(
            "walls {} along the grain, {} across; grooves {}",
            unit.show_fine(limits.along),
            unit.show_fine(limits.across),
            unit.show_fine(limits.groove)
        ),
    )?;
    row(text, "", words::limits::source(limits, unit))?;
    for own in own_limits(job, proof, unit) {
        row(text, "", own)?;
    }
    Ok(())
}

fn write_remark(text: &mut String, remark: &str) -> fmt::Result {
    for (index, line) in remark.trim().lines().enumerate() {
        if index == 0 {
            writeln!(text)?;
        }
        row(text, if index == 0 { "remark" } else { "" }, line.to_owned())?;
    }
    Ok(())
}

/// What is cut otherwise than the job says: `letters: V, 60°, 6 mm deep`.
fn own_cuts(job: &Job, unit: LengthUnit) -> Vec<String> {
    let own = alike(job, |place| {
        let cut = job.cut(place);
        format!("{}, {} deep", cut.cutter.name, unit.show(cut.depth))
    });
    own.into_iter().map(|(names, cut)| format!("{}: {cut}", listed(&names))).collect()
}

/// The limits of what is cut otherwise than the job says.
fn own_limits(job: &Job, proof: &Proof, unit: LengthUnit) -> Vec<String> {
    let own = alike(job, |place| {
        let (limits, groove) = (proof.limits.at(place), proof.limits.groove(place).limit);
        format!(
            "walls {} along, {} across; grooves {}",
            unit.show_fine(limits.along),
            unit.show_fine(limits.across),
            unit.show_fine(groove)
        )
    });
    own.into_iter().map(|(names, limits)| format!("{}: {limits}", listed(&names))).collect()
}

/// The elements with a cut of their own, put together where `words` says the same of them.
fn alike(job: &Job, words: impl Fn(Place) -> String) -> Vec<(Vec<&str>, String)> {
    let mut groups: Vec<(Vec<&str>, String)> = Vec::new();
    for place in job.places().filter(|&place| job.has_own_cut(place)) {
        let words = words(place);
        match groups.iter_mut().find(|(_, known)| *known == words) {
            Some((names, _)) => names.push(job.name_of(place)),
            None => groups.push((vec![job.name_of(place)], words)),
        }
    }
    groups
}

/// `letters, dots and 3 more`: as many names as are read in one go.
pub(in crate::sheet) fn listed(names: &[&str]) -> String {
    const NAMED: usize = 4;
    match names.len().checked_sub(NAMED) {
        None | Some(0) => names.join(", "),
        Some(more) => format!("{} and {more} more", names[..NAMED].join(", ")),
    }
}

/// What the cutter leaves: how much, and in how many places.
fn uncut_words(uncut: &Uncut, unit: LengthUnit) -> String {
    let area = area_words(uncut.area, unit);
    let share = uncut
        .share
        .map_or_else(String::new, |share| format!(", {} % of what is carved,", trimmed(share * 100.0, 2)));
    match uncut.spots.len() {
        0 => "nothing that the cutter is too wide for".to_owned(),
        1 => format!("{area}{share} in 1 place that the cutter is too wide for"),
        places => format!("{area}{share} in {places} places that the cutter is too wide for"),
    }
}

fn area_words(area: f64, unit: LengthUnit) -> String {
    if unit == LengthUnit::Millimetres {
        format!("{} mm\u{b2}", trimmed(area, 1))
    } else {
        let inch = Mm::from_inches(1.0).get();
        format!("{} in\u{b2}", trimmed(area / (inch * inch), 3))
    }
}

/// How long the passes take, a line or a few: all of it, by element where there are several, by cutter where
/// there are several.
pub fn time_text(time: &JobTime) -> String {
    let mut text = String::new();
    let listed = |parts: Vec<(&str, f64)>| {
        let part = |&(name, seconds): &(&str, f64)| format!("{name} {}", time::words(seconds));
        parts.iter().map(part).collect::<Vec<_>>().join(", ")
    };
    let mut whole = time::words(time.total);
    if time.total > 0.0 {
        let share = 100.0 * time.cutting / time.total;
        write!(whole, ", {share:.0} % of it cutting").expect("writing to a string does not fail");
    }
    if time.changes > 0 {
        let times = if time.changes == 1 { "once".to_owned() } else { format!("{} times", time.changes) };
        let changing = time::words(time.changing);
        write!(whole, "; the cutter is changed {times}, {changing}")
            .expect("writing to a string does not fail");
    }
    let mut rows = vec![("time", whole)];
    if time.elements.len() > 1 {
        rows.push(("", listed(time.elements.iter().map(|one| (one.name.as_str(), one.seconds)).collect())));
    }
    if time.cutters.len() > 1 {
        rows.push(("", listed(time.cutters.iter().map(|one| (one.name.as_str(), one.seconds)).collect())));
    }
    for (name, value) in rows {
        row(&mut text, name, value).expect("writing to a string does not fail");
    }
    text
}

fn row(text: &mut String, name: &str, value: impl fmt::Display) -> fmt::Result {
    writeln!(text, "{name:<12}{value}")
}

/// What the board has room for, where the design lies on it, and how it is fed.
fn write_board(text: &mut String, job: &Job, proof: &Proof, unit: LengthUnit) -> fmt::Result {
    let show = |length| unit.show(length);
    let [along, across] = draw_for(job);
    if along > Mm::ZERO && across > Mm::ZERO {
        row(text, "room", format!("{} along the grain, {} across", show(along), show(across)))?;
    }
    if job.turn != Turn::AsDrawn || matches!(job.at, Placement::At { .. }) {
        let at = corner(job, proof.factor);
        let (x, y) = (Mm::new(at.x), Mm::new(at.y));
        let turn = job.turn.degrees();
        row(text, "place", format!("{}, {} from the corner, turned {turn}\u{b0}", unit.number(x), show(y)))?;
    }
    for (index, offer) in proof.fit.offers.iter().enumerate() {
        if proof.fit.outcome != FitOutcome::Fits {
            row(text, if index == 0 { "or" } else { "" }, words::fit::offer(offer, unit))?;
        }
    }
    let travel = &proof.feeding.travel;
    row(
        text,
        "floor",
        format!("{} in front of the cutter, {} behind", show(travel.in_front), show(travel.behind)),
    )?;
    let carrier = carrier(job);
    if carrier.needed() {
        row(text, "carrier", words::carrier::with_its_wood(&carrier, unit))?;
    }
    for stock in proof.stock.rows.iter().filter(|stock| stock.measured) {
        row(text, "stock", words::bench_list::row(stock, unit))?;
    }
    Ok(())
}

/// Findings are worst first, so those of one severity and kind stand together.
fn write_findings(text: &mut String, job: &Job, findings: &[Finding], unit: LengthUnit) -> fmt::Result {
    for group in findings.chunk_by(|a, b| (a.severity(), a.kind()) == (b.severity(), b.kind())) {
        for finding in group.iter().take(SHOWN_OF_A_KIND) {
            let mark = match finding.severity() {
                Severity::Unsound => "UNSOUND",
                Severity::Chancy => "chancy",
                Severity::Sound => "note",
            };
            let accepted = if job.accepted.contains(&finding.id) { ", accepted" } else { "" };
            writeln!(text, "{mark:<9}{}{accepted}", words::finding::placed(finding, unit))?;
        }
        if let Some(first) = group.first() {
            if group.len() > SHOWN_OF_A_KIND {
                writeln!(text, "{:<9}and {} more of this kind", "", group.len() - SHOWN_OF_A_KIND)?;
            }
            writeln!(text, "{:<9}{}", "", words::finding::advice(first, unit))?;
        }
    }
    Ok(())
}

/// The rack as a person reads it in a terminal, best board first.
pub fn rack_text(rows: &[RackRow], unit: LengthUnit) -> String {
    if rows.is_empty() {
        return "There is no board on the rack.\n".to_owned();
    }
    let mut text = String::new();
    write_rack(&mut text, rows, unit).expect("writing to a string does not fail");
    text
}

fn write_rack(text: &mut String, rows: &[RackRow], unit: LengthUnit) -> fmt::Result {
    let widest = rows.iter().map(|row| row.name.chars().count()).max().unwrap_or_default().clamp(5, 28);
    writeln!(
        text,
        "{:<widest$}  {:<8} {:>8} {:>8} {:>12} {:>6} {:>9}  worst",
        "board", "verdict", "carved", "largest", "offcut", "waste", "cost"
    )?;
    for row in rows {
        let cost = row.cost.map_or_else(|| "-".to_owned(), |cost| format!("{cost:.2}"));
        let worst = row.findings.first().filter(|finding| finding.severity() > Severity::Sound);
        let worst = if row.largest_factor <= 0.0 {
            "no room".to_owned()
        } else {
            worst.map_or_else(String::new, |finding| words::finding::message(finding, unit))
        };
        let unknown = if row.wood_unknown { " (its wood is not known here)" } else { "" };
        writeln!(
            text,
            "{:<widest$}  {:<8} {:>6} % {:>6} % {:>12} {:>4.0} % {cost:>9}  {worst}{unknown}",
            row.name,
            row.verdict.severity.label(),
            percent_down(row.factor),
            percent_down(row.largest_factor),
            unit.show(row.offcut),
            row.waste * 100.0,
        )?;
    }
    Ok(())
}

/// Sizes as a person reads them in a terminal, smallest first, with every line of their prices.
pub fn sizes_text(job: &Job, rows: &[SizeRow], prices: &Prices, unit: LengthUnit) -> String {
    let mut text = String::new();
    write_sizes(&mut text, job, rows, prices, unit).expect("writing to a string does not fail");
    text
}

fn write_sizes(
    text: &mut String,
    job: &Job,
    rows: &[SizeRow],
    prices: &Prices,
    unit: LengthUnit,
) -> fmt::Result {
    let uses = job.cutters();
    let cutters: Vec<&str> = uses.iter().map(|one| one.cutter.name.as_str()).collect();
    writeln!(text, "{}, {}, {}", job.design.name, job.wood.name, listed(&cutters))?;
    if prices.are_examples() {
        writeln!(text, "Prices follow from the built-in examples: set the shop's own in prices.json.")?;
    }
    for size in rows {
        writeln!(text)?;
        writeln!(text, "{}", words::sizes::heading(size))?;
        row(text, "  finished", words::sizes::finished(size, unit))?;
        row(text, "  factor", format!("{} % of the drawing", trimmed(size.proof.factor * 100.0, 1)))?;
        row(text, "  board", words::sizes::board(size, unit))?;
        row(text, "  thinnest", format!("wall {}", words::sizes::thinnest_wall(size, unit)))?;
        row(text, "  lost", words::sizes::lost(&size.lost, unit))?;
        row(text, "  time", words::sizes::minutes(size.minutes))?;
        row(text, "  price", words::price::total(&size.price, &prices.money, unit))?;
        for line in &size.price.lines {
            let amount = line.amount.map_or_else(|| "-".to_owned(), |amount| prices.money.show(amount));
            writeln!(
                text,
                "    {:<18}{amount:>12}  {}",
                line.item.label(),
                words::price::how(line, &prices.money, unit)
            )?;
        }
        row(text, "  verdict", words::verdict::sentence(&size.proof.verdict, unit))?;
        let advice = words::verdict::advice(&size.proof.verdict, unit);
        if size.severity() > Severity::Sound && !advice.is_empty() {
            row(text, "", advice)?;
        }
    }
    Ok(())
}

/// A notice in one line.
pub fn notice_text(notice: &Notice) -> String {
    if notice.hint.is_empty() {
        notice.message.clone()
    } else {
        format!("{}: {}", notice.message, notice.hint)
    }
}
