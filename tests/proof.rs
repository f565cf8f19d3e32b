//! Limits, findings, the verdict, and the saved job.

use crate::support::{
    change_board, change_cutter, change_machine, design, job, proof_of, rectangle, ring, treat,
};
use glam::dvec2;
use proptest::prelude::*;
use spelk::geometry::{FillRule, Region, widths};
use spelk::job::Treatment::{Pierced, Sunk};
use spelk::job::{Edit, Job, Placement, Size, Treatment, Turn, saved};
use spelk::proof::wall::Governs;
use spelk::proof::{FindingKind, Limits, Severity, WallEnds, measure, proof, rate, uncut};
use spelk::sheet::Besides;
use spelk::shop::{
    Blemish, BlemishKind, BlemishShape, BoardEdge, BoardPhoto, Cutter, CutterShape, FeedDirection, Planed,
    ReferenceWall, Sawn, StockCheck, Wood, cutters, woods,
};
use spelk::units::{LengthUnit, Mm};
use spelk::words;
use std::f64::consts::{FRAC_PI_2, PI};
use std::sync::Arc;

fn close(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found}, not {expected}");
}

/// A cutter that is trusted with 1.5 mm along and 2.5 mm across at 3 mm tall, in basswood.
fn cutter() -> Cutter {
    Cutter {
        id: "test".to_owned(),
        name: "Flat end, 3 mm".to_owned(),
        shape: CutterShape::Flat { diameter: Mm::new(3.0) },
        flute_length: Mm::new(20.0),
        flutes: 2,
        feed: 1500.0,
        plunge: 500.0,
        spindle_speed: 18_000.0,
        pass_depth: Mm::new(1.5),
        stepover: 0.4,
        give: Mm::new(0.1),
        reference: ReferenceWall {
            along: Mm::new(1.5),
            across: Some(Mm::new(2.5)),
            height: Mm::new(3.0),
            length: None,
            pass: Mm::new(1.5),
            feed_per_tooth: Mm::new(1500.0 / 36_000.0),
            sawn: Sawn::Flat,
            wood: "basswood_american".to_owned(),
            shops_wood: None,
            source: "test".to_owned(),
        },
        experience: None,
    }
}

fn with_cutter(mut job: Job) -> Job {
    job.apply(Edit::Cutter(Box::new(cutter()))).unwrap();
    job
}

/// Two wide blocks joined by a bar, standing: the bar is a wall along the grain, 200 mm of it free, so that at half
/// size and more it does not feel its ends.
fn bar_between_blocks(thickness: f64) -> Job {
    let blocks = ring(&[
        (0.0, 0.0),
        (40.0, 0.0),
        (40.0, 20.0 - thickness / 2.0),
        (240.0, 20.0 - thickness / 2.0),
        (240.0, 0.0),
        (280.0, 0.0),
        (280.0, 40.0),
        (240.0, 40.0),
        (240.0, 20.0 + thickness / 2.0),
        (40.0, 20.0 + thickness / 2.0),
        (40.0, 40.0),
        (0.0, 40.0),
    ]);
    with_cutter(job(Treatment::Relief, &[("bar", vec![blocks])]))
}

#[test]
fn a_wood_with_no_published_strength_says_what_stands_in() {
    let mut job = bar_between_blocks(2.0);
    job.apply(Edit::Wood(Box::new(Wood::find("maple_sugar").unwrap().clone()))).unwrap();
    assert_eq!(job.wood().tension_across, None);
    let limits = Limits::of(&job);
    let stand_in = limits.basis.stand_in.clone().expect("sugar maple has no published value");
    assert!(
        words::limits::source(&limits, LengthUnit::Millimetres).contains(&stand_in),
        "{stand_in} is named"
    );
    let thin = proof_of(&job.with([Edit::Size(Size::Factor(0.4))]).unwrap());
    let said = words::finding::message(&thin.findings[0], LengthUnit::Millimetres);
    assert!(said.contains(&stand_in), "the finding says it: {said}");
    for wood in woods() {
        job.apply(Edit::Wood(Box::new(wood.clone()))).unwrap();
        assert_eq!(Limits::of(&job).basis.stand_in.is_some(), wood.tension_across.is_none(), "{}", wood.id);
    }
}

