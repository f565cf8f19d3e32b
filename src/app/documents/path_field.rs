//! A file named by hand, where no file dialog can be had or no hand wants to leave the keys: a field for its path, and
//! under it what lies in that folder.

use crate::app::commands::command::Command;
use crate::app::documents::dialogs::Asked;
use crate::app::widgets::form;
use crate::app::widgets::look::Palette;
use crate::file_name::name_of;
use crate::whole_file::ending;
use crate::words::window::{documents as said, folder};
use egui::{Label, RichText, ScrollArea};
use std::fs;
use std::path::{MAIN_SEPARATOR, Path, PathBuf};

/// Rows of a folder that are listed; no hand walks through more. A round value of our own.
const MOST_ROWS: usize = 500;

/// A path being typed, and what for.
pub(crate) struct TypedPath {
    asked: Asked,
    text: String,
    /// The folder that is listed, and what is in it; read once.
    listed: Option<(PathBuf, Vec<Row>)>,
    /// Why what was typed last is no file to take.
    wrong: Option<String>,
}

/// Something in a folder.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Row {
    /// Folders come first.
    is_file: bool,
    name: String,
}

impl TypedPath {
    /// Asks for a file, with a path to begin with; empty for none.
    pub(crate) fn new(asked: Asked, text: String) -> TypedPath {
        TypedPath { asked, text, listed: None, wrong: None }
    }

    /// The folder that what is typed lies in.
    fn folder(&self) -> PathBuf {
        let typed = path_typed(&self.text);
        let is_folder = self.text.ends_with(['/', MAIN_SEPARATOR]);
        let folder = if is_folder { Some(typed.as_path()) } else { typed.parent() };
        let folder = folder.filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        std::path::absolute(folder).unwrap_or_else(|_| folder.to_owned())
    }

    /// What lies in the folder that is typed: folders, then the files that this question is about, by name.
    fn rows(&mut self) -> &[Row] {
        let folder = self.folder();
        if self.listed.as_ref().is_none_or(|(listed, _)| *listed != folder) {
            let rows = rows_of(&folder, self.asked);
            self.listed = Some((folder, rows));
        }
        self.listed.as_ref().map_or(&[], |(_, rows)| rows)
    }

    /// What keeps the path from being taken; `None` where nothing does.
    fn why_not(&self) -> Option<String> {
        let path = path_typed(&self.text);
        if self.asked == Asked::Folder {
            return match (path.is_dir(), path.exists()) {
                (true, _) => None,
                (false, true) => Some(folder::THAT_IS_NO_FOLDER.to_owned()),
                (false, false) => Some(said::no_such_folder(&path.display())),
            };
        }
        if self.asked.opens() {
            return if path.is_dir() {
                Some(said::THAT_IS_A_FOLDER.to_owned())
            } else {
                (!path.exists()).then(|| said::no_such_file(&path.display()))
            };
        }
        let folder = self.folder();
        (!folder.is_dir()).then(|| said::no_such_folder(&folder.display()))
    }
}

/// Folders first, hidden ones left out. An unreadable folder is empty.
fn rows_of(folder: &Path, asked: Asked) -> Vec<Row> {
    let Ok(entries) = fs::read_dir(folder) else { return Vec::new() };
    let row = |entry: fs::DirEntry| {
        let (name, path) = (entry.file_name().to_string_lossy().into_owned(), entry.path());
        let is_file = path.is_file();
        let is_wanted =
            if is_file { asked.endings().contains(&ending(&path).as_str()) } else { path.is_dir() };
        let is_shown = is_wanted && !name.starts_with('.');
        is_shown.then_some(Row { is_file, name })
    };
    let mut rows: Vec<Row> = entries.flatten().filter_map(row).collect();
    rows.sort();
    rows.truncate(MOST_ROWS);
    rows
}

/// The little window with the field, where it is open. `recent` are files opened before, the last first.
pub(crate) fn path_field_ui(
    ctx: &egui::Context,
    typed: &mut Option<TypedPath>,
    recent: &[PathBuf],
    commands: &mut Vec<Command>,
) {
    let Some(open) = typed else { return };
    let asked = open.asked;
    let title = asked.title();
    let [label, button] = match asked {
        Asked::Folder => [folder::PATH_OF_THE_FOLDER, folder::PROOF_FOLDER],
        _ if asked.opens() => [said::PATH_OF_THE_FILE, said::OPEN_FILE],
        _ => [said::PATH_OF_THE_FILE, said::SAVE_FILE],
    };
    let mut taken = None;
    let modal = egui::Modal::new(egui::Id::unique("path")).show(ctx, |ui| {
        ui.set_width(520.0);
        ui.heading(title);
        let label = ui.label(label);
        let field = egui::TextEdit::singleline(&mut open.text).desired_width(f32::INFINITY).show(ui);
        let response = field.response.response.labelled_by(label.id);
        if response.changed() {
            open.wrong = None;
        }
        let entered = response.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
        if ctx.memory(|memory| memory.focused().is_none()) && !entered {
            response.request_focus();
        }
        if let Some(wrong) = &open.wrong {
            ui.add(Label::new(RichText::new(wrong).color(Palette::of(ctx).wrong)).wrap());
        }
        let clicked = list_ui(ui, open, recent);
        ui.add_space(4.0);
        let pressed = ui.horizontal(|ui| {
            let pressed = ui.add_enabled(!open.text.trim().is_empty(), egui::Button::new(button)).clicked();
            if ui.button(said::NOT_NOW).clicked() {
                ui.close();
            }
            pressed
        });
        if (entered || pressed.inner || clicked) && !open.text.trim().is_empty() {
            open.wrong = open.why_not();
            if open.wrong.is_none() {
                taken = Some(path_typed(&open.text));
                ui.close();
            }
        }
    });
    if let Some(path) = taken {
        commands.push(asked.command(path));
    }
    if form::is_closing(ctx, &modal) {
        *typed = None;
    }
}

