//! The picture of the board, for the commands that draw it.

use super::{note_sheet, write_file};
use crate::job::Job;
use crate::notice::Notices;
use crate::proof::Proof;
use crate::sheet::photo::{Photo, PhotoError};
use crate::sheet::{SheetNotice, picture};
use crate::units::LengthUnit;
use std::path::Path;

/// Draws the board to a PNG file.
pub(super) fn draw(job: &Job, proof: &Proof, unit: LengthUnit, path: &Path) -> anyhow::Result<()> {
    let view = picture::page_view(&job.board, PICTURE_WIDTH, unit, picture::Theme::Light);
    let photo = match &job.board.photo {
        None => None,
        Some(marked) => {
            let mut notices = Notices::new();
            let photo = photo(&marked.file, &mut notices).unwrap_or_else(|error| {
                // A saved job may have come without it.
                notices.push(SheetNotice::NoPhoto { file: marked.file.clone(), error });
                None
            });
            note_sheet(&notices);
            photo
        }
    };
    let page = picture::photographed_picture(job, proof, &view, photo.as_ref());
    write_file(path, &page.to_png())
}

/// Pixels across a picture: a screen's width, or a hand's width of paper at 300 to the inch.
const PICTURE_WIDTH: u32 = 1600;

fn photo(file: &str, notices: &mut Notices<SheetNotice>) -> Result<Option<Photo>, PhotoError> {
    let bytes = std::fs::read(file).map_err(|error| PhotoError::Unreadable(error.to_string()))?;
    Photo::read(&bytes, notices).map(Some)
}
