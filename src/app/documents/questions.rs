//! What a drawing's file leaves open, and reading it again by the answer.

use crate::app::documents::drawing::Stamp;
use crate::design::{self, Design, DesignError, ReadOptions, Reading, UnstatedSize};
use crate::file_name::name_of;
use std::path::PathBuf;
use std::sync::Arc;

/// Where a drawing comes from.
#[derive(Clone, Debug)]
pub(crate) enum DrawingSource {
    File(PathBuf),
    Bytes { name: String, bytes: Arc<[u8]> },
}

impl DrawingSource {
    /// Reads it.
    pub(crate) fn read(&self, options: &ReadOptions) -> Result<Reading, DesignError> {
        match self {
            DrawingSource::File(path) => design::open_with(path, options),
            DrawingSource::Bytes { name, bytes } => {
                let stem = name.rsplit_once('.').map_or(name.as_str(), |(stem, _)| stem);
                design::read_with(stem, bytes, options)
            }
        }
    }

    pub(crate) fn name(&self) -> String {
        match self {
            DrawingSource::File(path) => name_of(path),
            DrawingSource::Bytes { name, .. } => name.clone(),
        }
    }
}

/// What may be asked of a drawing, and where to read it again by the answer.
#[derive(Clone, Debug)]
pub(crate) struct OpenQuestions {
    pub(crate) from: DrawingSource,
    pub(crate) unstated: Option<UnstatedSize>,
    pub(crate) open_outlines: usize,
    /// Whether somebody said how large it is.
    pub(crate) is_settled: bool,
}

impl OpenQuestions {
    /// What a reading leaves to be asked; nothing of it is kept where there is nothing.
    pub(crate) fn of(from: DrawingSource, reading: &Reading, is_settled: bool) -> Option<OpenQuestions> {
        let unstated = reading.unstated.clone().filter(|unstated| unstated.readings.len() > 1);
        (unstated.is_some() || reading.open_outlines > 0).then_some(OpenQuestions {
            from,
            unstated,
            open_outlines: reading.open_outlines,
            is_settled,
        })
    }
}

/// Why a drawing is read again.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Why {
    /// Its file changed.
    Changed,
    /// Somebody said what its unit is.
    Unit,
    /// Its open outlines are to be carved.
    Lines,
}

/// A drawing that was read again.
pub(crate) struct Reread {
    pub(crate) before: Arc<Design>,
    pub(crate) from: DrawingSource,
    pub(crate) options: ReadOptions,
    pub(crate) why: Why,
    pub(crate) stamp: Option<Stamp>,
    /// The design, or what is wrong with it.
    pub(crate) read: Result<Reading, DesignError>,
    pub(crate) is_settled: bool,
}
