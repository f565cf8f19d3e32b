//! From a picture to a [`Design`]: the outline of its ink, at true size.
//!
//! # How
//!
//! 1. The picture is straightened by the four corners of the sheet, where they are marked.
//! 2. Each pixel becomes how dark it is, and the light is evened out where that is asked for; or else how much of it
//!    is of which colour (`colour.rs`).
//! 3. Ink begins half way between ink and paper, or where it is set to. Where a lens out of focus has spread the
//!    edges, they are made steeper (`focus.rs`); the contour is followed to a fraction of a pixel (`contour.rs`).
//! 4. Corners are made sharp again, and curves are fitted between them (`curve.rs`).
//! 5. Specks are left out, gaps are closed, and the outline is cleaned like that of any drawing.
//!
//! # Spaces
//!
//! Pixel space has y down, and the middle of the first pixel at 0.5, 0.5. The design lies in design space,
//! millimetres with y up; its page is the picture from edge to edge.
//!
//! # How sure
//!
//! An edge is taken to be off by half a pixel and the tolerance of the curves. Both sides of a wall may be, so
//! that a width is known to within a pixel and twice the tolerance: [`Sharpness::width_within`]. Measured against
//! drawings whose outline is known, an edge is off by a tenth of that; but a picture may be blurred, and nobody
//! measured yours.
//!
//! # Why these libraries
//!
//! `kurbo` fits the curves; it was in the program already. Contours are followed here. `contour` 0.13 gives the same
//! points, but puts points to the front of a list one by one, so that its time grows with the square of the outline,
//! and cannot be stopped. `visioncortex` 0.9 follows the edges of pixels, black or white, and smooths the stairs
//! away: what the grey of a pixel says of where the edge is is lost. On the samples rendered 300 pixels long it is
//! off by 0.31 to 0.44 pixels (through `vtracer` 0.6), and this by 0.06 to 0.09.

mod colour;
mod contour;
mod curve;
mod focus;
mod light;

use crate::design::{
    Color, Design, DesignError, Element, MAX_EXTENT, MAX_SEGMENTS, Origin, Sharpness, check_crossings,
};
use crate::geometry::{FillRule, Grid, Rect, Region};
use crate::notice::Notices;
use crate::shop::{Photo, PhotoError, photo_from_sheet};
use crate::units::Mm;
use colour::Mixed;
pub use colour::{COLOURS, Colour, name as colour_name};
use contour::{Contours, Field};
use curve::Fit;
use glam::{DVec2, dvec2};
use light::Tones;
use rayon::prelude::*;
use std::borrow::Cow;
use std::collections::BTreeSet;
use std::f64::consts::PI;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, Ordering};
use thiserror::Error;

/// How large the picture is carved, from edge to edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PictureSize {
    /// From its left edge to its right one.
    Length(Mm),
    /// From its top to its bottom.
    Width(Mm),
    /// So many pixels to the inch.
    PerInch(f64),
    /// The sheet between four corners; what lies outside them is left out.
    Sheet {
        /// From left to right.
        length: Mm,
        /// From top to bottom.
        width: Mm,
        /// Its corners in the upright picture, in pixels: lower left, lower right, upper right, upper left.
        corners: [DVec2; 4],
    },
}

/// What in the picture is the outline.
#[derive(Clone, Debug, PartialEq)]
pub enum Ink {
    /// What is darker than the paper, or lighter.
    Tone(Tone),
    /// Everything but the paper's colour; each colour becomes an element.
    Colours(Colours),
}

/// Ink that is told from paper by how dark it is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Tone {
    /// From where on a pixel is ink, 0 for black and 1 for white; half way between ink and paper if `None`.
    pub level: Option<f64>,
    /// Whether ink is what is lighter than that.
    pub is_light: bool,
    /// Whether the light is evened out first: for photographs of paper. Ink wider than a fifth of the picture goes
    /// with the shadows.
    pub even_light: bool,
}

/// Ink that is told apart by its colours.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Colours {
    /// At most how many there are, the paper's with them: one of [`COLOURS`].
    pub count: usize,
    /// Which are left out, by their places in [`Trace::colours`]; the colour that the picture ends in if `None`.
    pub left_out: Option<BTreeSet<usize>>,
}

