//! The design on the board: what stands, what is lowered, what is cut through.
//!
//! Each treatment is told by tone and by a texture of its own, fixed to the board:
//!
//! | treatment | texture |
//! |---|---|
//! | Relief | the standing wood is bare and lit at its edges; the ground round it is darker, with rows of tool dots |
//! | Sunk | darker still, with slanting lines |
//! | Incised | dark in the middle and lit on one flank, as a V is |
//! | Pierced | the bench shows through, crossed both ways |
//! | Left | bare wood inside a dashed outline |

use super::wood::{color, solid};
use super::{Picture, View, painter_transform};
use crate::design::Design;
use crate::geometry::{Ring, convex_hull};
use crate::job::{Job, Treatment};
use crate::proof::ground;
use glam::{DAffine2, DVec2, Vec2, dvec2};
use rayon::prelude::*;
use tiny_skia::{FillRule, Mask, Path, PathBuilder, Pixmap, PremultipliedColorU8, Stroke, StrokeDash};

/// A design's outlines made ready for painting: built once a design, painted at any view.
#[derive(Clone, Debug)]
pub struct DesignPaths {
    elements: Vec<ElementPath>,
    /// The painter works in single precision, so paths are kept about the design's middle.
    middle: DVec2,
}

#[derive(Clone, Debug)]
struct ElementPath {
    path: Option<Path>,
    hull: Vec<DVec2>,
}

impl DesignPaths {
    /// Builds the paths. `O(n log n)` in edges.
    pub fn new(design: &Design) -> DesignPaths {
        let middle = design.outline_box().center();
        let elements = design
            .elements
            .iter()
            .map(|element| {
                let segments = element.region.segment_count();
                let mut builder = PathBuilder::with_capacity(segments * 2, segments);
                let mut points = Vec::new();
                for ring in element.region.rings() {
                    ring_path(&mut builder, ring, middle);
                    if !ring.hole {
                        points.extend(ring.points());
                    }
                }
                ElementPath { path: builder.finish(), hull: convex_hull(points) }
            })
            .collect();
        DesignPaths { elements, middle }
    }

    /// The same without some elements, by their places in the design: a picture in which they are not there.
    #[must_use]
    pub fn without(&self, hidden: &[usize]) -> DesignPaths {
        let mut seen = self.clone();
        for &index in hidden {
            if let Some(element) = seen.elements.get_mut(index) {
                *element = ElementPath { path: None, hull: Vec::new() };
            }
        }
        seen
    }
}

/// Adds a ring to a path, about `middle`.
pub(super) fn ring_path(builder: &mut PathBuilder, ring: Ring<'_>, middle: DVec2) {
    for (index, point) in ring.points().enumerate() {
        let p = (point - middle).as_vec2();
        if index == 0 {
            builder.move_to(p.x, p.y);
        } else {
            builder.line_to(p.x, p.y);
        }
    }
    builder.close();
}

/// How much of each pixel is what, 0 to 255; `None` where there is nothing of it.
struct Cover {
    width: usize,
    standing: Option<Mask>,
    ground: Option<Mask>,
    sunk: Option<Mask>,
    incised: Option<Mask>,
    pierced: Option<Mask>,
    board: Option<Mask>,
}

/// Paints the design as carved, on nothing: to be laid over the bare [`board`](super::board()).
///
/// A relief's ground is drawn as [`ground::round`] tells, cut off at the board's edges.
/// `O(pixels + edges)`.
pub fn carved(job: &Job, paths: &DesignPaths, board_from_design: DAffine2, view: &View) -> Picture {
    let mut pixmap = view.pixmap();
    let scale = view.scale();
    let screen_from_paths =
        view.screen_from_board * board_from_design * DAffine2::from_translation(paths.middle);
    if scale == 0.0 || !screen_from_paths.is_finite() || paths.elements.iter().all(|e| e.path.is_none()) {
        return pixmap.into();
    }
    let cover = cover(job, paths, board_from_design, view, &pixmap);
    shade(&mut pixmap, &cover, job, view);
    outline(&mut pixmap, job, paths, screen_from_paths);
    pixmap.into()
}

