//! The coupon: a test piece with a ladder of walls, points and grooves, carved on scrap to find the
//! shop's own limit.
//!
//! No published minimum wall for carved wood was found, so the only honest limit is what survived on
//! this machine, with this cutter, in this wood. The coupon is sized to the cutter and the depth: its
//! ladders run from well under to well over what the cutter is trusted with now.

use super::lettering::Lettering;
use super::outline::{Short, write_elements, write_head};
use crate::design::{Design, Element};
use crate::geometry::{FillRule, Grid, Rect, Region};
use crate::job::{Edit, Job, Size, Treatment};
use crate::proof::wall::Heading;
use crate::proof::{Limits, WallEnds, WallRun};
use crate::units::Mm;
use crate::words::sheets::coupon as words;
use glam::{DVec2, dvec2};
use std::f64::consts::FRAC_PI_2;
use std::fmt::{self, Write as _};
use std::sync::Arc;

/// Rungs of a ladder of walls or grooves, thinnest first, as shares of what is expected.
const SHARES: [f64; 10] = [0.3, 0.4, 0.5, 0.6, 0.7, 0.85, 1.0, 1.2, 1.5, 2.0];

/// Points on the coupon, degrees.
const APEXES: [f64; 5] = [15.0, 20.0, 30.0, 45.0, 60.0];

/// Rungs are whole multiples of this, so that they read well and are still told apart.
const RUNG_STEP: f64 = 0.05;

/// Room between a rung and its number, millimetres.
const LABEL_GAP: f64 = 0.6;

/// Posts are this many times as thick as the thickest wall between them: over twice, so that they clamp it.
const POST: f64 = 3.0;

/// A number fits in the gap beside its rung, and is no taller than reads well.
fn label_height(gap: f64) -> f64 {
    (gap - 2.0 * LABEL_GAP).clamp(1.0, 2.5)
}

/// A test piece.
#[derive(Clone, Debug)]
pub struct Coupon {
    /// What to carve: every element stands, the ground around it is lowered.
    pub design: Design,
    /// What it is for: the cutter, the depth and the wood.
    pub caption: String,
    /// Every rung, for the numbers beside it.
    pub rungs: Vec<Rung>,
    /// How tall a capital of those numbers is, millimetres.
    pub label_height: f64,
    /// How long its walls and grooves are, millimetres.
    pub run: f64,
}

/// One rung of a ladder.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rung {
    /// The ladder it stands on.
    pub ladder: Ladder,
    /// Its number on the ladder, from 1, thinnest first.
    pub number: usize,
    /// Thickness of a wall, width of a groove; for a point, nothing.
    pub width: Mm,
    /// Interior angle of a point, radians; for a wall or groove, 0.
    pub apex: f64,
    /// Where its number starts, in design space: the foot of its first letter.
    pub label_at: DVec2,
    /// Whether its number reads upwards.
    pub label_upright: bool,
}

/// What a ladder tests.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ladder {
    /// Walls that run along the grain.
    WallsAlong,
    /// Walls that run across the grain.
    WallsAcross,
    /// Walls that run along the grain, tied to a post at either end.
    TiedAlong,
    /// Walls that run across the grain, tied to a post at either end.
    TiedAcross,
    /// Points that lie along the grain.
    TipsAlong,
    /// Points that lie across the grain.
    TipsAcross,
    /// Grooves, in a block that stands.
    Grooves,
}

impl Ladder {
    /// Every ladder, in the order they are named.
    pub const ALL: [Ladder; 7] = [
        Ladder::WallsAlong,
        Ladder::WallsAcross,
        Ladder::TiedAlong,
        Ladder::TiedAcross,
        Ladder::TipsAlong,
        Ladder::TipsAcross,
        Ladder::Grooves,
    ];

    /// Those of walls.
    pub const WALLS: [Ladder; 4] =
        [Ladder::WallsAlong, Ladder::WallsAcross, Ladder::TiedAlong, Ladder::TiedAcross];

    /// The name of its element in the design.
    pub fn element(self) -> &'static str {
        match self {
            Ladder::WallsAlong => "walls-along",
            Ladder::WallsAcross => "walls-across",
            Ladder::TiedAlong => "tied-along",
            Ladder::TiedAcross => "tied-across",
            Ladder::TipsAlong => "tips-along",
            Ladder::TipsAcross => "tips-across",
            Ladder::Grooves => "grooves",
        }
    }
}

