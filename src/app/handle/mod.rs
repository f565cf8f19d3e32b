//! What the window does when it is asked: one function for every command, and the only place that
//! changes the job.

pub(crate) mod board;
pub(crate) mod documents;
pub(crate) mod edit;
pub(crate) mod elements;
pub(crate) mod exports;
pub(crate) mod folder;
pub(crate) mod reading;
pub(crate) mod record;
pub(crate) mod start;
pub(crate) mod tracing;
pub(crate) mod work;

use crate::app::App;
use crate::app::board::tools::true_size;
use crate::app::commands::command::Command;
use crate::app::commands::list::CommandList;
use crate::app::commands::middle::Middle;
use crate::app::documents::dialogs::Asked;
use crate::app::documents::document::Document;
use crate::app::documents::drawing::Drawing;
use crate::app::documents::opening::Source;
use crate::app::documents::path_field::TypedPath;
use crate::app::handle::edit::with_remark_of;
use crate::app::lesson::Tour;
use crate::app::shop::coupon::CouponDialog;
use crate::app::shop::cutters::CutterDialog;
use crate::app::shop::woods::WoodDialog;
use crate::app::sizes::prices::PriceDialog;
use crate::app::widgets::camera::Camera;
use crate::app::widgets::look;
use crate::app::widgets::region::step_region;
use crate::app::work::Lane;
use crate::design::samples::{find, samples};
use crate::job::{Edit, EditKind, History};
use crate::proof::lesson::TOUR;
use crate::proof::limit::calibrated;
use crate::proof::mend::Mend;
use crate::sheet::coupon::{coupon, key_svg};
use crate::sheet::outline::outline_svg;
use crate::shop::{Aside, Cutter, KeepError, Shop};
use crate::units::Mm;
use crate::words::window::handle as said;
use egui::ViewportCommand;
use glam::DVec2;
use std::path::{Path, PathBuf};

