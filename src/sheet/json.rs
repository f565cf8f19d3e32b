//! The proof as one JSON object, for scripts. The README documents it.
//!
//! Lengths are millimetres to a ten-thousandth, factors to a millionth; fields are in a fixed order.

use crate::job::Job;
use crate::proof::{Finding, FindingKind, FitOutcome, Proof, Severity};
use crate::units::{LengthUnit, Mm};
use serde::Serialize;

/// The object's name and version, as in its first two fields.
pub const FORMAT: &str = "spelk.proof";
/// Raised when a field changes its meaning or goes; new fields do not raise it.
pub const VERSION: u32 = 1;

#[derive(Serialize)]
struct ProofObject {
    format: &'static str,
    version: u32,
    design: DesignObject,
    size: SizeObject,
    board: BoardObject,
    fit: FitObject,
    limits: LimitsObject,
    thinnest_wall_mm: Option<f64>,
    thinnest_groove_mm: Option<f64>,
    least_sound_factor: Option<f64>,
    findings: Vec<FindingObject>,
    verdict: Severity,
}

#[derive(Serialize)]
struct DesignObject {
    name: String,
    length_mm: f64,
    width_mm: f64,
    elements: usize,
    segments: usize,
}

#[derive(Serialize)]
struct SizeObject {
    factor: f64,
    length_mm: f64,
    width_mm: f64,
}

#[derive(Serialize)]
#[expect(clippy::struct_field_names, reason = "each field names its unit, as the JSON does")]
struct BoardObject {
    length_mm: f64,
    width_mm: f64,
    thickness_mm: f64,
    length_needed_mm: f64,
    width_needed_mm: f64,
}

#[derive(Serialize)]
struct FitObject {
    outcome: FitOutcome,
    largest_factor: f64,
}

#[derive(Serialize)]
struct LimitsObject {
    along_mm: f64,
    across_mm: f64,
    source: String,
}

#[derive(Serialize)]
struct FindingObject {
    kind: FindingKind,
    severity: Severity,
    x_mm: f64,
    y_mm: f64,
    measured_mm: f64,
    limit_mm: f64,
    message: String,
    advice: String,
}

/// The proof as a JSON object with a newline at its end; messages are in `unit`.
pub fn proof_json(job: &Job, proof: &Proof, unit: LengthUnit) -> String {
    let finding = |finding: &Finding| FindingObject {
        kind: finding.kind,
        severity: finding.severity,
        x_mm: places(finding.at.x, 4),
        y_mm: places(finding.at.y, 4),
        measured_mm: mm(finding.measured),
        limit_mm: mm(finding.limit),
        message: finding.message(unit),
        advice: finding.advice(unit),
    };
    let object = ProofObject {
        format: FORMAT,
        version: VERSION,
        design: DesignObject {
            name: job.design.name.clone(),
            length_mm: mm(proof.length / proof.factor),
            width_mm: mm(proof.width / proof.factor),
            elements: job.design.elements.len(),
            segments: job.design.segment_count(),
        },
        size: SizeObject {
            factor: places(proof.factor, 6),
            length_mm: mm(proof.length),
            width_mm: mm(proof.width),
        },
        board: BoardObject {
            length_mm: mm(job.board.length),
            width_mm: mm(job.board.width),
            thickness_mm: mm(job.board.thickness),
            length_needed_mm: mm(proof.fit.length_needed),
            width_needed_mm: mm(proof.fit.width_needed),
        },
        fit: FitObject { outcome: proof.fit.outcome, largest_factor: places(proof.fit.largest_factor, 6) },
        limits: LimitsObject {
            along_mm: mm(proof.limits.along),
            across_mm: mm(proof.limits.across),
            source: proof.limits.source(unit),
        },
        thinnest_wall_mm: proof.thinnest_wall.map(mm),
        thinnest_groove_mm: proof.thinnest_groove.map(mm),
        least_sound_factor: proof
            .least_sound_factor
            .filter(|factor| factor.is_finite())
            .map(|factor| places(factor, 6)),
        findings: proof.findings.iter().map(finding).collect(),
        verdict: proof.verdict.severity,
    };
    let mut text = serde_json::to_string_pretty(&object).expect("a proof has string keys and finite numbers");
    text.push('\n');
    text
}

fn mm(length: Mm) -> f64 {
    places(length.get(), 4)
}

/// Rounded, so that the last bits of a sum do not show; never a minus zero.
fn places(value: f64, places: i32) -> f64 {
    let scale = 10f64.powi(places);
    (value * scale).round() / scale + 0.0
}
