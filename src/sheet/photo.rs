//! A photograph of the real board, straightened and at true scale.
//!
//! A camera maps the flat face of a board to its picture by a homography: eight numbers, fixed by four
//! corners (Hartley and Zisserman, *Multiple View Geometry in Computer Vision*, ch. 4, the direct linear
//! transformation with its last number set to 1; from memory). A lens that bends straight lines is not
//! corrected: the middle of such a picture is off by what its edges bow.

use super::picture::{Picture, View};
use crate::notice::Notices;
use crate::shop::{Board, BoardPhoto, MOST_PIXELS, PhotoError, PhotoNotice};
use glam::{DVec2, dvec2};
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder as _, ImageError};
use rayon::prelude::*;
use std::io::Cursor;

/// The longest side of a straightened picture, in pixels.
pub const LONGEST_SIDE: u32 = 8192;

/// The largest picture file that is opened, in bytes: a round value of our own, over what cameras write.
pub const MOST_PICTURE_BYTES: u64 = 128 << 20;

/// A projective map of the plane, `[a b c; d e f; g h 1]`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Homography {
    rows: [[f64; 3]; 3],
}

impl Homography {
    /// The map that takes each of `from` to the one of `to` at the same place in the list; `None` where
    /// three of either lie in a line.
    ///
    /// ```
    /// use glam::dvec2;
    /// use spelk::sheet::photo::Homography;
    /// let square = [dvec2(0.0, 0.0), dvec2(1.0, 0.0), dvec2(1.0, 1.0), dvec2(0.0, 1.0)];
    /// let moved = square.map(|corner| corner * 3.0 + dvec2(5.0, 7.0));
    /// let map = Homography::between(square, moved).unwrap();
    /// assert!((map.of(dvec2(0.5, 0.5)) - dvec2(6.5, 8.5)).length() < 1e-12);
    /// ```
    pub fn between(from: [DVec2; 4], to: [DVec2; 4]) -> Option<Homography> {
        if flat(&from) || flat(&to) {
            return None;
        }
        // Two equations a corner: u (g x + h y + 1) = a x + b y + c, and the same for v.
        let mut equations = [[0.0; 9]; 8];
        for (index, (p, q)) in from.into_iter().zip(to).enumerate() {
            equations[2 * index] = [p.x, p.y, 1.0, 0.0, 0.0, 0.0, -q.x * p.x, -q.x * p.y, q.x];
            equations[2 * index + 1] = [0.0, 0.0, 0.0, p.x, p.y, 1.0, -q.y * p.x, -q.y * p.y, q.y];
        }
        let [a, b, c, d, e, f, g, h] = solved(equations)?;
        Some(Homography { rows: [[a, b, c], [d, e, f], [g, h, 1.0]] })
    }

    /// Where a point goes. Not finite for a point on the horizon.
    pub fn of(&self, point: DVec2) -> DVec2 {
        let row = |row: [f64; 3]| row[0] * point.x + row[1] * point.y + row[2];
        let [u, v, w] = self.rows.map(row);
        dvec2(u / w, v / w)
    }
}

/// Whether any three of four points lie in a line, to a millionth of their spread.
fn flat(points: &[DVec2; 4]) -> bool {
    let spread = points.iter().map(|p| p.distance_squared(points[0])).fold(0.0, f64::max);
    let area = |i: usize, j: usize, k: usize| (points[j] - points[i]).perp_dot(points[k] - points[i]).abs();
    let least = [area(0, 1, 2), area(0, 1, 3), area(0, 2, 3), area(1, 2, 3)];
    // Written so that a NaN counts as flat.
    !least.iter().all(|&area| area > spread * 1e-6)
}

/// Solves eight equations in eight unknowns by elimination with row exchange; `None` where they do not
/// settle them.
fn solved(mut m: [[f64; 9]; 8]) -> Option<[f64; 8]> {
    for column in 0..8 {
        let pivot = (column..8).max_by(|&i, &j| m[i][column].abs().total_cmp(&m[j][column].abs()))?;
        m.swap(column, pivot);
        let head = m[column];
        if head[column] == 0.0 || !head[column].is_finite() {
            return None;
        }
        for row in m.iter_mut().skip(column + 1) {
            let share = row[column] / head[column];
            for (value, above) in row.iter_mut().zip(head).skip(column) {
                *value -= share * above;
            }
        }
    }
    let mut x = [0.0; 8];
    for row in (0..8).rev() {
        let known: f64 = (row + 1..8).map(|k| m[row][k] * x[k]).sum();
        x[row] = (m[row][8] - known) / m[row][row];
    }
    x.iter().all(|value| value.is_finite()).then_some(x)
}

