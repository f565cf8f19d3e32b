//! The proof as text, for a terminal.

use super::Besides;
use super::advice::{SHOWN_WITH_A_PROOF, offers_text, says_no_size};
use super::json::traced_within;
use crate::advice::Offer;
use crate::job::{Ends, Job, Place, Placement, Turn};
use crate::proof::carrier::carrier;
use crate::proof::fit::draw_for;
use crate::proof::rack::RackRow;
use crate::proof::sizes::SizeRow;
use crate::proof::{Finding, Proof, Severity};
use crate::relief::time::JobTime;
use crate::shop::{BoardEnd, Money, Prices};
use crate::units::{LengthUnit, Mm};
use crate::words::sheets::proof_text::{self as said, TextRow as Row};
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
    writeln!(text, "{}", words::verdict::sentence(&proof.verdict, unit))?;
    let advice = words::verdict::advice(&proof.verdict, unit);
    // That no size does says from which size on it is sound as well.
    let is_said =
        proof.verdict.larger.is_some() && besides.advice.is_some_and(|(advice, _)| says_no_size(advice));
    if !advice.is_empty() && !is_said {
        writeln!(text, "{advice}")?;
    }
    if let Some((advice, money)) = besides.advice {
        text.push_str(&offers_text(job, advice, SHOWN_WITH_A_PROOF, money, unit));
    }
    writeln!(text)?;
    let design = job.design();
    row(text, Row::Design, said::design(&design.name, design.elements.len(), design.segment_count()))?;
    row(text, Row::Size, said::size([proof.length, proof.width], proof.factor, unit))?;
    if let Some(within) = traced_within(job, proof) {
        row(text, Row::More, words::trace::known_within(within, unit))?;
    }
    let board = job.board();
    let size = [board.length, board.width, board.thickness];
    row(text, Row::Board, said::board(size, &job.wood().name, unit))?;
    let ends = match job.ends() {
        Ends::Held => {
            let kept = [BoardEnd::Left, BoardEnd::Right].map(|end| job.machine().allowance(end));
            said::ends_held(kept, unit)
        }
        Ends::Free => said::ends_free(proof.feeding.sniped_share, proof.feeding.step.range(), unit),
    };
    row(text, Row::Ends, ends)?;
    row(text, Row::Needs, said::needs([proof.fit.length_needed, proof.fit.width_needed], unit))?;
    row(text, Row::Fit, words::fit::outcome(&proof.fit, unit))?;
    write_board(text, job, proof, unit)?;
    write_cut(text, job, proof, unit)?;
    row(text, Row::Thinnest, said::thinnest(proof.thinnest.wall, proof.thinnest.groove, unit))?;
    if let Some(chance) = besides.chance {
        row(text, Row::Chance, words::record::all_hold(chance))?;
    }
    if let Some(uncut) = besides.uncut {
        row(text, Row::Uncut, said::uncut(uncut.area, uncut.share, uncut.spots.len(), unit))?;
        // Less than that is specks, which would be shown as nothing.
        let worth_a_line = |&&(_, area): &&(Place, f64)| area >= 0.1;
        for &(place, area) in uncut.areas.iter().filter(worth_a_line).take(SHOWN_OF_A_KIND) {
            row(text, Row::More, said::uncut_of(area, job.name_of(place), unit))?;
        }
    }
    row(text, Row::SoundFrom, words::sizes::sound_from(proof, unit))?;
    if let Some(time) = besides.time {
        text.push_str(&time_text(time));
    }
    if !proof.findings.is_empty() {
        writeln!(text)?;
        write_findings(text, job, &proof.findings, unit)?;
    }
    write_remark(text, job.remark())
}

/// What it is cut with and how deep, and the limits that follow.
fn write_cut(text: &mut String, job: &Job, proof: &Proof, unit: LengthUnit) -> fmt::Result {
    row(text, Row::Cutter, said::cutter(&job.cutter().name, job.depth(), unit))?;
    let cut = |place| {
        let cut = job.cut(place);
        (cut.cutter.name.as_str(), cut.depth)
    };
    for (elements, (name, depth)) in alike(job, cut) {
        row(text, Row::More, said::own_cutter(&elements, name, depth, unit))?;
    }
    let limits = proof.limits.usual();
    row(
        text,
        Row::Limits,
        said::limits([limits.along, limits.across], limits.free_end, limits.groove, unit),
    )?;
    row(text, Row::More, words::limits::source(limits, unit))?;
    let own = |place| {
        let (limits, groove) = (proof.limits.at(place), proof.limits.groove(place).limit);
        [limits.along, limits.across, groove]
    };
    for (elements, limits) in alike(job, own) {
        row(text, Row::More, said::own_limits(&elements, limits, unit))?;
    }
    Ok(())
}

