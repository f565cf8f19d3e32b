//! The jobs that are open: several at once, one of them shown; where each came from, what is followed
//! on disk, and what is kept against a crash.

pub(crate) mod dialogs;
pub(crate) mod keeper;
pub(crate) mod path_field;
pub(crate) mod watch;

use crate::app::commands::command::Command;
use crate::app::documents::keeper::Keeper;
use crate::app::documents::watch::{Stamp, Watch};
use crate::app::elements::reading::Asks;
use crate::app::widgets::form;
use crate::app::widgets::look::Palette;
use crate::app::work::{Lane, Proofed, Source};
use crate::app::{App, Step};
use crate::design::Design;
use crate::design::samples::Sample;
use crate::job::Job;
use crate::job::recovery::{Left, Recovery};
use egui::util::undoer::Undoer;
use egui::{Align2, RichText};
use std::collections::VecDeque;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Files in the list of those opened before.
const MOST_RECENT: usize = 10;

/// A job that is open and not shown.
pub(crate) struct Parked {
    id: u64,
    now: Step,
    history: Undoer<Step>,
    clean: Option<Job>,
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
    pub(crate) asks: Option<Asks>,
    /// Whether it was made here and is in no file.
    pub(crate) is_new: bool,
    /// Whether the lesson's tour asked for it.
    pub(crate) for_lesson: bool,
}

/// What is open beside the job that is shown, and what belongs to files on disk.
pub(crate) struct Documents {
    /// One place a job; the place of the shown one is empty.
    places: Vec<Option<Parked>>,
    /// The place of the shown job.
    at: usize,
    /// What tells the shown job from the others, whatever becomes of it.
    id: u64,
    next_id: u64,
    /// Where each design's drawing lies.
    drawings: Vec<(Arc<Design>, Drawing)>,
    /// What may be asked of each design's drawing.
    asks: Vec<(Arc<Design>, Asks)>,
    /// Files still to open, and the place of the first of them once it is open.
    queue: VecDeque<Source>,
    /// The job that the lesson's tour slides about.
    lesson: Option<u64>,
    first_of_queue: Option<u64>,
    /// Files opened before, the last first.
    pub(crate) recent: Vec<PathBuf>,
    /// What a crash left behind and nobody has decided about.
    left: Vec<Left>,
    keeper: Option<Keeper>,
    watch: Watch,
}

