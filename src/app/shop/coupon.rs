//! The coupon: what it is for, its drawings, and what survived on it.

use crate::app::commands::command::Command;
use crate::app::widgets::form;
use crate::app::widgets::form::{Entry, entry_ui, words_ui};
use crate::app::widgets::look::Palette;
use crate::job::Job;
use crate::sheet::coupon::{Coupon, Ladder, Rung, coupon};
use crate::shop::CutterPart;
use crate::units::{LengthUnit, Mm, parse_length};
use crate::words::shop::wrong;
use crate::words::window::{shop as said, with_unit};
use egui::{ComboBox, RichText};

/// The dialog's state.
pub(crate) struct CouponDialog {
    /// The job the coupon is for.
    pub(crate) job: Job,
    pub(crate) coupon: Coupon,
    along: String,
    across: String,
}

impl CouponDialog {
    /// The dialog for a job's cutter, depth and wood.
    pub(crate) fn of(job: &Job) -> CouponDialog {
        CouponDialog { coupon: coupon(job), job: job.clone(), along: String::new(), across: String::new() }
    }
}

/// The dialog, where it is open.
pub(crate) fn coupon_ui(
    ctx: &egui::Context,
    unit: LengthUnit,
    dialog: &mut Option<CouponDialog>,
    commands: &mut Vec<Command>,
) {
    let Some(open) = dialog else { return };
    let modal = egui::Modal::new(egui::Id::unique("coupon")).show(ctx, |ui| {
        ui.set_width(520.0);
        let palette = Palette::of(ui.ctx());
        let job = &open.job;
        ui.heading(said::COUPON);
        words_ui(ui, said::NOBODY_HAS_PUBLISHED_A_THINNEST_WALL_FOR);
        let size = open.coupon.design.outline_box().size();
        words_ui(
            ui,
            RichText::new(said::coupon(
                &job.cutter().name,
                job.depth(),
                &job.wood().name,
                size.to_array().map(Mm::new),
                unit,
            ))
            .strong(),
        );
        ui.horizontal(|ui| {
            for command in [Command::AskExportCoupon, Command::AskExportCouponKey] {
                if ui.button(command.label()).on_hover_text(command.tooltip()).clicked() {
                    commands.push(command);
                }
            }
        });
        ui.separator();
        ui.label(RichText::new(said::THE_THINNEST_THAT_STAYED_WHOLE).strong());
        let along = survivor_ui(ui, &open.coupon, Ladder::WallsAlong, &mut open.along, unit);
        let across = survivor_ui(ui, &open.coupon, Ladder::WallsAcross, &mut open.across, unit);
        words_ui(ui, RichText::new(said::SPELK_KEEPS_IT_WITH_THE_CUTTER_AND).small().color(palette.faint));
        ui.add_space(4.0);
        if let Some((along, across)) = form::foot_ui(ui, said::MAKE_THIS_THE_LIMIT, along.zip(across)) {
            commands.push(Command::Calibrate { along, across });
        }
    });
    if form::is_closing(ctx, &modal) {
        *dialog = None;
    }
}

/// A ladder's rungs to choose from, and the width to type; the width once it makes sense.
fn survivor_ui(
    ui: &mut egui::Ui,
    coupon: &Coupon,
    ladder: Ladder,
    text: &mut String,
    unit: LengthUnit,
) -> Option<Mm> {
    let (rungs_name, name, caption) = if ladder == Ladder::WallsAlong {
        (said::RUNG_ALONG_THE_GRAIN, said::SURVIVED_ALONG, said::WALL_ALONG_THE_GRAIN)
    } else {
        (said::RUNG_ACROSS_THE_GRAIN, said::SURVIVED_ACROSS, said::WALL_ACROSS_THE_GRAIN)
    };
    let read = read(text, unit);
    ui.columns(2, |columns| {
        let wrong = read.as_ref().err().filter(|_| !text.trim().is_empty()).map(String::as_str);
        let caption = with_unit(caption, unit);
        entry_ui(&mut columns[0], text, &Entry { name, caption: &caption, wrong });
        let ui = &mut columns[1];
        ui.spacing_mut().item_spacing.y = 1.0;
        ui.label(RichText::new(said::OR_CHOOSE_ITS_RUNG).small().color(Palette::of(ui.ctx()).faint));
        let rungs = || coupon.rungs.iter().filter(|rung| rung.ladder == ladder);
        let now = read
            .as_ref()
            .ok()
            .and_then(|width| rungs().find(|rung| (rung.width - *width).get().abs() < 1e-6).map(Rung::label));
        let combo = ComboBox::from_id_salt(rungs_name).width(150.0);
        let response = combo.selected_text(now.as_deref().unwrap_or(said::RUNGS)).show_ui(ui, |ui| {
            for rung in rungs() {
                let label = rung.label();
                if ui.selectable_label(now.as_ref() == Some(&label), &label).clicked() {
                    // In millimetres, as the key has it: an inch would be rounded.
                    *text = format!("{} mm", rung.width.get());
                }
            }
        });
        response.response.accessible_name(rungs_name);
    });
    read.ok()
}

fn read(text: &str, unit: LengthUnit) -> Result<Mm, String> {
    let width = parse_length(text, unit).map_err(|error| error.to_string())?;
    // Asked of the cutter itself, so that the same bounds hold here and in its form.
    let mut cutter = crate::shop::cutters()[0].clone();
    cutter.reference.along = width;
    match cutter.problems().into_iter().find(|problem| problem.part == CutterPart::Along) {
        None => Ok(width),
        Some(problem) => Err(wrong(&problem.wrong, unit)),
    }
}
