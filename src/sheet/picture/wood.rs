//! The bare board: grain, ends, roller allowance, snipe zones.

use super::super::photo::layer;
use super::blemish::paint_blemishes;
use super::{Picture, View, on_screen};
use crate::job::{Ends, Job};
use crate::proof::Proof;
use crate::relief::grain::{self, GrainLine};
use crate::sheet::lettering::{Align, Lettering};
use crate::shop::BoardEnd;
use crate::shop::Photo;
use crate::words::sheets::picture as said;
use glam::{DVec2, dvec2};
use rayon::prelude::*;
use tiny_skia::{
    Color, Paint, PathBuilder, Pixmap, PremultipliedColorU8, Rect, Stroke, StrokeDash, Transform,
};

/// Paints the bench, the board with its grain, and what its ends are for. `O(pixels)`.
pub fn board(job: &Job, proof: &Proof, view: &View) -> Picture {
    photographed_board(job, proof, view, None)
}

/// The same with a photograph of the board in place of drawn grain, where there is one and its corners
/// are marked on the job's board. `O(pixels)`.
pub fn photographed_board(job: &Job, proof: &Proof, view: &View, photo: Option<&Photo>) -> Picture {
    let mut pixmap = view.pixmap();
    pixmap.fill(view.theme.surroundings().bench);
    let scale = view.scale();
    let size = dvec2(job.board().length.get(), job.board().width.get());
    if scale == 0.0 || size.min_element() <= 0.0 || !size.is_finite() {
        return pixmap.into();
    }
    let [x0, y1] = on_screen(view, DVec2::ZERO);
    let [x1, y0] = on_screen(view, size);
    if let Some(face) = Rect::from_ltrb(x0.min(x1), y0.min(y1), x0.max(x1), y0.max(y1)) {
        paint_shadow(&mut pixmap, face);
        paint_grain(&mut pixmap, job, view, size);
        if let (Some(photo), Some(marked)) = (photo, &job.board().photo)
            && let Ok(seen) = layer(photo, marked.corner_points(), job.board(), view)
        {
            let mut page = Picture::from(pixmap);
            page.lay_over(&seen);
            pixmap = page.take_pixmap().unwrap_or_else(|| view.pixmap());
        }
        match job.ends() {
            Ends::Held => paint_allowance(&mut pixmap, job, view, size),
            Ends::Free => paint_snipe(&mut pixmap, proof, view, size),
        }
        paint_blemishes(&mut pixmap, job.board(), view);
        // End grain drinks light: a dark line at either end, and the reference edge drawn firm.
        let firm = color(0x3A2412, 0.85);
        for x in [face.left(), face.right()] {
            line(&mut pixmap, [[x, face.top()], [x, face.bottom()]], 2.5, firm, None);
        }
        line(&mut pixmap, [[face.left(), face.top()], [face.right(), face.top()]], 1.0, firm, None);
        line(&mut pixmap, [[face.left(), face.bottom()], [face.right(), face.bottom()]], 2.5, firm, None);
    }
    pixmap.into()
}

fn paint_shadow(pixmap: &mut Pixmap, face: Rect) {
    let mut paint = Paint::default();
    for spread in [7.0f32, 5.0, 3.0, 1.5] {
        paint.set_color(Color::from_rgba8(0, 0, 0, 16));
        let grown = Rect::from_ltrb(
            face.left() - spread + 2.0,
            face.top() - spread + 3.0,
            face.right() + spread + 2.0,
            face.bottom() + spread + 3.0,
        );
        if let Some(rect) = grown {
            pixmap.fill_rect(rect, &paint, Transform::identity(), None);
        }
    }
}

/// Colours each pixel of the board by its grain, which is fixed to the board, so that it does not swim when
/// the view moves.
fn paint_grain(pixmap: &mut Pixmap, job: &Job, view: &View, size: DVec2) {
    let look = grain::look(&job.wood().id);
    let board_from_screen = view.screen_from_board.inverse();
    let width = pixmap.width() as usize;
    pixmap.pixels_mut().par_chunks_mut(width).enumerate().for_each(|(row, pixels)| {
        let at =
            |column: usize| board_from_screen.transform_point2(dvec2(column as f64 + 0.5, row as f64 + 0.5));
        // The view does not turn, so a row of pixels is one line along the board.
        let y = at(0).y;
        if y < 0.0 || y > size.y {
            return;
        }
        let mut line = GrainLine::new(look, y, size, view.scale());
        for (column, pixel) in pixels.iter_mut().enumerate() {
            let x = at(column).x;
            if x < 0.0 || x > size.x {
                continue;
            }
            let [r, g, b] = line.color(x).map(|v| v.round() as u8);
            if let Some(opaque) = PremultipliedColorU8::from_rgba(r, g, b, 255) {
                *pixel = opaque;
            }
        }
    });
}

/// The stretches kept for the rollers: slanting hatch, a dashed line, and their name.
fn paint_allowance(pixmap: &mut Pixmap, job: &Job, view: &View, size: DVec2) {
    for end in [BoardEnd::Left, BoardEnd::Right] {
        let allowance = job.machine().allowance(end).get().clamp(0.0, size.x / 2.0);
        if allowance <= 0.0 || allowance.is_nan() {
            continue;
        }
        let words = said::roller_allowance(job.machine().allowance(end), view.unit);
        let (from, to, line_at) = match end {
            BoardEnd::Left => (0.0, allowance, allowance),
            BoardEnd::Right => (size.x - allowance, size.x, size.x - allowance),
        };
        let Some(band) = band(view, from, to, size.y) else { continue };
        fill(pixmap, band, color(0x2A1A0C, 0.10));
        hatch(pixmap, band, 9.0, color(0x2A1A0C, 0.30));
        let [x, _] = on_screen(view, dvec2(line_at, 0.0));
        line(pixmap, [[x, band.top()], [x, band.bottom()]], 1.4, color(0x2A1A0C, 0.75), Some([7.0, 5.0]));
        name_band(pixmap, band, 0.5, &words, color(0x2A1A0C, 1.0));
    }
}

