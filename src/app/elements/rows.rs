//! Rows of the list of elements: the fields it is searched with, and the row of a group.

use crate::app::commands::command::Command;
use crate::app::commands::element::{Choice, ElementCommand};
use crate::app::elements::tree::{Kept, ListRow, Painted, TreeView};
use crate::app::widgets::look::Palette;
use crate::design::Color;
use crate::job::{Edit, Job, Treatment};
use crate::words::capitalised;
use crate::words::window::elements as said;
use egui::{
    Align, Align2, Button, Color32, ComboBox, CornerRadius, Key, Layout, Modifiers, Rect, Response, Sense,
    Shape, Stroke, StrokeKind, TextEdit, TextStyle, pos2, vec2,
};

/// How tall a row is.
pub(crate) const ROW: f32 = 22.0;
/// How wide the list of treatments in a row is.
pub(crate) const COMBO_WIDTH: f32 = 84.0;
/// A longer list can be searched.
const MANY: usize = 12;
/// How far a row is moved in for each group that it is in.
const INDENT: f32 = 12.0;
/// Rows are moved in no further than this, so that their names keep some room.
const MOST_INDENT: f32 = 60.0;
/// How wide the list of colours is: a bit of colour and the sign that a list opens.
const COLOR_WIDTH: f32 = 30.0;

/// Over a long list: the fields that say which elements it shows, and the button that chooses those.
pub(crate) fn search_ui(ui: &mut egui::Ui, kept: &Kept, tree: &mut TreeView, commands: &mut Vec<Command>) {
    if kept.design.elements.len() <= MANY {
        tree.filter.clear();
        tree.color = None;
        return;
    }
    if tree.color.is_some_and(|Painted(wanted)| kept.colors.iter().all(|(color, _)| *color != wanted)) {
        tree.color = None;
    }
    let row = vec2(ui.available_width(), ui.spacing().interact_size.y);
    ui.allocate_ui_with_layout(row, Layout::right_to_left(Align::Center), |ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        let choose = ui.add_enabled(tree.is_searched(), Button::new(said::CHOOSE_THESE).small());
        if choose.on_hover_text(said::CHOOSE_WHAT_IS_LISTED).clicked() {
            let rows = tree.rows(kept);
            let listed = rows.iter().filter_map(|row| match row {
                ListRow::Element { index, .. } => Some(*index),
                ListRow::Group { .. } => None,
            });
            commands.push(ElementCommand::ChooseThese(listed.collect(), Choice::Only).into());
        }
        if kept.has_colors() {
            color_ui(ui, kept, tree);
        }
        let field = TextEdit::singleline(&mut tree.filter).hint_text(said::FIND_BY_NAME);
        ui.add(field.desired_width(ui.available_width() - 8.0)).accessible_name(said::FIND_BY_NAME);
    });
}

/// The list of the drawing's colours.
fn color_ui(ui: &mut egui::Ui, kept: &Kept, tree: &mut TreeView) {
    ui.spacing_mut().button_padding.y = 1.0;
    ui.spacing_mut().interact_size.y = 20.0;
    let list = ComboBox::from_id_salt("colour of elements")
        .width(COLOR_WIDTH)
        .selected_text("")
        .show_ui(ui, |ui| {
            if ui.selectable_label(tree.color.is_none(), said::ANY_COLOUR).clicked() {
                tree.color = None;
            }
            for &(color, count) in &kept.colors {
                let label = said::color_and_count(color, count);
                // Room for a bit of the colour before its name.
                let entry = ui.selectable_label(tree.color == Some(Painted(color)), format!("      {label}"));
                let at = entry.rect.left_center() + vec2(12.0, 0.0);
                paint_color(ui, Rect::from_center_size(at, vec2(12.0, 12.0)), color);
                let entry = entry.accessible_name(label);
                if entry.clicked() {
                    tree.color = Some(Painted(color));
                }
            }
        })
        .response;
    // What is listed: its colour, or some of all.
    let shown: Vec<Option<Color>> = tree.color.map_or_else(
        || kept.colors.iter().map(|(color, _)| *color).take(3).collect(),
        |Painted(color)| vec![color],
    );
    let spot = Rect::from_center_size(list.rect.left_center() + vec2(12.0, 0.0), vec2(12.0, 12.0));
    let wide = spot.width() / shown.len() as f32;
    for (index, color) in shown.into_iter().enumerate() {
        let from = pos2(spot.left() + index as f32 * wide, spot.top());
        paint_color(ui, Rect::from_min_size(from, vec2(wide, spot.height())), color);
    }
    let now = tree.color.map_or_else(|| said::ANY_COLOUR.to_owned(), |Painted(color)| said::color(color));
    list.on_hover_text(said::listed_by_colour(&now)).accessible_name(said::COLOUR);
}