#[test]
fn a_thin_wall_is_found_measured_and_said() {
    let mut job = bar_between_blocks(2.0);
    job.apply(Edit::Size(Size::Factor(0.5))).unwrap();
    let proof = proof_of(&job);
    assert_eq!(proof.verdict.severity, Severity::Unsound);
    let walls: Vec<_> = proof.findings.iter().filter(|f| f.kind() == FindingKind::ThinWall).collect();
    assert_eq!(walls.len(), 1);
    close(walls[0].measured().unwrap().get(), 1.0, 1e-5);
    close(walls[0].limit().unwrap().get(), 1.5, 2e-3);
    close(proof.thinnest.wall.unwrap().get(), 1.0, 1e-5);
    close(proof.thinnest.sound_factor.unwrap(), 0.75, 1e-3);
    // The middle of the bar is the middle of the board.
    close(walls[0].at.y, job.board().width.get() / 2.0, 1e-3);
    let said = words::verdict::sentence(&proof.verdict, LengthUnit::Millimetres);
    assert!(said.contains("1 mm") && said.contains("1.5 mm"), "{said}");
    job.apply(Edit::Size(Size::Factor(0.751))).unwrap();
    assert_eq!(proof_of(&job).verdict.severity, Severity::Sound);
}

#[test]
fn the_limit_stays_where_it_is_while_the_walls_shrink() {
    let job = bar_between_blocks(2.0);
    let measured = measure(&job);
    let ratings = rate(&job, &measured);
    for step in 1..=40 {
        let factor = f64::from(step) * 0.05;
        let job = job.with([Edit::Size(Size::Factor(factor))]).unwrap();
        let proof = proof(&job, &measured, &ratings);
        close(proof.thinnest.wall.unwrap().get(), 2.0 * factor, 1e-5);
        close(proof.limits.usual().along.get(), 1.5, 1e-12);
        let thin = proof.findings.iter().any(|finding| finding.kind() == FindingKind::ThinWall);
        // Shorter than ten times its height or so, what it is tied to holds it as well.
        if factor >= 0.5 || 2.0 * factor < 0.1 {
            assert_eq!(thin, 2.0 * factor < 1.5 * (1.0 - 1e-3), "at {factor}");
        }
    }
}

/// A strip that bends from along the grain to across, narrower where it runs along, between two blocks.
fn bent_wall() -> Job {
    let quarter = |radius: f64, across: f64| {
        (0..=24).map(move |i| {
            let turn = FRAC_PI_2 * f64::from(i) / 24.0;
            // Wider where it runs across.
            dvec2(0.0, 0.0) + glam::DVec2::from_angle(turn) * (radius + across * (1.0 - turn / FRAC_PI_2))
        })
    };
    let strip: Vec<_> =
        quarter(31.6, 0.3).chain(quarter(30.0, 0.0).collect::<Vec<_>>().into_iter().rev()).collect();
    let mut outline = vec![dvec2(29.0, 0.0), dvec2(29.0, -20.0), dvec2(60.0, -20.0), dvec2(60.0, 0.0)];
    outline.extend(strip.iter().take(25));
    outline.extend([dvec2(0.0, 60.0), dvec2(-20.0, 60.0), dvec2(-20.0, 29.0), dvec2(0.0, 29.0)]);
    outline.extend(strip.iter().skip(25));
    with_cutter(job(Treatment::Relief, &[("hook", vec![outline])]))
}

