//! The window, driven as a person drives it: by labels, keys, drags and dropped files.

use eframe::egui;
use egui::Role;
use egui::accesskit::Toggled;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use spelk::app::{App, Command, DesktopDialogs, ScriptedDialogs, Setting};
use spelk::job::{Ends, Size};
use spelk::proof::{FindingKind, Severity};
use spelk::units::{LengthUnit, Mm};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

/// The window at its smallest usual size, nothing in it yet but the first sample.
fn started(files: Vec<PathBuf>, answers: Vec<Option<PathBuf>>) -> Harness<'static, App> {
    let mut harness = Harness::builder().with_size([1280.0, 720.0]).build_eframe(|cc| {
        let dialogs = ScriptedDialogs::new(answers);
        App::new(cc, files, Box::new(dialogs))
    });
    settle(&mut harness);
    harness
}

fn first_start() -> Harness<'static, App> {
    started(vec![], vec![])
}

/// Steps until everything asked for is worked out and nothing moves. The limit is on the wall clock
/// and only there so that a hang fails instead of waiting.
fn settle(harness: &mut Harness<App>) {
    let start = Instant::now();
    harness.step();
    harness.step();
    while !harness.state().is_idle() {
        assert!(start.elapsed() < Duration::from_mins(2), "the window never came to rest");
        std::thread::sleep(Duration::from_millis(2));
        harness.step();
    }
    harness.run_ok();
}

fn ask(harness: &mut Harness<App>, command: Command) {
    harness.state_mut().ask(command);
    settle(harness);
}

fn type_into(harness: &mut Harness<App>, name: &str, text: &str) {
    harness.get_by_role_and_label(Role::TextInput, name).focus();
    harness.step();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    harness.step();
    harness.get_by_role_and_label(Role::TextInput, name).type_text(text);
    harness.step();
    harness.key_press(egui::Key::Enter);
    settle(harness);
}

fn board_length(harness: &Harness<App>) -> Mm {
    harness.state().job().unwrap().board.length
}

fn findings_of(harness: &Harness<App>, kind: FindingKind) -> usize {
    harness.state().proof().unwrap().findings.iter().filter(|finding| finding.kind == kind).count()
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

const TWO_BARS: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="80mm" viewBox="0 0 200 80">
  <rect id="thick" x="0" y="0" width="200" height="30"/>
  <rect id="thin" x="0" y="50" width="200" height="2"/>
</svg>"#;

#[test]
fn a_first_start_shows_a_sample_with_something_wrong_and_says_what() {
    let harness = first_start();
    let proof = harness.state().proof().unwrap();
    assert!(proof.verdict.severity > Severity::Sound, "{:?}", proof.verdict);
    let sentence = proof.verdict.sentence(LengthUnit::Millimetres);
    harness.get_by_label(&sentence);
    let first = &proof.findings[0];
    harness.get_by_label(&full_name(first));
}

#[test]
fn a_dropped_drawing_is_opened_on_the_board_that_is_there() {
    let mut harness = first_start();
    ask(&mut harness, Command::Set(Setting::BoardLength(Mm::new(800.0))));
    let dropped = Dropped { path: "two-bars.svg".into(), bytes: TWO_BARS.into() };
    harness.input_mut().dropped_files.push(Arc::new(dropped));
    settle(&mut harness);
    let job = harness.state().job().unwrap();
    assert_eq!(job.design.name, "two-bars");
    assert_eq!(job.board.length, Mm::new(800.0));
    let proof = harness.state().proof().unwrap();
    assert!((proof.length.get() - 200.0).abs() < 1e-3, "{}", proof.length);
    // A bar 2 mm wide along the grain: the thinnest wall there is.
    assert!((proof.thinnest_wall.unwrap().get() - 2.0).abs() < 1e-3, "{:?}", proof.thinnest_wall);
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
    assert_eq!(harness.state().job().unwrap().board.width, Mm::new(150.0));
    assert!(harness.query_by_label_contains("is not a length").is_none(), "the reason is still there");
}

#[test]
fn leaving_a_rounded_length_alone_does_not_round_the_job() {
    let mut harness = first_start();
    ask(&mut harness, Command::UseUnit(LengthUnit::InchFraction));
    ask(&mut harness, Command::Set(Setting::BoardLength(Mm::new(612.345))));
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
    let sentence = proof.verdict.sentence(LengthUnit::Millimetres);
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
    assert!(matches!(harness.state().job().unwrap().size, Size::Length(_)), "the size is no length");
}

#[test]
fn a_click_on_a_finding_goes_to_the_spot() {
    let mut harness = first_start();
    let (_, far) = harness.state().looking_at().unwrap();
    let finding = harness.state().proof().unwrap().findings[0].clone();
    let row = finding.kind.label();
    harness.get_by_role_and_label(Role::ListBoxOption, &full_name(&finding)).click();
    settle(&mut harness);
    let (middle, near) = harness.state().looking_at().unwrap();
    assert!((middle - finding.at).length() < 1e-6, "{row}: looking at {middle}, not {}", finding.at);
    assert!(near > 2.0 * far, "{row}: the scale went from {far} to {near}");
    // Its advice is now in the open.
    harness.get_by_label_contains(&finding.advice(LengthUnit::Millimetres));
    // And back.
    harness.get_by_label("Whole board").click();
    settle(&mut harness);
    assert_eq!(harness.state().looking_at().unwrap().1, far);
}

/// What the first row of the list is called.
fn full_name(finding: &spelk::proof::Finding) -> String {
    format!(
        "1 {}, {}: {}",
        finding.kind.label(),
        finding.severity.label().to_lowercase(),
        finding.message(LengthUnit::Millimetres)
    )
}

#[test]
fn free_ends_show_snipe_and_more_room() {
    let mut harness = first_start();
    ask(&mut harness, Command::OpenSample("boat-nameboard"));
    let held = harness.state().proof().unwrap().clone();
    assert!(held.snipe_zones.is_empty(), "held ends are not sniped");
    harness.get_by_label("Ends free").click();
    settle(&mut harness);
    let free = harness.state().proof().unwrap();
    assert_eq!(harness.state().job().unwrap().ends, Ends::Free);
    assert!(free.fit.largest_factor > held.fit.largest_factor, "no room was gained");
    assert!(free.sniped_share > 0.0, "no part of the design is sniped");
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
    harness.get_by_label("Ends free").click();
    settle(&mut harness);
    let undo = |harness: &mut Harness<App>| {
        harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Z);
        settle(harness);
    };
    undo(&mut harness);
    assert_eq!(harness.state().job().unwrap().ends, Ends::Held);
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
    ask(&mut harness, Command::Set(Setting::BoardLength(Mm::new(777.0))));
    ask(&mut harness, Command::Set(Setting::Size(Size::Length(Mm::new(210.0)))));
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
    ask(&mut harness, Command::Set(Setting::BoardLength(Mm::new(777.0))));
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
        harness.get_by_label_contains(name);
    }
    assert!(*harness.state().job().unwrap() == before, "the job was changed");
    // They can be read again.
    harness.get_by_label_contains(" messages").click();
    harness.run_ok();
    harness.get_by_label_contains("broken.svg");
    harness.get_by_label_contains("missing.svg");
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
    assert_eq!(harness.state().job().unwrap().design.name, "bars");
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
    let labels: Vec<_> = job.treatments.iter().map(|treatment| treatment.label()).collect();
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
    assert_eq!(harness.state().job().unwrap().design.name, "combs");
    assert!(harness.state().job().unwrap().design.segment_count() >= 100_000, "not so large");
    harness.get_by_role_and_label(Role::Slider, "Size handle").set_value_accesskit(300.0);
    settle(&mut harness);
    assert!((harness.state().proof().unwrap().length.get() - 300.0).abs() < 1e-6, "size not set");
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
    harness.get_by_label(&format!("Mark 1 {}", first.kind.label())).click();
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
        ask(&mut harness, Command::UseUnit(unit));
        let field = harness.get_by_role_and_label(Role::TextInput, "Board length");
        assert_eq!(field.value().as_deref(), Some(shown));
    }
}

