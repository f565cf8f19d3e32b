//! What must hold of any bytes at all, a function a kind of file: nothing panics, and what is read makes sense.
//!
//! The targets of `fuzz_targets/` call these with bytes that cargo-fuzz finds; `tests/mutations.rs` calls the same with
//! seeded mutations of real files, on any toolchain.

use spelk::design::face::Fonts;
use spelk::job::{Job, saved};
use spelk::notice::Notices;
use spelk::proof::record::Record;
use spelk::proof::{measure, proof, rate, walls};
use spelk::relief::NEVER;
use spelk::sheet::{Besides, json};
use spelk::shop::Photo;
use spelk::shop::{Money, Shop, open_rack};
use spelk::trace::{PictureSize, Settings, prepare};
use spelk::units::{LengthUnit, Mm};
use std::sync::Arc;

/// Designs up to this many edges are proofed as well.
const PROOFED: usize = 600;

/// Pictures up to this many pixels are traced.
const TRACED: u64 = 250_000;

/// A drawing, SVG or DXF: what is read keeps what regions promise, and is proofed.
pub fn drawing(bytes: &[u8]) {
    let Ok(design) = spelk::design::read("drawing", bytes) else { return };
    if design.segment_count() < PROOFED {
        design.check_invariants();
        proofed(&Job::new(Arc::new(design)));
    }
}

/// A saved job: it comes back from its saved form as it was, and is proofed.
pub fn saved_job(bytes: &[u8]) {
    let Ok(job) = saved::from_text(bytes) else { return };
    let text = saved::to_text(&job);
    let again = saved::from_text(text.as_bytes()).expect("what was written is read");
    assert_eq!(saved::to_text(&again), text, "a job comes back as it was saved");
    if job.design().segment_count() < PROOFED {
        proofed(&job);
    }
}

/// A font file: its faces draw every letter of a few words.
pub fn font(bytes: &[u8]) {
    let fonts = Fonts::of_files([("font".to_owned(), bytes.to_vec())], &mut Notices::default());
    let names: Vec<String> = fonts.names().map(str::to_owned).collect();
    for face in names.iter().filter_map(|name| fonts.face(name)) {
        for glyph in face.line("Mossford 27", true) {
            assert!(glyph.at.iter().all(|at| at.is_finite()), "{:?}", glyph.at);
        }
    }
}

/// A picture to be traced, by itself or within a drawing.
pub fn picture(bytes: &[u8]) {
    let inside = spelk::design::embedded::pictures(bytes).unwrap_or_default().into_iter().flatten();
    for picture in std::iter::once(bytes.to_vec()).chain(inside.take(3)) {
        let Ok(photo) = Photo::read(&picture, &mut Notices::default()) else { continue };
        let [width, height] = photo.size();
        if u64::from(width) * u64::from(height) > TRACED {
            continue;
        }
        let settings = Settings::new(PictureSize::Length(Mm::new(100.0)));
        let Ok(prepared) = prepare(&photo, &settings, &NEVER) else { continue };
        let Ok(traced) = prepared.trace("picture", &settings, &NEVER) else { continue };
        if traced.design.segment_count() < PROOFED {
            traced.design.check_invariants();
            proofed(&Job::new(Arc::new(traced.design)));
        }
    }
}

/// A photograph of a board.
pub fn photograph(bytes: &[u8]) {
    let mut notices = Notices::default();
    if let Ok(photo) = Photo::read(bytes, &mut notices) {
        let [width, height] = photo.size();
        assert_eq!(
            photo.pixels().len() as u64,
            4 * u64::from(width) * u64::from(height),
            "four bytes a pixel"
        );
    }
}

/// A record of walls: it comes back from CSV as it was, and what it comes to is finite.
pub fn record(bytes: &[u8]) {
    let Ok(record) = Record::from_csv(&String::from_utf8_lossy(bytes)) else { return };
    assert_eq!(Record::from_csv(&record.to_csv()).ok().as_ref(), Some(&record), "it comes back as it was");
    for told in record.told() {
        assert!(told.mean.is_finite() && told.held <= told.walls, "{told:?}");
    }
    for cutter in spelk::shop::cutters() {
        if let Some(experience) = record.experience(cutter) {
            let factors = experience.factor;
            assert!(factors.iter().all(|factor| factor.is_finite() && *factor > 0.0), "{factors:?}");
        }
    }
}

/// A file of the shop's own: as its cutters, woods, machines, prices and rack.
pub fn shop(bytes: &[u8]) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    for name in ["cutters.json", "woods.json", "machines.json", "prices.json", "boards.json"] {
        std::fs::write(folder.path().join(name), bytes).expect("a temporary file");
    }
    let (shop, _) = Shop::open(folder.path(), &Money::default());
    assert!(shop.cutters.iter().all(|cutter| cutter.problems().is_empty()), "what is used makes sense");
    drop(open_rack(folder.path()));
}

/// Everything in the proof is a number, no wall is under nothing, and twice is the same.
pub fn proofed(job: &Job) {
    let text = || {
        let measured = measure(job);
        let ratings = rate(job, &measured);
        let proof = proof(job, &measured, &ratings);
        let near = walls(job, &measured, &ratings);
        for wall in &near {
            assert!(wall.width.get() >= 0.0 && (0.0..=1.0).contains(&wall.chance), "{wall:?}");
        }
        let time = spelk::relief::time::of(job, &measured);
        json::proof_json(job, &proof, &Besides::of(&time, &near), LengthUnit::Millimetres)
    };
    let first = text();
    for nonsense in ["NaN", ": inf", ": -inf", "Infinity"] {
        assert!(!first.contains(nonsense), "{nonsense} in {first}");
    }
    assert_eq!(first, text(), "the same job, the same bytes");
}
