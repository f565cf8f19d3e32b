//! SVG drawings come in at their true size, as elements that do not overlap, and bad files are refused
//! in one line.

use glam::dvec2;
use spelk::design::{self, Design, DesignError, DrawingUnit, ReadOptions};
use spelk::geometry::Rect;
use spelk::notice::Importance;
use spelk::units::Mm;
use spelk::words::notices;
use std::f64::consts::PI;
use std::fmt::Write as _;
use std::time::{Duration, Instant};

fn read(text: &str) -> Design {
    let design = design::read("test", text.as_bytes()).unwrap_or_else(|error| panic!("{error}: {text:.200}"));
    design.check_invariants();
    design
}

/// A drawing whose unit is a millimetre, 100 x 100.
fn in_mm(content: &str) -> Design {
    read(&mm_text(content))
}

fn mm_text(content: &str) -> String {
    format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="100mm" height="100mm" viewBox="0 0 100 100">{content}</svg>"#
    )
}

fn refused(bytes: &[u8]) -> String {
    match design::read("test", bytes) {
        Ok(design) => panic!("read as {design:?}"),
        Err(error) => {
            let message = error.to_string();
            assert!(!message.contains('\n'), "one line: {message}");
            message
        }
    }
}

fn area(design: &Design) -> f64 {
    design.elements.iter().map(|element| element.region.area()).sum()
}

fn areas(design: &Design) -> Vec<(&str, f64)> {
    design
        .elements
        .iter()
        .map(|element| (element.name.as_str(), (element.region.area() * 1e3).round() / 1e3))
        .collect()
}

fn close(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "{got}, expected {expected} within {tolerance}");
}

fn close_box(got: Rect, min: (f64, f64), max: (f64, f64)) {
    for (got, expected) in [(got.min, dvec2(min.0, min.1)), (got.max, dvec2(max.0, max.1))] {
        assert!((got - expected).abs().max_element() < 1e-4, "{got}, expected {expected}");
    }
}

fn messages(design: &Design, importance: Importance) -> Vec<String> {
    let wanted = design.notices.iter().filter(|notice| notice.importance() == importance);
    wanted.map(notices::drawing).collect()
}

fn left_out(content: &str) -> Vec<String> {
    let design = in_mm(&format!("{content}{SQUARE}"));
    messages(&design, Importance::LeftOut)
}

const SQUARE: &str = r#"<path id="square" d="M10 10H20V20H10z"/>"#;

// Size. Sources: CSS Values and Units 3 (1in = 96px = 2.54cm); SVG 1.1 section 7.8 (viewBox).

#[test]
fn a_unit_without_a_name_is_a_pixel_96_to_the_inch() {
    let design = read(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="192" height="96"><path d="M0 0H96V96H0z"/></svg>"#,
    );
    close_box(design.page.unwrap(), (0.0, 0.0), (50.8, 25.4));
    close_box(design.outline_box(), (0.0, 0.0), (25.4, 25.4));
    assert!(design.notices.is_empty(), "{:?}", design.notices);
}

#[test]
fn every_physical_unit() {
    let check = |width: &str, mm: f64| {
        let design = read(&format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{width}" viewBox="0 0 10 10"><path d="M0 0H10V10H0z"/></svg>"#
        ));
        close_box(design.page.unwrap(), (0.0, 0.0), (mm, mm));
        close_box(design.outline_box(), (0.0, 0.0), (mm, mm));
        assert!(design.notices.is_empty(), "{width}: {:?}", design.notices);
    };
    check("96", 25.4);
    check("96px", 25.4);
    check("1in", 25.4);
    check("1IN", 25.4);
    check("2.54cm", 25.4);
    check("25.4mm", 25.4);
    check("72pt", 25.4);
    check("6pc", 25.4);
    check("101.6Q", 25.4);
    check(" 25.4mm ", 25.4);
    check("300mm", 300.0);
    check("48in", 1219.2);
}

#[test]
fn a4_in_pixels_is_210_by_297() {
    let design = read(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="793.7008" height="1122.5197"><path d="M0 0h9v9z"/></svg>"#,
    );
    let page = design.page.unwrap();
    close(page.size().x, 210.0, 1e-4);
    close(page.size().y, 297.0, 1e-4);
}

