//! Words of a folder of drawings.

use crate::words::count;

/// What the foot of its pages calls it, and its head.
pub const NAME: &str = "Drawings";

/// The title of the file that holds it.
pub fn title(folder: &str) -> String {
    format!("{folder}: drawings")
}

/// A row's size, thinnest wall and time: a sentence with its full stop.
pub fn facts(size: &str, wall: &str, time: &str) -> String {
    format!("Size: {size}. Thinnest wall: {wall}. Time: {time}.")
}

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
