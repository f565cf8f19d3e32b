//! The row that switches what the middle of the window shows.

use crate::app::commands::command::Command;
use crate::app::commands::middle::Middle;
use crate::app::widgets::look::Palette;
use crate::words::commands::show_view_key;
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
            let ink = if chosen { palette.ink } else { palette.faint };
            let words = RichText::new(command.label()).small().color(ink);
            let response = ui.add(Button::selectable(chosen, words));
            let response = response.on_hover_text(command.hover(ui.ctx()));
            if response.accessible_name(show_view_key(command.label())).clicked() {
                commands.push(command);
            }
        }
    });
}
