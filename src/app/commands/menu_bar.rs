//! The menu bar, and the small windows it opens.

use crate::app::commands::command::Command;
use crate::app::commands::menus::{Menu, Row};
use crate::app::commands::situation::Situation;
use crate::app::widgets::window::is_asked_first;
use crate::words::commands::job_of;
use crate::words::window::commands as said;
use egui::{Button, Key, MenuBar, Modifiers, Popup, RichText};

/// The menu bar, with the open jobs at its end where there are several.
pub(crate) fn menu_bar_ui(ui: &mut egui::Ui, situation: &Situation, commands: &mut Vec<Command>) {
    MenuBar::new().ui(ui, |ui| {
        for (at, menu) in Menu::ALL.into_iter().enumerate() {
            let opened =
                ui.menu_button(menu.label(), |ui| rows_ui(ui, menu.rows(situation), situation, commands));
            let is_opened = !is_asked_first(ui.ctx())
                && ui.input_mut(|input| {
                    input.consume_key(Modifiers::ALT, menu.key())
                        || (at == 0 && input.consume_key(Modifiers::NONE, Key::F10))
                });
            if is_opened {
                opened.response.request_focus();
                Popup::open_id(ui.ctx(), Popup::default_response_id(&opened.response));
                ui.ctx().request_repaint();
            }
        }
        if situation.jobs.len() > 1 {
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                jobs_ui(ui, situation, commands);
            });
        }
    });
}

/// The rows of a menu, wherever it opens.
pub(crate) fn rows_ui(ui: &mut egui::Ui, rows: Vec<Row>, situation: &Situation, commands: &mut Vec<Command>) {
    for row in rows {
        row_ui(ui, row, situation, commands);
    }
}

fn row_ui(ui: &mut egui::Ui, row: Row, situation: &Situation, commands: &mut Vec<Command>) {
    match row {
        Row::Do(command) => entry_ui(ui, command, situation, commands),
        Row::More(_, entries) if entries.is_empty() => {}
        Row::More(label, entries) => {
            ui.menu_button(label, |ui| {
                for command in entries {
                    entry_ui(ui, command, situation, commands);
                }
            });
        }
        Row::Heading(heading) => {
            ui.label(RichText::new(heading).small());
        }
        Row::Line => {
            ui.separator();
        }
    }
}

fn entry_ui(ui: &mut egui::Ui, command: Command, situation: &Situation, commands: &mut Vec<Command>) {
    let words = situation.words(&command);
    let enabled = situation.allows(&command);
    let keys = command.shortcut().map(|keys| ui.ctx().format_shortcut(&keys));
    let with_keys = |ui: &mut egui::Ui, widget: &mut dyn FnMut(&mut egui::Ui) -> egui::Response| {
        ui.horizontal(|ui| {
            let response = widget(ui);
            if let Some(keys) = &keys {
                ui.weak(keys);
            }
            response
        })
        .inner
    };
    let response = match (situation.chosen(&command), situation.switched(&command)) {
        (Some(chosen), _) => {
            with_keys(ui, &mut |ui| ui.add_enabled(enabled, egui::RadioButton::new(chosen, words.as_ref())))
        }
        (None, Some(mut on)) => {
            with_keys(ui, &mut |ui| ui.add_enabled(enabled, egui::Checkbox::new(&mut on, words.as_ref())))
        }
        (None, None) => {
            let mut button = Button::new(words.as_ref());
            if let Some(keys) = &keys {
                button = button.shortcut_text(keys.clone());
            }
            ui.add_enabled(enabled, button)
        }
    };
    if response.on_hover_text(command.tooltip()).clicked() {
        commands.push(command);
        ui.close();
    }
}

/// Which job is shown, and a way to the others.
fn jobs_ui(ui: &mut egui::Ui, situation: &Situation, commands: &mut Vec<Command>) {
    let command = Command::CloseJob;
    let close = ui.small_button("×").on_hover_text(command.tooltip()).accessible_name(command.label());
    if close.clicked() {
        commands.push(command);
    }
    let name = situation.words(&Command::ShowJob(situation.at));
    let now = job_of(situation.at + 1, situation.jobs.len(), &name);
    egui::ComboBox::from_id_salt("open jobs")
        .width(260.0)
        .truncate()
        .selected_text(now)
        .show_ui(ui, |ui| {
            for at in 0..situation.jobs.len() {
                let command = Command::ShowJob(at);
                if ui.selectable_label(at == situation.at, situation.words(&command)).clicked() {
                    commands.push(command);
                }
            }
        })
        .response
        .on_hover_text(said::THE_JOBS_THAT_ARE_OPEN_IN_THIS_WINDOW)
        .accessible_name(said::OPEN_JOBS);
}
