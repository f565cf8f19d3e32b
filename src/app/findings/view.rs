//! What is seen of the findings.

use crate::app::findings::seasons::Seasons;

/// What is seen of the findings, and of the windows that explain them.
#[derive(Default)]
pub(crate) struct FindingsView {
    /// The chosen finding was just gone to.
    pub(crate) scroll_to_chosen: bool,
    /// The element whose findings alone are listed.
    pub(crate) element: Option<String>,
    /// The far end of the size strip while it is held, so that it does not run away under the pointer.
    pub(crate) strip_end: Option<f64>,
    /// In a narrow window, whether they stand beside the board, and not the cards.
    pub(crate) aside: bool,
    pub(crate) why_open: bool,
    pub(crate) seasons: Seasons,
}
