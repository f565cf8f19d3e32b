//! The window as a desk: commands, open jobs, files on disk, crashes, the lesson; by label, as in
//! `window.rs`.

use super::window::{self, ask, board_length_reads, click, settle, type_into, until};
use eframe::egui;
use egui::accesskit::Toggled;
use egui::{Key, Modifiers, Role};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use spelk::app::{App, Command, Middle, ScriptedDialogs};
use spelk::job::{Edit, EditKind};
use spelk::shop::Shop;
use spelk::units::{LengthUnit, Mm};
use spelk::words;
use std::path::{Path, PathBuf};

/// A window with these files, which keeps changed jobs in `kept`.
pub(crate) fn started(
    files: Vec<PathBuf>,
    answers: Vec<Option<PathBuf>>,
    kept: Option<&Path>,
) -> Harness<'static, App> {
    let kept = kept.map(Path::to_owned);
    let mut harness = Harness::builder().with_size([1280.0, 720.0]).build_eframe(move |cc| {
        let app = App::new(cc, files, Box::new(ScriptedDialogs::new(answers)), None);
        match kept {
            Some(folder) => app.keeping_in(&folder),
            None => app,
        }
    });
    settle(&mut harness);
    harness
}

fn first_start() -> Harness<'static, App> {
    started(vec![], vec![], None)
}

fn keys(harness: &mut Harness<App>, modifiers: Modifiers, key: Key) {
    harness.key_press_modifiers(modifiers, key);
    settle(harness);
}

fn names(harness: &Harness<App>) -> Vec<String> {
    harness.state().open_jobs().into_iter().map(|(name, _)| name).collect()
}

fn said(harness: &Harness<App>, words: &str) -> bool {
    harness.state().messages().iter().any(|message| message.text.contains(words))
}

pub(crate) fn bars(folder: &Path, name: &str, thin: f64) -> PathBuf {
    let path = folder.join(name);
    std::fs::write(&path, bars_of(thin)).unwrap();
    path
}

fn bars_of(thin: f64) -> String {
    format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="80mm" viewBox="0 0 200 80">
  <rect id="thick" x="0" y="0" width="200" height="30"/>
  <rect id="thin" x="0" y="50" width="200" height="{thin}"/>
</svg>"#
    )
}

#[test]
fn the_report_of_a_fault_is_told_of_at_the_next_start_and_once() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("fault.txt"), "Spelk").unwrap();
    let told = |harness: &Harness<App>| said(harness, "stopped because of a fault when it last ran");
    let harness = started(vec![], vec![], Some(folder.path()));
    assert!(told(&harness), "{:?}", harness.state().messages());
    assert!(said(&harness, &folder.path().join("earlier-fault.txt").display().to_string()));
    drop(harness);
    assert!(!told(&started(vec![], vec![], Some(folder.path()))));
}

#[test]
fn a_command_is_found_by_a_few_letters_and_done_with_enter() {
    let mut harness = first_start();
    keys(&mut harness, Modifiers::COMMAND, Key::K);
    let field = "Letters of the command";
    harness.get_by_role_and_label(Role::TextInput, field).type_text("inches dec");
    harness.run_ok();
    harness.get_by_label("Lengths: Inches, decimal");
    assert!(harness.query_by_label("Lengths: Millimetres").is_none(), "what does not match is listed");
    harness.key_press(Key::Enter);
    settle(&mut harness);
    let shown = harness.get_by_role_and_label(Role::TextInput, "Board length").value();
    assert_eq!(shown.as_deref(), Some("24.000"));
    assert!(harness.query_by_label(field).is_none(), "the list is still open");
    // The second row, by the arrow keys; and what cannot be done now is not offered.
    keys(&mut harness, Modifiers::COMMAND, Key::K);
    assert!(harness.query_by_label("Undo").is_none(), "there is nothing to undo");
    harness.get_by_role_and_label(Role::TextInput, field).type_text("appearance:");
    harness.run_ok();
    harness.key_press(Key::ArrowDown);
    harness.run_ok();
    harness.key_press(Key::Enter);
    settle(&mut harness);
    assert_eq!(harness.ctx.theme(), egui::Theme::Dark);
}

#[test]
fn every_edit_is_named_where_it_is_taken_back_and_made_again() {
    let mut harness = first_start();
    ask(&mut harness, Command::Edit(Edit::Depth(Mm::new(2.0))));
    click(&mut harness, "Edit");
    harness.get_by_label_contains("Undo depth");
    keys(&mut harness, Modifiers::NONE, Key::Escape);
    keys(&mut harness, Modifiers::COMMAND, Key::Z);
    click(&mut harness, "Edit");
    harness.get_by_label_contains("Redo depth");
}

