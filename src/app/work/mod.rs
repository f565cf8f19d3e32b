//! Work that takes longer than a frame, each run on a thread of its own from an immutable snapshot.
//!
//! There is a lane for each kind of work: opening a file, proofing the job, painting the board and so on.
//! A lane has at most one run that counts. A run has a number; whatever comes back under an older number is dropped. Results
//! are collected by [`Bench::collect`], which `App::logic` calls and nobody else.

pub(crate) mod board;
pub(crate) mod layers;
pub(crate) mod papers;

use crate::app::commands::element::Words;
use crate::app::documents::watch::Stamp;
use crate::app::documents::{Drawing, Origin, is_saved_job};
use crate::app::elements::lettering::Set;
use crate::app::elements::reading::{Asks, Drawn, Reread};
use crate::app::handle::edit::Edited;
use crate::app::relief;
use crate::app::sizes::{Sized, Surfaced};
use crate::app::work::board::BoardDone;
use crate::app::work::layers::{Layers, View};
use crate::design::face::Fonts;
use crate::design::samples::Sample;
use crate::design::{Design, ReadOptions};
use crate::geometry::Rect;
use crate::job::recovery::Kept;
use crate::job::{Carving, Frame, Job, Size};
use crate::proof::mend::{self, Change, Mend};
use crate::proof::{self, Measured, Proof, Ratings};
use crate::sheet::SheetNotice;
use crate::sheet::photo::Photo;
use crate::sheet::picture::{DesignPaths, Hatched};
use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// What to open.
#[derive(Clone, Debug)]
pub(crate) enum Source {
    /// A file: a saved job by its ending, else a drawing.
    Path(PathBuf),
    /// A drawing's bytes.
    Bytes {
        /// The file's name.
        name: String,
        /// What is in it.
        bytes: Vec<u8>,
    },
    /// A bundled drawing.
    Sample {
        sample: &'static Sample,
        /// Whether the lesson's tour asks for it.
        for_lesson: bool,
    },
    /// A design of words alone.
    Words(Box<Words>),
    /// A job that was kept over a crash.
    Kept {
        /// The job.
        job: Box<Job>,
        /// Where it is kept.
        kept: Kept,
        /// Where it was saved or opened before.
        saved_at: Option<PathBuf>,
    },
}

impl Source {
    /// What to call it in a message.
    pub(crate) fn name(&self) -> String {
        match self {
            Source::Path(path) => path
                .file_name()
                .map_or_else(|| path.display().to_string(), |name| name.to_string_lossy().into_owned()),
            Source::Bytes { name, .. } => name.clone(),
            Source::Sample { sample, .. } => sample.title.to_owned(),
            Source::Kept { job, .. } => job.design.name.clone(),
            Source::Words(words) => words.lettering.words.trim().replace('\n', " "),
        }
    }
}

/// A job with everything worked out from it.
#[derive(Clone)]
pub(crate) struct Proofed {
    /// The job these are about.
    pub(crate) job: Job,
    /// Its widths.
    pub(crate) measured: Arc<Measured>,
    /// Its widths against the limits.
    pub(crate) ratings: Arc<Ratings>,
    /// The answer.
    pub(crate) proof: Arc<Proof>,
    /// The box round the outlines, in design space.
    pub(crate) outline: Rect,
    /// What counts as the design's size, in design space.
    pub(crate) frame: Rect,
    /// Edges in all outlines.
    pub(crate) segments: usize,
    /// The outlines as the painter wants them.
    pub(crate) paths: Arc<DesignPaths>,
    /// Pieces and holes too small to be meant.
    pub(crate) specks: usize,
}

/// What mending would do, worked out and proofed, for a look before it is applied.
pub(crate) struct Mended {
    /// The job it was asked for.
    pub(crate) before: Job,
    /// The mended job with everything worked out from it.
    pub(crate) after: Proofed,
    /// What was done, in a sentence.
    pub(crate) words: String,
    /// Elements in which pieces were joined or cut, or holes closed or opened.
    pub(crate) reshaped: Vec<String>,
    /// Where wood was added and where it was taken.
    pub(crate) hatched: Arc<[Hatched; 2]>,
    /// Whether there is any of either.
    pub(crate) changes: [bool; 2],
}

