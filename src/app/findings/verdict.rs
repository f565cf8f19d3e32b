//! The verdict, always in sight: a sign, a sentence, and the least that would help, as a button.

use crate::app::commands::command::Command;
use crate::app::widgets::look::{Palette, severity_color, severity_ui};
use crate::app::work::advised::{Advised, Offered};
use crate::app::work::scene::Scene;
use crate::words;
use crate::words::window::findings as said;
use egui::{Button, Label, Response, RichText};

/// How large the sentence is, in points, and how large where it would be cut off.
const LARGE: f32 = 17.0;
const SMALLER: f32 = 13.5;

/// Whether words of this size have room in one line.
fn fits(ui: &egui::Ui, words: &str, size: f32) -> bool {
    let font = egui::FontId::proportional(size);
    let laid = ui.painter().layout_no_wrap(words.to_owned(), font, egui::Color32::PLACEHOLDER);
    laid.size().x <= ui.available_width()
}

/// A line of the verdict over a line of advice, in points.
const HEIGHT: f32 = 44.0;

/// How much of the line is left to the button for the other ways.
const OTHER_WAYS_WIDTH: f32 = 110.0;

/// The strip under the menu. `looked_at` is the offer whose preview is shown.
pub(crate) fn verdict_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    advised: Option<&Advised>,
    looked_at: Option<usize>,
    commands: &mut Vec<Command>,
) {
    let Scene { shown, unit, is_current: current, .. } = *scene;
    let palette = Palette::of(ui.ctx());
    let verdict = &shown.proof.verdict;
    let mut sentence = words::verdict::sentence(verdict, unit);
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
            let offers = advised.map_or(&[][..], |advised| &advised.offers);
            let advice = second_line(scene, advised);
            if offers.is_empty() && advice.is_empty() {
                ui.add_space(9.0);
            }
            // What does not fit on its line is in the hover.
            // In a narrow window, or with large text, the whole of it is worth more than its size.
            let size = if fits(ui, &sentence, LARGE) { LARGE } else { SMALLER };
            let sentence = RichText::new(&sentence).size(size).strong();
            ui.add(Label::new(sentence).truncate());
            if let Some((best, others)) = offers.split_first() {
                ui.horizontal(|ui| {
                    // As high as a line of words: the strip must not grow.
                    ui.spacing_mut().interact_size.y = 18.0;
                    ui.spacing_mut().button_padding.y = 1.0;
                    offers_ui(ui, scene, best, others, looked_at, commands);
                });
            } else if !advice.is_empty() {
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

/// What is said where nothing is offered: what forbids it, or what there is to know.
fn second_line(scene: &Scene, advised: Option<&Advised>) -> String {
    match advised.and_then(|advised| advised.nearest.as_ref()) {
        Some(nearest) => words::advice::nearest(nearest, false, &scene.shop.prices.money, scene.unit),
        None => words::verdict::advice(&scene.shown.proof.verdict, scene.unit),
    }
}

/// The best offer as a button, and the others under one.
fn offers_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    best: &Offered,
    others: &[Offered],
    looked_at: Option<usize>,
    commands: &mut Vec<Command>,
) {
    let room = ui.available_width() - if others.is_empty() { 0.0 } else { OTHER_WAYS_WIDTH };
    let mut looks_at = None;
    let label = words::advice::changes(&best.offer, scene.unit);
    let button = ui
        .scope(|ui| {
            ui.set_max_width(room);
            ui.add(Button::new(&label).small().truncate())
        })
        .inner;
    offer_ui(scene, best, 0, &label, &button, &mut looks_at, commands);
    if !others.is_empty() {
        let menu = ui.menu_button(RichText::new(said::OTHER_WAYS).small(), |ui| {
            for (index, other) in (1..).zip(others) {
                let label = words::advice::changes(&other.offer, scene.unit);
                let button = ui.button(&label);
                offer_ui(scene, other, index, &label, &button, &mut looks_at, commands);
            }
        });
        menu.response.on_hover_text(said::OTHER_WAYS_TIP);
    }
    if looks_at != looked_at {
        commands.push(Command::LookAtOffer(looks_at));
    }
}

/// What a button of an offer does: a look while the pointer or the keys are on it, and the change where it is
/// pressed.
fn offer_ui(
    scene: &Scene,
    offered: &Offered,
    index: usize,
    label: &str,
    button: &Response,
    looks_at: &mut Option<usize>,
    commands: &mut Vec<Command>,
) {
    button.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, label));
    if button.hovered() || button.has_focus() {
        *looks_at = Some(index);
    }
    if button.clicked() {
        commands.push(Command::ApplyOffer(index));
        *looks_at = None;
    }
    let whole = words::advice::offer(&offered.offer, &scene.shop.prices.money, scene.unit);
    button.clone().on_hover_text(whole);
}
