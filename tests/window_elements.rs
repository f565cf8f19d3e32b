//! The elements of a design in the window: list, edits, lettering, and what a file leaves open; by label, as
//! in `window.rs`.

use super::support::rectangle;
use super::window::{ask, click, settle, started, type_into, undo};
use eframe::egui;
use egui::accesskit::Toggled;
use egui::{Key, Modifiers, Role};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use glam::dvec2;
use spelk::app::{App, Choice, Command, ElementCommand};
use spelk::design::{DrawingUnit, ReadOptions};
use spelk::job::{Edit, Size, Treatment};
use spelk::shop::CutterShape;
use spelk::units::{LengthUnit, Mm};
use std::fmt::Write as _;

/// A plate with a peg on it, and a bar beside it.
const PLATE: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="80mm" viewBox="0 0 200 80">
  <rect id="plate" x="0" y="0" width="100" height="80"/>
  <rect id="peg" x="40" y="30" width="20" height="20"/>
  <rect id="bar" x="120" y="0" width="80" height="80"/>
</svg>"#;

/// No size is stated, and a line does not close.
const UNSTATED: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 300 100">
  <rect id="rim" x="0" y="0" width="300" height="100"/>
</svg>"#;

fn opened(drawing: &str) -> Harness<'static, App> {
    let mut harness = started(vec![], vec![]);
    ask(&mut harness, Command::OpenBytes { name: "piece.svg".into(), bytes: drawing.into() });
    harness
}

fn names(harness: &Harness<App>) -> Vec<String> {
    let elements = &harness.state().job().unwrap().design().elements;
    elements.iter().map(|element| element.name.clone()).collect()
}

fn area(harness: &Harness<App>, name: &str) -> f64 {
    let elements = &harness.state().job().unwrap().design().elements;
    elements.iter().find(|element| element.name == name).unwrap().region.area()
}

fn element(harness: &mut Harness<App>, name: &str) {
    harness.get_by_role_and_label(Role::ListBoxOption, &format!("Element {name}")).click();
    settle(harness);
}

fn beside(harness: &mut Harness<App>, name: &str) {
    let label = format!("Element {name}");
    let row = harness.get_by_role_and_label(Role::ListBoxOption, &label);
    row.click_modifiers(Modifiers::COMMAND);
    settle(harness);
}

fn from_menu(harness: &mut Harness<App>, label: &str) {
    harness.get_by_role_and_label(Role::Button, "Design").click();
    harness.run_ok();
    // The menu comes before what else may be called so; its entries have their keys beside them.
    harness.get_all_by_label_contains(label).next().unwrap().click();
    settle(harness);
}

/// An entry under *Choose more*.
fn choose_more(harness: &mut Harness<App>, label: &str) {
    harness.get_by_role_and_label(Role::Button, "Design").click();
    harness.run_ok();
    harness.get_by_label_contains("Choose more").click();
    harness.run_ok();
    harness.get_by_label_contains(label).click();
    settle(harness);
}

fn said(harness: &Harness<App>, words: &str) -> bool {
    harness.state().messages().iter().any(|message| message.text.contains(words))
}

#[test]
fn the_list_and_the_board_choose_the_same_element() {
    let mut harness = opened(PLATE);
    element(&mut harness, "bar");
    assert_eq!(harness.state().chosen_elements(), ["bar"]);
    // On the board: the peg lies on top of the plate, and both are in the middle of the canvas's left half.
    let board = harness.get_by_label_contains("Board 609.6 mm by").rect();
    let (center, scale) = harness.state().looking_at().unwrap();
    let on_screen = |x: f64, y: f64| {
        let off = (dvec2(x, y) - center) * scale;
        board.center() + egui::vec2(off.x as f32, -off.y as f32)
    };
    // The design lies in the middle of the board, 609.6 by 203.2.
    let from_middle = |x: f64, y: f64| on_screen(304.8 + x, 101.6 + y);
    let press = |harness: &mut Harness<App>, at: egui::Pos2| {
        harness.drag_at(at);
        harness.drop_at(at);
        settle(harness);
    };
    press(&mut harness, from_middle(-50.0, 0.0));
    assert_eq!(harness.state().chosen_elements(), ["peg"]);
    let row = harness.get_by_role_and_label(Role::ListBoxOption, "Element peg");
    assert_eq!(row.accesskit_node().toggled(), Some(Toggled::True));
    press(&mut harness, from_middle(-90.0, 0.0));
    assert_eq!(harness.state().chosen_elements(), ["plate"]);
    press(&mut harness, from_middle(10.0, 0.0));
    assert!(harness.state().chosen_elements().is_empty(), "between them there is nothing");
}

