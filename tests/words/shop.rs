use super::{Said, UNITS, compare, say};
use spelk::shop::{Aside, MachinePart, RangeUnit, ShopNotice, Wrong};
use spelk::units::{LengthUnit, Mm};
use spelk::words::shop;
use std::io::{Error, ErrorKind};

const RANGE_UNITS: [RangeUnit; 8] = [
    RangeUnit::Count,
    RangeUnit::Degrees,
    RangeUnit::Percent,
    RangeUnit::PercentOfDiameter,
    RangeUnit::PercentOfPrice,
    RangeUnit::PercentOfWidthAPoint,
    RangeUnit::Density,
    RangeUnit::Megapascals,
];

#[test]
fn shop() {
    let mut said = Said::default();
    let (least, most) = (Mm::new(0.1), Mm::new(300.0));
    let plain = [
        Wrong::NoName,
        Wrong::NoSource,
        Wrong::NotOverZero,
        Wrong::Negative,
        Wrong::TipTooWide,
        Wrong::PassTooDeep,
        Wrong::WoodStrength,
        Wrong::TooLong { letters: 8 },
        Wrong::Marks,
    ];
    for wrong in plain {
        say!(said, shop::wrong(&wrong, LengthUnit::Millimetres));
    }
    for unit in RANGE_UNITS {
        let wrong = Wrong::Range { least: 0.1, most: 45.0, unit };
        say!(said, shop::wrong(&wrong, LengthUnit::Millimetres));
    }
    let with_lengths = [
        Wrong::Length { least, most },
        Wrong::Feed { least: Mm::new(1.0), most: Mm::new(100_000.0) },
        Wrong::BallTooWide { least, most },
        Wrong::OverMost { most: MachinePart::Longest, bound: most },
    ];
    for unit in UNITS {
        for wrong in with_lengths {
            say!(said, shop::wrong(&wrong, unit));
        }
    }
    let damaged = serde_json::from_str::<u8>("{").unwrap_err();
    let notices = [
        ShopNotice::Unreadable {
            path: "woods.json".into(),
            error: Error::from(ErrorKind::PermissionDenied).into(),
        },
        ShopNotice::Damaged { path: "woods.json".into(), error: damaged },
        ShopNotice::WrongEntry { path: "woods.json".into(), name: "Plum".into(), wrong: Wrong::NoName },
        ShopNotice::WrongPrices { path: "prices.json".into(), wrong: Wrong::Negative },
    ];
    let aside = Aside { path: "woods.json".into(), kept_as: "woods.damaged.json".into() };
    say!(said, shop::set_aside(&aside));
    for notice in &notices {
        say!(said, shop::not_used(notice, LengthUnit::Millimetres));
    }
    compare("shop", &said);
}
