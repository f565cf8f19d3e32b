//! One design at several sizes, on drawn boards to a common scale, with what each needs, loses and costs.

pub(crate) mod customer;
pub(crate) mod prices;

use crate::advice::{Offer, at_sizes};
use crate::app::commands::command::Command;
use crate::app::commands::export::Export;
use crate::app::widgets::form::{Entry, entry_ui, heading_ui, words_ui};
use crate::app::widgets::image::color_image;
use crate::app::widgets::look::{Palette, severity_ui};
use crate::app::work::Bring;
use crate::app::work::papers::{Counter, Papers};
use crate::app::work::proofed::Proofed;
use crate::app::work::scene::Scene;
use crate::app::work::{Lane, Stage, Workers};
use crate::job::{Edit, Job, Reach, Size};
use crate::proof::sizes::{MOST_SIZES, NamedSize, SizeName, SizeRow, drawn, parse_sizes, sizes};
use crate::sheet;
use crate::sheet::pdf::{Paper, Quote};
use crate::sheet::picture::{self, Picture};
use crate::shop::{Prices, Shop};
use crate::units::{LengthUnit, Mm};
use crate::words;
use crate::words::window::sizes as said;
use egui::{Button, ColorImage, Label, Rect, RichText, ScrollArea, Sense, TextEdit, TextureHandle, vec2};
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// A size as it is picked: its name, and itself as it was typed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct PickedSize {
    name: String,
    text: String,
    /// `None` where what is typed is no size.
    size: Option<Size>,
}

/// What the sizes are worked out from.
#[derive(Clone, PartialEq)]
struct Question {
    job: Arc<Job>,
    wanted: Vec<NamedSize>,
    prices: Prices,
    unit: LengthUnit,
    theme: egui::Theme,
}

/// What came of it.
pub(crate) struct Sized {
    question: Question,
    /// The rows with a picture of each, or what is wrong.
    rows: Result<(Vec<SizeRow>, Vec<ColorImage>), String>,
}

/// Something about each of these rows that takes longer than they do.
pub(crate) struct Surfaced {
    rows: Arc<Vec<SizeRow>>,
    about: About,
}

/// What of the rows it is.
enum About {
    /// Their carved boards.
    Surfaces(Vec<Option<Picture>>),
    /// What would help at each.
    Offers(Vec<Option<Offer>>),
}

/// The last rows, and their pictures.
pub(crate) struct Shown {
    question: Question,
    rows: Arc<Vec<SizeRow>>,
    pictures: Vec<TextureHandle>,
    /// The carved boards, once they are there.
    surfaces: Option<Arc<Vec<Option<Picture>>>>,
    /// The same on the screen.
    carved: Vec<Option<TextureHandle>>,
    /// What would help at each, once it was tried out.
    offers: Option<Vec<Option<Offer>>>,
}

/// The state of the sizes.
#[derive(Default)]
pub(crate) struct SizesView {
    adding: String,
    shown: Option<Shown>,
    /// What was wrong with a question.
    trouble: Option<(Question, String)>,
}

/// Pixels along the longest board of the pictures.
const LONGEST_PICTURE: f64 = 480.0;

/// The sizes that are on offer before any is picked.
pub(crate) fn first_sizes() -> Vec<PickedSize> {
    ["drawn", "fit"].into_iter().filter_map(|text| read(text, LengthUnit::Millimetres).ok()).collect()
}

/// The picked sizes that are sizes, with their names.
pub(crate) fn wanted(picked: &[PickedSize]) -> Vec<NamedSize> {
    let named = |picked: &PickedSize| {
        let name = if picked.name.trim().is_empty() { &picked.text } else { &picked.name };
        Some(NamedSize { name: SizeName::Given(name.trim().to_owned()), size: picked.size? })
    };
    picked.iter().filter_map(named).collect()
}

impl SizesView {
    /// The rows of a job as it is now; `None` where they are still worked out.
    pub(crate) fn current_rows(
        &self,
        picked: &[PickedSize],
        job: &Job,
        prices: &Prices,
        unit: LengthUnit,
    ) -> Option<Arc<Vec<SizeRow>>> {
        let shown = self.shown.as_ref()?;
        let Question { job: of, wanted: wanted_then, prices: by, unit: read_in, theme: _ } = &shown.question;
        let same = Reach::between(of, job).keeps_all_but_size()
            && *wanted_then == wanted(picked)
            && by == prices
            && *read_in == unit;
        same.then(|| shown.rows.clone())
    }

