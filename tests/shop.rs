//! The shop's own things: kept, found again, and refused where they make no sense.

use spelk::shop::{
    Aside, Cutter, CutterPart, CutterShape, Money, RackError, Shop, ShopNotice, Wood, WoodPart, change_rack,
    change_rack_file, cutters, open_rack, own_id, woods,
};
use spelk::units::Mm;

fn own_cutter(name: &str) -> Cutter {
    let copied = Cutter::find("flat-1/8in").unwrap().clone();
    let id = own_id(name, |id| Cutter::find(id).is_some());
    Cutter { id, name: name.to_owned(), ..copied }
}

#[test]
fn a_kept_cutter_is_found_again_and_others_stay_as_they_were() {
    let folder = tempfile::tempdir().unwrap();
    // A folder that is not there yet is made.
    let folder = folder.path().join("not yet");
    let (first, mut second) = (own_cutter("Old faithful"), own_cutter("Short one"));
    Shop::keep_cutter(&folder, &first).unwrap();
    Shop::keep_cutter(&folder, &second).unwrap();
    second.flutes = 3;
    Shop::keep_cutter(&folder, &second).unwrap();
    let (shop, notices) = Shop::open(&folder, &Money::default());
    assert!(notices.is_empty(), "{notices:?}");
    assert_eq!(shop.cutters.len(), cutters().len() + 2);
    assert_eq!(shop.cutter(&first.id), Some(&first));
    assert_eq!(shop.cutter(&second.id), Some(&second));
    assert!(Shop::remove_cutter(&folder, &first.id).unwrap(), "it was there");
    assert!(!Shop::remove_cutter(&folder, &first.id).unwrap(), "it is gone");
    let (shop, _) = Shop::open(&folder, &Money::default());
    assert_eq!((shop.cutter(&first.id), shop.cutter(&second.id)), (None, Some(&second)));
}

#[test]
fn an_entry_of_a_later_program_is_left_as_it_was_written() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("cutters.json");
    std::fs::write(&path, r#"[{"id": "later", "lasers": 2.5}]"#).unwrap();
    Shop::keep_cutter(folder.path(), &own_cutter("Old faithful")).unwrap();
    let kept: serde_json::Value = serde_json::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap();
    assert_eq!(kept[0], serde_json::json!({"id": "later", "lasers": 2.5}));
    assert_eq!(kept[1]["name"], "Old faithful");
}

#[test]
fn a_damaged_file_is_set_aside_and_never_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let plum = Wood { density: Some(795.0), ..Wood::own("own-plum".into(), "Plum".into()) };
    let keep = || Shop::keep_wood(folder.path(), &plum).unwrap();
    for (damage, kept_as) in [("[{", "woods.damaged.json"), ("{}", "woods.damaged-2.json")] {
        std::fs::write(at("woods.json"), damage).unwrap();
        assert!(Shop::remove_wood(folder.path(), "own-plum").is_err(), "nothing can be taken out of it");
        assert_eq!(std::fs::read_to_string(at("woods.json")).unwrap(), damage);
        assert_eq!(keep(), Some(Aside { path: at("woods.json"), kept_as: at(kept_as) }));
        assert_eq!(std::fs::read_to_string(at(kept_as)).unwrap(), damage);
        assert_eq!(Shop::open(folder.path(), &Money::default()).0.wood("own-plum"), Some(&plum));
        assert_eq!(keep(), None);
    }
}

#[test]
fn a_damaged_rack_is_set_aside_and_one_that_is_named_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("boards.json");
    std::fs::write(&path, "no rack").unwrap();
    let unchanged =
        change_rack(folder.path(), |_| Err::<(), anyhow::Error>(anyhow::anyhow!("no such board")));
    assert!(unchanged.is_err());
    assert_eq!(std::fs::read_to_string(&path).unwrap(), "no rack");
    assert!(
        change_rack_file(&path, |_| Ok::<(), RackError>(())).is_err(),
        "a file of any name may be another thing"
    );
    let (boards, aside) = change_rack(folder.path(), |_| Ok::<(), RackError>(())).unwrap();
    assert!(boards.is_empty());
    let kept_as = aside.unwrap().kept_as;
    assert_eq!(kept_as.file_name().unwrap(), "boards.damaged.json");
    assert_eq!(std::fs::read_to_string(kept_as).unwrap(), "no rack");
    assert!(open_rack(folder.path()).unwrap().is_empty());
}

#[test]
fn a_kept_wood_is_found_again() {
    let folder = tempfile::tempdir().unwrap();
    let mut plum = Wood::own("own-plum".into(), "Plum".into());
    plum.density = Some(795.0);
    Shop::keep_wood(folder.path(), &plum).unwrap();
    let (shop, notices) = Shop::open(folder.path(), &Money::default());
    assert!(notices.is_empty(), "{notices:?}");
    assert_eq!(shop.wood("own-plum"), Some(&plum));
    assert!(Shop::remove_wood(folder.path(), "own-plum").unwrap(), "it was there");
    assert_eq!(Shop::open(folder.path(), &Money::default()).0.woods.len(), woods().len());
}

