//! The lettering: words, how they are set, and how they look.

use crate::app::commands::command::Command;
use crate::app::commands::element::ElementCommand;
use crate::app::elements::typefaces::{DrawnNames, Typefaces, typefaces_ui};
use crate::app::widgets::form::words_ui;
use crate::app::widgets::image::color_image;
use crate::app::widgets::length_field::Lengths;
use crate::app::widgets::length_field::{Field, length_fields_ui, place_field_ui};
use crate::app::widgets::look::{Palette, severity_ui};
use crate::app::widgets::window::window_ui;
use crate::app::work::Bring;
use crate::app::work::scene::Scene;
use crate::app::work::{Lane, Stage, Workers};
use crate::design::face::Fonts;
use crate::design::lettering::{Align, Lettering, LetteringError, TactileCheck};
use crate::design::{Design, DrawingNotice};
use crate::job::{Edit, Job, Spot, Treatment, Words, at_drawn_size};
use crate::notice::Notices;
use crate::proof::Severity;
use crate::sheet::picture::{self, DesignPaths};
use crate::shop::CutterShape;
use crate::units::{LengthUnit, Mm};
use crate::words::capitalised;
use crate::words::window::elements as said;
use crate::words::{lettering, notices};
use egui::{
    Button, ColorImage, ComboBox, DragValue, Rect, RichText, ScrollArea, Sense, Stroke, StrokeKind, TextEdit,
    TextureHandle, TextureOptions, pos2, vec2,
};
use glam::{DAffine2, DVec2};
use std::sync::Arc;

/// The picture of the words, in screen points.
const PICTURE: egui::Vec2 = vec2(584.0, 112.0);
/// Pixels to a point of the picture, so that it is sharp on fine screens too.
const FINENESS: f32 = 2.0;

/// What is being set. Lengths are as carved.
pub(crate) struct LetteringDialog {
    /// Where the words go; into a job of their own if `None`.
    spot: Option<Spot>,
    treatment: Treatment,
    /// Whether the treatment was chosen by hand; else it goes by the place.
    is_treated: bool,
    lettering: Lettering,
    /// The radius, kept while the words are straight.
    radius: Mm,
    pub(crate) typefaces: Typefaces,
    tactile: bool,
    /// What the picture was asked for last.
    asked: Option<(Lettering, bool)>,
    set: Option<(SetWords, Option<TextureHandle>)>,
    /// Whether the cursor was put into the words.
    is_focused: bool,
}

/// Words that were set, for a look.
pub(crate) struct SetWords {
    of: Lettering,
    words: Result<WordFacts, LetteringError>,
    picture: Option<ColorImage>,
}

struct WordFacts {
    size: DVec2,
    notices: Notices<DrawingNotice>,
    checks: Vec<TactileCheck>,
}

impl LetteringDialog {
    pub(crate) fn new(job: &Job, spot: Option<Spot>) -> LetteringDialog {
        LetteringDialog {
            treatment: treatment_at(job, spot.as_ref()),
            is_treated: false,
            spot,
            lettering: Lettering::default(),
            radius: Mm::new(150.0),
            typefaces: Typefaces::default(),
            tactile: false,
            asked: None,
            set: None,
            is_focused: false,
        }
    }

    /// The words of an element that was lettered.
    pub(crate) fn editing(job: &Job, name: &str) -> Option<LetteringDialog> {
        let drawn = job.lettering().get(name)?;
        let lettering = at_drawn_size(drawn, 1.0 / job.factor());
        let spot = Spot::InPlaceOf(name.to_owned());
        let at = crate::app::elements::places::place_of(job.design(), name)?;
        let dialog = LetteringDialog::new(job, Some(spot));
        Some(LetteringDialog {
            treatment: job.carvings()[at].treatment,
            is_treated: true,
            radius: lettering.arc.map_or(dialog.radius, |arc| Mm::new(arc.get().abs())),
            lettering,
            ..dialog
        })
    }

