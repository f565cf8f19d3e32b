//! The cut through the surface along a line: drawn by hand or typed, shown at true proportion with the cutters
//! in their grooves and the walls' thickness.

use crate::app::relief::clock::ClockHand;
use crate::app::relief::eye::{ground, on_screen};
use crate::app::relief::worked::{Planned, Worked};
use crate::app::widgets::look::Palette;
use crate::app::work::Bring;
use crate::app::work::{Lane, Stage, Workers};
use crate::job::Job;
use crate::relief::section::{Section, Wall, cutter_outline, section};
use crate::relief::shade::Camera;
use crate::relief::{HeightField, Plan, Profile};
use crate::units::{LengthUnit, Mm, parse_length};
use crate::words::window::relief as said;
use egui::epaint::{Mesh, Vertex};
use egui::{
    Align2, Color32, DragValue, FontId, Label, Painter, PointerButton, Pos2, Rect, Response, RichText, Sense,
    Shape, Stroke, pos2, vec2,
};
use glam::{DVec2, dvec2};
use std::sync::Arc;

/// A cut, and what it was cut through.
pub(crate) struct Cut {
    section: Section,
    field: Arc<HeightField>,
    plan: Option<Arc<Plan>>,
    thickness: f64,
}

/// The line, its cut, and how the cut is looked at.
#[derive(Default)]
pub(crate) struct SectionTool {
    /// Whether a drag over the surface draws the line.
    pub(crate) is_drawing: bool,
    /// The line's ends on the board, millimetres.
    line: Option<[DVec2; 2]>,
    cut: Option<Cut>,
    /// How much closer than all of it the cut is seen, and what is in its middle; `None` shows all of it.
    sight: Option<(f64, DVec2)>,
    unworkable: Option<[DVec2; 2]>,
}

impl SectionTool {
    pub(crate) fn take(&mut self, cut: Cut) {
        self.cut = Some(cut);
    }

    /// The line cannot be cut through a fault of ours; another may.
    pub(crate) fn give_up(&mut self) {
        self.unworkable = self.line;
    }

    /// Lets a hand draw the line over the board.
    pub(crate) fn take_hand(&mut self, response: &Response, camera: &Camera, canvas: Rect, job: &Job) {
        let board = dvec2(job.board().length.get(), job.board().width.get());
        let on_board = |at: Pos2| ground(camera, canvas, at).map(|p| p.clamp(DVec2::ZERO, board));
        let Some(at) = response.interact_pointer_pos().and_then(on_board) else { return };
        if response.drag_started_by(PointerButton::Primary) {
            let pressed = response.ctx.input(|input| input.pointer.press_origin()).and_then(on_board);
            self.line = Some([pressed.unwrap_or(at), at]);
            self.sight = None;
        } else if response.dragged_by(PointerButton::Primary)
            && let Some([_, to]) = &mut self.line
        {
            *to = at;
        }
    }

    /// Starts cutting along the line; whether it is being cut.
    pub(crate) fn start_needed_work<D: Bring<Cut>>(
        &mut self,
        workers: &mut Workers<D>,
        worked: &Worked,
        clock: &ClockHand,
    ) -> bool {
        let (Some([from, to]), Some(surface)) = (self.line, &worked.surface) else { return false };
        if self.unworkable == self.line {
            return false;
        }
        let field = clock.field(worked.planned.as_ref()).unwrap_or_else(|| surface.field.clone());
        // A cutter in a quick surface would stand in a groove that it did not make.
        let plan = worked.planned.as_ref().map(|planned| planned.plan.clone()).filter(|_| surface.is_true);
        let same = |a: &Option<Arc<Plan>>, b: &Option<Arc<Plan>>| match (a, b) {
            (Some(a), Some(b)) => Arc::ptr_eq(a, b),
            (a, b) => a.is_none() && b.is_none(),
        };
        let good = self.cut.as_ref().is_some_and(|cut| {
            cut.section.from == from
                && cut.section.to == to
                && Arc::ptr_eq(&cut.field, &field)
                && same(&cut.plan, &plan)
        });
        if good {
            return false;
        }
        if !workers.busy(Lane::Sectioning) {
            let (about, thickness) =
                (surface.of.job.design().name.clone(), surface.of.job.board().thickness.get());
            workers.start(Lane::Sectioning, Stage::Viewing, about, move |_| {
                let section = section(&field, plan.as_deref(), from, to);
                Some(Cut { section, field, plan, thickness }.into())
            });
        }
        true
    }

