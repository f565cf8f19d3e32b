//! A folder of drawings: what is asked about it.

use crate::app::App;
use crate::app::commands::folder::FolderCommand;
use crate::app::documents::dialogs::Asked;
use crate::app::folder::Setup;
use crate::app::handle::with_ending;
use crate::app::work::Lane;
use crate::sheet::pdf::{folder_pdf, missing_in_folder};
use std::path::PathBuf;
use std::sync::Arc;

impl App {
    pub(crate) fn handle_folder(&mut self, ctx: &egui::Context, command: FolderCommand) {
        match command {
            FolderCommand::Ask => self.ask_for(Asked::Folder, ctx),
            FolderCommand::Proof(folder) => self.proof_folder(folder),
            FolderCommand::AskTable => self.ask_for(Asked::FolderTable, ctx),
            FolderCommand::WriteTable(path) => self.write_folder_table(path),
        }
    }

    /// Proofs a folder by the shop and the job in hand as they are now.
    pub(crate) fn proof_folder(&mut self, folder: PathBuf) {
        let setup = Setup {
            job: self.shelf.shown().map(|shown| shown.job().clone()),
            shop: Arc::new(self.shop.clone()),
            boards: self.boards().unwrap_or_default().into(),
            unit: self.preferences.unit,
        };
        // What is on its way belongs to the folder as it was.
        self.workers.cancel(Lane::Folder);
        self.dialogs.folder.show(folder, setup);
        self.start_with_something();
    }

    fn write_folder_table(&mut self, path: PathBuf) {
        let Some((folder, rows)) = self.dialogs.folder.table() else { return };
        let (unit, papers) = (self.preferences.unit, self.preferences.papers.clone());
        self.workers.make(with_ending(path, "pdf"), move || {
            let settings = papers.settings(unit)?;
            let missing = missing_in_folder(&folder, &rows, &settings);
            Ok((folder_pdf(&folder, &rows, &settings), missing))
        });
    }

    /// Proofs the next file of the folder that is looked at.
    pub(crate) fn start_folder(&mut self) {
        self.dialogs.folder.start_needed_work(&mut self.workers, self.preferences.unit);
    }
}
