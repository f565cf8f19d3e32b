//! `spelk trace`: a picture to a drawing.

use super::board_picture::read_photo;
use super::job_args::{Unit, corners_of};
use super::output::OutputArgs;
use super::stages::{PATIENCE, Stages};
use super::{note, print_out, read_file};
use crate::design::embedded::pictures;
use crate::relief::NEVER;
use crate::sheet::outline::outline_svg;
use crate::sheet::trace::trace_json;
use crate::shop::{MOST_PICTURE_BYTES, Photo};
use crate::trace::{self, Colours, Ink, PictureSize, SHARP, Settings, Step, Tone, pixels_needed};
use crate::units::{LengthUnit, Mm, parse_length};
use crate::whole_file::ending;
use crate::words;
use anyhow::{Context as _, bail};
use clap::Args;
use glam::DVec2;
use std::collections::BTreeSet;
use std::io::{IsTerminal as _, stderr};
use std::path::PathBuf;
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct TraceArgs {
    /// A picture (.png, .jpg, .webp, .tif), or an SVG drawing that holds one
    picture: PathBuf,
    /// Where to write the drawing, at true size
    #[arg(short, long, value_name = "OUT.svg")]
    output: PathBuf,
    /// How long the picture is to be, from its left edge to its right
    #[arg(long, value_name = "L")]
    length: Option<String>,
    /// How wide the picture is to be, from its top to its bottom
    #[arg(long, value_name = "W")]
    width: Option<String>,
    /// Pixels to the inch, in place of a size
    #[arg(long, value_name = "N", conflicts_with_all = ["length", "width", "corners"])]
    dpi: Option<f64>,
    /// Straighten a photographed sheet by its four corners, in pixels (x to the right, y down): lower left, lower
    /// right, upper right, upper left. --length and --width are then the sheet's own
    #[arg(long, value_name = "X,Y X,Y X,Y X,Y", allow_hyphen_values = true)]
    corners: Option<String>,
    /// Take what is darker than this as the outline, 0 for black and 1 for white [default: half way between ink
    /// and paper]
    #[arg(long, value_name = "T")]
    threshold: Option<f64>,
    /// Take what is light as the outline
    #[arg(long)]
    light: bool,
    /// Even out the light first, for a photograph of paper
    #[arg(long)]
    even_light: bool,
    /// Take the picture apart into at most so many colours, 2 to 8; each but the paper's becomes an element
    #[arg(long, value_name = "N", conflicts_with_all = ["threshold", "light", "even_light"])]
    colours: Option<usize>,
    /// Which colours to leave out, by their numbers [default: the one that the picture ends in]
    #[arg(long, value_name = "N,N", value_delimiter = ',', requires = "colours")]
    leave_out: Vec<usize>,
    /// Leave out pieces and holes smaller than a disc this wide
    #[arg(long, value_name = "D", default_value = "0.5mm")]
    speck: String,
    /// Close gaps narrower than this
    #[arg(long, value_name = "G", default_value = "0")]
    gap: String,
    /// Keep a corner where the outline turns by at least so many degrees
    #[arg(long, value_name = "DEGREES", default_value_t = 30.0)]
    corner_angle: f64,
    /// How far curves may be from the picture [default: a quarter of a pixel]
    #[arg(long, value_name = "T")]
    tolerance: Option<String>,
    /// Which picture of a drawing that holds several, from 1
    #[arg(long, value_name = "N")]
    picture_number: Option<usize>,
    /// Print what was traced as JSON
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    out: OutputArgs,
    /// Unit of the lengths you give without one
    #[arg(long, value_enum, default_value = "mm")]
    unit: Unit,
}

