//! The guided tour through the lesson: what there is to see, the question, and its answer.

use crate::proof::Proof;
use crate::proof::lesson::{Goal, Question, longest_lost};
use crate::units::{LengthUnit, Mm};

/// What there is to see: a sentence without a full stop.
pub fn say(question: Question) -> &'static str {
    match question {
        Question::WhatMoved => "This sign is sound as drawn: its thinnest wall is over the limit",
        Question::SoundAgain => {
            "The cutter, the wood and the depth are the same at every size, so the limit is too"
        }
        Question::FreeEnds => {
            "A wall may end in the air, or be tied to more wood at both ends. The limit asks which"
        }
        Question::ShallowPass => {
            "Leave the size as it is: the cutter pushes with the edge that is in the wood, and a shallower pass has less of it there"
        }
        Question::ThinReeds => "Stout letters, thin reeds: the thinnest wall decides, not the usual one",
        Question::NarrowChannel => {
            "A groove has a limit too: the cutter must fit into it. Scaling changes the groove, not the cutter"
        }
        Question::LostPoints => "A point is thin at its end, at every size: it always loses the same length",
        Question::BoardEnds => {
            "Larger is sounder, but the board ends: with both ends held there is only so much room"
        }
    }
}

/// The question.
pub fn ask(question: Question) -> &'static str {
    match question {
        Question::WhatMoved => "Make it half as large. Which of the two changed, the wall or the limit?",
        Question::SoundAgain => "From what length is the sign sound again?",
        Question::FreeEnds => {
            "Make the house number smaller until its first walls grow too thin. Do they end in the air, or are they tied at both ends?"
        }
        Question::ShallowPass => "Halve the depth of a pass for every cutter. Where does the limit go?",
        Question::ThinReeds => {
            "How large must this sign be before the reeds hold, whatever board that takes?"
        }
        Question::NarrowChannel => {
            "How large must the house number be for the cutter to enter the channel round its rim?"
        }
        Question::LostPoints => {
            "Make the plate half as large again. Are the points whole now, and how much do they lose?"
        }
        Question::BoardEnds => {
            "How long can the nameboard be and still be held at both ends? Come within a twentieth"
        }
    }
}

/// What a pupil may guess before trying it. `TourStep::right_guess` says which is right.
pub fn guesses(question: Question) -> &'static [&'static str] {
    match question {
        Question::WhatMoved => &["The wall", "The limit"],
        Question::SoundAgain => &[
            "At less than half its length",
            "Between half its length and the whole",
            "Only as long as drawn, or longer",
        ],
        Question::FreeEnds => &["They end in the air", "They are tied at both ends"],
        Question::ShallowPass => &["Down by half", "Down, but by less than half", "Nowhere"],
        Question::ThinReeds | Question::NarrowChannel => {
            &["Smaller than drawn will do", "Just as drawn", "Larger than drawn"]
        }
        Question::LostPoints => {
            &["They are whole", "They lose as much as before", "They lose half as much again"]
        }
        Question::BoardEnds => &["As long as the board", "Shorter than the board by what the rollers hold"],
    }
}

/// What to do, until the question is answered.
pub fn hint(question: Question) -> &'static str {
    match question {
        Question::ShallowPass => "Set the depth of a pass under Clearing",
        _ => "Move the size handle below",
    }
}

/// The answer, once it is found: a sentence without a full stop.
pub fn answer(goal: Goal, proof: &Proof, unit: LengthUnit) -> String {
    let length = unit.show(proof.length);
    match goal {
        Goal::SmallerThan(_) => {
            let limit = unit.show_fine(proof.limits.usual().across);
            match proof.thinnest.wall {
                Some(wall) => format!(
                    "The wall: it is {} now. The limit across the grain is {limit}, as before",
                    unit.show_fine(wall)
                ),
                None => format!("There is no wall. The limit across the grain is {limit}, as before"),
            }
        }
        Goal::JustSound(_) => {
            let least = proof.thinnest.sound_factor;
            let least = least.map_or(proof.length, |least| proof.length * (least / proof.factor));
            format!("From {}: there the thinnest place is just at its limit", unit.show(least))
        }
        Goal::FreeEndThin => {
            "They end in the air. Nothing holds such an end but its root, so it is the first to go".to_owned()
        }
        Goal::PassOf(_) => {
            let usual = proof.limits.usual();
            format!(
                "Down, though by less than half: passes of {} ask for {} across the grain",
                unit.show_fine(usual.rule.cut.pass),
                unit.show_fine(usual.across)
            )
        }
        Goal::GroovesOpen => {
            let needed = unit.show_fine(proof.limits.usual().groove);
            match proof.thinnest.groove {
                Some(groove) => format!(
                    "At {length} it does: the narrowest groove is {}, and the cutter needs {needed}",
                    unit.show_fine(groove)
                ),
                None => format!("At {length} it does: there is no groove, and the cutter needs {needed}"),
            }
        }
        Goal::LargerThan(_) => match longest_lost(proof) {
            None => format!("At {length} no point is lost"),
            Some(lost) => {
                format!("No: a point still loses {} at {length}, as much as before", unit.show_fine(lost))
            }
        },
        Goal::FillsBoard(_) => {
            let largest: Mm = proof.length * (proof.fit.largest_factor / proof.factor);
            format!(
                "Up to {}: the roller allowance at both ends takes the rest of the board",
                unit.show(largest)
            )
        }
    }
}
