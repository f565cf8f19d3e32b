//! `spelk export`: files for whatever comes next.

use super::print_out;
use super::proof::{JobArgs, draw, tell};
use crate::proof::mend::{Mend, mend};
use crate::proof::{fit, measure, proof, rate};
use crate::relief::{self, mesh::stl_of_board};
use crate::sheet::dxf::outline_dxf;
use crate::sheet::outline::outline_svg;
use crate::sheet::{Besides, json, table};
use crate::shop::Shop;
use crate::units::LengthUnit;
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
    let mut measured = measure(&job.design, &job.treatments);
    let factor = fit::factor(&job);
    if let Some(what) = args.mended {
        let what = match what {
            MendArg::Walls => Mend::Walls,
            MendArg::Grooves => Mend::Grooves,
        };
        job = mend(&job, &measured, &rate(&job, &measured), factor, what).job;
        measured = measure(&job.design, &job.treatments);
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
            json::proof_json(
                &job,
                &proof,
                &Besides { time: Some(&relief::time::of(&job, &measured)), ..Besides::default() },
                unit,
            )
            .as_bytes(),
        ))?,
        "stl" => {
            let stl = stl_of_board(&job, &measured, &proof).context("the passes could not be planned")?;
            said(whole_file::write(path, &stl))?;
        }
        "csv" => said(whole_file::write(path, table::findings_csv(&proof, unit).as_bytes()))?,
        _ => draw(&job, &proof, unit, path).with_context(|| path.display().to_string())?,
    }
    print_out(&format!("{}\n", path.display()))?;
    Ok(ExitCode::SUCCESS)
}