    /// The last sizes, if they are of the job as it is now.
    pub(crate) fn current(
        &self,
        picked: &[PickedSize],
        job: &Job,
        prices: &Prices,
        unit: LengthUnit,
    ) -> Option<&Shown> {
        self.current_rows(picked, job, prices, unit).and(self.shown.as_ref())
    }

    /// The carved boards of the last rows, where they are there.
    pub(crate) fn surfaces(&self) -> Option<Arc<Vec<Option<Picture>>>> {
        self.shown.as_ref()?.surfaces.clone()
    }

    /// Takes in what the worker brought.
    pub(crate) fn take(&mut self, ctx: &egui::Context, sized: Sized) {
        match sized.rows {
            Err(reason) => self.trouble = Some((sized.question, reason)),
            Ok((rows, images)) => {
                let options = egui::TextureOptions::LINEAR;
                let pictures =
                    images.into_iter().map(|image| ctx.load_texture("size", image, options)).collect();
                self.trouble = None;
                self.shown = Some(Shown {
                    question: sized.question,
                    rows: Arc::new(rows),
                    pictures,
                    surfaces: None,
                    carved: Vec::new(),
                    offers: None,
                });
            }
        }
    }

    /// Tries no more to carve the boards of the last rows; nor, where they are there, what would help.
    pub(crate) fn go_without(&mut self) {
        let Some(shown) = &mut self.shown else { return };
        if shown.surfaces.is_none() {
            shown.surfaces = Some(Arc::default());
        } else {
            shown.offers = Some(Vec::new());
        }
    }

    /// Takes in what was worked out about the rows, if they are still those.
    pub(crate) fn take_surfaced(&mut self, ctx: &egui::Context, surfaced: Surfaced) {
        let Some(shown) = &mut self.shown else { return };
        if !Arc::ptr_eq(&shown.rows, &surfaced.rows) {
            return;
        }
        let load = |picture: &Option<Picture>| {
            let image = color_image(picture.as_ref()?);
            Some(ctx.load_texture(said::CARVED_SIZE, image, egui::TextureOptions::LINEAR))
        };
        match surfaced.about {
            About::Surfaces(surfaces) => {
                shown.carved = surfaces.iter().map(load).collect();
                shown.surfaces = Some(Arc::new(surfaces));
            }
            About::Offers(offers) => shown.offers = Some(offers),
        }
    }

    /// Works the sizes out where something they depend on changed.
    pub(crate) fn start_needed_work<D: Bring<Sized> + Bring<Surfaced>>(
        &mut self,
        workers: &mut Workers<D>,
        picked: &[PickedSize],
        shown: &Proofed,
        shop: &Shop,
        unit: LengthUnit,
        theme: egui::Theme,
    ) {
        let prices = shop.prices.clone();
        let question = Question { job: shown.job.clone(), wanted: wanted(picked), prices, unit, theme };
        let answered = self.shown.as_ref().is_some_and(|shown| shown.question == question)
            || self.trouble.as_ref().is_some_and(|(of, _)| *of == question);
        if !answered {
            workers.cancel(Lane::Surfacing);
            size_up(workers, shown, question);
        } else if let Some(last) = &self.shown
            && !workers.busy(Lane::Surfacing)
        {
            // Pictures first: what would help takes longer, and a customer waits for them.
            if last.surfaces.is_none() {
                carve_sizes(workers, shown, last.rows.clone());
            } else if last.offers.is_none() {
                advise_on_sizes(workers, shown, last.rows.clone(), shop.clone());
            }
        }
    }
}

/// Reads one size. A bare length is written out in the unit it was read in.
fn read(text: &str, unit: LengthUnit) -> Result<PickedSize, String> {
    let sizes = parse_sizes(text, unit).map_err(|error| error.to_string())?;
    let [NamedSize { name, size }] =
        <[NamedSize; 1]>::try_from(sizes).map_err(|_several| said::TYPE_ONE_SIZE_AT_A_TIME_FOR.to_owned())?;
    let typed = text.rsplit_once('=').map_or(text, |(_, size)| size).trim();
    let bare = matches!(size, Size::Length(_))
        && !typed.contains(|c: char| c.is_alphabetic() || c == '"' || c == '\'');
    let text = if bare { format!("{typed} {}", unit.symbol()) } else { typed.to_owned() };
    let name = words::sizes::name(&name);
    let name = if name.trim() == typed { text.clone() } else { name.to_owned() };
    Ok(PickedSize { name, text, size: Some(size) })
}