    /// The line over the surface.
    pub(crate) fn paint_line(&self, painter: &Painter, camera: &Camera, canvas: Rect, palette: &Palette) {
        let Some(line) = self.line else { return };
        let [Some(a), Some(b)] = line.map(|p| on_screen(camera, canvas, p.extend(0.0))) else { return };
        painter.line_segment([a, b], Stroke::new(4.0, Color32::from_white_alpha(170)));
        painter.line_segment([a, b], Stroke::new(2.0, palette.on_wood));
        for (end, name) in [(a, "A"), (b, "B")] {
            painter.circle(end, 8.0, palette.card, Stroke::new(1.5, palette.ink));
            painter.text(end, Align2::CENTER_CENTER, name, FontId::proportional(11.0), palette.ink);
        }
    }
}

/// The ends of the line, typed; under them the cut.
pub(crate) fn section_ui(
    ui: &mut egui::Ui,
    tool: &mut SectionTool,
    job: &Job,
    planned: Option<&Planned>,
    unit: LengthUnit,
) {
    let palette = Palette::of(ui.ctx());
    ends_ui(ui, tool, job, unit);
    let Some(cut) = tool.cut.as_ref().filter(|_| tool.line.is_some()) else {
        let words = if tool.line.is_some() {
            said::CUTTING_THROUGH_THE_SURFACE
        } else {
            said::CHOOSE_SECTION_ABOVE_AND_DRAG_A_LINE
        };
        ui.label(RichText::new(words).color(palette.faint));
        return;
    };
    let words = in_words(&cut.section, unit);
    ui.add(Label::new(RichText::new(&words).small()).truncate()).on_hover_text(&words);
    let canvas = ui.available_rect_before_wrap();
    if canvas.height() < 20.0 {
        return;
    }
    let response = ui.allocate_rect(canvas, Sense::click_and_drag());
    response.widget_info(|| {
        egui::WidgetInfo::labeled(egui::Role::Canvas, true, said::picture_of_the_cut(&words))
    });
    let mut sight = Sight::of(cut, tool.sight, canvas);
    if let Some(moved) = sight.moved(&response, canvas) {
        tool.sight = moved;
        sight = Sight::of(cut, tool.sight, canvas);
    }
    paint_cut(&ui.painter().with_clip_rect(canvas), cut, planned, &sight, unit, palette);
}

/// A field a number: along and across, for each end.
fn ends_ui(ui: &mut egui::Ui, tool: &mut SectionTool, job: &Job, unit: LengthUnit) {
    let board = dvec2(job.board().length.get(), job.board().width.get());
    // Across the middle, until a hand draws another.
    let mut line = tool.line.unwrap_or([dvec2(board.x / 2.0, 0.0), dvec2(board.x / 2.0, board.y)]);
    let mut changed = false;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 5.0;
        let names = [[said::A_ALONG, said::A_ACROSS], [said::B_ALONG, said::B_ACROSS]];
        for (end, names) in line.iter_mut().zip(names) {
            for (value, (name, most)) in
                [&mut end.x, &mut end.y].into_iter().zip(names.into_iter().zip([board.x, board.y]))
            {
                ui.label(RichText::new(name).small().color(Palette::of(ui.ctx()).faint));
                let field = DragValue::new(value)
                    .range(0.0..=most)
                    .speed(0.5)
                    .custom_formatter(move |value, _| unit.number(Mm::new(value)))
                    .custom_parser(move |text| parse_length(text, unit).ok().map(Mm::get));
                let response = ui.add(field.update_while_editing(false));
                changed |= response.accessible_name(said::section_field(name)).changed();
            }
        }
        ui.label(RichText::new(unit.symbol()).small().color(Palette::of(ui.ctx()).faint));
        if tool.line.is_none() {
            let across = ui.small_button(said::CUT_ACROSS_THE_MIDDLE);
            changed |= across.on_hover_text(said::A_LINE_FROM_EDGE_TO_EDGE).clicked();
        } else if ui.small_button(said::NO_SECTION).on_hover_text(said::REMOVE_THE_LINE).clicked() {
            (tool.line, tool.cut, tool.sight) = (None, None, None);
            return;
        }
        if changed {
            tool.line = Some(line);
            tool.sight = None;
        }
    });
}