#[test]
fn a_box_on_the_board_chooses_what_lies_in_it() {
    let mut harness = opened(PLATE);
    let board = harness.get_by_label_contains("Board 609.6 mm by").rect();
    let (center, scale) = harness.state().looking_at().unwrap();
    let on_screen = |x: f64, y: f64| {
        let off = (dvec2(304.8 + x, 101.6 + y) - center) * scale;
        board.center() + egui::vec2(off.x as f32, -off.y as f32)
    };
    let boxed = |harness: &mut Harness<App>, from: egui::Pos2, to: egui::Pos2| {
        harness.event(egui::Event::ModifiersChanged(Modifiers::SHIFT));
        harness.hover_at(from);
        harness.step();
        harness.drag_at(from);
        harness.step();
        harness.hover_at(from + (to - from) * 0.5);
        harness.step();
        harness.hover_at(to);
        harness.step();
        harness.drop_at(to);
        harness.step();
        harness.event(egui::Event::ModifiersChanged(Modifiers::NONE));
        settle(harness);
    };
    let before = harness.state().looking_at();
    // Round the plate with its peg, and over half of the bar.
    boxed(&mut harness, on_screen(-105.0, 45.0), on_screen(50.0, -45.0));
    assert_eq!(harness.state().chosen_elements(), ["plate", "peg"]);
    // Another box adds to it.
    boxed(&mut harness, on_screen(105.0, -45.0), on_screen(15.0, 45.0));
    assert_eq!(harness.state().chosen_elements(), ["plate", "peg", "bar"]);
    assert_eq!(harness.state().looking_at(), before, "the board stayed");
}

#[test]
fn an_element_is_renamed_in_its_place_and_keeps_how_it_is_carved() {
    let mut harness = opened(PLATE);
    element(&mut harness, "peg");
    ask(&mut harness, Command::Edit(Edit::Treat { elements: vec![1], treatment: Treatment::Sunk }));
    harness.key_press(Key::F2);
    settle(&mut harness);
    type_into(&mut harness, "Name of the element", "dowel");
    assert_eq!(names(&harness), ["plate", "dowel", "bar"]);
    assert_eq!(harness.state().job().unwrap().carvings()[1].treatment, Treatment::Sunk);
    assert_eq!(harness.state().chosen_elements(), ["dowel"]);
    // Escape leaves the name as it is.
    harness.key_press(Key::F2);
    settle(&mut harness);
    harness.get_by_role_and_label(Role::TextInput, "Name of the element").type_text("x");
    harness.key_press(Key::Escape);
    settle(&mut harness);
    assert_eq!(names(&harness), ["plate", "dowel", "bar"]);
    click(&mut harness, "Edit");
    harness.get_by_label_contains("Undo rename");
    harness.key_press(Key::Escape);
    undo(&mut harness);
    assert_eq!(names(&harness), ["plate", "peg", "bar"]);
}

/// By the handle in the middle they are moved, by those at the corners resized about their middle; each is one step.
#[test]
fn chosen_elements_are_moved_and_resized_by_handles() {
    let mut harness = opened(PLATE);
    let (_, scale) = harness.state().looking_at().unwrap();
    let drag = |harness: &mut Harness<App>, from: egui::Pos2, by: egui::Vec2| {
        harness.drag_at(from);
        harness.run_ok();
        harness.hover_at(from + by * 0.5);
        harness.run_ok();
        harness.hover_at(from + by);
        harness.run_ok();
        harness.drop_at(from + by);
        settle(harness);
    };
    let bounds = |harness: &Harness<App>| {
        let design = harness.state().job().unwrap().design().clone();
        design.elements.iter().find(|element| element.name == "bar").unwrap().region.bounds().unwrap()
    };
    assert!(harness.query_by_label("Move the chosen elements").is_none(), "nothing is chosen");
    element(&mut harness, "bar");
    let before = bounds(&harness);
    let middle = harness.get_by_role_and_label(Role::Button, "Move the chosen elements").rect().center();
    drag(&mut harness, middle, egui::vec2(30.0, -12.0));
    let moved = (bounds(&harness).center() - before.center()) * scale;
    assert!((moved - dvec2(30.0, 12.0)).length() < 1.0, "{moved}");
    // The size on the board stays as it was.
    let corner = harness.get_all_by_label("Resize the chosen elements").map(|handle| handle.rect().center());
    let corner = corner.max_by(|a, b| (a.x - a.y).total_cmp(&(b.x - b.y))).unwrap();
    let now = bounds(&harness);
    let middle = harness.get_by_role_and_label(Role::Button, "Move the chosen elements").rect().center();
    drag(&mut harness, corner, corner - middle);
    let resized = bounds(&harness);
    assert!((resized.size() / now.size() - 2.0).abs().max_element() < 0.05, "{resized:?} of {now:?}");
    assert!((resized.center() - now.center()).length() < 0.05);
    undo(&mut harness);
    undo(&mut harness);
    assert_eq!(bounds(&harness), before);
    // Of the design as a whole place and size are the job's own.
    from_menu(&mut harness, "Choose all");
    assert!(harness.query_by_label("Move the chosen elements").is_none());
}

