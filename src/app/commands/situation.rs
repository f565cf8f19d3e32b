//! What the menus must know of the window: which commands can be used now, and what each is called.

use crate::app::commands::command::Command;
use crate::app::commands::entry::Needs;
use crate::app::commands::middle::Middle;
use crate::design::samples;
use crate::units::LengthUnit;
use crate::words::commands as said;
use egui::ThemePreference;
use std::borrow::Cow;
use std::path::PathBuf;

/// What the menus must know of the window.
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

/// What the menus must know of the elements.
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
    /// Pictures that the drawing's file holds.
    pub(crate) pictures: usize,
}

impl Situation {
    /// Whether a command can do anything now.
    pub(crate) fn allows(&self, command: &Command) -> bool {
        let elements = &self.elements;
        match command.entry().needs {
            Needs::Nothing => true,
            Needs::Job => self.has_job,
            Needs::OtherJob => self.jobs.len() > 1,
            Needs::UndoableEdit => self.undo.is_some(),
            Needs::RedoableEdit => self.redo.is_some(),
            Needs::DrawingFile => self.has_drawing,
            Needs::ChosenFinding => self.has_chosen,
            Needs::Elements => elements.count > 0,
            Needs::ChosenElement => elements.chosen > 0,
            Needs::TwoChosenElements => elements.chosen >= 2,
            Needs::OneElement => elements.chosen > 0 || elements.count == 1,
            Needs::ChosenAndOthers => elements.chosen > 0 && elements.chosen < elements.count,
            Needs::Lettering => elements.has_words,
            Needs::HiddenElement => elements.hidden > 0,
            Needs::Specks => elements.specks > 0,
            Needs::OpenOutlines => elements.open_outlines > 0,
            Needs::UnstatedSize => elements.is_size_unstated,
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
        let plain = || Cow::Borrowed(command.label());
        match command {
            Command::Undo => self.undo.map_or_else(plain, |name| said::undo_of(name).into()),
            Command::Redo => self.redo.map_or_else(plain, |name| said::redo_of(name).into()),
            Command::Open(path) => path.display().to_string().into(),
            Command::OpenSample(id) => samples::find(id).map_or(*id, |sample| sample.title).into(),
            Command::ShowJob(at) => self
                .jobs
                .get(*at)
                .map_or_else(plain, |(name, changed)| said::job_in_menu(name, *changed).into()),
            _ => plain(),
        }
    }

    /// The words of a command where no menu is around it.
    pub(crate) fn full_words(&self, command: &Command) -> String {
        let words = self.words(command);
        match command {
            Command::Open(_) => said::open_recent(&words),
            Command::OpenSample(_) => said::open_sample(&words),
            Command::ShowJob(_) => said::show_job(&words),
            Command::Show(_) => said::show_view(&words),
            Command::UseUnit(_) => said::lengths_in(&words),
            Command::UseTheme(_) => said::theme(&words),
            _ => words.into_owned(),
        }
    }

    /// A situation in which every command that has a menu is in it.
    #[cfg(test)]
    pub(crate) fn example() -> Situation {
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
}
