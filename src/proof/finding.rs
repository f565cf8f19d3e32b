//! One thing to know: what, how serious, where, and what to do about it.

use super::overhang::Overhang;
use super::stock::StockRow;
use crate::geometry::widths::AxisPoint;
use crate::shop::{BlemishKind, Check};
use crate::units::{LengthUnit, Mm, trimmed};
use glam::DVec2;
use serde::{Deserialize, Serialize};

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
    /// A groove the cutter cannot enter.
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
    Unseen,
    /// The end of a point, thinner than the limit.
    LostTip,
    /// Something about the board has not been measured.
    NotChecked,
}

/// What else a finding is about, beyond its lengths.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum About {
    /// Nothing more.
    #[default]
    Nothing,
    /// The height of the line to expect in a snipe zone.
    Step(Mm),
    /// A blemish of this kind.
    Blemish(BlemishKind),
    /// A line of the bench list.
    Stock(StockRow),
    /// The lines of the bench list that nobody has filled in.
    Unmeasured(Vec<Check>),
    /// An end of the board outside the machine.
    Overhang(Overhang),
    /// The wood whose strength stands in for this one's in the limit.
    StandIn(String),
    /// The element all round an unseen one, and whether the two stand or are floors.
    Around {
        /// Its name.
        name: String,
        /// Whether they stand.
        stands: bool,
    },
}

/// What a finding about the board, the machine or the ends is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Aspect {
    /// A place in the design.
    Design,
    /// The board is longer than the machine takes.
    TooLong,
    /// The board is wider than the machine takes.
    TooWide,
    /// The board is thicker than the machine takes.
    TooThick,
    /// The board is shorter than can be fed by itself.
    TooShort,
    /// The board is narrower than can be fed by itself.
    TooNarrow,
    /// The board is thinner than can be fed by itself.
    TooThin,
    /// The cut is deeper than the cutter's edges reach.
    Flutes,
    /// A pointed cutter is asked for a flat floor or an upright side.
    PointOnAFloor,
    /// A cutter without a point is asked for a V groove.
    NoPoint,
    /// The end that is fed first.
    LeadingEnd,
    /// The end that is fed last.
    TrailingEnd,
    /// The left end, as drawn.
    LeftEnd,
    /// The right end, as drawn.
    RightEnd,
    /// The edge against the fence.
    ReferenceEdge,
    /// The edge opposite.
    FarEdge,
    /// The board as it was measured at the bench.
    Stock,
    /// The side where the board goes in.
    Infeed,
    /// The side where it comes out.
    Outfeed,
}

/// A run shorter than this is told as a spot.
const SPOT: Mm = Mm::new(0.1);

/// One thing to know.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// What kind of thing.
    pub kind: FindingKind,
    /// What it is about.
    pub aspect: Aspect,
    /// How serious.
    pub severity: Severity,
    /// Names the same thing again at another size: `thin_wall-17`.
    pub id: String,
    /// Where on the board, board millimetres; for a finding about the whole board, its middle.
    pub at: DVec2,
    /// What was measured, at this size: a width, a length; for a tip, the length lost.
    pub measured: Mm,
    /// What it should be at least (or, for what a machine takes, at most); for a tip, the wall's limit.
    pub limit: Mm,
    /// How much of it there is, at this size: length along the wall or groove.
    pub run: Mm,
    /// Interior angle of a tip's corner, radians; 0 for anything else.
    pub apex: f64,
    /// Which way its thinnest place runs in the design, radians from its x axis; 0 where it is no place of
    /// the design.
    pub direction: f64,
    /// The share of the design's area concerned, 0 to 1, for a snipe zone; 0 for anything else.
    pub share: f64,
    /// The element it belongs to, where there is one.
    pub element: Option<String>,
    /// The name of the cutter it is about, where that is not the job's.
    pub cutter: Option<String>,
    /// The thin part of the axis in design space, as chords with the width at either end; for drawing.
    pub axis: Vec<[AxisPoint; 2]>,
    /// What else it is about.
    pub about: About,
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
            FindingKind::BlockedGroove => "blocked_groove",
            FindingKind::ShallowGroove => "shallow_groove",
            FindingKind::SnipeZone => "snipe_zone",
            FindingKind::Blemish => "blemish",
            FindingKind::SensingStrip => "sensing_strip",
            FindingKind::ThicknessLeft => "thickness_left",
            FindingKind::Warp => "warp",
            FindingKind::Overhang => "overhang",
            FindingKind::Unseen => "unseen",
            FindingKind::LostTip => "lost_tip",
            FindingKind::NotChecked => "not_checked",
        }
    }
}

