//! What is seen, and what is being typed; nothing of it is saved with the job.

use crate::app::board::view::BoardView;
use crate::app::commands::list::CommandList;
use crate::app::compare::CompareView;
use crate::app::documents::path_field::TypedPath;
use crate::app::documents::shelf::Closing;
use crate::app::elements::view::ElementsView;
use crate::app::findings::view::FindingsView;
use crate::app::folder::FolderView;
use crate::app::guide::GuideView;
use crate::app::lesson::Tour;
use crate::app::record::view::RecordView;
use crate::app::relief::view::ReliefView;
use crate::app::shop::dialogs::ShopDialogs;
use crate::app::sizes::SizesView;
use crate::app::sizes::prices::PriceDialog;
use crate::app::tracing::TracingView;
use crate::app::widgets::length_field::Drafts;
use crate::job::Job;
use std::sync::Arc;

/// What is seen in each room.
pub(crate) struct Views {
    pub(crate) board: BoardView,
    /// The carved surface.
    pub(crate) relief: ReliefView,
    /// The design at several sizes.
    pub(crate) sizes: SizesView,
    pub(crate) elements: ElementsView,
    pub(crate) findings: FindingsView,
    pub(crate) guide: GuideView,
    /// The picture that is traced.
    pub(crate) tracing: TracingView,
    /// What became of the walls of a carve.
    pub(crate) record: RecordView,
    /// The id of the chosen finding; it outlives a change of size.
    pub(crate) chosen: Option<String>,
    /// The job that a drag has come to, and since when, in seconds.
    pub(crate) calm_since: Option<(Arc<Job>, f64)>,
    pub(crate) drafts: Drafts,
    /// The lesson's tour, while it goes on.
    pub(crate) tour: Option<Tour>,
    pub(crate) full_screen: bool,
}

/// The dialogs and small windows that are open; each has its own state, which goes with it.
#[derive(Default)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each says whether one window is open, and any of them may be"
)]
pub(crate) struct Dialogs {
    pub(crate) shop: ShopDialogs,
    pub(crate) prices: Option<PriceDialog>,
    /// The versions of the job side by side.
    pub(crate) compare: CompareView,
    /// A folder of drawings as a table.
    pub(crate) folder: FolderView,
    /// A path being typed, and what for.
    pub(crate) typed_path: Option<TypedPath>,
    /// What was to be closed while something is not saved.
    pub(crate) closing: Option<Closing>,
    pub(crate) command_list: Option<CommandList>,
    pub(crate) messages_open: bool,
    pub(crate) about_open: bool,
    pub(crate) cautions_open: bool,
    pub(crate) help_open: bool,
}
