//! Handles on the chosen elements: one in the middle moves them, those at the corners make them larger or smaller.
//!
//! Keys and numbers do the same in the windows of *Move…* and *Resize…*.

use crate::app::commands::command::Command;
use crate::app::commands::element::ElementCommand;
use crate::app::elements::view::{ElementsView, Handle, HeldHandle};
use crate::app::widgets::camera::Lens;
use crate::app::widgets::hand::{CLICK, ghost, label, rounded};
use crate::app::widgets::look::MARK;
use crate::app::work::proofed::Proofed;
use crate::geometry::Rect;
use crate::units::{LengthUnit, Mm};
use crate::words::window::board::along_and_across;
use crate::words::window::elements as said;
use egui::{Color32, CursorIcon, Painter, Pos2, Sense, Stroke, StrokeKind, Vec2, pos2, vec2};
use glam::DVec2;

/// How large a handle is, in points, and how large the place that takes the pointer.
const HANDLE: f32 = 10.0;
const REACH: f32 = 18.0;
/// How far outside their corners the handles stand: marks of findings lie at the corners.
const OUTSIDE: f32 = 9.0;
/// Smaller on the screen, elements have no handles at their corners: there would be no room between.
const LEAST: f32 = 40.0;
/// Sizes are to a tenth of a per cent: finer than a hand on a screen.
const SIZE_STEP: f64 = 1e-3;
/// Nothing is made smaller than this at once. A round value of our own.
const SMALLEST: f64 = 0.05;

/// What letting go would do.
enum Change {
    Move([Mm; 2]),
    Resize(f64),
}

impl Change {
    /// What becomes of elements in this box when the handle is let go here.
    fn of(held: HeldHandle, around: Rect, to: DVec2) -> Change {
        match held.handle {
            Handle::Move => Change::Move((to - held.from).to_array().map(rounded)),
            Handle::Resize(_) => {
                let middle = around.center();
                let factor = to.distance(middle) / held.from.distance(middle).max(f64::MIN_POSITIVE);
                Change::Resize(((factor / SIZE_STEP).round() * SIZE_STEP).max(SMALLEST))
            }
        }
    }

    /// The box as it would lie.
    fn ghost(&self, around: Rect) -> Rect {
        match *self {
            Change::Move(by) => around.moved(by.map(Mm::get).into()),
            Change::Resize(factor) => around.resized(factor),
        }
    }

    fn in_words(&self, around: Rect, unit: LengthUnit) -> String {
        match *self {
            Change::Move(by) => along_and_across(by, unit),
            Change::Resize(factor) => {
                said::resized_to((around.size() * factor).to_array().map(Mm::new), factor, unit)
            }
        }
    }

    fn command(&self) -> Option<ElementCommand> {
        match *self {
            Change::Move(by) => (by != [Mm::ZERO; 2]).then_some(ElementCommand::Move(by)),
            Change::Resize(factor) => (factor != 1.0).then_some(ElementCommand::Resize(factor)),
        }
    }
}

/// The handles of the chosen elements, where some but not all are: the place and the size of the whole are the job's
/// own.
pub(crate) fn handles_ui(
    ui: &mut egui::Ui,
    painter: &Painter,
    shown: &Proofed,
    lens: Lens,
    unit: LengthUnit,
    view: &mut ElementsView,
    commands: &mut Vec<Command>,
) {
    let design = shown.job.design();
    let chosen = view.chosen_in(design);
    let is_part = !chosen.is_empty() && chosen.len() < design.elements.len();
    let Some(around) = design.box_round(&chosen).filter(|_| is_part).map(|drawn| shown.on_board(drawn))
    else {
        view.handle = None;
        return;
    };
    let rect = lens.screen_rect(around);
    let mut handles = vec![(Handle::Move, rect.center())];
    if rect.width().min(rect.height()) >= LEAST {
        let rect = rect.expand(OUTSIDE);
        for (x, along) in [(rect.left(), -1), (rect.right(), 1)] {
            for (y, across) in [(rect.bottom(), -1), (rect.top(), 1)] {
                handles.push((Handle::Resize([along, across]), pos2(x, y)));
            }
        }
    }
    for (handle, at) in handles {
        handle_ui(ui, painter, handle, at, lens, view);
    }
    let Some(held) = view.handle else { return };
    let Some(pointer) = ui.input(|input| input.pointer.interact_pos()) else { return };
    let change = Change::of(held, around, lens.board(pointer));
    if ui.input(|input| input.pointer.any_down()) {
        let rect = lens.screen_rect(change.ghost(around));
        ghost(painter, rect);
        label(painter, rect.center_top() - vec2(0.0, 10.0), change.in_words(around, unit));
    } else {
        view.handle = None;
        let is_drag = lens.screen(held.from).distance(pointer) >= CLICK;
        commands.extend(change.command().filter(|_| is_drag).map(Command::from));
    }
}

/// A handle, and whether it is taken.
fn handle_ui(
    ui: &mut egui::Ui,
    painter: &Painter,
    handle: Handle,
    at: Pos2,
    lens: Lens,
    view: &mut ElementsView,
) {
    if !painter.clip_rect().contains(at) {
        return;
    }
    let (id, name, cursor) = match handle {
        Handle::Move => ([0, 0], said::MOVE_THE_CHOSEN, CursorIcon::Move),
        Handle::Resize(corner @ ([-1, 1] | [1, -1])) => {
            (corner, said::RESIZE_THE_CHOSEN, CursorIcon::ResizeNwSe)
        }
        Handle::Resize(corner) => (corner, said::RESIZE_THE_CHOSEN, CursorIcon::ResizeNeSw),
    };
    let id = ui.scope_id().with(("handle of the chosen", id));
    // A click goes through to the element under it; the keys have windows of their own.
    let response = ui.interact(egui::Rect::from_center_size(at, Vec2::splat(REACH)), id, Sense::DRAG);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, name));
    if response.drag_started() {
        let origin = ui.input(|input| input.pointer.press_origin()).unwrap_or(at);
        view.handle = Some(HeldHandle { handle, from: lens.board(origin) });
    }
    let is_held = view.handle.is_some_and(|held| held.handle == handle);
    let fill = if is_held || response.hovered() { MARK } else { Color32::WHITE };
    let stroke = Stroke::new(1.5, if fill == MARK { Color32::WHITE } else { MARK });
    match handle {
        Handle::Move => {
            painter.circle(at, HANDLE / 2.0 + 1.0, fill, stroke);
            for way in [vec2(1.0, 0.0), vec2(0.0, 1.0)] {
                painter.line_segment([at - way * 3.5, at + way * 3.5], Stroke::new(1.2, stroke.color));
            }
        }
        Handle::Resize(_) => {
            let square = egui::Rect::from_center_size(at, Vec2::splat(HANDLE));
            painter.rect(square, 2.0, fill, stroke, StrokeKind::Inside);
        }
    }
    response.on_hover_cursor(cursor).on_hover_text(name);
}
