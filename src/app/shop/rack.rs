//! The rack: the shop's boards, kept between runs, and which of them takes the design.

use crate::app::board::done::RackAnswer;
use crate::app::commands::board::BoardCommand;
use crate::app::commands::command::Command;
use crate::app::widgets::form::{Entry, entry_ui, heading_ui, number, words_ui};
use crate::app::widgets::look::{Palette, severity_ui};
use crate::app::widgets::window::window_ui;
use crate::app::work::scene::Scene;
use crate::job::{Job, Reach};
use crate::proof::rack::RackRow;
use crate::shop::{Board, RackBoard, Shop};
use crate::units::{LengthUnit, Mm, parse_length, trimmed};
use crate::words;
use crate::words::window::{shop as said, with_unit};
use egui::{Button, ComboBox, Label, RichText, ScrollArea};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The window's state.
pub(crate) struct RackDialog {
    boards: Vec<RackBoard>,
    /// The comparison, and the job it was worked out for.
    answer: Option<(Arc<Job>, RackAnswer)>,
    /// The job a comparison is on its way for.
    asked: Option<Arc<Job>>,
    form: Option<Form>,
}

impl RackDialog {
    /// The window with these boards.
    pub(crate) fn holding(boards: Vec<RackBoard>) -> RackDialog {
        RackDialog { boards, answer: None, asked: None, form: None }
    }

    /// The boards, as they are kept.
    pub(crate) fn boards(&self) -> &[RackBoard] {
        &self.boards
    }

    /// Other boards; what was worked out for the old ones is forgotten.
    pub(crate) fn take_boards(&mut self, boards: Vec<RackBoard>) {
        self.boards = boards;
        (self.answer, self.asked) = (None, None);
    }

    /// The comparison for a job.
    pub(crate) fn take_answer(&mut self, job: Arc<Job>, answer: RackAnswer) {
        self.asked = None;
        self.answer = Some((job, answer));
    }

    /// Whether a comparison for this job is neither there nor on its way.
    pub(crate) fn wants_rows_for(&self, job: &Job) -> bool {
        let is_of = |of: &Arc<Job>| Reach::between(of, job).is_only_noted();
        !self.answer.as_ref().is_some_and(|(of, _)| is_of(of)) && !self.asked.as_ref().is_some_and(is_of)
    }

    /// A comparison for this job is on its way.
    pub(crate) fn asked_for(&mut self, job: Arc<Job>) {
        self.asked = Some(job);
    }

    /// A row of the comparison, where it is one for this job.
    pub(crate) fn row_for(&self, job: &Job, index: usize) -> Option<&RackRow> {
        let answer = self.answer.as_ref().filter(|(of, _)| Reach::between(of, job).is_only_noted());
        answer?.1.rows.get(index)
    }
}

/// The fields of the form.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Part {
    Name,
    Length,
    Width,
    Thickness,
    Price,
}

/// A board as it is being typed.
struct Form {
    /// Its place in the list; `None` for a new one.
    index: Option<usize>,
    /// What it was made from: blemishes and what was measured stay with it.
    board: Board,
    /// The id of its wood.
    wood: String,
    unit: LengthUnit,
    texts: BTreeMap<Part, String>,
    untouched: BTreeMap<Part, String>,
}

type Reasons = BTreeMap<Part, String>;

impl Form {
    fn of(index: Option<usize>, entry: &RackBoard, unit: LengthUnit) -> Form {
        let board = &entry.board;
        let texts: BTreeMap<Part, String> = [
            (Part::Name, entry.name.clone()),
            (Part::Length, unit.number(board.length)),
            (Part::Width, unit.number(board.width)),
            (Part::Thickness, unit.number(board.thickness)),
            (Part::Price, entry.price.map_or_else(String::new, |price| trimmed(price, 2))),
        ]
        .into();
        Form { index, board: board.clone(), wood: entry.wood.clone(), unit, untouched: texts.clone(), texts }
    }

    fn read(&self) -> Result<RackBoard, Reasons> {
        let mut reasons = Reasons::new();
        let mut board = self.board.clone();
        for (part, slot) in [
            (Part::Length, &mut board.length),
            (Part::Width, &mut board.width),
            (Part::Thickness, &mut board.thickness),
        ] {
            if self.texts[&part] == self.untouched[&part] {
                continue;
            }
            let wrong = match parse_length(&self.texts[&part], self.unit) {
                Ok(length) if length > Mm::ZERO && length <= Mm::new(1.0e5) => {
                    *slot = length;
                    continue;
                }
                Ok(_) => said::IT_MUST_BE_OVER_0_AND_AT.to_owned(),
                Err(error) => error.to_string(),
            };
            reasons.insert(part, wrong);
        }
        let name = self.texts[&Part::Name].trim().to_owned();
        if name.is_empty() {
            reasons.insert(Part::Name, said::TYPE_A_NAME.to_owned());
        }
        let price = match self.texts[&Part::Price].trim() {
            "" => None,
            text => match number(text) {
                Ok(price) if price >= 0.0 => Some(price),
                Ok(_) => {
                    reasons.insert(Part::Price, said::A_PRICE_CANNOT_BE_NEGATIVE.to_owned());
                    None
                }
                Err(reason) => {
                    reasons.insert(Part::Price, reason);
                    None
                }
            },
        };
        if reasons.is_empty() {
            Ok(RackBoard { name, board, wood: self.wood.clone(), price })
        } else {
            Err(reasons)
        }
    }
}

