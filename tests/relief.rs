//! The carved surface: closed forms first, then a slow obvious way, then what must always hold.

#![expect(clippy::cast_sign_loss, reason = "what is cast is not negative")]

use crate::support::{change_clearing, change_cutter, job, proof_of, rectangle};
use glam::{DVec2, DVec3, dvec2, dvec3};
use proptest::prelude::*;
use spelk::geometry::{Lattice, Rect};
use spelk::job::sample::sample_job;
use spelk::job::{Clearing, ClearingDirection, Edit, Ends, Job, Place, Treatment, saved};
use spelk::proof::{Measured, measure};
use spelk::relief::field::{Progress, carve, carve_on, ideal};
use spelk::relief::shade::{Camera, Glow, Look, shaded};
use spelk::relief::time::{Clock, Doing, fitted_factor};
use spelk::relief::{HeightField, NEVER, PathKind, PathLine, Plan, Profile, mesh, plan, section, time};
use spelk::shop::{Cutter, CutterShape, Machine};
use spelk::units::Mm;
use spelk::words::duration;
use std::f64::consts::{PI, TAU};
use std::sync::atomic::AtomicBool;

fn mm(length: f64) -> Mm {
    Mm::new(length)
}

fn flat(diameter: f64) -> Cutter {
    with_shape(CutterShape::Flat { diameter: mm(diameter) })
}

fn ball(diameter: f64) -> Cutter {
    with_shape(CutterShape::Ball { diameter: mm(diameter) })
}

/// Pointed to nothing, as the formulas are.
fn vee(degrees: f64) -> Cutter {
    with_shape(CutterShape::Vee { angle: degrees.to_radians(), tip: Mm::ZERO, diameter: mm(40.0) })
}

fn tapered() -> Cutter {
    with_shape(CutterShape::TaperedBall { ball: mm(1.5), lean: 0.12, diameter: mm(6.0) })
}

fn with_shape(shape: CutterShape) -> Cutter {
    Cutter {
        shape,
        pass_depth: mm(50.0),
        flute_length: mm(50.0),
        ..Cutter::find("flat-1/8in").unwrap().clone()
    }
}

fn measured(job: &Job) -> Measured {
    measure(job)
}

fn planned(job: &Job) -> Plan {
    plan(job, &measured(job), &NEVER).unwrap()
}

fn carved(job: &Job, area: Rect, pitch: f64) -> HeightField {
    let mut field = HeightField::blank(area, mm(pitch), job.board().thickness);
    assert!(carve(&mut field, &planned(job), &NEVER), "nothing calls it off");
    field
}

/// The box of the design on the board, grown a little.
fn around(job: &Job, margin: f64) -> Rect {
    let proof = proof_of(job);
    let corners = job.design().outline_box().corners().map(|p| proof.board_from_design.transform_point2(p));
    Rect::around(corners).unwrap().grown(margin)
}

fn lowest_point(plan: &Plan) -> f64 {
    plan.lines.iter().flat_map(|line| &line.points).map(|p| p.z).fold(0.0, f64::min)
}

fn close(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found}, not {expected} within {tolerance}");
}

/// One line of a plan for one cutter.
fn one_line(cutter: &Cutter, points: &[DVec3]) -> Plan {
    let line = PathLine {
        place: Place::Ground,
        cutter: 0,
        kind: PathKind::Outline,
        last: true,
        points: points.to_vec(),
    };
    Plan { cutters: vec![cutter.clone()], lines: vec![line] }
}

// ---- closed forms ----

/// V depth `w / (2 tan(a / 2))`, from the formula: 60, 90 and 120 degrees for 1/4 in; 30, 60 and 90 for 3 mm;
/// and 1.5 mm at half size.
#[test]
fn a_v_groove_is_as_deep_as_its_width_and_angle_ask() {
    let table = [
        (25.4 * 0.25, 60.0, 25.4 * 0.21651),
        (25.4 * 0.25, 90.0, 25.4 * 0.12500),
        (25.4 * 0.25, 120.0, 25.4 * 0.07217),
        (3.0, 30.0, 5.598),
        (3.0, 60.0, 2.598),
        (3.0, 90.0, 1.500),
        (1.5, 90.0, 0.750),
    ];
    for (width, degrees, depth) in table {
        let mut job = job(Treatment::Incised, &[("line", vec![rectangle(0.0, 0.0, 30.0, width)])]);
        job.apply(Edit::Cutter(Box::new(vee(degrees)))).unwrap();
        job.apply(Edit::Depth(mm(12.0))).unwrap();
        close(-lowest_point(&planned(&job)), depth, 0.0005);
        let area = Rect::new(dvec2(-1.0, -1.0), dvec2(1.0, 1.0));
        let middle = around(&job, 0.0).center();
        let area = Rect::new(area.min + middle, area.max + middle);
        // The middle line lies between two cells: half a cell up the side.
        let pitch = 0.02;
        let slope = 1.0 / (degrees.to_radians() / 2.0).tan();
        close(f64::from(-carved(&job, area, pitch).lowest()), depth, 0.51 * pitch * slope + 0.0005);
        let blank = HeightField::blank(area.grown(width), mm(pitch), job.board().thickness);
        let quick = ideal(&job, &measured(&job), blank, &NEVER).unwrap();
        close(f64::from(-quick.lowest()), depth, 1.5 * pitch * slope);
    }
}

