//! What things are called: the names of the kinds that the rooms above hold, each beside the others.
//!
//! A method for each use of a name, on the type itself: `label()` for a list, `named()` with its article for
//! a sentence.

use crate::design::DrawingUnit;
use crate::job::{Quantity, Treatment};
use crate::proof::overhang::FeedSide;
use crate::proof::price::PriceItem;
use crate::proof::sizes::RowKind;
use crate::proof::{BoardSide, FindingKind, Severity};
use crate::relief::PathKind;
use crate::shop::{BlemishKind, Check, FeetRule, MachinePart, Sawn};
use crate::units::LengthUnit;

impl LengthUnit {
    /// The unit's name for a list.
    pub fn label(self) -> &'static str {
        match self {
            LengthUnit::Millimetres => "mm",
            LengthUnit::InchDecimal => "in, decimal",
            LengthUnit::InchSixteenth => "in, sixteenths",
            LengthUnit::InchFraction => "in, thirty-seconds",
            LengthUnit::InchSixtyFourth => "in, sixty-fourths",
        }
    }
}

impl DrawingUnit {
    /// Its name, for a list: `Pixels, 1/96 in`.
    pub fn label(self) -> &'static str {
        match self {
            DrawingUnit::Millimetre => "Millimetres",
            DrawingUnit::Pixel => "Pixels, 1/96 in",
            DrawingUnit::Point => "Points, 1/72 in",
            DrawingUnit::Inch => "Inches",
        }
    }

    /// What it is called: `a pixel, 1/96 in or 0.2646 mm`.
    pub fn words(self) -> &'static str {
        match self {
            DrawingUnit::Millimetre => "a millimetre",
            DrawingUnit::Pixel => "a pixel, 1/96 in or 0.2646 mm",
            DrawingUnit::Point => "a point, 1/72 in or 0.3528 mm",
            DrawingUnit::Inch => "an inch",
        }
    }
}

impl BlemishKind {
    /// Its name.
    pub fn label(self) -> &'static str {
        match self {
            BlemishKind::Knot => "Knot",
            BlemishKind::Split => "Split",
            BlemishKind::Hole => "Hole",
            BlemishKind::Wane => "Wane",
            BlemishKind::OldCarving => "Old carving",
        }
    }

    /// With its article, for a sentence.
    pub fn named(self) -> &'static str {
        match self {
            BlemishKind::Knot => "a knot",
            BlemishKind::Split => "a split",
            BlemishKind::Hole => "a hole",
            BlemishKind::Wane => "wane",
            BlemishKind::OldCarving => "an old carving",
        }
    }
}

impl Sawn {
    /// Its name.
    pub fn label(self) -> &'static str {
        match self {
            Sawn::Flat => "Flat",
            Sawn::Quarter => "Quarter",
        }
    }

    /// What it means, in a few words.
    pub fn meaning(self) -> &'static str {
        match self {
            Sawn::Flat => "Growth rings lie along the face: the board moves most across",
            Sawn::Quarter => "Growth rings stand upright to the face: the board moves less across",
        }
    }

    /// For the middle of a sentence: `flat-sawn`.
    pub fn word(self) -> &'static str {
        match self {
            Sawn::Flat => "flat-sawn",
            Sawn::Quarter => "quarter-sawn",
        }
    }
}

impl MachinePart {
    /// Its name on screen.
    pub fn label(self) -> &'static str {
        match self {
            MachinePart::Name => "Name",
            MachinePart::Longest => "Longest board",
            MachinePart::Widest => "Widest board",
            MachinePart::Thickest => "Thickest board",
            MachinePart::Shortest => "Shortest board",
            MachinePart::Narrowest => "Narrowest board",
            MachinePart::Thinnest => "Thinnest board",
            MachinePart::InfeedRoller => "Infeed roller",
            MachinePart::OutfeedRoller => "Outfeed roller",
            MachinePart::HoldDown => "Hold-down",
            MachinePart::ReleaseStep => "Release step",
            MachinePart::SensingStrip => "Sensing strip",
            MachinePart::SideMargin => "Side margin",
            MachinePart::FeedAlong => "Feed along",
            MachinePart::FeedAcross => "Feed across",
            MachinePart::FeedDown => "Feed down",
            MachinePart::Acceleration => "Acceleration",
            MachinePart::CutterChange => "Cutter change",
            MachinePart::TimeFactor => "Time factor",
        }
    }
}

impl FeetRule {
    /// Its name for a list.
    pub fn label(self) -> &'static str {
        match self {
            FeetRule::TrueSize => "True size",
            FeetRule::Nominal => "Nominal size (softwood)",
            FeetRule::SurfaceMeasure => "Surface measure (hardwood)",
        }
    }
}

