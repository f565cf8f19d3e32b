//! Elements with a depth and a cutter of their own: limits, what a cutter cannot enter, passes, surface,
//! sheets, and the saved job.

use crate::cli::{Run, spelk};
use crate::support::{change_clearing, change_cutter, job, proof_of, rectangle};
use glam::{DVec2, dvec2};
use proptest::prelude::*;
use spelk::geometry::Rect;
use spelk::job::{Edit, Job, Place, Reach, Treatment, saved};
use spelk::proof::{CutterRefusal, Facts, Finding, FindingKind, Limits, Proof, measure, proof, rate, uncut};
use spelk::relief::field::ideal;
use spelk::relief::time::Clock;
use spelk::relief::{HeightField, NEVER, PathKind, Plan, plan};
use spelk::sheet::Besides;
use spelk::sheet::json::proof_json;
use spelk::sheet::pdf::{BenchNotes, SheetSettings, bench_pdf};
use spelk::sheet::text::proof_text;
use spelk::shop::{Cutter, CutterShape};
use spelk::units::{LengthUnit, Mm};
use std::f64::consts::PI;

fn mm(length: f64) -> Mm {
    Mm::new(length)
}

fn close(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found}, not {expected} within {tolerance}");
}

/// A flat end of this diameter with long edges, trusted like the built-in one.
fn flat(diameter: f64) -> Cutter {
    Cutter {
        id: format!("flat-{diameter}"),
        name: format!("Flat end, {diameter} mm"),
        shape: CutterShape::Flat { diameter: mm(diameter) },
        flute_length: mm(30.0),
        pass_depth: mm(30.0),
        ..Cutter::find("flat-1/8in").unwrap().clone()
    }
}

fn vee(degrees: f64) -> Cutter {
    let shape = CutterShape::Vee { angle: degrees.to_radians(), tip: Mm::ZERO, diameter: mm(40.0) };
    Cutter { shape, ..Cutter { id: format!("v-{degrees}"), name: format!("V of {degrees}"), ..flat(3.0) } }
}

/// Two sunk trays 40 mm apart, the second 6 mm deep, the others 3 mm.
fn trays() -> Job {
    let mut job = job(
        Treatment::Sunk,
        &[
            ("shallow", vec![rectangle(0.0, 0.0, 30.0, 20.0)]),
            ("deep", vec![rectangle(70.0, 0.0, 30.0, 20.0)]),
        ],
    );
    job.apply(Edit::Cutter(Box::new(flat(3.0)))).unwrap();
    job.apply(Edit::OwnDepth { elements: vec![1], depth: Some(mm(6.0)) }).unwrap();
    job
}

/// A sunk panel, 3 mm deep, with two bars `wide` across and `apart` sunk 6 mm into it.
fn panel(wide: f64, apart: f64) -> Job {
    let bars = [rectangle(20.0, 15.0, wide, 20.0), rectangle(20.0 + wide + apart, 15.0, wide, 20.0)];
    let around = [vec![rectangle(0.0, 0.0, 60.0, 50.0)], bars.to_vec()].concat();
    let mut job = job(Treatment::Sunk, &[("panel", around), ("letters", bars.to_vec())]);
    job.apply(Edit::Cutter(Box::new(flat(3.0)))).unwrap();
    job.apply(Edit::OwnDepth { elements: vec![1], depth: Some(mm(6.0)) }).unwrap();
    job
}

fn found(proof: &Proof, kind: FindingKind) -> Vec<&Finding> {
    proof.findings.iter().filter(|finding| finding.kind() == kind && finding.facts.size_helps()).collect()
}

fn carved(job: &Job, pitch: f64) -> (HeightField, HeightField, Plan) {
    let measured = measure(job);
    let proof = proof(job, &measured, &rate(job, &measured));
    let corners = job.design().outline_box().corners().map(|p| proof.board_from_design.transform_point2(p));
    let area = Rect::around(corners).unwrap().grown(2.0);
    let blank = || HeightField::blank(area, mm(pitch), job.board().thickness);
    let plan = plan(job, &measured, &NEVER).unwrap();
    let mut real = blank();
    assert!(spelk::relief::field::carve(&mut real, &plan, &NEVER), "nothing calls it off");
    let ideal = ideal(job, &measured, blank(), &NEVER).unwrap();
    (real, ideal, plan)
}