    fn title(&self) -> &'static str {
        match self.spot {
            Some(Spot::InPlaceOf(_)) => said::EDIT_WORDS,
            None => said::NEW_JOB_FROM_WORDS,
            Some(_) => said::LETTER_WORDS,
        }
    }

    /// Has the words set anew where they were changed, and names of typefaces drawn that came into sight.
    pub(crate) fn start_needed_work<D: Bring<SetWords> + Bring<DrawnNames>>(
        &mut self,
        workers: &mut Workers<D>,
    ) {
        self.typefaces.start_needed_work(workers);
        let wanted = (self.lettering.clone(), self.tactile);
        if !workers.busy(Lane::Lettering) && self.asked.as_ref() != Some(&wanted) {
            self.asked = Some(wanted.clone());
            letter(workers, wanted.0, wanted.1, self.treatment);
        }
    }

    /// Takes in words that were set.
    pub(crate) fn take(&mut self, ctx: &egui::Context, mut set: SetWords) {
        let picture = set.picture.take();
        let texture = picture.map(|picture| ctx.load_texture("words", picture, TextureOptions::LINEAR));
        self.set = Some((set, texture));
    }

    /// What the words are as they stand, where they can be set.
    fn words(&self) -> Option<&WordFacts> {
        let (set, _) = self.set.as_ref().filter(|(set, _)| set.of == self.lettering)?;
        set.words.as_ref().ok()
    }
}

/// Sets words, and draws them as they would be carved.
fn letter<D: Bring<SetWords>>(
    workers: &mut Workers<D>,
    lettering: Lettering,
    tactile: bool,
    treatment: Treatment,
) {
    workers.start(Lane::Lettering, Stage::Lettering, lettering.font.clone(), move |_| {
        let fonts = Fonts::of_machine();
        let design = lettering.design(fonts);
        let picture = design.as_ref().ok().map(|design| color_image(&drawn(design, treatment)));
        let words = design.and_then(|design| {
            let checks = if tactile { lettering.tactile(fonts)? } else { Vec::new() };
            Ok(WordFacts { size: design.outline_box().size(), notices: design.notices, checks })
        });
        Some(SetWords { of: lettering, words, picture }.into())
    });
}

/// How words show at a place: carved as what is there already, but in the middle of an element cut into it,
/// or left to stand in it.
fn treatment_at(job: &Job, spot: Option<&Spot>) -> Treatment {
    let usual = job.treatments().next().unwrap_or_default();
    if spot != Some(&Spot::Middle) {
        return usual;
    }
    let middle = job.design().outline_box().center();
    let under = job.design().elements.iter().rposition(|element| element.region.contains(middle));
    match under.map(|index| job.carvings()[index].treatment) {
        None => usual,
        Some(treatment) if treatment.stands() => match job.cutter().shape {
            CutterShape::Vee { .. } => Treatment::Incised,
            _ => Treatment::Sunk,
        },
        Some(_) if job.has(Treatment::Relief) => Treatment::Relief,
        Some(_) => Treatment::Left,
    }
}

/// The words on a board that fills the picture.
fn drawn(design: &Design, treatment: Treatment) -> picture::Picture {
    const MARGIN: f64 = 36.0;
    let pixels = (PICTURE * FINENESS).round();
    let around = design.outline_box();
    let size = DVec2::new(f64::from(pixels.x), f64::from(pixels.y));
    let room = (size - 2.0 * MARGIN) / around.size().max(DVec2::splat(1e-6));
    let scale = room.min_element();
    let job = Job::new(Arc::new(design.clone()));
    let board = size / scale;
    let board_size = [Mm::new(board.x), Mm::new(board.y), job.board().thickness];
    // Words larger than any board are shown on the board there is.
    let job = job.with([Edit::TreatAll(treatment), Edit::BoardSize(board_size)]).unwrap_or(job);
    #[expect(clippy::cast_sign_loss, reason = "a picture has no negative side")]
    let view = picture::View::of_board(job.board(), [pixels.x as u32, pixels.y as u32], 0.0);
    let board_from_design = DAffine2::from_translation(board / 2.0 - around.center());
    picture::carved(&job, &DesignPaths::new(design), board_from_design, &view)
}

/// The window, where it is open.
pub(crate) fn lettering_ui(
    ctx: &egui::Context,
    scene: &Scene,
    dialog: &mut Option<LetteringDialog>,
    lengths: &mut Lengths,
    commands: &mut Vec<Command>,
) {
    let Scene { job, unit, beside: at, .. } = *scene;
    let Some(open_dialog) = dialog else { return };
    let mut open = true;
    let window = egui::Window::new(open_dialog.title()).id(egui::Id::unique("lettering"));
    window_ui(ctx, window.resizable(false).default_pos(at - vec2(20.0, 6.0)), &mut open, |ui| {
        ui.set_width(PICTURE.x);
        ui.spacing_mut().item_spacing.y = 4.0;
        ui.columns(2, |columns| {
            words_and_lines_ui(&mut columns[0], open_dialog, lengths);
            let are_known = open_dialog.set.is_some();
            typefaces_ui(
                &mut columns[1],
                &mut open_dialog.typefaces,
                &mut open_dialog.lettering.font,
                are_known,
            );
        });
        sizes_ui(ui, open_dialog, lengths);
        picture_ui(ui, open_dialog, unit);
        tactile_ui(ui, open_dialog);
        ui.separator();
        foot_ui(ui, job, open_dialog, commands);
    });
    if !open {
        *dialog = None;
    }
}

