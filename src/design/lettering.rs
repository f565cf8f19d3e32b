//! Lettering: words to a [`Design`] of one element, ready to be carved.

use super::face::{BUILT_IN, Face, Fonts, Glyph, ink, length};
use super::layering::{self, FlatShape, REST, tidy};
use super::outline::{Drawing, Rings, ring_points, tolerance};
use super::{Design, DesignError, DrawingNotice, MAX_SEGMENTS};
use crate::geometry::{FillRule, Rect, nearest_on};
use crate::notice::Notices;
use crate::units::Mm;
use glam::{DVec2, dvec2};
use kurbo::{Affine, BezPath, Shape as _};
use serde::{Deserialize, Serialize};
use std::f64::consts::TAU;
use thiserror::Error;

/// The most characters set at once.
pub const MAX_CHARACTERS: usize = 2_000;

/// Words and how they are set. What a saved design keeps, so that they can be set again.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Lettering {
    /// The words; a line of them ends with `\n`.
    pub words: String,
    /// The typeface, as [`Fonts::names`] has it.
    pub font: String,
    /// How tall a flat capital is.
    pub cap_height: Mm,
    /// Room added between letters; may be negative.
    pub spacing: Mm,
    /// From one baseline to the next, times the height of a capital.
    pub line_spacing: f64,
    /// Which end of the lines is in one line.
    pub align: Align,
    /// Radius of the circle the first baseline lies on: positive where the words stand on top of it,
    /// negative where they hang below, like a smile. Letters keep their shape and stand upright on it;
    /// further lines lie on circles about the same middle. Straight if `None`.
    pub arc: Option<Mm>,
}

/// Which end of several lines is in one line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Align {
    /// Their starts.
    Start,
    /// Their middles.
    #[default]
    Middle,
    /// Their ends.
    End,
}

impl Default for Lettering {
    fn default() -> Lettering {
        Lettering {
            words: String::new(),
            font: BUILT_IN.to_owned(),
            cap_height: Mm::new(25.4),
            spacing: Mm::ZERO,
            line_spacing: 1.5,
            align: Align::default(),
            arc: None,
        }
    }
}

/// Why words could not be set.
#[derive(Debug, Error)]
pub enum LetteringError {
    /// Nothing but blanks, or nothing the typeface has.
    Nothing {
        /// The typeface.
        font: String,
    },
    /// There is no such typeface.
    NoFont {
        /// What was asked for.
        font: String,
        /// Some there are.
        near: Vec<String>,
    },
    /// More than [`MAX_CHARACTERS`].
    TooLong,
    /// A setting that makes no sense.
    Setting {
        /// Which.
        setting: LetteringSetting,
        /// The least it may be.
        least: f64,
        /// The most.
        most: f64,
    },
    /// A line is longer than its circle, or a further line lies beyond the circle's middle.
    ArcTooTight {
        /// The radius as asked for, without its sign.
        radius: Mm,
    },
    /// The outlines are no design that could be read from a file either.
    Design(DesignError),
}

// Without `source`: the sentence of this error has the design's in it.
impl From<DesignError> for LetteringError {
    fn from(error: DesignError) -> LetteringError {
        LetteringError::Design(error)
    }
}

/// A setting of [`Lettering`] that is a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LetteringSetting {
    /// How tall a capital is, millimetres.
    CapHeight,
    /// Room added between letters, millimetres.
    Spacing,
    /// From one baseline to the next, in capitals.
    LineSpacing,
    /// Radius of the arc, millimetres.
    ArcRadius,
}

/// The most missing letters that are named in a notice.
const NAMED_LETTERS: usize = 20;

/// A letter where it is to be carved.
pub(super) struct Placed {
    /// Millimetres, y up.
    pub outline: BezPath,
    /// Which line it is on.
    pub line: usize,
    /// What it is, where one character makes it.
    pub character: Option<char>,
}

