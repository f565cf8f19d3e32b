//! The window, driven as a person drives it: by labels, keys, drags and dropped files.

use eframe::egui;
use egui::Role;
use egui::accesskit::Toggled;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use spelk::app::{App, Command, DesktopDialogs, ScriptedDialogs};
use spelk::job::{Edit, Ends, Size};
use spelk::proof::record::Record;
use spelk::proof::{Facts, FindingKind, Severity};
use spelk::shop::{CutterShape, Money, Shop, Wood};
use spelk::units::{LengthUnit, Mm};
use spelk::words;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

/// The window at its smallest usual size, nothing in it yet but the first sample.
pub(crate) fn started(files: Vec<PathBuf>, answers: Vec<Option<PathBuf>>) -> Harness<'static, App> {
    let mut harness = Harness::builder().with_size([1280.0, 720.0]).build_eframe(|cc| {
        let dialogs = ScriptedDialogs::new(answers);
        App::new(cc, files, Box::new(dialogs), None)
    });
    settle(&mut harness);
    harness
}

fn first_start() -> Harness<'static, App> {
    started(vec![], vec![])
}

/// Steps until everything asked for is worked out and nothing moves, twice: what is shown then may ask
/// for more.
pub(crate) fn settle(harness: &mut Harness<App>) {
    for _ in 0..2 {
        harness.step();
        harness.step();
        until(harness, App::is_idle);
    }
    harness.run_ok();
}

/// Steps until something holds. The limit is on the wall clock and only there so that a hang fails
/// instead of waiting.
pub(crate) fn until(harness: &mut Harness<App>, holds: impl Fn(&App) -> bool) {
    let start = Instant::now();
    while !holds(harness.state()) {
        assert!(start.elapsed() < Duration::from_mins(2), "it never came to pass");
        std::thread::sleep(Duration::from_millis(2));
        harness.step();
    }
}

pub(crate) fn ask(harness: &mut Harness<App>, command: impl Into<Command>) {
    harness.state_mut().ask(command.into());
    settle(harness);
}

/// Types into a field in place of what is in it; no text empties it.
pub(crate) fn type_into(harness: &mut Harness<App>, name: &str, text: &str) {
    harness.get_by_role_and_label(Role::TextInput, name).focus();
    harness.step();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    harness.step();
    if text.is_empty() {
        harness.key_press(egui::Key::Delete);
    } else {
        harness.get_by_role_and_label(Role::TextInput, name).type_text(text);
    }
    harness.step();
    harness.key_press(egui::Key::Enter);
    settle(harness);
}

fn board_length(harness: &Harness<App>) -> Mm {
    harness.state().job().unwrap().board().length
}

fn findings_of(harness: &Harness<App>, kind: FindingKind) -> usize {
    harness.state().proof().unwrap().findings.iter().filter(|finding| finding.kind() == kind).count()
}

fn folder() -> tempfile::TempDir {
    tempfile::tempdir().unwrap()
}

#[derive(Debug)]
struct Dropped {
    path: PathBuf,
    bytes: Vec<u8>,
}

impl egui::DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.path
    }
    fn bytes(&self) -> Result<Vec<u8>, String> {
        Ok(self.bytes.clone())
    }
}

/// Lets a file or a folder on disk fall on the window.
pub(crate) fn drop_on(harness: &mut Harness<App>, path: &Path) {
    let dropped = Dropped { path: path.to_owned(), bytes: Vec::new() };
    harness.input_mut().dropped_files.push(Arc::new(dropped));
    settle(harness);
}

const TWO_BARS: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="80mm" viewBox="0 0 200 80">
  <rect id="thick" x="0" y="0" width="200" height="30"/>
  <rect id="thin" x="0" y="50" width="200" height="2"/>
</svg>"#;

#[test]
fn a_first_start_shows_a_sample_with_something_wrong_and_says_what() {
    let harness = first_start();
    let proof = harness.state().proof().unwrap();
    assert!(proof.verdict.severity > Severity::Sound, "{:?}", proof.verdict);
    let sentence = words::verdict::sentence(&proof.verdict, LengthUnit::Millimetres);
    harness.get_by_label(&sentence);
    let first = &proof.findings[0];
    harness.get_by_label(&full_name(first));
}

#[test]
fn a_dropped_drawing_is_opened_on_the_board_that_is_there() {
    let mut harness = first_start();
    ask(&mut harness, Command::Edit(Edit::BoardLength(Mm::new(800.0))));
    let dropped = Dropped { path: "two-bars.svg".into(), bytes: TWO_BARS.into() };
    harness.input_mut().dropped_files.push(Arc::new(dropped));
    settle(&mut harness);
    let job = harness.state().job().unwrap();
    assert_eq!(job.design().name, "two-bars");
    assert_eq!(job.board().length, Mm::new(800.0));
    let proof = harness.state().proof().unwrap();
    assert!((proof.length.get() - 200.0).abs() < 1e-3, "{}", proof.length);
    // A bar 2 mm wide along the grain: the thinnest wall there is.
    assert!((proof.thinnest.wall.unwrap().get() - 2.0).abs() < 1e-3, "{:?}", proof.thinnest.wall);
    harness.get_by_label("Treatment of thin");
}

