//! `spelk mend`: thicken thin walls or widen blocked grooves, and write the outline.

use super::job_args::JobArgs;
use super::output::OutputArgs;
use super::{note_drawing, own_shop, print_out};
use crate::proof::mend::{Mend, mend};
use crate::proof::{measure, rate};
use crate::sheet::outline::outline_svg;
use crate::words;
use clap::{Args, ValueEnum};
use std::fmt::Write as _;
use std::path::PathBuf;
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct MendArgs {
    /// A design (.svg, .dxf) or a saved job (.spelk)
    #[arg(required_unless_present = "job")]
    file: Option<PathBuf>,
    /// Where to write the mended outline, at its finished size
    #[arg(short, long, value_name = "OUT.svg")]
    output: PathBuf,
    /// What to mend
    #[arg(long, value_enum, default_value = "walls")]
    what: What,
    #[command(flatten)]
    out: OutputArgs,
    #[command(flatten)]
    job: JobArgs,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum What {
    /// Thicken walls that are under their limit
    Walls,
    /// Widen grooves that the cutter cannot enter
    Grooves,
}

impl From<What> for Mend {
    fn from(what: What) -> Mend {
        match what {
            What::Walls => Mend::Walls,
            What::Grooves => Mend::Grooves,
        }
    }
}

pub(super) fn run(args: &MendArgs) -> anyhow::Result<ExitCode> {
    let outputs = args.out.check(&args.job.reads(args.file.as_deref()), &[&args.output])?;
    let shop = own_shop(args.job.unit.into());
    let job = args.job.job(args.file.as_deref(), &shop)?;
    note_drawing(&job.design().notices);
    let measured = measure(&job);
    let ratings = rate(&job, &measured);
    let factor = job.factor();
    let mended = mend(&job, &measured, &ratings, factor, args.what.into());
    outputs.write(&args.output, outline_svg(mended.job.design(), factor).as_bytes())?;
    let mut text = format!("{}\n", words::mend::done(&mended));
    if !mended.reshaped.is_empty() {
        writeln!(text, "{}", words::mend::reshaped(&mended.reshaped))?;
    }
    print_out(&text)?;
    Ok(ExitCode::SUCCESS)
}
