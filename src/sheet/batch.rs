//! What the files and sheets of several pieces on one board have in common: the facts they tell, and the names of
//! files that are written for each piece.

use super::arrange::Arranged;
use crate::arrange::{Arrangement, Batch, OneMore, as_it_lies, batch, one_more};
use crate::file_name;
use crate::job::Job;
use crate::relief::mesh::stl_of_passes;
use crate::shop::{Money, Prices};
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

/// What is known of the pieces of a job as they lie.
#[derive(Clone, Debug)]
pub struct BatchFacts {
    /// Where they lie.
    pub laid: Arrangement,
    /// What comes of them.
    pub batch: Batch,
    /// Of each piece whether one more goes on.
    pub one_more: Vec<OneMore>,
}

impl BatchFacts {
    /// Of a job whose pieces were arranged so and laid; `None` once it is called off. Seconds for a full board.
    pub fn of(job: &Job, laid: Arrangement, prices: &Prices, cancel: &AtomicBool) -> Option<BatchFacts> {
        let batch = batch(job, prices, cancel)?;
        let one_more = (0..job.piece_count()).map(|piece| one_more(job, &laid, piece)).collect();
        Some(BatchFacts { laid, batch, one_more })
    }

    /// Of a job as its pieces lie, with nothing looked for.
    pub fn as_it_lies(job: &Job, prices: &Prices, cancel: &AtomicBool) -> Option<BatchFacts> {
        BatchFacts::of(job, as_it_lies(job), prices, cancel)
    }

    /// The same for text and JSON.
    pub fn arranged<'a>(&'a self, job: &'a Job, money: &'a Money) -> Arranged<'a> {
        let BatchFacts { laid, batch, one_more } = self;
        Arranged { job, laid, batch, one_more, shortest: None, rack: None, money }
    }
}

/// The files that `path` becomes where each piece has its own: `sign.svg` becomes `sign-1-coaster.svg`. The number is
/// the piece's in the list, so that no two are called the same, and every system takes the names.
pub fn paths_of_each(job: &Job, path: &Path) -> Vec<PathBuf> {
    /// Of a piece's name, so that the file's is no longer than systems take.
    const MOST_NAME: usize = 60;
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let ending = path.extension().unwrap_or_default().to_string_lossy();
    let of_piece = |piece: usize| {
        let name: String = job.piece_name(piece).chars().take(MOST_NAME).collect();
        let name = file_name::portable(&name);
        path.with_file_name(file_name::portable(&format!("{stem}-{}-{name}.{ending}", piece + 1)))
    };
    (0..job.piece_count()).map(of_piece).collect()
}

/// A piece as a job of it alone, for a file of its own: where its copies come out differently, the copy with the
/// gravest verdict; as it is set where nothing is known of its copies or none is laid.
pub fn alone(job: &Job, batch: Option<&Batch>, piece: usize) -> Job {
    let gravest = batch.and_then(|batch| batch.gravest(piece));
    gravest.map_or_else(|| job.piece(piece), |copy| job.copy(piece, copy.lie))
}

/// The board with every copy carved, as an STL file; `None` where none is laid.
pub fn stl_of_batch(job: &Job, batch: &Batch) -> Option<Vec<u8>> {
    stl_of_passes(job, &batch.plan, &batch.copies.first()?.proof)
}
