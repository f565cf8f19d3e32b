//! A paper template at true size, over as many pages as it takes, and the coupon with its key.

use super::leaf::{BLACK, DARK, GRAY, LEADING, Leaf, Look, Mark, PALE, Pen, Shape};
use super::panel::outline;
use super::{Paper, SheetSettings, body, bound, face, tick_box};
use crate::geometry::Rect;
use crate::job::{Job, Treatment};
use crate::proof::Proof;
use crate::sheet::coupon::{Coupon, Ladder};
use crate::units::{Mm, trimmed};
use crate::words::sheets::{coupon as coupon_words, template as words};
use glam::{DAffine2, DVec2, dvec2};
use std::fmt;
use thiserror::Error;

/// The most pages a template is printed on: more is a slip of the keyboard.
pub const MOST_TILES: usize = 120;

/// How much of a page lies under its neighbour.
const OVERLAP: f64 = 10.0;
/// Paper above the drawing, for the page's place and words.
const ABOVE: f64 = 13.0;
/// Free paper round the outline on the template.
const AROUND: f64 = 8.0;

/// Why there is no template.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum TemplateError {
    /// It would take too many pages.
    TooManyPages {
        /// How many.
        pages: usize,
    },
}

impl fmt::Display for TemplateError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            TemplateError::TooManyPages { pages } => f.write_str(&words::too_many_pages(pages, MOST_TILES)),
        }
    }
}

/// The design at its finished size, as it lies on the board, as a PDF to cut out and tape to the wood:
/// pages overlap by 10 mm and have crosses that lie on each other.
///
/// # Errors
///
/// Where it would take more than [`MOST_TILES`] pages.
pub fn template_pdf(job: &Job, proof: &Proof, settings: &SheetSettings) -> Result<Vec<u8>, TemplateError> {
    let title = words::title(&job.design().name);
    Ok(bound(template_leaves(job, proof, settings)?, &title, words::NAME, settings.paper))
}

pub(super) fn template_leaves(
    job: &Job,
    proof: &Proof,
    settings: &SheetSettings,
) -> Result<Vec<Leaf>, TemplateError> {
    let design = job.design().outline_box();
    let on_board = Rect::new(
        proof.board_from_design.transform_point2(design.min),
        proof.board_from_design.transform_point2(design.max),
    );
    let area = on_board.grown(AROUND);
    let tiles = Tiles::of(area, settings.paper)?;
    let lengths = |point: DVec2| [Mm::new(point.x), Mm::new(point.y)];
    let (size, middle) = (lengths(on_board.size()), lengths(on_board.center()));
    let mut caption = words::caption(&job.design().name, size, middle, settings.unit);
    let board = [job.board().length, job.board().width];
    if size[0] > board[0] || size[1] > board[1] {
        caption = format!("{caption} {}", words::larger_than_board(board, settings.unit));
    }
    Ok(tiles.leaves(&caption, &|leaf, paper_from_board| {
        let middle = on_board.center();
        let reach = on_board.grown(AROUND * 0.6);
        for (a, b) in [
            (dvec2(reach.min.x, middle.y), dvec2(reach.max.x, middle.y)),
            (dvec2(middle.x, reach.min.y), dvec2(middle.x, reach.max.y)),
        ] {
            let [a, b] = [a, b].map(|point| paper_from_board.transform_point2(point));
            leaf.line(a, b, Pen::new(0.12, GRAY).dashed(6.0, 1.5));
        }
        for (element, treatment) in job.design().elements.iter().zip(job.treatments()) {
            let shape = outline(&element.region, paper_from_board * proof.board_from_design);
            let pen = Pen::new(0.22, BLACK);
            leaf.outline(shape, if treatment == Treatment::Left { pen.dashed(2.0, 1.2) } else { pen });
        }
    }))
}

/// The coupon at true size with a number at every rung, and a key page to note what survived.
///
/// # Errors
///
/// Where it would take more than [`MOST_TILES`] pages.
pub fn coupon_pdf(coupon: &Coupon, job: &Job, settings: &SheetSettings) -> Result<Vec<u8>, TemplateError> {
    let leaves = coupon_leaves(coupon, job, settings)?;
    Ok(bound(leaves, coupon_words::NAME, coupon_words::NAME, settings.paper))
}

pub(super) fn coupon_leaves(
    coupon: &Coupon,
    job: &Job,
    settings: &SheetSettings,
) -> Result<Vec<Leaf>, TemplateError> {
    let tiles = Tiles::of(coupon.design.outline_box().grown(5.0), settings.paper)?;
    let words = coupon_words::at_true_size(&coupon.caption);
    let height = coupon.label_height / 0.7;
    let mut leaves = tiles.leaves(&words, &|leaf, paper_from_design| {
        for element in &coupon.design.elements {
            let shape = outline(&element.region, paper_from_design);
            leaf.fill(shape.clone(), 225);
            leaf.outline(shape, Pen::new(0.15, DARK));
        }
        for rung in &coupon.rungs {
            let at = paper_from_design.transform_point2(rung.label_at);
            let (words, upright) = (rung.label(), rung.label_upright);
            // Beside a groove it stands on a block as long as the groove.
            let height = height.min(height * coupon.run / face::width(&words, height));
            leaf.marks.push(Mark::Words { at, words, height, look: Look::Plain, tone: BLACK, upright });
        }
    });
    leaves.push(key(coupon, job, settings));
    Ok(leaves)
}

