//! Many real outlines at once: nothing panics, nothing hangs, and what is refused is counted.

use crate::support::{files_under, folder_named_by};
use glam::DVec2;
use rayon::prelude::*;
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, GlyphId, MetadataProvider as _};
use spelk::design::{self, Design};
use spelk::job::Job;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::panic::catch_unwind;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

/// Draws a glyph as SVG path data, y down.
#[derive(Default)]
struct PathData(String);

impl OutlinePen for PathData {
    fn move_to(&mut self, x: f32, y: f32) {
        let _ = write!(self.0, "M{x} {}", -y);
    }
    fn line_to(&mut self, x: f32, y: f32) {
        let _ = write!(self.0, "L{x} {}", -y);
    }
    fn quad_to(&mut self, ax: f32, ay: f32, x: f32, y: f32) {
        let _ = write!(self.0, "Q{ax} {} {x} {}", -ay, -y);
    }
    fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
        let _ = write!(self.0, "C{ax} {} {bx} {} {x} {}", -ay, -by, -y);
    }
    fn close(&mut self) {
        self.0.push('z');
    }
}

/// Every glyph of a font that has an outline, as a drawing of its own.
fn glyphs(font: &[u8]) -> Vec<String> {
    let font = FontRef::new(font).expect("the fonts in the tree are sound");
    let outlines = font.outline_glyphs();
    let count = font.glyph_names().num_glyphs();
    (0..count)
        .filter_map(|id| {
            let glyph = outlines.get(GlyphId::new(id))?;
            let mut pen = PathData::default();
            glyph.draw(DrawSettings::unhinted(Size::new(100.0), LocationRef::default()), &mut pen).ok()?;
            let path = pen.0;
            (!path.is_empty()).then(|| {
                format!(
                    "<svg xmlns='http://www.w3.org/2000/svg' width='100mm' height='100mm' viewBox='0 -80 100 100'><path d='{path}'/></svg>"
                )
            })
        })
        .collect()
}

/// Reads and measures one drawing; the reason where it is refused.
fn proofed(name: &str, bytes: &[u8]) -> Result<Design, String> {
    let design = design::read(name, bytes).map_err(|error| error.to_string())?;
    design.check_invariants();
    let design = Arc::new(design);
    drop(spelk::proof::measure(&Job::new(design.clone())));
    Ok(Arc::unwrap_or_clone(design))
}

#[test]
fn every_glyph_of_the_window_s_fonts() {
    let fonts: [(&str, &[u8], usize); 3] = [
        ("Hack", epaint_default_fonts::HACK_REGULAR, 1_000),
        ("Ubuntu Light", epaint_default_fonts::UBUNTU_LIGHT, 1_000),
        ("icons", epaint_default_fonts::EGUI_ICONS, 3),
    ];
    for (name, font, at_least) in fonts {
        let start = Instant::now();
        let drawings = glyphs(font);
        let refused: BTreeMap<String, usize> = drawings
            .par_iter()
            .filter_map(|drawing| proofed(name, drawing.as_bytes()).err())
            .fold(BTreeMap::new, |mut counts, reason| {
                *counts.entry(reason).or_default() += 1;
                counts
            })
            .reduce(BTreeMap::new, merged);
        eprintln!("{name}: {} glyphs, refused {refused:?}, {:.1?}", drawings.len(), start.elapsed());
        assert!(drawings.len() >= at_least, "{name} has its glyphs");
        assert!(refused.is_empty(), "{name}: {refused:?}");
    }
}

fn merged(mut one: BTreeMap<String, usize>, other: BTreeMap<String, usize>) -> BTreeMap<String, usize> {
    for (reason, count) in other {
        *one.entry(reason).or_default() += count;
    }
    one
}

/// How long one file may take here before it counts as a hang: icons take milliseconds.
const PATIENCE: Duration = Duration::from_secs(20);