/// What is already known when a proof is asked for.
#[derive(Clone, Default)]
pub(crate) struct Known {
    pub(crate) measured: Option<Arc<Measured>>,
    pub(crate) ratings: Option<Arc<Ratings>>,
    pub(crate) paths: Option<Arc<DesignPaths>>,
    pub(crate) specks: Option<usize>,
}

/// What came of a run.
pub(crate) enum Done {
    /// A file was opened and proofed.
    Opened(Box<Proofed>, Origin),
    /// A drawing was read again, or could not be.
    Reread(Box<Reread>),
    /// The design was changed.
    Edited(Box<Edited>),
    /// It could not be; why, in a sentence.
    NotEdited(String),
    /// Words were set, for a look.
    Lettered(Box<Set>),
    /// A file could not be opened; a sentence that names it.
    NotOpened(String),
    /// The job was proofed.
    Proofed(Box<Proofed>),
    /// The board was painted.
    Painted(Box<Layers>),
    /// The job was saved here.
    Saved(Box<Job>, PathBuf),
    /// Drawings were written; their paths in words.
    Written(String, Option<SheetNotice>),
    /// A file could not be saved; a sentence that names it.
    NotSaved(String),
    /// The job was mended, for a look.
    Mended(Box<Mended>),
    /// A piece of the carved surface was worked out.
    Relief(Box<relief::Piece>),
    /// Something about the board was worked out.
    Board(BoardDone),
    /// The design was worked out at several sizes.
    Sized(Box<Sized>),
    /// Pictures of the carved boards of these sizes.
    Surfaced(Box<Surfaced>),
    /// A run broke off through a fault of ours.
    Broke(Lane, String),
}

/// Which kind of work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Lane {
    Opening,
    Proofing,
    Painting,
    Saving,
    Mending,
    Editing,
    Lettering,
    Placing,
    Racking,
    Photographing,
    Sizing,
    /// The carved boards of the sizes.
    Surfacing,
    /// The passes and the carved surface.
    Carving,
    /// The surface as it is at a second of the carve.
    Playing,
    /// The picture of the surface.
    Shading,
    /// The cut through the surface.
    Sectioning,
}

/// Every lane.
pub(crate) const LANES: [Lane; 16] = [
    Lane::Opening,
    Lane::Proofing,
    Lane::Painting,
    Lane::Saving,
    Lane::Mending,
    Lane::Editing,
    Lane::Lettering,
    Lane::Placing,
    Lane::Racking,
    Lane::Photographing,
    Lane::Sizing,
    Lane::Surfacing,
    Lane::Carving,
    Lane::Playing,
    Lane::Shading,
    Lane::Sectioning,
];

/// The steps of a run, for the bottom bar.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Stage {
    Reading,
    Measuring,
    Rating,
    Painting,
    Saving,
    Mending,
    Editing,
    Lettering,
    Placing,
    Racking,
    Photographing,
    Sizing,
    Carving,
    Planning,
    Sweeping,
    Viewing,
}

impl Stage {
    fn words(self) -> &'static str {
        match self {
            Stage::Reading => "Reading the outline",
            Stage::Measuring => "Measuring walls and grooves",
            Stage::Rating => "Comparing with the limits",
            Stage::Painting => "Painting the board",
            Stage::Saving => "Saving",
            Stage::Mending => "Mending",
            Stage::Editing => "Changing the elements",
            Stage::Lettering => "Setting the words",
            Stage::Placing => "Looking for a place",
            Stage::Racking => "Proofing the boards of the rack",
            Stage::Photographing => "Opening the photograph",
            Stage::Sizing => "Working out the sizes",
            Stage::Carving => "Carving the quick surface",
            Stage::Planning => "Working out the passes",
            Stage::Sweeping => "Carving what the cutters leave",
            Stage::Viewing => "Drawing the surface",
        }
    }
}

