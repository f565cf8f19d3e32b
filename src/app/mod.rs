//! The window: the only place that knows egui.
//!
//! [`App`] owns the shelf of open jobs, what is seen of them, and the work in flight. Panels read the shown
//! job and its last proof and emit [`Command`]s; `App::handle` alone changes things. Nothing is worked out in a frame:
//! opening, proofing and painting run on threads from snapshots, and `App::logic` collects what they
//! bring. Until the next proof arrives the last good one stays up.

mod board;
mod commands;
mod compare;
mod console;
mod documents;
mod done;
mod elements;
mod findings;
mod folder;
mod guide;
mod handle;
mod lesson;
mod messages;
mod preferences;
mod record;
mod relief;
mod shell;
mod shop;
mod sizes;
mod tracing;
mod views;
mod widgets;
mod work;

use crate::advice::Offer;
pub use crate::app::commands::arrange::Arrange;
pub use crate::app::commands::board::{BoardCommand, PiecesQuestion, Tool};
pub use crate::app::commands::command::Command;
pub use crate::app::commands::element::{Choice, ElementCommand};
pub use crate::app::commands::export::Export;
pub use crate::app::commands::middle::Middle;
pub use crate::app::documents::dialogs::{Answer, Asked, DesktopDialogs, FileDialogs, ScriptedDialogs};
pub use crate::app::messages::Message;

use crate::app::board::view::BoardView;
use crate::app::documents::document::Document;
use crate::app::documents::shelf::Shelf;
use crate::app::done::Done;
use crate::app::elements::view::ElementsView;
use crate::app::findings::view::FindingsView;
use crate::app::guide::GuideView;
use crate::app::messages::Messages;
use crate::app::preferences::Preferences;
use crate::app::record::view::RecordView;
use crate::app::sizes::SizesView;
use crate::app::tracing::TracingView;
use crate::app::views::Dialogs;
use crate::app::views::Views;
use crate::app::widgets::length_field::Drafts;
use crate::app::work::proofed::Proofed;
use crate::app::work::{Lane, Workers};
use crate::design::samples::samples;
use crate::fault;
use crate::job::{Job, recovery};
use crate::locale::{usual_money, usual_unit};
use crate::proof::Proof;
use crate::shop::{Money, Shop};
use crate::units::LengthUnit;
use crate::words;
use crate::words::command_line;
use anyhow::bail;
use std::panic::{self, AssertUnwindSafe};
use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

/// Opens the window, with the first of `files` in it or else the first sample. Returns when it is
/// closed.
///
/// The window is drawn by the graphics card where there is one, else by OpenGL, which a machine without
/// a card does in software.
///
/// On Windows it returns at once, and the window has a process of its own.
///
/// # Errors
/// Where there is no display, or neither the card nor OpenGL draws; the error says what is missing. Also where the
/// window stopped because of a fault.
pub fn run(files: Vec<PathBuf>) -> anyhow::Result<()> {
    if console::left_behind() {
        return Ok(());
    }
    // What a fault leaves half done is not looked at again.
    let ended = panic::catch_unwind(AssertUnwindSafe(|| open_window(files))).unwrap_or_else(|_| {
        let report = fault::reported().map(|report| report.display().to_string());
        bail!(words::fault::window_stopped(report.as_deref()))
    });
    if let Err(why) = &ended {
        console::show(&format!("{why:#}"));
    }
    ended
}

fn open_window(files: Vec<PathBuf>) -> anyhow::Result<()> {
    let start = |renderer, files: Vec<PathBuf>| {
        eframe::run_native(
            "spelk",
            options(renderer),
            Box::new(move |cc| {
                let dialogs = Box::new(DesktopDialogs::default());
                let mut app = App::new(cc, files, dialogs, crate::shop::config_folder());
                app = app.with_usual_money(usual_money()).with_usual_unit(usual_unit()).with_today(today());
                if let Some(folder) = recovery::usual_folder() {
                    app = app.keeping_in(&folder);
                }
                Ok(Box::new(app))
            }),
        )
    };
    match start(eframe::Renderer::Wgpu, files.clone()) {
        Ok(()) => Ok(()),
        Err(eframe::Error::WinitEventLoop(_) | eframe::Error::Winit(_)) => bail!(command_line::NO_DISPLAY),
        Err(on_card) => match start(eframe::Renderer::Glow, files) {
            Ok(()) => Ok(()),
            Err(eframe::Error::WinitEventLoop(_) | eframe::Error::Winit(_)) => {
                bail!(command_line::NO_DISPLAY)
            }
            Err(in_software) => bail!(command_line::cannot_draw(&on_card, &in_software)),
        },
    }
}

