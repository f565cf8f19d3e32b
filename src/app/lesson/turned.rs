//! The same wall, turned against the grain: only the direction changes, and the limit with it.

use crate::app::widgets::look::Palette;
use crate::app::work::proofed::Proofed;
use crate::proof::wall::{Heading, Wall};
use crate::units::{LengthUnit, Mm};
use crate::words::lesson as said;
use egui::{Id, Label, Pos2, RichText, Sense, Shape, Slider, Stroke, StrokeKind, Vec2, vec2};

/// The picture, in points.
const PICTURE: Vec2 = Vec2::new(150.0, 96.0);
/// Lines of the grain in it.
const LINES: i32 = 9;

/// The wall, a slider that turns it, and what it must be.
pub(crate) fn turned_ui(ui: &mut egui::Ui, shown: &Proofed, unit: LengthUnit) {
    let id = Id::unique("turn of the lesson's wall");
    let mut degrees: f64 = ui.data(|data| data.get_temp(id)).unwrap_or(45.0);
    let limits = shown.proof.limits.usual();
    let needed = |degrees: f64| -> Mm {
        let wall = Wall::endless(limits.basis.height, Heading::of(degrees.to_radians()));
        limits.rule.limit(&wall).thickness
    };
    let [along, across] = [0.0, 90.0].map(needed);
    ui.label(RichText::new(said::TURN_THE_WALL).strong());
    ui.horizontal_top(|ui| {
        let (rect, response) = ui.allocate_exact_size(PICTURE, Sense::hover());
        let words = said::turned(degrees, needed(degrees), [along, across], unit);
        paint(ui, rect, degrees, needed(degrees) / along.max(across));
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, &words));
        ui.vertical(|ui| {
            ui.spacing_mut().slider_width = 200.0;
            let slider = Slider::new(&mut degrees, 0.0..=90.0).suffix("°").fixed_decimals(0);
            if ui.add(slider).accessible_name(said::TURN_OF_THE_WALL).changed() {
                ui.data_mut(|data| data.insert_temp(id, degrees));
            }
            ui.add(Label::new(words.as_str()).wrap());
        });
    });
    ui.add_space(6.0);
}

/// The wall from above over the lines of the grain, as thick as it must be; `share` of the thickest.
fn paint(ui: &egui::Ui, rect: egui::Rect, degrees: f64, share: f64) {
    let palette = Palette::of(ui.ctx());
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    painter.rect_filled(rect, 3.0, palette.bench);
    for line in 1..LINES {
        let y = rect.top() + rect.height() * line as f32 / LINES as f32;
        painter.hline(rect.x_range(), y, Stroke::new(1.0, palette.faint.gamma_multiply(0.5)));
    }
    #[expect(clippy::cast_possible_truncation, reason = "an angle and a share on a screen")]
    let (turn, thick) = (-degrees.to_radians() as f32, 22.0 * share as f32);
    let along = Vec2::angled(turn);
    let (reach, side) = (along * 52.0, along.rot90() * thick * 0.5);
    let middle = rect.center();
    let corners: Vec<Pos2> =
        [reach + side, reach - side, -reach - side, side - reach].map(|by| middle + by).to_vec();
    painter.add(Shape::convex_polygon(corners, palette.wood, Stroke::new(1.0, palette.on_wood)));
    ui.painter().rect_stroke(
        rect.expand2(vec2(0.5, 0.5)),
        3.0,
        Stroke::new(1.0, palette.line),
        StrokeKind::Inside,
    );
}
