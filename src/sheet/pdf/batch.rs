//! Several pieces on one board on paper: the bench sheet of the whole board, and the list of pieces for a customer.

use super::bench::{self, BenchFacts, Found, on_one_page};
use super::leaf::{BLACK, DARK, GRAY, LEADING, Leaf, Pen};
use super::panel::{draw_board, draw_design, legend, paper_from_board};
use super::{SheetSettings, body, bound, face, head, options};
use crate::arrange::{Batch, CopyProof, CutterStep, PieceSums, whole};
use crate::job::{Job, Rejected, Treatment};
use crate::proof::overhang::{Overhang, Travel};
use crate::sheet::arrange::common;
use crate::sheet::picture::Picture;
use crate::shop::{Money, Prices};
use crate::units::{LengthUnit, Mm};
use crate::words;
use crate::words::arrange as told;
use crate::words::sheets::bench::{self as said, CutterPurpose};
use crate::words::sheets::options as listed;
use glam::{DVec2, dvec2};
use std::borrow::Cow;

/// The most pieces that the bench sheet lists; the list of pieces has all.
const MOST_PIECES: usize = 24;

/// The bench sheet of all pieces on a board, as a PDF of one page: every copy where it lies, each piece with its number,
/// size, minutes and price, the cutters of all in their order, and what was found of which copies. `relief` is a
/// picture of the whole carved board.
///
/// # Errors
///
/// Where all pieces together are no design.
pub fn batch_bench_pdf(
    job: &Job,
    batch: &Batch,
    relief: Option<&Picture>,
    money: &Money,
    settings: &SheetSettings,
) -> Result<Vec<u8>, Rejected> {
    let leaf = batch_bench_leaf(job, batch, relief, money, settings)?;
    Ok(bound(vec![leaf], &said::title(&name_of(job)), said::NAME, settings.paper))
}

pub(super) fn batch_bench_leaf(
    job: &Job,
    batch: &Batch,
    relief: Option<&Picture>,
    money: &Money,
    settings: &SheetSettings,
) -> Result<Leaf, Rejected> {
    let unit = settings.unit;
    let whole = whole(job)?;
    let copies = batch.copies.iter();
    let found = common(batch, unit).into_iter().map(|row| Found {
        is_accepted: job.piece(row.piece).accepted().contains(&row.finding.id),
        // Several copies have it, each in another place.
        is_spot: false,
        words: said::found(row.severity, &row.sentence(batch)),
    });
    let facts = BenchFacts {
        name: name_of(job),
        verdict: told::verdict(&batch.severities()),
        job,
        legend: &whole,
        drawn: copies.map(|copy| (Cow::Owned(job.copy(copy.piece, copy.lie)), &copy.proof)).collect(),
        sections: setup(job, &whole, batch, money, unit),
        found: found.collect(),
        relief,
    };
    Ok(on_one_page(&facts, settings))
}

/// What the sheets call several pieces.
fn name_of(job: &Job) -> String {
    told::pieces_called((0..job.piece_count()).map(|piece| job.piece_name(piece)))
}

fn setup(
    job: &Job,
    whole: &Job,
    batch: &Batch,
    money: &Money,
    unit: LengthUnit,
) -> Vec<(&'static str, Vec<String>)> {
    let mut pieces: Vec<String> =
        batch.pieces.iter().take(MOST_PIECES).map(|piece| said::piece(piece, money, unit)).collect();
    if batch.pieces.len() > MOST_PIECES {
        pieces.push(said::more_pieces(batch.pieces.len() - MOST_PIECES));
    }
    let place = vec![said::PLACE_OF_ALL.to_owned(), told::gap(job.gap(), job.set_gap(), unit)];
    let mut sections = vec![
        (said::BOARD, bench::board_to_cut(job, unit)),
        (said::LAY, bench::how_to_lay(job, unit)),
        (said::PIECES, pieces),
        (said::PLACE, place),
        (said::CUTTERS, cutters(job, whole, batch, unit)),
    ];
    if let Some(first) = batch.copies.first() {
        let step = first.proof.feeding.step.range();
        sections.push((said::ENDS, vec![said::ends(job.ends(), sniped_share(batch), step, unit)]));
        sections.push((said::SUPPORT, bench::support(whole, &travel(first, batch), unit)));
    }
    sections.push((said::TIME_AND_PRICE, vec![told::total(batch.minutes, batch.cost, batch.price, money)]));
    sections.push((said::REMARK, bench::remark(job.remark())));
    sections
}

