//! The window: the only place that knows egui.
//!
//! [`App`] owns the job, what is seen of it, and the work in flight. Panels read the job and its last
//! proof and emit [`Command`]s; `App::handle` alone changes things. Nothing is worked out in a frame:
//! opening, proofing and painting run on threads from snapshots, and `App::logic` collects what they
//! bring. Until the next proof arrives the last good one stays up.

mod bench_list;
mod blemishes;
mod board_command;
mod board_view;
mod board_work;
mod camera;
mod canvas;
mod cards;
mod command;
mod coupon;
mod cutters;
mod dialogs;
mod findings;
mod fit_window;
mod form;
mod layers;
mod length_field;
mod look;
mod machines;
mod mending;
mod menu;
mod messages;
mod path_field;
mod photo;
mod placing;
mod rack;
mod rulers;
mod seasons;
mod size_strip;
mod verdict;
mod why;
mod woods;
mod words;
mod worker;

pub use board_command::{BoardCommand, Tool};
pub use command::{Command, Setting};
pub use dialogs::{Answer, Asked, DesktopDialogs, Dialogs, ScriptedDialogs};
pub use messages::Message;

use crate::design::Design;
use crate::design::samples::samples;
use crate::job::{Job, Treatment};
use crate::proof::mend::Mend;
use crate::proof::{Finding, Measured, Proof};
use crate::sheet::coupon::{calibrated, key_svg};
use crate::sheet::outline::outline_svg;
use crate::shop::{self, Cutter, KeepError, Shop};
use crate::units::{LengthUnit, Mm};
use anyhow::bail;
use board_view::BoardView;
use camera::Camera;
use coupon::CouponBench;
use cutters::CutterBench;
use egui::util::undoer::Undoer;
use egui::{Rect, TextureHandle, ThemePreference, ViewportCommand};
use glam::DAffine2;
use layers::View;
use length_field::Drafts;
use seasons::Seasons;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;
use woods::WoodBench;
use worker::{Bench, Done, Known, Lane, Mended, Proofed, Source};

/// Opens the window, with the first of `files` in it or else the first sample. Returns when it is
/// closed.
///
/// The window is drawn by the graphics card where there is one, else by OpenGL, which a machine without
/// a card does in software. The error says what is missing where neither can be had.
pub fn run(files: Vec<PathBuf>) -> anyhow::Result<()> {
    let start = |renderer, files: Vec<PathBuf>| {
        eframe::run_native(
            "spelk",
            options(renderer),
            Box::new(move |cc| {
                Ok(Box::new(App::new(cc, files, Box::new(DesktopDialogs::default()), shop::config_folder())))
            }),
        )
    };
    match start(eframe::Renderer::Wgpu, files.clone()) {
        Ok(()) => Ok(()),
        Err(eframe::Error::WinitEventLoop(_) | eframe::Error::Winit(_)) => bail!(NO_DISPLAY),
        Err(on_card) => match start(eframe::Renderer::Glow, files) {
            Ok(()) => Ok(()),
            Err(eframe::Error::WinitEventLoop(_) | eframe::Error::Winit(_)) => bail!(NO_DISPLAY),
            Err(in_software) => bail!(
                "the window cannot be drawn: OpenGL says '{in_software}', the graphics card '{on_card}'; on \
                 Debian the packages libegl1, libgl1 and libgl1-mesa-dri draw it without a card"
            ),
        },
    }
}

/// Winit's own words name a path of the machine it was built on; these name what to do.
const NO_DISPLAY: &str = "no display was found: start it from a desktop (X11 or Wayland, with DISPLAY or \
                          WAYLAND_DISPLAY set); 'spelk proof FILE' needs none";

fn options(renderer: eframe::Renderer) -> eframe::NativeOptions {
    let mut options = eframe::NativeOptions {
        renderer,
        viewport: egui::ViewportBuilder::default()
            .with_title(words::PROGRAM)
            .with_app_id("spelk")
            .with_inner_size([1280.0, 720.0])
            .with_min_inner_size([900.0, 560.0])
            .with_drag_and_drop(true),
        ..Default::default()
    };
    if let eframe::egui_wgpu::WgpuSetup::CreateNew(setup) = &mut options.wgpu_options.wgpu_setup {
        setup.native_adapter_selector = Some(Arc::new(|adapters, surface| {
            use eframe::wgpu::DeviceType;
            let rank = |kind| match kind {
                DeviceType::DiscreteGpu => Some(0),
                DeviceType::IntegratedGpu => Some(1),
                DeviceType::VirtualGpu => Some(2),
                // A card drawn in software is slower this way than by OpenGL.
                DeviceType::Cpu | DeviceType::Other => None,
            };
            adapters
                .iter()
                .filter(|adapter| surface.is_none_or(|surface| adapter.is_surface_supported(surface)))
                .filter_map(|adapter| Some((rank(adapter.get_info().device_type)?, adapter)))
                .min_by_key(|(rank, _)| *rank)
                .map(|(_, adapter)| adapter.clone())
                .ok_or_else(|| "no graphics card was found".to_owned())
        }));
    }
    options
}

