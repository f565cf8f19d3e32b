//! The job, as short cards: the design and its elements, the board, the cutter, ends and size.

use crate::app::board::placing;
use crate::app::commands::board::BoardCommand;
use crate::app::commands::command::Command;
use crate::app::commands::situation::Situation;
use crate::app::elements::list::elements_ui;
use crate::app::elements::reading::{grounds_ui, offers_ui};
use crate::app::elements::view::ElementsView;
use crate::app::shell::choosing::{cutters_ui, machines_ui, woods_ui};
use crate::app::widgets::length_field::Lengths;
use crate::app::widgets::length_field::{
    Field, Measure, board_fields_ui, labelled_row_ui, length_fields_ui, length_row_ui,
};
use crate::app::widgets::look::{Palette, severity_ui};
use crate::app::work::proofed::Proofed;
use crate::app::work::scene::Scene;
use crate::job::{Edit, Ends, Frame, Job, Size};
use crate::notice::Importance;
use crate::proof::Severity;
use crate::shop::{BoardEnd, Sawn};
use crate::units::LengthUnit;
use crate::words::notices;
use crate::words::window::shell as said;
use egui::{Button, Label, RichText, ScrollArea};

/// All cards, one under the other.
pub(crate) fn cards_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    situation: &Situation,
    elements: &mut ElementsView,
    lengths: &mut Lengths,
    commands: &mut Vec<Command>,
) {
    let Scene { job, .. } = *scene;
    let cards = ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 3.0;
        card_ui(ui, &said::design(&job.design().name), &[], commands, |ui, commands| {
            design_ui(ui, scene, situation, elements, lengths, commands);
        });
        let more = [Command::ToggleWoods, BoardCommand::ToggleBenchList.into()];
        card_ui(ui, said::BOARD, &more, commands, |ui, commands| board_ui(ui, scene, lengths, commands));
        card_ui(ui, said::ENDS_AND_SIZE, &[], commands, |ui, commands| {
            size_ui(ui, scene, lengths, commands);
        });
        let more = [Command::ToggleCutters, Command::ToggleCoupon];
        card_ui(ui, said::CUTTER, &more, commands, |ui, commands| {
            cutter_ui(ui, scene, lengths, commands);
        });
    });
    let left = cards.inner_rect.height() - cards.content_size.y;
    elements.list.spare = Some(left);
}

/// A card: its title, the dialogs that belong to it, and what is on it.
fn card_ui(
    ui: &mut egui::Ui,
    title: &str,
    more: &[Command],
    commands: &mut Vec<Command>,
    content: impl FnOnce(&mut egui::Ui, &mut Vec<Command>),
) {
    let palette = Palette::of(ui.ctx());
    egui::Frame::new()
        .fill(palette.card)
        .stroke(egui::Stroke::new(1.0, palette.line))
        .corner_radius(6.0)
        .inner_margin(egui::Margin::symmetric(9, 3))
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            let title = Label::new(RichText::new(title).strong().size(14.5)).truncate();
            if more.is_empty() {
                ui.add(title);
            } else {
                ui.horizontal(|ui| {
                    ui.spacing_mut().interact_size.y = 18.0;
                    ui.add(title);
                    ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                        ui.spacing_mut().item_spacing.x = 4.0;
                        for command in more.iter().rev() {
                            if ui.small_button(command.label()).on_hover_text(command.tooltip()).clicked() {
                                commands.push(command.clone());
                            }
                        }
                    });
                });
            }
            content(ui, commands);
        });
}

fn design_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    situation: &Situation,
    view: &mut ElementsView,
    lengths: &mut Lengths,
    commands: &mut Vec<Command>,
) {
    let Scene { job, shown, unit, .. } = *scene;
    let palette = Palette::of(ui.ctx());
    let design = job.design();
    let [length, width] = shown.frame.size().to_array().map(crate::units::Mm::new);
    let size = said::drawn([length, width], unit);
    let hint = said::drawn_exactly([length, width], design.elements.len(), shown.segments, unit);
    let drawn_ui = |ui: &mut egui::Ui, facts: String| {
        ui.add(Label::new(RichText::new(facts).small().color(palette.faint)).truncate()).on_hover_text(&hint);
    };
    if design.page.is_some() {
        ui.horizontal(|ui| {
            ui.spacing_mut().interact_size.y = 16.0;
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                frame_ui(ui, job, commands);
                ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| drawn_ui(ui, size));
            });
        });
    } else {
        drawn_ui(ui, size);
    }
    elements_ui(ui, scene, situation, view, lengths, commands);
    for notice in &design.notices {
        let response = ui
            .horizontal_top(|ui| {
                if notice.importance() == Importance::LeftOut {
                    severity_ui(ui, 6.0, Severity::Chancy);
                }
                ui.add(Label::new(RichText::new(notices::drawing(notice)).small()).wrap())
            })
            .inner;
        if let Some(hint) = notices::drawing_hint(notice) {
            response.on_hover_text(hint);
        }
    }
    grounds_ui(ui, job, commands);
    let elements = &situation.elements;
    offers_ui(ui, shown, elements, commands);
}

