//! Edits of a job, one after the other: whatever is asked of it, it stays a job that can be proofed.

use crate::support::{design, rectangle};
use proptest::prelude::*;
use spelk::design::lettering::Lettering;
use spelk::design::{DrawingUnit, Mirror, PlateShape, ReadOptions};
use spelk::job::history::MOST_STEPS;
use spelk::job::{
    Change, Clearing, Edit, EditKind, Ends, Frame, History, Job, Placement, Reach, Redesign, Redraw,
    Rejected, Size, Spot, Treatment, Turn, Words, saved,
};
use spelk::proof::{measure, proof, proof_of, rate};
use spelk::shop::{
    Blemish, BlemishKind, BlemishShape, Board, BoardPhoto, Check, Planed, Sawn, StockCheck, cutters,
    machines, woods,
};
use spelk::units::Mm;
use std::sync::Arc;

/// Lengths that make sense, and some that do not.
fn length() -> impl Strategy<Value = Mm> {
    prop_oneof![
        8 => (0.5..400.0_f64).prop_map(Mm::new),
        1 => prop::sample::select(vec![0.0, -3.0, 1e-9, 1e7, f64::NAN, f64::INFINITY]).prop_map(Mm::new),
    ]
}

fn pair() -> impl Strategy<Value = [Mm; 2]> {
    [length(), length()]
}

/// Places in a design of a few elements; some are in none.
fn elements() -> impl Strategy<Value = Vec<usize>> {
    prop::collection::vec(0..5_usize, 0..4)
}

fn treatment() -> impl Strategy<Value = Treatment> {
    prop::sample::select(Treatment::ALL.to_vec())
}

fn blemish() -> impl Strategy<Value = Blemish> {
    let shape = prop_oneof![
        (length(), length(), length()).prop_map(|(x, y, diameter)| BlemishShape::Circle { x, y, diameter }),
        (length(), length(), length(), length()).prop_map(|(x, y, length, width)| BlemishShape::Rectangle {
            x,
            y,
            length,
            width
        }),
        (pair(), pair()).prop_map(|(from, to)| BlemishShape::Line { from, to }),
    ];
    (shape, length()).prop_map(|(shape, clearance)| Blemish { kind: BlemishKind::Split, shape, clearance })
}

fn placement() -> impl Strategy<Value = Placement> {
    prop_oneof![
        Just(Placement::Middle),
        Just(Placement::UpperRight),
        pair().prop_map(|[x, y]| Placement::At { x, y }),
    ]
}

fn size() -> impl Strategy<Value = Size> {
    prop_oneof![
        (0.05..3.0_f64).prop_map(Size::Factor),
        prop::sample::select(vec![0.0, 1e9, f64::NAN]).prop_map(Size::Factor),
        length().prop_map(Size::Length),
        length().prop_map(Size::Width),
        Just(Size::Fit),
    ]
}

