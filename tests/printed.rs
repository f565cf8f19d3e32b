//! Snapshots of what the program prints, so that a change of wording or of a number is seen when it is
//! reviewed: the proof of every sample as text and as JSON, and the help of every command.
//!
//! The words on paper are beside the sheets, in `src/sheet/pdf/wording.rs`.

use crate::cli::{Run, spelk};
use spelk::design::samples::samples;
use spelk::job::sample::sample_job;
use spelk::job::saved;

/// Compares with `tests/snapshots/NAME.snap`.
fn check(name: &str, text: &str) {
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path("snapshots");
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings.bind(|| insta::assert_snapshot!(name, text));
}

#[test]
fn the_proof_of_every_sample() {
    let folder = tempfile::tempdir().unwrap();
    for sample in samples() {
        // As it opens in the window, through a saved job.
        let path = folder.path().join(format!("{}.spelk", sample.id));
        saved::save(&sample_job(sample).unwrap(), &path).unwrap();
        let path = path.to_str().unwrap();
        for (kind, options) in
            [("text", &["proof", path, "--unit", "in"][..]), ("json", &["proof", path, "--json"])]
        {
            let Run { status, out, err } = spelk(options);
            assert!(status < 2 && err.is_empty(), "{}: {err}", sample.id);
            check(&format!("proof_{}_{kind}", sample.id), &format!("exit status {status}\n\n{out}"));
        }
    }
}

#[test]
fn the_help_of_every_command() {
    let whole = spelk(&["--help"]).out;
    let mut commands: Vec<&str> = whole
        .lines()
        .skip_while(|line| *line != "Commands:")
        .skip(1)
        .take_while(|line| !line.is_empty())
        .filter_map(|line| line.split_whitespace().next())
        .collect();
    commands.retain(|command| *command != "help");
    assert!(commands.len() >= 12, "{commands:?}");
    check("help", &whole);
    for command in commands {
        let Run { status, out, err } = spelk(&[command, "--help"]);
        assert_eq!((status, err.as_str()), (0, ""), "{command}");
        check(&format!("help_{command}"), &out);
    }
}
