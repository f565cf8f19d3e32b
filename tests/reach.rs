//! What a round cutter does not reach: closed forms first, then a general library's offsets, then properties.

use clipper2::{FillRule as Rule, Path, Paths, PointScaler, difference, minkowski_sum, union};
use glam::{DVec2, dvec2};
use proptest::prelude::*;
use spelk::geometry::widths::{Widths, measure};
use spelk::geometry::{FillRule, Grid, Rect, Region, Ring, Unreached};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

fn rectangle(min: DVec2, max: DVec2) -> Vec<DVec2> {
    Rect::new(min, max).corners().to_vec()
}

fn regular(count: usize, radius: f64, center: DVec2) -> Vec<DVec2> {
    (0..count).map(|i| center + DVec2::from_angle(TAU * i as f64 / count as f64) * radius).collect()
}

fn region(rings: &[Vec<DVec2>]) -> Region {
    let bounds = Rect::around(rings.iter().flatten().copied()).unwrap();
    Region::clean(Grid::covering(bounds), rings, FillRule::EvenOdd)
}

fn widths(rings: &[Vec<DVec2>]) -> Widths {
    measure(&region(rings))
}

fn unreached(rings: &[Vec<DVec2>], radius: f64) -> Unreached {
    widths(rings).inside.unreached(radius)
}

#[track_caller]
fn assert_close(found: f64, expected: f64) {
    assert!((found - expected).abs() < 2e-5 * expected.max(1.0), "{found} is not {expected}");
}

/// What a disc leaves of a corner: `r^2 (cot(a / 2) - (pi - a) / 2)`, two tangents less a sector.
fn corner(angle: f64, radius: f64) -> f64 {
    radius * radius * (1.0 / (0.5 * angle).tan() - 0.5 * (PI - angle))
}

#[test]
fn a_square_keeps_its_four_corners() {
    let unreached = unreached(&[rectangle(DVec2::ZERO, dvec2(20.0, 20.0))], 3.0);
    assert_close(unreached.area, (4.0 - PI) * 9.0);
    assert_eq!(unreached.spots.len(), 4);
    for spot in &unreached.spots {
        assert_close(spot.area, corner(FRAC_PI_2, 3.0));
        assert_eq!(spot.sides, 1, "the cutter comes up from within");
        assert!((spot.at - dvec2(10.0, 10.0)).abs().distance(dvec2(10.0, 10.0)) < 1e-6, "at the corner");
    }
}

#[test]
fn corners_of_any_angle() {
    for apex in [20.0_f64, 36.0, 60.0, 75.0, 120.0, 150.0] {
        let apex = apex.to_radians();
        // A triangle with two equal sides 40 long.
        let (sin, cos) = (0.5 * apex).sin_cos();
        let triangle = [DVec2::ZERO, dvec2(-sin, -cos) * 40.0, dvec2(sin, -cos) * 40.0];
        let expected = corner(apex, 1.0) + 2.0 * corner(0.5 * (PI - apex), 1.0);
        assert_close(unreached(&[triangle.to_vec()], 1.0).area, expected);
    }
}

#[test]
fn a_slot_narrower_than_the_cutter_is_not_cut_at_all() {
    let slot = [rectangle(DVec2::ZERO, dvec2(40.0, 5.9))];
    let unreached = unreached(&slot, 3.0);
    assert_close(unreached.area, 40.0 * 5.9);
    assert_eq!((unreached.spots.len(), unreached.spots[0].sides), (1, 0));
    // One as wide as the cutter is entered.
    assert_close(widths(&slot).inside.unreached(2.95).area, corner(FRAC_PI_2, 2.95) * 4.0);
}

/// Two squares joined by a neck 3 wide.
fn dumbbell(length: f64) -> Vec<DVec2> {
    let (a, b) = (20.0, 20.0 + length);
    [
        (0.0, 0.0),
        (a, 0.0),
        (a, 8.5),
        (b, 8.5),
        (b, 0.0),
        (b + 20.0, 0.0),
        (b + 20.0, 20.0),
        (b, 20.0),
        (b, 11.5),
        (a, 11.5),
        (a, 20.0),
        (0.0, 20.0),
    ]
    .map(|(x, y)| dvec2(x, y))
    .to_vec()
}

