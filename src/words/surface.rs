//! The carved surface.

/// What a picture of the surface leaves out.
pub const NOT_SIMULATED: &str =
    "Spelk does not simulate fuzz, burn marks, chips or torn grain, nor a cutter or board that flexes.";
