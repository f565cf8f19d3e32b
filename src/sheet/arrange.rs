//! Several pieces on one board as text for a terminal, and as JSON.

use super::json::{VERSION, mm, places};
use crate::arrange::{Arrangement, Batch, OnRack, OneMore, PieceSums};
use crate::job::{Job, Turns};
use crate::proof::{Finding, FindingKind, Severity};
use crate::shop::Money;
use crate::units::{LengthUnit, Mm};
use crate::words::{self, arrange as said};
use serde::Serialize;
use std::collections::BTreeMap;
use std::fmt::{self, Write as _};

/// The name of the object that tells of an arrangement.
pub const ARRANGE_FORMAT: &str = "spelk.arrange";

/// The most lines of findings in the text; the JSON object has all.
const FINDINGS: usize = 12;

/// All that is known of the pieces of a board.
pub struct Arranged<'a> {
    /// The job, with all copies laid.
    pub job: &'a Job,
    /// How it was arranged.
    pub laid: &'a Arrangement,
    /// What comes of it.
    pub batch: &'a Batch,
    /// Of each piece whether one more goes on.
    pub one_more: &'a [OneMore],
    /// The shortest board, where that was asked.
    pub shortest: Option<Mm>,
    /// The boards of the rack, where those were asked about.
    pub rack: Option<&'a [OnRack]>,
    /// How money is written.
    pub money: &'a Money,
}

/// What was found alike of several copies of a piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Common {
    /// The piece, by its place in the list.
    pub piece: usize,
    /// The copies, by their numbers from 0.
    pub copies: Vec<usize>,
    /// How grave it is.
    pub severity: Severity,
    /// The finding of the first of them.
    pub finding: Finding,
    /// What is said of it.
    pub message: String,
}

impl Common {
    /// Which copies it is about, and what: `coaster, every copy: ...`.
    pub fn sentence(&self, batch: &Batch) -> String {
        let PieceSums { name, laid, .. } = &batch.pieces[self.piece];
        said::found_of(name, &self.copies, *laid, &self.message)
    }
}

/// What was found of the copies, the gravest first, each once for all copies of a piece that have it.
pub fn common(batch: &Batch, unit: LengthUnit) -> Vec<Common> {
    let mut rows: Vec<Common> = Vec::new();
    let mut known: BTreeMap<(usize, String), usize> = BTreeMap::new();
    for copy in &batch.copies {
        for finding in copy.proof.findings.iter().filter(|finding| finding.severity() > Severity::Sound) {
            let message = words::finding::message(finding, unit);
            let next = rows.len();
            let row = *known.entry((copy.piece, message.clone())).or_insert(next);
            match rows.get_mut(row) {
                Some(row) if row.copies.last() != Some(&copy.copy) => row.copies.push(copy.copy),
                Some(_) => {}
                None => rows.push(Common {
                    piece: copy.piece,
                    copies: vec![copy.copy],
                    severity: finding.severity(),
                    finding: finding.clone(),
                    message,
                }),
            }
        }
    }
    rows.sort_by(|a, b| b.severity.cmp(&a.severity).then(a.piece.cmp(&b.piece)));
    rows
}

/// As a person reads it in a terminal.
pub fn arrange_text(arranged: &Arranged, unit: LengthUnit) -> String {
    let mut text = String::new();
    write_text(&mut text, arranged, unit).expect("writing to a string does not fail");
    text
}

