//! What is done at the board in the window: place, blemishes, bench list, fit, machine, rack, photograph.

use super::window::{self, ask, click, settle, type_into, undo, until};
use eframe::egui;
use egui::Role;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use spelk::app::{App, BoardCommand, Command, Export, Tool};
use spelk::arrange::batch;
use spelk::job::{Edit, Placement, Size, Turn};
use spelk::proof::place::blemishes_under;
use spelk::proof::{FindingKind, FitOutcome};
use spelk::relief::NEVER;
use spelk::sheet::arrange::common;
use spelk::shop::{Blemish, BlemishKind, BlemishShape, Check, Money, Planed, Prices, Shop, open_rack};
use spelk::units::{LengthUnit, Mm};
use std::path::{Path, PathBuf};

/// The window with the first sample, and a shop of its own in `folder` if one is given.
fn started(folder: Option<&Path>, answers: Vec<Option<PathBuf>>) -> Harness<'static, App> {
    match folder {
        None => window::started(vec![], answers),
        Some(folder) => window::with_shop(folder, answers),
    }
}

fn at(harness: &Harness<App>) -> [f64; 2] {
    match harness.state().job().unwrap().at() {
        Placement::At { x, y } => [x.get(), y.get()],
        other => panic!("{other:?} is no typed place"),
    }
}

fn blemishes(harness: &Harness<App>) -> Vec<Blemish> {
    harness.state().job().unwrap().board().blemishes.clone()
}

/// Where a point of the board is on the screen.
fn on_screen(harness: &Harness<App>, x: f64, y: f64) -> egui::Pos2 {
    let canvas = harness.get_by_label_contains("Board 609.6 mm by").rect();
    let (middle, scale) = harness.state().looking_at().unwrap();
    let along = ((x - middle.x) * scale) as f32;
    let up = ((y - middle.y) * scale) as f32;
    canvas.center() + egui::vec2(along, -up)
}

fn drag(harness: &mut Harness<App>, from: egui::Pos2, to: egui::Pos2) {
    harness.hover_at(from);
    harness.step();
    harness.drag_at(from);
    harness.step();
    for share in [0.3, 0.7, 1.0] {
        harness.hover_at(from + (to - from) * share);
        harness.step();
    }
    harness.drop_at(to);
    settle(harness);
}

fn knot(x: f64, y: f64, diameter: f64) -> Blemish {
    let mm = Mm::new;
    let shape = BlemishShape::Circle { x: mm(x), y: mm(y), diameter: mm(diameter) };
    Blemish { kind: BlemishKind::Knot, shape, clearance: mm(3.0) }
}

#[test]
fn a_design_is_put_tight_to_each_corner() {
    let mut harness = started(None, vec![]);
    for (label, place) in [
        ("Lower left", Placement::LowerLeft),
        ("Lower right", Placement::LowerRight),
        ("Upper left", Placement::UpperLeft),
        ("Upper right", Placement::UpperRight),
        ("Middle", Placement::Middle),
    ] {
        harness.get_by_role_and_label(Role::RadioButton, label).click();
        settle(&mut harness);
        assert_eq!(harness.state().job().unwrap().at(), place);
        assert_eq!(harness.state().proof().unwrap().fit.outcome, FitOutcome::Fits, "{label}");
    }
}

#[test]
fn offsets_are_typed_in_the_users_unit() {
    let mut harness = started(None, vec![]);
    type_into(&mut harness, "Offset along", "92.5");
    assert!((at(&harness)[0] - 92.5).abs() < 1e-9, "{:?}", at(&harness));
    ask(&mut harness, Command::UseUnit(LengthUnit::InchFraction));
    type_into(&mut harness, "Offset across", "1/4");
    assert!((at(&harness)[1] - 6.35).abs() < 1e-9, "{:?}", at(&harness));
    assert!((at(&harness)[0] - 92.5).abs() < 1e-9, "the other stayed: {:?}", at(&harness));
    let before = at(&harness);
    type_into(&mut harness, "Offset across", "high");
    harness.get_by_label_contains("'high' is not a length");
    assert_eq!(at(&harness), before);
    // Off the board is said, not refused.
    type_into(&mut harness, "Offset across", "-1");
    assert_eq!(harness.state().proof().unwrap().fit.outcome, FitOutcome::Misplaced);
}

