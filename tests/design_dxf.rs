//! DXF drawings come in at their true size, layer by layer, and agree with what a general library makes
//! of the same files (`tests/recipes/dxf.py`).

use proptest::prelude::*;
use spelk::design::{self, Design, DrawingUnit, ReadOptions, Reading};
use spelk::geometry::{Rect, Region};
use spelk::notice::Importance;
use spelk::units::Mm;
use spelk::words::notices;
use std::collections::BTreeMap;
use std::f64::consts::PI;
use std::fmt::Write as _;
use std::path::PathBuf;

pub(crate) fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/data/dxf")
}

/// Group codes and values, one pair a slice of two, as a file.
fn file(header: &str, entities: &str) -> Vec<u8> {
    let pairs = |text: &str| text.split_whitespace().fold(String::new(), |all, word| all + word + "\n");
    let mut text = String::new();
    if !header.is_empty() {
        write!(text, "0\nSECTION\n2\nHEADER\n{}0\nENDSEC\n", pairs(header)).unwrap();
    }
    write!(text, "0\nSECTION\n2\nENTITIES\n{}0\nENDSEC\n0\nEOF\n", pairs(entities)).unwrap();
    text.into_bytes()
}

const IN_MM: &str = "9 $INSUNITS 70 4";

fn line([x0, y0, x1, y1]: [f64; 4]) -> String {
    format!("0 LINE 8 edge 10 {x0} 20 {y0} 11 {x1} 21 {y1} ")
}

fn reading(bytes: &[u8], options: &ReadOptions) -> Reading {
    let reading = design::read_with("test", bytes, options).unwrap_or_else(|error| panic!("{error}"));
    reading.design.check_invariants();
    reading
}

fn read(entities: &str) -> Design {
    reading(&file(IN_MM, entities), &ReadOptions::default()).design
}

fn refused(bytes: &[u8]) -> String {
    let message = design::read("test", bytes).unwrap_err().to_string();
    assert!(!message.contains('\n'), "one line: {message}");
    message
}

fn areas(design: &Design) -> BTreeMap<&str, f64> {
    design.elements.iter().map(|element| (element.name.as_str(), element.region.area())).collect()
}

fn messages(design: &Design, importance: Importance) -> Vec<String> {
    let wanted = design.notices.iter().filter(|notice| notice.importance() == importance);
    wanted.map(notices::drawing).collect()
}

fn length(region: &Region) -> f64 {
    region.rings().flat_map(|ring| ring.segments().collect::<Vec<_>>()).map(|[a, b]| a.distance(b)).sum()
}

/// How far the outlines turn in all, either way, in radians.
fn turning(region: &Region) -> f64 {
    let turn = |[a, b]: [glam::DVec2; 2], [c, d]: [glam::DVec2; 2]| (b - a).angle_to(d - c).abs();
    let of_ring = |ring: spelk::geometry::Ring<'_>| {
        let edges: Vec<_> = ring.segments().collect();
        (0..edges.len()).map(|i| turn(edges[i], edges[(i + 1) % edges.len()])).sum::<f64>()
    };
    region.rings().map(of_ring).sum()
}

fn close(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "{got}, expected {expected} within {tolerance}");
}

#[derive(serde::Deserialize)]
struct Expected {
    written_by: String,
    drawings: Vec<Drawing>,
}

#[derive(serde::Deserialize)]
struct Drawing {
    file: String,
    elements: BTreeMap<String, Outline>,
}

#[derive(serde::Deserialize)]
struct Outline {
    area_mm2: f64,
    length_mm: f64,
}

/// What the recipe wrote down.
fn expected() -> Expected {
    let text = std::fs::read_to_string(folder().join("expected.json")).unwrap();
    serde_json::from_str(&text).unwrap()
}