#[test]
fn elements_are_resized_and_grown_by_numbers() {
    let mut harness = opened(PLATE);
    let area = |harness: &Harness<App>| area(harness, "peg");
    element(&mut harness, "peg");
    from_menu(&mut harness, "Resize…");
    harness.get_by_label("Resizes peg, about the middle of all that is chosen");
    click(&mut harness, "Resize now");
    assert!((area(&harness) - 400.0 * 1.21).abs() < 0.1, "{}", area(&harness));
    assert!(said(&harness, "Made peg 110 % as large"));
    undo(&mut harness);
    from_menu(&mut harness, "Grow or shrink…");
    type_into(&mut harness, "Outwards", "-2");
    click(&mut harness, "Grow or shrink now");
    assert!((area(&harness) - 256.0).abs() < 0.1, "{}", area(&harness));
    assert!(said(&harness, "Shrank peg"));
}

#[test]
fn what_is_hidden_is_carved_all_the_same_and_that_is_said() {
    let mut harness = opened(PLATE);
    let before = harness.state().job().unwrap().clone();
    click(&mut harness, "Hide peg");
    harness.get_by_label("1 element is hidden, but carved");
    assert!(*harness.state().job().unwrap() == before, "hiding changed the job");
    click(&mut harness, "Show all again");
    assert!(harness.query_by_label_contains("is hidden, but").is_none(), "it is still said");
}