fn words_and_lines_ui(ui: &mut egui::Ui, dialog: &mut LetteringDialog, lengths: &mut Lengths) {
    let palette = Palette::of(ui.ctx());
    ui.label(RichText::new(said::WORDS).small().color(palette.faint));
    let field = TextEdit::multiline(&mut dialog.lettering.words)
        .desired_rows(3)
        .desired_width(f32::INFINITY)
        .hint_text(said::ENTER_STARTS_A_NEW_LINE);
    let response = ui.add(field).accessible_name(said::WORDS);
    if !dialog.is_focused {
        dialog.is_focused = true;
        response.request_focus();
    }
    ui.horizontal(|ui| {
        for (align, label, hint) in [
            (Align::Start, said::LEFT, said::LINES_START_AT_THE_LEFT),
            (Align::Middle, said::MIDDLE, said::LINES_ARE_CENTRED),
            (Align::End, said::RIGHT, said::LINES_END_AT_THE_RIGHT),
        ] {
            let response = ui.selectable_label(dialog.lettering.align == align, label).on_hover_text(hint);
            if response.accessible_name(said::lines_to_the(label)).clicked() {
                dialog.lettering.align = align;
            }
        }
    });
    ui.horizontal(|ui| {
        let sign = dialog.lettering.arc.map(|arc| arc.get().signum());
        for (arc, label, hint) in [
            (None, said::STRAIGHT, said::ON_A_STRAIGHT_LINE),
            (Some(1.0), said::ARCH, said::OVER_THE_TOP_OF_A_CIRCLE_AS),
            (Some(-1.0), said::BOWL, said::ALONG_THE_BOTTOM_OF_A_CIRCLE_LIKE),
        ] {
            if ui.selectable_label(sign == arc, label).on_hover_text(hint).clicked() {
                dialog.lettering.arc = arc.map(|sign| dialog.radius * sign);
            }
        }
    });
    if let Some(arc) = dialog.lettering.arc {
        let field = Field { name: said::RADIUS_OF_THE_ARC, caption: said::RADIUS, value: dialog.radius };
        if let Some((_, radius)) = length_fields_ui(ui, lengths, &[field]) {
            dialog.radius = radius;
            dialog.lettering.arc = Some(radius * arc.get().signum());
        }
    }
}

fn sizes_ui(ui: &mut egui::Ui, dialog: &mut LetteringDialog, lengths: &mut Lengths) {
    let lettering = &mut dialog.lettering;
    ui.columns(3, |columns| {
        let captions = [
            (said::CAPITAL_HEIGHT, said::CAPITAL_HEIGHT, lettering.cap_height),
            (said::LETTER_SPACING, said::EXTRA_LETTER_SPACING, lettering.spacing),
        ];
        for (ui, (name, caption, value)) in columns.iter_mut().zip(captions) {
            // What makes no sense for a height is told under the picture.
            let Some(length) = place_field_ui(ui, lengths, &Field { name, caption, value }) else {
                continue;
            };
            if name == said::CAPITAL_HEIGHT {
                lettering.cap_height = length;
            } else {
                lettering.spacing = length;
            }
        }
        let ui = &mut columns[2];
        ui.spacing_mut().item_spacing.y = 1.0;
        let faint = Palette::of(ui.ctx()).faint;
        ui.label(RichText::new(said::LINE_SPACING).small().color(faint));
        let value = DragValue::new(&mut lettering.line_spacing).range(0.1..=20.0).speed(0.01).max_decimals(2);
        ui.add(value.suffix(said::TIMES_THE_CAPITAL))
            .on_hover_text(said::FROM_BASELINE_TO_BASELINE_AS_A_MULTIPLE)
            .accessible_name(said::LINE_SPACING);
    });
}

