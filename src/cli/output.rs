//! What a command writes: never over what it reads, and over another file only where you say so.

use crate::whole_file::{self, Existing};
use crate::words::command_line;
use anyhow::{anyhow, bail};
use clap::Args;
use std::io::{BufRead as _, IsTerminal as _, Write as _};
use std::path::{Path, PathBuf};

/// What every command takes that writes files.
#[derive(Debug, Args)]
pub(super) struct OutputArgs {
    /// Replace files that are already there
    #[arg(long)]
    force: bool,
}

/// The files that a command may write.
pub(super) struct Outputs {
    /// Those that may be replaced.
    replaced: Vec<PathBuf>,
}

impl OutputArgs {
    /// Looks at what a command is to write before it does any work. Refused are a file that the command also
    /// reads, one file for two results, and, without `--force`, a file that is already there; on a terminal the
    /// user is asked about that.
    pub(super) fn check(&self, reads: &[&Path], writes: &[&Path]) -> anyhow::Result<Outputs> {
        let mut replaced = Vec::new();
        for (index, path) in writes.iter().enumerate() {
            if path.as_os_str() == "-" {
                bail!(command_line::NO_DASH);
            }
            if reads.iter().any(|read| whole_file::is_same(path, read)) {
                bail!(command_line::written_over_input(path));
            }
            if writes[..index].iter().any(|other| whole_file::is_same(path, other)) {
                bail!(command_line::written_twice(path));
            }
            if path.is_file() {
                if !(self.force || replaces(path)?) {
                    bail!(command_line::already_there(path));
                }
                replaced.push(path.to_path_buf());
            }
        }
        Ok(Outputs { replaced })
    }
}

impl Outputs {
    /// Writes a file, whole or not at all; the error names it.
    pub(super) fn write(&self, path: &Path, bytes: &[u8]) -> anyhow::Result<()> {
        let is_replaced = self.replaced.iter().any(|replaced| replaced == path);
        let existing = if is_replaced { Existing::Replace } else { Existing::Keep };
        whole_file::write(path, bytes, existing)
            .map_err(|error| anyhow!(command_line::not_written(path, &error)))
    }
}

/// Asks on a terminal whether to replace a file; where there is none, it stays.
fn replaces(path: &Path) -> anyhow::Result<bool> {
    let (asked, mut answers) = (std::io::stderr(), std::io::stdin().lock());
    if !(asked.is_terminal() && answers.is_terminal()) {
        return Ok(false);
    }
    write!(asked.lock(), "{}", command_line::replace(path))?;
    let mut answer = String::new();
    answers.read_line(&mut answer)?;
    Ok(matches!(answer.trim().to_lowercase().as_str(), "y" | "yes"))
}
