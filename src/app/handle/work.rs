//! Work in flight: what the worker threads bring is taken in here, and what is needed next is started.

use crate::app::App;
use crate::app::board::painting::{self, PaintKey};
use crate::app::commands::command::Command;
use crate::app::commands::middle::Middle;
use crate::app::documents::dialogs::Answer;
use crate::app::documents::document::Preview;
use crate::app::documents::opening::{Origin, STEPS_OF_A_DRAWING};
use crate::app::documents::path_field::TypedPath;
use crate::app::done::Done;
use crate::app::shell::over_middle::SlowOpening;
use crate::app::widgets::image::color_image;
use crate::app::work::Broke;
use crate::app::work::Failed;
use crate::app::work::proofed::Proofed;
use crate::app::work::{Lane, Stage};
use crate::design::samples::samples;
use crate::shop::open_rack;
use crate::trace::Step;
use crate::words::notices;
use crate::words::sheets::paper;
use crate::words::window::handle as said;
use egui::ViewportCommand;
use std::sync::Arc;
use std::time::Duration;

/// What takes longer than this is told of: a round value of our own.
const TOLD_AFTER: Duration = Duration::from_millis(300);

/// Work in flight.
impl App {
    /// Takes in what the worker threads brought. The only place that does.
    pub(crate) fn collect(&mut self, ctx: &egui::Context) {
        for done in self.workers.collect() {
            let done = match done {
                Ok(done) => done,
                Err(broke) => {
                    self.take_broken(broke);
                    continue;
                }
            };
            match done {
                Done::Opened(proofed, origin) => self.welcome(*proofed, origin),
                Done::Reread(reread) => self.take_reread(*reread),
                Done::Edited(edited) => self.take_edited(*edited),
                Done::Lettered(set) => {
                    if let Some(dialog) = &mut self.views.elements.lettering {
                        dialog.take(ctx, *set);
                    }
                }
                Done::NamesDrawn(drawn) => {
                    if let Some(dialog) = &mut self.views.elements.lettering {
                        dialog.typefaces.take(ctx, drawn);
                    }
                }
                Done::NotOpened(Failed(message)) => {
                    self.warn(message);
                    self.start_with_something();
                }
                Done::Proofed(proofed) => {
                    if let Some(shown) = self.shelf.shown_mut() {
                        shown.asked = None;
                        shown.take_proofed(*proofed);
                    }
                }
                Done::Advised(advised) => {
                    if let Some(shown) = self.shelf.shown_mut().filter(|shown| shown.is_still(&advised.of)) {
                        shown.take_advice(*advised);
                    }
                }
                Done::Painted(layers) => {
                    if let Some(sitter) = self.views.board.painting.take() {
                        self.views.board.painted = Some((painting::upload(ctx, *layers), sitter));
                    }
                }
                Done::Saved(id, job, path) => self.take_saved(id, job, path),
                Done::Written(path, missing) => {
                    let name = path.display().to_string();
                    self.messages.say_of_file(said::wrote(&name), path);
                    if !missing.is_empty() {
                        let missing = said::of_file(&name, &paper::no_typeface(&missing));
                        self.warn(notices::line(&missing, Some(paper::NO_TYPEFACE_HINT)));
                    }
                }
                Done::WrittenEach(files) => self.say(said::wrote(&files)),
                Done::Copied(picture) => {
                    ctx.copy_image(color_image(&picture));
                    self.say(said::COPIED_THE_PICTURE);
                }
                Done::Failed(Failed(message)) => self.warn(message),
                Done::Mended(mended) => {
                    // Nothing is shown that no longer belongs to the job.
                    if let Some(shown) = self.shelf.shown_mut().filter(|shown| shown.is_still(&mended.before))
                    {
                        shown.preview = Some(Preview { mended: *mended, shows_after: true });
                    }
                }
                Done::Traced(retraced) => self.take_traced(*retraced),
                Done::Relief(piece) => self.views.relief.take(ctx, *piece),
                Done::Board(done) => self.take_board_done(ctx, done),
                Done::Compared(compared) => self.dialogs.compare.take(*compared),
                Done::Folder(part) => self.dialogs.folder.take(ctx, part),
                Done::Sized(sized) => self.views.sizes.take(ctx, *sized),
                Done::Surfaced(surfaced) => self.views.sizes.take_surfaced(ctx, *surfaced),
            }
        }
    }

