//! The verdict in words: one sentence, and what to do.

use super::{bench_list, finding, fine, percent_up};
use crate::proof::{
    BoardSide, CutterRefusal, Facts, Larger, MachineBound, Obstacle, Reason, Severity, StripBreach, Verdict,
};
use crate::units::{LengthUnit, Mm};

/// The verdict and why: a sentence with its full stop.
pub fn sentence(verdict: &Verdict, unit: LengthUnit) -> String {
    if !verdict.carves {
        return "Nothing is carved: every element is left.".to_owned();
    }
    match verdict.severity {
        Severity::Sound => {
            "Sound: at this size, on this board, with this cutter, it should come out whole.".to_owned()
        }
        severity => format!("{}: {}.", severity.label(), why(verdict, unit)),
    }
}

/// Why it is so, without the word for it: the reasons, apart by semicolons; empty where there is none.
pub fn why(verdict: &Verdict, unit: LengthUnit) -> String {
    verdict.reasons.iter().map(|one| reason(one, unit)).collect::<Vec<_>>().join("; ")
}

/// What to know about it: a sentence with its full stop; empty where there is nothing more to know. What would
/// help is for [`super::advice`] to say, which has tried it out.
pub fn advice(verdict: &Verdict, unit: LengthUnit) -> String {
    match (&verdict.larger, verdict.reasons.first()) {
        (Some(Larger::SoundFrom(sound)), _) => {
            let (percent, length) = (percent_up(sound.factor), unit.show(sound.length));
            if sound.fits {
                format!("Walls and grooves are sound from {length} long ({percent} %).")
            } else {
                format!(
                    "Walls and grooves are sound from {length} long ({percent} %), but that needs a larger board."
                )
            }
        }
        (Some(Larger::NoUse(obstacle)), _) => format!("{}.", no_practical_size(obstacle, unit)),
        (None, Some(reason)) => match finding::advice(&reason.worst, unit) {
            advice if advice.is_empty() => advice,
            advice => format!("{advice}."),
        },
        // Sound as far as anybody has looked.
        (None, None) if verdict.carves && !verdict.unchecked.is_empty() => {
            format!("{}.", finding::not_checked(&verdict.unchecked))
        }
        (None, None) => String::new(),
    }
}

/// Which place keeps every practical size from being sound: a sentence without a full stop.
pub fn no_practical_size(obstacle: &Obstacle, unit: LengthUnit) -> String {
    let width = fine(unit, obstacle.width);
    let at = unit.show_several([obstacle.at.x, obstacle.at.y].map(Mm::new), ", ");
    match (&obstacle.element, obstacle.is_wall) {
        (_, _) if obstacle.width == Mm::ZERO => {
            format!("No size makes it sound: two carved places touch at {at}")
        }
        (Some(element), true) => {
            format!("No practical size makes it sound: a wall of {element} is {width} thick, at {at}")
        }
        (Some(element), false) => {
            format!("No practical size makes it sound: a groove in {element} is {width} wide, at {at}")
        }
        (None, true) => {
            format!("No practical size makes it sound: a wall between elements is {width} thick, at {at}")
        }
        (None, false) => {
            format!("No practical size makes it sound: a gap between elements is {width} wide, at {at}")
        }
    }
}

