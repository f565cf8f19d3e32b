//! Words on paper: the program's own typefaces, which go into the file with the letters that are used.
//!
//! Lengths are millimetres on paper. Letters that the first typeface lacks are taken from the second, and
//! those that both lack from the first font of this machine, by name, that has them. One that none has
//! becomes an empty box, and [`missing`] names it. There is no kerning, and no order from right to left:
//! scripts that are not read without them are taken as missing.

use super::leaf::Look;
use crate::design::face::Fonts;
use krilla::text::Font;
use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};
use std::collections::BTreeMap;
use std::sync::{LazyLock, Mutex, PoisonError};

/// The built-in typefaces' bytes, the first choice first. Letters of the second are all as wide as each other.
const BUILT_IN: [&[u8]; 2] = [epaint_default_fonts::UBUNTU_LIGHT, epaint_default_fonts::HACK_REGULAR];

/// The one of them for what is typed.
const TYPED: usize = 1;

/// Stands for a letter that no typeface has.
const BOX: char = '\u{25a1}';

/// Spaces that no line is broken at.
const KEPT_TOGETHER: [char; 2] = ['\u{a0}', '\u{202f}'];

/// Scripts whose letters join, stack or run from the right, by their Unicode blocks: set one by one as here
/// they would be wrong. Hebrew to Arabic Extended, the scripts of India, Tibetan and Myanmar, Khmer and
/// Mongolian, and the forms of Hebrew and Arabic letters.
const NOT_BY_LETTER: [(char, char); 7] = [
    ('\u{590}', '\u{8ff}'),
    ('\u{900}', '\u{dff}'),
    ('\u{f00}', '\u{109f}'),
    ('\u{1780}', '\u{18af}'),
    ('\u{fb1d}', '\u{fdff}'),
    ('\u{fe70}', '\u{fefe}'),
    ('\u{10800}', '\u{11fff}'),
];

/// Where a letter comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Source {
    /// The program's own typefaces, by their order.
    BuiltIn(usize),
    /// The machine's, by the order of their names.
    Machine(usize),
}

/// A letter of a typeface.
#[derive(Clone, Copy, Debug)]
pub(super) struct Letter {
    /// Where it comes from.
    pub(super) source: Source,
    /// Its number in that typeface.
    pub(super) glyph: u32,
    /// How far the next one stands, as a share of the height.
    pub(super) advance: f32,
}

static FONTS: LazyLock<[FontRef<'static>; 2]> = LazyLock::new(|| {
    BUILT_IN.map(|bytes| FontRef::new(bytes).expect("the built-in typefaces are well formed"))
});

impl Source {
    /// The typeface for a file; `None` where the machine's font cannot be used.
    pub(super) fn font(self) -> Option<Font> {
        match self {
            Source::BuiltIn(face) => Font::new(BUILT_IN[face].into(), 0),
            Source::Machine(place) => {
                let (bytes, index) = Fonts::of_machine().file(place)?;
                Font::new(bytes.into(), index)
            }
        }
    }
}

/// The letter for a character, or the empty box; `None` for what is not to be seen.
pub(super) fn letter(c: char) -> Option<Letter> {
    if c.is_control() {
        return None;
    }
    find(c).or_else(empty_box)
}

/// As [`letter`], of this look: what is typed is taken from the typeface whose letters are all as wide as each other.
pub(super) fn letter_as(c: char, look: Look) -> Option<Letter> {
    let typed = || letter_of(&FONTS[TYPED], c, Source::BuiltIn(TYPED)).filter(|_| !c.is_control());
    (look == Look::Typed).then(typed).flatten().or_else(|| letter(c))
}

/// The box that stands for a letter.
pub(super) fn empty_box() -> Option<Letter> {
    built_in(BOX)
}

fn find(c: char) -> Option<Letter> {
    built_in(c).or_else(|| of_machine(c))
}

fn built_in(c: char) -> Option<Letter> {
    let of = |(face, font): (usize, &FontRef)| letter_of(font, c, Source::BuiltIn(face));
    FONTS.iter().enumerate().find_map(of)
}

fn letter_of(font: &FontRef, c: char, source: Source) -> Option<Letter> {
    let glyph = font.charmap().map(c)?;
    let metrics = font.glyph_metrics(Size::new(1.0), LocationRef::default());
    Some(Letter { source, glyph: glyph.to_u32(), advance: metrics.advance_width(glyph)? })
}

