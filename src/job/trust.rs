//! From which chance on a wall is called sound.

use serde::{Deserialize, Serialize};

/// The chances that a wall holds between which it is called chancy.
///
/// At its limit a wall holds one time in two, for strengths scatter. A shop that wants better odds asks for walls
/// that are thicker than their limit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Trust {
    /// From this chance on a wall is sound; 0.5 to start with, a round value of our own: at its limit.
    pub sound: f64,
    /// Below this chance it is unsound; 0.2 to start with, a round value of our own.
    pub unsound: f64,
}

impl Default for Trust {
    fn default() -> Trust {
        Trust { sound: 0.5, unsound: 0.2 }
    }
}

impl Trust {
    /// Whether nothing was set: such a trust is not written into a saved job.
    pub fn is_usual(&self) -> bool {
        *self == Trust::default()
    }
}
