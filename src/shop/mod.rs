//! What a shop owns: boards, the woods they are cut from, cutters, and the carving machine.
//!
//! The built-in entries are compiled in, so the program runs from any folder with nothing beside it.

mod board;
mod cutter;
mod machine;
mod wood;

pub use board::Board;
pub use cutter::{Cutter, CutterShape, ReferenceWall, cutters};
pub use machine::{Machine, machines};
pub use wood::{Wood, woods};
