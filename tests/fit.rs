//! Does it fit, how large may it be, and what board would take it.

use crate::support::{change_board, change_machine, job, proof_of, rectangle, ring};
use proptest::prelude::*;
use spelk::job::{Edit, Ends, Frame, Job, Placement, Size, Treatment, Turn};
use spelk::proof::fit::{board_from_design, board_needed, draw_for, fit};
use spelk::proof::{BoardSide, Facts, FindingKind, FitOutcome};
use spelk::units::Mm;

fn inches(length: f64) -> Mm {
    Mm::from_inches(length)
}

/// A 12 x 5 in panel, sunk, so that nothing but the allowance is added.
fn twelve_inch_panel() -> Job {
    let panel = rectangle(0.0, 0.0, inches(12.0).get(), inches(5.0).get());
    job(Treatment::Sunk, &[("panel", vec![panel])])
}

fn close(found: Mm, expected: Mm) {
    assert!((found - expected).get().abs() < 1e-5, "{found}, not {expected}");
}

/// A 12 in design with 3.5 in beyond it at each end needs a 19 in board (common practice, no source).
#[test]
fn a_twelve_inch_design_needs_a_nineteen_inch_board() {
    let mut job = twelve_inch_panel();
    let found = fit(&job, 1.0);
    close(found.length_needed, inches(19.0));
    close(found.width_needed, inches(5.0));
    job.apply(Edit::BoardLength(inches(19.0))).unwrap();
    assert_eq!(proof_of(&job).fit.outcome, FitOutcome::Fits);
    job.apply(Edit::BoardLength(inches(18.9))).unwrap();
    let proof = proof_of(&job);
    assert_eq!(proof.fit.outcome, FitOutcome::Shrink);
    assert_eq!(proof.findings[0].kind(), FindingKind::BoardShort);
    close(proof.findings[0].limit().unwrap(), inches(19.0));
    job.apply(Edit::Ends(Ends::Free)).unwrap();
    assert_eq!(proof_of(&job).fit.outcome, FitOutcome::Fits);
}

/// Scaling is uniform: the largest size keeps the design's ratio, it never takes the board's (common
/// practice, no source).
#[test]
fn the_largest_size_keeps_the_designs_ratio() {
    let mut job = twelve_inch_panel();
    change_board(&mut job, |board| (board.length, board.width) = (inches(40.0), inches(7.5)));
    job.apply(Edit::Size(Size::Fit)).unwrap();
    let proof = proof_of(&job);
    assert!((proof.factor - 1.5).abs() < 1e-6, "width decides: 7.5 / 5, not {}", proof.factor);
    close(proof.length, inches(18.0));
    close(proof.width, inches(7.5));
    job.apply(Edit::BoardLength(inches(13.0))).unwrap();
    let proof = proof_of(&job);
    assert!((proof.factor - 0.5).abs() < 1e-6, "length decides: 6 / 12, not {}", proof.factor);
    close(proof.width, inches(2.5));
}

#[test]
fn a_reliefs_ground_is_wood_on_the_board_and_does_not_scale() {
    let mut job = twelve_inch_panel();
    job.apply(Edit::TreatAll(Treatment::Relief)).unwrap();
    let ground = job.cutter().shape.diameter();
    for factor in [0.5, 1.0, 2.0] {
        let found = fit(&job, factor);
        close(found.length_needed, inches(12.0 * factor + 7.0) + ground * 2.0);
        close(found.width_needed, inches(5.0 * factor) + ground * 2.0);
    }
    job.apply(Edit::GroundMargin(Some(Mm::new(10.0)))).unwrap();
    close(fit(&job, 1.0).width_needed, inches(5.0) + Mm::new(20.0));
}

#[test]
fn no_room_is_said_and_not_scaled_to_nothing() {
    let mut job = twelve_inch_panel();
    job.apply(Edit::BoardLength(inches(7.0))).unwrap();
    job.apply(Edit::Size(Size::Fit)).unwrap();
    let proof = proof_of(&job);
    assert_eq!(proof.fit.outcome, FitOutcome::NoRoom);
    assert_eq!(proof.fit.largest_factor, 0.0);
    assert_eq!(proof.factor, 1.0);
    assert!(proof.findings.iter().any(|finding| finding.kind() == FindingKind::BoardShort));
}

