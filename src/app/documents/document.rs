//! One open job: its steps, what has been worked out from it, and the files it belongs to.

use crate::app::documents::drawing::Drawing;
use crate::app::documents::questions::OpenQuestions;
use crate::app::work::advised::Advised;
use crate::app::work::pictured::Pictured;
use crate::app::work::proofed::{Known, Mended, Proofed};
use crate::design::Design;
use crate::job::{History, Job, Reach};
use crate::proof::Measured;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// How many measurements are kept, so that an undone treatment need not be measured again.
const REMEMBERED: usize = 4;

/// How many traces of a picture are kept, so that Undo shows the settings of the one it brings back.
const TRACES: usize = 32;

/// Tells one open job from another, wherever it is on the shelf.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct DocumentId(pub(crate) u64);

/// An open job.
pub(crate) struct Document {
    pub(crate) id: DocumentId,
    pub(crate) history: History,
    /// The last good proof, and the job it is of.
    pub(crate) proofed: Proofed,
    /// The job that is being proofed.
    pub(crate) asked: Option<Arc<Job>>,
    /// A mended outline that is looked at before it is applied.
    pub(crate) preview: Option<Preview>,
    /// What would help, and which of it is looked at.
    advice: Option<Advised>,
    looked_at: Option<usize>,
    /// The last few measurements, the newest first.
    measured: Vec<(Arc<Design>, Arc<Measured>)>,
    /// The job as it was last saved or opened; `None` where no file has it.
    pub(crate) saved: Option<Arc<Job>>,
    pub(crate) files: Files,
    /// Whether the lesson's tour opened it: nobody's work is lost with it.
    pub(crate) is_for_lesson: bool,
}

/// A mended outline, and whether it or the one there is is being looked at.
pub(crate) struct Preview {
    pub(crate) mended: Mended,
    pub(crate) shows_after: bool,
}

/// The files of a job. Drawing and questions go by the design that was read, since Undo can bring an
/// earlier reading back.
#[derive(Default)]
pub(crate) struct Files {
    /// The saved job.
    pub(crate) saved_at: Option<PathBuf>,
    drawings: Vec<(Arc<Design>, Drawing)>,
    questions: Vec<(Arc<Design>, OpenQuestions)>,
    /// The last is of the picture that is traced now.
    pictures: Vec<(Arc<Design>, Pictured)>,
}

impl Files {
    /// Notes where a design's drawing is, and how it was when it was read.
    pub(crate) fn follow(&mut self, design: Arc<Design>, drawing: Drawing) {
        set(&mut self.drawings, design, drawing);
    }

    /// Notes what a design's drawing leaves open from now on.
    pub(crate) fn question(&mut self, design: Arc<Design>, questions: OpenQuestions) {
        set(&mut self.questions, design, questions);
    }

    /// Notes how a design was traced from its picture.
    pub(crate) fn picture(&mut self, design: Arc<Design>, pictured: Pictured) {
        set(&mut self.pictures, design, pictured);
        if self.pictures.len() > TRACES {
            self.pictures.remove(0);
        }
    }

    /// How a design was traced, and whether it is that very one; of one that was changed since, the last trace.
    pub(crate) fn picture_of(&self, design: &Arc<Design>) -> Option<(&Pictured, bool)> {
        let exactly = find(&self.pictures, design).map(|pictured| (pictured, true));
        exactly.or_else(|| self.pictures.last().map(|(_, pictured)| (pictured, false)))
    }

    /// The drawing that a design was read from; `None` once the design was edited here.
    pub(crate) fn drawing_of(&self, design: &Arc<Design>) -> Option<&Drawing> {
        find(&self.drawings, design)
    }

    /// What a design's drawing leaves open.
    pub(crate) fn questions_of(&self, design: &Arc<Design>) -> Option<&OpenQuestions> {
        find(&self.questions, design)
    }
}

fn set<T>(list: &mut Vec<(Arc<Design>, T)>, design: Arc<Design>, what: T) {
    list.retain(|(of, _)| !Arc::ptr_eq(of, &design));
    list.push((design, what));
}

fn find<'a, T>(list: &'a [(Arc<Design>, T)], design: &Arc<Design>) -> Option<&'a T> {
    list.iter().find(|(of, _)| Arc::ptr_eq(of, design)).map(|(_, what)| what)
}

impl Document {
    /// A job that was just opened and proofed.
    pub(crate) fn new(id: DocumentId, proofed: Proofed) -> Document {
        let history = History::new(proofed.job.clone());
        let measured = vec![(proofed.job.design().clone(), proofed.measured.clone())];
        Document {
            id,
            history,
            proofed,
            asked: None,
            preview: None,
            advice: None,
            looked_at: None,
            measured,
            saved: None,
            files: Files::default(),
            is_for_lesson: false,
        }
    }

    /// The job as the user has set it.
    pub(crate) fn job(&self) -> &Arc<Job> {
        self.history.job()
    }

    /// What to call it.
    pub(crate) fn name(&self) -> &str {
        &self.job().design().name
    }

    /// The drawing of the job's design, where its file is followed.
    pub(crate) fn drawing(&self) -> Option<&Drawing> {
        self.files.drawing_of(self.job().design())
    }

    /// What the drawing of the job's design leaves open.
    pub(crate) fn questions(&self) -> Option<&OpenQuestions> {
        self.files.questions_of(self.job().design())
    }

    /// Whether it has changes that are not saved. The lesson's job is nobody's work.
    pub(crate) fn is_changed(&self) -> bool {
        !self.is_for_lesson && self.saved.as_ref().is_none_or(|saved| !is_same(saved, self.job()))
    }