/// Everything that is set about a trace.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    /// How large.
    pub size: PictureSize,
    /// What is ink. Half way between ink and paper and darker to start with, and the light as it was taken.
    pub ink: Ink,
    /// Pieces left out and holes filled: each by a place in it, from the upper left corner of the picture (after it
    /// was straightened) at 0, 0 to the lower right one at 1, 1.
    pub without: Vec<DVec2>,
    /// Pieces and holes with less area than a disc this wide are left out, at the carved size. 0.5 mm to start with
    /// (a round value of our own); what is under two pixels wide always is.
    pub speck: Mm,
    /// Gaps narrower than this are closed, at the carved size. 0 to start with, which closes none.
    pub gap: Mm,
    /// An outline that turns by at least this much at one place has a corner there, radians. 30° to start with (by
    /// measurement on the samples); half a turn keeps none.
    pub corner_angle: f64,
    /// How far curves may be from what was read, at the carved size; a quarter of a pixel if `None`. Under a tenth
    /// of a pixel they would follow the noise, so no finer one is used.
    pub tolerance: Option<Mm>,
}

impl Settings {
    /// A picture of this size, everything else as it starts.
    pub fn new(size: PictureSize) -> Settings {
        Settings {
            size,
            ink: Ink::Tone(Tone::default()),
            without: Vec::new(),
            speck: Mm::new(0.5),
            gap: Mm::ZERO,
            corner_angle: PI / 6.0,
            tolerance: None,
        }
    }
}

/// Why a picture was not traced.
#[derive(Debug, Error)]
pub enum TraceError {
    /// It cannot be read, or its corners are no sheet's.
    Photo(PhotoError),
    /// A size is not over 0, or larger than a design may be.
    Size,
    /// A value is not one that can be.
    Setting(Setting),
    /// Ink and paper are all but one colour.
    OneColour,
    /// More specks than outline.
    NotAnOutline {
        /// How many specks.
        specks: usize,
    },
    /// Nothing is left but specks.
    Nothing {
        /// How many specks were left out.
        specks: usize,
    },
    /// The outline is more than a design may be.
    Design(DesignError),
    /// The work was called off.
    Cancelled,
}

/// A value of the [`Settings`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Setting {
    /// From where on a pixel is ink.
    Level,
    /// How small a speck is.
    Speck,
    /// How narrow a gap is.
    Gap,
    /// From where on a turn is a corner.
    CornerAngle,
    /// How far curves may be off.
    Tolerance,
    /// How many colours there are.
    Colours,
}

/// What of the work on a picture is being done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// It is straightened, and ink told from paper: [`prepare`].
    Preparing,
    /// The edges of the ink are followed.
    Following,
    /// Curves are fitted to them, and the outline is cleaned.
    Fitting,
}

/// What was traced.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// The outline; its page is the picture, and it knows how sharp that was.
    pub design: Design,
    /// Pixels of the picture, upright.
    pub pixels: [u32; 2],
    /// From where on a pixel was ink, 0 for black and 1 for white; `None` where colours say it.
    pub level: Option<f64>,
    /// The colours it was taken apart into, the most common first; none where darkness says what is ink.
    pub colours: Vec<Colour>,
    /// Pieces and holes that were left out for being too small.
    pub specks: usize,
}

impl Trace {
    /// How many pieces there are, and how many holes in them.
    pub fn pieces_and_holes(&self) -> [usize; 2] {
        let rings = self.design.elements.iter().flat_map(|element| element.region.rings());
        rings.fold(
            [0, 0],
            |[pieces, holes], ring| {
                if ring.hole { [pieces, holes + 1] } else { [pieces + 1, holes] }
            },
        )
    }

    /// How large the picture is from edge to edge.
    pub fn size(&self) -> [Mm; 2] {
        let size = self.design.page.map_or(DVec2::ZERO, Rect::size);
        [Mm::new(size.x), Mm::new(size.y)]
    }

    /// How far widths may be off.
    pub fn width_within(&self) -> Mm {
        self.design.sharpness.map_or(Mm::ZERO, |sharpness| sharpness.width_within())
    }
}

