//! The list of elements on the design's card: each with how it is drawn, its name and how it is carved.

use crate::app::commands::command::Command;
use crate::app::commands::element::{Choice, ElementCommand};
use crate::app::commands::menu_bar;
use crate::app::commands::menus::Menu;
use crate::app::commands::situation::Situation;
use crate::app::elements::rows::{
    COMBO_WIDTH, GroupRow, ROW, begun_row_ui, eye_ui, group_row_ui, paint_color, search_ui, treatment_ui,
};
use crate::app::elements::tree::ListRow;
use crate::app::elements::view::ElementsView;
use crate::app::widgets::length_field::Lengths;
use crate::app::widgets::length_field::{Field, labelled_row_ui, length_row_ui};
use crate::app::widgets::look::Palette;
use crate::app::work::scene::Scene;
use crate::job::{Edit, Job, Treatment};
use crate::shop::Shop;
use crate::words::window::elements as said;
use egui::{
    Align, Align2, Color32, ComboBox, Galley, Key, Layout, Modifiers, Painter, Rect, Response, RichText,
    ScrollArea, Sense, Shape, Stroke, StrokeKind, TextEdit, TextStyle, Vec2, pos2, vec2,
};
use std::sync::Arc;

/// Rows that are always in sight, where there are as many.
const FEW_ROWS: f32 = 3.0;
/// Rows of a list that was made taller.
const MANY_ROWS: f32 = 12.0;
const GAP: f32 = 1.0;

/// The list.
pub(crate) fn elements_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    situation: &Situation,
    view: &mut ElementsView,
    lengths: &mut Lengths,
    commands: &mut Vec<Command>,
) {
    let Scene { job, shop, .. } = *scene;
    let spare = view.list.spare.take().unwrap_or(0.0);
    let count = job.design().elements.len();
    let chosen = view.chosen_in(job.design());
    if count > 1 {
        head_ui(ui, job, &chosen, situation, view, commands);
    }
    let kept = view.list.tree.tree(job.design());
    search_ui(ui, &kept, &mut view.list.tree, commands);
    let wanted = view.list.scroll_to.take();
    if let Some(wanted) = wanted {
        view.list.tree.open_to(job.design(), wanted);
    }
    let shown = view.list.tree.rows(&kept);
    let count = shown.len();
    let tall = |rows: f32| rows * (ROW + GAP);
    let needed = tall(count as f32);
    let least = tall(if view.list.tall { MANY_ROWS } else { FEW_ROWS });
    // What the cards leave unused belongs to the list.
    let room = (view.list.room.unwrap_or(least) + spare).clamp(least, needed.max(least)).min(needed);
    view.list.room = Some(room);
    ui.spacing_mut().item_spacing.y = GAP;
    let mut area = ScrollArea::vertical().id_salt("elements").max_height(room).min_scrolled_height(room);
    let is_wanted = |row: &ListRow| matches!(row, ListRow::Element { index, .. } if Some(*index) == wanted);
    if let Some(place) = shown.iter().position(is_wanted) {
        // Rows out of sight are not laid out, so none of them can ask for it.
        let (top, bottom) = (tall(place as f32), tall(place as f32 + 1.0));
        let seen = view.list.seen_from.unwrap_or(0.0);
        if top < seen {
            area = area.vertical_scroll_offset(top);
        } else if bottom > seen + room {
            area = area.vertical_scroll_offset(bottom - room);
        }
    }
    let mut is_chosen = vec![false; job.design().elements.len()];
    for &index in &chosen {
        is_chosen[index] = true;
    }
    let output = area.show_rows(ui, ROW, count, |ui, rows| {
        let has_colors = kept.has_colors();
        let listed = Listed { job, shown: &shown, chosen: &is_chosen, situation, has_colors };
        for place in rows {
            row_ui(ui, &listed, place, view, commands);
        }
    });
    view.list.seen_from = Some(output.state.clamped_offset().y);
    own_ui(ui, job, &chosen, shop, lengths, commands);
}

