//! What a hand does on the board.

use crate::app::commands::board::Tool;
use glam::DVec2;

/// Something held by the pointer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Held {
    /// The design, and where the pointer took hold of it, from its frame's lower left corner.
    Design(DVec2),
    /// A blemish that is being drawn, from here.
    Mark(DVec2),
    /// A box round elements to be chosen, from here.
    Box(DVec2),
}

/// What a hand does on the board.
#[derive(Default)]
pub(crate) struct Hand {
    pub(crate) tool: Tool,
    pub(crate) held: Option<Held>,
    /// The canvas is to take the keys.
    pub(crate) focus_canvas: bool,
}
