//! A photograph of the real board: opened, its corners marked, laid under the design.

use crate::app::commands::board::BoardCommand;
use crate::app::commands::command::Command;
use crate::app::widgets::form::words_ui;
use crate::app::widgets::length_field::Lengths;
use crate::app::widgets::length_field::{Field, length_fields_ui};
use crate::app::widgets::look::{Palette, VERMILLION};
use crate::app::widgets::marks::paint_corners;
use crate::app::widgets::window::window_ui;
use crate::app::work::scene::Scene;
use crate::job::{Edit, Job};
use crate::sheet::photo::photo_from_board;
use crate::shop::Board;
use crate::shop::Photo;
use crate::words::window::board as said;
use egui::{Color32, Pos2, Rect, Sense, Stroke, TextureHandle, pos2, vec2};
use glam::DVec2;
use std::sync::Arc;

/// The window's state, and the photograph that is in memory.
#[derive(Default)]
pub(crate) struct PhotoDialog {
    pub(crate) open: bool,
    seen: Option<Seen>,
    /// A file that was tried and could not be opened is not tried again by itself.
    tried: Option<String>,
    /// The corners marked so far, in the photograph's pixels.
    corners: Vec<[f64; 2]>,
    held: Option<usize>,
}

struct Seen {
    file: String,
    photo: Arc<Photo>,
    texture: TextureHandle,
}

/// The corners in the order they are marked.
const CORNERS: [&str; 4] = [
    said::LEFT_END_AT_THE_REFERENCE_EDGE,
    said::RIGHT_END_AT_THE_REFERENCE_EDGE,
    said::RIGHT_END_AT_THE_FAR_EDGE,
    said::LEFT_END_AT_THE_FAR_EDGE,
];

impl PhotoDialog {
    /// The file of the photograph in memory.
    pub(crate) fn file(&self) -> Option<String> {
        self.seen.as_ref().map(|seen| seen.file.clone())
    }

    /// The photograph of a board, where it is in memory.
    pub(crate) fn of(&self, board: &Board) -> Option<Arc<Photo>> {
        let marked = board.photo.as_ref()?;
        self.seen.as_ref().filter(|seen| seen.file == marked.file).map(|seen| seen.photo.clone())
    }

    /// Whether a file is still to be opened.
    pub(crate) fn wants(&mut self, file: &str) -> bool {
        let there = self.seen.as_ref().is_some_and(|seen| seen.file == file);
        let wants = !there && self.tried.as_deref() != Some(file);
        if wants {
            self.tried = Some(file.to_owned());
        }
        wants
    }

    /// A photograph was opened; the corners of the job's board are taken where they are of this file.
    pub(crate) fn take(
        &mut self,
        file: String,
        photo: Arc<Photo>,
        texture: TextureHandle,
        board: Option<&Board>,
    ) {
        let marked = board.and_then(|board| board.photo.as_ref()).filter(|marked| marked.file == file);
        self.corners = marked.map_or_else(Vec::new, |marked| marked.corners.to_vec());
        self.tried = Some(file.clone());
        self.seen = Some(Seen { file, photo, texture });
        self.held = None;
    }

    /// A photograph could not be opened.
    pub(crate) fn failed(&mut self) {
        self.held = None;
    }
}

/// The window, where it is open.
pub(crate) fn photo_ui(
    ctx: &egui::Context,
    scene: &Scene,
    dialog: &mut PhotoDialog,
    lengths: &mut Lengths,
    commands: &mut Vec<Command>,
) {
    let Scene { job, beside: at, .. } = *scene;
    if !dialog.open {
        return;
    }
    let mut open = true;
    let window = egui::Window::new(said::PHOTOGRAPH_OF_THE_BOARD).resizable(false);
    window_ui(ctx, window.default_pos(at - vec2(40.0, 0.0)), &mut open, |ui| {
        ui.set_width(640.0);
        let palette = Palette::of(ui.ctx());
        ui.horizontal(|ui| {
            if ui.button(BoardCommand::AskPhoto.caption().label).clicked() {
                commands.push(BoardCommand::AskPhoto.into());
            }
            ui.label(egui::RichText::new(hint(dialog)).color(palette.ink));
        });
        if dialog.seen.is_some() {
            marking_ui(ui, dialog);
        } else {
            words_ui(ui, said::PHOTOGRAPH_THE_BOARD_FROM_STRAIGHT_ABOVE_WITH);
        }
        let fields = [
            Field {
                name: said::PHOTOGRAPHED_LENGTH,
                caption: said::LENGTH_OF_THE_BOARD,
                value: job.board().length,
            },
            Field {
                name: said::PHOTOGRAPHED_WIDTH,
                caption: said::WIDTH_OF_THE_BOARD,
                value: job.board().width,
            },
        ];
        if let Some((index, length)) = length_fields_ui(ui, lengths, &fields) {
            commands.push(Command::Edit([Edit::BoardLength, Edit::BoardWidth][index](length)));
        }
        laying_ui(ui, job, dialog, commands);
    });
    if !open {
        commands.push(BoardCommand::TogglePhoto.into());
    }
}