/// What counts as the design's size, where the drawing has a page to choose.
fn frame_ui(ui: &mut egui::Ui, job: &Job, commands: &mut Vec<Command>) {
    ui.spacing_mut().button_padding.y = 0.0;
    ui.spacing_mut().item_spacing.x = 2.0;
    for frame in [Frame::Page, Frame::Outline] {
        let (label, hint) = said::frame(frame);
        let button = Button::selectable(job.frame() == frame, RichText::new(label).small());
        if ui.add(button).on_hover_text(hint).clicked() {
            commands.push(Command::Edit(Edit::Frame(frame)));
        }
    }
}

fn board_ui(ui: &mut egui::Ui, scene: &Scene, lengths: &mut Lengths, commands: &mut Vec<Command>) {
    let board = scene.job.board();
    let fields = [
        Field { name: said::BOARD_LENGTH, caption: said::LENGTH, value: board.length },
        Field { name: said::BOARD_WIDTH, caption: said::WIDTH, value: board.width },
        Field { name: said::BOARD_THICKNESS, caption: said::THICKNESS, value: board.thickness },
    ];
    if let Some((index, measure)) = board_fields_ui(ui, lengths, &fields) {
        commands.push(Command::Edit(match measure {
            Measure::One(length) => {
                [Edit::BoardLength, Edit::BoardWidth, Edit::BoardThickness][index](length)
            }
            Measure::All(board) => Edit::BoardSize(board),
        }));
    }
    labelled_row_ui(ui, said::WOOD, |ui| {
        const SAWN_WIDTH: f32 = 84.0;
        let room = (ui.available_width() - SAWN_WIDTH).max(40.0);
        ui.scope(|ui| {
            // A long name gives way to the word beside it.
            ui.set_max_width(room);
            woods_ui(ui, scene, room, commands);
        });
        // Nearly every board is flat-sawn; one of the two words is enough.
        let quarter = board.sawn == Sawn::Quarter;
        let hint = Sawn::Quarter.meaning();
        if ui.selectable_label(quarter, Sawn::Quarter.label()).on_hover_text(hint).clicked() {
            commands.push(Command::Edit(Edit::Sawn(if quarter { Sawn::Flat } else { Sawn::Quarter })));
        }
    });
}

fn cutter_ui(ui: &mut egui::Ui, scene: &Scene, lengths: &mut Lengths, commands: &mut Vec<Command>) {
    let Scene { job, shown, unit, .. } = *scene;
    labelled_row_ui(ui, said::CUTTER, |ui| cutters_ui(ui, scene, ui.available_width(), commands));
    labelled_row_ui(ui, said::MACHINE, |ui| {
        const MORE_WIDTH: f32 = 40.0;
        machines_ui(ui, scene, ui.available_width() - MORE_WIDTH, commands);
        let more = Command::from(BoardCommand::ToggleMachines);
        if ui.button("…").on_hover_text(more.tooltip()).accessible_name(more.label()).clicked() {
            commands.push(more);
        }
    });
    depth_row_ui(ui, job, lengths, commands);
    limit_ui(ui, job, shown, unit, commands);
}

/// How deep, and the way to how places are cleared.
fn depth_row_ui(ui: &mut egui::Ui, job: &Job, lengths: &mut Lengths, commands: &mut Vec<Command>) {
    let height = ui.spacing().interact_size.y;
    let row = egui::vec2(ui.available_width(), height);
    // From the right, so that the button has its room first.
    ui.allocate_ui_with_layout(row, egui::Layout::right_to_left(egui::Align::Min), |ui| {
        let command = Command::ToggleClearing;
        if ui.small_button(command.label()).on_hover_text(command.tooltip()).clicked() {
            commands.push(command);
        }
        ui.with_layout(egui::Layout::top_down(egui::Align::Min), |ui| {
            let field = Field { name: said::DEPTH, caption: said::DEPTH, value: job.depth() };
            if let Some(depth) = length_row_ui(ui, lengths, &field) {
                commands.push(Command::Edit(Edit::Depth(depth)));
            }
        });
    });
}

