//! How the window is divided, and the windows that open over it.

use crate::app::board::{bench_list, blemishes, canvas, fit, photo, pieces, tools};
use crate::app::commands::command::Command;
use crate::app::commands::middle::Middle;
use crate::app::commands::situation::{Elements, Situation};
use crate::app::commands::{list as command_list, menu_bar, menus};
use crate::app::compare::compare_ui;
use crate::app::documents::document::Document;
use crate::app::documents::path_field;
use crate::app::documents::windows;
use crate::app::elements::reading;
use crate::app::findings::{list as findings, mending, seasons, strip, verdict, why};
use crate::app::folder::folder_ui;
use crate::app::preferences::Preferences;
use crate::app::record::record_ui;
use crate::app::shell::over_board::OverBoard;
use crate::app::shell::over_middle::over_middle_ui;
use crate::app::shell::{cards, help, messages, view};
use crate::app::shop::{coupon, cutters, machines, rack, woods};
use crate::app::sizes::customer::customer_ui;
use crate::app::sizes::prices;
use crate::app::tracing::tracing_ui;
use crate::app::views::Dialogs;
use crate::app::views::Views;
use crate::app::widgets::length_field::Lengths;
use crate::app::widgets::region::{begin_regions, frame_region, region_ui};
use crate::app::widgets::window::{aim_escape, is_asked_first, is_escape_free};
use crate::app::work::Lane;
use crate::app::work::scene::Scene;
use crate::app::{App, elements, guide, lesson, relief, sizes};
use crate::job::History;
use crate::words::edits::edit_name;
use crate::words::window::shell as said;
use std::sync::Arc;

/// Under this many points cards and findings take turns beside the board: a round value of our own.
const NARROW: f32 = 1000.0;
/// Under this many points between the verdict and the messages the size strip is its handle alone, for the board needs
/// the room: a round value of our own, what large text leaves on a small screen.
const LOW: f32 = 260.0;

/// Whether this key went down with Alt held.
fn is_with_alt(input: &egui::InputState, wanted: egui::Key) -> bool {
    let is_it = |event: &egui::Event| {
        let egui::Event::Key { key, pressed: true, modifiers, .. } = event else { return false };
        *key == wanted && modifiers.alt
    };
    input.events.iter().any(is_it)
}

impl App {
    pub(crate) fn take_shortcuts(
        &mut self,
        ctx: &egui::Context,
        situation: &Situation,
        commands: &mut Vec<Command>,
    ) {
        aim_escape(ctx);
        begin_regions(ctx);
        let typing = ctx.text_edit_focused();
        // Behind a dialog that has to be answered first nothing but the size of its text can change.
        let is_asked = is_asked_first(ctx);
        let is_held =
            |command: &Command| is_asked && !matches!(command, Command::LargerText | Command::SmallerText);
        for (shortcut, command) in menus::shortcuts(situation) {
            // A bare letter belongs to the field that is being typed in.
            let key = shortcut.logical_key;
            let types = key.name().len() == 1 || key == egui::Key::Delete;
            let is_bare = !shortcut.modifiers.command && types;
            // With Alt a letter opens its menu. The key's own event tells: in a quick stroke Alt is let go
            // before the frame ends.
            let is_for_menu = !shortcut.modifiers.alt && ctx.input(|input| is_with_alt(input, key));
            let is_taken = is_for_menu || is_held(&command) || typing && is_bare;
            if !is_taken && ctx.input_mut(|input| input.consume_shortcut(&shortcut)) {
                commands.push(command);
            }
        }
        // The key beside the zero has the plus above another sign; and hands know two keys for Redo.
        for (key, command) in [(egui::Key::Equals, Command::LargerText), (egui::Key::Y, Command::Redo)] {
            let also = egui::KeyboardShortcut::new(egui::Modifiers::COMMAND, key);
            if !is_held(&command) && ctx.input_mut(|input| input.consume_shortcut(&also)) {
                commands.push(command);
            }
        }
        if self.views.full_screen && is_escape_free(ctx) {
            self.fill_screen(ctx, false);
        }
    }