#[test]
fn areas_and_lengths_agree_with_a_general_library() {
    let expected = expected();
    assert!(expected.written_by.starts_with("ezdxf "), "{}", expected.written_by);
    assert!(expected.drawings.len() >= 9, "the recipe writes a drawing for each kind");
    for drawing in &expected.drawings {
        let design = design::open(&folder().join(&drawing.file)).unwrap();
        design.check_invariants();
        let names: Vec<&String> = drawing.elements.keys().collect();
        assert_eq!(areas(&design).into_keys().collect::<Vec<_>>(), names, "{}", drawing.file);
        for element in &design.elements {
            let outline = &drawing.elements[&element.name];
            let length = length(&element.region);
            // A flattened curve strays by the tolerance at most, all along.
            let strays = design::FLATTENING * outline.length_mm;
            let area = element.region.area();
            assert!(
                (area - outline.area_mm2).abs() < strays,
                "{} {}: area {area}, expected {} within {strays}",
                drawing.file,
                element.name,
                outline.area_mm2
            );
            // A chord that turns by h strays by r h² / 8 and falls short of its arc, r h long, by r h³ / 24:
            // by a third of how far it strays for every radian turned.
            let short = design::FLATTENING / 3.0 * turning(&element.region) + 1e-3;
            assert!(
                length <= outline.length_mm + 1e-3 && length >= outline.length_mm - short,
                "{} {}: length {length}, expected {}",
                drawing.file,
                element.name,
                outline.length_mm
            );
        }
    }
}

// Size. Source of the codes: DXF reference, HEADER section, $INSUNITS.

#[test]
fn every_stated_unit() {
    let check = |code: i32, mm: f64| {
        let circle = format!("0 CIRCLE 8 disc 10 0 20 0 40 {}", 10.0 / mm);
        let reading = reading(&file(&format!("9 $INSUNITS 70 {code}"), &circle), &ReadOptions::default());
        let size = reading.design.outline_box().size();
        assert!((size - 20.0).abs().max_element() < 1e-3, "{code}: {size}");
        assert_eq!((reading.design.notices.len(), reading.unstated), (0, None), "{code}");
    };
    for (code, mm) in [(1, 25.4), (2, 304.8), (4, 1.0), (5, 10.0), (6, 1000.0), (8, 25.4e-6), (9, 25.4e-3)] {
        check(code, mm);
    }
    for (code, mm) in [(10, 914.4), (13, 1e-3), (14, 100.0), (21, 304.800_609_6)] {
        check(code, mm);
    }
}

#[test]
fn a_missing_unit_is_a_question_with_its_answers() {
    let square = "0 LWPOLYLINE 8 plate 70 1 10 0 20 0 10 72 20 0 10 72 20 36 10 0 20 36";
    for header in ["", "9 $INSUNITS 70 0", "9 $INSUNITS 70 99"] {
        let reading = reading(&file(header, square), &ReadOptions::default());
        let unstated = reading.unstated.expect("no unit is stated");
        assert_eq!(unstated.taken, DrawingUnit::Millimetre, "{header}");
        let sizes: Vec<(DrawingUnit, f64)> =
            unstated.readings.iter().map(|reading| (reading.unit, reading.size.x)).collect();
        let by_hand = [
            (DrawingUnit::Millimetre, 72.0),
            (DrawingUnit::Pixel, 72.0 * 25.4 / 96.0),
            (DrawingUnit::Point, 25.4),
            (DrawingUnit::Inch, 72.0 * 25.4),
        ];
        for ((unit, size), (expected_unit, expected)) in sizes.iter().zip(by_hand) {
            assert_eq!(*unit, expected_unit);
            close(*size, expected, 1e-4);
        }
        assert_eq!(
            messages(&reading.design, Importance::Remark),
            [
                "The file does not say what its unit is; Spelk read one unit as a millimetre, so the drawing is 72 x 36 mm"
            ]
        );
    }
    let as_points = ReadOptions { unit: Some(DrawingUnit::Point), ..ReadOptions::default() };
    close(reading(&file("", square), &as_points).design.outline_box().size().x, 25.4, 1e-6);
    // Begun in inches, and a unit that is stated is not overruled.
    let inches = reading(&file("9 $MEASUREMENT 70 0", square), &ReadOptions::default());
    assert_eq!(inches.unstated.map(|unstated| unstated.taken), Some(DrawingUnit::Inch));
    close(reading(&file(IN_MM, square), &as_points).design.outline_box().size().x, 72.0, 1e-6);
}

