//! Where the light comes from: a dial for its side, and how high it stands.

use crate::app::widgets::look::{ORANGE, Palette};
use crate::words::window::relief as said;
use egui::{DragValue, Sense, Stroke, Vec2, vec2};
use std::f64::consts::TAU;

/// The light on the surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Light {
    /// Round the board, degrees counter-clockwise from its right end.
    pub(crate) around: f64,
    /// How high it stands, degrees.
    pub(crate) up: f64,
}

impl Default for Light {
    /// From the upper left, as drawings are lit; low enough that edges throw a shadow.
    fn default() -> Light {
        Light { around: 135.0, up: 43.0 }
    }
}

/// The dial, and its two numbers.
pub(crate) fn light_ui(ui: &mut egui::Ui, light: &mut Light) {
    dial_ui(ui, light);
    let around = DragValue::new(&mut light.around).range(0.0..=360.0).speed(1.0).max_decimals(0).suffix("°");
    ui.add(around).on_hover_text(said::THE_SIDE_THE_LIGHT_COMES_FROM_0).accessible_name(said::LIGHT_SIDE);
    let up = DragValue::new(&mut light.up).range(8.0..=88.0).speed(0.5).max_decimals(0).suffix(said::UP);
    ui.add(up).on_hover_text(said::HOW_HIGH_THE_LIGHT_IS_LOW_LIGHT).accessible_name(said::LIGHT_HEIGHT);
}

/// A small round picture of the board's surroundings with the light in it; a hand drags the light round.
fn dial_ui(ui: &mut egui::Ui, light: &mut Light) {
    const RADIUS: f32 = 11.0;
    let palette = Palette::of(ui.ctx());
    let (rect, response) = ui.allocate_exact_size(Vec2::splat(2.0 * RADIUS + 2.0), Sense::click_and_drag());
    let middle = rect.center();
    if let Some(pointer) = response.interact_pointer_pos() {
        let off = pointer - middle;
        if off.length() > 2.0 {
            light.around = f64::from(-off.y).atan2(f64::from(off.x)).rem_euclid(TAU).to_degrees().round();
            // Near the middle it stands high.
            light.up = f64::from(90.0 - 82.0 * (off.length() / RADIUS).min(1.0)).clamp(8.0, 88.0).round();
        }
    }
    let painter = ui.painter();
    painter.circle(middle, RADIUS, palette.card, Stroke::new(1.0, palette.line));
    painter.rect_filled(egui::Rect::from_center_size(middle, vec2(9.0, 4.0)), 1.0, palette.wood);
    let angle = light.around.to_radians();
    let far = RADIUS * ((90.0 - light.up) / 82.0).clamp(0.3, 1.0) as f32;
    let at = middle + far * vec2(angle.cos() as f32, -angle.sin() as f32);
    painter.line_segment([middle, at], Stroke::new(1.0, palette.faint));
    painter.circle(at, 4.0, ORANGE, Stroke::new(1.0, palette.ink));
    response
        .on_hover_text(said::DRAG_THE_LIGHT_ROUND_THE_BOARD_NEAR)
        .widget_info(|| egui::WidgetInfo::labeled(egui::Role::GenericContainer, true, said::LIGHT_DIAL));
}