/// Commands.
impl App {
    #[expect(clippy::too_many_lines, reason = "one arm a command")]
    pub(crate) fn handle(&mut self, ctx: &egui::Context, command: Command) {
        match command {
            Command::AskOpen => self.ask_for(Asked::Open, ctx),
            Command::AskOpenPath => {
                self.dialogs.typed_path = Some(TypedPath::new(Asked::Open, String::new()));
            }
            Command::AskPicture => self.ask_for(Asked::Picture, ctx),
            Command::OpenPicture(path) => self.open(Source::Picture(path, None)),
            Command::TraceInside(number) => self.trace_inside(number),
            Command::Trace(settings, is_resized) => self.trace_again(*settings, is_resized),
            Command::Open(path) => self.open_path(path),
            Command::OpenSeveral(paths) => self.open_several(paths),
            Command::ReloadDrawing => self.reload_drawing(),
            Command::ShowJob(place) => self.show_job(place),
            Command::NextJob => self.show_job(self.shelf.step(1)),
            Command::PreviousJob => self.show_job(self.shelf.step(-1)),
            Command::CloseJob => self.close_job(),
            Command::RestoreLeft => self.decide_about_left(true),
            Command::DiscardLeft => self.decide_about_left(false),
            Command::LargerText => scale_text(ctx, 1),
            Command::SmallerText => scale_text(ctx, -1),
            Command::UsualText => ctx.set_zoom_factor(1.0),
            Command::ToggleStill => {
                self.preferences.still ^= true;
                look::keep_still(ctx, self.preferences.still);
            }
            Command::FullScreen => self.fill_screen(ctx, !self.views.full_screen),
            Command::NextRegion => step_region(ctx, 1),
            Command::PreviousRegion => step_region(ctx, -1),
            Command::ToggleCommands => {
                let open = self.dialogs.command_list.is_some();
                self.dialogs.command_list = (!open).then(CommandList::default);
            }
            Command::ToggleGrid => self.preferences.grid ^= true,
            Command::ToggleMeasure => {
                self.views.board.tools.measuring ^= true;
                self.views.board.tools.measured = None;
            }
            Command::TrueSize => self.show_true_size(ctx),
            Command::ToggleCalibrate => self.views.board.tools.calibrating ^= true,
            Command::TourStep(step) => self.tour_step(step),
            Command::Guess(guess) => {
                if let Some(tour) = &mut self.views.tour {
                    tour.guess = Some(guess);
                }
            }
            Command::HideWelcome => self.preferences.welcomed = true,
            Command::EndTour => self.views.tour = None,
            Command::ToggleHelp => self.dialogs.help_open ^= true,
            Command::ToggleGuide => self.views.guide.is_open ^= true,
            Command::GoToChosen => {
                if let Some(id) = self.views.chosen.clone() {
                    self.go_to(ctx, &id);
                }
            }
            Command::OpenBytes { name, bytes } => self.open(Source::Bytes { name, bytes }),
            Command::OpenSample(id) => self.open_sample(id),
            Command::Save => match self.path() {
                Some(path) => self.save(path),
                None => self.ask_for(Asked::Save, ctx),
            },
            Command::AskSave => self.ask_for(Asked::Save, ctx),
            Command::SaveTo(path) => self.save(path),
            Command::LeaveLeft => self.shelf.left.clear(),
            Command::CloseUnsaved => self.close_unsaved(ctx),
            Command::Stay => self.dialogs.closing = None,
            Command::Quit => ctx.send_viewport_cmd(ViewportCommand::Close),
            Command::Undo => self.undo_or_redo(History::undo),
            Command::Redo => self.undo_or_redo(History::redo),
            Command::UseUnit(unit) => {
                self.preferences.unit = unit;
                self.views.drafts.clear();
            }
            Command::UseTheme(theme) => {
                self.preferences.set_theme(theme);
                ctx.set_theme(theme);
            }
            Command::Show(middle) => self.preferences.middle = middle,
            Command::FitView if self.preferences.middle == Middle::Relief => self.views.relief.show_all(ctx),
            Command::FitView if self.preferences.middle == Middle::Tracing => self.views.tracing.show_all(),
            Command::FitView => self.views.board.camera = None,
            Command::ZoomIn => self.zoom(ctx, 1.5),
            Command::ZoomOut => self.zoom(ctx, 1.0 / 1.5),
            Command::GoTo(id) => self.go_to(ctx, &id),
            Command::NextFinding => self.step_finding(ctx, 1),
            Command::PreviousFinding => self.step_finding(ctx, -1),
            Command::Edit(edit) => {
                self.edit(edit);
            }
            Command::CancelWork => self.cancel_work(),
            Command::ToggleMessages => self.dialogs.messages_open ^= true,
            Command::ClearMessages => {
                self.messages.clear();
                self.dialogs.messages_open = false;
            }
            Command::ShowFile(file) => {
                let name = file.display().to_string();
                match self.file_dialogs.show(&file) {
                    Ok(()) => self.say(said::showing(&name)),
                    Err(error) => self.warn(said::not_shown(&name, &error)),
                }
            }
            Command::AskExportOutline => self.ask_for(Asked::Outline, ctx),
            Command::ExportOutline(path) => self.export_outline(path),
            Command::Mend(what) => self.mend(what, None),
            Command::MendOne(what, id) => {
                let place = self.seen().and_then(|seen| Some(seen.finding(&id)?.at));
                if place.is_some() {
                    self.mend(what, place);
                }
            }
            Command::CopyPicture => self.copy_picture(),
            Command::ShowMended(after) => {
                if let Some(preview) = self.shelf.shown_mut().and_then(|shown| shown.preview.as_mut()) {
                    preview.shows_after = after;
                }
            }
            Command::ApplyMended => self.apply_mended(),
            Command::LookAtOffer(offer) => {
                if let Some(shown) = self.shelf.shown_mut() {
                    shown.look_at_offer(offer);
                }
            }
            Command::ApplyOffer(offer) => self.apply_offer(offer),
            Command::DropMended => self.drop_preview(),
            Command::TogglePasses => self.views.relief.passes_shown ^= true,
            Command::ToggleClearing => self.views.relief.clearing.open ^= true,
            Command::ToggleWhy => self.views.findings.why_open ^= true,
            Command::ToggleCompare => self.dialogs.compare.open ^= true,
            Command::ToggleSeasons => self.views.findings.seasons.open ^= true,
            Command::ToggleCutters => {
                let dialog = self
                    .shelf
                    .shown()
                    .map(|shown| CutterDialog::showing(shown.job().cutter(), self.preferences.unit));
                self.dialogs.shop.cutters = if self.dialogs.shop.cutters.is_some() { None } else { dialog };
            }
            Command::KeepCutter(cutter) => self.keep_cutter(*cutter),
            Command::RemoveCutter(id) => {
                self.change_shop(
                    |folder| Shop::remove_cutter(folder, &id).map(|_| None),
                    said::REMOVED_THE_CUTTER,
                );
            }
            Command::ToggleWoods => {
                let open = self.dialogs.shop.woods.is_some();
                self.dialogs.shop.woods = (!open).then(WoodDialog::default);
            }
            Command::KeepWood(wood) => {
                self.change_shop(|folder| Shop::keep_wood(folder, &wood), &said::kept(&wood.name));
            }
            Command::RemoveWood(id) => {
                self.change_shop(
                    |folder| Shop::remove_wood(folder, &id).map(|_| None),
                    said::REMOVED_THE_WOOD,
                );
            }
            Command::ToggleCoupon => {
                let dialog = self.shelf.shown().map(|shown| CouponDialog::of(shown.job()));
                self.dialogs.shop.coupon = if self.dialogs.shop.coupon.is_some() { None } else { dialog };
            }
            Command::ToggleRecord => self.toggle_record(),
            Command::KeepRecord => self.keep_record(),
            Command::AskExportCoupon => self.ask_for(Asked::CouponOutline, ctx),
            Command::AskExportCouponKey => self.ask_for(Asked::CouponKey, ctx),
            Command::ExportCoupon(path) => {
                self.export_coupon(path, |coupon| outline_svg(&coupon.design, 1.0));
            }
            Command::ExportCouponKey(path) => self.export_coupon(path, key_svg),
            Command::Calibrate { along, across } => self.calibrate(along, across),
            Command::Board(command) => self.handle_board(ctx, command),
            Command::Element(command) => self.handle_element(command),
            Command::Folder(command) => self.handle_folder(ctx, command),
            Command::AskExport(what) => self.ask_for(Asked::Export(what), ctx),
            Command::Export(what, path) => self.export(what, path),
            Command::AskMark => self.ask_for(Asked::Mark, ctx),
            Command::UseMark(path) => self.preferences.papers.mark = path,
            Command::TogglePrices => {
                let open = self.dialogs.prices.is_some();
                self.dialogs.prices = (!open).then(|| PriceDialog::of(&self.shop, self.preferences.unit));
            }
            Command::KeepPrices(prices) => {
                self.change_shop(|folder| Shop::keep_prices(folder, &prices), said::KEPT_THE_PRICES);
            }
            Command::ToggleAbout => self.dialogs.about_open ^= true,
            Command::ToggleCautions => self.dialogs.cautions_open ^= true,
        }
    }

