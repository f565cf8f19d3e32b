//! The cutters' passes, drawn over the board: each cutter with a line of its own.

use crate::app::commands::command::Command;
use crate::app::relief::worked::Planned;
use crate::app::widgets::camera::Lens;
use crate::app::widgets::look::Palette;
use crate::relief::{PathKind, Plan};
use crate::words::window::relief as said;
use egui::{Color32, Painter, Pos2, Rect, RichText, Shape, Stroke, vec2};

/// Corners of lines drawn at most, about: beyond that every line is drawn with fewer.
const MOST_CORNERS: usize = 40_000;

/// The line of the plan's cutter of this index: blue and whole, then a dark red that is dashed. On wood both
/// stand out, and they differ without their colours.
fn line_of(cutter: usize) -> (Stroke, bool) {
    if cutter == 0 {
        (Stroke::new(1.2, Color32::from_rgb(0x00, 0x4E, 0x85)), false)
    } else {
        (Stroke::new(1.4, Color32::from_rgb(0x8C, 0x24, 0x00)), true)
    }
}

/// Draws the lines that leave the final surface; those above them lie in the same places. `O(points)`, and what is
/// out of sight is not drawn.
pub(crate) fn paint(painter: &Painter, lens: Lens, plan: &Plan) {
    let sight = painter.clip_rect().expand(4.0);
    let corners: usize = plan.lines.iter().filter(|line| line.last).map(|line| line.points.len()).sum();
    // Points nearer than this to the last one drawn are passed over, in screen points.
    let near = 0.6 + 0.8 * (corners / MOST_CORNERS) as f32;
    for line in plan.lines.iter().filter(|line| line.last) {
        let Some(first) = line.points.first() else { continue };
        let ends = line.points.iter().map(|p| lens.screen(p.truncate()));
        let bounds = ends.clone().fold(Rect::NOTHING, |bounds, p| bounds.union(Rect::from_min_max(p, p)));
        if !bounds.intersects(sight) {
            continue;
        }
        let mut drawn: Vec<Pos2> = vec![lens.screen(first.truncate())];
        let last = line.points.len() - 1;
        for (index, p) in ends.enumerate().skip(1) {
            if index == last || drawn.last().is_some_and(|before| before.distance(p) >= near) {
                drawn.push(p);
            }
        }
        let (mut stroke, dashed) = line_of(line.cutter as usize);
        // Seen from afar lines stand close: thinner, so that wood shows between them.
        let apart = plan
            .cutters
            .get(line.cutter as usize)
            .map_or(1.0, |cutter| cutter.stepover * cutter.shape.working_diameter().get());
        stroke.width *= ((0.3 * apart * lens.scale()) as f32).clamp(0.3, 1.0);
        if drawn.len() == 1 {
            painter.circle_filled(drawn[0], 1.5, stroke.color);
        } else if dashed && bounds.width().max(bounds.height()) < 20_000.0 {
            painter.extend(Shape::dashed_line(&drawn, stroke, 5.0, 3.0));
        } else {
            painter.line(drawn, stroke);
        }
    }
}

/// The switch, and under it what the lines mean: a row a cutter, with how many lines of each kind it makes.
pub(crate) fn legend_ui(
    ui: &mut egui::Ui,
    room: Rect,
    planned: Option<&Planned>,
    shown: bool,
    commands: &mut Vec<Command>,
) {
    let palette = Palette::of(ui.ctx());
    let builder = egui::UiBuilder::new().max_rect(room).layout(egui::Layout::top_down(egui::Align::Min));
    let mut legend = ui.new_child(builder);
    let command = Command::TogglePasses;
    let words = RichText::new(said::PASSES).small();
    let mut switch = egui::Button::selectable(shown, words);
    if !shown {
        switch = switch.fill(palette.panel.gamma_multiply(0.8));
    }
    let switch = legend.add(switch).on_hover_text(command.tooltip()).accessible_name(command.label());
    if switch.clicked() {
        commands.push(command);
    }
    if !shown {
        return;
    }
    let frame = egui::Frame::new().fill(palette.panel.gamma_multiply(0.92)).corner_radius(5.0);
    frame.inner_margin(egui::Margin::symmetric(8, 4)).show(&mut legend, |ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        let Some(planned) = planned else {
            ui.label(RichText::new(said::WORKING_OUT_THE_PASSES).small());
            return;
        };
        if planned.plan.lines.is_empty() {
            ui.label(RichText::new(said::NO_PASSES_NOTHING_IS_CARVED_OR_NO).small());
        }
        for (index, cutter) in planned.plan.cutters.iter().enumerate() {
            let kinds = lines_by_kind(&planned.plan, index);
            if kinds.is_empty() {
                continue;
            }
            ui.horizontal(|ui| {
                let (rect, _) = ui.allocate_exact_size(vec2(26.0, 8.0), egui::Sense::hover());
                let (stroke, dashed) = line_of(index);
                let ends = [rect.left_center(), rect.right_center()];
                if dashed {
                    ui.painter().extend(Shape::dashed_line(&ends, stroke, 5.0, 3.0));
                } else {
                    ui.painter().line_segment(ends, stroke);
                }
                ui.label(RichText::new(said::lines_of(&cutter.name, &kinds)).small());
            });
        }
    });
}

/// How many lines of each kind a cutter makes, all depths counted.
fn lines_by_kind(plan: &Plan, cutter: usize) -> Vec<(PathKind, usize)> {
    let own =
        |kind| plan.lines.iter().filter(|line| line.cutter as usize == cutter && line.kind == kind).count();
    PathKind::ALL.into_iter().map(|kind| (kind, own(kind))).filter(|(_, number)| *number > 0).collect()
}
