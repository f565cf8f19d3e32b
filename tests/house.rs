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
    let (checks, developers) = (read(".ci/run"), read("DEVELOPERS.md"));
    let mut ignored = Vec::new();
    for file in rust_files() {
        let text = read(&file);
        let mut lines = text.lines();
        while lines.by_ref().any(|line| line.trim_start().starts_with("#[ignore")) {
            let name = lines.by_ref().find_map(function).expect("an ignored test has a name");
            // Another test of the file may run it in a process of its own.
            let run_here = text.matches(&format!("::{name}")).count() > 0;
            // What takes hours is run by hand.
            let by_hand = developers.contains(&format!("cargo test {name} -- --ignored"));
            let by_checks = checks.contains(&format!("::{name} "));
            assert!(run_here || by_hand || by_checks, "{name} is run nowhere");
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

/// A struct with more fields than this is two things. What is read from or written to a file or a command
/// line is as wide as its format, and a table of values of one type is a table.
const MOST_FIELDS: usize = 13;

#[test]
fn no_struct_is_wider_than_about_a_dozen_fields() {
    let mut wide = Vec::new();
    let mut seen = 0;
    for file in files_under(&root().join("src"), &["rs"]) {
        for (name, attributes, fields) in structs(&read(&file)) {
            seen += 1;
            let is_of_a_file = ["Serialize", "Deserialize", "Args"].iter().any(|of| attributes.contains(of));
            let is_table = fields.windows(2).all(|pair| pair[0] == pair[1]);
            if fields.len() > MOST_FIELDS && !is_of_a_file && !is_table {
                wide.push(format!("{name} in {} has {}", file.display(), fields.len()));
            }
        }
    }
    assert!(seen > 200, "{seen} structs were found");
    assert!(wide.is_empty(), "{wide:#?}");
}

/// The structs with named fields of a source: their names, attributes, and the types of their fields.
fn structs(source: &str) -> Vec<(String, String, Vec<String>)> {
    let visible = |line: &str| {
        let line = line.trim_start();
        let rest = line.strip_prefix("pub").map_or(line, |rest| rest.strip_prefix("(crate)").unwrap_or(rest));
        rest.strip_prefix("(super)").unwrap_or(rest).trim_start().to_owned()
    };
    let (mut found, mut attributes) = (Vec::new(), String::new());
    let mut lines = source.lines();
    while let Some(line) = lines.next() {
        if line.starts_with("#[") || line.starts_with("///") {
            attributes += if line.starts_with("#[") { line } else { "" };
            continue;
        }
        if let Some(name) = visible(line).strip_prefix("struct ").filter(|_| line.ends_with('{')) {
            let fields = lines.by_ref().take_while(|line| *line != "}").filter_map(|line| {
                let line = line.strip_prefix("    ").filter(|line| !line.starts_with([' ', '/', '#']))?;
                let (_, of) = visible(line).split_once(": ").map(|(a, b)| (a.to_owned(), b.to_owned()))?;
                Some(of)
            });
            let fields = fields.collect();
            found.push((name.trim_end_matches(" {").to_owned(), attributes.clone(), fields));
        }
        attributes.clear();
    }
    found
}

#[test]
fn a_wide_struct_is_noticed() {
    let source = "#[derive(Clone)]\npub(crate) struct Wide<'a> {\n    /// A.\n    pub(crate) a: &'a str,\n    #[x]\n    b: u8,\n}\n\nstruct Unit;\n";
    let found = structs(source);
    assert_eq!(found.len(), 1);
    assert_eq!(
        (found[0].0.as_str(), found[0].2.as_slice()),
        ("Wide<'a>", &["&'a str,".to_owned(), "u8,".to_owned()][..])
    );
    assert!(found[0].1.contains("Clone"));
}