/// The share of all pieces together that lies in the snipe zones, 0 to 1.
fn sniped_share(batch: &Batch) -> f64 {
    let area = |copy: &CopyProof| copy.proof.length.get() * copy.proof.width.get();
    let sniped: f64 = batch.copies.iter().map(|copy| area(copy) * copy.proof.feeding.sniped_share).sum();
    let all: f64 = batch.copies.iter().map(area).sum();
    if all > 0.0 { sniped / all } else { 0.0 }
}

/// How far the board goes for all of them: as far as for the one that takes it farthest.
fn travel(first: &CopyProof, batch: &Batch) -> Travel {
    let farther = |one: Overhang, other: &Overhang| if other.reach > one.reach { other.clone() } else { one };
    batch.copies.iter().map(|copy| &copy.proof.feeding.travel).fold(
        first.proof.feeding.travel.clone(),
        |all, one| Travel {
            in_front: all.in_front.max(one.in_front),
            behind: all.behind.max(one.behind),
            infeed: farther(all.infeed, &one.infeed),
            outfeed: farther(all.outfeed, &one.outfeed),
        },
    )
}

/// The cutters in the order in which they are put in, with the pieces they cut where others do not.
fn cutters(job: &Job, whole: &Job, batch: &Batch, unit: LengthUnit) -> Vec<String> {
    let laid = batch.pieces.iter().filter(|piece| piece.laid > 0).count();
    let line = |(number, step): (usize, &CutterStep)| {
        let of_piece = |&piece: &usize| {
            let one = job.piece(piece);
            let uses = one.cutters();
            let used = uses.iter().find(|used| *used.cutter == step.cutter)?;
            let depths = bench::depths(&one, used);
            let deepest = depths.last().map_or(one.board().thickness, |(depth, _)| *depth);
            let least = depths.first().map_or(deepest, |(depth, _)| *depth);
            Some((least, deepest, Mm::new(one.clearing().pass_depth(&step.cutter)), used.clears_first))
        };
        let of_pieces: Vec<(Mm, Mm, Mm, bool)> = step.pieces.iter().filter_map(of_piece).collect();
        let least = of_pieces.iter().map(|one| one.0).reduce(Mm::min).unwrap_or_default();
        let deepest = of_pieces.iter().map(|one| one.1).reduce(Mm::max).unwrap_or_default();
        let pass = of_pieces.iter().map(|one| one.2).reduce(Mm::min).unwrap_or_default();
        let names: Vec<&str> = step.pieces.iter().map(|&piece| job.piece_name(piece)).collect();
        let purpose = if !of_pieces.is_empty() && of_pieces.iter().all(|one| one.3) {
            CutterPurpose::ClearFirst
        } else if names.len() < laid {
            CutterPurpose::Elements(&names)
        } else {
            CutterPurpose::All
        };
        said::cutter(number, &step.cutter.name, [least, deepest], pass, purpose, unit)
    };
    let mut lines: Vec<String> = (1..).zip(&batch.cutters).map(line).collect();
    if whole.has(Treatment::Pierced) {
        lines.push(said::pierced(job.board().thickness, unit));
    }
    lines
}

/// Height of the words in a row of the list, and of those over it.
const WORDS: f64 = 3.1;
const NOTES: f64 = 2.8;
/// The highest the board is drawn.
const HIGHEST: f64 = 90.0;

/// The list of several pieces on one board as a PDF, for a customer: the board with all of them drawn on it, and each
/// piece with its size, number, minutes and price, and the sums.
///
/// # Errors
///
/// Where all pieces together are no design.
pub fn pieces_pdf(
    job: &Job,
    batch: &Batch,
    prices: &Prices,
    settings: &SheetSettings,
) -> Result<Vec<u8>, Rejected> {
    let leaves = pieces_leaves(job, batch, prices, settings)?;
    Ok(bound(leaves, &listed::title(&name_of(job)), listed::PIECES, settings.paper))
}