/// How far a run is, and whether it is still wanted. Shared with the thread that does it.
#[derive(Clone)]
pub(crate) struct Progress {
    unwanted: Arc<AtomicBool>,
    stage: Arc<Mutex<Stage>>,
}

impl Progress {
    fn new(stage: Stage) -> Progress {
        Progress { unwanted: Arc::new(AtomicBool::new(false)), stage: Arc::new(Mutex::new(stage)) }
    }

    /// Enters a stage; `None` where the run is no longer wanted.
    fn enter(&self, stage: Stage) -> Option<()> {
        *self.lock() = stage;
        (!self.unwanted.load(Ordering::Relaxed)).then_some(())
    }

    /// Set once the run is no longer wanted.
    pub(crate) fn unwanted(&self) -> &AtomicBool {
        &self.unwanted
    }

    fn stage(&self) -> Stage {
        *self.lock()
    }

    /// Held for one assignment at a time, so a panic elsewhere leaves it whole.
    fn lock(&self) -> MutexGuard<'_, Stage> {
        self.stage.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// A run in flight.
struct Run {
    number: u64,
    about: String,
    started: Instant,
    progress: Progress,
}

/// Where the work is done.
pub(crate) struct Bench {
    ctx: egui::Context,
    sender: Sender<(Lane, u64, Done)>,
    receiver: Receiver<(Lane, u64, Done)>,
    last_number: u64,
    runs: [Option<Run>; LANES.len()],
}

impl Bench {
    pub(crate) fn new(ctx: egui::Context) -> Bench {
        let (sender, receiver) = channel();
        Bench { ctx, sender, receiver, last_number: 0, runs: [const { None }; LANES.len()] }
    }

    /// Whether a lane has a run that counts.
    pub(crate) fn busy(&self, lane: Lane) -> bool {
        self.runs[lane as usize].is_some()
    }

    /// What a lane is doing, and for how long.
    pub(crate) fn doing(&self, lane: Lane) -> Option<(String, Duration)> {
        let run = self.runs[lane as usize].as_ref()?;
        Some((format!("{}: {}", run.progress.stage().words(), run.about), run.started.elapsed()))
    }

    /// Drops a lane's run: its thread stops at its next check, and what it brings is not used.
    pub(crate) fn cancel(&mut self, lane: Lane) {
        if let Some(run) = self.runs[lane as usize].take() {
            run.progress.unwanted.store(true, Ordering::Relaxed);
        }
    }

    /// Everything that came back under a current number.
    pub(crate) fn collect(&mut self) -> Vec<Done> {
        let mut done = Vec::new();
        while let Ok((lane, number, result)) = self.receiver.try_recv() {
            let run = &mut self.runs[lane as usize];
            if run.as_ref().is_some_and(|run| run.number == number) {
                *run = None;
                done.push(result);
            }
        }
        done
    }

    /// Opens a file and proofs what is in it. A drawing takes over `current`'s board, cutter and so on.
    pub(crate) fn open(&mut self, source: Source, current: Option<Job>) {
        let about = source.name();
        self.start(Lane::Opening, Stage::Reading, about, move |progress| {
            Some(match open(source, current, progress)? {
                Ok((proofed, origin)) => Done::Opened(Box::new(proofed), origin),
                Err(message) => Done::NotOpened(message),
            })
        });
    }

    /// Proofs a job; what is known already is not worked out again.
    pub(crate) fn proof(&mut self, job: Job, known: Known) {
        let about = job.design.name.clone();
        self.start(Lane::Proofing, Stage::Rating, about, move |progress| {
            Some(Done::Proofed(Box::new(prove(job, known, progress)?)))
        });
    }

