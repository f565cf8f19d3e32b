//! The shop's machines: a list, a form for those of one's own, and how to measure each value.

use crate::app::commands::board::BoardCommand;
use crate::app::commands::command::Command;
use crate::app::widgets::form;
use crate::app::widgets::form::{Entry, entry_ui, heading_ui, number, words_ui};
use crate::app::widgets::look::Palette;
use crate::app::widgets::window::window_ui;
use crate::app::work::scene::Scene;
use crate::job::Edit;
use crate::shop::{
    BoardEdge, FeedDirection, MEASURING, Machine, MachinePart, Measure, Shop, how_to_measure, machines,
    own_id,
};
use crate::units::{LengthUnit, Mm, parse_length, trimmed};
use crate::words::shop::wrong;
use crate::words::window::shop as said;
use egui::{Button, ComboBox, RichText, ScrollArea};
use std::collections::BTreeMap;

/// The dialog's state: a machine as it is being typed. What was not touched keeps its exact value.
pub(crate) struct MachineDialog {
    /// What the form was filled from, with what was chosen from lists.
    machine: Machine,
    unit: LengthUnit,
    texts: BTreeMap<MachinePart, String>,
    untouched: BTreeMap<MachinePart, String>,
}

type Reasons = BTreeMap<MachinePart, String>;

impl MachineDialog {
    /// The dialog with this machine in its form.
    pub(crate) fn showing(machine: &Machine, unit: LengthUnit) -> MachineDialog {
        let text = |part: MachinePart| {
            let value = part.of(machine);
            match part.measure() {
                Measure::Words => machine.name.clone(),
                Measure::Length | Measure::Feed | Measure::Acceleration => unit.number_fine(Mm::new(value)),
                Measure::Force | Measure::Time | Measure::Ratio => trimmed(value, 2),
            }
        };
        let parts = MachinePart::NUMBERS.into_iter().chain([MachinePart::Name]);
        let texts: BTreeMap<MachinePart, String> = parts.map(|part| (part, text(part))).collect();
        MachineDialog { machine: machine.clone(), unit, untouched: texts.clone(), texts }
    }

    /// The machine that is typed, or what is wrong, by the part.
    fn read(&self) -> Result<Machine, Reasons> {
        let mut reasons = Reasons::new();
        let mut machine = self.machine.clone();
        self.texts[&MachinePart::Name].trim().clone_into(&mut machine.name);
        for part in MachinePart::NUMBERS {
            let text = &self.texts[&part];
            if *text == self.untouched[&part] {
                continue;
            }
            let value = match part.measure() {
                Measure::Force | Measure::Time | Measure::Ratio | Measure::Words => number(text),
                _ => parse_length(text, self.unit).map(Mm::get).map_err(|error| error.to_string()),
            };
            match value {
                Ok(value) => part.set(&mut machine, value),
                Err(reason) => drop(reasons.insert(part, reason)),
            }
        }
        for problem in machine.problems() {
            // What is no number at all has said so already.
            reasons.entry(problem.part).or_insert_with(|| wrong(&problem.wrong, self.unit));
        }
        if reasons.is_empty() { Ok(machine) } else { Err(reasons) }
    }

    /// A copy of the machine in the form becomes one of one's own; it is kept when that is asked for.
    fn copy(&mut self, shop: &Shop) {
        let mut machine = self.machine.clone();
        machine.name = said::own_copy(&machine.name);
        machine.id = own_id(&machine.name, |id| shop.machine(id).is_some());
        *self = MachineDialog::showing(&machine, self.unit);
    }
}

fn is_own(machine: &Machine) -> bool {
    !machines().contains(machine)
}

/// The dialog, where it is open.
pub(crate) fn machines_ui(
    ctx: &egui::Context,
    scene: &Scene,
    dialog: &mut Option<MachineDialog>,
    commands: &mut Vec<Command>,
) {
    let Scene { shop, unit, .. } = *scene;
    let used = scene.job.machine();
    let Some(open) = dialog else { return };
    if open.unit != unit {
        *open = MachineDialog::showing(&open.machine, unit);
    }
    let modal = egui::Modal::new(egui::Id::unique("machines")).show(ctx, |ui| {
        ui.set_width(800.0);
        ui.heading(said::MACHINES);
        ui.horizontal_top(|ui| {
            ui.vertical(|ui| {
                ui.set_width(200.0);
                list_ui(ui, shop, used, open);
            });
            ui.separator();
            ui.vertical(|ui| form_ui(ui, shop, used, open, commands));
        });
    });
    if form::is_closing(ctx, &modal) {
        *dialog = None;
    }
}

