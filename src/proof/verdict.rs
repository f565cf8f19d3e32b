//! The answer in short: sound, chancy or unsound, why, and which size would do.

use super::findings::AtSize;
use super::{Finding, Obstacle, Severity, Thinnest};
use crate::shop::Check;
use crate::units::Mm;

/// Sound, chancy or unsound; why; and what to do.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// The worst of the findings.
    pub severity: Severity,
    /// The worst finding of each kind that is as serious as the verdict, worst kind first.
    pub reasons: Vec<Reason>,
    /// What a larger size would do, where something is found that size helps and this size is too small.
    pub larger: Option<Larger>,
    /// What nobody has measured of the board.
    pub unchecked: Vec<Check>,
    /// Whether anything is carved.
    pub carves: bool,
}

/// Why a verdict is not sound.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// The worst finding of its kind.
    pub worst: Finding,
    /// How many there are of that kind and severity.
    pub count: usize,
}

/// What a larger size would do for walls and grooves.
#[derive(Clone, Debug, PartialEq)]
pub enum Larger {
    /// From this size on none is too thin.
    SoundFrom(SoundSize),
    /// No size that anybody carves would do, for this.
    NoUse(Obstacle),
}

/// A size at which nothing is too thin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SoundSize {
    /// How many times as large as drawn.
    pub factor: f64,
    /// Finished length there.
    pub length: Mm,
    /// Whether the board takes it.
    pub fits: bool,
}

impl Verdict {
    /// From all that was found, worst first.
    pub(super) fn of(at_size: &AtSize, thinnest: &Thinnest, findings: &[Finding]) -> Verdict {
        let severity = findings.first().map_or(Severity::Sound, Finding::severity);
        Verdict {
            severity,
            reasons: reasons(severity, findings),
            larger: larger(at_size, thinnest).filter(|_| findings.iter().any(|one| one.facts.size_helps())),
            unchecked: at_size.job.board().stock.unmeasured().collect(),
            carves: at_size.measured.carves(),
        }
    }
}

fn reasons(severity: Severity, findings: &[Finding]) -> Vec<Reason> {
    let mut reasons: Vec<Reason> = Vec::new();
    if severity > Severity::Sound {
        for finding in findings.iter().filter(|finding| finding.severity() == severity) {
            match reasons.iter_mut().find(|reason| reason.worst.kind() == finding.kind()) {
                Some(reason) => reason.count += 1,
                None => reasons.push(Reason { worst: finding.clone(), count: 1 }),
            }
        }
    }
    reasons
}

fn larger(at_size: &AtSize, thinnest: &Thinnest) -> Option<Larger> {
    let least = thinnest.sound_factor.filter(|&least| least > at_size.factor)?;
    Some(match &thinnest.obstacle {
        Some(obstacle) => Larger::NoUse(obstacle.clone()),
        None => Larger::SoundFrom(SoundSize {
            factor: least,
            length: Mm::new(at_size.job.frame_on_board().x * least),
            fits: least <= at_size.fit.largest_factor,
        }),
    })
}
