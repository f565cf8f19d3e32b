//! The physical size an SVG file states, and how to hand it to the parser.
//!
//! The parser knows neither `Q` nor capital units nor a size given in a `style` attribute, and it takes
//! a percentage of the view box for a size in pixels. So the size is worked out here, in double
//! precision, and written back into the text as plain pixels.

use super::{DesignError, DrawingNotice, MAX_EXTENT};
use crate::units::Mm;
use glam::DVec2;
use serde::{Deserialize, Serialize};
use std::ops::Range;
use usvg::roxmltree::Node;

/// Millimetres to a CSS pixel: 1 in = 96 px = 25.4 mm (CSS Values and Units 3, section 6.2).
pub(super) const MM_PER_PX: f64 = 25.4 / 96.0;

/// What one unit of a drawing may stand for where its file does not say.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DrawingUnit {
    /// A millimetre.
    Millimetre,
    /// A pixel of CSS, 1/96 in.
    Pixel,
    /// A printer's point, 1/72 in.
    Point,
    /// An inch.
    Inch,
}

impl DrawingUnit {
    /// Every unit, in the order a dialog shows them.
    pub const ALL: [DrawingUnit; 4] =
        [DrawingUnit::Millimetre, DrawingUnit::Pixel, DrawingUnit::Point, DrawingUnit::Inch];

    /// How many millimetres it is.
    ///
    /// ```
    /// # use spelk::design::DrawingUnit;
    /// assert_eq!(DrawingUnit::Point.millimetres() * 72.0, DrawingUnit::Inch.millimetres());
    /// ```
    pub fn millimetres(self) -> f64 {
        match self {
            DrawingUnit::Millimetre => 1.0,
            DrawingUnit::Pixel => MM_PER_PX,
            DrawingUnit::Point => 25.4 / 72.0,
            DrawingUnit::Inch => 25.4,
        }
    }
}

/// What a dialog asks where the file does not state a size.
#[derive(Clone, Debug, PartialEq)]
pub struct UnstatedSize {
    /// The unit the drawing was read in.
    pub taken: DrawingUnit,
    /// What each unit that makes sense would make of it, in the order of [`DrawingUnit::ALL`].
    pub readings: Vec<SizeReading>,
}

/// How large a drawing is in one unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SizeReading {
    /// What one unit of the drawing is.
    pub unit: DrawingUnit,
    /// The box round the outlines then, millimetres.
    pub size: DVec2,
}

impl UnstatedSize {
    /// The readings of a drawing that is `size` millimetres large in the unit it was read in. Those that
    /// make it smaller than a millimetre or larger than anything read are left out.
    pub(super) fn of(taken: DrawingUnit, size: DVec2) -> UnstatedSize {
        let reading =
            |unit: DrawingUnit| SizeReading { unit, size: size * (unit.millimetres() / taken.millimetres()) };
        let plausible = |reading: &SizeReading| {
            let longer = reading.size.max_element();
            reading.unit == taken || (1.0..=MAX_EXTENT).contains(&longer)
        };
        UnstatedSize {
            taken,
            readings: DrawingUnit::ALL.into_iter().map(reading).filter(plausible).collect(),
        }
    }
}

/// What the root element says about its size.
pub(super) struct PageSize {
    /// Width and height in pixels, where the file has a page at all.
    pub px: Option<[f64; 2]>,
    /// What a unit was taken for, where the file states no size.
    pub unit: Option<DrawingUnit>,
    /// What there is to say about it.
    pub notice: Option<DrawingNotice>,
}

/// One stated length.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Stated {
    /// In pixels.
    Physical(f64),
    /// Absent, a percentage, or in a unit that depends on a font or a window.
    Relative,
}

impl PageSize {
    /// Works out the size of a root element.
    pub(super) fn of(root: Node<'_, '_>, unit: Option<DrawingUnit>) -> Result<PageSize, DesignError> {
        let width = stated(root, "width")?;
        let height = stated(root, "height")?;
        let view_box = root.attribute("viewBox").and_then(parse_view_box);
        let px = match (width, height, view_box) {
            (Stated::Physical(w), Stated::Physical(h), _) => Some([w, h]),
            (Stated::Physical(w), Stated::Relative, Some([vw, vh])) => Some([w, w * vh / vw]),
            (Stated::Relative, Stated::Physical(h), Some([vw, vh])) => Some([h * vw / vh, h]),
            (Stated::Relative, Stated::Relative, Some(size)) => Some(size),
            (_, _, None) => None,
        };
        let unstated = width == Stated::Relative && height == Stated::Relative;
        let unit = unstated.then(|| unit.unwrap_or(DrawingUnit::Pixel));
        let notice = unit.map(|unit| DrawingNotice::SizeNotStated {
            unit,
            page: px.map(|px| px.map(|side| Mm::new(side * unit.millimetres()))),
        });
        Ok(PageSize { px, unit, notice })
    }