/// The stretches carved while an end is past its roller: lines across the board, as snipe itself runs.
fn paint_snipe(pixmap: &mut Pixmap, proof: &Proof, view: &View, size: DVec2) {
    for [from, to] in &proof.feeding.snipe_zones {
        let Some(band) = band(view, from.get(), to.get(), size.y) else { continue };
        fill(pixmap, band, color(0xE69F00, 0.16));
        let first = (band.left() / 6.0).ceil() * 6.0;
        let lines = ((band.right() - first) / 6.0).clamp(0.0, 4096.0) as usize;
        for i in 0..=lines {
            let x = first + i as f32 * 6.0;
            if x < band.right() {
                line(pixmap, [[x, band.top()], [x, band.bottom()]], 1.0, color(0x8A4B00, 0.42), None);
            }
        }
        for x in [band.left(), band.right()] {
            line(pixmap, [[x, band.top()], [x, band.bottom()]], 1.4, color(0x8A4B00, 0.9), Some([2.0, 3.0]));
        }
        // Near the end of the board, where the design is least likely to hide it.
        let at = if from.get() + to.get() < size.x { 0.16 } else { 0.84 };
        name_band(pixmap, band, at, said::SNIPE_ZONE, color(0x3A2000, 1.0));
    }
}

/// A stretch of the board on the screen, clipped to the picture.
fn band(view: &View, from: f64, to: f64, width: f64) -> Option<Rect> {
    let [x0, y1] = on_screen(view, dvec2(from, 0.0));
    let [x1, y0] = on_screen(view, dvec2(to, width));
    let [w, h] = view.size.map(|side| side as f32);
    Rect::from_ltrb(x0.max(-4.0), y0.max(-4.0), x1.min(w + 4.0), y1.min(h + 4.0))
        .filter(|band| band.width() > 0.5 && band.height() > 0.5)
}

/// Writes a stretch's name up a line at a share `along` of its length, or across its middle where it is
/// low and long, or not at all where there is no room.
fn name_band(pixmap: &mut Pixmap, band: Rect, along: f32, words: &str, ink: Color) {
    let lettering = Lettering::new(14.0);
    let long = lettering.width(words);
    let (cx, cy) = (band.left() + band.width() * along, f32::midpoint(band.top(), band.bottom()));
    let plate = color(0xFFF8EA, 0.82);
    if long + 16.0 < band.height() && band.width() > 22.0 {
        let rect = Rect::from_ltrb(cx - 11.0, cy - long / 2.0 - 6.0, cx + 11.0, cy + long / 2.0 + 6.0);
        if let Some(rect) = rect {
            fill(pixmap, rect, plate);
        }
        lettering.draw_upwards(pixmap, words, [cx + lettering.cap_height() / 2.0, cy], ink);
    } else if long + 16.0 < band.width() && band.height() > 22.0 {
        let rect = Rect::from_ltrb(cx - long / 2.0 - 6.0, cy - 11.0, cx + long / 2.0 + 6.0, cy + 11.0);
        if let Some(rect) = rect {
            fill(pixmap, rect, plate);
        }
        lettering.draw(pixmap, words, [cx, cy + lettering.cap_height() / 2.0], Align::Middle, ink);
    }
}

/// Lines at 45 degrees, `pitch` pixels apart measured along x, fixed to the band's corner.
fn hatch(pixmap: &mut Pixmap, band: Rect, pitch: f32, ink: Color) {
    let reach = band.width() + band.height();
    let mut path = PathBuilder::new();
    for i in 1..((reach / pitch).min(4096.0) as usize) {
        let along = i as f32 * pitch;
        // From the left or top edge down to the bottom or right edge.
        let from = (along - band.width()).max(0.0);
        let to = along.min(band.height());
        if from < to {
            path.move_to(band.left() + along - from, band.bottom() - from);
            path.line_to(band.left() + along - to, band.bottom() - to);
        }
    }
    if let Some(path) = path.finish() {
        let stroke = Stroke { width: 1.0, ..Stroke::default() };
        pixmap.stroke_path(&path, &solid(ink), &stroke, Transform::identity(), None);
    }
}

/// A straight line; `dash` gives lengths drawn and left out.
pub(super) fn line(
    pixmap: &mut Pixmap,
    [a, b]: [[f32; 2]; 2],
    width: f32,
    ink: Color,
    dash: Option<[f32; 2]>,
) {
    let mut path = PathBuilder::new();
    path.move_to(a[0], a[1]);
    path.line_to(b[0], b[1]);
    let dash = dash.and_then(|parts| StrokeDash::new(parts.to_vec(), 0.0));
    if let Some(path) = path.finish() {
        let stroke = Stroke { width, dash, ..Stroke::default() };
        pixmap.stroke_path(&path, &solid(ink), &stroke, Transform::identity(), None);
    }
}

pub(super) fn fill(pixmap: &mut Pixmap, rect: Rect, ink: Color) {
    pixmap.fill_rect(rect, &solid(ink), Transform::identity(), None);
}

pub(super) fn solid(ink: Color) -> Paint<'static> {
    let mut paint = Paint::default();
    paint.set_color(ink);
    paint
}

/// From a hexadecimal colour and an opacity of 0 to 1.
pub(super) fn color(hex: u32, alpha: f64) -> Color {
    let [r, g, b] = [16, 8, 0].map(|shift| (hex >> shift & 0xFF) as u8);
    Color::from_rgba8(r, g, b, (alpha * 255.0).round() as u8)
}
