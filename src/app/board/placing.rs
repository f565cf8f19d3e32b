//! Where the design lies on the board: the rows of the card, and the hand that moves it on the canvas.

use crate::app::board::hand::Hand;
use crate::app::board::hand::Held;
use crate::app::board::pieces::copy_at;
use crate::app::board::view::BoardView;
use crate::app::board::view::Overlay;
use crate::app::commands::board::{BoardCommand, Tool};
use crate::app::commands::command::Command;
use crate::app::widgets::camera::Lens;
use crate::app::widgets::hand::{CLICK, label, rounded};
use crate::app::widgets::length_field::Lengths;
use crate::app::widgets::length_field::{Field, place_row_ui};
use crate::app::widgets::look::{Palette, VERMILLION};
use crate::app::widgets::window::is_escape_free;
use crate::app::work::proofed::Proofed;
use crate::app::work::scene::Scene;
use crate::job::{Edit, Job, Placement, Turn};
use crate::proof::fit::carved_box;
use crate::proof::place::snapped;
use crate::shop::BlemishShape;
use crate::units::{LengthUnit, Mm};
use crate::words::window::{board as said, size, with_unit};
use egui::{Color32, Painter, PointerButton, Pos2, Rect, Sense, Shape, Stroke, StrokeKind, pos2, vec2};
use glam::{DVec2, dvec2};

/// How near a dragged design must come to a stop to snap to it, in screen points.
const REACH: f64 = 8.0;
/// The blemish a click marks: a knot of a finger's width.
const CLICKED_DIAMETER: Mm = Mm::new(15.0);

/// The spots a design can be put tight to, and where each is in a small picture of the board.
const SPOTS: [(Placement, [f32; 4]); 5] = [
    (Placement::UpperLeft, [0.0, 0.0, 0.34, 0.5]),
    (Placement::UpperRight, [0.66, 0.0, 1.0, 0.5]),
    (Placement::Middle, [0.34, 0.0, 0.66, 1.0]),
    (Placement::LowerLeft, [0.0, 0.5, 0.34, 1.0]),
    (Placement::LowerRight, [0.66, 0.5, 1.0, 1.0]),
];

/// The card's rows: a spot on a small board, turns, a place that is found, and typed offsets.
pub(crate) fn place_ui(
    ui: &mut egui::Ui,
    job: &Job,
    shown: &Proofed,
    lengths: &mut Lengths,
    commands: &mut Vec<Command>,
) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        spots_ui(ui, job, commands);
        let turn = if job.turn() == Turn::AsDrawn {
            said::TURN.to_owned()
        } else {
            said::turned(job.turn().degrees())
        };
        let button = ui.button(turn).on_hover_text(BoardCommand::Turn.caption().tip);
        if button.accessible_name(said::TURN_THE_DESIGN).clicked() {
            commands.push(BoardCommand::Turn.into());
        }
        ui.menu_button(said::FIND_A_PLACE, |ui| {
            for command in [BoardCommand::FindPlace, BoardCommand::FindLargest] {
                if ui.button(command.caption().label).on_hover_text(command.caption().tip).clicked() {
                    commands.push(command.into());
                }
            }
        });
    });
    let at = job.corner(shown.proof.factor);
    let fields = [
        Field { name: said::OFFSET_ALONG, caption: said::FROM_THE_LEFT_END, value: Mm::new(at.x) },
        Field { name: said::OFFSET_ACROSS, caption: said::FROM_THE_REFERENCE_EDGE, value: Mm::new(at.y) },
    ];
    let caption = with_unit(said::OFFSET, lengths.unit);
    if let Some((index, length)) = place_row_ui(ui, lengths, &caption, &fields) {
        let mut place = at.to_array().map(Mm::new);
        place[index] = length;
        commands.push(BoardCommand::Place(place).into());
    }
}

/// A small board with five spots on it; each is a button.
fn spots_ui(ui: &mut egui::Ui, job: &Job, commands: &mut Vec<Command>) {
    let palette = Palette::of(ui.ctx());
    let (rect, _) = ui.allocate_exact_size(vec2(74.0, 25.0), Sense::hover());
    ui.painter().rect(rect, 3.0, palette.wood, Stroke::new(1.0, palette.on_wood), StrokeKind::Inside);
    for (at, [left, top, right, bottom]) in SPOTS {
        let place = |x: f32, y: f32| rect.min + vec2(x, y) * rect.size();
        let area = Rect::from_min_max(place(left, top), place(right, bottom));
        let (label, hint) = said::placement(at);
        let response = ui.interact(area, ui.scope_id().with(("spot", label)), Sense::click());
        let chosen = job.at() == at;
        response.widget_info(|| egui::WidgetInfo::selected(egui::Role::RadioButton, true, chosen, label));
        let mark = Rect::from_center_size(area.center(), vec2(16.0, 7.0));
        let edge = if response.hovered() || response.has_focus() { 2.0 } else { 1.0 };
        let fill = if chosen { palette.on_wood } else { Color32::TRANSPARENT };
        ui.painter().rect(mark, 1.0, fill, Stroke::new(edge, palette.on_wood), StrokeKind::Inside);
        if response.on_hover_text(hint).clicked() {
            commands.push(Command::Edit(Edit::Place(at)));
        }
    }
}

