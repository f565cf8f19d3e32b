//! The size options: one design at several sizes on boards drawn to a common scale, for a customer to
//! choose from; and how each price comes about, for the shop.

use super::leaf::{BLACK, DARK, GRAY, LEADING, Leaf, Mark, Pen, Pixels, Shape};
use super::panel::{draw_board, draw_design, legend, paper_from_board};
use super::{SheetSettings, body, bound, face, head};
use crate::geometry::Rect;
use crate::job::Job;
use crate::proof::Severity;
use crate::proof::price::PriceItem;
use crate::proof::sizes::{SizeRow, drawn};
use crate::sheet::paled;
use crate::sheet::picture::Picture;
use crate::shop::Prices;
use crate::words;
use crate::words::sheets::options as said;
use glam::{DVec2, dvec2};
use std::sync::Arc;

/// Height of the words in a row.
const WORDS: f64 = 3.1;
/// Height of a row's name.
const NAME: f64 = 4.2;
/// Share of the paper's width that the boards are drawn in.
const DRAWN: f64 = 0.54;
/// The highest a board is drawn: so that a page holds several.
const HIGHEST: f64 = 62.0;
/// Free paper over the picture of the carved part.
const ABOVE_SURFACE: f64 = 2.0;
/// Free paper between two rows.
const GAP: f64 = 3.0;

/// The size options as a PDF: a row a size, smallest first, with unsound sizes shown and said why. With
/// `for_the_shop`, pages follow that show every line of every price; they are not for the customer.
/// An empty list gives a sheet that says so. `surfaces` are pictures of the rows' whole boards from above, as
/// they come off the machine; a row without one goes without.
pub fn options_pdf(
    job: &Job,
    rows: &[SizeRow],
    surfaces: &[Option<Picture>],
    prices: &Prices,
    settings: &SheetSettings,
    for_the_shop: bool,
) -> Vec<u8> {
    let leaves = options_leaves(job, rows, surfaces, prices, settings, for_the_shop);
    let title = said::title(&job.design().name);
    bound(leaves, &title, said::NAME, settings.paper)
}

pub(super) fn options_leaves(
    job: &Job,
    rows: &[SizeRow],
    surfaces: &[Option<Picture>],
    prices: &Prices,
    settings: &SheetSettings,
    for_the_shop: bool,
) -> Vec<Leaf> {
    let mut leaves = Vec::new();
    let mut leaf = settings.paper.leaf(false);
    let area = body(&leaf);
    let column = (area.max.x - area.min.x) * DRAWN;
    let drawn = drawn(rows);
    let scale =
        common_scale(rows.iter().zip(&drawn).filter(|(_, drawn)| **drawn).map(|(row, _)| row), column);
    let all = AllRows { scale, prices, settings };
    let mut y = head(&mut leaf, settings, said::HEAD, &job.design().name);
    y = customer_text(&mut leaf, y, settings);
    let pictured = surfaces.iter().zip(&drawn).any(|(surface, drawn)| surface.is_some() && *drawn);
    y = preamble(&mut leaf, y, job, rows, pictured, prices, scale);
    if rows.is_empty() {
        leaf.words(dvec2(area.min.x, y + WORDS), said::NONE, WORDS, BLACK);
    }
    let alone = head(&mut settings.paper.leaf(false), settings, said::HEAD, &job.design().name);
    for (index, row) in rows.iter().enumerate() {
        let drawn = drawn[index];
        let surface = surfaces.get(index).and_then(Option::as_ref);
        let indent = if drawn { column + GAP } else { 0.0 };
        let tall = row_height(row, drawn, surface, &all, area.max.x - area.min.x - indent);
        // A row taller than a page is shown as far as the page reaches, and no page stays bare for it.
        if y + tall > area.max.y && y > alone + 1.0 {
            leaves.push(std::mem::replace(&mut leaf, settings.paper.leaf(false)));
            y = head(&mut leaf, settings, said::HEAD, &job.design().name);
        }
        if drawn {
            draw_boards(&mut leaf, dvec2(area.min.x, y), row, surface, &all);
        }
        write_row(&mut leaf, dvec2(area.min.x + indent, y), row, drawn, &all);
        y += tall + GAP;
        leaf.line(dvec2(area.min.x, y - GAP / 2.0), dvec2(area.max.x, y - GAP / 2.0), Pen::new(0.12, GRAY));
    }
    leaves.push(leaf);
    if for_the_shop {
        leaves.extend(price_leaves(job, rows, prices, settings));
    }
    leaves
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

/// Paper millimetres to one of wood: the same for all, so that the largest board fits.
fn common_scale<'a>(rows: impl Iterator<Item = &'a SizeRow>, column: f64) -> f64 {
    let sides = rows.map(|row| dvec2(row.job.board().length.get(), row.job.board().width.get()));
    let most = sides.fold(DVec2::ONE, DVec2::max);
    (column / most.x).min(HIGHEST / most.y)
}

/// What holds for all rows.
fn preamble(
    leaf: &mut Leaf,
    top: f64,
    job: &Job,
    rows: &[SizeRow],
    pictured: bool,
    prices: &Prices,
    scale: f64,
) -> f64 {
    let area = body(leaf);
    let mut notes = vec![said::drawn(&job.wood().name, 1.0 / scale)];
    if pictured {
        notes.push(said::PICTURES.to_owned());
    }
    notes.extend(about_prices(prices).filter(|_| !rows.is_empty() || !prices.are_examples()));
    let y = leaf.wrapped(dvec2(area.min.x, top), &notes.join(" "), 2.8, area.max.x - area.min.x, DARK);
    legend(leaf, dvec2(area.min.x, y + 1.0), area.max.x, job) + 3.0
}

