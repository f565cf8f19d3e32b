//! Every sentence of `src/words`, printed with example facts, one snapshot for each of its files: a change
//! of wording shows in review. What is there and is not printed here fails.

mod advice;
mod arrange;
mod bench_list;
mod carrier;
mod cautions;
mod command_line;
mod commands;
mod edits;
mod errors;
mod errors_design;
mod fault;
mod finding;
mod fit;
mod labels;
mod lesson;
mod lettering;
mod limits;
mod mend;
mod notices;
mod photo;
mod price;
mod record;
mod sheets;
mod shop;
mod sizes;
mod surface;
mod tour;
mod trace;
mod verdict;
mod window;
mod window_handle;

use spelk::units::{LengthUnit, Mm};
use spelk::words::{
    between, capitalised, count, duration, fine, listed, percent_down, percent_up, printable, thousands,
};
use std::collections::BTreeSet;
use std::fmt::Display;
use std::fs;
use std::path::{Path, PathBuf};

/// The units that sentences with a length are printed in: millimetres, and inches in fractions.
pub(crate) const UNITS: [LengthUnit; 2] = [LengthUnit::Millimetres, LengthUnit::InchFraction];

/// Sentences with their names, a line each.
#[derive(Default)]
pub(crate) struct Said(String);

impl Said {
    /// `name: sentence`; the further lines of a sentence are set in.
    pub(crate) fn line(&mut self, name: &str, sentence: impl Display) {
        let sentence = sentence.to_string().replace('\n', "\n    ");
        self.0.extend([&*name.replace(' ', ""), ": ", &*sentence, "\n"]);
    }

    /// All of them.
    pub(crate) fn text(&self) -> &str {
        &self.0
    }
}

/// `say!(said, module::function(facts))` or `say!(said, module::CONSTANT)` adds a line.
macro_rules! say {
    ($said:ident, $($name:ident)::+ ( $($fact:expr),* $(,)? )) => {
        $said.line(stringify!($($name)::+), $($name)::+($($fact),*))
    };
    ($said:ident, $($name:ident)::+) => {
        $said.line(stringify!($($name)::+), $($name)::+)
    };
}

pub(crate) use say;

/// Compares with the snapshot named after a file of `src/words`.
pub(crate) fn compare(file: &str, said: &Said) {
    insta::with_settings!({ prepend_module_to_snapshot => false, snapshot_path => "snapshots/words", omit_expression => true }, {
        insta::assert_snapshot!(file, said.text());
    });
}

#[test]
fn counts() {
    let mut said = Said::default();
    say!(said, count(0, "wall", "walls"));
    say!(said, count(1, "wall", "walls"));
    say!(said, count(1234, "wall", "walls"));
    say!(said, thousands(1_234_567));
    say!(said, capitalised("a knot"));
    say!(said, printable("a \u{1b}[31mred knot"));
    say!(said, percent_up(0.75001));
    say!(said, percent_down(0.75999));
    for unit in UNITS {
        say!(said, fine(unit, Mm::new(1.19)));
        say!(said, fine(unit, Mm::new(0.001)));
        say!(said, fine(unit, Mm::ZERO));
        say!(said, between([Mm::new(0.1), Mm::new(0.4)], unit));
        say!(said, between([Mm::new(0.15), Mm::new(0.15)], unit));
    }
    say!(said, listed(&["rim", "dots"]));
    say!(said, listed(&["a", "b", "c", "d", "e", "f"]));
    for seconds in [f64::NAN, 48.2, 720.0, 3900.0] {
        said.line("duration", duration(seconds));
    }
    compare("mod", &said);
}

