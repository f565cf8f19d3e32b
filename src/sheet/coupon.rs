//! The coupon: a test piece with a ladder of walls, points and grooves, carved on scrap to find the
//! shop's own limit.
//!
//! No published minimum wall for carved wood was found, so the only honest limit is what survived on
//! this machine, with this cutter, in this wood. The coupon is sized to the cutter and the depth: its
//! ladders run from well under to well over what the cutter is trusted with now.

use crate::design::{Design, Element};
use crate::geometry::{FillRule, Grid, Rect, Region};
use crate::job::Job;
use crate::proof::Limits;
use crate::shop::{Cutter, ReferenceWall};
use crate::units::{Mm, trimmed};
use glam::{DVec2, dvec2};
use std::sync::Arc;

/// Rungs of a ladder of walls or grooves, thinnest first, as shares of what is expected.
const SHARES: [f64; 10] = [0.3, 0.4, 0.5, 0.6, 0.7, 0.85, 1.0, 1.2, 1.5, 2.0];

/// Points on the coupon, degrees.
const APEXES: [f64; 5] = [15.0, 20.0, 30.0, 45.0, 60.0];

/// Rungs are whole multiples of this, so that they read well and are still told apart.
const RUNG_STEP: f64 = 0.05;

/// A test piece.
#[derive(Clone, Debug)]
pub struct Coupon {
    /// What to carve: every element stands, the ground around it is lowered.
    pub design: Design,
    /// Every rung, for the numbers beside it.
    pub rungs: Vec<Rung>,
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
    /// Where its number goes, in design space.
    pub label_at: DVec2,
}

/// What a ladder tests.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ladder {
    /// Walls that run along the grain.
    WallsAlong,
    /// Walls that run across the grain.
    WallsAcross,
    /// Points that lie along the grain.
    TipsAlong,
    /// Points that lie across the grain.
    TipsAcross,
    /// Grooves, in a block that stands.
    Grooves,
}

impl Ladder {
    /// The name of its element in the design.
    pub fn element(self) -> &'static str {
        match self {
            Ladder::WallsAlong => "walls-along",
            Ladder::WallsAcross => "walls-across",
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
            format!("{}: {}\u{b0}", self.number, trimmed(self.apex.to_degrees(), 0))
        } else {
            format!("{}: {} mm", self.number, trimmed(self.width.get(), 2))
        }
    }
}

/// The coupon for a job's cutter, depth and wood.
pub fn coupon(job: &Job) -> Coupon {
    let limits = Limits::of(job);
    let gap = (2.0 * limits.groove.get()).max(2.0);
    let run = (5.0 * limits.across.get()).max(3.0 * job.depth.get()).max(12.0);
    let mut made = Maker { rungs: Vec::new(), ladders: Vec::new(), gap, run };
    let along = made.walls(Ladder::WallsAlong, DVec2::ZERO, limits.along.get());
    let points = made.tips(Ladder::TipsAlong, dvec2(along.max.x + gap, along.min.y), limits.along.get());
    let across = made.walls(Ladder::WallsAcross, dvec2(points.max.x + gap, along.min.y), limits.across.get());
    let top = along.max.y.max(points.max.y).max(across.max.y);
    let upright = made.tips(Ladder::TipsAcross, dvec2(along.min.x, top + gap), limits.across.get());
    made.grooves(dvec2(upright.max.x + gap, top + gap), limits.groove.get());
    made.finish()
}

/// A cutter whose limit is what survived on a coupon carved `depth` deep in this wood.
pub fn calibrated(cutter: &Cutter, along: Mm, across: Mm, depth: Mm, wood: &str) -> Cutter {
    Cutter {
        reference: ReferenceWall {
            along,
            across,
            height: depth,
            wood: wood.to_owned(),
            source: "the shop's own test piece".to_owned(),
        },
        ..cutter.clone()
    }
}

/// The job that carves a coupon: this job with the coupon for its design, as drawn.
pub fn coupon_job(job: &Job, coupon: &Coupon) -> Job {
    let mut job = job.with_design(Arc::new(coupon.design.clone()));
    job.treatments.fill(crate::job::Treatment::Relief);
    job.size = crate::job::Size::Factor(1.0);
    job
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
            self.rungs.push(Rung {
                ladder,
                number,
                width: Mm::new(thickness),
                apex: 0.0,
                label_at: at + size * 0.5,
            });
            match ladder {
                Ladder::WallsAcross => at.x += thickness + self.gap,
                _ => at.y += thickness + self.gap,
            }
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
            let (points, middle) = if ladder == Ladder::TipsAcross {
                let points = [at, at + dvec2(base, 0.0), at + dvec2(base * 0.5, height)];
                (points, at + dvec2(base * 0.5, height / 3.0))
            } else {
                let points = [at, at + dvec2(height, base * 0.5), at + dvec2(0.0, base)];
                (points, at + dvec2(height / 3.0, base * 0.5))
            };
            rings.push(points.to_vec());
            self.rungs.push(Rung { ladder, number, width: Mm::ZERO, apex, label_at: middle });
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
            self.rungs.push(Rung {
                ladder: Ladder::Grooves,
                number,
                width: Mm::new(width),
                apex: 0.0,
                label_at: at + dvec2(width, self.run) * 0.5,
            });
            at.x += width;
            rings.push(block(at, self.run));
            at.x += wall;
        }
        self.push(Ladder::Grooves, rings)
    }

    fn finish(self) -> Coupon {
        let points = self.ladders.iter().flat_map(|(_, rings)| rings.iter().flatten().copied());
        let grid = Grid::covering(Rect::around(points).expect("a coupon has ladders"));
        let element = |(ladder, rings): &(Ladder, Vec<Vec<DVec2>>)| Element {
            name: ladder.element().to_owned(),
            region: Region::clean(grid, rings, FillRule::NonZero),
        };
        let design = Design {
            name: "coupon".to_owned(),
            elements: self.ladders.iter().map(element).collect(),
            page: None,
            grid,
            notices: Vec::new(),
        };
        Coupon { design, rungs: self.rungs }
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
