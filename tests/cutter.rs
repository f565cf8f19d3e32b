//! What cutters cut, and the walls they leave, against closed forms.

use crate::support::{job, proof_of, rectangle};
use spelk::job::{Clearing, Edit, Treatment};
use spelk::proof::{CutterRefusal, Facts, Limits};
use spelk::shop::{Cutter, CutterShape, cutters};
use spelk::units::Mm;

fn close(found: Mm, expected: Mm, tolerance: f64) {
    assert!((found - expected).get().abs() <= tolerance, "{found}, not {expected}");
}

fn vee(degrees: f64) -> CutterShape {
    CutterShape::Vee { angle: degrees.to_radians(), tip: Mm::ZERO, diameter: Mm::new(50.0) }
}

/// V depth `w / (2 tan(a/2))`: the width at that depth is w (formula, computed for these values by an
/// independent script).
#[test]
fn a_v_is_as_wide_as_its_angle_and_depth_make_it() {
    for (degrees, inches) in [(60.0, 0.21651), (90.0, 0.125), (120.0, 0.07217)] {
        close(vee(degrees).width_at(Mm::from_inches(inches)), Mm::from_inches(0.25), 1e-3);
    }
    for (degrees, depth) in [(30.0, 5.598), (60.0, 2.598), (90.0, 1.5)] {
        close(vee(degrees).width_at(Mm::new(depth)), Mm::new(3.0), 1e-3);
    }
    // A 3 mm stroke at half size, 90 degrees: depth scales with size.
    close(vee(90.0).width_at(Mm::new(0.75)), Mm::new(1.5), 1e-9);
}

/// Scallop `R - sqrt(R^2 - (s/2)^2)` (formula, computed for these values by an independent script).
#[test]
fn a_ball_leaves_a_scallop() {
    let ball = |diameter| CutterShape::Ball { diameter };
    close(ball(Mm::new(6.0)).scallop(Mm::new(0.5)), Mm::new(0.010_435), 1e-6);
    close(ball(Mm::from_inches(0.25)).scallop(Mm::from_inches(0.025)), Mm::from_inches(0.000_626_6), 2e-6);
    close(CutterShape::Flat { diameter: Mm::new(6.0) }.scallop(Mm::new(3.0)), Mm::ZERO, 0.0);
    close(vee(90.0).scallop(Mm::new(0.4)), Mm::new(0.2), 1e-12);
}

/// Clearing lines of two fifths of a ball's diameter leave ridges of a twenty-fourth of it, by the scallop's formula:
/// `R - sqrt(R^2 - (0.8 R / 2)^2)` is 0.0835 R. A tapered ball's lines go by its ball, not by its shank.
#[test]
fn what_a_cutter_starts_with_clears_a_floor() {
    let clearing = Clearing::default();
    for cutter in cutters() {
        let ridge = match cutter.shape {
            CutterShape::Flat { .. } => Mm::ZERO,
            CutterShape::Ball { diameter: ball } | CutterShape::TaperedBall { ball, .. } => {
                ball * (0.5 * (1.0 - 0.84f64.sqrt()))
            }
            // It clears no floor.
            CutterShape::Vee { .. } => continue,
        };
        close(cutter.shape.scallop(Mm::new(clearing.lines_apart(cutter))), ridge, 1e-9);
        close(Mm::new(clearing.pass_depth(cutter)), cutter.shape.working_diameter() / 2.0, 1e-9);
    }
}

