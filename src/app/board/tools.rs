//! Tools on the canvas: the grid, the measure, and the screen's true size.

use crate::app::board::rulers;
use crate::app::commands::command::Command;
use crate::app::widgets::camera::{Camera, Lens};
use crate::app::widgets::form::words_ui;
use crate::app::widgets::look::Palette;
use crate::app::widgets::window::window_ui;
use crate::units::{LengthUnit, Mm};
use crate::words::window::board as said;
use egui::{Align2, FontId, Painter, PointerButton, Rect, Response, RichText, Sense, Stroke, pos2, vec2};
use glam::DVec2;

/// A bank card: 85.60 mm by 53.98 mm (ISO/IEC 7810, ID-1; from memory).
const CARD: [f32; 2] = [85.60, 53.98];
/// Pixels a millimetre of a screen nobody measured: 96 to the inch, what systems assume.
const ASSUMED: f32 = 96.0 / 25.4;
/// What screens have, from a wall of them to a telephone.
const DENSITIES: std::ops::RangeInclusive<f32> = 1.0..=30.0;

/// What the tools know from one frame to the next.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Tools {
    pub(crate) measuring: bool,
    /// The two ends of what is measured, board space.
    pub(crate) measured: Option<[DVec2; 2]>,
    pub(crate) calibrating: bool,
}

/// Lines where the rulers have their numbers, under everything but the board.
pub(crate) fn paint_grid(painter: &Painter, lens: Lens, unit: LengthUnit, palette: &Palette) {
    let canvas = painter.clip_rect();
    let (step, _) = rulers::steps(unit, lens.scale());
    let (low, high) = (lens.board(canvas.left_bottom()), lens.board(canvas.right_top()));
    let stroke = Stroke::new(1.0, palette.on_wood.gamma_multiply(0.28));
    // A ruler's numbers stand at least so far apart that these are a few dozen.
    for i in (low.x / step).ceil() as i64..=(high.x / step).floor() as i64 {
        let x = lens.screen(DVec2::new(i as f64 * step, 0.0)).x;
        painter.vline(x, canvas.y_range(), stroke);
    }
    for i in (low.y / step).ceil() as i64..=(high.y / step).floor() as i64 {
        let y = lens.screen(DVec2::new(0.0, i as f64 * step)).y;
        painter.hline(canvas.x_range(), y, stroke);
    }
}

/// Lets a hand measure; whether it has the pointer, so that the board does not move under it.
pub(crate) fn take_measure(response: &Response, lens: Lens, tools: &mut Tools) -> bool {
    if !tools.measuring {
        return false;
    }
    let Some(at) = response.interact_pointer_pos().map(|at| lens.board(at)) else { return true };
    if response.drag_started_by(PointerButton::Primary) {
        // Where the button went down, not where the pointer was when that counted as a drag.
        let from = response.ctx.input(|input| input.pointer.press_origin());
        let from = from.map_or(at, |from| lens.board(from));
        tools.measured = Some([from, at]);
    } else if response.dragged_by(PointerButton::Primary)
        && let Some([_, to]) = &mut tools.measured
    {
        *to = at;
    }
    !response.dragged_by(PointerButton::Middle)
}

/// Draws what is measured and says it.
pub(crate) fn measure_ui(ui: &mut egui::Ui, painter: &Painter, lens: Lens, tools: &Tools, unit: LengthUnit) {
    let Some([from, to]) = tools.measured.filter(|_| tools.measuring) else { return };
    let palette = Palette::of(ui.ctx());
    let run = (to - from).abs();
    let words = said::measured(Mm::new(run.length()), run.to_array().map(Mm::new), unit);
    let (a, b) = (lens.screen(from), lens.screen(to));
    let (under, over) = (Stroke::new(4.0, palette.card), Stroke::new(1.8, palette.accent));
    let across = (b - a).normalized().rot90() * 6.0;
    for stroke in [under, over] {
        painter.line_segment([a, b], stroke);
        for end in [a, b] {
            painter.line_segment([end - across, end + across], stroke);
        }
    }
    let canvas = painter.clip_rect();
    let galley = painter.layout_no_wrap(words.clone(), FontId::proportional(13.0), palette.ink);
    let place = a + 0.5 * (b - a) + vec2(0.0, -18.0);
    let room = canvas.shrink2(0.5 * galley.size() + vec2(6.0, 4.0));
    let place = if room.is_positive() { place.clamp(room.min, room.max) } else { canvas.center() };
    let rect = Align2::CENTER_CENTER.anchor_size(place, galley.size());
    painter.rect(
        rect.expand2(vec2(5.0, 2.0)),
        4.0,
        palette.card,
        Stroke::new(1.0, palette.accent),
        egui::StrokeKind::Outside,
    );
    painter.galley(rect.min, galley, palette.ink);
    let response = ui.interact(rect, ui.scope_id().with("measure"), Sense::hover());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, &words));
}