/// A picture made ready: straightened, and what each pixel is made of known. What it costs to change a setting is to
/// trace this again.
#[derive(Clone, Debug, PartialEq)]
pub struct Prepared {
    width: usize,
    height: usize,
    pixels: Pixels,
    /// Millimetres from edge to edge.
    size: DVec2,
    /// The largest pixel of the photograph, millimetres at the carved size.
    pixel: f64,
    photo: [u32; 2],
    /// The layers of the colours that were chosen first: most settings leave them as they are.
    kept: OnceLock<(Vec<bool>, Vec<Layer<'static>>)>,
}

/// What the pixels are made of, rows from the top.
#[derive(Clone, Debug, PartialEq)]
enum Pixels {
    /// How dark each is, 0 for white and 255 for black.
    Dark(Vec<u8>),
    Mixed(Mixed),
}

/// Widths known to within this are as good as a hand-drawn outline: a round value of our own.
pub const SHARP: Mm = Mm::new(0.3);

/// Whether widths are known less well than that.
pub fn is_blunt(within: Mm) -> bool {
    // A hair over comes of rounding.
    within.get() > SHARP.get() * (1.0 + 1e-9)
}

/// How sharp a picture is at a size, before any work begins. `O(1)`.
///
/// # Errors
///
/// Where a setting is not one that can be.
pub fn sharpness(pixels: [u32; 2], settings: &Settings) -> Result<Sharpness, TraceError> {
    check(settings)?;
    let (_, pixel) = frame(pixels, settings)?;
    Ok(sharpness_of(pixel, settings))
}

/// The picture's longer side at a size.
///
/// # Errors
///
/// As for [`sharpness`].
pub fn longer_side(pixels: [u32; 2], settings: &Settings) -> Result<Mm, TraceError> {
    Ok(Mm::new(frame(pixels, settings)?.0.max_element()))
}

/// How many pixels there must be across `length` for widths to be known to within `within`, with curves fitted to a
/// quarter of a pixel.
///
/// ```
/// # use spelk::trace::pixels_needed;
/// # use spelk::units::Mm;
/// // A pixel and twice a quarter of one are 0.3 mm where a pixel is 0.2 mm.
/// assert_eq!(pixels_needed(Mm::new(300.0), Mm::new(0.3)), 1500);
/// ```
#[expect(clippy::cast_sign_loss, reason = "lengths are not negative")]
pub fn pixels_needed(length: Mm, within: Mm) -> u32 {
    let pixel = within.get() / (1.0 + 2.0 * USUAL_TOLERANCE);
    (length.get() / pixel - 1e-9).ceil().clamp(0.0, f64::from(u32::MAX)) as u32
}

/// The picture's size from edge to edge and its largest pixel, in millimetres.
fn frame(pixels: [u32; 2], settings: &Settings) -> Result<(DVec2, f64), TraceError> {
    let [w, h] = pixels.map(f64::from);
    let size = match settings.size {
        PictureSize::Length(length) => dvec2(length.get(), length.get() * h / w),
        PictureSize::Width(width) => dvec2(width.get() * w / h, width.get()),
        PictureSize::PerInch(dots) => dvec2(w, h) * Mm::from_inches(1.0).get() / dots,
        PictureSize::Sheet { length, width, .. } => dvec2(length.get(), width.get()),
    };
    // Written so that a NaN is refused.
    if !(size.min_element() > 0.0 && size.max_element() <= MAX_EXTENT) {
        return Err(TraceError::Size);
    }
    let pixel = match settings.size {
        PictureSize::Sheet { corners, .. } => {
            sides(size, corners).into_iter().map(|(mm, pixels)| mm / pixels.max(1e-9)).fold(0.0, f64::max)
        }
        _ => size.x / w,
    };
    Ok((size, pixel))
}

/// Each side of a sheet, in millimetres and in pixels of its photograph.
fn sides(size: DVec2, [a, b, c, d]: [DVec2; 4]) -> [(f64, f64); 4] {
    [(size.x, a.distance(b)), (size.y, b.distance(c)), (size.x, c.distance(d)), (size.y, d.distance(a))]
}

/// Whether a picture that was made ready for one of these settings can be traced by the other.
pub fn is_ready_for(one: &Settings, other: &Settings) -> bool {
    let reading = |ink: &Ink| match ink {
        Ink::Tone(tone) => (tone.even_light, 0),
        Ink::Colours(colours) => (false, colours.count),
    };
    one.size == other.size && reading(&one.ink) == reading(&other.ink)
}

/// Straightens a picture and reads what its pixels are made of. `O(pixels)`.
///
/// # Errors
///
/// Where a setting is not one that can be, and once `cancel` is set.
pub fn prepare(photo: &Photo, settings: &Settings, cancel: &AtomicBool) -> Result<Prepared, TraceError> {
    check(settings)?;
    let wanted = || if cancel.load(Ordering::Relaxed) { Err(TraceError::Cancelled) } else { Ok(()) };
    let (size, pixel) = frame(photo.size(), settings)?;
    let straight;
    let upright = match settings.size {
        PictureSize::Sheet { corners, .. } => {
            straight = straightened(photo, corners, size)?;
            &straight
        }
        _ => photo,
    };
    wanted()?;
    let [width, height] = upright.size().map(|side| side as usize);
    let pixels = match &settings.ink {
        Ink::Tone(tone) => {
            let dark = light::darkness(upright);
            Pixels::Dark(if tone.even_light { light::evened(&dark, width, height) } else { dark })
        }
        Ink::Colours(colours) => Pixels::Mixed(Mixed::of(upright, colours.count)),
    };
    wanted()?;
    Ok(Prepared { width, height, pixels, size, pixel, photo: photo.size(), kept: OnceLock::new() })
}

/// The longest side of a straightened picture, in pixels: past what cameras take.
const LONGEST_SIDE: f64 = 8192.0;

/// The sheet between four corners as seen straight from above, as fine as its finest side is in the photograph.
#[expect(clippy::cast_sign_loss, reason = "held to 1 or more")]
fn straightened(photo: &Photo, corners: [DVec2; 4], size: DVec2) -> Result<Photo, TraceError> {
    let map = photo_from_sheet(size, corners).map_err(TraceError::Photo)?;
    let finest = sides(size, corners).into_iter().map(|(mm, pixels)| pixels / mm).fold(0.0, f64::max);
    let per_mm = finest.min(LONGEST_SIDE / size.max_element());
    let [columns, rows] = [size.x, size.y].map(|side| (side * per_mm).round().max(1.0) as u32);
    let mut pixels = vec![0; columns as usize * rows as usize * 4];
    pixels.par_chunks_mut(columns as usize * 4).enumerate().for_each(|(y, row)| {
        for (x, pixel) in row.chunks_exact_mut(4).enumerate() {
            let share =
                dvec2((x as f64 + 0.5) / f64::from(columns), 1.0 - (y as f64 + 0.5) / f64::from(rows));
            let [r, g, b, alpha] = photo.at(map.of(share * size));
            // A photograph holds its colours as they are, however clear.
            let bare = |value: u8| {
                (u16::from(value) * 255).checked_div(u16::from(alpha)).map_or(0, |v| v.min(255) as u8)
            };
            pixel.copy_from_slice(&[bare(r), bare(g), bare(b), alpha]);
        }
    });
    Photo::new(columns, rows, pixels).ok_or(TraceError::Photo(PhotoError::NoPixels))
}

/// A curve's tolerance where none is set, in pixels: a quarter of one shows nowhere (chosen by eye on the samples).
const USUAL_TOLERANCE: f64 = 0.25;

/// The finest tolerance, in pixels: the contour itself is off by as much (by measurement).
const FINEST_TOLERANCE: f64 = 0.1;

/// What is no wider than this many pixels is always a speck.
const SPECK_PIXELS: f64 = 2.0;

/// How far the chords of curves are from them, in pixels: far under what a pixel shows.
const CHORD: f64 = 0.02;

/// What traced outlines are called where there is one colour.
const OUTLINE: &str = "outline";

/// Half of a pixel covered, of 255: where one colour ends and another begins.
const HALF: u8 = 127;

/// Where three colours lie in a line, the edge between the outer two looks like the middle one: what is narrower than
/// this many pixels is such an edge. A round value of our own, the width over which a sharp edge is spread.
const RIM: f64 = 1.5;

/// What is to be traced at one level, and what to call it.
#[derive(Clone, Debug, PartialEq)]
struct Layer<'a> {
    name: String,
    level: u8,
    values: Cow<'a, [u8]>,
    /// By how many pixels a lens has spread its edges.
    blur: f64,
    /// What it is of, where a picture has several colours.
    color: Option<Color>,
}