/// What is seen, and what is being typed; nothing of it is saved with the job.
#[expect(
    clippy::struct_excessive_bools,
    reason = "each says whether one thing is open, and any of them may be"
)]
struct ViewState {
    unit: LengthUnit,
    theme: ThemePreference,
    /// `None` shows everything, and goes on doing so when the board changes.
    camera: Option<Camera>,
    /// Where the canvas was in the last frame.
    canvas: Rect,
    /// The id of the chosen finding; it outlives a change of size.
    chosen: Option<String>,
    /// When it was gone to, in the context's seconds.
    gone_to_at: f64,
    scroll_to_chosen: bool,
    drafts: Drafts,
    /// The far end of the size strip while it is held, so that it does not run away under the pointer.
    strip_end: Option<f64>,
    messages_open: bool,
    about_open: bool,
    cautions_open: bool,
    /// A path being typed, and what for.
    typed_path: Option<(Asked, String)>,
    why_open: bool,
    seasons: Seasons,
    /// The dialogs of the shop, where they are open.
    cutter_bench: Option<CutterBench>,
    wood_bench: Option<WoodBench>,
    coupon_bench: Option<CouponBench>,
    /// What is done at the board: its tools, and its windows.
    board: BoardView,
    /// A close was asked for while something is not saved.
    closing: bool,
}

/// What is remembered from one start to the next.
#[derive(serde::Serialize, serde::Deserialize, Default)]
#[serde(default)]
struct Habits {
    unit: LengthUnit,
    dark: Option<bool>,
}

const HABITS_KEY: &str = "spelk-habits";

/// A mended outline, and whether it or the one there is is being looked at.
struct Preview {
    mended: Mended,
    shows_after: bool,
}

/// A picture on the graphics card, and what it is a picture of.
struct Painted {
    view: View,
    board: TextureHandle,
    design: TextureHandle,
    board_from_design: DAffine2,
}

/// What a picture is painted from: a proof, with the changes of a mend or without.
#[derive(Clone)]
struct Sitter {
    proof: Arc<Proof>,
    hatched: bool,
    /// Whether a photograph of the board lies under the design.
    photographed: bool,
}

impl Sitter {
    fn is(&self, other: &Sitter) -> bool {
        Arc::ptr_eq(&self.proof, &other.proof)
            && self.hatched == other.hatched
            && self.photographed == other.photographed
    }
}

/// The job with the name of its last change. Two steps are the same when their jobs are.
#[derive(Clone)]
struct Step {
    job: Job,
    name: &'static str,
}

impl PartialEq for Step {
    fn eq(&self, other: &Step) -> bool {
        self.job == other.job
    }
}

/// The window.
pub struct App {
    /// `None` until the first file has been opened.
    now: Option<Step>,
    /// The last good proof and the job it is of.
    shown: Option<Proofed>,
    /// The job that is being proofed.
    asked: Option<Job>,
    /// A mended outline that is looked at before it is applied.
    preview: Option<Preview>,
    /// The last good picture, and what it was painted from.
    painted: Option<(Painted, Sitter)>,
    /// What is being painted.
    painting: Option<Sitter>,
    /// Widths measured before: an undone treatment need not be measured again.
    measured: Vec<(Arc<Design>, Vec<Treatment>, Arc<Measured>)>,
    history: Undoer<Step>,
    /// The job as it was last saved or opened.
    clean: Option<Job>,
    /// Where each design's job was saved or opened.
    saved_at: Vec<(Arc<Design>, PathBuf)>,
    view: ViewState,
    messages: Vec<Message>,
    /// What can be chosen from.
    shop: Shop,
    /// Where the shop's own things are kept; `None` where there is no such place.
    shop_folder: Option<PathBuf>,
    bench: Bench,
    dialogs: Box<dyn Dialogs>,
    commands: Vec<Command>,
    title: String,
}

impl App {
    /// The window's state at its start, with the first of `files` on its way, or else the first sample.
    /// The shop's own things are read from `shop_folder` and kept there.
    pub fn new(
        cc: &eframe::CreationContext,
        files: Vec<PathBuf>,
        dialogs: Box<dyn Dialogs>,
        shop_folder: Option<PathBuf>,
    ) -> App {
        let ctx = &cc.egui_ctx;
        look::dress(ctx);
        let habits: Habits =
            cc.storage.and_then(|storage| eframe::get_value(storage, HABITS_KEY)).unwrap_or_default();
        let theme = match habits.dark {
            None => ThemePreference::System,
            Some(true) => ThemePreference::Dark,
            Some(false) => ThemePreference::Light,
        };
        if habits.dark.is_some() {
            ctx.set_theme(theme);
        }
        let (shop, notices) =
            shop_folder.as_deref().map_or_else(|| (Shop::built_in(), Vec::new()), Shop::open);
        let mut app = App {
            now: None,
            shown: None,
            asked: None,
            preview: None,
            painted: None,
            painting: None,
            measured: Vec::new(),
            history: Undoer::default(),
            clean: None,
            saved_at: Vec::new(),
            view: ViewState {
                unit: habits.unit,
                theme,
                camera: None,
                canvas: Rect::ZERO,
                chosen: None,
                gone_to_at: f64::NEG_INFINITY,
                scroll_to_chosen: false,
                drafts: Drafts::default(),
                strip_end: None,
                messages_open: false,
                about_open: false,
                cautions_open: false,
                typed_path: None,
                why_open: false,
                seasons: Seasons::default(),
                cutter_bench: None,
                wood_bench: None,
                coupon_bench: None,
                board: BoardView::default(),
                closing: false,
            },
            messages: Vec::new(),
            shop,
            shop_folder,
            bench: Bench::new(ctx.clone()),
            dialogs,
            commands: Vec::new(),
            title: String::new(),
        };
        for notice in notices {
            let hint = if notice.hint.is_empty() { String::new() } else { format!(". {}", notice.hint) };
            app.warn(format!("{}{hint}", notice.message));
        }
        if files.len() > 1 {
            app.say(format!("{} was opened; one job at a time", files[0].display()));
        }
        let first = files.into_iter().next().map_or(Command::OpenSample(samples()[0].id), Command::Open);
        app.commands.push(first);
        app
    }

    /// The job as the user has set it; `None` until the first file has been opened.
    pub fn job(&self) -> Option<&Job> {
        self.now.as_ref().map(|now| &now.job)
    }

