//! Figures on the screen: a figure of the lesson, two halves in one scale, and a wall as it stands.

use crate::app::widgets::look::{Palette, VERMILLION};
use crate::geometry;
use crate::sheet::lesson::{Figure, Half, Ink, Label as Note, Shape, StandingWall};
use crate::words::lesson as said;
use egui::{
    Align2, Color32, FontId, Label, Painter, Pos2, Rect, RichText, Sense, Stroke, StrokeKind, TextStyle,
    pos2, vec2,
};
use glam::DVec2;

/// Room between the halves.
const GAP: f32 = 10.0;

/// A figure `width` points wide, its halves no taller than `tallest`.
pub(crate) fn figure_ui(ui: &mut egui::Ui, figure: &Figure, width: f32, tallest: f32) {
    let palette = Palette::of(ui.ctx());
    ui.label(RichText::new(figure.title).strong());
    let size = figure.frame.size();
    let half = (width - GAP) / 2.0;
    let scale = (half / size.x as f32).min(tallest / size.y as f32);
    let drawn = vec2(size.x as f32, size.y as f32) * scale;
    let font = small_font(ui);
    let line = font.size + 4.0;
    let (whole, response) = ui.allocate_exact_size(vec2(width, drawn.y + line), Sense::hover());
    for (index, half_drawing) in figure.halves.iter().enumerate() {
        let left = whole.left() + index as f32 * (half + GAP);
        ui.painter().text(
            pos2(left + 0.5 * half, whole.top()),
            Align2::CENTER_TOP,
            &half_drawing.caption,
            font.clone(),
            palette.faint,
        );
        let corner = pos2(left + 0.5 * (half - drawn.x), whole.top() + line);
        paint_half(ui, figure.frame, half_drawing, Rect::from_min_size(corner, drawn));
    }
    let words = said::figure(figure.title, &figure.words);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, &words));
    ui.add(Label::new(RichText::new(&figure.words).small()).wrap());
}

/// A drawing by itself, as wide as there is room for and no taller than `tallest`; what a screen reader says of it.
pub(crate) fn drawing_ui(ui: &mut egui::Ui, drawing: &StandingWall, tallest: f32, words: &str) {
    let size = drawing.frame.size();
    let room = ui.available_width();
    let scale = (room / size.x as f32).min(tallest / size.y as f32);
    let drawn = vec2(size.x as f32, size.y as f32) * scale;
    let (whole, response) = ui.allocate_exact_size(vec2(room, drawn.y), Sense::hover());
    paint_half(ui, drawing.frame, &drawing.half, Rect::from_center_size(whole.center(), drawn));
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, words));
}

/// The type of captions: 12 points where text has its usual size, and more where the text beside it is larger.
fn small_font(ui: &egui::Ui) -> FontId {
    FontId::proportional(TextStyle::Small.resolve(ui.style()).size)
}

/// One half of a figure within a place of the screen.
fn paint_half(ui: &egui::Ui, frame: geometry::Rect, half: &Half, rect: Rect) {
    let palette = Palette::of(ui.ctx());
    let scale = rect.width() / frame.size().x as f32;
    let place = |at: DVec2| {
        let from_corner = DVec2::new(at.x - frame.min.x, frame.max.y - at.y) * f64::from(scale);
        rect.min + vec2(from_corner.x as f32, from_corner.y as f32)
    };
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    for shape in &half.shapes {
        paint_shape(&painter, shape, &place, palette);
    }
    ui.painter().rect_stroke(rect, 2.0, Stroke::new(1.0, palette.line), StrokeKind::Inside);
    for note in &half.labels {
        paint_note(ui, note, &place, rect, palette);
    }
}

