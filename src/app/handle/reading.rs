//! Reading a drawing again: since it changed on disk, or in another unit, or with open outlines as lines.

use crate::app::App;
use crate::app::commands::element::ElementCommand;
use crate::app::documents::document::{Document, is_same};
use crate::app::documents::drawing::Drawing;
use crate::app::documents::questions::DrawingSource;
use crate::app::documents::questions::OpenQuestions;
use crate::app::documents::questions::Reread;
use crate::app::documents::questions::Why;
use crate::app::elements::reading::size_in_words;
use crate::app::work::Lane;
use crate::design::ReadOptions;
use crate::design::UnstatedSize;
use crate::job::{Edit, Redraw};
use crate::words::edits::rejection;
use crate::words::window::handle as said;
use std::sync::Arc;

impl App {
    /// What the shown drawing leaves open.
    fn questions(&self) -> Option<&OpenQuestions> {
        self.shelf.shown().and_then(Document::questions)
    }

    pub(crate) fn open_outlines(&self) -> usize {
        self.questions().map_or(0, |questions| questions.open_outlines)
    }

    pub(crate) fn is_size_unstated(&self) -> bool {
        self.questions().is_some_and(|questions| questions.unstated.is_some())
    }

    /// What is to be asked about the size of the shown drawing, once it is read.
    pub(crate) fn unsettled_size(&self) -> Option<UnstatedSize> {
        if self.workers.busy(Lane::Opening) {
            return None;
        }
        self.questions().filter(|questions| !questions.is_settled)?.unstated.clone()
    }

    /// Reads the drawing again, as it changed on disk.
    pub(crate) fn reload_drawing(&mut self) {
        let Some(shown) = self.shelf.shown() else { return };
        let is_settled = shown.questions().is_some_and(|questions| questions.is_settled);
        if let Some(drawing) = shown.drawing() {
            let from = DrawingSource::File(drawing.path.clone());
            let (design, reading) = (shown.job().design().clone(), shown.job().reading());
            self.workers.reread(from, design, reading, Why::Changed, is_settled);
        }
    }

    pub(crate) fn handle_reading(&mut self, command: &ElementCommand) {
        let Some(shown) = self.shelf.shown_mut() else { return };
        let job = shown.job().clone();
        let (design, reading) = (job.design().clone(), job.reading());
        let Some(asks) = shown.questions().cloned() else { return };
        let (options, why) = match command {
            ElementCommand::ToggleReading | ElementCommand::KeepReading => {
                let is_settled = *command == ElementCommand::KeepReading || !asks.is_settled;
                shown.files.question(design, OpenQuestions { is_settled, ..asks });
                return;
            }
            ElementCommand::ReadIn(unit) => {
                if asks.unstated.as_ref().is_some_and(|unstated| unstated.taken == *unit) {
                    shown.files.question(design, OpenQuestions { is_settled: true, ..asks });
                    // The job says so from now on, should another program read it another way.
                    self.edit(Edit::DrawingUnit(*unit));
                    return;
                }
                // Undo brings this reading back, and not the question.
                let settled = OpenQuestions { is_settled: true, ..asks.clone() };
                shown.files.question(design.clone(), settled);
                (ReadOptions { unit: Some(*unit), ..reading }, Why::Unit)
            }
            _ => {
                let width = job.cutter().shape.width_at(job.depth()) / job.factor();
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
        let Some(shown) = self.shelf.shown_mut() else { return };
        let reading = match read {
            Ok(reading) => reading,
            Err(error) => {
                if let Some(drawing) = drawing {
                    shown.files.follow(before, drawing);
                }
                self.warn(match why {
                    Why::Changed => said::changed_but_unreadable(&from.name(), &error),
                    Why::Unit | Why::Lines => said::not_reread(&from.name(), &error),
                });
                return;
            }
        };
        if !Arc::ptr_eq(shown.job().design(), &before) {
            return;
        }
        let name = match &from {
            DrawingSource::File(path) => path.display().to_string(),
            DrawingSource::Bytes { name, .. } => name.clone(),
        };
        let outlines = shown.questions().map_or(0, |questions| questions.open_outlines);
        let asks = OpenQuestions::of(from, &reading, is_settled);
        let design = Arc::new(reading.design);
        let was_saved = shown.saved.as_ref().is_some_and(|saved| is_same(saved, shown.job()));
        let redraw = Edit::Redraw {
            design: design.clone(),
            reading: options,
            why: match why {
                Why::Changed => Redraw::FileChanged,
                Why::Unit => Redraw::Unit,
                Why::Lines => Redraw::OpenOutlines,
            },
        };
        if let Err(rejected) = shown.history.apply(redraw) {
            self.warn(rejection(&rejected));
            return;
        }
        let unit = self.preferences.unit;
        let words = match why {
            Why::Changed => said::reread(&name),
            Why::Unit => said::drawing_size(&size_in_words(design.outline_box().size(), unit)),
            Why::Lines => {
                let width = options.open_as_strokes.unwrap_or_default() * shown.job().factor();
                said::carved_as_lines(outlines, width, unit)
            }
        };
        if was_saved && shown.files.saved_at.is_none() {
            // Nothing was set about the drawing, so nothing is lost with it.
            shown.saved = Some(shown.job().clone());
        }
        if let Some(drawing) = drawing {
            shown.files.follow(design.clone(), drawing);
        }
        if let Some(asks) = asks {
            shown.files.question(design, asks);
        }
        self.views.drafts.clear();
        self.say(words);
    }
}