impl Lettering {
    /// The words as a design: one element named by its first line. The first baseline runs along y = 0,
    /// and x = 0 is where the lines are aligned.
    ///
    /// Linear in the outlines' points.
    ///
    /// # Errors
    ///
    /// Where there is nothing to letter, the typeface is not among `fonts`, a setting is out of range, or the
    /// words do not fit on their arc.
    pub fn design(&self, fonts: &Fonts) -> Result<Design, LetteringError> {
        let face = self.face(fonts)?;
        let mut notices = Notices::new();
        let letters = self.placed(&face, &mut notices)?;
        let boxes = letters.iter().filter_map(|letter| ink(&letter.outline));
        let around = boxes.map(|b| Rect::new(dvec2(b.x0, b.y0), dvec2(b.x1, b.y1))).reduce(Rect::union);
        let extent = around.ok_or_else(|| LetteringError::Nothing { font: self.font.clone() })?;
        Drawing::check_extent(extent)?;
        let mut shapes = Vec::with_capacity(letters.len());
        let mut edges = 0;
        for letter in &letters {
            let rings = ring_points(&letter.outline, tolerance(extent));
            edges += rings.iter().map(Vec::len).sum::<usize>();
            if edges > MAX_SEGMENTS {
                return Err(DesignError::TooManySegments.into());
            }
            let rings = Rings { rings, rule: FillRule::NonZero };
            shapes.push(FlatShape { element: 0, white: false, rings, clips: Vec::new() });
        }
        let name = tidy(self.words.trim().lines().next().unwrap_or(REST));
        let settled = layering::settle(shapes, Vec::new(), vec![layering::Label::new(name.clone())], None)?;
        let Some(grid) = settled.grid.filter(|_| !settled.elements.is_empty()) else {
            return Err(LetteringError::Nothing { font: self.font.clone() });
        };
        notices.extend(settled.notices);
        Ok(Design { name, elements: settled.elements, page: None, grid, notices, sharpness: None })
    }

    pub(super) fn face(&self, fonts: &Fonts) -> Result<Face<'static>, LetteringError> {
        self.check()?;
        fonts.face(&self.font).ok_or_else(|| LetteringError::NoFont {
            font: self.font.chars().filter(|c| !c.is_control()).take(60).collect(),
            near: fonts.near(&self.font).into_iter().map(str::to_owned).collect(),
        })
    }

    fn check(&self) -> Result<(), LetteringError> {
        if self.words.chars().count() > MAX_CHARACTERS {
            return Err(LetteringError::TooLong);
        }
        let settings = [
            (LetteringSetting::CapHeight, self.cap_height.get(), 0.1, 10_000.0),
            (LetteringSetting::Spacing, self.spacing.get(), -10_000.0, 10_000.0),
            (LetteringSetting::LineSpacing, self.line_spacing, 0.1, 100.0),
            (LetteringSetting::ArcRadius, self.arc.map_or(1.0, |radius| radius.get().abs()), 0.1, 1e6),
        ];
        for (setting, value, least, most) in settings {
            // Written so that a NaN fails it.
            if !(value >= least && value <= most) {
                return Err(LetteringError::Setting { setting, least, most });
            }
        }
        Ok(())
    }

    /// Every letter in its place.
    pub(super) fn placed(
        &self,
        face: &Face<'_>,
        notices: &mut Notices<DrawingNotice>,
    ) -> Result<Vec<Placed>, LetteringError> {
        let scale = self.cap_height.get() / face.cap_height();
        let mut placed = Vec::new();
        let mut missing: Vec<char> = Vec::new();
        for (number, words) in self.words.trim_end().lines().enumerate() {
            let words: String = words.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
            let glyphs = face.line(&words, self.spacing == Mm::ZERO);
            let spaced = self.spacing.get() * glyphs.len().saturating_sub(1) as f64;
            let long = length(&glyphs) * scale + spaced;
            let down = self.line_spacing * self.cap_height.get() * number as f64;
            let start = match self.align {
                Align::Start => 0.0,
                Align::Middle => -long / 2.0,
                Align::End => -long,
            };
            let circle = self.arc.map(|radius| Circle { radius: radius.get(), down });
            if let Some(circle) = &circle {
                circle.check(long)?;
            }
            for (index, glyph) in glyphs.iter().enumerate() {
                let character = character_of(&words, &glyphs, index);
                if glyph.missing {
                    missing.extend(words.get(glyph.cluster..).and_then(|rest| rest.chars().next()));
                    continue;
                }
                let x = start + glyph.at[0] * scale + self.spacing.get() * index as f64;
                let half = glyph.advance * scale / 2.0;
                let lift = glyph.at[1] * scale;
                let place = match &circle {
                    None => Affine::translate((x, lift - down)),
                    // A letter stands on the circle by the middle of its foot.
                    Some(circle) => circle.place(x + half) * Affine::translate((-half, lift)),
                };
                placed.push(Placed {
                    outline: place * Affine::scale(scale) * &glyph.outline,
                    line: number,
                    character,
                });
            }
        }
        if !missing.is_empty() {
            missing.sort_unstable();
            missing.dedup();
            missing.retain(|c| !c.is_control());
            let letters: String = missing.iter().take(NAMED_LETTERS).collect();
            let more = missing.len().saturating_sub(NAMED_LETTERS);
            notices.push(DrawingNotice::MissingLetters { font: self.font.clone(), letters, more });
        }
        Ok(placed)
    }
}