/// The depth setting caps a V, and what is wider gets a flat floor.
#[test]
fn a_v_wider_than_its_depth_allows_has_a_flat_floor() {
    let mut job = job(Treatment::Incised, &[("field", vec![rectangle(0.0, 0.0, 40.0, 20.0)])]);
    job.apply(Edit::Cutter(Box::new(vee(90.0)))).unwrap();
    change_cutter(&mut job, |cutter| cutter.stepover = 0.01);
    job.apply(Edit::Depth(mm(3.0))).unwrap();
    let field = carved(&job, around(&job, 1.0), 0.1);
    // The middle of a cell lies up to half a cell up the side.
    close(f64::from(field.lowest()), -3.0, 0.0501);
    let corner = around(&job, 0.0).min;
    // 45 degrees down from every edge, then level but for the ridges of 0.2 mm between points 0.4 mm apart.
    close(field.height_at(corner + dvec2(20.0, 1.05)), -1.05, 0.01);
    close(field.height_at(corner + dvec2(2.05, 10.0)), -2.05, 0.01);
    let middle = field.height_at(corner + dvec2(20.0, 10.0));
    assert!((-3.001..=-2.79).contains(&middle), "{middle}");
}

/// Ball scallop `R - sqrt(R^2 - (s / 2)^2)`: D 6 mm, s 0.5 mm gives 0.010435 mm (formula).
#[test]
fn a_ball_leaves_scallops_of_the_right_height() {
    // 20 mm of cutter middles: forty lines 0.5 mm apart.
    let mut job = job(Treatment::Sunk, &[("panel", vec![rectangle(0.0, 0.0, 46.0, 26.0)])]);
    job.apply(Edit::Cutter(Box::new(ball(6.0)))).unwrap();
    change_cutter(&mut job, |cutter| cutter.stepover = 0.5 / 6.0);
    job.apply(Edit::Depth(mm(5.0))).unwrap();
    let middle = around(&job, 0.0).center();
    let field = carved(&job, Rect::new(middle - dvec2(0.02, 1.0), middle + dvec2(0.02, 1.0)), 0.001);
    close(f64::from(field.lowest()), -5.0, 1e-6);
    let highest = field.heights.iter().copied().fold(f32::NEG_INFINITY, f32::max);
    close(f64::from(highest) + 5.0, 0.010_435, 5e-5);
}

/// What a round cutter leaves in a square corner: `R^2 (1 - pi / 4)`, so 0.2146 R^2 (formula); and with
/// it the volume of a flat pocket.
#[test]
fn a_flat_pocket_has_the_right_volume_and_round_corners() {
    for treatment in [Treatment::Sunk, Treatment::Pierced] {
        let mut job = job(treatment, &[("pocket", vec![rectangle(0.0, 0.0, 20.0, 20.0)])]);
        job.apply(Edit::Cutter(Box::new(flat(6.0)))).unwrap();
        job.apply(Edit::Depth(mm(4.0))).unwrap();
        change_clearing(&mut job, |clearing| clearing.bridge.length = Mm::ZERO);
        let field = carved(&job, around(&job, 1.0), 0.05);
        let corners = 4.0 * (1.0 - PI / 4.0) * 9.0;
        if treatment == Treatment::Sunk {
            close(field.volume_removed(), (400.0 - corners) * 4.0, 1.5);
            let corner = around(&job, 0.0).min;
            // On the diagonal the arc passes at R (sqrt 2 - 1) from the corner.
            let off = 3.0 * (2.0_f64.sqrt() - 1.0) / 2.0_f64.sqrt();
            close(field.height_at(corner + DVec2::splat(off + 0.06)), -4.0, 1e-6);
            close(field.height_at(corner + DVec2::splat(off - 0.06)), 0.0, 1e-6);
        } else {
            // A slot a cutter wide all round; the middle is loose.
            let slot = 400.0 - corners - 64.0;
            close(field.volume_removed(), slot * job.board().thickness.get(), 8.0);
        }
    }
}

#[test]
fn a_plunge_leaves_a_cone_or_half_a_ball() {
    let pit = |cutter: &Cutter, depth: f64| {
        let mut field =
            HeightField::blank(Rect::new(DVec2::splat(-5.0), DVec2::splat(5.0)), mm(0.02), mm(20.0));
        carve(&mut field, &one_line(cutter, &[dvec3(0.003, 0.004, -depth)]), &NEVER);
        field.volume_removed()
    };
    for degrees in [60.0_f64, 90.0] {
        let radius = 2.5 * (degrees.to_radians() / 2.0).tan();
        close(pit(&vee(degrees), 2.5), PI * radius * radius * 2.5 / 3.0, 0.01);
    }
    close(pit(&ball(6.0), 3.0), 2.0 / 3.0 * PI * 27.0, 0.02);
    close(pit(&flat(6.0), 3.0), PI * 27.0, 0.1);
}