pub(super) fn run(args: &TraceArgs) -> anyhow::Result<ExitCode> {
    let outputs = args.out.check(&[&args.picture], &[&args.output])?;
    let unit: LengthUnit = args.unit.into();
    let settings = settings(args, unit)?;
    let named = || args.picture.display().to_string();
    // For whoever waits; a file of what is said stays the same, however long the work takes.
    let is_watched = stderr().is_terminal();
    let stages = Stages::new(PATIENCE, move |stage| {
        if is_watched {
            note(stage);
        }
    });
    stages.enter(words::trace::READING);
    let photo = photo(args)?;
    let sharpness = trace::sharpness(photo.size(), &settings).with_context(named)?;
    let within = sharpness.width_within();
    note(&words::trace::sharpness(sharpness.pixel, within, unit));
    if trace::is_blunt(within) {
        let longer = trace::longer_side(photo.size(), &settings).with_context(named)?;
        note(&words::trace::too_coarse(pixels_needed(longer, SHARP), SHARP, unit));
    }
    let name = args.picture.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned());
    let tell = |step| stages.enter(words::trace::step(step));
    tell(Step::Preparing);
    let prepared = trace::prepare(&photo, &settings, &NEVER).with_context(named)?;
    let traced = prepared.trace_telling(&name, &settings, &NEVER, &tell).with_context(named)?;
    drop(stages);
    for (index, colour) in traced.colours.iter().enumerate() {
        note(&words::trace::colour(index + 1, colour));
    }
    if traced.specks > 0 {
        note(&words::trace::specks(traced.specks));
    }
    outputs.write(&args.output, outline_svg(&traced.design, 1.0).as_bytes())?;
    print_out(&if args.json {
        trace_json(&traced)
    } else {
        format!("{}\n", words::trace::done(&traced, unit))
    })?;
    Ok(ExitCode::SUCCESS)
}

fn settings(args: &TraceArgs, unit: LengthUnit) -> anyhow::Result<Settings> {
    let length = |option: &str, text: &str| -> anyhow::Result<Mm> {
        parse_length(text, unit).with_context(|| option.to_owned())
    };
    let along = args.length.as_deref().map(|text| length("--length", text)).transpose()?;
    let across = args.width.as_deref().map(|text| length("--width", text)).transpose()?;
    let corners = args.corners.as_deref().map(corners_of).transpose().context("--corners")?;
    let size = match (corners, along, across, args.dpi) {
        (Some(corners), Some(length), Some(width), _) => {
            PictureSize::Sheet { length, width, corners: corners.map(DVec2::from_array) }
        }
        (Some(_), ..) => bail!(words::trace::CORNERS_NEED_BOTH),
        (None, Some(_), Some(_), _) => bail!(words::trace::BOTH_NEED_CORNERS),
        (None, Some(length), None, _) => PictureSize::Length(length),
        (None, None, Some(width), _) => PictureSize::Width(width),
        (None, None, None, Some(dots)) => PictureSize::PerInch(dots),
        (None, None, None, None) => bail!(words::trace::NO_SIZE),
    };
    Ok(Settings {
        ink: match args.colours {
            Some(count) => Ink::Colours(Colours { count, left_out: left_out(args)? }),
            None => {
                Ink::Tone(Tone { level: args.threshold, is_light: args.light, even_light: args.even_light })
            }
        },
        speck: length("--speck", &args.speck)?,
        gap: length("--gap", &args.gap)?,
        corner_angle: args.corner_angle.to_radians(),
        tolerance: args.tolerance.as_deref().map(|text| length("--tolerance", text)).transpose()?,
        ..Settings::new(size)
    })
}

/// Numbers count from 1.
fn left_out(args: &TraceArgs) -> anyhow::Result<Option<BTreeSet<usize>>> {
    if args.leave_out.is_empty() {
        return Ok(None);
    }
    let place = |number: &usize| number.checked_sub(1).context(words::trace::COLOURS_COUNT_FROM_1);
    args.leave_out.iter().map(place).collect::<anyhow::Result<_>>().map(Some)
}

/// The picture: the file itself, or one that a drawing holds.
fn photo(args: &TraceArgs) -> anyhow::Result<Photo> {
    let named = || args.picture.display().to_string();
    let mut bytes = read_file(&args.picture, MOST_PICTURE_BYTES)?;
    if ["svg", "svgz"].contains(&ending(&args.picture).as_str()) {
        let mut found = pictures(&bytes).with_context(named)?;
        let count = found.len();
        let wanted = match (count, args.picture_number) {
            (0, _) => bail!("{}: {}", named(), words::trace::NO_PICTURE_INSIDE),
            (1, None) => 1,
            (_, None) => bail!("{}: {}", named(), words::trace::several_inside(count)),
            (_, Some(number)) if number == 0 || number > count => {
                bail!("{}: {}", named(), words::trace::not_inside(number, count))
            }
            (_, Some(number)) => number,
        };
        let Some(picture) = found.swap_remove(wanted - 1) else {
            bail!("{}: {}", named(), words::trace::NO_PICTURE_INSIDE)
        };
        bytes = picture;
    }
    read_photo(&bytes).with_context(named)
}
