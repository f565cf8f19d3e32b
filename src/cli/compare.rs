//! `spelk compare`: the job of each wood, with each cutter or at several sizes.

use super::job_args::JobArgs;
use super::{note_drawing, own_shop, print_out};
use crate::advice::Tried;
use crate::compare::{Between, compare};
use crate::relief::NEVER;
use crate::sheet::compare::{compare_json, compare_text};
use crate::units::LengthUnit;
use anyhow::Context as _;
use clap::{Args, ValueEnum};
use std::path::PathBuf;
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct CompareArgs {
    /// A design (.svg, .dxf) or a saved job (.spelk)
    #[arg(required_unless_present = "job")]
    file: Option<PathBuf>,
    /// What the versions differ in
    #[arg(long, value_enum, default_value_t = What::Woods)]
    between: What,
    /// Print one JSON object instead of text
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    job: JobArgs,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum What {
    /// Each wood of the shop
    Woods,
    /// Each cutter of the shop
    Cutters,
    /// Smaller and larger sizes, the least sound one and the largest for the board
    Sizes,
}

impl From<What> for Between {
    fn from(what: What) -> Between {
        match what {
            What::Woods => Between::Woods,
            What::Cutters => Between::Cutters,
            What::Sizes => Between::Sizes,
        }
    }
}

/// Status 0 whatever the verdicts: to see an unsound version is what the list is for.
pub(super) fn run(args: &CompareArgs) -> anyhow::Result<ExitCode> {
    let unit: LengthUnit = args.job.unit.into();
    let shop = own_shop(unit);
    let job = args.job.job(args.file.as_deref(), &shop)?;
    note_drawing(&job.design().notices);
    let now = Tried::of(job);
    let between = args.between.into();
    let versions = compare(&now, &shop, between, &NEVER, &|_, _| ()).context("nobody calls this off")?;
    print_out(&if args.json {
        compare_json(&now.job, &versions, &shop.prices, unit)
    } else {
        compare_text(&now.job, between, &versions, &shop.prices, unit)
    })?;
    Ok(ExitCode::SUCCESS)
}
