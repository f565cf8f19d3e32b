//! How places are cleared: what the user sets about the cutter's passes.

use crate::shop::Cutter;
use crate::units::Mm;
use serde::{Deserialize, Serialize};

/// The passes a machine is to make. Starting values leave everything to the cutter.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Clearing {
    /// A larger cutter that clears first, before the job's own goes where it could not; `None` where one
    /// cutter does it all.
    pub cutter: Option<Cutter>,
    /// Which way clearing lines run.
    pub direction: ClearingDirection,
    /// Distance between neighbouring clearing lines as a share of the cutter's working diameter, over 0 up to 1;
    /// the cutter's own if `None`.
    pub stepover: Option<f64>,
    /// The deepest cut in one pass as a share of the cutter's working diameter, over 0; the cutter's own if
    /// `None`.
    pub pass_depth: Option<f64>,
    /// What holds a pierced place's waste until the board is off the machine.
    pub bridge: Bridge,
}

/// Which way clearing lines run.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ClearingDirection {
    /// Along the board, with the grain.
    #[default]
    Along,
    /// Across the board.
    Across,
}

/// A holding bridge: wood left under a pierced outline so that what is cut out stays in place. The
/// starting size is common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Bridge {
    /// How much of the outline each holds; 0 for no bridges.
    pub length: Mm,
    /// How thick it is, measured from the underside.
    pub height: Mm,
    /// From one to the next along the outline, at most; there are never fewer than two.
    pub apart: Mm,
}

impl Default for Bridge {
    fn default() -> Bridge {
        Bridge { length: Mm::new(6.0), height: Mm::new(1.5), apart: Mm::new(90.0) }
    }
}

impl Clearing {
    /// Whether nothing was set: such a clearing is not written into a saved job.
    pub fn is_usual(&self) -> bool {
        *self == Clearing::default()
    }

    /// From one clearing line of this cutter to the next, millimetres.
    pub fn lines_apart(&self, cutter: &Cutter) -> f64 {
        self.stepover.unwrap_or(cutter.stepover) * cutter.shape.working_diameter().get()
    }

    /// The deepest cut of this cutter in one pass, millimetres.
    pub fn pass_depth(&self, cutter: &Cutter) -> f64 {
        self.pass_depth.map_or(cutter.pass_depth.get(), |share| share * cutter.shape.working_diameter().get())
    }
}
