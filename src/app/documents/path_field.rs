//! Typing a path, where no file dialog can be had or no hand wants to leave the keys.

use crate::app::commands::command::Command;
use crate::app::documents::dialogs::Asked;
use crate::app::widgets::form;
use crate::words::window::documents as said;
use std::path::PathBuf;

/// The little window with the field, where it is open.
pub(crate) fn path_field_ui(
    ctx: &egui::Context,
    typed: &mut Option<(Asked, String)>,
    commands: &mut Vec<Command>,
) {
    let Some((asked, text)) = typed else { return };
    let (title, button) = (asked.title(), if asked.opens() { said::OPEN_FILE } else { said::SAVE_FILE });
    let modal = egui::Modal::new(egui::Id::unique("path")).show(ctx, |ui| {
        ui.set_width(460.0);
        ui.heading(title);
        let label = ui.label(said::PATH_OF_THE_FILE);
        let field = egui::TextEdit::singleline(text).desired_width(f32::INFINITY).show(ui);
        let response = field.response.response.labelled_by(label.id);
        if !response.has_focus() && !response.lost_focus() {
            response.request_focus();
        }
        let entered = response.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
        ui.add_space(4.0);
        let pressed = ui.horizontal(|ui| {
            let pressed = ui.add_enabled(!text.trim().is_empty(), egui::Button::new(button)).clicked();
            if ui.button(said::NOT_NOW).clicked() {
                ui.close();
            }
            pressed
        });
        if (entered || pressed.inner) && !text.trim().is_empty() {
            let path = PathBuf::from(text.trim());
            commands.push(asked.command(path));
            ui.close();
        }
    });
    if form::is_closing(ctx, &modal) {
        *typed = None;
    }
}
