//! Paper and files: the same bytes every time, true size, and opened again the same.

use crate::cli::{Run, spelk};
use crate::support::proof_of;
use glam::{DVec2, dvec2};
use spelk::design::{self, Design, samples};
use spelk::job::sample::sample_job;
use spelk::job::{Edit, Job, Size, Treatment};
use spelk::proof::sizes::{parse_sizes, sizes};
use spelk::proof::{Proof, Severity, measure, proof, rate};
use spelk::sheet::coupon::coupon;
use spelk::sheet::dxf::outline_dxf;
use spelk::sheet::outline::outline_svg;
use spelk::sheet::pdf::{
    BenchNotes, Paper, SheetSettings, bench_pdf, coupon_pdf, handout_pdf, options_pdf, prices_pdf,
    template_pdf,
};
use spelk::sheet::{carve_in_short, surfaces, table};
use spelk::shop::{Prices, cutters};
use spelk::units::{LengthUnit, Mm};
use std::sync::Arc;

fn sample(id: &str) -> Job {
    sample_job(samples::find(id).unwrap()).unwrap()
}

/// A sign whose elements are carved in four ways, with depths and cutters of their own.
fn carved_many_ways() -> Job {
    let mut job = sample("inn-sign");
    let cutter = |id: &str| cutters().iter().find(|cutter| cutter.id == id).cloned();
    for (name, treatment, depth, id) in [
        ("lettering", Treatment::Incised, 2.5, "vee-60"),
        ("ornament", Treatment::Sunk, 1.5, "flat-1/16in"),
        ("heron-and-reeds", Treatment::Sunk, 4.0, "ball-1/16in"),
    ] {
        let element = job.design().elements.iter().position(|element| element.name == name).unwrap();
        let elements = vec![element];
        job = job
            .with([
                Edit::Treat { elements: elements.clone(), treatment },
                Edit::OwnDepth { elements: elements.clone(), depth: Some(Mm::new(depth)) },
                Edit::OwnCutter { elements, cutter: cutter(id).map(Box::new) },
            ])
            .unwrap();
    }
    assert_eq!(job.cutters().len(), 4, "the ground's and three of their own");
    job
}

/// Every sheet of a job.
fn sheets(job: &Job, settings: &SheetSettings) -> Vec<Vec<u8>> {
    let measured = measure(job);
    let ratings = rate(job, &measured);
    let proof = proof(job, &measured, &ratings);
    let wanted = parse_sizes("8in,10in,fit", settings.unit).unwrap();
    let prices = Prices::default();
    let rows = sizes(job, &measured, &ratings, &wanted, &prices, &|_| Some(30.0)).unwrap();
    let surfaces = surfaces(&rows, &measured, &spelk::relief::NEVER).unwrap();
    assert!(surfaces.iter().all(Option::is_some), "no pictures of the sizes");
    let (_, relief) = carve_in_short(job, &measured, &proof);
    assert!(relief.is_some(), "no picture of the relief");
    let notes = BenchNotes { relief, ..BenchNotes::default() };
    vec![
        options_pdf(job, &rows, &surfaces, &prices, settings),
        prices_pdf(job, &rows, &prices, settings),
        handout_pdf(job, &proof, settings),
        bench_pdf(job, &proof, &notes, settings),
        template_pdf(job, &proof, settings).unwrap(),
        coupon_pdf(&coupon(job), job, settings).unwrap(),
    ]
}

#[test]
fn the_same_job_gives_the_same_bytes_with_its_letters_in_them() {
    for paper in Paper::ALL {
        let settings =
            SheetSettings { paper, shop_name: "Harbour Signs".to_owned(), ..SheetSettings::default() };
        let both = |settings: &SheetSettings| {
            [sheets(&sample("gate-sign"), settings), sheets(&carved_many_ways(), settings)].concat()
        };
        let first = both(&settings);
        // Made anew from the drawing, on another thread.
        let again = {
            let settings = settings.clone();
            std::thread::spawn(move || both(&settings)).join().unwrap()
        };
        assert!(first == again, "the same bytes");
        // 210 x 297 mm and 8 1/2 x 11 in, at 72 points to the inch; a template may lie on its side.
        let pages: [&[u8]; 2] = match paper {
            Paper::A4 => [b"/MediaBox[0 0 595.27", b"/MediaBox[0 0 841.8"],
            Paper::Letter => [b"/MediaBox[0 0 612 792]", b"/MediaBox[0 0 792 612]"],
        };
        for pdf in &first {
            let holds = |part: &[u8]| pdf.windows(part.len()).any(|window| window == part);
            assert!(pdf.starts_with(b"%PDF-1.") && holds(b"/FontFile2"), "fonts are embedded");
            assert!(pages.into_iter().any(holds), "the page is as large as the paper");
            assert!(!holds(b"CreationDate"), "no clock");
        }
    }
}

