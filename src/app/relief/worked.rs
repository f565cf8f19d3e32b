//! What has been worked out of the carved surface, piece by piece: the quick surface first, then the passes, then
//! what the cutters really leave.

use crate::app::work::Bring;
use crate::app::work::proofed::Proofed;
use crate::app::work::{Lane, Progress, Stage, Workers};
use crate::arrange::{ideal_surface, passes, whole};
use crate::geometry::{Lattice, Rect};
use crate::job::{Job, Reach};
use crate::proof::Proof;
use crate::relief::time::{Clock, JobTime};
use crate::relief::{HeightField, Plan, field};
use crate::units::Mm;
use glam::DVec2;
use std::sync::Arc;

/// Cells of the surface, about. Three million are a board of 600 by 200 mm at 0.2 mm.
const CELLS: f64 = 3.0e6;
/// Cells of the coarser one that is drawn while things move, about.
pub(crate) const FEW_CELLS: f64 = 2.5e5;
/// The finest pitch, millimetres: no cutter here leaves anything finer.
const FINEST: f64 = 0.08;

/// A surface of the job it was worked out for.
#[derive(Clone)]
pub(crate) struct Surface {
    /// Whose it is.
    pub(crate) of: Proofed,
    /// The heights.
    pub(crate) field: Arc<HeightField>,
    /// The same with fewer cells.
    pub(crate) coarse: Arc<HeightField>,
    /// The lowest height, millimetres.
    pub(crate) lowest: f32,
    /// Whether it is what the cutters leave, else what cutters of no width would.
    pub(crate) is_true: bool,
}

/// The passes of a job, and how long they take.
#[derive(Clone)]
pub(crate) struct Planned {
    /// Whose they are.
    pub(crate) of: Proofed,
    /// The job whose elements the passes are of: that of all pieces, where there are several.
    pub(crate) named: Arc<Job>,
    /// The passes.
    pub(crate) plan: Arc<Plan>,
    /// The same as moves in time.
    pub(crate) clock: Arc<Clock>,
    /// The sums.
    pub(crate) time: Arc<JobTime>,
}

/// A piece of work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum CarveStep {
    Quick,
    Plan,
    True,
}

/// All of it. What is of an older job stays until the new arrives.
#[derive(Default)]
pub(crate) struct Worked {
    pub(crate) surface: Option<Surface>,
    pub(crate) planned: Option<Planned>,
    /// What is being worked out, and of which proof.
    pub(crate) working: Option<(CarveStep, Arc<Proof>)>,
    /// The proof for which a person stopped the work.
    called_off: Option<Arc<Proof>>,
    latest: Option<Arc<Proof>>,
}

impl Worked {
    pub(crate) fn take_surface(&mut self, surface: Surface) {
        self.working = None;
        self.surface = Some(surface);
    }

    pub(crate) fn take_planned(&mut self, planned: Planned) {
        self.working = None;
        self.planned = Some(planned);
    }

    /// Nothing more is worked out for this proof.
    pub(crate) fn call_off(&mut self) {
        self.working = None;
        self.called_off.clone_from(&self.latest);
    }

    /// Works out what was stopped after all.
    pub(crate) fn go_on(&mut self) {
        self.called_off = None;
    }

    /// Whether the work on what is looked at was stopped.
    pub(crate) fn is_called_off(&self) -> bool {
        matches!((&self.called_off, &self.latest), (Some(off), Some(latest)) if Arc::ptr_eq(off, latest))
    }

