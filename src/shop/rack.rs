//! The rack: the boards a shop has lying ready, kept between runs in `boards.json`.

use super::Board;
use super::board::WrittenBoard;
use super::keep::{Aside, MOST_BYTES, write_json};
use crate::whole_file::{self, ReadError, WriteError};
use serde::{Deserialize, Serialize};
use std::io;
use std::path::{Path, PathBuf};
use thiserror::Error;

/// A board on the rack.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(from = "WrittenRackBoard", into = "WrittenRackBoard")]
pub struct RackBoard {
    /// What the shop calls it.
    pub name: String,
    /// The board itself, with its blemishes.
    pub board: Board,
    /// The id of its wood, which this shop may not know.
    pub wood: String,
    /// What it cost, in the shop's own money; `None` where nobody knows.
    pub price: Option<f64>,
}

/// An entry as `boards.json` has it.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "RackBoard")]
struct WrittenRackBoard {
    name: String,
    board: WrittenBoard,
    #[serde(default)]
    price: Option<f64>,
}

impl From<WrittenRackBoard> for RackBoard {
    fn from(written: WrittenRackBoard) -> RackBoard {
        let (board, wood) = written.board.into_board();
        RackBoard { name: written.name, board, wood, price: written.price }
    }
}

impl From<RackBoard> for WrittenRackBoard {
    fn from(entry: RackBoard) -> WrittenRackBoard {
        let board = WrittenBoard::of(&entry.board, &entry.wood);
        WrittenRackBoard { name: entry.name, board, price: entry.price }
    }
}

/// The most a board may cost, in any money: a round value of our own.
pub const MOST_PRICE: f64 = 1e9;

/// Why the rack could not be read or kept.
#[derive(Debug, Error)]
pub enum RackError {
    /// The file is there and cannot be read.
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the disk said.
        error: ReadError,
    },
    /// It does not hold a list of boards.
    Damaged {
        /// The file.
        path: PathBuf,
        /// Where and what.
        error: serde_json::Error,
    },
    /// A board in it has no sensible size.
    NoSize {
        /// The file.
        path: PathBuf,
        /// The board's name.
        board: String,
    },
    /// A board in it has a price that is none.
    NoPrice {
        /// The file.
        path: PathBuf,
        /// The board's name.
        board: String,
    },
    /// It could not be written.
    Unwritable {
        /// The file.
        path: PathBuf,
        /// What the disk said.
        error: WriteError,
    },
}

const FILE: &str = "boards.json";

/// The file that holds the rack kept in a folder.
pub fn rack_file(folder: &Path) -> PathBuf {
    folder.join(FILE)
}

/// The rack kept in a folder; empty where there is no `boards.json`.
///
/// # Errors
///
/// Where the file cannot be read, or is no rack.
pub fn open_rack(folder: &Path) -> Result<Vec<RackBoard>, RackError> {
    open_rack_file(&rack_file(folder))
}

/// The rack kept in a file; empty where there is none.
///
/// # Errors
///
/// Where the file cannot be read, or is no rack.
pub fn open_rack_file(path: &Path) -> Result<Vec<RackBoard>, RackError> {
    match read_rack_file(path) {
        Err(RackError::Unreadable { error: ReadError::Disk(error), .. })
            if error.kind() == io::ErrorKind::NotFound =>
        {
            Ok(Vec::new())
        }
        read => read,
    }
}

/// The rack kept in a file that must be there.
///
/// # Errors
///
/// Where the file cannot be read, or is no rack.
pub fn read_rack_file(path: &Path) -> Result<Vec<RackBoard>, RackError> {
    let bytes = whole_file::read(path, MOST_BYTES)
        .map_err(|error| RackError::Unreadable { path: path.to_owned(), error })?;
    let boards: Vec<RackBoard> = serde_json::from_slice(&bytes)
        .map_err(|error| RackError::Damaged { path: path.to_owned(), error })?;
    let sensible = |entry: &&RackBoard| {
        [entry.board.length, entry.board.width, entry.board.thickness].iter().all(|side| {
            let side = side.get();
            side > 0.0 && side <= 1.0e6
        })
    };
    if let Some(entry) = boards.iter().find(|entry| !sensible(entry)) {
        return Err(RackError::NoSize { path: path.to_owned(), board: entry.name.clone() });
    }
    let priced = |entry: &&RackBoard| entry.price.is_none_or(|price| (0.0..=MOST_PRICE).contains(&price));
    match boards.iter().find(|entry| !priced(entry)) {
        Some(entry) => Err(RackError::NoPrice { path: path.to_owned(), board: entry.name.clone() }),
        None => Ok(boards),
    }
}

/// Changes the rack kept in a folder, made where it is not there. Others that change it wait meanwhile. A file that
/// is no list of boards is set aside, and a new one begun; the boards now, and what was set aside.
///
/// # Errors
///
/// Where `change` refuses, or the file cannot be read or written; it is unchanged then.
pub fn change_rack<E: From<RackError>>(
    folder: &Path,
    change: impl FnOnce(&mut Vec<RackBoard>) -> Result<(), E>,
) -> Result<(Vec<RackBoard>, Option<Aside>), E> {
    let path = rack_file(folder);
    let unwritable = |error: WriteError| RackError::Unwritable { path: path.clone(), error };
    let _lock = whole_file::locked(&path).map_err(|error| unwritable(error.into()))?;
    let (mut boards, is_damaged) = match open_rack_file(&path) {
        Err(RackError::Damaged { .. }) => (Vec::new(), true),
        read => (read?, false),
    };
    change(&mut boards)?;
    let aside = is_damaged.then(|| Aside::set(&path)).transpose().map_err(unwritable)?;
    save_rack_file(&path, &boards)?;
    Ok((boards, aside))
}

/// Changes the rack in a file of any name, made where it is not there. Others that change it wait meanwhile.
///
/// # Errors
///
/// Where `change` refuses, or the file cannot be read or written, or is no rack: it may be something else altogether.
/// It is unchanged then.
pub fn change_rack_file<E: From<RackError>>(
    path: &Path,
    change: impl FnOnce(&mut Vec<RackBoard>) -> Result<(), E>,
) -> Result<(), E> {
    let _lock = whole_file::locked(path)
        .map_err(|error| RackError::Unwritable { path: path.to_owned(), error: error.into() })?;
    let mut boards = open_rack_file(path)?;
    change(&mut boards)?;
    Ok(save_rack_file(path, &boards)?)
}

/// Keeps the rack in a folder (made where it is not there): written under a temporary name, then
/// renamed.
///
/// # Errors
///
/// Where the file cannot be written.
pub fn save_rack(folder: &Path, boards: &[RackBoard]) -> Result<(), RackError> {
    save_rack_file(&rack_file(folder), boards)
}

/// The same in a file of any name.
///
/// # Errors
///
/// Where the file cannot be written.
pub fn save_rack_file(path: &Path, boards: &[RackBoard]) -> Result<(), RackError> {
    write_json(path, boards).map_err(|error| RackError::Unwritable { path: path.to_owned(), error })
}
