//! Opening, switching and closing jobs; following their files, and keeping them against a crash.

use crate::app::App;
use crate::app::commands::middle::Middle;
use crate::app::documents::document::{Document, DocumentId};
use crate::app::documents::keeper::Keeper;
use crate::app::documents::opening::{Origin, Source};
use crate::app::documents::shelf::Closing;
use crate::app::work::Lane;
use crate::app::work::proofed::Proofed;
use crate::design::samples::Sample;
use crate::fault;
use crate::job::Job;
use crate::job::recovery::Recovery;
use crate::words;
use crate::words::window::handle as said;
use egui::ViewportCommand;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Opening, switching, closing.
impl App {
    /// Keeps changed jobs in `folder` against a crash, and offers what one left there before; says where the
    /// report of a fault is.
    #[must_use]
    pub fn keeping_in(mut self, folder: &Path) -> App {
        if let Some(report) = fault::left_in(folder) {
            self.warn(words::fault::left(&report.display().to_string()));
        }
        match Recovery::start(folder) {
            Ok((recovery, left)) => {
                self.shelf.keeper = Some(Keeper::new(recovery));
                self.shelf.left = left;
            }
            Err(error) => self.warn(said::not_kept(&folder.display().to_string(), &error)),
        }
        self
    }

    /// The names of the open jobs in order, and whether each has changes that are not saved.
    pub fn open_jobs(&self) -> Vec<(String, bool)> {
        self.shelf.all().iter().map(|job| (job.name().to_owned(), job.is_changed())).collect()
    }

    /// Which of the open jobs is shown.
    pub fn shown_job(&self) -> usize {
        self.shelf.at()
    }

    /// How many jobs a crash left behind that nobody has decided about.
    pub fn left_behind(&self) -> usize {
        self.shelf.left.len()
    }

    /// Opens a file, or shows the job that was opened from it before. A folder is proofed.
    pub(crate) fn open_path(&mut self, path: PathBuf) {
        if path.is_dir() {
            self.proof_folder(path);
            return;
        }
        match self.shelf.opened_from(&path) {
            Some(place) => {
                self.show_job(place);
                self.say(said::is_open_already(&path.display().to_string()));
            }
            None => self.open(Source::Path(path)),
        }
    }

    /// Opens files one after the other, each as a job of its own, and shows the first.
    pub(crate) fn open_several(&mut self, paths: Vec<PathBuf>) {
        self.shelf.queue.extend(paths.into_iter().map(Source::Path));
    }

    /// Starts opening what is next in the queue.
    fn open_next(&mut self) {
        if self.workers.busy(Lane::Opening) {
            return;
        }
        if let Some(source) = self.shelf.queue.pop_front() {
            self.open(source);
            return;
        }
        if let Some(id) = self.shelf.first_of_queue.take()
            && let Some(place) = self.shelf.place_of(id)
        {
            self.show_job(place);
        }
    }

    /// Takes in an opened job, beside the others. A sample that nobody touched makes room for it.
    pub(crate) fn take_opened(&mut self, proofed: Proofed, origin: Origin) {
        let mut document = Document::new(self.shelf.new_id(), proofed);
        let (id, job) = (document.id, document.job().clone());
        let Origin { saved_at, drawing, kept, asks, pictured, is_new, for_lesson } = origin;
        if let Some(path) = saved_at.as_ref().or(drawing.as_ref().map(|drawing| &drawing.path)) {
            self.preferences.lately.opened(path);
        }
        // Whoever opened a file of their own needs no welcome any more.
        self.preferences.welcomed |= drawing.is_some() || saved_at.is_some();
        document.is_for_lesson = for_lesson;
        document.saved = (!is_new && kept.is_none()).then(|| job.clone());
        document.files.saved_at = saved_at;
        if let Some(drawing) = drawing {
            document.files.follow(job.design().clone(), drawing);
        }
        if let Some(pictured) = pictured {
            document.files.picture(job.design().clone(), *pictured);
            self.preferences.middle = Middle::Tracing;
            self.preferences.welcomed = true;
        } else if self.preferences.middle == Middle::Tracing {
            // There is nothing of it to be seen there.
            self.preferences.middle = Middle::Board;
        }
        if let Some(questions) = asks {
            document.files.question(job.design().clone(), questions);
        }
        if let Some(kept) = kept {
            self.shelf.left.retain(|left| left.kept != kept);
            if let Some(keeper) = &mut self.shelf.keeper {
                keeper.adopt(id, kept, job);
            }
        }
        self.shelf.put(document);
        if !self.shelf.queue.is_empty() && self.shelf.first_of_queue.is_none() {
            self.shelf.first_of_queue = Some(id);
        }
        self.look_afresh();
    }