    /// Millimetres to a pixel of the parser's.
    pub(super) fn mm_per_px(&self) -> f64 {
        self.unit.map_or(MM_PER_PX, DrawingUnit::millimetres)
    }

    /// The text with this size written into its root element; `None` where nothing needs to change.
    pub(super) fn written_into(&self, text: &str, root: Node<'_, '_>) -> Option<String> {
        let [width, height] = self.px?;
        let start = root.range().start;
        let name_end = start + text.get(start..)?.find([' ', '\t', '\r', '\n', '/', '>'])?;
        let mut edits: Vec<(Range<usize>, String)> =
            vec![(name_end..name_end, format!(" width=\"{width}\" height=\"{height}\""))];
        for attribute in root.attributes() {
            if attribute.namespace().is_none() && matches!(attribute.name(), "width" | "height") {
                edits.push((attribute.range(), String::new()));
            }
        }
        edits.sort_by_key(|(range, _)| range.start);
        let mut written = String::with_capacity(text.len() + 64);
        let mut at = 0;
        for (range, new) in edits {
            written.push_str(text.get(at..range.start)?);
            written.push_str(&new);
            at = range.end;
        }
        written.push_str(text.get(at..)?);
        Some(written)
    }
}

/// The length under `name`; the `style` attribute goes before the attribute of that name, as in CSS.
fn stated(root: Node<'_, '_>, name: &str) -> Result<Stated, DesignError> {
    let styled = root.attribute("style").and_then(|style| {
        style.rsplit(';').find_map(|declaration| {
            let (property, value) = declaration.split_once(':')?;
            (property.trim() == name).then_some(value.trim())
        })
    });
    match styled.or_else(|| root.attribute(name)).and_then(parse_length) {
        None => Ok(Stated::Relative),
        Some(px) if px > 0.0 && px.is_finite() => Ok(Stated::Physical(px)),
        Some(px) if px.is_infinite() => Err(DesignError::TooLarge { metres: px }),
        Some(_) => Err(DesignError::ZeroSize),
    }
}

/// A length in pixels; `None` for one that is not physical or cannot be read.
fn parse_length(text: &str) -> Option<f64> {
    let text = text.trim();
    let unit_at = text.find(|c: char| c.is_ascii_alphabetic() || c == '%').map_or(text.len(), |at| {
        // The `e` of an exponent is no unit.
        let exponent = text[at..].strip_prefix(['e', 'E']).is_some_and(|rest| {
            rest.strip_prefix(['+', '-']).unwrap_or(rest).starts_with(|c: char| c.is_ascii_digit())
        });
        if exponent {
            text[at + 1..]
                .find(|c: char| c.is_ascii_alphabetic() || c == '%')
                .map_or(text.len(), |n| at + 1 + n)
        } else {
            at
        }
    });
    let number: f64 = text[..unit_at].trim().parse().ok()?;
    let px = match text[unit_at..].to_ascii_lowercase().as_str() {
        "" | "px" => 1.0,
        "in" => 96.0,
        "cm" => 96.0 / 2.54,
        "mm" => 96.0 / 25.4,
        "q" => 96.0 / 101.6,
        "pt" => 96.0 / 72.0,
        "pc" => 16.0,
        _ => return None,
    };
    Some(number * px)
}

/// Width and height of a view box; `None` where it is not valid, which is then ignored as a whole.
fn parse_view_box(text: &str) -> Option<[f64; 2]> {
    let mut numbers =
        text.split([' ', ',', '\t', '\r', '\n']).filter(|part| !part.is_empty()).map(str::parse::<f64>);
    let _corner = (numbers.next()?.ok()?, numbers.next()?.ok()?);
    let size = [numbers.next()?.ok()?, numbers.next()?.ok()?];
    (numbers.next().is_none() && size.iter().all(|&side| side > 0.0 && side.is_finite())).then_some(size)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn css_lengths() {
        // CSS Values and Units 3: 1in = 2.54cm = 96px, 1pt = 1/72in, 1pc = 1/6in, 1Q = 1/40cm.
        let check = |text: &str, px: f64| {
            let got = parse_length(text).expect(text);
            assert!((got - px).abs() < 1e-9 * px.abs().max(1.0), "{text}: {got}");
        };
        check("1in", 96.0);
        check("2.54cm", 96.0);
        check("25.4mm", 96.0);
        check("25.4MM", 96.0);
        check("72pt", 96.0);
        check("6pc", 96.0);
        check("101.6Q", 96.0);
        check("96", 96.0);
        check(" 96px ", 96.0);
        check("9.6e1", 96.0);
        check("1e2mm", 100.0 * 96.0 / 25.4);
        assert_eq!(parse_length("100%"), None);
        assert_eq!(parse_length("2em"), None);
        assert_eq!(parse_length("auto"), None);
        assert_eq!(parse_length(""), None);
    }
}
