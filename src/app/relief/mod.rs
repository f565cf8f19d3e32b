//! The carved surface: seen from any side, cut through along a line, and played as the machine carves it.
//!
//! [`Room`] holds what is seen; what has been worked out is in [`worked`], each piece brought by a worker. In
//! a frame things are only looked up and drawn: the surface is a picture that a worker shaded.

pub(crate) mod card;
pub(crate) mod clearing;
pub(crate) mod clock;
pub(crate) mod eye;
pub(crate) mod light;
pub(crate) mod passes;
pub(crate) mod picture;
pub(crate) mod piece;
pub(crate) mod section;
pub(crate) mod surface;
pub(crate) mod time;
pub(crate) mod worked;

use crate::app::commands::command::Command;
use crate::app::commands::middle::Middle;
use crate::app::relief::card::{Card, CardLayers};
use crate::app::relief::clearing::ClearingDraft;
use crate::app::relief::clock::ClockHand;
use crate::app::relief::eye::Eye;
use crate::app::relief::light::Light;
use crate::app::relief::picture::{Shot, Wanted};
use crate::app::relief::piece::ReliefPiece;
use crate::app::relief::section::SectionTool;
use crate::app::relief::time::TimeDesk;
use crate::app::relief::worked::Worked;
use crate::app::widgets::look::{Palette, kind_color};
use crate::app::work::Bring;
use crate::app::work::proofed::Proofed;
use crate::app::work::scene::Scene;
use crate::app::work::{Lane, Workers};
use crate::relief::shade::{Glow, glows};
use egui::{Rect, vec2};
use glam::DVec2;
use std::sync::Arc;

/// What stands under the surface.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Desk {
    #[default]
    Time,
    Section,
}

/// What is seen of the carved surface; nothing of it is saved with the job.
pub(crate) struct Room {
    pub(crate) passes_shown: bool,
    pub(crate) clearing_open: bool,
    clearing_draft: ClearingDraft,
    worked: Worked,
    eye: Eye,
    light: Light,
    clock: ClockHand,
    section: SectionTool,
    time: TimeDesk,
    desk: Desk,
    /// Where the surface was drawn in the last frame.
    canvas: Rect,
    shot: Option<Shot>,
    /// The picture that was asked for last.
    asked: Option<Wanted>,
    /// The graphics card, where there is one to draw with.
    card: Option<Card>,
    layers: Option<Arc<CardLayers>>,
    /// What the card draws.
    on_card: Option<(Wanted, Arc<CardLayers>)>,
    /// What the findings of this proof look like on the surface.
    glows: Option<(Arc<crate::proof::Proof>, Arc<[Glow]>)>,
    /// What could not be drawn through a fault of ours is not tried again until something changes.
    undrawable: Option<Wanted>,
    settled: bool,
}

impl Room {
    pub(crate) fn new(cc: &eframe::CreationContext) -> Room {
        Room {
            passes_shown: false,
            clearing_open: false,
            clearing_draft: ClearingDraft::default(),
            worked: Worked::default(),
            eye: Eye::default(),
            light: Light::default(),
            clock: ClockHand::default(),
            section: SectionTool::default(),
            time: TimeDesk::default(),
            desk: Desk::default(),
            canvas: Rect::ZERO,
            shot: None,
            asked: None,
            card: Card::of(cc.wgpu_render_state.as_ref(), false),
            layers: None,
            on_card: None,
            glows: None,
            undrawable: None,
            settled: true,
        }
    }

    /// Draws the surface on the window's card even where that is software.
    pub(crate) fn trust_any_card(&mut self, cc: &eframe::CreationContext) {
        self.card = Card::of(cc.wgpu_render_state.as_ref(), true);
    }

    /// Whether all that is shown of the surface has been worked out.
    pub(crate) fn is_settled(&self) -> bool {
        self.settled
    }

    /// Takes in what a worker brought.
    pub(crate) fn take(&mut self, ctx: &egui::Context, piece: ReliefPiece) {
        match piece {
            ReliefPiece::Surface(surface) => self.worked.take_surface(surface),
            ReliefPiece::Planned(planned) => self.worked.take_planned(planned),
            ReliefPiece::Played(played) => self.clock.take(played),
            ReliefPiece::Picture(drawn) => self.shot = Some(Shot::upload(ctx, drawn, self.shot.take())),
            ReliefPiece::Layers(layers) => self.layers = Some(Arc::new(layers)),
            ReliefPiece::Section(cut) => self.section.take(cut),
        }
    }

    /// A run of ours broke off: what it was for is not tried again until the job changes.
    pub(crate) fn give_up(&mut self, lane: Lane) {
        match lane {
            Lane::Carving => self.worked.call_off(),
            Lane::Playing => self.clock.stop(),
            Lane::Shading => self.undrawable = self.asked.clone(),
            _ => self.section.give_up(),
        }
    }

    /// Stops the work on the surface; the last good one stays.
    pub(crate) fn call_off<D: Bring<ReliefPiece>>(&mut self, workers: &mut Workers<D>) {
        workers.cancel(Lane::Carving);
        self.worked.call_off();
    }

    /// Shows the whole board.
    pub(crate) fn show_all(&mut self, ctx: &egui::Context) {
        self.eye.show_all(ctx);
    }

    /// Goes closer by a factor over 1, farther by one under it.
    pub(crate) fn zoom(&mut self, ctx: &egui::Context, factor: f64) {
        let Some(shown) = self.worked.surface.as_ref() else { return };
        let middle = self.canvas.center();
        self.eye.zoom(ctx, factor, middle, self.canvas, &shown.of.job);
    }

