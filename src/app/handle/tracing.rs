//! Tracing a picture again, by other settings.

use crate::app::App;
use crate::app::documents::document::Document;
use crate::app::documents::opening::Source;
use crate::app::work::pictured::Retraced;
use crate::job::{Edit, EditKind, Redraw, Size};
use crate::trace::Settings;
use crate::words::edits::rejection;
use std::sync::Arc;

impl App {
    /// Traces a picture that the shown drawing holds, by its number from 1.
    pub(crate) fn trace_inside(&mut self, number: usize) {
        let drawing = self.shelf.shown().and_then(Document::drawing);
        if let Some(path) = drawing.map(|drawing| drawing.path.clone()) {
            self.open(Source::Picture(path, Some(number)));
        }
    }

    /// Starts tracing the shown picture by other settings. Where it is to be of another size, the job keeps how much
    /// larger than that it is carved.
    pub(crate) fn trace_again(&mut self, settings: Settings, is_resized: bool) {
        let Some(shown) = self.shelf.shown() else { return };
        let design = shown.job().design().clone();
        let Some((pictured, _)) = shown.files.picture_of(&design) else { return };
        self.workers.trace(pictured.clone(), design.clone(), settings.clone(), is_resized);
        self.views.tracing.want(design, settings);
    }

    /// Takes in a picture that was traced again, unless the design was changed under it.
    pub(crate) fn take_traced(&mut self, retraced: Retraced) {
        let Some(shown) = self.shelf.shown_mut() else { return };
        if !Arc::ptr_eq(shown.job().design(), &retraced.before) {
            return;
        }
        self.views.tracing.take(retraced.trouble());
        let Retraced { is_resized, traced, .. } = retraced;
        let Ok((pictured, design)) = traced else { return };
        let reading = shown.job().reading();
        let mut edits = vec![Edit::Redraw { design: design.clone(), reading, why: Redraw::Traced }];
        if is_resized {
            edits.push(Edit::Size(Size::Factor(shown.job().factor())));
        }
        // What a slider passes on its way is one step.
        if let Err(rejected) = shown.history.drag(Edit::Several(EditKind::Tracing, edits)) {
            self.warn(rejection(&rejected));
            return;
        }
        shown.files.picture(design, pictured);
        self.views.drafts.clear();
    }
}