#[test]
fn several_files_are_open_side_by_side() {
    let folder = tempfile::tempdir().unwrap();
    let files = ["one.svg", "two.svg", "three.svg"].map(|name| bars(folder.path(), name, 2.0));
    let mut harness = started(files.to_vec(), vec![], None);
    assert_eq!(names(&harness), ["one", "two", "three"]);
    assert_eq!(harness.state().shown_job(), 0, "the first is shown");
    // A change is one job's, and so is its undo.
    ask(&mut harness, Command::Edit(Edit::BoardLength(Mm::new(700.0))));
    keys(&mut harness, Modifiers::COMMAND, Key::PageDown);
    assert_eq!(harness.state().job().unwrap().design().name, "two");
    assert_ne!(harness.state().job().unwrap().board().length, Mm::new(700.0));
    keys(&mut harness, Modifiers::COMMAND, Key::Z);
    assert_eq!(harness.state().job().unwrap().design().name, "two", "undo leaves the job");
    harness.get_by_label("Open jobs").click();
    harness.run_ok();
    click(&mut harness, "one *");
    assert_eq!(harness.state().job().unwrap().board().length, Mm::new(700.0));
    assert!(harness.state().proof().is_some(), "no proof");
    keys(&mut harness, Modifiers::COMMAND, Key::Z);
    assert_ne!(harness.state().job().unwrap().board().length, Mm::new(700.0));
    // The same file again is the job that is open.
    ask(&mut harness, Command::Open(files[2].clone()));
    assert_eq!((names(&harness).len(), harness.state().shown_job()), (3, 2));
    assert!(said(&harness, "open already"), "no word");
    keys(&mut harness, Modifiers::COMMAND, Key::W);
    assert_eq!(names(&harness), ["one", "two"]);
}

#[test]
fn closing_a_changed_job_asks_first() {
    let folder = tempfile::tempdir().unwrap();
    let files = ["one.svg", "two.svg"].map(|name| bars(folder.path(), name, 2.0));
    let mut harness = started(files.to_vec(), vec![], None);
    ask(&mut harness, Command::Edit(Edit::BoardLength(Mm::new(700.0))));
    keys(&mut harness, Modifiers::COMMAND, Key::W);
    click(&mut harness, "Stay");
    assert_eq!(names(&harness).len(), 2);
    keys(&mut harness, Modifiers::COMMAND, Key::W);
    click(&mut harness, "Close without saving");
    settle(&mut harness);
    assert_eq!(names(&harness), ["two"]);
}

#[test]
fn a_file_that_hovers_is_told_what_dropping_it_does() {
    let mut harness = first_start();
    let hovers = |name: &str| egui::HoveredFile { path: Some(name.into()), ..Default::default() };
    harness.input_mut().hovered_files = vec![hovers("geese.svg"), hovers("gate.spelk")];
    harness.step();
    harness.step();
    harness.get_by_label("Drop to open them one after another");
    harness.get_by_label_contains("geese.svg: a drawing at its own size, on this board of");
    harness.get_by_label_contains("gate.spelk: a saved job");
    harness.input_mut().hovered_files.clear();
    harness.step();
    harness.step();
    assert!(harness.query_by_label_contains("geese.svg").is_none(), "it is still said");
}

#[test]
fn a_drawing_that_changes_on_disk_is_read_again() {
    let folder = tempfile::tempdir().unwrap();
    let path = bars(folder.path(), "bars.svg", 2.0);
    let mut harness = started(vec![path.clone()], vec![], None);
    ask(&mut harness, Command::Edit(Edit::BoardLength(Mm::new(700.0))));
    let treatment = spelk::job::Treatment::Left;
    ask(&mut harness, Command::Edit(Edit::Treat { elements: vec![0], treatment }));
    let thinnest = |app: &App| app.proof().unwrap().thinnest.wall.unwrap().get();
    assert!((thinnest(harness.state()) - 2.0).abs() < 1e-3, "{}", thinnest(harness.state()));
    std::fs::write(&path, bars_of(5.25)).unwrap();
    until(&mut harness, |app| app.messages().iter().any(|m| m.text.contains("since it changed on disk")));
    settle(&mut harness);
    assert!((thinnest(harness.state()) - 5.25).abs() < 1e-3, "{}", thinnest(harness.state()));
    let job = harness.state().job().unwrap();
    assert_eq!((job.board().length, job.carvings()[0].treatment), (Mm::new(700.0), treatment));
    // One that cannot be read leaves the job as it is, and says so.
    std::fs::write(&path, "<svg").unwrap();
    until(&mut harness, |app| app.messages().last().is_some_and(|m| m.trouble));
    settle(&mut harness);
    assert!(harness.state().messages().last().unwrap().text.contains("bars.svg"), "no name");
    assert!((thinnest(harness.state()) - 5.25).abs() < 1e-3, "{}", thinnest(harness.state()));
    keys(&mut harness, Modifiers::COMMAND, Key::Z);
    assert!((thinnest(harness.state()) - 2.0).abs() < 1e-3, "undo brings back the drawing");
}

#[test]
fn what_a_crash_left_is_offered_restored_and_still_unsaved() {
    let folder = tempfile::tempdir().unwrap();
    let path = bars(folder.path(), "bars.svg", 2.0);
    {
        let mut harness = started(vec![path], vec![], Some(folder.path()));
        ask(&mut harness, Command::Edit(Edit::BoardLength(Mm::new(707.0))));
        until(&mut harness, |_| kept_files(folder.path()) == 1);
        // The window goes away without a word, as in a crash.
    }
    assert_eq!(kept_files(folder.path()), 1, "nothing was kept");
    let mut harness = started(vec![], vec![], Some(folder.path()));
    assert_eq!(harness.state().left_behind(), 1);
    harness.get_by_label("Changes that were not saved");
    harness.get_by_label("bars");
    click(&mut harness, "Restore");
    settle(&mut harness);
    assert_eq!(harness.state().job().unwrap().board().length, Mm::new(707.0));
    assert_eq!(harness.state().open_jobs(), [("bars".to_owned(), true)], "it counts as changed");
    // Once it is saved nothing is kept any more.
    ask(&mut harness, Command::SaveTo(folder.path().join("bars.spelk")));
    until(&mut harness, |_| kept_files(folder.path()) == 0);
    assert!(!harness.state().open_jobs()[0].1, "it was saved");
}

