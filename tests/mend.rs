//! Mending: what was found is gone, and the rest is left alone.

use crate::support::{change_cutter, design, job, proof_of, rectangle, ring};
use glam::dvec2;
use proptest::prelude::*;
use spelk::job::{Edit, Job, Size, Treatment};
use spelk::proof::mend::{Change, Mend, Mended, mend};
use spelk::proof::{FindingKind, measure, rate};
use spelk::units::Mm;

fn mended(job: &Job, what: Mend) -> Mended {
    let measured = measure(job);
    let ratings = rate(job, &measured);
    mend(job, &measured, &ratings, job.factor(), what)
}

fn count(job: &Job, kind: FindingKind) -> usize {
    proof_of(job)
        .findings
        .iter()
        .filter(|finding| finding.kind() == kind && finding.facts.size_helps())
        .count()
}

fn area(job: &Job) -> f64 {
    job.design().elements.iter().map(|element| element.region.area()).sum()
}

/// Two wide blocks joined by a bar 1 mm thick and 30 long.
fn bar() -> Job {
    let points = [
        (0.0, 0.0),
        (40.0, 0.0),
        (40.0, 19.5),
        (70.0, 19.5),
        (70.0, 0.0),
        (110.0, 0.0),
        (110.0, 40.0),
        (70.0, 40.0),
        (70.0, 20.5),
        (40.0, 20.5),
        (40.0, 40.0),
        (0.0, 40.0),
    ];
    job(Treatment::Relief, &[("bar", vec![ring(&points)])])
}

#[test]
fn a_thin_wall_is_thickened_to_its_limit_and_no_further() {
    let job = bar();
    assert_eq!(count(&job, FindingKind::ThinWall), 1);
    let mended = mended(&job, Mend::Walls);
    assert_eq!((mended.thickened, mended.widened), (1, 0));
    assert_eq!(count(&mended.job, FindingKind::ThinWall), 0);
    // 30 mm of bar, a quarter of a millimetre on either side (the limit is 1.5 along the grain); where
    // it runs into the blocks there is nothing to add but a little at the round ends.
    let added = area(&mended.job) - area(&job);
    assert!((added - 15.0).abs() < 0.5, "{added} mm2 added");
    let wall = proof_of(&mended.job).thinnest.wall.unwrap().get();
    // Strips are made a hundredth wider than asked: their round ends are polygons, and a mended wall is another wall.
    assert!((1.5..1.52).contains(&wall), "{wall}");
    assert!(mended.reshaped.is_empty(), "nothing joined, nothing closed");
}

#[test]
fn mending_twice_changes_nothing() {
    for size in [0.6, 1.0] {
        let job = bar().with([Edit::Size(Size::Factor(size))]).unwrap();
        let once = mended(&job, Mend::Walls);
        let twice = mended(&once.job, Mend::Walls);
        assert_eq!(twice.thickened, 0, "at {size}");
        assert_eq!(twice.job.design().elements, once.job.design().elements);
    }
}

/// A thin bar at the very edge: the strip makes the design wider, and a size told by the width must not
/// take that back.
#[test]
fn a_mended_design_is_carved_as_large_as_before() {
    let foot = [
        (0.0, 0.0),
        (60.0, 0.0),
        (60.0, 1.0),
        (40.0, 1.0),
        (40.0, 30.0),
        (20.0, 30.0),
        (20.0, 1.0),
        (0.0, 1.0),
    ];
    let mut job = job(Treatment::Relief, &[("foot", vec![ring(&foot)])]);
    let width = job.design().outline_box().size().y;
    job.apply(Edit::Size(Size::Width(Mm::new(width)))).unwrap();
    let mended = mended(&job, Mend::Walls);
    assert!(mended.thickened > 0, "there was a thin bar");
    assert_eq!(mended.job.factor(), 1.0);
    assert_eq!(count(&mended.job, FindingKind::ThinWall), 0);
}

#[test]
fn what_is_sound_is_left_alone() {
    let job = bar().with([Edit::Size(Size::Factor(2.0))]).unwrap();
    let mended = mended(&job, Mend::Walls);
    assert_eq!(mended.thickened, 0);
    assert_eq!(**mended.job.design(), **job.design());
}

