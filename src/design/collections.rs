//! Font collections that claim more faces than they can hold. The library that lists fonts looks for every face
//! a collection claims, so that 400 bytes could keep it busy for minutes and ask for gigabytes.

use crate::whole_file::ending;
use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::Read as _;
use std::path::{Path, PathBuf};
use usvg::fontdb::Database;

/// The start of a collection (OpenType 1.9, TTC header): a tag, a version, and how many faces follow.
const HEADER: usize = 12;

/// How deep folders of fonts are looked through: a round value of our own.
const DEEPEST: usize = 16;

/// Whether a font file that starts like this, `length` bytes long, has room for the faces it claims: each takes
/// four bytes in the header.
pub(super) fn is_whole(start: &[u8], length: u64) -> bool {
    match start {
        [b't', b't', b'c', b'f', _, _, _, _, a, b, c, d, ..] => {
            u64::from(u32::from_be_bytes([*a, *b, *c, *d])) <= length.saturating_sub(HEADER as u64) / 4
        }
        _ => true,
    }
}

/// Adds the fonts of this machine. Where a collection like that is among them in the usual folders, the fonts of those
/// folders are added one by one without it: the library reads every file it finds, known to it or not.
pub(super) fn load_system_fonts(database: &mut Database) {
    let mut found = Found::default();
    for folder in usual_folders() {
        found.look_through(&folder, DEEPEST);
    }
    if found.broken.is_empty() {
        database.load_system_fonts();
    } else {
        for path in &found.whole {
            // One that cannot be read is no font of this machine.
            drop(database.load_font_file(path));
        }
    }
}

/// Where fonts usually are, on every system; most of them are not there.
fn usual_folders() -> Vec<PathBuf> {
    let mut folders: Vec<PathBuf> = [
        "/usr/share/fonts",
        "/usr/local/share/fonts",
        "/Library/Fonts",
        "/System/Library/Fonts",
        "/Network/Library/Fonts",
        "C:\\Windows\\Fonts",
    ]
    .map(PathBuf::from)
    .to_vec();
    if let Some(user) = directories::UserDirs::new() {
        folders.push(user.home_dir().join(".fonts"));
        folders.extend(user.font_dir().map(Path::to_owned));
    }
    if let Some(base) = directories::BaseDirs::new() {
        folders.push(base.data_local_dir().join("Microsoft/Windows/Fonts"));
    }
    folders
}

/// How the names of font files end.
const ENDINGS: [&str; 4] = ["ttf", "ttc", "otf", "otc"];

/// Font files, by their whole paths and in order, each once.
#[derive(Default)]
struct Found {
    whole: BTreeSet<PathBuf>,
    broken: BTreeSet<PathBuf>,
}

impl Found {
    fn look_through(&mut self, folder: &Path, deeper: usize) {
        let Ok(entries) = fs::read_dir(folder) else { return };
        for path in entries.flatten().map(|entry| entry.path()) {
            let Ok(about) = fs::metadata(&path) else { continue };
            if about.is_dir() && deeper > 0 {
                self.look_through(&path, deeper - 1);
            } else if about.is_file() && ENDINGS.contains(&ending(&path).as_str()) {
                let mut start = Vec::with_capacity(HEADER);
                let read =
                    File::open(&path).and_then(|file| file.take(HEADER as u64).read_to_end(&mut start));
                if read.is_ok()
                    && let Ok(path) = fs::canonicalize(&path)
                {
                    let files =
                        if is_whole(&start, about.len()) { &mut self.whole } else { &mut self.broken };
                    files.insert(path);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_collection_that_claims_more_than_it_holds_is_found() {
        let bytes = include_bytes!("../../tests/data/hard/claims-billions-of-faces.ttf");
        assert!(!is_whole(bytes, bytes.len() as u64));
        assert!(is_whole(epaint_default_fonts::UBUNTU_LIGHT, 300_000));
        let two = [&b"ttcf\0\x01\0\0\0\0\0\x02"[..], &[0; 8]].concat();
        assert!(is_whole(&two, two.len() as u64));
        assert!(!is_whole(&two, two.len() as u64 - 1));
        assert!(is_whole(b"ttc", 3));
        let folder = tempfile::tempdir().unwrap();
        let deep = folder.path().join("a/b");
        fs::create_dir_all(&deep).unwrap();
        fs::write(deep.join("broken.ttc"), bytes).unwrap();
        fs::write(deep.join("whole.ttf"), epaint_default_fonts::UBUNTU_LIGHT).unwrap();
        fs::write(deep.join("notes.txt"), bytes).unwrap();
        let mut found = Found::default();
        for _ in 0..2 {
            found.look_through(folder.path(), DEEPEST);
        }
        let at = |name: &str| BTreeSet::from([fs::canonicalize(deep.join(name)).unwrap()]);
        assert_eq!((found.whole, found.broken), (at("whole.ttf"), at("broken.ttc")));
    }
}