/// The thinnest walls to be trusted, where they come from, and the way to one's own.
fn limit_ui(ui: &mut egui::Ui, job: &Job, shown: &Proofed, unit: LengthUnit, commands: &mut Vec<Command>) {
    let palette = Palette::of(ui.ctx());
    let limits = shown.proof.limits.usual();
    let text = said::walls(
        [limits.along, limits.across],
        &job.cutter().reference,
        limits.basis.stand_in.as_deref(),
        unit,
    );
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        let room = (ui.available_width() - 102.0).max(60.0);
        ui.allocate_ui(egui::vec2(room, 0.0), |ui| {
            let label = Label::new(RichText::new(text).small().color(palette.faint)).wrap();
            ui.add(label).on_hover_text(crate::words::limits::limits_from(limits, unit));
        });
        let command = Command::ToggleWhy;
        if ui.small_button(command.label()).on_hover_text(command.tooltip()).clicked() {
            commands.push(command);
        }
    });
}

fn size_ui(ui: &mut egui::Ui, scene: &Scene, lengths: &mut Lengths, commands: &mut Vec<Command>) {
    let Scene { job, shown, .. } = *scene;
    let palette = Palette::of(ui.ctx());
    let unit = lengths.unit;
    labelled_row_ui(ui, said::ENDS, |ui| {
        // Close together, so that the price has room.
        ui.spacing_mut().item_spacing.x = 3.0;
        ui.spacing_mut().button_padding.x = 6.0;
        for ends in [Ends::Held, Ends::Free] {
            let (label, hint) = said::ends(ends);
            let button = ui.selectable_label(job.ends() == ends, label).on_hover_text(hint);
            if button.accessible_name(said::ends_named(label)).clicked() {
                commands.push(Command::Edit(Edit::Ends(ends)));
            }
        }
        let kept = [BoardEnd::Left, BoardEnd::Right].map(|end| job.machine().allowance(end));
        let price = said::ends_price(job.ends(), kept, shown.proof.feeding.step.range(), unit);
        // What does not fit is in the hover.
        ui.add(Label::new(RichText::new(price).small().color(palette.faint)).truncate());
    });
    let [length, width] = scene.size();
    let fields = [
        Field { name: said::FINISHED_LENGTH, caption: said::FINISHED_LENGTH, value: length },
        Field { name: said::FINISHED_WIDTH, caption: said::FINISHED_WIDTH, value: width },
    ];
    match length_fields_ui(ui, lengths, &fields) {
        Some((0, length)) => commands.push(Command::Edit(Edit::Size(Size::Length(length)))),
        Some((_, width)) => commands.push(Command::Edit(Edit::Size(Size::Width(width)))),
        None => {}
    }
    labelled_row_ui(ui, said::SCALE, |ui| {
        let factor = scene.factor();
        let mut percent = factor * 100.0;
        let value =
            egui::DragValue::new(&mut percent).range(0.1..=100_000.0).speed(0.2).max_decimals(2).suffix(" %");
        let response = ui.add(value).on_hover_text(said::scale_hover(factor)).accessible_name(said::SCALE);
        if response.changed() {
            commands.push(Command::Edit(Edit::Size(Size::Factor(percent / 100.0))));
        }
        size_button_ui(ui, job, said::AS_DRAWN, said::THE_DRAWINGS_OWN_SIZE, Size::Factor(1.0), commands);
    });
    ui.horizontal(|ui| {
        let hint = said::AS_LARGE_AS_THIS_BOARD_ALLOWS_FOLLOWS;
        size_button_ui(ui, job, said::LARGEST_THAT_FITS, hint, Size::Fit, commands);
        if let Some(least) = shown.proof.thinnest.sound_factor {
            let hint = said::THE_SMALLEST_SIZE_AT_WHICH_NO_WALL;
            size_button_ui(ui, job, said::LEAST_SOUND, hint, Size::Factor(least), commands);
        }
    });
    let fit = &shown.proof.fit;
    let needed = [fit.length_needed, fit.width_needed];
    ui.horizontal(|ui| {
        ui.spacing_mut().interact_size.y = 18.0;
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let more = Command::from(BoardCommand::ToggleFit);
            if ui.small_button(more.label()).on_hover_text(more.tooltip()).clicked() {
                commands.push(more);
            }
            ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                let needs =
                    Label::new(RichText::new(said::needs_a_board(needed, unit)).small().color(palette.faint))
                        .truncate();
                ui.add(needs).on_hover_text(said::exactly(needed, unit));
            });
        });
    });
    placing::place_ui(ui, job, shown, lengths, commands);
}

/// Sizes that are a click away.
fn size_button_ui(
    ui: &mut egui::Ui,
    job: &Job,
    label: &str,
    hint: &str,
    size: Size,
    commands: &mut Vec<Command>,
) {
    if ui
        .add(
            Button::selectable(job.size() == size, label)
                .fill(ui.visuals().widgets.inactive.weak_bg_fill)
                .selected(job.size() == size),
        )
        .on_hover_text(hint)
        .clicked()
    {
        commands.push(Command::Edit(Edit::Size(size)));
    }
}
