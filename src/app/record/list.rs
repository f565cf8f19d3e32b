//! The walls that may have broken, each with what became of it.

use crate::app::record::view::RecordView;
use crate::app::widgets::look::Palette;
use crate::units::LengthUnit;
use crate::words::window::record as said;
use egui::{Button, Label, RichText, ScrollArea};

/// The list, nearest to their limits first.
pub(crate) fn list_ui(ui: &mut egui::Ui, unit: LengthUnit, view: &mut RecordView) {
    let palette = Palette::of(ui.ctx());
    let RecordView { rows, said: what_became, .. } = view;
    ScrollArea::vertical().max_height(176.0).auto_shrink([false, true]).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        for (index, row) in rows.iter().enumerate() {
            let number = index + 1;
            ui.horizontal(|ui| {
                let now = what_became.get(&row.id).copied();
                for (held, caption, name) in [
                    (true, said::HELD, said::wall_held(number)),
                    (false, said::BROKE, said::wall_broke(number)),
                ] {
                    let chosen = now == Some(held);
                    let button = Button::selectable(chosen, RichText::new(caption).small());
                    let answer = ui.add(button.frame_when_inactive(true));
                    answer.widget_info(|| {
                        egui::WidgetInfo::selected(egui::Role::RadioButton, true, chosen, &name)
                    });
                    if answer.clicked() {
                        if chosen {
                            what_became.remove(&row.id);
                        } else {
                            what_became.insert(row.id.clone(), held);
                        }
                    }
                }
                ui.label(RichText::new(said::chance(row.chance)).small().color(palette.faint));
                ui.add(Label::new(said::wall(number, row, unit)).truncate());
            });
        }
    });
}
