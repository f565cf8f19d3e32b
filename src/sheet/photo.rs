//! A photograph of the real board, straightened and at true scale.
//!
//! A camera maps the flat face of a board to its picture by a homography: eight numbers, fixed by four
//! corners. A lens that bends straight lines is not corrected: the middle of such a picture is off by what its
//! edges bow.

use super::picture::{Picture, View};
use crate::geometry::Homography;
use crate::shop::{Board, BoardPhoto, Photo, PhotoError, photo_from_sheet};
use glam::{DVec2, dvec2};
use rayon::prelude::*;

/// The longest side of a straightened picture, in pixels.
pub const LONGEST_SIDE: u32 = 8192;

/// From board space to the photograph's pixels, by the corners in the order of [`BoardPhoto::corners`].
///
/// # Errors
///
/// Where the corners lie in a line or do not go round the board.
pub fn photo_from_board(board: &Board, corners: [DVec2; 4]) -> Result<Homography, PhotoError> {
    photo_from_sheet(dvec2(board.length.get(), board.width.get()), corners)
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
