//! Reading a drawing again: since it changed on disk, or in another unit, or with open outlines as lines.

use crate::app::App;
use crate::app::commands::element::ElementCommand;
use crate::app::documents::drawing::Drawing;
use crate::app::documents::drawing::of_design;
use crate::app::documents::keeper::is_same;
use crate::app::documents::questions::DrawingSource;
use crate::app::documents::questions::OpenQuestions;
use crate::app::documents::questions::Reread;
use crate::app::documents::questions::Why;
use crate::app::elements::reading::size_in_words;
use crate::app::work::Lane;
use crate::design::ReadOptions;
use crate::design::UnstatedSize;
use crate::job::{Edit, Redraw};
use crate::words::window::handle as said;
use std::sync::Arc;

impl App {
    /// What may be asked of the shown drawing.
    pub(crate) fn asks(&self) -> Option<&OpenQuestions> {
        of_design(self.documents.asks(), self.now.as_ref()?.job().design())
    }

    pub(crate) fn open_outlines(&self) -> usize {
        self.asks().map_or(0, |asks| asks.open_outlines)
    }

    pub(crate) fn is_size_unstated(&self) -> bool {
        self.asks().is_some_and(|asks| asks.unstated.is_some())
    }

    /// What is to be asked about the size of the shown drawing, once it is read.
    pub(crate) fn unsettled_size(&self) -> Option<UnstatedSize> {
        if self.workers.busy(Lane::Opening) {
            return None;
        }
        self.asks().filter(|asks| !asks.is_settled)?.unstated.clone()
    }

    /// Reads the drawing again, as it changed on disk.
    pub(crate) fn reload_drawing(&mut self) {
        let Some(now) = &self.now else { return };
        let is_settled = self.asks().is_some_and(|asks| asks.is_settled);
        if let Some(drawing) = self.documents.drawing_of(now.job().design()) {
            let from = DrawingSource::File(drawing.path.clone());
            self.workers.reread(
                from,
                now.job().design().clone(),
                now.job().reading(),
                Why::Changed,
                is_settled,
            );
        }
    }

    pub(crate) fn handle_reading(&mut self, command: &ElementCommand) {
        let Some(now) = &self.now else { return };
        let (design, reading) = (now.job().design().clone(), now.job().reading());
        let Some(asks) = self.asks().cloned() else { return };
        let (options, why) = match command {
            ElementCommand::ToggleReading | ElementCommand::KeepReading => {
                let is_settled = *command == ElementCommand::KeepReading || !asks.is_settled;
                self.documents.ask(design, OpenQuestions { is_settled, ..asks });
                return;
            }
            ElementCommand::ReadIn(unit) => {
                if asks.unstated.as_ref().is_some_and(|unstated| unstated.taken == *unit) {
                    self.documents.ask(design, OpenQuestions { is_settled: true, ..asks });
                    // The job says so from now on, should another program read it another way.
                    self.edit(Edit::DrawingUnit(*unit));
                    return;
                }
                // Undo brings this reading back, and not the question.
                self.documents.ask(design.clone(), OpenQuestions { is_settled: true, ..asks.clone() });
                (ReadOptions { unit: Some(*unit), ..reading }, Why::Unit)
            }
            _ => {
                let width = now.job().cutter().shape.width_at(now.job().depth()) / now.job().factor();
                (ReadOptions { open_as_strokes: Some(width), ..reading }, Why::Lines)
            }
        };
        self.workers.reread(asks.from, design, options, why, asks.is_settled || why == Why::Unit);
    }

    /// Takes in a drawing that was read again: every setting stays, elements keep their treatments by name.
    /// Where it cannot be read as it is now the next change is waited for.
    pub(crate) fn take_reread(&mut self, reread: Reread) {
        let Reread { before, from, options, why, stamp, read, is_settled } = reread;
        let drawing = match &from {
            DrawingSource::File(path) => Some(Drawing { path: path.clone(), stamp }),
            DrawingSource::Bytes { .. } => None,
        };
        let reading = match read {
            Ok(reading) => reading,
            Err(error) => {
                let is_changed = if why == Why::Changed { said::CHANGED_ON_DISK_IT } else { "" };
                self.warn(format!("{}{is_changed} {error}; the drawing is as it was", from.name()));
                if let Some(drawing) = drawing {
                    self.documents.follow(before, drawing);
                }
                return;
            }
        };
        let Some(now) = &mut self.now else { return };
        if !Arc::ptr_eq(now.job().design(), &before) {
            return;
        }
        let name = match &from {
            DrawingSource::File(path) => path.display().to_string(),
            DrawingSource::Bytes { name, .. } => name.clone(),
        };
        let outlines = crate::words::count(
            of_design(self.documents.asks(), &before).map_or(0, |asks| asks.open_outlines),
            said::OPEN_OUTLINE_IS_CARVED_AS_A_LINE,
            said::OPEN_OUTLINES_ARE_CARVED_AS_LINES,
        );
        let asks = OpenQuestions::of(from, &reading, is_settled);
        let design = Arc::new(reading.design);
        let was_clean = self.clean.as_ref().is_some_and(|clean| is_same(clean, now.job()));
        let redraw = Edit::Redraw {
            design: design.clone(),
            reading: options,
            why: match why {
                Why::Changed => Redraw::FileChanged,
                Why::Unit => Redraw::Unit,
                Why::Lines => Redraw::OpenOutlines,
            },
        };
        if let Err(rejected) = now.apply(redraw) {
            self.warn(rejected.to_string());
            return;
        }
        let unit = self.preferences.unit;
        let words = match why {
            Why::Changed => {
                format!("{name} changed on disk and was read again; Undo brings back what it was")
            }
            Why::Unit => {
                format!("The drawing is {} as drawn", size_in_words(design.outline_box().size(), unit))
            }
            Why::Lines => {
                let width = options.open_as_strokes.unwrap_or_default() * now.job().factor();
                format!("{outlines} {} wide; Undo takes it back", unit.show(width))
            }
        };
        if was_clean && of_design(&self.saved_at, &before).is_none() {
            // A drawing with nothing set about it is as unsaved as it was.
            self.clean = Some(now.job().clone());
        }
        if let Some(path) = of_design(&self.saved_at, &before).cloned() {
            self.saved_at.push((design.clone(), path));
        }
        if let Some(drawing) = drawing {
            self.documents.follow(design.clone(), drawing);
        }
        if let Some(asks) = asks {
            self.documents.ask(design, asks);
        }
        self.views.drafts.clear();
        self.say(words);
    }
}
