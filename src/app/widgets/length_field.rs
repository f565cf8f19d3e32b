//! A field for a length in the user's unit. Wrong input stays in the field, with the reason under it,
//! and changes nothing.

use crate::app::widgets::look::Palette;
use crate::units::{LengthUnit, Mm, parse_board, parse_length};
use crate::words::window::{widgets as said, with_unit};
use egui::text::{CCursor, CCursorRange};
use egui::{Label, RichText, TextEdit};
use std::collections::BTreeMap;

/// What is being typed, by the field's name.
#[derive(Default)]
pub(crate) struct Drafts(BTreeMap<&'static str, Draft>);

struct Draft {
    text: String,
    wrong: Option<String>,
}

impl Drafts {
    /// Forgets what was typed and not taken: the job was replaced under it.
    pub(crate) fn clear(&mut self) {
        self.0.clear();
    }
}

/// What fields of lengths need beside the lengths: the unit they are shown and typed in, and what is being
/// typed.
pub(crate) struct Lengths<'a> {
    pub(crate) unit: LengthUnit,
    pub(crate) drafts: &'a mut Drafts,
}

/// Longer than any board; a slip of the keys rather than a plan.
const LONGEST: Mm = Mm::new(100_000.0);

/// A length to show, under the name it is found by.
pub(crate) struct Field {
    /// Unique in the window, and what a screen reader says.
    pub(crate) name: &'static str,
    /// The short word over it.
    pub(crate) caption: &'static str,
    pub(crate) value: Mm,
}

/// Reads what was typed, or says what is wrong with it.
type Reader<T> = fn(&str, LengthUnit) -> Result<T, String>;

/// What was typed into a field of a board's measures.
pub(crate) enum Measure {
    /// One of them.
    One(Mm),
    /// All three, as in `23 3/4 x 5 1/2 x 3/4`.
    All([Mm; 3]),
}

/// Shows lengths side by side and lets each be typed; the index and the new length once one is entered
/// and makes sense. Reasons for what makes no sense stand under the row.
pub(crate) fn length_fields_ui(
    ui: &mut egui::Ui,
    lengths: &mut Lengths,
    fields: &[Field],
) -> Option<(usize, Mm)> {
    fields_ui(ui, lengths, fields, read)
}

/// The same for the measures of a board, which may be typed into one field at once.
pub(crate) fn board_fields_ui(
    ui: &mut egui::Ui,
    lengths: &mut Lengths,
    fields: &[Field],
) -> Option<(usize, Measure)> {
    fields_ui(ui, lengths, fields, read_measure)
}

/// The same for places, which may be at nothing or less.
pub(crate) fn place_fields_ui(
    ui: &mut egui::Ui,
    lengths: &mut Lengths,
    fields: &[Field],
) -> Option<(usize, Mm)> {
    fields_ui(ui, lengths, fields, read_place)
}

/// One such over the whole width.
pub(crate) fn place_field_ui(ui: &mut egui::Ui, lengths: &mut Lengths, field: &Field) -> Option<Mm> {
    let entered = captioned_ui(ui, lengths, field, read_place);
    wrong_ui(ui, lengths.drafts, field);
    entered
}

/// A field under its caption.
fn captioned_ui<T>(ui: &mut egui::Ui, lengths: &mut Lengths, field: &Field, read: Reader<T>) -> Option<T> {
    ui.spacing_mut().item_spacing.y = 1.0;
    let caption = with_unit(field.caption, lengths.unit);
    ui.add(Label::new(RichText::new(caption).small().color(Palette::of(ui.ctx()).faint)).truncate());
    length_field_ui(ui, lengths, field, read)
}

fn fields_ui<T>(
    ui: &mut egui::Ui,
    lengths: &mut Lengths,
    fields: &[Field],
    read: Reader<T>,
) -> Option<(usize, T)> {
    let mut entered = None;
    // A lone field has no use for the whole width.
    ui.columns(fields.len().max(2), |columns| {
        for (index, (ui, field)) in columns.iter_mut().zip(fields).enumerate() {
            if let Some(length) = captioned_ui(ui, lengths, field, read) {
                entered = Some((index, length));
            }
        }
    });
    for field in fields {
        wrong_ui(ui, lengths.drafts, field);
    }
    entered
}

