//! How the finished piece moves with the seasons: its change of width between two climates.

use crate::app::widgets::form::words_ui;
use crate::app::widgets::length_field::labelled_row_ui;
use crate::app::widgets::look::Palette;
use crate::app::widgets::window::window_ui;
use crate::app::work::proofed::Proofed;
use crate::app::work::scene::Scene;
use crate::shop::{Climate, Wood};
use crate::units::{DegreeUnit, LengthUnit};
use crate::words::window::findings as said;
use egui::RichText;

/// What is being compared. It is no part of a job.
pub(crate) struct Seasons {
    pub(crate) open: bool,
    from: Climate,
    to: Climate,
    /// `None` goes with the unit of length.
    degrees: Option<DegreeUnit>,
}

impl Default for Seasons {
    /// A heated room in winter and a porch in summer: only a place to start.
    fn default() -> Seasons {
        Seasons {
            open: false,
            from: Climate { celsius: 20.0, humidity: 0.35 },
            to: Climate { celsius: 22.0, humidity: 0.7 },
            degrees: None,
        }
    }
}

/// Air that wood hangs in, degrees Celsius.
const CELSIUS: std::ops::RangeInclusive<f64> = -30.0..=60.0;
/// Moisture contents between which the coefficients hold, per cent (Wood Handbook ch. 13).
const HOLDS: std::ops::RangeInclusive<f64> = 6.0..=14.0;

/// The window, where it is open.
pub(crate) fn seasons_ui(ctx: &egui::Context, scene: &Scene, seasons: &mut Seasons) {
    let Scene { shown, unit, beside, .. } = *scene;
    let mut open = seasons.open;
    let window = egui::Window::new(said::SEASONS).resizable(false).default_width(400.0);
    window_ui(ctx, window.default_pos(beside), &mut open, |ui| {
        let palette = Palette::of(ui.ctx());
        let degrees = seasons.degrees.unwrap_or(DegreeUnit::beside(unit));
        words_ui(ui, said::WOOD_TAKES_UP_WATER_FROM_DAMP_AIR);
        for (name, climate) in [(said::FROM, &mut seasons.from), (said::TO, &mut seasons.to)] {
            climate_ui(ui, name, climate, degrees);
        }
        labelled_row_ui(ui, said::DEGREES, |ui| {
            for choice in [DegreeUnit::Celsius, DegreeUnit::Fahrenheit] {
                if ui.selectable_label(degrees == choice, choice.symbol()).clicked() {
                    seasons.degrees = Some(choice);
                }
            }
        });
        ui.separator();
        let wood = shown.job.wood();
        for line in answer(wood, shown, seasons, unit) {
            words_ui(ui, line);
        }
        let source = if wood.movement(shown.job.board().sawn).is_some() {
            said::moisture_and_movement_source(&wood.name, &wood.movement_source)
        } else {
            said::MOISTURE_BY_WOOD_HANDBOOK_EQ_4_5.to_owned()
        };
        words_ui(ui, RichText::new(source).small().color(palette.faint));
    });
    seasons.open = open;
}

fn climate_ui(ui: &mut egui::Ui, name: &str, climate: &mut Climate, degrees: DegreeUnit) {
    labelled_row_ui(ui, name, |ui| {
        let mut number = degrees.number(climate.celsius);
        let range = degrees.number(*CELSIUS.start())..=degrees.number(*CELSIUS.end());
        let value = egui::DragValue::new(&mut number)
            .range(range)
            .speed(0.2)
            .max_decimals(1)
            .suffix(format!(" {}", degrees.symbol()));
        if ui.add(value).accessible_name(said::temperature(name)).changed() {
            climate.celsius = degrees.celsius(number);
        }
        let mut percent = climate.humidity * 100.0;
        let value = egui::DragValue::new(&mut percent)
            .range(0.0..=100.0)
            .speed(0.2)
            .max_decimals(1)
            .suffix(said::HUMIDITY);
        if ui.add(value).accessible_name(said::humidity(name)).changed() {
            climate.humidity = percent / 100.0;
        }
    });
}

/// The answer, a line a sentence.
fn answer(wood: &Wood, shown: &Proofed, seasons: &Seasons, unit: LengthUnit) -> Vec<String> {
    let (from, to) = (seasons.from.moisture_content(), seasons.to.moisture_content());
    let mut lines = vec![said::moisture_then(from, to)];
    let sawn = shown.job.board().sawn;
    let Some(share) = wood.movement(sawn) else {
        lines.push(said::movement_not_known(&wood.name, sawn));
        return lines;
    };
    let (piece, board) = (shown.proof.width, shown.job.board().width);
    let change = |width| wood.change_of_width(width, sawn, seasons.from, seasons.to);
    lines.extend(change(piece).map(|change| said::piece_moves(piece, change, unit)));
    lines.extend(change(board).map(|change| said::board_moves(board, change, unit)));
    lines.push(said::share_of_width(share));
    if !(HOLDS.contains(&from) && HOLDS.contains(&to)) {
        lines.push(said::THE_COEFFICIENT_HOLDS_BETWEEN_6_AND_14.to_owned());
    }
    lines
}
