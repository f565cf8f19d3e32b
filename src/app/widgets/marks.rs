//! Numbered marks over the findings, on the board and on the carved surface.

use crate::app::widgets::look::{Badge, Palette};
use crate::proof::Finding;
use crate::units::LengthUnit;
use crate::words;
use crate::words::window::widgets as said;
use egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Sense, Shape, Stroke, StrokeKind, vec2};

/// A finding that may bear a mark: its place in the list, and where it is on the screen.
pub(crate) struct Marked<'a> {
    pub(crate) index: usize,
    pub(crate) finding: &'a Finding,
    pub(crate) spot: Pos2,
}

/// Marks findings, worst first and the chosen one before all; one that would cover another, what is `taken`
/// already, or the canvas's edge is left out. The id of the finding whose mark was clicked.
pub(crate) fn marks_ui<'a>(
    ui: &mut egui::Ui,
    painter: &Painter,
    marked: impl Iterator<Item = Marked<'a>>,
    mut taken: Vec<Rect>,
    chosen: Option<&str>,
    unit: LengthUnit,
) -> Option<String> {
    let palette = Palette::of(ui.ctx());
    let canvas = painter.clip_rect();
    let is_chosen = |finding: &Finding| chosen == Some(finding.id.as_str());
    let mut clicked = None;
    let (chosen, others): (Vec<_>, Vec<_>) = marked.partition(|marked| is_chosen(marked.finding));
    for Marked { index, finding, spot } in chosen.into_iter().chain(others) {
        let badge = Badge { number: index + 1, kind: finding.kind(), chosen: is_chosen(finding) };
        let center = spot + vec2(0.0, -26.0);
        let rect = Badge::rect(center);
        if !canvas.contains_rect(rect) || taken.iter().any(|other| other.intersects(rect)) {
            continue;
        }
        taken.push(rect.expand(1.0));
        painter.line_segment([rect.center_bottom(), spot], Stroke::new(1.5, palette.on_wood));
        painter.circle_filled(spot, 2.0, palette.on_wood);
        badge.paint(painter, center);
        let id = ui.scope_id().with(("mark", &finding.id));
        let response = ui.interact(rect, id, Sense::click());
        let name = said::mark(index + 1, finding);
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &name));
        if response.has_focus() {
            painter.rect_stroke(rect.expand(2.0), 5.0, Stroke::new(2.0, palette.accent), StrokeKind::Outside);
        }
        let response = response.on_hover_cursor(egui::CursorIcon::PointingHand).on_hover_ui(|ui| {
            ui.label(words::finding::message(finding, unit));
            let advice = words::finding::advice(finding, unit);
            if !advice.is_empty() {
                ui.label(advice);
            }
        });
        if response.clicked() {
            clicked = Some(finding.id.clone());
        }
    }
    clicked
}

/// The corners of a sheet as they are marked, numbered, and the lines between them; closed once there are all four.
pub(crate) fn paint_corners(painter: &Painter, points: &[Pos2], stroke: Stroke) {
    if points.len() == 4 {
        painter.add(Shape::closed_line(points.to_vec(), stroke));
    } else {
        painter.add(Shape::line(points.to_vec(), stroke));
    }
    for (index, point) in points.iter().enumerate() {
        painter.circle(*point, 9.0, Color32::WHITE, stroke);
        let font = FontId::proportional(12.0);
        painter.text(*point, Align2::CENTER_CENTER, index + 1, font, Color32::BLACK);
    }
}
