//! What commands are called, and the sentence of their hovers.

use std::fmt;

/// What a command is called on its menu entry or button, and the sentence of its hover.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Caption {
    /// The words of the entry or button. They end with `…` where a dialog follows.
    pub label: &'static str,
    /// What it does.
    pub tip: &'static str,
}

impl Caption {
    /// The heading of the dialog that follows.
    #[must_use]
    pub fn title(self) -> &'static str {
        self.label.trim_end_matches('…')
    }
}

impl fmt::Display for Caption {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        write!(f, "{}: {}", self.label, self.tip)
    }
}

macro_rules! captions {
    ($($name:ident: $label:literal, $tip:literal;)*) => {
        $(#[expect(missing_docs, reason = "a caption says what it says")] pub const $name: Caption = Caption { label: $label, tip: $tip };)*

        #[doc = "All of them with their names, to be printed."]
        pub const ALL: &[(&str, Caption)] = &[$((stringify!($name), $name)),*];
    };
}

captions! {
    // Files and jobs.
    OPEN: "Open…", "Open a drawing or a saved job. You can also drop the file on the window";
    OPEN_PATH: "Open by path…", "Type where the file is";
    TRACE_PICTURE: "Trace a picture…", "Make a drawing of a photograph, a scan, or the picture in an SVG";
    TRACE_PICTURE_INSIDE: "Trace its picture", "Make an outline of the picture in this drawing, as a job of its own";
    TRACE_AGAIN: "Trace again", "Trace the picture by other settings";
    PROOF_FOLDER: "Proof a folder…", "Proof every drawing and saved job of a folder, as a table with pictures";
    FOLDER_TABLE: "Table as PDF…", "Save the table with its pictures, to print";
    OPEN_FILE: "Open", "Open this file beside the job that is open";
    OPEN_SAMPLE: "Open sample", "Open a design that comes with Spelk";
    RELOAD_DRAWING: "Read drawing again", "Spelk reads a changed drawing again by itself; your settings stay";
    SHOW_JOB: "Show job", "Show this job";
    NEXT_JOB: "Next job", "Show the next open job";
    PREVIOUS_JOB: "Previous job", "Show the open job before this one";
    CLOSE_JOB: "Close job", "Close this job; the others stay open";
    RESTORE: "Restore", "Open the recovered jobs; your files stay as they are until you save";
    DISCARD: "Discard", "Delete the recovered jobs";
    LATER: "Later", "Ask again at the next start";
    SAVE: "Save job", "Save the job and its drawing as one file";
    SAVE_AS: "Save job as…", "Save the job under another name";
    CLOSE_UNSAVED: "Close without saving", "Close this job and lose its changes";
    STAY: "Stay", "Keep everything open";
    QUIT: "Quit", "Close the window; Spelk asks about jobs with changes first";

    // Edit.
    UNDO: "Undo", "Take back the last change";
    REDO: "Redo", "Make the change again";
    EDIT: "Change", "Undo takes it back";

    // View.
    MILLIMETRES: "Millimetres", "Show and read lengths in millimetres";
    INCHES_DECIMAL: "Inches, decimal", "Show and read lengths in decimal inches";
    INCHES_SIXTEENTHS: "Inches, sixteenths", "Show lengths in inches, to the nearest 1/16";
    INCHES_THIRTY_SECONDS: "Inches, thirty-seconds", "Show lengths in inches, to the nearest 1/32";
    INCHES_SIXTY_FOURTHS: "Inches, sixty-fourths", "Show lengths in inches, to the nearest 1/64";
    LIGHT: "Light", "Dark words on a light ground";
    DARK: "Dark", "Light words on a dark ground";
    AS_THE_SYSTEM: "As the system", "Light or dark, as the desktop is set";
    LARGER_TEXT: "Larger text", "Draw everything larger";
    SMALLER_TEXT: "Smaller text", "Draw everything smaller";
    USUAL_TEXT: "Usual text size", "Draw everything at its usual size";
    REDUCED_MOTION: "Reduced motion", "Go to places at once, without a moving ring";
    FULL_SCREEN: "Full screen", "Fill the screen, for a projector. The same key or Escape goes back";
    NEXT_REGION: "Next region", "Take the keys to the next part of the window; Tab goes on within it";
    PREVIOUS_REGION: "Previous region", "Take the keys to the part of the window before this one";
    GRID: "Grid", "Draw lines across the board at the numbers of the rulers";
    MEASURE: "Measure", "Drag from one place to another; the middle button moves the board";
    TRUE_SIZE: "True size", "Show the board as large as it is, once you have measured the screen";
    CALIBRATE_SCREEN: "True size of this screen…", "Measure this screen with a bank card or a rule";
    BOARD: "Board", "The board from above, to scale, with its findings";
    RELIEF: "Relief", "The carved surface, a section through it, and how long the carve takes";
    SIZES: "Sizes", "The design at several sizes, on boards to a common scale, with their prices";
    LESSON: "Lesson", "Why it thins: the same wall and the same cutter at full and at chosen size";
    TRACING: "Tracing", "The picture that the outline was traced from, with the outline over it";
    WHOLE_BOARD: "Whole board", "Show the whole board";
    ZOOM_IN: "Zoom in", "Look closer";
    ZOOM_OUT: "Zoom out", "See more of the board";
    SHOW_PASSES: "Show passes", "Draw the path of each cutter over the board";

    // Findings.
    GO_TO_FINDING: "Go to finding", "Bring this finding into view";
    GO_TO_CHOSEN: "Chosen finding", "Bring the chosen finding into view";
    NEXT_FINDING: "Next finding", "Choose the next finding and bring it into view";
    PREVIOUS_FINDING: "Previous finding", "Choose the previous finding and bring it into view";
    THICKEN_WALLS: "Thicken thin walls to their limit", "See what it does to the outline before you change anything";
    THICKEN_WALL: "Thicken this wall", "Thicken this one to its limit and leave the others; you look before you apply it";
    WIDEN_GROOVE: "Widen this groove", "Widen this one for the cutter and leave the others; you look before you apply it";
    COPY_PICTURE: "Copy picture as carved", "Put a picture of the carved wood on the clipboard, without marks, for an e-mail";
    CARVED_PICTURE: "Picture as carved…", "The carved wood from above, without marks, for an e-mail";
    WIDEN_GROOVES: "Widen blocked grooves to the cutter", "See what it does to the outline before you change anything";
    SHOW_BEFORE: "Before", "Show the outline as it is";
    SHOW_AFTER: "After", "Show the mended outline";
    APPLY_MENDED: "Apply", "Give this job the mended outline; Undo takes it back";
    DROP_MENDED: "Leave as it is", "Keep the outline as it is";
    LOOK_AT_OFFER: "Look at an offer", "Show the job as it would be";
    APPLY_OFFER: "Apply an offer", "Change the job as offered; Undo takes it back";

    // Messages and help.
    CANCEL_WORK: "Cancel", "Stop this and leave the job unchanged";
    MESSAGES: "Messages", "Show earlier messages";
    CLEAR_MESSAGES: "Clear messages", "Delete all messages";
    SHOW_FILE: "Open the file", "Open it in the program that this computer has for it: to look at it, or to print it";
    FIND_COMMAND: "Find a command…", "Type a few letters of what you want to do";
    GUIDE: "Guide", "Read the guide here, and search it";
    MOUSE_AND_KEYS: "Mouse and keys", "What mouse and keys do in this view";
    START_TOUR: "Start the tour", "Eight questions on the samples: guess, then try it with the size handle";
    GUESS: "Guess", "Say what you think before you try it";
    END_TOUR: "End the tour", "Close the questions; the job stays";
    HIDE_WELCOME: "Got it", "Do not show this again";
    ABOUT: "About Spelk", "What Spelk does, and which version this is";
    CAUTIONS: "Cautions", "What to keep in mind at the machine";

    // The shop.
    CLEARING: "Clearing…", "A larger cutter first, direction, stepover, pass depth, bridges";
    WHY_THIS_LIMIT: "Why this limit", "Show the arithmetic, and where each number comes from";
    COMPARE: "Side by side…", "This job of each wood, with each cutter or at several sizes: verdict, thinnest wall, time and price, and one to take";
    SEASONS: "Seasons…", "How much the piece swells and shrinks with damp and dry air";
    CUTTERS: "Cutters…", "Look at cutters, and keep your own";
    KEEP_CUTTER: "Keep cutter", "Keep it in your own list";
    REMOVE_CUTTER: "Remove cutter", "Take it out of your own list";
    WOODS: "Woods…", "Add a wood of your own";
    KEEP_WOOD: "Keep wood", "Keep it in your own list";
    REMOVE_WOOD: "Remove wood", "Take it out of your own list";
    COUPON: "Coupon…", "Carve a test piece to find your own limit";
    RECORD: "What held, what broke…", "After the carve: say which walls held, and Spelk learns from it";
    KEEP_RECORD: "Keep on record", "Add these walls to the shop's record, and to what the cutter knows";
    EXPORT_COUPON: "Export coupon…", "The outline to carve, at true size";
    EXPORT_KEY: "Export key…", "The coupon with a number at every rung, to print and lay beside it";
    CALIBRATE: "Make this the limit", "Keep it with this cutter, for every wood and depth";
    PRICES: "Prices…", "What your shop charges: wood, hours, finish, margin, tax";
    KEEP_PRICES: "Keep prices", "Use these prices for every job";
    CHOOSE_MARK: "Choose picture…", "A PNG or JPEG picture, printed beside the shop's name";
    NO_MARK: "No picture", "Print no picture beside the shop's name";

    // The board.
    TURN: "Turn", "Turn the design by a quarter, counter-clockwise";
    FIND_PLACE: "Find a place at this size", "Look for a place where the whole carved box clears blemishes, snipe zones and edges";
    FIND_LARGEST: "Find the largest place", "Look for the largest size whose carved box clears blemishes, snipe zones and edges";
    LOOK: "Look", "Drag to move the view";
    MOVE_DESIGN: "Move design", "Drag the design to its place. It snaps to the middle and to the margins; hold Shift to stop that. The arrow keys nudge it";
    CIRCLE: "Circle", "Drag from the middle of the place outwards";
    RECTANGLE: "Rectangle", "Drag from corner to corner";
    LINE: "Line", "Drag along the split";
    TAKE_BOARD: "Use a board this size", "Give the board these measurements";
    SIDE_MARGIN: "Side margin", "Leave this much uncarved along each long edge";
    MARK_BLEMISH: "Mark blemish", "Mark it on the board, so that the carving keeps clear of it";
    REMOVE_BLEMISH: "Remove blemish", "Take it off the board";
    ENTER_MEASUREMENT: "Enter measurement", "Enter what you measured";
    FIT: "Fit…", "What this board takes, what board this size needs, and what you can do";
    BLEMISHES: "Blemishes…", "Mark knots, splits and holes, so that the carving keeps clear of them";
    BENCH_LIST: "Bench list…", "Enter what straightedge, square and feeler gauges say about this board";
    MACHINES: "Machines…", "Look at machines, and keep your own";
    MEASURE_MACHINE: "How to measure…", "How to find each value on your own machine with a rule";
    KEEP_MACHINE: "Keep machine", "Keep it in your own list";
    REMOVE_MACHINE: "Remove machine", "Take it out of your own list";
    EXPORT_CARRIER: "Export carrier drawing…", "Base, rails, stops and pocket at true size, as an SVG drawing";
    RACK: "Rack…", "The boards of your shop, and which of them takes this design";
    KEEP_ON_RACK: "Keep board", "Keep it on the rack";
    TAKE_OFF_RACK: "Take off the rack", "Delete this board from the rack";
    USE_RACK_BOARD: "Use this board", "Carve the design from this board";
    PIECES: "Pieces…", "Several copies or designs on this board";
    ARRANGE: "Arrange", "Find a place for every piece, clear of ends, edges, knots and each other; Undo takes it back";
    SHORTEST_BOARD: "Shortest board", "Look for the shortest board of this width and thickness that takes every piece";
    BOARDS_THAT_TAKE_ALL: "Boards of the rack", "Say which boards of the rack take every piece, the least waste first";
    OPEN_NAMES: "Open a list…", "Open a table (.csv) with a name in the first column of each line";
    MAKE_NAMES: "Make a piece of each", "Make the piece in hand one piece for each name, with that cut into it";
    ADD_OPEN_JOB: "Add a piece", "Put the design of that job on this board too, as it is set there";
    REMOVE_PIECE: "Remove piece", "Take this piece and all its copies off the board";
    PHOTOGRAPH: "Photograph…", "Lay a photograph of the real board under the design";
    OPEN_PHOTOGRAPH: "Open photograph…", "Choose a PNG or JPEG picture of the board";
    LAY_PHOTOGRAPH: "Lay it under the design", "Straighten it by its four corners and show it as the board";
    LIFT_PHOTOGRAPH: "Show drawn wood", "Take the photograph away and draw the wood";

    // Elements of the design.
    CHOOSE_ELEMENT: "Choose element", "Choose it; hold Ctrl (Cmd on a Mac) to choose several";
    CHOOSE_ALL: "Choose all", "Choose every element";
    CHOOSE_THESE: "Choose these", "Choose every element that is listed";
    CHOOSE_GROUP: "Choose its group", "Also choose every element of the groups that the chosen ones are in";
    CHOOSE_COLOR: "Choose its colour", "Also choose every element that the drawing paints in the colour of a chosen one";
    CHOOSE_ALIKE: "Choose alike", "Also choose every element of the same shape and size, however it is turned";
    CHOOSE_NONE: "Choose none", "Choose no element";
    HIDE: "Hide on the board", "See what is under them; Spelk still carves them";
    SHOW_ALL: "Show all again", "Show every hidden element";
    RENAME: "Rename", "Give the element another name";
    COMBINE: "Combine", "Join the chosen elements into one, under the first one's name";
    SPLIT: "Split", "Make each separate piece of the chosen elements an element of its own";
    REMOVE: "Remove", "Take the chosen elements out of the design; Undo brings them back";
    MIRROR_UPRIGHT: "Mirror left to right", "Turn the chosen elements over where they are";
    MIRROR_LEVEL: "Mirror top to bottom", "Turn the chosen elements over where they are";
    CUT_OUT: "Cut out…", "Cut the others, with clearance round them, out of the element chosen first";
    MOVE: "Move…", "Move the chosen elements along and across the board";
    RESIZE: "Resize…", "Make the chosen elements larger or smaller, about their middle";
    DO_RESIZE: "Resize", "Make the chosen elements as large as this";
    GROW: "Grow or shrink…", "Move the outlines of the chosen elements outwards or inwards";
    DO_GROW: "Grow or shrink", "Move the outlines of the chosen elements by this much";
    REPEAT: "Repeat…", "Repeat the chosen elements in a row or in rows";
    ADD_GROUND: "Ground…", "Put a sunk plate under the design, so that the design is in relief";
    SMOOTH: "Smooth…", "Smooth details away that are finer than the cutter can show";
    DO_SMOOTH: "Smooth outlines", "Fill slits and take away what is thinner than this";
    ADD_BORDER: "Border…", "Put a raised frame round the design";
    DO_CUT_OUT: "Cut out", "Cut the others out of the element chosen first";
    DO_MOVE: "Move", "Move the chosen elements by this much";
    DO_REPEAT: "Repeat", "Repeat the chosen elements";
    DO_ADD_GROUND: "Add ground", "Put the sunk plate under the design";
    DO_ADD_BORDER: "Add border", "Put the frame round the design";
    CLEAN: "Remove specks", "Remove pieces and fill holes that are too small to be intended";
    LETTER: "Letter words…", "Set words in a font of this machine, as an element of the design";
    EDIT_LETTERING: "Edit words…", "Change the words, the font or the size; the place stays";
    NEW_LETTERING: "New job from words…", "Start a job with words alone; this job stays open";
    DO_LETTER: "Letter", "Put these words into the design";
    DRAWING_SIZE: "Size of the drawing…", "The file does not say how large it is: see which sizes it could be";
    TAKE_DRAWING_SIZE: "Take this size", "Read the drawing in this unit";
    KEEP_DRAWING_SIZE: "Keep this size", "Keep the size as it was read";
    CARVE_AS_LINES: "Carve open outlines as lines", "Turn outlines that do not close into grooves as wide as the cutter";

    // Sheets and files.
    EXPORT_OUTLINE: "Export outline…", "Write the outline at its finished size, as an SVG drawing";
    BENCH_SHEET: "Bench sheet as PDF…", "One page to tape beside the machine, with accepted findings ticked";
    TEMPLATE: "True-size template as PDF…", "Pages to print, join and lay on the board";
    COUPON_SHEET: "Coupon as PDF…", "The test piece for this cutter, depth and wood, with its key";
    HANDOUT: "Handout as PDF…", "The lesson 'Why it thins' on two pages, with its questions";
    GUIDE_ON_PAPER: "Guide as PDF…", "All pages of the guide, with their contents, to print";
    SIZE_SHEET: "Offer of sizes as PDF…", "The sizes as carved with their prices, for a customer to choose from and sign";
    PRICE_SHEET: "Prices worked out as PDF…", "How each size's price is made up, for the shop alone";
    OUTLINE_DXF: "Outline as DXF…", "Write the outline at its finished size, one layer for each element";
    PICTURE: "Picture as PNG…", "The whole board from above, with its findings";
    PROOF_JSON: "Proof as JSON…", "Everything in the proof, for another program";
    FINDINGS_CSV: "Findings as CSV…", "One row for each finding, for a spreadsheet";
    SIZES_CSV: "Sizes as CSV…", "One row for each size, for a spreadsheet";
    SURFACE_STL: "Carved surface as STL…", "The board as it comes off the machine, as triangles";
}

/// A hover with the keys of its command.
pub fn tip_with_keys(tip: &str, keys: &str) -> String {
    format!("{tip} ({keys})")
}

/// `Undo board length`, where there is something to take back.
pub fn undo_of(name: &str) -> String {
    format!("Undo {name}")
}

/// `Redo board length`, where there is something to make again.
pub fn redo_of(name: &str) -> String {
    format!("Redo {name}")
}

/// An open job in a menu, with a star where it has changes that are not saved.
pub fn job_in_menu(name: &str, is_changed: bool) -> String {
    if is_changed { format!("{name} *") } else { name.to_owned() }
}

/// The list of commands: a file that was opened before.
pub fn open_recent(file: &str) -> String {
    format!("Open recent: {file}")
}

/// The list of commands: a sample.
pub fn open_sample(title: &str) -> String {
    format!("Open sample: {title}")
}

/// The list of commands: an open job.
pub fn show_job(name: &str) -> String {
    format!("Show: {name}")
}

/// The list of commands: a view of the middle.
pub fn show_view(label: &str) -> String {
    format!("Show: {label}")
}

/// A view in the list of keys, and what a screen reader calls its button.
pub fn show_view_key(label: &str) -> String {
    format!("Show {}", label.to_lowercase())
}

/// The list of commands: a unit of length.
pub fn lengths_in(label: &str) -> String {
    format!("Lengths: {label}")
}

/// The list of commands: light or dark.
pub fn theme(label: &str) -> String {
    format!("Appearance: {label}")
}

/// Which of the open jobs is shown.
pub fn job_of(at: usize, jobs: usize, name: &str) -> String {
    format!("{at} of {jobs} · {name}")
}
