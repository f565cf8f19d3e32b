//! What is seen of the carved surface, and what it needs worked out.

use crate::app::commands::command::Command;
use crate::app::commands::middle::Middle;
use crate::app::relief::card::{Card, CardLayers};
use crate::app::relief::clearing::ClearingWindow;
use crate::app::relief::clock::ClockHand;
use crate::app::relief::eye::Eye;
use crate::app::relief::light::Light;
use crate::app::relief::picture::{Shot, Wanted};
use crate::app::relief::piece::BringRelief;
use crate::app::relief::piece::ReliefPiece;
use crate::app::relief::section::SectionTool;
use crate::app::relief::time::TimeDesk;
use crate::app::relief::worked::Worked;
use crate::app::relief::{card, passes, picture};
use crate::app::widgets::look::{Palette, kind_color};
use crate::app::work::proofed::Proofed;
use crate::app::work::{Lane, Workers};
use crate::relief::HeightField;
use crate::relief::shade::{Glow, Look, glows};
use egui::{Rect, vec2};
use glam::DVec2;
use std::sync::Arc;

/// What stands under the surface.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Desk {
    #[default]
    Time,
    Section,
}

/// What is seen of the carved surface; nothing of it is saved with the job.
pub(crate) struct ReliefView {
    pub(crate) passes_shown: bool,
    pub(crate) clearing: ClearingWindow,
    pub(crate) worked: Worked,
    pub(crate) eye: Eye,
    pub(crate) light: Light,
    pub(crate) clock: ClockHand,
    pub(crate) section: SectionTool,
    pub(crate) time: TimeDesk,
    pub(crate) desk: Desk,
    /// Where the surface was drawn in the last frame.
    pub(crate) canvas: Rect,
    pub(crate) picture: SurfacePicture,
    settled: bool,
}

/// The picture of the surface, and what it is drawn with.
#[derive(Default)]
pub(crate) struct SurfacePicture {
    pub(crate) shot: Option<Shot>,
    /// The picture that was asked for last.
    pub(crate) asked: Option<Wanted>,
    /// The graphics card, where there is one to draw with.
    pub(crate) card: Option<Card>,
    pub(crate) layers: Option<Arc<CardLayers>>,
    /// What the card draws.
    pub(crate) on_card: Option<(Wanted, Arc<CardLayers>)>,
    /// What the findings of this proof look like on the surface.
    pub(crate) glows: Option<(Arc<crate::proof::Proof>, Arc<[Glow]>)>,
    /// What could not be drawn through a fault of ours is not tried again until something changes.
    pub(crate) undrawable: Option<Wanted>,
}

impl ReliefView {
    pub(crate) fn new(cc: &eframe::CreationContext) -> ReliefView {
        ReliefView {
            passes_shown: false,
            clearing: ClearingWindow::default(),
            worked: Worked::default(),
            eye: Eye::default(),
            light: Light::default(),
            clock: ClockHand::default(),
            section: SectionTool::default(),
            time: TimeDesk::default(),
            desk: Desk::default(),
            canvas: Rect::ZERO,
            picture: SurfacePicture {
                card: Card::of(cc.wgpu_render_state.as_ref(), false),
                ..SurfacePicture::default()
            },
            settled: true,
        }
    }

    /// Draws the surface on the window's card even where that is software.
    pub(crate) fn trust_any_card(&mut self, cc: &eframe::CreationContext) {
        self.picture.card = Card::of(cc.wgpu_render_state.as_ref(), true);
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
            ReliefPiece::Picture(drawn) => {
                self.picture.shot = Some(Shot::upload(ctx, drawn, self.picture.shot.take()));
            }
            ReliefPiece::Layers(layers) => self.picture.layers = Some(Arc::new(layers)),
            ReliefPiece::Section(cut) => self.section.take(cut),
        }
    }

    /// A run of ours broke off: what it was for is not tried again until the job changes.
    pub(crate) fn give_up(&mut self, lane: Lane) {
        match lane {
            Lane::Carving => self.worked.call_off(),
            Lane::Playing => self.clock.stop(),
            Lane::Shading => self.picture.undrawable = self.picture.asked.clone(),
            _ => self.section.give_up(),
        }
    }

    /// Stops the work on the surface; the last good one stays.
    pub(crate) fn call_off<D: BringRelief>(&mut self, workers: &mut Workers<D>) {
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
    pub(crate) fn start_needed_work<D: BringRelief>(
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
    fn keep_picture<D: BringRelief>(&mut self, ctx: &egui::Context, workers: &mut Workers<D>) -> bool {
        let Some(surface) = &self.worked.surface else { return false };
        let proof = &surface.of.proof;
        if self.picture.glows.as_ref().is_none_or(|(of, _)| !Arc::ptr_eq(of, proof)) {
            let color = |finding: &crate::proof::Finding| {
                let [r, g, b, _] = kind_color(finding.kind()).to_array();
                [r, g, b]
            };
            self.picture.glows = Some((proof.clone(), glows(proof, color).into()));
        }
        let glows = self.picture.glows.as_ref().map(|(_, glows)| glows.clone()).unwrap_or_default();
        let moving = self.eye.is_moving(ctx) || self.clock.is_playing();
        let field = self.clock.field(self.worked.planned.as_ref());
        let Some(wanted) = self.wanted(ctx, field, glows, moving, moving && self.picture.card.is_none())
        else {
            return false;
        };
        if self.picture.undrawable.as_ref().is_some_and(|wrong| wrong.shows_what(&wanted)) {
            return false;
        }
        if moving {
            // Once it rests it is drawn in full.
            ctx.request_repaint_after_secs(0.25);
        }
        if self.picture.card.is_some() {
            let busy = card::start_needed_work(workers, self.picture.layers.as_ref(), &wanted);
            // Until its colours are there the last surface stays up.
            if let Some(layers) =
                self.picture.layers.as_ref().filter(|layers| layers.lie_on(wanted.field.lattice))
            {
                self.picture.on_card = Some((wanted.clone(), layers.clone()));
            }
            self.picture.asked = Some(wanted);
            return busy;
        }
        picture::start_needed_work(workers, self.picture.shot.as_ref(), &mut self.picture.asked, wanted)
    }

    /// What is to be seen now; `None` before the canvas has a size. `field` is that of a moment of the
    /// carve, where one is shown; `coarse` takes the coarser surface else.
    fn wanted(
        &self,
        ctx: &egui::Context,
        field: Option<Arc<HeightField>>,
        glows: Arc<[Glow]>,
        moving: bool,
        coarse: bool,
    ) -> Option<Wanted> {
        let surface = self.worked.surface.clone()?;
        let canvas = self.canvas.size();
        if canvas.x < 8.0 || canvas.y < 8.0 {
            return None;
        }
        let scale = ctx.pixels_per_point();
        #[expect(clippy::cast_sign_loss, reason = "a canvas has no negative side")]
        let size = [canvas.x, canvas.y].map(|side| (side * scale).round().max(1.0) as u32);
        let field =
            field.unwrap_or_else(|| if coarse { surface.coarse.clone() } else { surface.field.clone() });
        let camera = self.eye.camera(&surface.of.job, canvas);
        let [r, g, b, _] = Palette::for_theme(ctx.theme()).bench.to_array();
        let look = Look {
            light_around: self.light.around.to_radians(),
            light_up: self.light.up.to_radians(),
            bench: [r, g, b],
        };
        Some(Wanted { surface, field, glows, camera, look, size, moving })
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
