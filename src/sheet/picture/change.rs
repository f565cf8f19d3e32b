//! What a mend added to the standing wood and what it took away, for a look before it is applied.
//!
//! Added wood is hatched one way, wood taken away the other, each in its own colour and inside its own
//! outline: neither colour nor hatch speaks alone.

use super::carve::ring_path;
use super::wood::solid;
use super::{Picture, View, painter_transform};
use crate::geometry::{Rect, Region};
use glam::{DAffine2, DVec2};
use tiny_skia::{Color, FillRule, Mask, PathBuilder, Pixmap, Stroke, Transform};

/// Wood that stands after a mend and did not before: red, green, blue, of the palette of Okabe and Ito
/// (2008).
pub const ADDED_COLOR: [u8; 3] = [0x00, 0x72, 0xB2];
/// Wood that stood before a mend and does not after, of the same palette.
pub const TAKEN_COLOR: [u8; 3] = [0xD5, 0x5E, 0x00];

/// Pixels from one line of a hatch to the next.
const HATCH: f32 = 5.0;

/// A region ready to be hatched, about a middle of its own: the painter works in single precision.
#[derive(Clone, Debug)]
pub struct Hatched {
    path: Option<tiny_skia::Path>,
    middle: DVec2,
}

impl Hatched {
    /// Builds the path of a region. `O(edges)`.
    pub fn new(region: &Region) -> Hatched {
        let middle = region.bounds().map_or(DVec2::ZERO, Rect::center);
        let mut builder = PathBuilder::new();
        for ring in region.rings() {
            ring_path(&mut builder, ring, middle);
        }
        Hatched { path: builder.finish(), middle }
    }
}

/// Paints the change of a mend on nothing: to be laid over the carved design. `O(pixels + edges)`.
pub fn change(added: &Hatched, taken: &Hatched, board_from_design: DAffine2, view: &View) -> Picture {
    let mut pixmap = view.pixmap();
    if view.scale() > 0.0 && board_from_design.is_finite() {
        for (region, [r, g, b], rising) in [(added, ADDED_COLOR, true), (taken, TAKEN_COLOR, false)] {
            let color = Color::from_rgba8(r, g, b, 255);
            hatch(&mut pixmap, region, board_from_design, view, color, rising);
        }
    }
    pixmap.into()
}

fn hatch(
    pixmap: &mut Pixmap,
    region: &Hatched,
    board_from_design: DAffine2,
    view: &View,
    color: Color,
    rising: bool,
) {
    let Some(path) = &region.path else { return };
    let to_screen = painter_transform(
        view.screen_from_board * board_from_design * DAffine2::from_translation(region.middle),
    );
    let Some(path) = path.clone().transform(to_screen) else { return };
    // A tint under the hatch, so that a sliver narrower than the hatch still shows.
    let mut tint = color;
    tint.set_alpha(0.45);
    pixmap.fill_path(&path, &solid(tint), FillRule::Winding, Transform::identity(), None);
    slanting_lines(pixmap, &path, color, rising);
    let thin = Stroke { width: 1.5, ..Stroke::default() };
    pixmap.stroke_path(&path, &solid(color), &thin, Transform::identity(), None);
}

/// Draws the lines of a hatch inside a path on the screen.
pub(super) fn slanting_lines(pixmap: &mut Pixmap, path: &tiny_skia::Path, color: Color, rising: bool) {
    let Some(mut mask) = Mask::new(pixmap.width(), pixmap.height()) else { return };
    mask.fill_path(path, FillRule::Winding, true, Transform::identity());
    let (width, height) = (pixmap.width() as f32, pixmap.height() as f32);
    let mut lines = PathBuilder::new();
    let bounds = path.bounds();
    let (top, bottom) = (bounds.top().max(0.0), bounds.bottom().min(height));
    let reach = (bottom - top).max(0.0);
    let left = (bounds.left().max(0.0) - reach).div_euclid(HATCH) * HATCH;
    let mut x = left;
    while x < bounds.right().min(width) + reach {
        if rising {
            lines.move_to(x, bottom);
            lines.line_to(x + reach, top);
        } else {
            lines.move_to(x, top);
            lines.line_to(x + reach, bottom);
        }
        x += HATCH;
    }
    let thin = Stroke { width: 1.5, ..Stroke::default() };
    if let Some(lines) = lines.finish() {
        pixmap.stroke_path(&lines, &solid(color), &thin, Transform::identity(), Some(&mask));
    }
}
