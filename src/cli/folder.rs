//! `spelk proof FOLDER`: every drawing and saved job of a folder, proofed one after the other.

use super::job_args::JobArgs;
use super::output::OutputArgs;
use super::{UNSOUND, note_missing_letters, own_shop, print_out, rack_boards};
use crate::advice::Means;
use crate::file_name::name_of;
use crate::proof::Severity;
use crate::relief::NEVER;
use crate::sheet::folder::{FileRow, files_of, folder_json, folder_text};
use crate::sheet::pdf::{Paper, SheetSettings, folder_pdf, missing_in_folder};
use crate::units::LengthUnit;
use crate::words::command_line;
use anyhow::{Context as _, bail};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

/// What is written of a folder.
pub(super) struct FolderOutput<'a> {
    /// Whether one JSON object is printed instead of text.
    pub(super) json: bool,
    /// Where the table with pictures goes.
    pub(super) table: Option<&'a Path>,
    pub(super) out: &'a OutputArgs,
}

/// Status 0 where every file was read and none is unsound, else 1. Files in folders inside it are left alone.
pub(super) fn run(folder: &Path, args: &JobArgs, wanted: &FolderOutput) -> anyhow::Result<ExitCode> {
    let unit: LengthUnit = args.unit.into();
    let shop = own_shop(unit);
    let boards = rack_boards(None)?;
    let files = files_of(folder).with_context(|| folder.display().to_string())?;
    if files.is_empty() {
        bail!(command_line::no_drawings_in(folder));
    }
    let reads: Vec<&Path> = args.reads(None).into_iter().chain(files.iter().map(PathBuf::as_path)).collect();
    let outputs = wanted.out.check(&reads, wanted.table.as_slice())?;
    let means = Means::of(&shop, &boards);
    let row = |file: &PathBuf| {
        // The file's name stands before it already.
        let read = args.job(Some(file), &shop).map(Arc::new).map_err(|error| error.root_cause().to_string());
        FileRow::of(file, read, &means, unit, &NEVER)
    };
    let rows: Vec<FileRow> = files.iter().filter_map(row).collect();
    if let Some(table) = wanted.table {
        let settings = SheetSettings { paper: Paper::beside(unit), unit, ..SheetSettings::default() };
        let name = name_of(&folder.canonicalize()?);
        note_missing_letters(&missing_in_folder(&name, &rows, &settings));
        outputs.write(table, &folder_pdf(&name, &rows, &settings))?;
    }
    print_out(&if wanted.json { folder_json(&rows, unit) } else { folder_text(&rows, unit) })?;
    let is_good = |row: &FileRow| row.severity().is_some_and(|severity| severity < Severity::Unsound);
    Ok(if rows.iter().all(is_good) { ExitCode::SUCCESS } else { ExitCode::from(UNSOUND) })
}
