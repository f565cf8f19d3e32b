//! Edits of the job: every one goes through here, and each is a step that can be taken back.

use crate::app::App;
use crate::app::documents::drawing::of_design;
use crate::app::elements::edited::Edited;
use crate::design::Design;
use crate::job::{Change, Edit, EditKind, History, Job, Reach, Redesign, Rejected};
use crate::words::edits::{elements_covered, elements_done, not_followed};
use crate::words::window::handle as said;
use std::sync::Arc;

impl App {
    /// Applies an edit to the shown job, in one step that can be taken back; whether it changed anything.
    /// Those of a drag, or of a hand that types, are one step until the hand is still.
    pub(crate) fn edit(&mut self, edit: Edit) -> bool {
        let replaces_what_is_typed = !is_one_setting(&edit);
        let is_dragged = matches!(edit, Edit::Size(_) | Edit::Remark(_));
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
        match self.now.as_mut().map(change) {
            None => false,
            Some(Ok(change)) => change.reach > Reach::Nothing,
            Some(Err(rejected)) => {
                self.warn(rejected.to_string());
                false
            }
        }
    }

    /// The job becomes the one that is shown again: what was asked since is not to be had.
    pub(crate) fn return_to_shown(&mut self) {
        if let (Some(now), Some(shown)) = (&mut self.now, &self.shown)
            && !Arc::ptr_eq(now.job(), &shown.job)
        {
            now.give_up(shown.job.clone());
        }
    }

    /// Starts an edit of the design, where there is something to edit.
    pub(crate) fn redesign(&mut self, redesign: Redesign) {
        let Some(now) = &self.now else { return };
        let needed = redesign.too_few();
        if needed > 0 {
            self.say(Rejected::TooFew { needed }.to_string());
            return;
        }
        self.workers.redesign(now.job().clone(), redesign);
    }

    /// Takes in a changed design, unless the job was changed under it.
    pub(crate) fn take_edited(&mut self, edited: Edited) {
        let Edited { before, after, kind, change } = edited;
        let Some(now) = &self.now else { return };
        if !Reach::between(&before, now.job()).is_only_noted() {
            self.say(said::THE_JOB_CHANGED_IN_THE_MEANTIME_SO);
            return;
        }
        let (Some(change), false) = (change, before == after) else {
            self.say(said::NOTHING_CHANGED);
            return;
        };
        let after = with_remark_of(now.job(), after);
        if !change.chosen.is_empty() {
            self.views.elements.chosen = change.chosen;
        }
        let mut said = elements_done(&change.done);
        if !change.covered.is_empty() {
            said = format!("{said}; {}", elements_covered(&change.covered));
        }
        let unfollowed = self.unfollowed(before.design());
        self.views.elements.list.scroll_to = self.views.elements.chosen_in(after.design()).last().copied();
        self.replace_job(after, kind);
        self.say(said + &unfollowed);
    }

    /// What to add where a design's file was followed until it was changed here; told once, since what comes
    /// after it is not followed.
    pub(crate) fn unfollowed(&self, before: &Arc<Design>) -> String {
        let Some(drawing) = self.documents.drawing_of(before) else { return String::new() };
        let file = drawing.path.file_name().unwrap_or(drawing.path.as_os_str()).to_string_lossy();
        format!("; {}", not_followed(&file))
    }

    /// The job becomes another of the same drawing, in one step that can be taken back.
    pub(crate) fn replace_job(&mut self, job: Arc<Job>, kind: EditKind) {
        let Some(now) = &mut self.now else { return };
        // It is still the same drawing: it is saved where it was saved before.
        if let Some(path) = of_design(&self.saved_at, now.job().design()).cloned() {
            self.saved_at.push((job.design().clone(), path));
        }
        now.take(job, kind);
        self.views.drafts.clear();
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
