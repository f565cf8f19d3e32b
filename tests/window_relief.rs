//! The carved surface in the window: seen, cut through, played, timed; by label, as in `window.rs`.

use super::window::{ask, click, settle, started};
use eframe::egui;
use egui::{Key, Modifiers, Role};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use spelk::app::{App, Command, Middle, ScriptedDialogs, Setting};
use spelk::job::{ClearingDirection, Ends, Treatment};
use spelk::relief::NOT_SIMULATED;
use spelk::units::Mm;
use std::path::PathBuf;

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
    ask(&mut harness, Command::Set(Setting::Treatments { elements: vec![0, 1], treatment: Treatment::Sunk }));
    ask(&mut harness, Command::Set(Setting::Depth(Mm::new(4.0))));
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
    harness.get_by_label_contains(" of left, ");
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
        harness.get_by_role_and_label(Role::TextInput, "How long it really took").focus();
        harness.step();
        harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
        harness.step();
        harness.get_by_role_and_label(Role::TextInput, "How long it really took").type_text(text);
        harness.step();
        harness.key_press(Key::Enter);
        settle(harness);
    };
    typed(&mut harness, "soon");
    harness.get_by_label_contains("is no time: type minutes");
    assert_eq!(harness.state().job().unwrap().machine.time_factor, 1.0);
    typed(&mut harness, &format!("{:.0} s", 1.5 * total));
    let factor = harness.state().job().unwrap().machine.time_factor;
    assert!((factor - 1.5).abs() < 0.01, "{factor}");
    let after = harness.get_by_label("Clock").accesskit_node().max_numeric_value().unwrap();
    assert!((after / total - 1.5).abs() < 0.01, "{after} for {total}");
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(&mut harness);
    assert_eq!(harness.state().job().unwrap().machine.time_factor, 1.0);
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
    assert_eq!(harness.state().job().unwrap().clearing.direction, ClearingDirection::Across);
    harness.get_by_label("Larger clearing cutter").click();
    harness.run_ok();
    click(&mut harness, "Flat end, 1/4 in");
    let clearing = harness.state().job().unwrap().clearing.clone();
    assert_eq!(clearing.cutter.as_ref().map(|cutter| cutter.name.as_str()), Some("Flat end, 1/4 in"));
    // Both cutters are at work, and what they take is told apart.
    harness.get_by_label_contains("changing the cutter");
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(&mut harness);
    let clearing = harness.state().job().unwrap().clearing.clone();
    assert_eq!((clearing.cutter, clearing.direction), (None, ClearingDirection::Across));
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(&mut harness);
    assert!(harness.state().job().unwrap().clearing.is_usual());
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
    if harness.query_by_label("Go on").is_some() {
        click(&mut harness, "Go on");
    }
    harness.get_by_label("What the cutters leave");
}

/// Something of each kind: a sunk floor, a V that follows its width, a hole. Small, for a card in software is slow.
const SMALL: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="24mm" viewBox="0 0 60 24">
  <rect id="pocket" x="2" y="2" width="20" height="20"/>
  <ellipse id="leaf" cx="36" cy="12" rx="10" ry="3"/>
  <rect id="hole" x="50" y="6" width="8" height="12"/>
</svg>"#;

/// The window drawn by a card in software, with the carved surface on the card or by our own painter.
fn drawn(path: PathBuf, on_card: bool) -> image::RgbaImage {
    let mut harness = Harness::builder().with_size([1000.0, 600.0]).wgpu().build_eframe(move |cc| {
        let app = App::new(cc, vec![path], Box::new(ScriptedDialogs::new(vec![])), None);
        if on_card { app.trusting_any_card(cc) } else { app }
    });
    settle(&mut harness);
    let treatments = [Treatment::Sunk, Treatment::Incised, Treatment::Pierced];
    for (element, treatment) in treatments.into_iter().enumerate() {
        harness.state_mut().ask(Command::Set(Setting::Treatments { elements: vec![element], treatment }));
    }
    for setting in [
        Setting::BoardLength(Mm::new(70.0)),
        Setting::BoardWidth(Mm::new(30.0)),
        Setting::BoardThickness(Mm::new(8.0)),
        Setting::Depth(Mm::new(2.5)),
        Setting::Ends(Ends::Free),
    ] {
        ask(&mut harness, Command::Set(setting));
    }
    ask(&mut harness, Command::Show(Middle::Relief));
    harness.get_by_label("What the cutters leave");
    let canvas = harness.get_by_label_contains("Carved surface of").rect();
    let image = harness.render().unwrap();
    if let Some(folder) = std::env::var_os("SPELK_KEEP_PICTURES") {
        let name = if on_card { "card.png" } else { "painter.png" };
        image.save(std::path::Path::new(&folder).join(name)).unwrap();
    }
    let sides = [canvas.left(), canvas.top(), canvas.width(), canvas.height()];
    #[expect(clippy::cast_sign_loss, reason = "a canvas lies in its window")]
    let [x, y, width, height] = sides.map(|side| side as u32);
    image::imageops::crop_imm(&image, x, y, width, height).to_image()
}

#[test]
fn the_card_draws_what_our_own_painter_draws() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("small.svg");
    std::fs::write(&path, SMALL).unwrap();
    let (card, painter) = (drawn(path.clone(), true), drawn(path, false));
    assert_eq!(card.dimensions(), painter.dimensions());
    let far = |a: &image::Rgba<u8>, b: &image::Rgba<u8>| {
        (0..3).map(|i| a.0[i].abs_diff(b.0[i])).max().unwrap_or_default()
    };
    let all = card.width() * card.height();
    let differ = card.pixels().zip(painter.pixels()).filter(|(a, b)| far(a, b) > 24).count();
    // Edges are smooth on the card and not by our painter; everywhere else the pictures agree.
    assert!(differ as f64 <= 0.03 * f64::from(all), "{differ} of {all} pixels differ");
    // And it is a picture: wood, floor and shadow.
    let tones: std::collections::BTreeSet<u8> = card.pixels().map(|pixel| pixel.0[0] / 16).collect();
    assert!(tones.len() >= 6, "{tones:?}");
}