    fn welcome(&mut self, proofed: Proofed, origin: Origin) {
        let design = proofed.job.design();
        let name = &design.name;
        let sample = samples().iter().find(|sample| sample.title == name);
        let lesson = sample.map(|sample| sample.lesson);
        self.say(said::opened(name, design.elements.len(), design.notices.len(), lesson));
        self.take_opened(proofed, origin);
    }

    fn take_broken(&mut self, Broke { lane, message }: Broke) {
        self.warn(message);
        match lane {
            Lane::Opening => self.start_with_something(),
            Lane::Proofing => self.return_to_proofed(),
            Lane::Carving | Lane::Playing | Lane::Shading | Lane::Sectioning => {
                self.views.relief.give_up(lane);
            }
            Lane::Surfacing => self.views.sizes.go_without(),
            Lane::Comparing => self.dialogs.compare.give_up(),
            Lane::Folder => self.dialogs.folder.give_up(),
            Lane::Typefaces => {
                if let Some(dialog) = &mut self.views.elements.lettering {
                    dialog.typefaces.give_up();
                }
            }
            // The last good picture stays; another is tried when something changes.
            Lane::Advising
            | Lane::Painting
            | Lane::Saving
            | Lane::Mending
            | Lane::Editing
            | Lane::Lettering
            | Lane::Placing
            | Lane::Arranging
            | Lane::Batching
            | Lane::Racking
            | Lane::Sizing
            | Lane::Tracing
            | Lane::Photographing => {}
        }
    }

    /// Starts what the job, the proof or the view now needs.
    pub(crate) fn start_needed_work(&mut self, ctx: &egui::Context) {
        let Some(shown) = self.shelf.shown_mut() else { return };
        if let Some((job, known)) = shown.needed_proof() {
            // What would have helped the job as it was is of no use any more.
            self.workers.cancel(Lane::Advising);
            self.workers.proof(job, known);
        }
        if let Some(now) = shown.needed_advice()
            && ![Lane::Advising, Lane::Proofing, Lane::Painting]
                .into_iter()
                .any(|lane| self.workers.busy(lane))
        {
            let boards = self.shop_folder.as_deref().map(open_rack).and_then(Result::ok).unwrap_or_default();
            self.workers.advise(now, self.shop.clone(), boards);
        }
        let hatched = shown.preview.as_ref().filter(|preview| preview.shows_after);
        let hatched = hatched.map(|preview| preview.mended.hatched.clone());
        if let Some(seen) = self.seen()
            && self.views.board.painting.is_none()
            && let Some(view) = self.views.board.framing(ctx, seen, self.preferences.unit)
        {
            let photo = self.views.board.photo.of(seen.job.board());
            let sitter = PaintKey {
                proof: seen.proof.clone(),
                hatched: hatched.is_some(),
                photographed: photo.is_some(),
                hidden: self.views.elements.hidden_in(seen.job.design()),
            };
            let is_good = self
                .views
                .board
                .painted
                .as_ref()
                .is_some_and(|(painted, of)| painted.view == view && of.is(&sitter));
            if !is_good {
                let seen = seen.clone();
                let hidden = sitter.hidden.clone();
                self.views.board.painting = Some(sitter);
                self.workers.paint(seen, view, hatched, photo, hidden);
            }
        }
        let middle = self.preferences.middle;
        let seen = (middle == Middle::Relief || self.views.relief.passes_shown)
            .then(|| self.seen().cloned())
            .flatten();
        self.views.relief.start_needed_work(ctx, &mut self.workers, seen.as_ref(), middle);
    }

    /// Has words set anew where they were changed.
    pub(crate) fn start_lettering(&mut self) {
        if let Some(dialog) = &mut self.views.elements.lettering {
            dialog.start_needed_work(&mut self.workers);
        }
    }

    /// Works the sizes out where they are looked at. What is being typed is left until it is done.
    pub(crate) fn start_sizes(&mut self, ctx: &egui::Context) {
        let wanted_now = self.preferences.middle == Middle::Sizes
            && !self.workers.busy(Lane::Sizing)
            && !ctx.text_edit_focused();
        let shown = self.shelf.shown().filter(|shown| wanted_now && shown.is_current());
        let Some(shown) = shown.map(|shown| &shown.proofed) else { return };
        let (shop, unit) = (&self.shop, self.preferences.unit);
        self.views.sizes.start_needed_work(
            &mut self.workers,
            &self.preferences.sizes,
            shown,
            shop,
            unit,
            ctx.theme(),
        );
    }

