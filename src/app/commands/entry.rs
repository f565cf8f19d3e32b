//! What the table says of one command.

use crate::words::commands::Caption;
use egui::{Key, KeyboardShortcut, Modifiers};

/// A row of the table of commands.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Entry {
    pub(crate) caption: Caption,
    pub(crate) keys: Option<KeyboardShortcut>,
    pub(crate) needs: Needs,
}

impl Entry {
    /// A command without keys.
    pub(crate) fn new(caption: Caption, needs: Needs) -> Entry {
        Entry { caption, keys: None, needs }
    }

    /// With a key alone. A letter alone must not change the job: a word typed beside a field would.
    pub(crate) fn key(self, key: Key) -> Entry {
        self.keys(Modifiers::NONE, key)
    }

    /// With a key and the platform's command key.
    pub(crate) fn command_key(self, key: Key) -> Entry {
        self.keys(Modifiers::COMMAND, key)
    }

    /// With a key and what is held with it.
    pub(crate) fn keys(self, held: Modifiers, key: Key) -> Entry {
        Entry { keys: Some(KeyboardShortcut::new(held, key)), ..self }
    }
}

/// What must be there for a command to do anything.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Needs {
    Nothing,
    Job,
    /// More than one open job.
    OtherJob,
    /// A change that can be taken back.
    UndoableEdit,
    /// A change that was taken back.
    RedoableEdit,
    /// The file that the drawing came from.
    DrawingFile,
    ChosenFinding,
    /// A design with elements.
    Elements,
    ChosenElement,
    TwoChosenElements,
    /// One element: chosen, or the only one.
    OneElement,
    /// Chosen elements, and others: a design needs an element.
    ChosenAndOthers,
    /// Words that can be edited.
    Lettering,
    HiddenElement,
    Specks,
    OpenOutlines,
    /// A drawing that does not say how large it is.
    UnstatedSize,
}
