//! The lesson: why walls thin as a design shrinks, and why the limit does not move.

use super::words;
use egui::{Label, RichText};

/// The lesson, in the middle of the window.
pub(super) fn lesson_ui(ui: &mut egui::Ui) {
    egui::Frame::new().inner_margin(16.0).show(ui, |ui| {
        ui.label(RichText::new("Why it thins").heading());
        ui.add(Label::new(words::ABOUT_METHOD).wrap());
    });
}
