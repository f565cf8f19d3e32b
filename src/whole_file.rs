//! Reading and writing files whole or not at all; nothing else in the program writes one.

use crate::file_name::is_device;
use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, ErrorKind, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::time::Duration;
use thiserror::Error;

/// What becomes of a file that is already there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Existing {
    /// It stays, and nothing is written.
    Keep,
    /// It is replaced.
    Replace,
}

/// Why a file was not written. What was there before is unchanged.
#[derive(Debug, Error)]
pub enum WriteError {
    /// It is already there.
    Exists,
    /// It is there, and marked as one not to be written.
    ReadOnly,
    /// There is something of that name that is no file.
    NotAFile,
    /// Windows takes the name for a device.
    Device,
    /// Another program has it open and lets nobody replace it, as Windows allows.
    HeldOpen,
    /// The disk said no.
    Disk(io::Error),
}

/// Why a file was not read.
#[derive(Debug, Error)]
pub enum ReadError {
    /// It is a folder, a pipe or a device.
    NotAFile,
    /// It is larger than any file of its kind.
    TooLarge {
        /// How large one may be, bytes.
        most: u64,
    },
    /// The disk said no.
    Disk(io::Error),
}

impl From<io::Error> for WriteError {
    fn from(error: io::Error) -> WriteError {
        WriteError::Disk(error)
    }
}

impl From<io::Error> for ReadError {
    fn from(error: io::Error) -> ReadError {
        ReadError::Disk(error)
    }
}

/// How often a link may lead to a link: as many as Linux follows.
const MOST_LINKS: usize = 40;

/// What a half-written file is called: this, six characters, and [`SUFFIX`].
const PREFIX: &str = ".spelk-";
const SUFFIX: &str = ".tmp";

/// A half-written file this old was left by a program that is gone: a round value of our own, far beyond what
/// any write takes.
const LEFT_BEHIND: Duration = Duration::from_hours(1);

/// How long a write waits on Windows for a file that another program holds, and how often it tries: scanners
/// and indexers look into each new file for a moment. Round values of our own.
const HELD_FOR_A_MOMENT: (u32, Duration) = (8, Duration::from_millis(100));

/// Reads an ordinary file of up to `most` bytes.
///
/// # Errors
///
/// Where it is no ordinary file, is larger, or cannot be read.
pub fn read(path: &Path, most: u64) -> Result<Vec<u8>, ReadError> {
    if cfg!(windows) && is_device(path) {
        return Err(ReadError::NotAFile);
    }
    // Asked before opening: opening a pipe would wait for somebody to write to it.
    let about = fs::metadata(path)?;
    if about.is_dir() {
        return Err(io::Error::from(ErrorKind::IsADirectory).into());
    }
    if !about.is_file() {
        return Err(ReadError::NotAFile);
    }
    let mut bytes = Vec::new();
    if about.len() <= most {
        // A file may grow while it is read, and some report no length at all.
        File::open(path)?.take(most + 1).read_to_end(&mut bytes)?;
    }
    if about.len().max(bytes.len() as u64) > most {
        return Err(ReadError::TooLarge { most });
    }
    Ok(bytes)
}

