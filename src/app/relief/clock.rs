//! The clock: any second of the carve, and the surface as it is then.

use crate::app::relief::worked::{FEW_CELLS, Planned, pitch};
use crate::app::widgets::look::Palette;
use crate::app::work::Bring;
use crate::app::work::{Lane, Stage, Workers};
use crate::job::Job;
use crate::relief::field::{Progress, carve_on};
use crate::relief::time::{Doing, Moment};
use crate::relief::{HeightField, Plan};
use crate::units::{LengthUnit, Mm};
use crate::words::window::relief as said;
use egui::{ComboBox, Label, RichText, Slider, vec2};
use std::sync::Arc;

/// The surface as it is when a part of the plan is carved.
#[derive(Clone)]
pub(crate) struct Played {
    plan: Arc<Plan>,
    progress: Progress,
    field: Arc<HeightField>,
}

/// Where the hand stands, and what was carved up to there.
pub(crate) struct ClockHand {
    /// The second that is shown; `None` for the whole carve.
    second: Option<f64>,
    playing: bool,
    /// How long the whole carve takes on the screen, seconds; `None` as long as on the machine.
    whole_in: Option<f64>,
    played: Option<Played>,
    /// Surfaces on the way, so that going back does not begin anew.
    kept: Vec<Played>,
}

/// How many surfaces are kept on the way, evenly over the plan's lines.
const KEPT: usize = 12;

impl Default for ClockHand {
    fn default() -> ClockHand {
        ClockHand { second: None, playing: false, whole_in: Some(30.0), played: None, kept: Vec::new() }
    }
}

impl ClockHand {
    pub(crate) fn is_playing(&self) -> bool {
        self.playing
    }

    pub(crate) fn pause(&mut self) {
        self.playing = false;
    }

    /// Shows the whole carve again.
    pub(crate) fn stop(&mut self) {
        (self.second, self.playing) = (None, false);
    }

    /// What is going on at the second that is shown.
    pub(crate) fn moment(&self, planned: Option<&Planned>) -> Option<Moment> {
        planned?.clock.at(self.second?)
    }

    /// The surface at the second that is shown, the last good one where it is still being worked out; `None` where
    /// the whole carve is shown.
    pub(crate) fn field(&self, planned: Option<&Planned>) -> Option<Arc<HeightField>> {
        self.second?;
        let plan = &planned?.plan;
        self.played
            .as_ref()
            .filter(|played| Arc::ptr_eq(&played.plan, plan))
            .map(|played| played.field.clone())
    }

    /// Moves the hand on, while it is playing.
    pub(crate) fn advance(&mut self, ctx: &egui::Context, planned: Option<&Planned>) {
        let Some(planned) = planned else { return };
        let total = planned.clock.total();
        if let Some(second) = &mut self.second {
            *second = second.min(total);
        }
        if !self.playing {
            return;
        }
        let faster = self.whole_in.map_or(1.0, |whole| total / whole);
        let second =
            self.second.unwrap_or(0.0) + f64::from(ctx.input(|input| input.stable_dt.min(0.5))) * faster;
        if second >= total {
            self.stop();
        } else {
            self.second = Some(second);
        }
        ctx.request_repaint();
    }

    pub(crate) fn take(&mut self, played: Played) {
        let lines = played.plan.lines.len().max(1);
        let slot = |played: &Played| played.progress.lines * KEPT / lines;
        self.kept.retain(|kept| Arc::ptr_eq(&kept.plan, &played.plan));
        if self.kept.iter().all(|kept| slot(kept) != slot(&played)) {
            self.kept.push(played.clone());
        }
        self.played = Some(played);
    }

    /// Starts carving up to the second that is shown; whether it is being carved.
    pub(crate) fn start_needed_work<D: Bring<Played>>(
        &mut self,
        workers: &mut Workers<D>,
        planned: Option<&Planned>,
        job: &Job,
    ) -> bool {
        let (Some(planned), Some(moment)) = (planned, self.moment(planned)) else {
            workers.cancel(Lane::Playing);
            return false;
        };
        let (plan, to) = (planned.plan.clone(), moment.progress);
        let is_of = |played: &&Played| Arc::ptr_eq(&played.plan, &plan);
        if self.played.as_ref().filter(is_of).is_some_and(|played| played.progress == to) {
            return false;
        }
        // A run is left to finish, so that the surface follows the hand.
        if workers.busy(Lane::Playing) {
            return true;
        }
        let before =
            self.kept.iter().chain(&self.played).filter(is_of).filter(|played| played.progress <= to);
        let nearest =
            before.max_by(|a, b| a.progress.partial_cmp(&b.progress).unwrap_or(std::cmp::Ordering::Equal));
        let (field, from) = nearest
            .map_or((None, Progress::default()), |played| (Some(played.field.clone()), played.progress));
        let job = job.clone();
        let about = job.design().name.clone();
        workers.start(Lane::Playing, Stage::Sweeping, about, move |progress| {
            let blank = || HeightField::of_board(&job, Mm::new(pitch(&job, FEW_CELLS)));
            let mut field = field.map_or_else(blank, |field| HeightField::clone(&field));
            carve_on(&mut field, &plan, from, to, progress.unwanted()).then_some(())?;
            Some(Played { plan, progress: to, field: Arc::new(field) }.into())
        });
        true
    }
}

