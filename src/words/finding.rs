//! What a finding says: what was found, and what to do about it.

use super::{bench_list, between, capitalised, fine, is_nothing, limits};
use crate::proof::{
    BoardSide, CutterRefusal, Facts, FedEnd, Finding, Gentler, MachineBound, Site, StripBreach, ThinPlace,
    WallEnds,
};
use crate::shop::Check;
use crate::units::{LengthUnit, Mm};

/// A run shorter than this is one spot.
const SPOT: Mm = Mm::new(0.1);

/// What it is called at the head of its card.
pub fn title(finding: &Finding) -> &'static str {
    match &finding.facts {
        Facts::RoundedCorner { .. } => "Rounded corner",
        Facts::ThinWall { place, .. } if is_a_pillar(place) => "Thin pillar",
        Facts::BlockedGroove { place, .. } if place.run < NO_LENGTH => "Blocked hole",
        _ => finding.kind().label(),
    }
}

/// What was found: a sentence without a full stop.
#[expect(clippy::too_many_lines, reason = "one arm a sentence")]
pub fn message(finding: &Finding, unit: LengthUnit) -> String {
    let show = |length: Mm| unit.show(length);
    match &finding.facts {
        Facts::BoardShort { length, needed } => {
            format!("The board is {} long; this size needs {}", show(*length), show(*needed))
        }
        Facts::BoardNarrow { width, needed } => {
            format!("The board is {} wide; this size needs {}", show(*width), show(*needed))
        }
        Facts::BoardThin { thickness, needed, .. } => {
            format!("The board is {} thick; this depth needs {}", show(*thickness), show(*needed))
        }
        Facts::Misplaced { side, free, needed } => misplaced(*side, *free, *needed, unit),
        Facts::MachineLimit { bound, measured, limit } => machine_limit(*bound, *measured, *limit, unit),
        Facts::CutterLimit { refusal, own } => {
            cutter_limit(*refusal, own.as_ref().map(|own| own.cutter.as_str()), unit)
        }
        Facts::ThinWall { width, stand_in, place, .. } => thin_wall(*width, place, stand_in.as_deref(), unit),
        Facts::LostTip { apex, stand_in, place } => lost_tip(*apex, place, stand_in.as_deref(), unit),
        Facts::BlockedGroove { width, place } => blocked_groove(*width, place, unit),
        Facts::RoundedCorner { apex, short, place } => {
            let (short, degrees) = (fine(unit, *short), apex.to_degrees());
            match &place.cutter {
                None => format!("The cutter stops {short} before this {degrees:.0}\u{b0} corner"),
                Some(cutter) => format!("{cutter} stops {short} before this {degrees:.0}\u{b0} corner"),
            }
        }
        Facts::ShallowGroove { width, place } => {
            let (width, limit) = (fine(unit, *width), fine(unit, place.held.limit));
            if is_a_spot(place, unit) {
                format!("A V groove {width} wide at one spot; under {limit} it hardly shows")
            } else {
                let run = show(place.run);
                format!("A V groove {width} wide over a length of {run}; under {limit} it hardly shows")
            }
        }
        Facts::SnipeZone { end, length, share, step } => {
            let (percent, length, step) = (share * 100.0, show(*length), between(*step, unit));
            match end {
                FedEnd::Leading => format!(
                    "{percent:.0} % of the design, {length} of its length, is carved while the leading end is past its roller; expect a line {step} high"
                ),
                FedEnd::Trailing => format!(
                    "{percent:.0} % of the design, {length} of its length, is carved while the trailing end is past its roller; expect a line {step} high"
                ),
            }
        }
        Facts::Blemish { kind, distance, clearance, met } => {
            let blemish = capitalised(kind.named());
            if *clearance > Mm::ZERO && *distance > Mm::ZERO {
                format!(
                    "{blemish} is {} from the carved place; it should be at least {} away",
                    show(*distance),
                    show(*clearance)
                )
            } else if met.is_some() {
                format!("{blemish} lies under the design's outline")
            } else {
                format!("{blemish} lies within the carved place")
            }
        }
        Facts::SensingStrip { breach, from_edge, strip } => {
            let what = match breach {
                StripBreach::Blemish(kind) => capitalised(kind.named()),
                StripBreach::Cut { .. } => "A cut through the board".to_owned(),
            };
            format!(
                "{what} breaks the strip that the position sensor reads: it is {} from the edge, where {} must be whole",
                show(*from_edge),
                show(*strip)
            )
        }
        Facts::ThicknessLeft { left } => format!(
            "With its warp, the board keeps {} under the deepest cut; {} is usual",
            fine(unit, *left),
            fine(unit, crate::proof::FLOOR_LEFT)
        ),
        Facts::Warp(row) => bench_list::row(row, unit),
        Facts::Overhang { overhang, .. } => {
            let (reach, side, balance) =
                (capitalised(&show(overhang.reach)), overhang.side.label(), show(overhang.balance));
            match overhang.lift {
                None => format!(
                    "{reach} of the board hangs past the {side} roller and tips it; {balance} would stay down by itself"
                ),
                Some(newtons) => format!(
                    "{reach} of the board hangs past the {side} roller and lifts its other end with {}; {balance} would stay down by itself",
                    unit.show_force(newtons, 0)
                ),
            }
        }
        Facts::LoosePiece { across, bridged: true } => format!(
            "A piece {} across is cut through all round; it falls out when you cut its bridges",
            unit.show(*across)
        ),
        Facts::LoosePiece { across, bridged: false } => {
            format!(
                "A piece {} across is cut through all round; it comes loose under the cutter",
                unit.show(*across)
            )
        }
        Facts::Invisible { element, around, stands: true } => {
            format!("{element} will not show: {around} stands just as high all round it")
        }
        Facts::Invisible { element, around, stands: false } => {
            format!("{element} will not show: {around} is carved just as deep all round it")
        }
        Facts::NotChecked(checks) => not_checked(checks),
    }
}

