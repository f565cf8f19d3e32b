//! The picture of the surface, shaded by a worker without a graphics card: small while things move, in full
//! at rest.

use crate::app::relief::worked::Surface;
use crate::app::work::Bring;
use crate::app::work::{Lane, Stage, Workers};
use crate::geometry::Lattice;
use crate::proof::Proof;
use crate::relief::HeightField;
use crate::relief::shade::{Camera, Coat, Glow, Look, shaded_in};
use crate::words::window::relief as said;
use egui::{Color32, ColorImage, TextureHandle, TextureOptions};
use std::sync::Arc;
use std::time::{Duration, Instant};

/// What a picture is to show.
#[derive(Clone)]
pub(crate) struct Wanted {
    pub(crate) surface: Surface,
    /// The heights: the surface's, or those at a second of the carve.
    pub(crate) field: Arc<HeightField>,
    pub(crate) glows: Arc<[Glow]>,
    pub(crate) camera: Camera,
    pub(crate) look: Look,
    /// The canvas in pixels of the screen.
    pub(crate) size: [u32; 2],
    /// Whether things move: then it is drawn smaller, and at once.
    pub(crate) moving: bool,
}

/// What lies on the surface, and what it was worked out for.
#[derive(Clone)]
pub(crate) struct Dress {
    lattice: Lattice,
    glows: Arc<[Glow]>,
    wood: String,
    coat: Arc<Coat>,
}

impl Dress {
    /// Works it out for what is wanted.
    pub(crate) fn of(wanted: &Wanted) -> Dress {
        let (job, glows) = (&wanted.surface.of.job, wanted.glows.clone());
        let coat = Arc::new(Coat::new(job, &wanted.field, &glows));
        Dress { lattice: wanted.field.lattice, glows, wood: job.wood().id.clone(), coat }
    }

    /// Whether it is good for what is wanted.
    pub(crate) fn suits(&self, wanted: &Wanted) -> bool {
        self.lies_on(wanted.field.lattice)
            && Arc::ptr_eq(&self.glows, &wanted.glows)
            && self.wood == wanted.surface.of.job.wood().id
    }

    /// Whether it has a colour for each cell of a lattice.
    pub(crate) fn lies_on(&self, lattice: Lattice) -> bool {
        self.lattice == lattice
    }

    /// The colours.
    pub(crate) fn coat(&self) -> &Coat {
        &self.coat
    }
}

/// A picture with what it shows.
pub(crate) struct Shaded {
    wanted: Wanted,
    image: ColorImage,
    dress: Dress,
    took: Duration,
}

/// The last good picture on the screen.
pub(crate) struct Shot {
    pub(crate) texture: TextureHandle,
    pub(crate) wanted: Wanted,
    /// For the next pictures of the surface, and of the coarser one.
    dresses: Vec<Dress>,
    /// How many of the screen's pixels along each side make one of a picture that is drawn while things move.
    shrink: u32,
}

/// As long as a picture may take while things move.
const PROMPT: Duration = Duration::from_millis(45);
/// The coarsest pictures while things move, in pixels of the screen.
const MOST_SHRINK: u32 = 4;

impl Wanted {
    /// Whether two pictures show the same, whatever they are drawn with.
    pub(crate) fn shows_what(&self, other: &Wanted) -> bool {
        Arc::ptr_eq(&self.field, &other.field) && self.looks_as(other)
    }

    fn looks_as(&self, other: &Wanted) -> bool {
        Arc::ptr_eq(&self.glows, &other.glows)
            && self.camera == other.camera
            && self.look == other.look
            && self.size == other.size
    }

    pub(crate) fn proof(&self) -> &Arc<Proof> {
        &self.surface.of.proof
    }
}

impl Shot {
    /// Puts a picture on the screen, in place of the last.
    pub(crate) fn upload(ctx: &egui::Context, drawn: Shaded, last: Option<Shot>) -> Shot {
        const KEPT: usize = 2;
        let Shaded { wanted, image, dress, took } = drawn;
        let (mut shrink, mut dresses) =
            last.as_ref().map_or_else(|| (2, Vec::new()), |last| (last.shrink, last.dresses.clone()));
        dresses.retain(|other| !Arc::ptr_eq(&other.coat, &dress.coat));
        dresses.truncate(KEPT - 1);
        dresses.insert(0, dress);
        if wanted.moving {
            // Coarser at once where it took too long, finer only where there is much time left.
            if took > PROMPT {
                shrink = (shrink + 1).min(MOST_SHRINK);
            } else if took * 3 < PROMPT {
                shrink = (shrink - 1).max(1);
            }
        }
        let texture = match last {
            Some(mut last) => {
                last.texture.set(image, TextureOptions::LINEAR);
                last.texture
            }
            None => ctx.load_texture(said::CARVED_SURFACE, image, TextureOptions::LINEAR),
        };
        Shot { texture, wanted, dresses, shrink }
    }
}

/// Starts the next picture, where one is wanted; whether one is being drawn.
pub(crate) fn start_needed_work<D: Bring<Shaded>>(
    workers: &mut Workers<D>,
    shot: Option<&Shot>,
    asked: &mut Option<Wanted>,
    wanted: Wanted,
) -> bool {
    let good = shot.is_some_and(|shot| {
        shot.wanted.looks_as(&wanted)
            // A full picture is good while things move, too.
            && (Arc::ptr_eq(&shot.wanted.field, &wanted.field)
                || (Arc::ptr_eq(&wanted.field, &wanted.surface.coarse)
                    && Arc::ptr_eq(&shot.wanted.field, &wanted.surface.field)))
            && (wanted.moving || !shot.wanted.moving)
    });
    if good {
        workers.cancel(Lane::Shading);
        return false;
    }
    if workers.busy(Lane::Shading)
        && let Some(asked) = &asked
    {
        // One that moves is always left to finish, so that the picture follows the hand; one in full is
        // dropped as soon as something else is wanted.
        if asked.moving || (asked.shows_what(&wanted) && asked.moving == wanted.moving) {
            return true;
        }
    }
    let shrink = if wanted.moving { shot.map_or(2, |shot| shot.shrink) } else { 1 };
    let dress = shot.and_then(|shot| shot.dresses.iter().find(|dress| dress.suits(&wanted)).cloned());
    *asked = Some(wanted.clone());
    let about = wanted.surface.of.job.design().name.clone();
    workers.start(Lane::Shading, Stage::Viewing, about, move |progress| {
        let start = Instant::now();
        let size = wanted.size.map(|side| side.div_ceil(shrink).max(1));
        let dress = dress.unwrap_or_else(|| Dress::of(&wanted));
        let Wanted { field, camera, look, .. } = &wanted;
        let pixels = shaded_in(dress.coat(), field, camera, look, size, progress.unwanted())?;
        let pixels = pixels.chunks_exact(4).map(|p| Color32::from_rgb(p[0], p[1], p[2])).collect();
        let image = ColorImage::new(size.map(|side| side as usize), pixels);
        Some(Shaded { wanted, image, dress, took: start.elapsed() }.into())
    });
    true
}