/// What was found, kind by kind: how much of it runs along walls and grooves, the thinnest of it, and
/// the limits. Not how many findings: where grooves of one width meet, as in a honeycomb, it is the last
/// bit of a coordinate that says which of them are told as one.
fn facts(proof: &Proof) -> Vec<(&'static str, Severity, [f64; 4])> {
    let mut facts: Vec<(&'static str, Severity, [f64; 4])> = Vec::new();
    for finding in &proof.findings {
        let (kind, severity) = (finding.kind().id(), finding.severity());
        let [run, measured, limit] =
            [finding.run(), finding.measured(), finding.limit()].map(|length| length.map_or(0.0, Mm::get));
        match facts.iter_mut().find(|fact| (fact.0, fact.1) == (kind, severity)) {
            Some((.., [all, least, low, high])) => {
                *all += run;
                (*least, *low, *high) = (least.min(measured), low.min(limit), high.max(limit));
            }
            None => facts.push((kind, severity, [run, measured, limit, limit])),
        }
    }
    facts
}

fn assert_same(before: &Proof, after: &Proof, what: &str) {
    let (one, other) = (facts(before), facts(after));
    assert_eq!(one.len(), other.len(), "{what}: {one:?} and {other:?}");
    for (one, other) in one.into_iter().zip(other) {
        assert_eq!((one.0, one.1), (other.0, other.1), "{what}");
        for (a, b) in one.2.into_iter().zip(other.2) {
            assert!((a - b).abs() < 5e-3 + 1e-4 * a.abs(), "{what}, {}: {a} and {b}", one.0);
        }
    }
}

/// A job of a design read back at its finished size.
fn reread(job: &Job, design: Design) -> Job {
    let again = job.with_design(Arc::new(design));
    again.with([Edit::Size(Size::Factor(1.0))]).unwrap()
}

#[test]
fn a_written_outline_proofs_the_same_when_it_is_opened_again() {
    let plain = samples::samples().iter().map(|sample| (sample.id, sample_job(sample).unwrap()));
    for (id, job) in plain.chain([("carved in many ways", carved_many_ways())]) {
        let job = job.with([Edit::Size(Size::Factor(0.7))]).unwrap();
        let before = proof_of(&job);
        let widths =
            |proof: &Proof| [proof.thinnest.wall, proof.thinnest.groove].map(|w| w.map_or(0.0, Mm::get));
        for file in [outline_svg(job.design(), before.factor), outline_dxf(job.design(), before.factor)] {
            let job = reread(&job, design::read(id, file.as_bytes()).unwrap());
            let after = proof_of(&job);
            for (one, other) in widths(&before).into_iter().zip(widths(&after)) {
                assert!((one - other).abs() < 2e-3, "{id}: {one} and {other}");
            }
            assert_same(&before, &after, id);
            assert!((before.length.get() - after.length.get()).abs() < 1e-3, "{id}");
        }
    }
}

/// The closed polylines of an R12 file, each with its layer: a reader of its own, by group codes.
fn polylines(dxf: &str) -> Vec<(String, Vec<DVec2>)> {
    let lines: Vec<&str> = dxf.lines().map(str::trim).collect();
    let mut all: Vec<(String, Vec<DVec2>)> = Vec::new();
    let mut entity = "";
    let mut x = 0.0;
    for pair in lines.chunks(2) {
        let &[code, value] = pair else { panic!("codes and values come in pairs") };
        match (code, entity) {
            ("0", _) => {
                entity = value;
                if value == "POLYLINE" {
                    all.push((String::new(), Vec::new()));
                }
            }
            ("8", "POLYLINE") => value.clone_into(&mut all.last_mut().unwrap().0),
            ("70", "POLYLINE") => assert_eq!(value, "1", "closed"),
            ("10", "VERTEX") => x = value.parse().unwrap(),
            ("20", "VERTEX") => all.last_mut().unwrap().1.push(dvec2(x, value.parse().unwrap())),
            _ => {}
        }
    }
    all
}

fn signed_area(points: &[DVec2]) -> f64 {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(a, b)| a.perp_dot(*b)).sum::<f64>() / 2.0
}

