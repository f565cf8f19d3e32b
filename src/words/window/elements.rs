//! Words of the window: elements.

#![expect(missing_docs, reason = "a sentence says what it says")]

use super::size;
use crate::design::{Color, DrawingUnit};
use crate::job::Treatment;
use crate::trace::colour_name;
use crate::units::{LengthUnit, Mm, trimmed};
use crate::words::{count, listed, thousands};

pub const CLEARANCE: &str = "Clearance";
pub const CUT_OUT_MARGIN: &str = "Cut-out margin";
pub const KEEP_THE_OTHERS: &str = "Keep the others";
pub const UNTICK_TO_TAKE_THEM_OUT_OF_THE: &str =
    "Untick to take them out of the design; their shape stays cut out";
pub const PAST_THE_OUTLINES: &str = "Past the outlines";
pub const GROUND_MARGIN: &str = "Ground margin";
pub const GROUND_CORNER: &str = "Ground corner";
pub const LENGTHS_ARE_AS_CARVED_AT_THE_JOBS: &str = "Lengths are as carved, at the job's present size";
pub const CHOOSE_ELEMENTS_IN_THE_LIST_OR_ON: &str = "Choose elements in the list or on the board";
pub const CHOOSE_THE_ELEMENT_TO_CUT_THEN_HOLD: &str =
    "Choose the element to cut, then hold Ctrl (Cmd on a Mac) and choose those to cut out of it";
pub const PUTS_A_SUNK_PLATE_UNDER_THE_DESIGN: &str =
    "Puts a sunk plate under the design, so that the design is in relief";
pub const PUTS_A_RAISED_FRAME_ROUND_THE_DESIGN: &str = "Puts a raised frame round the design";
pub const FINEST_DETAIL: &str = "Finest detail";
pub const SHAPE: &str = "Shape";
pub const RECTANGLE: &str = "Rectangle";
pub const OVAL: &str = "Oval";
pub const NO_GROUND_IS_DRAWN: &str =
    "No ground is drawn: the one round the words follows them. Put one under them";
pub const A_PLAIN_RECTANGLE: &str = "A plain rectangle";
pub const AN_OVAL: &str = "An oval";
pub const A_BORDER: &str = "A border";
pub const CORNER_RADIUS: &str = "Corner radius";
pub const FROM_THE_OUTLINES: &str = "From the outlines";
pub const BORDER_MARGIN: &str = "Border margin";
pub const BORDER_WIDTH: &str = "Border width";
pub const WIDTH: &str = "Width";
pub const BORDER_CORNER: &str = "Border corner";
pub const MOVE_ALONG: &str = "Move along";
pub const ALONG_THE_BOARD: &str = "Along the board";
pub const MOVE_ACROSS: &str = "Move across";
pub const ACROSS_THE_BOARD: &str = "Across the board";
pub const TIMES: &str = "Times";
pub const TIMES_ALONG_THE_BOARD: &str = "Times along the board";
pub const ALONG: &str = "along ×";
pub const ACROSS: &str = "across";
pub const TIMES_ACROSS_THE_BOARD: &str = "Times across the board";
pub const SPACING: &str = "Spacing";
pub const GAP: &str = "Gap";
pub const THE_GAP_BETWEEN_TWO_COPIES: &str = "The gap between two copies";
pub const PITCH: &str = "Pitch";
pub const FROM_THE_MIDDLE_OF_ONE_TO_THE: &str = "From the middle of one to the middle of the next";
pub const APART_ALONG: &str = "Apart along";
pub const APART_ACROSS: &str = "Apart across";
pub const EDIT_WORDS: &str = "Edit words";
pub const NEW_JOB_FROM_WORDS: &str = "New job from words";
pub const LETTER_WORDS: &str = "Letter words";
pub const WORDS: &str = "Words";
pub const ENTER_STARTS_A_NEW_LINE: &str = "Enter starts a new line";
pub const LEFT: &str = "Left";
pub const LINES_START_AT_THE_LEFT: &str = "Lines start at the left";
pub const MIDDLE: &str = "Middle";
pub const LINES_ARE_CENTRED: &str = "Lines are centred";
pub const RIGHT: &str = "Right";
pub const LINES_END_AT_THE_RIGHT: &str = "Lines end at the right";
pub const STRAIGHT: &str = "Straight";
pub const ON_A_STRAIGHT_LINE: &str = "On a straight line";
pub const ARCH: &str = "Arch";
pub const OVER_THE_TOP_OF_A_CIRCLE_AS: &str = "Over the top of a circle, as over a gate";
pub const BOWL: &str = "Bowl";
pub const ALONG_THE_BOTTOM_OF_A_CIRCLE_LIKE: &str = "Along the bottom of a circle, like a smile";
pub const RADIUS_OF_THE_ARC: &str = "Radius of the arc";
pub const RADIUS: &str = "Radius";
pub const A_FEW_LETTERS_OF_ITS_NAME: &str = "a few letters of its name";
pub const LETTERS_OF_THE_FONTS_NAME: &str = "Letters of the font's name";
pub const NO_FONT_ON_THIS_MACHINE_HAS_THAT: &str = "No font on this machine has that name";
pub const CAPITAL_HEIGHT: &str = "Capital height";
pub const LETTER_SPACING: &str = "Letter spacing";
pub const EXTRA_LETTER_SPACING: &str = "Extra letter spacing";
pub const LINE_SPACING: &str = "Line spacing";
pub const TIMES_THE_CAPITAL: &str = " × capital height";
pub const FROM_BASELINE_TO_BASELINE_AS_A_MULTIPLE: &str =
    "From baseline to baseline, as a multiple of the capital height";
