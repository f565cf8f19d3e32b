//! A folder of drawings and saved jobs, each proofed by itself, as text for a terminal and as JSON.

use super::json::{VERSION, mm, places};
use super::picture::{DesignPaths, Picture, Theme, View, design_on_board};
use crate::advice::{Means, Tried, advise};
use crate::compare::LimitedWall;
use crate::file_name::name_of;
use crate::job::Job;
use crate::job::saved::OPENED;
use crate::proof::{Proof, Severity, measure_unless, rate_unless};
use crate::units::{LengthUnit, Mm};
use crate::whole_file::ending;
use crate::words::{self, sheets::folder as said};
use serde::Serialize;
use std::borrow::Borrow;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

/// The name of the object that tells of a folder.
pub const FOLDER_FORMAT: &str = "spelk.folder";

/// A file of the folder.
#[derive(Clone, Debug)]
pub struct FileRow {
    /// Its name.
    pub file: String,
    /// What came of it, or why it could not be read.
    pub proofed: Result<ProofedFile, String>,
}

/// What came of a file.
#[derive(Clone, Debug)]
pub struct ProofedFile {
    /// Its job.
    pub job: Arc<Job>,
    /// The proof of it; of several pieces, of the one in hand.
    pub proof: Arc<Proof>,
    /// The wall that its verdict goes by, or its thinnest; `None` where it has none.
    pub wall: Option<LimitedWall>,
    /// Minutes at the machine; `None` where they cannot be worked out.
    pub minutes: Option<f64>,
    /// The best offer in words; `None` where there is none.
    pub would_help: Option<String>,
}

/// The drawings and saved jobs of a folder, by name. What else lies in it is passed over, and so are the folders in it.
///
/// # Errors
///
/// Where the folder cannot be read.
pub fn files_of(folder: &Path) -> std::io::Result<Vec<PathBuf>> {
    let is_wanted = |path: &PathBuf| path.is_file() && OPENED.contains(&ending(path).as_str());
    let entries = std::fs::read_dir(folder)?;
    let mut files: Vec<PathBuf> = entries.flatten().map(|entry| entry.path()).filter(is_wanted).collect();
    files.sort();
    Ok(files)
}

impl FileRow {
    /// Proofs what was read of a file, and tries what would help; `None` where it is called off. What would help is
    /// worded in `unit`. As long as a proof, a plan of the passes and the advice take.
    pub fn of(
        path: &Path,
        read: Result<Arc<Job>, String>,
        means: &Means,
        unit: LengthUnit,
        cancel: &AtomicBool,
    ) -> Option<FileRow> {
        Some(match read {
            Ok(job) => FileRow { file: name_of(path), proofed: Ok(proofed(job, means, unit, cancel)?) },
            Err(why) => FileRow::not_read(path, why),
        })
    }

    /// A file that could not be read, and why.
    pub fn not_read(path: &Path, why: String) -> FileRow {
        FileRow { file: name_of(path), proofed: Err(why) }
    }

    /// How serious its worst finding is; `None` where it could not be read.
    pub fn severity(&self) -> Option<Severity> {
        self.proofed.as_ref().ok().map(|proofed| proofed.proof.verdict.severity)
    }
}

fn proofed(job: Arc<Job>, means: &Means, unit: LengthUnit, cancel: &AtomicBool) -> Option<ProofedFile> {
    let measured = measure_unless(&job, cancel)?;
    let ratings = rate_unless(&job, &measured, cancel)?;
    let now = Tried::rated(job, measured, ratings);
    let best = advise(&now, means, cancel)?.offers.into_iter().next();
    Some(ProofedFile {
        wall: LimitedWall::of(&now.proof),
        minutes: now.minutes(cancel),
        would_help: best.map(|best| words::advice::offer(&best, &means.shop.prices.money, unit)),
        job: now.job,
        proof: now.proof,
    })
}

