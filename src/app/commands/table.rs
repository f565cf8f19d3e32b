//! The one table of commands: caption, keys, and what each needs.
//!
//! Every command has a row, and the compiler says where one is missing. Menus, hovers, keys, the list that
//! finds a command by its name, and the page of keys all read it.

use crate::app::commands::arrange::Arrange;
use crate::app::commands::board::{BoardCommand, PiecesQuestion, Tool};
use crate::app::commands::command::Command;
use crate::app::commands::element::ElementCommand;
use crate::app::commands::entry::{Entry, Needs};
use crate::app::commands::export::Export;
use crate::app::commands::folder::FolderCommand;
use crate::app::commands::middle::Middle;
use crate::design::Mirror;
use crate::proof::mend::Mend;
use crate::units::LengthUnit;
use crate::words::commands as said;
use crate::words::commands::Caption;
use crate::words::edits::edit_name;
use egui::{Key, KeyboardShortcut, Modifiers, ThemePreference};

const COMMAND_SHIFT: Modifiers = Modifiers { shift: true, ..Modifiers::COMMAND };

impl Command {
    /// The words on its menu entry or button.
    pub fn label(&self) -> &'static str {
        self.entry().caption.label
    }

    /// The sentence of its hover.
    pub fn tooltip(&self) -> &'static str {
        self.entry().caption.tip
    }

    /// The sentence of its hover with its keys.
    pub(crate) fn hover(&self, ctx: &egui::Context) -> String {
        let Entry { caption, keys, .. } = self.entry();
        keys.map_or_else(
            || caption.tip.to_owned(),
            |keys| said::tip_with_keys(caption.tip, &ctx.format_shortcut(&keys)),
        )
    }

    /// The keys for it.
    pub fn shortcut(&self) -> Option<KeyboardShortcut> {
        self.entry().keys
    }

    /// Its row of the table.
    #[expect(clippy::too_many_lines, reason = "one row a command")]
    pub(crate) fn entry(&self) -> Entry {
        use Needs::{ChosenFinding, DrawingFile, Job, Nothing, OtherJob, RedoableEdit, UndoableEdit};
        let row = Entry::new;
        match self {
            Command::AskOpen => row(said::OPEN, Nothing).command_key(Key::O),
            Command::AskOpenPath => row(said::OPEN_PATH, Nothing).command_key(Key::L),
            Command::AskPicture | Command::OpenPicture(_) => row(said::TRACE_PICTURE, Nothing),
            Command::TraceInside(_) => row(said::TRACE_PICTURE_INSIDE, DrawingFile),
            Command::Trace(..) => row(said::TRACE_AGAIN, Job),
            Command::Open(_) | Command::OpenSeveral(_) | Command::OpenBytes { .. } => {
                row(said::OPEN_FILE, Nothing)
            }
            Command::OpenSample(_) => row(said::OPEN_SAMPLE, Nothing),
            Command::ReloadDrawing => row(said::RELOAD_DRAWING, DrawingFile).command_key(Key::R),
            Command::ShowJob(_) => row(said::SHOW_JOB, Job),
            Command::NextJob => row(said::NEXT_JOB, OtherJob).command_key(Key::PageDown),
            Command::PreviousJob => row(said::PREVIOUS_JOB, OtherJob).command_key(Key::PageUp),
            Command::CloseJob => row(said::CLOSE_JOB, OtherJob).command_key(Key::W),
            Command::RestoreLeft => row(said::RESTORE, Nothing),
            Command::DiscardLeft => row(said::DISCARD, Nothing),
            Command::LeaveLeft => row(said::LATER, Nothing),
            Command::Save => row(said::SAVE, Job).command_key(Key::S),
            Command::AskSave | Command::SaveTo(_) => row(said::SAVE_AS, Job).keys(COMMAND_SHIFT, Key::S),
            Command::CloseUnsaved => row(said::CLOSE_UNSAVED, Job),
            Command::Stay => row(said::STAY, Job),
            Command::Quit => row(said::QUIT, Nothing).command_key(Key::Q),
            Command::Undo => row(said::UNDO, UndoableEdit).command_key(Key::Z),
            Command::Redo => row(said::REDO, RedoableEdit).keys(COMMAND_SHIFT, Key::Z),
            Command::Edit(edit) => row(Caption { label: edit_name(edit.kind()), tip: said::EDIT.tip }, Job),
            Command::UseUnit(unit) => row(unit_caption(*unit), Nothing),
            Command::UseTheme(ThemePreference::Light) => row(said::LIGHT, Nothing),
            Command::UseTheme(ThemePreference::Dark) => row(said::DARK, Nothing),
            Command::UseTheme(ThemePreference::System) => row(said::AS_THE_SYSTEM, Nothing),
            Command::LargerText => row(said::LARGER_TEXT, Nothing).command_key(Key::Plus),
            Command::SmallerText => row(said::SMALLER_TEXT, Nothing).command_key(Key::Minus),
            Command::UsualText => row(said::USUAL_TEXT, Nothing).command_key(Key::Num0),
            Command::ToggleStill => row(said::REDUCED_MOTION, Nothing),
            Command::FullScreen => row(said::FULL_SCREEN, Nothing).key(Key::F11),
            Command::NextRegion => row(said::NEXT_REGION, Job).key(Key::F6),
            Command::PreviousRegion => row(said::PREVIOUS_REGION, Job).keys(Modifiers::SHIFT, Key::F6),
            Command::ToggleGrid => row(said::GRID, Job).key(Key::G),
            Command::ToggleMeasure => row(said::MEASURE, Job).key(Key::D),
            Command::TrueSize => row(said::TRUE_SIZE, Job).key(Key::S),
            Command::ToggleCalibrate => row(said::CALIBRATE_SCREEN, Job),
            Command::Show(Middle::Board) => row(said::BOARD, Job).command_key(Key::Num1),
            Command::Show(Middle::Relief) => row(said::RELIEF, Job).command_key(Key::Num2),
            Command::Show(Middle::Sizes) => row(said::SIZES, Job).command_key(Key::Num3),
            Command::Show(Middle::Lesson) => row(said::LESSON, Job).command_key(Key::Num4),
            Command::Show(Middle::Tracing) => row(said::TRACING, Job).command_key(Key::Num5),
            Command::FitView => row(said::WHOLE_BOARD, Job).key(Key::F),
            Command::ZoomIn => row(said::ZOOM_IN, Job),
            Command::ZoomOut => row(said::ZOOM_OUT, Job),
            Command::TogglePasses => row(said::SHOW_PASSES, Job).key(Key::P),
            Command::GoTo(_) => row(said::GO_TO_FINDING, Job),
            Command::GoToChosen => row(said::GO_TO_CHOSEN, ChosenFinding).key(Key::C),
            Command::NextFinding => row(said::NEXT_FINDING, Job).key(Key::N),
            Command::PreviousFinding => row(said::PREVIOUS_FINDING, Job).keys(Modifiers::SHIFT, Key::N),
            Command::Mend(Mend::Walls) => row(said::THICKEN_WALLS, Job),
            Command::Mend(Mend::Grooves) => row(said::WIDEN_GROOVES, Job),
            Command::MendOne(Mend::Walls, _) => row(said::THICKEN_WALL, Job),
            Command::MendOne(Mend::Grooves, _) => row(said::WIDEN_GROOVE, Job),
            Command::CopyPicture => row(said::COPY_PICTURE, Job).keys(COMMAND_SHIFT, Key::C),
            Command::ShowMended(false) => row(said::SHOW_BEFORE, Job),
            Command::ShowMended(true) => row(said::SHOW_AFTER, Job),
            Command::ApplyMended => row(said::APPLY_MENDED, Job),
            Command::LookAtOffer(_) => row(said::LOOK_AT_OFFER, Job),
            Command::ApplyOffer(_) => row(said::APPLY_OFFER, Job),
            Command::DropMended => row(said::DROP_MENDED, Job),
            Command::CancelWork => row(said::CANCEL_WORK, Nothing),
            Command::ToggleMessages => row(said::MESSAGES, Nothing),
            Command::ClearMessages => row(said::CLEAR_MESSAGES, Nothing),
            Command::ShowFile(_) => row(said::SHOW_FILE, Nothing),
            Command::ToggleCommands => row(said::FIND_COMMAND, Nothing).command_key(Key::K),
            Command::ToggleHelp => row(said::MOUSE_AND_KEYS, Nothing).key(Key::F1),
            Command::ToggleGuide => row(said::GUIDE, Nothing),
            Command::TourStep(_) => row(said::START_TOUR, Job),
            Command::Guess(_) => row(said::GUESS, Job),
            Command::EndTour => row(said::END_TOUR, Job),
            Command::HideWelcome => row(said::HIDE_WELCOME, Nothing),
            Command::ToggleAbout => row(said::ABOUT, Nothing),
            Command::ToggleCautions => row(said::CAUTIONS, Nothing),
            Command::ToggleClearing => row(said::CLEARING, Job),
            Command::ToggleWhy => row(said::WHY_THIS_LIMIT, Job).key(Key::W),
            Command::ToggleCompare => row(said::COMPARE, Job),
            Command::ToggleSeasons => row(said::SEASONS, Job),
            Command::ToggleCutters => row(said::CUTTERS, Job),
            Command::KeepCutter(_) => row(said::KEEP_CUTTER, Nothing),
            Command::RemoveCutter(_) => row(said::REMOVE_CUTTER, Nothing),
            Command::ToggleWoods => row(said::WOODS, Job),
            Command::KeepWood(_) => row(said::KEEP_WOOD, Nothing),
            Command::RemoveWood(_) => row(said::REMOVE_WOOD, Nothing),
            Command::ToggleCoupon => row(said::COUPON, Job),
            Command::ToggleRecord => row(said::RECORD, Job),
            Command::KeepRecord => row(said::KEEP_RECORD, Job),
            Command::AskExportCoupon | Command::ExportCoupon(_) => row(said::EXPORT_COUPON, Job),
            Command::AskExportCouponKey | Command::ExportCouponKey(_) => row(said::EXPORT_KEY, Job),
            Command::Calibrate { .. } => row(said::CALIBRATE, Job),
            Command::TogglePrices => row(said::PRICES, Job),
            Command::KeepPrices(_) => row(said::KEEP_PRICES, Nothing),
            Command::AskMark => row(said::CHOOSE_MARK, Job),
            Command::UseMark(_) => row(said::NO_MARK, Job),
            Command::AskExportOutline | Command::ExportOutline(_) => {
                row(said::EXPORT_OUTLINE, Job).command_key(Key::E)
            }
            Command::AskExport(what) | Command::Export(what, _) => row(what.caption(), Job),
            Command::Board(command) => command.entry(),
            Command::Element(command) => command.entry(),
            Command::Folder(FolderCommand::Ask | FolderCommand::Proof(_)) => row(said::PROOF_FOLDER, Nothing),
            Command::Folder(FolderCommand::AskTable | FolderCommand::WriteTable(_)) => {
                row(said::FOLDER_TABLE, Nothing)
            }
        }
    }
}

