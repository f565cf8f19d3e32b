//! Words of the window: relief.

#![expect(missing_docs, reason = "a sentence says what it says")]

use crate::relief::PathKind;
use crate::relief::time::JobTime;
use crate::units::{LengthUnit, Mm};
use crate::words::{count, duration};

pub const CLEARING: &str = "Clearing";
pub const HOW_THE_MACHINE_CLEARS_THE_LOWERED_PLACES: &str =
    "How the machine clears the lowered places. Passes, surface and time follow from it";
pub const LINES: &str = "Lines";
pub const ALONG: &str = "Along";
pub const ALONG_THE_BOARD_WITH_THE_GRAIN: &str = "Along the board, with the grain";
pub const ACROSS: &str = "Across";
pub const ACROSS_THE_BOARD: &str = "Across the board";
pub const STEPOVER: &str = "Stepover";
pub const FROM_ONE_CLEARING_LINE_TO_THE_NEXT: &str =
    "From one clearing line to the next, as a share of the cutter's diameter (of a tapered ball, its ball's)";
pub const PASS_DEPTH: &str = "Pass depth";
pub const THE_DEEPEST_CUT_IN_ONE_PASS_AS: &str =
    "The deepest cut in one pass, as a share of the cutter's diameter (of a tapered ball, its ball's)";
pub const USUAL_CLEARING: &str = "Usual clearing";
pub const NONE_ONE_CUTTER_DOES_IT_ALL: &str = "None: one cutter does it all";
pub const FIRST: &str = "First";
pub const A_LARGER_CUTTER_CLEARS_FIRST_THE_JOBS: &str =
    "A larger cutter clears first; the job's cutter goes where it could not reach";
pub const LARGER_CLEARING_CUTTER: &str = "Larger clearing cutter";
pub const CUTTERS_OWN: &str = "Cutter's own";
pub const THE_CUTTERS_OWN: &str = "the cutter's own";
pub const WOOD_LEFT_UNDER_A_PIERCED_OUTLINE_TO: &str =
    "Wood left under a pierced outline to hold the cut-out piece in place";
pub const HOLDING_BRIDGES: &str = "Holding bridges";
pub const BRIDGE_LENGTH: &str = "Bridge length";
pub const LENGTH: &str = "Length";
pub const BRIDGE_HEIGHT: &str = "Bridge height";
pub const HEIGHT: &str = "Height";
pub const BRIDGES_APART: &str = "Bridges apart";
pub const APART: &str = "Apart";
pub const THE_GROUND: &str = "the ground";
pub const DONE: &str = "Done";
pub const PAUSE: &str = "Pause";
pub const PAUSE_THE_CARVE: &str = "Pause the carve";
pub const PLAY: &str = "Play";
pub const PLAY_THE_CARVE: &str = "Play the carve";
pub const DRAG_TO_ANY_SECOND_OF_THE_CARVE: &str = "Drag to any second of the carve";
pub const CLOCK: &str = "Clock";
pub const NOTHING_IS_CARVED: &str = "Nothing is carved";
pub const WORKING_OUT_THE_PASSES: &str = "Working out the passes";
pub const HOW_LONG_THE_WHOLE_CARVE_TAKES_ON: &str = "How long the whole carve takes on the screen";
pub const SPEED_OF_THE_CLOCK: &str = "Speed of the clock";
pub const WHOLE: &str = "Whole";
pub const SHOW_THE_WHOLE_CARVE: &str = "Show the whole carve";
pub const TIME: &str = "Time";
pub const HOW_LONG_IT_TAKES_BY_ELEMENT_AND: &str = "How long it takes, by element and by cutter";
pub const SECTION: &str = "Section";
pub const THE_CUT_THROUGH_THE_SURFACE_ALONG_A: &str = "The cut through the surface along a line";
pub const THE_SIDE_THE_LIGHT_COMES_FROM_0: &str =
    "The side the light comes from: 0 is the right end, 90 the far edge, 180 the left end";
pub const LIGHT_SIDE: &str = "Light side";
pub const UP: &str = "° up";
pub const HOW_HIGH_THE_LIGHT_IS_LOW_LIGHT: &str = "How high the light is; low light shows the relief best";
pub const LIGHT_HEIGHT: &str = "Light height";
pub const DRAG_THE_LIGHT_ROUND_THE_BOARD_NEAR: &str =
    "Drag the light round the board; near the middle it is high";
pub const LIGHT_DIAL: &str = "Light dial";
pub const PASSES: &str = "Passes";
pub const NO_PASSES_NOTHING_IS_CARVED_OR_NO: &str = "No passes: nothing is carved, or no cutter fits";
pub const CARVED_SURFACE: &str = "carved surface";
pub const CUTTING_THROUGH_THE_SURFACE: &str = "Cutting through the surface";
pub const CHOOSE_SECTION_ABOVE_AND_DRAG_A_LINE: &str =
    "Choose Section above and drag a line over the board, or type its ends";