#[test]
fn what_a_crash_left_can_be_discarded_or_left_for_later() {
    let folder = tempfile::tempdir().unwrap();
    {
        let mut harness = started(vec![], vec![], Some(folder.path()));
        ask(&mut harness, Command::Edit(Edit::BoardLength(Mm::new(707.0))));
        until(&mut harness, |_| kept_files(folder.path()) == 1);
    }
    let mut harness = started(vec![], vec![], Some(folder.path()));
    click(&mut harness, "Later");
    assert_eq!((harness.state().left_behind(), kept_files(folder.path())), (0, 1));
    drop(harness);
    let mut harness = started(vec![], vec![], Some(folder.path()));
    click(&mut harness, "Discard");
    assert_eq!((harness.state().left_behind(), kept_files(folder.path())), (0, 0));
}

/// A question stands before the window: no key reaches what is behind it.
#[test]
fn no_key_passes_by_a_question() {
    let folder = tempfile::tempdir().unwrap();
    let path = bars(folder.path(), "bars.svg", 2.0);
    {
        let mut harness = started(vec![path.clone()], vec![], Some(folder.path()));
        ask(&mut harness, Command::Edit(Edit::BoardLength(Mm::new(707.0))));
        until(&mut harness, |_| kept_files(folder.path()) == 1);
    }
    let mut harness = started(vec![path], vec![], Some(folder.path()));
    harness.get_by_label("Changes that were not saved");
    for (modifiers, key) in [
        (Modifiers::NONE, Key::T),
        (Modifiers::NONE, Key::F10),
        (Modifiers::ALT, Key::D),
        (Modifiers::COMMAND, Key::W),
        (Modifiers::COMMAND, Key::K),
    ] {
        keys(&mut harness, modifiers, key);
    }
    for behind in ["Letter words", "Letter words…", "New job…", "Commands"] {
        assert!(harness.query_by_label(behind).is_none(), "{behind} opened behind the question");
    }
    assert_eq!(harness.state().open_jobs().len(), 1, "the job is still open");
    click(&mut harness, "Later");
    keys(&mut harness, Modifiers::NONE, Key::T);
    harness.get_by_label("Letter words");
}

/// Asks the window to close, as its frame does.
pub(crate) fn ask_to_close(harness: &mut Harness<App>) {
    let window = harness.input_mut().viewports.entry(egui::ViewportId::ROOT).or_default();
    window.events.push(egui::ViewportEvent::Close);
    harness.step();
    settle(harness);
}

#[test]
fn staying_after_all_loses_nothing_that_was_given_up_before() {
    let folder = tempfile::tempdir().unwrap();
    let files = ["one.svg", "two.svg"].map(|name| bars(folder.path(), name, 2.0));
    let mut harness = started(files.to_vec(), vec![], Some(folder.path()));
    for job in 0..2 {
        ask(&mut harness, Command::ShowJob(job));
        ask(&mut harness, Command::Edit(Edit::BoardLength(Mm::new(707.0))));
    }
    until(&mut harness, |_| kept_files(folder.path()) == 2);
    ask(&mut harness, Command::ShowJob(0));
    ask_to_close(&mut harness);
    harness.get_by_label_contains("one has changes");
    click(&mut harness, "Close without saving");
    ask_to_close(&mut harness);
    harness.get_by_label_contains("two has changes");
    click(&mut harness, "Stay");
    assert!(harness.query_by_label_contains("has changes").is_none(), "it still asks");
    assert!(harness.state().open_jobs().iter().all(|(_, changed)| *changed), "a change is forgotten");
    assert_eq!(kept_files(folder.path()), 2, "a job is no longer kept");
    // Closing again asks about both again.
    ask(&mut harness, Command::ShowJob(0));
    ask_to_close(&mut harness);
    harness.get_by_label_contains("one has changes");
    drop(harness);
    let harness = started(vec![], vec![], Some(folder.path()));
    assert_eq!(harness.state().left_behind(), 2, "work is lost");
}

#[test]
fn closing_with_everything_given_up_keeps_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = started(vec![bars(folder.path(), "one.svg", 2.0)], vec![], Some(folder.path()));
    ask(&mut harness, Command::Edit(Edit::BoardLength(Mm::new(707.0))));
    until(&mut harness, |_| kept_files(folder.path()) == 1);
    ask_to_close(&mut harness);
    click(&mut harness, "Close without saving");
    ask_to_close(&mut harness);
    drop(harness);
    assert_eq!(kept_files(folder.path()), 0);
}

pub(crate) fn kept_files(folder: &Path) -> usize {
    let entries = std::fs::read_dir(folder).unwrap();
    entries.filter(|entry| entry.as_ref().unwrap().path().extension().is_some_and(|e| e == "kept")).count()
}