#[test]
fn a_board_is_typed_in_inches_with_fractions() {
    let mut harness = first_start();
    ask(&mut harness, Command::UseUnit(LengthUnit::InchFraction));
    for (text, expected) in [
        ("30 1/2", Mm::from_inches(30.5)),
        ("30-1/4 in", Mm::from_inches(30.25)),
        ("700 mm", Mm::new(700.0)),
        ("2' 6 3/4\"", Mm::from_inches(30.75)),
    ] {
        type_into(&mut harness, "Board length", text);
        assert_eq!(board_length(&harness), expected, "{text}");
    }
}

#[test]
fn a_length_that_is_none_stays_in_the_field_and_changes_nothing() {
    let mut harness = first_start();
    let before = harness.state().job().unwrap().clone();
    type_into(&mut harness, "Board width", "wide");
    assert!(*harness.state().job().unwrap() == before, "the job was changed");
    let field = harness.get_by_role_and_label(Role::TextInput, "Board width");
    assert_eq!(field.value().as_deref(), Some("wide"));
    harness.get_by_label_contains("'wide' is not a length");
    type_into(&mut harness, "Board width", "150 mm");
    assert_eq!(harness.state().job().unwrap().board().width, Mm::new(150.0));
    assert!(harness.query_by_label_contains("is not a length").is_none(), "the reason is still there");
}

#[test]
fn leaving_a_rounded_length_alone_does_not_round_the_job() {
    let mut harness = first_start();
    ask(&mut harness, Command::UseUnit(LengthUnit::InchFraction));
    ask(&mut harness, Command::Edit(Edit::BoardLength(Mm::new(612.345))));
    harness.get_by_role_and_label(Role::TextInput, "Board length").focus();
    harness.step();
    harness.key_press(egui::Key::Enter);
    settle(&mut harness);
    assert_eq!(board_length(&harness), Mm::new(612.345));
}

#[test]
fn the_size_handle_changes_verdict_and_findings() {
    let mut harness = first_start();
    ask(&mut harness, Command::OpenSample("gate-sign"));
    let sound = harness.state().proof().unwrap().verdict.clone();
    assert_eq!(sound.severity, Severity::Sound, "{sound:?}");
    let at_size = findings_of(&harness, FindingKind::ThinWall);
    harness.get_by_role_and_label(Role::Slider, "Size handle").set_value_accesskit(60.0);
    settle(&mut harness);
    let proof = harness.state().proof().unwrap();
    assert!((proof.length.get() - 60.0).abs() < 1e-6, "{}", proof.length);
    assert_eq!(proof.verdict.severity, Severity::Unsound);
    assert!(findings_of(&harness, FindingKind::ThinWall) > at_size, "no thin walls at 60 mm");
    let sentence = words::verdict::sentence(&proof.verdict, LengthUnit::Millimetres);
    harness.get_by_label(&sentence);
}

#[test]
fn the_handle_slides_on_the_strip_itself() {
    let mut harness = first_start();
    let before = harness.state().proof().unwrap().length;
    let strip = harness.get_by_label_contains("Size strip").rect();
    let from = strip.center();
    harness.drag_at(from);
    harness.step();
    harness.hover_at(from - egui::vec2(strip.width() * 0.3, 0.0));
    harness.step();
    harness.drop_at(from - egui::vec2(strip.width() * 0.3, 0.0));
    settle(&mut harness);
    let after = harness.state().proof().unwrap().length;
    assert!(after < before * 0.7, "{before} became {after}");
    assert!(matches!(harness.state().job().unwrap().size(), Size::Length(_)), "the size is no length");
}

#[test]
fn a_click_on_a_finding_goes_to_the_spot() {
    let mut harness = first_start();
    let (_, far) = harness.state().looking_at().unwrap();
    let finding = harness.state().proof().unwrap().findings[0].clone();
    let row = words::finding::title(&finding);
    harness.get_by_role_and_label(Role::ListBoxOption, &full_name(&finding)).click();
    settle(&mut harness);
    let (middle, near) = harness.state().looking_at().unwrap();
    assert!((middle - finding.at).length() < 1e-6, "{row}: looking at {middle}, not {}", finding.at);
    assert!(near > 2.0 * far, "{row}: the scale went from {far} to {near}");
    // Its advice is now in the open.
    harness.get_by_label_contains(&words::finding::advice(&finding, LengthUnit::Millimetres));
    // And back.
    harness.get_by_label("Whole board").click();
    settle(&mut harness);
    assert_eq!(harness.state().looking_at().unwrap().1, far);
}

/// What the first row of the list is called.
fn full_name(finding: &spelk::proof::Finding) -> String {
    format!(
        "1 {}, {}: {}",
        words::finding::title(finding),
        finding.severity().label().to_lowercase(),
        words::finding::message(finding, LengthUnit::Millimetres)
    )
}

#[test]
fn free_ends_show_snipe_and_more_room() {
    let mut harness = first_start();
    ask(&mut harness, Command::OpenSample("boat-nameboard"));
    let held = harness.state().proof().unwrap().clone();
    assert!(held.feeding.snipe_zones.is_empty(), "held ends are not sniped");
    harness.get_by_label("Skip the roller allowance").click();
    settle(&mut harness);
    let free = harness.state().proof().unwrap();
    assert_eq!(harness.state().job().unwrap().ends(), Ends::Free);
    assert!(free.fit.largest_factor > held.fit.largest_factor, "no room was gained");
    assert!(free.feeding.sniped_share > 0.0, "no part of the design is sniped");
    assert!(findings_of(&harness, FindingKind::SnipeZone) > 0, "no finding says so");
}

