//! The blemishes of the board: a row of tools over the canvas to draw them, and a list to change them.

use crate::app::board::view::BoardView;
use crate::app::commands::board::{BoardCommand, Tool};
use crate::app::commands::command::Command;
use crate::app::widgets::camera::Lens;
use crate::app::widgets::form::words_ui;
use crate::app::widgets::length_field::Lengths;
use crate::app::widgets::length_field::{Field, length_fields_ui, place_fields_ui};
use crate::app::widgets::look::{Palette, VERMILLION};
use crate::app::widgets::window::window_ui;
use crate::app::work::proofed::Proofed;
use crate::app::work::scene::Scene;
use crate::job::Job;
use crate::shop::{Blemish, BlemishKind, BlemishShape};
use crate::units::{LengthUnit, Mm};
use crate::words::window::board as said;
use egui::{ComboBox, Painter, RichText, ScrollArea, Shape, Stroke, StrokeKind};

/// The tools of the hand, in rows of their own over the canvas: to move the design, and, while the list
/// of blemishes is open, to draw one.
pub(crate) fn tools_ui(ui: &mut egui::Ui, view: &BoardView, commands: &mut Vec<Command>) {
    let palette = Palette::of(ui.ctx());
    let (tool, open) = (view.hand.tool, view.blemishes.open);
    let plate = egui::Frame::new().fill(palette.panel).corner_radius(4.0).inner_margin(2.0);
    if open {
        plate.show(ui, |ui| {
            ui.horizontal(|ui| {
                ui.label(RichText::new(said::DRAW_A_BLEMISH_AS).small().color(palette.faint));
                for marking in Tool::MARKING {
                    tool_ui(ui, marking, tool, commands);
                }
            });
        });
    }
    plate.show(ui, |ui| {
        ui.horizontal(|ui| {
            tool_ui(ui, Tool::Move, tool, commands);
            let command = BoardCommand::ToggleBlemishes;
            if ui
                .selectable_label(open, command.caption().label)
                .on_hover_text(command.caption().tip)
                .clicked()
            {
                commands.push(command.into());
            }
        });
    });
}

fn tool_ui(ui: &mut egui::Ui, tool: Tool, used: Tool, commands: &mut Vec<Command>) {
    if ui.selectable_label(used == tool, tool.caption().label).on_hover_text(tool.caption().tip).clicked() {
        commands.push(BoardCommand::UseTool(tool).into());
    }
}

/// The list, where it is open.
pub(crate) fn blemishes_ui(
    ctx: &egui::Context,
    scene: &Scene,
    view: &mut BoardView,
    lengths: &mut Lengths,
    commands: &mut Vec<Command>,
) {
    let Scene { job, unit, .. } = *scene;
    let mut open = view.blemishes.open;
    let at = egui::pos2(view.canvas.right() - 344.0, view.canvas.top() + 8.0);
    let window = egui::Window::new(said::BLEMISHES).resizable(false).default_width(320.0);
    window_ui(ctx, window.default_pos(at), &mut open, |ui| {
        ui.set_width(320.0);
        let palette = Palette::of(ui.ctx());
        let drawing = Tool::MARKING.contains(&view.hand.tool);
        let hint = if drawing {
            view.hand.tool.caption().tip
        } else {
            said::CHOOSE_CIRCLE_RECTANGLE_OR_LINE_UNDER_THE
        };
        words_ui(ui, RichText::new(hint).small().color(palette.faint));
        list_ui(ui, job, view.blemishes.chosen, unit, commands);
        let chosen =
            view.blemishes.chosen.and_then(|index| Some((index, *job.board().blemishes.get(index)?)));
        if let Some((index, blemish)) = chosen {
            ui.separator();
            form_ui(ui, index, blemish, lengths, commands);
        }
    });
    if !open && view.blemishes.open {
        commands.push(BoardCommand::ToggleBlemishes.into());
    }
}

fn list_ui(
    ui: &mut egui::Ui,
    job: &Job,
    chosen: Option<usize>,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) {
    ScrollArea::vertical().max_height(110.0).auto_shrink([false, true]).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        for (index, blemish) in job.board().blemishes.iter().enumerate() {
            ui.horizontal(|ui| {
                let chosen = chosen == Some(index);
                let words = said::blemish(index + 1, blemish, unit);
                if ui.selectable_label(chosen, words).clicked() {
                    commands.push(BoardCommand::ChooseBlemish((!chosen).then_some(index)).into());
                }
                ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                    let remove = ui.small_button(said::REMOVE);
                    if remove.accessible_name(said::remove_blemish(index + 1)).clicked() {
                        commands.push(BoardCommand::Unmark(index).into());
                    }
                });
            });
        }
    });
}

