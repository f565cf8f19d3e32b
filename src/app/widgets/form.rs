//! Fields of a dialog: text under a caption, with the reason under it where it makes no sense.

use crate::app::widgets::look::Palette;
use crate::words::window::widgets as said;
use egui::{Button, Label, RichText, Stroke, StrokeKind, TextEdit};

/// A field's names, and what is wrong with what is in it.
pub(crate) struct Entry<'a> {
    /// Unique in the window, and what a screen reader says.
    pub(crate) name: &'a str,
    /// The short word over it.
    pub(crate) caption: &'a str,
    /// Why what is in it cannot be used.
    pub(crate) wrong: Option<&'a str>,
}

/// A field for a line of text; its own response.
pub(crate) fn entry_ui(ui: &mut egui::Ui, text: &mut String, entry: &Entry) -> egui::Response {
    let palette = Palette::of(ui.ctx());
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        ui.add(Label::new(RichText::new(entry.caption).small().color(palette.faint)).truncate());
        let mut field = TextEdit::singleline(text).desired_width(f32::INFINITY);
        if entry.wrong.is_some() {
            field = field.text_color(palette.wrong);
        }
        let response = ui.add(field).accessible_name(entry.name);
        if let Some(wrong) = entry.wrong {
            let stroke = Stroke::new(1.5, palette.wrong);
            ui.painter().rect_stroke(response.rect, 4.0, stroke, StrokeKind::Inside);
            ui.add(Label::new(RichText::new(wrong).small().color(palette.wrong)).wrap());
        }
        response
    })
    .inner
}

/// The foot of a dialog: what it is for on the left, pressed once there is a value for it, and the way out on
/// the right. The value once it is pressed; either way out asks the dialog to close.
pub(crate) fn foot_ui<T>(ui: &mut egui::Ui, label: &str, value: Option<T>) -> Option<T> {
    let mut taken = None;
    let mut close = false;
    ui.horizontal(|ui| {
        if ui.add_enabled(value.is_some(), Button::new(label)).clicked() {
            taken = value;
            close = true;
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            close |= ui.button(said::CLOSE).clicked();
        });
    });
    if close {
        ui.close();
    }
    taken
}

/// Whether a dialog is to be closed: by its button or by Escape. A click beside it is no answer, since what was
/// typed would be lost. Asks for another frame: what is under it takes clicks again only two frames later,
/// which should not wait for a hand.
pub(crate) fn is_closing<T>(ctx: &egui::Context, modal: &egui::ModalResponse<T>) -> bool {
    let closing = modal.should_close() && !modal.backdrop_response.clicked();
    if closing {
        ctx.request_repaint();
    }
    closing
}

/// A paragraph of a dialog.
pub(crate) fn words_ui(ui: &mut egui::Ui, words: impl Into<RichText>) {
    ui.add(Label::new(words.into()).wrap());
}

/// A small heading in a dialog.
pub(crate) fn heading_ui(ui: &mut egui::Ui, words: &str) {
    ui.add_space(2.0);
    ui.label(RichText::new(words).strong());
}

/// A number as it is typed, with a point or a comma.
pub(crate) fn number(text: &str) -> Result<f64, String> {
    let text = text.trim();
    let number = text.replacen(',', ".", 1).parse::<f64>().ok().filter(|number| number.is_finite());
    number.ok_or_else(
        || {
            if text.is_empty() { said::TYPE_A_NUMBER.to_owned() } else { said::not_a_number(text) }
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_as_they_are_written() {
        assert_eq!(number(" 2.5 "), Ok(2.5));
        assert_eq!(number("2,5"), Ok(2.5));
        for text in ["", "x", "1,2,3", "inf", "nan"] {
            assert!(number(text).is_err(), "{text:?} was taken");
        }
    }
}
