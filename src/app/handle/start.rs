//! What is handed to the workers.

use crate::advice::on_boards;
use crate::app::board::batch::{Batched, PiecesAnswer};
use crate::app::board::done::{BoardDone, RackAnswer, Wanted};
use crate::app::board::painting::{self, Framing};
use crate::app::documents::document::DocumentId;
use crate::app::documents::drawing::Stamp;
use crate::app::documents::opening::{Source, open};
use crate::app::documents::questions::{DrawingSource, Reread, Why};
use crate::app::done::Done;
use crate::app::elements::edited::Edited;
use crate::app::widgets::image::photo_image;
use crate::app::work::advised::advised;
use crate::app::work::pictured::{Pictured, Retraced};
use crate::app::work::proofed::{Known, Proofed, mended, prove};
use crate::app::work::{Failed, Lane, Stage, Workers};
use crate::arrange::{
    self, Effort, Impossible, arrange_telling, names_edit, names_in, on_rack, shortest, usual_words,
};
use crate::design::{Design, ReadOptions};
use crate::file_name::name_of;
use crate::job::{Edit, Job, Redesign};
use crate::notice::Notices;
use crate::proof::mend::Mend;
use crate::proof::place::{PITCH, find_at_size, find_largest};
use crate::proof::rack::rack;
use crate::sheet::arrange::common;
use crate::sheet::batch::BatchFacts;
use crate::sheet::picture::Hatched;
use crate::sheet::picture::Picture;
use crate::shop::{MOST_PICTURE_BYTES, Photo, PhotoError, Prices, RackBoard, Shop};
use crate::trace::{Settings, Step};
use crate::units::LengthUnit;
use crate::whole_file::{self, Existing, WriteError};
use crate::words::edits::rejection;
use crate::words::window::{handle as said, pieces};
use glam::DVec2;
use std::path::PathBuf;
use std::sync::Arc;

/// The largest list of names that is read: far more than those that go on one board.
const MOST_LIST_BYTES: u64 = 1 << 20;

/// What is asked about all pieces, with what takes an answer.
pub(crate) enum Asked {
    Shortest,
    Rack(Vec<RackBoard>, Box<Shop>),
}

/// The longest side of a photograph as it is shown for its corners to be marked, in pixels.
const SHOWN_SIDE: u32 = 1600;

impl Workers<Done> {
    /// Opens a file and proofs what is in it. A drawing takes over `current`'s board, cutter and so on.
    pub(crate) fn open(&mut self, source: Source, current: Option<Arc<Job>>, shop: Shop, unit: LengthUnit) {
        let about = source.name();
        self.start(Lane::Opening, Stage::Reading, about, move |progress| {
            Some(match open(source, current, (&shop, unit), progress)? {
                Ok((proofed, origin)) => Done::Opened(Box::new(proofed), origin),
                Err(message) => Done::NotOpened(Failed(message)),
            })
        });
    }

    /// Proofs a job; what is known already is not worked out again.
    pub(crate) fn proof(&mut self, job: Arc<Job>, known: Known) {
        let about = job.design().name.clone();
        self.start(Lane::Proofing, Stage::Rating, about, move |progress| {
            Some(Done::Proofed(Box::new(prove(job, known, progress)?)))
        });
    }

    /// Tries out what would help a job.
    pub(crate) fn advise(&mut self, now: Proofed, shop: Shop, boards: Vec<RackBoard>) {
        let about = now.job.design().name.clone();
        self.start(Lane::Advising, Stage::Advising, about, move |progress| {
            Some(Done::Advised(Box::new(advised(&now, &shop, &boards, progress)?)))
        });
    }

    /// Paints the board as it is seen through `view`, with what a mend changed hatched over it, and without
    /// the hidden elements.
    pub(crate) fn paint(
        &mut self,
        proofed: Proofed,
        view: Framing,
        hatched: Option<Arc<[Hatched; 2]>>,
        photo: Option<Arc<Photo>>,
        hidden: Vec<usize>,
    ) {
        let about = proofed.job.design().name.clone();
        self.start(Lane::Painting, Stage::Painting, about, move |_| {
            let seen = (!hidden.is_empty()).then(|| proofed.paths.without(&hidden));
            let paths = seen.as_ref().unwrap_or(&proofed.paths);
            let layers = painting::paint(&proofed, paths, view, hatched.as_deref(), photo.as_deref());
            Some(Done::Painted(Box::new(layers)))
        });
    }

    /// Mends a job at its present size, and proofs what comes of it.
    pub(crate) fn mend(&mut self, proofed: Proofed, what: Mend, place: Option<DVec2>) {
        let about = proofed.job.design().name.clone();
        self.start(Lane::Mending, Stage::Mending, about, move |progress| {
            Some(Done::Mended(Box::new(mended(&proofed, what, place, progress)?)))
        });
    }

