//! Things worth telling a person about input that was used all the same.

use serde::{Deserialize, Serialize};

/// How much a notice matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Importance {
    /// Worth knowing; the result is what one would expect.
    Remark,
    /// Something in the file was left out or changed.
    LeftOut,
}

/// One thing a reader noticed and carried on from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Notice {
    /// How much it matters.
    pub importance: Importance,
    /// What happened, for a person: `2 bitmap images were left out`.
    pub message: String,
    /// What to try; may be empty.
    pub hint: String,
}

impl Notice {
    /// Something in the file could not be used.
    pub fn left_out(message: impl Into<String>, hint: impl Into<String>) -> Notice {
        Notice { importance: Importance::LeftOut, message: message.into(), hint: hint.into() }
    }

    /// Something worth knowing.
    pub fn remark(message: impl Into<String>, hint: impl Into<String>) -> Notice {
        Notice { importance: Importance::Remark, message: message.into(), hint: hint.into() }
    }
}
