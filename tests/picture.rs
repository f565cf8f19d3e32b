//! What can be seen on the picture of the board, by its pixels.

#![expect(clippy::cast_sign_loss, reason = "the places asked for are on the picture")]

use crate::support::{change_board, change_machine, proof_of};
use glam::{DAffine2, DVec2, dvec2};
use spelk::design::{Design, Element};
use spelk::geometry::widths::AxisPoint;
use spelk::geometry::{FillRule, Grid, Rect, Region};
use spelk::job::{Edit, Ends, Job, Place, Treatment};
use spelk::proof::{
    Facts, FedEnd, Feeding, Finding, FindingKind, Gentler, Held, LimitSource, Proof, Severity, ThinPlace,
};
use spelk::sheet::picture::{self, DesignPaths, Picture, Theme, View};
use spelk::shop::{Blemish, BlemishKind, BlemishShape, Board};
use spelk::units::{LengthUnit, Mm};
use std::sync::Arc;

/// A ring round the origin with a hole, radii in millimetres.
fn ring(outer: f64, hole: f64) -> Design {
    let circle = |radius: f64| -> Vec<DVec2> {
        (0..256).map(|i| DVec2::from_angle(std::f64::consts::TAU * f64::from(i) / 256.0) * radius).collect()
    };
    let grid = Grid::covering(Rect::new(DVec2::splat(-outer), DVec2::splat(outer)));
    let region = Region::clean(grid, &[circle(outer), circle(hole)], FillRule::EvenOdd);
    Design {
        name: "ring".to_owned(),
        elements: vec![Element::new("ring", region)],
        page: None,
        grid,
        notices: spelk::notice::Notices::new(),
        sharpness: None,
    }
}

/// The starting job, on a board 100 x 60 mm with nothing kept at the ends.
fn job(treatment: Treatment) -> Job {
    let mut job = Job::new(Arc::new(ring(20.0, 8.0)));
    job.apply(Edit::Board(Box::new(Board {
        length: Mm::new(100.0),
        width: Mm::new(60.0),
        ..Board::default()
    })))
    .unwrap();
    job.apply(Edit::Ends(Ends::Free)).unwrap();
    job.apply(Edit::TreatAll(treatment)).unwrap();
    job
}

/// A proof with the ring in the board's middle, and these findings in place of its own.
fn proof(findings: Vec<Finding>) -> Proof {
    let own = proof_of(&job(Treatment::Relief));
    Proof {
        findings,
        feeding: Feeding { snipe_zones: Vec::new(), ..own.feeding },
        board_from_design: DAffine2::from_translation(dvec2(50.0, 30.0)),
        ..own
    }
}

fn finding(kind: FindingKind, at: DVec2, axis: Vec<[AxisPoint; 2]>) -> Finding {
    let (width, length) = (Mm::new(1.0), Mm::new(5.0));
    let place = ThinPlace {
        held: Held { limit: Mm::new(2.0), place: Place::Ground, source: LimitSource::Wall, wall: None },
        run: length,
        direction: 0.0,
        element: None,
        cutter: None,
        within: None,
        axis: axis.into(),
    };
    let facts = match kind {
        FindingKind::ThinWall => Facts::ThinWall {
            width,
            chance: 0.1,
            severity: Severity::Unsound,
            stand_in: None,
            gentler: Gentler::default(),
            place,
        },
        // Longer than twice its limit, so that it is marked with a number.
        FindingKind::LostTip => Facts::LostTip { apex: 0.3, stand_in: None, place },
        FindingKind::BlockedGroove => Facts::BlockedGroove { width, place },
        FindingKind::ShallowGroove => Facts::ShallowGroove { width, place },
        FindingKind::SnipeZone => {
            Facts::SnipeZone { end: FedEnd::Leading, length, share: 0.5, step: [Mm::new(0.2); 2] }
        }
        other => panic!("{other:?} has no mark to test"),
    };
    Finding { id: "one".to_owned(), at, facts }
}

