//! Edits of the job: every one goes through here, and each is a step that can be taken back.

use crate::app::App;
use crate::app::documents::drawing::Drawing;
use crate::app::elements::edited::Edited;
use crate::job::{Change, Edit, History, Job, Reach, Redesign, Rejected};
use crate::words::edits::rejection;
use crate::words::window::handle as said;
use std::sync::Arc;

impl App {
    /// Applies an edit to the shown job, in one step that can be taken back; whether it changed anything.
    /// Those of a drag, or of a hand that types, are one step until the hand is still.
    pub(crate) fn edit(&mut self, edit: Edit) -> bool {
        let replaces_what_is_typed = !is_one_setting(&edit);
        let is_dragged = matches!(edit, Edit::Size(_) | Edit::Remark(_) | Edit::Count { .. });
        let changed = self.change(|now| if is_dragged { now.drag(edit) } else { now.apply(edit) });
        if changed && replaces_what_is_typed {
            self.views.drafts.clear();
        }
        changed
    }

    /// Applies an edit of a drag that goes on.
    pub(crate) fn drag(&mut self, edit: Edit) {
        if self.change(|now| now.drag(edit)) {
            self.views.drafts.clear();
        }
    }

    /// Changes the shown job; whether anything changed. What is rejected is said.
    pub(crate) fn change(&mut self, change: impl FnOnce(&mut History) -> Result<Change, Rejected>) -> bool {
        let Some(shown) = self.shelf.shown_mut() else { return false };
        let wood_before = shown.job().wood().id.clone();
        match change(&mut shown.history) {
            Ok(change) => {
                // Whatever brought it: a choice of one's own, an offer, or a board of the rack.
                let wood = &shown.job().wood().id;
                if *wood != wood_before {
                    self.preferences.lately.carved(wood);
                }
                change.reach > Reach::Nothing
            }
            Err(rejected) => {
                self.warn(rejection(&rejected));
                false
            }
        }
    }

    /// The job becomes the one of the last good proof: what was asked since cannot be had.
    pub(crate) fn return_to_proofed(&mut self) {
        if let Some(shown) = self.shelf.shown_mut() {
            shown.return_to_proofed();
        }
    }

    /// Starts an edit of the design, where there is something to edit.
    pub(crate) fn redesign(&mut self, redesign: Redesign) {
        let Some(job) = self.shelf.shown().map(|shown| shown.job().clone()) else { return };
        let needed = redesign.too_few();
        if needed > 0 {
            self.say(rejection(&Rejected::TooFew { needed }));
            return;
        }
        self.workers.redesign(job, redesign);
    }

    /// Takes in a changed design, unless the job was changed under it.
    pub(crate) fn take_edited(&mut self, edited: Edited) {
        let Edited { before, after, kind, change } = edited;
        let Some(shown) = self.shelf.shown_mut() else { return };
        if !shown.is_still(&before) {
            self.say(said::JOB_CHANGED_IN_THE_MEANTIME);
            return;
        }
        let (Some(change), false) = (change, before == after) else {
            self.say(said::NOTHING_CHANGED);
            return;
        };
        let after = with_remark_of(shown.job(), after);
        let unfollowed = shown.files.drawing_of(before.design()).map(Drawing::file_name);
        shown.history.take(after.clone(), kind);
        if !change.chosen.is_empty() {
            self.views.elements.chosen = change.chosen;
        }
        self.views.elements.list.scroll_to = self.views.elements.chosen_in(after.design()).last().copied();
        self.views.drafts.clear();
        self.say(said::edited(&change.done, &change.covered, unfollowed.as_deref()));
    }
}

/// A job that was worked out while its remark may have been typed on.
pub(crate) fn with_remark_of(now: &Job, after: Arc<Job>) -> Arc<Job> {
    let remark = Edit::Remark(now.remark().to_owned());
    after.with([remark]).map_or(after, Arc::new)
}

/// Whether an edit sets one thing that has a field or a list of its own, so that what is being typed in other
/// fields stays.
fn is_one_setting(edit: &Edit) -> bool {
    !matches!(
        edit,
        Edit::BoardSize(_)
            | Edit::Board(_)
            | Edit::AddBlemish(_)
            | Edit::ChangeBlemish(..)
            | Edit::RemoveBlemish(_)
            | Edit::Photo(_)
            | Edit::TurnByQuarter
            | Edit::Nudge(_)
            | Edit::Redesign(_)
            | Edit::Redraw { .. }
            | Edit::Several(..)
    )
}
