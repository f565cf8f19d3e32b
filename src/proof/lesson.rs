//! The guided tour through the lesson: six steps on the sample designs, each with one question that the
//! size handle answers.

use super::{FindingKind, Proof};
use crate::units::{LengthUnit, Mm};

/// One step of the tour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// The id of the sample it is about.
    pub sample: &'static str,
    /// What there is to see.
    pub say: &'static str,
    /// The question.
    pub question: &'static str,
    /// What answers it.
    pub goal: Goal,
}

/// What a size must bring about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Goal {
    /// So many times as large as drawn, or smaller.
    SmallerThan(f64),
    /// So many times as large as drawn, or larger.
    LargerThan(f64),
    /// No wall and no groove is under its limit, at no more than this much over the least such size.
    JustSound(f64),
    /// Every groove lets the cutter in.
    GroovesOpen,
    /// It fits on its board, and uses at least this share of the length the board allows.
    FillsBoard(f64),
}

/// The tour.
pub const TOUR: [Step; 6] = [
    Step {
        sample: "gate-sign",
        say: "This sign is sound as it is drawn: its thinnest wall is over the limit",
        question: "Make it half as large. Which of the two moved, the wall or the limit?",
        goal: Goal::SmallerThan(0.5),
    },
    Step {
        sample: "gate-sign",
        say: "The cutter, the wood and the depth are the same at every size, so the limit is too",
        question: "From which length on is the sign sound again?",
        goal: Goal::JustSound(1.05),
    },
    Step {
        sample: "inn-sign",
        say: "Stout letters, thin reeds: the thinnest wall decides, not the usual one",
        question: "How large must this sign be before the reeds stand, whatever board that takes?",
        goal: Goal::JustSound(1.05),
    },
    Step {
        sample: "house-number",
        say: "A groove has a limit too: the cutter must fit into it. Scaling moves the groove, not the cutter",
        question: "How large must the house number be for the cutter to enter the channel round its rim?",
        goal: Goal::GroovesOpen,
    },
    Step {
        sample: "beehive-plate",
        say: "A point is thin at its end, at every size: it always loses the same length",
        question: "Make the plate half as large again. Are the points whole now, and how much do they lose?",
        goal: Goal::LargerThan(1.5),
    },
    Step {
        sample: "boat-nameboard",
        say: "Larger is sounder, but the board ends: with the ends held there is only so much room",
        question: "How long can the nameboard be and still be held at both ends? Come within a twentieth",
        goal: Goal::FillsBoard(0.95),
    },
];

impl Goal {
    /// Whether a size brings it about.
    pub fn is_met(self, proof: &Proof) -> bool {
        match self {
            Goal::SmallerThan(factor) => proof.factor <= factor * (1.0 + 1e-9),
            Goal::LargerThan(factor) => proof.factor >= factor * (1.0 - 1e-9),
            Goal::JustSound(over) => proof.least_sound_factor.is_some_and(|least| {
                let share = proof.factor / least;
                share >= 1.0 - 1e-9 && share <= over
            }),
            Goal::GroovesOpen => proof
                .findings
                .iter()
                .all(|finding| finding.kind != FindingKind::BlockedGroove || finding.apex > 0.0),
            Goal::FillsBoard(share) => {
                let largest = proof.fit.largest_factor;
                proof.factor <= largest * (1.0 + 1e-9) && proof.factor >= share * largest
            }
        }
    }

    /// The answer, once it is found.
    pub fn answer(self, proof: &Proof, unit: LengthUnit) -> String {
        let length = unit.show(proof.length);
        let limit = unit.show_fine(proof.limits.across);
        let wall = proof.thinnest_wall.map_or_else(|| "no wall".to_owned(), |wall| unit.show_fine(wall));
        match self {
            Goal::SmallerThan(_) => {
                format!("The wall: it is {wall} now. The limit across the grain is {limit}, as before")
            }
            Goal::JustSound(_) => {
                let least = proof
                    .least_sound_factor
                    .map_or(proof.length, |least| proof.length * (least / proof.factor));
                format!("From {} on: there the thinnest place is just at its limit", unit.show(least))
            }
            Goal::GroovesOpen => format!(
                "At {length} it does: the narrowest groove is {}, and the cutter needs {}",
                proof
                    .thinnest_groove
                    .map_or_else(|| "wide enough".to_owned(), |groove| unit.show_fine(groove)),
                unit.show_fine(proof.limits.groove)
            ),
            Goal::LargerThan(_) => {
                let tips = proof.findings.iter().filter(|finding| finding.kind == FindingKind::LostTip);
                let lost = tips.map(|finding| finding.measured).reduce(Mm::max);
                lost.map_or_else(
                    || format!("At {length} no point is lost"),
                    |lost| {
                        format!(
                            "No: a point still loses {} at {length}, as much as before",
                            unit.show_fine(lost)
                        )
                    },
                )
            }
            Goal::FillsBoard(_) => {
                let largest = proof.length * (proof.fit.largest_factor / proof.factor);
                format!(
                    "Up to {}: the roller allowance at both ends takes the rest of the board",
                    unit.show(largest)
                )
            }
        }
    }
}