#[test]
fn every_sample_opens() {
    let mut harness = first_start();
    for sample in spelk::design::samples::samples() {
        ask(&mut harness, Command::OpenSample(sample.id));
        assert_eq!(harness.state().job().unwrap().design.name, sample.title);
    }
}

/// The desktop's own dialogs are not asked for anything here, only made.
#[test]
fn the_window_starts_with_the_desktops_dialogs() {
    let mut harness = Harness::builder()
        .with_size([900.0, 560.0])
        .build_eframe(|cc| App::new(cc, vec![], Box::new(DesktopDialogs::default())));
    settle(&mut harness);
    harness.get_by_label("Findings");
}

/// Pictures of the window for the README, written with `UPDATE_SCREENSHOTS=1`. Needs a Vulkan driver;
/// `SPELK_SKIP_WINDOW_PICTURES=1` skips it where there is none.
#[test]
fn the_window_is_drawn_in_both_themes() {
    if std::env::var_os("SPELK_SKIP_WINDOW_PICTURES").is_some() {
        println!("skipped: pictures of the window (SPELK_SKIP_WINDOW_PICTURES is set)");
        return;
    }
    for (theme, name) in [(egui::Theme::Light, "window"), (egui::Theme::Dark, "window-dark")] {
        let mut harness = Harness::builder()
            .with_size([1280.0, 720.0])
            .with_theme(theme)
            .wgpu()
            .build_eframe(|cc| App::new(cc, vec![], Box::new(ScriptedDialogs::default())));
        settle(&mut harness);
        let picture = harness.render().unwrap();
        // The board's wood is in the middle, and not the bare bench.
        let middle = picture.get_pixel(640, 300);
        assert!(middle[0] > middle[2] + 20, "{theme:?}: no wood in the middle, but {middle:?}");
        if std::env::var_os("UPDATE_SCREENSHOTS").is_some() {
            let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("screenshots");
            std::fs::create_dir_all(&folder).unwrap();
            picture.save(folder.join(format!("{name}.png"))).unwrap();
        }
    }
}
