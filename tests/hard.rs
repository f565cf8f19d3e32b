//! Files made to be hard: each case once hung, filled the memory, ended the program, or was taken for sense.

use crate::cli::{program, spelk, spelk_with};
use crate::support::{job, rectangle};
use glam::{DVec2, dvec2};
use serde_json::{Value, json};
use spelk::design::{DesignError, read};
use spelk::geometry::{FillRule, Grid, Rect, Region};
use spelk::job::{Job, Treatment, saved};
use spelk::shop::{Cutter, CutterShape};
use spelk::units::Mm;
use std::path::PathBuf;
use std::time::{Duration, Instant};

fn hard(name: &str) -> String {
    let path: PathBuf = [env!("CARGO_MANIFEST_DIR"), "tests/data/hard", name].iter().collect();
    path.to_str().unwrap().to_owned()
}

/// Refused, and soon.
fn refused_soon(args: &[&str], words: &[&str]) {
    let start = Instant::now();
    spelk(args).refused(words);
    assert!(start.elapsed() < Duration::from_secs(20), "{args:?} took {:?}", start.elapsed());
}

/// A plate with a job's usual settings.
fn plate() -> Job {
    job(Treatment::Relief, &[("plate", vec![rectangle(0.0, 0.0, 110.0, 40.0)])])
}

/// What opening a job says whose saved form was changed.
fn opened(change: impl FnOnce(&mut Value)) -> Result<(), String> {
    let mut value: Value = serde_json::from_str(&saved::to_text(&plate())).unwrap();
    change(&mut value);
    saved::from_text(value.to_string().as_bytes()).map(|_| ()).map_err(|error| error.to_string())
}

#[track_caller]
fn refuses(change: impl FnOnce(&mut Value), words: &str) {
    let said = opened(change).unwrap_err();
    assert!(said.contains(words), "{said}");
    assert!(said.len() < 300, "{said}");
}

#[test]
fn a_saved_job_with_a_page_beyond_all_sizes_is_refused_and_no_panic() {
    refused_soon(&["proof", &hard("page-beyond-all-sizes.spelk")], &["is damaged"]);
    let page = |min: f64, max: f64| {
        move |job: &mut Value| {
            job["design"]["page"] = json!({ "min": [min, min], "max": [max, max] });
        }
    };
    opened(page(0.0, 100.0)).unwrap();
    refuses(page(0.0, 1e308), "page");
    refuses(page(-1e308, 1e308), "page");
    refuses(page(5.0, 5.0), "page");
    refuses(page(5.0, 1.0), "page");
    refuses(page(0.0, 1e-320), "page");
}

#[test]
fn a_saved_wood_of_no_strength_is_refused() {
    for strength in [0.0, -3.0, 1e308, 1e-300] {
        refuses(|job| job["wood"]["tension_perpendicular_mpa"] = json!(strength), "wood");
    }
    refuses(|job| job["wood"]["density_12_kg_m3"] = json!(-1.0), "wood");
    refuses(|job| job["wood"]["common_name"] = json!(" "), "wood");
}

#[test]
fn a_saved_cutter_that_cannot_be_is_refused() {
    refuses(|job| job["cutter"]["stepover"] = json!(1e-300), "must be");
    let vee = Cutter::find("vee-60").unwrap();
    for (angle, tip) in [(0.0, 0.1), (-1.0, 0.1), (4.0, 0.1), (1e-300, 0.1), (1.0, 1e5), (1.0, -1.0)] {
        let shape = CutterShape::Vee { angle, tip: Mm::new(tip), diameter: Mm::new(12.0) };
        let odd = Cutter { shape, ..vee.clone() };
        refuses(|job| job["cutter"] = serde_json::to_value(&odd).unwrap(), "the cutter 'V, 60");
    }
    refuses(|job| job["cutter"]["reference"]["along"] = json!(1e308), "must be");
    refuses(|job| job["cutter"]["flute_length"] = json!(-1.0), "must be");
}

#[test]
fn a_number_that_is_refused_is_told_in_a_few_digits() {
    refuses(|job| job["depth"] = json!(1e308), "1e308");
    refuses(|job| job["board"]["length"] = json!(1e300), "1e300");
    refuses(|job| job["depth"] = json!(1e-300), "1e-300");
    refuses(|job| job["depth"] = json!(-0.0), "depth");
}

#[test]
fn saved_elements_without_names_of_their_own_are_refused() {
    refuses(|job| job["design"]["elements"][0]["name"] = json!(""), "no name");
    refuses(
        |job| {
            let again = job["design"]["elements"][0].clone();
            job["design"]["elements"].as_array_mut().unwrap().push(again);
        },
        "two elements are called",
    );
}