/// While the handle moves down, a finding keeps its name until it grows together with another.
#[test]
fn findings_keep_their_names_while_the_size_moves() {
    let sample = |sample| spelk::job::sample::sample_job(sample).unwrap();
    let mut jobs = vec![bent_wall(), bar_between_blocks(2.0)];
    jobs.extend(spelk::design::samples::samples().iter().map(sample));
    for mut job in jobs {
        let measured = measure(&job);
        let ratings = rate(&job, &measured);
        let mut before: Vec<spelk::proof::Finding> = Vec::new();
        for step in (2..=200).rev() {
            job.apply(Edit::Size(Size::Factor(f64::from(step) * 0.01))).unwrap();
            let found = proof(&job, &measured, &ratings).findings;
            let thin: Vec<_> = found.into_iter().filter(|finding| !finding.axis().is_empty()).collect();
            let mut names: Vec<_> = thin.iter().map(|finding| &finding.id).collect();
            names.sort_unstable();
            assert!(names.windows(2).all(|pair| pair[0] != pair[1]), "each has a name of its own");
            for old in &before {
                let holds = |finding: &&spelk::proof::Finding| {
                    finding.kind() == old.kind()
                        && finding.axis().iter().any(|part| part[0].at == old.axis()[0][0].at)
                };
                let now: Vec<_> = thin.iter().filter(holds).collect();
                // A wall that is tied has its tie nearer as it shrinks, and may come out of it sound.
                let is_tied = old.wall().is_some_and(|wall| wall.run.ends != WallEnds::BothFree);
                assert!(is_tied || !now.is_empty(), "{} is still there at {step} %", old.id);
                if now.is_empty() {
                    continue;
                }
                let joined = before.iter().filter(|other| {
                    now.iter().any(|now| now.axis().iter().any(|part| part[0].at == other.axis()[0][0].at))
                });
                // What names a tied wall may change with where along it is worst.
                if joined.count() == 1 && !is_tied {
                    assert_eq!(now[0].id, old.id, "at {step} % of {}", job.design().name);
                }
            }
            before = thin;
        }
        assert!(!before.is_empty(), "something of {} is thin at 2 %", job.design().name);
    }
}

#[test]
fn the_cutter_stops_short_of_a_corner_by_its_edge() {
    // A notch of 60 degrees, 30 deep: a cutter of 3 mm comes to where it is 3 wide.
    let half = 30.0 * (PI / 6.0).tan();
    let notch = ring(&[(0.0, 0.0), (half, 30.0), (-half, 30.0)]);
    let proof = proof_of(&with_cutter(job(Sunk, &[("notch", vec![notch])])));
    let short: Vec<_> = proof.findings.iter().filter(|f| f.kind() == FindingKind::BlockedGroove).collect();
    assert_eq!(short.len(), 3, "{:?}", proof.findings);
    // Its middle is 1.5 / sin 30 from the corner, its edge 1.5 nearer.
    for finding in short {
        close(finding.measured().unwrap().get(), 1.5, 1e-4);
    }
}

#[test]
fn what_the_cutter_leaves_is_told_as_an_area() {
    let mut job = with_cutter(job(Sunk, &[("tray", vec![rectangle(0.0, 0.0, 40.0, 20.0)])]));
    job.apply(Edit::Size(Size::Factor(0.5))).unwrap();
    let measured = measure(&job);
    let left = uncut(&job, &measured);
    close(left.area, (4.0 - PI) * 1.5 * 1.5, 1e-5);
    close(left.share.unwrap(), left.area / 200.0, 1e-9);
    assert_eq!(left.spots.len(), 4);
    // The same outline standing leaves nothing, and has no edge to its ground.
    job.apply(Edit::TreatAll(Treatment::Relief)).unwrap();
    let measured = measure(&job);
    let left = uncut(&job, &measured);
    assert_eq!((left.area, left.share, left.spots.len()), (0.0, None, 0));
}

#[test]
fn of_two_treatments_each_is_entered_by_its_own_width() {
    // A ball is narrower at a small depth than where it goes right through.
    let trays = [
        ("sunk", vec![rectangle(0.0, 0.0, 30.0, 20.0)]),
        ("pierced", vec![rectangle(40.0, 0.0, 30.0, 20.0)]),
    ];
    let mut job = with_cutter(job(Sunk, &trays));
    change_cutter(&mut job, |cutter| cutter.shape = CutterShape::Ball { diameter: Mm::new(6.0) });
    job.apply(Edit::Depth(Mm::new(1.0))).unwrap();
    job.apply(Edit::Treat { elements: vec![1], treatment: Pierced }).unwrap();
    let measured = measure(&job);
    let limits = Limits::of(&job);
    let corners = |width: Mm| (4.0 - PI) * (0.5 * width.get()).powi(2);
    assert!(limits.groove < limits.pierced_groove, "the ball widens upward");
    close(uncut(&job, &measured).area, corners(limits.groove) + corners(limits.pierced_groove), 1e-4);
}