/// What the cut shows, in words.
fn in_words(section: &Section, unit: LengthUnit) -> String {
    let length = Mm::new(section.from.distance(section.to));
    let deepest = section.grooves.iter().map(|groove| groove.depth).fold(0.0, f64::max);
    let thinnest = section.walls.iter().map(Wall::width).fold(f64::INFINITY, f64::min);
    let walls = thinnest.is_finite().then(|| (section.walls.len(), Mm::new(thinnest)));
    said::cut(length, (section.grooves.len(), Mm::new(deepest)), walls, unit)
}

/// What turns places of the cut into places of the screen; both ways with one scale, so that its proportion is
/// true.
struct Sight {
    scale: f64,
    middle: DVec2,
    closer: f64,
    canvas: Rect,
}

impl Sight {
    fn of(cut: &Cut, sight: Option<(f64, DVec2)>, canvas: Rect) -> Sight {
        let length = cut.section.from.distance(cut.section.to).max(1e-3);
        // Room above for the cutters and the dimensions, in screen points.
        let room =
            dvec2(f64::from(canvas.width() - 24.0), f64::from(canvas.height() - 46.0)).max(DVec2::splat(8.0));
        let all = (room.x / length).min(room.y / cut.thickness.max(1e-3));
        let (closer, middle) = sight.unwrap_or((1.0, dvec2(length / 2.0, 15.0 / all - cut.thickness / 2.0)));
        Sight { scale: all * closer, middle, closer, canvas }
    }

    fn screen(&self, p: DVec2) -> Pos2 {
        let off = (p - self.middle) * self.scale;
        let middle = self.canvas.center();
        pos2(middle.x + off.x.clamp(-1e6, 1e6) as f32, middle.y - off.y.clamp(-1e6, 1e6) as f32)
    }

    fn place(&self, at: Pos2) -> DVec2 {
        let off = at - self.canvas.center();
        self.middle + dvec2(f64::from(off.x), -f64::from(off.y)) / self.scale
    }

    /// Another sight, where a hand moved it.
    #[expect(clippy::option_option, reason = "no move, all of it, or a place of it")]
    fn moved(&self, response: &Response, canvas: Rect) -> Option<Option<(f64, DVec2)>> {
        if response.double_clicked() {
            return Some(None);
        }
        let by = response.drag_delta();
        if by != egui::Vec2::ZERO {
            let moved = self.middle - dvec2(f64::from(by.x), -f64::from(by.y)) / self.scale;
            return Some(Some((self.closer, moved)));
        }
        let pointer = response.hover_pos()?;
        let (scroll, pinch) = response.ctx.input(|input| (input.smooth_scroll_delta, input.zoom_delta()));
        let factor = f64::from(pinch) * (f64::from(scroll.y) / 200.0).exp2();
        if factor == 1.0 || !canvas.contains(pointer) {
            return None;
        }
        let closer = (self.closer * factor).clamp(1.0, 400.0);
        let held = self.place(pointer);
        Some((closer > 1.0).then(|| (closer, held + (self.middle - held) * (self.closer / closer))))
    }
}

