//! One thing to know about a job at its size: what, how serious and where, as facts.
//!
//! No finding holds a sentence: [`crate::words::finding`] makes them from what stands here.

use super::limit::{Held, HeldWall};
use super::overhang::{FeedSide, Overhang};
use super::stock::StockRow;
use super::{BoardSide, FLOOR_LEFT};
use crate::geometry::widths::AxisPoint;
use crate::shop::{BlemishKind, Check};
use crate::units::Mm;
use glam::{DAffine2, DVec2};
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// How serious a finding is; the order is from harmless to grave.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// Worth knowing; nothing is lost that the drawing did not ask for.
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
    /// The board is too short.
    BoardShort,
    /// The board is too narrow.
    BoardNarrow,
    /// The board is too thin.
    BoardThin,
    /// The machine does not take the board.
    MachineLimit,
    /// The cutter cannot do what is asked.
    CutterLimit,
    /// Standing wood between two carved places, thinner than the limit.
    ThinWall,
    /// A piece of the board that a cut through it runs all round.
    LoosePiece,
    /// A groove the cutter cannot enter, or a corner it cannot follow.
    BlockedGroove,
    /// A V groove too narrow to reach a depth that shows.
    ShallowGroove,
    /// Part of the design is carved while an end is past its roller.
    SnipeZone,
    /// A blemish of the board under the design.
    Blemish,
    /// The strip that the position sensor reads is broken.
    SensingStrip,
    /// Too little wood is left under the deepest cut.
    ThicknessLeft,
    /// The board is not as flat, straight or dry as it should be.
    Warp,
    /// The board's own weight tips it.
    Overhang,
    /// An element is no different from what is all round it.
    #[serde(rename = "unseen")]
    Invisible,
    /// The end of a point, thinner than the limit.
    LostTip,
    /// Something about the board has not been measured.
    NotChecked,
}

impl FindingKind {
    /// The kind's name in the JSON proof.
    pub fn id(self) -> &'static str {
        match self {
            FindingKind::BoardShort => "board_short",
            FindingKind::BoardNarrow => "board_narrow",
            FindingKind::BoardThin => "board_thin",
            FindingKind::MachineLimit => "machine_limit",
            FindingKind::CutterLimit => "cutter_limit",
            FindingKind::ThinWall => "thin_wall",
            FindingKind::LoosePiece => "loose_piece",
            FindingKind::BlockedGroove => "blocked_groove",
            FindingKind::ShallowGroove => "shallow_groove",
            FindingKind::SnipeZone => "snipe_zone",
            FindingKind::Blemish => "blemish",
            FindingKind::SensingStrip => "sensing_strip",
            FindingKind::ThicknessLeft => "thickness_left",
            FindingKind::Warp => "warp",
            FindingKind::Overhang => "overhang",
            FindingKind::Invisible => "unseen",
            FindingKind::LostTip => "lost_tip",
            FindingKind::NotChecked => "not_checked",
        }
    }
}

/// One thing to know. How serious it is follows from its facts: [`Finding::severity`].
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Names the same thing again at another size: `thin_wall-thin_wall-17`.
    pub id: String,
    /// Where on the board, board millimetres; for a finding about the whole board, its middle.
    pub at: DVec2,
    /// What was found.
    pub facts: Facts,
}

