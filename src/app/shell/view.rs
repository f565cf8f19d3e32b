//! The row that switches what the middle of the window shows.

use crate::app::commands::command::Command;
use crate::app::commands::middle::Middle;
use crate::app::widgets::look::Palette;
use egui::{Button, RichText};

/// The row above the middle.
pub(crate) fn views_ui(ui: &mut egui::Ui, shown: Middle, commands: &mut Vec<Command>) {
    let palette = Palette::of(ui.ctx());
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        ui.spacing_mut().interact_size.y = 18.0;
        for middle in Middle::ALL {
            let command = Command::Show(middle);
            let chosen = middle == shown;
            let words =
                RichText::new(middle.label()).small().color(if chosen { palette.ink } else { palette.faint });
            let response = ui.add(Button::selectable(chosen, words));
            let keys = command.shortcut().map(|keys| ui.ctx().format_shortcut(&keys)).unwrap_or_default();
            let response = response.on_hover_text(format!("{}\n{keys}", command.tooltip()));
            if response.accessible_name(format!("Show {}", middle.label().to_lowercase())).clicked() {
                commands.push(command);
            }
        }
    });
}