    /// Opens a sample for the lesson's tour. What the tour does to it is nobody's work to lose: the next
    /// step's sample takes its place.
    pub(crate) fn open_for_lesson(&mut self, sample: &'static Sample) {
        self.open(Source::Sample { sample, for_lesson: true });
    }

    /// Whether the tour's sample of this title is shown.
    pub(crate) fn shows_lesson_sample(&self, title: &str) -> bool {
        self.shelf.shown().is_some_and(|shown| shown.is_for_lesson && shown.name() == title)
    }

    /// Nothing of what was looked at in another job stays.
    fn look_afresh(&mut self) {
        for lane in [Lane::Proofing, Lane::Mending, Lane::Editing, Lane::Tracing] {
            self.workers.cancel(lane);
        }
        self.views.board.painted = None;
        self.views.board.camera = None;
        self.views.chosen = None;
        self.views.elements.look_afresh();
        self.views.tracing.look_afresh();
        self.views.drafts.clear();
    }

    /// Shows another of the open jobs.
    pub(crate) fn show_job(&mut self, place: usize) {
        if self.shelf.show(place) {
            self.look_afresh();
        }
    }

    /// Closes the shown job where others are open; asks first where it has changes.
    pub(crate) fn close_job(&mut self) {
        if self.shelf.all().len() < 2 {
            return;
        }
        if self.shelf.shown().is_some_and(Document::is_changed) {
            self.dialogs.closing = Some(Closing::Job);
            return;
        }
        self.drop_job();
    }

    fn drop_job(&mut self) {
        self.shelf.close();
        self.look_afresh();
    }

    /// The window is asked to close: it does where nothing is lost by it, and else asks about the first job
    /// that has changes. Nothing is forgotten before it really closes.
    pub(crate) fn close_window(&mut self, ctx: &egui::Context) {
        let Some(place) = self.shelf.changed(self.dialogs.closing.as_ref()) else {
            return self.shelf.forget_kept();
        };
        ctx.send_viewport_cmd(ViewportCommand::CancelClose);
        self.show_job(place);
        if !matches!(self.dialogs.closing, Some(Closing::Window { .. })) {
            self.dialogs.closing = Some(Closing::Window { given_up: Vec::new() });
        }
    }

    /// Closes what was to be closed, whatever changes the shown job has. Where the window is to close, the
    /// next job with changes is asked about.
    pub(crate) fn close_unsaved(&mut self, ctx: &egui::Context) {
        match &mut self.dialogs.closing {
            None => {}
            Some(Closing::Job) => {
                self.dialogs.closing = None;
                self.drop_job();
            }
            Some(Closing::Window { given_up }) => {
                given_up.extend(self.shelf.shown().map(|shown| (shown.id, shown.job().clone())));
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
        }
    }

    /// The job that is asked about before something is closed.
    pub(crate) fn asked_before_closing(&self) -> Option<&Document> {
        let closing = self.dialogs.closing.as_ref()?;
        self.shelf.shown().filter(|shown| !closing.gives_up(shown))
    }

    pub(crate) fn take_saved(&mut self, id: DocumentId, job: Arc<Job>, path: PathBuf) {
        self.say(said::saved(&path.display().to_string()));
        self.preferences.lately.opened(&path);
        if let Some(document) = self.shelf.find_mut(id) {
            document.files.saved_at = Some(path);
            document.saved = Some(job);
        }
    }
}

/// Following files, and keeping against a crash.
impl App {
    /// Looks after the files behind the jobs, once a frame.
    pub(crate) fn keep_documents(&mut self, ctx: &egui::Context) {
        self.open_next();
        let drawing = self.shelf.shown().and_then(Document::drawing).cloned();
        self.shelf.watch.follow(drawing);
        if self.shelf.watch.has_changed() && !self.workers.busy(Lane::Opening) {
            self.reload_drawing();
        }
        for trouble in self.shelf.keep(ctx) {
            self.warn(trouble);
        }
    }

    /// Opens what a crash left behind, or does away with it.
    pub(crate) fn decide_about_left(&mut self, restore: bool) {
        for left in std::mem::take(&mut self.shelf.left) {
            match left.job {
                Ok(job) if restore => {
                    let source =
                        Source::Kept { job: Arc::new(job), kept: left.kept, saved_at: left.saved_at };
                    self.shelf.queue.push_back(source);
                }
                Ok(_) => {
                    if let Err(error) = left.kept.forget() {
                        self.warn(said::kept_not_removed(&error));
                    }
                }
                Err(error) => {
                    self.warn(said::kept_not_read(&left.kept.path().display().to_string(), &error));
                }
            }
        }
    }
}