fn unit_caption(unit: LengthUnit) -> Caption {
    match unit {
        LengthUnit::Millimetres => said::MILLIMETRES,
        LengthUnit::InchDecimal => said::INCHES_DECIMAL,
        LengthUnit::InchSixteenth => said::INCHES_SIXTEENTHS,
        LengthUnit::InchFraction => said::INCHES_THIRTY_SECONDS,
        LengthUnit::InchSixtyFourth => said::INCHES_SIXTY_FOURTHS,
    }
}

impl BoardCommand {
    /// Its words.
    pub(crate) fn caption(&self) -> Caption {
        self.entry().caption
    }

    /// Its row of the table.
    pub(crate) fn entry(&self) -> Entry {
        use BoardCommand as B;
        let row = |caption| Entry::new(caption, Needs::Job);
        match self {
            B::Turn => row(said::TURN).command_key(Key::T),
            B::FindPlace => row(said::FIND_PLACE),
            B::FindLargest => row(said::FIND_LARGEST),
            B::UseTool(Tool::Move) => row(said::MOVE_DESIGN).key(Key::M),
            B::UseTool(tool) => row(tool.caption()),
            B::Nudge(_) | B::Grab | B::Drag(_) | B::Drop | B::Place(_) => row(said::MOVE_DESIGN),
            B::TakeSize(_) => row(said::TAKE_BOARD),
            B::SideMargin(_) => row(said::SIDE_MARGIN),
            B::Mark(_) | B::EditBlemish(..) | B::ChooseBlemish(_) => row(said::MARK_BLEMISH),
            B::Unmark(_) => row(said::REMOVE_BLEMISH),
            B::Measured(..) | B::Planed(_) | B::Moisture(_) => row(said::ENTER_MEASUREMENT),
            B::ToggleFit => row(said::FIT).key(Key::B),
            B::ToggleBlemishes => row(said::BLEMISHES),
            B::ToggleBenchList => row(said::BENCH_LIST),
            B::ToggleMachines => row(said::MACHINES),
            B::ToggleMeasuring => row(said::MEASURE_MACHINE),
            B::KeepMachine(_) => row(said::KEEP_MACHINE),
            B::RemoveMachine(_) => row(said::REMOVE_MACHINE),
            B::AskExportCarrier | B::ExportCarrier(_) => row(said::EXPORT_CARRIER),
            B::ToggleRack => row(said::RACK),
            B::KeepOnRack(..) => row(said::KEEP_ON_RACK),
            B::TakeOffRack(_) => row(said::TAKE_OFF_RACK),
            B::UseRackBoard(_) => row(said::USE_RACK_BOARD),
            B::TogglePieces => row(said::PIECES).key(Key::I),
            B::Arrange => row(said::ARRANGE),
            B::AskOfPieces(PiecesQuestion::Shortest) => row(said::SHORTEST_BOARD),
            B::AskOfPieces(PiecesQuestion::Rack) => row(said::BOARDS_THAT_TAKE_ALL),
            B::AskNames | B::OpenNames(_) => row(said::OPEN_NAMES),
            B::MakeNames(_) => row(said::MAKE_NAMES),
            B::AddOpenJob(_) => row(said::ADD_OPEN_JOB),
            B::TogglePhoto => row(said::PHOTOGRAPH),
            B::AskPhoto | B::OpenPhoto(_) => row(said::OPEN_PHOTOGRAPH),
            B::LayPhoto(_) => row(said::LAY_PHOTOGRAPH),
            B::LiftPhoto => row(said::LIFT_PHOTOGRAPH),
        }
    }
}

