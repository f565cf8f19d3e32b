//! Font collections that claim more faces than they can hold. The library that lists fonts looks for every face
//! a collection claims, so that 400 bytes could keep it busy for minutes and ask for gigabytes.

use std::fs::{self, File};
use std::io::Read as _;
use std::path::{Path, PathBuf};
use usvg::fontdb::{Database, FaceInfo, ID, Source, Stretch, Style, Weight};

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

/// Adds the fonts of this machine, without such collections in the usual folders.
pub(super) fn load_system_fonts(database: &mut Database) {
    let mut broken = Vec::new();
    for folder in usual_folders() {
        find_broken(&folder, DEEPEST, &mut broken);
    }
    // A file that the database knows already is not read again.
    let stand_ins: Vec<ID> = broken.into_iter().map(|path| database.push_face_info(stand_in(path))).collect();
    database.load_system_fonts();
    stand_ins.into_iter().for_each(|id| database.remove_face(id));
}

fn stand_in(path: PathBuf) -> FaceInfo {
    FaceInfo {
        id: ID::dummy(),
        source: Source::File(path),
        index: 0,
        families: Vec::new(),
        post_script_name: String::new(),
        style: Style::Normal,
        weight: Weight::NORMAL,
        stretch: Stretch::Normal,
        monospaced: false,
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

fn find_broken(folder: &Path, deeper: usize, broken: &mut Vec<PathBuf>) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for path in entries.flatten().map(|entry| entry.path()) {
        let Ok(about) = fs::metadata(&path) else { continue };
        if about.is_dir() && deeper > 0 {
            find_broken(&path, deeper - 1, broken);
        } else if about.is_file() {
            let mut start = Vec::with_capacity(HEADER);
            let read = File::open(&path).and_then(|file| file.take(HEADER as u64).read_to_end(&mut start));
            // By the name the library knows it by.
            if read.is_ok()
                && !is_whole(&start, about.len())
                && let Ok(path) = fs::canonicalize(&path)
            {
                broken.push(path);
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
        let mut broken = Vec::new();
        find_broken(folder.path(), DEEPEST, &mut broken);
        assert_eq!(broken, [fs::canonicalize(deep.join("broken.ttc")).unwrap()]);
    }
}