/// Proofs every drawing under the folder named by `SPELK_CORPUS`, which holds one folder for each corpus.
#[test]
#[ignore = "reads the drawings in SPELK_CORPUS; .ci/run fetches some"]
fn a_folder_of_real_drawings() {
    let folder = folder_named_by("SPELK_CORPUS");
    let mut corpora: Vec<PathBuf> = std::fs::read_dir(&folder)
        .expect("SPELK_CORPUS names a folder")
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.is_dir())
        .collect();
    corpora.sort();
    assert!(!corpora.is_empty(), "SPELK_CORPUS holds a folder for each corpus");
    let mut bad = Vec::new();
    for corpus in corpora {
        let files = files_under(&corpus, &["svg", "dxf"]);
        let start = Instant::now();
        let outcomes: Vec<Outcome> = files.par_iter().map(|file| outcome(file)).collect();
        let mut refused: BTreeMap<&str, usize> = BTreeMap::new();
        let mut proofed = 0;
        let mut slowest = (Duration::ZERO, Path::new(""));
        for (file, outcome) in files.iter().zip(&outcomes) {
            match &outcome.refused {
                None => proofed += 1,
                Some(reason) => *refused.entry(reason).or_default() += 1,
            }
            if outcome.panicked || outcome.took > PATIENCE {
                bad.push(file.clone());
            }
            if outcome.took > slowest.0 {
                slowest = (outcome.took, file);
            }
        }
        eprintln!(
            "corpus {}: {} files, {proofed} proofed, {} refused {refused:?}, {:.1?} in all, slowest {:.1?} {}",
            corpus.file_name().unwrap_or_default().to_string_lossy(),
            files.len(),
            files.len() - proofed,
            start.elapsed(),
            slowest.0,
            slowest.1.display()
        );
        assert!(!files.is_empty(), "{} holds drawings", corpus.display());
    }
    assert!(bad.is_empty(), "panicked or took over {PATIENCE:?}: {bad:?}");
}

struct Outcome {
    refused: Option<String>,
    panicked: bool,
    took: Duration,
}

fn outcome(file: &Path) -> Outcome {
    let start = Instant::now();
    let result = catch_unwind(|| {
        let bytes = std::fs::read(file).map_err(|error| error.to_string())?;
        proofed("corpus", &bytes)
    });
    let (refused, panicked) = match result {
        Ok(Ok(design)) => {
            assert!(design.outline_box().size().cmpgt(DVec2::ZERO).all(), "{} has a size", file.display());
            (None, false)
        }
        Ok(Err(reason)) => (Some(reason), false),
        Err(_) => (Some("panicked".to_owned()), true),
    };
    Outcome { refused, panicked, took: start.elapsed() }
}

/// Compares drawings that lie side by side as SVG and as DXF, in the folder named by `SPELK_DXF_CORPUS`,
/// see `tests/recipes/corpus_dxf.py`.
#[test]
#[ignore = "reads the drawings in SPELK_DXF_CORPUS; .ci/run makes some"]
fn drawings_as_svg_and_as_dxf() {
    let files = files_under(&folder_named_by("SPELK_DXF_CORPUS"), &["dxf"]);
    assert!(!files.is_empty(), "SPELK_DXF_CORPUS holds drawings");
    let start = Instant::now();
    let different: Vec<String> = files.par_iter().filter_map(|file| compared(file).err()).collect();
    eprintln!(
        "{} drawings as DXF, {} differ from their SVG, {:.1?}",
        files.len(),
        different.len(),
        start.elapsed()
    );
    for line in &different {
        eprintln!("    {line}");
    }
    // A few icons have outlines that cross or lie on one another: SVG's rule fills those places, and of
    // lines in a DXF nobody knows.
    assert!(different.len() * 100 <= files.len(), "one in a hundred at most");
}

fn compared(file: &Path) -> Result<(), String> {
    let read = |path: &Path| {
        let design = design::open(path).map_err(|error| format!("{}: {error}", path.display()))?;
        design.check_invariants();
        Ok::<Design, String>(design)
    };
    let (lines, shape) = (read(file)?, read(&file.with_extension("svg"))?);
    let area = |design: &Design| design.elements.iter().map(|element| element.region.area()).sum::<f64>();
    let ring_length = |element: &design::Element| {
        let edges = element.region.rings().flat_map(|ring| ring.segments().collect::<Vec<_>>());
        edges.map(|[a, b]| a.distance(b)).sum::<f64>()
    };
    let length: f64 = shape.elements.iter().map(ring_length).sum();
    let apart = (area(&lines) - area(&shape)).abs();
    // Both are flattened, each by a twenty-thousandth of its size, and the parser's own arcs are cubics.
    let allowed = length * shape.outline_box().size().max_element() * 4e-4;
    if apart > allowed { Err(format!("{}: {apart:.4} mm² apart", file.display())) } else { Ok(()) }
}
