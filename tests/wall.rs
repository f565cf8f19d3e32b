//! What a wall is held to: closed forms and orders that the model of `proof::wall` must come to.
//!
//! The model is our own; its parts are published or worked out, as each test says.

use crate::support::{self, change_cutter, rectangle};
use glam::dvec2;
use spelk::job::{Edit, Job, Treatment};
use spelk::proof::mend::{Mend, mend};
use spelk::proof::wall::{
    Cut, Governs, Heading, Plates, Support, Wall, WallRule, WoodNumbers, chance, strip,
};
use spelk::proof::{Facts, FindingKind, Limits, Severity, WallEnds, measure, proof_of, rate};
use spelk::shop::{Cutter, Sawn, Wood, woods};
use spelk::units::Mm;
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI};
use std::sync::Arc;

fn mm(length: f64) -> Mm {
    Mm::new(length)
}

fn close_to(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found}, not {expected}");
}

/// A relief of boxes, each from a corner to the opposite one.
fn job_with_bars(boxes: &[[f64; 4]]) -> Job {
    let rings: Vec<_> = boxes.iter().map(|&[x0, y0, x1, y1]| rectangle(x0, y0, x1 - x0, y1 - y0)).collect();
    let names: Vec<String> = (0..rings.len()).map(|i| format!("box {i}")).collect();
    let elements: Vec<_> = names.iter().zip(rings).map(|(name, ring)| (name.as_str(), vec![ring])).collect();
    support::job(Treatment::Relief, &elements)
}

fn rule_of(wood: &Wood, sawn: Sawn) -> WallRule {
    let numbers = WoodNumbers::of(wood);
    let plates = Plates::of(&numbers.ratios, sawn);
    let cut = Cut { pass: mm(1.5), feed_per_tooth: mm(0.04) };
    WallRule {
        wood: Arc::new(numbers),
        plates,
        cut,
        constant: [2.2; 2],
        give: mm(0.1),
        scatter: 0.18,
        slope: 0.0,
    }
}

fn rule(id: &str) -> WallRule {
    rule_of(Wood::find(id).unwrap(), Sawn::Flat)
}

fn thickness(rule: &WallRule, wall: &Wall) -> f64 {
    rule.limit(wall).thickness.get()
}

fn along() -> Heading {
    Heading::of(0.0)
}

fn long(angle: f64) -> Wall {
    Wall::endless(mm(3.0), Heading::of(angle))
}

/// Strengths: Wood Handbook Table 5-3b. Today's knowledge of the push is rough, but no longer that white oak carves
/// a third finer than basswood.
#[test]
fn white_oak_asks_for_about_as_thick_a_wall_as_basswood() {
    let ratio = thickness(&rule("oak_white"), &long(0.0)) / thickness(&rule("basswood_american"), &long(0.0));
    assert!((0.95..=1.10).contains(&ratio), "{ratio}");
}

/// `t = sqrt(6 k K w g c / s)`: of two woods under one cut, the limits are as the roots of `k c / s` (formula).
#[test]
fn over_the_table_the_order_follows_the_root_of_k_c_over_s() {
    let mut compared = 0;
    let basswood = rule("basswood_american");
    for wood in woods() {
        let here = rule_of(wood, Sawn::Flat);
        for angle in [0.0, FRAC_PI_2] {
            let limits = [&here, &basswood].map(|rule| rule.limit(&long(angle)));
            assert!(limits.iter().all(|limit| limit.governs == Governs::Root), "{}", wood.id);
            let worth = |rule: &WallRule, k: f64| k * rule.wood.resistance / rule.wood.across.value;
            let expected = (worth(&here, limits[0].k) / worth(&basswood, limits[1].k)).sqrt();
            close_to(limits[0].thickness / limits[1].thickness, expected, 1e-9);
            compared += 1;
        }
    }
    assert_eq!(compared, 2 * woods().len());
}

/// The ratio is the wood's: sqrt(.743/.261) in basswood, sqrt(.724/.334) in cherry (finite elements,
/// tests/data/wall/plate.csv).
#[test]
fn across_the_grain_needs_more_by_the_woods_own_ratio() {
    for (id, expected) in [("basswood_american", 1.687), ("cherry_black", 1.472), ("oak_white", 1.470)] {
        let rule = rule(id);
        close_to(thickness(&rule, &long(FRAC_PI_2)) / thickness(&rule, &long(0.0)), expected, 0.015);
    }
}