    /// The last good proof; it may be of an older job while the next is on its way.
    pub fn proof(&self) -> Option<&Proof> {
        self.shown.as_ref().map(|shown| &*shown.proof)
    }

    /// What was said, oldest first.
    pub fn messages(&self) -> &[Message] {
        &self.messages
    }

    /// Whether a file is being opened.
    pub fn is_opening(&self) -> bool {
        self.bench.busy(Lane::Opening)
    }

    /// Whether everything that was asked for has been worked out, painted and saved.
    pub fn is_idle(&self) -> bool {
        self.commands.is_empty()
            && worker::LANES.into_iter().all(|lane| !self.bench.busy(lane))
            && self.is_current()
            && self.painted.is_some()
    }

    /// The middle of the view on the board in millimetres and its scale in points a millimetre.
    pub fn looking_at(&self) -> Option<(glam::DVec2, f64)> {
        let camera = self.view.camera(self.seen()?);
        Some((camera.center, camera.scale))
    }

    /// The proof of a mended outline that is being looked at and not applied yet.
    pub fn previewed(&self) -> Option<&Proof> {
        self.preview.as_ref().map(|preview| &*preview.mended.after.proof)
    }

    /// What is on the board: the last good proof, or that of a mended outline which is looked at.
    fn seen(&self) -> Option<&Proofed> {
        self.preview
            .as_ref()
            .filter(|preview| preview.shows_after)
            .map(|preview| &preview.mended.after)
            .or(self.shown.as_ref())
    }

    /// Asks for something, as a menu or a key would.
    pub fn ask(&mut self, command: Command) {
        self.commands.push(command);
    }

    fn is_current(&self) -> bool {
        match (&self.now, &self.shown) {
            (Some(now), Some(shown)) => now.job == shown.job,
            _ => false,
        }
    }

    fn say(&mut self, text: impl Into<String>) {
        self.messages.push(Message { trouble: false, text: text.into() });
    }

    fn warn(&mut self, text: impl Into<String>) {
        self.messages.push(Message { trouble: true, text: text.into() });
    }
}

/// Commands.
impl App {
    fn handle(&mut self, ctx: &egui::Context, command: Command) {
        match command {
            Command::AskOpen => self.dialogs.ask(Asked::Open, "", ctx),
            Command::AskOpenPath => self.view.typed_path = Some((Asked::Open, String::new())),
            Command::Open(path) => self.open(Source::Path(path)),
            Command::OpenBytes { name, bytes } => self.open(Source::Bytes { name, bytes }),
            Command::OpenSample(id) => self.open_sample(id),
            Command::Save => match self.path() {
                Some(path) => self.save(path),
                None => self.ask_where_to_save(ctx),
            },
            Command::AskSave => self.ask_where_to_save(ctx),
            Command::SaveTo(path) => self.save(path),
            Command::Quit => ctx.send_viewport_cmd(ViewportCommand::Close),
            Command::Undo => self.undo_or_redo(ctx, |history, now| history.undo(now).cloned()),
            Command::Redo => self.undo_or_redo(ctx, |history, now| history.redo(now).cloned()),
            Command::UseUnit(unit) => {
                self.view.unit = unit;
                self.view.drafts.clear();
            }
            Command::UseTheme(theme) => {
                self.view.theme = theme;
                ctx.set_theme(theme);
            }
            Command::FitView => self.view.camera = None,
            Command::ZoomIn => self.zoom(1.5),
            Command::ZoomOut => self.zoom(1.0 / 1.5),
            Command::GoTo(id) => self.go_to(ctx, &id),
            Command::NextFinding => self.step_finding(ctx, 1),
            Command::PreviousFinding => self.step_finding(ctx, -1),
            Command::Set(setting) => self.set(setting),
            Command::CancelWork => self.cancel_work(),
            Command::ToggleMessages => self.view.messages_open ^= true,
            Command::ClearMessages => {
                self.messages.clear();
                self.view.messages_open = false;
            }
            Command::AskExportOutline => {
                if let Some(now) = &self.now {
                    let name = format!("{}-outline.svg", now.job.design.name);
                    self.dialogs.ask(Asked::Outline, &name, ctx);
                }
            }
            Command::ExportOutline(path) => self.export_outline(path),
            Command::Mend(what) => self.mend(what),
            Command::ShowMended(after) => {
                if let Some(preview) = &mut self.preview {
                    preview.shows_after = after;
                }
            }
            Command::ApplyMended => self.apply_mended(),
            Command::DropMended => self.preview = None,
            Command::ToggleWhy => self.view.why_open ^= true,
            Command::ToggleSeasons => self.view.seasons.open ^= true,
            Command::ToggleCutters => {
                let bench =
                    self.now.as_ref().map(|now| CutterBench::showing(&now.job.cutter, self.view.unit));
                self.view.cutter_bench = if self.view.cutter_bench.is_some() { None } else { bench };
            }
            Command::KeepCutter(cutter) => self.keep_cutter(*cutter),
            Command::RemoveCutter(id) => {
                self.change_shop(|folder| Shop::remove_cutter(folder, &id).map(drop), "Removed the cutter");
            }
            Command::ToggleWoods => {
                let open = self.view.wood_bench.is_some();
                self.view.wood_bench = (!open).then(WoodBench::default);
            }
            Command::KeepWood(wood) => {
                self.change_shop(|folder| Shop::keep_wood(folder, &wood), &format!("Kept {}", wood.name));
            }
            Command::RemoveWood(id) => {
                self.change_shop(|folder| Shop::remove_wood(folder, &id).map(drop), "Removed the wood");
            }
            Command::ToggleCoupon => {
                let bench = self.now.as_ref().map(|now| CouponBench::of(&now.job));
                self.view.coupon_bench = if self.view.coupon_bench.is_some() { None } else { bench };
            }
            Command::AskExportCoupon => self.dialogs.ask(Asked::CouponOutline, "coupon.svg", ctx),
            Command::AskExportCouponKey => self.dialogs.ask(Asked::CouponKey, "coupon-key.svg", ctx),
            Command::ExportCoupon(path) => {
                self.export_coupon(path, |coupon| outline_svg(&coupon.design, 1.0));
            }
            Command::ExportCouponKey(path) => self.export_coupon(path, key_svg),
            Command::Calibrate { along, across } => self.calibrate(along, across),
            Command::Board(command) => self.handle_board(ctx, command),
            Command::ToggleAbout => self.view.about_open ^= true,
            Command::ToggleCautions => self.view.cautions_open ^= true,
        }
    }

