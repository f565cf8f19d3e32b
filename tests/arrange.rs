//! Several pieces on one board: counts that a rule comes to, distances that hold, sums by hand, the same bytes.

use crate::cli::{Run, spelk};
use crate::support::{
    change_board, change_cutter, change_machine, design, proof_of, rectangle, ring, trade_machine,
};
use glam::DVec2;
use proptest::prelude::*;
use spelk::arrange::{
    Arrangement, Batch, Effort, Impossible, NamesError, OneMore, Wanted, arrange, arrange_telling, batch,
    ideal_surface, names_edit, on_rack, one_more, passes, shortest, too_near, usual_words, whole,
};
use spelk::geometry::Rect;
use spelk::job::{
    Edit, Ends, History, Job, Lie, Piece, Placement, Size, Spot, Treatment, Turn, Turns, saved,
};
use spelk::proof::{FindingKind, Severity};
use spelk::relief::{HeightField, NEVER};
use spelk::sheet::batch::stl_of_batch;
use spelk::shop::{Blemish, BlemishKind, BlemishShape, BoardEdge, Prices, RackBoard, Shop};
use spelk::units::Mm;
use std::sync::Arc;

/// A sunk piece with these outlines on a machine that needs no wood at ends or edges.
fn piece(name: &str, rings: Vec<Vec<DVec2>>) -> Job {
    let mut design = design(&[("panel", rings)]);
    name.clone_into(&mut design.name);
    let mut job = Job::new(Arc::new(design));
    let mut machine = trade_machine();
    [machine.infeed_roller, machine.outfeed_roller] = [Mm::ZERO; 2];
    job.apply(Edit::Machine(Box::new(machine))).unwrap();
    job.apply(Edit::TreatAll(Treatment::Sunk)).unwrap();
    job
}

fn on_board(job: &Job, length: f64, width: f64, gap: f64) -> Job {
    let size = [length, width, 19.0].map(Mm::new);
    job.with([Edit::BoardSize(size), Edit::Gap(Some(Mm::new(gap)))]).unwrap()
}

fn as_many(job: &Job) -> Arrangement {
    arrange(job, Wanted::AsMany, Effort::Quick, &NEVER).unwrap()
}

fn laid(job: &Job, effort: Effort) -> (Job, Arrangement) {
    let found = arrange(job, Wanted::Counts, effort, &NEVER).unwrap();
    (job.with([found.edit()]).unwrap(), found)
}

fn batch_of(job: &Job) -> Batch {
    batch(job, &Prices::default(), &NEVER).unwrap()
}

/// A leaf of many edges.
fn leaf(edges: usize, length: f64, width: f64) -> Vec<DVec2> {
    (0..edges)
        .map(|k| {
            let turn = k as f64 / edges as f64 * std::f64::consts::TAU;
            let tooth = 1.0 + 0.06 * (turn * 9.0).sin() + 0.03 * (turn * 31.0).cos();
            DVec2::new(
                0.5 * length * turn.cos() * tooth,
                0.5 * width * turn.sin() * tooth * (1.0 - 0.3 * turn.cos()),
            )
        })
        .collect()
}

/// Rows and columns: of `side` with a gap between, as many as `floor((room + gap) / (side + gap))` each way.
#[test]
fn equal_rectangles_come_to_rows_and_columns() {
    for ([length, width], [room, across], gap, count) in [
        ([40.0, 30.0], [200.0, 90.0], 0.0, 15),    // exactly 5 x 3
        ([40.0, 30.0], [216.0, 98.0], 4.0, 15),    // exactly 5 x 3 with four and two gaps
        ([40.0, 30.0], [215.9, 98.0], 4.0, 12),    // a tenth short of the fifth column
        ([33.3, 25.1], [1200.0, 180.0], 1.7, 204), // 34 x 6
        ([90.0, 90.0], [600.0, 90.0], 8.0, 6),     // as wide as the board
        ([40.0, 30.0], [40.0, 30.0], 5.0, 1),      // as large as the board
        ([40.0, 30.0], [84.9, 30.0], 5.0, 1),      // a tenth short of a second
        ([40.0, 30.0], [85.0, 64.9], 5.0, 2),      // 2 x 1, a tenth short of a second row
        ([40.0, 30.0], [85.0, 65.0], 5.0, 4),      // 2 x 2
        ([20.0, 15.0], [494.0, 31.0], 1.0, 46),    // 23 x 2, not a tenth to spare across
        ([12.7, 25.4], [635.0, 177.8], 0.0, 350),  // 50 x 7, inches in millimetres
    ] {
        let job = on_board(&piece("panel", vec![rectangle(0.0, 0.0, length, width)]), room, across, gap);
        let found = as_many(&job);
        assert_eq!(found.count(), count, "{length} x {width} on {room} x {across}, {gap} apart");
        let laid = job.with([found.edit()]).unwrap();
        assert!(too_near(&laid).is_empty());
        assert_eq!(laid.lies(0).len(), count);
    }
}

/// 2 x 1 on 3 x 2: as it lies two go on, and three once they may be turned across.
#[test]
fn turning_fills_more_where_it_is_allowed() {
    let job = on_board(&piece("domino", vec![rectangle(0.0, 0.0, 40.0, 20.0)]), 60.0, 40.0, 0.0);
    assert_eq!(as_many(&job).count(), 2);
    let free = job.with([Edit::Turns { piece: 0, turns: Turns::Quarter }]).unwrap();
    let found = as_many(&free);
    assert_eq!(found.count(), 3);
    let turns: Vec<Turn> = found.lies[0].iter().map(|lie| lie.turn).collect();
    assert!(turns.iter().any(|turn| turn.swaps()), "{turns:?}");
    let half = job.with([Edit::Turns { piece: 0, turns: Turns::Half }]).unwrap();
    assert!(as_many(&half).lies[0].iter().all(|lie| !lie.turn.swaps()), "a half turn keeps the grain");
}