pub const A_ALONG: &str = "A along";
pub const A_ACROSS: &str = "A across";
pub const B_ALONG: &str = "B along";
pub const B_ACROSS: &str = "B across";
pub const CUT_ACROSS_THE_MIDDLE: &str = "Cut across the middle";
pub const A_LINE_FROM_EDGE_TO_EDGE: &str = "A line from edge to edge";
pub const NO_SECTION: &str = "No section";
pub const REMOVE_THE_LINE: &str = "Remove the line";
pub const TURN: &str = "Turn";
pub const DRAG_TO_TURN_THE_BOARD: &str = "Drag to turn the board";
pub const DRAG_OVER_THE_BOARD_TO_DRAW_THE: &str =
    "Drag over the board to draw the line of the cut; the cut is shown below";
pub const DRAW_A_SECTION: &str = "Draw a section";
pub const ZOOM_OUT: &str = "Zoom out";
pub const ZOOM_IN: &str = "Zoom in";
pub const WHOLE_BOARD: &str = "Whole board";
pub const FROM_ABOVE: &str = "From above";
pub const RESUME: &str = "Resume";
pub const WORK_OUT_THE_SURFACE_AFTER_ALL: &str = "Work out the surface after all";
pub const CANCELLED: &str = "Cancelled";
pub const CARVING_THE_QUICK_SURFACE: &str = "Carving the quick surface";
pub const SURFACE_FROM_BEFORE_THE_LAST_CHANGE: &str = "Surface from before the last change";
pub const AT_THIS_MOMENT_OF_THE_CARVE: &str = "At this moment of the carve";
pub const WHAT_THE_CUTTERS_LEAVE: &str = "What the cutters leave";
pub const QUICK_PREVIEW_IGNORING_THE_CUTTERS_WIDTH: &str = "Quick preview, ignoring the cutter's width";
pub const BY_ELEMENT: &str = "By element";
pub const BY_CUTTER: &str = "By cutter";
pub const HOW_LONG_DID_THE_CARVE_TAKE: &str = "How long did the carve take?";
pub const N83_OR_1_23: &str = "83 or 1:23";
pub const MINUTES_OR_HOURS_MINUTES_SPELK_CORRECTS_THIS: &str =
    "Minutes, or hours:minutes. Spelk corrects this job's times by it";
pub const HOW_LONG_THE_CARVE_TOOK: &str = "How long the carve took";
pub const CORRECT_THE_TIMES: &str = "Correct the times";
pub const DROP_THE_CORRECTION: &str = "Drop the correction";

/// What a screen reader calls the buttons `Along` and `Across`.
pub fn clearing_lines(direction: &str) -> String {
    format!("Clearing lines {}", direction.to_lowercase())
}

/// How far apart clearing lines are, and how deep a pass goes.
pub fn lines_apart(apart: Mm, deep: Mm, unit: LengthUnit) -> String {
    format!("Lines {} apart, {} deep a pass", unit.show(apart), unit.show(deep))
}

/// The machine waits for the next cutter.
pub fn change_to(cutter: &str) -> String {
    format!("Change to {cutter}")
}

/// The cutter is above the board, on its way to a line of this kind.
pub fn travels(cutter: &str, element: &str, kind: PathKind) -> String {
    format!("{cutter} travels to {element} ({})", kind.label().to_lowercase())
}

/// The cutter goes down into the wood.
pub fn plunges(cutter: &str, element: &str, kind: PathKind) -> String {
    format!("{cutter} plunges into {element} ({})", kind.label().to_lowercase())
}

/// The cutter cuts, so deep under the face.
pub fn cuts(cutter: &str, element: &str, kind: PathKind, depth: Mm, unit: LengthUnit) -> String {
    format!("{cutter} cuts {element} {} deep ({})", unit.show(depth), kind.label().to_lowercase())
}

/// The cutter lifts off the wood.
pub fn lifts(cutter: &str, element: &str, kind: PathKind) -> String {
    format!("{cutter} lifts off {element} ({})", kind.label().to_lowercase())
}

/// The clock's face: `12:05 of 1:02:05`, from seconds.
pub fn second_of(second: f64, total: f64) -> String {
    format!("{} of {}", face(second), face(total))
}

fn face(seconds: f64) -> String {
    #[expect(clippy::cast_sign_loss, reason = "a time that has passed is not negative")]
    let whole = seconds.max(0.0).round() as u64;
    let (hours, minutes, seconds) = (whole / 3600, whole / 60 % 60, whole % 60);
    if hours > 0 { format!("{hours}:{minutes:02}:{seconds:02}") } else { format!("{minutes}:{seconds:02}") }
}

