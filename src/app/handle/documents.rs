//! Opening, switching and closing jobs; following their files, and keeping them against a crash.

use crate::app::App;
use crate::app::documents::drawing::of_design;
use crate::app::documents::keeper::Keeper;
use crate::app::documents::keeper::is_same;
use crate::app::documents::opening::Origin;
use crate::app::documents::opening::Source;
use crate::app::documents::shelf::Closing;
use crate::app::documents::shelf::Parked;
use crate::app::documents::shelf::is_changed;
use crate::app::work::Lane;
use crate::app::work::proofed::Proofed;
use crate::design::samples::Sample;
use crate::job::recovery::Recovery;
use crate::job::{History, Job};
use egui::ViewportCommand;
use std::path::Path;
use std::path::PathBuf;
use std::sync::Arc;

/// Opening, switching, closing.
impl App {
    /// Keeps changed jobs in `folder` against a crash, and offers what one left there before.
    #[must_use]
    pub fn keeping_in(mut self, folder: &Path) -> App {
        match Recovery::start(folder) {
            Ok((recovery, left)) => {
                self.documents.keeper = Some(Keeper::new(recovery));
                self.documents.left = left;
            }
            Err(error) => self.warn(format!(
                "Changes are not kept against a crash: {} cannot be used: {error}",
                folder.display()
            )),
        }
        self
    }

    /// The names of the open jobs in order, and whether each has changes that are not saved.
    pub fn open_jobs(&self) -> Vec<(String, bool)> {
        let Some(now) = &self.now else { return Vec::new() };
        let parked = |parked: &Parked| {
            let changed =
                is_changed(self.documents.lesson, parked.id, parked.now.job(), parked.clean.as_ref());
            (parked.now.job().design().name.clone(), changed)
        };
        let shown = || (now.job().design().name.clone(), self.is_dirty());
        self.documents.places.iter().map(|place| place.as_ref().map_or_else(shown, parked)).collect()
    }

    /// Which of the open jobs is shown.
    pub fn shown_job(&self) -> usize {
        self.documents.at
    }

    /// How many jobs a crash left behind that nobody has decided about.
    pub fn left_behind(&self) -> usize {
        self.documents.left.len()
    }

    pub(crate) fn has_drawing(&self) -> bool {
        self.now.as_ref().is_some_and(|now| self.documents.drawing_of(now.job().design()).is_some())
    }

    /// Opens a file, or shows the job that was opened from it before.
    pub(crate) fn open_path(&mut self, path: PathBuf) {
        let same = |other: &Path| std::path::absolute(other).ok() == std::path::absolute(&path).ok();
        let is_from_it = |job: &Job| {
            of_design(&self.saved_at, job.design()).is_some_and(|at| same(at))
                || self.documents.drawing_of(job.design()).is_some_and(|drawing| same(&drawing.path))
        };
        let parked = |place: &Option<Parked>| place.as_ref().is_some_and(|place| is_from_it(place.now.job()));
        let place = if self.now.as_ref().is_some_and(|now| is_from_it(now.job())) {
            Some(self.documents.at)
        } else {
            self.documents.places.iter().position(parked)
        };
        match place {
            Some(place) => {
                self.show_job(place);
                self.say(format!("{} is open already", path.display()));
            }
            None => self.open(Source::Path(path)),
        }
    }

    /// Opens files one after the other, each as a job of its own, and shows the first.
    pub(crate) fn open_several(&mut self, paths: Vec<PathBuf>) {
        self.documents.queue.extend(paths.into_iter().map(Source::Path));
    }

    /// Starts opening what is next in the queue.
    pub(crate) fn open_next(&mut self) {
        if self.workers.busy(Lane::Opening) {
            return;
        }
        if let Some(source) = self.documents.queue.pop_front() {
            self.open(source);
            return;
        }
        if let Some(id) = self.documents.first_of_queue.take() {
            let is_it = |place: &Option<Parked>| place.as_ref().is_some_and(|place| place.id == id);
            if let Some(place) = self.documents.places.iter().position(is_it) {
                self.show_job(place);
            }
        }
    }

    pub(crate) fn forget_queue(&mut self) {
        self.documents.queue.clear();
        self.documents.first_of_queue = None;
    }