fn write_text(text: &mut String, arranged: &Arranged, unit: LengthUnit) -> fmt::Result {
    let Arranged { job, laid, batch, money, .. } = *arranged;
    writeln!(text, "{}", said::laid(laid.count(), laid.left_over.iter().sum()))?;
    writeln!(text, "{}\n", said::verdict(&batch.severities()))?;
    let widest = batch.pieces.iter().map(|piece| piece.name.chars().count()).max().unwrap_or(5).clamp(5, 28);
    let [piece, size, number, minutes, price, more] = said::COLUMNS;
    writeln!(text, "{piece:<widest$}  {size:>20}  {number:>5}  {minutes:>8}  {price:>11}  {more:>11}")?;
    for (piece, more) in batch.pieces.iter().zip(arranged.one_more) {
        let size = words::sizes::measures(piece.size, unit);
        let minutes = piece.minutes.map_or_else(|| "-".to_owned(), |minutes| format!("{minutes:.1}"));
        let price = piece.price.map_or_else(|| "-".to_owned(), |price| money.show(price));
        let more = said::one_more(piece, matches!(more, OneMore::Fits(_)), money);
        writeln!(
            text,
            "{:<widest$}  {size:>20}  {:>5}  {minutes:>8}  {price:>11}  {more:>11}",
            piece.name, piece.laid
        )?;
    }
    writeln!(text)?;
    let board = job.board();
    writeln!(text, "{}", said::total(batch.minutes, batch.cost, batch.price, money))?;
    writeln!(text, "{}", said::used(laid.used, board.length, batch.waste, unit))?;
    if let Some(length) = arranged.shortest {
        writeln!(text, "{}", said::shortest(length, board.width, unit))?;
    }
    if batch.allowance_each > Mm::ZERO && !batch.copies.is_empty() {
        writeln!(text, "{}", said::allowance(batch.allowance_each, batch.copies.len(), unit))?;
    }
    writeln!(text, "{}", said::gap(job.gap(), job.set_gap(), unit))?;
    let cutters: Vec<&str> = batch.cutters.iter().map(|step| step.cutter.name.as_str()).collect();
    if !cutters.is_empty() {
        writeln!(text, "{}", said::cutters(&cutters))?;
    }
    let turned = quarter_turned(job);
    if turned > 0 {
        writeln!(text, "{}", said::across_the_grain(turned))?;
    }
    let rows = common(batch, unit);
    if !rows.is_empty() {
        writeln!(text)?;
    }
    for row in rows.iter().take(FINDINGS) {
        writeln!(text, "{:<8}  {}", row.severity.label(), row.sentence(batch))?;
    }
    if rows.len() > FINDINGS {
        writeln!(text, "{}", said::more_found(rows.len() - FINDINGS))?;
    }
    if let Some(rack) = arranged.rack {
        writeln!(text, "\n{}", if rack.is_empty() { said::RACK_TAKES_NONE } else { said::RACK })?;
        for row in rack {
            writeln!(text, "  {}", said::on_rack(row, unit))?;
        }
    }
    Ok(())
}

/// How many copies lie a quarter turned from the way their piece is set to stand.
fn quarter_turned(job: &Job) -> usize {
    let of_piece = |piece: usize| {
        let lies = job.lies(piece);
        let usual = lies.iter().filter(|lie| !lie.turn.swaps()).count();
        // A piece that may not be turned lies as it was drawn to lie.
        if job.lot(piece).turns == Turns::Quarter { lies.len() - usual } else { 0 }
    };
    (0..job.piece_count()).map(of_piece).sum()
}

#[derive(Serialize)]
struct ArrangeObject {
    format: &'static str,
    version: u32,
    count: usize,
    left_over: usize,
    board: [f64; 3],
    gap_mm: f64,
    used_length_mm: f64,
    shortest_length_mm: Option<f64>,
    waste: f64,
    allowance_each_mm: f64,
    minutes: f64,
    cost: Option<f64>,
    price: Option<f64>,
    cutters: Vec<CutterObject>,
    pieces: Vec<PieceObject>,
    verdict: Severity,
    message: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    rack: Option<Vec<RackObject>>,
}

#[derive(Serialize)]
struct CutterObject {
    id: String,
    pieces: Vec<usize>,
}

#[derive(Serialize)]
struct PieceObject {
    name: String,
    count: usize,
    left_over: usize,
    length_mm: f64,
    width_mm: f64,
    minutes_each: Option<f64>,
    cost_each: Option<f64>,
    price_each: Option<f64>,
    one_more: Option<OneMoreObject>,
    copies: Vec<CopyObject>,
}