impl Check {
    /// Its name in a sentence.
    pub fn label(self) -> &'static str {
        match self {
            Check::Cup => "cup",
            Check::Bow => "bow",
            Check::Crook => "crook",
            Check::Twist => "twist",
            Check::UnequalWidth => "equal width",
            Check::OffSquare => "square edge",
            Check::Planed => "planed faces",
            Check::Moisture => "moisture",
        }
    }

    /// How to measure it: one sentence without a full stop.
    pub fn how(self) -> &'static str {
        match self {
            Check::Cup => {
                "Lay a straightedge across the hollow face, edge to edge, and slide feeler gauges under its middle"
            }
            Check::Bow => "Stretch a string along the hollow face, end to end, and measure the widest gap",
            Check::Crook => "Stretch a string along the hollow edge, end to end, and measure the widest gap",
            Check::Twist => {
                "Lay the board on a flat surface, press one end down on both its edges, and measure how far a corner of the other end stands off"
            }
            Check::UnequalWidth => {
                "Measure the width at both ends and in the middle, and take the least from the greatest"
            }
            Check::OffSquare => {
                "Set a square on the face against the reference edge, and measure the widest gap"
            }
            Check::Planed => "Look along both faces against the light: no saw marks, one thickness all over",
            Check::Moisture => "Read a moisture meter in several places, and take the greatest",
        }
    }
}

impl Treatment {
    /// Its name.
    pub fn label(self) -> &'static str {
        match self {
            Treatment::Relief => "Relief",
            Treatment::Sunk => "Sunk",
            Treatment::Incised => "Incised",
            Treatment::Pierced => "Pierced",
            Treatment::Left => "Left",
        }
    }

    /// What it means, in a few words.
    pub fn meaning(self) -> &'static str {
        match self {
            Treatment::Relief => "raised: the ground round it is lowered",
            Treatment::Sunk => "lowered to a flat floor",
            Treatment::Incised => "cut with a V whose depth follows the width",
            Treatment::Pierced => "cut through",
            Treatment::Left => "not carved",
        }
    }
}

impl Severity {
    /// The word for it.
    pub fn label(self) -> &'static str {
        match self {
            Severity::Sound => "Sound",
            Severity::Chancy => "Chancy",
            Severity::Unsound => "Unsound",
        }
    }
}

impl FindingKind {
    /// Its name after so many of it.
    pub fn counted(self, number: usize) -> &'static str {
        let [one, many] = match self {
            FindingKind::ThinWall => ["thin wall", "thin walls"],
            FindingKind::LostTip => ["lost tip", "lost tips"],
            FindingKind::BlockedGroove => ["blocked groove", "blocked grooves"],
            FindingKind::ShallowGroove => ["shallow groove", "shallow grooves"],
            FindingKind::SnipeZone => ["snipe zone", "snipe zones"],
            FindingKind::Blemish => ["blemish", "blemishes"],
            FindingKind::SensingStrip => ["break in the sensing strip", "breaks in the sensing strip"],
            FindingKind::ThicknessLeft => ["thin floor", "thin floors"],
            FindingKind::Warp => ["fault of the board", "faults of the board"],
            FindingKind::Overhang => ["overhang", "overhangs"],
            FindingKind::LoosePiece => ["loose piece", "loose pieces"],
            FindingKind::Invisible => ["element that does not show", "elements that do not show"],
            FindingKind::NotChecked => ["check left out", "checks left out"],
            FindingKind::BoardShort => ["board too short", "boards too short"],
            FindingKind::BoardNarrow => ["board too narrow", "boards too narrow"],
            FindingKind::BoardThin => ["board too thin", "boards too thin"],
            FindingKind::MachineLimit => ["machine limit", "machine limits"],
            FindingKind::CutterLimit => ["cutter limit", "cutter limits"],
        };
        if number == 1 { one } else { many }
    }

    /// Its name for a list.
    pub fn label(self) -> &'static str {
        match self {
            FindingKind::BoardShort => "Board too short",
            FindingKind::BoardNarrow => "Board too narrow",
            FindingKind::BoardThin => "Board too thin",
            FindingKind::MachineLimit => "Machine's limit",
            FindingKind::CutterLimit => "Cutter's limit",
            FindingKind::ThinWall => "Thin wall",
            FindingKind::LoosePiece => "Loose piece",
            FindingKind::BlockedGroove => "Blocked groove",
            FindingKind::ShallowGroove => "Shallow groove",
            FindingKind::SnipeZone => "Snipe zone",
            FindingKind::Blemish => "Blemish",
            FindingKind::SensingStrip => "Sensing strip",
            FindingKind::ThicknessLeft => "Thickness left",
            FindingKind::Warp => "Warp",
            FindingKind::Overhang => "Overhang",
            FindingKind::Invisible => "Does not show",
            FindingKind::LostTip => "Lost tip",
            FindingKind::NotChecked => "Not checked",
        }
    }
}

