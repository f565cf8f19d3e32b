//! Everything a person can ask of the window. Menu, shortcut, panel and test all send the same enum.

use crate::app::commands::board::BoardCommand;
use crate::app::commands::element::ElementCommand;
use crate::app::commands::export::Export;
use crate::app::commands::folder::FolderCommand;
use crate::app::commands::middle::Middle;
use crate::job::Edit;
use crate::proof::mend::Mend;
use crate::shop::{Cutter, Prices, Wood};
use crate::trace::Settings;
use crate::units::{LengthUnit, Mm};
use egui::ThemePreference;
use std::path::PathBuf;

/// One thing to do.
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
    /// Ask which file to open.
    AskOpen,
    /// Type the path of the file to open.
    AskOpenPath,
    /// Ask for a picture to trace.
    AskPicture,
    /// Trace this picture, or the one that a drawing holds, as a job of its own.
    OpenPicture(PathBuf),
    /// Trace a picture that the shown drawing holds, by its number from 1, as a job of its own.
    TraceInside(usize),
    /// Trace the picture of the job again by these settings; whether how large it is was set.
    Trace(Box<Settings>, bool),
    /// Open a drawing or a saved job.
    Open(PathBuf),
    /// Open files one after the other, each as a job of its own.
    OpenSeveral(Vec<PathBuf>),
    /// Read the drawing again from its file.
    ReloadDrawing,
    /// Show another of the open jobs, by its place.
    ShowJob(usize),
    /// Show the next of the open jobs.
    NextJob,
    /// Show the one before.
    PreviousJob,
    /// Close the shown job; another must be open.
    CloseJob,
    /// Open what a crash left behind.
    RestoreLeft,
    /// Do away with what a crash left behind.
    DiscardLeft,
    /// Leave it where it is, and ask again at the next start.
    LeaveLeft,
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
    /// Close what was to be closed, whatever changes the shown job has.
    CloseUnsaved,
    /// Close nothing after all.
    Stay,
    /// Take back the last change.
    Undo,
    /// Make the change again.
    Redo,
    /// Show and read lengths in this unit.
    UseUnit(LengthUnit),
    /// Light, dark, or as the system says.
    UseTheme(ThemePreference),
    /// Draw everything larger.
    LargerText,
    /// Draw everything smaller.
    SmallerText,
    /// Draw everything at its usual size.
    UsualText,
    /// Let nothing move by itself, or let it.
    ToggleStill,
    /// Fill the whole screen, or leave it.
    FullScreen,
    /// Take the keys to the next part of the window.
    NextRegion,
    /// Take the keys to the part before.
    PreviousRegion,
    /// Show or hide the list of commands.
    ToggleCommands,
    /// Show or hide what mouse and keys do.
    ToggleHelp,
    /// Show or hide the guide.
    ToggleGuide,
    /// Show or hide lines across the board where the rulers have their numbers.
    ToggleGrid,
    /// Measure with the pointer, or move the board with it.
    ToggleMeasure,
    /// Show the board as large as it is.
    TrueSize,
    /// Show or hide the card that measures the screen.
    ToggleCalibrate,
    /// Go to a step of the lesson's tour.
    TourStep(usize),
    /// Put the sentences of a first start away.
    HideWelcome,
    /// Guess the answer to the tour's question, by its place among the guesses.
    Guess(usize),
    /// Leave the tour.
    EndTour,
    /// Bring the chosen finding into view.
    GoToChosen,
    /// Show this in the middle of the window.
    Show(Middle),
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
    Edit(Edit),
    /// Stop the work that is shown in the bottom bar.
    CancelWork,
    /// Show or hide all messages.
    ToggleMessages,
    /// Forget all messages.
    ClearMessages,
    /// Open a file that was written in the program that the desktop has for it.
    ShowFile(PathBuf),
    /// Ask where to write the outline.
    AskExportOutline,
    /// Write the outline here, at its finished size.
    ExportOutline(PathBuf),
    /// Work out a mended outline and show it.
    Mend(Mend),
    /// Show the outline as mended, or as it is.
    ShowMended(bool),
    /// Make the mended outline the job's.
    ApplyMended,
    /// Mend the one wall or groove that the finding of this id is about, and show what comes of it.
    MendOne(Mend, String),
    /// Put a picture of the carved wood on the clipboard.
    CopyPicture,
    /// Look at what an offer would come to, by its place in the list; at the job as it is if `None`.
    LookAtOffer(Option<usize>),
    /// Make the change that an offer makes, by its place in the list.
    ApplyOffer(usize),
    /// Leave the outline as it is.
    DropMended,
    /// Draw the cutters' passes over the board, or leave them out.
    TogglePasses,
    /// Show or hide how places are cleared.
    ToggleClearing,
    /// Show or hide the arithmetic of the limit.
    ToggleWhy,
    /// Show or hide the versions of the job side by side.
    ToggleCompare,
    /// Show or hide how the piece moves with the seasons.
    ToggleSeasons,
    /// Show or hide the list of cutters.
    ToggleCutters,
    /// Keep a cutter in the shop's own list, in place of the one of its id.
    KeepCutter(Box<Cutter>),
    /// Take the cutter of this id out of the shop's own list.
    RemoveCutter(String),
    /// Show or hide the woods of one's own.
    ToggleWoods,
    /// Keep a wood in the shop's own list, in place of the one of its id.
    KeepWood(Box<Wood>),
    /// Take the wood of this id out of the shop's own list.
    RemoveWood(String),
    /// Show or hide the coupon.
    ToggleCoupon,
    /// Show or hide the record of walls that held and broke.
    ToggleRecord,
    /// Keep what was said of the walls of this carve.
    KeepRecord,
    /// Ask where to write the coupon's outline.
    AskExportCoupon,
    /// Write the coupon's outline here.
    ExportCoupon(PathBuf),
    /// Ask where to write the coupon's key.
    AskExportCouponKey,
    /// Write the coupon's key here.
    ExportCouponKey(PathBuf),
    /// Make what survived on the coupon the limit of this cutter.
    Calibrate {
        /// The thinnest wall along the grain that survived.
        along: Mm,
        /// The thinnest wall across the grain that survived.
        across: Mm,
    },
    /// Something about the board.
    Board(BoardCommand),
    /// Something about the elements of the design.
    Element(ElementCommand),
    /// Something about a folder of drawings.
    Folder(FolderCommand),
    /// Ask where to write a sheet or a file.
    AskExport(Export),
    /// Write it here.
    Export(Export, PathBuf),
    /// Ask for the picture of the shop's mark.
    AskMark,
    /// Put this picture on every sheet, or none.
    UseMark(Option<PathBuf>),
    /// Show or hide what the shop charges.
    TogglePrices,
    /// Keep what the shop charges.
    KeepPrices(Box<Prices>),
    /// Say what the program is.
    ToggleAbout,
    /// Say what to keep in mind.
    ToggleCautions,
}

impl From<Edit> for Command {
    fn from(edit: Edit) -> Command {
        Command::Edit(edit)
    }
}

impl From<BoardCommand> for Command {
    fn from(command: BoardCommand) -> Command {
        Command::Board(command)
    }
}

impl From<ElementCommand> for Command {
    fn from(command: ElementCommand) -> Command {
        Command::Element(command)
    }
}

impl From<FolderCommand> for Command {
    fn from(command: FolderCommand) -> Command {
        Command::Folder(command)
    }
}