/// A push at one place is shared along a long wall, whatever its height; a stub has nobody to share with.
#[test]
fn depth_does_not_weaken_a_long_wall_and_weakens_a_stub_by_its_root() {
    let rule = rule("basswood_american");
    for angle in [0.0, FRAC_PI_2] {
        let tall = |height: f64| thickness(&rule, &Wall { height: mm(height), ..long(angle) });
        close_to(tall(6.0) / tall(3.0), 1.0, 0.02);
        let stub = |height: f64| {
            let wall = Wall {
                height: mm(height),
                length: mm(1.5),
                support: Support::FreeInTheMiddle,
                heading: Heading::of(angle),
            };
            rule.limit(&wall)
        };
        // As long as half its height: at twice the height k goes with h / l.
        let (low, high) = (stub(3.0), stub(6.0));
        assert_eq!((low.governs, high.governs), (Governs::Root, Governs::Root));
        close_to(high.thickness / low.thickness, 2f64.sqrt(), 0.03 * 2f64.sqrt());
    }
}

/// Formula: the push is as the edge engaged, and falls with the feed by less.
#[test]
fn half_a_pass_takes_the_limit_down_by_its_root_and_half_the_feed_by_less() {
    let rule = rule("cherry_black");
    let with = |cut: Cut| thickness(&WallRule { cut, ..rule.clone() }, &long(0.0));
    let whole = with(rule.cut);
    close_to(with(Cut { pass: mm(0.75), ..rule.cut }) / whole, 0.5f64.sqrt(), 1e-9);
    let slower = with(Cut { feed_per_tooth: mm(0.02), ..rule.cut }) / whole;
    assert!(slower > 0.5f64.sqrt() && slower < 0.97, "{slower}");
    let standing = with(Cut { feed_per_tooth: Mm::ZERO, ..rule.cut }) / whole;
    assert!(standing > 0.7, "never to nothing: {standing}");
}

/// Finite elements: a free end takes sqrt(.855/.261) = 1.81 times the middle along the grain in basswood,
/// sqrt(1.958/.743) = 1.62 across (tests/data/wall/plate.csv).
#[test]
fn a_free_end_needs_more_than_the_middle_and_a_tied_wall_less() {
    let rule = rule("basswood_american");
    for (angle, expected) in [(0.0, 1.81), (FRAC_PI_2, 1.623)] {
        let of =
            |support, length: f64| thickness(&rule, &Wall { support, length: mm(length), ..long(angle) });
        close_to(of(Support::FreeAtAnEnd, 60.0) / of(Support::FreeInTheMiddle, 60.0), expected, 0.02);
        assert!(of(Support::Joined, 6.0) < of(Support::FreeInTheMiddle, 60.0), "tied");
        assert!(of(Support::OneJoined, 6.0) > of(Support::Joined, 6.0), "one end in the air");
    }
    // Tied short, along the grain: its ends hold it, and they are what it could break at.
    let tied = Wall { support: Support::Joined, length: mm(6.0), ..long(0.0) };
    assert_eq!(rule.limit(&tied).governs, Governs::End);
}

/// Quarter-sawn basswood along the grain: k .203 against .261 flat-sawn (tests/data/wall/plate.csv).
#[test]
fn how_a_board_is_sawn_counts() {
    let wood = Wood::find("basswood_american").unwrap();
    let k = |sawn| rule_of(wood, sawn).limit(&long(0.0)).k;
    close_to(k(Sawn::Flat), 0.261, 0.02 * 0.261);
    close_to(k(Sawn::Quarter), 0.203, 0.02 * 0.203);
    let mut job = job_with_bars(&[[0.0, 0.0, 40.0, 2.0]]);
    let flat = Limits::of(&job);
    job.apply(Edit::Sawn(Sawn::Quarter)).unwrap();
    let quarter = Limits::of(&job);
    close_to(quarter.along / flat.along, (0.203f64 / 0.261).sqrt(), 0.015);
}

