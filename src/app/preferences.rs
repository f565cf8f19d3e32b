//! What is remembered from one start to the next.

use crate::app::commands::middle::Middle;
use crate::app::sizes::{PickedSize, first_sizes};
use crate::app::work::papers::{Counter, Papers};
use crate::units::LengthUnit;
use egui::ThemePreference;
use std::path::{Path, PathBuf};

const KEY: &str = "spelk-habits";

/// So many are kept in mind: round values of our own.
const MOST_FILES: usize = 10;
const MOST_WOODS: usize = 4;

/// How this user likes the window; written to disk as it is.
#[derive(serde::Serialize, serde::Deserialize, Default)]
#[serde(default)]
#[expect(clippy::struct_excessive_bools, reason = "each is a switch of its own")]
pub(crate) struct Preferences {
    /// Lengths are shown and read in it.
    pub(crate) unit: LengthUnit,
    /// What the middle shows.
    pub(crate) middle: Middle,
    /// `None` goes with the system.
    pub(crate) dark: Option<bool>,
    /// The size of everything, as a share of the usual; 0 where none was chosen.
    pub(crate) text_size: f32,
    /// Nothing moves by itself.
    pub(crate) still: bool,
    /// The sentences of a first start were put away.
    pub(crate) welcomed: bool,
    pub(crate) grid: bool,
    /// Pixels a millimetre of the screen, where it was measured.
    pub(crate) pixels_per_mm: Option<f32>,
    pub(crate) lately: Lately,
    /// What is the same on every sheet.
    pub(crate) papers: Papers,
    /// What a customer is shown.
    pub(crate) counter: Counter,
    /// The sizes that are compared.
    pub(crate) sizes: Vec<PickedSize>,
    /// Nothing was kept before.
    #[serde(skip)]
    pub(crate) is_first_start: bool,
}

/// What was used before, the last first.
#[derive(serde::Serialize, serde::Deserialize, Default)]
#[serde(default)]
pub(crate) struct Lately {
    pub(crate) files: Vec<PathBuf>,
    /// By their ids.
    pub(crate) woods: Vec<String>,
}

impl Lately {
    /// Puts a file before the others.
    pub(crate) fn opened(&mut self, path: &Path) {
        // A relative path means something else at the next start.
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        put_first(&mut self.files, path, MOST_FILES);
    }

    /// Puts a wood before the others.
    pub(crate) fn carved(&mut self, wood: &str) {
        put_first(&mut self.woods, wood.to_owned(), MOST_WOODS);
    }
}

fn put_first<T: PartialEq>(list: &mut Vec<T>, new: T, most: usize) {
    list.retain(|other| *other != new);
    list.insert(0, new);
    list.truncate(most);
}

impl Preferences {
    /// As they were kept, or those of a first start.
    pub(crate) fn open(storage: Option<&dyn eframe::Storage>) -> Preferences {
        let kept: Option<Preferences> = storage.and_then(|storage| eframe::get_value(storage, KEY));
        let is_first_start = kept.is_none();
        let mut preferences = Preferences { is_first_start, ..kept.unwrap_or_default() };
        if preferences.sizes.is_empty() {
            preferences.sizes = first_sizes();
        }
        preferences
    }

    pub(crate) fn keep(&self, storage: &mut dyn eframe::Storage) {
        eframe::set_value(storage, KEY, self);
    }

    pub(crate) fn theme(&self) -> ThemePreference {
        match self.dark {
            None => ThemePreference::System,
            Some(true) => ThemePreference::Dark,
            Some(false) => ThemePreference::Light,
        }
    }

    pub(crate) fn set_theme(&mut self, theme: ThemePreference) {
        self.dark = match theme {
            ThemePreference::System => None,
            theme => Some(theme == ThemePreference::Dark),
        };
    }
}