    /// Paints the board as it is seen through `view`, with what a mend changed hatched over it, and without
    /// the hidden elements.
    pub(crate) fn paint(
        &mut self,
        proofed: Proofed,
        view: View,
        hatched: Option<Arc<[Hatched; 2]>>,
        photo: Option<Arc<Photo>>,
        hidden: Vec<usize>,
    ) {
        let about = proofed.job.design.name.clone();
        self.start(Lane::Painting, Stage::Painting, about, move |_| {
            let seen = (!hidden.is_empty()).then(|| proofed.paths.without(&hidden));
            let paths = seen.as_ref().unwrap_or(&proofed.paths);
            let layers = layers::paint(&proofed, paths, view, hatched.as_deref(), photo.as_deref());
            Some(Done::Painted(Box::new(layers)))
        });
    }

    /// Mends a job at its present size, and proofs what comes of it.
    pub(crate) fn mend(&mut self, proofed: Proofed, what: Mend) {
        let about = proofed.job.design.name.clone();
        self.start(Lane::Mending, Stage::Mending, about, move |progress| {
            Some(Done::Mended(Box::new(mended(&proofed, what, progress)?)))
        });
    }

    /// Saves a job.
    pub(crate) fn save(&mut self, job: Job, path: PathBuf) {
        let about = Source::Path(path.clone()).name();
        self.start(Lane::Saving, Stage::Saving, about, move |_| {
            Some(match crate::job::saved::save(&job, &path) {
                Ok(()) => Done::Saved(Box::new(job), path),
                Err(error) => Done::NotSaved(format!("{} {error}", path.display())),
            })
        });
    }

    /// Writes a drawing; `drawing` makes its text.
    pub(crate) fn write(&mut self, path: PathBuf, drawing: impl FnOnce() -> String + Send + 'static) {
        self.make(path, || Ok((drawing().into_bytes(), None)));
    }

    /// Starts a run in place of the lane's last. `work` brings nothing where it was called off.
    pub(crate) fn start(
        &mut self,
        lane: Lane,
        stage: Stage,
        about: String,
        work: impl FnOnce(&Progress) -> Option<Done> + Send + 'static,
    ) {
        self.cancel(lane);
        self.last_number += 1;
        let number = self.last_number;
        let progress = Progress::new(stage);
        self.runs[lane as usize] =
            Some(Run { number, about: about.clone(), started: Instant::now(), progress: progress.clone() });
        let (sender, ctx) = (self.sender.clone(), self.ctx.clone());
        let thread = std::thread::Builder::new()
            .name(format!("{lane:?} {number}"))
            .stack_size(32 << 20)
            .spawn(move || {
                let result = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| work(&progress)));
                let done = match result {
                    Ok(None) => return,
                    Ok(Some(done)) => done,
                    Err(_) => Done::Broke(lane, broke(&about)),
                };
                // Nobody listens any more when the window is gone.
                if sender.send((lane, number, done)).is_ok() {
                    ctx.request_repaint();
                }
            });
        if let Err(error) = thread {
            let broke = Done::Broke(lane, format!("no thread could be started: {error}"));
            self.sender.send((lane, number, broke)).expect("the bench holds the other end");
        }
    }
}

fn broke(about: &str) -> String {
    format!(
        "{about}: the work broke off through a fault in {}; the job is as it was",
        crate::app::words::PROGRAM
    )
}

impl Drop for Bench {
    fn drop(&mut self) {
        for lane in LANES {
            self.cancel(lane);
        }
    }
}

type Opened = Result<(Proofed, Origin), String>;

/// `None` where the run was cancelled on the way.
fn open(source: Source, current: Option<Job>, progress: &Progress) -> Option<Opened> {
    progress.enter(Stage::Reading)?;
    let name = source.name();
    let (job, origin) = match read(source, current) {
        Ok(read) => read,
        Err(error) => return Some(Err(format!("{name} {error}"))),
    };
    Some(Ok((prove(job, Known::default(), progress)?, origin)))
}

