//! Typefaces: the fonts of the machine and two that come with the program, and a line of words as glyph
//! outlines.
//!
//! One way to outlines for all words: those to be carved, those on pictures and those on the coupon's key.

use super::DrawingNotice;
use super::collections;
use crate::notice::Notices;
use harfrust::{Direction, Feature, ShapeOptions, ShaperData, Tag, UnicodeBuffer};
use kurbo::{Affine, BezPath, PathEl, Rect, Shape as _};
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::raw::TableProvider as _;
use skrifa::raw::tables::glyf::Glyph as Outlined;
use skrifa::{FontRef, GlyphId, MetadataProvider as _};
use std::borrow::Cow;
use std::sync::{Arc, OnceLock};
use unicode_bidi::BidiInfo;
use usvg::fontdb;

/// The typeface that words are set in where none is named; its licence is the Ubuntu Font Licence.
pub const BUILT_IN: &str = "Ubuntu Light";

/// The most glyphs that one is put together from.
const MOST_PARTS: usize = 500;

/// The typefaces that can be chosen.
pub struct Fonts {
    database: Arc<fontdb::Database>,
    /// Sorted, none twice.
    names: Vec<(String, fontdb::ID)>,
}

/// One typeface, ready to set words in.
pub struct Face<'a> {
    data: Cow<'a, [u8]>,
    index: u32,
    /// Font units to the em.
    em: f64,
    /// Height of a capital, in font units.
    cap_height: f64,
}

/// A letter in its place on a line, in font units with y up; the line starts at x = 0 and stands on
/// y = 0.
#[derive(Clone, Debug)]
pub struct Glyph {
    /// The letter's own outline, with its foot at the origin; empty for a blank.
    pub outline: BezPath,
    /// Where its origin is.
    pub at: [f64; 2],
    /// How far it moves the next letter on.
    pub advance: f64,
    /// Where in the words it comes from, in bytes.
    pub cluster: usize,
    /// Whether the typeface lacks the character.
    pub missing: bool,
}

/// The largest font file that is read, in bytes: a round value of our own; the largest collections take half
/// of it.
pub const MOST_FONT_BYTES: u64 = 64 << 20;

impl Fonts {
    /// Only what comes with the program: the same everywhere.
    pub fn built_in() -> Fonts {
        Fonts::of(built_in())
    }

