//! `spelk sizes`: one design at several sizes.

use super::job_args::JobArgs;
use super::output::OutputArgs;
use super::sheet::SheetArgs;
use super::{note_drawing, note_missing_letters, own_shop, print_out};
use crate::advice::{Tried, at_sizes};
use crate::arrange::batch;
use crate::job::Job;
use crate::proof::sizes::{parse_sizes, sizes};
use crate::proof::{measure, rate};
use crate::relief;
use crate::sheet::{self, json, pdf, table, text};
use crate::shop::{Money, MoneyPlace, Prices, Shop};
use crate::units::LengthUnit;
use crate::words::command_line;
use anyhow::{Context as _, bail};
use clap::Args;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct SizesArgs {
    /// A design (.svg, .dxf) or a saved job (.spelk)
    #[arg(required_unless_present = "job")]
    file: Option<PathBuf>,
    /// Sizes with commas between them: 8in (along the board), 10in wide, 150%, drawn or fit. Name one as in
    /// "Small=8in"
    #[arg(long, value_name = "SIZES", default_value = "drawn,fit")]
    sizes: String,
    /// Also write an offer for a customer; of a job of several pieces it lists the pieces
    #[arg(short, long, value_name = "OUT.pdf")]
    output: Option<PathBuf>,
    /// Also write how each price is made up, for the shop alone
    #[arg(long, value_name = "PRICES.pdf")]
    for_the_shop: Option<PathBuf>,
    /// What you write to your customer on the offer
    #[arg(long, value_name = "WORDS", default_value = "", requires = "output")]
    text: String,
    /// Who the offer is for
    #[arg(long, value_name = "NAME", default_value = "", requires = "output")]
    customer: String,
    /// The day of the offer, as it is to be printed
    #[arg(long, value_name = "DATE", default_value = "", requires = "output")]
    date: String,
    /// The last day on which the offer holds
    #[arg(long, value_name = "DATE", default_value = "", requires = "output")]
    valid_until: String,
    /// Print on the offer what was found at each size
    #[arg(long, requires = "output")]
    with_findings: bool,
    /// Write money as this place does, for example de-CH (see spelk list money) [default: as in the shop's
    /// prices, else as the system does]
    #[arg(long, value_name = "PLACE")]
    money: Option<String>,
    /// Round the price to the nearest multiple of this, for example 0.05; 0 does not round [default: as the
    /// place does]
    #[arg(long, value_name = "AMOUNT")]
    cash_step: Option<f64>,
    /// Print a table for a spreadsheet instead of text
    #[arg(long, conflicts_with = "json")]
    csv: bool,
    /// Print one JSON object instead of text
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    sheet: SheetArgs,
    #[command(flatten)]
    out: OutputArgs,
    #[command(flatten)]
    job: JobArgs,
}

/// Status 0 whatever the verdicts: to see an unsound size is what the list is for.
pub(super) fn run(args: &SizesArgs) -> anyhow::Result<ExitCode> {
    let writes: Vec<&Path> = args.output.iter().chain(&args.for_the_shop).map(PathBuf::as_path).collect();
    let reads: Vec<&Path> =
        args.job.reads(args.file.as_deref()).into_iter().chain(args.sheet.reads()).collect();
    let outputs = args.out.check(&reads, &writes)?;
    let shop = own_shop(args.job.unit.into());
    let job = args.job.job(args.file.as_deref(), &shop)?;
    note_drawing(&job.design().notices);
    let unit: LengthUnit = args.job.unit.into();
    let wanted = parse_sizes(&args.sizes, unit).context("--sizes")?;
    let measured = measure(&job);
    let ratings = rate(&job, &measured);
    let now = Tried::rated(job, measured, ratings);
    let (job, measured) = (&*now.job, &*now.measured);
    let time = |job: &Job| sheet::minutes(job, measured);
    let prices = &args.prices(&shop)?;
    let rows = sizes(job, measured, &now.ratings, &wanted, prices, &time).context("--sizes")?;
    if let Some(path) = &args.output {
        let mut settings = args.sheet.settings(unit)?;
        settings.customer_text.clone_from(&args.text);
        settings.offer = args.offer();
        note_missing_letters(&pdf::missing_letters(&settings, job, &[&args.sizes]));
        let pdf = if job.is_batch() {
            // Each piece has its size: the sheet lists them.
            let batch = batch(job, prices, &relief::NEVER).context(command_line::NOT_PLANNED)?;
            pdf::pieces_pdf(job, &batch, prices, &settings)?
        } else {
            let surfaces = sheet::surfaces(&rows, measured, &relief::NEVER).unwrap_or_default();
            pdf::options_pdf(job, &rows, &surfaces, prices, &settings)
        };
        outputs.write(path, &pdf)?;
    }
    if let Some(path) = &args.for_the_shop {
        let settings = args.sheet.settings(unit)?;
        outputs.write(path, &pdf::prices_pdf(job, &rows, prices, &settings))?;
    }
    let result = if args.csv {
        table::sizes_csv(&rows, unit)
    } else {
        let offers = at_sizes(&now, &rows, &shop, &relief::NEVER).unwrap_or_default();
        if args.json {
            json::sizes_json(job, &rows, &offers, prices, unit)
        } else {
            text::sizes_text(job, &rows, &offers, prices, unit)
        }
    };
    print_out(&result)?;
    Ok(ExitCode::SUCCESS)
}

impl SizesArgs {
    /// What the offer says beside the sizes.
    fn offer(&self) -> pdf::Quote {
        pdf::Quote {
            customer: self.customer.clone(),
            date: self.date.clone(),
            valid_until: self.valid_until.clone(),
            with_findings: self.with_findings,
        }
    }

    /// The shop's prices, with money written as is asked for.
    fn prices(&self, shop: &Shop) -> anyhow::Result<Prices> {
        let mut prices = shop.prices.clone();
        if let Some(wanted) = &self.money {
            let Some(place) = MoneyPlace::of_locale(wanted) else {
                bail!(command_line::no_money(wanted));
            };
            prices.money = Money { round_up_to: prices.money.round_up_to, ..place.money.clone() };
        }
        prices.money.cash_step = self.cash_step.unwrap_or(prices.money.cash_step);
        if let Some(problem) = prices.problems().first().filter(|_| self.cash_step.is_some()) {
            bail!("--cash-step: {}", crate::words::shop::wrong(&problem.wrong, self.job.unit.into()));
        }
        Ok(prices)
    }
}