/// The words as they would be carved, and how large they come out.
fn picture_ui(ui: &mut egui::Ui, dialog: &LetteringDialog, unit: LengthUnit) {
    let palette = Palette::of(ui.ctx());
    let (rect, response) = ui.allocate_exact_size(PICTURE, Sense::hover());
    let is_current = dialog.words().is_some();
    let carved = dialog.words().map(|words| words.size.to_array().map(Mm::new));
    response.widget_info(|| {
        egui::WidgetInfo::labeled(egui::Role::Image, true, said::picture_of_the_words(carved, unit))
    });
    let painter = ui.painter().with_clip_rect(rect);
    painter.rect(rect, 3.0, palette.wood, Stroke::new(1.0, palette.line), StrokeKind::Inside);
    if let Some((_, Some(texture))) = &dialog.set {
        let uv = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
        let tint = egui::Color32::from_white_alpha(if is_current { 255 } else { 110 });
        painter.image(texture.id(), rect, uv, tint);
    }
    match dialog.set.as_ref().map(|(set, _)| &set.words) {
        _ if dialog.lettering.words.trim().is_empty() => {
            ui.label(RichText::new(said::TYPE_WORDS_TO_SEE_THEM_HERE).small().color(palette.faint));
        }
        None => {
            ui.label(RichText::new(said::LOOKING_FOR_THE_FONTS_OF_THIS_MACHINE).small().color(palette.faint));
        }
        Some(Err(error)) => {
            words_ui(ui, RichText::new(capitalised(&error.to_string())).color(palette.wrong));
        }
        Some(Ok(set)) => {
            if let Some(carved) = carved {
                ui.label(RichText::new(said::as_carved(carved, unit)).small().color(palette.faint));
            }
            for notice in &set.notices {
                ui.horizontal_top(|ui| {
                    severity_ui(ui, 6.0, Severity::Chancy);
                    words_ui(
                        ui,
                        RichText::new(notices::line(
                            &notices::drawing(notice),
                            notices::drawing_hint(notice),
                        ))
                        .small(),
                    );
                });
            }
        }
    }
}

/// The numbers for raised characters on signs, each held against the standard.
fn tactile_ui(ui: &mut egui::Ui, dialog: &mut LetteringDialog) {
    let palette = Palette::of(ui.ctx());
    ui.checkbox(&mut dialog.tactile, said::CHECK_AS_RAISED_LETTERS_ON_A_PUBLIC)
        .on_hover_text(lettering::against_the_standard());
    if !dialog.tactile {
        return;
    }
    let Some(words) = dialog.words() else { return };
    ScrollArea::vertical().id_salt("tactile").max_height(92.0).auto_shrink([false, true]).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        for check in &words.checks {
            ui.horizontal_top(|ui| {
                let severity = match check.passes() {
                    Some(true) => Severity::Sound,
                    Some(false) => Severity::Unsound,
                    None => Severity::Chancy,
                };
                severity_ui(ui, 6.0, severity);
                words_ui(ui, RichText::new(lettering::tactile_line(check)).small());
            });
        }
        words_ui(ui, RichText::new(lettering::tactile_source()).small().color(palette.faint));
    });
}

/// Where the words go, how they are carved, and the way on.
fn foot_ui(ui: &mut egui::Ui, job: &Job, dialog: &mut LetteringDialog, commands: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        ui.label(said::CARVED);
        let before = dialog.treatment;
        ComboBox::from_id_salt("words carved")
            .width(84.0)
            .selected_text(before.label())
            .show_ui(ui, |ui| {
                for treatment in Treatment::ALL {
                    let entry = ui.selectable_label(dialog.treatment == treatment, treatment.label());
                    if entry.on_hover_text(capitalised(treatment.meaning())).clicked() {
                        dialog.is_treated = true;
                        dialog.treatment = treatment;
                    }
                }
            })
            .response
            .accessible_name(said::TREATMENT_OF_THE_WORDS);
        let spots =
            [(Spot::Above, said::ABOVE), (Spot::Middle, said::IN_THE_MIDDLE), (Spot::Below, said::BELOW)];
        if spots.iter().any(|(spot, _)| dialog.spot.as_ref() == Some(spot)) {
            for (spot, label) in spots {
                let hint = said::spot(label, &job.design().name);
                let is_chosen = dialog.spot.as_ref() == Some(&spot);
                if ui.selectable_label(is_chosen, label).on_hover_text(hint).clicked() {
                    if !dialog.is_treated {
                        dialog.treatment = treatment_at(job, Some(&spot));
                    }
                    dialog.spot = Some(spot);
                }
            }
        }
        if dialog.treatment != before {
            dialog.asked = None;
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let label = match dialog.spot {
                Some(Spot::InPlaceOf(_)) => said::CHANGE_WORDS,
                Some(_) => said::ADD_WORDS,
                None => said::OPEN_AS_A_JOB,
            };
            if ui.add_enabled(dialog.words().is_some(), Button::new(label)).clicked() {
                let words = Words { lettering: dialog.lettering.clone(), treatment: dialog.treatment };
                let words = Box::new(words);
                commands.push(match dialog.spot.clone() {
                    Some(spot) => ElementCommand::Letter(words, spot).into(),
                    None => ElementCommand::LetterNewJob(words).into(),
                });
            }
        });
    });
}
