//! The lists of the cards: woods with their colour and how hard they are, cutters with their profile.

use crate::app::commands::command::Command;
use crate::app::shop::cutters::End;
use crate::app::widgets::look::Palette;
use crate::app::work::scene::Scene;
use crate::job::Edit;
use crate::relief::grain::swatch;
use crate::shop::{Cutter, Wood};
use crate::units::Mm;
use crate::words::window::shell as said;
use egui::{Color32, ComboBox, Painter, Rect, RichText, Sense, Shape, Stroke, StrokeKind, pos2, vec2};

/// A row's mark before its name, in points.
const MARK: egui::Vec2 = vec2(22.0, 16.0);

/// The woods of the shop, those used lately first, in a list `width` wide.
pub(crate) fn woods_ui(ui: &mut egui::Ui, scene: &Scene, width: f32, commands: &mut Vec<Command>) {
    let now = scene.job.wood();
    list_ui(ui, said::WOOD, width, &now.name, |ui| {
        let lately = |wood: &&Wood| scene.woods_lately.iter().position(|id| *id == wood.id);
        let (mut used, others): (Vec<&Wood>, Vec<&Wood>) =
            scene.shop.woods.iter().partition(|wood| lately(wood).is_some());
        used.sort_by_key(lately);
        let faint = Palette::of(ui.ctx()).faint;
        for (at, wood) in used.iter().chain(&others).enumerate() {
            let heading = match at {
                _ if used.is_empty() => None,
                0 => Some(said::USED_LATELY),
                at if at == used.len() => Some(said::THE_OTHERS),
                _ => None,
            };
            if let Some(heading) = heading {
                ui.label(RichText::new(heading).small().color(faint));
            }
            let facts = said::wood_facts(wood.hardness, wood.shaping, scene.unit);
            let mark = |painter: &Painter, rect: Rect| paint_wood(painter, rect, wood);
            if row_ui(ui, wood.id == now.id, &wood.name, facts.as_deref(), mark) {
                commands.push(Edit::Wood(Box::new((*wood).clone())).into());
            }
        }
    });
}

/// The cutters of the shop by the shape of their end, in a list `width` wide.
pub(crate) fn cutters_ui(ui: &mut egui::Ui, scene: &Scene, width: f32, commands: &mut Vec<Command>) {
    let now = scene.job.cutter();
    list_ui(ui, said::CUTTER, width, &now.name, |ui| {
        for end in End::ALL {
            let cutters: Vec<&Cutter> =
                scene.shop.cutters.iter().filter(|cutter| End::of(cutter.shape) == end).collect();
            if cutters.is_empty() {
                continue;
            }
            ui.label(RichText::new(end.label()).small().color(Palette::of(ui.ctx()).faint));
            for cutter in cutters {
                let mark = |painter: &Painter, rect: Rect| paint_cutter(painter, rect, cutter);
                if row_ui(ui, cutter.id == now.id, &cutter.name, None, mark) {
                    commands.push(Edit::Cutter(Box::new(cutter.clone())).into());
                }
            }
        }
    });
}

/// The machines of the shop, in a list `width` wide.
pub(crate) fn machines_ui(ui: &mut egui::Ui, scene: &Scene, width: f32, commands: &mut Vec<Command>) {
    let now = scene.job.machine();
    list_ui(ui, said::MACHINE, width, &now.name, |ui| {
        for machine in &scene.shop.machines {
            if ui.selectable_label(machine.id == now.id, &machine.name).clicked() {
                commands.push(Edit::Machine(Box::new(machine.clone())).into());
            }
        }
    });
}

fn list_ui(ui: &mut egui::Ui, name: &str, width: f32, now: &str, rows: impl FnOnce(&mut egui::Ui)) {
    let list = ComboBox::from_id_salt(name).width(width).truncate().height(320.0).selected_text(now);
    list.show_ui(ui, rows).response.on_hover_text(now).accessible_name(name);
}

/// One row; whether it was chosen.
fn row_ui(
    ui: &mut egui::Ui,
    is_now: bool,
    name: &str,
    facts: Option<&str>,
    mark: impl FnOnce(&Painter, Rect),
) -> bool {
    let palette = Palette::of(ui.ctx());
    let row = ui.horizontal(|ui| {
        let (rect, _) = ui.allocate_exact_size(MARK, Sense::hover());
        mark(ui.painter(), rect);
        let clicked = ui.selectable_label(is_now, name).clicked();
        if let Some(facts) = facts {
            ui.label(RichText::new(facts).small().color(palette.faint));
        }
        clicked
    });
    if row.inner {
        ui.close();
    }
    row.inner
}

fn paint_wood(painter: &Painter, rect: Rect, wood: &Wood) {
    let [light, dark] = swatch(&wood.id).map(|[r, g, b]| Color32::from_rgb(r, g, b));
    let edge = Stroke::new(1.0, Palette::for_theme(painter.ctx().theme()).line);
    painter.rect(rect.shrink(1.0), 2.0, light, edge, StrokeKind::Inside);
    let grain = Stroke::new(1.5, dark);
    for share in [0.35, 0.7] {
        let y = rect.top() + share * rect.height();
        painter.line_segment([pos2(rect.left() + 2.0, y), pos2(rect.right() - 2.0, y)], grain);
    }
}

/// The end of a cutter from the side, as wide as the mark, its point down.
fn paint_cutter(painter: &Painter, rect: Rect, cutter: &Cutter) {
    const STEPS: u32 = 12;
    let rect = rect.shrink(1.0);
    let shape = cutter.shape;
    let scale = f64::from(rect.width()) * 0.6 / shape.diameter().get().max(1e-9);
    let deep = f64::from(rect.height()) / scale;
    let half = |step: u32| {
        let depth = deep * f64::from(step) / f64::from(STEPS);
        let width = shape.width_at(Mm::new(depth)).get() * scale;
        vec2((width / 2.0) as f32, (depth * scale) as f32)
    };
    let side = |sign: f32| {
        (0..=STEPS).map(move |step| {
            let at = half(step);
            pos2(rect.center().x + sign * at.x, rect.bottom() - at.y)
        })
    };
    let outline: Vec<_> = side(-1.0).chain(side(1.0).rev()).collect();
    let ink = Palette::for_theme(painter.ctx().theme()).ink;
    painter.add(Shape::convex_polygon(outline, ink.gamma_multiply(0.35), Stroke::new(1.0, ink)));
}
