use super::{Said, compare, say};
use spelk::job::{Done, EditKind, Rejected};
use spelk::words::edits;

#[test]
fn edits() {
    let mut said = Said::default();
    for kind in KINDS {
        said.line(&format!("edits::edit_name({kind:?})"), edits::edit_name(kind));
    }
    let (rim, three) = (vec!["rim".to_owned()], ["rim", "leaf", "stem"].map(str::to_owned).to_vec());
    let name = || "rim".to_owned();
    for done in [
        Done::Renamed { before: "path12".to_owned(), after: name() },
        Done::Combined { count: 3, name: name() },
        Done::Split { names: vec![name()], pieces: 12 },
        Done::Removed { names: rim.clone() },
        Done::Removed { names: three.clone() },
        Done::Mirrored { names: rim.clone() },
        Done::CutOut { names: three.clone(), from: name() },
        Done::Moved { names: three.clone() },
        Done::Repeated { names: rim.clone(), times: [3, 2] },
        Done::Grounded { name: "ground".to_owned() },
        Done::Bordered { name: "border".to_owned() },
        Done::Smoothed { names: rim.clone() },
        Done::Resized { names: rim.clone(), factor: 1.205 },
        Done::Grown { names: rim.clone(), outwards: true },
        Done::Grown { names: rim.clone(), outwards: false },
        Done::Cleaned { specks: 1 },
        Done::Cleaned { specks: 12 },
        Done::Lettered { name: "Mind the geese".to_owned() },
    ] {
        said.line("edits::elements_done", edits::elements_done(&done));
    }
    said.line("edits::elements_covered", edits::elements_covered(&rim));
    said.line("edits::elements_covered", edits::elements_covered(&three));
    said.line("edits::not_followed", edits::not_followed("gate.svg"));
    say!(said, edits::rejection(&Rejected::TooFew { needed: 2 }));
    compare("edits", &said);
}

const KINDS: [EditKind; 61] = [
    EditKind::Opened,
    EditKind::Treatment,
    EditKind::OwnDepth,
    EditKind::OwnCutter,
    EditKind::BoardLength,
    EditKind::BoardWidth,
    EditKind::BoardThickness,
    EditKind::Sawn,
    EditKind::Board,
    EditKind::RackBoard,
    EditKind::Wood,
    EditKind::Blemish,
    EditKind::BenchList,
    EditKind::Photo,
    EditKind::Cutter,
    EditKind::Limit,
    EditKind::Depth,
    EditKind::Clearing,
    EditKind::Trust,
    EditKind::Machine,
    EditKind::TimeFactor,
    EditKind::Ends,
    EditKind::Size,
    EditKind::Frame,
    EditKind::Turn,
    EditKind::Place,
    EditKind::FoundPlace,
    EditKind::SideMargin,
    EditKind::GroundMargin,
    EditKind::Accepted,
    EditKind::Remark,
    EditKind::DrawingSize,
    EditKind::Drawing,
    EditKind::OpenOutlines,
    EditKind::Mending,
    EditKind::Tracing,
    EditKind::Rename,
    EditKind::Combine,
    EditKind::Split,
    EditKind::Remove,
    EditKind::Mirror,
    EditKind::CutOut,
    EditKind::Move,
    EditKind::Repeat,
    EditKind::Ground,
    EditKind::Border,
    EditKind::Smooth,
    EditKind::Resize,
    EditKind::Grow,
    EditKind::Clean,
    EditKind::Lettering,
    EditKind::Options,
    EditKind::Advice,
    EditKind::AddPiece,
    EditKind::RemovePiece,
    EditKind::TakeInHand,
    EditKind::Count,
    EditKind::Turns,
    EditKind::Gap,
    EditKind::Arrangement,
    EditKind::Names,
];
