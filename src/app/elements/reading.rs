//! What a drawing's file leaves open: the size it was drawn in, outlines that do not close, specks.

use crate::app::commands::command::Command;
use crate::app::commands::element::ElementCommand;
use crate::app::commands::situation::Elements;
use crate::app::widgets::form;
use crate::app::widgets::look::Palette;
use crate::app::widgets::outlines::thinned;
use crate::app::work::proofed::Proofed;
use crate::design::{Design, PlateShape, SizeReading, UnstatedSize};
use crate::job::{Job, Treatment};
use crate::units::{LengthUnit, Mm};
use crate::words;
use crate::words::window::elements as said;
use egui::{Align2, Color32, FontId, Label, Rect, RichText, Sense, Shape, Stroke, StrokeKind, pos2, vec2};
use glam::DVec2;
use std::sync::Arc;

/// The sizes a drawing may be meant in, ready to be drawn.
pub(crate) struct Candidates {
    design: Arc<Design>,
    rings: Vec<Vec<DVec2>>,
}

/// Asks how large a drawing is whose file does not say; Escape keeps it as it was read.
pub(crate) fn reading_ui(
    ctx: &egui::Context,
    job: &Job,
    unstated: &UnstatedSize,
    candidates: &mut Option<Candidates>,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) {
    let design = job.design();
    let is_good = candidates.as_ref().is_some_and(|drawn| Arc::ptr_eq(&drawn.design, design));
    if !is_good {
        /// A small picture needs no more.
        const MOST_POINTS: usize = 3_000;
        let all: Vec<usize> = (0..design.elements.len()).collect();
        let rings = thinned(design, &all, MOST_POINTS);
        *candidates = Some(Candidates { design: design.clone(), rings });
    }
    let Some(candidates) = &*candidates else { return };
    let board = job.board().area().size();
    let modal = egui::Modal::new(egui::Id::unique("reading")).show(ctx, |ui| {
        ui.set_width(560.0);
        ui.heading(said::HOW_LARGE_IS_THIS_DRAWING);
        form::words_ui(ui, said::size_not_stated(&design.name, board.to_array().map(Mm::new), unit));
        ui.add_space(4.0);
        for row in unstated.readings.chunks(2) {
            ui.horizontal(|ui| {
                for reading in row {
                    let is_taken = reading.unit == unstated.taken;
                    if candidate_ui(ui, candidates, reading, is_taken, board, unit) {
                        commands.push(ElementCommand::ReadIn(reading.unit).into());
                        ui.close();
                    }
                }
            });
        }
        ui.add_space(4.0);
        let palette = Palette::of(ui.ctx());
        ui.horizontal(|ui| {
            let keep = ui.button(said::DECIDE_LATER).on_hover_text(said::KEEPS_THE_SIZE_AS_SPELK_READ_IT);
            if keep.clicked() {
                ui.close();
            }
            let hint = said::TO_BE_SURE_SET_THE_PAGE_SIZE;
            ui.label(RichText::new(hint).small().color(palette.faint));
        });
    });
    if form::is_closing(ctx, &modal)
        && !commands.iter().any(|command| matches!(command, Command::Element(ElementCommand::ReadIn(_))))
    {
        commands.push(ElementCommand::KeepReading.into());
    }
}

/// `300 × 100 mm`.
pub(crate) fn size_in_words(size: DVec2, unit: LengthUnit) -> String {
    words::window::size(size.to_array().map(Mm::new), unit)
}

