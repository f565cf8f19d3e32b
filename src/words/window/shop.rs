//! Words of the window: shop.

#![expect(missing_docs, reason = "a sentence says what it says")]

use super::with_unit;
use crate::proof::rack::RackRow;
use crate::shop::{MachinePart, Measure};
use crate::units::{LengthUnit, Mm};
use crate::words::{percent_down, verdict};

pub const COUPON: &str = "Coupon";
pub const NOBODY_HAS_PUBLISHED_A_THINNEST_WALL_FOR: &str = "Nobody has published a thinnest wall for carved wood, so the only limit you can be sure of is your own. The coupon is a small test piece with ladders of walls, points and grooves, each a little thicker than the one before. Carve it on scrap, see which rungs stay whole, and the thinnest of them becomes the limit for this cutter.";
pub const THE_THINNEST_THAT_STAYED_WHOLE: &str = "The thinnest that stayed whole";
pub const SPELK_KEEPS_IT_WITH_THE_CUTTER_AND: &str = "Spelk keeps it with the cutter and carries it to other woods and depths. Undo gives this job its old limit back; the cutter list keeps the new one";
pub const MAKE_THIS_THE_LIMIT: &str = "Make this the limit";
pub const RUNG_ALONG_THE_GRAIN: &str = "Rung along the grain";
pub const SURVIVED_ALONG: &str = "Survived along";
pub const WALL_ALONG_THE_GRAIN: &str = "Wall along the grain";
pub const RUNG_ACROSS_THE_GRAIN: &str = "Rung across the grain";
pub const SURVIVED_ACROSS: &str = "Survived across";
pub const WALL_ACROSS_THE_GRAIN: &str = "Wall across the grain";
pub const OR_CHOOSE_ITS_RUNG: &str = "or choose its rung";
pub const RUNGS: &str = "Rungs";
pub const FLAT_END: &str = "Flat end";
pub const BALL_END: &str = "Ball end";
pub const TAPERED_BALL: &str = "Tapered ball";
pub const V_CUTTER: &str = "V";
pub const IT_MUST_BE_A_WHOLE_NUMBER: &str = "it must be a whole number";
pub const CUTTERS: &str = "Cutters";
pub const OWN: &str = "Own";
pub const BUILT_IN: &str = "Built in";
pub const NONE_YET_COPY_A_BUILT_IN_ONE: &str = "None yet: copy a built-in one";
pub const KEEP_CUTTER: &str = "Keep cutter";
pub const USE_IN_THIS_JOB: &str = "Use in this job";
pub const COPY: &str = "Copy";
pub const MAKE_ONE_OF_YOUR_OWN_FROM_IT: &str = "Make one of your own from it";
pub const REMOVE: &str = "Remove";
pub const TAKE_IT_OUT_OF_YOUR_OWN_LIST: &str = "Take it out of your own list";
pub const CLOSE: &str = "Close";
pub const TYPE_LENGTHS_IN_MM_OR_INCHES_WITH: &str = "Type lengths in mm or inches, with fractions";
pub const THIS_CUTTER_IS_BUILT_IN_COPY_IT: &str = "This cutter is built in: copy it to change it";
pub const CUTTER_NAME: &str = "Cutter name";
pub const NAME: &str = "Name";
pub const CUTTER_DIAMETER: &str = "Cutter diameter";
pub const DIAMETER: &str = "Diameter";
pub const CUTTER_ANGLE: &str = "Cutter angle";
pub const ANGLE_DEGREES: &str = "Angle, degrees";
pub const CUTTER_TIP: &str = "Cutter tip";
pub const FLAT_AT_THE_TIP: &str = "Flat at the tip";
pub const CUTTER_BALL: &str = "Cutter ball";
pub const BALL: &str = "Ball";
pub const CUTTER_LEAN: &str = "Cutter lean";
pub const TAPER_PER_SIDE_DEGREES: &str = "Taper per side, degrees";
pub const FLUTE_LENGTH: &str = "Flute length";
pub const FLUTES: &str = "Flutes";
pub const FEED: &str = "Feed";
pub const SPINDLE_SPEED: &str = "Spindle speed";
pub const TURNS_A_MINUTE: &str = "Turns a minute";
pub const GIVE_OF_A_WALL: &str = "Give of a wall";
pub const PLUNGE: &str = "Plunge";
pub const PASS_DEPTH: &str = "Pass depth";
pub const STEPOVER: &str = "Stepover";
pub const REFERENCE_WALL_ALONG: &str = "Reference wall along";
pub const ALONG_THE_GRAIN: &str = "Along the grain";
pub const REFERENCE_WALL_ACROSS: &str = "Reference wall across";
pub const ACROSS_IF_MEASURED: &str = "Across, if measured";
pub const REFERENCE_WALL_HEIGHT: &str = "Reference wall height";
pub const HEIGHT: &str = "Height";
pub const REFERENCE_WALL_SOURCE: &str = "Reference wall source";
pub const SOURCE: &str = "Source";
pub const SHAPE: &str = "Shape";
pub const CUTTER_SHAPE: &str = "Cutter shape";
pub const REFERENCE_WALL: &str = "Reference wall";
pub const THE_THINNEST_WALL_THIS_CUTTER_LEAVES_WHOLE: &str =
    "The thinnest wall this cutter leaves whole. Other woods, depths and directions follow from it";
