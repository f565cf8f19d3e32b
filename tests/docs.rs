//! The README and the guide are true: every command shown runs and does what is said, every link leads
//! somewhere, every option is there and explained, and every name on screen is one that the window has.

use crate::cli::{Run, spelk_with};
use clap::CommandFactory as _;
use spelk::cli::Cli;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// A page, and where it is from the repository's root.
struct Page {
    path: PathBuf,
    text: String,
}

/// One command of a page, with what the page says of it.
#[derive(Debug)]
struct Shown {
    line: usize,
    /// As typed, its comment taken off.
    command: String,
    /// The comment after it; empty where there is none.
    comment: String,
    /// The lines of the `text` block right after the command's own, which it prints among others.
    prints: Vec<String>,
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn page(path: impl Into<PathBuf>) -> Page {
    let path = path.into();
    let text = fs::read_to_string(root().join(&path)).unwrap();
    Page { path, text }
}

/// The README, then the guide.
fn guide() -> Vec<Page> {
    let mut paths: Vec<PathBuf> = fs::read_dir(root().join("docs"))
        .unwrap()
        .map(|entry| Path::new("docs").join(entry.unwrap().file_name()))
        .filter(|path| path.extension().is_some_and(|ending| ending == "md"))
        .collect();
    paths.sort();
    [PathBuf::from("README.md")].into_iter().chain(paths).map(page).collect()
}

/// Every page that links to others.
fn all_pages() -> Vec<Page> {
    let others = [
        "DEVELOPERS.md",
        "CHANGELOG.md",
        "packaging/README.md",
        "sample-designs/README.md",
        "benches/README.md",
    ];
    guide().into_iter().chain(others.map(page)).collect()
}

impl Page {
    fn name(&self) -> String {
        self.path.display().to_string()
    }

    /// The text line by line, without what stands in code blocks.
    fn prose(&self) -> impl Iterator<Item = &str> {
        let mut in_code = false;
        self.text.lines().filter(move |line| {
            let is_fence = line.starts_with("```");
            in_code ^= is_fence;
            !in_code && !is_fence
        })
    }

    /// The places within the page that a link may lead to: its headings, as the web shows them.
    fn headings(&self) -> BTreeSet<String> {
        let titles = self.prose().filter(|line| line.starts_with('#'));
        titles.map(|line| slug(line.trim_start_matches('#').trim())).collect()
    }

    /// Every command of every `sh` block. What a block of `text` shows belongs to the last command before it.
    fn commands(&self) -> Vec<Shown> {
        let mut commands: Vec<Shown> = Vec::new();
        let mut block = None;
        // Only a blank line may stand between a command's block and what it prints.
        let mut follows = false;
        for (index, line) in self.text.lines().enumerate() {
            match (line.strip_prefix("```"), block) {
                (Some(_), Some(kind)) => {
                    follows = kind == "sh";
                    block = None;
                }
                (Some(kind), None) => {
                    assert!(
                        kind != "text" || follows,
                        "{}, line {}: no command prints this",
                        self.name(),
                        index + 1
                    );
                    block = Some(kind);
                }
                (None, Some("sh")) if !line.trim().is_empty() => {
                    let (command, comment) = line.split_once('#').unwrap_or((line, ""));
                    commands.push(Shown {
                        line: index + 1,
                        command: command.trim().to_owned(),
                        comment: comment.trim().to_owned(),
                        prints: Vec::new(),
                    });
                }
                (None, Some("text")) => {
                    commands.last_mut().unwrap().prints.push(line.trim_end().to_owned());
                }
                (None, Some(_)) => {}
                (None, None) => follows &= line.is_empty(),
            }
        }
        commands
    }
}

impl Shown {
    /// The exit status the page promises: `# exit status 1: …`, or 0.
    fn status(&self) -> i32 {
        let promised = self.comment.strip_prefix("exit status ");
        promised.map_or(0, |rest| rest.split(':').next().unwrap_or_default().trim().parse().unwrap())
    }

    /// The arguments given to the program; `None` for what is not a run of it without a screen.
    fn arguments(&self) -> Option<Vec<String>> {
        if ["opens the window", "runs the tests"].contains(&self.comment.as_str()) {
            return None;
        }
        let words = words(&self.command);
        let start = match words.first().map(String::as_str) {
            Some("spelk") => 1,
            Some("cargo") if words.get(1).is_some_and(|word| word == "run") => {
                words.iter().position(|word| word == "--").map_or(words.len(), |dashes| dashes + 1)
            }
            _ => panic!("line {}: no test knows how to run {:?}", self.line, self.command),
        };
        Some(words[start..].to_vec())
    }