/// What was found, a variant a kind of thing, each with its own facts. Lengths are those at the size that
/// was proofed.
#[derive(Clone, Debug, PartialEq)]
pub enum Facts {
    /// The board is shorter than this size needs.
    BoardShort {
        /// The board's length.
        length: Mm,
        /// What this size needs.
        needed: Mm,
    },
    /// The board is narrower than this size needs.
    BoardNarrow {
        /// The board's width.
        width: Mm,
        /// What this size needs.
        needed: Mm,
    },
    /// The board is thinner than the deepest cut and the wood to be left under it.
    BoardThin {
        /// The board's thickness.
        thickness: Mm,
        /// What this depth needs.
        needed: Mm,
        /// How deep the deepest cut is.
        deepest: Mm,
    },
    /// A typed or dragged place leaves too little board beyond the design on one side.
    Misplaced {
        /// Which side.
        side: BoardSide,
        /// Board beyond the frame there; negative where it runs off the board.
        free: Mm,
        /// What is needed there.
        needed: Mm,
    },
    /// The machine does not take the board by itself.
    MachineLimit {
        /// Which of the board's measures, and which way.
        bound: MachineBound,
        /// The board's.
        measured: Mm,
        /// The machine's.
        limit: Mm,
    },
    /// The cutter cannot do what is asked.
    CutterLimit {
        /// What it cannot do.
        refusal: CutterRefusal,
        /// The element and the cutter, where an element has one of its own; else it is the job's cutter.
        own: Option<OwnCutter>,
    },
    /// Standing wood between two carved places is thinner than the limit.
    ThinWall {
        /// Its thickness where it is thinnest for its limit.
        width: Mm,
        /// The chance that it holds.
        chance: f64,
        /// How serious that chance is.
        severity: Severity,
        /// The wood whose strength stands in for this one's in the limit.
        stand_in: Option<String>,
        /// What at the machine alone would make it sound.
        gentler: Gentler,
        /// Where in the design.
        place: ThinPlace,
    },
    /// The end of a point is thinner than the limit. As long as the place's run, it may break off.
    LostTip {
        /// Interior angle of the corner, radians.
        apex: f64,
        /// The wood whose strength stands in for this one's in the limit.
        stand_in: Option<String>,
        /// Where in the design; its run is the length that is lost.
        place: ThinPlace,
    },
    /// A cut through the board runs all round a piece of it.
    LoosePiece {
        /// The longer side of its box.
        across: Mm,
        /// Whether bridges hold it until the board is off the machine.
        bridged: bool,
    },
    /// A groove is narrower than the cutter.
    BlockedGroove {
        /// Its least width.
        width: Mm,
        /// Where in the design.
        place: ThinPlace,
    },
    /// The cutter stops short of a sharp inside corner and leaves it round.
    RoundedCorner {
        /// Interior angle of the corner, radians.
        apex: f64,
        /// How far from the corner the cutter's edge stops.
        short: Mm,
        /// Where in the design; its run is the part that is narrower than the cutter.
        place: ThinPlace,
    },
    /// A V groove is too narrow to reach a depth that shows.
    ShallowGroove {
        /// Its least width.
        width: Mm,
        /// Where in the design.
        place: ThinPlace,
    },
    /// Part of the design is carved while an end of the board is past its roller.
    SnipeZone {
        /// Which end.
        end: FedEnd,
        /// How much of the design's length lies there.
        length: Mm,
        /// The share of the design's area that lies there, 0 to 1.
        share: f64,
        /// How low and how high a line to expect; both the same where the machine was measured.
        step: [Mm; 2],
    },
    /// A blemish lies within the carved place, or nearer to it than its clearance.
    Blemish {
        /// What it is.
        kind: BlemishKind,
        /// How far the shape itself is from the carved place; 0 where it reaches into it.
        distance: Mm,
        /// How far it should be.
        clearance: Mm,
        /// The element whose outline it comes upon.
        met: Option<String>,
    },
    /// Something breaks the strip of the underside that the position sensor reads.
    SensingStrip {
        /// What breaks it.
        breach: StripBreach,
        /// How far it is from the edge.
        from_edge: Mm,
        /// How wide the strip is.
        strip: Mm,
    },
    /// With the board's warp, less than [`FLOOR_LEFT`] is left under the deepest cut.
    ThicknessLeft {
        /// What is left.
        left: Mm,
    },
    /// A line of the bench list is not as it should be.
    Warp(StockRow),
    /// The board's own weight tips it about a roller.
    Overhang {
        /// The board past that roller.
        overhang: Overhang,
        /// What the other roller holds down with, newtons.
        hold_down: f64,
    },
    /// An element is no different from what is all round it.
    Invisible {
        /// Its name.
        element: String,
        /// The name of the element all round it.
        around: String,
        /// Whether both stand; else both are floors.
        stands: bool,
    },
    /// Lines of the bench list that nobody has filled in.
    NotChecked(Vec<Check>),
}

/// A place of the design that is thinner or narrower than its limit.
#[derive(Clone, Debug, PartialEq)]
pub struct ThinPlace {
    /// The limit, and what it follows from.
    pub held: Held,
    /// How much of it there is: length along the wall or groove; of a point, from its corner.
    pub run: Mm,
    /// Direction in which its thinnest place runs in the design, radians from its x axis.
    pub direction: f64,
    /// The element it lies in; `None` in the board or the ground.
    pub element: Option<String>,
    /// The name of the cutter that the limit is for, where that is not the job's.
    pub cutter: Option<String>,
    /// How far its width may be off, where the design was traced from a picture.
    pub within: Option<Mm>,
    /// The thin part of the axis in design space, as chords with the width at either end; for drawing.
    pub axis: Arc<[[AxisPoint; 2]]>,
}

