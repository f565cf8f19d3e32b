//! Words of the window: tracing.

#![expect(missing_docs, reason = "a sentence says what it says")]

use crate::trace::Colour;
use crate::units::trimmed;
use crate::words::count;

pub const NO_PICTURE_YET: &str = "This drawing was not traced from a picture";
pub const WHAT_A_PICTURE_IS_FOR: &str = "A photograph of a drawing, a scan or a customer's logo becomes an outline here, and is proofed as you set it";
pub const PICTURE: &str = "Picture with the outline over it";
pub const OUTLINE_WAS_CHANGED: &str = "The outline was changed after it was traced. To trace again takes that change back; Undo brings it here again.";
pub const AS_CARVED: &str = "As carved";
pub const PICTURE_LENGTH: &str = "Length of the picture";
pub const PICTURE_WIDTH: &str = "Width of the picture";
pub const LENGTH: &str = "Length";
pub const WIDTH: &str = "Width";
pub const SHEET: &str = "A photographed sheet";
pub const MARK_THE_CORNERS: &str = "Mark its corners";
pub const USE_THE_WHOLE_PICTURE: &str = "Use the whole picture";
pub const DRAG_A_CORNER: &str = "Drag a corner to correct it. Length and width are the sheet's own";
pub const INK: &str = "What is carved";
pub const DARK: &str = "Dark";
pub const LIGHT: &str = "Light";
pub const COLOURS: &str = "Colours";
pub const HALF_WAY: &str = "Half way between ink and paper";
pub const THRESHOLD: &str = "Threshold";
pub const EVEN_OUT_THE_LIGHT: &str = "Even out the light";
pub const FOR_A_PHOTOGRAPH: &str = "For a photograph of paper; not for ink wider than a fifth of the picture";
pub const HOW_MANY_COLOURS: &str = "At most";
pub const CLEANING: &str = "Specks, gaps and corners";
pub const SPECKS: &str = "Specks under";
pub const GAPS: &str = "Gaps under";
pub const AS_WIDE_AS_THE_CUTTER: &str = "Both as wide as the cutter";
pub const LEAVES_WHAT_THE_CUTTER_CANNOT_CUT: &str =
    "Leaves out what is smaller than the cutter, and closes what it cannot enter";
pub const CORNERS_FROM: &str = "Corners from";
pub const CURVES_WITHIN: &str = "Curves within";
pub const CLICK_TO_LEAVE_OUT: &str =
    "Click a piece to leave it out, or a hole to fill it; click the cross to bring it back";
pub const TAKE_EVERYTHING_BACK: &str = "Bring all back";
pub const TOO_TANGLED: &str = "Its outlines cross each other too often; leave out larger specks";

/// The file that is shown.
pub fn heading(name: &str, [across, down]: [u32; 2]) -> String {
    format!("{name}, {across} \u{d7} {down} pixels")
}

/// A corner to be marked; `which` is said in words.
pub fn click_corner(number: usize, which: &str) -> String {
    format!("Click corner {number}: {which}")
}

/// The corners of a sheet in the order they are marked.
pub const LOWER_LEFT: &str = "lower left";
pub const LOWER_RIGHT: &str = "lower right";
pub const UPPER_RIGHT: &str = "upper right";
pub const UPPER_LEFT: &str = "upper left";

/// What was found.
pub fn found([pieces, holes]: [usize; 2], specks: usize) -> String {
    let [pieces, holes] = [count(pieces, "piece", "pieces"), count(holes, "hole", "holes")];
    match specks {
        0 => format!("{pieces}, {holes}"),
        _ => format!("{pieces}, {holes}; {} left out", count(specks, "speck", "specks")),
    }
}

/// A colour that can be left out.
pub fn colour(number: usize, colour: &Colour) -> String {
    format!("Colour {number}, {} %", trimmed(100.0 * colour.share, 1))
}

/// A drawing holds several pictures.
pub fn several_inside(pictures: usize) -> String {
    format!("it holds {pictures} pictures. Open it as a drawing, and choose one beside its elements")
}
