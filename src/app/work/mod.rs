//! Work that takes longer than a frame, each run on a thread of its own from an immutable snapshot.
//!
//! There is a lane for each kind of work: opening a file, proofing the job, painting the board and so on.
//! A lane has at most one run that counts. A run has a number; whatever comes back under an older number is
//! dropped. Results are collected by [`Workers::collect`], which the window's logic calls and nobody else.
//!
//! What a run brings is the caller's: a room that starts one says that workers bring its result
//! ([`Bring`]), and the top of the window gathers all of them in one enum.

pub(crate) mod advised;
pub(crate) mod papers;
pub(crate) mod pictured;
pub(crate) mod proofed;
pub(crate) mod scene;

use crate::fault;
use crate::trace::Step;
use crate::words;
use crate::words::window::work as said;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// What a worker brings home where it may bring a `T`.
pub(crate) trait Bring<T>: From<T> + Send + 'static {}

impl<D: From<T> + Send + 'static, T> Bring<T> for D {}

/// Why a run came to nothing, in a sentence.
pub(crate) struct Failed(pub(crate) String);

/// A run broke off through a fault of ours; what to say of it.
pub(crate) struct Broke {
    pub(crate) lane: Lane,
    pub(crate) message: String,
}

/// Which kind of work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Lane {
    Opening,
    Proofing,
    /// What would help.
    Advising,
    Painting,
    Saving,
    Mending,
    Editing,
    Lettering,
    /// Names of typefaces in their own letters.
    Typefaces,
    Placing,
    /// The pieces to their places on the board.
    Arranging,
    /// Time, price and findings of all pieces.
    Batching,
    Racking,
    Photographing,
    /// A picture is traced again.
    Tracing,
    Sizing,
    /// The versions of the job.
    Comparing,
    /// The next file of a folder.
    Folder,
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
pub(crate) const LANES: [Lane; 23] = [
    Lane::Opening,
    Lane::Proofing,
    Lane::Advising,
    Lane::Painting,
    Lane::Saving,
    Lane::Mending,
    Lane::Editing,
    Lane::Lettering,
    Lane::Typefaces,
    Lane::Placing,
    Lane::Arranging,
    Lane::Batching,
    Lane::Racking,
    Lane::Photographing,
    Lane::Tracing,
    Lane::Sizing,
    Lane::Comparing,
    Lane::Folder,
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
    Advising,
    Painting,
    Saving,
    Mending,
    Editing,
    Lettering,
    Placing,
    Arranging,
    /// A board is looked for that takes all pieces.
    Asking,
    Batching,
    Racking,
    Photographing,
    Tracing(Step),
    Sizing,
    Comparing,
    Carving,
    Planning,
    Sweeping,
    Viewing,
}

impl Stage {
    pub(crate) fn words(self) -> &'static str {
        match self {
            Stage::Reading => said::READING_THE_OUTLINE,
            Stage::Measuring => said::MEASURING_WALLS_AND_GROOVES,
            Stage::Rating => said::COMPARING_WITH_THE_LIMITS,
            Stage::Advising => said::TRYING_WHAT_WOULD_HELP,
            Stage::Painting => said::PAINTING_THE_BOARD,
            Stage::Saving => said::SAVING,
            Stage::Mending => said::MENDING,
            Stage::Editing => said::CHANGING_THE_ELEMENTS,
            Stage::Lettering => said::SETTING_THE_WORDS,
            Stage::Placing => said::LOOKING_FOR_A_PLACE,
            Stage::Arranging => said::ARRANGING_THE_PIECES,
            Stage::Asking => said::LOOKING_FOR_A_BOARD,
            Stage::Batching => said::WORKING_OUT_ALL_PIECES,
            Stage::Racking => said::PROOFING_THE_BOARDS_OF_THE_RACK,
            Stage::Photographing => said::OPENING_THE_PHOTOGRAPH,
            Stage::Tracing(step) => words::trace::step(step),
            Stage::Sizing => said::WORKING_OUT_THE_SIZES,
            Stage::Comparing => said::COMPARING_THE_VERSIONS,
            Stage::Carving => said::CARVING_THE_QUICK_SURFACE,
            Stage::Planning => said::WORKING_OUT_THE_PASSES,
            Stage::Sweeping => said::CARVING_WHAT_THE_CUTTERS_LEAVE,
            Stage::Viewing => said::DRAWING_THE_SURFACE,
        }
    }
}