impl Finding {
    /// A length as fine as this kind of finding needs it: widths in the wood are told finer than boards.
    pub fn show(&self, unit: LengthUnit, length: Mm) -> String {
        match self.kind {
            FindingKind::ThinWall
            | FindingKind::BlockedGroove
            | FindingKind::ShallowGroove
            | FindingKind::ThicknessLeft
            | FindingKind::Warp
            | FindingKind::LostTip => unit.show_fine(length),
            FindingKind::BoardShort
            | FindingKind::BoardNarrow
            | FindingKind::BoardThin
            | FindingKind::MachineLimit
            | FindingKind::CutterLimit
            | FindingKind::Blemish
            | FindingKind::SensingStrip
            | FindingKind::Overhang
            | FindingKind::Unseen
            | FindingKind::NotChecked
            | FindingKind::SnipeZone => unit.show(length),
        }
    }

    /// What was found, in the user's unit: one sentence without a full stop.
    pub fn message(&self, unit: LengthUnit) -> String {
        let facts = self.facts(unit);
        match &self.about {
            About::StandIn(wood) => format!("{facts} ({wood} stands in: no strength published)"),
            _ => facts,
        }
    }

    /// The message but for what stands in.
    fn facts(&self, unit: LengthUnit) -> String {
        let (measured, limit) = (self.show(unit, self.measured), self.show(unit, self.limit));
        let run = unit.show(self.run);
        let (cutter, the_cutter) = match &self.cutter {
            None => ("the cutter", "The cutter"),
            Some(name) => (name.as_str(), name.as_str()),
        };
        let limit_is = match &self.cutter {
            None => format!("the limit is {limit}"),
            Some(name) => format!("with {name} the limit is {limit}"),
        };
        let degrees = self.apex.to_degrees();
        match (self.kind, self.aspect) {
            (FindingKind::BoardShort, Aspect::LeftEnd | Aspect::RightEnd)
            | (FindingKind::BoardNarrow, Aspect::ReferenceEdge | Aspect::FarEdge) => {
                self.misplaced_message(unit)
            }
            (FindingKind::BoardShort, _) => {
                format!("The board is {measured} long; this size needs {limit}")
            }
            (FindingKind::BoardNarrow, _) => {
                format!("The board is {measured} wide; this size needs {limit}")
            }
            (FindingKind::BoardThin, _) => {
                format!("The board is {measured} thick; this depth needs {limit}")
            }
            (FindingKind::CutterLimit, _) => self.cutter_message(unit),
            (FindingKind::MachineLimit, Aspect::TooLong) => {
                format!("The board is {measured} long; the machine takes {limit}")
            }
            (FindingKind::MachineLimit, Aspect::TooWide) => {
                format!("The board is {measured} wide; the machine takes {limit}")
            }
            (FindingKind::MachineLimit, Aspect::TooThick) => {
                format!("The board is {measured} thick; the machine takes {limit}")
            }
            (FindingKind::MachineLimit, Aspect::TooShort) => {
                format!("The board is {measured} long; fed by itself it must be {limit}")
            }
            (FindingKind::MachineLimit, Aspect::TooNarrow) => {
                format!("The board is {measured} wide; fed by itself it must be {limit}")
            }
            (FindingKind::MachineLimit, _) => {
                format!("The board is {measured} thick; fed by itself it must be {limit}")
            }
            (FindingKind::ThinWall, _) if self.measured == Mm::ZERO => {
                format!("Standing wood thins to nothing where two carved places touch; {limit_is}")
            }
            (FindingKind::ThinWall, _) if self.run < SPOT => {
                format!("A wall {measured} thick at one spot; {limit_is}")
            }
            (FindingKind::ThinWall, _) => {
                format!("A wall {measured} thick for {run}; {limit_is}")
            }
            (FindingKind::BlockedGroove, _) if self.apex > 0.0 => {
                format!("{the_cutter} stops {measured} short of a {degrees:.0}\u{b0} corner")
            }
            (FindingKind::BlockedGroove, _) if self.run < SPOT => {
                format!("A groove {measured} wide at one spot; {cutter} needs {limit}")
            }
            (FindingKind::BlockedGroove, _) => {
                format!("A groove {measured} wide for {run}; {cutter} needs {limit}")
            }
            (FindingKind::ShallowGroove, _) => {
                format!("A V groove {measured} wide for {run}; under {limit} it hardly shows")
            }
            (FindingKind::SnipeZone, aspect) => {
                let end = if aspect == Aspect::LeadingEnd { "leading" } else { "trailing" };
                let step = match self.about {
                    About::Step(step) => format!("; expect a line {} high", unit.show_fine(step)),
                    _ => String::new(),
                };
                format!(
                    "{:.0} % of the design, {measured} of its length, is carved while the {end} end is past its roller{step}",
                    self.share * 100.0
                )
            }
            (
                FindingKind::Blemish
                | FindingKind::SensingStrip
                | FindingKind::ThicknessLeft
                | FindingKind::Warp
                | FindingKind::Overhang
                | FindingKind::NotChecked,
                _,
            ) => self.stock_message(unit),
            (FindingKind::Unseen, _) => self.unseen_message(),
            (FindingKind::LostTip, _) => format!(
                "The last {measured} of a {degrees:.0}\u{b0} point is thinner than {limit}, at any size"
            ),
        }
    }

