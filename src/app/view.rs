//! What the middle of the window shows, and the row that switches it.

use super::command::Command;
use super::look::Palette;
use egui::{Button, Key, KeyboardShortcut, Modifiers, RichText};

/// One thing that the middle of the window can show.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Middle {
    /// The board from above, to scale.
    #[default]
    Board,
    /// The carved surface.
    Relief,
    /// Why walls thin as a design shrinks.
    Lesson,
    /// The design at several sizes.
    Sizes,
}

impl Middle {
    /// All of them, in the row's order.
    pub const ALL: [Middle; 4] = [Middle::Board, Middle::Relief, Middle::Sizes, Middle::Lesson];

    /// The word on its button.
    pub fn label(self) -> &'static str {
        match self {
            Middle::Board => "Board",
            Middle::Relief => "Relief",
            Middle::Lesson => "Lesson",
            Middle::Sizes => "Sizes",
        }
    }

    /// A sentence more, for a hover.
    pub fn tooltip(self) -> &'static str {
        match self {
            Middle::Board => "The board from above, to scale, with what was found on it",
            Middle::Relief => "The carved surface, the cut through it, and how long the carve takes",
            Middle::Lesson => "Why it thins: the same wall and the same cutter at full and at chosen size",
            Middle::Sizes => "The design at several sizes, on boards to a common scale, with what each costs",
        }
    }

    /// The keys for it: its place in the row.
    pub fn shortcut(self) -> Option<KeyboardShortcut> {
        const DIGITS: [Key; 4] = [Key::Num1, Key::Num2, Key::Num3, Key::Num4];
        let place = Middle::ALL.iter().position(|middle| *middle == self)?;
        Some(KeyboardShortcut::new(Modifiers::COMMAND, *DIGITS.get(place)?))
    }

    /// Whether the cards and the findings stand beside it.
    pub(super) fn has_sides(self) -> bool {
        matches!(self, Middle::Board | Middle::Relief)
    }
}

/// The row above the middle.
pub(super) fn views_ui(ui: &mut egui::Ui, shown: Middle, commands: &mut Vec<Command>) {
    let palette = Palette::of(ui.ctx());
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        ui.spacing_mut().interact_size.y = 18.0;
        for middle in Middle::ALL {
            let command = Command::Show(middle);
            let chosen = middle == shown;
            let words =
                RichText::new(middle.label()).small().color(if chosen { palette.ink } else { palette.faint });
            let response = ui.add(Button::selectable(chosen, words));
            let keys = command.shortcut().map(|keys| ui.ctx().format_shortcut(&keys)).unwrap_or_default();
            let response = response.on_hover_text(format!("{}\n{keys}", command.tooltip()));
            if response.accessible_name(format!("Show {}", middle.label().to_lowercase())).clicked() {
                commands.push(command);
            }
        }
    });
}
