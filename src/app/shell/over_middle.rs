//! What lies over the middle of the window until it is over or put away: a large file being opened, and what did not
//! work.

use crate::app::commands::command::Command;
use crate::app::messages::Messages;
use crate::app::widgets::look::Palette;
use crate::app::widgets::window::window_ui;
use crate::words::window::shell as said;
use egui::{Align2, Frame, Label, ProgressBar, Rect, RichText, Ui, Window};

/// A file that takes long to open.
pub(crate) struct SlowOpening {
    pub(crate) name: String,
    /// Which of its steps it is at, from 1.
    pub(crate) step: usize,
    pub(crate) of: usize,
    /// What that step does.
    pub(crate) words: &'static str,
}

/// Both, over `middle`.
pub(crate) fn over_middle_ui(
    ui: &Ui,
    middle: Rect,
    opening: Option<&SlowOpening>,
    messages: &mut Messages,
    commands: &mut Vec<Command>,
) {
    if let Some(opening) = opening {
        opening_ui(ui, middle, opening, commands);
    }
    trouble_ui(ui, middle, messages);
}

/// The name of the file, how far it is, and the way out. What was there before is veiled.
fn opening_ui(ui: &Ui, middle: Rect, opening: &SlowOpening, commands: &mut Vec<Command>) {
    let palette = Palette::of(ui.ctx());
    ui.painter().rect_filled(middle, 0.0, palette.panel.gamma_multiply(0.7));
    let window = Window::new(said::OPENING).title_bar(false).resizable(false).movable(false);
    let window = window.pivot(Align2::CENTER_CENTER).fixed_pos(middle.center());
    let mut stays_open = true;
    window_ui(ui.ctx(), window, &mut stays_open, |ui| {
        ui.set_width(340.0);
        ui.vertical_centered(|ui| {
            ui.add(Label::new(RichText::new(said::opening(&opening.name)).size(18.0).strong()).wrap());
            ui.label(said::opening_step(opening.step, opening.of, opening.words));
            ui.add(ProgressBar::new(opening.step as f32 / (opening.of as f32 + 1.0)).desired_height(8.0));
            ui.add_space(4.0);
            let command = Command::CancelWork;
            if ui.button(command.label()).on_hover_text(command.tooltip()).clicked() {
                commands.push(command);
            }
        });
    });
    if !stays_open {
        commands.push(Command::CancelWork);
    }
}

/// What did not work, until it is put away.
fn trouble_ui(ui: &Ui, middle: Rect, messages: &mut Messages) {
    if messages.unread.is_empty() {
        return;
    }
    let palette = Palette::of(ui.ctx());
    let frame = Frame::window(ui.style()).stroke(egui::Stroke::new(2.0, palette.wrong));
    let window = Window::new(said::TROUBLE).title_bar(false).resizable(false).movable(false).frame(frame);
    let at = middle.center_top() + egui::vec2(0.0, 10.0);
    let window = window.pivot(Align2::CENTER_TOP).fixed_pos(at);
    let mut stays_open = true;
    window_ui(ui.ctx(), window, &mut stays_open, |ui| {
        ui.set_width((middle.width() - 60.0).clamp(180.0, 460.0));
        for text in &messages.unread {
            let words = RichText::new(said::problem(text)).size(15.0).color(palette.wrong);
            ui.add(Label::new(words).wrap());
        }
        ui.vertical_centered(|ui| {
            if ui.button(said::PUT_AWAY).clicked() {
                ui.close();
            }
        });
    });
    if !stays_open {
        messages.unread.clear();
    }
}