fn cover(job: &Job, paths: &DesignPaths, board_from_design: DAffine2, view: &View, pixmap: &Pixmap) -> Cover {
    let screen_from_paths =
        view.screen_from_board * board_from_design * DAffine2::from_translation(paths.middle);
    let filled = |path: Option<Path>, screen_from_path: DAffine2| {
        let mut mask = Mask::new(pixmap.width(), pixmap.height())?;
        mask.fill_path(&path?, FillRule::Winding, true, painter_transform(screen_from_path));
        Some(mask)
    };
    // Elements of one kind go into one path: painted apart, a seam would show where they meet.
    let of = |wanted: &dyn Fn(Treatment) -> bool| {
        let mut together = PathBuilder::new();
        for (index, element) in paths.elements.iter().enumerate() {
            if let (Some(path), true) = (&element.path, wanted(treatment(job, index))) {
                together.push_path(path);
            }
        }
        filled(together.finish(), screen_from_paths)
    };
    let in_relief =
        paths.elements.iter().enumerate().filter(|&(index, _)| treatment(job, index) == Treatment::Relief);
    let ground = ground::round(job, in_relief.flat_map(|(_, element)| &element.hull), board_from_design);
    let (length, width) = (job.board().length.get(), job.board().width.get());
    let corners = [dvec2(0.0, 0.0), dvec2(length, 0.0), dvec2(length, width), dvec2(0.0, width)];
    Cover {
        width: pixmap.width() as usize,
        standing: of(&Treatment::stands),
        ground: filled(polygon(&ground), view.screen_from_board),
        sunk: of(&|t| t == Treatment::Sunk),
        incised: of(&|t| t == Treatment::Incised),
        pierced: of(&|t| t == Treatment::Pierced),
        board: filled(polygon(&corners), view.screen_from_board),
    }
}

fn treatment(job: &Job, index: usize) -> Treatment {
    job.carvings().get(index).map(|carving| carving.treatment).unwrap_or_default()
}

/// Tones and textures, pixel by pixel.
fn shade(pixmap: &mut Pixmap, cover: &Cover, job: &Job, view: &View) {
    let (width, height) = (cover.width, pixmap.height() as usize);
    let at =
        |mask: &Option<Mask>, i: usize| mask.as_ref().map_or(0.0, |mask| f32::from(mask.data()[i]) / 255.0);
    // What is left at the face of the board, and what is not.
    let carved: Vec<u8> = (0..width * height)
        .into_par_iter()
        .map(|i| {
            let ground = at(&cover.ground, i) * (1.0 - at(&cover.standing, i));
            let cut = ground.max(at(&cover.sunk, i)).max(at(&cover.incised, i)).max(at(&cover.pierced, i));
            (cut * at(&cover.board, i) * 255.0).round() as u8
        })
        .collect();
    // Light comes from the upper left, so that a shadow falls to the lower right of a standing edge,
    // as far as the cut is deep.
    let depth = job.deepest_floor().unwrap_or(job.depth());
    let reach = (depth.get() * view.scale() * 0.55).clamp(1.0, 16.0) as usize;
    let soft = blurred(&carved, width, height, reach.div_ceil(2));
    let flank = cover.incised.as_ref().map(|mask| blurred(mask.data(), width, height, reach));
    let bench = view.theme.surroundings().bench.to_color_u8();
    let board_from_screen = view.screen_from_board.inverse();
    // A texture closer than a few pixels would turn to mud.
    let pitch = (2.4f64).max(7.0 / view.scale());
    pixmap.pixels_mut().par_chunks_mut(width).enumerate().for_each(|(row, pixels)| {
        for (column, pixel) in pixels.iter_mut().enumerate() {
            let i = row * width + column;
            let on_board = at(&cover.board, i);
            let standing = at(&cover.standing, i);
            if carved[i] == 0 && standing == 0.0 {
                continue;
            }
            let mut ink = Ink::default();
            let cut = f32::from(carved[i]) / 255.0;
            let towards_light = (row.saturating_sub(reach) * width) + column.saturating_sub(reach);
            let near_light = (row.saturating_sub(1) * width) + column.saturating_sub(1);
            let away = (row + 1).min(height - 1) * width + (column + 1).min(width - 1);
            if cut > 0.0 {
                let screen = dvec2(column as f64 + 0.5, row as f64 + 0.5);
                let place = board_from_screen.transform_point2(screen) / pitch;
                let sunk = at(&cover.sunk, i) * on_board;
                let incised = at(&cover.incised, i) * on_board;
                let pierced = at(&cover.pierced, i) * on_board;
                let ground = (cut - sunk - incised - pierced).max(0.0);
                ink.lay(GROUND, ground * (0.36 + 0.30 * dot(place)));
                ink.lay(SUNK, sunk * (0.56 + 0.26 * slant(place)));
                if let (true, Some(flank)) = (incised > 0.0, &flank) {
                    let deep = f32::from(flank[i]) / 255.0;
                    let slope = (f32::from(flank[away]) - f32::from(flank[near_light])) / 255.0;
                    ink.lay(INCISED, incised * (0.30 + 0.62 * deep * deep).min(0.9));
                    ink.lay(LIGHT, incised * (-slope * reach as f32 * 1.2).clamp(0.0, 0.45));
                    ink.lay(DARK, incised * (slope * reach as f32 * 1.2).clamp(0.0, 0.45));
                }
                if pierced > 0.0 {
                    ink.lay([bench.red(), bench.green(), bench.blue()], pierced);
                    ink.lay(DARK, pierced * 0.34 * slant(place).max(slant(dvec2(-place.x, place.y))));
                }
                let shadow = 1.0 - f32::from(soft[towards_light]) / 255.0;
                ink.lay(DARK, cut * shadow * if pierced > 0.5 { 0.30 } else { 0.50 });
            }
            if standing > 0.0 {
                // Wood that stands off the board cannot be carved: shown, but as a ghost.
                ink.lay(GHOST, standing * (1.0 - on_board) * 0.35);
                ink.lay(LIGHT, standing * on_board * 0.16);
                let lit = f32::from(carved[near_light]) / 255.0;
                let dim = f32::from(carved[away]) / 255.0;
                ink.lay(LIGHT, standing * on_board * lit * 0.6);
                ink.lay(DARK, standing * on_board * dim * 0.30);
            }
            *pixel = ink.pixel();
        }
    });
}