#[test]
fn a_turn_keeps_the_size_and_is_undone() {
    let mut harness = started(None, vec![]);
    ask(&mut harness, Command::Edit(Edit::Size(Size::Length(Mm::new(180.0)))));
    let factor = harness.state().proof().unwrap().factor;
    click(&mut harness, "Turn the design");
    let job = harness.state().job().unwrap();
    assert_eq!((job.turn(), job.size()), (Turn::Quarter, Size::Width(Mm::new(180.0))));
    assert_eq!(harness.state().proof().unwrap().factor, factor);
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::T);
    settle(&mut harness);
    assert_eq!(harness.state().job().unwrap().turn(), Turn::Half);
    undo(&mut harness);
    undo(&mut harness);
    assert_eq!(harness.state().job().unwrap().turn(), Turn::AsDrawn);
}

#[test]
fn the_design_is_dragged_snaps_and_is_taken_back_in_one_step() {
    let mut harness = started(None, vec![]);
    ask(&mut harness, Command::Edit(Edit::Size(Size::Factor(0.5))));
    let before = harness.state().job().unwrap().clone();
    // With no tool the view moves, and the design stays.
    let (from, to) = (on_screen(&harness, 300.0, 100.0), on_screen(&harness, 340.0, 120.0));
    drag(&mut harness, from, to);
    assert!(*harness.state().job().unwrap() == before, "looking moved the design");
    click(&mut harness, "Whole board");
    click(&mut harness, "Move design");
    let from = on_screen(&harness, 304.8, 101.6);
    // 105 mm half length: dragged about 115 mm to the left it stands 1.3 mm from the allowance's end.
    let to = on_screen(&harness, 304.8 - 115.4, 101.6 + 3.0);
    drag(&mut harness, from, to);
    let [x, y] = at(&harness);
    let allowance = 82.55;
    // A relief's ground reaches one cutter past the outlines.
    let ground = 3.175;
    assert!((x - (allowance + ground)).abs() < 1e-6, "not snapped to the allowance: {x}");
    let middle = (203.2 - harness.state().proof().unwrap().width.get()) / 2.0;
    assert!((y - middle).abs() < 1e-6, "not snapped to the middle: {y}");
    undo(&mut harness);
    assert!(*harness.state().job().unwrap() == before, "one drag is one step");
    // A drag that begins beside the design moves the view.
    let from = on_screen(&harness, 30.0, 30.0);
    drag(&mut harness, from, from + egui::vec2(40.0, 0.0));
    assert!(*harness.state().job().unwrap() == before, "a drag beside it moved the design");
}

#[test]
fn arrow_keys_nudge_the_design() {
    let mut harness = started(None, vec![]);
    ask(&mut harness, Command::Edit(Edit::Size(Size::Factor(0.5))));
    let before = harness.state().proof().unwrap().board_from_design.translation;
    harness.key_press(egui::Key::M);
    settle(&mut harness);
    harness.key_press(egui::Key::ArrowRight);
    settle(&mut harness);
    harness.key_press_modifiers(egui::Modifiers::SHIFT, egui::Key::ArrowUp);
    settle(&mut harness);
    let moved = harness.state().proof().unwrap().board_from_design.translation - before;
    assert!((moved - glam::dvec2(1.0, 10.0)).length() < 1e-9, "{moved}");
    harness.key_press(egui::Key::Escape);
    settle(&mut harness);
    harness.key_press(egui::Key::ArrowRight);
    settle(&mut harness);
    let still = harness.state().proof().unwrap().board_from_design.translation - before;
    assert_eq!(still, moved, "put down, the tool does nothing");
}

#[test]
fn a_place_clear_of_knots_is_found() {
    let mut harness = started(None, vec![]);
    ask(&mut harness, BoardCommand::Mark(knot(300.0, 100.0, 30.0)));
    assert!(
        harness.state().proof().unwrap().findings.iter().any(|f| f.kind() == FindingKind::Blemish),
        "no finding"
    );
    click(&mut harness, "Find a place");
    click(&mut harness, "Find a place at this size");
    harness.get_by_label_contains("No place on the board is clear at this size. Up to");
    click(&mut harness, "Find a place");
    click(&mut harness, "Find the largest place");
    let job = harness.state().job().unwrap();
    let proof = harness.state().proof().unwrap();
    assert!(blemishes_under(job, proof.factor * (1.0 - 1e-9)).is_empty(), "on the knot");
    assert!(proof.factor > 0.3, "{}", proof.factor);
    harness.get_by_label_contains("Moved the design to a clear place");
    undo(&mut harness);
    assert_eq!(harness.state().job().unwrap().at(), Placement::Middle);
}

