use super::{Said, UNITS, compare, say};
use spelk::arrange::{OnRack, PieceSums};
use spelk::proof::Severity;
use spelk::shop::Money;
use spelk::units::{LengthUnit, Mm};
use spelk::words::arrange;

#[test]
fn arrange() {
    let mut said = Said::default();
    let (mm, money) = (Mm::new, Money::default());
    for number in [1, 3, 10, 11, 21, 102, 113] {
        say!(said, arrange::ordinal(number));
    }
    say!(said, arrange::copy("house number 27", 0, 1));
    say!(said, arrange::copy("coaster", 2, 14));
    say!(said, arrange::copies("coaster", &[2], 14));
    say!(said, arrange::copies("coaster", &[0, 3], 14));
    say!(said, arrange::copies("coaster", &[0, 1, 2], 3));
    say!(said, arrange::copies("coaster", &[0, 1, 2, 3, 4, 5, 6], 14));
    say!(said, arrange::found_of("coaster", &[0, 1, 2], 3, "this wall is 1.2 mm thick"));
    say!(said, arrange::more_found(48));
    say!(said, arrange::minutes(Some(12.44)));
    say!(said, arrange::minutes(None));
    say!(said, arrange::pieces_called(["coaster", "leaf", "coaster"].into_iter()));
    say!(said, arrange::pieces_called(["1", "2", "3", "4", "5", "6"].into_iter()));
    say!(said, arrange::laid(14, 0));
    say!(said, arrange::laid(1, 2));
    let (sound, chancy, unsound) = (Severity::Sound, Severity::Chancy, Severity::Unsound);
    say!(said, arrange::verdict(&[sound, sound]));
    say!(said, arrange::verdict(&[sound, chancy]));
    say!(said, arrange::verdict(&[unsound, sound]));
    say!(said, arrange::verdict(&[unsound, unsound, chancy]));
    for unit in UNITS {
        say!(said, arrange::used(mm(612.0), mm(1200.0), 0.31, unit));
        say!(said, arrange::shortest(mm(612.0), mm(180.0), unit));
        say!(said, arrange::allowance(mm(12.7), 14, unit));
        say!(said, arrange::gap(mm(8.0), Some(mm(8.0)), unit));
        say!(said, arrange::gap(mm(8.175), None, unit));
    }
    say!(said, arrange::total(172.4, Some(120.0), Some(350.0), &money));
    say!(said, arrange::total(172.4, None, None, &money));
    say!(said, arrange::cutters(&["1/8 in flat"]));
    say!(said, arrange::cutters(&["1/4 in flat", "60 degree V"]));
    say!(said, arrange::across_the_grain(1));
    say!(said, arrange::across_the_grain(3));
    let piece = |one_more| PieceSums {
        name: "coaster".to_owned(),
        wanted: 14,
        laid: 14,
        size: [mm(90.0); 2],
        minutes: Some(12.0),
        cost: Some(9.0),
        price: Some(25.0),
        one_more,
    };
    say!(said, arrange::one_more(&piece(Some(4.1)), true, &money));
    say!(said, arrange::one_more(&piece(None), true, &money));
    say!(said, arrange::one_more(&piece(None), false, &money));
    let row = |takes_all| OnRack {
        index: 0,
        name: "cherry 30".to_owned(),
        count: 9,
        takes_all,
        waste: 0.4,
        offcut: mm(210.0),
    };
    say!(said, arrange::on_rack(&row(true), LengthUnit::Millimetres));
    say!(said, arrange::on_rack(&row(false), LengthUnit::Millimetres));
    for column in arrange::COLUMNS {
        said.line("arrange::COLUMNS", column);
    }
    say!(said, arrange::RACK);
    say!(said, arrange::RACK_TAKES_NONE);
    compare("arrange", &said);
}
