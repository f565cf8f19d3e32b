//! Why the limit is what it is: the arithmetic with its numbers, and where each comes from.

use crate::app::widgets::form::{heading_ui, words_ui};
use crate::app::widgets::look::{Palette, severity_ui};
use crate::app::work::proofed::Proofed;
use crate::app::work::scene::Scene;
use crate::job::Treatment;
use crate::proof::{Facts, Finding, Severity, ThinPlace};
use crate::units::{LengthUnit, trimmed};
use crate::words;
use crate::words::window::findings as said;
use egui::{Label, RichText};

/// The window, where it is open.
pub(crate) fn why_ui(ctx: &egui::Context, scene: &Scene, open: &mut bool) {
    let Scene { shown, unit, .. } = *scene;
    let window = egui::Window::new(said::WHY_THIS_LIMIT).open(open).resizable(false).default_width(500.0);
    window.default_pos(scene.beside).show(ctx, |ui| {
        let palette = Palette::of(ui.ctx());
        let chosen = scene.chosen.and_then(|id| shown.finding(id));
        // An element may have a depth and a cutter of its own.
        let limits = chosen
            .and_then(in_a_wall)
            .and_then(|place| shown.proof.limits.behind(&place.held))
            .map_or_else(|| shown.proof.limits.usual(), |(limits, _)| limits);
        words_ui(
            ui,
            RichText::new(format!(
                "A wall along the grain should be {} thick, one across it {}",
                unit.show_fine(limits.along),
                unit.show_fine(limits.across)
            ))
            .strong(),
        );
        if let Some(stand_in) = &limits.basis.stand_in {
            ui.horizontal_top(|ui| {
                severity_ui(ui, 6.0, Severity::Chancy);
                words_ui(
                    ui,
                    format!(
                        "No strength across the grain is published for {}: {stand_in} stands in for it",
                        limits.basis.wood
                    ),
                );
            });
        }
        for (number, step) in (1..).zip(words::limits::steps(limits, unit)) {
            ui.horizontal_top(|ui| {
                ui.label(RichText::new(format!("{number}.")).color(palette.faint));
                ui.vertical(|ui| {
                    ui.spacing_mut().item_spacing.y = 0.0;
                    ui.label(RichText::new(step.title).strong());
                    ui.add(Label::new(step.text).wrap());
                });
            });
        }
        if shown.job.has(Treatment::Pierced) {
            words_ui(
                ui,
                format!(
                    "Beside what is cut through a wall stands as tall as the board is thick, {}: there it needs {} along the grain, {} across",
                    unit.show(shown.job.board().thickness),
                    unit.show_fine(limits.pierced_along),
                    unit.show_fine(limits.pierced_across)
                ),
            );
        }
        if let Some(words) = chosen.and_then(|finding| of_finding(finding, shown, unit)) {
            heading_ui(ui, said::THE_CHOSEN_FINDING);
            words_ui(ui, words);
        }
    });
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
    let what = if matches!(finding.facts, Facts::LostTip { .. }) {
        said::THIS_POINT_LIES
    } else {
        said::THIS_WALL_RUNS
    };
    let message = words::finding::message(finding, unit);
    let Some((limits, [along, across])) = shown.proof.limits.behind(&place.held) else {
        return Some(format!(
            "{what} on the floor of a carved place, and stands only as tall as what is beside it is deeper. {message}"
        ));
    };
    let quarter = if limits.turn.swaps() { std::f64::consts::FRAC_PI_2 } else { 0.0 };
    // Lines have no head: 170 degrees to the grain is 10.
    let turned = (place.direction + quarter).rem_euclid(std::f64::consts::PI).to_degrees();
    let degrees = trimmed(turned.min(180.0 - turned), 0);
    Some(format!(
        "{what} at {degrees}\u{b0} to the grain where it is thinnest: \u{221a}(({along} cos {degrees}\u{b0})\u{b2} + ({across} sin {degrees}\u{b0})\u{b2}) = {limit}. {message}",
        along = unit.show_fine(along),
        across = unit.show_fine(across),
        limit = unit.show_fine(place.held.limit),
    ))
}
