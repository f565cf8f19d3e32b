//! Designs made of designs: every result by its closed form.

use crate::support::{design, job, rectangle};
use glam::dvec2;
use spelk::design::{Design, Mirror, PlateShape};
use spelk::job::{Edit, Redesign, Treatment};
use spelk::units::Mm;
use spelk::words::notices;
use std::f64::consts::PI;

fn areas(design: &Design) -> Vec<(&str, f64)> {
    design.check_invariants();
    let area = |area: f64| (area * 1e3).round() / 1e3;
    design.elements.iter().map(|element| (element.name.as_str(), area(element.region.area()))).collect()
}

/// A bar 40 x 10 and, above its right end, a foot 10 x 20.
fn bar_and_foot() -> Design {
    design(&[
        ("bar", vec![rectangle(0.0, 0.0, 40.0, 10.0)]),
        ("foot", vec![rectangle(30.0, 10.0, 10.0, 20.0)]),
    ])
}

#[test]
fn renaming_keeps_names_apart() {
    let drawn = bar_and_foot();
    assert_eq!(drawn.renamed(0, " beam\n").elements[0].name, "beam");
    assert_eq!(drawn.renamed(0, "foot").elements[0].name, "foot 2");
    assert_eq!(drawn.renamed(0, "bar").elements[0].name, "bar");
    assert_eq!(drawn.renamed(7, "x"), drawn);
}

#[test]
fn hiding_and_combining() {
    let drawn = bar_and_foot();
    assert_eq!(areas(&drawn.without(&[0]).unwrap()), [("foot", 200.0)]);
    assert_eq!(
        drawn.without(&[0, 1]).unwrap_err().to_string(),
        "has nothing to carve: every element is invisible; show one"
    );
    assert_eq!(areas(&drawn.combined(&[1, 0])), [("bar", 600.0)]);
    assert_eq!(drawn.combined(&[]), drawn);
}

/// Two leaves and a ring, as one element: three pieces from left to right, the ring with its hole.
#[test]
fn an_element_is_split_into_its_pieces() {
    let leaves = vec![
        rectangle(50.0, 0.0, 10.0, 20.0),
        rectangle(0.0, 0.0, 10.0, 20.0),
        rectangle(70.0, 0.0, 20.0, 20.0),
        rectangle(75.0, 5.0, 10.0, 10.0),
    ];
    let drawn = design(&[("leaves", leaves), ("leaves 2", vec![rectangle(0.0, 30.0, 10.0, 10.0)])]);
    let (split, pieces) = drawn.split(&[0, 1]);
    split.check_invariants();
    assert_eq!(
        areas(&split),
        [("leaves 1", 200.0), ("leaves 3", 200.0), ("leaves 4", 300.0), ("leaves 2", 100.0)]
    );
    let whole: Vec<&str> = pieces.iter().map(|[_, whole]| whole.as_str()).collect();
    assert_eq!(whole, ["leaves"; 3]);
    // The leaves are alike, the square of another area is not.
    assert_eq!(split.alike(&[0]), [0, 1]);
    assert_eq!(split.alike(&[2, 3]), [2, 3]);
    assert_eq!(drawn.split(&[1]).0, drawn, "one piece stays as it is");
    // However long its name is.
    let two = vec![rectangle(0.0, 0.0, 10.0, 20.0), rectangle(50.0, 0.0, 10.0, 20.0)];
    let (split, pieces) = design(&[(&"n".repeat(60), two)]).split(&[0]);
    split.check_invariants();
    assert!(pieces[1][0].ends_with(" 2"), "{pieces:?}");
}

/// Pieces are carved as the whole was, and one step takes them together again.
#[test]
fn pieces_keep_the_settings_of_the_whole() {
    let two = vec![rectangle(0.0, 0.0, 10.0, 20.0), rectangle(30.0, 0.0, 10.0, 20.0)];
    let mut job = job(Treatment::Sunk, &[("plate", vec![rectangle(0.0, 40.0, 90.0, 20.0)]), ("pegs", two)]);
    job.apply(Edit::OwnDepth { elements: vec![1], depth: Some(Mm::new(2.0)) }).unwrap();
    let before = job.clone();
    job.apply(Edit::Redesign(Box::new(Redesign::Split(vec![1])))).unwrap();
    let names: Vec<&str> = job.design().elements.iter().map(|element| element.name.as_str()).collect();
    assert_eq!(names, ["plate", "pegs 1", "pegs 2"]);
    for piece in [1, 2] {
        assert_eq!(job.carvings()[piece], before.carvings()[1]);
    }
    let refused = job.apply(Edit::Redesign(Box::new(Redesign::Split(vec![0])))).unwrap_err();
    assert_eq!(refused.to_string(), "what you chose is one piece already; choose an element of several");
}

