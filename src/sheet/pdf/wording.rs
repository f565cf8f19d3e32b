//! Snapshots of every word on every sheet, so that a change of wording is seen when it is reviewed.

use super::leaf::{Leaf, Mark};
use super::{BenchNotes, Paper, Quote, SheetSettings, batch, bench, foot, handout, options, template};
use crate::arrange::{self, Effort, Wanted, arrange};
use crate::design::samples::find;
use crate::job::sample::sample_job;
use crate::job::{Edit, Piece, Size, Turns};
use crate::proof::sizes::{parse_sizes, sizes};
use crate::proof::{measure, proof, rate};
use crate::relief::NEVER;
use crate::sheet::coupon::coupon;
use crate::shop::Prices;
use crate::units::{LengthUnit, Mm};
use std::fmt::Write as _;

/// The words of marks, in the order in which they are laid out.
pub(super) fn words(marks: &[Mark]) -> Vec<&str> {
    fn of(mark: &Mark) -> Vec<&str> {
        match mark {
            Mark::Words { words, .. } => vec![words.as_str()],
            Mark::Within { marks, .. } => words(marks),
            _ => vec![],
        }
    }
    marks.iter().flat_map(of).collect()
}

/// Compares the words of all pages, feet included, with `tests/snapshots/sheet_NAME.snap`.
fn check(name: &str, what: &str, paper: Paper, mut leaves: Vec<Leaf>) {
    let mut text = String::new();
    let pages = leaves.len();
    for (index, leaf) in leaves.iter_mut().enumerate() {
        foot(leaf, what, paper, index + 1, pages);
        writeln!(text, "== page {} of {pages}", index + 1).unwrap();
        for words in words(&leaf.marks) {
            writeln!(text, "{words}").unwrap();
        }
    }
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/snapshots"));
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings.bind(|| insta::assert_snapshot!(format!("sheet_{name}_{}", paper.label().to_lowercase()), text));
}

#[test]
fn every_word_of_every_sheet() {
    let job = sample_job(find("inn-sign").unwrap()).unwrap();
    let measured = measure(&job);
    let ratings = rate(&job, &measured);
    let proof = proof(&job, &measured, &ratings);
    let prices = Prices::default();
    for (paper, unit) in [(Paper::A4, LengthUnit::Millimetres), (Paper::Letter, LengthUnit::InchFraction)] {
        let settings = SheetSettings {
            paper,
            unit,
            shop_name: "Harbour Signs".to_owned(),
            customer_text: "Pick one and ring us.".to_owned(),
            offer: Quote {
                customer: "Ida Marsh".to_owned(),
                date: "29 November 2026".to_owned(),
                ..Quote::default()
            },
            mark: None,
        };
        let notes = BenchNotes { minutes: Some(125.0), ..BenchNotes::default() };
        let wanted = parse_sizes("Small=12in,drawn,fit", unit).unwrap();
        let rows = sizes(&job, &measured, &ratings, &wanted, &prices, &|_| Some(95.0)).unwrap();
        let offer = Quote { with_findings: true, ..settings.offer.clone() };
        let open = SheetSettings { offer, ..settings.clone() };
        let sheets = [
            ("bench", "Bench sheet", vec![bench::bench_leaf(&job, &proof, &notes, &settings)]),
            ("template", "Template", template::template_leaves(&job, &proof, &settings).unwrap()),
            ("coupon", "Coupon", template::coupon_leaves(&coupon(&job), &job, &settings).unwrap()),
            ("handout", "Handout", handout::handout_leaves(&job, &proof, &settings).to_vec()),
            ("offer", "Offer", options::options_leaves(&job, &rows, &[], &prices, &settings)),
            ("offer_with_findings", "Offer", options::options_leaves(&job, &rows, &[], &prices, &open)),
            ("prices", "Prices", options::price_leaves(&job, &rows, &prices, &settings)),
        ];
        for (name, what, leaves) in sheets {
            check(name, what, paper, leaves);
        }
    }
}

/// Three copies of one piece and one of another, on one board.
#[test]
fn every_word_of_the_sheets_of_several_pieces() {
    let job = sample_job(find("inn-sign").unwrap()).unwrap();
    let small = job.with([Edit::Size(Size::Factor(0.25))]).unwrap();
    let other = sample_job(find("gate-sign").unwrap()).unwrap();
    let other = other.with([Edit::Size(Size::Factor(0.3))]).unwrap();
    let edits = [
        Edit::BoardSize([1200.0, 200.0, 19.0].map(Mm::new)),
        Edit::Count { piece: 0, count: 3 },
        Edit::AddPiece(Box::new(Piece::of(&other, 1, Turns::None))),
    ];
    let job = small.with(edits).unwrap();
    let laid = arrange(&job, Wanted::Counts, Effort::Quick, &NEVER).unwrap();
    let job = job.with([laid.edit()]).unwrap();
    let prices = Prices::default();
    let of_all = arrange::batch(&job, &prices, &NEVER).unwrap();
    assert_eq!(of_all.copies.len(), 4);
    for (paper, unit) in [(Paper::A4, LengthUnit::Millimetres), (Paper::Letter, LengthUnit::InchFraction)] {
        let settings = SheetSettings {
            paper,
            unit,
            shop_name: "Harbour Signs".to_owned(),
            customer_text: "Ring us when you have looked.".to_owned(),
            ..SheetSettings::default()
        };
        let leaf = batch::batch_bench_leaf(&job, &of_all, None, &prices.money, &settings).unwrap();
        check("batch_bench", "Bench sheet", paper, vec![leaf]);
        let leaves = batch::pieces_leaves(&job, &of_all, &prices, &settings).unwrap();
        check("pieces", "Pieces on one board", paper, leaves);
    }
}