    fn open(&mut self, source: Source) {
        let current = self.now.as_ref().map(|now| now.job.clone());
        self.bench.open(source, current);
    }

    fn open_sample(&mut self, id: &str) {
        if let Some(sample) = samples().iter().find(|sample| sample.id == id) {
            self.open(Source::Sample(sample));
        }
    }

    /// Where this design's job was saved or opened.
    fn path(&self) -> Option<PathBuf> {
        let design = &self.now.as_ref()?.job.design;
        let saved = self.saved_at.iter().rev().find(|(of, _)| Arc::ptr_eq(of, design));
        saved.map(|(_, path)| path.clone())
    }

    fn ask_where_to_save(&mut self, ctx: &egui::Context) {
        if let Some(now) = &self.now {
            let name = format!("{}.spelk", now.job.design.name);
            self.dialogs.ask(Asked::Save, &name, ctx);
        }
    }

    fn save(&mut self, path: PathBuf) {
        if let Some(now) = &self.now {
            let path = if path.extension().is_some() { path } else { path.with_extension("spelk") };
            self.bench.save(now.job.clone(), path);
        }
    }

    fn export_outline(&mut self, path: PathBuf) {
        if let Some(now) = &self.now {
            let job = now.job.clone();
            self.bench.write(as_svg(path), move || outline_svg(&job.design, crate::proof::fit::factor(&job)));
        }
    }

    fn export_coupon(&mut self, path: PathBuf, drawing: fn(&crate::sheet::coupon::Coupon) -> String) {
        if let Some(bench) = &self.view.coupon_bench {
            let coupon = bench.coupon.clone();
            self.bench.write(as_svg(path), move || drawing(&coupon));
        }
    }

    /// Mends the outline as it is shown; a change that is still being proofed comes first.
    fn mend(&mut self, what: Mend) {
        self.preview = None;
        if let Some(shown) = self.shown.as_ref().filter(|_| self.is_current()) {
            self.bench.mend(shown.clone(), what);
        }
    }

    fn apply_mended(&mut self) {
        let (Some(preview), Some(now)) = (self.preview.take(), &mut self.now) else { return };
        if now.job != preview.mended.before {
            return;
        }
        let after = preview.mended.after;
        // It is still the same drawing: it is saved where it was saved before.
        let saved = self.saved_at.iter().rev().find(|(of, _)| Arc::ptr_eq(of, &now.job.design));
        if let Some((_, path)) = saved.cloned() {
            self.saved_at.push((after.job.design.clone(), path));
        }
        self.history.add_undo(now);
        *now = Step { job: after.job.clone(), name: "mending" };
        self.history.add_undo(now);
        self.bench.cancel(Lane::Proofing);
        self.asked = None;
        self.say(format!("{} Undo takes it back", preview.mended.words));
        self.take_proofed(after);
    }

    /// Changes the shop's own things on disk, and takes in what is there then. A few kilobytes: they are
    /// written at once, so that two changes cannot pass each other.
    fn change_shop(&mut self, change: impl FnOnce(&Path) -> Result<(), KeepError>, done: &str) -> bool {
        let Some(folder) = &self.shop_folder else {
            self.warn(words::NO_SHOP_FOLDER);
            return false;
        };
        match change(folder) {
            Ok(()) => {
                self.shop = Shop::open(folder).0;
                self.say(done);
                true
            }
            Err(error) => {
                self.warn(error.to_string());
                false
            }
        }
    }

    /// Keeps a cutter; a job that uses it takes the change.
    fn keep_cutter(&mut self, cutter: Cutter) {
        let kept =
            self.change_shop(|folder| Shop::keep_cutter(folder, &cutter), &format!("Kept {}", cutter.name));
        if kept && self.now.as_ref().is_some_and(|now| now.job.cutter.id == cutter.id) {
            self.set(Setting::ChangedCutter(Box::new(cutter)));
        }
    }

    fn calibrate(&mut self, along: Mm, across: Mm) {
        let Some(now) = &self.now else { return };
        let cutter = calibrated(&now.job.cutter, along, across, now.job.depth, &now.job.wood);
        let done = format!("The limit of {} is now from the shop's own test piece", cutter.name);
        self.change_shop(|folder| Shop::keep_cutter(folder, &cutter), &done);
        // Where it could not be kept the job has it all the same; what is wrong was said.
        self.set(Setting::Limit(Box::new(cutter)));
        self.view.coupon_bench = None;
    }

    fn undo_or_redo(
        &mut self,
        ctx: &egui::Context,
        step: impl FnOnce(&mut Undoer<Step>, &Step) -> Option<Step>,
    ) {
        let Some(now) = &self.now else { return };
        // What is still in flux becomes a step of its own first.
        self.history.feed_state(ctx.input(|input| input.time), now);
        if let Some(step) = step(&mut self.history, now) {
            self.now = Some(step);
            self.view.drafts.clear();
        }
    }