fn setting() -> impl Strategy<Value = Edit> {
    let cutter = || prop::sample::select(cutters().to_vec()).prop_map(Box::new);
    let board = (pair(), prop::collection::vec(blemish(), 0..3), prop::option::of(length())).prop_map(
        |([length, width], blemishes, cup)| {
            let stock = StockCheck { cup, ..StockCheck::default() };
            Edit::Board(Box::new(Board { length, width, blemishes, stock, ..Board::default() }))
        },
    );
    let bridge = (length(), prop::option::of(0.0..2.0_f64)).prop_map(|(length, stepover)| {
        let mut clearing = Clearing { stepover, ..Clearing::default() };
        clearing.bridge.length = length;
        Edit::Clearing(Box::new(clearing))
    });
    let limit = (cutter(), length()).prop_map(|(cutter, along)| {
        let mut reference = cutter.reference;
        reference.along = along;
        Edit::Limit(Box::new(reference))
    });
    prop_oneof![
        treatment().prop_map(Edit::TreatAll),
        (elements(), treatment()).prop_map(|(elements, treatment)| Edit::Treat { elements, treatment }),
        (elements(), prop::option::of(length()))
            .prop_map(|(elements, depth)| Edit::OwnDepth { elements, depth }),
        (elements(), prop::option::of(cutter()))
            .prop_map(|(elements, cutter)| Edit::OwnCutter { elements, cutter }),
        length().prop_map(Edit::BoardLength),
        length().prop_map(Edit::BoardWidth),
        length().prop_map(Edit::BoardThickness),
        [length(), length(), length()].prop_map(Edit::BoardSize),
        board,
        prop::sample::select(woods().to_vec()).prop_map(|wood| Edit::Wood(Box::new(wood))),
        blemish().prop_map(Edit::AddBlemish),
        (0..3_usize, blemish()).prop_map(|(index, blemish)| Edit::ChangeBlemish(index, blemish)),
        (0..3_usize).prop_map(Edit::RemoveBlemish),
        (prop::sample::select(Check::ALL.to_vec()), prop::option::of(length()))
            .prop_map(|(check, length)| Edit::Measured(check, length)),
        prop::option::of(Just(Planed::Both)).prop_map(Edit::Planed),
        prop::option::of(-50.0..400.0_f64).prop_map(Edit::Moisture),
        Just(Edit::Photo(Some(BoardPhoto { file: "board.png".to_owned(), corners: [[0.0, 1.0]; 4] }))),
        cutter().prop_map(Edit::Cutter),
        limit,
        length().prop_map(Edit::Depth),
        bridge,
        prop::sample::select(machines().to_vec()).prop_map(|machine| Edit::Machine(Box::new(machine))),
        (-1.0..3.0_f64).prop_map(Edit::TimeFactor),
        prop::sample::select(vec![Ends::Held, Ends::Free]).prop_map(Edit::Ends),
        size().prop_map(Edit::Size),
        prop::sample::select(vec![Frame::Outline, Frame::Page]).prop_map(Edit::Frame),
        prop::sample::select(Turn::ALL.to_vec()).prop_map(Edit::Turn),
        Just(Edit::TurnByQuarter),
        placement().prop_map(Edit::Place),
        pair().prop_map(Edit::Nudge),
        prop::option::of(length()).prop_map(Edit::SideMargin),
        prop::option::of(length()).prop_map(Edit::GroundMargin),
        ("[a-c]", any::<bool>()).prop_map(|(finding, accepted)| Edit::Accept { finding, accepted }),
        prop::collection::btree_set("[a-c]".prop_map(String::from), 0..3).prop_map(Edit::KeepAccepted),
        "[a-z ]{0,8}".prop_map(Edit::Remark),
        Just(Edit::DrawingUnit(DrawingUnit::Inch)),
    ]
}

fn shape() -> impl Strategy<Value = PlateShape> {
    prop_oneof![
        length().prop_map(|corner| PlateShape::Rectangle { corner }),
        Just(PlateShape::Oval),
        (length(), length(), length())
            .prop_map(|(across, up, corner)| PlateShape::Exactly { size: [across, up], corner }),
    ]
}