#[test]
fn the_largest_size_that_fits_is_a_click_away_and_follows_the_board() {
    let mut harness = first_start();
    harness.get_by_label("Largest that fits").click();
    settle(&mut harness);
    let before = harness.state().proof().unwrap().clone();
    assert_eq!(before.factor, before.fit.largest_factor);
    type_into(&mut harness, "Board length", "1000 mm");
    let after = harness.state().proof().unwrap();
    assert_eq!(after.factor, after.fit.largest_factor);
}

#[test]
fn changes_are_undone_and_made_again() {
    let mut harness = first_start();
    let before = board_length(&harness);
    type_into(&mut harness, "Board length", "900 mm");
    harness.get_by_label("Skip the roller allowance").click();
    settle(&mut harness);
    undo(&mut harness);
    assert_eq!(harness.state().job().unwrap().ends(), Ends::Held);
    assert_eq!(board_length(&harness), Mm::new(900.0));
    undo(&mut harness);
    assert_eq!(board_length(&harness), before);
    harness.key_press_modifiers(egui::Modifiers::COMMAND | egui::Modifiers::SHIFT, egui::Key::Z);
    settle(&mut harness);
    assert_eq!(board_length(&harness), Mm::new(900.0));
}

#[test]
fn an_undo_names_what_it_takes_back() {
    let mut harness = first_start();
    type_into(&mut harness, "Board length", "900 mm");
    harness.get_by_label("Edit").click();
    harness.run_ok();
    harness.get_by_label_contains("Undo board length");
}

#[test]
fn a_saved_job_opens_to_the_same_proof() {
    let folder = folder();
    let path = folder.path().join("reed.spelk");
    let mut harness = started(vec![], vec![Some(path.clone())]);
    ask(&mut harness, Command::Edit(Edit::BoardLength(Mm::new(777.0))));
    ask(&mut harness, Command::Edit(Edit::Size(Size::Length(Mm::new(210.0)))));
    let before = harness.state().proof().unwrap().clone();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::S);
    settle(&mut harness);
    assert!(path.exists(), "{:?}", harness.state().messages());

    let again = started(vec![path], vec![]);
    let after = again.state().proof().unwrap();
    assert_eq!(before.findings, after.findings);
    assert_eq!(before.verdict, after.verdict);
    assert_eq!(before.limits, after.limits);
    assert_eq!(before.board_from_design, after.board_from_design);
}

#[test]
fn a_second_save_needs_no_second_question() {
    let folder = folder();
    let path = folder.path().join("reed.spelk");
    let mut harness = started(vec![], vec![Some(path.clone())]);
    ask(&mut harness, Command::Save);
    let first = std::fs::read(&path).unwrap();
    ask(&mut harness, Command::Edit(Edit::BoardLength(Mm::new(777.0))));
    ask(&mut harness, Command::Save);
    assert_ne!(first, std::fs::read(&path).unwrap());
}

#[test]
fn a_bad_file_leaves_a_message_and_the_job() {
    let folder = folder();
    let path = folder.path().join("broken.svg");
    std::fs::write(&path, "<svg").unwrap();
    let mut harness = started(vec![], vec![Some(path), Some(folder.path().join("missing.svg"))]);
    let before = harness.state().job().unwrap().clone();
    for name in ["broken.svg", "missing.svg"] {
        ask(&mut harness, Command::AskOpen);
        let last = harness.state().messages().last().unwrap();
        assert!(last.trouble && last.text.contains(name), "{last:?}");
        assert!(harness.query_all_by_label_contains(name).next().is_some());
    }
    assert!(*harness.state().job().unwrap() == before, "the job was changed");
    // They can be read again.
    harness.get_by_label_contains(" messages").click();
    harness.run_ok();
    for name in ["broken.svg", "missing.svg"] {
        assert!(harness.query_all_by_label_contains(name).next().is_some(), "{name}");
    }
}

#[test]
fn a_first_file_that_is_bad_leaves_the_sample_in_the_window() {
    let harness = started(vec!["no-such-file.svg".into()], vec![]);
    assert!(harness.state().messages().iter().any(|message| message.trouble), "nothing was said");
    assert!(harness.state().job().is_some(), "the window is empty");
}

#[test]
fn a_path_can_be_typed_where_there_is_no_dialog() {
    let folder = folder();
    let path = folder.path().join("bars.svg");
    std::fs::write(&path, TWO_BARS).unwrap();
    let mut harness = first_start();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::O);
    settle(&mut harness);
    harness.get_by_role_and_label(Role::TextInput, "Path of the file").type_text(path.to_str().unwrap());
    harness.run_ok();
    harness.get_by_label("Open file").click();
    settle(&mut harness);
    assert_eq!(harness.state().job().unwrap().design().name, "bars");
}

#[test]
fn a_treatment_is_chosen_from_a_list() {
    let mut harness = first_start();
    ask(&mut harness, Command::Open(two_bars_in(&folder().keep())));
    harness.get_by_label("Treatment of thin").click();
    harness.run_ok();
    harness.get_by_label("Left").click();
    settle(&mut harness);
    let job = harness.state().job().unwrap();
    let labels: Vec<_> = job.treatments().map(spelk::job::Treatment::label).collect();
    assert_eq!(labels, ["Relief", "Left"]);
}

fn two_bars_in(folder: &Path) -> PathBuf {
    let path = folder.join("bars.svg");
    std::fs::write(&path, TWO_BARS).unwrap();
    path
}