/// The depth and the cutter of the chosen elements, where they may have their own.
fn own_ui(
    ui: &mut egui::Ui,
    job: &Job,
    chosen: &[usize],
    shop: &Shop,
    lengths: &mut Lengths,
    commands: &mut Vec<Command>,
) {
    let all = |holds: fn(Treatment) -> bool| {
        !chosen.is_empty() && chosen.iter().all(|&index| holds(job.carvings()[index].treatment))
    };
    let elements = || chosen.to_vec();
    if all(|treatment| matches!(treatment, Treatment::Sunk | Treatment::Incised)) {
        let own = |index: &usize| job.carvings()[*index].depth;
        let first = own(&chosen[0]);
        let is_same = chosen.iter().all(|index| own(index) == first);
        let row = vec2(ui.available_width(), ui.spacing().interact_size.y);
        ui.allocate_ui_with_layout(row, Layout::right_to_left(Align::Center), |ui| {
            if first.is_some() || !is_same {
                let hint = said::USE_THE_JOBS_DEPTH_AND_FOLLOW_IT;
                if ui
                    .small_button(said::AS_THE_JOB)
                    .on_hover_text(hint)
                    .accessible_name(said::DEPTH_AS_THE_JOB)
                    .clicked()
                {
                    commands.push(Command::Edit(Edit::OwnDepth { elements: elements(), depth: None }));
                }
            } else {
                ui.label(RichText::new(said::THE_JOBS_DEPTH).small().color(Palette::of(ui.ctx()).faint));
            }
            ui.with_layout(Layout::top_down(Align::Min), |ui| {
                let caption = if is_same { said::DEPTH } else { said::DEPTHS_DIFFER };
                let field =
                    Field { name: said::DEPTH_OF_THE_CHOSEN, caption, value: first.unwrap_or(job.depth()) };
                if let Some(depth) = length_row_ui(ui, lengths, &field) {
                    let depth = Some(depth);
                    commands.push(Command::Edit(Edit::OwnDepth { elements: elements(), depth }));
                }
            });
        });
    }
    if all(|treatment| !treatment.stands()) {
        let own = |index: &usize| job.carvings()[*index].cutter.as_ref().map(|cutter| cutter.name.as_str());
        let first = own(&chosen[0]);
        let is_same = chosen.iter().all(|index| own(index) == first);
        let usual = said::as_the_job(&job.cutter().name);
        let now = if is_same { first.unwrap_or(&usual) } else { said::SEVERAL_CUTTERS };
        labelled_row_ui(ui, said::CUTTER, |ui| {
            ComboBox::from_id_salt("own cutter")
                .width(ui.available_width())
                .truncate()
                .selected_text(now)
                .show_ui(ui, |ui| {
                    if ui.selectable_label(is_same && first.is_none(), &usual).clicked() {
                        commands.push(Command::Edit(Edit::OwnCutter { elements: elements(), cutter: None }));
                    }
                    for cutter in &shop.cutters {
                        if ui.selectable_label(first == Some(&cutter.name), &cutter.name).clicked() {
                            let cutter = Some(Box::new(cutter.clone()));
                            commands.push(Command::Edit(Edit::OwnCutter { elements: elements(), cutter }));
                        }
                    }
                })
                .response
                .on_hover_text(said::THE_CUTTER_FOR_THE_CHOSEN_ELEMENTS)
                .accessible_name(said::CUTTER_OF_THE_CHOSEN);
        });
    }
}

