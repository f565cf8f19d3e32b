//! One thing to know.

use crate::geometry::widths::AxisPoint;
use crate::units::{LengthUnit, Mm};
use glam::DVec2;
use serde::{Deserialize, Serialize};

/// How serious a finding is; the order is from harmless to grave.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// Worth knowing; nothing is lost.
    Sound,
    /// May come out whole.
    Chancy,
    /// Will not come out as drawn.
    Unsound,
}

/// What kind of thing was found. The names are those of the JSON proof.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FindingKind {
    /// Standing wood between two carved places, thinner than the limit.
    ThinWall,
    /// The end of a point, thinner than the limit.
    LostTip,
    /// A groove the cutter cannot enter.
    BlockedGroove,
    /// A V groove too narrow to reach a depth that shows.
    ShallowGroove,
    /// Part of the design is carved while an end is past its roller.
    SnipeZone,
    /// The board is too short.
    BoardShort,
    /// The board is too narrow.
    BoardNarrow,
    /// The board is too thin.
    BoardThin,
    /// The machine does not take the board.
    MachineLimit,
}

/// One thing to know: kind, how serious, where, measured, limit, what to do about it.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// What kind of thing.
    pub kind: FindingKind,
    /// How serious.
    pub severity: Severity,
    /// Names the same thing again at another size: `thin_wall-17`.
    pub id: String,
    /// Where on the board, board millimetres; for a finding about the whole board, its middle.
    pub at: DVec2,
    /// What was measured, at this size.
    pub measured: Mm,
    /// What it should be at least (or, for a machine's limit, at most).
    pub limit: Mm,
    /// How much of it there is: length along the wall or groove, at this size.
    pub run: Mm,
    /// The element it belongs to, where there is one.
    pub element: Option<String>,
    /// The thin part of the axis in design space, as chords with the width at either end; for drawing.
    pub axis: Vec<[AxisPoint; 2]>,
}

impl Finding {
    /// What was found, in the user's unit: one sentence without a full stop.
    pub fn message(&self, unit: LengthUnit) -> String {
        format!("{:?} {} under {}", self.kind, unit.show(self.measured), unit.show(self.limit))
    }

    /// What to do about it.
    pub fn advice(&self, unit: LengthUnit) -> String {
        let _ = unit;
        String::new()
    }
}
