//! The lesson's handout: the figures at one size, and the tour's questions with room to answer.

use super::face;
use super::leaf::{BLACK, DARK, LEADING, Leaf, Mark, Pen, Shape};
use super::panel::{Hatch, fill_hatched, outline};
use super::{SheetSettings, body, bound, head};
use crate::design::{self, Design, samples};
use crate::geometry::Rect;
use crate::job::Job;
use crate::proof::Proof;
use crate::proof::lesson::TOUR;
use crate::sheet::lesson::{Figure, Half, Ink, Lesson, Shape as Drawn};
use crate::words::lesson as lesson_words;
use crate::words::sheets::handout as words;
use crate::words::tour;
use glam::{DAffine2, DVec2, dvec2};

/// Height of the words.
const WORDS: f64 = 3.3;
/// Height of a heading.
const HEADING: f64 = 4.0;
/// Height of the words over a half and on it.
const CAPTION: f64 = 2.8;
/// Between the two halves of a figure.
const BETWEEN: f64 = 3.0;
/// Between two figures side by side.
const COLUMNS: f64 = 9.0;
/// From one line to write on to the next.
const LINE: f64 = 8.0;

/// The handout for a job at its present size as a PDF of two pages. Where that is the size as drawn, half
/// of it is shown beside it: two equal halves would teach nothing. `O(edges of the samples)`.
pub fn handout_pdf(job: &Job, proof: &Proof, settings: &SheetSettings) -> Vec<u8> {
    bound(handout_leaves(job, proof, settings).to_vec(), lesson_words::TITLE, words::NAME, settings.paper)
}

pub(super) fn handout_leaves(job: &Job, proof: &Proof, settings: &SheetSettings) -> [Leaf; 2] {
    let mut lesson = Lesson::of(job, proof);
    if (lesson.factor - 1.0).abs() < 0.02 {
        lesson.factor = 0.5;
    }
    let mut figures = Figure::all(&lesson, settings.unit).to_vec();
    figures.push(Figure::turned(&lesson, settings.unit));
    // The highest a figure may be, so that all of them are on the page under words of any length.
    let tries = [38.0, 34.0, 30.0, 26.0, 22.0, 18.0, 14.0, 10.0];
    let mut first = None;
    for tallest in tries {
        let (leaf, bottom) = figures_leaf(job, &figures, settings, tallest);
        let fits = bottom <= body(&leaf).max.y;
        first = Some(leaf);
        if fits {
            break;
        }
    }
    [first.unwrap_or_else(|| settings.paper.leaf(false)), questions_leaf(settings)]
}

fn figures_leaf(job: &Job, figures: &[Figure], settings: &SheetSettings, tallest: f64) -> (Leaf, f64) {
    let mut leaf = settings.paper.leaf(false);
    let area = body(&leaf);
    let room = area.size().x;
    let mut y = head(&mut leaf, settings, lesson_words::TITLE, &job.design().name);
    let rule = format!("{} {}", words::WHY, lesson_words::RULE);
    y = leaf.wrapped(dvec2(area.min.x, y), &rule, WORDS, room, BLACK) + 1.0;
    y = leaf.wrapped(dvec2(area.min.x, y), words::KEY, WORDS, room, DARK);
    // Two figures side by side: each half is then as wide as four of them leave it.
    let column = (room - COLUMNS) / 2.0;
    for row in figures.chunks(2) {
        let ends = row.iter().zip([0.0, column + COLUMNS]).map(|(figure, left)| {
            let place = Rect::new(dvec2(area.min.x + left, y), dvec2(area.min.x + left + column, area.max.y));
            figure_within(&mut leaf, figure, place, tallest)
        });
        y = ends.fold(y, f64::max);
    }
    (leaf, y)
}

/// Draws a figure from the top of a place on, as wide as that; returns where it ends.
fn figure_within(leaf: &mut Leaf, figure: &Figure, place: Rect, tallest: f64) -> f64 {
    let (left, room) = (place.min.x, place.size().x);
    let mut y = place.min.y + 3.5 + HEADING;
    for (line, title) in face::wrap(figure.title, HEADING, room).iter().enumerate() {
        y += if line == 0 { 0.0 } else { HEADING };
        leaf.bold(dvec2(left, y), title, HEADING);
    }
    y += 2.0 + CAPTION;
    let size = figure.frame.size();
    let wide = (room - BETWEEN) / 2.0;
    let scale = (wide / size.x).min(tallest / size.y);
    for (half, from) in figure.halves.iter().zip([0.0, wide + BETWEEN]) {
        let corner = dvec2(left + from + 0.5 * (wide - scale * size.x), y);
        leaf.words(corner - dvec2(0.0, 0.8), &half.caption, CAPTION, DARK);
        draw_half(leaf, figure.frame, scale, corner, half);
    }
    y += scale * size.y + 1.2;
    leaf.wrapped(dvec2(left, y), &figure.words, WORDS, room, BLACK)
}

