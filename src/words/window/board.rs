//! Words of the window: board.

#![expect(missing_docs, reason = "a sentence says what it says")]

use super::size;
use crate::job::Placement;
use crate::proof::fit::BoardNeeded;
use crate::proof::overhang::Overhang;
use crate::shop::{Blemish, BlemishShape};
use crate::units::{LengthUnit, Mm};
use crate::words::{capitalised, finding, percent_down};

pub const BENCH_LIST: &str = "Bench list";
pub const CUP: &str = "Cup";
pub const BOW: &str = "Bow";
pub const CROOK: &str = "Crook";
pub const TWIST: &str = "Twist";
pub const UNEQUAL_WIDTH: &str = "Unequal width";
pub const OFF_SQUARE: &str = "Off square";
pub const PLANED: &str = "Planed";
pub const MOISTURE: &str = "Moisture";
pub const NOT_YET: &str = "Not yet";
pub const BOTH: &str = "Both";
pub const ROUGH: &str = "Rough";
pub const A_GAP_CANNOT_BE_NEGATIVE: &str = "a gap cannot be negative";
pub const DRAW_A_BLEMISH_AS: &str = "Draw a blemish as";
pub const BLEMISHES: &str = "Blemishes";
pub const CHOOSE_CIRCLE_RECTANGLE_OR_LINE_UNDER_THE: &str =
    "Choose Circle, Rectangle or Line under the board, then draw. Click a blemish on the board to change it";
pub const REMOVE: &str = "Remove";
pub const KIND: &str = "Kind";
pub const BLEMISH_KIND: &str = "Blemish kind";
pub const BLEMISH_ALONG: &str = "Blemish along";
pub const MIDDLE_ALONG: &str = "Middle along";
pub const BLEMISH_ACROSS: &str = "Blemish across";
pub const MIDDLE_ACROSS: &str = "Middle across";
pub const BLEMISH_DIAMETER: &str = "Blemish diameter";
pub const DIAMETER: &str = "Diameter";
pub const CORNER_ALONG: &str = "Corner along";
pub const CORNER_ACROSS: &str = "Corner across";
pub const BLEMISH_LENGTH: &str = "Blemish length";
pub const LENGTH: &str = "Length";
pub const BLEMISH_WIDTH: &str = "Blemish width";
pub const WIDTH: &str = "Width";
pub const BLEMISH_FROM_ALONG: &str = "Blemish from along";
pub const FROM_ALONG: &str = "From, along";
pub const BLEMISH_FROM_ACROSS: &str = "Blemish from across";
pub const ACROSS: &str = "across";
pub const BLEMISH_TO_ALONG: &str = "Blemish to along";
pub const TO_ALONG: &str = "To, along";
pub const BLEMISH_TO_ACROSS: &str = "Blemish to across";
pub const BLEMISH_CLEARANCE: &str = "Blemish clearance";
pub const CLEARANCE: &str = "Clearance";
pub const REFERENCE_EDGE_GRAIN_AND_FEED: &str = "reference edge · grain and feed";
pub const WHOLE_BOARD: &str = "Whole board";
pub const TRUE_SIZE: &str = "True size";
pub const NEVER_STRETCHED: &str = "A design is never stretched: letters would change their shape, and walls their thickness. Into a plate of a fixed size it is fitted, and a border fills the rest.";
pub const PLATE_LENGTH: &str = "Length of the plate";
pub const PLATE_WIDTH: &str = "Width of the plate";
pub const FIT_AND_ADD_A_BORDER: &str = "Fit and add a border";
pub const FIT: &str = "Fit";
pub const USE_IT: &str = "Use it";
pub const USE_THE_LARGEST_SIZE: &str = "Use the largest size";
pub const LARGEST_SIZE_FOR_THIS_BOARD: &str = "Largest size for this board";
pub const USE_THE_SMALLEST_BOARD: &str = "Use the smallest board";
pub const SMALLEST_BOARD_FOR_THIS_SIZE: &str = "Smallest board for this size";
pub const NEAREST_DRESSED_LUMBER: &str = "Nearest dressed lumber";
pub const NO_DRESSED_SIZE_IS_THAT_LARGE_GLUE: &str = "No dressed size is that large: glue up a panel";
pub const USE_THE_DRESSED_BOARD: &str = "Use the dressed board";
pub const MEASURE_THE_BOARD_FIRST: &str = "Measure the board first";
pub const TURN: &str = "Turn";
pub const RACK: &str = "Rack…";
pub const DO_IT: &str = "Do it";
pub const LOOK_ON_THE_RACK: &str = "Look on the rack";
pub const USE_ANOTHER_BOARD_SEE_WHICH_BOARD_ON: &str =
    "Use another board: see which board on the rack takes it";
