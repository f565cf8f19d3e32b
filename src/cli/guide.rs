//! `spelk guide`: the guide of the program, on paper.

use super::output::OutputArgs;
use super::print_out;
use super::sheet::PaperArg;
use crate::sheet::pdf::guide_pdf;
use crate::words::command_line;
use clap::Args;
use std::path::PathBuf;
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct GuideArgs {
    /// Where to write it
    #[arg(short, long, value_name = "OUT.pdf")]
    output: PathBuf,
    /// Paper in the printer
    #[arg(long, value_enum, default_value = "a4")]
    paper: PaperArg,
    #[command(flatten)]
    out: OutputArgs,
}

pub(super) fn run(args: &GuideArgs) -> anyhow::Result<ExitCode> {
    let outputs = args.out.check(&[], &[&args.output])?;
    outputs.write(&args.output, &guide_pdf(args.paper.into()))?;
    print_out(&format!("{}\n", command_line::wrote_guide(&args.output)))?;
    Ok(ExitCode::SUCCESS)
}
