use super::{Said, compare};
use spelk::design::DrawingUnit;
use spelk::job::{Quantity, Treatment};
use spelk::proof::overhang::FeedSide;
use spelk::proof::price::PriceItem;
use spelk::proof::sizes::RowKind;
use spelk::proof::{BoardSide, FindingKind, Severity};
use spelk::relief::PathKind;
use spelk::shop::{BlemishKind, Check, FeetRule, MachinePart, Sawn};
use spelk::units::LengthUnit;

/// A line for every kind of a type, by each of its methods.
macro_rules! names {
    ($said:ident, $kinds:expr, $($type:ident :: $method:ident),+) => {
        for kind in $kinds {
            $($said.line(&format!("{}({kind:?})", stringify!($type::$method)), $type::$method(kind));)+
        }
    };
}

#[test]
fn labels() {
    let mut said = Said::default();
    names!(said, LengthUnit::ALL, LengthUnit::label);
    names!(said, DrawingUnit::ALL, DrawingUnit::label, DrawingUnit::words);
    names!(said, BlemishKind::ALL, BlemishKind::label, BlemishKind::named);
    names!(said, [MachinePart::Name], MachinePart::label);
    names!(said, MachinePart::NUMBERS, MachinePart::label);
    names!(said, Sawn::ALL, Sawn::label, Sawn::meaning, Sawn::word);
    names!(said, FeetRule::ALL, FeetRule::label);
    names!(said, Check::ALL, Check::label, Check::how);
    names!(said, Treatment::ALL, Treatment::label, Treatment::meaning);
    names!(said, QUANTITIES, Quantity::label);
    names!(said, [Severity::Sound, Severity::Chancy, Severity::Unsound], Severity::label);
    names!(said, FINDINGS, FindingKind::label);
    names!(said, [FeedSide::Infeed, FeedSide::Outfeed], FeedSide::label);
    names!(said, BOARD_SIDES, BoardSide::label);
    names!(said, PRICE_ITEMS, PriceItem::label);
    names!(said, [RowKind::Picked, RowKind::LeastSound, RowKind::LargestForBoard], RowKind::label);
    names!(said, PathKind::ALL, PathKind::label);
    for kind in FINDINGS {
        for number in [1, 2] {
            said.line(
                &format!("FindingKind::counted({kind:?}, {number})"),
                FindingKind::counted(kind, number),
            );
        }
    }
    compare("labels", &said);
}

const BOARD_SIDES: [BoardSide; 4] = [BoardSide::Left, BoardSide::Right, BoardSide::Lower, BoardSide::Upper];

const FINDINGS: [FindingKind; 18] = [
    FindingKind::BoardShort,
    FindingKind::BoardNarrow,
    FindingKind::BoardThin,
    FindingKind::MachineLimit,
    FindingKind::CutterLimit,
    FindingKind::ThinWall,
    FindingKind::BlockedGroove,
    FindingKind::ShallowGroove,
    FindingKind::SnipeZone,
    FindingKind::Blemish,
    FindingKind::SensingStrip,
    FindingKind::ThicknessLeft,
    FindingKind::Warp,
    FindingKind::Overhang,
    FindingKind::LoosePiece,
    FindingKind::Invisible,
    FindingKind::LostTip,
    FindingKind::NotChecked,
];

const PRICE_ITEMS: [PriceItem; 13] = [
    PriceItem::Wood,
    PriceItem::Machine,
    PriceItem::CutterWear,
    PriceItem::Bench,
    PriceItem::Finish,
    PriceItem::Cost,
    PriceItem::Margin,
    PriceItem::Minimum,
    PriceItem::RoundingUp,
    PriceItem::BeforeTax,
    PriceItem::Tax,
    PriceItem::CashRounding,
    PriceItem::Total,
];

const QUANTITIES: [Quantity; 45] = [
    Quantity::BoardLength,
    Quantity::BoardWidth,
    Quantity::BoardThickness,
    Quantity::BlemishClearance,
    Quantity::BlemishPlace,
    Quantity::BlemishSize,
    Quantity::Warp,
    Quantity::Depth,
    Quantity::OwnDepth,
    Quantity::CutterDiameter,
    Quantity::FluteLength,
    Quantity::ReferenceAlong,
    Quantity::ReferenceAcross,
    Quantity::ReferenceHeight,
    Quantity::ReferenceLength,
    Quantity::ReferencePass,
    Quantity::ReferenceFeedPerTooth,
    Quantity::Give,
    Quantity::ClearingDiameter,
    Quantity::PassDepth,
    Quantity::LinesApart,
    Quantity::CutterFeed,
    Quantity::CutterPlunge,
    Quantity::BridgeLength,
    Quantity::BridgeHeight,
    Quantity::BridgesApart,
    Quantity::InfeedRoller,
    Quantity::OutfeedRoller,
    Quantity::SideMargin,
    Quantity::SensingStrip,
    Quantity::ReleaseStep,
    Quantity::HoldDown,
    Quantity::FeedAlong,
    Quantity::FeedAcross,
    Quantity::FeedDown,
    Quantity::Acceleration,
    Quantity::CutterChange,
    Quantity::TimeFactor,
    Quantity::GroundMargin,
    Quantity::PlaceAlong,
    Quantity::PlaceAcross,
    Quantity::FinishedLength,
    Quantity::FinishedWidth,
    Quantity::ElementsDistance,
    Quantity::Gap,
];