/// The message and where that is: on the board, from the left end and the reference edge, and in which
/// element; of what lies nowhere in particular, the message alone.
pub fn placed(finding: &Finding, unit: LengthUnit) -> String {
    let message = message(finding, unit);
    let at = || format!("at {}", unit.show_several([finding.at.x, finding.at.y].map(Mm::new), ", "));
    match (finding.site(), finding.element()) {
        (Site::Spot, None) => format!("{message}, {}", at()),
        (Site::Spot, Some(element)) => format!("{message}, {} ({element})", at()),
        (_, Some(element)) => format!("{message} ({element})"),
        (_, None) => message,
    }
}

/// What to know about it, or to do at the bench: a sentence without a full stop; empty where there is nothing
/// to add. What change of the job would help is for [`super::advice`] to say, which has tried it out.
pub fn advice(finding: &Finding, unit: LengthUnit) -> String {
    let show = |length: Mm| unit.show(length);
    match &finding.facts {
        Facts::Misplaced { side: BoardSide::Left | BoardSide::Right, needed, .. } => {
            format!("It needs {} free at that end", show(*needed))
        }
        Facts::Misplaced { side: BoardSide::Lower | BoardSide::Upper, needed, .. } => {
            format!("It needs {} free at that edge", show(*needed))
        }
        Facts::ThinWall { width, gentler, place, .. } => match place.in_doubt(*width) {
            None => gentler_cut(*gentler, unit),
            Some(range) if *gentler == Gentler::default() => in_doubt(*width, range, unit),
            Some(range) => {
                format!("{}. {}", in_doubt(*width, range, unit), gentler_cut(*gentler, unit))
            }
        },
        Facts::BlockedGroove { width, place } | Facts::ShallowGroove { width, place } => {
            place.in_doubt(*width).map_or_else(String::new, |range| in_doubt(*width, range, unit))
        }
        Facts::LostTip { .. } => "Expect it to break off".to_owned(),
        Facts::RoundedCorner { .. } => "Expect a rounded corner, or finish it by hand".to_owned(),
        Facts::SnipeZone { .. } => "Expect to sand out a line there".to_owned(),
        Facts::Warp(row) => bench_list::advice(row).to_owned(),
        Facts::Overhang { overhang, .. } if overhang.stands.is_empty() => {
            "Hold up its end by hand".to_owned()
        }
        Facts::Overhang { overhang, .. } => format!(
            "Put a stand as high as the bed under it, {} past the {} roller",
            stands(&overhang.stands, unit),
            overhang.side.label()
        ),
        Facts::LoosePiece { bridged: true, .. } => {
            "If it is to stay, tie it to the board in the drawing; if it is waste, accept this".to_owned()
        }
        Facts::LoosePiece { bridged: false, .. } => {
            "Nothing holds it until the board is off the machine".to_owned()
        }
        Facts::Invisible { stands: true, .. } => "Carve one of the two sunk or incised".to_owned(),
        Facts::Invisible { .. } => "Give one of the two another depth, or let it stand".to_owned(),
        Facts::NotChecked(_) => {
            "Measure them with a straightedge, a square and feeler gauges before you carve".to_owned()
        }
        Facts::BoardShort { .. }
        | Facts::BoardNarrow { .. }
        | Facts::BoardThin { .. }
        | Facts::MachineLimit { .. }
        | Facts::CutterLimit { .. }
        | Facts::Blemish { .. }
        | Facts::SensingStrip { .. }
        | Facts::ThicknessLeft { .. } => String::new(),
    }
}