/// Two hundred leaves, each with an id of its own: all are listed, found by name, chosen together and split.
#[test]
fn a_drawing_of_many_parts_is_listed_whole() {
    let mut drawing = String::from(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="420mm" height="100mm" viewBox="0 0 420 100">"#,
    );
    for index in 1..=200 {
        let (x, y) = (4 * ((index - 1) % 100), 40 * ((index - 1) / 100));
        write!(drawing, r#"<rect id="leaf-{index}" x="{x}" y="{y}" width="2" height="30"/>"#).unwrap();
    }
    drawing += r#"<path id="eyes" d="M405 0h4v4h-4zM412 0h4v4h-4z"/></svg>"#;
    let mut harness = opened(&drawing);
    assert_eq!(names(&harness).len(), 201);
    type_into(&mut harness, "Find by name", "leaf-17");
    let rows = harness
        .get_all_by_role(Role::ListBoxOption)
        .filter(|row| row.accesskit_node().label().is_some_and(|label| label.starts_with("Element ")));
    assert!(rows.count() <= 11, "leaf-17 and leaf-170 to leaf-179");
    click(&mut harness, "Choose these");
    assert_eq!(harness.state().chosen_elements().len(), 11);
    choose_more(&mut harness, "Choose alike");
    assert_eq!(harness.state().chosen_elements().len(), 200, "every leaf, and not the eyes");
    type_into(&mut harness, "Find by name", "eyes");
    element(&mut harness, "eyes");
    from_menu(&mut harness, "Split");
    assert_eq!(names(&harness).len(), 202);
    assert_eq!(harness.state().chosen_elements(), ["eyes 1", "eyes 2"]);
    undo(&mut harness);
    assert_eq!(names(&harness).len(), 201);
}

#[test]
fn elements_are_combined_cut_out_and_removed() {
    let mut harness = opened(PLATE);
    assert!((area(&harness, "plate") - 7600.0).abs() < 0.1, "{}", area(&harness, "plate"));
    element(&mut harness, "plate");
    beside(&mut harness, "bar");
    from_menu(&mut harness, "Combine");
    assert_eq!(names(&harness), ["peg", "plate"]);
    assert!((area(&harness, "plate") - 7600.0 - 6400.0).abs() < 0.1, "{}", area(&harness, "plate"));
    undo(&mut harness);
    // The peg with 2 mm round it: four strips and the quarters of a disc.
    element(&mut harness, "plate");
    beside(&mut harness, "peg");
    from_menu(&mut harness, "Cut out…");
    harness.get_by_label("Cuts peg out of plate");
    type_into(&mut harness, "Cut-out margin", "2");
    click(&mut harness, "Cut out now");
    settle(&mut harness);
    let hole = 400.0 + 4.0 * 40.0 + std::f64::consts::PI * 4.0;
    assert!((area(&harness, "plate") - (8000.0 - hole)).abs() < 0.1, "{}", area(&harness, "plate"));
    undo(&mut harness);
    // Removed, the plate under it is whole again.
    element(&mut harness, "peg");
    harness.key_press(Key::Delete);
    settle(&mut harness);
    assert_eq!(names(&harness), ["plate", "bar"]);
    assert!((area(&harness, "plate") - 8000.0).abs() < 0.1, "{}", area(&harness, "plate"));
    assert!(said(&harness, "Removed peg"), "no word");
}

#[test]
fn elements_are_moved_mirrored_and_repeated_as_carved() {
    let mut harness = opened(PLATE);
    // Twice as large as drawn: 20 mm on the board are 10 mm in the drawing.
    ask(&mut harness, Command::Edit(Edit::Size(Size::Factor(2.0))));
    let left = |harness: &Harness<App>, index: usize| {
        harness.state().job().unwrap().design().elements[index].region.bounds().unwrap().min.x
    };
    element(&mut harness, "peg");
    from_menu(&mut harness, "Move…");
    type_into(&mut harness, "Move along", "20");
    click(&mut harness, "Move now");
    settle(&mut harness);
    assert!((left(&harness, 1) - 50.0).abs() < 1e-3, "{}", left(&harness, 1));
    assert!((area(&harness, "plate") - 7600.0).abs() < 0.1, "{}", area(&harness, "plate"));
    undo(&mut harness);
    from_menu(&mut harness, "Move…");
    element(&mut harness, "bar");
    from_menu(&mut harness, "Repeat…");
    harness.get_by_label("Repeats bar; the copies belong to it");
    type_into(&mut harness, "Apart along", "40");
    click(&mut harness, "Repeat now");
    settle(&mut harness);
    // Two bars 80 mm long and 20 mm apart.
    let bar = harness.state().job().unwrap().design().elements[2].region.bounds().unwrap();
    assert!((bar.size() - dvec2(180.0, 80.0)).abs().max_element() < 1e-3, "{bar:?}");
    assert!((area(&harness, "bar") - 12_800.0).abs() < 0.1, "{}", area(&harness, "bar"));
    undo(&mut harness);
    ask(&mut harness, ElementCommand::Choose(0, Choice::Only));
    ask(&mut harness, ElementCommand::Choose(2, Choice::UpTo));
    from_menu(&mut harness, "Mirror left to right");
    assert!((left(&harness, 2) - 0.0).abs() < 1e-3, "the bar is on the left now: {}", left(&harness, 2));
}

#[test]
fn a_ground_and_a_border_are_added_and_chosen() {
    let mut harness = opened(PLATE);
    from_menu(&mut harness, "Ground…");
    type_into(&mut harness, "Ground margin", "10");
    type_into(&mut harness, "Ground corner", "0");
    click(&mut harness, "Add ground now");
    settle(&mut harness);
    assert_eq!(names(&harness)[0], "ground");
    assert_eq!(harness.state().job().unwrap().carvings()[0].treatment, Treatment::Sunk);
    assert_eq!(harness.state().chosen_elements(), ["ground"]);
    let size = harness.state().job().unwrap().design().outline_box().size();
    assert!((size - dvec2(220.0, 100.0)).abs().max_element() < 1e-3, "{size}");
    undo(&mut harness);
    from_menu(&mut harness, "Border…");
    type_into(&mut harness, "Border margin", "5");
    type_into(&mut harness, "Border width", "3");
    type_into(&mut harness, "Border corner", "0");
    click(&mut harness, "Add border now");
    settle(&mut harness);
    assert!(
        (area(&harness, "border") - (216.0 * 96.0 - 210.0 * 90.0)).abs() < 0.1,
        "{}",
        area(&harness, "border")
    );
}

#[test]
fn an_element_has_its_own_depth_and_cutter() {
    let mut harness = opened(PLATE);
    ask(&mut harness, Command::Edit(Edit::Treat { elements: vec![1, 2], treatment: Treatment::Sunk }));
    element(&mut harness, "peg");
    type_into(&mut harness, "Depth of the chosen", "6");
    let job = harness.state().job().unwrap();
    assert_eq!((job.carvings()[1].depth, job.carvings()[2].depth), (Some(Mm::new(6.0)), None));
    harness.get_by_role_and_label(Role::ComboBox, "Cutter of the chosen").click();
    harness.run_ok();
    let other = spelk::shop::Shop::built_in()
        .cutters
        .into_iter()
        .find(|cutter| cutter.id != harness.state().job().unwrap().cutter().id);
    let other = other.unwrap();
    click(&mut harness, &other.name);
    settle(&mut harness);
    let own = harness.state().job().unwrap().carvings()[1].cutter.clone();
    assert_eq!(own.map(|cutter| cutter.id), Some(other.id));
    click(&mut harness, "Depth as the job");
    settle(&mut harness);
    assert_eq!(harness.state().job().unwrap().carvings()[1].depth, None);
}

#[test]
fn words_are_added_and_edited_again() {
    let mut harness = opened(PLATE);
    harness.key_press(Key::T);
    settle(&mut harness);
    type_words(&mut harness, "Hinge");
    type_into(&mut harness, "Capital height", "20");
    click(&mut harness, "Add words");
    settle(&mut harness);
    assert_eq!(names(&harness), ["plate", "peg", "bar", "Hinge"]);
    let job = harness.state().job().unwrap();
    assert_eq!(job.lettering()["Hinge"].cap_height, Mm::new(20.0));
    let words = job.design().elements[3].region.bounds().unwrap();
    // Below the drawing, half a capital from it.
    assert!((words.max.y + 10.0).abs() < 1.0, "{words:?}");
    let middle = words.center().x;
    harness.get_by_role_and_label(Role::ListBoxOption, "Element Hinge");
    from_menu(&mut harness, "Edit words…");
    type_words(&mut harness, "Hasp");
    click(&mut harness, "Change words");
    settle(&mut harness);
    assert_eq!(names(&harness), ["plate", "peg", "bar", "Hasp"]);
    let job = harness.state().job().unwrap();
    assert_eq!(job.lettering().keys().collect::<Vec<_>>(), ["Hasp"]);
    let words = job.design().elements[3].region.bounds().unwrap();
    assert!((words.center().x - middle).abs() < 3.0, "{} is not about {middle}", words.center().x);
    undo(&mut harness);
    assert_eq!(names(&harness)[3], "Hinge");
}

#[test]
fn words_on_a_standing_plate_are_cut_into_it_unless_chosen_otherwise() {
    let mut harness = opened(PLATE);
    ask(&mut harness, ElementCommand::Choose(1, Choice::Only));
    from_menu(&mut harness, "Remove");
    ask(&mut harness, ElementCommand::Choose(1, Choice::Only));
    from_menu(&mut harness, "Remove");
    harness.key_press(Key::T);
    settle(&mut harness);
    type_words(&mut harness, "Inn");
    click(&mut harness, "In the middle");
    click(&mut harness, "Add words");
    settle(&mut harness);
    assert_eq!(names(&harness), ["plate", "Inn"]);
    // The sample's cutter has no point.
    let job = harness.state().job().unwrap();
    assert!(!matches!(job.cutter().shape, CutterShape::Vee { .. }), "{:?}", job.cutter().shape);
    assert_eq!(job.carvings()[1].treatment, Treatment::Sunk);
    // In relief they would not show, and that is said.
    let relief = Edit::Treat { elements: vec![1], treatment: Treatment::Relief };
    ask(&mut harness, Command::Edit(relief));
    settle(&mut harness);
    harness.get_all_by_label_contains("Inn will not show").next().unwrap();
}

#[test]
fn what_is_covered_whole_is_gone_and_that_is_said() {
    let mut harness = opened(PLATE);
    element(&mut harness, "peg");
    from_menu(&mut harness, "Move…");
    type_into(&mut harness, "Move along", "100");
    click(&mut harness, "Move now");
    settle(&mut harness);
    assert_eq!(names(&harness), ["plate", "bar"]);
    assert!(said(&harness, "Moved peg. peg lies wholly under another and is gone"), "no word");
    undo(&mut harness);
    assert_eq!(names(&harness), ["plate", "peg", "bar"]);
}

#[test]
fn a_file_is_let_go_once_its_elements_are_changed_and_that_is_said_once() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("piece.svg");
    std::fs::write(&file, PLATE).unwrap();
    let mut harness = started(vec![], vec![]);
    ask(&mut harness, Command::Open(file));
    settle(&mut harness);
    let told = |harness: &Harness<App>| {
        let messages = harness.state().messages().iter();
        messages.filter(|message| message.text.contains("If piece.svg changes now")).count()
    };
    element(&mut harness, "peg");
    for _ in 0..2 {
        ask(&mut harness, ElementCommand::Move([Mm::new(5.0), Mm::ZERO]));
        settle(&mut harness);
        assert_eq!(told(&harness), 1);
    }
}

