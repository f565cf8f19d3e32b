//! What is asked and worked out about all pieces of a board, for their window.

use crate::arrange::OnRack;
use crate::job::{Job, Reach};
use crate::sheet::arrange::Common;
use crate::sheet::batch::BatchFacts;
use crate::shop::Prices;
use crate::units::{LengthUnit, Mm};
use std::sync::Arc;

/// An answer about all pieces.
pub(crate) enum PiecesAnswer {
    /// The shortest board that was found to take them.
    Shortest(Mm),
    /// The boards of the rack that take some of them, best first.
    Rack(Vec<OnRack>),
}

/// Time, price and findings of all pieces, and what they were worked out from.
pub(crate) struct Batched {
    pub(crate) job: Arc<Job>,
    pub(crate) prices: Prices,
    pub(crate) unit: LengthUnit,
    pub(crate) facts: BatchFacts,
    /// What was found, each once for all copies that have it.
    pub(crate) found: Vec<Common>,
}

/// What the window of the pieces shows and keeps beside the job.
#[derive(Default)]
pub(crate) struct PiecesView {
    pub(crate) open: bool,
    /// Whether exports write a file for each piece.
    pub(crate) each: bool,
    /// The list of names as it is typed.
    pub(crate) names: String,
    /// What is wrong with it.
    pub(crate) problem: Option<String>,
    batched: Option<Box<Batched>>,
    /// The job they are being worked out for.
    working: Option<Arc<Job>>,
    /// The last answer, and the job it is about.
    answer: Option<(Arc<Job>, PiecesAnswer)>,
}

fn is_of(of: &Job, job: &Job) -> bool {
    Reach::between(of, job).is_only_noted()
}

impl PiecesView {
    /// What was worked out of this job; what is of an older one stays until the new arrives, as long as it has as many
    /// pieces.
    pub(crate) fn batched(&self, job: &Job) -> Option<&Batched> {
        let is_like = |batched: &&Batched| batched.facts.batch.pieces.len() == job.piece_count();
        self.batched.as_deref().filter(|_| job.is_batch()).filter(is_like)
    }

    /// Whether that is of the job as it is.
    pub(crate) fn is_current(&self, job: &Job) -> bool {
        self.batched.as_ref().is_some_and(|batched| is_of(&batched.job, job))
    }

    /// The answer about this job.
    pub(crate) fn answer(&self, job: &Job) -> Option<&PiecesAnswer> {
        self.answer.as_ref().filter(|(of, _)| is_of(of, job)).map(|(_, answer)| answer)
    }

    /// Whether something about this job is neither there nor on its way.
    pub(crate) fn wants(&self, job: &Job, prices: &Prices, unit: LengthUnit) -> bool {
        let is_there = self.batched.as_ref().is_some_and(|batched| {
            is_of(&batched.job, job) && batched.prices == *prices && batched.unit == unit
        });
        self.open && job.is_batch() && !is_there && !self.working.as_ref().is_some_and(|of| is_of(of, job))
    }

    pub(crate) fn works_for(&mut self, job: Arc<Job>) {
        self.working = Some(job);
    }

    pub(crate) fn take_batched(&mut self, batched: Box<Batched>) {
        self.working = None;
        self.batched = Some(batched);
    }

    pub(crate) fn take_answer(&mut self, job: Arc<Job>, answer: PiecesAnswer) {
        self.answer = Some((job, answer));
    }
}
