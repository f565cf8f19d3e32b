//! Spelk: the window, or the command line.

use spelk::cli::{self, Asked};
use spelk::words::command_line;
use std::process::ExitCode;

fn main() -> ExitCode {
    match cli::run() {
        Asked::Done(status) => status,
        Asked::Window(files) => window(files),
    }
}

#[cfg(feature = "window")]
fn window(files: Vec<std::path::PathBuf>) -> ExitCode {
    match spelk::app::run(files) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{}", command_line::said(&format_args!("{error:#}")));
            ExitCode::from(cli::COULD_NOT)
        }
    }
}

#[cfg(not(feature = "window"))]
fn window(_: Vec<std::path::PathBuf>) -> ExitCode {
    eprintln!("{}", command_line::said(&command_line::NO_WINDOW));
    ExitCode::from(cli::COULD_NOT)
}
