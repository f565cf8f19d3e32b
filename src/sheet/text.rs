//! The proof as text, for a terminal.

use crate::job::{Ends, Job};
use crate::notice::Notice;
use crate::proof::{Aspect, Finding, FitOutcome, Proof, Severity, percent_down, percent_up};
use crate::units::{LengthUnit, Mm, trimmed};
use std::fmt::{self, Write as _};

/// How many findings of one kind and severity are written out before the rest are only counted.
const SHOWN_OF_A_KIND: usize = 5;

/// The proof as a person reads it in a terminal: verdict first, then size, fit, limits and findings.
pub fn proof_text(job: &Job, proof: &Proof, unit: LengthUnit) -> String {
    let mut text = String::new();
    write_proof(&mut text, job, proof, unit).expect("writing to a string does not fail");
    text
}

fn write_proof(text: &mut String, job: &Job, proof: &Proof, unit: LengthUnit) -> fmt::Result {
    let show = |length| unit.show(length);
    writeln!(text, "{}", proof.verdict.sentence(unit))?;
    let advice = proof.verdict.advice(unit);
    if !advice.is_empty() {
        writeln!(text, "{advice}")?;
    }
    writeln!(text)?;
    let row = |text: &mut String, name: &str, value: String| writeln!(text, "{name:<12}{value}");
    let elements = job.design.elements.len();
    let segments = job.design.segment_count();
    row(
        text,
        "design",
        format!(
            "{}: {}, {segments} edges",
            job.design.name,
            if elements == 1 { "1 element".to_owned() } else { format!("{elements} elements") }
        ),
    )?;
    row(
        text,
        "size",
        format!(
            "{} x {}, {} % of the drawing",
            show(proof.length),
            show(proof.width),
            trimmed(proof.factor * 100.0, 1)
        ),
    )?;
    let board = &job.board;
    row(
        text,
        "board",
        format!(
            "{} x {} x {}, {}",
            show(board.length),
            show(board.width),
            show(board.thickness),
            job.wood.name
        ),
    )?;
    let ends = match job.ends {
        Ends::Held => format!("held, {} extra at each end", show(job.machine.roller_allowance)),
        Ends::Free => format!("free, {:.0} % of the design in the snipe zones", proof.sniped_share * 100.0),
    };
    row(text, "ends", ends)?;
    row(
        text,
        "needs",
        format!("a board of {} x {}", show(proof.fit.length_needed), show(proof.fit.width_needed)),
    )?;
    let fit = match proof.fit.outcome {
        FitOutcome::Fits => {
            format!("fits; the largest this board takes is {} %", percent_down(proof.fit.largest_factor))
        }
        FitOutcome::Shrink => {
            format!(
                "does not fit; the largest this board takes is {} %",
                percent_down(proof.fit.largest_factor)
            )
        }
        FitOutcome::NoRoom => "allowance and margins leave no room on this board".to_owned(),
    };
    row(text, "fit", fit)?;
    row(text, "cutter", format!("{}, {} deep", job.cutter.name, show(job.depth)))?;
    row(
        text,
        "limits",
        format!(
            "walls {} along the grain, {} across; grooves {}",
            unit.show_fine(proof.limits.along),
            unit.show_fine(proof.limits.across),
            unit.show_fine(proof.limits.groove)
        ),
    )?;
    row(text, "", proof.limits.source(unit))?;
    let thinnest =
        |length: Option<_>| length.map_or_else(|| "none".to_owned(), |length| unit.show_fine(length));
    row(
        text,
        "thinnest",
        format!("wall {}, groove {}", thinnest(proof.thinnest_wall), thinnest(proof.thinnest_groove)),
    )?;
    let sound_from = match proof.least_sound_factor {
        None => "nothing is thin at any size".to_owned(),
        Some(factor) if factor.is_infinite() => "no size: two places touch".to_owned(),
        Some(factor) => {
            format!("{} %, {} long", percent_up(factor), show(proof.length * (factor / proof.factor)))
        }
    };
    row(text, "sound from", sound_from)?;
    if !proof.findings.is_empty() {
        writeln!(text)?;
        write_findings(text, &proof.findings, unit)?;
    }
    Ok(())
}

/// Findings are worst first, so those of one severity and kind stand together.
fn write_findings(text: &mut String, findings: &[Finding], unit: LengthUnit) -> fmt::Result {
    for group in findings.chunk_by(|a, b| (a.severity, a.kind) == (b.severity, b.kind)) {
        for finding in group.iter().take(SHOWN_OF_A_KIND) {
            let mark = match finding.severity {
                Severity::Unsound => "UNSOUND",
                Severity::Chancy => "chancy",
                Severity::Sound => "note",
            };
            let place = match finding.aspect {
                Aspect::Design => {
                    let (x, y) = (Mm::new(finding.at.x), Mm::new(finding.at.y));
                    format!(", at {}, {}", unit.number(x), unit.show(y))
                }
                _ => String::new(),
            };
            let element = finding.element.as_ref().map_or_else(String::new, |name| format!(" ({name})"));
            writeln!(text, "{mark:<9}{}{place}{element}", finding.message(unit))?;
        }
        if let Some(first) = group.first() {
            if group.len() > SHOWN_OF_A_KIND {
                writeln!(text, "{:<9}and {} more of this kind", "", group.len() - SHOWN_OF_A_KIND)?;
            }
            writeln!(text, "{:<9}{}", "", first.advice(unit))?;
        }
    }
    Ok(())
}

/// A notice in one line.
pub fn notice_text(notice: &Notice) -> String {
    if notice.hint.is_empty() {
        notice.message.clone()
    } else {
        format!("{}: {}", notice.message, notice.hint)
    }
}
