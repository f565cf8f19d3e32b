//! How long each stage of a proof takes: the one place of the command line with a clock.

use crate::sheet::json::Timings;
use std::sync::Mutex;
use std::time::{Duration, Instant};

/// What a proof goes through, in this order; a stage may be left out.
#[derive(Clone, Copy)]
pub(super) enum Stage {
    /// Bytes to outlines.
    Read,
    /// Outlines to clean regions.
    Clean,
    /// Clean regions to the widths of walls and grooves.
    Measure,
    /// Widths to findings, for one size.
    Proof,
    /// The passes of the cutters, and their time.
    Passes,
    /// What would help.
    Advice,
    /// Pictures and drawings, if any.
    Write,
}

/// Runs from when it was started, one stage after another.
pub(super) struct Clock {
    started: Instant,
    /// The stage that runs and since when, and what each has taken. Behind a lock, for a drawing is read on a
    /// thread of its own.
    running: Mutex<(Stage, Instant, [Duration; 7])>,
}

impl Clock {
    /// Starts with [`Stage::Read`].
    pub(super) fn start() -> Clock {
        let now = Instant::now();
        Clock { started: now, running: Mutex::new((Stage::Read, now, [Duration::ZERO; 7])) }
    }

    /// Ends the stage that runs and begins another.
    pub(super) fn begin(&self, stage: Stage) {
        let mut running = self.running.lock().expect("no stage panics while it tells the time");
        let now = Instant::now();
        let (ends, since, taken) = *running;
        running.2[ends as usize] = taken[ends as usize] + (now - since);
        (running.0, running.1) = (stage, now);
    }

    /// What each stage has taken until now.
    pub(super) fn timings(&self) -> Timings {
        let taken = self.running.lock().expect("no stage panics while it tells the time").2;
        // A microsecond is as fine as anyone can use.
        let ms = |taken: Duration| (taken.as_secs_f64() * 1e6).round() / 1e3;
        Timings {
            read: ms(taken[Stage::Read as usize]),
            clean: ms(taken[Stage::Clean as usize]),
            measure: ms(taken[Stage::Measure as usize]),
            proof: ms(taken[Stage::Proof as usize]),
            passes: ms(taken[Stage::Passes as usize]),
            advice: ms(taken[Stage::Advice as usize]),
            total: ms(self.started.elapsed()),
        }
    }
}
