//! Why a limit is what it is: where it comes from, and the arithmetic.

use crate::proof::Limits;
use crate::proof::limit::{top_equal, upright_equal};
use crate::shop::ReferenceWall;
use crate::units::{LengthUnit, Mm, trimmed};

/// One step of the arithmetic: what it is about, and a sentence without a full stop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LimitStep {
    /// What it is about.
    pub title: String,
    /// The numbers, the formula, and where each came from.
    pub text: String,
}

/// Where the wall limits come from, to stand beside them.
pub fn source(limits: &Limits, unit: LengthUnit) -> String {
    let basis = &limits.basis;
    let (source, height) = (&basis.reference_source, unit.show(basis.height));
    match &basis.stand_in {
        None => {
            format!("the cutter's reference wall ({source}), carried to this wood and to walls {height} tall")
        }
        Some(stand_in) => format!(
            "the cutter's reference wall ({source}), carried to this wood and to walls {height} tall; no published strength across the grain for {}, {stand_in} stands in",
            basis.wood
        ),
    }
}

/// The same as a sentence without a full stop.
pub fn limits_from(limits: &Limits, unit: LengthUnit) -> String {
    format!("Limits from {}", source(limits, unit))
}

/// Where a reference wall comes from, where there is little room.
pub fn short_source(wall: &ReferenceWall) -> &str {
    if wall.is_starting_value() { "starting value" } else { &wall.source }
}

/// The arithmetic, step by step.
pub fn steps(limits: &Limits, unit: LengthUnit) -> Vec<LimitStep> {
    let basis = &limits.basis;
    let show = |length| unit.show_fine(length);
    let [along, across] = basis.reference;
    let step = |title: &str, text: String| LimitStep { title: title.to_owned(), text };
    let mut steps = vec![step(
        "Reference wall",
        format!(
            "This cutter is trusted with t0 = {} along the grain and {} across, h0 = {} tall, in {} ({})",
            show(along),
            show(across),
            show(basis.reference_height),
            basis.reference_wood,
            basis.reference_source
        ),
    )];
    let [s, s0] = [basis.strength, basis.reference_strength].map(|strength| trimmed(strength, 2));
    steps.push(step(
        "Strength across the grain",
        match &basis.stand_in {
            None => format!(
                "{} pulls apart at s = {s} MPa ({}); {} at s0 = {s0} MPa",
                basis.wood, basis.strength_source, basis.reference_wood,
            ),
            Some(stand_in) => format!(
                "None is published for {}; {stand_in} stands in, with s = {s} MPa; {} has s0 = {s0} MPa",
                basis.wood, basis.reference_wood,
            ),
        },
    ));
    let uprights = basis.reference.map(|wall| upright_equal(wall, basis.reference_height, basis.slope));
    if basis.slope > 0.0 {
        let [along, across] = uprights;
        steps.push(step(
            "Sloping sides",
            format!(
                "With this cutter a wall gains {} of thickness for each {} of depth, so the reference walls are as strong as upright ones of t0 = {} along, {} across",
                show(unit.one() * basis.slope),
                show(unit.one()),
                show(along),
                show(across)
            ),
        ));
    }
    let [along, across] = uprights.map(|upright| carried(limits, upright, unit));
    steps.push(step(
        &format!("Carried to this wood and to walls h = {} tall", show(basis.height)),
        format!("t = t0 \u{221a}(h/h0 \u{d7} s0/s). Along the grain {along}; across {across}"),
    ));
    steps.push(step(
        "Why this formula",
        "A wall t thick and h tall, pushed at its top by f, is stressed at its root by 6 f h / t\u{b2}. It is our own model; no published minimum wall for carved wood was found"
            .to_owned(),
    ));
    steps.push(step(
        "Between along and across",
        format!(
            "t\u{b2} = along\u{b2} cos\u{b2} + across\u{b2} sin\u{b2} of the angle to the grain, after Hankinson (Wood Handbook, ch. 5); at 45\u{b0} {}",
            show(limits.wall(std::f64::consts::FRAC_PI_4, false))
        ),
    ));
    steps
}

/// `2 mm × √(3 mm/3 mm × 2.41/3.03) = 1.78 mm`.
fn carried(limits: &Limits, upright: Mm, unit: LengthUnit) -> String {
    let basis = &limits.basis;
    let show = |length| unit.show_fine(length);
    let here = basis.carried_upright(upright, basis.height);
    let sum = format!(
        "{} \u{d7} \u{221a}({}/{} \u{d7} {}/{}) = {}",
        show(upright),
        show(basis.height),
        show(basis.reference_height),
        trimmed(basis.reference_strength, 2),
        trimmed(basis.strength, 2),
        show(here)
    );
    if basis.slope > 0.0 {
        format!("{sum}, which at the face is {}", show(top_equal(here, basis.height, basis.slope)))
    } else {
        sum
    }
}