/// From board space to the photograph's pixels, by the corners in the order of [`BoardPhoto::corners`].
///
/// # Errors
///
/// Where the corners lie in a line or do not go round the board.
pub fn photo_from_board(board: &Board, corners: [DVec2; 4]) -> Result<Homography, PhotoError> {
    let (length, width) = (board.length.get(), board.width.get());
    let on_board = [DVec2::ZERO, dvec2(length, 0.0), dvec2(length, width), dvec2(0.0, width)];
    // Going round, every corner turns the same way.
    let turn = |k: usize| {
        let [a, b, c] = [k, k + 1, k + 2].map(|i| corners[i % 4]);
        (b - a).perp_dot(c - b)
    };
    let map = Homography::between(on_board, corners).ok_or(PhotoError::FlatCorners)?;
    let turns = [turn(0), turn(1), turn(2), turn(3)];
    if turns.iter().all(|&t| t > 0.0) || turns.iter().all(|&t| t < 0.0) {
        Ok(map)
    } else {
        Err(PhotoError::CrossedCorners)
    }
}

/// A decoded photograph: 8-bit RGBA, not premultiplied, rows from the top.
#[derive(Clone, Debug, PartialEq)]
pub struct Photo {
    width: u32,
    height: u32,
    pixels: Vec<u8>,
}

impl Photo {
    /// A photograph from its pixels; `None` where there are not four bytes for each of them.
    pub fn new(width: u32, height: u32, pixels: Vec<u8>) -> Option<Photo> {
        let whole = pixels.len() as u64 == u64::from(width) * u64::from(height) * 4 && !pixels.is_empty();
        whole.then_some(Photo { width, height, pixels })
    }

    /// Decodes the bytes of a PNG or JPEG file, upright: a camera that was held on its side says so in the file (Exif),
    /// and pixels and marked corners are those of the picture as it was meant.
    ///
    /// # Errors
    ///
    /// Where the bytes are no picture of these kinds, are damaged, or hold more than [`MOST_PIXELS`].
    pub fn read(bytes: &[u8], notices: &mut Notices<PhotoNotice>) -> Result<Photo, PhotoError> {
        let reader = || {
            image::ImageReader::new(Cursor::new(bytes))
                .with_guessed_format()
                .map_err(|error| PhotoError::Unreadable(ImageError::IoError(error)))
        };
        let (width, height) = reader()?.into_dimensions().map_err(PhotoError::Unreadable)?;
        if u64::from(width) * u64::from(height) > MOST_PIXELS {
            return Err(PhotoError::TooLarge { width, height });
        }
        let mut decoder = reader()?.into_decoder().map_err(PhotoError::Unreadable)?;
        // What it says of its side is no reason to refuse it, if that cannot be read.
        let side = decoder.orientation().unwrap_or_else(|_unreadable| {
            notices.push(PhotoNotice::TurnUnknown);
            Orientation::NoTransforms
        });
        let mut decoded = DynamicImage::from_decoder(decoder).map_err(PhotoError::Unreadable)?;
        decoded.apply_orientation(side);
        let decoded = decoded.into_rgba8();
        let (width, height) = decoded.dimensions();
        Photo::new(width, height, decoded.into_raw()).ok_or(PhotoError::NoPixels)
    }

    /// A copy whose longer side is at most so many pixels: itself, where it is small enough.
    /// `O(pixels)`.
    #[must_use]
    pub fn shrunk(&self, longest: u32) -> Photo {
        let most = self.width.max(self.height);
        if most <= longest.max(1) {
            return self.clone();
        }
        let share = f64::from(longest.max(1)) / f64::from(most);
        let [width, height] =
            [self.width, self.height].map(|side| whole((f64::from(side) * share).round()).max(1));
        let image = image::RgbaImage::from_raw(self.width, self.height, self.pixels.clone())
            .expect("four bytes for each pixel");
        let small = image::imageops::thumbnail(&image, width, height);
        Photo { width, height, pixels: small.into_raw() }
    }

    /// Red, green, blue and alpha of every pixel, not premultiplied, rows from the top.
    pub fn pixels(&self) -> &[u8] {
        &self.pixels
    }

    /// Pixels across and down.
    pub fn size(&self) -> [u32; 2] {
        [self.width, self.height]
    }

