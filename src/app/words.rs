//! Text on screen that more than one panel shows, or that is long.

use crate::job::{Ends, Frame, Placement};
use crate::units::{LengthUnit, Mm, trimmed};

pub(crate) const PROGRAM: &str = "Spelk";

pub(crate) const ABOUT: &str = "Spelk proofs a carving before a board is committed: does this design, at \
     this size, on this board, with this cutter, come out whole?";

pub(crate) const ABOUT_METHOD: &str = "The outline is measured once: the width of a wall or groove at a \
     place is the diameter of the largest circle that fits there. Scaling multiplies every width, while \
     the limit of the cutter and the wood stays where it is. That is why a design that is sound at one \
     size fails at a smaller one.";

pub(crate) const NO_SHOP_FOLDER: &str =
    "There is no config folder on this machine, so the shop's own things cannot be kept";

pub(crate) const NO_DIALOG: &str = "No file dialog answered on this desktop. Type the file's path instead.";

pub(crate) const NO_FINDINGS: &str = "Nothing to report: every wall and groove is within its limit";

pub(crate) fn ends(ends: Ends) -> (&'static str, &'static str) {
    match ends {
        Ends::Held => ("Held", "Keep the roller allowance: both rollers hold the board for the whole carve"),
        Ends::Free => ("Free", "Skip the roller allowance: more room, but the ends may be sniped"),
    }
}

pub(crate) fn placement(placement: Placement) -> (&'static str, &'static str) {
    match placement {
        Placement::Middle => ("Middle", "In the middle of the board"),
        Placement::LowerLeft => ("Lower left", "Tight to the left end and the reference edge"),
        Placement::LowerRight => ("Lower right", "Tight to the right end and the reference edge"),
        Placement::UpperLeft => ("Upper left", "Tight to the left end and the far edge"),
        Placement::UpperRight => ("Upper right", "Tight to the right end and the far edge"),
        Placement::At { .. } => ("Typed", "Where it was put"),
    }
}

pub(crate) fn frame(frame: Frame) -> (&'static str, &'static str) {
    match frame {
        Frame::Outline => ("Outline", "The design's size is the box round its outlines"),
        Frame::Page => ("Page", "The design's size is the drawing's page"),
    }
}

/// A number on a ruler or an axis: no idle zeros, no unit.
pub(crate) fn mark(unit: LengthUnit, length: Mm) -> String {
    match unit {
        LengthUnit::InchDecimal => trimmed(length.to_inches(), 3),
        _ => unit.number(length),
    }
}