/// What the rows under it are, what can be done with the chosen ones, and how they are carved.
fn head_ui(
    ui: &mut egui::Ui,
    job: &Job,
    chosen: &[usize],
    situation: &Situation,
    view: &mut ElementsView,
    commands: &mut Vec<Command>,
) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        let count = job.design().elements.len();
        let of: Vec<usize> = if chosen.is_empty() { (0..count).collect() } else { chosen.to_vec() };
        let words = said::chosen(chosen.len(), count);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let first = job.carvings()[of[0]].treatment;
            let common = of.iter().all(|&index| job.carvings()[index].treatment == first).then_some(first);
            let name = if chosen.is_empty() {
                said::TREATMENT_OF_ALL_ELEMENTS
            } else {
                said::TREATMENT_OF_THE_CHOSEN
            };
            treatment_ui(ui, name, common, |treatment| {
                commands.push(Command::Edit(Edit::Treat { elements: of.clone(), treatment }));
            });
            if (count as f32) > FEW_ROWS {
                let tall = view.list.tall;
                let (sign, label) = if tall {
                    (said::LESS, said::SHOW_A_SHORTER_LIST)
                } else {
                    (said::MORE, said::SHOW_A_LONGER_LIST)
                };
                if ui.small_button(sign).on_hover_text(label).accessible_name(label).clicked() {
                    view.list.tall ^= true;
                    view.list.room = None;
                }
            }
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                ui.scope(|ui| {
                    ui.spacing_mut().button_padding = vec2(5.0, 1.0);
                    // Room for the sign that a menu opens.
                    let menu = ui.menu_button(format!("{words}     "), |ui| {
                        menu_bar::rows_ui(ui, Menu::Design.rows(situation), situation, commands);
                    });
                    let tip = menu.response.rect.right_center() + vec2(-11.0, 3.0);
                    let corners = vec![tip, tip + vec2(-4.5, -6.0), tip + vec2(4.5, -6.0)];
                    let ink = Palette::of(ui.ctx()).ink;
                    ui.painter().add(Shape::convex_polygon(corners, ink, Stroke::NONE));
                    menu.response
                        .on_hover_text(said::WHAT_YOU_CAN_DO_WITH_ELEMENTS)
                        .accessible_name(said::ELEMENTS);
                });
            });
        });
    });
}

/// What the rows are of.
#[derive(Clone, Copy)]
struct Listed<'a> {
    job: &'a Job,
    /// The rows, in their order.
    shown: &'a [ListRow<'a>],
    /// Of each element, whether it is chosen.
    chosen: &'a [bool],
    situation: &'a Situation,
    /// Whether elements are told apart by their colours.
    has_colors: bool,
}

fn row_ui(
    ui: &mut egui::Ui,
    listed: &Listed,
    place: usize,
    view: &mut ElementsView,
    commands: &mut Vec<Command>,
) {
    let Listed { job, shown, chosen, situation, has_colors } = *listed;
    let (index, depth) = match shown[place] {
        ListRow::Element { index, depth } => (index, depth),
        ListRow::Group { path, elements, is_open } => {
            let is_chosen = elements.iter().all(|&index| chosen[index]);
            let name = |index: usize| &job.design().elements[index].name;
            let is_hidden = elements.iter().all(|&index| view.hidden.contains(name(index)));
            let row = GroupRow { job, path, elements, is_open, is_chosen, is_hidden };
            let response = group_row_ui(ui, &row, shown[place].id(), &mut view.list.tree, commands);
            take_clicks(ui, shown, place, &response, commands);
            context_menu(&response, situation, commands);
            return;
        }
    };
    let palette = Palette::of(ui.ctx());
    let element = &job.design().elements[index];
    let name = &element.name;
    let is_chosen = chosen[index];
    let is_hidden = view.hidden.contains(name);
    let label = said::element(name);
    let (response, mut inner) = begun_row_ui(ui, shown[place].id(), &label, is_chosen, depth);
    let rect = response.rect;
    let treatment = job.carvings()[index].treatment;
    if eye_ui(&mut inner, name, is_hidden).clicked() {
        commands.push(ElementCommand::ToggleHidden(vec![index]).into());
    }
    let (swatch, _) = inner.allocate_exact_size(vec2(20.0, 14.0), Sense::hover());
    paint_swatch(inner.painter(), swatch, treatment, palette);
    let mut from = swatch.right() + 5.0;
    if has_colors {
        let (spot, _) = inner.allocate_exact_size(vec2(9.0, 9.0), Sense::hover());
        paint_color(&inner, spot, element.origin.color);
        from = spot.right() + 5.0;
    }
    let middle =
        Rect::from_min_max(pos2(from, rect.top()), pos2(rect.right() - COMBO_WIDTH - 7.0, rect.bottom()));
    inner.with_layout(Layout::right_to_left(Align::Center), |ui| {
        treatment_ui(ui, &said::treatment_of(name), Some(treatment), |treatment| {
            commands.push(Command::Edit(Edit::Treat { elements: vec![index], treatment }));
        });
    });
    let is_renaming = view.renaming.as_ref().is_some_and(|(renaming, _)| renaming == name);
    if is_renaming {
        rename_ui(ui, middle, index, view, commands);
        return;
    }
    let ink = if is_hidden { palette.faint } else { palette.ink };
    // Under its groups it needs no more than its own name.
    let short = if depth > 0 { element.short_name() } else { name };
    let galley = shortened(ui, short, middle.width(), ink);
    let at = Align2::LEFT_CENTER.anchor_size(middle.left_center(), galley.size());
    ui.painter().galley(at.min, galley, ink);
    take_clicks(ui, shown, place, &response, commands);
    let is_lettered = job.lettering().contains_key(name);
    let response = response.on_hover_text(said::element_hover(name, treatment, is_lettered, is_hidden));
    context_menu(&response, situation, commands);
}

