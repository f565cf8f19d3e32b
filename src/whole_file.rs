//! Writing files whole or not at all.

use std::io::{self, Write as _};
use std::path::Path;

/// Writes a file in full under a temporary name in the same folder, then renames it: at every moment
/// the path holds either what was there before or all of the new.
pub fn write(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut file = tempfile::NamedTempFile::new_in(folder)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    file.persist(path)?;
    Ok(())
}
