//! The offer: one design at several sizes, as carved and to a common scale, for a customer to choose from and sign; and
//! how each price comes about, for the shop.

use super::leaf::{BLACK, DARK, GRAY, LEADING, Leaf, Mark, Pen, Shape};
use super::panel::{draw_design, paper_from_board};
use super::{SheetSettings, body, bound, face, head};
use crate::geometry::Rect;
use crate::job::Job;
use crate::proof::Severity;
use crate::proof::price::PriceItem;
use crate::proof::sizes::{RowKind, SizeRow, drawn};
use crate::sheet::picture::Picture;
use crate::shop::Prices;
use crate::words;
use crate::words::sheets::options as said;
use glam::{DVec2, dvec2};

/// Height of the words in a row.
const WORDS: f64 = 3.1;
/// Height of a row's name.
const NAME: f64 = 4.2;
/// Share of the paper's width that the pictures take.
const DRAWN: f64 = 0.54;
/// The highest a picture is: so that a page holds several.
const HIGHEST: f64 = 62.0;
/// Free paper between two rows.
const GAP: f64 = 3.0;

/// The offer as a PDF: who it is for, its dates, a row a size with its picture as carved and its price, smallest first,
/// a box to tick at each, and a line to sign. What was found is on it only where [`Quote::with_findings`] asks for it; a
/// size that would not come out whole has no box. An empty list gives a sheet that says so. `surfaces` are pictures of
/// the rows' whole boards from above, as they come off the machine; a row without one is drawn in lines.
///
/// [`Quote::with_findings`]: super::Quote::with_findings
pub fn options_pdf(
    job: &Job,
    rows: &[SizeRow],
    surfaces: &[Option<Picture>],
    prices: &Prices,
    settings: &SheetSettings,
) -> Vec<u8> {
    let leaves = options_leaves(job, rows, surfaces, prices, settings);
    let title = said::title(&job.design().name);
    bound(leaves, &title, said::NAME, settings.paper)
}

/// How each price comes about, line by line, as a PDF: for the shop, and in a file of its own, so that no customer gets
/// it by mistake.
pub fn prices_pdf(job: &Job, rows: &[SizeRow], prices: &Prices, settings: &SheetSettings) -> Vec<u8> {
    let leaves = price_leaves(job, rows, prices, settings);
    bound(leaves, said::PRICES, said::PRICES_NAME, settings.paper)
}

pub(super) fn options_leaves(
    job: &Job,
    rows: &[SizeRow],
    surfaces: &[Option<Picture>],
    prices: &Prices,
    settings: &SheetSettings,
) -> Vec<Leaf> {
    let mut leaves = Vec::new();
    let mut leaf = settings.paper.leaf(false);
    let area = body(&leaf);
    let column = (area.max.x - area.min.x) * DRAWN;
    let is_drawn = drawn(rows);
    // Nobody asked for the least sound size.
    let is_asked = |row: &SizeRow| settings.offer.with_findings || row.kind != RowKind::LeastSound;
    let offered: Vec<usize> = (0..rows.len()).filter(|&index| is_asked(&rows[index])).collect();
    let pictured = offered.iter().filter(|&&index| is_drawn[index]).map(|&index| &rows[index]);
    let scale = common_scale(pictured, column);
    let all = AllRows { scale, prices, settings };
    let mut y = head(&mut leaf, settings, said::HEAD, &job.design().name);
    y = addressed(&mut leaf, y, settings);
    y = customer_text(&mut leaf, y, settings);
    y = preamble(&mut leaf, y, job, !rows.is_empty(), prices, scale);
    if rows.is_empty() {
        leaf.words(dvec2(area.min.x, y + WORDS), said::NONE, WORDS, BLACK);
    }
    let alone = head(&mut settings.paper.leaf(false), settings, said::HEAD, &job.design().name);
    for index in offered {
        let (row, drawn) = (&rows[index], is_drawn[index]);
        let surface = surfaces.get(index).and_then(Option::as_ref);
        let indent = if drawn { column + GAP } else { 0.0 };
        let tall = row_height(row, drawn, surface, &all, area.max.x - area.min.x - indent);
        // A row taller than a page is shown as far as the page reaches, and no page stays bare for it.
        if y + tall > area.max.y && y > alone + 1.0 {
            leaves.push(std::mem::replace(&mut leaf, settings.paper.leaf(false)));
            y = head(&mut leaf, settings, said::HEAD, &job.design().name);
        }
        if drawn {
            draw_row(&mut leaf, dvec2(area.min.x, y), row, surface, &all);
        }
        write_row(&mut leaf, dvec2(area.min.x + indent, y), row, drawn, &all);
        y += tall + GAP;
        leaf.line(dvec2(area.min.x, y - GAP / 2.0), dvec2(area.max.x, y - GAP / 2.0), Pen::new(0.12, GRAY));
    }
    if !rows.is_empty() {
        if y + SIGNED > area.max.y {
            leaves.push(std::mem::replace(&mut leaf, settings.paper.leaf(false)));
            y = head(&mut leaf, settings, said::HEAD, &job.design().name);
        }
        sign(&mut leaf, y);
    }
    leaves.push(leaf);
    leaves
}