impl FeedSide {
    /// The word for it.
    pub fn label(self) -> &'static str {
        match self {
            FeedSide::Infeed => "infeed",
            FeedSide::Outfeed => "outfeed",
        }
    }
}

impl BoardSide {
    /// Its name in a sentence.
    pub fn label(self) -> &'static str {
        match self {
            BoardSide::Left => "left end",
            BoardSide::Right => "right end",
            BoardSide::Lower => "reference edge",
            BoardSide::Upper => "far edge",
        }
    }
}

impl PriceItem {
    /// Its name for a list.
    pub fn label(self) -> &'static str {
        match self {
            PriceItem::Wood => "Wood",
            PriceItem::Machine => "Machine",
            PriceItem::CutterWear => "Cutter wear",
            PriceItem::Bench => "Bench",
            PriceItem::Finish => "Finish",
            PriceItem::Cost => "Cost",
            PriceItem::Margin => "Margin",
            PriceItem::Minimum => "Up to the minimum",
            PriceItem::RoundingUp => "Rounding up",
            PriceItem::BeforeTax => "Price before tax",
            PriceItem::Tax => "Tax",
            PriceItem::CashRounding => "Cash rounding",
            PriceItem::Total => "Price",
        }
    }
}

impl RowKind {
    /// What it says of a row; nothing for one that was picked.
    pub fn label(self) -> &'static str {
        match self {
            RowKind::Picked => "",
            RowKind::LeastSound => "Least sound size",
            RowKind::LargestForBoard => "Largest for this board",
        }
    }
}

impl PathKind {
    /// Its name.
    pub fn label(self) -> &'static str {
        match self {
            PathKind::ClearingAlong => "Clearing lines, along",
            PathKind::ClearingAcross => "Clearing lines, across",
            PathKind::Outline => "Outline",
            PathKind::Vee => "V path",
            PathKind::Pierced => "Pierced outline",
        }
    }
}

impl Quantity {
    /// What it is called in a sentence.
    pub fn label(self) -> &'static str {
        match self {
            Quantity::BoardLength => "board length",
            Quantity::BoardWidth => "board width",
            Quantity::BoardThickness => "board thickness",
            Quantity::BlemishClearance => "blemish's clearance",
            Quantity::BlemishPlace => "place of a blemish",
            Quantity::BlemishSize => "size of a blemish",
            Quantity::Warp => "measured warp",
            Quantity::Depth => "depth",
            Quantity::OwnDepth => "element's depth",
            Quantity::CutterDiameter => "cutter diameter",
            Quantity::FluteLength => "cutter's flute length",
            Quantity::ReferenceAlong => "reference wall along the grain",
            Quantity::ReferenceAcross => "reference wall across the grain",
            Quantity::ReferenceHeight => "reference wall height",
            Quantity::ReferenceLength => "reference wall length",
            Quantity::ReferencePass => "reference wall's pass",
            Quantity::ReferenceFeedPerTooth => "reference wall's feed per tooth",
            Quantity::Give => "give of a wall",
            Quantity::ClearingDiameter => "clearing cutter's diameter",
            Quantity::PassDepth => "cutter's pass depth",
            Quantity::LinesApart => "distance between clearing lines",
            Quantity::CutterFeed => "cutter's feed",
            Quantity::CutterPlunge => "cutter's plunge",
            Quantity::BridgeLength => "bridge's length",
            Quantity::BridgeHeight => "bridge's height",
            Quantity::BridgesApart => "distance between bridges",
            Quantity::InfeedRoller => "infeed roller",
            Quantity::OutfeedRoller => "outfeed roller",
            Quantity::SideMargin => "side margin",
            Quantity::SensingStrip => "sensing strip",
            Quantity::ReleaseStep => "release step",
            Quantity::HoldDown => "hold-down force",
            Quantity::FeedAlong => "feed along the board",
            Quantity::FeedAcross => "feed across the board",
            Quantity::FeedDown => "feed up and down",
            Quantity::Acceleration => "acceleration",
            Quantity::CutterChange => "time to change a cutter",
            Quantity::TimeFactor => "time factor",
            Quantity::GroundMargin => "ground margin",
            Quantity::PlaceAlong => "place along the board",
            Quantity::PlaceAcross => "place across the board",
            Quantity::FinishedLength => "length",
            Quantity::FinishedWidth => "width",
            Quantity::ElementsDistance => "distance",
            Quantity::Gap => "gap between pieces",
        }
    }
}
