//! `spelk relief`: the surface the cutter will leave, as a picture and as an STL file.

use super::print_out;
use super::proof::{JobArgs, cutter_of, tell};
use super::write_file;
use crate::job::{Clearing, ClearingDirection};
use crate::proof::{measure, proof, rate};
use crate::relief::shade::{Camera, Look, glows, shaded};
use crate::relief::{HeightField, NEVER, NOT_SIMULATED, field, mesh, plan, time};
use crate::sheet::picture::{Picture, mark_color};
use crate::sheet::text::time_text;
use crate::shop::Shop;
use crate::units::{LengthUnit, Mm, parse_length};
use anyhow::{Context as _, anyhow, bail};
use clap::{Args, ValueEnum};
use std::fmt::Write as _;
use std::path::PathBuf;
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct ReliefArgs {
    /// A design (.svg, .dxf) or a saved job (.spelk)
    #[arg(required_unless_present = "job")]
    file: Option<PathBuf>,
    /// Where to draw the carved surface
    #[arg(short, long, value_name = "OUT.png")]
    output: PathBuf,
    /// From one place of the surface to the next; at most 4096 along either side of the board
    #[arg(long, default_value = "0.2mm", value_name = "P")]
    pitch: String,
    /// Also write the surface as triangles, in millimetres
    #[arg(long, value_name = "OUT.stl")]
    stl: Option<PathBuf>,
    /// The quick surface instead: outlines as drawn, whatever the cutter leaves
    #[arg(long)]
    ideal: bool,
    /// From where it is seen: degrees round the board, counter-clockwise from the reference edge
    #[arg(long, default_value_t = 0.0, value_name = "DEGREES", allow_hyphen_values = true)]
    around: f64,
    /// How high the eye stands, degrees: 90 is straight above
    #[arg(long, default_value_t = 55.0, value_name = "DEGREES")]
    up: f64,
    /// Where the light comes from: degrees round the board, counter-clockwise from its right end
    #[arg(long, default_value_t = 135.0, value_name = "DEGREES", allow_hyphen_values = true)]
    light: f64,
    /// Without perspective: equal lengths look equal
    #[arg(long)]
    level: bool,
    /// Without the findings
    #[arg(long)]
    bare: bool,
    /// Pixels across the picture
    #[arg(long, default_value_t = 1600, value_parser = clap::value_parser!(u32).range(16..=8192))]
    pixels: u32,
    #[command(flatten)]
    job: JobArgs,
}

/// How places are cleared.
#[derive(Debug, Args)]
pub(super) struct ClearingArgs {
    /// A larger cutter that clears first, by id (see spelk list cutters)
    #[arg(long, value_name = "ID")]
    clearing_cutter: Option<String>,
    /// Which way clearing lines run
    #[arg(long, value_enum, value_name = "WAY")]
    clearing: Option<WayArg>,
    /// From one clearing line to the next, per cent of the cutter's diameter
    #[arg(long, value_name = "PER CENT")]
    stepover: Option<f64>,
    /// The deepest cut in one pass, per cent of the cutter's diameter
    #[arg(long, value_name = "PER CENT")]
    pass_depth: Option<f64>,
    /// Length and height of the bridges that hold what is cut out, as in 6mmx1.5mm; 0 for none
    #[arg(long, value_name = "LxH")]
    bridge: Option<String>,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum WayArg {
    /// Along the board
    Along,
    /// Across it
    Across,
}

impl ClearingArgs {
    pub(super) fn fill(&self, clearing: &mut Clearing, shop: &Shop, unit: LengthUnit) -> anyhow::Result<()> {
        if let Some(id) = &self.clearing_cutter {
            clearing.cutter = Some(cutter_of(shop, "--clearing-cutter", id)?);
        }
        match self.clearing {
            Some(WayArg::Along) => clearing.direction = ClearingDirection::Along,
            Some(WayArg::Across) => clearing.direction = ClearingDirection::Across,
            None => {}
        }
        let share = |option: &str, per_cent: f64, most: f64| {
            if per_cent > 0.0 && per_cent <= most {
                Ok(per_cent / 100.0)
            } else {
                Err(anyhow!("{option}: it must be over 0 and up to {most} %, not {per_cent}"))
            }
        };
        if let Some(stepover) = self.stepover {
            clearing.stepover = Some(share("--stepover", stepover, 100.0)?);
        }
        if let Some(pass_depth) = self.pass_depth {
            clearing.pass_depth = Some(share("--pass-depth", pass_depth, 1000.0)?);
        }
        if let Some(bridge) = &self.bridge {
            let part = |text: &str| parse_length(text, unit).context("--bridge");
            match bridge.trim().split_once(['x', 'X']) {
                Some((length, height)) => {
                    clearing.bridge.length = part(length)?;
                    clearing.bridge.height = part(height)?;
                }
                None if part(bridge)? == Mm::ZERO => clearing.bridge.length = Mm::ZERO,
                None => bail!("--bridge: '{bridge}' is not LxH, as in 6mmx1.5mm, or 0"),
            }
        }
        Ok(())
    }
}

pub(super) fn run(args: &ReliefArgs) -> anyhow::Result<ExitCode> {
    let (shop, notices) = Shop::of_user(&crate::locale::usual_money());
    tell(&notices);
    let unit: LengthUnit = args.job.unit.into();
    let pitch = parse_length(&args.pitch, unit).context("--pitch")?;
    if pitch < Mm::new(0.001) {
        bail!("--pitch: it must be at least 0.001 mm, not {}", args.pitch);
    }
    let job = args.job.job(args.file.as_deref(), &shop)?;
    tell(&job.design().notices);
    let measured = measure(&job);
    let found = proof(&job, &measured, &rate(&job, &measured));
    let passes = plan(&job, &measured, &NEVER).ok_or_else(|| anyhow!("called off"))?;
    let surface = if args.ideal {
        field::ideal(&job, &measured, HeightField::of_board(&job, pitch), &NEVER)
    } else {
        HeightField::carved(&job, &passes, &found, pitch, &NEVER)
    };
    let surface = surface.ok_or_else(|| anyhow!("called off"))?;
    let mut camera = Camera::over(&surface, args.around.to_radians(), args.up.to_radians());
    camera.perspective = !args.level;
    let look = Look { light_around: args.light.to_radians(), ..Look::default() };
    let glow = if args.bare { Vec::new() } else { glows(&found, |finding| mark_color(finding.kind)) };
    let size = [args.pixels, (args.pixels * 5 / 8).max(1)];
    let pixels =
        shaded(&job, &surface, &camera, &look, &glow, size, &NEVER).ok_or_else(|| anyhow!("called off"))?;
    let picture = Picture { width: size[0], height: size[1], pixels };
    write_file(&args.output, &picture.to_png())?;
    if let Some(path) = &args.stl {
        let mut bytes = Vec::new();
        mesh::write_stl(&surface, &mut bytes).with_context(|| path.display().to_string())?;
        write_file(path, &bytes)?;
    }
    let mut text = String::new();
    let taken = surface.volume_removed() / 1000.0;
    let actual = Mm::new(surface.lattice.pitch);
    writeln!(
        text,
        "surface     {} between places, {taken:.1} cm3 of wood taken away",
        unit.show_fine(actual)
    )?;
    text.push_str(&time_text(&time::Clock::new(&job, &passes).time(&job)));
    writeln!(text, "{NOT_SIMULATED}")?;
    print_out(&text)?;
    Ok(ExitCode::SUCCESS)
}
