//! The carved surface: from a job to what the cutter will really leave, and how long it takes.
//!
//! 1. [`plan`]: the passes a machine of this kind would make, as data: clearing lines, outline passes, V
//!    paths, pierced outlines with their holding bridges.
//! 2. [`field`]: the height of the surface those passes leave, cell by cell; and the quick [`field::ideal`]
//!    surface that a cutter of no width would leave.
//! 3. [`time`]: how long the passes take, and where the cutter is at any second of them.
//! 4. [`section`]: the cut through the surface along a line.
//! 5. [`shade`] and [`mesh`]: pictures of the surface, and the surface as triangles.
//!
//! Everything works in board space: millimetres, x along the board from its left end, y across it from the
//! reference edge, z up with 0 at the face. Kernels use bare `f64` throughout this room.
//!
//! # What is not simulated
//!
//! Fuzz, burnt wood, chips and torn grain; the marks of single cutting edges; a cutter or board that gives;
//! wear; what a loose piece does once it is cut free. The surface is what cutters of true
//! shape leave if nothing gives: see [`crate::words::surface::NOT_SIMULATED`].

mod clear;
pub mod field;
pub mod grain;
mod known;
pub mod mesh;
mod paths;
mod pierce;
mod profile;
pub mod section;
pub mod shade;
pub mod time;
mod vee;

pub use field::HeightField;
pub use paths::{PathKind, PathLine, Plan, plan};
pub use profile::Profile;

use std::sync::atomic::AtomicBool;

/// For callers that never call long work off.
pub static NEVER: AtomicBool = AtomicBool::new(false);