fn on_board(job: &Job, x: f64, y: f64) -> DVec2 {
    proof_of(job).board_from_design.transform_point2(dvec2(x, y))
}

#[test]
fn each_tray_is_as_deep_as_it_is_set() {
    let job = trays();
    let (real, ideal, plan) = carved(&job, 0.25);
    for field in [&real, &ideal] {
        close(field.height_at(on_board(&job, 15.0, 10.0)), -3.0, 1e-6);
        close(field.height_at(on_board(&job, 85.0, 10.0)), -6.0, 1e-6);
        close(field.height_at(on_board(&job, 50.0, 10.0)), 0.0, 1e-6);
        close(f64::from(field.lowest()), -6.0, 1e-6);
    }
    // Length times width times depth; of the real surface the corners stay round.
    close(ideal.volume_removed(), 30.0 * 20.0 * (3.0 + 6.0), 60.0);
    let corners = (4.0 - PI) * 1.5 * 1.5;
    close(real.volume_removed(), (30.0 * 20.0 - corners) * (3.0 + 6.0), 60.0);
    assert_eq!(plan.cutters.len(), 1, "one cutter makes both");
    for line in &plan.lines {
        let deep = if line.place == Place::Element(1) { -6.0 } else { -3.0 };
        assert!(line.points.iter().all(|p| p.z == deep), "{line:?}");
    }
    let proof = proof_of(&job);
    assert_eq!(proof.stock.thickness_left, job.board().thickness - mm(6.0));
}

/// Depth `w / (2 tan(a / 2))`, each element by its own angle; capped at its own depth.
#[test]
fn each_v_is_as_deep_as_its_own_angle_asks() {
    let mut job = job(
        Treatment::Incised,
        &[
            ("usual", vec![rectangle(0.0, 0.0, 30.0, 4.0)]),
            ("steep", vec![rectangle(0.0, 20.0, 30.0, 4.0)]),
            ("capped", vec![rectangle(0.0, 40.0, 30.0, 4.0)]),
        ],
    );
    job = job.with([Edit::Cutter(Box::new(vee(90.0))), Edit::Depth(mm(10.0))]).unwrap();
    job.apply(Edit::OwnCutter { elements: vec![1], cutter: Some(Box::new(vee(60.0))) }).unwrap();
    job.apply(Edit::OwnDepth { elements: vec![2], depth: Some(mm(1.2)) }).unwrap();
    let (real, ideal, plan) = carved(&job, 0.05);
    let depths = [2.0, 2.0 / (PI / 6.0).tan(), 1.2];
    for (index, depth) in depths.into_iter().enumerate() {
        let place = on_board(&job, 15.0, 2.0 + 20.0 * index as f64);
        close(-real.height_at(place), depth, 0.08);
        close(-ideal.height_at(place), depth, 0.12);
        let lines = plan.lines.iter().filter(|line| line.place == Place::Element(index));
        let lowest = lines.flat_map(|line| &line.points).map(|p| p.z).fold(0.0, f64::min);
        close(-lowest, depth, 1e-4);
    }
    assert_eq!(plan.cutters.iter().map(|cutter| cutter.id.as_str()).collect::<Vec<_>>(), ["v-90", "v-60"]);
}

#[test]
fn a_groove_is_blocked_for_its_own_cutter_alone() {
    let grooves = [
        ("wide cutter", vec![rectangle(0.0, 0.0, 40.0, 4.0)]),
        ("narrow cutter", vec![rectangle(0.0, 30.0, 40.0, 4.0)]),
    ];
    let mut job = job(Treatment::Sunk, &grooves);
    job.apply(Edit::Cutter(Box::new(flat(6.0)))).unwrap();
    assert_eq!(found(&proof_of(&job), FindingKind::BlockedGroove).len(), 2);
    job.apply(Edit::OwnCutter { elements: vec![1], cutter: Some(Box::new(flat(3.0))) }).unwrap();
    let proof = proof_of(&job);
    let blocked = found(&proof, FindingKind::BlockedGroove);
    assert_eq!(blocked.len(), 1, "{:?}", proof.findings);
    assert_eq!((blocked[0].element(), blocked[0].limit()), (Some("wide cutter"), Some(mm(6.0))));
    assert_eq!(blocked[0].cutter(), None);
    // The other way round, it is the element's own cutter that is named.
    job.apply(Edit::Cutter(Box::new(flat(3.0)))).unwrap();
    job.apply(Edit::OwnCutter { elements: vec![1], cutter: Some(Box::new(flat(6.0))) }).unwrap();
    let proof = proof_of(&job);
    let blocked = found(&proof, FindingKind::BlockedGroove);
    assert_eq!((blocked.len(), blocked[0].element()), (1, Some("narrow cutter")));
    let words = spelk::words::finding::message(blocked[0], LengthUnit::Millimetres);
    assert!(words.contains("Flat end, 6 mm needs 6 mm"), "{words}");
}

