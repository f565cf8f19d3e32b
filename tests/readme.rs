//! Every command in the README does what the README says.

use crate::cli::{Run, spelk_with};

/// One command of the README.
#[derive(Debug)]
struct Shown {
    line: usize,
    /// As typed, its comment taken off.
    command: String,
    /// The comment after it; empty where there is none.
    comment: String,
}

impl Shown {
    /// The exit status the README promises: `# exit status 1: …`, or 0.
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
            _ => panic!("README line {}: no test knows how to run {:?}", self.line, self.command),
        };
        Some(words[start..].to_vec())
    }
}

/// Splits a command at its blanks, but not within double quotes.
fn words(command: &str) -> Vec<String> {
    let mut words = Vec::new();
    for (index, part) in command.split('"').enumerate() {
        if index % 2 == 1 {
            words.push(part.to_owned());
        } else {
            words.extend(part.split_whitespace().map(str::to_owned));
        }
    }
    words
}

/// Every line of every `sh` block.
fn shown(readme: &str) -> Vec<Shown> {
    let mut commands = Vec::new();
    let mut inside = false;
    for (index, text) in readme.lines().enumerate() {
        if text.starts_with("```") {
            inside = text == "```sh";
        } else if inside && !text.trim().is_empty() {
            let (command, comment) = text.split_once('#').unwrap_or((text, ""));
            commands.push(Shown {
                line: index + 1,
                command: command.trim().to_owned(),
                comment: comment.trim().to_owned(),
            });
        }
    }
    commands
}

#[test]
fn every_command_does_what_is_said() {
    let root = env!("CARGO_MANIFEST_DIR");
    let readme = std::fs::read_to_string(format!("{root}/README.md")).unwrap();
    let commands = shown(&readme);
    let runs: Vec<_> = commands.iter().filter_map(|shown| Some((shown, shown.arguments()?))).collect();
    assert!(runs.len() >= 5, "the README shows how the program is used: {commands:?}");
    let config = tempfile::tempdir().unwrap();
    // Files that commands write go to target/, which a build elsewhere would not make.
    std::fs::create_dir_all(format!("{root}/target")).unwrap();
    let wrong: Vec<String> = runs
        .into_iter()
        .filter_map(|(shown, arguments)| {
            let arguments: Vec<&str> = arguments.iter().map(AsRef::as_ref).collect();
            let Run { status, out, err } = spelk_with(config.path(), &arguments);
            (status != shown.status()).then(|| {
                let first = out.lines().next().unwrap_or_default();
                format!("line {}: {} gave {status}: {first} {err}", shown.line, shown.command)
            })
        })
        .collect();
    assert!(wrong.is_empty(), "README.md\n{}", wrong.join("\n"));
}

#[test]
fn every_file_the_readme_points_to_is_there() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let readme = std::fs::read_to_string(root.join("README.md")).unwrap();
    let targets = readme.split("](").skip(1).filter_map(|rest| rest.split(')').next());
    for target in targets.filter(|target| !target.starts_with("http")) {
        assert!(root.join(target).exists(), "README.md points to {target}");
    }
}
