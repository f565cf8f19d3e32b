//! What survives a crash: changed jobs are kept in a folder of the program's own, each in a file that is
//! replaced whole, and found there at the next start.
//!
//! Each running window holds a place in the folder, by a lock that the system lets go of when the
//! program ends, however it ends. What lies in a place that nobody holds was left by a crash.

use super::Job;
use super::saved::{self, Damage, MOST_BYTES, OpenError};
use crate::whole_file::{self, Existing, WriteError};
use serde::{Deserialize, Serialize};
use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

/// Places in a folder: more windows than this are not open at once.
const PLACES: usize = 64;

/// A place for changed jobs in the recovery folder, held until it is dropped.
#[derive(Debug)]
pub struct Recovery {
    folder: PathBuf,
    /// Our own place, and those of crashed windows that we look after. Closing the files lets go of them.
    places: Vec<(usize, File)>,
    next: usize,
}

/// A job that a crash left behind.
#[derive(Debug)]
pub struct Left {
    /// Where it is kept until it is [forgotten](Kept::forget).
    pub kept: Kept,
    /// The job, or why it cannot be read.
    pub job: Result<Job, OpenError>,
    /// Where the job was saved or opened before it was changed.
    pub saved_at: Option<PathBuf>,
}

/// Where one job is kept.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Kept(PathBuf);

/// The file of a kept job.
#[derive(Serialize, Deserialize)]
struct KeptJob {
    format: String,
    version: u32,
    saved_at: Option<PathBuf>,
    job: String,
}

const FORMAT: &str = "spelk.recovery";
const VERSION: u32 = 1;

/// Where changed jobs are kept against a crash, by the platform's convention; `None` where there is no home.
pub fn usual_folder() -> Option<PathBuf> {
    let folders = directories::ProjectDirs::from("", "", "spelk")?;
    Some(folders.state_dir().unwrap_or_else(|| folders.data_local_dir()).join("recovery"))
}

impl Recovery {
    /// Takes a place in `folder`, which is made if need be, and tells what crashed windows left there,
    /// oldest file name first.
    ///
    /// # Errors
    ///
    /// Where the folder cannot be read or written.
    pub fn start(folder: &Path) -> io::Result<(Recovery, Vec<Left>)> {
        fs::create_dir_all(folder)?;
        let mut places = Vec::new();
        for place in 0..PLACES {
            let path = folder.join(format!("{place}.lock"));
            // Beyond our own, only places that somebody used are looked into.
            if !places.is_empty() && !path.exists() {
                continue;
            }
            let lock = File::options().create(true).truncate(false).write(true).open(&path)?;
            match lock.try_lock() {
                Ok(()) => places.push((place, lock)),
                Err(TryLockError::WouldBlock) => {}
                Err(TryLockError::Error(error)) => return Err(error),
            }
        }
        if places.is_empty() {
            return Err(io::Error::other("every place for kept jobs is taken"));
        }
        let mut left = Vec::new();
        let mut next = 0;
        let mut files: Vec<PathBuf> =
            fs::read_dir(folder)?.map(|entry| entry.map(|entry| entry.path())).collect::<Result<_, _>>()?;
        files.sort();
        for file in files {
            let Some((place, number)) = place_and_number(&file) else { continue };
            if places.iter().any(|(held, _)| *held == place) {
                next = next.max(number + 1);
                left.push(read(file));
            }
        }
        Ok((Recovery { folder: folder.to_owned(), places, next }, left))
    }

    /// A new name to keep a job under; nothing is written yet.
    pub fn name(&mut self) -> Kept {
        let (place, _) = self.places[0];
        self.next += 1;
        Kept(self.folder.join(format!("{place}-{:06}.kept", self.next - 1)))
    }
}

impl Kept {
    /// The file.
    pub fn path(&self) -> &Path {
        &self.0
    }

    /// Removes a kept job: it was saved, or is not wanted. One that is gone already is no error.
    ///
    /// # Errors
    ///
    /// Where the file cannot be removed.
    pub fn forget(&self) -> Result<(), WriteError> {
        match fs::remove_file(&self.0) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error.into()),
            _ => Ok(()),
        }
    }

    /// Writes a job, whole or not at all; may be done on another thread, while the [`Recovery`] lives.
    ///
    /// # Errors
    ///
    /// Where the file cannot be written.
    pub fn write(&self, job: &Job, saved_at: Option<&Path>) -> Result<(), WriteError> {
        let kept = KeptJob {
            format: FORMAT.to_owned(),
            version: VERSION,
            saved_at: saved_at.map(Path::to_owned),
            job: saved::to_text(job),
        };
        let bytes = serde_json::to_vec(&kept).map_err(io::Error::from)?;
        whole_file::write(&self.0, &bytes, Existing::Replace)
    }
}

/// `3-000012.kept` is the twelfth job of place 3.
fn place_and_number(file: &Path) -> Option<(usize, usize)> {
    let name = file.file_name()?.to_str()?.strip_suffix(".kept")?;
    let (place, number) = name.split_once('-')?;
    Some((place.parse().ok()?, number.parse().ok()?))
}

fn read(file: PathBuf) -> Left {
    let read = || {
        let bytes = whole_file::read(&file, MOST_BYTES).map_err(OpenError::Unreadable)?;
        let kept: KeptJob =
            serde_json::from_slice(&bytes).map_err(|error| OpenError::Damaged(Damage::Text(error)))?;
        if kept.format != FORMAT {
            return Err(OpenError::NotAJob);
        }
        if kept.version != VERSION {
            return Err(OpenError::UnknownVersion { found: u64::from(kept.version) });
        }
        Ok((kept.saved_at, saved::from_text(kept.job.as_bytes())))
    };
    let (saved_at, job) = match read() {
        Ok((saved_at, job)) => (saved_at, job),
        Err(error) => (None, Err(error)),
    };
    Left { kept: Kept(file), job, saved_at }
}
