//! The outline as a true-size DXF, for the next program.
//!
//! Written plainly, in the oldest form that everything reads (R12, `AC1009`): closed polylines, one
//! layer an element, in millimetres. `$INSUNITS` is younger than that form, but readers of newer ones
//! look for it and those of older ones pass over header variables they do not know. A general DXF
//! library was tried and left: it writes the date and a random number into every file, and the same job
//! would not give the same bytes.

use super::outline::Short;
use crate::design::Design;
use std::fmt::{self, Write as _};

/// `$INSUNITS` for millimetres (DXF reference).
const MILLIMETRES: i32 = 4;

/// The longest name of a layer in this form.
const LONGEST_NAME: usize = 31;

/// A design at `factor` as DXF: each ring a closed polyline on the layer of its element, outer rings
/// counter-clockwise and holes clockwise, y up, coordinates to a ten-thousandth of a millimetre. The
/// origin is the lower left corner of the page, or of the box round the outlines.
///
/// A layer is named as its element is, with letters, digits, `-`, `_` and `$`; anything else becomes
/// `_`, and names that would be the same get a number.
pub fn outline_dxf(design: &Design, factor: f64) -> String {
    let mut dxf = String::new();
    write_dxf(&mut dxf, design, factor).expect("writing to a string does not fail");
    dxf
}

fn write_dxf(dxf: &mut String, design: &Design, factor: f64) -> fmt::Result {
    let outline = design.outline_box();
    let page = design.page.map_or(outline, |page| page.union(outline));
    let size = page.size() * factor;
    let layers = layer_names(design);
    section(dxf, "HEADER")?;
    pairs(dxf, &[(9, "$ACADVER"), (1, "AC1009"), (9, "$INSUNITS")])?;
    pair(dxf, 70, MILLIMETRES)?;
    pairs(dxf, &[(9, "$MEASUREMENT"), (70, "1"), (9, "$EXTMIN")])?;
    point(dxf, 0.0, 0.0)?;
    pair(dxf, 9, "$EXTMAX")?;
    point(dxf, size.x, size.y)?;
    pairs(dxf, &[(0, "ENDSEC")])?;
    section(dxf, "TABLES")?;
    pairs(dxf, &[(0, "TABLE"), (2, "LTYPE"), (70, "1"), (0, "LTYPE"), (2, "CONTINUOUS"), (70, "0")])?;
    pairs(dxf, &[(3, "Solid line"), (72, "65"), (73, "0"), (40, "0.0"), (0, "ENDTAB")])?;
    pairs(dxf, &[(0, "TABLE"), (2, "LAYER")])?;
    pair(dxf, 70, layers.len())?;
    for (index, layer) in layers.iter().enumerate() {
        pairs(dxf, &[(0, "LAYER"), (2, layer), (70, "0")])?;
        // The first seven colours of the index are told apart on any ground.
        pair(dxf, 62, index % 7 + 1)?;
        pair(dxf, 6, "CONTINUOUS")?;
    }
    pairs(dxf, &[(0, "ENDTAB"), (0, "ENDSEC")])?;
    section(dxf, "ENTITIES")?;
    for (element, layer) in design.elements.iter().zip(&layers) {
        for ring in element.region.rings() {
            pairs(dxf, &[(0, "POLYLINE"), (8, layer), (66, "1"), (70, "1")])?;
            point(dxf, 0.0, 0.0)?;
            for at in ring.points() {
                pairs(dxf, &[(0, "VERTEX"), (8, layer)])?;
                let at = (at - page.min) * factor;
                point(dxf, at.x, at.y)?;
            }
            pairs(dxf, &[(0, "SEQEND"), (8, layer)])?;
        }
    }
    pairs(dxf, &[(0, "ENDSEC"), (0, "EOF")])
}

fn section(dxf: &mut String, name: &str) -> fmt::Result {
    pairs(dxf, &[(0, "SECTION"), (2, name)])
}

fn pair(dxf: &mut String, code: u32, value: impl fmt::Display) -> fmt::Result {
    writeln!(dxf, "{code:>3}\n{value}")
}

fn pairs(dxf: &mut String, all: &[(u32, &str)]) -> fmt::Result {
    all.iter().try_for_each(|&(code, value)| pair(dxf, code, value))
}

fn point(dxf: &mut String, x: f64, y: f64) -> fmt::Result {
    pair(dxf, 10, Short(x))?;
    pair(dxf, 20, Short(y))?;
    pair(dxf, 30, 0)
}

/// A layer an element: no two are the same, in any case of letters.
fn layer_names(design: &Design) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for element in &design.elements {
        let plain: String = element
            .name
            .chars()
            .map(|c| if c.is_ascii_alphanumeric() || "-_$".contains(c) { c } else { '_' })
            .take(LONGEST_NAME)
            .collect();
        let taken = |name: &str| names.iter().any(|other| other.eq_ignore_ascii_case(name));
        let mut name = plain.clone();
        let mut number = 2;
        // Layer 0 has a meaning of its own to some readers.
        while taken(&name) || name == "0" {
            let end = format!("_{number}");
            name = plain.chars().take(LONGEST_NAME - end.len()).collect::<String>() + &end;
            number += 1;
        }
        names.push(name);
    }
    names
}