#[test]
fn what_lay_under_a_lifted_element_is_whole_again() {
    // A peg on a plate, a knob on the peg, a stone in the middle of a ring, and a tab at the plate's edge.
    let drawn = design(&[
        ("plate", vec![rectangle(0.0, 0.0, 40.0, 40.0), rectangle(10.0, 10.0, 20.0, 20.0)]),
        ("ring", vec![rectangle(60.0, 0.0, 40.0, 40.0), rectangle(65.0, 5.0, 30.0, 30.0)]),
        ("peg", vec![rectangle(10.0, 10.0, 20.0, 20.0), rectangle(15.0, 15.0, 10.0, 10.0)]),
        ("knob", vec![rectangle(15.0, 15.0, 10.0, 10.0)]),
        ("stone", vec![rectangle(75.0, 15.0, 10.0, 10.0)]),
        ("tab", vec![rectangle(40.0, 10.0, 10.0, 5.0)]),
    ]);
    let cut = [("plate", 1200.0), ("ring", 700.0), ("peg", 300.0), ("knob", 100.0)];
    assert_eq!(areas(&drawn)[..4], cut);
    let without = |elements: &[usize]| {
        let lifted = drawn.lifted(elements).unwrap();
        areas(&lifted).iter().map(|(name, area)| format!("{name} {area}")).collect::<Vec<_>>().join(", ")
    };
    assert_eq!(without(&[3]), "plate 1200, ring 700, peg 400, stone 100, tab 50");
    assert_eq!(without(&[2, 3]), "plate 1600, ring 700, stone 100, tab 50");
    // The knob still lies on the plate where the peg was.
    assert_eq!(without(&[2]), "plate 1500, ring 700, knob 100, stone 100, tab 50");
    // What stands by itself, or beside, leaves nothing behind; nor does what lies under others.
    assert_eq!(without(&[4, 5]), "plate 1200, ring 700, peg 300, knob 100");
    assert_eq!(without(&[0]), "ring 700, peg 300, knob 100, stone 100, tab 50");
    // Moved off, it leaves the plate whole; moved on, it lies on what is there.
    let moved = drawn.moved(&[2, 3], dvec2(50.0, 0.0)).unwrap();
    let areas_then = areas(&moved);
    assert_eq!(areas_then[0], ("plate", 1600.0));
    assert_eq!(areas_then[1], ("ring", 700.0 - 5.0 * 20.0));
    assert_eq!(moved.box_round(&[2]).unwrap().min, dvec2(60.0, 10.0));
    let flipped = drawn.mirrored(&[2], Mirror::Level).unwrap();
    assert_eq!(areas(&flipped), areas(&drawn));
}

#[test]
fn a_name_that_is_taken_stays_with_whom_has_it() {
    let drawn = design(&[("ground", vec![rectangle(0.0, 0.0, 10.0, 10.0)])]);
    let names =
        |design: &Design| areas(design).iter().map(|(name, _)| (*name).to_owned()).collect::<Vec<_>>();
    assert_eq!(names(&drawn.with_ground(Mm::new(5.0), round(0.0)).unwrap()), ["ground 2", "ground"]);
}

#[test]
fn subtracting_with_a_margin() {
    let drawn = design(&[
        ("plate", vec![rectangle(0.0, 0.0, 40.0, 40.0), rectangle(10.0, 10.0, 20.0, 20.0)]),
        ("peg", vec![rectangle(10.0, 10.0, 20.0, 20.0)]),
    ]);
    // Two millimetres round a square of twenty: four strips and the quarters of a disc.
    let hole = 400.0 + 4.0 * 40.0 + PI * 4.0;
    let cut = drawn.subtracted(0, 1, Mm::new(2.0)).unwrap();
    cut.check_invariants();
    assert!((cut.elements[0].region.area() - (1600.0 - hole)).abs() < 0.1);
    assert_eq!(areas(&drawn.subtracted(0, 1, Mm::ZERO).unwrap()), [("plate", 1200.0), ("peg", 400.0)]);
    assert!(drawn.subtracted(1, 0, Mm::new(30.0)).is_err());
}