pub const TYPE_WORDS_TO_SEE_THEM_HERE: &str = "Type words to see them here";
pub const LOOKING_FOR_THE_FONTS_OF_THIS_MACHINE: &str = "Looking for the fonts of this machine…";
pub const CHECK_AS_RAISED_LETTERS_ON_A_PUBLIC: &str = "Check as raised letters on a public sign";
pub const CARVED: &str = "Carved";
pub const TREATMENT_OF_THE_WORDS: &str = "Treatment of the words";
pub const ABOVE: &str = "Above";
pub const IN_THE_MIDDLE: &str = "In the middle";
pub const BELOW: &str = "Below";
pub const CHANGE_WORDS: &str = "Change words";
pub const ADD_WORDS: &str = "Add words";
pub const OPEN_AS_A_JOB: &str = "Open as a job";
pub const USE_THE_JOBS_DEPTH_AND_FOLLOW_IT: &str = "Use the job's depth, and follow it when it changes";
pub const AS_THE_JOB: &str = "As the job";
pub const DEPTH_AS_THE_JOB: &str = "Depth as the job";
pub const THE_JOBS_DEPTH: &str = "the job's depth";
pub const DEPTH: &str = "Depth";
pub const DEPTHS_DIFFER: &str = "Depths differ";
pub const DEPTH_OF_THE_CHOSEN: &str = "Depth of the chosen";
pub const SEVERAL_CUTTERS: &str = "Several cutters";
pub const CUTTER: &str = "Cutter";
pub const THE_CUTTER_FOR_THE_CHOSEN_ELEMENTS: &str = "The cutter for the chosen elements";
pub const CUTTER_OF_THE_CHOSEN: &str = "Cutter of the chosen";
pub const TREATMENT_OF_ALL_ELEMENTS: &str = "Treatment of all elements";
pub const TREATMENT_OF_THE_CHOSEN: &str = "Treatment of the chosen";
pub const LESS: &str = "Shorter list";
pub const SHOW_A_SHORTER_LIST: &str = "Show a shorter list";
pub const MORE: &str = "Longer list";
pub const FIND_BY_NAME: &str = "Find by name";
pub const ANY_COLOUR: &str = "Any colour";
pub const COLOUR: &str = "Colour";
pub const CHOOSE_THESE: &str = "Choose these";
pub const CHOOSE_WHAT_IS_LISTED: &str = "Choose every element that is listed";
pub const SHOW_A_LONGER_LIST: &str = "Show a longer list";
pub const WHAT_YOU_CAN_DO_WITH_ELEMENTS: &str = "What you can do with elements";
pub const ELEMENTS: &str = "Elements";
pub const NAME_OF_THE_ELEMENT: &str = "Name of the element";
pub const MIXED: &str = "Mixed";
pub const MOVE_THE_CHOSEN: &str = "Move the chosen elements";
pub const RESIZE_THE_CHOSEN: &str = "Resize the chosen elements";
pub const NEW_SIZE: &str = "New size";
pub const OUTWARDS: &str = "Outwards";
pub const SEVERAL_TREATMENTS: &str = "Several treatments";
pub const SHOW_IT_ON_THE_BOARD_AGAIN: &str = "Show it on the board again";
pub const HIDE_IT_ON_THE_BOARD_TO_SEE: &str =
    "Hide it on the board to see what is under it; Spelk still carves it";