/// Works the rows out.
fn size_up<D: Bring<Sized>>(workers: &mut Workers<D>, proofed: &Proofed, question: Question) {
    let (measured, ratings) = (proofed.measured.clone(), proofed.ratings.clone());
    let paths = proofed.paths.clone();
    let about = question.job.design().name.clone();
    workers.start(Lane::Sizing, Stage::Sizing, about, move |_| {
        let Question { job, wanted, prices, unit, theme } = &question;
        let time = |job: &Job| sheet::minutes(job, &measured);
        let rows = sizes(job, &measured, &ratings, wanted, prices, &time);
        let rows = rows.map_err(|error| error.to_string()).map(|rows| {
            let scale = LONGEST_PICTURE / longest(&rows).get();
            // A board that is not drawn may be larger than any screen.
            let scale_of = |row: &SizeRow| scale.min(LONGEST_PICTURE / row.job.board().length.get());
            let image = |row: &SizeRow| picture_of(row, &paths, scale_of(row), *theme, *unit);
            let images = rows.iter().map(image).collect();
            (rows, images)
        });
        Some(Sized { question, rows }.into())
    });
}

/// Carves the boards of these rows.
fn carve_sizes<D: Bring<Surfaced>>(workers: &mut Workers<D>, proofed: &Proofed, rows: Arc<Vec<SizeRow>>) {
    let measured = proofed.measured.clone();
    let about = proofed.job.design().name.clone();
    workers.start(Lane::Surfacing, Stage::Sizing, about, move |progress| {
        let surfaces = sheet::surfaces(&rows, &measured, progress.unwanted())?;
        Some(Surfaced { rows, about: About::Surfaces(surfaces) }.into())
    });
}

/// Tries out what would help at each of these sizes.
fn advise_on_sizes<D: Bring<Surfaced>>(
    workers: &mut Workers<D>,
    proofed: &Proofed,
    rows: Arc<Vec<SizeRow>>,
    shop: Shop,
) {
    let now = proofed.tried();
    let about = proofed.job.design().name.clone();
    workers.start(Lane::Surfacing, Stage::Advising, about, move |progress| {
        let offers = at_sizes(&now, &rows, &shop, progress.unwanted())?;
        Some(Surfaced { rows, about: About::Offers(offers) }.into())
    });
}

/// The longest board that is drawn.
fn longest(rows: &[SizeRow]) -> Mm {
    let all = rows.iter().zip(drawn(rows)).filter(|(_, drawn)| *drawn);
    all.map(|(row, _)| row.job.board().length).fold(Mm::new(1.0), Mm::max)
}

/// A row's board at so many pixels a millimetre.
fn picture_of(
    row: &SizeRow,
    paths: &picture::DesignPaths,
    scale: f64,
    theme: egui::Theme,
    unit: LengthUnit,
) -> ColorImage {
    #[expect(clippy::cast_sign_loss, reason = "a board has no negative side")]
    let pixels = |side: Mm| (side.get() * scale).round().max(1.0) as u32;
    let size = [pixels(row.job.board().length), pixels(row.job.board().width)];
    let theme = match theme {
        egui::Theme::Light => picture::Theme::Light,
        egui::Theme::Dark => picture::Theme::Dark,
    };
    let view = picture::View { theme, unit, ..picture::View::of_board(row.job.board(), size, 0.0) };
    // No numbered marks: they would hide a small design, and the row says what they would.
    color_image(&picture::design_on_board(&row.job, paths, &row.proof, &view))
}

