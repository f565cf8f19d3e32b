//! Why the limit is what it is: the arithmetic with its numbers, and where each comes from.

use crate::app::widgets::figure::drawing_ui;
use crate::app::widgets::form::{heading_ui, words_ui};
use crate::app::widgets::look::{Palette, severity_ui};
use crate::app::widgets::window::window_ui;
use crate::app::work::proofed::Proofed;
use crate::app::work::scene::Scene;
use crate::job::Treatment;
use crate::proof::{Facts, Finding, HeldWall, Limits, Severity, ThinPlace, WallRun};
use crate::sheet::lesson::standing;
use crate::units::LengthUnit;
use crate::words;
use crate::words::window::findings as said;
use egui::{Label, RichText};

/// The window, where it is open.
pub(crate) fn why_ui(ctx: &egui::Context, scene: &Scene, open: &mut bool) {
    let Scene { shown, unit, .. } = *scene;
    let window = egui::Window::new(said::WHY_THIS_LIMIT).resizable(false).default_width(500.0);
    // It has much to say, and scrolls where the screen is low.
    let tallest = (ctx.content_rect().height() - 110.0).max(200.0);
    window_ui(ctx, window.default_pos(scene.beside).vscroll(true).max_height(tallest), open, |ui| {
        let palette = Palette::of(ui.ctx());
        let chosen = scene.chosen.and_then(|id| shown.finding(id));
        // An element may have a depth and a cutter of its own.
        let limits = chosen
            .and_then(in_a_wall)
            .and_then(|place| shown.proof.limits.behind(&place.held))
            .unwrap_or_else(|| shown.proof.limits.usual());
        words_ui(ui, RichText::new(said::walls_should_be(limits.along, limits.across, unit)).strong());
        if let Some(stand_in) = &limits.basis.stand_in {
            ui.horizontal_top(|ui| {
                severity_ui(ui, 6.0, Severity::Chancy);
                words_ui(ui, said::no_strength_published(&limits.rule.wood.name, stand_in));
            });
        }
        let wall =
            chosen.and_then(in_a_wall).and_then(|place| place.held.wall).unwrap_or_else(|| long_wall(limits));
        let drawing = standing(&wall, unit);
        drawing_ui(ui, &drawing, 118.0, &words::lesson::standing(&wall, unit));
        if let Some(words) = chosen.and_then(|finding| of_finding(finding, shown, unit)) {
            heading_ui(ui, said::THE_CHOSEN_FINDING);
            words_ui(ui, words);
        }
        for (number, step) in (1..).zip(words::limits::steps(limits, unit)) {
            ui.horizontal_top(|ui| {
                ui.label(RichText::new(said::step_number(number)).color(palette.faint));
                ui.vertical(|ui| {
                    ui.spacing_mut().item_spacing.y = 0.0;
                    ui.label(RichText::new(step.title).strong());
                    ui.add(Label::new(step.text).wrap());
                });
            });
        }
        if let Some(shaping) = words::limits::shaping(shown.job.wood()) {
            words_ui(ui, RichText::new(shaping).small().color(palette.faint));
        }
        if shown.job.has(Treatment::Pierced) {
            words_ui(ui, said::beside_pierced(shown.job.board().thickness, limits.pierced, unit));
        }
    });
}

/// What stands for every wall: a long one across the grain, pushed in its middle.
fn long_wall(limits: &Limits) -> HeldWall {
    HeldWall { height: limits.basis.height, run: WallRun::ENDLESS, limit: limits.basis.long[1] }
}

fn in_a_wall(finding: &Finding) -> Option<&ThinPlace> {
    match &finding.facts {
        Facts::ThinWall { place, .. } | Facts::LostTip { place, .. } => Some(place),
        _ => None,
    }
}

/// The last step of a wall's or point's limit: its own direction.
fn of_finding(finding: &Finding, shown: &Proofed, unit: LengthUnit) -> Option<String> {
    let place = in_a_wall(finding)?;
    let (limits, wall) = (shown.proof.limits.behind(&place.held)?, place.held.wall?);
    Some(said::limit_of_finding(finding, &wall, limits.to_grain(place.direction), unit))
}
