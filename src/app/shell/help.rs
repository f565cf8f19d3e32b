//! What mouse and keys do, a page a view.

use crate::app::commands::command::Command;
use crate::app::commands::menus;
use crate::app::commands::middle::Middle;
use crate::app::commands::situation::Situation;
use crate::app::widgets::look::Palette;
use crate::app::widgets::window::window_ui;
use crate::words::cautions;
use crate::words::commands::show_view_key;
use crate::words::window::{SPELK, shell as said};
use egui::{Label, RichText};

/// What a hand does, and what comes of it.
type Does = (&'static str, &'static str);

/// On the board.
const BOARD: [Does; 14] = [
    (said::DRAG, said::MOVES_THE_BOARD),
    (said::WHEEL_OR_PINCH, said::ZOOMS_IN_AND_OUT_AT_THE_POINTER),
    (said::DOUBLE_CLICK, said::SHOWS_THE_WHOLE_BOARD),
    (said::CLICK_A_NUMBERED_MARK, said::GOES_TO_THAT_FINDING_THE_LIST_SHOWS),
    (said::CLICK_AN_ELEMENT, said::CHOOSES_IT_HOLD_CTRL_OR_SHIFT_TO),
    (said::SHIFT_AND_DRAG, said::CHOOSES_WHAT_LIES_IN_THE_BOX),
    (said::DOUBLE_CLICK_IN_THE_LIST_OR_F2, said::GIVES_AN_ELEMENT_ANOTHER_NAME),
    (said::RIGHT_CLICK_IN_THE_LIST, said::SHOWS_WHAT_YOU_CAN_DO_WITH_THE),
    (said::DRAG_WITH_MEASURE_ON, said::MEASURES_FROM_PLACE_TO_PLACE_THE_MIDDLE),
    (said::DRAG_WITH_MOVE_DESIGN_ON, said::MOVES_THE_DESIGN_ARROW_KEYS_NUDGE_IT),
    (said::DRAG_ON_THE_SIZE_STRIP, said::SETS_THE_FINISHED_LENGTH),
    (said::F10_OR_ALT_AND_A_LETTER, said::OPENS_THE_FIRST_MENU_OR_THAT_OF),
    (said::TAB_THEN_ARROW_KEYS, said::REACHES_EVERY_FIELD_LIST_AND_MARK_ARROWS),
    (said::DROP_A_FILE, said::OPENS_IT_BESIDE_THE_JOB_THAT_IS),
];

/// On the carved surface.
const RELIEF: [Does; 8] = [
    (said::DRAG, said::TURNS_THE_BOARD_WITH_THE_SECTION_TOOL),
    (said::SHIFT_AND_DRAG_OR_MIDDLE_DRAG, said::MOVES_THE_BOARD),
    (said::WHEEL_OR_PINCH, said::ZOOMS_IN_AND_OUT_AT_THE_POINTER),
    (said::DOUBLE_CLICK_OR_HOME, said::SHOWS_THE_WHOLE_BOARD_AGAIN),
    (said::ARROW_KEYS_WITH_SHIFT, said::CLICK_THE_SURFACE_FIRST_THEN_THEY_TURN),
    (said::DRAG_THE_LIGHTS_DIAL, said::SETS_THE_SIDE_THE_LIGHT_COMES_FROM),
    (said::DRAG_ON_THE_CLOCK, said::SHOWS_THE_SURFACE_AT_THAT_MOMENT_OF),
    (said::CLICK_A_NUMBERED_MARK, said::GOES_TO_THAT_FINDING_THE_LIST_SHOWS),
];

/// In the lesson.
const LESSON: [Does; 3] = [
    (said::DRAG_ON_THE_SIZE_STRIP, said::CHANGES_THE_RIGHT_HALF_OF_EVERY_PICTURE),
    (said::WHEEL, said::MOVES_THE_PAGE_UP_AND_DOWN),
    (said::ESCAPE, said::LEAVES_THE_FULL_SCREEN),
];

/// Among the sizes.
const SIZES: [Does; 3] = [
    (said::ENTER_IN_ADD, said::ADDS_A_SIZE_TO_THE_LIST),
    (said::USE_THIS_SIZE, said::MAKES_IT_THE_SIZE_OF_THE_JOB),
    (said::WHEEL, said::MOVES_THE_LIST_UP_AND_DOWN),
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
                ui.add(Label::new(said::THIS_SAMPLE_SIGN_IS_ALREADY_PROOFED_THE).wrap());
            });
        });
    });
}

const TRACING: [Does; 3] = [
    (said::CLICK_A_PIECE, said::LEAVES_IT_OUT_OR_FILLS_A_HOLE),
    (said::DRAG, said::MOVES_THE_PICTURE),
    (said::WHEEL_OR_PINCH, said::ZOOMS_IN_AND_OUT_AT_THE_POINTER),
];

const HELP_WIDTH: f32 = 520.0;
/// Title, page and headings, at their tallest.
const ROOM_FOR_THE_REST: f32 = 400.0;

/// The window with the page of the view that is shown, where it is open.
pub(crate) fn help_ui(ctx: &egui::Context, beside: egui::Pos2, open: &mut bool, situation: &Situation) {
    let middle = situation.middle;
    let window = egui::Window::new(said::MOUSE_AND_KEYS).default_pos(beside);
    window_ui(ctx, window.resizable(false).default_width(HELP_WIDTH), open, |ui| {
        let palette = Palette::of(ui.ctx());
        let rows: &[Does] = match middle {
            Middle::Board => &BOARD,
            Middle::Relief => &RELIEF,
            Middle::Lesson => &LESSON,
            Middle::Sizes => &SIZES,
            Middle::Tracing => &TRACING,
        };
        ui.label(RichText::new(Command::Show(middle).label()).strong());
        ui.spacing_mut().item_spacing.y = 3.0;
        egui::Grid::new("mouse").num_columns(2).spacing([16.0, 3.0]).min_row_height(18.0).show(ui, |ui| {
            for (hand, outcome) in rows {
                ui.label(*hand);
                ui.add(Label::new(RichText::new(*outcome).color(palette.faint)).wrap());
                ui.end_row();
            }
        });
        ui.separator();
        ui.label(RichText::new(said::KEYS_EVERYWHERE).strong());
        // Where the window is low, the keys are what gives way.
        let room = (ui.ctx().content_rect().height() - ROOM_FOR_THE_REST).max(120.0);
        egui::ScrollArea::vertical().max_height(room).auto_shrink([false, true]).show(ui, |ui| {
            let keys: Vec<_> = menus::commands(situation)
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
                            Command::Show(_) => show_view_key(command.label()),
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
    let about = egui::Window::new(said::ABOUT_SPELK).default_pos(beside);
    window_ui(ctx, about.resizable(false).default_width(420.0), about_open, |ui| {
        ui.label(RichText::new(SPELK).heading());
        ui.label(said::version(crate::cli::version()));
        ui.label(said::SPELK_PROOFS_A_CARVING_BEFORE_YOU_COMMIT);
        ui.add_space(4.0);
        ui.label(said::SPELK_MEASURES_THE_OUTLINE_ONCE_A_WALL);
    });
    let cautions = egui::Window::new(said::CAUTIONS).default_pos(beside);
    window_ui(ctx, cautions.resizable(false).default_width(560.0), cautions_open, |ui| {
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
