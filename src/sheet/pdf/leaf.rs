//! A leaf of paper as a list of marks, and how it becomes a page of the file.
//!
//! Millimetres on paper, from the upper left corner, y down. Marks are kept until the whole pamphlet is
//! known, so that every foot can say how many pages there are, and so that tests can ask whether
//! anything lies outside the paper.

use super::face::{self, Letter, Source};
use crate::geometry::Rect;
use crate::sheet::picture::Picture;
use glam::{DVec2, dvec2};
use krilla::color::luma;
use krilla::geom::{Path, PathBuilder, Point, Size, Transform};
use krilla::image::Image;
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Points of a page to a millimetre (72 to the inch).
const POINTS: f32 = 72.0 / 25.4;

/// How dark a mark is: 0 is black, 255 paper.
pub(super) type Tone = u8;

pub(super) const BLACK: Tone = 0;
pub(super) const DARK: Tone = 70;
pub(super) const GRAY: Tone = 120;
pub(super) const PALE: Tone = 190;

/// Straight lines, closed or not.
#[derive(Clone, Debug, Default)]
pub(super) struct Shape {
    pub(super) rings: Vec<Vec<DVec2>>,
    pub(super) closed: bool,
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pen {
    /// Millimetres wide.
    pub(super) width: f64,
    pub(super) tone: Tone,
    /// Lengths drawn and left out.
    pub(super) dash: Option<[f64; 2]>,
    /// Whether its ends are round: a dash without length is then a dot.
    pub(super) round: bool,
}

/// What letters look like.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Look {
    /// As most do.
    #[default]
    Plain,
    /// Heavier.
    Heavy,
    /// All as wide as each other, as they are typed.
    Typed,
}

/// A picture of straight (not premultiplied) RGBA pixels.
#[derive(Clone, Debug)]
pub(super) struct Pixels {
    pub(super) size: [u32; 2],
    pub(super) rgba: Arc<Vec<u8>>,
}

impl From<&Picture> for Pixels {
    /// Of a picture that nothing shines through.
    fn from(picture: &Picture) -> Pixels {
        Pixels { size: [picture.width, picture.height], rgba: Arc::new(picture.pixels.clone()) }
    }
}

#[derive(Clone, Debug)]
pub(super) enum Mark {
    /// A line of words that starts at `at` and stands on it.
    Words { at: DVec2, words: String, height: f64, look: Look, tone: Tone, upright: bool },
    /// An area, by the even-odd rule.
    Fill { shape: Shape, tone: Tone },
    /// Lines.
    Line { shape: Shape, pen: Pen },
    /// A picture in a box.
    Picture { pixels: Pixels, area: Rect },
    /// Marks of which only those within a shape (even-odd) are seen.
    Within { shape: Shape, marks: Vec<Mark> },
}

/// A leaf of paper.
#[derive(Clone, Debug)]
pub(super) struct Leaf {
    /// Millimetres across and down.
    pub(super) size: DVec2,
    pub(super) marks: Vec<Mark>,
}

impl Shape {
    pub(super) fn line(a: DVec2, b: DVec2) -> Shape {
        Shape { rings: vec![vec![a, b]], closed: false }
    }

    pub(super) fn ring(points: Vec<DVec2>) -> Shape {
        Shape { rings: vec![points], closed: true }
    }

    pub(super) fn rect(area: Rect) -> Shape {
        Shape::ring(area.corners().to_vec())
    }

    pub(super) fn disc(middle: DVec2, radius: f64) -> Shape {
        let point = |k: i32| middle + DVec2::from_angle(f64::from(k) * std::f64::consts::TAU / 32.0) * radius;
        Shape::ring((0..32).map(point).collect())
    }

    pub(super) fn bounds(&self) -> Option<Rect> {
        Rect::around(self.rings.iter().flatten().copied())
    }

