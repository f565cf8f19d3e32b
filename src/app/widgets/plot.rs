//! Plots that stand still.

use egui::Vec2;
use egui_plot::Plot;

/// A plot that no hand moves or zooms: what it shows is set by whoever draws it.
pub(crate) fn still_plot(name: &'static str) -> Plot<'static> {
    Plot::new(name)
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_double_click_reset(false)
        .allow_axis_zoom_drag(false)
        .show_crosshair(false)
        .set_margin_fraction(Vec2::ZERO)
}
