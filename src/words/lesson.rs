//! The lesson: why walls thin as a design shrinks, and why the limit does not move.

use super::limits;
use crate::proof::HeldWall;
use crate::units::{LengthUnit, Mm};

/// What the lesson is called.
pub const TITLE: &str = "Why it thins";

/// The sentence over everything.
pub const RULE: &str = "Scaling multiplies every width in a design. What the cutter and the wood need stays the \
     same. So the wall moves, and the limit does not.";

/// The figure of a wall from above.
pub const WALL_FROM_ABOVE: &str = "A wall from above";
/// The figure of the same wall in section.
pub const WALL_IN_SECTION: &str = "The same wall, cut through";
/// The figure of a V groove in section.
pub const V_IN_SECTION: &str = "A V groove gets shallower";
/// The figure of a point from above.
pub const POINT_FROM_ABOVE: &str = "A point loses the same length at every size";

/// The figure of a free end beside a tied one.
pub const FREE_END_FROM_ABOVE: &str = "An end in the air";
/// The figure of the depth of a pass.
pub const PASS_IN_SECTION: &str = "The depth of a pass";

/// The figure of the wall turned against the grain, for a page that nobody can turn it on.
pub const TURNED_FROM_ABOVE: &str = "The same wall, turned";
/// The half that shows it along the grain.
pub const ALONG_THE_GRAIN: &str = "along the grain";
/// The half that shows it across the grain.
pub const ACROSS_THE_GRAIN: &str = "across the grain";

/// The half that shows a wall with an end in the air.
pub const IN_THE_AIR: &str = "ends in the air";
/// The half that shows one tied at both ends.
pub const TIED: &str = "tied at both ends";
/// The half that shows the job's own pass.
pub const THIS_PASS: &str = "this pass";
/// The half that shows one half as deep.
pub const HALF_THE_PASS: &str = "half as deep";

/// Under a wall that is cut through.
pub const AS_TALL_AS_BEFORE: &str =
    "Cutter and depth are the same, so a wall half as thick still stands as tall.";

/// The half of a figure that shows the drawn size.
pub const AS_DRAWN: &str = "as drawn";

/// The half of a figure that shows the chosen size.
pub fn share_of_that(factor: f64) -> String {
    format!("{:.1} % of that", 100.0 * factor)
}

/// On a wall.
pub fn wall_label(width: Mm, unit: LengthUnit) -> String {
    format!("wall {}", unit.show_fine(width))
}

/// On a wall that is cut through.
pub fn thick_and_tall(width: Mm, height: Mm, unit: LengthUnit) -> String {
    format!("{} thick, {} tall", unit.show_fine(width), unit.show_fine(height))
}

/// On a V groove.
pub fn depth_label(depth: Mm, unit: LengthUnit) -> String {
    format!("{} deep", unit.show_fine(depth))
}

/// On a point. Short enough for a narrow frame; the lengths are in the sentence.
pub fn share_lost(share: f64) -> String {
    format!("{:.0} % lost", 100.0 * share)
}

/// Under a wall, its length.
pub fn how_long(wall: &HeldWall, unit: LengthUnit) -> String {
    if wall.run.length.get().is_infinite() { "a long wall".to_owned() } else { unit.show(wall.run.length) }
}

/// At the arrow of a push, newtons.
pub fn push(push: f64, unit: LengthUnit) -> String {
    unit.show_force(push, 1)
}

/// What the drawing of a wall is, to a screen reader.
pub fn standing(wall: &HeldWall, unit: LengthUnit) -> String {
    format!(
        "A wall {}, {} tall, pushed with {}",
        limits::ends(wall, unit),
        unit.show_fine(wall.height),
        unit.show_force(wall.limit.push, 1)
    )
}

/// On a wall whose limit is not the usual one.
pub fn limit_label(limit: Mm, unit: LengthUnit) -> String {
    format!("limit {}", unit.show_fine(limit))
}

/// What an end in the air asks for, and what a tie spares.
pub fn free_end(free: Mm, tied: Mm, unit: LengthUnit) -> String {
    format!(
        "At an end in the air the push has wood on one side only: across the grain it must be {} thick. A short wall \
         tied at both ends need only be {}.",
        unit.show_fine(free),
        unit.show_fine(tied)
    )
}

/// What the depth of a pass does: each is a pass and its limit.
pub fn pass((pass, limit): (Mm, Mm), (halved, less): (Mm, Mm), unit: LengthUnit) -> String {
    let show = |length| unit.show_fine(length);
    format!(
        "A pass {} deep asks for a wall {} thick across the grain, one of {} for {}: half the edge pushes half as hard.",
        show(pass),
        show(limit),
        show(halved),
        show(less)
    )
}