/// How much of a neck 3 wide a disc of radius 2 covers from one end: a segment of it.
fn dips_in() -> f64 {
    let half = 0.75_f64.asin();
    4.0 * (half - half.sin() * half.cos())
}

#[test]
fn a_neck_is_entered_from_either_end_as_far_as_its_corners_let_a_disc() {
    let unreached = unreached(&[dumbbell(10.0)], 2.0);
    let neck = 30.0 - 2.0 * dips_in();
    assert_close(unreached.area, neck + 8.0 * corner(FRAC_PI_2, 2.0));
    assert_close(unreached.spots[0].area, neck);
    assert_eq!(unreached.spots[0].sides, 2);
    assert!((unreached.spots[0].at.y - 10.0).abs() < 1e-6, "in the middle of the neck");
}

#[test]
fn what_two_discs_cover_in_a_short_neck_counts_once() {
    for length in [0.05, 0.4, 1.0, 1.3] {
        // The discs' middles are so far from the ends, and from each other.
        let out = (4.0_f64 - 2.25).sqrt();
        let apart = 0.5 * length + out;
        // Two circular segments back to back.
        let lens = if apart < 2.0 {
            let half = (0.5 * apart).acos();
            8.0 * (half - half.sin() * half.cos())
        } else {
            0.0
        };
        let neck = 3.0 * length - 2.0 * dips_in() + lens;
        assert_close(unreached(&[dumbbell(length)], 2.0).area, neck + 8.0 * corner(FRAC_PI_2, 2.0));
    }
}

#[test]
fn the_space_round_an_l_keeps_its_inner_corner() {
    let l = [(0.0, 0.0), (40.0, 0.0), (40.0, 10.0), (10.0, 10.0), (10.0, 40.0), (0.0, 40.0)];
    let unreached = widths(&[l.map(|(x, y)| dvec2(x, y)).to_vec()]).outside.unreached(5.0);
    assert_eq!(unreached.spots.len(), 1);
    assert_close(unreached.area, corner(FRAC_PI_2, 5.0));
    assert!(unreached.spots[0].at.distance(dvec2(10.0, 10.0)) < 1e-6);
}

#[test]
fn a_polygon_just_larger_than_the_cutter_is_cut_to_its_own_circle() {
    // Every side stops the disc near the middle; all those discs overlap.
    for (count, radius) in [(5, 0.999), (90, 0.999_999), (300, 0.9)] {
        let ring = regular(count, 1.0 / (PI / count as f64).cos(), DVec2::ZERO);
        let angle = PI - TAU / count as f64;
        assert_close(unreached(&[ring], radius).area, count as f64 * corner(angle, radius));
    }
}

#[test]
fn what_is_no_radius_leaves_nothing() {
    let map = widths(&[rectangle(DVec2::ZERO, DVec2::ONE)]).inside;
    for radius in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(map.unreached(radius), Unreached::default());
    }
    assert_close(map.unreached(1.0).area, 1.0);
}

/// Millionths of a millimetre.
#[derive(Clone, Copy, Debug, Default, Hash, PartialEq)]
struct Fine;

impl PointScaler for Fine {
    const MULTIPLIER: f64 = 1e6;
}

/// So many corners has a disc for the library.
const DISC: usize = 48;

