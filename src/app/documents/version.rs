//! One state of a job, as undo knows it.

use crate::job::Job;

/// The job with the name of its last change. Two steps are the same when their jobs are.
#[derive(Clone)]
pub(crate) struct Version {
    pub(crate) job: Job,
    pub(crate) name: &'static str,
}

impl PartialEq for Version {
    fn eq(&self, other: &Version) -> bool {
        self.job == other.job
    }
}
