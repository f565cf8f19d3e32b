//! The command line: the same program for a batch, a script or a machine with no screen.
//!
//! Standard output is the result, standard error is progress and errors. Exit status: 0 sound or
//! chancy, 1 unsound, 2 could not proof.

mod coupon;
mod list;
mod mend;
mod proof;
mod rack;
mod relief;

use clap::{Parser, Subcommand};
use std::path::PathBuf;
use std::process::ExitCode;

/// Proofs a carving before a board is committed: does this design, at this size, on this board, with
/// this cutter, come out whole?
#[derive(Debug, Parser)]
#[command(name = "spelk", version, args_conflicts_with_subcommands = true)]
pub struct Cli {
    #[command(subcommand)]
    command: Option<Command>,
    /// A design (.svg) or a saved job (.spelk) to open in the window
    files: Vec<PathBuf>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Proof a design or a saved job
    Proof(Box<proof::ProofArgs>),
    /// Thicken thin walls, or widen blocked grooves, and write the outline
    Mend(Box<mend::MendArgs>),
    /// Write a test piece that finds the shop's own limit
    Coupon(Box<coupon::CouponArgs>),
    /// Which board of the rack takes this design?
    Rack(Box<rack::RackArgs>),
    /// Draw the surface the cutter will leave, and tell how long it takes
    Relief(Box<relief::ReliefArgs>),
    /// List what can be chosen
    List(list::ListArgs),
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
    let result = match cli.command {
        None => return Asked::Window(cli.files),
        Some(Command::Proof(args)) => proof::run(&args),
        Some(Command::Mend(args)) => mend::run(&args),
        Some(Command::Coupon(args)) => coupon::run(&args),
        Some(Command::Rack(args)) => rack::run(&args),
        Some(Command::Relief(args)) => relief::run(&args),
        Some(Command::List(args)) => list::run(&args),
    };
    Asked::Done(result.unwrap_or_else(|error| {
        eprintln!("spelk: {error:#}");
        ExitCode::from(COULD_NOT)
    }))
}

/// Exit status of a command that could not do what was asked.
pub const COULD_NOT: u8 = 2;

/// Exit status of a proof that found something unsound.
const UNSOUND: u8 = 1;

/// Writes to standard output; a reader that has gone away (as `head` does) ends the program quietly.
fn print_out(text: &str) -> anyhow::Result<()> {
    use std::io::{ErrorKind, Write as _};
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(()),
        result => Ok(result?),
    }
}
