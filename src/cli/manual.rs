//! The manual page and the shell's completions, made from the command line's own definition.

use super::{Cli, print_out};
use clap::{Args, CommandFactory as _};
use clap_complete::Shell;
use clap_mangen::Man;
use std::fmt::Write as _;
use std::process::ExitCode;

/// What `spelk completions` takes.
#[derive(Debug, Args)]
pub(super) struct CompletionsArgs {
    /// The shell
    shell: Shell,
}

/// What a script reads off the program, in the words of a manual page.
const EXIT_STATUS: &str = ".SH \"EXIT STATUS\"
.TP
0
sound, or chancy; or the command did what it was asked
.TP
1
something is unsound, or no board of the rack takes the design
.TP
2
it could not be done; one line on standard error says why
";

/// Writes the manual page to standard output, as `man` reads it: one page, with a section a command.
pub(super) fn manual() -> anyhow::Result<ExitCode> {
    let command = Cli::command();
    let whole = Man::new(command.clone()).source(format!("spelk {}", env!("CARGO_PKG_VERSION")));
    let mut page = Vec::new();
    whole.render_title(&mut page)?;
    whole.render_name_section(&mut page)?;
    whole.render_synopsis_section(&mut page)?;
    whole.render_description_section(&mut page)?;
    whole.render_options_section(&mut page)?;
    let mut page = String::from_utf8(page)?;
    for subcommand in command.get_subcommands() {
        let title = format!("spelk {}", subcommand.get_name()).to_uppercase();
        writeln!(page, ".SH \"{title}\"")?;
        let part = Man::new(subcommand.clone());
        let mut sections = Vec::new();
        part.render_description_section(&mut sections)?;
        part.render_options_section(&mut sections)?;
        for line in String::from_utf8(sections)?.lines() {
            // Its description needs no heading of its own, and its options have one below the whole's.
            match line.strip_prefix(".SH ") {
                Some("DESCRIPTION") => {}
                Some(heading) => writeln!(page, ".SS {heading}")?,
                None => writeln!(page, "{line}")?,
            }
        }
    }
    page.push_str(EXIT_STATUS);
    print_out(&page)?;
    Ok(ExitCode::SUCCESS)
}

/// Writes a shell's completions to standard output.
pub(super) fn completions(args: &CompletionsArgs) -> anyhow::Result<ExitCode> {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "spelk", &mut script);
    print_out(&String::from_utf8(script)?)?;
    Ok(ExitCode::SUCCESS)
}