/// The sizes, in the middle of the window.
pub(crate) fn sizes_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    view: &mut SizesView,
    picked: &mut Vec<PickedSize>,
    (papers, counter): (&mut Papers, &mut Counter),
    commands: &mut Vec<Command>,
) {
    let Scene { shown, shop, unit, .. } = *scene;
    let palette = Palette::of(ui.ctx());
    let back = |x, y| egui::Frame::new().fill(palette.panel).inner_margin(egui::Margin::symmetric(x, y));
    egui::Panel::left("sizes picked").frame(back(10, 6)).resizable(false).exact_size(250.0).show(ui, |ui| {
        let above = (ui.available_height() - SAVED).max(SAVED);
        ScrollArea::vertical().auto_shrink(false).max_height(above).show(ui, |ui| {
            ui.set_max_width(230.0);
            picked_ui(ui, picked, &mut view.adding, unit);
            paper_ui(ui, papers, unit, commands);
            offer_ui(ui, &mut papers.offer);
            counter_ui(ui, counter);
        });
        let ready = view.current_rows(picked, &shown.job, &shop.prices, unit).is_some();
        save_ui(ui, ready, commands);
    });
    egui::CentralPanel::default()
        .frame(back(10, 6))
        .show(ui, |ui| rows_ui(ui, scene, view, picked, commands));
}

fn picked_ui(ui: &mut egui::Ui, all: &mut Vec<PickedSize>, adding: &mut String, unit: LengthUnit) {
    heading_ui(ui, said::SIZES_TO_CHOOSE_FROM);
    add_ui(ui, all, adding, unit);
    // The list has its room, however many there are: what is below must not move under the pointer.
    let room = ScrollArea::vertical().id_salt("sizes picked").max_height(LIST).min_scrolled_height(LIST);
    room.auto_shrink(false).show(ui, |ui| list_ui(ui, all, unit));
}

/// How tall the buttons are that save what is above them, in points: they stay in sight. A round value of our own.
const SAVED: f32 = 130.0;

/// How tall the list of sizes is, in points: five of them, and more by scrolling. A round value of our own.
const LIST: f32 = 132.0;

fn list_ui(ui: &mut egui::Ui, all: &mut Vec<PickedSize>, unit: LengthUnit) {
    let palette = Palette::of(ui.ctx());
    let mut remove = None;
    for (index, picked) in all.iter_mut().enumerate() {
        let number = index + 1;
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = 4.0;
            let name = TextEdit::singleline(&mut picked.name).desired_width(104.0);
            ui.add(name).accessible_name(said::name_of_size(number));
            let mut field = TextEdit::singleline(&mut picked.text).desired_width(72.0);
            if picked.size.is_none() {
                field = field.text_color(palette.wrong);
            }
            let field = ui.add(field).accessible_name(said::size_number(number));
            if field.changed() {
                picked.size = read(&picked.text, unit).ok().and_then(|read| read.size);
            }
            if field.lost_focus()
                && let Ok(read) = read(&picked.text, unit)
            {
                picked.text = read.text;
            }
            let away = ui.small_button("×").on_hover_text(said::TAKE_THIS_SIZE_OFF_THE_LIST);
            if away.accessible_name(said::remove_size(number)).clicked() {
                remove = Some(index);
            }
        });
        if picked.size.is_none() {
            let why = read(&picked.text, unit).err().unwrap_or_default();
            words_ui(ui, RichText::new(why).small().color(palette.wrong));
        }
    }
    if let Some(index) = remove {
        all.remove(index);
    }
}

/// The field for another size. Why it is none takes the place of what may be typed, so that nothing moves.
fn add_ui(ui: &mut egui::Ui, all: &mut Vec<PickedSize>, adding: &mut String, unit: LengthUnit) {
    let palette = Palette::of(ui.ctx());
    let added = read(adding, unit);
    let wrong = added.as_ref().err().filter(|_| !adding.trim().is_empty()).map(String::as_str);
    let (words, ink) =
        wrong.map_or((said::ADD_8IN_10IN_WIDE_150_SMALL_8IN, palette.faint), |why| (why, palette.wrong));
    let words = Label::new(RichText::new(words).small().color(ink)).truncate();
    ui.add(words);
    let field = TextEdit::singleline(adding).desired_width(f32::INFINITY);
    let entered = ui.add(field).accessible_name(said::SIZE_TO_ADD);
    let room = all.len() < MOST_SIZES;
    let pressed = ui.add_enabled(room && added.is_ok(), Button::new(said::ADD_SIZE)).clicked();
    let entered = entered.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
    if room
        && (pressed || entered)
        && let Ok(added) = added
    {
        all.push(added);
        adding.clear();
    }
}