/// A hundred thousand segments: two hundred combs of two hundred and fifty teeth.
fn large_drawing() -> String {
    let mut path = String::new();
    for row in 0..200 {
        let (top, mut x) = (f64::from(row) * 2.0, 0.0);
        write!(path, "M0 {top}").unwrap();
        for _ in 0..125 {
            write!(path, "l1 0.4 l1 -0.4 l0.5 0.2 l0.5 -0.2").unwrap();
            x += 3.0;
        }
        write!(path, "L{x} {} L0 {} Z ", top + 1.5, top + 1.5).unwrap();
    }
    format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="375mm" height="400mm" viewBox="0 0 375 400"><path id="combs" d="{path}"/></svg>"#
    )
}

#[test]
fn a_large_file_opens_behind_the_scenes_and_says_so() {
    let mut harness = first_start();
    let before = harness.state().job().unwrap().clone();
    let bytes = large_drawing().into_bytes();
    harness.state_mut().ask(Command::OpenBytes { name: "combs.svg".into(), bytes });
    harness.step();
    // The window lives while the file is read and measured: the old job is there and can be changed.
    let mut frames = 0;
    while harness.state().is_opening() && frames < 5 {
        assert!(*harness.state().job().unwrap() == before, "the job changed under way");
        harness.step();
        harness.get_by_label_contains("combs.svg");
        harness.get_by_label("Cancel");
        frames += 1;
    }
    assert!(frames > 0, "the file was opened in the frame that asked for it");
    settle(&mut harness);
    assert_eq!(harness.state().job().unwrap().design().name, "combs");
    assert!(harness.state().job().unwrap().design().segment_count() >= 100_000, "not so large");
    harness.get_by_role_and_label(Role::Slider, "Size handle").set_value_accesskit(300.0);
    settle(&mut harness);
    assert!((harness.state().proof().unwrap().length.get() - 300.0).abs() < 1e-6, "size not set");
    // The number follows the hand, and the findings come when they are there.
    let state = harness.state_mut();
    state.ask(Command::Edit(Edit::Size(Size::Length(Mm::new(321.0)))));
    harness.step();
    harness.step();
    let known = harness.state().proof().unwrap().length.get();
    assert!((known - 300.0).abs() < 1e-6, "a large design was proofed within a frame: {known}");
    let field = harness.get_by_role_and_label(Role::TextInput, "Finished length");
    assert_eq!(field.accesskit_node().value().as_deref(), Some("321"));
    settle(&mut harness);
    assert!((harness.state().proof().unwrap().length.get() - 321.0).abs() < 1e-6);
}

#[test]
fn opening_can_be_cancelled() {
    let mut harness = first_start();
    let before = harness.state().job().unwrap().clone();
    let bytes = large_drawing().into_bytes();
    harness.state_mut().ask(Command::OpenBytes { name: "combs.svg".into(), bytes });
    harness.step();
    harness.step();
    harness.get_by_label("Cancel").click();
    settle(&mut harness);
    assert!(!harness.state().is_opening(), "it is still at it");
    assert!(*harness.state().job().unwrap() == before, "the job was changed");
    harness.get_by_label_contains("cancelled");
}

#[test]
fn marks_on_the_board_can_be_found_without_seeing_them() {
    let mut harness = first_start();
    let first = harness.state().proof().unwrap().findings[0].clone();
    harness.get_by_label_contains("Board 609.6 mm by 203.2 mm");
    harness.get_by_label(&format!("Mark 1 {}", words::finding::title(&first))).click();
    settle(&mut harness);
    let name = full_name(&first);
    let row = harness.get_by_role_and_label(Role::ListBoxOption, &name);
    assert_eq!(row.accesskit_node().toggled(), Some(Toggled::True));
}

#[test]
fn keys_walk_through_the_findings() {
    let mut harness = first_start();
    harness.key_press(egui::Key::N);
    settle(&mut harness);
    harness.key_press(egui::Key::N);
    settle(&mut harness);
    let second = harness.state().proof().unwrap().findings[1].at;
    assert!((harness.state().looking_at().unwrap().0 - second).length() < 1e-6, "not at the second");
    harness.key_press(egui::Key::F);
    settle(&mut harness);
    assert!((harness.state().looking_at().unwrap().0 - second).length() > 1.0, "the view did not go back");
}

#[test]
fn every_unit_is_shown_as_its_user_reads_it() {
    let mut harness = first_start();
    for (unit, shown) in [
        (LengthUnit::Millimetres, "609.6"),
        (LengthUnit::InchDecimal, "24.000"),
        (LengthUnit::InchFraction, "24"),
    ] {
        board_length_reads(&mut harness, unit, shown);
    }
}

/// What the field of the board's length shows in a unit.
pub(crate) fn board_length_reads(harness: &mut Harness<App>, unit: LengthUnit, shown: &str) {
    ask(harness, Command::UseUnit(unit));
    let field = harness.get_by_role_and_label(Role::TextInput, "Board length");
    assert_eq!(field.value().as_deref(), Some(shown), "{unit:?}");
}

#[test]
fn every_sample_opens() {
    let mut harness = first_start();
    for sample in spelk::design::samples::samples() {
        ask(&mut harness, Command::OpenSample(sample.id));
        assert_eq!(harness.state().job().unwrap().design().name, sample.title);
    }
}