#[test]
fn every_sentence_is_printed_here() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut tests = fs::read_to_string(root.join("tests/words.rs")).unwrap();
    for file in rust_files(&root.join("tests/words")) {
        tests.push_str(&fs::read_to_string(file).unwrap());
    }
    let mut missing = Vec::new();
    for file in rust_files(&root.join("src/words")) {
        let source = fs::read_to_string(&file).unwrap();
        let stem = file.strip_prefix(root.join("src/words")).unwrap().with_extension("");
        let stem = match stem.file_name().and_then(|name| name.to_str()) {
            Some("mod") => stem.parent().and_then(|folder| folder.file_name()?.to_str()).unwrap_or("mod"),
            stem => stem.unwrap(),
        };
        let mut unprinted = unprinted(stem, &source, &tests);
        if file.parent().is_some_and(|folder| folder.ends_with("window")) {
            // Captions are printed by reading the file itself.
            unprinted
                .retain(|name| !name.ends_with(|sign: char| sign.is_uppercase() || sign.is_ascii_digit()));
        }
        missing.extend(unprinted);
    }
    assert!(missing.is_empty(), "tests/words does not print: {}", missing.join(", "));
}

/// The Rust files of a folder and its folders, in the order of their names.
fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    let mut paths: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    for path in paths {
        if path.is_dir() {
            files.extend(rust_files(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            files.push(path);
        }
    }
    files
}

/// What a file of `src/words` says and `tests` never names: functions and constants by `file::name`, those
/// of a type by `Type::name`, and each `Type::Variant` that a `Display` has words for.
fn unprinted(stem: &str, source: &str, tests: &str) -> Vec<String> {
    let (mut wanted, mut owner, mut shown) = (BTreeSet::new(), None::<String>, false);
    for line in source.lines() {
        if line == "#[cfg(test)]" {
            break;
        }
        if let Some(head) = line.strip_prefix("impl ") {
            shown = head.contains("Display for ");
            let name = head.rsplit(" for ").next().unwrap_or(head);
            owner = Some(word(name).to_owned());
        } else if line == "}" {
            (owner, shown) = (None, false);
        }
        let code = line.trim_start();
        for start in ["pub fn ", "pub const fn ", "pub const ", "pub static "] {
            let Some(name) = code.strip_prefix(start).map(word).filter(|name| *name != "fn") else {
                continue;
            };
            wanted.insert(match (&owner, stem) {
                (Some(owner), _) => format!("{owner}::{name}"),
                (None, "mod") => name.to_owned(),
                (None, _) => format!("{stem}::{name}"),
            });
        }
        if let Some(owner) = owner.as_ref().filter(|_| shown) {
            for (at, _) in code.match_indices(&format!("{owner}::")) {
                wanted.insert(format!("{owner}::{}", word(&code[at + owner.len() + 2..])));
            }
        }
    }
    let names = |name: &String| {
        let ends =
            |at: usize| !tests[at + name.len()..].starts_with(|c: char| c.is_alphanumeric() || c == '_');
        let starts = |at: usize| !tests[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_');
        tests.match_indices(name).any(|(at, _)| starts(at) && ends(at))
    };
    wanted.into_iter().filter(|name| !names(name)).collect()
}

/// The name that a text starts with.
fn word(text: &str) -> &str {
    text.split(|c: char| !c.is_alphanumeric() && c != '_').next().unwrap_or(text)
}

#[test]
fn a_sentence_that_is_not_printed_is_noticed() {
    let source = "pub const NOTHING: &str = \"nothing\";\n\
         pub fn wall(width: f64) -> String {\n}\n\
         impl Kind {\n    pub fn label(self) -> &'static str {\n    }\n}\n\
         impl fmt::Display for Broken {\n    Broken::Early => a,\n    Broken::Late { at } => b,\n}\n\
         #[cfg(test)]\nmod tests {\n    pub fn helper() {}\n}\n";
    let all = ["Broken::Early", "Broken::Late", "Kind::label", "file::NOTHING", "file::wall"];
    assert_eq!(unprinted("file", source, "fn nothing() {}"), all);
    assert_eq!(unprinted("mod", "pub fn wall() {}", "walls() floor_wall()"), ["wall"]);
    for left_out in all {
        let others: Vec<&str> = all.into_iter().filter(|name| *name != left_out).collect();
        assert_eq!(unprinted("file", source, &others.join("(1) ")), [left_out]);
    }
    assert_eq!(unprinted("file", source, &all.join("(1) ")), [""; 0]);
}