impl Documents {
    pub(crate) fn new(ctx: &egui::Context, recent: Vec<PathBuf>) -> Documents {
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
            recent,
            left: Vec::new(),
            keeper: None,
            watch: Watch::new(ctx.clone()),
        }
    }

    /// Whether everything that was to be opened is.
    pub(crate) fn is_idle(&self) -> bool {
        self.queue.is_empty()
    }

    fn remember(&mut self, path: &Path) {
        // A relative path means something else at the next start.
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        self.recent.retain(|other| *other != path);
        self.recent.insert(0, path);
        self.recent.truncate(MOST_RECENT);
    }

    /// What may be asked of each design's drawing, the last word last.
    pub(crate) fn asks(&self) -> &[(Arc<Design>, Asks)] {
        &self.asks
    }

    /// Takes down what may be asked of a design's drawing from now on.
    pub(crate) fn ask(&mut self, design: Arc<Design>, asks: Asks) {
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
fn is_changed(lesson: Option<u64>, id: u64, job: &Job, clean: Option<&Job>) -> bool {
    lesson != Some(id) && clean != Some(job)
}

/// What was last said of a design in a list.
pub(crate) fn of_design<'a, T>(list: &'a [(Arc<Design>, T)], design: &Arc<Design>) -> Option<&'a T> {
    list.iter().rev().find(|(of, _)| Arc::ptr_eq(of, design)).map(|(_, what)| what)
}

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
                is_changed(self.documents.lesson, parked.id, &parked.now.job, parked.clean.as_ref());
            (parked.now.job.design().name.clone(), changed)
        };
        let shown = || (now.job.design().name.clone(), self.is_dirty());
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
        self.now.as_ref().is_some_and(|now| self.documents.drawing_of(now.job.design()).is_some())
    }

    /// Opens a file, or shows the job that was opened from it before.
    pub(crate) fn open_path(&mut self, path: PathBuf) {
        let same = |other: &Path| std::path::absolute(other).ok() == std::path::absolute(&path).ok();
        let is_from_it = |job: &Job| {
            of_design(&self.saved_at, job.design()).is_some_and(|at| same(at))
                || self.documents.drawing_of(job.design()).is_some_and(|drawing| same(&drawing.path))
        };
        let parked = |place: &Option<Parked>| place.as_ref().is_some_and(|place| is_from_it(&place.now.job));
        let place = if self.now.as_ref().is_some_and(|now| is_from_it(&now.job)) {
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
        if self.bench.busy(Lane::Opening) {
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
        let now = Step { job: proofed.job.clone(), name: "open" };
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
        self.history = Undoer::default();
        self.history.add_undo(&now);
        self.clean = (!origin.is_new).then(|| now.job.clone());
        if let Some(path) = &origin.saved_at {
            self.saved_at.push((now.job.design().clone(), path.clone()));
        }
        if let Some(path) = origin.saved_at.as_ref().or(origin.drawing.as_ref().map(|drawing| &drawing.path))
        {
            self.documents.remember(path);
        }
        // Whoever opened a file of their own needs no welcome any more.
        self.view.welcome &= origin.drawing.is_none() && origin.saved_at.is_none();
        if let Some(drawing) = origin.drawing {
            self.documents.follow(now.job.design().clone(), drawing);
        }
        if let Some(asks) = origin.asks {
            self.documents.ask(now.job.design().clone(), asks);
        }
        if let Some(kept) = origin.kept {
            self.clean = None;
            self.documents.left.retain(|left| left.kept != kept);
            if let Some(keeper) = &mut self.documents.keeper {
                keeper.adopt(self.documents.id, kept, now.job.clone());
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
        self.is_for_lesson() && self.now.as_ref().is_some_and(|now| now.job.design().name == title)
    }

    /// Whether the shown job differs from what was saved or opened.
    pub(crate) fn is_dirty(&self) -> bool {
        let now = self.now.as_ref();
        now.is_some_and(|now| {
            is_changed(self.documents.lesson, self.documents.id, &now.job, self.clean.as_ref())
        })
    }

    /// Whether the shown job is the tour's.
    pub(crate) fn is_for_lesson(&self) -> bool {
        self.documents.lesson == Some(self.documents.id)
    }

    /// Nothing of what was looked at in another job is kept.
    fn look_afresh(&mut self) {
        self.bench.cancel(Lane::Proofing);
        self.bench.cancel(Lane::Mending);
        self.asked = None;
        self.preview = None;
        self.painted = None;
        self.view.camera = None;
        self.view.chosen = None;
        self.bench.cancel(Lane::Editing);
        self.view.elements.look_afresh();
        self.view.drafts.clear();
    }

    /// Puts the shown job into its place; another must be taken out at once.
    fn park(&mut self) {
        let Some(now) = self.now.take() else { return };
        let (history, clean) = (std::mem::take(&mut self.history), self.clean.take());
        self.documents.places[self.documents.at] =
            Some(Parked { id: self.documents.id, now, history, clean });
    }

    fn unpark(&mut self, place: usize) {
        let Some(parked) = self.documents.places[place].take() else { return };
        self.documents.at = place;
        self.documents.id = parked.id;
        self.now = Some(parked.now);
        self.history = parked.history;
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
            self.view.closing = Some(Closing::Job);
            return;
        }
        self.drop_job();
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

    /// The place of a job with changes that are not saved, the shown one first.
    pub(crate) fn dirty_job(&self) -> Option<usize> {
        let jobs = self.open_jobs();
        let at = self.documents.at;
        let order = std::iter::once(at).chain(0..jobs.len());
        order.into_iter().find(|place| jobs.get(*place).is_some_and(|(_, changed)| *changed))
    }

    pub(crate) fn take_saved(&mut self, job: Job, path: PathBuf) {
        self.say(format!("Saved {}", path.display()));
        self.documents.remember(&path);
        self.saved_at.retain(|(of, _)| !Arc::ptr_eq(of, job.design()));
        self.saved_at.push((job.design().clone(), path));
        let is_shown = self.now.as_ref().is_some_and(|now| Arc::ptr_eq(now.job.design(), job.design()));
        let parked = self.documents.places.iter_mut().flatten();
        let clean = if is_shown {
            Some(&mut self.clean)
        } else {
            parked
                .filter(|parked| Arc::ptr_eq(parked.now.job.design(), job.design()))
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
        let drawing = self.now.as_ref().and_then(|now| self.documents.drawing_of(now.job.design())).cloned();
        self.documents.watch.follow(drawing);
        if self.documents.watch.has_changed() && !self.bench.busy(Lane::Opening) {
            self.reload_drawing();
        }
        let Some(keeper) = &mut self.documents.keeper else { return };
        if let Some(now) = &self.now {
            let saved = of_design(&self.saved_at, now.job.design());
            let is_dirty =
                is_changed(self.documents.lesson, self.documents.id, &now.job, self.clean.as_ref());
            let path = saved.map(|path| &**path);
            keeper.keep(self.documents.id, is_dirty.then_some(&now.job), path, ctx);
        }
        for parked in self.documents.places.iter().flatten() {
            let job = &parked.now.job;
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
                        Source::Kept { job: Box::new(job), kept: left.kept, saved_at: left.saved_at };
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

    /// Offers what a crash left behind.
    pub(crate) fn left_ui(&mut self, ctx: &egui::Context, commands: &mut Vec<Command>) {
        if self.documents.left.is_empty() || self.now.is_none() {
            return;
        }
        let modal = egui::Modal::new(egui::Id::unique("left")).show(ctx, |ui| {
            ui.set_max_width(420.0);
            ui.heading("Changes that were not saved");
            ui.label(
                "Spelk ended before these jobs were saved. They are kept as they were a few seconds before",
            );
            ui.add_space(4.0);
            for left in &self.documents.left {
                let words = match &left.job {
                    Ok(job) => job.design().name.clone(),
                    Err(error) => format!("A job that {error}"),
                };
                let from = left.saved_at.as_ref().map_or_else(
                    || "never saved".to_owned(),
                    |path| format!("saved before as {}", path.display()),
                );
                ui.label(RichText::new(words).strong());
                ui.label(RichText::new(from).small());
            }
            ui.add_space(6.0);
            ui.horizontal(|ui| {
                for (label, hint, command) in [
                    (
                        "Restore",
                        "Open them as they were; nothing is overwritten until you save",
                        Some(Command::RestoreLeft),
                    ),
                    ("Discard", "Do away with them", Some(Command::DiscardLeft)),
                    ("Later", "Ask again at the next start", None),
                ] {
                    if ui.button(label).on_hover_text(hint).clicked() {
                        commands.extend(command);
                        ui.close();
                    }
                }
            });
        });
        if modal.should_close() {
            ctx.request_repaint();
            if commands.iter().all(|command| !matches!(command, Command::RestoreLeft | Command::DiscardLeft))
            {
                self.documents.left.clear();
            }
        }
    }

    /// Says over the window what dropping the files that hover there would do.
    pub(crate) fn hovered_files_ui(&self, ctx: &egui::Context) {
        let hovered = ctx.input(|input| input.raw.hovered_files.clone());
        if hovered.is_empty() {
            return;
        }
        let palette = Palette::of(ctx);
        let area = egui::Area::new(egui::Id::unique("hovered files")).order(egui::Order::Foreground);
        area.anchor(Align2::CENTER_CENTER, egui::Vec2::ZERO).interactable(false).show(ctx, |ui| {
            let frame = egui::Frame::window(ui.style()).stroke(egui::Stroke::new(3.0, palette.accent));
            frame.inner_margin(16.0).show(ui, |ui| {
                ui.set_max_width(520.0);
                ui.heading(if hovered.len() == 1 {
                    "Drop to open"
                } else {
                    "Drop to open one after the other"
                });
                for file in hovered.iter().take(8) {
                    ui.label(what_a_drop_does(file.path.as_deref(), self.now.as_ref().map(|now| &now.job)));
                }
                if hovered.len() > 8 {
                    ui.label(format!("and {}", crate::words::count(hovered.len() - 8, "more", "more")));
                }
                ui.label(
                    RichText::new("The job that is open stays open beside it").small().color(palette.faint),
                );
            });
        });
    }

    /// Asks before changes are lost.
    pub(crate) fn closing_ui(&mut self, ctx: &egui::Context, commands: &mut Vec<Command>) {
        let Some(closing) = self.view.closing else { return };
        let Some(now) = &self.now else { return };
        let name = now.job.design().name.clone();
        let modal = egui::Modal::new(egui::Id::unique("closing")).show(ctx, |ui| {
            ui.set_max_width(340.0);
            ui.heading("Save the job before closing?");
            ui.label(format!("{name} was changed since it was opened or saved"));
            ui.add_space(6.0);
            ui.horizontal(|ui| {
                if ui.button("Save job").clicked() {
                    commands.push(Command::Save);
                    ui.close();
                }
                if ui.button("Close without saving").clicked() {
                    self.clean = self.now.as_ref().map(|now| now.job.clone());
                    commands.push(match closing {
                        Closing::Window => Command::Quit,
                        Closing::Job => Command::CloseJob,
                    });
                    ui.close();
                }
                if ui.button("Stay").clicked() {
                    ui.close();
                }
            });
        });
        if form::is_closing(ctx, &modal) {
            self.view.closing = None;
        }
    }
}

/// What is to be closed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Closing {
    Window,
    Job,
}

/// What dropping a file would do, in a sentence.
fn what_a_drop_does(path: Option<&Path>, now: Option<&Job>) -> String {
    let Some(path) = path else { return "A file, as a drawing or a saved job".to_owned() };
    let name = path
        .file_name()
        .map_or_else(|| path.display().to_string(), |name| name.to_string_lossy().into_owned());
    if path.is_dir() {
        return format!("{name} is a folder: drop the files in it instead");
    }
    if is_saved_job(path) {
        return format!("{name}: a saved job, with its own board, wood and cutter");
    }
    let kept = now.map_or_else(String::new, |job| {
        format!(", on this board of {} with this {}", job.wood().name, job.cutter().name)
    });
    format!("{name}: a drawing at its own size{kept}")
}

/// Whether a path is a saved job's, by its ending.
pub(crate) fn is_saved_job(path: &Path) -> bool {
    path.extension().is_some_and(|end| end.eq_ignore_ascii_case("spelk"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_drop_is_told_before_it_is_made() {
        let job = Job::new(Arc::new(
            crate::design::read("a", crate::design::samples::samples()[0].svg.as_bytes()).unwrap(),
        ));
        let words = |name: &str| what_a_drop_does(Some(Path::new(name)), Some(&job));
        assert!(
            words("shop/geese.SPELK").starts_with("geese.SPELK: a saved job"),
            "{}",
            words("geese.SPELK")
        );
        assert!(words("geese.svg").contains(&job.wood.name), "{}", words("geese.svg"));
        assert!(
            what_a_drop_does(Some(&std::env::temp_dir()), None).contains("folder"),
            "a folder is no file"
        );
    }
}
