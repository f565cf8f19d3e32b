//! The size strip: thinnest wall and thinnest groove against size, with the limits that do not move.
//!
//! A width at another size is the width as drawn times the factor, so both lines run straight from the
//! origin; the limits lie level. Where a line crosses its limit is what the strip is there to show.

use crate::app::commands::command::Command;
use crate::app::findings::view::StripAxis;
use crate::app::widgets::look::{ORANGE, Palette, VERMILLION};
use crate::app::widgets::plot::still_plot;
use crate::app::work::proofed::Proofed;
use crate::app::work::scene::Scene;
use crate::job::{Edit, Size};
use crate::units::{LengthUnit, Mm, parse_length};
use crate::words::window::{findings as said, ruler_mark, with_unit};
use egui::{Align2, Color32, FontId, RichText, Sense, Stroke, pos2, vec2};
use egui_plot::{GridInput, GridMark, HLine, Line, LineStyle, PlotBounds, PlotPoint, Span, VLine};

/// The lengths that the strip spans and marks, all in millimetres of finished length.
struct Marks {
    now: f64,
    /// Finished length of the design as drawn.
    drawn: f64,
    largest: f64,
    least_sound: Option<f64>,
    /// Where the strip ends.
    end: f64,
    /// Whether widths are drawn by their square roots: what is far under its limit would lie on the axis else.
    is_rooted: bool,
}

/// Under this share of its limit at the end of the strip a width could not be told from nothing: a round value of our
/// own.
const FINE: f64 = 0.25;

impl Marks {
    fn of(scene: &Scene, axis: StripAxis) -> Marks {
        let proof = &scene.shown.proof;
        let drawn = proof.length.get() / proof.factor;
        // The handle follows the hand, however long a proof takes.
        let (now, largest) = (scene.size()[0].get(), proof.fit.largest_factor * drawn);
        let least_sound = proof.thinnest.sound_factor.map(|factor| factor * drawn).filter(|x| x.is_finite());
        // A sound size far beyond the board would squeeze everything else into a corner.
        let near = now.max(largest);
        let reach = least_sound.map_or(near, |least| near.max(least.min(2.0 * near)));
        let end = axis.end(now, largest, 1.12 * reach.max(1e-3));
        let limits = proof.limits.usual();
        let is_fine = |(width, limit): (Option<Mm>, Mm)| {
            width.is_some_and(|width| width.get() * (end / now) < FINE * limit.get())
        };
        let wall = (proof.thinnest.wall, limits.along.max(limits.across));
        let is_rooted = [wall, (proof.thinnest.groove, limits.groove)].into_iter().any(is_fine);
        Marks { now, drawn, largest, least_sound, end, is_rooted }
    }

    /// How high a width in the unit of the axis is drawn.
    fn height(&self, width: f64) -> f64 {
        if self.is_rooted { width.max(0.0).sqrt() } else { width }
    }
}

/// The strip with its handle.
pub(crate) fn size_strip_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    axis: &mut StripAxis,
    commands: &mut Vec<Command>,
) {
    let Scene { shown, unit, .. } = *scene;
    let marks = Marks::of(scene, *axis);
    head_ui(ui, scene, &marks, commands);
    plot_ui(ui, shown, &marks, unit, axis, commands);
}

/// The strip's handle without its lines, where there is no room for both and the board.
pub(crate) fn size_handle_ui(ui: &mut egui::Ui, scene: &Scene, axis: StripAxis, commands: &mut Vec<Command>) {
    head_ui(ui, scene, &Marks::of(scene, axis), commands);
}

