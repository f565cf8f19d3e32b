//! The test piece: what it finds is what the shop's limit becomes.

use crate::support::{change_cutter, job, proof_of, rectangle};
use spelk::job::{Edit, Job, Treatment};
use spelk::proof::limit::calibrated;
use spelk::proof::{Facts, Finding, FindingKind, Limits, ThinPlace};
use spelk::sheet::coupon::{Coupon, Ladder, Rung, coupon, coupon_job};
use spelk::shop::{Cutter, Wood, cutters};
use spelk::units::Mm;

fn job_with(cutter: &str, depth: f64, wood: &str) -> Job {
    let mut job = job(Treatment::Relief, &[("panel", vec![rectangle(0.0, 0.0, 50.0, 30.0)])]);
    job.apply(Edit::Cutter(Box::new(Cutter::find(cutter).unwrap().clone()))).unwrap();
    job.apply(Edit::Depth(Mm::new(depth))).unwrap();
    job.apply(Edit::Wood(Box::new(Wood::find(wood).unwrap().clone()))).unwrap();
    job
}

fn rungs(coupon: &Coupon, ladder: Ladder) -> Vec<&Rung> {
    coupon.rungs.iter().filter(|rung| rung.ladder == ladder).collect()
}

fn flagged(job: &Job, kind: FindingKind, ladder: Ladder) -> Vec<Finding> {
    let of_ladder = |finding: &Finding| {
        finding.kind() == kind && finding.element().is_none_or(|name| name == ladder.element())
    };
    let mut found: Vec<Finding> = proof_of(job).findings.into_iter().filter(of_ladder).collect();
    found.retain(|finding| finding.facts.size_helps());
    found
}

/// Enter the thinnest rung that survived: the coupon, proofed again, flags exactly the rungs under it.
#[test]
fn a_coupon_flags_exactly_the_rungs_under_the_limit_that_was_entered() {
    for (cutter, depth, wood) in [
        ("flat-1/8in", 3.0, "basswood_american"),
        ("flat-6mm", 6.0, "oak_white"),
        ("ball-1/16in", 2.0, "maple_sugar"),
    ] {
        let job = job_with(cutter, depth, wood);
        let coupon = coupon(&job);
        for (walls, ladder) in [
            (rungs(&coupon, Ladder::WallsAlong), Ladder::WallsAlong),
            (rungs(&coupon, Ladder::WallsAcross), Ladder::WallsAcross),
        ] {
            assert!(walls.len() >= 8, "{cutter}: a ladder of {} rungs", walls.len());
            for survivor in &walls {
                let mut shops_own = job.clone();
                let own = calibrated(&job, survivor.width, survivor.width, Mm::new(coupon.run));
                shops_own.apply(Edit::Cutter(Box::new(own))).unwrap();
                let found = flagged(&coupon_job(&shops_own, &coupon), FindingKind::ThinWall, ladder);
                let mut widths: Vec<f64> =
                    found.iter().map(|finding| finding.measured().unwrap().get()).collect();
                widths.sort_by(f64::total_cmp);
                let expected: Vec<f64> = walls
                    .iter()
                    .map(|rung| rung.width.get())
                    .filter(|width| *width < survivor.width.get())
                    .collect();
                assert_eq!(widths.len(), expected.len(), "{cutter} {ladder:?} {survivor:?}: {widths:?}");
                for (width, expected) in widths.iter().zip(&expected) {
                    assert!((width - expected).abs() < 1e-5, "{width}, not {expected}");
                }
            }
        }
    }
}

#[test]
fn the_grooves_of_a_coupon_are_blocked_up_to_the_cutters_width() {
    let job = job_with("flat-1/8in", 3.0, "basswood_american");
    let coupon = coupon(&job);
    let found = flagged(&coupon_job(&job, &coupon), FindingKind::BlockedGroove, Ladder::Grooves);
    let diameter = job.cutter().shape.diameter();
    let narrower = rungs(&coupon, Ladder::Grooves).iter().filter(|rung| rung.width < diameter).count();
    assert!(narrower >= 4, "grooves on both sides of the cutter's width");
    assert!(narrower < rungs(&coupon, Ladder::Grooves).len(), "and wider ones");
    assert_eq!(found.len(), narrower);
}

#[test]
fn the_points_of_a_coupon_are_told_as_points() {
    let job = job_with("flat-1/8in", 3.0, "basswood_american");
    let coupon = coupon(&job);
    let tips = proof_of(&coupon_job(&job, &coupon)).findings;
    for ladder in [Ladder::TipsAlong, Ladder::TipsAcross] {
        let of_ladder = |finding: &Finding| match &finding.facts {
            Facts::LostTip { apex, place, .. } if place.element.as_deref() == Some(ladder.element()) => {
                Some((*apex, place.clone()))
            }
            _ => None,
        };
        let found: Vec<(f64, ThinPlace)> = tips.iter().filter_map(of_ladder).collect();
        assert!(found.len() >= rungs(&coupon, ladder).len(), "{ladder:?}: {}", found.len());
        for (apex, place) in found {
            // The last w / (2 sin(a/2)) of a point is thinner than w (formula).
            let lost = place.held.limit.get() / (2.0 * (apex / 2.0).sin());
            assert!((place.run.get() - lost).abs() < 1e-4 * lost, "{place:?}, not {lost}");
        }
    }
}