    fn path(&self) -> Option<Path> {
        let mut path = PathBuilder::new();
        for ring in &self.rings {
            for (index, point) in ring.iter().enumerate() {
                let [x, y] = point.as_vec2().to_array();
                if index == 0 { path.move_to(x, y) } else { path.line_to(x, y) }
            }
            if self.closed && ring.len() > 1 {
                path.close();
            }
        }
        path.finish()
    }
}

impl Pen {
    pub(super) const fn new(width: f64, tone: Tone) -> Pen {
        Pen { width, tone, dash: None, round: false }
    }

    pub(super) const fn dashed(self, drawn: f64, left_out: f64) -> Pen {
        Pen { dash: Some([drawn, left_out]), ..self }
    }
}

impl Leaf {
    pub(super) fn new(size: DVec2) -> Leaf {
        Leaf { size, marks: Vec::new() }
    }

    pub(super) fn line(&mut self, a: DVec2, b: DVec2, pen: Pen) {
        self.marks.push(Mark::Line { shape: Shape::line(a, b), pen });
    }

    pub(super) fn outline(&mut self, shape: Shape, pen: Pen) {
        self.marks.push(Mark::Line { shape, pen });
    }

    pub(super) fn fill(&mut self, shape: Shape, tone: Tone) {
        self.marks.push(Mark::Fill { shape, tone });
    }

    /// Words that start at `at`.
    pub(super) fn words(&mut self, at: DVec2, words: &str, height: f64, tone: Tone) {
        self.words_as(at, words, height, Look::Plain, tone);
    }

    pub(super) fn bold(&mut self, at: DVec2, words: &str, height: f64) {
        self.words_as(at, words, height, Look::Heavy, BLACK);
    }

    /// Words of any look that start at `at`.
    pub(super) fn words_as(&mut self, at: DVec2, words: &str, height: f64, look: Look, tone: Tone) {
        let words = words.to_owned();
        self.marks.push(Mark::Words { at, words, height, look, tone, upright: false });
    }

    /// Words that end at `at`.
    pub(super) fn words_to(&mut self, at: DVec2, words: &str, height: f64, tone: Tone) {
        let start = dvec2(at.x - face::width(words, height), at.y);
        self.words(start, words, height, tone);
    }

    /// Words in the middle of `at`, standing on it, on a paper-white ground so that lines behind them
    /// do not cross them.
    pub(super) fn words_on(&mut self, at: DVec2, words: &str, height: f64, tone: Tone) {
        let half = face::width(words, height) / 2.0;
        let ground = Rect::new(at - dvec2(half + 0.5, height * 0.85), at + dvec2(half + 0.5, height * 0.25));
        self.fill(Shape::rect(ground), 255);
        self.words(dvec2(at.x - half, at.y), words, height, tone);
    }

    /// Words that read upwards, with their middle at `at` and their feet to its right.
    pub(super) fn words_up(&mut self, at: DVec2, words: &str, height: f64, tone: Tone) {
        let half = face::width(words, height) / 2.0;
        let ground = Rect::new(at - dvec2(height * 0.85, half + 0.5), at + dvec2(height * 0.25, half + 0.5));
        self.fill(Shape::rect(ground), 255);
        let words = words.to_owned();
        let at = dvec2(at.x, at.y + half);
        self.marks.push(Mark::Words { at, words, height, look: Look::Plain, tone, upright: true });
    }

    /// Words broken into lines below `top`, no longer than `most`; returns where the next line's top is.
    pub(super) fn wrapped(&mut self, at: DVec2, words: &str, height: f64, most: f64, tone: Tone) -> f64 {
        let mut top = at.y;
        for line in face::wrap(words, height, most) {
            self.words(dvec2(at.x, top + height), &line, height, tone);
            top += height * LEADING;
        }
        top
    }

    /// The box round everything that is seen; `None` for a bare leaf.
    #[cfg(test)]
    pub(super) fn inked(&self) -> Option<Rect> {
        inked(&self.marks)
    }
}

