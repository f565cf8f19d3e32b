//! What a drawing's file leaves open: the size it was drawn in, outlines that do not close, specks.

use crate::app::commands::command::Command;
use crate::app::commands::element::ElementCommand;
use crate::app::documents::watch::Stamp;
use crate::app::documents::{Drawing, of_design};
use crate::app::elements::mark::thinned;
use crate::app::widgets::form;
use crate::app::widgets::look::Palette;
use crate::app::work::{Bench, Done, Lane, Proofed, Source, Stage};
use crate::app::{App, Step};
use crate::design::{self, Design, DesignError, ReadOptions, Reading, SizeReading, UnstatedSize};
use crate::proof::fit;
use crate::units::{LengthUnit, Mm};
use egui::{Align2, Color32, FontId, Rect, RichText, Sense, Shape, Stroke, StrokeKind, pos2, vec2};
use glam::DVec2;
use std::path::PathBuf;
use std::sync::Arc;

/// Where a drawing comes from.
#[derive(Clone, Debug)]
pub(crate) enum Drawn {
    File(PathBuf),
    Bytes { name: String, bytes: Arc<[u8]> },
}

impl Drawn {
    /// Reads it.
    pub(crate) fn read(&self, options: &ReadOptions) -> Result<Reading, DesignError> {
        match self {
            Drawn::File(path) => design::open_with(path, options),
            Drawn::Bytes { name, bytes } => {
                let stem = name.rsplit_once('.').map_or(name.as_str(), |(stem, _)| stem);
                design::read_with(stem, bytes, options)
            }
        }
    }

    fn name(&self) -> String {
        match self {
            Drawn::File(path) => Source::Path(path.clone()).name(),
            Drawn::Bytes { name, .. } => name.clone(),
        }
    }
}

/// What may be asked of a drawing, and where to read it again by the answer.
#[derive(Clone, Debug)]
pub(crate) struct Asks {
    from: Drawn,
    unstated: Option<UnstatedSize>,
    open_outlines: usize,
    /// Whether somebody said how large it is.
    is_settled: bool,
}

impl Asks {
    /// What a reading leaves to be asked; nothing of it is kept where there is nothing.
    pub(crate) fn of(from: Drawn, reading: &Reading, is_settled: bool) -> Option<Asks> {
        let unstated = reading.unstated.clone().filter(|unstated| unstated.readings.len() > 1);
        (unstated.is_some() || reading.open_outlines > 0).then_some(Asks {
            from,
            unstated,
            open_outlines: reading.open_outlines,
            is_settled,
        })
    }
}

/// Why a drawing is read again.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Why {
    /// Its file changed.
    Changed,
    /// Somebody said what its unit is.
    Unit,
    /// Its open outlines are to be carved.
    Lines,
}

/// A drawing that was read again.
pub(crate) struct Reread {
    before: Arc<Design>,
    from: Drawn,
    options: ReadOptions,
    why: Why,
    stamp: Option<Stamp>,
    /// The design, or what is wrong with it.
    read: Result<Reading, DesignError>,
    is_settled: bool,
}

/// The sizes a drawing may be meant in, ready to be drawn.
pub(crate) struct Candidates {
    design: Arc<Design>,
    rings: Vec<Vec<DVec2>>,
}

impl Bench {
    /// Reads a drawing again, in place of `before`.
    pub(crate) fn reread(
        &mut self,
        from: Drawn,
        before: Arc<Design>,
        options: ReadOptions,
        why: Why,
        is_settled: bool,
    ) {
        let about = from.name();
        self.start(Lane::Opening, Stage::Reading, about, move |_| {
            // The stamp first: what is written while the file is read is a change.
            let stamp = if let Drawn::File(path) = &from { Stamp::of(path) } else { None };
            let read = from.read(&options);
            Some(Done::Reread(Box::new(Reread { before, from, options, why, stamp, read, is_settled })))
        });
    }
}

impl App {
    /// What may be asked of the shown drawing.
    pub(crate) fn asks(&self) -> Option<&Asks> {
        of_design(self.documents.asks(), self.now.as_ref()?.job.design())
    }

    pub(crate) fn open_outlines(&self) -> usize {
        self.asks().map_or(0, |asks| asks.open_outlines)
    }

    pub(crate) fn is_size_unstated(&self) -> bool {
        self.asks().is_some_and(|asks| asks.unstated.is_some())
    }

