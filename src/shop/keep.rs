//! Keeping a shop's own entries in its config folder: one at a time, the others left as they are.

use super::{Cutter, Machine, Money, Prices, Problem, Shop, ShopNotice, Wood, Wrong};
use crate::whole_file::{self, Existing, ReadError, WriteError};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Map, Value};
use std::fs::File;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use thiserror::Error;

/// Why an entry was not kept. What was in the folder before is still there.
#[derive(Debug, Error)]
pub enum KeepError {
    /// The entry itself makes no sense.
    Wrong {
        /// What it is called.
        name: String,
        /// The first thing that is wrong with it.
        wrong: Wrong,
    },
    /// The file that holds the others cannot be read.
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the disk said.
        error: ReadError,
    },
    /// The file that holds the entry is not a list of entries, so that none can be taken out of it.
    Damaged {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        error: serde_json::Error,
    },
    /// The folder or the file cannot be written.
    Unwritable {
        /// The file.
        path: PathBuf,
        /// What the disk said.
        error: WriteError,
    },
}

/// A file of the shop's own that could not be used, and was given another name before a new one was begun.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Aside {
    /// The file.
    pub path: PathBuf,
    /// What it is called now.
    pub kept_as: PathBuf,
}

impl Aside {
    /// Sets a file aside.
    ///
    /// # Errors
    ///
    /// Where it cannot be renamed.
    pub(super) fn set(path: &Path) -> Result<Aside, WriteError> {
        Ok(Aside { path: path.to_owned(), kept_as: whole_file::set_aside(path)? })
    }
}

impl Shop {
    /// Keeps a cutter in `cutters.json` of a config folder, in place of the one of its id if there is
    /// one. A folder that is not there yet is made; a file that is not a list of entries is set aside.
    ///
    /// # Errors
    ///
    /// Where the entry makes no sense, or the file cannot be read or written.
    pub fn keep_cutter(folder: &Path, cutter: &Cutter) -> Result<Option<Aside>, KeepError> {
        refuse_wrong(&cutter.name, cutter.problems().first())?;
        OwnFile::cutters(folder).keep(&cutter.id, cutter)
    }

    /// Takes a cutter out of `cutters.json`; whether it was there.
    ///
    /// # Errors
    ///
    /// Where the file cannot be read or written.
    pub fn remove_cutter(folder: &Path, id: &str) -> Result<bool, KeepError> {
        OwnFile::cutters(folder).remove(id)
    }

    /// Keeps a machine in `machines.json` of a config folder, in place of the one of its id if there is
    /// one. A folder that is not there yet is made; a file that is not a list of entries is set aside.
    ///
    /// # Errors
    ///
    /// Where the entry makes no sense, or the file cannot be read or written.
    pub fn keep_machine(folder: &Path, machine: &Machine) -> Result<Option<Aside>, KeepError> {
        refuse_wrong(&machine.name, machine.problems().first())?;
        OwnFile::machines(folder).keep(&machine.id, machine)
    }

    /// Takes a machine out of `machines.json`; whether it was there.
    ///
    /// # Errors
    ///
    /// Where the file cannot be read or written.
    pub fn remove_machine(folder: &Path, id: &str) -> Result<bool, KeepError> {
        OwnFile::machines(folder).remove(id)
    }

    /// Keeps a wood in `woods.json` of a config folder, in place of the one of its id if there is one.
    /// A folder that is not there yet is made; a file that is not a list of entries is set aside.
    ///
    /// # Errors
    ///
    /// Where the entry makes no sense, or the file cannot be read or written.
    pub fn keep_wood(folder: &Path, wood: &Wood) -> Result<Option<Aside>, KeepError> {
        refuse_wrong(&wood.name, wood.problems().first())?;
        OwnFile::woods(folder).keep(&wood.id, wood)
    }

    /// Takes a wood out of `woods.json`; whether it was there.
    ///
    /// # Errors
    ///
    /// Where the file cannot be read or written.
    pub fn remove_wood(folder: &Path, id: &str) -> Result<bool, KeepError> {
        OwnFile::woods(folder).remove(id)
    }

    /// Keeps the prices in `prices.json` of a config folder. A folder that is not there yet is made; a
    /// file that does not hold prices is set aside.
    ///
    /// # Errors
    ///
    /// Where the entry makes no sense, or the file cannot be read or written.
    pub fn keep_prices(folder: &Path, prices: &Prices) -> Result<Option<Aside>, KeepError> {
        refuse_wrong("prices", prices.problems().first())?;
        let path = folder.join(PRICES);
        let _lock = locked(&path)?;
        let aside = match read_prices(&path, &prices.money) {
            Ok(_) => None,
            Err(Unread::Damaged(_)) => Some(set_aside(&path)?),
            Err(unread @ Unread::Unreadable(_)) => return Err(unread.of(&path)),
        };
        keep_json(&path, prices)?;
        Ok(aside)
    }
}

/// The largest shop file that is read: a round value of our own, far above any that is written.
pub(super) const MOST_BYTES: u64 = 16 << 20;

const PRICES: &str = "prices.json";

/// The prices kept in a folder, or the built-in examples where there are none, with money written as
/// `usual` where they do not say how; a file that cannot be used is told of and passed over.
pub(super) fn own_prices(folder: &Path, usual: &Money, notices: &mut Vec<ShopNotice>) -> Prices {
    let path = folder.join(PRICES);
    notices.push(match read_prices(&path, usual) {
        Ok(prices) => match prices.problems().first() {
            None => return prices,
            Some(problem) => ShopNotice::WrongPrices { path, wrong: problem.wrong },
        },
        Err(Unread::Damaged(error)) => ShopNotice::Damaged { path, error },
        Err(Unread::Unreadable(error)) => ShopNotice::Unreadable { path, error },
    });
    Prices { money: usual.clone(), ..Prices::default() }
}

