//! A folder of drawings, proofed one after the other, as a table with pictures in a small window.

use crate::advice::Means;
use crate::app::commands::command::Command;
use crate::app::commands::folder::FolderCommand;
use crate::app::documents::opening::job_of_file;
use crate::app::widgets::form::words_ui;
use crate::app::widgets::image::color_image;
use crate::app::widgets::look::{Palette, severity_ui};
use crate::app::widgets::window::window_ui;
use crate::app::work::{Bring, Lane, Stage, Workers};
use crate::file_name::name_of;
use crate::job::Job;
use crate::sheet::folder::{FileRow, ProofedFile, counted, files_of};
use crate::sheet::picture::Theme;
use crate::shop::{RackBoard, Shop};
use crate::units::LengthUnit;
use crate::words;
use crate::words::window::folder as said;
use egui::text::LayoutJob;
use egui::{
    Align, Button, Checkbox, ColorImage, Image, Label, Layout, RichText, ScrollArea, TextFormat,
    TextureHandle, TextureOptions, vec2,
};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// More files are not proofed here: their pictures stay in memory. A round value of our own.
const MOST_FILES: usize = 300;
/// How wide the window is, and how tall its table, in points: both fit beside the cards at the smallest window.
const WIDTH: f32 = 700.0;
const HEIGHT: f32 = 420.0;
/// Room for what stands above the table, in points.
const ABOVE: f32 = 110.0;
/// How tall a row is, and how large its picture may be, in points.
const ROW: f32 = 92.0;
const PICTURE: [f32; 2] = [172.0, 76.0];
/// The same in pixels, two to a point, so that pictures are sharp on fine screens too.
const PIXELS: [u32; 2] = [344, 152];
/// How wide the sizes and times are.
const FACTS: f32 = 168.0;

/// What the drawings are proofed with.
#[derive(Clone)]
pub(crate) struct Setup {
    /// The job whose board and cutter they get.
    pub(crate) job: Option<Arc<Job>>,
    pub(crate) shop: Arc<Shop>,
    pub(crate) boards: Arc<[RackBoard]>,
    pub(crate) unit: LengthUnit,
}

/// A folder that is looked at, if any is.
#[derive(Default)]
pub(crate) struct FolderView {
    shown: Option<Shown>,
}

struct Shown {
    folder: PathBuf,
    setup: Setup,
    /// What lies in it, once it was read, or why it could not be.
    files: Option<Result<Vec<PathBuf>, String>>,
    /// The first of these, proofed.
    rows: Vec<Row>,
    worst_first: bool,
}

struct Row {
    row: FileRow,
    picture: Option<TextureHandle>,
}

/// What a worker brings of a folder.
pub(crate) enum FolderPart {
    /// What lies in it, or why it cannot be read.
    Files(Result<Vec<PathBuf>, String>),
    /// The next file, and its picture.
    File(Box<FileRow>, Option<ColorImage>),
}

impl FolderView {
    /// Proofs a folder from the start.
    pub(crate) fn show(&mut self, folder: PathBuf, setup: Setup) {
        let worst_first = self.shown.as_ref().is_some_and(|shown| shown.worst_first);
        self.shown = Some(Shown { folder, setup, files: None, rows: Vec::new(), worst_first });
    }

    /// Takes in what the worker brought.
    pub(crate) fn take(&mut self, ctx: &egui::Context, part: FolderPart) {
        let Some(shown) = &mut self.shown else { return };
        match part {
            FolderPart::Files(files) => shown.files = Some(files),
            FolderPart::File(row, image) => {
                let picture = image.map(|image| ctx.load_texture(&row.file, image, TextureOptions::LINEAR));
                shown.rows.push(Row { row: *row, picture });
            }
        }
    }

    /// A run broke off through a fault of ours: it goes on with the next file.
    pub(crate) fn give_up(&mut self) {
        let Some(shown) = &mut self.shown else { return };
        match shown.next() {
            None => self.shown = None,
            Some(path) => {
                let row = FileRow::not_read(&path, said::BROKE_OFF.to_owned());
                shown.rows.push(Row { row, picture: None });
            }
        }
    }

    /// The folder's name and its rows so far; `None` where there are none.
    pub(crate) fn table(&self) -> Option<(String, Vec<FileRow>)> {
        let shown = self.shown.as_ref().filter(|shown| !shown.rows.is_empty())?;
        Some((shown.name(), shown.rows.iter().map(|row| row.row.clone()).collect()))
    }

