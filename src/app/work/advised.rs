//! What could be done about a job, with all that a look at each needs.

use crate::advice::{Advice, Means, Nearest, Offer, Tried, advise};
use crate::app::work::proofed::Proofed;
use crate::app::work::{Progress, Stage};
use crate::job::Job;
use crate::shop::{RackBoard, Shop};
use std::sync::Arc;

/// Advice on a job, and each offer as it would be.
pub(crate) struct Advised {
    /// The job it is for.
    pub(crate) of: Arc<Job>,
    /// Best first.
    pub(crate) offers: Vec<Offered>,
    /// What comes nearest where nothing makes it sound.
    pub(crate) nearest: Option<Nearest>,
}

/// An offer, and the job as it would be.
pub(crate) struct Offered {
    pub(crate) offer: Offer,
    pub(crate) after: Proofed,
}

/// `None` where the run was cancelled on the way.
pub(crate) fn advised(
    now: &Proofed,
    shop: &Shop,
    rack: &[RackBoard],
    progress: &Progress,
) -> Option<Advised> {
    progress.enter(Stage::Advising)?;
    let Advice { offers, nearest, .. } = advise(&now.tried(), &Means::of(shop, rack), progress.unwanted())?;
    let offers = offers
        .into_iter()
        .map(|offer| {
            progress.enter(Stage::Advising)?;
            Some(Offered { after: as_it_would_be(now, &offer.after), offer })
        })
        .collect::<Option<Vec<_>>>()?;
    Some(Advised { of: now.job.clone(), offers, nearest })
}

fn as_it_would_be(now: &Proofed, after: &Tried) -> Proofed {
    let same_design = Some(now).filter(|now| Arc::ptr_eq(after.job.design(), now.job.design()));
    let paths = same_design.map(|now| now.paths.clone());
    Proofed::of(after.clone(), paths, same_design.map(|now| now.specks))
}