#[test]
fn views_are_switched_by_row_key_and_list() {
    let mut harness = first_start();
    click(&mut harness, "Show lesson");
    let row = harness.get_by_label("Show lesson");
    assert_eq!(row.accesskit_node().toggled(), Some(Toggled::True));
    harness.get_by_label("Why it thins");
    let board = Command::Show(Middle::Board).shortcut().unwrap();
    keys(&mut harness, board.modifiers, board.logical_key);
    harness.get_by_label_contains("Board 609.6 mm by");
}

#[test]
fn the_text_grows_and_shrinks() {
    let mut harness = first_start();
    let before = harness.ctx.zoom_factor();
    keys(&mut harness, Modifiers::COMMAND, Key::Plus);
    assert!(harness.ctx.zoom_factor() > before, "not larger");
    keys(&mut harness, Modifiers::COMMAND, Key::Minus);
    keys(&mut harness, Modifiers::COMMAND, Key::Minus);
    assert!(harness.ctx.zoom_factor() < before, "not smaller");
    keys(&mut harness, Modifiers::COMMAND, Key::Num0);
    assert_eq!(harness.ctx.zoom_factor(), 1.0);
}

#[test]
fn the_lesson_answers_when_the_handle_slides() {
    let mut harness = first_start();
    click(&mut harness, "Show lesson");
    click(&mut harness, "Start the tour");
    assert_eq!(harness.state().job().unwrap().design().name, "Gate sign, Mind the geese");
    harness.get_by_label_contains("Which of the two changed");
    assert!(harness.query_by_label_contains("Answered.").is_none(), "answered before it is asked");
    let drawn = harness.state().proof().unwrap().length.get();
    harness.get_by_role_and_label(Role::Slider, "Size handle").set_value_accesskit(0.45 * drawn);
    settle(&mut harness);
    // First the guess: who is told the answer learns less from seeing it.
    assert!(harness.query_by_label_contains("Answered.").is_none(), "answered before it is guessed");
    click(&mut harness, "The limit");
    harness.get_by_label_contains("Your guess was: The limit. It is not so.");
    harness.get_by_label_contains("Answered. The wall");
    // Figures are told in words, with the numbers of this size.
    harness.get_by_label_contains("A wall from above. The design's thinnest wall is");
    // What the tour did is nobody's work: no step leaves a job behind, and nothing is asked.
    for _ in 1..8 {
        click(&mut harness, "Next step");
        let length = harness.state().proof().unwrap().length.get();
        harness.get_by_role_and_label(Role::Slider, "Size handle").set_value_accesskit(1.1 * length);
        settle(&mut harness);
    }
    assert_eq!(harness.state().open_jobs().len(), 1, "{:?}", harness.state().open_jobs());
    assert!(!harness.state().open_jobs()[0].1, "it counts as changed");
    assert!(harness.get_by_label("Next step").accesskit_node().is_disabled(), "there is a ninth");
    click(&mut harness, "End the tour");
    assert!(harness.query_by_label("Next step").is_none(), "the tour goes on");
}

#[test]
fn the_tour_leaves_ones_own_job_alone() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = started(vec![bars(folder.path(), "bars.svg", 2.0)], vec![], None);
    ask(&mut harness, Command::Edit(Edit::BoardLength(Mm::new(707.0))));
    ask(&mut harness, Command::TourStep(2));
    assert_eq!(names(&harness), ["bars", "House number, 27 Hithe Steps"]);
    assert_eq!(harness.state().open_jobs()[0], ("bars".to_owned(), true));
}

#[test]
fn the_handout_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("lesson.pdf");
    let mut harness = started(vec![], vec![Some(path)], None);
    click(&mut harness, "Show lesson");
    click(&mut harness, "Handout as PDF…");
    settle(&mut harness);
    let written = std::fs::read(folder.path().join("lesson.pdf")).unwrap();
    assert!(written.starts_with(b"%PDF"), "{:?}", harness.state().messages());
}

#[test]
fn full_screen_leaves_the_lesson_alone_on_it() {
    let mut harness = first_start();
    ask(&mut harness, Command::Show(Middle::Lesson));
    keys(&mut harness, Modifiers::NONE, Key::F11);
    assert!(harness.query_by_label("Show board").is_none(), "the row is still there");
    harness.get_by_role_and_label(Role::Slider, "Size handle");
    keys(&mut harness, Modifiers::NONE, Key::Escape);
    harness.get_by_label("Show board");
}

#[test]
fn a_length_is_measured_on_the_board() {
    let mut harness = first_start();
    keys(&mut harness, Modifiers::NONE, Key::D);
    let (middle, scale) = harness.state().looking_at().unwrap();
    let canvas = harness.get_by_label_contains("Board 609.6 mm by").rect();
    let from = canvas.center();
    let to = from + egui::vec2(120.0, -50.0);
    harness.drag_at(from);
    harness.step();
    harness.hover_at(to);
    harness.step();
    harness.drop_at(to);
    settle(&mut harness);
    let (along, across) = (120.0 / scale, 50.0 / scale);
    let unit = LengthUnit::Millimetres;
    let show = |mm: f64| unit.show_fine(Mm::new(mm));
    let words = format!("{}: {} along, {} across", show(along.hypot(across)), show(along), show(across));
    harness.get_by_label(&words);
    assert_eq!(harness.state().looking_at().unwrap().0, middle, "the board moved");
    keys(&mut harness, Modifiers::NONE, Key::D);
    assert!(harness.query_by_label(&words).is_none(), "it is still there");
}

