//! What walls and grooves share: a thin feature of the design as a finding.

use super::{grooves, invisible, loose, walls};
use crate::geometry::widths::Feature;
use crate::job::Job;
use crate::proof::finding::{DesignFinding, Facts, FindingKind, ThinPlace};
use crate::proof::limit::Held;
use crate::proof::measure::LevelKind;
use crate::proof::rate::Rule;
use crate::proof::{Measured, Ratings};
use crate::units::Mm;
use glam::DVec2;

/// What there is to know of the design at a size, wherever it lies on the board. `O(log n + hits)`.
pub(in crate::proof) fn in_design(
    job: &Job,
    measured: &Measured,
    ratings: &Ratings,
    factor: f64,
) -> Vec<DesignFinding> {
    let mut parts = Vec::new();
    let levels = measured.levels().iter().zip(&ratings.levels).enumerate();
    for (index, (level, rated)) in levels {
        let rule = Rule { limits: &ratings.limits, measured, level: index };
        let at_level = AtLevel { job, rule, kind: level.kind(), factor };
        // By two threads of the pool, which have room to spare since they measured the widths.
        let (walls, grooves) = rayon::join(
            || walls::walls(&at_level, level, rated).collect::<Vec<_>>(),
            || grooves::grooves(&at_level, level, rated).collect::<Vec<_>>(),
        );
        parts.extend([walls, grooves]);
    }
    // There may be some hundred thousand, so the first list takes in the rest.
    let mut parts = parts.into_iter();
    let mut found = parts.next().unwrap_or_default();
    parts.for_each(|part| found.extend(part));
    found.extend(loose::loose(job, measured, factor));
    found.extend(invisible::invisible(job, measured));
    found
}

/// A job at one size and level: what turns a feature of the design into a finding.
pub(super) struct AtLevel<'a> {
    pub(super) job: &'a Job,
    pub(super) rule: Rule<'a>,
    pub(super) kind: LevelKind,
    pub(super) factor: f64,
}

impl AtLevel<'_> {
    pub(super) fn width(&self, feature: &Feature) -> Mm {
        Mm::new(feature.width * self.factor)
    }

    pub(super) fn place(&self, feature: &Feature, held: Held) -> ThinPlace {
        ThinPlace {
            held,
            run: Mm::new(feature.length * self.factor),
            direction: feature.direction,
            element: element_at(self.job, self.rule.measured, feature.inside()),
            cutter: self.job.own_cutter(held.place).map(|cutter| cutter.name.clone()),
            within: self.job.design().sharpness.map(|picture| picture.width_within() * self.factor),
            axis: feature.axis.as_slice().into(),
        }
    }

    /// The finding of a feature. The end of a point and a wall are both found in walls, and count apart.
    pub(super) fn finding(&self, feature: &Feature, is_tip: bool, facts: Facts) -> DesignFinding {
        let kind = facts.kind().id();
        let name = if is_tip { "tip" } else { kind };
        DesignFinding { id: id(kind, name, feature.name, self.kind), at: feature.at, facts }
    }
}

/// What names a finding of a feature.
fn id(kind: &str, name: &str, number: u32, level: LevelKind) -> String {
    format!("{kind}-{name}-{number}{}", level.id())
}

/// What names a wall at a level, whether it is thin or not.
pub(in crate::proof) fn thin_wall_id(number: u32, level: LevelKind) -> String {
    let kind = FindingKind::ThinWall.id();
    id(kind, kind, number, level)
}

/// The name of the element at a place of the design; of a design that is one element, that.
pub(in crate::proof) fn element_at(job: &Job, measured: &Measured, point: DVec2) -> Option<String> {
    match job.design().elements.as_slice() {
        [only] => Some(only.name.clone()),
        several => several.get(measured.elements_at(point).next()?).map(|element| element.name.clone()),
    }
}