#[test]
fn blemishes_are_drawn_with_the_mouse() {
    let mut harness = started(None, vec![]);
    click(&mut harness, "Blemishes…");
    click(&mut harness, "Circle");
    let (from, to) = (on_screen(&harness, 40.0, 100.0), on_screen(&harness, 52.0, 100.0));
    drag(&mut harness, from, to);
    click(&mut harness, "Rectangle");
    let (from, to) = (on_screen(&harness, 10.0, 10.0), on_screen(&harness, 60.0, 30.0));
    drag(&mut harness, from, to);
    click(&mut harness, "Line");
    let (from, to) = (on_screen(&harness, 20.0, 190.0), on_screen(&harness, 80.0, 170.0));
    drag(&mut harness, from, to);
    let marked = blemishes(&harness);
    let near = |found: Mm, expected: f64| {
        assert!((found.get() - expected).abs() < 2.0, "{found}, not about {expected}");
    };
    let [a, b, c] = marked.as_slice() else { panic!("{marked:?}") };
    let BlemishShape::Circle { x, y, diameter } = a.shape else { panic!("{a:?}") };
    near(x, 40.0);
    near(y, 100.0);
    near(diameter, 24.0);
    let BlemishShape::Rectangle { x, y, length, width } = b.shape else { panic!("{b:?}") };
    near(x, 10.0);
    near(y, 10.0);
    near(length, 50.0);
    near(width, 20.0);
    let BlemishShape::Line { from, to } = c.shape else { panic!("{c:?}") };
    near(from[0], 20.0);
    near(to[1], 170.0);
    undo(&mut harness);
    assert_eq!(blemishes(&harness).len(), 2);
}

#[test]
fn a_blemish_is_changed_in_the_list_and_removed() {
    let mut harness = started(None, vec![]);
    ask(&mut harness, BoardCommand::Mark(knot(300.0, 100.0, 30.0)));
    harness.get_by_label_contains("1: Knot, 30 mm, at 300, 100");
    type_into(&mut harness, "Blemish diameter", "22");
    type_into(&mut harness, "Blemish along", "40");
    type_into(&mut harness, "Blemish clearance", "6 mm");
    harness.get_by_label("Blemish kind").click();
    harness.run_ok();
    harness.get_by_label("Split").click();
    settle(&mut harness);
    let mm = Mm::new;
    let expected = Blemish {
        kind: BlemishKind::Split,
        shape: BlemishShape::Circle { x: mm(40.0), y: mm(100.0), diameter: mm(22.0) },
        clearance: mm(6.0),
    };
    assert_eq!(blemishes(&harness), [expected]);
    type_into(&mut harness, "Blemish diameter", "0");
    harness.get_by_label_contains("it must be over 0");
    click(&mut harness, "Remove blemish 1");
    assert_eq!(blemishes(&harness), []);
}

#[test]
fn the_bench_list_is_filled_in() {
    let mut harness = started(None, vec![]);
    click(&mut harness, "Bench list…");
    assert!(
        harness.query_all_by_label_contains("Not checked: ").count() >= Check::ALL.len(),
        "not all are told"
    );
    type_into(&mut harness, "Cup", "1.6");
    type_into(&mut harness, "Moisture", "9");
    harness.get_by_role_and_label(Role::ComboBox, "Planed").click();
    harness.run_ok();
    harness.get_by_label("Both").click();
    settle(&mut harness);
    let stock = harness.state().job().unwrap().board().stock;
    assert_eq!(
        (stock.cup, stock.moisture, stock.planed),
        (Some(Mm::new(1.6)), Some(9.0), Some(Planed::Both))
    );
    let row = harness.state().proof().unwrap().stock.rows[0].clone();
    assert!(row.depth_error > Mm::ZERO, "{row:?}");
    // In the list, and among the findings.
    assert!(
        harness
            .query_all_by_label_contains(&spelk::words::bench_list::row(&row, LengthUnit::Millimetres))
            .count()
            >= 1,
        "not told"
    );
    type_into(&mut harness, "Cup", "-1");
    harness.get_by_label_contains("a gap cannot be negative");
    // Emptied, it is not checked any more.
    type_into(&mut harness, "Cup", "");
    assert_eq!(harness.state().job().unwrap().board().stock.cup, None);
}