    fn zoom(&mut self, factor: f64) {
        if let Some(seen) = self.seen() {
            let canvas = self.view.canvas;
            self.view.camera = Some(self.view.camera(seen).zoomed(factor, canvas.center(), canvas));
        }
    }

    fn go_to(&mut self, ctx: &egui::Context, id: &str) {
        let Some(seen) = self.seen() else { return };
        let Some(finding) = seen.finding(id) else { return };
        // What concerns the whole board is seen best on the whole board.
        self.view.camera = seen
            .span_on_board(finding)
            .map(|span| Camera::looking_at(finding.at, span, self.view.canvas.size()));
        self.view.chosen = Some(id.to_owned());
        self.view.gone_to_at = ctx.input(|input| input.time);
        self.view.scroll_to_chosen = true;
    }

    fn step_finding(&mut self, ctx: &egui::Context, by: isize) {
        let Some(seen) = self.seen() else { return };
        let findings = &seen.proof.findings;
        let Some(last) = findings.len().checked_sub(1) else { return };
        let at = self.view.chosen.as_ref().and_then(|id| findings.iter().position(|f| f.id == *id));
        let next = match (at, by > 0) {
            (None, _) => 0,
            (Some(at), true) => (at + 1).min(last),
            (Some(at), false) => at.saturating_sub(1),
        };
        let id = findings[next].id.clone();
        self.go_to(ctx, &id);
    }

    /// One change of the job. The change that a drag is made of is one step, told by its calm end.
    fn set(&mut self, setting: Setting) {
        let Some(now) = &mut self.now else { return };
        let before = now.clone();
        let name = setting.name();
        let dragged = matches!(setting, Setting::Size(_));
        let job = &mut now.job;
        match setting {
            Setting::Treatment { element, treatment } => {
                if let Some(slot) = job.treatments.get_mut(element) {
                    *slot = treatment;
                }
            }
            Setting::EveryTreatment(treatment) => job.treatments.fill(treatment),
            Setting::BoardLength(length) => job.board.length = length,
            Setting::BoardWidth(width) => job.board.width = width,
            Setting::BoardThickness(thickness) => job.board.thickness = thickness,
            Setting::Wood(id) => {
                if let Some(wood) = self.shop.woods.iter().find(|wood| wood.id == id) {
                    job.board.wood.clone_from(&wood.id);
                    job.wood = wood.clone();
                }
            }
            Setting::Cutter(id) => {
                if let Some(cutter) = self.shop.cutter(&id) {
                    job.cutter = cutter.clone();
                }
            }
            Setting::ChangedCutter(cutter) | Setting::Limit(cutter) => job.cutter = *cutter,
            Setting::Machine(id) => {
                if let Some(machine) = self.shop.machine(&id) {
                    job.machine = machine.clone();
                }
            }
            Setting::Depth(depth) => job.depth = depth,
            Setting::Ends(ends) => job.ends = ends,
            Setting::Size(size) => job.size = size,
            Setting::Frame(frame) => job.frame = frame,
            Setting::Placement(at) => job.at = at,
        }
        if now.job != before.job {
            now.name = name;
            if !dragged {
                self.history.add_undo(&before);
                self.history.add_undo(now);
            }
        }
    }

    fn cancel_work(&mut self) {
        if self.bench.busy(Lane::Opening) {
            self.bench.cancel(Lane::Opening);
            self.say("Opening was cancelled; the job is as it was");
            self.start_with_something();
        } else if self.bench.busy(Lane::Mending) {
            self.bench.cancel(Lane::Mending);
            self.say("Mending was cancelled; the job is as it was");
        } else if let Some(lane) =
            [Lane::Placing, Lane::Photographing].into_iter().find(|lane| self.bench.busy(*lane))
        {
            self.bench.cancel(lane);
            self.say("It was cancelled; the job is as it was");
        } else if self.bench.busy(Lane::Proofing) {
            self.bench.cancel(Lane::Proofing);
            self.asked = None;
            if let (Some(now), Some(shown)) = (&mut self.now, &self.shown) {
                now.job = shown.job.clone();
                self.history.add_undo(now);
            }
            self.say("The change was cancelled; the job is as it was");
        }
    }

    /// A first file that could not be opened leaves the first sample in the window.
    fn start_with_something(&mut self) {
        if self.now.is_none() && !self.bench.busy(Lane::Opening) {
            self.open_sample(samples()[0].id);
        }
    }
}

/// Work in flight.
impl App {
    /// Takes in what the worker threads brought. The only place that does.
    fn collect(&mut self, ctx: &egui::Context) {
        for done in self.bench.collect() {
            match done {
                Done::Opened(proofed, path) => self.take_opened(*proofed, path),
                Done::NotOpened(message) => {
                    self.warn(message);
                    self.start_with_something();
                }
                Done::Proofed(proofed) => {
                    self.asked = None;
                    self.take_proofed(*proofed);
                }
                Done::Painted(layers) => {
                    if let Some(sitter) = self.painting.take() {
                        self.painted = Some((canvas::upload(ctx, *layers), sitter));
                    }
                }
                Done::Saved(job, path) => {
                    self.say(format!("Saved {}", path.display()));
                    self.saved_at.retain(|(of, _)| !Arc::ptr_eq(of, &job.design));
                    self.saved_at.push((job.design.clone(), path));
                    self.clean = Some(*job);
                }
                Done::Written(path) => self.say(format!("Wrote {}", path.display())),
                Done::NotSaved(message) => self.warn(message),
                Done::Mended(mended) => {
                    // Nothing is shown that no longer belongs to the job.
                    if self.now.as_ref().is_some_and(|now| now.job == mended.before) {
                        self.preview = Some(Preview { mended: *mended, shows_after: true });
                    }
                }
                Done::Board(done) => self.take_board_done(ctx, done),
                Done::Broke(lane, message) => self.take_broken(lane, message),
            }
        }
    }

