//! Photographs, read. [`crate::sheet::photo`] straightens one of a board, [`crate::trace`] traces one of a drawing.

use crate::geometry::Homography;
use crate::notice::Notices;
use crate::whole_file::ReadError;
use glam::{DVec2, dvec2};
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder as _, ImageError};
use std::io::Cursor;
use thiserror::Error;

/// The largest photograph that is opened, in pixels: a round value of our own. Decoding takes seven bytes a
/// pixel, and stays under a gigabyte.
pub const MOST_PIXELS: u64 = 100_000_000;

/// The largest picture file that is opened, in bytes: a round value of our own, over what cameras write.
pub const MOST_PICTURE_BYTES: u64 = 128 << 20;

/// Why a photograph cannot be used.
#[derive(Debug, Error)]
pub enum PhotoError {
    /// Three of the corners lie in a line, or two in one place.
    FlatCorners,
    /// The corners do not go round the board.
    CrossedCorners,
    /// The file cannot be opened or read.
    NotRead(ReadError),
    /// It does not read as a picture.
    Unreadable(ImageError),
    /// There is no pixel in it.
    NoPixels,
    /// Too many pixels.
    TooLarge {
        /// Across.
        width: u32,
        /// Down.
        height: u32,
    },
}

/// One thing noticed about a photograph that was read all the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PhotoNotice {
    /// It does not say which way up it was taken.
    TurnUnknown,
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

    /// Decodes the bytes of a PNG, JPEG, TIFF or `WebP` file, upright: a camera that was held on its side says so in the file (Exif),
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
    pub(crate) fn at(&self, place: DVec2) -> [u8; 4] {
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

/// From a flat sheet's own millimetres, its lower left corner at the origin, to the pixels of its photograph, by
/// its corners there: lower left, lower right, upper right, upper left.
///
/// # Errors
///
/// Where the corners lie in a line or do not go round the sheet.
pub fn photo_from_sheet(size: DVec2, corners: [DVec2; 4]) -> Result<Homography, PhotoError> {
    let on_sheet = [DVec2::ZERO, dvec2(size.x, 0.0), size, dvec2(0.0, size.y)];
    // Going round, every corner turns the same way.
    let turn = |k: usize| {
        let [a, b, c] = [k, k + 1, k + 2].map(|i| corners[i % 4]);
        (b - a).perp_dot(c - b)
    };
    let map = Homography::between(on_sheet, corners).ok_or(PhotoError::FlatCorners)?;
    let turns = [turn(0), turn(1), turn(2), turn(3)];
    if turns.iter().all(|&t| t > 0.0) || turns.iter().all(|&t| t < 0.0) {
        Ok(map)
    } else {
        Err(PhotoError::CrossedCorners)
    }
}