#[test]
fn the_page_can_be_taken_for_the_size() {
    let mut job = twelve_inch_panel();
    let mut design = (**job.design()).clone();
    design.page = Some(spelk::geometry::Rect::new(
        glam::dvec2(-25.4, -25.4),
        glam::dvec2(inches(14.0).get() - 25.4, inches(7.0).get() - 25.4),
    ));
    job = job.with_design(std::sync::Arc::new(design));
    job.apply(Edit::Frame(Frame::Page)).unwrap();
    let proof = proof_of(&job);
    close(proof.length, inches(14.0));
    close(proof.fit.length_needed, inches(21.0));
}

/// The smallest piece carved without a carrier is 7 x 1.5 x 0.5 in, the largest 12 ft x 14.5 x 5 in
/// (common practice, no source).
#[test]
fn the_machines_smallest_and_largest_board_are_kept() {
    let mut job = twelve_inch_panel();
    job.apply(Edit::Ends(Ends::Free)).unwrap();
    job.apply(Edit::Size(Size::Length(inches(3.0)))).unwrap();
    let limits = |job: &Job| {
        let kept = |finding: &spelk::proof::Finding| finding.kind() == FindingKind::MachineLimit;
        proof_of(job).findings.iter().filter(|finding| kept(finding)).count()
    };
    let sizes = |length: f64, width: f64, thickness: f64| {
        let mut job = job.clone();
        job.apply(Edit::BoardSize([length, width, thickness].map(inches))).unwrap();
        limits(&job)
    };
    assert_eq!(sizes(7.0, 1.5, 0.5), 0);
    assert_eq!(sizes(6.9, 1.5, 0.5), 1);
    assert_eq!(sizes(7.0, 1.4, 0.5), 1);
    assert_eq!(sizes(7.0, 1.5, 0.4), 1);
    assert_eq!(sizes(144.0, 14.5, 5.0), 0);
    assert_eq!(sizes(144.1, 14.6, 5.1), 3);
}

#[test]
fn the_design_lies_where_it_is_placed() {
    let mut job = twelve_inch_panel();
    change_board(&mut job, |board| (board.length, board.width) = (inches(24.0), inches(8.0)));
    let corner = |job: &Job| board_from_design(job, 1.0).transform_point2(glam::DVec2::ZERO);
    let near = |found: glam::DVec2, x: f64, y: f64| {
        let expected = glam::dvec2(inches(x).get(), inches(y).get());
        assert!((found - expected).length() < 1e-5, "{found}, not {expected}");
    };
    near(corner(&job), 6.0, 1.5);
    job.apply(Edit::Place(Placement::LowerLeft)).unwrap();
    near(corner(&job), 3.5, 0.0);
    job.apply(Edit::Ends(Ends::Free)).unwrap();
    near(corner(&job), 0.0, 0.0);
}

/// With the rollers 3.5 in on either side of the cutter, what is carved within 3.5 in of an end is
/// carved while that end is past its roller.
#[test]
fn skipping_the_allowance_snipes_what_lies_near_the_ends() {
    let mut job = twelve_inch_panel();
    job.apply(Edit::BoardLength(inches(14.0))).unwrap();
    assert!(proof_of(&job).feeding.snipe_zones.is_empty(), "held ends are not sniped");
    job.apply(Edit::Ends(Ends::Free)).unwrap();
    let proof = proof_of(&job);
    // The panel lies from 1 to 13 in: 2.5 in of it in either zone, 5 of 12 in all.
    assert!((proof.feeding.sniped_share - 5.0 / 12.0).abs() < 1e-6, "{}", proof.feeding.sniped_share);
    let zones = proof.findings.iter().filter_map(|finding| match finding.facts {
        Facts::SnipeZone { length, share, .. } => Some((length, share)),
        _ => None,
    });
    assert_eq!(zones.clone().count(), 2);
    for (length, share) in zones {
        close(length, inches(2.5));
        assert!((share - 2.5 / 12.0).abs() < 1e-6, "{share}");
    }
    // On a board shorter than both reaches together, all of it is sniped, once.
    job.apply(Edit::Size(Size::Length(inches(5.0)))).unwrap();
    job.apply(Edit::BoardLength(inches(6.0))).unwrap();
    assert!((proof_of(&job).feeding.sniped_share - 1.0).abs() < 1e-9, "all of it");
}

