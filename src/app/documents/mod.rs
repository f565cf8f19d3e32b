//! The jobs that are open: several at once, one of them shown; where each came from, what is followed
//! on disk, and what is kept against a crash.

pub(crate) mod dialogs;
pub(crate) mod keeper;
pub(crate) mod opening;
pub(crate) mod path_field;
pub(crate) mod questions;
pub(crate) mod watch;
pub(crate) mod windows;

use crate::app::documents::keeper::Keeper;
use crate::app::documents::opening::Source;
use crate::app::documents::questions::OpenQuestions;
use crate::app::documents::watch::{Stamp, Watch};
use crate::design::Design;
use crate::job::recovery::Left;
use crate::job::{History, Job};
use std::collections::VecDeque;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A job that is open and not shown.
pub(crate) struct Parked {
    pub(crate) id: u64,
    pub(crate) now: History,
    pub(crate) clean: Option<Arc<Job>>,
}

/// Where a drawing lies on disk, and how it was when it was read.
#[derive(Clone, Debug)]
pub(crate) struct Drawing {
    pub(crate) path: PathBuf,
    pub(crate) stamp: Option<Stamp>,
}

/// Where an opened job came from, as far as it came from a file.
#[derive(Clone, Debug, Default)]
pub(crate) struct Origin {
    /// The saved job it may be saved to again.
    pub(crate) saved_at: Option<PathBuf>,
    /// The drawing it is made of.
    pub(crate) drawing: Option<Drawing>,
    /// A job that was kept over a crash: it has changes that were never saved.
    pub(crate) kept: Option<crate::job::recovery::Kept>,
    /// What may be asked of the drawing.
    pub(crate) asks: Option<OpenQuestions>,
    /// Whether it was made here and is in no file.
    pub(crate) is_new: bool,
    /// Whether the lesson's tour asked for it.
    pub(crate) for_lesson: bool,
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

/// Whether two jobs are the same: mostly they are one.
pub(crate) fn is_same(a: &Arc<Job>, b: &Arc<Job>) -> bool {
    Arc::ptr_eq(a, b) || a == b
}

/// What was last said of a design in a list.
pub(crate) fn of_design<'a, T>(list: &'a [(Arc<Design>, T)], design: &Arc<Design>) -> Option<&'a T> {
    list.iter().rev().find(|(of, _)| Arc::ptr_eq(of, design)).map(|(_, what)| what)
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

/// Whether a path is a saved job's, by its ending.
pub(crate) fn is_saved_job(path: &Path) -> bool {
    path.extension().is_some_and(|end| end.eq_ignore_ascii_case("spelk"))
}
