//! Advice: what is offered does what it says, and what a carver would take comes first.

use crate::cli::spelk;
use crate::support::{job, rectangle, ring};
use rayon::prelude::*;
use spelk::advice::{Advice, Means, Offer, StepKind, Tried, advise};
use spelk::design::face::Fonts;
use spelk::design::lettering::Lettering;
use spelk::design::samples::{find, samples};
use spelk::job::sample::sample_job;
use spelk::job::{Edit, Ends, Job, Size, Treatment, Turn, saved};
use spelk::proof::{Severity, Verdict, proof_of};
use spelk::relief::NEVER;
use spelk::shop::{Blemish, BlemishKind, BlemishShape, Check, Cutter, RackBoard, Shop};
use spelk::units::{LengthUnit, Mm};
use spelk::words;
use std::f64::consts::TAU;
use std::sync::Arc;

const UNIT: LengthUnit = LengthUnit::Millimetres;

fn advice_on(job: &Job, rack: &[RackBoard]) -> (Tried, Advice) {
    let shop = Shop::built_in();
    let now = Tried::of(job.clone());
    let advice = advise(&now, &Means::of(&shop, rack), &NEVER).unwrap();
    (now, advice)
}

fn said(offer: &Offer) -> String {
    words::advice::offer(offer, &Shop::built_in().prices.money, UNIT)
}

fn kinds(offer: &Offer) -> Vec<StepKind> {
    offer.steps.iter().map(spelk::advice::Step::kind).collect()
}

fn mm(length: f64) -> Mm {
    Mm::new(length)
}

/// Every offer, applied and proofed, does what it says; no other of the list beats the first; and no sentence says
/// of a size what the strip says the contrary of.
fn check(job: &Job, rack: &[RackBoard], what: &str) -> bool {
    let (now, advice) = advice_on(job, rack);
    for offer in &advice.offers {
        let words = said(offer);
        let told = format!("{what}: {words}");
        let changed = job.with([offer.edit()]).unwrap_or_else(|error| panic!("{told}: {error}"));
        let proof = proof_of(&changed);
        assert_eq!(proof.verdict.severity, offer.severity(), "{told}");
        // What is measured near a change alone differs in the last digits; what is said of it does not.
        let why = |verdict: &Verdict| words::verdict::why(verdict, UNIT);
        assert_eq!(why(&proof.verdict), why(&offer.after.proof.verdict), "{told}");
        assert!(proof.verdict.severity < now.severity(), "{told}: no better");
        for finding in proof.findings.iter().filter(|finding| finding.severity() > Severity::Sound) {
            let before = now.proof.findings.iter().filter(|other| other.kind() == finding.kind());
            let gravest = before.map(spelk::proof::Finding::severity).max();
            assert!(gravest >= Some(finding.severity()), "{told}: {} is worse", finding.kind().id());
        }
        assert!((offer.cost.size - proof.factor / now.proof.factor).abs() < 1e-9, "{told}");
        // What is said of a size agrees with the strip.
        if let Some(percent) = words.split("arve it at ").nth(1).and_then(|rest| rest.split(' ').next()) {
            let factor: f64 = percent.parse::<f64>().unwrap() / 100.0;
            let largest = changed.largest_factor();
            assert!((factor - proof.factor).abs() < 1e-5 * factor, "{told}: it is {}", proof.factor);
            assert!(factor <= largest * (1.0 + 1e-5), "{told}: the board takes {largest}");
            let from = proof.thinnest.sound_factor.unwrap_or(0.0);
            let is_sound = offer.severity() == Severity::Sound;
            assert!(!is_sound || factor * (1.0 + 2e-5) >= from, "{told}: sound from {from}");
        }
    }
    for pair in advice.offers.windows(2) {
        let rank = |offer: &Offer| (offer.severity(), offer.cost.trouble);
        assert!(rank(&pair[0]) <= rank(&pair[1]), "{what}: {} before {}", said(&pair[0]), said(&pair[1]));
    }
    let is_made_sound = advice.offers.iter().any(|offer| offer.severity() == Severity::Sound);
    let is_sound = now.severity() == Severity::Sound || !now.proof.verdict.carves;
    assert_eq!(advice.nearest.is_none(), is_made_sound || is_sound, "{what}");
    if let Some([from, to]) = advice.sizes.both() {
        // What is in between fits and has no thin wall.
        let middle = (from * to).sqrt().max(from).min(to);
        let between = job.with([Edit::Size(Size::Factor(middle))]).unwrap();
        let proof = proof_of(&between);
        assert!(middle <= proof.fit.largest_factor * (1.0 + 1e-9), "{what}");
        let thin = proof.findings.iter().find(|finding| finding.facts.size_helps());
        assert_eq!(thin, None, "{what} at {middle}, sound from {from}");
    }
    !advice.offers.is_empty()
}

