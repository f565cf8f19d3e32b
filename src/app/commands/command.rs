//! Everything a person can ask of the window. Menu, shortcut, panel and test all send the same enum.

use crate::app::commands::board::{BoardCommand, Tool};
use crate::app::commands::element::ElementCommand;
use crate::app::commands::export::Export;
use crate::app::commands::middle::Middle;
use crate::job::Edit;
use crate::proof::mend::Mend;
use crate::shop::{Cutter, Prices, Wood};
use crate::units::{LengthUnit, Mm};
use crate::words::edits::edit_name;
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
    /// Show or hide the list of commands.
    ToggleCommands,
    /// Show or hide what mouse and keys do.
    ToggleHelp,
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
    /// Leave the outline as it is.
    DropMended,
    /// Draw the cutters' passes over the board, or leave them out.
    TogglePasses,
    /// Show or hide how places are cleared.
    ToggleClearing,
    /// Show or hide the arithmetic of the limit.
    ToggleWhy,
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

impl Command {
    /// The words on its menu entry or button.
    pub fn label(&self) -> &'static str {
        match self {
            Command::AskOpen => "Open…",
            Command::AskOpenPath => "Open by path…",
            Command::Open(_) | Command::OpenBytes { .. } | Command::OpenSeveral(_) => "Open",
            Command::ReloadDrawing => "Read drawing again",
            Command::ShowJob(_) => "Show job",
            Command::NextJob => "Next job",
            Command::PreviousJob => "Previous job",
            Command::CloseJob => "Close job",
            Command::RestoreLeft => "Restore",
            Command::DiscardLeft => "Discard",
            Command::LeaveLeft => "Later",
            Command::CloseUnsaved => "Close without saving",
            Command::Stay => "Stay",
            Command::LargerText => "Larger text",
            Command::SmallerText => "Smaller text",
            Command::UsualText => "Usual text size",
            Command::ToggleStill => "Reduced motion",
            Command::FullScreen => "Full screen",
            Command::ToggleCommands => "Find a command…",
            Command::ToggleHelp => "Mouse and keys",
            Command::ToggleGrid => "Grid",
            Command::ToggleMeasure => "Measure",
            Command::TrueSize => "True size",
            Command::ToggleCalibrate => "True size of this screen…",
            Command::TourStep(_) => "Start the tour",
            Command::EndTour => "End the tour",
            Command::HideWelcome => "Understood",
            Command::GoToChosen => "Chosen finding",
            Command::OpenSample(_) => "Open sample",
            Command::Save => "Save job",
            Command::AskSave | Command::SaveTo(_) => "Save job as…",
            Command::Quit => "Quit",
            Command::Undo => "Undo",
            Command::Redo => "Redo",
            Command::UseUnit(unit) => match unit {
                LengthUnit::Millimetres => "Millimetres",
                LengthUnit::InchDecimal => "Inches, decimal",
                LengthUnit::InchSixteenth => "Inches, sixteenths",
                LengthUnit::InchFraction => "Inches, thirty-seconds",
                LengthUnit::InchSixtyFourth => "Inches, sixty-fourths",
            },
            Command::UseTheme(theme) => match theme {
                ThemePreference::Light => "Light",
                ThemePreference::Dark => "Dark",
                ThemePreference::System => "As the system",
            },
            Command::Show(middle) => middle.label(),
            Command::FitView => "Whole board",
            Command::ZoomIn => "Closer",
            Command::ZoomOut => "Farther",
            Command::GoTo(_) => "Go to finding",
            Command::NextFinding => "Next finding",
            Command::PreviousFinding => "Previous finding",
            Command::Edit(edit) => edit_name(edit.kind()),
            Command::CancelWork => "Cancel",
            Command::ToggleMessages => "Messages",
            Command::ClearMessages => "Clear messages",
            Command::AskExportOutline | Command::ExportOutline(_) => "Export outline…",
            Command::Mend(Mend::Walls) => "Thicken thin walls to their limit",
            Command::Mend(Mend::Grooves) => "Widen blocked grooves to the cutter",
            Command::ShowMended(false) => "Before",
            Command::ShowMended(true) => "After",
            Command::ApplyMended => "Apply",
            Command::DropMended => "Leave as it is",
            Command::TogglePasses => "Show passes",
            Command::ToggleClearing => "Clearing…",
            Command::ToggleWhy => "Why this limit",
            Command::ToggleSeasons => "Seasons…",
            Command::ToggleCutters => "Cutters…",
            Command::KeepCutter(_) => "Keep cutter",
            Command::RemoveCutter(_) => "Remove cutter",
            Command::ToggleWoods => "Woods…",
            Command::KeepWood(_) => "Keep wood",
            Command::RemoveWood(_) => "Remove wood",
            Command::ToggleCoupon => "Coupon…",
            Command::AskExportCoupon | Command::ExportCoupon(_) => "Export coupon…",
            Command::AskExportCouponKey | Command::ExportCouponKey(_) => "Export key…",
            Command::Calibrate { .. } => "Make this the limit",
            Command::Board(command) => command.label(),
            Command::Element(command) => command.label(),
            Command::AskExport(what) | Command::Export(what, _) => what.label(),
            Command::AskMark => "Choose picture…",
            Command::UseMark(_) => "No picture",
            Command::TogglePrices => "Prices…",
            Command::KeepPrices(_) => "Keep prices",
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
            Command::ReloadDrawing => "It is read again by itself when its file changes; settings stay",
            Command::CloseJob => "Close this job; the others stay open",
            Command::ToggleStill => "Go to places at once, without a moving ring",
            Command::FullScreen => "Fill the screen, for a projector; the same key or Escape goes back",
            Command::ToggleCommands => "Type a few letters of what you want to do",
            Command::ToggleGrid => "Lines where the rulers have their numbers",
            Command::ToggleMeasure => "Drag from one place to another; the middle button moves the board",
            Command::TrueSize => "Show the board as large as it is, once the screen was measured",
            Command::ToggleCalibrate => "Measure this screen with a bank card or a rule",
            Command::TourStep(_) => "Six questions on the samples, each answered by the size handle",
            Command::GoToChosen => "Bring the chosen finding into view",
            Command::Show(middle) => middle.tooltip(),
            Command::FitView => "Show the whole board",
            Command::NextFinding | Command::PreviousFinding => "Walk through the findings on the board",
            Command::CancelWork => "Stop this and keep the job as it was",
            Command::ToggleMessages => "Show what was said before",
            Command::AskExportOutline => "Write the outline at its finished size, as an SVG drawing",
            Command::Mend(_) => "See what it would do to the outline before anything is changed",
            Command::ApplyMended => "Make the mended outline this job's; Undo takes it back",
            Command::TogglePasses => "Draw the way of each cutter over the board",
            Command::ToggleClearing => "A larger cutter first, direction, stepover, pass depth, bridges",
            Command::ToggleWhy => "Show the arithmetic, and where each number comes from",
            Command::ToggleSeasons => "How much wider and narrower the piece grows with damp and dry air",
            Command::ToggleCutters => "Look at cutters, and keep your own",
            Command::ToggleWoods => "Add a wood of your own",
            Command::ToggleCoupon => "Carve a test piece to find your own limit",
            Command::AskExportCoupon => "The outline to carve, at true size",
            Command::AskExportCouponKey => "The same with a number at every rung, to print and lay beside it",
            Command::Board(command) => command.tooltip(),
            Command::Element(command) => command.tooltip(),
            Command::AskExport(what) => what.tooltip(),
            Command::AskMark => "A PNG or JPEG picture, printed beside the shop's name",
            Command::TogglePrices => "What your shop charges: wood, hours, finish, margin, tax",
            Command::KeepPrices(_) => "Keep them for every job",
            Command::Calibrate { .. } => "Keep it with this cutter, for every wood and depth",
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
            Command::AskExportOutline => with(Modifiers::COMMAND, Key::E),
            Command::TogglePasses => with(Modifiers::NONE, Key::P),
            Command::ToggleWhy => with(Modifiers::NONE, Key::W),
            Command::ReloadDrawing => with(Modifiers::COMMAND, Key::R),
            Command::NextJob => with(Modifiers::COMMAND, Key::PageDown),
            Command::PreviousJob => with(Modifiers::COMMAND, Key::PageUp),
            Command::CloseJob => with(Modifiers::COMMAND, Key::W),
            Command::LargerText => with(Modifiers::COMMAND, Key::Plus),
            Command::SmallerText => with(Modifiers::COMMAND, Key::Minus),
            Command::UsualText => with(Modifiers::COMMAND, Key::Num0),
            Command::FullScreen => with(Modifiers::NONE, Key::F11),
            Command::ToggleCommands => with(Modifiers::COMMAND, Key::K),
            Command::ToggleHelp => with(Modifiers::NONE, Key::F1),
            Command::ToggleGrid => with(Modifiers::NONE, Key::G),
            Command::ToggleMeasure => with(Modifiers::NONE, Key::D),
            Command::TrueSize => with(Modifiers::NONE, Key::S),
            Command::GoToChosen => with(Modifiers::NONE, Key::C),
            Command::Quit => with(Modifiers::COMMAND, Key::Q),
            Command::Undo => with(Modifiers::COMMAND, Key::Z),
            Command::Redo => with(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z),
            Command::Show(middle) => middle.shortcut(),
            Command::FitView => with(Modifiers::NONE, Key::F),
            Command::NextFinding => with(Modifiers::NONE, Key::N),
            Command::PreviousFinding => with(Modifiers::SHIFT, Key::N),
            Command::Board(command) => command.shortcut(),
            Command::Element(command) => command.shortcut(),
            _ => None,
        }
    }

    /// Every command with keys, those with more modifiers first so that none hides another.
    pub(crate) fn with_shortcuts() -> Vec<Command> {
        let mut commands = vec![
            Command::AskSave,
            Command::Redo,
            Command::AskOpen,
            Command::AskOpenPath,
            Command::Save,
            Command::AskExportOutline,
            Command::Quit,
            Command::Undo,
            Command::PreviousFinding,
            Command::NextFinding,
            Command::FitView,
            Command::ToggleWhy,
            Command::TogglePasses,
            Command::Board(BoardCommand::UseTool(Tool::Move)),
            Command::Board(BoardCommand::Turn),
            Command::Board(BoardCommand::ToggleFit),
            Command::Element(ElementCommand::NewLettering),
            Command::Element(ElementCommand::ToggleLettering),
            Command::Element(ElementCommand::StartRename),
            Command::Element(ElementCommand::Combine),
            Command::Element(ElementCommand::Remove),
            Command::ReloadDrawing,
            Command::NextJob,
            Command::PreviousJob,
            Command::CloseJob,
            Command::LargerText,
            Command::SmallerText,
            Command::UsualText,
            Command::FullScreen,
            Command::ToggleCommands,
            Command::ToggleHelp,
            Command::GoToChosen,
            Command::ToggleGrid,
            Command::ToggleMeasure,
            Command::TrueSize,
        ];
        commands.extend(Middle::ALL.map(Command::Show));
        commands
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
