//! Woods of one's own: a list, and a form for one.

use crate::app::commands::command::Command;
use crate::app::widgets::form;
use crate::app::widgets::form::{Entry, entry_ui, heading_ui, number, words_ui};
use crate::app::widgets::look::Palette;
use crate::app::work::scene::Scene;
use crate::job::Edit;
use crate::shop::{Shop, Wood, WoodPart, own_id, woods};
use crate::units::{LengthUnit, trimmed};
use crate::words::shop::wrong;
use crate::words::window::shop as said;
use egui::{Button, RichText, ScrollArea};
use std::collections::BTreeMap;

/// The dialog's state: a wood as it is being typed.
#[derive(Default)]
pub(crate) struct WoodDialog {
    /// The one that is changed; `None` for a new one.
    changing: Option<Wood>,
    softwood: bool,
    texts: BTreeMap<WoodPart, String>,
}

type Reasons = BTreeMap<WoodPart, String>;

impl WoodDialog {
    fn changing(wood: &Wood) -> WoodDialog {
        let value =
            |value: Option<f64>, times: f64| value.map_or_else(String::new, |v| trimmed(v * times, 4));
        WoodDialog {
            changing: Some(wood.clone()),
            softwood: wood.group == "softwood",
            texts: [
                (WoodPart::Name, wood.name.clone()),
                (WoodPart::Density, value(wood.density_at_12(), 1.0)),
                (WoodPart::TensionAcross, value(wood.tension_across, 1.0)),
                (WoodPart::MovementTangential, value(wood.movement_tangential, 100.0)),
                (WoodPart::MovementRadial, value(wood.movement_radial, 100.0)),
            ]
            .into(),
        }
    }

    /// The wood that is typed, or what is wrong, by the part.
    fn read(&self, shop: &Shop) -> Result<Wood, Reasons> {
        let mut reasons = Reasons::new();
        let text = |part: WoodPart| self.texts.get(&part).map_or("", |text| text.trim());
        let mut value = |part: WoodPart, times: f64| match text(part) {
            "" => None,
            text => match number(text) {
                Ok(value) => Some(value * times),
                Err(reason) => {
                    reasons.insert(part, reason);
                    None
                }
            },
        };
        let name = text(WoodPart::Name).to_owned();
        let mut wood = self.changing.clone().unwrap_or_else(|| {
            Wood::own(own_id(&name, |id| shop.woods.iter().any(|wood| wood.id == id)), name.clone())
        });
        if self.softwood { "softwood" } else { "hardwood" }.clone_into(&mut wood.group);
        wood.density = value(WoodPart::Density, 1.0);
        wood.tension_across = value(WoodPart::TensionAcross, 1.0);
        wood.movement_tangential = value(WoodPart::MovementTangential, 0.01);
        wood.movement_radial = value(WoodPart::MovementRadial, 0.01);
        let taken =
            shop.woods.iter().any(|other| other.id != wood.id && other.name.eq_ignore_ascii_case(&name));
        if taken {
            reasons.insert(WoodPart::Name, said::ANOTHER_WOOD_HAS_THIS_NAME.to_owned());
        }
        wood.name = name;
        for problem in wood.problems() {
            reasons.entry(problem.part).or_insert_with(|| wrong(&problem.wrong, LengthUnit::Millimetres));
        }
        if reasons.is_empty() { Ok(wood) } else { Err(reasons) }
    }
}

/// The dialog, where it is open.
pub(crate) fn woods_ui(
    ctx: &egui::Context,
    scene: &Scene,
    dialog: &mut Option<WoodDialog>,
    commands: &mut Vec<Command>,
) {
    let Some(open) = dialog else { return };
    let modal = egui::Modal::new(egui::Id::unique("woods")).show(ctx, |ui| {
        ui.set_width(460.0);
        ui.heading(said::YOUR_OWN_WOODS);
        own_ui(ui, scene.shop, open, commands);
        form_ui(ui, scene.shop, open, commands);
    });
    if form::is_closing(ctx, &modal) {
        *dialog = None;
    }
}

