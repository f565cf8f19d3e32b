//! From where the surface is seen, and the hand and the keys that move it.

use crate::job::Job;
use crate::relief::shade::{Camera, LOWEST_CAMERA};
use crate::words::window::relief as said;
use egui::{EventFilter, Key, Modifiers, PointerButton, Pos2, Rect, Response, Vec2, pos2, vec2};
use glam::{DVec2, DVec3};
use std::f64::consts::{FRAC_PI_2, PI};

/// Round the board a drag of one point turns by so much, radians.
const TURN_PER_POINT: f64 = 0.008;
/// One press of an arrow key.
const TURN_PER_KEY: f64 = PI / 24.0;
/// How long after its last move the surface counts as moving, seconds.
const AT_REST_AFTER: f64 = 0.2;
/// The least of a board that is seen, millimetres of picture height.
const CLOSEST: f64 = 3.0;

/// Where the camera stands.
pub(crate) struct Eye {
    /// Round the board and up, radians.
    around: f64,
    up: f64,
    /// What is in the middle of the picture and how far away it is; `None` shows everything, and goes on
    /// doing so when the board changes.
    at: Option<(DVec2, f64)>,
    moved_at: f64,
}

impl Default for Eye {
    /// From where one stands at the machine, high enough to see into the grooves.
    fn default() -> Eye {
        Eye { around: 0.0, up: 0.9, at: None, moved_at: f64::NEG_INFINITY }
    }
}

impl Eye {
    /// The camera in front of a canvas.
    pub(crate) fn camera(&self, job: &Job, canvas: Vec2) -> Camera {
        let mut camera = Camera {
            target: DVec3::ZERO,
            around: self.around,
            up: self.up,
            distance: 1.0,
            perspective: true,
        };
        let (target, distance) = self.at.unwrap_or_else(|| Eye::whole(job, &camera, canvas));
        camera.target = target.extend(0.0);
        camera.distance = distance;
        camera
    }

    /// What shows the whole board.
    fn whole(job: &Job, camera: &Camera, canvas: Vec2) -> (DVec2, f64) {
        let board = DVec2::new(job.board().length.get(), job.board().width.get());
        let axes = camera.axes();
        let half = board * 0.5;
        let aspect = f64::from(canvas.x / canvas.y.max(1.0)).max(0.1);
        // Half the picture's sides in its heights, but for a rim round the board.
        let limits = [0.47 * aspect, 0.47];
        let corners = [half, -half, half.with_y(-half.y), half.with_x(-half.x)];
        let depths = [0.0, -job.board().thickness.get()];
        let places = corners.iter().flat_map(|corner| depths.map(|depth| corner.extend(depth)));
        // A corner is in the picture where its offset over its distance from the eye is within the limits.
        let needed = places.flat_map(|place| {
            let [x, y, away] = axes.map(|axis| axis.dot(place));
            let nearer = away * camera.distance / camera.eye_distance();
            [x.abs() / limits[0] - nearer, y.abs() / limits[1] - nearer]
        });
        (half, needed.fold(CLOSEST, f64::max))
    }

    /// Whether it moved a moment ago.
    pub(crate) fn is_moving(&self, ctx: &egui::Context) -> bool {
        ctx.input(|input| input.time) - self.moved_at < AT_REST_AFTER
    }

    fn moved(&mut self, ctx: &egui::Context) {
        self.moved_at = ctx.input(|input| input.time);
        ctx.request_repaint();
    }

    pub(crate) fn show_all(&mut self, ctx: &egui::Context) {
        self.at = None;
        self.moved(ctx);
    }

    /// Back to where it stood at first.
    fn reset(&mut self, ctx: &egui::Context) {
        *self = Eye::default();
        self.moved(ctx);
    }

    /// Straight above the board.
    pub(crate) fn look_down(&mut self, ctx: &egui::Context) {
        (self.around, self.up) = (0.0, FRAC_PI_2);
        self.moved(ctx);
    }

    pub(crate) fn go_to(&mut self, ctx: &egui::Context, place: DVec2, span: Option<f64>) {
        self.at = span.map(|span| (place, (2.2 * span).max(CLOSEST)));
        self.moved(ctx);
    }

