//! The bottom bar: what is being worked on, and what was said. Nothing here blocks.

use crate::app::commands::command::Command;
use crate::app::messages::{Message, Messages};
use crate::app::widgets::look::Palette;
use crate::words::window::shell as said;
use egui::{Label, RichText, ScrollArea};

/// The bottom bar.
pub(crate) fn messages_ui(
    ui: &mut egui::Ui,
    work: Option<&str>,
    Messages { all: messages, unread }: &Messages,
    (open, still): (bool, bool),
    commands: &mut Vec<Command>,
) {
    let palette = Palette::of(ui.ctx());
    if open && !messages.is_empty() {
        ScrollArea::vertical().max_height(120.0).auto_shrink([false, true]).stick_to_bottom(true).show(
            ui,
            |ui| {
                for message in messages {
                    ui.horizontal_wrapped(|ui| {
                        ui.add(Label::new(worded(message, palette)).wrap());
                        show_file_ui(ui, message, commands);
                    });
                }
            },
        );
        ui.separator();
    }
    ui.horizontal(|ui| {
        if let Some(work) = work {
            if !still {
                ui.add(egui::Spinner::new().size(16.0));
            }
            ui.label(work);
            let cancel = ui.button(Command::CancelWork.label()).on_hover_text(Command::CancelWork.tooltip());
            if cancel.clicked() {
                commands.push(Command::CancelWork);
            }
            ui.separator();
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            if !messages.is_empty() {
                if ui.small_button(said::CLEAR).on_hover_text(Command::ClearMessages.label()).clicked() {
                    commands.push(Command::ClearMessages);
                }
                let count = said::messages(messages.len());
                let toggle = ui.selectable_label(open, count);
                if toggle.on_hover_text(Command::ToggleMessages.tooltip()).clicked() {
                    commands.push(Command::ToggleMessages);
                }
            }
            ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| match messages.last() {
                // In the middle it says so large enough.
                Some(last) if unread.contains(&last.text) => {}
                Some(last) if !open => {
                    show_file_ui(ui, last, commands);
                    ui.add(Label::new(worded(last, palette)).truncate());
                }
                Some(_) => {}
                None => {
                    let hint = said::DROP_A_DRAWING_OR_A_SAVED_JOB;
                    ui.add(Label::new(RichText::new(hint).color(palette.faint)).truncate());
                }
            });
        });
    });
}

/// The way to look at a file that was written, or to print it.
fn show_file_ui(ui: &mut egui::Ui, message: &Message, commands: &mut Vec<Command>) {
    let Some(file) = &message.file else { return };
    let show = Command::ShowFile(file.clone());
    if ui.small_button(show.label()).on_hover_text(show.tooltip()).clicked() {
        commands.push(show);
    }
}

fn worded(message: &Message, palette: &Palette) -> RichText {
    if message.trouble {
        RichText::new(said::problem(&message.text)).color(palette.wrong)
    } else {
        RichText::new(&message.text).color(palette.ink)
    }
}