impl<'a> Layer<'a> {
    /// A layer with steep edges; `tones` of bare paper and full ink, where there are such.
    fn of(name: String, level: u8, values: Cow<'a, [u8]>, width: usize, tones: Option<Tones>) -> Layer<'a> {
        let plain = Layer { name, level, values, blur: 0.0, color: None };
        let Some(tones) = tones else { return plain };
        let blur = focus::blur(&plain.values, width, level, tones.contrast());
        if blur == 0.0 {
            return plain;
        }
        let sharp = focus::sharpened(&plain.values, width, level, [tones.paper, tones.ink], blur);
        Layer { values: sharp.into(), blur, ..plain }
    }
}

impl Prepared {
    /// Traces the picture. `O(pixels)`, and some microseconds for each pixel of outline.
    ///
    /// # Errors
    ///
    /// Where a setting is not one that can be, where there is nothing but one colour or specks, where the outline
    /// is more than a design may be, and once `cancel` is set.
    pub fn trace(&self, name: &str, settings: &Settings, cancel: &AtomicBool) -> Result<Trace, TraceError> {
        self.trace_telling(name, settings, cancel, &|_| {})
    }

    /// The same, which tells each step as it begins.
    ///
    /// # Errors
    ///
    /// As for [`Prepared::trace`].
    pub fn trace_telling(
        &self,
        name: &str,
        settings: &Settings,
        cancel: &AtomicBool,
        tell: &dyn Fn(Step),
    ) -> Result<Trace, TraceError> {
        check(settings)?;
        tell(Step::Following);
        let (layers, colours) = self.layers(settings)?;
        let mm_per_pixel = self.size / dvec2(self.width as f64, self.height as f64);
        let mm = mm_per_pixel.max_element();
        let speck_pixels = (settings.speck.get() / mm).max(SPECK_PIXELS);
        let contours = |Layer { level, values, .. }: &Layer| {
            let field = Field { width: self.width, height: self.height, values };
            field.contours(*level, PI * 0.25 * speck_pixels * speck_pixels, cancel)
        };
        let found: Option<Vec<_>> = layers.par_iter().map(contours).collect();
        let found = found.ok_or(TraceError::Cancelled)?;
        let specks = found.iter().map(|contours| contours.specks).sum();
        if found.iter().any(|contours| contours.is_noise) {
            return Err(TraceError::NotAnOutline { specks });
        }
        tell(Step::Fitting);
        let page = Rect::new(DVec2::ZERO, self.size);
        let grid = Grid::covering(page);
        let mut elements: Vec<Element> = Vec::new();
        let mut before = Region::empty(grid);
        let region = |(layer, contours): (&Layer, &Contours)| {
            self.region(&contours.rings, layer.blur, grid, settings, cancel)
        };
        // Of several errors the first layer's is told, whichever was there first.
        let regions: Vec<Result<Region, TraceError>> = layers.par_iter().zip(&found).map(region).collect();
        for (Layer { name, color, .. }, region) in layers.iter().zip(regions) {
            let region = region?;
            let own = if elements.is_empty() {
                region.clone()
            } else {
                // Two outlines of one edge differ by hairs.
                let rim = 0.5 * RIM * mm;
                let own = region.minus(&before);
                own.grown(-rim).grown(2.0 * rim).intersection(&own).minus(&before)
            };
            before = Region::union(grid, [&before, &region]);
            if !own.is_empty() {
                let origin = Origin { color: *color, ..Origin::default() };
                elements.push(Element { origin, ..Element::new(name, own) });
            }
        }
        for share in &settings.without {
            leave_out(&mut elements, dvec2(share.x, 1.0 - share.y) * self.size);
        }
        if elements.is_empty() {
            // A level that was set may leave all of one side.
            let is_bare = specks == 0 && settings.without.is_empty();
            return Err(if is_bare { TraceError::OneColour } else { TraceError::Nothing { specks } });
        }
        if elements.iter().map(|element| element.region.segment_count()).sum::<usize>() > MAX_SEGMENTS {
            return Err(TraceError::Design(DesignError::TooManySegments));
        }
        let sharpness = sharpness_of(self.pixel, settings);
        let design = Design {
            name: name.to_owned(),
            elements,
            page: Some(page),
            grid,
            notices: Notices::new(),
            sharpness: Some(sharpness),
        };
        let level = match &settings.ink {
            Ink::Tone(tone) => {
                let share = f64::from(layers[0].level) / 255.0;
                Some(if tone.is_light { share } else { 1.0 - share })
            }
            Ink::Colours(_) => None,
        };
        Ok(Trace { design, pixels: self.photo, level, colours, specks })
    }

