//! Which part of the board is seen, and how large.

use crate::geometry;
use egui::{Pos2, Rect, Vec2, pos2};
use glam::{DAffine2, DVec2, dvec2};

/// A point of the board that is in the middle of the canvas, and a scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Camera {
    /// Board space, millimetres.
    pub(crate) center: DVec2,
    /// Screen points a millimetre.
    pub(crate) scale: f64,
}

/// Farthest: a metre in a few points. Closest: a hundredth of a millimetre can be seen.
const SCALES: std::ops::RangeInclusive<f64> = 0.004..=400.0;

impl Camera {
    /// Shows a box of the board with some room round it.
    pub(crate) fn showing(what: geometry::Rect, canvas: Vec2) -> Camera {
        let size = what.size().max(dvec2(1e-3, 1e-3));
        let room = dvec2(f64::from(canvas.x), f64::from(canvas.y)).max(dvec2(1.0, 1.0));
        let scale = (room / size).min_element() * 0.9;
        Camera { center: what.center(), scale: scale.clamp(*SCALES.start(), *SCALES.end()) }
    }

    /// The same with `screen` staying where it is while the scale changes by `factor`.
    pub(crate) fn zoomed(self, factor: f64, about: Pos2, canvas: Rect) -> Camera {
        let held = self.lens(canvas).board(about);
        let scale = (self.scale * factor).clamp(*SCALES.start(), *SCALES.end());
        let center = held + (self.center - held) * (self.scale / scale);
        Camera { center, scale }
    }

    /// The same, moved by a drag on the screen.
    pub(crate) fn panned(self, by: Vec2) -> Camera {
        let moved = dvec2(-f64::from(by.x), f64::from(by.y)) / self.scale;
        Camera { center: self.center + moved, ..self }
    }

    /// Looks at a place so that `span` millimetres round it are seen well.
    pub(crate) fn looking_at(at: DVec2, span: f64, canvas: Vec2) -> Camera {
        let short_side = f64::from(canvas.x.min(canvas.y)).max(1.0);
        let wanted = (0.45 * short_side / span.max(1e-3)).clamp(*SCALES.start(), *SCALES.end());
        Camera { center: at, scale: wanted }
    }

    /// What turns board points into screen points and back.
    pub(crate) fn lens(self, canvas: Rect) -> Lens {
        Lens { camera: self, canvas }
    }
}

/// A camera in front of a canvas: board space to screen space and back.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Lens {
    camera: Camera,
    canvas: Rect,
}

impl Lens {
    /// Board to screen.
    pub(crate) fn screen(self, board: DVec2) -> Pos2 {
        let middle = self.canvas.center();
        let offset = (board - self.camera.center) * self.camera.scale;
        pos2(
            (f64::from(middle.x) + offset.x).clamp(-1e7, 1e7) as f32,
            (f64::from(middle.y) - offset.y).clamp(-1e7, 1e7) as f32,
        )
    }

    /// Screen to board.
    pub(crate) fn board(self, screen: Pos2) -> DVec2 {
        let offset = screen - self.canvas.center();
        self.camera.center + dvec2(f64::from(offset.x), -f64::from(offset.y)) / self.camera.scale
    }

    /// A box of the board on the screen.
    pub(crate) fn screen_rect(self, what: geometry::Rect) -> Rect {
        Rect::from_two_pos(self.screen(what.min), self.screen(what.max))
    }

    /// Screen points a millimetre.
    pub(crate) fn scale(self) -> f64 {
        self.camera.scale
    }

    /// Board space to pixels of a picture that covers the canvas, y down.
    pub(crate) fn pixel_from_board(self, pixels_per_point: f64) -> DAffine2 {
        let half = dvec2(f64::from(self.canvas.width()), f64::from(self.canvas.height())) * 0.5;
        let scale = self.camera.scale;
        DAffine2::from_scale(DVec2::splat(pixels_per_point))
            * DAffine2::from_translation(half)
            * DAffine2::from_scale(dvec2(scale, -scale))
            * DAffine2::from_translation(-self.camera.center)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const CANVAS: Rect = Rect { min: pos2(100.0, 50.0), max: pos2(500.0, 250.0) };

    #[test]
    fn zooming_keeps_the_point_under_the_pointer() {
        let camera = Camera { center: dvec2(300.0, 80.0), scale: 0.7 };
        let pointer = pos2(430.0, 90.0);
        let before = camera.lens(CANVAS).board(pointer);
        let after = camera.zoomed(3.0, pointer, CANVAS).lens(CANVAS).board(pointer);
        assert!((before - after).length() < 1e-9, "{before} moved to {after}");
    }

    #[test]
    fn panning_moves_the_board_with_the_hand() {
        let camera = Camera { center: dvec2(300.0, 80.0), scale: 0.5 };
        let grabbed = camera.lens(CANVAS).board(pos2(200.0, 100.0));
        let moved = camera.panned(egui::vec2(30.0, -12.0));
        let there = moved.lens(CANVAS).board(pos2(230.0, 88.0));
        assert!((grabbed - there).length() < 1e-9, "{grabbed} is not {there}");
    }

    #[test]
    fn the_picture_lies_where_the_lens_says() {
        let camera = Camera { center: dvec2(300.0, 80.0), scale: 0.5 };
        let lens = camera.lens(CANVAS);
        let board = dvec2(120.0, 33.0);
        let pixel = lens.pixel_from_board(2.0).transform_point2(board);
        let screen = (lens.screen(board) - CANVAS.min) * 2.0;
        assert!(
            (pixel - dvec2(f64::from(screen.x), f64::from(screen.y))).length() < 1e-3,
            "{pixel} {screen}"
        );
    }

    #[test]
    fn a_whole_board_is_in_the_canvas() {
        let board = geometry::Rect::new(DVec2::ZERO, dvec2(2400.0, 150.0));
        let rect = Camera::showing(board, CANVAS.size()).lens(CANVAS).screen_rect(board);
        assert!(CANVAS.contains_rect(rect), "{rect} is not in {CANVAS}");
    }
}
