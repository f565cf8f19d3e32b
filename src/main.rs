//! Spelk: the window, or the command line.

use spelk::cli::{self, Asked};
use spelk::fault;
use spelk::job::recovery;
use std::process::ExitCode;

fn main() -> ExitCode {
    if let Some(folder) = recovery::usual_folder() {
        fault::report_in(folder, cli::version());
    }
    match cli::run() {
        Asked::Done(status) => status,
        Asked::Window(files) => window(files),
    }
}

#[cfg(feature = "window")]
fn window(files: Vec<std::path::PathBuf>) -> ExitCode {
    match spelk::app::run(files) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => cli::failed(&format_args!("{error:#}")),
    }
}

#[cfg(not(feature = "window"))]
fn window(_: Vec<std::path::PathBuf>) -> ExitCode {
    cli::failed(&spelk::words::command_line::NO_WINDOW)
}