#[test]
fn a_dxf_has_a_layer_an_element_and_the_true_areas() {
    let square = |x: f64, side: f64| crate::support::rectangle(x, x, side, side);
    let job = crate::support::job(
        Treatment::Relief,
        &[
            ("Ring, größer", vec![square(0.0, 40.0), square(10.0, 20.0)]),
            ("ring, GRÖSSER", vec![square(50.0, 10.0)]),
            ("0", vec![square(70.0, 4.0)]),
        ],
    );
    let dxf = outline_dxf(job.design(), 2.5);
    assert!(dxf.contains("$INSUNITS\n 70\n4\n"), "millimetres");
    assert_eq!(dxf, outline_dxf(job.design(), 2.5));
    let found = polylines(&dxf);
    let areas: Vec<(&str, f64)> =
        found.iter().map(|(layer, points)| (layer.as_str(), signed_area(points).round())).collect();
    // 40, 20, 10 and 4 mm squares at 2.5 times: 100, 50, 25 and 10 mm; the hole runs clockwise.
    assert_eq!(
        areas,
        [("Ring__gr__er", 10_000.0), ("Ring__gr__er", -2_500.0), ("ring__GR_SSER", 625.0), ("0_2", 100.0)]
    );
    let low = found.iter().flat_map(|(_, points)| points).copied().reduce(DVec2::min).unwrap();
    assert_eq!(low, DVec2::ZERO);
}

#[test]
fn findings_and_sizes_as_tables() {
    let job = sample("inn-sign").with([Edit::Size(Size::Factor(0.4))]).unwrap();
    let measured = measure(&job);
    let ratings = rate(&job, &measured);
    let proof = proof(&job, &measured, &ratings);
    let read = |text: &str| -> Vec<csv::StringRecord> {
        csv::Reader::from_reader(text.as_bytes()).into_records().collect::<Result<_, _>>().unwrap()
    };
    let findings = read(&table::findings_csv(&proof, LengthUnit::InchFraction));
    assert_eq!(findings.len(), proof.findings.len());
    assert_eq!(&findings[0][0], proof.findings[0].kind().id());
    assert_eq!(&findings[0][8], spelk::words::finding::message(&proof.findings[0], LengthUnit::InchFraction));
    let wanted = parse_sizes("Small, for the shed=8in,12in", LengthUnit::Millimetres);
    assert!(wanted.is_err(), "a comma parts sizes");
    let wanted = parse_sizes("\"Small\"=8in,12in", LengthUnit::Millimetres).unwrap();
    let prices = Prices::default();
    let unit = LengthUnit::Millimetres;
    let rows = sizes(&job, &measured, &ratings, &wanted, &prices, &|_| None).unwrap();
    let table = read(&table::sizes_csv(&rows, unit));
    assert_eq!(table.len(), rows.len());
    assert_eq!(&table[0][0], "\"Small\"");
    assert_eq!(&table[0][12], "", "a time that is not worked out is blank");
}

const GATE: &str = "sample-designs/gate-sign.svg";

#[test]
fn sizes_on_the_command_line() {
    let folder = tempfile::tempdir().unwrap();
    let pdf = folder.path().join("sizes.pdf");
    let pdf = pdf.to_str().unwrap();
    let Run { status, out, err } =
        spelk(&["sizes", GATE, "--sizes", "Small=8in,10in,fit", "--json", "-o", pdf]);
    assert_eq!((status, err.as_str()), (0, ""));
    let json: serde_json::Value = serde_json::from_str(&out).unwrap();
    assert_eq!((json["format"].as_str(), json["version"].as_u64()), (Some("spelk.sizes"), Some(1)));
    assert_eq!(json["example_prices"], true);
    let rows = json["sizes"].as_array().unwrap();
    assert_eq!(rows.len(), 4, "two picked, the least sound one, the largest");
    assert_eq!((&rows[0]["name"], &rows[0]["verdict"]), (&"Small".into(), &"unsound".into()));
    assert_eq!(rows[0]["length_mm"], 203.2);
    let sum: f64 = rows[0]["price_lines"]
        .as_array()
        .unwrap()
        .iter()
        .take(5)
        .map(|line| line["amount"].as_f64().unwrap())
        .sum();
    assert!((sum - rows[0]["price_lines"][5]["amount"].as_f64().unwrap()).abs() < 1e-9);
    assert!(rows[0]["minutes"].as_f64().unwrap() > 1.0, "the carve takes a while");
    assert!(std::fs::read(pdf).unwrap().starts_with(b"%PDF"));
    let Run { status, out, .. } = spelk(&["sizes", GATE, "--sizes", "8in", "--csv"]);
    assert_eq!((status, out.lines().next().unwrap().split(',').next()), (0, Some("name")));
    let Run { status, out, err } = spelk(&["sizes", GATE, "--sizes", "huge"]);
    assert_eq!((status, out.as_str(), err.lines().count()), (2, "", 1), "{err}");
    assert!(err.contains("'huge' is not a size"));
}

