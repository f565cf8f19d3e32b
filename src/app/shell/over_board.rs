//! What the rooms of the relief, the elements and the record lay over the board.

use crate::app::board::view::Overlay;
use crate::app::commands::command::Command;
use crate::app::elements::view::ElementsView;
use crate::app::elements::{handles, mark};
use crate::app::record::marks;
use crate::app::record::view::RecordView;
use crate::app::relief::view::ReliefView;
use crate::app::widgets::camera::Lens;
use crate::app::work::proofed::Proofed;
use crate::geometry;
use crate::units::LengthUnit;
use egui::{Modifiers, Painter, Rect};
use glam::DVec2;

/// The passes, the marks of chosen elements and of carved walls, and how elements are chosen.
pub(crate) struct OverBoard<'a> {
    pub(crate) shown: &'a Proofed,
    pub(crate) relief: &'a ReliefView,
    pub(crate) elements: &'a mut ElementsView,
    pub(crate) record: &'a mut RecordView,
    pub(crate) unit: LengthUnit,
}

impl Overlay for OverBoard<'_> {
    fn paint_under(&self, painter: &Painter, lens: Lens) {
        self.relief.paint_passes(painter, lens);
    }

    fn paint_over(&mut self, painter: &Painter, lens: Lens) {
        mark::paint_chosen(painter, self.shown, lens, self.elements);
    }

    fn marks_ui(&mut self, ui: &mut egui::Ui, painter: &Painter, lens: Lens) {
        if self.record.open {
            marks::marks_ui(ui, painter, lens, self.unit, self.record);
        }
    }

    fn handles_ui(&mut self, ui: &mut egui::Ui, painter: &Painter, lens: Lens, commands: &mut Vec<Command>) {
        handles::handles_ui(ui, painter, self.shown, lens, self.unit, self.elements, commands);
    }

    fn corners_ui(&self, ui: &mut egui::Ui, canvas: Rect, commands: &mut Vec<Command>) {
        self.relief.legend_ui(ui, canvas, commands);
        mark::hidden_ui(ui, canvas, self.shown, self.elements, commands);
    }

    fn clicked_at(&self, at: DVec2, modifiers: Modifiers) -> Option<Command> {
        mark::choose_at(self.shown, at, modifiers, self.elements)
    }

    fn boxed(&self, around: geometry::Rect) -> Option<Command> {
        mark::choose_in(self.shown, around, self.elements)
    }
}
