//! The piece of wood.

use crate::units::Mm;
use serde::{Deserialize, Serialize};

/// A board: length runs along the grain, the way it is fed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Board {
    /// Along the grain.
    pub length: Mm,
    /// Across the grain.
    pub width: Mm,
    /// Face to face.
    pub thickness: Mm,
    /// The id of its wood.
    pub wood: String,
}

impl Default for Board {
    fn default() -> Board {
        Board {
            length: Mm::from_inches(24.0),
            width: Mm::from_inches(8.0),
            thickness: Mm::from_inches(0.75),
            wood: "basswood_american".to_owned(),
        }
    }
}