/// Triangles interlock with their own half turn: eight with sides of 60 and 60 fill four squares, on a board that is a
/// tenth of a millimetre longer and wider.
#[test]
fn triangles_interlock() {
    let job =
        on_board(&piece("wedge", vec![ring(&[(0.0, 0.0), (60.0, 0.0), (0.0, 60.0)])]), 240.1, 60.1, 0.0);
    assert_eq!(as_many(&job).count(), 4);
    let half = job.with([Edit::Turns { piece: 0, turns: Turns::Half }]).unwrap();
    let found = arrange(&half, Wanted::AsMany, Effort::Usual, &NEVER).unwrap();
    assert_eq!(found.count(), 8);
}

fn knot(x: f64, y: f64, diameter: f64, clearance: f64) -> Blemish {
    let mm = Mm::new;
    let shape = BlemishShape::Circle { x: mm(x), y: mm(y), diameter: mm(diameter) };
    Blemish { kind: BlemishKind::Knot, shape, clearance: mm(clearance) }
}

#[test]
fn knots_ends_edges_and_the_strip_are_kept_clear() {
    let mut job = on_board(&piece("panel", vec![rectangle(0.0, 0.0, 40.0, 30.0)]), 400.0, 120.0, 5.0);
    change_machine(&mut job, |machine| {
        machine.infeed_roller = Mm::new(20.0);
        machine.outfeed_roller = Mm::new(30.0);
        machine.side_margin = Mm::new(4.0);
    });
    change_board(&mut job, |board| {
        board.blemishes = vec![knot(200.0, 60.0, 20.0, 3.0), knot(90.0, 10.0, 4.0, 2.0)];
    });
    let found = as_many(&job);
    let laid = job.with([found.edit()]).unwrap();
    let batch = batch_of(&laid);
    assert!(found.count() > 12, "{}", found.count());
    assert_eq!(batch.copies.len(), found.count());
    for copy in &batch.copies {
        let found = copy.proof.findings.iter().map(spelk::proof::Finding::kind);
        for kind in found {
            assert!(
                !matches!(
                    kind,
                    FindingKind::Blemish
                        | FindingKind::BoardShort
                        | FindingKind::BoardNarrow
                        | FindingKind::SnipeZone
                ),
                "{:?} {kind:?}",
                copy.lie
            );
        }
        assert!(copy.lie.x >= Mm::new(20.0) && copy.lie.y >= Mm::new(4.0), "{:?}", copy.lie);
    }
    // Cut through, nothing lies over the strip that the sensor reads.
    let mut pierced = job.with([Edit::TreatAll(Treatment::Pierced)]).unwrap();
    change_machine(&mut pierced, |machine| {
        machine.sensing_edge = Some(BoardEdge::Reference);
        machine.sensing_strip = Mm::new(15.0);
    });
    let found = as_many(&pierced);
    assert!(found.count() > 0 && found.lies[0].iter().all(|lie| lie.y >= Mm::new(15.0)), "{found:?}");
}

/// A finding names its copy: the one whose end is sniped is not the one in the middle.
#[test]
fn each_copy_is_proofed_where_it_lies() {
    let mut job = on_board(&piece("panel", vec![rectangle(0.0, 0.0, 90.0, 60.0)]), 420.0, 80.0, 10.0);
    change_machine(&mut job, |machine| {
        machine.infeed_roller = Mm::new(60.0);
        machine.outfeed_roller = Mm::new(60.0);
    });
    job.apply(Edit::Ends(Ends::Free)).unwrap();
    job.apply(Edit::Count { piece: 0, count: 4 }).unwrap();
    let (laid, found) = laid(&job, Effort::Quick);
    assert_eq!(found.count(), 4);
    let sniped: Vec<bool> = batch_of(&laid)
        .copies
        .iter()
        .map(|copy| copy.proof.findings.iter().any(|finding| finding.kind() == FindingKind::SnipeZone))
        .collect();
    // Laid at 0, 100, 200 and 300 mm; the board's last 60 mm begin at 360.
    assert_eq!(sniped, [true, false, false, true]);
}

