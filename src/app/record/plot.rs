//! Whether chances come true: of the walls that were given one, how many held.

use crate::app::widgets::look::Palette;
use crate::app::widgets::plot::still_plot;
use crate::proof::record::Told;
use crate::words::record as words;
use crate::words::window::record as said;
use egui::RichText;
use egui_plot::{Line, LineStyle, PlotBounds, PlotPoint, Points, Text};

/// A plot of what was given against what held, a point for each fifth that has walls; on the line chances are true.
pub(crate) fn plot_ui(ui: &mut egui::Ui, told: &[Told]) {
    let palette = Palette::of(ui.ctx());
    let percent = |share: f64| 100.0 * share;
    let plot = still_plot(said::GIVEN_AND_HELD)
        .height(150.0)
        .width(ui.available_width())
        .x_axis_label(RichText::new(said::CHANCE_GIVEN).small())
        .y_axis_label(RichText::new(said::SHARE_THAT_HELD).small())
        .y_axis_min_width(34.0);
    let inner = plot.show(ui, |plot_ui| {
        plot_ui.set_plot_bounds(PlotBounds::from_min_max([0.0, -8.0], [100.0, 108.0]));
        let even = Line::new("", vec![[0.0, 0.0], [100.0, 100.0]]);
        plot_ui.line(even.color(palette.faint).style(LineStyle::dashed_loose()).allow_hover(false));
        for told in told.iter().filter(|told| told.walls > 0) {
            let held = f64::from(told.held) / f64::from(told.walls);
            let at = [percent(told.mean), percent(held)];
            // Too few to say are drawn hollow.
            let point = Points::new("", vec![at]).color(palette.wall).radius(5.0).filled(told.is_enough());
            plot_ui.points(point.allow_hover(false));
            let below = if at[1] > 50.0 { -9.0 } else { 9.0 };
            let count = RichText::new(said::held_of(told.held, told.walls)).small().color(palette.ink);
            plot_ui.text(Text::new("", PlotPoint::new(at[0].clamp(8.0, 92.0), at[1] + below), count));
        }
    });
    let lines: Vec<String> = told.iter().map(words::told).collect();
    let heard = lines.join(". ");
    inner.response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, &heard));
    inner.response.on_hover_text(lines.join("\n"));
}