/// Ten pixels to a millimetre, no margin: a board point is where one expects.
fn view() -> View {
    View::of_board(
        &Board { length: Mm::new(100.0), width: Mm::new(60.0), ..Board::default() },
        [1000, 600],
        0.0,
    )
}

fn board_and_design(job: &Job, proof: &Proof, view: &View) -> Picture {
    let mut all = picture::board(job, proof, view);
    all.lay_over(&picture::carved(job, &DesignPaths::new(job.design()), proof.board_from_design, view));
    all
}

/// Mean brightness of a patch 3 mm across round a board point, 0 to 255: textures even out.
fn brightness(picture: &Picture, view: &View, at: DVec2) -> f64 {
    let middle = view.screen_from_board.transform_point2(at);
    let mut values = Vec::new();
    for dy in -15..15 {
        for dx in -15..15 {
            let (x, y) = ((middle.x as i32 + dx) as u32, (middle.y as i32 + dy) as u32);
            let [r, g, b, _] = picture.pixel(x, y).expect("the patch is on the picture");
            values.push((f64::from(r) + f64::from(g) + f64::from(b)) / 3.0);
        }
    }
    values.iter().sum::<f64>() / values.len() as f64
}

const ON_THE_RING: DVec2 = dvec2(36.0, 30.0);
const IN_THE_HOLE: DVec2 = dvec2(50.0, 30.0);
/// 1.6 mm outside the ring: within the ground's margin of one cutter diameter, 3.2 mm.
const ON_THE_GROUND: DVec2 = dvec2(28.4, 30.0);
const BARE_WOOD: DVec2 = dvec2(10.0, 50.0);

#[test]
fn a_relief_stands_out_of_a_darker_ground_that_ends_at_its_margin() {
    let (job, proof, view) = (job(Treatment::Relief), proof(Vec::new()), view());
    let seen = board_and_design(&job, &proof, &view);
    let light = |at| brightness(&seen, &view, at);
    assert!(light(ON_THE_RING) > light(ON_THE_GROUND) + 30.0, "the ring stands");
    assert!(light(ON_THE_RING) > light(IN_THE_HOLE) + 30.0, "the hole is ground too");
    assert!(light(BARE_WOOD) > light(ON_THE_GROUND) + 30.0, "beyond the margin nothing is lowered");
    let bare = picture::board(&job, &proof, &view);
    assert_eq!(brightness(&bare, &view, BARE_WOOD), light(BARE_WOOD), "bare wood is as it was");
}

#[test]
fn a_sunk_ring_is_darker_than_the_wood_round_it() {
    let (job, proof, view) = (job(Treatment::Sunk), proof(Vec::new()), view());
    let seen = board_and_design(&job, &proof, &view);
    let light = |at| brightness(&seen, &view, at);
    assert!(light(IN_THE_HOLE) > light(ON_THE_RING) + 40.0, "sunk is darker");
    assert!((light(ON_THE_GROUND) - light(BARE_WOOD)).abs() < 25.0, "there is no ground");
}

#[test]
fn no_two_treatments_look_alike() {
    let (proof, view) = (proof(Vec::new()), view());
    let patch = |treatment| {
        let seen = board_and_design(&job(treatment), &proof, &view);
        let middle = view.screen_from_board.transform_point2(ON_THE_RING);
        (0..900)
            .map(|i| seen.pixel(middle.x as u32 + i % 30, middle.y as u32 + i / 30).expect("on the picture"))
            .collect::<Vec<_>>()
    };
    for (i, a) in Treatment::ALL.into_iter().enumerate() {
        for b in &Treatment::ALL[i + 1..] {
            // Wood left bare and wood that stands differ in what is round them, not on them.
            if a.stands() && b.stands() {
                continue;
            }
            let pairs = patch(a).into_iter().zip(patch(*b));
            let apart = pairs.map(|(p, q)| u32::from(p[0].abs_diff(q[0]))).sum::<u32>() / 900;
            assert!(apart > 12, "{a:?} and {b:?} differ by {apart} on average");
        }
    }
}

