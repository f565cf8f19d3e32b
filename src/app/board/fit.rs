//! How the design fits the board: what decides, both ways round, what can be done, how it is fed, and
//! the carrier.

use crate::app::commands::board::BoardCommand;
use crate::app::commands::command::Command;
use crate::app::commands::element::ElementCommand;
use crate::app::widgets::form::words_ui;
use crate::app::widgets::length_field::Lengths;
use crate::app::widgets::length_field::{Field, length_fields_ui, place_row_ui};
use crate::app::widgets::look::{Palette, severity_ui};
use crate::app::widgets::window::window_ui;
use crate::app::work::advised::Advised;
use crate::app::work::proofed::Proofed;
use crate::app::work::scene::Scene;
use crate::design::PlateShape;
use crate::job::{Edit, Job, Size};
use crate::proof::carrier::{Carrier, carrier};
use crate::proof::fit::{board_needed, draw_for};
use crate::proof::{FitOutcome, Severity};
use crate::units::{LengthUnit, Mm};
use crate::words;
use crate::words::window::{board as said, with_unit};
use egui::{CollapsingHeader, Label, RichText, ScrollArea};

/// The window, where it is open.
pub(crate) fn fit_ui(
    ctx: &egui::Context,
    scene: &Scene,
    advised: Option<&Advised>,
    open: &mut bool,
    lengths: &mut Lengths,
    commands: &mut Vec<Command>,
) {
    let Scene { job, shown, unit, .. } = *scene;
    let window = egui::Window::new(said::FIT).resizable(false).default_height(530.0);
    window_ui(ctx, window.default_pos(scene.beside), open, |ui| {
        ui.set_width(470.0);
        ScrollArea::vertical().max_height(520.0).auto_shrink([false, true]).show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 4.0;
            outcome_ui(ui, shown, unit);
            sizes_ui(ui, shown, unit, commands);
            ui.separator();
            offers_ui(ui, scene, advised, commands);
            margin_ui(ui, job, lengths, commands);
            plate_ui(ui, job, lengths, commands);
            ui.separator();
            feeding_ui(ui, shown, unit);
            carrier_ui(ui, shown, unit, commands);
        });
    });
}

fn outcome_ui(ui: &mut egui::Ui, shown: &Proofed, unit: LengthUnit) {
    let fit = &shown.proof.fit;
    let severity = if fit.outcome == FitOutcome::Fits { Severity::Sound } else { Severity::Unsound };
    let words = words::fit::outcome(fit, unit);
    ui.horizontal_top(|ui| {
        severity_ui(ui, 8.0, severity);
        ui.add(Label::new(RichText::new(words).strong()).wrap());
    });
}

/// Both ways round: the largest size for this board, the smallest board for this size.
fn sizes_ui(ui: &mut egui::Ui, shown: &Proofed, unit: LengthUnit, commands: &mut Vec<Command>) {
    let (job, fit) = (&shown.job, &shown.proof.fit);
    let largest = job.frame_on_board() * fit.largest_factor;
    if fit.largest_factor > 0.0 {
        let words = said::largest_size(largest.to_array().map(Mm::new), fit.largest_factor, unit);
        let act = Act {
            label: said::USE_IT,
            name: said::USE_THE_LARGEST_SIZE,
            command: Command::Edit(Edit::Size(Size::Fit)),
        };
        row_ui(ui, said::LARGEST_SIZE_FOR_THIS_BOARD, &words, Some(act), commands);
    }
    let needed = board_needed(job, shown.proof.factor);
    let act = Act {
        label: said::USE_IT,
        name: said::USE_THE_SMALLEST_BOARD,
        command: BoardCommand::TakeSize([needed.length, needed.width, needed.thickness]).into(),
    };
    let words = said::smallest_board(&needed, unit);
    row_ui(ui, said::SMALLEST_BOARD_FOR_THIS_SIZE, &words, Some(act), commands);
    if needed.dressed.is_none() {
        row_ui(ui, said::NEAREST_DRESSED_LUMBER, said::NO_DRESSED_SIZE_IS_THAT_LARGE_GLUE, None, commands);
    }
    if let Some(dressed) = &needed.dressed {
        let width = dressed.width.unwrap_or(needed.width);
        let size = [needed.length, width, dressed.thickness];
        let words = said::dressed_board(&dressed.name, size, unit);
        let act = Act {
            label: said::USE_IT,
            name: said::USE_THE_DRESSED_BOARD,
            command: BoardCommand::TakeSize(size).into(),
        };
        row_ui(ui, said::NEAREST_DRESSED_LUMBER, &words, Some(act), commands);
    }
    row_ui(
        ui,
        said::MEASURE_THE_BOARD_FIRST,
        &words::fit::draw_for(draw_for(job), job.board().thickness, unit),
        None,
        commands,
    );
}

/// A button at the end of a row.
struct Act<'a> {
    label: &'static str,
    /// What a screen reader says.
    name: &'a str,
    command: Command,
}

fn row_ui(ui: &mut egui::Ui, caption: &str, words: &str, act: Option<Act>, commands: &mut Vec<Command>) {
    let palette = Palette::of(ui.ctx());
    ui.horizontal_top(|ui| {
        let room = ui.available_width() - if act.is_some() { 78.0 } else { 0.0 };
        ui.allocate_ui_with_layout(egui::vec2(room, 0.0), egui::Layout::top_down(egui::Align::Min), |ui| {
            ui.set_width(room);
            ui.spacing_mut().item_spacing.y = 0.0;
            if !caption.is_empty() {
                ui.label(RichText::new(caption).small().color(palette.faint));
            }
            ui.add(Label::new(words).wrap());
        });
        if let Some(act) = act {
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Min), |ui| {
                if ui.button(act.label).accessible_name(act.name).clicked() {
                    commands.push(act.command);
                }
            });
        }
    });
}