#[test]
fn true_size_asks_for_a_card_and_then_is() {
    let mut harness = first_start();
    click(&mut harness, "True size");
    harness.get_by_label_contains("Hold a bank card against the screen");
    harness.get_by_role_and_label(Role::Slider, "Size of the card").set_value_accesskit(5.0);
    settle(&mut harness);
    // The card is drawn 85.60 mm wide at 5 pixels a millimetre.
    let card = harness.get_by_label_contains("Card, 85.6").rect();
    assert!((card.width() - 428.0).abs() < 0.6, "{}", card.width());
    click(&mut harness, "Show the board at true size");
    assert!((harness.state().looking_at().unwrap().1 - 5.0).abs() < 1e-5, "not at true size");
}

#[test]
fn marks_that_lie_together_are_one_with_a_number() {
    let mut harness = first_start();
    ask(&mut harness, Command::OpenSample("beehive-plate"));
    let marks = |harness: &Harness<App>| harness.query_all_by_label_contains("Mark ").count();
    let more = |harness: &Harness<App>| -> usize {
        let number = |label: String| label.split(' ').next().and_then(|number| number.parse::<usize>().ok());
        let nodes = harness.query_all_by_label_contains("more at mark ");
        let words = nodes.filter_map(|node| {
            let node = node.accesskit_node();
            node.label().or_else(|| node.value())
        });
        words.filter_map(number).sum()
    };
    let findings = harness.state().proof().unwrap().findings.len();
    ask(&mut harness, Command::FitView);
    for _ in 0..3 {
        ask(&mut harness, Command::ZoomOut);
    }
    let (shown, hidden) = (marks(&harness), more(&harness));
    assert!(hidden > 0, "{shown} of {findings} have a mark of their own");
    assert!(shown + hidden <= findings, "{shown} marks and {hidden} more of {findings}");
}

#[test]
fn marks_and_words_never_cover_each_other_at_any_zoom() {
    let mut harness = first_start();
    ask(&mut harness, Command::OpenSample("beehive-plate"));
    let finding = harness.state().proof().unwrap().findings[0].id.clone();
    ask(&mut harness, Command::GoTo(finding));
    for step in 0..14 {
        let marks: Vec<egui::Rect> =
            harness.query_all_by_label_contains("Mark ").map(|mark| mark.rect()).collect();
        for (index, mark) in marks.iter().enumerate() {
            let over = marks[..index].iter().find(|other| other.shrink(0.5).intersects(*mark));
            assert!(over.is_none(), "step {step}: {mark:?} covers {over:?}");
        }
        let buttons = ["Whole board", "True size", "Grid", "Measure"];
        for button in buttons.map(|name| harness.get_by_role_and_label(Role::Button, name).rect()) {
            assert!(marks.iter().all(|mark| !mark.intersects(button)), "step {step}: a mark covers a button");
        }
        ask(&mut harness, if step < 7 { Command::ZoomOut } else { Command::ZoomIn });
    }
}

#[test]
fn fractions_are_as_fine_as_chosen() {
    let mut harness = first_start();
    ask(&mut harness, Command::Edit(Edit::BoardLength(Mm::from_inches(24.0 + 1.0 / 3.0))));
    for (unit, shown) in [
        (LengthUnit::InchSixteenth, "24 5/16"),
        (LengthUnit::InchFraction, "24 11/32"),
        (LengthUnit::InchSixtyFourth, "24 21/64"),
    ] {
        board_length_reads(&mut harness, unit, shown);
    }
}

#[test]
fn a_first_start_is_welcomed_once_in_three_sentences() {
    let mut harness = first_start();
    harness.get_by_label_contains("the numbered marks show what would go wrong");
    click(&mut harness, "Got it");
    assert!(harness.query_by_label("Got it").is_none(), "it is still there");
    let folder = tempfile::tempdir().unwrap();
    let mut harness = first_start();
    ask(&mut harness, Command::Open(bars(folder.path(), "bars.svg", 2.0)));
    assert!(harness.query_by_label("Got it").is_none(), "it is said over one's own drawing");
}

#[test]
fn each_view_has_a_page_of_what_mouse_and_keys_do() {
    let mut harness = first_start();
    keys(&mut harness, Modifiers::NONE, Key::F1);
    harness.get_by_label("Click a numbered mark");
    harness.get_by_label("Keys everywhere");
    ask(&mut harness, Command::Show(Middle::Lesson));
    harness.get_by_label_contains("Changes the right half of every picture");
    assert!(harness.query_by_label("Click a numbered mark").is_none(), "the board's page is still there");
}

/// The names of what Tab alone reaches, one after the other; nothing without a name may have the keys.
fn reached_by_tab(harness: &mut Harness<App>, steps: usize) -> std::collections::BTreeSet<String> {
    let mut reached = std::collections::BTreeSet::new();
    for _ in 0..steps {
        harness.key_press(Key::Tab);
        harness.step();
        #[expect(clippy::redundant_closure_for_method_calls, reason = "the method is not general enough")]
        let focused = harness.query_all_by(|node| node.is_focused()).next();
        if let Some(focused) = focused {
            let name = focused.accesskit_node().label().unwrap_or_default();
            assert!(!name.is_empty(), "something without a name has the keys: {focused:?}");
            reached.insert(name);
        }
    }
    reached
}