    /// Reads the folder, then proofs its files one after the other. What would help is worded in a unit: where another
    /// is chosen, it begins anew.
    pub(crate) fn start_needed_work<D: Bring<FolderPart>>(
        &mut self,
        workers: &mut Workers<D>,
        unit: LengthUnit,
    ) {
        let Some(shown) = &mut self.shown else {
            workers.cancel(Lane::Folder);
            return;
        };
        if shown.setup.unit != unit {
            workers.cancel(Lane::Folder);
            shown.setup.unit = unit;
            shown.rows.clear();
        }
        if workers.busy(Lane::Folder) {
            return;
        }
        let about = shown.name();
        if shown.files.is_none() {
            let folder = shown.folder.clone();
            workers.start(Lane::Folder, Stage::Reading, about, move |_| {
                let files = files_of(&folder).map_err(|error| words::errors::disk(&error));
                Some(FolderPart::Files(files).into())
            });
        } else if let Some(path) = shown.next() {
            let Setup { job, shop, boards, unit } = shown.setup.clone();
            workers.start(Lane::Folder, Stage::Reading, about, move |progress| {
                let read = job_of_file(&path, job.as_ref(), &shop, unit);
                let row = FileRow::of(&path, read, &Means::of(&shop, &boards), unit, progress.unwanted())?;
                let proofed = row.proofed.as_ref().ok();
                let picture = proofed.map(|proofed| color_image(&proofed.picture(PIXELS, Theme::Light)));
                Some(FolderPart::File(Box::new(row), picture).into())
            });
        }
    }
}

impl Shown {
    fn name(&self) -> String {
        name_of(&self.folder)
    }

    /// The files that are proofed.
    fn files(&self) -> &[PathBuf] {
        let files = self.files.as_ref().and_then(|files| files.as_deref().ok()).unwrap_or_default();
        &files[..files.len().min(MOST_FILES)]
    }

    /// The file that comes next.
    fn next(&self) -> Option<PathBuf> {
        self.files().get(self.rows.len()).cloned()
    }

    /// Places of rows in the order they are shown in.
    fn order(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.rows.len()).collect();
        if self.worst_first {
            // Stable, so that those alike stay by their names. What could not be read comes last.
            order.sort_by_key(|&at| std::cmp::Reverse(self.rows[at].row.severity()));
        }
        order
    }
}

/// The window, where a folder is looked at.
pub(crate) fn folder_ui(
    ctx: &egui::Context,
    view: &mut FolderView,
    beside: egui::Pos2,
    commands: &mut Vec<Command>,
) {
    let Some(shown) = &mut view.shown else { return };
    let mut open = true;
    let window =
        egui::Window::new(said::title(&shown.name())).id(egui::Id::unique("folder")).resizable(false);
    // Large text leaves less room than that.
    let room = ctx.content_rect().size() - vec2(32.0, 190.0);
    let (width, height) = (WIDTH.min(room.x), HEIGHT.min(room.y).max(ROW));
    window_ui(ctx, window.default_pos(beside).default_height(height + ABOVE), &mut open, |ui| {
        ui.set_width(width);
        head_ui(ui, shown, commands);
        ui.separator();
        let order = shown.order();
        ScrollArea::vertical().max_height(height).auto_shrink([false, true]).show_rows(
            ui,
            ROW,
            order.len(),
            |ui, places| {
                for place in places {
                    let at = order[place];
                    row_ui(ui, &shown.rows[at], &shown.files()[at], shown.setup.unit, commands);
                }
            },
        );
    });
    if !open {
        view.shown = None;
    }
}

/// What the drawings lie on, how far it is and what came of it.
fn head_ui(ui: &mut egui::Ui, shown: &mut Shown, commands: &mut Vec<Command>) {
    let palette = Palette::of(ui.ctx());
    let on = shown.setup.job.as_ref().map(|job| (job.wood().name.as_str(), job.cutter().name.as_str()));
    words_ui(ui, RichText::new(said::lie_on(on)).small().color(palette.faint));
    let (done, of) = (shown.rows.len(), shown.files().len());
    let state = match &shown.files {
        None => said::READING.to_owned(),
        Some(Err(why)) => why.clone(),
        Some(Ok(_)) if of == 0 => said::NOTHING_TO_PROOF.to_owned(),
        Some(Ok(_)) if done < of => said::proofing(done, of),
        Some(Ok(files)) => {
            let rows: Vec<&FileRow> = shown.rows.iter().map(|row| &row.row).collect();
            let mut told = counted(&rows);
            if files.len() > of {
                told = format!("{told} {}.", said::left_out(files.len() - of));
            }
            told
        }
    };
    words_ui(ui, RichText::new(state).strong());
    ui.horizontal(|ui| {
        ui.add(Checkbox::new(&mut shown.worst_first, said::WORST_FIRST)).on_hover_text(said::WORST_FIRST_TIP);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let table = Command::from(FolderCommand::AskTable);
            let button = ui.add_enabled(done > 0 && done == of, Button::new(table.label()));
            if button.on_hover_text(table.tooltip()).clicked() {
                commands.push(table);
            }
            if ui.button(said::PROOF_AGAIN).on_hover_text(said::PROOF_AGAIN_TIP).clicked() {
                commands.push(FolderCommand::Proof(shown.folder.clone()).into());
            }
        });
    });
}

