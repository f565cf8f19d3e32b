//! What drags on the board have in common.

use crate::app::widgets::look::{MARK, Palette};
use crate::units::Mm;
use egui::{Align2, FontId, Painter, Pos2, Rect, Shape, Stroke, vec2};

/// A drag this short on the screen was meant as a click.
pub(crate) const CLICK: f32 = 4.0;

/// To what a hand can mean on a screen.
pub(crate) fn rounded(v: f64) -> Mm {
    const STEP: f64 = 0.1;
    Mm::new((v / STEP).round() * STEP)
}

/// Words on a plate, their lower middle at a point.
pub(crate) fn label(painter: &Painter, at: Pos2, words: String) {
    let palette = Palette::for_theme(painter.ctx().theme());
    let galley = painter.layout_no_wrap(words, FontId::proportional(13.0), palette.ink);
    let rect = Align2::CENTER_BOTTOM.anchor_size(at, galley.size());
    painter.rect_filled(rect.expand2(vec2(5.0, 2.0)), 4.0, palette.panel);
    painter.galley(rect.min, galley, palette.ink);
}

/// A dashed line round where something would lie. What is far out of sight is cut off: it would be dashed for ever.
pub(crate) fn ghost(painter: &Painter, rect: Rect) {
    let seen = painter.clip_rect().expand(4.0);
    let corners =
        [rect.left_top(), rect.right_top(), rect.right_bottom(), rect.left_bottom(), rect.left_top()];
    let around = corners.map(|corner| corner.clamp(seen.min, seen.max));
    painter.extend(Shape::dashed_line(&around, Stroke::new(2.0, MARK), 6.0, 4.0));
}