/// The window, where it is open.
pub(crate) fn rack_ui(
    ctx: &egui::Context,
    scene: &Scene,
    dialog: &mut Option<RackDialog>,
    commands: &mut Vec<Command>,
) {
    let Scene { job, shop, unit, beside, .. } = *scene;
    let Some(rack) = dialog else { return };
    let mut open = true;
    let window = egui::Window::new(said::RACK).resizable(false);
    window_ui(ctx, window.default_pos(beside - egui::vec2(60.0, 0.0)), &mut open, |ui| {
        ui.set_width(720.0);
        if rack.boards.is_empty() {
            words_ui(ui, said::THE_RACK_IS_EMPTY_ADD_THE_BOARD);
        } else {
            table_ui(ui, rack, shop, unit, commands);
        }
        ui.horizontal(|ui| {
            if ui.button(said::ADD_THIS_BOARD).on_hover_text(said::PUT_THE_JOBS_BOARD_ON_THE_RACK).clicked() {
                let name = said::board_name(&job.wood().name, job.board().length, unit);
                let (board, wood) = (job.board().clone(), job.wood().id.clone());
                let entry = RackBoard { name, board, wood, price: None };
                rack.form = Some(Form::of(None, &entry, unit));
            }
            if ui.button(said::NEW_BOARD).on_hover_text(said::ENTER_A_BOARD_THAT_IS_NOT_ON).clicked() {
                let (board, wood) = (Board::default(), job.wood().id.clone());
                let entry = RackBoard { name: String::new(), board, wood, price: None };
                rack.form = Some(Form::of(None, &entry, unit));
            }
        });
        form_ui(ui, shop, rack, commands);
    });
    if !open {
        commands.push(BoardCommand::ToggleRack.into());
    }
}

/// Which of the boards takes the design: best first.
fn table_ui(
    ui: &mut egui::Ui,
    dialog: &mut RackDialog,
    shop: &Shop,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) {
    let palette = Palette::of(ui.ctx());
    let Some((_, RackAnswer { rows, offers })) = &dialog.answer else {
        ui.label(RichText::new(said::PROOFING_EVERY_BOARD).color(palette.faint));
        return;
    };
    let caption = if dialog.asked.is_some() {
        said::WHICH_BOARD_TAKES_THIS_DESIGN_WORKING_IT
    } else {
        said::WHICH_BOARD_TAKES_THIS_DESIGN_BEST_FIRST
    };
    ui.label(RichText::new(caption).small().color(palette.faint));
    let mut edit = None;
    ScrollArea::vertical().max_height(260.0).auto_shrink([false, true]).show(ui, |ui| {
        let grid = egui::Grid::new("rack").num_columns(7).striped(true).spacing([10.0, 3.0]);
        grid.show(ui, |ui| {
            for heading in
                [said::BOARD, said::LARGEST, said::OFFCUT, said::WASTE, said::PRICE, said::WORST_FINDING, ""]
            {
                ui.label(RichText::new(heading).small().color(palette.faint));
            }
            ui.end_row();
            for (index, row) in rows.iter().enumerate() {
                let help = offers.get(index).and_then(Option::as_ref);
                let help = help.map(|offer| words::advice::would_help(offer, &shop.prices.money, unit));
                row_ui(ui, index, row, help, unit, &mut edit, commands);
                ui.end_row();
            }
        });
    });
    if let Some(index) = edit
        && let Some(entry) = dialog.boards.get(index)
    {
        dialog.form = Some(Form::of(Some(index), entry, unit));
    }
}