/// Who the offer is for, its date, and until when it holds; a line to write on where that is not known.
fn addressed(leaf: &mut Leaf, top: f64, settings: &SheetSettings) -> f64 {
    const SET: f64 = 3.4;
    let area = body(leaf);
    let offer = &settings.offer;
    let dates_at = area.min.x + 0.62 * (area.max.x - area.min.x);
    let mut bottom = top;
    let mut field = |leaf: &mut Leaf, at: DVec2, room: f64, label: &str, value: &str| -> f64 {
        leaf.words(dvec2(at.x, at.y + SET), label, SET, DARK);
        let value_at = at.x + 24.0;
        let mut y = at.y;
        if value.trim().is_empty() {
            y += SET + 1.0;
            leaf.line(dvec2(value_at, y), dvec2(at.x + room, y), Pen::new(0.15, GRAY));
        }
        for line in
            face::wrap(value.trim(), SET, room - 24.0).into_iter().take(3).filter(|line| !line.is_empty())
        {
            y += SET;
            leaf.bold(dvec2(value_at, y), &line, SET);
            y += SET * (LEADING - 1.0);
        }
        bottom = f64::max(bottom, y);
        y + 1.0
    };
    field(leaf, dvec2(area.min.x, top), dates_at - area.min.x - 6.0, said::FOR_CUSTOMER, &offer.customer);
    let y = field(leaf, dvec2(dates_at, top), area.max.x - dates_at, said::DATE, &offer.date);
    field(leaf, dvec2(dates_at, y), area.max.x - dates_at, said::VALID_UNTIL, &offer.valid_until);
    bottom + 4.0
}

/// Paper kept for the choice and the signature.
const SIGNED: f64 = 24.0;

/// What the customer says, and where to sign.
fn sign(leaf: &mut Leaf, top: f64) {
    let area = body(leaf);
    leaf.words(dvec2(area.min.x, top + 4.0), said::CHOICE, WORDS, BLACK);
    let width = area.max.x - area.min.x;
    for (from, to, label) in [(0.0, 0.36, said::PLACE_AND_DATE), (0.44, 1.0, said::SIGNATURE)] {
        let (left, right) = (area.min.x + from * width, area.min.x + to * width);
        leaf.line(dvec2(left, top + 17.0), dvec2(right, top + 17.0), Pen::new(0.2, BLACK));
        leaf.words(dvec2(left, top + 20.5), label, 2.8, DARK);
    }
}

/// What the shop writes to its customer; returns where the next goes.
pub(super) fn customer_text(leaf: &mut Leaf, top: f64, settings: &SheetSettings) -> f64 {
    let area = body(leaf);
    let mut y = top;
    if !settings.customer_text.trim().is_empty() {
        for line in face::wrap(&settings.customer_text, 3.4, area.max.x - area.min.x).into_iter().take(24) {
            y += 3.4;
            leaf.words(dvec2(area.min.x, y), &line, 3.4, BLACK);
            y += 3.4 * (LEADING - 1.0);
        }
        y += 2.0;
    }
    y
}

/// What has to be known of the prices, where something has.
pub(super) fn about_prices(prices: &Prices) -> Option<String> {
    if prices.are_examples() {
        return Some(said::EXAMPLE_PRICES.to_owned());
    }
    (prices.tax > 0.0).then(|| said::with_tax(prices.tax))
}