    /// What menus and the list of commands must know.
    pub(crate) fn situation(&self) -> Situation {
        let shown = self.shelf.shown();
        let history = shown.map(|shown| &shown.history);
        let undo = history.and_then(History::can_undo).map(edit_name);
        let redo = history.and_then(History::can_redo).map(edit_name);
        let Self { preferences, views, .. } = self;
        let mut switched_on = Vec::new();
        for (on, command) in [
            (preferences.still, Command::ToggleStill),
            (views.full_screen, Command::FullScreen),
            (self.views.relief.passes_shown, Command::TogglePasses),
            (preferences.grid, Command::ToggleGrid),
            (views.board.tools.measuring, Command::ToggleMeasure),
        ] {
            if on {
                switched_on.push(command);
            }
        }
        Situation {
            has_job: shown.is_some(),
            undo,
            redo,
            jobs: self.open_jobs(),
            at: self.shown_job(),
            recent: self.preferences.lately.files.clone(),
            has_drawing: shown.is_some_and(|shown| shown.drawing().is_some()),
            has_chosen: views.chosen.is_some(),
            unit: preferences.unit,
            theme: preferences.theme(),
            middle: preferences.middle,
            switched_on,
            elements: self.elements_situation(),
        }
    }

    fn elements_situation(&self) -> Elements {
        let Some(shown) = self.shelf.shown() else { return Elements::default() };
        let (job, design) = (shown.job(), shown.job().design());
        let chosen = self.views.elements.chosen_in(design);
        let has_words = |index: usize| job.lettering().contains_key(&design.elements[index].name);
        let count = design.elements.len();
        // What is being proofed still has to be looked through for specks.
        let proofed = Some(&shown.proofed).filter(|proofed| Arc::ptr_eq(proofed.job.design(), design));
        Elements {
            count,
            chosen: chosen.len(),
            has_words: chosen.iter().any(|&index| has_words(index)) || (count == 1 && has_words(0)),
            hidden: self.views.elements.hidden_in(design).len(),
            specks: proofed.map_or(0, |proofed| proofed.specks),
            open_outlines: self.open_outlines(),
            is_size_unstated: self.is_size_unstated(),
            pictures: shown.drawing().map_or(0, |_| design.embedded_pictures()),
        }
    }