/// The desktop's own dialogs are not asked for anything here, only made.
#[test]
fn the_window_starts_with_the_desktops_dialogs() {
    let mut harness = Harness::builder()
        .with_size([900.0, 560.0])
        .build_eframe(|cc| App::new(cc, vec![], Box::new(DesktopDialogs::default()), None));
    settle(&mut harness);
    harness.get_by_label("Findings");
}

/// The window with a shop of its own in `folder`; no test touches the user's.
pub(crate) fn with_shop(folder: &Path, answers: Vec<Option<PathBuf>>) -> Harness<'static, App> {
    let folder = folder.to_owned();
    let mut harness = Harness::builder().with_size([1280.0, 720.0]).build_eframe(move |cc| {
        let dialogs = ScriptedDialogs::new(answers);
        App::new(cc, vec![], Box::new(dialogs), Some(folder))
    });
    settle(&mut harness);
    harness
}

pub(crate) fn click(harness: &mut Harness<App>, label: &str) {
    harness.get_by_label(label).click();
    settle(harness);
}

/// A button where a heading or a card bears the same words.
fn press(harness: &mut Harness<App>, label: &str) {
    harness.get_by_role_and_label(Role::Button, label).click();
    settle(harness);
}

pub(crate) fn undo(harness: &mut Harness<App>) {
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Z);
    settle(harness);
}

fn severity(harness: &Harness<App>) -> Severity {
    harness.state().proof().unwrap().verdict.severity
}

#[test]
fn the_limit_is_explained_with_its_numbers() {
    let mut harness = first_start();
    press(&mut harness, "Why this limit");
    // sqrt(6 k P / s): k = .261 of a long wall in flat-sawn basswood (tests/data/wall/plate.csv), s = 2.413 MPa.
    harness.get_by_label_contains("\u{221a}(6 \u{d7} 0.261");
    harness.get_by_label_contains("no published minimum wall");
    assert!(harness.query_by_label_contains("so Spelk uses that of").is_none(), "basswood needs no stand-in");
    // Sugar maple has none published (Wood Handbook Table 5-3b, a dash).
    ask(&mut harness, Command::Edit(Edit::Wood(Box::new(Wood::find("maple_sugar").unwrap().clone()))));
    harness.get_by_label_contains("so Spelk uses that of");
    // And by the key, away again.
    harness.key_press(egui::Key::W);
    settle(&mut harness);
    assert!(harness.query_by_label_contains("no published minimum wall").is_none(), "still open");
}

#[test]
fn the_limit_of_a_finding_is_explained_for_its_own_direction() {
    let mut harness = first_start();
    let first = harness.state().proof().unwrap().findings[0].clone();
    harness.get_by_role_and_label(Role::ListBoxOption, &full_name(&first)).click();
    settle(&mut harness);
    click(&mut harness, "Why the limit of finding 1");
    harness.get_by_label_contains("This wall runs at");
}

#[test]
fn a_cutter_is_copied_changed_kept_and_used() {
    let folder = folder();
    let mut harness = with_shop(folder.path(), vec![]);
    click(&mut harness, "Cutters…");
    assert!(harness.query_by_label("Keep cutter").is_none(), "a built-in cutter is not changed");
    click(&mut harness, "Copy");
    type_into(&mut harness, "Cutter name", "Old faithful");
    type_into(&mut harness, "Cutter diameter", "none");
    harness.get_by_label_contains("'none' is not a length");
    assert!(harness.get_by_label("Keep cutter").accesskit_node().is_disabled(), "it can be kept");
    type_into(&mut harness, "Cutter diameter", "2 mm");
    type_into(&mut harness, "Stepover", "150");
    harness.get_by_label_contains("from 1 to 100 %");
    type_into(&mut harness, "Stepover", "45");
    type_into(&mut harness, "Reference wall across", "2 mm");
    click(&mut harness, "Keep cutter");
    let (shop, notices) = Shop::open(folder.path(), &Money::default());
    assert!(notices.is_empty(), "{notices:?}");
    let kept = shop.cutters.iter().find(|cutter| cutter.name == "Old faithful").unwrap();
    assert_eq!(kept.shape, CutterShape::Flat { diameter: Mm::new(2.0) });
    assert_eq!((kept.stepover, kept.reference.across), (0.45, Some(Mm::new(2.0))));
    let before = harness.state().proof().unwrap().limits.usual().clone();
    click(&mut harness, "Use in this job");
    assert_eq!(harness.state().job().unwrap().cutter().name, "Old faithful");
    let after = harness.state().proof().unwrap().limits.usual().clone();
    assert!(after.across < before.across && after.groove == Mm::new(2.0), "{after:?}");
    // A change that is kept reaches the job that uses it.
    click(&mut harness, "Cutters…");
    type_into(&mut harness, "Reference wall across", "1.75 mm");
    click(&mut harness, "Keep cutter");
    // The reference wall stands by itself.
    let end = harness.state().proof().unwrap().limits.usual().free_end[1].get();
    assert!((end - 1.75).abs() < 0.02, "{end}");
    click(&mut harness, "Remove");
    assert_eq!(Shop::open(folder.path(), &Money::default()).0.cutters.len(), spelk::shop::cutters().len());
    assert_eq!(harness.state().job().unwrap().cutter().name, "Old faithful");
}

