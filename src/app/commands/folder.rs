//! What can be asked about a folder of drawings.

use std::path::PathBuf;

/// One thing to do with a folder of drawings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FolderCommand {
    /// Ask for a folder.
    Ask,
    /// Proof every drawing and saved job of this folder.
    Proof(PathBuf),
    /// Ask where to write the table.
    AskTable,
    /// Write the table here.
    WriteTable(PathBuf),
}
