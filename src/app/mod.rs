//! The window: the only place that knows egui.

use std::path::PathBuf;

/// Opens the window on these files, or on a sample where there are none.
#[expect(clippy::needless_pass_by_value, reason = "the window will own them")]
pub fn run(files: Vec<PathBuf>) -> anyhow::Result<()> {
    anyhow::bail!("there is no window yet ({} files)", files.len())
}
