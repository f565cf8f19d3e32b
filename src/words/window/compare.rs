//! Words of the window: versions of the job side by side.

#![expect(missing_docs, reason = "a sentence says what it says")]

pub const COMPARE: &str = "Side by side";
pub const WAITING: &str = "Waiting for the proof…";
pub const AS_IT_IS: &str = "as it is";
pub const TAKE: &str = "Take";
pub const SETS_THE_JOB: &str = "Sets the job to this version; you can undo it";

/// How many versions are worked out.
pub fn working_out(done: usize, of: usize) -> String {
    format!("Working out {} of {of}…", (done + 1).min(of.max(1)))
}

/// What a screen reader calls the button that sets the job to a version.
pub fn take(name: &str) -> String {
    format!("Take {name}")
}
