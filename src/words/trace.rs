//! Pictures, traced.

use super::{count, fine, thousands};
use crate::design::MAX_EXTENT;
use crate::trace::{COLOURS, Colour, Setting, Step, Trace, TraceError};
use crate::units::{LengthUnit, Mm, trimmed};
use std::fmt;

impl fmt::Display for TraceError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            TraceError::Photo(error) => error.fmt(f),
            TraceError::Size => {
                write!(
                    f,
                    "needs a size over 0 and at most {} m; say how large it is to be",
                    MAX_EXTENT / 1000.0
                )
            }
            TraceError::Setting(Setting::Level) => {
                f.write_str("needs a threshold between 0 and 1, such as 0.5")
            }
            TraceError::Setting(Setting::Speck) => f.write_str("needs a speck size of 0 or more"),
            TraceError::Setting(Setting::Gap) => f.write_str("needs a gap of 0 or more"),
            TraceError::Setting(Setting::CornerAngle) => {
                f.write_str("needs a corner angle over 0 and at most 180 degrees")
            }
            TraceError::Setting(Setting::Tolerance) => f.write_str("needs a tolerance over 0"),
            TraceError::Setting(Setting::Colours) => {
                write!(f, "needs {} to {} colours", COLOURS.start(), COLOURS.end())
            }
            TraceError::OneColour => f.write_str(
                "is all one colour; take it again with the drawing dark on light paper, or set the threshold",
            ),
            TraceError::NotAnOutline { specks } => write!(
                f,
                "is not an outline: it has {}; trace a drawing, or a photograph of one on plain paper",
                count(*specks, "speck", "specks")
            ),
            TraceError::Nothing { specks } => write!(
                f,
                "has nothing but specks: {} left out; carve it larger, or set a smaller speck size",
                thousands(*specks)
            ),
            TraceError::Design(error) => error.fmt(f),
            TraceError::Cancelled => f.write_str("was not traced: you stopped it"),
        }
    }
}

/// What is done before a picture is traced, for whoever waits.
pub const READING: &str = "Reading the picture";

/// A step of tracing it.
pub fn step(step: Step) -> &'static str {
    match step {
        Step::Preparing => "Telling ink from paper",
        Step::Following => "Following the outlines",
        Step::Fitting => "Fitting curves to them",
    }
}

/// How sharp a picture is at a size, before it is traced.
pub fn sharpness(pixel: Mm, within: Mm, unit: LengthUnit) -> String {
    format!(
        "At this size a pixel is {}, and widths are known to within {}",
        fine(unit, pixel),
        fine(unit, within)
    )
}

/// How well the widths of a traced design are known, in a proof.
pub fn known_within(within: Mm, unit: LengthUnit) -> String {
    format!("traced from a picture that shows widths to within {}", fine(unit, within))
}

/// How many pixels a picture would need.
pub fn too_coarse(pixels: u32, within: Mm, unit: LengthUnit) -> String {
    format!(
        "A picture {} pixels along its longer side would show widths to within {}; take it closer, or scan it finer",
        thousands(pixels as usize),
        fine(unit, within)
    )
}

/// What was traced: a sentence without a full stop.
pub fn done(trace: &Trace, unit: LengthUnit) -> String {
    let [pieces, holes] = trace.pieces_and_holes();
    let [pieces, holes] = [count(pieces, "piece", "pieces"), count(holes, "hole", "holes")];
    let size = unit.show_several(trace.size(), " x ");
    match trace.level {
        Some(level) => {
            let level = trimmed(level, 2);
            format!("{pieces} with {holes}, from a picture {size}; ink begins at {level}")
        }
        None => format!("{pieces} with {holes}, from a picture {size}"),
    }
}

/// A colour of a picture, before it is chosen.
pub fn colour(number: usize, colour: &Colour) -> String {
    let [r, g, b] = colour.rgb;
    let share = trimmed(100.0 * colour.share, 1);
    let fate = if colour.is_paper { "left out" } else { "carved" };
    format!("Colour {number} is #{r:02x}{g:02x}{b:02x}, {share} % of the picture: {fate}")
}

/// A colour's number under 1.
pub const COLOURS_COUNT_FROM_1: &str = "--leave-out: colours are numbered from 1";

/// How many specks were left out.
pub fn specks(number: usize) -> String {
    format!("{} left out", count(number, "speck was", "specks were"))
}

/// Four corners need both sides of the sheet.
pub const CORNERS_NEED_BOTH: &str = "--corners needs --length and --width, the sheet's own size between them";

/// Both sides without corners.
pub const BOTH_NEED_CORNERS: &str = "give --length or --width, not both; the picture keeps its proportions";

/// No size at all.
pub const NO_SIZE: &str = "say how large the picture is to be, with --length, --width or --dpi";

/// There is no picture in a drawing.
pub const NO_PICTURE_INSIDE: &str = "holds no picture that can be traced; open it as a drawing";

/// There are several pictures in a drawing.
pub fn several_inside(pictures: usize) -> String {
    format!("holds {} pictures; choose one with --picture-number 1 to {pictures}", thousands(pictures))
}

/// There is no picture of that number in a drawing.
pub fn not_inside(picture: usize, pictures: usize) -> String {
    format!("has no picture {picture}; it holds {}", count(pictures, "picture", "pictures"))
}
