//! The open jobs, one of them shown; files still to open, and what is kept against a crash.

use crate::app::documents::document::{Document, DocumentId, is_same};
use crate::app::documents::keeper::Keeper;
use crate::app::documents::opening::Source;
use crate::app::documents::watch::Watch;
use crate::job::Job;
use crate::job::recovery::Left;
use std::collections::VecDeque;
use std::path::Path;
use std::sync::Arc;

/// The open jobs.
pub(crate) struct Shelf {
    /// In the order they were opened; empty until the first file has been opened.
    documents: Vec<Document>,
    /// The place of the shown one.
    at: usize,
    /// Which id the next one gets.
    next_id: u64,
    /// Files still to open.
    pub(crate) queue: VecDeque<Source>,
    /// The first that was opened from the queue, to be shown once the queue is empty.
    pub(crate) first_of_queue: Option<DocumentId>,
    /// What a crash left behind and nobody has decided about.
    pub(crate) left: Vec<Left>,
    pub(crate) keeper: Option<Keeper>,
    pub(crate) watch: Watch,
}

impl Shelf {
    pub(crate) fn new(ctx: &egui::Context) -> Shelf {
        Shelf {
            documents: Vec::new(),
            at: 0,
            next_id: 0,
            queue: VecDeque::new(),
            first_of_queue: None,
            left: Vec::new(),
            keeper: None,
            watch: Watch::new(ctx.clone()),
        }
    }

    /// The shown job; `None` until the first file has been opened.
    pub(crate) fn shown(&self) -> Option<&Document> {
        self.documents.get(self.at)
    }

    /// The shown job, to be changed.
    pub(crate) fn shown_mut(&mut self) -> Option<&mut Document> {
        self.documents.get_mut(self.at)
    }

    /// All of them, in order.
    pub(crate) fn all(&self) -> &[Document] {
        &self.documents
    }

    /// The place of the shown one.
    pub(crate) fn at(&self) -> usize {
        self.at
    }

    /// The job of this id, wherever it is.
    pub(crate) fn find_mut(&mut self, id: DocumentId) -> Option<&mut Document> {
        self.documents.iter_mut().find(|document| document.id == id)
    }

    /// The place of the job of this id.
    pub(crate) fn place_of(&self, id: DocumentId) -> Option<usize> {
        self.documents.iter().position(|document| document.id == id)
    }

    /// The place of the job that was opened from a file, the shown one first.
    pub(crate) fn opened_from(&self, path: &Path) -> Option<usize> {
        self.shown_first().find(|place| self.documents[*place].is_from(path))
    }

    /// The place of a job that has changes nobody gave up, the shown one first.
    pub(crate) fn changed(&self, closing: Option<&Closing>) -> Option<usize> {
        self.shown_first().find(|place| {
            let document = &self.documents[*place];
            document.is_changed() && !closing.is_some_and(|closing| closing.gives_up(document))
        })
    }

    fn shown_first(&self) -> impl Iterator<Item = usize> {
        std::iter::once(self.at).chain(0..self.documents.len()).filter(|place| *place < self.documents.len())
    }

    /// An id that no job has had.
    pub(crate) fn new_id(&mut self) -> DocumentId {
        self.next_id += 1;
        DocumentId(self.next_id)
    }

    /// Shows a job that was just opened: beside the others, or where an untouched one was.
    pub(crate) fn put(&mut self, document: Document) {
        let makes_room = |shown: &Document| shown.is_untouched() && self.first_of_queue != Some(shown.id);
        if self.shown().is_some_and(makes_room) {
            self.documents[self.at] = document;
            return;
        }
        if let Some(shown) = self.shown_mut() {
            shown.leave();
        }
        self.at = self.documents.len();
        self.documents.push(document);
    }

    /// Shows the job of this place; whether it is another one.
    pub(crate) fn show(&mut self, place: usize) -> bool {
        if place == self.at || place >= self.documents.len() {
            return false;
        }
        if let Some(shown) = self.shown_mut() {
            shown.leave();
        }
        self.at = place;
        true
    }

    /// The place so many further on, round and round.
    pub(crate) fn step(&self, by: isize) -> usize {
        let count = self.documents.len().max(1);
        (self.at + count).saturating_add_signed(by) % count
    }

    /// Takes the shown job away, and what is kept of it; the next one is shown. The last one stays.
    pub(crate) fn close(&mut self) {
        if self.documents.len() < 2 {
            return;
        }
        let closed = self.documents.remove(self.at);
        if let Some(keeper) = &mut self.keeper {
            keeper.forget(closed.id);
        }
        self.at = self.at.min(self.documents.len() - 1);
    }

    /// Keeps every changed job against a crash; returns what went wrong.
    pub(crate) fn keep(&mut self, ctx: &egui::Context) -> Vec<String> {
        let Some(keeper) = &mut self.keeper else { return Vec::new() };
        for document in &self.documents {
            let changed = document.is_changed().then_some(document.job());
            keeper.keep(document.id, changed, document.files.saved_at.as_deref(), ctx);
        }
        keeper.troubles()
    }

    /// Forgets what is still to be opened.
    pub(crate) fn forget_queue(&mut self) {
        self.queue.clear();
        self.first_of_queue = None;
    }

    /// The window closes with everything decided: nothing is left behind.
    pub(crate) fn forget_kept(&mut self) {
        if let Some(keeper) = &mut self.keeper {
            keeper.forget_all();
        }
        self.keeper = None;
    }
}

/// What is to be closed while jobs have changes.
#[derive(Clone, Debug)]
pub(crate) enum Closing {
    /// The shown job.
    Job,
    /// The window; and the jobs whose changes may be lost, as they were when the user said so.
    Window {
        /// Their ids, and themselves.
        given_up: Vec<(DocumentId, Arc<Job>)>,
    },
}

impl Closing {
    /// Whether the user said that this job's changes may be lost with the window.
    pub(crate) fn gives_up(&self, document: &Document) -> bool {
        let Closing::Window { given_up } = self else { return false };
        given_up.iter().any(|(id, job)| *id == document.id && is_same(job, document.job()))
    }
}