/// `800 mm and 1600 mm`: where to put stands, from the roller outwards.
pub fn stands(stands: &[Mm], unit: LengthUnit) -> String {
    let places: Vec<String> = stands.iter().map(|&at| unit.show(at)).collect();
    match places.split_last() {
        None => String::new(),
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
    }
}

/// What nobody has measured of the board: a sentence without a full stop.
pub fn not_checked(checks: &[Check]) -> String {
    let names: Vec<&str> = checks.iter().map(|check| check.label()).collect();
    format!("Not checked on this board: {}", names.join(", "))
}

fn is_a_spot(place: &ThinPlace, unit: LengthUnit) -> bool {
    place.run < SPOT || is_nothing(&unit.number(place.run))
}

/// What is as long as it is wide has no length along its axis but what snapping to the grid gives it.
const NO_LENGTH: Mm = Mm::new(1e-3);

/// Whether a thin place of standing wood is a pillar and no wall.
fn is_a_pillar(place: &ThinPlace) -> bool {
    place.held.wall.is_some_and(|wall| wall.run.ends == WallEnds::Pillar)
}

fn misplaced(side: BoardSide, free: Mm, needed: Mm, unit: LengthUnit) -> String {
    let (side, needed) = (side.label(), unit.show(needed));
    if free < Mm::ZERO {
        format!("The design runs {} past the {side}; it needs {needed} of board there", unit.show(-free))
    } else {
        format!("The design is {} from the {side}; it needs {needed} there", unit.show(free))
    }
}

fn machine_limit(bound: MachineBound, measured: Mm, limit: Mm, unit: LengthUnit) -> String {
    let (measured, limit) = (unit.show(measured), unit.show(limit));
    match bound {
        MachineBound::TooLong => format!("The board is {measured} long; the machine takes {limit}"),
        MachineBound::TooWide => format!("The board is {measured} wide; the machine takes {limit}"),
        MachineBound::TooThick => format!("The board is {measured} thick; the machine takes {limit}"),
        MachineBound::TooShort => {
            format!("The board is {measured} long; without a carrier it must be {limit}")
        }
        MachineBound::TooNarrow => {
            format!("The board is {measured} wide; without a carrier it must be {limit}")
        }
        MachineBound::TooThin => {
            format!("The board is {measured} thick; without a carrier it must be {limit}")
        }
    }
}

fn cutter_limit(refusal: CutterRefusal, cutter: Option<&str>, unit: LengthUnit) -> String {
    match (refusal, cutter) {
        (CutterRefusal::TooDeep { depth, edges }, None) => {
            format!("The cut is {} deep; this cutter's edges reach {}", unit.show(depth), unit.show(edges))
        }
        (CutterRefusal::TooDeep { depth, edges }, Some(cutter)) => {
            format!("The cut is {} deep; the edges of {cutter} reach {}", unit.show(depth), unit.show(edges))
        }
        (CutterRefusal::PointOnAFloor, None) => {
            "A pointed cutter leaves a ridged floor and sloping sides".to_owned()
        }
        (CutterRefusal::PointOnAFloor, Some(cutter)) => {
            format!("{cutter} is pointed: it leaves a ridged floor and sloping sides")
        }
        (CutterRefusal::NoPoint, None) => "This cutter has no point and cannot cut a V".to_owned(),
        (CutterRefusal::NoPoint, Some(cutter)) => format!("{cutter} has no point and cannot cut a V"),
    }
}

