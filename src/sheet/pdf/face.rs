//! Words on paper: the program's own typefaces, which go into the file with the letters that are used.
//!
//! Lengths are millimetres on paper. Letters that the first typeface lacks are taken from the second; one
//! that both lack becomes an empty box, and [`missing`] names it. There is no kerning, and no order from
//! right to left.

use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};
use std::sync::LazyLock;

/// The typefaces' bytes, the first choice first.
pub(super) const FACES: [&[u8]; 2] = [epaint_default_fonts::UBUNTU_LIGHT, epaint_default_fonts::HACK_REGULAR];

/// Stands for a letter that no typeface has.
const BOX: char = '\u{25a1}';

/// Spaces that no line is broken at.
const KEPT_TOGETHER: [char; 2] = ['\u{a0}', '\u{202f}'];

/// A letter of a typeface.
#[derive(Clone, Copy, Debug)]
pub(super) struct Letter {
    /// Index into [`FACES`].
    pub(super) face: usize,
    /// Its number in that typeface.
    pub(super) glyph: u32,
    /// How far the next one stands, as a share of the height.
    pub(super) advance: f32,
}

static FONTS: LazyLock<[FontRef<'static>; 2]> =
    LazyLock::new(|| FACES.map(|bytes| FontRef::new(bytes).expect("the built-in typefaces are well formed")));

/// The letter for a character, or the empty box; `None` for what is not to be seen.
pub(super) fn letter(c: char) -> Option<Letter> {
    if c.is_control() {
        return None;
    }
    find(c).or_else(|| find(BOX))
}

fn find(c: char) -> Option<Letter> {
    FONTS.iter().enumerate().find_map(|(face, font)| {
        let glyph = font.charmap().map(c)?;
        let metrics = font.glyph_metrics(Size::new(1.0), LocationRef::default());
        Some(Letter { face, glyph: glyph.to_u32(), advance: metrics.advance_width(glyph)? })
    })
}

/// The characters of some words that no typeface here has, each once, in their order.
pub fn missing(words: &str) -> Vec<char> {
    let mut missing = Vec::new();
    for c in words.chars().filter(|&c| !c.is_control() && !c.is_whitespace()) {
        if find(c).is_none() && !missing.contains(&c) {
            missing.push(c);
        }
    }
    missing
}

/// How long a line of words is at this height of the em.
pub(super) fn width(words: &str, height: f64) -> f64 {
    words.chars().filter_map(letter).map(|letter| f64::from(letter.advance)).sum::<f64>() * height
}

/// Breaks words into lines no longer than `most`; a longer word is broken where it must be. Lines that
/// were broken by hand stay broken.
pub(super) fn wrap(words: &str, height: f64, most: f64) -> Vec<String> {
    let mut lines = Vec::new();
    for paragraph in words.lines() {
        let mut line = String::new();
        let words = paragraph.split(|c: char| c.is_whitespace() && !KEPT_TOGETHER.contains(&c));
        for word in words.filter(|word| !word.is_empty()) {
            let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
            if width(&longer, height) <= most {
                line = longer;
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            for c in word.chars() {
                line.push(c);
                if width(&line, height) > most && line.chars().count() > 1 {
                    line.pop();
                    lines.push(std::mem::replace(&mut line, c.to_string()));
                }
            }
        }
        lines.push(line);
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_fit_and_keep_every_letter() {
        let words = "The Old Mill at Nether Wallop Rhabarberbarbarabarbarbarenbartbarbier 12345";
        let lines = wrap(words, 4.0, 30.0);
        assert!(lines.iter().all(|line| width(line, 4.0) <= 30.0), "{lines:?}");
        let letters = |text: &str| text.chars().filter(|c| !c.is_whitespace()).collect::<String>();
        assert_eq!(letters(&lines.concat()), letters(words));
        assert_eq!(wrap("one\ntwo", 4.0, 100.0), ["one", "two"]);
        assert_eq!(wrap("for 1\u{202f}234\u{a0}\u{20ac}", 4.0, 18.0), ["for", "1\u{202f}234\u{a0}\u{20ac}"]);
    }

    #[test]
    fn what_no_typeface_has_is_told() {
        assert_eq!(missing("Für Frühstück 3½ × 4 Щит"), Vec::<char>::new());
        assert_eq!(missing("木の字 木"), ['木', 'の', '字']);
        assert!(width("木", 10.0) > 0.0, "an empty box takes room");
    }
}