/// Writes a file in full under a temporary name in the same folder, then renames it: at every moment
/// the path holds either what was there before or all of the new. A link is followed to the file it leads to;
/// a pipe or terminal is written to as it is. What a write of this program left half done in that folder more
/// than an hour ago is cleared away.
///
/// # Errors
///
/// Where the file cannot be written, is there and is to be kept, or is read-only; on Windows also where its
/// name is a device's, or another program holds it open for most of a second. A file that was there is
/// unchanged.
pub fn write(path: &Path, bytes: &[u8], existing: Existing) -> Result<(), WriteError> {
    if cfg!(windows) && is_device(path) {
        return Err(WriteError::Device);
    }
    let before = match fs::metadata(path) {
        Ok(about) if about.is_file() => Some(about),
        Ok(about) if about.is_dir() => return Err(io::Error::from(ErrorKind::IsADirectory).into()),
        Ok(about) if is_stream(&about) => {
            let mut stream = OpenOptions::new().write(true).open(path)?;
            return Ok(stream.write_all(bytes).and_then(|()| stream.flush())?);
        }
        Ok(_) => return Err(WriteError::NotAFile),
        Err(error) if error.kind() == ErrorKind::NotFound => None,
        Err(error) => return Err(error.into()),
    };
    match &before {
        Some(_) if existing == Existing::Keep => return Err(WriteError::Exists),
        Some(about) if about.permissions().readonly() => return Err(WriteError::ReadOnly),
        _ => {}
    }
    let target = resolved(path)?;
    let folder = folder_of(&target);
    sweep(folder);
    // Opened here and not by the builder: the new file may be read by whom any new file may, and an error does
    // not name the temporary file, which means nothing to anyone.
    let open = |path: &Path| OpenOptions::new().write(true).create_new(true).open(path);
    let mut file = tempfile::Builder::new().prefix(PREFIX).suffix(SUFFIX).make_in(folder, open)?;
    if let Some(before) = &before {
        // Not every disk keeps them, and the file matters more.
        drop(file.as_file().set_permissions(before.permissions()));
    }
    file.as_file_mut().write_all(bytes)?;
    file.as_file().sync_all()?;
    if existing == Existing::Keep {
        file = match file.persist_noclobber(&target) {
            Ok(_) => return Ok(()),
            // Another program was quicker.
            Err(refused) if target.symlink_metadata().is_ok() => {
                drop(refused);
                return Err(WriteError::Exists);
            }
            // Some disks can only rename.
            Err(refused) => refused.file,
        };
    }
    if cfg!(windows) && before.is_some() {
        let (tries, pause) = HELD_FOR_A_MOMENT;
        for _ in 0..tries {
            file = match file.persist(&target) {
                Ok(_) => return Ok(()),
                Err(refused) if is_held(&refused.error) => refused.file,
                Err(refused) => return Err(refused.error.into()),
            };
            std::thread::sleep(pause);
        }
        return Err(WriteError::HeldOpen);
    }
    file.persist(&target).map_err(|refused| refused.error)?;
    Ok(())
}

/// Whether Windows refuses to replace a file because another program has it open: it says
/// `ERROR_SHARING_VIOLATION` or, of a rename, `ERROR_ACCESS_DENIED` (Microsoft Learn, "System Error Codes").
fn is_held(error: &io::Error) -> bool {
    matches!(error.raw_os_error(), Some(5 | 32))
}

/// Whether two paths lead to one file, there or not yet there. Pipes and terminals are no files.
pub fn is_same(a: &Path, b: &Path) -> bool {
    match (fs::metadata(a), fs::metadata(b)) {
        (Ok(about_a), Ok(about_b)) => about_a.is_file() && about_b.is_file() && is_one_file(a, b),
        (Err(_), Err(_)) => {
            let whole = |path: &Path| {
                let path = resolved(path).ok()?;
                Some(fs::canonicalize(folder_of(&path)).ok()?.join(path.file_name()?))
            };
            whole(a).is_some_and(|a| whole(b) == Some(a))
        }
        _ => false,
    }
}

#[cfg(unix)]
fn is_one_file(a: &Path, b: &Path) -> bool {
    use std::os::unix::fs::MetadataExt as _;
    let number = |path: &Path| fs::metadata(path).map(|about| (about.dev(), about.ino())).ok();
    number(a).is_some_and(|a| number(b) == Some(a))
}

#[cfg(not(unix))]
fn is_one_file(a: &Path, b: &Path) -> bool {
    fs::canonicalize(a).is_ok_and(|a| fs::canonicalize(b).is_ok_and(|b| a == b))
}

#[cfg(unix)]
fn is_stream(about: &Metadata) -> bool {
    use std::os::unix::fs::FileTypeExt as _;
    about.file_type().is_fifo() || about.file_type().is_char_device()
}

