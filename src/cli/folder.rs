//! `spelk proof FOLDER`: every drawing and saved job of a folder, proofed one after the other.

use super::job_args::JobArgs;
use super::{UNSOUND, own_shop, print_out, rack_boards};
use crate::advice::{Means, Tried, advise};
use crate::job::saved::OPENED;
use crate::proof::Severity;
use crate::relief::NEVER;
use crate::sheet::folder::{FileRow, folder_json, folder_text};
use crate::shop::{RackBoard, Shop};
use crate::units::LengthUnit;
use crate::whole_file::ending;
use crate::words;
use crate::words::command_line;
use anyhow::{Context as _, bail};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Status 0 where every file was read and none is unsound, else 1. Files in folders inside it are left alone.
pub(super) fn run(folder: &Path, args: &JobArgs, json: bool) -> anyhow::Result<ExitCode> {
    let unit: LengthUnit = args.unit.into();
    let shop = own_shop(unit);
    let boards = rack_boards(None)?;
    let files = files_of(folder)?;
    if files.is_empty() {
        bail!(command_line::no_drawings_in(folder));
    }
    let rows: Vec<FileRow> = files.iter().map(|file| row(file, args, &shop, &boards, unit)).collect();
    print_out(&if json { folder_json(&rows, unit) } else { folder_text(&rows, unit) })?;
    let is_good = |row: &FileRow| row.severity().is_some_and(|severity| severity < Severity::Unsound);
    Ok(if rows.iter().all(is_good) { ExitCode::SUCCESS } else { ExitCode::from(UNSOUND) })
}

/// The drawings and jobs of a folder, by name; what else lies in it is passed over.
fn files_of(folder: &Path) -> anyhow::Result<Vec<PathBuf>> {
    let entries = fs::read_dir(folder).with_context(|| folder.display().to_string())?;
    let is_wanted = |path: &PathBuf| path.is_file() && OPENED.contains(&ending(path).as_str());
    let mut files: Vec<PathBuf> = entries.flatten().map(|entry| entry.path()).filter(is_wanted).collect();
    files.sort();
    Ok(files)
}

fn row(file: &Path, args: &JobArgs, shop: &Shop, boards: &[RackBoard], unit: LengthUnit) -> FileRow {
    let name = file.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let proofed = match args.job(Some(file), shop) {
        Ok(job) => {
            let now = Tried::of(job);
            let advice = advise(&now, &Means::of(shop, boards), &NEVER);
            let best = advice.and_then(|advice| advice.offers.into_iter().next());
            let offer = best.map(|best| words::advice::offer(&best, &shop.prices.money, unit));
            Ok((now.proof, offer))
        }
        // The file's name stands before it already.
        Err(error) => Err(error.root_cause().to_string()),
    };
    FileRow { file: name, proofed }
}