fn redesign() -> impl Strategy<Value = Edit> {
    let spot = prop_oneof![
        Just(Spot::Above),
        Just(Spot::Middle),
        Just(Spot::Below),
        Just(Spot::InPlaceOf("leaf".to_owned())),
        Just(Spot::InPlaceOf("Oar".to_owned())),
    ];
    let words = (prop::sample::select(vec!["Oar", "", "Mind the geese"]), treatment(), spot).prop_map(
        |(words, treatment, spot)| {
            let lettering = Lettering { words: words.to_owned(), ..Lettering::default() };
            Redesign::Letter(Words { lettering, treatment }, spot)
        },
    );
    prop_oneof![
        (0..5_usize, "[a-z ]{0,6}").prop_map(|(element, name)| Redesign::Rename { element, name }),
        elements().prop_map(Redesign::Combine),
        elements().prop_map(Redesign::Split),
        elements().prop_map(Redesign::Remove),
        (elements(), any::<bool>()).prop_map(|(elements, upright)| {
            Redesign::Mirror(elements, if upright { Mirror::Upright } else { Mirror::Level })
        }),
        (elements(), length(), any::<bool>()).prop_map(|(elements, margin, keep)| Redesign::CutOut {
            elements,
            margin,
            keep
        }),
        (elements(), pair()).prop_map(|(elements, by)| Redesign::Move { elements, by }),
        (elements(), [1..3_u32, 1..3_u32], pair()).prop_map(|(elements, times, pitch)| Redesign::Repeat {
            elements,
            times,
            pitch
        }),
        (length(), shape()).prop_map(|(margin, shape)| Redesign::Ground { margin, shape }),
        (elements(), length()).prop_map(|(elements, finest)| Redesign::Smooth { elements, finest }),
        (elements(), length()).prop_map(|(elements, by)| Redesign::Grow { elements, by }),
        (elements(), 0.0..3.0_f64).prop_map(|(elements, factor)| Redesign::Resize { elements, factor }),
        (length(), length(), shape()).prop_map(|(margin, width, shape)| Redesign::Border {
            margin,
            width,
            shape
        }),
        Just(Redesign::Clean),
        words,
    ]
    .prop_map(|redesign| Edit::Redesign(Box::new(redesign)))
}

fn edit() -> impl Strategy<Value = Edit> {
    let redraw = (1..4_usize).prop_map(|count| Edit::Redraw {
        design: Arc::new(leaves(count)),
        reading: ReadOptions::default(),
        why: Redraw::FileChanged,
    });
    prop_oneof![
        12 => setting(),
        3 => redesign(),
        1 => redraw,
        2 => prop::collection::vec(setting(), 0..4).prop_map(|edits| Edit::Several(EditKind::Board, edits)),
    ]
}

/// So many bars beside each other, the first of them called a leaf.
fn leaves(count: usize) -> spelk::design::Design {
    let bars: Vec<_> = ["leaf", "stem", "berry"]
        .into_iter()
        .take(count)
        .zip([0.0, 30.0, 60.0])
        .map(|(name, x)| (name, vec![rectangle(x, 0.0, 20.0, 12.0)]))
        .collect();
    design(&bars)
}

fn start() -> Job {
    Job::new(Arc::new(leaves(3)))
}

/// A job that is read back from its saved form was checked on the way.
fn checks(job: &Job) -> bool {
    saved::from_text(saved::to_text(job).as_bytes()).is_ok()
}

/// What of a step a window asks: an edit that stands alone, one of a drag, or to take back and make again.
#[derive(Clone, Debug)]
enum Ask {
    Edit(Edit),
    Drag(Edit),
    Rest,
    Undo,
    Redo,
}

