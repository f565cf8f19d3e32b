//! `spelk sizes`: one design at several sizes.

use super::print_out;
use super::proof::{JobArgs, tell};
use super::sheet::SheetArgs;
use super::write_file;
use crate::proof::sizes::{parse_sizes, sizes};
use crate::proof::{measure, rate};
use crate::sheet::{self, json, pdf, table, text};
use crate::shop::Shop;
use crate::units::LengthUnit;
use anyhow::Context as _;
use clap::Args;
use std::path::PathBuf;
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct SizesArgs {
    /// A design (.svg) or a saved job (.spelk)
    #[arg(required_unless_present = "job")]
    file: Option<PathBuf>,
    /// The sizes, apart by commas: 8in (along the board), 10in wide, 150%, drawn, fit; each with a name
    /// if wanted, as in "Small=8in"
    #[arg(long, value_name = "SIZES", default_value = "drawn,fit")]
    sizes: String,
    /// Also write a sheet for a customer
    #[arg(short, long, value_name = "OUT.pdf")]
    output: Option<PathBuf>,
    /// Add pages to the sheet that show the shop how each price comes about
    #[arg(long, requires = "output")]
    for_the_shop: bool,
    /// What the shop writes to its customer, on the sheet
    #[arg(long, value_name = "WORDS", default_value = "", requires = "output")]
    text: String,
    /// Print a table for a spreadsheet instead of text
    #[arg(long, conflicts_with = "json")]
    csv: bool,
    /// Print one JSON object instead of text
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    sheet: SheetArgs,
    #[command(flatten)]
    job: JobArgs,
}

/// Status 0 whatever the verdicts: to see an unsound size is what the list is for.
pub(super) fn run(args: &SizesArgs) -> anyhow::Result<ExitCode> {
    let (shop, notices) = Shop::of_user();
    tell(&notices);
    let job = args.job.job(args.file.as_deref(), &shop)?;
    tell(&job.design.notices);
    let unit: LengthUnit = args.job.unit.into();
    let wanted = parse_sizes(&args.sizes, unit).context("--sizes")?;
    let measured = measure(&job);
    let ratings = rate(&job, &measured);
    let time = |job: &crate::job::Job| sheet::minutes(job, &measured);
    let prices = &shop.prices;
    let rows = sizes(&job, &measured, &ratings, &wanted, prices, unit, &time).context("--sizes")?;
    if let Some(path) = &args.output {
        let mut settings = args.sheet.settings(unit)?;
        settings.customer_text.clone_from(&args.text);
        super::sheet::tell_missing(&[
            &settings.shop_name,
            &settings.customer_text,
            &job.design.name,
            &args.sizes,
        ]);
        let pdf = pdf::options_pdf(&job, &rows, prices, &settings, args.for_the_shop);
        write_file(path, &pdf)?;
    }
    let result = match (args.csv, args.json) {
        (true, _) => table::sizes_csv(&rows, unit),
        (false, true) => json::sizes_json(&job, &rows, prices, unit),
        (false, false) => text::sizes_text(&job, &rows, prices, unit),
    };
    print_out(&result)?;
    Ok(ExitCode::SUCCESS)
}