pub const IN_THIS_WOOD: &str = "In this wood";
pub const REFERENCE_WALL_WOOD: &str = "Reference wall wood";
pub const MACHINES: &str = "Machines";
pub const KEEP_MACHINE: &str = "Keep machine";
pub const POINT_AT_A_FIELD_TO_READ_HOW: &str = "Point at a field to read how to measure it";
pub const THIS_MACHINE_IS_BUILT_IN_WITH_ROUND: &str =
    "This machine is built in, with round values: copy it, and enter what you measured";
pub const BOARDS_IT_TAKES: &str = "Boards it takes";
pub const ROLLERS_FROM_THE_CUTTER: &str = "Rollers, from the cutter";
pub const SENSOR_AND_EDGES: &str = "Sensor and edges";
pub const HOW_FAST_IT_MOVES: &str = "How fast it moves";
pub const MACHINE_NAME: &str = "Machine name";
pub const OFF: &str = "Off";
pub const REFERENCE_EDGE: &str = "Reference edge";
pub const FAR_EDGE: &str = "Far edge";
pub const LEFT_END: &str = "Left end";
pub const RIGHT_END: &str = "Right end";
pub const SENSOR_ALONG: &str = "Sensor along";
pub const GOES_IN_FIRST: &str = "Goes in first";
pub const MEASURE_YOUR_MACHINE: &str = "Measure your machine";
pub const IT_MUST_BE_OVER_0_AND_AT: &str = "it must be over 0 and at most 100 m";
pub const TYPE_A_NAME: &str = "type a name";
pub const A_PRICE_CANNOT_BE_NEGATIVE: &str = "a price cannot be negative";
pub const RACK: &str = "Rack";
pub const THE_RACK_IS_EMPTY_ADD_THE_BOARD: &str =
    "The rack is empty. Add the board on the bench, or type another";
pub const ADD_THIS_BOARD: &str = "Add this board";
pub const PUT_THE_JOBS_BOARD_ON_THE_RACK: &str = "Put the job's board on the rack";
pub const NEW_BOARD: &str = "New board";
pub const ENTER_A_BOARD_THAT_IS_NOT_ON: &str = "Enter a board that is not on the bench";
pub const PROOFING_EVERY_BOARD: &str = "Proofing every board…";
pub const WHICH_BOARD_TAKES_THIS_DESIGN_WORKING_IT: &str =
    "Which board takes this design? Working it out again…";
pub const WHICH_BOARD_TAKES_THIS_DESIGN_BEST_FIRST: &str =
    "Which board takes this design? Best first: sound, then those that take this size, then least waste";
pub const BOARD: &str = "Board";
pub const LARGEST: &str = "Largest";
pub const OFFCUT: &str = "Offcut";
pub const WASTE: &str = "Waste";
pub const PRICE: &str = "Price";
pub const WORST_FINDING: &str = "Worst finding";
pub const NONE: &str = "none";
pub const NO_ROOM: &str = "no room";
pub const WHAT_IS_LEFT_OF_ITS_LENGTH: &str = "What is left of its length";
pub const THE_SHARE_OF_THE_BOARD_THAT_IS: &str = "The share of the board that is not the finished piece";
pub const DOES_NOT_TAKE_THIS_SIZE: &str = "does not take this size";
pub const USE: &str = "Use";
pub const EDIT: &str = "Edit";
pub const DELETE: &str = "Delete";
pub const CHANGE_IT: &str = "Change it";
pub const PUT_IT_ON_THE_RACK: &str = "Put it on the rack";
pub const RACK_NAME: &str = "Rack name";
pub const RACK_LENGTH: &str = "Rack length";
pub const LENGTH: &str = "Length";
pub const RACK_WIDTH: &str = "Rack width";
pub const WIDTH: &str = "Width";
pub const RACK_THICKNESS: &str = "Rack thickness";
pub const THICKNESS: &str = "Thickness";
pub const RACK_PRICE: &str = "Rack price";
pub const WOOD: &str = "Wood";
pub const RACK_WOOD: &str = "Rack wood";
pub const KEEP_BOARD: &str = "Keep board";
pub const CANCEL: &str = "Cancel";
pub const ANOTHER_WOOD_HAS_THIS_NAME: &str = "another wood has this name";
pub const YOUR_OWN_WOODS: &str = "Your own woods";
pub const USE_IT_IN_THIS_JOB: &str = "Use it in this job";
pub const A_NEW_WOOD: &str = "A new wood";
pub const WOOD_NAME: &str = "Wood name";
pub const WOOD_DENSITY: &str = "Wood density";
pub const DENSITY_AT_12_MOISTURE_KG_M: &str = "Density at 12 % moisture, kg/m\u{b3}";
pub const TENSION_STRENGTH_ACROSS_THE_GRAIN_MPA: &str = "Tension strength across the grain, MPa";
pub const WOOD_TENSION_STRENGTH: &str = "Wood tension strength";
pub const MOVEMENT_FLAT_SAWN_OF_WIDTH_A_POINT: &str = "Movement, flat sawn, % of width a point";
pub const WOOD_MOVEMENT_FLAT: &str = "Wood movement flat";
pub const MOVEMENT_QUARTER_SAWN_A_POINT: &str = "Movement, quarter sawn, % a point";
pub const WOOD_MOVEMENT_QUARTER: &str = "Wood movement quarter";
pub const HARDWOOD: &str = "Hardwood";
pub const SOFTWOOD: &str = "Softwood";
pub const LEAVE_EMPTY_WHAT_YOU_DO_NOT_KNOW: &str = "Leave empty what you do not know. Without a strength, the wood nearest in density stands in, and every limit says so";
pub const KEEP_WOOD: &str = "Keep wood";
pub const NEW_WOOD: &str = "New wood";