// Shapes.

#[test]
fn loops_in_loops_are_holes_and_the_smaller_layer_lies_on_top() {
    let circle = |layer: &str, radius: f64| format!("0 CIRCLE 8 {layer} 10 0 20 0 40 {radius} ");
    // The name is drawn first and still lies on the panel.
    let design = read(&(circle("name", 3.0) + &circle("name", 2.0) + &circle("panel", 10.0)));
    let areas = areas(&design);
    close(areas["name"], PI * 5.0, 0.1);
    close(areas["panel"], PI * 95.0, 0.4);
}

#[test]
fn polylines_with_a_width_are_bands() {
    let design = read("0 LWPOLYLINE 8 band 43 2 10 0 20 0 10 30 20 0");
    close(areas(&design)["band"], 60.0, 1e-6);
    let tapered = read(&format!("0 LWPOLYLINE 8 band 10 0 20 0 40 1 41 2 10 30 20 0 {SQUARE}"));
    assert_eq!(
        messages(&tapered, Importance::LeftOut)[0],
        "1 polyline changes its width along the way and was read as a line"
    );
}

const SQUARE: &str = "0 LWPOLYLINE 8 square 70 1 10 0 20 0 10 40 20 0 10 40 20 40 10 0 20 40 ";

// Loose ends.

#[test]
fn gaps_are_closed_within_the_tolerance_and_said() {
    let with_gap = |gap: f64| {
        let ends = [[0.0, 0.0, 120.0, 0.0], [120.0, 0.0, 120.0, 90.0], [120.0, 90.0, 0.0, gap]];
        file(IN_MM, &ends.map(line).concat())
    };
    let closed = reading(&with_gap(0.06), &ReadOptions::default());
    close(areas(&closed.design)["edge"], 120.0 * 90.0 / 2.0, 4.0);
    assert_eq!(
        messages(&closed.design, Importance::Remark),
        ["1 gap in an outline was closed: 0.060 mm at 0.0, 0.0 mm; gaps up to 0.1 mm are closed"]
    );
    assert_eq!(
        messages(&reading(&with_gap(0.0), &ReadOptions::default()).design, Importance::Remark),
        [""; 0]
    );
    assert_eq!(
        refused(&with_gap(0.3)),
        "has nothing to carve: no outline in it closes; join the ends of its lines, or read open outlines as strokes"
    );
    let wider = ReadOptions { join: Mm::new(0.5), ..ReadOptions::default() };
    // But a tenth of a percent of a drawing is as far as ends are joined.
    assert!(design::read_with("test", &with_gap(0.3), &wider).is_err());
    assert!(design::read_with("test", &with_gap(0.11), &wider).is_ok());
}

#[test]
fn open_outlines_are_told_or_read_as_strokes() {
    let bytes = file(IN_MM, &(SQUARE.to_owned() + &line([60.0, 0.0, 90.0, 0.0])));
    let told = reading(&bytes, &ReadOptions::default());
    assert_eq!(told.open_outlines, 1);
    assert_eq!(
        messages(&told.design, Importance::LeftOut),
        ["1 outline does not close and was left out, at 60.0, 0.0 mm; ends up to 0.09 mm apart are joined"]
    );
    let stroked = ReadOptions { open_as_strokes: Some(Mm::new(3.0)), ..ReadOptions::default() };
    let stroked = reading(&bytes, &stroked);
    // Thirty millimetres, three wide, with half a disc at each end.
    close(areas(&stroked.design)["edge"], 90.0 + PI * 2.25, 0.1);
    assert_eq!(stroked.open_outlines, 0);
    assert_eq!(
        messages(&stroked.design, Importance::Remark),
        ["1 outline does not close and was read as a stroke 3 mm wide"]
    );
}