/// A letter from the machine's fonts. Each is looked for once: that may open every font there is.
fn of_machine(c: char) -> Option<Letter> {
    static FOUND: Mutex<BTreeMap<char, Option<Letter>>> = Mutex::new(BTreeMap::new());
    if NOT_BY_LETTER.iter().any(|(first, last)| (*first..=*last).contains(&c)) {
        return None;
    }
    let mut found = FOUND.lock().unwrap_or_else(PoisonError::into_inner);
    *found.entry(c).or_insert_with(|| {
        let fonts = Fonts::of_machine();
        let place = fonts.with_character(c)?;
        let (bytes, index) = fonts.file(place)?;
        letter_of(&FontRef::from_index(&bytes, index).ok()?, c, Source::Machine(place))
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
    width_as(words, height, Look::Plain)
}

/// As [`width`], of words of this look.
pub(super) fn width_as(words: &str, height: f64, look: Look) -> f64 {
    let letters = words.chars().filter_map(|c| letter_as(c, look));
    letters.map(|letter| f64::from(letter.advance)).sum::<f64>() * height
}

/// Breaks words into lines no longer than `most`; a longer word is broken where it must be. Lines that
/// were broken by hand stay broken.
pub(super) fn wrap(words: &str, height: f64, most: f64) -> Vec<String> {
    let text = |line: Words| line.into_iter().map(|(text, _)| text).collect();
    let lines = |paragraph| wrap_looks(&[(paragraph, Look::Plain)], height, most);
    words.lines().flat_map(lines).map(text).collect()
}

/// Words of a line, in pieces of one look each.
pub(super) type Words = Vec<(String, Look)>;

/// As [`wrap`], of one paragraph of words of several looks.
pub(super) fn wrap_looks(paragraph: &[(&str, Look)], height: f64, most: f64) -> Vec<Words> {
    let mut lines = vec![Words::new()];
    for word in parted(paragraph) {
        let line = lines.last_mut().expect("there is a first line");
        let mut longer = line.clone();
        if !longer.is_empty() {
            append(&mut longer, " ", Look::Plain);
        }
        for (text, look) in &word {
            append(&mut longer, text, *look);
        }
        if width_of(&longer, height) <= most {
            *line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(Words::new());
        }
        for (c, look) in word.iter().flat_map(|(text, look)| text.chars().map(|c| (c.to_string(), *look))) {
            let line = lines.last_mut().expect("there is a first line");
            let whole = line.clone();
            append(line, &c, look);
            if width_of(line, height) > most && !whole.is_empty() {
                *line = whole;
                lines.push(vec![(c, look)]);
            }
        }
    }
    lines
}

/// How long some words of a line are.
pub(super) fn width_of(words: &[(String, Look)], height: f64) -> f64 {
    words.iter().map(|(text, look)| width_as(text, height, *look)).sum()
}

/// The words of a paragraph, each in pieces of one look.
fn parted(paragraph: &[(&str, Look)]) -> Vec<Words> {
    let mut words = vec![Words::new()];
    for (text, look) in paragraph {
        let parts = text.split(|c: char| c.is_whitespace() && !KEPT_TOGETHER.contains(&c));
        for (index, part) in parts.enumerate() {
            if index > 0 {
                words.push(Words::new());
            }
            if !part.is_empty() {
                append(words.last_mut().expect("there is a first word"), part, *look);
            }
        }
    }
    words.retain(|word| !word.is_empty());
    words
}

fn append(words: &mut Words, text: &str, look: Look) {
    match words.last_mut() {
        Some((last, of)) if *of == look => last.push_str(text),
        _ => words.push((text.to_owned(), look)),
    }
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
        // No character at all, and scripts that are not set letter by letter.
        assert_eq!(missing("\u{10fffd} שלום \u{10fffd}"), ['\u{10fffd}', 'ש', 'ל', 'ו', 'ם']);
        assert!(width("\u{10fffd}", 10.0) > 0.0, "an empty box takes room");
        // Where the machine has a font for it, it is a letter like others; where not, it is told.
        let tree = letter('木').unwrap();
        assert_eq!(matches!(tree.source, Source::Machine(_)), missing("木").is_empty());
    }
}
