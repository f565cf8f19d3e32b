//! When Spelk stops through a fault of its own: a report is written, and the next start says where it is.
//!
//! A report says where in the program the fault is and what it was doing there. It holds nothing of a
//! design: no name, no path, no length. Nothing is sent.

use crate::words::fault as said;
use std::fs::{self, File};
use std::io::{self, Write as _};
use std::panic::{self, PanicHookInfo};
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

/// What a run writes, beside the jobs that are kept for recovery.
const REPORT: &str = "fault.txt";

/// What it is called once a start has said where it is.
const EARLIER_REPORT: &str = "earlier-fault.txt";

/// A report grows by each fault of a run up to about so many bytes: a round value of our own. The first fault
/// says the most.
const MOST_BYTES: u64 = 64 << 10;

/// The report of this run, once there is one.
static REPORTED: OnceLock<PathBuf> = OnceLock::new();

/// From now on each panic of this process adds to a report in `folder`, which is made if need be, and standard
/// error says where it is. What the process did on a panic before, it still does first.
pub fn report_in(folder: PathBuf, version: &'static str) {
    let before = panic::take_hook();
    panic::set_hook(Box::new(move |info| {
        before(info);
        // A report that cannot be written must not be a second fault.
        if let Ok(report) = add(&folder, &text(info, version)) {
            drop(writeln!(io::stderr(), "{}", said::reported(&report.display().to_string())));
            drop(REPORTED.set(report));
        }
    }));
}

/// The report of this run, where there was a fault.
pub fn reported() -> Option<&'static Path> {
    REPORTED.get().map(PathBuf::as_path)
}

/// The report that an earlier run left in `folder`, told of once: it has a new name from now on, and an older
/// one of that name is gone.
pub fn left_in(folder: &Path) -> Option<PathBuf> {
    let earlier = folder.join(EARLIER_REPORT);
    fs::rename(folder.join(REPORT), &earlier).ok().map(|()| earlier)
}

fn text(info: &PanicHookInfo, version: &str) -> String {
    let thread = std::thread::current();
    let location = info.location().map_or_else(|| "unknown".to_owned(), ToString::to_string);
    // What the program's text has word for word. A message that was put together may name a design.
    let message = info.payload().downcast_ref::<&'static str>().copied();
    // A thread is named for the work it does.
    said::report(version, thread.name().unwrap_or("unnamed"), &location, message)
}

fn add(folder: &Path, text: &str) -> io::Result<PathBuf> {
    fs::create_dir_all(folder)?;
    let path = folder.join(REPORT);
    let mut file = File::options().create(true).append(true).open(&path)?;
    if file.metadata()?.len() < MOST_BYTES {
        // At once, so that two threads' reports do not mix.
        file.write_all(text.as_bytes())?;
    }
    Ok(path)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_earlier_report_is_told_of_once_and_the_latest_stays() {
        let folder = tempfile::tempdir().unwrap();
        let at = folder.path().join("not/yet/there");
        assert_eq!(left_in(&at), None);
        add(&at, "one").unwrap();
        add(&at, "two").unwrap();
        let left = left_in(&at).unwrap();
        let text = fs::read_to_string(&left).unwrap();
        assert!(text.contains("one") && text.contains("two"), "{text}");
        assert_eq!(left_in(&at), None);
        add(&at, "three").unwrap();
        assert_eq!(left_in(&at).as_deref(), Some(left.as_path()));
        assert!(!fs::read_to_string(left).unwrap().contains("one"));
    }

    #[test]
    fn a_report_does_not_grow_without_end() {
        let folder = tempfile::tempdir().unwrap();
        let fault = "x".repeat(10_000);
        for _ in 0..20 {
            add(folder.path(), &fault).unwrap();
        }
        let length = fs::metadata(folder.path().join(REPORT)).unwrap().len();
        assert!((MOST_BYTES..MOST_BYTES + 11_000).contains(&length), "{length}");
    }
}
