//! The window in daily use: keys from one part to the next, and what is said where the eyes are.

use crate::window::{ask, settle, started, type_into};
use eframe::egui;
use egui::{Event, Key, Modifiers, Role};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use spelk::app::{App, BoardCommand, Command, Middle};
use spelk::design::lettering::Lettering;
use spelk::job::{Treatment, Words};
use spelk::proof::{Facts, FindingKind};
use spelk::units::{LengthUnit, Mm};

fn first_start() -> Harness<'static, App> {
    started(vec![], vec![])
}

fn keys(harness: &mut Harness<App>, modifiers: Modifiers, key: Key) {
    harness.key_press_modifiers(modifiers, key);
    settle(harness);
}

fn is_there(harness: &Harness<App>, label: &str) -> bool {
    harness.query_all_by_label(label).next().is_some()
}

/// What has the keys: its label and its role.
fn focused(harness: &Harness<App>) -> Option<String> {
    let node = harness.root().children_recursive().find(egui_kittest::Node::is_focused)?;
    node.accesskit_node().label()
}

#[test]
fn escape_closes_each_small_window_and_only_the_one_on_top() {
    let mut harness = first_start();
    let windows: [(Command, &str); 11] = [
        (BoardCommand::ToggleFit.into(), "Fit"),
        (BoardCommand::TogglePieces.into(), "Pieces"),
        (BoardCommand::ToggleBenchList.into(), "Bench list"),
        (BoardCommand::ToggleBlemishes.into(), "Blemishes"),
        (BoardCommand::TogglePhoto.into(), "Photograph of the board"),
        (Command::ToggleClearing, "Clearing"),
        (Command::ToggleWhy, "Why this limit"),
        (Command::ToggleSeasons, "Seasons"),
        (Command::ToggleCompare, "Side by side"),
        (Command::ToggleCautions, "Cautions"),
        (Command::ToggleHelp, "Mouse and keys"),
    ];
    let is_open = |harness: &Harness<App>, name: &str| {
        harness.query_all_by_role_and_label(Role::Window, name).next().is_some()
    };
    for (command, name) in windows {
        ask(&mut harness, command);
        assert!(is_open(&harness, name), "{name} did not open");
        keys(&mut harness, Modifiers::NONE, Key::Escape);
        assert!(!is_open(&harness, name), "{name} is still open");
    }
    ask(&mut harness, BoardCommand::ToggleFit);
    ask(&mut harness, Command::ToggleWhy);
    keys(&mut harness, Modifiers::NONE, Key::Escape);
    assert!(is_open(&harness, "Fit") && !is_open(&harness, "Why this limit"), "not the one on top");
    keys(&mut harness, Modifiers::NONE, Key::Escape);
    assert!(!is_open(&harness, "Fit"), "the other one stays");
}

#[test]
fn a_key_goes_from_region_to_region_and_tab_goes_on_within() {
    let mut harness = first_start();
    let mut seen = Vec::new();
    for _ in 0..6 {
        keys(&mut harness, Modifiers::NONE, Key::F6);
        seen.push(focused(&harness).unwrap_or_default());
    }
    let names = ["The verdict", "Settings", "Findings", "The size strip", "The middle", "The verdict"];
    assert_eq!(seen, names);
    keys(&mut harness, Modifiers::SHIFT, Key::F6);
    keys(&mut harness, Modifiers::SHIFT, Key::F6);
    assert_eq!(focused(&harness).as_deref(), Some("The size strip"));
    keys(&mut harness, Modifiers::NONE, Key::Tab);
    assert_eq!(focused(&harness).as_deref(), Some("Size handle"));
    // From a widget the next region is that after its own.
    keys(&mut harness, Modifiers::NONE, Key::F6);
    assert_eq!(focused(&harness).as_deref(), Some("The middle"));
}

#[test]
fn menus_open_with_alt_and_their_letter() {
    let mut harness = first_start();
    assert!(!is_there(&harness, "Save"));
    keys(&mut harness, Modifiers::NONE, Key::F10);
    assert!(is_there(&harness, "Open recent") || is_there(&harness, "Open sample"), "F10 opens no menu");
    keys(&mut harness, Modifiers::NONE, Key::Escape);
    keys(&mut harness, Modifiers::ALT, Key::S);
    harness.get_by_label_contains("Prices");
    keys(&mut harness, Modifiers::ALT, Key::H);
    assert!(is_there(&harness, "Cautions"), "Alt+H opens no menu");
    keys(&mut harness, Modifiers::NONE, Key::Escape);
    // A quick stroke: Alt is up again before the frame ends. D alone measures.
    for pressed in [true, false] {
        let modifiers = Modifiers::ALT;
        let event = Event::Key { key: Key::D, physical_key: None, pressed, repeat: false, modifiers };
        harness.input_mut().events.push(event);
    }
    settle(&mut harness);
    assert!(is_there(&harness, "Smooth\u{2026}"), "Alt+D opens no menu");
}