    fn take_opened(&mut self, proofed: Proofed, path: Option<PathBuf>) {
        if let Some(before) = &self.now {
            self.history.add_undo(before);
        }
        let now = Step { job: proofed.job.clone(), name: "open" };
        self.history.add_undo(&now);
        let name = &now.job.design.name;
        let elements = words::count(now.job.design.elements.len(), "element", "elements");
        let left_out = match now.job.design.notices.len() {
            0 => String::new(),
            number => format!("; {} on its card", words::count(number, "notice", "notices")),
        };
        let lesson = samples().iter().find(|sample| sample.title == name).map(|sample| sample.lesson);
        let lesson = lesson.map_or_else(String::new, |lesson| format!(". {lesson}"));
        let text = format!("Opened {name}: {elements}{left_out}{lesson}");
        self.say(text);
        if let Some(path) = path {
            self.saved_at.push((now.job.design.clone(), path));
        }
        self.bench.cancel(Lane::Proofing);
        self.asked = None;
        self.clean = Some(now.job.clone());
        self.now = Some(now);
        self.painted = None;
        self.view.camera = None;
        self.view.chosen = None;
        self.view.drafts.clear();
        self.take_proofed(proofed);
    }

    fn take_proofed(&mut self, proofed: Proofed) {
        const REMEMBERED: usize = 4;
        let known = (&proofed.job.design, &proofed.job.treatments);
        if self.measured_before(&proofed.job).is_none() {
            self.measured.truncate(REMEMBERED - 1);
            self.measured.insert(0, (known.0.clone(), known.1.clone(), proofed.measured.clone()));
        }
        self.shown = Some(proofed);
    }

    fn take_broken(&mut self, lane: Lane, message: String) {
        self.warn(message);
        match lane {
            Lane::Opening => self.start_with_something(),
            Lane::Proofing => {
                self.asked = None;
                if let (Some(now), Some(shown)) = (&mut self.now, &self.shown) {
                    now.job = shown.job.clone();
                }
            }
            // The last good picture stays; another is tried when something changes.
            Lane::Painting
            | Lane::Saving
            | Lane::Mending
            | Lane::Placing
            | Lane::Racking
            | Lane::Photographing => {}
        }
    }

    fn measured_before(&self, job: &Job) -> Option<Arc<Measured>> {
        self.measured
            .iter()
            .find(|(design, treatments, _)| Arc::ptr_eq(design, &job.design) && *treatments == job.treatments)
            .map(|(.., measured)| measured.clone())
    }

    /// Starts what the job, the proof or the view now needs.
    fn keep_up(&mut self, ctx: &egui::Context) {
        let Some(now) = &self.now else { return };
        if !self.is_current() {
            // A run whose slow part is still good is left to finish; its size is caught up with after.
            let on_its_way = self.asked.as_ref().is_some_and(|asked| same_but_for_size(asked, &now.job));
            if !on_its_way {
                let ratings = self
                    .shown
                    .as_ref()
                    .filter(|shown| same_but_for_size(&shown.job, &now.job))
                    .map(|shown| shown.ratings.clone());
                let paths = self
                    .shown
                    .as_ref()
                    .filter(|shown| Arc::ptr_eq(&shown.job.design, &now.job.design))
                    .map(|shown| shown.paths.clone());
                let known = Known { measured: self.measured_before(&now.job), ratings, paths };
                self.asked = Some(now.job.clone());
                self.bench.proof(now.job.clone(), known);
            }
        }
        if self.preview.as_ref().is_some_and(|preview| preview.mended.before != now.job) {
            self.preview = None;
        }
        if let Some(seen) = self.seen()
            && self.painting.is_none()
            && let Some(view) = canvas::wanted_view(ctx, seen, &self.view)
        {
            let hatched = self
                .preview
                .as_ref()
                .filter(|preview| preview.shows_after)
                .map(|preview| preview.mended.hatched.clone());
            let photo = self.view.board.photo.of(&seen.job.board);
            let sitter = Sitter {
                proof: seen.proof.clone(),
                hatched: hatched.is_some(),
                photographed: photo.is_some(),
            };
            let is_good =
                self.painted.as_ref().is_some_and(|(painted, of)| painted.view == view && of.is(&sitter));
            if !is_good {
                let seen = seen.clone();
                self.painting = Some(sitter);
                self.bench.paint(seen, view, hatched, photo);
            }
        }
    }

    /// What the bottom bar says is being done: soon for a file, later for what is mostly over at once.
    fn work_in_words(&self) -> Option<String> {
        const SHORT: Duration = Duration::from_millis(300);
        if let Some((words, _)) = self.bench.doing(Lane::Opening).or_else(|| self.bench.doing(Lane::Saving)) {
            return Some(words);
        }
        let slow = [Lane::Mending, Lane::Placing, Lane::Photographing, Lane::Proofing];
        let doing = slow.into_iter().find_map(|lane| self.bench.doing(lane));
        doing.filter(|(_, since)| *since > SHORT).map(|(words, _)| words)
    }

    fn take_dropped(&mut self, ctx: &egui::Context) {
        let dropped = ctx.input(|input| input.raw.dropped_files.clone());
        let Some(file) = dropped.first() else { return };
        if dropped.len() > 1 {
            self.say("Several files were dropped; the first is opened");
        }
        let path = file.path().to_owned();
        if path.exists() {
            self.commands.push(Command::Open(path));
            return;
        }
        match file.bytes() {
            Ok(bytes) => self.commands.push(Command::OpenBytes { name: path.display().to_string(), bytes }),
            Err(error) => self.warn(format!("{} cannot be read: {error}", path.display())),
        }
    }

