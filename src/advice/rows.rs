//! Advice on the rows of a comparison: what would help at each size, or on each board.

use super::{Means, Offer, StepKind, Tried, advise};
use crate::job::Job;
use crate::proof::Severity;
use crate::proof::rack::RackRow;
use crate::proof::sizes::SizeRow;
use crate::shop::Shop;
use std::sync::atomic::AtomicBool;

/// How many rows are advised on, of those that are not sound: each takes as long as a proof's own advice. A round
/// value of our own.
pub const MOST_ADVISED: usize = 12;

/// The best offer at each size, none of which changes the size or the board; `None` for a size that is sound, that
/// nothing helps, or that comes after [`MOST_ADVISED`] others. `now` is the job the sizes are of. `None` for all
/// where it was called off.
pub fn at_sizes(
    now: &Tried,
    rows: &[SizeRow],
    shop: &Shop,
    cancel: &AtomicBool,
) -> Option<Vec<Option<Offer>>> {
    let leaves = &[StepKind::Size, StepKind::RackBoard, StepKind::BoughtBoard];
    best_of_each(now, rows.iter().map(|row| &row.job), &Means { shop, rack: &[], leaves }, cancel)
}

/// The best offer on each board of the rack, none of which takes another; as [`at_sizes`] otherwise.
pub fn on_boards(
    now: &Tried,
    rows: &[RackRow],
    shop: &Shop,
    cancel: &AtomicBool,
) -> Option<Vec<Option<Offer>>> {
    let leaves = &[StepKind::RackBoard, StepKind::BoughtBoard];
    best_of_each(now, rows.iter().map(|row| &row.job), &Means { shop, rack: &[], leaves }, cancel)
}

fn best_of_each<'a>(
    now: &Tried,
    jobs: impl Iterator<Item = &'a Job>,
    means: &Means,
    cancel: &AtomicBool,
) -> Option<Vec<Option<Offer>>> {
    let mut advised = 0;
    jobs.map(|job| {
        if advised == MOST_ADVISED {
            return Some(None);
        }
        let row = now.changed_to(job.clone(), cancel)?;
        if row.severity() == Severity::Sound {
            return Some(None);
        }
        advised += 1;
        Some(advise(&row, means, cancel)?.offers.into_iter().next())
    })
    .collect()
}
