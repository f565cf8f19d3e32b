//! Across the counter: the sizes side by side as they are carved, to one scale, with a price each. It fills the
//! screen, and nothing of the shop's is on it but what the carver chose to show.

use crate::app::commands::command::Command;
use crate::app::sizes::Shown;
use crate::app::widgets::look::Palette;
use crate::app::work::papers::Counter;
use crate::app::work::scene::Scene;
use crate::job::{Edit, Size};
use crate::proof::Severity;
use crate::proof::sizes::{RowKind, SizeRow, drawn};
use crate::words;
use crate::words::window::sizes as said;
use egui::{Button, Color32, CornerRadius, Layout, Painter, Rect, RichText, ScrollArea, Sense, pos2, vec2};

/// The narrowest column: a price has to fit.
const COLUMN: f32 = 210.0;
/// Room between two columns.
const GAP: f32 = 32.0;
/// Room for the words under the pictures.
const WORDS: f32 = 190.0;
/// Points a millimetre at most: a small piece is not blown up past what its picture shows.
const CLOSEST: f32 = 5.0;
/// How long a hand is, and how broad across the thumb, in millimetres: round values of our own.
const HAND: [f32; 2] = [190.0, 110.0];

/// The whole screen. `shown` are the last sizes; `None` where they are still worked out.
pub(crate) fn customer_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    shown: Option<&Shown>,
    shop_name: &str,
    counter: Counter,
    commands: &mut Vec<Command>,
) {
    let palette = Palette::of(ui.ctx());
    let frame = egui::Frame::new().fill(palette.panel).inner_margin(18);
    egui::Panel::top("customer head").frame(frame).show_separator_line(false).show(ui, |ui| {
        ui.horizontal(|ui| {
            ui.label(RichText::new(&scene.job.design().name).size(30.0).strong());
            ui.with_layout(Layout::right_to_left(egui::Align::Center), |ui| {
                let back =
                    Button::new(RichText::new(said::BACK_TO_THE_BENCH).color(palette.faint)).frame(false);
                if ui.add(back).clicked() {
                    commands.push(Command::FullScreen);
                }
                ui.label(RichText::new(shop_name).size(20.0).color(palette.faint));
            });
        });
    });
    egui::CentralPanel::default().show(ui, |ui| match shown {
        None => {
            ui.centered_and_justified(|ui| ui.label(RichText::new(said::WORKING_OUT_THE_SIZES).size(20.0)));
        }
        Some(shown) => shelf_ui(ui, scene, shown, counter, commands),
    });
}

/// The sizes that are on offer, each with the place of its picture.
fn on_offer(rows: &[SizeRow], counter: Counter) -> Vec<(usize, &SizeRow)> {
    let is_drawn = drawn(rows);
    let is_offered = |(index, row): &(usize, &SizeRow)| {
        // Nobody asked for the least sound size.
        let is_asked = row.kind != RowKind::LeastSound;
        is_asked && is_drawn[*index] && (counter.shows_unsound || can_be_had(row))
    };
    rows.iter().enumerate().filter(is_offered).collect()
}

fn can_be_had(row: &SizeRow) -> bool {
    row.severity() < Severity::Unsound
}

/// All of it on one shelf.
fn shelf_ui(ui: &mut egui::Ui, scene: &Scene, shown: &Shown, counter: Counter, commands: &mut Vec<Command>) {
    let offered = on_offer(&shown.rows, counter);
    if offered.is_empty() {
        ui.centered_and_justified(|ui| ui.label(RichText::new(said::NO_SIZE_TO_SHOW).size(20.0)));
        return;
    }
    #[expect(clippy::cast_possible_truncation, reason = "millimetres on a screen")]
    let sides: Vec<[f32; 2]> =
        offered.iter().map(|(_, row)| row.carved_part.size().to_array().map(|side| side as f32)).collect();
    let hand = counter.shows_hand.then_some(HAND);
    let tallest = sides.iter().map(|side| side[1]).chain(hand.map(|hand| hand[0])).fold(1.0, f32::max);
    let room = vec2(ui.available_width() - 2.0 * GAP, (ui.available_height() - WORDS).max(80.0));
    let across = |scale: f32| -> f32 {
        let columns: f32 = sides.iter().map(|side| (side[0] * scale).max(COLUMN) + GAP).sum();
        columns + hand.map_or(0.0, |hand| hand[1] * scale + GAP)
    };
    // As large as they go side by side; found by halving.
    let (mut low, mut high) = (0.05, (room.y / tallest).min(CLOSEST));
    for _ in 0..30 {
        let middle = 0.5 * (low + high);
        if across(middle) > room.x { high = middle } else { low = middle }
    }
    let scale = if across(high) <= room.x { high } else { low };
    ui.add_space(((room.y - tallest * scale) * 0.4).max(0.0));
    ScrollArea::horizontal().auto_shrink(false).show(ui, |ui| {
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = GAP;
            ui.add_space(((ui.available_width() - across(scale) - GAP) * 0.5).max(0.0));
            for ((index, row), side) in offered.iter().zip(&sides) {
                ui.vertical(|ui| {
                    let width = (side[0] * scale).max(COLUMN);
                    ui.set_width(width);
                    let size = [side[0] * scale, side[1] * scale, width, tallest * scale];
                    let carved =
                        shown.carved.get(*index).and_then(Option::as_ref).map(egui::TextureHandle::id);
                    picture_ui(ui, row, carved, size);
                    words_ui(ui, scene, row, counter, commands);
                });
            }
            if let Some([length, breadth]) = hand {
                ui.vertical(|ui| {
                    let size = vec2(breadth * scale, tallest * scale);
                    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
                    let name = said::A_HAND_FOR_SCALE;
                    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, name));
                    let from = pos2(rect.left(), rect.bottom() - length * scale);
                    paint_hand(ui.painter(), Rect::from_min_max(from, rect.right_bottom()), ui);
                });
            }
        });
    });
}

