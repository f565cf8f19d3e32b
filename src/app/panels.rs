//! How the window is divided, and the windows that open over it.

use super::command::Command;
use super::{
    App, Middle, bench_list, blemishes, canvas, cards, coupon, cutters, findings, fit_window, lesson,
    machines, mending, menu, messages, photo, rack, seasons, size_strip, verdict, view, why, woods,
};
use egui::ViewportCommand;

/// Panels.
impl App {
    #[expect(clippy::unused_self, reason = "a panel like the others, though keys need nothing of the state")]
    pub(super) fn take_shortcuts(&self, ctx: &egui::Context, commands: &mut Vec<Command>) {
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

    pub(super) fn panels_ui(&mut self, ui: &mut egui::Ui, commands: &mut Vec<Command>) {
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
        let middle = view.middle;
        if middle.has_sides() {
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
        }
        egui::Panel::bottom("size")
            .frame(padded(ui, 8, 5))
            .resizable(true)
            .default_size(178.0)
            .min_size(120.0)
            .max_size(360.0)
            .show(ui, |ui| size_strip::size_strip_ui(ui, shown, view, commands));
        egui::Panel::top("views")
            .frame(padded(ui, 8, 2))
            .show_separator_line(false)
            .show(ui, |ui| view::views_ui(ui, middle, commands));
        if let Some(preview) = &*preview {
            egui::Panel::top("mending").frame(padded(ui, 10, 6)).show(ui, |ui| {
                mending::mending_ui(ui, &preview.mended, preview.shows_after, commands);
            });
        }
        egui::CentralPanel::no_frame().show(ui, |ui| match middle {
            Middle::Board => {
                let painted = painted.as_ref().map(|(painted, _)| painted);
                canvas::canvas_ui(ui, shown, painted, current, view, commands);
            }
            Middle::Lesson => lesson::lesson_ui(ui),
        });
    }

    /// The dialogs of the shop, and the windows that explain.
    pub(super) fn shop_windows_ui(&mut self, ctx: &egui::Context, commands: &mut Vec<Command>) {
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
    pub(super) fn closing_ui(&mut self, ctx: &egui::Context, commands: &mut Vec<Command>) {
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
