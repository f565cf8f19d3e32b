//! A job with everything that has been worked out from it.

use crate::advice::Tried;
use crate::app::work::{Progress, Stage};
use crate::geometry::Rect;
use crate::job::{Frame, Job};
use crate::proof::mend::{self, Change, Mend};
use crate::proof::{self, Finding, Measured, Proof, Ratings};
use crate::sheet::picture::{DesignPaths, Hatched};
use crate::words;
use glam::DVec2;
use std::sync::Arc;

/// A job with everything worked out from it.
#[derive(Clone)]
pub(crate) struct Proofed {
    /// The job these are about.
    pub(crate) job: Arc<Job>,
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

impl Proofed {
    /// A proofed job with what the window needs besides; what is known of its design already is taken over.
    pub(crate) fn of(tried: Tried, paths: Option<Arc<DesignPaths>>, specks: Option<usize>) -> Proofed {
        let Tried { job, measured, ratings, proof } = tried;
        let design = job.design().clone();
        let outline = design.outline_box();
        let frame = match job.frame() {
            Frame::Outline => outline,
            Frame::Page => design.page.unwrap_or(outline),
        };
        let segments = design.segment_count();
        let paths = paths.unwrap_or_else(|| Arc::new(DesignPaths::new(&design)));
        let specks = specks.unwrap_or_else(|| design.specks().count);
        Proofed { job, measured, ratings, proof, outline, frame, segments, paths, specks }
    }

    /// The same without what the window needs besides.
    pub(crate) fn tried(&self) -> Tried {
        Tried {
            job: self.job.clone(),
            measured: self.measured.clone(),
            ratings: self.ratings.clone(),
            proof: self.proof.clone(),
        }
    }

    /// The finding of this id.
    pub(crate) fn finding(&self, id: &str) -> Option<&Finding> {
        self.proof.findings.iter().find(|finding| finding.id == id)
    }

    /// A box of the design on the board.
    pub(crate) fn on_board(&self, what: Rect) -> Rect {
        let corners = what.corners().map(|corner| self.proof.board_from_design.transform_point2(corner));
        Rect::around(corners).unwrap_or(what)
    }

    /// How many millimetres of board a finding is best seen in; `None` for the whole board.
    pub(crate) fn span_on_board(&self, finding: &Finding) -> Option<f64> {
        let ends = finding.axis().iter().flatten().map(|point| point.at);
        let size = self.on_board(Rect::around(ends)?).size();
        Some((1.6 * size.max_element()).max(10.0 * finding.limit().unwrap_or_default().get()).max(5.0))
    }
}

/// What mending would do, worked out and proofed, for a look before it is applied.
pub(crate) struct Mended {
    /// The job it was asked for.
    pub(crate) before: Arc<Job>,
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

/// Works out what is not known yet; `None` where the run was cancelled on the way.
pub(crate) fn prove(job: Arc<Job>, known: Known, progress: &Progress) -> Option<Proofed> {
    let measured = if let Some(measured) = known.measured {
        measured
    } else {
        progress.enter(Stage::Measuring)?;
        Arc::new(proof::measure_unless(&job, progress.unwanted())?)
    };
    progress.enter(Stage::Rating)?;
    let ratings = match known.ratings {
        Some(ratings) => ratings,
        None => Arc::new(proof::rate_unless(&job, &measured, progress.unwanted())?),
    };
    progress.enter(Stage::Rating)?;
    Some(Proofed::of(Tried::rated(job, measured, ratings), known.paths, known.specks))
}

/// `None` where the run was cancelled on the way. With a `place` on the board the wall or groove nearest to it is
/// mended alone.
pub(crate) fn mended(
    proofed: &Proofed,
    what: Mend,
    place: Option<DVec2>,
    progress: &Progress,
) -> Option<Mended> {
    progress.enter(Stage::Mending)?;
    let before = proofed.job.clone();
    let (measured, ratings, factor) = (&proofed.measured, &proofed.ratings, proofed.proof.factor);
    let unwanted = progress.unwanted();
    let to_design = proofed.proof.board_from_design.inverse();
    let place = place.map(|place| to_design.transform_point2(place));
    let mended = mend::mend_unless(&before, measured, ratings, factor, what, place, unwanted)?;
    let change = Change::between(&before, &mended.job);
    let words = words::mend::done(&mended);
    let known = mended.measured.map_or_else(Known::default, |(measured, ratings)| Known {
        measured: Some(Arc::new(measured)),
        ratings: Some(Arc::new(ratings)),
        ..Known::default()
    });
    Some(Mended {
        before,
        after: prove(Arc::new(mended.job), known, progress)?,
        words,
        reshaped: mended.reshaped,
        changes: [!change.added.is_empty(), !change.taken.is_empty()],
        hatched: Arc::new([Hatched::new(&change.added), Hatched::new(&change.taken)]),
    })
}
