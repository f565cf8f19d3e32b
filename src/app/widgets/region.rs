//! The regions of the window, and how the keyboard goes from one to the next.

use crate::app::widgets::look::Palette;
use egui::{Context, Id, Rect, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo};

/// The regions of the last frame.
#[derive(Clone, Default)]
struct Regions {
    /// In the order they were drawn.
    all: Vec<(Id, Rect)>,
    /// What is seen of the one that the keys came to.
    focused: Option<Rect>,
}

/// Starts a frame: regions are drawn anew.
pub(crate) fn begin_regions(ctx: &Context) {
    ctx.data_mut(|data| data.insert_temp(key(), Regions::default()));
}

/// Draws a frame round the region that the keys came to: last, so that nothing of what is in it lies over the frame.
pub(crate) fn frame_region(ui: &Ui) {
    let Regions { focused, .. } = ui.data(|data| data.get_temp(key())).unwrap_or_default();
    if let Some(rect) = focused {
        let stroke = Stroke::new(2.0, Palette::of(ui.ctx()).accent);
        ui.painter().rect_stroke(rect, 3.0, stroke, StrokeKind::Inside);
    }
}

/// Makes what is drawn into `ui` from here on a region. It takes no part in Tab until the keys came to it; then Tab
/// goes on to what is in it.
pub(crate) fn region_ui(ui: &mut Ui, name: &'static str) {
    let (id, rect) = (Id::unique(("region", name)), ui.max_rect());
    let is_focused = ui.memory(|memory| memory.has_focus(id));
    let seen = rect.intersect(ui.clip_rect());
    ui.data_mut(|data| {
        let regions = data.get_temp_mut_or_default::<Regions>(key());
        regions.all.push((id, rect));
        regions.focused = regions.focused.or(is_focused.then_some(seen));
    });
    if !is_focused {
        return;
    }
    let response = ui.interact(rect, id, Sense::focusable_noninteractive());
    response.widget_info(|| WidgetInfo::labeled(Role::Group, true, name));
}

/// Goes on by so many regions from where the keys are, round and round.
pub(crate) fn step_region(ctx: &Context, by: isize) {
    let Regions { all: regions, .. } = ctx.data(|data| data.get_temp(key())).unwrap_or_default();
    if regions.is_empty() {
        return;
    }
    let focused = ctx.memory(egui::Memory::focused);
    let place = focused.and_then(|id| ctx.read_response(id)).map(|response| response.rect.center());
    let at = regions
        .iter()
        .position(|(id, rect)| focused == Some(*id) || place.is_some_and(|place| rect.contains(place)));
    let count = isize::try_from(regions.len()).unwrap_or(1);
    let next = match at.and_then(|at| isize::try_from(at).ok()) {
        Some(at) => (at + by).rem_euclid(count),
        None if by > 0 => 0,
        None => count - 1,
    };
    let (id, _) = regions[usize::try_from(next).unwrap_or_default()];
    ctx.memory_mut(|memory| memory.request_focus(id));
}

fn key() -> Id {
    Id::unique("regions")
}
