//! Widths of walls and grooves: closed forms first, then an independent slow reference, then properties.

use glam::{DAffine2, DMat2, DVec2, dvec2};
use proptest::prelude::*;
use spelk::geometry::widths::{Feature, FeatureShape, WidthMap, Widths, measure};
use spelk::geometry::{FillRule, Grid, Rect, Region};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

type Rings = Vec<Vec<DVec2>>;

fn rectangle(min: DVec2, max: DVec2) -> Vec<DVec2> {
    Rect::new(min, max).corners().to_vec()
}

fn points(coordinates: &[(f64, f64)]) -> Vec<DVec2> {
    coordinates.iter().map(|&(x, y)| dvec2(x, y)).collect()
}

fn regular(count: usize, radius: f64, center: DVec2) -> Vec<DVec2> {
    (0..count).map(|i| center + DVec2::from_angle(TAU * i as f64 / count as f64) * radius).collect()
}

fn region(rings: &[Vec<DVec2>]) -> Region {
    let bounds = Rect::around(rings.iter().flatten().copied()).expect("rings have points");
    Region::clean(Grid::covering(bounds), rings, FillRule::EvenOdd)
}

fn widths(rings: &[Vec<DVec2>]) -> Widths {
    measure(&region(rings))
}

fn thin(map: &WidthMap, limit: f64) -> Vec<Feature> {
    let asked: Vec<_> = (0..map.pieces().len() as u32).map(|i| (i, limit)).collect();
    map.features(&asked).collect()
}

fn necks(map: &WidthMap, limit: f64) -> Vec<Feature> {
    thin(map, limit).into_iter().filter(|f| f.shape == FeatureShape::Neck).collect()
}

/// The apex in degrees and the length of every tip.
fn tips(map: &WidthMap, limit: f64) -> Vec<(f64, f64)> {
    let apex = |feature: &Feature| match feature.shape {
        FeatureShape::Tip { apex } => Some((apex.to_degrees(), feature.length)),
        FeatureShape::Neck => None,
    };
    thin(map, limit).iter().filter_map(apex).collect()
}

fn close(a: f64, b: f64, tolerance: f64) -> bool {
    (a - b).abs() <= tolerance
}

/// Directions are of undirected lines: 0 and pi are the same.
fn turn_between(a: f64, b: f64) -> f64 {
    let turn = (a - b).rem_euclid(PI);
    turn.min(PI - turn)
}

fn assert_neck(feature: &Feature, width: f64, length: Option<f64>) {
    assert_eq!(feature.shape, FeatureShape::Neck, "a neck is no tip");
    assert!(close(feature.width, width, 1e-6), "width {} is not {width}", feature.width);
    if let Some(length) = length {
        assert!(close(feature.length, length, 1e-6), "length {} is not {length}", feature.length);
    }
    let drawn: f64 = feature.axis.iter().map(|[a, b]| a.at.distance(b.at)).sum();
    assert!(close(drawn, feature.length, 2e-3 * feature.length + 1e-9), "the drawn axis is as long");
}

// Check values: closed forms of each shape, worked out by hand where not obvious.

#[test]
fn a_bar_is_one_wall_and_its_corners_are_none() {
    let map = widths(&[rectangle(DVec2::ZERO, dvec2(40.0, 10.0))]).inside;
    let [wall] = &thin(&map, 12.0)[..] else { panic!("one wall") };
    assert_neck(wall, 10.0, Some(30.0));
    assert!(turn_between(wall.direction, 0.0) < 1e-9, "along the long side");
    assert!(wall.at.distance(dvec2(20.0, 5.0)) < 1e-6, "told at its middle");
    assert!(thin(&map, 9.9).is_empty(), "corners are not thin");
}

#[test]
fn rounded_corners_are_not_thin() {
    let mut ring = Vec::new();
    for (i, center) in Rect::new(dvec2(2.0, 2.0), dvec2(18.0, 8.0)).corners().into_iter().enumerate() {
        let start = PI + FRAC_PI_2 * i as f64;
        ring.extend(
            (0..=16).map(|j| center + DVec2::from_angle(start + FRAC_PI_2 * f64::from(j) / 16.0) * 2.0),
        );
    }
    let map = widths(&[ring]).inside;
    assert!(thin(&map, 9.9).is_empty());
    assert_neck(&thin(&map, 10.1)[0], 10.0, Some(10.0));
}

fn two_squares_and_a_neck() -> Vec<DVec2> {
    points(&[
        (0.0, 0.0),
        (20.0, 0.0),
        (20.0, 8.5),
        (30.0, 8.5),
        (30.0, 0.0),
        (50.0, 0.0),
        (50.0, 20.0),
        (30.0, 20.0),
        (30.0, 11.5),
        (20.0, 11.5),
        (20.0, 20.0),
        (0.0, 20.0),
    ])
}

