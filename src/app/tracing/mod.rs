//! The picture that a design was traced from: the outline over it, and how it is traced.

mod settings;

use crate::app::commands::command::Command;
use crate::app::widgets::form::words_ui;
use crate::app::widgets::length_field::Lengths;
use crate::app::widgets::look::{Palette, VERMILLION};
use crate::app::widgets::marks::paint_corners;
use crate::app::work::pictured::Pictured;
use crate::app::work::scene::Scene;
use crate::design::Design;
use crate::trace::{PictureSize, Settings};
use crate::units::Mm;
use crate::words::window::tracing as said;
use egui::{
    Color32, ColorImage, FontId, Pos2, Rect, RichText, Sense, Shape, Stroke, TextureHandle, Vec2, pos2, vec2,
};
use glam::{DVec2, dvec2};
use std::sync::Arc;

/// The corners of a sheet in the order they are marked.
const CORNERS: [&str; 4] = [said::LOWER_LEFT, said::LOWER_RIGHT, said::UPPER_RIGHT, said::UPPER_LEFT];

/// What is seen of the picture, and what was asked for and is not there yet.
#[derive(Default)]
pub(crate) struct TracingView {
    texture: Option<(Arc<ColorImage>, TextureHandle)>,
    eye: Option<Eye>,
    /// The settings asked for since, and the design they are to replace.
    wanted: Option<(Arc<Design>, Settings)>,
    /// Why those could not be had.
    trouble: Option<String>,
    /// The corners of a sheet while they are marked, in pixels.
    marking: Option<Vec<DVec2>>,
    /// The corner that the pointer holds, and where all of them are.
    held: Option<(usize, [DVec2; 4])>,
}

/// A click so near to a cross means it, in screen points.
const CROSS: f64 = 9.0;

/// Where one looks: the pixel in the middle, and points on the screen for each.
#[derive(Clone, Copy)]
struct Eye {
    middle: DVec2,
    scale: f64,
}

impl TracingView {
    /// A picture is on its way by these settings.
    pub(crate) fn want(&mut self, design: Arc<Design>, settings: Settings) {
        self.wanted = Some((design, settings));
    }

    /// What was asked for came, or could not be had.
    pub(crate) fn take(&mut self, trouble: Option<String>) {
        if trouble.is_none() {
            self.wanted = None;
        }
        self.trouble = trouble;
    }

    /// Shows all of the picture.
    pub(crate) fn show_all(&mut self) {
        self.eye = None;
    }

    /// What was asked for is not wanted any more.
    pub(crate) fn forget_wanted(&mut self) {
        *self = TracingView { texture: self.texture.take(), eye: self.eye, ..TracingView::default() };
    }

    /// Another picture is looked at.
    pub(crate) fn look_afresh(&mut self) {
        *self = TracingView::default();
    }

    /// The settings as they were asked for last.
    fn settings(&self, design: &Arc<Design>, pictured: &Pictured) -> Settings {
        let wanted = self.wanted.as_ref().filter(|(of, _)| Arc::ptr_eq(of, design));
        wanted.map_or_else(|| pictured.settings.clone(), |(_, settings)| settings.clone())
    }
}

/// The picture, in the middle of the window; `pictured` with whether the job's outline is as it was traced.
pub(crate) fn tracing_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    pictured: Option<(&Pictured, bool)>,
    view: &mut TracingView,
    lengths: &mut Lengths,
    commands: &mut Vec<Command>,
) {
    let palette = Palette::of(ui.ctx());
    let Some((pictured, is_as_traced)) = pictured else {
        none_ui(ui, commands);
        return;
    };
    let before = view.settings(scene.job.design(), pictured);
    let mut settings = before.clone();
    let mut resized = false;
    egui::Panel::right("tracing").default_size(286.0).min_size(250.0).max_size(360.0).show(ui, |ui| {
        egui::ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            if !is_as_traced {
                words_ui(ui, RichText::new(said::OUTLINE_WAS_CHANGED).color(palette.ink));
                ui.add_space(6.0);
            }
            let trouble = view.trouble.as_deref();
            resized = settings::settings_ui(
                ui,
                scene,
                pictured,
                &mut settings,
                (trouble, lengths),
                &mut view.marking,
            );
        });
    });
    egui::CentralPanel::no_frame().show(ui, |ui| canvas_ui(ui, pictured, view, &mut settings));
    if settings != before {
        let is_resized = resized || settings.size != before.size;
        commands.push(Command::Trace(Box::new(settings), is_resized));
    }
}