/// Numbers that look random, the same in every run (Steele, Lea and Flood, *Fast splittable pseudorandom number
/// generators*, 2014).
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// From 0 up to 1.
    fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    fn below(&mut self, most: usize) -> usize {
        usize::try_from(self.next() % most as u64).unwrap()
    }

    fn of<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        &list[self.below(list.len())]
    }

    fn is(&mut self, share: f64) -> bool {
        self.share() < share
    }
}

/// Bars, stars and ellipses, some of them over others.
fn shapes(numbers: &mut Numbers) -> Job {
    let names = ["a", "b", "c", "d"];
    let elements: Vec<_> = names[..=numbers.below(4)]
        .iter()
        .map(|&name| {
            let rings = (0..=numbers.below(4)).map(|_| {
                let (x, y) = (numbers.between(0.0, 300.0), numbers.between(0.0, 90.0));
                match numbers.below(3) {
                    0 => rectangle(x, y, numbers.between(0.5, 120.0), numbers.between(0.5, 40.0)),
                    kind => {
                        let corners = if kind == 1 { 5 + numbers.below(8) } else { 48 };
                        let radius = numbers.between(2.0, 40.0);
                        let inner = if kind == 1 { numbers.between(0.2, 0.9) } else { 1.0 };
                        let point = |i: usize| {
                            let radius = if i.is_multiple_of(2) { radius } else { radius * inner };
                            let angle = TAU * i as f64 / (2 * corners) as f64;
                            (x + radius * angle.cos(), y + 0.8 * radius * angle.sin())
                        };
                        ring(&(0..2 * corners).map(point).collect::<Vec<_>>())
                    }
                }
            });
            (name, rings.collect())
        })
        .collect();
    job(Treatment::Relief, &elements)
}

/// A job as nobody would think of it; `None` where that is none.
fn random_job(seed: u64) -> Option<(Job, Vec<RackBoard>)> {
    let numbers = &mut Numbers(seed);
    let mut job = match numbers.below(10) {
        0 => sample_job(numbers.of(samples())).unwrap(),
        1..=4 => {
            let letters: Vec<char> = ('A'..='Z').chain('a'..='z').chain("&?%$8".chars()).collect();
            let words: String = (0..=numbers.below(3)).map(|_| *numbers.of(&letters)).collect();
            let lettering =
                Lettering { words, cap_height: mm(numbers.between(15.0, 120.0)), ..Lettering::default() };
            Job::new(Arc::new(lettering.design(&Fonts::built_in()).ok()?))
        }
        _ => shapes(numbers),
    };
    let shop = Shop::built_in();
    let mut edits = vec![
        Edit::BoardSize([
            mm(numbers.between(180.0, 900.0)),
            mm(numbers.between(60.0, 300.0)),
            mm(numbers.between(8.0, 30.0)),
        ]),
        Edit::Wood(Box::new(numbers.of(&shop.woods).clone())),
        Edit::Cutter(Box::new(numbers.of(&shop.cutters).clone())),
        Edit::Depth(mm((numbers.between(1.0, 9.0) * 2.0).round() / 2.0)),
        Edit::TreatAll(*numbers.of(&[
            Treatment::Relief,
            Treatment::Sunk,
            Treatment::Incised,
            Treatment::Relief,
            Treatment::Pierced,
        ])),
        Edit::Ends(if numbers.is(0.3) { Ends::Free } else { Ends::Held }),
    ];
    match numbers.below(4) {
        0 => edits.push(Edit::Size(Size::Fit)),
        1 => edits.push(Edit::Size(Size::Factor(numbers.between(0.2, 2.0)))),
        2 => edits.push(Edit::Size(Size::Length(mm(numbers.between(50.0, 500.0))))),
        _ => {}
    }
    if numbers.is(0.2) {
        edits.push(Edit::Turn(*numbers.of(&Turn::ALL)));
    }
    for check in [Check::Cup, Check::Bow, Check::Crook, Check::Twist] {
        if numbers.is(0.15) {
            edits.push(Edit::Measured(check, Some(mm(numbers.between(0.0, 2.5)))));
        }
    }
    if numbers.is(0.25) {
        let shape = BlemishShape::Circle {
            x: mm(numbers.between(0.0, 400.0)),
            y: mm(numbers.between(0.0, 150.0)),
            diameter: mm(numbers.between(4.0, 40.0)),
        };
        edits.push(Edit::AddBlemish(Blemish { kind: BlemishKind::Knot, shape, clearance: mm(3.0) }));
    }
    for edit in edits {
        // What cannot be, such as a blemish beside the board, is left.
        let _ = job.apply(edit);
    }
    let rack = (0..numbers.below(4))
        .map(|index| {
            let mut board = job.board().clone();
            board.length = mm(numbers.between(200.0, 1200.0));
            board.width = mm(numbers.between(80.0, 300.0));
            board.blemishes.clear();
            RackBoard {
                name: format!("board {index}"),
                board,
                wood: numbers.of(&shop.woods).id.clone(),
                price: None,
            }
        })
        .collect();
    Some((job, rack))
}

