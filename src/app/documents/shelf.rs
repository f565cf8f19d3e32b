//! What is open, and what belongs to files on disk.

use crate::app::documents::drawing::{Drawing, of_design};
use crate::app::documents::keeper::Keeper;
use crate::app::documents::opening::Source;
use crate::app::documents::questions::OpenQuestions;
use crate::app::documents::watch::Watch;
use crate::design::Design;
use crate::job::{History, Job};
use crate::job::recovery::Left;
use std::collections::VecDeque;
use std::sync::Arc;

/// A job that is open and not shown.
pub(crate) struct Parked {
    pub(crate) id: u64,
    pub(crate) now: History,
    pub(crate) clean: Option<Arc<Job>>,
}

/// What is open beside the job that is shown, and what belongs to files on disk.
pub(crate) struct Documents {
    /// One place a job; the place of the shown one is empty.
    pub(crate) places: Vec<Option<Parked>>,
    /// The place of the shown job.
    pub(crate) at: usize,
    /// What tells the shown job from the others, whatever becomes of it.
    pub(crate) id: u64,
    pub(crate) next_id: u64,
    /// Where each design's drawing lies.
    pub(crate) drawings: Vec<(Arc<Design>, Drawing)>,
    /// What may be asked of each design's drawing.
    pub(crate) asks: Vec<(Arc<Design>, OpenQuestions)>,
    /// Files still to open, and the place of the first of them once it is open.
    pub(crate) queue: VecDeque<Source>,
    /// The job that the lesson's tour slides about.
    pub(crate) lesson: Option<u64>,
    pub(crate) first_of_queue: Option<u64>,
    /// What a crash left behind and nobody has decided about.
    pub(crate) left: Vec<Left>,
    pub(crate) keeper: Option<Keeper>,
    pub(crate) watch: Watch,
}

impl Documents {
    pub(crate) fn new(ctx: &egui::Context) -> Documents {
        Documents {
            places: vec![None],
            at: 0,
            id: 0,
            next_id: 1,
            drawings: Vec::new(),
            asks: Vec::new(),
            queue: VecDeque::new(),
            lesson: None,
            first_of_queue: None,
            left: Vec::new(),
            keeper: None,
            watch: Watch::new(ctx.clone()),
        }
    }

    /// Whether everything that was to be opened is.
    pub(crate) fn is_idle(&self) -> bool {
        self.queue.is_empty()
    }

    /// What may be asked of each design's drawing, the last word last.
    pub(crate) fn asks(&self) -> &[(Arc<Design>, OpenQuestions)] {
        &self.asks
    }

    /// Takes down what may be asked of a design's drawing from now on.
    pub(crate) fn ask(&mut self, design: Arc<Design>, asks: OpenQuestions) {
        self.asks.retain(|(of, _)| !Arc::ptr_eq(of, &design));
        self.asks.push((design, asks));
    }

    /// Takes down where a design's drawing lies, and how it was when it was read.
    pub(crate) fn follow(&mut self, design: Arc<Design>, drawing: Drawing) {
        self.drawings.push((design, drawing));
    }

    pub(crate) fn drawing_of(&self, design: &Arc<Design>) -> Option<&Drawing> {
        of_design(&self.drawings, design)
    }
}

/// Whether the job of a place differs from what was saved or opened; that of the lesson's tour is nobody's
/// work to lose.
pub(crate) fn is_changed(lesson: Option<u64>, id: u64, job: &Arc<Job>, clean: Option<&Arc<Job>>) -> bool {
    lesson != Some(id) && clean.is_none_or(|clean| !is_same(clean, job))
}

/// What is to be closed while jobs have changes.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Closing {
    /// The shown job.
    Job,
    /// The window; and the jobs whose changes may be lost, as they were when that was said.
    Window {
        /// Their ids, and themselves.
        given_up: Vec<(u64, Arc<Job>)>,
    },
}