#[test]
fn taking_pieces_in_hand_and_back_is_the_same_job() {
    let one = on_board(&piece("one", vec![rectangle(0.0, 0.0, 40.0, 30.0)]), 600.0, 120.0, 5.0);
    let other = piece("other", vec![leaf(60, 70.0, 40.0)]).with([Edit::Size(Size::Factor(0.8))]).unwrap();
    let mut job = one.with([Edit::AddPiece(Box::new(Piece::of(&other, 3, Turns::Half)))]).unwrap();
    job.apply(Edit::Count { piece: 0, count: 2 }).unwrap();
    let (job, _) = laid(&job, Effort::Quick);
    assert_eq!((job.piece_count(), job.copies()), (2, 5));
    let lies: Vec<Vec<Lie>> = (0..2).map(|piece| job.lies(piece)).collect();
    let mut there = job.clone();
    there.apply(Edit::TakeInHand { piece: 1, copy: 2 }).unwrap();
    assert_eq!(there.design().name, "other");
    assert_eq!(there.factor(), 0.8);
    assert_eq!((0..2).map(|piece| there.lies(piece)).collect::<Vec<_>>(), lies, "nothing moved");
    there.apply(Edit::TakeInHand { piece: 1, copy: 0 }).unwrap();
    there.apply(Edit::TakeInHand { piece: 0, copy: 0 }).unwrap();
    assert_eq!(saved::to_text(&there), saved::to_text(&job));
    // Moving the one in hand moves no other.
    let moved = job.with([Edit::Nudge([Mm::new(3.0), Mm::ZERO])]).unwrap();
    assert_eq!(moved.lies(0)[1], lies[0][1]);
    assert_eq!(moved.lies(1), lies[1]);
    // Saved and opened again, to the byte; and a version that earlier programs refuse.
    let text = saved::to_text(&job);
    assert!(text.contains("\"version\": 6"));
    assert_eq!(saved::to_text(&saved::from_text(text.as_bytes()).unwrap()), text);
    // What is left of it is a job of one piece, as ever.
    let left = job.with([Edit::RemovePiece(1), Edit::Count { piece: 0, count: 1 }, Edit::Gap(None)]).unwrap();
    assert!(!left.is_batch() && saved::to_text(&left).contains("\"version\": 5"));
    // All of an arrangement is one step that can be taken back.
    let mut history = History::new(Arc::new(job.clone()));
    history.apply(as_many(&job).edit()).unwrap();
    assert!(history.undo() && **history.job() == job && !history.undo());
}

/// Two panels, 100 x 50 and 50 x 50, on a board of 1 board foot: 12 x 12 x 1 in.
#[test]
fn time_and_price_are_shared_by_hand() {
    let inches = Mm::from_inches;
    let mut job = piece("large", vec![rectangle(0.0, 0.0, 100.0, 50.0)]);
    job.apply(Edit::BoardSize([inches(12.0), inches(12.0), inches(1.0)])).unwrap();
    let small = piece("small", vec![rectangle(0.0, 0.0, 50.0, 50.0)]);
    job.apply(Edit::AddPiece(Box::new(Piece::of(&small, 2, Turns::None)))).unwrap();
    let (laid, _) = laid(&job, Effort::Quick);
    let prices = Prices {
        machine_hour: 60.0,
        cutter_hour: 0.0,
        bench_hour: 0.0,
        finish_per_area: 0.0,
        waste: 0.0,
        margin: 0.0,
        minimum: 0.0,
        tax: 0.0,
        woods: [(job.wood().id.clone(), 8.0)].into(),
        ..Prices::default()
    };
    let batch = batch(&laid, &prices, &NEVER).unwrap();
    // 5000 of 10000 square millimetres are the large one's: half of a foot at 8, and a quarter each of the small.
    let [large, small] = [&batch.pieces[0], &batch.pieces[1]];
    let minutes = |piece: &spelk::arrange::PieceSums| piece.minutes.unwrap();
    let close = |a: f64, b: f64| assert!((a - b).abs() < 0.011, "{a}, not {b}");
    close(large.cost.unwrap(), 4.0 + minutes(large));
    close(small.cost.unwrap(), 2.0 + minutes(small));
    close(small.one_more.unwrap(), minutes(small));
    close(batch.cost.unwrap(), large.cost.unwrap() + 2.0 * small.cost.unwrap());
    // One cutter, never changed: the minutes of all are those of each.
    assert_eq!(batch.cutters.len(), 1);
    assert!((batch.minutes - minutes(large) - 2.0 * minutes(small)).abs() < 1e-9);
    // A single piece by itself takes the same passes; only the way to it differs.
    let alone = spelk::relief::time::of(&laid.piece(0), &spelk::proof::measure(&laid.piece(0))).total / 60.0;
    assert!((alone - minutes(large)).abs() < 0.1 * alone, "{alone} {}", minutes(large));
}

#[test]
fn each_cutter_is_put_in_once_for_the_whole_board() {
    let job = on_board(&piece("one", vec![rectangle(0.0, 0.0, 60.0, 40.0)]), 600.0, 120.0, 9.0);
    let mut other = piece("other", vec![rectangle(0.0, 0.0, 50.0, 40.0)]);
    change_cutter(&mut other, |cutter| cutter.id = "another".to_owned());
    let mut job = job.with([Edit::AddPiece(Box::new(Piece::of(&other, 3, Turns::None)))]).unwrap();
    job.apply(Edit::Count { piece: 0, count: 3 }).unwrap();
    let (laid, _) = laid(&job, Effort::Quick);
    let batch = batch_of(&laid);
    let steps: Vec<(&str, &[usize])> =
        batch.cutters.iter().map(|step| (step.cutter.id.as_str(), step.pieces.as_slice())).collect();
    assert_eq!(steps, [("flat-1/8in", &[0][..]), ("another", &[1][..])]);
}

#[test]
fn the_shortest_board_and_the_rack() {
    let mut job = on_board(&piece("panel", vec![rectangle(0.0, 0.0, 40.0, 30.0)]), 1000.0, 98.0, 4.0);
    job.apply(Edit::Count { piece: 0, count: 15 }).unwrap();
    // Five columns and four gaps.
    let length = shortest(&job, Effort::Quick, &NEVER).unwrap();
    assert!((length.get() - 216.0).abs() < 0.01, "{length}");
    let board = |name: &str, length: f64| {
        let mut board = job.board().clone();
        board.length = Mm::new(length);
        RackBoard { name: name.to_owned(), board, wood: job.wood().id.clone(), price: None }
    };
    let boards = [board("long", 900.0), board("just right", 217.0), board("short", 100.0)];
    let rows = on_rack(&job, &boards, &Shop::built_in(), &NEVER).unwrap();
    let said: Vec<(&str, usize, bool)> =
        rows.iter().map(|row| (row.name.as_str(), row.count, row.takes_all)).collect();
    assert_eq!(said, [("just right", 15, true), ("long", 15, true), ("short", 6, false)]);
    let (laid, found) = laid(&job, Effort::Quick);
    assert!(matches!(one_more(&laid, &found, 0), OneMore::Fits(_)));
    let full = on_board(&laid, 217.0, 98.0, 4.0);
    assert_eq!(one_more(&full, &found, 0), OneMore::NoPlace);
}

