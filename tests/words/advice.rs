use super::{Said, UNITS, compare, say};
use crate::support::{job, rectangle};
use glam::dvec2;
use spelk::advice::{BoardTaken, Cost, Nearest, Offer, SizeRange, Step, Tried};
use spelk::job::{Ends, Job, Treatment};
use spelk::proof::Obstacle;
use spelk::proof::mend::Mend;
use spelk::shop::Money;
use spelk::units::Mm;
use spelk::words::advice;

fn steps() -> Vec<Step> {
    let mm = Mm::new;
    let size = [mm(640.0), mm(184.15), mm(19.05)];
    let wood = || Some("Hard maple".to_owned());
    let board = |taken: BoardTaken, wood| Step::Board { taken, size, wood, price: Some(12.5) };
    let rack = || BoardTaken::Rack { name: "the short one".to_owned() };
    let bought = |dressed: Option<&str>| BoardTaken::Bought { dressed: dressed.map(str::to_owned) };
    let name = || "Flat end, 1/16 in".to_owned();
    let place = |turned, factor| Step::Place { corner: [mm(90.0), mm(12.5)], turned, factor };
    vec![
        board(rack(), None),
        board(rack(), wood()),
        board(bought(Some("1 x 8")), None),
        board(bought(Some("1 x 8")), wood()),
        board(bought(None), None),
        board(bought(None), wood()),
        Step::Flatten { thickness: mm(17.0) },
        Step::Joint { width: mm(150.0) },
        Step::Cutter { name: name(), clears_first: None },
        Step::Cutter { name: name(), clears_first: Some("Flat end, 1/8 in".to_owned()) },
        Step::OwnCutter { name: name(), elements: vec!["leaves".to_owned(), "rim".to_owned()] },
        Step::Depth { depth: mm(2.5) },
        Step::Pass { depth: mm(1.25) },
        Step::Feed { feed: 640.0 },
        Step::Bridges,
        Step::Turn,
        Step::Ends(Ends::Held),
        Step::Ends(Ends::Free),
        Step::Size { factor: 0.837, length: mm(412.4) },
        place(false, None),
        place(true, None),
        place(false, Some(0.75)),
        place(true, Some(0.75)),
        Step::Middle,
        Step::Treat { elements: vec!["leaves".to_owned(), "rim".to_owned()], treatment: Treatment::Sunk },
        Step::Treat { elements: vec!["rim".to_owned()], treatment: Treatment::Left },
        Step::Specks { count: 1 },
        Step::Mend { what: Mend::Walls, count: 1 },
        Step::Mend { what: Mend::Grooves, count: 4 },
    ]
}

/// A bar that is sound, a stencil that is unsound, and a wall that may hold.
fn tried(treatment: Treatment, elements: &[(&str, Vec<Vec<glam::DVec2>>)]) -> Tried {
    let job: Job = job(treatment, elements);
    Tried::of(job)
}

/// An offer that turns a bar.
pub(crate) fn quarter_turn() -> Offer {
    let cost =
        Cost { minutes: Some(0.0), money: Some(0.0), bought: false, size: 1.0, area: 0.0, trouble: 1.0 };
    let after = tried(Treatment::Relief, &[("bar", vec![rectangle(0.0, 0.0, 100.0, 30.0)])]);
    Offer { steps: vec![Step::Turn], edits: Vec::new(), after, cost }
}

#[test]
fn pieces_of_advice() {
    let mut said = Said::default();
    let money = Money::default();
    let free =
        Cost { minutes: Some(0.0), money: Some(0.0), bought: false, size: 1.0, area: 0.0, trouble: 1.0 };
    let bar = tried(Treatment::Relief, &[("bar", vec![rectangle(0.0, 0.0, 100.0, 30.0)])]);
    let groove = tried(Treatment::Sunk, &[("slot", vec![rectangle(0.0, 0.0, 100.0, 1.0)])]);
    let of = |steps: Vec<Step>, after: &Tried, cost: Cost| Offer {
        steps,
        edits: Vec::new(),
        after: after.clone(),
        cost,
    };
    for step in steps() {
        for unit in UNITS {
            said.line("advice::changes", advice::changes(&of(vec![step.clone()], &bar, free), unit));
        }
    }
    let two = vec![Step::Turn, Step::Depth { depth: Mm::new(2.0) }];
    for unit in UNITS {
        for after in [&bar, &groove] {
            let offer = of(two.clone(), after, free);
            say!(said, advice::offer(&offer, &money, unit));
            say!(said, advice::preview(&offer, unit));
            say!(said, advice::short(&offer, unit));
            say!(said, advice::would_help(&offer, &money, unit));
            said.line("advice::remains", advice::remains(&offer, unit));
        }
    }
    let costs = [
        free,
        Cost { minutes: None, ..free },
        Cost { minutes: Some(12.4), ..free },
        Cost { minutes: Some(-12.4), ..free },
        Cost { bought: true, money: Some(14.25), ..free },
        Cost { bought: true, money: None, ..free },
        Cost { size: 0.917, area: 0.0004, ..free },
        Cost { area: 0.031, ..free },
    ];
    for cost in costs {
        say!(said, advice::cost(&of(two.clone(), &bar, cost), &money));
    }
    let obstacle = Obstacle {
        is_wall: true,
        width: Mm::new(0.0123),
        element: Some("leaves".to_owned()),
        at: dvec2(120.5, 30.0),
    };
    let range = |sound_from, fits_up_to| SizeRange { sound_from, obstacle: None, fits_up_to };
    let drawn = Mm::new(500.0);
    for unit in UNITS {
        said.line("advice::no_size(there is one)", advice::no_size(&range(Some(0.7), 0.8), drawn, unit));
        said.line("advice::no_size(none)", advice::no_size(&range(Some(0.8366), 0.7846), drawn, unit));
        said.line("advice::no_size(no room)", advice::no_size(&range(Some(0.8366), 0.0), drawn, unit));
        let never = SizeRange { obstacle: Some(obstacle.clone()), ..range(Some(302.4), 0.7846) };
        said.line("advice::no_size(at no size)", advice::no_size(&never, drawn, unit));
    }
    let forbids = groove.proof.findings[0].clone();
    let way = Some(Box::new(of(two, &groove, free)));
    let near = |way| Nearest { way, forbids: forbids.clone() };
    said.line("advice::nearest(a way)", advice::nearest(&near(way), false, &money, UNITS[0]));
    said.line("advice::nearest(offered)", advice::nearest(&near(None), true, &money, UNITS[0]));
    said.line("advice::nearest(nothing)", advice::nearest(&near(None), false, &money, UNITS[0]));
    say!(said, advice::HEADING);
    say!(said, advice::NOTHING_TO_CHANGE);
    say!(said, advice::NOTHING_HELPS);
    compare("advice", &said);
}
