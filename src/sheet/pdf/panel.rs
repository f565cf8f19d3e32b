//! The board and the design on it as lines and hatches, for paper.
//!
//! Each treatment has its own hatch, as in the picture: a lowered ground is dotted, a sunk floor has
//! slanting lines, a V groove is grey, a cut right through is crossed both ways, and what is left alone
//! has a dashed outline.

use super::face;
use super::leaf::{BLACK, DARK, GRAY, Leaf, Mark, PALE, Pen, Shape, Tone};
use crate::geometry::{Rect, Region};
use crate::job::{Ends, Job, Treatment};
use crate::proof::{Proof, ground};
use crate::shop::{BlemishShape, BoardEnd};
use crate::words::sheets::paper as words;
use glam::{DAffine2, DVec2, dvec2};

/// Points closer than this on paper are one: finer than any printer.
const LEAST: f64 = 0.03;

/// A hatch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Hatch {
    /// Rows of dots.
    Dots,
    /// Lines that slant.
    Slant,
    /// Lines both ways.
    Crossed,
    /// Grey all over.
    Gray,
    /// Nothing.
    Bare,
    /// Pale wide lines that slant the other way: board kept for the rollers.
    Allowance,
    /// Upright lines: a snipe zone.
    Snipe,
}

/// Board millimetres (y up) to paper (y down): `corner` is where the board's lower left corner lies on
/// paper, `scale` paper millimetres to one of the board.
pub(super) fn paper_from_board(corner: DVec2, scale: f64) -> DAffine2 {
    DAffine2::from_cols(dvec2(scale, 0.0), dvec2(0.0, -scale), corner)
}

/// The hatch of a treatment: a relief's is that of the ground around it.
pub(super) fn hatch_of(treatment: Treatment) -> Hatch {
    match treatment {
        Treatment::Relief => Hatch::Dots,
        Treatment::Sunk => Hatch::Slant,
        Treatment::Incised => Hatch::Gray,
        Treatment::Pierced => Hatch::Crossed,
        Treatment::Left => Hatch::Bare,
    }
}