#[test]
fn a_neck_between_squares() {
    let map = widths(&[two_squares_and_a_neck()]).inside;
    let [neck] = &thin(&map, 5.0)[..] else { panic!("one neck") };
    // Past either end the axis runs on between two corners 3 apart until they see 120 degrees.
    assert_neck(neck, 3.0, Some(10.0 + 3.0 / 3.0_f64.sqrt()));
    assert!(close(neck.length, 11.73, 0.005));
    assert!(turn_between(neck.direction, 0.0) < 1e-6);
    assert!(neck.at.distance(dvec2(25.0, 10.0)) < 1e-6);
    assert_eq!(map.least(), Some(3.0));
}

#[test]
fn a_neck_is_cut_at_its_limit() {
    let map = widths(&[two_squares_and_a_neck()]).inside;
    // Between two points d apart, 2 r < w as far as sqrt(w^2 - d^2) / 2 from their middle.
    assert_neck(&thin(&map, 3.2)[0], 3.0, Some(10.0 + (3.2_f64 * 3.2 - 9.0).sqrt()));
}

fn waist() -> Vec<DVec2> {
    let x = |i: i32| f64::from(i) * 0.1 - 20.0;
    let y = |x: f64| 1.5 + 0.02 * x * x;
    let lower = (0..=400).map(|i| dvec2(x(i), -y(x(i))));
    let upper = (0..=400).rev().map(|i| dvec2(x(i), y(x(i))));
    lower.chain(upper).collect()
}

#[test]
fn a_waist_is_one_neck_with_four_tips() {
    let map = widths(&[waist()]).inside;
    let found = necks(&map, 4.0);
    assert_eq!(found.len(), 1);
    assert!(close(found[0].width, 3.0, 1e-6) && found[0].at.length() < 1e-6, "{:?}", found[0]);
    assert!(turn_between(found[0].direction, 0.0) < 1e-6);
    // Thin where 2 (1.5 + 0.02 x^2) is under 4, a little less across the slope: x within 5.
    assert!(found[0].length > 10.0 && found[0].length < 10.4, "{}", found[0].length);
    let tips = tips(&map, 4.0);
    assert_eq!(tips.len(), 4);
    // The last chord runs at a slope of 0.02 (20 + 19.9) against the upright end.
    let apex = 90.0 - 0.798_f64.atan().to_degrees();
    assert!(tips.iter().all(|tip| close(tip.0, apex, 1e-3)), "{tips:?}");
    assert!(close(map.least().unwrap(), 3.0, 1e-6));
}

#[test]
fn a_ring_is_one_wall_all_the_way_round() {
    let map = widths(&[regular(256, 20.0, DVec2::ZERO), regular(256, 14.0, DVec2::ZERO)]).inside;
    let [wall] = &thin(&map, 6.5)[..] else { panic!("one wall") };
    // Chords lie at cos(pi / 256) of the radius; opposite chords are parallel.
    assert!(close(wall.width, 6.0 * (PI / 256.0).cos(), 1e-6), "{}", wall.width);
    assert!(close(wall.width, 5.9995, 5e-5));
    assert!(close(wall.length, TAU * 17.0, 0.05), "{}", wall.length);
    assert!(thin(&map, 5.9).is_empty());
}

#[test]
fn a_ring_with_its_hole_moved_has_a_neck_on_the_near_side() {
    let apothem = (PI / 256.0).cos();
    // Corners at the near side: from the hole's corner to either chord of the rim. Chords there: from
    // one chord to the other.
    for (first_corner, width) in [(0.0, 2.0 * apothem), (0.5, 6.0 * apothem - 4.0)] {
        let turn = DMat2::from_angle(TAU / 256.0 * first_corner);
        let ring = |radius| regular(256, radius, DVec2::ZERO).iter().map(|&p| turn * p).collect::<Vec<_>>();
        let hole = ring(14.0).iter().map(|p| p + dvec2(4.0, 0.0)).collect();
        let map = widths(&[ring(20.0), hole]).inside;
        let [neck] = &thin(&map, 3.0)[..] else { panic!("one neck") };
        assert!(close(neck.width, width, 1e-6) && close(neck.width, 1.9997, 2e-4), "{}", neck.width);
        assert!(neck.at.distance(dvec2(19.0, 0.0)) < 0.3, "{}", neck.at);
        assert!(turn_between(neck.direction, FRAC_PI_2) < 0.02, "it runs up past the near side");
    }
}

/// An I: a stem 6 wide and four arms, of this outline above the x axis to the right of the stem's
/// middle; mirrored for the rest.
fn slab_letter(arm: &[(f64, f64)]) -> Vec<DVec2> {
    let right: Vec<_> = arm.iter().map(|&(x, y)| dvec2(x, y)).collect();
    let mut ring = right.clone();
    ring.extend(right.iter().rev().map(|p| dvec2(p.x, 40.0 - p.y)));
    let left: Vec<_> = ring.iter().rev().map(|p| dvec2(-p.x, p.y)).collect();
    ring.extend(left);
    ring
}

