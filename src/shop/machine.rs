//! The carving machine: what it takes, and how far its rollers stand from the cutter.

use crate::units::Mm;
use serde::{Deserialize, Serialize};
use std::sync::LazyLock;

/// A machine that feeds the board lengthwise under two hold-down rollers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Machine {
    /// Short id.
    pub id: String,
    /// For a person.
    pub name: String,
    /// Extra board beyond the design at each end that keeps it under both rollers.
    pub roller_allowance: Mm,
    /// Board left uncarved along each long edge.
    pub side_margin: Mm,
    /// Longest board taken.
    pub longest: Mm,
    /// Widest board taken.
    pub widest: Mm,
    /// Thickest board taken.
    pub thickest: Mm,
    /// Shortest board carved without a carrier.
    pub shortest: Mm,
    /// Narrowest board carved without a carrier.
    pub narrowest: Mm,
    /// Thinnest board carved without a carrier.
    pub thinnest: Mm,
}

/// The built-in profiles. The allowance and the smallest piece are common practice (no source); the
/// other values are round ones of our own, to be replaced by what is measured on the machine.
pub fn machines() -> &'static [Machine] {
    static MACHINES: LazyLock<Vec<Machine>> = LazyLock::new(|| {
        let inch = Mm::from_inches;
        vec![
            Machine {
                id: "compact".to_owned(),
                name: "Compact, inch sizes".to_owned(),
                roller_allowance: inch(3.5),
                side_margin: Mm::ZERO,
                longest: inch(120.0),
                widest: inch(14.0),
                thickest: inch(4.0),
                shortest: inch(7.0),
                narrowest: inch(1.5),
                thinnest: inch(0.5),
            },
            Machine {
                id: "compact-metric".to_owned(),
                name: "Compact, metric sizes".to_owned(),
                roller_allowance: Mm::new(90.0),
                side_margin: Mm::ZERO,
                longest: Mm::new(3000.0),
                widest: Mm::new(350.0),
                thickest: Mm::new(100.0),
                shortest: Mm::new(180.0),
                narrowest: Mm::new(40.0),
                thinnest: Mm::new(12.0),
            },
        ]
    });
    &MACHINES
}

impl Machine {
    /// The built-in machine of this id.
    pub fn find(id: &str) -> Option<&'static Machine> {
        machines().iter().find(|machine| machine.id.eq_ignore_ascii_case(id))
    }
}
