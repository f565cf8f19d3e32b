//! Designs made by hand, for the tests of what is worked out from them.

use glam::{DVec2, dvec2};
use spelk::design::{Design, Element};
use spelk::geometry::{FillRule, Grid, Rect, Region};
use spelk::job::{Clearing, Edit, Job, Treatment};
use spelk::proof::Proof;
use spelk::shop::{Board, Cutter, Machine, Wood};
use spelk::units::Mm;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A ring from coordinates.
pub(crate) fn ring(points: &[(f64, f64)]) -> Vec<DVec2> {
    points.iter().map(|&(x, y)| dvec2(x, y)).collect()
}

/// An axis-aligned rectangle from its lower left corner and its sizes.
pub(crate) fn rectangle(x: f64, y: f64, length: f64, width: f64) -> Vec<DVec2> {
    ring(&[(x, y), (x + length, y), (x + length, y + width), (x, y + width)])
}

/// A design of named elements, each of rings under the even-odd rule.
pub(crate) fn design(elements: &[(&str, Vec<Vec<DVec2>>)]) -> Design {
    let points = elements.iter().flat_map(|(_, rings)| rings.iter().flatten().copied());
    let grid = Grid::covering(Rect::around(points).expect("a test design has points"));
    let element = |(name, rings): &(&str, Vec<Vec<DVec2>>)| {
        Element::new(*name, Region::clean(grid, rings, FillRule::EvenOdd))
    };
    Design {
        name: "test piece".to_owned(),
        elements: elements.iter().map(element).collect(),
        page: None,
        grid,
        notices: spelk::notice::Notices::new(),
        sharpness: None,
    }
}

/// A machine with the facts of the trade: rollers 3 1/2 in from the cutter, boards from 7 x 1 1/2 x 1/2 in
/// to 14 1/2 in wide and 5 in thick (common practice, no source).
pub(crate) fn trade_machine() -> Machine {
    let inches = Mm::from_inches;
    Machine {
        id: "trade".to_owned(),
        name: "Facts of the trade".to_owned(),
        infeed_roller: inches(3.5),
        outfeed_roller: inches(3.5),
        side_margin: Mm::ZERO,
        longest: inches(144.0),
        widest: inches(14.5),
        thickest: inches(5.0),
        shortest: inches(7.0),
        narrowest: inches(1.5),
        thinnest: inches(0.5),
        ..Machine::find("compact").expect("the starting machine is built in").clone()
    }
}

/// A job on the [`trade_machine`] for elements that are all carved one way, with a cutter that is trusted with a long
/// wall of 1.5 mm along the grain, pushed in its middle.
pub(crate) fn job(treatment: Treatment, elements: &[(&str, Vec<Vec<DVec2>>)]) -> Job {
    let mut job = Job::new(Arc::new(design(elements)));
    job.apply(Edit::Machine(Box::new(trade_machine()))).unwrap();
    job.apply(Edit::TreatAll(treatment)).unwrap();
    change_cutter(&mut job, |cutter| cutter.reference.length = None);
    job
}

/// Gives each element of a job its treatment, in the design's order.
pub(crate) fn treat<const N: usize>(job: &mut Job, treatments: [Treatment; N]) {
    for (element, treatment) in treatments.into_iter().enumerate() {
        job.apply(Edit::Treat { elements: vec![element], treatment }).unwrap();
    }
}

/// Changes something about a job's board.
pub(crate) fn change_board(job: &mut Job, change: impl FnOnce(&mut Board)) {
    let mut board = job.board().clone();
    change(&mut board);
    job.apply(Edit::Board(Box::new(board))).unwrap();
}

/// Changes something about a job's wood.
pub(crate) fn change_wood(job: &mut Job, change: impl FnOnce(&mut Wood)) {
    let mut wood = job.wood().clone();
    change(&mut wood);
    job.apply(Edit::Wood(Box::new(wood))).unwrap();
}

/// Changes something about a job's cutter.
pub(crate) fn change_cutter(job: &mut Job, change: impl FnOnce(&mut Cutter)) {
    let mut cutter = job.cutter().clone();
    change(&mut cutter);
    job.apply(Edit::Cutter(Box::new(cutter))).unwrap();
}

/// Changes something about a job's machine.
pub(crate) fn change_machine(job: &mut Job, change: impl FnOnce(&mut Machine)) {
    let mut machine = job.machine().clone();
    change(&mut machine);
    job.apply(Edit::Machine(Box::new(machine))).unwrap();
}

/// Changes something about how a job's places are cleared.
pub(crate) fn change_clearing(job: &mut Job, change: impl FnOnce(&mut Clearing)) {
    let mut clearing = job.clearing().clone();
    change(&mut clearing);
    job.apply(Edit::Clearing(Box::new(clearing))).unwrap();
}

/// The proof of a job; a clean outline always has one.
pub(crate) fn proof_of(job: &Job) -> Proof {
    spelk::proof::proof_of(job)
}

/// The folder that an ignored test reads, from the environment; without it the test fails, for it has
/// nothing to say.
pub(crate) fn folder_named_by(variable: &str) -> PathBuf {
    let folder = std::env::var_os(variable);
    folder
        .unwrap_or_else(|| panic!("{variable} names no folder to read; .ci/run shows what belongs in it"))
        .into()
}

/// Every file under a folder whose name ends in one of `endings`, in order.
pub(crate) fn files_under(folder: &Path, endings: &[&str]) -> Vec<PathBuf> {
    let mut files = Vec::new();
    let Ok(entries) = std::fs::read_dir(folder) else { return files };
    for entry in entries.filter_map(Result::ok) {
        let path = entry.path();
        if path.is_dir() {
            files.extend(files_under(&path, endings));
        } else if path.extension().is_some_and(|ending| endings.iter().any(|known| ending == *known)) {
            files.push(path);
        }
    }
    files.sort();
    files
}

/// A picture's file as an `image` of an SVG, 60 wide and 40 high.
pub(crate) fn embedded(bytes: &[u8]) -> String {
    let signs = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let encoded: String = bytes
        .chunks(3)
        .flat_map(|three| {
            let bits = three.iter().fold(0_u32, |bits, &byte| bits << 8 | u32::from(byte))
                << (8 * (3 - three.len()));
            (0..=three.len()).map(move |k| char::from(signs[(bits >> (18 - 6 * k) & 63) as usize]))
        })
        .collect();
    format!(r#"<image width="60" height="40" href="data:image/png;base64,{encoded}"/>"#)
}