impl ThinPlace {
    /// From and to where a width measured at the place may be, if the picture it was traced from leaves open
    /// whether it is under its limit.
    pub fn in_doubt(&self, width: Mm) -> Option<[Mm; 2]> {
        let within = self.within.filter(|&within| width + within >= self.held.limit)?;
        let least = if width > within { width - within } else { Mm::ZERO };
        Some([least, width + within])
    }
}

/// A gentler cut beside a wall that would make it sound as it is drawn; nothing where only next to no cut would.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Gentler {
    /// Passes no deeper than this.
    pub pass: Option<Mm>,
    /// A feed no faster than this, millimetres a minute.
    pub feed: Option<f64>,
}

/// A measure of the board that the machine sets a bound to, and on which side of it the board is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MachineBound {
    /// Longer than the machine takes.
    TooLong,
    /// Wider than the machine takes.
    TooWide,
    /// Thicker than the machine takes.
    TooThick,
    /// Shorter than can be fed by itself.
    TooShort,
    /// Narrower than can be fed by itself.
    TooNarrow,
    /// Thinner than can be fed by itself.
    TooThin,
}

/// What a cutter cannot do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CutterRefusal {
    /// Cut deeper than its edges reach.
    TooDeep {
        /// How deep it is asked to cut.
        depth: Mm,
        /// How far its edges reach.
        edges: Mm,
    },
    /// A pointed cutter is asked for a flat floor or an upright side.
    PointOnAFloor,
    /// A cutter without a point is asked for a V groove.
    NoPoint,
}

/// A cutter that an element has of its own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnCutter {
    /// The element's name.
    pub element: String,
    /// The cutter's name.
    pub cutter: String,
}

/// An end of the board, by when it is fed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FedEnd {
    /// Fed first.
    Leading,
    /// Fed last.
    Trailing,
}

/// What breaks the sensing strip.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StripBreach {
    /// A blemish.
    Blemish(BlemishKind),
    /// A cut through the board.
    Cut {
        /// The element that is cut through.
        element: String,
    },
}

/// A point that loses more than this many times the wall limit is more than a blunted corner. Every
/// corner of 60 degrees loses one limit and an ordinary pointed letter two; only slender points are
/// worth a warning. Our own judgement.
const SLENDER_TIP: f64 = 2.0;

fn tip_severity(place: &ThinPlace) -> Severity {
    if place.run.get() > SLENDER_TIP * place.held.limit.get() { Severity::Chancy } else { Severity::Sound }
}

impl Facts {
    /// The kind of thing.
    pub fn kind(&self) -> FindingKind {
        match self {
            Facts::BoardShort { .. } | Facts::Misplaced { side: BoardSide::Left | BoardSide::Right, .. } => {
                FindingKind::BoardShort
            }
            Facts::BoardNarrow { .. }
            | Facts::Misplaced { side: BoardSide::Lower | BoardSide::Upper, .. } => FindingKind::BoardNarrow,
            Facts::BoardThin { .. } => FindingKind::BoardThin,
            Facts::MachineLimit { .. } => FindingKind::MachineLimit,
            Facts::CutterLimit { .. } => FindingKind::CutterLimit,
            Facts::ThinWall { .. } => FindingKind::ThinWall,
            Facts::LostTip { .. } => FindingKind::LostTip,
            Facts::LoosePiece { .. } => FindingKind::LoosePiece,
            Facts::BlockedGroove { .. } | Facts::RoundedCorner { .. } => FindingKind::BlockedGroove,
            Facts::ShallowGroove { .. } => FindingKind::ShallowGroove,
            Facts::SnipeZone { .. } => FindingKind::SnipeZone,
            Facts::Blemish { .. } => FindingKind::Blemish,
            Facts::SensingStrip { .. } => FindingKind::SensingStrip,
            Facts::ThicknessLeft { .. } => FindingKind::ThicknessLeft,
            Facts::Warp(_) => FindingKind::Warp,
            Facts::Overhang { .. } => FindingKind::Overhang,
            Facts::Invisible { .. } => FindingKind::Invisible,
            Facts::NotChecked(_) => FindingKind::NotChecked,
        }
    }