impl ElementCommand {
    /// Its words.
    pub(crate) fn caption(&self) -> Caption {
        self.entry().caption
    }

    /// Its row of the table.
    pub(crate) fn entry(&self) -> Entry {
        use ElementCommand as E;
        use Needs::{ChosenAndOthers, ChosenElement, Elements, OneElement, TwoChosenElements};
        let row = Entry::new;
        match self {
            E::Choose(..) | E::ChooseBoxed(_) => row(said::CHOOSE_ELEMENT, Elements),
            E::ChooseAll => row(said::CHOOSE_ALL, Elements),
            E::ChooseNone => row(said::CHOOSE_NONE, ChosenElement),
            E::ToggleHidden(_) => row(said::HIDE, Elements),
            E::HideChosen => row(said::HIDE, ChosenElement),
            E::ShowAll => row(said::SHOW_ALL, Needs::HiddenElement),
            E::StartRename => row(said::RENAME, OneElement).key(Key::F2),
            E::Rename(..) => row(said::RENAME, Elements),
            E::Combine => row(said::COMBINE, TwoChosenElements).command_key(Key::J),
            E::Split => row(said::SPLIT, ChosenElement),
            E::ChooseThese(..) => row(said::CHOOSE_THESE, Elements),
            E::ChooseGroup => row(said::CHOOSE_GROUP, ChosenElement),
            E::ChooseColor => row(said::CHOOSE_COLOR, ChosenElement),
            E::ChooseAlike => row(said::CHOOSE_ALIKE, ChosenElement),
            E::Remove => row(said::REMOVE, ChosenAndOthers).key(Key::Delete),
            E::Mirror(Mirror::Upright) => row(said::MIRROR_UPRIGHT, ChosenElement),
            E::Mirror(Mirror::Level) => row(said::MIRROR_LEVEL, ChosenElement),
            E::Arrange(what @ Arrange::CutOut) => row(what.caption(), TwoChosenElements),
            E::Arrange(what @ (Arrange::Ground | Arrange::Border)) => row(what.caption(), Elements),
            E::Arrange(what) => row(what.caption(), ChosenElement),
            E::CutOut { .. } => row(said::DO_CUT_OUT, TwoChosenElements),
            E::Move(_) => row(said::DO_MOVE, ChosenElement),
            E::Resize(_) => row(said::DO_RESIZE, ChosenElement),
            E::Grow(_) => row(said::DO_GROW, ChosenElement),
            E::Repeat { .. } => row(said::DO_REPEAT, ChosenElement),
            E::Ground { .. } => row(said::DO_ADD_GROUND, Elements),
            E::Border { .. } => row(said::DO_ADD_BORDER, Elements),
            E::Smooth(_) => row(said::DO_SMOOTH, ChosenElement),
            E::Clean => row(said::CLEAN, Needs::Specks),
            E::ToggleLettering => row(said::LETTER, Elements).key(Key::T),
            E::EditLettering => row(said::EDIT_LETTERING, Needs::Lettering),
            E::NewLettering => row(said::NEW_LETTERING, Elements).command_key(Key::N),
            E::Letter(..) | E::LetterNewJob(_) => row(said::DO_LETTER, Elements),
            E::ToggleReading => row(said::DRAWING_SIZE, Needs::UnstatedSize),
            E::ReadIn(_) => row(said::TAKE_DRAWING_SIZE, Elements),
            E::KeepReading => row(said::KEEP_DRAWING_SIZE, Elements),
            E::CarveAsLines => row(said::CARVE_AS_LINES, Needs::OpenOutlines),
        }
    }
}

