//! The steps a job has gone through, so that they can be taken back and made again.
//!
//! A step is a whole job: jobs share their designs, so that a step costs a few kilobytes.

use super::{Change, Edit, EditKind, Job, Rejected};
use std::collections::VecDeque;
use std::sync::Arc;

/// Steps that can be taken back; the oldest are forgotten.
pub const MOST_STEPS: usize = 100;

/// A job as an edit left it.
#[derive(Clone, Debug)]
struct Step {
    job: Arc<Job>,
    /// What led to it.
    kind: EditKind,
}

/// A job, and how it came to be what it is.
#[derive(Clone, Debug)]
pub struct History {
    /// Earlier steps, the oldest first.
    past: VecDeque<Step>,
    now: Step,
    /// Steps that were taken back, the last one taken back last.
    future: Vec<Step>,
    /// Whether a further edit of the same kind goes into the present step.
    is_open: bool,
}

impl History {
    /// The history of a job that was just opened.
    pub fn new(job: Arc<Job>) -> History {
        History {
            past: VecDeque::new(),
            now: Step { job, kind: EditKind::Opened },
            future: Vec::new(),
            is_open: false,
        }
    }

    /// The job as it is now.
    pub fn job(&self) -> &Arc<Job> {
        &self.now.job
    }

    /// Applies an edit as a step of its own. What changes nothing is no step.
    ///
    /// # Errors
    ///
    /// Where [`Job::apply`] rejects it; there is no step then.
    pub fn apply(&mut self, edit: Edit) -> Result<Change, Rejected> {
        self.is_open = false;
        let kind = edit.kind();
        let mut job = (*self.now.job).clone();
        let change = job.apply(edit)?;
        if *self.now.job != job {
            self.take(Arc::new(job), kind);
        }
        Ok(change)
    }

    /// Applies an edit that is one of many a drag or a typing hand makes: those of one kind become one step,
    /// until it is [closed](Self::close).
    ///
    /// # Errors
    ///
    /// Where [`Job::apply`] rejects it.
    pub fn drag(&mut self, edit: Edit) -> Result<Change, Rejected> {
        let goes_on = self.is_open && self.now.kind == edit.kind();
        let kind = edit.kind();
        let mut job = (*self.now.job).clone();
        let change = job.apply(edit)?;
        if *self.now.job != job {
            let job = Arc::new(job);
            if goes_on {
                self.now.job = job;
            } else {
                self.take(job, kind);
            }
            self.is_open = true;
        }
        Ok(change)
    }

    /// Whether a drag is going on.
    pub fn is_open(&self) -> bool {
        self.is_open
    }

    /// A drag is over: the next edit is a step of its own. A drag that came back to where it began is no step.
    pub fn close(&mut self) {
        if std::mem::take(&mut self.is_open)
            && let Some(before) = self.past.back()
            && before.job == self.now.job
        {
            self.now = self.past.pop_back().expect("there is a last step");
        }
    }

    /// Makes a job that was worked out elsewhere the present one, in a step of its own.
    pub fn take(&mut self, job: Arc<Job>, kind: EditKind) {
        self.is_open = false;
        let before = std::mem::replace(&mut self.now, Step { job, kind });
        if self.past.len() == MOST_STEPS {
            self.past.pop_front();
        }
        self.past.push_back(before);
        self.future.clear();
    }

    /// Goes back to an earlier job, and forgets what was done since; where no step is of it, it takes the
    /// place of the present one.
    pub fn give_up(&mut self, job: Arc<Job>) {
        if let Some(at) = self.past.iter().rposition(|step| Arc::ptr_eq(&step.job, &job)) {
            self.past.truncate(at + 1);
            self.now = self.past.pop_back().expect("there is a last step");
            self.future.clear();
        } else {
            self.now.job = job;
        }
        self.is_open = false;
    }

    /// Changes the present job without a step, so that undo does not stop there.
    ///
    /// # Errors
    ///
    /// Where [`Job::apply`] rejects it.
    pub fn amend(&mut self, edit: Edit) -> Result<Change, Rejected> {
        let mut job = (*self.now.job).clone();
        let change = job.apply(edit)?;
        if *self.now.job != job {
            self.now.job = Arc::new(job);
        }
        Ok(change)
    }

    /// What undo would take back, if anything.
    pub fn can_undo(&self) -> Option<EditKind> {
        (!self.past.is_empty()).then_some(self.now.kind)
    }

    /// What redo would make again, if anything.
    pub fn can_redo(&self) -> Option<EditKind> {
        self.future.last().map(|step| step.kind)
    }

    /// Takes the last step back; whether there was one.
    pub fn undo(&mut self) -> bool {
        self.close();
        let Some(before) = self.past.pop_back() else { return false };
        let after = std::mem::replace(&mut self.now, before);
        self.future.push(after);
        true
    }

    /// Makes the step again that was taken back last; whether there was one.
    pub fn redo(&mut self) -> bool {
        self.close();
        let Some(after) = self.future.pop() else { return false };
        let before = std::mem::replace(&mut self.now, after);
        self.past.push_back(before);
        true
    }
}
