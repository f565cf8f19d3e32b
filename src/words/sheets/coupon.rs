//! The coupon and its key.

use crate::units::{LengthUnit, Mm, trimmed};

/// What the foot of its pages calls it.
pub const NAME: &str = "Coupon";
/// What the page to note down on is called.
pub const KEY: &str = "Key to the coupon";

/// What the coupon is for.
pub fn caption(cutter: &str, depth: Mm, wood: &str) -> String {
    format!("{cutter}, {depth} deep, {wood}; grain runs left to right")
}

/// Over the coupon's outline.
pub fn at_true_size(caption: &str) -> String {
    format!("Coupon at true size: {caption}")
}

/// Beside a wall or groove: its number on the ladder and its width, in millimetres.
pub fn rung(number: usize, width: Mm) -> String {
    format!("{number}: {} mm", trimmed(width.get(), 2))
}

/// Beside a point: its number on the ladder and its angle, radians.
pub fn point_rung(number: usize, apex: f64) -> String {
    format!("{number}: {}\u{b0}", trimmed(apex.to_degrees(), 0))
}

/// Walls that run along the grain.
pub const WALLS_ALONG: &str = "Walls along the grain";
/// Walls that run across it.
pub const WALLS_ACROSS: &str = "Walls across the grain";
/// Points that lie along the grain.
pub const POINTS_ALONG: &str = "Points along the grain";
/// Points that lie across it.
pub const POINTS_ACROSS: &str = "Points across the grain";
/// Grooves.
pub const GROOVES: &str = "Grooves (tick those that came out clean)";

/// How to carve it and read it, in order.
pub const HOW: [&str; 3] = [
    "Carve the coupon on scrap of the same wood, its length along the grain. What is grey stands; the ground around \
     it is lowered.",
    "Brush it clean and tick every rung that stayed whole. If a thicker rung broke, thinner ones do not count: take \
     the thinnest rung that is thicker than every broken one.",
    "The thinnest whole walls along and across the grain are this cutter's limits. Enter both as its reference wall.",
];

/// What lengths may be noted in.
pub fn noted_in(unit: LengthUnit) -> &'static str {
    match unit {
        LengthUnit::Millimetres => "mm",
        _ => "mm or in",
    }
}

/// To be filled in.
pub fn thinnest_along(unit: LengthUnit) -> String {
    format!("Thinnest whole wall along the grain: ____________ {}", noted_in(unit))
}

/// To be filled in.
pub fn thinnest_across(unit: LengthUnit) -> String {
    format!("Thinnest whole wall across the grain: ____________ {}", noted_in(unit))
}

/// To be filled in, but for the depth.
pub fn carved_on(depth: Mm, unit: LengthUnit) -> String {
    format!(
        "Carved on: ____________   by: ____________________   moisture: ______ %   depth set: {}",
        unit.show(depth)
    )
}
