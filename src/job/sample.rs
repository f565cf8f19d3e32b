//! The sample designs as jobs: each set so that it shows its lesson at once.

use super::{Job, Treatment};
use crate::design::samples::Sample;
use crate::design::{self, DesignError};
use std::sync::Arc;

/// The job a sample opens as: its design on the starting board, with what its lesson needs.
///
/// # Errors
///
/// None for the samples that come with the program.
pub fn sample_job(sample: &Sample) -> Result<Job, DesignError> {
    let design = design::read(sample.title, sample.svg.as_bytes())?;
    let mut job = Job::new(Arc::new(design));
    let (usual, exceptions) = treatments(sample.id);
    for (element, carving) in job.design.elements.iter().zip(&mut job.carvings) {
        let own = exceptions.iter().find(|(name, _)| *name == element.name);
        carving.treatment = own.map_or(usual, |(_, own)| *own);
    }
    Ok(job)
}

/// How a sample's elements are carved: all, and those that are not like the others.
fn treatments(id: &str) -> (Treatment, &'static [(&'static str, Treatment)]) {
    match id {
        "puzzle" => (Treatment::Sunk, &[("tray", Treatment::Left)]),
        _ => (Treatment::Relief, &[]),
    }
}
