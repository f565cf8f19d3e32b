//! The pictures under the live marks: the board and the carved design as pixels, painted by a worker
//! with the painter that also writes pictures to files.

use crate::app::widgets::camera::Camera;
use crate::app::widgets::image::color_image;
use crate::app::work::proofed::Proofed;
use crate::arrange::{LaidOutline, laid_outlines};
use crate::job::Job;
use crate::proof::Proof;
use crate::proof::fit::board_from_design;
use crate::sheet::picture::{self, DesignPaths, Hatched, Picture};
use crate::shop::Photo;
use crate::units::LengthUnit;
use egui::{ColorImage, Rect, TextureHandle, TextureOptions, Theme, Vec2};
use glam::DAffine2;
use std::sync::Arc;

/// What a picture is a picture of: change any of it, and another is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Framing {
    /// Where the camera stands.
    pub(crate) camera: Camera,
    /// The canvas in screen points.
    pub(crate) canvas: Vec2,
    /// Pixels a screen point.
    pub(crate) pixels_per_point: f32,
    /// The theme in use.
    pub(crate) theme: Theme,
    /// The unit of what is written on the board.
    pub(crate) unit: LengthUnit,
}

/// A painted board and design, and where they were when they were painted.
pub(crate) struct Layers {
    /// What they are a picture of.
    pub(crate) view: Framing,
    /// The bare board on its bench.
    pub(crate) board: ColorImage,
    /// The carved design; clear where nothing is carved.
    pub(crate) design: ColorImage,
    /// Where the design lay on the board.
    pub(crate) board_from_design: DAffine2,
    /// Every laid copy, where there are several.
    pub(crate) outlines: Vec<LaidOutline>,
}

/// Paints the board, as it was photographed where it was, and the design as seen through `view`, with
/// wood added and taken hatched over it.
/// `O(pixels + edges)`.
pub(crate) fn paint(
    proofed: &Proofed,
    paths: &DesignPaths,
    view: Framing,
    hatched: Option<&[Hatched; 2]>,
    photo: Option<&Photo>,
) -> Layers {
    let pixels_per_point = f64::from(view.pixels_per_point);
    #[expect(clippy::cast_sign_loss, reason = "a canvas has no negative side")]
    let pixels = |points: f32| (f64::from(points) * pixels_per_point).round().max(1.0) as u32;
    let canvas = Rect::from_min_size(egui::Pos2::ZERO, view.canvas);
    let seen = picture::View {
        size: [pixels(view.canvas.x), pixels(view.canvas.y)],
        screen_from_board: view.camera.lens(canvas).pixel_from_board(pixels_per_point),
        theme: match view.theme {
            Theme::Light => picture::Theme::Light,
            Theme::Dark => picture::Theme::Dark,
        },
        unit: view.unit,
    };
    let from_design = proofed.proof.board_from_design;
    let mut design = picture::carved(&proofed.job, paths, from_design, &seen);
    if let Some([added, taken]) = hatched {
        design.lay_over(&picture::change(added, taken, from_design, &seen));
    }
    let mut board = picture::photographed_board(&proofed.job, &proofed.proof, &seen, photo);
    let outlines = if proofed.job.is_batch() { laid_outlines(&proofed.job) } else { Vec::new() };
    lay_beside(&mut board, &proofed.job, &seen);
    Layers {
        view,
        board: color_image(&board),
        outlines,
        design: color_image(&design),
        board_from_design: from_design,
    }
}

/// The copies that are not in hand, as carved; they lie still while the one in hand is moved.
fn lay_beside(board: &mut Picture, job: &Job, seen: &picture::View) {
    let in_hand = job.piece_in_hand();
    for piece in (0..job.piece_count()).filter(|_| job.is_batch()) {
        let mut paths = None;
        for (copy, lie) in job.lies(piece).into_iter().enumerate() {
            if (piece, copy) == in_hand {
                continue;
            }
            let one = job.copy(piece, lie);
            let paths = paths.get_or_insert_with(|| DesignPaths::new(one.design()));
            board.lay_over(&picture::carved(&one, paths, board_from_design(&one, one.factor()), seen));
        }
    }
}

/// A picture on the graphics card, and what it is a picture of.
pub(crate) struct Painted {
    pub(crate) view: Framing,
    pub(crate) board: TextureHandle,
    pub(crate) design: TextureHandle,
    pub(crate) board_from_design: DAffine2,
    pub(crate) outlines: Vec<LaidOutline>,
}

/// What a picture is painted from: a proof, with the changes of a mend or without.
#[derive(Clone)]
pub(crate) struct PaintKey {
    pub(crate) proof: Arc<Proof>,
    pub(crate) hatched: bool,
    /// Whether a photograph of the board lies under the design.
    pub(crate) photographed: bool,
    /// The elements that are left out.
    pub(crate) hidden: Vec<usize>,
}

impl PaintKey {
    pub(crate) fn is(&self, other: &PaintKey) -> bool {
        Arc::ptr_eq(&self.proof, &other.proof)
            && self.hatched == other.hatched
            && self.photographed == other.photographed
            && self.hidden == other.hidden
    }
}

/// Turns the worker's picture into a texture.
pub(crate) fn upload(ctx: &egui::Context, layers: Layers) -> Painted {
    let options = TextureOptions::LINEAR;
    Painted {
        view: layers.view,
        board: ctx.load_texture("board", layers.board, options),
        design: ctx.load_texture("design", layers.design, options),
        board_from_design: layers.board_from_design,
        outlines: layers.outlines,
    }
}
