//! The menu bar, and the small windows it opens.

use super::ViewState;
use super::board_command::{BoardCommand, Tool};
use super::command::Command;
use super::view::Middle;
use super::words;
use crate::design::samples::samples;
use crate::units::LengthUnit;
use egui::{Button, MenuBar, RichText, ThemePreference};

/// What can be undone and redone just now.
pub(super) struct History<'a> {
    /// The name of the change that an undo takes back.
    pub(super) undo: Option<&'a str>,
    /// Whether there is one to make again.
    pub(super) redo: bool,
}

/// The menu bar.
pub(super) fn menu_ui(
    ui: &mut egui::Ui,
    history: &History,
    has_job: bool,
    view: &ViewState,
    commands: &mut Vec<Command>,
) {
    MenuBar::new().ui(ui, |ui| {
        ui.menu_button("File", |ui| {
            entry_ui(ui, Command::AskOpen, true, commands);
            entry_ui(ui, Command::AskOpenPath, true, commands);
            ui.menu_button("Open sample", |ui| {
                for sample in samples() {
                    if ui.button(sample.title).on_hover_text(sample.lesson).clicked() {
                        commands.push(Command::OpenSample(sample.id));
                    }
                }
            });
            ui.separator();
            entry_ui(ui, Command::Save, has_job, commands);
            entry_ui(ui, Command::AskSave, has_job, commands);
            entry_ui(ui, Command::AskExportOutline, has_job, commands);
            ui.separator();
            entry_ui(ui, Command::Quit, true, commands);
        });
        ui.menu_button("Edit", |ui| {
            let undo = history.undo.map_or("Undo".to_owned(), |name| format!("Undo {name}"));
            named_entry_ui(ui, &undo, Command::Undo, history.undo.is_some(), commands);
            entry_ui(ui, Command::Redo, history.redo, commands);
        });
        ui.menu_button("Board", |ui| {
            for command in [
                BoardCommand::ToggleFit,
                BoardCommand::FindPlace,
                BoardCommand::FindLargest,
                BoardCommand::Turn,
                BoardCommand::UseTool(Tool::Move),
                BoardCommand::ToggleBlemishes,
                BoardCommand::ToggleBenchList,
                BoardCommand::TogglePhoto,
                BoardCommand::AskExportCarrier,
            ] {
                entry_ui(ui, command.into(), has_job, commands);
            }
        });
        ui.menu_button("Shop", |ui| {
            for command in [
                Command::ToggleCutters,
                Command::ToggleWoods,
                Command::ToggleCoupon,
                Command::ToggleSeasons,
                Command::ToggleWhy,
                BoardCommand::ToggleRack.into(),
                BoardCommand::ToggleMachines.into(),
                BoardCommand::ToggleMeasuring.into(),
            ] {
                entry_ui(ui, command, has_job, commands);
            }
        });
        ui.menu_button("View", |ui| {
            for middle in Middle::ALL {
                entry_ui(ui, Command::Show(middle), has_job, commands);
            }
            ui.separator();
            entry_ui(ui, Command::FitView, has_job, commands);
            entry_ui(ui, Command::NextFinding, has_job, commands);
            entry_ui(ui, Command::PreviousFinding, has_job, commands);
            ui.separator();
            ui.label(RichText::new("Lengths").small());
            for unit in LengthUnit::ALL {
                choice_ui(ui, view.unit == unit, Command::UseUnit(unit), commands);
            }
            ui.separator();
            ui.label(RichText::new("Light").small());
            for theme in [ThemePreference::Light, ThemePreference::Dark, ThemePreference::System] {
                choice_ui(ui, view.theme == theme, Command::UseTheme(theme), commands);
            }
        });
        ui.menu_button("Help", |ui| {
            entry_ui(ui, Command::ToggleCautions, true, commands);
            entry_ui(ui, Command::ToggleAbout, true, commands);
        });
    });
}

fn entry_ui(ui: &mut egui::Ui, command: Command, enabled: bool, commands: &mut Vec<Command>) {
    let label = command.label();
    named_entry_ui(ui, label, command, enabled, commands);
}

fn named_entry_ui(
    ui: &mut egui::Ui,
    label: &str,
    command: Command,
    enabled: bool,
    commands: &mut Vec<Command>,
) {
    let mut button = Button::new(label);
    if let Some(shortcut) = command.shortcut() {
        button = button.shortcut_text(ui.ctx().format_shortcut(&shortcut));
    }
    let mut response = ui.add_enabled(enabled, button);
    if !command.tooltip().is_empty() {
        response = response.on_hover_text(command.tooltip());
    }
    if response.clicked() {
        commands.push(command);
    }
}

fn choice_ui(ui: &mut egui::Ui, chosen: bool, command: Command, commands: &mut Vec<Command>) {
    if ui.radio(chosen, command.label()).clicked() {
        commands.push(command);
        ui.close();
    }
}

/// About and cautions, where they are open.
pub(super) fn help_windows_ui(ctx: &egui::Context, view: &mut ViewState) {
    let beside = view.beside_the_board();
    let about = egui::Window::new("About Spelk").open(&mut view.about_open).default_pos(beside);
    about.resizable(false).default_width(420.0).show(ctx, |ui| {
        ui.label(RichText::new(format!("{} {}", words::PROGRAM, env!("CARGO_PKG_VERSION"))).heading());
        ui.label(words::ABOUT);
        ui.add_space(4.0);
        ui.label(words::ABOUT_METHOD);
    });
    let cautions = egui::Window::new("Cautions").open(&mut view.cautions_open).default_pos(beside);
    cautions.resizable(false).default_width(560.0).show(ctx, |ui| {
        let faint = super::look::Palette::of(ui.ctx()).faint;
        ui.add(egui::Label::new(RichText::new(words::CAUTIONS_FIRST).strong()).wrap());
        for (heading, caution, source) in words::CAUTIONS {
            ui.add_space(2.0);
            ui.spacing_mut().item_spacing.y = 1.0;
            ui.label(RichText::new(heading).strong());
            ui.add(egui::Label::new(caution).wrap());
            if !source.is_empty() {
                ui.add(egui::Label::new(RichText::new(source).small().color(faint)).wrap());
            }
        }
    });
}