/// What a disc leaves of a region, by Minkowski sums of its rings with a polygon as large as the disc.
fn by_offsets(region: &Region, radius: f64) -> f64 {
    let turn = TAU / DISC as f64;
    let disc: Path<Fine> = regular(DISC, radius * (turn / turn.sin()).sqrt(), DVec2::ZERO)
        .iter()
        .map(|p| (p.x, p.y))
        .collect::<Vec<_>>()
        .into();
    let rim = |paths: &Paths<Fine>| {
        // The sum sweeps the disc's edge alone, so a ring smaller than the disc needs a whole one besides.
        let swept = paths.iter().flat_map(|path| {
            let start = path.iter().next().map(|start| disc.translate(start.x(), start.y()));
            let swept: Vec<Path<Fine>> =
                minkowski_sum(disc.clone(), path.clone(), true).iter().cloned().chain(start).collect();
            swept
        });
        union(Paths::new(swept.collect()), Paths::<Fine>::default(), Rule::NonZero).unwrap()
    };
    let rings =
        |ring: Ring<'_>| -> Path<Fine> { ring.points().map(|p| (p.x, p.y)).collect::<Vec<_>>().into() };
    let place: Paths<Fine> = Paths::new(region.rings().map(rings).collect());
    let middles = difference(place.clone(), rim(&place), Rule::NonZero).unwrap();
    if middles.is_empty() {
        return region.area();
    }
    let cut = union(middles.clone(), rim(&middles), Rule::NonZero).unwrap();
    difference(place, cut, Rule::NonZero).unwrap().signed_area().abs()
}

/// The polygon lies within so much of the disc, of its radius, along all of the outline at worst; twice, for
/// the disc is taken off and put on.
fn check_by_offsets(region: &Region, radius: f64) -> Result<(), TestCaseError> {
    let perimeter: f64 = region.rings().flat_map(Ring::segments).map(|[a, b]| a.distance(b)).sum();
    let off = 1.0 - (PI / DISC as f64).cos();
    let tolerance = off * radius * perimeter;
    let inside = measure(region).inside;
    // Where a disc of this radius just enters a place, the polygon may enter it or not: it is as large as a
    // disc somewhat smaller or larger.
    let [less, more] = [1.0 - off, 1.0 + off].map(|share| inside.unreached(share * radius).area);
    let theirs = by_offsets(region, radius);
    prop_assert!(
        theirs > less - tolerance && theirs < more + tolerance,
        "{theirs} not from {less} to {more} within {tolerance}"
    );
    Ok(())
}

/// Overlapping bars, some turned.
fn bars() -> impl Strategy<Value = Region> {
    let bar = (-20.0..20.0_f64, -20.0..20.0_f64, 4.0..30.0_f64, 1.0..12.0_f64, 0..8_i32).prop_map(
        |(x, y, length, width, eighths)| {
            let turn = DVec2::from_angle(f64::from(eighths) * PI / 8.0);
            let half = 0.5 * dvec2(length, width);
            rectangle(-half, half).iter().map(|&p| dvec2(x, y) + turn.rotate(p)).collect::<Vec<_>>()
        },
    );
    prop::collection::vec(bar, 1..7).prop_map(|rings| {
        let bounds = Rect::around(rings.iter().flatten().copied()).unwrap();
        Region::clean(Grid::covering(bounds), &rings, FillRule::NonZero)
    })
}

/// A lumpy outline with a lumpy hole.
fn lumps() -> impl Strategy<Value = Region> {
    let lump = |low: f64, high: f64| prop::collection::vec(low..high, 5..40);
    (lump(12.0, 25.0), lump(2.0, 10.0)).prop_map(|(outer, inner)| {
        let ring = |radii: &[f64]| {
            let place =
                |(i, radius): (usize, &f64)| DVec2::from_angle(TAU * i as f64 / radii.len() as f64) * *radius;
            radii.iter().enumerate().map(place).collect::<Vec<_>>()
        };
        region(&[ring(&outer), ring(&inner)])
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn a_general_librarys_offsets_leave_as_much(place in prop_oneof![bars(), lumps()], radius in 0.3..5.0_f64) {
        check_by_offsets(&place, radius)?;
    }

    #[test]
    fn a_larger_cutter_leaves_more_and_never_more_than_there_is(
        place in prop_oneof![bars(), lumps()], radius in 0.1..8.0_f64, more in 1.01..1.5_f64,
    ) {
        let map = measure(&place).inside;
        let (small, large) = (map.unreached(radius), map.unreached(radius * more));
        prop_assert!(small.area <= large.area + 1e-5 && large.area <= place.area() * (1.0 + 1e-6));
        let sum: f64 = large.spots.iter().map(|spot| spot.area).sum();
        prop_assert!((sum - large.area).abs() < 1e-9);
    }
}
