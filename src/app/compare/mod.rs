//! The job beside itself: of each wood, with each cutter, or at several sizes, in a small window.

use crate::app::commands::command::Command;
use crate::app::widgets::form::words_ui;
use crate::app::widgets::look::{Palette, severity_ui};
use crate::app::widgets::window::window_ui;
use crate::app::work::proofed::Proofed;
use crate::app::work::scene::Scene;
use crate::app::work::{Bring, Lane, Stage, Workers};
use crate::compare::{Between, Version, compare};
use crate::job::Job;
use crate::shop::Shop;
use crate::words;
use crate::words::window::compare as said;
use egui::{Button, Grid, Label, RichText, ScrollArea};
use std::sync::Arc;

/// How wide the window is, and how tall its table, in points: both fit beside the cards at the smallest window.
const WIDTH: f32 = 620.0;
const HEIGHT: f32 = 380.0;
/// How wide a version's name may be.
const NAME: f32 = 180.0;

/// What is compared, and what came of it.
#[derive(Default)]
pub(crate) struct CompareView {
    pub(crate) open: bool,
    between: Between,
    shown: Option<Compared>,
    /// What is being worked out.
    asked: Option<Question>,
}

/// What the versions are worked out from.
#[derive(Clone)]
struct Question {
    job: Arc<Job>,
    shop: Arc<Shop>,
    between: Between,
}

impl PartialEq for Question {
    fn eq(&self, other: &Question) -> bool {
        self.between == other.between
            && Arc::ptr_eq(&self.job, &other.job)
            && Arc::ptr_eq(&self.shop, &other.shop)
    }
}

/// The versions of a job.
pub(crate) struct Compared {
    question: Question,
    versions: Vec<Version>,
}

impl CompareView {
    /// Takes in what the worker brought.
    pub(crate) fn take(&mut self, compared: Compared) {
        self.asked = None;
        self.shown = Some(compared);
    }

    /// A run broke off through a fault of ours: it is said elsewhere, and the window closes.
    pub(crate) fn give_up(&mut self) {
        self.open = false;
    }

    fn question(&self, job: &Arc<Job>, shop: &Shop) -> Question {
        // The shop is copied only where it has changed.
        let last = self.asked.as_ref().or(self.shown.as_ref().map(|shown| &shown.question));
        let known = last.map(|last| &last.shop).filter(|known| ***known == *shop);
        let shop = known.map_or_else(|| Arc::new(shop.clone()), Arc::clone);
        Question { job: job.clone(), shop, between: self.between }
    }

    /// Whether the versions are those of this job.
    fn is_current(&self, job: &Job) -> bool {
        let shown = self.shown.as_ref().map(|shown| &shown.question);
        shown.is_some_and(|question| {
            question.between == self.between && std::ptr::eq(Arc::as_ptr(&question.job), job)
        })
    }

    /// Works the versions out, where the window is open and they are of another job.
    pub(crate) fn start_needed_work<D: Bring<Compared>>(
        &mut self,
        workers: &mut Workers<D>,
        shown: &Proofed,
        shop: &Shop,
    ) {
        if !self.open {
            if self.asked.take().is_some() {
                workers.cancel(Lane::Comparing);
            }
            return;
        }
        let question = self.question(&shown.job, shop);
        let is_answered = self.shown.as_ref().is_some_and(|shown| shown.question == question);
        if is_answered || self.asked.as_ref() == Some(&question) {
            return;
        }
        self.asked = Some(question.clone());
        let now = shown.tried();
        let about = now.job.design().name.clone();
        workers.start(Lane::Comparing, Stage::Comparing, about, move |progress| {
            let tell = |done, of| progress.count(done, of);
            let versions = compare(&now, &question.shop, question.between, progress.unwanted(), &tell)?;
            Some(Compared { question, versions }.into())
        });
    }
}

/// The window, where it is open. `counted` is how many of how many versions are worked out, while they are.
pub(crate) fn compare_ui(
    ctx: &egui::Context,
    scene: &Scene,
    view: &mut CompareView,
    counted: Option<[usize; 2]>,
    commands: &mut Vec<Command>,
) {
    let mut open = view.open;
    let window = egui::Window::new(said::COMPARE).resizable(false);
    window_ui(ctx, window.default_pos(scene.beside), &mut open, |ui| {
        ui.set_width(WIDTH);
        let palette = Palette::of(ui.ctx());
        ui.horizontal(|ui| {
            for between in Between::ALL {
                if ui.selectable_label(view.between == between, words::compare::between(between)).clicked() {
                    view.between = between;
                }
            }
            let is_current = view.is_current(scene.job);
            let state = match counted {
                Some([done, of]) => said::working_out(done, of),
                None if is_current => String::new(),
                None => said::WAITING.to_owned(),
            };
            ui.label(RichText::new(state).small().color(palette.faint));
        });
        words_ui(ui, RichText::new(words::compare::note(scene.job.is_batch())).small().color(palette.faint));
        if scene.shop.prices.are_examples() {
            words_ui(ui, RichText::new(words::compare::EXAMPLE_PRICES).small().color(palette.wrong));
        }
        ui.separator();
        let shown = view.shown.as_ref().filter(|shown| shown.question.between == view.between);
        ScrollArea::vertical()
            .max_height(HEIGHT.min(ctx.content_rect().height() - 170.0))
            .auto_shrink([false, true])
            .show(ui, |ui| {
                if let Some(shown) = shown {
                    // The last good versions stay, and cannot be taken until they are those of the job.
                    let is_current = view.is_current(scene.job);
                    ui.add_enabled_ui(is_current, |ui| table_ui(ui, scene, &shown.versions, commands));
                }
            });
    });
    view.open = open;
}

fn table_ui(ui: &mut egui::Ui, scene: &Scene, versions: &[Version], commands: &mut Vec<Command>) {
    let palette = Palette::of(ui.ctx());
    Grid::new("versions").num_columns(6).striped(true).spacing([10.0, 4.0]).show(ui, |ui| {
        for title in [
            words::compare::VERSION,
            words::compare::VERDICT,
            words::compare::THINNEST_WALL,
            words::compare::TIME,
            words::compare::PRICE,
            "",
        ] {
            ui.label(RichText::new(title).small().color(palette.faint));
        }
        ui.end_row();
        for version in versions {
            let name = words::compare::name(&version.name, scene.unit);
            ui.scope(|ui| {
                ui.set_max_width(NAME);
                let words = RichText::new(&name);
                let words = if version.is_now { words.strong() } else { words };
                ui.add(Label::new(words).wrap());
            });
            ui.horizontal(|ui| {
                severity_ui(ui, 5.0, version.severity());
                ui.label(version.severity().label())
                    .on_hover_text(words::verdict::sentence(&version.proof.verdict, scene.unit));
            });
            ui.label(words::compare::wall(version.wall, scene.unit));
            ui.label(words::sizes::minutes(version.minutes));
            let money = &scene.shop.prices.money;
            ui.label(
                version.price.map_or_else(|| words::compare::NO_PRICE.to_owned(), |price| money.show(price)),
            );
            if version.is_now {
                ui.label(RichText::new(said::AS_IT_IS).color(palette.faint));
            } else {
                let take = ui.add(Button::new(said::TAKE).small()).on_hover_text(said::SETS_THE_JOB);
                if take.accessible_name(said::take(&name)).clicked() {
                    commands.push(Command::Edit(version.edit.clone()));
                }
            }
            ui.end_row();
        }
    });
}