    /// Works the versions of the job out where they are looked at.
    pub(crate) fn start_comparing(&mut self) {
        let shown = self.shelf.shown().filter(|shown| shown.is_current());
        let Some(shown) = shown.map(|shown| &shown.proofed) else { return };
        self.dialogs.compare.start_needed_work(&mut self.workers, shown, &self.shop);
    }

    /// What the bottom bar says is being done: soon for a file, later for what is mostly over at once.
    pub(crate) fn work_in_words(&self) -> Option<String> {
        // What takes longer to open is told of in the middle.
        if let Some((words, _)) = self.workers.doing(Lane::Opening).filter(|(_, since)| *since <= TOLD_AFTER)
        {
            return Some(words);
        }
        if let Some((words, _)) = self.workers.doing(Lane::Saving) {
            return Some(words);
        }
        let slow = [
            Lane::Mending,
            Lane::Tracing,
            Lane::Editing,
            Lane::Placing,
            Lane::Arranging,
            Lane::Sizing,
            Lane::Photographing,
            Lane::Proofing,
            Lane::Carving,
        ];
        let doing = slow.into_iter().find_map(|lane| self.workers.doing(lane));
        doing.filter(|(_, since)| *since > TOLD_AFTER).map(|(words, _)| words)
    }

    /// What is being opened, and how far it is, where it takes long.
    pub(crate) fn slow_opening(&self) -> Option<SlowOpening> {
        let (stage, about, since) = self.workers.stage(Lane::Opening)?;
        let [_, of] = self.workers.counted(Lane::Opening).unwrap_or([0, STEPS_OF_A_DRAWING]);
        let step = match stage {
            Stage::Reading => 1,
            Stage::Tracing(Step::Preparing) => 2,
            Stage::Tracing(Step::Following) => 3,
            Stage::Tracing(Step::Fitting) => 4,
            Stage::Measuring => of - 1,
            _ => of,
        };
        (since > TOLD_AFTER).then(|| SlowOpening { name: about.to_owned(), step, of, words: stage.words() })
    }

    pub(crate) fn take_dropped(&mut self, ctx: &egui::Context) {
        let dropped = ctx.input(|input| input.raw.dropped_files.clone());
        if dropped.len() > 1 {
            let paths = dropped.iter().map(|file| file.path().to_owned()).filter(|path| path.exists());
            self.commands.push(Command::OpenSeveral(paths.collect()));
            return;
        }
        let Some(file) = dropped.first() else { return };
        let path = file.path().to_owned();
        if path.exists() {
            self.commands.push(Command::Open(path));
            return;
        }
        match file.bytes() {
            Ok(bytes) => self.commands.push(Command::OpenBytes { name: path.display().to_string(), bytes }),
            Err(error) => self.warn(said::unreadable(&path.display().to_string(), &error)),
        }
    }

    pub(crate) fn take_answer(&mut self, ctx: &egui::Context) {
        match self.file_dialogs.poll(ctx) {
            None | Some(Answer::Nothing) => {}
            Some(Answer::Path(asked, path)) => self.commands.push(asked.command(path)),
            Some(Answer::NoDialog(asked)) => {
                self.messages.warn_aside(crate::words::window::NO_FILE_DIALOG);
                let suggested = self.suggested(asked).unwrap_or_default();
                // Whoever types a path wants to see where it leads.
                let suggested = std::path::absolute(&suggested).unwrap_or(suggested);
                self.dialogs.typed_path =
                    Some(TypedPath::new(asked, suggested.to_string_lossy().into_owned()));
            }
        }
    }

    pub(crate) fn keep_title(&mut self, ctx: &egui::Context) {
        let Some(shown) = self.shelf.shown() else { return };
        let title = said::title(shown.name(), shown.is_changed());
        if title != self.title {
            ctx.send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.title = title;
        }
    }

    /// A drag, or typing, is over when nothing has changed for a second and nothing is held.
    pub(crate) fn keep_history(&mut self, ctx: &egui::Context) {
        const CALM: f64 = 1.0;
        let is_held = self.views.board.hand.held.is_some();
        let history = self.shelf.shown_mut().map(|shown| &mut shown.history);
        let Some(history) = history.filter(|history| history.is_open() && !is_held) else {
            self.views.calm_since = None;
            return;
        };
        let time = ctx.input(|input| input.time);
        match &self.views.calm_since {
            Some((job, since)) if Arc::ptr_eq(job, history.job()) => {
                if time - since >= CALM {
                    history.close();
                    return;
                }
            }
            _ => self.views.calm_since = Some((history.job().clone(), time)),
        }
        ctx.request_repaint_after_secs(1.1);
    }
}