    fn turn(&mut self, ctx: &egui::Context, around: f64, up: f64) {
        self.around = (self.around + around).rem_euclid(2.0 * PI);
        self.up = (self.up + up).clamp(LOWEST_CAMERA, FRAC_PI_2);
        self.moved(ctx);
    }

    fn pan(&mut self, ctx: &egui::Context, by: Vec2, canvas: Rect, job: &Job) {
        let camera = self.camera(job, canvas.size());
        let mm = camera.distance / f64::from(canvas.height().max(1.0));
        let right = camera.axes()[0].truncate();
        let by = DVec2::new(f64::from(by.x), f64::from(by.y)) * mm;
        // A level camera would have to go far to move the picture up.
        let moved = camera.target.truncate() - right * by.x + right.perp() * (by.y / self.up.sin().max(0.3));
        let board = DVec2::new(job.board().length.get(), job.board().width.get());
        self.at = Some((moved.clamp(-board, 2.0 * board), camera.distance));
        self.moved(ctx);
    }

    /// Closer by a factor over 1; what is seen at `about` stays there.
    pub(crate) fn zoom(&mut self, ctx: &egui::Context, factor: f64, about: Pos2, canvas: Rect, job: &Job) {
        let camera = self.camera(job, canvas.size());
        let (_, whole) = Eye::whole(job, &camera, canvas.size());
        let distance = (camera.distance / factor).clamp(CLOSEST, 4.0 * whole);
        let target = camera.target.truncate();
        let held = ground(&camera, canvas, about).unwrap_or(target);
        self.at = Some((held + (target - held) * (distance / camera.distance), distance));
        self.moved(ctx);
    }

    /// Lets the hand and the keys move it. `turns` says whether a plain drag does.
    pub(crate) fn take(&mut self, response: &Response, canvas: Rect, job: &Job, turns: bool) {
        let ctx = &response.ctx;
        let by = response.drag_delta();
        let shift = ctx.input(|input| input.modifiers.shift);
        let pans = response.dragged_by(PointerButton::Middle)
            || (shift && turns && response.dragged_by(PointerButton::Primary));
        if pans && by != Vec2::ZERO {
            self.pan(ctx, by, canvas, job);
        } else if (turns && response.dragged_by(PointerButton::Primary)
            || response.dragged_by(PointerButton::Secondary))
            && by != Vec2::ZERO
        {
            self.turn(ctx, -TURN_PER_POINT * f64::from(by.x), TURN_PER_POINT * f64::from(by.y));
        }
        if let Some(pointer) = response.hover_pos() {
            let (scroll, pinch) = ctx.input(|input| (input.smooth_scroll_delta, input.zoom_delta()));
            // Two hundred points of wheel double the size.
            let factor = f64::from(pinch) * (f64::from(scroll.y) / 200.0).exp2();
            if factor != 1.0 {
                self.zoom(ctx, factor, pointer, canvas, job);
            }
        }
        if response.double_clicked() && turns {
            self.reset(ctx);
        }
        if response.clicked() || response.drag_started() {
            response.request_focus();
        }
        if response.has_focus() {
            let arrows =
                EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
            ctx.memory_mut(|memory| memory.set_focus_lock_filter(response.id, arrows));
            self.take_keys(ctx, canvas, job);
        }
    }

    fn take_keys(&mut self, ctx: &egui::Context, canvas: Rect, job: &Job) {
        let pressed = |modifiers, key| ctx.input_mut(|input| input.consume_key(modifiers, key));
        for (key, x, y) in [
            (Key::ArrowLeft, -1.0, 0.0),
            (Key::ArrowRight, 1.0, 0.0),
            (Key::ArrowUp, 0.0, 1.0),
            (Key::ArrowDown, 0.0, -1.0),
        ] {
            // Shift first: without it a key is taken whatever else is held.
            if pressed(Modifiers::SHIFT, key) {
                self.pan(ctx, vec2(-40.0 * x as f32, 40.0 * y as f32), canvas, job);
            } else if pressed(Modifiers::NONE, key) {
                self.turn(ctx, TURN_PER_KEY * x, TURN_PER_KEY * y);
            }
        }
        for (key, factor) in [(Key::Plus, 1.25), (Key::Equals, 1.25), (Key::Minus, 0.8)] {
            if pressed(Modifiers::NONE, key) {
                self.zoom(ctx, factor, canvas.center(), canvas, job);
            }
        }
        if pressed(Modifiers::NONE, Key::Home) {
            self.reset(ctx);
        }
    }

