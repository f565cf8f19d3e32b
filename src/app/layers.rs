//! The pictures under the live marks: the board and the carved design as pixels, painted by a worker.

use super::camera::Camera;
use super::worker::Proofed;
use egui::{Color32, ColorImage, Rect, Theme, Vec2};
use glam::{DAffine2, DVec2};
use tiny_skia::{Color, FillRule, Paint, PathBuilder, Pixmap, Transform};

/// What a picture is a picture of: change any of it, and another is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct View {
    /// Where the camera stands.
    pub(super) camera: Camera,
    /// The canvas in screen points.
    pub(super) canvas: Vec2,
    /// Pixels a screen point.
    pub(super) pixels_per_point: f32,
    /// The theme in use.
    pub(super) theme: Theme,
}

/// A painted design, and where it was when it was painted.
pub(super) struct Layers {
    /// What it is a picture of.
    pub(super) view: View,
    /// The carved design; clear where nothing is carved.
    pub(super) design: ColorImage,
    /// Where the design lay on the board.
    pub(super) board_from_design: DAffine2,
}

/// No canvas is larger than this many pixels on a side; a picture never is.
const LARGEST_SIDE: f32 = 4096.0;

/// Paints the design as seen through `view`. Seconds for a hundred thousand edges in a slow build.
pub(super) fn paint(proofed: &Proofed, view: View) -> Layers {
    let side = |points: f32| (points * view.pixels_per_point).ceil().clamp(1.0, LARGEST_SIDE);
    #[expect(clippy::cast_sign_loss, reason = "clamped to 1 and more")]
    let (width, height) = (side(view.canvas.x) as u32, side(view.canvas.y) as u32);
    let canvas = Rect::from_min_size(egui::Pos2::ZERO, view.canvas);
    let pixel_from_board = view.camera.lens(canvas).pixel_from_board(f64::from(view.pixels_per_point));
    let board_from_design = proofed.proof.board_from_design;
    let pixel_from_design = pixel_from_board * board_from_design;
    let mut pixmap = Pixmap::new(width, height).expect("a picture has at least one pixel");
    for (element, treatment) in proofed.job.design.elements.iter().zip(&proofed.job.treatments) {
        let mut path = PathBuilder::new();
        for ring in element.region.rings() {
            for (i, point) in ring.points().enumerate() {
                let at: DVec2 = pixel_from_design.transform_point2(point);
                let (x, y) = (at.x as f32, at.y as f32);
                if i == 0 {
                    path.move_to(x, y);
                } else {
                    path.line_to(x, y);
                }
            }
            path.close();
        }
        let Some(path) = path.finish() else { continue };
        let mut paint = Paint::default();
        paint.set_color(if treatment.stands() {
            Color::from_rgba8(0xB8, 0x8A, 0x52, 255)
        } else {
            Color::from_rgba8(0x6E, 0x4A, 0x26, 255)
        });
        paint.anti_alias = true;
        pixmap.fill_path(&path, &paint, FillRule::EvenOdd, Transform::identity(), None);
    }
    Layers { view, design: color_image(&pixmap), board_from_design }
}

fn color_image(pixmap: &Pixmap) -> ColorImage {
    let pixels = pixmap
        .pixels()
        .iter()
        .map(|p| Color32::from_rgba_premultiplied(p.red(), p.green(), p.blue(), p.alpha()))
        .collect();
    ColorImage::new([pixmap.width() as usize, pixmap.height() as usize], pixels)
}
