//! The picture of the board.

use crate::job::Ends;
use crate::proof::FindingKind;
use crate::units::{LengthUnit, Mm};
use crate::words::{count, percent_down};

/// What the title of a picture says.
#[derive(Clone, Copy, Debug)]
pub struct Title<'a> {
    /// The design.
    pub design: &'a str,
    /// Its finished length and width.
    pub size: [Mm; 2],
    /// Times as large as drawn.
    pub factor: f64,
    /// The board's length and width.
    pub board: [Mm; 2],
    /// The board's wood.
    pub wood: &'a str,
    /// Whether its ends are held.
    pub ends: Ends,
    /// The job's cutter.
    pub cutter: &'a str,
    /// The job's depth.
    pub depth: Mm,
    /// Whether an element is cut otherwise than the job says.
    pub some_otherwise: bool,
}

/// What is shown: the design, the board, and what it is cut with.
pub fn title(of: &Title, unit: LengthUnit) -> String {
    let ends = match of.ends {
        Ends::Held => "ends held",
        Ends::Free => "ends free",
    };
    let said = format!(
        "{}, {}, {} % of the drawing; board {}, {}, {ends}; {}, {} deep",
        of.design,
        unit.show_several(of.size, " x "),
        percent_down(of.factor),
        unit.show_several(of.board, " x "),
        of.wood,
        of.cutter,
        unit.show(of.depth),
    );
    if of.some_otherwise { format!("{said}, some elements differ") } else { said }
}

/// What is shown of several pieces: how many, and the board.
pub fn batch_title(pieces: usize, board: [Mm; 2], wood: &str, unit: LengthUnit) -> String {
    format!("{} on a board {}, {wood}", count(pieces, "piece", "pieces"), unit.show_several(board, " x "))
}

/// Along the arrow under the board.
pub const GRAIN: &str = "grain and feed";

/// On the stretch kept for a roller.
pub fn roller_allowance(allowance: Mm, unit: LengthUnit) -> String {
    format!("roller allowance {}", unit.show(allowance))
}

/// On the stretch that may be sniped.
pub const SNIPE_ZONE: &str = "snipe zone";

/// How many of one kind were found: `grave` of them chancy or worse, the least of which measures `least`, and
/// `slight` that are sound.
pub fn found(kind: FindingKind, grave: usize, least: Option<Mm>, slight: usize, unit: LengthUnit) -> String {
    let least = least.filter(|_| {
        matches!(kind, FindingKind::ThinWall | FindingKind::BlockedGroove | FindingKind::ShallowGroove)
    });
    match (grave, least, slight) {
        (0, _, slight) => format!("{slight} slight {}", kind.counted(slight)),
        (grave, None, 0) => format!("{grave} {}", kind.counted(grave)),
        (grave, Some(least), 0) => {
            format!("{grave} {}, least {}", kind.counted(grave), unit.show_fine(least))
        }
        (grave, None, slight) => format!("{grave} {}, and {slight} slight", kind.counted(grave)),
        (grave, Some(least), slight) => {
            format!("{grave} {}, least {}, and {slight} slight", kind.counted(grave), unit.show_fine(least))
        }
    }
}