/// 12 x 5 in on a board of 14 x 14 in: 7 in are free along it and 14 across, so it has to be turned.
#[test]
fn what_fits_turned_is_turned() {
    let mut job = twelve_inch_panel();
    change_board(&mut job, |board| (board.length, board.width) = (inches(14.0), inches(14.0)));
    let proof = proof_of(&job);
    assert_eq!(proof.fit.outcome, FitOutcome::FitsTurned);
    for turn in [Turn::Quarter, Turn::ThreeQuarters] {
        job.apply(Edit::Turn(turn)).unwrap();
        let proof = proof_of(&job);
        assert_eq!(proof.fit.outcome, FitOutcome::Fits);
        close(proof.length, inches(5.0));
        close(proof.width, inches(12.0));
        close(proof.fit.length_needed, inches(12.0));
    }
}

/// A corner of an L goes round the board with the turns, and the L stays where it is placed.
#[test]
fn turning_carries_the_design_round() {
    let l = vec![ring(&[(0.0, 0.0), (40.0, 0.0), (40.0, 10.0), (10.0, 10.0), (10.0, 30.0), (0.0, 30.0)])];
    let mut job = job(Treatment::Sunk, &[("l", l)]);
    change_board(&mut job, |board| (board.length, board.width) = (Mm::new(400.0), Mm::new(200.0)));
    job.apply(Edit::Place(Placement::At { x: Mm::new(150.0), y: Mm::new(50.0) })).unwrap();
    // The heel of the L, which is drawn at the origin, scaled by two.
    let expected = [(150.0, 50.0), (210.0, 50.0), (230.0, 110.0), (150.0, 130.0)];
    for (turn, (x, y)) in Turn::ALL.into_iter().zip(expected) {
        job.apply(Edit::Turn(turn)).unwrap();
        let heel = board_from_design(&job, 2.0).transform_point2(glam::DVec2::ZERO);
        assert!((heel - glam::dvec2(x, y)).length() < 1e-6, "{turn:?}: {heel}");
        let area = job.design().outline_box();
        let corners = area.corners().map(|corner| board_from_design(&job, 2.0).transform_point2(corner));
        let on_board = spelk::geometry::Rect::around(corners).unwrap();
        assert!((on_board.min - glam::dvec2(150.0, 50.0)).length() < 1e-6, "{turn:?}");
    }
}

/// A wall along the drawing's x axis runs along the grain as drawn, and across it turned by a quarter.
#[test]
fn turning_turns_the_walls_to_the_grain() {
    let bar = vec![ring(&[
        (0.0, 0.0),
        (40.0, 0.0),
        (40.0, 19.0),
        (70.0, 19.0),
        (70.0, 0.0),
        (110.0, 0.0),
        (110.0, 40.0),
        (70.0, 40.0),
        (70.0, 21.0),
        (40.0, 21.0),
        (40.0, 40.0),
        (0.0, 40.0),
    ])];
    let mut job = job(Treatment::Relief, &[("bar", bar)]);
    let thin = |job: &Job| {
        let findings = proof_of(job).findings;
        findings
            .into_iter()
            .find(|finding| finding.kind() == FindingKind::ThinWall)
            .and_then(|finding| finding.limit())
    };
    // 2 mm; the cutter is trusted with a long wall of 1.5 mm along the grain, and sqrt(.743/.261) times as
    // much across (tests/data/wall/plate.csv).
    for turn in [Turn::AsDrawn, Turn::Half] {
        job.apply(Edit::Turn(turn)).unwrap();
        assert_eq!(thin(&job), None, "{turn:?}");
    }
    for turn in [Turn::Quarter, Turn::ThreeQuarters] {
        job.apply(Edit::Turn(turn)).unwrap();
        let across = thin(&job).expect("too thin across the grain").get();
        assert!((across / (1.5 * (0.743f64 / 0.261).sqrt()) - 1.0).abs() < 0.01, "{across}");
    }
}