pub const SIDE_MARGIN: &str = "Side margin";
pub const MARGIN: &str = "Margin";
pub const ALONG_EACH_LONG_EDGE_THE_MACHINES_OWN: &str = "along each long edge: the machine's own";
pub const ALONG_EACH_LONG_EDGE: &str = "along each long edge";
pub const USE_THE_MACHINES: &str = "Use the machine's";
pub const FEEDING: &str = "Feeding";
pub const CARRIER_THIS_BOARD_NEEDS_ONE: &str = "Carrier: this board needs one";
pub const CARRIER_NOT_NEEDED: &str = "Carrier: not needed";
pub const LEFT_END_AT_THE_REFERENCE_EDGE: &str = "left end at the reference edge";
pub const RIGHT_END_AT_THE_REFERENCE_EDGE: &str = "right end at the reference edge";
pub const RIGHT_END_AT_THE_FAR_EDGE: &str = "right end at the far edge";
pub const LEFT_END_AT_THE_FAR_EDGE: &str = "left end at the far edge";
pub const PHOTOGRAPH_OF_THE_BOARD: &str = "Photograph of the board";
pub const PHOTOGRAPH_THE_BOARD_FROM_STRAIGHT_ABOVE_WITH: &str =
    "Photograph the board from straight above, with all four corners in the picture, as a PNG or JPEG file";
pub const PHOTOGRAPHED_LENGTH: &str = "Photographed length";
pub const LENGTH_OF_THE_BOARD: &str = "Length of the board";
pub const PHOTOGRAPHED_WIDTH: &str = "Photographed width";
pub const WIDTH_OF_THE_BOARD: &str = "Width of the board";
pub const NO_PHOTOGRAPH_YET: &str = "No photograph yet";
pub const DRAG_A_CORNER_TO_CORRECT_IT: &str = "Drag a corner to correct it";
pub const PHOTOGRAPH: &str = "Photograph";
pub const LAY_IT_UNDER_THE_DESIGN: &str = "Lay it under the design";
pub const MARK_AGAIN: &str = "Mark again";
pub const TURN_THE_DESIGN: &str = "Turn the design";
pub const FIND_A_PLACE: &str = "Find a place";
pub const OFFSET: &str = "Offset";
pub const OFFSET_ALONG: &str = "Offset along";
pub const FROM_THE_LEFT_END: &str = "From the left end";
pub const OFFSET_ACROSS: &str = "Offset across";
pub const FROM_THE_REFERENCE_EDGE: &str = "From the reference edge";
pub const TRUE_SIZE_ON_THIS_SCREEN: &str = "True size on this screen";
pub const HOLD_A_BANK_CARD_AGAINST_THE_SCREEN: &str =
    "Hold a bank card against the screen and slide until the drawn card is the same size";
pub const SIZE_OF_THE_CARD: &str = "Size of the card";
pub const CARD_A_LITTLE_SMALLER: &str = "Card a little smaller";
pub const CARD_A_LITTLE_LARGER: &str = "Card a little larger";
pub const CARDS_ISO_IEC_7810_ID_1_OR: &str =
    "Cards: ISO/IEC 7810, ID-1. Or hold a rule against the marks under the card";
pub const SHOW_THE_BOARD_AT_TRUE_SIZE: &str = "Show the board at true size";

/// The button of an offer in the fit window, as a screen reader calls it.
pub fn do_it(changes: &str) -> String {
    format!("Do it: {changes}")
}

/// How many checks of the bench list nobody has made, and the wood left under the deepest cut.
pub fn bench_list(unchecked: usize, checks: usize, wood_left: Mm, unit: LengthUnit) -> String {
    let left = unit.show(wood_left);
    if unchecked == 0 {
        format!("Everything is measured. {left} of wood is left under the deepest cut")
    } else {
        format!(
            "{unchecked} of {checks} not checked: leave a field empty for that. {left} of wood is left under the deepest cut"
        )
    }
}

/// A blemish in the list: its number, kind, size and middle.
pub fn blemish(number: usize, blemish: &Blemish, unit: LengthUnit) -> String {
    let size = match blemish.shape {
        BlemishShape::Circle { diameter, .. } => unit.show(diameter),
        BlemishShape::Rectangle { length, width, .. } => size([length, width], unit),
        BlemishShape::Line { from, to } => {
            let run = (to[0] - from[0]).get().hypot((to[1] - from[1]).get());
            format!("{} long", unit.show(Mm::new(run)))
        }
    };
    let [x, y] = blemish.middle().to_array().map(|v| unit.number(Mm::new(v)));
    format!("{number}: {}, {size}, at {x}, {y}", blemish.kind.label())
}