    /// Whether nobody did anything with it: it makes room for the next one.
    pub(crate) fn is_untouched(&self) -> bool {
        !self.is_changed() && self.files.saved_at.is_none() && self.drawing().is_none()
    }

    /// Whether it was opened from this file.
    pub(crate) fn is_from(&self, path: &Path) -> bool {
        let same = |other: &Path| std::path::absolute(other).ok() == std::path::absolute(path).ok();
        self.files.saved_at.as_deref().is_some_and(same)
            || self.drawing().is_some_and(|drawing| same(&drawing.path))
    }

    /// Whether the proof is of the job as it is now.
    pub(crate) fn is_current(&self) -> bool {
        Arc::ptr_eq(self.job(), &self.proofed.job)
    }

    /// What would help the job as it is now, where that is known.
    pub(crate) fn current_advice(&self) -> Option<&Advised> {
        self.advice.as_ref().filter(|advised| self.is_still(&advised.of))
    }

    /// Takes in what would help.
    pub(crate) fn take_advice(&mut self, advised: Advised) {
        self.looked_at = None;
        self.advice = Some(advised);
    }

    /// The proof that advice is needed of; `None` where it is known, or the proof is on its way.
    pub(crate) fn needed_advice(&self) -> Option<Proofed> {
        (self.is_current() && self.current_advice().is_none()).then(|| self.proofed.clone())
    }

    /// Looks at what an offer would come to, or at the job as it is.
    pub(crate) fn look_at_offer(&mut self, offer: Option<usize>) {
        self.looked_at = offer;
    }

    /// The offer that is looked at, by its place in the list.
    pub(crate) fn looked_at(&self) -> Option<usize> {
        let count = self.current_advice()?.offers.len();
        self.looked_at.filter(|offer| *offer < count)
    }

    /// Whether what is looked at is not the job as it is.
    pub(crate) fn is_preview(&self) -> bool {
        self.looked_at().is_some() || self.preview.as_ref().is_some_and(|preview| preview.shows_after)
    }

    /// What is looked at: the last good proof, or that of a mended outline or of an offer.
    pub(crate) fn seen(&self) -> &Proofed {
        if let (Some(advised), Some(offer)) = (self.current_advice(), self.looked_at()) {
            return &advised.offers[offer].after;
        }
        let after = self.preview.as_ref().filter(|preview| preview.shows_after);
        after.map_or(&self.proofed, |preview| &preview.mended.after)
    }

    /// Takes in a proof.
    pub(crate) fn take_proofed(&mut self, proofed: Proofed) {
        if self.measured_before(&proofed.job).is_none() {
            self.measured.truncate(REMEMBERED - 1);
            self.measured.insert(0, (proofed.job.design().clone(), proofed.measured.clone()));
        }
        self.proofed = proofed;
    }

    /// The widths of a job, where they were measured before.
    pub(crate) fn measured_before(&self, job: &Job) -> Option<Arc<Measured>> {
        let is_of = |design: &Arc<Design>, measured: &Measured| {
            Arc::ptr_eq(design, job.design()) && *measured.layout() == job.layout()
        };
        let (_, measured) = self.measured.iter().find(|(design, measured)| is_of(design, measured))?;
        Some(measured.clone())
    }

    /// What must be proofed now, with what is known of it already; `None` where nothing must, or it is on its
    /// way. A preview of an older job is dropped.
    pub(crate) fn needed_proof(&mut self) -> Option<(Arc<Job>, Known)> {
        let job = self.job().clone();
        let since = |of: &Job| Reach::between(of, &job);
        // A note changes nothing that is worked out.
        if !self.is_current() && since(&self.proofed.job).is_only_noted() {
            self.proofed.job = job.clone();
        }
        if self.preview.as_ref().is_some_and(|preview| !self.is_still(&preview.mended.before)) {
            self.preview = None;
        }
        // A run whose slow part is still good is left to finish; its size is caught up with after.
        let is_on_its_way = self.asked.as_ref().is_some_and(|asked| since(asked).keeps_ratings());
        if self.is_current() || is_on_its_way {
            return None;
        }
        let reach = since(&self.proofed.job);
        let same_design = reach.keeps_design().then_some(&self.proofed);
        let known = Known {
            measured: self.measured_before(&job),
            ratings: reach.keeps_ratings().then(|| self.proofed.ratings.clone()),
            paths: same_design.map(|proofed| proofed.paths.clone()),
            specks: same_design.map(|proofed| proofed.specks),
        };
        self.asked = Some(job.clone());
        Some((job, known))
    }

    /// Whether something worked out from `before` still belongs to the job.
    pub(crate) fn is_still(&self, before: &Job) -> bool {
        Reach::between(before, self.job()).is_only_noted()
    }

    /// Ends what was under way: another job is looked at.
    pub(crate) fn leave(&mut self) {
        self.history.close();
        self.asked = None;
        self.preview = None;
        self.looked_at = None;
    }

    /// The job becomes the one of the last good proof: what was asked since cannot be had.
    pub(crate) fn return_to_proofed(&mut self) {
        self.asked = None;
        if !self.is_current() {
            self.history.give_up(self.proofed.job.clone());
        }
    }
}

/// Whether two jobs are the same: mostly they are one.
pub(crate) fn is_same(a: &Arc<Job>, b: &Arc<Job>) -> bool {
    Arc::ptr_eq(a, b) || a == b
}