#[test]
fn saved_elements_over_each_other_are_refused() {
    refuses(
        |job| {
            let mut again = job["design"]["elements"][0].clone();
            again["name"] = json!("again");
            job["design"]["elements"].as_array_mut().unwrap().push(again);
        },
        "lie over each other",
    );
}

#[test]
fn a_saved_grid_that_does_not_reach_the_outlines_is_refused() {
    refuses(|job| job["design"]["grid"]["step"] = json!(2f64.powi(-60)), "grid");
    refuses(|job| job["design"]["grid"]["step"] = json!(0.0), "grid");
    refuses(|job| job["design"]["grid"]["origin"] = json!([1e308, 0.0]), "grid");
}

/// Bars over each other, each turned a little from the last.
#[test]
fn a_drawing_of_many_crossings_lies_on_a_coarser_grid_and_is_as_large() {
    let bar = |i: u32| {
        let off = f64::from(i) * 0.05;
        [dvec2(off, 0.0), dvec2(100.0, 30.0 + off), dvec2(100.0, 80.0), dvec2(0.0, 50.0 + off)]
    };
    let area_of = |count: u32| {
        let bars: Vec<Vec<DVec2>> = (0..count).map(|i| bar(i).to_vec()).collect();
        let path = |bar: &Vec<DVec2>| {
            let corners: Vec<String> = bar.iter().map(|at| format!("{} {}", at.x, at.y)).collect();
            format!("M{}Z", corners.join("L"))
        };
        let paths: String = bars.iter().map(path).collect();
        let svg = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='120mm' height='120mm' viewBox='0 0 120 120'>\
             <path d='{paths}'/></svg>"
        );
        let design = read("bars", svg.as_bytes()).unwrap();
        let bounds = Rect::around(bars.iter().flatten().copied()).unwrap();
        let finest = Grid::covering(bounds);
        let expected = Region::clean(finest, &bars, FillRule::NonZero).area();
        let area = design.elements[0].region.area();
        // No part of some 310 mm of outline moves by more than a step and the rounding of a drawing's numbers.
        assert!((area - expected).abs() < 310.0 * (design.grid.step() + 4e-6), "{area} {expected}");
        design.grid.step() / finest.step()
    };
    assert_eq!(area_of(20), 1.0);
    assert!(area_of(160) > 100.0);
}

#[test]
fn a_saved_outline_that_crosses_itself_everywhere_is_refused() {
    let star: Vec<String> = (0..200_000_u64)
        .map(|i| {
            let at = (i * 77_773 % 200_003) as f64 / 200_003.0 * std::f64::consts::TAU;
            format!("{},{}", 50.0 + 40.0 * at.cos(), 20.0 + 15.0 * (3.0 * at).sin())
        })
        .collect();
    let start = Instant::now();
    refuses(|job| job["design"]["elements"][0]["rings"] = json!([star.join(" ")]), "cross");
    assert!(start.elapsed() < Duration::from_secs(20));
}

#[test]
fn every_number_of_a_saved_job_may_be_anything_and_nothing_breaks() {
    let whole: Value = serde_json::from_str(&saved::to_text(&plate())).unwrap();
    let mut places = Vec::new();
    numbers(&whole, String::new(), &mut places);
    assert!(places.len() > 30, "{places:?}");
    for place in places {
        for odd in [1e308, -1e308, -0.0, 1e-300, 5e-324, -1.0, 0.0] {
            let mut job = whole.clone();
            *job.pointer_mut(&place).unwrap() = json!(odd);
            let Ok(job) = saved::from_text(job.to_string().as_bytes()) else { continue };
            let limits = spelk::proof::Limits::of(&job);
            let all = [limits.along, limits.across, limits.groove];
            assert!(
                all.iter().all(|limit| limit.get().is_finite() && limit.get() > 0.0),
                "{place} {odd}: {all:?}"
            );
            assert!(job.factor().is_finite(), "{place} {odd}");
        }
    }
}

/// The places of all numbers in a JSON value.
pub(crate) fn numbers(value: &Value, at: String, places: &mut Vec<String>) {
    match value {
        Value::Number(_) => places.push(at),
        Value::Array(list) => {
            list.iter().enumerate().for_each(|(index, one)| numbers(one, format!("{at}/{index}"), places));
        }
        Value::Object(map) => {
            map.iter().for_each(|(name, one)| numbers(one, format!("{at}/{name}"), places));
        }
        _ => {}
    }
}

#[test]
fn a_font_collection_that_claims_billions_of_faces_is_passed_over() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("words.svg");
    let start = Instant::now();
    let font = hard("claims-billions-of-faces.ttf");
    let run = spelk(&["letter", "Inn", "-o", out.to_str().unwrap(), "--font-file", &font]);
    assert!(run.err.contains("claims-billions-of-faces.ttf"), "{}", run.err);
    assert!(start.elapsed() < Duration::from_secs(20));
}