    /// Starts the next step; whether there is one.
    pub(crate) fn start_needed_work<D: Bring<Surface> + Bring<Planned>>(
        &mut self,
        workers: &mut Workers<D>,
        seen: &Proofed,
        surface_shown: bool,
    ) -> bool {
        self.latest = Some(seen.proof.clone());
        // A machine's time factor moves no chip.
        if let Some(surface) = self.surface.as_mut().filter(|surface| {
            !Arc::ptr_eq(&surface.of.proof, &seen.proof)
                && Reach::between(&surface.of.job, &seen.job).keeps_chips()
        }) {
            surface.of = seen.clone();
        }
        let Some(step) = self.next_step(seen, surface_shown) else { return false };
        if self.is_called_off() {
            return false;
        }
        if let Some((doing, of)) = &self.working {
            // The quick surface is left to finish, so that it follows a size that is dragged.
            let keep = *doing == CarveStep::Quick || (*doing == step && Arc::ptr_eq(of, &seen.proof));
            if keep && workers.busy(Lane::Carving) {
                return true;
            }
        }
        self.working = Some((step, seen.proof.clone()));
        let (about, seen) = (seen.job.design().name.clone(), seen.clone());
        match step {
            CarveStep::Quick => workers.start(Lane::Carving, Stage::Carving, about, move |progress| {
                let blank = HeightField::of_board(&seen.job, finest(&seen.job));
                let field = ideal_surface(&seen.job, &seen.measured, blank, progress.unwanted())?;
                Some(Surface::new(seen, field, false).into())
            }),
            CarveStep::Plan => {
                workers.start(Lane::Carving, Stage::Planning, about, move |progress| {
                    Some(planned(seen, progress)?.into())
                });
            }
            CarveStep::True => {
                let Some(planned) = &self.planned else { return false };
                let plan = planned.plan.clone();
                workers.start(Lane::Carving, Stage::Sweeping, about, move |progress| {
                    let (job, proof) = (&seen.job, &seen.proof);
                    let field = HeightField::carved(job, &plan, proof, finest(job), progress.unwanted())?;
                    Some(Surface::new(seen, field, true).into())
                });
            }
        }
        true
    }

    fn next_step(&self, seen: &Proofed, surface_shown: bool) -> Option<CarveStep> {
        let is_of = |of: &Proofed| Arc::ptr_eq(&of.proof, &seen.proof);
        let surface = self.surface.as_ref().filter(|surface| is_of(&surface.of));
        if surface_shown && surface.is_none() {
            return Some(CarveStep::Quick);
        }
        if !self.planned.as_ref().is_some_and(|planned| is_of(&planned.of)) {
            return Some(CarveStep::Plan);
        }
        (surface_shown && surface.is_some_and(|surface| !surface.is_true)).then_some(CarveStep::True)
    }
}

fn planned(seen: Proofed, progress: &Progress) -> Option<Planned> {
    let plan = passes(&seen.job, &seen.measured, progress.unwanted())?;
    let named = if seen.job.is_batch() { whole(&seen.job).ok().map(Arc::new) } else { None };
    let named = named.unwrap_or_else(|| seen.job.clone());
    let clock = Clock::new(&seen.job, &plan);
    let time = Arc::new(clock.time(&named));
    Some(Planned { of: seen, named, plan: Arc::new(plan), clock: Arc::new(clock), time })
}

/// As fine as the surface is worked out.
fn finest(job: &Job) -> Mm {
    Mm::new(pitch(job, CELLS).max(FINEST))
}

/// The pitch at which a board has about so many cells, millimetres.
pub(crate) fn pitch(job: &Job, cells: f64) -> f64 {
    (job.board().length.get() * job.board().width.get() / cells).sqrt().max(1e-3)
}

impl Surface {
    fn new(of: Proofed, field: HeightField, is_true: bool) -> Surface {
        let coarse = Arc::new(coarser(&field, pitch(&of.job, FEW_CELLS)));
        let lowest = field.lowest();
        Surface { of, field: Arc::new(field), coarse, lowest, is_true }
    }
}

/// A field with fewer cells, each as high as the finer one is in its middle.
fn coarser(field: &HeightField, pitch: f64) -> HeightField {
    let area = field.lattice.area();
    let lattice =
        Lattice::covering(Rect::new(area.min, area.max), pitch.max(field.lattice.pitch), field::MOST_CELLS);
    let middles = (0..lattice.rows).flat_map(|row| (0..lattice.columns).map(move |column| (column, row)));
    let height = |(column, row)| {
        let place: DVec2 = lattice.middle(column, row);
        field.height_at(place) as f32
    };
    HeightField { lattice, heights: middles.map(height).collect(), thickness: field.thickness }
}