#[test]
fn a_v_tells_its_width_error() {
    let mut harness = started(None, vec![]);
    let vee = Shop::built_in().cutter("vee-60").cloned().expect("a V is built in");
    ask(&mut harness, Command::Edit(Edit::Cutter(Box::new(vee.clone()))));
    let elements = (0..harness.state().job().unwrap().design().elements.len()).collect();
    let treatment = spelk::job::Treatment::Incised;
    ask(&mut harness, Command::Edit(Edit::Treat { elements, treatment }));
    click(&mut harness, "Bench list…");
    type_into(&mut harness, "Bow", "4");
    let row = harness.state().proof().unwrap().stock.rows[1].clone();
    let expected = 2.0 * vee.shape.side_slope();
    assert!((row.width_error / row.depth_error - expected).abs() < 1e-9, "{row:?}");
    assert!(harness.query_all_by_label_contains("V grooves up to").count() > 0, "not told");
}

#[test]
fn the_fit_window_offers_and_does() {
    let mut harness = started(None, vec![]);
    ask(&mut harness, Command::OpenSample("boat-nameboard"));
    click(&mut harness, "Fit…");
    harness.get_by_label_contains("For this board draw up to");
    harness.get_by_label_contains("in front of the cutter");
    harness.get_by_label_contains("its length decides");
    let needed = harness.state().proof().unwrap().fit.length_needed;
    // What would help is offered here as it is beside the verdict: tried out, and one step to undo.
    until(&mut harness, App::is_advised);
    settle(&mut harness);
    let changed = harness.state().offers()[0].after.job.clone();
    click(&mut harness, "Do it: Carve it at 86.2 % (437.9 mm long)");
    assert!(*harness.state().job().unwrap() == *changed, "it is not what was offered");
    undo(&mut harness);
    click(&mut harness, "Use the smallest board");
    assert!((harness.state().job().unwrap().board().length - needed).get().abs() < 1e-9, "not that board");
    assert_eq!(harness.state().proof().unwrap().fit.outcome, FitOutcome::Fits);
    undo(&mut harness);
    click(&mut harness, "Use the dressed board");
    assert_eq!(harness.state().proof().unwrap().fit.outcome, FitOutcome::Fits);
}

#[test]
fn a_side_margin_is_typed_and_given_back_to_the_machine() {
    let mut harness = started(None, vec![]);
    click(&mut harness, "Fit…");
    type_into(&mut harness, "Side margin", "6");
    assert_eq!(harness.state().job().unwrap().side_margin(), Some(Mm::new(6.0)));
    // What would help moves it when it comes.
    until(&mut harness, App::is_advised);
    settle(&mut harness);
    harness.get_by_label("Use the machine's").click_accesskit();
    settle(&mut harness);
    assert_eq!(harness.state().job().unwrap().side_margin(), None);
}

#[test]
fn a_carrier_is_worked_out_and_exported() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("carrier.svg");
    let mut harness = started(None, vec![Some(path.clone())]);
    ask(&mut harness, Command::Edit(Edit::BoardLength(Mm::new(120.0))));
    click(&mut harness, "Fit…");
    harness.get_by_label_contains("Carrier: this board needs one");
    harness.get_by_label_contains("Two rails");
    // What would help may come meanwhile, and move it.
    harness.get_by_label("Export carrier drawing…").click_accesskit();
    settle(&mut harness);
    let drawing = spelk::design::open(&path);
    let text = std::fs::read_to_string(&path).unwrap();
    assert!(text.contains("id=\"pocket\""), "{drawing:?}");
}

#[test]
fn a_long_board_is_told_its_stands() {
    let mut harness = started(None, vec![]);
    ask(&mut harness, Command::Edit(Edit::BoardLength(Mm::new(2400.0))));
    ask(&mut harness, Command::Edit(Edit::Place(Placement::LowerLeft)));
    click(&mut harness, "Fit…");
    assert!(harness.state().proof().unwrap().feeding.travel.infeed.tips(), "it stays down");
    harness.get_by_label_contains("put a stand");
}