#[test]
fn only_what_is_near_a_thin_place_is_touched() {
    let job = bar();
    let mended = mended(&job, Mend::Walls);
    let before = &job.design().elements[0].region;
    let after = &mended.job.design().elements[0].region;
    let added = after.minus(before);
    let bounds = added.bounds().unwrap();
    // Half a limit and the half per cent of the round ends from the bar, which runs along y = 20.
    assert!(bounds.min.y > 20.0 - 0.76 && bounds.max.y < 20.0 + 0.76, "{bounds:?}");
    assert!(before.minus(after).is_empty(), "nothing is taken away");
}

#[test]
fn a_wall_of_the_board_between_two_sunk_places_is_thickened_out_of_them() {
    let pockets = vec![
        ("left", vec![rectangle(0.0, 0.0, 20.0, 30.0)]),
        ("right", vec![rectangle(21.0, 0.0, 20.0, 30.0)]),
    ];
    let job = job(Treatment::Sunk, &pockets);
    assert_eq!(count(&job, FindingKind::ThinWall), 1);
    let mended = mended(&job, Mend::Walls);
    assert_eq!(count(&mended.job, FindingKind::ThinWall), 0);
    let taken = area(&job) - area(&mended.job);
    // Across the grain the limit is 1.5 sqrt(.743/.261) = 2.53: 0.765 mm off either pocket, 30 long, and a hundredth of 2.53 more.
    assert!((taken - 46.7).abs() < 0.3, "{taken}");
}

#[test]
fn a_blocked_groove_is_widened_to_the_cutter() {
    let mut job = bar();
    job.apply(Edit::TreatAll(Treatment::Sunk)).unwrap();
    assert_eq!(count(&job, FindingKind::BlockedGroove), 1);
    let mended = mended(&job, Mend::Grooves);
    assert_eq!((mended.thickened, mended.widened), (0, 1));
    assert_eq!(count(&mended.job, FindingKind::BlockedGroove), 0);
    let added = area(&mended.job) - area(&job);
    assert!((added - 30.0 * 2.175).abs() < 2.0, "{added}");
}

#[test]
fn a_groove_of_the_ground_is_widened_out_of_the_reliefs() {
    let blocks =
        vec![("a", vec![rectangle(0.0, 0.0, 30.0, 30.0)]), ("b", vec![rectangle(32.0, 0.0, 30.0, 30.0)])];
    let job = job(Treatment::Relief, &blocks);
    assert_eq!(count(&job, FindingKind::BlockedGroove), 1);
    let mended = mended(&job, Mend::Grooves);
    assert_eq!(count(&mended.job, FindingKind::BlockedGroove), 0);
}

/// What a preview shows is what was done: 1 mm of bar becomes 1.5 for 30 mm, and out of two pockets
/// comes wood as well.
#[test]
fn the_change_is_told_as_wood_added_and_wood_taken() {
    let job = bar();
    let change = Change::between(&job, &mended(&job, Mend::Walls).job);
    assert!((change.added.area() - 15.0).abs() < 0.5 && change.taken.is_empty(), "{change:?}");
    let mut sunk = bar();
    sunk.apply(Edit::TreatAll(Treatment::Sunk)).unwrap();
    let change = Change::between(&sunk, &mended(&sunk, Mend::Grooves).job);
    assert!(change.added.is_empty(), "a wider groove adds no wood");
    assert!((change.taken.area() - 30.0 * 2.175).abs() < 2.0, "{}", change.taken.area());
    assert!(Change::between(&job, &job).added.is_empty(), "nothing changed");
}

#[test]
fn a_hole_that_mending_closes_is_said() {
    // A frame with a slit so narrow that thickening the rim between it and the next closes it.
    let rings = vec![
        rectangle(0.0, 0.0, 40.0, 20.0),
        rectangle(10.0, 9.4, 20.0, 0.2),
        rectangle(10.0, 10.4, 20.0, 6.0),
    ];
    let mended = mended(&job(Treatment::Relief, &[("frame", rings)]), Mend::Walls);
    assert_eq!(mended.thickened, 1);
    assert_eq!(mended.reshaped, ["frame"]);
}