#[test]
fn ten_thousand_style_rules_are_refused_at_once() {
    let rules = (0..10_000).map(|i| format!(".c{i} g g{{fill:red}}")).collect::<Vec<_>>().concat();
    let shapes = r#"<rect x="5" y="5" width="90" height="60"/>"#.repeat(50);
    let svg = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm"><style>{rules}</style>{}{shapes}{}</svg>"#,
        "<g>".repeat(50),
        "</g>".repeat(50)
    );
    let start = Instant::now();
    assert!(matches!(read("rules", svg.as_bytes()), Err(DesignError::Overloaded)));
    assert!(start.elapsed() < Duration::from_secs(5));
}

#[test]
fn a_drawing_may_come_by_standard_input_and_is_bounded_there() {
    let drawing = std::fs::read("sample-designs/gate-sign.svg").unwrap();
    let proof = |input: &[u8]| program().args(["proof", "-"]).write_stdin(input).output().unwrap();
    assert_eq!(proof(&drawing).status.code(), Some(0));
    let nothing = proof(b"");
    assert_eq!(nothing.status.code(), Some(2));
    assert!(String::from_utf8(nothing.stderr).unwrap().contains("standard input: is empty"));
}

#[test]
fn a_time_limit_ends_what_takes_longer() {
    // A thousand lines from one point: minutes in a build like this one.
    let drawing = hard("thousand-rays.dxf");
    spelk(&["proof", &drawing, "--open-as-strokes", "1mm", "--time-limit", "0.2"])
        .refused(&["stopped after 0.2 s"]);
    for nonsense in ["0", "-1", "NaN", "inf", "soon", "1e300"] {
        let limit = format!("--time-limit={nonsense}");
        spelk(&["proof", &drawing, &limit]).refused(&["a number of seconds over 0"]);
    }
}

#[test]
fn dxf_in_utf_16_or_with_lines_of_an_old_mac_is_read() {
    let text = std::fs::read_to_string(hard("thousand-rays.dxf")).unwrap().replace("\r\n", "\n");
    // The circle alone.
    let head = text.split("\n0\nLINE").next().unwrap().split("\n  0\nLINE").next().unwrap();
    let text = format!("{head}\n0\nENDSEC\n0\nEOF\n");
    let plain = read("circle", text.as_bytes()).unwrap();
    let mac = text.replace('\n', "\r");
    let little: Vec<u8> =
        [0xfeff].into_iter().chain(text.encode_utf16()).flat_map(u16::to_le_bytes).collect();
    let big: Vec<u8> = [0xfeff].into_iter().chain(text.encode_utf16()).flat_map(u16::to_be_bytes).collect();
    for other in [mac.into_bytes(), little, big] {
        let read = read("circle", &other).unwrap();
        assert_eq!(read.elements, plain.elements);
    }
}

#[test]
fn clearing_in_steps_of_a_hair_is_refused() {
    for (stepover, pass_depth) in [("1", "1"), ("0.5", "0.5"), ("0.2", "0.2")] {
        refused_soon(
            &["proof", "sample-designs/gate-sign.svg", "--stepover", stepover, "--pass-depth", pass_depth],
            &["larger stepover"],
        );
    }
}

#[test]
fn names_with_control_characters_do_not_reach_the_terminal() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("red.spelk");
    let mut job: Value = serde_json::from_str(&saved::to_text(&plate())).unwrap();
    job["design"]["name"] = json!("\u{1b}[31mred\u{7}");
    std::fs::write(&path, job.to_string()).unwrap();
    let run = spelk(&["proof", path.to_str().unwrap()]);
    assert!(run.out.contains("[31mred"), "{}", run.out);
    assert!(!run.out.contains(['\u{1b}', '\u{7}']));
}

#[test]
fn two_programs_that_change_the_rack_keep_what_both_changed() {
    let config = tempfile::tempdir().unwrap();
    let add = |who: &str| {
        for number in 0..10 {
            let name = format!("{who}{number}");
            let run = spelk_with(config.path(), &["rack", "--add", &name, "--board", "300x100x19mm"]);
            assert_eq!(run.status, 0, "{}", run.err);
        }
    };
    std::thread::scope(|scope| {
        scope.spawn(|| add("a"));
        scope.spawn(|| add("b"));
    });
    let boards = spelk::shop::open_rack(&config.path().join("spelk")).unwrap();
    assert_eq!(boards.len(), 20);
}