/// The slider: the same handle for keyboard, screen reader and test.
fn head_ui(ui: &mut egui::Ui, scene: &Scene, marks: &Marks, commands: &mut Vec<Command>) {
    let Scene { shown, unit, .. } = *scene;
    let [finished_length, finished_width] = scene.size();
    let palette = Palette::of(ui.ctx());
    ui.horizontal(|ui| {
        ui.label(RichText::new(said::SIZE).strong().size(14.5));
        let mut length = marks.now;
        ui.spacing_mut().slider_width = (ui.available_width() * 0.22).clamp(60.0, 260.0);
        let slider = egui::Slider::new(&mut length, 0.01 * marks.end..=marks.end)
            .clamping(egui::SliderClamping::Never)
            .custom_formatter(move |value, _| unit.show(Mm::new(value)))
            .custom_parser(move |text| parse_length(text, unit).ok().map(Mm::get).filter(|mm| *mm > 0.0));
        let response = ui
            .add(slider)
            .on_hover_text(said::finished_length(finished_length, unit))
            .accessible_name(said::SIZE_HANDLE);
        if response.changed() && length > 0.0 {
            let length = if response.dragged() { snapped(length, marks.end, unit) } else { length };
            commands.push(Command::Edit(Edit::Size(Size::Length(Mm::new(length)))));
        }
        ui.label(said::by_width(finished_width, unit))
            .on_hover_text(said::finished_width(finished_width, unit));
        // In a narrow window the rest is left to the cards and the plot.
        if ui.available_width() < 60.0 {
            return;
        }
        ui.label(RichText::new(said::scale(scene.factor())).color(palette.faint))
            .on_hover_text(said::times_as_large(scene.factor()));
        if ui.available_width() < 262.0 {
            return;
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let thinnest = &shown.proof.thinnest;
            let grooves =
                thinnest.groove.map(|width| [said::groove(width, unit), said::thinnest_groove(width, unit)]);
            let walls =
                thinnest.wall.map(|width| [said::wall(width, unit), said::thinnest_wall(width, unit)]);
            for (words, color, dashed) in [(grooves, palette.groove, true), (walls, palette.wall, false)] {
                let Some([words, hint]) = words else { continue };
                let text = RichText::new(words).color(color);
                ui.add(egui::Label::new(text).truncate()).on_hover_text(hint);
                line_sample_ui(ui, color, dashed);
            }
        });
    });
}

/// A bit of the line that stands for what is named beside it.
fn line_sample_ui(ui: &mut egui::Ui, color: Color32, dashed: bool) {
    let (rect, _) = ui.allocate_exact_size(vec2(24.0, 10.0), Sense::hover());
    let ends = [rect.left_center(), rect.right_center()];
    let stroke = Stroke::new(2.5, color);
    if dashed {
        ui.painter().extend(egui::Shape::dashed_line(&ends, stroke, 6.0, 3.0));
    } else {
        ui.painter().line_segment(ends, stroke);
    }
}

/// A dragged length goes in steps that a rule shows, as fine as a pixel or two allows.
fn snapped(length: f64, strip_length: f64, unit: LengthUnit) -> f64 {
    let steps: &[f64] = match unit {
        LengthUnit::Millimetres => &[5.0, 1.0, 0.5, 0.1],
        LengthUnit::InchDecimal => &[2.54, 1.27, 0.254],
        LengthUnit::InchSixteenth => &[6.35, 3.175, 1.5875],
        LengthUnit::InchFraction => &[6.35, 3.175, 1.5875, 0.793_75],
        LengthUnit::InchSixtyFourth => &[6.35, 3.175, 1.5875, 0.793_75, 0.396_875],
    };
    let step = steps.iter().copied().find(|step| *step < strip_length / 300.0);
    let step = step.unwrap_or(strip_length / 3000.0);
    ((length / step).round() * step).max(step)
}