#[test]
fn what_cannot_be_laid_is_said() {
    let job = on_board(&piece("panel", vec![rectangle(0.0, 0.0, 400.0, 30.0)]), 300.0, 98.0, 4.0);
    let tried = |job: &Job| arrange(job, Wanted::AsMany, Effort::Quick, &NEVER);
    assert!(matches!(tried(&job), Err(Impossible::TooLarge { .. })));
    let job = on_board(&piece("panel", vec![rectangle(0.0, 0.0, 200.0, 30.0)]), 300.0, 98.0, 4.0);
    let mut knotty = job.clone();
    change_board(&mut knotty, |board| board.blemishes = vec![knot(150.0, 50.0, 90.0, 5.0)]);
    assert!(matches!(tried(&knotty), Err(Impossible::NoPlace { .. })));
    let wide = job.with([Edit::Gap(Some(Mm::new(301.0)))]).unwrap();
    assert!(matches!(tried(&wide), Err(Impossible::WideGap { .. })));
    let before = saved::to_text(&job);
    let mut job = job;
    for count in [0, 1001, 10_000] {
        assert!(job.apply(Edit::Count { piece: 0, count }).is_err());
        assert_eq!(saved::to_text(&job), before, "nothing is lost");
    }
}

/// From the command line: one clear line each.
#[test]
fn the_command_line_says_what_is_wrong() {
    let sign = "sample-designs/gate-sign.svg";
    let arrange = |more: &[&str]| spelk(&[&["arrange", sign], more].concat());
    arrange(&["--board", "200x100x20mm", "--factor", "1"]).refused(&["gate-sign", "room for"]);
    arrange(&["--board", "600x400x20mm", "--factor", "0.3", "--gap", "700mm"]).refused(&["gap of 700"]);
    arrange(&["--count", "10000"]).refused(&["10000", "1 to 1000"]);
    arrange(&["--count", "0"]).refused(&["--count: 0"]);
    arrange(&["--count", "3,4"]).refused(&["2 numbers for 1 file"]);
}

#[test]
fn json_has_a_count_and_every_place_and_turn() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("batch.spelk");
    let out = out.to_str().unwrap();
    let options = [
        "arrange",
        "sample-designs/gate-sign.svg",
        "--board",
        "900x200x19mm",
        "--factor",
        "0.5",
        "--turns",
        "half",
    ];
    let Run { status, out: said, err } = spelk(&[&options[..], &["--json", "-o", out]].concat());
    assert!(status < 2, "{err}");
    let json: serde_json::Value = serde_json::from_str(&said).unwrap();
    assert_eq!(json["format"], "spelk.arrange");
    let count = json["count"].as_u64().unwrap() as usize;
    let copies = json["pieces"][0]["copies"].as_array().unwrap();
    assert!(count > 1 && copies.len() == count, "{count}");
    let job = saved::open(out.as_ref()).unwrap();
    let lies = job.lies(0);
    assert_eq!(lies.len(), count);
    for (lie, copy) in lies.iter().zip(copies) {
        assert!((lie.x.get() - copy["x_mm"].as_f64().unwrap()).abs() < 1e-4);
        assert_eq!(i64::from(lie.turn.degrees()), copy["turn_deg"].as_i64().unwrap());
    }
    // The job that was written is arranged to the same places again, with its own counts.
    let again = spelk(&["arrange", out, "--json"]);
    let again: serde_json::Value = serde_json::from_str(&again.out).unwrap();
    assert_eq!(again["count"], json["count"]);
}

/// The same bytes whatever the number of threads, and every time.
#[test]
fn the_same_job_is_always_arranged_the_same() {
    let mut job = on_board(&piece("leaf", vec![leaf(120, 90.0, 50.0)]), 700.0, 160.0, 6.0);
    job.apply(Edit::Turns { piece: 0, turns: Turns::Half }).unwrap();
    let other = piece("panel", vec![rectangle(0.0, 0.0, 60.0, 35.0)]);
    job.apply(Edit::AddPiece(Box::new(Piece::of(&other, 1, Turns::Quarter)))).unwrap();
    let with = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| as_many(&job))
    };
    let one = with(1);
    assert_eq!(one, with(2));
    assert_eq!(one, with(1));
    assert!(one.count() > 10);
}

/// A published instance: FU (Fujita, Akagji and Kirokawa, *Hybrid approach for optimal nesting using a genetic algorithm
/// and a local minimisation algorithm*, ASME Design Automation 1993), as ESICUP keeps it: twelve pieces, a strip 38 wide,
/// quarter turns.
const FU: [&[(f64, f64)]; 12] = [
    &[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)],
    &[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)],
    &[(0.0, 0.0), (14.0, 0.0), (14.0, 9.0), (0.0, 9.0)],
    &[(0.0, 0.0), (14.0, 0.0), (7.0, 7.0)],
    &[(0.0, 9.0), (0.0, 0.0), (14.0, 9.0)],
    &[(0.0, 0.0), (14.0, 0.0), (14.0, 14.0), (0.0, 14.0)],
    &[(0.0, 0.0), (10.0, 4.0), (10.0, 9.0), (0.0, 9.0)],
    &[(0.0, 0.0), (5.0, 0.0), (5.0, 9.0), (0.0, 9.0)],
    &[(0.0, 0.0), (14.0, 0.0), (14.0, 14.0)],
    &[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 14.0)],
    &[(0.0, 8.0), (4.0, 0.0), (8.0, 8.0)],
    &[(0.0, 0.0), (14.0, 0.0), (7.0, 12.0)],
];