/// Why a file was not read.
enum Unread {
    Unreadable(ReadError),
    Damaged(serde_json::Error),
}

impl Unread {
    fn of(self, path: &Path) -> KeepError {
        let path = path.to_owned();
        match self {
            Unread::Unreadable(error) => KeepError::Unreadable { path, error },
            Unread::Damaged(error) => KeepError::Damaged { path, error },
        }
    }
}

fn read_prices(path: &Path, usual: &Money) -> Result<Prices, Unread> {
    let mut kept: Map<String, Value> = read_json(path)?;
    kept.entry("money").or_insert_with(|| serde_json::to_value(usual).expect("money has string keys"));
    serde_json::from_value(Value::Object(kept)).map_err(Unread::Damaged)
}

/// What is kept in a file; what there is to begin with where there is none.
fn read_json<T: DeserializeOwned + Default>(path: &Path) -> Result<T, Unread> {
    match whole_file::read(path, MOST_BYTES) {
        Err(ReadError::Disk(error)) if error.kind() == ErrorKind::NotFound => Ok(T::default()),
        Err(error) => Err(Unread::Unreadable(error)),
        Ok(bytes) => serde_json::from_slice(&bytes).map_err(Unread::Damaged),
    }
}

fn locked(path: &Path) -> Result<File, KeepError> {
    let unwritable = |error: io::Error| KeepError::Unwritable { path: path.to_owned(), error: error.into() };
    whole_file::locked(path).map_err(unwritable)
}

fn set_aside(path: &Path) -> Result<Aside, KeepError> {
    Aside::set(path).map_err(|error| KeepError::Unwritable { path: path.to_owned(), error })
}

fn keep_json(path: &Path, value: &(impl Serialize + ?Sized)) -> Result<(), KeepError> {
    write_json(path, value).map_err(|error| KeepError::Unwritable { path: path.to_owned(), error })
}

/// Writes a file of the shop's, under a temporary name and then renamed; makes its folder where it is not there.
pub(super) fn write_json(path: &Path, value: &(impl Serialize + ?Sized)) -> Result<(), WriteError> {
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder)?;
    }
    let mut text = serde_json::to_string_pretty(value).map_err(io::Error::from)?;
    text.push('\n');
    whole_file::write(path, text.as_bytes(), Existing::Replace)
}

fn refuse_wrong<P>(name: &str, problem: Option<&Problem<P>>) -> Result<(), KeepError> {
    match problem {
        None => Ok(()),
        Some(problem) => Err(KeepError::Wrong { name: name.to_owned(), wrong: problem.wrong }),
    }
}

/// A file of own entries, and the field that tells them apart. Entries are kept as they were written:
/// this program need not understand the others to leave them alone.
struct OwnFile {
    path: PathBuf,
    id_field: &'static str,
}

impl OwnFile {
    fn cutters(folder: &Path) -> OwnFile {
        OwnFile { path: folder.join("cutters.json"), id_field: "id" }
    }

    fn machines(folder: &Path) -> OwnFile {
        OwnFile { path: folder.join("machines.json"), id_field: "id" }
    }

    fn woods(folder: &Path) -> OwnFile {
        OwnFile { path: folder.join("woods.json"), id_field: "species_id" }
    }

    fn read(&self) -> Result<Vec<Value>, Unread> {
        read_json(&self.path)
    }

    fn write(&self, entries: &[Value]) -> Result<(), KeepError> {
        keep_json(&self.path, entries)
    }

    fn is(&self, entry: &Value, id: &str) -> bool {
        entry.get(self.id_field).and_then(Value::as_str) == Some(id)
    }

    fn keep(&self, id: &str, entry: &impl Serialize) -> Result<Option<Aside>, KeepError> {
        let _lock = locked(&self.path)?;
        let (mut entries, aside) = match self.read() {
            Ok(entries) => (entries, None),
            Err(Unread::Damaged(_)) => (Vec::new(), Some(set_aside(&self.path)?)),
            Err(unread @ Unread::Unreadable(_)) => return Err(unread.of(&self.path)),
        };
        let new = serde_json::to_value(entry).expect("an entry has string keys");
        match entries.iter_mut().find(|entry| self.is(entry, id)) {
            Some(old) => *old = new,
            None => entries.push(new),
        }
        self.write(&entries)?;
        Ok(aside)
    }

    fn remove(&self, id: &str) -> Result<bool, KeepError> {
        if !self.path.exists() {
            return Ok(false);
        }
        let _lock = locked(&self.path)?;
        let mut entries = self.read().map_err(|unread| unread.of(&self.path))?;
        let before = entries.len();
        entries.retain(|entry| !self.is(entry, id));
        let removed = entries.len() < before;
        if removed {
            self.write(&entries)?;
        }
        Ok(removed)
    }
}

/// An id for an own entry that is not taken: `own-` and the name in small letters and dashes, with a
/// number where others have it.
pub fn own_id(name: &str, is_taken: impl Fn(&str) -> bool) -> String {
    let mut id = "own".to_owned();
    for word in name.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()) {
        id.push('-');
        id.push_str(&word.to_lowercase());
    }
    if !is_taken(&id) {
        return id;
    }
    (2..u32::MAX).map(|number| format!("{id}-{number}")).find(|id| !is_taken(id)).unwrap_or(id)
}
