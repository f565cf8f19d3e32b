//! `spelk export`: files for whatever comes next.

use super::board_picture::{draw, draw_batch};
use super::job_args::JobArgs;
use super::mend::What;
use super::output::{OutputArgs, Outputs};
use super::{note_drawing, own_shop, print_out};
use crate::arrange::{batch, whole};
use crate::job::Job;
use crate::proof::mend::mend;
use crate::proof::{measure, proof, rate, walls};
use crate::relief::{self, mesh::stl_of_board};
use crate::sheet::dxf::outline_dxf;
use crate::sheet::outline::outline_svg;
use crate::sheet::{Besides, json, table};
use crate::shop::Prices;
use crate::units::LengthUnit;
use crate::whole_file::ending;
use crate::words::command_line;
use anyhow::{Context as _, bail};
use clap::Args;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct ExportArgs {
    /// A design (.svg, .dxf) or a saved job (.spelk)
    #[arg(required_unless_present = "job")]
    file: Option<PathBuf>,
    /// Where to write. The ending chooses what: .svg or .dxf the outline at its finished size, .png a
    /// picture of the board, .json the proof, .csv the findings, .stl the carved surface
    #[arg(short, long, value_name = "OUT.svg")]
    output: PathBuf,
    /// Mend the outline first
    #[arg(long, value_enum)]
    mended: Option<What>,
    #[command(flatten)]
    out: OutputArgs,
    #[command(flatten)]
    job: JobArgs,
}

pub(super) fn run(args: &ExportArgs) -> anyhow::Result<ExitCode> {
    let ending = ending(&args.output);
    let known = ["svg", "dxf", "png", "json", "csv", "stl"];
    if !known.contains(&ending.as_str()) {
        bail!(command_line::no_such_ending(&args.output));
    }
    let outputs = args.out.check(&args.job.reads(args.file.as_deref()), &[&args.output])?;
    let shop = own_shop(args.job.unit.into());
    let mut job = args.job.job(args.file.as_deref(), &shop)?;
    note_drawing(&job.design().notices);
    let factor = job.factor();
    if let Some(what) = args.mended {
        let measured = measure(&job);
        job = mend(&job, &measured, &rate(&job, &measured), factor, what.into()).job;
    }
    let path = &args.output;
    if job.is_batch() {
        write_batch(&job, &shop.prices, &ending, args.job.unit.into(), path, &outputs)?;
        print_out(&format!("{}\n", path.display()))?;
        return Ok(ExitCode::SUCCESS);
    }
    match ending.as_str() {
        // An outline is asked for its size alone.
        "svg" => outputs.write(path, outline_svg(job.design(), job.factor()).as_bytes())?,
        "dxf" => outputs.write(path, outline_dxf(job.design(), job.factor()).as_bytes())?,
        ending => write_proofed(&job, ending, args.job.unit.into(), path, &outputs)?,
    }
    print_out(&format!("{}\n", path.display()))?;
    Ok(ExitCode::SUCCESS)
}

/// All pieces of a board in one file.
fn write_batch(
    job: &Job,
    prices: &Prices,
    ending: &str,
    unit: LengthUnit,
    path: &Path,
    outputs: &Outputs,
) -> anyhow::Result<()> {
    match ending {
        "svg" => outputs.write(path, outline_svg(whole(job)?.design(), 1.0).as_bytes()),
        "dxf" => outputs.write(path, outline_dxf(whole(job)?.design(), 1.0).as_bytes()),
        "png" => {
            let batch = batch(job, prices, &relief::NEVER).context(command_line::NOT_PLANNED)?;
            draw_batch(job, &batch, unit, path, outputs)
        }
        _ => bail!(command_line::ONE_PIECE_ONLY),
    }
}

/// What takes the proof of a job.
fn write_proofed(
    job: &Job,
    ending: &str,
    unit: LengthUnit,
    path: &Path,
    outputs: &Outputs,
) -> anyhow::Result<()> {
    let measured = measure(job);
    let ratings = rate(job, &measured);
    let proof = proof(job, &measured, &ratings);
    match ending {
        "json" => {
            let time = relief::time::of(job, &measured);
            let near = walls(job, &measured, &ratings);
            let json = json::proof_json(job, &proof, &Besides::of(&time, &near), unit);
            outputs.write(path, json.as_bytes())
        }
        "stl" => {
            let stl = stl_of_board(job, &measured, &proof).context(command_line::NOT_PLANNED)?;
            outputs.write(path, &stl)
        }
        "csv" => outputs.write(path, table::findings_csv(&proof, unit).as_bytes()),
        _ => draw(job, &proof, unit, path, outputs),
    }
}