fn draw_half(leaf: &mut Leaf, frame: Rect, scale: f64, corner: DVec2, half: &Half) {
    let place = |at: DVec2| corner + scale * dvec2(at.x - frame.min.x, frame.max.y - at.y);
    let whole = Shape::rect(Rect::new(corner, corner + scale * frame.size()));
    let mut seen = Leaf::new(leaf.size);
    for Drawn { ink, points } in &half.shapes {
        let closed = !matches!(ink, Ink::Limit | Ink::Grain);
        let shape = Shape { rings: vec![points.iter().map(|point| place(*point)).collect()], closed };
        match ink {
            Ink::Wood => {
                seen.fill(shape.clone(), 214);
                seen.outline(shape, Pen::new(0.2, DARK));
            }
            Ink::Floor => seen.fill(shape, 255),
            Ink::Cutter => {
                seen.fill(shape.clone(), 255);
                seen.outline(shape, Pen::new(0.35, BLACK));
            }
            Ink::Limit => {
                // On a white ground, so that it is seen on wood.
                seen.outline(shape.clone(), Pen::new(1.2, 255));
                seen.outline(shape, Pen::new(0.5, BLACK).dashed(1.6, 1.0));
            }
            Ink::Push => seen.fill(shape, 0),
            Ink::Grain => seen.outline(shape, Pen::new(0.15, DARK)),
            Ink::Lost => {
                seen.fill(shape.clone(), 255);
                fill_hatched(&mut seen, shape.clone(), Hatch::Crossed);
                seen.outline(shape, Pen::new(0.25, BLACK));
            }
        }
    }
    leaf.marks.push(Mark::Within { shape: whole.clone(), marks: seen.marks });
    leaf.outline(whole, Pen::new(0.2, DARK));
    for label in &half.labels {
        leaf.words_on(place(label.at) + dvec2(0.0, 0.35 * CAPTION), &label.words, CAPTION, BLACK);
    }
}

fn questions_leaf(settings: &SheetSettings) -> Leaf {
    /// Room for a sample's outline.
    const PICTURE: DVec2 = dvec2(44.0, 25.0);
    let mut leaf = settings.paper.leaf(false);
    let area = body(&leaf);
    let mut y = head(&mut leaf, settings, lesson_words::TITLE, &words::questions(TOUR.len()));
    y = leaf.wrapped(dvec2(area.min.x, y), words::HOW, WORDS, area.size().x, BLACK) + 3.0;
    let each = (area.max.y - y) / TOUR.len() as f64;
    let left = area.min.x + PICTURE.x + 5.0;
    let room = area.max.x - left;
    for (number, step) in TOUR.iter().enumerate() {
        let top = y + each * number as f64;
        let sample = samples::find(step.sample);
        let title = sample.map_or(step.sample, |sample| sample.title);
        let heading = words::heading(number + 1, title);
        let mut y = top;
        for line in face::wrap(&heading, HEADING, room) {
            y += HEADING;
            leaf.bold(dvec2(left, y), &line, HEADING);
        }
        y = leaf.wrapped(dvec2(left, y + 1.6), tour::say(step.question), WORDS, room, BLACK) + 0.6;
        for line in face::wrap(tour::ask(step.question), WORDS, room) {
            y += WORDS;
            leaf.bold(dvec2(left, y), &line, WORDS);
            y += WORDS * (LEADING - 1.0);
        }
        // As many lines to write on as there is room for, and one in any case.
        loop {
            y += LINE;
            leaf.line(dvec2(left, y), dvec2(area.max.x, y), Pen::new(0.2, DARK));
            if y + LINE > top + each - 2.0 {
                break;
            }
        }
        let drawing = sample.and_then(|sample| design::read(sample.title, sample.svg.as_bytes()).ok());
        if let Some(design) = drawing {
            let corner = dvec2(area.min.x, top + 1.0);
            silhouette(&mut leaf, &design, Rect::new(corner, corner + PICTURE));
        }
    }
    leaf
}

/// A design as a pale filled outline, as large as the box allows.
fn silhouette(leaf: &mut Leaf, design: &Design, inside: Rect) {
    let drawn = design.outline_box();
    let scale = (inside.size() / drawn.size()).min_element();
    let corner = dvec2(inside.min.x - scale * drawn.min.x, inside.min.y + scale * drawn.max.y);
    let paper_from_design = DAffine2::from_cols(dvec2(scale, 0.0), dvec2(0.0, -scale), corner);
    for element in &design.elements {
        let shape = outline(&element.region, paper_from_design);
        leaf.fill(shape.clone(), 214);
        leaf.outline(shape, Pen::new(0.12, DARK));
    }
}
