//! Marks on the board at the walls of which it can be said whether they held: a click says it.

use crate::app::record::view::RecordView;
use crate::app::widgets::camera::Lens;
use crate::app::widgets::look::{Palette, paint_severity};
use crate::proof::Severity;
use crate::units::LengthUnit;
use crate::words::window::record as said;
use egui::{Align2, FontId, Painter, Rect, Sense, Stroke, StrokeKind, Vec2};

/// Half of what a mark takes of the screen, in points: a finger's width for the hand of a shop's touch screen is
/// more, but walls lie close together.
const RADIUS: f32 = 9.0;

/// A ring with a question mark, a tick or a cross at each wall; one that would cover another is left out.
pub(crate) fn marks_ui(
    ui: &mut egui::Ui,
    painter: &Painter,
    lens: Lens,
    unit: LengthUnit,
    view: &mut RecordView,
) {
    let palette = Palette::of(ui.ctx());
    let canvas = painter.clip_rect();
    let mut taken: Vec<Rect> = Vec::new();
    let mut clicked = None;
    for (index, row) in view.rows.iter().enumerate() {
        let spot = lens.screen(row.at);
        let rect = Rect::from_center_size(spot, Vec2::splat(2.0 * RADIUS));
        if !canvas.contains_rect(rect) || taken.iter().any(|other| other.intersects(rect)) {
            continue;
        }
        taken.push(rect);
        let held = view.said.get(&row.id).copied();
        match held {
            Some(true) => paint_severity(painter, spot, RADIUS - 1.0, Severity::Sound),
            Some(false) => paint_severity(painter, spot, RADIUS - 1.0, Severity::Unsound),
            None => {
                painter.circle(spot, RADIUS - 1.0, palette.card, Stroke::new(1.5, palette.ink));
                let font = FontId::proportional(12.0);
                painter.text(spot, Align2::CENTER_CENTER, said::NOT_SAID_MARK, font, palette.ink);
            }
        }
        let response = ui.interact(rect, ui.scope_id().with(("carved wall", &row.id)), Sense::click());
        let name = said::mark(index + 1, row, held, unit);
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &name));
        if response.has_focus() {
            painter.rect_stroke(rect.expand(2.0), 5.0, Stroke::new(2.0, palette.accent), StrokeKind::Outside);
        }
        if response.on_hover_cursor(egui::CursorIcon::PointingHand).on_hover_text(&name).clicked() {
            clicked = Some(row.id.clone());
        }
    }
    if let Some(id) = clicked {
        view.turn(&id);
    }
}
