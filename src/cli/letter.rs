//! `spelk letter`: words to a drawing.

use super::job_args::Unit;
use super::output::OutputArgs;
use super::{note_drawing, print_out, read_file};
use crate::design::face::{BUILT_IN, Fonts, MOST_FONT_BYTES};
use crate::design::lettering::{Align, Lettering, TactileCheck};
use crate::notice::Notices;
use crate::sheet::outline::outline_svg;
use crate::units::{LengthUnit, Mm, parse_length};
use crate::words::command_line;
use crate::words::lettering::{
    TACTILE_BRAILLE, TACTILE_NOT_MEASURED, TACTILE_SOURCE, tactile_number, tactile_verdict,
};
use anyhow::{Context as _, bail};
use clap::{Args, ValueEnum};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct LetterArgs {
    /// The words; `\n` starts a new line
    #[arg(required_unless_present = "fonts")]
    words: Option<String>,
    /// Where to write the drawing, at true size
    #[arg(short, long, value_name = "OUT.svg", required_unless_present_any = ["fonts", "tactile"])]
    output: Option<PathBuf>,
    /// Height of a flat capital such as H
    #[arg(long, value_name = "H", default_value = "1in")]
    cap_height: String,
    /// Font, by name (see --fonts)
    #[arg(long, value_name = "NAME", default_value = BUILT_IN)]
    font: String,
    /// Read a font from this file too; repeat for others
    #[arg(long, value_name = "FILE")]
    font_file: Vec<PathBuf>,
    /// Extra space between letters
    #[arg(long, value_name = "S", default_value = "0", allow_hyphen_values = true)]
    spacing: String,
    /// Distance from one line to the next, as a multiple of the capitals' height
    #[arg(long, value_name = "TIMES", default_value_t = 1.5)]
    line_spacing: f64,
    /// Where the lines are aligned
    #[arg(long, value_enum, default_value = "middle")]
    align: AlignArg,
    /// Set the words around a circle of this radius; a negative radius hangs them below it
    #[arg(long, value_name = "R", allow_hyphen_values = true)]
    arc: Option<String>,
    /// Compare the letters with the numbers for raised characters on signs (ADA Standards, section 703)
    #[arg(long)]
    tactile: bool,
    /// List the fonts on this machine
    #[arg(long)]
    fonts: bool,
    #[command(flatten)]
    out: OutputArgs,
    /// Unit of the lengths you give without one
    #[arg(long, value_enum, default_value = "mm")]
    unit: Unit,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum AlignArg {
    /// At the start of each line
    Start,
    /// In the middle
    Middle,
    /// At the end of each line
    End,
}

pub(super) fn run(args: &LetterArgs) -> anyhow::Result<ExitCode> {
    let given;
    let fonts = if args.font_file.is_empty() && !args.fonts && args.font == BUILT_IN {
        // What comes along needs no look through all that is installed.
        given = Fonts::built_in();
        &given
    } else if args.font_file.is_empty() {
        Fonts::of_machine()
    } else {
        let files = args.font_file.iter().map(|path| {
            let name = path.display().to_string();
            let bytes = read_file(path, MOST_FONT_BYTES)?;
            anyhow::Ok((name, bytes))
        });
        let mut notices = Notices::new();
        given = Fonts::of_files(files.collect::<Result<Vec<_>, _>>()?, &mut notices);
        note_drawing(&notices);
        &given
    };
    if args.fonts {
        let mut list = String::new();
        for name in fonts.names() {
            writeln!(list, "{name}")?;
        }
        print_out(&list)?;
        return Ok(ExitCode::SUCCESS);
    }
    let reads: Vec<&Path> = args.font_file.iter().map(PathBuf::as_path).collect();
    let writes: Vec<&Path> = args.output.iter().map(PathBuf::as_path).collect();
    let outputs = args.out.check(&reads, &writes)?;
    let Some(words) = &args.words else { bail!(command_line::NAME_THE_WORDS) };
    let unit: LengthUnit = args.unit.into();
    let length = |option: &str, text: &str| -> anyhow::Result<Mm> {
        parse_length(text, unit).with_context(|| option.to_owned())
    };
    let lettering = Lettering {
        words: words.replace("\\n", "\n"),
        font: args.font.clone(),
        cap_height: length("--cap-height", &args.cap_height)?,
        spacing: length("--spacing", &args.spacing)?,
        line_spacing: args.line_spacing,
        align: match args.align {
            AlignArg::Start => Align::Start,
            AlignArg::Middle => Align::Middle,
            AlignArg::End => Align::End,
        },
        arc: args.arc.as_deref().map(|radius| length("--arc", radius)).transpose()?,
    };
    let design = lettering.design(fonts)?;
    note_drawing(&design.notices);
    if let Some(path) = &args.output {
        outputs.write(path, outline_svg(&design, 1.0).as_bytes())?;
    }
    if args.tactile {
        print_out(&tactile_text(&lettering.tactile(fonts)?)?)?;
    }
    Ok(ExitCode::SUCCESS)
}

fn tactile_text(checks: &[TactileCheck]) -> Result<String, std::fmt::Error> {
    let mut text = String::new();
    for check in checks {
        writeln!(text, "{:<13}{}", tactile_verdict(check), tactile_number(check))?;
    }
    writeln!(text, "{}", command_line::source(TACTILE_SOURCE))?;
    writeln!(text, "{TACTILE_NOT_MEASURED}")?;
    writeln!(text, "{TACTILE_BRAILLE}")?;
    Ok(text)
}
