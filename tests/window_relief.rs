//! The carved surface in the window: seen, cut through, played, timed; by label, as in `window.rs`.

use super::window::{ask, click, settle, started};
use eframe::egui;
use egui::{Key, Modifiers, Role};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use spelk::app::{App, Command, Middle};
use spelk::job::{ClearingDirection, Edit, Treatment};
use spelk::units::Mm;
use spelk::words::surface::NOT_SIMULATED;

/// A bar and a groove across the board whose sizes are plain: two sunk pockets with a wall of 8 mm between.
const TWO_POCKETS: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" width="108mm" height="60mm" viewBox="0 0 108 60">
  <rect id="left" x="0" y="0" width="50" height="60"/>
  <rect id="right" x="58" y="0" width="50" height="60"/>
</svg>"#;

/// The carved surface of the two pockets, 4 mm deep.
fn pockets(folder: &tempfile::TempDir) -> Harness<'static, App> {
    let path = folder.path().join("two-pockets.svg");
    std::fs::write(&path, TWO_POCKETS).unwrap();
    let mut harness = started(vec![path], vec![]);
    ask(&mut harness, Command::Edit(Edit::Treat { elements: vec![0, 1], treatment: Treatment::Sunk }));
    ask(&mut harness, Command::Edit(Edit::Depth(Mm::new(4.0))));
    harness.get_by_label("Show relief").click();
    settle(&mut harness);
    harness
}

fn surface_in_words(harness: &Harness<App>) -> String {
    harness.get_by_label_contains("Carved surface of").accesskit_node().label().unwrap_or_default()
}

#[test]
fn the_carved_surface_says_in_words_what_the_picture_shows() {
    let folder = tempfile::tempdir().unwrap();
    let harness = pockets(&folder);
    let words = surface_in_words(&harness);
    // The floor is as deep as it was set.
    assert!(words.contains("two-pockets, deepest 4 mm"), "{words}");
    assert!(words.contains("from the reference edge, 52° up"), "{words}");
    harness.get_by_label("What the cutters leave");
    harness.get_by_label(NOT_SIMULATED);
}

#[test]
fn a_drag_and_the_keys_turn_the_board_and_home_brings_it_back() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = pockets(&folder);
    let before = surface_in_words(&harness);
    let middle = harness.get_by_label_contains("Carved surface of").rect().center();
    harness.drag_at(middle);
    harness.step();
    // A quarter turn is 1.57 / 0.008 points.
    harness.hover_at(middle - egui::vec2(196.0, 0.0));
    harness.step();
    harness.drop_at(middle - egui::vec2(196.0, 0.0));
    settle(&mut harness);
    let turned = surface_in_words(&harness);
    assert!(turned.contains("seen from the right end"), "{turned}");
    harness.key_press(Key::ArrowUp);
    settle(&mut harness);
    assert!(surface_in_words(&harness).contains("59° up"), "{}", surface_in_words(&harness));
    harness.key_press(Key::Home);
    settle(&mut harness);
    assert_eq!(surface_in_words(&harness), before);
    click(&mut harness, "From above");
    assert!(surface_in_words(&harness).contains("seen from above"));
}

#[test]
fn the_section_across_two_pockets_gives_the_wall_between_them() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = pockets(&folder);
    click(&mut harness, "Section of the carve");
    click(&mut harness, "Cut across the middle");
    // The middle of the board is the wall: nothing is carved along it.
    // Said at the line and in the panel.
    assert!(harness.query_all_by_label_contains("nothing is carved along it").count() > 0, "the wall is cut");
    // A line along the board: both pockets, one wall of 8 mm, 4 mm deep.
    click(&mut harness, "From above");
    click(&mut harness, "Draw a section");
    let canvas = harness.get_by_label_contains("Carved surface of").rect();
    let (from, to) = (canvas.center() - egui::vec2(150.0, 0.0), canvas.center() + egui::vec2(150.0, 0.0));
    harness.drag_at(from);
    harness.step();
    harness.hover_at(to);
    harness.step();
    harness.drop_at(to);
    settle(&mut harness);
    let words = harness.get_by_label_contains("Picture of the cut").accesskit_node().label().unwrap();
    assert!(words.contains("2 carved places, deepest 4 mm; 1 wall, thinnest"), "{words}");
    let thick: f64 = words.rsplit("thinnest ").next().unwrap().trim_end_matches(" mm").parse().unwrap();
    // Within a cell of the surface, 0.2 mm.
    assert!((thick - 8.0).abs() < 0.21, "{words}");
    click(&mut harness, "No section");
    assert!(harness.query_by_label_contains("Picture of the cut").is_none());
}