    /// Saves a job.
    pub(crate) fn save(&mut self, id: DocumentId, job: Arc<Job>, path: PathBuf) {
        let about = Source::Path(path.clone()).name();
        self.start(Lane::Saving, Stage::Saving, about, move |_| {
            Some(match crate::job::saved::save(&job, &path) {
                Ok(()) => Done::Saved(id, job, path),
                Err(error) => Done::Failed(Failed(said::not_opened(&path.display().to_string(), &error))),
            })
        });
    }

    /// Writes a drawing; `drawing` makes its text.
    pub(crate) fn write(&mut self, path: PathBuf, drawing: impl FnOnce() -> String + Send + 'static) {
        self.make(path, || Ok((drawing().into_bytes(), Vec::new())));
    }

    /// Makes a picture for the clipboard.
    pub(crate) fn copy(&mut self, about: String, make: impl FnOnce() -> Option<Picture> + Send + 'static) {
        self.start(Lane::Saving, Stage::Sweeping, about, move |_| {
            Some(match make() {
                Some(picture) => Done::Copied(Box::new(picture)),
                None => Done::Failed(Failed(said::NO_PASSES.to_owned())),
            })
        });
    }

    /// Writes a file; `make` makes its bytes, with a word about them, or says why it cannot.
    pub(crate) fn make(
        &mut self,
        path: PathBuf,
        make: impl FnOnce() -> Result<(Vec<u8>, Vec<char>), String> + Send + 'static,
    ) {
        let about = path.display().to_string();
        self.start(Lane::Saving, Stage::Saving, about.clone(), move |_| {
            Some(match make() {
                Err(reason) => Done::Failed(Failed(said::not_written(&about, &reason))),
                Ok((bytes, missing)) => match whole_file::write(&path, &bytes, Existing::Replace) {
                    Err(error) => Done::Failed(Failed(said::cannot_be_written(&about, &error))),
                    Ok(()) => Done::Written(path, missing),
                },
            })
        });
    }

    /// Writes several files; `make` makes their bytes, in the order of `paths`. Nobody was asked about these names, so
    /// a file that is there already stays.
    pub(crate) fn make_each(
        &mut self,
        paths: Vec<PathBuf>,
        make: impl FnOnce() -> Result<Vec<Vec<u8>>, String> + Send + 'static,
    ) {
        let Some(first) = paths.first() else { return };
        let about = pieces::files(paths.len(), &first.display().to_string());
        self.start(Lane::Saving, Stage::Saving, about.clone(), move |_| {
            if let Some(there) = paths.iter().find(|path| path.exists()) {
                let there = there.display().to_string();
                return Some(Done::Failed(Failed(said::cannot_be_written(&there, &WriteError::Exists))));
            }
            let all = match make() {
                Err(reason) => return Some(Done::Failed(Failed(said::not_written(&about, &reason)))),
                Ok(all) => all,
            };
            for (path, bytes) in paths.iter().zip(all) {
                if let Err(error) = whole_file::write(path, &bytes, Existing::Keep) {
                    let path = path.display().to_string();
                    return Some(Done::Failed(Failed(said::cannot_be_written(&path, &error))));
                }
            }
            Some(Done::WrittenEach(about))
        });
    }

    /// Reads a drawing again, in place of `before`.
    pub(crate) fn reread(
        &mut self,
        from: DrawingSource,
        before: Arc<Design>,
        options: ReadOptions,
        why: Why,
        is_settled: bool,
    ) {
        let about = from.name();
        self.start(Lane::Opening, Stage::Reading, about, move |_| {
            // The stamp first: what is written while the file is read is a change.
            let stamp = if let DrawingSource::File(path) = &from { Stamp::of(path) } else { None };
            let read = from.read(&options);
            Some(Done::Reread(Box::new(Reread { before, from, options, why, stamp, read, is_settled })))
        });
    }

    /// Changes a design.
    pub(crate) fn redesign(&mut self, before: Arc<Job>, redesign: Redesign) {
        let about = before.design().name.clone();
        self.start(Lane::Editing, Stage::Editing, about, move |_| {
            let mut after = (*before).clone();
            let kind = redesign.kind();
            Some(match after.apply(Edit::Redesign(Box::new(redesign))) {
                Ok(change) => {
                    let (after, change) = (Arc::new(after), change.elements);
                    Done::Edited(Box::new(Edited { before, after, kind, change }))
                }
                Err(rejected) => Done::Failed(Failed(rejection(&rejected))),
            })
        });
    }

    /// Looks for a clear place.
    pub(crate) fn find_place(&mut self, job: Arc<Job>, wanted: Wanted) {
        let about = job.design().name.clone();
        self.start(Lane::Placing, Stage::Placing, about, move |_| {
            let found = match wanted {
                Wanted::AtSize => find_at_size(&job, PITCH),
                Wanted::Largest => find_largest(&job, PITCH),
            };
            let largest =
                if found.is_none() && wanted == Wanted::AtSize { find_largest(&job, PITCH) } else { None };
            Some(Done::Board(BoardDone::Placed { job, wanted, found, largest }))
        });
    }

