use super::{Said, UNITS, compare};
use glam::dvec2;
use spelk::job::Place;
use spelk::proof::overhang::{FeedSide, Overhang};
use spelk::proof::wall::{Governs, Limit};
use spelk::proof::{
    BoardSide, CutterRefusal, Facts, FedEnd, Finding, Gentler, Held, HeldWall, LimitSource, MachineBound,
    OwnCutter, Severity, StripBreach, ThinPlace, WallEnds, WallRun,
};
use spelk::shop::{BlemishKind, Check};
use spelk::units::Mm;
use spelk::words::finding;

const MM: fn(f64) -> Mm = Mm::new;

/// A thin place 36.1 mm long of the reeds, in the job's cutter or in one of the element's own.
pub(crate) fn place(cutter: Option<&str>) -> ThinPlace {
    ThinPlace {
        held: Held { limit: MM(2.5), place: Place::Ground, source: LimitSource::Wall, wall: None },
        run: MM(36.1),
        direction: 0.0,
        element: Some("reeds".to_owned()),
        cutter: cutter.map(str::to_owned),
        within: None,
        axis: Vec::new().into(),
    }
}

fn spot(cutter: Option<&str>) -> ThinPlace {
    ThinPlace { run: MM(0.02), element: None, ..place(cutter) }
}

fn pillar() -> ThinPlace {
    let run = WallRun { length: MM(1.0), ends: WallEnds::Pillar, to_free_end: Mm::ZERO };
    let limit = Limit { thickness: MM(2.5), governs: Governs::Pillar, k: 1.2, push: 4.0 };
    let wall = Some(HeldWall { height: MM(3.0), run, limit });
    ThinPlace { held: Held { wall, ..place(None).held }, run: Mm::ZERO, ..spot(None) }
}

pub(crate) fn overhang(lift: Option<f64>, stands: &[f64]) -> Overhang {
    Overhang {
        side: FeedSide::Infeed,
        reach: MM(1800.0),
        balance: MM(800.0),
        lift,
        sag: None,
        stands: stands.iter().copied().map(MM).collect(),
    }
}