/// What the hatches of a job mean, those alone that it has.
pub(super) fn meanings(job: &Job) -> Vec<(Hatch, &'static str)> {
    let mut meanings: Vec<(Hatch, &'static str)> = Treatment::ALL
        .into_iter()
        .filter(|treatment| job.has(*treatment))
        .map(|treatment| (hatch_of(treatment), words::hatch(treatment)))
        .collect();
    let ends = match job.ends() {
        Ends::Held => Hatch::Allowance,
        Ends::Free => Hatch::Snipe,
    };
    meanings.push((ends, words::ends(job.ends())));
    meanings
}

/// Draws the bare board: its outline with the reference edge firm, what its ends are kept for, and its
/// blemishes.
pub(super) fn draw_board(leaf: &mut Leaf, job: &Job, proof: &Proof, paper_from_board: DAffine2) {
    let (length, width) = (job.board().length.get(), job.board().width.get());
    let on_paper = |a: DVec2, b: DVec2| {
        Rect::new(paper_from_board.transform_point2(a), paper_from_board.transform_point2(b))
    };
    let band = |from: f64, to: f64| on_paper(dvec2(from, 0.0), dvec2(to, width));
    match job.ends() {
        Ends::Held => {
            for end in [BoardEnd::Left, BoardEnd::Right] {
                let allowance = job.machine().allowance(end).get().clamp(0.0, length / 2.0);
                let (from, to, edge) = match end {
                    BoardEnd::Left => (0.0, allowance, allowance),
                    BoardEnd::Right => (length - allowance, length, length - allowance),
                };
                fill_hatched(leaf, Shape::rect(band(from, to)), Hatch::Allowance);
                let [a, b] = [0.0, width].map(|y| paper_from_board.transform_point2(dvec2(edge, y)));
                leaf.line(a, b, Pen::new(0.2, DARK).dashed(2.0, 1.2));
            }
        }
        Ends::Free => {
            for [from, to] in &proof.feeding.snipe_zones {
                fill_hatched(leaf, Shape::rect(band(from.get(), to.get())), Hatch::Snipe);
            }
        }
    }
    for blemish in &job.board().blemishes {
        let bounds = blemish.bounds();
        let area = on_paper(bounds.min, bounds.max);
        let shape = match blemish.shape {
            BlemishShape::Circle { .. } => Shape::disc(area.center(), area.size().x / 2.0),
            BlemishShape::Rectangle { .. } => Shape::rect(area),
            BlemishShape::Line { from, to } => {
                let [from, to] =
                    [from, to].map(|[x, y]| paper_from_board.transform_point2(dvec2(x.get(), y.get())));
                Shape::line(from, to)
            }
        };
        if shape.closed {
            fill_hatched(leaf, shape.clone(), Hatch::Crossed);
        }
        leaf.outline(shape, Pen::new(0.4, BLACK));
    }
    let board = on_paper(DVec2::ZERO, dvec2(length, width));
    leaf.outline(Shape::rect(board), Pen::new(0.3, BLACK));
    // The reference edge is the lower one.
    leaf.line(dvec2(board.min.x, board.max.y), board.max, Pen::new(0.8, BLACK));
}

/// Draws the design carved on the board, cut off at the board's edges.
pub(super) fn draw_design(leaf: &mut Leaf, job: &Job, proof: &Proof, paper_from_board: DAffine2) {
    let paper_from_design = paper_from_board * proof.board_from_design;
    let elements: Vec<(Shape, Treatment)> = job
        .design()
        .elements
        .iter()
        .zip(job.treatments())
        .map(|(element, treatment)| (outline(&element.region, paper_from_design), treatment))
        .collect();
    let board = Rect::new(
        paper_from_board.transform_point2(DVec2::ZERO),
        paper_from_board.transform_point2(dvec2(job.board().length.get(), job.board().width.get())),
    );
    let mut drawn = Leaf::new(leaf.size);
    let ground: Vec<DVec2> = ground::ground(job, proof.factor)
        .into_iter()
        .map(|point| paper_from_board.transform_point2(point))
        .collect();
    // A small drawing is drawn with a finer pen, or its lines run together.
    let scale = paper_from_board.matrix2.x_axis.length();
    let pen = Pen::new((0.06 + 0.5 * scale).clamp(0.08, 0.18), BLACK);
    if ground.len() > 2 {
        let ground = Shape::ring(ground);
        // Everything on paper but what stands.
        let mut around = Shape::rect(Rect::new(DVec2::ZERO, leaf.size));
        for (shape, treatment) in &elements {
            if treatment.stands() {
                around.rings.extend(shape.rings.iter().cloned());
            }
        }
        let dots = hatched(ground.bounds().unwrap_or(board), Hatch::Dots);
        let marks = vec![Mark::Within { shape: ground.clone(), marks: dots }];
        drawn.marks.push(Mark::Within { shape: around, marks });
        drawn.outline(ground, Pen::new(0.1, GRAY));
    }
    for (shape, treatment) in elements {
        if !treatment.stands() {
            fill_hatched(&mut drawn, shape.clone(), hatch_of(treatment));
        }
        drawn.outline(shape, if treatment == Treatment::Left { pen.dashed(1.0, 0.8) } else { pen });
    }
    leaf.marks.push(Mark::Within { shape: Shape::rect(board), marks: drawn.marks });
}

/// A region on paper, as fine as paper shows.
pub(super) fn outline(region: &Region, paper_from_design: DAffine2) -> Shape {
    let ring = |points: &mut dyn Iterator<Item = DVec2>| {
        let mut kept: Vec<DVec2> = Vec::new();
        for point in points.map(|point| paper_from_design.transform_point2(point)) {
            if kept.last().is_none_or(|last| last.distance(point) >= LEAST) {
                kept.push(point);
            }
        }
        kept
    };
    let rings = region.rings().map(|each| ring(&mut each.points())).filter(|ring| ring.len() > 2).collect();
    Shape { rings, closed: true }
}

/// Hatches a shape.
pub(super) fn fill_hatched(leaf: &mut Leaf, shape: Shape, hatch: Hatch) {
    match hatch {
        Hatch::Bare => {}
        Hatch::Gray => leaf.fill(shape, 175),
        _ => {
            if let Some(area) = shape.bounds() {
                leaf.marks.push(Mark::Within { shape, marks: hatched(area, hatch) });
            }
        }
    }
}

/// The lines of a hatch over a box. They are fixed to the paper, so that neighbours match.
fn hatched(area: Rect, hatch: Hatch) -> Vec<Mark> {
    let upright = |pitch: f64| {
        let lines = lattice(area.min.x, area.max.x, pitch);
        Shape {
            rings: lines.map(|x| vec![dvec2(x, area.min.y), dvec2(x, area.max.y)]).collect(),
            closed: false,
        }
    };
    // Lines at 45 degrees, `pitch` apart along x; `way` 1 falls to the right, -1 rises.
    let slanting = |pitch: f64, way: f64| {
        let tall = area.max.y - area.min.y;
        // Where the line through a place meets the paper's own top edge.
        let at_top = |x: f64, y: f64| x - way * y;
        let (low, high) = if way > 0.0 {
            (at_top(area.min.x, area.max.y), at_top(area.max.x, area.min.y))
        } else {
            (at_top(area.min.x, area.min.y), at_top(area.max.x, area.max.y))
        };
        let lines = lattice(low, high, pitch).map(|start| {
            let x = start + way * area.min.y;
            vec![dvec2(x, area.min.y), dvec2(x + way * tall, area.max.y)]
        });
        Shape { rings: lines.collect(), closed: false }
    };
    let line = |shape: Shape, width: f64, tone: Tone| Mark::Line { shape, pen: Pen::new(width, tone) };
    match hatch {
        Hatch::Dots => {
            const PITCH: f64 = 1.5;
            let rows = lattice(area.min.y, area.max.y, PITCH).enumerate().map(|(row, y)| {
                let shift = if row % 2 == 0 { 0.0 } else { PITCH / 2.0 };
                let start = (area.min.x / PITCH).floor() * PITCH + shift;
                vec![dvec2(start, y), dvec2(area.max.x, y)]
            });
            let shape = Shape { rings: rows.collect(), closed: false };
            let pen = Pen { round: true, ..Pen::new(0.26, GRAY).dashed(0.0, PITCH) };
            vec![Mark::Line { shape, pen }]
        }
        Hatch::Slant => vec![line(slanting(1.1, -1.0), 0.12, DARK)],
        Hatch::Crossed => vec![line(slanting(1.3, -1.0), 0.12, DARK), line(slanting(1.3, 1.0), 0.12, DARK)],
        Hatch::Allowance => vec![line(slanting(3.0, 1.0), 0.12, PALE)],
        Hatch::Snipe => vec![line(upright(1.6), 0.12, GRAY)],
        Hatch::Gray | Hatch::Bare => Vec::new(),
    }
}

/// Whole numbers of `pitch` from `low` to `high`; no more than any paper holds.
fn lattice(low: f64, high: f64, pitch: f64) -> impl Iterator<Item = f64> {
    let first = (low / pitch).ceil();
    let count = ((high / pitch).floor() - first).clamp(-1.0, 4000.0) as i32;
    (0..=count).map(move |k| (first + f64::from(k)) * pitch)
}

/// The hatches' meanings in a line of swatches from `at` on, broken where they reach `right`; returns
/// the next free y.
pub(super) fn legend(leaf: &mut Leaf, at: DVec2, right: f64, job: &Job) -> f64 {
    const SWATCH: DVec2 = dvec2(7.0, 3.4);
    const HEIGHT: f64 = 2.8;
    let mut place = at;
    for (hatch, meaning) in meanings(job) {
        let long = SWATCH.x + 1.2 + face::width(meaning, HEIGHT) + 5.0;
        if place.x + long > right && place.x > at.x {
            place = dvec2(at.x, place.y + SWATCH.y + 1.4);
        }
        let swatch = Shape::rect(Rect::new(place, place + SWATCH));
        fill_hatched(leaf, swatch.clone(), hatch);
        let pen = Pen::new(0.15, DARK);
        leaf.outline(swatch, if hatch == Hatch::Bare { pen.dashed(0.8, 0.6) } else { pen });
        leaf.words(place + dvec2(SWATCH.x + 1.2, SWATCH.y - 0.7), meaning, HEIGHT, DARK);
        place.x += long;
    }
    if place.x + SWATCH.x + face::width(words::REFERENCE_EDGE, HEIGHT) > right {
        place = dvec2(at.x, place.y + SWATCH.y + 1.4);
    }
    let middle = place + dvec2(0.0, SWATCH.y / 2.0);
    leaf.line(middle, middle + dvec2(SWATCH.x, 0.0), Pen::new(0.8, BLACK));
    leaf.words(place + dvec2(SWATCH.x + 1.2, SWATCH.y - 0.7), words::REFERENCE_EDGE, HEIGHT, DARK);
    place.y + SWATCH.y
}
