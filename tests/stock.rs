//! Boards as they are: blemishes, warp, the sensing strip, long boards, and carriers.

use crate::support::{change_board, change_machine, change_wood, job, proof_of, rectangle};
use spelk::job::{Edit, Ends, Job, Placement, Treatment, Turn};
use spelk::proof::carrier::{CarrierReason, carrier};
use spelk::proof::stock::{StockReason, StockRow};
use spelk::proof::{Finding, FindingKind, Severity};
use spelk::shop::{
    Blemish, BlemishKind, BlemishShape, BoardEdge, Check, Cutter, FeedDirection, Planed, board_feet,
};
use spelk::units::{LengthUnit, Mm};
use spelk::words;

const UNIT: LengthUnit = LengthUnit::Millimetres;

fn mm(length: f64) -> Mm {
    Mm::new(length)
}

fn close(found: Mm, expected: f64) {
    assert!((found.get() - expected).abs() < 1e-4, "{found}, not {expected}");
}

/// A 200 x 60 mm panel on a 600 x 180 x 20 mm board, rollers 100 mm on either side.
fn panel(treatment: Treatment) -> Job {
    let mut job = job(treatment, &[("panel", vec![rectangle(0.0, 0.0, 200.0, 60.0)])]);
    change_board(&mut job, |board| {
        (board.length, board.width, board.thickness) = (mm(600.0), mm(180.0), mm(20.0));
    });
    change_machine(&mut job, |machine| {
        (machine.infeed_roller, machine.outfeed_roller) = (mm(100.0), mm(100.0));
    });
    job
}

fn found(job: &Job, kind: FindingKind) -> Vec<Finding> {
    proof_of(job).findings.into_iter().filter(|finding| finding.kind() == kind).collect()
}

fn row(job: &Job, check: Check) -> StockRow {
    proof_of(job).stock.rows.into_iter().find(|row| row.check == check).expect("a row a check")
}

#[test]
fn what_is_not_measured_is_not_checked_and_never_fine() {
    let mut job = panel(Treatment::Sunk);
    let notes = found(&job, FindingKind::NotChecked);
    assert_eq!(notes.len(), 1);
    assert_eq!(notes[0].severity(), Severity::Sound);
    for check in Check::ALL {
        assert_eq!(row(&job, check).reason, StockReason::NotChecked);
        let said = words::finding::message(&notes[0], UNIT);
        assert!(said.contains(check.label()), "{said}");
    }
    assert!(
        words::verdict::advice(&proof_of(&job).verdict, UNIT).starts_with("Not checked"),
        "beside the verdict"
    );
    job.apply(Edit::Measured(Check::Cup, Some(Mm::ZERO))).unwrap();
    assert!(!words::finding::message(&found(&job, FindingKind::NotChecked)[0], UNIT).contains("cup"));
    for check in Check::ALL {
        if !matches!(check, Check::Planed | Check::Moisture) {
            job.apply(Edit::Measured(check, Some(Mm::ZERO))).unwrap();
        }
    }
    job.apply(Edit::Planed(Some(Planed::Both))).unwrap();
    job.apply(Edit::Moisture(Some(8.0))).unwrap();
    assert_eq!(found(&job, FindingKind::NotChecked), []);
    assert_eq!(found(&job, FindingKind::Warp), []);
    assert_eq!(words::verdict::advice(&proof_of(&job).verdict, UNIT), "");
}

/// A circle of 4050.5 mm radius is 1.0 mm deep over 180 mm and 0.111 mm over 60 mm (closed form).
#[test]
fn the_cup_under_a_narrow_design_is_that_of_a_narrower_strip() {
    let mut job = panel(Treatment::Sunk);
    job.apply(Edit::Measured(Check::Cup, Some(mm(1.0)))).unwrap();
    assert!((row(&job, Check::Cup).depth_error.get() - 0.111).abs() < 5e-4, "{:?}", row(&job, Check::Cup));
    // At the edge the face falls away faster: (1)^2 - (1/3)^2.
    job.apply(Edit::Place(Placement::At { x: mm(200.0), y: Mm::ZERO })).unwrap();
    close(row(&job, Check::Cup).depth_error, 1.0 - 1.0 / 9.0);
}

/// Bow goes with the square of the length: 1/4 in over 96 in is 0.0156 in over 24 in (parabola).
#[test]
fn bow_counts_between_the_rollers() {
    let mut job = panel(Treatment::Sunk);
    job.apply(Edit::BoardLength(Mm::from_inches(96.0))).unwrap();
    change_machine(&mut job, |machine| {
        (machine.infeed_roller, machine.outfeed_roller) = (Mm::from_inches(10.0), Mm::from_inches(14.0));
    });
    job.apply(Edit::Measured(Check::Bow, Some(Mm::from_inches(0.25)))).unwrap();
    close(row(&job, Check::Bow).depth_error, 0.015_625 * 25.4);
}