fn own_ui(ui: &mut egui::Ui, shop: &Shop, dialog: &mut WoodDialog, commands: &mut Vec<Command>) {
    let own: Vec<&Wood> = shop.woods.iter().filter(|wood| !woods().contains(wood)).collect();
    if own.is_empty() {
        return;
    }
    ScrollArea::vertical().max_height(110.0).auto_shrink([false, true]).show(ui, |ui| {
        for wood in own {
            ui.horizontal(|ui| {
                let chosen = dialog.changing.as_ref().is_some_and(|changing| changing.id == wood.id);
                if ui.selectable_label(chosen, &wood.name).clicked() {
                    *dialog = WoodDialog::changing(wood);
                }
                ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                    let remove =
                        ui.small_button(said::REMOVE).on_hover_text(said::TAKE_IT_OUT_OF_YOUR_OWN_LIST);
                    if remove.accessible_name(said::remove_wood(&wood.name)).clicked() {
                        commands.push(Command::RemoveWood(wood.id.clone()));
                        *dialog = WoodDialog::default();
                    }
                    if ui.small_button(said::USE).on_hover_text(said::USE_IT_IN_THIS_JOB).clicked() {
                        commands.push(Command::Edit(Edit::Wood(Box::new(wood.clone()))));
                    }
                });
            });
        }
    });
    ui.separator();
}

fn form_ui(ui: &mut egui::Ui, shop: &Shop, dialog: &mut WoodDialog, commands: &mut Vec<Command>) {
    let palette = Palette::of(ui.ctx());
    heading_ui(ui, if dialog.changing.is_some() { said::CHANGE_IT } else { said::A_NEW_WOOD });
    let read = dialog.read(shop);
    // A form that nobody has written in yet is not told off.
    let started = dialog.texts.values().any(|text| !text.trim().is_empty());
    let nothing_wrong = Reasons::new();
    let reasons = read.as_ref().err().filter(|_| started).unwrap_or(&nothing_wrong);
    let mut field_ui = |ui: &mut egui::Ui, part: WoodPart, name: &str, caption: &str| {
        let wrong = reasons.get(&part).map(String::as_str);
        entry_ui(ui, dialog.texts.entry(part).or_default(), &Entry { name, caption, wrong });
    };
    field_ui(ui, WoodPart::Name, said::WOOD_NAME, said::NAME);
    ui.columns(2, |columns| {
        field_ui(&mut columns[0], WoodPart::Density, said::WOOD_DENSITY, said::DENSITY_AT_12_MOISTURE_KG_M);
        let caption = said::TENSION_STRENGTH_ACROSS_THE_GRAIN_MPA;
        field_ui(&mut columns[1], WoodPart::TensionAcross, said::WOOD_TENSION_STRENGTH, caption);
    });
    ui.columns(2, |columns| {
        let flat = said::MOVEMENT_FLAT_SAWN_OF_WIDTH_A_POINT;
        field_ui(&mut columns[0], WoodPart::MovementTangential, said::WOOD_MOVEMENT_FLAT, flat);
        let quarter = said::MOVEMENT_QUARTER_SAWN_A_POINT;
        field_ui(&mut columns[1], WoodPart::MovementRadial, said::WOOD_MOVEMENT_QUARTER, quarter);
    });
    ui.horizontal(|ui| {
        ui.radio_value(&mut dialog.softwood, false, said::HARDWOOD);
        ui.radio_value(&mut dialog.softwood, true, said::SOFTWOOD);
    });
    words_ui(ui, RichText::new(said::LEAVE_EMPTY_WHAT_YOU_DO_NOT_KNOW).small().color(palette.faint));
    ui.add_space(4.0);
    let mut close = false;
    ui.horizontal(|ui| {
        let keep = ui.add_enabled(read.is_ok(), Button::new(said::KEEP_WOOD));
        if let (true, Ok(wood)) = (keep.clicked(), &read) {
            commands.push(Command::KeepWood(Box::new(wood.clone())));
            *dialog = WoodDialog::changing(wood);
        }
        if dialog.changing.is_some() && ui.button(said::NEW_WOOD).clicked() {
            *dialog = WoodDialog::default();
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            close = ui.button(said::CLOSE).clicked();
        });
    });
    if close {
        ui.close();
    }
}
