//! Keeping changed jobs against a crash, a few seconds behind the hand, on a thread of its own.

use crate::app::documents::document::{DocumentId, is_same};
use crate::job::Job;
use crate::job::recovery::{Kept, Recovery};
use crate::words::window::documents as said;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// How far a kept job may be behind.
const BEHIND: Duration = Duration::from_secs(3);

/// What the thread is asked to do; in order, so that nothing forgotten comes back.
enum Note {
    Write(Kept, Arc<Job>, Option<PathBuf>),
    Forget(Kept),
}

/// One job's file.
struct Entry {
    id: DocumentId,
    kept: Kept,
    /// The job as it was last handed over, and when.
    job: Arc<Job>,
    at: Instant,
}

/// Keeps changed jobs.
pub(crate) struct Keeper {
    recovery: Recovery,
    entries: Vec<Entry>,
    notes: Option<Sender<Note>>,
    troubles: Receiver<String>,
    thread: Option<JoinHandle<()>>,
}

impl Keeper {
    pub(crate) fn new(recovery: Recovery) -> Keeper {
        let (notes, inbox) = channel();
        let (trouble, troubles) = channel();
        let thread = std::thread::Builder::new().name("keeper".to_owned()).spawn(move || {
            let mut is_told = false;
            for note in inbox {
                let result = match note {
                    Note::Write(kept, job, saved_at) => kept.write(&job, saved_at.as_deref()),
                    Note::Forget(kept) => kept.forget(),
                };
                // A full disk is told once, not every few seconds.
                if let Err(error) = result
                    && !std::mem::replace(&mut is_told, true)
                {
                    drop(trouble.send(said::changes_not_kept(&error)));
                }
            }
        });
        Keeper { recovery, entries: Vec::new(), notes: Some(notes), troubles, thread: thread.ok() }
    }

    /// What went wrong since it was asked last.
    pub(crate) fn troubles(&self) -> Vec<String> {
        self.troubles.try_iter().collect()
    }

    /// Keeps a job where it has changes (`Some`) that are not kept yet, and forgets it where it has none.
    pub(crate) fn keep(
        &mut self,
        id: DocumentId,
        changed: Option<&Arc<Job>>,
        saved_at: Option<&Path>,
        ctx: &egui::Context,
    ) {
        let Some(job) = changed else { return self.forget(id) };
        let index = self.entries.iter().position(|entry| entry.id == id);
        if let Some(entry) = index.map(|index| &self.entries[index]) {
            if is_same(&entry.job, job) {
                return;
            }
            let age = entry.at.elapsed();
            if age < BEHIND {
                ctx.request_repaint_after(BEHIND.saturating_sub(age));
                return;
            }
        }
        let index = index.unwrap_or_else(|| {
            let kept = self.recovery.name();
            self.entries.push(Entry { id, kept, job: job.clone(), at: Instant::now() });
            self.entries.len() - 1
        });
        let entry = &mut self.entries[index];
        entry.job = job.clone();
        entry.at = Instant::now();
        let note = Note::Write(entry.kept.clone(), job.clone(), saved_at.map(Path::to_owned));
        self.send(note);
    }

    /// Goes on keeping a restored job in the file it was restored from.
    pub(crate) fn adopt(&mut self, id: DocumentId, kept: Kept, job: Arc<Job>) {
        self.entries.push(Entry { id, kept, job, at: Instant::now() });
    }

    /// Removes a job's file: it was saved, or is not wanted.
    pub(crate) fn forget(&mut self, id: DocumentId) {
        while let Some(index) = self.entries.iter().position(|entry| entry.id == id) {
            let entry = self.entries.swap_remove(index);
            self.send(Note::Forget(entry.kept));
        }
    }

    /// Removes all files.
    pub(crate) fn forget_all(&mut self) {
        for entry in std::mem::take(&mut self.entries) {
            self.send(Note::Forget(entry.kept));
        }
    }

    fn send(&self, note: Note) {
        if let Some(notes) = &self.notes {
            // The thread ends only when the sender does.
            drop(notes.send(note));
        }
    }
}

/// Waits until everything asked for is on disk; only then is the place given up.
impl Drop for Keeper {
    fn drop(&mut self) {
        self.notes = None;
        if let Some(thread) = self.thread.take() {
            drop(thread.join());
        }
    }
}