    /// How serious it is.
    #[expect(clippy::match_same_arms, reason = "an arm a reason, and each reason is said")]
    pub fn severity(&self) -> Severity {
        match self {
            Facts::BoardShort { .. }
            | Facts::BoardNarrow { .. }
            | Facts::Misplaced { .. }
            | Facts::MachineLimit { .. }
            | Facts::CutterLimit { .. }
            | Facts::BlockedGroove { .. }
            | Facts::SensingStrip { .. } => Severity::Unsound,
            Facts::ThinWall { severity, .. } => *severity,
            // A floor thinner than is usual may hold; a cut deeper than the board is thick does not.
            Facts::BoardThin { thickness, deepest, .. } if deepest < thickness => Severity::Chancy,
            Facts::BoardThin { .. } => Severity::Unsound,
            // It may be waste, or the very thing that is cut out; loose under the cutter it is flung.
            Facts::LoosePiece { bridged: true, .. } => Severity::Chancy,
            Facts::LoosePiece { bridged: false, .. } => Severity::Unsound,
            Facts::LostTip { place, .. } | Facts::RoundedCorner { place, .. } => tip_severity(place),
            // Two elements that look alike may be meant as one.
            Facts::ShallowGroove { .. } | Facts::SnipeZone { .. } | Facts::Invisible { .. } => {
                Severity::Chancy
            }
            // One that an outline comes upon is graver than one in bare ground between them.
            Facts::Blemish { kind, met: Some(_), .. } if kind.breaks_the_wood() => Severity::Unsound,
            Facts::Blemish { .. } => Severity::Chancy,
            Facts::ThicknessLeft { left } if *left > Mm::ZERO => Severity::Chancy,
            Facts::ThicknessLeft { .. } => Severity::Unsound,
            Facts::Warp(row) => row.severity,
            Facts::Overhang { overhang, hold_down } if overhang.lift_share(*hold_down) > 1.0 => {
                Severity::Chancy
            }
            Facts::Overhang { .. } | Facts::NotChecked(_) => Severity::Sound,
        }
    }

    /// What was measured: a width or a length; of a point the length lost, of a rounded corner how far short
    /// of it the cutter stops. `None` where nothing is.
    pub fn measured(&self) -> Option<Mm> {
        match self {
            Facts::BoardShort { length, .. } | Facts::SnipeZone { length, .. } => Some(*length),
            Facts::BoardNarrow { width, .. }
            | Facts::ThinWall { width, .. }
            | Facts::BlockedGroove { width, .. }
            | Facts::ShallowGroove { width, .. } => Some(*width),
            Facts::BoardThin { thickness, .. } => Some(*thickness),
            Facts::Misplaced { free, .. } => Some(*free),
            Facts::MachineLimit { measured, .. } => Some(*measured),
            Facts::CutterLimit { refusal: CutterRefusal::TooDeep { depth, .. }, .. } => Some(*depth),
            Facts::LostTip { place, .. } => Some(place.run),
            Facts::RoundedCorner { short, .. } => Some(*short),
            Facts::LoosePiece { across, .. } => Some(*across),
            Facts::Blemish { distance, .. } => Some(*distance),
            Facts::SensingStrip { from_edge, .. } => Some(*from_edge),
            Facts::ThicknessLeft { left } => Some(*left),
            Facts::Warp(row) => Some(row.depth_error.max(row.sideways)),
            Facts::Overhang { overhang, .. } => Some(overhang.reach),
            Facts::CutterLimit { .. } | Facts::Invisible { .. } | Facts::NotChecked(_) => None,
        }
    }