#[test]
fn a_v_is_asked_for_its_angle() {
    let folder = folder();
    let mut harness = with_shop(folder.path(), vec![]);
    click(&mut harness, "Cutters…");
    click(&mut harness, "Copy");
    harness.get_by_label("Cutter shape").click();
    harness.run_ok();
    harness.get_by_label("V").click();
    settle(&mut harness);
    type_into(&mut harness, "Cutter angle", "200");
    harness.get_by_label_contains("from 5 to 175 degrees");
    type_into(&mut harness, "Cutter angle", "75");
    type_into(&mut harness, "Cutter tip", "0.2 mm");
    click(&mut harness, "Keep cutter");
    let (shop, _) = Shop::open(folder.path(), &Money::default());
    let kept = shop.cutters[0].shape;
    let CutterShape::Vee { angle, tip, .. } = kept else { panic!("{kept:?} is no V") };
    assert!((angle.to_degrees() - 75.0).abs() < 1e-9 && tip == Mm::new(0.2), "{kept:?}");
}

#[test]
fn a_wood_of_ones_own_is_kept_and_its_stand_in_is_said() {
    let folder = folder();
    let mut harness = with_shop(folder.path(), vec![]);
    click(&mut harness, "Woods…");
    type_into(&mut harness, "Wood name", "Plum");
    type_into(&mut harness, "Wood density", "heavy");
    harness.get_by_label_contains("'heavy' is not a number");
    type_into(&mut harness, "Wood density", "7950");
    harness.get_by_label_contains("from 50 to 1600");
    type_into(&mut harness, "Wood density", "795");
    click(&mut harness, "Keep wood");
    click(&mut harness, "Use");
    click(&mut harness, "Close");
    let job = harness.state().job().unwrap();
    assert_eq!((job.wood().name.as_str(), job.wood().density), ("Plum", Some(795.0)));
    assert_eq!(job.wood().strength_source, "own value");
    assert!(harness.state().proof().unwrap().limits.usual().basis.stand_in.is_some(), "no stand-in");
    // On the card and under the findings.
    assert!(harness.query_all_by_label_contains("stands in").count() >= 2, "it is not said");
    // With a strength of its own there is none.
    click(&mut harness, "Woods…");
    click(&mut harness, "Plum");
    type_into(&mut harness, "Wood tension strength", "4");
    click(&mut harness, "Keep wood");
    click(&mut harness, "Use");
    click(&mut harness, "Close");
    assert_eq!(harness.state().proof().unwrap().limits.usual().basis.stand_in, None);
    // A window that starts later has it too.
    assert_eq!(
        Shop::open(folder.path(), &Money::default()).0.wood("plum").unwrap().tension_across,
        Some(4.0)
    );
}

#[test]
fn a_shop_that_cannot_be_read_is_told_of() {
    let folder = folder();
    std::fs::write(folder.path().join("cutters.json"), "[{").unwrap();
    let mut harness = with_shop(folder.path(), vec![]);
    assert!(
        harness.state().messages().iter().any(|m| m.trouble && m.text.contains("cutters.json")),
        "no word"
    );
    // What is kept from now on does not cost what was in it.
    ask(&mut harness, Command::KeepCutter(Box::new(spelk::shop::cutters()[0].clone())));
    let last = harness.state().messages().last().unwrap();
    assert!(last.trouble && last.text.contains("cutters.damaged.json"), "{}", last.text);
    let read = |file: &str| std::fs::read_to_string(folder.path().join(file)).unwrap();
    assert_eq!(read("cutters.damaged.json"), "[{");
    assert!(read("cutters.json").contains("flat-1/16in"));
}

#[test]
fn what_survived_on_a_coupon_becomes_the_limit() {
    let folder = folder();
    let (outline, key) = (folder.path().join("piece.svg"), folder.path().join("key"));
    let mut harness = with_shop(folder.path(), vec![Some(outline.clone()), Some(key.clone())]);
    let before = harness.state().proof().unwrap().clone();
    click(&mut harness, "Coupon…");
    press(&mut harness, "Export coupon…");
    settle(&mut harness);
    press(&mut harness, "Export key…");
    settle(&mut harness);
    let read = spelk::design::open(&outline).unwrap();
    assert_eq!(read.elements.len(), 7);
    let read = spelk::design::open(&key.with_extension("svg"));
    assert!(read.is_ok(), "the key is no drawing: {read:?}");

    assert!(harness.get_by_label("Make this the limit").accesskit_node().is_disabled(), "nothing is entered");
    type_into(&mut harness, "Survived along", "thin");
    harness.get_by_label_contains("'thin' is not a length");
    type_into(&mut harness, "Survived along", "0.9 mm");
    // Across, by its rung: the first is 0.3 times the 2.27 mm that a free end is expected to need.
    harness.get_by_label("Rung across the grain").click();
    harness.run_ok();
    harness.get_by_label("1: 0.7 mm").click();
    settle(&mut harness);
    click(&mut harness, "Make this the limit");

    let after = harness.state().proof().unwrap().clone();
    let [along, across] = after.limits.usual().free_end.map(Mm::get);
    let told = harness.state().messages();
    assert!((along - 0.9).abs() < 0.01 && (across - 0.7).abs() < 0.01, "{along} {across}: {told:?}");
    assert!(
        words::limits::source(after.limits.usual(), LengthUnit::Millimetres)
            .contains("the shop's own test piece"),
        "no source"
    );
    harness.get_by_label_contains("mm across; the shop's own test piece");
    assert!(before.findings.iter().any(|f| f.kind() == FindingKind::ThinWall), "no thin walls to lose");
    assert_eq!(findings_of(&harness, FindingKind::ThinWall), 0, "the reeds stay whole here");
    // It is kept with the cutter, under its own id.
    let (shop, _) = Shop::open(folder.path(), &Money::default());
    let kept = shop.cutter(&harness.state().job().unwrap().cutter().id).unwrap();
    assert!((kept.reference.across.unwrap().get() - 0.7).abs() < 1e-9, "{:?}", kept.reference.across);
    undo(&mut harness);
    assert_eq!(harness.state().proof().unwrap().findings, before.findings);
}

