//! Spelk proofs a carving before a board is committed.
//!
//! The tree is the pipeline; each room takes the type before it and hands on the next:
//!
//! 1. [`units`]: millimetres inside, the user's own unit outside.
//! 2. [`geometry`]: clean regions and the widths of what is thin in them.
//! 3. [`design`]: bytes to a [`design::Design`], elements in millimetres.
//! 4. [`shop`]: what a shop owns: board, wood, cutter, machine.
//! 5. [`trace`]: a picture to a [`design::Design`].
//! 6. [`job`]: what the user sets, and its saved file.
//! 7. [`proof`]: a [`job::Job`] to a [`proof::Proof`]: fit, walls, grooves, ends, verdict.
//! 8. [`relief`]: a job to its passes, the surface they leave, and the time they take.
//! 9. [`arrange`]: where the pieces of a job go on their board, and what comes of all of them.
//! 10. [`advice`]: the cheapest changes of a job that make it come out whole, each tried out.
//! 11. [`compare`]: a job of each wood, with each cutter and at several sizes, side by side.
//! 12. [`words`]: what all of these found, in sentences; nothing else speaks to the user.
//! 13. [`sheet`]: a proof to pictures and files.
//! 14. [`cli`] and `app`: the command line and the window; they hold no rules of their own.

pub mod advice;
#[cfg(feature = "window")]
pub mod app;
pub mod arrange;
pub mod cli;
pub mod compare;
pub mod design;
pub mod fault;
pub mod file_name;
pub mod geometry;
pub mod guide;
pub mod job;
pub mod locale;
pub mod notice;
pub mod proof;
pub mod relief;
pub mod sheet;
pub mod shop;
pub mod trace;
pub mod units;
pub mod whole_file;
pub mod words;

// Tests draw the outlines of the benches too, which know this crate by its name.
#[cfg(test)]
extern crate self as spelk;
#[cfg(test)]
#[path = "../benches/ornament/mod.rs"]
mod ornament;
#[cfg(test)]
#[path = "../benches/shapes/mod.rs"]
mod shapes;
