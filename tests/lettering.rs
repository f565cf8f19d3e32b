//! Words to outlines: heights, advances, arcs and lines by their closed forms, the numbers of tactile signs,
//! and every glyph of whatever fonts the machine has.

use crate::support::{files_under, folder_named_by};
use rayon::prelude::*;
use spelk::design::Design;
use spelk::design::face::{BUILT_IN, Face, Fonts};
use spelk::design::lettering::{Align, Lettering, LetteringError, TactileMeasure};
use spelk::job::{Job, Treatment, Words, saved};
use spelk::units::Mm;

fn lettering(words: &str) -> Lettering {
    Lettering { words: words.to_owned(), cap_height: Mm::new(20.0), ..Lettering::default() }
}

fn set(lettering: &Lettering) -> Design {
    let design = lettering.design(&Fonts::built_in()).unwrap();
    design.check_invariants();
    design
}

fn close(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "{got}, expected {expected} within {tolerance}");
}

#[test]
fn a_flat_capital_is_as_tall_as_asked_for() {
    for font in [BUILT_IN, "Hack"] {
        let design = set(&Lettering { font: font.to_owned(), ..lettering("H") });
        let bounds = design.outline_box();
        close(bounds.size().y, 20.0, 1e-5);
        close(bounds.min.y, 0.0, 1e-5);
        assert_eq!((design.elements.len(), design.elements[0].name.as_str()), (1, "H"));
    }
}

#[test]
fn twice_the_height_is_four_times_the_area() {
    let area = |height: f64| {
        let one = Lettering { cap_height: Mm::new(height), ..lettering("Reed & Oar") };
        set(&one).elements[0].region.area()
    };
    close(area(40.0) / area(20.0), 4.0, 1e-3);
}

#[test]
fn a_line_is_as_long_as_the_reference_shaper_makes_it() {
    // HarfBuzz, by uharfbuzz 0.57.0 on the same file, gives HHH an advance of 2076 font units, so one
    // takes 692; the em is 1000.
    let width = |words: &str| set(&lettering(words)).outline_box().size().x;
    let unit = 20.0 / Face::built_in().cap_height();
    close(width("HHH") - width("H"), 2.0 * 692.0 * unit, 1e-4);
    // Kerning: AVATAR is 3509 with it and 3713 without.
    let spaced = |words: &str, spacing: f64| {
        set(&Lettering { spacing: Mm::new(spacing), ..lettering(words) }).outline_box().size().x
    };
    close(spaced("HHH", 3.0) - width("HHH"), 6.0, 1e-4);
    assert!(spaced("HH", -1.0) < width("HH"));
}

#[test]
fn lines_are_spaced_and_aligned() {
    let two = |align| set(&Lettering { align, line_spacing: 1.5, ..lettering("HHHH\nH") }).outline_box();
    for align in [Align::Start, Align::Middle, Align::End] {
        close(two(align).size().y, 20.0 * 2.5, 1e-5);
    }
    assert!(two(Align::Start).min.x > 0.0 && two(Align::End).max.x < 0.0);
    close(two(Align::Middle).center().x, 0.0, 1e-4);
}

#[test]
fn words_on_an_arc_stand_on_their_circle() {
    let radius = 60.0;
    for (sign, words) in [(1.0, "IIIIIII"), (-1.0, "IIIIIII")] {
        let design = set(&Lettering { arc: Some(Mm::new(sign * radius)), ..lettering(words) });
        let center = glam::dvec2(0.0, -sign * radius);
        let reach: Vec<f64> = design.elements[0]
            .region
            .rings()
            .flat_map(|ring| ring.points().collect::<Vec<_>>())
            .map(|p| p.distance(center))
            .collect();
        let (least, most) = reach.iter().fold((f64::MAX, 0.0_f64), |(a, b), &r| (a.min(r), b.max(r)));
        // Letters are straight: their corners lie a little off the circle through the middle of their
        // feet, by no more than half a letter's width squared over twice the radius.
        let off = 4.0_f64.powi(2) / (2.0 * radius);
        if sign > 0.0 {
            assert!(
                least >= radius - 1e-6 && least < radius + off && (most - radius - 20.0).abs() < off,
                "{least} {most}"
            );
        } else {
            assert!(least >= radius - 20.0 - 1e-6 && most < radius + off, "{least} {most}");
        }
        assert_eq!(design.elements[0].region.rings().count(), 7);
    }
    let area = |arc| set(&Lettering { arc, ..lettering("Oar") }).elements[0].region.area();
    close(area(Some(Mm::new(80.0))), area(None), 0.5);
}

#[test]
fn what_cannot_be_lettered_is_said() {
    let fonts = Fonts::built_in();
    let refused = |lettering: Lettering| {
        let message = lettering.design(&fonts).unwrap_err().to_string();
        assert!(!message.contains('\n'), "one line: {message}");
        message
    };
    assert_eq!(
        refused(lettering("  \n ")),
        "there is nothing to letter: type words that the font 'Ubuntu Light' has letters for"
    );
    assert_eq!(
        refused(Lettering { font: "Ubun".to_owned(), ..lettering("x") }),
        "there is no font 'Ubun' on this machine; there are Ubuntu Light"
    );
    assert!(
        refused(Lettering { arc: Some(Mm::new(5.0)), ..lettering("far too long") }).contains("radius 5 mm")
    );
    assert!(refused(Lettering { arc: Some(Mm::new(25.0)), ..lettering("a\nb") }).contains("radius 25 mm"));
    assert!(refused(lettering(&"x".repeat(3000))).contains("2000 characters"));
    assert!(
        refused(Lettering { cap_height: Mm::new(f64::NAN), ..lettering("x") })
            .contains("height of a capital")
    );
    assert!(matches!(lettering("\u{10ffff}").design(&fonts), Err(LetteringError::Nothing { .. })));
    let partly = set(&lettering("a\u{2603}"));
    assert_eq!(
        partly.notices.iter().map(spelk::words::notices::drawing).collect::<Vec<_>>(),
        ["The font Ubuntu Light has no letter for “\u{2603}”; it was left out"]
    );
}

