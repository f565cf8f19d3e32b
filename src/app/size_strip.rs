//! The size strip: thinnest wall and thinnest groove against size, with the limits that do not move.
//!
//! A width at another size is the width as drawn times the factor, so both lines run straight from the
//! origin; the limits lie level. Where a line crosses its limit is what the strip is there to show.

use super::ViewState;
use super::command::{Command, Setting};
use super::look::{ORANGE, Palette, VERMILLION};
use super::worker::Proofed;
use crate::job::Size;
use crate::units::{LengthUnit, Mm, parse_length};
use egui::{Align2, Color32, FontId, RichText, Sense, Stroke, pos2, vec2};
use egui_plot::{GridInput, GridMark, HLine, Line, LineStyle, Plot, PlotBounds, PlotPoint, Span, VLine};

/// The lengths that the strip spans and marks, all in millimetres of finished length.
struct Marks {
    now: f64,
    /// Finished length of the design as drawn.
    drawn: f64,
    largest: f64,
    least_sound: Option<f64>,
    /// Where the strip ends.
    end: f64,
}

impl Marks {
    fn of(shown: &Proofed, held_end: Option<f64>) -> Marks {
        let proof = &shown.proof;
        let drawn = proof.length.get() / proof.factor;
        let (now, largest) = (proof.length.get(), proof.fit.largest_factor * drawn);
        let least_sound = proof.least_sound_factor.map(|factor| factor * drawn).filter(|x| x.is_finite());
        // A sound size far beyond the board would squeeze everything else into a corner.
        let near = now.max(largest);
        let reach = least_sound.map_or(near, |least| near.max(least.min(2.0 * near)));
        Marks { now, drawn, largest, least_sound, end: held_end.unwrap_or(1.12 * reach.max(1e-3)) }
    }
}

/// The strip with its handle.
pub(super) fn size_strip_ui(
    ui: &mut egui::Ui,
    shown: &Proofed,
    view: &mut ViewState,
    commands: &mut Vec<Command>,
) {
    let marks = Marks::of(shown, view.strip_end);
    head_ui(ui, shown, &marks, view, commands);
    plot_ui(ui, shown, &marks, view, commands);
}

/// The slider: the same handle for keyboard, screen reader and test.
fn head_ui(
    ui: &mut egui::Ui,
    shown: &Proofed,
    marks: &Marks,
    view: &mut ViewState,
    commands: &mut Vec<Command>,
) {
    let palette = Palette::of(ui.ctx());
    let unit = view.unit;
    ui.horizontal(|ui| {
        ui.label(RichText::new("Size").strong().size(14.5));
        let mut length = marks.now;
        ui.spacing_mut().slider_width = (ui.available_width() * 0.34).clamp(80.0, 300.0);
        let slider = egui::Slider::new(&mut length, 0.01 * marks.end..=marks.end)
            .clamping(egui::SliderClamping::Never)
            .custom_formatter(move |value, _| unit.show(Mm::new(value)))
            .custom_parser(move |text| parse_length(text, unit).ok().map(Mm::get).filter(|mm| *mm > 0.0));
        let response = ui
            .add(slider)
            .on_hover_text(format!("Finished length, {}", unit.show_exact(shown.proof.length)))
            .accessible_name("Size handle");
        if response.changed() && length > 0.0 {
            let length = if response.dragged() { snapped(length, marks.end, unit) } else { length };
            commands.push(Command::Set(Setting::Size(Size::Length(Mm::new(length)))));
        }
        let width = unit.show(shown.proof.width);
        ui.label(format!("× {width}"))
            .on_hover_text(format!("Finished width, {}", unit.show_exact(shown.proof.width)));
        ui.label(RichText::new(format!("{:.1} %", 100.0 * shown.proof.factor)).color(palette.faint))
            .on_hover_text(format!("{} times as large as drawn", shown.proof.factor));
    });
}

/// A dragged length goes in steps that a rule shows, as fine as a pixel or two allows.
fn snapped(length: f64, strip_length: f64, unit: LengthUnit) -> f64 {
    let steps: &[f64] = match unit {
        LengthUnit::Millimetres => &[5.0, 1.0, 0.5, 0.1],
        LengthUnit::InchDecimal => &[2.54, 1.27, 0.254],
        LengthUnit::InchFraction => &[6.35, 3.175, 1.5875, 0.793_75],
    };
    let step = steps.iter().copied().find(|step| *step < strip_length / 300.0);
    let step = step.unwrap_or(strip_length / 3000.0);
    ((length / step).round() * step).max(step)
}