    /// Finds a place for every piece.
    pub(crate) fn arrange(&mut self, job: Arc<Job>) {
        let about = job.design().name.clone();
        self.start(Lane::Arranging, Stage::Arranging, about, move |progress| {
            let (wanted, effort) = (arrange::Wanted::Counts, Effort::Usual);
            let tried = |done, of| progress.count(done, of);
            let found = arrange_telling(&job, wanted, effort, progress.unwanted(), &tried);
            (found != Err(Impossible::CalledOff)).then_some(Done::Board(BoardDone::Arranged(job, found)))
        });
    }

    /// Looks for a board that takes every piece: in place of arranging them, as both are stopped by one button.
    pub(crate) fn ask_of_pieces(&mut self, job: Arc<Job>, asked: Asked) {
        let about = job.design().name.clone();
        self.start(Lane::Arranging, Stage::Asking, about, move |progress| {
            let cancel = progress.unwanted();
            let answer = match asked {
                Asked::Shortest => shortest(&job, Effort::Usual, cancel).map(PiecesAnswer::Shortest),
                Asked::Rack(boards, shop) => on_rack(&job, &boards, &shop, cancel).map(PiecesAnswer::Rack),
            };
            let is_called_off = matches!(answer, Err(Impossible::CalledOff));
            (!is_called_off).then_some(Done::Board(BoardDone::Answered(job, answer)))
        });
    }

    /// Works out time, price and findings of all pieces.
    pub(crate) fn batch(&mut self, job: Arc<Job>, prices: Prices, unit: LengthUnit) {
        let about = job.design().name.clone();
        self.start(Lane::Batching, Stage::Batching, about, move |progress| {
            let facts = BatchFacts::as_it_lies(&job, &prices, progress.unwanted())?;
            let found = common(&facts.batch, unit);
            let batched = Batched { job, prices, unit, facts, found };
            Some(Done::Board(BoardDone::Batched(Box::new(batched))))
        });
    }

    /// Reads a list of names.
    pub(crate) fn open_names(&mut self, path: PathBuf) {
        let about = Source::Path(path.clone()).name();
        self.start(Lane::Editing, Stage::Reading, about.clone(), move |_| {
            let read = whole_file::read(&path, MOST_LIST_BYTES);
            let read = read.map(|bytes| String::from_utf8_lossy(&bytes).into_owned());
            let read = read.map_err(|error| said::not_opened(&path.display().to_string(), &error));
            Some(Done::Board(BoardDone::NamesRead(read)))
        });
    }

    /// Cuts each name of a list into the piece in hand.
    pub(crate) fn make_names(&mut self, job: Arc<Job>, list: String) {
        let about = job.design().name.clone();
        self.start(Lane::Editing, Stage::Lettering, about, move |_| {
            let made = names_in(list.as_bytes()).map_err(|error| error.to_string()).and_then(|names| {
                let (words, spot) = usual_words(&job);
                let edit = names_edit(&job, &names, &words, &spot).map_err(|error| error.to_string())?;
                Ok((names.len(), Box::new(edit)))
            });
            Some(Done::Board(BoardDone::Named(job, made)))
        });
    }

    /// Proofs every board of the rack.
    pub(crate) fn rack(&mut self, proofed: &Proofed, boards: Vec<RackBoard>, shop: Shop) {
        let now = proofed.tried();
        let about = now.job.design().name.clone();
        self.start(Lane::Racking, Stage::Racking, about, move |progress| {
            let answer = match rack(&now.job, &now.measured, &boards, &shop) {
                Ok(rows) => {
                    let offers = on_boards(&now, &rows, &shop, progress.unwanted())?;
                    Ok(RackAnswer { rows, offers })
                }
                Err(unusable) => Err(unusable),
            };
            Some(Done::Board(BoardDone::Racked(now.job.clone(), answer)))
        });
    }

    /// Traces a picture again.
    pub(crate) fn trace(
        &mut self,
        pictured: Pictured,
        before: Arc<Design>,
        wanted: Settings,
        is_resized: bool,
    ) {
        let about = pictured.name.clone();
        self.start(Lane::Tracing, Stage::Tracing(Step::Preparing), about, move |progress| {
            let traced = pictured.traced_by(&wanted, progress);
            Some(Done::Traced(Box::new(Retraced { before, is_resized, traced })))
        });
    }

    /// Opens a photograph.
    pub(crate) fn photograph(&mut self, path: PathBuf) {
        let about = name_of(&path);
        self.start(Lane::Photographing, Stage::Photographing, about, move |_| {
            let mut noticed = Notices::new();
            let read = whole_file::read(&path, MOST_PICTURE_BYTES).map_err(PhotoError::NotRead);
            Some(Done::Board(match read.and_then(|bytes| Photo::read(&bytes, &mut noticed)) {
                Ok(photo) => {
                    let image = photo_image(&photo, SHOWN_SIDE);
                    let file = path.display().to_string();
                    BoardDone::Photographed(file, Arc::new(photo), Box::new(image), noticed)
                }
                Err(error) => {
                    BoardDone::NotPhotographed(said::not_opened(&path.display().to_string(), &error))
                }
            }))
        });
    }
}
