//! The picture of the board, for the commands that draw it.

use super::write_file;
use crate::job::Job;
use crate::proof::Proof;
use crate::sheet::photo::Photo;
use crate::sheet::picture;
use crate::units::LengthUnit;
use crate::words::command_line;
use std::path::Path;

/// Draws the board to a PNG file.
pub(super) fn draw(job: &Job, proof: &Proof, unit: LengthUnit, path: &Path) -> anyhow::Result<()> {
    let view = picture::page_view(&job.board, PICTURE_WIDTH, unit, picture::Theme::Light);
    let photo = match &job.board.photo {
        None => None,
        Some(marked) => match Photo::open(Path::new(&marked.file)) {
            Ok(photo) => Some(photo),
            // A saved job may have come without it: the wood is drawn then, and that is said.
            Err(error) => {
                eprintln!("{}", command_line::note(&command_line::photo_not_used(&marked.file, &error)));
                None
            }
        },
    };
    let page = picture::photographed_picture(job, proof, &view, photo.as_ref());
    write_file(path, &page.to_png())
}

/// Pixels across a picture: a screen's width, or a hand's width of paper at 300 to the inch.
const PICTURE_WIDTH: u32 = 1600;