fn form_ui(
    ui: &mut egui::Ui,
    index: usize,
    blemish: Blemish,
    lengths: &mut Lengths,
    commands: &mut Vec<Command>,
) {
    let mut changed = blemish;
    ui.horizontal(|ui| {
        ui.label(said::KIND);
        let combo = ComboBox::from_id_salt("blemish kind").width(130.0).selected_text(blemish.kind.label());
        let response = combo.show_ui(ui, |ui| {
            for kind in BlemishKind::ALL {
                ui.selectable_value(&mut changed.kind, kind, kind.label());
            }
        });
        response.response.accessible_name(said::BLEMISH_KIND);
    });
    let place = |name, caption, value| Field { name, caption, value };
    match &mut changed.shape {
        BlemishShape::Circle { x, y, diameter } => {
            let fields = [
                place(said::BLEMISH_ALONG, said::MIDDLE_ALONG, *x),
                place(said::BLEMISH_ACROSS, said::MIDDLE_ACROSS, *y),
            ];
            set(place_fields_ui(ui, lengths, &fields), [x, y]);
            let fields = [place(said::BLEMISH_DIAMETER, said::DIAMETER, *diameter)];
            set(length_fields_ui(ui, lengths, &fields), [diameter]);
        }
        BlemishShape::Rectangle { x, y, length, width } => {
            let fields = [
                place(said::BLEMISH_ALONG, said::CORNER_ALONG, *x),
                place(said::BLEMISH_ACROSS, said::CORNER_ACROSS, *y),
            ];
            set(place_fields_ui(ui, lengths, &fields), [x, y]);
            let fields = [
                place(said::BLEMISH_LENGTH, said::LENGTH, *length),
                place(said::BLEMISH_WIDTH, said::WIDTH, *width),
            ];
            set(length_fields_ui(ui, lengths, &fields), [length, width]);
        }
        BlemishShape::Line { from: [x0, y0], to: [x1, y1] } => {
            let fields = [
                place(said::BLEMISH_FROM_ALONG, said::FROM_ALONG, *x0),
                place(said::BLEMISH_FROM_ACROSS, said::ACROSS, *y0),
            ];
            set(place_fields_ui(ui, lengths, &fields), [x0, y0]);
            let fields = [
                place(said::BLEMISH_TO_ALONG, said::TO_ALONG, *x1),
                place(said::BLEMISH_TO_ACROSS, said::ACROSS, *y1),
            ];
            set(place_fields_ui(ui, lengths, &fields), [x1, y1]);
        }
    }
    let fields = [place(said::BLEMISH_CLEARANCE, said::CLEARANCE, blemish.clearance)];
    set(place_fields_ui(ui, lengths, &fields), [&mut changed.clearance]);
    changed.clearance = changed.clearance.max(Mm::ZERO);
    if changed != blemish {
        commands.push(BoardCommand::EditBlemish(index, changed).into());
    }
}

/// Puts what was entered where it belongs.
fn set<const N: usize>(entered: Option<(usize, Mm)>, slots: [&mut Mm; N]) {
    if let Some((index, length)) = entered
        && let Some(slot) = slots.into_iter().nth(index)
    {
        *slot = length;
    }
}

/// The outlines of all blemishes over the carved design, the chosen one's firm while the list is open.
pub(crate) fn paint_outlines(painter: &Painter, shown: &Proofed, lens: Lens, view: &BoardView) {
    let palette = Palette::for_theme(painter.ctx().theme());
    let list = &view.blemishes;
    for (index, blemish) in shown.job.board().blemishes.iter().enumerate() {
        let chosen = list.open && list.chosen == Some(index);
        let stroke = if chosen { Stroke::new(3.0, VERMILLION) } else { Stroke::new(1.5, palette.on_wood) };
        match blemish.shape {
            BlemishShape::Line { from, to } => {
                let [a, b] = [from, to].map(|[x, y]| lens.screen(glam::dvec2(x.get(), y.get())));
                painter.add(Shape::line_segment([a, b], stroke));
            }
            BlemishShape::Circle { diameter, .. } => {
                let radius = (0.5 * diameter.get() * lens.scale()) as f32;
                painter.circle_stroke(lens.screen(blemish.middle()), radius, stroke);
            }
            BlemishShape::Rectangle { .. } => {
                painter.rect_stroke(lens.screen_rect(blemish.bounds()), 0.0, stroke, StrokeKind::Middle);
            }
        }
    }
}
