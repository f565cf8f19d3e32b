//! Drawings on disk.

use crate::file_name::name_of;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// What tells one state of a file from another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Stamp {
    modified: SystemTime,
    size: u64,
}

impl Stamp {
    /// The file's stamp now; `None` where there is no such file just now.
    pub(crate) fn of(path: &Path) -> Option<Stamp> {
        let facts = std::fs::metadata(path).ok()?;
        Some(Stamp { modified: facts.modified().ok()?, size: facts.len() })
    }
}

/// Where a drawing lies on disk, and how it was when it was read.
#[derive(Clone, Debug)]
pub(crate) struct Drawing {
    pub(crate) path: PathBuf,
    pub(crate) stamp: Option<Stamp>,
}

impl Drawing {
    /// The last part of its path, to call it by in a message.
    pub(crate) fn file_name(&self) -> String {
        name_of(&self.path)
    }
}