#[test]
fn what_held_and_what_broke_is_said_on_the_board_and_learned_from() {
    let folder = folder();
    let mut harness = with_shop(folder.path(), Vec::new());
    ask(&mut harness, Command::ToggleRecord);
    settle(&mut harness);
    harness.get_by_label("No wall is on record yet");
    assert!(harness.get_by_label("Keep on record").accesskit_node().is_disabled(), "nothing is said");
    // A click says that a wall held, a second that it broke.
    let mark = |harness: &Harness<App>| {
        let marks: Vec<_> = harness.get_all_by_label_contains("Wall ").collect();
        let label = |node: &egui_kittest::Node<'_>| node.accesskit_node().label().unwrap_or_default();
        marks.iter().map(label).find(|label| label.contains("tied at both ends: ")).expect("a mark")
    };
    let first = mark(&harness);
    assert!(first.ends_with("not said"), "{first}");
    click(&mut harness, &first);
    click(&mut harness, &first.replace("not said", "held"));
    harness.get_by_label(&first.replace("not said", "broke"));
    click(&mut harness, "The rest held");
    let before = harness.state().proof().unwrap().clone();
    click(&mut harness, "Keep on record");
    settle(&mut harness);

    let record = Record::read(&Record::path_in(folder.path())).unwrap();
    assert_eq!(record.walls.iter().filter(|wall| !wall.held).count(), 1);
    let cutter = harness.state().job().unwrap().cutter().clone();
    let learned = cutter.experience.unwrap();
    assert_eq!(learned, record.experience(&cutter).unwrap());
    let (shop, _) = Shop::open(folder.path(), &Money::default());
    assert_eq!(shop.cutter(&cutter.id).unwrap().experience, Some(learned));
    harness.get_by_label_contains(&format!("{} walls on record, {} held", record.walls.len(), learned.held));
    // The limits went down with what held, and an undo takes that back from the job.
    let now = harness.state().proof().unwrap().limits.usual().across;
    assert!(now < before.limits.usual().across, "{now:?}");
    undo(&mut harness);
    assert_eq!(harness.state().proof().unwrap().findings, before.findings);
}

#[test]
fn thin_walls_are_mended_looked_at_applied_and_taken_back() {
    let folder = folder();
    let path = folder.path().join("mended.svg");
    let mut harness = with_shop(folder.path(), vec![Some(path.clone())]);
    let before = harness.state().job().unwrap().clone();
    let proof = harness.state().proof().unwrap().clone();
    click(&mut harness, "Thicken thin walls to their limit");
    assert!(*harness.state().job().unwrap() == before, "looking changes nothing");
    let after =
        words::verdict::sentence(&harness.state().previewed().unwrap().verdict, LengthUnit::Millimetres);
    harness.get_by_label(&words::verdict::if_applied(&after));
    harness.get_by_label("wood added");
    click(&mut harness, "Before");
    harness.get_by_label(&words::verdict::sentence(&proof.verdict, LengthUnit::Millimetres));
    click(&mut harness, "After");
    click(&mut harness, "Apply");
    assert_eq!(findings_of(&harness, FindingKind::ThinWall), 0);
    assert!(severity(&harness) < proof.verdict.severity, "the verdict is as it was");
    // The mended outline, written and read back, is as large and as sound.
    ask(&mut harness, Command::AskExportOutline);
    settle(&mut harness);
    let read = Arc::new(spelk::design::open(&path).unwrap());
    let job = harness.state().job().unwrap();
    let again = spelk::proof::proof_of(&job.with_design(read));
    assert!((again.length - harness.state().proof().unwrap().length).get().abs() < 1e-3, "{}", again.length);
    assert!(again.findings.iter().all(|finding| finding.kind() != FindingKind::ThinWall), "still thin");
    undo(&mut harness);
    assert!(*harness.state().job().unwrap() == before, "not taken back");
    assert_eq!(harness.state().proof().unwrap().verdict, proof.verdict);
}

#[test]
fn blocked_grooves_are_widened() {
    let mut harness = first_start();
    ask(&mut harness, Command::OpenSample("house-number"));
    assert!(findings_of(&harness, FindingKind::BlockedGroove) > 0, "nothing is blocked");
    click(&mut harness, "Widen blocked grooves to the cutter");
    harness.get_by_label("wood taken away");
    // Another change leaves the mended outline behind.
    ask(&mut harness, Command::Edit(Edit::Ends(Ends::Free)));
    assert!(harness.query_by_label("wood taken away").is_none(), "the look is of another job");
    click(&mut harness, "Widen blocked grooves to the cutter");
    click(&mut harness, "Apply");
    let blocked = |finding: &&spelk::proof::Finding| matches!(finding.facts, Facts::BlockedGroove { .. });
    assert_eq!(harness.state().proof().unwrap().findings.iter().filter(blocked).count(), 0);
}