/// Every profile against its own outline: a circle, a cone tangent to it, a straight side.
#[test]
fn widths_follow_the_profile() {
    let ball = CutterShape::Ball { diameter: Mm::new(6.0) };
    close(ball.width_at(Mm::ZERO), Mm::ZERO, 0.0);
    close(ball.width_at(Mm::new(3.0)), Mm::new(6.0), 1e-12);
    close(ball.width_at(Mm::new(9.0)), Mm::new(6.0), 1e-12);
    // 1 mm up a 3 mm radius: half a chord of sqrt(9 - 4).
    close(ball.width_at(Mm::new(1.0)), Mm::new(2.0 * 5f64.sqrt()), 1e-12);
    let lean = 30f64.to_radians();
    let tapered = CutterShape::TaperedBall { ball: Mm::new(2.0), lean, diameter: Mm::new(8.0) };
    // The cone is tangent to the unit ball 0.5 up, where the half width is cos 30; from there it grows
    // by tan 30 a millimetre.
    close(tapered.width_at(Mm::new(0.5)), Mm::new(2.0 * lean.cos()), 1e-12);
    close(tapered.width_at(Mm::new(1.5)), Mm::new(2.0 * (lean.cos() + lean.tan())), 1e-12);
    close(tapered.width_at(Mm::new(90.0)), Mm::new(8.0), 1e-12);
    for cutter in cutters() {
        let widths: Vec<f64> =
            (0..200).map(|step| cutter.shape.width_at(Mm::new(0.1 * f64::from(step))).get()).collect();
        assert!(widths.is_sorted(), "{} never narrows upwards", cutter.id);
        assert!(widths.iter().all(|&width| width <= cutter.shape.diameter().get()), "{}", cutter.id);
    }
}

/// A long wall is held to its crest (the rule of every depth), so a V's deeper walls are neither better nor worse.
#[test]
fn a_pointed_cutters_walls_are_held_to_their_crest_at_any_depth() {
    let mut job = job(Treatment::Incised, &[("line", vec![rectangle(0.0, 0.0, 80.0, 2.0)])]);
    job.apply(Edit::Cutter(Box::new(Cutter::find("vee-60").unwrap().clone()))).unwrap();
    job.apply(Edit::Depth(job.cutter().reference.height)).unwrap();
    let limit = |depth: f64| Limits::of(&job.with([Edit::Depth(Mm::new(depth))]).unwrap()).along;
    // The starting wall stands by itself: that is the limit of a free end.
    close(
        Limits::of(&job).free_end[0],
        job.cutter().reference.along,
        0.01 * job.cutter().reference.along.get(),
    );
    close(limit(6.0), limit(3.0), 1e-9);
    // Shallower than a pass less edge is engaged: 1 of 2 mm.
    close(limit(1.0), limit(3.0) * 0.5f64.sqrt(), 1e-9);
}

#[test]
fn a_cutter_that_cannot_do_it_is_refused_with_the_reason() {
    let refused = |cutter: &str, treatment: Treatment, depth: f64| {
        let mut job = job(treatment, &[("panel", vec![rectangle(0.0, 0.0, 80.0, 40.0)])]);
        job.apply(Edit::Cutter(Box::new(Cutter::find(cutter).unwrap().clone()))).unwrap();
        job.apply(Edit::Depth(Mm::new(depth))).unwrap();
        job.apply(Edit::BoardThickness(Mm::new(40.0))).unwrap();
        let findings = proof_of(&job).findings;
        findings.iter().find_map(|finding| match finding.facts {
            Facts::CutterLimit { refusal, .. } => Some(refusal),
            _ => None,
        })
    };
    assert_eq!(refused("flat-1/8in", Treatment::Sunk, 3.0), None);
    assert!(matches!(refused("flat-1/8in", Treatment::Sunk, 13.0), Some(CutterRefusal::TooDeep { .. })));
    assert!(matches!(refused("flat-1/8in", Treatment::Pierced, 3.0), Some(CutterRefusal::TooDeep { .. })));
    assert_eq!(refused("flat-1/8in", Treatment::Incised, 3.0), Some(CutterRefusal::NoPoint));
    assert_eq!(refused("vee-60", Treatment::Incised, 3.0), None);
    assert_eq!(refused("vee-60", Treatment::Sunk, 3.0), Some(CutterRefusal::PointOnAFloor));
    assert_eq!(refused("vee-60", Treatment::Relief, 3.0), Some(CutterRefusal::PointOnAFloor));
    assert_eq!(refused("vee-60", Treatment::Left, 30.0), None);
}
