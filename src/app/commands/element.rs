//! What a person can ask of the design's elements.

use crate::app::commands::arrange::Arrange;
use crate::design::DrawingUnit;
use crate::design::Mirror;
use crate::job::{Spot, Words};
use crate::units::Mm;
use egui::{Key, KeyboardShortcut, Modifiers};

/// One thing to do with elements; unless it names one, with those that are chosen.
#[derive(Clone, Debug, PartialEq)]
pub enum ElementCommand {
    /// Choose the element of this place in the design, alone or beside others.
    Choose(usize, Choice),
    /// Choose every element.
    ChooseAll,
    /// Choose none.
    ChooseNone,
    /// Show or hide an element on the board view; it is carved all the same.
    ToggleHidden(usize),
    /// Hide the chosen elements on the board view.
    HideChosen,
    /// Show every element again.
    ShowAll,
    /// Type a new name in the list.
    StartRename,
    /// Give an element another name.
    Rename(usize, String),
    /// Make the chosen elements one.
    Combine,
    /// Take them out of the design.
    Remove,
    /// Turn them over.
    Mirror(Mirror),
    /// Show or hide the window for one way to arrange them.
    Arrange(Arrange),
    /// Take the others, with so much round them, out of the one that was chosen first; and whether they
    /// stay.
    CutOut {
        /// Room round them, as carved.
        margin: Mm,
        /// Whether they are still in the design afterwards.
        keep: bool,
    },
    /// Move them by so much along the board and across it, as carved.
    Move([Mm; 2]),
    /// Repeat them.
    Repeat {
        /// How many times along the board and across it.
        times: [u32; 2],
        /// From one to the next, along and across, as carved.
        pitch: [Mm; 2],
    },
    /// Put a lowered ground under the design.
    Ground {
        /// How far it reaches past the outlines, as carved.
        margin: Mm,
        /// Radius of its corners.
        corner: Mm,
    },
    /// Put a standing border round the design.
    Border {
        /// From the outlines to its inner edge, as carved.
        margin: Mm,
        /// How wide it is.
        width: Mm,
        /// Radius of its outer corners.
        corner: Mm,
    },
    /// Clean specks and slivers away.
    Clean,
    /// Show or hide the lettering, for new words.
    ToggleLettering,
    /// Show the lettering with the words of the chosen element.
    EditLettering,
    /// Show the lettering for a job of words alone.
    NewLettering,
    /// Put words into the design, or in place of those that were edited.
    Letter(Box<Words>, Spot),
    /// Open a job of these words alone.
    LetterNewJob(Box<Words>),
    /// Show or hide what sizes the drawing may be meant in.
    ToggleReading,
    /// Take the drawing's unit for this.
    ReadIn(DrawingUnit),
    /// Keep the size as it was read, and ask no more.
    KeepReading,
    /// Carve outlines that do not close as lines of the cutter's width.
    CarveAsLines,
}

/// How an element is chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice {
    /// It alone.
    Only,
    /// Beside the others, or no more.
    Toggle,
    /// With all from the one chosen last to it.
    UpTo,
}

impl ElementCommand {
    /// The words on its menu entry or button.
    pub fn label(&self) -> &'static str {
        use ElementCommand as E;
        match self {
            E::Choose(..) => "Choose element",
            E::ChooseAll => "Choose all",
            E::ChooseNone => "Choose none",
            E::ToggleHidden(_) | E::HideChosen => "Hide on the board",
            E::ShowAll => "Show all again",
            E::StartRename | E::Rename(..) => "Rename",
            E::Combine => "Combine",
            E::Remove => "Remove",
            E::Mirror(Mirror::Upright) => "Mirror left to right",
            E::Mirror(Mirror::Level) => "Mirror top to bottom",
            E::Arrange(what) => what.label(),
            E::CutOut { .. } => "Cut out",
            E::Move(_) => "Move",
            E::Repeat { .. } => "Repeat",
            E::Ground { .. } => "Add ground",
            E::Border { .. } => "Add border",
            E::Clean => "Clean specks away",
            E::ToggleLettering => "Letter words…",
            E::EditLettering => "Edit words…",
            E::NewLettering => "New job of words…",
            E::Letter(..) | E::LetterNewJob(_) => "Letter",
            E::ToggleReading => "Size of the drawing…",
            E::ReadIn(_) => "Take this size",
            E::KeepReading => "Keep this size",
            E::CarveAsLines => "Carve open outlines as lines",
        }
    }

    /// A sentence more, for a hover; empty where the label says it all.
    pub fn tooltip(&self) -> &'static str {
        use ElementCommand as E;
        match self {
            E::HideChosen => "Only to see what lies under them: they are carved all the same",
            E::Combine => "Make the chosen elements one; it keeps the first one's name",
            E::Remove => "Take the chosen elements out of the design; Undo brings them back",
            E::Mirror(_) => "Turn the chosen elements over where they are",
            E::Arrange(what) => what.tooltip(),
            E::Clean => "Drop pieces and fill holes that are too small to be meant",
            E::ToggleLettering => "Words in a font of this machine, as an element of the design",
            E::EditLettering => "Other words, another font or size, in the same place",
            E::NewLettering => "A board with words alone; this job stays open",
            E::ToggleReading => "The file does not state its size: see what it may be",
            E::CarveAsLines => "Outlines that do not close become grooves as wide as the cutter cuts",
            _ => "",
        }
    }

    /// The keys for it.
    pub fn shortcut(&self) -> Option<KeyboardShortcut> {
        let with = |modifiers, key| Some(KeyboardShortcut::new(modifiers, key));
        match self {
            ElementCommand::StartRename => with(Modifiers::NONE, Key::F2),
            ElementCommand::Remove => with(Modifiers::NONE, Key::Delete),
            ElementCommand::NewLettering => with(Modifiers::COMMAND, Key::N),
            ElementCommand::ToggleLettering => with(Modifiers::NONE, Key::T),
            ElementCommand::Combine => with(Modifiers::COMMAND, Key::J),
            _ => None,
        }
    }
}