fn read(source: Source, current: Option<Job>) -> Result<(Job, Origin), String> {
    let nowhere = Origin::default();
    match source {
        Source::Path(path) if is_saved_job(&path) => {
            let job = crate::job::saved::open(&path).map_err(|error| error.to_string())?;
            Ok((job, Origin { saved_at: Some(path), ..nowhere }))
        }
        Source::Path(path) => {
            // The stamp first: what is written while the file is read is a change.
            let stamp = Stamp::of(&path);
            let (job, asks) = read_drawing(Drawn::File(path.clone()), current)?;
            Ok((job, Origin { drawing: Some(Drawing { path, stamp }), asks, ..nowhere }))
        }
        Source::Kept { job, kept, saved_at } => Ok((*job, Origin { saved_at, kept: Some(kept), ..nowhere })),
        Source::Bytes { name, bytes } => {
            let (job, asks) = read_drawing(Drawn::Bytes { name, bytes: bytes.into() }, current)?;
            Ok((job, Origin { asks, ..nowhere }))
        }
        Source::Words(words) => {
            let design = words
                .lettering
                .design(Fonts::of_machine())
                .map_err(|error| format!("cannot be set: {error}"))?;
            let name = design.elements.first().map(|element| element.name.clone()).unwrap_or_default();
            let mut job = job_for(design, current);
            job.treat_all(words.treatment);
            job.lettering.insert(name, words.lettering);
            Ok((job, Origin { is_new: true, ..nowhere }))
        }
        Source::Sample { sample, for_lesson } => {
            let job = crate::job::sample::sample_job(sample).map_err(|error| error.to_string())?;
            Ok((job, Origin { for_lesson, ..nowhere }))
        }
    }
}

/// A drawing as it is read at first, and what may be asked of it.
fn read_drawing(from: Drawn, current: Option<Job>) -> Result<(Job, Option<Asks>), String> {
    let reading = from.read(&ReadOptions::default()).map_err(|error| error.to_string())?;
    let asks = Asks::of(from, &reading, false);
    Ok((job_for(reading.design, current), asks))
}

/// A new drawing on the board that is there already, as large as drawn.
fn job_for(design: Design, current: Option<Job>) -> Job {
    let design = Arc::new(design);
    match current {
        None => Job::new(design),
        Some(current) => Job {
            carvings: vec![Carving::default(); design.elements.len()],
            design,
            size: Size::Factor(1.0),
            reading: ReadOptions::default(),
            lettering: std::collections::BTreeMap::new(),
            accepted: std::collections::BTreeSet::new(),
            remark: String::new(),
            ..current
        },
    }
}

/// Works out what is not known yet; `None` where the run was cancelled on the way.
fn prove(job: Job, known: Known, progress: &Progress) -> Option<Proofed> {
    let measured = if let Some(measured) = known.measured {
        measured
    } else {
        progress.enter(Stage::Measuring)?;
        Arc::new(proof::measure(&job))
    };
    progress.enter(Stage::Rating)?;
    let ratings = known.ratings.unwrap_or_else(|| Arc::new(proof::rate(&job, &measured)));
    progress.enter(Stage::Rating)?;
    let proof = Arc::new(proof::proof(&job, &measured, &ratings));
    let outline = job.design.outline_box();
    let frame = match job.frame {
        Frame::Outline => outline,
        Frame::Page => job.design.page.unwrap_or(outline),
    };
    let segments = job.design.segment_count();
    let paths = known.paths.unwrap_or_else(|| Arc::new(DesignPaths::new(&job.design)));
    let specks = known.specks.unwrap_or_else(|| job.design.specks().count);
    Some(Proofed { job, measured, ratings, proof, outline, frame, segments, paths, specks })
}

/// `None` where the run was cancelled on the way.
fn mended(proofed: &Proofed, what: Mend, progress: &Progress) -> Option<Mended> {
    progress.enter(Stage::Mending)?;
    let before = proofed.job.clone();
    let mended = mend::mend(&before, &proofed.measured, &proofed.ratings, proofed.proof.factor, what);
    let change = Change::between(&before, &mended.job);
    let words = mended.words();
    Some(Mended {
        before,
        after: prove(mended.job, Known::default(), progress)?,
        words,
        reshaped: mended.reshaped,
        changes: [!change.added.is_empty(), !change.taken.is_empty()],
        hatched: Arc::new([Hatched::new(&change.added), Hatched::new(&change.taken)]),
    })
}
