//! `spelk advise`: the least that must change for a design to come out whole.

use super::job_args::JobArgs;
use super::output::OutputArgs;
use super::{UNSOUND, note_drawing, own_shop, print_out, rack_boards};
use crate::advice::{Means, Tried, advise};
use crate::job::saved;
use crate::proof::Severity;
use crate::relief::NEVER;
use crate::sheet::advice::{advice_json, advice_text};
use crate::units::LengthUnit;
use crate::words::command_line;
use anyhow::{Context as _, anyhow};
use clap::Args;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct AdviseArgs {
    /// A design (.svg, .dxf) or a saved job (.spelk)
    #[arg(required_unless_present = "job")]
    file: Option<PathBuf>,
    /// Print one JSON object instead of text
    #[arg(long)]
    json: bool,
    /// Write the job with the offer of this number, as the list counts them
    #[arg(long, value_name = "N", requires = "output")]
    apply: Option<usize>,
    /// Where to write that job
    #[arg(short, long, value_name = "OUT.spelk", requires = "apply")]
    output: Option<PathBuf>,
    /// Use the boards of this file instead of the shop's own boards.json
    #[arg(long, value_name = "FILE.json")]
    boards: Option<PathBuf>,
    #[command(flatten)]
    out: OutputArgs,
    #[command(flatten)]
    job: JobArgs,
}

/// Status 0 where it is not unsound, or an offer makes it so; 1 where none does.
pub(super) fn run(args: &AdviseArgs) -> anyhow::Result<ExitCode> {
    let writes: Vec<&Path> = args.output.iter().map(PathBuf::as_path).collect();
    let outputs = args.out.check(&args.job.reads(args.file.as_deref()), &writes)?;
    let shop = own_shop(args.job.unit.into());
    let job = args.job.job(args.file.as_deref(), &shop)?;
    note_drawing(&job.design().notices);
    let boards = rack_boards(args.boards.as_deref())?;
    let unit: LengthUnit = args.job.unit.into();
    let now = Tried::of(job);
    let advice = advise(&now, &Means::of(&shop, &boards), &NEVER).context("nobody calls this search off")?;
    if let (Some(number), Some(path)) = (args.apply, &args.output) {
        let offer = number.checked_sub(1).and_then(|index| advice.offers.get(index));
        let offer = offer.ok_or_else(|| anyhow!(command_line::no_offer(number, advice.offers.len())))?;
        let changed = now.job.with([offer.edit()])?;
        outputs.write(path, saved::to_text(&changed).as_bytes())?;
    }
    let money = &shop.prices.money;
    print_out(&if args.json {
        advice_json(&now.job, &now.proof, &advice, money, unit)
    } else {
        advice_text(&now.job, &now.proof, &advice, money, unit)
    })?;
    let is_helped = advice.offers.iter().any(|offer| offer.severity() < Severity::Unsound);
    Ok(match now.severity() {
        Severity::Unsound if !is_helped => ExitCode::from(UNSOUND),
        _ => ExitCode::SUCCESS,
    })
}
