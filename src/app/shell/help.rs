//! What mouse and keys do, a page a view.

use crate::app::commands::command::Command;
use crate::app::commands::middle::Middle;
use crate::app::commands::table;
use crate::app::commands::table::Situation;
use crate::app::widgets::look::Palette;
use crate::app::words;
use crate::words::cautions;
use egui::{Label, RichText};

/// What a hand does, and what comes of it.
type Does = (&'static str, &'static str);

/// On the board.
const BOARD: [Does; 12] = [
    ("Drag", "Moves the board"),
    ("Wheel, or pinch", "Closer and farther, where the pointer is"),
    ("Double click", "Shows the whole board"),
    ("Click a numbered mark", "Goes to that finding; its advice stands in the list"),
    ("Click an element", "Chooses it; with Ctrl or Shift, beside the others"),
    ("Double click in the list, or F2", "Gives an element another name"),
    ("Right click in the list", "What can be done with the chosen elements"),
    ("Drag, with Measure on", "Measures from place to place; the middle button moves the board"),
    ("Drag, with Move design on", "Moves the design; arrow keys nudge it, with Shift farther"),
    ("Drag on the size strip", "Sets the finished length"),
    ("Tab, then arrow keys", "Reaches every field, list and mark; arrows move the size handle"),
    ("Drop a file", "Opens it beside the job that is open"),
];

/// On the carved surface.
const RELIEF: [Does; 8] = [
    ("Drag", "Turns the board; with the section tool, draws the line of the cut"),
    ("Shift and drag, or middle drag", "Moves the board"),
    ("Wheel, or pinch", "Closer and farther, where the pointer is"),
    ("Double click, or Home", "Shows the whole board again"),
    ("Arrow keys, with Shift", "Turn the board, move it, once it was clicked; plus and minus zoom"),
    ("Drag the light's dial", "Sets the side the light comes from"),
    ("Drag on the clock", "Shows the surface as it is at that moment of the carve"),
    ("Click a numbered mark", "Goes to that finding; its advice stands in the list"),
];

/// In the lesson.
const LESSON: [Does; 3] = [
    ("Drag on the size strip", "Changes the right half of every picture, and answers the question"),
    ("Wheel", "Moves the page up and down"),
    ("Escape", "Leaves the full screen"),
];

/// Among the sizes.
const SIZES: [Does; 3] = [
    ("Enter, in Add", "Adds a size to the list"),
    ("Use this size", "Makes it the size of the job"),
    ("Wheel", "Moves the list up and down"),
];

/// What a first start says: what is seen, what to try, what to do then.
const WELCOME: [&str; 3] = [
    "This is a sample sign on a board, proofed already: the numbered marks are what would go wrong.",
    "Slide the handle at the bottom and see it get better and worse with its size.",
    "Then drop a drawing of your own on the window.",
];

/// The sentences of a first start, over the board.
pub(crate) fn welcome_ui(ui: &mut egui::Ui, commands: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        let command = Command::HideWelcome;
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            if ui.button(command.label()).clicked() {
                commands.push(command);
            }
            ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                ui.add(Label::new(WELCOME.join(" ")).wrap());
            });
        });
    });
}

const HELP_WIDTH: f32 = 520.0;
/// Title, page and headings, at their tallest.
const ROOM_FOR_THE_REST: f32 = 400.0;

/// The window with the page of the view that is shown, where it is open.
pub(crate) fn help_ui(ctx: &egui::Context, beside: egui::Pos2, open: &mut bool, situation: &Situation) {
    let middle = situation.middle;
    let window = egui::Window::new("Mouse and keys").open(open).default_pos(beside);
    window.resizable(false).default_width(HELP_WIDTH).show(ctx, |ui| {
        let palette = Palette::of(ui.ctx());
        let rows: &[Does] = match middle {
            Middle::Board => &BOARD,
            Middle::Relief => &RELIEF,
            Middle::Lesson => &LESSON,
            Middle::Sizes => &SIZES,
        };
        ui.label(RichText::new(middle.label()).strong());
        ui.spacing_mut().item_spacing.y = 3.0;
        egui::Grid::new("mouse").num_columns(2).spacing([16.0, 3.0]).min_row_height(18.0).show(ui, |ui| {
            for (hand, outcome) in rows {
                ui.label(*hand);
                ui.add(Label::new(RichText::new(*outcome).color(palette.faint)).wrap());
                ui.end_row();
            }
        });
        ui.separator();
        ui.label(RichText::new("Keys everywhere").strong());
        // Where the window is low, the keys are what gives way.
        let room = (ui.ctx().content_rect().height() - ROOM_FOR_THE_REST).max(120.0);
        egui::ScrollArea::vertical().max_height(room).auto_shrink([false, true]).show(ui, |ui| {
            let keys: Vec<_> = table::commands(situation)
                .into_iter()
                .filter_map(|(_, command)| Some((ui.ctx().format_shortcut(&command.shortcut()?), command)))
                .collect();
            // Down the left column first, in the order of the menus.
            let rows = keys.len().div_ceil(2);
            egui::Grid::new("keys").num_columns(4).spacing([16.0, 2.0]).min_row_height(17.0).show(ui, |ui| {
                for row in 0..rows {
                    for (keys, command) in [keys.get(row), keys.get(row + rows)].into_iter().flatten() {
                        ui.label(keys);
                        let words = match command {
                            Command::Show(middle) => format!("Show {}", middle.label().to_lowercase()),
                            other => other.label().to_owned(),
                        };
                        ui.label(RichText::new(words).color(palette.faint));
                    }
                    ui.end_row();
                }
            });
        });
    });
}

/// About and cautions, where they are open.
pub(crate) fn about_ui(
    ctx: &egui::Context,
    beside: egui::Pos2,
    about_open: &mut bool,
    cautions_open: &mut bool,
) {
    let about = egui::Window::new("About Spelk").open(about_open).default_pos(beside);
    about.resizable(false).default_width(420.0).show(ctx, |ui| {
        ui.label(RichText::new(words::PROGRAM).heading());
        ui.label(format!("Version {}", crate::cli::version()));
        ui.label(words::ABOUT);
        ui.add_space(4.0);
        ui.label(words::ABOUT_METHOD);
    });
    let cautions = egui::Window::new("Cautions").open(cautions_open).default_pos(beside);
    cautions.resizable(false).default_width(560.0).show(ctx, |ui| {
        let faint = Palette::of(ui.ctx()).faint;
        ui.add(egui::Label::new(RichText::new(cautions::CAUTIONS_FIRST).strong()).wrap());
        for (heading, caution, source) in cautions::CAUTIONS {
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
