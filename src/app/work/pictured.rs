//! A picture, and the outline that was traced from it.

use crate::app::widgets::image::photo_image;
use crate::app::widgets::outlines::{MOST_POINTS, thinned};
use crate::app::work::{Progress, Stage};
use crate::design::embedded::pictures;
use crate::design::{Design, DesignError, Element};
use crate::geometry::{FillRule, Grid, Homography, Rect, Region};
use crate::job::Job;
use crate::notice::Notices;
use crate::shop::Photo;
use crate::trace::{Colour, PictureSize, Prepared, Settings, Step, Trace, TraceError, is_ready_for, prepare};
use crate::units::Mm;
use crate::words::window::tracing as said;
use egui::ColorImage;
use glam::{DVec2, dvec2};
use std::sync::Arc;

/// The longest side of a picture as it is shown, in pixels.
const SHOWN_SIDE: u32 = 2000;

/// A picture, how it was traced, and what was found.
#[derive(Clone)]
pub(crate) struct Pictured {
    /// The file's name.
    pub(crate) name: String,
    photo: Arc<Photo>,
    /// The picture, small enough for the screen.
    pub(crate) screen: Arc<ColorImage>,
    prepared: Arc<Prepared>,
    pub(crate) settings: Settings,
    pub(crate) found: Arc<Found>,
}

/// What was found in a picture.
pub(crate) struct Found {
    /// In pixels of the upright picture, y down; few enough points to be drawn in every frame.
    pub(crate) outlines: Vec<Vec<DVec2>>,
    pub(crate) pieces_and_holes: [usize; 2],
    pub(crate) specks: usize,
    /// From where on a pixel was ink; `None` where colours say it.
    pub(crate) level: Option<f64>,
    pub(crate) colours: Vec<Colour>,
    /// The picture from edge to edge, as drawn.
    pub(crate) size: [Mm; 2],
}

/// A picture that was traced again, or why it was not.
pub(crate) struct Retraced {
    /// The design it was traced to before.
    pub(crate) before: Arc<Design>,
    /// Whether how large it is was set.
    pub(crate) is_resized: bool,
    pub(crate) traced: Result<(Pictured, Arc<Design>), TraceError>,
}

/// Reads a picture, or the one of that number in an SVG, and traces it as large as the board takes it that `on_board`
/// puts it on.
///
/// # Errors
///
/// A sentence that does not name the file.
pub(crate) fn open(
    name: &str,
    (bytes, number): (&[u8], Option<usize>),
    on_board: &dyn Fn(Arc<Design>) -> Job,
    progress: &Progress,
) -> Result<(Pictured, Arc<Design>), String> {
    let inside;
    let bytes = match pictures(bytes) {
        // A file that is no XML is a picture itself.
        Err(_) => bytes,
        Ok(mut found) => {
            let count = found.len();
            let at = match number {
                None if count > 1 => return Err(said::several_inside(count)),
                number => number.unwrap_or(1).wrapping_sub(1),
            };
            let wanted = found.get_mut(at).and_then(Option::take);
            inside = wanted.ok_or(crate::words::trace::NO_PICTURE_INSIDE)?;
            &inside
        }
    };
    let photo = Photo::read(bytes, &mut Notices::new()).map_err(|error| error.to_string())?;
    let [width, height] = photo.size().map(f64::from);
    // A picture that fits as a whole fits with its outline, which is smaller.
    let job = on_board(Arc::new(plain(dvec2(width, height))));
    let (factor, _) = job.largest_for(dvec2(width, height), job.ends());
    let length = (width * factor).floor();
    let settings = Settings::new(PictureSize::Length(Mm::new(if length > 0.0 { length } else { width })));
    let photo = Arc::new(photo);
    let screen = photo_image(&photo, SHOWN_SIDE);
    let traced = made_ready(&photo, &settings, progress).and_then(|prepared| {
        let trace = traced(&prepared, name, &settings, progress)?;
        Ok((prepared, trace))
    });
    let (prepared, trace) = traced.map_err(|error| error.to_string())?;
    let pictured = Pictured {
        name: name.to_owned(),
        screen: Arc::new(screen),
        prepared: Arc::new(prepared),
        found: Arc::new(Found::of(&trace, &photo, &settings)),
        photo,
        settings,
    };
    Ok((pictured, Arc::new(trace.design)))
}

fn made_ready(photo: &Photo, settings: &Settings, progress: &Progress) -> Result<Prepared, TraceError> {
    progress.enter(Stage::Tracing(Step::Preparing)).ok_or(TraceError::Cancelled)?;
    prepare(photo, settings, progress.unwanted())
}

