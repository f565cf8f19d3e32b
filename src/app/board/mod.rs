//! The board from above: the canvas, what lies and is marked on it, and the windows about it.

pub(crate) mod bench_list;
pub(crate) mod blemishes;
pub(crate) mod canvas;
pub(crate) mod done;
pub(crate) mod fit;
pub(crate) mod painting;
pub(crate) mod photo;
pub(crate) mod placing;
pub(crate) mod rulers;
pub(crate) mod tools;

use crate::app::board::photo::PhotoDialog;
use crate::app::board::placing::Held;
use crate::app::commands::board::Tool;
use crate::app::shop::machines::MachineDialog;
use crate::app::shop::rack::RackDialog;
use crate::shop::{Blemish, BlemishKind, BlemishShape};
use crate::units::Mm;

/// What is seen of the board, and what is being done to it; nothing of it is saved with the job.
#[derive(Default)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each says whether one thing is open, and any of them may be"
)]
pub(crate) struct BoardView {
    pub(crate) tool: Tool,
    pub(crate) held: Option<Held>,
    /// The canvas is to take the keys.
    pub(crate) focus_canvas: bool,
    /// What the next blemish is.
    pub(crate) kind: BlemishKind,
    /// How far to keep away from the next one.
    pub(crate) clearance: Mm,
    /// The blemish chosen in the list.
    pub(crate) blemish: Option<usize>,
    pub(crate) blemishes_open: bool,
    pub(crate) bench_list_open: bool,
    pub(crate) measuring_open: bool,
    pub(crate) fit_open: bool,
    pub(crate) machines: Option<MachineDialog>,
    pub(crate) rack: Option<RackDialog>,
    pub(crate) photo: PhotoDialog,
}

impl BoardView {
    /// A blemish of this shape, and of the kind and clearance that are set for the next.
    pub(crate) fn blemish(&self, shape: BlemishShape) -> Blemish {
        Blemish { kind: self.kind, shape, clearance: self.clearance }
    }
}