/// Which cut beside a wall alone would make it sound; empty where none would.
/// A width that was measured in a picture.
fn in_doubt(width: Mm, [from, to]: [Mm; 2], unit: LengthUnit) -> String {
    format!(
        "Measured {}, {} to {} from this picture: a sharper picture or a drawing would settle it",
        fine(unit, width),
        unit.number_fine(from),
        fine(unit, to)
    )
}

fn gentler_cut(gentler: Gentler, unit: LengthUnit) -> String {
    let feed = |feed: f64| format!("{}/min", unit.show(Mm::new(feed)));
    match (gentler.pass, gentler.feed) {
        (Some(pass), Some(slow)) => format!(
            "It is sound with passes no deeper than {} beside it, or with a feed no faster than {}",
            fine(unit, pass),
            feed(slow)
        ),
        (Some(pass), None) => {
            format!("It is sound with passes no deeper than {} beside it", fine(unit, pass))
        }
        (None, Some(slow)) => format!("It is sound with a feed no faster than {} beside it", feed(slow)),
        (None, None) => String::new(),
    }
}

fn thin_wall(width: Mm, place: &ThinPlace, stand_in: Option<&str>, unit: LengthUnit) -> String {
    let wall = if is_a_pillar(place) {
        let height = place.held.wall.map_or(Mm::ZERO, |wall| wall.height);
        format!("A pillar {} thick that stands {} tall by itself", fine(unit, width), unit.show_fine(height))
    } else if width == Mm::ZERO {
        "Standing wood thins to nothing where two carved places touch".to_owned()
    } else if is_a_spot(place, unit) {
        format!("A wall {} thick at one spot", fine(unit, width))
    } else {
        format!("A wall {} thick over a length of {}", fine(unit, width), unit.show(place.run))
    };
    let wall = match place.held.wall.as_ref().and_then(limits::support) {
        None => wall,
        Some(support) => format!("{wall}, {support}"),
    };
    let limit = fine(unit, place.held.limit);
    match (&place.cutter, stand_in) {
        (None, None) => format!("{wall}; the limit is {limit}"),
        (Some(cutter), None) => format!("{wall}; with {cutter} the limit is {limit}"),
        (None, Some(wood)) => {
            format!("{wall}; the limit is {limit} ({wood} stands in: this wood has no published strength)")
        }
        (Some(cutter), Some(wood)) => format!(
            "{wall}; with {cutter} the limit is {limit} ({wood} stands in: this wood has no published strength)"
        ),
    }
}

fn lost_tip(apex: f64, place: &ThinPlace, stand_in: Option<&str>, unit: LengthUnit) -> String {
    let (lost, limit) = (fine(unit, place.run), fine(unit, place.held.limit));
    let degrees = apex.to_degrees();
    match stand_in {
        None => format!("The last {lost} of a {degrees:.0}\u{b0} point is thinner than {limit}, at any size"),
        Some(wood) => format!(
            "The last {lost} of a {degrees:.0}\u{b0} point is thinner than {limit}, at any size ({wood} stands in: this wood has no published strength)"
        ),
    }
}

fn blocked_groove(width: Mm, place: &ThinPlace, unit: LengthUnit) -> String {
    let (width, limit) = (fine(unit, width), fine(unit, place.held.limit));
    let cutter = place.cutter.as_deref().unwrap_or("the cutter");
    if place.run < NO_LENGTH {
        format!("A hole {width} across; {cutter} needs {limit}")
    } else if is_a_spot(place, unit) {
        format!("A groove {width} wide at one spot; {cutter} needs {limit}")
    } else {
        let run = unit.show(place.run);
        format!("A groove {width} wide over a length of {run}; {cutter} needs {limit}")
    }
}

/// Beside a finding's mark: how many more lie where it does.
pub fn more_marks(more: usize) -> String {
    if more > 99 { "99+".to_owned() } else { format!("+{more}") }
}