    /// Looks at a place so that so many millimetres round it are seen; the whole board where there is no
    /// such number.
    pub(crate) fn go_to(&mut self, ctx: &egui::Context, place: DVec2, span: Option<f64>) {
        self.eye.go_to(ctx, place, span);
    }

    /// Starts what is needed next. `seen` is what is looked at, if anything here is.
    pub(crate) fn start_needed_work<D: Bring<ReliefPiece>>(
        &mut self,
        ctx: &egui::Context,
        workers: &mut Workers<D>,
        seen: Option<&Proofed>,
        middle: Middle,
    ) {
        let Some(seen) = seen else {
            for lane in [Lane::Carving, Lane::Playing, Lane::Shading, Lane::Sectioning] {
                workers.cancel(lane);
            }
            self.worked.working = None;
            self.clock.pause();
            self.settled = true;
            return;
        };
        let surface_shown = middle == Middle::Relief;
        let mut busy = self.worked.start_needed_work(workers, seen, surface_shown);
        if surface_shown {
            self.clock.advance(ctx, self.worked.planned.as_ref());
            busy |= self.clock.start_needed_work(workers, self.worked.planned.as_ref(), &seen.job);
            busy |= self.section.start_needed_work(workers, &self.worked, &self.clock);
            busy |= self.keep_picture(ctx, workers);
        } else {
            self.clock.pause();
        }
        self.settled = !busy;
    }

    /// Sees to it that the picture is of what is to be seen; whether it is still being drawn.
    fn keep_picture<D: Bring<ReliefPiece>>(&mut self, ctx: &egui::Context, workers: &mut Workers<D>) -> bool {
        let Some(surface) = &self.worked.surface else { return false };
        let proof = &surface.of.proof;
        if self.glows.as_ref().is_none_or(|(of, _)| !Arc::ptr_eq(of, proof)) {
            let color = |finding: &crate::proof::Finding| {
                let [r, g, b, _] = kind_color(finding.kind()).to_array();
                [r, g, b]
            };
            self.glows = Some((proof.clone(), glows(proof, color).into()));
        }
        let glows = self.glows.as_ref().map(|(_, glows)| glows.clone()).unwrap_or_default();
        let [r, g, b, _] = Palette::for_theme(ctx.theme()).bench.to_array();
        let moving = self.eye.is_moving(ctx) || self.clock.is_playing();
        let field = self.clock.field(self.worked.planned.as_ref());
        let Some(wanted) =
            Wanted::of(ctx, self, field, glows, [r, g, b], moving, moving && self.card.is_none())
        else {
            return false;
        };
        if self.undrawable.as_ref().is_some_and(|wrong| wrong.shows_what(&wanted)) {
            return false;
        }
        if moving {
            // Once it rests it is drawn in full.
            ctx.request_repaint_after_secs(0.25);
        }
        if self.card.is_some() {
            let busy = card::start_needed_work(workers, self.layers.as_ref(), &wanted);
            // Until its colours are there the last surface stays up.
            if let Some(layers) = self.layers.as_ref().filter(|layers| layers.lie_on(wanted.field.lattice)) {
                self.on_card = Some((wanted.clone(), layers.clone()));
            }
            self.asked = Some(wanted);
            return busy;
        }
        picture::start_needed_work(workers, self.shot.as_ref(), &mut self.asked, wanted)
    }

    /// The passes over the board, where they are asked for.
    pub(crate) fn paint_passes(&self, painter: &egui::Painter, lens: crate::app::widgets::camera::Lens) {
        if let Some(planned) = self.worked.planned.as_ref().filter(|_| self.passes_shown) {
            passes::paint(painter, lens, &planned.plan);
        }
    }

    /// In the board's upper left corner: whether the passes are drawn over it, and what the lines mean.
    pub(crate) fn legend_ui(&self, ui: &mut egui::Ui, canvas: Rect, commands: &mut Vec<Command>) {
        let corner = Rect::from_min_max(canvas.left_top() + vec2(6.0, 6.0), canvas.right_bottom());
        passes::legend_ui(ui, corner, self.worked.planned.as_ref(), self.passes_shown, commands);
    }
}

/// What stands under the surface: the clock, and one of the two desks.
pub(crate) fn desk_ui(ui: &mut egui::Ui, scene: &Scene, room: &mut Room, commands: &mut Vec<Command>) {
    let Scene { shown, unit, .. } = *scene;
    let planned = room.worked.planned.as_ref();
    clock::clock_ui(ui, &mut room.clock, planned, &shown.job);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        for (desk, label, hint) in [
            (Desk::Time, "Time", "How long it takes, by element and by cutter"),
            (Desk::Section, "Section", "The cut through the surface along a line"),
        ] {
            let response = ui.selectable_label(room.desk == desk, label).on_hover_text(hint);
            if response.accessible_name(format!("{label} of the carve")).clicked() {
                room.desk = desk;
            }
        }
        if let (Desk::Time, Some(planned)) = (room.desk, planned) {
            ui.separator();
            time::real_ui(ui, &mut room.time, &planned.time, &shown.job, commands);
        }
    });
    match room.desk {
        Desk::Time => time::time_ui(ui, &room.time, planned),
        Desk::Section => section::section_ui(ui, &mut room.section, &shown.job, planned, unit),
    }
    // A panel is as tall as what is in it.
    ui.take_available_space();
}
