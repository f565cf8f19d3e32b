//! A model of what may be lost: whatever is opened, changed, saved, closed, stayed with, killed and started again, a
//! changed job is saved, kept, or given up in a close that was carried through.

use crate::window::{ask, click, settle, until};
use crate::window_desk::{ask_to_close, bars, kept_files, started};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use spelk::app::{App, Command};
use spelk::job::Edit;
use spelk::units::Mm;
use std::path::Path;

/// What the model knows of an open job.
struct Known {
    name: String,
    changed: bool,
}

/// Marsaglia's xorshift.
fn roll(state: &mut u64, sides: usize) -> usize {
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    (*state % sides.max(1) as u64) as usize
}

/// A window and what must be true of it.
struct Walk<'a> {
    folder: &'a Path,
    harness: Option<Harness<'static, App>>,
    jobs: Vec<Known>,
    made: u32,
    dice: u64,
}

impl Walk<'_> {
    fn window(&mut self) -> &mut Harness<'static, App> {
        self.harness.as_mut().expect("a window")
    }

    fn any_job(&mut self) -> Option<usize> {
        (!self.jobs.is_empty()).then(|| roll(&mut self.dice, self.jobs.len()))
    }

    fn show(&mut self, job: usize) {
        let name = self.jobs[job].name.clone();
        let open = self.window().state().open_jobs();
        let place = open.iter().position(|(open, _)| *open == name).expect("it is open");
        ask(self.window(), Command::ShowJob(place));
    }

    fn open(&mut self) {
        self.made += 1;
        let name = format!("sign-{}", self.made);
        let path = bars(self.folder, &format!("{name}.svg"), 2.0);
        ask(self.window(), Command::Open(path));
        settle(self.window());
        self.jobs.push(Known { name, changed: false });
        // What nobody touched makes room for the next: it is touched at once.
        self.change(self.jobs.len() - 1);
    }

    fn change(&mut self, job: usize) {
        self.show(job);
        let length = 700.0 + roll(&mut self.dice, 400_000) as f64 * 1e-3;
        ask(self.window(), Command::Edit(Edit::BoardLength(Mm::new(length))));
        self.jobs[job].changed = true;
    }

    fn save(&mut self, job: usize) {
        self.show(job);
        let path = self.folder.join(format!("{}.spelk", self.jobs[job].name));
        ask(self.window(), Command::SaveTo(path.clone()));
        settle(self.window());
        until(self.window(), |app| !app.open_jobs()[app.shown_job()].1);
        let saved = spelk::job::saved::open(&path).unwrap().board().length;
        assert_eq!(saved, self.window().state().job().unwrap().board().length, "something else was saved");
        self.jobs[job].changed = false;
    }

    /// Closes one job; a window keeps its last one.
    fn close_job(&mut self, job: usize) {
        if self.window().state().open_jobs().len() < 2 {
            return;
        }
        self.show(job);
        ask(self.window(), Command::CloseJob);
        settle(self.window());
        if self.jobs[job].changed {
            if roll(&mut self.dice, 2) == 0 {
                return click(self.window(), "Stay");
            }
            click(self.window(), "Close without saving");
            settle(self.window());
        }
        self.jobs.remove(job);
    }

    /// Asks the window to close, gives up some jobs, and stays at one of them or carries it through.
    fn close_window(&mut self) {
        loop {
            ask_to_close(self.window());
            if self.window().query_by_label_contains("has changes").is_none() {
                break;
            }
            if roll(&mut self.dice, 3) == 0 {
                return click(self.window(), "Stay");
            }
            click(self.window(), "Close without saving");
        }
        self.harness = None;
        self.jobs.clear();
        self.start(false);
    }

    /// The process dies: what was changed is offered by the next, and nothing else.
    fn kill(&mut self) {
        self.harness = None;
        let changed = self.jobs.iter().filter(|job| job.changed).count();
        self.start(changed > 0);
        self.jobs.retain(|job| job.changed);
    }

    fn start(&mut self, restores: bool) {
        let left = self.jobs.iter().filter(|job| job.changed).count();
        let mut harness = started(vec![], vec![], Some(self.folder));
        assert_eq!(harness.state().left_behind(), left, "work was lost, or comes back");
        if restores {
            click(&mut harness, "Restore");
            settle(&mut harness);
        }
        self.harness = Some(harness);
    }

    /// Every changed job is kept, and nothing else is.
    fn check(&mut self) {
        let changed = self.jobs.iter().filter(|job| job.changed).count();
        let folder = self.folder.to_owned();
        until(self.window(), |_| kept_files(&folder) == changed);
        let told: Vec<bool> =
            self.window().state().open_jobs().into_iter().map(|(_, changed)| changed).collect();
        assert_eq!(told.into_iter().filter(|changed| *changed).count(), changed, "a change is forgotten");
    }
}

#[test]
fn nothing_changed_is_ever_lost_but_what_was_given_up() {
    for seed in 1..=5 {
        let folder = tempfile::tempdir().unwrap();
        let harness = Some(started(vec![], vec![], Some(folder.path())));
        let dice = 0x9E37_79B9_7F4A_7C15 ^ (seed << 20);
        let mut walk = Walk { folder: folder.path(), harness, jobs: Vec::new(), made: 0, dice };
        walk.open();
        for _ in 0..14 {
            let job = walk.any_job();
            match (roll(&mut walk.dice, 7), job) {
                (0, Some(job)) => walk.save(job),
                (1, Some(job)) => walk.close_job(job),
                (2, _) => walk.close_window(),
                (3, _) => walk.kill(),
                (4 | 5, Some(job)) => walk.change(job),
                _ if walk.jobs.len() < 4 => walk.open(),
                _ => {}
            }
            walk.check();
        }
    }
}