/// A disc incised with a V is a cone, quick or by its path.
#[test]
fn an_incised_disc_is_a_cone() {
    let disc: Vec<DVec2> = (0..360).map(|i| DVec2::from_angle(TAU * f64::from(i) / 360.0) * 4.0).collect();
    let mut job = job(Treatment::Incised, &[("disc", vec![disc])]);
    job.apply(Edit::Cutter(Box::new(vee(90.0)))).unwrap();
    job.apply(Edit::Depth(mm(10.0))).unwrap();
    let exact = PI * 16.0 * 4.0 / 3.0;
    let area = around(&job, 0.5);
    close(carved(&job, area, 0.05).volume_removed(), exact, 0.005 * exact);
    let blank = HeightField::blank(area, mm(0.02), job.board().thickness);
    close(ideal(&job, &measured(&job), blank, &NEVER).unwrap().volume_removed(), exact, 0.01 * exact);
}

// ---- convergence, and the slow obvious way ----

#[test]
fn a_finer_pitch_comes_nearer_to_the_exact_volume() {
    let disc: Vec<DVec2> = (0..720).map(|i| DVec2::from_angle(TAU * f64::from(i) / 720.0) * 9.0).collect();
    let mut job = job(Treatment::Sunk, &[("dish", vec![disc])]);
    job.apply(Edit::Cutter(Box::new(flat(4.0)))).unwrap();
    job.apply(Edit::Depth(mm(2.0))).unwrap();
    let exact = PI * 81.0 * 2.0;
    let area = around(&job, 0.7);
    for pitch in [1.6, 0.8, 0.4, 0.2, 0.1, 0.05] {
        // Each cell on the edge is wrong by half of itself at most, and by chance as often too much as too little.
        let bound = 0.25 * pitch * TAU * 9.0 * 2.0;
        close(carved(&job, area, pitch).volume_removed(), exact, bound);
    }
}