#[test]
fn mirrored_twice_is_as_before() {
    let drawn = bar_and_foot();
    let upright = drawn.mirrored(&[], Mirror::Upright).unwrap();
    assert_eq!(areas(&upright), areas(&drawn));
    assert!(upright.elements[1].region.contains(dvec2(5.0, 20.0)));
    let level = drawn.mirrored(&[], Mirror::Level).unwrap();
    assert!(level.elements[1].region.contains(dvec2(35.0, 10.0)));
    let back = upright.mirrored(&[], Mirror::Upright).unwrap();
    assert_eq!(areas(&back), areas(&drawn));
    for (one, other) in drawn.elements.iter().zip(&back.elements) {
        assert_eq!(one.region.bounds(), other.region.bounds());
    }
}

#[test]
fn repeated_in_rows() {
    let drawn = bar_and_foot();
    let rows = drawn.repeated(&[], 3, 2, dvec2(50.0, 40.0)).unwrap();
    assert_eq!(areas(&rows), [("bar", 2400.0), ("foot", 1200.0)]);
    assert_eq!(rows.outline_box().size(), dvec2(140.0, 70.0));
    let feet = drawn.repeated(&[1], 1, 3, dvec2(0.0, 30.0)).unwrap();
    assert_eq!(areas(&feet), [("bar", 400.0), ("foot", 600.0)]);
    // Copies of the foot lie on top of copies of the bar, and copies of one element are one.
    let crowded = drawn.repeated(&[], 2, 1, dvec2(-30.0, 10.0)).unwrap();
    assert_eq!(areas(&crowded)[1], ("foot", 400.0));
    assert!(drawn.repeated(&[], 100_000, 100_000, dvec2(1.0, 1.0)).is_err());
}

#[test]
fn a_ground_and_a_border() {
    let drawn = bar_and_foot();
    let ground = drawn.with_ground(Mm::new(5.0), round(4.0)).unwrap();
    // A box of 50 x 40 with rounded corners, less what stands on it.
    let plate = 2000.0 - (4.0 - PI) * 16.0 - 600.0;
    assert_eq!(ground.elements.len(), 3);
    assert!((ground.elements[0].region.area() - plate).abs() < 0.1, "{:?}", areas(&ground));
    let sharp = drawn.with_ground(Mm::new(5.0), round(0.0)).unwrap();
    assert_eq!(areas(&sharp)[0], ("ground", 1400.0));
    let border = drawn.with_border(Mm::new(5.0), Mm::new(3.0), round(7.0)).unwrap();
    // Outer 56 x 46 with corners of 7, inner 50 x 40 with corners of 4.
    let band = 56.0 * 46.0 - (4.0 - PI) * 49.0 - (2000.0 - (4.0 - PI) * 16.0);
    assert!((border.elements[0].region.area() - band).abs() < 0.2, "{:?}", areas(&border));
    assert_eq!(border.elements[0].name, "border");
    assert_eq!(areas(&border)[1..], areas(&drawn)[..]);
}

fn round(corner: f64) -> PlateShape {
    PlateShape::Rectangle { corner: Mm::new(corner) }
}

#[test]
fn an_oval_runs_through_the_corners_of_the_box() {
    let drawn = bar_and_foot();
    // The box is 40 x 30, so the radii are 20 and 15 times the root of 2; its own area is taken by what stands on it.
    let ground = drawn.with_ground(Mm::ZERO, PlateShape::Oval).unwrap();
    let oval = PI * (20.0 * 15.0 * 2.0);
    assert!((ground.elements[0].region.area() - (oval - 600.0)).abs() < 2.0, "{:?}", areas(&ground));
    let size = ground.elements[0].region.bounds().unwrap().size();
    assert!((size - dvec2(40.0, 30.0) * 2.0_f64.sqrt()).length() < 0.05, "{size}");
    // Three millimetres wide at its ends, outside a margin of five.
    let border = drawn.with_border(Mm::new(5.0), Mm::new(3.0), PlateShape::Oval).unwrap();
    let radii = |past: f64| dvec2(20.0, 15.0) * 2.0_f64.sqrt() + past;
    let exact = PlateShape::Exactly { size: [60.0, 50.0].map(Mm::new), corner: Mm::ZERO };
    let plate = drawn.with_border(Mm::ZERO, Mm::new(4.0), exact).unwrap();
    assert_eq!(areas(&plate)[0], ("border", 60.0 * 50.0 - 52.0 * 42.0));
    let band = PI * (radii(8.0).x * radii(8.0).y - radii(5.0).x * radii(5.0).y);
    assert!((border.elements[0].region.area() - band).abs() < 2.0, "{:?}", areas(&border));
}