fn row_ui(
    ui: &mut egui::Ui,
    index: usize,
    row: &RackRow,
    help: Option<String>,
    unit: LengthUnit,
    edit: &mut Option<usize>,
    commands: &mut Vec<Command>,
) {
    let cell = |ui: &mut egui::Ui, width: f32, words: String, hint: String| {
        let size = egui::vec2(width, ui.spacing().interact_size.y);
        let label = ui
            .allocate_ui_with_layout(size, egui::Layout::left_to_right(egui::Align::Center), |ui| {
                ui.set_min_width(width);
                ui.add(Label::new(words).truncate())
            })
            .inner;
        if !hint.is_empty() {
            label.on_hover_text(hint);
        }
    };
    ui.horizontal(|ui| {
        severity_ui(ui, 7.0, row.verdict.severity);
        cell(ui, 120.0, row.name.clone(), said::rack_board(row, unit));
    });
    let largest =
        if row.largest_factor > 0.0 { said::largest(row.largest_factor) } else { said::NO_ROOM.to_owned() };
    cell(ui, 56.0, largest, said::proofed_at(row.factor));
    cell(ui, 66.0, unit.show(row.offcut), said::WHAT_IS_LEFT_OF_ITS_LENGTH.to_owned());
    cell(ui, 40.0, said::waste(row.waste), said::THE_SHARE_OF_THE_BOARD_THAT_IS.to_owned());
    cell(ui, 44.0, row.cost.map_or_else(|| "–".to_owned(), |cost| format!("{cost:.2}")), String::new());
    let worst = if row.takes_it {
        row.findings
            .first()
            .map_or_else(|| said::NONE.to_owned(), |finding| words::finding::message(finding, unit))
    } else {
        said::DOES_NOT_TAKE_THIS_SIZE.to_owned()
    };
    let mut all: Vec<String> =
        row.findings.iter().take(12).map(|finding| words::finding::message(finding, unit)).collect();
    all.extend(help);
    cell(ui, 164.0, worst, all.join("\n"));
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        let use_it = ui.small_button(said::USE).on_hover_text(BoardCommand::UseRackBoard(0).caption().label);
        if use_it.accessible_name(said::use_board(&row.name)).clicked() {
            commands.push(BoardCommand::UseRackBoard(index).into());
        }
        if ui.small_button(said::EDIT).accessible_name(said::edit_board(&row.name)).clicked() {
            *edit = Some(row.index);
        }
        if ui.small_button(said::DELETE).accessible_name(said::delete_board(&row.name)).clicked() {
            commands.push(BoardCommand::TakeOffRack(row.index).into());
        }
    });
}

fn form_ui(ui: &mut egui::Ui, shop: &Shop, dialog: &mut RackDialog, commands: &mut Vec<Command>) {
    let Some(form) = &mut dialog.form else { return };
    let palette = Palette::of(ui.ctx());
    heading_ui(ui, if form.index.is_some() { said::CHANGE_IT } else { said::PUT_IT_ON_THE_RACK });
    let read = form.read();
    let nothing_wrong = Reasons::new();
    let reasons = read.as_ref().err().unwrap_or(&nothing_wrong);
    let unit = form.unit;
    let fields = [
        (Part::Name, said::RACK_NAME, said::NAME.to_owned()),
        (Part::Length, said::RACK_LENGTH, with_unit(said::LENGTH, unit)),
        (Part::Width, said::RACK_WIDTH, with_unit(said::WIDTH, unit)),
        (Part::Thickness, said::RACK_THICKNESS, with_unit(said::THICKNESS, unit)),
        (Part::Price, said::RACK_PRICE, said::PRICE.to_owned()),
    ];
    ui.columns(6, |columns| {
        for (ui, (part, name, caption)) in columns.iter_mut().zip(&fields) {
            let wrong = reasons.get(part).map(String::as_str);
            entry_ui(ui, form.texts.entry(*part).or_default(), &Entry { name, caption, wrong });
        }
        let ui = &mut columns[5];
        ui.spacing_mut().item_spacing.y = 1.0;
        ui.label(RichText::new(said::WOOD).small().color(palette.faint));
        let now = shop.woods.iter().find(|wood| wood.id == form.wood);
        let shown = now.map_or_else(|| form.wood.clone(), |wood| wood.name.clone());
        let combo = ComboBox::from_id_salt("rack wood").width(ui.available_width()).truncate();
        let response = combo.selected_text(shown).show_ui(ui, |ui| {
            for wood in &shop.woods {
                ui.selectable_value(&mut form.wood, wood.id.clone(), &wood.name);
            }
        });
        response.response.accessible_name(said::RACK_WOOD);
    });
    let blemishes = form.board.blemishes.len();
    if blemishes > 0 {
        ui.label(RichText::new(said::blemishes_kept(blemishes)).small().color(palette.faint));
    }
    let mut done = false;
    ui.horizontal(|ui| {
        let keep = ui.add_enabled(read.is_ok(), Button::new(said::KEEP_BOARD));
        if let (true, Ok(board)) = (keep.clicked(), read) {
            commands.push(BoardCommand::KeepOnRack(form.index, Box::new(board)).into());
            done = true;
        }
        done |= ui.button(said::CANCEL).clicked();
    });
    if done {
        dialog.form = None;
    }
}