#[test]
fn what_does_not_work_is_said_in_the_middle_until_it_is_put_away() {
    let mut harness = first_start();
    let bytes = b"no drawing at all".to_vec();
    ask(&mut harness, Command::OpenBytes { name: "broken.svg".into(), bytes });
    let card = harness.get_by_label_contains("Problem: ").rect();
    let middle = harness.ctx.content_rect();
    assert!((card.center().x - middle.center().x).abs() < 60.0, "{card:?} is aside");
    assert!(card.bottom() < middle.center().y, "{card:?} is below the middle");
    harness.get_by_label("Put away").click();
    settle(&mut harness);
    assert!(!is_there(&harness, "Put away"));
    // It stays among the messages.
    assert!(harness.state().messages().iter().any(|message| message.trouble), "it was forgotten");
}

#[test]
fn three_measures_typed_into_one_field_fill_all_three() {
    let mut harness = first_start();
    ask(&mut harness, Command::UseUnit(LengthUnit::InchFraction));
    type_into(&mut harness, "Board length", "23 3/4 x 5 1/2 x 3/4");
    let board = harness.state().job().unwrap().board().clone();
    let size = [board.length, board.width, board.thickness];
    assert_eq!(size, [23.75, 5.5, 0.75].map(Mm::from_inches));
    type_into(&mut harness, "Board width", "24 x 6");
    harness.get_by_label_contains("24 x 6");
    assert_eq!(harness.state().job().unwrap().board().width, Mm::from_inches(5.5));
}

#[test]
fn an_inch_shop_starts_with_a_depth_its_rule_shows_and_with_letter_paper() {
    let mut harness = Harness::builder().with_size([1280.0, 720.0]).build_eframe(|cc| {
        let dialogs = spelk::app::ScriptedDialogs::new(vec![]);
        let app = App::new(cc, vec![], Box::new(dialogs), None);
        app.with_usual_unit(LengthUnit::InchFraction)
    });
    settle(&mut harness);
    assert_eq!(harness.state().job().unwrap().depth(), Mm::from_inches(0.125));
    ask(&mut harness, Command::Show(Middle::Sizes));
    let is_on = |harness: &Harness<App>, label: &str| {
        let node = harness.get_by_role_and_label(Role::RadioButton, label);
        node.accesskit_node().toggled() == Some(egui::accesskit::Toggled::True)
    };
    assert!(is_on(&harness, "Letter") && !is_on(&harness, "A4"));
    harness.get_by_role_and_label(Role::RadioButton, "A4").click();
    settle(&mut harness);
    assert!(is_on(&harness, "A4"), "a choice is not kept");
}

#[test]
fn forces_and_stresses_are_in_pounds_in_an_inch_shop() {
    let mut harness = first_start();
    ask(&mut harness, Command::UseUnit(LengthUnit::InchFraction));
    ask(&mut harness, Command::ToggleWhy);
    assert!(harness.query_all_by_label_contains(" psi").next().is_some(), "no pounds");
    assert!(harness.query_all_by_label_contains("MPa").next().is_none(), "megapascals among inches");
    ask(&mut harness, Command::UseUnit(LengthUnit::Millimetres));
    assert!(harness.query_all_by_label_contains("MPa").next().is_some());
}

#[test]
fn the_strips_axis_stays_when_the_handle_is_let_go() {
    let mut harness = first_start();
    let strip = harness.get_by_label_contains("Size strip").rect();
    let from = strip.center();
    let to = from - egui::vec2(strip.width() * 0.2, 0.0);
    harness.drag_at(from);
    harness.step();
    harness.hover_at(to);
    harness.step();
    harness.step();
    let held = harness.state().job().unwrap().factor();
    harness.drop_at(to);
    settle(&mut harness);
    assert!((harness.state().job().unwrap().factor() - held).abs() < 1e-9, "letting go moved it");
    // A press where it was let go changes nothing: the handle is still there.
    harness.drag_at(to);
    harness.step();
    harness.drop_at(to);
    settle(&mut harness);
    let after = harness.state().job().unwrap().factor();
    assert!((after / held - 1.0).abs() < 1e-6, "{held} became {after}: the handle walked away");
}

