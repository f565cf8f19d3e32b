//! The list of all commands: type a few letters of one, and Enter does it.

use crate::app::commands::command::Command;
use crate::app::commands::menus;
use crate::app::commands::situation::Situation;
use crate::app::widgets::look::Palette;
use crate::words::window::commands as said;
use egui::{Key, Label, Modifiers, RichText, ScrollArea, TextEdit};

/// What is typed, and which row Enter would take.
#[derive(Default)]
pub(crate) struct CommandList {
    text: String,
    row: usize,
}

/// The list, where it is open.
pub(crate) fn command_list_ui(
    ctx: &egui::Context,
    list: &mut Option<CommandList>,
    situation: &Situation,
    commands: &mut Vec<Command>,
) {
    let Some(open) = list else { return };
    let mut found: Vec<(String, Command)> = menus::commands(situation)
        .into_iter()
        // The list need not offer itself.
        .filter(|(_, command)| *command != Command::ToggleCommands && situation.allows(command))
        .map(|(menu, command)| (menu, situation.full_words(&command), command))
        .filter(|(menu, words, command)| {
            matches(&open.text, &format!("{words} {} {}", menu.label(), command.tooltip()))
        })
        .map(|(_, words, command)| (words, command))
        .collect();
    found.sort_by_key(|(words, _)| distance(&open.text, words));
    let step = |key| ctx.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    let (up, down) = (step(Key::ArrowUp), step(Key::ArrowDown));
    let last = found.len().saturating_sub(1);
    open.row = if up { open.row.saturating_sub(1) } else { open.row + usize::from(down) }.min(last);

    let mut done = None;
    let modal = egui::Modal::new(egui::Id::unique("commands")).show(ctx, |ui| {
        ui.set_width(440.0);
        ui.heading(said::FIND_A_COMMAND);
        let field = TextEdit::singleline(&mut open.text)
            .hint_text(said::A_FEW_LETTERS_OF_ITS_NAME)
            .desired_width(f32::INFINITY);
        let field = ui.add(field).accessible_name(said::LETTERS_OF_THE_COMMAND);
        if field.changed() {
            open.row = 0;
        }
        let entered = field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
        if !field.has_focus() && !field.lost_focus() {
            field.request_focus();
        }
        if found.is_empty() {
            ui.label(said::NO_MATCHING_COMMAND_THAT_YOU_CAN_USE);
        }
        ScrollArea::vertical().max_height(300.0).auto_shrink([false, true]).show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 1.0;
            for (index, (words, command)) in found.iter().enumerate() {
                let row = row_ui(ui, words, command, index == open.row);
                if index == open.row && (up || down || field.changed()) {
                    row.scroll_to_me(None);
                }
                if row.clicked() || (entered && index == open.row) {
                    done = Some(command.clone());
                }
            }
        });
    });
    if modal.should_close() || done.is_some() {
        ctx.request_repaint();
        *list = None;
    }
    commands.extend(done);
}

fn row_ui(ui: &mut egui::Ui, words: &str, command: &Command, chosen: bool) -> egui::Response {
    let palette = Palette::of(ui.ctx());
    let mut button = egui::Button::selectable(chosen, words).truncate();
    if let Some(keys) = command.shortcut() {
        button = button.shortcut_text(RichText::new(ui.ctx().format_shortcut(&keys)).color(palette.faint));
    }
    let width = ui.available_width();
    let response = ui.add(button.min_size(egui::vec2(width, 0.0)));
    if chosen {
        let tip = RichText::new(command.tooltip()).small().color(palette.faint);
        ui.add(Label::new(tip).wrap());
    }
    response.on_hover_text(command.tooltip())
}

/// Whether every word that was typed is in `words`, in any case and order.
fn matches(typed: &str, words: &str) -> bool {
    let words = words.to_lowercase();
    typed.to_lowercase().split_whitespace().all(|part| words.contains(part))
}

/// How far words are from what was typed: they begin with it, a word of theirs does, or it is found elsewhere.
fn distance(typed: &str, words: &str) -> u8 {
    let (typed, words) = (typed.trim().to_lowercase(), words.to_lowercase());
    if words.starts_with(&typed) {
        0
    } else if words.split_whitespace().any(|word| word.starts_with(&typed)) {
        1
    } else {
        2
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_begins_with_the_letters_comes_first() {
        assert_eq!(distance("Mea", "Measure"), 0);
        assert_eq!(distance("mea", "How to measure…"), 1);
        assert_eq!(distance("mea", "True size"), 2);
        assert_eq!(distance("", "Measure"), distance("", "True size"), "untouched, they keep their order");
    }

    #[test]
    fn a_command_is_found_by_any_of_its_words() {
        assert!(matches("", "Save job"));
        assert!(matches("job SA", "Save job File"));
        assert!(!matches("save x", "Save job"));
    }
}