/// BLAZ1 (Blazewicz, Hawryluk and Walkowiak, *Using a tabu search approach for solving the two-dimensional irregular
/// cutting problem*, Annals of Operations Research 41, 1993), as ESICUP keeps it: seven shapes, four of each, a strip
/// 15 wide, half turns.
const BLAZ1: [&[(f64, f64)]; 7] = [
    &[(0.0, 0.0), (2.0, -1.0), (4.0, 0.0), (4.0, 3.0), (2.0, 4.0), (0.0, 3.0)],
    &[(0.0, 0.0), (3.0, 0.0), (2.0, 2.0), (3.0, 4.0), (3.0, 5.0), (1.0, 5.0), (-1.0, 3.0), (-1.0, 1.0)],
    &[(0.0, 0.0), (2.0, 0.0), (3.0, 1.0), (3.0, 3.0), (2.0, 4.0), (0.0, 4.0), (-1.0, 3.0), (-1.0, 1.0)],
    &[(0.0, 0.0), (2.0, 1.0), (4.0, 0.0), (3.0, 2.0), (4.0, 5.0), (2.0, 4.0), (0.0, 5.0), (1.0, 3.0)],
    &[(0.0, 0.0), (5.0, 0.0), (5.0, 5.0), (4.0, 5.0), (3.0, 3.0), (2.0, 2.0), (0.0, 1.0)],
    &[(0.0, 0.0), (2.0, 3.0), (-2.0, 3.0)],
    &[(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)],
];

/// How dense an instance is laid, with a millimetre ten times that of the instance, so that the search's hair is one
/// in it too.
fn density(shapes: &[&[(f64, f64)]], each: usize, width: f64, turns: Turns, effort: Effort) -> f64 {
    const SCALE: f64 = 10.0;
    let scaled = |points: &[(f64, f64)]| ring(points).into_iter().map(|p| p * SCALE).collect::<Vec<DVec2>>();
    let one = |points: &[(f64, f64)]| piece("shape", vec![scaled(points)]);
    let mut job = on_board(&one(shapes[0]), 1000.0 * SCALE, width * SCALE, 0.0);
    job.apply(Edit::Count { piece: 0, count: each }).unwrap();
    job.apply(Edit::Turns { piece: 0, turns }).unwrap();
    for shape in &shapes[1..] {
        job.apply(Edit::AddPiece(Box::new(Piece::of(&one(shape), each, turns)))).unwrap();
    }
    let area: f64 = shapes
        .iter()
        .map(|points| {
            let p = scaled(points);
            (0..p.len()).map(|k| p[k].perp_dot(p[(k + 1) % p.len()])).sum::<f64>().abs() * 0.5
        })
        .sum();
    let length = shortest(&job, effort, &NEVER).unwrap();
    area * each as f64 / (length.get() * width * SCALE)
}

#[test]
fn published_instances_come_out_dense() {
    let fu = density(&FU, 1, 38.0, Turns::Quarter, Effort::Long);
    let blaz = density(&BLAZ1, 4, 15.0, Turns::Half, Effort::Usual);
    println!("FU {fu:.4}, BLAZ1 {blaz:.4}");
    // A general optimiser (spyrrow 0.9.0, one worker, seed 0) finds 0.8685 and 0.7884 in 90 s; this came to 0.8636 and
    // 0.7624 when the test was written, and FU to 0.8382 with the usual effort.
    assert!(fu > 0.8685 - 0.03 && blaz > 0.7884 - 0.03, "FU {fu}, BLAZ1 {blaz}");
}

/// A job of one piece is what it was before there were several: as it stands in hand, and as it proofs.
#[test]
fn one_piece_is_a_job_as_ever() {
    let job = piece("panel", vec![rectangle(0.0, 0.0, 40.0, 30.0)]);
    assert!(!job.is_batch());
    assert_eq!(job.lies(0).len(), 1);
    let text = saved::to_text(&job);
    assert!(text.contains("\"version\": 5") && !text.contains("pieces"));
    let two = job.with([Edit::Count { piece: 0, count: 2 }]).unwrap();
    assert_eq!(format!("{:?}", proof_of(&two).verdict), format!("{:?}", proof_of(&job).verdict));
    assert_eq!(two.at(), Placement::Middle);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(5))]

    /// Whatever the outlines, gap and blemishes: the copies keep apart, by their true outlines, and each proofs where it
    /// lies without a word of edges and blemishes.
    #[test]
    fn copies_always_keep_apart(
        (edges, length, width) in (3..40_usize, 30.0..120.0_f64, 20.0..60.0_f64),
        gap in 0.0..15.0_f64,
        turns in prop::sample::select(Turns::ALL.to_vec()),
        (x, y, diameter) in (0.0..500.0_f64, 0.0..140.0_f64, 1.0..40.0_f64),
        treatment in prop::sample::select(vec![Treatment::Relief, Treatment::Sunk]),
    ) {
        let mut job = on_board(&piece("leaf", vec![leaf(edges, length, width)]), 500.0, 160.0, gap);
        job.apply(Edit::TreatAll(treatment)).unwrap();
        job.apply(Edit::Turns { piece: 0, turns }).unwrap();
        let other = piece("panel", vec![rectangle(0.0, 0.0, 45.0, 25.0)]);
        job.apply(Edit::AddPiece(Box::new(Piece::of(&other, 1, Turns::None)))).unwrap();
        change_board(&mut job, |board| board.blemishes = vec![knot(x, y, diameter, 2.0)]);
        match arrange(&job, Wanted::AsMany, Effort::Quick, &NEVER) {
            Ok(found) => {
                let laid = job.with([found.edit()]).unwrap();
                prop_assert!(too_near(&laid).is_empty());
                for copy in batch_of(&laid).copies {
                    let kinds: Vec<_> = copy.proof.findings.iter().map(spelk::proof::Finding::kind).collect();
                    prop_assert!(!kinds.contains(&FindingKind::Blemish) && !kinds.contains(&FindingKind::BoardShort) && !kinds.contains(&FindingKind::BoardNarrow), "{:?}", kinds);
                }
            }
            Err(why) => prop_assert!(matches!(why, Impossible::NoPlace { .. }), "{why:?}"),
        }
    }
}

