//! Sizes to choose from, prices, paper and files in the window; by label, as in `window.rs`.

use super::window::{self, ask, click, settle, type_into};
use eframe::egui;
use egui::Role;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use spelk::app::{App, Command, Export, Middle};
use spelk::job::Edit;
use spelk::proof::Severity;
use spelk::shop::{Money, Shop};
use spelk::units::Mm;
use std::path::PathBuf;

/// The window with the sizes in its middle.
fn sizes(answers: Vec<Option<PathBuf>>) -> Harness<'static, App> {
    let mut harness = window::started(vec![], answers);
    ask(&mut harness, Command::Show(Middle::Sizes));
    harness
}

/// Across the counter: sizes and prices in large type, nothing of the bench, and a choice that sets the job.
#[test]
fn a_customer_sees_sizes_and_prices_and_chooses() {
    let mut harness = sizes(vec![]);
    type_into(&mut harness, "Size to add", "Hall=550mm");
    click(&mut harness, "Show to the customer");
    settle(&mut harness);
    harness.get_by_label("Hall, as carved");
    for bench in ["Findings", "Use size Hall", "Prices…", "File"] {
        assert!(harness.query_by_label(bench).is_none(), "{bench} is for the bench");
    }
    assert!(harness.query_by_label_contains("too thin").is_none(), "no finding is in sight");
    // The inn sign is unsound as drawn, and nobody is shown what cannot be had.
    assert!(harness.query_by_label("As drawn, as carved").is_none());
    click(&mut harness, "Choose Hall");
    let length = harness.state().proof().unwrap().length;
    assert!((length - Mm::new(550.0)).get().abs() < 1e-6, "{length}");
    click(&mut harness, "Back (Esc)");
    harness.get_by_label("Use size Hall");
    harness.get_by_label("Show prices").scroll_to_me();
    settle(&mut harness);
    click(&mut harness, "Show prices");
    harness.get_by_label("Show sizes that would break, greyed").scroll_to_me();
    settle(&mut harness);
    click(&mut harness, "Show sizes that would break, greyed");
    harness.get_by_label("Show a hand for scale").scroll_to_me();
    settle(&mut harness);
    click(&mut harness, "Show a hand for scale");
    click(&mut harness, "Show to the customer");
    settle(&mut harness);
    harness.get_by_label("As drawn, as carved");
    harness.get_by_label("A hand, for scale");
    assert!(harness.query_all_by_label("Too fine to carve at this size").count() > 0);
}

#[test]
fn sizes_are_added_named_used_and_removed() {
    let mut harness = sizes(vec![]);
    harness.get_by_label("Use size As drawn");
    harness.get_by_label("Use size Largest for this board");
    type_into(&mut harness, "Size to add", "Small=8in");
    type_into(&mut harness, "Size to add", "150");
    harness.get_by_label("Use size 150 mm");
    click(&mut harness, "Use size Small");
    let length = harness.state().proof().unwrap().length;
    assert!((length - Mm::from_inches(8.0)).get().abs() < 1e-6, "{length}");
    type_into(&mut harness, "Name of size 3", "Shelf");
    harness.get_by_label("Use size Shelf");
    click(&mut harness, "Remove size 3");
    assert!(harness.query_by_label("Use size Shelf").is_none());
    type_into(&mut harness, "Size to add", "huge");
    harness.get_by_label_contains("'huge' is not a size");
}

#[test]
fn an_unsound_size_is_shown_and_says_why() {
    let mut harness = sizes(vec![]);
    type_into(&mut harness, "Size to add", "Tiny=40mm");
    click(&mut harness, "Use size Tiny");
    let verdict = harness.state().proof().unwrap().verdict.clone();
    assert_eq!(verdict.severity, Severity::Unsound);
    let sentence = spelk::words::verdict::sentence(&verdict, spelk::units::LengthUnit::Millimetres);
    // Once over the window, once in the row.
    assert_eq!(harness.get_all_by_label(&sentence).count(), 2, "{sentence}");
}