#[cfg(not(unix))]
fn is_stream(_: &Metadata) -> bool {
    false
}

/// How a file's name ends, without the full stop and in small letters; empty where it has no ending.
pub fn ending(path: &Path) -> String {
    path.extension().map_or_else(String::new, |ending| ending.to_string_lossy().to_lowercase())
}

/// The folder a path is in.
fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// The file that a path leads to in the end, which need not be there.
fn resolved(path: &Path) -> io::Result<PathBuf> {
    let mut path = path.to_owned();
    for _ in 0..MOST_LINKS {
        let Ok(to) = fs::read_link(&path) else { return Ok(path) };
        path = folder_of(&path).join(to);
    }
    // The system says it in its own words.
    fs::metadata(&path).map(|_| path)
}

/// Clears away what writes of this program left half done. What cannot be cleared away stays.
fn sweep(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.flatten() {
        let name = entry.file_name();
        let Some(name) = name.to_str() else { continue };
        let is_ours = name.len() == PREFIX.len() + 6 + SUFFIX.len()
            && name.starts_with(PREFIX)
            && name.ends_with(SUFFIX);
        if is_ours
            && let Ok(about) = entry.metadata()
            && about.is_file()
            && about.modified().is_ok_and(|at| at.elapsed().is_ok_and(|age| age > LEFT_BEHIND))
        {
            drop(fs::remove_file(entry.path()));
        }
    }
}

/// Gives a file that cannot be used a name of its own beside it, `boards.damaged.json` for `boards.json` or the next
/// that is free, so that another may take its place; that name.
pub(crate) fn set_aside(path: &Path) -> io::Result<PathBuf> {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let ending = path.extension().map_or_else(String::new, |ending| format!(".{}", ending.to_string_lossy()));
    for number in 1..u32::MAX {
        let number = if number > 1 { format!("-{number}") } else { String::new() };
        let aside = path.with_file_name(format!("{stem}.damaged{number}{ending}"));
        // Whoever changes the file holds its lock, so nobody takes the name meanwhile.
        if aside.symlink_metadata().is_err() {
            fs::rename(path, &aside)?;
            return Ok(aside);
        }
    }
    Err(ErrorKind::AlreadyExists.into())
}

