//! A carrier in words: what to cut, and why the piece needs one.

use crate::proof::carrier::{Carrier, CarrierReason, Measure};
use crate::shop::Check;
use crate::units::{LengthUnit, Mm, trimmed};

/// What to cut, a line a part.
pub fn parts(carrier: &Carrier, unit: LengthUnit) -> Vec<String> {
    let show = |length: Mm| unit.show(length);
    let [left, right] = carrier.stops.map(show);
    let mut lines = vec![
        format!("Base {} x {} x {}", show(carrier.length), show(carrier.width), show(carrier.base)),
        format!(
            "Two rails {} x {} x {}",
            show(carrier.length),
            show(carrier.rail),
            show(carrier.pocket_depth)
        ),
        format!("Stops {left} and {right} x {} x {}", show(carrier.pocket_width), show(carrier.pocket_depth)),
        format!(
            "Pocket {} x {}, {} deep",
            show(carrier.pocket_length),
            show(carrier.pocket_width),
            show(carrier.pocket_depth)
        ),
        format!("{} board feet", trimmed(carrier.board_feet, 2)),
    ];
    lines.extend(carrier.too_large.iter().map(|measure| {
        match measure {
            Measure::Length => "The carrier is longer than the machine takes",
            Measure::Width => "The carrier is wider than the machine takes",
            Measure::Thickness => "The carrier is thicker than the machine takes",
        }
        .to_owned()
    }));
    lines
}

/// One reason, to follow `the board is`.
pub fn reason(reason: CarrierReason, unit: LengthUnit) -> String {
    match reason {
        CarrierReason::Short { least } => format!("shorter than {}", unit.show(least)),
        CarrierReason::Narrow { least } => format!("narrower than {}", unit.show(least)),
        CarrierReason::Thin { least } => format!("thinner than {}", unit.show(least)),
        CarrierReason::NoAllowance => "no longer than the rollers are apart".to_owned(),
        CarrierReason::Warped { check: Check::Planed } => "rough".to_owned(),
        CarrierReason::Warped { check } => format!("out of true: {}", check.label()),
    }
}

/// Why the piece needs a carrier: a sentence without a full stop; empty where it needs none.
pub fn because(reasons: &[CarrierReason], unit: LengthUnit) -> String {
    if reasons.is_empty() {
        return String::new();
    }
    format!("The board is {}", all(reasons, unit))
}

/// The carrier in short and why the piece needs it, for the bench sheet: a sentence without a full stop.
pub fn in_short(carrier: &Carrier, unit: LengthUnit) -> String {
    format!(
        "Carrier {} x {} x {}: the board is {}",
        unit.show(carrier.length),
        unit.show(carrier.width),
        unit.show(carrier.height),
        all(&carrier.reasons, unit)
    )
}

/// The carrier, the wood it takes and why the piece needs it, for the proof.
pub fn with_its_wood(carrier: &Carrier, unit: LengthUnit) -> String {
    format!(
        "{} x {} x {}, {} board feet, because the board is {}",
        unit.show(carrier.length),
        unit.show(carrier.width),
        unit.show(carrier.height),
        trimmed(carrier.board_feet, 2),
        all(&carrier.reasons, unit)
    )
}

fn all(reasons: &[CarrierReason], unit: LengthUnit) -> String {
    reasons.iter().map(|&one| reason(one, unit)).collect::<Vec<_>>().join(" and ")
}
