//! The carved surface itself, with what lies over it: findings, the line of the cut, the cutter at its moment.

use crate::app::commands::command::Command;
use crate::app::relief::eye::on_screen;
use crate::app::relief::light::light_ui;
use crate::app::relief::view::{Desk, ReliefView};
use crate::app::widgets::form::words_ui;
use crate::app::widgets::look::Palette;
use crate::app::widgets::marks::{Marked, marks_ui};
use crate::app::work::proofed::Proofed;
use crate::app::work::scene::Scene;
use crate::relief::shade::Camera;
use crate::units::LengthUnit;
use crate::words::surface::NOT_SIMULATED;
use crate::words::window::relief as said;
use egui::{Color32, Painter, Pos2, Rect, RichText, Sense, Stroke, StrokeKind, pos2, vec2};
use glam::DVec3;

/// Numbered marks on the surface at most; the list has the others.
const MOST_BADGES: usize = 60;

/// Lower than this, in points, the surface gets all the room but one row of tools: a round value of our own.
const LOW: f32 = 170.0;

/// The surface with its tools.
pub(crate) fn relief_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    room: &mut ReliefView,
    commands: &mut Vec<Command>,
) {
    let Scene { shown, unit, .. } = *scene;
    let palette = Palette::of(ui.ctx());
    ui.painter().rect_filled(ui.max_rect(), 0.0, palette.panel);
    let frame = egui::Frame::new().fill(palette.panel).inner_margin(egui::Margin::symmetric(8, 3));
    let is_low = ui.available_height() < LOW;
    egui::Panel::top("relief tools").frame(frame).show(ui, |ui| {
        if is_low {
            let row = egui::ScrollArea::horizontal().id_salt("relief tools");
            row.show(ui, |ui| ui.horizontal(|ui| tools_ui(ui, room)));
        } else {
            ui.horizontal_wrapped(|ui| tools_ui(ui, room));
        }
    });
    if !is_low {
        egui::Panel::bottom("relief caution").frame(frame).show_separator_line(false).show(ui, |ui| {
            words_ui(ui, RichText::new(NOT_SIMULATED).small().color(palette.faint));
        });
    }
    let canvas = ui.available_rect_before_wrap();
    let mut response = ui.allocate_rect(canvas, Sense::click_and_drag());
    if is_low {
        response = response.on_hover_text(NOT_SIMULATED);
    }
    room.canvas = canvas;
    let words = in_words(shown, room, unit);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Canvas, true, &words));
    let job = room.worked.surface.as_ref().map_or(&shown.job, |surface| &surface.of.job);
    let camera = room.eye.camera(job, canvas.size());
    let drawing = room.section.is_drawing;
    if drawing {
        room.section.take_hand(&response, &camera, canvas, job);
    }
    room.eye.take(&response, canvas, job, !drawing);
    let camera = room.eye.camera(job, canvas.size());

    let painter = ui.painter().with_clip_rect(canvas);
    painter.rect_filled(canvas, 0.0, palette.bench);
    let is_old = paint_surface(&painter, room, canvas, &camera, shown);
    room.section.paint_line(&painter, &camera, canvas, palette);
    paint_cutter(&painter, room, &camera, canvas, palette);
    badges_ui(ui, &painter, scene, &camera, commands);
    if response.has_focus() {
        painter.rect_stroke(canvas, 0.0, Stroke::new(1.5, palette.accent), StrokeKind::Inside);
    }
    state_ui(ui, room, canvas, is_old);
}

/// Turn or cut, from where it is seen, and the light.
fn tools_ui(ui: &mut egui::Ui, room: &mut ReliefView) {
    ui.spacing_mut().item_spacing.x = 4.0;
    let drawing = room.section.is_drawing;
    if ui.selectable_label(!drawing, said::TURN).on_hover_text(said::DRAG_TO_TURN_THE_BOARD).clicked() {
        room.section.is_drawing = false;
    }
    let hint = said::DRAG_OVER_THE_BOARD_TO_DRAW_THE;
    let response = ui.selectable_label(drawing, said::SECTION).on_hover_text(hint);
    if response.accessible_name(said::DRAW_A_SECTION).clicked() {
        room.section.is_drawing = true;
        room.desk = Desk::Section;
    }
    ui.separator();
    let ctx = ui.ctx().clone();
    for (sign, name, factor) in [("−", said::ZOOM_OUT, 1.0 / 1.5), ("+", said::ZOOM_IN, 1.5)] {
        if ui.button(sign).on_hover_text(name).accessible_name(name).clicked() {
            room.zoom(&ctx, factor);
        }
    }
    if ui.button(said::WHOLE_BOARD).clicked() {
        room.show_all(&ctx);
    }
    if ui.button(said::FROM_ABOVE).clicked() {
        room.eye.look_down(&ctx);
    }
    ui.separator();
    light_ui(ui, &mut room.light);
}