pub const HOW_LARGE_IS_THIS_DRAWING: &str = "How large is this drawing?";
pub const DECIDE_LATER: &str = "Decide later";
pub const KEEPS_THE_SIZE_AS_SPELK_READ_IT: &str =
    "Keeps the size as Spelk read it. To choose again: Design, Size of the drawing…";
pub const TO_BE_SURE_SET_THE_PAGE_SIZE: &str =
    "To be sure, set the page size in millimetres or inches in your drawing program";
pub const FAR_BEYOND_THE_BOARD: &str = "far beyond the board";

/// What a screen reader calls the button that does what the dialog is about.
pub fn now(label: &str) -> String {
    format!("{label} now")
}

/// What the dialog for cutting out would do.
pub fn cuts_out(tools: &[&str], from: &str) -> String {
    format!("Cuts {} out of {from}", listed(tools))
}

/// What the dialog for moving would do.
pub fn moves(elements: &[&str]) -> String {
    format!("Moves {}", listed(elements))
}

/// What the dialog for resizing would do.
pub fn resizes(elements: &[&str]) -> String {
    format!("Resizes {}, about the middle of all that is chosen", listed(elements))
}

/// What the dialog for growing and shrinking would do.
pub fn grows(elements: &[&str]) -> String {
    format!("Moves the outlines of {} outwards, or inwards with a minus", listed(elements))
}

/// Beside elements that a hand resizes: how large they are, and how many times as large.
pub fn resized_to(carved: [Mm; 2], factor: f64, unit: LengthUnit) -> String {
    format!("{}, {} %", size(carved, unit), trimmed(factor * 100.0, 1))
}

/// What is smoothed.
pub fn smooths(names: &[&str]) -> String {
    format!("Smooths {}: fills slits narrower than this, and takes away what is thinner", listed(names))
}

/// What the dialog for repeating would do.
pub fn repeats(elements: &[&str]) -> String {
    match elements {
        [one] => format!("Repeats {one}; the copies belong to it"),
        several => format!("Repeats {}; the copies belong to them", listed(several)),
    }
}

/// What a screen reader calls the buttons `Left`, `Middle` and `Right`.
pub fn lines_to_the(side: &str) -> String {
    format!("Lines to the {}", side.to_lowercase())
}

/// The font that is chosen.
pub fn font(name: &str) -> String {
    format!("Font: {name}")
}

/// What a screen reader says of the picture of the words; nothing is known of words that cannot be set.
pub fn picture_of_the_words(carved: Option<[Mm; 2]>, unit: LengthUnit) -> String {
    match carved {
        None => "The words as carved".to_owned(),
        Some(carved) => format!("The words as carved: {}", size(carved, unit)),
    }
}

/// How large words come out.
pub fn as_carved(carved: [Mm; 2], unit: LengthUnit) -> String {
    format!("{} as carved", size(carved, unit))
}

/// Where words go: `Above of the design` and so on.
pub fn spot(place: &str, design: &str) -> String {
    format!("{place} of {design}; Move takes them elsewhere")
}

/// The cutter of elements that have none of their own.
pub fn as_the_job(cutter: &str) -> String {
    format!("As the job: {cutter}")
}

/// How many elements there are, and how many of them are chosen.
pub fn chosen(chosen: usize, of: usize) -> String {
    if chosen == 0 {
        count(of, "element", "elements")
    } else {
        format!("{} of {} chosen", thousands(chosen), thousands(of))
    }
}

/// What a screen reader calls a row of the list.
pub fn element(name: &str) -> String {
    format!("Element {name}")
}

/// What a screen reader calls the row of a group.
pub fn group(name: &str, elements: usize) -> String {
    format!("Group {name}, {}", count(elements, "element", "elements"))
}

