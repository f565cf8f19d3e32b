//! The list of typefaces, each by its name in its own letters.

use crate::app::widgets::image::color_image;
use crate::app::widgets::look::Palette;
use crate::app::work::{Bring, Lane, Stage, Workers};
use crate::design::face::{BUILT_IN, Fonts};
use crate::sheet::picture::name_in_its_typeface;
use crate::words::window::elements as said;
use egui::{
    Button, ColorImage, Label, Rect, RichText, ScrollArea, Stroke, TextEdit, TextureHandle, TextureOptions,
    pos2, vec2,
};
use std::collections::BTreeMap;

/// How tall a row is, in points.
const ROW: f32 = 24.0;
/// How tall the list is.
const LIST: f32 = 4.0 * ROW;
/// How tall the picture of a name is and how wide at most, in pixels: two to a point, so that it is sharp on fine
/// screens too.
const PIXELS: [u32; 2] = [48, 500];
/// Names that are kept as pictures; once there are more, those out of sight are drawn anew. A round value of our own.
const MOST_KEPT: usize = 300;

/// What is searched for, and the names that were drawn.
#[derive(Default)]
pub(crate) struct Typefaces {
    /// Letters of the name.
    search: String,
    /// Names in sight.
    seen: Vec<String>,
    /// Names in their own letters; `None` where a typeface has not all of them.
    drawn: BTreeMap<String, Option<TextureHandle>>,
}

/// Names of typefaces, each in its own letters where it has them.
pub(crate) struct DrawnNames(Vec<(String, Option<ColorImage>)>);

impl Typefaces {
    /// Has those names drawn that came into sight.
    pub(crate) fn start_needed_work<D: Bring<DrawnNames>>(&mut self, workers: &mut Workers<D>) {
        if workers.busy(Lane::Typefaces) {
            return;
        }
        let wanted: Vec<String> =
            self.seen.iter().filter(|name| !self.drawn.contains_key(*name)).cloned().collect();
        let Some(first) = wanted.first() else { return };
        workers.start(Lane::Typefaces, Stage::Lettering, first.clone(), move |_| {
            let drawn = |name: String| {
                let [height, widest] = PIXELS;
                let picture = name_in_its_typeface(Fonts::of_machine(), &name, height, widest);
                (name, picture.map(|picture| color_image(&picture)))
            };
            Some(DrawnNames(wanted.into_iter().map(drawn).collect()).into())
        });
    }

    /// Takes in names that were drawn.
    pub(crate) fn take(&mut self, ctx: &egui::Context, drawn: DrawnNames) {
        if self.drawn.len() > MOST_KEPT {
            self.drawn.clear();
        }
        for (name, picture) in drawn.0 {
            let texture = picture.map(|picture| ctx.load_texture(&name, picture, TextureOptions::LINEAR));
            self.drawn.insert(name, texture);
        }
    }

    /// Leaves the names in sight as they are: drawing them broke off.
    pub(crate) fn give_up(&mut self) {
        self.drawn.extend(self.seen.drain(..).map(|name| (name, None)));
    }
}

/// The typefaces there are, by a few letters of their names; `are_known` once those of the machine were looked up.
pub(crate) fn typefaces_ui(ui: &mut egui::Ui, typefaces: &mut Typefaces, font: &mut String, are_known: bool) {
    let palette = Palette::of(ui.ctx());
    let caption = RichText::new(said::font(font)).small().color(palette.faint);
    ui.add(Label::new(caption).truncate());
    let field = TextEdit::singleline(&mut typefaces.search).hint_text(said::A_FEW_LETTERS_OF_ITS_NAME);
    ui.add(field.desired_width(f32::INFINITY)).accessible_name(said::LETTERS_OF_THE_FONTS_NAME);
    // The fonts of the machine are looked up on the thread that sets the first words.
    let names: Vec<&str> = if are_known { Fonts::of_machine().names().collect() } else { vec![BUILT_IN] };
    let wanted = typefaces.search.trim().to_lowercase();
    let matches = |name: &str| wanted.split_whitespace().all(|part| name.to_lowercase().contains(part));
    let found: Vec<&str> = names.into_iter().filter(|name| matches(name)).collect();
    let frame =
        egui::Frame::new().stroke(Stroke::new(1.0, palette.line)).corner_radius(4.0).inner_margin(2.0);
    frame.show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        ui.set_width(ui.available_width());
        ui.set_height(LIST);
        if found.is_empty() {
            ui.label(said::NO_FONT_ON_THIS_MACHINE_HAS_THAT);
        }
        ScrollArea::vertical().id_salt("fonts").auto_shrink(false).show_rows(
            ui,
            ROW,
            found.len(),
            |ui, rows| {
                typefaces.seen = found[rows.clone()].iter().map(|name| (*name).to_owned()).collect();
                for name in &found[rows] {
                    let drawn = typefaces.drawn.get(*name).and_then(Option::as_ref);
                    if name_ui(ui, name, drawn, *font == **name).clicked() {
                        (*name).clone_into(font);
                    }
                }
            },
        );
    });
}

/// A row: a name in its own letters, or in those of the window until they are drawn.
fn name_ui(ui: &mut egui::Ui, name: &str, drawn: Option<&TextureHandle>, is_chosen: bool) -> egui::Response {
    let palette = Palette::of(ui.ctx());
    let size = vec2(ui.available_width(), ROW);
    let Some(texture) = drawn else {
        return ui.add(Button::selectable(is_chosen, name).truncate().min_size(size));
    };
    let response = ui.add(Button::selectable(is_chosen, "").min_size(size));
    let picture = texture.size_vec2() * (ROW / texture.size_vec2().y);
    let left = response.rect.left() + ui.spacing().button_padding.x;
    let room = response.rect.right() - left;
    let picture = picture * (room / picture.x).min(1.0);
    let at = pos2(left, response.rect.center().y - picture.y / 2.0);
    let whole = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
    ui.painter().image(texture.id(), Rect::from_min_size(at, picture), whole, palette.ink);
    response.on_hover_text(name).accessible_name(name)
}
