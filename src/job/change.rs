//! What an edit changed, so that whoever works things out from a job knows what to work out anew.

use super::{Job, Placing};
use crate::shop::Machine;
use std::sync::Arc;

/// How deep a change goes. Each kind implies those before it: what has to be measured anew has to be rated
/// and proofed anew, too.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Reach {
    /// Nothing changed.
    #[default]
    Nothing,
    /// What is noted on the job: ticks of findings, the remark. Nothing is worked out from these.
    Notes,
    /// How long the machine takes for the same chips.
    Time,
    /// How large the design is carved: the proof is due anew; ratings hold at every size.
    Size,
    /// Frame, place, ends and margins, the board but for its thickness and how it was sawn, and the pieces beside:
    /// ratings hold here, too.
    Placing,
    /// What walls and grooves are held against, or anything else but the widths: they are rated anew.
    Limits,
    /// Which widths there are to measure.
    Widths,
    /// The design itself.
    Design,
}

/// What [`Job::apply`](Job::apply) did.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Change {
    /// How deep it goes.
    pub reach: Reach,
    /// What became of the elements, where the design was edited.
    pub elements: Option<ElementsChange>,
}

/// What an edit of the design did, as facts.
#[derive(Clone, Debug, PartialEq)]
pub struct ElementsChange {
    /// What was done.
    pub done: Done,
    /// The elements that it was about, by their names now: those to be chosen next. Empty where the ones
    /// chosen before still are.
    pub chosen: Vec<String>,
    /// Elements that are gone because nothing of them would show any more.
    pub covered: Vec<String>,
}

/// One thing that was done to the elements of a design.
#[derive(Clone, Debug, PartialEq)]
pub enum Done {
    /// An element has another name.
    Renamed {
        /// The name it had.
        before: String,
        /// The name it has; another may have been taken.
        after: String,
    },
    /// Elements became one.
    Combined {
        /// How many.
        count: usize,
        /// The name of the one.
        name: String,
    },
    /// Elements became their pieces.
    Split {
        /// Their names.
        names: Vec<String>,
        /// How many pieces they became.
        pieces: usize,
    },
    /// Elements were taken out.
    Removed {
        /// Their names.
        names: Vec<String>,
    },
    /// Elements were turned over.
    Mirrored {
        /// Their names.
        names: Vec<String>,
    },
    /// Elements were taken out of another.
    CutOut {
        /// Their names.
        names: Vec<String>,
        /// The other.
        from: String,
    },
    /// Elements were moved.
    Moved {
        /// Their names.
        names: Vec<String>,
    },
    /// Elements were made larger or smaller.
    Resized {
        /// Their names.
        names: Vec<String>,
        /// How many times as large they are.
        factor: f64,
    },
    /// The outlines of elements were moved outwards or inwards.
    Grown {
        /// Their names.
        names: Vec<String>,
        /// Whether it was outwards.
        outwards: bool,
    },
    /// Elements were repeated.
    Repeated {
        /// Their names.
        names: Vec<String>,
        /// How many times along the board and across it.
        times: [u32; 2],
    },
    /// A lowered ground was put under the design.
    Grounded {
        /// Its name.
        name: String,
    },
    /// Fine details were smoothed away.
    Smoothed {
        /// Of these elements.
        names: Vec<String>,
    },
    /// A standing border was put round the design.
    Bordered {
        /// Its name.
        name: String,
    },
    /// Specks and slivers were cleaned away.
    Cleaned {
        /// How many.
        specks: usize,
    },
    /// Words were set.
    Lettered {
        /// The name of their element.
        name: String,
    },
}

impl Reach {
    /// Whether nothing that is worked out changes.
    pub fn is_only_noted(self) -> bool {
        self <= Reach::Notes
    }

    /// Whether the machine cuts the very same chips.
    pub fn keeps_chips(self) -> bool {
        self <= Reach::Time
    }

    /// Whether nothing but the size differs, which is one of many where sizes are compared.
    pub fn keeps_all_but_size(self) -> bool {
        self <= Reach::Size
    }

    /// Whether what walls and grooves are held against still holds, at whatever size.
    pub fn keeps_ratings(self) -> bool {
        self <= Reach::Placing
    }

    /// Whether the widths that were measured are still those of the job.
    pub fn keeps_widths(self) -> bool {
        self <= Reach::Limits
    }

    /// Whether the job still holds the very same design.
    pub fn keeps_design(self) -> bool {
        self < Reach::Design
    }

    /// How far `after` is from `before`. Compares settings part by part and the design by identity: `O(n)`
    /// in elements.
    pub fn between(before: &Job, after: &Job) -> Reach {
        // Every field is named, so that a new one has to find its place here.
        let Job {
            design,
            carvings,
            lettering,
            reading,
            board,
            wood,
            tooling,
            machine,
            placing,
            notes,
            pieces,
        } = after;
        let Placing { size: _, frame, at, ends, turn, side_margin, ground_margin } = placing;
        let was = &before.placing;
        if !Arc::ptr_eq(&before.design, design) {
            return Reach::Design;
        }
        let carved_alike = before.carvings == *carvings && before.tooling == *tooling;
        if !carved_alike && before.layout() != after.layout() {
            return Reach::Widths;
        }
        let limits = !carved_alike
            || before.lettering != *lettering
            || before.reading != *reading
            || before.board.thickness != board.thickness
            || before.board.sawn != board.sawn
            || before.wood != *wood
            || was.turn != *turn;
        let same_machine = before.machine == *machine;
        let time_factor = before.machine.time_factor;
        if limits || !(same_machine || before.machine == Machine { time_factor, ..machine.clone() }) {
            return Reach::Limits;
        }
        let placed = before.board != *board
            || was.frame != *frame
            || was.at != *at
            || was.ends != *ends
            || was.side_margin != *side_margin
            || was.ground_margin != *ground_margin
            || before.pieces != *pieces;
        if placed {
            return Reach::Placing;
        }
        if was != placing {
            return Reach::Size;
        }
        if !same_machine {
            return Reach::Time;
        }
        if before.notes == *notes { Reach::Nothing } else { Reach::Notes }
    }
}
