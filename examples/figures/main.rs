//! Draws the figures of the documentation into `docs/figures`, or into the folder that is named.
//!
//! `cargo run --example figures`

mod draw;

use std::path::{Path, PathBuf};

fn main() -> std::io::Result<()> {
    let usual = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/figures");
    let folder = std::env::args_os().nth(1).map_or(usual, PathBuf::from);
    std::fs::create_dir_all(&folder)?;
    for (name, svg) in draw::all() {
        std::fs::write(folder.join(name), svg)?;
    }
    Ok(())
}