    /// What is wrong with it; `None` where it does what the page says.
    fn wrong(&self, config: &Path, arguments: &[String]) -> Option<String> {
        let arguments: Vec<&str> = arguments.iter().map(AsRef::as_ref).collect();
        let Run { status, out, err } = spelk_with(config, &arguments);
        if status != self.status() {
            let first = out.lines().next().unwrap_or_default();
            return Some(format!("line {}: {} gave {status}: {first} {err}", self.line, self.command));
        }
        // In the order of the page; `…` stands for lines that are left out.
        let mut printed = out.lines().map(str::trim_end);
        let mut wanted = self.prints.iter().filter(|line| line.trim() != "…");
        let missing = wanted.find(|&line| !printed.any(|printed| printed == line))?;
        Some(format!("line {}: {} does not print {missing:?} but\n{out}", self.line, self.command))
    }
}

/// Splits a command at its blanks, but not within double quotes.
fn words(command: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut word = String::new();
    let mut quoted = false;
    for letter in command.chars() {
        match letter {
            '"' => quoted = !quoted,
            ' ' if !quoted => words.extend(Some(std::mem::take(&mut word)).filter(|word| !word.is_empty())),
            _ => word.push(letter),
        }
    }
    words.extend(Some(word).filter(|word| !word.is_empty()));
    words
}

/// A heading as a link names it: small letters, no punctuation, hyphens for blanks.
fn slug(heading: &str) -> String {
    let kept = heading.to_lowercase();
    let kept = kept.chars().filter(|c| c.is_alphanumeric() || [' ', '-', '_'].contains(c));
    kept.map(|c| if c == ' ' { '-' } else { c }).collect()
}

/// What stands between two marks in a line: `code` between backticks, *names* between stars.
fn between(line: &str, mark: char) -> impl Iterator<Item = &str> {
    line.split(mark).skip(1).step_by(2)
}

#[test]
fn every_command_does_what_is_said() {
    // Files that commands write go to target/, which a build elsewhere would not make.
    fs::create_dir_all(root().join("target")).unwrap();
    let mut runs = 0;
    let mut wrong = Vec::new();
    for page in guide() {
        // A page is followed from its top: what one command keeps, the next one finds.
        let config = tempfile::tempdir().unwrap();
        let commands = page.commands();
        // Nor do files that an earlier run of this test left.
        for argument in commands.iter().filter_map(Shown::arguments).flatten() {
            if argument.starts_with("target/") {
                drop(fs::remove_file(root().join(argument)));
            }
        }
        for shown in commands {
            let Some(arguments) = shown.arguments() else { continue };
            runs += 1;
            wrong.extend(shown.wrong(config.path(), &arguments).map(|why| format!("{}, {why}", page.name())));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(runs >= 20, "the guide shows how the program is used: {runs} commands");
}

#[test]
fn every_link_leads_somewhere() {
    let pages = all_pages();
    let mut wrong = Vec::new();
    for page in &pages {
        let links = page.prose().flat_map(|line| line.split("](").skip(1));
        for target in links.filter_map(|rest| rest.split(')').next()) {
            if target.starts_with("http") {
                continue;
            }
            let (file, heading) = target.split_once('#').unwrap_or((target, ""));
            let folder = page.path.parent().unwrap();
            let path = if file.is_empty() { page.path.clone() } else { folder.join(file) };
            let path = root().join(path);
            let leads = match path.canonicalize() {
                Err(_) => false,
                Ok(_) if heading.is_empty() => true,
                Ok(path) => pages
                    .iter()
                    .find(|other| root().join(&other.path).canonicalize().unwrap() == path)
                    .is_some_and(|other| other.headings().contains(heading)),
            };
            if !leads {
                wrong.push(format!("{}: {target}", page.name()));
            }
        }
    }
    assert!(wrong.is_empty(), "links that lead nowhere:\n{}", wrong.join("\n"));
}

#[test]
fn the_readme_is_short_and_names_every_command() {
    let readme = page("README.md");
    let lines = readme.text.lines().count();
    assert!(lines < 150, "{lines} lines: what a newcomer does not need first belongs in docs/");
    for command in Cli::command().get_subcommands() {
        let row = format!("| `spelk {}", command.get_name());
        assert!(readme.text.lines().any(|line| line.starts_with(&row)), "README.md has no row {row}");
    }
    for page in guide().iter().filter(|page| page.path.parent() == Some(Path::new("docs"))) {
        let name = page.path.file_name().unwrap().display().to_string();
        let index = self::page("docs/README.md").text;
        assert!(name == "README.md" || index.contains(&format!("]({name})")), "docs/README.md lacks {name}");
    }
}

#[test]
fn every_option_is_explained_and_none_is_made_up() {
    let command = Cli::command();
    let own = command.get_subcommands().flat_map(clap::Command::get_arguments);
    let arguments = command.get_arguments().chain(own);
    let there: BTreeSet<&str> = arguments.filter_map(|argument| argument.get_long()).collect();
    let mut explained = BTreeSet::new();
    for page in guide() {
        for line in page.text.lines().filter(|line| !line.starts_with("cargo")) {
            for (at, _) in line.match_indices("--") {
                let name: String =
                    line[at + 2..].chars().take_while(|c| c.is_ascii_lowercase() || *c == '-').collect();
                if !name.starts_with(|c: char| c.is_ascii_lowercase()) || line[..at].ends_with('-') {
                    continue;
                }
                let is_known = there.contains(name.as_str()) || ["help", "version"].contains(&name.as_str());
                assert!(is_known, "{} names --{name}, which no command has", page.name());
                if page.path.ends_with("the-command-line.md") {
                    explained.insert(name);
                }
            }
        }
    }
    let missing: Vec<&&str> = there.iter().filter(|name| !explained.contains(**name)).collect();
    assert!(missing.is_empty(), "docs/the-command-line.md lacks {missing:?}");
}

#[test]
fn every_field_of_the_json_is_explained() {
    let config = tempfile::tempdir().unwrap();
    let arguments = ["proof", "sample-designs/gate-sign.svg", "--json", "--timings"];
    let proof: serde_json::Value = serde_json::from_str(&spelk_with(config.path(), &arguments).out).unwrap();
    let text = page("docs/the-command-line.md").text;
    for (field, value) in proof.as_object().unwrap() {
        assert!(text.contains(&format!("`{field}`")), "the JSON has {field}");
        // What an object holds is named in the same row; lists hold what differs from job to job.
        let row = text.lines().find(|line| line.contains(&format!("`{field}`"))).unwrap();
        for inner in value.as_object().into_iter().flatten().map(|(inner, _)| inner) {
            let is_named =
                row.contains(&format!("`{inner}`")) || ["carrier", "time"].contains(&field.as_str());
            assert!(is_named, "the JSON has {inner} in {field}");
        }
    }
}

/// The map in DEVELOPERS.md is the tree: every path it names is there, and it names every room.
#[test]
fn every_path_for_developers_is_there_and_every_room_is_named() {
    let text = page("DEVELOPERS.md").text;
    let tops = ["src/", "tests/", "docs/", "examples/", "benches/", "packaging/", "sample-designs/", "fuzz/"];
    let named: BTreeSet<&str> = text.lines().flat_map(|line| between(line, '`')).collect();
    for path in named.iter().filter(|path| tops.iter().any(|top| path.starts_with(top))) {
        assert!(root().join(path).exists(), "DEVELOPERS.md names {path}");
    }
    let folders = |folder: &str, prefix: &str| {
        let entries = fs::read_dir(root().join(folder)).unwrap().map(|entry| entry.unwrap().path());
        let folders = entries.filter(|path| path.is_dir());
        let name = |path: PathBuf| format!("{prefix}{}/", path.file_name().unwrap().display());
        folders.map(name).collect::<Vec<_>>()
    };
    for room in folders("src", "src/").into_iter().chain(folders("src/app", "")) {
        assert!(named.contains(room.as_str()), "DEVELOPERS.md lacks {room}");
    }
}

/// In the guide stars are kept for names on screen, so that they can be held against the program.
#[test]
fn every_name_on_screen_is_one_that_the_window_has() {
    let source = rust_files(&root().join("src"))
        .into_iter()
        .map(|path| fs::read_to_string(path).unwrap())
        .collect::<Vec<_>>()
        .join("\n");
    let mut wrong = Vec::new();
    for page in guide() {
        for name in page.prose().flat_map(|line| between(line, '*')).filter(|name| !name.is_empty()) {
            // From its first letter: `"Grid"`, but `"Grid…"` and `"Grid of boards"` too.
            if !source.contains(&format!("\"{name}")) {
                wrong.push(format!("{}: {name}", page.name()));
            }
        }
    }
    assert!(wrong.is_empty(), "names that are not on screen:\n{}", wrong.join("\n"));
}

fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(rust_files(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            files.push(path);
        }
    }
    files.sort();
    files
}