fn row_ui(ui: &mut egui::Ui, row: &Row, path: &Path, unit: LengthUnit, commands: &mut Vec<Command>) {
    let file = &row.row.file;
    // The bar that scrolls the rows stands beside them.
    let size = vec2(ui.available_width() - 12.0, ROW);
    ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| {
        ui.set_min_size(size);
        let foot = ui.min_rect().bottom();
        let line = egui::Stroke::new(1.0, Palette::of(ui.ctx()).line);
        ui.painter().hline(ui.min_rect().x_range(), foot, line);
        let (place, _) = ui.allocate_exact_size(PICTURE.into(), egui::Sense::hover());
        if let Some(picture) = &row.picture {
            let size = picture.size_vec2() * (PICTURE[0] / PIXELS[0] as f32);
            let at = egui::Rect::from_center_size(place.center(), size);
            ui.put(at, Image::new((picture.id(), size)).alt_text(said::picture_of(file)));
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let open = ui.add_enabled(row.row.proofed.is_ok(), Button::new(said::OPEN).small());
            if open.accessible_name(said::open(file)).clicked() {
                commands.push(Command::Open(path.to_owned()));
            }
            if let Ok(proofed) = &row.row.proofed {
                ui.allocate_ui_with_layout(vec2(FACTS, ROW), Layout::top_down(Align::Min), |ui| {
                    facts_ui(ui, proofed, unit);
                });
            }
            ui.with_layout(Layout::top_down(Align::Min), |ui| told_ui(ui, &row.row, unit));
        });
    });
}

/// Size, thinnest wall and time, a line each.
fn facts_ui(ui: &mut egui::Ui, proofed: &ProofedFile, unit: LengthUnit) {
    let ProofedFile { proof, wall, minutes, .. } = proofed;
    ui.set_width(FACTS);
    let palette = Palette::of(ui.ctx());
    ui.add_space(8.0);
    ui.add(Label::new(words::sizes::measures([proof.length, proof.width], unit)).truncate());
    for words in
        [said::wall(&words::compare::wall(*wall, unit)), said::time(&words::sizes::minutes(*minutes))]
    {
        let small = RichText::new(&words).small().color(palette.faint);
        ui.add(Label::new(small).truncate()).on_hover_text(words);
    }
}

/// A file's name, its verdict and what would help.
fn told_ui(ui: &mut egui::Ui, row: &FileRow, unit: LengthUnit) {
    let palette = Palette::of(ui.ctx());
    ui.add_space(2.0);
    ui.horizontal(|ui| {
        if let Some(severity) = row.severity() {
            severity_ui(ui, 5.0, severity);
        }
        ui.add(Label::new(RichText::new(&row.file).strong()).truncate());
    });
    match &row.proofed {
        Ok(ProofedFile { proof, would_help, .. }) => {
            let verdict = words::verdict::sentence(&proof.verdict, unit);
            lines_ui(ui, &verdict, 2, palette.ink);
            if let Some(would_help) = would_help {
                lines_ui(ui, would_help, 2, palette.faint);
            }
        }
        Err(why) => lines_ui(ui, &words::sheets::folder::not_read(why), 3, palette.wrong),
    }
}

/// A sentence on so many lines at most; the whole of it where the pointer rests.
fn lines_ui(ui: &mut egui::Ui, words: &str, most: usize, color: egui::Color32) {
    let font = egui::TextStyle::Small.resolve(ui.style());
    let mut job = LayoutJob::single_section(words.to_owned(), TextFormat::simple(font, color));
    job.wrap.max_width = ui.available_width();
    job.wrap.max_rows = most;
    ui.add(Label::new(job)).on_hover_text(words);
}
