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

/// A mark that has its place on the screen, and how many more lie where it does.
struct Placed<'a> {
    marked: Marked<'a>,
    rect: Rect,
    more: usize,
}

/// Marks findings, worst first and the chosen one before all. Those that would cover another are one with it, and their
/// number stands beside it; what would cover what is `taken` already, or the canvas's edge, is left out. The id of the
/// finding whose mark was clicked.
pub(crate) fn marks_ui<'a>(
    ui: &mut egui::Ui,
    painter: &Painter,
    marked: impl Iterator<Item = Marked<'a>>,
    taken: &[Rect],
    chosen: Option<&str>,
    unit: LengthUnit,
) -> Option<String> {
    let is_chosen = |finding: &Finding| chosen == Some(finding.id.as_str());
    let mut clicked = None;
    for placed in &placed(painter.clip_rect(), marked, taken, is_chosen) {
        if mark_ui(ui, painter, placed, is_chosen(placed.marked.finding), unit).clicked() {
            clicked = Some(placed.marked.finding.id.clone());
        }
        if placed.more > 0 {
            more_ui(ui, painter, placed);
        }
    }
    clicked
}

/// The marks that have room, and how many lie together with each. Findings times marks in sight.
fn placed<'a>(
    canvas: Rect,
    marked: impl Iterator<Item = Marked<'a>>,
    taken: &[Rect],
    is_chosen: impl Fn(&Finding) -> bool,
) -> Vec<Placed<'a>> {
    let (chosen, others): (Vec<_>, Vec<_>) = marked.partition(|marked| is_chosen(marked.finding));
    let mut all: Vec<Placed> = Vec::new();
    for marked in chosen.into_iter().chain(others) {
        let rect = Badge::rect(marked.spot + vec2(0.0, -26.0));
        let room = with_number(rect);
        if !canvas.contains_rect(rect) {
            continue;
        }
        if let Some(placed) = all.iter_mut().find(|placed| with_number(placed.rect).intersects(room)) {
            placed.more += 1;
        } else if !taken.iter().any(|other| other.intersects(room)) {
            all.push(Placed { marked, rect, more: 0 });
        }
    }
    all
}

/// A mark's room with that of the number beside it.
fn with_number(mark: Rect) -> Rect {
    Rect::from_min_max(mark.min, mark.max + vec2(14.0, 4.0))
}

fn mark_ui(
    ui: &mut egui::Ui,
    painter: &Painter,
    placed: &Placed,
    is_chosen: bool,
    unit: LengthUnit,
) -> egui::Response {
    let palette = Palette::of(ui.ctx());
    let Placed { marked: Marked { index, finding, spot }, rect, .. } = placed;
    painter.line_segment([rect.center_bottom(), *spot], Stroke::new(1.5, palette.on_wood));
    painter.circle_filled(*spot, 2.0, palette.on_wood);
    Badge { number: index + 1, kind: finding.kind(), chosen: is_chosen }.paint(painter, rect.center());
    let id = ui.scope_id().with(("mark", &finding.id));
    let response = ui.interact(*rect, id, Sense::click());
    let name = said::mark(index + 1, finding);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &name));
    if response.has_focus() {
        painter.rect_stroke(rect.expand(2.0), 5.0, Stroke::new(2.0, palette.accent), StrokeKind::Outside);
    }
    response.on_hover_cursor(egui::CursorIcon::PointingHand).on_hover_ui(|ui| {
        ui.label(words::finding::message(finding, unit));
        let advice = words::finding::advice(finding, unit);
        if !advice.is_empty() {
            ui.label(advice);
        }
    })
}

/// How many more lie where a mark does, in its lower right corner.
fn more_ui(ui: &mut egui::Ui, painter: &Painter, placed: &Placed) {
    let palette = Palette::of(ui.ctx());
    let Placed { marked, rect, more } = placed;
    let font = FontId::proportional(10.0);
    let galley = painter.layout_no_wrap(words::finding::more_marks(*more), font, palette.ink);
    let at = rect.right_bottom() + vec2(-8.0, -9.0);
    let pill = Rect::from_min_size(at, galley.size()).expand2(vec2(3.0, 0.5));
    painter.rect(pill, 5.0, palette.card, Stroke::new(1.0, palette.line), StrokeKind::Inside);
    painter.galley(at, galley, palette.ink);
    let id = ui.scope_id().with(("more at the mark", &marked.finding.id));
    let response = ui.interact(pill, id, Sense::hover());
    let name = said::more_at_the_mark(*more, marked.index + 1);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, &name));
    response.on_hover_text(said::more_at_the_mark_hover(*more));
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
