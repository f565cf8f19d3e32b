//! What the command line prints beside the sheets: what was written, what was refused and why.

use super::errors::disk;
use std::io;
use std::path::Path;

/// A file could not be written.
pub fn not_written(path: &Path, error: &io::Error) -> String {
    format!("{} cannot be written ({})", path.display(), disk(error))
}