#[test]
fn a_typed_place_too_near_an_end_is_told() {
    let mut job = twelve_inch_panel();
    change_board(&mut job, |board| (board.length, board.width) = (inches(24.0), inches(8.0)));
    let told = |job: &Job| {
        let proof = proof_of(job);
        let sides = proof.findings.iter().filter_map(|finding| match finding.facts {
            Facts::Misplaced { side, .. } => Some(side),
            _ => None,
        });
        (proof.fit.outcome, sides.collect::<Vec<_>>())
    };
    job.apply(Edit::Place(Placement::At { x: inches(3.5), y: Mm::ZERO })).unwrap();
    assert_eq!(told(&job), (FitOutcome::Fits, vec![]));
    job.apply(Edit::Place(Placement::At { x: inches(3.4), y: Mm::ZERO })).unwrap();
    assert_eq!(told(&job), (FitOutcome::Misplaced, vec![BoardSide::Left]));
    job.apply(Edit::Place(Placement::At { x: inches(9.0), y: inches(3.5) })).unwrap();
    assert_eq!(told(&job), (FitOutcome::Misplaced, vec![BoardSide::Right, BoardSide::Upper]));
    job.apply(Edit::Place(Placement::At { x: inches(5.0), y: inches(-1.0) })).unwrap();
    assert_eq!(told(&job), (FitOutcome::Misplaced, vec![BoardSide::Lower]));
    job.apply(Edit::Ends(Ends::Free)).unwrap();
    job.apply(Edit::Place(Placement::At { x: Mm::ZERO, y: Mm::ZERO })).unwrap();
    assert_eq!(told(&job), (FitOutcome::Fits, vec![]));
}