fn plot_ui(
    ui: &mut egui::Ui,
    shown: &Proofed,
    marks: &Marks,
    unit: LengthUnit,
    axis: &mut StripAxis,
    commands: &mut Vec<Command>,
) {
    let palette = Palette::of(ui.ctx());
    let one = unit.one().get();
    let limits = shown.proof.limits.usual();
    let top = 2.3 * limits.across.max(limits.along).max(limits.groove).get().max(0.05);
    let (held, now, end) = (axis.is_held, marks.now, marks.end);
    let rooted = marks.is_rooted;
    let plot = still_plot(said::SIZE_STRIP)
        .show_axes([true, true])
        .sense(Sense::click_and_drag())
        .x_grid_spacer(move |input| marks_every(&input, unit))
        .y_grid_spacer(
            move |input| if rooted { rooted_marks(&input, unit) } else { marks_every(&input, unit) },
        )
        .x_axis_formatter(move |mark, _| ruler_mark(unit, Mm::new(mark.value * one)))
        .y_axis_formatter(move |mark, _| {
            let width = if rooted { mark.value * mark.value } else { mark.value };
            ruler_mark(unit, Mm::new(width * one))
        })
        .x_axis_label(RichText::new(with_unit(said::FINISHED_LENGTH, unit)).small())
        .y_axis_label(RichText::new(with_unit(said::WIDTH, unit)).small())
        .y_axis_min_width(34.0)
        .label_formatter(move |position| {
            let position = match position {
                egui_plot::HoverPosition::NearDataPoint { position, .. }
                | egui_plot::HoverPosition::Elsewhere { position } => position,
            };
            // The handle says it better while it is held.
            // Elsewhere: what a click would make of it.
            let length = position.x * one;
            let is_at_handle = (length - now).abs() < 0.008 * end;
            let length = if is_at_handle { now } else { snapped(length.max(0.0), end, unit) };
            (!held).then(|| said::long(Mm::new(length), unit))
        });
    let slopes = [
        (said::THINNEST_WALL, shown.proof.thinnest.wall, palette.wall, LineStyle::Solid),
        (said::THINNEST_GROOVE, shown.proof.thinnest.groove, palette.groove, LineStyle::dashed_loose()),
    ];
    let inner = plot.show(ui, |plot_ui| {
        plot_ui.set_plot_bounds(PlotBounds::from_min_max(
            [0.0, 0.0],
            [marks.end / one, marks.height(top / one)],
        ));
        if let Some(least) = marks.least_sound {
            plot_ui.span(
                Span::new("", 0.0..=least.min(marks.end) / one)
                    .fill(VERMILLION.gamma_multiply(0.12))
                    .border_color(Color32::TRANSPARENT),
            );
        }
        if marks.largest < marks.end {
            plot_ui.span(
                Span::new("", marks.largest / one..=marks.end / one)
                    .fill(palette.faint.gamma_multiply(0.18))
                    .border_color(Color32::TRANSPARENT),
            );
        }
        for (limit, color) in
            [(limits.along, palette.wall), (limits.across, palette.wall), (limits.groove, palette.groove)]
        {
            plot_ui.hline(
                HLine::new("", marks.height(limit.get() / one)).color(color.gamma_multiply(0.8)).width(1.0),
            );
        }
        for (name, width, color, style) in slopes {
            let Some(width) = width else { continue };
            let points = slope_of(width.get() / marks.now, marks, one);
            plot_ui.line(Line::new(name, points).color(color).width(2.5).style(style).allow_hover(false));
        }
        if let Some(least) = marks.least_sound.filter(|least| *least < marks.end) {
            plot_ui.vline(VLine::new("", least / one).color(ORANGE).width(1.5));
        }
        plot_ui.vline(
            VLine::new("", marks.largest / one)
                .color(palette.faint)
                .width(1.5)
                .style(LineStyle::Dashed { length: 5.0 }),
        );
    });

    let held = inner.response.is_pointer_button_down_on() || inner.response.drag_stopped();
    let pointer = inner.response.interact_pointer_pos().map(|at| inner.transform.value_from_position(at));
    *axis = StripAxis { end: marks.end, is_held: held };
    if let (true, Some(at)) = (held, pointer) {
        let length = snapped((at.x * one).clamp(0.01 * marks.end, marks.end), marks.end, unit);
        if (length - marks.now).abs() > 1e-9 {
            commands.push(Command::Edit(Edit::Size(Size::Length(Mm::new(length)))));
        }
    }
    let response = inner.response.on_hover_cursor(egui::CursorIcon::ResizeHorizontal);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Canvas, true, strip_in_words(shown, unit)));
    annotate(ui, shown, marks, &inner.transform, response.rect, unit);
}