#[test]
fn a_machine_is_copied_measured_kept_and_used() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = started(Some(folder.path()), vec![]);
    click(&mut harness, "Machines…");
    assert!(harness.query_by_label("Keep machine").is_none(), "a built-in machine is not changed");
    click(&mut harness, "Copy");
    type_into(&mut harness, "Machine name", "The blue one");
    type_into(&mut harness, "Infeed roller", "far");
    harness.get_by_label_contains("'far' is not a length");
    assert!(harness.get_by_label("Keep machine").accesskit_node().is_disabled(), "it can be kept");
    type_into(&mut harness, "Infeed roller", "101 mm");
    type_into(&mut harness, "Shortest board", "9000 mm");
    harness.get_by_label_contains("it must be no more than the longest board");
    type_into(&mut harness, "Shortest board", "200 mm");
    type_into(&mut harness, "Side margin", "4 mm");
    harness.get_by_role_and_label(Role::ComboBox, "Goes in first").click();
    harness.run_ok();
    click(&mut harness, "Right end");
    click(&mut harness, "Keep machine");
    let (shop, notices) = Shop::open(folder.path(), &Money::default());
    assert!(notices.is_empty(), "{notices:?}");
    let kept = shop.machines.iter().find(|machine| machine.name == "The blue one").unwrap();
    assert_eq!((kept.infeed_roller, kept.side_margin), (Mm::new(101.0), Mm::new(4.0)));
    assert!(kept.leads(spelk::shop::BoardEnd::Right), "the other end leads");
    click(&mut harness, "Use in this job");
    assert_eq!(harness.state().job().unwrap().machine().name, "The blue one");
    // What is changed and kept reaches the job.
    click(&mut harness, "Machines…");
    type_into(&mut harness, "Outfeed roller", "77 mm");
    click(&mut harness, "Keep machine");
    assert_eq!(harness.state().job().unwrap().machine().outfeed_roller, Mm::new(77.0));
    click(&mut harness, "Remove");
    assert_eq!(Shop::open(folder.path(), &Money::default()).0.machines.len(), spelk::shop::machines().len());
    click(&mut harness, "How to measure…");
    harness.get_by_label_contains("luggage scale");
}

#[test]
fn the_rack_keeps_boards_and_says_which_takes_the_design() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = started(Some(folder.path()), vec![]);
    click(&mut harness, "Shop");
    click(&mut harness, "Rack…");
    click(&mut harness, "Add this board");
    type_into(&mut harness, "Rack name", "Short offcut");
    type_into(&mut harness, "Rack length", "400 mm");
    type_into(&mut harness, "Rack price", "cheap");
    harness.get_by_label_contains("'cheap' is not a number");
    type_into(&mut harness, "Rack price", "4.50");
    click(&mut harness, "Keep board");
    click(&mut harness, "New board");
    type_into(&mut harness, "Rack name", "Long plank");
    type_into(&mut harness, "Rack length", "1200 mm");
    type_into(&mut harness, "Rack width", "250 mm");
    click(&mut harness, "Keep board");
    let kept = open_rack(folder.path()).unwrap();
    assert_eq!(kept.len(), 2);
    assert_eq!((kept[0].board.length, kept[0].price), (Mm::new(400.0), Some(4.5)));
    harness.get_by_label_contains("does not take this size");
    harness.get_by_label_contains("Which board takes this design?");
    click(&mut harness, "Use Long plank");
    assert_eq!(harness.state().job().unwrap().board().length, Mm::new(1200.0));
    undo(&mut harness);
    assert!((harness.state().job().unwrap().board().length.get() - 609.6).abs() < 1e-9, "not taken back");
    click(&mut harness, "Edit Short offcut");
    type_into(&mut harness, "Rack thickness", "22 mm");
    click(&mut harness, "Keep board");
    assert_eq!(open_rack(folder.path()).unwrap()[0].board.thickness, Mm::new(22.0));
    click(&mut harness, "Delete Long plank");
    assert_eq!(open_rack(folder.path()).unwrap().len(), 1);
}

#[test]
fn a_rack_that_cannot_be_read_is_told_of_and_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("boards.json"), "[{").unwrap();
    let mut harness = started(Some(folder.path()), vec![]);
    ask(&mut harness, BoardCommand::ToggleRack);
    assert!(
        harness.state().messages().iter().any(|m| m.trouble && m.text.contains("boards.json")),
        "no word"
    );
    assert_eq!(std::fs::read_to_string(folder.path().join("boards.json")).unwrap(), "[{");
}