#[test]
fn backwards_from_a_board_to_a_drawing_and_from_a_size_to_a_board() {
    let mut job = twelve_inch_panel();
    change_board(&mut job, |board| (board.length, board.width) = (inches(24.0), inches(8.0)));
    job.apply(Edit::SideMargin(Some(inches(0.25)))).unwrap();
    let [along, across] = draw_for(&job);
    close(along, inches(17.0));
    close(across, inches(7.5));
    let needed = board_needed(&job, 1.0);
    close(needed.length, inches(19.0));
    close(needed.width, inches(5.5));
    // PS 20-25: 1 x 6 dresses to 3/4 x 5 1/2 in.
    assert_eq!(needed.dressed.unwrap().name, "1 x 6");
    job.apply(Edit::BoardLength(inches(6.0))).unwrap();
    assert_eq!(draw_for(&job)[0], Mm::ZERO);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// At the largest factor it fits; at a thousandth more it does not.
    #[test]
    fn the_largest_factor_is_the_largest(
        (length, width) in (10.0..800.0f64, 10.0..300.0f64),
        (board_length, board_width) in (200.0..2000.0f64, 50.0..360.0f64),
        relief in any::<bool>(),
        held in any::<bool>(),
        corner in any::<bool>(),
    ) {
        let panel = rectangle(-7.0, 3.0, length, width);
        let treatment = if relief { Treatment::Relief } else { Treatment::Sunk };
        let mut job = job(treatment, &[("panel", vec![panel])]);
        job.apply(Edit::BoardLength(Mm::new(board_length))).unwrap();
        job.apply(Edit::BoardWidth(Mm::new(board_width))).unwrap();
        job.apply(Edit::Ends(if held { Ends::Held } else { Ends::Free })).unwrap();
        job.apply(Edit::Place(if corner { Placement::LowerLeft } else { Placement::Middle })).unwrap();
        let largest = job.largest_factor();
        prop_assume!(largest > 0.0);
        prop_assert_eq!(fit(&job, largest).outcome, FitOutcome::Fits);
        let beyond = fit(&job, largest * 1.001);
        let turns = beyond.turned_factor >= largest * 1.001;
        prop_assert_eq!(beyond.outcome, if turns { FitOutcome::FitsTurned } else { FitOutcome::Shrink });
        job.apply(Edit::Size(Size::Factor(largest * 1.001))).unwrap();
        let short = |kind| kind == FindingKind::BoardShort || kind == FindingKind::BoardNarrow;
        prop_assert!(proof_of(&job).findings.iter().any(|finding| short(finding.kind())));
        job.apply(Edit::Size(Size::Fit)).unwrap();
        let proof = proof_of(&job);
        prop_assert!(!proof.findings.iter().any(|finding| short(finding.kind())));
        // Placed at its largest, the carved part lies on the board.
        let outline = job.design().outline_box();
        let low = proof.board_from_design.transform_point2(outline.min);
        let high = proof.board_from_design.transform_point2(outline.max);
        prop_assert!(low.min_element() > -1e-6);
        prop_assert!(high.x < board_length + 1e-6 && high.y < board_width + 1e-6);
    }

    /// Turning a design on the board is the same as drawing it turned.
    #[test]
    fn a_turned_design_is_a_design_drawn_turned(
        (length, thickness) in (20.0..90.0f64, 0.5..3.0f64),
        turn in prop::sample::select(Turn::ALL.to_vec()),
        place in prop::sample::select(vec![
            Placement::Middle,
            Placement::LowerLeft,
            Placement::UpperRight,
            Placement::At { x: Mm::new(120.0), y: Mm::new(17.0) },
        ]),
        held in any::<bool>(),
    ) {
        // Two blocks and a bar between them, nearer to one side.
        let drawn = [
            rectangle(0.0, 0.0, 20.0, 30.0),
            rectangle(19.0, 5.0, length + 2.0, thickness),
            rectangle(20.0 + length, 0.0, 20.0, 40.0),
        ];
        let by_hand = drawn.clone().map(|ring| ring.into_iter().map(|p| turn.of(p)).collect::<Vec<_>>());
        let one = |rings: [Vec<glam::DVec2>; 3], turn: Turn| {
            let [a, b, c] = rings;
            let mut job = job(Treatment::Relief, &[("a", vec![a]), ("b", vec![b]), ("c", vec![c])]);
            change_board(&mut job, |board| (board.length, board.width) = (Mm::new(500.0), Mm::new(260.0)));
            change_machine(&mut job, |machine| (machine.infeed_roller, machine.outfeed_roller) = (Mm::new(70.0), Mm::new(40.0)));
            job.apply(Edit::Ends(if held { Ends::Held } else { Ends::Free })).unwrap();
            job = job.with([Edit::Place(place), Edit::Turn(turn)]).unwrap();
            proof_of(&job)
        };
        let (turned, redrawn) = (one(drawn, turn), one(by_hand, Turn::AsDrawn));
        prop_assert_eq!(turned.fit.outcome, redrawn.fit.outcome);
        prop_assert!((turned.fit.largest_factor - redrawn.fit.largest_factor).abs() < 1e-5);
        prop_assert!((turned.feeding.sniped_share - redrawn.feeding.sniped_share).abs() < 1e-5);
        let told = |proof: &spelk::proof::Proof| {
            let mut told: Vec<_> = proof
                .findings
                .iter()
                .map(|f| (f.kind(), f.severity(), [f.at.x, f.at.y, f.measured().map_or(0.0, Mm::get), f.limit().map_or(0.0, Mm::get)].map(|v| (v * 1e3).round() / 1e3 + 0.0)))
                .collect();
            told.sort_by(|a, b| a.partial_cmp(b).unwrap());
            told
        };
        let (a, b) = (told(&turned), told(&redrawn));
        prop_assert_eq!(a.len(), b.len());
        for (a, b) in a.iter().zip(&b) {
            prop_assert_eq!((a.0, a.1), (b.0, b.1));
            // A wall of one thickness is told somewhere along it: only its place may differ, along it.
            prop_assert!((a.2[2] - b.2[2]).abs() < 2e-3 && (a.2[3] - b.2[3]).abs() < 2e-3, "{a:?} {b:?}");
        }
    }
}