/// How many had offers.
fn check_random_jobs(seeds: std::ops::Range<u64>) -> usize {
    let checked = seeds.into_par_iter().filter(|&seed| {
        random_job(seed).is_some_and(|(job, rack)| check(&job, &rack, &format!("seed {seed}")))
    });
    checked.count()
}

/// A sample in the settings of the table.
fn settings(base: &Job) -> Vec<(&'static str, Job)> {
    let with = |edits: Vec<Edit>| base.with(edits).unwrap();
    let fits = with(vec![Edit::Size(Size::Fit)]);
    let size = proof_of(&fits);
    let [length, width] = [size.fit.length_needed, size.fit.width_needed];
    let thickness = base.board().thickness;
    let knot = Blemish {
        kind: BlemishKind::Knot,
        shape: BlemishShape::Circle {
            x: base.board().length / 2.0,
            y: base.board().width / 2.0,
            diameter: mm(20.0),
        },
        clearance: mm(3.0),
    };
    let cutter = |id: &str| Edit::Cutter(Box::new(Cutter::find(id).unwrap().clone()));
    vec![
        (
            "too small a board",
            with(vec![
                Edit::Size(Size::Factor(size.factor)),
                Edit::BoardSize([length * 0.9, width * 0.9, thickness]),
            ]),
        ),
        ("free ends, wide", with(vec![Edit::Ends(Ends::Free), Edit::Size(Size::Fit)])),
        ("a knot under it", with(vec![Edit::Size(Size::Factor(size.factor * 0.5)), Edit::AddBlemish(knot)])),
        (
            "a cupped board",
            with(vec![Edit::Size(Size::Factor(size.factor)), Edit::Measured(Check::Cup, Some(mm(2.0)))]),
        ),
        (
            "V too blunt",
            with(vec![
                Edit::TreatAll(Treatment::Incised),
                cutter("vee-120"),
                Edit::Size(Size::Factor(size.factor * 0.3)),
            ]),
        ),
        (
            "cutter too wide",
            with(vec![
                Edit::TreatAll(Treatment::Sunk),
                cutter("flat-1/4in"),
                Edit::Size(Size::Factor(size.factor)),
            ]),
        ),
    ]
}

/// What a carver would take first, and why.
const FIRST: [(&str, &str, &[StepKind], &str); 20] = [
    ("boat-nameboard", "as it opens", &[StepKind::Size], "14 % smaller is less than a board to buy"),
    ("boat-nameboard", "too small a board", &[StepKind::Size], "the same on a smaller board"),
    (
        "boat-nameboard",
        "free ends, wide",
        &[StepKind::Place],
        "between the snipe zones, as large as they leave",
    ),
    (
        "boat-nameboard",
        "a knot under it",
        &[StepKind::Cutter, StepKind::Place],
        "half as large its grooves ask for a finer cutter; then there is a place beside the knot",
    ),
    ("boat-nameboard", "a cupped board", &[StepKind::Flatten], "planing costs less than a new board"),
    ("boat-nameboard", "V too blunt", &[StepKind::Cutter], "a sharper V, and nothing else"),
    ("boat-nameboard", "cutter too wide", &[StepKind::Cutter], "the next finer cutter, and the letters stay"),
    (
        "inn-sign",
        "as it opens",
        &[StepKind::MendWalls],
        "a few reeds a hair thicker; a finer cutter takes longer",
    ),
    (
        "inn-sign",
        "too small a board",
        &[StepKind::BoughtBoard],
        "smaller, its reeds are too thin: no size is both, so the board has to be larger, in a stronger wood",
    ),
    (
        "inn-sign",
        "a cupped board",
        &[StepKind::Flatten, StepKind::MendWalls],
        "one for the board, one for the reeds",
    ),
    (
        "house-number",
        "as it opens",
        &[StepKind::Cutter],
        "one groove asks for a finer cutter; the rest stays",
    ),
    ("house-number", "cutter too wide", &[StepKind::Cutter], "the usual cutter in place of a wide one"),
    ("beehive-plate", "as it opens", &[], "its rays are slender points: nothing but the drawing helps"),
    (
        "beehive-plate",
        "too small a board",
        &[StepKind::Size],
        "a little smaller; its rays are as slender as before",
    ),
    (
        "puzzle",
        "as it opens",
        &[StepKind::Pass],
        "shallower passes, nine minutes more, and the drawing stays",
    ),
    (
        "puzzle",
        "too small a board",
        &[StepKind::Size, StepKind::MendWalls],
        "it fits 4 % smaller, and one wall is thickened",
    ),
    ("puzzle", "a cupped board", &[StepKind::Flatten], "planing costs less than a new board"),
    ("gate-sign", "too small a board", &[StepKind::Size], "9 % smaller is less than a board to buy"),
    ("gate-sign", "a cupped board", &[StepKind::Flatten], "planing costs less than a new board"),
    ("gate-sign", "V too blunt", &[StepKind::Cutter], "a sharper V, and nothing else"),
];