#[test]
fn the_numbers_of_tactile_signs_are_read_off_the_outlines() {
    // Closed forms on the outlines themselves: an I of Ubuntu Light is a plain bar.
    let one =
        Lettering { cap_height: Mm::from_inches(1.0), spacing: Mm::from_inches(0.05), ..lettering("ROOM") };
    let checks = one.tactile(&Fonts::built_in()).unwrap();
    let of = |measure| checks.iter().find(|check| check.measure == measure).unwrap();
    assert_eq!(of(TactileMeasure::HeightOfI).passes(), Some(true));
    close(of(TactileMeasure::HeightOfI).measured.unwrap(), 1.0, 1e-9);
    let bar = Face::built_in().character('I').unwrap();
    let bounds = kurbo::Shape::bounding_box(&bar);
    close(of(TactileMeasure::StrokeOfI).measured.unwrap(), bounds.width() / bounds.height() * 100.0, 1e-6);
    assert_eq!(of(TactileMeasure::StrokeOfI).passes(), Some(true));
    assert_eq!(of(TactileMeasure::SmallLetters).passes(), Some(true));
    assert_eq!(of(TactileMeasure::LeastGap).passes(), Some(true));
    // Side bearings in font units, from the file by fontTools: O leaves 62 before and after it; a capital
    // is 693. The two O are the nearest of the word.
    close(of(TactileMeasure::LeastGap).measured.unwrap(), (62.0 + 62.0) / 693.0 + 0.05, 1e-3);
    assert_eq!(of(TactileMeasure::MostGap).passes(), Some(true));
    assert!(checks.iter().all(|check| check.measure.section().starts_with("703.2.")));
    let small = Lettering { cap_height: Mm::new(10.0), spacing: Mm::ZERO, words: "Room".to_owned(), ..one };
    let checks = small.tactile(&Fonts::built_in()).unwrap();
    let failing =
        checks.iter().filter(|check| check.passes() == Some(false)).map(|check| check.measure.section());
    assert_eq!(failing.collect::<Vec<_>>(), ["703.2.2", "703.2.5", "703.2.7"]);
}

#[test]
fn the_same_words_give_the_same_design() {
    let one = lettering("Mind the geese\nplease");
    assert_eq!(set(&one), set(&one));
}

#[test]
fn a_job_keeps_the_words_of_its_elements() {
    let one = lettering("Mind the geese");
    let plain = saved::to_text(&Job::new(std::sync::Arc::new(set(&one))));
    assert!(!plain.contains("lettering"), "a job without lettering says nothing of it");
    let job = Job::of_words(Words { lettering: one.clone(), treatment: Treatment::Relief }, None).unwrap();
    assert_eq!(job.lettering().get("Mind the geese"), Some(&one));
    let back = saved::from_text(saved::to_text(&job).as_bytes()).unwrap();
    assert_eq!(back.lettering(), job.lettering());
    // Another design that has no such element has no such words.
    assert!(job.with_design(std::sync::Arc::new(set(&lettering("Oar")))).lettering().is_empty());
    assert_eq!(job.with_design(std::sync::Arc::clone(job.design())).lettering(), job.lettering());
}

/// Sets every character of every font file under the folder named by `SPELK_FONTS`, and takes every
/// glyph's outline.
#[test]
#[ignore = "reads the fonts in SPELK_FONTS; .ci/run fetches some"]
fn a_folder_of_fonts() {
    let files = files_under(&folder_named_by("SPELK_FONTS"), &["ttf", "otf", "ttc"]);
    assert!(!files.is_empty(), "SPELK_FONTS holds fonts");
    for file in files {
        let start = std::time::Instant::now();
        let fonts = Fonts::of_files(
            [(file.display().to_string(), std::fs::read(&file).unwrap())],
            &mut spelk::notice::Notices::new(),
        );
        let names: Vec<&str> = fonts.names().filter(|name| ![BUILT_IN, "Hack"].contains(name)).collect();
        for name in names {
            let face = fonts.face(name).unwrap();
            let glyphs: usize = (0..face.glyph_count())
                .into_par_iter()
                .filter(|&glyph| !face.glyph(glyph).elements().is_empty())
                .count();
            let characters: Vec<char> = (' '..='\u{ffff}').filter(|&c| face.has(c)).collect();
            let refused: Vec<char> = characters
                .par_iter()
                .copied()
                .filter(|c| {
                    let one =
                        Lettering { words: c.to_string(), font: name.to_owned(), ..Lettering::default() };
                    match one.design(&fonts) {
                        Ok(design) => {
                            design.check_invariants();
                            false
                        }
                        Err(LetteringError::Nothing { .. }) => false,
                        Err(_) => true,
                    }
                })
                .collect();
            eprintln!(
                "{name}: {glyphs} glyphs with an outline, {} characters set, {:.1?}",
                characters.len(),
                start.elapsed()
            );
            assert!(glyphs > 0, "{name} has outlines");
            assert!(refused.is_empty(), "{name}: {refused:?}");
        }
    }
}
