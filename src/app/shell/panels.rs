//! How the window is divided, and the windows that open over it.

use crate::app::board::{bench_list, blemishes, canvas, fit, photo, tools};
use crate::app::commands::command::Command;
use crate::app::commands::middle::Middle;
use crate::app::commands::table::{Elements, Situation};
use crate::app::commands::{list as command_list, menu};
use crate::app::documents::windows;
use crate::app::elements::reading;
use crate::app::findings::{list as findings, mending, seasons, strip, verdict, why};
use crate::app::shell::{cards, help, messages, view};
use crate::app::shop::{coupon, cutters, machines, rack, woods};
use crate::app::sizes::prices;
use crate::app::{App, elements, lesson, relief, sizes};
use std::sync::Arc;

/// Panels.
impl App {
    pub(crate) fn take_shortcuts(&mut self, ctx: &egui::Context, commands: &mut Vec<Command>) {
        let typing = ctx.text_edit_focused();
        for command in Command::with_shortcuts() {
            let Some(shortcut) = command.shortcut() else { continue };
            // A bare letter belongs to the field that is being typed in.
            let key = shortcut.logical_key;
            let types = key.name().len() == 1 || key == egui::Key::Delete;
            let is_bare = !shortcut.modifiers.command && types;
            if !(typing && is_bare) && ctx.input_mut(|input| input.consume_shortcut(&shortcut)) {
                commands.push(command);
            }
        }
        // The key beside the zero has the plus above another sign.
        let plus = egui::KeyboardShortcut::new(egui::Modifiers::COMMAND, egui::Key::Equals);
        if ctx.input_mut(|input| input.consume_shortcut(&plus)) {
            commands.push(Command::LargerText);
        }
        if self.view.full_screen
            && ctx.input_mut(|input| input.consume_key(egui::Modifiers::NONE, egui::Key::Escape))
        {
            self.fill_screen(ctx, false);
        }
    }

    /// What menus and the list of commands must know.
    pub(crate) fn situation(&self) -> Situation {
        let now = self.now.as_ref();
        let undo = now.filter(|now| self.history.has_undo(now)).map(|now| now.name);
        // The undoer does not show what it would bring back: a copy is asked, in the rare time after an undo.
        let redo = now.filter(|now| self.history.has_redo(now)).and_then(|now| {
            let mut history = self.history.clone();
            history.redo(now).map(|step| step.name)
        });
        let view = &self.view;
        let mut switched_on = Vec::new();
        for (on, command) in [
            (view.still, Command::ToggleStill),
            (view.full_screen, Command::FullScreen),
            (self.relief.passes_shown, Command::TogglePasses),
            (view.tools.grid, Command::ToggleGrid),
            (view.tools.measuring, Command::ToggleMeasure),
        ] {
            if on {
                switched_on.push(command);
            }
        }
        Situation {
            has_job: now.is_some(),
            undo,
            redo,
            jobs: self.open_jobs(),
            at: self.shown_job(),
            recent: self.documents.recent.clone(),
            has_drawing: self.has_drawing(),
            has_chosen: view.chosen.is_some(),
            unit: view.unit,
            theme: view.theme,
            middle: view.middle,
            switched_on,
            elements: self.elements_situation(),
        }
    }

    fn elements_situation(&self) -> Elements {
        let Some(now) = &self.now else { return Elements::default() };
        let design = &now.job.design;
        let chosen = self.view.elements.chosen_in(design);
        let has_words = |index: usize| now.job.lettering.contains_key(&design.elements[index].name);
        let count = design.elements.len();
        // What is being proofed still has to be looked through for specks.
        let shown = self.shown.as_ref().filter(|shown| Arc::ptr_eq(&shown.job.design, design));
        Elements {
            count,
            chosen: chosen.len(),
            has_words: chosen.iter().any(|&index| has_words(index)) || (count == 1 && has_words(0)),
            hidden: self.view.elements.hidden_in(design).len(),
            specks: shown.map_or(0, |shown| shown.specks),
            open_outlines: self.open_outlines(),
            is_size_unstated: self.is_size_unstated(),
        }
    }