#[derive(Serialize)]
struct OneMoreObject {
    x_mm: f64,
    y_mm: f64,
    turn_deg: i32,
    cost: Option<f64>,
}

#[derive(Serialize)]
struct CopyObject {
    name: String,
    x_mm: f64,
    y_mm: f64,
    turn_deg: i32,
    length_mm: f64,
    width_mm: f64,
    verdict: Severity,
    findings: Vec<FoundObject>,
}

#[derive(Serialize)]
struct FoundObject {
    id: String,
    kind: FindingKind,
    severity: Severity,
    message: String,
}

#[derive(Serialize)]
struct RackObject {
    name: String,
    count: usize,
    takes_all: bool,
    waste: f64,
    offcut_mm: f64,
}

/// As scripts read it. Money is to a ten-thousandth, in the shop's currency.
pub fn arrange_json(arranged: &Arranged, unit: LengthUnit) -> String {
    let Arranged { job, laid, batch, .. } = *arranged;
    let money = |amount: Option<f64>| amount.map(|amount| places(amount, 4));
    let copies = |piece: usize| {
        let of_piece = batch.copies.iter().filter(move |copy| copy.piece == piece);
        of_piece.map(move |copy| CopyObject {
            name: said::copy(job.piece_name(piece), copy.copy, batch.pieces[piece].laid),
            x_mm: mm(copy.lie.x),
            y_mm: mm(copy.lie.y),
            turn_deg: copy.lie.turn.degrees(),
            length_mm: mm(copy.proof.length),
            width_mm: mm(copy.proof.width),
            verdict: copy.proof.verdict.severity,
            findings: copy
                .proof
                .findings
                .iter()
                .map(|finding| FoundObject {
                    id: finding.id.clone(),
                    kind: finding.kind(),
                    severity: finding.severity(),
                    message: words::finding::message(finding, unit),
                })
                .collect(),
        })
    };
    let pieces = batch.pieces.iter().enumerate().map(|(piece, sums)| PieceObject {
        name: sums.name.clone(),
        count: sums.laid,
        left_over: laid.left_over[piece],
        length_mm: mm(sums.size[0]),
        width_mm: mm(sums.size[1]),
        minutes_each: sums.minutes.map(|minutes| places(minutes, 4)),
        cost_each: money(sums.cost),
        price_each: money(sums.price),
        one_more: match arranged.one_more.get(piece) {
            Some(OneMore::Fits(lie)) => Some(OneMoreObject {
                x_mm: mm(lie.x),
                y_mm: mm(lie.y),
                turn_deg: lie.turn.degrees(),
                cost: money(sums.one_more),
            }),
            _ => None,
        },
        copies: copies(piece).collect(),
    });
    let board = job.board();
    let rack = arranged.rack.map(|rows| {
        let row = |row: &OnRack| RackObject {
            name: row.name.clone(),
            count: row.count,
            takes_all: row.takes_all,
            waste: places(row.waste, 4),
            offcut_mm: mm(row.offcut),
        };
        rows.iter().map(row).collect()
    });
    let object = ArrangeObject {
        format: ARRANGE_FORMAT,
        version: VERSION,
        count: laid.count(),
        left_over: laid.left_over.iter().sum(),
        board: [board.length, board.width, board.thickness].map(mm),
        gap_mm: mm(job.gap()),
        used_length_mm: mm(laid.used),
        shortest_length_mm: arranged.shortest.map(mm),
        waste: places(batch.waste, 4),
        allowance_each_mm: mm(batch.allowance_each),
        minutes: places(batch.minutes, 4),
        cost: money(batch.cost),
        price: money(batch.price),
        cutters: batch
            .cutters
            .iter()
            .map(|step| CutterObject { id: step.cutter.id.clone(), pieces: step.pieces.clone() })
            .collect(),
        pieces: pieces.collect(),
        verdict: batch.severity(),
        message: said::verdict(&batch.severities()),
        rack,
    };
    let mut text = serde_json::to_string_pretty(&object).expect("an arrangement has finite numbers");
    text.push('\n');
    text
}