/// The page to note what survived on.
fn key(coupon: &Coupon, job: &Job, settings: &SheetSettings) -> Leaf {
    const WORDS: f64 = 3.2;
    let mut leaf = settings.paper.leaf(false);
    let area = body(&leaf);
    let room = area.max.x - area.min.x;
    let mut y = super::head(&mut leaf, settings, coupon_words::KEY, &coupon.caption);
    for line in coupon_words::HOW {
        y = leaf.wrapped(dvec2(area.min.x, y), line, WORDS, room, BLACK) + 0.6;
    }
    y += 2.0;
    for (ladder, name) in [
        (Ladder::WallsAlong, coupon_words::WALLS_ALONG),
        (Ladder::WallsAcross, coupon_words::WALLS_ACROSS),
        (Ladder::TipsAlong, coupon_words::POINTS_ALONG),
        (Ladder::TipsAcross, coupon_words::POINTS_ACROSS),
        (Ladder::Grooves, coupon_words::GROOVES),
    ] {
        y += WORDS * 1.1;
        leaf.bold(dvec2(area.min.x, y), name, WORDS * 1.1);
        y += 2.0;
        let mut x = area.min.x;
        for rung in coupon.rungs.iter().filter(|rung| rung.ladder == ladder) {
            let words = rung.label();
            let long = 5.0 + face::width(&words, WORDS) + 4.0;
            if x + long > area.max.x {
                (x, y) = (area.min.x, y + WORDS * 1.9);
            }
            tick_box(&mut leaf, dvec2(x, y + WORDS), WORDS * 0.9, false);
            leaf.words(dvec2(x + 4.2, y + WORDS), &words, WORDS, BLACK);
            x += long;
        }
        y += WORDS * 2.6;
    }
    for line in [
        coupon_words::thinnest_along(settings.unit),
        coupon_words::thinnest_across(settings.unit),
        coupon_words::carved_on(job.depth(), settings.unit),
    ] {
        y += WORDS;
        leaf.words(dvec2(area.min.x, y), &line, WORDS, BLACK);
        y += WORDS * 1.3;
    }
    leaf
}

/// An area cut into pages that overlap.
struct Tiles {
    /// What is printed, millimetres with y up.
    area: Rect,
    paper: Paper,
    /// Whether the paper lies on its long side.
    lying: bool,
    /// The drawing's part of a page.
    window: DVec2,
    columns: usize,
    rows: usize,
}

impl Tiles {
    /// The fewest pages, upright where both ways take as many.
    fn of(area: Rect, paper: Paper) -> Result<Tiles, TemplateError> {
        let ways = [false, true].map(|lying| {
            let page = body(&paper.leaf(lying));
            let window = page.size() - dvec2(0.0, ABOVE);
            let count = |long: f64, room: f64| {
                let count = ((long - OVERLAP) / (room - OVERLAP) - 1e-9).ceil().max(1.0);
                if count > 1.0e4 { 10_000 } else { count as i32 }
            };
            let size = area.size();
            let (columns, rows) = (count(size.x, window.x), count(size.y, window.y));
            Tiles {
                area,
                paper,
                lying,
                window,
                columns: usize::try_from(columns).unwrap_or(1),
                rows: usize::try_from(rows).unwrap_or(1),
            }
        });
        let [upright, lying] = ways;
        let best = if lying.pages() < upright.pages() { lying } else { upright };
        let pages = best.pages();
        if pages > MOST_TILES { Err(TemplateError::TooManyPages { pages }) } else { Ok(best) }
    }

    fn pages(&self) -> usize {
        self.columns * self.rows
    }

    /// A page each, left to right and from the top down. `draw` draws everything, given the way from the
    /// area to paper; what is not on the page is cut off.
    fn leaves(&self, words: &str, draw: &dyn Fn(&mut Leaf, DAffine2)) -> Vec<Leaf> {
        let mut leaves = Vec::new();
        let step = self.window - OVERLAP;
        // What the pages show together, which is more than the area: it lies in the middle.
        let whole = dvec2(self.columns as f64, self.rows as f64) * step + OVERLAP;
        let start = dvec2(self.area.center().x - whole.x / 2.0, self.area.center().y + whole.y / 2.0);
        for row in 0..self.rows {
            for column in 0..self.columns {
                let mut leaf = self.paper.leaf(self.lying);
                let page = body(&leaf);
                let window = Rect::new(page.min + dvec2(0.0, ABOVE), page.max);
                let here = start + dvec2(column as f64 * step.x, -(row as f64) * step.y);
                let paper_from_area = DAffine2::from_cols(
                    dvec2(1.0, 0.0),
                    dvec2(0.0, -1.0),
                    window.min - dvec2(here.x, -here.y),
                );
                let mut drawn = Leaf::new(leaf.size);
                draw(&mut drawn, paper_from_area);
                leaf.marks.push(Mark::Within { shape: Shape::rect(window), marks: drawn.marks });
                self.caption(&mut leaf, words, row, column);
                if self.pages() > 1 {
                    self.joints(&mut leaf, window, row, column);
                } else {
                    leaf.outline(Shape::rect(window), Pen::new(0.12, PALE));
                }
                leaves.push(leaf);
            }
        }
        leaves
    }