const GROUND: [u8; 3] = [0x50, 0x30, 0x16];
const SUNK: [u8; 3] = [0x3A, 0x22, 0x10];
const INCISED: [u8; 3] = [0x2E, 0x1A, 0x0C];
const DARK: [u8; 3] = [0x1C, 0x10, 0x08];
const LIGHT: [u8; 3] = [0xFF, 0xF6, 0xE2];
const GHOST: [u8; 3] = [0x60, 0x60, 0x66];

/// Colour laid over nothing, premultiplied, 0 to 1.
#[derive(Default)]
struct Ink {
    rgb: [f32; 3],
    alpha: f32,
}

impl Ink {
    fn lay(&mut self, rgb: [u8; 3], alpha: f32) {
        for (channel, new) in self.rgb.iter_mut().zip(rgb) {
            *channel = *channel * (1.0 - alpha) + f32::from(new) / 255.0 * alpha;
        }
        self.alpha = self.alpha * (1.0 - alpha) + alpha;
    }

    fn pixel(&self) -> PremultipliedColorU8 {
        let byte = |v: f32| (v * 255.0).round().clamp(0.0, 255.0) as u8;
        let alpha = byte(self.alpha);
        let [r, g, b] = self.rgb.map(|v| byte(v).min(alpha));
        PremultipliedColorU8::from_rgba(r, g, b, alpha).unwrap_or(PremultipliedColorU8::TRANSPARENT)
    }
}

/// Rows of dots, every other row half a pitch on: 1 in a dot, 0 between. In pitches.
fn dot(place: DVec2) -> f32 {
    let row = place.y.floor();
    let shift = if row.rem_euclid(2.0) < 1.0 { 0.0 } else { 0.5 };
    let off = dvec2((place.x + shift).rem_euclid(1.0) - 0.5, place.y - row - 0.5).length();
    // 0.22 of a pitch across, softened by as much again.
    ((0.36 - off) / 0.16).clamp(0.0, 1.0) as f32
}

/// Lines at 45 degrees: 1 on a line, 0 between. In pitches.
fn slant(place: DVec2) -> f32 {
    let across = ((place.x + place.y) * 0.6).rem_euclid(1.0);
    ((0.5 - (across - 0.5).abs() - 0.28) / 0.14).clamp(0.0, 1.0) as f32
}