#[test]
fn woods_say_how_hard_they_are_and_cutters_stand_by_their_shape() {
    let mut harness = first_start();
    harness.get_by_role_and_label(Role::ComboBox, "Wood").click();
    harness.run_ok();
    // White ash in the table of woods: 5 872 N of side hardness (Wood Handbook, table 5-3b), and 55 % of Davis's
    // pieces shaped well.
    harness.get_by_label("hardness 5\u{2009}872 N, shapes cleanly 55 %");
    harness.get_by_label("Ash, white").click();
    settle(&mut harness);
    assert_eq!(harness.state().job().unwrap().wood().name, "Ash, white");
    let top = |harness: &Harness<'_, App>, label: &str| {
        harness.query_all_by_label(label).map(|node| node.rect().top()).fold(f32::INFINITY, f32::min)
    };
    // What was used lately stands first, and once.
    harness.get_by_role_and_label(Role::ComboBox, "Wood").click();
    harness.run_ok();
    let ash = harness.get_by_role_and_label(Role::Button, "Ash, white").rect().top();
    assert!(top(&harness, "Used lately") < ash && ash < top(&harness, "The others"));
    harness.key_press(egui::Key::Escape);
    harness.run_ok();
    // So does one that came with a board of the rack, or with an offer.
    let cherry = Shop::built_in().woods.iter().find(|wood| wood.name == "Cherry, black").unwrap().clone();
    let edits = vec![Edit::Wood(Box::new(cherry))];
    ask(&mut harness, Command::Edit(Edit::Several(EditKind::RackBoard, edits)));
    harness.get_by_role_and_label(Role::ComboBox, "Wood").click();
    harness.run_ok();
    let cherry = harness.get_by_role_and_label(Role::Button, "Cherry, black").rect().top();
    let ash = harness.get_by_role_and_label(Role::Button, "Ash, white").rect().top();
    assert!(cherry < ash, "the last used stands first");
    harness.key_press(egui::Key::Escape);
    harness.run_ok();
    harness.get_by_role_and_label(Role::ComboBox, "Cutter").click();
    harness.run_ok();
    assert!(top(&harness, "Flat end") < top(&harness, "Ball end"));
    let ball = harness.state().job().unwrap().cutter().name.clone();
    harness.get_by_label("Ball end, 1/8 in").click();
    settle(&mut harness);
    assert_ne!(harness.state().job().unwrap().cutter().name, ball);
}

#[test]
fn tab_reaches_fields_lists_and_marks() {
    let mut harness = first_start();
    let reached = reached_by_tab(&mut harness, 120);
    for name in [
        "Board length",
        "Wood",
        "Cutter",
        "Skip the roller allowance",
        "Size handle",
        "Show lesson",
        "Whole board",
    ] {
        assert!(reached.contains(name), "{name} is not reached: {reached:?}");
    }
    assert!(reached.iter().any(|name| name.starts_with("Mark 1 ")), "no mark is reached: {reached:?}");
    assert!(reached.iter().any(|name| name.starts_with("1 ")), "no finding is reached: {reached:?}");
}

#[test]
fn tab_reaches_what_each_view_has_of_its_own() {
    let mut harness = first_start();
    for (middle, names) in [
        (
            Middle::Relief,
            &[
                "Play the carve",
                "Clock",
                "Speed of the clock",
                "Light side",
                "Light height",
                "Draw a section",
                "From above",
                "How long the carve took",
                "Section of the carve",
            ][..],
        ),
        (
            Middle::Sizes,
            &[
                "Name of size 1",
                "Size 1",
                "Remove size 1",
                "Size to add",
                "Note to the customer",
                "Use size As drawn",
                "Offer of sizes as PDF…",
                "Prices…",
            ][..],
        ),
        (Middle::Lesson, &["Start the tour", "Handout as PDF…", "Full screen", "Size handle"][..]),
    ] {
        ask(&mut harness, Command::Show(middle));
        let reached = reached_by_tab(&mut harness, 110);
        for name in names {
            assert!(reached.contains(*name), "{middle:?}: {name} is not reached: {reached:?}");
        }
    }
    // The figures of the lesson are told in words.
    assert_eq!(harness.get_all_by_role(Role::Image).count(), 7);
}

#[test]
fn reduced_motion_stills_what_moves_by_itself() {
    let mut harness = first_start();
    let time = |harness: &Harness<App>| harness.ctx.global_style().animation_time;
    ask(&mut harness, Command::ToggleStill);
    assert_eq!(time(&harness), 0.0);
    ask(&mut harness, Command::ToggleStill);
    assert!(time(&harness) > 0.0, "it is not given back");
}

/// What a start leaves for the next, as the program keeps it between them.
#[derive(Default)]
struct Drawer(std::collections::BTreeMap<String, String>);

impl eframe::Storage for Drawer {
    fn get_string(&self, key: &str) -> Option<String> {
        self.0.get(key).cloned()
    }
    fn set_string(&mut self, key: &str, value: String) {
        self.0.insert(key.to_owned(), value);
    }
    fn remove_string(&mut self, key: &str) {
        self.0.remove(key);
    }
    fn flush(&mut self) {}
}

