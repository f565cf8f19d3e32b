//! What every panel may look at and none may change.

use crate::app::work::proofed::Proofed;
use crate::geometry::Rect;
use crate::job::Job;
use crate::proof::Finding;
use crate::proof::fit::board_from_design;
use crate::shop::Shop;
use crate::units::{LengthUnit, Mm};
use egui::Pos2;
use glam::{DAffine2, DVec2};

/// The job and what is known of it, as they are in one frame.
#[derive(Clone, Copy)]
pub(crate) struct Scene<'a> {
    /// The job as the user has set it.
    pub(crate) job: &'a Job,
    /// What is looked at: the last good proof, or that of a mended outline or of an offer.
    pub(crate) shown: &'a Proofed,
    /// Whether it is a mended outline or an offer, which the job does not have yet.
    pub(crate) is_preview: bool,
    /// Whether that is of the job as it is now.
    pub(crate) is_current: bool,
    pub(crate) shop: &'a Shop,
    pub(crate) unit: LengthUnit,
    /// The ids of the woods used lately, the last first.
    pub(crate) woods_lately: &'a [String],
    /// The id of the chosen finding.
    pub(crate) chosen: Option<&'a str>,
    /// Nothing moves by itself.
    pub(crate) still: bool,
    /// Where a small window opens: over the board, with the cards and the findings in sight.
    pub(crate) beside: Pos2,
}

impl Scene<'_> {
    /// The job that lies on the board: with the outline that is looked at, at the size that is set.
    fn lying(&self) -> &Job {
        if self.is_preview { &self.shown.job } else { self.job }
    }

    /// From design to board as the job is set now. Ahead of what is known while a proof is on its way, so that the
    /// outline follows the hand.
    pub(crate) fn board_from_design(&self) -> DAffine2 {
        let job = self.lying();
        board_from_design(job, job.factor())
    }

    /// Where on the board findings lie now; one of the board itself where it was found.
    pub(crate) fn spots(&self) -> impl Fn(&Finding) -> DVec2 + use<> {
        let now_from_found = self.board_from_design() * self.shown.proof.board_from_design.inverse();
        move |finding| {
            if finding.axis().is_empty() { finding.at } else { now_from_found.transform_point2(finding.at) }
        }
    }

    /// The box on the board of a box of the design, as it is set now.
    pub(crate) fn on_board(&self, what: Rect) -> Rect {
        let board_from_design = self.board_from_design();
        Rect::around(what.corners().map(|corner| board_from_design.transform_point2(corner))).unwrap_or(what)
    }

    /// The scale that is set now.
    pub(crate) fn factor(&self) -> f64 {
        self.lying().factor()
    }

    /// Finished length and width as they are set now.
    pub(crate) fn size(&self) -> [Mm; 2] {
        let job = self.lying();
        (job.frame_on_board() * job.factor()).to_array().map(Mm::new)
    }
}