/// A bit of a colour; crossed out for several or none.
pub(crate) fn paint_color(ui: &egui::Ui, rect: Rect, color: Option<Color>) {
    let line = Stroke::new(1.0, Palette::of(ui.ctx()).line);
    let fill = color.map_or(Color32::TRANSPARENT, |Color([r, g, b])| Color32::from_rgb(r, g, b));
    ui.painter().rect(rect, CornerRadius::same(2), fill, line, StrokeKind::Inside);
    if color.is_none() {
        ui.painter().line_segment([rect.left_bottom(), rect.right_top()], line);
    }
}

/// Begins the row of an element or a group, with what shows that it is chosen or has the keys. Gives the row, and the
/// place in it that the rest goes into, moved in by how many groups it is in.
pub(crate) fn begun_row_ui(
    ui: &mut egui::Ui,
    id: egui::Id,
    label: &str,
    is_chosen: bool,
    depth: usize,
) -> (Response, egui::Ui) {
    let palette = Palette::of(ui.ctx());
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), ROW));
    let response = ui.interact(rect, id, Sense::click());
    response.widget_info(|| egui::WidgetInfo::selected(egui::Role::ListBoxOption, true, is_chosen, label));
    if is_chosen || response.hovered() {
        ui.painter().rect_filled(rect, 4.0, if is_chosen { palette.chosen } else { palette.panel });
    }
    if response.has_focus() {
        ui.painter().rect_stroke(rect, 4.0, Stroke::new(2.0, palette.accent), StrokeKind::Inside);
    }
    let inside = rect.shrink2(vec2(3.0, 0.0));
    let layout = Layout::left_to_right(Align::Center);
    let mut inner = ui.new_child(egui::UiBuilder::new().max_rect(inside).layout(layout));
    inner.spacing_mut().item_spacing.x = 5.0;
    inner.add_space((depth as f32 * INDENT).min(MOST_INDENT));
    (response, inner)
}

/// What the row of a group shows beside its name.
pub(crate) struct GroupRow<'a> {
    pub(crate) job: &'a Job,
    pub(crate) path: &'a [String],
    pub(crate) elements: &'a [usize],
    pub(crate) is_open: bool,
    /// Whether all of it is chosen.
    pub(crate) is_chosen: bool,
    /// Whether all of it is hidden.
    pub(crate) is_hidden: bool,
}

/// The row of a group: a click chooses all that is in it, the triangle opens and closes it.
pub(crate) fn group_row_ui(
    ui: &mut egui::Ui,
    row: &GroupRow,
    id: egui::Id,
    tree: &mut TreeView,
    commands: &mut Vec<Command>,
) -> Response {
    let GroupRow { job, path, elements, is_open, is_chosen, is_hidden } = *row;
    let palette = Palette::of(ui.ctx());
    let name = path.last().map_or("", String::as_str);
    let label = said::group(name, elements.len());
    let (response, mut inner) = begun_row_ui(ui, id, &label, is_chosen, path.len() - 1);
    let rect = response.rect;
    let turn = triangle_ui(&mut inner, name, is_open);
    let eye = eye_ui(&mut inner, &said::the_group(name), is_hidden);
    if eye.clicked() {
        commands.push(ElementCommand::ToggleHidden(elements.to_vec()).into());
    }
    let text_from = eye.rect.right() + 5.0;
    let mut text_to = rect.right();
    inner.with_layout(Layout::right_to_left(Align::Center), |ui| {
        let first = elements.first().map(|&index| job.carvings()[index].treatment);
        let is_same =
            |treatment: &Treatment| elements.iter().all(|&i| job.carvings()[i].treatment == *treatment);
        treatment_ui(ui, &said::treatment_of_group(name), first.filter(is_same), |treatment| {
            commands.push(Command::Edit(Edit::Treat { elements: elements.to_vec(), treatment }));
        });
        text_to = ui.min_rect().left() - 4.0;
    });
    let painter = ui.painter().with_clip_rect(Rect::from_min_max(
        pos2(text_from, rect.top()),
        pos2(text_to.max(text_from), rect.bottom()),
    ));
    let font = TextStyle::Body.resolve(ui.style());
    let at = pos2(text_from, rect.center().y);
    let ink = if is_hidden { palette.faint } else { palette.ink };
    let written = painter.text(at, Align2::LEFT_CENTER, name, font.clone(), ink);
    let count = said::elements_in_group(elements.len());
    painter.text(written.right_center() + vec2(6.0, 0.0), Align2::LEFT_CENTER, count, font, palette.faint);
    let pressed = |key| response.has_focus() && ui.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    let (closes, opens) = (pressed(Key::ArrowLeft), pressed(Key::ArrowRight));
    if turn.clicked() || response.double_clicked() || (closes && is_open) || (opens && !is_open) {
        tree.set_open(job.design(), path, !is_open);
    }
    response.on_hover_text(said::group_hover(&path.join(" / ")))
}

