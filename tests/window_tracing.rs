//! A picture traced in the window; by label, as in `window.rs`.

use super::window::{self, ask, click, settle, type_into};
use crate::support;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use spelk::app::{App, Choice, Command, ElementCommand};
use spelk::design::Design;
use spelk::proof::FindingKind;
use spelk::proof::mend::Mend;
use std::path::{Path, PathBuf};

fn data(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/trace").join(name)
}

/// The window with a picture in its middle, asked for as a person would.
fn traced(name: &str) -> Harness<'static, App> {
    let mut harness = window::started(vec![], vec![Some(data(name))]);
    ask(&mut harness, Command::AskPicture);
    settle(&mut harness);
    harness
}

fn elements(harness: &Harness<'_, App>) -> Vec<String> {
    let design = harness.state().job().unwrap().design().clone();
    design.elements.iter().map(|element| element.name.clone()).collect()
}

#[test]
fn a_picture_becomes_a_job_that_is_proofed_live() {
    let mut harness = traced("leaf.png");
    assert_eq!(harness.state().job().unwrap().design().name, "leaf");
    harness.get_by_label("Picture with the outline over it");
    harness.get_by_label_contains("leaf.png, 600 × 400 pixels");
    // It fits the board it was put on.
    let fits = |harness: &Harness<'_, App>| {
        let (proof, job) = (harness.state().proof().unwrap(), harness.state().job().unwrap());
        proof.length <= job.board().length && proof.width <= job.board().width
    };
    assert!(fits(&harness));
    let before = harness.state().proof().unwrap().length;
    type_into(&mut harness, "Length of the picture", "60");
    settle(&mut harness);
    let proof = harness.state().proof().unwrap();
    // The leaf is 474 of 600 pixels long, give or take a pixel.
    assert!((proof.length.get() - 47.4).abs() < 0.2, "{}", proof.length);
    assert!(proof.length < before);
    ask(&mut harness, Command::Undo);
    settle(&mut harness);
    assert!((harness.state().proof().unwrap().length - before).get().abs() < 1e-9);
    ask(&mut harness, Command::Redo);
    settle(&mut harness);
    assert!((harness.state().proof().unwrap().length.get() - 47.4).abs() < 0.2);
}

#[test]
fn what_is_carved_is_chosen_by_colour_and_by_pointer() {
    let mut harness = traced("badge.png");
    assert_eq!(elements(&harness), ["outline"]);
    click(&mut harness, "Colours");
    settle(&mut harness);
    assert_eq!(elements(&harness).len(), 3);
    // The ground is not ticked, and the others are.
    click(&mut harness, "Colour 2, 31 %");
    settle(&mut harness);
    assert_eq!(elements(&harness).len(), 2, "{:?}", elements(&harness));
    // A click in the middle of the picture fills the hole of the square.
    let holes = |harness: &Harness<'_, App>| {
        let design = harness.state().job().unwrap().design().clone();
        design.elements.iter().flat_map(|element| element.region.rings()).filter(|ring| ring.hole).count()
    };
    let before = holes(&harness);
    harness.get_by_label("Picture with the outline over it").click();
    settle(&mut harness);
    assert_eq!(holes(&harness), before - 1);
    click(&mut harness, "Bring all back");
    settle(&mut harness);
    assert_eq!(holes(&harness), before);
}

/// What was traced is edited as a drawing is: renamed, joined, taken out, filled, thickened; each in one step.
#[test]
fn what_was_traced_is_edited_and_each_step_is_taken_back() {
    let mut harness = traced("badge.png");
    click(&mut harness, "Colours");
    let design = |harness: &Harness<'_, App>| harness.state().job().unwrap().design().clone();
    let before = design(&harness);
    let area = |design: &Design| design.elements.iter().map(|element| element.region.area()).sum::<f64>();
    let mut undone = |commands: &[Command], is_right: &dyn Fn(&Design) -> bool| {
        for command in commands {
            ask(&mut harness, command.clone());
        }
        let after = design(&harness);
        let names: Vec<&String> = after.elements.iter().map(|element| &element.name).collect();
        assert!(is_right(&after), "{commands:?} made {names:?}, {} square millimetres", area(&after));
        ask(&mut harness, Command::Undo);
        assert!(design(&harness) == before, "{commands:?} was not taken back");
    };
    let named = ElementCommand::Rename(0, "field".into());
    undone(&[named.into()], &|after| after.elements.iter().any(|element| element.name == "field"));
    let all = [ElementCommand::ChooseAll.into(), ElementCommand::Combine.into()];
    undone(&all, &|after| after.elements.len() == 1 && (area(after) - area(&before)).abs() < 1e-3);
    let one = [ElementCommand::Choose(0, Choice::Only).into(), ElementCommand::Remove.into()];
    let rest = area(&before) - before.elements[0].region.area();
    undone(&one, &|after| after.elements.len() == 2 && (area(after) - rest).abs() < 1e-9);

    // The hole in the middle is filled by a click, and opened again.
    harness.get_by_label("Picture with the outline over it").click();
    settle(&mut harness);
    assert!(area(&design(&harness)) > area(&before));
    ask(&mut harness, Command::Undo);
    assert_eq!(design(&harness), before);

    // Ribs of a leaf carved small are thickened.
    let mut harness = traced("leaf.png");
    type_into(&mut harness, "Length of the picture", "60");
    settle(&mut harness);
    let thin = |harness: &Harness<'_, App>| {
        let findings = &harness.state().proof().unwrap().findings;
        findings.iter().filter(|finding| finding.kind() == FindingKind::ThinWall).count()
    };
    let (walls, before) = (thin(&harness), design(&harness));
    assert!(walls > 0, "nothing is thin");
    ask(&mut harness, Command::Mend(Mend::Walls));
    ask(&mut harness, Command::ApplyMended);
    assert!(thin(&harness) < walls && area(&design(&harness)) != area(&before), "{walls} thin walls stay");
    ask(&mut harness, Command::Undo);
    assert_eq!(design(&harness), before);
}

