//! A job that was proofed, with what its neighbours can use again.

use super::grave_kinds;
use crate::job::{Clearing, Edit, Job, Reach};
use crate::proof::{self, FindingKind, Measured, Proof, Ratings, Severity};
use crate::relief::{plan, time};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// A job with all that its proof took.
#[derive(Clone, Debug)]
pub struct Tried {
    /// The job.
    pub job: Arc<Job>,
    /// Its widths.
    pub measured: Arc<Measured>,
    /// Its widths against the limits.
    pub ratings: Arc<Ratings>,
    /// The answer.
    pub proof: Arc<Proof>,
}

impl Tried {
    /// A job, proofed from nothing. Near-linear in edges.
    pub fn of(job: Job) -> Tried {
        let measured = proof::measure(&job);
        let ratings = proof::rate(&job, &measured);
        Tried::rated(job, measured, ratings)
    }

    /// A job that was measured and rated, proofed: a look-up.
    pub fn rated(
        job: impl Into<Arc<Job>>,
        measured: impl Into<Arc<Measured>>,
        ratings: impl Into<Arc<Ratings>>,
    ) -> Tried {
        let (job, measured, ratings) = (job.into(), measured.into(), ratings.into());
        let proof = Arc::new(proof::proof(&job, &measured, &ratings));
        Tried { job, measured, ratings, proof }
    }

    /// Another job, proofed with what still holds of this one; `None` where it is called off.
    pub(crate) fn changed_to(&self, job: Job, cancel: &AtomicBool) -> Option<Tried> {
        let reach = Reach::between(&self.job, &job);
        let measured = if reach.keeps_widths() {
            self.measured.clone()
        } else {
            Arc::new(proof::measure_unless(&job, cancel)?)
        };
        // What clears first is held to no wall.
        let clears_alike = || {
            let cutter = self.job.clearing().cutter.clone();
            let other = Clearing { cutter, ..job.clearing().clone() };
            let alike = job.with([Edit::Clearing(Box::new(other))]);
            alike.is_ok_and(|alike| Reach::between(&self.job, &alike).keeps_ratings())
        };
        let keeps_ratings = reach.keeps_ratings() || (reach.keeps_widths() && clears_alike());
        let ratings = if keeps_ratings {
            self.ratings.clone()
        } else {
            Arc::new(proof::rate_unless(&job, &measured, cancel)?)
        };
        (!cancel.load(Ordering::Relaxed)).then(|| Tried::rated(job, measured, ratings))
    }

    /// Minutes at the machine; `None` where they cannot be worked out, or it was called off. As long as planning its
    /// passes takes.
    pub fn minutes(&self, cancel: &AtomicBool) -> Option<f64> {
        let plan = plan(&self.job, &self.measured, cancel)?;
        time::of_plan(&self.job, &plan).minutes()
    }

    /// The worst of its findings.
    pub fn severity(&self) -> Severity {
        self.proof.verdict.severity
    }

    /// Whether anything is found that is one of these kinds and graver than sound.
    pub(super) fn has(&self, kinds: &[FindingKind]) -> bool {
        let grave = |finding: &&proof::Finding| finding.severity() > Severity::Sound;
        self.proof.findings.iter().filter(grave).any(|finding| kinds.contains(&finding.kind()))
    }

    /// The gravest of a kind of finding; sound where there is none.
    fn gravest(&self, kind: FindingKind) -> Severity {
        let of_kind = self.proof.findings.iter().filter(|finding| finding.kind() == kind);
        of_kind.map(proof::Finding::severity).max().unwrap_or(Severity::Sound)
    }

    /// Whether any kind of finding is graver here than there.
    pub fn is_worse_than(&self, before: &Tried) -> bool {
        grave_kinds(self).into_iter().any(|kind| self.gravest(kind) > before.gravest(kind))
    }

    /// Whether a kind of finding is less grave here than there.
    pub(super) fn settles_something_of(&self, before: &Tried) -> bool {
        grave_kinds(before).into_iter().any(|kind| self.gravest(kind) < before.gravest(kind))
    }

    /// How far from sound it is, the least first: how many findings are unsound, then how many are chancy.
    pub(super) fn left(&self) -> [usize; 2] {
        let count =
            |severity| self.proof.findings.iter().filter(|finding| finding.severity() == severity).count();
        [count(Severity::Unsound), count(Severity::Chancy)]
    }

    /// Whether the machine makes the same cuts, wherever on whichever board.
    pub(crate) fn cuts_as(&self, other: &Tried) -> bool {
        let (a, b) = (&*self.job, &*other.job);
        Arc::ptr_eq(a.design(), b.design())
            && a.carvings() == b.carvings()
            && a.cutter() == b.cutter()
            && a.clearing() == b.clearing()
            && a.depth() == b.depth()
            && a.turn() == b.turn()
            && a.board().thickness == b.board().thickness
            && self.proof.factor == other.proof.factor
    }
}