    /// Where it stands, for a person who cannot see the picture.
    pub(crate) fn in_words(&self) -> String {
        // Straight from above no side is nearer.
        if self.up > 1.5 {
            return said::seen_from(None, 90.0);
        }
        #[expect(clippy::cast_sign_loss, reason = "an angle kept from 0 to a whole turn")]
        let eighth = (self.around / (PI / 4.0)).round() as usize;
        said::seen_from(Some(eighth), self.up.to_degrees())
    }
}

/// The size of a canvas as the camera counts it.
fn size(canvas: Rect) -> [u32; 2] {
    #[expect(clippy::cast_sign_loss, reason = "a canvas has no negative side")]
    [canvas.width(), canvas.height()].map(|side| side.round().max(1.0) as u32)
}

/// Where on the board's face a place of the screen is; `None` above the horizon.
pub(crate) fn ground(camera: &Camera, canvas: Rect, at: Pos2) -> Option<DVec2> {
    let off = at - canvas.min;
    let (start, way) = camera.ray(DVec2::new(f64::from(off.x), f64::from(off.y)), size(canvas));
    (way.z < -1e-6).then(|| (start - way * (start.z / way.z)).truncate())
}

/// Where a place of board space is on the screen; `None` behind the camera.
pub(crate) fn on_screen(camera: &Camera, canvas: Rect, place: DVec3) -> Option<Pos2> {
    let p = camera.on_screen(place, size(canvas))?;
    let p = p.clamp(DVec2::splat(-1e6), DVec2::splat(1e6));
    Some(canvas.min + pos2(p.x as f32, p.y as f32).to_vec2())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::samples::samples;
    use crate::job::sample::sample_job;

    const CANVAS: Rect = Rect { min: pos2(300.0, 100.0), max: pos2(1000.0, 450.0) };

    fn job() -> Job {
        sample_job(&samples()[0]).expect("a bundled sample opens")
    }

    #[test]
    fn the_whole_board_is_in_the_canvas_from_every_side() {
        let job = job();
        let board = DVec2::new(job.board().length.get(), job.board().width.get());
        for turn in 0..16 {
            let eye = Eye { around: f64::from(turn) * PI / 8.0, up: 0.4, ..Eye::default() };
            let camera = eye.camera(&job, CANVAS.size());
            for corner in [DVec2::ZERO, board, board.with_x(0.0), board.with_y(0.0)] {
                let at = on_screen(&camera, CANVAS, corner.extend(0.0)).unwrap();
                assert!(CANVAS.contains(at), "corner {corner} is at {at:?} after {turn} turns");
            }
        }
    }

    #[test]
    fn zooming_keeps_what_is_under_the_pointer() {
        let (job, ctx) = (job(), egui::Context::default());
        let mut eye = Eye { around: 0.7, up: 0.8, ..Eye::default() };
        let pointer = pos2(750.0, 300.0);
        let held = ground(&eye.camera(&job, CANVAS.size()), CANVAS, pointer).unwrap();
        eye.zoom(&ctx, 3.0, pointer, CANVAS, &job);
        let after = ground(&eye.camera(&job, CANVAS.size()), CANVAS, pointer).unwrap();
        assert!(held.distance(after) < 1e-6, "{held} went to {after}");
    }

    #[test]
    fn a_place_of_the_face_is_found_where_it_is_drawn() {
        let job = job();
        let camera = Eye { around: 4.0, up: 0.6, ..Eye::default() }.camera(&job, CANVAS.size());
        let place = DVec2::new(120.0, 40.0);
        let at = on_screen(&camera, CANVAS, place.extend(0.0)).unwrap();
        let back = ground(&camera, CANVAS, at).unwrap();
        // The screen has single precision.
        assert!(back.distance(place) < 1e-2, "{place} came back as {back}");
    }
}