    /// Fills the screen with the window, or leaves it.
    pub(crate) fn fill_screen(&mut self, ctx: &egui::Context, fill: bool) {
        self.views.full_screen = fill;
        ctx.send_viewport_cmd(ViewportCommand::Fullscreen(fill));
    }

    pub(crate) fn open(&mut self, source: Source) {
        let current = self.shelf.shown().map(|shown| shown.job().clone());
        self.workers.open(source, current, self.shop.clone(), self.preferences.unit);
    }

    fn open_sample(&mut self, id: &str) {
        if let Some(sample) = find(id) {
            self.open(Source::Sample { sample, for_lesson: false });
        }
    }

    /// Where the shown job was saved or opened.
    pub(crate) fn path(&self) -> Option<PathBuf> {
        self.shelf.shown()?.files.saved_at.clone()
    }

    /// Asks for a file; what is of a job is not asked for before there is one.
    pub(crate) fn ask_for(&mut self, asked: Asked, ctx: &egui::Context) {
        if let Some(path) = self.suggested(asked) {
            self.file_dialogs.ask(asked, &path, ctx);
        }
    }

    /// The path to begin with: beside the saved job, or else beside its drawing; a bare name where neither is
    /// on disk. `None` where the file is of a job and there is none.
    pub(crate) fn suggested(&self, asked: Asked) -> Option<PathBuf> {
        let shown = self.shelf.shown();
        let name = asked.suggested_name(shown.map(Document::name))?;
        if asked.opens() {
            return Some(name.into());
        }
        let beside = self.path().or_else(|| Some(shown?.drawing()?.path.clone()));
        let folder = beside.and_then(|path| Some(std::path::absolute(path).ok()?.parent()?.to_owned()));
        Some(folder.map_or_else(|| PathBuf::from(&name), |folder| folder.join(&name)))
    }

