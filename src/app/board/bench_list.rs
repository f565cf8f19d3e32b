//! The bench list: what was measured of the board, and what each value costs.

use crate::app::commands::board::BoardCommand;
use crate::app::commands::command::Command;
use crate::app::widgets::form::{number, words_ui};
use crate::app::widgets::length_field::Lengths;
use crate::app::widgets::length_field::{Drafts, ShownText, read_place, reason_ui, text_field_ui};
use crate::app::widgets::look::{Palette, severity_ui};
use crate::app::widgets::window::window_ui;
use crate::app::work::scene::Scene;
use crate::job::Job;
use crate::proof::stock::{StockReason, StockRow};
use crate::shop::{Check, Planed};
use crate::units::{LengthUnit, Mm, trimmed};
use crate::words;
use crate::words::window::board as said;
use crate::words::window::{in_percent, with_unit};
use egui::{RichText, ScrollArea, Vec2};

/// The window, where it is open.
pub(crate) fn bench_list_ui(
    ctx: &egui::Context,
    scene: &Scene,
    open: &mut bool,
    lengths: &mut Lengths,
    commands: &mut Vec<Command>,
) {
    let Scene { job, shown, unit, beside, .. } = *scene;
    let window =
        egui::Window::new(said::BENCH_LIST).resizable(false).default_height(530.0).default_pos(beside);
    window_ui(ctx, window, open, |ui| {
        ui.set_width(600.0);
        let palette = Palette::of(ui.ctx());
        let unchecked = job.board().stock.unmeasured().count();
        let words = said::bench_list(unchecked, Check::ALL.len(), shown.proof.stock.thickness_left, unit);
        words_ui(ui, RichText::new(words).small().color(palette.faint));
        ScrollArea::vertical().max_height(500.0).auto_shrink([false, true]).show(ui, |ui| {
            for row in &shown.proof.stock.rows {
                row_ui(ui, job, row, lengths.drafts, unit, commands);
            }
        });
    });
}

fn row_ui(
    ui: &mut egui::Ui,
    job: &Job,
    row: &StockRow,
    drafts: &mut Drafts,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) {
    let palette = Palette::of(ui.ctx());
    let check = row.check;
    ui.horizontal_top(|ui| {
        ui.allocate_ui_with_layout(egui::vec2(206.0, 0.0), egui::Layout::top_down(egui::Align::Min), |ui| {
            ui.set_width(206.0);
            ui.spacing_mut().item_spacing.y = 1.0;
            let caption = match check {
                Check::Planed => title(check).to_owned(),
                Check::Moisture => in_percent(title(check)),
                _ => with_unit(title(check), unit),
            };
            ui.horizontal(|ui| {
                let name = RichText::new(caption).strong();
                let size = egui::vec2(114.0, ui.spacing().interact_size.y);
                let layout = egui::Layout::left_to_right(egui::Align::Center);
                ui.allocate_ui_with_layout(size, layout, |ui| {
                    ui.set_min_width(size.x);
                    ui.label(name);
                });
                value_ui(ui, job, check, drafts, unit, commands);
            });
            reason_ui(ui, drafts, title(check));
        });
        ui.allocate_ui_with_layout(
            Vec2::splat(22.0),
            egui::Layout::centered_and_justified(egui::Direction::TopDown),
            |ui| {
                if row.measured {
                    severity_ui(ui, 8.0, row.severity);
                } else {
                    ui.label(RichText::new("–").color(palette.faint));
                }
            },
        );
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = 1.0;
            words_ui(ui, words::bench_list::row(row, unit));
            let advice = match row.reason {
                StockReason::NotChecked => check.how(),
                _ => words::bench_list::advice(row),
            };
            if !advice.is_empty() {
                words_ui(ui, RichText::new(advice).small().color(palette.faint));
            }
        });
    });
    ui.add_space(2.0);
}

/// Its name on the list, which is also the field's.
fn title(check: Check) -> &'static str {
    match check {
        Check::Cup => said::CUP,
        Check::Bow => said::BOW,
        Check::Crook => said::CROOK,
        Check::Twist => said::TWIST,
        Check::UnequalWidth => said::UNEQUAL_WIDTH,
        Check::OffSquare => said::OFF_SQUARE,
        Check::Planed => said::PLANED,
        Check::Moisture => said::MOISTURE,
    }
}

fn value_ui(
    ui: &mut egui::Ui,
    job: &Job,
    check: Check,
    drafts: &mut Drafts,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) {
    let stock = &job.board().stock;
    match check {
        Check::Planed => {
            let words = |planed| match planed {
                None => said::NOT_YET,
                Some(Planed::Both) => said::BOTH,
                Some(Planed::Rough) => said::ROUGH,
            };
            let combo = egui::ComboBox::from_id_salt("planed").width(76.0).selected_text(words(stock.planed));
            let response = combo.show_ui(ui, |ui| {
                for planed in [None, Some(Planed::Both), Some(Planed::Rough)] {
                    if ui.selectable_label(stock.planed == planed, words(planed)).clicked() {
                        commands.push(BoardCommand::Planed(planed).into());
                    }
                }
            });
            response.response.on_hover_text(check.how()).accessible_name(title(check));
        }
        Check::Moisture => {
            let text = stock.moisture.map_or_else(String::new, |moisture| trimmed(moisture, 1));
            let shown = ShownText { name: title(check), text, exact: check.how().to_owned() };
            let read = |text: &str| if text.trim().is_empty() { Ok(None) } else { number(text).map(Some) };
            if let Some(moisture) = text_field_ui(ui, drafts, &shown, read) {
                commands.push(BoardCommand::Moisture(moisture).into());
            }
        }
        _ => {
            let text = stock.length(check).map_or_else(String::new, |length| unit.number_fine(length));
            let shown = ShownText { name: title(check), text, exact: check.how().to_owned() };
            if let Some(length) = text_field_ui(ui, drafts, &shown, |text| read_gap(text, unit)) {
                commands.push(BoardCommand::Measured(check, length).into());
            }
        }
    }
}

/// A gap that was measured; `None` for an empty field, which is not measured.
fn read_gap(text: &str, unit: LengthUnit) -> Result<Option<Mm>, String> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    let gap = read_place(text, unit)?;
    if gap < Mm::ZERO { Err(said::A_GAP_CANNOT_BE_NEGATIVE.to_owned()) } else { Ok(Some(gap)) }
}