    pub(crate) fn panels_ui(&mut self, ui: &mut egui::Ui, commands: &mut Vec<Command>) {
        let current = self.is_current();
        let work = self.work_in_words();
        let situation = self.situation();
        let Self { now, shown, preview, painted, shop, view, messages, relief, .. } = self;
        // On a projector the lesson has the screen to itself.
        let alone = view.full_screen && view.middle == Middle::Lesson && shown.is_some();
        if !alone {
            egui::Panel::top("menu").show(ui, |ui| menu::menu_ui(ui, &situation, commands));
        }
        command_list::command_list_ui(ui.ctx(), &mut view.command_list, &situation, commands);
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
        if !alone {
            egui::Panel::bottom("messages")
                .show(ui, |ui| messages::messages_ui(ui, work.as_deref(), messages, view, commands));
        }
        let frame = padded(ui, 8, 8);
        let middle = view.middle;
        if middle.has_sides() {
            egui::Panel::left("job")
                .frame(padded(ui, 8, 4))
                .resizable(true)
                .default_size(290.0)
                .min_size(230.0)
                .max_size(420.0)
                .show(ui, |ui| cards::cards_ui(ui, &now.job, shown, shop, &situation, view, commands));
            egui::Panel::right("findings")
                .frame(frame)
                .resizable(true)
                .default_size(280.0)
                .min_size(200.0)
                .max_size(460.0)
                .show(ui, |ui| findings::findings_ui(ui, &now.job, shown, view, commands));
        }
        // A list of sizes needs the room more than the strip of one.
        if middle != Middle::Sizes {
            let (name, height) = if middle == Middle::Relief { ("carve", 206.0) } else { ("size", 178.0) };
            egui::Panel::bottom(name)
                .frame(padded(ui, 8, 5))
                .resizable(true)
                .default_size(height)
                .min_size(120.0)
                .max_size(360.0)
                .show(ui, |ui| match middle {
                    Middle::Relief => relief::desk_ui(ui, shown, relief, view, commands),
                    _ => strip::size_strip_ui(ui, shown, view, commands),
                });
        }
        if !alone {
            egui::Panel::top("views")
                .frame(padded(ui, 8, 2))
                .show_separator_line(false)
                .show(ui, |ui| view::views_ui(ui, middle, commands));
        }
        if view.welcome && middle == Middle::Board {
            egui::Panel::top("welcome")
                .frame(padded(ui, 10, 6))
                .show(ui, |ui| help::welcome_ui(ui, commands));
        }
        if let Some(preview) = &*preview {
            egui::Panel::top("mending").frame(padded(ui, 10, 6)).show(ui, |ui| {
                mending::mending_ui(ui, &preview.mended, preview.shows_after, commands);
            });
        }
        egui::CentralPanel::no_frame().show(ui, |ui| match middle {
            Middle::Board => {
                let painted = painted.as_ref().map(|(painted, _)| painted);
                canvas::canvas_ui(ui, shown, painted, relief, current, view, commands);
            }
            Middle::Relief => relief::surface::relief_ui(ui, shown, relief, view, commands),
            Middle::Lesson => lesson::lesson_ui(ui, shown, view, commands),
            Middle::Sizes => sizes::sizes_ui(ui, shown, shop, view, commands),
        });
    }

    /// The dialogs of the shop, and the windows that explain.
    pub(crate) fn shop_windows_ui(&mut self, ctx: &egui::Context, commands: &mut Vec<Command>) {
        let Self { now: Some(now), shown: Some(shown), shop, view, relief, .. } = self else { return };
        why::why_ui(ctx, shown, view);
        seasons::seasons_ui(ctx, shown, view);
        tools::calibrate_ui(ctx, view, commands);
        cutters::cutters_ui(ctx, shop, &now.job.cutter, view, commands);
        woods::woods_ui(ctx, shop, view, commands);
        prices::prices_ui(ctx, shop, view, commands);
        coupon::coupon_ui(ctx, view, commands);
        relief::clearing::clearing_ui(ctx, &now.job, shop, relief, view, commands);
        blemishes::blemishes_ui(ctx, &now.job, view, commands);
        bench_list::bench_list_ui(ctx, &now.job, shown, view, commands);
        fit::fit_ui(ctx, &now.job, shown, view, commands);
        rack::rack_ui(ctx, &now.job, shop, view, commands);
        photo::photo_ui(ctx, &now.job, view, commands);
        machines::machines_ui(ctx, shop, &now.job.machine, view, commands);
        machines::measuring_ui(ctx, view);
        elements::arrange::arrange_ui(ctx, &now.job, view, commands);
        elements::lettering::lettering_ui(ctx, &now.job, view, commands);
    }

    /// What is asked before files are lost or taken in.
    pub(crate) fn file_windows_ui(&mut self, ctx: &egui::Context, commands: &mut Vec<Command>) {
        let unstated = self.unsettled_size();
        let job = self.now.as_ref().map(|now| &now.job);
        if let Some(job) = job {
            if self.asks_before_closing() {
                windows::closing_ui(ctx, &job.design.name, commands);
            }
            if !self.documents.left.is_empty() {
                windows::left_ui(ctx, &self.documents.left, commands);
            }
            if let Some(unstated) = &unstated {
                let candidates = &mut self.view.elements.candidates;
                reading::reading_ui(ctx, job, unstated, candidates, self.view.unit, commands);
            }
        }
        windows::hovered_files_ui(ctx, job);
    }
}
