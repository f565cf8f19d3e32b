//! What would help, beside the verdict: looked at, taken, taken back.

use crate::window::{ask, settle, started, until};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use spelk::app::{App, Command};
use spelk::proof::Severity;
use spelk::units::LengthUnit;
use spelk::words;

const UNIT: LengthUnit = LengthUnit::Millimetres;

/// The window with a sample that is unsound, once it is known what would help.
fn advised() -> Harness<'static, App> {
    let mut harness = started(vec![], vec![]);
    ask(&mut harness, Command::OpenSample("boat-nameboard"));
    until(&mut harness, App::is_advised);
    settle(&mut harness);
    assert!(harness.state().offers().len() > 1, "one offer or none");
    harness
}

#[test]
fn the_best_offer_is_looked_at_taken_and_taken_back() {
    let mut harness = advised();
    let before = harness.state().job().unwrap().clone();
    let verdict = harness.state().proof().unwrap().verdict.clone();
    let offer = harness.state().offers()[0].clone();
    let label = words::advice::changes(&offer, UNIT);
    let preview = words::advice::preview(&offer, UNIT);
    assert_eq!(offer.severity(), Severity::Sound);

    harness.get_by_label(&label).hover();
    settle(&mut harness);
    assert_eq!(harness.state().previewed().unwrap().verdict, offer.after.proof.verdict);
    harness.get_by_label(&preview);
    assert!(*harness.state().job().unwrap() == before, "looking changes nothing");
    let sound = words::verdict::sentence(&offer.after.proof.verdict, UNIT);
    assert!(harness.query_by_label(&sound).is_none(), "nothing says that it is sound");

    harness.hover_at(eframe::egui::pos2(640.0, 700.0));
    settle(&mut harness);
    assert!(harness.state().previewed().is_none());
    harness.get_by_label(&words::verdict::sentence(&verdict, UNIT));

    harness.get_by_label(&label).click();
    settle(&mut harness);
    assert_eq!(harness.state().proof().unwrap().verdict, offer.after.proof.verdict);
    assert!(*harness.state().job().unwrap() == before.with([offer.edit()]).unwrap());

    ask(&mut harness, Command::Undo);
    assert!(*harness.state().job().unwrap() == before, "one step takes it back");
}

#[test]
fn the_other_ways_are_under_one_button() {
    let mut harness = advised();
    let offers: Vec<_> = harness.state().offers().into_iter().cloned().collect();
    let second = words::advice::changes(&offers[1], UNIT);
    assert!(harness.query_by_label(&second).is_none());
    harness.get_by_label("Other ways").click();
    harness.run_ok();
    for offer in &offers[1..] {
        harness.get_by_label(&words::advice::changes(offer, UNIT));
    }
    harness.get_by_label(&second).click();
    settle(&mut harness);
    assert_eq!(harness.state().proof().unwrap().verdict, offers[1].after.proof.verdict);
}

#[test]
fn advice_is_kept_until_the_job_changes() {
    let mut harness = advised();
    ask(&mut harness, Command::Edit(spelk::job::Edit::Remark("mind the knot".to_owned())));
    assert!(harness.state().is_advised(), "a remark changes nothing");
    let size = spelk::job::Size::Factor(0.3);
    harness.state_mut().ask(Command::Edit(spelk::job::Edit::Size(size)));
    harness.step();
    assert!(!harness.state().is_advised(), "it is of another size");
    until(&mut harness, App::is_advised);
}