/// Types into the field of several lines.
fn type_words(harness: &mut Harness<App>, words: &str) {
    harness.get_by_role_and_label(Role::MultilineTextInput, "Words").focus();
    harness.step();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.step();
    harness.get_by_role_and_label(Role::MultilineTextInput, "Words").type_text(words);
    settle(harness);
}

#[test]
fn raised_letters_are_held_against_the_standard() {
    let mut harness = opened(PLATE);
    harness.key_press(Key::T);
    settle(&mut harness);
    type_words(&mut harness, "EXIT");
    click(&mut harness, "Check as raised letters on a public sign");
    settle(&mut harness);
    // A capital of an inch is between the 5/8 in and 2 in of section 703.2.5.
    harness.get_by_label("Holds. Height of a capital I: 1 in (0.625 to 2 in; 703.2.5)");
    harness.get_by_label_contains("2010 ADA Standards");
    type_into(&mut harness, "Capital height", "10");
    harness.get_by_label_contains("Fails. Height of a capital I: 0.394 in");
}

#[test]
fn a_job_of_words_alone_is_begun() {
    let mut harness = started(vec![], vec![]);
    harness.key_press_modifiers(Modifiers::COMMAND, Key::N);
    settle(&mut harness);
    type_words(&mut harness, "OAR");
    click(&mut harness, "Arch");
    click(&mut harness, "Open as a job");
    settle(&mut harness);
    let job = harness.state().job().unwrap();
    assert_eq!((names(&harness).as_slice(), job.design().name.as_str()), (&["OAR".to_owned()][..], "OAR"));
    assert!(job.lettering()["OAR"].arc.is_some(), "straight");
    assert!(harness.state().proof().unwrap().length > Mm::ZERO, "no proof");
}

