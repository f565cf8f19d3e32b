//! The guided tour through the lesson: steps on the sample designs, each with one question that the size handle
//! answers, or the depth of a pass.

use super::{Facts, HeldWall, Proof, WallEnds};
use crate::units::Mm;

/// One step of the tour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TourStep {
    /// What is asked.
    pub question: Question,
    /// The id of the sample it is about.
    pub sample: &'static str,
    /// What answers it.
    pub goal: Goal,
}

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Question {
    /// Which changes with the size, the wall or the limit?
    WhatMoved,
    /// From what length is it sound again?
    SoundAgain,
    /// Which grows too thin first, a wall with an end in the air or one tied at both?
    FreeEnds,
    /// What does a shallower pass do to the limit?
    ShallowPass,
    /// From what length do thin parts hold beside stout ones?
    ThinReeds,
    /// From what size does the cutter enter a groove?
    NarrowChannel,
    /// Does a larger size save the ends of points?
    LostPoints,
    /// How long may it be with both ends held?
    BoardEnds,
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
    /// Some wall with an end in the air is under its limit, and none that is tied at both ends.
    FreeEndThin,
    /// The depth of a pass is this share of that of the reference wall, or less.
    PassOf(f64),
    /// It fits on its board, and uses at least this share of the length the board allows.
    FillsBoard(f64),
}

/// A hand that aims at a factor is taken to have met it from this far off, as a share of it: half of 400 mm
/// typed in fractions of an inch is 50.006 %. A round value of our own.
const NEAR_ENOUGH: f64 = 0.02;

/// The tour.
pub const TOUR: [TourStep; 8] = [
    TourStep { question: Question::WhatMoved, sample: "gate-sign", goal: Goal::SmallerThan(0.5) },
    TourStep { question: Question::SoundAgain, sample: "gate-sign", goal: Goal::JustSound(1.05) },
    TourStep { question: Question::FreeEnds, sample: "house-number", goal: Goal::FreeEndThin },
    TourStep { question: Question::ShallowPass, sample: "inn-sign", goal: Goal::PassOf(0.5) },
    TourStep { question: Question::ThinReeds, sample: "inn-sign", goal: Goal::JustSound(1.05) },
    TourStep { question: Question::NarrowChannel, sample: "house-number", goal: Goal::GroovesOpen },
    TourStep { question: Question::LostPoints, sample: "beehive-plate", goal: Goal::LargerThan(1.5) },
    TourStep { question: Question::BoardEnds, sample: "boat-nameboard", goal: Goal::FillsBoard(0.95) },
];

impl Goal {
    /// Whether a size brings it about.
    pub fn is_met(self, proof: &Proof) -> bool {
        match self {
            Goal::SmallerThan(factor) => proof.factor <= factor * (1.0 + NEAR_ENOUGH),
            Goal::LargerThan(factor) => proof.factor >= factor * (1.0 - NEAR_ENOUGH),
            Goal::JustSound(over) => proof.thinnest.sound_factor.is_some_and(|least| {
                let share = proof.factor / least;
                share >= 1.0 - 1e-9 && share <= over
            }),
            Goal::GroovesOpen => {
                proof.findings.iter().all(|finding| !matches!(finding.facts, Facts::BlockedGroove { .. }))
            }
            Goal::FreeEndThin => {
                let ends = || thin_walls(proof).map(|wall| wall.run.ends);
                let has_free_end =
                    |ends| matches!(ends, WallEnds::BothFree | WallEnds::OneFree | WallEnds::Pillar);
                ends().any(has_free_end) && ends().all(has_free_end)
            }
            Goal::PassOf(share) => {
                let usual = proof.limits.usual();
                let reference = usual.basis.reference.pass.min(usual.basis.height);
                usual.rule.cut.edge(usual.basis.height) <= reference * share * (1.0 + NEAR_ENOUGH)
            }
            Goal::FillsBoard(share) => {
                let largest = proof.fit.largest_factor;
                proof.factor <= largest * (1.0 + 1e-9) && proof.factor >= share * largest
            }
        }
    }
}

/// A round value of our own: closer to a size than this share is that size, to a pupil's eye.
const SAME_SIZE: f64 = 0.01;

impl TourStep {
    /// Which of the guesses that are offered is right, by its place; see `words::tour::guesses`. Read off the proof of the
    /// step's own sample, whatever its size.
    pub fn right_guess(self, proof: &Proof) -> usize {
        // Under the drawn size, at it, or over it.
        let beside_drawn = |factor: Option<f64>| match factor {
            Some(factor) if factor < 1.0 - SAME_SIZE => 0,
            Some(factor) if factor <= 1.0 + SAME_SIZE => 1,
            _ => 2,
        };
        match self.question {
            Question::WhatMoved | Question::FreeEnds => 0,
            Question::SoundAgain => match proof.thinnest.sound_factor {
                Some(least) if least < 0.5 => 0,
                Some(least) if least < 1.0 - SAME_SIZE => 1,
                _ => 2,
            },
            Question::ThinReeds => beside_drawn(proof.thinnest.sound_factor),
            Question::NarrowChannel => {
                let needed = proof.limits.usual().groove;
                beside_drawn(proof.thinnest.groove.map(|groove| proof.factor * (needed / groove)))
            }
            // Half the edge pushes half as hard, and a wall's strength goes with the square of its thickness.
            Question::ShallowPass | Question::BoardEnds => 1,
            Question::LostPoints => usize::from(longest_lost(proof).is_some()),
        }
    }
}

/// How the walls that are under their limit are held.
fn thin_walls(proof: &Proof) -> impl Iterator<Item = HeldWall> + '_ {
    proof.findings.iter().filter_map(|finding| match &finding.facts {
        Facts::ThinWall { place, .. } => place.held.wall,
        _ => None,
    })
}

/// The longest end that a point loses; `None` where none does.
pub fn longest_lost(proof: &Proof) -> Option<Mm> {
    let lost = proof.findings.iter().filter_map(|finding| match &finding.facts {
        Facts::LostTip { place, .. } => Some(place.run),
        _ => None,
    });
    lost.reduce(Mm::max)
}
