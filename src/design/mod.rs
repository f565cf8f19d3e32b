//! From bytes to a [`Design`]: named elements in millimetres, y up, clean.

pub mod samples;
mod svg;

use crate::geometry::{Grid, Rect, Region};
use crate::notice::Notice;
use std::path::Path;
use thiserror::Error;

/// A drawing to be carved: named elements that do not overlap, at their true drawn size.
///
/// What it promises: every length is in millimetres with y up; elements are in paint order and what a
/// later one covers has been taken from those before it, so each place belongs to one element; all
/// regions share one [`Grid`]; there is at least one element and none is empty; names are unique.
#[derive(Clone, Debug, PartialEq)]
pub struct Design {
    /// What to call it: the file's name without its ending.
    pub name: String,
    /// The elements, in paint order.
    pub elements: Vec<Element>,
    /// The drawing's page, where the file has one.
    pub page: Option<Rect>,
    /// The grid that all elements share.
    pub grid: Grid,
    /// What the reader left out or changed.
    pub notices: Vec<Notice>,
}

/// A named part of a design.
#[derive(Clone, Debug, PartialEq)]
pub struct Element {
    /// Unique in its design.
    pub name: String,
    /// Where it is.
    pub region: Region,
}

impl Design {
    /// Edges in all elements.
    pub fn segment_count(&self) -> usize {
        self.elements.iter().map(|element| element.region.segment_count()).sum()
    }

    /// The box round all outlines.
    pub fn outline_box(&self) -> Rect {
        self.elements
            .iter()
            .filter_map(|element| element.region.bounds())
            .reduce(Rect::union)
            .expect("a design has at least one element and none is empty")
    }
}

/// Why a design could not be read. Each message says what, and what to try; the caller names the file.
#[derive(Debug, Error)]
pub enum DesignError {
    /// The file could not be opened or read.
    #[error("cannot be read: {0}")]
    Unreadable(#[source] std::io::Error),
}

/// Reads a design file from disk. This and [`read`] never touch any other file, nor the network.
pub fn open(path: &Path) -> Result<Design, DesignError> {
    let bytes = std::fs::read(path).map_err(DesignError::Unreadable)?;
    let name =
        path.file_stem().map_or_else(|| "design".to_owned(), |stem| stem.to_string_lossy().into_owned());
    read(&name, &bytes)
}

/// Reads a design from the bytes of a file.
pub fn read(name: &str, bytes: &[u8]) -> Result<Design, DesignError> {
    svg::read(name, bytes)
}
