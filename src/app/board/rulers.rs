//! Rulers along the top and the left of the canvas, in the user's unit, from the board's corner.

use crate::app::widgets::camera::Lens;
use crate::app::widgets::look::Palette;
use crate::units::{LengthUnit, Mm};
use crate::words::window::ruler_mark;
use egui::{Align2, FontId, Painter, Pos2, Rect, Stroke, pos2};
use glam::dvec2;

/// How thick the two rulers are, in screen points.
pub(crate) const TOP: f32 = 20.0;
pub(crate) const LEFT: f32 = 36.0;

/// Which way a ruler runs.
#[derive(Clone, Copy, PartialEq)]
enum Way {
    Along,
    Across,
}

/// Paints both rulers round `canvas`, and where the pointer is on them.
pub(crate) fn paint_rulers(
    painter: &Painter,
    canvas: Rect,
    lens: Lens,
    unit: LengthUnit,
    pointer: Option<Pos2>,
    palette: &Palette,
) {
    let top = Rect::from_min_max(pos2(canvas.left(), canvas.top() - TOP), canvas.right_top());
    let left = Rect::from_min_max(pos2(canvas.left() - LEFT, canvas.top()), canvas.left_bottom());
    let corner = Rect::from_min_max(pos2(left.left(), top.top()), canvas.left_top());
    for strip in [top, left, corner] {
        painter.rect_filled(strip, 0.0, palette.panel);
    }
    painter.text(
        corner.center(),
        Align2::CENTER_CENTER,
        unit.symbol(),
        FontId::proportional(11.0),
        palette.faint,
    );
    paint_ruler(&painter.with_clip_rect(top), top, lens, unit, Way::Along, palette);
    paint_ruler(&painter.with_clip_rect(left), left, lens, unit, Way::Across, palette);
    let line = Stroke::new(1.0, palette.line);
    painter.hline(canvas.x_range(), canvas.top(), line);
    painter.vline(canvas.left(), canvas.y_range(), line);
    if let Some(at) = pointer.filter(|at| canvas.contains(*at)) {
        let mark = Stroke::new(1.5, palette.accent);
        painter.vline(at.x, top.y_range(), mark);
        painter.hline(left.x_range(), at.y, mark);
    }
}

fn paint_ruler(painter: &Painter, strip: Rect, lens: Lens, unit: LengthUnit, way: Way, palette: &Palette) {
    let (from, to) = match way {
        Way::Along => (lens.board(strip.left_top()).x, lens.board(strip.right_top()).x),
        Way::Across => (lens.board(strip.left_bottom()).y, lens.board(strip.left_top()).y),
    };
    let (major, parts) = steps(unit, lens.scale());
    let minor = major / f64::from(parts);
    let (first, last) = ((from / minor).floor() as i64, (to / minor).ceil() as i64);
    // A strip holds a few hundred marks; a wild camera must not make it millions.
    for index in first..=last.min(first + 4000) {
        let value = index as f64 * minor;
        let is_major = index.rem_euclid(i64::from(parts)) == 0;
        let is_half = parts % 2 == 0 && index.rem_euclid(i64::from(parts / 2)) == 0;
        let length = if is_major {
            9.0
        } else if is_half {
            6.0
        } else {
            3.5
        };
        let stroke = Stroke::new(1.0, if is_major { palette.ink } else { palette.faint });
        let at = lens.screen(match way {
            Way::Along => dvec2(value, 0.0),
            Way::Across => dvec2(0.0, value),
        });
        match way {
            Way::Along => painter.vline(at.x, strip.bottom() - length..=strip.bottom(), stroke),
            Way::Across => painter.hline(strip.right() - length..=strip.right(), at.y, stroke),
        };
        if is_major {
            let text = ruler_mark(unit, Mm::new(value));
            let font = FontId::proportional(11.0);
            match way {
                Way::Along => painter.text(
                    pos2(at.x + 3.0, strip.top() + 1.0),
                    Align2::LEFT_TOP,
                    text,
                    font,
                    palette.ink,
                ),
                // A number that would be cut in half is left out.
                Way::Across if at.y - 13.0 < strip.top() => continue,
                Way::Across => painter.text(
                    pos2(strip.right() - 11.0, at.y - 1.0),
                    Align2::RIGHT_BOTTOM,
                    text,
                    font,
                    palette.ink,
                ),
            };
        }
    }
}

/// The distance between numbered marks in millimetres, and how many parts it is divided into.
pub(crate) fn steps(unit: LengthUnit, points_per_mm: f64) -> (f64, u32) {
    const NUMBER_ROOM: f64 = 52.0;
    let wanted = NUMBER_ROOM / points_per_mm;
    match unit {
        LengthUnit::Millimetres => decimal_step(wanted, 1.0),
        LengthUnit::InchDecimal => decimal_step(wanted, 25.4),
        LengthUnit::InchSixteenth | LengthUnit::InchFraction | LengthUnit::InchSixtyFourth => {
            // Halves downwards; feet upwards, as a tape is marked.
            let inches = wanted / 25.4;
            let fine = (0..6).rev().map(|halvings| (1.0 / f64::from(1 << halvings), 4));
            let coarse = [(2.0, 2), (3.0, 3), (6.0, 6), (12.0, 12), (24.0, 2), (60.0, 5), (120.0, 10)];
            fine.chain(coarse)
                .find(|(step, _)| *step >= inches)
                .map_or_else(|| decimal_step(wanted, 25.4 * 12.0), |(step, parts)| (step * 25.4, parts))
        }
    }
}

fn decimal_step(wanted: f64, one: f64) -> (f64, u32) {
    let rough = wanted / one;
    let decade = 10f64.powf(rough.log10().floor());
    let (step, parts) = [(1.0, 10), (2.0, 4), (5.0, 5), (10.0, 10)]
        .into_iter()
        .map(|(m, parts)| (m * decade, parts))
        .find(|(step, _)| *step >= rough * (1.0 - 1e-9))
        .unwrap_or((rough, 1));
    (step * one, parts)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_are_where_a_rule_has_them() {
        assert_eq!(steps(LengthUnit::Millimetres, 1.0), (100.0, 10));
        assert_eq!(steps(LengthUnit::Millimetres, 10.0), (10.0, 10));
        let (step, parts) = steps(LengthUnit::InchFraction, 60.0 / 25.4);
        assert_eq!((step, parts), (25.4, 4));
        let (step, _) = steps(LengthUnit::InchFraction, 240.0 / 25.4);
        assert_eq!(step, 25.4 / 4.0);
        let (step, parts) = steps(LengthUnit::InchFraction, 5.0 / 25.4);
        assert_eq!((step, parts), (12.0 * 25.4, 12));
    }
}