#[test]
fn the_outline_is_exported_at_its_finished_size() {
    let folder = folder();
    let path = folder.path().join("half.svg");
    let mut harness = started(vec![], vec![Some(path.clone())]);
    ask(&mut harness, Command::Edit(Edit::Size(Size::Factor(0.5))));
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::E);
    settle(&mut harness);
    settle(&mut harness);
    let length = spelk::design::open(&path).unwrap().outline_box().size().x;
    assert!((length - harness.state().proof().unwrap().length.get()).abs() < 1e-3, "{length}");
}

#[test]
fn the_seasons_move_the_finished_piece() {
    let mut harness = first_start();
    ask(&mut harness, Command::ToggleSeasons);
    for (name, value) in [
        ("From, temperature", 20.0),
        ("From, humidity", 50.0),
        ("To, temperature", 20.0),
        ("To, humidity", 65.0),
    ] {
        harness.get_by_role_and_label(Role::SpinButton, name).set_value_accesskit(value);
        settle(&mut harness);
    }
    harness.get_by_label_contains("9.3 % moisture, then at 12 %");
    let width = harness.state().proof().unwrap().width.get();
    let grows = |harness: &Harness<App>| {
        let words = harness.get_by_label_contains("The finished piece, 184 mm wide, grows").value().unwrap();
        words.split_once("grows ").unwrap().1.split_once(" mm").unwrap().0.parse::<f64>().unwrap()
    };
    // EMC 9.27 and 12.00 % (Wood Handbook eq. 4-5, by formula, to a hundredth); basswood flat sawn .00330,
    // quarter sawn .00230 (Table 13-5): 184 mm x .0033 x 2.73 = 1.66 mm and 1.16 mm.
    let flat = grows(&harness);
    assert!((flat - width * 0.0033 * 2.73).abs() < 0.011, "{flat}");
    click(&mut harness, "Quarter");
    let quarter = grows(&harness);
    assert!((quarter - width * 0.0023 * 2.73).abs() < 0.011, "{quarter}");
    // The same two climates in the other degrees.
    click(&mut harness, "\u{b0}F");
    harness.get_by_role_and_label(Role::SpinButton, "From, temperature").set_value_accesskit(32.0);
    settle(&mut harness);
    // 0 degrees C, 50 %: 9.5 % (eq. 4-5, by formula).
    harness.get_by_label_contains("The wood settles at 9.5 % moisture");
    let mut unknown = spelk::shop::Wood::own("own-plum".into(), "Plum".into());
    unknown.density = Some(795.0);
    let folder = folder();
    let mut harness = with_shop(folder.path(), vec![]);
    ask(&mut harness, Command::KeepWood(Box::new(unknown.clone())));
    ask(&mut harness, Command::Edit(Edit::Wood(Box::new(unknown))));
    ask(&mut harness, Command::ToggleSeasons);
    harness.get_by_label_contains("No movement coefficient is published for flat-sawn Plum");
}

/// What each sample says that it shows.
#[test]
fn every_sample_shows_its_lesson_when_it_is_opened() {
    use FindingKind::{BlockedGroove, BoardShort, LostTip, SnipeZone, ThinWall};
    let mut harness = first_start();
    let mut taught = 0;
    for sample in spelk::design::samples::samples() {
        ask(&mut harness, Command::OpenSample(sample.id));
        let worst = harness.state().proof().unwrap().findings.first().map(spelk::proof::Finding::kind);
        let (kind, verdict) = match sample.id {
            "inn-sign" => (Some(ThinWall), Severity::Unsound),
            "puzzle" => (Some(ThinWall), Severity::Chancy),
            "boat-nameboard" => (Some(BoardShort), Severity::Unsound),
            "house-number" => (Some(BlockedGroove), Severity::Unsound),
            "beehive-plate" => (Some(LostTip), Severity::Chancy),
            "gate-sign" => (None, Severity::Sound),
            id => panic!("{id} has no lesson here"),
        };
        taught += 1;
        assert_eq!(severity(&harness), verdict, "{}", sample.id);
        if kind.is_some() {
            assert_eq!(worst, kind, "{}", sample.id);
        }
        if sample.id == "boat-nameboard" {
            ask(&mut harness, Command::Edit(Edit::Ends(Ends::Free)));
            assert!(findings_of(&harness, SnipeZone) > 0, "no snipe with the ends free");
            assert_eq!(findings_of(&harness, BoardShort), 0, "too long all the same");
        }
    }
    assert_eq!(taught, spelk::design::samples::samples().len());
}

/// Nothing a first look needs is below the fold.
#[test]
fn all_cards_are_in_sight_in_a_small_window() {
    let mut harness = first_start();
    for sample in spelk::design::samples::samples() {
        ask(&mut harness, Command::OpenSample(sample.id));
        let fold = harness.get_by_label_contains("message").rect().top();
        for name in ["Board length", "Cutter", "Machine", "Depth", "Why this limit"] {
            let rects = harness.get_all_by_label(name).map(|node| node.rect().bottom());
            let lowest = rects.fold(0.0, f32::max);
            assert!(lowest <= fold, "{}: {name} ends at {lowest}, the fold is at {fold}", sample.id);
        }
    }
}

#[test]
fn the_cautions_come_with_their_sources() {
    let mut harness = first_start();
    click(&mut harness, "Help");
    click(&mut harness, "Cautions");
    for words in ["machine's own manual", "IARC", "29 CFR 1910.133", "29 CFR 1910.95", "29 CFR 1910.213"] {
        harness.get_by_label_contains(words);
    }
}