#[test]
fn a_font_is_found_by_its_name() {
    let mut harness = opened(PLATE);
    harness.key_press(Key::T);
    settle(&mut harness);
    type_into(&mut harness, "Letters of the font's name", "ubuntu light");
    click(&mut harness, "Ubuntu Light");
    type_into(&mut harness, "Letters of the font's name", "no such font");
    harness.get_by_label("No font on this machine has that name");
}

#[test]
fn a_drawing_of_no_stated_size_is_asked_about_once() {
    let mut harness = opened(UNSTATED);
    harness.get_by_label("How large is this drawing?");
    ask(&mut harness, Command::UseUnit(LengthUnit::Millimetres));
    harness.get_by_label("Pixels, 1/96 in: 79.4 × 26.5 mm");
    harness.get_by_label("Inches: 7620 × 2540 mm");
    click(&mut harness, "Millimetres: 300 × 100 mm");
    settle(&mut harness);
    assert!(harness.query_by_label("How large is this drawing?").is_none(), "it asks again");
    let job = harness.state().job().unwrap();
    assert!((job.design().outline_box().size().x - 300.0).abs() < 1e-3, "{:?}", job.design().outline_box());
    assert_eq!(job.reading().unit, Some(DrawingUnit::Millimetre));
    undo(&mut harness);
    let job = harness.state().job().unwrap();
    assert!((job.design().outline_box().size().x - 79.375).abs() < 1e-3, "{:?}", job.design().outline_box());
    assert_eq!(job.reading(), ReadOptions::default());
    assert!(harness.query_by_label("How large is this drawing?").is_none(), "it asks again after undo");
}

#[test]
fn a_drawing_of_no_stated_size_stays_as_it_was_read_with_escape_and_can_be_asked_about_later() {
    let mut harness = opened(UNSTATED);
    let before = harness.state().job().unwrap().clone();
    harness.key_press(Key::Escape);
    settle(&mut harness);
    assert!(harness.query_by_label("How large is this drawing?").is_none(), "it is still asked");
    assert!(*harness.state().job().unwrap() == before, "the job was changed");
    from_menu(&mut harness, "Size of the drawing…");
    harness.get_by_label("How large is this drawing?");
}

#[test]
fn the_unit_that_was_chosen_is_used_when_the_drawing_is_read_again_and_saved_with_the_job() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("rim.svg");
    std::fs::write(&path, UNSTATED).unwrap();
    let mut harness = started(vec![path.clone()], vec![]);
    click(&mut harness, "Points, 1/72 in: 105.8 × 35.3 mm");
    settle(&mut harness);
    std::fs::write(&path, UNSTATED.replace("width=\"300\"", "width=\"144\"")).unwrap();
    super::window::until(&mut harness, |app| {
        app.messages().iter().any(|m| m.text.contains("since it changed on disk"))
    });
    settle(&mut harness);
    let length = harness.state().job().unwrap().design().outline_box().size().x;
    assert!((length - 50.8).abs() < 1e-3, "144 points are 2 in, not {length} mm");
    let job = harness.state().job().unwrap();
    let text = spelk::job::saved::to_text(job);
    assert_eq!(spelk::job::saved::from_text(text.as_bytes()).unwrap().reading(), job.reading());
}