#[test]
fn an_own_entry_that_makes_no_sense_is_passed_over_and_told_of() {
    let folder = tempfile::tempdir().unwrap();
    let fine = own_cutter("Old faithful");
    let mut bad = own_cutter("No feed");
    bad.feed = -1.0;
    let text = serde_json::to_string(&[&bad, &fine]).unwrap();
    std::fs::write(folder.path().join("cutters.json"), text).unwrap();
    let (shop, notices) = Shop::open(folder.path(), &Money::default());
    assert_eq!(shop.cutters.len(), cutters().len() + 1);
    assert!(
        matches!(&notices[..], [ShopNotice::WrongEntry { name, .. }] if name == "No feed"),
        "{notices:?}"
    );
}

#[test]
fn what_is_built_in_makes_sense() {
    for cutter in cutters() {
        assert_eq!(cutter.problems(), [], "{}", cutter.id);
    }
    for wood in woods() {
        assert_eq!(wood.problems(), [], "{}", wood.id);
    }
}

#[test]
fn each_part_of_a_cutter_is_looked_at() {
    use CutterPart as Part;
    let wrong = |change: &dyn Fn(&mut Cutter)| {
        let mut cutter = own_cutter("Old faithful");
        change(&mut cutter);
        let problems = cutter.problems();
        assert!(Shop::keep_cutter(std::path::Path::new("nowhere"), &cutter).is_err(), "{problems:?}");
        problems.iter().map(|problem| problem.part).collect::<Vec<_>>()
    };
    let mm = Mm::new;
    assert_eq!(wrong(&|c| c.name = " ".into()), [Part::Name]);
    assert_eq!(wrong(&|c| c.shape = CutterShape::Flat { diameter: mm(0.0) }), [Part::Diameter]);
    let vee = |degrees: f64, tip| CutterShape::Vee { angle: degrees.to_radians(), tip, diameter: mm(6.0) };
    assert_eq!(wrong(&|c| c.shape = vee(180.0, mm(0.1))), [Part::Angle]);
    assert_eq!(wrong(&|c| c.shape = vee(60.0, mm(6.0))), [Part::Tip]);
    let tapered =
        |ball, lean: f64| CutterShape::TaperedBall { ball, lean: lean.to_radians(), diameter: mm(6.0) };
    assert_eq!(wrong(&|c| c.shape = tapered(mm(7.0), 5.0)), [Part::Ball]);
    assert_eq!(wrong(&|c| c.shape = tapered(mm(1.0), 60.0)), [Part::Lean]);
    assert_eq!(wrong(&|c| c.flutes = 0), [Part::Flutes]);
    assert_eq!(wrong(&|c| c.feed = f64::NAN), [Part::Feed]);
    assert_eq!(wrong(&|c| c.plunge = 0.0), [Part::Plunge]);
    assert_eq!(wrong(&|c| c.pass_depth = c.flute_length + mm(1.0)), [Part::PassDepth]);
    assert_eq!(wrong(&|c| c.stepover = 1.5), [Part::Stepover]);
    assert_eq!(wrong(&|c| c.reference.along = mm(-1.0)), [Part::Along]);
    assert_eq!(wrong(&|c| c.reference.across = Some(mm(f64::NAN))), [Part::Across]);
    assert_eq!(wrong(&|c| c.reference.height = mm(0.0)), [Part::Height]);
    assert_eq!(wrong(&|c| c.reference.source = String::new()), [Part::Source]);
}

#[test]
fn each_part_of_a_wood_is_looked_at() {
    let wrong = |change: &dyn Fn(&mut Wood)| {
        let mut wood = Wood::own("own-plum".into(), "Plum".into());
        assert_eq!(wood.problems(), [], "what is not known is no problem");
        change(&mut wood);
        wood.problems().iter().map(|problem| problem.part).collect::<Vec<_>>()
    };
    assert_eq!(wrong(&|w| w.name = String::new()), [WoodPart::Name]);
    assert_eq!(wrong(&|w| w.density = Some(0.0)), [WoodPart::Density]);
    assert_eq!(wrong(&|w| w.tension_across = Some(-2.0)), [WoodPart::TensionAcross]);
    assert_eq!(wrong(&|w| w.movement_tangential = Some(0.33)), [WoodPart::MovementTangential]);
    assert_eq!(wrong(&|w| w.movement_radial = Some(f64::NAN)), [WoodPart::MovementRadial]);
}

#[test]
fn own_ids_are_like_names_and_taken_once() {
    let taken = |id: &str| ["own-plum", "own-plum-2"].contains(&id);
    assert_eq!(own_id("Flat end, 1/8 in", taken), "own-flat-end-1-8-in");
    assert_eq!(own_id("Plum", taken), "own-plum-3");
    assert_eq!(own_id("\u{2026}", taken), "own");
}