#[test]
fn what_is_drawn_twice_is_not_a_hole() {
    let design = read(&(SQUARE.to_owned() + SQUARE));
    close(areas(&design)["square"], 1600.0, 1e-6);
    assert_eq!(
        messages(&design, Importance::Remark),
        ["1 piece was drawn twice in the same place and counted once"]
    );
}

// Layers, and what is not read.

#[test]
fn hidden_layers_texts_and_paper_are_left_out_and_said() {
    let design = design::open(&folder().join("layers.dxf")).unwrap();
    assert_eq!(areas(&design).into_keys().collect::<Vec<_>>(), ["Blüte", "shown"]);
    assert_eq!(messages(&design, Importance::LeftOut), ["2 entities were left out: 1 POINT, 1 TEXT"]);
    assert_eq!(messages(&design, Importance::Remark), ["4 hidden objects were skipped"]);
}

#[test]
fn more_layers_than_anybody_sets_are_one_element() {
    let circles: Vec<String> =
        (0..=design::MAX_ELEMENTS).map(|i| format!("0 CIRCLE 8 l{i} 10 {} 20 0 40 1 ", 3 * i)).collect();
    let circles = circles.concat();
    let design = read(&circles);
    assert_eq!(design.elements.len(), 1);
    let told = "The drawing has 5001 layers, more than 5000, so all of it is one element";
    assert_eq!(messages(&design, Importance::Remark)[0], told);
}

#[test]
fn drawings_far_from_their_origin_are_moved() {
    let design = read("0 CIRCLE 8 disc 10 5e8 20 3e8 40 10");
    close(areas(&design)["disc"], PI * 100.0, 0.4);
    // A flattened circle lies inside the true one.
    assert!(design.outline_box().min.abs().max_element() < design::FLATTENING);
}

// Bad files.

#[test]
fn bad_files_are_refused_in_a_sentence() {
    assert_eq!(
        refused(b"Some CAD Binary DXF\r\n\x1a\0rest of it"),
        "is a binary DXF drawing; save it as an ASCII (text) DXF"
    );
    assert_eq!(
        refused(&file(IN_MM, "0 CIRCLE 8 disc 10 nan 20 0 40 1")),
        "has the coordinate nan at line 20, which is no place on a drawing; correct or delete it"
    );
    assert!(
        refused(&file(IN_MM, "0 CIRCLE 8 disc 10 1e300 20 0 40 1")).starts_with("has the coordinate 1e300")
    );
    assert_eq!(
        refused(b"0\nSECTION\n2\nENTITIES\n0\nLINE\n8\nx\nx\n10\n0\n"),
        "is damaged at line 9: it has 'x' where a group code belongs; save it again as DXF"
    );
    assert_eq!(
        refused(&file(IN_MM, "0 TEXT 8 x 1 word")),
        "has nothing to carve: it has only texts, dimensions or the like; turn them into outlines"
    );
    assert_eq!(
        refused(&file(IN_MM, "")),
        "has nothing to carve: it has no line, arc, polyline, spline or hatch; export the outlines as polylines"
    );
    assert_eq!(
        refused(&file("9 $INSUNITS 70 6", "0 CIRCLE 8 x 10 0 20 0 40 900")),
        "is 1800 m long as drawn, and 100 m is the most; check the units it was saved in"
    );
    let whole = file(IN_MM, SQUARE);
    let end = whole.len() - "0\nEOF\n".len();
    let cut = reading(&whole[..end], &ReadOptions::default());
    assert!(messages(&cut.design, Importance::LeftOut)[0].starts_with("The file stops without its end mark"));
}