#[test]
fn tapering_serif_arms_are_told_by_the_circle_in_their_ends() {
    let map = widths(&[slab_letter(&[(9.0, 0.0), (9.0, 0.8), (3.0, 3.0)])]).inside;
    let found = thin(&map, 2.0);
    assert_eq!(found.len(), 4);
    // The circle touches the end edge x = 9, the flat underside y = 0 and the slope through (9, 0.8):
    // r (1 + cos a) = 0.8 cos a + r sin a with tan a = 2.2 / 6.
    let a = 2.2_f64.atan2(6.0);
    let r = 0.8 * a.cos() / (1.0 + a.cos() - a.sin());
    for arm in &found {
        assert_neck(arm, 2.0 * r, None);
        assert!(close(arm.width, 0.942, 5e-4), "{}", arm.width);
    }
}

#[test]
fn slab_serifs_are_thin_before_the_stem_is() {
    let map = widths(&[slab_letter(&[(9.0, 0.0), (9.0, 1.5), (3.0, 1.5)])]).inside;
    let arms = thin(&map, 2.0);
    assert_eq!(arms.len(), 4);
    for arm in &arms {
        assert_neck(arm, 1.5, None);
    }
    let all = thin(&map, 6.5);
    assert_eq!(all.len(), 5);
    let stem = all.iter().find(|f| f.width > 3.0).expect("the stem");
    assert_neck(stem, 6.0, None);
    assert!(turn_between(stem.direction, FRAC_PI_2) < 1e-6, "the stem is upright");
}

#[test]
fn a_triangle_ends_in_a_tip() {
    let map = widths(&[points(&[(0.0, 0.0), (10.0, 0.0), (5.0, 40.0)])]).inside;
    let found = thin(&map, 2.0);
    let [FeatureShape::Tip { apex }] = found.iter().map(|f| f.shape).collect::<Vec<_>>()[..] else {
        panic!("one tip")
    };
    assert!(close(apex, 2.0 * (5.0_f64 / 40.0).atan(), 1e-6));
    assert!(close(apex.to_degrees(), 14.25, 0.005));
    assert!(close(found[0].length, 1.0 / (0.5 * apex).sin(), 1e-6) && close(found[0].length, 8.062, 5e-4));
    assert_eq!((found[0].at, found[0].width), (dvec2(5.0, 40.0), 0.0));
    assert!(turn_between(found[0].direction, FRAC_PI_2) < 1e-6);
    assert_eq!(map.least(), None, "a point is no wall");
}

fn star() -> Vec<DVec2> {
    // The inner corners of a five-pointed star drawn in one stroke.
    let inner = 20.0 * (TAU / 5.0).cos() / (TAU / 10.0).cos();
    let corner = |i: i32| {
        let radius = if i % 2 == 0 { 20.0 } else { inner };
        DVec2::from_angle(FRAC_PI_2 + TAU * f64::from(i) / 10.0) * radius
    };
    (0..10).map(corner).collect()
}

#[test]
fn a_star_has_five_tips() {
    let map = widths(&[star()]).inside;
    assert!(necks(&map, 2.0).is_empty());
    let tips = tips(&map, 2.0);
    assert_eq!(tips.len(), 5);
    for (apex, length) in tips {
        assert!(close(apex, 36.0, 1e-5) && close(length, 3.236, 5e-4), "{apex} {length}");
    }
}

#[test]
fn corners_that_face_each_other_leave_a_neck_of_the_space() {
    let left = points(&[(0.0, -10.0), (9.0, 0.0), (0.0, 10.0)]);
    let right = points(&[(20.0, -10.0), (20.0, 10.0), (11.0, 0.0)]);
    let widths = widths(&[left, right]);
    let [neck] = &thin(&widths.outside, 3.0)[..] else { panic!("one neck of the space") };
    assert_neck(neck, 2.0, None);
    assert!(neck.at.distance(dvec2(10.0, 0.0)) < 1e-6);
    assert!(turn_between(neck.direction, FRAC_PI_2) < 1e-6);
}

#[test]
fn a_thick_l_has_nothing_thin() {
    let l = points(&[(0.0, 0.0), (40.0, 0.0), (40.0, 10.0), (10.0, 10.0), (10.0, 40.0), (0.0, 40.0)]);
    let widths = widths(&[l]);
    assert!(thin(&widths.inside, 3.0).is_empty() && thin(&widths.outside, 3.0).is_empty());
}

// Facts beyond the table.

