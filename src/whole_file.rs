//! Writing files whole or not at all.

use std::fs::OpenOptions;
use std::io::{self, Write as _};
use std::path::Path;

/// Writes a file in full under a temporary name in the same folder, then renames it: at every moment
/// the path holds either what was there before or all of the new.
///
/// # Errors
///
/// Where the file cannot be written; a file that was there is unchanged.
pub fn write(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    // Opened here and not by the builder: the new file may be read by whom any new file may, and an error does
    // not name the temporary file, which means nothing to anyone.
    let open = |path: &Path| OpenOptions::new().write(true).create_new(true).open(path);
    let mut file = tempfile::Builder::new().make_in(folder, open)?;
    if let Ok(before) = std::fs::metadata(path) {
        // Not every disk keeps them, and the file matters more.
        drop(file.as_file().set_permissions(before.permissions()));
    }
    file.as_file_mut().write_all(bytes)?;
    file.as_file().sync_all()?;
    file.persist(path).map_err(|refused| refused.error)?;
    Ok(())
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;
    use std::os::unix::fs::PermissionsExt as _;

    #[test]
    fn who_may_read_a_file_is_as_for_any_other_and_stays() {
        let folder = tempfile::tempdir().unwrap();
        let mode = |name: &str| folder.path().join(name).metadata().unwrap().permissions().mode() & 0o777;
        std::fs::write(folder.path().join("usual"), "").unwrap();
        write(&folder.path().join("ours"), b"one").unwrap();
        assert_eq!(mode("ours"), mode("usual"));
        let shared = std::fs::Permissions::from_mode(0o640);
        std::fs::set_permissions(folder.path().join("ours"), shared).unwrap();
        write(&folder.path().join("ours"), b"two").unwrap();
        assert_eq!(mode("ours"), 0o640);
    }
}