fn list_ui(ui: &mut egui::Ui, shop: &Shop, used: &Machine, dialog: &mut MachineDialog) {
    let palette = Palette::of(ui.ctx());
    ScrollArea::vertical().max_height(360.0).auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        for (heading, own) in [(said::OWN, true), (said::BUILT_IN, false)] {
            heading_ui(ui, heading);
            let of_kind: Vec<&Machine> =
                shop.machines.iter().filter(|machine| is_own(machine) == own).collect();
            if of_kind.is_empty() {
                let hint = said::NONE_YET_COPY_A_BUILT_IN_ONE;
                words_ui(ui, RichText::new(hint).small().color(palette.faint));
            }
            for machine in of_kind {
                let chosen = dialog.machine.id == machine.id;
                let name =
                    if machine.id == used.id { said::in_use(&machine.name) } else { machine.name.clone() };
                let entry = Button::selectable(chosen, name).truncate();
                if ui.add(entry).on_hover_text(&machine.id).clicked() {
                    *dialog = MachineDialog::showing(machine, dialog.unit);
                }
            }
        }
    });
}

fn form_ui(
    ui: &mut egui::Ui,
    shop: &Shop,
    used: &Machine,
    dialog: &mut MachineDialog,
    commands: &mut Vec<Command>,
) {
    let palette = Palette::of(ui.ctx());
    let listed = shop.machines.iter().find(|machine| machine.id == dialog.machine.id);
    let editable = listed.is_none_or(is_own);
    let read = dialog.read();
    let nothing_wrong = Reasons::new();
    let reasons = read.as_ref().err().unwrap_or(&nothing_wrong);
    ui.add_enabled_ui(editable, |ui| fields_ui(ui, dialog, reasons));
    ui.add_space(6.0);
    let (mut copy, mut close) = (false, false);
    ui.horizontal(|ui| {
        let changed = read.as_ref().is_ok_and(|machine| listed != Some(machine));
        if editable {
            let keep = ui.add_enabled(changed, Button::new(said::KEEP_MACHINE));
            if let (true, Ok(machine)) = (keep.clicked(), &read) {
                commands.push(BoardCommand::KeepMachine(Box::new(machine.clone())).into());
                *dialog = MachineDialog::showing(machine, dialog.unit);
            }
        }
        let usable = listed.is_some_and(|listed| listed != used) && !(editable && changed);
        if ui.add_enabled(usable, Button::new(said::USE_IN_THIS_JOB)).clicked() {
            commands.extend(listed.map(|listed| Command::Edit(Edit::Machine(Box::new(listed.clone())))));
            close = true;
        }
        copy = ui.button(said::COPY).on_hover_text(said::MAKE_ONE_OF_YOUR_OWN_FROM_IT).clicked();
        if editable
            && listed.is_some()
            && ui.button(said::REMOVE).on_hover_text(said::TAKE_IT_OUT_OF_YOUR_OWN_LIST).clicked()
        {
            let id = dialog.machine.id.clone();
            let other = machines().iter().find(|machine| machine.id == id).unwrap_or(&machines()[0]);
            commands.push(BoardCommand::RemoveMachine(id).into());
            *dialog = MachineDialog::showing(other, dialog.unit);
        }
        let how = BoardCommand::ToggleMeasuring;
        if ui.button(how.caption().label).on_hover_text(how.caption().tip).clicked() {
            commands.push(how.into());
            // The page is read beside the board; a dialog would lie over it.
            close = true;
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            close |= ui.button(said::CLOSE).clicked();
        });
    });
    let hint =
        if editable { said::POINT_AT_A_FIELD_TO_READ_HOW } else { said::THIS_MACHINE_IS_BUILT_IN_WITH_ROUND };
    ui.label(RichText::new(hint).small().color(palette.faint));
    if copy {
        dialog.copy(shop);
    }
    if close {
        ui.close();
    }
}

/// The fields with their captions, four in a row.
const ROWS: [(&str, &[MachinePart]); 4] = [
    (
        said::BOARDS_IT_TAKES,
        &[
            MachinePart::Longest,
            MachinePart::Widest,
            MachinePart::Thickest,
            MachinePart::Shortest,
            MachinePart::Narrowest,
            MachinePart::Thinnest,
        ],
    ),
    (
        said::ROLLERS_FROM_THE_CUTTER,
        &[
            MachinePart::InfeedRoller,
            MachinePart::OutfeedRoller,
            MachinePart::HoldDown,
            MachinePart::ReleaseStep,
        ],
    ),
    (said::SENSOR_AND_EDGES, &[MachinePart::SensingStrip, MachinePart::SideMargin]),
    (
        said::HOW_FAST_IT_MOVES,
        &[
            MachinePart::FeedAlong,
            MachinePart::FeedAcross,
            MachinePart::FeedDown,
            MachinePart::Acceleration,
            MachinePart::CutterChange,
            MachinePart::TimeFactor,
        ],
    ),
];