#[test]
fn severity_is_that_of_the_gravest_copy() {
    let job = on_board(&piece("panel", vec![rectangle(0.0, 0.0, 40.0, 30.0)]), 200.0, 100.0, 5.0);
    let laid = job.with([as_many(&job).edit()]).unwrap();
    let batch = batch_of(&laid);
    let gravest = batch.copies.iter().map(|copy| copy.proof.verdict.severity).max().unwrap();
    assert_eq!(batch.severity(), gravest);
    assert!(gravest <= Severity::Unsound);
}

/// A frame 150 x 60, and words sunk into its middle.
fn frame() -> Job {
    piece("frame", vec![rectangle(0.0, 0.0, 150.0, 60.0)]).with([Edit::TreatAll(Treatment::Relief)]).unwrap()
}

#[test]
fn a_list_of_numbers_makes_a_piece_of_each() {
    let job = on_board(&frame(), 700.0, 200.0, 6.0);
    let names = |list: &[&str]| list.iter().map(|&name| name.to_owned()).collect::<Vec<String>>();
    let (words, spot) = usual_words(&job);
    assert_eq!(words.lettering.cap_height, Mm::new(20.0));
    let edit = names_edit(&job, &names(&["7", "12", " 27 "]), &words, &spot).unwrap();
    let lettered = job.with([edit]).unwrap();
    let called: Vec<&str> = (0..lettered.piece_count()).map(|piece| lettered.piece_name(piece)).collect();
    assert_eq!(called, ["7", "12", "27"]);
    for (piece, words) in called.into_iter().enumerate() {
        let one = lettered.piece(piece);
        assert_eq!(one.lettering().values().next().unwrap().words, words);
        assert_eq!(one.design().elements.len(), 2, "the frame and its number");
    }
    let (laid, found) = laid(&lettered, Effort::Quick);
    assert_eq!(found.count(), 3);
    assert_eq!(batch_of(&laid).copies.len(), 3);
    // Lettered again, the new words take the place of the old, as tall.
    let (again, spot) = usual_words(&laid.piece(1));
    assert_eq!(again.lettering.cap_height, Mm::new(20.0));
    assert!(names_edit(&laid.piece(1), &names(&["8"]), &again, &spot).is_ok());
    let refused = |list: &[&str]| names_edit(&job, &names(list), &words, &Spot::Middle).unwrap_err();
    assert!(matches!(refused(&["7", " ", "27"]), NamesError::Empty { line: 2 }));
    assert!(matches!(refused(&[]), NamesError::NoNames));
    assert!(matches!(refused(&["7", "Bartholomew of the hill"]), NamesError::TooLong { line: 2, .. }));
    assert!(matches!(refused(&vec!["7"; 201]), NamesError::TooMany { names: 201 }));
}

#[test]
fn a_list_is_read_from_a_table_and_its_faults_are_one_line() {
    let folder = tempfile::tempdir().unwrap();
    let file = |name: &str, text: &str| {
        let path = folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_owned()
    };
    let frame = file(
        "frame.svg",
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="150mm" height="60mm" viewBox="0 0 150 60"><path id="panel" d="M0 0H150V60H0Z"/></svg>"#,
    );
    let with = |list: &str| spelk(&["arrange", &frame, "--board", "700x200x19mm", "--names", list, "--json"]);
    let run = with(&file("numbers.csv", "7,oak\n12,ash\n27\n"));
    let json: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    let names: Vec<&str> =
        json["pieces"].as_array().unwrap().iter().map(|piece| piece["name"].as_str().unwrap()).collect();
    assert_eq!((json["count"].as_u64(), names), (Some(3), vec!["7", "12", "27"]));
    with(&file("empty.csv", "7\n,oak\n27\n")).refused(&["empty.csv", "line 2", "empty"]);
    with(&file("long.csv", "7\nBartholomew of the hill\n")).refused(&["long.csv", "line 2", "Bartholomew"]);
}