    /// Takes in an opened job, beside the others. A sample that nobody touched makes room for it.
    pub(crate) fn take_opened(&mut self, proofed: Proofed, origin: Origin) {
        let now = History::new(proofed.job.clone());
        let is_untouched = !self.is_dirty()
            && self.path().is_none()
            && !self.has_drawing()
            && self.documents.first_of_queue != Some(self.documents.id);
        if self.now.is_some() && !is_untouched {
            self.park();
            self.documents.at = self.documents.places.len();
            self.documents.places.push(None);
        }
        self.documents.id = self.documents.next_id;
        self.documents.next_id += 1;
        if origin.for_lesson {
            self.documents.lesson = Some(self.documents.id);
        }
        if !self.documents.queue.is_empty() && self.documents.first_of_queue.is_none() {
            self.documents.first_of_queue = Some(self.documents.id);
        }
        self.clean = (!origin.is_new).then(|| now.job().clone());
        if let Some(path) = &origin.saved_at {
            self.saved_at.push((now.job().design().clone(), path.clone()));
        }
        if let Some(path) = origin.saved_at.as_ref().or(origin.drawing.as_ref().map(|drawing| &drawing.path))
        {
            self.preferences.remember(path);
        }
        // Whoever opened a file of their own needs no welcome any more.
        self.preferences.welcomed |= origin.drawing.is_some() || origin.saved_at.is_some();
        if let Some(drawing) = origin.drawing {
            self.documents.follow(now.job().design().clone(), drawing);
        }
        if let Some(asks) = origin.asks {
            self.documents.ask(now.job().design().clone(), asks);
        }
        if let Some(kept) = origin.kept {
            self.clean = None;
            self.documents.left.retain(|left| left.kept != kept);
            if let Some(keeper) = &mut self.documents.keeper {
                keeper.adopt(self.documents.id, kept, now.job().clone());
            }
        }
        self.now = Some(now);
        self.look_afresh();
        self.take_proofed(proofed);
    }

    /// Opens a sample for the lesson's tour. What the tour does to it is nobody's work to lose: the next
    /// step's sample takes its place.
    pub(crate) fn open_for_lesson(&mut self, sample: &'static Sample) {
        self.open(Source::Sample { sample, for_lesson: true });
    }

    /// Whether the tour's sample of this title is shown.
    pub(crate) fn shows_lesson_sample(&self, title: &str) -> bool {
        self.is_for_lesson() && self.now.as_ref().is_some_and(|now| now.job().design().name == title)
    }

    /// Whether the shown job differs from what was saved or opened.
    pub(crate) fn is_dirty(&self) -> bool {
        let now = self.now.as_ref();
        now.is_some_and(|now| {
            is_changed(self.documents.lesson, self.documents.id, now.job(), self.clean.as_ref())
        })
    }

    /// Whether the shown job is the tour's.
    pub(crate) fn is_for_lesson(&self) -> bool {
        self.documents.lesson == Some(self.documents.id)
    }

    /// Nothing of what was looked at in another job is kept.
    fn look_afresh(&mut self) {
        self.workers.cancel(Lane::Proofing);
        self.workers.cancel(Lane::Mending);
        self.asked = None;
        self.preview = None;
        self.views.board.painted = None;
        self.views.board.camera = None;
        self.views.chosen = None;
        self.workers.cancel(Lane::Editing);
        self.views.elements.look_afresh();
        self.views.drafts.clear();
    }

    /// Puts the shown job into its place; another must be taken out at once.
    fn park(&mut self) {
        let Some(mut now) = self.now.take() else { return };
        now.close();
        let (id, clean) = (self.documents.id, self.clean.take());
        self.documents.places[self.documents.at] = Some(Parked { id, now, clean });
    }

    fn unpark(&mut self, place: usize) {
        let Some(parked) = self.documents.places[place].take() else { return };
        self.documents.at = place;
        self.documents.id = parked.id;
        self.now = Some(parked.now);
        self.clean = parked.clean;
        self.look_afresh();
    }

    /// Shows another of the open jobs.
    pub(crate) fn show_job(&mut self, place: usize) {
        if self.documents.places.get(place).is_some_and(Option::is_some) {
            self.park();
            self.unpark(place);
        }
    }

    /// Shows the job so many places further on, round and round.
    pub(crate) fn step_job(&mut self, by: isize) {
        let count = self.documents.places.len();
        self.show_job(self.documents.at.saturating_add_signed(by + count.cast_signed()) % count);
    }

    /// Closes the shown job where others are open; asks first where it has changes.
    pub(crate) fn close_job(&mut self) {
        if self.documents.places.len() < 2 {
            return;
        }
        if self.is_dirty() {
            self.dialogs.closing = Some(Closing::Job);
            return;
        }
        self.drop_job();
    }

    /// The window is asked to close: it does where nothing is lost by it, and else asks about the first job
    /// that has changes. Nothing is forgotten before it really closes.
    pub(crate) fn close_window(&mut self, ctx: &egui::Context) {
        let Some(place) = self.dirty_job() else { return self.forget_kept() };
        ctx.send_viewport_cmd(ViewportCommand::CancelClose);
        self.show_job(place);
        if !matches!(self.dialogs.closing, Some(Closing::Window { .. })) {
            self.dialogs.closing = Some(Closing::Window { given_up: Vec::new() });
        }
    }