impl Export {
    /// Its words.
    pub(crate) fn caption(self) -> Caption {
        match self {
            Export::BenchSheet => said::BENCH_SHEET,
            Export::Template => said::TEMPLATE,
            Export::CouponSheet => said::COUPON_SHEET,
            Export::Handout => said::HANDOUT,
            Export::Guide => said::GUIDE_ON_PAPER,
            Export::SizeSheet => said::SIZE_SHEET,
            Export::PriceSheet => said::PRICE_SHEET,
            Export::Dxf => said::OUTLINE_DXF,
            Export::Picture => said::PICTURE,
            Export::CarvedPicture => said::CARVED_PICTURE,
            Export::Proof => said::PROOF_JSON,
            Export::Findings => said::FINDINGS_CSV,
            Export::Sizes => said::SIZES_CSV,
            Export::Surface => said::SURFACE_STL,
        }
    }
}

impl Arrange {
    /// Its words.
    pub(crate) fn caption(self) -> Caption {
        match self {
            Arrange::CutOut => said::CUT_OUT,
            Arrange::Move => said::MOVE,
            Arrange::Resize => said::RESIZE,
            Arrange::Grow => said::GROW,
            Arrange::Repeat => said::REPEAT,
            Arrange::Ground => said::ADD_GROUND,
            Arrange::Border => said::ADD_BORDER,
            Arrange::Smooth => said::SMOOTH,
        }
    }
}