#[test]
fn sheets_and_files_on_the_command_line() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    for what in ["bench", "template", "coupon", "handout"] {
        let out = path(&format!("{what}.pdf"));
        let Run { status, err, .. } =
            spelk(&["sheet", GATE, "--what", what, "--paper", "letter", "-o", &out]);
        assert_eq!((status, err.as_str()), (0, ""), "{what}");
        assert!(std::fs::read(out).unwrap().starts_with(b"%PDF"));
    }
    for what in ["coupon", "handout"] {
        let out = path(&format!("{what} without a design.pdf"));
        let Run { status, err, .. } = spelk(&["sheet", "--what", what, "-o", &out]);
        assert_eq!((status, err.as_str()), (0, ""), "{what}");
        assert!(std::fs::read(out).unwrap().starts_with(b"%PDF"), "{what}");
    }
    let small = ["sheet", GATE, "--length", "6in", "-o", &path("unsound.pdf"), "--force"];
    assert_eq!(spelk(&small).status, 1, "an unsound bench sheet says so");
    assert_eq!(spelk(&[&small[..], &["--accept", "thin_wall"]].concat()).status, 1);
    let Run { status, err, .. } = spelk(&[&small[..], &["--accept", "woodworm"]].concat());
    assert_eq!((status, err.contains("woodworm")), (2, true));
    let Run { status, err, .. } = spelk(&["sheet", GATE, "--mark", GATE, "-o", &path("x.pdf")]);
    assert!(status == 2 && err.contains("not a PNG or JPEG"), "{err}");
    let Run { err, .. } = spelk(&["sheet", GATE, "--shop-name", "\u{10fffd}", "-o", &path("x.pdf")]);
    assert!(err.contains("no typeface here has '\u{10fffd}'"), "{err}");
    let starts: [(&str, &[u8]); 6] = [
        ("svg", b"<svg"),
        ("dxf", b"  0\nSECTION"),
        ("png", b"\x89PNG"),
        ("json", b"{"),
        ("csv", b"kind,severity"),
        ("stl", b""),
    ];
    for (ending, start) in starts {
        let out = path(&format!("out.{ending}"));
        let Run { status, err, .. } = spelk(&["export", GATE, "--length", "12in", "-o", &out]);
        assert_eq!((status, err.as_str()), (0, ""), "{ending}");
        let bytes = std::fs::read(&out).unwrap();
        assert!(bytes.starts_with(start) && bytes.len() > 40, "{ending}");
        if ending == "stl" {
            let triangles = u32::from_le_bytes(bytes[80..84].try_into().unwrap()) as usize;
            assert_eq!(bytes.len(), 84 + 50 * triangles);
        }
    }
    let Run { status, err, .. } = spelk(&["export", GATE, "-o", &path("out.gcode")]);
    assert!(status == 2 && err.contains("use .svg, .dxf"), "{err}");
}

/// A private sign stands for a script that the built-in typefaces lack; one small font has it.
#[cfg(target_os = "linux")]
#[test]
fn letters_come_from_a_font_of_the_machine_and_go_into_the_file() {
    let home = tempfile::tempdir().unwrap();
    let fonts = home.path().join(".fonts");
    std::fs::create_dir_all(&fonts).unwrap();
    std::fs::write(fonts.join("signs.ttf"), epaint_default_fonts::EGUI_ICONS).unwrap();
    let written = |name: &str| {
        let out = home.path().join(name);
        let output = assert_cmd::Command::new(env!("CARGO_BIN_EXE_spelk"))
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .env("HOME", home.path())
            .env("XDG_CONFIG_HOME", home.path())
            .args(["sheet", GATE, "--what", "handout", "--shop-name", "Signs \u{e625}", "-o"])
            .arg(&out)
            .output()
            .unwrap();
        let told = String::from_utf8(output.stderr).unwrap();
        assert!(output.status.success() && told.is_empty(), "{told}");
        std::fs::read(out).unwrap()
    };
    let (with, again) = (written("one.pdf"), written("two.pdf"));
    assert_eq!(with, again);
    let plain = home.path().join("plain.pdf");
    spelk(&["sheet", GATE, "--what", "handout", "--shop-name", "Signs", "-o", plain.to_str().unwrap()]);
    assert!(with.len() > std::fs::read(plain).unwrap().len() + 300, "the letter is not in the file");
}