#[test]
fn specks_go_with_a_click() {
    let mut harness = opened(&PLATE.replace(
        "</svg>",
        r#"<path id="dust" d="M102 0 h10 v10 h-10 z M102 30 h0.05 v0.05 h-0.05 z"/></svg>"#,
    ));
    assert!((area(&harness, "dust") - 100.0025).abs() < 1e-4, "{}", area(&harness, "dust"));
    click(&mut harness, "Remove 1 speck");
    settle(&mut harness);
    assert!((area(&harness, "dust") - 100.0).abs() < 1e-4, "{}", area(&harness, "dust"));
    assert!(said(&harness, "Removed 1 speck or sliver"), "{:?}", harness.state().messages());
    assert!(harness.query_by_label_contains("Remove 1 speck").is_none(), "it is still offered");
    undo(&mut harness);
    harness.get_by_label("Remove 1 speck");
}

#[test]
fn open_outlines_become_lines_with_a_click() {
    let line = r#"<path id="line" d="M105 -20 h100" fill="none" stroke="black" stroke-width="0.01"/></svg>"#;
    let mut harness = opened(&PLATE.replace("</svg>", line).replace("0 0 200 80", "0 -80 200 160"));
    let before = area(&harness, "line");
    assert!(before < 2.0, "{before}");
    click(&mut harness, "Carve 1 open outline as lines");
    settle(&mut harness);
    // A stadium as wide as the cutter, 1/8 in; 100 mm long at half the size, for the view box is twice as tall.
    let (long, wide) = (50.0, 3.175_f64);
    let expected = long * wide + std::f64::consts::PI * wide * wide / 4.0;
    assert!((area(&harness, "line") - expected).abs() < 0.1, "{} is not {expected}", area(&harness, "line"));
    assert!(harness.query_by_label_contains("open outline as").is_none(), "it is still offered");
    undo(&mut harness);
    assert!((area(&harness, "line") - before).abs() < 1e-6, "{}", area(&harness, "line"));
}

/// A drawing of sixty elements with long names.
pub(crate) fn sixty() -> String {
    let mut drawing = String::from(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="150mm" viewBox="0 0 300 150">"#,
    );
    for index in 0..60 {
        let corner = rectangle(f64::from(index % 12) * 25.0, f64::from(index / 12) * 30.0, 20.0, 25.0)[0];
        write!(
            drawing,
            r#"<rect id="a-panel-with-a-very-long-name-number-{index}" x="{}" y="{}" width="20" height="25"/>"#,
            corner.x, corner.y
        )
        .unwrap();
    }
    drawing.push_str("</svg>");
    drawing
}

#[test]
fn a_long_list_is_walked_with_the_keys() {
    let mut harness = opened(&sixty());
    let name = |index: usize| format!("a-panel-with-a-very-long-name-number-{index}");
    element(&mut harness, &name(0));
    for _ in 0..9 {
        harness.key_press(Key::ArrowDown);
        settle(&mut harness);
    }
    assert_eq!(harness.state().chosen_elements(), [name(9)]);
    harness.get_by_role_and_label(Role::ListBoxOption, &format!("Element {}", name(9)));
    harness.key_press_modifiers(Modifiers::SHIFT, Key::ArrowDown);
    settle(&mut harness);
    assert_eq!(harness.state().chosen_elements(), [name(9), name(10)]);
    // All chosen ones at once.
    harness.get_by_label("Treatment of the chosen").click();
    harness.run_ok();
    click(&mut harness, "Sunk");
    settle(&mut harness);
    let job = harness.state().job().unwrap();
    let sunk = job.treatments().filter(|treatment| *treatment == Treatment::Sunk).count();
    assert_eq!(sunk, 2);
}

/// A sign with letters in rows, by colours, and a rim.
const GROUPED: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="80mm" viewBox="0 0 200 80">
  <g id="sign"><g id="upper" fill="#7a5534"><rect x="10" y="5" width="20" height="20"/></g>
    <g id="lower" fill="#4a3020"><rect x="10" y="50" width="20" height="20"/></g></g>
  <rect id="rim" x="100" y="0" width="80" height="80" fill="#7a5534"/>
</svg>"##;

fn group(harness: &Harness<App>, name: &str) -> bool {
    harness.query_by_role_and_label(Role::ListBoxOption, name).is_some()
}

