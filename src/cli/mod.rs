//! The command line: the same program for a batch, a script or a machine with no screen.
//!
//! Standard output is the result, standard error is progress and errors. Exit status: 0 sound or
//! chancy, 1 unsound, 2 could not proof.

mod advise;
mod arrange;
mod batch_files;
mod board_picture;
mod compare;
mod coupon;
mod export;
mod folder;
mod guide;
mod job_args;
mod letter;
mod list;
mod manual;
mod mend;
mod output;
mod proof;
mod rack;
mod record;
mod relief;
mod sheet;
mod sizes;
mod stages;
mod timings;
mod trace;

use crate::design::DrawingNotice;
use crate::notice::Notices;
use crate::shop::{Aside, RackBoard, Shop, config_folder, open_rack, read_rack_file};
use crate::units::LengthUnit;
use crate::words::command_line;
use crate::words::notices;
use crate::words::sheets::paper;
use crate::{whole_file, words};
use anyhow::anyhow;
use clap::{Parser, Subcommand};
use std::fmt::Display;
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::LazyLock;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

/// Proofs a wood carving before you commit a board: does this design, at this size, on this board, with
/// this cutter, come out whole?
#[derive(Debug, Parser)]
#[command(name = "spelk", bin_name = "spelk", version = version(), args_conflicts_with_subcommands = true)]
#[command(after_help = command_line::AFTER_HELP)]
pub struct Cli {
    #[command(subcommand)]
    command: Option<Command>,
    /// Designs (.svg, .dxf) or saved jobs (.spelk) to open in the window
    files: Vec<PathBuf>,
    /// Stop after so many seconds with exit status 2, however far it is
    #[arg(long, global = true, value_name = "SECONDS", allow_hyphen_values = true)]
    time_limit: Option<String>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Say whether a design comes out whole on its board, and what would break
    #[command(after_help = command_line::PROOF_EXAMPLE)]
    Proof(Box<proof::ProofArgs>),
    /// Say what is the least to change for a design to come out whole
    Advise(Box<advise::AdviseArgs>),
    /// Compare the job in each wood, with each cutter or at several sizes
    Compare(Box<compare::CompareArgs>),
    /// Thicken thin walls or widen narrow grooves, and write the outline
    Mend(Box<mend::MendArgs>),
    /// Write a test piece; carve it to find the thinnest walls you can trust
    Coupon(Box<coupon::CouponArgs>),
    /// Note which walls held and which broke, and what that comes to
    Record(Box<record::RecordArgs>),
    /// Find the best board on your rack for a design, or change the rack
    Rack(Box<rack::RackArgs>),
    /// Lay several pieces on one board: how many go on, where, and what they cost
    #[command(after_help = command_line::ARRANGE_EXAMPLE)]
    Arrange(Box<arrange::ArrangeArgs>),
    /// Turn words into a drawing to carve
    Letter(letter::LetterArgs),
    /// Turn a picture into a drawing to carve
    #[command(after_help = command_line::TRACE_EXAMPLE)]
    Trace(Box<trace::TraceArgs>),
    /// Draw the surface the cutter leaves, and say how long the carve takes
    Relief(Box<relief::ReliefArgs>),
    /// Compare one design at several sizes: what each needs, loses and costs
    Sizes(Box<sizes::SizesArgs>),
    /// Write a sheet to print: the bench sheet, a template, the coupon or the handout
    Sheet(Box<sheet::SheetCommand>),
    /// Write the outline, a picture, the proof or the surface for another program
    Export(Box<export::ExportArgs>),
    /// List the woods, cutters, machines or ways to write money
    List(list::ListArgs),
    /// Write the guide, the book that Help shows, to print
    Guide(guide::GuideArgs),
    /// Print the manual page, in the form man reads
    Manual,
    /// Print completions for a shell
    Completions(manual::CompletionsArgs),
}

/// The version, and what it was built from where the build was told (`SPELK_COMMIT`).
pub fn version() -> &'static str {
    static VERSION: LazyLock<String> = LazyLock::new(|| {
        let build = option_env!("SPELK_COMMIT").filter(|commit| !commit.is_empty());
        let window = cfg!(feature = "window");
        let (system, processor) = (std::env::consts::OS, std::env::consts::ARCH);
        command_line::version(env!("CARGO_PKG_VERSION"), build, window, system, processor)
    });
    &VERSION
}

/// What the command line asks for.
pub enum Asked {
    /// The window, with these files.
    Window(Vec<PathBuf>),
    /// Nothing more: the command has run, and this is its exit status.
    Done(ExitCode),
}

