//! Words of the window: lesson.

#![expect(missing_docs, reason = "a sentence says what it says")]

pub const AS_DRAWN: &str = "as drawn";
pub const SCALING_MULTIPLIES_EVERY_WIDTH_IN_A_DESIGN: &str = "Scaling multiplies every width in a design. What the cutter and the wood need stays where it is: the limit does not move, the wall does";
pub const WHY_IT_THINS: &str = "Why it thins";
pub const END_THE_TOUR: &str = "End the tour";
pub const NEXT: &str = "Next";
pub const NEXT_STEP: &str = "Next step";
pub const BACK: &str = "Back";
pub const STEP_BEFORE: &str = "Step before";
pub const SLIDE_THE_SIZE_HANDLE_BELOW: &str = "Slide the size handle below";
pub const THIS_STEP_IS_ABOUT_ANOTHER_SAMPLE: &str = "This step is about another sample";
pub const OPEN_IT: &str = "Open it";
