//! From a proof to pictures and files.

pub mod carrier;
pub mod cautions;
pub mod coupon;
pub mod dxf;
pub mod json;
pub mod lesson;
mod lettering;
pub mod outline;
pub mod pdf;
pub mod photo;
pub mod picture;
pub mod table;
pub mod text;

use crate::job::Job;
use crate::proof::{Measured, Proof, Uncut};
use crate::relief::shade::{self, Camera, Look};
use crate::relief::time::JobTime;
use crate::relief::{self, HeightField, Plan, time};
use picture::Picture;

/// Minutes a job takes at the machine, where they can be worked out: `None` is shown as not worked out.
/// The one place where sheets, sizes and prices get their times from.
pub fn minutes(job: &Job, measured: &Measured) -> Option<f64> {
    in_minutes(&time::of(job, measured))
}

fn in_minutes(time: &JobTime) -> Option<f64> {
    let minutes = time.total / 60.0;
    minutes.is_finite().then_some(minutes)
}

/// What the bench sheet tells of the carve: minutes, and a picture of the surface, from one plan of the passes.
pub fn carve_in_short(job: &Job, measured: &Measured, proof: &Proof) -> (Option<f64>, Option<Picture>) {
    let Some(plan) = relief::plan(job, measured, &relief::NEVER) else { return (None, None) };
    (in_minutes(&time::Clock::new(job, &plan).time(job)), relief_picture(job, &plan, proof))
}

/// Pixels across a picture of the carved surface for paper, and down.
const RELIEF_SIZE: [u32; 2] = [960, 400];

/// A picture of the carved surface for a sheet: the whole board as it comes off the machine, grey and pale
/// so that it takes little ink. Seconds in a dev build for a large board.
#[expect(clippy::cast_sign_loss, reason = "a tone is clamped to what it may be before it is cast")]
pub fn relief_picture(job: &Job, plan: &Plan, proof: &Proof) -> Option<Picture> {
    // A cell is about a pixel: finer is not seen.
    let pitch = job.board.length / f64::from(RELIEF_SIZE[0]);
    let field = HeightField::carved(job, plan, proof, pitch, &relief::NEVER)?;
    // The board from edge to edge of the picture, and a little air.
    let aspect = f64::from(RELIEF_SIZE[0]) / f64::from(RELIEF_SIZE[1]);
    let distance = (job.board.length.get() * 1.14 / aspect).max(job.board.width.get() * 1.1);
    let camera = Camera { distance, ..Camera::over(&field, 0.0, 1.1) };
    let look = Look { bench: [255; 3], ..Look::default() };
    let mut pixels = shade::shaded(job, &field, &camera, &look, &[], RELIEF_SIZE, &relief::NEVER)?;
    for pixel in pixels.chunks_exact_mut(4) {
        // Weights of ITU-R BT.601; what is lightest in the wood comes out as paper.
        let [r, g, b] = [pixel[0], pixel[1], pixel[2]].map(f64::from);
        let tone = ((0.299 * r + 0.587 * g + 0.114 * b) * 0.8 + 70.0).clamp(0.0, 255.0);
        pixel[..3].fill(tone as u8);
    }
    Some(Picture { width: RELIEF_SIZE[0], height: RELIEF_SIZE[1], pixels })
}

/// What is told beside a proof, where it is known: each takes longer than the proof of a size does.
#[derive(Clone, Copy, Debug, Default)]
pub struct Besides<'a> {
    /// How long the carving takes.
    pub time: Option<&'a JobTime>,
    /// What the cutter leaves uncut.
    pub uncut: Option<&'a Uncut>,
    /// How long working it all out took.
    pub timings: Option<json::Timings>,
}