/// Traces a picture that is ready, called by its file's name.
fn traced(
    prepared: &Prepared,
    name: &str,
    settings: &Settings,
    progress: &Progress,
) -> Result<Trace, TraceError> {
    let stem = name.rsplit_once('.').map_or(name, |(stem, _)| stem);
    // Whether it is wanted still is looked at more often inside.
    let tell = |step| {
        let _ = progress.enter(Stage::Tracing(step));
    };
    prepared.trace_telling(stem, settings, progress.unwanted(), &tell)
}

/// A picture's edge.
fn plain(size: DVec2) -> Design {
    let page = Rect::new(DVec2::ZERO, size);
    let grid = Grid::covering(page);
    let region = Region::clean(grid, &[page.corners().into()], FillRule::NonZero);
    let elements = vec![Element::new("", region)];
    Design { name: String::new(), elements, page: None, grid, notices: Notices::new(), sharpness: None }
}

impl Pictured {
    /// Pixels across and down.
    pub(crate) fn pixels(&self) -> [u32; 2] {
        self.photo.size()
    }

    /// Traces it again by other settings.
    ///
    /// # Errors
    ///
    /// As for [`Prepared::trace`].
    pub(crate) fn traced_by(
        &self,
        settings: &Settings,
        progress: &Progress,
    ) -> Result<(Pictured, Arc<Design>), TraceError> {
        let prepared = if is_ready_for(&self.settings, settings) {
            self.prepared.clone()
        } else {
            Arc::new(made_ready(&self.photo, settings, progress)?)
        };
        let trace = traced(&prepared, &self.name, settings, progress)?;
        let found = Arc::new(Found::of(&trace, &self.photo, settings));
        let pictured = Pictured { prepared, found, settings: settings.clone(), ..self.clone() };
        Ok((pictured, Arc::new(trace.design)))
    }

    /// The pixel of the upright picture that lies at a place of what is traced, as [`Settings::without`] has it.
    pub(crate) fn pixel_of(&self, share: DVec2) -> Option<DVec2> {
        Some(Homography::between(EDGES, corners(self.pixels(), &self.settings))?.of(share))
    }

    /// The place of a pixel of the upright picture in what is traced; `None` outside.
    pub(crate) fn share_of(&self, pixel: DVec2) -> Option<DVec2> {
        let share = Homography::between(corners(self.pixels(), &self.settings), EDGES)?.of(pixel);
        (share.min_element() >= 0.0 && share.max_element() <= 1.0).then_some(share)
    }
}

/// The corners of what is traced, in shares of it: lower left, lower right, upper right, upper left.
const EDGES: [DVec2; 4] = [dvec2(0.0, 1.0), dvec2(1.0, 1.0), dvec2(1.0, 0.0), dvec2(0.0, 0.0)];

/// The same in pixels of the upright picture: those of the sheet, or of the whole picture.
fn corners(pixels: [u32; 2], settings: &Settings) -> [DVec2; 4] {
    match settings.size {
        PictureSize::Sheet { corners, .. } => corners,
        _ => EDGES.map(|share| share * DVec2::from(pixels.map(f64::from))),
    }
}

impl Found {
    fn of(trace: &Trace, photo: &Photo, settings: &Settings) -> Found {
        let size = trace.size();
        let [length, width] = size.map(Mm::get);
        let map = Homography::between(EDGES, corners(photo.size(), settings));
        let pixel = |at: DVec2| map.as_ref().map(|map| map.of(dvec2(at.x / length, 1.0 - at.y / width)));
        let all: Vec<usize> = (0..trace.design.elements.len()).collect();
        let rings = thinned(&trace.design, &all, MOST_POINTS);
        Found {
            outlines: rings.into_iter().map(|ring| ring.into_iter().filter_map(pixel).collect()).collect(),
            pieces_and_holes: trace.pieces_and_holes(),
            specks: trace.specks,
            level: trace.level,
            colours: trace.colours.clone(),
            size,
        }
    }
}

impl Retraced {
    /// What went wrong, unless the work was called off.
    pub(crate) fn trouble(&self) -> Option<String> {
        match &self.traced {
            Ok(_) | Err(TraceError::Cancelled) => None,
            Err(TraceError::Design(DesignError::Tangled)) => Some(said::TOO_TANGLED.to_owned()),
            Err(error) => Some(error.to_string()),
        }
    }
}