    /// What is traced, and the colours it was told by. Each colour's layer has those before it as well, so that no
    /// hair is left between two.
    fn layers(&self, settings: &Settings) -> Result<(Cow<'_, [Layer<'_>]>, Vec<Colour>), TraceError> {
        match (&self.pixels, &settings.ink) {
            (Pixels::Dark(dark), Ink::Tone(tone)) => {
                let values: Cow<'_, [u8]> =
                    if tone.is_light { dark.iter().map(|value| 255 - value).collect() } else { dark.into() };
                let tones = light::tones(&values);
                let level = match tone.level {
                    Some(share) => {
                        let level = if tone.is_light { share } else { 1.0 - share };
                        light::byte((level * 255.0) as f32).min(254)
                    }
                    None => tones.ok_or(TraceError::OneColour)?.level(),
                };
                Ok((vec![Layer::of(OUTLINE.to_owned(), level, values, self.width, tones)].into(), Vec::new()))
            }
            (Pixels::Mixed(mixed), Ink::Colours(wanted)) => {
                let mut colours = mixed.colours.clone();
                if let Some(left_out) = &wanted.left_out {
                    for (index, colour) in colours.iter_mut().enumerate() {
                        colour.is_paper = left_out.contains(&index);
                    }
                }
                let names = colour_names(&colours);
                let mut chosen = vec![false; colours.len()];
                let mut each = Vec::new();
                for (index, name) in names.into_iter().enumerate() {
                    if !colours[index].is_paper {
                        chosen[index] = true;
                        each.push((name, chosen.clone()));
                    }
                }
                let layer = |(name, chosen): (String, Vec<bool>)| -> Layer<'static> {
                    let tones = Some(Tones { paper: 0, ink: u8::MAX });
                    let last = chosen.iter().rposition(|&is_chosen| is_chosen);
                    let color = last.map(|index| Color(mixed.colours[index].rgb));
                    let covered = mixed.covered(&chosen).into();
                    Layer { color, ..Layer::of(name, HALF, covered, self.width, tones) }
                };
                let make = || each.into_par_iter().map(layer).collect::<Vec<_>>();
                let layers: Cow<'_, [Layer]> = match self.kept.get() {
                    Some((of, layers)) if *of == chosen => layers.into(),
                    Some(_) => make().into(),
                    None => self.kept.get_or_init(|| (chosen, make())).1.as_slice().into(),
                };
                if layers.is_empty() { Err(TraceError::OneColour) } else { Ok((layers, colours)) }
            }
            _ => Err(TraceError::Setting(Setting::Colours)),
        }
    }

    /// What is inside rings of pixels whose edges a lens has spread by `blur` pixels: corners sharp, curves fitted,
    /// gaps closed. Millimetres.
    fn region(
        &self,
        rings: &[Vec<DVec2>],
        blur: f64,
        grid: Grid,
        settings: &Settings,
        cancel: &AtomicBool,
    ) -> Result<Region, TraceError> {
        let mm_per_pixel = self.size / dvec2(self.width as f64, self.height as f64);
        let mm = mm_per_pixel.max_element();
        let fit = Fit {
            corner_angle: settings.corner_angle,
            tolerance: (sharpness_of(self.pixel, settings).tolerance.get() / mm).max(FINEST_TOLERANCE),
            flattening: CHORD,
            scale: blur.max(1.0),
        };
        let height = self.height as f64;
        let to_design = |p: DVec2| dvec2(p.x, height - p.y) * mm_per_pixel;
        let outlined = |ring: &Vec<DVec2>| {
            let outline = || curve::outline(ring, &fit).into_iter().map(to_design).collect::<Vec<DVec2>>();
            (!cancel.load(Ordering::Relaxed)).then(outline)
        };
        let outlines: Option<Vec<Vec<DVec2>>> = rings.par_iter().map(outlined).collect();
        let outlines = outlines.ok_or(TraceError::Cancelled)?;
        let edges: Vec<&[DVec2]> = outlines.iter().map(Vec::as_slice).collect();
        check_crossings(&edges).map_err(TraceError::Design)?;
        let region = Region::clean(grid, &outlines, FillRule::NonZero);
        Ok(closed(region, settings.gap.get()))
    }
}