#[test]
fn the_next_start_looks_as_the_last_one_was_left() {
    /// Where the window's own library keeps the widths of panels, beside the habits of ours.
    const PANELS: &str = "egui";
    fn start(drawer: &Drawer) -> Harness<'_, App> {
        let panels: Option<egui::Memory> = eframe::get_value(drawer, PANELS);
        let mut harness = Harness::builder()
            .with_size([1280.0, 720.0])
            .with_context_setup(move |ctx| {
                if let Some(panels) = panels {
                    ctx.memory_mut(|memory| *memory = panels);
                }
            })
            .build_eframe(move |cc| {
                cc.storage = Some(drawer);
                App::new(cc, vec![], Box::new(ScriptedDialogs::default()), None)
            });
        settle(&mut harness);
        harness
    }
    fn end(mut harness: Harness<App>) -> Drawer {
        let mut drawer = Drawer::default();
        harness.ctx.memory(|memory| eframe::set_value(&mut drawer, PANELS, memory));
        eframe::App::save(harness.state_mut(), &mut drawer);
        drawer
    }
    // In whatever unit: "Board … by …, design … by …".
    let canvas = |harness: &Harness<App>| harness.get_by_label_contains(", design ").rect();

    let empty = Drawer::default();
    let mut first = start(&empty);
    let usual = canvas(&first);
    // The cards end a margin before the row of views; the findings begin a margin before their heading.
    let cards_end = first.get_by_label("Show board").rect().left() - 8.0;
    let findings_begin = first.get_by_label("Findings").rect().left() - 8.0;
    for (edge, by) in [(cards_end, 50.0), (findings_begin, -60.0)] {
        let (from, by) = (egui::pos2(edge, usual.center().y), egui::vec2(by, 0.0));
        first.hover_at(from);
        first.step();
        first.drag_at(from);
        first.step();
        first.hover_at(from + by);
        first.step();
        first.drop_at(from + by);
        settle(&mut first);
    }
    let moved = canvas(&first);
    assert!(moved.width() < usual.width() - 80.0, "no edge moved: {usual:?}, {moved:?}");
    click(&mut first, "Got it");
    let left = canvas(&first);
    for command in [
        Command::UseUnit(LengthUnit::InchSixteenth),
        Command::UseTheme(egui::ThemePreference::Dark),
        Command::ToggleGrid,
        Command::ToggleStill,
    ] {
        ask(&mut first, command);
    }
    let kept = end(first);

    let mut second = start(&kept);
    assert_eq!(canvas(&second).x_range(), left.x_range(), "the panels");
    let shown = second.get_by_role_and_label(Role::TextInput, "Board length").value();
    assert_eq!(shown.as_deref(), Some("24"), "the unit");
    assert!(second.query_by_label("Got it").is_none(), "it is welcomed again");
    for (menu, entry) in [("View", "Dark"), ("View", "Grid"), ("View", "Reduced motion")] {
        click(&mut second, menu);
        let entries = second.query_all_by_label_contains(entry);
        let on = entries.filter(|entry| entry.accesskit_node().toggled() == Some(Toggled::True)).count();
        assert!(on > 0, "{entry} is not as it was left");
        keys(&mut second, Modifiers::NONE, Key::Escape);
    }
    // A view and a text size, each in a start of its own: they move everything else.
    ask(&mut second, Command::Show(Middle::Lesson));
    ask(&mut second, Command::LargerText);
    let zoom = second.ctx.zoom_factor();
    let kept = end(second);
    let third = start(&kept);
    third.get_by_label("Why it thins");
    assert_eq!(third.ctx.zoom_factor(), zoom, "the text size");
    assert!(zoom > 1.0, "{zoom}");
}

#[test]
fn a_file_to_write_is_offered_beside_the_drawing() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = started(vec![bars(folder.path(), "bars.svg", 2.0)], vec![], None);
    keys(&mut harness, Modifiers::COMMAND, Key::S);
    let field = harness.get_by_role_and_label(Role::TextInput, "Path of the file").value().unwrap();
    assert_eq!(PathBuf::from(field), folder.path().join("bars.spelk"));
    keys(&mut harness, Modifiers::NONE, Key::Enter);
    assert!(folder.path().join("bars.spelk").exists(), "{:?}", harness.state().messages());
}

#[test]
fn every_shortcut_stands_on_the_page_of_keys() {
    let mut harness = first_start();
    keys(&mut harness, Modifiers::NONE, Key::F1);
    for (keys, does) in [
        ("Ctrl+Shift+S", "Save job as…"),
        ("Ctrl+K", "Find a command…"),
        ("Shift+N", "Previous finding"),
        ("F11", "Full screen"),
        ("Ctrl+3", "Show sizes"),
    ] {
        harness.get_by_role_and_label(Role::Label, keys);
        assert!(harness.query_all_by_label(does).count() > 0, "{does}");
    }
}

