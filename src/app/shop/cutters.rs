//! The shop's cutters: a list, and a form for those of one's own.

use crate::app::commands::command::Command;
use crate::app::widgets::form;
use crate::app::widgets::form::{Entry, entry_ui, heading_ui, number, words_ui};
use crate::app::widgets::look::Palette;
use crate::app::work::scene::Scene;
use crate::job::Edit;
use crate::proof::limit::refer_to;
use crate::shop::{Cutter, CutterPart, CutterShape, Shop, cutters, own_id};
use crate::units::{LengthUnit, Mm, parse_length, trimmed};
use crate::words::shop::wrong;
use crate::words::window::{in_percent, shop as said, with_unit};
use egui::{Button, ComboBox, RichText, ScrollArea};
use std::collections::BTreeMap;

/// The dialog's state: a cutter as it is being typed.
pub(crate) struct CutterDialog {
    draft: Draft,
}

/// The kinds of end, as a list shows them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum End {
    Flat,
    Ball,
    Vee,
    TaperedBall,
}

impl End {
    pub(crate) const ALL: [End; 4] = [End::Flat, End::Ball, End::Vee, End::TaperedBall];

    pub(crate) fn of(shape: CutterShape) -> End {
        match shape {
            CutterShape::Flat { .. } => End::Flat,
            CutterShape::Ball { .. } => End::Ball,
            CutterShape::Vee { .. } => End::Vee,
            CutterShape::TaperedBall { .. } => End::TaperedBall,
        }
    }

    pub(crate) fn label(self) -> &'static str {
        match self {
            End::Flat => said::FLAT_END,
            End::Ball => said::BALL_END,
            End::Vee => said::V_CUTTER,
            End::TaperedBall => said::TAPERED_BALL,
        }
    }
}

/// A cutter as text. What was not touched keeps its exact value, however it is rounded on screen.
struct Draft {
    /// What it was made from.
    cutter: Cutter,
    unit: LengthUnit,
    end: End,
    /// The id of the reference wall's wood.
    wood: String,
    texts: BTreeMap<CutterPart, String>,
    untouched: BTreeMap<CutterPart, String>,
}

type Reasons = BTreeMap<CutterPart, String>;

impl Draft {
    fn of(cutter: &Cutter, unit: LengthUnit) -> Draft {
        use CutterPart::{
            Across, Along, Angle, Ball, Diameter, Feed, FluteLength, Flutes, Give, Height, Lean, Name,
            PassDepth, Plunge, Source, SpindleSpeed, Stepover, Tip,
        };
        let length = |length: Mm| unit.number_fine(length);
        let degrees = |radians: f64| trimmed(radians.to_degrees(), 2);
        let diameter = cutter.shape.diameter();
        // What another shape would need starts at a likely value.
        let (angle, tip, ball, lean) = match cutter.shape {
            CutterShape::Vee { angle, tip, .. } => (degrees(angle), tip, diameter / 4.0, "5".to_owned()),
            CutterShape::TaperedBall { ball, lean, .. } => {
                ("60".to_owned(), Mm::new(0.1), ball, degrees(lean))
            }
            CutterShape::Flat { .. } | CutterShape::Ball { .. } => {
                ("60".to_owned(), Mm::new(0.1), diameter / 4.0, "5".to_owned())
            }
        };
        let reference = &cutter.reference;
        let texts: BTreeMap<CutterPart, String> = [
            (Name, cutter.name.clone()),
            (Diameter, length(diameter)),
            (Angle, angle),
            (Tip, length(tip)),
            (Ball, length(ball)),
            (Lean, lean),
            (FluteLength, length(cutter.flute_length)),
            (Flutes, cutter.flutes.to_string()),
            (Feed, length(Mm::new(cutter.feed))),
            (Plunge, length(Mm::new(cutter.plunge))),
            (SpindleSpeed, trimmed(cutter.spindle_speed, 0)),
            (PassDepth, length(cutter.pass_depth)),
            (Stepover, trimmed(cutter.stepover * 100.0, 1)),
            (Give, length(cutter.give)),
            (Along, length(reference.along)),
            (Across, reference.across.map_or_else(String::new, length)),
            (Height, length(reference.height)),
            (Source, reference.source.clone()),
        ]
        .into();
        Draft {
            cutter: cutter.clone(),
            unit,
            end: End::of(cutter.shape),
            wood: reference.wood.clone(),
            untouched: texts.clone(),
            texts,
        }
    }