/// Takes out the piece that lies at a place, or fills the smallest hole there. Millimetres.
fn leave_out(elements: &mut Vec<Element>, at: DVec2) {
    if let Some(index) = elements.iter().position(|element| element.region.contains(at)) {
        let region = &elements[index].region;
        let grid = region.grid();
        let others: Vec<Region> = region.pieces().filter(|piece| !piece.contains(at)).collect();
        if others.is_empty() {
            elements.remove(index);
        } else {
            elements[index].region = Region::union(grid, &others);
        }
        return;
    }
    let holes = elements.iter().enumerate().flat_map(|(index, element)| {
        let holes = element.region.rings().filter(|ring| ring.hole);
        holes.map(move |ring| (index, vec![ring.points().collect::<Vec<DVec2>>()]))
    });
    let filled = holes
        .map(|(index, ring)| (index, Region::clean(elements[index].region.grid(), &ring, FillRule::EvenOdd)));
    let here = filled.filter(|(_, hole)| hole.contains(at));
    let Some((index, mut hole)) = here.min_by(|a, b| a.1.area().total_cmp(&b.1.area())) else { return };
    for (other, element) in elements.iter().enumerate() {
        if other != index {
            hole = hole.minus(&element.region);
        }
    }
    let grid = hole.grid();
    elements[index].region = Region::union(grid, [&elements[index].region, &hole]);
}