fn options(renderer: eframe::Renderer) -> eframe::NativeOptions {
    let mut options = eframe::NativeOptions {
        renderer,
        viewport: egui::ViewportBuilder::default()
            .with_title(crate::words::window::SPELK)
            .with_app_id("spelk")
            // With a title and a panel of the desktop it goes on a screen of 1280 by 720.
            .with_inner_size([1240.0, 640.0])
            .with_min_inner_size([900.0, 560.0])
            .with_icon(icon())
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

/// Today in UTC, year first: the one order that nobody reads for another.
fn today() -> String {
    let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).unwrap_or_default();
    date_of(since.as_secs() / 86_400)
}

/// The date so many days after 1 January 1970, by counting them off.
fn date_of(mut days: u64) -> String {
    let is_leap =
        |year: u64| year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let mut year = 1970;
    while days >= 365 + u64::from(is_leap(year)) {
        days -= 365 + u64::from(is_leap(year));
        year += 1;
    }
    let months = [31, 28 + u64::from(is_leap(year)), 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    let mut month = 0;
    while days >= months[month] {
        days -= months[month];
        month += 1;
    }
    format!("{year}-{:02}-{:02}", month + 1, days + 1)
}

/// Our own icon, drawn in `packaging/spelk.svg`.
fn icon() -> egui::IconData {
    let png = include_bytes!("../../packaging/icons/spelk-128.png");
    eframe::icon_data::from_png_bytes(png).unwrap_or_default()
}

/// The window.
pub struct App {
    /// The open jobs.
    shelf: Shelf,
    preferences: Preferences,
    views: Views,
    dialogs: Dialogs,
    messages: Messages,
    /// What can be chosen from.
    shop: Shop,
    /// Where the shop's own things are kept; `None` where there is no such place.
    shop_folder: Option<PathBuf>,
    /// How money is written until the shop's prices say it.
    usual_money: Money,
    workers: Workers<Done>,
    /// Asks which file to open or to write.
    file_dialogs: Box<dyn FileDialogs>,
    commands: Vec<Command>,
    title: String,
}

impl App {
    /// Money is written so until the shop's own prices say how.
    #[must_use]
    pub fn with_usual_money(mut self, usual: Money) -> App {
        match &self.shop_folder {
            None => self.shop.prices.money.clone_from(&usual),
            Some(folder) => self.shop = Shop::open(folder, &usual).0,
        }
        self.usual_money = usual;
        self
    }

    /// The date that an offer starts with; it can be changed there.
    #[must_use]
    pub fn with_today(mut self, today: String) -> App {
        self.preferences.papers.offer.date = today;
        self
    }

    /// Lengths are shown in this unit until the user chooses one; that of an earlier start stays.
    #[must_use]
    pub fn with_usual_unit(mut self, usual: LengthUnit) -> App {
        if self.preferences.is_first_start {
            self.preferences.unit = usual;
        }
        self
    }

    /// The window's state at its start, with the first of `files` on its way, or else the first sample.
    /// The shop's own things are read from `shop_folder` and kept there.
    pub fn new(
        cc: &eframe::CreationContext,
        files: Vec<PathBuf>,
        file_dialogs: Box<dyn FileDialogs>,
        shop_folder: Option<PathBuf>,
    ) -> App {
        let ctx = &cc.egui_ctx;
        crate::app::widgets::look::dress(ctx);
        let preferences = Preferences::open(cc.storage);
        // Keys that change the size of everything are commands like the others.
        ctx.options_mut(|options| options.zoom_with_keyboard = false);
        if preferences.text_size > 0.0 {
            ctx.set_zoom_factor(preferences.text_size.clamp(0.5, 3.0));
        }
        if preferences.dark.is_some() {
            ctx.set_theme(preferences.theme());
        }
        if preferences.still {
            crate::app::widgets::look::keep_still(ctx, true);
        }
        let usual_money = Money::default();
        let (shop, notices) = match &shop_folder {
            None => (Shop::built_in(), Vec::new()),
            Some(folder) => Shop::open(folder, &usual_money),
        };
        let mut app = App {
            shelf: Shelf::new(ctx),
            views: Views {
                board: BoardView::default(),
                relief: relief::view::ReliefView::new(cc),
                sizes: SizesView::default(),
                elements: ElementsView::default(),
                findings: FindingsView::default(),
                guide: GuideView::default(),
                tracing: TracingView::default(),
                record: RecordView::default(),
                chosen: None,
                calm_since: None,
                drafts: Drafts::default(),
                tour: None,
                full_screen: false,
            },
            preferences,
            dialogs: Dialogs::default(),
            messages: Messages::default(),
            shop,
            shop_folder,
            usual_money,
            workers: Workers::new(ctx.clone()),
            file_dialogs,
            commands: Vec::new(),
            title: String::new(),
        };
        for notice in notices {
            app.warn(crate::words::shop::not_used(&notice, app.preferences.unit));
        }
        app.commands.push(match <[PathBuf; 1]>::try_from(files) {
            Ok([only]) => Command::Open(only),
            Err(files) if files.is_empty() => Command::OpenSample(samples()[0].id),
            Err(files) => Command::OpenSeveral(files),
        });
        app
    }

    /// Draws the carved surface on the window's graphics card even where that is drawn in software: slower,
    /// but the same picture.
    #[must_use]
    pub fn trusting_any_card(mut self, cc: &eframe::CreationContext) -> App {
        self.views.relief.trust_any_card(cc);
        self
    }

    /// The job as the user has set it; `None` until the first file has been opened.
    pub fn job(&self) -> Option<&Job> {
        self.shelf.shown().map(|shown| &**shown.job())
    }

    /// The last good proof; it may be of an older job while the next is on its way.
    pub fn proof(&self) -> Option<&Proof> {
        self.shelf.shown().map(|shown| &*shown.proofed.proof)
    }

    /// What was said, oldest first.
    pub fn messages(&self) -> &[Message] {
        &self.messages.all
    }

    /// Whether a file is being opened.
    pub fn is_opening(&self) -> bool {
        self.workers.busy(Lane::Opening)
    }

    /// Whether everything that was asked for has been worked out, painted and saved.
    pub fn is_idle(&self) -> bool {
        self.commands.is_empty()
            && work::LANES.into_iter().all(|lane| lane == Lane::Advising || !self.workers.busy(lane))
            && self.shelf.queue.is_empty()
            && self.is_current()
            // Nothing is painted before the board is first looked at.
            && (self.views.board.painted.is_some() || self.preferences.middle != Middle::Board)
            && self.views.relief.is_settled()
    }

    /// Whether it is known what would help the job as it is now. Not waited for when the window is idle: nothing
    /// but the offers comes of it.
    pub fn is_advised(&self) -> bool {
        self.shelf.shown().is_some_and(|shown| shown.current_advice().is_some())
    }

    /// What would help the job as it is now, the best first; empty until that is known.
    pub fn offers(&self) -> Vec<&Offer> {
        let advised = self.shelf.shown().and_then(Document::current_advice);
        advised.map_or_else(Vec::new, |advised| advised.offers.iter().map(|offered| &offered.offer).collect())
    }

    /// The middle of the view on the board in millimetres and its scale in points a millimetre.
    pub fn looking_at(&self) -> Option<(glam::DVec2, f64)> {
        let camera = self.views.board.camera(self.seen()?);
        Some((camera.center, camera.scale))
    }

    /// The proof of a mended outline or an offer that is being looked at and not applied yet.
    pub fn previewed(&self) -> Option<&Proof> {
        let shown = self.shelf.shown().filter(|shown| shown.is_preview() || shown.preview.is_some())?;
        if shown.looked_at().is_some() {
            return Some(&shown.seen().proof);
        }
        Some(&shown.preview.as_ref()?.mended.after.proof)
    }

    /// What is on the board: the last good proof, or that of a mended outline which is looked at.
    fn seen(&self) -> Option<&Proofed> {
        self.shelf.shown().map(Document::seen)
    }

    /// Asks for something, as a menu or a key would.
    pub fn ask(&mut self, command: Command) {
        self.commands.push(command);
    }

    fn is_current(&self) -> bool {
        self.shelf.shown().is_some_and(Document::is_current)
    }

    fn say(&mut self, text: impl Into<String>) {
        self.messages.say(text);
    }

    fn warn(&mut self, text: impl Into<String>) {
        self.messages.warn(text);
    }
}

impl eframe::App for App {
    fn logic(&mut self, ctx: &egui::Context, _: &mut eframe::Frame) {
        self.preferences.text_size = ctx.zoom_factor();
        self.collect(ctx);
        self.take_dropped(ctx);
        self.take_answer(ctx);
        for command in std::mem::take(&mut self.commands) {
            self.handle(ctx, command);
        }
        self.keep_documents(ctx);
        self.start_needed_work(ctx);
        self.start_board_work();
        self.start_lettering();
        self.start_sizes(ctx);
        self.start_comparing();
        self.start_folder();
        self.follow_walls();
        self.keep_history(ctx);
        self.keep_title(ctx);
        let is_at_it = self.workers.busy(Lane::Proofing) || self.workers.busy(Lane::Mending);
        if self.work_in_words().is_none() && is_at_it {
            // Come back to say so if it turns out to take long.
            ctx.request_repaint_after(Duration::from_millis(350));
        }
        if ctx.input(|input| input.viewport().close_requested()) {
            self.close_window(ctx);
        }
    }

    fn ui(&mut self, ui: &mut egui::Ui, _: &mut eframe::Frame) {
        let mut commands = Vec::new();
        let situation = self.situation();
        self.take_shortcuts(ui.ctx(), &situation, &mut commands);
        self.panels_ui(ui, &situation, &mut commands);
        self.help_windows_ui(ui.ctx(), &situation, &mut commands);
        self.shop_windows_ui(ui.ctx(), &mut commands);
        self.file_windows_ui(ui.ctx(), &mut commands);
        if !commands.is_empty() {
            self.commands.append(&mut commands);
            ui.ctx().request_repaint();
        }
    }

    fn save(&mut self, storage: &mut dyn eframe::Storage) {
        self.preferences.keep(storage);
    }
}

#[cfg(test)]
mod tests {
    use super::date_of;

    #[test]
    fn days_are_counted_off_to_dates() {
        for (days, date) in
            [(0, "1970-01-01"), (59, "1970-03-01"), (11_016, "2000-02-29"), (20_786, "2026-11-29")]
        {
            assert_eq!(date_of(days), date);
        }
    }
}