/// From one line's top to the next, in heights of the em.
pub(super) const LEADING: f64 = 1.28;

#[cfg(test)]
fn inked(marks: &[Mark]) -> Option<Rect> {
    let of = |mark: &Mark| match mark {
        Mark::Words { at, words, height, look, upright, .. } => {
            let long = face::width_as(words, *height, *look);
            Some(if *upright {
                Rect::new(*at - dvec2(*height * 0.8, long), *at + dvec2(*height * 0.2, 0.0))
            } else {
                Rect::new(*at - dvec2(0.0, *height * 0.8), *at + dvec2(long, *height * 0.2))
            })
        }
        Mark::Fill { shape, tone } => shape.bounds().filter(|_| *tone < 255),
        Mark::Line { shape, pen } => Some(shape.bounds()?.grown(pen.width / 2.0)),
        Mark::Picture { area, .. } => Some(*area),
        Mark::Within { shape, marks } => {
            let (clip, inside) = (shape.bounds()?, inked(marks)?);
            Some(Rect { min: clip.min.max(inside.min), max: clip.max.min(inside.max) })
        }
    };
    marks.iter().filter_map(of).reduce(Rect::union)
}

/// Puts leaves together into a file. The same leaves give the same bytes: no date and no random name.
pub(super) fn bind(leaves: &[Leaf], title: &str) -> Vec<u8> {
    // A font of the machine may be one that the writer of the file will not have.
    written(leaves, title, &mut Typefaces { fonts: BTreeMap::new(), with_machine: true })
        .or_else(|| written(leaves, title, &mut Typefaces { fonts: BTreeMap::new(), with_machine: false }))
        .expect("plain pages without a validator are always written")
}

/// The typefaces of a file, each once.
struct Typefaces {
    fonts: BTreeMap<Source, Option<Font>>,
    with_machine: bool,
}

impl Typefaces {
    /// A letter and its typeface, or the box that stands for it where that cannot be used.
    fn usable(&mut self, letter: Letter) -> Option<(Letter, Font)> {
        let with_machine = self.with_machine;
        let mut font = |source: Source| {
            let usable = with_machine || matches!(source, Source::BuiltIn(_));
            self.fonts.entry(source).or_insert_with(|| usable.then(|| source.font())?).clone()
        };
        if let Some(font) = font(letter.source) {
            return Some((letter, font));
        }
        let instead = face::empty_box()?;
        // As wide as the letter, which the line was laid out for.
        Some((Letter { advance: letter.advance, ..instead }, font(instead.source)?))
    }
}

fn written(leaves: &[Leaf], title: &str, typefaces: &mut Typefaces) -> Option<Vec<u8>> {
    let mut document = krilla::Document::new();
    for leaf in leaves {
        let [width, height] = (leaf.size.as_vec2() * POINTS).to_array();
        let settings = PageSettings::from_wh(width, height).expect("a leaf has a size");
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        surface.push_transform(&Transform::from_scale(POINTS, POINTS));
        draw(&mut surface, &leaf.marks, typefaces);
        surface.pop();
        surface.finish();
        page.finish();
    }
    let about = krilla::metadata::Metadata::new()
        .title(title.to_owned())
        .creator("Spelk".to_owned())
        .language("en".to_owned());
    document.set_metadata(about);
    document.finish().ok()
}

