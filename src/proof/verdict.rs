//! The answer in plain words.

use super::{Finding, FindingKind, Severity};
use crate::shop::Check;
use crate::units::{LengthUnit, Mm, trimmed};

/// Sound, chancy or unsound; why; and what to do.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// The worst of the findings.
    pub severity: Severity,
    /// The worst finding of each kind that is as serious as the verdict, worst kind first.
    pub reasons: Vec<Reason>,
    /// The least size at which no wall or groove is under its limit, where this size is smaller.
    pub sound_size: Option<SoundSize>,
    /// The largest factor the board takes, where this size is larger.
    pub shrink_to: Option<f64>,
    /// Whether the board would take this size if the design were turned by a quarter.
    pub fits_turned: bool,
    /// Whether the board would take this size if the roller allowance were skipped.
    pub fits_ends_free: bool,
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
    /// The worst severity of `findings` (worst first) and the reasons for it.
    pub(super) fn of(findings: &[Finding]) -> (Severity, Vec<Reason>) {
        let severity = findings.first().map_or(Severity::Sound, |finding| finding.severity);
        let mut reasons: Vec<Reason> = Vec::new();
        if severity > Severity::Sound {
            for finding in findings.iter().filter(|finding| finding.severity == severity) {
                match reasons.iter_mut().find(|reason| reason.worst.kind == finding.kind) {
                    Some(reason) => reason.count += 1,
                    None => reasons
                        .push(Reason { worst: Finding { axis: Vec::new(), ..finding.clone() }, count: 1 }),
                }
            }
        }
        (severity, reasons)
    }

    /// One plain sentence, with a full stop: `Unsound: 4 walls are too thin, the thinnest 0.9 mm …`.
    pub fn sentence(&self, unit: LengthUnit) -> String {
        if !self.carves {
            return "Nothing is carved: every element is left.".to_owned();
        }
        let reasons: Vec<String> = self.reasons.iter().map(|reason| reason.words(unit)).collect();
        match self.severity {
            Severity::Sound => {
                "Sound: at this size, on this board, with this cutter, it should come out whole.".to_owned()
            }
            severity => format!("{}: {}.", severity.label(), reasons.join("; ")),
        }
    }

    /// What to do about it, in a sentence with a full stop; empty where there is nothing to do.
    pub fn advice(&self, unit: LengthUnit) -> String {
        if let Some(sound) = self.sound_size {
            let size = format!("{} % ({} long)", percent_up(sound.factor), unit.show(sound.length));
            return if sound.fits {
                format!("Carve it at {size} or larger and no wall or groove is too thin.")
            } else {
                format!("No wall or groove is too thin from {size} up, which needs a larger board.")
            };
        }
        if let Some(factor) = self.shrink_to {
            let larger_board =
                self.reasons.first().map_or_else(String::new, |reason| reason.worst.advice(unit));
            let larger_board = larger_board.split(',').next().unwrap_or_default().to_owned();
            let skip = if self.fits_ends_free {
                "; or skip the roller allowance, and expect snipe lines at the ends"
            } else {
                ""
            };
            let turn = if self.fits_turned { "Turn it by a quarter and it fits; or " } else { "" };
            let larger_board = if self.fits_turned { lower_first(&larger_board) } else { larger_board };
            return format!(
                "{turn}{larger_board}, or carve it at {} %, the largest this board takes{skip}.",
                percent_down(factor)
            );
        }
        match self.reasons.first() {
            Some(reason) => format!("{}.", reason.worst.advice(unit)),
            // Sound as far as anybody has looked.
            None if self.carves && !self.unchecked.is_empty() => {
                let names: Vec<&str> = self.unchecked.iter().map(|check| check.label()).collect();
                format!("Not checked on this board: {}.", names.join(", "))
            }
            None => String::new(),
        }
    }
}

impl Reason {
    fn words(&self, unit: LengthUnit) -> String {
        let measured = self.worst.show(unit, self.worst.measured);
        let limit = self.worst.show(unit, self.worst.limit);
        let many = self.count > 1;
        let what = |one: &str, several: &str| {
            if many { format!("{} {several}", self.count) } else { one.to_owned() }
        };
        let the_worst =
            |adjective: &str| if many { format!("the {adjective} {measured}") } else { measured.clone() };
        match self.worst.kind {
            FindingKind::ThinWall => format!(
                "{} too thin, {} where {limit} is the limit",
                what("a wall is", "walls are"),
                the_worst("thinnest")
            ),
            FindingKind::BlockedGroove if self.worst.apex > 0.0 => {
                format!("the cutter cannot follow {}", what("a long sharp corner", "long sharp corners"))
            }
            FindingKind::BlockedGroove => format!(
                "the cutter cannot enter {}, {} where it needs {limit}",
                what("a groove", "grooves"),
                the_worst("narrowest")
            ),
            FindingKind::ShallowGroove => format!(
                "{} too narrow to show, {} where {limit} is the least",
                what("a V groove is", "V grooves are"),
                the_worst("narrowest")
            ),
            FindingKind::LostTip => format!(
                "{} off, the longest by {measured}",
                what("a slender point may break", "slender points may break")
            ),
            // Names keep their capitals.
            FindingKind::Unseen if !many => self.worst.message(unit),
            FindingKind::Unseen => format!("{} elements will not show", self.count),
            FindingKind::SnipeZone => {
                "the design lies where an end of the board is past its roller".to_owned()
            }
            FindingKind::BoardShort
            | FindingKind::BoardNarrow
            | FindingKind::BoardThin
            | FindingKind::MachineLimit
            | FindingKind::Blemish
            | FindingKind::SensingStrip
            | FindingKind::ThicknessLeft
            | FindingKind::Warp
            | FindingKind::Overhang
            | FindingKind::NotChecked
            | FindingKind::CutterLimit => lower_first(&self.worst.message(unit)),
        }
    }
}

/// Per cent to a tenth, rounded up: a size given as sound must be sound.
pub fn percent_up(factor: f64) -> String {
    trimmed((factor * 1000.0 - 1e-6).ceil() / 10.0, 1)
}

/// Per cent to a tenth, rounded down: a size given as fitting must fit.
pub fn percent_down(factor: f64) -> String {
    trimmed((factor * 1000.0 + 1e-6).floor() / 10.0, 1)
}

fn lower_first(sentence: &str) -> String {
    let mut chars = sentence.chars();
    chars.next().map_or_else(String::new, |first| first.to_lowercase().chain(chars).collect())
}
