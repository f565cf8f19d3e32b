//! How a picture is traced: its size, what of it is carved, and what is cleaned away. Lengths are as carved.

use crate::app::tracing::carved;
use crate::app::widgets::form::{heading_ui, words_ui};
use crate::app::widgets::length_field::{Field, Lengths, length_fields_ui, place_fields_ui};
use crate::app::widgets::look::Palette;
use crate::app::work::pictured::Pictured;
use crate::app::work::scene::Scene;
use crate::trace::{self, Colours, Ink, PictureSize, Settings, Tone};
use crate::units::Mm;
use crate::words;
use crate::words::window::tracing as said;
use egui::{Button, Color32, RichText, Slider};
use glam::DVec2;

/// Fields and choices; whether how large the picture is was set.
pub(crate) fn settings_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    pictured: &Pictured,
    settings: &mut Settings,
    (trouble, lengths): (Option<&str>, &mut Lengths),
    marking: &mut Option<Vec<DVec2>>,
) -> bool {
    let palette = Palette::of(ui.ctx());
    let factor = scene.job.factor();
    ui.label(RichText::new(said::heading(&pictured.name, pictured.pixels())).strong());
    match trouble {
        Some(trouble) => words_ui(ui, RichText::new(trouble).color(palette.wrong)),
        None => words_ui(ui, said::found(pictured.found.pieces_and_holes, pictured.found.specks)),
    }
    if let Ok(sharpness) = trace::sharpness(pictured.pixels(), settings) {
        let [pixel, within] = [sharpness.pixel, sharpness.width_within()].map(|mm| carved(mm, factor));
        words_ui(
            ui,
            RichText::new(words::trace::sharpness(pixel, within, scene.unit)).small().color(palette.faint),
        );
        if trace::is_blunt(within)
            && let Ok(longer) = trace::longer_side(pictured.pixels(), settings)
        {
            let pixels = trace::pixels_needed(carved(longer, factor), trace::SHARP);
            let advice = words::trace::too_coarse(pixels, trace::SHARP, scene.unit);
            words_ui(ui, RichText::new(advice).small().color(palette.faint));
        }
    }
    if !settings.without.is_empty() && ui.button(said::TAKE_EVERYTHING_BACK).clicked() {
        settings.without.clear();
    }
    ui.separator();
    let resized = size_ui(ui, pictured, settings, factor, lengths);
    sheet_ui(ui, settings, marking);
    ui.separator();
    ink_ui(ui, pictured, settings);
    ui.separator();
    cleaning_ui(ui, scene, pictured, settings, factor, lengths);
    resized
}

fn size_ui(
    ui: &mut egui::Ui,
    pictured: &Pictured,
    settings: &mut Settings,
    factor: f64,
    lengths: &mut Lengths,
) -> bool {
    heading_ui(ui, said::AS_CARVED);
    let [length, width] = pictured.found.size.map(|mm| carved(mm, factor));
    let fields = [
        Field { name: said::PICTURE_LENGTH, caption: said::LENGTH, value: length },
        Field { name: said::PICTURE_WIDTH, caption: said::WIDTH, value: width },
    ];
    let Some((index, typed)) = length_fields_ui(ui, lengths, &fields) else { return false };
    let typed = typed / factor;
    settings.size = match (settings.size, index) {
        (PictureSize::Sheet { width, corners, .. }, 0) => {
            PictureSize::Sheet { length: typed, width, corners }
        }
        (PictureSize::Sheet { length, corners, .. }, _) => {
            PictureSize::Sheet { length, width: typed, corners }
        }
        (_, 0) => PictureSize::Length(typed),
        _ => PictureSize::Width(typed),
    };
    true
}

fn sheet_ui(ui: &mut egui::Ui, settings: &mut Settings, marking: &mut Option<Vec<DVec2>>) {
    heading_ui(ui, said::SHEET);
    if let PictureSize::Sheet { length, .. } = settings.size {
        words_ui(ui, said::DRAG_A_CORNER);
        if ui.button(said::USE_THE_WHOLE_PICTURE).clicked() {
            settings.size = PictureSize::Length(length);
            settings.without.clear();
        }
    } else {
        let is_marking = marking.is_some();
        if ui.add(Button::new(said::MARK_THE_CORNERS).selected(is_marking)).clicked() {
            *marking = (!is_marking).then(Vec::new);
        }
    }
}