/// Every inside corner keeps `(1 - pi / 4) r^2`, by the cutter that is at work there.
#[test]
fn what_is_left_uncut_is_told_by_element() {
    let mut job = trays();
    job.apply(Edit::OwnCutter { elements: vec![0], cutter: Some(Box::new(flat(8.0))) }).unwrap();
    let uncut = uncut(&job, &measure(&job));
    let corners = |diameter: f64| (4.0 - PI) * (0.5 * diameter).powi(2);
    close(uncut.area, corners(8.0) + corners(3.0), 1e-4);
    let [(Place::Element(0), first), (Place::Element(1), second)] = uncut.areas[..] else {
        panic!("{:?}", uncut.areas)
    };
    close(first, corners(8.0), 1e-4);
    close(second, corners(3.0), 1e-4);
}

#[test]
fn a_wall_between_two_is_held_to_the_more_demanding() {
    let blocks =
        [("left", vec![rectangle(0.0, 0.0, 20.0, 40.0)]), ("right", vec![rectangle(21.0, 0.0, 20.0, 40.0)])];
    let mut job = job(Treatment::Sunk, &blocks);
    job.apply(Edit::Cutter(Box::new(flat(3.0)))).unwrap();
    change_cutter(&mut job, |cutter| cutter.reference.across = Some(mm(2.5)));
    let limit = |job: &Job| {
        let proof = proof_of(job);
        let walls = found(&proof, FindingKind::ThinWall);
        assert_eq!(walls.len(), 1, "{:?}", proof.findings);
        close(walls[0].measured().unwrap().get(), 1.0, 1e-5);
        walls[0].limit().unwrap()
    };
    let at_depth = |depth: f64| limit(&job.with([Edit::Depth(mm(depth))]).unwrap());
    let (shallow, deep) = (at_depth(3.0), at_depth(6.0));
    // One pass to the full depth: twice the edge engaged is twice the push, 1.41 times as thick.
    close(deep / shallow, 2.0_f64.sqrt(), 2e-3);
    for element in 0..2 {
        let mut mixed = job.clone();
        mixed.apply(Edit::OwnDepth { elements: vec![element], depth: Some(mm(6.0)) }).unwrap();
        assert_eq!(limit(&mixed), deep);
        // A shallower side asks for less than the other.
        mixed.apply(Edit::OwnDepth { elements: vec![element], depth: Some(mm(1.0)) }).unwrap();
        assert_eq!(limit(&mixed), shallow);
        // A rougher cutter on one side asks for more.
        mixed.apply(Edit::OwnDepth { elements: vec![element], depth: None }).unwrap();
        let mut rough = flat(3.0);
        rough.reference.across = Some(mm(5.0));
        mixed.apply(Edit::OwnCutter { elements: vec![element], cutter: Some(Box::new(rough)) }).unwrap();
        close(limit(&mixed) / shallow, 2.0, 1e-6);
    }
}

#[test]
fn letters_in_a_sunk_panel_are_measured_by_themselves() {
    let mut job = panel(2.0, 8.0);
    let proof = proof_of(&job);
    let blocked = found(&proof, FindingKind::BlockedGroove);
    assert_eq!(blocked.len(), 2, "{:?}", proof.findings);
    for finding in blocked {
        assert_eq!((finding.element(), finding.limit()), (Some("letters"), Some(mm(3.0))));
        close(finding.measured().unwrap().get(), 2.0, 1e-5);
        assert!(finding.id.ends_with("-floor-2"), "{}", finding.id);
    }
    assert_eq!(proof.thinnest.groove.map(|groove| (groove.get() * 1e4).round()), Some(2e4));
    close(proof.thinnest.sound_factor.unwrap(), 1.5, 1e-4);
    job.apply(Edit::OwnCutter { elements: vec![1], cutter: Some(Box::new(flat(1.5))) }).unwrap();
    assert!(found(&proof_of(&job), FindingKind::BlockedGroove).is_empty());
    // As deep as the panel they are nothing but panel.
    job.apply(Edit::OwnCutter { elements: vec![1], cutter: None }).unwrap();
    job.apply(Edit::OwnDepth { elements: vec![1], depth: None }).unwrap();
    assert!(found(&proof_of(&job), FindingKind::BlockedGroove).is_empty());
}