#[test]
fn adding_a_size_moves_nothing_below_it() {
    let mut harness = first_start();
    ask(&mut harness, Command::Show(Middle::Sizes));
    let before = harness.get_by_label("Name of the shop").rect();
    for size in ["100", "120"] {
        type_into(&mut harness, "Size to add", size);
    }
    assert_eq!(harness.get_by_label("Name of the shop").rect(), before);
}

#[test]
fn the_sizes_sheet_is_found_by_letters_and_written_from_any_view() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sizes.pdf");
    let mut harness = started(vec![], vec![Some(path.clone())]);
    keys(&mut harness, Modifiers::COMMAND, Key::K);
    harness.get_by_role_and_label(Role::TextInput, "Letters of the command").type_text("offer of sizes");
    harness.step();
    harness.step();
    harness.key_press(Key::Enter);
    settle(&mut harness);
    assert!(std::fs::read(&path).unwrap().starts_with(b"%PDF"), "{:?}", harness.state().messages());
    // One click further it is where it can be printed.
    harness.get_by_label("Open the file").click();
    settle(&mut harness);
    let last = |harness: &Harness<App>| harness.state().messages().last().unwrap().clone();
    assert!(last(&harness).text.contains("sizes.pdf opens in the program"), "{:?}", last(&harness));
    std::fs::remove_file(&path).unwrap();
    ask(&mut harness, Command::ShowFile(path));
    assert!(last(&harness).trouble && last(&harness).text.contains("sizes.pdf cannot be opened"));
}

#[test]
fn bare_words_are_offered_a_plain_ground() {
    let mut harness = first_start();
    let lettering = Lettering { words: "Oar".to_owned(), ..Lettering::default() };
    let words = Words { lettering, treatment: Treatment::Relief };
    ask(&mut harness, spelk::app::ElementCommand::LetterNewJob(Box::new(words)));
    harness.get_by_label_contains("No ground is drawn");
    harness.get_by_label("An oval").click();
    settle(&mut harness);
    let names: Vec<String> =
        harness.state().job().unwrap().design().elements.iter().map(|e| e.name.clone()).collect();
    assert!(names.contains(&"ground".to_owned()), "{names:?}");
    assert!(harness.query_by_label("An oval").is_none(), "it is still offered");
    ask(&mut harness, Command::Undo);
    harness.get_by_label("A plain rectangle").click();
    settle(&mut harness);
    assert_eq!(harness.state().job().unwrap().design().elements.len(), names.len());
}

#[test]
fn one_wall_is_thickened_and_the_others_stay() {
    let mut harness = first_start();
    let walls = |harness: &Harness<App>| {
        let findings = &harness.state().proof().unwrap().findings;
        findings.iter().filter(|finding| finding.kind() == FindingKind::ThinWall).count()
    };
    let before = walls(&harness);
    assert!(before > 1, "the sample has {before} thin walls");
    let proof = harness.state().proof().unwrap();
    let id = proof.findings.iter().find(|f| matches!(f.facts, Facts::ThinWall { .. })).unwrap().id.clone();
    ask(&mut harness, Command::GoTo(id));
    harness.get_by_label("Thicken this wall").click();
    settle(&mut harness);
    ask(&mut harness, Command::ApplyMended);
    let after = walls(&harness);
    assert!(after < before && after > 0, "{before} thin walls became {after}");
}

#[test]
fn a_picture_without_marks_goes_to_the_clipboard() {
    let mut harness = first_start();
    ask(&mut harness, Command::CopyPicture);
    assert!(
        harness.state().messages().iter().any(|message| message.text.contains("clipboard")),
        "{:?}",
        harness.state().messages()
    );
}

#[test]
fn the_lesson_is_read_from_the_last_row_on_a_full_screen() {
    let mut harness = first_start();
    ask(&mut harness, Command::Show(Middle::Lesson));
    let height = |harness: &Harness<App>| harness.get_by_label("Why it thins").rect().height();
    let before = height(&harness);
    keys(&mut harness, Modifiers::NONE, Key::F11);
    assert!(height(&harness) > 1.3 * before, "{before} became {}", height(&harness));
    harness.get_by_label("Leave full screen").click();
    settle(&mut harness);
    assert!((height(&harness) - before).abs() < 0.5);
    // And at twice the text size nothing is lost: the page scrolls.
    for _ in 0..5 {
        ask(&mut harness, Command::LargerText);
    }
    harness.get_by_label("Why it thins");
}