    /// The cutter that is typed, or what is wrong, by the part.
    fn read(&self, shop: &Shop) -> Result<Cutter, Reasons> {
        use CutterPart::{
            Across, Along, Angle, Ball, Diameter, Feed, FluteLength, Flutes, Give, Height, Lean, Name,
            PassDepth, Plunge, Source, SpindleSpeed, Stepover, Tip,
        };
        let mut reasons = Reasons::new();
        let old = &self.cutter;
        let same_end = End::of(old.shape) == self.end;
        let mut typed = |part: CutterPart, as_it_was: Option<f64>, is_length: bool| {
            let text = &self.texts[&part];
            if let (true, Some(value)) = (*text == self.untouched[&part], as_it_was) {
                return value;
            }
            let value = if is_length {
                parse_length(text, self.unit).map(Mm::get).map_err(|error| error.to_string())
            } else {
                number(text)
            };
            value.unwrap_or_else(|reason| {
                reasons.insert(part, reason);
                f64::NAN
            })
        };
        let diameter = Mm::new(typed(Diameter, Some(old.shape.diameter().get()), true));
        let shape = match self.end {
            End::Flat => CutterShape::Flat { diameter },
            End::Ball => CutterShape::Ball { diameter },
            End::Vee => {
                let was = match old.shape {
                    CutterShape::Vee { angle, tip, .. } if same_end => {
                        (Some(angle.to_degrees()), Some(tip.get()))
                    }
                    _ => (None, None),
                };
                let angle = typed(Angle, was.0, false).to_radians();
                CutterShape::Vee { angle, tip: Mm::new(typed(Tip, was.1, true)), diameter }
            }
            End::TaperedBall => {
                let was = match old.shape {
                    CutterShape::TaperedBall { ball, lean, .. } if same_end => {
                        (Some(ball.get()), Some(lean.to_degrees()))
                    }
                    _ => (None, None),
                };
                let ball = Mm::new(typed(Ball, was.0, true));
                CutterShape::TaperedBall { ball, lean: typed(Lean, was.1, false).to_radians(), diameter }
            }
        };
        let flutes = typed(Flutes, Some(f64::from(old.flutes)), false);
        if flutes.is_finite() && flutes.fract() != 0.0 {
            reasons.insert(Flutes, said::IT_MUST_BE_A_WHOLE_NUMBER.to_owned());
            return Err(reasons);
        }
        let mut reference = old.reference.clone();
        reference.along = Mm::new(typed(Along, Some(old.reference.along.get()), true));
        // Left empty, it follows from the wall along the grain.
        reference.across = (!self.texts[&Across].trim().is_empty())
            .then(|| Mm::new(typed(Across, old.reference.across.map(Mm::get), true)));
        reference.height = Mm::new(typed(Height, Some(old.reference.height.get()), true));
        self.texts[&Source].trim().clone_into(&mut reference.source);
        if let Some(wood) = shop.woods.iter().find(|wood| wood.id == self.wood)
            && self.wood != old.reference.wood
        {
            refer_to(&mut reference, wood);
        }
        let cutter = Cutter {
            id: old.id.clone(),
            name: self.texts[&Name].trim().to_owned(),
            shape,
            flute_length: Mm::new(typed(FluteLength, Some(old.flute_length.get()), true)),
            #[expect(
                clippy::cast_sign_loss,
                reason = "a number under none becomes none, which is refused below"
            )]
            flutes: flutes as u32,
            feed: typed(Feed, Some(old.feed), true),
            plunge: typed(Plunge, Some(old.plunge), true),
            spindle_speed: typed(SpindleSpeed, Some(old.spindle_speed), false),
            give: Mm::new(typed(Give, Some(old.give.get()), true)),
            pass_depth: Mm::new(typed(PassDepth, Some(old.pass_depth.get()), true)),
            stepover: typed(Stepover, Some(old.stepover * 100.0), false) / 100.0,
            reference,
            experience: old.experience,
        };
        for problem in cutter.problems() {
            // What is no number at all has said so already.
            reasons.entry(problem.part).or_insert_with(|| wrong(&problem.wrong, self.unit));
        }
        if reasons.is_empty() { Ok(cutter) } else { Err(reasons) }
    }
}