/// Elastic constants turn with the wall: between along and across the limit lies between, and a wall and its mirror
/// image are alike.
#[test]
fn between_along_and_across_the_limit_lies_between() {
    let rule = rule("basswood_american");
    let at = |angle: f64| thickness(&rule, &long(angle));
    let mut last = at(0.0);
    for step in 1..=18 {
        let next = at(FRAC_PI_2 * f64::from(step) / 18.0);
        assert!(next >= last * 0.999, "{step}: {next} after {last}");
        last = next;
    }
    close_to(at(FRAC_PI_4), at(PI - FRAC_PI_4), 1e-12);
}

/// The rule of every depth: a long wall with sloping sides is held to its crest, so depth gives it neither credit
/// nor penalty, and its limit at the face is that of an upright wall.
#[test]
fn a_long_sloping_wall_is_held_to_its_crest() {
    let upright = rule("basswood_american");
    let sloping = WallRule { slope: 2.0, ..upright.clone() };
    for height in [1.6, 3.0, 12.0] {
        let wall = Wall::endless(mm(height), along());
        close_to(thickness(&sloping, &wall), thickness(&upright, &long(0.0)), 1e-9);
    }
    // A stub of its own shape: the worst of every depth, by hand.
    let stub = Wall { height: mm(4.0), length: mm(2.0), support: Support::FreeAtAnEnd, heading: along() };
    let leaning = WallRule { slope: 0.1, ..upright.clone() };
    let worst = (1..=8)
        .map(|step| {
            let z = 4.0 * f64::from(step) / 8.0;
            let k = leaning.plates.factors(&along(), Support::FreeAtAnEnd, 2.0 / z).root;
            (6.0 * k * leaning.push(mm(4.0), &along()) / leaning.wood.across.value).sqrt() - 0.1 * z
        })
        .fold(0.0, f64::max);
    close_to(thickness(&leaning, &stub), worst, 1e-9);
}

/// `t = (12 d P h^2 / (E' y))^(1/3)`: a tall thin wall chatters before it breaks, and by the cube root of its height
/// squared (formula).
#[test]
fn a_tall_wall_is_held_by_its_stiffness() {
    let rule = rule("basswood_american");
    let of = |height: f64| rule.limit(&Wall::endless(mm(height), along()));
    assert_eq!(of(3.0).governs, Governs::Root);
    let (tall, taller) = (of(20.0), of(40.0));
    assert_eq!((tall.governs, taller.governs), (Governs::Stiffness, Governs::Stiffness));
    close_to(taller.thickness / tall.thickness, 2f64.powf(2.0 / 3.0), 1e-9);
    // By hand: E_R .066 of 1.1 times 10067 MPa over 1 - nu nu, d .092 (tests/data/wall/plate.csv).
    let push = rule.push(mm(20.0), &along());
    let modulus = 0.066 * 1.1 * 1.46e6 * 6.894_757e-3 / (1.0 - 0.364f64.powi(2) * 0.066);
    close_to(tall.thickness.get(), (12.0 * 0.092 * push * 400.0 / (modulus * 0.1)).cbrt(), 0.02);
}

/// `1.5 P / (t b) = tau` with `b = h / k` (formula): only a wall far lower than it is thick comes to that.
#[test]
fn a_very_low_wall_is_held_by_shear() {
    let mut rule = rule("oak_white");
    rule.wood = Arc::new(WoodNumbers {
        shear: spelk::proof::wall::Value { value: 0.05, of: None },
        ..(*rule.wood).clone()
    });
    let limit = rule.limit(&Wall::endless(mm(1.0), along()));
    assert_eq!(limit.governs, Governs::Shear);
    close_to(limit.thickness.get(), 1.5 * limit.push * limit.k / 0.05, 1e-9);
}

