//! The verdict, always in sight: a sign, a sentence, and what to do.

use crate::app::widgets::look::{Palette, severity_color, severity_ui};
use crate::app::work::scene::Scene;
use crate::words;
use egui::{Label, RichText};

/// A line of the verdict over a line of advice, in points.
const HEIGHT: f32 = 40.0;

/// The strip under the menu.
pub(crate) fn verdict_ui(ui: &mut egui::Ui, scene: &Scene) {
    let Scene { shown, unit, is_current: current, .. } = *scene;
    let palette = Palette::of(ui.ctx());
    let verdict = &shown.proof.verdict;
    let (mut sentence, advice) =
        (words::verdict::sentence(verdict, unit), words::verdict::advice(verdict, unit));
    if scene.is_preview {
        sentence = words::verdict::if_applied(&sentence);
    }
    // One height whatever it says: nothing below may move under the pointer.
    ui.set_height(HEIGHT);
    ui.horizontal(|ui| {
        if !current {
            ui.multiply_opacity(0.6);
        }
        severity_ui(ui, 16.0, verdict.severity);
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = 1.0;
            if advice.is_empty() {
                ui.add_space(9.0);
            }
            // What does not fit on its line is in the hover.
            let sentence = RichText::new(&sentence).size(17.0).strong();
            ui.add(Label::new(sentence).truncate());
            if !advice.is_empty() {
                ui.add(Label::new(RichText::new(&advice).color(palette.ink)).truncate());
            }
        });
    });
    // A bar in the signal colour under the strip, for a glance from across the shop.
    let rect = ui.min_rect();
    let bar = egui::Rect::from_min_max(
        egui::pos2(rect.left() - 20.0, rect.bottom() + 4.0),
        egui::pos2(ui.max_rect().right() + 20.0, rect.bottom() + 8.0),
    );
    ui.painter().rect_filled(bar, 0.0, severity_color(verdict.severity));
}
