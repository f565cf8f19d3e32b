//! What the shop's own files are noticed for, as facts.

use crate::notice::Importance;
use std::path::PathBuf;

/// One thing noticed while the shop's own files were read; the rest of them counts all the same.
#[derive(Clone, Debug, PartialEq)]
pub enum ShopNotice {
    /// A file cannot be read.
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system says.
        error: String,
    },
    /// A list of entries does not parse.
    Damaged {
        /// The file.
        path: PathBuf,
        /// What the parser found, with the line.
        problem: String,
    },
    /// The prices cannot be used.
    BadPrices {
        /// The file.
        path: PathBuf,
        /// What is wrong with them.
        problem: String,
    },
    /// One entry makes no sense.
    BadEntry {
        /// The file.
        path: PathBuf,
        /// What the entry is called.
        name: String,
        /// The first thing that is wrong with it.
        problem: String,
    },
}

impl ShopNotice {
    /// How much it matters.
    pub fn importance(&self) -> Importance {
        Importance::LeftOut
    }
}
