//! Words of the window: sizes.

#![expect(missing_docs, reason = "a sentence says what it says")]

pub const CARVED_SIZE: &str = "carved size";
pub const TYPE_ONE_SIZE_AT_A_TIME_FOR: &str = "type one size at a time, for example 8in";
pub const SIZES_TO_CHOOSE_FROM: &str = "Sizes to choose from";
pub const TAKE_THIS_SIZE_OFF_THE_LIST: &str = "Take this size off the list";
pub const ADD_8IN_10IN_WIDE_150_SMALL_8IN: &str = "Add: 8in, 10in wide, 150%, Small=8in";
pub const SIZE_TO_ADD: &str = "Size to add";
pub const ADD_SIZE: &str = "Add size";
pub const ON_PAPER: &str = "On paper";
pub const SHOP_NAME: &str = "Shop name";
pub const NAME_OF_THE_SHOP: &str = "Name of the shop";
pub const NOTE_TO_THE_CUSTOMER: &str = "Note to the customer";
pub const THE_SHOPS_MARK: &str = "The shop's mark";
pub const CUSTOMERS_NAME: &str = "Customer's name";
pub const DATE_OF_THE_OFFER: &str = "Date of the offer";
pub const VALID_UNTIL: &str = "Valid until";
pub const PRINT_WHAT_WAS_FOUND: &str = "Print what was found";
pub const PRINT_WHAT_WAS_FOUND_TIP: &str =
    "The offer then says for each size which board it needs, what is lost and whether it is sound";
pub const NAME: &str = "Name";
pub const FINISHED_SIZE: &str = "Finished size";
pub const BOARD_TO_BUY: &str = "Board to buy";
pub const THINNEST_WALL: &str = "Thinnest wall";
pub const WHAT_IS_LOST: &str = "What is lost";
pub const TIME: &str = "Time";
pub const PRICE: &str = "Price";
pub const VERDICT: &str = "Verdict";
pub const SIZES: &str = "Sizes";
pub const THE_BOARDS_ARE_DRAWN_TO_ONE_SCALE: &str = "The boards are drawn to one scale";
pub const WORKING_OUT_THE_SIZES: &str = "Working out the sizes…";
pub const PRICES_ARE_EXAMPLES_UNTIL_YOU_SET_YOUR: &str = "Prices are examples until you set your own";
pub const USE_THIS_SIZE: &str = "Use this size";
pub const MAKE_IT_THE_SIZE_OF_THIS_JOB: &str = "Make it the size of this job";
pub const WASTE: &str = "Waste";
pub const WASTE_ALLOWANCE: &str = "Waste allowance, %";
pub const MACHINE_HOUR: &str = "Machine hour";
pub const MACHINE_PER_HOUR: &str = "Machine, per hour";
pub const CUTTER_WEAR: &str = "Cutter wear";
pub const CUTTER_WEAR_PER_HOUR_OF_CARVING: &str = "Cutter wear per hour of carving";
pub const BENCH_HOUR: &str = "Bench hour";
pub const BENCH_WORK_PER_HOUR: &str = "Bench work, per hour";
pub const BENCH_MINUTES: &str = "Bench minutes";
pub const BENCH_MINUTES_FOR_EVERY_PIECE: &str = "Bench minutes for every piece";
pub const MINIMUM: &str = "Minimum";
pub const LOWEST_PRICE_FOR_ANY_PIECE: &str = "Lowest price for any piece";
pub const MARGIN: &str = "Margin";
pub const MARGIN_OF_THE_PRICE_BEFORE_TAX: &str = "Margin, % of the price before tax";
pub const TAX: &str = "Tax";
pub const TAX_OF_THE_PRICE: &str = "Tax, % of the price";
pub const ROUNDING_UP: &str = "Rounding up";
pub const ROUND_PRICES_UP_TO_THE_NEXT: &str = "Round prices up to the next";
pub const IT_MUST_BE_0_1_2_OR: &str = "it must be 0, 1, 2 or 3";
pub const A_PRICE_MUST_BE_0_OR_MORE: &str = "a price must be 0 or more";
pub const A_MARK_IS_ONE_CHARACTER: &str = "a mark is one character";
pub const PRICES: &str = "Prices";
pub const THESE_ARE_EXAMPLE_FIGURES_REPLACE_THEM_WITH: &str =
    "These are example figures. Replace them with your own";
