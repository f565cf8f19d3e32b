//! Opening: what to open, and what comes of it.

use crate::app::documents::dialogs::is_picture;
use crate::app::documents::drawing::{Drawing, Stamp};
use crate::app::documents::questions::{DrawingSource, OpenQuestions};
use crate::app::work::pictured::{self, Pictured};
use crate::app::work::proofed::{Known, Proofed, prove};
use crate::app::work::{Progress, Stage};
use crate::design::samples::Sample;
use crate::design::{Design, ReadOptions};
use crate::file_name::name_of;
use crate::job::recovery::Kept;
use crate::job::saved::is_saved_job;
use crate::job::{Edit, Job, STARTING_DEPTH, Words};
use crate::shop::{MOST_PICTURE_BYTES, Shop};
use crate::units::{LengthUnit, Mm};
use crate::whole_file;
use crate::words::window::handle::{cannot_be_set, not_opened};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Where an opened job came from, as far as it came from a file.
#[derive(Clone, Default)]
pub(crate) struct Origin {
    /// The saved job it may be saved to again.
    pub(crate) saved_at: Option<PathBuf>,
    /// The drawing it is made of.
    pub(crate) drawing: Option<Drawing>,
    /// A job that was kept over a crash: it has changes that were never saved.
    pub(crate) kept: Option<crate::job::recovery::Kept>,
    /// What may be asked of the drawing.
    pub(crate) asks: Option<OpenQuestions>,
    /// The picture it was traced from.
    pub(crate) pictured: Option<Box<Pictured>>,
    /// Whether it was made here and is in no file.
    pub(crate) is_new: bool,
    /// Whether the lesson's tour asked for it.
    pub(crate) for_lesson: bool,
}

/// What to open.
#[derive(Clone, Debug)]
pub(crate) enum Source {
    /// A file: a saved job by its ending, else a drawing.
    Path(PathBuf),
    /// A picture, or a drawing that holds one, to be traced; which of several, from 1.
    Picture(PathBuf, Option<usize>),
    /// A drawing's bytes.
    Bytes {
        /// The file's name.
        name: String,
        /// What is in it.
        bytes: Vec<u8>,
    },
    /// A bundled drawing.
    Sample {
        sample: &'static Sample,
        /// Whether the lesson's tour asks for it.
        for_lesson: bool,
    },
    /// A job of words alone.
    Words(Box<Words>),
    /// A job that was kept over a crash.
    Kept {
        /// The job.
        job: Arc<Job>,
        /// Where it is kept.
        kept: Kept,
        /// Where it was saved or opened before.
        saved_at: Option<PathBuf>,
    },
}

impl Source {
    /// What to call it in a message.
    pub(crate) fn name(&self) -> String {
        match self {
            Source::Path(path) | Source::Picture(path, _) => name_of(path),
            Source::Bytes { name, .. } => name.clone(),
            Source::Sample { sample, .. } => sample.title.to_owned(),
            Source::Kept { job, .. } => job.design().name.clone(),
            Source::Words(words) => words.lettering.words.trim().replace('\n', " "),
        }
    }
}

/// Reading, measuring, comparing.
pub(crate) const STEPS_OF_A_DRAWING: usize = 3;

/// The same, and tracing in three steps.
const STEPS_OF_A_PICTURE: usize = STEPS_OF_A_DRAWING + 3;

pub(crate) type Opened = Result<(Proofed, Origin), String>;

/// `None` where the run was cancelled on the way.
pub(crate) fn open(
    source: Source,
    current: Option<Arc<Job>>,
    (shop, unit): (&Shop, LengthUnit),
    progress: &Progress,
) -> Option<Opened> {
    progress.enter(Stage::Reading)?;
    let name = source.name();
    let (job, origin) = match read(source, current, (shop, unit), progress) {
        Ok(read) => read,
        Err(error) => {
            progress.enter(Stage::Reading)?;
            return Some(Err(not_opened(&name, &error)));
        }
    };
    Some(Ok((prove(job, Known::default(), progress)?, origin)))
}