#[test]
fn a_wall_across_the_grain_needs_to_be_thicker() {
    let upright = |thickness: f64| {
        let turned = |point: &glam::DVec2| glam::dvec2(-point.y, point.x);
        let along = bar_between_blocks(thickness);
        let rings: Vec<Vec<_>> = along.design().elements[0]
            .region
            .rings()
            .map(|ring| ring.points().collect::<Vec<_>>().iter().map(turned).collect())
            .collect();
        with_cutter(job(Treatment::Relief, &[("bar", rings)]))
    };
    assert_eq!(proof_of(&bar_between_blocks(2.0)).verdict.severity, Severity::Sound);
    let mut across = upright(2.0);
    across.apply(Edit::BoardWidth(Mm::new(400.0))).unwrap();
    let proof = proof_of(&across);
    assert_eq!(proof.verdict.severity, Severity::Unsound);
    let wall = proof.findings.iter().find(|finding| finding.kind() == FindingKind::ThinWall).unwrap();
    close(wall.limit().unwrap().get(), 2.5, 1e-2);
}

#[test]
fn a_groove_the_cutter_cannot_enter_is_blocked() {
    // The same outline, sunk: the bar is now a groove, and wood stands round it.
    let mut job = bar_between_blocks(2.0);
    job.apply(Edit::TreatAll(Treatment::Sunk)).unwrap();
    let proof = proof_of(&job);
    let blocked: Vec<_> = proof.findings.iter().filter(|f| f.kind() == FindingKind::BlockedGroove).collect();
    assert_eq!(blocked.len(), 1, "{:?}", proof.findings);
    close(blocked[0].measured().unwrap().get(), 2.0, 1e-5);
    close(blocked[0].limit().unwrap().get(), 3.0, 1e-9);
    close(proof.thinnest.sound_factor.unwrap(), 1.5, 1e-6);
}

/// A 60 degree V needs 2 x 0.5 x tan 30 = 0.577 mm of width to go 0.5 mm deep, and its flat point more.
#[test]
fn a_v_groove_too_narrow_to_show_is_shallow() {
    let mut job = job(Treatment::Incised, &[("line", vec![rectangle(0.0, 0.0, 80.0, 0.5)])]);
    job.apply(Edit::Cutter(Box::new(cutters().iter().find(|cutter| cutter.id == "vee-60").unwrap().clone())))
        .unwrap();
    let proof = proof_of(&job);
    let told = proof.findings.iter().filter(|finding| finding.severity() > Severity::Sound).count();
    assert_eq!(told, 1, "{:?}", proof.findings);
    assert_eq!(proof.findings[0].kind(), FindingKind::ShallowGroove);
    assert_eq!(proof.findings[0].severity(), Severity::Chancy);
    close(proof.findings[0].limit().unwrap().get(), 0.1 + 0.57735, 1e-5);
    job.apply(Edit::Size(Size::Factor(2.0))).unwrap();
    job.apply(Edit::BoardLength(Mm::new(600.0))).unwrap();
    assert_eq!(proof_of(&job).verdict.severity, Severity::Sound);
}

#[test]
fn walls_beside_a_piercing_stand_as_tall_as_the_board_is_thick() {
    let slots = |left: Treatment, right: Treatment, apart: f64| {
        let wide = |x: f64| vec![rectangle(x, 0.0, 20.0, 60.0)];
        let mut job =
            with_cutter(job(Treatment::Sunk, &[("left", wide(0.0)), ("right", wide(20.0 + apart))]));
        treat(&mut job, [left, right]);
        job.apply(Edit::BoardThickness(Mm::new(12.0))).unwrap();
        proof_of(&job).findings.into_iter().find(|finding| finding.kind() == FindingKind::ThinWall)
    };
    assert_eq!(slots(Sunk, Sunk, 3.0), None, "3 mm stands beside a 3 mm deep floor");
    // A long wall is no weaker for standing taller: it is the upright plate of the board's thickness, and says so.
    let beside = slots(Sunk, Pierced, 2.0).expect("too thin");
    assert_eq!(beside.wall().unwrap().limit.governs, Governs::Root);
    close(beside.limit().unwrap().get(), 2.5, 0.05);
    // Cut through on both sides it is a beam 60 mm long and 12 mm deep, held at both ends and bent by its middle:
    // M = P l / 8 (AISC beam tables, from memory), across the grain at 350 psi (Wood Handbook Table 5-3b).
    let strip = slots(Pierced, Pierced, 0.5).expect("too thin");
    let wall = strip.wall().unwrap();
    assert_eq!((wall.limit.governs, wall.run.ends), (Governs::Beam, WallEnds::BothJoined));
    let strength = 350.0 * 6.894_757e-3;
    let expected = (6.0 * wall.limit.push * wall.run.length.get() / 8.0 / (12.0 * strength)).sqrt();
    close(strip.limit().unwrap().get(), expected, 1e-3);
    close(wall.run.length.get(), 60.0, 1.0);
}