impl ProofedFile {
    /// The design on its board, as large as goes into so many pixels.
    pub fn picture(&self, [width, height]: [u32; 2], theme: Theme) -> Picture {
        let board = self.job.board();
        let scale = (f64::from(width) / board.length.get()).min(f64::from(height) / board.width.get());
        #[expect(clippy::cast_sign_loss, reason = "a board has no negative side")]
        let pixels = |side: Mm| (side.get() * scale).round().max(1.0) as u32;
        let size = [pixels(board.length), pixels(board.width)];
        let view = View { theme, ..View::of_board(board, size, 0.0) };
        design_on_board(&self.job, &DesignPaths::new(self.job.design()), &self.proof, &view)
    }
}

/// How many files are sound, chancy and unsound, and how many could not be read: a sentence with its full stop.
pub fn counted(rows: &[impl Borrow<FileRow>]) -> String {
    let count = |severity| rows.iter().filter(|row| (*row).borrow().severity() == severity).count();
    let proofed =
        [Severity::Sound, Severity::Chancy, Severity::Unsound].map(|severity| count(Some(severity)));
    said::counted(proofed, count(None))
}

/// The files as a person reads them: a line each with size, time and verdict, and what would help under it.
pub fn folder_text(rows: &[FileRow], unit: LengthUnit) -> String {
    let widest = rows.iter().map(|row| row.file.chars().count()).max().unwrap_or_default().clamp(4, 32);
    let size =
        |proofed: &ProofedFile| words::sizes::measures([proofed.proof.length, proofed.proof.width], unit);
    let sizes = rows.iter().filter_map(|row| Some(size(row.proofed.as_ref().ok()?).chars().count()));
    let size_wide = sizes.max().unwrap_or_default();
    let mut text = String::new();
    for row in rows {
        let told = match &row.proofed {
            Ok(proofed) => {
                let (size, time) = (size(proofed), words::sizes::minutes(proofed.minutes));
                let verdict = words::verdict::sentence(&proofed.proof.verdict, unit);
                format!("{size:<size_wide$}  {time:>11}  {verdict}")
            }
            Err(why) => said::not_read(why),
        };
        writeln!(text, "{:<widest$}  {told}", row.file).expect("writing to a string does not fail");
        if let Ok(ProofedFile { would_help: Some(offer), .. }) = &row.proofed {
            writeln!(text, "{:widest$}  {offer}", "").expect("writing to a string does not fail");
        }
    }
    writeln!(text, "\n{}", counted(rows)).expect("writing to a string does not fail");
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
    #[derive(Default, Serialize)]
    struct RowObject {
        file: String,
        verdict: Option<Severity>,
        message: String,
        length_mm: Option<f64>,
        width_mm: Option<f64>,
        wall_mm: Option<f64>,
        wall_limit_mm: Option<f64>,
        minutes: Option<f64>,
        would_help: Option<String>,
    }
    let row = |row: &FileRow| match &row.proofed {
        Ok(ProofedFile { proof, wall, minutes, would_help, .. }) => RowObject {
            file: row.file.clone(),
            verdict: Some(proof.verdict.severity),
            message: words::verdict::sentence(&proof.verdict, unit),
            length_mm: Some(mm(proof.length)),
            width_mm: Some(mm(proof.width)),
            wall_mm: wall.map(|wall| mm(wall.width)),
            wall_limit_mm: wall.map(|wall| mm(wall.limit)),
            minutes: minutes.map(|minutes| places(minutes, 2)),
            would_help: would_help.clone(),
        },
        Err(why) => RowObject { file: row.file.clone(), message: why.clone(), ..RowObject::default() },
    };
    let object =
        FolderObject { format: FOLDER_FORMAT, version: VERSION, files: rows.iter().map(row).collect() };
    let mut text =
        serde_json::to_string_pretty(&object).expect("a folder has string keys and finite numbers");
    text.push('\n');
    text
}