#[test]
fn twist_counts_between_the_rollers_and_under_the_design() {
    let mut job = panel(Treatment::Sunk);
    job.apply(Edit::Measured(Check::Twist, Some(mm(9.0)))).unwrap();
    // 200 of 600 mm between the rollers, 60 of 180 mm across.
    close(row(&job, Check::Twist).depth_error, 1.0);
    assert_eq!(row(&job, Check::Twist).severity, Severity::Chancy);
    job.apply(Edit::Depth(mm(2.0))).unwrap();
    assert_eq!(row(&job, Check::Twist).severity, Severity::Unsound, "half the depth is spoiled");
    assert_eq!(found(&job, FindingKind::Warp)[0].severity(), Severity::Unsound);
}

#[test]
fn a_depth_error_is_a_width_error_of_a_v() {
    let mut job = panel(Treatment::Incised);
    job.apply(Edit::Cutter(Box::new(Cutter::find("vee-60").unwrap().clone()))).unwrap();
    job.apply(Edit::Measured(Check::Twist, Some(mm(9.0)))).unwrap();
    close(row(&job, Check::Twist).width_error, 2.0 / 3f64.sqrt()); // 2 tan 30
    job.apply(Edit::Cutter(Box::new(Cutter::find("vee-90").unwrap().clone()))).unwrap();
    close(row(&job, Check::Twist).width_error, 2.0);
    job.apply(Edit::TreatAll(Treatment::Sunk)).unwrap();
    close(row(&job, Check::Twist).width_error, 0.0);
}

#[test]
fn a_crooked_edge_puts_the_design_aside() {
    let mut job = panel(Treatment::Sunk);
    job.apply(Edit::Measured(Check::Crook, Some(mm(3.0)))).unwrap();
    close(row(&job, Check::Crook).sideways, 3.0 / 9.0);
    assert_eq!(row(&job, Check::Crook).severity, Severity::Sound);
    job.apply(Edit::Measured(Check::UnequalWidth, Some(mm(3.0)))).unwrap();
    close(row(&job, Check::UnequalWidth).sideways, 1.0);
    assert_eq!(row(&job, Check::UnequalWidth).severity, Severity::Chancy);
}

/// Basswood is 2.413 MPa strong across the grain and .027 x 10066 MPa stiff (Wood Handbook tables 5-3b and 5-1). A
/// board 180 wide and 20 thick bends as a beam on its edges: flat, its face bears `6 E_T t c / W^2`, which is as much
/// as it can at a cup of 2.397 mm; `1.229 W (E_L / E_T)^(1/4)` = 545.8 mm of it bend, with 1951 N (formulas).
#[test]
fn a_cup_cracks_only_where_the_rollers_press_hard_enough() {
    let cracks = |cup: f64, hold_down: f64| {
        let mut job = panel(Treatment::Sunk);
        change_machine(&mut job, |machine| machine.hold_down = hold_down);
        job.apply(Edit::Measured(Check::Cup, Some(mm(cup)))).unwrap();
        matches!(row(&job, Check::Cup).reason, StockReason::MayCrack { .. })
    };
    assert!(!cracks(2.39, 1.0e5) && cracks(2.41, 1.0e5), "pressed flat");
    assert!(!cracks(9.0, 1940.0) && cracks(9.0, 1960.0), "as hard as the rollers press");
    assert!(!cracks(9.0, 40.0), "the starting machine cracks no such board");
}

/// From 20 % to the 9.27 % of 20 C and 50 % (Wood Handbook eq. 4-5), with .00330 for each point.
#[test]
fn wet_wood_moves() {
    let mut job = panel(Treatment::Sunk);
    job.apply(Edit::Moisture(Some(20.0))).unwrap();
    let StockReason::Moves { by: Some(by), .. } = row(&job, Check::Moisture).reason else {
        panic!("{:?}", row(&job, Check::Moisture))
    };
    assert!((by.get() + 180.0 * 0.0033 * (20.0 - 9.27)).abs() < 0.01, "{by}");
    assert!(words::bench_list::row(&row(&job, Check::Moisture), UNIT).contains("shrinks"));
}

#[test]
fn warp_takes_from_the_thickness_that_is_left() {
    let mut job = panel(Treatment::Sunk);
    close(proof_of(&job).stock.thickness_left, 17.0);
    job.apply(Edit::Depth(mm(16.5))).unwrap();
    assert_eq!(found(&job, FindingKind::ThicknessLeft), []);
    job.apply(Edit::Measured(Check::Twist, Some(mm(9.0)))).unwrap();
    let thin = found(&job, FindingKind::ThicknessLeft);
    assert_eq!(thin.len(), 1);
    close(thin[0].measured().unwrap(), 2.5);
    job.apply(Edit::Depth(mm(17.5))).unwrap();
    assert_eq!(found(&job, FindingKind::ThicknessLeft), [], "the board is too thin anyway, and that is said");
    assert_eq!(found(&job, FindingKind::BoardThin).len(), 1);
}