    /// Where on the board it is and of which element, to follow its message: `, at 12, 30 mm (reeds)`, from
    /// the left end and the reference edge; nothing for what lies nowhere.
    pub fn place(&self, unit: LengthUnit) -> String {
        let of_board = matches!(self.kind, FindingKind::BoardShort | FindingKind::BoardNarrow);
        let at = if self.aspect == Aspect::Design && !of_board {
            let (x, y) = (Mm::new(self.at.x), Mm::new(self.at.y));
            format!(", at {}, {}", unit.number(x), unit.show(y))
        } else {
            String::new()
        };
        let element = self.element.as_ref().map_or_else(String::new, |name| format!(" ({name})"));
        at + &element
    }

    /// What to do about it: one sentence without a full stop.
    pub fn advice(&self, unit: LengthUnit) -> String {
        let limit = self.show(unit, self.limit);
        match (self.kind, self.aspect) {
            (FindingKind::BoardShort, Aspect::LeftEnd | Aspect::RightEnd) => {
                format!("Move it until {limit} is free at that end")
            }
            (FindingKind::BoardNarrow, Aspect::ReferenceEdge | Aspect::FarEdge) => {
                format!("Move it until {limit} is free at that edge")
            }
            (FindingKind::BoardShort, _) => {
                format!("Take a board at least {limit} long, or carve it smaller")
            }
            (FindingKind::BoardNarrow, _) => {
                format!("Take a board at least {limit} wide, or carve it smaller")
            }
            (FindingKind::BoardThin, _) => "Take a thicker board, or carve less deep".to_owned(),
            (FindingKind::CutterLimit, Aspect::PointOnAFloor) => {
                "Take a flat or ball end, or have it incised".to_owned()
            }
            (FindingKind::CutterLimit, Aspect::NoPoint) => "Take a V, or have it sunk".to_owned(),
            (FindingKind::CutterLimit, _) => "Take a cutter with longer edges, or carve less deep".to_owned(),
            (FindingKind::MachineLimit, Aspect::TooLong | Aspect::TooWide | Aspect::TooThick) => {
                "Cut the board down, or take another machine".to_owned()
            }
            (FindingKind::MachineLimit, _) => "Take a larger board, or carry this one on a sled".to_owned(),
            (FindingKind::ThinWall, _) => {
                format!("Carve it larger, thicken the wall to {limit} in the drawing, or carve less deep")
            }
            (FindingKind::BlockedGroove, _) if self.apex > 0.0 => {
                "Expect a rounded corner, or finish it by hand".to_owned()
            }
            (FindingKind::BlockedGroove, _) => {
                format!(
                    "Take a smaller cutter, carve it larger, or widen the groove to {limit} in the drawing"
                )
            }
            (FindingKind::ShallowGroove, _) => {
                "Carve it larger, widen the stroke, or take a V with a smaller angle".to_owned()
            }
            (FindingKind::SnipeZone, _) => {
                "Keep the roller allowance at both ends, or expect to sand out a line there".to_owned()
            }
            (FindingKind::Blemish, _) => {
                "Move the design, have a clear place found, or take another board".to_owned()
            }
            (FindingKind::SensingStrip, _) => {
                "Put a sound edge against the fence, move the design, or take another board".to_owned()
            }
            (FindingKind::ThicknessLeft, _) => {
                "Flatten the board, take a thicker one, or carve less deep".to_owned()
            }
            (FindingKind::Warp, _) => match &self.about {
                About::Stock(row) => row.advice().to_owned(),
                _ => "Plane the board flat".to_owned(),
            },
            (FindingKind::Overhang, _) => match &self.about {
                About::Overhang(overhang) if !overhang.stands.is_empty() => format!(
                    "Put a stand as high as the bed under it, {} past the {} roller",
                    overhang.stands_words(unit),
                    overhang.side.label()
                ),
                _ => "Cut the board shorter, or hold up its end by hand".to_owned(),
            },
            (FindingKind::NotChecked, _) => {
                "Measure them with a straightedge, a square and feeler gauges before carving".to_owned()
            }
            (FindingKind::Unseen, _) => match &self.about {
                About::Around { stands: true, .. } => "Have one of the two sunk or incised".to_owned(),
                _ => "Give one of the two another depth, or have it stand".to_owned(),
            },
            (FindingKind::LostTip, _) => {
                format!("Blunt the point to {limit} in the drawing, or expect it to break off")
            }
        }
    }

