//! How places are cleared: a small window, each edit one step that can be taken back.

use crate::app::commands::command::Command;
use crate::app::widgets::form::words_ui;
use crate::app::widgets::length_field::Lengths;
use crate::app::widgets::length_field::{Field, labelled_row_ui, length_row_ui};
use crate::app::widgets::look::Palette;
use crate::app::widgets::window::window_ui;
use crate::app::work::scene::Scene;
use crate::job::{Bridge, Clearing, ClearingDirection, Edit, Job};
use crate::shop::Shop;
use crate::units::Mm;
use crate::words::window::relief as said;
use egui::{ComboBox, DragValue, RichText};

/// The window's state.
#[derive(Default)]
pub(crate) struct ClearingWindow {
    pub(crate) open: bool,
    /// A share that is being dragged: it is set when the hand lets go, so that it is one step.
    held: Option<(&'static str, f64)>,
}

/// The window, where it is open.
pub(crate) fn clearing_ui(
    ctx: &egui::Context,
    scene: &Scene,
    clearing: &mut ClearingWindow,
    lengths: &mut Lengths,
    commands: &mut Vec<Command>,
) {
    let Scene { job, shop, unit, beside, .. } = *scene;
    let ClearingWindow { open, held } = clearing;
    let window = egui::Window::new(said::CLEARING).resizable(false).default_width(330.0);
    window_ui(ctx, window.default_pos(beside), open, |ui| {
        let palette = Palette::of(ui.ctx());
        words_ui(ui, said::HOW_THE_MACHINE_CLEARS_THE_LOWERED_PLACES);
        let now = job.clearing();
        let mut set = |clearing: Clearing| commands.push(Command::Edit(Edit::Clearing(Box::new(clearing))));
        larger_ui(ui, job, shop, &mut set);
        labelled_row_ui(ui, said::LINES, |ui| {
            for (direction, label, hint) in [
                (ClearingDirection::Along, said::ALONG, said::ALONG_THE_BOARD_WITH_THE_GRAIN),
                (ClearingDirection::Across, said::ACROSS, said::ACROSS_THE_BOARD),
            ] {
                let response = ui.selectable_label(now.direction == direction, label).on_hover_text(hint);
                if response.accessible_name(said::clearing_lines(label)).clicked() {
                    set(Clearing { direction, ..now.clone() });
                }
            }
        });
        let cutter = now.cutter.as_ref().unwrap_or(job.cutter());
        let share = Share { name: said::STEPOVER, own: cutter.stepover, most: 100.0 };
        let hint = said::FROM_ONE_CLEARING_LINE_TO_THE_NEXT;
        if let Some(stepover) = share_ui(ui, held, &share, now.stepover, hint) {
            set(Clearing { stepover, ..now.clone() });
        }
        let own = cutter.pass_depth.get() / cutter.shape.working_diameter().get().max(1e-9);
        let share = Share { name: said::PASS_DEPTH, own, most: 1000.0 };
        let hint = said::THE_DEEPEST_CUT_IN_ONE_PASS_AS;
        if let Some(pass_depth) = share_ui(ui, held, &share, now.pass_depth, hint) {
            set(Clearing { pass_depth, ..now.clone() });
        }
        let [apart, deep] = [now.lines_apart(cutter), now.pass_depth(cutter)].map(Mm::new);
        words_ui(ui, RichText::new(said::lines_apart(apart, deep, unit)).small().color(palette.faint));
        ui.separator();
        bridges_ui(ui, now, lengths, &mut set);
        ui.separator();
        if ui.add_enabled(!now.is_usual(), egui::Button::new(said::USUAL_CLEARING)).clicked() {
            set(Clearing::default());
        }
    });
}

/// Which larger cutter goes first.
fn larger_ui(ui: &mut egui::Ui, job: &Job, shop: &Shop, set: &mut impl FnMut(Clearing)) {
    const NONE: &str = said::NONE_ONE_CUTTER_DOES_IT_ALL;
    let now = job.clearing();
    labelled_row_ui(ui, said::FIRST, |ui| {
        ComboBox::from_id_salt("clearing cutter")
            .width(ui.available_width())
            .truncate()
            .selected_text(now.cutter.as_ref().map_or(NONE, |cutter| cutter.name.as_str()))
            .show_ui(ui, |ui| {
                if ui.selectable_label(now.cutter.is_none(), NONE).clicked() && now.cutter.is_some() {
                    set(Clearing { cutter: None, ..now.clone() });
                }
                let own = job.cutter().shape.working_diameter();
                for cutter in shop.cutters.iter().filter(|cutter| cutter.shape.working_diameter() > own) {
                    let chosen = now.cutter.as_ref().is_some_and(|now| now.id == cutter.id);
                    if ui.selectable_label(chosen, &cutter.name).clicked() && !chosen {
                        set(Clearing { cutter: Some(cutter.clone()), ..now.clone() });
                    }
                }
            })
            .response
            .on_hover_text(said::A_LARGER_CUTTER_CLEARS_FIRST_THE_JOBS)
            .accessible_name(said::LARGER_CLEARING_CUTTER);
    });
}

/// A share of the cutter's diameter.
struct Share {
    name: &'static str,
    /// The cutter's own.
    own: f64,
    /// In per cent.
    most: f64,
}

/// A share in per cent, or the cutter's own; the new one once a hand lets go.
#[expect(clippy::option_option, reason = "no edit, the cutter's own, or a share")]
fn share_ui(
    ui: &mut egui::Ui,
    held: &mut Option<(&'static str, f64)>,
    share: &Share,
    now: Option<f64>,
    hint: &str,
) -> Option<Option<f64>> {
    labelled_row_ui(ui, share.name, |ui| {
        let own_held = held.filter(|(name, _)| *name == share.name).map(|(_, value)| value);
        let mut percent = own_held.unwrap_or(100.0 * now.unwrap_or(share.own));
        let value =
            DragValue::new(&mut percent).range(1.0..=share.most).speed(0.5).max_decimals(1).suffix(" %");
        let response =
            ui.add(value.update_while_editing(false)).on_hover_text(hint).accessible_name(share.name);
        let mut entered = None;
        if response.changed() {
            *held = Some((share.name, percent));
        }
        if !response.dragged()
            && let Some((_, percent)) = held.take_if(|(name, _)| *name == share.name)
        {
            entered = Some(Some(percent / 100.0));
        }
        if now.is_some() {
            if ui.small_button(said::CUTTERS_OWN).clicked() {
                entered = Some(None);
            }
        } else {
            ui.label(RichText::new(said::THE_CUTTERS_OWN).small().color(Palette::of(ui.ctx()).faint));
        }
        entered
    })
}

/// What holds what is cut out.
fn bridges_ui(ui: &mut egui::Ui, now: &Clearing, lengths: &mut Lengths, set: &mut impl FnMut(Clearing)) {
    let bridge = now.bridge;
    let mut held = bridge.length > Mm::ZERO;
    let hint = said::WOOD_LEFT_UNDER_A_PIERCED_OUTLINE_TO;
    if ui.checkbox(&mut held, said::HOLDING_BRIDGES).on_hover_text(hint).changed() {
        let length = if held { Bridge::default().length } else { Mm::ZERO };
        set(Clearing { bridge: Bridge { length, ..bridge }, ..now.clone() });
    }
    if bridge.length <= Mm::ZERO {
        return;
    }
    let fields = [
        (Field { name: said::BRIDGE_LENGTH, caption: said::LENGTH, value: bridge.length }, 0),
        (Field { name: said::BRIDGE_HEIGHT, caption: said::HEIGHT, value: bridge.height }, 1),
        (Field { name: said::BRIDGES_APART, caption: said::APART, value: bridge.apart }, 2),
    ];
    for (field, which) in fields {
        if let Some(entered) = length_row_ui(ui, lengths, &field) {
            let mut bridge = bridge;
            match which {
                0 => bridge.length = entered,
                1 => bridge.height = entered,
                _ => bridge.apart = entered,
            }
            set(Clearing { bridge, ..now.clone() });
        }
    }
}
