//! Several pieces on the board: a small window with their list, and their outlines on the canvas.

use crate::app::board::batch::{Batched, PiecesAnswer, PiecesView};
use crate::app::commands::board::{BoardCommand, PiecesQuestion};
use crate::app::commands::command::Command;
use crate::app::widgets::camera::Lens;
use crate::app::widgets::form::words_ui;
use crate::app::widgets::length_field::{Field, Lengths, length_row_ui};
use crate::app::widgets::look::{Palette, VERMILLION};
use crate::app::widgets::window::window_ui;
use crate::app::work::scene::Scene;
use crate::arrange::{LaidOutline, OneMore};
use crate::geometry;
use crate::job::{Edit, Job, MOST_COPIES, Turns};
use crate::words;
use crate::words::window::pieces as said;
use egui::{Color32, ComboBox, DragValue, Painter, RichText, Shape, Stroke, TextEdit};
use glam::DVec2;

/// The most findings that are listed.
const FINDINGS: usize = 6;

/// What the list shows beside the job.
pub(crate) struct Around<'a> {
    /// The other open jobs, by their places on the shelf.
    pub(crate) others: &'a [(usize, String)],
    /// How many orders were tried, and of how many, while a search is going on; nothing of nothing where it does not
    /// count.
    pub(crate) arranging: Option<[usize; 2]>,
    /// Whether names are being cut, or other elements changed.
    pub(crate) is_naming: bool,
    /// Every laid copy, as it was last painted.
    pub(crate) outlines: &'a [LaidOutline],
}

/// The window, where it is open.
pub(crate) fn pieces_ui(
    ctx: &egui::Context,
    scene: &Scene,
    view: &mut PiecesView,
    around: &Around,
    lengths: &mut Lengths,
    commands: &mut Vec<Command>,
) {
    let mut open = view.open;
    let window = egui::Window::new(said::PIECES).resizable(false).default_width(400.0);
    // The board must be seen; what was found of all pieces stands in the window itself.
    let corner = egui::pos2(ctx.content_rect().right() - 8.0, scene.beside.y);
    window_ui(ctx, window.pivot(egui::Align2::RIGHT_TOP).default_pos(corner), &mut open, |ui| {
        ui.set_width(400.0);
        egui::ScrollArea::vertical().max_height(460.0).auto_shrink([false, true]).show(ui, |ui| {
            list_ui(ui, scene, view, around, lengths, commands);
        });
    });
    view.open = open;
}

fn list_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    view: &mut PiecesView,
    around: &Around,
    lengths: &mut Lengths,
    commands: &mut Vec<Command>,
) {
    let job = scene.job;
    let palette = Palette::of(ui.ctx());
    words_ui(ui, RichText::new(said::WHAT_LIES_ON_THE_BOARD).small().color(palette.faint));
    let batched = view.batched(job);
    egui::ScrollArea::vertical().id_salt("pieces").max_height(170.0).auto_shrink([false, true]).show(
        ui,
        |ui| {
            for piece in 0..job.piece_count() {
                ui.push_id(piece, |ui| {
                    piece_ui(ui, job, piece, commands);
                    if let Some(batched) = batched {
                        each_ui(ui, scene, batched, piece);
                    }
                });
            }
        },
    );
    ui.separator();
    let field = Field { name: said::GAP_BETWEEN_PIECES, caption: said::GAP, value: job.gap() };
    if let Some(gap) = length_row_ui(ui, lengths, &field) {
        commands.push(Edit::Gap(Some(gap)).into());
    }
    if around.outlines.iter().any(|outline| outline.is_too_near) {
        words_ui(ui, RichText::new(said::TOO_NEAR).color(VERMILLION));
    }
    arrange_ui(ui, job, around, commands);
    for (at, name) in around.others {
        let command = Command::from(BoardCommand::AddOpenJob(*at));
        if ui.button(said::add(name)).on_hover_text(command.tooltip()).clicked() {
            commands.push(command);
        }
    }
    if job.is_batch() {
        ui.separator();
        ui.strong(said::ALL_OF_THEM);
        match batched {
            Some(batched) => all_ui(ui, scene, batched, view.is_current(job)),
            None => words_ui(ui, RichText::new(said::WORKING_OUT_ALL).small()),
        }
        questions_ui(ui, scene, view, around, commands);
        ui.checkbox(&mut view.each, said::A_FILE_FOR_EACH).on_hover_text(said::A_FILE_FOR_EACH_TIP);
    }
    names_ui(ui, view, around, commands);
}

fn button_ui(ui: &mut egui::Ui, is_enabled: bool, command: Command, commands: &mut Vec<Command>) {
    let button = egui::Button::new(command.label());
    if ui.add_enabled(is_enabled, button).on_hover_text(command.tooltip()).clicked() {
        commands.push(command);
    }
}