fn fields_ui(ui: &mut egui::Ui, dialog: &mut MachineDialog, reasons: &Reasons) {
    let unit = dialog.unit;
    ui.columns(2, |columns| {
        let entry = Entry {
            name: said::MACHINE_NAME,
            caption: said::NAME,
            wrong: reasons.get(&MachinePart::Name).map(String::as_str),
        };
        entry_ui(&mut columns[0], dialog.texts.entry(MachinePart::Name).or_default(), &entry);
    });
    for (heading, parts) in ROWS {
        heading_ui(ui, heading);
        for parts in parts.chunks(4) {
            ui.columns(4, |columns| {
                for (ui, &part) in columns.iter_mut().zip(parts) {
                    let caption = said::machine_part(part, unit);
                    let wrong = reasons.get(&part).map(String::as_str);
                    let entry = Entry { name: part.label(), caption: &caption, wrong };
                    let text = dialog.texts.entry(part).or_default();
                    ui.scope(|ui| entry_ui(ui, text, &entry)).response.on_hover_text(part.how());
                }
                if parts.contains(&MachinePart::SensingStrip) {
                    choices_ui(columns, &mut dialog.machine);
                }
            });
        }
    }
}

/// What is chosen and not typed: the sensor's edge, and which end goes in first.
fn choices_ui(columns: &mut [egui::Ui], machine: &mut Machine) {
    let edges = [
        (None, said::OFF),
        (Some(BoardEdge::Reference), said::REFERENCE_EDGE),
        (Some(BoardEdge::Far), said::FAR_EDGE),
    ];
    let ends = [(FeedDirection::LeftFirst, said::LEFT_END), (FeedDirection::RightFirst, said::RIGHT_END)];
    let [.., third, fourth] = columns else { return };
    choice_ui(third, said::SENSOR_ALONG, "sensing_edge", &mut machine.sensing_edge, &edges);
    choice_ui(fourth, said::GOES_IN_FIRST, "feed", &mut machine.feed, &ends);
}

fn choice_ui<T: Copy + PartialEq>(
    ui: &mut egui::Ui,
    name: &str,
    key: &str,
    value: &mut T,
    choices: &[(T, &str)],
) {
    ui.spacing_mut().item_spacing.y = 1.0;
    ui.label(RichText::new(name).small().color(Palette::of(ui.ctx()).faint));
    let now = choices.iter().find(|(choice, _)| choice == value).map_or("", |(_, words)| words);
    let combo = ComboBox::from_id_salt(name).width(ui.available_width()).truncate().selected_text(now);
    let response = combo.show_ui(ui, |ui| {
        for (choice, words) in choices {
            ui.selectable_value(value, *choice, *words);
        }
    });
    response.response.on_hover_text(how_to_measure(key)).accessible_name(name);
}

/// The page that tells how to measure, where it is open.
pub(crate) fn measuring_ui(ctx: &egui::Context, beside: egui::Pos2, open: &mut bool) {
    let window = egui::Window::new(said::MEASURE_YOUR_MACHINE);
    window_ui(ctx, window.default_pos(beside).resizable(false), open, |ui| {
        ui.set_width(560.0);
        let palette = Palette::of(ui.ctx());
        ScrollArea::vertical().max_height(480.0).auto_shrink([false, true]).show(ui, |ui| {
            for line in MEASURING.lines() {
                page_line_ui(ui, line, palette);
            }
        });
    });
}

/// One line of the page: a heading, a row of a table, or a sentence.
fn page_line_ui(ui: &mut egui::Ui, line: &str, palette: &Palette) {
    if let Some(heading) = line.strip_prefix("## ") {
        ui.add_space(4.0);
        ui.label(RichText::new(heading).strong());
    } else if let Some(row) = line.strip_prefix('|') {
        let cells: Vec<&str> = row.split('|').map(str::trim).collect();
        let [key, how, ..] = cells.as_slice() else { return };
        let Some(key) = key.strip_prefix('`').and_then(|key| key.strip_suffix('`')) else { return };
        let named = MachinePart::NUMBERS.into_iter().find(|part| part.key() == key);
        let name = named.map_or_else(
            || if key == "feed" { said::GOES_IN_FIRST } else { said::SENSOR_ALONG },
            MachinePart::label,
        );
        ui.horizontal_top(|ui| {
            ui.allocate_ui(egui::vec2(110.0, 0.0), |ui| {
                ui.set_min_width(110.0);
                ui.label(RichText::new(name).color(palette.accent));
            });
            words_ui(ui, how.replace('`', ""));
        });
    } else if !line.is_empty() && !line.starts_with('#') && !line.contains(".json") {
        words_ui(ui, line.replace('`', ""));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_machine_that_is_not_touched_is_read_back_to_the_last_bit() {
        for unit in LengthUnit::ALL {
            for machine in machines() {
                assert_eq!(MachineDialog::showing(machine, unit).read().unwrap(), *machine);
            }
        }
    }

    #[test]
    fn every_number_is_in_the_form_once() {
        let mut shown: Vec<MachinePart> = ROWS.iter().flat_map(|(_, parts)| parts.iter().copied()).collect();
        shown.sort();
        let mut all = MachinePart::NUMBERS.to_vec();
        all.sort();
        assert_eq!(shown, all);
    }
}
