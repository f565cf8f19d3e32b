//! How long the carve takes, by element and by cutter, and how long it really took.

use crate::app::commands::command::Command;
use crate::app::relief::worked::Planned;
use crate::app::widgets::form;
use crate::app::widgets::look::Palette;
use crate::job::{Edit, Job};
use crate::relief::time::{JobTime, fitted_factor};
use crate::words::window::relief as said;
use egui::{Label, RichText, ScrollArea, TextEdit, vec2};

/// What is being typed.
#[derive(Default)]
pub(crate) struct TimeDesk {
    typed: String,
    wrong: Option<String>,
}

/// The sums.
pub(crate) fn time_ui(ui: &mut egui::Ui, desk: &TimeDesk, planned: Option<&Planned>) {
    let palette = Palette::of(ui.ctx());
    let Some(planned) = planned else {
        ui.label(RichText::new(said::WORKING_OUT_THE_PASSES).color(palette.faint));
        return;
    };
    let time = &planned.time;
    ScrollArea::vertical().id_salt("time").auto_shrink(false).show(ui, |ui| {
        if let Some(wrong) = &desk.wrong {
            ui.add(Label::new(RichText::new(wrong).small().color(palette.wrong)).wrap());
        }
        ui.add(Label::new(said::whole_carve(time)).wrap());
        let most = time.elements.iter().map(|one| one.seconds).fold(0.0, f64::max);
        ui.columns(2, |columns| {
            columns[0].label(RichText::new(said::BY_ELEMENT).small().color(palette.faint));
            for one in &time.elements {
                bar_ui(&mut columns[0], &one.name, one.seconds, most);
            }
            columns[1].label(RichText::new(said::BY_CUTTER).small().color(palette.faint));
            let most = time.cutters.iter().map(|one| one.seconds).fold(0.0, f64::max);
            for one in &time.cutters {
                bar_ui(&mut columns[1], &one.name, one.seconds, most);
            }
        });
    });
}

/// A name, its time, and a bar as long as its share.
fn bar_ui(ui: &mut egui::Ui, name: &str, seconds: f64, most: f64) {
    let palette = Palette::of(ui.ctx());
    ui.horizontal(|ui| {
        let (rect, _) = ui.allocate_exact_size(vec2(54.0, 8.0), egui::Sense::hover());
        let share = (seconds / most.max(1e-9)).clamp(0.02, 1.0) as f32;
        ui.painter().rect_filled(rect, 2.0, palette.line);
        let part = egui::Rect::from_min_size(rect.min, vec2(rect.width() * share, rect.height()));
        ui.painter().rect_filled(part, 2.0, palette.wall);
        ui.add(Label::new(RichText::new(said::time_of(seconds, name)).small()).truncate());
    });
}

/// The field for what a clock on the wall said.
pub(crate) fn real_ui(
    ui: &mut egui::Ui,
    desk: &mut TimeDesk,
    time: &JobTime,
    job: &Job,
    commands: &mut Vec<Command>,
) {
    let palette = Palette::of(ui.ctx());
    let label = ui.label(RichText::new(said::HOW_LONG_DID_THE_CARVE_TAKE).color(palette.faint));
    let field = TextEdit::singleline(&mut desk.typed).desired_width(90.0).hint_text(said::N83_OR_1_23);
    let field = ui.add(field).labelled_by(label.id);
    let field = field
        .on_hover_text(said::MINUTES_OR_HOURS_MINUTES_SPELK_CORRECTS_THIS)
        .accessible_name(said::HOW_LONG_THE_CARVE_TOOK);
    if field.changed() {
        desk.wrong = None;
    }
    let entered = field.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
    if (entered || ui.small_button(said::CORRECT_THE_TIMES).clicked()) && !desk.typed.trim().is_empty() {
        match factor(&desk.typed, time) {
            Ok(factor) => {
                commands.push(Command::Edit(Edit::TimeFactor(factor)));
                *desk = TimeDesk::default();
            }
            Err(reason) => desk.wrong = Some(reason),
        }
    }
    if job.machine().time_factor != 1.0 && ui.small_button(said::DROP_THE_CORRECTION).clicked() {
        commands.push(Command::Edit(Edit::TimeFactor(1.0)));
    }
}

/// The factor that makes the sums as long as what was typed.
fn factor(typed: &str, time: &JobTime) -> Result<f64, String> {
    let seconds = seconds(typed)?;
    fitted_factor(time, seconds).ok_or_else(|| said::not_the_same_carve(seconds, time.total))
}

/// A time as it is typed: `83`, `83 min`, `1 h 23 min`, `1:23`, `1:23:30`.
fn seconds(typed: &str) -> Result<f64, String> {
    let refused = || said::not_a_time(typed.trim());
    let number = |text: &str| form::number(text).ok().filter(|number| *number >= 0.0).ok_or_else(refused);
    let text = typed.trim().to_lowercase();
    let parts: Vec<&str> = text.split(':').collect();
    let seconds = if parts.len() > 1 {
        let weights = [3600.0, 60.0, 1.0];
        if parts.len() > weights.len() {
            return Err(refused());
        }
        parts
            .iter()
            .zip(weights)
            .map(|(part, weight)| Ok(number(part)? * weight))
            .sum::<Result<f64, String>>()?
    } else {
        let (mut rest, mut sum, mut found) = (text.as_str(), 0.0, false);
        while !rest.trim().is_empty() {
            let rest_trimmed = rest.trim_start();
            let end = rest_trimmed.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','));
            let (digits, tail) = rest_trimmed.split_at(end.unwrap_or(rest_trimmed.len()));
            let tail = tail.trim_start();
            let end = tail.find(|c: char| !c.is_alphabetic()).unwrap_or(tail.len());
            let weight = match &tail[..end] {
                "h" | "hour" | "hours" => 3600.0,
                "" | "m" | "min" | "minute" | "minutes" => 60.0,
                "s" | "sec" | "second" | "seconds" => 1.0,
                _ => return Err(refused()),
            };
            sum += number(digits)? * weight;
            rest = &tail[end..];
            found = true;
        }
        if found { sum } else { return Err(refused()) }
    };
    if seconds > 0.0 { Ok(seconds) } else { Err(refused()) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_read_as_people_write_them() {
        for (typed, expected) in [
            ("83", 4980.0),
            (" 83 min ", 4980.0),
            ("1 h 23 min", 4980.0),
            ("1h23", 4980.0),
            ("1:23", 4980.0),
            ("1:23:30", 5010.0),
            ("45 s", 45.0),
            ("1,5 h", 5400.0),
        ] {
            assert_eq!(seconds(typed), Ok(expected), "{typed}");
        }
        for typed in ["", "soon", "0", "-3", "1:2:3:4", "5 days", "1:x"] {
            assert!(seconds(typed).is_err(), "{typed:?} was taken");
        }
    }
}
