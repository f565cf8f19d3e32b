//! The window of the record.

use crate::app::commands::command::Command;
use crate::app::record::list::list_ui;
use crate::app::record::plot::plot_ui;
use crate::app::record::view::RecordView;
use crate::app::widgets::form::{heading_ui, words_ui};
use crate::app::widgets::look::Palette;
use crate::app::widgets::window::window_ui;
use crate::app::work::scene::Scene;
use crate::job::{Edit, Trust};
use crate::proof::record::Told;
use crate::words;
use crate::words::window::record as said;
use egui::RichText;

/// The window, where it is open.
pub(crate) fn record_ui(
    ctx: &egui::Context,
    scene: &Scene,
    view: &mut RecordView,
    commands: &mut Vec<Command>,
) {
    let mut open = view.open;
    let window = egui::Window::new(said::WHAT_HELD).resizable(false).default_width(360.0);
    // The board must be seen, for its marks: it opens over the findings.
    let corner = egui::pos2(ctx.content_rect().right() - 8.0, scene.beside.y);
    window_ui(ctx, window.pivot(egui::Align2::RIGHT_TOP).default_pos(corner), &mut open, |ui| {
        ui.set_width(360.0);
        if view.rows.is_empty() {
            words_ui(ui, said::NO_WALL_IS_NEAR_ITS_LIMIT);
        } else {
            walls_ui(ui, scene, view, commands);
        }
        heading_ui(ui, said::ON_RECORD);
        on_record_ui(ui, view);
        heading_ui(ui, said::WHAT_COUNTS_AS_SOUND);
        trust_ui(ui, scene.job.trust(), commands);
    });
    view.open = open;
}

fn walls_ui(ui: &mut egui::Ui, scene: &Scene, view: &mut RecordView, commands: &mut Vec<Command>) {
    words_ui(ui, said::SAY_OF_EACH_WALL_WHETHER_IT_HELD);
    list_ui(ui, scene.unit, view);
    let counts = view.counts();
    ui.label(
        RichText::new(said::counted(view.rows.len(), counts)).small().color(Palette::of(ui.ctx()).faint),
    );
    ui.horizontal(|ui| {
        if ui.button(said::THE_REST_HELD).on_hover_text(said::EVERY_WALL_YOU_SAID_NOTHING_OF).clicked() {
            view.rest_held();
        }
        // What is not proofed yet, or only looked at, was not carved.
        let is_ready = counts != [0, 0] && scene.is_current && !scene.is_preview;
        let command = Command::KeepRecord;
        let keep = ui.add_enabled(is_ready, egui::Button::new(command.label()));
        if keep.on_hover_text(command.tooltip()).clicked() {
            commands.push(command);
        }
    });
}

/// From which chance on a wall is sound, and below which it is unsound. They never cross.
fn trust_ui(ui: &mut egui::Ui, trust: Trust, commands: &mut Vec<Command>) {
    let mut now = [trust.sound, trust.unsound].map(|chance| (100.0 * chance).round());
    let [sound, unsound] = now;
    let rows = [
        (said::SOUND_FROM, said::SOUND_FROM_A_CHANCE_OF, (unsound + 1.0)..=99.0),
        (said::UNSOUND_UNDER, said::UNSOUND_UNDER_A_CHANCE_OF, 1.0..=(sound - 1.0)),
    ];
    ui.horizontal(|ui| {
        for (percent, (caption, name, range)) in now.iter_mut().zip(rows) {
            ui.label(RichText::new(caption).small());
            let value =
                egui::DragValue::new(percent).range(range).speed(0.5).max_decimals(0).suffix(said::PER_CENT);
            ui.add(value).accessible_name(name);
        }
    });
    if now != [sound, unsound] {
        let [sound, unsound] = now.map(|percent| percent / 100.0);
        commands.push(Edit::Trust(Trust { sound, unsound }).into());
    }
}

/// What the cutters of this job learned, and whether chances come true.
fn on_record_ui(ui: &mut egui::Ui, view: &RecordView) {
    if view.told.is_empty() {
        words_ui(ui, said::NO_WALL_IS_ON_RECORD_YET);
        return;
    }
    for (cutter, experience) in &view.learned {
        words_ui(ui, words::record::experience(cutter, experience));
    }
    plot_ui(ui, &view.told);
    if !view.told.iter().any(Told::is_enough) {
        words_ui(ui, RichText::new(said::TOO_FEW_TO_SAY).small().color(Palette::of(ui.ctx()).faint));
    }
}
