//! A change of the design, worked out.

use crate::job::{EditKind, ElementsChange, Job};
use std::sync::Arc;

/// A design that was changed, as a job.
pub(crate) struct Edited {
    /// The job it was asked for.
    pub(crate) before: Arc<Job>,
    /// The same where nothing changed.
    pub(crate) after: Arc<Job>,
    /// What an undo of it is called.
    pub(crate) kind: EditKind,
    /// What was done.
    pub(crate) change: Option<ElementsChange>,
}
