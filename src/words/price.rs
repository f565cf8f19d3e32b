//! A price in words: every line, and how it comes about.

use crate::proof::price::{BoardFeet, Price, PriceItem, PriceLine, PricedBy};
use crate::shop::{Money, area_unit, show_area};
use crate::units::{LengthUnit, trimmed};

/// The price as it is written, or that it is not worked out and for want of what.
pub fn total(price: &Price, money: &Money, unit: LengthUnit) -> String {
    if let Some(total) = price.total {
        return money.show(total);
    }
    let missing = price.lines.iter().filter(|line| line.amount.is_none() && line.item < PriceItem::Cost);
    let mut missing: Vec<String> = missing.map(|line| how(line, money, unit)).collect();
    missing.dedup();
    format!("not worked out: {}", missing.join("; "))
}

/// How a line of a price comes about: a sentence without a full stop.
pub fn how(line: &PriceLine, money: &Money, unit: LengthUnit) -> String {
    let percent = |share: f64| trimmed(share * 100.0, 2);
    match &line.by {
        PricedBy::Wood { feet, waste, foot, wood } => format!(
            "{}, {} % more for waste, {} a board foot of {wood}",
            board_feet(feet),
            trimmed(waste * 100.0, 1),
            money.show(*foot)
        ),
        PricedBy::NoWoodPrice { wood } => format!("no price is set for {wood}"),
        PricedBy::Time { minutes, hour } => {
            format!("{} min, {} an hour", trimmed(*minutes, 1), money.show(*hour))
        }
        PricedBy::NoTime => "the carving time is not worked out".to_owned(),
        PricedBy::NotCharged => "not charged".to_owned(),
        PricedBy::Bench { any_piece, by_area, area, hour } => format!(
            "{} min ({} for any piece, {} for {} of it), {} an hour",
            trimmed(any_piece + by_area, 1),
            trimmed(*any_piece, 1),
            trimmed(*by_area, 1),
            show_area(unit, *area),
            money.show(*hour)
        ),
        PricedBy::Finish { area, per_area } => {
            let (one, name) = area_unit(unit);
            format!(
                "{} of face, {} for each {name}",
                show_area(unit, *area),
                money.show(per_area * one / 1.0e6)
            )
        }
        PricedBy::Sum => "wood, machine, cutter wear, bench and finish together".to_owned(),
        PricedBy::Margin { share } => format!("{} % of the price before tax", percent(*share)),
        PricedBy::Minimum { least } => format!("no piece is sold for less than {}", money.show(*least)),
        PricedBy::RoundedUp { to } => format!("to a whole number of {}", money.show(*to)),
        PricedBy::BeforeTax => "what the shop keeps".to_owned(),
        PricedBy::Tax { share } => format!("{} % of it", percent(*share)),
        PricedBy::CashStep { step } => format!("to the nearest {}", money.show(*step)),
        PricedBy::Paid => "what is paid".to_owned(),
    }
}

/// How board feet were counted, with the rounding: a sentence without a full stop.
pub fn board_feet(counted: &BoardFeet) -> String {
    let foot = if counted.feet == 1.0 { "foot" } else { "feet" };
    let feet = trimmed(counted.feet, 2);
    let inches = |number: f64| trimmed(number, 3);
    match (counted.counted, counted.surface) {
        ([Some(thick), Some(wide)], _) => format!(
            "{feet} board {foot} as {} x {} nominal, rounded to a hundredth",
            inches(thick),
            inches(wide)
        ),
        ([Some(thick), None], Some([surface, whole])) => format!(
            "{feet} board {foot}: surface measure {} rounded to {} whole, times {} in",
            trimmed(surface, 2),
            trimmed(whole, 0),
            inches(thick)
        ),
        _ => format!("{feet} board {foot} by true size, rounded to a hundredth"),
    }
}