/// The least over many places of a cutter along a stretch.
fn by_many_steps(profile: &Profile, [a, b]: [DVec3; 2], point: DVec2) -> f64 {
    (0..=4000)
        .map(|i| {
            let at = a.lerp(b, f64::from(i) / 4000.0);
            at.z + profile.height(at.truncate().distance(point))
        })
        .fold(0.0, f64::min)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn a_sweep_is_what_many_steps_of_the_cutter_leave(
        shape in 0..5_usize,
        from in (-4.0..4.0, -4.0..4.0, -6.0..-0.5),
        to in (-4.0..4.0, -4.0..4.0, -6.0..-0.5),
    ) {
        let blunt = CutterShape::Vee { angle: 1.2, tip: mm(0.8), diameter: mm(7.0) };
        let cutter = [flat(3.0), ball(4.0), vee(60.0), with_shape(blunt), tapered()][shape].clone();
        let [a, b] = [from, to].map(|(x, y, z)| dvec3(x, y, z));
        let area = Rect::new(DVec2::splat(-9.0), DVec2::splat(9.0));
        let mut field = HeightField::blank(area, mm(0.75), mm(30.0));
        carve(&mut field, &one_line(&cutter, &[a, b]), &NEVER);
        let profile = Profile::of(cutter.shape);
        // Between two of the many steps the cutter moves by so much; upright rims are met or missed by it.
        let step = a.distance(b) / 4000.0;
        for row in 0..field.lattice.rows {
            for column in 0..field.lattice.columns {
                let point = field.lattice.middle(column, row);
                let found = f64::from(field.heights[row * field.lattice.columns + column]);
                let slow = by_many_steps(&profile, [a, b], point);
                let way = (b - a).truncate();
                let share = ((point - a.truncate()).dot(way) / way.length_squared()).clamp(0.0, 1.0);
                let off = point.distance(a.truncate() + way * share);
                let at_rim = (off - cutter.shape.diameter().get() / 2.0).abs() < 0.02;
                prop_assert!(found <= slow + 1e-4 || at_rim, "{point}: {found} over {slow}");
                prop_assert!(found >= slow - 0.05 - 10.0 * step || at_rim, "{point}: {found} under {slow}");
            }
        }
    }

    #[test]
    fn carving_never_raises_the_surface(
        lines in prop::collection::vec(
            (0..4_usize, prop::collection::vec((0.0..30.0, 0.0..20.0, -8.0..0.5), 1..6)), 1..8),
        stops in prop::collection::vec((0..8_usize, 0..6_usize, 0.0..1.0), 0..4),
    ) {
        let cutters = vec![flat(3.0), ball(4.0), vee(60.0), tapered()];
        let lines: Vec<PathLine> = lines
            .into_iter()
            .map(|(cutter, points)| PathLine {
                place: Place::Ground,
                cutter: cutter as u32,
                kind: PathKind::Outline,
                last: true,
                points: points.into_iter().map(|(x, y, z)| dvec3(x, y, z)).collect(),
            })
            .collect();
        let plan = Plan { cutters, lines };
        let blank = || HeightField::blank(Rect::new(DVec2::ZERO, dvec2(30.0, 20.0)), mm(0.5), mm(6.0));
        let mut whole = blank();
        carve(&mut whole, &plan, &NEVER);
        // The same little by little.
        let mut stops: Vec<Progress> = stops
            .into_iter()
            .map(|(lines, stretches, share)| Progress { lines, stretches, share })
            .filter(|stop| {
                plan.lines.get(stop.lines).is_some_and(|line| stop.stretches < line.points.len().max(2) - 1)
            })
            .collect();
        stops.push(Progress { lines: plan.lines.len(), stretches: 0, share: 0.0 });
        stops.sort_by(|a, b| a.partial_cmp(b).unwrap());
        let (mut field, mut from) = (blank(), Progress::default());
        for to in stops {
            let before = field.clone();
            carve_on(&mut field, &plan, from, to, &NEVER);
            from = to;
            prop_assert!(field.heights.iter().zip(&before.heights).all(|(now, before)| now <= before));
        }
        for (little, whole) in field.heights.iter().zip(&whole.heights) {
            prop_assert!((little - whole).abs() < 1e-4, "{} {}", little, whole);
            prop_assert!((-6.0..=0.0).contains(whole));
        }
    }

    #[test]
    fn no_cutter_leaves_its_place(
        radii in prop::collection::vec(4.0..20.0, 3..14),
        cutter in 0..4_usize,
        across in any::<bool>(),
        treatment in prop::sample::select(vec![Treatment::Sunk, Treatment::Incised, Treatment::Pierced]),
    ) {
        let count = radii.len() as f64;
        let star: Vec<DVec2> = radii
            .iter()
            .enumerate()
            .map(|(i, radius)| DVec2::from_angle(TAU * i as f64 / count) * *radius)
            .collect();
        let mut job = job(treatment, &[("star", vec![star])]);
        job.apply(Edit::Cutter(Box::new([flat(3.0), ball(3.0), vee(60.0), tapered()][cutter].clone()))).unwrap();
        change_cutter(&mut job, |cutter| cutter.pass_depth = mm(1.1));
        if across {
            change_clearing(&mut job, |clearing| clearing.direction = ClearingDirection::Across);
        }
        let field = carved(&job, around(&job, 5.0), 0.25);
        let inverse = proof_of(&job).board_from_design.inverse();
        let region = &job.design().elements[0].region;
        let segments: Vec<[DVec2; 2]> = region.rings().flat_map(spelk::geometry::Ring::segments).collect();
        let outside = |p: DVec2| {
            let far = segments.iter().map(|&[a, b]| {
                let way = b - a;
                p.distance(a + way * ((p - a).dot(way) / way.length_squared()).clamp(0.0, 1.0))
            });
            !region.contains(p) && far.fold(f64::INFINITY, f64::min) > 0.004
        };
        for (index, &height) in field.heights.iter().enumerate() {
            let place = field.lattice.middle(index % field.lattice.columns, index / field.lattice.columns);
            let deepest = if outside(inverse.transform_point2(place)) { 0.0 } else { 100.0 };
            prop_assert!(f64::from(-height) <= deepest + 0.02, "{place}: {height}");
        }
    }
}

#[test]
fn the_same_bytes_come_out_on_any_number_of_threads() {
    let job = sample("gate-sign");
    let run = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| {
            let measured = measured(&job);
            let plan = plan(&job, &measured, &NEVER).unwrap();
            let mut field = HeightField::of_board(&job, mm(0.8));
            carve(&mut field, &plan, &NEVER);
            let quick = ideal(&job, &measured, HeightField::of_board(&job, mm(0.8)), &NEVER).unwrap();
            let camera = Camera::over(&field, 0.3, 0.8);
            let pixels = shaded(&job, &field, &camera, &Look::default(), &[], [160, 100], &NEVER).unwrap();
            (plan, field, quick, pixels)
        })
    };
    assert!(run(1) == run(3));
}

fn sample(id: &str) -> Job {
    let mut job = sample_job(spelk::design::samples::find(id).unwrap()).unwrap();
    job.apply(Edit::Size(spelk::job::Size::Fit)).unwrap();
    job
}