/// A group, where it is hidden or shown.
pub fn the_group(name: &str) -> String {
    format!("the group {name}")
}

/// In the row of a group: how many elements it has.
pub fn elements_in_group(elements: usize) -> String {
    thousands(elements)
}

/// A group's hover.
pub fn group_hover(path: &str) -> String {
    format!("{path}\nA click chooses every element in this group")
}

/// Opens a group of the list.
pub fn open_group(name: &str) -> String {
    format!("Open the group {name}")
}

/// Closes a group of the list.
pub fn close_group(name: &str) -> String {
    format!("Close the group {name}")
}

/// What a screen reader calls the list of treatments in a group's row.
pub fn treatment_of_group(name: &str) -> String {
    format!("Treatment of the group {name}")
}

/// The hover of the list of colours.
pub fn listed_by_colour(now: &str) -> String {
    format!("{now}\nLists the elements that the drawing paints in one colour")
}

/// A colour of the drawing; `None` for several or none.
pub fn color(color: Option<Color>) -> String {
    match color {
        Some(color) => format!("{} {color}", colour_name(color.0)),
        None => "Several colours or none".to_owned(),
    }
}

/// A colour in the list of them.
pub fn color_and_count(of: Option<Color>, elements: usize) -> String {
    format!("{}: {}", color(of), count(elements, "element", "elements"))
}

/// What a screen reader calls the list of treatments in an element's row.
pub fn treatment_of(name: &str) -> String {
    format!("Treatment of {name}")
}

/// An element's hover: its name, and how it is carved.
pub fn element_hover(name: &str, treatment: Treatment, is_lettered: bool, is_hidden: bool) -> String {
    let (label, meaning) = (treatment.label(), treatment.meaning());
    let carved = format!("{name}\n{label}: {meaning}");
    match (is_lettered, is_hidden) {
        (false, false) => carved,
        (true, false) => format!("{carved}\nWords that you can edit"),
        (false, true) => format!("{carved}\nHidden on the board, but carved"),
        (true, true) => format!("{carved}\nWords that you can edit\nHidden on the board, but carved"),
    }
}

/// Shows an element that is hidden.
pub fn show(name: &str) -> String {
    format!("Show {name}")
}

/// Hides an element on the board.
pub fn hide(name: &str) -> String {
    format!("Hide {name}")
}

/// Over the board: how many elements are hidden.
pub fn hidden(elements: usize) -> String {
    if elements == 1 {
        "1 element is hidden, but carved".to_owned()
    } else {
        format!("{} elements are hidden, but carved", thousands(elements))
    }
}

/// A file does not say how large its drawing is.
pub fn size_not_stated(design: &str, board: [Mm; 2], unit: LengthUnit) -> String {
    format!(
        "The file of {design} does not state its size. Choose the right one: each is drawn on your board of {}",
        size(board, unit)
    )
}

/// What a screen reader calls a size that a drawing could have.
pub fn reading(read_in: DrawingUnit, drawn: [Mm; 2], unit: LengthUnit) -> String {
    format!("{}: {}", read_in.label(), size(drawn, unit))
}

/// Under a size that a drawing could have: the unit it is read in.
pub fn reading_unit(read_in: DrawingUnit, is_taken: bool, is_larger_than_board: bool) -> String {
    let unit = read_in.label();
    match (is_taken, is_larger_than_board) {
        (false, false) => unit.to_owned(),
        (true, false) => format!("{unit}, as Spelk read it"),
        (false, true) => format!("{unit}, larger than the board"),
        (true, true) => format!("{unit}, as Spelk read it, larger than the board"),
    }
}

/// Turns outlines that do not close into lines.
pub fn carve_as_lines(outlines: usize) -> String {
    format!("Carve {} as lines", count(outlines, "open outline", "open outlines"))
}

/// Traces a picture of the drawing; its number where there are several.
pub fn trace_picture_inside(number: usize, pictures: usize) -> String {
    if pictures == 1 { "Trace its picture".to_owned() } else { format!("Trace picture {number}") }
}

/// Removes pieces and holes that are too small to be intended.
pub fn remove_specks(specks: usize) -> String {
    format!("Remove {}", count(specks, "speck", "specks"))
}
