//! A carrier as a drawing at true size: base, rails, stops and pocket seen from above.

use crate::proof::carrier::Carrier;
use crate::units::{LengthUnit, Mm};
use std::fmt::{self, Write as _};

/// Free paper round the drawing, millimetres.
const MARGIN: f64 = 12.0;
/// Height of the lettering, millimetres.
const LETTERING: f64 = 4.0;

/// The carrier as an SVG whose user unit is the millimetre, seen from above with the reference edge
/// below: one named path a part, and the sizes written beside it in `unit`.
pub fn carrier_svg(carrier: &Carrier, unit: LengthUnit) -> String {
    let mut svg = String::new();
    write_svg(&mut svg, carrier, unit).expect("writing to a string does not fail");
    svg
}

fn write_svg(svg: &mut String, carrier: &Carrier, unit: LengthUnit) -> fmt::Result {
    let (length, width) = (carrier.length.get(), carrier.width.get());
    let words = crate::words::carrier::parts(carrier, unit);
    let foot = LETTERING * 1.6 * words.len() as f64 + MARGIN;
    let (across, down) = (number(length + 2.0 * MARGIN), number(width + 2.0 * MARGIN + foot));
    writeln!(
        svg,
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="{across}mm" height="{down}mm" viewBox="0 0 {across} {down}">"#
    )?;
    writeln!(svg, "<title>Carrier</title>")?;
    writeln!(svg, r#"<g fill="none" stroke="black" stroke-width="0.35">"#)?;
    let mut part = |id: &str, x: f64, y: f64, long: f64, wide: f64| {
        // SVG's y runs down the page.
        let (left, top) = (MARGIN + x, MARGIN + width - y - wide);
        let (right, bottom) = (left + long, top + wide);
        writeln!(
            svg,
            r#"<path id="{id}" d="M{0} {1}H{2}V{3}H{0}Z"/>"#,
            number(left),
            number(top),
            number(right),
            number(bottom)
        )
    };
    let rail = carrier.rail.get();
    let [first, second] = carrier.stops.map(Mm::get);
    let pocket = (carrier.pocket_length.get(), carrier.pocket_width.get());
    part("base", 0.0, 0.0, length, width)?;
    part("rail-reference", 0.0, 0.0, length, rail)?;
    part("rail-far", 0.0, width - rail, length, rail)?;
    part("stop-left", 0.0, rail, first, pocket.1)?;
    part("stop-right", length - second, rail, second, pocket.1)?;
    part("pocket", first, rail, pocket.0, pocket.1)?;
    writeln!(svg, "</g>")?;
    writeln!(svg, r#"<g font-family="sans-serif" font-size="{LETTERING}">"#)?;
    for (index, line) in words.iter().enumerate() {
        let y = width + 2.0 * MARGIN + LETTERING * 1.6 * (index + 1) as f64;
        // Words are our own and numbers: nothing in them needs escaping but the inch sign.
        writeln!(svg, r#"<text x="{MARGIN}" y="{}">{}</text>"#, number(y), line.replace('"', "&quot;"))?;
    }
    writeln!(svg, "</g>\n</svg>")
}

/// To a thousandth of a millimetre, in its shortest form.
fn number(value: f64) -> f64 {
    (value * 1e3).round() / 1e3 + 0.0
}