/// How far a run is, and whether it is still wanted. Shared with the thread that does it.
#[derive(Clone)]
pub(crate) struct Progress {
    unwanted: Arc<AtomicBool>,
    stage: Arc<Mutex<Stage>>,
    /// How much of how many is done, where that is counted.
    count: Arc<[AtomicUsize; 2]>,
}

impl Progress {
    fn new(stage: Stage) -> Progress {
        Progress {
            unwanted: Arc::new(AtomicBool::new(false)),
            stage: Arc::new(Mutex::new(stage)),
            count: Arc::new([const { AtomicUsize::new(0) }; 2]),
        }
    }

    /// Enters a stage; `None` where the run is no longer wanted.
    pub(crate) fn enter(&self, stage: Stage) -> Option<()> {
        *self.lock() = stage;
        (!self.unwanted.load(Ordering::Relaxed)).then_some(())
    }

    /// Says how much of how many is done.
    pub(crate) fn count(&self, done: usize, of: usize) {
        self.count[0].store(done, Ordering::Relaxed);
        self.count[1].store(of, Ordering::Relaxed);
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

/// Threads that do the work, and what they bring.
pub(crate) struct Workers<D> {
    ctx: egui::Context,
    sender: Sender<(Lane, u64, Result<D, Broke>)>,
    receiver: Receiver<(Lane, u64, Result<D, Broke>)>,
    last_number: u64,
    runs: [Option<Run>; LANES.len()],
}

impl<D: Send + 'static> Workers<D> {
    pub(crate) fn new(ctx: egui::Context) -> Workers<D> {
        let (sender, receiver) = channel();
        Workers { ctx, sender, receiver, last_number: 0, runs: [const { None }; LANES.len()] }
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

    /// The stage of a lane's run, what it is about, and for how long it goes on.
    pub(crate) fn stage(&self, lane: Lane) -> Option<(Stage, &str, Duration)> {
        let run = self.runs[lane as usize].as_ref()?;
        Some((run.progress.stage(), &run.about, run.started.elapsed()))
    }

    /// How much of how many a lane has done, where it counts.
    pub(crate) fn counted(&self, lane: Lane) -> Option<[usize; 2]> {
        let run = self.runs[lane as usize].as_ref()?;
        let [done, of] = [0, 1].map(|k| run.progress.count[k].load(Ordering::Relaxed));
        (of > 0).then_some([done, of])
    }

    /// Drops a lane's run: its thread stops at its next check, and what it brings is not used.
    pub(crate) fn cancel(&mut self, lane: Lane) {
        if let Some(run) = self.runs[lane as usize].take() {
            run.progress.unwanted.store(true, Ordering::Relaxed);
        }
    }

    /// Everything that came back under a current number.
    pub(crate) fn collect(&mut self) -> Vec<Result<D, Broke>> {
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

    /// Starts a run in place of the lane's last. `work` brings nothing where it was called off.
    pub(crate) fn start(
        &mut self,
        lane: Lane,
        stage: Stage,
        about: String,
        work: impl FnOnce(&Progress) -> Option<D> + Send + 'static,
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
                    Ok(Some(done)) => Ok(done),
                    Err(_) => {
                        let message = fault::reported().map_or_else(
                            || said::broke_off(&about),
                            |report| words::fault::broke_off(&about, &report.display().to_string()),
                        );
                        Err(Broke { lane, message })
                    }
                };
                // Nobody listens any more when the window is gone.
                if sender.send((lane, number, done)).is_ok() {
                    ctx.request_repaint();
                }
            });
        if let Err(error) = thread {
            let message = said::no_thread(&error);
            let broke = Err(Broke { lane, message });
            self.sender.send((lane, number, broke)).expect("the workers hold the other end");
        }
    }
}

impl<D> Drop for Workers<D> {
    fn drop(&mut self) {
        for run in self.runs.iter().flatten() {
            run.progress.unwanted.store(true, Ordering::Relaxed);
        }
    }
}
