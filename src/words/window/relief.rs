//! Words of the window: relief.

#![expect(missing_docs, reason = "a sentence says what it says")]

pub const CLEARING: &str = "Clearing";
pub const HOW_THE_MACHINE_CLEARS_THE_LOWERED_PLACES: &str =
    "How the machine clears the lowered places. Passes, surface and time follow from it";
pub const LINES: &str = "Lines";
pub const ALONG: &str = "Along";
pub const ALONG_THE_BOARD_WITH_THE_GRAIN: &str = "Along the board, with the grain";
pub const ACROSS: &str = "Across";
pub const ACROSS_THE_BOARD: &str = "Across the board";
pub const STEPOVER: &str = "Stepover";
pub const FROM_ONE_CLEARING_LINE_TO_THE_NEXT: &str =
    "From one clearing line to the next, as a share of the cutter's diameter";
pub const PASS_DEPTH: &str = "Pass depth";
pub const THE_DEEPEST_CUT_IN_ONE_PASS_AS: &str =
    "The deepest cut in one pass, as a share of the cutter's diameter";
pub const USUAL_CLEARING: &str = "Usual clearing";
pub const NONE_ONE_CUTTER_DOES_IT_ALL: &str = "None: one cutter does it all";
pub const FIRST: &str = "First";
pub const A_LARGER_CUTTER_CLEARS_FIRST_THE_JOBS: &str =
    "A larger cutter clears first; the job's cutter goes where it could not reach";
pub const LARGER_CLEARING_CUTTER: &str = "Larger clearing cutter";
pub const CUTTERS_OWN: &str = "Cutter's own";
pub const THE_CUTTERS_OWN: &str = "the cutter's own";
pub const WOOD_LEFT_UNDER_A_PIERCED_OUTLINE_TO: &str =
    "Wood left under a pierced outline to hold the cut-out piece in place";
pub const HOLDING_BRIDGES: &str = "Holding bridges";
pub const BRIDGE_LENGTH: &str = "Bridge length";
pub const LENGTH: &str = "Length";
pub const BRIDGE_HEIGHT: &str = "Bridge height";
pub const HEIGHT: &str = "Height";
pub const BRIDGES_APART: &str = "Bridges apart";
pub const APART: &str = "Apart";
pub const DONE: &str = "Done";
pub const PAUSE: &str = "Pause";
pub const PAUSE_THE_CARVE: &str = "Pause the carve";
pub const PLAY: &str = "Play";
pub const PLAY_THE_CARVE: &str = "Play the carve";
pub const DRAG_TO_ANY_SECOND_OF_THE_CARVE: &str = "Drag to any second of the carve";
pub const CLOCK: &str = "Clock";
pub const NOTHING_IS_CARVED: &str = "Nothing is carved";
pub const WORKING_OUT_THE_PASSES: &str = "Working out the passes";
pub const HOW_LONG_THE_WHOLE_CARVE_TAKES_ON: &str = "How long the whole carve takes on the screen";
pub const SPEED_OF_THE_CLOCK: &str = "Speed of the clock";
pub const WHOLE: &str = "Whole";
pub const SHOW_THE_WHOLE_CARVE: &str = "Show the whole carve";
pub const TRUE_TIME: &str = "True time";
pub const TIME: &str = "Time";
pub const HOW_LONG_IT_TAKES_BY_ELEMENT_AND: &str = "How long it takes, by element and by cutter";
pub const SECTION: &str = "Section";
pub const THE_CUT_THROUGH_THE_SURFACE_ALONG_A: &str = "The cut through the surface along a line";
pub const THE_REFERENCE_EDGE: &str = "the reference edge";
pub const THE_RIGHT_END_AND_THE_REFERENCE_EDGE: &str = "the right end and the reference edge";
pub const THE_RIGHT_END: &str = "the right end";
pub const THE_RIGHT_END_AND_THE_FAR_EDGE: &str = "the right end and the far edge";
pub const THE_FAR_EDGE: &str = "the far edge";
pub const THE_LEFT_END_AND_THE_FAR_EDGE: &str = "the left end and the far edge";
pub const THE_LEFT_END: &str = "the left end";
pub const THE_LEFT_END_AND_THE_REFERENCE_EDGE: &str = "the left end and the reference edge";
pub const FROM_ABOVE: &str = "from above";
pub const THE_SIDE_THE_LIGHT_COMES_FROM_0: &str =
    "The side the light comes from: 0 is the right end, 90 the far edge, 180 the left end";
