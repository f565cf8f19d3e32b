//! What is seen of the board, and what other rooms lay over it.

use crate::app::board::batch::PiecesView;
use crate::app::board::hand::Hand;
use crate::app::board::painting::{Framing, PaintKey, Painted};
use crate::app::board::photo::PhotoDialog;
use crate::app::board::tools::Tools;
use crate::app::commands::command::Command;
use crate::app::widgets::camera::{Camera, Lens};
use crate::app::work::proofed::Proofed;
use crate::arrange::LaidOutline;
use crate::geometry;
use crate::shop::{Blemish, BlemishKind, BlemishShape};
use crate::units::{LengthUnit, Mm};
use egui::{Modifiers, Painter, Pos2, Rect, vec2};
use glam::DVec2;

/// What is seen of the board, and what is being done to it; nothing of it is saved with the job.
pub(crate) struct BoardView {
    /// `None` shows everything, and goes on doing so when the board changes.
    pub(crate) camera: Option<Camera>,
    /// Where the canvas was in the last frame.
    pub(crate) canvas: Rect,
    /// Where the hand's tools stood over it then.
    pub(crate) hand_tools: Rect,
    /// When the chosen finding was gone to, in the context's seconds.
    pub(crate) gone_to_at: f64,
    pub(crate) hand: Hand,
    pub(crate) tools: Tools,
    pub(crate) blemishes: BlemishesView,
    pub(crate) photo: PhotoDialog,
    pub(crate) bench_list_open: bool,
    pub(crate) fit_open: bool,
    pub(crate) pieces: PiecesView,
    /// The last good picture, and what it was painted from.
    pub(crate) painted: Option<(Painted, PaintKey)>,
    /// What is being painted.
    pub(crate) painting: Option<PaintKey>,
}

/// The list of blemishes, and what the next one is.
#[derive(Default)]
pub(crate) struct BlemishesView {
    pub(crate) open: bool,
    /// The blemish chosen in the list.
    pub(crate) chosen: Option<usize>,
    /// What the next blemish is.
    pub(crate) kind: BlemishKind,
    /// How far to keep away from the next one.
    pub(crate) clearance: Mm,
}

impl BlemishesView {
    /// A blemish of this shape, and of the kind and clearance that are set for the next.
    pub(crate) fn next(&self, shape: BlemishShape) -> Blemish {
        Blemish { kind: self.kind, shape, clearance: self.clearance }
    }
}

impl Default for BoardView {
    fn default() -> BoardView {
        BoardView {
            camera: None,
            canvas: Rect::ZERO,
            hand_tools: Rect::NOTHING,
            gone_to_at: f64::NEG_INFINITY,
            hand: Hand::default(),
            tools: Tools::default(),
            blemishes: BlemishesView::default(),
            photo: PhotoDialog::default(),
            bench_list_open: false,
            fit_open: false,
            pieces: PiecesView::default(),
            painted: None,
            painting: None,
        }
    }
}

impl BoardView {
    /// Where a small window opens: over the board, with the cards and the findings in sight.
    pub(crate) fn beside(&self) -> Pos2 {
        self.canvas.left_top() + vec2(10.0, 10.0)
    }

    /// Every laid copy, as it was last painted; none where there is one piece.
    pub(crate) fn outlines(&self) -> &[LaidOutline] {
        self.painted.as_ref().map_or(&[], |(painted, _)| &painted.outlines)
    }

    /// The camera in use: the one a hand moved, else one that shows everything.
    pub(crate) fn camera(&self, shown: &Proofed) -> Camera {
        self.camera.unwrap_or_else(|| Camera::showing(everything(shown), self.canvas.size()))
    }

    /// What picture is wanted now; `None` before the canvas has a size.
    pub(crate) fn framing(&self, ctx: &egui::Context, shown: &Proofed, unit: LengthUnit) -> Option<Framing> {
        let canvas = self.canvas.size();
        (canvas.x >= 8.0 && canvas.y >= 8.0).then(|| Framing {
            camera: self.camera(shown),
            canvas,
            pixels_per_point: ctx.pixels_per_point(),
            theme: ctx.theme(),
            unit,
        })
    }
}

/// What other rooms lay over the board: the board knows where, and they know what.
pub(crate) trait Overlay {
    /// Lines under the numbered marks.
    fn paint_under(&self, painter: &Painter, lens: Lens);

    /// Outlines over what was found.
    fn paint_over(&mut self, painter: &Painter, lens: Lens);

    /// Marks to be clicked, over everything.
    fn marks_ui(&mut self, ui: &mut egui::Ui, painter: &Painter, lens: Lens);

    /// What can be taken hold of, while no tool has the pointer.
    fn handles_ui(&mut self, ui: &mut egui::Ui, painter: &Painter, lens: Lens, commands: &mut Vec<Command>);

    /// What stands in the corners of the canvas.
    fn corners_ui(&self, ui: &mut egui::Ui, canvas: Rect, commands: &mut Vec<Command>);

    /// What a click at a place on the board asks for.
    fn clicked_at(&self, at: DVec2, modifiers: Modifiers) -> Option<Command>;

    /// What a box drawn round a part of the board asks for.
    fn boxed(&self, around: geometry::Rect) -> Option<Command>;
}

/// What the whole view shows: the board, and the design where it sticks out.
fn everything(shown: &Proofed) -> geometry::Rect {
    shown.job.board().area().union(shown.on_board(shown.outline))
}