/// The floor between two letters is a wall, as tall as they are deeper than it.
#[test]
fn what_is_left_of_a_floor_between_letters_is_a_wall() {
    let mut job = panel(8.0, 1.0);
    let proof = proof_of(&job);
    let walls = found(&proof, FindingKind::ThinWall);
    assert_eq!(walls.len(), 1, "{:?}", proof.findings);
    close(walls[0].measured().unwrap().get(), 1.0, 1e-5);
    // 3 mm tall: the limit of a wall beside a cut of 3 mm, the job's usual depth.
    close(walls[0].limit().unwrap() / Limits::of(&job).across, 1.0, 1e-3);
    assert_eq!(proof.thinnest.wall.map(|wall| (wall.get() * 1e4).round()), Some(1e4));
    // A panel nearly as deep as the letters leaves hardly a wall.
    job.apply(Edit::Depth(mm(5.9))).unwrap();
    assert!(found(&proof_of(&job), FindingKind::ThinWall).is_empty());
}

#[test]
fn letters_and_their_panel_come_out_at_their_depths() {
    for letters_cutter in [None, Some(flat(1.5))] {
        let mut job = panel(4.0, 8.0);
        job.apply(Edit::OwnCutter { elements: vec![1], cutter: letters_cutter.map(Box::new) }).unwrap();
        let (real, ideal, plan) = carved(&job, 0.2);
        for field in [&real, &ideal] {
            close(field.height_at(on_board(&job, 10.0, 25.0)), -3.0, 1e-6);
            close(field.height_at(on_board(&job, 28.0, 25.0)), -3.0, 1e-6);
            close(field.height_at(on_board(&job, 22.0, 25.0)), -6.0, 1e-6);
        }
        // Nothing is left standing along the letters' edges.
        let leaves = |x: f64| real.height_at(on_board(&job, x, 25.0));
        assert!((0..400).all(|i| leaves(15.0 + 0.05 * f64::from(i)) < -2.99), "a fin by a letter");
        let own = usize::from(job.carvings()[1].cutter.is_some());
        assert_eq!(plan.cutters.len(), 1 + own);
        for line in plan.lines.iter().filter(|line| line.place == Place::Element(1)) {
            assert_eq!(line.cutter as usize, own);
        }
        let time = Clock::new(&job, &plan).time(&job);
        assert_eq!((time.changes as usize, time.cutters.len(), time.elements.len()), (own, 1 + own, 2));
        assert!(time.elements.iter().all(|element| element.seconds > 1.0), "{:?}", time.elements);
    }
}

/// The ground has the job's depth and cutter, whatever an element in relief was once given.
#[test]
fn there_is_one_ground() {
    let plate = [rectangle(0.0, 0.0, 60.0, 40.0), rectangle(10.0, 10.0, 40.0, 20.0)];
    let panel = vec![rectangle(10.0, 10.0, 40.0, 20.0)];
    let mut job = job(Treatment::Relief, &[("plate", plate.to_vec()), ("panel", panel)]);
    job.apply(Edit::Cutter(Box::new(flat(3.0)))).unwrap();
    job.apply(Edit::OwnDepth { elements: vec![0], depth: Some(mm(9.0)) }).unwrap();
    job.apply(Edit::OwnCutter { elements: vec![0], cutter: Some(Box::new(flat(8.0))) }).unwrap();
    job.apply(Edit::Treat { elements: vec![1], treatment: Treatment::Sunk }).unwrap();
    job.apply(Edit::OwnDepth { elements: vec![1], depth: Some(mm(5.0)) }).unwrap();
    let (real, _, plan) = carved(&job, 0.25);
    close(real.height_at(on_board(&job, 30.0, 20.0)), -5.0, 1e-6);
    close(real.height_at(on_board(&job, 5.0, 20.0)), 0.0, 1e-6);
    close(real.height_at(on_board(&job, -1.5, 20.0)), -3.0, 1e-6);
    assert_eq!(plan.cutters, [flat(3.0)]);
}