#[test]
fn elements_left_alone_are_not_carved() {
    let job = job(Treatment::Left, &[("line", vec![rectangle(0.0, 0.0, 80.0, 0.5)])]);
    let proof = proof_of(&job);
    assert_eq!(proof.verdict.severity, Severity::Sound);
    assert!(!proof.verdict.carves, "nothing is carved");
    assert_eq!(proof.thinnest.wall, None);
}

#[test]
fn the_order_of_elements_does_not_matter() {
    let mut elements = vec![
        ("a", vec![rectangle(0.0, 0.0, 30.0, 10.0)]),
        ("b", vec![rectangle(31.0, 0.0, 30.0, 10.0)]),
        ("c", vec![rectangle(0.0, 12.0, 61.0, 1.2)]),
    ];
    let found = |elements: &[(&str, Vec<Vec<glam::DVec2>>)]| {
        let proof = proof_of(&with_cutter(job(Treatment::Relief, elements)));
        let tell = |finding: &spelk::proof::Finding| {
            (
                finding.kind(),
                words::finding::message(finding, LengthUnit::Millimetres),
                finding.element().map(str::to_owned),
            )
        };
        let mut findings: Vec<_> = proof.findings.iter().map(tell).collect();
        findings.sort();
        findings
    };
    let forwards = found(&elements);
    assert!(!forwards.is_empty(), "the thin bar is found");
    elements.reverse();
    assert_eq!(found(&elements), forwards);
}

/// Where two outlines of an element share an edge, its ends become corners on the straight sides of the whole.
#[test]
fn a_corner_in_the_middle_of_an_edge_is_saved_with_the_job() {
    let made = design(&[("plate", vec![rectangle(0.0, 0.0, 50.0, 50.0), rectangle(50.0, 0.0, 50.0, 50.0)])]);
    let region = &made.elements[0].region;
    let rings: Vec<Vec<glam::DVec2>> = region.rings().map(|ring| ring.points().collect()).collect();
    let cleaned = Region::clean(region.grid(), &rings, FillRule::NonZero);
    assert!(cleaned.segment_count() < region.segment_count(), "a corner lies on a straight edge");
    let text = saved::to_text(&Job::new(Arc::new(made)));
    assert_eq!(saved::to_text(&saved::from_text(text.as_bytes()).unwrap()), text);
}

#[test]
fn a_saved_job_opens_as_the_same_job() {
    let star: Vec<glam::DVec2> = (0..10)
        .map(|i| {
            let (sin, cos) = (f64::from(i) * PI / 5.0 + 0.1).sin_cos();
            glam::dvec2(cos, sin) * if i % 2 == 0 { 33.333 } else { 12.7 / 0.9 }
        })
        .collect();
    let made = design(&[
        ("star", vec![star]),
        (
            "frame, \"outer\" = 1",
            vec![rectangle(-50.0, -50.0, 100.0, 100.0), rectangle(-45.0, -45.0, 90.0, 90.0)],
        ),
    ]);
    let mut job = Job::new(Arc::new(made));
    treat(&mut job, [Treatment::Relief, Treatment::Incised]);
    job.apply(Edit::Size(Size::Length(Mm::from_inches(7.0) / 3.0))).unwrap();
    job.apply(Edit::GroundMargin(Some(Mm::new(0.1 + 0.2)))).unwrap();
    job.apply(Edit::SideMargin(Some(Mm::new(0.7 / 3.0)))).unwrap();
    job.apply(Edit::Turn(Turn::Quarter)).unwrap();
    job.apply(Edit::Place(Placement::At { x: Mm::new(100.0 / 3.0), y: Mm::new(-0.1) })).unwrap();
    change_board(&mut job, |board| {
        board.blemishes = vec![
            Blemish {
                kind: BlemishKind::OldCarving,
                shape: BlemishShape::Line {
                    from: [Mm::new(0.1), Mm::ZERO],
                    to: [Mm::new(7.0), Mm::new(1.0 / 3.0)],
                },
                clearance: Mm::new(2.0 / 3.0),
            },
            Blemish {
                kind: BlemishKind::Knot,
                shape: BlemishShape::Circle { x: Mm::new(1.0), y: Mm::new(2.0), diameter: Mm::new(3.0) },
                clearance: Mm::ZERO,
            },
        ];
    });
    change_board(&mut job, |board| {
        board.stock = StockCheck { cup: Some(Mm::new(0.1)), moisture: Some(8.1), ..StockCheck::default() }
    });
    job.apply(Edit::Planed(Some(Planed::Rough))).unwrap();
    let photo = BoardPhoto { file: "board.jpg".to_owned(), corners: [[0.1, 2.0 / 3.0]; 4] };
    job.apply(Edit::Photo(Some(photo))).unwrap();
    change_machine(&mut job, |machine| machine.feed = FeedDirection::RightFirst);
    change_machine(&mut job, |machine| machine.sensing_edge = Some(BoardEdge::Far));
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("star.spelk");
    saved::save(&job, &path).unwrap();
    let opened = saved::open(&path).unwrap();
    assert_eq!(**opened.design(), **job.design());
    assert!(opened.with_design(job.design().clone()) == job, "every setting is kept");
    let unit = LengthUnit::Millimetres;
    let json = |job: &Job| spelk::sheet::json::proof_json(job, &proof_of(job), &Besides::default(), unit);
    assert_eq!(json(&opened), json(&job));
    assert_eq!(saved::to_text(&opened), saved::to_text(&job));
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1, "no temporary file is left");
}

