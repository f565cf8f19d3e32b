//! What every panel may look at and none may change.

use crate::app::work::proofed::Proofed;
use crate::job::Job;
use crate::shop::Shop;
use crate::units::LengthUnit;
use egui::Pos2;

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
    /// The id of the chosen finding.
    pub(crate) chosen: Option<&'a str>,
    /// Nothing moves by itself.
    pub(crate) still: bool,
    /// Where a small window opens: over the board, with the cards and the findings in sight.
    pub(crate) beside: Pos2,
}
