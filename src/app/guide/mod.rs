//! The guide in a window of its own: its pages, a search, and what was found.

use crate::app::commands::command::Command;
use crate::app::commands::export::Export;
use crate::app::widgets::look::Palette;
use crate::app::widgets::window::window_ui;
use crate::guide::{Block, Found, Link, Look, Page, Span, anchor, pages, search};
use crate::words::guide as words;
use crate::words::window::guide as said;
use egui::text::LayoutJob;
use egui::{Align, FontId, Label, Layout, RichText, ScrollArea, Sense, TextEdit, TextFormat, TextStyle};

/// What is open in the guide.
#[derive(Default)]
pub(crate) struct GuideView {
    pub(crate) is_open: bool,
    /// The page that is shown, by its place among the pages.
    page: usize,
    /// What is searched for, and what was found for it.
    wanted: String,
    found: Vec<Found>,
    /// A block to bring into sight.
    scroll_to: Option<usize>,
}

/// The window, where it is open.
pub(crate) fn guide_ui(ctx: &egui::Context, view: &mut GuideView, commands: &mut Vec<Command>) {
    let mut is_open = view.is_open;
    let window = egui::Window::new(said::GUIDE).default_size([860.0, 560.0]);
    window_ui(ctx, window.min_width(560.0), &mut is_open, |ui| {
        egui::Panel::left("guide pages").exact_size(230.0).resizable(false).show(ui, |ui| {
            print_ui(ui, commands);
            contents_ui(ui, view);
        });
        egui::CentralPanel::default().show(ui, |ui| page_ui(ui, view));
    });
    view.is_open = is_open;
}

/// The whole of it, to print.
fn print_ui(ui: &mut egui::Ui, commands: &mut Vec<Command>) {
    let command = Command::AskExport(Export::Guide);
    if ui.button(command.label()).on_hover_text(command.tooltip()).clicked() {
        commands.push(command);
    }
    ui.add_space(4.0);
}

/// The pages, or what a search found.
fn contents_ui(ui: &mut egui::Ui, view: &mut GuideView) {
    let field = TextEdit::singleline(&mut view.wanted).hint_text(said::SEARCH).desired_width(f32::INFINITY);
    if ui.add(field).accessible_name(said::SEARCH).changed() {
        view.found = search(&view.wanted);
    }
    ui.add_space(4.0);
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        if view.wanted.trim().is_empty() {
            for (index, page) in pages().iter().enumerate() {
                if ui.selectable_label(index == view.page, &page.title).clicked() {
                    (view.page, view.scroll_to) = (index, Some(0));
                }
            }
            return;
        }
        if view.found.is_empty() {
            ui.label(said::NOTHING_FOUND);
        }
        let faint = Palette::of(ui.ctx()).faint;
        let mut chosen = None;
        for found in &view.found {
            let heading =
                ui.add(Label::new(RichText::new(&found.title).strong()).wrap().sense(Sense::click()));
            let words = RichText::new(&found.words).small().color(faint);
            let words = ui.add(Label::new(words).wrap().sense(Sense::click()));
            if heading.clicked() || words.clicked() {
                chosen = Some((found.id, found.block));
            }
            ui.add_space(4.0);
        }
        if let Some((id, block)) = chosen {
            go_to(view, id, block);
        }
    });
}

fn go_to(view: &mut GuideView, id: &str, block: usize) {
    if let Some(page) = pages().iter().position(|page| page.id == id) {
        (view.page, view.scroll_to) = (page, Some(block));
    }
}

fn page_ui(ui: &mut egui::Ui, view: &mut GuideView) {
    let Some(page) = pages().get(view.page) else { return };
    let mut followed = None;
    let scroll_to = view.scroll_to.take();
    ScrollArea::vertical().id_salt(page.id).auto_shrink(false).show(ui, |ui| {
        ui.set_max_width(ui.available_width() - 8.0);
        ui.heading(&page.title);
        for (index, block) in page.blocks.iter().enumerate() {
            let response = ui.scope(|ui| block_ui(ui, block, &mut followed)).response;
            if scroll_to == Some(index) {
                response.scroll_to_me(Some(if index == 0 { Align::Center } else { Align::Min }));
            }
        }
        ui.add_space(20.0);
    });
    if let Some(Link { id, heading }) = followed {
        let block = pages().iter().find(|page| page.id == id).map_or(0, |page| block_of(page, &heading));
        go_to(view, id, block);
    }
}