impl CutterDialog {
    /// The dialog with this cutter in its form.
    pub(crate) fn showing(cutter: &Cutter, unit: LengthUnit) -> CutterDialog {
        CutterDialog { draft: Draft::of(cutter, unit) }
    }

    /// A copy of the cutter in the form becomes one of one's own; it is kept when that is asked for.
    fn copy(&mut self, shop: &Shop) {
        let name = said::own_copy(&self.draft.cutter.name);
        let mut cutter = self.draft.cutter.clone();
        cutter.id = own_id(&name, |id| shop.cutter(id).is_some());
        cutter.name = name;
        self.draft = Draft::of(&cutter, self.draft.unit);
    }
}

/// Whether a cutter is the shop's own: not built in, or not as it is built in.
fn is_own(cutter: &Cutter) -> bool {
    !cutters().contains(cutter)
}

/// The dialog, where it is open.
pub(crate) fn cutters_ui(
    ctx: &egui::Context,
    scene: &Scene,
    dialog: &mut Option<CutterDialog>,
    commands: &mut Vec<Command>,
) {
    let Scene { shop, unit, .. } = *scene;
    let used = scene.job.cutter();
    let Some(open) = dialog else { return };
    if open.draft.unit != unit {
        *open = CutterDialog::showing(&open.draft.cutter, unit);
    }
    let modal = egui::Modal::new(egui::Id::unique("cutters")).show(ctx, |ui| {
        ui.set_width(800.0);
        ui.heading(said::CUTTERS);
        ui.horizontal_top(|ui| {
            ui.vertical(|ui| {
                ui.set_width(210.0);
                list_ui(ui, shop, used, open);
            });
            ui.separator();
            ui.vertical(|ui| form_ui(ui, shop, used, open, commands));
        });
    });
    if form::is_closing(ctx, &modal) {
        *dialog = None;
    }
}

fn list_ui(ui: &mut egui::Ui, shop: &Shop, used: &Cutter, dialog: &mut CutterDialog) {
    let palette = Palette::of(ui.ctx());
    ScrollArea::vertical().max_height(430.0).auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        for (heading, own) in [(said::OWN, true), (said::BUILT_IN, false)] {
            heading_ui(ui, heading);
            let of_kind: Vec<&Cutter> = shop.cutters.iter().filter(|cutter| is_own(cutter) == own).collect();
            if of_kind.is_empty() {
                words_ui(ui, RichText::new(said::NONE_YET_COPY_A_BUILT_IN_ONE).small().color(palette.faint));
            }
            for cutter in of_kind {
                let chosen = dialog.draft.cutter.id == cutter.id;
                let name =
                    if cutter.id == used.id { said::in_use(&cutter.name) } else { cutter.name.clone() };
                let entry = ui.add(Button::selectable(chosen, name).truncate());
                if entry.on_hover_text(&cutter.id).clicked() {
                    *dialog = CutterDialog::showing(cutter, dialog.draft.unit);
                }
            }
        }
    });
}