/// The files opened before, then what is in the folder. A click on a folder goes into it, one on a file names it; a
/// double click takes it, which is what comes back.
fn list_ui(ui: &mut egui::Ui, open: &mut TypedPath, recent: &[PathBuf]) -> bool {
    let palette = Palette::of(ui.ctx());
    let mut named = None;
    let mut is_taken = false;
    let folder = open.folder();
    let is_open = open.asked == Asked::Open && open.text.is_empty();
    ui.label(RichText::new(folder.display().to_string()).small().color(palette.faint));
    ScrollArea::vertical().max_height(220.0).min_scrolled_height(220.0).auto_shrink(false).show(ui, |ui| {
        let mut row_ui = |ui: &mut egui::Ui, label: &str, path: String, is_file: bool| {
            let response = ui.selectable_label(false, label);
            is_taken |= is_file && response.double_clicked();
            if response.clicked() {
                named = Some(path);
            }
        };
        for path in recent.iter().filter(|_| is_open) {
            let name = name_of(path);
            row_ui(ui, &said::opened_before(&name), path.display().to_string(), true);
        }
        if let Some(above) = folder.parent() {
            let above = above.join("").display().to_string();
            row_ui(ui, said::FOLDER_ABOVE, above, false);
        }
        for row in open.rows() {
            let path = folder.join(&row.name);
            if row.is_file {
                row_ui(ui, &row.name, path.display().to_string(), true);
            } else {
                row_ui(ui, &said::folder(&row.name), path.join("").display().to_string(), false);
            }
        }
    });
    if let Some(path) = named {
        open.text = path;
        open.wrong = None;
    }
    is_taken
}

/// A path as it is typed or pasted: Windows copies one with double quotes round it, and no name there has any.
fn path_typed(text: &str) -> PathBuf {
    let text = text.trim();
    let bare = text.strip_prefix('"').and_then(|text| text.strip_suffix('"'));
    PathBuf::from(bare.filter(|bare| !bare.is_empty()).unwrap_or(text))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_is_listed_with_what_the_question_is_about() {
        let folder = tempfile::tempdir().unwrap();
        for name in ["b.svg", "a.DXF", "notes.txt", ".hidden.svg", "mark.png"] {
            fs::write(folder.path().join(name), "").unwrap();
        }
        fs::create_dir(folder.path().join("signs")).unwrap();
        let names = |asked| -> Vec<String> {
            rows_of(folder.path(), asked).into_iter().map(|row| row.name).collect()
        };
        assert_eq!(names(Asked::Open), ["signs", "a.DXF", "b.svg", "mark.png"]);
        assert_eq!(names(Asked::Mark), ["signs", "mark.png"]);
        let mut typed = TypedPath::new(Asked::Open, folder.path().join("").display().to_string());
        assert_eq!(typed.rows().len(), 4);
        assert_eq!(typed.why_not().as_deref(), Some(said::THAT_IS_A_FOLDER));
        typed.text = folder.path().join("gone.svg").display().to_string();
        assert!(typed.why_not().is_some_and(|why| why.contains("gone.svg")));
        typed.text = folder.path().join("b.svg").display().to_string();
        assert_eq!(typed.why_not(), None);
        // What is saved need not be there, but its folder must.
        let saves = |text: PathBuf| TypedPath::new(Asked::Save, text.display().to_string()).why_not();
        assert_eq!(saves(folder.path().join("new.spelk")), None);
        assert!(saves(folder.path().join("no such").join("new.spelk")).is_some());
    }

    #[test]
    fn a_path_may_be_pasted_in_quotes() {
        for (text, path) in [
            (" signs/gate.svg ", "signs/gate.svg"),
            ("\"C:\\my signs\\gate.svg\"\n", "C:\\my signs\\gate.svg"),
            (r"\\shop\signs\gate.svg", r"\\shop\signs\gate.svg"),
            ("8\" sign.svg", "8\" sign.svg"),
            ("\"", "\""),
            ("\"\"", "\"\""),
        ] {
            assert_eq!(path_typed(text), Path::new(path), "{text}");
        }
    }
}