#[test]
fn a_spike_with_a_sharp_end_is_a_wall_and_a_tip() {
    // Even sides 1 apart, then a point of 30 degrees.
    let end = 0.5 / 15.0_f64.to_radians().tan();
    let spike = points(&[(0.0, -0.5), (30.0, -0.5), (30.0 + end, 0.0), (30.0, 0.5), (0.0, 0.5)]);
    let block = rectangle(dvec2(-20.0, -20.0), dvec2(0.0, 20.0));
    let grid = Grid::covering(Rect::new(dvec2(-20.0, -20.0), dvec2(40.0, 20.0)));
    let map = measure(&Region::clean(grid, &[spike, block], FillRule::NonZero)).inside;
    let found = thin(&map, 1.5);
    assert_eq!(found.len(), 2, "{found:?}");
    let walls = necks(&map, 1.5);
    assert_eq!(walls.len(), 1);
    assert!(close(walls[0].width, 1.0, 1e-6));
    // From the shoulder's circle to the root, and a little way into the block.
    let shoulder = 30.0 - 0.5 * (7.5_f64).to_radians().tan();
    assert!(walls[0].length > shoulder && walls[0].length < shoulder + 0.6, "{}", walls[0].length);
    let tips = tips(&map, 1.5);
    assert!(
        close(tips[0].0, 30.0, 1e-5) && close(tips[0].1, 0.5 / 15.0_f64.to_radians().sin(), 1e-4),
        "{tips:?}"
    );
}

#[test]
fn a_spike_keeps_its_tip_apart_when_faceted() {
    // A leaf of two arcs that meet at 40 degrees: all of it widens, to the middle.
    let half = 20.0_f64.to_radians();
    let arc = |i: i32| {
        let angle = half * (2.0 * f64::from(i) / 200.0 - 1.0);
        dvec2(100.0 * angle.sin(), 100.0 * (angle.cos() - half.cos()))
    };
    let mut leaf: Vec<_> = (0..=200).map(|i| -arc(i)).collect();
    leaf.extend((1..200).map(arc));
    let map = widths(&[leaf]).inside;
    let found = thin(&map, 6.0);
    assert_eq!(found.iter().filter(|f| f.shape == FeatureShape::Neck).count(), 0, "{found:?}");
    assert_eq!(tips(&map, 6.0).len(), 2);
    // 200 (1 - cos 20 degrees) across the middle.
    assert!(map.least().is_none_or(|width| width > 11.5), "{:?}", map.least());
}

#[test]
fn a_point_with_its_end_nipped_off_is_still_a_point() {
    // The triangle of the check values, cut off where it is 0.1 across.
    let nipped = points(&[(0.0, 0.0), (10.0, 0.0), (5.05, 39.6), (4.95, 39.6)]);
    let map = widths(&[nipped]).inside;
    let apex = 2.0 * (5.0_f64 / 40.0).atan();
    let tips = tips(&map, 2.0);
    assert_eq!(tips.len(), 1);
    assert!(close(tips[0].0, apex.to_degrees(), 1e-4), "{tips:?}");
    // From the middle of the circle that touches the end; 0.4 of the whole point is gone, and what lies
    // between the end and that middle, which is its radius.
    let radius = 0.05 * (1.0 + (0.5 * apex).sin()) / (0.5 * apex).cos();
    assert!(close(tips[0].1, 1.0 / (0.5 * apex).sin() - 0.4 - radius, 1e-3), "{tips:?}");
    assert_eq!(map.least(), None);
}

#[test]
fn a_needle_is_a_tip_however_slender() {
    let needle = points(&[(0.0, 0.0), (0.4, 0.0), (0.2, 60.0)]);
    let map = widths(&[needle]).inside;
    let found = thin(&map, 0.2);
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(matches!(found[0].shape, FeatureShape::Tip { .. }));
}

#[test]
fn a_corner_of_sixty_degrees_is_kept_whichever_way_it_is_turned() {
    for turn in 0..12 {
        let triangle: Vec<_> = regular(3, 10.0, dvec2(3.0, 1.0))
            .iter()
            .map(|&p| DMat2::from_angle(f64::from(turn) * 0.37) * p)
            .collect();
        assert_eq!(tips(&widths(&[triangle]).inside, 1.0).len(), 3);
    }
}

#[test]
fn walls_that_meet_at_120_degrees_are_one_whichever_way_they_are_turned() {
    for turn in 0..40 {
        let arms: Rings = (0..3)
            .map(|i| {
                let turn = DMat2::from_angle(TAU / 3.0 * f64::from(i) + f64::from(turn) * 0.37);
                rectangle(dvec2(0.0, -2.0), dvec2(20.0, 2.0)).iter().map(|&p| turn * p).collect()
            })
            .collect();
        let grid = Grid::covering(Rect::new(DVec2::splat(-21.0), DVec2::splat(21.0)));
        let map = measure(&Region::clean(grid, &arms, FillRule::NonZero)).inside;
        // Each runs from the circle in its end to the middle, which is 4 / sin 60 across.
        let [walls] = &thin(&map, 5.0)[..] else { panic!("one, not {:?}", thin(&map, 5.0)) };
        assert_neck(walls, 4.0, Some(54.0));
    }
}