fn paper_ui(ui: &mut egui::Ui, papers: &mut Papers, unit: LengthUnit, commands: &mut Vec<Command>) {
    let palette = Palette::of(ui.ctx());
    ui.separator();
    heading_ui(ui, said::ON_PAPER);
    entry_ui(
        ui,
        &mut papers.shop_name,
        &Entry { name: said::SHOP_NAME, caption: said::NAME_OF_THE_SHOP, wrong: None },
    );
    ui.label(RichText::new(said::NOTE_TO_THE_CUSTOMER).small().color(palette.faint));
    let words = TextEdit::multiline(&mut papers.customer_text).desired_rows(2).desired_width(f32::INFINITY);
    ui.add(words).accessible_name(said::NOTE_TO_THE_CUSTOMER);
    ui.label(RichText::new(said::THE_SHOPS_MARK).small().color(palette.faint));
    ui.horizontal(|ui| {
        if ui.button(Command::AskMark.label()).on_hover_text(Command::AskMark.tooltip()).clicked() {
            commands.push(Command::AskMark);
        }
        if papers.mark.is_some() && ui.button(Command::UseMark(None).label()).clicked() {
            commands.push(Command::UseMark(None));
        }
    });
    if let Some(name) = papers.mark.as_ref().and_then(|mark| mark.file_name()) {
        ui.add(Label::new(RichText::new(name.to_string_lossy()).small().color(palette.faint)).truncate());
    }
    ui.horizontal(|ui| {
        for paper in Paper::ALL {
            if ui.radio(papers.paper(unit) == paper, paper.label()).clicked() {
                papers.chosen_paper = Some(paper);
            }
        }
    });
}

/// What the offer says of this customer. The dates are written as they stand here.
fn offer_ui(ui: &mut egui::Ui, offer: &mut Quote) {
    for (value, name) in [
        (&mut offer.customer, said::CUSTOMERS_NAME),
        (&mut offer.date, said::DATE_OF_THE_OFFER),
        (&mut offer.valid_until, said::VALID_UNTIL),
    ] {
        entry_ui(ui, value, &Entry { name, caption: name, wrong: None });
    }
    ui.checkbox(&mut offer.with_findings, said::PRINT_WHAT_WAS_FOUND)
        .on_hover_text(said::PRINT_WHAT_WAS_FOUND_TIP);
}

/// What a customer is shown beside the pictures.
fn counter_ui(ui: &mut egui::Ui, counter: &mut Counter) {
    ui.separator();
    heading_ui(ui, said::ACROSS_THE_COUNTER);
    let mut prices = !counter.hides_prices;
    ui.checkbox(&mut prices, said::SHOW_PRICES);
    counter.hides_prices = !prices;
    ui.checkbox(&mut counter.shows_unsound, said::SHOW_SIZES_THAT_CANNOT_BE_HAD);
    ui.checkbox(&mut counter.shows_hand, said::SHOW_A_HAND_FOR_SCALE);
}

fn save_ui(ui: &mut egui::Ui, ready: bool, commands: &mut Vec<Command>) {
    ui.add_space(4.0);
    ui.horizontal_wrapped(|ui| {
        for what in [Export::SizeSheet, Export::PriceSheet, Export::Sizes] {
            let button =
                ui.add_enabled(ready, Button::new(what.caption().label)).on_hover_text(what.caption().tip);
            if button.clicked() {
                commands.push(Command::AskExport(what));
            }
        }
    });
    let prices = ui.button(Command::TogglePrices.label()).on_hover_text(Command::TogglePrices.tooltip());
    if prices.clicked() {
        commands.push(Command::TogglePrices);
    }
}

/// How wide the button that takes a size is, in points.
const USE_IT: f32 = 92.0;

/// The columns beside the drawing, and how much of the room each takes.
const COLUMNS: [(&str, f32); 8] = [
    (said::NAME, 0.13),
    (said::FINISHED_SIZE, 0.14),
    (said::BOARD_TO_BUY, 0.16),
    (said::THINNEST_WALL, 0.08),
    (said::WHAT_IS_LOST, 0.14),
    (said::TIME, 0.08),
    (said::PRICE, 0.09),
    (said::VERDICT, 0.18),
];

/// How wide each column is where there is so much room for all of them.
fn column_widths(room: f32) -> [f32; 8] {
    // The first holds a button, whose words are not cut; the others make room for it.
    let first = (room * COLUMNS[0].1).max(USE_IT);
    let others = (room - first) / (1.0 - COLUMNS[0].1);
    let mut widths = COLUMNS.map(|(_, share)| (others * share).max(40.0));
    widths[0] = first;
    widths
}

