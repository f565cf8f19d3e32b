//! What was traced, as JSON.

use super::json::{VERSION, mm, places};
use crate::trace::Trace;
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
    level: f64,
    specks: usize,
    pieces: usize,
    holes: usize,
    elements: Vec<ElementObject>,
}

#[derive(Serialize)]
struct ElementObject {
    name: String,
    /// Square millimetres.
    area: f64,
    edges: usize,
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
        level: places(trace.level, 4),
        specks: trace.specks,
        pieces,
        holes,
        elements: elements.collect(),
    };
    let mut text = serde_json::to_string_pretty(&object).expect("a trace has string keys and finite numbers");
    text.push('\n');
    text
}