fn plot_ui(
    ui: &mut egui::Ui,
    shown: &Proofed,
    marks: &Marks,
    view: &mut ViewState,
    commands: &mut Vec<Command>,
) {
    let palette = Palette::of(ui.ctx());
    let unit = view.unit;
    let one = unit.one().get();
    let limits = &shown.proof.limits;
    let top = 2.3 * limits.across.max(limits.along).max(limits.groove).get().max(0.05);
    let plot = Plot::new("size strip")
        .show_axes([true, true])
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_double_click_reset(false)
        .allow_axis_zoom_drag(false)
        .show_crosshair(false)
        .set_margin_fraction(egui::Vec2::ZERO)
        .sense(Sense::click_and_drag())
        .x_grid_spacer(move |input| marks_every(&input, unit))
        .y_grid_spacer(move |input| marks_every(&input, unit))
        .x_axis_formatter(move |mark, _| unit.number(Mm::new(mark.value * one)))
        .y_axis_formatter(move |mark, _| unit.number(Mm::new(mark.value * one)))
        .x_axis_label(RichText::new(format!("finished length, {}", unit.symbol())).small())
        .y_axis_label(RichText::new(format!("width, {}", unit.symbol())).small())
        .y_axis_min_width(34.0)
        .label_formatter(move |position| {
            let position = match position {
                egui_plot::HoverPosition::NearDataPoint { position, .. }
                | egui_plot::HoverPosition::Elsewhere { position } => position,
            };
            Some(format!("{} long", unit.show(Mm::new(position.x * one))))
        });
    let slopes = [
        ("thinnest wall", shown.proof.thinnest_wall, palette.wall, LineStyle::Solid),
        ("thinnest groove", shown.proof.thinnest_groove, palette.groove, LineStyle::dashed_loose()),
    ];
    let inner = plot.show(ui, |plot_ui| {
        plot_ui.set_plot_bounds(PlotBounds::from_min_max([0.0, 0.0], [marks.end / one, top / one]));
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
            plot_ui.hline(HLine::new("", limit.get() / one).color(color.gamma_multiply(0.8)).width(1.0));
        }
        for (name, width, color, style) in slopes {
            let Some(width) = width else { continue };
            let slope = width.get() / marks.now;
            let points = vec![[0.0, 0.0], [marks.end / one, slope * marks.end / one]];
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
    view.strip_end = held.then_some(marks.end);
    if let (true, Some(at)) = (held, pointer) {
        let length = snapped((at.x * one).clamp(0.01 * marks.end, marks.end), marks.end, unit);
        if (length - marks.now).abs() > 1e-9 {
            commands.push(Command::Set(Setting::Size(Size::Length(Mm::new(length)))));
        }
    }
    let response = inner.response.on_hover_cursor(egui::CursorIcon::ResizeHorizontal);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Canvas, true, strip_in_words(shown, unit)));
    annotate(ui, shown, marks, &inner.transform, response.rect, view);
}

/// What the strip shows, for whoever hears it.
fn strip_in_words(shown: &Proofed, unit: LengthUnit) -> String {
    let proof = &shown.proof;
    let drawn = proof.length / proof.factor;
    let mut words = format!("Size strip. Finished length {}", unit.show(proof.length));
    if let Some(least) = proof.least_sound_factor {
        words += &format!(", sound from {}", unit.show(drawn * least));
    }
    words + &format!(", the board takes up to {}", unit.show(drawn * proof.fit.largest_factor))
}

/// Grid lines where a rule of this unit has its marks.
fn marks_every(input: &GridInput, unit: LengthUnit) -> Vec<GridMark> {
    let (low, high) = input.bounds;
    let span = (high - low).max(1e-9);
    let step = match unit {
        LengthUnit::InchFraction => (span / 5.0).log2().ceil().exp2(),
        _ => {
            let rough = span / 5.0;
            let decade = 10f64.powf(rough.log10().floor());
            [1.0, 2.0, 5.0, 10.0].into_iter().map(|m| m * decade).find(|s| *s >= rough).unwrap_or(rough)
        }
    };
    let first = (low / step).ceil() as i64;
    (0..=12)
        .map(|i| GridMark { value: (first + i) as f64 * step, step_size: step })
        .filter(|mark| mark.value <= high)
        .collect()
}

