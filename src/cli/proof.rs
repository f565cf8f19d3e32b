//! `spelk proof`: a design or a saved job to its proof.

use super::board_picture::draw;
use super::folder::{self, FolderOutput};
use super::job_args::JobArgs;
use super::output::OutputArgs;
use super::timings::{Clock, Stage};
use super::{UNSOUND, note_drawing, own_shop, print_out, print_with, rack_boards, say};
use crate::advice::{Means, Tried, advise};
use crate::proof::carrier::carrier;
use crate::proof::{Severity, measure, rate, uncut, walls};
use crate::relief::{NEVER, time};
use crate::sheet::carrier::carrier_svg;
use crate::sheet::json::Timings;
use crate::sheet::{Besides, json, text};
use crate::units::LengthUnit;
use crate::words::command_line;
use anyhow::bail;
use clap::Args;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct ProofArgs {
    /// A design (.svg, .dxf), a saved job (.spelk), or a folder of them
    #[arg(required_unless_present = "job")]
    file: Option<PathBuf>,
    /// Print one JSON object instead of text
    #[arg(long)]
    json: bool,
    /// In the JSON object list every wall under twice its limit, not the 500 with the least margin
    #[arg(long, requires = "json")]
    all_walls: bool,
    /// Also print how long each stage took, on standard error and in the JSON object
    #[arg(long)]
    timings: bool,
    /// Also draw a carrier for the board, at true size
    #[arg(long, value_name = "OUT.svg")]
    carrier: Option<PathBuf>,
    /// Also draw the board with the findings
    #[arg(long, value_name = "OUT.png")]
    picture: Option<PathBuf>,
    /// Of a folder, also write a table with a picture of each drawing, to print
    #[arg(long, value_name = "OUT.pdf")]
    table: Option<PathBuf>,
    #[command(flatten)]
    out: OutputArgs,
    #[command(flatten)]
    job: JobArgs,
}

pub(super) fn run(args: &ProofArgs) -> anyhow::Result<ExitCode> {
    if let Some(folder) = args.file.as_deref().filter(|file| file.is_dir()) {
        if args.picture.is_some() || args.carrier.is_some() || args.timings || args.all_walls {
            bail!(command_line::one_file_at_a_time(folder));
        }
        let wanted = FolderOutput { json: args.json, table: args.table.as_deref(), out: &args.out };
        return folder::run(folder, &args.job, &wanted);
    }
    if args.table.is_some() {
        bail!(command_line::TABLE_OF_A_FOLDER);
    }
    let clock = Clock::start();
    let writes: Vec<&Path> = args.picture.iter().chain(&args.carrier).map(PathBuf::as_path).collect();
    let outputs = args.out.check(&args.job.reads(args.file.as_deref()), &writes)?;
    let shop = own_shop(args.job.unit.into());
    let job = args.job.job_in_stages(args.file.as_deref(), &shop, &|| clock.begin(Stage::Clean))?;
    note_drawing(&job.design().notices);
    clock.begin(Stage::Measure);
    let measured = measure(&job);
    clock.begin(Stage::Proof);
    let ratings = rate(&job, &measured);
    let now = Tried::rated(job, measured, ratings);
    let Tried { job, measured, ratings, proof } = &now;
    let uncut = uncut(job, measured);
    clock.begin(Stage::Passes);
    let time = time::of(job, measured);
    clock.begin(Stage::Advice);
    let boards = rack_boards(None)?;
    let advice = advise(&now, &Means::of(&shop, &boards), &NEVER);
    clock.begin(Stage::Write);
    let unit: LengthUnit = args.job.unit.into();
    if let Some(path) = &args.picture {
        draw(job, proof, unit, path, &outputs)?;
    }
    if let Some(path) = &args.carrier {
        let svg = carrier_svg(&carrier(job), unit);
        outputs.write(path, svg.as_bytes())?;
    }
    let timings = args.timings.then(|| clock.timings());
    if let Some(timings) = &timings {
        let Timings { read, clean, measure, proof, passes, advice, total } = *timings;
        let said = command_line::timings([read, clean, measure, proof, passes, advice, total]);
        say(&command_line::said(&said));
    }
    let near = walls(job, measured, ratings);
    let advised = advice.as_ref().map(|advice| (advice, &shop.prices.money));
    let mut besides = Besides { uncut: Some(&uncut), advice: advised, timings, ..Besides::of(&time, &near) };
    if args.all_walls {
        besides.walls = &near;
    }
    if args.json {
        print_with(|out| json::write_proof(out, job, proof, &besides, unit))?;
    } else {
        print_out(&text::proof_text(job, proof, &besides, unit))?;
    }
    Ok(match proof.verdict.severity {
        Severity::Unsound => ExitCode::from(UNSOUND),
        Severity::Sound | Severity::Chancy => ExitCode::SUCCESS,
    })
}