/// The eye of what has this name, open or shut.
pub(crate) fn eye_ui(ui: &mut egui::Ui, name: &str, is_hidden: bool) -> Response {
    let palette = Palette::of(ui.ctx());
    let (rect, response) = ui.allocate_exact_size(vec2(18.0, 18.0), Sense::click());
    let label = if is_hidden { said::show(name) } else { said::hide(name) };
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &label));
    let ink = if response.hovered() || response.has_focus() { palette.accent } else { palette.faint };
    let stroke = Stroke::new(1.4, ink);
    let center = rect.center();
    // A lid from corner to corner of the eye, above its middle or below.
    let lid = |height: f32| {
        let point = |i: u8| {
            let share = f32::from(i) / 8.0;
            center + vec2(-7.0 + 14.0 * share, height * (1.0 - (2.0 * share - 1.0).powi(2)))
        };
        Shape::line((0..=8).map(point).collect(), stroke)
    };
    let painter = ui.painter();
    painter.add(lid(4.5));
    if is_hidden {
        for x in [-3.5, 0.0, 3.5] {
            let lash = center + vec2(x, 3.8);
            painter.line_segment([lash, lash + vec2(0.35 * x, 3.0)], stroke);
        }
    } else {
        painter.add(lid(-4.5));
        painter.circle_filled(center, 2.2, ink);
    }
    let hint = if is_hidden { said::SHOW_IT_ON_THE_BOARD_AGAIN } else { said::HIDE_IT_ON_THE_BOARD_TO_SEE };
    response.on_hover_text(hint)
}

/// The sign that a group is open or closed.
fn triangle_ui(ui: &mut egui::Ui, name: &str, is_open: bool) -> Response {
    let (rect, response) = ui.allocate_exact_size(vec2(18.0, 18.0), Sense::click());
    let label = if is_open { said::close_group(name) } else { said::open_group(name) };
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &label));
    let palette = Palette::of(ui.ctx());
    let ink = if response.hovered() || response.has_focus() { palette.accent } else { palette.faint };
    let middle = rect.center();
    let corners = if is_open {
        [vec2(-5.0, -3.0), vec2(5.0, -3.0), vec2(0.0, 4.0)]
    } else {
        [vec2(-3.0, -5.0), vec2(-3.0, 5.0), vec2(4.0, 0.0)]
    };
    let corners = corners.map(|corner| middle + corner).to_vec();
    ui.painter().add(Shape::convex_polygon(corners, ink, Stroke::NONE));
    response
}

/// How something is carved, as a list to choose from.
pub(crate) fn treatment_ui(
    ui: &mut egui::Ui,
    name: &str,
    now: Option<Treatment>,
    mut choose: impl FnMut(Treatment),
) {
    ui.scope(|ui| {
        ui.spacing_mut().interact_size.y = 20.0;
        ui.spacing_mut().button_padding = vec2(6.0, 1.0);
        ComboBox::from_id_salt(name)
            .width(COMBO_WIDTH)
            .selected_text(now.map_or(said::MIXED, Treatment::label))
            .show_ui(ui, |ui| {
                for treatment in Treatment::ALL {
                    let entry = ui
                        .selectable_label(now == Some(treatment), treatment.label())
                        .on_hover_text(capitalised(treatment.meaning()));
                    if entry.clicked() {
                        choose(treatment);
                    }
                }
            })
            .response
            .on_hover_text(
                now.map_or_else(|| said::SEVERAL_TREATMENTS.to_owned(), |now| capitalised(now.meaning())),
            )
            .accessible_name(name);
    });
}
