//! What comes of work about the board: a place that was found, the rack proofed, a photograph opened.

use crate::advice::Offer;
use crate::app::board::batch::{Batched, PiecesAnswer};
use crate::arrange::{Arrangement, Impossible};
use crate::job::{Edit, Job};
use crate::notice::Notices;
use crate::proof::place::Found;
use crate::proof::rack::{RackRow, UnusableBoard};
use crate::shop::Photo;
use crate::shop::PhotoNotice;
use egui::ColorImage;
use std::sync::Arc;

/// Which place is looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Wanted {
    /// One for the job's own size.
    AtSize,
    /// One for the largest size there is one for.
    Largest,
}

/// Which of the boards takes a design, best first.
#[derive(Default)]
pub(crate) struct RackAnswer {
    pub(crate) rows: Vec<RackRow>,
    /// What would help on each.
    pub(crate) offers: Vec<Option<Offer>>,
}

/// What came of it.
pub(crate) enum BoardDone {
    /// A place was found, or there is none; then the largest factor there is one for.
    Placed {
        /// The job it was looked for.
        job: Arc<Job>,
        /// What was wanted.
        wanted: Wanted,
        /// The place.
        found: Option<Found>,
        /// The largest there is, where what was wanted is not to be had.
        largest: Option<Found>,
    },
    /// The pieces of this job were arranged, or cannot be.
    Arranged(Arc<Job>, Result<Arrangement, Impossible>),
    /// A board was looked for that takes every piece of this job.
    Answered(Arc<Job>, Result<PiecesAnswer, Impossible>),
    /// Time, price and findings of all pieces.
    Batched(Box<Batched>),
    /// A list of names was read, or could not be; then a sentence that says why.
    NamesRead(Result<String, String>),
    /// A list of names became an edit of this job, and how many they are; or a sentence that says what is wrong.
    Named(Arc<Job>, Result<(usize, Box<Edit>), String>),
    /// The rack was proofed for this job.
    Racked(Arc<Job>, Result<RackAnswer, UnusableBoard>),
    /// A photograph was opened: its file, itself, a copy small enough for the screen, and what was noticed.
    Photographed(String, Arc<Photo>, Box<ColorImage>, Notices<PhotoNotice>),
    /// It could not be; a sentence that names it.
    NotPhotographed(String),
}