    /// What is installed on this machine, and what comes with the program. Looked up once, which may
    /// take a second on a machine with thousands of fonts.
    pub fn of_machine() -> &'static Fonts {
        static FONTS: OnceLock<Fonts> = OnceLock::new();
        FONTS.get_or_init(|| {
            let mut database = built_in();
            collections::load_system_fonts(&mut database);
            Fonts::of(database)
        })
    }

    /// The font files given, each with its name for a notice, and what comes with the program. A file that
    /// holds no typeface is noted and passed over.
    pub fn of_files(
        files: impl IntoIterator<Item = (String, Vec<u8>)>,
        notices: &mut Notices<DrawingNotice>,
    ) -> Fonts {
        let mut database = built_in();
        for (file, bytes) in files {
            let before = database.len();
            if collections::is_whole(&bytes, bytes.len() as u64) {
                database.load_font_data(bytes);
            }
            if database.len() == before {
                notices.push(DrawingNotice::NotATypeface { file });
            }
        }
        Fonts::of(database)
    }

    fn of(database: fontdb::Database) -> Fonts {
        let mut names: Vec<(String, fontdb::ID)> =
            database.faces().filter_map(|face| Some((name_of(face)?, face.id))).collect();
        // Of faces with one name the first by its file's name is kept: the order of a folder is chance.
        let place = |id: fontdb::ID| {
            database.face(id).map(|face| {
                (face.post_script_name.clone(), format!("{:?}", source_path(&face.source)), face.index)
            })
        };
        names.sort_by_cached_key(|(name, id)| (name.to_lowercase(), place(*id)));
        names.dedup_by(|a, b| a.0.eq_ignore_ascii_case(&b.0));
        Fonts { database: Arc::new(database), names }
    }

    /// The names to choose from, in order: `DejaVu Sans`, `DejaVu Sans Bold Italic`.
    pub fn names(&self) -> impl ExactSizeIterator<Item = &str> {
        self.names.iter().map(|(name, _)| name.as_str())
    }

    /// The typeface of this name, whichever way its letters are written; `None` where there is none, or
    /// its file cannot be used.
    pub fn face(&self, name: &str) -> Option<Face<'static>> {
        let wanted = name.trim().to_lowercase();
        let (_, id) = self.names.iter().find(|(known, _)| known.to_lowercase() == wanted)?;
        self.database.with_face_data(*id, |data, index| Face::of(Cow::Owned(data.to_vec()), index))?
    }

    /// A few names that hold some of the letters asked for, for a message.
    pub fn near(&self, name: &str) -> Vec<&str> {
        let wanted = name.trim().to_lowercase();
        let start: String = wanted.chars().take(4).collect();
        let alike = |known: &str| !start.is_empty() && known.to_lowercase().contains(&start);
        let near: Vec<&str> = self.names().filter(|known| alike(known)).take(5).collect();
        if near.is_empty() { self.names().take(5).collect() } else { near }
    }

    /// The first typeface in the order of names that has an outline for this character and may go into
    /// a file; its place in that order. Looks into every font before it.
    pub fn with_character(&self, c: char) -> Option<usize> {
        let has = |data: &[u8], index: u32| {
            let Ok(font) = FontRef::from_index(data, index) else { return false };
            font.charmap().map(c).is_some_and(|glyph| font.outline_glyphs().get(glyph).is_some())
                && may_be_embedded(&font)
        };
        self.names.iter().position(|(_, id)| self.database.with_face_data(*id, has).unwrap_or(false))
    }

    /// The bytes of the font file of the typeface at a place in the order of names, and its number in it.
    pub fn file(&self, place: usize) -> Option<(Vec<u8>, u32)> {
        let (_, id) = self.names.get(place)?;
        self.database.with_face_data(*id, |data, index| (data.to_vec(), index))
    }

    /// For the reader of SVG texts.
    pub(super) fn database(&self) -> Arc<fontdb::Database> {
        Arc::clone(&self.database)
    }
}

/// Whether a font's maker lets it go into a file: restricted licence embedding is bit 1 of `fsType`, and
/// bit 9 allows pictures of letters alone (OpenType 1.9, table OS/2).
fn may_be_embedded(font: &FontRef) -> bool {
    font.os2().map_or(true, |table| table.fs_type() & 0x0202 == 0)
}

fn built_in() -> fontdb::Database {
    let mut database = fontdb::Database::new();
    for font in [epaint_default_fonts::UBUNTU_LIGHT, epaint_default_fonts::HACK_REGULAR] {
        database.load_font_data(font.to_vec());
    }
    database
}

fn source_path(source: &fontdb::Source) -> Option<&std::path::Path> {
    match source {
        fontdb::Source::File(path) | fontdb::Source::SharedFile(path, _) => Some(path),
        fontdb::Source::Binary(_) => None,
    }
}

/// Family, then what sets the face apart in it.
fn name_of(face: &fontdb::FaceInfo) -> Option<String> {
    let (family, _) = face.families.first()?;
    let weight = match face.weight.0 {
        ..=149 => " Thin",
        150..=249 => " ExtraLight",
        250..=349 => " Light",
        350..=449 => "",
        450..=549 => " Medium",
        550..=649 => " SemiBold",
        650..=749 => " Bold",
        750..=849 => " ExtraBold",
        850.. => " Black",
    };
    let width = match face.stretch {
        fontdb::Stretch::UltraCondensed | fontdb::Stretch::ExtraCondensed | fontdb::Stretch::Condensed => {
            " Condensed"
        }
        fontdb::Stretch::SemiCondensed => " SemiCondensed",
        fontdb::Stretch::Normal => "",
        _ => " Expanded",
    };
    let slope = if face.style == fontdb::Style::Normal { "" } else { " Italic" };
    let mut name = family.clone();
    for word in [width, weight, slope] {
        // Families are often called what they are already.
        if !name.to_lowercase().ends_with(&word.to_lowercase()) {
            name += word;
        }
    }
    Some(name)
}

