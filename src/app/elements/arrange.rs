//! Arranging elements by numbers: a small window for each way, which shows on the board what would come
//! of it.

use crate::app::commands::arrange::Arrange;
use crate::app::commands::command::Command;
use crate::app::commands::element::ElementCommand;
use crate::app::widgets::form::words_ui;
use crate::app::widgets::length_field::Lengths;
use crate::app::widgets::length_field::{Field, labelled_row_ui, length_fields_ui, place_fields_ui};
use crate::app::widgets::look::Palette;
use crate::app::widgets::window::window_ui;
use crate::app::work::scene::Scene;
use crate::design::PlateShape;
use crate::geometry::Rect;
use crate::job::Job;
use crate::units::Mm;
use crate::words::window::elements as said;
use egui::{Button, DragValue, RichText};

/// The numbers, kept from one time to the next, and which window is open. Lengths are as carved.
pub(crate) struct ArrangeDialog {
    open: Option<Arrange>,
    margin: Mm,
    corner: Mm,
    is_oval: bool,
    finest: Mm,
    width: Mm,
    by: [Mm; 2],
    /// How many times as large, per cent.
    percent: f64,
    outwards: Mm,
    times: [u32; 2],
    /// Room between copies, or from one to the next.
    apart: [Mm; 2],
    is_gap: bool,
    keep: bool,
}

impl Default for ArrangeDialog {
    fn default() -> ArrangeDialog {
        ArrangeDialog {
            open: None,
            margin: Mm::new(10.0),
            corner: Mm::new(5.0),
            is_oval: false,
            // A round value of our own: finer than any cutter of the built-in list shows.
            finest: Mm::new(0.5),
            width: Mm::new(6.0),
            by: [Mm::new(10.0), Mm::ZERO],
            percent: 110.0,
            outwards: Mm::new(1.0),
            times: [2, 1],
            apart: [Mm::new(10.0); 2],
            is_gap: true,
            keep: true,
        }
    }
}

impl ArrangeDialog {
    pub(crate) fn toggle(&mut self, what: Arrange) {
        self.open = (self.open != Some(what)).then_some(what);
    }

    /// The same with no window open.
    pub(crate) fn closed(self) -> ArrangeDialog {
        ArrangeDialog { open: None, ..self }
    }

    /// What is asked for, with these elements chosen.
    fn command(&self, job: &Job, chosen: &[usize]) -> Option<ElementCommand> {
        let (margin, corner) = (self.margin, self.corner);
        let shape = if self.is_oval { PlateShape::Oval } else { PlateShape::Rectangle { corner } };
        Some(match self.open? {
            Arrange::CutOut => ElementCommand::CutOut { margin, keep: self.keep },
            Arrange::Move => ElementCommand::Move(self.by),
            Arrange::Resize => ElementCommand::Resize(self.percent / 100.0),
            Arrange::Grow => ElementCommand::Grow(self.outwards),
            Arrange::Repeat => ElementCommand::Repeat { times: self.times, pitch: self.pitch(job, chosen)? },
            Arrange::Ground => ElementCommand::Ground { margin, shape },
            Arrange::Smooth => ElementCommand::Smooth(self.finest),
            Arrange::Border => ElementCommand::Border { margin, width: self.width, shape },
        })
    }

    /// From one copy to the next, along and across the board, as carved.
    fn pitch(&self, job: &Job, chosen: &[usize]) -> Option<[Mm; 2]> {
        if !self.is_gap {
            return Some(self.apart);
        }
        let size = job.turn().of(job.design().box_round(chosen)?.size()).abs() * job.factor();
        Some([self.apart[0] + Mm::new(size.x), self.apart[1] + Mm::new(size.y)])
    }

    /// Where elements would lie, as boxes in design space.
    pub(crate) fn ghosts(&self, job: &Job, chosen: &[usize]) -> Vec<Rect> {
        /// More than these tell nothing.
        const MOST: usize = 200;
        let drawn = |length: Mm| length.get() / job.factor();
        let around = (!chosen.is_empty()).then(|| job.design().box_round(chosen)).flatten();
        match (self.open, around) {
            (Some(Arrange::Move), Some(around)) => vec![around.moved(job.design_from_board(self.by))],
            (Some(Arrange::Resize), Some(around)) => vec![around.resized(self.percent / 100.0)],
            (Some(Arrange::Grow), Some(around)) => vec![around.grown(drawn(self.outwards))],
            (Some(Arrange::Repeat), Some(around)) => {
                let Some([along, across]) = self.pitch(job, chosen) else { return Vec::new() };
                let [columns, rows] = self.times;
                let places = (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column)));
                let by = |(row, column)| {
                    let steps = [along * f64::from(column), across * f64::from(row)];
                    around.moved(job.design_from_board(steps))
                };
                places.skip(1).take(MOST).map(by).collect()
            }
            (Some(Arrange::Ground), _) => vec![job.design().outline_box().grown(drawn(self.margin))],
            (Some(Arrange::Border), _) => {
                let inner = job.design().outline_box().grown(drawn(self.margin));
                vec![inner, inner.grown(drawn(self.width))]
            }
            _ => Vec::new(),
        }
    }
}

