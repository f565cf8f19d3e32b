//! The picture of the board, for the commands that draw it.

use super::note;
use super::output::Outputs;
use crate::arrange::Batch;
use crate::job::Job;
use crate::notice::Notices;
use crate::proof::Proof;
use crate::sheet::picture::{self, View};
use crate::shop::{MOST_PICTURE_BYTES, Photo, PhotoError};
use crate::units::LengthUnit;
use crate::whole_file::{self, is_same};
use crate::words::{self, command_line, notices};
use anyhow::bail;
use std::path::Path;

/// Draws the board to a PNG file.
pub(super) fn draw(
    job: &Job,
    proof: &Proof,
    unit: LengthUnit,
    path: &Path,
    outputs: &Outputs,
) -> anyhow::Result<()> {
    let (view, photo) = page(job, unit, path)?;
    outputs.write(path, &picture::photographed_picture(job, proof, &view, photo.as_ref()).to_png())
}

/// Draws the board with every piece of a batch to a PNG file.
pub(super) fn draw_batch(
    job: &Job,
    batch: &Batch,
    unit: LengthUnit,
    path: &Path,
    outputs: &Outputs,
) -> anyhow::Result<()> {
    let (view, photo) = page(job, unit, path)?;
    outputs.write(path, &picture::batch_picture(job, batch, &view, photo.as_ref()).to_png())
}

/// How the board is seen, and its photograph.
fn page(job: &Job, unit: LengthUnit, path: &Path) -> anyhow::Result<(View, Option<Photo>)> {
    let view = picture::page_view(job.board(), PICTURE_WIDTH, unit, picture::Theme::Light);
    Ok((view, marked_photo(job, path)?))
}

/// The photograph of the board, where one is marked and can be read.
fn marked_photo(job: &Job, path: &Path) -> anyhow::Result<Option<Photo>> {
    Ok(match &job.board().photo {
        None => None,
        Some(marked) if is_same(path, Path::new(&marked.file)) => {
            bail!(command_line::written_over_input(path))
        }
        Some(marked) => match photo(&marked.file) {
            Ok(photo) => Some(photo),
            // A saved job may have come without it.
            Err(error) => {
                note(&words::photo::drawn_without(&marked.file, &error));
                None
            }
        },
    })
}

/// Pixels across a picture: a screen's width, or a hand's width of paper at 300 to the inch.
const PICTURE_WIDTH: u32 = 1600;

fn photo(file: &str) -> Result<Photo, PhotoError> {
    read_photo(&whole_file::read(Path::new(file), MOST_PICTURE_BYTES).map_err(PhotoError::NotRead)?)
}

/// Decodes a photograph, and says what was noticed about it.
pub(super) fn read_photo(bytes: &[u8]) -> Result<Photo, PhotoError> {
    let mut noticed = Notices::new();
    let photo = Photo::read(bytes, &mut noticed);
    for notice in noticed {
        note(&notices::line(notices::photo(notice), Some(notices::photo_hint(notice))));
    }
    photo
}