impl Face<'static> {
    /// The typeface that comes with the program.
    pub fn built_in() -> &'static Face<'static> {
        static FACE: OnceLock<Face<'static>> = OnceLock::new();
        FACE.get_or_init(|| {
            Face::of(Cow::Borrowed(epaint_default_fonts::UBUNTU_LIGHT), 0)
                .expect("the built-in typeface is well formed")
        })
    }
}

impl<'a> Face<'a> {
    /// `None` where the data is no font with outlines.
    fn of(data: Cow<'a, [u8]>, index: u32) -> Option<Face<'a>> {
        let mut face = Face { data, index, em: 0.0, cap_height: 0.0 };
        let font = FontRef::from_index(&face.data, index).ok()?;
        let metrics = font.metrics(Size::unscaled(), LocationRef::default());
        let em = f64::from(metrics.units_per_em);
        // A flat capital is what people measure; the table's value, then what most typefaces have, where
        // there is none.
        let flat = font.charmap().map('H').map(|glyph| outline(&font, glyph).bounding_box());
        let stated = f64::from(metrics.cap_height.unwrap_or(0.0));
        let cap_height = flat.map_or(0.0, |flat| flat.y1);
        (face.em, face.cap_height) = (em, if cap_height > 0.0 { cap_height } else { stated });
        if face.cap_height <= 0.0 {
            face.cap_height = 0.7 * em;
        }
        (em > 0.0).then_some(face)
    }

    fn font(&self) -> FontRef<'_> {
        FontRef::from_index(&self.data, self.index).expect("it was parsed when the face was made")
    }

    /// Font units to the em.
    pub fn em(&self) -> f64 {
        self.em
    }

    /// Height of a flat capital, in font units.
    pub fn cap_height(&self) -> f64 {
        self.cap_height
    }

    /// Whether it has this character.
    pub fn has(&self, c: char) -> bool {
        self.font().charmap().map(c).is_some()
    }

    /// The outline of one character in font units, y up; `None` where it has none.
    pub fn character(&self, c: char) -> Option<BezPath> {
        let font = self.font();
        let outline = outline(&font, font.charmap().map(c)?);
        (!outline.elements().is_empty()).then_some(outline)
    }

    /// A line of words, shaped: kerned, with ligatures unless letters are spaced out, and whatever else
    /// the typeface asks for. Glyphs come from left to right as they are read on the line: where scripts of
    /// both directions meet, their runs are put in order by the Unicode Bidirectional Algorithm (UAX #9), and
    /// the line as a whole runs as its first strong letter does.
    pub fn line(&self, words: &str, ligatures: bool) -> Vec<Glyph> {
        let font = self.font();
        let Ok(shaping) = harfrust::FontRef::from_index(&self.data, self.index) else { return Vec::new() };
        let data = ShaperData::new(&shaping);
        let shaper = data.shaper(&shaping).build();
        let mut features = Vec::new();
        if !ligatures {
            features.extend([b"liga", b"clig"].map(|tag| Feature::new(Tag::new(tag), 0, ..)));
        }
        let bidi = BidiInfo::new(words, None);
        let mut pen = [0.0, 0.0];
        let mut glyphs = Vec::new();
        for paragraph in &bidi.paragraphs {
            let (levels, runs) = bidi.visual_runs(paragraph, paragraph.range.clone());
            for run in runs {
                let mut buffer = UnicodeBuffer::new();
                buffer.push_str(&words[run.clone()]);
                buffer.set_direction(if levels[run.start].is_rtl() {
                    Direction::RightToLeft
                } else {
                    Direction::LeftToRight
                });
                buffer.guess_segment_properties();
                let shaped = shaper.shape(buffer, ShapeOptions::new().features(&features));
                for (info, position) in shaped.glyph_infos().iter().zip(shaped.glyph_positions()) {
                    glyphs.push(Glyph {
                        outline: outline(&font, GlyphId::new(info.glyph_id)),
                        at: [pen[0] + f64::from(position.x_offset), pen[1] + f64::from(position.y_offset)],
                        advance: f64::from(position.x_advance),
                        cluster: run.start + info.cluster as usize,
                        missing: info.glyph_id == 0,
                    });
                    pen = [pen[0] + f64::from(position.x_advance), pen[1] + f64::from(position.y_advance)];
                }
            }
        }
        glyphs
    }