fn none_ui(ui: &mut egui::Ui, commands: &mut Vec<Command>) {
    let palette = Palette::of(ui.ctx());
    let back = egui::Frame::new().fill(palette.panel).inner_margin(egui::Margin::same(24));
    back.show(ui, |ui| {
        ui.set_min_size(ui.available_size());
        ui.vertical_centered(|ui| {
            ui.add_space(ui.available_height() * 0.3);
            ui.heading(said::NO_PICTURE_YET);
            ui.add_space(4.0);
            ui.label(RichText::new(said::WHAT_A_PICTURE_IS_FOR).color(palette.faint));
            ui.add_space(10.0);
            let open = Command::AskPicture;
            if ui.button(open.label()).on_hover_text(open.tooltip()).clicked() {
                commands.push(open);
            }
        });
    });
}

/// From pixels to the screen and back.
struct Lens {
    eye: Eye,
    canvas: Rect,
}

impl Lens {
    fn screen(&self, pixel: DVec2) -> Pos2 {
        let off = ((pixel - self.eye.middle) * self.eye.scale).clamp(DVec2::splat(-1e6), DVec2::splat(1e6));
        self.canvas.center() + vec2(off.x as f32, off.y as f32)
    }

    fn pixel(&self, at: Pos2) -> DVec2 {
        let off = at - self.canvas.center();
        self.eye.middle + dvec2(f64::from(off.x), f64::from(off.y)) / self.eye.scale
    }
}

/// The whole picture.
fn whole(pixels: DVec2, canvas: Rect) -> Eye {
    let room = dvec2(f64::from(canvas.width()), f64::from(canvas.height())).max(DVec2::ONE);
    Eye { middle: pixels / 2.0, scale: (room / pixels).min_element() * 0.94 }
}

fn canvas_ui(ui: &mut egui::Ui, pictured: &Pictured, view: &mut TracingView, settings: &mut Settings) {
    let palette = Palette::of(ui.ctx());
    let (canvas, response) = ui.allocate_exact_size(ui.available_size(), Sense::click_and_drag());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Canvas, true, said::PICTURE));
    let painter = ui.painter().with_clip_rect(canvas);
    painter.rect_filled(canvas, 0.0, palette.bench);
    let [across, down] = pictured.pixels().map(f64::from);
    let texture = match &view.texture {
        Some((of, texture)) if Arc::ptr_eq(of, &pictured.screen) => texture.id(),
        _ => {
            let options =
                egui::TextureOptions { magnification: egui::TextureFilter::Nearest, ..Default::default() };
            let image = egui::ImageData::Color(pictured.screen.clone());
            let texture = ui.ctx().load_texture("picture", image, options);
            let id = texture.id();
            view.texture = Some((pictured.screen.clone(), texture));
            view.eye = None;
            id
        }
    };
    let eye = view.eye.unwrap_or_else(|| whole(dvec2(across, down), canvas));
    let lens = Lens { eye, canvas };
    let rect = Rect::from_two_pos(lens.screen(DVec2::ZERO), lens.screen(dvec2(across, down)));
    // What is clear is paper.
    painter.rect_filled(rect, 0.0, Color32::WHITE);
    let uv = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
    painter.image(texture, rect, uv, Color32::WHITE);
    let line = Stroke::new(1.6, VERMILLION);
    for ring in &pictured.found.outlines {
        let points: Vec<Pos2> = ring.iter().map(|&pixel| lens.screen(pixel)).collect();
        if Rect::from_points(&points).intersects(canvas) {
            painter.add(Shape::closed_line(points, line));
        }
    }
    for share in &settings.without {
        if let Some(pixel) = pictured.pixel_of(*share) {
            let at = lens.screen(pixel);
            let arm = Vec2::splat(5.0);
            let cross = Stroke::new(2.0, palette.accent);
            painter.line_segment([at - arm, at + arm], cross);
            painter.line_segment([at + vec2(-5.0, 5.0), at + vec2(5.0, -5.0)], cross);
        }
    }
    let is_on_corner = corners_ui(ui, &painter, &response, &lens, pictured, view, settings);
    let hint = match &view.marking {
        Some(marked) => {
            let next = CORNERS.get(marked.len()).unwrap_or(&CORNERS[3]);
            said::click_corner(marked.len() + 1, next)
        }
        None => said::CLICK_TO_LEAVE_OUT.to_owned(),
    };
    hint_ui(&painter, canvas, &hint, palette);
    if response.clicked()
        && !is_on_corner
        && let Some(at) = response.interact_pointer_pos()
    {
        let pixel = lens.pixel(at);
        match &mut view.marking {
            Some(marked) => {
                marked.push(pixel.clamp(DVec2::ZERO, dvec2(across, down)));
                if let Ok(corners) = <[DVec2; 4]>::try_from(marked.clone()) {
                    let [length, width] = pictured.found.size;
                    settings.size = PictureSize::Sheet { length, width, corners };
                    view.marking = None;
                }
            }
            None => leave_out(settings, pictured, pixel, CROSS / eye.scale),
        }
    }
    move_eye(ui, &response, &lens, view, is_on_corner);
}