    /// What that should be at least (for what a machine or a cutter takes, at most); of a point the wall's
    /// limit, of a rounded corner the cutter's width. `None` where there is no such number.
    pub fn limit(&self) -> Option<Mm> {
        match self {
            Facts::BoardShort { needed, .. }
            | Facts::BoardNarrow { needed, .. }
            | Facts::BoardThin { needed, .. }
            | Facts::Misplaced { needed, .. } => Some(*needed),
            Facts::MachineLimit { limit, .. } => Some(*limit),
            Facts::CutterLimit { refusal: CutterRefusal::TooDeep { edges, .. }, .. } => Some(*edges),
            Facts::ThinWall { place, .. }
            | Facts::LostTip { place, .. }
            | Facts::BlockedGroove { place, .. }
            | Facts::RoundedCorner { place, .. }
            | Facts::ShallowGroove { place, .. } => Some(place.held.limit),
            Facts::Blemish { clearance, .. } => Some(*clearance),
            Facts::SensingStrip { strip, .. } => Some(*strip),
            Facts::ThicknessLeft { .. } => Some(FLOOR_LEFT),
            Facts::Warp(row) => row.tolerance(),
            Facts::Overhang { overhang, .. } => Some(overhang.balance),
            Facts::CutterLimit { .. }
            | Facts::LoosePiece { .. }
            | Facts::SnipeZone { .. }
            | Facts::Invisible { .. }
            | Facts::NotChecked(_) => None,
        }
    }

    /// The thin place of the design; `None` for what is no such place.
    pub fn thin_place(&self) -> Option<&ThinPlace> {
        match self {
            Facts::ThinWall { place, .. }
            | Facts::LostTip { place, .. }
            | Facts::BlockedGroove { place, .. }
            | Facts::RoundedCorner { place, .. }
            | Facts::ShallowGroove { place, .. } => Some(place),
            _ => None,
        }
    }

    /// Whether a larger size mends it: a wall, a groove or a V that is thin between two sides. The end of a
    /// point is as thin at any size.
    pub fn size_helps(&self) -> bool {
        matches!(self, Facts::ThinWall { .. } | Facts::BlockedGroove { .. } | Facts::ShallowGroove { .. })
    }
}

impl Finding {
    /// A finding about the whole board, which is placed at its middle.
    pub(super) fn of_the_board(id: String, board: [Mm; 2], facts: Facts) -> Finding {
        let [length, width] = board.map(Mm::get);
        Finding { id, at: DVec2::new(length, width) * 0.5, facts }
    }

    /// What kind of thing.
    pub fn kind(&self) -> FindingKind {
        self.facts.kind()
    }

    /// How serious.
    pub fn severity(&self) -> Severity {
        self.facts.severity()
    }

    /// What was measured; see [`Facts::measured`].
    pub fn measured(&self) -> Option<Mm> {
        self.facts.measured()
    }

    /// What it is held to; see [`Facts::limit`].
    pub fn limit(&self) -> Option<Mm> {
        self.facts.limit()
    }

    /// How much of it there is: length along a wall, a groove or the board, or what the bench list says.
    pub fn run(&self) -> Option<Mm> {
        match &self.facts {
            Facts::SnipeZone { length, .. } => Some(*length),
            Facts::Warp(row) => row.length,
            facts => facts.thin_place().map(|place| place.run),
        }
    }

    /// The element it belongs to, where there is one.
    pub fn element(&self) -> Option<&str> {
        match &self.facts {
            Facts::CutterLimit { own, .. } => own.as_ref().map(|own| own.element.as_str()),
            Facts::Blemish { met, .. } => met.as_deref(),
            Facts::SensingStrip { breach: StripBreach::Cut { element }, .. }
            | Facts::Invisible { element, .. } => Some(element),
            facts => facts.thin_place().and_then(|place| place.element.as_deref()),
        }
    }

    /// The name of the cutter it is about, where that is not the job's.
    pub fn cutter(&self) -> Option<&str> {
        match &self.facts {
            Facts::CutterLimit { own, .. } => own.as_ref().map(|own| own.cutter.as_str()),
            facts => facts.thin_place().and_then(|place| place.cutter.as_deref()),
        }
    }

    /// How far what was measured may be off, of a design that was traced from a picture.
    pub fn within(&self) -> Option<Mm> {
        self.facts.thin_place().and_then(|place| place.within)
    }

    /// The thin part of the axis in design space, as chords with the width at either end; empty for what is
    /// no thin place.
    pub fn axis(&self) -> &[[AxisPoint; 2]] {
        self.facts.thin_place().map_or(&[], |place| &place.axis)
    }

    /// How the wall was held to its limit; `None` for what is no wall.
    pub fn wall(&self) -> Option<&HeldWall> {
        self.facts.thin_place().and_then(|place| place.held.wall.as_ref())
    }