/// One of every kind of finding, and of each way that it is said.
pub(crate) fn examples() -> Vec<(&'static str, Facts)> {
    let own = || Some(OwnCutter { element: "letters".to_owned(), cutter: "V, 60\u{b0}".to_owned() });
    let cutter = Some("Flat end, 6 mm");
    let misplaced = |side, free| Facts::Misplaced { side, free: MM(free), needed: MM(88.9) };
    let machine = |bound| Facts::MachineLimit { bound, measured: MM(600.0), limit: MM(300.0) };
    let limit = |refusal, own| Facts::CutterLimit { refusal, own };
    let too_deep = CutterRefusal::TooDeep { depth: MM(6.0), edges: MM(5.0) };
    let wall = |width, stand_in: Option<&str>, place| Facts::ThinWall {
        width: MM(width),
        chance: 0.1,
        severity: Severity::Unsound,
        stand_in: stand_in.map(str::to_owned),
        gentler: Gentler::default(),
        place,
    };
    let tip = |stand_in: Option<&str>| Facts::LostTip {
        apex: 0.3,
        stand_in: stand_in.map(str::to_owned),
        place: place(None),
    };
    let snipe = |end| Facts::SnipeZone { end, length: MM(76.2), share: 0.25, step: [MM(0.1), MM(0.4)] };
    let blemish = |distance, met: Option<&str>| Facts::Blemish {
        kind: BlemishKind::Knot,
        distance: MM(distance),
        clearance: MM(5.0),
        met: met.map(str::to_owned),
    };
    let strip = |breach| Facts::SensingStrip { breach, from_edge: MM(4.0), strip: MM(9.525) };
    let invisible =
        |stands| Facts::Invisible { element: "Letter".to_owned(), around: "Plate".to_owned(), stands };
    let hangs = |lift, stands: &[f64]| Facts::Overhang { overhang: overhang(lift, stands), hold_down: 50.0 };
    vec![
        ("loose", Facts::LoosePiece { across: MM(31.0), bridged: false }),
        ("loose but for bridges", Facts::LoosePiece { across: MM(31.0), bridged: true }),
        ("short", Facts::BoardShort { length: MM(600.0), needed: MM(650.0) }),
        ("narrow", Facts::BoardNarrow { width: MM(120.0), needed: MM(176.0) }),
        ("thin", Facts::BoardThin { thickness: MM(8.0), needed: MM(9.2), deepest: MM(6.0) }),
        ("misplaced left", misplaced(BoardSide::Left, 20.0)),
        ("misplaced right", misplaced(BoardSide::Right, -20.0)),
        ("misplaced lower", misplaced(BoardSide::Lower, 2.0)),
        ("misplaced upper", misplaced(BoardSide::Upper, -2.0)),
        ("too long", machine(MachineBound::TooLong)),
        ("too wide", machine(MachineBound::TooWide)),
        ("too thick", machine(MachineBound::TooThick)),
        ("too short", machine(MachineBound::TooShort)),
        ("too narrow", machine(MachineBound::TooNarrow)),
        ("too thin", machine(MachineBound::TooThin)),
        ("too deep", limit(too_deep, None)),
        ("too deep, own cutter", limit(too_deep, own())),
        ("point on a floor", limit(CutterRefusal::PointOnAFloor, None)),
        ("point on a floor, own cutter", limit(CutterRefusal::PointOnAFloor, own())),
        ("no point", limit(CutterRefusal::NoPoint, None)),
        ("no point, own cutter", limit(CutterRefusal::NoPoint, own())),
        ("wall", wall(1.19, None, place(None))),
        ("wall, own cutter", wall(1.19, None, place(cutter))),
        ("wall, stand-in", wall(1.19, Some("Maple, black"), place(None))),
        ("wall, own cutter, stand-in", wall(1.19, Some("Maple, black"), place(cutter))),
        ("wall at a spot", wall(0.004, None, spot(None))),
        ("wall of nothing", wall(0.0, None, spot(None))),
        ("wall in a picture", wall(2.4, None, ThinPlace { within: Some(MM(0.3)), ..place(None) })),
        (
            "wall in a picture, thin for sure",
            wall(1.4, None, ThinPlace { within: Some(MM(0.3)), ..place(None) }),
        ),
        (
            "wall in a picture, gentler",
            Facts::ThinWall {
                width: MM(2.4),
                chance: 0.1,
                severity: Severity::Chancy,
                stand_in: None,
                gentler: Gentler { pass: Some(MM(1.0)), feed: None },
                place: ThinPlace { within: Some(MM(0.3)), ..place(None) },
            },
        ),
        ("pillar", wall(1.0, None, pillar())),
        ("tip", tip(None)),
        ("tip, stand-in", tip(Some("Maple, black"))),
        ("groove", Facts::BlockedGroove { width: MM(2.0), place: place(None) }),
        ("groove, own cutter", Facts::BlockedGroove { width: MM(2.0), place: place(cutter) }),
        ("groove at a spot", Facts::BlockedGroove { width: MM(0.02), place: spot(None) }),
        ("hole", Facts::BlockedGroove { width: MM(2.0), place: ThinPlace { run: Mm::ZERO, ..spot(None) } }),
        ("corner", Facts::RoundedCorner { apex: 0.39, short: MM(2.2), place: place(None) }),
        ("corner, own cutter", Facts::RoundedCorner { apex: 0.39, short: MM(2.2), place: place(cutter) }),
        ("V groove", Facts::ShallowGroove { width: MM(0.4), place: place(None) }),
        ("V groove at a spot", Facts::ShallowGroove { width: MM(0.4), place: spot(None) }),
        ("snipe, leading", snipe(FedEnd::Leading)),
        ("snipe, trailing", snipe(FedEnd::Trailing)),
        ("blemish near", blemish(2.0, None)),
        ("blemish within", blemish(0.0, None)),
        ("blemish met", blemish(0.0, Some("letters"))),
        ("strip, blemish", strip(StripBreach::Blemish(BlemishKind::Wane))),
        ("strip, cut", strip(StripBreach::Cut { element: "slot".to_owned() })),
        ("thickness left", Facts::ThicknessLeft { left: MM(2.5) }),
        ("warp", Facts::Warp(super::bench_list::cup(1.6, 1.5, 0.0))),
        ("overhang", hangs(Some(12.4), &[800.0, 1600.0])),
        ("overhang, weight unknown", hangs(None, &[])),
        ("invisible, stands", invisible(true)),
        ("invisible, floor", invisible(false)),
        ("not checked", Facts::NotChecked(vec![Check::Cup, Check::Moisture])),
    ]
}

#[test]
fn findings() {
    let mut said = Said::default();
    for (name, facts) in examples() {
        let found = Finding { id: String::new(), at: dvec2(120.5, 30.0), facts };
        said.line(&format!("finding::title({name})"), finding::title(&found));
        for unit in UNITS {
            said.line(&format!("finding::message({name}, {unit:?})"), finding::message(&found, unit));
            said.line(&format!("finding::advice({name}, {unit:?})"), finding::advice(&found, unit));
        }
        said.line(&format!("finding::placed({name})"), finding::placed(&found, UNITS[0]));
    }
    for stands in [&[][..], &[MM(800.0)], &[MM(800.0), MM(1600.0), MM(2400.0)]] {
        said.line("finding::stands", finding::stands(stands, UNITS[0]));
    }
    said.line("finding::not_checked", finding::not_checked(&[Check::Cup, Check::OffSquare]));
    compare("finding", &said);
}