    fn unseen_message(&self) -> String {
        let element = self.element.as_deref().unwrap_or("An element");
        match &self.about {
            About::Around { name, stands: true } => {
                format!("{element} will not show: it stands as high as {name} all round it")
            }
            About::Around { name, .. } => {
                format!("{element} will not show: it is carved as deep as {name} all round it")
            }
            _ => format!("{element} will not show"),
        }
    }

    fn blemish(&self) -> &'static str {
        match self.about {
            About::Blemish(kind) => kind.named(),
            _ => "a blemish",
        }
    }

    /// What was found of the piece of wood itself.
    fn stock_message(&self, unit: LengthUnit) -> String {
        let (measured, limit) = (self.show(unit, self.measured), self.show(unit, self.limit));
        match self.kind {
            FindingKind::Blemish => {
                let named = capitalised(self.blemish());
                if self.limit > Mm::ZERO && self.measured > Mm::ZERO {
                    format!("{named} lies {measured} from the carved place; it should be clear by {limit}")
                } else if self.element.is_some() {
                    format!("{named} lies under the design's outline")
                } else {
                    format!("{named} lies within the carved place")
                }
            }
            FindingKind::SensingStrip => {
                let what = match self.about {
                    About::Blemish(kind) => kind.named(),
                    _ => "a cut through the board",
                };
                format!(
                    "{} breaks the strip that the position sensor reads: {measured} from the edge, where {limit} must be whole",
                    capitalised(what)
                )
            }
            FindingKind::ThicknessLeft => {
                format!("With its warp {measured} is left under the deepest cut; {limit} is usual")
            }
            FindingKind::Warp => match &self.about {
                About::Stock(row) => row.words(unit),
                _ => format!("The board is out of true by {measured}"),
            },
            FindingKind::Overhang => self.overhang_message(unit),
            _ => {
                let names: Vec<&str> = match &self.about {
                    About::Unmeasured(checks) => checks.iter().map(|check| check.label()).collect(),
                    _ => Vec::new(),
                };
                format!("Not checked on this board: {}", names.join(", "))
            }
        }
    }

    /// What a cutter cannot do; it is named where it is not the job's.
    fn cutter_message(&self, unit: LengthUnit) -> String {
        match (self.aspect, &self.cutter) {
            (Aspect::PointOnAFloor, None) => {
                "A pointed cutter leaves a ridged floor and sloping sides".to_owned()
            }
            (Aspect::PointOnAFloor, Some(name)) => {
                format!("{name} is pointed: it leaves a ridged floor and sloping sides")
            }
            (Aspect::NoPoint, None) => "A cutter without a point cannot cut a V groove".to_owned(),
            (Aspect::NoPoint, Some(name)) => format!("{name} has no point: it cannot cut a V groove"),
            (_, name) => {
                let edges = name
                    .as_ref()
                    .map_or_else(|| "this cutter's edges".to_owned(), |name| format!("the edges of {name}"));
                let (measured, limit) = (self.show(unit, self.measured), self.show(unit, self.limit));
                format!("The cut is {measured} deep; {edges} reach {limit}")
            }
        }
    }

    /// A typed or dragged place too near an end or edge of the board.
    fn misplaced_message(&self, unit: LengthUnit) -> String {
        let side = match self.aspect {
            Aspect::LeftEnd => "left end",
            Aspect::RightEnd => "right end",
            Aspect::ReferenceEdge => "reference edge",
            _ => "far edge",
        };
        let limit = self.show(unit, self.limit);
        if self.measured < Mm::ZERO {
            let past = self.show(unit, -self.measured);
            format!("The design runs {past} past the {side}; {limit} of board is needed there")
        } else {
            let measured = self.show(unit, self.measured);
            format!("The design lies {measured} from the {side}; {limit} is needed there")
        }
    }

    fn overhang_message(&self, unit: LengthUnit) -> String {
        let (measured, limit) = (self.show(unit, self.measured), self.show(unit, self.limit));
        let About::Overhang(overhang) = &self.about else {
            return format!("{measured} of the board hangs out of the machine");
        };
        let force = overhang.lift.map_or_else(String::new, |newtons| {
            format!(", lifting the other end with {} N", trimmed(newtons, 0))
        });
        format!(
            "{measured} of the board hangs past the {} roller and tips it{force}; {limit} stays down by itself",
            overhang.side.label()
        )
    }
}

/// Words with a capital at their start.
pub(crate) fn capitalised(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}