fn rows_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    view: &SizesView,
    picked: &[PickedSize],
    commands: &mut Vec<Command>,
) {
    let Scene { shown, shop, unit, .. } = *scene;
    let palette = Palette::of(ui.ctx());
    let now = view.current_rows(picked, &shown.job, &shop.prices, unit).is_some();
    let words = if now { said::THE_BOARDS_ARE_DRAWN_TO_ONE_SCALE } else { said::WORKING_OUT_THE_SIZES };
    ui.horizontal(|ui| {
        ui.label(RichText::new(said::SIZES).heading());
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let show = ui.button(said::SHOW_TO_THE_CUSTOMER).on_hover_text(said::SHOW_TO_THE_CUSTOMER_TIP);
            if show.clicked() {
                commands.push(Command::FullScreen);
            }
            ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                ui.add(Label::new(RichText::new(words).small().color(palette.faint)).truncate());
            });
        });
    });
    if shop.prices.are_examples() {
        let words = said::PRICES_ARE_EXAMPLES_UNTIL_YOU_SET_YOUR;
        words_ui(ui, RichText::new(words).small().color(palette.wrong));
    }
    if let Some((_, reason)) = &view.trouble {
        words_ui(ui, RichText::new(reason).color(palette.wrong));
    }
    let Some(answer) = &view.shown else { return };
    ScrollArea::horizontal().auto_shrink(false).show(ui, |ui| {
        ui.set_width(ui.available_width().max(LEAST_TABLE));
        table_ui(ui, answer, shop, commands);
    });
}

/// Narrower than this, in points, the table's words would be broken within themselves: it is scrolled instead.
const LEAST_TABLE: f32 = 640.0;

/// A card for each size, under the titles of its columns.
fn table_ui(ui: &mut egui::Ui, answer: &Shown, shop: &Shop, commands: &mut Vec<Command>) {
    let palette = Palette::of(ui.ctx());
    let unit = answer.question.unit;
    let drawing = (0.24 * ui.available_width()).clamp(120.0, 260.0);
    let points_per_mm = f64::from(drawing) / longest(&answer.rows).get();
    let is_drawn = drawn(&answer.rows);
    let room = ui.available_width() - drawing - 26.0 - 8.0 * 8.0;
    let widths = column_widths(room);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 8.0;
        // The cards' own margin comes before what is in them.
        ui.add_space(drawing + 15.0);
        for ((title, _), width) in COLUMNS.iter().zip(widths) {
            cell_ui(ui, width, |ui| {
                ui.add(Label::new(RichText::new(*title).small().color(palette.faint)).wrap());
            });
        }
    });
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        for (index, (row, picture)) in answer.rows.iter().zip(&answer.pictures).enumerate() {
            let carved = answer.carved.get(index).and_then(Option::as_ref);
            let offer = answer.offers.as_ref().and_then(|offers| offers.get(index)?.as_ref());
            let card = egui::Frame::new()
                .fill(palette.card)
                .stroke(egui::Stroke::new(1.0, palette.line))
                .corner_radius(5.0)
                .inner_margin(egui::Margin::symmetric(6, 5));
            card.show(ui, |ui| {
                ui.set_width(ui.available_width());
                ui.horizontal_top(|ui| {
                    ui.spacing_mut().item_spacing.x = 8.0;
                    if !is_drawn[index] {
                        cell_ui(ui, drawing, |ui| {
                            ui.add(
                                Label::new(
                                    RichText::new(words::sizes::NOT_DRAWN).small().color(palette.faint),
                                )
                                .wrap(),
                            );
                        });
                        row_ui(ui, row, offer, &widths, unit, &shop.prices, commands);
                        return;
                    }
                    #[expect(clippy::cast_possible_truncation, reason = "screen points")]
                    let points = |side: Mm| ((side.get() * points_per_mm) as f32).max(2.0);
                    let size = vec2(points(row.job.board().length), points(row.job.board().width));
                    // The carved part below the drawn board, where it stands on it and to the same scale;
                    // its room is kept until it is there.
                    let part = row.carved_part;
                    let apart = 4.0;
                    let carved_tall = points(Mm::new(part.size().y));
                    let (space, both) =
                        ui.allocate_exact_size(vec2(drawing, size.y + apart + carved_tall), Sense::hover());
                    let at = Rect::from_min_size(space.min, size);
                    let whole = Rect::from_min_max(egui::pos2(0.0, 0.0), egui::pos2(1.0, 1.0));
                    ui.painter().image(picture.id(), at, whole, egui::Color32::WHITE);
                    let [length, width] = [row.job.board().length.get(), row.job.board().width.get()];
                    #[expect(clippy::cast_possible_truncation, reason = "shares of a picture")]
                    let share = |x: f64, y: f64| egui::pos2((x / length) as f32, (1.0 - y / width) as f32);
                    let seen =
                        Rect::from_min_max(share(part.min.x, part.max.y), share(part.max.x, part.min.y));
                    let at = Rect::from_min_size(
                        space.min + vec2(seen.left() * size.x, size.y + apart),
                        vec2(seen.width() * size.x, carved_tall),
                    );
                    match carved {
                        Some(carved) => {
                            ui.painter().image(carved.id(), at, seen, egui::Color32::WHITE);
                        }
                        None => {
                            ui.painter().rect_filled(at, 2.0, palette.bench);
                        }
                    }
                    let name = said::as_drawn_and_as_carved(words::sizes::name(&row.name));
                    both.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, &name));
                    row_ui(ui, row, offer, &widths, unit, &shop.prices, commands);
                });
            });
        }
    });
}