    /// Reads the drawing again, as it changed on disk.
    pub(crate) fn reload_drawing(&mut self) {
        let Some(now) = &self.now else { return };
        let is_settled = self.asks().is_some_and(|asks| asks.is_settled);
        if let Some(drawing) = self.documents.drawing_of(now.job.design()) {
            let from = Drawn::File(drawing.path.clone());
            self.bench.reread(from, now.job.design().clone(), now.job.reading(), Why::Changed, is_settled);
        }
    }

    pub(crate) fn handle_reading(&mut self, command: &ElementCommand) {
        let Some(now) = &self.now else { return };
        let (design, reading) = (now.job.design().clone(), now.job.reading());
        let Some(asks) = self.asks().cloned() else { return };
        let (options, why) = match command {
            ElementCommand::ToggleReading | ElementCommand::KeepReading => {
                let is_settled = *command == ElementCommand::KeepReading || !asks.is_settled;
                self.documents.ask(design, Asks { is_settled, ..asks });
                return;
            }
            ElementCommand::ReadIn(unit) => {
                if asks.unstated.as_ref().is_some_and(|unstated| unstated.taken == *unit) {
                    self.documents.ask(design, Asks { is_settled: true, ..asks });
                    // The job says so from now on, should another program read it another way.
                    self.change_job("size of the drawing", |job| job.reading.unit = Some(*unit));
                    return;
                }
                // Undo brings this reading back, and not the question.
                self.documents.ask(design.clone(), Asks { is_settled: true, ..asks.clone() });
                (ReadOptions { unit: Some(*unit), ..reading }, Why::Unit)
            }
            _ => {
                let width = now.job.cutter().shape.width_at(now.job.depth()) / now.job.factor();
                (ReadOptions { open_as_strokes: Some(width), ..reading }, Why::Lines)
            }
        };
        self.bench.reread(asks.from, design, options, why, asks.is_settled || why == Why::Unit);
    }

    /// Takes in a drawing that was read again: every setting stays, elements keep their treatments by name.
    /// Where it cannot be read as it is now the next change is waited for.
    pub(crate) fn take_reread(&mut self, reread: Reread) {
        let Reread { before, from, options, why, stamp, read, is_settled } = reread;
        let drawing = match &from {
            Drawn::File(path) => Some(Drawing { path: path.clone(), stamp }),
            Drawn::Bytes { .. } => None,
        };
        let reading = match read {
            Ok(reading) => reading,
            Err(error) => {
                let is_changed = if why == Why::Changed { " changed on disk: it" } else { "" };
                self.warn(format!("{}{is_changed} {error}; the drawing is as it was", from.name()));
                if let Some(drawing) = drawing {
                    self.documents.follow(before, drawing);
                }
                return;
            }
        };
        let Some(now) = &mut self.now else { return };
        if !Arc::ptr_eq(now.job.design(), &before) {
            return;
        }
        let name = match &from {
            Drawn::File(path) => path.display().to_string(),
            Drawn::Bytes { name, .. } => name.clone(),
        };
        let outlines = crate::words::count(
            of_design(self.documents.asks(), &before).map_or(0, |asks| asks.open_outlines),
            "open outline is carved as a line",
            "open outlines are carved as lines",
        );
        let asks = Asks::of(from, &reading, is_settled);
        let design = Arc::new(reading.design);
        let mut job = now.job.with_design(design.clone());
        job.reading = options;
        let was_clean = self.clean.as_ref() == Some(&now.job);
        let unit = self.view.unit;
        let (step, words) = match why {
            Why::Changed => (
                "drawing",
                format!("{name} changed on disk and was read again; Undo brings back what it was"),
            ),
            Why::Unit => (
                "size of the drawing",
                format!("The drawing is {} as drawn", size_in_words(design.outline_box().size(), unit)),
            ),
            Why::Lines => {
                let width = options.open_as_strokes.unwrap_or_default() * job.factor();
                ("open outlines", format!("{outlines} {} wide; Undo takes it back", unit.show(width)))
            }
        };
        self.history.add_undo(now);
        *now = Step { job, name: step };
        self.history.add_undo(now);
        if was_clean && of_design(&self.saved_at, &before).is_none() {
            // A drawing with nothing set about it is as unsaved as it was.
            self.clean = Some(now.job.clone());
        }
        if let Some(path) = of_design(&self.saved_at, &before).cloned() {
            self.saved_at.push((design.clone(), path));
        }
        if let Some(drawing) = drawing {
            self.documents.follow(design.clone(), drawing);
        }
        if let Some(asks) = asks {
            self.documents.ask(design, asks);
        }
        self.view.drafts.clear();
        self.say(words);
    }