/// What a coupon is for, and its size.
pub fn coupon(cutter: &str, depth: Mm, wood: &str, [length, width]: [Mm; 2], unit: LengthUnit) -> String {
    format!(
        "For {cutter}, {} deep in {wood}; {} long with the grain, {} wide",
        unit.show(depth),
        unit.show(length),
        unit.show(width)
    )
}

/// The name of a copy that becomes one of the shop's own.
pub fn own_copy(name: &str) -> String {
    format!("{}, own", name.trim_end_matches(", own"))
}

/// The cutter or machine of the job, in a list.
pub fn in_use(name: &str) -> String {
    format!("{name} \u{b7} in use")
}

/// The caption of a field for a feed: `Plunge, mm/min`.
pub fn per_minute(caption: &str, unit: LengthUnit) -> String {
    format!("{caption}, {}/min", unit.symbol())
}

/// The caption of a machine's number, with the unit it is typed in.
pub fn machine_part(part: MachinePart, unit: LengthUnit) -> String {
    let label = part.label();
    match part.measure() {
        Measure::Words => label.to_owned(),
        Measure::Length => with_unit(label, unit),
        Measure::Feed => per_minute(label, unit),
        Measure::Acceleration => format!("{label}, {}/s\u{b2}", unit.symbol()),
        Measure::Force => format!("{label}, N"),
        Measure::Time => format!("{label}, s"),
        Measure::Ratio => format!("{label}, times"),
    }
}

/// The name that a board gets on the rack until another is typed.
pub fn board_name(wood: &str, length: Mm, unit: LengthUnit) -> String {
    format!("{wood} {}", unit.number(length))
}

/// The hover of a board on the rack: its size and wood, and the verdict on it.
pub fn rack_board(row: &RackRow, unit: LengthUnit) -> String {
    let board = row.job.board();
    let size = [board.length, board.width, board.thickness].map(|side| unit.show(side)).join(" \u{d7} ");
    let (wood, verdict) = (&row.job.wood().name, verdict::sentence(&row.verdict, unit));
    if row.wood_unknown {
        format!("{size}, {wood}; Spelk does not know its wood\n{verdict}")
    } else {
        format!("{size}, {wood}\n{verdict}")
    }
}

/// The largest size that a board of the rack takes.
pub fn largest(factor: f64) -> String {
    format!("{} %", percent_down(factor))
}

/// The size at which a board of the rack was proofed.
pub fn proofed_at(factor: f64) -> String {
    format!("Proofed at {} % of the drawing", percent_down(factor))
}

/// The share of a board that is not the finished piece.
pub fn waste(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

/// What a screen reader calls the button that carves from this board.
pub fn use_board(name: &str) -> String {
    format!("Use {name}")
}

/// What a screen reader calls the button that opens this board's form.
pub fn edit_board(name: &str) -> String {
    format!("Edit {name}")
}

/// What a screen reader calls the button that takes this board off the rack.
pub fn delete_board(name: &str) -> String {
    format!("Delete {name}")
}

/// The blemishes that go onto the rack with a board.
pub fn blemishes_kept(number: usize) -> String {
    if number == 1 { "Keeps its blemish".to_owned() } else { format!("Keeps its {number} blemishes") }
}

/// What a screen reader calls the button that takes a wood out of the list.
pub fn remove_wood(name: &str) -> String {
    format!("Remove {name}")
}
