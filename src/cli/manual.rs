//! The manual page and the shell's completions, made from the command line's own definition.

use super::{Cli, print_out};
use clap::{Args, CommandFactory as _};
use clap_complete::Shell;
use std::process::ExitCode;

/// What `spelk completions` takes.
#[derive(Debug, Args)]
pub(super) struct CompletionsArgs {
    /// The shell to write them for
    shell: Shell,
}

/// Writes the manual page to standard output, as `man` reads it.
pub(super) fn manual() -> anyhow::Result<ExitCode> {
    let command = Cli::command();
    let mut page = Vec::new();
    clap_mangen::Man::new(command.clone()).render(&mut page)?;
    // The page of the whole ends with a list of commands: the options of each follow it.
    for subcommand in command.get_subcommands().filter(|subcommand| !subcommand.is_hide_set()) {
        let title = format!("spelk {}", subcommand.get_name()).to_uppercase();
        page.extend_from_slice(format!(".SH \"{title}\"\n").as_bytes());
        let man = clap_mangen::Man::new(subcommand.clone());
        let mut options = Vec::new();
        man.render_description_section(&mut options)?;
        man.render_options_section(&mut options)?;
        // Sections of the part, as subsections of the whole.
        let options = String::from_utf8(options)?;
        let lines = options.lines().map(|line| match line.strip_prefix(".SH ") {
            Some(heading) => format!(".SS {heading}\n"),
            None => format!("{line}\n"),
        });
        page.extend(lines.flat_map(String::into_bytes));
    }
    print_out(&String::from_utf8(page)?)?;
    Ok(ExitCode::SUCCESS)
}

/// Writes a shell's completions to standard output.
pub(super) fn completions(args: &CompletionsArgs) -> anyhow::Result<ExitCode> {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "spelk", &mut script);
    print_out(&String::from_utf8(script)?)?;
    Ok(ExitCode::SUCCESS)
}