#[test]
fn what_is_pierced_shows_the_bench() {
    let (job, proof, view) = (job(Treatment::Pierced), proof(Vec::new()), view());
    let seen = board_and_design(&job, &proof, &view);
    let bench = picture::board(&job, &proof, &View { screen_from_board: DAffine2::ZERO, ..view }).pixel(0, 0);
    let middle = view.screen_from_board.transform_point2(ON_THE_RING);
    let as_bench =
        (0..900).filter(|i| seen.pixel(middle.x as u32 + i % 30, middle.y as u32 + i / 30) == bench).count();
    assert!(as_bench > 200, "{as_bench} of 900 pixels are bench, the rest hatch");
}

#[test]
fn a_thin_wall_is_marked_where_it_is_and_nowhere_else() {
    let axis = [-6.0, 6.0].map(|y| AxisPoint { at: dvec2(-14.0, y), width: 1.0, vertex: 0 });
    let proof = proof(vec![finding(FindingKind::ThinWall, ON_THE_RING, vec![axis])]);
    let view = view();
    let marks = picture::marks(&proof, 0, &view, None);
    let [r, g, b] = picture::mark_color(FindingKind::ThinWall);
    // The band runs 6 mm either way of the ring's left side and is 1 mm wide.
    let at = |x: f64, y: f64| {
        let p = view.screen_from_board.transform_point2(dvec2(x, y));
        marks.pixel(p.x as u32, p.y as u32).expect("on the picture")
    };
    assert_eq!(at(36.0, 25.0), [r, g, b, 255]);
    assert_eq!(at(36.0, 34.0), [r, g, b, 255]);
    assert_eq!(at(36.45, 26.0), [r, g, b, 255], "0.45 mm off the axis is still the wall");
    assert_eq!(at(36.95, 25.0), [0; 4], "0.95 mm off is not, casing counted");
    assert_eq!(at(36.0, 40.0), [0; 4], "nor is what lies beyond its end");
}

/// Two copies on one board, each with its own findings: no number stands twice.
#[test]
fn marks_are_numbered_on_from_those_before() {
    let at = |x: f64| finding(FindingKind::ThinWall, dvec2(x, 50.0), Vec::new());
    let both = picture::marks(&proof(vec![at(20.0), at(80.0)]), 0, &view(), None);
    let mut one_by_one = picture::marks(&proof(vec![at(20.0)]), 0, &view(), None);
    let second = picture::marks(&proof(vec![at(80.0)]), 1, &view(), None);
    one_by_one.lay_over(&second);
    assert_eq!(one_by_one.pixels, both.pixels);
    let again_from_one = picture::marks(&proof(vec![at(80.0)]), 0, &view(), None);
    assert_ne!(again_from_one.pixels, second.pixels, "the number is seen");
}

/// Where there is no room for a second mark, the first says that there is one more, and is not covered.
#[test]
fn marks_that_have_no_room_are_counted_at_the_nearest() {
    let proof = |count: usize| {
        let at = |index: usize| finding(FindingKind::ThinWall, dvec2(50.0, 30.0 + index as f64), Vec::new());
        proof((0..count).map(at).collect())
    };
    let small = View::of_board(job(Treatment::Relief).board(), [44, 44], 0.0);
    let [one, two, three] = [1, 2, 3].map(|count| picture::marks(&proof(count), 0, &small, None));
    let differ = |a: &Picture, b: &Picture| -> Vec<[u32; 2]> {
        let all = (0..44).flat_map(|x| (0..44).map(move |y| [x, y]));
        all.filter(|&[x, y]| a.pixel(x, y) != b.pixel(x, y)).collect()
    };
    let plate = differ(&one, &two);
    let side = |axis: usize| {
        let along = plate.iter().map(|at| at[axis]);
        along.clone().max().unwrap() - along.min().unwrap() + 1
    };
    assert!(side(0) <= 22 && side(1) <= 14, "{} by {} pixels", side(0), side(1));
    let digit = differ(&two, &three);
    assert!(!digit.is_empty() && digit.iter().all(|at| plate.contains(at)), "only the number is another");
    // Where there is room, each has its own.
    let large = picture::marks(&proof(2), 0, &view(), None);
    let vermilion = |seen: &Picture| seen.pixels.chunks(4).filter(|p| **p == [0xD5, 0x5E, 0x00, 255]).count();
    assert!(vermilion(&large) > 3 * vermilion(&picture::marks(&proof(1), 0, &view(), None)) / 2);
}