/// The wood under the surface, the cutters in their grooves, and the dimensions of the walls.
fn paint_cut(
    painter: &Painter,
    cut: &Cut,
    planned: Option<&Planned>,
    sight: &Sight,
    unit: LengthUnit,
    palette: &Palette,
) {
    let canvas = painter.clip_rect();
    painter.rect_filled(canvas, 4.0, palette.bench);
    // No more points than the screen has columns.
    let mut surface: Vec<Pos2> = Vec::new();
    for p in cut.section.profile.iter().map(|p| sight.screen(*p)) {
        let near =
            surface.last().is_some_and(|last| (p.x - last.x).abs() < 0.4 && (p.y - last.y).abs() < 0.4);
        if !near && p.x >= canvas.left() - 60.0 && p.x <= canvas.right() + 60.0 {
            surface.push(p);
        }
    }
    let bottom = sight.screen(dvec2(0.0, -cut.thickness)).y;
    let mut wood = Mesh::default();
    for p in &surface {
        for at in [*p, pos2(p.x, bottom.max(p.y))] {
            wood.vertices.push(Vertex { pos: at, uv: egui::epaint::WHITE_UV, color: palette.wood });
        }
    }
    for i in (2..wood.vertices.len() as u32).step_by(2) {
        wood.indices.extend([i - 2, i - 1, i, i - 1, i, i + 1]);
    }
    painter.add(Shape::mesh(wood));
    if let (Some(plan), true) = (&cut.plan, planned.is_some()) {
        paint_cutters(painter, cut, plan, sight, palette);
    }
    painter.line(surface, Stroke::new(1.5, palette.on_wood));
    let ends = [0.0, cut.section.from.distance(cut.section.to)].map(|x| sight.screen(dvec2(x, 0.0)));
    for (at, name) in ends.into_iter().zip(["A", "B"]) {
        painter.text(
            at - vec2(0.0, 3.0),
            Align2::CENTER_BOTTOM,
            name,
            FontId::proportional(11.0),
            palette.faint,
        );
    }
    paint_walls(painter, cut, sight, unit, palette);
}

/// Each cutter where it passed through the cut.
fn paint_cutters(painter: &Painter, cut: &Cut, plan: &Plan, sight: &Sight, palette: &Palette) {
    let stroke = Stroke::new(1.2, palette.faint);
    for groove in &cut.section.grooves {
        let Some((point, cutter)) = groove.cutter else { continue };
        let Some(cutter) = plan.cutters.get(cutter as usize) else { continue };
        let profile = Profile::of(cutter.shape);
        // A little above the face, as much as the picture has room for.
        let above = (26.0 / sight.scale).min(cutter.flute_length.get());
        let outline = cutter_outline(&profile, point, above - point.y);
        let outline: Vec<Pos2> = outline.into_iter().map(|p| sight.screen(p)).collect();
        let seen = outline.iter().any(|p| painter.clip_rect().expand(40.0).contains(*p));
        if seen {
            let fill = palette.faint.gamma_multiply(0.22);
            painter.add(Shape::convex_polygon(outline.clone(), fill, Stroke::NONE));
            painter.add(Shape::line(outline, stroke));
        }
    }
}

/// How thick each wall is, over it; a number that would cover another is left to the words.
fn paint_walls(painter: &Painter, cut: &Cut, sight: &Sight, unit: LengthUnit, palette: &Palette) {
    let mut free_from = f32::NEG_INFINITY;
    let stroke = Stroke::new(1.0, palette.ink);
    for wall in &cut.section.walls {
        let [a, b] = [wall.from, wall.to].map(|x| sight.screen(dvec2(x, 0.0)));
        let words = unit.show_fine(Mm::new(wall.width()));
        let galley = painter.layout_no_wrap(words, FontId::proportional(11.0), palette.ink);
        let middle = f32::midpoint(a.x, b.x);
        let left = middle - galley.size().x / 2.0 - 3.0;
        if left < free_from || b.x < painter.clip_rect().left() || a.x > painter.clip_rect().right() {
            continue;
        }
        free_from = middle + galley.size().x / 2.0 + 3.0;
        let y = a.y - 9.0;
        for x in [a.x, b.x] {
            painter.line_segment([pos2(x, a.y - 1.0), pos2(x, y - 3.0)], stroke);
        }
        painter.line_segment([pos2(a.x, y), pos2(b.x, y)], stroke);
        let back = Rect::from_min_size(pos2(left, y - 4.0 - galley.size().y), galley.size() + vec2(6.0, 0.0));
        painter.rect_filled(back, 3.0, palette.card);
        painter.galley(back.min + vec2(3.0, 0.0), galley, palette.ink);
    }
}