#[test]
fn what_is_not_a_whole_job_is_refused_with_a_reason() {
    let job = bar_between_blocks(2.0);
    let text = saved::to_text(&job);
    let refused = |text: &str| saved::from_text(text.as_bytes()).unwrap_err().to_string();
    assert!(refused("").contains("not a saved job"));
    assert!(refused("<svg/>").contains("not a saved job"));
    assert!(refused("{\"format\": \"other\", \"version\": 3}").contains("not a saved job"));
    assert!(refused(&text.replace("\"version\": 5", "\"version\": 8")).contains("version 8"));
    assert!(refused(&text[..text.len() / 2]).contains("damaged"));
    assert!(refused(&text.replace("\"depth\": 3.0", "\"depth\": -3.0")).contains("depth"));
    assert!(refused(&text.replace("\"depth\": 3.0", "\"depth\": 1e999")).contains("damaged"));
    assert!(refused(&text.replace("\"held\"", "\"sideways\"")).contains("sideways"));
    let no_points = refused(&text.replace("0,0 ", "0,zero "));
    assert!(no_points.contains("outline") || no_points.contains("points"), "{no_points}");
}

#[test]
fn saving_over_a_folder_that_is_not_there_loses_nothing() {
    let job = bar_between_blocks(2.0);
    let folder = tempfile::tempdir().unwrap();
    let error = saved::save(&job, &folder.path().join("nowhere/job.spelk")).unwrap_err();
    assert!(error.to_string().contains("unchanged"), "{error}");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
}