    /// The colour at a place in pixels (the middle of the first pixel is at 0.5, 0.5), blended from the
    /// four pixels round it; nothing outside. Premultiplied by alpha.
    fn at(&self, place: DVec2) -> [u8; 4] {
        let (w, h) = (f64::from(self.width), f64::from(self.height));
        // Written so that a NaN is outside.
        if !(place.x >= 0.0 && place.y >= 0.0 && place.x <= w && place.y <= h) {
            return [0; 4];
        }
        let (x, y) = ((place.x - 0.5).clamp(0.0, w - 1.0), (place.y - 0.5).clamp(0.0, h - 1.0));
        let (x0, y0) = (x.floor(), y.floor());
        let pixel = |dx: f64, dy: f64| {
            let (column, row) =
                (whole((x0 + dx).min(w - 1.0)) as usize, whole((y0 + dy).min(h - 1.0)) as usize);
            let start = (row * self.width as usize + column) * 4;
            let alpha = f64::from(self.pixels[start + 3]) / 255.0;
            [0, 1, 2, 3].map(|k| f64::from(self.pixels[start + k]) * if k < 3 { alpha } else { 1.0 })
        };
        let (u, v) = (x - x0, y - y0);
        let corners = [pixel(0.0, 0.0), pixel(1.0, 0.0), pixel(0.0, 1.0), pixel(1.0, 1.0)];
        let shares = [(1.0 - u) * (1.0 - v), u * (1.0 - v), (1.0 - u) * v, u * v];
        [0, 1, 2, 3]
            .map(|k| whole(corners.iter().zip(shares).map(|(c, s)| c[k] * s).sum::<f64>().round()) as u8)
    }
}

/// A whole number of pixels, or a colour; 0 for what is negative.
#[expect(clippy::cast_sign_loss, reason = "held to 0 or more")]
fn whole(value: f64) -> u32 {
    value.max(0.0) as u32
}

/// The board as seen straight from above, `per_mm` pixels to a millimetre: the reference edge below, the
/// left end at the left. A board that would be more than [`LONGEST_SIDE`] pixels long is drawn coarser.
/// `O(pixels)`.
///
/// # Errors
///
/// Where the corners lie in a line or do not go round the board.
pub fn straightened(
    photo: &Photo,
    corners: [DVec2; 4],
    board: &Board,
    per_mm: f64,
) -> Result<Picture, PhotoError> {
    let map = photo_from_board(board, corners)?;
    let (length, width) = (board.length.get(), board.width.get());
    let scale = per_mm.max(1e-6).min(f64::from(LONGEST_SIDE) / length.max(width));
    let count = |side: f64| whole((side * scale).round()).clamp(1, LONGEST_SIDE);
    let (columns, rows) = (count(length), count(width));
    let board_at = |x: u32, y: u32| {
        let share =
            dvec2((f64::from(x) + 0.5) / f64::from(columns), 1.0 - (f64::from(y) + 0.5) / f64::from(rows));
        share * dvec2(length, width)
    };
    Ok(sampled(photo, map, [columns, rows], board_at))
}

/// The photograph laid under a view of the board: pixels of the board are the photograph's, the rest is
/// empty. To stand in for the drawn wood. `O(pixels)`.
///
/// # Errors
///
/// Where the corners lie in a line or do not go round the board.
pub fn layer(photo: &Photo, corners: [DVec2; 4], board: &Board, view: &View) -> Result<Picture, PhotoError> {
    let map = photo_from_board(board, corners)?;
    let size = view.size.map(|side| side.clamp(1, LONGEST_SIDE));
    let board_from_screen = if view.scale() > 0.0 {
        view.screen_from_board.inverse()
    } else {
        glam::DAffine2::from_translation(DVec2::MAX)
    };
    let board_at =
        |x: u32, y: u32| board_from_screen.transform_point2(dvec2(f64::from(x) + 0.5, f64::from(y) + 0.5));
    Ok(sampled(photo, map, size, |x, y| {
        let at = board_at(x, y);
        let on_board = at.min_element() >= 0.0 && at.x <= board.length.get() && at.y <= board.width.get();
        if on_board { at } else { DVec2::NAN }
    }))
}

/// A picture whose every pixel shows the photograph at the place on the board it stands for.
fn sampled(
    photo: &Photo,
    photo_from_board: Homography,
    [width, height]: [u32; 2],
    board_at: impl Fn(u32, u32) -> DVec2 + Sync,
) -> Picture {
    let mut pixels = vec![0; width as usize * height as usize * 4];
    pixels.par_chunks_mut(width as usize * 4).enumerate().for_each(|(y, row)| {
        for (x, pixel) in row.chunks_exact_mut(4).enumerate() {
            pixel.copy_from_slice(&photo.at(photo_from_board.of(board_at(x as u32, y as u32))));
        }
    });
    Picture { width, height, pixels }
}

impl BoardPhoto {
    /// The marked corners as points of the photograph.
    pub fn corner_points(&self) -> [DVec2; 4] {
        self.corners.map(DVec2::from_array)
    }
}
