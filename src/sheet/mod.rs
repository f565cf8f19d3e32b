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
use crate::proof::{Measured, Proof};
use crate::relief::shade::{self, Camera, Look};
use crate::relief::{self, HeightField, time};
use picture::Picture;

/// Minutes a job takes at the machine, where they can be worked out: `None` is shown as not worked out.
/// The one place where sheets, sizes and prices get their times from.
pub fn minutes(job: &Job, measured: &Measured) -> Option<f64> {
    let minutes = time::of(job, measured).total / 60.0;
    minutes.is_finite().then_some(minutes)
}

/// Pixels across a picture of the carved surface for paper, and down.
const RELIEF_SIZE: [u32; 2] = [960, 400];

/// A picture of the carved surface for a sheet: the whole board as it comes off the machine, grey and pale
/// so that it takes little ink. Seconds in a dev build for a large board.
#[expect(clippy::cast_sign_loss, reason = "a tone is clamped to what it may be before it is cast")]
pub fn relief_picture(job: &Job, measured: &Measured, proof: &Proof) -> Option<Picture> {
    // A cell is about a pixel: finer is not seen.
    let pitch = job.board.length / f64::from(RELIEF_SIZE[0]);
    let mut field = HeightField::of_board(job, pitch);
    let plan = relief::plan(job, measured, &relief::NEVER)?;
    if !relief::field::carve(&mut field, &plan, &relief::NEVER) {
        return None;
    }
    field.snipe(proof);
    let camera = Camera::over(&field, 0.0, 1.1);
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
