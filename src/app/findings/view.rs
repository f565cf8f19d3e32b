//! What is seen of the findings.

use crate::app::findings::seasons::Seasons;

/// The axis of the size strip. It stays while the handle is held and afterwards, so that the handle does not run away
/// from under the pointer.
#[derive(Clone, Copy, Default)]
pub(crate) struct StripAxis {
    /// Its far end, in millimetres of finished length; 0 before it was drawn.
    pub(crate) end: f64,
    /// Whether the handle is held.
    pub(crate) is_held: bool,
}

impl StripAxis {
    /// The end to draw to, where `natural` is what would be chosen anew. Another is chosen where the size or the board
    /// no longer show on this one, or shrink into a corner of it.
    pub(crate) fn end(self, now: f64, largest: f64, natural: f64) -> f64 {
        let shows_all = now <= self.end && largest <= 1.02 * self.end;
        let is_kept = self.is_held || (shows_all && natural >= 0.4 * self.end);
        if is_kept && self.end > 0.0 { self.end } else { natural }
    }
}

/// What is seen of the findings, and of the windows that explain them.
#[derive(Default)]
pub(crate) struct FindingsView {
    /// The chosen finding was just gone to.
    pub(crate) scroll_to_chosen: bool,
    /// The element whose findings alone are listed.
    pub(crate) element: Option<String>,
    /// The axis of the size strip.
    pub(crate) strip: StripAxis,
    /// In a narrow window, whether they stand beside the board, and not the cards.
    pub(crate) aside: bool,
    pub(crate) why_open: bool,
    pub(crate) seasons: Seasons,
}