    /// Saves the job. Ticks of findings that are gone go with them, where it is known what is found.
    fn save(&mut self, path: PathBuf) {
        if let Some(shown) = self.shelf.shown().filter(|shown| shown.is_current()) {
            let found = shown.proofed.proof.findings.iter().map(|finding| finding.id.clone()).collect();
            self.change(|history| history.amend(Edit::KeepAccepted(found)));
        }
        if let Some(shown) = self.shelf.shown() {
            self.workers.save(shown.id, shown.job().clone(), with_ending(path, "spelk"));
        }
    }

    fn export_coupon(&mut self, path: PathBuf, drawing: fn(&crate::sheet::coupon::Coupon) -> String) {
        if let Some(dialog) = &self.dialogs.shop.coupon {
            let coupon = dialog.coupon.clone();
            self.workers.write(as_svg(path), move || drawing(&coupon));
        }
    }

    /// Mends the outline as it is shown; a change that is still being proofed comes first.
    fn mend(&mut self, what: Mend, place: Option<DVec2>) {
        self.drop_preview();
        if let Some(shown) = self.shelf.shown().filter(|shown| shown.is_current()) {
            self.workers.mend(shown.proofed.clone(), what, place);
        }
    }

    fn drop_preview(&mut self) {
        if let Some(shown) = self.shelf.shown_mut() {
            shown.preview = None;
        }
    }

    /// Makes the change of an offer, in one step; what is known of it from its trial is taken over.
    fn apply_offer(&mut self, offer: usize) {
        let Some(shown) = self.shelf.shown_mut() else { return };
        let offered = shown.current_advice().and_then(|advised| advised.offers.get(offer));
        let Some(offered) = offered.map(|offered| offered.offer.clone()) else { return };
        shown.look_at_offer(None);
        self.drop_preview();
        let unit = self.preferences.unit;
        if self.edit(offered.edit()) {
            self.views.drafts.clear();
            self.say(said::offer_applied(&offered, unit));
        }
    }

    fn apply_mended(&mut self) {
        let Some(shown) = self.shelf.shown_mut() else { return };
        let Some(preview) = shown.preview.take() else { return };
        if !shown.is_still(&preview.mended.before) {
            return;
        }
        let mut after = preview.mended.after;
        after.job = with_remark_of(shown.job(), after.job);
        let unfollowed = shown.drawing().map(Drawing::file_name);
        shown.history.take(after.job.clone(), EditKind::Mending);
        shown.asked = None;
        shown.take_proofed(after);
        self.workers.cancel(Lane::Proofing);
        self.views.drafts.clear();
        self.say(said::mended(&preview.mended.words, unfollowed.as_deref()));
    }

