//! The files of several pieces on one board: one with every piece where it lies, or one for each.

use super::board_picture::draw_batch;
use super::export::write_job;
use super::output::Outputs;
use crate::arrange::{Batch, whole};
use crate::job::{Job, saved};
use crate::sheet::arrange::{Arranged, arrange_json};
use crate::sheet::batch::{alone, stl_of_batch};
use crate::sheet::dxf::outline_dxf;
use crate::sheet::outline::outline_svg;
use crate::sheet::table::batch_findings_csv;
use crate::units::LengthUnit;
use crate::words::command_line;
use anyhow::Context as _;
use std::path::{Path, PathBuf};

/// Writes every piece in one file; what is known of them is needed for all but outlines and the job itself.
pub(super) fn write_all(
    job: &Job,
    arranged: Option<&Arranged>,
    ending: &str,
    unit: LengthUnit,
    path: &Path,
    outputs: &Outputs,
) -> anyhow::Result<()> {
    match ending {
        "spelk" => return outputs.write(path, saved::to_text(job).as_bytes()),
        "svg" => return outputs.write(path, outline_svg(whole(job)?.design(), 1.0).as_bytes()),
        "dxf" => return outputs.write(path, outline_dxf(whole(job)?.design(), 1.0).as_bytes()),
        _ => {}
    }
    let arranged = arranged.context(command_line::NOT_PLANNED)?;
    match ending {
        "json" => outputs.write(path, arrange_json(arranged, unit).as_bytes()),
        "csv" => outputs.write(path, batch_findings_csv(arranged.batch, unit).as_bytes()),
        "stl" => {
            let stl = stl_of_batch(job, arranged.batch).context(command_line::NOTHING_LAID)?;
            outputs.write(path, &stl)
        }
        _ => draw_batch(job, arranged.batch, unit, path, outputs),
    }
}

/// Writes each piece to a file of its own.
pub(super) fn write_each(
    job: &Job,
    batch: Option<&Batch>,
    ending: &str,
    unit: LengthUnit,
    paths: &[PathBuf],
    outputs: &Outputs,
) -> anyhow::Result<()> {
    for (piece, path) in paths.iter().enumerate() {
        let alone = alone(job, batch, piece);
        match ending {
            "spelk" => outputs.write(path, saved::to_text(&alone).as_bytes())?,
            ending => write_job(&alone, ending, unit, path, outputs)?,
        }
    }
    Ok(())
}
