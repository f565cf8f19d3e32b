//! Asking for a file. The desktop's own dialog runs on a thread of its own; tests bring a script.

use crate::app::commands::board::BoardCommand;
use crate::app::commands::command::Command;
use crate::app::commands::export::Export;
use crate::app::commands::folder::FolderCommand;
use crate::file_name::portable;
use crate::job::saved::OPENED;
use crate::whole_file::ending;
use crate::words::window::{documents as said, folder};
use std::path::{Path, PathBuf};
use std::pin::Pin;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

/// The endings of files that are opened: drawings, saved jobs, and pictures to be traced.
const OPENED_HERE: [&str; 10] = ["svg", "svgz", "dxf", "spelk", "png", "jpg", "jpeg", "webp", "tif", "tiff"];

/// The endings of files that hold a picture to be traced.
const TRACED: [&str; 8] = ["png", "jpg", "jpeg", "webp", "tif", "tiff", "svg", "svgz"];

/// Whether a file is a picture and no drawing, by its ending.
pub(crate) fn is_picture(path: &Path) -> bool {
    let ending = ending(path);
    TRACED.contains(&ending.as_str()) && !OPENED.contains(&ending.as_str())
}

/// What the path is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    /// A file to open.
    Open,
    /// A picture to trace.
    Picture,
    /// A file to save to.
    Save,
    /// A drawing to write the outline to.
    Outline,
    /// A drawing to write the coupon's outline to.
    CouponOutline,
    /// A drawing to write the coupon's key to.
    CouponKey,
    /// A drawing to write a carrier to.
    Carrier,
    /// A photograph of the board to open.
    Photo,
    /// A list of names to open.
    Names,
    /// A sheet of paper or a file to write.
    Export(Export),
    /// A picture of the shop's mark to open.
    Mark,
    /// A folder of drawings to proof.
    Folder,
    /// A table of such a folder to write.
    FolderTable,
}

impl Asked {
    /// What the question is about.
    pub(crate) fn title(self) -> &'static str {
        match self {
            Asked::Open => said::OPEN_A_FILE,
            Asked::Picture => said::OPEN_A_PICTURE_TO_TRACE,
            Asked::Save => said::SAVE_THE_JOB,
            Asked::Outline => said::EXPORT_THE_OUTLINE,
            Asked::CouponOutline => said::EXPORT_THE_COUPONS_OUTLINE,
            Asked::CouponKey => said::EXPORT_THE_COUPONS_KEY,
            Asked::Carrier => said::EXPORT_A_DRAWING_OF_THE_CARRIER,
            Asked::Photo => said::OPEN_A_PHOTOGRAPH_OF_THE_BOARD,
            Asked::Names => said::OPEN_A_LIST_OF_NAMES,
            Asked::Export(what) => what.caption().title(),
            Asked::Mark => said::OPEN_A_PICTURE_OF_THE_SHOPS_MARK,
            Asked::Folder => folder::OPEN_A_FOLDER,
            Asked::FolderTable => folder::SAVE_THE_TABLE,
        }
    }

    /// Whether it is a file or a folder to read.
    pub(crate) fn opens(self) -> bool {
        matches!(
            self,
            Asked::Open | Asked::Picture | Asked::Photo | Asked::Mark | Asked::Names | Asked::Folder
        )
    }

    /// The endings of the files it is about, in small letters.
    pub(crate) fn endings(self) -> &'static [&'static str] {
        match self {
            Asked::Open => &OPENED_HERE,
            Asked::Picture => &TRACED,
            Asked::Save => &["spelk"],
            Asked::Outline | Asked::CouponOutline | Asked::CouponKey | Asked::Carrier => &["svg"],
            Asked::Photo | Asked::Mark => &["jpg", "jpeg", "png"],
            Asked::Names => &["csv", "txt"],
            Asked::Folder => &[],
            Asked::FolderTable => &["pdf"],
            Asked::Export(what) => what.endings(),
        }
    }

    /// The name to begin with, nothing for a file to read; `None` where it is of a design and there is none.
    /// Every system takes the name, whatever the design is called.
    pub(crate) fn suggested_name(self, design: Option<&str>) -> Option<String> {
        let name = match self {
            Asked::Save => format!("{}.spelk", design?),
            Asked::Outline => format!("{}-outline.svg", design?),
            Asked::Export(what) => what.file_name(design?),
            Asked::CouponOutline => "coupon.svg".to_owned(),
            Asked::CouponKey => "coupon-key.svg".to_owned(),
            Asked::Carrier => "carrier.svg".to_owned(),
            Asked::FolderTable => "drawings.pdf".to_owned(),
            Asked::Open | Asked::Picture | Asked::Photo | Asked::Mark | Asked::Names | Asked::Folder => {
                return Some(String::new());
            }
        };
        Some(portable(&name))
    }

    /// What is done with the file.
    pub(crate) fn command(self, path: PathBuf) -> Command {
        match self {
            Asked::Open => Command::Open(path),
            Asked::Picture => Command::OpenPicture(path),
            Asked::Save => Command::SaveTo(path),
            Asked::Outline => Command::ExportOutline(path),
            Asked::CouponOutline => Command::ExportCoupon(path),
            Asked::CouponKey => Command::ExportCouponKey(path),
            Asked::Carrier => BoardCommand::ExportCarrier(path).into(),
            Asked::Photo => BoardCommand::OpenPhoto(path).into(),
            Asked::Names => BoardCommand::OpenNames(path).into(),
            Asked::Export(what) => Command::Export(what, path),
            Asked::Mark => Command::UseMark(Some(path)),
            Asked::Folder => FolderCommand::Proof(path).into(),
            Asked::FolderTable => FolderCommand::WriteTable(path).into(),
        }
    }
}