    #[expect(
        clippy::too_many_lines,
        reason = "one panel after the other, in the order they divide the window"
    )]
    pub(crate) fn panels_ui(
        &mut self,
        ui: &mut egui::Ui,
        situation: &Situation,
        commands: &mut Vec<Command>,
    ) {
        let (work, opening) = (self.work_in_words(), self.slow_opening());
        let Self { shelf, shop, preferences, views, dialogs, messages, .. } = self;
        let shown = shelf.shown();
        let middle = preferences.middle;
        // On a projector the lesson has the screen to itself.
        let alone = views.full_screen && middle == Middle::Lesson && shown.is_some();
        // A customer sees the sizes and nothing of the bench.
        let across_the_counter = views.full_screen && middle == Middle::Sizes && shown.is_some();
        if !(alone || across_the_counter) {
            egui::Panel::top("menu").show(ui, |ui| menu_bar::menu_bar_ui(ui, situation, commands));
        }
        command_list::command_list_ui(ui.ctx(), &mut dialogs.command_list, situation, commands);
        let foot = (dialogs.messages_open, preferences.still);
        let Some(shown) = shown else {
            egui::Panel::bottom("messages")
                .show(ui, |ui| messages::messages_ui(ui, work.as_deref(), messages, foot, commands));
            egui::CentralPanel::default().show(ui, |ui| {
                ui.centered_and_justified(|ui| ui.label(said::OPENING));
            });
            return;
        };
        let scene = Scene {
            job: shown.job(),
            shown: shown.seen(),
            is_preview: shown.is_preview(),
            is_current: shown.is_current(),
            shop: &*shop,
            unit: preferences.unit,
            woods_lately: &preferences.lately.woods,
            chosen: views.chosen.as_deref(),
            still: preferences.still,
            beside: views.board.beside(),
        };
        let scene = &scene;
        let lengths = &mut Lengths { unit: preferences.unit, drafts: &mut views.drafts };
        let padded = |ui: &egui::Ui, x, y| {
            egui::Frame::new().fill(ui.visuals().panel_fill).inner_margin(egui::Margin::symmetric(x, y))
        };
        if across_the_counter {
            let Preferences { sizes: picked, papers, counter, unit, .. } = &*preferences;
            let sizes = views.sizes.current(picked, scene.job, &scene.shop.prices, *unit);
            customer_ui(ui, scene, sizes, &papers.shop_name, *counter, commands);
            return;
        }
        let frame = padded(ui, 12, 8);
        egui::Panel::top("verdict").frame(frame).show_separator_line(false).show(ui, |ui| {
            region_ui(ui, said::THE_VERDICT);
            verdict::verdict_ui(ui, scene, shown.current_advice(), shown.looked_at(), commands);
        });
        if !alone {
            egui::Panel::bottom("messages")
                .show(ui, |ui| messages::messages_ui(ui, work.as_deref(), messages, foot, commands));
        }
        let frame = padded(ui, 8, 8);
        if middle.has_sides() && ui.available_width() < NARROW {
            // Both at once would leave the board less room than either.
            egui::Panel::left("side")
                .frame(padded(ui, 8, 4))
                .resizable(true)
                .default_size(270.0)
                .min_size(230.0)
                .max_size(360.0)
                .show(ui, |ui| {
                    region_ui(ui, said::SETTINGS);
                    ui.horizontal(|ui| {
                        let shown = &mut views.findings.aside;
                        ui.selectable_value(shown, false, said::SETTINGS);
                        let found = said::findings(scene.shown.proof.findings.len());
                        ui.selectable_value(shown, true, found).accessible_name(said::FINDINGS);
                    });
                    if views.findings.aside {
                        findings::findings_ui(ui, scene, &mut views.findings, commands);
                    } else {
                        cards::cards_ui(ui, scene, situation, &mut views.elements, lengths, commands);
                    }
                });
        } else if middle.has_sides() {
            egui::Panel::left("job")
                .frame(padded(ui, 8, 4))
                .resizable(true)
                .default_size(290.0)
                .min_size(230.0)
                .max_size(420.0)
                .show(ui, |ui| {
                    region_ui(ui, said::SETTINGS);
                    cards::cards_ui(ui, scene, situation, &mut views.elements, lengths, commands);
                });
            egui::Panel::right("findings")
                .frame(frame)
                .resizable(true)
                .default_size(280.0)
                .min_size(200.0)
                .max_size(460.0)
                .show(ui, |ui| {
                    region_ui(ui, said::FINDINGS);
                    findings::findings_ui(ui, scene, &mut views.findings, commands);
                });
        }
        // A list of sizes needs the room more than the strip of one, and so does the board of a low window.
        if middle != Middle::Sizes && middle != Middle::Relief && ui.available_height() < LOW {
            egui::Panel::bottom("size of a low window").frame(padded(ui, 8, 5)).resizable(false).show(
                ui,
                |ui| {
                    region_ui(ui, said::THE_SIZE_STRIP);
                    strip::size_handle_ui(ui, scene, views.findings.strip, commands);
                },
            );
        } else if middle != Middle::Sizes {
            // In a low window the surface keeps its room, and what stands under it is scrolled.
            let is_low = ui.available_height() < LOW;
            let (name, [least, usual, most]) = match (middle, is_low) {
                (Middle::Relief, true) => ("carve in a low window", [48.0, 72.0, 206.0]),
                (Middle::Relief, false) => ("carve", [120.0, 206.0, 360.0]),
                _ => ("size", [120.0, 178.0, 360.0]),
            };
            egui::Panel::bottom(name)
                .frame(padded(ui, 8, 5))
                .resizable(true)
                .default_size(usual)
                .min_size(least)
                .max_size(most)
                .show(ui, |ui| {
                    region_ui(ui, said::THE_SIZE_STRIP);
                    match middle {
                        Middle::Relief if is_low => {
                            relief::desk::scrolled_desk_ui(ui, scene, &mut views.relief, commands);
                        }
                        Middle::Relief => relief::desk::desk_ui(ui, scene, &mut views.relief, commands),
                        _ => strip::size_strip_ui(ui, scene, &mut views.findings.strip, commands),
                    }
                });
        }
        if !alone {
            egui::Panel::top("views")
                .frame(padded(ui, 8, 2))
                .show_separator_line(false)
                .show(ui, |ui| view::views_ui(ui, middle, commands));
        }
        if !preferences.welcomed && middle == Middle::Board {
            egui::Panel::top("welcome")
                .frame(padded(ui, 10, 6))
                .show(ui, |ui| help::welcome_ui(ui, commands));
        }
        if let Some(preview) = &shown.preview {
            egui::Panel::top("mending").frame(padded(ui, 10, 6)).show(ui, |ui| {
                mending::mending_ui(ui, &preview.mended, preview.shows_after, commands);
            });
        }
        let seen = egui::CentralPanel::no_frame().show(ui, |ui| {
            region_ui(ui, said::THE_MIDDLE);
            match middle {
                Middle::Board => {
                    let Views { board, relief, elements, record, .. } = views;
                    let unit = scene.unit;
                    let mut over = OverBoard { shown: scene.shown, relief, elements, record, unit };
                    canvas::canvas_ui(ui, scene, board, preferences.grid, &mut over, commands);
                }
                Middle::Relief => relief::surface::relief_ui(ui, scene, &mut views.relief, commands),
                Middle::Lesson => lesson::lesson_ui(ui, scene, views.tour, alone, commands),
                Middle::Tracing => {
                    let pictured = shown.files.picture_of(scene.job.design());
                    tracing_ui(ui, scene, pictured, &mut views.tracing, lengths, commands);
                }
                Middle::Sizes => {
                    let Preferences { sizes: picked, papers, counter, .. } = preferences;
                    sizes::sizes_ui(ui, scene, &mut views.sizes, picked, (papers, counter), commands);
                }
            }
        });
        over_middle_ui(ui, seen.response.rect, opening.as_ref(), messages, commands);
        frame_region(ui);
    }

    /// The dialogs of the shop, and the windows that explain.
    pub(crate) fn shop_windows_ui(&mut self, ctx: &egui::Context, commands: &mut Vec<Command>) {
        let arranging = self
            .workers
            .busy(Lane::Arranging)
            .then(|| self.workers.counted(Lane::Arranging).unwrap_or_default());
        let is_naming = self.workers.busy(Lane::Editing);
        let compared = self.workers.counted(Lane::Comparing);
        let Self { shelf, shop, preferences, views, dialogs, .. } = self;
        let Some(shown) = shelf.shown() else { return };
        let others: Vec<(usize, String)> = shelf
            .all()
            .iter()
            .enumerate()
            .filter(|(_, other)| other.id != shown.id)
            .map(|(at, other)| (at, other.name().to_owned()))
            .collect();
        let scene = &Scene {
            job: shown.job(),
            shown: &shown.proofed,
            is_preview: false,
            is_current: shown.is_current(),
            shop,
            unit: preferences.unit,
            woods_lately: &preferences.lately.woods,
            chosen: views.chosen.as_deref(),
            still: preferences.still,
            beside: views.board.beside(),
        };
        let lengths = &mut Lengths { unit: preferences.unit, drafts: &mut views.drafts };
        why::why_ui(ctx, scene, &mut views.findings.why_open);
        compare_ui(ctx, scene, &mut dialogs.compare, compared, commands);
        folder_ui(ctx, &mut dialogs.folder, scene.beside, commands);
        seasons::seasons_ui(ctx, scene, &mut views.findings.seasons);
        let calibrating = &mut views.board.tools.calibrating;
        tools::calibrate_ui(ctx, scene.beside, calibrating, &mut preferences.pixels_per_mm, commands);
        cutters::cutters_ui(ctx, scene, &mut dialogs.shop.cutters, commands);
        woods::woods_ui(ctx, scene, &mut dialogs.shop.woods, commands);
        prices::prices_ui(ctx, shop, &mut dialogs.prices, commands);
        coupon::coupon_ui(ctx, scene.unit, &mut dialogs.shop.coupon, commands);
        record_ui(ctx, scene, &mut views.record, commands);
        relief::clearing::clearing_ui(ctx, scene, &mut views.relief.clearing, lengths, commands);
        blemishes::blemishes_ui(ctx, scene, &mut views.board, lengths, commands);
        bench_list::bench_list_ui(ctx, scene, &mut views.board.bench_list_open, lengths, commands);
        if views.board.pieces.open {
            let mut view = std::mem::take(&mut views.board.pieces);
            let outlines = views.board.outlines();
            let around = pieces::Around { others: &others, arranging, is_naming, outlines };
            pieces::pieces_ui(ctx, scene, &mut view, &around, lengths, commands);
            views.board.pieces = view;
        }
        let advised = shown.current_advice();
        fit::fit_ui(ctx, scene, advised, &mut views.board.fit_open, lengths, commands);
        rack::rack_ui(ctx, scene, &mut dialogs.shop.rack, commands);
        photo::photo_ui(ctx, scene, &mut views.board.photo, lengths, commands);
        machines::machines_ui(ctx, scene, &mut dialogs.shop.machines, commands);
        machines::measuring_ui(ctx, scene.beside, &mut dialogs.shop.measuring_open);
        let chosen = views.elements.chosen_in(scene.job.design());
        elements::arrange::arrange_ui(ctx, scene, &mut views.elements.arrange, &chosen, lengths, commands);
        elements::lettering::lettering_ui(ctx, scene, &mut views.elements.lettering, lengths, commands);
    }

    /// The windows that tell of the program itself.
    pub(crate) fn help_windows_ui(
        &mut self,
        ctx: &egui::Context,
        situation: &Situation,
        commands: &mut Vec<Command>,
    ) {
        let beside = self.views.board.beside();
        let Dialogs { about_open, cautions_open, help_open, .. } = &mut self.dialogs;
        help::about_ui(ctx, beside, about_open, cautions_open);
        help::help_ui(ctx, beside, help_open, situation);
        guide::guide_ui(ctx, &mut self.views.guide, commands);
    }

    /// What is asked before files are lost or taken in.
    pub(crate) fn file_windows_ui(&mut self, ctx: &egui::Context, commands: &mut Vec<Command>) {
        path_field::path_field_ui(
            ctx,
            &mut self.dialogs.typed_path,
            &self.preferences.lately.files,
            commands,
        );
        let unstated = self.unsettled_size();
        if let Some(asked) = self.asked_before_closing() {
            windows::closing_ui(ctx, asked.name(), commands);
        }
        let job = self.shelf.shown().map(Document::job);
        if let Some(job) = job {
            if !self.shelf.left.is_empty() {
                windows::left_ui(ctx, &self.shelf.left, commands);
            }
            if let Some(unstated) = &unstated {
                let candidates = &mut self.views.elements.candidates;
                reading::reading_ui(ctx, job, unstated, candidates, self.preferences.unit, commands);
            }
        }
        windows::hovered_files_ui(ctx, job.map(|job| &**job));
    }
}