fn ink_ui(ui: &mut egui::Ui, pictured: &Pictured, settings: &mut Settings) {
    heading_ui(ui, said::INK);
    let tone = match &settings.ink {
        Ink::Tone(tone) => Some(*tone),
        Ink::Colours(_) => None,
    };
    ui.horizontal(|ui| {
        for (is_light, label) in [(false, said::DARK), (true, said::LIGHT)] {
            let is_chosen = tone.is_some_and(|tone| tone.is_light == is_light);
            if ui.selectable_label(is_chosen, label).clicked() && !is_chosen {
                settings.ink = Ink::Tone(Tone { is_light, level: None, ..tone.unwrap_or_default() });
            }
        }
        if ui.selectable_label(tone.is_none(), said::COLOURS).clicked() && tone.is_some() {
            settings.ink = Ink::Colours(Colours { count: 4, left_out: None });
        }
    });
    match &mut settings.ink {
        Ink::Tone(tone) => {
            let mut is_half_way = tone.level.is_none();
            if ui.checkbox(&mut is_half_way, said::HALF_WAY).changed() {
                tone.level = if is_half_way { None } else { pictured.found.level.or(Some(0.5)) };
            }
            if let Some(level) = &mut tone.level {
                let label = ui.label(said::THRESHOLD);
                let mut percent = *level * 100.0;
                let slider = Slider::new(&mut percent, 1.0..=99.0).fixed_decimals(0).suffix(" %");
                if ui.add(slider).labelled_by(label.id).changed() {
                    *level = percent / 100.0;
                }
            }
            ui.checkbox(&mut tone.even_light, said::EVEN_OUT_THE_LIGHT).on_hover_text(said::FOR_A_PHOTOGRAPH);
        }
        Ink::Colours(colours) => colours_ui(ui, pictured, colours),
    }
}

fn colours_ui(ui: &mut egui::Ui, pictured: &Pictured, colours: &mut Colours) {
    ui.horizontal(|ui| {
        let label = ui.label(said::HOW_MANY_COLOURS);
        let mut count = colours.count;
        if ui.add(Slider::new(&mut count, trace::COLOURS)).labelled_by(label.id).changed() {
            *colours = Colours { count, left_out: None };
        }
    });
    let found = &pictured.found.colours;
    for (index, colour) in found.iter().enumerate() {
        ui.horizontal(|ui| {
            let [r, g, b] = colour.rgb;
            let (rect, _) = ui.allocate_exact_size(egui::vec2(18.0, 18.0), egui::Sense::hover());
            let edge = egui::Stroke::new(1.0, Palette::of(ui.ctx()).line);
            ui.painter().rect(rect, 3.0, Color32::from_rgb(r, g, b), edge, egui::StrokeKind::Inside);
            let mut is_carved = !colour.is_paper;
            if ui.checkbox(&mut is_carved, said::colour(index + 1, colour)).changed() {
                let paper = found.iter().enumerate().filter(|(_, colour)| colour.is_paper);
                let mut left_out =
                    colours.left_out.clone().unwrap_or_else(|| paper.map(|(at, _)| at).collect());
                if is_carved {
                    left_out.remove(&index)
                } else {
                    left_out.insert(index)
                };
                colours.left_out = Some(left_out);
            }
        });
    }
}

fn cleaning_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    pictured: &Pictured,
    settings: &mut Settings,
    factor: f64,
    lengths: &mut Lengths,
) {
    heading_ui(ui, said::CLEANING);
    let fields = [
        Field { name: said::SPECKS, caption: said::SPECKS, value: carved(settings.speck, factor) },
        Field { name: said::GAPS, caption: said::GAPS, value: carved(settings.gap, factor) },
    ];
    if let Some((index, typed)) = place_fields_ui(ui, lengths, &fields) {
        let typed = Mm::new(typed.get().max(0.0)) / factor;
        *[&mut settings.speck, &mut settings.gap][index] = typed;
    }
    let button =
        ui.button(said::AS_WIDE_AS_THE_CUTTER).on_hover_text(said::LEAVES_WHAT_THE_CUTTER_CANNOT_CUT);
    if button.clicked() {
        let width = scene.job.cutter().shape.width_at(scene.job.depth()) / factor;
        (settings.speck, settings.gap) = (width, width);
    }
    ui.horizontal(|ui| {
        let label = ui.label(said::CORNERS_FROM);
        let mut degrees = settings.corner_angle.to_degrees();
        let slider = Slider::new(&mut degrees, 5.0..=180.0).fixed_decimals(0).suffix("°");
        if ui.add(slider).labelled_by(label.id).changed() {
            settings.corner_angle = degrees.to_radians();
        }
    });
    if let Ok(sharpness) = trace::sharpness(pictured.pixels(), settings) {
        let within = carved(sharpness.tolerance, factor);
        let field = Field { name: said::CURVES_WITHIN, caption: said::CURVES_WITHIN, value: within };
        if let Some((_, typed)) = length_fields_ui(ui, lengths, &[field]) {
            settings.tolerance = Some(typed / factor);
        }
    }
}