fn context_menu(response: &Response, situation: &Situation, commands: &mut Vec<Command>) {
    egui::Popup::context_menu(response).show(|ui| {
        menu_bar::rows_ui(ui, Menu::Design.rows(situation), situation, commands);
    });
}

/// A name in one line no wider than `room`. What is too long loses its middle: long names often begin alike
/// and end in a number.
fn shortened(ui: &egui::Ui, name: &str, room: f32, ink: Color32) -> Arc<Galley> {
    let font = TextStyle::Body.resolve(ui.style());
    let laid = |text: String| ui.painter().layout_no_wrap(text, font.clone(), ink);
    let whole = laid(name.to_owned());
    if whole.size().x <= room {
        return whole;
    }
    let letters: Vec<char> = name.chars().collect();
    #[expect(clippy::cast_sign_loss, reason = "no width is negative")]
    let mut kept = (letters.len() as f32 * room.max(0.0) / whole.size().x) as usize;
    loop {
        let (head, tail) = (kept.div_ceil(2), kept / 2);
        let head: String = letters[..head].iter().collect();
        let tail: String = letters[letters.len() - tail..].iter().collect();
        let short = laid(format!("{head}…{tail}"));
        if short.size().x <= room || kept == 0 {
            return short;
        }
        kept -= 1;
    }
}

/// A click chooses, a second renames an element; the arrow keys go up and down.
fn take_clicks(
    ui: &egui::Ui,
    shown: &[ListRow],
    place: usize,
    response: &Response,
    commands: &mut Vec<Command>,
) {
    let row = shown[place];
    let modifiers = ui.input(|input| input.modifiers);
    let choice = if modifiers.command {
        Choice::Toggle
    } else if modifiers.shift {
        Choice::UpTo
    } else {
        Choice::Only
    };
    if response.double_clicked() {
        commands.push(row.choosing(Choice::Only));
        if matches!(row, ListRow::Element { .. }) {
            commands.push(ElementCommand::StartRename.into());
        }
    } else if response.clicked() || response.secondary_clicked() {
        // The arrow keys go on from here.
        response.request_focus();
        commands.push(row.choosing(choice));
    }
    if !response.has_focus() {
        return;
    }
    let is_group = matches!(row, ListRow::Group { .. });
    let filter = egui::EventFilter {
        vertical_arrows: true,
        horizontal_arrows: is_group,
        ..egui::EventFilter::default()
    };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    // Taken, so that the next row, which has the keys from now on, does not go on at once.
    let pressed = |key| {
        let shift = ui.input_mut(|input| input.consume_key(Modifiers::SHIFT, key));
        shift || ui.input_mut(|input| input.consume_key(Modifiers::NONE, key))
    };
    let next = match (pressed(Key::ArrowUp), pressed(Key::ArrowDown)) {
        (true, _) => place.checked_sub(1).map(|place| shown[place]),
        (_, true) => shown.get(place + 1).copied(),
        _ => None,
    };
    if let Some(next) = next {
        let choice = if modifiers.shift { Choice::UpTo } else { Choice::Only };
        commands.push(next.choosing(choice));
        ui.memory_mut(|memory| memory.request_focus(next.id()));
    }
}