/// What the hand does on the board with a tool; whether it, and not the view, takes the drag.
pub(crate) fn hand_ui(
    ui: &egui::Ui,
    response: &egui::Response,
    scene: &Scene,
    lens: Lens,
    view: &mut BoardView,
    over: &dyn Overlay,
    commands: &mut Vec<Command>,
) -> bool {
    let shown = scene.shown;
    let tool = view.hand.tool;
    if view.hand.focus_canvas {
        view.hand.focus_canvas = false;
        response.request_focus();
    }
    if tool == Tool::Move {
        nudge_ui(ui, response, scene.unit, commands);
    }
    if tool != Tool::Look && is_escape_free(ui.ctx()) {
        view.hand.held = None;
        commands.push(BoardCommand::UseTool(Tool::Look).into());
    }
    choose_ui(response, shown, lens, view, over, commands);
    if response.drag_started_by(PointerButton::Primary) {
        let origin = ui.input(|input| input.pointer.press_origin());
        let boxes = tool == Tool::Look && !view.tools.measuring && ui.input(|input| input.modifiers.shift);
        view.hand.held = origin.and_then(|origin| {
            if boxes { Some(Held::Box(lens.board(origin))) } else { taken_hold(shown, lens, tool, origin) }
        });
        if matches!(view.hand.held, Some(Held::Design(_))) {
            commands.push(BoardCommand::Grab.into());
        }
    }
    let Some(held) = view.hand.held else { return false };
    let pointer = response.interact_pointer_pos().or(response.hover_pos());
    let stopped = response.drag_stopped_by(PointerButton::Primary);
    match (held, pointer) {
        (Held::Design(grab), Some(pointer)) => {
            ui.ctx().set_cursor_icon(egui::CursorIcon::Grabbing);
            let free = ui.input(|input| input.modifiers.shift);
            let wanted = lens.board(pointer) - grab;
            let reach = if free { 0.0 } else { REACH / lens.scale() };
            let place = snapped(&shown.job, shown.proof.factor, wanted, reach);
            if response.dragged_by(PointerButton::Primary) || stopped {
                commands.push(BoardCommand::Drag(place.to_array().map(Mm::new)).into());
            }
        }
        (Held::Mark(from), Some(pointer)) if stopped => {
            let clicked = lens.screen(from).distance(pointer) < CLICK;
            let shape =
                if clicked { None } else { mark_between(tool, from, on_board(shown, lens.board(pointer))) };
            commands.extend(shape.map(|shape| BoardCommand::Mark(view.blemishes.next(shape)).into()));
        }
        (Held::Box(from), Some(pointer)) if stopped => {
            let to = lens.board(pointer);
            commands.extend(over.boxed(crate::geometry::Rect::new(from.min(to), from.max(to))));
        }
        _ => {}
    }
    if stopped || !ui.input(|input| input.pointer.any_down()) {
        view.hand.held = None;
        if matches!(held, Held::Design(_)) {
            commands.push(BoardCommand::Drop.into());
        }
    }
    true
}

/// A click marks a round place, or chooses the blemish or the element that is there.
fn choose_ui(
    response: &egui::Response,
    shown: &Proofed,
    lens: Lens,
    view: &BoardView,
    over: &dyn Overlay,
    commands: &mut Vec<Command>,
) {
    let Some(pointer) = response.interact_pointer_pos().filter(|_| response.clicked()) else { return };
    let at = lens.board(pointer);
    let near = crate::geometry::Rect::new(at, at).grown(f64::from(CLICK) / lens.scale());
    let hit = shown.job.board().blemishes.iter().rposition(|blemish| blemish.distance_to_box(near) == 0.0);
    if hit.is_some() {
        commands.push(BoardCommand::ChooseBlemish(hit).into());
    } else if view.hand.tool == Tool::Circle && on_board(shown, at) == at {
        let [x, y] = at.to_array().map(rounded);
        let shape = BlemishShape::Circle { x, y, diameter: CLICKED_DIAMETER };
        commands.push(BoardCommand::Mark(view.blemishes.next(shape)).into());
    } else if matches!(view.hand.tool, Tool::Look | Tool::Move) && !view.tools.measuring {
        let modifiers = response.ctx.input(|input| input.modifiers);
        let clicked = copy_at(&shown.job, view.outlines(), at);
        commands.extend(clicked.or_else(|| over.clicked_at(at, modifiers)));
    }
}

fn taken_hold(shown: &Proofed, lens: Lens, tool: Tool, origin: Pos2) -> Option<Held> {
    let at = lens.board(origin);
    match tool {
        Tool::Look => None,
        Tool::Move => {
            let (job, factor) = (&shown.job, shown.proof.factor);
            let low = job.corner(factor);
            let carved = carved_box(job, factor);
            (at.clamp(carved.min, carved.max) == at).then_some(Held::Design(at - low))
        }
        Tool::Circle | Tool::Rectangle | Tool::Line => Some(Held::Mark(on_board(shown, at))),
    }
}

