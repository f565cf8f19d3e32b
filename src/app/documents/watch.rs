//! Following the drawing on disk: a thread looks once a second whether it was written again.
//!
//! Asking the disk for one file's time costs next to nothing, works on every disk there is (shares and
//! sticks too), and sees a file that an editor replaces by renaming another over it.

use crate::app::documents::drawing::{Drawing, Stamp};
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex, Weak};
use std::time::Duration;

/// How often the disk is asked.
const EVERY: Duration = Duration::from_secs(1);

/// The file that is followed, and its stamp when it was read.
type Followed = Mutex<Option<(PathBuf, Stamp)>>;

/// Follows one drawing at a time.
pub(crate) struct Watch {
    ctx: egui::Context,
    followed: Arc<Followed>,
    sender: Sender<PathBuf>,
    changed: Receiver<PathBuf>,
    runs: bool,
}

impl Watch {
    pub(crate) fn new(ctx: egui::Context) -> Watch {
        let (sender, changed) = channel();
        Watch { ctx, followed: Arc::new(Mutex::new(None)), sender, changed, runs: false }
    }

    /// Follows this drawing from now on, or none.
    pub(crate) fn follow(&mut self, drawing: Option<Drawing>) {
        let wanted = drawing.and_then(|drawing| Some((drawing.path, drawing.stamp?)));
        if wanted.is_some() && !self.runs {
            self.runs = true;
            let (followed, sender, ctx) =
                (Arc::downgrade(&self.followed), self.sender.clone(), self.ctx.clone());
            let thread = std::thread::Builder::new().name("drawing on disk".to_owned());
            // Without a thread the drawing is read again when it is asked for, by hand.
            drop(thread.spawn(move || look(&followed, &sender, &ctx)));
        }
        if let Ok(mut followed) = self.followed.lock()
            && *followed != wanted
        {
            *followed = wanted;
        }
    }

    /// Whether the followed drawing was written since it was read. True once a change.
    pub(crate) fn has_changed(&self) -> bool {
        let Ok(followed) = self.followed.lock() else { return false };
        let now = followed.as_ref().map(|(path, _)| path);
        self.changed.try_iter().filter(|path| Some(path) == now).count() > 0
    }
}

fn look(followed: &Weak<Followed>, sender: &Sender<PathBuf>, ctx: &egui::Context) {
    // A stamp is told once, and only when it stood for a whole round: a program may still be writing.
    let (mut seen, mut told) = (None, None);
    loop {
        std::thread::sleep(EVERY);
        let Some(followed) = followed.upgrade() else { return };
        let Some((path, stamp)) = followed.lock().ok().and_then(|followed| followed.clone()) else {
            continue;
        };
        let now = Stamp::of(&path).map(|stamp| (path, stamp));
        let is_new = now.as_ref().is_some_and(|(_, now)| *now != stamp);
        if is_new && now == seen && now != told {
            told.clone_from(&now);
            if let Some((path, _)) = now.clone() {
                if sender.send(path).is_err() {
                    return;
                }
                ctx.request_repaint();
            }
        }
        seen = now;
    }
}