#[test]
fn the_clock_shows_a_surface_that_is_not_carved_yet() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = pockets(&folder);
    let total = harness.get_by_label("Clock").accesskit_node().max_numeric_value().unwrap();
    assert!(total > 60.0, "{total}");
    harness.get_by_label("Clock").set_value_accesskit(0.5 * total);
    settle(&mut harness);
    harness.get_by_label("At this moment of the carve");
    harness.get_by_label_contains(" left ");
    click(&mut harness, "Whole");
    harness.get_by_label("What the cutters leave");
    // Playing begins at the start, and can be held.
    harness.get_by_label("Play the carve").click();
    harness.step();
    harness.step();
    harness.step();
    harness.get_by_label("Pause the carve").click();
    settle(&mut harness);
    let second = harness.get_by_label("Clock").accesskit_node().numeric_value().unwrap();
    assert!(second > 0.0 && second < total, "{second} of {total}");
}

#[test]
fn a_timed_carve_sets_the_machine_right_and_undo_takes_it_back() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = pockets(&folder);
    let total = harness.get_by_label("Clock").accesskit_node().max_numeric_value().unwrap();
    let typed = |harness: &mut Harness<App>, text: &str| {
        harness.get_by_role_and_label(Role::TextInput, "How long the carve took").focus();
        harness.step();
        harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
        harness.step();
        harness.get_by_role_and_label(Role::TextInput, "How long the carve took").type_text(text);
        harness.step();
        harness.key_press(Key::Enter);
        settle(harness);
    };
    typed(&mut harness, "soon");
    harness.get_by_label_contains("is not a time: type minutes");
    assert_eq!(harness.state().job().unwrap().machine().time_factor, 1.0);
    typed(&mut harness, &format!("{:.0} s", 1.5 * total));
    let factor = harness.state().job().unwrap().machine().time_factor;
    assert!((factor - 1.5).abs() < 0.01, "{factor}");
    let after = harness.get_by_label("Clock").accesskit_node().max_numeric_value().unwrap();
    assert!((after / total - 1.5).abs() < 0.01, "{after} for {total}");
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(&mut harness);
    assert_eq!(harness.state().job().unwrap().machine().time_factor, 1.0);
}

#[test]
fn passes_are_drawn_over_the_board_with_a_legend() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = pockets(&folder);
    click(&mut harness, "Show board");
    assert!(harness.query_by_label_contains("clearing lines along").is_none());
    click(&mut harness, "Show passes");
    harness.get_by_label_contains("clearing lines along");
    ask(&mut harness, Command::TogglePasses);
    assert!(harness.query_by_label_contains("clearing lines along").is_none());
}

#[test]
fn each_edit_of_the_clearing_is_one_step_that_can_be_taken_back() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = pockets(&folder);
    click(&mut harness, "Clearing…");
    click(&mut harness, "Clearing lines across");
    assert_eq!(harness.state().job().unwrap().clearing().direction, ClearingDirection::Across);
    harness.get_by_label("Larger clearing cutter").click();
    harness.run_ok();
    click(&mut harness, "Flat end, 1/4 in");
    let clearing = harness.state().job().unwrap().clearing().clone();
    assert_eq!(clearing.cutter.as_ref().map(|cutter| cutter.name.as_str()), Some("Flat end, 1/4 in"));
    // Both cutters are at work, and what they take is told apart.
    harness.get_by_label_contains("changing the cutter");
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(&mut harness);
    let clearing = harness.state().job().unwrap().clearing().clone();
    assert_eq!((clearing.cutter, clearing.direction), (None, ClearingDirection::Across));
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(&mut harness);
    assert!(harness.state().job().unwrap().clearing().is_usual());
}

#[test]
fn a_finding_is_gone_to_on_the_surface() {
    let mut harness = started(vec![], vec![]);
    ask(&mut harness, Command::Show(Middle::Relief));
    let id = harness.state().proof().unwrap().findings[0].id.clone();
    ask(&mut harness, Command::GoTo(id));
    // Its mark is near the middle of the surface now.
    let canvas = harness.get_by_label_contains("Carved surface of").rect();
    let mark = harness.get_by_label_contains("Mark 1 ").rect();
    let off = mark.center() + egui::vec2(0.0, 26.0) - canvas.center();
    assert!(off.length() < 3.0, "the mark is {off:?} off the middle");
}

#[test]
fn carving_is_stopped_and_goes_on() {
    let mut harness = started(vec![], vec![]);
    harness.state_mut().ask(Command::Show(Middle::Relief));
    harness.step();
    harness.step();
    // Whatever the threads have brought by now, the work on this job is at an end.
    harness.state_mut().ask(Command::CancelWork);
    settle(&mut harness);
    if harness.query_by_label("Resume").is_some() {
        click(&mut harness, "Resume");
    }
    harness.get_by_label("What the cutters leave");
}
