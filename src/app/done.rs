//! What the workers bring, of whatever room.

use crate::app::board::done::BoardDone;
use crate::app::board::painting::Layers;
use crate::app::compare::Compared;
use crate::app::documents::document::DocumentId;
use crate::app::documents::opening::Origin;
use crate::app::documents::questions::Reread;
use crate::app::elements::edited::Edited;
use crate::app::elements::lettering::SetWords;
use crate::app::elements::typefaces::DrawnNames;
use crate::app::folder::FolderPart;
use crate::app::relief::piece::ReliefPiece;
use crate::app::relief::{card, clock, picture, section, worked};
use crate::app::sizes::{Sized, Surfaced};
use crate::app::work::Failed;
use crate::app::work::advised::Advised;
use crate::app::work::pictured::Retraced;
use crate::app::work::proofed::{Mended, Proofed};
use crate::job::Job;
use crate::sheet::picture::Picture;
use std::path::PathBuf;
use std::sync::Arc;

/// What came of a run.
pub(crate) enum Done {
    /// A file was opened and proofed.
    Opened(Box<Proofed>, Origin),
    /// A file could not be opened.
    NotOpened(Failed),
    /// A drawing was read again, or could not be.
    Reread(Box<Reread>),
    /// The design was changed.
    Edited(Box<Edited>),
    /// Words were set, for a look.
    Lettered(Box<SetWords>),
    /// Names of typefaces were drawn.
    NamesDrawn(DrawnNames),
    /// The job was proofed.
    Proofed(Box<Proofed>),
    /// What would help was tried out.
    Advised(Box<Advised>),
    /// The board was painted.
    Painted(Box<Layers>),
    /// The job was saved here.
    Saved(DocumentId, Arc<Job>, PathBuf),
    /// A file was written here, and the letters that no typeface has are not in it.
    Written(PathBuf, Vec<char>),
    /// Several files were written; what to call them.
    WrittenEach(String),
    /// A picture for the clipboard was made.
    Copied(Box<Picture>),
    /// A picture was traced again, or could not be.
    Traced(Box<Retraced>),
    /// The job was mended, for a look.
    Mended(Box<Mended>),
    /// A piece of the carved surface was worked out.
    Relief(Box<ReliefPiece>),
    /// Something about the board was worked out.
    Board(BoardDone),
    /// The design was worked out at several sizes.
    Sized(Box<Sized>),
    /// The versions of the job.
    Compared(Box<Compared>),
    /// A part of a folder.
    Folder(FolderPart),
    /// Pictures of the carved boards of these sizes.
    Surfaced(Box<Surfaced>),
    /// Something could not be done.
    Failed(Failed),
}

impl From<SetWords> for Done {
    fn from(set: SetWords) -> Done {
        Done::Lettered(Box::new(set))
    }
}

impl From<DrawnNames> for Done {
    fn from(drawn: DrawnNames) -> Done {
        Done::NamesDrawn(drawn)
    }
}

/// What of the relief is wrapped twice: in its room's enum, and in the window's.
macro_rules! brings_of_the_relief {
    ($($piece:ident($of:ty)),* $(,)?) => {
        $(impl From<$of> for Done {
            fn from(piece: $of) -> Done {
                Done::Relief(Box::new(ReliefPiece::$piece(piece)))
            }
        })*
    };
}

brings_of_the_relief! {
    Surface(worked::Surface),
    Planned(worked::Planned),
    Played(clock::Played),
    Picture(picture::Shaded),
    Layers(card::CardLayers),
    Section(section::Cut),
}

impl From<Sized> for Done {
    fn from(sized: Sized) -> Done {
        Done::Sized(Box::new(sized))
    }
}

impl From<Compared> for Done {
    fn from(compared: Compared) -> Done {
        Done::Compared(Box::new(compared))
    }
}

impl From<FolderPart> for Done {
    fn from(part: FolderPart) -> Done {
        Done::Folder(part)
    }
}

impl From<Surfaced> for Done {
    fn from(surfaced: Surfaced) -> Done {
        Done::Surfaced(Box::new(surfaced))
    }
}
