//! The blemishes marked on a board: the place itself, dark, and the clearance round it, pale and hatched.

use super::change::slanting_lines;
use super::wood::{color, solid};
use super::{Picture, View, on_screen};
use crate::sheet::lettering::{Align, Lettering};
use crate::shop::{Blemish, BlemishShape, Board};
use glam::{DVec2, dvec2};
use tiny_skia::{FillRule, LineCap, LineJoin, Path, PathBuilder, Pixmap, Rect, Stroke, Transform};

/// The least width a line is drawn with, in pixels.
const LINE: f32 = 2.5;

/// Paints the blemishes of a board on nothing: to be laid over the wood, or over a photograph of it.
/// `O(blemishes)`.
pub fn blemishes(board: &Board, view: &View) -> Picture {
    let mut pixmap = view.pixmap();
    paint_blemishes(&mut pixmap, board, view);
    pixmap.into()
}

pub(super) fn paint_blemishes(pixmap: &mut Pixmap, board: &Board, view: &View) {
    if view.scale() == 0.0 {
        return;
    }
    for blemish in &board.blemishes {
        let Some(path) = outline(blemish, view) else { continue };
        let clearance = (2.0 * blemish.clearance.get().max(0.0) * view.scale()) as f32;
        let round = Stroke {
            width: clearance.max(LINE),
            line_join: LineJoin::Round,
            line_cap: LineCap::Round,
            ..Stroke::default()
        };
        // A stroke twice as wide as the clearance reaches out by the clearance, with round corners.
        if clearance > LINE {
            let pale = solid(color(0x3A1C0A, 0.22));
            pixmap.stroke_path(&path, &pale, &round, Transform::identity(), None);
            if let Some(reach) = path.stroke(&round, 1.0) {
                slanting_lines(pixmap, &reach, color(0x3A1C0A, 0.45), false);
            }
        }
        let dark = solid(color(0x2A1206, 0.78));
        pixmap.fill_path(&path, &dark, FillRule::Winding, Transform::identity(), None);
        let line = Stroke { width: LINE, ..round };
        pixmap.stroke_path(&path, &dark, &line, Transform::identity(), None);
        name(pixmap, blemish, view);
    }
}

/// The kind's name in the middle of a place that has room for it, or else beside it.
fn name(pixmap: &mut Pixmap, blemish: &Blemish, view: &View) {
    let lettering = Lettering::new(12.0);
    let words = blemish.kind.label();
    let [x, y] = on_screen(view, blemish.middle());
    let reach = (blemish.bounds().size() * view.scale() * 0.5).as_vec2();
    let within = lettering.width(words) + 6.0 < reach.x * 2.0
        && lettering.line_height() < reach.y * 2.0
        && !matches!(blemish.shape, BlemishShape::Line { .. });
    let ink = if within { color(0xFFF4E0, 1.0) } else { color(0x2A1206, 1.0) };
    let (at, align) = if within { (x, Align::Middle) } else { (x + reach.x + 6.0, Align::Start) };
    if at.is_finite() && y.is_finite() {
        lettering.draw(pixmap, words, [at, y + lettering.cap_height() / 2.0], align, ink);
    }
}

/// The shape on the screen; `None` where it has no place there.
fn outline(blemish: &Blemish, view: &View) -> Option<Path> {
    let point = |at: DVec2| on_screen(view, at);
    // Far outside the picture there is nothing to see, and the painter's numbers run out.
    let [w, h] = view.size.map(f64::from);
    let scale = view.scale();
    let grown = blemish.bounds().grown(blemish.clearance.get().max(0.0));
    let (low, high) = (point(grown.min), point(grown.max));
    let most = 4.0 * w.max(h) as f32;
    if [low, high].iter().flatten().any(|v| !v.is_finite() || v.abs() > most.max(20_000.0)) {
        return None;
    }
    match blemish.shape {
        BlemishShape::Circle { diameter, .. } => {
            let [x, y] = point(blemish.middle());
            let radius = (diameter.get() * scale * 0.5).max(1.0) as f32;
            PathBuilder::from_circle(x, y, radius)
        }
        BlemishShape::Rectangle { .. } => {
            let own = blemish.bounds();
            let ([left, bottom], [right, top]) = (point(own.min), point(own.max));
            Some(PathBuilder::from_rect(Rect::from_ltrb(left, top, right, bottom)?))
        }
        BlemishShape::Line { from, to } => {
            let [a, b] = [from, to].map(|[x, y]| point(dvec2(x.get(), y.get())));
            let mut path = PathBuilder::new();
            path.move_to(a[0], a[1]);
            path.line_to(b[0], b[1]);
            path.finish()
        }
    }
}