/// How long the whole carve takes on the screen, in seconds; `None` is as long as it takes on the machine.
pub fn speed(whole_in: Option<f64>) -> String {
    match whole_in {
        Some(seconds) if seconds < 60.0 => format!("In {seconds:.0} s"),
        Some(seconds) => format!("In {:.0} min", seconds / 60.0),
        None => "Real time".to_owned(),
    }
}

/// What a screen reader calls the buttons `Time` and `Section`.
pub fn of_the_carve(desk: &str) -> String {
    format!("{desk} of the carve")
}

/// Where the board is seen from: the eighth of a turn from the reference edge, counter-clockwise, and how high;
/// `None` is from above.
pub fn seen_from(eighth: Option<usize>, up_degrees: f64) -> String {
    const SIDES: [&str; 8] = [
        "the reference edge",
        "the right end and the reference edge",
        "the right end",
        "the right end and the far edge",
        "the far edge",
        "the left end and the far edge",
        "the left end",
        "the left end and the reference edge",
    ];
    match eighth {
        None => "from above".to_owned(),
        Some(eighth) => format!("from {}, {up_degrees:.0}\u{b0} up", SIDES[eighth % SIDES.len()]),
    }
}

/// How many lines of each kind a cutter makes.
pub fn lines_of(cutter: &str, lines: &[(PathKind, usize)]) -> String {
    let counted = |&(kind, number): &(PathKind, usize)| match kind {
        PathKind::ClearingAlong => count(number, "clearing line along", "clearing lines along"),
        PathKind::ClearingAcross => count(number, "clearing line across", "clearing lines across"),
        PathKind::Outline => count(number, "outline pass", "outline passes"),
        PathKind::Vee => count(number, "V path", "V paths"),
        PathKind::Pierced => count(number, "pierced pass", "pierced passes"),
    };
    format!("{cutter}: {}", lines.iter().map(counted).collect::<Vec<_>>().join(", "))
}

/// What a screen reader says of the picture of the cut.
pub fn picture_of_the_cut(words: &str) -> String {
    format!("Picture of the cut: {words}")
}

/// What a screen reader calls a field for an end of the section's line.
pub fn section_field(name: &str) -> String {
    format!("Section {name}")
}

/// What a section shows: how many carved places and the deepest, how many walls and the thinnest.
pub fn cut(length: Mm, places: (usize, Mm), walls: Option<(usize, Mm)>, unit: LengthUnit) -> String {
    let (length, deepest) = (unit.show(length), unit.show_fine(places.1));
    let carved = count(places.0, "carved place", "carved places");
    match walls {
        _ if places.0 == 0 => format!("Cut of {length}: nothing is carved along it"),
        None => format!("Cut of {length}: {carved}, deepest {deepest}"),
        Some((walls, thinnest)) => format!(
            "Cut of {length}: {carved}, deepest {deepest}; {}, thinnest {}",
            count(walls, "wall", "walls"),
            unit.show_fine(thinnest)
        ),
    }
}

/// What a screen reader says of the carved surface; `state` is what the picture is.
pub fn surface(
    design: &str,
    deepest: Option<Mm>,
    seen: &str,
    findings: usize,
    state: &str,
    unit: LengthUnit,
) -> String {
    let (findings, state) = (count(findings, "finding", "findings"), state.to_lowercase());
    match deepest {
        None => format!("Carved surface of {design}, seen {seen}; {findings}; {state}"),
        Some(deepest) => format!(
            "Carved surface of {design}, deepest {}, seen {seen}; {findings}; {state}",
            unit.show(deepest)
        ),
    }
}

/// How long a carve takes.
pub fn whole_carve(time: &JobTime) -> String {
    let [total, cutting, moving, changing] =
        [time.total, time.cutting, time.moving, time.changing].map(duration);
    let sum = match time.changes {
        0 => format!("{total} in all: cutting {cutting}, moving {moving}"),
        1 => format!("{total} in all: cutting {cutting}, moving {moving}, changing the cutter {changing}"),
        times => format!(
            "{total} in all: cutting {cutting}, moving {moving}, changing the cutter {times} times {changing}"
        ),
    };
    if (time.factor - 1.0).abs() < 1e-9 {
        sum
    } else {
        format!("{sum}. These times are {:.2} times the computed ones, after a carve you timed", time.factor)
    }
}

/// How long one element or cutter takes.
pub fn time_of(seconds: f64, name: &str) -> String {
    format!("{} \u{b7} {name}", duration(seconds))
}

/// A time that is typed is too far from the computed one.
pub fn not_the_same_carve(typed: f64, computed: f64) -> String {
    format!(
        "You typed {}, and Spelk computes {}: that is too far apart. Check the cutter's feeds and the machine first",
        duration(typed),
        duration(computed)
    )
}

/// What is typed is no time.
pub fn not_a_time(typed: &str) -> String {
    format!("'{typed}' is not a time: type minutes, as 83, or hours and minutes, as 1:23")
}