#[test]
fn a_gap_between_bars_is_a_groove_that_ends_where_they_do() {
    let bars = [rectangle(DVec2::ZERO, dvec2(6.0, 10.0)), rectangle(dvec2(8.0, 0.0), dvec2(14.0, 10.0))];
    let map = widths(&bars).outside;
    let [gap] = &thin(&map, 5.0)[..] else { panic!("one gap") };
    // Its axis runs on without end between the corners; they are kept while they see 120 degrees.
    assert_neck(gap, 2.0, Some(10.0 + 2.0 / 3.0_f64.sqrt()));
    assert!(turn_between(gap.direction, FRAC_PI_2) < 1e-9);
}

#[test]
fn a_notch_is_a_tip_of_the_groove() {
    let notched = points(&[
        (0.0, 0.0),
        (40.0, 0.0),
        (40.0, 20.0),
        (22.0, 20.0),
        (20.0, 8.0),
        (18.0, 20.0),
        (0.0, 20.0),
    ]);
    let tips = tips(&widths(&[notched]).outside, 1.0);
    let apex = 2.0 * (2.0_f64 / 12.0).atan();
    assert_eq!(tips.len(), 1);
    assert!(close(tips[0].0, apex.to_degrees(), 1e-5) && close(tips[0].1, 0.5 / (0.5 * apex).sin(), 1e-6));
}

/// The diagram's engine gives a wrong diagram of this one in four times, by luck: edges in one line that
/// meet at corners which touch. Ours has to be the same and right every time.
#[test]
fn an_outline_that_the_engine_gets_wrong_by_luck_is_measured_alike_every_time() {
    let region = region(&[
        points(&[(-16., -32.), (-24., 8.), (-24., -8.), (8., -24.), (16., 0.), (8., 8.), (-16., -8.)]),
        points(&[
            (-40., 0.),
            (-24., -40.),
            (24., -16.),
            (16., -24.),
            (0., 16.),
            (-32., 40.),
            (-24., 40.),
            (24., -48.),
        ]),
        rectangle(dvec2(-8., -16.), dvec2(16., -8.)),
    ]);
    check_pieces(&region);
    let first = measure(&region);
    for _ in 0..40 {
        let again = measure(&region);
        assert_eq!(again.inside.pieces(), first.inside.pieces());
        assert_eq!(again.outside.pieces(), first.outside.pieces());
    }
}

#[test]
fn the_same_bits_whatever_the_number_of_threads() {
    // Enough for several blocks of work, of all kinds of sites.
    let mut rings = vec![waist(), regular(256, 60.0, DVec2::ZERO), regular(256, 50.0, dvec2(3.0, 1.0))];
    rings.extend((0..60).map(|i| {
        let at = DVec2::from_angle(f64::from(i)) * (80.0 + f64::from(i));
        star().iter().map(|&p| p * 0.2 + at).collect()
    }));
    let region = region(&rings);
    assert!(region.segment_count() > 1500);
    let told = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| {
            let widths = measure(&region);
            // Debug shows every number to its last digit.
            format!("{widths:?} {:?}", widths.inside.unreached(3.0))
        })
    };
    let one = told(1);
    for threads in [2, 5] {
        assert!(told(threads) == one, "{threads} threads and 1 differ");
    }
}

#[test]
fn nothing_has_no_widths() {
    let grid = Grid::covering(Rect::new(DVec2::ZERO, DVec2::ONE));
    let widths = measure(&Region::empty(grid));
    assert!(widths.inside.pieces().is_empty() && widths.outside.pieces().is_empty());
    assert!(
        widths.inside.features(&[(0, 1.0), (7, f64::NAN)]).next().is_none(),
        "pieces that do not exist are passed over"
    );
}

#[test]
fn features_join_across_limits_and_keep_their_name() {
    let map = widths(&[two_squares_and_a_neck()]).inside;
    let count = map.pieces().len() as u32;
    let by_piece: Vec<_> = (0..count).rev().map(|i| (i, if i % 2 == 0 { 3.1 } else { 3.3 })).collect();
    let joined: Vec<_> = map.features(&by_piece).collect();
    assert_eq!(joined.len(), 1);
    assert_eq!(joined[0].piece, thin(&map, 5.0)[0].piece);
    let twice: Vec<_> = by_piece.iter().chain(&by_piece).copied().collect();
    assert_eq!(map.features(&twice).collect::<Vec<_>>(), joined, "naming a piece twice changes nothing");
}

#[test]
fn every_size_of_design_is_measured_alike() {
    for size in [1.0 / 20.0, 1.0, 100.0] {
        let at = dvec2(1234.5, -77.0) * size;
        let neck: Vec<_> = two_squares_and_a_neck().iter().map(|&p| p * size + at).collect();
        let found = thin(&widths(&[neck]).inside, 5.0 * size);
        assert_eq!(found.len(), 1);
        assert!(close(found[0].width, 3.0 * size, 1e-6 * size.max(1.0)), "{}", found[0].width);
    }
}

