//! What is measured of a board at the bench with a straightedge, a square, a rule and feeler gauges.
//!
//! Bow, crook, cup and twist as the National Grading Rule (SPIB, NELMA) defines them.

use crate::units::Mm;
use serde::{Deserialize, Serialize};

/// Measured or not: `None` is not measured, which is never taken for fine.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct StockCheck {
    /// Greatest gap between the face and a straightedge laid across it, edge to edge.
    pub cup: Option<Mm>,
    /// Greatest gap between the face and a line drawn end to end.
    pub bow: Option<Mm>,
    /// Greatest gap between the edge and a line drawn end to end.
    pub crook: Option<Mm>,
    /// How far a corner stands off a flat surface on which both edges of the other end rest.
    pub twist: Option<Mm>,
    /// The widest place less the narrowest.
    pub unequal_width: Option<Mm>,
    /// How far the top of the reference edge stands off a square set on the face, over the thickness.
    pub off_square: Option<Mm>,
    /// Whether both faces are planed.
    pub planed: Option<Planed>,
    /// Moisture content, per cent of the dry mass.
    pub moisture: Option<f64>,
}

/// Which faces are planed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Planed {
    /// Both faces are planed to one thickness.
    Both,
    /// One or both are rough.
    Rough,
}

/// One item of the bench list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Check {
    /// [`StockCheck::cup`]
    Cup,
    /// [`StockCheck::bow`]
    Bow,
    /// [`StockCheck::crook`]
    Crook,
    /// [`StockCheck::twist`]
    Twist,
    /// [`StockCheck::unequal_width`]
    UnequalWidth,
    /// [`StockCheck::off_square`]
    OffSquare,
    /// [`StockCheck::planed`]
    Planed,
    /// [`StockCheck::moisture`]
    Moisture,
}

impl Check {
    /// Every item, in the order of the bench list.
    pub const ALL: [Check; 8] = [
        Check::Cup,
        Check::Bow,
        Check::Crook,
        Check::Twist,
        Check::UnequalWidth,
        Check::OffSquare,
        Check::Planed,
        Check::Moisture,
    ];

    /// Its name in files.
    pub fn id(self) -> &'static str {
        match self {
            Check::Cup => "cup",
            Check::Bow => "bow",
            Check::Crook => "crook",
            Check::Twist => "twist",
            Check::UnequalWidth => "unequal_width",
            Check::OffSquare => "off_square",
            Check::Planed => "planed",
            Check::Moisture => "moisture",
        }
    }
}

impl StockCheck {
    /// Whether an item has been measured.
    pub fn measured(&self, check: Check) -> bool {
        match check {
            Check::Planed => self.planed.is_some(),
            Check::Moisture => self.moisture.is_some(),
            _ => self.length(check).is_some(),
        }
    }

    /// What was measured, for the items that are lengths.
    pub fn length(&self, check: Check) -> Option<Mm> {
        match check {
            Check::Cup => self.cup,
            Check::Bow => self.bow,
            Check::Crook => self.crook,
            Check::Twist => self.twist,
            Check::UnequalWidth => self.unequal_width,
            Check::OffSquare => self.off_square,
            Check::Planed | Check::Moisture => None,
        }
    }

    /// Where an item that is a length is kept, to be set; `None` for the others.
    pub fn length_mut(&mut self, check: Check) -> Option<&mut Option<Mm>> {
        match check {
            Check::Cup => Some(&mut self.cup),
            Check::Bow => Some(&mut self.bow),
            Check::Crook => Some(&mut self.crook),
            Check::Twist => Some(&mut self.twist),
            Check::UnequalWidth => Some(&mut self.unequal_width),
            Check::OffSquare => Some(&mut self.off_square),
            Check::Planed | Check::Moisture => None,
        }
    }

    /// The items that have not been measured.
    pub fn unmeasured(&self) -> impl Iterator<Item = Check> + '_ {
        Check::ALL.into_iter().filter(|&check| !self.measured(check))
    }
}