fn ask() -> impl Strategy<Value = Ask> {
    prop_oneof![
        6 => edit().prop_map(Ask::Edit),
        3 => size().prop_map(|size| Ask::Drag(Edit::Size(size))),
        1 => Just(Ask::Rest),
        1 => Just(Ask::Undo),
        1 => Just(Ask::Redo),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    /// Of any edits, a job takes those that leave it one that can be proofed, and is untouched by the others.
    #[test]
    fn a_job_that_exists_is_a_job_that_checks(edits in prop::collection::vec(edit(), 1..12)) {
        let mut job = start();
        for edit in edits {
            let (before, text) = (job.clone(), saved::to_text(&job));
            let answer: Result<Change, Rejected> = job.apply(edit.clone());
            match answer {
                Ok(change) => {
                    prop_assert!(checks(&job), "{edit:?}");
                    prop_assert_eq!(change.reach, Reach::between(&before, &job));
                    prop_assert_eq!(change.reach == Reach::Nothing, before == job);
                }
                Err(rejected) => {
                    prop_assert_eq!(saved::to_text(&job), text, "{} left its mark", rejected);
                    prop_assert!(before == job);
                }
            }
        }
    }

    /// Undoing all of it gives back the first job, and making it again the last, to the byte.
    #[test]
    fn undoing_everything_gives_back_the_first_job(asks in prop::collection::vec(ask(), 1..16)) {
        let first = Arc::new(start());
        let mut history = History::new(first.clone());
        for ask in asks {
            // What is rejected is no step.
            match ask {
                Ask::Edit(edit) => drop(history.apply(edit)),
                Ask::Drag(edit) => drop(history.drag(edit)),
                Ask::Rest => history.close(),
                Ask::Undo => drop(history.undo()),
                Ask::Redo => drop(history.redo()),
            }
            prop_assert!(checks(history.job()));
        }
        history.close();
        let last = saved::to_text(history.job());
        let mut steps = 0;
        while history.undo() {
            steps += 1;
        }
        prop_assert_eq!(saved::to_text(history.job()), saved::to_text(&first));
        prop_assert!(Arc::ptr_eq(history.job(), &first));
        prop_assert_eq!(history.can_undo(), None);
        for _ in 0..steps {
            prop_assert!(history.redo());
        }
        prop_assert_eq!(saved::to_text(history.job()), last);
    }
}

#[test]
fn a_drag_is_one_step_and_one_that_comes_back_is_none() {
    let mut history = History::new(Arc::new(start()));
    for factor in [0.9, 0.8, 0.7] {
        history.drag(Edit::Size(Size::Factor(factor))).unwrap();
    }
    assert_eq!(history.can_undo(), Some(EditKind::Size));
    history.undo();
    assert_eq!((history.job().size(), history.can_undo()), (Size::Factor(1.0), None));
    history.redo();
    assert_eq!(history.job().size(), Size::Factor(0.7));
    // Two drags with a rest between them are two.
    history.drag(Edit::Size(Size::Factor(0.6))).unwrap();
    history.close();
    history.drag(Edit::Size(Size::Factor(0.5))).unwrap();
    history.undo();
    assert_eq!(history.job().size(), Size::Factor(0.6));
    // Away and back again: there is nothing to take back but what was there before.
    for factor in [0.9, 0.6] {
        history.drag(Edit::Size(Size::Factor(factor))).unwrap();
    }
    history.close();
    history.undo();
    assert_eq!(history.job().size(), Size::Factor(0.7));
}

#[test]
fn what_changes_nothing_is_no_step_and_the_oldest_steps_are_forgotten() {
    let mut history = History::new(Arc::new(start()));
    let same = history.job().depth();
    assert_eq!(history.apply(Edit::Depth(same)).unwrap().reach, Reach::Nothing);
    assert_eq!(history.can_undo(), None);
    for step in 0..MOST_STEPS + 20 {
        history.apply(Edit::Depth(Mm::new(1.0 + step as f64))).unwrap();
    }
    let mut steps = 0;
    while history.undo() {
        steps += 1;
    }
    assert_eq!(steps, MOST_STEPS);
    assert_eq!(history.job().depth(), Mm::new(20.0));
}

/// A proof by ratings that a change keeps is the proof by ratings worked out anew, to the last digit.
#[test]
fn what_a_change_of_the_board_keeps_holds() {
    let shape = BlemishShape::Circle { x: Mm::new(90.0), y: Mm::new(40.0), diameter: Mm::new(20.0) };
    let knot = Blemish { kind: BlemishKind::Knot, shape, clearance: Mm::new(3.0) };
    let pierced = start().with([Edit::TreatAll(Treatment::Pierced), Edit::Size(Size::Factor(0.4))]).unwrap();
    let rated = [start(), pierced].map(|job| {
        let measured = measure(&job);
        let ratings = rate(&job, &measured);
        (job, measured, ratings)
    });
    for edit in [
        Edit::BoardLength(Mm::new(150.0)),
        Edit::BoardWidth(Mm::new(60.0)),
        Edit::AddBlemish(knot),
        Edit::Measured(Check::Cup, Some(Mm::new(1.5))),
        Edit::SideMargin(Some(Mm::new(9.0))),
        Edit::GroundMargin(Some(Mm::new(12.0))),
        Edit::Ends(Ends::Free),
        Edit::Place(Placement::LowerLeft),
    ] {
        for (job, measured, ratings) in &rated {
            let mut changed = job.clone();
            let reach = changed.apply(edit.clone()).unwrap().reach;
            assert!(reach.keeps_ratings(), "{edit:?}");
            let kept = proof(&changed, measured, ratings);
            assert_eq!(format!("{kept:?}"), format!("{:?}", proof_of(&changed)), "{edit:?}");
        }
    }
}

#[test]
fn a_change_says_what_is_to_be_worked_out_anew() {
    let job = start();
    let reach = |edit: Edit| job.clone().apply(edit).unwrap().reach;
    assert_eq!(reach(Edit::Remark("brass".to_owned())), Reach::Notes);
    assert_eq!(reach(Edit::TimeFactor(1.3)), Reach::Time);
    assert_eq!(reach(Edit::Size(Size::Factor(0.5))), Reach::Size);
    assert_eq!(reach(Edit::Ends(Ends::Free)), Reach::Placing);
    assert_eq!(reach(Edit::Nudge([Mm::new(1.0), Mm::ZERO])), Reach::Placing);
    assert_eq!(reach(Edit::BoardWidth(Mm::new(150.0))), Reach::Placing);
    assert_eq!(reach(Edit::BoardThickness(Mm::new(25.0))), Reach::Limits);
    assert_eq!(reach(Edit::Sawn(Sawn::Quarter)), Reach::Limits);
    assert_eq!(reach(Edit::Depth(Mm::new(2.0))), Reach::Limits);
    assert_eq!(reach(Edit::Turn(Turn::Quarter)), Reach::Limits);
    assert_eq!(reach(Edit::Treat { elements: vec![1], treatment: Treatment::Sunk }), Reach::Widths);
    // Another depth for one of two floors makes one lie deeper than the other.
    let floors = job.with([Edit::TreatAll(Treatment::Sunk)]).unwrap();
    let deeper = Edit::OwnDepth { elements: vec![1], depth: Some(Mm::new(5.0)) };
    assert_eq!(floors.clone().apply(deeper).unwrap().reach, Reach::Widths);
    let moved = Redesign::Move { elements: vec![1], by: [Mm::new(3.0), Mm::ZERO] };
    assert_eq!(reach(Edit::Redesign(Box::new(moved))), Reach::Design);
}

#[test]
fn a_blemish_that_no_part_of_the_board_has_is_refused() {
    let mut job = start();
    let knot = |x: f64, clearance: f64| Blemish {
        kind: BlemishKind::Knot,
        shape: BlemishShape::Circle { x: Mm::new(x), y: Mm::new(50.0), diameter: Mm::new(20.0) },
        clearance: Mm::new(clearance),
    };
    job.apply(Edit::BoardSize([300.0, 100.0, 18.0].map(Mm::new))).unwrap();
    let beyond = job.apply(Edit::AddBlemish(knot(340.0, 5.0))).unwrap_err();
    assert!(matches!(beyond, Rejected::BlemishOffBoard { beyond } if beyond == Mm::new(30.0)), "{beyond}");
    assert!(job.board().blemishes.is_empty());
    // What reaches the board, if only with the room kept round it, is kept clear of.
    job.apply(Edit::AddBlemish(knot(340.0, 30.0))).unwrap();
    job.apply(Edit::AddBlemish(knot(305.0, 0.0))).unwrap();
    assert!(job.apply(Edit::ChangeBlemish(1, knot(400.0, 0.0))).is_err());
    // A board that is cut shorter keeps what was marked on it.
    job.apply(Edit::BoardLength(Mm::new(200.0))).unwrap();
    assert_eq!(job.board().blemishes.len(), 2);
}
