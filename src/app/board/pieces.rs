//! Several pieces on the board: a small window with their list, and their outlines on the canvas.

use crate::app::commands::board::BoardCommand;
use crate::app::commands::command::Command;
use crate::app::widgets::camera::Lens;
use crate::app::widgets::form::words_ui;
use crate::app::widgets::length_field::{Field, Lengths, length_row_ui};
use crate::app::widgets::look::{Palette, VERMILLION};
use crate::app::work::scene::Scene;
use crate::arrange::LaidOutline;
use crate::geometry;
use crate::job::{Edit, Job, MOST_COPIES, Turns};
use crate::words::window::pieces as said;
use egui::{Color32, ComboBox, DragValue, Painter, RichText, Shape, Stroke};
use glam::DVec2;

/// What the list shows beside the job.
pub(crate) struct Around<'a> {
    /// The other open jobs, by their places on the shelf.
    pub(crate) others: &'a [(usize, String)],
    /// Whether a search is going on.
    pub(crate) is_arranging: bool,
    /// Every laid copy, as it was last painted.
    pub(crate) outlines: &'a [LaidOutline],
}

/// The window, where it is open.
pub(crate) fn pieces_ui(
    ctx: &egui::Context,
    scene: &Scene,
    open: &mut bool,
    around: &Around,
    lengths: &mut Lengths,
    commands: &mut Vec<Command>,
) {
    let Scene { job, beside, .. } = *scene;
    let window = egui::Window::new(said::PIECES).open(open).resizable(false).default_width(360.0);
    window.default_pos(beside).show(ctx, |ui| {
        let palette = Palette::of(ui.ctx());
        words_ui(ui, RichText::new(said::WHAT_LIES_ON_THE_BOARD).small().color(palette.faint));
        egui::ScrollArea::vertical().max_height(240.0).auto_shrink([false, true]).show(ui, |ui| {
            for piece in 0..job.piece_count() {
                ui.push_id(piece, |ui| piece_ui(ui, job, piece, commands));
            }
        });
        ui.separator();
        let field = Field { name: said::GAP_BETWEEN_PIECES, caption: said::GAP, value: job.gap() };
        if let Some(gap) = length_row_ui(ui, lengths, &field) {
            commands.push(Edit::Gap(Some(gap)).into());
        }
        if around.outlines.iter().any(|outline| outline.is_too_near) {
            words_ui(ui, RichText::new(said::TOO_NEAR).color(VERMILLION));
        }
        ui.horizontal_wrapped(|ui| {
            let arrange = Command::from(BoardCommand::Arrange);
            let button = egui::Button::new(arrange.label());
            if ui.add_enabled(!around.is_arranging, button).on_hover_text(arrange.tooltip()).clicked() {
                commands.push(arrange);
            }
            if ui.add_enabled(job.set_gap().is_some(), egui::Button::new(said::USUAL_GAP)).clicked() {
                commands.push(Edit::Gap(None).into());
            }
            if around.is_arranging {
                ui.spinner();
                let stop = Command::CancelWork;
                if ui.button(stop.label()).on_hover_text(stop.tooltip()).clicked() {
                    commands.push(stop);
                }
                ui.label(said::ARRANGING);
            }
        });
        for (at, name) in around.others {
            let command = Command::from(BoardCommand::AddOpenJob(*at));
            if ui.button(said::add(name)).on_hover_text(command.tooltip()).clicked() {
                commands.push(command);
            }
        }
    });
}

/// A row of the list.
fn piece_ui(ui: &mut egui::Ui, job: &Job, piece: usize, commands: &mut Vec<Command>) {
    let (in_hand, _) = job.piece_in_hand();
    let lot = job.lot(piece);
    let name = job.piece_name(piece).to_owned();
    ui.horizontal(|ui| {
        let response = ui.selectable_label(piece == in_hand, &name);
        let response = response.on_hover_text(said::TAKE_IN_HAND);
        if response.accessible_name(said::of_piece(said::IN_HAND, &name)).clicked() && piece != in_hand {
            commands.push(Edit::TakeInHand { piece, copy: 0 }.into());
        }
        if job.piece_count() > 1 {
            let remove = Edit::RemovePiece(piece);
            let label = said::of_piece(crate::words::commands::REMOVE_PIECE.label, &name);
            let button = ui.small_button("\u{2212}").on_hover_text(crate::words::commands::REMOVE_PIECE.tip);
            if button.accessible_name(label).clicked() {
                commands.push(remove.into());
            }
        }
    });
    ui.horizontal(|ui| {
        let mut count = lot.count;
        ui.label(said::COPIES);
        let drag = ui.add(DragValue::new(&mut count).range(1..=MOST_COPIES).speed(0.05));
        if drag.accessible_name(said::of_piece(said::COPIES, &name)).changed() && count != lot.count {
            commands.push(Edit::Count { piece, count }.into());
        }
        let words = |turns| match turns {
            Turns::None => said::NO_TURNS,
            Turns::Half => said::HALF_TURNS,
            Turns::Quarter => said::QUARTER_TURNS,
        };
        let choice = ComboBox::from_id_salt("turns").selected_text(words(lot.turns)).show_ui(ui, |ui| {
            for turns in Turns::ALL {
                if ui.selectable_label(lot.turns == turns, words(turns)).clicked() && lot.turns != turns {
                    commands.push(Edit::Turns { piece, turns }.into());
                }
            }
        });
        choice
            .response
            .on_hover_text(said::HOW_FAR_IT_MAY_BE_TURNED)
            .accessible_name(said::of_piece(words(lot.turns), &name));
        let laid = lot.others.len() + usize::from(lot.is_laid);
        if laid != lot.count || lot.count > 1 {
            ui.label(RichText::new(said::laid(laid, lot.count)).small());
        }
    });
}

/// The outlines of the copies that are not in hand; of those that are too near another all, in dashes.
pub(crate) fn paint_outlines(painter: &Painter, job: &Job, outlines: &[LaidOutline], lens: Lens) {
    let in_hand = job.piece_in_hand();
    for outline in outlines {
        let is_in_hand = (outline.piece, outline.copy) == in_hand;
        if is_in_hand && !outline.is_too_near {
            continue;
        }
        for ring in &outline.rings {
            let points: Vec<_> = ring.iter().chain(ring.first()).map(|&point| lens.screen(point)).collect();
            if outline.is_too_near {
                painter.extend(Shape::dashed_line(&points, Stroke::new(2.0, VERMILLION), 7.0, 4.0));
            } else {
                painter.line(points, Stroke::new(1.0, Color32::from_black_alpha(110)));
            }
        }
    }
}

/// The copy that lies at a place on the board, but for the one in hand.
pub(crate) fn copy_at(job: &Job, outlines: &[LaidOutline], at: DVec2) -> Option<Command> {
    let is_there = |outline: &&LaidOutline| {
        (outline.piece, outline.copy) != job.piece_in_hand()
            && outline.rings.iter().any(|ring| {
                geometry::Rect::around(ring.iter().copied())
                    .is_some_and(|bounds| bounds.meets(geometry::Rect::new(at, at)))
                    && geometry::is_inside(at, edges(ring))
            })
    };
    let hit = outlines.iter().find(is_there)?;
    Some(Edit::TakeInHand { piece: hit.piece, copy: hit.copy }.into())
}

fn edges(ring: &[DVec2]) -> impl Iterator<Item = [DVec2; 2]> + '_ {
    (0..ring.len()).map(|k| [ring[k], ring[(k + 1) % ring.len()]])
}