/// Places side by side in one row, without captions.
pub(crate) fn place_row_ui(
    ui: &mut egui::Ui,
    lengths: &mut Lengths,
    caption: &str,
    fields: &[Field],
) -> Option<(usize, Mm)> {
    let entered = labelled_row_ui(ui, caption, |ui| {
        let mut entered = None;
        let gaps = ui.spacing().item_spacing.x * (fields.len() as f32 - 1.0);
        let width = (ui.available_width() - gaps) / fields.len() as f32;
        for (index, field) in fields.iter().enumerate() {
            let size = egui::vec2(width, ui.spacing().interact_size.y);
            let layout = egui::Layout::left_to_right(egui::Align::Center);
            let one = ui
                .allocate_ui_with_layout(size, layout, |ui| length_field_ui(ui, lengths, field, read_place));
            entered = entered.or(one.inner.map(|length| (index, length)));
        }
        entered
    });
    for field in fields {
        wrong_ui(ui, lengths.drafts, field);
    }
    entered
}

/// Why what was typed makes no sense, where it does not.
fn wrong_ui(ui: &mut egui::Ui, drafts: &Drafts, field: &Field) {
    if let Some(wrong) = drafts.0.get(field.name).and_then(|draft| draft.wrong.as_ref()) {
        let wrong_color = Palette::of(ui.ctx()).wrong;
        let text = RichText::new(said::wrong(field.caption, wrong)).small().color(wrong_color);
        ui.add(Label::new(text).wrap());
    }
}

/// The same for one length in a row of a card, its caption before it.
pub(crate) fn length_row_ui(ui: &mut egui::Ui, lengths: &mut Lengths, field: &Field) -> Option<Mm> {
    let entered = labelled_row_ui(ui, field.caption, |ui| {
        let size = egui::vec2(ui.available_width() - 30.0, ui.spacing().interact_size.y);
        let layout = egui::Layout::left_to_right(egui::Align::Center);
        let entered =
            ui.allocate_ui_with_layout(size, layout, |ui| length_field_ui(ui, lengths, field, read));
        ui.label(RichText::new(lengths.unit.symbol()).small().color(Palette::of(ui.ctx()).faint));
        entered.inner
    });
    wrong_ui(ui, lengths.drafts, field);
    entered
}

fn length_field_ui<T>(ui: &mut egui::Ui, lengths: &mut Lengths, field: &Field, read: Reader<T>) -> Option<T> {
    let unit = lengths.unit;
    let shown =
        ShownText { name: field.name, text: unit.number(field.value), exact: unit.show_exact(field.value) };
    text_field_ui(ui, lengths.drafts, &shown, |text| read(text, unit))
}

/// What a field shows while nobody types in it.
pub(crate) struct ShownText {
    /// Unique in the window, and what a screen reader says.
    pub(crate) name: &'static str,
    /// What is in it; leaving it as it stands changes nothing.
    pub(crate) text: String,
    /// What a hover says.
    pub(crate) exact: String,
}

