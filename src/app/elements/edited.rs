//! A change of the design, worked out.

use crate::job::Job;

/// A design that was changed, as a job.
pub(crate) struct Edited {
    /// The job it was asked for.
    pub(crate) before: Job,
    pub(crate) after: Job,
    /// What an undo of it is called.
    pub(crate) name: &'static str,
    /// What was done, in a sentence.
    pub(crate) words: String,
    /// The elements to choose now.
    pub(crate) chosen: Vec<String>,
}