/// What is the same for all rows.
struct AllRows<'a> {
    /// Paper millimetres to one of wood.
    scale: f64,
    prices: &'a Prices,
    settings: &'a SheetSettings,
}

/// Paper millimetres to one of wood: the same for all, so that the largest fits.
fn common_scale<'a>(rows: impl Iterator<Item = &'a SizeRow>, column: f64) -> f64 {
    let most = rows.map(|row| row.carved_part.size()).fold(DVec2::ONE, DVec2::max);
    (column / most.x).min(HIGHEST / most.y)
}

/// What holds for all rows.
fn preamble(leaf: &mut Leaf, top: f64, job: &Job, has_rows: bool, prices: &Prices, scale: f64) -> f64 {
    let area = body(leaf);
    let mut notes = vec![said::drawn(&job.wood().name, 1.0 / scale)];
    notes.extend(about_prices(prices).filter(|_| has_rows || !prices.are_examples()));
    leaf.wrapped(dvec2(area.min.x, top), &notes.join(" "), 2.8, area.max.x - area.min.x, DARK) + 3.0
}

/// How a line of a row is set.
#[derive(Clone, Copy)]
enum Set {
    Plain,
    /// The price.
    Large,
    Faint,
}

impl Set {
    fn size(self) -> f64 {
        match self {
            Set::Large => 5.4,
            Set::Plain | Set::Faint => WORDS,
        }
    }
}

/// The lines of a row below its name: what the customer wants to know, and what was found where that is asked for.
fn row_words(row: &SizeRow, drawn: bool, all: &AllRows) -> Vec<(String, Set)> {
    let AllRows { prices, settings, .. } = *all;
    let unit = settings.unit;
    let mut lines = vec![(words::sizes::finished(row, unit), Set::Plain)];
    let price = words::price::total(&row.price, &prices.money, unit);
    if !can_be_had(row) {
        lines.push((said::CANNOT_BE_HAD.to_owned(), Set::Faint));
    } else if row.price.total.is_some() {
        lines.push((price, Set::Large));
    } else {
        lines.push((price, Set::Plain));
    }
    if settings.offer.with_findings {
        lines.extend([
            (said::board(row, unit), Set::Plain),
            (said::thinnest_and_lost(row, unit), Set::Plain),
            (said::time(row), Set::Plain),
            (words::verdict::sentence(&row.proof.verdict, unit), Set::Plain),
        ]);
        let advice = words::verdict::advice(&row.proof.verdict, unit);
        if row.severity() > Severity::Sound && !advice.is_empty() {
            lines.push((advice, Set::Faint));
        }
    }
    if !drawn {
        lines.push((words::sizes::NOT_DRAWN.to_owned(), Set::Faint));
    }
    lines
}

/// Whether a customer can have it.
fn can_be_had(row: &SizeRow) -> bool {
    row.severity() < Severity::Unsound
}

fn row_height(row: &SizeRow, drawn: bool, surface: Option<&Picture>, all: &AllRows, room: f64) -> f64 {
    let name = face::wrap(&words::sizes::heading(row), NAME, room - BOX).len() as f64 * NAME * LEADING;
    let lines = row_words(row, drawn, all)
        .into_iter()
        .map(|(words, set)| face::wrap(&words, set.size(), room - BOX).len() as f64 * set.size() * LEADING);
    let words = name + lines.sum::<f64>();
    if !drawn {
        return words;
    }
    let picture = match surface {
        Some(_) => row.carved_part.size().y,
        None => row.job.board().width.get().min(row.carved_part.size().y),
    };
    words.max(picture * all.scale + 2.0)
}