fn knot(x: f64, y: f64, diameter: f64, clearance: f64) -> Blemish {
    let shape = BlemishShape::Circle { x: mm(x), y: mm(y), diameter: mm(diameter) };
    Blemish { kind: BlemishKind::Knot, shape, clearance: mm(clearance) }
}

#[test]
fn a_blemish_under_the_design_is_found_and_one_beside_it_is_not() {
    let mut job = panel(Treatment::Sunk);
    let count = |job: &mut Job, blemish: Blemish| {
        change_board(job, |board| board.blemishes = vec![blemish]);
        found(job, FindingKind::Blemish).len()
    };
    // The panel lies from 200 to 400 and from 60 to 120 mm.
    assert_eq!(count(&mut job, knot(300.0, 90.0, 20.0, 0.0)), 1);
    assert_eq!(count(&mut job, knot(300.0, 45.0, 20.0, 0.0)), 0);
    assert_eq!(count(&mut job, knot(300.0, 45.0, 20.0, 4.9)), 0);
    assert_eq!(count(&mut job, knot(300.0, 45.0, 20.0, 5.1)), 1);
    assert_eq!(found(&job, FindingKind::Blemish)[0].severity(), Severity::Chancy, "a knot is only hard");
    change_board(&mut job, |board| board.blemishes[0].kind = BlemishKind::Hole);
    assert_eq!(found(&job, FindingKind::Blemish)[0].severity(), Severity::Unsound);
    assert_eq!(found(&job, FindingKind::Blemish)[0].element(), Some("panel"));
    // Turned, the panel lies from 270 to 330 mm along the board.
    job.apply(Edit::Turn(Turn::Quarter)).unwrap();
    job.apply(Edit::BoardWidth(mm(300.0))).unwrap();
    assert_eq!(count(&mut job, knot(250.0, 150.0, 20.0, 0.0)), 0);
    assert_eq!(count(&mut job, knot(300.0, 150.0, 20.0, 0.0)), 1);
}

#[test]
fn the_sensing_strip_must_be_whole() {
    let mut job = panel(Treatment::Pierced);
    change_machine(&mut job, |machine| machine.sensing_strip = mm(10.0));
    let breaks = |job: &Job| found(job, FindingKind::SensingStrip).len();
    change_board(&mut job, |board| board.blemishes = vec![knot(20.0, 12.0, 6.0, 0.0)]);
    assert_eq!(breaks(&job), 0, "no sensor reads it");
    change_machine(&mut job, |machine| machine.sensing_edge = Some(BoardEdge::Reference));
    change_board(&mut job, |board| board.blemishes = vec![knot(20.0, 14.0, 6.0, 0.0)]);
    assert_eq!(breaks(&job), 0, "11 mm from the edge");
    change_board(&mut job, |board| board.blemishes = vec![knot(20.0, 12.0, 6.0, 0.0)]);
    assert_eq!(breaks(&job), 1, "9 mm from the edge, though far from the design");
    change_machine(&mut job, |machine| machine.sensing_edge = Some(BoardEdge::Far));
    assert_eq!(breaks(&job), 0, "it reads the other edge");
    job.apply(Edit::RemoveBlemish(0)).unwrap();
    job.apply(Edit::Place(Placement::At { x: mm(200.0), y: mm(115.0) })).unwrap();
    assert_eq!(breaks(&job), 1, "the panel is cut through 5 mm from the far edge");
    job.apply(Edit::TreatAll(Treatment::Sunk)).unwrap();
    assert_eq!(breaks(&job), 0, "a sunk floor leaves the underside whole");
}

#[test]
fn rollers_may_stand_unevenly() {
    let mut job = panel(Treatment::Sunk);
    change_machine(&mut job, |machine| {
        (machine.infeed_roller, machine.outfeed_roller) = (mm(150.0), mm(60.0));
    });
    let needed = |job: &Job| proof_of(job).fit.length_needed;
    close(needed(&job), 410.0);
    job.apply(Edit::Place(Placement::LowerLeft)).unwrap();
    let left = |job: &Job| proof_of(job).board_from_design.transform_point2(glam::DVec2::ZERO).x;
    // The left end leads: it must have reached the outfeed roller.
    assert!((left(&job) - 60.0).abs() < 1e-6, "{}", left(&job));
    change_machine(&mut job, |machine| machine.feed = FeedDirection::RightFirst);
    assert!((left(&job) - 150.0).abs() < 1e-6, "{}", left(&job));
    job.apply(Edit::Ends(Ends::Free)).unwrap();
    let zones = proof_of(&job).feeding.snipe_zones;
    close(zones[0][1], 150.0);
    close(zones[1][0], 540.0);
}