/// One reason as part of the verdict's sentence.
#[expect(clippy::too_many_lines, reason = "one arm a sentence")]
fn reason(Reason { worst, count }: &Reason, unit: LengthUnit) -> String {
    let (count, show) = (*count, |length: Mm| unit.show(length));
    let wide = |length: Mm| fine(unit, length);
    match &worst.facts {
        Facts::ThinWall { width, place, .. } => {
            let (width, limit) = (wide(*width), wide(place.held.limit));
            if count == 1 {
                format!("a wall is too thin, {width} where {limit} is the limit")
            } else {
                format!("{count} walls are too thin, the thinnest {width} where {limit} is the limit")
            }
        }
        Facts::BlockedGroove { width, place } => {
            let (width, limit) = (wide(*width), wide(place.held.limit));
            if count == 1 {
                format!("the cutter cannot enter a groove, {width} where it needs {limit}")
            } else {
                format!(
                    "the cutter cannot enter {count} grooves, the narrowest {width} where it needs {limit}"
                )
            }
        }
        Facts::RoundedCorner { .. } if count == 1 => {
            "the cutter cannot follow a long sharp corner".to_owned()
        }
        Facts::RoundedCorner { .. } => format!("the cutter cannot follow {count} long sharp corners"),
        Facts::ShallowGroove { width, place } => {
            let (width, limit) = (wide(*width), wide(place.held.limit));
            if count == 1 {
                format!("a V groove is too narrow to show, {width} where {limit} is the least")
            } else {
                format!(
                    "{count} V grooves are too narrow to show, the narrowest {width} where {limit} is the least"
                )
            }
        }
        Facts::LostTip { place, .. } if count == 1 => {
            format!("a slender point may lose its last {}", wide(place.run))
        }
        Facts::LostTip { place, .. } => {
            format!("{count} slender points may break off, the longest by {}", wide(place.run))
        }
        Facts::LoosePiece { across, .. } if count == 1 => {
            format!("a piece {} across is cut loose all round", wide(*across))
        }
        Facts::LoosePiece { .. } => format!("{count} pieces are cut loose all round"),
        Facts::Invisible { element, around, stands: true } if count == 1 => {
            format!("{element} will not show: {around} stands just as high all round it")
        }
        Facts::Invisible { element, around, .. } if count == 1 => {
            format!("{element} will not show: {around} is carved just as deep all round it")
        }
        Facts::Invisible { .. } => format!("{count} elements will not show"),
        Facts::SnipeZone { .. } => {
            "part of the design is carved while an end of the board is past its roller".to_owned()
        }
        Facts::BoardShort { length, needed } => {
            format!("the board is {} long and this size needs {}", show(*length), show(*needed))
        }
        Facts::BoardNarrow { width, needed } => {
            format!("the board is {} wide and this size needs {}", show(*width), show(*needed))
        }
        Facts::BoardThin { thickness, needed, .. } => {
            format!("the board is {} thick and this depth needs {}", show(*thickness), show(*needed))
        }
        Facts::Misplaced { side, free, needed } => misplaced(*side, *free, *needed, unit),
        Facts::MachineLimit { bound, measured, limit } => machine_limit(*bound, *measured, *limit, unit),
        Facts::CutterLimit { refusal, own } => {
            cutter_limit(*refusal, own.as_ref().map(|own| own.cutter.as_str()), unit)
        }
        Facts::Blemish { .. } if count > 1 => {
            format!("{count} blemishes lie under the design or too near it")
        }
        Facts::Blemish { kind, distance, met, .. } => match (met, *distance > Mm::ZERO) {
            (Some(_), false) => format!("{} lies under the design's outline", kind.named()),
            (_, true) => format!("{} is only {} from the carved place", kind.named(), show(*distance)),
            (None, false) => format!("{} lies within the carved place", kind.named()),
        },
        Facts::SensingStrip { .. } if count > 1 => {
            format!("the strip that the position sensor reads is broken in {count} places")
        }
        Facts::SensingStrip { breach: StripBreach::Blemish(kind), .. } => {
            format!("{} breaks the strip that the position sensor reads", kind.named())
        }
        Facts::SensingStrip { breach: StripBreach::Cut { .. }, .. } => {
            "a cut through the board breaks the strip that the position sensor reads".to_owned()
        }
        Facts::ThicknessLeft { left } => {
            format!("the board's warp leaves only {} under the deepest cut", wide(*left))
        }
        Facts::Warp(row) => bench_list::fault(row, unit),
        Facts::Overhang { overhang, .. } => {
            format!(
                "{} of the board hangs past the {} roller and tips it",
                show(overhang.reach),
                overhang.side.label()
            )
        }
        Facts::NotChecked(checks) => {
            let names: Vec<&str> = checks.iter().map(|check| check.label()).collect();
            format!("the board has not been checked for {}", names.join(", "))
        }
    }
}

fn misplaced(side: BoardSide, free: Mm, needed: Mm, unit: LengthUnit) -> String {
    let (side, needed) = (side.label(), unit.show(needed));
    if free < Mm::ZERO {
        format!("the design runs {} past the {side}", unit.show(-free))
    } else {
        format!("the design is {} from the {side} and needs {needed}", unit.show(free))
    }
}

fn machine_limit(bound: MachineBound, measured: Mm, limit: Mm, unit: LengthUnit) -> String {
    let (measured, limit) = (unit.show(measured), unit.show(limit));
    match bound {
        MachineBound::TooLong => format!("the board is {measured} long and the machine takes {limit}"),
        MachineBound::TooWide => format!("the board is {measured} wide and the machine takes {limit}"),
        MachineBound::TooThick => format!("the board is {measured} thick and the machine takes {limit}"),
        MachineBound::TooShort => {
            format!("the board is {measured} long and without a carrier must be {limit}")
        }
        MachineBound::TooNarrow => {
            format!("the board is {measured} wide and without a carrier must be {limit}")
        }
        MachineBound::TooThin => {
            format!("the board is {measured} thick and without a carrier must be {limit}")
        }
    }
}

fn cutter_limit(refusal: CutterRefusal, cutter: Option<&str>, unit: LengthUnit) -> String {
    match (refusal, cutter) {
        (CutterRefusal::TooDeep { depth, edges }, None) => {
            format!("the cut is {} deep and the cutter's edges reach {}", unit.show(depth), unit.show(edges))
        }
        (CutterRefusal::TooDeep { depth, edges }, Some(cutter)) => {
            format!(
                "the cut is {} deep and the edges of {cutter} reach {}",
                unit.show(depth),
                unit.show(edges)
            )
        }
        (CutterRefusal::PointOnAFloor, None) => {
            "a pointed cutter leaves a ridged floor and sloping sides".to_owned()
        }
        (CutterRefusal::PointOnAFloor, Some(cutter)) => {
            format!("{cutter} is pointed and leaves a ridged floor and sloping sides")
        }
        (CutterRefusal::NoPoint, None) => "this cutter has no point and cannot cut a V".to_owned(),
        (CutterRefusal::NoPoint, Some(cutter)) => format!("{cutter} has no point and cannot cut a V"),
    }
}

/// A verdict on a mended outline that is only looked at.
pub fn if_applied(sentence: &str) -> String {
    format!("If you apply this: {sentence}")
}