impl Tool {
    /// Its words.
    pub(crate) fn caption(self) -> Caption {
        match self {
            Tool::Look => said::LOOK,
            Tool::Move => said::MOVE_DESIGN,
            Tool::Circle => said::CIRCLE,
            Tool::Rectangle => said::RECTANGLE,
            Tool::Line => said::LINE,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::commands::menus::commands;
    use crate::app::commands::situation::Situation;
    use std::fmt::Write as _;

    #[test]
    fn every_shown_command_has_a_label_and_a_tip() {
        for (_, command) in commands(&Situation::example()) {
            let Caption { label, tip } = command.entry().caption;
            assert!(!label.is_empty() && !tip.is_empty(), "{command:?}");
            assert!(!tip.ends_with('.'), "a single sentence on screen has no full stop: {tip}");
        }
    }

    #[test]
    fn the_guide_lists_every_key() {
        let names = egui::ModifierNames::NAMES;
        let mut rows = "| keys | command |\n|---|---|\n".to_owned();
        for (menu, command) in commands(&Situation::example()) {
            if let Some(keys) = command.shortcut() {
                let keys = keys.format(&names, false).replace('+', " ").replace("Ctrl  ", "Ctrl +");
                writeln!(rows, "| `{keys}` | {}: {} |", menu.label(), command.label()).unwrap();
            }
        }
        let guide = include_str!("../../../docs/the-window.md");
        assert!(guide.contains(&rows), "docs/the-window.md does not list these keys:\n{rows}");
    }

    #[test]
    fn no_two_commands_share_their_keys() {
        let all = commands(&Situation::example());
        let keys: Vec<_> = all.iter().filter_map(|(_, command)| command.shortcut()).collect();
        assert!(keys.len() > 30, "{}", keys.len());
        for (at, key) in keys.iter().enumerate() {
            assert!(!keys[..at].contains(key), "{key:?} is used twice");
        }
    }

    #[test]
    fn a_letter_alone_never_changes_the_job() {
        for (_, command) in commands(&Situation::example()) {
            let Some(keys) = command.shortcut().filter(|keys| keys.modifiers.is_none()) else { continue };
            if keys.logical_key.name().len() > 1 {
                continue;
            }
            let only_shows = match &command {
                Command::Board(command) => {
                    use BoardCommand::{ToggleFit, TogglePieces, UseTool};
                    matches!(command, UseTool(_) | ToggleFit | TogglePieces)
                }
                Command::Element(command) => matches!(command, ElementCommand::ToggleLettering),
                command => !matches!(command, Command::Edit(_)),
            };
            assert!(only_shows, "{command:?} has the bare key {keys:?}");
        }
    }
}