pub(super) fn pieces_leaves(
    job: &Job,
    batch: &Batch,
    prices: &Prices,
    settings: &SheetSettings,
) -> Result<Vec<Leaf>, Rejected> {
    let whole = whole(job)?;
    let name = name_of(job);
    let mut leaf = settings.paper.leaf(false);
    let area = body(&leaf);
    let room = area.max.x - area.min.x;
    let mut y = head(&mut leaf, settings, listed::PIECES, &name);
    y = options::customer_text(&mut leaf, y, settings);
    let [length, width] = [job.board().length, job.board().width];
    let scale = (room / length.get()).min(HIGHEST / width.get());
    let mut notes =
        vec![listed::board_of_pieces([length, width], &job.wood().name, 1.0 / scale, settings.unit)];
    notes.extend(options::about_prices(prices));
    y = leaf.wrapped(dvec2(area.min.x, y), &notes.join(" "), NOTES, room, DARK) + 1.5;
    let corner = dvec2(area.min.x, y + width.get() * scale);
    let paper_from_board = paper_from_board(corner, scale);
    if let Some(first) = batch.copies.first() {
        draw_board(&mut leaf, job, &first.proof, paper_from_board);
    }
    for copy in &batch.copies {
        draw_design(&mut leaf, &job.copy(copy.piece, copy.lie), &copy.proof, paper_from_board);
    }
    y = legend(&mut leaf, corner + dvec2(0.0, 2.0), area.max.x, &whole) + 3.0;
    let table = Table { columns: columns(area.min.x, area.max.x) };
    y = table.row(&mut leaf, y, &listed::PIECE_COLUMNS.map(str::to_owned), true);
    let mut leaves = Vec::new();
    for cells in batch.pieces.iter().map(|piece| cells(piece, &prices.money, settings.unit)) {
        if y + table.height(&cells) > area.max.y {
            leaves.push(std::mem::replace(&mut leaf, settings.paper.leaf(false)));
            y = head(&mut leaf, settings, listed::PIECES, &name);
            y = table.row(&mut leaf, y, &listed::PIECE_COLUMNS.map(str::to_owned), true);
        }
        y = table.row(&mut leaf, y, &cells, false);
    }
    let sums = total(batch, &prices.money);
    if y + table.height(&sums) > area.max.y {
        leaves.push(std::mem::replace(&mut leaf, settings.paper.leaf(false)));
        y = head(&mut leaf, settings, listed::PIECES, &name);
    }
    table.row(&mut leaf, y, &sums, true);
    leaves.push(leaf);
    Ok(leaves)
}

/// A piece's row.
fn cells(piece: &PieceSums, money: &Money, unit: LengthUnit) -> [String; 6] {
    let shown = |amount: Option<f64>| amount.map_or_else(|| "-".to_owned(), |amount| money.show(amount));
    [
        piece.name.clone(),
        words::sizes::measures(piece.size, unit),
        listed::number(piece.laid, piece.wanted),
        words::arrange::minutes(piece.minutes),
        shown(piece.price),
        shown(piece.price.map(|price| price * piece.laid as f64)),
    ]
}

/// The sums of all rows.
fn total(batch: &Batch, money: &Money) -> [String; 6] {
    let wanted = batch.pieces.iter().map(|piece| piece.wanted).sum();
    [
        listed::TOTAL.to_owned(),
        String::new(),
        listed::number(batch.copies.len(), wanted),
        words::arrange::minutes(Some(batch.minutes)),
        String::new(),
        batch.price.map_or_else(|| "-".to_owned(), |price| money.show(price)),
    ]
}

/// Where the columns are: the left edge of words, the right edge of numbers.
fn columns(left: f64, right: f64) -> [f64; 6] {
    let long = right - left;
    [left, left + 0.56 * long, left + 0.66 * long, left + 0.78 * long, left + 0.89 * long, right]
}

struct Table {
    columns: [f64; 6],
}

impl Table {
    /// The room that a piece's name has.
    fn room_for_name(&self) -> f64 {
        (self.columns[1] - self.columns[0]) * 0.56
    }

    fn height(&self, cells: &[String; 6]) -> f64 {
        let lines = face::wrap(&cells[0], WORDS, self.room_for_name()).len().max(1);
        lines as f64 * WORDS * LEADING + 1.2
    }

    /// A row, and where the next begins.
    fn row(&self, leaf: &mut Leaf, top: f64, cells: &[String; 6], is_bold: bool) -> f64 {
        let base = top + WORDS;
        for (index, line) in face::wrap(&cells[0], WORDS, self.room_for_name()).iter().enumerate() {
            let at = DVec2::new(self.columns[0], base + index as f64 * WORDS * LEADING);
            if is_bold {
                leaf.bold(at, line, WORDS);
            } else {
                leaf.words(at, line, WORDS, BLACK);
            }
        }
        for (cell, &right) in cells.iter().zip(&self.columns).skip(1) {
            leaf.words_to(DVec2::new(right, base), cell, WORDS, BLACK);
        }
        let bottom = top + self.height(cells);
        let [left, right] = [self.columns[0], self.columns[5]];
        leaf.line(dvec2(left, bottom - 0.6), dvec2(right, bottom - 0.6), Pen::new(0.12, GRAY));
        bottom
    }
}
