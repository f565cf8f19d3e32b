//! What to mind at the machine, and what to do after the carve: one place for window and paper.

/// What comes before every caution.
pub const CAUTIONS_FIRST: &str =
    "The machine's own manual, your local rules and a qualified person come before anything here.";

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
        "Wear ear protection; a long carve is a long exposure.",
        "OSHA: 90 dBA for 8 hours, action from 85 dBA (29 CFR 1910.95, from memory)",
    ),
    (
        "Hands",
        "Keep hands, sleeves and hair away from the rollers and the cutter. Stop the machine before you reach in.",
        "Woodworking machines: 29 CFR 1910.213 (from memory)",
    ),
    (
        "At the machine",
        "Spelk drives no machine. Check the size, the board and the cutter again at the machine before you \
         start it. A cupped board may crack when the rollers press it flat.",
        "",
    ),
    (
        "What a sound proof is",
        "Advice, not a promise: grain, knots, a dull cutter or a loose board can spoil any carve.",
        "",
    ),
    (
        "Starting values",
        "The thinnest wall to be trusted, the roller allowance, the margins and the machine's sizes start \
         from common practice. Carve a coupon, measure your own machine, and use what you find.",
        "Common practice, no source",
    ),
];

/// What to do once the carve is done, in order (common practice, no source).
pub const AFTER_CARVE: [&str; 5] = [
    "Let the cutter stop, switch the machine off, then take the board out. Cut the held ends off last.",
    "Brush the chips off along the grain with a soft brush: a stiff one pulls at thin walls.",
    "Blow or vacuum the corners out, goggles and respirator on.",
    "Sand lightly along the grain, by hand, from medium to fine; thin walls last.",
    "Wipe the dust off and seal, end grain and thin walls first; let it dry before it is handled.",
];