/// The thinnest wall as drawn and at the chosen size, against its limits along and across the grain; the
/// design's `own`, or the lesson's where the design has none.
pub fn wall(own: bool, drawn: Mm, now: Mm, [along, across]: [Mm; 2], unit: LengthUnit) -> String {
    let show = |length| unit.show_fine(length);
    let size = if own {
        format!("The design's thinnest wall is {} as drawn and {} at this size.", show(drawn), show(now))
    } else {
        format!("The example wall is {} as drawn and {} at this size.", show(drawn), show(now))
    };
    let limits =
        format!("the limit is {} along the grain and {} across, at every size.", show(along), show(across));
    let verdict = if now >= across.max(along) {
        format!("It is thick enough in every direction: {limits}")
    } else if now >= across.min(along) {
        format!("It is thick enough in one direction and too thin in the other: {limits}")
    } else {
        format!("It is too thin in every direction: {limits}")
    };
    format!("{size} {verdict}")
}

/// The narrowest groove as drawn and at the chosen size, against what the cutter needs; the design's `own`, or
/// the lesson's.
pub fn groove(own: bool, drawn: Mm, now: Mm, limit: Mm, unit: LengthUnit) -> String {
    let show = |length| unit.show_fine(length);
    let size = if own {
        format!("The design's narrowest groove is {} as drawn and {} at this size.", show(drawn), show(now))
    } else {
        format!("The example groove is {} as drawn and {} at this size.", show(drawn), show(now))
    };
    if now >= limit {
        format!("{size} The cutter needs {} at every size, and fits.", show(limit))
    } else {
        format!("{size} The cutter needs {} at every size, and does not fit.", show(limit))
    }
}

/// How deep a V of `angle` radians goes into a groove as drawn and at the chosen size: each is width and depth.
pub fn v_groove(angle: f64, drawn: [Mm; 2], now: [Mm; 2], unit: LengthUnit) -> String {
    let show = |length| unit.show_fine(length);
    format!(
        "A {:.0}\u{b0} V goes {} deep into a groove {} wide. At this size the groove is {} wide and {} deep.",
        angle.to_degrees(),
        show(drawn[1]),
        show(drawn[0]),
        show(now[0]),
        show(now[1]),
    )
}

/// What a point of `angle` radians loses at every size, and what share of it that is as drawn and at the chosen
/// size.
pub fn point(angle: f64, lost: Mm, [drawn, now]: [f64; 2], unit: LengthUnit) -> String {
    format!(
        "A {:.0}\u{b0} point across the grain loses its last {} at every size: {:.0} % of it as drawn, {:.0} % at \
         this size.",
        angle.to_degrees(),
        unit.show_fine(lost),
        100.0 * drawn,
        100.0 * now,
    )
}

/// The open sample is not the step's.
pub const OTHER_SAMPLE: &str = "This step is about another sample";
/// Opens the step's sample.
pub const OPEN_SAMPLE: &str = "Open it";
/// Leaves the tour.
pub const END_TOUR: &str = "End the tour";
/// Goes to the next step.
pub const NEXT: &str = "Next";
/// Goes to the step before.
pub const BACK: &str = "Back";
/// The same, to a screen reader.
pub const NEXT_STEP: &str = "Next step";
/// The same, to a screen reader.
pub const STEP_BEFORE: &str = "Step before";

/// Which step of the tour this is, from 1, and its sample's title.
pub fn step(number: usize, of: usize, title: &str) -> String {
    format!("Step {number} of {of} \u{b7} {title}")
}

/// Over the wall that can be turned.
pub const TURN_THE_WALL: &str = "Turn the wall";
/// The slider that turns it.
pub const TURN_OF_THE_WALL: &str = "Turn of the wall against the grain";

/// What a long wall must be that runs at so many degrees to the grain, beside one along it and one across.
pub fn turned(degrees: f64, needed: Mm, [along, across]: [Mm; 2], unit: LengthUnit) -> String {
    format!(
        "At {degrees:.0}\u{b0} to the grain this wall must be {} thick. {}",
        unit.show_fine(needed),
        both_ways([along, across], unit)
    )
}

/// What a long wall must be along the grain and across it, and why.
pub fn both_ways([along, across]: [Mm; 2], unit: LengthUnit) -> String {
    format!(
        "Along the grain {} is enough, across it takes {}: wood splits between its fibres far sooner than through them.",
        unit.show_fine(along),
        unit.show_fine(across)
    )
}

/// Over the guesses.
pub const GUESS_FIRST: &str = "Guess first";
/// Leaves the full screen.
pub const LEAVE_FULL_SCREEN: &str = "Leave full screen";

/// What was guessed, before it is tried out.
pub fn guessed(guess: &str) -> String {
    format!("Your guess: {guess}. Now try it")
}

/// What became of a guess.
pub fn guess_held(guess: &str, is_right: bool) -> String {
    if is_right {
        format!("Your guess was right: {guess}.")
    } else {
        format!("Your guess was: {guess}. It is not so.")
    }
}

/// Before the answer to a step's question.
pub fn answered(answer: &str) -> String {
    format!("Answered. {answer}")
}

/// What a screen reader says of a figure.
pub fn figure(title: &str, words: &str) -> String {
    format!("{title}. {words}")
}
