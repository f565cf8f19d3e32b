//! The lesson 'Why it thins': the same wall and the same cutter side by side, as drawn and at the chosen
//! size.
//!
//! A figure has two halves in one scale. What belongs to the design is drawn larger or smaller with the
//! size; the cutter, the depth and the limits are the same in both halves. The scale depends on what does
//! not change with the size, so that on screen the limit stands still while the wall moves.

mod figures;

pub use figures::{Figure, Ink, Label, Shape};

use crate::job::Job;
use crate::proof::Proof;
use crate::shop::CutterShape;
use crate::units::{LengthUnit, Mm};

/// Interior angle of the lesson's tip, radians: a slender leaf.
const TIP_ANGLE: f64 = std::f64::consts::PI / 6.0;
/// Included angle of the lesson's V where the job's own cutter is none, radians.
const V_ANGLE: f64 = std::f64::consts::FRAC_PI_2;
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
        let limits = [proof.limits.along, proof.limits.across];
        let drawn =
            |width: Option<Mm>| width.filter(|width| *width > Mm::ZERO).map(|width| width / proof.factor);
        let (wall, groove) = (drawn(proof.thinnest_wall), drawn(proof.thinnest_groove));
        let v = match job.cutter().shape {
            CutterShape::Vee { angle, tip, .. } => (angle, tip),
            CutterShape::Flat { .. } | CutterShape::Ball { .. } | CutterShape::TaperedBall { .. } => {
                (V_ANGLE, Mm::ZERO)
            }
        };
        Lesson {
            factor: proof.factor,
            wall: wall.unwrap_or(limits[1] * WALL_WITHOUT_ONE),
            limits,
            groove: groove.unwrap_or(proof.limits.groove * GROOVE_WITHOUT_ONE),
            groove_limit: proof.limits.groove,
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
    /// limit across the grain.
    pub fn tip_lost(&self) -> Mm {
        self.limits[1] / (2.0 * (TIP_ANGLE / 2.0).sin())
    }

    /// How long the lesson's tip is as drawn: three times what is lost of it.
    pub fn tip_length(&self) -> Mm {
        self.tip_lost() * 3.0
    }

    /// What the wall comes to, in a sentence.
    pub fn wall_in_words(&self, unit: LengthUnit) -> String {
        let [along, across] = self.limits;
        let now = self.wall_now();
        let verdict = if now >= across.max(along) {
            "thick enough whichever way it runs"
        } else if now >= across.min(along) {
            "thick enough one way to the grain, too thin the other"
        } else {
            "too thin whichever way it runs"
        };
        format!(
            "The {} wall is {} as drawn and {} at this size: {verdict}. The limit is {} along the grain and {} across, at every size",
            if self.own[0] { "design's thinnest" } else { "lesson's" },
            unit.show_fine(self.wall),
            unit.show_fine(now),
            unit.show_fine(along),
            unit.show_fine(across),
        )
    }

    /// What the V groove comes to, in a sentence.
    pub fn v_in_words(&self, unit: LengthUnit) -> String {
        let (angle, _) = self.v;
        format!(
            "A V of {:.0}\u{b0} in a groove {} wide goes {} deep; at this size the groove is {} wide and {} deep",
            angle.to_degrees(),
            unit.show_fine(self.groove),
            unit.show_fine(self.v_depth(1.0)),
            unit.show_fine(self.groove_now()),
            unit.show_fine(self.v_depth(self.factor)),
        )
    }

    /// What the tip comes to, in a sentence.
    pub fn tip_in_words(&self, unit: LengthUnit) -> String {
        let share = |factor: f64| (100.0 * (self.tip_lost() / (self.tip_length() * factor)).min(1.0)).round();
        format!(
            "A point of {:.0}\u{b0} across the grain loses its last {} at every size: {} % of it as drawn, {} % at this size",
            TIP_ANGLE.to_degrees(),
            unit.show_fine(self.tip_lost()),
            share(1.0),
            share(self.factor),
        )
    }

    /// What the groove comes to, in a sentence.
    pub fn groove_in_words(&self, unit: LengthUnit) -> String {
        let enters = self.groove_now() >= self.groove_limit;
        format!(
            "The {} groove is {} as drawn and {} at this size; the cutter needs {} at every size, and {}",
            if self.own[1] { "design's narrowest" } else { "lesson's" },
            unit.show_fine(self.groove),
            unit.show_fine(self.groove_now()),
            unit.show_fine(self.groove_limit),
            if enters { "enters it" } else { "cannot enter it" },
        )
    }
}