    /// How many glyphs it has, for tests of all of them.
    pub fn glyph_count(&self) -> u32 {
        self.font().glyph_names().num_glyphs()
    }

    /// The outline of a glyph by its number in font units, y up; empty for a blank or no glyph.
    pub fn glyph(&self, number: u32) -> BezPath {
        outline(&self.font(), GlyphId::new(number))
    }
}

/// How long a line is, in font units.
pub fn length(line: &[Glyph]) -> f64 {
    line.iter().map(|glyph| glyph.advance).sum()
}

/// The outlines of a whole line as one path; letters the typeface lacks are left out.
pub fn joined(line: &[Glyph]) -> BezPath {
    let mut path = BezPath::new();
    for glyph in line.iter().filter(|glyph| !glyph.missing) {
        let placed = Affine::translate((glyph.at[0], glyph.at[1])) * &glyph.outline;
        path.extend(placed.elements().iter().copied());
    }
    path
}

/// The box of a path's outline; `None` for a blank.
pub(super) fn ink(path: &BezPath) -> Option<Rect> {
    (!path.elements().is_empty()).then(|| path.bounding_box())
}

fn outline(font: &FontRef<'_>, glyph: GlyphId) -> BezPath {
    let mut pen = Pen(BezPath::new());
    if let Some(outline) = font.outline_glyphs().get(glyph)
        && !has_points_of_no_contour(font, glyph)
    {
        let settings = DrawSettings::unhinted(Size::unscaled(), LocationRef::default());
        // An outline that cannot be drawn leaves its gap: the rest stays readable.
        if outline.draw(settings, &mut pen).is_err() || !pen.0.is_finite() {
            return BezPath::new();
        }
    }
    pen.0
}

/// Whether each glyph of a typeface can be drawn without stopping the program: see [`has_points_of_no_contour`]. A face
/// that cannot be read is none. `O(n)` in glyphs.
pub(super) fn can_be_drawn(database: &fontdb::Database, id: fontdb::ID) -> bool {
    let each_glyph_can = |data: &[u8], index: u32| {
        FontRef::from_index(data, index).is_ok_and(|font| {
            let count = font.maxp().map_or(0, |table| table.num_glyphs());
            (0..count).all(|number| !has_points_of_no_contour(&font, GlyphId::from(number)))
        })
    };
    database.with_face_data(id, each_glyph_can).unwrap_or(false)
}

/// Whether a glyph, or one that it is put together from, has data of points and no contour for them: that is no
/// outline, and the reader of fonts stops the program over it. One of too many parts counts as such.
fn has_points_of_no_contour(font: &FontRef<'_>, glyph: GlyphId) -> bool {
    let (Ok(glyphs), Ok(places)) = (font.glyf(), font.loca(None)) else { return false };
    let mut rest = vec![glyph];
    for _ in 0..MOST_PARTS {
        let Some(glyph) = rest.pop() else { return false };
        match places.get_glyf(glyph, &glyphs) {
            Ok(Some(Outlined::Simple(simple))) if simple.num_points() == 0 => return true,
            Ok(Some(Outlined::Composite(whole))) => {
                rest.extend(whole.components().take(MOST_PARTS).map(|part| GlyphId::from(part.glyph)));
            }
            _ => {}
        }
    }
    true
}

