//! The one table of commands. Menus, keys, hovers and the list that finds a command by its name all
//! read it, so that none can have what another lacks.

use crate::app::commands::arrange::Arrange;
use crate::app::commands::board::{BoardCommand, Tool};
use crate::app::commands::command::Command;
use crate::app::commands::element::ElementCommand;
use crate::app::commands::export::Export;
use crate::app::commands::middle::Middle;
use crate::design::Mirror;
use crate::design::samples::{self, samples};
use crate::units::LengthUnit;
use egui::ThemePreference;
use std::borrow::Cow;
use std::path::PathBuf;

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

/// What the table must know of the window.
pub(crate) struct Situation {
    pub(crate) has_job: bool,
    /// The name of the change that an undo takes back.
    pub(crate) undo: Option<&'static str>,
    /// The name of the change that a redo makes again.
    pub(crate) redo: Option<&'static str>,
    /// The open jobs in order: their names, and whether each has changes that are not saved.
    pub(crate) jobs: Vec<(String, bool)>,
    /// Which of them is shown.
    pub(crate) at: usize,
    /// Files opened before, the last first.
    pub(crate) recent: Vec<PathBuf>,
    /// Whether the drawing's own file is known.
    pub(crate) has_drawing: bool,
    /// Whether a finding is chosen.
    pub(crate) has_chosen: bool,
    pub(crate) unit: LengthUnit,
    pub(crate) theme: ThemePreference,
    pub(crate) middle: Middle,
    /// What is switched on.
    pub(crate) switched_on: Vec<Command>,
    pub(crate) elements: Elements,
}

/// What the table must know of the elements.
#[derive(Default)]
pub(crate) struct Elements {
    pub(crate) count: usize,
    pub(crate) chosen: usize,
    /// Whether words that can be edited are among the chosen, or are all there is.
    pub(crate) has_words: bool,
    pub(crate) hidden: usize,
    pub(crate) specks: usize,
    pub(crate) open_outlines: usize,
    pub(crate) is_size_unstated: bool,
}

impl Elements {
    fn allow(&self, command: &ElementCommand) -> bool {
        use ElementCommand as E;
        match command {
            E::Combine | E::Arrange(Arrange::CutOut) => self.chosen >= 2,
            E::StartRename => self.chosen > 0 || self.count == 1,
            // A design needs an element.
            E::Remove => self.chosen > 0 && self.chosen < self.count,
            E::Mirror(_) | E::Arrange(Arrange::Move | Arrange::Repeat) | E::HideChosen | E::ChooseNone => {
                self.chosen > 0
            }
            E::EditLettering => self.has_words,
            E::ShowAll => self.hidden > 0,
            E::Clean => self.specks > 0,
            E::CarveAsLines => self.open_outlines > 0,
            E::ToggleReading => self.is_size_unstated,
            _ => self.count > 0,
        }
    }
}

impl Menu {
    pub(crate) const ALL: [Menu; 7] =
        [Menu::File, Menu::Edit, Menu::Design, Menu::Board, Menu::Shop, Menu::View, Menu::Help];