#[test]
fn a_larger_cutter_clears_first_whatever_the_depth() {
    let mut job = trays();
    change_clearing(&mut job, |clearing| clearing.cutter = Some(flat(8.0)));
    job.apply(Edit::OwnCutter { elements: vec![1], cutter: Some(Box::new(flat(2.0))) }).unwrap();
    let (_, _, plan) = carved(&job, 0.5);
    assert_eq!(plan.cutters, [flat(8.0), flat(3.0), flat(2.0)]);
    let of = |cutter: u32| {
        let lines = plan.lines.iter().filter(move |line| line.cutter == cutter);
        lines.map(|line| line.place.element().unwrap()).collect::<std::collections::BTreeSet<_>>()
    };
    assert_eq!((of(0).len(), of(1), of(2)), (2, [0].into(), [1].into()));
    assert!(plan.lines.windows(2).all(|pair| pair[0].cutter <= pair[1].cutter), "each is put in once");
    assert!(plan.lines.iter().any(|line| line.kind == PathKind::Outline));
}

#[test]
fn what_a_cutter_cannot_do_is_told_of_the_element_it_is_for() {
    let mut job = trays();
    job.apply(Edit::OwnCutter {
        elements: vec![1],
        cutter: Some(Box::new(Cutter { flute_length: mm(5.0), ..flat(2.0) })),
    })
    .unwrap();
    let limits = |job: &Job| -> Vec<(CutterRefusal, Option<String>)> {
        let of_cutter = |finding: &Finding| match &finding.facts {
            Facts::CutterLimit { refusal, .. } => Some((*refusal, finding.element().map(str::to_owned))),
            _ => None,
        };
        proof_of(job).findings.iter().filter_map(of_cutter).collect()
    };
    assert_eq!(
        limits(&job),
        [(CutterRefusal::TooDeep { depth: mm(6.0), edges: mm(5.0) }, Some("deep".to_owned()))]
    );
    job.apply(Edit::OwnCutter { elements: vec![1], cutter: Some(Box::new(vee(60.0))) }).unwrap();
    assert_eq!(limits(&job), [(CutterRefusal::PointOnAFloor, Some("deep".to_owned()))]);
    job.apply(Edit::Treat { elements: vec![1], treatment: Treatment::Incised }).unwrap();
    assert_eq!(limits(&job), []);
    job.apply(Edit::OwnCutter { elements: vec![1], cutter: None }).unwrap();
    assert_eq!(limits(&job), [(CutterRefusal::NoPoint, None)]);
    let rejected = job.apply(Edit::OwnDepth { elements: vec![1], depth: Some(mm(f64::NAN)) }).unwrap_err();
    assert!(rejected.to_string().contains("element's depth"));
}

#[test]
fn sheets_tell_what_is_cut_otherwise() {
    let mut job = panel(2.0, 8.0);
    job.apply(Edit::OwnCutter { elements: vec![1], cutter: Some(Box::new(flat(1.5))) }).unwrap();
    let (proof, unit) = (proof_of(&job), LengthUnit::Millimetres);
    let text = proof_text(&job, &proof, &Besides::default(), unit);
    assert!(text.contains("letters: Flat end, 1.5 mm, 6 mm deep"), "{text}");
    let json: serde_json::Value =
        serde_json::from_str(&proof_json(&job, &proof, &Besides::default(), unit)).unwrap();
    let own = &json["own_cuts"][0];
    assert_eq!((own["element"].as_str(), own["depth_mm"].as_f64()), (Some("letters"), Some(6.0)));
    assert_eq!((own["cutter"].as_str(), own["groove_mm"].as_f64()), (Some("flat-1.5"), Some(1.5)));
    let uses = job.cutters();
    assert_eq!(uses.iter().map(|one| &one.cutter.id).collect::<Vec<_>>(), ["flat-3", "flat-1.5"]);
}

