//! The rack: which of the shop's boards takes a design.

use crate::support::{change_machine, job, rectangle};
use spelk::job::{Edit, Job, Size, Treatment, Turn};
use spelk::proof::rack::{RackRow, rack};
use spelk::proof::{FindingKind, Severity, measure};
use spelk::shop::{Blemish, BlemishKind, BlemishShape, Board, RackBoard, Shop, open_rack, save_rack};
use spelk::units::Mm;

fn mm(length: f64) -> Mm {
    Mm::new(length)
}

fn panel() -> Job {
    let mut job = job(Treatment::Sunk, &[("panel", vec![rectangle(0.0, 0.0, 200.0, 60.0)])]);
    change_machine(&mut job, |machine| {
        (machine.infeed_roller, machine.outfeed_roller) = (mm(50.0), mm(50.0));
    });
    job
}

fn entry(name: &str, length: f64, width: f64) -> RackBoard {
    let board = Board { length: mm(length), width: mm(width), ..Board::default() };
    RackBoard {
        name: name.to_owned(),
        board,
        wood: "basswood_american".to_owned(),
        price: Some(length * width / 1000.0),
    }
}

fn rows(job: &Job, boards: &[RackBoard]) -> Vec<RackRow> {
    rack(job, &measure(job), boards, &Shop::built_in()).unwrap()
}

fn names(rows: &[RackRow]) -> Vec<&str> {
    rows.iter().map(|row| row.name.as_str()).collect()
}

#[test]
fn the_sound_board_with_least_waste_comes_first() {
    let boards = [
        entry("short", 250.0, 100.0),
        entry("long", 800.0, 100.0),
        entry("right", 320.0, 70.0),
        entry("wide", 400.0, 300.0),
    ];
    let rows = rows(&panel(), &boards);
    assert_eq!(names(&rows), ["right", "long", "wide", "short"]);
    let waste = 1.0 - 200.0 * 60.0 / (320.0 * 70.0);
    assert!((rows[0].waste - waste).abs() < 1e-6, "{}", rows[0].waste);
    assert!((rows[0].offcut.get() - 20.0).abs() < 1e-4, "{}", rows[0].offcut);
    assert_eq!(rows[0].cost, Some(22.4));
    assert!((rows[0].largest_factor - 1.1).abs() < 1e-6, "{}", rows[0].largest_factor);
    assert_eq!(rows[3].verdict.severity, Severity::Unsound);
    assert!(!rows[3].takes_it, "too short");
    assert!(rows[3].findings.iter().any(|finding| finding.kind() == FindingKind::BoardShort));
}

#[test]
fn a_board_that_takes_it_turned_is_turned() {
    let rows = rows(&panel(), &[entry("stub", 180.0, 320.0)]);
    assert!(rows[0].takes_it, "{rows:?}");
    assert_eq!(rows[0].job.turn(), Turn::Quarter);
    assert!(rows[0].verdict.severity < Severity::Unsound, "{:?}", rows[0].findings);
}

#[test]
fn a_knotty_board_is_carved_beside_its_knot() {
    let mut knotty = entry("knotty", 800.0, 70.0);
    let shape = BlemishShape::Circle { x: mm(400.0), y: mm(35.0), diameter: mm(30.0) };
    knotty.board.blemishes = vec![Blemish { kind: BlemishKind::Knot, shape, clearance: mm(5.0) }];
    let found = rows(&panel(), &[knotty.clone()]);
    assert!(found[0].takes_it, "{found:?}");
    assert!(found[0].findings.iter().all(|finding| finding.kind() != FindingKind::Blemish), "clear of it");
    let fitted = rows(&panel().with([Edit::Size(Size::Fit)]).unwrap(), &[knotty]);
    // 50 to 380 mm, or 420 to 750: 330 mm of length, but 70 of width decides.
    assert!((fitted[0].factor - 70.0 / 60.0).abs() < 1e-4, "{}", fitted[0].factor);
}

#[test]
fn each_row_is_what_a_proof_of_its_job_says() {
    let boards: Vec<RackBoard> = (0..40)
        .map(|i| entry(&format!("board {i}"), 200.0 + 17.0 * f64::from(i), 50.0 + f64::from(i % 7) * 20.0))
        .collect();
    for size in [Size::Factor(0.8), Size::Fit] {
        for row in rows(&panel().with([Edit::Size(size)]).unwrap(), &boards) {
            let proof = spelk::proof::proof_of(&row.job);
            assert_eq!(row.verdict.severity, proof.verdict.severity, "{}", row.name);
            let kinds = |findings: &[spelk::proof::Finding]| {
                findings.iter().map(|finding| (finding.id.clone(), finding.at)).collect::<Vec<_>>()
            };
            assert_eq!(kinds(&row.findings), kinds(&proof.findings), "{}", row.name);
        }
    }
}

#[test]
fn a_wood_nobody_knows_is_told() {
    let mut strange = entry("strange", 400.0, 100.0);
    strange.wood = "moonwood".to_owned();
    assert!(rows(&panel(), &[strange])[0].wood_unknown);
}

#[test]
fn the_rack_is_kept_between_runs() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path().join("spelk");
    assert_eq!(open_rack(&folder).unwrap(), []);
    let mut boards = vec![entry("one", 300.0, 100.0), entry("two", 0.1 + 0.2, 90.0)];
    boards[0].price = None;
    boards[1].board.stock.cup = Some(mm(0.4));
    save_rack(&folder, &boards).unwrap();
    assert_eq!(open_rack(&folder).unwrap(), boards);
    std::fs::write(folder.join("boards.json"), "[{\"name\": 7}]").unwrap();
    assert!(open_rack(&folder).unwrap_err().to_string().contains("boards.json"));
    let least = r#"[{"name": "a", "board": {"length": 0, "width": 1, "thickness": 1, "wood": ""}}]"#;
    std::fs::write(folder.join("boards.json"), least).unwrap();
    assert!(open_rack(&folder).unwrap_err().to_string().contains("'a'"));
}