fn paint_shape(painter: &Painter, shape: &Shape, place: &dyn Fn(DVec2) -> Pos2, palette: &Palette) {
    let points: Vec<Pos2> = shape.points.iter().map(|point| place(*point)).collect();
    let convex = |fill: Color32, stroke: Stroke| {
        painter.add(egui::Shape::convex_polygon(points.clone(), fill, stroke));
    };
    match shape.ink {
        Ink::Wood => convex(palette.wood, Stroke::new(1.0, palette.on_wood.gamma_multiply(0.7))),
        Ink::Floor => convex(palette.bench, Stroke::NONE),
        Ink::Cutter => {
            convex(palette.card.gamma_multiply(0.85), Stroke::new(1.5, palette.ink.gamma_multiply(0.8)));
        }
        Ink::Limit => {
            // On a light ground, so that it is seen on dark and on wood.
            painter.line_segment([points[0], points[1]], Stroke::new(3.5, palette.card.gamma_multiply(0.6)));
            painter.extend(egui::Shape::dashed_line(&points, Stroke::new(2.0, VERMILLION), 6.0, 4.0));
        }
        Ink::Grain => {
            painter.line_segment([points[0], points[1]], Stroke::new(1.0, palette.faint.gamma_multiply(0.5)));
        }
        Ink::Push => convex(palette.accent, Stroke::new(1.0, palette.card)),
        Ink::Lost => {
            convex(palette.card, Stroke::new(1.0, VERMILLION));
            for line in hatch(&points, 6.0) {
                painter.line_segment(line, Stroke::new(1.5, VERMILLION));
            }
        }
    }
}

/// Slanting lines inside a convex polygon, so many points apart.
fn hatch(corners: &[Pos2], apart: f32) -> Vec<[Pos2; 2]> {
    let height = |point: Pos2| point.x + point.y;
    let heights = corners.iter().map(|corner| height(*corner));
    let (low, high) = heights.fold((f32::MAX, f32::MIN), |(low, high), h| (low.min(h), high.max(h)));
    let step = apart * std::f32::consts::SQRT_2;
    let sides = || corners.iter().zip(corners.iter().cycle().skip(1));
    let mut lines = Vec::new();
    let mut at = low + 0.5 * step;
    while at < high && lines.len() < 400 {
        let ends: Vec<Pos2> = sides()
            .filter_map(|(a, b)| {
                let (from, to) = (height(*a), height(*b));
                let share = (at - from) / (to - from);
                (from != to && (0.0..1.0).contains(&share)).then(|| *a + share * (*b - *a))
            })
            .collect();
        if let [a, b] = ends[..] {
            lines.push([a, b]);
        }
        at += step;
    }
    lines
}

/// Words at their place, as far as they go into the drawing; those that are too long for it stick out evenly.
fn paint_note(ui: &egui::Ui, note: &Note, place: &dyn Fn(DVec2) -> Pos2, within: Rect, palette: &Palette) {
    let painter = ui.painter();
    let galley = painter.layout_no_wrap(note.words.clone(), small_font(ui), palette.ink);
    let room = within.shrink2(0.5 * galley.size() + vec2(5.0, 2.0));
    let mut middle = place(note.at);
    middle.x = if room.width() > 0.0 { middle.x.clamp(room.left(), room.right()) } else { within.center().x };
    middle.y =
        if room.height() > 0.0 { middle.y.clamp(room.top(), room.bottom()) } else { within.center().y };
    let rect = Align2::CENTER_CENTER.anchor_size(middle, galley.size());
    painter.rect_filled(rect.expand2(vec2(4.0, 1.0)), 3.0, palette.card.gamma_multiply(0.85));
    painter.galley(rect.min, galley, palette.ink);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hatches_stay_inside() {
        let square = [pos2(0.0, 0.0), pos2(20.0, 0.0), pos2(20.0, 20.0), pos2(0.0, 20.0)];
        let lines = hatch(&square, 4.0);
        // A square's diagonal over the distance between lines.
        assert_eq!(lines.len(), 7);
        for end in lines.iter().flatten() {
            assert!((-1e-3..=20.001).contains(&end.x) && (-1e-3..=20.001).contains(&end.y), "{end:?}");
        }
    }
}
