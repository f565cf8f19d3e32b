//! From a proof to pictures and files.

pub mod advice;
pub mod arrange;
pub mod batch;
pub mod carrier;
pub mod compare;
pub mod coupon;
pub mod dxf;
pub mod folder;
pub mod json;
pub mod lesson;
mod lettering;
pub mod outline;
pub mod pdf;
pub mod photo;
pub mod picture;
pub mod table;
pub mod text;
pub mod trace;

use crate::advice::Advice;
use crate::job::Job;
use crate::proof::sizes::{SizeRow, drawn};
use crate::proof::{Measured, Proof, Uncut, WallRow, chance_of_all};
use crate::relief::shade::{self, Camera, Look};
use crate::relief::time::JobTime;
use crate::relief::{self, HeightField, Plan, time};
use crate::shop::Money;
use crate::units::Mm;
use picture::Picture;
use std::f64::consts::FRAC_PI_2;
use std::sync::atomic::{AtomicBool, Ordering};

/// Minutes a job takes at the machine, where they can be worked out: `None` is shown as not worked out.
/// The one place where sheets, sizes and prices get their times from.
pub fn minutes(job: &Job, measured: &Measured) -> Option<f64> {
    time::of(job, measured).minutes()
}

/// What the bench sheet tells of the carve: minutes, and a picture of the surface, from one plan of the passes.
pub fn carve_in_short(job: &Job, measured: &Measured, proof: &Proof) -> (Option<f64>, Option<Picture>) {
    let Some(plan) = relief::plan(job, measured, &relief::NEVER) else { return (None, None) };
    (time::of_plan(job, &plan).minutes(), relief_picture(job, &plan, proof))
}

/// Pixels across a picture of the carved surface for paper, and down.
const RELIEF_SIZE: [u32; 2] = [960, 400];

/// A picture of the carved surface for a sheet: the whole board as it comes off the machine, grey and pale.
/// Seconds in a dev build for a large board.
pub fn relief_picture(job: &Job, plan: &Plan, proof: &Proof) -> Option<Picture> {
    // A cell is about a pixel: finer is not seen.
    let pitch = job.board().length / f64::from(RELIEF_SIZE[0]);
    let field = HeightField::carved(job, plan, proof, pitch, &relief::NEVER)?;
    // The board from edge to edge of the picture, and a little air.
    let aspect = f64::from(RELIEF_SIZE[0]) / f64::from(RELIEF_SIZE[1]);
    let distance = (job.board().length.get() * 1.14 / aspect).max(job.board().width.get() * 1.1);
    let camera = Camera { distance, ..Camera::over(&field, 0.0, 1.1) };
    let look = Look { bench: [255; 3], ..Look::default() };
    let pixels = shade::shaded(job, &field, &camera, &look, &[], RELIEF_SIZE, &relief::NEVER)?;
    Some(paled(&Picture { width: RELIEF_SIZE[0], height: RELIEF_SIZE[1], pixels }))
}

/// A picture in grey, and pale so that it takes little ink: the level wood, which most of it is, comes out
/// nearly as paper, and slopes as much lighter and darker than that as they are.
#[expect(clippy::cast_sign_loss, reason = "a tone is clamped to what it may be before it is cast")]
pub fn paled(picture: &Picture) -> Picture {
    const LEVEL: f64 = 250.0;
    // Weights of ITU-R BT.601.
    let tone = |pixel: &[u8]| {
        0.299 * f64::from(pixel[0]) + 0.587 * f64::from(pixel[1]) + 0.114 * f64::from(pixel[2])
    };
    // What is white already is paper round the board.
    let wood = picture.pixels.chunks_exact(4).filter(|pixel| pixel[..3] != [255; 3]);
    let mut tones: Vec<u8> = wood.map(|pixel| tone(pixel) as u8).collect();
    tones.sort_unstable();
    let level = tones.get(tones.len() / 2).map_or(255.0, |&tone| f64::from(tone));
    let mut pale = picture.clone();
    for pixel in pale.pixels.chunks_exact_mut(4) {
        let tone = (LEVEL + tone(pixel) - level).clamp(0.0, 255.0);
        pixel[..3].fill(tone as u8);
    }
    pale
}