impl Rung {
    /// What is written beside it: `3: 0.75 mm`, or `2: 20°`.
    pub fn label(&self) -> String {
        if self.apex > 0.0 {
            words::point_rung(self.number, self.apex)
        } else {
            words::rung(self.number, self.width)
        }
    }
}

impl Coupon {
    /// How the walls of a ladder run: how long they are and what holds them, and at which angle to the grain,
    /// radians. `None` for what is no ladder of walls.
    pub fn run_of(&self, ladder: Ladder) -> Option<(WallRun, f64)> {
        run_of(ladder, self.run)
    }
}

/// The same of rungs so long, millimetres. A coupon lies with its length along the grain, whichever way the job is
/// turned.
fn run_of(ladder: Ladder, length: f64) -> Option<(WallRun, f64)> {
    let length = Mm::new(length);
    let free = WallRun { length, ends: WallEnds::BothFree, to_free_end: Mm::ZERO };
    let tied = WallRun { length, ends: WallEnds::BothJoined, to_free_end: Mm::new(f64::INFINITY) };
    match ladder {
        Ladder::WallsAlong => Some((free, 0.0)),
        Ladder::WallsAcross => Some((free, FRAC_PI_2)),
        Ladder::TiedAlong => Some((tied, 0.0)),
        Ladder::TiedAcross => Some((tied, FRAC_PI_2)),
        Ladder::TipsAlong | Ladder::TipsAcross | Ladder::Grooves => None,
    }
}

/// The coupon for a job's cutter, depth and wood.
pub fn coupon(job: &Job) -> Coupon {
    let limits = Limits::of(job);
    // Its walls and points end in the air.
    let [along_limit, across_limit] = limits.free_end.map(Mm::get);
    let gap = (2.0 * limits.groove.get()).max(4.0);
    let run = (5.0 * across_limit).max(3.0 * job.depth().get()).max(18.0);
    let mut made = Maker { rungs: Vec::new(), ladders: Vec::new(), gap, run };
    // Two columns of rungs that lie along the board; to their right three rows of rungs that lie across.
    let along = made.walls(Ladder::WallsAlong, DVec2::ZERO, along_limit);
    let points = made.tips(Ladder::TipsAlong, dvec2(along.max.x + gap, 0.0), along_limit);
    let right = points.max.x + 2.0 * gap;
    let across = made.walls(Ladder::WallsAcross, dvec2(right, 0.0), across_limit);
    let grooves = made.grooves(dvec2(right, across.max.y + gap), limits.groove.get());
    let tips = made.tips(Ladder::TipsAcross, dvec2(right, grooves.max.y + gap), across_limit);
    // Tied walls above both, side by side: what ties do for them is the model's to say, and the coupon's to check.
    let above = along.max.y.max(points.max.y).max(tips.max.y) + gap;
    let [tied_along, tied_across] = [Ladder::TiedAlong, Ladder::TiedAcross].map(|ladder| {
        let (run, angle) = run_of(ladder, run).expect("tied walls are walls");
        limits.wall_as(&Heading::of(angle), job.depth(), &run).thickness.get()
    });
    let beside = made.tied(Ladder::TiedAlong, dvec2(0.0, above), tied_along);
    made.tied(Ladder::TiedAcross, dvec2(beside.max.x + 2.0 * gap, above), tied_across);
    made.finish(words::caption(&job.cutter().name, job.depth(), &job.wood().name))
}

/// The job that carves a coupon: this job with the coupon for its design, as drawn.
pub fn coupon_job(job: &Job, coupon: &Coupon) -> Job {
    let carved = [Edit::TreatAll(Treatment::Relief), Edit::Size(Size::Factor(1.0))];
    job.with_design(Arc::new(coupon.design.clone())).with(carved).expect("every job takes these")
}

/// The key to a coupon as a true-size SVG to print and lay beside it: the outline in grey and a number
/// at every rung. The numbers are outlines, so that they print the same everywhere.
pub fn key_svg(coupon: &Coupon) -> String {
    let mut svg = String::new();
    write_key(&mut svg, coupon).expect("writing to a string does not fail");
    svg
}