/// The character a glyph stands for, where it stands for one alone.
fn character_of(words: &str, glyphs: &[Glyph], index: usize) -> Option<char> {
    let from = glyphs[index].cluster;
    let to = glyphs.iter().map(|glyph| glyph.cluster).filter(|&cluster| cluster > from).min();
    let mut characters = words.get(from..to.unwrap_or(words.len()))?.chars();
    characters.next().filter(|_| characters.next().is_none())
}

/// The circle a line stands on; its middle is below the start of the first baseline where the radius is
/// positive.
struct Circle {
    radius: f64,
    /// How far below the first baseline the line lies.
    down: f64,
}

impl Circle {
    /// Radius of the line's own circle, with the sign of the first.
    fn own(&self) -> f64 {
        self.radius - self.down
    }

    fn check(&self, long: f64) -> Result<(), LetteringError> {
        let own = self.own() * self.radius.signum();
        if own > 0.0 && long < TAU * own {
            Ok(())
        } else {
            Err(LetteringError::ArcTooTight { radius: Mm::new(self.radius.abs()) })
        }
    }

    /// From a letter whose foot's middle is the origin to its place `along` the line.
    fn place(&self, along: f64) -> Affine {
        let own = self.own();
        let angle = along / own;
        let (sin, cos) = angle.sin_cos();
        Affine::translate((own * sin, own * cos - self.radius)) * Affine::rotate(-angle)
    }
}

/// One number of a tactile sign, held against the US standard for raised characters: 2010 ADA Standards for
/// Accessible Design, section 703.2 (US Department of Justice).
#[derive(Clone, Debug, PartialEq)]
pub struct TactileCheck {
    /// What is measured, and in which unit.
    pub measure: TactileMeasure,
    /// What was measured; `None` where nothing could be.
    pub measured: Option<f64>,
    /// The least it may be.
    pub least: f64,
    /// The most; infinite where there is no bound.
    pub most: f64,
}

/// What of a tactile sign is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TactileMeasure {
    /// Letters that are not capitals: how many.
    SmallLetters,
    /// Width of a capital O, per cent of a capital I's height.
    WidthOfO,
    /// Height of a capital I, inches.
    HeightOfI,
    /// Stroke of a capital I, per cent of its height.
    StrokeOfI,
    /// Least room between letters, inches.
    LeastGap,
    /// Most room between letters, inches.
    MostGap,
    /// From baseline to baseline, per cent of a capital I's height.
    LineSpacing,
}

impl TactileMeasure {
    /// The section of the standard that bounds it.
    pub fn section(self) -> &'static str {
        match self {
            TactileMeasure::SmallLetters => "703.2.2",
            TactileMeasure::WidthOfO => "703.2.4",
            TactileMeasure::HeightOfI => "703.2.5",
            TactileMeasure::StrokeOfI => "703.2.6",
            TactileMeasure::LeastGap | TactileMeasure::MostGap => "703.2.7",
            TactileMeasure::LineSpacing => "703.2.8",
        }
    }
}

impl TactileCheck {
    /// Whether it is within its bounds, to a part in a thousand; `None` where nothing was measured.
    pub fn passes(&self) -> Option<bool> {
        let slack = 1e-3 * self.least.max(if self.most.is_finite() { self.most } else { 0.0 });
        self.measured.map(|measured| measured >= self.least - slack && measured <= self.most + slack)
    }
}