/// The window of the way that is open.
pub(crate) fn arrange_ui(
    ctx: &egui::Context,
    scene: &Scene,
    dialog: &mut ArrangeDialog,
    chosen: &[usize],
    lengths: &mut Lengths,
    commands: &mut Vec<Command>,
) {
    let job = scene.job;
    let Some(what) = dialog.open else { return };
    let mut open = true;
    let window = egui::Window::new(what.caption().title()).resizable(false);
    window_ui(ctx, window.default_pos(scene.beside), &mut open, |ui| {
        ui.set_width(300.0);
        let palette = Palette::of(ui.ctx());
        let needed = match what {
            Arrange::CutOut => 2,
            Arrange::Ground | Arrange::Border => 0,
            _ => 1,
        };
        words_ui(ui, in_words(what, job, chosen));
        match what {
            Arrange::CutOut => {
                margin_ui(ui, dialog, lengths, said::CLEARANCE, said::CUT_OUT_MARGIN);
                ui.checkbox(&mut dialog.keep, said::KEEP_THE_OTHERS)
                    .on_hover_text(said::UNTICK_TO_TAKE_THEM_OUT_OF_THE);
            }
            Arrange::Move => move_fields_ui(ui, dialog, lengths),
            Arrange::Resize => {
                labelled_row_ui(ui, said::NEW_SIZE, |ui| {
                    let value = DragValue::new(&mut dialog.percent).range(1.0..=10_000.0).speed(0.5);
                    ui.add(value.max_decimals(2).suffix(" %")).accessible_name(said::NEW_SIZE);
                });
            }
            Arrange::Grow => {
                let field = Field { name: said::OUTWARDS, caption: said::OUTWARDS, value: dialog.outwards };
                if let Some((_, outwards)) = place_fields_ui(ui, lengths, &[field]) {
                    dialog.outwards = outwards;
                }
            }
            Arrange::Repeat => repeat_fields_ui(ui, dialog, lengths),
            Arrange::Ground => {
                margin_ui(ui, dialog, lengths, said::PAST_THE_OUTLINES, said::GROUND_MARGIN);
                shape_ui(ui, dialog, lengths, said::GROUND_CORNER);
            }
            Arrange::Border => border_fields_ui(ui, dialog, lengths),
            Arrange::Smooth => {
                let value = dialog.finest;
                let field = Field { name: said::FINEST_DETAIL, caption: said::FINEST_DETAIL, value };
                if let Some((_, finest)) = length_fields_ui(ui, lengths, &[field]) {
                    dialog.finest = finest;
                }
            }
        }
        if chosen.len() >= needed && what != Arrange::Resize {
            words_ui(ui, RichText::new(said::LENGTHS_ARE_AS_CARVED_AT_THE_JOBS).small().color(palette.faint));
        }
        ui.add_space(4.0);
        let command = dialog.command(job, chosen).filter(|_| chosen.len() >= needed);
        ui.horizontal(|ui| {
            let label =
                command.as_ref().map_or_else(|| what.caption().title(), |command| command.caption().label);
            let name = said::now(label);
            let button = ui.add_enabled(command.is_some(), Button::new(label)).accessible_name(name);
            if let Some(command) = command.filter(|_| button.clicked()) {
                commands.push(command.into());
            }
        });
    });
    if !open {
        dialog.open = None;
    }
}

