//! A place on the board, found or not.

/// No place is clear at any size.
pub const NOWHERE_CLEAR: &str =
    "no place on the board is clear for this design: the board has no room at any size";

/// No place is clear at this size, but there is one up to so many per cent of it as drawn.
pub fn clear_up_to(per_cent: impl std::fmt::Display) -> String {
    format!("no place on the board is clear at this size; up to {per_cent} % of the drawing one is")
}
