//! Words of the window: commands.

#![expect(missing_docs, reason = "a sentence says what it says")]

pub const FILE: &str = "File";
pub const EDIT: &str = "Edit";
pub const DESIGN: &str = "Design";
pub const BOARD: &str = "Board";
pub const SHOP: &str = "Shop";
pub const VIEW: &str = "View";
pub const HELP: &str = "Help";
pub const CHOOSE_MORE: &str = "Choose more";
pub const OPEN_RECENT: &str = "Open recent";
pub const OPEN_SAMPLE: &str = "Open sample";
pub const PAPER_AND_FILES: &str = "Paper and files";
pub const OPEN_JOBS: &str = "Open jobs";
pub const LENGTHS: &str = "Lengths";
pub const APPEARANCE: &str = "Appearance";
pub const FIND_A_COMMAND: &str = "Find a command";
pub const A_FEW_LETTERS_OF_ITS_NAME: &str = "a few letters of its name";
pub const LETTERS_OF_THE_COMMAND: &str = "Letters of the command";
pub const NO_MATCHING_COMMAND_THAT_YOU_CAN_USE: &str = "No matching command that you can use now";
pub const THE_JOBS_THAT_ARE_OPEN_IN_THIS_WINDOW: &str = "The jobs that are open in this window";
pub const PDF_SHEETS: &str = "PDF sheets";
pub const DXF_DRAWINGS: &str = "DXF drawings";
pub const PNG_PICTURES: &str = "PNG pictures";
pub const JSON_FILES: &str = "JSON files";
pub const CSV_TABLES: &str = "CSV tables";
pub const STL_SURFACES: &str = "STL surfaces";
