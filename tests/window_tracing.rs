//! A picture traced in the window; by label, as in `window.rs`.

use super::window::{self, ask, click, settle, type_into};
use crate::support;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use spelk::app::{App, Command};
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