#[test]
fn every_sample_can_be_carved_and_timed() {
    for sample in spelk::design::samples::samples() {
        let job = sample_job(sample).unwrap();
        let measured = measured(&job);
        let plan = plan(&job, &measured, &NEVER).unwrap();
        let time = time::of(&job, &measured);
        assert!(!plan.lines.is_empty() && time.total > 10.0 && time.total.is_finite(), "{}", sample.id);
        let by_element: f64 = time.elements.iter().map(|one| one.seconds).sum();
        let by_cutter: f64 = time.cutters.iter().map(|one| one.seconds).sum();
        close(by_element, time.total - time.changing, 1e-6 * time.total);
        close(by_cutter, time.total - time.changing, 1e-6 * time.total);
        // What the true cutter leaves is nowhere lower than the drawing asks, a cell's width aside.
        let mut field = HeightField::of_board(&job, mm(1.0));
        carve(&mut field, &plan, &NEVER);
        let quick = ideal(&job, &measured, HeightField::of_board(&job, mm(1.0)), &NEVER).unwrap();
        assert!(field.volume_removed() <= 1.03 * quick.volume_removed(), "{}", sample.id);
        assert!(field.volume_removed() >= 0.5 * quick.volume_removed(), "{}", sample.id);
    }
}

// ---- cutters one after the other, bridges, snipe ----

#[test]
fn a_small_cutter_goes_only_where_the_large_one_could_not() {
    let mut job = job(Treatment::Sunk, &[("panel", vec![rectangle(0.0, 0.0, 60.0, 40.0)])]);
    job.apply(Edit::Cutter(Box::new(flat(2.0)))).unwrap();
    job.apply(Edit::Depth(mm(2.0))).unwrap();
    let area = around(&job, 1.0);
    let alone = carved(&job, area, 0.1).volume_removed();
    let time_alone = time::of(&job, &measured(&job));
    change_clearing(&mut job, |clearing| clearing.cutter = Some(flat(8.0)));
    let plan = planned(&job);
    assert_eq!(plan.cutters.len(), 2);
    // Four corners are left, each within the large cutter's radius.
    let corners = around(&job, 0.0).corners();
    for point in plan.lines.iter().filter(|line| line.cutter == 1).flat_map(|line| &line.points) {
        assert!(corners.iter().any(|corner| corner.distance(point.truncate()) < 8.0), "{point}");
    }
    close(carved(&job, area, 0.1).volume_removed(), alone, 0.002 * alone);
    let time = time::of(&job, &measured(&job));
    assert_eq!((time.changes, time.cutters.len()), (1, 2));
    assert!(time.cutting < 0.6 * time_alone.cutting, "{} {}", time.cutting, time_alone.cutting);
}

#[test]
fn bridges_hold_what_is_cut_out() {
    let mut job = job(Treatment::Pierced, &[("window", vec![rectangle(0.0, 0.0, 60.0, 40.0)])]);
    job.apply(Edit::Cutter(Box::new(flat(3.0)))).unwrap();
    change_cutter(&mut job, |cutter| cutter.pass_depth = mm(3.0));
    let area = around(&job, 1.0);
    let bridge = job.clearing().bridge;
    let with = carved(&job, area, 0.1).volume_removed();
    change_clearing(&mut job, |clearing| clearing.bridge.length = Mm::ZERO);
    let without = carved(&job, area, 0.1).volume_removed();
    // Three along 188 mm of path, each its length and what is left of a round slot's ends: between the
    // length and a cutter more.
    let each = (without - with) / 3.0;
    let least = bridge.length.get() * bridge.height.get() * 3.0;
    assert!(each >= 0.98 * least && each <= 1.5 * least, "{each} {least}");
}

#[test]
fn a_snipe_zone_is_carved_deeper_by_the_step() {
    let mut job = job(Treatment::Sunk, &[("panel", vec![rectangle(0.0, 0.0, 500.0, 40.0)])]);
    job.apply(Edit::Ends(Ends::Free)).unwrap();
    let proof = proof_of(&job);
    let mut field = HeightField::of_board(&job, mm(1.0));
    carve(&mut field, &planned(&job), &NEVER);
    let held = field.clone();
    field.snipe(&proof);
    let step = proof.feeding.step.height().get();
    assert!(step > 0.1 && proof.feeding.snipe_zones.len() == 2);
    let middle = job.board().width.get() / 2.0;
    let lowered = |x: f64, y: f64| held.height_at(dvec2(x, y)) - field.height_at(dvec2(x, y));
    close(lowered(70.0, middle), step, 1e-5);
    close(lowered(300.0, middle), 0.0, 1e-9);
    close(lowered(70.0, 2.0), 0.0, 1e-9);
}

// ---- time ----

fn machine() -> Machine {
    Machine { acceleration: 300.0, ..Machine::find("compact").unwrap().clone() }
}

fn timed(points: &[DVec3]) -> (Job, Clock) {
    let mut job = job(Treatment::Sunk, &[("panel", vec![rectangle(0.0, 0.0, 60.0, 40.0)])]);
    job.apply(Edit::Machine(Box::new(machine()))).unwrap();
    let clock = Clock::new(&job, &one_line(job.cutter(), points));
    (job, clock)
}