#[test]
fn the_groups_of_the_drawing_are_chosen_closed_and_treated_as_one() {
    let mut harness = opened(GROUPED);
    assert_eq!(names(&harness), ["sign / upper", "sign / lower", "rim"]);
    harness.get_by_role_and_label(Role::ListBoxOption, "Group sign, 2 elements").click();
    settle(&mut harness);
    assert_eq!(harness.state().chosen_elements(), ["sign / upper", "sign / lower"]);
    // With the keys: into the group, and back to it, and closed.
    harness.key_press(Key::ArrowDown);
    settle(&mut harness);
    assert_eq!(harness.state().chosen_elements(), ["sign / upper"]);
    harness.key_press(Key::ArrowUp);
    settle(&mut harness);
    harness.key_press(Key::ArrowLeft);
    settle(&mut harness);
    assert!(!group(&harness, "Element sign / upper"), "the group is closed");
    harness.key_press(Key::ArrowDown);
    settle(&mut harness);
    assert_eq!(harness.state().chosen_elements(), ["rim"], "the keys pass over what is closed");
    click(&mut harness, "Open the group sign");
    assert!(group(&harness, "Element sign / upper"));
    click(&mut harness, "Close the group sign");
    // What is chosen on the board is found again in the list.
    ask(&mut harness, Command::Element(ElementCommand::Choose(1, Choice::Only)));
    assert!(group(&harness, "Element sign / lower"), "its group opens");
    harness.get_by_label("Treatment of the group sign").click();
    harness.run_ok();
    click(&mut harness, "Sunk");
    settle(&mut harness);
    let treatments: Vec<Treatment> = harness.state().job().unwrap().treatments().collect();
    assert_eq!(treatments, [Treatment::Sunk, Treatment::Sunk, Treatment::Relief]);
    // Its eye hides what is left of it, then shows all.
    click(&mut harness, "Hide sign / lower");
    click(&mut harness, "Hide the group sign");
    harness.get_by_label("2 elements are hidden, but carved");
    click(&mut harness, "Show the group sign");
    assert!(harness.query_by_label_contains("hidden, but carved").is_none(), "all are shown again");
    ask(&mut harness, Command::Element(ElementCommand::Choose(0, Choice::Only)));
    choose_more(&mut harness, "Choose its colour");
    assert_eq!(harness.state().chosen_elements(), ["sign / upper", "rim"]);
    ask(&mut harness, Command::Element(ElementCommand::Choose(0, Choice::Only)));
    choose_more(&mut harness, "Choose its group");
    assert_eq!(harness.state().chosen_elements(), ["sign / upper", "sign / lower"]);
    // Both are saved with the job.
    let text = spelk::job::saved::to_text(harness.state().job().unwrap());
    assert!(text.contains("\"version\": 7") && text.contains("#7a5534"), "{text}");
    let back = spelk::job::saved::from_text(text.as_bytes()).unwrap();
    assert_eq!(spelk::job::saved::to_text(&back), text);
}

/// As many parts as a drawing may have, in groups of a hundred and two colours.
#[test]
fn thousands_of_elements_are_found_by_group_and_colour() {
    let mut drawing = String::from(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="2000mm" height="400mm" viewBox="0 0 2000 400">"#,
    );
    for row in 0..20 {
        write!(drawing, r#"<g id="row of leaves {row}">"#).unwrap();
        for index in 0..100 {
            let fill = if index % 4 == 0 { "#006400" } else { "#8b4513" };
            let (x, y) = (20 * index, 20 * row);
            write!(
                drawing,
                r#"<g id="leaf {row}-{index} in spring" fill="{fill}"><rect x="{x}" y="{y}" width="12" height="12"/></g>"#
            )
            .unwrap();
        }
        drawing += "</g>";
    }
    drawing += "</svg>";
    let mut harness = opened(&drawing);
    assert_eq!(names(&harness).len(), 2000);
    let rows = |harness: &Harness<App>| harness.get_all_by_role(Role::ListBoxOption).count();
    assert!(rows(&harness) < 40, "only rows in sight are laid out");
    harness.get_by_role_and_label(Role::ListBoxOption, "Group row of leaves 1, 100 elements").click();
    settle(&mut harness);
    assert_eq!(harness.state().chosen_elements().len(), 100);
    harness.get_by_label("Colour").click();
    harness.run_ok();
    click(&mut harness, "green #006400: 500 elements");
    click(&mut harness, "Choose these");
    assert_eq!(harness.state().chosen_elements().len(), 500);
    type_into(&mut harness, "Find by name", "leaves 19");
    click(&mut harness, "Choose these");
    assert_eq!(harness.state().chosen_elements().len(), 25, "one row's of that colour");
}

#[test]
fn one_element_has_a_row_and_nothing_more() {
    let harness = opened(&UNSTATED.replace("viewBox", r#"width="300mm" height="100mm" viewBox"#));
    harness.get_by_role_and_label(Role::ListBoxOption, "Element rim");
    assert!(harness.query_by_label("Treatment of all elements").is_none(), "there is but one");
}
