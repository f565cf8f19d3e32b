//! Words of a folder of drawings.

use crate::words::count;

/// A file that could not be read: its line without its name.
pub fn not_read(why: &str) -> String {
    format!("Not proofed: {why}")
}

/// How many files are sound, chancy and unsound, and how many could not be read: a sentence with its full stop.
pub fn counted([sound, chancy, unsound]: [usize; 3], not_read: usize) -> String {
    let files = count(sound + chancy + unsound + not_read, "file", "files");
    let mut told = format!("{files}: {sound} sound, {chancy} chancy, {unsound} unsound");
    if not_read > 0 {
        told = format!("{told}, {not_read} not read");
    }
    told + "."
}