#[test]
fn every_sheet_and_file_is_written_where_it_was_asked_for() {
    let folder = tempfile::tempdir().unwrap();
    let starts: [(Export, &str, &[u8]); 10] = [
        (Export::BenchSheet, "bench.pdf", b"%PDF"),
        (Export::Template, "template.pdf", b"%PDF"),
        (Export::CouponSheet, "coupon.pdf", b"%PDF"),
        (Export::SizeSheet, "sizes.pdf", b"%PDF"),
        (Export::PriceSheet, "prices.pdf", b"%PDF"),
        (Export::Dxf, "outline.dxf", b""),
        (Export::Picture, "picture.png", b"\x89PNG"),
        (Export::CarvedPicture, "carved.png", b"\x89PNG"),
        (Export::Proof, "proof.json", b"{"),
        (Export::Findings, "findings.csv", b""),
    ];
    let answers = starts.iter().map(|(_, name, _)| Some(folder.path().join(name))).collect();
    let mut harness = sizes(answers);
    for (what, name, start) in starts {
        ask(&mut harness, Command::AskExport(what));
        settle(&mut harness);
        let bytes = std::fs::read(folder.path().join(name)).unwrap();
        assert!(bytes.len() > 100 && bytes.starts_with(start), "{name}: {} bytes", bytes.len());
        assert!(!harness.state().messages().last().unwrap().trouble, "{name}");
    }
}

#[test]
fn an_offer_names_its_customer_and_its_dates() {
    let mut harness = sizes(vec![]);
    for (field, words) in [
        ("Customer's name", "Ida Marsh"),
        ("Date of the offer", "29 November"),
        ("Valid until", "the end of the year"),
    ] {
        harness.get_by_role_and_label(Role::TextInput, field).scroll_to_me();
        settle(&mut harness);
        type_into(&mut harness, field, words);
        let field = harness.get_by_role_and_label(Role::TextInput, field);
        assert_eq!(field.value().as_deref(), Some(words));
    }
    harness.get_by_label("Print what was found").scroll_to_me();
    settle(&mut harness);
    click(&mut harness, "Print what was found");
}

#[test]
fn a_mark_that_is_no_picture_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let mark = folder.path().join("mark.png");
    std::fs::write(&mark, "no picture").unwrap();
    let mut harness = sizes(vec![Some(mark), Some(folder.path().join("sizes.pdf"))]);
    click(&mut harness, "Choose picture…");
    click(&mut harness, "Offer of sizes as PDF…");
    let last = harness.state().messages().last().unwrap();
    assert!(last.trouble && last.text.contains("mark.png"), "{}", last.text);
    assert!(!folder.path().join("sizes.pdf").exists(), "nothing is written");
}

#[test]
fn prices_are_kept_in_the_shop_and_change_the_rows() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window::with_shop(folder.path(), vec![]);
    ask(&mut harness, Command::Show(Middle::Sizes));
    harness.get_by_label("Prices are examples until you set your own");
    click(&mut harness, "Prices…");
    type_into(&mut harness, "Margin", "-3");
    harness.get_by_label("it must be from 0 to 95 % of the price");
    type_into(&mut harness, "Margin", "40");
    type_into(&mut harness, "Minimum", "999");
    type_into(&mut harness, "Price of other woods", "12,5");
    click(&mut harness, "Keep prices");
    let kept = Shop::open(folder.path(), &Money::default()).0.prices;
    assert_eq!((kept.margin, kept.minimum, kept.other_woods), (0.4, 999.0, Some(12.5)));
    assert!(harness.get_all_by_label("$999.00").count() > 0);
}

#[test]
fn money_is_chosen_by_place_and_kept() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window::with_shop(folder.path(), vec![]);
    ask(&mut harness, Command::Show(Middle::Sizes));
    click(&mut harness, "Prices…");
    harness.get_by_label_contains("Money reads $1,234.50");
    click(&mut harness, "Money as in");
    let row = harness.get_by_label_contains("Austria");
    row.scroll_to_me();
    row.click();
    settle(&mut harness);
    harness.get_by_label_contains("Money reads €\u{a0}1.234,50");
    click(&mut harness, "Keep prices");
    let kept = Shop::open(folder.path(), &Money::default()).0.prices.money;
    assert_eq!((kept.currency.as_str(), kept.decimal_mark), ("EUR", ','));
    harness.get_by_label("Prices are examples until you set your own");
}

