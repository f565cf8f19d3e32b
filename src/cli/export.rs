//! `spelk export`: files for whatever comes next.

use super::print_out;
use super::proof::{JobArgs, draw, tell};
use crate::job::Job;
use crate::proof::mend::{Mend, mend};
use crate::proof::{Measured, Proof, fit, measure, proof, rate};
use crate::relief::{self, HeightField};
use crate::sheet::dxf::outline_dxf;
use crate::sheet::outline::outline_svg;
use crate::sheet::{json, table};
use crate::shop::Shop;
use crate::units::{LengthUnit, Mm};
use crate::whole_file;
use anyhow::{Context as _, bail};
use clap::{Args, ValueEnum};
use std::path::PathBuf;
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct ExportArgs {
    /// A design (.svg) or a saved job (.spelk)
    #[arg(required_unless_present = "job")]
    file: Option<PathBuf>,
    /// Where to write it; the ending says what: .svg or .dxf the outline at its finished size, .png a
    /// picture of the board, .json the proof, .csv the findings, .stl the carved surface
    #[arg(short, long, value_name = "OUT.svg")]
    output: PathBuf,
    /// Mend the outline first
    #[arg(long, value_enum)]
    mended: Option<MendArg>,
    #[command(flatten)]
    job: JobArgs,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum MendArg {
    /// Thicken walls that are under their limit
    Walls,
    /// Widen grooves the cutter cannot enter
    Grooves,
}

pub(super) fn run(args: &ExportArgs) -> anyhow::Result<ExitCode> {
    let ending = args.output.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    let ending = ending.unwrap_or_default();
    let known = ["svg", "dxf", "png", "json", "csv", "stl"];
    if !known.contains(&ending.as_str()) {
        let path = args.output.display();
        bail!("{path}: the ending says what to write; there are .svg, .dxf, .png, .json, .csv and .stl");
    }
    let (shop, notices) = Shop::of_user();
    tell(&notices);
    let mut job = args.job.job(args.file.as_deref(), &shop)?;
    tell(&job.design.notices);
    let mut measured = measure(&job.design, &job.treatments)?;
    let factor = fit::factor(&job);
    if let Some(what) = args.mended {
        let what = match what {
            MendArg::Walls => Mend::Walls,
            MendArg::Grooves => Mend::Grooves,
        };
        job = mend(&job, &measured, &rate(&job, &measured), factor, what).job;
        measured = measure(&job.design, &job.treatments)?;
    }
    let unit: LengthUnit = args.job.unit.into();
    let proof = proof(&job, &measured, &rate(&job, &measured));
    let path = &args.output;
    let said = |result: std::io::Result<()>| result.with_context(|| path.display().to_string());
    match ending.as_str() {
        "svg" => said(whole_file::write(path, outline_svg(&job.design, proof.factor).as_bytes()))?,
        "dxf" => said(whole_file::write(path, outline_dxf(&job.design, proof.factor).as_bytes()))?,
        "json" => said(whole_file::write(
            path,
            json::proof_json(&job, &proof, Some(&relief::time::of(&job, &measured)), unit).as_bytes(),
        ))?,
        "stl" => said(whole_file::write(path, &stl(&job, &measured, &proof)?))?,
        "csv" => said(whole_file::write(path, table::findings_csv(&proof, unit).as_bytes()))?,
        _ => draw(&job, &proof, unit, path).with_context(|| path.display().to_string())?,
    }
    print_out(&format!("{}\n", path.display()))?;
    Ok(ExitCode::SUCCESS)
}

/// The carved surface as triangles.
fn stl(job: &Job, measured: &Measured, proof: &Proof) -> anyhow::Result<Vec<u8>> {
    // Fine enough for the cutter's own marks, and a file of no more than some tens of megabytes.
    let cells = job.board.length.get() * job.board.width.get() / MOST_CELLS;
    let pitch = (job.cutter.shape.diameter().get() / 8.0).clamp(0.1, 1.0).max(cells.sqrt());
    let mut field = HeightField::of_board(job, Mm::new(pitch));
    let plan = relief::plan(job, measured, &relief::NEVER).context("the passes could not be planned")?;
    relief::field::carve(&mut field, &plan, &relief::NEVER);
    field.snipe(proof);
    let mut bytes = Vec::new();
    relief::mesh::write_stl(&field, &mut bytes)?;
    Ok(bytes)
}

/// Cells of a surface that is written, 200 bytes each.
const MOST_CELLS: f64 = 300_000.0;