    /// Crosses in the middle of every overlap, the line to cut or lay the next page to, and which page
    /// joins there.
    fn joints(&self, leaf: &mut Leaf, window: Rect, row: usize, column: usize) {
        let (left, right) = (window.min.x + OVERLAP / 2.0, window.max.x - OVERLAP / 2.0);
        let (top, bottom) = (window.min.y + OVERLAP / 2.0, window.max.y - OVERLAP / 2.0);
        let pen = Pen::new(0.2, BLACK);
        let neighbours = |at: DVec2| {
            (if at.x == left { column > 0 } else { column + 1 < self.columns })
                || (if at.y == top { row > 0 } else { row + 1 < self.rows })
        };
        let corners = [dvec2(left, top), dvec2(right, top), dvec2(left, bottom), dvec2(right, bottom)];
        for at in corners.into_iter().filter(|&at| neighbours(at)) {
            leaf.line(at - dvec2(4.0, 0.0), at + dvec2(4.0, 0.0), pen);
            leaf.line(at - dvec2(0.0, 4.0), at + dvec2(0.0, 4.0), pen);
            leaf.outline(Shape::disc(at, 2.0), Pen::new(0.15, BLACK));
        }
        let line = Pen::new(0.12, GRAY).dashed(1.5, 1.5);
        let middle = dvec2(f64::midpoint(left, right), f64::midpoint(top, bottom));
        if column > 0 {
            leaf.line(dvec2(left, top), dvec2(left, bottom), line);
            leaf.words_up(dvec2(left + 0.9, middle.y), &words::joins(&tile_name(row, column - 1)), 2.6, DARK);
        }
        if column + 1 < self.columns {
            leaf.line(dvec2(right, top), dvec2(right, bottom), line);
            leaf.words_up(
                dvec2(right + 0.9, middle.y),
                &words::joins(&tile_name(row, column + 1)),
                2.6,
                DARK,
            );
        }
        if row > 0 {
            leaf.line(dvec2(left, top), dvec2(right, top), line);
            leaf.words_on(dvec2(middle.x, top + 0.9), &words::joins(&tile_name(row - 1, column)), 2.6, DARK);
        }
        if row + 1 < self.rows {
            leaf.line(dvec2(left, bottom), dvec2(right, bottom), line);
            leaf.words_on(
                dvec2(middle.x, bottom + 0.9),
                &words::joins(&tile_name(row + 1, column)),
                2.6,
                DARK,
            );
        }
    }

    /// What the page is, and where it goes among the others.
    fn caption(&self, leaf: &mut Leaf, caption: &str, row: usize, column: usize) {
        const MAP: f64 = 10.0;
        let page = body(leaf);
        let mut right = page.max.x;
        if self.pages() > 1 {
            let cell = (MAP / self.rows as f64).min(30.0 / self.columns as f64);
            let corner = dvec2(right - cell * self.columns as f64, page.min.y);
            for each in 0..self.rows {
                for across in 0..self.columns {
                    let at = corner + dvec2(across as f64, each as f64) * cell;
                    let square = Shape::rect(Rect::new(at, at + cell));
                    if (each, across) == (row, column) {
                        leaf.fill(square.clone(), DARK);
                    }
                    leaf.outline(square, Pen::new(0.15, DARK));
                }
            }
            let name = tile_name(row, column);
            right = corner.x - 4.0 - face::width(&name, 7.0);
            leaf.bold(dvec2(right, page.min.y + 7.0), &name, 7.0);
        }
        let mut caption = caption.to_owned();
        if self.pages() > 1 {
            caption = format!("{caption} {}", words::JOIN);
        }
        let mut y = page.min.y;
        for line in face::wrap(&caption, 2.8, right - 4.0 - page.min.x).into_iter().take(3) {
            y += 2.8;
            leaf.words(dvec2(page.min.x, y), &line, 2.8, BLACK);
            y += 2.8 * (LEADING - 1.0);
        }
    }
}

/// `B3`: rows by letter from the top, columns by number from the left; past Z the row's number.
fn tile_name(row: usize, column: usize) -> String {
    let letter = u32::try_from(row).ok().filter(|&row| row < 26).and_then(|row| char::from_u32(65 + row));
    let row = letter.map_or_else(|| format!("{}.", trimmed(row as f64 + 1.0, 0)), String::from);
    format!("{row}{}", column + 1)
}
