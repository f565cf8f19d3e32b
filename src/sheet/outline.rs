//! The outline as a true-size SVG, for the next program.

use crate::design::{Design, PIXEL_ATTRIBUTE, TOLERANCE_ATTRIBUTE};
use crate::geometry::Rect;
use glam::DVec2;
use std::fmt::{self, Write as _};

/// A design at `factor` as an SVG whose user unit is the millimetre: one path an element, named by the
/// element, filled by the even-odd rule. Coordinates are written to a ten-thousandth of a millimetre.
/// The page is the design's own, or the box round its outlines. A traced design says how sharp its picture was, and
/// reads back with that.
pub fn outline_svg(design: &Design, factor: f64) -> String {
    let mut svg = String::new();
    write_svg(&mut svg, design, factor).expect("writing to a string does not fail");
    svg
}

fn write_svg(svg: &mut String, design: &Design, factor: f64) -> fmt::Result {
    let outline = design.outline_box();
    let page = design.page.map_or(outline, |page| page.union(outline));
    let traced = design.sharpness.map(|sharpness| {
        let [pixel, tolerance] =
            [sharpness.pixel, sharpness.tolerance].map(|length| Short(length.get() * factor));
        format!(r#" {PIXEL_ATTRIBUTE}="{pixel}" {TOLERANCE_ATTRIBUTE}="{tolerance}""#)
    });
    write_head(svg, page.size() * factor, &design.name, &traced.unwrap_or_default())?;
    write_elements(svg, design, page, factor, "")?;
    writeln!(svg, "</svg>")
}

/// The start of a drawing `size` millimetres large whose user unit is the millimetre, with `more` attributes.
pub(super) fn write_head(svg: &mut String, size: DVec2, title: &str, more: &str) -> fmt::Result {
    writeln!(
        svg,
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="{0}mm" height="{1}mm" viewBox="0 0 {0} {1}"{more}>"#,
        Short(size.x),
        Short(size.y)
    )?;
    writeln!(svg, "<title>{}</title>", escaped(title))
}

/// One path an element, with `style` among its attributes.
pub(super) fn write_elements(
    svg: &mut String,
    design: &Design,
    page: Rect,
    factor: f64,
    style: &str,
) -> fmt::Result {
    for element in &design.elements {
        write!(svg, r#"<path id="{}" {style}fill-rule="evenodd" d=""#, escaped(&element.name))?;
        for ring in element.region.rings() {
            for (index, point) in ring.points().enumerate() {
                // SVG's y runs down the page.
                let x = (point.x - page.min.x) * factor;
                let y = (page.max.y - point.y) * factor;
                write!(svg, "{}{} {}", if index == 0 { "M" } else { "L" }, Short(x), Short(y))?;
            }
            svg.push('Z');
        }
        writeln!(svg, r#""/>"#)?;
    }
    Ok(())
}

/// A number to at most four decimals, in its shortest form.
pub(super) struct Short(pub f64);

impl fmt::Display for Short {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", (self.0 * 1e4).round() / 1e4 + 0.0)
    }
}

/// Text as XML holds it; control characters, which XML has no way to hold, are left out.
fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for c in text.chars().filter(|c| !c.is_control()) {
        match c {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            _ => escaped.push(c),
        }
    }
    escaped
}
