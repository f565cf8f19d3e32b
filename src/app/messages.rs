//! What was said to the user.

/// One thing that was said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Message {
    /// Whether something did not work.
    pub trouble: bool,
    /// The words.
    pub text: String,
}

/// All of it, oldest first.
#[derive(Default)]
pub(crate) struct Messages(pub(crate) Vec<Message>);

impl Messages {
    pub(crate) fn say(&mut self, text: impl Into<String>) {
        self.0.push(Message { trouble: false, text: text.into() });
    }

    pub(crate) fn warn(&mut self, text: impl Into<String>) {
        self.0.push(Message { trouble: true, text: text.into() });
    }
}