/// What goes on at a moment, in words.
fn doing(moment: &Moment, planned: &Planned, unit: LengthUnit) -> String {
    let cutter = planned.plan.cutters.get(moment.cutter as usize).map_or("", |cutter| cutter.name.as_str());
    let whose = moment.place.element().and_then(|index| planned.named.design().elements.get(index));
    let whose = whose.map_or(said::THE_GROUND, |element| element.name.as_str());
    let depth = Mm::new((-moment.at.z).max(0.0));
    match moment.doing {
        Doing::Changing => said::change_to(cutter),
        Doing::Travelling => said::travels(cutter, whose, moment.kind),
        Doing::Plunging => said::plunges(cutter, whose, moment.kind),
        Doing::Cutting => said::cuts(cutter, whose, moment.kind, depth, unit),
        Doing::Lifting => said::lifts(cutter, whose, moment.kind),
        Doing::Done => said::DONE.to_owned(),
    }
}

/// The clock: play, the hand on its slider, and what the machine does then.
pub(crate) fn clock_ui(ui: &mut egui::Ui, hand: &mut ClockHand, planned: Option<&Planned>, unit: LengthUnit) {
    let palette = Palette::of(ui.ctx());
    ui.horizontal_wrapped(|ui| {
        let total = planned.map_or(0.0, |planned| planned.clock.total());
        let can = planned.is_some() && total > 0.0;
        let (sign, name) = if hand.playing {
            (said::PAUSE, said::PAUSE_THE_CARVE)
        } else {
            (said::PLAY, said::PLAY_THE_CARVE)
        };
        let play = ui
            .add_enabled(can, egui::Button::new(sign).min_size(vec2(54.0, 0.0)))
            .on_hover_text(name)
            .accessible_name(name);
        if play.clicked() {
            hand.playing ^= true;
            if hand.playing && hand.second.is_none() {
                hand.second = Some(0.0);
            }
        }
        let mut second = hand.second.unwrap_or(total);
        ui.spacing_mut().slider_width = (ui.available_width() * 0.36).clamp(80.0, 420.0);
        let slider = Slider::new(&mut second, 0.0..=total.max(1e-3)).show_value(false);
        let response = ui.add_enabled(can, slider).on_hover_text(said::DRAG_TO_ANY_SECOND_OF_THE_CARVE);
        if response.accessible_name(said::CLOCK).changed() {
            hand.playing = false;
            hand.second = (second < total).then_some(second);
        }
        if !can {
            let words =
                if planned.is_some() { said::NOTHING_IS_CARVED } else { said::WORKING_OUT_THE_PASSES };
            ui.label(RichText::new(words).color(palette.faint));
            return;
        }
        ui.label(RichText::new(said::second_of(second, total)).strong());
        ComboBox::from_id_salt("carve speed")
            .width(84.0)
            .selected_text(said::speed(hand.whole_in))
            .show_ui(ui, |ui| {
                for whole_in in [Some(10.0), Some(30.0), Some(120.0), None] {
                    ui.selectable_value(&mut hand.whole_in, whole_in, said::speed(whole_in));
                }
            })
            .response
            .on_hover_text(said::HOW_LONG_THE_WHOLE_CARVE_TAKES_ON)
            .accessible_name(said::SPEED_OF_THE_CLOCK);
        if hand.second.is_some()
            && ui.small_button(said::WHOLE).on_hover_text(said::SHOW_THE_WHOLE_CARVE).clicked()
        {
            hand.stop();
        }
    });
    if let (Some(moment), Some(planned)) = (hand.moment(planned), planned) {
        let words = RichText::new(doing(&moment, planned, unit)).small().color(palette.faint);
        ui.add(Label::new(words).truncate());
    }
}
