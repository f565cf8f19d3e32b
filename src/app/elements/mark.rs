//! Elements on the board: a click chooses the one that is there, and the chosen ones are marked.

use crate::app::commands::command::Command;
use crate::app::commands::element::{Choice, ElementCommand};
use crate::app::elements::view::ElementsView;
use crate::app::widgets::camera::Lens;
use crate::app::widgets::hand;
use crate::app::widgets::look::{MARK, Palette};
use crate::app::widgets::outlines::MOST_POINTS;
use crate::app::widgets::outlines::Outlines;
use crate::app::widgets::outlines::thinned;
use crate::app::work::proofed::Proofed;
use crate::geometry;
use crate::words::window::elements as said;
use egui::{Color32, Modifiers, Painter, Rect, Shape, Stroke, vec2};
use glam::DVec2;
use std::sync::Arc;

/// Marks the chosen elements, and shows where they would lie as they are being arranged.
pub(crate) fn paint_chosen(painter: &Painter, shown: &Proofed, lens: Lens, view: &mut ElementsView) {
    let elements = view.chosen_in(shown.job.design());
    let is_good = view
        .outlines
        .as_ref()
        .is_some_and(|drawn| Arc::ptr_eq(&drawn.design, shown.job.design()) && drawn.elements == elements);
    if !is_good {
        let design = shown.job.design().clone();
        let rings = thinned(&design, &elements, MOST_POINTS);
        view.outlines = Some(Outlines { design, elements, rings });
    }
    let on_screen = |p: DVec2| lens.screen(shown.proof.board_from_design.transform_point2(p));
    let seen = painter.clip_rect().expand(4.0);
    for ring in view.outlines.iter().flat_map(|outlines| &outlines.rings) {
        let points: Vec<_> = ring.iter().map(|&p| on_screen(p)).collect();
        if Rect::from_points(&points).intersects(seen) {
            // Light under dark, so that it shows on any wood.
            painter.add(Shape::closed_line(points.clone(), Stroke::new(4.0, Color32::from_white_alpha(200))));
            painter.add(Shape::closed_line(points, Stroke::new(2.0, MARK)));
        }
    }
    for ghost in view.arrange.ghosts(&shown.job, &view.chosen_in(shown.job.design())) {
        hand::ghost(painter, lens.screen_rect(shown.on_board(ghost)));
    }
}

/// What a click at a place on the board asks for: the topmost element there, or none.
pub(crate) fn choose_at(
    shown: &Proofed,
    at: DVec2,
    modifiers: Modifiers,
    view: &ElementsView,
) -> Option<Command> {
    let place = shown.proof.board_from_design.inverse().transform_point2(at);
    let design = shown.job.design();
    let is_there = |element: &crate::design::Element| {
        let bounds = element.region.bounds();
        !view.hidden.contains(&element.name)
            && bounds.is_some_and(|bounds| place.clamp(bounds.min, bounds.max) == place)
            && element.region.contains(place)
    };
    let choice = if modifiers.command || modifiers.shift { Choice::Toggle } else { Choice::Only };
    match design.elements.iter().rposition(is_there) {
        Some(element) => Some(ElementCommand::Choose(element, choice).into()),
        None if choice == Choice::Only && !view.chosen.is_empty() => Some(ElementCommand::ChooseNone.into()),
        None => None,
    }
}

/// What a box round a part of the board asks for: all elements that lie in it as a whole.
pub(crate) fn choose_in(shown: &Proofed, around: geometry::Rect, view: &ElementsView) -> Option<Command> {
    let is_inside = |element: &crate::design::Element| {
        let bounds = element.region.bounds().map(|bounds| shown.on_board(bounds));
        !view.hidden.contains(&element.name) && bounds.is_some_and(|bounds| around.union(bounds) == around)
    };
    let elements = shown.job.design().elements.iter().enumerate();
    let inside: Vec<usize> = elements.filter(|(_, element)| is_inside(element)).map(|(at, _)| at).collect();
    (!inside.is_empty()).then(|| ElementCommand::ChooseBoxed(inside).into())
}

/// Says over the board that not all of it is shown.
pub(crate) fn hidden_ui(
    ui: &mut egui::Ui,
    canvas: Rect,
    shown: &Proofed,
    view: &ElementsView,
    commands: &mut Vec<Command>,
) {
    let hidden = view.hidden_in(shown.job.design()).len();
    if hidden == 0 {
        return;
    }
    let palette = Palette::of(ui.ctx());
    let area = Rect::from_min_size(canvas.left_top() + vec2(8.0, 6.0), vec2(canvas.width() - 16.0, 30.0));
    // At the right end: the passes have the left one.
    let layout = egui::Layout::right_to_left(egui::Align::Min);
    let mut ui = ui.new_child(egui::UiBuilder::new().max_rect(area).layout(layout));
    let frame = egui::Frame::new().fill(palette.card).stroke(Stroke::new(1.0, palette.accent));
    frame.corner_radius(5.0).inner_margin(egui::Margin::symmetric(8, 3)).show(&mut ui, |ui| {
        let command = ElementCommand::ShowAll;
        if ui.small_button(command.caption().label).clicked() {
            commands.push(command.into());
        }
        ui.label(said::hidden(hidden));
    });
}