fn arrange_ui(ui: &mut egui::Ui, job: &Job, around: &Around, commands: &mut Vec<Command>) {
    ui.horizontal_wrapped(|ui| {
        button_ui(ui, around.arranging.is_none(), BoardCommand::Arrange.into(), commands);
        if ui.add_enabled(job.set_gap().is_some(), egui::Button::new(said::USUAL_GAP)).clicked() {
            commands.push(Edit::Gap(None).into());
        }
        if let Some([done, of]) = around.arranging {
            ui.spinner();
            button_ui(ui, true, Command::CancelWork, commands);
            if of > 0 {
                ui.label(said::tried(done, of));
                ui.add(egui::ProgressBar::new(done as f32 / of as f32).desired_width(60.0));
            } else {
                ui.label(said::ARRANGING);
            }
        }
    });
}

/// What one of a piece takes.
fn each_ui(ui: &mut egui::Ui, scene: &Scene, batched: &Batched, piece: usize) {
    let facts = &batched.facts;
    let money = &scene.shop.prices.money;
    let (Some(sums), Some(more)) = (facts.batch.pieces.get(piece), facts.one_more.get(piece)) else { return };
    let price = sums.price.map(|price| money.show(price));
    let more = matches!(more, OneMore::Fits(_)).then(|| words::arrange::one_more(sums, true, money));
    let said = said::each(sums.minutes, price.as_deref(), more.as_deref());
    words_ui(ui, RichText::new(said).small().color(Palette::of(ui.ctx()).faint));
}

/// The sums of all pieces, and what was found of which copies.
fn all_ui(ui: &mut egui::Ui, scene: &Scene, batched: &Batched, is_current: bool) {
    let Batched { job, facts, found, .. } = batched;
    let (batch, unit, money) = (&facts.batch, scene.unit, &scene.shop.prices.money);
    if !is_current {
        words_ui(ui, RichText::new(said::WORKING_OUT_ALL).small());
    }
    words_ui(ui, words::arrange::verdict(&batch.severities()));
    words_ui(ui, words::arrange::total(batch.minutes, batch.cost, batch.price, money));
    words_ui(ui, words::arrange::used(facts.laid.used, job.board().length, batch.waste, unit));
    for row in found.iter().take(FINDINGS) {
        words_ui(ui, RichText::new(row.sentence(batch)).small());
    }
    if found.len() > FINDINGS {
        words_ui(ui, RichText::new(words::arrange::more_found(found.len() - FINDINGS)).small());
    }
}

/// Which board takes all of them.
fn questions_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    view: &PiecesView,
    around: &Around,
    commands: &mut Vec<Command>,
) {
    ui.horizontal_wrapped(|ui| {
        ui.label(said::QUESTIONS);
        for question in [PiecesQuestion::Shortest, PiecesQuestion::Rack] {
            let command = BoardCommand::AskOfPieces(question).into();
            button_ui(ui, around.arranging.is_none(), command, commands);
        }
    });
    match view.answer(scene.job) {
        Some(PiecesAnswer::Shortest(length)) => {
            words_ui(ui, words::arrange::shortest(*length, scene.job.board().width, scene.unit));
        }
        Some(PiecesAnswer::Rack(rows)) if rows.is_empty() => {
            words_ui(ui, words::arrange::RACK_TAKES_NONE);
        }
        Some(PiecesAnswer::Rack(rows)) => {
            words_ui(ui, words::arrange::RACK);
            for row in rows {
                words_ui(ui, words::arrange::on_rack(row, scene.unit));
            }
        }
        None => {}
    }
}

/// The list of names: typed, pasted or opened.
fn names_ui(ui: &mut egui::Ui, view: &mut PiecesView, around: &Around, commands: &mut Vec<Command>) {
    egui::CollapsingHeader::new(said::NAMES).show(ui, |ui| {
        words_ui(ui, RichText::new(said::NAMES_TIP).small().color(Palette::of(ui.ctx()).faint));
        egui::ScrollArea::vertical().id_salt("names").max_height(90.0).show(ui, |ui| {
            let field = TextEdit::multiline(&mut view.names).desired_rows(3).desired_width(f32::INFINITY);
            ui.add(field).accessible_name(said::LIST_OF_NAMES);
        });
        if let Some(problem) = &view.problem {
            words_ui(ui, RichText::new(problem).color(VERMILLION));
        }
        ui.horizontal_wrapped(|ui| {
            button_ui(ui, !around.is_naming, BoardCommand::AskNames.into(), commands);
            let is_ready = !around.is_naming && !view.names.trim().is_empty();
            button_ui(ui, is_ready, BoardCommand::MakeNames(view.names.clone()).into(), commands);
            if around.is_naming {
                ui.spinner();
                ui.label(said::MAKING_PIECES);
            }
        });
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
            let label = said::of_piece(words::commands::REMOVE_PIECE.label, &name);
            let button = ui.small_button("\u{2212}").on_hover_text(words::commands::REMOVE_PIECE.tip);
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