/// What came of asking.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answer {
    /// This file.
    Path(Asked, PathBuf),
    /// The person changed their mind.
    Nothing,
    /// This desktop has no dialog to show: let the path be typed.
    NoDialog(Asked),
}

/// What the desktop does with files for a person: it asks for one, and shows one.
pub trait FileDialogs {
    /// Starts asking, with a name and a folder to begin with as far as they are known. An older question
    /// that is still open is forgotten.
    fn ask(&mut self, asked: Asked, suggested: &Path, ctx: &egui::Context);

    /// The answer, once it is there; asked once a frame. Never waits.
    fn poll(&mut self, ctx: &egui::Context) -> Option<Answer>;

    /// Opens a file in the program that the desktop has for its kind, to be looked at or printed. Does not wait for
    /// it.
    ///
    /// # Errors
    ///
    /// Where there is no such program, or no such file.
    fn show(&mut self, file: &Path) -> std::io::Result<()>;
}

/// The desktop's own dialogs.
#[derive(Default)]
pub struct DesktopDialogs {
    pending: Option<Pending>,
}

/// What a person will have chosen.
type Answered = Pin<Box<dyn Future<Output = Option<rfd::FileHandle>> + Send>>;

struct Pending {
    asked: Asked,
    answer: Receiver<Option<PathBuf>>,
    /// Whether our window lost the keyboard meanwhile. A dialog that is shown takes it; where none is, the
    /// desktop answers "cancelled" all the same, and nobody was asked.
    was_shown: bool,
}

