//! Words of the window: shell.

#![expect(missing_docs, reason = "a sentence says what it says")]

use super::size;
use crate::job::{Ends, Frame};
use crate::shop::ReferenceWall;
use crate::units::{LengthUnit, Mm, NEWTONS_PER_POUND, trimmed};
use crate::words::limits::short_source;
use crate::words::{count, fine, thousands};

pub const BOARD: &str = "Board";
pub const TROUBLE: &str = "Trouble";
pub const PUT_AWAY: &str = "Put away";
pub const THE_VERDICT: &str = "The verdict";
pub const THE_MIDDLE: &str = "The middle";
pub const THE_SIZE_STRIP: &str = "The size strip";
pub const THE_MESSAGES: &str = "The messages";
pub const F10_OR_ALT_AND_A_LETTER: &str = "F10, or Alt and a letter";
pub const OPENS_THE_FIRST_MENU_OR_THAT_OF: &str =
    "Opens the first menu, or the one whose name begins with the letter";
pub const SETTINGS: &str = "Settings";
pub const FINDINGS: &str = "Findings";
pub const ENDS_AND_SIZE: &str = "Ends and size";
pub const CUTTER: &str = "Cutter";
pub const BOARD_LENGTH: &str = "Board length";
pub const LENGTH: &str = "Length";
pub const BOARD_WIDTH: &str = "Board width";
pub const WIDTH: &str = "Width";
pub const BOARD_THICKNESS: &str = "Board thickness";
pub const THICKNESS: &str = "Thickness";
pub const WOOD: &str = "Wood";
pub const MACHINE: &str = "Machine";
pub const DEPTH: &str = "Depth";
pub const ENDS: &str = "Allowance";
pub const FINISHED_LENGTH: &str = "Finished length";
pub const FINISHED_WIDTH: &str = "Finished width";
pub const SCALE: &str = "Scale";
pub const AS_DRAWN: &str = "As drawn";
pub const THE_DRAWINGS_OWN_SIZE: &str = "The drawing's own size";
pub const AS_LARGE_AS_THIS_BOARD_ALLOWS_FOLLOWS: &str = "As large as this board allows; follows the board";
pub const LARGEST_THAT_FITS: &str = "Largest that fits";
pub const THE_SMALLEST_SIZE_AT_WHICH_NO_WALL: &str =
    "The smallest size at which no wall or groove is under its limit";
pub const USED_LATELY: &str = "Used lately";
pub const THE_OTHERS: &str = "The others";
pub const LEAST_SOUND: &str = "Least sound";
pub const CLICK_A_PIECE: &str = "Click a piece";
pub const LEAVES_IT_OUT_OR_FILLS_A_HOLE: &str =
    "Leaves it out; in a hole, fills it; on a cross, brings it back";
pub const MOVES_THE_PICTURE: &str = "Moves the picture";
pub const DRAG: &str = "Drag";
pub const MOVES_THE_BOARD: &str = "Moves the board";
pub const WHEEL_OR_PINCH: &str = "Wheel, or pinch";
pub const ZOOMS_IN_AND_OUT_AT_THE_POINTER: &str = "Zooms in and out at the pointer";
pub const DOUBLE_CLICK: &str = "Double click";
pub const SHOWS_THE_WHOLE_BOARD: &str = "Shows the whole board";
pub const CLICK_A_NUMBERED_MARK: &str = "Click a numbered mark";
pub const GOES_TO_THAT_FINDING_THE_LIST_SHOWS: &str = "Goes to that finding; the list shows its advice";
pub const CLICK_AN_ELEMENT: &str = "Click an element";
pub const CHOOSES_IT_HOLD_CTRL_OR_SHIFT_TO: &str =
    "Chooses it; hold Ctrl (Cmd on a Mac) or Shift to add it to the others";
pub const SHIFT_AND_DRAG: &str = "Shift and drag";
pub const CHOOSES_WHAT_LIES_IN_THE_BOX: &str = "Chooses the elements that lie in the box as well";
pub const DOUBLE_CLICK_IN_THE_LIST_OR_F2: &str = "Double click in the list, or F2";
pub const GIVES_AN_ELEMENT_ANOTHER_NAME: &str = "Gives an element another name";
pub const RIGHT_CLICK_IN_THE_LIST: &str = "Right click in the list";
pub const SHOWS_WHAT_YOU_CAN_DO_WITH_THE: &str = "Shows what you can do with the chosen elements";
pub const DRAG_WITH_MEASURE_ON: &str = "Drag, with Measure on";
pub const MEASURES_FROM_PLACE_TO_PLACE_THE_MIDDLE: &str =
    "Measures from place to place; the middle button moves the board";