#[test]
fn a_photograph_is_marked_and_laid_under_the_design() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("board.png");
    image::RgbaImage::from_pixel(600, 300, image::Rgba([30, 120, 40, 255])).save(&path).unwrap();
    let mut harness = started(None, vec![Some(path.clone())]);
    ask(&mut harness, BoardCommand::TogglePhoto);
    click(&mut harness, "Open photograph…");
    settle(&mut harness);
    let rect = harness.get_by_label("Photograph").rect();
    for (x, y) in [(0.1, 0.9), (0.9, 0.9), (0.9, 0.2), (0.1, 0.2)] {
        harness.get_by_label_contains("Click corner");
        let at = rect.min + egui::vec2(x, y) * rect.size();
        harness.hover_at(at);
        harness.step();
        harness.drag_at(at);
        harness.step();
        harness.drop_at(at);
        settle(&mut harness);
    }
    type_into(&mut harness, "Photographed length", "700 mm");
    click(&mut harness, "Lay it under the design");
    let board = harness.state().job().unwrap().board();
    assert_eq!(board.length, Mm::new(700.0));
    let marked = board.photo.as_ref().unwrap();
    assert_eq!(marked.file, path.display().to_string());
    let [x, y] = marked.corners[2];
    assert!((x - 540.0).abs() < 3.0 && (y - 60.0).abs() < 3.0, "{x}, {y}");
    click(&mut harness, "Show drawn wood");
    assert_eq!(harness.state().job().unwrap().board().photo, None);
}

#[test]
fn a_photograph_that_is_gone_is_told_of_once() {
    let mut harness = started(None, vec![]);
    ask(&mut harness, BoardCommand::OpenPhoto("no-such-board.jpg".into()));
    let told = harness.state().messages().iter().filter(|m| m.text.contains("no-such-board.jpg")).count();
    assert_eq!(told, 1);
}

#[test]
fn the_tool_is_put_down_with_the_list() {
    let mut harness = started(None, vec![]);
    click(&mut harness, "Blemishes…");
    ask(&mut harness, BoardCommand::UseTool(Tool::Circle));
    click(&mut harness, "Blemishes…");
    assert!(harness.query_by_label("Circle").is_none(), "the tools are still there");
    let from = on_screen(&harness, 300.0, 100.0);
    drag(&mut harness, from, from + egui::vec2(30.0, 0.0));
    assert_eq!(blemishes(&harness), []);
}

/// Several copies, laid in one step that is taken back in one; another open job as a piece; a piece taken in hand by
/// a click; and pieces that are too near are said to be.
#[test]
fn several_pieces_are_arranged_and_taken_in_hand() {
    let mut harness = started(None, vec![]);
    ask(&mut harness, Command::Edit(Edit::Size(Size::Length(Mm::new(110.0)))));
    ask(&mut harness, BoardCommand::TogglePieces);
    ask(&mut harness, Command::Edit(Edit::Count { piece: 0, count: 4 }));
    let before = harness.state().job().unwrap().lies(0);
    assert_eq!(before.len(), 1);
    click(&mut harness, "Arrange");
    until(&mut harness, |app| app.job().unwrap().lies(0).len() == 4);
    settle(&mut harness);
    let lies = harness.state().job().unwrap().lies(0);
    harness.get_by_label_contains("Laid 4 pieces");
    // The last copy, by a click on it, where the list would lie over it.
    ask(&mut harness, BoardCommand::TogglePieces);
    let middle = on_screen(&harness, lies[3].x.get() + 60.0, lies[3].y.get() + 20.0);
    harness.hover_at(middle);
    harness.step();
    harness.drag_at(middle);
    harness.step();
    harness.drop_at(middle);
    settle(&mut harness);
    assert_eq!(harness.state().job().unwrap().piece_in_hand(), (0, 3), "{lies:?}");
    assert_eq!(harness.state().job().unwrap().lies(0), lies, "nothing moved");
    // Put over the first, both are said to be too near.
    ask(&mut harness, BoardCommand::TogglePieces);
    let [x, y] = [lies[0].x, lies[0].y];
    ask(&mut harness, BoardCommand::Place([x, y]));
    harness.get_by_label_contains("nearer than the gap");
    undo(&mut harness);
    undo(&mut harness);
    undo(&mut harness);
    assert_eq!(harness.state().job().unwrap().lies(0), before, "one step laid them all");
}