    /// Closes what was to be closed, whatever changes the shown job has. Where the window is to close the
    /// next job with changes is asked about.
    pub(crate) fn close_unsaved(&mut self, ctx: &egui::Context) {
        match &mut self.dialogs.closing {
            None => {}
            Some(Closing::Job) => {
                self.dialogs.closing = None;
                self.drop_job();
            }
            Some(Closing::Window { given_up }) => {
                if let Some(now) = &self.now {
                    given_up.push((self.documents.id, now.job().clone()));
                }
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
        }
    }

    /// Whether somebody said that this job's changes may be lost with the window.
    fn is_given_up(&self, id: u64, job: &Arc<Job>) -> bool {
        let Some(Closing::Window { given_up }) = &self.dialogs.closing else { return false };
        given_up.iter().any(|(of, as_it_was)| *of == id && is_same(as_it_was, job))
    }

    /// Whether it is to be asked about the shown job before something is closed.
    pub(crate) fn asks_before_closing(&self) -> bool {
        let Some(now) = &self.now else { return false };
        self.dialogs.closing.is_some() && !self.is_given_up(self.documents.id, now.job())
    }

    fn drop_job(&mut self) {
        if let Some(keeper) = &mut self.documents.keeper {
            keeper.forget(self.documents.id);
        }
        let place = self.documents.at;
        self.now = None;
        self.documents.places.remove(place);
        self.unpark(place.min(self.documents.places.len() - 1));
    }

    /// The place of a job with changes that are not saved and not given up, the shown one first.
    fn dirty_job(&self) -> Option<usize> {
        let documents = &self.documents;
        let is_dirty = |place: usize| {
            let (id, job, clean) = match documents.places.get(place)? {
                None => (documents.id, self.now.as_ref()?.job(), self.clean.as_ref()),
                Some(parked) => (parked.id, parked.now.job(), parked.clean.as_ref()),
            };
            Some(is_changed(documents.lesson, id, job, clean) && !self.is_given_up(id, job))
        };
        let order = std::iter::once(documents.at).chain(0..documents.places.len());
        order.into_iter().find(|place| is_dirty(*place) == Some(true))
    }

    pub(crate) fn take_saved(&mut self, job: Arc<Job>, path: PathBuf) {
        self.say(format!("Saved {}", path.display()));
        self.preferences.remember(&path);
        self.saved_at.retain(|(of, _)| !Arc::ptr_eq(of, job.design()));
        self.saved_at.push((job.design().clone(), path));
        let is_shown = self.now.as_ref().is_some_and(|now| Arc::ptr_eq(now.job().design(), job.design()));
        let parked = self.documents.places.iter_mut().flatten();
        let clean = if is_shown {
            Some(&mut self.clean)
        } else {
            parked
                .filter(|parked| Arc::ptr_eq(parked.now.job().design(), job.design()))
                .map(|parked| &mut parked.clean)
                .next()
        };
        if let Some(clean) = clean {
            *clean = Some(job);
        }
    }
}

/// Following files, and keeping against a crash.
impl App {
    /// Looks after the files behind the jobs, once a frame.
    pub(crate) fn keep_documents(&mut self, ctx: &egui::Context) {
        self.open_next();
        let drawing =
            self.now.as_ref().and_then(|now| self.documents.drawing_of(now.job().design())).cloned();
        self.documents.watch.follow(drawing);
        if self.documents.watch.has_changed() && !self.workers.busy(Lane::Opening) {
            self.reload_drawing();
        }
        let Some(keeper) = &mut self.documents.keeper else { return };
        if let Some(now) = &self.now {
            let saved = of_design(&self.saved_at, now.job().design());
            let is_dirty =
                is_changed(self.documents.lesson, self.documents.id, now.job(), self.clean.as_ref());
            let path = saved.map(|path| &**path);
            keeper.keep(self.documents.id, is_dirty.then_some(now.job()), path, ctx);
        }
        for parked in self.documents.places.iter().flatten() {
            let job = parked.now.job();
            let is_dirty = is_changed(self.documents.lesson, parked.id, job, parked.clean.as_ref());
            let saved = of_design(&self.saved_at, job.design());
            keeper.keep(parked.id, is_dirty.then_some(job), saved.map(|path| &**path), ctx);
        }
        for message in keeper.troubles() {
            self.warn(message);
        }
    }

    /// The window is gone with everything decided: nothing is left behind.
    pub(crate) fn forget_kept(&mut self) {
        if let Some(keeper) = &mut self.documents.keeper {
            keeper.forget_all();
        }
        self.documents.keeper = None;
    }

    /// Opens what a crash left behind, or does away with it.
    pub(crate) fn decide_about_left(&mut self, restore: bool) {
        for left in std::mem::take(&mut self.documents.left) {
            match left.job {
                Ok(job) if restore => {
                    let source =
                        Source::Kept { job: Arc::new(job), kept: left.kept, saved_at: left.saved_at };
                    self.documents.queue.push_back(source);
                }
                Ok(_) => {
                    if let Err(error) = left.kept.forget() {
                        self.warn(format!("A kept job cannot be removed: {error}"));
                    }
                }
                Err(error) => self.warn(format!("The job kept as {} {error}", left.kept.path().display())),
            }
        }
    }
}