    fn take_answer(&mut self) {
        match self.dialogs.poll() {
            None | Some(Answer::Nothing) => {}
            Some(Answer::Path(Asked::Open, path)) => self.commands.push(Command::Open(path)),
            Some(Answer::Path(Asked::Save, path)) => self.commands.push(Command::SaveTo(path)),
            Some(Answer::Path(Asked::Outline, path)) => self.commands.push(Command::ExportOutline(path)),
            Some(Answer::Path(Asked::CouponOutline, path)) => self.commands.push(Command::ExportCoupon(path)),
            Some(Answer::Path(Asked::CouponKey, path)) => self.commands.push(Command::ExportCouponKey(path)),
            Some(Answer::Path(Asked::Carrier, path)) => {
                self.commands.push(BoardCommand::ExportCarrier(path).into());
            }
            Some(Answer::Path(Asked::Photo, path)) => {
                self.commands.push(BoardCommand::OpenPhoto(path).into());
            }
            Some(Answer::NoDialog(asked)) => {
                self.warn(words::NO_DIALOG);
                let suggested = match (asked, &self.now) {
                    (Asked::Save, Some(now)) => format!("{}.spelk", now.job.design.name),
                    (Asked::Outline, Some(now)) => format!("{}-outline.svg", now.job.design.name),
                    (Asked::CouponOutline, _) => "coupon.svg".to_owned(),
                    (Asked::CouponKey, _) => "coupon-key.svg".to_owned(),
                    (Asked::Carrier, _) => "carrier.svg".to_owned(),
                    _ => String::new(),
                };
                self.view.typed_path = Some((asked, suggested));
            }
        }
    }

    fn is_dirty(&self) -> bool {
        match (&self.now, &self.clean) {
            (Some(now), Some(clean)) => now.job != *clean,
            _ => false,
        }
    }

    fn keep_title(&mut self, ctx: &egui::Context) {
        let Some(now) = &self.now else { return };
        let star = if self.is_dirty() { " *" } else { "" };
        let title = format!("{}{star} - {}", now.job.design.name, words::PROGRAM);
        if title != self.title {
            ctx.send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.title = title;
        }
    }

    fn keep_history(&mut self, ctx: &egui::Context) {
        if let Some(now) = &self.now {
            self.history.feed_state(ctx.input(|input| input.time), now);
            if self.history.is_in_flux() {
                ctx.request_repaint_after_secs(1.1);
            }
        }
    }
}

/// The path of a drawing, with its ending where none was given.
fn as_svg(path: PathBuf) -> PathBuf {
    if path.extension().is_some() { path } else { path.with_extension("svg") }
}

/// Whether two jobs differ in nothing but size, ends and place: what a rating does not depend on.
fn same_but_for_size(a: &Job, b: &Job) -> bool {
    let levelled = Job { size: b.size, ends: b.ends, frame: b.frame, at: b.at, ..a.clone() };
    levelled == *b
}

impl Proofed {
    /// The finding of this id.
    fn finding(&self, id: &str) -> Option<&Finding> {
        self.proof.findings.iter().find(|finding| finding.id == id)
    }

    /// A box of the design on the board.
    fn on_board(&self, what: crate::geometry::Rect) -> crate::geometry::Rect {
        let corners = what.corners().map(|corner| self.proof.board_from_design.transform_point2(corner));
        crate::geometry::Rect::around(corners).unwrap_or(what)
    }

    /// How many millimetres of board a finding is best seen in; `None` for the whole board.
    fn span_on_board(&self, finding: &Finding) -> Option<f64> {
        let ends = finding.axis.iter().flatten().map(|point| point.at);
        let size = self.on_board(crate::geometry::Rect::around(ends)?).size();
        Some((1.6 * size.max_element()).max(10.0 * finding.limit.get()).max(5.0))
    }
}

impl eframe::App for App {
    fn logic(&mut self, ctx: &egui::Context, _: &mut eframe::Frame) {
        self.collect(ctx);
        self.take_dropped(ctx);
        self.take_answer();
        for command in std::mem::take(&mut self.commands) {
            self.handle(ctx, command);
        }
        self.keep_up(ctx);
        self.keep_board_up();
        self.keep_history(ctx);
        self.keep_title(ctx);
        let is_at_it = self.bench.busy(Lane::Proofing) || self.bench.busy(Lane::Mending);
        if self.work_in_words().is_none() && is_at_it {
            // Come back to say so if it turns out to take long.
            ctx.request_repaint_after(Duration::from_millis(350));
        }
        if ctx.input(|input| input.viewport().close_requested()) && self.is_dirty() && !self.view.closing {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
            self.view.closing = true;
        }
    }

    fn ui(&mut self, ui: &mut egui::Ui, _: &mut eframe::Frame) {
        let mut commands = Vec::new();
        self.take_shortcuts(ui.ctx(), &mut commands);
        self.panels_ui(ui, &mut commands);
        menu::help_windows_ui(ui.ctx(), &mut self.view);
        self.shop_windows_ui(ui.ctx(), &mut commands);
        path_field::path_field_ui(ui.ctx(), &mut self.view, &mut commands);
        self.closing_ui(ui.ctx(), &mut commands);
        if !commands.is_empty() {
            self.commands.append(&mut commands);
            ui.ctx().request_repaint();
        }
    }

    fn save(&mut self, storage: &mut dyn eframe::Storage) {
        let dark = match self.view.theme {
            ThemePreference::System => None,
            theme => Some(theme == ThemePreference::Dark),
        };
        eframe::set_value(storage, HABITS_KEY, &Habits { unit: self.view.unit, dark });
    }
}

