//! What was said to the user.

use std::path::PathBuf;

/// One thing that was said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Message {
    /// Whether something did not work.
    pub trouble: bool,
    /// The words.
    pub text: String,
    /// A file that was written, which can be looked at.
    pub file: Option<PathBuf>,
}

/// All of it, oldest first.
#[derive(Default)]
pub(crate) struct Messages {
    pub(crate) all: Vec<Message>,
    /// What did not work and was not put away yet, the last first.
    pub(crate) unread: Vec<String>,
}

/// No more troubles than this are shown at once; the others are among the messages.
const MOST_UNREAD: usize = 3;

impl Messages {
    pub(crate) fn say(&mut self, text: impl Into<String>) {
        self.all.push(Message { trouble: false, text: text.into(), file: None });
    }

    /// Says that a file was written.
    pub(crate) fn say_of_file(&mut self, text: impl Into<String>, file: PathBuf) {
        self.all.push(Message { trouble: false, text: text.into(), file: Some(file) });
    }

    /// Says what did not work, where the user looks.
    pub(crate) fn warn(&mut self, text: impl Into<String>) {
        let text = text.into();
        self.unread.retain(|other| *other != text);
        self.unread.insert(0, text.clone());
        self.unread.truncate(MOST_UNREAD);
        self.warn_aside(text);
    }

    /// The same of what the user sees anyway.
    pub(crate) fn warn_aside(&mut self, text: impl Into<String>) {
        self.all.push(Message { trouble: true, text: text.into(), file: None });
    }

    pub(crate) fn clear(&mut self) {
        self.all.clear();
        self.unread.clear();
    }
}