fn write_remark(text: &mut String, remark: &str) -> fmt::Result {
    for (index, line) in remark.trim().lines().enumerate() {
        if index == 0 {
            writeln!(text)?;
        }
        row(text, if index == 0 { Row::Remark } else { Row::More }, line)?;
    }
    Ok(())
}

/// The elements with a cut of their own, put together where `fact` is the same of them.
fn alike<T: PartialEq>(job: &Job, fact: impl Fn(Place) -> T) -> Vec<(Vec<&str>, T)> {
    let mut groups: Vec<(Vec<&str>, T)> = Vec::new();
    for place in job.places().filter(|&place| job.has_own_cut(place)) {
        let fact = fact(place);
        match groups.iter_mut().find(|(_, known)| *known == fact) {
            Some((names, _)) => names.push(job.name_of(place)),
            None => groups.push((vec![job.name_of(place)], fact)),
        }
    }
    groups
}

/// How long the passes take, a line or a few: all of it, by element where there are several, by cutter where
/// there are several.
pub fn time_text(time: &JobTime) -> String {
    let mut text = String::new();
    let mut rows = vec![(Row::Time, said::time(time.total, time.cutting, time.changes, time.changing))];
    if time.elements.len() > 1 {
        let parts: Vec<_> = time.elements.iter().map(|one| (one.name.as_str(), one.seconds)).collect();
        rows.push((Row::More, said::times(&parts)));
    }
    if time.cutters.len() > 1 {
        let parts: Vec<_> = time.cutters.iter().map(|one| (one.name.as_str(), one.seconds)).collect();
        rows.push((Row::More, said::times(&parts)));
    }
    for (name, value) in rows {
        row(&mut text, name, value).expect("writing to a string does not fail");
    }
    text
}

/// A row: its name, and what it says.
pub(crate) fn row(text: &mut String, name: Row, value: impl fmt::Display) -> fmt::Result {
    writeln!(text, "{:<12}{value}", name.label())
}

/// What the board has room for, where the design lies on it, and how it is fed.
fn write_board(text: &mut String, job: &Job, proof: &Proof, unit: LengthUnit) -> fmt::Result {
    let [along, across] = draw_for(job);
    if along > Mm::ZERO && across > Mm::ZERO {
        row(text, Row::Room, said::room([along, across], unit))?;
    }
    if job.turn() != Turn::AsDrawn || matches!(job.at(), Placement::At { .. }) {
        let at = job.corner(proof.factor);
        row(text, Row::Place, said::place([Mm::new(at.x), Mm::new(at.y)], job.turn().degrees(), unit))?;
    }
    let travel = &proof.feeding.travel;
    row(text, Row::Floor, said::floor(travel.in_front, travel.behind, unit))?;
    let carrier = carrier(job);
    if carrier.needed() {
        row(text, Row::Carrier, words::carrier::with_its_wood(&carrier, unit))?;
    }
    for stock in proof.stock.rows.iter().filter(|stock| stock.measured) {
        row(text, Row::Stock, words::bench_list::row(stock, unit))?;
    }
    Ok(())
}

/// Findings are worst first, so those of one severity and kind stand together.
fn write_findings(text: &mut String, job: &Job, findings: &[Finding], unit: LengthUnit) -> fmt::Result {
    for group in findings.chunk_by(|a, b| (a.severity(), a.kind()) == (b.severity(), b.kind())) {
        for finding in group.iter().take(SHOWN_OF_A_KIND) {
            let accepted = job.accepted().contains(&finding.id);
            let mark = said::mark(finding.severity());
            writeln!(text, "{mark:<9}{}", said::found(finding, accepted, unit))?;
        }
        if let Some(first) = group.first() {
            if group.len() > SHOWN_OF_A_KIND {
                writeln!(text, "{:<9}{}", "", said::more(group.len() - SHOWN_OF_A_KIND))?;
            }
            let advice = words::finding::advice(first, unit);
            if !advice.is_empty() {
                writeln!(text, "{:<9}{advice}", "")?;
            }
        }
    }
    Ok(())
}