impl Lettering {
    /// The letters held against the US standard for raised characters on signs, see [`TactileCheck`].
    ///
    /// Lengths are read off the outlines at the size they are set. It does not tell whether a typeface
    /// has serifs, or how high the letters stand: those two are for the eye and the depth setting.
    ///
    /// # Errors
    ///
    /// As for [`design`](Self::design): no such typeface, or settings out of range.
    pub fn tactile(&self, fonts: &Fonts) -> Result<Vec<TactileCheck>, LetteringError> {
        use TactileMeasure as M;
        const INCH: f64 = 25.4;
        let face = self.face(fonts)?;
        let letters = self.placed(&face, &mut Notices::new())?;
        let scale = self.cap_height.get() / face.cap_height();
        let capital = |c: char| Some(Affine::scale(scale) * face.character(c)?);
        let tall = capital('I').map(|path| path.bounding_box().height());
        let share = |length: Option<f64>| Some(length? / tall? * 100.0);
        let stroke = capital('I').and_then(|path| stem(&path));
        let wide = capital('O').map(|path| path.bounding_box().width());
        let small = self.words.chars().filter(|c| c.is_lowercase()).count();
        let gaps = self.gaps(&letters);
        let lines = letters.iter().map(|letter| letter.line).max().unwrap_or(0) + 1;
        let check = |measure, measured, least, most| TactileCheck { measure, measured, least, most };
        // Four times the stroke of the raised characters.
        let widest = stroke.map_or(f64::INFINITY, |stroke| 4.0 * stroke / INCH);
        let mut checks = vec![
            check(M::SmallLetters, Some(small as f64), 0.0, 0.0),
            check(M::WidthOfO, share(wide), 55.0, 110.0),
            check(M::HeightOfI, tall.map(|tall| tall / INCH), 0.625, 2.0),
            check(M::StrokeOfI, share(stroke), 0.0, 15.0),
            check(M::LeastGap, gaps.map(|(least, _)| least / INCH), 0.125, f64::INFINITY),
            check(M::MostGap, gaps.map(|(_, most)| most / INCH), 0.0, widest),
        ];
        if lines > 1 {
            let spacing = tall.map(|tall| self.line_spacing * self.cap_height.get() / tall * 100.0);
            checks.push(check(M::LineSpacing, spacing, 135.0, 170.0));
        }
        Ok(checks)
    }

    /// The least and the most room between letters that follow one another in a word, in millimetres.
    fn gaps(&self, letters: &[Placed]) -> Option<(f64, f64)> {
        let fine = self.cap_height.get() * 1e-3;
        let outlines: Vec<Vec<Vec<DVec2>>> =
            letters.iter().map(|letter| ring_points(&letter.outline, fine)).collect();
        let blank = |letter: &Placed| letter.character.is_none_or(char::is_whitespace);
        let gaps = letters.windows(2).zip(outlines.windows(2)).filter_map(|(pair, outlines)| {
            let together = pair[0].line == pair[1].line && !blank(&pair[0]) && !blank(&pair[1]);
            together.then(|| between(&outlines[0], &outlines[1])).flatten()
        });
        gaps.fold(None, |found: Option<(f64, f64)>, gap| {
            Some(found.map_or((gap, gap), |(least, most)| (least.min(gap), most.max(gap))))
        })
    }
}

/// Width of an upright stroke at half height: the narrowest piece of a level line that lies inside.
fn stem(path: &BezPath) -> Option<f64> {
    let bounds = path.bounding_box();
    let rings = ring_points(path, bounds.height() * 1e-4);
    let y = bounds.center().y;
    let mut crossings: Vec<f64> = edges(&rings)
        .filter(|[a, b]| (a.y > y) != (b.y > y))
        .map(|[a, b]| a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x))
        .collect();
    crossings.sort_by(f64::total_cmp);
    crossings.chunks_exact(2).map(|pair| pair[1] - pair[0]).min_by(f64::total_cmp)
}

fn edges(rings: &[Vec<DVec2>]) -> impl Iterator<Item = [DVec2; 2]> + '_ {
    rings.iter().flat_map(|ring| (0..ring.len()).map(|i| [ring[i], ring[(i + 1) % ring.len()]]))
}

/// The shortest way from one outline to another; 0 where their edges cross.
fn between(one: &[Vec<DVec2>], other: &[Vec<DVec2>]) -> Option<f64> {
    let to_edges = |points: &[Vec<DVec2>], rings: &[Vec<DVec2>]| {
        let nearest =
            |p: DVec2| edges(rings).map(|edge| p.distance(nearest_on(edge, p))).min_by(f64::total_cmp);
        points.iter().flatten().filter_map(|&p| nearest(p)).min_by(f64::total_cmp)
    };
    let crossing = edges(one).any(|[a, b]| {
        edges(other).any(|[c, d]| {
            let side = |p: DVec2, q: DVec2, r: DVec2| (q - p).perp_dot(r - p);
            side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
        })
    });
    if crossing {
        return Some(0.0);
    }
    Some(to_edges(one, other)?.min(to_edges(other, one)?))
}