/// The mean over a square of `2 reach + 1` pixels, edges repeated. `O(pixels)`.
fn blurred(image: &[u8], width: usize, height: usize, reach: usize) -> Vec<u8> {
    let window = (2 * reach + 1) as u32;
    let last = width - 1;
    let mut rows = vec![0u8; image.len()];
    rows.par_chunks_mut(width).zip(image.par_chunks(width)).for_each(|(to, from)| {
        let value = |i: usize| u32::from(from[i.min(last)]);
        let mut sum = value(0) * (reach as u32 + 1) + (1..=reach).map(value).sum::<u32>();
        for (i, to) in to.iter_mut().enumerate() {
            *to = (sum / window) as u8;
            sum = sum + value(i + reach + 1) - value(i.saturating_sub(reach));
        }
    });
    // Down the columns all at once, a row at a time, so that memory is read in its own order.
    let row = |index: usize| &rows[index.min(height - 1) * width..][..width];
    let mut sums: Vec<u32> = row(0).iter().map(|&v| u32::from(v) * (reach as u32 + 1)).collect();
    for index in 1..=reach {
        sums.iter_mut().zip(row(index)).for_each(|(sum, &v)| *sum += u32::from(v));
    }
    let mut columns = vec![0u8; image.len()];
    for (index, to) in columns.chunks_mut(width).enumerate() {
        let (coming, going) = (row(index + reach + 1), row(index.saturating_sub(reach)));
        for (((to, sum), &coming), &going) in to.iter_mut().zip(&mut sums).zip(coming).zip(going) {
            *to = (*sum / window) as u8;
            *sum = *sum + u32::from(coming) - u32::from(going);
        }
    }
    columns
}

/// A fine line round every element, dashed where it is left uncarved.
fn outline(pixmap: &mut Pixmap, job: &Job, paths: &DesignPaths, screen_from_paths: DAffine2) {
    let scale = screen_from_paths.matrix2.x_axis.length() as f32;
    if scale <= 0.0 || scale.is_nan() {
        return;
    }
    for (index, element) in paths.elements.iter().enumerate() {
        let Some(path) = &element.path else { continue };
        let (width, alpha, dash) = match treatment(job, index) {
            Treatment::Left => (1.2, 0.9, StrokeDash::new(vec![5.0 / scale, 4.0 / scale], 0.0)),
            Treatment::Pierced => (1.8, 0.95, None),
            _ => (1.0, 0.6, None),
        };
        let stroke = Stroke { width: width / scale, dash, ..Stroke::default() };
        pixmap.stroke_path(
            path,
            &solid(color(0x1C1008, alpha)),
            &stroke,
            painter_transform(screen_from_paths),
            None,
        );
    }
}

pub(super) fn polygon(points: &[DVec2]) -> Option<Path> {
    if points.len() < 3 {
        return None;
    }
    let mut path = PathBuilder::new();
    push_ring(&mut path, points.iter().map(|point| point.as_vec2()));
    path.finish()
}

/// Adds a closed ring to a path.
pub(super) fn push_ring(path: &mut PathBuilder, ring: impl IntoIterator<Item = Vec2>) {
    for (index, p) in ring.into_iter().enumerate() {
        if index == 0 {
            path.move_to(p.x, p.y);
        } else {
            path.line_to(p.x, p.y);
        }
    }
    path.close();
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_blur_is_the_mean_of_a_square() {
        let (width, height, reach) = (11, 9, 2);
        let image: Vec<u8> = (0..width * height).map(|i| (i * 89 % 251) as u8).collect();
        let quick = blurred(&image, width, height, reach);
        let near = |at: usize, most: usize| {
            (0..=2 * reach).map(move |i| (at + i).saturating_sub(reach).min(most - 1))
        };
        for row in 0..height {
            for column in 0..width {
                let rows = near(row, height).flat_map(|r| near(column, width).map(move |c| r * width + c));
                let mean = rows.map(|i| f64::from(image[i])).sum::<f64>() / 25.0;
                let found = f64::from(quick[row * width + column]);
                // Each of the two passes rounds down.
                assert!(found <= mean && found > mean - 2.0, "{row} {column}: {found}, not {mean}");
            }
        }
    }

    #[test]
    fn a_blur_keeps_flat_places_flat() {
        assert_eq!(blurred(&[9; 35], 7, 5, 3), vec![9; 35]);
        assert_eq!(blurred(&[200], 1, 1, 4), vec![200]);
    }
}