/// What the elements are called that have these colours: by the nearest plain name, numbered where it is taken.
fn colour_names(colours: &[Colour]) -> Vec<String> {
    let mut names: Vec<String> = Vec::with_capacity(colours.len());
    for colour in colours {
        let name = colour::name(colour.rgb);
        let before = names.iter().filter(|other| other.split(' ').next() == Some(name)).count();
        names.push(if before == 0 { name.to_owned() } else { format!("{name} {}", before + 1) });
    }
    names
}

fn sharpness_of(pixel: f64, settings: &Settings) -> Sharpness {
    let in_pixels = settings.tolerance.map_or(USUAL_TOLERANCE, |tolerance| tolerance.get() / pixel);
    Sharpness { pixel: Mm::new(pixel), tolerance: Mm::new(in_pixels.max(FINEST_TOLERANCE) * pixel) }
}

fn check(settings: &Settings) -> Result<(), TraceError> {
    let wrong = |is_right: bool, setting: Setting| {
        if is_right { Ok(()) } else { Err(TraceError::Setting(setting)) }
    };
    let length = |mm: Mm| (0.0..=MAX_EXTENT).contains(&mm.get());
    match &settings.ink {
        Ink::Tone(tone) => {
            wrong(tone.level.is_none_or(|level| level > 0.0 && level < 1.0), Setting::Level)?;
        }
        Ink::Colours(colours) => wrong(COLOURS.contains(&colours.count), Setting::Colours)?,
    }
    wrong(length(settings.speck), Setting::Speck)?;
    wrong(length(settings.gap), Setting::Gap)?;
    wrong(settings.corner_angle > 0.0 && settings.corner_angle <= PI, Setting::CornerAngle)?;
    wrong(settings.tolerance.is_none_or(|mm| mm > Mm::ZERO && length(mm)), Setting::Tolerance)
}

/// A fillet of this part of the square of its radius is what closing leaves in a corner of 30°; less is no gap.
const FILLET: f64 = 2.5;

/// The region with its gaps narrower than `gap` millimetres closed. What closing by a disc would fill of inner
/// corners stays as it was.
fn closed(region: Region, gap: f64) -> Region {
    let radius = 0.5 * gap;
    if radius <= 0.0 {
        return region;
    }
    let added = region.grown(radius).grown(-radius).minus(&region).without_specks(FILLET * radius * radius);
    Region::union(region.grid(), [&region, &added])
}
