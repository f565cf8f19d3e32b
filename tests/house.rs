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
    // One function stages what goes into every package, the Mac's aside.
    let package = read("packaging/package");
    assert!(package.contains("cp packaging/licences/* \"$1/licences\""));
    assert!(package.matches("    papers ").count() >= 2, "a package without its papers");
    assert!(read("packaging/macos/bundle").contains("packaging/licences/* LICENSE-MIT"));
}

/// What a Mac reads of the app before it opens it.
#[test]
fn the_app_of_a_mac_says_what_it_is() {
    use usvg::roxmltree::{Document, ParsingOptions};
    let text = read("packaging/macos/Info.plist");
    let options = ParsingOptions { allow_dtd: true, ..ParsingOptions::default() };
    let list = Document::parse_with_options(&text, options).expect("a property list is XML");
    // The value of a key, wherever it is; of a list the first.
    let value = |key: &str| {
        let mut keys = list.descendants().filter(|node| node.has_tag_name("key") && node.text() == Some(key));
        let key = keys.next().unwrap_or_else(|| panic!("there is no {key}"));
        let value = key.next_sibling_element().expect("a key has a value");
        value.descendants().find_map(|node| node.text().filter(|text| !text.trim().is_empty())).unwrap_or("")
    };
    for key in ["CFBundleShortVersionString", "CFBundleVersion"] {
        assert_eq!(value(key), env!("CARGO_PKG_VERSION"), "{key}");
    }
    assert_eq!(value("CFBundlePackageType"), "APPL");
    let bundle = read("packaging/macos/bundle");
    assert!(bundle.contains(&format!("cp target/release/{} ", value("CFBundleExecutable"))));
    assert!(bundle.contains(&format!("cp packaging/macos/{} ", value("CFBundleIconFile"))));
    let mime = read("packaging/spelk-mime.xml");
    assert!(mime.contains(&format!("\"*.{}\"", value("public.filename-extension"))));
    assert!(mime.contains(&format!("\"{}\"", value("public.mime-type"))));
    assert_eq!(value("LSItemContentTypes"), value("UTTypeIdentifier"), "it opens the type it declares");
}

/// An icon file is made of the icons beside it, so a change of one shows in the other.
#[test]
fn icons_of_windows_and_macos_hold_the_icons() {
    let bytes = |path: &str| std::fs::read(root().join("packaging").join(path)).unwrap();
    let holds = |file: &[u8], png: &[u8]| file.windows(png.len()).any(|part| part == png);
    let (ico, icns) = (bytes("windows/spelk.ico"), bytes("macos/spelk.icns"));
    assert!(holds(&ico, &bytes("icons/spelk-256.png")));
    for size in [32, 128, 256, 512] {
        assert!(holds(&icns, &bytes(&format!("icons/spelk-{size}.png"))), "{size}");
    }
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
