//! The lesson 'Why it thins': the same wall and the same cutter side by side, as drawn and at the chosen
//! size.
//!
//! A figure has two halves in one scale. In most what belongs to the design is drawn larger or smaller with the
//! size; the cutter, the depth and the limits are the same in both halves. The scale depends on what does
//! not change with the size, so that on screen the limit stands still while the wall moves. The last two show
//! what does move the limit: an end in the air, and the depth of a pass.

mod figures;
mod standing;

pub use figures::{Figure, Half, Ink, Label, Shape};
pub use standing::{StandingWall, standing};

use crate::job::Job;
use crate::proof::wall::{Heading, Wall};
use crate::proof::{Proof, WallRun};
use crate::shop::CutterShape;
use crate::units::{LengthUnit, Mm};
use crate::words::lesson as words;
use std::f64::consts::FRAC_PI_2;

/// Interior angle of the lesson's tip, radians: a slender leaf.
const TIP_ANGLE: f64 = std::f64::consts::PI / 6.0;
/// Included angle of the lesson's V where the job's own cutter is none, radians.
const V_ANGLE: f64 = std::f64::consts::FRAC_PI_2;
/// A wall that is tied at both ends, so many times as long as it is tall.
const TIED_LENGTH: f64 = 2.0;
/// The wall of a design that has none, so many times its limit.
const WALL_WITHOUT_ONE: f64 = 1.6;
/// The groove of a design that has none, so many times what the cutter needs.
const GROOVE_WITHOUT_ONE: f64 = 1.5;

/// The numbers of the lesson, for one job at one size.
#[derive(Clone, Debug, PartialEq)]
pub struct Lesson {
    /// The chosen size, times as large as drawn.
    pub factor: f64,
    /// The design's thinnest wall as drawn, or one of our own where it has none.
    pub wall: Mm,
    /// The thinnest wall to be trusted along the grain, and across.
    pub limits: [Mm; 2],
    /// The thinnest that the end of a point across the grain is trusted with: it is a free end.
    pub tip_limit: Mm,
    /// The thinnest that a wall across the grain is trusted with that is twice as long as tall, and tied at both
    /// ends.
    pub tied_limit: Mm,
    /// The depth of a pass and the thinnest wall to be trusted across the grain: as it is, and half as deep.
    pub passes: [(Mm, Mm); 2],
    /// The design's narrowest groove as drawn, or one of our own.
    pub groove: Mm,
    /// The narrowest groove the cutter enters to the full depth.
    pub groove_limit: Mm,
    /// The cutter.
    pub cutter: CutterShape,
    /// How deep it goes, and how tall the walls stand.
    pub depth: Mm,
    /// Included angle of the V, radians, and the width of the flat at its point.
    pub v: (f64, Mm),
    /// Whether wall and groove are the design's own.
    pub own: [bool; 2],
}

impl Lesson {
    /// The lesson of a job at its present size.
    pub fn of(job: &Job, proof: &Proof) -> Lesson {
        let usual = proof.limits.usual();
        let limits = [usual.along, usual.across];
        let drawn =
            |width: Option<Mm>| width.filter(|width| *width > Mm::ZERO).map(|width| width / proof.factor);
        let (wall, groove) = (drawn(proof.thinnest.wall), drawn(proof.thinnest.groove));
        let v = match job.cutter().shape {
            CutterShape::Vee { angle, tip, .. } => (angle, tip),
            CutterShape::Flat { .. } | CutterShape::Ball { .. } | CutterShape::TaperedBall { .. } => {
                (V_ANGLE, Mm::ZERO)
            }
        };
        let tied = WallRun { length: job.depth() * TIED_LENGTH, ..WallRun::ENDLESS };
        Lesson {
            factor: proof.factor,
            wall: wall.unwrap_or(limits[1] * WALL_WITHOUT_ONE),
            limits,
            tip_limit: usual.free_end[1],
            tied_limit: usual.wall_as(&Heading::of(FRAC_PI_2), job.depth(), &tied).thickness,
            passes: [1.0, 0.5].map(|share| {
                let mut rule = usual.rule.clone();
                rule.cut.pass = rule.cut.edge(job.depth()) * share;
                (rule.cut.pass, rule.limit(&Wall::endless(job.depth(), Heading::of(FRAC_PI_2))).thickness)
            }),
            groove: groove.unwrap_or(usual.groove * GROOVE_WITHOUT_ONE),
            groove_limit: usual.groove,
            cutter: job.cutter().shape,
            depth: job.depth(),
            v,
            own: [wall.is_some(), groove.is_some()],
        }
    }

    /// The wall at the chosen size.
    pub fn wall_now(&self) -> Mm {
        self.wall * self.factor
    }

    /// The groove at the chosen size.
    pub fn groove_now(&self) -> Mm {
        self.groove * self.factor
    }

    /// How deep the V goes in a groove so many times as large as drawn: half its width, less the flat at
    /// the point, over the tangent of half its angle; no deeper than the job's depth.
    pub fn v_depth(&self, factor: f64) -> Mm {
        let (angle, tip) = self.v;
        let width = (self.groove * factor - tip).max(Mm::ZERO);
        (width / (2.0 * (angle / 2.0).tan())).min(self.depth)
    }

    /// How much of a tip is lost, at any size: up to where the largest circle in it is as wide as the
    /// limit of a free end across the grain.
    pub fn tip_lost(&self) -> Mm {
        self.tip_limit / (2.0 * (TIP_ANGLE / 2.0).sin())
    }

    /// How long the lesson's tip is as drawn: three times what is lost of it.
    pub fn tip_length(&self) -> Mm {
        self.tip_lost() * 3.0
    }

    /// What the wall comes to, in words.
    pub fn wall_in_words(&self, unit: LengthUnit) -> String {
        words::wall(self.own[0], self.wall, self.wall_now(), self.limits, unit)
    }

    /// What the V groove comes to, in words.
    pub fn v_in_words(&self, unit: LengthUnit) -> String {
        let drawn = [self.groove, self.v_depth(1.0)];
        words::v_groove(self.v.0, drawn, [self.groove_now(), self.v_depth(self.factor)], unit)
    }

    /// What the tip comes to, in words.
    pub fn tip_in_words(&self, unit: LengthUnit) -> String {
        let shares =
            [1.0, self.factor].map(|factor| (self.tip_lost() / (self.tip_length() * factor)).min(1.0));
        words::point(TIP_ANGLE, self.tip_lost(), shares, unit)
    }

    /// What the groove comes to, in words.
    pub fn groove_in_words(&self, unit: LengthUnit) -> String {
        words::groove(self.own[1], self.groove, self.groove_now(), self.groove_limit, unit)
    }
}