/// The block of a heading; the first for none.
fn block_of(page: &Page, heading: &str) -> usize {
    let is_it = |block: &Block| matches!(block, Block::Heading { .. }) && anchor(&block.text()) == heading;
    page.blocks.iter().position(is_it).unwrap_or(0)
}

fn block_ui(ui: &mut egui::Ui, block: &Block, followed: &mut Option<Link>) {
    let palette = Palette::of(ui.ctx());
    match block {
        Block::Heading { level, .. } => {
            ui.add_space(8.0);
            let size = if *level <= 2 { 17.0 } else { 15.0 };
            ui.add(Label::new(RichText::new(block.text()).size(size).strong()).wrap());
        }
        Block::Words(words) => {
            spans_ui(ui, words, followed);
            ui.add_space(4.0);
        }
        Block::Item { depth, number, words } => {
            ui.horizontal_top(|ui| {
                ui.add_space(12.0 + 16.0 * *depth as f32);
                ui.label(words::bullet(*number));
                ui.with_layout(Layout::top_down(Align::Min), |ui| spans_ui(ui, words, followed));
            });
        }
        Block::Code(text) => {
            let frame = egui::Frame::new().fill(palette.card).inner_margin(6).corner_radius(4.0);
            frame.show(ui, |ui| {
                ui.set_width(ui.available_width());
                ScrollArea::horizontal().id_salt(text).show(ui, |ui| {
                    ui.add(Label::new(RichText::new(text).monospace().size(12.0)).extend());
                });
            });
        }
        Block::Table(rows) => {
            let columns = rows.first().map_or(1, Vec::len).max(1);
            let width = (ui.available_width() / columns as f32 - 12.0).max(60.0);
            for row in rows {
                ui.horizontal_top(|ui| {
                    ui.spacing_mut().item_spacing.x = 12.0;
                    for cell in row {
                        ui.vertical(|ui| {
                            ui.set_width(width);
                            spans_ui(ui, cell, followed);
                        });
                    }
                });
                ui.separator();
            }
        }
        Block::Picture(caption) => {
            let words = RichText::new(words::picture(caption)).italics().color(palette.faint);
            ui.add(Label::new(words).wrap());
        }
    }
}

/// Words in one flow. A click on linked ones says where they lead.
fn spans_ui(ui: &mut egui::Ui, spans: &[Span], followed: &mut Option<Link>) {
    let palette = Palette::of(ui.ctx());
    let (body, mono) = (TextStyle::Body.resolve(ui.style()), TextStyle::Monospace.resolve(ui.style()));
    let mut flow = LayoutJob::default();
    let mut ends = Vec::new();
    for span in spans {
        let font =
            if span.look == Look::Code { FontId::new(mono.size, mono.family.clone()) } else { body.clone() };
        let mut format = TextFormat { font_id: font, color: palette.ink, ..TextFormat::default() };
        match span.look {
            Look::Stressed => format.italics = true,
            Look::Strong => format.color = palette.accent,
            Look::Code => format.background = palette.card,
            Look::Plain => {}
        }
        if span.link.is_some() {
            (format.color, format.underline) = (palette.accent, egui::Stroke::new(1.0, palette.accent));
        }
        flow.append(&span.text, 0.0, format);
        ends.push(flow.text.chars().count());
    }
    let has_links = spans.iter().any(|span| span.link.is_some());
    let label = Label::new(flow).wrap();
    if !has_links {
        ui.add(label);
        return;
    }
    let (at, galley, response) = label.sense(Sense::click()).layout_in_ui(ui);
    ui.painter().galley(at, galley.clone(), palette.ink);
    let under = response.hover_pos().map(|pointer| galley.cursor_from_pos(pointer - at).index);
    let linked = under.and_then(|sign| {
        let span = ends.iter().position(|&end| sign < egui::text::CharIndex(end))?;
        spans[span].link.clone()
    });
    if linked.is_some() {
        ui.ctx().set_cursor_icon(egui::CursorIcon::PointingHand);
    }
    if response.clicked() {
        // By keys alone the first link is followed.
        *followed = linked.or_else(|| spans.iter().find_map(|span| span.link.clone()));
    }
}