/// The carved part as it comes off the machine, in the colour of its wood; its outline where there is no picture.
fn draw_row(leaf: &mut Leaf, at: DVec2, row: &SizeRow, surface: Option<&Picture>, all: &AllRows) {
    let scale = all.scale;
    let seen = row.carved_part;
    let board = dvec2(row.job.board().length.get(), row.job.board().width.get());
    // The corner of the whole board, so that its carved part begins at `at`.
    let top_left = at + dvec2(0.0, 1.0) - dvec2(seen.min.x, board.y - seen.max.y) * scale;
    let frame = Rect::new(at + dvec2(0.0, 1.0), at + dvec2(0.0, 1.0) + seen.size() * scale);
    let marks = if let Some(picture) = surface {
        let area = Rect::new(top_left, top_left + board * scale);
        vec![Mark::Picture { pixels: picture.into(), area }]
    } else {
        let mut drawn = Leaf::new(leaf.size);
        let paper_from_board = paper_from_board(top_left + dvec2(0.0, board.y * scale), scale);
        draw_design(&mut drawn, &row.job, &row.proof, paper_from_board);
        drawn.marks
    };
    leaf.marks.push(Mark::Within { shape: Shape::rect(frame), marks });
    leaf.outline(Shape::rect(frame), Pen::new(0.12, GRAY));
}

/// Room for the box to tick, before the words of a row.
const BOX: f64 = 8.0;

fn write_row(leaf: &mut Leaf, at: DVec2, row: &SizeRow, drawn: bool, all: &AllRows) {
    let left = at.x + BOX;
    let room = body(leaf).max.x - left;
    let mut y = at.y;
    if can_be_had(row) {
        super::tick_box(leaf, dvec2(at.x, y + NAME), NAME, false);
    }
    for line in face::wrap(&words::sizes::heading(row), NAME, room) {
        y += NAME;
        leaf.bold(dvec2(left, y), &line, NAME);
        y += NAME * (LEADING - 1.0);
    }
    for (words, set) in row_words(row, drawn, all) {
        let size = set.size();
        for line in face::wrap(&words, size, room) {
            y += size;
            let at = dvec2(left, y);
            match set {
                Set::Plain => leaf.words(at, &line, size, BLACK),
                Set::Large => leaf.bold(at, &line, size),
                Set::Faint => leaf.words(at, &line, size, DARK),
            }
            y += size * (LEADING - 1.0);
        }
    }
}

/// Every line of every price.
pub(super) fn price_leaves(
    job: &Job,
    rows: &[SizeRow],
    prices: &Prices,
    settings: &SheetSettings,
) -> Vec<Leaf> {
    let mut leaves = Vec::new();
    let mut leaf = settings.paper.leaf(false);
    let area = body(&leaf);
    let plain = SheetSettings { customer_text: String::new(), ..settings.clone() };
    let mut y = head(&mut leaf, &plain, said::PRICES, &job.design().name);
    let (amount_at, how_at) = (area.min.x + 56.0, area.min.x + 60.0);
    for row in rows {
        let lines: Vec<(PriceItem, String, Vec<String>)> = row
            .price
            .lines
            .iter()
            .map(|line| {
                let amount = line.amount.map_or_else(|| "-".to_owned(), |amount| prices.money.show(amount));
                (
                    line.item,
                    amount,
                    face::wrap(
                        &words::price::how(line, &prices.money, settings.unit),
                        2.8,
                        area.max.x - how_at,
                    ),
                )
            })
            .collect();
        let names = face::wrap(&words::sizes::heading(row), 3.6, area.max.x - area.min.x);
        let tall = names.len() as f64 * 3.6 * LEADING
            + lines.iter().map(|(.., how)| how.len().max(1) as f64 * 2.8 * LEADING).sum::<f64>()
            + 4.0;
        if y + tall > area.max.y {
            leaves.push(std::mem::replace(&mut leaf, settings.paper.leaf(false)));
            y = head(&mut leaf, &plain, said::PRICES, &job.design().name);
        }
        for name in names {
            y += 3.6;
            leaf.bold(dvec2(area.min.x, y), &name, 3.6);
            y += 3.6 * (LEADING - 1.0);
        }
        for (item, amount, how) in lines {
            y += 2.8;
            let label_at = dvec2(area.min.x, y);
            if item == PriceItem::Total {
                leaf.bold(label_at, item.label(), 2.8);
            } else {
                leaf.words(label_at, item.label(), 2.8, BLACK);
            }
            leaf.words_to(dvec2(amount_at, y), &amount, 2.8, BLACK);
            for (index, part) in how.iter().enumerate() {
                y += if index == 0 { 0.0 } else { 2.8 * LEADING };
                leaf.words(dvec2(how_at, y), part, 2.8, DARK);
            }
            y += 2.8 * (LEADING - 1.0);
        }
        y += 4.0;
    }
    leaves.push(leaf);
    leaves
}