/// Everything of every copy is in the file, where it lies.
#[test]
fn all_pieces_go_into_one_outline() {
    let mut job = on_board(&frame(), 700.0, 200.0, 6.0);
    job.apply(Edit::Count { piece: 0, count: 5 }).unwrap();
    let leaf = piece("leaf", vec![leaf(60, 70.0, 40.0)]);
    job.apply(Edit::AddPiece(Box::new(Piece::of(&leaf, 2, Turns::Half)))).unwrap();
    let (laid, _) = laid(&job, Effort::Quick);
    let whole = whole(&laid).unwrap();
    assert_eq!(whole.design().elements.len(), 7);
    let area = |job: &Job| job.design().elements.iter().map(|element| element.region.area()).sum::<f64>();
    assert!((area(&whole) - 5.0 * 150.0 * 60.0 - 2.0 * area(&leaf)).abs() < 0.1, "{}", area(&whole));
    for (lie, element) in laid.lies(0).iter().zip(&whole.design().elements) {
        let corner = element.region.bounds().unwrap().min;
        assert!((corner - DVec2::new(lie.x.get(), lie.y.get())).length() < 1e-5, "{corner} {lie:?}");
    }
    // From the command line, as drawing, template and picture.
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    saved::save(&laid, path("batch.spelk").as_ref()).unwrap();
    for (command, out) in
        [("export", "all.svg"), ("export", "all.dxf"), ("export", "all.png"), ("sheet", "all.pdf")]
    {
        let mut arguments = vec![command.to_owned(), path("batch.spelk"), "-o".to_owned(), path(out)];
        if command == "sheet" {
            arguments.extend(["--what".to_owned(), "template".to_owned()]);
        }
        let run = spelk(&arguments.iter().map(String::as_str).collect::<Vec<_>>());
        assert_eq!(run.status, 0, "{out}: {}", run.err);
    }
    let svg = std::fs::read_to_string(path("all.svg")).unwrap();
    assert_eq!(svg.matches("<path").count(), 7);
    assert!(svg.contains("frame 3 panel"), "{}", &svg[..400]);
}

/// Panels of 50 x 30, and a leaf.
fn panels_and_leaves(count: usize) -> Job {
    let panel = piece("panel", vec![rectangle(0.0, 0.0, 50.0, 30.0)]);
    let mut job = on_board(&panel, 300.0, 100.0, 6.0);
    job.apply(Edit::Count { piece: 0, count }).unwrap();
    let leaf = piece("leaf", vec![leaf(60, 70.0, 40.0)]);
    job.apply(Edit::AddPiece(Box::new(Piece::of(&leaf, 1, Turns::Half)))).unwrap();
    laid(&job, Effort::Quick).0
}

/// What sunk pieces take from the board, as triangles enclose it: each copy takes as much as one alone.
#[test]
fn the_surface_has_every_copy_where_it_lies() {
    let job = panels_and_leaves(3);
    let batch = batch_of(&job);
    // 84 bytes of head, then 50 a triangle: its normal, three corners, two bytes more.
    let stl = stl_of_batch(&job, &batch).unwrap();
    let corner = |bytes: &[u8]| {
        let number = |at: usize| f64::from(f32::from_le_bytes(bytes[at..at + 4].try_into().unwrap()));
        glam::DVec3::new(number(0), number(4), number(8))
    };
    let corners: Vec<[glam::DVec3; 3]> =
        stl[84..].chunks(50).map(|triangle| [12, 24, 36].map(|at| corner(&triangle[at..]))).collect();
    let enclosed: f64 = corners.iter().map(|[a, b, c]| a.dot(b.cross(*c)) / 6.0).sum();
    let taken = 300.0 * 100.0 * 19.0 - enclosed;
    let area: f64 = 3.0 * 50.0 * 30.0 + job.piece(1).design().elements[0].region.area();
    let expected = area * job.depth().get();
    // Rounded inner corners and cells of a third of a millimetre leave some of it.
    assert!((taken - expected).abs() < 0.04 * expected, "{taken} of {expected}");
    // Each copy is lowered in its middle, and the corner of the board is not.
    let lowest_near = |at: DVec2| {
        let near = corners.iter().flatten().filter(|p| p.truncate().distance(at) < 1.0 && p.z > -18.9);
        near.map(|p| p.z).fold(f64::INFINITY, f64::min)
    };
    for copy in &batch.copies {
        let middle = DVec2::new(copy.lie.x.get(), copy.lie.y.get())
            + 0.5 * DVec2::new(copy.proof.length.get(), copy.proof.width.get());
        assert!((lowest_near(middle) + job.depth().get()).abs() < 1e-3, "{middle}");
    }
    assert!(lowest_near(DVec2::new(299.5, 99.5)).abs() < 1e-6);
    // The quick surface takes the same, to about a cell along the edges.
    let quick =
        ideal_surface(&job, &spelk::proof::measure(&job), HeightField::of_board(&job, Mm::new(0.25)), &NEVER)
            .unwrap();
    assert!((quick.volume_removed() - expected).abs() < 0.02 * expected, "{}", quick.volume_removed());
    // The passes by themselves are those of the batch, and each is of an element of the copy where it lies.
    assert_eq!(passes(&job, &spelk::proof::measure(&job), &NEVER).unwrap(), batch.plan);
    let whole = whole(&job).unwrap();
    for line in &batch.plan.lines {
        let element = &whole.design().elements[line.place.element().unwrap()];
        let bounds = element.region.bounds().unwrap().grown(1e-3);
        assert!(line.points.iter().all(|p| bounds.meets(Rect::new(p.truncate(), p.truncate()))));
    }
}