/// A test piece's walls stand by themselves, 40 mm long: what survived there, with both ends free, says more of a
/// wall's middle. Plate factors of basswood: .855 at a free end, .261 in the middle; of white oak along: .332
/// (tests/data/wall/plate.csv); strengths and specific gravities: Wood Handbook Table 5-3b.
#[test]
fn a_calibrated_limit_carries_to_other_places_woods_and_depths() {
    let job = job_with("flat-1/8in", 3.0, "basswood_american");
    let mut own = job.clone();
    own.apply(Edit::Cutter(Box::new(calibrated(&job, Mm::new(1.0), Mm::new(2.0), Mm::new(40.0))))).unwrap();
    let here = Limits::of(&own).along.get();
    let expected = (0.261f64 / 0.855).sqrt();
    assert!((here / expected - 1.0).abs() < 0.01, "{here}, not {expected}");
    // Nothing but breaking: so thin a wall gives, and the taller the more.
    change_cutter(&mut own, |cutter| cutter.give = Mm::new(5.0));
    own.apply(Edit::Depth(Mm::new(6.0))).unwrap();
    assert!((Limits::of(&own).along.get() / here - 1.0).abs() < 1e-6, "a long wall does not know its height");
    own.apply(Edit::Wood(Box::new(Wood::find("oak_white").unwrap().clone()))).unwrap();
    let worth = |k: f64, gravity: f64, strength: f64| k * gravity / strength;
    let expected = here * (worth(0.332, 0.68, 5.516) / worth(0.261, 0.37, 2.413)).sqrt();
    assert!((Limits::of(&own).along.get() / expected - 1.0).abs() < 0.01, "in oak");
    assert!(own.cutter().reference.source.contains("test piece"), "and says where it is from");
}

/// A test piece in a wood of the shop's own carries to a built-in one by their strengths, and so it does
/// in another shop, which does not know the wood.
#[test]
fn a_limit_found_in_a_wood_of_ones_own_carries_too() {
    let mut job = job_with("flat-1/8in", 3.0, "basswood_american");
    let basswood = job.wood().clone();
    // As dense and as stiff as basswood, but four times as strong.
    job.apply(Edit::Wood(Box::new(Wood {
        density: basswood.density,
        tension_across: Some(4.0 * basswood.tension_across.unwrap()),
        ..Wood::own("own-plum".into(), "Plum".into())
    })))
    .unwrap();
    // Nothing but breaking.
    change_cutter(&mut job, |cutter| cutter.give = Mm::new(5.0));
    job.apply(Edit::Cutter(Box::new(calibrated(&job, Mm::new(1.0), Mm::new(2.0), Mm::new(40.0))))).unwrap();
    let plum = Limits::of(&job).along.get();
    job.apply(Edit::Wood(Box::new(basswood))).unwrap();
    // A quarter as strong, so twice as thick (formula).
    assert!((Limits::of(&job).along.get() / plum - 2.0).abs() < 1e-6, "in basswood");
    assert_eq!(Limits::of(&job).basis.reference_wood.name, "Plum");
    // A wood of no group we know has a stand-in all the same.
    job.apply(Edit::Wood(Box::new(Wood {
        group: "bamboo".into(),
        ..Wood::own("own-bamboo".into(), "Bamboo".into())
    })))
    .unwrap();
    assert!(Limits::of(&job).basis.stand_in.is_some(), "a stand-in");
}

fn arithmetic(job: &Job, unit: spelk::units::LengthUnit) -> String {
    let steps = spelk::words::limits::steps(&Limits::of(job), unit);
    steps.into_iter().map(|step| [&step.title, ": ", &step.text, "\n"].concat()).collect()
}

#[test]
fn the_arithmetic_of_a_limit_has_its_numbers_in_it() {
    let mut job = job_with("flat-1/8in", 6.0, "oak_white");
    let steps = arithmetic(&job, spelk::units::LengthUnit::Millimetres);
    // P = K w g c with c = .68/.37; t = sqrt(6 k P / s) with s = 5.516 MPa (formula).
    for part in ["c = 1.84 for Oak, white", "s = 5.52 MPa", "N/5.52 MPa) = ", "a round value of our own"] {
        assert!(steps.contains(part), "{part:?} is not in\n{steps}");
    }
    job.apply(Edit::Wood(Box::new(Wood::find("maple_sugar").unwrap().clone()))).unwrap();
    let steps = arithmetic(&job, spelk::units::LengthUnit::InchFraction);
    assert!(steps.contains("None is published for Maple, sugar") && steps.contains("stands in"), "{steps}");
    assert!(steps.contains("0.059 in"), "{steps}");
}

#[test]
fn every_cutter_has_a_coupon_whose_rungs_stand_apart() {
    for cutter in cutters() {
        let job = job_with(&cutter.id, 2.0, "cherry_black");
        let coupon = coupon(&job);
        coupon.design.check_invariants();
        let pieces: usize = coupon
            .design
            .elements
            .iter()
            .map(|element| element.region.rings().filter(|ring| !ring.hole).count())
            .sum();
        // One piece a rung, and one block more than there are grooves; tied rungs are one piece with their posts.
        let is_tied = |ladder| matches!(ladder, Ladder::TiedAlong | Ladder::TiedAcross);
        let loose = coupon.rungs.iter().filter(|rung| !is_tied(rung.ladder)).count();
        assert_eq!(pieces, loose + 1 + 2, "{}", cutter.id);
        assert!(coupon.rungs.iter().all(|rung| !rung.label().is_empty()), "{}", cutter.id);
    }
}