pub const DRAG_WITH_MOVE_DESIGN_ON: &str = "Drag, with Move design on";
pub const MOVES_THE_DESIGN_ARROW_KEYS_NUDGE_IT: &str =
    "Moves the design; arrow keys nudge it, with Shift farther";
pub const DRAG_ON_THE_SIZE_STRIP: &str = "Drag on the size strip";
pub const SETS_THE_FINISHED_LENGTH: &str = "Sets the finished length";
pub const TAB_THEN_ARROW_KEYS: &str = "Tab, then arrow keys";
pub const REACHES_EVERY_FIELD_LIST_AND_MARK_ARROWS: &str =
    "Reaches every field, list and mark; arrows move the size handle";
pub const DROP_A_FILE: &str = "Drop a file";
pub const OPENS_IT_BESIDE_THE_JOB_THAT_IS: &str = "Opens it beside the job that is open";
pub const TURNS_THE_BOARD_WITH_THE_SECTION_TOOL: &str =
    "Turns the board; with the section tool, draws the line of the cut";
pub const SHIFT_AND_DRAG_OR_MIDDLE_DRAG: &str = "Shift and drag, or middle drag";
pub const DOUBLE_CLICK_OR_HOME: &str = "Double click, or Home";
pub const SHOWS_THE_WHOLE_BOARD_AGAIN: &str = "Shows the whole board again";
pub const ARROW_KEYS_WITH_SHIFT: &str = "Arrow keys, with Shift";
pub const CLICK_THE_SURFACE_FIRST_THEN_THEY_TURN: &str =
    "Click the surface first: then they turn and move the board; plus and minus zoom";
pub const DRAG_THE_LIGHTS_DIAL: &str = "Drag the light's dial";
pub const SETS_THE_SIDE_THE_LIGHT_COMES_FROM: &str = "Sets the side the light comes from";
pub const DRAG_ON_THE_CLOCK: &str = "Drag on the clock";
pub const SHOWS_THE_SURFACE_AT_THAT_MOMENT_OF: &str = "Shows the surface at that moment of the carve";
pub const CHANGES_THE_RIGHT_HALF_OF_EVERY_PICTURE: &str =
    "Changes the right half of every picture, and answers the question";
pub const WHEEL: &str = "Wheel";
pub const MOVES_THE_PAGE_UP_AND_DOWN: &str = "Moves the page up and down";
pub const ESCAPE: &str = "Escape";
pub const LEAVES_THE_FULL_SCREEN: &str = "Leaves the full screen";
pub const ENTER_IN_ADD: &str = "Enter, in Add";
pub const ADDS_A_SIZE_TO_THE_LIST: &str = "Adds a size to the list";
pub const USE_THIS_SIZE: &str = "Use this size";
pub const MAKES_IT_THE_SIZE_OF_THE_JOB: &str = "Makes it the size of the job";
pub const MOVES_THE_LIST_UP_AND_DOWN: &str = "Moves the list up and down";
pub const THIS_SAMPLE_SIGN_IS_ALREADY_PROOFED_THE: &str = "This sample sign is already proofed: the numbered marks show what would go wrong. Slide the handle at the bottom and watch the verdict change with the size. Then drop a drawing of your own on the window.";
pub const MOUSE_AND_KEYS: &str = "Mouse and keys";
pub const KEYS_EVERYWHERE: &str = "Keys everywhere";
pub const ABOUT_SPELK: &str = "About Spelk";
pub const SPELK_PROOFS_A_CARVING_BEFORE_YOU_COMMIT: &str = "Spelk proofs a carving before you commit a board: does this design, at this size, on this board, with this cutter, come out whole?";
pub const SPELK_MEASURES_THE_OUTLINE_ONCE_A_WALL: &str = "Spelk measures the outline once: a wall or groove is as wide as the largest circle that fits in it. Scaling multiplies every width, but the limit of cutter and wood stays the same. So a design that is sound at one size can fail at a smaller one.";
pub const CAUTIONS: &str = "Cautions";
pub const CLEAR: &str = "Clear";
pub const DROP_A_DRAWING_OR_A_SAVED_JOB: &str =
    "Drop a drawing or a saved job here, or open one from the File menu";
pub const OPENING: &str = "Opening…";

/// The title of the design's card.
pub fn design(name: &str) -> String {
    format!("Design \u{b7} {name}")
}

/// How large the design is drawn.
pub fn drawn(drawn: [Mm; 2], unit: LengthUnit) -> String {
    format!("Drawn {}", size(drawn, unit))
}