#[test]
fn a_finding_is_accepted_and_that_is_taken_back() {
    let mut harness = window::started(vec![], vec![]);
    ask(&mut harness, Command::NextFinding);
    harness.get_by_role_and_label(Role::CheckBox, "Accept finding 1").click();
    settle(&mut harness);
    ask(&mut harness, Command::NextFinding);
    harness.get_by_role_and_label(Role::CheckBox, "Accept finding 1").click();
    settle(&mut harness);
    assert!(harness.query_by_label("Accept finding 1").is_none());
}

#[test]
fn what_is_noted_for_the_bench_is_undone_and_saved_with_the_job() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("noted.spelk");
    let mut harness = window::started(vec![], vec![Some(path.clone())]);
    ask(&mut harness, Command::NextFinding);
    harness.get_by_role_and_label(Role::CheckBox, "Accept finding 1").click();
    settle(&mut harness);
    let ticked = |harness: &Harness<App>| harness.state().job().unwrap().accepted().clone();
    let first = harness.state().proof().unwrap().findings[0].id.clone();
    assert_eq!(ticked(&harness), [first.clone()].into());
    ask(&mut harness, Command::Undo);
    assert!(ticked(&harness).is_empty(), "a tick is undone like anything else");
    ask(&mut harness, Command::Redo);
    // A tick of something that is no more does no harm, and goes when the job is saved.
    ask(&mut harness, Command::Edit(Edit::Accept { finding: "gone-17".to_owned(), accepted: true }));
    let proof = std::ptr::from_ref(harness.state().proof().unwrap());
    let field = harness.get_by_role_and_label(Role::MultilineTextInput, "Remark for the bench");
    field.focus();
    harness.step();
    let field = harness.get_by_role_and_label(Role::MultilineTextInput, "Remark for the bench");
    field.type_text("Brass hinges");
    settle(&mut harness);
    assert!(std::ptr::eq(proof, harness.state().proof().unwrap()), "a remark needs no new proof");
    ask(&mut harness, Command::AskSave);
    let saved = spelk::job::saved::open(&path).unwrap();
    assert_eq!((saved.accepted(), saved.remark()), (&[first].into(), "Brass hinges"));
    assert!(harness.state().job().unwrap().remark() == "Brass hinges");
}

/// Woods, cutters and sizes side by side: one is taken, and the job is it.
#[test]
fn versions_are_compared_side_by_side_and_one_is_taken() {
    let mut harness = window::started(vec![], vec![]);
    ask(&mut harness, Command::ToggleCompare);
    let wood = harness.state().job().unwrap().wood().name.clone();
    assert!(harness.query_by_label(&format!("Take {wood}")).is_none(), "the job is of it");
    harness.get_by_label("as it is");
    let take = |harness: &mut Harness<App>, name: &str| {
        harness.get_by_label(name).scroll_to_me();
        settle(harness);
        click(harness, name);
        settle(harness);
    };
    take(&mut harness, "Take Cherry, black");
    assert_eq!(harness.state().job().unwrap().wood().name, "Cherry, black");
    assert!(harness.query_by_label("Take Cherry, black").is_none(), "now the job is of it");
    click(&mut harness, "Each cutter");
    settle(&mut harness);
    take(&mut harness, "Take Flat end, 1/4 in");
    assert_eq!(harness.state().job().unwrap().cutter().name, "Flat end, 1/4 in");
    window::undo(&mut harness);
    assert_eq!(harness.state().job().unwrap().cutter().name, "Flat end, 1/8 in");
    click(&mut harness, "Several sizes");
    settle(&mut harness);
    let largest = harness.state().job().unwrap().largest_factor();
    let label = "the largest for this board";
    harness
        .get_all_by_label_contains(label)
        .find(|node| node.accesskit_node().label().is_some_and(|label| label.starts_with("Take ")))
        .unwrap()
        .click();
    settle(&mut harness);
    assert!((harness.state().job().unwrap().factor() - largest).abs() < 1e-9);
}