/// The rack as a person reads it in a terminal, best board first, and the best offer on each where there is one.
pub fn rack_text(rows: &[RackRow], offers: &[Option<Offer>], money: &Money, unit: LengthUnit) -> String {
    if rows.is_empty() {
        return format!("{}\n", said::RACK_EMPTY);
    }
    let mut text = String::new();
    write_rack(&mut text, rows, unit).expect("writing to a string does not fail");
    let helped = rows.iter().zip(offers).filter_map(|(row, offer)| Some((row, offer.as_ref()?)));
    let helped: Vec<String> = helped
        .map(|(row, offer)| format!("  {}: {}", row.name, words::advice::offer(offer, money, unit)))
        .collect();
    if !helped.is_empty() {
        writeln!(text, "\n{}\n{}", said::RACK_OFFERS, helped.join("\n"))
            .expect("writing to a string does not fail");
    }
    text
}

fn write_rack(text: &mut String, rows: &[RackRow], unit: LengthUnit) -> fmt::Result {
    let widest = rows.iter().map(|row| row.name.chars().count()).max().unwrap_or_default().clamp(5, 28);
    let [board, verdict, carved, largest, offcut, waste, cost, worst] = said::RACK_COLUMNS;
    writeln!(
        text,
        "{board:<widest$}  {verdict:<8} {carved:>8} {largest:>8} {offcut:>12} {waste:>6} {cost:>9}  {worst}"
    )?;
    for row in rows {
        let cost = row.cost.map_or_else(|| "-".to_owned(), |cost| format!("{cost:.2}"));
        writeln!(
            text,
            "{:<widest$}  {:<8} {:>6} % {:>6} % {:>12} {:>4.0} % {cost:>9}  {}",
            row.name,
            row.verdict.severity.label(),
            percent_down(row.factor),
            percent_down(row.largest_factor),
            unit.show(row.offcut),
            row.waste * 100.0,
            said::rack_worst(row, unit),
        )?;
    }
    Ok(())
}

/// Sizes as a person reads them in a terminal, smallest first, with every line of their prices, and the best offer
/// at each where there is one.
pub fn sizes_text(
    job: &Job,
    rows: &[SizeRow],
    offers: &[Option<Offer>],
    prices: &Prices,
    unit: LengthUnit,
) -> String {
    let mut text = String::new();
    write_sizes(&mut text, job, rows, offers, prices, unit).expect("writing to a string does not fail");
    text
}

fn write_sizes(
    text: &mut String,
    job: &Job,
    rows: &[SizeRow],
    offers: &[Option<Offer>],
    prices: &Prices,
    unit: LengthUnit,
) -> fmt::Result {
    let uses = job.cutters();
    let cutters: Vec<&str> = uses.iter().map(|one| one.cutter.name.as_str()).collect();
    writeln!(text, "{}", said::sizes_of(&job.design().name, &job.wood().name, &cutters))?;
    if prices.are_examples() {
        writeln!(text, "{}", said::EXAMPLE_PRICES)?;
    }
    for (index, size) in rows.iter().enumerate() {
        writeln!(text)?;
        writeln!(text, "{}", words::sizes::heading(size))?;
        row(text, Row::OneFinished, words::sizes::finished(size, unit))?;
        row(text, Row::OneFactor, said::of_the_drawing(size.proof.factor))?;
        row(text, Row::OneBoard, words::sizes::board(size, unit))?;
        row(text, Row::OneThinnest, said::thinnest_wall(size, unit))?;
        row(text, Row::OneLost, words::sizes::lost(&size.lost, unit))?;
        row(text, Row::OneTime, words::sizes::minutes(size.minutes))?;
        row(text, Row::OnePrice, words::price::total(&size.price, &prices.money, unit))?;
        for line in &size.price.lines {
            let amount = line.amount.map_or_else(|| "-".to_owned(), |amount| prices.money.show(amount));
            writeln!(
                text,
                "    {:<18}{amount:>12}  {}",
                line.item.label(),
                words::price::how(line, &prices.money, unit)
            )?;
        }
        row(text, Row::OneVerdict, words::verdict::sentence(&size.proof.verdict, unit))?;
        let advice = words::verdict::advice(&size.proof.verdict, unit);
        if size.severity() > Severity::Sound && !advice.is_empty() {
            row(text, Row::More, advice)?;
        }
        if let Some(Some(offer)) = offers.get(index) {
            row(text, Row::OneOffer, words::advice::offer(offer, &prices.money, unit))?;
        }
    }
    Ok(())
}