fn write_key(svg: &mut String, coupon: &Coupon) -> fmt::Result {
    const MARGIN: f64 = 10.0;
    let page = coupon.design.outline_box().grown(MARGIN);
    write_head(svg, page.size(), words::KEY, "")?;
    write_elements(svg, &coupon.design, page, 1.0, r##"fill="#bbb" "##)?;
    let words = Words::new(coupon.label_height);
    words.write(svg, &coupon.caption, dvec2(MARGIN, MARGIN * 0.45), false)?;
    for rung in &coupon.rungs {
        let foot = dvec2(rung.label_at.x - page.min.x, page.max.y - rung.label_at.y);
        words.write(svg, &rung.label(), foot, rung.label_upright)?;
    }
    writeln!(svg, "</svg>")
}

/// Words as outlines in an SVG.
struct Words {
    lettering: Lettering<'static>,
    scale: f64,
}

impl Words {
    /// With capitals so many millimetres tall.
    fn new(cap_height: f64) -> Words {
        let lettering = Lettering::new(1.0);
        Words { scale: cap_height / f64::from(lettering.cap_height()), lettering }
    }

    /// Writes a line of words that starts at `foot`, on the page with y down.
    fn write(&self, svg: &mut String, words: &str, foot: DVec2, upright: bool) -> fmt::Result {
        use tiny_skia::PathSegment::{Close, CubicTo, LineTo, MoveTo, QuadTo};
        let Some(outline) = self.lettering.path(words) else { return Ok(()) };
        let place = |point: tiny_skia::Point| {
            let at = dvec2(f64::from(point.x), f64::from(point.y)) * self.scale;
            foot + if upright { dvec2(at.y, -at.x) } else { at }
        };
        write!(svg, r#"<path d=""#)?;
        for segment in outline.segments() {
            let (letter, points) = match segment {
                MoveTo(a) => ("M", vec![a]),
                LineTo(a) => ("L", vec![a]),
                QuadTo(a, b) => ("Q", vec![a, b]),
                CubicTo(a, b, c) => ("C", vec![a, b, c]),
                Close => ("Z", vec![]),
            };
            svg.push_str(letter);
            for point in points.into_iter().map(place) {
                write!(svg, "{} {} ", Short(point.x), Short(point.y))?;
            }
        }
        writeln!(svg, r#""/>"#)
    }
}

struct Maker {
    rungs: Vec<Rung>,
    ladders: Vec<(Ladder, Vec<Vec<DVec2>>)>,
    /// Room between rungs: wide enough for any cutter to pass.
    gap: f64,
    /// Length of a wall or groove.
    run: f64,
}

impl Maker {
    fn push(&mut self, ladder: Ladder, rings: Vec<Vec<DVec2>>) -> Rect {
        let bounds = Rect::around(rings.iter().flatten().copied()).expect("a ladder has rungs");
        self.ladders.push((ladder, rings));
        bounds
    }

    /// A ladder of free-standing walls with its lower left corner at `corner`; thinnest nearest to it.
    fn walls(&mut self, ladder: Ladder, corner: DVec2, expected: f64) -> Rect {
        let mut at = corner;
        let mut rings = Vec::new();
        for (number, thickness) in (1..).zip(widths(expected)) {
            let size = match ladder {
                Ladder::WallsAcross => dvec2(thickness, self.run),
                _ => dvec2(self.run, thickness),
            };
            rings.push(Rect::new(at, at + size).corners().to_vec());
            self.label(ladder, number, Mm::new(thickness), 0.0, Rect::new(at, at + size));
            match ladder {
                Ladder::WallsAcross => at.x += thickness + self.gap,
                _ => at.y += thickness + self.gap,
            }
        }
        self.push(ladder, rings)
    }

    /// A ladder of walls between two posts that are far thicker than they, with its lower left corner at `corner`.
    fn tied(&mut self, ladder: Ladder, corner: DVec2, expected: f64) -> Rect {
        let widths = widths(expected);
        let thickest = widths.iter().copied().fold(0.0, f64::max);
        let post = (POST * thickest).max(self.gap);
        // Along the ladder, and along its rungs.
        let turned = |along: f64, across: f64| match ladder {
            Ladder::TiedAcross => dvec2(along, across),
            _ => dvec2(across, along),
        };
        let length: f64 = widths.iter().map(|width| width + self.gap).sum::<f64>() + self.gap;
        let block = |from: DVec2, to: DVec2| Rect::new(corner + from, corner + to).corners().to_vec();
        let mut rings = vec![
            block(DVec2::ZERO, turned(length, post)),
            block(turned(0.0, post + self.run), turned(length, 2.0 * post + self.run)),
        ];
        let mut at = self.gap;
        for (number, thickness) in (1..).zip(widths) {
            let rung = [turned(at, post), turned(at + thickness, post + self.run)];
            rings.push(block(rung[0], rung[1]));
            self.label(
                ladder,
                number,
                Mm::new(thickness),
                0.0,
                Rect::new(corner + rung[0], corner + rung[1]),
            );
            at += thickness + self.gap;
        }
        self.push(ladder, rings)
    }

    /// A ladder of points; each stands on a base as wide as its angle makes it, and is tall enough that
    /// a wall of the expected limit lies within it.
    fn tips(&mut self, ladder: Ladder, corner: DVec2, expected: f64) -> Rect {
        let mut at = corner;
        let mut rings = Vec::new();
        for (number, degrees) in (1..).zip(APEXES) {
            let apex = f64::to_radians(degrees);
            let reaches_limit = expected * 0.5 * (1.0 / (apex / 2.0).sin() + 1.0);
            let height = (1.3 * reaches_limit).max(self.run * 0.6);
            let base = 2.0 * height * (apex / 2.0).tan();
            let points = if ladder == Ladder::TipsAcross {
                [at, at + dvec2(base, 0.0), at + dvec2(base * 0.5, height)]
            } else {
                [at, at + dvec2(height, base * 0.5), at + dvec2(0.0, base)]
            };
            rings.push(points.to_vec());
            let bounds = Rect::around(points).expect("a point has corners");
            self.label(ladder, number, Mm::ZERO, apex, bounds);
            if ladder == Ladder::TipsAcross {
                at.x += base + self.gap;
            } else {
                at.y += base + self.gap;
            }
        }
        self.push(ladder, rings)
    }

    /// A standing block with open-ended grooves of rising width.
    fn grooves(&mut self, corner: DVec2, expected: f64) -> Rect {
        let wall = self.gap.max(4.0);
        let mut at = corner;
        let mut rings = Vec::new();
        let block = |at: DVec2, run: f64| Rect::new(at, at + dvec2(wall, run)).corners().to_vec();
        rings.push(block(at, self.run));
        at.x += wall;
        for (number, width) in (1..).zip(widths(expected)) {
            let groove = Rect::new(at, at + dvec2(width, self.run));
            self.label(Ladder::Grooves, number, Mm::new(width), 0.0, groove);
            at.x += width;
            rings.push(block(at, self.run));
            at.x += wall;
        }
        self.push(Ladder::Grooves, rings)
    }

    /// Numbers a rung in the gap beside it: over it where rungs lie along the board, to its right where
    /// they lie across.
    fn label(&mut self, ladder: Ladder, number: usize, width: Mm, apex: f64, rung: Rect) {
        let label_upright =
            matches!(ladder, Ladder::WallsAcross | Ladder::TiedAcross | Ladder::TipsAcross | Ladder::Grooves);
        let label_at = if label_upright {
            dvec2(rung.max.x + LABEL_GAP + label_height(self.gap), rung.min.y)
        } else {
            dvec2(rung.min.x, rung.max.y + LABEL_GAP)
        };
        self.rungs.push(Rung { ladder, number, width, apex, label_at, label_upright });
    }

    fn finish(self, caption: String) -> Coupon {
        let points = self.ladders.iter().flat_map(|(_, rings)| rings.iter().flatten().copied());
        let grid = Grid::covering(Rect::around(points).expect("a coupon has ladders"));
        let element = |(ladder, rings): &(Ladder, Vec<Vec<DVec2>>)| {
            Element::new(ladder.element(), Region::clean(grid, rings, FillRule::NonZero))
        };
        let design = Design {
            name: "coupon".to_owned(),
            elements: self.ladders.iter().map(element).collect(),
            page: None,
            grid,
            notices: crate::notice::Notices::new(),
            sharpness: None,
        };
        Coupon { design, caption, rungs: self.rungs, label_height: label_height(self.gap), run: self.run }
    }
}

/// The widths of a ladder's rungs, thinnest first, each a whole number of steps and none twice.
fn widths(expected: f64) -> Vec<f64> {
    let step = if expected > 0.5 { RUNG_STEP } else { RUNG_STEP / 5.0 };
    let mut widths: Vec<f64> =
        SHARES.iter().map(|share| (share * expected / step).round().max(1.0) * step).collect();
    widths.dedup();
    widths
}