// An independent reference: distances to every edge, one by one.

fn distance_to_edge(point: DVec2, [a, b]: [DVec2; 2]) -> f64 {
    let along = b - a;
    let share = ((point - a).dot(along) / along.length_squared()).clamp(0.0, 1.0);
    point.distance(a + along * share)
}

fn clearance(edges: &[[DVec2; 2]], point: DVec2) -> f64 {
    edges.iter().map(|&edge| distance_to_edge(point, edge)).fold(f64::INFINITY, f64::min)
}

fn edges_of(region: &Region) -> Vec<[DVec2; 2]> {
    region.rings().flat_map(spelk::geometry::Ring::segments).collect()
}

/// Every end of every piece is as far from the outline as it says, on the side it says, and its feet
/// are on the outline and see at least 120 degrees between them.
fn check_pieces(region: &Region) {
    let edges = edges_of(region);
    let size = region.bounds().map_or(0.0, |b| b.size().max_element());
    let widths = measure(region);
    for (map, inside) in [(&widths.inside, true), (&widths.outside, false)] {
        for piece in map.pieces() {
            assert!(piece.narrow.width <= piece.wide.width, "from narrow to wide");
            for end in [piece.narrow, piece.wide] {
                let found = clearance(&edges, end.at);
                assert!(close(found, 0.5 * end.width, 1e-7 * size), "{found} from {end:?}");
                if end.width > 1e-5 * size {
                    assert_eq!(region.contains(end.at), inside, "{end:?} lies on its own side");
                }
            }
            let [a, b] = piece.feet;
            let off = clearance(&edges, a).max(clearance(&edges, b));
            assert!(off < 1e-7 * size, "the feet stand on the outline, {off} off");
            if piece.length() == 0.0 {
                // A spot: nowhere near it is there room for a wider disc.
                for turn in 0..12 {
                    let near = piece.narrow.at + DVec2::from_angle(f64::from(turn) * PI / 6.0) * 1e-4 * size;
                    assert!(clearance(&edges, near) <= 0.5 * piece.narrow.width + 1e-7 * size, "{near}");
                }
            } else if piece.narrow.width > 1e-4 * size {
                let angle = (a - piece.narrow.at).angle_to(b - piece.narrow.at).abs();
                assert!(angle > 2.0 / 3.0 * PI - 1e-3, "{} degrees", angle.to_degrees());
                let across = dvec2(piece.direction.cos(), piece.direction.sin()).dot((b - a).normalize());
                assert!(across.abs() < 1e-3, "it runs across the line between its feet");
            }
        }
    }
}

/// A lumpy outline round the origin, with a lumpy hole if there is room.
fn lumpy() -> impl Strategy<Value = Rings> {
    let ring = |low: f64, high: f64| {
        prop::collection::vec(low..high, 5..14).prop_map(|radii| {
            let count = radii.len() as f64;
            radii
                .iter()
                .enumerate()
                .map(|(i, r)| DVec2::from_angle(TAU * i as f64 / count) * *r)
                .collect::<Vec<_>>()
        })
    };
    (ring(8.0, 40.0), prop::option::of(ring(2.0, 6.0))).prop_map(|(outer, hole)| {
        let mut rings = vec![outer];
        rings.extend(hole);
        rings
    })
}

fn scribble() -> impl Strategy<Value = Rings> {
    let point = (-50.0..50.0, -50.0..50.0).prop_map(|(x, y)| dvec2(x, y));
    prop::collection::vec(prop::collection::vec(point, 3..12), 1..4)
}

/// Small whole coordinates: sides in line, corners that touch, many places equally far from many sides.
fn blocky() -> impl Strategy<Value = Rings> {
    let point = (-6_i32..6, -6_i32..6).prop_map(|(x, y)| dvec2(f64::from(x), f64::from(y)) * 8.0);
    let square = (-6_i32..5, -6_i32..5, 1_i32..4, 1_i32..4).prop_map(|(x, y, w, h)| {
        let min = dvec2(f64::from(x), f64::from(y)) * 8.0;
        rectangle(min, min + dvec2(f64::from(w), f64::from(h)) * 8.0)
    });
    let ring = prop_oneof![prop::collection::vec(point, 3..9), square];
    prop::collection::vec(ring, 1..9)
}

/// Blocks apart from each other, in rows: many places equally far from four sides and corners, which no
/// longer are so exactly once the whole is turned and snapped to the lattice.
fn masonry() -> impl Strategy<Value = Rings> {
    prop::collection::vec((1_i32..4, 1_i32..4), 2..12).prop_map(|blocks| {
        let place = |(i, &(w, h)): (usize, &(i32, i32))| {
            let min = dvec2((i % 4) as f64, (i / 4) as f64) * 8.0;
            rectangle(min, min + dvec2(f64::from(w), f64::from(h)) * 2.0)
        };
        blocks.iter().enumerate().map(place).collect()
    })
}