/// The surface by the card, or the last good picture; whether it is of an older job.
fn paint_surface(
    painter: &Painter,
    room: &ReliefView,
    canvas: Rect,
    camera: &Camera,
    shown: &Proofed,
) -> bool {
    if let Some(card) = room.picture.card {
        let Some((wanted, layers)) = &room.picture.on_card else { return false };
        // The hand moved it since.
        let mut wanted = wanted.clone();
        wanted.camera = *camera;
        painter.add(card.shape(canvas, &wanted, layers));
        return !std::sync::Arc::ptr_eq(wanted.proof(), &shown.proof);
    }
    let Some(shot) = &room.picture.shot else { return false };
    let is_old = !std::sync::Arc::ptr_eq(shot.wanted.proof(), &shown.proof)
        && room
            .worked
            .surface
            .as_ref()
            .is_none_or(|surface| !std::sync::Arc::ptr_eq(&surface.of.proof, &shown.proof));
    let tint = if is_old { Color32::from_white_alpha(150) } else { Color32::WHITE };
    let uv = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
    painter.image(shot.texture.id(), canvas, uv, tint);
    is_old
}

/// The cutter where it is at the second that is shown.
fn paint_cutter(painter: &Painter, room: &ReliefView, camera: &Camera, canvas: Rect, palette: &Palette) {
    let Some(moment) = room.clock.moment(room.worked.planned.as_ref()) else { return };
    let planned = room.worked.planned.as_ref();
    let radius = planned
        .and_then(|planned| planned.plan.cutters.get(moment.cutter as usize))
        .map_or(1.0, |cutter| cutter.shape.diameter().get() / 2.0);
    let ring = |height: f64| {
        (0..=32)
            .filter_map(|i| {
                let angle = f64::from(i) * std::f64::consts::TAU / 32.0;
                let off = DVec3::new(angle.cos() * radius, angle.sin() * radius, height);
                on_screen(camera, canvas, moment.at + off)
            })
            .collect::<Vec<Pos2>>()
    };
    let stroke = Stroke::new(2.0, palette.on_wood);
    let light = Stroke::new(4.0, Color32::from_white_alpha(150));
    let tall = (3.0 * radius).max(0.03 * camera.distance);
    for points in [ring(0.0), ring(tall)] {
        painter.line(points.clone(), light);
        painter.line(points, stroke);
    }
    let ends = [0.0, tall].map(|height| on_screen(camera, canvas, moment.at + DVec3::Z * height));
    if let [Some(low), Some(high)] = ends {
        painter.line_segment([low, high], light);
        painter.line_segment([low, high], stroke);
    }
}

/// Numbered marks; those behind the camera have none.
fn badges_ui(
    ui: &mut egui::Ui,
    painter: &Painter,
    scene: &Scene,
    camera: &Camera,
    commands: &mut Vec<Command>,
) {
    let shown = scene.shown;
    let canvas = painter.clip_rect();
    let placed = shown.proof.findings.iter().enumerate().filter(|(_, finding)| !finding.axis().is_empty());
    let marked = placed.take(MOST_BADGES).filter_map(|(index, finding)| {
        let spot = on_screen(camera, canvas, finding.at.extend(0.0))?;
        Some(Marked { index, finding, spot })
    });
    let clicked = marks_ui(ui, painter, marked, &[], scene.chosen, scene.unit);
    commands.extend(clicked.map(Command::GoTo));
}

/// What the picture is, in the canvas's corner.
fn state_ui(ui: &mut egui::Ui, room: &mut ReliefView, canvas: Rect, is_old: bool) {
    let palette = Palette::of(ui.ctx());
    let row = Rect::from_min_max(canvas.left_top() + vec2(8.0, 6.0), canvas.right_bottom());
    let builder = egui::UiBuilder::new().max_rect(row).layout(egui::Layout::left_to_right(egui::Align::Min));
    let mut corner = ui.new_child(builder);
    let frame = egui::Frame::new().fill(palette.panel.gamma_multiply(0.9)).corner_radius(5.0);
    frame.inner_margin(egui::Margin::symmetric(7, 2)).show(&mut corner, |ui| {
        ui.label(RichText::new(state(room, is_old)).small());
        if room.worked.is_called_off()
            && ui.small_button(said::RESUME).on_hover_text(said::WORK_OUT_THE_SURFACE_AFTER_ALL).clicked()
        {
            room.worked.go_on();
        }
    });
}

fn state(room: &ReliefView, is_old: bool) -> &'static str {
    match &room.worked.surface {
        None if room.worked.is_called_off() => said::CANCELLED,
        None => said::CARVING_THE_QUICK_SURFACE,
        Some(_) if is_old => said::SURFACE_FROM_BEFORE_THE_LAST_CHANGE,
        Some(_) if room.clock.moment(room.worked.planned.as_ref()).is_some() => {
            said::AT_THIS_MOMENT_OF_THE_CARVE
        }
        Some(surface) if surface.is_true => said::WHAT_THE_CUTTERS_LEAVE,
        Some(_) => said::QUICK_PREVIEW_IGNORING_THE_CUTTERS_WIDTH,
    }
}

/// The same for a person who cannot see the picture.
fn in_words(shown: &Proofed, room: &ReliefView, unit: LengthUnit) -> String {
    let deepest = room.worked.surface.as_ref().map(|surface| -f64::from(surface.lowest));
    said::surface(
        &shown.job.design().name,
        deepest.map(crate::units::Mm::new),
        &room.eye.in_words(),
        shown.proof.findings.len(),
        state(room, false),
        unit,
    )
}
