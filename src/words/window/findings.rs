//! Words of the window: findings.

#![expect(missing_docs, reason = "a sentence says what it says")]

pub const FINDINGS: &str = "Findings";
pub const ACCEPTED: &str = "Accepted";
pub const CARVE_IT_ALL_THE_SAME_ITS_BOX: &str = "Carve it all the same: its box is ticked on the bench sheet";
pub const REMARK_FOR_THE_BENCH: &str = "Remark for the bench";
pub const PRINTED_ON_THE_BENCH_SHEET: &str = "Printed on the bench sheet";
pub const WOOD_ADDED: &str = "wood added";
pub const WOOD_TAKEN_AWAY: &str = "wood taken away";
pub const SEASONS: &str = "Seasons";
pub const WOOD_TAKES_UP_WATER_FROM_DAMP_AIR: &str = "Wood takes up water from damp air and widens; in dry air it narrows again. Along the grain it hardly moves";
pub const FROM: &str = "From";
pub const TO: &str = "To";
pub const DEGREES: &str = "Degrees";
pub const SAWN: &str = "Sawn";
pub const FLAT: &str = "Flat";
pub const GROWTH_RINGS_LIE_ALONG_THE_FACE_MOVES: &str = "Growth rings lie along the face: moves most";
pub const QUARTER: &str = "Quarter";
pub const GROWTH_RINGS_STAND_UPRIGHT_TO_THE_FACE: &str = "Growth rings stand upright to the face: moves less";
pub const MOISTURE_BY_WOOD_HANDBOOK_EQ_4_5: &str = "Moisture by Wood Handbook eq. 4-5";
pub const HUMIDITY: &str = " % humidity";
pub const THE_FINISHED_PIECE: &str = "The finished piece";
pub const THE_WHOLE_BOARD: &str = "The whole board";
pub const THE_COEFFICIENT_HOLDS_BETWEEN_6_AND_14: &str =
    "The coefficient holds between 6 and 14 % moisture; beyond that this is a rough guess";
pub const SIZE: &str = "Size";
pub const SIZE_HANDLE: &str = "Size handle";
pub const SIZE_STRIP: &str = "size strip";
pub const THINNEST_WALL: &str = "thinnest wall";
pub const THINNEST_GROOVE: &str = "thinnest groove";
pub const WALL_ACROSS_THE_GRAIN: &str = "wall across the grain";
pub const WALL_ALONG_THE_GRAIN: &str = "wall along the grain";
pub const GROOVE_FOR_THE_CUTTER: &str = "groove for the cutter";
pub const WHY_THIS_LIMIT: &str = "Why this limit";
pub const THE_CHOSEN_FINDING: &str = "The chosen finding";
pub const THIS_POINT_LIES: &str = "This point lies";
pub const THIS_WALL_RUNS: &str = "This wall runs";