/// A place that is equally far from two places of the outline, with nothing nearer.
struct Ridge {
    at: DVec2,
    width: f64,
}

/// The ridge of the plain distance field where two nearest feet see `angle` or more between them: places
/// of a raster beside it, each pushed away from its nearest foot until the other is as near.
fn ridge(region: &Region, pitch: f64, angle: f64) -> Vec<Ridge> {
    let edges = edges_of(region);
    let Some(bounds) = region.bounds() else { return Vec::new() };
    let count = (bounds.size() / pitch).ceil();
    let places = (0..count.x as i32 * count.y as i32).map(|i| {
        let (row, column) = (i / count.x as i32, i % count.x as i32);
        bounds.min + dvec2(f64::from(column) + 0.5, f64::from(row) + 0.5) * pitch
    });
    places.filter(|&at| region.contains(at)).filter_map(|at| onto_ridge(&edges, at, pitch, angle)).collect()
}

fn onto_ridge(edges: &[[DVec2; 2]], start: DVec2, pitch: f64, angle: f64) -> Option<Ridge> {
    let mut at = start;
    for _ in 0..30 {
        let feet: Vec<_> = edges
            .iter()
            .map(|&[a, b]| {
                let along = b - a;
                a + along * ((at - a).dot(along) / along.length_squared()).clamp(0.0, 1.0) - at
            })
            .collect();
        let nearer = |a: &&DVec2, b: &&DVec2| a.length().total_cmp(&b.length());
        let near = feet.iter().min_by(nearer)?;
        let far = feet.iter().filter(|foot| near.angle_to(**foot).abs() >= angle).min_by(nearer)?;
        let gap = far.length() - near.length();
        if gap > pitch || at.distance(start) > 2.0 * pitch {
            return None;
        }
        if gap < 1e-9 {
            return Some(Ridge { at, width: near.length() + far.length() });
        }
        // Away from the one, and so towards the other by the cosine between them.
        at -= near.normalize() * (gap / (1.0 - near.angle_to(*far).cos()));
    }
    None
}

/// Rings of a shape moved by a transform of the plane.
fn moved(rings: &Rings, by: DAffine2) -> Rings {
    rings.iter().map(|ring| ring.iter().map(|&p| by.transform_point2(p)).collect()).collect()
}

/// The necks and tips of one shape against those of the same shape moved: each is found again, as wide
/// and as long (to scale), in its new place.
fn check_moved(rings: &Rings, by: DAffine2, limit: f64) -> Result<(), TestCaseError> {
    let scale = by.matrix2.determinant().abs().sqrt();
    let before = widths(rings);
    let after = widths(&moved(rings, by));
    check_same(&before.inside, &after.inside, by, limit, scale)?;
    check_same(&before.outside, &after.outside, by, limit, scale)
}

fn check_same(
    was: &WidthMap,
    is: &WidthMap,
    by: DAffine2,
    limit: f64,
    scale: f64,
) -> Result<(), TestCaseError> {
    // What is as short as rounding may come or go.
    let tell = |map: &WidthMap, scale: f64| -> Vec<Told> {
        thin(map, limit * scale).iter().map(Told::of).filter(|told| told.length > 0.01 * scale).collect()
    };
    let (was, mut is) = (tell(was, 1.0), tell(is, scale));
    prop_assert_eq!(was.len(), is.len(), "{:?} {:?}", was, is);
    for told in was {
        let same = |b: &Told| {
            told.tip == b.tip
                && close(told.width * scale, b.width, 1e-5 * scale)
                && close(told.length * scale, b.length, 1e-3 * scale)
                && by.transform_point2(told.middle).distance(b.middle) < 0.1 * scale
        };
        let found = is.iter().position(same);
        prop_assert!(found.is_some(), "{:?} is not among {:?}", told, is);
        is.swap_remove(found.unwrap_or_default());
    }
    Ok(())
}

#[derive(Debug)]
struct Told {
    tip: bool,
    width: f64,
    length: f64,
    /// The middle of the thin part of the axis, as near as its chords give it.
    middle: DVec2,
}