#[test]
fn a_square_view_box_is_centred_on_an_a4_page() {
    let with = |aspect: &str| {
        read(&format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="297mm" viewBox="0 0 100 100" {aspect}><path d="M0 0H1V1H0z"/></svg>"#
        ))
        .outline_box()
    };
    // 2.1 mm a unit, 43.5 mm down from the top.
    close_box(with(""), (0.0, 297.0 - 43.5 - 2.1), (2.1, 297.0 - 43.5));
    close_box(with(r#"preserveAspectRatio="xMidYMin""#), (0.0, 297.0 - 2.1), (2.1, 297.0));
    close_box(with(r#"preserveAspectRatio="xMinYMax""#), (0.0, 210.0 - 2.1), (2.1, 210.0));
    close_box(with(r#"preserveAspectRatio="none""#), (0.0, 297.0 - 2.97), (2.1, 297.0));
    // Slice: 2.97 mm a unit, 43.5 mm off the left.
    close_box(with(r#"preserveAspectRatio="xMidYMid slice""#), (-43.5, 297.0 - 2.97), (-43.5 + 2.97, 297.0));
}

#[test]
fn the_corner_of_a_view_box_is_the_corner_of_the_page() {
    let design = read(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="20mm" viewBox="-5 -7 50 20"><path d="M-5 -7h10v4h-10z"/></svg>"#,
    );
    close_box(design.outline_box(), (0.0, 16.0), (10.0, 20.0));
}

#[test]
fn one_side_stated_gives_the_other() {
    let design = read(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="60mm" viewBox="0 0 30 10"><path d="M0 0H30V10H0z"/></svg>"#,
    );
    close_box(design.page.unwrap(), (0.0, 0.0), (60.0, 20.0));
    assert!(design.notices.is_empty(), "{:?}", design.notices);
    let with_percent = read(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="100%" height="20mm" viewBox="0 0 30 10"><path d="M0 0H30V10H0z"/></svg>"#,
    );
    close_box(with_percent.outline_box(), (0.0, 0.0), (60.0, 20.0));
}

#[test]
fn a_size_in_a_style_attribute_counts() {
    let design = read(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="9" style="width: 40mm; height:40mm" viewBox="0 0 10 10"><path d="M0 0H10V10H0z"/></svg>"#,
    );
    close_box(design.outline_box(), (0.0, 0.0), (40.0, 40.0));
}

#[test]
fn no_physical_size_is_read_in_pixels_and_said() {
    let check = |root: &str, said: &str| {
        let design = read(&format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" {root}><path d="M0 0H96V96H0z"/></svg>"#
        ));
        close(design.outline_box().size().x, 25.4, 1e-5);
        assert_eq!(messages(&design, Importance::Remark), [said], "{root}");
        let hint = design.notices.iter().find_map(notices::drawing_hint);
        assert!(hint.is_some_and(|hint| hint.contains("page size")), "{root}");
        design.page
    };
    let read_as = "The file gives no physical size; Spelk read one unit as a pixel, 1/96 in or 0.2646 mm";
    let page = check(r#"viewBox="0 0 192 96""#, &format!("{read_as}, so the page is 50.8 x 25.4 mm"));
    close_box(page.unwrap(), (0.0, 0.0), (50.8, 25.4));
    check(
        r#"width="100%" height="100%" viewBox="0 0 192 96""#,
        &format!("{read_as}, so the page is 50.8 x 25.4 mm"),
    );
    check(
        r#"width="50%" height="50%" viewBox="0 0 192 96""#,
        &format!("{read_as}, so the page is 50.8 x 25.4 mm"),
    );
    assert_eq!(check("", read_as), None);
    assert_eq!(check(r#"width="20em" height="10em""#, read_as), None);
}

#[test]
fn y_runs_up_from_the_lower_left() {
    let design = in_mm(r#"<path d="M10 20H30V25H10z"/>"#);
    close_box(design.outline_box(), (10.0, 75.0), (30.0, 80.0));
    assert!(design.elements[0].region.contains(dvec2(12.0, 76.0)));
}

// Shapes.

#[test]
fn basic_shapes_have_their_closed_form_areas() {
    // A flattened circle lies inside the true one by less than the tolerance all round; four cubics lie
    // outside by at most 2.8e-4 of the radius.
    let circle = area(&in_mm(r#"<circle cx="50" cy="50" r="40"/>"#));
    close(circle, PI * 1600.0, 2.0 * PI * 40.0 * (design::FLATTENING + 40.0 * 2.8e-4));
    assert!(circle > PI * 1600.0 - 2.0 * PI * 40.0 * design::FLATTENING);
    close(area(&in_mm(r#"<ellipse cx="50" cy="50" rx="40" ry="20"/>"#)), PI * 800.0, 1.5);
    close(area(&in_mm(r#"<rect x="10" y="10" width="40" height="20"/>"#)), 800.0, 1e-4);
    close(
        area(&in_mm(r#"<rect x="10" y="10" width="40" height="20" rx="5"/>"#)),
        800.0 - (4.0 - PI) * 25.0,
        0.2,
    );
    close(area(&in_mm(r#"<polygon points="0,0 30,0 0,40"/>"#)), 600.0, 1e-4);
    // A polyline is filled as if it were closed.
    close(area(&in_mm(r#"<polyline points="0,0 30,0 0,40"/>"#)), 600.0, 1e-4);
    // A parabola arch: two thirds of its box.
    close(area(&in_mm(r#"<path d="M0 0Q30 60 60 0z"/>"#)), 2.0 / 3.0 * 60.0 * 30.0, 0.4);
    // Half a disc from an arc.
    close(area(&in_mm(r#"<path d="M10 50A20 20 0 0 1 50 50z"/>"#)), PI * 200.0, 0.5);
}

#[test]
fn nested_squares_by_fill_rule_and_winding() {
    // SVG 1.1 section 11.3: the same way round, nonzero fills the hole and evenodd leaves it; opposite
    // ways round both leave it.
    let (same, opposite) = ("M0 0H30V30H0z M10 10H20V20H10z", "M0 0H30V30H0z M10 10V20H20V10z");
    let with = |d: &str, rule: &str| area(&in_mm(&format!(r#"<path fill-rule="{rule}" d="{d}"/>"#)));
    close(with(same, "nonzero"), 900.0, 1e-4);
    close(with(same, "evenodd"), 800.0, 1e-4);
    close(with(opposite, "nonzero"), 800.0, 1e-4);
    close(with(opposite, "evenodd"), 800.0, 1e-4);
}

#[test]
fn transforms_nest() {
    let design = in_mm(
        r#"<g transform="translate(10 20)"><g transform="scale(2 3)"><path transform="rotate(90)" d="M0 0H4V2H0z"/></g></g>"#,
    );
    // Turned by 90 degrees the 4 x 2 box spans x -2..0, y 0..4; then 2 and 3 times, then moved; y flips.
    close_box(design.outline_box(), (6.0, 100.0 - 32.0), (10.0, 100.0 - 20.0));
    close(area(&design), 48.0, 1e-4);
    let skewed = in_mm(r#"<path transform="matrix(1 0 1 1 0 0)" d="M0 0H10V10H0z"/>"#);
    close_box(skewed.outline_box(), (0.0, 90.0), (20.0, 100.0));
    close(area(&skewed), 100.0, 1e-4);
}

#[test]
fn copies_by_use_and_symbol() {
    let design = in_mm(
        r##"<defs><rect id="tile" width="10" height="5"/></defs><use id="left" href="#tile" x="10" y="10"/><use id="right" xlink:href="#tile" transform="translate(50 50) scale(2)"/>"##,
    );
    assert_eq!(areas(&design), [("left", 50.0), ("right", 200.0)]);
    close_box(design.elements[0].region.bounds().unwrap(), (10.0, 85.0), (20.0, 90.0));
    close_box(design.elements[1].region.bounds().unwrap(), (50.0, 40.0), (70.0, 50.0));
    // A symbol's view box maps to the size of its copy, and what sticks out of it is cut off.
    let symbol = in_mm(
        r##"<symbol id="s" viewBox="0 0 10 10"><rect x="5" width="10" height="10"/></symbol><use href="#s" x="20" y="20" width="40" height="40"/>"##,
    );
    close_box(symbol.outline_box(), (40.0, 40.0), (60.0, 80.0));
    // The same, moved: the clip must move along.
    let moved = in_mm(
        r##"<symbol id="s" viewBox="0 0 10 10"><rect x="5" width="10" height="10"/></symbol><use href="#s" width="40" height="40" transform="translate(20 20)"/>"##,
    );
    close_box(moved.outline_box(), (40.0, 40.0), (60.0, 80.0));
}

#[test]
fn nested_drawings_keep_their_own_view_box() {
    let design = in_mm(
        r#"<svg x="10" y="10" width="20" height="20" viewBox="0 0 2 2"><rect width="1" height="2"/></svg>"#,
    );
    close_box(design.outline_box(), (10.0, 70.0), (20.0, 90.0));
}

#[test]
fn style_sheets_and_inherited_paint() {
    let design = in_mm(
        r#"<style>.gone{fill:none} #kept rect{fill:green}</style><g class="gone"><rect width="5" height="5"/><g id="kept"><rect x="20" width="3" height="2"/></g></g>"#,
    );
    close(area(&design), 6.0, 1e-4);
}

// Strokes.

#[test]
fn strokes_become_outlines() {
    let stroke = |attributes: &str, d: &str| {
        area(&in_mm(&format!(r#"<path fill="none" stroke="black" {attributes} d="{d}"/>"#)))
    };
    // A 10 mm line, 2 wide: 10 x 2; square caps add half a width at each end, round caps a disc.
    close(stroke(r#"stroke-width="2""#, "M10 10H20"), 20.0, 1e-4);
    close(stroke(r#"stroke-width="2" stroke-linecap="square""#, "M10 10H20"), 24.0, 1e-4);
    close(stroke(r#"stroke-width="2" stroke-linecap="round""#, "M10 10H20"), 20.0 + PI, 0.01);
    // A dot: a round cap on a line of no length.
    close(stroke(r#"stroke-width="2" stroke-linecap="round""#, "M10 10h0"), PI, 0.01);
    // A closed square frame, 20 across its middle line: mitred corners give 22^2 - 18^2.
    close(stroke(r#"stroke-width="2""#, "M10 10H30V30H10z"), 160.0, 1e-3);
    // Each bevel cuts half a square of half a width off, each round join leaves a quarter disc of it.
    close(stroke(r#"stroke-width="2" stroke-linejoin="bevel""#, "M10 10H30V30H10z"), 158.0, 1e-3);
    close(stroke(r#"stroke-width="2" stroke-linejoin="round""#, "M10 10H30V30H10z"), 156.0 + PI, 0.02);
    // A mitre past its limit (1.414 for a right angle) becomes a bevel.
    close(stroke(r#"stroke-width="2" stroke-miterlimit="1.3""#, "M10 10H30V30H10z"), 158.0, 1e-3);
    // Dashes: 3 on, 2 off along 10 mm, twice.
    close(stroke(r#"stroke-width="2" stroke-dasharray="3 2""#, "M10 10H20"), 12.0, 1e-3);
    close(
        stroke(r#"stroke-width="2" stroke-dasharray="3 2" stroke-dashoffset="1""#, "M10 10H20"),
        12.0,
        1e-3,
    );
    close(
        stroke(r#"stroke-width="2" stroke-dasharray="3 2" stroke-dashoffset="-1e9""#, "M10 10H20"),
        12.0,
        0.1,
    );
    // Dots: dashes of no length with round caps, at 0, 4 and 8 of 10 mm.
    close(
        stroke(r#"stroke-width="2" stroke-linecap="round" stroke-dasharray="0 4""#, "M10 10H20"),
        3.0 * PI,
        0.03,
    );
    close(stroke(r#"stroke-width="2" stroke-linecap="square""#, "M10 10h0"), 4.0, 1e-3);
    // A circle's band: 2 pi r w.
    let band = in_mm(r#"<circle fill="none" stroke="red" stroke-width="2" cx="50" cy="50" r="30"/>"#);
    close(area(&band), 2.0 * PI * 30.0 * 2.0, 0.2);
}

#[test]
fn a_lopsided_transform_squeezes_the_stroke() {
    let design =
        in_mm(r#"<path transform="scale(1 3)" fill="none" stroke="black" stroke-width="2" d="M10 10H20"/>"#);
    close_box(design.outline_box(), (10.0, 67.0), (20.0, 73.0));
}

#[test]
fn fill_and_stroke_are_one_shape() {
    let design = in_mm(r#"<path id="both" stroke="black" stroke-width="2" d="M10 10H30V30H10z"/>"#);
    assert_eq!(areas(&design), [("both", 484.0)]);
}

#[test]
fn hairlines_are_kept_and_said() {
    let design = in_mm(r#"<path fill="none" stroke="red" stroke-width="0.01" d="M10 10H30V30H10z"/>"#);
    close(area(&design), 0.8, 1e-3);
    assert_eq!(messages(&design, Importance::Remark), ["1 stroke is a hairline and was read at that width"]);
}

#[test]
fn invisible_paint_is_no_shape() {
    for gone in [
        r#"fill="none""#,
        r#"opacity="0""#,
        r#"fill-opacity="0""#,
        r#"display="none""#,
        r#"visibility="hidden""#,
        r#"fill="transparent""#,
        r##"fill="#ff000000""##,
    ] {
        let design = in_mm(&format!(r#"<rect {gone} width="50" height="50"/>{SQUARE}"#));
        assert_eq!(areas(&design), [("square", 100.0)], "{gone}");
    }
    let design = in_mm(&format!(r#"<g opacity="0"><rect width="50" height="50"/></g>{SQUARE}"#));
    close(area(&design), 100.0, 1e-4);
}

// Clips.

#[test]
fn clip_paths_are_applied() {
    let clipped = |clip: &str, content: &str| area(&in_mm(&format!("<defs>{clip}</defs>{content}")));
    let rect = r#"<rect width="40" height="40" clip-path="url(#c)"/>"#;
    close(clipped(r#"<clipPath id="c"><rect x="30" width="40" height="20"/></clipPath>"#, rect), 200.0, 1e-3);
    // The union of what is in the clip path.
    close(
        clipped(
            r#"<clipPath id="c"><rect width="10" height="10"/><rect x="5" width="10" height="10"/></clipPath>"#,
            rect,
        ),
        150.0,
        1e-3,
    );
    // Its own fill rule, transform and units.
    close(
        clipped(
            r#"<clipPath id="c"><path clip-rule="evenodd" d="M0 0H30V30H0z M10 10H20V20H10z"/></clipPath>"#,
            rect,
        ),
        800.0,
        1e-3,
    );
    close(
        clipped(
            r#"<clipPath id="c" transform="translate(20 0)"><rect transform="scale(2)" width="5" height="5"/></clipPath>"#,
            rect,
        ),
        100.0,
        1e-3,
    );
    close(
        clipped(
            r#"<clipPath id="c" clipPathUnits="objectBoundingBox"><rect width="0.5" height="0.25"/></clipPath>"#,
            rect,
        ),
        200.0,
        1e-3,
    );
    // The clip stands in the coordinates of what it clips.
    close(
        clipped(
            r#"<clipPath id="c"><rect width="10" height="10"/></clipPath>"#,
            r#"<g transform="translate(50 50) scale(2)" clip-path="url(#c)"><rect x="5" width="40" height="40"/></g>"#,
        ),
        200.0,
        1e-3,
    );
    // Clips of clips, and of their parts.
    close(
        clipped(
            r#"<clipPath id="d"><rect width="10" height="10"/></clipPath><clipPath id="c" clip-path="url(#d)"><rect x="5" width="40" height="40"/></clipPath>"#,
            rect,
        ),
        50.0,
        1e-3,
    );
    close(
        clipped(
            r#"<clipPath id="d"><rect width="10" height="10"/></clipPath><clipPath id="c"><rect clip-path="url(#d)" x="5" width="40" height="40"/></clipPath>"#,
            rect,
        ),
        50.0,
        1e-3,
    );
    let design = in_mm(
        r#"<clipPath id="c"><rect width="10" height="10"/></clipPath><rect width="40" height="40" clip-path="url(#c)"/>"#,
    );
    assert_eq!(
        messages(&design, Importance::Remark),
        ["1 clip path was applied; what it hides is not carved"]
    );
}

#[test]
fn an_element_clipped_away_is_dropped_and_said() {
    let said = left_out(
        r#"<clipPath id="c"><rect x="80" width="5" height="5"/></clipPath><rect id="gone" width="40" height="40" clip-path="url(#c)"/>"#,
    );
    assert_eq!(said, ["The element “gone” was left out: none of it shows, or it has no area"]);
}

// Elements.

#[test]
fn what_is_painted_later_is_taken_from_what_is_below() {
    let design = in_mm(
        r#"<rect id="board" width="40" height="40"/><rect id="heart" x="10" y="10" width="20" height="20" fill="red"/><rect id="dot" x="15" y="15" width="5" height="5" fill="blue"/>"#,
    );
    assert_eq!(areas(&design), [("board", 1200.0), ("heart", 375.0), ("dot", 25.0)]);
    let partly =
        in_mm(r#"<rect id="a" width="20" height="20"/><rect id="b" x="10" y="10" width="20" height="20"/>"#);
    assert_eq!(areas(&partly), [("a", 300.0), ("b", 400.0)]);
}

#[test]
fn an_element_that_is_covered_is_dropped_and_said() {
    let design = in_mm(
        r#"<rect id="below" x="5" y="5" width="5" height="5"/><rect id="above" width="20" height="20"/>"#,
    );
    assert_eq!(areas(&design), [("above", 400.0)]);
    assert_eq!(
        messages(&design, Importance::LeftOut),
        ["The element “below” was left out: none of it shows, or it has no area"]
    );
}

#[test]
fn the_outermost_id_names_an_element() {
    let design = in_mm(
        r#"<g id="border"><rect width="10" height="10"/><rect id="inner" x="20" width="5" height="5"/></g><g><rect id="leaf" x="40" width="4" height="4"/><rect x="60" width="3" height="3"/></g><rect x="80" width="2" height="2"/>"#,
    );
    assert_eq!(areas(&design), [("border", 125.0), ("leaf", 16.0), ("outline", 13.0)]);
}

#[test]
fn a_group_round_everything_is_a_wrapper() {
    let design = in_mm(
        r#"<g id="layer1"><g id="page"><rect id="a" width="10" height="10"/><g id="b"><rect id="b1" x="20" width="5" height="5"/><rect id="b2" x="30" width="5" height="5"/></g></g></g>"#,
    );
    assert_eq!(areas(&design), [("a", 100.0), ("b", 50.0)]);
    // But not where it holds no further ids.
    let design = in_mm(
        r#"<g id="layer1"><g id="sign"><rect width="10" height="10"/><rect x="20" width="5" height="5"/></g></g>"#,
    );
    assert_eq!(areas(&design), [("sign", 125.0)]);
}

#[test]
fn names_are_unique_and_one_line() {
    let design = in_mm(
        "<rect id='a' width='10' height='10'/><rect id='a' x='20' width='5' height='5'/><rect id='outline' x='40' width='4' height='4'/><rect x='60' width='3' height='3'/><rect id=' x&#10;y ' x='80' width='3' height='3'/>",
    );
    let names: Vec<&str> = design.elements.iter().map(|element| element.name.as_str()).collect();
    assert_eq!(names, ["a", "a 2", "outline", "outline 2", "x y"]);
}

#[test]
fn too_many_ids_are_one_element() {
    let mut content = String::from("<g id='layer1'>");
    for index in 0..=design::MAX_ELEMENTS {
        write!(content, "<rect id='r{index}' x='{index}' width='0.5' height='1'/>").unwrap();
    }
    content += "</g>";
    let design = in_mm(&content);
    let [(name, area)] = areas(&design)[..] else { panic!("{}", areas(&design).len()) };
    assert_eq!(name, "layer1");
    close(area, 2500.5, 0.01);
    let told = "The drawing has 5001 parts with ids, more than 5000, so all of it is one element";
    assert_eq!(messages(&design, Importance::Remark)[0], told);
}

#[test]
fn white_is_bare_page_inside_an_element() {
    let design = in_mm(
        r#"<rect id="below" width="40" height="40"/><g id="ring"><circle cx="20" cy="20" r="10"/><rect x="15" y="15" width="10" height="10" fill="white"/></g>"#,
    );
    let ring = PI * 100.0;
    assert_eq!(design.elements.len(), 2);
    close(design.elements[0].region.area(), 1600.0 - ring, 0.3);
    close(design.elements[1].region.area(), ring - 100.0, 0.3);
    assert_eq!(
        messages(&design, Importance::Remark),
        ["1 white shape was read as bare page: it cuts away what lies under it"]
    );
}

#[test]
fn an_element_white_all_over_is_an_element() {
    let design = in_mm(
        r##"<rect id="board" width="40" height="40"/><rect id="letter" fill="#fff" width="10" height="10"/>"##,
    );
    assert_eq!(areas(&design), [("board", 1500.0), ("letter", 100.0)]);
    let alone = in_mm(r#"<rect fill="white" width="40" height="40"/>"#);
    assert_eq!(areas(&alone), [("outline", 1600.0)]);
}

#[test]
fn a_white_page_is_no_element() {
    let design = in_mm(
        r#"<rect id="paper" fill="white" width="100" height="100"/><rect id="sign" width="10" height="10"/>"#,
    );
    assert_eq!(areas(&design), [("sign", 100.0)]);
    assert_eq!(
        messages(&design, Importance::Remark),
        ["The white element “paper” covers the whole page and was read as the page"]
    );
    let coloured = read(
        r#"<svg xmlns="http://www.w3.org/2000/svg" style="background-color:#eee" width="100mm" height="100mm" viewBox="0 0 100 100"><rect width="10" height="10"/></svg>"#,
    );
    close(area(&coloured), 100.0, 1e-3);
}

#[test]
fn the_same_bytes_give_the_same_design() {
    let text = mm_text(
        r#"<g id="a"><circle cx="50" cy="50" r="40"/></g><g id="b"><path stroke="red" stroke-width="3" d="M0 0L90 80Q20 10 5 60"/></g>"#,
    );
    assert_eq!(design::read("x", text.as_bytes()).unwrap(), design::read("x", text.as_bytes()).unwrap());
}

// What is left out is said, with counts.

#[test]
fn what_is_left_out_is_said() {
    let check = |content: &str, said: &str| assert_eq!(left_out(content), [said], "{content}");
    let png = "data:image/png;base64,iVBORw0KGgo=";
    check(&format!("<image href='{png}' width='9' height='9'/>"), "1 picture in the file was left out");
    check(
        &format!(
            "<image href='{png}' width='9' height='9'/><image xlink:href='{png}' width='9' height='9'/>"
        ),
        "2 pictures in the file were left out",
    );
    let svg = "data:image/svg+xml;utf8,&lt;svg xmlns='http://www.w3.org/2000/svg'&gt;&lt;rect width='9' height='9'/&gt;&lt;/svg&gt;";
    check(&format!("<image href=\"{svg}\" width='9' height='9'/>"), "1 picture in the file was left out");
    check(
        "<image href='/etc/hostname.png' width='9' height='9'/>",
        "1 picture is in another file and was left out; Spelk never opens other files",
    );
    check(
        "<use href='other.svg#part'/>",
        "1 link to another file or address was ignored; Spelk reads nothing outside the file",
    );
    check(
        "<style>@import url('http://example.org/a.css');</style>",
        "2 links to other files or addresses were ignored; Spelk reads nothing outside the file",
    );
    check("<use href='#nowhere'/>", "1 copy was left out: what it copies is not in the file");
    check(
        "<rect fill='url(#nowhere)' width='9' height='9'/>",
        "1 fill or stroke uses a paint that is not in the file, and may be missing",
    );
    check("<path d='M30 30H40V40z L'/>", "1 path has an error in its data and was read up to the error");
    check(
        "<filter id='f'><feGaussianBlur stdDeviation='2'/></filter><rect filter='url(#f)' width='9' height='9'/>",
        "1 filter effect (blur, shadow and the like) was left out",
    );
    check(
        "<mask id='m'><rect width='2' height='2' fill='white'/></mask><rect style='mask:url(#m)' width='9' height='9'/>",
        "1 mask was left out; the parts it hides will show",
    );
    check(
        &format!(
            "<marker id='k'>{}</marker><path stroke='black' d='M30 30{}' marker-mid='url(#k)'/>",
            "<rect width='2' height='2'/>".repeat(1_000),
            "h1h-1".repeat(600)
        ),
        "1 line has more markers (arrowheads and the like) than Spelk reads; they were left out",
    );
    check("<script>alert(1)</script>", "1 script was left out; Spelk never runs one");
    check(
        "<rect width='9' height='9'><animate attributeName='x' to='50'/></rect>",
        "1 animation was left out; the drawing is read as it starts",
    );
    check(
        "<foreignObject width='9' height='9'><p xmlns='http://www.w3.org/1999/xhtml'>hi</p></foreignObject>",
        "1 item of another kind (a web page, a film) was left out",
    );
    check(
        "<pattern id='p' width='2' height='2' patternUnits='userSpaceOnUse'><rect width='1' height='1'/></pattern><rect fill='url(#p)' width='9' height='9'/>",
        "1 shape is painted with a pattern and was read as solid",
    );
    check(
        "<path vector-effect='non-scaling-stroke' stroke='black' d='M30 30h9'/>",
        "1 stroke is set to keep its width when the drawing is scaled; it was scaled all the same",
    );
    check(
        "<path stroke='black' stroke-dasharray='1e-7' d='M30 30h9'/>",
        "1 dashed stroke has dashes too fine to follow and was read as a solid line",
    );
}

#[test]
fn a_filter_that_does_not_exist_does_not_hide_a_shape() {
    let design = in_mm(r#"<rect id="a" filter="url(#nowhere)" width="9" height="9"/>"#);
    assert_eq!(areas(&design), [("a", 81.0)]);
}

#[test]
fn gradients_are_solid() {
    let design = in_mm(
        "<linearGradient id='g'><stop stop-color='white'/><stop offset='1'/></linearGradient><rect fill='url(#g)' width='9' height='9'/>",
    );
    close(area(&design), 81.0, 1e-3);
    assert!(design.notices.is_empty(), "{:?}", design.notices);
}

#[test]
fn text_is_drawn_or_missed_aloud() {
    let design = in_mm(&format!(
        "<text x='10' y='50' font-size='20' font-family='No Such Face Anywhere'>Oak</text>{SQUARE}"
    ));
    assert_eq!(
        messages(&design, Importance::Remark),
        ["1 text was drawn with this machine's fonts and may look different on another"]
    );
    assert_eq!(
        messages(&design, Importance::LeftOut),
        [
            "The font “No Such Face Anywhere” is not on this machine, or is damaged; Spelk used another, or left the text out"
        ]
    );
}

#[test]
fn hidden_layers_and_stray_parts_are_said() {
    let design = in_mm(&format!("<g style='display:none'><rect width='9' height='9'/></g>{SQUARE}"));
    assert_eq!(messages(&design, Importance::Remark), ["1 hidden object was skipped"]);
    let design = in_mm("<rect x='95' width='20' height='9'/>");
    assert_eq!(
        messages(&design, Importance::Remark),
        ["Part of the drawing lies off its page; all of it is carved"]
    );
}

#[test]
fn a_drawing_far_from_its_origin_is_said_to_be_rough() {
    let design = in_mm("<g transform='translate(-900000 0)'><rect x='900000' width='9' height='9'/></g>");
    assert!(
        messages(&design, Importance::Remark)[0].starts_with("The drawing lies far from its own origin"),
        "{:?}",
        design.notices
    );
}

// What editors write.

#[test]
fn markers_are_shapes() {
    let arrow = "<marker id='k' markerUnits='userSpaceOnUse' markerWidth='4' markerHeight='4' orient='auto'><path d='M0 0H4V4H0z'/></marker>";
    let line = in_mm(&format!(
        "{arrow}<path id='line' fill='none' stroke='black' d='M30 30h20v20' marker-start='url(#k)' marker-mid='url(#k)' marker-end='url(#k)'/>"
    ));
    // A line of 40 x 1 with a mitred corner, and a square of 16 at each of three corners, each of which
    // covers some of the line: half its width along four millimetres, but for the one that turns away.
    let squares: f64 = area(&line) - 40.0;
    assert!((36.0..=48.0).contains(&squares), "{squares}");
    let by_sheet = in_mm(&format!(
        "<style>.arrow{{marker-end:url(#k)}}</style>{arrow}<path class='arrow' fill='none' stroke='black' d='M30 30h20'/>"
    ));
    close(area(&by_sheet), 20.0 + 16.0, 1e-3);
}

#[test]
fn layers_are_named_as_in_the_editor() {
    let design = in_mm(
        "<g xmlns:e='http://example.org/editor' id='layer1' e:groupmode='layer' e:label='Oak leaf'><rect id='r7' width='10' height='10'/></g><g xmlns:e='http://example.org/editor' id='layer2' e:groupmode='layer' e:label='Oak leaf'><rect x='20' width='5' height='5'/></g><g id='g3' label='no namespace, no name'><rect x='40' width='2' height='2'/></g>",
    );
    assert_eq!(areas(&design), [("Oak leaf", 100.0), ("Oak leaf 2", 25.0), ("g3", 4.0)]);
}

#[test]
fn layers_in_layers_are_elements() {
    let layer = |id: &str, label: &str, content: &str| {
        format!("<g id='{id}' xmlns:e='http://example.org/editor' e:label='{label}'>{content}</g>")
    };
    let letters = layer("g3", "Letters", "<rect id='p1' x='2' y='2' width='2' height='4'/>");
    let plain = "<g id='g9'><rect x='6' y='2' width='1' height='1' fill='red'/></g>";
    let holes = layer("g4", "Holes", "<rect x='8' y='8' width='1' height='1' fill='white'/>");
    let sign = format!("<rect id='r' width='10' height='10'/>{plain}{letters}{holes}");
    let border = layer("g2", "Border", "<rect x='20' width='5' height='5'/>");
    let design = in_mm(&(layer("g1", "Sign", &sign) + &border));
    // A group that nobody named belongs to its layer, and a layer that only cuts away does so.
    assert_eq!(areas(&design), [("Sign", 91.0), ("Sign / Letters", 8.0), ("Border", 25.0)]);
    // A layer round everything is a wrapper; what is loose in it is not called after it.
    let design = in_mm(&layer("g1", "Sign", &format!("<rect width='10' height='10'/>{letters}")));
    assert_eq!(areas(&design), [("outline", 92.0), ("Letters", 8.0)]);
    // More of them than anybody sets: the outer ones count.
    let many: String = (0..=design::MAX_ELEMENTS)
        .map(|i| layer(&format!("n{i}"), "Leaf", &format!("<rect x='{i}' y='20' width='0.5' height='1'/>")))
        .collect();
    let design = in_mm(&(layer("g1", "Sign", &many) + &border));
    let [(sign, area), border] = areas(&design)[..] else { panic!("{}", areas(&design).len()) };
    assert_eq!((sign, border), ("Sign", ("Border", 25.0)));
    close(area, 2500.5, 0.01);
}

#[test]
fn groups_that_a_person_named_are_elements_and_make_a_tree() {
    let design = in_mm(
        r##"<g id="sign"><rect width="10" height="10" fill="#aa0000"/><g id="letters" fill="#00aa00">
            <g id="row"><rect x="1" y="1" width="2" height="2"/><g id="g12"><rect x="5" y="1" width="2" height="2"/></g></g>
            <path id="dot" d="M5 5h1v1h-1z"/></g></g>
          <g id="rim"><rect x="20" width="5" height="5" fill="red"/><rect x="30" width="5" height="5" fill="blue"/></g>
          <g id="Row_2"><g id="row" fill="#0f0"><rect x="40" width="5" height="5"/></g></g>"##,
    );
    let found: Vec<(&str, &str, String, String)> = design
        .elements
        .iter()
        .map(|element| {
            let color = element.origin.color.map_or_else(String::new, |color| color.to_string());
            (element.name.as_str(), element.short_name(), element.origin.groups.join("/"), color)
        })
        .collect();
    let row = |name, short, groups: &str, color: &str| (name, short, groups.to_owned(), color.to_owned());
    let expected = [
        row("sign", "sign", "sign", "#aa0000"),
        row("sign / letters / row", "row", "sign/letters", "#00aa00"),
        row("sign / letters", "sign / letters", "sign/letters", "#00aa00"),
        row("rim", "rim", "", ""),
        row("Row_2 / row", "row", "Row_2", "#00ff00"),
    ];
    assert_eq!(found, expected);
    assert_eq!(design.called("letters"), [1, 2], "a group means all in it");
    assert_eq!(design.called("sign"), [0, 1, 2]);
    assert_eq!(design.called("sign / letters / row"), [1]);
    assert_eq!(design.called("rim"), [3]);
    assert!(design.called("dot").is_empty());
    assert_eq!(design.colors().len(), 4, "two greens, a red, and one of several colours");
}

#[test]
fn open_hairlines_are_offered_as_strokes() {
    let text = mm_text(
        "<g fill='none' stroke='red' stroke-width='0.01'><path id='open' d='M10 10H40'/><path id='closed' d='M10 30H30V50H10z'/></g><path id='broad' stroke='black' stroke-width='2' fill='none' d='M60 60H80'/>",
    );
    let plain = design::read_with("test", text.as_bytes(), &ReadOptions::default()).unwrap();
    assert_eq!(plain.open_outlines, 1);
    let options = ReadOptions { open_as_strokes: Some(Mm::new(3.0)), ..ReadOptions::default() };
    let stroked = design::read_with("test", text.as_bytes(), &options).unwrap();
    stroked.design.check_invariants();
    let found = areas(&stroked.design);
    close(found[0].1, 90.0 + PI * 2.25, 0.1);
    assert_eq!(found[1..], [("closed", 400.0), ("broad", 40.0)]);
    assert_eq!(
        messages(&stroked.design, Importance::Remark),
        ["1 outline does not close and was read as a stroke 3 mm wide"]
    );
}

#[test]
fn a_size_nobody_stated_can_be_chosen() {
    let text =
        r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 96 48"><path d="M0 0H96V48H0z"/></svg>"#;
    let asked = design::read_with("test", text.as_bytes(), &ReadOptions::default()).unwrap();
    let unstated = asked.unstated.unwrap();
    assert_eq!(unstated.taken, DrawingUnit::Pixel);
    let sizes: Vec<f64> = unstated.readings.iter().map(|reading| reading.size.x).collect();
    for (got, expected) in sizes.iter().zip([96.0, 25.4, 96.0 * 25.4 / 72.0, 96.0 * 25.4]) {
        close(*got, expected, 1e-3);
    }
    for reading in unstated.readings {
        let options = ReadOptions { unit: Some(reading.unit), ..ReadOptions::default() };
        let chosen = design::read_with("test", text.as_bytes(), &options).unwrap();
        close(chosen.design.outline_box().size().x, reading.size.x, 1e-3);
        close(chosen.design.page.unwrap().size().y, reading.size.y, 1e-3);
        assert_eq!(chosen.unstated.map(|unstated| unstated.taken), Some(reading.unit));
    }
    let stated = design::read_with("test", mm_text(SQUARE).as_bytes(), &ReadOptions::default()).unwrap();
    assert_eq!(stated.unstated, None);
}

// Bad files.

#[test]
fn files_that_cannot_be_opened() {
    let folder = tempfile::tempdir().unwrap();
    let open = |name: &str| design::open(&folder.path().join(name)).unwrap_err().to_string();
    assert_eq!(open("nothing.svg"), "is not there; check the name and the folder");
    assert_eq!(open(""), "is a folder; choose an SVG or DXF file in it");
    std::fs::write(folder.path().join("empty.svg"), "").unwrap();
    assert_eq!(open("empty.svg"), "is empty; save the drawing again");
    let sparse = std::fs::File::create(folder.path().join("large.svg")).unwrap();
    sparse.set_len(200_000_000).unwrap();
    assert_eq!(
        open("large.svg"),
        "is larger than 64 MB; simplify the drawing, or take out any pictures in it"
    );
}

#[cfg(unix)]
#[test]
fn devices_are_not_waited_for() {
    assert_eq!(
        design::open("/dev/zero".as_ref()).unwrap_err().to_string(),
        "is not an ordinary file; save the drawing to a file first"
    );
}

/// A process's own memory is a file that opens for its owner and reads for nobody, not even the superuser,
/// whom no permission stops.
#[cfg(target_os = "linux")]
#[test]
fn a_file_that_cannot_be_read() {
    let message = design::open("/proc/self/mem".as_ref()).unwrap_err().to_string();
    assert!(
        message.starts_with("cannot be read (") && message.ends_with("check that you may open it"),
        "{message}"
    );
}

#[test]
fn a_file_is_named_after_itself() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("oak leaf.svg");
    std::fs::write(&path, mm_text(SQUARE)).unwrap();
    assert_eq!(design::open(&path).unwrap().name, "oak leaf");
}

#[test]
fn other_kinds_of_file() {
    let check = |bytes: &[u8], found: &str| {
        assert_eq!(
            refused(bytes),
            format!(
                "is not an SVG or DXF drawing but {found}; draw or trace the outlines and save them as SVG"
            )
        );
    };
    for (bytes, found) in
        [(&b"\x89PNG\r\n\x1a\n\0\0"[..], "a PNG picture"), (b"\xff\xd8\xff\xe0", "a JPEG picture")]
    {
        let message = refused(bytes);
        assert!(message.contains(found) && message.ends_with("with spelk trace"), "{message}");
    }
    check(b"%PDF-1.7", "a PDF document");
    check(b"\0\x01\x02\x03", "a binary file");
    check(b"hello", "some other file, not XML at all");
    check(b"{\"a\": 1}", "some other file, not XML at all");
    check(b"<html><body/></html>", "an XML document of the kind <html>");
    check(b"<!-- nothing -->", "an XML document with no elements");
    assert_eq!(refused(b" \n\t "), "is empty; save the drawing again");
    assert_eq!(
        refused(b"<svg>\xff\xfe\xfa</svg>"),
        "is not UTF-8 text; save the drawing as plain SVG in UTF-8"
    );
    assert_eq!(refused(b"\xff\xfe<\0s\0"), "is not UTF-8 text; save the drawing as plain SVG in UTF-8");
}

#[test]
fn a_byte_order_mark_is_no_trouble() {
    let text = format!("\u{feff}<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{}", mm_text(SQUARE));
    close(area(&read(&text)), 100.0, 1e-3);
}

#[test]
fn damaged_and_truncated_files() {
    assert_eq!(
        refused(b"<svg xmlns='http://www.w3.org/2000/svg'>\n<rect width=5/></svg>"),
        "is damaged at line 2, column 13: expected a quote not '5'; save it again as plain SVG"
    );
    let whole = mm_text(r#"<g id="a"><path d="M0 0H10V10z"/></g>"#);
    for length in 1..whole.len() {
        refused(&whole.as_bytes()[..length]);
    }
    assert_eq!(
        refused(&whole.as_bytes()[..whole.len() - 3]),
        "is cut short: its last element never closes; save or download it again"
    );
    assert_eq!(
        refused(&whole.as_bytes()[..whole.len() - 20]),
        "is cut short: its last element never closes; save or download it again"
    );
}

#[test]
fn nesting_is_followed_to_a_stated_depth() {
    let nested = |depth: usize| mm_text(&format!("{}{SQUARE}{}", "<g>".repeat(depth), "</g>".repeat(depth)));
    close(area(&read(&nested(design::MAX_DEPTH - 2))), 100.0, 1e-3);
    let message = "nests groups or copies more than 500 deep; ungroup the drawing and save it again";
    assert_eq!(refused(nested(design::MAX_DEPTH + 1).as_bytes()), message);
    assert_eq!(refused(nested(100_000).as_bytes()), message);
    let unclosed = "<svg xmlns='http://www.w3.org/2000/svg'>".to_owned() + &"<g>".repeat(1_000_000);
    assert!(refused(unclosed.as_bytes()).starts_with("is cut short"));
}

#[test]
fn copies_of_copies_do_not_multiply_without_end() {
    let mut content = String::from("<defs><rect id='u0' width='1' height='1'/>");
    for level in 1..=9 {
        write!(content, "<g id='u{level}'>").unwrap();
        content += &format!("<use href='#u{}'/>", level - 1).repeat(10);
        content += "</g>";
    }
    content += "</defs><use href='#u9'/>";
    assert_eq!(
        refused(mm_text(&content).as_bytes()),
        "has more than 1000000 objects, copies included; simplify the drawing or carve it in parts"
    );
}

#[test]
fn a_chain_of_copies_is_followed_or_refused() {
    let chain = |links: usize| {
        let mut content = String::from("<rect id='u0' width='10' height='10'/>");
        for link in 1..=links {
            write!(content, "<g id='u{link}'><use href='#u{}'/></g>", link - 1).unwrap();
        }
        mm_text(&format!("<defs>{content}</defs><use href='#u{links}'/>"))
    };
    close(area(&read(&chain(100))), 100.0, 1e-3);
    close(area(&read(&chain(300))), 100.0, 1e-3);
    assert_eq!(
        refused(chain(700).as_bytes()),
        "nests groups or copies more than 500 deep; ungroup the drawing and save it again"
    );
    let _ = refused(chain(50_000).as_bytes());
}

#[test]
fn loops_of_references_end() {
    for looped in [
        "<use id='a' href='#a'/>",
        "<clipPath id='c' clip-path='url(#c)'><rect width='9' height='9'/></clipPath><rect clip-path='url(#c)' width='9' height='9'/>",
        "<clipPath id='c'><rect width='9' height='9' clip-path='url(#d)'/></clipPath><clipPath id='d'><rect width='9' height='9' clip-path='url(#c)'/></clipPath><rect clip-path='url(#c)' width='9' height='9'/>",
        "<pattern id='p' width='2' height='2'><rect fill='url(#p)' width='9' height='9'/></pattern><rect fill='url(#p)' width='9' height='9'/>",
    ] {
        // Whatever becomes of the loop, the square is there.
        let design = in_mm(&format!("{looped}<rect id='s' x='50' y='50' width='10' height='10'/>"));
        assert!(area(&design) >= 99.9, "{looped}");
    }
    let in_turn = "<g id='a'><use href='#b'/></g><g id='b'><use href='#a'/></g>";
    assert!(refused(mm_text(in_turn).as_bytes()).starts_with("nests groups or copies"));
}

#[test]
fn entities_do_not_grow() {
    let mut text = String::from("<!DOCTYPE svg [<!ENTITY a0 \"hahahaha\">");
    for level in 1..10 {
        write!(text, "<!ENTITY a{level} \"{}\">", format!("&a{};", level - 1).repeat(10)).unwrap();
    }
    text += "]>";
    text += &mm_text("<desc>&a9;</desc>");
    let message = "defines text that would unpack to a huge size; save it again as plain SVG";
    assert_eq!(refused(text.as_bytes()), message);
    let flat = format!(
        "<!DOCTYPE svg [<!ENTITY a \"{}\">]>{}",
        "x".repeat(100_000),
        mm_text(&format!("<desc>{}</desc>", "&a;".repeat(10_000)))
    );
    assert_eq!(refused(flat.as_bytes()), message);
}

#[test]
fn entities_as_shorthands_work_and_outside_ones_are_not_opened() {
    let shorthand =
        format!("<!DOCTYPE svg [<!ENTITY w \"10\">]>{}", mm_text("<rect width='&w;' height='&w;'/>"));
    close(area(&read(&shorthand)), 100.0, 1e-3);
    let outside = format!(
        "<!DOCTYPE svg [<!ENTITY x SYSTEM \"file:///etc/hostname\">]>\n{}",
        mm_text("<text>&x;</text>")
    );
    assert!(
        refused(outside.as_bytes()).starts_with("is damaged at line 2"),
        "{}",
        refused(outside.as_bytes())
    );
}

#[test]
fn wild_numbers() {
    let check = |content: &str, value: &str| {
        assert_eq!(
            refused(mm_text(&format!("\n{content}")).as_bytes()),
            format!(
                "has the coordinate {value} at line 2, which is no place on a drawing; correct or delete it"
            )
        );
    };
    check("<path d='M0 0L1e300 0 0 10z'/>", "1e300");
    check("<path d='M0 0L-1e300 0 0 10z'/>", "1e300");
    check("<path d='M NaN 0 L 5 5 0 9z'/>", "NaN");
    check("<rect width='Infinity' height='3'/>", "Inf");
    check("<rect x='1e40' width='3' height='3'/>", "1e40");
    check("<g transform='scale(1e200)'><rect width='3' height='3'/></g>", "1e200");
    check(&format!("<rect width='{}' height='3'/>", "9".repeat(400)), &"9".repeat(24));
    let root = "<svg xmlns='http://www.w3.org/2000/svg' width='1e300mm' height='1mm'><rect width='3' height='3'/></svg>";
    assert!(refused(root.as_bytes()).contains("coordinate 1e300"));
}

#[test]
fn sizes_that_cannot_be_meant() {
    let check = |size: &str, content: &str, message: &str| {
        let text = format!("<svg xmlns='http://www.w3.org/2000/svg' {size}>{content}</svg>");
        assert_eq!(refused(text.as_bytes()), message, "{size}");
    };
    let rect = "<rect width='10' height='10'/>";
    let zero = "states a width or height of zero; set the page size in the drawing program";
    check("width='0' height='10mm'", rect, zero);
    check("width='10mm' height='-5mm'", rect, zero);
    check("width='0mm' height='0mm' viewBox='0 0 10 10'", rect, zero);
    check(
        "width='200m' height='200m' viewBox='0 0 10 10'",
        "<path d='M0 0H1e8V9z'/>",
        "is 26458 m long as drawn, and 100 m is the most; check the units it was saved in",
    );
    check(
        "width='200000mm' height='10mm'",
        rect,
        "is 200 m long as drawn, and 100 m is the most; check the units it was saved in",
    );
    check(
        "width='0.00001mm' height='0.00001mm' viewBox='0 0 10 10'",
        rect,
        "is under a micrometre long as drawn; check the units it was saved in",
    );
    check(
        "viewBox='0 0 10 10'",
        "<rect width='0' height='10'/>",
        "has nothing to carve: it has no filled shape and no stroke that encloses an area; close the outlines and fill them",
    );
}

#[test]
fn nothing_to_carve() {
    let check = |content: &str, found: &str| {
        assert_eq!(
            refused(mm_text(content).as_bytes()),
            format!("has nothing to carve: {found}"),
            "{content}"
        );
    };
    let no_shape =
        "it has no filled shape and no stroke that encloses an area; close the outlines and fill them";
    check("", no_shape);
    check("<path d='M0 0L10 10'/>", no_shape);
    check("<path d='M0 0L10 10H5z' fill='none'/>", no_shape);
    check("<path d=''/>", no_shape);
    check("<defs><rect width='5' height='5'/></defs>", no_shape);
    check(
        "<image href='data:image/png;base64,iVBORw0KGgo=' width='9' height='9'/>",
        "it only shows pictures, which have no outline; trace one of them with spelk trace",
    );
}

#[test]
fn compressed_drawings_are_unpacked_up_to_the_limit() {
    use std::io::Write as _;
    let packed = |text: &[u8]| {
        let mut encoder = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::fast());
        encoder.write_all(text).unwrap();
        encoder.finish().unwrap()
    };
    let good = packed(mm_text(SQUARE).as_bytes());
    close(area(&design::read("test", &good).unwrap()), 100.0, 1e-3);
    let damaged = "is compressed and damaged; save it again as plain SVG";
    assert_eq!(refused(&good[..good.len() / 2]), damaged);
    assert_eq!(refused(&[0x1f, 0x8b]), damaged);
    let bomb = packed(&vec![b' '; 100_000_000]);
    assert!(bomb.len() < 1_000_000, "a bomb is small");
    assert_eq!(refused(&bomb), "is larger than 64 MB; simplify the drawing, or take out any pictures in it");
}

#[test]
fn too_many_edges_are_refused() {
    // 1.2 million edges, by copies.
    let zigzag: String = (0..2_000).fold("M0 0".to_owned(), |mut path, index| {
        write!(path, "L{} {}", index % 50, 1 + index % 2).unwrap();
        path
    });
    let content = format!("<path id='z' d='{zigzag}'/>{}", "<use href='#z'/>".repeat(600));
    assert_eq!(
        refused(mm_text(&content).as_bytes()),
        "has more than 400000 edges; simplify its paths or carve it in parts"
    );
}

#[test]
fn a_tangle_is_refused_in_good_time() {
    // 20,000 lines across the page, each crossing about a third of the others.
    let mut state = 7_u64;
    let mut next = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as f64 / f64::from(1_u32 << 31) * 100.0
    };
    let mut d = "M0 0".to_owned();
    for _ in 0..20_000 {
        write!(d, "L{:.3} {:.3}", next(), next()).unwrap();
    }
    let start = Instant::now();
    assert_eq!(
        refused(mm_text(&format!("<path d='{d}'/>")).as_bytes()),
        "crosses itself too many times to untangle; simplify its paths or join them into one shape"
    );
    assert!(start.elapsed() < Duration::from_secs(20), "took {:?}", start.elapsed());
}

#[test]
fn a_deep_stack_of_black_and_white_is_settled_in_good_time() {
    let mut content = String::new();
    for index in 0..900 {
        let color = if index % 2 == 0 { "black" } else { "white" };
        write!(content, "<rect fill='{color}' width='{w}' height='{w}'/>", w = 90.0 - f64::from(index) * 0.1)
            .unwrap();
    }
    let start = Instant::now();
    let design = in_mm(&content);
    assert!(start.elapsed() < Duration::from_secs(20), "took {:?}", start.elapsed());
    // Every other of the L-shaped steps between squares of side 90 - 0.1 n is black.
    let side = |n: i32| 90.0 - f64::from(n) * 0.1;
    let black: f64 = (0..450).map(|n| side(2 * n).powi(2) - side(2 * n + 1).powi(2)).sum();
    close(area(&design), black, 0.1);
}

#[test]
fn styles_and_attributes_without_end_are_refused() {
    let message = "has too many style rules, attributes, nested clip paths or ends of one path; save it again as plain SVG";
    let attributes: String = (0..20_000).fold(String::new(), |mut text, index| {
        write!(text, " a{index}='1'").unwrap();
        text
    });
    assert_eq!(refused(mm_text(&format!("<rect{attributes}/>")).as_bytes()), message);
    let style = "fill:red;".repeat(100_000);
    assert_eq!(
        refused(mm_text(&format!("<rect style='{style}' width='9' height='9'/>")).as_bytes()),
        message
    );
}

#[test]
fn patterns_of_patterns_do_not_multiply() {
    let mut content = String::from("<style>");
    for level in 0..10 {
        write!(content, ".k{level}{{fill:url(#p{level})}}").unwrap();
    }
    content += "</style><defs>";
    for level in 0..9 {
        write!(content, "<pattern id='p{level}' width='.1' height='.1'>").unwrap();
        content += &format!("<rect class='k{}' width='1' height='1'/>", level + 1).repeat(10);
        content += "</pattern>";
    }
    content += "</defs><rect class='k0' width='9' height='9'/>";
    let start = Instant::now();
    close(area(&in_mm(&content)), 81.0, 1e-3);
    assert!(start.elapsed() < Duration::from_secs(5), "took {:?}", start.elapsed());
}

#[test]
fn a_message_is_one_line_whatever_the_file_says() {
    for text in
        ["<svg xmlns='x'>&a\nb;</svg>", "<a\u{7}b/>", "<svg><g a='1' a='1'/></svg>", "<svg></g></svg>"]
    {
        let _ = refused(text.as_bytes());
    }
    let long = format!("<{}/>", "x".repeat(10_000));
    assert!(refused(long.as_bytes()).len() < 300, "short");
}

#[test]
fn the_sizes_in_the_messages_are_the_limits() {
    assert!(DesignError::FileTooLarge.to_string().contains("64 MB"), "{}", DesignError::FileTooLarge);
    assert!(DesignError::TooSmall.to_string().contains("micrometre"), "{}", DesignError::TooSmall);
}

// Any bytes at all.

mod any_bytes {
    use proptest::prelude::*;
    use spelk::design;

    fn try_reading(bytes: &[u8]) {
        match design::read("any", bytes) {
            Ok(design) => design.check_invariants(),
            Err(error) => {
                let message = error.to_string();
                assert!(!message.contains('\n') && message.len() < 400, "one short line: {message}");
                assert!(!matches!(error, design::DesignError::GaveUp), "the parser panicked");
            }
        }
    }

    const SEED: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 100 50"><defs><clipPath id="c"><circle cx="20" cy="20" r="15"/></clipPath><linearGradient id="g"><stop offset="0" stop-color="red"/></linearGradient><symbol id="s" viewBox="0 0 4 4"><rect width="3" height="3"/></symbol></defs><style>.k{fill:blue;stroke:#000;stroke-width:2}</style><g id="a" transform="rotate(20) scale(1.5 2)"><path class="k" d="M10 10C20 0 40 60 50 20S5 5 60 30Q1 2 3 4A5 6 7 0 1 30 30z"/><rect clip-path="url(#c)" width="30" height="30" rx="4"/></g><use href="#s" x="50" width="20" height="20"/><path id="b" fill="none" stroke="url(#g)" stroke-dasharray="3 1" stroke-linecap="round" d="M0 40L90 40 20 10"/><polygon fill="white" fill-rule="evenodd" points="1,1 9,1 5,9 1,4 9,4"/></svg>"##;

    const PIECES: [&str; 24] = [
        "0",
        "-1",
        "1e5",
        "1e-9",
        ".",
        "-",
        "url(#c)",
        "url(#a)",
        "#s",
        "%",
        "mm",
        "<g>",
        "</g>",
        "/>",
        "\"",
        "none",
        "M",
        "z",
        "A1 1 0 11",
        "scale(0)",
        "é",
        "inherit",
        "99999999",
        " ",
    ];

    proptest! {
        #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

        #[test]
        fn random_bytes(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
            try_reading(&bytes);
            let mut wrapped = b"<svg xmlns='http://www.w3.org/2000/svg'>".to_vec();
            wrapped.extend(bytes);
            wrapped.extend(b"</svg>");
            try_reading(&wrapped);
        }

        #[test]
        fn random_path_data(d in "[MmLlHhVvCcSsQqTtAaZz0-9eE., +-]{0,120}", transform in "(scale|rotate|matrix|skewX)\\([-0-9e., ]{0,20}\\)") {
            try_reading(format!("<svg xmlns='http://www.w3.org/2000/svg'><path stroke='red' transform='{transform}' d='M1 2 {d}'/><path d='M0 0H9V9z'/></svg>").as_bytes());
        }

        #[test]
        fn a_mutated_drawing(edits in proptest::collection::vec((0..SEED.len(), 0..6_usize, 0..PIECES.len()), 1..6)) {
            let mut bytes = SEED.as_bytes().to_vec();
            for (at, cut, piece) in edits {
                let at = at.min(bytes.len());
                let end = (at + cut).min(bytes.len());
                bytes.splice(at..end, PIECES[piece].bytes());
            }
            try_reading(&bytes);
        }
    }
}