fn hint(dialog: &PhotoDialog) -> String {
    match (&dialog.seen, CORNERS.get(dialog.corners.len())) {
        (None, _) => said::NO_PHOTOGRAPH_YET.to_owned(),
        (Some(_), Some(next)) => said::click_corner(dialog.corners.len() + 1, next),
        (Some(_), None) => said::DRAG_A_CORNER_TO_CORRECT_IT.to_owned(),
    }
}

/// The photograph, and its corners on it.
fn marking_ui(ui: &mut egui::Ui, dialog: &mut PhotoDialog) {
    let Some(seen) = &dialog.seen else { return };
    let pixels = seen.photo.size().map(|side| side as f32);
    let scale = (ui.available_width() / pixels[0]).min(330.0 / pixels[1]);
    let (rect, response) =
        ui.allocate_exact_size(vec2(pixels[0], pixels[1]) * scale, Sense::click_and_drag());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Canvas, true, said::PHOTOGRAPH));
    let uv = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
    let painter = ui.painter().with_clip_rect(rect.expand(12.0));
    painter.image(seen.texture.id(), rect, uv, Color32::WHITE);
    let on_screen = |corner: &[f64; 2]| rect.min + vec2(corner[0] as f32, corner[1] as f32) * scale;
    let in_photo = |at: Pos2| {
        let at = (at.clamp(rect.min, rect.max) - rect.min) / scale;
        [f64::from(at.x), f64::from(at.y)]
    };
    if let Some(at) = response.interact_pointer_pos() {
        if response.drag_started() {
            let origin = ui.input(|input| input.pointer.press_origin()).unwrap_or(at);
            let near = |corner: &[f64; 2]| on_screen(corner).distance(origin);
            let nearest = (0..dialog.corners.len())
                .min_by(|&a, &b| near(&dialog.corners[a]).total_cmp(&near(&dialog.corners[b])));
            dialog.held = nearest.filter(|&k| near(&dialog.corners[k]) < 14.0);
        }
        if let Some(corner) = dialog.held.and_then(|held| dialog.corners.get_mut(held)) {
            *corner = in_photo(at);
        } else if response.clicked() && dialog.corners.len() < CORNERS.len() {
            dialog.corners.push(in_photo(at));
        }
    }
    if response.drag_stopped() {
        dialog.held = None;
    }
    let points: Vec<Pos2> = dialog.corners.iter().map(on_screen).collect();
    paint_corners(&painter, &points, Stroke::new(2.0, VERMILLION));
}

fn laying_ui(ui: &mut egui::Ui, job: &Job, dialog: &mut PhotoDialog, commands: &mut Vec<Command>) {
    let corners: Option<[[f64; 2]; 4]> = dialog.corners.clone().try_into().ok();
    let wrong = corners.and_then(|corners| {
        photo_from_board(job.board(), corners.map(DVec2::from_array)).err().map(|error| error.to_string())
    });
    if let Some(wrong) = &wrong {
        let palette = Palette::of(ui.ctx());
        words_ui(ui, egui::RichText::new(wrong).color(palette.wrong));
    }
    ui.horizontal(|ui| {
        let good = corners.filter(|_| wrong.is_none() && dialog.seen.is_some());
        let lay = ui.add_enabled(good.is_some(), egui::Button::new(said::LAY_IT_UNDER_THE_DESIGN));
        if let (true, Some(corners)) = (lay.clicked(), good) {
            commands.push(BoardCommand::LayPhoto(corners).into());
        }
        if !dialog.corners.is_empty() && ui.button(said::MARK_AGAIN).clicked() {
            dialog.corners.clear();
        }
        if job.board().photo.is_some() && ui.button(BoardCommand::LiftPhoto.caption().label).clicked() {
            commands.push(BoardCommand::LiftPhoto.into());
        }
    });
}