#[test]
fn a_mended_design_read_back_from_its_svg_proofs_the_same() {
    let mended = mended(&bar(), Mend::Walls);
    let svg = spelk::sheet::outline::outline_svg(mended.job.design(), 1.0);
    let read = spelk::design::read("bar", svg.as_bytes()).unwrap();
    let again = mended.job.with_design(std::sync::Arc::new(read));
    let (one, two) = (proof_of(&mended.job), proof_of(&again));
    assert!((one.length - two.length).get().abs() < 1e-3, "{}", two.length);
    assert!((one.thinnest.wall.unwrap() - two.thinnest.wall.unwrap()).get().abs() < 1e-3, "walls");
    assert_eq!(two.findings.len(), one.findings.len());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(30))]

    /// Wavy bands of changing thickness: after one mend nothing is under the limit, and a second one
    /// finds nothing.
    #[test]
    fn a_wavy_band_is_mended_in_one_go(
        swing in 0.0..8.0f64,
        waves in 0.5..3.0f64,
        thin in 0.4..1.4f64,
        thick in 2.6..6.0f64,
        turn in 0.0..3.1f64,
    ) {
        let steps = 120;
        let edge = |side: f64| (0..=steps).map(move |step| {
            let t = f64::from(step) / f64::from(steps);
            let middle = dvec2(100.0 * t, swing * (t * waves * std::f64::consts::TAU).sin());
            let half = 0.5 * thin + 0.5 * (thick - thin) * (2.0 * t - 1.0).powi(2);
            middle + dvec2(0.0, side * half)
        });
        let rotation = glam::DVec2::from_angle(turn);
        let band: Vec<_> = edge(-1.0).chain(edge(1.0).rev()).map(|p| rotation.rotate(p)).collect();
        let mut job = job(Treatment::Relief, &[("band", vec![band])]);
        change_cutter(&mut job, |cutter| cutter.reference.across = Some(cutter.reference.along));
        prop_assume!(count(&job, FindingKind::ThinWall) > 0);
        let once = mended(&job, Mend::Walls);
        prop_assert_eq!(count(&once.job, FindingKind::ThinWall), 0);
        let before = &job.design().elements[0].region;
        prop_assert!(before.minus(&once.job.design().elements[0].region).area() < 1e-6);
        let twice = mended(&once.job, Mend::Walls);
        prop_assert_eq!(twice.thickened, 0);
    }
}

/// A speck far off that is cleaned away takes the grid with it.
#[test]
fn what_changed_is_told_across_grids() {
    let far = rectangle(4000.0, 0.0, 0.01, 0.01);
    let before = job(Treatment::Relief, &[("bar", vec![rectangle(0.0, 0.0, 100.0, 10.0), far])]);
    let after =
        before.with_design(std::sync::Arc::new(design(&[("bar", vec![rectangle(0.0, 0.0, 100.0, 12.0)])])));
    assert_ne!(before.design().grid, after.design().grid, "one grid does for both");
    let change = Change::between(&before, &after);
    assert!((change.added.area() - 200.0).abs() < 1e-2 && change.taken.area() < 1e-2, "{change:?}");
}

/// Bends, forks and free ends: after one mend nothing is left of what was found, in any sample.
#[test]
fn every_sample_is_mended_in_one_go() {
    let mut mended_any = 0;
    for sample in spelk::design::samples::samples() {
        for (what, kind) in
            [(Mend::Walls, FindingKind::ThinWall), (Mend::Grooves, FindingKind::BlockedGroove)]
        {
            let job = spelk::job::sample::sample_job(sample).unwrap();
            let before = count(&job, kind);
            let once = mended(&job, what);
            assert_eq!(count(&once.job, kind), 0, "{}, {what:?}: of {before}", sample.id);
            assert_eq!(once.thickened + once.widened, before, "{}", sample.id);
            mended_any += before;
            // Little is added: each thin place is some tens of millimetres long and gains a millimetre.
            let change = Change::between(&job, &once.job);
            assert!(change.added.area() <= 100.0 * before as f64, "{}: {}", sample.id, change.added.area());
        }
    }
    assert!(mended_any >= 9, "the samples have thin walls and blocked grooves");
}
