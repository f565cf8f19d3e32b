//! What to mind at the machine, and what to do after the carve, for window and paper.

use crate::job::Ends;

/// What comes before every caution.
pub const CAUTIONS_FIRST: &str =
    "The machine's own manual, your local rules and a qualified person come before anything said here.";

/// Heading, caution, and its source (empty where it is plain sense).
pub const CAUTIONS: [(&str, &str, &str); 7] = [
    (
        "Dust",
        "Wood dust causes cancer. Collect it at the cutter and wear a respirator that fits.",
        "IARC Monographs vol. 100C (2012), Group 1. OSHA limits nuisance dust to 15 mg/m\u{b3} in all, 5 \
         respirable (29 CFR 1910.1000); NIOSH recommends 1 mg/m\u{b3}, ACGIH 1 and for western redcedar 0.5 \
         (2007 values; check the current edition)",
    ),
    (
        "Eyes",
        "Wear eye protection whenever the cutter turns.",
        "29 CFR 1910.133; protection made to ANSI Z87.1 (both from memory)",
    ),
    (
        "Ears",
        "Wear ear protection: a carve can take hours.",
        "OSHA: 90 dBA for 8 hours, action from 85 dBA (29 CFR 1910.95, from memory)",
    ),
    (
        "Hands",
        "Keep hands, sleeves and hair away from the rollers and the cutter. Stop the machine before you reach in.",
        "Woodworking machines: 29 CFR 1910.213 (from memory)",
    ),
    (
        "At the machine",
        "Spelk does not drive the machine. Check size, board and cutter again at the machine before you start \
         it. A cupped board may crack under rollers that press hard.",
        "",
    ),
    (
        "What Sound means",
        "Advice, not a promise: grain, knots, a dull cutter or a loose board can spoil any carve.",
        "",
    ),
    (
        "Starting values",
        "Spelk starts with round values of its own for the thinnest wall, the roller allowance, the margins and \
         the machine. Carve a coupon, measure your machine, and enter what you find.",
        "Round values of our own, no source",
    ),
];

/// What to do once the carve is done, in order (common practice, no source).
pub fn after_carve(ends: Ends) -> [&'static str; 5] {
    [
        match ends {
            Ends::Held => {
                "Let the cutter stop and switch the machine off before you take the board out. Cut the held ends \
                 off last."
            }
            Ends::Free => "Let the cutter stop and switch the machine off before you take the board out.",
        },
        "Brush the chips off along the grain with a soft brush. A stiff one pulls at thin walls.",
        "Blow or vacuum the corners clean, with goggles and respirator on.",
        "Sand lightly by hand along the grain, from medium to fine. Do thin walls last.",
        "Wipe off the dust and seal the wood, end grain and thin walls first. Let it dry before anyone handles it.",
    ]
}
