//! The menus: which commands are in which, in which order.

use crate::app::commands::arrange::Arrange;
use crate::app::commands::board::{BoardCommand, Tool};
use crate::app::commands::command::Command;
use crate::app::commands::element::ElementCommand;
use crate::app::commands::export::Export;
use crate::app::commands::folder::FolderCommand;
use crate::app::commands::middle::Middle;
use crate::app::commands::situation::Situation;
use crate::design::Mirror;
use crate::design::samples::samples;
use crate::units::LengthUnit;
use crate::words::window::commands as said;
use egui::{Key, KeyboardShortcut, ThemePreference};

/// A menu of the bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Menu {
    File,
    Edit,
    Design,
    Board,
    Shop,
    View,
    Help,
}

/// A row of a menu.
#[derive(Clone)]
pub(crate) enum Row {
    /// Something to do, or a choice with a mark at the one in use.
    Do(Command),
    /// A menu within the menu; left out where it is empty.
    More(&'static str, Vec<Command>),
    /// The words over a group of choices.
    Heading(&'static str),
    /// A line between groups.
    Line,
}

impl Menu {
    pub(crate) const ALL: [Menu; 7] =
        [Menu::File, Menu::Edit, Menu::Design, Menu::Board, Menu::Shop, Menu::View, Menu::Help];

    /// The letter that opens it together with Alt: the first of its label.
    pub(crate) fn key(self) -> Key {
        match self {
            Menu::File => Key::F,
            Menu::Edit => Key::E,
            Menu::Design => Key::D,
            Menu::Board => Key::B,
            Menu::Shop => Key::S,
            Menu::View => Key::V,
            Menu::Help => Key::H,
        }
    }

    pub(crate) fn label(self) -> &'static str {
        match self {
            Menu::File => said::FILE,
            Menu::Edit => said::EDIT,
            Menu::Design => said::DESIGN,
            Menu::Board => said::BOARD,
            Menu::Shop => said::SHOP,
            Menu::View => said::VIEW,
            Menu::Help => said::HELP,
        }
    }

    /// What is in it.
    pub(crate) fn rows(self, situation: &Situation) -> Vec<Row> {
        let rows = |commands: &[Command]| commands.iter().cloned().map(Row::Do).collect::<Vec<_>>();
        match self {
            Menu::File => {
                let mut file =
                    rows(&[ElementCommand::NewLettering.into(), Command::AskOpen, Command::AskOpenPath]);
                file.extend(rows(&[Command::AskPicture, FolderCommand::Ask.into()]));
                let recent = situation.recent.iter().cloned().map(Command::Open).collect();
                file.push(Row::More(said::OPEN_RECENT, recent));
                let bundled = samples().iter().map(|sample| Command::OpenSample(sample.id)).collect();
                file.push(Row::More(said::OPEN_SAMPLE, bundled));
                file.push(Row::Do(Command::ReloadDrawing));
                file.push(Row::Line);
                file.extend(rows(&[Command::Save, Command::AskSave, Command::AskExportOutline]));
                let all = Export::ALL.map(Command::AskExport);
                file.push(Row::More(said::PAPER_AND_FILES, all.to_vec()));
                file.push(Row::Line);
                if situation.jobs.len() > 1 {
                    file.push(Row::Heading(said::OPEN_JOBS));
                    file.extend((0..situation.jobs.len()).map(|at| Row::Do(Command::ShowJob(at))));
                    file.extend(rows(&[Command::NextJob, Command::PreviousJob]));
                }
                file.extend(rows(&[Command::CloseJob, Command::Quit]));
                file
            }
            Menu::Edit => rows(&[Command::Undo, Command::Redo, Command::CopyPicture]),
            Menu::Design => design_rows(),
            Menu::Board => rows(&[
                BoardCommand::ToggleFit.into(),
                BoardCommand::FindPlace.into(),
                BoardCommand::FindLargest.into(),
                BoardCommand::Turn.into(),
                BoardCommand::UseTool(Tool::Move).into(),
                BoardCommand::TogglePieces.into(),
                BoardCommand::Arrange.into(),
                BoardCommand::ToggleBlemishes.into(),
                BoardCommand::ToggleBenchList.into(),
                BoardCommand::TogglePhoto.into(),
                BoardCommand::AskExportCarrier.into(),
            ]),
            Menu::Shop => rows(&[
                Command::ToggleCutters,
                Command::ToggleClearing,
                Command::ToggleWoods,
                Command::TogglePrices,
                Command::ToggleCoupon,
                Command::ToggleRecord,
                Command::ToggleCompare,
                Command::ToggleSeasons,
                Command::ToggleWhy,
                BoardCommand::ToggleRack.into(),
                BoardCommand::ToggleMachines.into(),
                BoardCommand::ToggleMeasuring.into(),
            ]),
            Menu::View => {
                let mut view = rows(&Middle::ALL.map(Command::Show));
                view.push(Row::Line);
                view.extend(rows(&[
                    Command::FitView,
                    Command::ZoomIn,
                    Command::ZoomOut,
                    Command::TrueSize,
                    Command::GoToChosen,
                    Command::NextFinding,
                    Command::PreviousFinding,
                    Command::TogglePasses,
                    Command::ToggleGrid,
                    Command::ToggleMeasure,
                    Command::FullScreen,
                    Command::NextRegion,
                    Command::PreviousRegion,
                ]));
                view.push(Row::Line);
                view.push(Row::Heading(said::LENGTHS));
                view.extend(LengthUnit::ALL.into_iter().map(|unit| Row::Do(Command::UseUnit(unit))));
                view.push(Row::Line);
                view.push(Row::Heading(said::APPEARANCE));
                let themes = [ThemePreference::Light, ThemePreference::Dark, ThemePreference::System];
                view.extend(themes.into_iter().map(|theme| Row::Do(Command::UseTheme(theme))));
                view.push(Row::Line);
                view.extend(rows(&[
                    Command::LargerText,
                    Command::SmallerText,
                    Command::UsualText,
                    Command::ToggleStill,
                    Command::ToggleCalibrate,
                ]));
                view
            }
            Menu::Help => rows(&[
                Command::ToggleCommands,
                Command::ToggleGuide,
                Command::AskExport(Export::Guide),
                Command::ToggleHelp,
                Command::TourStep(0),
                Command::ToggleMessages,
                Command::ToggleCautions,
                Command::ToggleAbout,
            ]),
        }
    }
}

/// The menu of the elements, which the list of them opens too.
fn design_rows() -> Vec<Row> {
    use ElementCommand as E;
    let rows = |commands: &[E]| -> Vec<Row> {
        commands.iter().cloned().map(|command| Row::Do(command.into())).collect()
    };
    let choose_more = [E::ChooseAlike, E::ChooseGroup, E::ChooseColor].map(Command::from);
    let mut choose = rows(&[E::ChooseAll, E::ChooseNone, E::HideChosen, E::ShowAll]);
    choose.push(Row::More(said::CHOOSE_MORE, choose_more.into()));
    let groups = [
        rows(&[E::ToggleLettering, E::EditLettering]),
        rows(&[
            E::StartRename,
            E::Combine,
            E::Split,
            E::Arrange(Arrange::CutOut),
            E::Arrange(Arrange::Move),
            E::Arrange(Arrange::Resize),
            E::Arrange(Arrange::Repeat),
            E::Mirror(Mirror::Upright),
            E::Mirror(Mirror::Level),
            E::Remove,
        ]),
        choose,
        rows(&[
            E::Arrange(Arrange::Ground),
            E::Arrange(Arrange::Border),
            E::Arrange(Arrange::Smooth),
            E::Arrange(Arrange::Grow),
            E::Clean,
            E::CarveAsLines,
            E::ToggleReading,
        ]),
    ];
    groups.join(&Row::Line)
}

/// Every command of the table with its menu, in order.
pub(crate) fn commands(situation: &Situation) -> Vec<(Menu, Command)> {
    let mut all = Vec::new();
    for menu in Menu::ALL {
        for row in menu.rows(situation) {
            match row {
                Row::Do(command) => all.push((menu, command)),
                Row::More(_, commands) => all.extend(commands.into_iter().map(|command| (menu, command))),
                Row::Heading(_) | Row::Line => {}
            }
        }
    }
    all
}

/// Every command with keys, those with more modifiers first, so that none hides another.
pub(crate) fn shortcuts(situation: &Situation) -> Vec<(KeyboardShortcut, Command)> {
    let mut keys: Vec<_> = commands(situation)
        .into_iter()
        .filter_map(|(_, command)| Some((command.shortcut()?, command)))
        .collect();
    let held = |keys: &KeyboardShortcut| {
        [keys.modifiers.alt, keys.modifiers.shift, keys.modifiers.command]
            .into_iter()
            .filter(|on| *on)
            .count()
    };
    keys.sort_by_key(|(keys, _)| std::cmp::Reverse(held(keys)));
    keys
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_commands_read_the_same() {
        let situation = Situation::example();
        let words: Vec<String> =
            commands(&situation).iter().map(|(_, command)| situation.full_words(command)).collect();
        for (index, word) in words.iter().enumerate() {
            assert!(!words[..index].contains(word), "{word} is there twice");
        }
        assert!(words.contains(&"Undo wood".to_owned()), "{words:?}");
    }

    #[test]
    fn alt_and_its_first_letter_open_a_menu() {
        for menu in Menu::ALL {
            assert!(menu.label().starts_with(menu.key().name()), "{menu:?}");
        }
    }

    #[test]
    fn keys_with_more_modifiers_come_first() {
        let keys = shortcuts(&Situation::example());
        let place = |command| keys.iter().position(|(_, other)| *other == command).unwrap();
        assert!(place(Command::AskSave) < place(Command::Save));
        assert!(place(Command::Save) < place(Command::TrueSize));
        assert!(place(Command::PreviousFinding) < place(Command::NextFinding));
    }
}