    /// Where it can be pointed at.
    pub fn site(&self) -> Site {
        match self.facts {
            Facts::ThinWall { .. }
            | Facts::LostTip { .. }
            | Facts::BlockedGroove { .. }
            | Facts::RoundedCorner { .. }
            | Facts::ShallowGroove { .. }
            | Facts::LoosePiece { .. }
            | Facts::Blemish { .. }
            | Facts::SensingStrip { .. }
            | Facts::Invisible { .. } => Site::Spot,
            Facts::SnipeZone { .. } => Site::Stretch,
            Facts::BoardShort { .. }
            | Facts::BoardNarrow { .. }
            | Facts::BoardThin { .. }
            | Facts::Misplaced { .. }
            | Facts::MachineLimit { .. }
            | Facts::CutterLimit { .. }
            | Facts::ThicknessLeft { .. }
            | Facts::Warp(_)
            | Facts::Overhang { .. }
            | Facts::NotChecked(_) => Site::WholeBoard,
        }
    }
}

/// Where on the board a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Site {
    /// At one spot: [`Finding::at`].
    Spot,
    /// Along a stretch of the board, with [`Finding::at`] in its middle.
    Stretch,
    /// Nowhere in particular.
    WholeBoard,
}

/// A finding in the design, wherever that lies on the board.
#[derive(Clone, Debug)]
pub(super) struct DesignFinding {
    pub(super) id: String,
    /// Where in the design.
    pub(super) at: DVec2,
    pub(super) facts: Facts,
}

impl DesignFinding {
    pub(super) fn on_board(self, board_from_design: DAffine2) -> Finding {
        Finding { id: self.id, at: board_from_design.transform_point2(self.at), facts: self.facts }
    }
}

/// Graver first; then by kind; then what falls furthest short of its limit; then by name.
pub(super) fn sort_worst_first(findings: &mut [Finding]) {
    // No two have one name; a stable sort would need room for half of them.
    findings.sort_unstable_by(|a, b| {
        b.severity()
            .cmp(&a.severity())
            .then(a.kind().cmp(&b.kind()))
            .then_with(|| shortfall(a).total_cmp(&shortfall(b)))
            .then_with(|| a.id.cmp(&b.id))
    });
}

/// Smaller is worse: the share of its limit that is there, or for the end of a point the length lost.
fn shortfall(finding: &Finding) -> f64 {
    let measured = finding.measured().map_or(0.0, Mm::get);
    match finding.facts {
        Facts::LostTip { .. } | Facts::RoundedCorner { .. } => -measured,
        _ => match finding.limit().filter(|&limit| limit > Mm::ZERO) {
            Some(limit) => measured / limit.get(),
            // Held to nothing: what reaches into the carved place comes before what does not.
            None if measured > 0.0 => f64::INFINITY,
            None => f64::NEG_INFINITY,
        },
    }
}

impl MachineBound {
    /// What names a finding of it.
    pub(super) fn id(self) -> &'static str {
        match self {
            MachineBound::TooLong => "toolong",
            MachineBound::TooWide => "toowide",
            MachineBound::TooThick => "toothick",
            MachineBound::TooShort => "tooshort",
            MachineBound::TooNarrow => "toonarrow",
            MachineBound::TooThin => "toothin",
        }
    }
}

impl CutterRefusal {
    /// What names a finding of it.
    pub(super) fn id(self) -> &'static str {
        match self {
            CutterRefusal::TooDeep { .. } => "flutes",
            CutterRefusal::PointOnAFloor => "pointonafloor",
            CutterRefusal::NoPoint => "nopoint",
        }
    }
}

impl FedEnd {
    /// What names a finding of it.
    pub(super) fn id(self) -> &'static str {
        match self {
            FedEnd::Leading => "leadingend",
            FedEnd::Trailing => "trailingend",
        }
    }
}

impl FeedSide {
    /// What names a finding of it.
    pub(super) fn id(self) -> &'static str {
        match self {
            FeedSide::Infeed => "infeed",
            FeedSide::Outfeed => "outfeed",
        }
    }
}

impl BoardSide {
    /// What names a finding of it.
    pub(super) fn id(self) -> &'static str {
        match self {
            BoardSide::Left => "leftend",
            BoardSide::Right => "rightend",
            BoardSide::Lower => "referenceedge",
            BoardSide::Upper => "faredge",
        }
    }
}