pub const ACROSS_THE_COUNTER: &str = "Across the counter";
pub const SHOW_PRICES: &str = "Show prices";
pub const SHOW_SIZES_THAT_CANNOT_BE_HAD: &str = "Show sizes that would break, greyed";
pub const SHOW_A_HAND_FOR_SCALE: &str = "Show a hand for scale";
pub const SHOW_TO_THE_CUSTOMER: &str = "Show to the customer";
pub const SHOW_TO_THE_CUSTOMER_TIP: &str = "Fill the screen with the sizes as they are carved, without anything of the bench (F11); Escape comes back";
pub const BACK_TO_THE_BENCH: &str = "Back (Esc)";
pub const NO_SIZE_TO_SHOW: &str = "There is no size to show";
pub const CANNOT_BE_HAD: &str = "Too fine to carve at this size";
pub const CHOOSE_IT: &str = "Choose";
pub const CHOSEN: &str = "Chosen";
pub const A_HAND_FOR_SCALE: &str = "A hand, for scale";
pub const WHAT_ADVICE_IS_RANKED_BY: &str = "What advice is ranked by";
pub const WHAT_A_CHANGE_IS_WORTH_AVOIDING: &str =
    "What it is worth to you to leave a thing as it is, in your money, beside the minutes and the wood";
pub const ANOTHER_SETTING: &str = "Another setting";
pub const ANOTHER_CUTTER: &str = "Another cutter";
pub const ANOTHER_BOARD_OF_THE_RACK: &str = "Another board of the rack";
pub const TWICE_OR_HALF_THE_SIZE: &str = "Twice or half the size";
pub const HALF_THE_DEPTH: &str = "Half the depth";
pub const A_CHANGED_DRAWING: &str = "A changed drawing";
pub const ALL_OF_ITS_AREA_CHANGED: &str = "All of its area changed";
pub const AN_ERRAND_TO_BUY_SOMETHING: &str = "An errand to buy something";
pub const PLANING_OR_JOINTING: &str = "Planing or jointing";
pub const KEEP_PRICES: &str = "Keep prices";
pub const SANDING_MINUTES: &str = "Sanding minutes";
pub const FINISH: &str = "Finish";
pub const MONEY: &str = "Money";
pub const WRITTEN_AS_IN: &str = "Written as in";
pub const NOT_ROUNDED: &str = "not rounded";
pub const CURRENCY_SIGN: &str = "Currency sign";
pub const DIGITS_OF_MONEY: &str = "Digits of money";
pub const DIGITS_AFTER_THE_MARK: &str = "Digits after the mark";
pub const DECIMAL_MARK: &str = "Decimal mark";
pub const THOUSANDS_MARK: &str = "Thousands mark";
pub const BETWEEN_THOUSANDS: &str = "Between thousands";
pub const WHERE_THE_SIGN_GOES: &str = "Where the sign goes";
pub const YOUR_OWN: &str = "Your own";
pub const MONEY_AS_IN: &str = "Money as in";
pub const CASH_ROUNDING: &str = "Cash rounding";
pub const A_BOARD_FOOT: &str = "A board foot";
pub const ANY_WOOD_WITH_NO_PRICE_OF_ITS: &str = "Any wood with no price of its own";
pub const PRICE_OF_OTHER_WOODS: &str = "Price of other woods";
pub const BOARD_FEET_ARE_COUNTED_BY: &str = "Board feet are counted by";
pub const BOARD_FEET_RULE: &str = "Board feet rule";

/// What a screen reader calls the field for a size's name.
pub fn name_of_size(number: usize) -> String {
    format!("Name of size {number}")
}

/// What a screen reader calls the field for a size.
pub fn size_number(number: usize) -> String {
    format!("Size {number}")
}

/// What a screen reader calls the button that takes a size off the list.
pub fn remove_size(number: usize) -> String {
    format!("Remove size {number}")
}

/// The picture of a size as it is carved.
pub fn as_carved(name: &str) -> String {
    format!("{name}, as carved")
}

/// The button that takes a size.
pub fn choose_size(name: &str) -> String {
    format!("Choose {name}")
}

/// What a screen reader says of a size's two pictures.
pub fn as_drawn_and_as_carved(name: &str) -> String {
    format!("{name} as drawn and as carved")
}

/// What a screen reader calls the button that makes a size that of the job.
pub fn use_size(name: &str) -> String {
    format!("Use size {name}")
}

/// An amount as money is written.
pub fn money_reads(example: &str) -> String {
    format!("Money reads {example}")
}

/// The caption of the field for sanding; `area` is a unit of area.
pub fn sanding(area: &str) -> String {
    format!("Minutes of sanding for each {area} of face")
}

/// The caption of the field for what finish costs.
pub fn finish(area: &str) -> String {
    format!("Finish for each {area} of face")
}

/// How cash is rounded.
pub fn to_the_nearest(amount: &str) -> String {
    format!("to the nearest {amount}")
}

/// A place, and how it writes money.
pub fn money_place(place: &str, example: &str) -> String {
    format!("{place}   {example}")
}

/// What a screen reader calls the field for a wood's price.
pub fn price_of(wood: &str) -> String {
    format!("Price of {wood}")
}