#[test]
fn what_a_carver_would_take_comes_first() {
    for (id, setting, wanted, why) in FIRST {
        let base = sample_job(find(id).unwrap()).unwrap();
        let job = match setting {
            "as it opens" => base,
            _ => settings(&base).into_iter().find(|(name, _)| *name == setting).unwrap().1,
        };
        let (_, advice) = advice_on(&job, &[]);
        let first = advice.offers.first().map_or_else(Vec::new, kinds);
        let all: Vec<String> = advice.offers.iter().map(said).collect();
        assert_eq!(first, wanted, "{id}, {setting}: {why}\n{all:#?}");
    }
}

#[test]
fn a_knot_under_a_design_moves_it() {
    let mut bar = job(Treatment::Relief, &[("bar", vec![rectangle(0.0, 0.0, 100.0, 30.0)])]);
    let shape =
        BlemishShape::Circle { x: bar.board().length / 2.0, y: bar.board().width / 2.0, diameter: mm(20.0) };
    bar.apply(Edit::AddBlemish(Blemish { kind: BlemishKind::Knot, shape, clearance: mm(3.0) })).unwrap();
    let (_, advice) = advice_on(&bar, &[]);
    assert_eq!(kinds(&advice.offers[0]), [StepKind::Place], "the board has room beside it");
    assert_eq!(advice.offers[0].severity(), Severity::Sound);
}

/// A sign that is too large for its board and too fine to be carved smaller: no size is offered as sound, and the
/// sentence says by how much the two miss each other.
#[test]
fn a_size_that_fits_is_not_sound_where_no_size_is_both() {
    let base = sample_job(find("inn-sign").unwrap()).unwrap();
    let job = settings(&base).into_iter().find(|(name, _)| *name == "too small a board").unwrap().1;
    let (now, advice) = advice_on(&job, &[]);
    let [from, fits] = [now.proof.thinnest.sound_factor.unwrap(), now.proof.fit.largest_factor];
    assert!(fits < from, "{fits} {from}");
    assert_eq!(advice.sizes.both(), None);
    let drawn = mm(job.frame_on_board().x);
    let said = words::advice::no_size(&advice.sizes, drawn, UNIT);
    let (up, down) = (words::percent_up(from), words::percent_down(fits));
    assert!(
        said.contains(&format!("sound from {up} %")) && said.contains(&format!("takes {down} %")),
        "{said}"
    );
    assert!(said.contains(&UNIT.show(drawn * (from - fits))), "{said}");
    for offer in advice.offers.iter().filter(|offer| kinds(offer) == [StepKind::Size]) {
        assert!(offer.severity() > Severity::Sound, "{}", self::said(offer));
    }
}