/// What the window would do, to what.
fn in_words(what: Arrange, job: &Job, chosen: &[usize]) -> String {
    let name = |index: usize| job.design().elements[index].name.as_str();
    let names = |chosen: &[usize]| chosen.iter().map(|&index| name(index)).collect::<Vec<_>>();
    match (what, chosen) {
        (Arrange::CutOut, [] | [_]) => said::CHOOSE_THE_ELEMENT_TO_CUT_THEN_HOLD.to_owned(),
        (Arrange::CutOut, [from, tools @ ..]) => said::cuts_out(&names(tools), name(*from)),
        (Arrange::Ground, _) => said::PUTS_A_SUNK_PLATE_UNDER_THE_DESIGN.to_owned(),
        (Arrange::Border, _) => said::PUTS_A_RAISED_FRAME_ROUND_THE_DESIGN.to_owned(),
        (_, []) => said::CHOOSE_ELEMENTS_IN_THE_LIST_OR_ON.to_owned(),
        (Arrange::Resize, _) => said::resizes(&names(chosen)),
        (Arrange::Grow, _) => said::grows(&names(chosen)),
        (Arrange::Move, _) => said::moves(&names(chosen)),
        (Arrange::Repeat, _) => said::repeats(&names(chosen)),
        (Arrange::Smooth, _) => said::smooths(&names(chosen)),
    }
}

fn margin_ui(
    ui: &mut egui::Ui,
    arrange: &mut ArrangeDialog,
    lengths: &mut Lengths,
    caption: &'static str,
    name: &'static str,
) {
    let field = Field { name, caption, value: arrange.margin };
    if let Some((_, margin)) = place_fields_ui(ui, lengths, &[field]) {
        arrange.margin = margin.max(Mm::ZERO);
    }
}

/// A rectangle, with the radius of its corners, or an oval.
fn shape_ui(ui: &mut egui::Ui, arrange: &mut ArrangeDialog, lengths: &mut Lengths, name: &'static str) {
    labelled_row_ui(ui, said::SHAPE, |ui| {
        for (is_oval, label) in [(false, said::RECTANGLE), (true, said::OVAL)] {
            if ui.selectable_label(arrange.is_oval == is_oval, label).clicked() {
                arrange.is_oval = is_oval;
            }
        }
    });
    if arrange.is_oval {
        return;
    }
    let field = Field { name, caption: said::CORNER_RADIUS, value: arrange.corner };
    if let Some((_, corner)) = place_fields_ui(ui, lengths, &[field]) {
        arrange.corner = corner.max(Mm::ZERO);
    }
}

fn border_fields_ui(ui: &mut egui::Ui, arrange: &mut ArrangeDialog, lengths: &mut Lengths) {
    margin_ui(ui, arrange, lengths, said::FROM_THE_OUTLINES, said::BORDER_MARGIN);
    let field = Field { name: said::BORDER_WIDTH, caption: said::WIDTH, value: arrange.width };
    if let Some((_, width)) = length_fields_ui(ui, lengths, &[field]) {
        arrange.width = width;
    }
    shape_ui(ui, arrange, lengths, said::BORDER_CORNER);
}

fn move_fields_ui(ui: &mut egui::Ui, arrange: &mut ArrangeDialog, lengths: &mut Lengths) {
    let [along, across] = arrange.by;
    let fields = [
        Field { name: said::MOVE_ALONG, caption: said::ALONG_THE_BOARD, value: along },
        Field { name: said::MOVE_ACROSS, caption: said::ACROSS_THE_BOARD, value: across },
    ];
    if let Some((index, by)) = place_fields_ui(ui, lengths, &fields) {
        arrange.by[index] = by;
    }
}

fn repeat_fields_ui(ui: &mut egui::Ui, arrange: &mut ArrangeDialog, lengths: &mut Lengths) {
    labelled_row_ui(ui, said::TIMES, |ui| {
        let [along, across] = &mut arrange.times;
        ui.add(DragValue::new(along).range(1..=1000)).accessible_name(said::TIMES_ALONG_THE_BOARD);
        ui.label(said::ALONG);
        ui.add(DragValue::new(across).range(1..=1000)).accessible_name(said::TIMES_ACROSS_THE_BOARD);
        ui.label(said::ACROSS);
    });
    labelled_row_ui(ui, said::SPACING, |ui| {
        for (is_gap, label, hint) in [
            (true, said::GAP, said::THE_GAP_BETWEEN_TWO_COPIES),
            (false, said::PITCH, said::FROM_THE_MIDDLE_OF_ONE_TO_THE),
        ] {
            if ui.selectable_label(arrange.is_gap == is_gap, label).on_hover_text(hint).clicked() {
                arrange.is_gap = is_gap;
            }
        }
    });
    let [along, across] = arrange.apart;
    let fields = [
        Field { name: said::APART_ALONG, caption: said::ALONG_THE_BOARD, value: along },
        Field { name: said::APART_ACROSS, caption: said::ACROSS_THE_BOARD, value: across },
    ];
    if let Some((index, apart)) = place_fields_ui(ui, lengths, &fields) {
        arrange.apart[index] = apart;
    }
}