/// Beam formulas: `M = P l / 8` with both ends fixed, `P l` with one (AISC beam tables, from memory); along the grain
/// against bending strength, across it against tension across. A round pillar: `d^3 = 32 P h / (pi s)`.
#[test]
fn strips_and_pillars_are_beams() {
    let rule = rule("basswood_american");
    let push = rule.push(mm(19.0), &along());
    let both = strip(&rule, mm(40.0), mm(19.0), true, &along()).get();
    // 8,700 psi (Wood Handbook Table 5-3b).
    close_to(both, (6.0 * push * 40.0 / 8.0 / (19.0 * 8700.0 * 6.894_757e-3)).sqrt(), 1e-3);
    close_to(strip(&rule, mm(40.0), mm(19.0), false, &along()).get() / both, 8f64.sqrt(), 1e-9);
    let across = strip(&rule, mm(40.0), mm(19.0), true, &Heading::of(FRAC_PI_2)).get();
    // 350 psi.
    close_to(across / both, (8700.0f64 / 350.0).sqrt(), 0.01);
    let d = rule.pillar(mm(3.0), &along()).thickness.get();
    close_to(PI * d.powi(3) * 350.0 * 6.894_757e-3 / (32.0 * 3.0), rule.push(mm(3.0), &along()), 1e-3);
    // With sides that gain 1 for each unit of depth, `c z^(1/3) - z` is most at `z = (c / 3)^(3/2)`, and is `2 z` there.
    let sloping = WallRule { slope: 1.0, ..rule };
    let c = d / 3f64.cbrt();
    close_to(sloping.pillar(mm(3.0), &along()).thickness.get(), 2.0 * (c / 3.0).powf(1.5), 0.02);
}

/// Pegs and dots have no length along which they could be walls; a round one of 1 mm that stands 3 mm tall in basswood
/// snaps at a touch.
#[test]
fn pegs_are_pillars() {
    let round = |x: f64, across: f64| {
        let corner =
            |i: u32| dvec2(x, 20.0) + glam::DVec2::from_angle(PI * f64::from(i) / 24.0) * 0.5 * across;
        vec![(0..48).map(corner).collect::<Vec<_>>()]
    };
    let pegs = [round(0.0, 1.0), round(20.0, 2.5), round(40.0, 6.0), vec![rectangle(60.0, 19.0, 1.0, 1.0)]];
    let names = ["thin", "chancy", "stout", "square"];
    let elements: Vec<_> = names.into_iter().zip(pegs).collect();
    let job = support::job(Treatment::Relief, &elements);
    let proof = proof_of(&job);
    let rule = &proof.limits.usual().rule;
    // By hand: pi d^3 s / 32 = P h.
    let by_hand = (32.0 * rule.push(job.depth(), &along()) * job.depth().get()
        / (PI * Wood::find("basswood_american").unwrap().tension_across.unwrap()))
    .cbrt();
    let mut found: Vec<_> = proof
        .findings
        .iter()
        .filter_map(|finding| match &finding.facts {
            Facts::ThinWall { width, severity, place, .. } => {
                let wall = place.held.wall.unwrap();
                assert_eq!((wall.run.ends, wall.limit.governs), (WallEnds::Pillar, Governs::Pillar));
                close_to(wall.limit.thickness.get(), by_hand, 1e-9);
                Some((place.element.clone().unwrap(), width.get(), *severity))
            }
            _ => None,
        })
        .collect();
    found.sort_by(|a, b| a.0.cmp(&b.0));
    let names: Vec<&str> = found.iter().map(|(name, ..)| name.as_str()).collect();
    assert_eq!(names, ["chancy", "square", "thin"], "by hand {by_hand}");
    assert_eq!(found[2].2, Severity::Unsound);
    close_to(found[1].1, 1.0, 1e-6);
    // Its limit has no size in it, so it is sound from so many times as large.
    close_to(proof.thinnest.sound_factor.unwrap(), by_hand / (PI / 48.0).cos(), 1e-3);
    let measured = measure(&job);
    let ratings = rate(&job, &measured);
    let mended = mend(&job, &measured, &ratings, proof.factor, Mend::Walls);
    assert_eq!(
        proof_of(&mended.job).findings.iter().filter(|f| f.kind() == FindingKind::ThinWall).count(),
        0
    );
}

/// A cutter enters a round or a square hole where it is no wider than the hole.
#[test]
fn holes_are_held_to_the_cutter_too() {
    let hole = |x: f64, across: f64| rectangle(x, 10.0, across, across);
    let panel = vec![hole(10.0, 2.0), hole(30.0, 3.1), hole(50.0, 3.2)];
    let job = support::job(Treatment::Sunk, &[("holes", panel)]);
    let widths: Vec<f64> = proof_of(&job)
        .findings
        .iter()
        .filter(|finding| finding.kind() == FindingKind::BlockedGroove)
        .filter_map(|finding| finding.measured().map(Mm::get))
        .collect();
    assert_eq!(widths.len(), 2, "{widths:?}");
    close_to(widths[0], 2.0, 1e-6);
    close_to(widths[1], 3.1, 1e-6);
}

