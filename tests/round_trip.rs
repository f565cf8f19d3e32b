//! Everything read can be written as a true-size SVG and read back as the same regions, to a micrometre.

use crate::design_dxf;
use crate::support::{files_under, folder_named_by};
use glam::DVec2;
use proptest::prelude::*;
use rayon::prelude::*;
use spelk::design::lettering::Lettering;
use spelk::design::{self, Design, face::Fonts, samples};
use spelk::geometry::{FillRule, Grid, Rect, Region};
use spelk::sheet::outline::outline_svg;

/// A micrometre, in millimetres.
const MICROMETRE: f64 = 1e-3;

/// Why a design does not come back the same; nothing where it does.
fn difference(design: &Design) -> Result<(), String> {
    let outline = design.outline_box();
    let corner = design.page.map_or(outline, |page| page.union(outline)).min;
    let text = outline_svg(design, 1.0);
    let back = design::read(&design.name, text.as_bytes()).map_err(|error| error.to_string())?;
    back.check_invariants();
    let names =
        |design: &Design| design.elements.iter().map(|element| element.name.clone()).collect::<Vec<_>>();
    if names(design) != names(&back) {
        return Err(format!("elements {:?} came back as {:?}", names(design), names(&back)));
    }
    let rings = |region: &Region, by: DVec2| -> Vec<Vec<DVec2>> {
        region.rings().map(|ring| ring.points().map(|p| p - by).collect()).collect()
    };
    for (one, other) in design.elements.iter().zip(&back.elements) {
        let (there, again) = (rings(&one.region, corner), rings(&other.region, DVec2::ZERO));
        let bounds =
            Rect::around(there.iter().chain(&again).flatten().copied()).expect("an element has points");
        let grid = Grid::covering(bounds);
        let region = |rings: &[Vec<DVec2>]| Region::clean(grid, rings, FillRule::NonZero);
        let (there, again) = (region(&there), region(&again));
        let apart = there.minus(&again).area() + again.minus(&there).area();
        let length: f64 = one
            .region
            .rings()
            .flat_map(|ring| ring.segments().collect::<Vec<_>>())
            .map(|[a, b]| a.distance(b))
            .sum();
        if apart > MICROMETRE * length {
            return Err(format!("{}: {apart} mm² apart along {length} mm", one.name));
        }
        // What is nowhere thicker than a micrometre may come or go: slits between outlines that nearly
        // touch.
        for apart in [there.minus(&again), again.minus(&there)] {
            if let Some(bounds) = apart.grown(-MICROMETRE / 2.0).bounds() {
                return Err(format!("{}: apart by more than a micrometre at {}", one.name, bounds.center()));
            }
        }
    }
    Ok(())
}

#[test]
fn the_samples_and_the_test_drawings() {
    for sample in samples::samples() {
        let design = design::read(sample.id, sample.svg.as_bytes()).unwrap();
        assert_eq!(difference(&design), Ok(()), "{}", sample.id);
    }
    for entry in std::fs::read_dir(design_dxf::folder()).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "dxf") {
            assert_eq!(difference(&design::open(&path).unwrap()), Ok(()), "{}", path.display());
        }
    }
}

#[test]
fn lettering() {
    let words = Lettering { words: "Reed & <Oar>\n§ 7".to_owned(), ..Lettering::default() };
    assert_eq!(difference(&words.design(&Fonts::built_in()).unwrap()), Ok(()));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn any_outlines(
        rings in prop::collection::vec(prop::collection::vec((-200.0..200.0_f64, -200.0..200.0_f64), 3..20), 1..6),
    ) {
        let mut text = String::from("<svg xmlns='http://www.w3.org/2000/svg' width='400mm' height='400mm' viewBox='-200 -200 400 400'>");
        for (index, ring) in rings.iter().enumerate() {
            let points: Vec<String> = ring.iter().map(|(x, y)| format!("{x},{y}")).collect();
            text += "<polygon id='ring ";
            text += &index.to_string();
            text += "' points='";
            text += &points.join(" ");
            text += "'/>";
        }
        text += "</svg>";
        if let Ok(design) = design::read("rings", text.as_bytes()) {
            prop_assert_eq!(difference(&design), Ok(()));
        }
    }
}

/// Every twentieth drawing of the folder named by `SPELK_CORPUS`, see `corpora`.
#[test]
#[ignore = "reads the drawings in SPELK_CORPUS; .ci/run fetches some"]
fn a_folder_of_real_drawings() {
    const ONE_IN: usize = 20;
    let files = files_under(&folder_named_by("SPELK_CORPUS"), &["svg", "dxf"]);
    assert!(!files.is_empty(), "SPELK_CORPUS holds drawings");
    let files: Vec<_> = files.into_iter().step_by(ONE_IN).collect();
    let wrong: Vec<String> = files
        .par_iter()
        .filter_map(|file| {
            let design = design::open(file).ok()?;
            difference(&design).err().map(|why| format!("{}: {why}", file.display()))
        })
        .collect();
    eprintln!("round trip: {} drawings, {} came back different", files.len(), wrong.len());
    assert!(wrong.is_empty(), "{wrong:#?}");
}