/// A long search tells how far it is, and stops when it is told to.
#[test]
fn a_search_for_places_is_counted_and_called_off() {
    let mut harness = started(None, vec![]);
    ask(&mut harness, Command::Edit(Edit::Size(Size::Length(Mm::new(40.0)))));
    ask(&mut harness, BoardCommand::TogglePieces);
    ask(&mut harness, Command::Edit(Edit::Count { piece: 0, count: 40 }));
    let before = harness.state().job().unwrap().lies(0);
    harness.get_by_label("Arrange").click();
    let told = |harness: &Harness<App>| {
        let mut nodes = harness.query_all_by_label_contains("orders tried");
        nodes.next().and_then(|node| node.accesskit_node().label().or(node.accesskit_node().value()))
    };
    let mut seen = Vec::new();
    for _ in 0..20_000 {
        harness.step();
        if let Some(words) = told(&harness)
            && seen.last() != Some(&words)
        {
            seen.push(words);
        }
        if seen.len() == 2 || harness.state().job().unwrap().lies(0).len() == 40 {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    let tried = |words: &str| words.split(' ').next().and_then(|word| word.parse::<usize>().ok());
    let [first, second] = seen.as_slice() else { panic!("told of {seen:?}") };
    assert!(tried(first) < tried(second), "{seen:?}");
    // One in the list of pieces, one in the bottom bar.
    harness.query_all_by_label("Cancel").next().unwrap().click();
    settle(&mut harness);
    assert!(told(&harness).is_none(), "it goes on");
    assert_eq!(harness.state().job().unwrap().lies(0), before, "nothing was laid");
    let last = harness.state().messages().last().unwrap().text.clone();
    assert_eq!(last, spelk::words::window::pieces::ARRANGING_CANCELLED);
}

/// Presses what may have been scrolled out of sight.
fn press_below(harness: &mut Harness<App>, label: &str) {
    harness.get_by_label(label).click_accesskit();
    settle(harness);
}

/// The list of pieces with what comes of all of them: time and price of each, the sums, what was found of which copies,
/// how many orders were tried, and which board would do.
#[test]
fn the_list_of_pieces_tells_of_all_of_them() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = started(Some(folder.path()), vec![]);
    ask(&mut harness, Command::Edit(Edit::Size(Size::Length(Mm::new(110.0)))));
    ask(&mut harness, BoardCommand::TogglePieces);
    assert!(harness.query_by_label("All of them").is_none(), "one piece needs no sums");
    ask(&mut harness, Command::Edit(Edit::Count { piece: 0, count: 3 }));
    click(&mut harness, "Arrange");
    until(&mut harness, |app| app.job().unwrap().lies(0).len() == 3);
    settle(&mut harness);
    harness.get_by_label("All of them");
    let job = harness.state().job().unwrap().clone();
    let all = batch(&job, &Prices::default(), &NEVER).unwrap();
    let sums = &all.pieces[0];
    // By hand: three times what one takes and sells for.
    assert!((all.minutes - 3.0 * sums.minutes.unwrap()).abs() < 1e-6);
    assert!((all.price.unwrap() - 3.0 * sums.price.unwrap()).abs() < 1e-9);
    harness
        .get_by_label_contains(&format!("Each {:.1} min, ", sums.minutes.unwrap()).replace(".0 min", " min"));
    harness.get_by_label_contains("All of them take");
    // What is found alike of all three is listed once, and says so.
    let found = common(&all, LengthUnit::Millimetres);
    let of_all =
        found.iter().take(6).find(|row| row.copies.len() == 3).expect("so small a sign has thin walls");
    assert!(of_all.sentence(&all).contains("every copy"));
    assert_eq!(harness.query_all_by_label(&of_all.sentence(&all)).count(), 1);
    press_below(&mut harness, "Shortest board");
    harness.get_by_label_contains("The shortest board");
    press_below(&mut harness, "Boards of the rack");
    harness.get_by_label_contains("No board of the rack");
}

/// Names are pasted or opened; one that is too long is said in one line and the list stays.
#[test]
fn names_become_pieces_and_a_bad_list_loses_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let list = folder.path().join("numbers.csv");
    std::fs::write(&list, "7,oak\n12,ash\n27\n").unwrap();
    let frame = folder.path().join("frame.svg");
    let drawn = r#"<svg xmlns="http://www.w3.org/2000/svg" width="150mm" height="60mm" viewBox="0 0 150 60"><path id="panel" d="M0 0H150V60H0Z"/></svg>"#;
    std::fs::write(&frame, drawn).unwrap();
    let mut harness = window::started(vec![frame], vec![Some(list)]);
    ask(&mut harness, Command::Edit(Edit::Size(Size::Factor(1.0))));
    ask(&mut harness, BoardCommand::TogglePieces);
    click(&mut harness, "Names and numbers");
    let before = harness.state().job().unwrap().clone();
    let too_long = "7\nBartholomew of the hill and all of his many children";
    harness.get_by_label("List of names").focus();
    harness.step();
    harness.get_by_label("List of names").type_text(too_long);
    settle(&mut harness);
    click(&mut harness, "Make a piece of each");
    settle(&mut harness);
    harness.get_by_label_contains("ine 2");
    assert_eq!(*harness.state().job().unwrap(), before, "nothing changed");
    assert_eq!(harness.get_by_label("List of names").value().unwrap(), too_long, "nothing is lost");
    click(&mut harness, "Open a list…");
    settle(&mut harness);
    assert_eq!(harness.get_by_label("List of names").value().unwrap(), "7,oak\n12,ash\n27\n");
    click(&mut harness, "Make a piece of each");
    settle(&mut harness);
    let job = harness.state().job().unwrap();
    let called: Vec<&str> = (0..job.piece_count()).map(|piece| job.piece_name(piece)).collect();
    assert_eq!(called, ["7", "12", "27"]);
    undo(&mut harness);
    assert_eq!(harness.state().job().unwrap().piece_count(), 1, "one step made them all");
}