impl FileDialogs for DesktopDialogs {
    fn ask(&mut self, asked: Asked, suggested: &Path, ctx: &egui::Context) {
        let (sender, answer) = channel();
        let name = suggested.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        let mut dialog = match asked {
            Asked::Open => rfd::AsyncFileDialog::new()
                .add_filter("Drawings and jobs", asked.endings())
                .add_filter("Any file", &["*"])
                .set_title(said::OPEN_A_DRAWING_OR_A_JOB),
            Asked::Save => rfd::AsyncFileDialog::new()
                .add_filter("Spelk jobs", asked.endings())
                .set_file_name(name)
                .set_title(said::SAVE_THE_JOB),
            Asked::Export(what) => rfd::AsyncFileDialog::new()
                .add_filter(what.kind(), asked.endings())
                .set_file_name(name)
                .set_title(asked.title()),
            Asked::Names => {
                rfd::AsyncFileDialog::new().add_filter("Tables", asked.endings()).set_title(asked.title())
            }
            Asked::Folder => rfd::AsyncFileDialog::new().set_title(asked.title()),
            Asked::FolderTable => rfd::AsyncFileDialog::new()
                .add_filter("PDF", asked.endings())
                .set_file_name(name)
                .set_title(asked.title()),
            Asked::Picture | Asked::Photo | Asked::Mark => {
                rfd::AsyncFileDialog::new().add_filter("Pictures", asked.endings()).set_title(asked.title())
            }
            Asked::Outline | Asked::CouponOutline | Asked::CouponKey | Asked::Carrier => {
                rfd::AsyncFileDialog::new()
                    .add_filter("SVG drawings", asked.endings())
                    .set_file_name(name)
                    .set_title(asked.title())
            }
        };
        if let Some(folder) = suggested.parent().filter(|folder| folder.is_absolute()) {
            dialog = dialog.set_directory(folder);
        }
        // Asked on this thread, which is the window's own: macOS shows no dialog from another.
        let answered: Answered = match asked {
            Asked::Folder => Box::pin(dialog.pick_folder()),
            _ if asked.opens() => Box::pin(dialog.pick_file()),
            _ => Box::pin(dialog.save_file()),
        };
        let ctx = ctx.clone();
        let started = std::thread::Builder::new().name("file dialog".to_owned()).spawn(move || {
            let path = wait_for(answered).map(|file| file.path().to_owned());
            // A question that was forgotten has nobody to answer to.
            if sender.send(path).is_ok() {
                ctx.request_repaint();
            }
        });
        // Without a thread the sender is gone, and `poll` answers that there is no dialog.
        drop(started);
        self.pending = Some(Pending { asked, answer, was_shown: false });
    }

    fn poll(&mut self, ctx: &egui::Context) -> Option<Answer> {
        let pending = self.pending.as_mut()?;
        pending.was_shown |= !ctx.input(|input| input.focused);
        let answer = match pending.answer.try_recv() {
            Err(TryRecvError::Empty) => return None,
            Ok(Some(path)) => Answer::Path(pending.asked, path),
            Ok(None) if pending.was_shown => Answer::Nothing,
            Ok(None) | Err(TryRecvError::Disconnected) => Answer::NoDialog(pending.asked),
        };
        self.pending = None;
        Some(answer)
    }

    fn show(&mut self, file: &Path) -> std::io::Result<()> {
        // What starts with a dash would be read as an option.
        let file = std::path::absolute(file)?;
        std::fs::metadata(&file)?;
        // What the launcher says of itself helps nobody who carves.
        open::that_detached(file).map_err(|_of_launcher| std::io::Error::other(said::NO_PROGRAM_FOR_IT))
    }
}

/// Runs a future to its end on this thread.
fn wait_for<T>(future: impl Future<Output = T>) -> T {
    struct Unpark(std::thread::Thread);
    impl std::task::Wake for Unpark {
        fn wake(self: std::sync::Arc<Self>) {
            self.0.unpark();
        }
    }
    let waker = std::sync::Arc::new(Unpark(std::thread::current())).into();
    let mut context = std::task::Context::from_waker(&waker);
    let mut future = std::pin::pin!(future);
    loop {
        if let std::task::Poll::Ready(value) = future.as_mut().poll(&mut context) {
            return value;
        }
        std::thread::park();
    }
}

/// Answers from a list, for tests: what a person would have chosen, in order.
#[derive(Default)]
pub struct ScriptedDialogs {
    /// The answers still to give; `None` for a person who changes their mind.
    pub answers: std::collections::VecDeque<Option<PathBuf>>,
    pending: Option<Answer>,
}

impl ScriptedDialogs {
    /// Dialogs that give these answers in order, and then say that there is no dialog.
    pub fn new(answers: impl IntoIterator<Item = Option<PathBuf>>) -> ScriptedDialogs {
        ScriptedDialogs { answers: answers.into_iter().collect(), pending: None }
    }
}

impl FileDialogs for ScriptedDialogs {
    fn ask(&mut self, asked: Asked, _: &Path, ctx: &egui::Context) {
        self.pending = Some(match self.answers.pop_front() {
            Some(Some(path)) => Answer::Path(asked, path),
            Some(None) => Answer::Nothing,
            None => Answer::NoDialog(asked),
        });
        ctx.request_repaint();
    }

    fn poll(&mut self, _: &egui::Context) -> Option<Answer> {
        self.pending.take()
    }

    fn show(&mut self, file: &Path) -> std::io::Result<()> {
        std::fs::metadata(file).map(|_| ())
    }
}