/// The nearest point of the board.
fn on_board(shown: &Proofed, at: DVec2) -> DVec2 {
    let area = shown.job.board().area();
    at.clamp(area.min, area.max)
}

/// The shape between two points of a drag.
fn mark_between(tool: Tool, from: DVec2, to: DVec2) -> Option<BlemishShape> {
    let point = |p: DVec2| p.to_array().map(rounded);
    let (low, high) = (from.min(to), from.max(to));
    match tool {
        Tool::Circle => {
            let [x, y] = point(from);
            Some(BlemishShape::Circle { x, y, diameter: rounded(2.0 * from.distance(to)) })
        }
        Tool::Rectangle => {
            let ([x, y], [length, width]) = (point(low), point(high - low));
            (length > Mm::ZERO && width > Mm::ZERO).then_some(BlemishShape::Rectangle { x, y, length, width })
        }
        Tool::Line => Some(BlemishShape::Line { from: point(from), to: point(to) }),
        Tool::Look | Tool::Move => None,
    }
}

/// The arrow keys, while the canvas has the keys: small steps, with Shift large ones.
fn nudge_ui(ui: &egui::Ui, response: &egui::Response, unit: LengthUnit, commands: &mut Vec<Command>) {
    use egui::Key::{ArrowDown, ArrowLeft, ArrowRight, ArrowUp};
    if !response.has_focus() {
        return;
    }
    let filter =
        egui::EventFilter { horizontal_arrows: true, vertical_arrows: true, ..egui::EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    let (small, large) = match unit {
        LengthUnit::Millimetres => (Mm::new(1.0), Mm::new(10.0)),
        LengthUnit::InchDecimal => (Mm::from_inches(0.05), Mm::from_inches(0.5)),
        LengthUnit::InchSixteenth | LengthUnit::InchFraction | LengthUnit::InchSixtyFourth => {
            (Mm::from_inches(1.0 / 16.0), Mm::from_inches(0.5))
        }
    };
    let mut by = DVec2::ZERO;
    ui.input_mut(|input| {
        for (key, way) in [
            (ArrowLeft, dvec2(-1.0, 0.0)),
            (ArrowRight, dvec2(1.0, 0.0)),
            (ArrowDown, dvec2(0.0, -1.0)),
            (ArrowUp, dvec2(0.0, 1.0)),
        ] {
            for (modifiers, step) in [(egui::Modifiers::SHIFT, large), (egui::Modifiers::NONE, small)] {
                by += way * (input.count_and_consume_key(modifiers, key) as f64 * step.get());
            }
        }
    });
    if by != DVec2::ZERO {
        commands.push(BoardCommand::Nudge(by.to_array().map(Mm::new)).into());
    }
}

/// What is held, drawn over the board: where the design will lie, or the blemish as it grows.
pub(crate) fn paint_held(painter: &Painter, scene: &Scene, lens: Lens, hand: &Hand, pointer: Option<Pos2>) {
    let Scene { shown, unit, .. } = *scene;
    let palette = Palette::for_theme(painter.ctx().theme());
    match (hand.held, pointer) {
        (Some(Held::Design(_)), _) => {
            let frame = carved_box(&shown.job, shown.proof.factor);
            let rect = lens.screen_rect(frame);
            painter.rect_stroke(rect, 0.0, Stroke::new(2.0, palette.accent), StrokeKind::Outside);
            let at = shown.job.corner(shown.proof.factor);
            let words = said::from_end_and_edge(at.to_array().map(Mm::new), unit);
            label(painter, pos2(rect.center().x, rect.top() - 6.0), words);
        }
        (Some(Held::Box(from)), Some(pointer)) => {
            let around = Rect::from_two_pos(lens.screen(from), pointer);
            let fill = palette.accent.gamma_multiply(0.15);
            painter.rect(around, 0.0, fill, Stroke::new(1.5, palette.accent), StrokeKind::Middle);
        }
        (Some(Held::Mark(from)), Some(pointer)) => {
            let to = on_board(shown, lens.board(pointer));
            let stroke = Stroke::new(2.0, VERMILLION);
            let (a, b) = (lens.screen(from), lens.screen(to));
            let words = match hand.tool {
                Tool::Circle => {
                    painter.circle_stroke(a, a.distance(b), stroke);
                    unit.show(Mm::new(2.0 * from.distance(to)))
                }
                Tool::Rectangle => {
                    painter.rect_stroke(Rect::from_two_pos(a, b), 0.0, stroke, StrokeKind::Middle);
                    size((to - from).abs().to_array().map(Mm::new), unit)
                }
                _ => {
                    painter.add(Shape::line_segment([a, b], stroke));
                    unit.show(Mm::new(from.distance(to)))
                }
            };
            label(painter, b + vec2(0.0, -10.0), words);
        }
        _ => {}
    }
}
