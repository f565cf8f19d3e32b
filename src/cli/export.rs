//! `spelk export`: files for whatever comes next.

use super::batch_files::{write_all, write_each};
use super::board_picture::draw;
use super::job_args::JobArgs;
use super::mend::What;
use super::output::{OutputArgs, Outputs};
use super::{note_drawing, own_shop, print_out};
use crate::job::Job;
use crate::proof::mend::mend;
use crate::proof::{measure, proof, rate, walls};
use crate::relief::{self, NEVER, mesh::stl_of_board};
use crate::sheet::batch::{BatchFacts, paths_of_each};
use crate::sheet::dxf::outline_dxf;
use crate::sheet::outline::outline_svg;
use crate::sheet::{Besides, json, table};
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
    /// Write a file for each piece of the job, numbered and called after its piece, instead of one with all
    #[arg(long)]
    each: bool,
    /// Mend the outline first
    #[arg(long, value_enum)]
    mended: Option<What>,
    #[command(flatten)]
    out: OutputArgs,
    #[command(flatten)]
    job: JobArgs,
}

/// What can be written, by the ending of its file.
pub(super) const ENDINGS: [&str; 6] = ["svg", "dxf", "png", "json", "csv", "stl"];

pub(super) fn run(args: &ExportArgs) -> anyhow::Result<ExitCode> {
    let ending = ending(&args.output);
    if !ENDINGS.contains(&ending.as_str()) {
        bail!(command_line::no_such_ending(&args.output));
    }
    let reads = args.job.reads(args.file.as_deref());
    // What each piece is called is known once the job is read.
    let early = if args.each { None } else { Some(args.out.check(&reads, &[&args.output])?) };
    let shop = own_shop(args.job.unit.into());
    let mut job = args.job.job(args.file.as_deref(), &shop)?;
    note_drawing(&job.design().notices);
    let factor = job.factor();
    if let Some(what) = args.mended {
        let measured = measure(&job);
        job = mend(&job, &measured, &rate(&job, &measured), factor, what.into()).job;
    }
    let (path, unit) = (&args.output, args.job.unit.into());
    let paths = if args.each { paths_of_each(&job, path) } else { vec![path.clone()] };
    let outputs = match early {
        Some(outputs) => outputs,
        None => args.out.check(&reads, &paths.iter().map(PathBuf::as_path).collect::<Vec<&Path>>())?,
    };
    // An outline is asked for its size alone.
    let needs_facts = job.is_batch() && !["svg", "dxf"].contains(&ending.as_str());
    let facts = needs_facts.then(|| BatchFacts::as_it_lies(&job, &shop.prices, &NEVER)).flatten();
    if args.each {
        write_each(&job, facts.as_ref().map(|facts| &facts.batch), &ending, unit, &paths, &outputs)?;
    } else if job.is_batch() {
        let arranged = facts.as_ref().map(|facts| facts.arranged(&job, &shop.prices.money));
        write_all(&job, arranged.as_ref(), &ending, unit, path, &outputs)?;
    } else {
        write_job(&job, &ending, unit, path, &outputs)?;
    }
    for path in &paths {
        print_out(&format!("{}\n", path.display()))?;
    }
    Ok(ExitCode::SUCCESS)
}

/// A job of one piece, as the ending says.
pub(super) fn write_job(
    job: &Job,
    ending: &str,
    unit: LengthUnit,
    path: &Path,
    outputs: &Outputs,
) -> anyhow::Result<()> {
    match ending {
        "svg" => outputs.write(path, outline_svg(job.design(), job.factor()).as_bytes()),
        "dxf" => outputs.write(path, outline_dxf(job.design(), job.factor()).as_bytes()),
        ending => write_proofed(job, ending, unit, path, outputs),
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
