//! The answer in plain words.

use super::Severity;
use crate::units::LengthUnit;

/// Sound, chancy or unsound; why; and what to do.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// The worst of the findings.
    pub severity: Severity,
}

impl Verdict {
    /// One plain sentence: `Unsound: 4 walls are thinner than 1.5 mm …`.
    pub fn sentence(&self, unit: LengthUnit) -> String {
        let _ = unit;
        String::new()
    }

    /// What to do about it, in a sentence; empty where there is nothing to do.
    pub fn advice(&self, unit: LengthUnit) -> String {
        let _ = unit;
        String::new()
    }
}
