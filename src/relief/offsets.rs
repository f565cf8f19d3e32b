//! Offsets of floors, kept for plans that ask for the same.

use crate::geometry::Region;
use std::sync::{Arc, Mutex, PoisonError};

/// A remainder thinner than this is left to the cutter's own accuracy, millimetres: the chords of two offsets of the
/// same edge stray from each other by a few micrometres.
const WORTH_A_PASS: f64 = 0.06;

/// Where the middles of cutters may go on a floor, and what cutters leave of it, as far as it was asked. Jobs that
/// differ in a cutter, a depth or a feed have the same floors on the board, so their plans share one of these. It
/// changes no result: what is kept depends on nothing but what it is kept by.
#[derive(Debug, Default)]
pub struct Offsets {
    known: Mutex<Vec<(Asked, Arc<Region>)>>,
}

/// What was asked.
#[derive(Debug, PartialEq)]
struct Asked {
    of: Of,
    /// Of the cutter, millimetres.
    radius: f64,
    /// Where the cutter may go.
    open: Region,
}

#[derive(Debug, PartialEq)]
enum Of {
    Middles,
    /// What is left of this floor.
    Left(Region),
}

impl Offsets {
    /// Where the middle of a round cutter may go that stays within `open`.
    pub(super) fn middles(&self, open: &Region, radius: f64) -> Arc<Region> {
        let asked = Asked { of: Of::Middles, radius, open: open.clone() };
        self.known_or(asked, || open.grown(-radius))
    }

    /// What a round cutter that stays within `open` leaves of `floor`, but for what is not worth a pass.
    pub(super) fn left(&self, floor: &Region, open: &Region, radius: f64) -> Arc<Region> {
        let asked = Asked { of: Of::Left(floor.clone()), radius, open: open.clone() };
        self.known_or(asked, || {
            let left = floor.minus(&open.opened(radius));
            // So little that hardly a chord goes round a corner: two offsets are quicker than a diagram.
            let thin = WORTH_A_PASS / 2.0;
            left.grown(-thin).grown(thin)
        })
    }

    /// Two threads that ask for the same at once both work it out: neither waits for the other.
    fn known_or(&self, asked: Asked, make: impl FnOnce() -> Region) -> Arc<Region> {
        let known = || self.known.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, region)) = known().iter().find(|(known, _)| *known == asked) {
            return region.clone();
        }
        let region = Arc::new(make());
        known().push((asked, region.clone()));
        region
    }
}