/// A width against the finished length, in the unit of the axes: straight from the origin, or by its root.
fn slope_of(slope: f64, marks: &Marks, one: f64) -> Vec<[f64; 2]> {
    // A straight line has two points; a root takes more, close together where it bends.
    let steps = if marks.is_rooted { 48 } else { 1 };
    let length = |step: i32| (f64::from(step) / f64::from(steps)).powi(2) * marks.end / one;
    (0..=steps).map(length).map(|length| [length, marks.height(slope * length)]).collect()
}

/// What the strip shows, for whoever hears it.
fn strip_in_words(shown: &Proofed, unit: LengthUnit) -> String {
    let proof = &shown.proof;
    let drawn = proof.length / proof.factor;
    let least = proof.thinnest.sound_factor.map(|least| drawn * least);
    said::strip(proof.length, least, drawn * proof.fit.largest_factor, unit)
}

/// Grid lines where a rule of this unit has its marks.
fn marks_every(input: &GridInput, unit: LengthUnit) -> Vec<GridMark> {
    let (low, high) = input.bounds;
    let span = (high - low).max(1e-9);
    let step = if unit.parts().is_some() {
        (span / 5.0).log2().ceil().exp2()
    } else {
        let rough = span / 5.0;
        let decade = 10f64.powf(rough.log10().floor());
        [1.0, 2.0, 5.0, 10.0].into_iter().map(|m| m * decade).find(|s| *s >= rough).unwrap_or(rough)
    };
    let first = (low / step).ceil() as i64;
    (0..=12)
        .map(|i| GridMark { value: (first + i) as f64 * step, step_size: step })
        .filter(|mark| mark.value <= high)
        .collect()
}

/// The same where heights are square roots.
fn rooted_marks(input: &GridInput, unit: LengthUnit) -> Vec<GridMark> {
    let (low, high) = input.bounds;
    let bounds = (low.max(0.0).powi(2), high.max(0.0).powi(2));
    let marks = marks_every(&GridInput { bounds, ..*input }, unit);
    let apart = (high - low) / 6.0;
    marks.into_iter().map(|mark| GridMark { value: mark.value.max(0.0).sqrt(), step_size: apart }).collect()
}