    /// Changes the shop's own things on disk, and takes in what is there then. A few kilobytes: they are
    /// written at once, so that two changes cannot pass each other.
    pub(crate) fn change_shop(
        &mut self,
        change: impl FnOnce(&Path) -> Result<Option<Aside>, KeepError>,
        done: &str,
    ) -> bool {
        let Some(folder) = &self.shop_folder else {
            self.warn(crate::words::window::NO_SHOP_FOLDER);
            return false;
        };
        match change(folder) {
            Ok(aside) => {
                self.shop = Shop::open(folder, &self.usual_money).0;
                self.say(done);
                self.tell_aside(aside.as_ref());
                true
            }
            Err(error) => {
                self.warn(error.to_string());
                false
            }
        }
    }

    /// Says that a file of the shop's own was set aside, if one was.
    pub(crate) fn tell_aside(&mut self, aside: Option<&Aside>) {
        if let Some(aside) = aside {
            self.warn(crate::words::shop::set_aside(aside));
        }
    }

    /// Keeps a cutter; a job that uses it takes the change.
    fn keep_cutter(&mut self, cutter: Cutter) {
        let kept = self.change_shop(|folder| Shop::keep_cutter(folder, &cutter), &said::kept(&cutter.name));
        if kept && self.job().is_some_and(|job| job.cutter().id == cutter.id) {
            self.edit(Edit::Cutter(Box::new(cutter)));
        }
    }

    fn calibrate(&mut self, along: Mm, across: Mm) {
        let Some(job) = self.job() else { return };
        let cutter = calibrated(job, along, across, Mm::new(coupon(job).run));
        let done = said::limit_from_coupon(&cutter.name);
        self.change_shop(|folder| Shop::keep_cutter(folder, &cutter), &done);
        // Where it could not be kept the job has it all the same; what is wrong was said.
        self.edit(Edit::Limit(Box::new(cutter.reference)));
        self.dialogs.shop.coupon = None;
    }

    fn undo_or_redo(&mut self, step: fn(&mut History) -> bool) {
        if self.shelf.shown_mut().is_some_and(|shown| step(&mut shown.history)) {
            self.views.drafts.clear();
        }
    }

    /// Shows the board as large as it is; first the screen must be measured.
    fn show_true_size(&mut self, ctx: &egui::Context) {
        match (self.preferences.pixels_per_mm, self.seen()) {
            (Some(density), Some(seen)) => {
                self.views.board.camera = Some(true_size(self.views.board.camera(seen), density, ctx));
                self.preferences.middle = Middle::Board;
            }
            _ => self.views.board.tools.calibrating = true,
        }
    }

    /// Goes to a step of the tour, and opens its sample where it is not the one that is shown.
    fn tour_step(&mut self, step: usize) {
        let Some(sample) = TOUR.get(step).and_then(|step| find(step.sample)) else { return };
        self.preferences.middle = Middle::Lesson;
        self.views.tour = Some(Tour { step, guess: None });
        if !self.shows_lesson_sample(sample.title) {
            self.open_for_lesson(sample);
        }
    }

    fn zoom(&mut self, ctx: &egui::Context, factor: f64) {
        if self.preferences.middle == Middle::Relief {
            self.views.relief.zoom(ctx, factor);
            return;
        }
        if let Some(seen) = self.seen() {
            let canvas = self.views.board.canvas;
            self.views.board.camera =
                Some(self.views.board.camera(seen).zoomed(factor, canvas.center(), canvas));
        }
    }

    fn go_to(&mut self, ctx: &egui::Context, id: &str) {
        let Some(seen) = self.seen() else { return };
        let Some(finding) = seen.finding(id) else { return };
        let (place, span) = (finding.at, seen.span_on_board(finding));
        // What concerns the whole board is seen best on the whole board.
        self.views.board.camera =
            span.map(|span| Camera::looking_at(place, span, self.views.board.canvas.size()));
        // Who looks at the board finds the whole of it in the relief afterwards.
        if self.preferences.middle == Middle::Relief {
            self.views.relief.go_to(ctx, place, span);
        }
        self.views.chosen = Some(id.to_owned());
        self.views.findings.aside = true;
        self.views.board.gone_to_at = ctx.input(|input| input.time);
        self.views.findings.scroll_to_chosen = true;
    }

