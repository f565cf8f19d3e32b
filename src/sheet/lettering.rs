//! Words on a picture: glyph outlines of a typeface, mostly the window's own, laid out in one line or wrapped.
//!
//! Positions are pixels with y down; a line of words stands on its baseline. A character the typeface
//! lacks leaves a gap.

use crate::design::face::{Face, joined, length};
use kurbo::PathEl;
use tiny_skia::{Color, FillRule, Paint, Path, PathBuilder, Pixmap, Transform};

/// A typeface at one size.
pub(super) struct Lettering<'a> {
    face: &'a Face<'a>,
    /// Pixels to a font unit.
    scale: f32,
    height: f32,
}

/// Where a line of words is tied to its given x.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Align {
    /// It starts there.
    Start,
    /// It is centred there.
    Middle,
    /// It ends there.
    End,
}

impl Lettering<'static> {
    /// The window's own typeface at `height` pixels to the em.
    pub(super) fn new(height: f32) -> Lettering<'static> {
        Lettering::of(Face::built_in(), height)
    }
}

impl<'a> Lettering<'a> {
    /// A typeface at `height` pixels to the em.
    pub(super) fn of(face: &'a Face<'a>, height: f32) -> Lettering<'a> {
        Lettering { face, scale: height / face.em() as f32, height }
    }

    /// Pixels from one baseline to the next.
    pub(super) fn line_height(&self) -> f32 {
        self.height * 1.3
    }

    /// Height of a capital, for centring words on a mark.
    pub(super) fn cap_height(&self) -> f32 {
        self.face.cap_height() as f32 * self.scale
    }

    /// How long a line of words is, in pixels.
    pub(super) fn width(&self, words: &str) -> f32 {
        length(&self.face.line(words, true)) as f32 * self.scale
    }

    /// Breaks words into lines no longer than `width` pixels; a single longer word keeps its own line.
    pub(super) fn wrap(&self, words: &str, width: f32) -> Vec<String> {
        let mut lines: Vec<String> = Vec::new();
        for word in words.split_whitespace() {
            if let Some(line) = lines.last_mut() {
                let longer = format!("{line} {word}");
                if self.width(&longer) <= width {
                    *line = longer;
                    continue;
                }
            }
            lines.push(word.to_owned());
        }
        lines
    }

    /// Draws a line of words standing on `y`.
    pub(super) fn draw(&self, on: &mut Pixmap, words: &str, [x, y]: [f32; 2], align: Align, color: Color) {
        let start = match align {
            Align::Start => x,
            Align::Middle => x - self.width(words) / 2.0,
            Align::End => x - self.width(words),
        };
        self.draw_placed(on, words, Transform::from_translate(start, y), color);
    }

    /// Draws a line of words that reads upwards, centred on `(x, y)`, its feet to the right of x.
    pub(super) fn draw_upwards(&self, on: &mut Pixmap, words: &str, [x, y]: [f32; 2], color: Color) {
        let turned = Transform::from_row(0.0, -1.0, 1.0, 0.0, x, y + self.width(words) / 2.0);
        self.draw_placed(on, words, turned, color);
    }

    fn draw_placed(&self, on: &mut Pixmap, words: &str, screen_from_line: Transform, color: Color) {
        if let Some(path) = self.path(words) {
            let mut paint = Paint::default();
            paint.set_color(color);
            on.fill_path(&path, &paint, FillRule::Winding, screen_from_line, None);
        }
    }

    /// The outline of a line of words that starts at the origin and stands on y = 0; `None` for blanks.
    pub(super) fn path(&self, words: &str) -> Option<Path> {
        let mut path = PathBuilder::new();
        let at = |p: kurbo::Point| (p.x as f32 * self.scale, -p.y as f32 * self.scale);
        for element in joined(&self.face.line(words, true)).elements() {
            match *element {
                PathEl::MoveTo(p) => {
                    let (x, y) = at(p);
                    path.move_to(x, y);
                }
                PathEl::LineTo(p) => {
                    let (x, y) = at(p);
                    path.line_to(x, y);
                }
                PathEl::QuadTo(a, p) => {
                    let ((ax, ay), (x, y)) = (at(a), at(p));
                    path.quad_to(ax, ay, x, y);
                }
                PathEl::CurveTo(a, b, p) => {
                    let ((ax, ay), (bx, by), (x, y)) = (at(a), at(b), at(p));
                    path.cubic_to(ax, ay, bx, by, x, y);
                }
                PathEl::ClosePath => path.close(),
            }
        }
        path.finish()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wrapped_lines_keep_every_word_and_fit() {
        let lettering = Lettering::new(16.0);
        let words = "Unsound: 7 walls are thinner than the limit, and the board is too short";
        let lines = lettering.wrap(words, 180.0);
        assert!(lines.len() > 1, "the words are longer than one line");
        assert_eq!(lines.join(" "), words);
        assert!(lines.iter().all(|line| lettering.width(line) <= 180.0), "{lines:?}");
    }

    #[test]
    fn a_word_longer_than_the_line_stands_alone() {
        assert_eq!(Lettering::new(16.0).wrap("a wheelwright b", 20.0), ["a", "wheelwright", "b"]);
    }

    #[test]
    fn the_typeface_has_every_sign_the_pictures_use() {
        let face = Lettering::new(1.0).face;
        for c in "0123456789/.,:;()-+%×°…".chars() {
            assert!(face.has(c), "no {c}");
        }
    }
}