/// By hand, with 1500 mm a minute (25 mm/s) and 300 mm/s2: `L / v + v / a`; too short to reach the feed,
/// `2 sqrt(L / a)`.
#[test]
fn a_straight_line_and_a_square_take_what_they_take_by_hand() {
    let cutting = |points: &[DVec3]| {
        let (job, clock) = timed(points);
        clock.time(&job).cutting
    };
    let ramp = 25.0 / 300.0;
    close(cutting(&[dvec3(10.0, 10.0, -1.0), dvec3(110.0, 10.0, -1.0)]), 4.0 + ramp, 1e-9);
    close(cutting(&[dvec3(10.0, 10.0, -1.0), dvec3(10.5, 10.0, -1.0)]), 2.0 * (0.5_f64 / 300.0).sqrt(), 1e-9);
    // In two halves it is the same line.
    let halves = [dvec3(10.0, 10.0, -1.0), dvec3(60.0, 10.0, -1.0), dvec3(110.0, 10.0, -1.0)];
    close(cutting(&halves), 4.0 + ramp, 1e-9);
    // It stops in each corner of a square.
    let square = [(0.0, 0.0), (50.0, 0.0), (50.0, 50.0), (0.0, 50.0), (0.0, 0.0)];
    let square: Vec<DVec3> = square.iter().map(|&(x, y)| dvec3(x, y, -1.0)).collect();
    close(cutting(&square), 4.0 * (2.0 + ramp), 1e-9);
}

/// A circle of 1 mm cannot be gone round faster than `sqrt(a r)`, 17.3 mm/s; one of 20 mm at the full feed.
#[test]
fn a_tight_curve_is_taken_slowly() {
    let circle = |radius: f64| -> Vec<DVec3> {
        (0..=720)
            .map(|i| (DVec2::from_angle(TAU * f64::from(i) / 72.0) * radius + 30.0).extend(-1.0))
            .collect()
    };
    let round = |radius: f64| {
        let (job, clock) = timed(&circle(radius));
        clock.time(&job).cutting
    };
    let ten_rounds = 10.0 * TAU;
    close(round(1.0), ten_rounds / 300.0_f64.sqrt(), 0.02 * round(1.0));
    close(round(20.0), 20.0 * ten_rounds / 25.0, 0.02 * round(20.0));
}

#[test]
fn the_clock_runs_from_start_to_end() {
    let mut job = job(Treatment::Sunk, &[("panel", vec![rectangle(0.0, 0.0, 30.0, 20.0)])]);
    change_clearing(&mut job, |clearing| clearing.cutter = Some(flat(8.0)));
    job.apply(Edit::Cutter(Box::new(flat(2.0)))).unwrap();
    job.apply(Edit::TimeFactor(1.3)).unwrap();
    let plan = planned(&job);
    let clock = Clock::new(&job, &plan);
    let time = clock.time(&job);
    close(clock.total(), time.total, 1e-6);
    assert_eq!(Clock::new(&job, &Plan { cutters: vec![], lines: vec![] }).at(3.0), None);
    let (mut before, mut at) = (Progress::default(), clock.at(0.0).unwrap().at);
    let mut changing = 0.0;
    let step = 0.05;
    for i in 0..=(time.total / step) as u32 {
        let moment = clock.at(f64::from(i) * step).unwrap();
        assert!(moment.progress >= before, "{moment:?} after {before:?}");
        // No faster than the machine goes: 4000 mm a minute along and across at once.
        assert!(moment.at.distance(at) <= step * 100.0 / 1.3 + 1e-9, "{moment:?} after {at}");
        changing += if moment.doing == Doing::Changing { step } else { 0.0 };
        (before, at) = (moment.progress, moment.at);
    }
    close(changing, job.machine().cutter_change, 2.0 * step);
    let end = clock.at(time.total + 1.0).unwrap();
    assert_eq!(end.doing, Doing::Done);
    assert_eq!(end.progress.lines, plan.lines.len());
    // Played to the end it is the carved surface.
    let blank = HeightField::blank(around(&job, 1.0), mm(0.3), job.board().thickness);
    let (mut played, mut whole) = (blank.clone(), blank);
    carve_on(&mut played, &plan, Progress::default(), end.progress, &NEVER);
    carve(&mut whole, &plan, &NEVER);
    assert!(played == whole);
}

#[test]
fn a_job_that_was_timed_sets_the_machine_right() {
    let mut job = job(Treatment::Sunk, &[("panel", vec![rectangle(0.0, 0.0, 60.0, 40.0)])]);
    let time = time::of(&job, &measured(&job));
    let real = 1.37 * time.total;
    job.apply(Edit::TimeFactor(fitted_factor(&time, real).unwrap())).unwrap();
    let corrected = time::of(&job, &measured(&job));
    close(corrected.total, real, 1e-6 * real);
    close(fitted_factor(&corrected, real).unwrap(), 1.37, 1e-9);
    assert_eq!(fitted_factor(&time, 100.0 * time.total), None);
    assert_eq!(fitted_factor(&time, f64::NAN), None);
    assert_eq!((duration(48.2), duration(720.0)), ("48 s".to_owned(), "12 min".to_owned()));
    assert_eq!(duration(3_900.0), "1 h 05 min");
}