/// How far a search is: so many orders of as many, eight by eight.
#[test]
fn a_search_tells_how_many_orders_it_has_tried() {
    let job = panels_and_leaves(4);
    let told = std::cell::RefCell::new(Vec::new());
    let tell = |done, of| told.borrow_mut().push((done, of));
    let found = arrange_telling(&job, Wanted::Counts, Effort::Usual, &NEVER, &tell).unwrap();
    let told = told.into_inner();
    assert!(told.len() > 2, "{told:?}");
    assert!(told.windows(2).all(|pair| pair[1] == (pair[0].0 + 8, pair[0].1)), "{told:?}");
    assert!(told.iter().all(|&(done, of)| done < of) && found.tries >= told[0].1);
    assert_eq!(
        found,
        arrange(&job, Wanted::Counts, Effort::Usual, &NEVER).unwrap(),
        "telling changes nothing"
    );
}

/// Findings of every copy as a table, the batch as JSON as `spelk arrange` prints it, and a file for each piece.
#[test]
fn a_batch_is_written_as_a_job_is() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let job = panels_and_leaves(2);
    // Knots under the second panel alone, more than the first has findings.
    let [x, y] = [job.lies(0)[1].x.get() + 25.0, job.lies(0)[1].y.get() + 15.0];
    let mut knotty = job.clone();
    change_board(&mut knotty, |board| {
        board.blemishes = vec![knot(x - 12.0, y, 8.0, 1.0), knot(x + 12.0, y, 8.0, 1.0)];
    });
    saved::save(&knotty, path("batch.spelk").as_ref()).unwrap();
    let export = |out: &str, more: &[&str]| {
        let run = spelk(&[&["export", &path("batch.spelk"), "-o", &path(out)], more].concat());
        assert_eq!(run.status, 0, "{out}: {}", run.err);
        run.out
    };
    export("all.csv", &[]);
    let table = std::fs::read_to_string(path("all.csv")).unwrap();
    let rows: Vec<Vec<String>> = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(table.as_bytes())
        .records()
        .map(|row| row.unwrap().iter().map(str::to_owned).collect())
        .collect();
    assert_eq!(rows[0][..3], ["piece", "copy", "kind"].map(str::to_owned));
    let knots: Vec<&[String]> = rows.iter().filter(|row| row[2] == "blemish").map(|row| &row[..2]).collect();
    assert_eq!(knots, [["panel", "2"], ["panel", "2"]].map(|row| row.map(str::to_owned)));
    export("all.json", &[]);
    let json: serde_json::Value =
        serde_json::from_str(&std::fs::read_to_string(path("all.json")).unwrap()).unwrap();
    assert_eq!((json["format"].as_str(), json["count"].as_u64()), (Some("spelk.arrange"), Some(3)));
    let on_knot =
        |copy: usize| json["pieces"][0]["copies"][copy]["findings"].to_string().contains("\"blemish\"");
    assert_eq!([on_knot(0), on_knot(1)], [false, true]);
    export("all.stl", &[]);
    assert!(std::fs::metadata(path("all.stl")).unwrap().len() > 10_000);
    // One for each: called after the piece, the outline at its size.
    let said = export("board.svg", &["--each"]);
    assert_eq!(said.lines().count(), 2, "{said}");
    let svg = std::fs::read_to_string(path("board-1-panel.svg")).unwrap();
    assert!(svg.contains("50") && svg.matches("<path").count() == 1, "{svg}");
    assert!(
        std::fs::metadata(path("board-2-leaf.svg")).is_ok() && std::fs::metadata(path("board.svg")).is_err()
    );
    spelk(&["export", &path("batch.spelk"), "-o", &path("board.svg"), "--each"])
        .refused(&["board-1-panel.svg is already there", "--force"]);
    export("board.svg", &["--each", "--force"]);
    export("proof.json", &["--each"]);
    let proof: serde_json::Value =
        serde_json::from_str(&std::fs::read_to_string(path("proof-1-panel.json")).unwrap()).unwrap();
    assert!(proof["findings"].to_string().contains("\"blemish\""), "of the copy on the knot: {proof}");
}

/// What `spelk arrange` writes goes by the ending, and a file for each piece by a switch; names that systems keep for
/// themselves, and that two pieces share, come out as files all the same.
#[test]
fn arranging_writes_by_the_ending_and_each_by_its_name() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let mut named = piece("a/b: con", vec![rectangle(0.0, 0.0, 50.0, 30.0)]);
    named = on_board(&named, 300.0, 100.0, 6.0);
    named.apply(Edit::AddPiece(Box::new(Piece::of(&named.clone(), 1, Turns::None)))).unwrap();
    saved::save(&named, path("two.spelk").as_ref()).unwrap();
    let two = path("two.spelk");
    let run = spelk(&["arrange", &two, "-o", &path("b.svg"), "-o", &path("b.csv"), "-o", &path("b.spelk")]);
    assert_eq!(run.status, 0, "{}", run.err);
    assert_eq!(std::fs::read_to_string(path("b.svg")).unwrap().matches("<path").count(), 2);
    assert_eq!(saved::open(path("b.spelk").as_ref()).unwrap().piece_count(), 2);
    let run = spelk(&["arrange", &two, "-o", &path("b.spelk"), "--each"]);
    assert_eq!(run.status, 0, "{}", run.err);
    for piece in ["b-1-a-b- con.spelk", "b-2-a-b- con.spelk"] {
        let alone = saved::open(path(piece).as_ref()).unwrap();
        assert_eq!((alone.is_batch(), alone.design().name.as_str()), (false, "a/b: con"));
    }
    spelk(&["arrange", &two, "-o", &path("b.pdf")]).refused(&["b.pdf", ".spelk, .svg"]);
    assert_eq!(spelk(&["arrange", &two, "--each"]).status, 2, "each of what?");
    spelk(&["arrange", &two, "-o", &path("x.svg"), "-o", &path("x.svg")]).refused(&["x.svg"]);
}