#[test]
fn a_finding_too_small_to_see_is_still_drawn_three_pixels_wide() {
    let axis = [-6.0, 6.0].map(|y| AxisPoint { at: dvec2(-14.0, y), width: 1e-4, vertex: 0 });
    let proof = proof(vec![finding(FindingKind::BlockedGroove, dvec2(20.0, 50.0), vec![axis])]);
    let marks = picture::marks(&proof, 0, &view(), None);
    let [r, g, b] = picture::mark_color(FindingKind::BlockedGroove);
    let row: Vec<_> = (340..380).filter_map(|x| marks.pixel(x, 300)).collect();
    assert_eq!(
        row.iter().filter(|&&pixel| pixel == [r, g, b, 255]).count(),
        2,
        "two whole pixels, two halves"
    );
}

#[test]
fn a_finding_without_an_axis_has_a_mark_alone() {
    for kind in [FindingKind::LostTip, FindingKind::ShallowGroove, FindingKind::SnipeZone] {
        let marks = picture::marks(&proof(vec![finding(kind, ON_THE_RING, Vec::new())]), 0, &view(), Some(0));
        let [r, g, b] = picture::mark_color(kind);
        assert!(marks.pixels.chunks(4).any(|pixel| pixel == [r, g, b, 255]), "{kind:?} is marked");
    }
}

#[test]
fn kinds_on_the_board_differ_in_colour_and_in_shape() {
    use FindingKind::{BlockedGroove, LostTip, ShallowGroove, SnipeZone, ThinWall};
    let kinds = [ThinWall, LostTip, BlockedGroove, ShallowGroove, SnipeZone];
    for (i, &a) in kinds.iter().enumerate() {
        for &b in &kinds[i + 1..] {
            assert_ne!(picture::mark_color(a), picture::mark_color(b));
            assert_ne!(picture::mark_shape(a), picture::mark_shape(b));
        }
    }
}

#[test]
fn snipe_zones_are_drawn_only_where_they_are() {
    let view = view();
    let job = job(Treatment::Relief);
    let plain = picture::board(&job, &proof(Vec::new()), &view);
    let mut zoned = proof(Vec::new());
    zoned.feeding.snipe_zones = vec![[Mm::new(70.0), Mm::new(100.0)]];
    let zoned = picture::board(&job, &zoned, &view);
    let differs = |x: u32| (0..600).any(|y| plain.pixel(x, y) != zoned.pixel(x, y));
    assert!((705..995).all(differs), "every column of the zone is tinted");
    assert!(!(0..695).any(differs), "no column outside it is");
}

#[test]
fn held_ends_show_the_roller_allowance() {
    let mut job = job(Treatment::Relief);
    change_machine(&mut job, |machine| {
        (machine.infeed_roller, machine.outfeed_roller) = (Mm::new(20.0), Mm::new(20.0));
    });
    let (proof, view) = (proof(Vec::new()), view());
    let free = picture::board(&job, &proof, &view);
    job.apply(Edit::Ends(Ends::Held)).unwrap();
    let held = picture::board(&job, &proof, &view);
    let differs = |x: u32| (0..600).any(|y| free.pixel(x, y) != held.pixel(x, y));
    assert!((5..195).chain(805..995).all(differs), "both ends");
    assert!(!(205..795).any(differs), "and not between them");
}

