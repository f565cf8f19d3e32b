//! What stands under the surface: the clock, and one of the two desks.

use crate::app::commands::command::Command;
use crate::app::relief::view::Desk;
use crate::app::relief::view::ReliefView;
use crate::app::relief::{clock, section, time};
use crate::app::work::scene::Scene;
use crate::words::window::relief as said;

/// How tall the desk is where it is scrolled, in points.
const TALL: f32 = 190.0;

/// The desk of a window too low for all of it.
pub(crate) fn scrolled_desk_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    room: &mut ReliefView,
    commands: &mut Vec<Command>,
) {
    egui::ScrollArea::vertical().id_salt("desk").auto_shrink(false).show(ui, |ui| {
        let size = egui::vec2(ui.available_width(), TALL);
        ui.allocate_ui(size, |ui| desk_ui(ui, scene, room, commands));
    });
}

/// What stands under the surface: the clock, and one of the two desks.
pub(crate) fn desk_ui(ui: &mut egui::Ui, scene: &Scene, room: &mut ReliefView, commands: &mut Vec<Command>) {
    let Scene { shown, unit, .. } = *scene;
    let planned = room.worked.planned.as_ref();
    clock::clock_ui(ui, &mut room.clock, planned, unit);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        for (desk, label, hint) in [
            (Desk::Time, said::TIME, said::HOW_LONG_IT_TAKES_BY_ELEMENT_AND),
            (Desk::Section, said::SECTION, said::THE_CUT_THROUGH_THE_SURFACE_ALONG_A),
        ] {
            let response = ui.selectable_label(room.desk == desk, label).on_hover_text(hint);
            if response.accessible_name(said::of_the_carve(label)).clicked() {
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