#[test]
fn a_rack_with_a_price_that_is_none_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("boards.json");
    for price in ["-1e308", "1e308", "-1"] {
        let text = format!(
            r#"[{{"name": "a", "price": {price}, "board": {{"length": 300, "width": 100, "thickness": 19, "wood": "oak"}}}}]"#
        );
        std::fs::write(&path, text).unwrap();
        refused_soon(
            &["rack", "sample-designs/gate-sign.svg", "--boards", path.to_str().unwrap()],
            &["the price of the board 'a'"],
        );
    }
}

/// A typeface called Tack, for another of its name comes with the program, whose glyphs have no contour but the data of
/// their points.
#[cfg(target_os = "linux")]
fn typeface_with_points_of_no_contour() -> Vec<u8> {
    let mut bytes = epaint_default_fonts::HACK_REGULAR.to_vec();
    for name in [b"\0H\0a\0c\0k".as_slice(), b"Hack"] {
        while let Some(at) = bytes.windows(name.len()).position(|found| found == name) {
            bytes[at + usize::from(name[0] == 0)] = b'T';
        }
    }
    let u16_at = |bytes: &[u8], at: usize| usize::from(u16::from_be_bytes([bytes[at], bytes[at + 1]]));
    let u32_at = |bytes: &[u8], at: usize| u16_at(bytes, at) << 16 | u16_at(bytes, at + 2);
    // OpenType 1.9: the table directory, `head` with the format of `loca`, `loca` with the places in `glyf`.
    let table = |bytes: &[u8], tag: &[u8]| {
        let record =
            (0..u16_at(bytes, 4)).map(|i| 12 + 16 * i).find(|&at| bytes[at..].starts_with(tag)).unwrap();
        u32_at(bytes, record + 8)
    };
    let (head, places, glyphs) = (table(&bytes, b"head"), table(&bytes, b"loca"), table(&bytes, b"glyf"));
    let is_long = u16_at(&bytes, head + 50) == 1;
    let count = u16_at(&bytes, table(&bytes, b"maxp") + 4);
    for glyph in 0..count {
        let place = |number: usize| {
            if is_long {
                u32_at(&bytes, places + 4 * number)
            } else {
                2 * u16_at(&bytes, places + 2 * number)
            }
        };
        let (start, end) = (place(glyph), place(glyph + 1));
        // Simple glyphs alone: a composite has a negative count.
        if end > start && u16_at(&bytes, glyphs + start) < 0x8000 {
            bytes[glyphs + start..glyphs + start + 2].fill(0);
        }
    }
    bytes
}

/// Proofs a text in a typeface, on a machine whose own fonts lie in this folder.
#[cfg(target_os = "linux")]
fn text_proofed_with_fonts_in(folder: &std::path::Path, family: &str) -> std::process::Output {
    let drawing = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='200mm' height='100mm'>\
         <text x='5' y='50' font-size='40' font-family='{family}'>Inn</text></svg>"
    );
    program()
        .args(["proof", "-"])
        .env("XDG_DATA_HOME", folder)
        .env("HOME", folder)
        .write_stdin(drawing)
        .output()
        .unwrap()
}

/// The folder that fonts are looked for in is named by the environment on Linux alone.
#[cfg(target_os = "linux")]
#[test]
fn a_damaged_typeface_of_the_machine_is_passed_over_in_a_drawing() {
    let folder = tempfile::tempdir().unwrap();
    let fonts = folder.path().join("fonts");
    std::fs::create_dir(&fonts).unwrap();
    std::fs::write(fonts.join("Tack.ttf"), typeface_with_points_of_no_contour()).unwrap();
    let run = text_proofed_with_fonts_in(folder.path(), "Tack");
    let told = String::from_utf8_lossy(&run.stderr);
    assert!(matches!(run.status.code(), Some(0 | 1)), "{told}");
    assert!(told.contains("“Tack” is not on this machine, or is damaged"), "{told}");
}

/// The folder that fonts are looked for in is named by the environment on Linux alone.
#[cfg(target_os = "linux")]
#[test]
fn a_font_collection_that_claims_billions_of_faces_among_the_fonts_of_the_machine_is_passed_over() {
    let folder = tempfile::tempdir().unwrap();
    let fonts = folder.path().join("fonts");
    std::fs::create_dir(&fonts).unwrap();
    std::fs::copy(hard("claims-billions-of-faces.ttf"), fonts.join("broken.ttf")).unwrap();
    std::fs::write(fonts.join("Hack.ttf"), epaint_default_fonts::HACK_REGULAR).unwrap();
    let start = Instant::now();
    let run = text_proofed_with_fonts_in(folder.path(), "Hack");
    assert!(matches!(run.status.code(), Some(0 | 1)), "{}", String::from_utf8_lossy(&run.stderr));
    assert!(start.elapsed() < Duration::from_secs(20));
}