fn form_ui(
    ui: &mut egui::Ui,
    shop: &Shop,
    used: &Cutter,
    dialog: &mut CutterDialog,
    commands: &mut Vec<Command>,
) {
    let palette = Palette::of(ui.ctx());
    let listed = shop.cutters.iter().find(|cutter| cutter.id == dialog.draft.cutter.id);
    let editable = listed.is_none_or(is_own);
    let read = dialog.draft.read(shop);
    let nothing_wrong = Reasons::new();
    let reasons = read.as_ref().err().unwrap_or(&nothing_wrong);
    let draft = &mut dialog.draft;
    ui.add_enabled_ui(editable, |ui| fields_ui(ui, shop, draft, reasons));
    ui.add_space(6.0);
    let (mut copy, mut close) = (false, false);
    ui.horizontal(|ui| {
        let changed = read.as_ref().is_ok_and(|cutter| listed != Some(cutter));
        if editable {
            let keep = ui.add_enabled(changed, Button::new(said::KEEP_CUTTER));
            if let (true, Ok(cutter)) = (keep.clicked(), &read) {
                commands.push(Command::KeepCutter(Box::new(cutter.clone())));
                *draft = Draft::of(cutter, draft.unit);
            }
        }
        let use_it = ui.add_enabled(
            listed.is_some_and(|listed| listed != used) && !(editable && changed),
            Button::new(said::USE_IN_THIS_JOB),
        );
        if use_it.clicked() {
            commands.extend(listed.map(|listed| Command::Edit(Edit::Cutter(Box::new(listed.clone())))));
            close = true;
        }
        copy = ui.button(said::COPY).on_hover_text(said::MAKE_ONE_OF_YOUR_OWN_FROM_IT).clicked();
        if editable
            && listed.is_some()
            && ui.button(said::REMOVE).on_hover_text(said::TAKE_IT_OUT_OF_YOUR_OWN_LIST).clicked()
        {
            commands.push(Command::RemoveCutter(draft.cutter.id.clone()));
            let other = cutters().iter().find(|cutter| cutter.id == draft.cutter.id).unwrap_or(&cutters()[0]);
            *draft = Draft::of(other, draft.unit);
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            close |= ui.button(said::CLOSE).clicked();
        });
    });
    let hint = if editable {
        said::TYPE_LENGTHS_IN_MM_OR_INCHES_WITH
    } else {
        said::THIS_CUTTER_IS_BUILT_IN_COPY_IT
    };
    ui.label(RichText::new(hint).small().color(palette.faint));
    if copy {
        dialog.copy(shop);
    }
    if close {
        ui.close();
    }
}