/// Panels.
impl App {
    #[expect(clippy::unused_self, reason = "a panel like the others, though keys need nothing of the state")]
    fn take_shortcuts(&self, ctx: &egui::Context, commands: &mut Vec<Command>) {
        let typing = ctx.text_edit_focused();
        for command in Command::with_shortcuts() {
            let Some(shortcut) = command.shortcut() else { continue };
            // A bare letter belongs to the field that is being typed in.
            let is_bare = !shortcut.modifiers.command;
            if !(typing && is_bare) && ctx.input_mut(|input| input.consume_shortcut(&shortcut)) {
                commands.push(command);
            }
        }
    }

    fn panels_ui(&mut self, ui: &mut egui::Ui, commands: &mut Vec<Command>) {
        let current = self.is_current();
        let work = self.work_in_words();
        let Self { now, shown, preview, painted, shop, history, view, messages, .. } = self;
        let undo = now.as_ref().filter(|now| history.has_undo(now)).map(|now| now.name);
        let redo = now.as_ref().is_some_and(|now| history.has_redo(now));
        let history = menu::History { undo, redo };
        egui::Panel::top("menu").show(ui, |ui| menu::menu_ui(ui, &history, now.is_some(), view, commands));
        let (Some(now), Some(shown)) = (now, shown) else {
            egui::Panel::bottom("messages")
                .show(ui, |ui| messages::messages_ui(ui, work.as_deref(), messages, view, commands));
            egui::CentralPanel::default().show(ui, |ui| {
                ui.centered_and_justified(|ui| ui.label("Opening…"));
            });
            return;
        };
        // What is looked at: the job's proof, or that of its mended outline.
        let after = preview.as_ref().filter(|preview| preview.shows_after);
        let shown = after.map_or(&*shown, |preview| &preview.mended.after);
        let padded = |ui: &egui::Ui, x, y| {
            egui::Frame::new().fill(ui.visuals().panel_fill).inner_margin(egui::Margin::symmetric(x, y))
        };
        let frame = padded(ui, 12, 8);
        egui::Panel::top("verdict")
            .frame(frame)
            .show_separator_line(false)
            .show(ui, |ui| verdict::verdict_ui(ui, shown, current, view));
        egui::Panel::bottom("messages")
            .show(ui, |ui| messages::messages_ui(ui, work.as_deref(), messages, view, commands));
        let frame = padded(ui, 8, 8);
        egui::Panel::left("job")
            .frame(padded(ui, 8, 4))
            .resizable(true)
            .default_size(290.0)
            .min_size(230.0)
            .max_size(420.0)
            .show(ui, |ui| cards::cards_ui(ui, &now.job, shown, shop, view, commands));
        egui::Panel::right("findings")
            .frame(frame)
            .resizable(true)
            .default_size(280.0)
            .min_size(200.0)
            .max_size(460.0)
            .show(ui, |ui| findings::findings_ui(ui, shown, view, commands));
        egui::Panel::bottom("size")
            .frame(padded(ui, 8, 5))
            .resizable(true)
            .default_size(178.0)
            .min_size(120.0)
            .max_size(360.0)
            .show(ui, |ui| size_strip::size_strip_ui(ui, shown, view, commands));
        if let Some(preview) = &*preview {
            egui::Panel::top("mending").frame(padded(ui, 10, 6)).show(ui, |ui| {
                mending::mending_ui(ui, &preview.mended, preview.shows_after, commands);
            });
        }
        egui::CentralPanel::no_frame().show(ui, |ui| {
            let painted = painted.as_ref().map(|(painted, _)| painted);
            canvas::canvas_ui(ui, shown, painted, current, view, commands);
        });
    }

    /// The dialogs of the shop, and the windows that explain.
    fn shop_windows_ui(&mut self, ctx: &egui::Context, commands: &mut Vec<Command>) {
        let Self { now: Some(now), shown: Some(shown), shop, view, .. } = self else { return };
        why::why_ui(ctx, shown, view);
        seasons::seasons_ui(ctx, shown, view);
        cutters::cutters_ui(ctx, shop, &now.job.cutter, view, commands);
        woods::woods_ui(ctx, shop, view, commands);
        coupon::coupon_ui(ctx, view, commands);
        blemishes::blemishes_ui(ctx, &now.job, view, commands);
        bench_list::bench_list_ui(ctx, &now.job, shown, view, commands);
        fit_window::fit_ui(ctx, &now.job, shown, view, commands);
        rack::rack_ui(ctx, &now.job, shop, view, commands);
        photo::photo_ui(ctx, &now.job, view, commands);
        machines::machines_ui(ctx, shop, &now.job.machine, view, commands);
        machines::measuring_ui(ctx, view);
    }

    /// Asks before changes are lost.
    fn closing_ui(&mut self, ctx: &egui::Context, commands: &mut Vec<Command>) {
        if !self.view.closing {
            return;
        }
        let modal = egui::Modal::new(egui::Id::unique("closing")).show(ctx, |ui| {
            ui.set_max_width(340.0);
            ui.heading("Save the job before closing?");
            ui.label("It was changed since it was opened or saved");
            ui.add_space(6.0);
            ui.horizontal(|ui| {
                if ui.button("Save job").clicked() {
                    commands.push(Command::Save);
                    ui.close();
                }
                if ui.button("Close without saving").clicked() {
                    self.clean = self.now.as_ref().map(|now| now.job.clone());
                    ctx.send_viewport_cmd(ViewportCommand::Close);
                    ui.close();
                }
                if ui.button("Stay").clicked() {
                    ui.close();
                }
            });
        });
        if modal.should_close() {
            // What lies under a dialog takes clicks again only two frames later: let them not wait for a hand.
            ctx.request_repaint();
            self.view.closing = false;
        }
    }
}