    pub(crate) fn label(self) -> &'static str {
        match self {
            Menu::File => "File",
            Menu::Edit => "Edit",
            Menu::Design => "Design",
            Menu::Board => "Board",
            Menu::Shop => "Shop",
            Menu::View => "View",
            Menu::Help => "Help",
        }
    }

    /// What is in it.
    pub(crate) fn rows(self, situation: &Situation) -> Vec<Row> {
        let rows = |commands: &[Command]| commands.iter().cloned().map(Row::Do).collect::<Vec<_>>();
        match self {
            Menu::File => {
                let mut file =
                    rows(&[ElementCommand::NewLettering.into(), Command::AskOpen, Command::AskOpenPath]);
                let recent = situation.recent.iter().cloned().map(Command::Open).collect();
                file.push(Row::More("Open recent", recent));
                let bundled = samples().iter().map(|sample| Command::OpenSample(sample.id)).collect();
                file.push(Row::More("Open sample", bundled));
                file.push(Row::Do(Command::ReloadDrawing));
                file.push(Row::Line);
                file.extend(rows(&[Command::Save, Command::AskSave, Command::AskExportOutline]));
                let all = Export::ALL.map(Command::AskExport);
                file.push(Row::More("Paper and files", all.to_vec()));
                file.push(Row::Line);
                if situation.jobs.len() > 1 {
                    file.push(Row::Heading("Open jobs"));
                    file.extend((0..situation.jobs.len()).map(|at| Row::Do(Command::ShowJob(at))));
                    file.extend(rows(&[Command::NextJob, Command::PreviousJob]));
                }
                file.extend(rows(&[Command::CloseJob, Command::Quit]));
                file
            }
            Menu::Edit => rows(&[Command::Undo, Command::Redo]),
            Menu::Design => design_rows(),
            Menu::Board => rows(&[
                BoardCommand::ToggleFit.into(),
                BoardCommand::FindPlace.into(),
                BoardCommand::FindLargest.into(),
                BoardCommand::Turn.into(),
                BoardCommand::UseTool(Tool::Move).into(),
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
                ]));
                view.push(Row::Line);
                view.push(Row::Heading("Lengths"));
                view.extend(LengthUnit::ALL.into_iter().map(|unit| Row::Do(Command::UseUnit(unit))));
                view.push(Row::Line);
                view.push(Row::Heading("Light"));
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
    let groups: [&[ElementCommand]; 4] = [
        &[E::ToggleLettering, E::EditLettering],
        &[
            E::StartRename,
            E::Combine,
            E::Arrange(Arrange::CutOut),
            E::Arrange(Arrange::Move),
            E::Arrange(Arrange::Repeat),
            E::Mirror(Mirror::Upright),
            E::Mirror(Mirror::Level),
            E::Remove,
        ],
        &[E::ChooseAll, E::ChooseNone, E::HideChosen, E::ShowAll],
        &[
            E::Arrange(Arrange::Ground),
            E::Arrange(Arrange::Border),
            E::Clean,
            E::CarveAsLines,
            E::ToggleReading,
        ],
    ];
    let mut design = Vec::new();
    for group in groups {
        if !design.is_empty() {
            design.push(Row::Line);
        }
        design.extend(group.iter().cloned().map(|command| Row::Do(command.into())));
    }
    design
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

impl Situation {
    /// Whether a command can do anything now.
    pub(crate) fn allows(&self, command: &Command) -> bool {
        match command {
            Command::Undo => self.undo.is_some(),
            Command::Redo => self.redo.is_some(),
            Command::CloseJob | Command::NextJob | Command::PreviousJob => self.jobs.len() > 1,
            Command::ReloadDrawing => self.has_drawing,
            Command::GoToChosen => self.has_chosen,
            Command::Element(command) => self.elements.allow(command),
            Command::AskOpen
            | Command::AskOpenPath
            | Command::Open(_)
            | Command::OpenSample(_)
            | Command::Quit
            | Command::UseUnit(_)
            | Command::UseTheme(_)
            | Command::LargerText
            | Command::SmallerText
            | Command::UsualText
            | Command::ToggleStill
            | Command::FullScreen
            | Command::ToggleCommands
            | Command::ToggleHelp
            | Command::ToggleMessages
            | Command::ToggleCautions
            | Command::ToggleAbout => true,
            _ => self.has_job,
        }
    }

    /// Whether a choice is the one in use; `None` for what is no choice.
    pub(crate) fn chosen(&self, command: &Command) -> Option<bool> {
        match command {
            Command::UseUnit(unit) => Some(*unit == self.unit),
            Command::UseTheme(theme) => Some(*theme == self.theme),
            Command::Show(middle) => Some(*middle == self.middle),
            Command::ShowJob(at) => Some(*at == self.at),
            _ => None,
        }
    }

    /// Whether a switch is on; `None` for what is no switch.
    pub(crate) fn switched(&self, command: &Command) -> Option<bool> {
        let switches = [
            Command::ToggleStill,
            Command::FullScreen,
            Command::ToggleGrid,
            Command::ToggleMeasure,
            Command::TogglePasses,
        ];
        switches.contains(command).then(|| self.switched_on.contains(command))
    }

    /// The words of a command in its menu.
    pub(crate) fn words(&self, command: &Command) -> Cow<'static, str> {
        match command {
            Command::Undo => named("Undo", self.undo),
            Command::Redo => named("Redo", self.redo),
            Command::Open(path) => Cow::Owned(path.display().to_string()),
            Command::OpenSample(id) => samples::find(id).map_or(*id, |sample| sample.title).into(),
            Command::ShowJob(at) => {
                self.jobs.get(*at).map_or(Cow::Borrowed("Show job"), |(name, changed)| {
                    Cow::Owned(format!("{name}{}", if *changed { " *" } else { "" }))
                })
            }
            other => Cow::Borrowed(other.label()),
        }
    }

    /// The words of a command where no menu stands around it.
    pub(crate) fn full_words(&self, command: &Command) -> String {
        let words = self.words(command);
        match command {
            Command::Open(_) => format!("Open recent: {words}"),
            Command::OpenSample(_) => format!("Open sample: {words}"),
            Command::ShowJob(_) | Command::Show(_) => format!("Show: {words}"),
            Command::UseUnit(_) => format!("Lengths: {words}"),
            Command::UseTheme(_) => format!("Light: {words}"),
            Command::TourStep(_) => "Start the tour of the lesson".to_owned(),
            _ => words.into_owned(),
        }
    }
}

fn named(verb: &'static str, name: Option<&'static str>) -> Cow<'static, str> {
    name.map_or(Cow::Borrowed(verb), |name| Cow::Owned(format!("{verb} {name}")))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn situation() -> Situation {
        Situation {
            has_job: true,
            undo: Some("wood"),
            redo: None,
            jobs: vec![("Gate".into(), false), ("Inn".into(), true)],
            at: 0,
            recent: vec!["one.svg".into()],
            has_drawing: true,
            has_chosen: true,
            unit: LengthUnit::Millimetres,
            theme: ThemePreference::Dark,
            middle: Middle::Board,
            switched_on: Vec::new(),
            elements: Elements::default(),
        }
    }

    #[test]
    fn every_command_with_keys_stands_in_the_table_once() {
        let all: Vec<Command> = commands(&situation()).into_iter().map(|(_, command)| command).collect();
        for command in Command::with_shortcuts() {
            let times = all.iter().filter(|other| **other == command).count();
            assert_eq!(times, 1, "{command:?}");
        }
        for command in &all {
            assert!(
                command.shortcut().is_none() || Command::with_shortcuts().contains(command),
                "the keys of {command:?} do nothing"
            );
        }
    }

    #[test]
    fn no_two_commands_read_the_same() {
        let situation = situation();
        let words: Vec<String> =
            commands(&situation).iter().map(|(_, command)| situation.full_words(command)).collect();
        for (index, word) in words.iter().enumerate() {
            assert!(!words[..index].contains(word), "{word} is there twice");
        }
        assert!(words.contains(&"Undo wood".to_owned()), "{words:?}");
    }
}