// ---- section, mesh, picture ----

#[test]
fn a_section_shows_walls_and_grooves_at_their_sizes() {
    let strips = vec![rectangle(0.0, 0.0, 60.0, 10.0), rectangle(0.0, 14.0, 60.0, 8.0)];
    let mut job = job(Treatment::Sunk, &[("strips", strips)]);
    job.apply(Edit::Cutter(Box::new(flat(3.0)))).unwrap();
    job.apply(Edit::Depth(mm(2.5))).unwrap();
    let plan = planned(&job);
    let corner = around(&job, 0.0).min;
    let field = carved(&job, around(&job, 4.0), 0.05);
    let (from, to) = (corner + dvec2(20.3, -3.0), corner + dvec2(20.3, 25.0));
    let cut = section::section(&field, Some(&plan), from, to);
    let [lower, upper] = cut.grooves.as_slice() else { panic!("two grooves: {:?}", cut.grooves) };
    close(lower.width(), 10.0, 0.1);
    close(upper.width(), 8.0, 0.1);
    close(lower.depth, 2.5, 1e-6);
    let [wall] = cut.walls.as_slice() else { panic!("one wall: {:?}", cut.walls) };
    close(wall.width(), 4.0, 0.1);
    close(wall.from, 13.0, 0.1);
    let (point, cutter) = lower.cutter.unwrap();
    assert_eq!(cutter, 0);
    close(point.y, -2.5, 1e-9);
    let outline = section::cutter_outline(&Profile::of(job.cutter().shape), point, 2.5);
    let span = Rect::around(outline).unwrap();
    close(span.size().x, 3.0, 1e-9);
    close(span.size().y, 2.5, 1e-9);
    // A line that ends in a groove says so.
    let open = section::section(&field, None, corner + dvec2(20.0, 5.0), to);
    assert!(open.grooves[0].open && open.grooves[0].cutter.is_none());
}

#[test]
fn an_stl_file_is_a_closed_body_of_the_right_volume() {
    let mut job = job(Treatment::Sunk, &[("panel", vec![rectangle(0.0, 0.0, 12.0, 8.0)])]);
    job.apply(Edit::Depth(mm(2.0))).unwrap();
    let field = carved(&job, around(&job, 2.0), 0.5);
    let mut bytes = Vec::new();
    mesh::write_stl(&field, &mut bytes).unwrap();
    let count = u32::from_le_bytes(bytes[80..84].try_into().unwrap()) as usize;
    assert_eq!(bytes.len(), 84 + 50 * count);
    let number = |at: usize| f32::from_le_bytes(bytes[at..at + 4].try_into().unwrap());
    let mut edges = std::collections::BTreeMap::new();
    let mut volume = 0.0;
    for triangle in 0..count {
        let corners: Vec<DVec3> = (1..4)
            .map(|corner| {
                let at = 84 + 50 * triangle + 12 * corner;
                dvec3(f64::from(number(at)), f64::from(number(at + 4)), f64::from(number(at + 8)))
            })
            .collect();
        volume += corners[0].dot(corners[1].cross(corners[2])) / 6.0;
        for i in 0..3 {
            let key = |p: DVec3| p.to_array().map(f64::to_bits);
            let (a, b) = (key(corners[i]), key(corners[(i + 1) % 3]));
            if a != b {
                *edges.entry((a.min(b), a.max(b))).or_insert(0) += if a < b { 1 } else { -1 };
            }
        }
    }
    assert!(edges.values().all(|&balance| balance == 0), "every edge is met from both sides");
    let size = field.lattice.area().size();
    let board = size.x * size.y * job.board().thickness.get();
    close(volume, board - field.volume_removed(), 0.01 * field.volume_removed() + 1.0);
    let drawn = mesh::mesh(&job, &field, 500);
    // Sides and underside have corners of their own.
    assert!(drawn.positions.len() < 500 * 6 && !drawn.triangles.is_empty());
    assert!(drawn.normals.len() == drawn.positions.len() && drawn.colors.len() == drawn.positions.len());
}