#[test]
fn notes_are_kept_and_change_nothing_that_is_worked_out() {
    let mut job = panel(2.0, 8.0);
    let bare = job.clone();
    let proof = proof_of(&job);
    let finding = proof.findings[0].id.clone();
    let ticked = job.apply(Edit::Accept { finding, accepted: true }).unwrap();
    let noted = job.apply(Edit::Remark("Brass hinges\nnot steel".to_owned())).unwrap();
    assert_eq!([ticked.reach, noted.reach], [Reach::Notes; 2]);
    assert!(job != bare && Reach::between(&job, &bare).is_only_noted());
    let opened = saved::from_text(saved::to_text(&job).as_bytes()).unwrap();
    assert_eq!((opened.accepted(), opened.remark()), (job.accepted(), job.remark()));
    let text = proof_text(&job, &proof, &Besides::default(), LengthUnit::Millimetres);
    assert!(
        text.contains("accepted") && text.contains("Brass hinges") && text.contains("not steel"),
        "{text}"
    );
    let sheet = |job: &Job| bench_pdf(job, &proof, &BenchNotes::default(), &SheetSettings::default());
    let ticked = job.with([Edit::Remark(String::new())]).unwrap();
    assert!(sheet(&bare) != sheet(&ticked) && sheet(&ticked) != sheet(&job), "both are printed");
    let other = job.with_design(std::sync::Arc::new((**job.design()).clone()));
    assert!(other.accepted().is_empty() && other.remark() == job.remark());
}

/// A job of the first version, as it was written then.
#[test]
fn jobs_of_the_first_version_still_open() {
    let job = {
        let mut job = trays();
        job.apply(Edit::OwnDepth { elements: vec![1], depth: None }).unwrap();
        job
    };
    let text = saved::to_text(&job);
    for new in ["\"accepted\"", "\"remark\""] {
        assert!(!text.contains(new), "{new} is left out where nothing is noted");
    }
    // What was noticed was a list of sentences then.
    let notices = "\"notices\": {\n      \"kept\": [],\n      \"more\": 0\n    }";
    let old = text.replacen("\"version\": 5", "\"version\": 1", 1).replacen(notices, "\"notices\": []", 1);
    assert!(old.contains("\"version\": 1") && old.contains("\"notices\": []"), "{old}");
    let opened = saved::from_text(old.as_bytes()).unwrap();
    assert!(opened.with_design(job.design().clone()) == job);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn carvings_and_notes_survive_saving(
        depths in prop::collection::vec(prop::option::of(0.1..20.0_f64), 2),
        cutters in prop::collection::vec(prop::option::of(0..15_usize), 2),
        treatments in prop::collection::vec(0..5_usize, 2),
        accepted in prop::collection::btree_set("[a-z_]{1,12}-[0-9]{1,4}", 0..4),
        remark in "(?s).{0,60}",
    ) {
        let mut job = trays();
        for index in 0..job.carvings().len() {
            let cutter = cutters[index].map(|index| Box::new(spelk::shop::cutters()[index].clone()));
            let elements = vec![index];
            job = job
                .with([
                    Edit::Treat { elements: elements.clone(), treatment: Treatment::ALL[treatments[index]] },
                    Edit::OwnDepth { elements: elements.clone(), depth: depths[index].map(Mm::new) },
                    Edit::OwnCutter { elements, cutter },
                ])
                .unwrap();
        }
        let accepted = || accepted.iter().map(|id| Edit::Accept { finding: id.clone(), accepted: true });
        job = job.with(accepted().chain([Edit::Remark(remark)])).unwrap();
        let text = saved::to_text(&job);
        let opened = saved::from_text(text.as_bytes()).unwrap();
        prop_assert_eq!(saved::to_text(&opened), text);
        let same_design = opened.with_design(job.design().clone()).with(accepted()).unwrap();
        prop_assert!(same_design == job);
    }

    /// One depth and cutter given to every element is the job's own.
    #[test]
    fn the_same_of_its_own_as_the_job_s_changes_nothing(
        depth in 1.0..9.0_f64,
        wide in 1.0..6.0_f64,
        apart in 0.5..4.0_f64,
    ) {
        let mut usual = panel(wide, apart);
        usual.apply(Edit::OwnDepth { elements: vec![1], depth: None }).unwrap();
        usual = usual.with([Edit::Depth(mm(depth)), Edit::Cutter(Box::new(flat(2.0)))]).unwrap();
        let mut own = usual.clone();
        let elements: Vec<usize> = (0..own.carvings().len()).collect();
        own = own
            .with([
                Edit::OwnDepth { elements: elements.clone(), depth: Some(mm(depth)) },
                Edit::OwnCutter { elements, cutter: Some(Box::new(flat(2.0))) },
                Edit::Depth(mm(0.7)),
                Edit::Cutter(Box::new(flat(5.0))),
            ])
            .unwrap();
        let (usual_proof, own_proof) = (proof_of(&usual), proof_of(&own));
        let told = |proof: &Proof| -> Vec<(String, Option<Mm>, Option<Mm>)> {
            let places = proof.findings.iter().filter(|finding| !finding.axis().is_empty());
            places.map(|finding| (finding.id.clone(), finding.measured(), finding.limit())).collect()
        };
        prop_assert_eq!(told(&usual_proof), told(&own_proof));
        prop_assert_eq!(usual_proof.stock.thickness_left, own_proof.stock.thickness_left);
        let lines = |job: &Job| plan(job, &measure(job), &NEVER).unwrap();
        prop_assert_eq!(lines(&usual), lines(&own));
    }
}

