//! Words on a picture: glyph outlines of the window's own typeface, laid out in one line or wrapped.
//!
//! Positions are pixels with y down; a line of words stands on its baseline. There is no kerning and no
//! right-to-left order: the words are Spelk's own, in English. A character the typeface lacks is left
//! out, with no gap.

use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, MetadataProvider};
use tiny_skia::{Color, FillRule, Paint, Path, PathBuilder, Pixmap, Transform};

/// The typeface at one size.
pub(super) struct Lettering {
    font: FontRef<'static>,
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

impl Lettering {
    /// The typeface at `height` pixels to the em.
    pub(super) fn new(height: f32) -> Lettering {
        let font =
            FontRef::new(epaint_default_fonts::UBUNTU_LIGHT).expect("the built-in typeface is well formed");
        Lettering { font, height }
    }

    /// Pixels from one baseline to the next.
    pub(super) fn line_height(&self) -> f32 {
        self.height * 1.3
    }

    /// Height of a capital, for centring words on a mark.
    pub(super) fn cap_height(&self) -> f32 {
        // As the typeface's own table has it; the fallback is that of most typefaces.
        let metrics = self.font.metrics(Size::new(self.height), LocationRef::default());
        metrics.cap_height.unwrap_or(self.height * 0.7)
    }

    /// How long a line of words is, in pixels.
    pub(super) fn width(&self, words: &str) -> f32 {
        let metrics = self.font.glyph_metrics(Size::new(self.height), LocationRef::default());
        let charmap = self.font.charmap();
        words.chars().filter_map(|c| metrics.advance_width(charmap.map(c)?)).sum()
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
        let metrics = self.font.glyph_metrics(Size::new(self.height), LocationRef::default());
        let (charmap, outlines) = (self.font.charmap(), self.font.outline_glyphs());
        let mut pen = Pen { path: PathBuilder::new(), x: 0.0 };
        for glyph in words.chars().filter_map(|c| charmap.map(c)) {
            if let Some(outline) = outlines.get(glyph) {
                let settings = DrawSettings::unhinted(Size::new(self.height), LocationRef::default());
                // An outline that cannot be drawn leaves its gap: the words stay readable.
                let _ = outline.draw(settings, &mut pen);
            }
            pen.x += metrics.advance_width(glyph).unwrap_or(0.0);
        }
        pen.path.finish()
    }
}

/// Gathers glyph outlines, which have y up, into a path with y down.
struct Pen {
    path: PathBuilder,
    x: f32,
}

impl OutlinePen for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.path.move_to(self.x + x, -y);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.path.line_to(self.x + x, -y);
    }

    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        self.path.quad_to(self.x + cx, -cy, self.x + x, -y);
    }

    fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
        self.path.cubic_to(self.x + ax, -ay, self.x + bx, -by, self.x + x, -y);
    }

    fn close(&mut self) {
        self.path.close();
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
        let charmap = Lettering::new(1.0).font.charmap();
        for c in "0123456789/.,:;()-+%×°…".chars() {
            assert!(charmap.map(c).is_some(), "no {c}");
        }
    }
}
