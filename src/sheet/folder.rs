//! A folder of drawings, proofed one after the other, as text for a terminal and as JSON.

use super::json::{VERSION, mm};
use crate::proof::{Proof, Severity};
use crate::units::LengthUnit;
use crate::words::{self, sheets::folder as said};
use serde::Serialize;
use std::fmt::Write as _;
use std::sync::Arc;

/// The name of the object that tells of a folder.
pub const FOLDER_FORMAT: &str = "spelk.folder";

/// A file of the folder.
#[derive(Debug)]
pub struct FileRow {
    /// Its name.
    pub file: String,
    /// Its proof with the best offer in words, or why it could not be read.
    pub proofed: Result<(Arc<Proof>, Option<String>), String>,
}

impl FileRow {
    /// How serious its worst finding is; `None` where it could not be read.
    pub fn severity(&self) -> Option<Severity> {
        self.proofed.as_ref().ok().map(|(proof, _)| proof.verdict.severity)
    }
}

/// The files as a person reads them: a line each with size and verdict, and what would help under it.
pub fn folder_text(rows: &[FileRow], unit: LengthUnit) -> String {
    let widest = rows.iter().map(|row| row.file.chars().count()).max().unwrap_or_default().clamp(4, 32);
    let mut text = String::new();
    for row in rows {
        let told = match &row.proofed {
            Ok((proof, _)) => {
                let size = words::sizes::measures([proof.length, proof.width], unit);
                format!("{size:<24}  {}", words::verdict::sentence(&proof.verdict, unit))
            }
            Err(why) => said::not_read(why),
        };
        writeln!(text, "{:<widest$}  {told}", row.file).expect("writing to a string does not fail");
        if let Ok((_, Some(offer))) = &row.proofed {
            writeln!(text, "{:widest$}  {offer}", "").expect("writing to a string does not fail");
        }
    }
    let count = |severity| rows.iter().filter(|row| row.severity() == severity).count();
    let counted =
        [Severity::Sound, Severity::Chancy, Severity::Unsound].map(|severity| count(Some(severity)));
    writeln!(text, "\n{}", said::counted(counted, count(None))).expect("writing to a string does not fail");
    text
}

/// The same as one JSON object; messages are in `unit`.
pub fn folder_json(rows: &[FileRow], unit: LengthUnit) -> String {
    #[derive(Serialize)]
    struct FolderObject {
        format: &'static str,
        version: u32,
        files: Vec<RowObject>,
    }
    #[derive(Serialize)]
    struct RowObject {
        file: String,
        verdict: Option<Severity>,
        message: String,
        length_mm: Option<f64>,
        width_mm: Option<f64>,
        would_help: Option<String>,
    }
    let row = |row: &FileRow| match &row.proofed {
        Ok((proof, offer)) => RowObject {
            file: row.file.clone(),
            verdict: Some(proof.verdict.severity),
            message: words::verdict::sentence(&proof.verdict, unit),
            length_mm: Some(mm(proof.length)),
            width_mm: Some(mm(proof.width)),
            would_help: offer.clone(),
        },
        Err(why) => RowObject {
            file: row.file.clone(),
            verdict: None,
            message: why.clone(),
            length_mm: None,
            width_mm: None,
            would_help: None,
        },
    };
    let object =
        FolderObject { format: FOLDER_FORMAT, version: VERSION, files: rows.iter().map(row).collect() };
    let mut text =
        serde_json::to_string_pretty(&object).expect("a folder has string keys and finite numbers");
    text.push('\n');
    text
}
