//! What a person can ask of the design's elements.

use crate::app::commands::arrange::Arrange;
use crate::design::DrawingUnit;
use crate::design::{Mirror, PlateShape};
use crate::job::{Spot, Words};
use crate::units::Mm;

/// One thing to do with elements; unless it names one, with those that are chosen.
#[derive(Clone, Debug, PartialEq)]
pub enum ElementCommand {
    /// Choose the element of this place in the design, alone or beside others.
    Choose(usize, Choice),
    /// Choose the elements of these places as well.
    ChooseBoxed(Vec<usize>),
    /// Choose every element.
    ChooseAll,
    /// Choose none.
    ChooseNone,
    /// Hide elements on the board view, or show them where all are hidden; they are carved all the same.
    ToggleHidden(Vec<usize>),
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
    /// Make their pieces elements of their own.
    Split,
    /// Choose the elements of these places, alone or beside others.
    ChooseThese(Vec<usize>, Choice),
    /// Choose every element of the groups that the chosen ones are in.
    ChooseGroup,
    /// Choose every element of the colours of the chosen ones.
    ChooseColor,
    /// Choose every element that looks like the chosen ones.
    ChooseAlike,
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
    /// Make them so many times as large, about the middle of the box round them.
    Resize(f64),
    /// Move their outlines outwards by so much, as carved; inwards where it is negative.
    Grow(Mm),
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
        /// Its outline.
        shape: PlateShape,
    },
    /// Put a standing border round the design.
    Border {
        /// From the outlines to its inner edge, as carved.
        margin: Mm,
        /// How wide it is.
        width: Mm,
        /// Its outer edge.
        shape: PlateShape,
    },
    /// Smooth away what is finer than this, as carved.
    Smooth(Mm),
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