/// Exports of several pieces: all in one file, and a file for each where that is wished, which replaces nothing.
#[test]
fn a_batch_is_exported_whole_or_piece_by_piece() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name);
    let mut harness = started(None, vec![]);
    ask(&mut harness, Command::Edit(Edit::Size(Size::Length(Mm::new(110.0)))));
    ask(&mut harness, BoardCommand::TogglePieces);
    ask(&mut harness, Command::Edit(Edit::Count { piece: 0, count: 2 }));
    click(&mut harness, "Arrange");
    until(&mut harness, |app| app.job().unwrap().lies(0).len() == 2);
    settle(&mut harness);
    let elements = harness.state().job().unwrap().design().elements.len();
    let name = harness.state().job().unwrap().design().name.clone();
    ask(&mut harness, Command::ExportOutline(path("all.svg")));
    settle(&mut harness);
    let svg = std::fs::read_to_string(path("all.svg")).unwrap();
    assert_eq!(svg.matches("<path").count(), 2 * elements);
    for (what, file) in [
        (Export::Findings, "all.csv"),
        (Export::Proof, "all.json"),
        (Export::Surface, "all.stl"),
        (Export::BenchSheet, "bench.pdf"),
        (Export::SizeSheet, "pieces.pdf"),
        (Export::Picture, "all.png"),
        (Export::Template, "template.pdf"),
    ] {
        ask(&mut harness, Command::Export(what, path(file)));
        settle(&mut harness);
        assert!(std::fs::metadata(path(file)).unwrap().len() > 100, "{file}");
    }
    let table = std::fs::read_to_string(path("all.csv")).unwrap();
    assert!(table.starts_with("piece,copy,kind") && table.contains(",2,"), "{table}");
    press_below(&mut harness, "Exports write a file for each piece");
    ask(&mut harness, Command::ExportOutline(path("each.svg")));
    settle(&mut harness);
    let each = path(&format!("each-1-{name}.svg"));
    assert_eq!(std::fs::read_to_string(&each).unwrap().matches("<path").count(), elements);
    std::fs::write(&each, "kept").unwrap();
    ask(&mut harness, Command::ExportOutline(path("each.svg")));
    settle(&mut harness);
    harness.get_by_label_contains("is already there");
    assert_eq!(std::fs::read_to_string(&each).unwrap(), "kept");
}