/// Reads the command line and runs the command it names, if it names one. Wrong usage, help and
/// version end the program here, as command lines do.
pub fn run() -> Asked {
    let cli = Cli::parse();
    match cli.time_limit.as_deref().map(seconds) {
        None => {}
        Some(Some(limit)) => stop_after(limit),
        Some(None) => return Asked::Done(failed(&command_line::NO_SECONDS)),
    }
    let result = match cli.command {
        None => return Asked::Window(cli.files),
        Some(Command::Proof(args)) => proof::run(&args),
        Some(Command::Advise(args)) => advise::run(&args),
        Some(Command::Compare(args)) => compare::run(&args),
        Some(Command::Mend(args)) => mend::run(&args),
        Some(Command::Coupon(args)) => coupon::run(&args),
        Some(Command::Record(args)) => record::run(&args),
        Some(Command::Rack(args)) => rack::run(&args),
        Some(Command::Arrange(args)) => arrange::run(&args),
        Some(Command::Letter(args)) => letter::run(&args),
        Some(Command::Trace(args)) => trace::run(&args),
        Some(Command::Relief(args)) => relief::run(&args),
        Some(Command::Sizes(args)) => sizes::run(&args),
        Some(Command::Sheet(args)) => sheet::run(&args),
        Some(Command::Export(args)) => export::run(&args),
        Some(Command::List(args)) => list::run(&args),
        Some(Command::Guide(args)) => guide::run(&args),
        Some(Command::Manual) => manual::manual(),
        Some(Command::Completions(args)) => manual::completions(&args),
    };
    let status = result.unwrap_or_else(|error| failed(&format_args!("{error:#}")));
    Asked::Done(if UNSAID.load(Ordering::Relaxed) { ExitCode::from(COULD_NOT) } else { status })
}

/// A number of seconds as it is typed; `None` where it is none, or not over 0.
fn seconds(text: &str) -> Option<Duration> {
    let limit = Duration::try_from_secs_f64(text.parse().ok()?).ok()?;
    (!limit.is_zero()).then_some(limit)
}

/// Ends the program after so long. Files are written whole or not at all, so none is left cut off.
fn stop_after(limit: Duration) {
    std::thread::spawn(move || {
        std::thread::sleep(limit);
        failed(&command_line::out_of_time(limit.as_secs_f64()));
        std::process::exit(i32::from(COULD_NOT));
    });
}

/// Exit status of a command that could not do what was asked.
pub const COULD_NOT: u8 = 2;

/// Exit status of a proof that found something unsound.
const UNSOUND: u8 = 1;

/// The user's shop. What of it is not used is said on standard error, so that the result stands alone on
/// standard output.
fn own_shop(unit: LengthUnit) -> Shop {
    let (shop, notices) = Shop::of_user(&crate::locale::usual_money());
    for notice in &notices {
        note(&words::shop::not_used(notice, unit));
    }
    shop
}

/// The boards of a file, or of the shop's own rack.
fn rack_boards(file: Option<&Path>) -> anyhow::Result<Vec<RackBoard>> {
    let Some(path) = file else {
        return Ok(config_folder().map_or_else(|| Ok(Vec::new()), |folder| open_rack(&folder))?);
    };
    Ok(read_rack_file(path)?)
}

/// Reads an ordinary file of up to `most` bytes; the error names it.
fn read_file(path: &Path, most: u64) -> anyhow::Result<Vec<u8>> {
    whole_file::read(path, most).map_err(|error| anyhow!(command_line::not_read(path, &error)))
}

/// Writes to standard output.
fn print_out(text: &str) -> anyhow::Result<()> {
    print_with(|out| out.write_all(text.as_bytes()))
}

/// Prints what is written piece by piece, each whole characters.
fn print_with(write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> anyhow::Result<()> {
    let mut out = Printable(BufWriter::new(io::stdout().lock()));
    write(&mut out).and_then(|()| out.flush()).map_err(|error| anyhow!(command_line::not_printed(&error)))
}

/// Passes on what is printable of whole characters.
struct Printable<W>(W);

impl<W: Write> Write for Printable<W> {
    fn write(&mut self, piece: &[u8]) -> io::Result<usize> {
        let text = std::str::from_utf8(piece).map_err(io::Error::other)?;
        self.0.write_all(words::printable(text).as_bytes())?;
        Ok(piece.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.0.flush()
    }
}

/// Whether something that was to be said on standard error could not be.
static UNSAID: AtomicBool = AtomicBool::new(false);

/// A line on standard error. Where nobody can read it the command still runs to its end, with the status of one
/// that could not do all that was asked.
fn say(line: &str) {
    if writeln!(io::stderr(), "{}", words::printable(line)).is_err() {
        UNSAID.store(true, Ordering::Relaxed);
    }
}

/// Says what went wrong on standard error; the status to end with.
pub fn failed(why: &dyn Display) -> ExitCode {
    say(&command_line::said(&why));
    ExitCode::from(COULD_NOT)
}

/// A note goes to standard error, so that the result stands alone on standard output.
fn note(sentence: &str) {
    say(&command_line::note(sentence));
}

/// Prints what was noticed about a drawing.
fn note_drawing(notices: &Notices<DrawingNotice>) {
    for notice in notices {
        note(&notices::line(&notices::drawing(notice), notices::drawing_hint(notice)));
    }
    if notices.more() > 0 {
        note(&notices::more(notices.more()));
    }
}

/// Says that a file of the shop's own was set aside, if one was.
fn note_aside(aside: Option<&Aside>) {
    if let Some(aside) = aside {
        note(&words::shop::set_aside(aside));
    }
}

/// Prints which letters of a sheet no typeface has.
fn note_missing_letters(letters: &[char]) {
    if !letters.is_empty() {
        note(&notices::line(&paper::no_typeface(letters), Some(paper::NO_TYPEFACE_HINT)));
    }
}
