//! Rules of this repository that no compiler checks.

use crate::support::files_under;
use std::path::{Path, PathBuf};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn read(path: impl AsRef<Path>) -> String {
    let path = root().join(path);
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// Every Rust file of the program and its tests.
fn rust_files() -> Vec<PathBuf> {
    ["src", "tests"].iter().flat_map(|folder| files_under(&root().join(folder), &["rs"])).collect()
}

/// The function a line declares.
fn function(line: &str) -> Option<&str> {
    let (_, rest) = line.split_once("fn ")?;
    rest.split(['(', '<']).next()
}

/// An ignored test that nobody runs would be no test.
#[test]
fn every_ignored_test_is_run_somewhere() {
    let checks = read(".ci/run");
    let mut ignored = Vec::new();
    for file in rust_files() {
        let text = read(&file);
        let mut lines = text.lines();
        while lines.by_ref().any(|line| line.trim_start().starts_with("#[ignore")) {
            let name = lines.by_ref().find_map(function).expect("an ignored test has a name");
            // Another test of the file may run it in a process of its own.
            let run_here = text.matches(&format!("::{name}")).count() > 0;
            assert!(run_here || checks.contains(&format!("::{name} ")), "{name} is run nowhere");
            ignored.push(name.to_owned());
        }
    }
    let named = checks.lines().filter_map(|line| line.split_once("ignored ")?.1.split_once(" --"));
    let named: Vec<&str> = named.map(|(name, _)| name).filter(|name| name.contains("::")).collect();
    assert!(named.len() >= 5, "{named:?}");
    for name in named {
        let last = name.rsplit("::").next().unwrap_or(name);
        assert!(ignored.iter().any(|known| known == last), ".ci/run names {name}, which is no ignored test");
    }
}

/// The licences of the typefaces ask to go with every copy.
#[test]
fn every_package_holds_the_licences_of_the_typefaces() {
    let list = read("packaging/licences/README.md");
    let texts = files_under(&root().join("packaging/licences"), &["txt"]);
    assert!(texts.len() >= 3, "{texts:?}");
    for text in texts {
        let name = text.file_name().unwrap().to_string_lossy().into_owned();
        assert!(list.contains(&format!("({name})")), "packaging/licences/README.md says what {name} is for");
    }
    #[cfg(feature = "window")]
    for typeface in eframe::egui::FontDefinitions::default().font_data.keys() {
        assert!(list.contains(&format!("`{typeface}`")), "{typeface} is in the program without its licence");
    }
    assert!(
        read("Cargo.toml").contains(r#"["packaging/licences/*", "usr/share/doc/spelk/licences/", "644"]"#)
    );
    assert!(read("justfile").contains("cp -r packaging/licences target/package"));
}
