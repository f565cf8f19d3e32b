//! Words of the window: documents.

#![expect(missing_docs, reason = "a sentence says what it says")]

pub const OPEN_A_FILE: &str = "Open a file";
pub const SAVE_THE_JOB: &str = "Save the job";
pub const EXPORT_THE_OUTLINE: &str = "Export the outline";
pub const EXPORT_THE_COUPONS_OUTLINE: &str = "Export the coupon's outline";
pub const EXPORT_THE_COUPONS_KEY: &str = "Export the coupon's key";
pub const EXPORT_A_DRAWING_OF_THE_CARRIER: &str = "Export a drawing of the carrier";
pub const OPEN_A_PHOTOGRAPH_OF_THE_BOARD: &str = "Open a photograph of the board";
pub const OPEN_A_PICTURE_OF_THE_SHOPS_MARK: &str = "Open a picture of the shop's mark";
pub const OPEN_A_DRAWING_OR_A_JOB: &str = "Open a drawing or a job";
pub const FILE_DIALOG: &str = "file dialog";
pub const OPEN_FILE: &str = "Open file";
pub const SAVE_FILE: &str = "Save file";
pub const PATH_OF_THE_FILE: &str = "Path of the file";
pub const NOT_NOW: &str = "Not now";
pub const DRAWING_ON_DISK: &str = "drawing on disk";
pub const CHANGES_THAT_WERE_NOT_SAVED: &str = "Changes that were not saved";
pub const SPELK_STOPPED_BEFORE_THESE_JOBS_WERE_SAVED: &str =
    "Spelk stopped before these jobs were saved. It recovered them, up to a few seconds before it stopped";
pub const NEVER_SAVED: &str = "never saved";
pub const RESTORE: &str = "Restore";
pub const OPEN_THE_RECOVERED_JOBS_YOUR_FILES_STAY: &str =
    "Open the recovered jobs; your files stay as they are until you save";
pub const DISCARD: &str = "Discard";
pub const DO_AWAY_WITH_THEM: &str = "Do away with them";
pub const LATER: &str = "Later";
pub const ASK_AGAIN_AT_THE_NEXT_START: &str = "Ask again at the next start";
pub const DROP_TO_OPEN: &str = "Drop to open";
pub const DROP_TO_OPEN_THEM_ONE_AFTER_ANOTHER: &str = "Drop to open them one after another";
pub const THE_OPEN_JOB_STAYS_OPEN: &str = "The open job stays open";
pub const SAVE_THE_JOB_BEFORE_CLOSING: &str = "Save the job before closing?";
pub const SAVE_JOB: &str = "Save job";
pub const CLOSE_WITHOUT_SAVING: &str = "Close without saving";
pub const STAY: &str = "Stay";
pub const A_FILE_AS_A_DRAWING_OR_A: &str = "A file, as a drawing or a saved job";