impl Told {
    fn of(feature: &Feature) -> Told {
        let lengths = || feature.axis.iter().map(|[a, b]| a.at.distance(b.at));
        let weighted: DVec2 =
            feature.axis.iter().zip(lengths()).map(|([a, b], l)| (a.at + b.at) * (0.5 * l)).sum();
        Told {
            tip: feature.shape != FeatureShape::Neck,
            width: feature.width,
            length: feature.length,
            middle: weighted / lengths().sum::<f64>(),
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn every_piece_is_where_it_says(rings in prop_oneof![lumpy(), scribble(), blocky()]) {
        let region = region(&rings);
        region.check_invariants();
        check_pieces(&region);
    }

    // Where rings cross, the lattice node a crossing is snapped to may depend on their order; so these
    // do not cross.
    #[test]
    fn order_of_rings_and_where_they_start_are_irrelevant(
        rings in prop_oneof![lumpy(), masonry()], start in 0_usize..3,
    ) {
        let mut other = rings.clone();
        other.reverse();
        for ring in &mut other {
            ring.rotate_left(start);
        }
        let (a, b) = (widths(&rings), widths(&other));
        prop_assert_eq!(a.inside.pieces(), b.inside.pieces());
        prop_assert_eq!(a.outside.pieces(), b.outside.pieces());
    }

    #[test]
    fn moving_turning_mirroring_and_scaling_move_the_answer(
        rings in prop_oneof![lumpy(), masonry()], quarters in 0_usize..4, angle in 0.0..TAU, x in -100.0..100.0, scale in 0.1..10.0, limit in 3.0..12.0,
    ) {
        let quarter = [[dvec2(1.0, 0.0), dvec2(0.0, 1.0)], [dvec2(0.0, 1.0), dvec2(-1.0, 0.0)],
            [dvec2(-1.0, 0.0), dvec2(0.0, -1.0)], [dvec2(0.0, -1.0), dvec2(1.0, 0.0)]][quarters];
        check_moved(&rings, DAffine2::from_mat2(DMat2::from_cols(quarter[0], quarter[1])), limit)?;
        check_moved(&rings, DAffine2::from_scale(dvec2(-1.0, 1.0)), limit)?;
        check_moved(&rings, DAffine2::from_scale_angle_translation(DVec2::splat(scale), angle, dvec2(x, -x)), limit)?;
    }

    #[test]
    fn the_space_outside_is_what_is_left_of_a_frame(
        rings in prop_oneof![scribble(), blocky()], limit in 1.0..8.0) {
        let frame = rectangle(DVec2::splat(-400.0), DVec2::splat(400.0));
        let grid = Grid::covering(Rect::new(DVec2::splat(-400.0), DVec2::splat(400.0)));
        let region = Region::clean(grid, &rings, FillRule::EvenOdd);
        let rest = Region::clean(grid, &[frame], FillRule::EvenOdd).minus(&region);
        let (one, other) = (measure(&region), measure(&rest));
        // Necks that the frame bounds are far wider than asked.
        check_same(&one.outside, &other.inside, DAffine2::IDENTITY, limit, 1.0)?;
        let (least, rest) = (one.outside.least().unwrap_or(1e3), other.inside.least().unwrap_or(1e3));
        prop_assert!(least > 100.0 || close(least, rest, 1e-6), "{} {}", least, rest);
    }
}

/// A smooth outline with no sharp corners: a circle with a few waves on it, deep enough for waists.
fn wavy() -> impl Strategy<Value = Vec<DVec2>> {
    (4.0..13.0, 0.0..4.0, 0.0..TAU, 0.0..TAU).prop_map(|(two, three, turn, phase)| {
        let radius = |angle: f64| 20.0 + two * (2.0 * angle).cos() + three * (3.0 * angle + phase).cos();
        let at = |i: i32| {
            let angle = TAU * f64::from(i) / 90.0;
            DVec2::from_angle(angle + turn) * radius(angle)
        };
        (0..90).map(at).collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn the_least_wall_is_the_least_of_the_distance_fields_ridge(ring in wavy()) {
        let pitch = 0.4;
        let region = region(&[ring]);
        let told = measure(&region).inside.least().unwrap();
        let seen = ridge(&region, pitch, PI * 2.0 / 3.0).iter().map(|ridge| ridge.width).min_by(f64::total_cmp);
        let seen = seen.expect("there is a ridge");
        // The ridge is met at least once in two pitches, and the kept width changes by at most 1 a length.
        prop_assert!(told < seen + 1e-6 && seen < told + 2.0 * pitch, "told {} seen {}", told, seen);
    }

    #[test]
    fn the_whole_ridge_of_the_distance_field_is_kept(rings in lumpy()) {
        let pitch = 0.8;
        let region = region(&rings);
        let map = measure(&region).inside;
        let axis: Vec<_> = thin(&map, f64::INFINITY).into_iter().flat_map(|feature| feature.axis).collect();
        for Ridge { at, width } in ridge(&region, pitch, PI * 121.0 / 180.0) {
            // The axis is drawn in chords, which may be off a curve by a hundredth of its width.
            let slack = 0.01 * width;
            let near = axis.iter().any(|&[a, b]| {
                let share = ((at - a.at).dot(b.at - a.at) / (b.at - a.at).length_squared()).clamp(0.0, 1.0);
                distance_to_edge(at, [a.at, b.at]) < slack
                    && close(width, a.width + (b.width - a.width) * share, 2.0 * slack)
            });
            prop_assert!(near, "a ridge {} wide at {} was not kept", width, at);
        }
    }
}
