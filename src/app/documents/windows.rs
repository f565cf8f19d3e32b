//! The small windows about files: what a crash left behind, what a drop would do, and what is lost by closing.

use crate::app::commands::command::Command;
use crate::app::widgets::form;
use crate::app::widgets::look::Palette;
use crate::job::Job;
use crate::job::recovery::Left;
use crate::job::saved::is_saved_job;
use crate::words::window::documents as said;
use egui::{Align2, RichText};
use std::path::Path;

/// Offers what a crash left behind.
pub(crate) fn left_ui(ctx: &egui::Context, left: &[Left], commands: &mut Vec<Command>) {
    let modal = egui::Modal::new(egui::Id::unique("left")).show(ctx, |ui| {
        ui.set_max_width(420.0);
        ui.heading(said::CHANGES_THAT_WERE_NOT_SAVED);
        ui.label(said::SPELK_STOPPED_BEFORE_THESE_JOBS_WERE_SAVED);
        ui.add_space(4.0);
        for left in left {
            let words = match &left.job {
                Ok(job) => job.design().name.clone(),
                Err(error) => said::job_that(error),
            };
            let from = left.saved_at.as_ref().map_or_else(
                || said::NEVER_SAVED.to_owned(),
                |path| said::saved_before_as(&path.display().to_string()),
            );
            ui.label(RichText::new(words).strong());
            ui.label(RichText::new(from).small());
        }
        ui.add_space(6.0);
        ui.horizontal(|ui| {
            for command in [Command::RestoreLeft, Command::DiscardLeft, Command::LeaveLeft] {
                if ui.button(command.label()).on_hover_text(command.tooltip()).clicked() {
                    commands.push(command);
                    ui.close();
                }
            }
        });
    });
    if modal.should_close() {
        ctx.request_repaint();
        if !commands.iter().any(|command| {
            matches!(command, Command::RestoreLeft | Command::DiscardLeft | Command::LeaveLeft)
        }) {
            commands.push(Command::LeaveLeft);
        }
    }
}

/// Says over the window what dropping the files that hover there would do.
pub(crate) fn hovered_files_ui(ctx: &egui::Context, job: Option<&Job>) {
    let hovered = ctx.input(|input| input.raw.hovered_files.clone());
    if hovered.is_empty() {
        return;
    }
    let palette = Palette::of(ctx);
    let area = egui::Area::new(egui::Id::unique("hovered files")).order(egui::Order::Foreground);
    area.anchor(Align2::CENTER_CENTER, egui::Vec2::ZERO).interactable(false).show(ctx, |ui| {
        let frame = egui::Frame::window(ui.style()).stroke(egui::Stroke::new(3.0, palette.accent));
        frame.inner_margin(16.0).show(ui, |ui| {
            ui.set_max_width(520.0);
            ui.heading(if hovered.len() == 1 {
                said::DROP_TO_OPEN
            } else {
                said::DROP_TO_OPEN_THEM_ONE_AFTER_ANOTHER
            });
            for file in hovered.iter().take(8) {
                ui.label(what_a_drop_does(file.path.as_deref(), job));
            }
            if hovered.len() > 8 {
                ui.label(said::and_more(hovered.len() - 8));
            }
            ui.label(RichText::new(said::THE_OPEN_JOB_STAYS_OPEN).small().color(palette.faint));
        });
    });
}

/// Asks before changes are lost.
pub(crate) fn closing_ui(ctx: &egui::Context, name: &str, commands: &mut Vec<Command>) {
    let mut goes = false;
    let modal = egui::Modal::new(egui::Id::unique("closing")).show(ctx, |ui| {
        ui.set_max_width(340.0);
        ui.heading(said::SAVE_THE_JOB_BEFORE_CLOSING);
        ui.label(said::has_changes(name));
        ui.add_space(6.0);
        ui.horizontal(|ui| {
            for command in [Command::Save, Command::CloseUnsaved, Command::Stay] {
                if ui.button(command.label()).on_hover_text(command.tooltip()).clicked() {
                    goes = command == Command::CloseUnsaved;
                    // Closing the window says that the user stays.
                    commands.extend((command != Command::Stay).then_some(command));
                    ui.close();
                }
            }
        });
    });
    if form::is_closing(ctx, &modal) && !goes {
        commands.push(Command::Stay);
    }
}

/// What dropping a file would do, in a sentence.
fn what_a_drop_does(path: Option<&Path>, now: Option<&Job>) -> String {
    let Some(path) = path else { return said::A_FILE_AS_A_DRAWING_OR_A.to_owned() };
    let name = path
        .file_name()
        .map_or_else(|| path.display().to_string(), |name| name.to_string_lossy().into_owned());
    if path.is_dir() {
        return said::drop_of_folder(&name);
    }
    if is_saved_job(path) {
        return said::drop_of_job(&name);
    }
    let onto = now.map(|job| (job.wood().name.as_str(), job.cutter().name.as_str()));
    said::drop_of_drawing(&name, onto)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::Arc;

    #[test]
    fn a_drop_is_told_before_it_is_made() {
        let job = Job::new(Arc::new(
            crate::design::read("a", crate::design::samples::samples()[0].svg.as_bytes()).unwrap(),
        ));
        let words = |name: &str| what_a_drop_does(Some(Path::new(name)), Some(&job));
        assert!(
            words("shop/geese.SPELK").starts_with("geese.SPELK: a saved job"),
            "{}",
            words("geese.SPELK")
        );
        assert!(words("geese.svg").contains(&job.wood().name), "{}", words("geese.svg"));
        assert!(
            what_a_drop_does(Some(&std::env::temp_dir()), None).contains("folder"),
            "a folder is no file"
        );
    }
}