/// Two pockets that nearly touch are sound only at a size that nobody carves: that is said, with the place, and no
/// size is offered.
#[test]
fn no_impractical_size_is_offered() {
    let near = job(
        Treatment::Sunk,
        &[
            ("left", vec![rectangle(0.0, 0.0, 100.0, 30.0)]),
            ("right", vec![rectangle(100.005, 0.0, 100.0, 30.0)]),
        ],
    );
    let (now, advice) = advice_on(&near, &[]);
    assert_eq!(now.severity(), Severity::Unsound);
    let said = words::advice::no_size(&advice.sizes, mm(200.005), UNIT);
    assert!(said.starts_with("No practical size makes it sound: a wall"), "{said}");
    for offer in &advice.offers {
        assert!(offer.cost.size < 10.0, "{}", self::said(offer));
        assert!(kinds(offer) != [StepKind::Size], "{}", self::said(offer));
    }
    check(&near, &[], "two pockets");
}

#[test]
fn a_board_of_the_rack_is_taken_before_one_is_bought() {
    let job = sample_job(find("boat-nameboard").unwrap()).unwrap();
    let mut board = job.board().clone();
    (board.length, board.width) = (mm(720.0), mm(150.0));
    let entry =
        RackBoard { name: "the long one".to_owned(), board, wood: job.wood().id.clone(), price: None };
    let (_, advice) = advice_on(&job, &[entry]);
    assert_eq!(kinds(&advice.offers[0]), [StepKind::RackBoard]);
    check(&job, &[], "the nameboard");
}

#[test]
fn a_piece_among_others_is_not_told_to_change_the_board() {
    let job = sample_job(find("boat-nameboard").unwrap()).unwrap();
    let of_the_board = |job: &Job| {
        let (_, advice) = advice_on(job, &[]);
        let of_the_board = [StepKind::RackBoard, StepKind::BoughtBoard, StepKind::Turn, StepKind::Place];
        advice.offers.iter().any(|offer| kinds(offer).iter().any(|kind| of_the_board.contains(kind)))
    };
    assert!(of_the_board(&job));
    assert!(!of_the_board(&job.with([Edit::Count { piece: 0, count: 2 }]).unwrap()));
}

/// As many as take about a minute in a dev build on two cores: each job's offers are measured anew, which takes
/// seconds where outlines are mended. `twenty_thousand_random_jobs` takes the rest.
#[test]
fn offers_of_random_jobs_do_what_they_say() {
    let with_offers = check_random_jobs(0..500);
    assert!(with_offers > 200, "only {with_offers} jobs had offers");
}

/// The second step set another size than the first had said.
#[test]
fn no_second_step_undoes_the_first() {
    check_random_jobs(10_749..10_750);
}

#[test]
#[ignore = "half an hour in a dev build"]
fn twenty_thousand_random_jobs() {
    let with_offers = check_random_jobs(0..20_000);
    assert!(with_offers > 8000, "only {with_offers} jobs had offers");
}

#[test]
fn a_sound_job_is_left_alone() {
    let bar = job(Treatment::Relief, &[("bar", vec![rectangle(0.0, 0.0, 100.0, 30.0)])]);
    let (now, advice) = advice_on(&bar, &[]);
    assert_eq!(now.severity(), Severity::Sound, "{:?}", now.proof.findings);
    assert!(advice.offers.is_empty() && advice.nearest.is_none());
}

#[test]
fn it_can_be_called_off() {
    let job = sample_job(find("inn-sign").unwrap()).unwrap();
    let shop = Shop::built_in();
    let off = std::sync::atomic::AtomicBool::new(true);
    assert!(advise(&Tried::of(job), &Means::of(&shop, &[]), &off).is_none());
}

#[test]
fn the_command_line_lists_offers_and_writes_one() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("advised.spelk");
    let out = path.to_str().unwrap();
    let design = "sample-designs/boat-nameboard.svg";
    let run = spelk(&["advise", design, "--apply", "1", "-o", out]);
    assert_eq!((run.status, run.err.as_str()), (0, ""));
    assert!(run.out.contains("  1  Carve it at 86.2 %"), "{}", run.out);
    let job = saved::open(&path).unwrap();
    assert_eq!(proof_of(&job).verdict.severity, Severity::Sound);
    let second = folder.path().join("second.spelk");
    let refused = spelk(&["advise", design, "--apply", "99", "-o", second.to_str().unwrap()]);
    refused.refused(&["--apply 99", "numbers 1 to"]);
    assert!(!second.exists());

    let run = spelk(&["advise", design, "--json"]);
    let json: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!(json["format"], "spelk.advice");
    assert_eq!(json["offers"][0]["changes"], serde_json::json!(["size"]));
    assert_eq!(json["offers"][0]["verdict"], "sound");
    let run = spelk(&["proof", design, "--json"]);
    let proof: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!(proof["offers"][0], json["offers"][0]);
    assert!(proof["offers"].as_array().unwrap().len() <= 3);
}
