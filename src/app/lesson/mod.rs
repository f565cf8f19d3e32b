//! The lesson: why walls thin as a design shrinks, and why the limit does not move.

mod turned;

use crate::app::commands::command::Command;
use crate::app::commands::export::Export;
use crate::app::lesson::turned::turned_ui;
use crate::app::widgets::figure::figure_ui;
use crate::app::widgets::look::{Palette, severity_ui};
use crate::app::work::proofed::Proofed;
use crate::app::work::scene::Scene;
use crate::design::samples;
use crate::proof::Severity;
use crate::proof::lesson::{Question, TOUR, TourStep};
use crate::sheet::lesson::{Figure, Lesson};
use crate::units::LengthUnit;
use crate::words::{lesson as said, tour};
use egui::{Label, RichText, ScrollArea, TextStyle, vec2};

/// Where the tour is.
#[derive(Clone, Copy)]
pub(crate) struct Tour {
    pub(crate) step: usize,
    /// What was guessed, by its place among the guesses.
    pub(crate) guess: Option<usize>,
}

/// How much larger everything is on a full screen: it is read from the last row. A round value of our own.
const PROJECTED: f32 = 1.5;

/// The lesson, in the middle of the window, or alone on a full screen.
pub(crate) fn lesson_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    tour: Option<Tour>,
    is_alone: bool,
    commands: &mut Vec<Command>,
) {
    if is_alone {
        for font in ui.style_mut().text_styles.values_mut() {
            font.size *= PROJECTED;
        }
    }
    let Scene { shown, unit, .. } = *scene;
    let palette = Palette::of(ui.ctx());
    let lesson = Lesson::of(&shown.job, &shown.proof);
    let room = ui.available_height();
    let back = egui::Frame::new().fill(palette.panel).inner_margin(egui::Margin::symmetric(16, 6));
    back.show(ui, |ui| {
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            let top = ui.cursor().top();
            head_ui(ui, tour.is_some(), is_alone, commands);
            if let Some(tour) = tour {
                tour_ui(ui, tour, shown, unit, commands);
            }
            let asked =
                tour.and_then(|tour| TOUR.get(tour.step)).map(|step| Figure::asked_about(step.question));
            figures_ui(ui, &lesson, unit, room - (ui.cursor().top() - top), asked.unwrap_or(0));
            turned_ui(ui, shown, unit);
        });
    });
}

fn head_ui(ui: &mut egui::Ui, is_touring: bool, is_alone: bool, commands: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        ui.label(RichText::new(said::TITLE).heading());
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            if is_alone {
                let command = Command::FullScreen;
                if ui.button(said::LEAVE_FULL_SCREEN).on_hover_text(command.tooltip()).clicked() {
                    commands.push(command);
                }
            } else {
                button_ui(ui, Command::FullScreen, commands);
            }
            button_ui(ui, Command::AskExport(Export::Handout), commands);
            if !is_touring {
                button_ui(ui, Command::TourStep(0), commands);
            }
        });
    });
    ui.add(Label::new(said::RULE).wrap());
    ui.add_space(4.0);
}

fn button_ui(ui: &mut egui::Ui, command: Command, commands: &mut Vec<Command>) {
    if ui.button(command.label()).on_hover_text(command.tooltip()).clicked() {
        commands.push(command);
    }
}

