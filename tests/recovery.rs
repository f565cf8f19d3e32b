//! What a crash leaves: the saved file as it was, and the changed job in the recovery folder.

use crate::support::folder_named_by;
use spelk::design;
use spelk::job::recovery::Recovery;
use spelk::job::saved;
use spelk::job::{Edit, Job};
use spelk::units::Mm;
use std::io::{BufRead as _, BufReader, Write as _};
use std::process::{Command, Stdio};
use std::sync::Arc;

const CHILD: &str = "SPELK_RECOVERY_CHILD";

fn job(board_length: f64) -> Job {
    let sample = &design::samples::samples()[0];
    let mut job = Job::new(Arc::new(design::read(sample.title, sample.svg.as_bytes()).unwrap()));
    job.apply(Edit::BoardLength(Mm::new(board_length))).unwrap();
    job
}

/// The process that [`a_kill_at_any_moment_loses_nothing_that_was_kept`] starts and kills.
#[test]
#[ignore = "a_kill_at_any_moment_loses_nothing_that_was_kept runs it in a process of its own"]
fn changes_and_keeps_a_job_until_killed() {
    let folder = folder_named_by(CHILD);
    let (mut recovery, _) = Recovery::start(&folder.join("kept")).unwrap();
    let kept = recovery.name();
    let (mut job, path) = (job(100.0), folder.join("sign.spelk"));
    for number in 1..1_000_000_u32 {
        job.apply(Edit::BoardLength(Mm::new(100.0 + f64::from(number)))).unwrap();
        kept.write(&job, Some(&path)).unwrap();
        println!("kept {number}");
        if number % 3 == 0 {
            saved::save(&job, &path).unwrap();
            println!("saved {number}");
        }
        std::io::stdout().flush().unwrap();
    }
}

#[test]
fn a_kill_at_any_moment_loses_nothing_that_was_kept() {
    kill(0..12);
}

/// How far it is goes to standard error with `--nocapture`.
#[test]
#[ignore = "takes minutes; run by name"]
fn a_thousand_kills_lose_nothing_that_was_kept() {
    let kills = std::env::var("SPELK_KILLS").ok().and_then(|kills| kills.parse().ok()).unwrap_or(1000);
    kill(0..kills);
    println!("{kills} kills: nothing lost, nothing damaged");
}

/// Kills a process that keeps and saves a job at a moment that depends on the round, and looks at what is left.
fn kill(rounds: std::ops::Range<u32>) {
    for round in rounds {
        let folder = tempfile::tempdir().unwrap();
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["recovery::changes_and_keeps_a_job_until_killed", "--exact", "--ignored", "--nocapture"])
            .env(CHILD, folder.path())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let (mut kept, mut saved_) = (0, 0);
        let mut take = |line: &str| {
            if let Some((_, number)) = line.split_once("kept ") {
                kept = number.trim().parse::<u32>().unwrap();
            } else if let Some((_, number)) = line.split_once("saved ") {
                saved_ = number.trim().parse::<u32>().unwrap();
            }
        };
        // A different moment in each round: so many lines, and a little into what follows them.
        for line in lines.by_ref().take(10 + 3 * (round as usize % 12)) {
            take(&line.unwrap());
        }
        // A step that no other length of time here is a multiple of: every moment of a write is hit in the end.
        std::thread::sleep(std::time::Duration::from_micros(u64::from(round) * 137 % 5003));
        child.kill().unwrap();
        child.wait().unwrap();
        // What it said before it died counts; a last line may be cut off.
        let rest: Vec<String> = lines.map_while(Result::ok).collect();
        for line in rest.iter().take(rest.len().saturating_sub(1)) {
            take(line);
        }
        assert!(kept > 0 && saved_ > 0, "the child said nothing");

        let (_, left) = Recovery::start(&folder.path().join("kept")).unwrap();
        let [left] = left.as_slice() else { panic!("{} jobs were left", left.len()) };
        let path = folder.path().join("sign.spelk");
        assert_eq!(left.saved_at.as_deref(), Some(&*path), "round {round}");
        let found = left.job.as_ref().unwrap().board().length.get() - 100.0;
        assert!(found >= f64::from(kept), "round {round}: kept {kept}, found {found}");
        let on_disk = saved::open(&path).unwrap().board().length.get() - 100.0;
        assert!(on_disk >= f64::from(saved_), "round {round}: saved {saved_}, found {on_disk}");
    }
}

#[test]
fn a_running_window_is_not_taken_for_a_crashed_one() {
    let folder = tempfile::tempdir().unwrap();
    let (mut first, left) = Recovery::start(folder.path()).unwrap();
    assert!(left.is_empty(), "an empty folder has nothing left in it");
    first.name().write(&job(400.0), None).unwrap();
    let (mut second, left) = Recovery::start(folder.path()).unwrap();
    assert!(left.is_empty(), "the first window is still there");
    let seconds = second.name();
    seconds.write(&job(500.0), None).unwrap();
    drop((first, second));
    let (third, left) = Recovery::start(folder.path()).unwrap();
    let lengths: Vec<f64> = left.iter().map(|left| left.job.as_ref().unwrap().board().length.get()).collect();
    assert_eq!(lengths, [400.0, 500.0]);
    seconds.forget().unwrap();
    drop(third);
    let (mut fourth, left) = Recovery::start(folder.path()).unwrap();
    assert_eq!(left.len(), 1, "what was forgotten is back");
    assert_ne!(fourth.name(), left[0].kept, "a new job takes an old one's place");
}

#[test]
fn a_damaged_kept_job_is_told_and_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("0-000004.kept"), "{\"format\":\"spelk.rec").unwrap();
    std::fs::write(folder.path().join("notes.txt"), "not ours").unwrap();
    let (_, left) = Recovery::start(folder.path()).unwrap();
    assert_eq!(left.len(), 1);
    let error = left[0].job.as_ref().unwrap_err().to_string();
    assert!(error.contains("damaged"), "{error}");
    assert!(folder.path().join("0-000004.kept").exists(), "it was removed");
}