const PANEL: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="50mm" viewBox="0 0 60 50">
<g id="panel"><path d="M0 0H60V50H0Z"/></g><g id="letters"><path d="M20 15H22V35H20Z"/></g></svg>"#;

#[test]
fn the_command_line_sets_an_element_s_own() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("panel.svg");
    std::fs::write(&file, PANEL).unwrap();
    let file = file.to_str().unwrap();
    let proof = |more: &[&str]| spelk(&[&["proof", file, "--treatment", "sunk", "--json"], more].concat());
    let deep = ["--element-depth", "letters=6mm"];
    let json = |run: &Run| -> serde_json::Value { serde_json::from_str(&run.out).unwrap() };
    assert!(json(&proof(&[])).get("own_cuts").is_none());
    let run = proof(&deep);
    assert_eq!(run.status, 1, "the letters are too narrow: {}", run.out);
    assert_eq!(json(&run)["own_cuts"][0]["depth_mm"].as_f64(), Some(6.0));
    let own_cutter = ["--element-cutter", "letters=flat-1/16in"];
    let run = proof(&[&deep[..], &own_cutter].concat());
    assert_eq!(run.status, 0, "{}", run.out);
    let run = proof(&[&deep[..], &["--element-depth", "letters=usual"]].concat());
    assert!(json(&run).get("own_cuts").is_none());
    for (option, value, words) in [
        ("--element-depth", "letters", "not NAME=D"),
        ("--element-depth", "words=3mm", "no element 'words'"),
        ("--element-depth", "letters=deep", "deep"),
        ("--element-depth", "letters=-3mm", "depth"),
        ("--element-cutter", "letters=spoon", "no cutter 'spoon'"),
    ] {
        let Run { status, out, err } = spelk(&["proof", file, option, value]);
        assert_eq!((status, out.as_str(), err.lines().count()), (2, "", 1), "{value}: {err}");
        assert!(err.contains(words), "{value}: {err}");
    }
}

#[test]
fn options_of_the_bench_sheet_go_over_what_the_job_says() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let mut job = panel(2.0, 8.0);
    job.apply(Edit::Remark("\u{10fffd}".to_owned())).unwrap();
    job.apply(Edit::Accept { finding: "gone-17".to_owned(), accepted: true }).unwrap();
    saved::save(&job, folder.path().join("noted.spelk").as_path()).unwrap();
    let sheet = |more: &[&str]| {
        spelk(&[&["sheet", &path("noted.spelk"), "-o", &path("bench.pdf"), "--force"], more].concat())
    };
    // The job's remark is printed: a letter no typeface has is told.
    let Run { status, err, .. } = sheet(&[]);
    assert_eq!(status, 1, "{err}");
    assert!(err.contains("no typeface here has '\u{10fffd}'"), "{err}");
    let noted = std::fs::read(path("bench.pdf")).unwrap();
    let Run { err, .. } = sheet(&["--remark", "Oak", "--accept", "blocked_groove"]);
    assert_eq!(err, "");
    assert_ne!(std::fs::read(path("bench.pdf")).unwrap(), noted);
}