fn row_ui(
    ui: &mut egui::Ui,
    row: &SizeRow,
    offer: Option<&Offer>,
    widths: &[f32; 8],
    unit: LengthUnit,
    prices: &Prices,
    commands: &mut Vec<Command>,
) {
    let facts = [
        words::sizes::finished(row, unit),
        words::sizes::board(row, unit),
        words::sizes::thinnest_wall(row, unit),
        words::sizes::lost(&row.lost, unit),
        words::sizes::minutes(row.minutes),
        words::price::total(&row.price, &prices.money, unit),
    ];
    cell_ui(ui, widths[0], |ui| {
        ui.add(Label::new(RichText::new(words::sizes::heading(row)).strong()).wrap());
        // Words that are cut in two look broken: the button reaches into the next column instead.
        let use_it = Button::new(said::USE_THIS_SIZE).small().wrap_mode(egui::TextWrapMode::Extend);
        let use_it = ui.add(use_it).on_hover_text(said::MAKE_IT_THE_SIZE_OF_THIS_JOB);
        if use_it.accessible_name(said::use_size(words::sizes::name(&row.name))).clicked() {
            commands.push(Command::Edit(Edit::Size(Size::Factor(row.proof.factor))));
        }
    });
    for (fact, width) in facts.iter().zip(&widths[1..]) {
        cell_ui(ui, *width, |ui| {
            ui.add(Label::new(RichText::new(fact).small()).wrap());
        });
    }
    cell_ui(ui, widths[7], |ui| {
        severity_ui(ui, 6.0, row.severity());
        let sentence = words::verdict::sentence(&row.proof.verdict, unit);
        ui.add(Label::new(RichText::new(sentence).small()).wrap());
        if let Some(offer) = offer {
            let faint = Palette::of(ui.ctx()).faint;
            let words = RichText::new(words::advice::short(offer, unit)).small().color(faint);
            ui.add(Label::new(words).wrap()).on_hover_text(words::advice::offer(offer, &prices.money, unit));
        }
    });
}

/// A column of one row, as wide as its heading.
fn cell_ui(ui: &mut egui::Ui, width: f32, add: impl FnOnce(&mut egui::Ui)) {
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        ui.set_width(width);
        add(ui);
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::samples::samples;
    use crate::job::sample::sample_job;

    #[test]
    fn rows_of_other_prices_or_another_unit_are_not_current() {
        let job = sample_job(&samples()[0]).unwrap();
        let mut view = SizesView::default();
        let picked = first_sizes();
        let question = Question {
            job: job.clone().into(),
            wanted: wanted(&picked),
            prices: Prices::default(),
            unit: LengthUnit::Millimetres,
            theme: egui::Theme::Light,
        };
        view.take(&egui::Context::default(), Sized { question, rows: Ok((Vec::new(), Vec::new())) });
        let current = |prices: &Prices, unit| view.current_rows(&picked, &job, prices, unit).is_some();
        assert!(current(&Prices::default(), LengthUnit::Millimetres));
        let dearer = Prices { minimum: 99.0, ..Prices::default() };
        assert!(!current(&dearer, LengthUnit::Millimetres));
        assert!(!current(&Prices::default(), LengthUnit::InchFraction));
    }
}
