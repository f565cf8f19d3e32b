//! `spelk rack`: which board of the rack takes this design?

use super::proof::{JobArgs, tell};
use super::{UNSOUND, print_out};
use crate::proof::{Severity, measure, rack::rack};
use crate::sheet::{json, text};
use crate::shop::{RackBoard, Shop, config_folder, open_rack, rack_from_text};
use crate::units::LengthUnit;
use anyhow::Context as _;
use clap::Args;
use std::path::PathBuf;
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct RackArgs {
    /// A design (.svg, .dxf) or a saved job (.spelk)
    #[arg(required_unless_present = "job")]
    file: Option<PathBuf>,
    /// Take the boards from this file instead of the shop's own boards.json
    #[arg(long, value_name = "FILE.json")]
    boards: Option<PathBuf>,
    /// Print one JSON object instead of text
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    job: JobArgs,
}

/// Status 0 where a board takes the design sound or chancy, 1 where none does.
pub(super) fn run(args: &RackArgs) -> anyhow::Result<ExitCode> {
    let (shop, notices) = Shop::of_user();
    tell(&notices);
    let job = args.job.job(args.file.as_deref(), &shop)?;
    tell(&job.design.notices);
    let boards = args.boards()?;
    let measured = measure(&job.design, &job.treatments)?;
    let rows = rack(&job, &measured, &boards, &shop);
    let unit: LengthUnit = args.job.unit.into();
    let result = if args.json { json::rack_json(&rows, unit) } else { text::rack_text(&rows, unit) };
    print_out(&result)?;
    let good = rows.iter().any(|row| row.takes_it && row.severity < Severity::Unsound);
    Ok(if good { ExitCode::SUCCESS } else { ExitCode::from(UNSOUND) })
}

impl RackArgs {
    fn boards(&self) -> anyhow::Result<Vec<RackBoard>> {
        let Some(path) = &self.boards else {
            return Ok(config_folder().map_or_else(|| Ok(Vec::new()), |folder| open_rack(&folder))?);
        };
        let text =
            std::fs::read_to_string(path).with_context(|| format!("{} cannot be read", path.display()))?;
        Ok(rack_from_text(path, &text)?)
    }
}
