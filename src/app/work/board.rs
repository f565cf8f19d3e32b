//! Work about the board that takes longer than a frame: finding a place, proofing the rack, opening a
//! photograph.

use crate::app::work::{Bench, Done, Lane, Proofed, Stage};
use crate::job::Job;
use crate::notice::Notices;
use crate::proof::place::{Found, PITCH, find_at_size, find_largest};
use crate::proof::rack::{RackRow, rack};
use crate::sheet::SheetNotice;
use crate::sheet::photo::{Photo, PhotoError};
use crate::shop::{RackBoard, Shop};
use egui::ColorImage;
use std::path::PathBuf;
use std::sync::Arc;

/// Which place is looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Wanted {
    /// One for the job's own size.
    AtSize,
    /// One for the largest size there is one for.
    Largest,
}

/// What came of it.
pub(crate) enum BoardDone {
    /// A place was found, or there is none; then the largest factor there is one for.
    Placed {
        /// The job it was looked for.
        job: Box<Job>,
        /// What was wanted.
        wanted: Wanted,
        /// The place.
        found: Option<Found>,
        /// The largest there is, where what was wanted is not to be had.
        largest: Option<Found>,
    },
    /// The rack was proofed for this job.
    Racked(Box<Job>, Vec<RackRow>),
    /// A photograph was opened: its file, itself, and a copy small enough for the screen.
    Photographed(String, Arc<Photo>, Box<ColorImage>, Notices<SheetNotice>),
    /// It could not be; a sentence that names it.
    NotPhotographed(String),
}

/// The longest side of a photograph as it is shown for its corners to be marked, in pixels.
const SHOWN_SIDE: u32 = 1600;

impl Bench {
    /// Looks for a clear place.
    pub(crate) fn find_place(&mut self, job: Job, wanted: Wanted) {
        let about = job.design.name.clone();
        self.start(Lane::Placing, Stage::Placing, about, move |_| {
            let found = match wanted {
                Wanted::AtSize => find_at_size(&job, PITCH),
                Wanted::Largest => find_largest(&job, PITCH),
            };
            let largest =
                if found.is_none() && wanted == Wanted::AtSize { find_largest(&job, PITCH) } else { None };
            Some(Done::Board(BoardDone::Placed { job: Box::new(job), wanted, found, largest }))
        });
    }

    /// Proofs every board of the rack.
    pub(crate) fn rack(&mut self, proofed: &Proofed, boards: Vec<RackBoard>, shop: Shop) {
        let (job, measured) = (proofed.job.clone(), proofed.measured.clone());
        let about = job.design.name.clone();
        self.start(Lane::Racking, Stage::Racking, about, move |_| {
            let rows = rack(&job, &measured, &boards, &shop);
            Some(Done::Board(BoardDone::Racked(Box::new(job), rows)))
        });
    }

    /// Opens a photograph.
    pub(crate) fn photograph(&mut self, path: PathBuf) {
        let about = path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        self.start(Lane::Photographing, Stage::Photographing, about, move |_| {
            let read = std::fs::read(&path).map_err(|error| PhotoError::Unreadable(error.to_string()));
            let mut notices = Notices::new();
            Some(Done::Board(match read.and_then(|bytes| Photo::read(&bytes, &mut notices)) {
                Ok(photo) => {
                    let small = photo.shrunk(SHOWN_SIDE);
                    let size = small.size().map(|side| side as usize);
                    let image = ColorImage::from_rgba_unmultiplied(size, small.pixels());
                    let file = path.display().to_string();
                    BoardDone::Photographed(file, Arc::new(photo), Box::new(image), notices)
                }
                Err(error) => BoardDone::NotPhotographed(format!("{} {error}", path.display())),
            }))
        });
    }
}
