//! The picture of the board: what the window's canvas shows and `spelk proof --picture` writes.
//!
//! It is painted in three layers, each a [`Picture`] of its own so that the window can keep them as
//! textures and repaint only what changed: the bare [`board`], the [`carved`] design on it, and the
//! [`marks`] of the findings; and, before a mend is applied, the [`change()`] it makes. [`picture()`] puts them together with rulers, a title and the verdict.
//!
//! Spaces: *design* (millimetres as drawn, y up), *board* (millimetres, y up, origin at the corner of
//! leading end and reference edge) and *screen* (pixels, y down). Painting depends on nothing else: the
//! same input gives the same bytes.
//!
//! What it does not show: depths to scale (shadows only hint at them), chips, fuzz, or the marks of the
//! cutter. Colours never speak alone: each treatment has its own texture, each finding its own shape.

#![expect(clippy::unreadable_literal, reason = "colours are six hexadecimal digits wherever one looks")]
#![expect(
    clippy::cast_sign_loss,
    reason = "pixels and tones are clamped to what they may be before they are cast"
)]

mod blemish;
mod carve;
mod change;
mod mark;
mod page;
mod typeface;
mod wood;

pub use blemish::blemishes;
pub use carve::{DesignPaths, carved};
pub use change::{ADDED_COLOR, Hatched, TAKEN_COLOR, change};
pub use mark::{MarkShape, mark_color, mark_shape, marks};
pub use page::{batch_picture, design_on_board, page_view, photographed_picture, picture};
pub use typeface::name_in_its_typeface;
pub use wood::{board, photographed_board};

use crate::shop::Board;
use crate::units::LengthUnit;
use glam::{DAffine2, DVec2, dvec2};
use image::ImageEncoder;
use tiny_skia::{Color, IntSize, Pixmap, PixmapPaint, Transform};

/// The longest side of a picture, in pixels. More than a wall of screens shows; keeps a mistyped size
/// from asking for all the memory there is.
pub const LONGEST_SIDE: u32 = 8192;

/// Light or dark surroundings; the wood is the same on both.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Theme {
    /// Dark words on a light bench.
    #[default]
    Light,
    /// Light words on a dark bench.
    Dark,
}

/// How the board is looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// Width and height in pixels; each is taken as 1 to [`LONGEST_SIDE`].
    pub size: [u32; 2],
    /// Board millimetres (y up) to pixels (y down): a uniform scale with the y axis turned over, and a
    /// shift. A view that cannot be turned round (scale 0, not a number) shows the bare bench.
    pub screen_from_board: DAffine2,
    /// Surroundings.
    pub theme: Theme,
    /// The unit of what is written on the picture.
    pub unit: LengthUnit,
}

/// Pixels: 8-bit RGBA, premultiplied by alpha, rows from the top.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
    /// Four bytes a pixel.
    pub pixels: Vec<u8>,
}

impl View {
    /// The whole board, as large as `size` allows with `margin` pixels free all round.
    pub fn of_board(shown: &Board, size: [u32; 2], margin: f64) -> View {
        let [width, height] = size.map(|side| f64::from(side.clamp(1, LONGEST_SIDE)));
        let (length, across) = (shown.length.get().max(1e-3), shown.width.get().max(1e-3));
        let scale = ((width - 2.0 * margin) / length).min((height - 2.0 * margin) / across).max(1e-6);
        let left = (width - length * scale) / 2.0;
        let bottom = f64::midpoint(height, across * scale);
        View {
            size,
            screen_from_board: DAffine2::from_cols(
                dvec2(scale, 0.0),
                dvec2(0.0, -scale),
                dvec2(left, bottom),
            ),
            theme: Theme::default(),
            unit: LengthUnit::default(),
        }
    }

    /// Pixels to a millimetre; 0 for a view that shows nothing.
    pub fn scale(&self) -> f64 {
        let scale = self.screen_from_board.matrix2.x_axis.length();
        let usable = scale > 1e-9
            && self.screen_from_board.is_finite()
            && self.screen_from_board.matrix2.determinant() != 0.0;
        if usable { scale } else { 0.0 }
    }

    fn pixmap(&self) -> Pixmap {
        let [width, height] = self.size.map(|side| side.clamp(1, LONGEST_SIDE));
        Pixmap::new(width, height).expect("sides of 1 to 8192 pixels")
    }
}

impl Picture {
    /// The picture as a PNG file.
    ///
    /// # Panics
    /// When `pixels` was changed to another length than the sides say.
    pub fn to_png(&self) -> Vec<u8> {
        let mut straight = self.pixels.clone();
        for pixel in straight.chunks_exact_mut(4) {
            let alpha = u16::from(pixel[3]);
            if alpha > 0 && alpha < 255 {
                for channel in &mut pixel[..3] {
                    *channel = ((u16::from(*channel) * 255 + alpha / 2) / alpha).min(255) as u8;
                }
            }
        }
        let mut bytes = Vec::new();
        image::codecs::png::PngEncoder::new(&mut bytes)
            .write_image(&straight, self.width, self.height, image::ExtendedColorType::Rgba8)
            .expect("a picture's pixels match its sides, and memory takes any bytes");
        bytes
    }

    /// Lays another picture of the same size over this one.
    pub fn lay_over(&mut self, above: &Picture) {
        let (Some(mut on), Some(above)) = (self.take_pixmap(), above.clone().take_pixmap()) else { return };
        on.draw_pixmap(0, 0, above.as_ref(), &PixmapPaint::default(), Transform::identity(), None);
        *self = Picture::from(on);
    }

    /// Red, green, blue and alpha at a pixel; `None` outside.
    pub fn pixel(&self, x: u32, y: u32) -> Option<[u8; 4]> {
        if x >= self.width || y >= self.height {
            return None;
        }
        let start = (y as usize * self.width as usize + x as usize) * 4;
        self.pixels.get(start..start + 4)?.try_into().ok()
    }

    fn take_pixmap(&mut self) -> Option<Pixmap> {
        Pixmap::from_vec(std::mem::take(&mut self.pixels), IntSize::from_wh(self.width, self.height)?)
    }
}

impl From<Pixmap> for Picture {
    fn from(pixmap: Pixmap) -> Picture {
        Picture { width: pixmap.width(), height: pixmap.height(), pixels: pixmap.take() }
    }
}

/// Colours of the surroundings, chosen by eye so that the wood is the brightest warm thing in sight.
struct Surroundings {
    bench: Color,
    ink: Color,
    faint: Color,
}

impl Theme {
    fn surroundings(self) -> Surroundings {
        let rgb = |r, g, b| Color::from_rgba8(r, g, b, 255);
        match self {
            Theme::Light => Surroundings {
                bench: rgb(0xEE, 0xEF, 0xF0),
                ink: rgb(0x22, 0x22, 0x24),
                faint: rgb(0x74, 0x76, 0x7A),
            },
            Theme::Dark => Surroundings {
                bench: rgb(0x24, 0x26, 0x29),
                ink: rgb(0xEC, 0xEA, 0xE6),
                faint: rgb(0x9A, 0x9C, 0xA0),
            },
        }
    }
}

/// To the painter's own transform.
fn painter_transform(affine: DAffine2) -> Transform {
    let [a, b, c, d, e, f] = affine.to_cols_array().map(|v| v as f32);
    Transform::from_row(a, b, c, d, e, f)
}

/// A board point on the screen.
fn on_screen(view: &View, point: DVec2) -> [f32; 2] {
    view.screen_from_board.transform_point2(point).as_vec2().to_array()
}