/// Words and the handle, over the plot.
fn annotate(
    ui: &egui::Ui,
    shown: &Proofed,
    marks: &Marks,
    transform: &egui_plot::PlotTransform,
    plot: egui::Rect,
    unit: LengthUnit,
) {
    let palette = Palette::of(ui.ctx());
    let one = unit.one().get();
    let painter = ui.painter().with_clip_rect(plot);
    let font = FontId::proportional(12.0);
    let at = |x: f64, y: f64| transform.position_from_point(&PlotPoint::new(x / one, marks.height(y / one)));
    let x_now = at(marks.now, 0.0).x;
    let grip = egui::Rect::from_center_size(pos2(x_now, plot.bottom() - 16.0), vec2(14.0, 24.0));
    // Words go to the first of their places that is free, and are left out where none is: all of them
    // can be read elsewhere.
    let mut taken =
        vec![grip.expand(2.0), egui::Rect::from_x_y_ranges(x_now - 2.0..=x_now + 2.0, plot.y_range())];
    let mut name = |words: String, color: Color32, places: &[(egui::Pos2, Align2)]| {
        let galley = painter.layout_no_wrap(words, font.clone(), color);
        let rects = places.iter().map(|(place, align)| align.anchor_size(*place, galley.size()));
        let free = |rect: &egui::Rect| {
            plot.contains_rect(*rect) && !taken.iter().any(|other| other.intersects(*rect))
        };
        if let Some(rect) = rects.into_iter().find(free) {
            taken.push(rect.expand2(vec2(4.0, 0.0)));
            painter.rect_filled(rect.expand2(vec2(3.0, 0.0)), 3.0, palette.card.gamma_multiply(0.82));
            painter.galley(rect.min, galley, color);
        }
    };

    // Upright lines, named at the top.
    let upright = |x: f64| {
        let x = at(x, 0.0).x;
        let rows = [plot.top() + 2.0, plot.top() + 18.0, plot.top() + 34.0];
        rows.map(|y| [(pos2(x - 5.0, y), Align2::RIGHT_TOP), (pos2(x + 5.0, y), Align2::LEFT_TOP)]).concat()
    };
    match marks.least_sound {
        Some(least) if least < marks.end => {
            let words = said::sound_from(Mm::new(least), unit);
            name(words, palette.ink, &upright(least));
        }
        Some(least) => {
            let words = said::sound_from_beyond(Mm::new(least), unit);
            name(words, palette.ink, &upright(marks.end));
        }
        None => {}
    }
    let words = said::board_takes(Mm::new(marks.largest), unit);
    name(words, palette.ink, &upright(marks.largest));

    // Limits, named at the right, where the lines have mostly left the picture; the names of limits
    // that lie close together step aside.
    let limits = shown.proof.limits.usual();
    for (words, limit, color) in [
        (said::wall_across(limits.across, unit), limits.across, palette.wall),
        (said::wall_along(limits.along, unit), limits.along, palette.wall),
        (said::groove_for_cutter(limits.groove, unit), limits.groove, palette.groove),
    ] {
        let y = at(0.0, limit.get()).y;
        let places: Vec<_> =
            (0..12).map(|i| (pos2(plot.right() - 6.0 - 48.0 * i as f32, y), Align2::RIGHT_CENTER)).collect();
        name(words, color, &places);
    }

    let drawn_x = at(marks.drawn, 0.0).x;
    painter.line_segment(
        [pos2(drawn_x, plot.bottom() - 7.0), pos2(drawn_x, plot.bottom())],
        Stroke::new(2.0, palette.faint),
    );

    // The handle.
    painter.vline(x_now, plot.y_range(), Stroke::new(2.0, palette.accent));
    for (width, color) in
        [(shown.proof.thinnest.wall, palette.wall), (shown.proof.thinnest.groove, palette.groove)]
    {
        let Some(width) = width else { continue };
        let y = at(0.0, width.get()).y.clamp(plot.top() + 5.0, plot.bottom());
        painter.circle(pos2(x_now, y), 4.5, palette.card, Stroke::new(2.0, color));
    }
    painter.rect(grip, 4.0, palette.accent, Stroke::new(1.0, palette.card), egui::StrokeKind::Outside);
    for dx in [-3.0, 0.0, 3.0] {
        painter.line_segment(
            [grip.center() + vec2(dx, -6.0), grip.center() + vec2(dx, 6.0)],
            Stroke::new(1.0, palette.card),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dragged_length_is_one_a_rule_shows() {
        assert_eq!(snapped(301.3, 600.0, LengthUnit::Millimetres), 301.0);
        assert!(
            (snapped(300.9, 600.0, LengthUnit::InchFraction) - 190.0 * 25.4 / 16.0).abs() < 1e-9,
            "not a sixteenth"
        );
        // A design of a millimetre or two can still be dragged.
        assert!(snapped(1.0, 2.0, LengthUnit::Millimetres) > 0.9);
        assert!(snapped(0.0, 2.0, LengthUnit::Millimetres) > 0.0);
    }

    #[test]
    fn the_grid_is_drawn_where_a_rule_has_marks() {
        let marks = |span: f64, unit| {
            let input = GridInput { bounds: (0.0, span), base_step_size: 1.0 };
            marks_every(&input, unit).iter().map(|mark| mark.value).collect::<Vec<_>>()
        };
        assert_eq!(marks(7.0, LengthUnit::Millimetres), [0.0, 2.0, 4.0, 6.0]);
        assert_eq!(marks(0.25, LengthUnit::InchFraction), [0.0, 0.0625, 0.125, 0.1875, 0.25]);
    }
}