/// What would help, as it was tried out; and the rack, where this board does not take the size.
fn offers_ui(ui: &mut egui::Ui, scene: &Scene, advised: Option<&Advised>, commands: &mut Vec<Command>) {
    let Scene { shown, shop, unit, .. } = *scene;
    for (index, offered) in advised.map_or(&[][..], |advised| &advised.offers).iter().enumerate() {
        let words = words::advice::offer(&offered.offer, &shop.prices.money, unit);
        let name = said::do_it(&words::advice::changes(&offered.offer, unit));
        let act = Act { label: said::DO_IT, name: &name, command: Command::ApplyOffer(index) };
        row_ui(ui, "", &words, Some(act), commands);
    }
    if shown.proof.fit.outcome != FitOutcome::Fits {
        let act =
            Act { label: said::RACK, name: said::LOOK_ON_THE_RACK, command: BoardCommand::ToggleRack.into() };
        row_ui(ui, "", said::USE_ANOTHER_BOARD_SEE_WHICH_BOARD_ON, Some(act), commands);
    }
}

/// The margin along the long edges: the machine's own, unless another is typed for this job.
fn margin_ui(ui: &mut egui::Ui, job: &Job, lengths: &mut Lengths, commands: &mut Vec<Command>) {
    let margin = job.side_margin().unwrap_or(job.machine().side_margin);
    ui.horizontal(|ui| {
        ui.allocate_ui(egui::vec2(190.0, 24.0), |ui| {
            let caption = with_unit(said::MARGIN, lengths.unit);
            let fields = [Field { name: said::SIDE_MARGIN, caption: said::MARGIN, value: margin }];
            if let Some((_, margin)) = place_row_ui(ui, lengths, &caption, &fields) {
                commands.push(BoardCommand::SideMargin(Some(margin.max(Mm::ZERO))).into());
            }
        });
        let of_machine = job.side_margin().is_none();
        ui.label(if of_machine {
            said::ALONG_EACH_LONG_EDGE_THE_MACHINES_OWN
        } else {
            said::ALONG_EACH_LONG_EDGE
        });
        if !of_machine && ui.button(said::USE_THE_MACHINES).clicked() {
            commands.push(BoardCommand::SideMargin(None).into());
        }
    });
}

/// Why a design is never stretched, and the way to a plate of a fixed size all the same.
fn plate_ui(ui: &mut egui::Ui, job: &Job, lengths: &mut Lengths, commands: &mut Vec<Command>) {
    /// Round values of our own, as carved: the border, and from there to the outlines.
    const WIDTH: Mm = Mm::new(6.0);
    const APART: Mm = Mm::new(5.0);
    let id = egui::Id::unique("plate of a fixed size");
    let usual = [job.board().length, job.board().width];
    let mut size: [Mm; 2] = ui.data(|data| data.get_temp(id)).unwrap_or(usual);
    words_ui(ui, RichText::new(said::NEVER_STRETCHED).small().color(Palette::of(ui.ctx()).faint));
    let fields = [
        Field { name: said::PLATE_LENGTH, caption: said::PLATE_LENGTH, value: size[0] },
        Field { name: said::PLATE_WIDTH, caption: said::PLATE_WIDTH, value: size[1] },
    ];
    if let Some((index, length)) = length_fields_ui(ui, lengths, &fields) {
        size[index] = length;
        ui.data_mut(|data| data.insert_temp(id, size));
    }
    let taken = (WIDTH + APART) * 2.0;
    let outline = job.turn().of(job.design().outline_box().size()).abs();
    let room = size.map(|side| (side - taken).get());
    let factor = (room[0] / outline.x).min(room[1] / outline.y);
    let button =
        ui.add_enabled(factor.is_finite() && factor > 0.0, egui::Button::new(said::FIT_AND_ADD_A_BORDER));
    if button.clicked() {
        commands.push(Command::Edit(Edit::Size(Size::Factor(factor))));
        let shape = PlateShape::Exactly { size, corner: Mm::ZERO };
        commands.push(ElementCommand::Border { margin: Mm::ZERO, width: WIDTH, shape }.into());
    }
}

fn feeding_ui(ui: &mut egui::Ui, shown: &Proofed, unit: LengthUnit) {
    let travel = &shown.proof.feeding.travel;
    let mut lines = vec![words::sheets::bench::floor(travel.in_front, travel.behind, unit)];
    lines.extend([&travel.infeed, &travel.outfeed].map(|side| said::overhang(side, unit)));
    ui.label(RichText::new(said::FEEDING).small().color(Palette::of(ui.ctx()).faint));
    for line in lines {
        words_ui(ui, line);
    }
}

fn carrier_ui(ui: &mut egui::Ui, shown: &Proofed, unit: LengthUnit, commands: &mut Vec<Command>) {
    let carrier = carrier(&shown.job);
    let title = if carrier.needed() { said::CARRIER_THIS_BOARD_NEEDS_ONE } else { said::CARRIER_NOT_NEEDED };
    let header = CollapsingHeader::new(title).id_salt("carrier").default_open(carrier.needed());
    header.show(ui, |ui| {
        for line in carrier_lines(&carrier, unit) {
            words_ui(ui, line);
        }
        let command = BoardCommand::AskExportCarrier;
        if ui.button(command.caption().label).on_hover_text(command.caption().tip).clicked() {
            commands.push(command.into());
        }
    });
}

fn carrier_lines(carrier: &Carrier, unit: LengthUnit) -> Vec<String> {
    let because = words::carrier::because(&carrier.reasons, unit);
    [because]
        .into_iter()
        .filter(|line| !line.is_empty())
        .chain(words::carrier::parts(carrier, unit))
        .collect()
}