/// Words and the handle, over the plot.
fn annotate(
    ui: &egui::Ui,
    shown: &Proofed,
    marks: &Marks,
    transform: &egui_plot::PlotTransform,
    plot: egui::Rect,
    view: &ViewState,
) {
    let palette = Palette::of(ui.ctx());
    let unit = view.unit;
    let one = unit.one().get();
    let painter = ui.painter().with_clip_rect(plot);
    let font = FontId::proportional(12.0);
    let at = |x: f64, y: f64| transform.position_from_point(&PlotPoint::new(x / one, y / one));
    let text = |position: egui::Pos2, align: Align2, words: String, color: Color32| {
        let galley = painter.layout_no_wrap(words, font.clone(), color);
        let rect = align.anchor_size(position, galley.size());
        painter.rect_filled(rect.expand2(vec2(3.0, 0.0)), 3.0, palette.card.gamma_multiply(0.82));
        painter.galley(rect.min, galley, color);
        rect
    };

    // Limits, named at the right, where the lines have long left the picture; the names of limits that
    // lie close together step aside.
    let limits = &shown.proof.limits;
    let mut named: Vec<egui::Rect> = Vec::new();
    for (name, limit, color) in [
        ("wall limit across the grain", limits.across, palette.wall),
        ("wall limit along the grain", limits.along, palette.wall),
        ("cutter's groove limit", limits.groove, palette.groove),
    ] {
        let y = at(0.0, limit.get()).y;
        let words = format!("{name} {}", unit.show(limit));
        let mut x = plot.right() - 6.0;
        for other in &named {
            if (other.center().y - y).abs() < 14.0 {
                x = x.min(other.left() - 8.0);
            }
        }
        named.push(text(pos2(x, y), Align2::RIGHT_CENTER, words, color));
    }

    let top = plot.top() + 3.0;
    match marks.least_sound {
        Some(least) if least < marks.end => {
            let words = format!("sound from {}", unit.show(Mm::new(least)));
            let x = at(least, 0.0).x;
            let align = if x > plot.center().x { Align2::RIGHT_TOP } else { Align2::LEFT_TOP };
            let nudge = if x > plot.center().x { -4.0 } else { 4.0 };
            text(pos2(x + nudge, top), align, words, palette.ink);
        }
        Some(least) => {
            let words = format!("sound from {} ›", unit.show(Mm::new(least)));
            text(pos2(plot.right() - 6.0, top), Align2::RIGHT_TOP, words, palette.ink);
        }
        None => {}
    }
    let words = format!("this board takes {}", unit.show(Mm::new(marks.largest)));
    let x = at(marks.largest, 0.0).x;
    text(pos2(x - 4.0, top + 17.0), Align2::RIGHT_TOP, words, palette.ink);
    let drawn_x = at(marks.drawn, 0.0).x;
    painter.line_segment(
        [pos2(drawn_x, plot.bottom() - 7.0), pos2(drawn_x, plot.bottom())],
        Stroke::new(2.0, palette.faint),
    );

    // The handle.
    let x = at(marks.now, 0.0).x;
    painter.vline(x, plot.y_range(), Stroke::new(2.0, palette.accent));
    for (name, width, color) in [
        ("thinnest wall", shown.proof.thinnest_wall, palette.wall),
        ("thinnest groove", shown.proof.thinnest_groove, palette.groove),
    ] {
        let Some(width) = width else { continue };
        let y = at(0.0, width.get()).y.clamp(plot.top() + 5.0, plot.bottom());
        painter.circle(pos2(x, y), 4.5, palette.card, Stroke::new(2.0, color));
        let (align, aside) =
            if x > plot.center().x { (Align2::RIGHT_CENTER, -9.0) } else { (Align2::LEFT_CENTER, 9.0) };
        let y = y.clamp(plot.top() + 44.0, plot.bottom() - 10.0);
        text(pos2(x + aside, y), align, format!("{name} {}", unit.show(width)), color);
    }
    let grip = egui::Rect::from_center_size(pos2(x, plot.bottom() - 16.0), vec2(14.0, 24.0));
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
        assert_eq!(snapped(300.9, 600.0, LengthUnit::InchFraction) % 1.5875, 0.0);
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