/// Pixels along the longest board of the sizes.
const LONGEST_SURFACE: f64 = 480.0;

/// The carved board of each size from above, all to one scale; `None` for one whose passes could not be
/// planned or that is not drawn, and altogether once `cancel` is set. Up to a second a size in a dev build.
pub fn surfaces(rows: &[SizeRow], measured: &Measured, cancel: &AtomicBool) -> Option<Vec<Option<Picture>>> {
    let drawn = drawn(rows);
    let sides = rows.iter().zip(&drawn).filter(|(_, drawn)| **drawn).map(|(row, _)| row.job.board().length);
    let pitch = sides.fold(Mm::new(1.0), Mm::max) / LONGEST_SURFACE;
    let mut surfaces = Vec::new();
    for (row, drawn) in rows.iter().zip(drawn) {
        let plan = if drawn { relief::plan(&row.job, measured, cancel) } else { None };
        let picture = plan.and_then(|plan| surface_from_above(&row.job, &plan, &row.proof, pitch, cancel));
        if cancel.load(Ordering::Relaxed) {
            return None;
        }
        surfaces.push(picture);
    }
    Some(surfaces)
}

/// Pixels along the board of a picture of the carved wood.
const CARVED_LENGTH: f64 = 1600.0;

/// The carved board from above in the colours of its wood, with nothing drawn on it, 1600 pixels long; `None` where its
/// surface takes more memory than there is. Some seconds in a dev build.
pub fn carved_picture(job: &Job, plan: &Plan, proof: &Proof) -> Option<Picture> {
    surface_from_above(job, plan, proof, job.board().length / CARVED_LENGTH, &relief::NEVER)
}

/// A pixel is as large as `pitch`.
fn surface_from_above(
    job: &Job,
    plan: &Plan,
    proof: &Proof,
    pitch: Mm,
    cancel: &AtomicBool,
) -> Option<Picture> {
    let field = HeightField::carved(job, plan, proof, pitch, cancel)?;
    #[expect(clippy::cast_sign_loss, reason = "a board has no negative side")]
    let [width, height] =
        [job.board().length, job.board().width].map(|side| (side / pitch).round().max(1.0) as u32);
    let over = Camera::over(&field, 0.0, FRAC_PI_2);
    let camera = Camera { distance: job.board().width.get(), perspective: false, ..over };
    let pixels = shade::shaded(job, &field, &camera, &Look::default(), &[], [width, height], cancel)?;
    Some(Picture { width, height, pixels })
}

/// What is told beside a proof, where it is known: each takes longer than the proof of a size does.
#[derive(Clone, Copy, Debug, Default)]
pub struct Besides<'a> {
    /// How long the carving takes.
    pub time: Option<&'a JobTime>,
    /// What the cutter leaves uncut.
    pub uncut: Option<&'a Uncut>,
    /// The chance that every wall holds.
    pub chance: Option<f64>,
    /// Walls near their limits, worst first.
    pub walls: &'a [WallRow],
    /// What could be done about it, and how money is written.
    pub advice: Option<(&'a Advice, &'a Money)>,
    /// How long working it all out took.
    pub timings: Option<json::Timings>,
}

impl<'a> Besides<'a> {
    /// The time, and what follows from the walls near their limits, worst first: no more of them than a program
    /// wants to read.
    pub fn of(time: &'a JobTime, near: &'a [WallRow]) -> Besides<'a> {
        Besides {
            time: Some(time),
            chance: Some(chance_of_all(near)),
            walls: json::most(near),
            ..Besides::default()
        }
    }
}