pub const LIGHT_SIDE: &str = "Light side";
pub const UP: &str = "° up";
pub const HOW_HIGH_THE_LIGHT_STANDS_LOW_LIGHT: &str =
    "How high the light stands; low light shows the relief best";
pub const LIGHT_HEIGHT: &str = "Light height";
pub const DRAG_THE_LIGHT_ROUND_THE_BOARD_NEAR: &str =
    "Drag the light round the board; near the middle it stands high";
pub const LIGHT_DIAL: &str = "Light dial";
pub const PASSES: &str = "Passes";
pub const NO_PASSES_NOTHING_IS_CARVED_OR_NO: &str = "No passes: nothing is carved, or no cutter fits";
pub const CLEARING_LINE_ALONG: &str = "clearing line along";
pub const CLEARING_LINES_ALONG: &str = "clearing lines along";
pub const CLEARING_LINE_ACROSS: &str = "clearing line across";
pub const CLEARING_LINES_ACROSS: &str = "clearing lines across";
pub const OUTLINE_PASS: &str = "outline pass";
pub const OUTLINE_PASSES: &str = "outline passes";
pub const V_PATH: &str = "V path";
pub const V_PATHS: &str = "V paths";
pub const PIERCED_PASS: &str = "pierced pass";
pub const PIERCED_PASSES: &str = "pierced passes";
pub const CARVED_SURFACE: &str = "carved surface";
pub const CUTTING_THROUGH_THE_SURFACE: &str = "Cutting through the surface";
pub const CHOOSE_SECTION_ABOVE_AND_DRAG_A_LINE: &str =
    "Choose Section above and drag a line over the board, or type its ends";
pub const A_ALONG: &str = "A along";
pub const A_ACROSS: &str = "A across";
pub const B_ALONG: &str = "B along";
pub const B_ACROSS: &str = "B across";
pub const CUT_ACROSS_THE_MIDDLE: &str = "Cut across the middle";
pub const A_LINE_FROM_EDGE_TO_EDGE: &str = "A line from edge to edge";
pub const NO_SECTION: &str = "No section";
pub const TAKE_THE_LINE_AWAY: &str = "Take the line away";
pub const CARVED_PLACE: &str = "carved place";
pub const CARVED_PLACES: &str = "carved places";
pub const TURN: &str = "Turn";
pub const A_DRAG_TURNS_THE_BOARD: &str = "A drag turns the board";
pub const A_DRAG_OVER_THE_BOARD_DRAWS_THE: &str =
    "A drag over the board draws the line of the cut, shown below";
pub const DRAW_A_SECTION: &str = "Draw a section";
pub const ZOOM_OUT: &str = "Zoom out";
pub const ZOOM_IN: &str = "Zoom in";
pub const WHOLE_BOARD: &str = "Whole board";
pub const FROM_ABOVE_2: &str = "From above";
pub const GO_ON: &str = "Go on";
pub const WORK_IT_OUT_AFTER_ALL: &str = "Work it out after all";
pub const CANCELLED: &str = "Cancelled";
pub const CARVING_THE_QUICK_SURFACE: &str = "Carving the quick surface";
pub const SURFACE_OF_THE_JOB_BEFORE: &str = "Surface of the job before";
pub const AT_THIS_MOMENT_OF_THE_CARVE: &str = "At this moment of the carve";
pub const WHAT_THE_CUTTERS_LEAVE: &str = "What the cutters leave";
pub const QUICK_PREVIEW_IGNORING_THE_CUTTERS_WIDTH: &str = "Quick preview, ignoring the cutter's width";
pub const BY_ELEMENT: &str = "By element";
pub const BY_CUTTER: &str = "By cutter";
pub const HOW_LONG_DID_THE_CARVE_TAKE: &str = "How long did the carve take?";
pub const N83_OR_1_23: &str = "83 or 1:23";
pub const MINUTES_OR_HOURS_MINUTES_SPELK_CORRECTS_THIS: &str =
    "Minutes, or hours:minutes. Spelk corrects this job's times by it";
pub const HOW_LONG_IT_REALLY_TOOK: &str = "How long it really took";
pub const SET_TIMES_BY_IT: &str = "Set times by it";
pub const AS_WORKED_OUT: &str = "As worked out";