/// The carved part of a board, standing on the line that all stand on. `[w, h, column, row]` in points.
fn picture_ui(
    ui: &mut egui::Ui,
    row: &SizeRow,
    carved: Option<egui::TextureId>,
    [wide, tall, column, line]: [f32; 4],
) {
    let palette = Palette::of(ui.ctx());
    let (rect, response) = ui.allocate_exact_size(vec2(column, line), Sense::hover());
    let left = rect.center().x - wide * 0.5;
    let at = Rect::from_min_max(pos2(left, rect.bottom() - tall), pos2(left + wide, rect.bottom()));
    ui.painter().rect_filled(at.translate(vec2(3.0, 4.0)), 3.0, Color32::from_black_alpha(40));
    match carved {
        Some(carved) => {
            let [length, width] = [row.job.board().length.get(), row.job.board().width.get()];
            #[expect(clippy::cast_possible_truncation, reason = "shares of a picture")]
            let share = |x: f64, y: f64| pos2((x / length) as f32, (1.0 - y / width) as f32);
            let part = row.carved_part;
            let seen = Rect::from_min_max(share(part.min.x, part.max.y), share(part.max.x, part.min.y));
            let tint = if can_be_had(row) { Color32::WHITE } else { Color32::from_white_alpha(70) };
            ui.painter().image(carved, at, seen, tint);
        }
        None => drop(ui.painter().rect_filled(at, 3.0, palette.wood)),
    }
    let name = said::as_carved(words::sizes::name(&row.name));
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, &name));
}

/// Name, size, price, and a button to take it.
fn words_ui(ui: &mut egui::Ui, scene: &Scene, row: &SizeRow, counter: Counter, commands: &mut Vec<Command>) {
    let Scene { job, shop, unit, .. } = *scene;
    let palette = Palette::of(ui.ctx());
    let name = words::sizes::name(&row.name);
    ui.vertical_centered(|ui| {
        ui.spacing_mut().item_spacing.y = 4.0;
        ui.add_space(12.0);
        ui.label(RichText::new(name).size(20.0).strong());
        let size = words::sizes::measures([row.proof.length, row.proof.width], unit);
        ui.label(RichText::new(size).size(16.0));
        if !can_be_had(row) {
            ui.label(RichText::new(said::CANNOT_BE_HAD).size(15.0).color(palette.faint));
            return;
        }
        if !counter.hides_prices {
            let price = words::price::total(&row.price, &shop.prices.money, unit);
            ui.label(RichText::new(price).size(34.0).strong());
        }
        ui.add_space(4.0);
        let is_chosen = (job.factor() / row.proof.factor - 1.0).abs() < 1e-9;
        let label = if is_chosen { said::CHOSEN } else { said::CHOOSE_IT };
        let button = Button::new(RichText::new(label).size(17.0))
            .selected(is_chosen)
            .corner_radius(CornerRadius::same(8))
            .min_size(vec2(130.0, 36.0));
        if ui.add(button).accessible_name(said::choose_size(name)).clicked() && !is_chosen {
            commands.push(Command::Edit(Edit::Size(Size::Factor(row.proof.factor))));
        }
    });
}

/// A left hand, flat: a palm, four fingers and a thumb.
fn paint_hand(painter: &Painter, at: Rect, ui: &egui::Ui) {
    let palette = Palette::of(ui.ctx());
    let fill = palette.faint.gamma_multiply(0.35);
    // Shares of the hand's length down from its fingertips, and of its breadth from the little finger.
    let part = |x: [f32; 2], y: [f32; 2], round: f32| {
        let at_share = |x: f32, y: f32| pos2(at.left() + x * at.width(), at.top() + y * at.height());
        let rect = Rect::from_min_max(at_share(x[0], y[0]), at_share(x[1], y[1]));
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a corner of some points"
        )]
        let radius = (round * at.width()).clamp(0.0, 255.0) as u8;
        painter.rect_filled(rect, CornerRadius::same(radius), fill);
    };
    part([0.0, 0.16], [0.2, 0.62], 0.08);
    part([0.19, 0.36], [0.06, 0.6], 0.085);
    part([0.39, 0.56], [0.0, 0.6], 0.085);
    part([0.59, 0.76], [0.05, 0.6], 0.085);
    part([0.0, 0.76], [0.56, 1.0], 0.16);
    part([0.72, 1.0], [0.42, 0.78], 0.12);
}
