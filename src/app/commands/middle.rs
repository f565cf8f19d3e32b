//! What the middle of the window shows.

use egui::{Key, KeyboardShortcut, Modifiers};

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
    pub(crate) fn has_sides(self) -> bool {
        matches!(self, Middle::Board | Middle::Relief)
    }
}
