//! What was traced, as JSON.

use super::json::{VERSION, mm, places};
use crate::trace::{Colour, Trace};
use serde::Serialize;

/// The name of the object that tells of a trace.
pub const TRACE_FORMAT: &str = "spelk.trace";

#[derive(Serialize)]
struct TraceObject {
    format: &'static str,
    version: u32,
    design: String,
    /// Across and down.
    pixels: [u32; 2],
    size: [f64; 2],
    /// The largest pixel, millimetres.
    pixel: Option<f64>,
    tolerance: Option<f64>,
    width_within: f64,
    /// From 0 for black to 1 for white; absent where colours say what is ink.
    #[serde(skip_serializing_if = "Option::is_none")]
    level: Option<f64>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    colours: Vec<ColourObject>,
    specks: usize,
    pieces: usize,
    holes: usize,
    elements: Vec<ElementObject>,
}

#[derive(Serialize)]
struct ColourObject {
    /// sRGB.
    rgb: [u8; 3],
    /// Of the picture.
    share: f64,
    is_paper: bool,
}

#[derive(Serialize)]
struct ElementObject {
    name: String,
    /// Square millimetres.
    area: f64,
    edges: usize,
}

impl ColourObject {
    fn of(colour: &Colour) -> ColourObject {
        ColourObject { rgb: colour.rgb, share: places(colour.share, 4), is_paper: colour.is_paper }
    }
}

/// A trace as JSON; lengths in millimetres.
pub fn trace_json(trace: &Trace) -> String {
    let [pieces, holes] = trace.pieces_and_holes();
    let sharpness = trace.design.sharpness;
    let elements = trace.design.elements.iter().map(|element| ElementObject {
        name: element.name.clone(),
        area: places(element.region.area(), 4),
        edges: element.region.segment_count(),
    });
    let object = TraceObject {
        format: TRACE_FORMAT,
        version: VERSION,
        design: trace.design.name.clone(),
        pixels: trace.pixels,
        size: trace.size().map(mm),
        pixel: sharpness.map(|sharpness| mm(sharpness.pixel)),
        tolerance: sharpness.map(|sharpness| mm(sharpness.tolerance)),
        width_within: mm(trace.width_within()),
        level: trace.level.map(|level| places(level, 4)),
        colours: trace.colours.iter().map(ColourObject::of).collect(),
        specks: trace.specks,
        pieces,
        holes,
        elements: elements.collect(),
    };
    let mut text = serde_json::to_string_pretty(&object).expect("a trace has string keys and finite numbers");
    text.push('\n');
    text
}