/// The free end is a cantilever from roller to roller: 3 rho g l^4 / (2 E t^2), whatever its width.
#[test]
fn the_step_is_the_release_and_the_sag() {
    let mut job = panel(Treatment::Sunk);
    change_machine(&mut job, |machine| machine.release_step = mm(0.15));
    job.apply(Edit::BoardThickness(mm(6.0))).unwrap();
    change_machine(&mut job, |machine| {
        (machine.infeed_roller, machine.outfeed_roller) = (mm(250.0), mm(250.0));
    });
    let step = proof_of(&job).feeding.step;
    let (density, modulus) = (414e-9, 10_066.0);
    let sag = 3.0 * density * 9.806_65 * 500f64.powi(4) / (2.0 * modulus * 36.0);
    close(step.sag.unwrap(), sag);
    close(step.height(), 0.15 + sag);
    assert_eq!(step.range(), [step.height(); 2], "this step was measured");
    // A machine that came with the program, as it came.
    let mut job = panel(Treatment::Sunk);
    job.apply(Edit::Machine(Box::new(spelk::shop::machines()[0].clone()))).unwrap();
    let unmeasured = proof_of(&job).feeding.step;
    let [low, high] = unmeasured.range().map(|step| step - unmeasured.sag.unwrap());
    close(low, 0.1);
    close(high, 0.4);
    change_wood(&mut job, |wood| wood.modulus = None);
    assert_eq!(proof_of(&job).feeding.step.sag, None, "not known is not nothing");
}

#[test]
fn a_long_board_tips_and_is_told_where_to_put_a_stand() {
    let mut job = panel(Treatment::Sunk);
    job.apply(Edit::BoardLength(mm(2000.0))).unwrap();
    job.apply(Edit::Place(Placement::At { x: mm(100.0), y: mm(60.0) })).unwrap();
    let tips = found(&job, FindingKind::Overhang);
    assert_eq!(tips.len(), 1);
    close(tips[0].measured().unwrap(), 1800.0);
    let advice = words::finding::advice(&tips[0], UNIT);
    assert!(advice.contains("past the infeed roller"), "{advice}");
    assert_eq!(tips[0].severity(), Severity::Chancy);
    // 20 x 180 mm of basswood: 0.0146 N for each mm, (1800^2 - 200^2) / 400 mm of it on the lever.
    let lift = 414e-9 * 9.806_65 * 20.0 * 180.0 * (1800f64.powi(2) - 200f64.powi(2)) / 400.0;
    change_machine(&mut job, |machine| machine.hold_down = lift * 1.01);
    assert_eq!(found(&job, FindingKind::Overhang)[0].severity(), Severity::Sound, "the roller holds it");
    change_machine(&mut job, |machine| machine.hold_down = lift * 0.99);
    assert_eq!(found(&job, FindingKind::Overhang)[0].severity(), Severity::Chancy);
    job.apply(Edit::BoardLength(mm(500.0))).unwrap();
    assert_eq!(found(&job, FindingKind::Overhang), []);
}

#[test]
fn a_small_piece_is_carried() {
    let mut job = panel(Treatment::Sunk);
    assert!(!carrier(&job).needed(), "{:?}", carrier(&job).reasons);
    let inch = Mm::from_inches;
    change_machine(&mut job, |machine| {
        (machine.shortest, machine.narrowest, machine.thinnest) = (inch(7.0), inch(1.5), inch(0.5));
    });
    change_board(&mut job, |board| {
        (board.length, board.width, board.thickness) = (mm(150.0), mm(30.0), mm(10.0));
    });
    let made = carrier(&job);
    assert_eq!(made.reasons.len(), 4, "{:?}", made.reasons);
    assert!(made.reasons.contains(&CarrierReason::NoAllowance), "150 mm between rollers 200 mm apart");
    // The pocket has 1 mm of play all round; 100 mm of stop at either end holds the rollers.
    close(made.pocket_length, 152.0);
    close(made.length, 352.0);
    close(made.pocket_width, 32.0);
    close(made.width, 32.0 + 2.0 * 19.05);
    close(made.height, 22.7);
    let wood = board_feet(made.length, made.width, made.height)
        - board_feet(made.pocket_length, made.pocket_width, made.pocket_depth);
    assert!((made.board_feet - wood).abs() < 1e-9, "the carrier is its block less its pocket");
    assert_eq!(made.too_large, []);
    job.apply(Edit::Measured(Check::Crook, Some(mm(5.0)))).unwrap();
    close(carrier(&job).pocket_width, 37.0);
}
