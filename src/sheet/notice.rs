//! What is noticed while sheets and pictures are made, as facts.

use super::photo::PhotoError;
use crate::notice::Importance;

/// One thing noticed while a sheet or a picture was made all the same.
#[derive(Clone, Debug, PartialEq)]
pub enum SheetNotice {
    /// Letters that no typeface on this machine has.
    MissingLetters {
        /// The first few, sorted.
        letters: Vec<char>,
        /// How many there are besides.
        more: usize,
    },
    /// The board's photograph cannot be used, so the picture is made without it.
    NoPhoto {
        /// The file.
        file: String,
        /// Why.
        error: PhotoError,
    },
    /// A photograph does not say which way up it was taken.
    PhotoTurn,
}

impl SheetNotice {
    /// How much it matters.
    pub fn importance(&self) -> Importance {
        match self {
            SheetNotice::MissingLetters { .. } | SheetNotice::NoPhoto { .. } => Importance::LeftOut,
            SheetNotice::PhotoTurn => Importance::Remark,
        }
    }
}