struct Pen(BezPath);

impl OutlinePen for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.move_to((f64::from(x), f64::from(y)));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.0.line_to((f64::from(x), f64::from(y)));
    }

    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        self.0.quad_to((f64::from(cx), f64::from(cy)), (f64::from(x), f64::from(y)));
    }

    fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
        let point = |x: f32, y: f32| (f64::from(x), f64::from(y));
        self.0.push(PathEl::CurveTo(point(ax, ay).into(), point(bx, by).into(), point(x, y).into()));
    }

    fn close(&mut self) {
        self.0.close_path();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn advances_are_those_of_the_reference_shaper() {
        // HarfBuzz, by uharfbuzz 0.57.0 on the same font file.
        for (words, advance) in
            [("AVATAR", 3509.0), ("To", 1086.0), ("HHH", 2076.0), ("The Reed Inn", 5804.0)]
        {
            assert_eq!(length(&Face::built_in().line(words, true)), advance, "{words}");
        }
    }

    #[test]
    fn kerning_draws_letters_together() {
        let face = Face::built_in();
        let alone: f64 = "AV".chars().map(|c| length(&face.line(&c.to_string(), true))).sum();
        assert!(length(&face.line("AV", true)) < alone);
    }

    #[test]
    fn what_comes_with_the_program_is_listed_and_found() {
        let fonts = Fonts::built_in();
        let names: Vec<&str> = fonts.names().collect();
        assert_eq!(names, ["Hack", BUILT_IN]);
        assert!(fonts.face("hack").is_some() && fonts.face("ubuntu light ").is_some());
        assert!(fonts.face("No Such Face").is_none());
        assert!(!fonts.near("Ubun").is_empty());
        let mut notices = Notices::new();
        let fonts = Fonts::of_files([("words.txt".to_owned(), b"no font".to_vec())], &mut notices);
        assert!(fonts.names().len() == 2, "what is no font is not listed");
        let noted = DrawingNotice::NotATypeface { file: "words.txt".to_owned() };
        assert_eq!(notices.into_iter().collect::<Vec<_>>(), [noted]);
    }

    #[test]
    fn a_character_that_is_missing_says_so() {
        let line = Face::built_in().line("a\u{10ffff}", true);
        assert_eq!(line.iter().map(|glyph| glyph.missing).collect::<Vec<_>>(), [false, true]);
    }

    #[test]
    fn runs_of_both_directions_come_in_the_order_of_the_standard() {
        // Unicode Standard Annex #9, rules P2 and P3 (the first strong letter), I1 and I2 (levels, numbers
        // among them), L2 (runs turned round). The typeface has no Hebrew; the places of letters are the same.
        let seen = |words: &str| -> String {
            let line = Face::built_in().line(words, true);
            line.iter().filter_map(|glyph| words[glyph.cluster..].chars().next()).collect()
        };
        assert_eq!(seen("car \u{5d0}\u{5d1}\u{5d2} bus"), "car \u{5d2}\u{5d1}\u{5d0} bus");
        assert_eq!(seen("\u{5d0}\u{5d1} car \u{5d2}"), "\u{5d2} car \u{5d1}\u{5d0}");
        assert_eq!(seen("\u{5d0}\u{5d1} 123"), "123 \u{5d1}\u{5d0}");
        assert_eq!(seen("\u{5d0}\u{5d1}"), "\u{5d1}\u{5d0}");
        assert_eq!(seen(""), "");
    }
}