/// One reading, drawn on the board; whether it was chosen.
fn candidate_ui(
    ui: &mut egui::Ui,
    candidates: &Candidates,
    reading: &SizeReading,
    is_taken: bool,
    board: DVec2,
    unit: LengthUnit,
) -> bool {
    const SIZE: egui::Vec2 = vec2(274.0, 152.0);
    /// For the board; the words stand under it.
    const PICTURE: egui::Vec2 = vec2(258.0, 96.0);
    let palette = Palette::of(ui.ctx());
    let (rect, response) = ui.allocate_exact_size(SIZE, Sense::click());
    let size = size_in_words(reading.size, unit);
    let label = said::reading(reading.unit, reading.size.to_array().map(Mm::new), unit);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &label));
    let painter = ui.painter().with_clip_rect(rect);
    let is_lit = response.hovered() || response.has_focus();
    let edge = if is_lit { Stroke::new(2.0, palette.accent) } else { Stroke::new(1.0, palette.line) };
    painter.rect(rect, 6.0, if is_lit { palette.chosen } else { palette.panel }, edge, StrokeKind::Inside);
    let picture = Rect::from_center_size(pos2(rect.center().x, rect.top() + 8.0 + PICTURE.y / 2.0), PICTURE);
    let painter = painter.with_clip_rect(picture.intersect(rect));
    painter.rect_filled(picture, 3.0, palette.bench);
    // The board fills four fifths, so that it shows where a drawing sticks out.
    let scale = 0.8 * (f64::from(PICTURE.x) / board.x).min(f64::from(PICTURE.y) / board.y);
    let shown = (board * scale).as_vec2();
    let plank = Rect::from_center_size(picture.center(), vec2(shown.x, shown.y));
    painter.rect(plank, 1.0, palette.wood, Stroke::new(1.0, palette.on_wood), StrokeKind::Inside);
    let middle = candidates.design.outline_box().center();
    let drawn = candidates.design.outline_box().size().x;
    let scale = scale * reading.size.x / drawn.max(f64::MIN_POSITIVE);
    let place = |p: DVec2| {
        let off = ((p - middle) * scale).clamp(DVec2::splat(-1e5), DVec2::splat(1e5)).as_vec2();
        picture.center() + vec2(off.x, -off.y)
    };
    let outline = Stroke::new(1.2, Color32::from_rgb(0x1C, 0x10, 0x08));
    for ring in &candidates.rings {
        painter.add(Shape::closed_line(ring.iter().map(|&p| place(p)).collect(), outline));
    }
    // What lies beyond the picture, and what is too small to be made out, is pointed at.
    let beyond = candidates.rings.iter().all(|ring| {
        let points: Vec<_> = ring.iter().map(|&p| place(p)).collect();
        let bounds = Rect::from_points(&points);
        !bounds.intersects(picture) || bounds.contains_rect(picture)
    });
    if beyond {
        let font = FontId::proportional(12.0);
        painter.text(
            picture.center(),
            Align2::CENTER_CENTER,
            said::FAR_BEYOND_THE_BOARD,
            font,
            palette.on_wood,
        );
    }
    let extent = (reading.size * (scale * drawn / reading.size.x.max(f64::MIN_POSITIVE))).max_element();
    if extent < 6.0 {
        painter.circle_stroke(picture.center(), 9.0, Stroke::new(1.5, palette.accent));
    }
    let painter = ui.painter().with_clip_rect(rect);
    let at = |y: f32| pos2(rect.left() + 10.0, rect.bottom() - y);
    painter.text(at(36.0), Align2::LEFT_CENTER, &size, FontId::proportional(15.0), palette.ink);
    let is_larger = reading.size.x.max(reading.size.y) > board.x.max(board.y);
    let words = said::reading_unit(reading.unit, is_taken, is_larger);
    painter.text(at(16.0), Align2::LEFT_CENTER, words, FontId::proportional(12.0), palette.faint);
    response.on_hover_cursor(egui::CursorIcon::PointingHand).clicked()
}

/// What bare words may stand on, one click each: the ground that follows them is crooked.
pub(crate) fn grounds_ui(ui: &mut egui::Ui, job: &Job, commands: &mut Vec<Command>) {
    /// Round values of our own, as carved.
    const MARGIN: Mm = Mm::new(10.0);
    const CORNER: Mm = Mm::new(5.0);
    const WIDTH: Mm = Mm::new(6.0);
    let design = job.design();
    let are_words = design.page.is_none()
        && design.elements.iter().all(|element| job.lettering().contains_key(&element.name))
        && job.treatments().all(|treatment| treatment == Treatment::Relief);
    if !are_words {
        return;
    }
    let margin = MARGIN;
    let rectangle = PlateShape::Rectangle { corner: CORNER };
    ui.add(Label::new(RichText::new(said::NO_GROUND_IS_DRAWN).small()).wrap());
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(4.0, 2.0);
        for (words, command) in [
            (said::A_PLAIN_RECTANGLE, ElementCommand::Ground { margin, shape: rectangle }),
            (said::AN_OVAL, ElementCommand::Ground { margin, shape: PlateShape::Oval }),
            (said::A_BORDER, ElementCommand::Border { margin, width: WIDTH, shape: rectangle }),
        ] {
            if ui.small_button(words).on_hover_text(command.caption().tip).clicked() {
                commands.push(command.into());
            }
        }
    });
}

/// So many pictures of a drawing are offered; further ones can be had by the command line.
const OFFERED_PICTURES: usize = 8;

/// What can be done about what the reader noticed, one click each.
pub(crate) fn offers_ui(
    ui: &mut egui::Ui,
    shown: &Proofed,
    elements: &Elements,
    commands: &mut Vec<Command>,
) {
    let &Elements { open_outlines, is_size_unstated, pictures, .. } = elements;
    let specks = shown.specks;
    let mut offers: Vec<(Command, String)> = Vec::new();
    if open_outlines > 0 {
        offers.push((ElementCommand::CarveAsLines.into(), said::carve_as_lines(open_outlines)));
    }
    if specks > 0 {
        offers.push((ElementCommand::Clean.into(), said::remove_specks(specks)));
    }
    if is_size_unstated {
        let again = ElementCommand::ToggleReading;
        let label = again.caption().label.to_owned();
        offers.push((again.into(), label));
    }
    for number in 1..=pictures.min(OFFERED_PICTURES) {
        offers.push((Command::TraceInside(number), said::trace_picture_inside(number, pictures)));
    }
    if offers.is_empty() {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(4.0, 2.0);
        for (command, words) in offers {
            if ui.small_button(words).on_hover_text(command.tooltip()).clicked() {
                commands.push(command);
            }
        }
    });
}
