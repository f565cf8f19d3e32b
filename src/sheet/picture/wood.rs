//! The bare board: grain, ends, roller allowance, snipe zones.

use super::super::photo::{Photo, layer};
use super::blemish::paint_blemishes;
use super::{Picture, View, on_screen};
use crate::job::{Ends, Job};
use crate::proof::Proof;
use crate::sheet::lettering::{Align, Lettering};
use crate::shop::BoardEnd;
use glam::{DVec2, dvec2};
use rayon::prelude::*;
use tiny_skia::{
    Color, Paint, PathBuilder, Pixmap, PremultipliedColorU8, Rect, Stroke, StrokeDash, Transform,
};

/// How a wood looks: chosen by eye for telling woods apart on a screen, not a colour standard.
#[derive(Clone, Copy)]
struct Look {
    /// Early wood, the light part of a year's ring.
    light: [f64; 3],
    /// Late wood, the dark part.
    dark: [f64; 3],
    /// How plainly the rings show, 0 to 1.
    figure: f64,
}

/// The wood's own light colour, red, green, blue: for a swatch.
pub fn wood_color(wood: &str) -> [u8; 3] {
    look(wood).light.map(|v| v as u8)
}

/// By the beginning of the wood's id; an unknown wood looks like a plain tan one.
fn look(wood: &str) -> Look {
    const LOOKS: [(&str, u32, u32, f64); 17] = [
        ("alder", 0xD9AE83, 0xC08F63, 0.35),
        ("ash", 0xE6D2AE, 0xC0A06F, 0.8),
        ("beech", 0xDDB88F, 0xC79B70, 0.35),
        ("birch", 0xE8D0A8, 0xD2B384, 0.35),
        ("butternut", 0xC9A06D, 0xA67C4C, 0.6),
        ("cherry", 0xC68A5B, 0xA66A41, 0.45),
        ("douglas", 0xDDA673, 0xB06B3A, 0.85),
        ("elm", 0xC49B6C, 0x9A7044, 0.75),
        ("hickory", 0xDDBE90, 0xB98E5B, 0.7),
        ("mahogany", 0xB06E4A, 0x8E5033, 0.4),
        ("maple", 0xEAD6B3, 0xD0B283, 0.45),
        ("oak", 0xD4B283, 0xA98253, 0.85),
        ("pine", 0xEACF9C, 0xCC9F62, 0.7),
        ("redwood", 0xB26D4C, 0x8B4830, 0.7),
        ("teak", 0xB98B57, 0x8E6336, 0.6),
        ("walnut", 0x8A6446, 0x614430, 0.6),
        ("basswood", 0xEBD9B6, 0xD2B685, 0.55),
    ];
    let cedar = ("cedar", 0xC88E66, 0xA2633F, 0.6);
    let known = LOOKS.into_iter().chain([cedar]).find(|(start, ..)| wood.starts_with(start));
    let (_, light, dark, figure) = known.unwrap_or(("", 0xDFC49A, 0xC4A274, 0.5));
    let rgb = |hex: u32| [16, 8, 0].map(|shift| f64::from(hex >> shift & 0xFF));
    Look { light: rgb(light), dark: rgb(dark), figure }
}

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
    let size = dvec2(job.board.length.get(), job.board.width.get());
    if scale == 0.0 || size.min_element() <= 0.0 || !size.is_finite() {
        return pixmap.into();
    }
    let [x0, y1] = on_screen(view, DVec2::ZERO);
    let [x1, y0] = on_screen(view, size);
    if let Some(face) = Rect::from_ltrb(x0.min(x1), y0.min(y1), x0.max(x1), y0.max(y1)) {
        paint_shadow(&mut pixmap, face);
        paint_grain(&mut pixmap, job, view, size);
        if let (Some(photo), Some(marked)) = (photo, &job.board.photo)
            && let Ok(seen) = layer(photo, marked.corner_points(), &job.board, view)
        {
            let mut page = Picture::from(pixmap);
            page.lay_over(&seen);
            pixmap = page.take_pixmap().unwrap_or_else(|| view.pixmap());
        }
        match job.ends {
            Ends::Held => paint_allowance(&mut pixmap, job, view, size),
            Ends::Free => paint_snipe(&mut pixmap, proof, view, size),
        }
        paint_blemishes(&mut pixmap, &job.board, view);
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

/// Colours each pixel of the board by a procedural figure: rings of uneven width that wander along the
/// length, and fine fibres. It is fixed to the board, so it does not swim when the view moves.
fn paint_grain(pixmap: &mut Pixmap, job: &Job, view: &View, size: DVec2) {
    let look = look(&job.wood.id);
    let board_from_screen = view.screen_from_board.inverse();
    let width = pixmap.width() as usize;
    // Fibres finer than a pixel only make noise: they fade out as the view backs off.
    let fibre_strength = (view.scale() * 0.3).clamp(0.15, 1.0);
    pixmap.pixels_mut().par_chunks_mut(width).enumerate().for_each(|(row, pixels)| {
        let at =
            |column: usize| board_from_screen.transform_point2(dvec2(column as f64 + 0.5, row as f64 + 0.5));
        // The view does not turn, so a row of pixels is one line along the board.
        let y = at(0).y;
        if y < 0.0 || y > size.y {
            return;
        }
        let mut figure = Figure::new(y, size);
        let mut fibre = Noise::new(16.0, y / 0.45, 3);
        let mut broad = Noise::new(210.0, y / 38.0, 4);
        for (column, pixel) in pixels.iter_mut().enumerate() {
            let x = at(column).x;
            if x < 0.0 || x > size.x {
                continue;
            }
            let tone = figure.late(x) * look.figure;
            let fibre = (fibre.at(x) - 0.5) * 0.16 * fibre_strength;
            let broad = (broad.at(x) - 0.5) * 0.18;
            let mix = (0.12 + tone + fibre + broad).clamp(0.0, 1.0);
            let [r, g, b] =
                [0, 1, 2].map(|i| (look.light[i] + (look.dark[i] - look.light[i]) * mix).round() as u8);
            if let Some(opaque) = PremultipliedColorU8::from_rgba(r, g, b, 255) {
                *pixel = opaque;
            }
        }
    });
}

/// The rings met on one line along the board: cut at a slant, closer towards the edges, as on a
/// flat-sawn face.
struct Figure {
    off: f64,
    half_length: f64,
    wander: [Noise; 2],
    year: i64,
    strength: f64,
}

impl Figure {
    fn new(y: f64, size: DVec2) -> Figure {
        let wander = [Noise::new(170.0, y / 70.0, 1), Noise::new(45.0, y / 24.0, 2)];
        Figure { off: y - size.y * 0.46, half_length: size.x * 0.5, wander, year: i64::MIN, strength: 0.0 }
    }

    /// How far into late wood a place is, 0 to 1.
    fn late(&mut self, x: f64) -> f64 {
        let [slow, quick] = &mut self.wander;
        let off = self.off + (slow.at(x) - 0.5) * 11.0 + (quick.at(x) - 0.5) * 2.2;
        // A cone seen along its side: arches near the middle, straight lines near the edges.
        let slant = 0.006 * (x - self.half_length).abs();
        let ring = (off * off / 55.0 + 9.0).sqrt() * 1.9 - slant * 1.6;
        let year = ring.floor();
        if year as i64 != self.year {
            self.year = year as i64;
            self.strength = 0.45 + 0.55 * chance(self.year, 7, 5);
        }
        // Late wood comes on slowly and stops at once.
        (ring - year).powi(3) * self.strength
    }
}

/// Smooth noise, 0 to 1, along one line of a lattice of fixed chances. Neighbouring places share
/// their lattice cell, which is looked up once.
struct Noise {
    pitch: f64,
    row: i64,
    /// How far the line is from its row of the lattice to the next, eased.
    between: f64,
    which: i64,
    cell: i64,
    ends: [f64; 2],
}

impl Noise {
    /// Along x with a lattice every `pitch`, at `y` counted in rows of the lattice.
    fn new(pitch: f64, y: f64, which: i64) -> Noise {
        let row = y.floor();
        Noise { pitch, row: row as i64, between: ease(y - row), which, cell: i64::MIN, ends: [0.0; 2] }
    }

    fn at(&mut self, x: f64) -> f64 {
        let x = x / self.pitch;
        let cell = x.floor();
        if cell as i64 != self.cell {
            self.cell = cell as i64;
            self.ends = [0, 1].map(|step| {
                let corner =
                    |up| chance(self.cell.saturating_add(step), self.row.saturating_add(up), self.which);
                let (low, high) = (corner(0), corner(1));
                low + (high - low) * self.between
            });
        }
        self.ends[0] + (self.ends[1] - self.ends[0]) * ease(x - cell)
    }
}

fn ease(t: f64) -> f64 {
    t * t * (3.0 - 2.0 * t)
}

/// A fixed number in 0..1 for a lattice place: integer mixing, so the same on every machine.
fn chance(x: i64, y: i64, which: i64) -> f64 {
    let mut h = x.cast_unsigned().wrapping_mul(0x9E37_79B9_7F4A_7C15)
        ^ y.cast_unsigned().wrapping_mul(0xC2B2_AE3D_27D4_EB4F)
        ^ which.cast_unsigned().wrapping_mul(0x1656_67B1_9E37_79F9);
    h ^= h >> 29;
    h = h.wrapping_mul(0xBF58_476D_1CE4_E5B9);
    h ^= h >> 32;
    (h >> 40) as f64 / (1u64 << 24) as f64
}

/// The stretches kept for the rollers: slanting hatch, a dashed line, and their name.
fn paint_allowance(pixmap: &mut Pixmap, job: &Job, view: &View, size: DVec2) {
    for end in [BoardEnd::Left, BoardEnd::Right] {
        let allowance = job.machine.allowance(end).get().clamp(0.0, size.x / 2.0);
        if allowance <= 0.0 || allowance.is_nan() {
            continue;
        }
        let words = format!("roller allowance {}", view.unit.show(job.machine.allowance(end)));
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
    for [from, to] in &proof.snipe_zones {
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
        name_band(pixmap, band, at, "snipe zone", color(0x3A2000, 1.0));
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