/// One step of the tour: what to see, the question, and the answer once the handle has found it.
fn tour_ui(ui: &mut egui::Ui, tour: Tour, shown: &Proofed, unit: LengthUnit, commands: &mut Vec<Command>) {
    let at = tour.step;
    let Some(step @ TourStep { question, sample, .. }) = TOUR.get(at) else { return };
    let palette = Palette::of(ui.ctx());
    let card = egui::Frame::new().fill(palette.card).stroke(egui::Stroke::new(1.0, palette.accent));
    card.corner_radius(6.0).inner_margin(egui::Margin::symmetric(12, 6)).show(ui, |ui| {
        ui.set_width(ui.available_width());
        let title = samples::find(sample).map_or(*sample, |sample| sample.title);
        ui.horizontal(|ui| {
            let words = said::step(at + 1, TOUR.len(), title);
            ui.label(RichText::new(words).small().color(palette.faint));
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                if ui.small_button(said::END_TOUR).clicked() {
                    commands.push(Command::EndTour);
                }
                let next = egui::Button::new(said::NEXT).small();
                if ui.add_enabled(at + 1 < TOUR.len(), next).accessible_name(said::NEXT_STEP).clicked() {
                    commands.push(Command::TourStep(at + 1));
                }
                let back = egui::Button::new(said::BACK).small();
                if ui.add_enabled(at > 0, back).accessible_name(said::STEP_BEFORE).clicked() {
                    commands.push(Command::TourStep(at - 1));
                }
            });
        });
        ui.add(Label::new(tour::say(*question)).wrap());
        let asked = RichText::new(tour::ask(*question)).strong();
        ui.add(Label::new(asked.size(TextStyle::Body.resolve(ui.style()).size * 1.2)).wrap());
        let is_its_own = shown.job.design().name == title;
        ui.horizontal_wrapped(|ui| {
            if is_its_own {
                guess_ui(ui, step, tour.guess, shown, unit, commands);
            } else {
                ui.label(RichText::new(said::OTHER_SAMPLE).color(palette.faint));
                if ui.small_button(said::OPEN_SAMPLE).clicked() {
                    commands.push(Command::TourStep(at));
                }
            }
        });
    });
    ui.add_space(4.0);
}

/// The guesses; then what to do; then what became of the guess, and why. A pupil who was told the answer learns less
/// from seeing it.
fn guess_ui(
    ui: &mut egui::Ui,
    step: &TourStep,
    guess: Option<usize>,
    shown: &Proofed,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) {
    let palette = Palette::of(ui.ctx());
    let TourStep { question, goal, .. } = *step;
    let guesses = tour::guesses(question);
    let Some((guess, words)) = guess.and_then(|guess| Some((guess, guesses.get(guess)?))) else {
        ui.label(RichText::new(said::GUESS_FIRST).color(palette.faint));
        for (index, guess) in guesses.iter().enumerate() {
            if ui.button(*guess).clicked() {
                commands.push(Command::Guess(index));
            }
        }
        return;
    };
    if goal.is_met(&shown.proof) {
        let is_right = step.right_guess(&shown.proof) == guess;
        if is_right {
            severity_ui(ui, 8.0, Severity::Sound);
        }
        ui.add(Label::new(said::guess_held(words, is_right)).wrap());
        ui.add(Label::new(said::answered(&tour::answer(goal, &shown.proof, unit))).wrap());
    } else {
        ui.label(said::guessed(words));
        ui.label(RichText::new(tour::hint(question)).color(palette.faint));
        let clearing = Command::ToggleClearing;
        if question == Question::ShallowPass && ui.small_button(clearing.label()).clicked() {
            commands.push(clearing);
        }
    }
}

/// The figures, as many beside each other as leave their sentences readable. The one that a question is about comes
/// first.
fn figures_ui(ui: &mut egui::Ui, lesson: &Lesson, unit: LengthUnit, room: f32, first: usize) {
    /// Title, caption and sentence of a figure.
    const WORDS: f32 = 100.0;
    const GAP: f32 = 18.0;
    const TWO_FROM: f32 = 700.0;
    const THREE_FROM: f32 = 1000.0;
    /// A figure is no lower than this, and moves out of sight before.
    const LOWEST: f32 = 70.0;
    let mut figures = Figure::all(lesson, unit);
    figures[..=first].rotate_right(1);
    let width = ui.available_width();
    let columns = if width >= THREE_FROM {
        3
    } else if width >= TWO_FROM {
        2
    } else {
        1
    };
    let each = (width - GAP * (columns as f32 - 1.0)) / columns as f32;
    // All of them in sight where the window allows it.
    let tallest = (room / (figures.len() / columns) as f32 - WORDS).clamp(LOWEST, 360.0);
    for row in figures.chunks(columns) {
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = GAP;
            for figure in row {
                ui.allocate_ui(vec2(each, 0.0), |ui| {
                    ui.vertical(|ui| {
                        ui.set_width(each);
                        figure_ui(ui, figure, each, tallest);
                    });
                });
            }
        });
        ui.add_space(6.0);
    }
}