/// A plate with a square hole in which a peg lies: what is resized grows about its middle by the square of the factor,
/// what is grown gets a strip along its sides and quarter discs at its corners, and what it lay on is whole again.
#[test]
fn elements_are_resized_and_grown_by_themselves() {
    let plate = vec![rectangle(0.0, 0.0, 60.0, 40.0)];
    let drawn = design(&[("plate", plate), ("peg", vec![rectangle(20.0, 10.0, 20.0, 10.0)])]);
    let (whole, peg) = (60.0 * 40.0, 20.0 * 10.0);
    let is = |made: &Design, expected: f64| {
        let found: Vec<f64> = made.elements.iter().map(|element| element.region.area()).collect();
        let close = |found: f64, expected: f64| (found - expected).abs() < 0.05;
        assert!(close(found[1], expected) && close(found[0], whole - expected), "{found:?}, not {expected}");
    };
    let middle = drawn.box_round(&[1]).unwrap().center();
    for factor in [0.5, 1.5] {
        let resized = drawn.resized(&[1], factor).unwrap();
        is(&resized, peg * factor * factor);
        assert!((resized.box_round(&[1]).unwrap().center() - middle).length() < 1e-6);
    }
    is(&drawn.grown(&[1], Mm::new(2.0)).unwrap(), peg + 60.0 * 2.0 + PI * 4.0);
    is(&drawn.grown(&[1], Mm::new(-2.0)).unwrap(), 16.0 * 6.0);
    let gone = drawn.grown(&[1], Mm::new(-6.0)).unwrap();
    assert_eq!(areas(&gone), [("plate", whole)]);
    assert!(drawn.grown(&[0, 1], Mm::new(-30.0)).is_err());
}

#[test]
fn what_is_finer_than_a_detail_is_smoothed_away() {
    // A plate of 40 x 20 with a slit of 0.4 in it and a whisker of 0.3 on it, beside a bar of 0.3 that is not chosen.
    let plate = vec![
        rectangle(0.0, 0.0, 19.8, 20.0),
        rectangle(20.2, 0.0, 19.8, 20.0),
        rectangle(19.8, 0.0, 0.4, 5.0),
        rectangle(10.0, 20.0, 0.3, 8.0),
    ];
    let drawn = design(&[("plate", plate), ("bar", vec![rectangle(0.0, 40.0, 40.0, 0.3)])]);
    let smooth = drawn.smoothed(&[0], Mm::new(0.5)).unwrap();
    let area = smooth.elements[0].region.area();
    // The slit is filled, the whisker gone, and eight corners at most are round by a quarter of a millimetre.
    assert!((area - 800.0).abs() < 0.5, "{area}");
    assert_eq!(areas(&smooth)[1], areas(&drawn)[1]);
    // A disc of that size is all that is left of nothing.
    let notice = &drawn.smoothed(&[0, 1], Mm::new(0.5)).unwrap();
    assert_eq!(notice.elements.len(), 1);
    assert!(drawn.smoothed(&[0, 1], Mm::new(30.0)).is_err());
}

#[test]
fn what_is_added_lies_on_top() {
    let drawn = bar_and_foot();
    let peg = design(&[("bar", vec![rectangle(0.0, 0.0, 5.0, 5.0)])]);
    let both = drawn.with(&peg, dvec2(-2.0, -2.0)).unwrap();
    assert_eq!(areas(&both), [("bar", 391.0), ("foot", 200.0), ("bar 2", 25.0)]);
}

#[test]
fn specks_are_counted_and_cleaned() {
    // On a plate of 200 mm a speck is under a tenth of a millimetre across.
    let drawn = design(&[
        (
            "plate",
            vec![
                rectangle(0.0, 0.0, 200.0, 50.0),
                rectangle(20.0, 20.0, 0.05, 0.05),
                rectangle(40.0, 20.0, 0.5, 0.5),
                rectangle(60.0, 20.0, 20.0, 0.005),
            ],
        ),
        ("dust", vec![rectangle(100.0, 60.0, 0.05, 0.05)]),
    ]);
    assert_eq!(drawn.specks().count, 3);
    let clean = drawn.without_specks().unwrap();
    assert_eq!(areas(&clean), [("plate", 9999.75)]);
    assert_eq!(clean.specks().count, 0);
    assert_eq!(clean.notices.len(), 1, "what was said of the specks is gone with them");
    assert_eq!(
        clean.notices.iter().map(notices::drawing).collect::<Vec<_>>(),
        ["The element “dust” was only specks and went with them"]
    );
}