    fn step_finding(&mut self, ctx: &egui::Context, by: isize) {
        let Some(seen) = self.seen() else { return };
        let findings = &seen.proof.findings;
        let Some(last) = findings.len().checked_sub(1) else { return };
        let at = self.views.chosen.as_ref().and_then(|id| findings.iter().position(|f| f.id == *id));
        let next = match (at, by > 0) {
            (None, _) => 0,
            (Some(at), true) => (at + 1).min(last),
            (Some(at), false) => at.saturating_sub(1),
        };
        let id = findings[next].id.clone();
        self.go_to(ctx, &id);
    }

    fn cancel_work(&mut self) {
        if self.workers.busy(Lane::Opening) {
            self.workers.cancel(Lane::Opening);
            self.shelf.forget_queue();
            self.say(said::OPENING_CANCELLED);
            self.start_with_something();
        } else if self.workers.busy(Lane::Editing) {
            self.workers.cancel(Lane::Editing);
            self.say(said::ELEMENTS_CANCELLED);
        } else if self.workers.busy(Lane::Tracing) {
            self.workers.cancel(Lane::Tracing);
            self.views.tracing.forget_wanted();
            self.say(said::CANCELLED);
        } else if self.workers.busy(Lane::Arranging) {
            self.workers.cancel(Lane::Arranging);
            self.say(crate::words::window::pieces::ARRANGING_CANCELLED);
        } else if self.workers.busy(Lane::Mending) {
            self.workers.cancel(Lane::Mending);
            self.say(said::MENDING_CANCELLED);
        } else if self.workers.busy(Lane::Carving) && !self.workers.busy(Lane::Proofing) {
            self.views.relief.call_off(&mut self.workers);
            self.say(said::CARVING_CANCELLED);
        } else if let Some(lane) =
            [Lane::Placing, Lane::Photographing].into_iter().find(|lane| self.workers.busy(*lane))
        {
            self.workers.cancel(lane);
            self.say(said::CANCELLED);
        } else if self.workers.busy(Lane::Proofing) {
            self.workers.cancel(Lane::Proofing);
            self.return_to_proofed();
            self.say(said::CHANGE_CANCELLED);
        }
    }

    /// A first file that could not be opened leaves the first sample in the window.
    pub(crate) fn start_with_something(&mut self) {
        if self.shelf.shown().is_none() && !self.workers.busy(Lane::Opening) {
            self.open_sample(samples()[0].id);
        }
    }
}

/// Text sizes on offer, as shares of the usual one: what stands between half and three times it.
const TEXT_SIZES: [f32; 11] = [0.6, 0.7, 0.8, 0.9, 1.0, 1.15, 1.3, 1.5, 1.75, 2.0, 2.5];

/// Draws everything a step larger or smaller.
fn scale_text(ctx: &egui::Context, by: isize) {
    let now = ctx.zoom_factor();
    let nearest = TEXT_SIZES.iter().position(|size| *size >= now - 1e-3).unwrap_or(TEXT_SIZES.len() - 1);
    let step = nearest.saturating_add_signed(by).min(TEXT_SIZES.len() - 1);
    ctx.set_zoom_factor(TEXT_SIZES[step]);
}

/// The path of a drawing, with its ending where none was given.
pub(crate) fn as_svg(path: PathBuf) -> PathBuf {
    with_ending(path, "svg")
}

/// A path with this ending where none was given.
pub(crate) fn with_ending(path: PathBuf, ending: &str) -> PathBuf {
    if path.extension().is_some() { path } else { path.with_extension(ending) }
}
