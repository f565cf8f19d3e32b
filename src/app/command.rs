//! Everything a person can ask of the window. Menu, shortcut, panel and test all send the same enum.

use crate::job::{Ends, Frame, Placement, Size, Treatment};
use crate::units::{LengthUnit, Mm};
use egui::{Key, KeyboardShortcut, Modifiers, ThemePreference};
use std::path::PathBuf;

/// One thing to do.
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
    /// Ask which file to open.
    AskOpen,
    /// Type the path of the file to open.
    AskOpenPath,
    /// Open a drawing or a saved job.
    Open(PathBuf),
    /// Open a drawing that was handed over without a path.
    OpenBytes {
        /// The file's name.
        name: String,
        /// What is in it.
        bytes: Vec<u8>,
    },
    /// Open the bundled sample of this id.
    OpenSample(&'static str),
    /// Save the job where it came from, or ask where.
    Save,
    /// Ask where to save the job.
    AskSave,
    /// Save the job here.
    SaveTo(PathBuf),
    /// Close the window.
    Quit,
    /// Take back the last change.
    Undo,
    /// Make the change again.
    Redo,
    /// Show and read lengths in this unit.
    UseUnit(LengthUnit),
    /// Light, dark, or as the system says.
    UseTheme(ThemePreference),
    /// Show the whole board.
    FitView,
    /// Look closer.
    ZoomIn,
    /// Step back.
    ZoomOut,
    /// Choose a finding by its id, and bring it into view.
    GoTo(String),
    /// Choose the next finding in the list.
    NextFinding,
    /// Choose the one before.
    PreviousFinding,
    /// Change the job.
    Set(Setting),
    /// Stop the work that is shown in the bottom bar.
    CancelWork,
    /// Show or hide all messages.
    ToggleMessages,
    /// Forget all messages.
    ClearMessages,
    /// Say what the program is.
    ToggleAbout,
    /// Say what to keep in mind.
    ToggleCautions,
}

/// One change of the job.
#[derive(Clone, Debug, PartialEq)]
pub enum Setting {
    /// How one element is carved.
    Treatment {
        /// Its index in the design.
        element: usize,
        /// How.
        treatment: Treatment,
    },
    /// How all elements are carved.
    EveryTreatment(Treatment),
    /// The board's length.
    BoardLength(Mm),
    /// The board's width.
    BoardWidth(Mm),
    /// The board's thickness.
    BoardThickness(Mm),
    /// The board's wood, by id.
    Wood(String),
    /// The cutter, by id.
    Cutter(String),
    /// The machine, by id.
    Machine(String),
    /// How deep.
    Depth(Mm),
    /// Held or free.
    Ends(Ends),
    /// How large.
    Size(Size),
    /// What counts as the size.
    Frame(Frame),
    /// Where on the board.
    Placement(Placement),
}

impl Setting {
    /// What an undo of it is called.
    pub fn name(&self) -> &'static str {
        match self {
            Setting::Treatment { .. } | Setting::EveryTreatment(_) => "treatment",
            Setting::BoardLength(_) => "board length",
            Setting::BoardWidth(_) => "board width",
            Setting::BoardThickness(_) => "board thickness",
            Setting::Wood(_) => "wood",
            Setting::Cutter(_) => "cutter",
            Setting::Machine(_) => "machine",
            Setting::Depth(_) => "depth",
            Setting::Ends(_) => "ends",
            Setting::Size(_) => "size",
            Setting::Frame(_) => "frame",
            Setting::Placement(_) => "place",
        }
    }
}

impl Command {
    /// The words on its menu entry or button.
    pub fn label(&self) -> &'static str {
        match self {
            Command::AskOpen => "Open…",
            Command::AskOpenPath => "Open by path…",
            Command::Open(_) | Command::OpenBytes { .. } => "Open",
            Command::OpenSample(_) => "Open sample",
            Command::Save => "Save job",
            Command::AskSave | Command::SaveTo(_) => "Save job as…",
            Command::Quit => "Quit",
            Command::Undo => "Undo",
            Command::Redo => "Redo",
            Command::UseUnit(unit) => match unit {
                LengthUnit::Millimetres => "Millimetres",
                LengthUnit::InchDecimal => "Inches, decimal",
                LengthUnit::InchFraction => "Inches, fractions",
            },
            Command::UseTheme(theme) => match theme {
                ThemePreference::Light => "Light",
                ThemePreference::Dark => "Dark",
                ThemePreference::System => "As the system",
            },
            Command::FitView => "Whole board",
            Command::ZoomIn => "Closer",
            Command::ZoomOut => "Farther",
            Command::GoTo(_) => "Go to finding",
            Command::NextFinding => "Next finding",
            Command::PreviousFinding => "Previous finding",
            Command::Set(setting) => setting.name(),
            Command::CancelWork => "Cancel",
            Command::ToggleMessages => "Messages",
            Command::ClearMessages => "Clear messages",
            Command::ToggleAbout => "About Spelk",
            Command::ToggleCautions => "Cautions",
        }
    }

    /// A sentence more, for a hover; empty where the label says it all.
    pub fn tooltip(&self) -> &'static str {
        match self {
            Command::AskOpen => "Open an SVG drawing or a saved job; or drop the file on the window",
            Command::AskOpenPath => "Type where the file is",
            Command::Save => "Save the job, its drawing inside it, as one file",
            Command::FitView => "Show the whole board",
            Command::NextFinding | Command::PreviousFinding => "Walk through the findings on the board",
            Command::CancelWork => "Stop this and keep the job as it was",
            Command::ToggleMessages => "Show what was said before",
            _ => "",
        }
    }

    /// The keys for it.
    pub fn shortcut(&self) -> Option<KeyboardShortcut> {
        let with = |modifiers, key| Some(KeyboardShortcut::new(modifiers, key));
        match self {
            Command::AskOpen => with(Modifiers::COMMAND, Key::O),
            Command::AskOpenPath => with(Modifiers::COMMAND, Key::L),
            Command::Save => with(Modifiers::COMMAND, Key::S),
            Command::AskSave => with(Modifiers::COMMAND | Modifiers::SHIFT, Key::S),
            Command::Quit => with(Modifiers::COMMAND, Key::Q),
            Command::Undo => with(Modifiers::COMMAND, Key::Z),
            Command::Redo => with(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z),
            Command::FitView => with(Modifiers::NONE, Key::F),
            Command::NextFinding => with(Modifiers::NONE, Key::N),
            Command::PreviousFinding => with(Modifiers::SHIFT, Key::N),
            _ => None,
        }
    }

    /// Every command with keys, those with more modifiers first so that none hides another.
    pub(super) fn with_shortcuts() -> [Command; 10] {
        [
            Command::AskSave,
            Command::Redo,
            Command::AskOpen,
            Command::AskOpenPath,
            Command::Save,
            Command::Quit,
            Command::Undo,
            Command::PreviousFinding,
            Command::NextFinding,
            Command::FitView,
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_commands_share_their_keys() {
        let keys: Vec<_> = Command::with_shortcuts().iter().map(|c| c.shortcut().unwrap()).collect();
        for (i, key) in keys.iter().enumerate() {
            assert!(!keys[..i].contains(key), "{key:?} is used twice");
        }
    }
}