/// Cards and findings take turns beside the board, and a mark that is clicked brings its finding.
#[test]
fn nothing_is_cut_off_where_the_window_is_narrow() {
    const WIDE: f32 = 900.0;
    let mut harness = Harness::builder()
        .with_size([WIDE, 560.0])
        .build_eframe(|cc| App::new(cc, vec![], Box::new(ScriptedDialogs::default()), None));
    settle(&mut harness);
    ask(&mut harness, Command::HideWelcome);
    let board = harness.get_by_label_contains("Board 609.6 mm by").rect();
    assert!(board.width() > 0.6 * WIDE, "the board has {} of {WIDE}", board.width());
    for name in ["Whole board", "True size", "Grid", "Measure"] {
        let button = harness.get_by_role_and_label(Role::Button, name).rect();
        assert!(button.right() < WIDE, "{name}: {button:?}");
    }
    harness.get_by_label("Board length");
    let first = harness.state().proof().unwrap().findings[0].id.clone();
    ask(&mut harness, Command::GoTo(first));
    assert!(harness.query_by_label("Board length").is_none(), "the findings have the cards' place");
    click(&mut harness, "Settings");
    harness.get_by_label("Board length");
    ask(&mut harness, Command::Show(Middle::Relief));
    for name in ["Correct the times", "From above", "Light height", "Speed of the clock"] {
        let place = harness.get_by_label(name).rect();
        assert!(place.right() < WIDE, "{name}: {place:?}");
    }
}

/// The guide opens from the menu, is searched, and a find leads to its place.
#[test]
fn the_guide_is_read_and_searched() {
    let mut harness = started(vec![], vec![], None);
    ask(&mut harness, Command::ToggleGuide);
    assert!(harness.query_all_by_label("The Spelk guide").count() > 0, "the guide is not there");
    harness.get_by_role_and_label(Role::Button, "The limit").click();
    settle(&mut harness);
    harness.get_by_label_contains("Find your own limit: the coupon");
    type_into(&mut harness, "Search the guide", "sensing strip");
    let found = harness.query_all_by_label_contains("Reading a proof").count();
    assert!(found > 0, "the table of findings has it");
    type_into(&mut harness, "Search the guide", "zebra");
    harness.get_by_label("Nothing in the guide holds all of these words");
}

/// The guide is written to a file, as sheets are.
#[test]
fn the_guide_is_printed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("guide.pdf");
    let mut harness = started(vec![], vec![Some(path.clone())], None);
    ask(&mut harness, Command::ToggleGuide);
    click(&mut harness, "Guide as PDF…");
    settle(&mut harness);
    assert!(std::fs::read(&path).unwrap().starts_with(b"%PDF-"), "no guide was written");
}

/// A folder that is dropped is proofed file by file, on the board and with the cutter of the job in hand; a row says
/// what came of a file and opens it, and the table is printed.
#[test]
fn a_dropped_folder_becomes_a_table_with_pictures() {
    let folder = tempfile::tempdir().unwrap();
    let (inside, table) = (folder.path().join("signs"), folder.path().join("table.pdf"));
    std::fs::create_dir(&inside).unwrap();
    for name in ["gate-sign.svg", "inn-sign.svg"] {
        std::fs::copy(Path::new("sample-designs").join(name), inside.join(name)).unwrap();
    }
    std::fs::write(inside.join("broken.svg"), "<svg").unwrap();
    std::fs::write(inside.join("notes.txt"), "not a drawing").unwrap();
    let mut harness = window::started(vec![], vec![Some(table.clone())]);
    ask(&mut harness, Edit::Depth(Mm::new(2.0)));
    window::drop_on(&mut harness, &inside);
    harness.get_by_role_and_label(Role::Window, "Drawings in signs");
    harness.get_by_label("3 files: 1 sound, 0 chancy, 1 unsound, 1 not read.");
    harness.get_by_label("gate-sign.svg on its board");
    harness.get_by_label_contains("Not proofed: ");
    let height = |harness: &Harness<App>, name: &str| harness.get_by_label(name).rect().min.y;
    let [broken, gate, inn] =
        ["broken.svg", "gate-sign.svg", "inn-sign.svg"].map(|name| height(&harness, name));
    assert!(broken < gate && gate < inn, "by their names");
    harness.get_by_label("Worst first").click();
    settle(&mut harness);
    let [broken, gate, inn] =
        ["broken.svg", "gate-sign.svg", "inn-sign.svg"].map(|name| height(&harness, name));
    assert!(inn < gate && gate < broken, "what could not be read has no verdict");

    harness.get_by_label("Table as PDF…").click();
    settle(&mut harness);
    assert!(std::fs::read(&table).unwrap().starts_with(b"%PDF"));

    // Opened, it is what the row said.
    harness.get_by_label("Open inn-sign.svg").click();
    settle(&mut harness);
    let (job, proof) = (harness.state().job().unwrap(), harness.state().proof().unwrap());
    assert_eq!(job.depth(), Mm::new(2.0));
    let verdict = words::verdict::sentence(&proof.verdict, LengthUnit::Millimetres);
    assert!(harness.query_all_by_label(&verdict).count() >= 2, "in the table and beside the board");
}

/// Begun anew while it goes on, a folder has each of its files once: what was on its way does not come in between.
#[test]
fn a_folder_is_begun_anew_while_it_goes_on() {
    let mut harness = first_start();
    for _ in 0..12 {
        harness.state_mut().ask(Command::Open("sample-designs".into()));
        for _ in 0..3 {
            std::thread::sleep(std::time::Duration::from_millis(40));
            harness.step();
        }
    }
    settle(&mut harness);
    harness.get_by_label("6 files: 1 sound, 2 chancy, 3 unsound.");
}