/// The field in place of a name; Enter takes it, Escape leaves the name as it was.
fn rename_ui(
    ui: &mut egui::Ui,
    place: Rect,
    index: usize,
    view: &mut ElementsView,
    commands: &mut Vec<Command>,
) {
    let Some((name, text)) = &mut view.renaming else { return };
    let is_new = text == name;
    let field = TextEdit::singleline(text).margin(vec2(3.0, 1.0)).desired_width(place.width() - 6.0);
    let response = ui.put(place, field).accessible_name(said::NAME_OF_THE_ELEMENT);
    if !response.has_focus() && !response.lost_focus() && is_new {
        response.request_focus();
        select_all(ui, response.id, text);
    }
    if response.lost_focus() {
        let is_escaped = ui.input(|input| input.key_pressed(Key::Escape));
        if !is_escaped && !is_new {
            commands.push(ElementCommand::Rename(index, text.trim().to_owned()).into());
        }
        view.renaming = None;
    }
}

fn select_all(ui: &egui::Ui, id: egui::Id, text: &str) {
    use egui::text::{CCursor, CCursorRange};
    let mut state = egui::text_edit::TextEditState::load(ui.ctx(), id).unwrap_or_default();
    let all = CCursorRange::two(CCursor::default(), CCursor::new(text.chars().count()));
    state.cursor.set_char_range(Some(all));
    state.store(ui.ctx(), id);
}

/// A bit of board carved in this way, as the picture of the board shows it.
fn paint_swatch(painter: &Painter, rect: Rect, treatment: Treatment, palette: &Palette) {
    const GROUND: Color32 = Color32::from_rgb(0x50, 0x30, 0x16);
    let painter = painter.with_clip_rect(rect.intersect(painter.clip_rect()));
    let dark = Stroke::new(1.0, GROUND);
    let slanted = |step: f32, flip: bool, stroke: Stroke| {
        let mut x = rect.left() - rect.height();
        while x < rect.right() {
            let (from, to) = if flip { (rect.top(), rect.bottom()) } else { (rect.bottom(), rect.top()) };
            painter.line_segment([pos2(x, from), pos2(x + rect.height(), to)], stroke);
            x += step;
        }
    };
    painter.rect_filled(rect, 2.0, palette.wood);
    let inner = rect.shrink2(vec2(5.0, 3.5));
    match treatment {
        Treatment::Relief => {
            painter.rect_filled(rect, 2.0, GROUND.gamma_multiply(0.5));
            for (row, y) in [2.0, 6.0, 10.0].into_iter().enumerate() {
                for column in 0..6 {
                    let x = column as f32 * 4.0 + if row % 2 == 0 { 1.0 } else { 3.0 };
                    painter.circle_filled(rect.min + Vec2::new(x, y + 1.0), 0.8, GROUND);
                }
            }
            painter.rect(inner, 1.0, palette.wood, dark, StrokeKind::Outside);
        }
        Treatment::Sunk => {
            painter.rect_filled(inner.expand(1.5), 1.0, GROUND.gamma_multiply(0.7));
            let painter = painter.with_clip_rect(inner.expand(1.5));
            let mut x = rect.left() - rect.height();
            while x < rect.right() {
                painter.line_segment([pos2(x, rect.bottom()), pos2(x + rect.height(), rect.top())], dark);
                x += 4.0;
            }
        }
        Treatment::Incised => {
            let groove = rect.shrink2(vec2(2.0, 3.0));
            let [left, right] = [groove.left_center(), groove.right_center()];
            let dark = Color32::from_rgb(0x2E, 0x1A, 0x0C);
            let fill =
                |at: egui::Pos2, color| Shape::convex_polygon(vec![left, at, right], color, Stroke::NONE);
            painter.add(fill(groove.center_top(), dark));
            painter.add(fill(groove.center_bottom(), dark.gamma_multiply(0.55)));
        }
        Treatment::Pierced => {
            painter.rect_filled(rect, 2.0, palette.bench);
            slanted(5.0, false, dark);
            slanted(5.0, true, dark);
        }
        Treatment::Left => {
            let around = [
                inner.left_top(),
                inner.right_top(),
                inner.right_bottom(),
                inner.left_bottom(),
                inner.left_top(),
            ];
            painter.extend(Shape::dashed_line(&around, dark, 2.5, 2.0));
        }
    }
    painter.rect_stroke(rect, 2.0, Stroke::new(1.0, palette.line), StrokeKind::Inside);
}