/// Its hover: length and width to the last digit, and how much there is of it.
pub fn drawn_exactly(drawn: [Mm; 2], elements: usize, segments: usize, unit: LengthUnit) -> String {
    format!(
        "{}\n{}, {}",
        exactly(drawn, unit),
        count(elements, "element", "elements"),
        count(segments, "outline segment", "outline segments")
    )
}

/// A length and a width to the last digit.
pub fn exactly([length, width]: [Mm; 2], unit: LengthUnit) -> String {
    format!("{}\n{}", unit.show_exact(length), unit.show_exact(width))
}

/// The limits of walls along the grain and across, the cutter's wall they come from, and the wood whose strength
/// is used for want of this one's.
pub fn walls(
    [along, across]: [Mm; 2],
    wall: &ReferenceWall,
    stand_in: Option<&str>,
    unit: LengthUnit,
) -> String {
    let (along, across) = (unit.show_fine(along), unit.show_fine(across));
    let source = short_source(wall);
    match stand_in {
        None => format!("Walls: {along} along, {across} across; {source}"),
        Some(wood) => format!("Walls: {along} along, {across} across; {source}; {wood} stands in"),
    }
}

/// How the ends are held: a name, and what it means.
pub fn ends(ends: Ends) -> (&'static str, &'static str) {
    match ends {
        Ends::Held => ("Keep", "Keep the roller allowance: both rollers hold the board for the whole carve"),
        Ends::Free => ("Skip", "Skip the roller allowance: you gain room, but the ends may be sniped"),
    }
}

/// What a screen reader calls the buttons `Keep` and `Skip`.
pub fn ends_named(label: &str) -> String {
    format!("{label} the roller allowance")
}

/// What the choice costs, in a few words: board where it is kept, the height of the lines where it is not.
pub fn ends_price(ends: Ends, [left, right]: [Mm; 2], step: [Mm; 2], unit: LengthUnit) -> String {
    match ends {
        Ends::Held if left == right => format!("{} each end", unit.show(left)),
        Ends::Held => format!("{} left, {} right", unit.show(left), unit.show(right)),
        Ends::Free => format!("snipe to {}", fine(unit, step[1])),
    }
}

/// The tab of the findings in a narrow window.
pub fn findings(number: usize) -> String {
    format!("Findings ({number})")
}

/// What counts as the design's size: a name, and what it means.
pub fn frame(frame: Frame) -> (&'static str, &'static str) {
    match frame {
        Frame::Outline => ("Outline", "The design's size is the box round its outlines"),
        Frame::Page => ("Page", "The design's size is the drawing's page"),
    }
}

/// The hover of the scale.
pub fn scale_hover(factor: f64) -> String {
    format!("{factor} times as large as drawn; drag or type")
}

/// The board that the size needs.
pub fn needs_a_board(needed: [Mm; 2], unit: LengthUnit) -> String {
    format!("Needs a board of {}", size(needed, unit))
}

/// Which version this is.
pub fn version(number: &str) -> String {
    format!("Version {number}")
}

/// How many messages there are.
pub fn messages(number: usize) -> String {
    count(number, "message", "messages")
}

/// Something went wrong.
pub fn problem(message: &str) -> String {
    format!("Problem: {message}")
}

/// How hard a wood is, newtons of side hardness, and what share of test pieces shaped well, per cent; nothing where
/// neither is published.
#[expect(clippy::cast_sign_loss, reason = "a hardness is not negative")]
pub fn wood_facts(hardness: Option<f64>, shaping: Option<f64>, unit: LengthUnit) -> Option<String> {
    let hardness = hardness.map(|newtons| match unit {
        LengthUnit::Millimetres => format!("hardness {} N", thousands(newtons.round() as usize)),
        _ => format!("hardness {} lbf", thousands((newtons / NEWTONS_PER_POUND).round() as usize)),
    });
    match (hardness, shaping) {
        (None, None) => None,
        (Some(hardness), None) => Some(hardness),
        (None, Some(shaping)) => Some(format!("shapes cleanly {} %", trimmed(shaping, 0))),
        (Some(hardness), Some(shaping)) => {
            Some(format!("{hardness}, shapes cleanly {} %", trimmed(shaping, 0)))
        }
    }
}

/// What is being opened.
pub fn opening(name: &str) -> String {
    format!("Opening {name}")
}

/// Which step it is at, of how many, and what that step does.
pub fn opening_step(step: usize, of: usize, what: &str) -> String {
    format!("Step {step} of {of}: {what}")
}