/// What a screen reader calls the button that takes a blemish off the board.
pub fn remove_blemish(number: usize) -> String {
    format!("Remove blemish {number}")
}

/// What a screen reader says of the canvas: length and width of board and design.
pub fn board_and_design(board: [Mm; 2], design: [Mm; 2], unit: LengthUnit) -> String {
    let [board, design] = [board, design].map(|[length, width]| [unit.show(length), unit.show(width)]);
    format!("Board {} by {}, design {} by {}", board[0], board[1], design[0], design[1])
}

/// Where the pointer is.
pub fn along_and_across([along, across]: [Mm; 2], unit: LengthUnit) -> String {
    format!("{} along, {} across", unit.show(along), unit.show(across))
}

/// The largest size that a board takes.
pub fn largest_size(largest: [Mm; 2], factor: f64, unit: LengthUnit) -> String {
    format!("{}, {} % of the drawing", size(largest, unit), percent_down(factor))
}

/// The smallest board that a size needs.
pub fn smallest_board(needed: &BoardNeeded, unit: LengthUnit) -> String {
    let board = unit.show_several([needed.length, needed.width, needed.thickness], " \u{d7} ");
    match &needed.surfaced {
        None => board,
        Some(size) => {
            format!("{board}; in hardwood {}, surfaced to {}", size.name, unit.show(size.thickness))
        }
    }
}

/// The nearest dressed size, cut to length.
pub fn dressed_board(name: &str, [length, width, thickness]: [Mm; 3], unit: LengthUnit) -> String {
    format!(
        "{name} cut to {}: actual size {} wide, {} thick",
        unit.show(length),
        unit.show(width),
        unit.show(thickness)
    )
}

/// How far the board hangs out on one side of the machine, and how to hold it up.
pub fn overhang(of: &Overhang, unit: LengthUnit) -> String {
    let (side, reach) = (capitalised(of.side.label()), unit.show(of.reach));
    if !of.tips() {
        return format!("{side}: {reach} past the roller; the board stays down by itself");
    }
    let tips = match of.lift {
        None => format!("{side}: {reach} past the roller, so the board tips"),
        Some(force) => format!(
            "{side}: {reach} past the roller, so the board tips and lifts off the bed at the other roller with {}",
            unit.show_force(force, 0)
        ),
    };
    if of.stands.is_empty() {
        format!("{tips}; hold it up by hand from the start")
    } else {
        format!("{tips}; put a stand {} from the roller", finding::stands(&of.stands, unit))
    }
}

/// Which corner of a photograph to click next.
pub fn click_corner(number: usize, corner: &str) -> String {
    format!("Click corner {number}: {corner}")
}

/// How far the design is turned.
pub fn turned(degrees: i32) -> String {
    format!("Turned {degrees}\u{b0}")
}

/// Where the design's lower left corner is.
pub fn from_end_and_edge([along, across]: [Mm; 2], unit: LengthUnit) -> String {
    format!("{} from the left end, {} from the reference edge", unit.show(along), unit.show(across))
}

/// What the measure reads: straight, along the board and across it.
pub fn measured(straight: Mm, [along, across]: [Mm; 2], unit: LengthUnit) -> String {
    format!(
        "{}: {} along, {} across",
        unit.show_fine(straight),
        unit.show_fine(along),
        unit.show_fine(across)
    )
}

/// How large a bank card is, in millimetres.
pub fn card_size([width, height]: [f32; 2]) -> String {
    format!("{width} \u{d7} {height} mm")
}

/// What a screen reader says of the drawn bank card.
pub fn card([width, height]: [f32; 2]) -> String {
    format!("Card, {width} \u{d7} {height} mm")
}

/// A spot to put the design tight to: its name, and what it means.
pub fn placement(placement: Placement) -> (&'static str, &'static str) {
    match placement {
        Placement::Middle => ("Middle", "In the middle of the board"),
        Placement::LowerLeft => ("Lower left", "Tight to the left end and the reference edge"),
        Placement::LowerRight => ("Lower right", "Tight to the right end and the reference edge"),
        Placement::UpperLeft => ("Upper left", "Tight to the left end and the far edge"),
        Placement::UpperRight => ("Upper right", "Tight to the right end and the far edge"),
        Placement::At { .. } => ("Typed", "Where you put it"),
    }
}