    /// Asks how large a drawing is whose file does not say; Escape keeps it as it was read.
    pub(crate) fn reading_ui(&mut self, ctx: &egui::Context, commands: &mut Vec<Command>) {
        if self.bench.busy(Lane::Opening) {
            return;
        }
        let Some(unstated) =
            self.asks().filter(|asks| !asks.is_settled).and_then(|asks| asks.unstated.clone())
        else {
            return;
        };
        let Some(now) = &self.now else { return };
        let design = now.job.design();
        let elements = &mut self.view.elements;
        let is_good = elements.candidates.as_ref().is_some_and(|drawn| Arc::ptr_eq(&drawn.design, design));
        if !is_good {
            /// A small picture needs no more.
            const MOST_POINTS: usize = 3_000;
            let all: Vec<usize> = (0..design.elements.len()).collect();
            let rings = thinned(design, &all, MOST_POINTS);
            elements.candidates = Some(Candidates { design: design.clone(), rings });
        }
        let Some(candidates) = &elements.candidates else { return };
        let board = now.job.board().area().size();
        let unit = self.view.unit;
        let modal = egui::Modal::new(egui::Id::unique("reading")).show(ctx, |ui| {
            ui.set_width(560.0);
            ui.heading("How large is this drawing?");
            form::words_ui(
                ui,
                format!(
                    "The file of {} does not state its size. Choose the one that is meant: each is shown on your board of {}",
                    design.name,
                    size_in_words(board, unit)
                ),
            );
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
                let keep = ui.button("Decide later").on_hover_text(
                    "It stays as it was read; Design, Size of the drawing… asks again",
                );
                if keep.clicked() {
                    ui.close();
                }
                let hint = "To be sure, state the page's size in millimetres or inches where you draw it";
                ui.label(RichText::new(hint).small().color(palette.faint));
            });
        });
        if form::is_closing(ctx, &modal)
            && !commands.iter().any(|command| matches!(command, Command::Element(ElementCommand::ReadIn(_))))
        {
            commands.push(ElementCommand::KeepReading.into());
        }
    }
}

/// `300 × 100 mm`.
fn size_in_words(size: DVec2, unit: LengthUnit) -> String {
    format!("{} × {}", unit.number(Mm::new(size.x)), unit.show(Mm::new(size.y)))
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
    let label = format!("{}: {size}", reading.unit.label());
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
        painter.text(picture.center(), Align2::CENTER_CENTER, "far beyond the board", font, palette.on_wood);
    }
    let extent = (reading.size * (scale * drawn / reading.size.x.max(f64::MIN_POSITIVE))).max_element();
    if extent < 6.0 {
        painter.circle_stroke(picture.center(), 9.0, Stroke::new(1.5, palette.accent));
    }
    let painter = ui.painter().with_clip_rect(rect);
    let at = |y: f32| pos2(rect.left() + 10.0, rect.bottom() - y);
    painter.text(at(36.0), Align2::LEFT_CENTER, &size, FontId::proportional(15.0), palette.ink);
    let larger = if reading.size.x.max(reading.size.y) > board.x.max(board.y) {
        ", larger than the board"
    } else {
        ""
    };
    let taken = if is_taken { ", as it was read" } else { "" };
    let words = format!("{}{taken}{larger}", reading.unit.label());
    painter.text(at(16.0), Align2::LEFT_CENTER, words, FontId::proportional(12.0), palette.faint);
    response.on_hover_cursor(egui::CursorIcon::PointingHand).clicked()
}

/// What can be done about what the reader noticed, one click each.
pub(crate) fn offers_ui(
    ui: &mut egui::Ui,
    shown: &Proofed,
    [open_outlines, is_unstated]: [usize; 2],
    commands: &mut Vec<Command>,
) {
    let specks = shown.specks;
    let offers = [
        (
            open_outlines,
            ElementCommand::CarveAsLines,
            crate::words::count(open_outlines, "open outline", "open outlines"),
        ),
        (specks, ElementCommand::Clean, crate::words::count(specks, "speck", "specks")),
        (is_unstated, ElementCommand::ToggleReading, String::new()),
    ];
    if offers.iter().all(|(number, ..)| *number == 0) {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(4.0, 2.0);
        for (number, command, of) in offers {
            if number == 0 {
                continue;
            }
            let words = match &command {
                ElementCommand::CarveAsLines => format!("Carve {of} as lines"),
                ElementCommand::Clean => format!("Clean {of} away"),
                other => other.label().to_owned(),
            };
            if ui.small_button(words).on_hover_text(command.tooltip()).clicked() {
                commands.push(command.into());
            }
        }
    });
}