/// Keeps other programs, and other windows, from changing a file that is changed as a whole until the answer is dropped:
/// what two change at once would else be lost for one. The lock is on a file of its own beside it, for the
/// file itself is replaced.
pub(crate) fn locked(path: &Path) -> io::Result<File> {
    let folder = folder_of(path);
    std::fs::create_dir_all(folder)?;
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let beside = folder.join(format!(".{name}.lock"));
    let lock = File::options().create(true).truncate(false).write(true).open(beside)?;
    lock.lock()?;
    Ok(lock)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::SystemTime;

    #[test]
    fn a_file_that_is_there_is_kept_unless_it_is_to_be_replaced() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("sign.svg");
        write(&path, b"one", Existing::Keep).unwrap();
        assert!(matches!(write(&path, b"two", Existing::Keep), Err(WriteError::Exists)));
        assert_eq!(fs::read(&path).unwrap(), b"one");
        write(&path, b"two", Existing::Replace).unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"two");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "nothing half-written is left");
    }

    #[test]
    fn a_read_only_file_is_not_replaced() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("sign.svg");
        fs::write(&path, "one").unwrap();
        let mut permissions = fs::metadata(&path).unwrap().permissions();
        permissions.set_readonly(true);
        fs::set_permissions(&path, permissions).unwrap();
        assert!(matches!(write(&path, b"two", Existing::Replace), Err(WriteError::ReadOnly)));
        assert_eq!(fs::read(&path).unwrap(), b"one");
    }

    #[test]
    fn what_a_killed_write_left_is_cleared_away_by_the_next() {
        let folder = tempfile::tempdir().unwrap();
        let leave = |name: &str, age: u64| {
            let file = File::create(folder.path().join(name)).unwrap();
            file.set_modified(SystemTime::now() - Duration::from_secs(age)).unwrap();
        };
        leave(".spelk-abc123.tmp", 2 * 3600);
        leave(".spelk-fresh1.tmp", 60);
        leave(".spelk-notes.txt", 2 * 3600);
        leave(".tmpabc123", 2 * 3600);
        write(&folder.path().join("a.svg"), b"", Existing::Keep).unwrap();
        let mut names: Vec<String> = fs::read_dir(folder.path())
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        assert_eq!(names, [".spelk-fresh1.tmp", ".spelk-notes.txt", ".tmpabc123", "a.svg"]);
    }

    #[test]
    fn a_file_larger_than_it_may_be_and_a_folder_are_not_read() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("sign.svg");
        fs::write(&path, "12345").unwrap();
        assert_eq!(read(&path, 5).unwrap(), b"12345");
        assert!(matches!(read(&path, 4), Err(ReadError::TooLarge { most: 4 })));
        assert!(matches!(read(folder.path(), 4), Err(ReadError::Disk(_))));
    }

    #[test]
    fn two_paths_to_one_file_are_the_same() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        fs::write(at("one"), "").unwrap();
        fs::write(at("two"), "").unwrap();
        assert!(is_same(&at("one"), &at("./one")));
        assert!(!is_same(&at("one"), &at("two")));
        assert!(is_same(&at("new"), &at("./new")));
        assert!(!is_same(&at("new"), &at("newer")));
        assert!(!is_same(&at("new"), &at("one")));
    }

    #[cfg(unix)]
    mod on_unix {
        use super::*;
        use std::os::unix::fs::{PermissionsExt as _, symlink};

        #[test]
        fn who_may_read_a_file_is_as_for_any_other_and_stays() {
            let folder = tempfile::tempdir().unwrap();
            let mode = |name: &str| folder.path().join(name).metadata().unwrap().permissions().mode() & 0o777;
            fs::write(folder.path().join("usual"), "").unwrap();
            let ours = folder.path().join("ours");
            write(&ours, b"one", Existing::Keep).unwrap();
            assert_eq!(mode("ours"), mode("usual"));
            fs::set_permissions(&ours, fs::Permissions::from_mode(0o640)).unwrap();
            write(&ours, b"two", Existing::Replace).unwrap();
            assert_eq!(mode("ours"), 0o640);
        }

        #[test]
        fn a_link_is_followed_and_stays_a_link() {
            let folder = tempfile::tempdir().unwrap();
            let at = |name: &str| folder.path().join(name);
            fs::create_dir(at("far")).unwrap();
            symlink("far/file", at("link")).unwrap();
            symlink("link", at("link-to-link")).unwrap();
            write(&at("link-to-link"), b"one", Existing::Keep).unwrap();
            assert_eq!(fs::read(at("far/file")).unwrap(), b"one");
            write(&at("link"), b"two", Existing::Replace).unwrap();
            assert_eq!(fs::read(at("far/file")).unwrap(), b"two");
            assert!(at("link").symlink_metadata().unwrap().is_symlink());
            assert!(is_same(&at("link"), &at("far/file")));
            symlink("round", at("round")).unwrap();
            assert!(matches!(write(&at("round"), b"", Existing::Replace), Err(WriteError::Disk(_))));
        }

        #[test]
        fn a_device_is_written_to_and_stays_one() {
            assert!(matches!(
                write(Path::new("/dev/full"), b"one", Existing::Keep),
                Err(WriteError::Disk(error)) if error.kind() == ErrorKind::StorageFull
            ));
            write(Path::new("/dev/null"), b"one", Existing::Keep).unwrap();
            assert!(!fs::metadata("/dev/null").unwrap().is_file());
            assert!(matches!(read(Path::new("/dev/zero"), 4), Err(ReadError::NotAFile)));
        }
    }
}