fn read(
    source: Source,
    current: Option<Arc<Job>>,
    (shop, unit): (&Shop, LengthUnit),
    progress: &Progress,
) -> Result<(Arc<Job>, Origin), String> {
    let nowhere = Origin::default();
    match source {
        Source::Path(path) if is_saved_job(&path) => {
            Ok((saved_job(&path)?, Origin { saved_at: Some(path), ..nowhere }))
        }
        Source::Path(path) if is_picture(&path) => {
            read(Source::Picture(path, None), current, (shop, unit), progress)
        }
        Source::Picture(path, number) => {
            let bytes = whole_file::read(&path, MOST_PICTURE_BYTES).map_err(|error| error.to_string())?;
            traced(&name_of(&path), (&bytes, number), current.as_ref(), (shop, unit), progress)
        }
        Source::Bytes { name, bytes } if is_picture(Path::new(&name)) => {
            traced(&name, (&bytes, None), current.as_ref(), (shop, unit), progress)
        }
        Source::Path(path) => {
            // The stamp first: what is written while the file is read is a change.
            let stamp = Stamp::of(&path);
            let (job, asks) = read_drawing(DrawingSource::File(path.clone()), current, shop, unit)?;
            Ok((job, Origin { drawing: Some(Drawing { path, stamp }), asks, ..nowhere }))
        }
        Source::Kept { job, kept, saved_at } => Ok((job, Origin { saved_at, kept: Some(kept), ..nowhere })),
        Source::Bytes { name, bytes } => {
            let (job, asks) =
                read_drawing(DrawingSource::Bytes { name, bytes: bytes.into() }, current, shop, unit)?;
            Ok((job, Origin { asks, ..nowhere }))
        }
        Source::Words(words) => {
            let job = Job::of_words(*words, current.as_deref());
            let job = job.map_err(|error| cannot_be_set(&error))?;
            Ok((Arc::new(job), Origin { is_new: true, ..nowhere }))
        }
        Source::Sample { sample, for_lesson } => {
            let job = crate::job::sample::sample_job(sample).map_err(|error| error.to_string())?;
            // The lesson's figures are those of the built-in cutter.
            let job = if for_lesson { job } else { starting(job, shop, unit) };
            Ok((Arc::new(job), Origin { for_lesson, ..nowhere }))
        }
    }
}

/// The job of a drawing or a saved job, as it is when it is opened.
pub(crate) fn job_of_file(
    path: &Path,
    current: Option<&Arc<Job>>,
    shop: &Shop,
    unit: LengthUnit,
) -> Result<Arc<Job>, String> {
    if is_saved_job(path) {
        return saved_job(path);
    }
    let drawing = DrawingSource::File(path.to_owned());
    read_drawing(drawing, current.cloned(), shop, unit).map(|(job, _)| job)
}

fn saved_job(path: &Path) -> Result<Arc<Job>, String> {
    crate::job::saved::open(path).map(Arc::new).map_err(|error| error.to_string())
}

/// A job nobody has set anything of yet, with the shop's own things, and with a depth that its carver's rule shows.
fn starting(job: Job, shop: &Shop, unit: LengthUnit) -> Job {
    let job = job.in_shop(shop);
    if unit == LengthUnit::Millimetres || job.depth() != STARTING_DEPTH {
        return job;
    }
    job.with([Edit::Depth(Mm::from_inches(0.125))]).unwrap_or(job)
}

/// A picture as it is traced at first: a file's bytes, and which picture of a drawing that holds several.
fn traced(
    name: &str,
    file: (&[u8], Option<usize>),
    current: Option<&Arc<Job>>,
    (shop, unit): (&Shop, LengthUnit),
    progress: &Progress,
) -> Result<(Arc<Job>, Origin), String> {
    progress.count(0, STEPS_OF_A_PICTURE);
    let on_board = |design: Arc<Design>| match current {
        Some(job) => job.for_drawing(design),
        None => starting(Job::new(design), shop, unit),
    };
    let (pictured, design) = pictured::open(name, file, &on_board, progress)?;
    let origin = Origin { pictured: Some(Box::new(pictured)), is_new: true, ..Origin::default() };
    Ok((Arc::new(on_board(design)), origin))
}

/// A drawing as it is read at first, and what may be asked of it.
fn read_drawing(
    from: DrawingSource,
    current: Option<Arc<Job>>,
    shop: &Shop,
    unit: LengthUnit,
) -> Result<(Arc<Job>, Option<OpenQuestions>), String> {
    let reading = from.read(&ReadOptions::default()).map_err(|error| error.to_string())?;
    let asks = OpenQuestions::of(from, &reading, false);
    let design = Arc::new(reading.design);
    // A new drawing goes on the board that is there already.
    let new = || starting(Job::new(design.clone()), shop, unit);
    let job = current.map_or_else(new, |job| job.for_drawing(design.clone()));
    Ok((Arc::new(job), asks))
}
