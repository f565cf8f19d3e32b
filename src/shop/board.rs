//! The piece of wood.

use super::{Blemish, Sawn, StockCheck};
use crate::geometry::Rect;
use crate::units::Mm;
use glam::{DVec2, dvec2};
use serde::{Deserialize, Serialize};

/// A board: length runs along the grain, the way it is fed.
#[derive(Clone, Debug, PartialEq)]
pub struct Board {
    /// Along the grain.
    pub length: Mm,
    /// Across the grain.
    pub width: Mm,
    /// Face to face.
    pub thickness: Mm,
    /// How it was sawn: its walls and its width across follow.
    pub sawn: Sawn,
    /// Places that are to be kept clear of, in board space.
    pub blemishes: Vec<Blemish>,
    /// What was measured of its shape at the bench.
    pub stock: StockCheck,
    /// A photograph of it.
    pub photo: Option<BoardPhoto>,
}

/// A board as files have it: with its wood's id.
#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Board")]
pub(crate) struct WrittenBoard {
    length: Mm,
    width: Mm,
    thickness: Mm,
    wood: String,
    #[serde(default)]
    sawn: Sawn,
    #[serde(default)]
    blemishes: Vec<Blemish>,
    #[serde(default)]
    stock: StockCheck,
    #[serde(default)]
    photo: Option<BoardPhoto>,
}

/// A photograph of a board, and where its corners are on it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BoardPhoto {
    /// The file's path, as the user chose it.
    pub file: String,
    /// The board's corners in the photograph's pixels (x to the right, y down), in board order:
    /// leading end at the reference edge, trailing end at the reference edge, trailing end at the far
    /// edge, leading end at the far edge.
    pub corners: [[f64; 2]; 4],
}

impl WrittenBoard {
    pub(crate) fn of(board: &Board, wood: &str) -> WrittenBoard {
        let Board { length, width, thickness, sawn, blemishes, stock, photo } = board.clone();
        WrittenBoard { length, width, thickness, wood: wood.to_owned(), sawn, blemishes, stock, photo }
    }

    /// The board, and its wood's id.
    pub(crate) fn into_board(self) -> (Board, String) {
        let WrittenBoard { length, width, thickness, wood, sawn, blemishes, stock, photo } = self;
        (Board { length, width, thickness, sawn, blemishes, stock, photo }, wood)
    }
}

impl Board {
    /// Its face in board space: the corner where the left end meets the reference edge is the origin.
    pub fn area(&self) -> Rect {
        Rect::new(DVec2::ZERO, dvec2(self.length.get(), self.width.get()))
    }
}

impl Default for Board {
    fn default() -> Board {
        Board {
            length: Mm::from_inches(24.0),
            width: Mm::from_inches(8.0),
            thickness: Mm::from_inches(0.75),
            sawn: Sawn::default(),
            blemishes: Vec::new(),
            stock: StockCheck::default(),
            photo: None,
        }
    }
}
