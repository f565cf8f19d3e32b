//! `spelk relief`: the surface the cutter will leave, as a picture and as an STL file.

use super::job_args::JobArgs;
use super::output::OutputArgs;
use super::{note_drawing, own_shop, print_out};
use crate::arrange;
use crate::proof::{measure, proof, rate};
use crate::relief::shade::{Camera, Look, glows, shaded};
use crate::relief::{HeightField, NEVER, mesh, time};
use crate::sheet::picture::{Picture, mark_color};
use crate::sheet::text::{row, time_text};
use crate::units::{LengthUnit, Mm, parse_length};
use crate::words::command_line;
use crate::words::sheets::proof_text::TextRow;
use crate::words::surface::NOT_SIMULATED;
use anyhow::{Context as _, anyhow, bail};
use clap::Args;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct ReliefArgs {
    /// A design (.svg, .dxf) or a saved job (.spelk)
    #[arg(required_unless_present = "job")]
    file: Option<PathBuf>,
    /// Where to write the picture of the carved surface
    #[arg(short, long, value_name = "OUT.png")]
    output: PathBuf,
    /// Distance between measured points of the surface; at most 4096 points along either side of the board
    #[arg(long, default_value = "0.2mm", value_name = "P")]
    pitch: String,
    /// Also write the surface as triangles, in millimetres
    #[arg(long, value_name = "OUT.stl")]
    stl: Option<PathBuf>,
    /// Draw the outlines as designed, without what the cutter leaves: quicker
    #[arg(long)]
    ideal: bool,
    /// Walk around the board: degrees counter-clockwise from the reference edge
    #[arg(long, default_value_t = 0.0, value_name = "DEGREES", allow_hyphen_values = true)]
    around: f64,
    /// Height of the eye: 90 degrees looks straight down
    #[arg(long, default_value_t = 55.0, value_name = "DEGREES")]
    up: f64,
    /// Direction of the light: degrees counter-clockwise from the right end of the board
    #[arg(long, default_value_t = 135.0, value_name = "DEGREES", allow_hyphen_values = true)]
    light: f64,
    /// Draw without perspective: equal lengths look equal
    #[arg(long)]
    level: bool,
    /// Leave out the findings
    #[arg(long)]
    bare: bool,
    /// Width of the picture in pixels
    #[arg(long, default_value_t = 1600, value_parser = clap::value_parser!(u32).range(16..=8192))]
    pixels: u32,
    #[command(flatten)]
    out: OutputArgs,
    #[command(flatten)]
    job: JobArgs,
}

pub(super) fn run(args: &ReliefArgs) -> anyhow::Result<ExitCode> {
    let writes: Vec<&Path> = [&args.output].into_iter().chain(&args.stl).map(PathBuf::as_path).collect();
    let outputs = args.out.check(&args.job.reads(args.file.as_deref()), &writes)?;
    let shop = own_shop(args.job.unit.into());
    let unit: LengthUnit = args.job.unit.into();
    let pitch = parse_length(&args.pitch, unit).context("--pitch")?;
    if pitch < Mm::new(0.001) {
        bail!(command_line::pitch_too_fine(&args.pitch));
    }
    let job = args.job.job(args.file.as_deref(), &shop)?;
    note_drawing(&job.design().notices);
    let measured = measure(&job);
    let found = proof(&job, &measured, &rate(&job, &measured));
    let passes = arrange::passes(&job, &measured, &NEVER).context(command_line::NOT_PLANNED)?;
    let surface = if args.ideal {
        arrange::ideal_surface(&job, &measured, HeightField::of_board(&job, pitch), &NEVER)
    } else {
        HeightField::carved(&job, &passes, &found, pitch, &NEVER)
    };
    let surface = surface.context(command_line::NOT_PLANNED)?;
    let mut camera = Camera::over(&surface, args.around.to_radians(), args.up.to_radians());
    camera.perspective = !args.level;
    let look = Look { light_around: args.light.to_radians(), ..Look::default() };
    let glow = if args.bare { Vec::new() } else { glows(&found, |finding| mark_color(finding.kind())) };
    let size = [args.pixels, (args.pixels * 5 / 8).max(1)];
    let pixels =
        shaded(&job, &surface, &camera, &look, &glow, size, &NEVER).context(command_line::NOT_PLANNED)?;
    let picture = Picture { width: size[0], height: size[1], pixels };
    outputs.write(&args.output, &picture.to_png())?;
    if let Some(path) = &args.stl {
        let mut bytes = Vec::new();
        mesh::write_stl(&surface, &mut bytes)
            .map_err(|_too_many| anyhow!(command_line::too_many_triangles(path)))?;
        outputs.write(path, &bytes)?;
    }
    let mut text = String::new();
    let taken = surface.volume_removed() / 1000.0;
    let actual = Mm::new(surface.lattice.pitch);
    row(&mut text, TextRow::Surface, command_line::surface(actual, taken, unit))?;
    let named = if job.is_batch() { arrange::whole(&job)? } else { job.clone() };
    text.push_str(&time_text(&time::Clock::new(&job, &passes).time(&named)));
    writeln!(text, "{NOT_SIMULATED}")?;
    print_out(&text)?;
    Ok(ExitCode::SUCCESS)
}
