//! A fault of the program's own leaves a report that holds nothing of a design.

use std::path::PathBuf;
use std::process::Command;

const FOLDER: &str = "SPELK_FAULT_FOLDER";

/// A run of its own, since a panic hook is the whole process's: two threads stop, one with a fixed message and
/// one that names a design.
#[test]
#[ignore = "run in a process of its own by the test below"]
fn two_threads_stop() {
    let folder = PathBuf::from(std::env::var_os(FOLDER).unwrap());
    spelk::fault::report_in(folder.clone(), "9.8.7");
    assert_eq!(spelk::fault::reported(), None);
    let stop = |name: &str, fault: fn()| {
        let thread = std::thread::Builder::new().name(name.to_owned()).spawn(fault).unwrap();
        assert!(thread.join().is_err());
    };
    stop("Proofing 12", || panic!("a wall has two sides"));
    stop("Opening 3", || {
        // Made while the program runs, or the compiler would write the whole message out.
        let name = ["secret", "sign"].join("-");
        panic!("no outline in {name}")
    });
    assert_eq!(spelk::fault::reported(), Some(folder.join("fault.txt").as_path()));
}

#[test]
fn a_report_says_where_and_nothing_of_a_design() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path().join("state/recovery");
    let run = Command::new(std::env::current_exe().unwrap())
        .args(["--ignored", "--exact", "fault::two_threads_stop", "--nocapture"])
        .env(FOLDER, &at)
        .output()
        .unwrap();
    let err = String::from_utf8(run.stderr).unwrap();
    assert!(run.status.success(), "{err}");
    let report = std::fs::read_to_string(at.join("fault.txt")).unwrap();
    for words in ["Spelk 9.8.7", "Proofing 12", "Opening 3", "fault.rs:", "a wall has two sides", "left out"]
    {
        assert!(report.contains(words), "{words:?} in {report}");
    }
    assert!(!report.contains("secret"), "{report}");
    assert!(err.contains("this is a fault in Spelk") && err.contains("fault.txt"), "{err}");
    assert!(err.contains("a wall has two sides"), "what a panic said before, it still says: {err}");
}