/// A field whose text is read by `read` once it is left; what was read, if it changed and makes sense.
pub(crate) fn text_field_ui<T>(
    ui: &mut egui::Ui,
    drafts: &mut Drafts,
    shown: &ShownText,
    read: impl FnOnce(&str) -> Result<T, String>,
) -> Option<T> {
    let palette = Palette::of(ui.ctx());
    let name = shown.name;
    let draft = drafts.0.get(name);
    let is_wrong = draft.is_some_and(|draft| draft.wrong.is_some());
    let mut text = draft.map_or_else(|| shown.text.clone(), |draft| draft.text.clone());
    let mut field = TextEdit::singleline(&mut text).desired_width(f32::INFINITY);
    if is_wrong {
        field = field.text_color(palette.wrong);
    }
    let mut output = field.show(ui);
    let response = output.response.response.clone();
    if response.gained_focus() {
        let all = CCursorRange::two(CCursor::default(), CCursor::new(text.chars().count()));
        output.state.cursor.set_char_range(Some(all));
        output.state.store(ui.ctx(), response.id);
    }
    if is_wrong {
        let stroke = egui::Stroke::new(1.5, palette.wrong);
        ui.painter().rect_stroke(response.rect, 4.0, stroke, egui::StrokeKind::Inside);
    }
    if response.changed() {
        drafts.0.insert(name, Draft { text: text.clone(), wrong: None });
    }
    let mut entered = None;
    if response.lost_focus() {
        if ui.input(|input| input.key_pressed(egui::Key::Escape)) {
            drafts.0.remove(name);
        } else if let Some(draft) = drafts.0.get_mut(name) {
            match read(&draft.text) {
                Ok(value) => {
                    // Leaving a rounded number as it stood must not round the job.
                    entered = (draft.text != shown.text).then_some(value);
                    drafts.0.remove(name);
                }
                Err(reason) => draft.wrong = Some(reason),
            }
        }
    }
    response.on_hover_text(&shown.exact).accessible_name(name);
    entered
}

/// Why what was typed in the field of this name makes no sense, where it does not.
pub(crate) fn reason_ui(ui: &mut egui::Ui, drafts: &Drafts, name: &str) {
    if let Some(wrong) = drafts.0.get(name).and_then(|draft| draft.wrong.as_ref()) {
        let text = RichText::new(wrong).small().color(Palette::of(ui.ctx()).wrong);
        ui.add(Label::new(text).wrap());
    }
}

/// Reads a length that a board, a cut or a design can have.
fn read(text: &str, unit: LengthUnit) -> Result<Mm, String> {
    within_reason(read_place(text, unit)?, unit)
}

/// A length that something can have.
fn within_reason(length: Mm, unit: LengthUnit) -> Result<Mm, String> {
    if length <= Mm::ZERO {
        Err(said::IT_MUST_BE_OVER_0.to_owned())
    } else if length > LONGEST {
        Err(said::surely_a_slip(LONGEST, unit))
    } else {
        Ok(length)
    }
}

/// Reads one measure of a board, or all three.
fn read_measure(text: &str, unit: LengthUnit) -> Result<Measure, String> {
    if !text.contains(['x', 'X', '\u{d7}']) {
        return read(text, unit).map(Measure::One);
    }
    let board = parse_board(text, unit).map_err(|error| error.to_string())?;
    for length in board {
        within_reason(length, unit)?;
    }
    Ok(Measure::All(board))
}

/// Reads a place on a board, or a gap.
pub(crate) fn read_place(text: &str, unit: LengthUnit) -> Result<Mm, String> {
    let length = parse_length(text, unit).map_err(|error| error.to_string())?;
    if length > LONGEST || length < -LONGEST { Err(said::surely_a_slip(LONGEST, unit)) } else { Ok(length) }
}

/// A row of a card: a name, and what is set.
pub(crate) fn labelled_row_ui<R>(
    ui: &mut egui::Ui,
    name: &str,
    content: impl FnOnce(&mut egui::Ui) -> R,
) -> R {
    const NAME_WIDTH: f32 = 72.0;
    ui.horizontal(|ui| {
        ui.allocate_ui_with_layout(
            egui::vec2(NAME_WIDTH, ui.spacing().interact_size.y),
            egui::Layout::left_to_right(egui::Align::Center),
            |ui| {
                ui.set_min_width(NAME_WIDTH);
                ui.label(RichText::new(name).color(Palette::of(ui.ctx()).faint));
            },
        );
        content(ui)
    })
    .inner
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_that_no_board_has_are_refused() {
        assert_eq!(read("3 1/2", LengthUnit::InchFraction), Ok(Mm::from_inches(3.5)));
        for text in ["", "wide", "0", "-3", "200 m"] {
            assert!(read(text, LengthUnit::Millimetres).is_err(), "{text:?} was taken");
        }
    }
}