/// A drawing whose block holds `inner`, inserted once.
fn with_block(inner: &str) -> Vec<u8> {
    let text = format!(
        "0 SECTION 2 BLOCKS 0 BLOCK 2 a 10 0 20 0 {inner} 0 ENDBLK 0 BLOCK 2 b 10 0 20 0 {} 0 ENDBLK 0 ENDSEC 0 SECTION 2 ENTITIES 0 INSERT 2 b 0 ENDSEC 0 EOF",
        "0 INSERT 2 a ".repeat(10)
    );
    text.split_whitespace().fold(String::new(), |all, word| all + word + "\n").into_bytes()
}

#[test]
fn copies_neither_loop_nor_multiply_without_end() {
    assert_eq!(
        refused(&with_block("0 INSERT 2 a")),
        "nests groups or copies more than 500 deep; ungroup the drawing and save it again"
    );
    assert_eq!(
        refused(&with_block("0 INSERT 2 c 70 2000 71 2000 0 INSERT 2 b")),
        "nests groups or copies more than 500 deep; ungroup the drawing and save it again"
    );
    let many = with_block("0 CIRCLE 10 0 20 0 40 1").iter().map(|&b| b as char).collect::<String>();
    let many = many.replace("INSERT\n2\nb\n", "INSERT\n2\nb\n70\n1000\n71\n1000\n");
    assert!(refused(many.as_bytes()).starts_with("has more than 1000000 objects"));
}

fn sample_files() -> Vec<Vec<u8>> {
    expected().drawings.iter().map(|drawing| std::fs::read(folder().join(&drawing.file)).unwrap()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn mutated_files_are_read_or_refused(
        which in 0_usize..9,
        edits in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>(), 0_u8..4), 1..12),
    ) {
        let mut bytes = sample_files().swap_remove(which);
        for (at, byte, what) in edits {
            let at = at.index(bytes.len());
            match what {
                0 => bytes[at] = byte,
                1 => bytes[at] = b"0123456789.-e\n"[usize::from(byte) % 14],
                2 => bytes.insert(at, byte),
                _ => bytes.truncate(at.max(64)),
            }
        }
        match design::read("test", &bytes) {
            Ok(design) => design.check_invariants(),
            Err(error) => prop_assert!(!error.to_string().contains('\n')),
        }
    }

    /// Lines of a convex outline in any order and direction close to it.
    #[test]
    fn lines_in_any_order_close(
        corners in 3_usize..40,
        order in Just(()).prop_perturb(|(), mut rng| (0..40).map(|_| rng.random::<u32>()).collect::<Vec<_>>()),
    ) {
        let corner = |i: usize| {
            let (sin, cos) = (i as f64 / corners as f64 * 2.0 * PI).sin_cos();
            [50.0 * cos, 50.0 * sin]
        };
        let mut lines: Vec<(u32, String)> = (0..corners)
            .map(|i| {
                let ([x0, y0], [x1, y1]) = (corner(i), corner(i + 1));
                let there = order[i].is_multiple_of(2);
                (order[i], line(if there { [x0, y0, x1, y1] } else { [x1, y1, x0, y0] }))
            })
            .collect();
        lines.sort();
        let design = read(&lines.into_iter().map(|(_, line)| line).collect::<String>());
        // A regular polygon: n/2 r^2 sin(2 pi / n).
        let area = corners as f64 / 2.0 * 2500.0 * (2.0 * PI / corners as f64).sin();
        close(areas(&design)["edge"], area, 1e-3);
        prop_assert_eq!(messages(&design, Importance::Remark), Vec::<String>::new());
    }
}

#[test]
fn the_rectangle_round_a_hatch_is_its_own() {
    let design = design::open(&folder().join("hatches.dxf")).unwrap();
    let solid = design.elements.iter().find(|element| element.name == "solid").unwrap();
    let expected = Rect::new(glam::dvec2(150.0, 0.0), glam::dvec2(170.0, 12.0));
    let bounds = solid.region.bounds().unwrap();
    assert!((bounds.min - expected.min).abs().max_element() < 1e-4, "{bounds:?}");
    assert!((bounds.max - expected.max).abs().max_element() < 1e-4, "{bounds:?}");
}