fn fields_ui(ui: &mut egui::Ui, shop: &Shop, draft: &mut Draft, reasons: &Reasons) {
    use CutterPart::{
        Across, Along, Angle, Ball, Diameter, Feed, FluteLength, Flutes, Give, Height, Lean, Name, PassDepth,
        Plunge, Source, SpindleSpeed, Stepover, Tip,
    };
    let palette = Palette::of(ui.ctx());
    let unit = draft.unit;
    let caption = |part: CutterPart| match part {
        Name => (said::CUTTER_NAME, said::NAME.to_owned()),
        Diameter => (said::CUTTER_DIAMETER, with_unit(said::DIAMETER, unit)),
        Angle => (said::CUTTER_ANGLE, said::ANGLE_DEGREES.to_owned()),
        Tip => (said::CUTTER_TIP, with_unit(said::FLAT_AT_THE_TIP, unit)),
        Ball => (said::CUTTER_BALL, with_unit(said::BALL, unit)),
        Lean => (said::CUTTER_LEAN, said::TAPER_PER_SIDE_DEGREES.to_owned()),
        FluteLength => (said::FLUTE_LENGTH, with_unit(said::FLUTE_LENGTH, unit)),
        Flutes => (said::FLUTES, said::FLUTES.to_owned()),
        Feed => (said::FEED, said::per_minute(said::FEED, unit)),
        Plunge => (said::PLUNGE, said::per_minute(said::PLUNGE, unit)),
        SpindleSpeed => (said::SPINDLE_SPEED, said::TURNS_A_MINUTE.to_owned()),
        PassDepth => (said::PASS_DEPTH, with_unit(said::PASS_DEPTH, unit)),
        Stepover => (said::STEPOVER, in_percent(said::STEPOVER)),
        Give => (said::GIVE_OF_A_WALL, with_unit(said::GIVE_OF_A_WALL, unit)),
        Along => (said::REFERENCE_WALL_ALONG, with_unit(said::ALONG_THE_GRAIN, unit)),
        Across => (said::REFERENCE_WALL_ACROSS, with_unit(said::ACROSS_IF_MEASURED, unit)),
        Height => (said::REFERENCE_WALL_HEIGHT, with_unit(said::HEIGHT, unit)),
        Source => (said::REFERENCE_WALL_SOURCE, said::SOURCE.to_owned()),
    };
    let row_ui = |ui: &mut egui::Ui, texts: &mut BTreeMap<CutterPart, String>, parts: &[CutterPart]| {
        ui.columns(4, |columns| {
            for (ui, &part) in columns.iter_mut().zip(parts) {
                let (name, caption) = caption(part);
                let wrong = reasons.get(&part).map(String::as_str);
                entry_ui(ui, texts.entry(part).or_default(), &Entry { name, caption: &caption, wrong });
            }
        });
    };
    ui.columns(2, |columns| {
        let wrong = reasons.get(&Name).map(String::as_str);
        let text = draft.texts.entry(Name).or_default();
        entry_ui(&mut columns[0], text, &Entry { name: said::CUTTER_NAME, caption: said::NAME, wrong });
        let ui = &mut columns[1];
        ui.spacing_mut().item_spacing.y = 1.0;
        ui.label(RichText::new(said::SHAPE).small().color(palette.faint));
        let combo = ComboBox::from_id_salt("shape").width(160.0).selected_text(draft.end.label());
        let response = combo.show_ui(ui, |ui| {
            for end in End::ALL {
                ui.selectable_value(&mut draft.end, end, end.label());
            }
        });
        response.response.accessible_name(said::CUTTER_SHAPE);
    });
    let of_shape: &[CutterPart] = match draft.end {
        End::Flat | End::Ball => &[Diameter],
        End::Vee => &[Diameter, Angle, Tip],
        End::TaperedBall => &[Diameter, Ball, Lean],
    };
    row_ui(ui, &mut draft.texts, of_shape);
    row_ui(ui, &mut draft.texts, &[FluteLength, Flutes, PassDepth, Stepover]);
    row_ui(ui, &mut draft.texts, &[Feed, Plunge, SpindleSpeed, Give]);
    heading_ui(ui, said::REFERENCE_WALL);
    words_ui(
        ui,
        RichText::new(said::THE_THINNEST_WALL_THIS_CUTTER_LEAVES_WHOLE).small().color(palette.faint),
    );
    row_ui(ui, &mut draft.texts, &[Along, Across, Height]);
    ui.columns(2, |columns| {
        let ui = &mut columns[0];
        ui.spacing_mut().item_spacing.y = 1.0;
        ui.label(RichText::new(said::IN_THIS_WOOD).small().color(palette.faint));
        let now = shop.woods.iter().find(|wood| wood.id == draft.wood);
        let shown = now.map_or_else(
            || {
                draft
                    .cutter
                    .reference
                    .shops_wood
                    .as_ref()
                    .map_or(draft.wood.clone(), |wood| wood.name.clone())
            },
            |wood| wood.name.clone(),
        );
        let combo = ComboBox::from_id_salt("reference wood").width(240.0).truncate().selected_text(shown);
        let response = combo.show_ui(ui, |ui| {
            for wood in &shop.woods {
                ui.selectable_value(&mut draft.wood, wood.id.clone(), &wood.name);
            }
        });
        response.response.accessible_name(said::REFERENCE_WALL_WOOD);
        let wrong = reasons.get(&Source).map(String::as_str);
        let text = draft.texts.entry(Source).or_default();
        let entry = Entry { name: said::REFERENCE_WALL_SOURCE, caption: said::SOURCE, wrong };
        entry_ui(&mut columns[1], text, &entry);
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cutter_that_is_not_touched_is_read_back_to_the_last_bit() {
        let shop = Shop::built_in();
        for unit in LengthUnit::ALL {
            for cutter in cutters() {
                let read = Draft::of(cutter, unit).read(&shop).unwrap();
                assert_eq!(read.name, cutter.name);
                assert_eq!(read.shape.diameter(), cutter.shape.diameter());
                assert_eq!(read.flute_length, cutter.flute_length);
                assert_eq!((read.feed, read.plunge), (cutter.feed, cutter.plunge));
                assert_eq!(read.reference, cutter.reference);
            }
        }
    }

    #[test]
    fn what_makes_no_sense_is_told_by_its_part() {
        let shop = Shop::built_in();
        let mut draft = Draft::of(&cutters()[0], LengthUnit::Millimetres);
        draft.texts.insert(CutterPart::Feed, "fast".to_owned());
        draft.texts.insert(CutterPart::Flutes, "0".to_owned());
        let reasons = draft.read(&shop).unwrap_err();
        assert!(reasons[&CutterPart::Feed].contains("fast"), "{reasons:?}");
        assert!(reasons[&CutterPart::Flutes].contains("from 1 to 12"), "{reasons:?}");
        assert_eq!(reasons.len(), 2);
    }
}