/// How a line of a row is set.
#[derive(Clone, Copy)]
enum Set {
    Plain,
    Bold,
    Faint,
}

/// The lines of a row below its name.
fn row_words(row: &SizeRow, drawn: bool, prices: &Prices, settings: &SheetSettings) -> Vec<(String, Set)> {
    let unit = settings.unit;
    let mut lines = vec![
        (said::finished(row, unit), Set::Plain),
        (said::board(row, unit), Set::Plain),
        (said::thinnest_and_lost(row, unit), Set::Plain),
        (said::time(row), Set::Plain),
        (
            said::price(&row.price, &prices.money, unit),
            if row.price.total.is_some() { Set::Bold } else { Set::Plain },
        ),
        (words::verdict::sentence(&row.proof.verdict, unit), Set::Plain),
    ];
    let advice = words::verdict::advice(&row.proof.verdict, unit);
    if row.severity() > Severity::Sound && !advice.is_empty() {
        lines.push((advice, Set::Faint));
    }
    if !drawn {
        lines.push((words::sizes::NOT_DRAWN.to_owned(), Set::Faint));
    }
    lines
}

fn row_height(row: &SizeRow, drawn: bool, surface: Option<&Picture>, all: &AllRows, room: f64) -> f64 {
    let AllRows { scale, prices, settings, .. } = *all;
    let name = face::wrap(&words::sizes::heading(row), NAME, room - 6.0).len() as f64 * NAME * LEADING;
    let words = row_words(row, drawn, prices, settings);
    let lines: usize = words.iter().map(|(words, _)| face::wrap(words, WORDS, room).len()).sum();
    let words = name + lines as f64 * WORDS * LEADING;
    if !drawn {
        return words;
    }
    let board = row.job.board().width.get() * scale + 2.0;
    words.max(surface.map_or(board, |_| board + row.carved_part.size().y * scale + ABOVE_SURFACE))
}

/// The board, and below it how its carved part comes out.
fn draw_boards(leaf: &mut Leaf, at: DVec2, row: &SizeRow, surface: Option<&Picture>, all: &AllRows) {
    let scale = all.scale;
    let corner = dvec2(at.x, at.y + 1.0 + row.job.board().width.get() * scale);
    let paper_from_board = paper_from_board(corner, scale);
    draw_board(leaf, &row.job, &row.proof, paper_from_board);
    draw_design(leaf, &row.job, &row.proof, paper_from_board);
    if let Some(picture) = surface {
        let size = dvec2(row.job.board().length.get(), row.job.board().width.get()) * scale;
        // The carved part stands where it stands on the board above, and what is bare round it is left out.
        let seen = row.carved_part;
        let down = |y: f64| row.job.board().width.get() - y;
        let corner = dvec2(corner.x, corner.y + ABOVE_SURFACE - down(seen.max.y) * scale);
        let on_paper = |x: f64, y: f64| corner + dvec2(x, down(y)) * scale;
        let frame = Rect::new(on_paper(seen.min.x, seen.max.y), on_paper(seen.max.x, seen.min.y));
        let pixels = Pixels { size: [picture.width, picture.height], rgba: Arc::new(paled(picture).pixels) };
        let whole = Mark::Picture { pixels, area: Rect::new(corner, corner + size) };
        leaf.marks.push(Mark::Within { shape: Shape::rect(frame), marks: vec![whole] });
        leaf.outline(Shape::rect(frame), Pen::new(0.12, GRAY));
    }
}

fn write_row(leaf: &mut Leaf, at: DVec2, row: &SizeRow, drawn: bool, all: &AllRows) {
    let AllRows { prices, settings, .. } = *all;
    let left = at.x;
    let room = body(leaf).max.x - left;
    let mut y = at.y;
    verdict_sign(leaf, dvec2(left + 2.0, y + NAME * 0.62), row.severity());
    for line in face::wrap(&words::sizes::heading(row), NAME, room - 6.0) {
        y += NAME;
        leaf.bold(dvec2(left + 5.5, y), &line, NAME);
        y += NAME * (LEADING - 1.0);
    }
    for (words, set) in row_words(row, drawn, prices, settings) {
        for line in face::wrap(&words, WORDS, room) {
            y += WORDS;
            let at = dvec2(left, y);
            match set {
                Set::Plain => leaf.words(at, &line, WORDS, BLACK),
                Set::Bold => leaf.bold(at, &line, WORDS),
                Set::Faint => leaf.words(at, &line, WORDS, DARK),
            }
            y += WORDS * (LEADING - 1.0);
        }
    }
}

/// A ring for sound, a triangle for chancy, a crossed square for unsound: the words say it too.
fn verdict_sign(leaf: &mut Leaf, middle: DVec2, severity: Severity) {
    const REACH: f64 = 1.6;
    let pen = Pen::new(0.35, BLACK);
    match severity {
        Severity::Sound => leaf.outline(Shape::disc(middle, REACH), pen),
        Severity::Chancy => {
            let corner = |degrees: f64| middle + DVec2::from_angle(degrees.to_radians()) * REACH * 1.2;
            leaf.outline(Shape::ring([-90.0, 30.0, 150.0].map(corner).to_vec()), pen);
        }
        Severity::Unsound => super::tick_box(leaf, middle + dvec2(-REACH, REACH), 2.0 * REACH, true),
    }
}

/// Every line of every price.
fn price_leaves(job: &Job, rows: &[SizeRow], prices: &Prices, settings: &SheetSettings) -> Vec<Leaf> {
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
