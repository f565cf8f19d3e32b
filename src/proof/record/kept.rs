//! The record on disk: one file, which one program changes at a time.

use super::{Record, RecordError};
use crate::shop::Cutter;
use crate::whole_file::{self, Existing, ReadError, WriteError};
use std::path::{Path, PathBuf};
use thiserror::Error;

/// The largest record that is read: a hundred thousand walls and more. A round value of our own.
const MOST_BYTES: u64 = 32 << 20;

/// Why a record was not read or changed. What was in the file before is still there.
#[derive(Debug, Error)]
pub enum RecordFileError {
    /// It cannot be read.
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the disk said.
        error: ReadError,
    },
    /// It is no record.
    Damaged {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        error: RecordError,
    },
    /// It cannot be written.
    Unwritable {
        /// The file.
        path: PathBuf,
        /// What the disk said.
        error: WriteError,
    },
}

impl Record {
    /// The file that a shop keeps its record in, by its config folder.
    pub fn path_in(folder: &Path) -> PathBuf {
        folder.join("record.csv")
    }

    /// Reads a record from a file.
    ///
    /// # Errors
    ///
    /// Where it cannot be read, or is no record.
    pub fn read(path: &Path) -> Result<Record, RecordFileError> {
        let bytes = whole_file::read(path, MOST_BYTES)
            .map_err(|error| RecordFileError::Unreadable { path: path.to_owned(), error })?;
        Record::from_csv(&String::from_utf8_lossy(&bytes))
            .map_err(|error| RecordFileError::Damaged { path: path.to_owned(), error })
    }

    /// The same of a file that may not be there yet: the record is empty then.
    ///
    /// # Errors
    ///
    /// Where it is there and cannot be read, or is no record.
    pub fn read_or_new(path: &Path) -> Result<Record, RecordFileError> {
        if path.exists() { Record::read(path) } else { Ok(Record::default()) }
    }

    /// Changes the record in a file, and writes it where that made a difference. Other programs wait meanwhile. A
    /// file or folder that is not there yet is made.
    ///
    /// # Errors
    ///
    /// Where the file cannot be read or written, or is no record.
    pub fn change(path: &Path, change: impl FnOnce(&mut Record)) -> Result<Record, RecordFileError> {
        let unwritable = |error| RecordFileError::Unwritable { path: path.to_owned(), error };
        let _lock = whole_file::locked(path).map_err(|error| unwritable(error.into()))?;
        let before = Record::read_or_new(path)?;
        let mut record = before.clone();
        change(&mut record);
        if record != before {
            whole_file::write(path, record.to_csv().as_bytes(), Existing::Replace).map_err(unwritable)?;
        }
        Ok(record)
    }

    /// Those of these cutters that it has walls of, each with what they come to.
    pub fn learned(&self, cutters: &[Cutter]) -> Vec<Cutter> {
        let find = |id: &str| cutters.iter().find(|cutter| cutter.id.eq_ignore_ascii_case(id));
        let learned =
            |cutter: &Cutter| Some(Cutter { experience: Some(self.experience(cutter)?), ..cutter.clone() });
        self.cutters().into_iter().filter_map(find).filter_map(learned).collect()
    }
}