/// Ten pixels to a millimetre, on a board 60 mm wide: 60 - y mm down.
#[test]
fn a_blemish_is_drawn_where_it_lies_with_its_clearance() {
    let mut job = job(Treatment::Relief);
    job.apply(Edit::Ends(Ends::Free)).unwrap();
    let (proof, view) = (proof(Vec::new()), view());
    let bare = picture::board(&job, &proof, &view);
    let shape = BlemishShape::Circle { x: Mm::new(30.0), y: Mm::new(20.0), diameter: Mm::new(10.0) };
    change_board(&mut job, |board| {
        board.blemishes = vec![Blemish { kind: BlemishKind::Knot, shape, clearance: Mm::new(4.0) }];
    });
    let marked = picture::board(&job, &proof, &view);
    let light = |picture: &Picture, x: u32, y: u32| {
        picture.pixel(x, y).unwrap()[..3].iter().map(|&v| u32::from(v)).sum::<u32>()
    };
    // Above the middle, where its name does not stand: in the knot, in its clearance, clear of both.
    assert!(light(&marked, 300, 365) * 2 < light(&bare, 300, 365), "the knot is dark");
    assert!(light(&marked, 300, 330) < light(&bare, 300, 330), "its clearance is toned");
    assert!(light(&marked, 300, 330) * 2 > light(&bare, 300, 330), "and no more than that");
    assert_eq!(marked.pixel(300, 305), bare.pixel(300, 305));
    assert_eq!(picture::blemishes(job.board(), &view).pixel(300, 305), Some([0; 4]));
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    let axis = [-6.0, 6.0].map(|y| AxisPoint { at: dvec2(-14.0, y), width: 1.0, vertex: 0 });
    let proof = proof(vec![finding(FindingKind::ThinWall, ON_THE_RING, vec![axis])]);
    let job = job(Treatment::Relief);
    let view = picture::page_view(job.board(), 640, LengthUnit::InchFraction, Theme::Light);
    let png = || picture::picture(&job, &proof, &view).to_png();
    let first = png();
    assert_eq!(first, png());
    assert_eq!(&first[..4], b"\x89PNG");
}

#[test]
fn any_view_gives_a_picture() {
    let axis = [-6.0, 6.0].map(|y| AxisPoint { at: dvec2(-14.0, y), width: 1.0, vertex: 0 });
    let proof = proof(vec![finding(FindingKind::ThinWall, ON_THE_RING, vec![axis])]);
    let job = job(Treatment::Incised);
    let scaled = |scale: f64, at: DVec2| DAffine2::from_cols(dvec2(scale, 0.0), dvec2(0.0, -scale), at);
    let views = [
        DAffine2::ZERO,
        DAffine2::from_translation(DVec2::NAN),
        scaled(1e-12, DVec2::ZERO),
        scaled(1e-3, dvec2(10.0, 10.0)),
        scaled(1e3, dvec2(-36_000.0, 30_000.0)),
        scaled(1e7, dvec2(-3.6e8, 3e8)),
        scaled(1e300, DVec2::ZERO),
        scaled(10.0, dvec2(1e12, -1e12)),
    ];
    for size in [[0, 0], [1, 1], [3, 200], [64, 48]] {
        for screen_from_board in views {
            let view = View { size, screen_from_board, theme: Theme::Dark, unit: LengthUnit::default() };
            let all = picture::picture(&job, &proof, &view);
            assert_eq!([all.width, all.height], size.map(|side| side.max(1)), "{screen_from_board:?}");
        }
    }
    let huge = View { size: [u32::MAX, 1], ..view() };
    assert_eq!(picture::board(&job, &proof, &huge).width, picture::LONGEST_SIDE);
}

#[test]
fn a_board_without_size_never_comes_to_be_drawn() {
    let mut job = job(Treatment::Relief);
    let before = job.clone();
    for side in [0.0, -3.0, f64::NAN, f64::INFINITY] {
        assert!(job.apply(Edit::BoardLength(Mm::new(side))).is_err(), "{side}");
        assert!(job == before, "{side}: a refused edit changes nothing");
    }
}