#[test]
fn what_cannot_be_traced_is_said_and_the_outline_stays() {
    let mut harness = traced("leaf.png");
    let before = elements(&harness);
    harness.get_by_label("Specks under").scroll_to_me();
    settle(&mut harness);
    type_into(&mut harness, "Specks under", "900");
    settle(&mut harness);
    harness.get_by_label_contains("has nothing but specks");
    assert_eq!(elements(&harness), before);
    type_into(&mut harness, "Specks under", "1");
    settle(&mut harness);
    assert!(harness.query_by_label_contains("has nothing but specks").is_none());

    let mut harness = window::started(vec![], vec![]);
    let name = harness.state().job().unwrap().design().name.clone();
    ask(&mut harness, Command::OpenPicture(data("no-such.png")));
    settle(&mut harness);
    assert_eq!(harness.state().job().unwrap().design().name, name);
    assert!(harness.state().messages().last().unwrap().text.contains("no-such.png"));
}

/// So many squares that it takes a while to follow all of them.
fn large_picture() -> Vec<u8> {
    let is_ink = |x: u32, y: u32| (x % 40).max(y % 40) < 25;
    let picture =
        image::GrayImage::from_fn(4000, 3000, |x, y| image::Luma([if is_ink(x, y) { 0 } else { 255 }]));
    let mut bytes = Vec::new();
    picture.write_to(&mut std::io::Cursor::new(&mut bytes), image::ImageFormat::Png).unwrap();
    bytes
}

#[test]
fn a_large_picture_tells_its_steps_and_can_be_called_off() {
    let mut harness = window::started(vec![], vec![]);
    let before = harness.state().job().unwrap().clone();
    let open = Command::OpenBytes { name: "squares.png".into(), bytes: large_picture() };
    harness.state_mut().ask(open);
    let is_told = |harness: &Harness<'_, App>| harness.query_by_label_contains(" of 6: ").is_some();
    while !is_told(&harness) {
        harness.step();
        assert!(harness.state().is_opening(), "it was over before anything was told");
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    harness.get_by_label_contains("squares.png");
    click(&mut harness, "Cancel");
    settle(&mut harness);
    assert!(*harness.state().job().unwrap() == before, "the job was changed");
}

#[test]
fn a_drawing_without_a_picture_says_what_the_view_is_for() {
    let mut harness = window::started(vec![], vec![Some(data("leaf.png"))]);
    ask(&mut harness, Command::Show(spelk::app::Middle::Tracing));
    harness.get_by_label("This drawing was not traced from a picture");
    click(&mut harness, "Trace a picture…");
    settle(&mut harness);
    harness.get_by_label("Picture with the outline over it");
}

/// A drawing with pictures in it proofs without them; a click traces the one that is wanted.
#[test]
fn the_pictures_of_a_drawing_are_offered_and_none_is_taken_by_itself() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("card.svg");
    let image = |name: &str| support::embedded(&std::fs::read(data(name)).unwrap());
    let drawing = |images: &str| {
        format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90"><path id="card" d="M0 0H80V60H0Z"/>{images}</svg>"#
        )
    };
    std::fs::write(&path, drawing(&(image("badge.png") + &image("leaf.png")))).unwrap();
    let mut harness = window::started(vec![], vec![]);
    ask(&mut harness, Command::Open(path.clone()));
    settle(&mut harness);
    assert_eq!(elements(&harness), ["card"]);
    click(&mut harness, "Trace picture 2");
    settle(&mut harness);
    harness.get_by_label_contains("600 × 400 pixels");
    assert_eq!(elements(&harness), ["outline"]);
    // The drawing is a job of its own still.
    assert!(harness.query_all_by_label_contains("card").next().is_some());

    // Asked for by its file, one of several is not chosen either.
    ask(&mut harness, Command::OpenPicture(path));
    settle(&mut harness);
    assert!(harness.state().messages().last().unwrap().text.contains("2 pictures"));
}