#[test]
fn the_picture_shows_what_was_carved_and_what_glows() {
    let mut job = job(Treatment::Sunk, &[("panel", vec![rectangle(0.0, 0.0, 60.0, 40.0)])]);
    job.apply(Edit::Depth(mm(4.0))).unwrap();
    let blank = HeightField::of_board(&job, mm(0.5));
    let mut field = blank.clone();
    carve(&mut field, &planned(&job), &NEVER);
    let camera = Camera::over(&field, 0.0, 1.0);
    let size = [320, 200];
    let draw = |field: &HeightField, glows: &[Glow]| {
        shaded(&job, field, &camera, &Look::default(), glows, size, &NEVER).unwrap()
    };
    let (plain, cut) = (draw(&blank, &[]), draw(&field, &[]));
    let differ = |a: &[u8], b: &[u8]| a.chunks(4).zip(b.chunks(4)).filter(|(a, b)| a != b).count();
    assert!(differ(&plain, &cut) > 100);
    assert!(plain.chunks(4).all(|pixel| pixel[3] == 255));
    let middle = field.lattice.area().center();
    let glow = Glow { axis: vec![[middle - 10.0, middle + 10.0]], reach: 4.0, color: [255, 0, 0] };
    let lit = draw(&field, std::slice::from_ref(&glow));
    let at = camera.on_screen(middle.extend(-4.0), size).unwrap();
    let index = (at.y as usize * size[0] as usize + at.x as usize) * 4;
    assert!(lit[index] > 200 && lit[index + 1] < 120, "{:?}", &lit[index..index + 4]);
    // A place and its ray agree.
    let (start, way) = camera.ray(at, size);
    let off = middle.extend(-4.0) - start;
    close(off.cross(way).length(), 0.0, 1e-6);
    let called_off = AtomicBool::new(true);
    assert_eq!(shaded(&job, &field, &camera, &Look::default(), &[], size, &called_off), None);
    assert_eq!(plan(&job, &measured(&job), &called_off), None);
    assert!(!carve(&mut field, &planned(&job), &called_off));
}

// ---- the ground, and saved jobs ----

/// Between two reliefs all is lowered, and beyond them as far as the margin.
#[test]
fn the_ground_reaches_its_margin_and_leaves_no_fins() {
    let blocks = vec![rectangle(0.0, 0.0, 20.0, 30.0), rectangle(60.0, 0.0, 20.0, 30.0)];
    let mut job = job(Treatment::Relief, &[("blocks", blocks)]);
    job.apply(Edit::Cutter(Box::new(flat(3.0)))).unwrap();
    job.apply(Edit::GroundMargin(Some(mm(8.0)))).unwrap();
    let field = carved(&job, around(&job, 12.0), 0.25);
    let corner = around(&job, 0.0).min;
    let at = |x: f64, y: f64| field.height_at(corner + dvec2(x, y));
    close(at(40.0, 15.0), -3.0, 1e-6);
    close(at(10.0, 15.0), 0.0, 1e-6);
    close(at(-7.5, 15.0), -3.0, 1e-6);
    close(at(-8.5, 15.0), 0.0, 1e-6);
    close(at(40.0, 37.5), -3.0, 1e-6);
}

/// A margin of one cutter, the starting one, is one pass round and no less.
#[test]
fn a_margin_of_one_cutter_is_cut_all_round() {
    let mut job = job(Treatment::Relief, &[("panel", vec![rectangle(0.0, 0.0, 60.0, 40.0)])]);
    let diameter = job.cutter().shape.diameter().get();
    let field = carved(&job, around(&job, 6.0), 0.1);
    // By Steiner's formula, but the inner corners are sharp and the outer ones round.
    let ring = 200.0 * diameter + PI * diameter * diameter;
    close(field.volume_removed(), 3.0 * ring, 0.03 * 3.0 * ring);
    change_cutter(&mut job, |cutter| cutter.pass_depth = mm(50.0));
    let plan = planned(&job);
    let length: f64 =
        plan.lines.iter().flat_map(|line| line.points.windows(2)).map(|pair| pair[0].distance(pair[1])).sum();
    close(length, 200.0 + PI * diameter, 8.0);
}

#[test]
fn jobs_saved_before_there_were_clearing_settings_still_open() {
    let mut job = job(Treatment::Sunk, &[("panel", vec![rectangle(0.0, 0.0, 60.0, 40.0)])]);
    let text = saved::to_text(&job);
    assert!(!text.contains("\"clearing\""));
    let older: String = text
        .lines()
        .filter(|line| !line.contains("time_factor") && !line.contains("cutter_change"))
        .collect();
    // The last field of the machine goes with its comma.
    let older = older.replace("300.0,  }", "300.0  }").replace("300.0,    }", "300.0    }");
    let opened = saved::from_text(older.as_bytes()).unwrap();
    assert!(opened.machine() == job.machine() && opened.clearing() == job.clearing());
    change_clearing(&mut job, |clearing| clearing.cutter = Some(flat(8.0)));
    change_clearing(&mut job, |clearing| clearing.stepover = Some(0.3));
    job.apply(Edit::TimeFactor(1.2)).unwrap();
    let opened = saved::from_text(saved::to_text(&job).as_bytes()).unwrap();
    assert!(opened.clearing() == job.clearing() && opened.machine() == job.machine());
    let stuck = Clearing { stepover: Some(0.0), ..job.clearing().clone() };
    let rejected = job.apply(Edit::Clearing(Box::new(stuck))).unwrap_err();
    assert!(rejected.to_string().contains("clearing lines"));
}

#[test]
fn a_board_larger_than_the_finest_field_is_drawn_coarser() {
    let area = Rect::new(DVec2::ZERO, dvec2(3000.0, 300.0));
    let lattice = Lattice::covering(area, 0.1, 4096);
    assert_eq!((lattice.columns, lattice.rows), (4096, 410));
}
