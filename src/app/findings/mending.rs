//! A mended outline before it is applied: what was done, and the board before and after.

use crate::app::commands::command::Command;
use crate::app::widgets::form::words_ui;
use crate::app::widgets::look::{Palette, severity_ui};
use crate::app::work::proofed::Mended;
use crate::proof::Severity;
use crate::sheet::picture::{ADDED_COLOR, TAKEN_COLOR};
use crate::words;
use crate::words::window::findings as said;
use egui::{Color32, RichText, Sense, Stroke, StrokeKind, pos2, vec2};

/// The strip over the board.
pub(crate) fn mending_ui(ui: &mut egui::Ui, mended: &Mended, after: bool, commands: &mut Vec<Command>) {
    let palette = Palette::of(ui.ctx());
    let [added, taken] = mended.changes;
    let changes = added || taken;
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(&mended.words).strong());
        if after {
            for (is_there, color, rising, words) in [
                (added, ADDED_COLOR, true, said::WOOD_ADDED),
                (taken, TAKEN_COLOR, false, said::WOOD_TAKEN_AWAY),
            ] {
                if is_there {
                    hatch_sample_ui(ui, color, rising);
                    ui.label(RichText::new(words).small().color(palette.faint));
                }
            }
        }
    });
    if !mended.reshaped.is_empty() {
        ui.horizontal_top(|ui| {
            severity_ui(ui, 6.0, Severity::Chancy);
            words_ui(ui, words::mend::reshaped(&mended.reshaped));
        });
    }
    ui.horizontal(|ui| {
        for shows in [false, true] {
            let command = Command::ShowMended(shows);
            if ui.selectable_label(after == shows, command.label()).clicked() {
                commands.push(command);
            }
        }
        ui.separator();
        let apply = ui.add_enabled(changes, egui::Button::new(Command::ApplyMended.label()));
        if apply.on_hover_text(Command::ApplyMended.tooltip()).clicked() {
            commands.push(Command::ApplyMended);
        }
        if ui.button(Command::DropMended.label()).clicked() {
            commands.push(Command::DropMended);
        }
    });
}

/// A bit of the hatch that stands for what is named beside it.
fn hatch_sample_ui(ui: &mut egui::Ui, [r, g, b]: [u8; 3], rising: bool) {
    let (rect, _) = ui.allocate_exact_size(vec2(22.0, 12.0), Sense::hover());
    let color = Color32::from_rgb(r, g, b);
    let painter = ui.painter().with_clip_rect(rect);
    painter.rect(rect, 1.0, color.gamma_multiply(0.3), Stroke::new(1.5, color), StrokeKind::Inside);
    for i in 0..8 {
        let x = rect.left() - rect.height() + 5.0 * i as f32;
        let (from, to) = if rising { (rect.bottom(), rect.top()) } else { (rect.top(), rect.bottom()) };
        painter.line_segment([pos2(x, from), pos2(x + rect.height(), to)], Stroke::new(1.5, color));
    }
}