/// A standard normal table: 0.8413 at 1, 0.9332 at 1.5, 0.0228 at -2.
#[test]
fn the_chance_is_the_normal_distribution_of_the_logarithm() {
    close_to(chance(0.18f64.exp(), 0.18), 0.8413, 5e-5);
    close_to(chance((1.5f64 * 0.2).exp(), 0.2), 0.9332, 5e-5);
    close_to(chance((-2.0f64 * 0.15).exp(), 0.15), 0.0228, 5e-5);
}

/// The starting wall stands at the end of the sum as it stood at its start.
#[test]
fn a_reference_wall_gives_itself_back() {
    for cutter in spelk::shop::cutters() {
        let mut job = job_with_bars(&[[0.0, 0.0, 40.0, 2.0]]);
        job.apply(Edit::Cutter(Box::new(cutter.clone()))).unwrap();
        job.apply(Edit::Depth(cutter.reference.height)).unwrap();
        let along = cutter.reference.along.get();
        close_to(Limits::of(&job).free_end[0].get(), along, 0.01 * along);
    }
    // A shop that measured both keeps both.
    let mut job = job_with_bars(&[[0.0, 0.0, 40.0, 2.0]]);
    change_cutter(&mut job, |cutter| cutter.reference.across = Some(mm(1.9)));
    close_to(Limits::of(&job).across.get(), 1.9, 0.01);
}

/// Blocks 20 square with a bar 2 wide between them, or from one of them, or by itself; all along the grain.
fn bar(left: bool, right: bool, width: f64) -> Job {
    let mut boxes = vec![[20.0, 9.0, 50.0, 9.0 + width]];
    if left {
        boxes.push([0.0, 0.0, 20.0, 20.0]);
    }
    if right {
        boxes.push([50.0, 0.0, 70.0, 20.0]);
    }
    job_with_bars(&boxes)
}

#[test]
fn a_wall_knows_what_its_ends_do() {
    for (left, right, ends) in [
        (true, true, WallEnds::BothJoined),
        (true, false, WallEnds::OneFree),
        (false, true, WallEnds::OneFree),
        (false, false, WallEnds::BothFree),
    ] {
        let proof = proof_of(&bar(left, right, 0.5));
        let wall =
            proof.findings.iter().find_map(|finding| finding.wall()).expect("half a millimetre is thin");
        assert_eq!(wall.run.ends, ends);
        close_to(wall.run.length.get(), 30.0, 1.0);
    }
}

/// The same bar is flagged with a free end, and not where both its ends are tied.
#[test]
fn a_bar_with_a_free_end_is_flagged_before_the_same_bar_tied_at_both() {
    let limit = |left, right| {
        let proof = proof_of(&bar(left, right, 0.3));
        proof.findings.iter().find_map(|finding| finding.wall()).expect("thin").limit.thickness.get()
    };
    let (tied, one, free) = (limit(true, true), limit(true, false), limit(false, false));
    assert!(one > 1.5 * tied, "{one} {tied}");
    // So long a wall does not feel its other end: alike within the table's own accuracy.
    assert!((free / one - 1.0).abs() < 0.01, "{free} {one}");
    let is_flagged =
        |left, right, width| proof_of(&bar(left, right, width)).findings.iter().any(|f| f.wall().is_some());
    let between = 0.5 * (tied + one);
    assert!(is_flagged(true, false, between) && !is_flagged(true, true, between), "{between}");
}

/// Feed and pass move the limit of the job at once.
#[test]
fn feed_speed_and_pass_move_the_limits_of_a_job() {
    let job = bar(true, true, 2.0);
    let along = |change: &dyn Fn(&mut Cutter)| {
        let mut job = job.clone();
        change_cutter(&mut job, change);
        Limits::of(&job).along.get()
    };
    let usual = along(&|_| ());
    assert!(along(&|cutter| cutter.feed *= 0.5) < usual, "slower");
    assert!(along(&|cutter| cutter.spindle_speed *= 2.0) < usual, "a faster spindle");
    assert!(along(&|cutter| cutter.pass_depth = cutter.pass_depth * 0.5) < usual, "a shallower pass");
    close_to(along(&|cutter| cutter.pass_depth = cutter.pass_depth * 0.5) / usual, 0.5f64.sqrt(), 1e-6);
}