/// Leaves out what lies at a pixel, or takes that back where it was asked for within `reach` pixels of it.
fn leave_out(settings: &mut Settings, pictured: &Pictured, pixel: DVec2, reach: f64) {
    let near = |share: &DVec2| pictured.pixel_of(*share).is_some_and(|at| at.distance(pixel) <= reach);
    match settings.without.iter().position(near) {
        Some(index) => drop(settings.without.remove(index)),
        None => settings.without.extend(pictured.share_of(pixel)),
    }
}

fn hint_ui(painter: &egui::Painter, canvas: Rect, hint: &str, palette: &Palette) {
    let galley = painter.layout_no_wrap(hint.to_owned(), FontId::proportional(12.0), palette.ink);
    let at = canvas.left_bottom() + vec2(8.0, -8.0 - galley.size().y);
    let back = Rect::from_min_size(at, galley.size()).expand2(vec2(6.0, 3.0));
    painter.rect_filled(back, 4.0, palette.panel);
    painter.galley(at, galley, palette.ink);
}

/// The corners of the sheet, which can be dragged; whether the pointer has to do with one.
fn corners_ui(
    ui: &egui::Ui,
    painter: &egui::Painter,
    response: &egui::Response,
    lens: &Lens,
    pictured: &Pictured,
    view: &mut TracingView,
    settings: &mut Settings,
) -> bool {
    let marked = match (&view.marking, view.held, settings.size) {
        (Some(marked), ..) => marked.clone(),
        (None, Some((_, corners)), _) | (None, None, PictureSize::Sheet { corners, .. }) => corners.to_vec(),
        _ => return false,
    };
    let points: Vec<Pos2> = marked.iter().map(|&corner| lens.screen(corner)).collect();
    let line = Stroke::new(2.0, Palette::of(ui.ctx()).accent);
    paint_corners(painter, &points, line);
    let PictureSize::Sheet { length, width, corners } = settings.size else { return false };
    let press = ui.input(|input| input.pointer.press_origin());
    if response.drag_started()
        && let Some(origin) = press
    {
        let nearest =
            (0..4).min_by(|&a, &b| points[a].distance(origin).total_cmp(&points[b].distance(origin)));
        view.held = nearest.filter(|&k| points[k].distance(origin) < 14.0).map(|k| (k, corners));
    }
    if let (Some((index, corners)), Some(at)) = (&mut view.held, response.interact_pointer_pos()) {
        let [across, down] = pictured.pixels().map(f64::from);
        corners[*index] = lens.pixel(at).clamp(DVec2::ZERO, dvec2(across, down));
    }
    if response.drag_stopped()
        && let Some((_, corners)) = view.held.take()
    {
        settings.size = PictureSize::Sheet { length, width, corners };
        return true;
    }
    view.held.is_some()
}

fn move_eye(
    ui: &egui::Ui,
    response: &egui::Response,
    lens: &Lens,
    view: &mut TracingView,
    is_on_corner: bool,
) {
    let mut eye = lens.eye;
    if response.dragged() && !is_on_corner {
        let by = response.drag_delta();
        eye.middle -= dvec2(f64::from(by.x), f64::from(by.y)) / eye.scale;
        view.eye = Some(eye);
        ui.ctx().set_cursor_icon(egui::CursorIcon::Grabbing);
    }
    if let Some(pointer) = response.hover_pos() {
        let (scroll, pinch) = ui.input(|input| (input.smooth_scroll_delta, input.zoom_delta()));
        // Two hundred points of wheel double the size.
        let factor = f64::from(pinch) * (f64::from(scroll.y) / 200.0).exp2();
        if factor != 1.0 {
            let held = lens.pixel(pointer);
            let scale = (eye.scale * factor).clamp(0.01, 64.0);
            let middle = held + (eye.middle - held) * (eye.scale / scale);
            view.eye = Some(Eye { middle, scale });
        }
    }
}

/// A length as carved where it is as drawn.
fn carved(length: Mm, factor: f64) -> Mm {
    length * factor
}