/// The camera that shows the board as large as it is, on a screen of known density.
pub(crate) fn true_size(now: Camera, pixels_per_mm: f32, ctx: &egui::Context) -> Camera {
    Camera { scale: f64::from(pixels_per_mm / ctx.pixels_per_point()), ..now }
}

/// The window in which a bank card is held against the screen, where it is open.
pub(crate) fn calibrate_ui(
    ctx: &egui::Context,
    beside: egui::Pos2,
    calibrating: &mut bool,
    pixels_per_mm: &mut Option<f32>,
    commands: &mut Vec<Command>,
) {
    let window = egui::Window::new(said::TRUE_SIZE_ON_THIS_SCREEN).default_pos(beside);
    window_ui(ctx, window.resizable(false), calibrating, |ui| {
        let palette = Palette::of(ui.ctx());
        let mut density = pixels_per_mm.unwrap_or(ASSUMED);
        let size = vec2(CARD[0], CARD[1]) * density / ctx.pixels_per_point();
        ui.set_max_width(size.x.max(380.0));
        words_ui(ui, said::HOLD_A_BANK_CARD_AGAINST_THE_SCREEN);
        ui.horizontal(|ui| {
            let slider = egui::Slider::new(&mut density, DENSITIES).show_value(false).logarithmic(true);
            ui.spacing_mut().slider_width = 240.0;
            if ui.add(slider).accessible_name(said::SIZE_OF_THE_CARD).changed() {
                *pixels_per_mm = Some(density);
            }
            for (sign, name, factor) in
                [("−", said::CARD_A_LITTLE_SMALLER, 1.0 / 1.002), ("+", said::CARD_A_LITTLE_LARGER, 1.002)]
            {
                if ui.button(sign).accessible_name(name).clicked() {
                    let finer = (density * factor).clamp(*DENSITIES.start(), *DENSITIES.end());
                    *pixels_per_mm = Some(finer);
                }
            }
        });
        let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
        let radius = 3.18 * density / ctx.pixels_per_point();
        ui.painter().rect(
            rect,
            radius,
            palette.button,
            Stroke::new(1.5, palette.ink),
            egui::StrokeKind::Inside,
        );
        let words = said::card_size(CARD);
        ui.painter().text(
            rect.center(),
            Align2::CENTER_CENTER,
            &words,
            FontId::proportional(14.0),
            palette.ink,
        );
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, said::card(CARD)));
        paint_rule(ui, rect, density / ctx.pixels_per_point(), palette);
        let source = said::CARDS_ISO_IEC_7810_ID_1_OR;
        words_ui(ui, RichText::new(source).small().color(palette.faint));
        if ui.button(said::SHOW_THE_BOARD_AT_TRUE_SIZE).clicked() {
            *pixels_per_mm = Some(density);
            commands.push(Command::TrueSize);
        }
    });
}

/// Centimetre marks under the card, for a rule.
fn paint_rule(ui: &mut egui::Ui, card: Rect, points_per_mm: f32, palette: &Palette) {
    let (rect, _) = ui.allocate_exact_size(vec2(card.width(), 16.0), Sense::hover());
    let painter = ui.painter();
    painter.hline(rect.x_range(), rect.top() + 2.0, Stroke::new(1.0, palette.ink));
    for mm in (0u8..=85).step_by(5) {
        let x = rect.left() + f32::from(mm) * points_per_mm;
        let long = if mm % 10 == 0 { 10.0 } else { 5.0 };
        painter.line_segment(
            [pos2(x, rect.top() + 2.0), pos2(x, rect.top() + 2.0 + long)],
            Stroke::new(1.0, palette.ink),
        );
    }
}