#[test]
fn the_same_wall_is_turned_against_the_grain() {
    let mut harness = first_start();
    ask(&mut harness, Command::Show(Middle::Lesson));
    let slider = "Turn of the wall against the grain";
    harness.get_by_role_and_label(Role::Slider, slider).scroll_to_me();
    settle(&mut harness);
    let limits = harness.state().proof().unwrap().limits.usual().clone();
    for (degrees, needed) in [(0.0, limits.along), (90.0, limits.across)] {
        harness.get_by_role_and_label(Role::Slider, slider).set_value_accesskit(degrees);
        settle(&mut harness);
        let needed = LengthUnit::Millimetres.show_fine(needed);
        let words = format!("At {degrees:.0}\u{b0} to the grain this wall must be {needed} thick");
        assert!(harness.query_all_by_label_contains(&words).next().is_some(), "{words}");
    }
}

#[test]
fn a_plate_of_a_fixed_size_is_filled_with_a_border() {
    let mut harness = first_start();
    ask(&mut harness, BoardCommand::ToggleFit);
    harness.get_by_label("Fit and add a border").scroll_to_me();
    settle(&mut harness);
    type_into(&mut harness, "Length of the plate", "500");
    type_into(&mut harness, "Width of the plate", "180");
    // What would help may have come since, and moved it.
    harness.get_by_label("Fit and add a border").click_accesskit();
    settle(&mut harness);
    let job = harness.state().job().unwrap();
    let size = job.turn().of(job.design().outline_box().size()).abs() * job.factor();
    assert!((size.x - 500.0).abs() < 0.01 && (size.y - 180.0).abs() < 0.01, "{size}");
    assert!(job.design().elements.iter().any(|element| element.name.starts_with("border")));
}

/// A screen of 1280 by 720 with text twice as large: the board keeps its room and the verdict its words.
#[test]
fn twice_the_text_leaves_the_board_and_the_verdict_whole() {
    let mut harness = first_start();
    harness.set_size(egui::vec2(620.0, 330.0));
    settle(&mut harness);
    let sentence = harness.state().proof().unwrap().verdict.severity.label();
    harness.get_all_by_label_contains(sentence).next().unwrap();
    harness.get_by_label("Size handle");
    let views = harness.get_by_label("Show lesson").rect().bottom();
    let handle = harness.get_by_label("Size handle").rect().top();
    assert!(handle - views > 90.0, "the board has {} points", handle - views);
    // A second and a third row of tools would cover the board; the menus have what stood there.
    let tool = harness.get_by_label("Whole board").rect();
    assert!(tool.top() > views && tool.bottom() < handle, "cut off: {tool:?}");
    for tool in ["Grid", "Measure", "Move design"] {
        assert!(harness.query_by_label(tool).is_none(), "{tool} covers the board");
    }
}

/// The same for the carved surface, the sizes and a folder of drawings.
#[test]
fn twice_the_text_leaves_every_view_its_room() {
    let mut harness = first_start();
    let screen = egui::vec2(640.0, 360.0);
    harness.set_size(screen);
    settle(&mut harness);
    let is_seen = |harness: &Harness<App>, label: &str| {
        let rect = harness.get_by_label(label).rect();
        let whole = egui::Rect::from_min_size(egui::Pos2::ZERO, screen).expand(0.5);
        assert!(whole.contains_rect(rect), "{label} is cut off: {rect:?}");
    };
    ask(&mut harness, Command::Show(Middle::Relief));
    let tools = harness.get_by_label("Draw a section").rect().bottom();
    let clock = harness.get_by_label("Play the carve").rect().top();
    assert!(clock - tools > 80.0, "the surface has {} points", clock - tools);
    is_seen(&harness, "Play the carve");
    ask(&mut harness, Command::Show(Middle::Sizes));
    is_seen(&harness, "Show to the customer");
    ask(&mut harness, Command::Show(Middle::Board));
    ask(&mut harness, Command::Open("sample-designs".into()));
    is_seen(&harness, "Table as PDF…");
    is_seen(&harness, "Open beehive-plate.svg");
}