/// Elements that overlap are cut along each other's outlines, with every crossing snapped to the grid:
/// put together again they must not leave slits that measure as walls and grooves.
#[test]
fn overlapping_elements_of_one_treatment_are_one_piece_of_wood() {
    for count in [2, 5, 9] {
        let blob = |i: i32| -> Vec<glam::DVec2> {
            let (radius, at) = (23.0 + 1.7 * f64::from(i), f64::from(i) * 9.3);
            let turned = |step: i32| glam::DVec2::from_angle(0.1 + f64::from(step) * PI / 18.0) * radius;
            (0..36).map(|step| turned(step) + glam::dvec2(at, at * 0.37)).collect()
        };
        let paths: Vec<String> = (0..count)
            .map(|i| {
                let points: Vec<String> =
                    blob(i).iter().map(|p| format!("{},{}", p.x + 50.0, p.y + 50.0)).collect();
                format!("<polygon id='part{i}' points='{}'/>", points.join(" "))
            })
            .collect();
        let svg = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='250mm' height='150mm' viewBox='0 0 250 150'>{}</svg>",
            paths.concat()
        );
        let design = spelk::design::read("blobs", svg.as_bytes()).unwrap();
        assert_eq!(design.elements.len(), usize::try_from(count).unwrap());
        let measured = measure(&Job::new(Arc::new(design.clone())));
        assert_eq!(measured.outline.rings().count(), 1, "{count} parts make one piece");
        for least in [measured.walls().least(), measured.grooves().least()].into_iter().flatten() {
            assert!(least > 5.0, "{count} parts: {least} mm wide");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// Cutting one shape by another and putting the two together again gives what both gave at once.
    #[test]
    fn cut_and_put_together_is_as_good_as_whole(
        corners in proptest::collection::vec((0.0..200.0f64, 0.0..120.0f64), 8),
        turn in 0.0..PI,
    ) {
        let shape = |points: &[(f64, f64)]| {
            let middle = dvec2(100.0, 60.0);
            let mut ring: Vec<_> = points.iter().map(|&(x, y)| dvec2(x, y)).collect();
            ring.sort_by(|a, b| (*a - middle).to_angle().total_cmp(&(*b - middle).to_angle()));
            let turned = ring.iter().map(|p| middle + glam::DVec2::from_angle(turn).rotate(p - middle));
            vec![turned.collect::<Vec<_>>()]
        };
        let elements = [("a", shape(&corners[..4])), ("b", shape(&corners[4..]))];
        let whole = design(&elements);
        let (a, b) = (&whole.elements[0].region, &whole.elements[1].region);
        prop_assume!(!a.is_empty() && !b.is_empty());
        let together = Region::union(whole.grid, [&a.minus(b), b]);
        let at_once = Region::union(whole.grid, [a, b]);
        prop_assert_eq!(together.rings().count(), at_once.rings().count());
        let (one, two) = (widths::measure(&together), widths::measure(&at_once));
        for (one, two) in [(one.inside, two.inside), (one.outside, two.outside)] {
            let (one, two) = (one.least().unwrap_or(1e3), two.least().unwrap_or(1e3));
            prop_assert!((one - two).abs() < 1e-3, "{one} and {two}");
        }
    }
}

#[test]
fn what_is_no_different_from_all_round_it_is_said_not_to_show() {
    let letter = rectangle(40.0, 30.0, 20.0, 20.0);
    let mut plate = job(
        Treatment::Relief,
        &[
            ("Plate", vec![rectangle(0.0, 0.0, 100.0, 80.0), letter.clone()]),
            ("Letter", vec![letter]),
            // It meets the plate along one side alone.
            ("Bar", vec![rectangle(100.0, 0.0, 50.0, 80.0)]),
        ],
    );
    let unseen = |job: &Job| -> Vec<String> {
        let found = proof_of(job).findings;
        let unseen = found.iter().filter(|finding| finding.kind() == FindingKind::Invisible);
        unseen.map(|finding| words::finding::message(finding, LengthUnit::Millimetres)).collect()
    };
    assert_eq!(unseen(&plate), ["Letter will not show: Plate stands just as high all round it"]);
    let proof = proof_of(&plate);
    assert_eq!(proof.verdict.severity, Severity::Chancy);
    let unit = LengthUnit::Millimetres;
    assert_eq!(
        words::verdict::sentence(&proof.verdict, unit),
        "Chancy: Letter will not show: Plate stands just as high all round it."
    );
    assert_eq!(words::verdict::advice(&proof.verdict, unit), "Carve one of the two sunk or incised.");
    // The element's middle, where it lies on the board.
    let finding = proof.findings.iter().find(|finding| finding.kind() == FindingKind::Invisible).unwrap();
    let middle = proof.board_from_design.transform_point2(dvec2(50.0, 40.0));
    assert!(finding.at.distance(middle) < 1e-6, "{}", finding.at);

    plate.apply(Edit::Treat { elements: vec![1], treatment: Treatment::Incised }).unwrap();
    assert_eq!(unseen(&plate), [""; 0]);
    plate.apply(Edit::TreatAll(Treatment::Sunk)).unwrap();
    assert_eq!(unseen(&plate), ["Letter will not show: Plate is carved just as deep all round it"]);
    plate.apply(Edit::OwnDepth { elements: vec![1], depth: Some(plate.depth() * 2.0) }).unwrap();
    assert_eq!(unseen(&plate), [""; 0]);
    // What is left alone is meant to be no more than board.
    plate.apply(Edit::TreatAll(Treatment::Left)).unwrap();
    assert_eq!(unseen(&plate), [""; 0]);
}