fn draw(surface: &mut Surface<'_>, marks: &[Mark], typefaces: &mut Typefaces) {
    for mark in marks {
        match mark {
            Mark::Words { at, words, height, look, tone, upright } => {
                write(surface, *at, words, *height, *look, *tone, *upright, typefaces);
            }
            Mark::Fill { shape, tone } => {
                if let Some(path) = shape.path() {
                    surface.set_stroke(None);
                    surface.set_fill(Some(filled(*tone)));
                    surface.draw_path(&path);
                }
            }
            Mark::Line { shape, pen } => {
                if let Some(path) = shape.path() {
                    surface.set_fill(None);
                    surface.set_stroke(Some(stroked(*pen)));
                    surface.draw_path(&path);
                }
            }
            Mark::Picture { pixels, area } => {
                let size = area.size().as_vec2();
                let Some(size) = Size::from_wh(size.x, size.y) else { continue };
                let [width, height] = pixels.size;
                let image = Image::from_rgba8(pixels.rgba.to_vec(), width, height);
                let [x, y] = area.min.as_vec2().to_array();
                surface.push_transform(&Transform::from_translate(x, y));
                surface.draw_image(image, size);
                surface.pop();
            }
            Mark::Within { shape, marks } => {
                if let Some(path) = shape.path() {
                    surface.push_clip_path(&path, &FillRule::EvenOdd);
                    draw(surface, marks, typefaces);
                    surface.pop();
                }
            }
        }
    }
}

fn filled(tone: Tone) -> Fill {
    Fill { paint: luma::Color::new(tone).into(), rule: FillRule::EvenOdd, ..Fill::default() }
}

fn stroked(pen: Pen) -> Stroke {
    Stroke {
        paint: luma::Color::new(pen.tone).into(),
        width: pen.width as f32,
        line_cap: if pen.round { LineCap::Round } else { LineCap::Butt },
        dash: pen.dash.map(|parts| StrokeDash { array: parts.map(|part| part as f32).to_vec(), offset: 0.0 }),
        ..Stroke::default()
    }
}

#[expect(clippy::too_many_arguments, reason = "the parts of one mark")]
fn write(
    surface: &mut Surface<'_>,
    at: DVec2,
    words: &str,
    height: f64,
    look: Look,
    tone: Tone,
    upright: bool,
    typefaces: &mut Typefaces,
) {
    surface.set_fill(Some(filled(tone)));
    // The only weight there is is a light one: a heavier one is the same with a line round it.
    let heavier = Pen::new(height * 0.045, tone);
    surface.set_stroke((look == Look::Heavy).then(|| stroked(heavier)));
    let [x, y] = at.as_vec2().to_array();
    surface.push_transform(&Transform::from_translate(x, y));
    if upright {
        surface.push_transform(&Transform::from_row(0.0, -1.0, 1.0, 0.0, 0.0, 0.0));
    }
    let mut start = 0.0;
    for Run { font, text, letters, .. } in runs(words, look, typefaces) {
        let mut from = 0;
        let glyphs: Vec<KrillaGlyph> = letters
            .iter()
            .map(|&(letter, bytes)| {
                let range = from..from + bytes;
                from += bytes;
                KrillaGlyph::new(GlyphId::new(letter.glyph), letter.advance, 0.0, 0.0, 0.0, range, None)
            })
            .collect();
        surface.draw_glyphs(Point::from_xy(start, 0.0), &glyphs, font, &text, height as f32, false);
        start += letters.iter().map(|(letter, _)| letter.advance).sum::<f32>() * height as f32;
    }
    if upright {
        surface.pop();
    }
    surface.pop();
}

/// A stretch of words in one typeface.
struct Run {
    source: Source,
    font: Font,
    text: String,
    /// Each letter with the bytes of its character.
    letters: Vec<(Letter, usize)>,
}

/// Words in stretches of one typeface each.
fn runs(words: &str, look: Look, typefaces: &mut Typefaces) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for c in words.chars() {
        let Some((letter, font)) = face::letter_as(c, look).and_then(|letter| typefaces.usable(letter))
        else {
            continue;
        };
        let piece = (letter, c.len_utf8());
        match runs.last_mut() {
            Some(run) if run.source == letter.source => {
                run.text.push(c);
                run.letters.push(piece);
            }
            _ => runs.push(Run { source: letter.source, font, text: c.to_string(), letters: vec![piece] }),
        }
    }
    runs
}
