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
            commands.push(asked.command(path_typed(text)));
            ui.close();
        }
    });
    if form::is_closing(ctx, &modal) {
        *typed = None;
    }
}

/// A path as it is typed or pasted: Windows copies one with double quotes round it, and no name there has any.
fn path_typed(text: &str) -> PathBuf {
    let text = text.trim();
    let bare = text.strip_prefix('"').and_then(|text| text.strip_suffix('"'));
    PathBuf::from(bare.filter(|bare| !bare.is_empty()).unwrap_or(text))
}

#[cfg(test)]
mod tests {
    use super::path_typed;
    use std::path::Path;

    #[test]
    fn a_path_may_be_pasted_in_quotes() {
        for (text, path) in [
            (" signs/gate.svg ", "signs/gate.svg"),
            ("\"C:\\my signs\\gate.svg\"\n", "C:\\my signs\\gate.svg"),
            (r"\\shop\signs\gate.svg", r"\\shop\signs\gate.svg"),
            ("8\" sign.svg", "8\" sign.svg"),
            ("\"", "\""),
            ("\"\"", "\"\""),
        ] {
            assert_eq!(path_typed(text), Path::new(path), "{text}");
        }
    }
}
