//! What a piece costs to make and sells for, by the shop's own prices, every line shown.
//!
//! The order: wood, machine, cutter wear, bench and finish make the cost; the margin makes the price;
//! the shop's minimum lifts it, its step rounds it up, tax comes on top, and what is paid goes to the
//! nearest step of cash. Every line is rounded to the currency's digits before it is added, so the lines
//! on paper add up to the last digit.

use crate::job::Job;
use crate::shop::{FeetRule, Money, Prices, board_feet, dressed_size, show_area, surfaced_size};
use crate::units::{LengthUnit, Mm, trimmed};
use serde::{Deserialize, Serialize};

/// What a price is worked out from, beside the shop's prices.
#[derive(Clone, Debug, PartialEq)]
pub struct PricedPiece {
    /// The wood's id.
    pub wood: String,
    /// The wood's name.
    pub wood_name: String,
    /// The board that is bought: length, width and thickness.
    pub board: [Mm; 3],
    /// Area of the finished piece's face, square millimetres.
    pub area: f64,
    /// Minutes at the machine; `None` where they are not worked out.
    pub minutes: Option<f64>,
}

/// The board feet of a board, with how they were counted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoardFeet {
    /// What is paid for.
    pub feet: f64,
    /// By its true size, unrounded.
    pub unrounded: f64,
    /// What was counted, inches: thickness, and width where the rule counts by a nominal one.
    counted: [Option<f64>; 2],
    /// Square feet of face before and after rounding, where the rule rounds that.
    surface: Option<[f64; 2]>,
}

/// One line of a price.
#[derive(Clone, Debug, PartialEq)]
pub struct PriceLine {
    /// What it is for.
    pub item: PriceItem,
    /// How much, in the shop's currency; `None` where it cannot be worked out.
    pub amount: Option<f64>,
    /// How it comes about, for a person: a sentence without a full stop.
    pub how: String,
}

/// What a line of a price is for, in their order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PriceItem {
    /// Wood, with what is bought beyond it.
    Wood,
    /// The machine's time.
    Machine,
    /// What the carving wears off the cutters.
    CutterWear,
    /// Time at the bench.
    Bench,
    /// The finish.
    Finish,
    /// All of those together.
    Cost,
    /// The shop's margin.
    Margin,
    /// What is added so that the price is not under the shop's minimum.
    Minimum,
    /// What is added to a rounded price.
    RoundingUp,
    /// The price before tax.
    BeforeTax,
    /// Tax.
    Tax,
    /// What is added or let off so that it can be paid in cash.
    CashRounding,
    /// What is paid.
    Total,
}

/// A price with its lines.
#[derive(Clone, Debug, PartialEq)]
pub struct Price {
    /// Every line, in its order.
    pub lines: Vec<PriceLine>,
    /// What is paid; `None` where a line cannot be worked out: it is never guessed.
    pub total: Option<f64>,
    /// The board feet it counts.
    pub feet: BoardFeet,
}

impl Price {
    /// The line for an item, where the price has one.
    pub fn line(&self, item: PriceItem) -> Option<&PriceLine> {
        self.lines.iter().find(|line| line.item == item)
    }

    /// The price as it is written, or that it is not worked out and for want of what.
    pub fn words(&self, money: &Money) -> String {
        if let Some(total) = self.total {
            money.show(total)
        } else {
            let mut missing: Vec<&str> = self
                .lines
                .iter()
                .filter(|line| line.amount.is_none() && line.item < PriceItem::Cost)
                .map(|line| line.how.as_str())
                .collect();
            missing.dedup();
            format!("not worked out: {}", missing.join("; "))
        }
    }
}

impl BoardFeet {
    /// Counts a board's feet by a rule. A board without extent has none.
    ///
    /// The hardwood rule rounds the surface measure to the nearest whole foot, and half a foot up (the
    /// rule lets halves go up and down by turns; one board has no turn). What would round to nothing
    /// counts as one foot: our own choice, for a yard sells no less.
    ///
    /// ```
    /// # use spelk::{proof::price::BoardFeet, shop::FeetRule, units::Mm};
    /// let inch = Mm::from_inches;
    /// let counted = BoardFeet::count([inch(96.0), inch(6.25), inch(2.0)], FeetRule::SurfaceMeasure);
    /// assert_eq!(counted.feet, 8.0);
    /// ```
    pub fn count([length, width, thickness]: [Mm; 3], rule: FeetRule) -> BoardFeet {
        let unrounded = board_feet(length, width, thickness);
        let inches = length.to_inches();
        let hundredth = |feet: f64| (feet * 100.0).round() / 100.0;
        let (feet, counted, surface) = match rule {
            FeetRule::TrueSize => (hundredth(unrounded), [None; 2], None),
            FeetRule::Nominal => match dressed_size(width, thickness).and_then(|size| nominal(&size.name)) {
                Some([thick, wide]) => {
                    (hundredth(thick * wide * inches / 144.0), [Some(thick), Some(wide)], None)
                }
                None => (hundredth(unrounded), [None; 2], None),
            },
            FeetRule::SurfaceMeasure => {
                let surface = width.to_inches() * inches / 144.0;
                let whole = (surface + 1e-9).round().max(if surface > 0.0 { 1.0 } else { 0.0 });
                let sold = sold_thickness(thickness);
                (whole * sold, [Some(sold), None], Some([surface, whole]))
            }
        };
        BoardFeet { feet, unrounded, counted, surface }
    }

    /// How they were counted, with the rounding: a sentence without a full stop.
    pub fn words(&self) -> String {
        let foot = if self.feet == 1.0 { "foot" } else { "feet" };
        let feet = format!("{} board {foot}", trimmed(self.feet, 2));
        let inches = |number: f64| trimmed(number, 3);
        match (self.counted, self.surface) {
            ([Some(thick), Some(wide)], _) => {
                format!("{feet} as {} x {} nominal, rounded to a hundredth", inches(thick), inches(wide))
            }
            ([Some(thick), None], Some([surface, whole])) => format!(
                "{feet}: surface measure {} rounded to {} whole, times {} in",
                trimmed(surface, 2),
                trimmed(whole, 0),
                inches(thick)
            ),
            _ => format!("{feet} by true size, rounded to a hundredth"),
        }
    }
}

/// The thickness in inches that hardwood is sold at: a rough size as it is, another as the surfaced size
/// that holds it, a thicker one by its own measure; no less than 1 in.
fn sold_thickness(thickness: Mm) -> f64 {
    let inches = thickness.to_inches();
    let rough = ROUGH.into_iter().find(|rough| (rough - inches).abs() < 1e-3);
    let surfaced = || surfaced_size(thickness).and_then(|size| ratio(&size.name));
    rough.or_else(surfaced).unwrap_or(inches).max(1.0)
}

/// Rough thicknesses of hardwood, inches: 4/4 to 16/4 (NHLA, from memory).
const ROUGH: [f64; 7] = [1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0];

/// `5/4 x 8` as thickness and width in inches; thinner than 1 in counts as 1 in.
fn nominal(name: &str) -> Option<[f64; 2]> {
    let (thick, wide) = name.split_once(" x ")?;
    Some([ratio(thick)?.max(1.0), ratio(wide)?])
}

/// `5/4` or `8` as a number.
fn ratio(text: &str) -> Option<f64> {
    let (top, bottom) = text.split_once('/').unwrap_or((text, "1"));
    Some(top.parse::<f64>().ok()? / bottom.parse::<f64>().ok()?)
}

impl PricedPiece {
    /// The piece of a job, cut from a board of this length and width: as thick as the job's own board,
    /// or as this size needs. `finished` is the piece's face, along and across.
    pub fn of(job: &Job, board: [Mm; 3], finished: [Mm; 2], minutes: Option<f64>) -> PricedPiece {
        PricedPiece {
            wood: job.wood().id.clone(),
            wood_name: job.wood().name.clone(),
            board,
            area: finished[0].get() * finished[1].get(),
            minutes,
        }
    }
}

/// The price of a piece. Words about areas are in `unit`. `O(1)`.
pub fn price(prices: &Prices, piece: &PricedPiece, unit: LengthUnit) -> Price {
    let money = &prices.money;
    let feet = BoardFeet::count(piece.board, prices.feet);
    let mut lines = cost_lines(prices, piece, &feet, unit);
    let known = |amount: Option<f64>| amount.map(|amount| money.rounded(amount));
    for line in &mut lines {
        line.amount = known(line.amount);
    }
    let cost: Option<f64> = lines.iter().map(|line| line.amount).sum();
    let cost = known(cost);
    let percent = |share: f64| trimmed(share * 100.0, 2);
    let mut push = |item, amount: Option<f64>, how: String| lines.push(PriceLine { item, amount, how });
    push(PriceItem::Cost, cost, "wood, machine, cutter wear, bench and finish together".to_owned());
    let margin = known(cost.map(|cost| cost / (1.0 - prices.margin) - cost));
    push(PriceItem::Margin, margin, format!("{} % of the price before tax", percent(prices.margin)));
    let asked = known(cost.zip(margin).map(|(cost, margin)| cost + margin));
    let lifted = asked.map(|asked| asked.max(money.rounded(prices.minimum)));
    if lifted > asked {
        let added = known(lifted.zip(asked).map(|(lifted, asked)| lifted - asked));
        let how = format!("no piece is sold for less than {}", money.show(prices.minimum));
        push(PriceItem::Minimum, added, how);
    }
    let rounded = lifted.map(|price| money.rounded_up(price));
    if rounded > lifted {
        let added = known(rounded.zip(lifted).map(|(rounded, lifted)| rounded - lifted));
        let how = format!("to a whole number of {}", money.show(money.round_up_to));
        push(PriceItem::RoundingUp, added, how);
    }
    let tax = known(rounded.map(|price| price * prices.tax));
    if prices.tax > 0.0 {
        push(PriceItem::BeforeTax, rounded, "what the shop keeps".to_owned());
        push(PriceItem::Tax, tax, format!("{} % of it", percent(prices.tax)));
    }
    let owed = known(rounded.zip(tax).map(|(price, tax)| price + tax));
    let total = owed.map(|owed| money.as_paid(owed));
    if total != owed {
        let added = known(total.zip(owed).map(|(total, owed)| total - owed));
        let how = format!("to the nearest {}", money.show(money.cash_step));
        push(PriceItem::CashRounding, added, how);
    }
    push(PriceItem::Total, total, "what is paid".to_owned());
    Price { lines, total, feet }
}

/// What the piece costs the shop, unrounded.
fn cost_lines(prices: &Prices, piece: &PricedPiece, feet: &BoardFeet, unit: LengthUnit) -> Vec<PriceLine> {
    let money = &prices.money;
    let line = |item, amount, how| PriceLine { item, amount, how };
    let foot = prices.wood(&piece.wood);
    let wood = match foot {
        Some(foot) => format!(
            "{}, {} % more for waste, {} a board foot of {}",
            feet.words(),
            trimmed(prices.waste * 100.0, 1),
            money.show(foot),
            piece.wood_name
        ),
        None => format!("no price is set for {}", piece.wood_name),
    };
    let wood_amount = foot.map(|foot| feet.feet * (1.0 + prices.waste) * foot);
    // What is charged at nothing needs no time.
    let by_the_hour = |rate: f64| match piece.minutes {
        _ if rate == 0.0 => Some(0.0),
        minutes => minutes.map(|minutes| minutes / 60.0 * rate),
    };
    let timed = |rate: f64| match piece.minutes {
        _ if rate == 0.0 => "not charged".to_owned(),
        Some(minutes) => format!("{} min, {} an hour", trimmed(minutes, 1), money.show(rate)),
        None => "the carving time is not worked out".to_owned(),
    };
    let square_metres = piece.area / 1.0e6;
    let bench_minutes = prices.bench_minutes + prices.bench_minutes_per_area * square_metres;
    let bench = format!(
        "{} min ({} for any piece, {} for {} of it), {} an hour",
        trimmed(bench_minutes, 1),
        trimmed(prices.bench_minutes, 1),
        trimmed(prices.bench_minutes_per_area * square_metres, 1),
        show_area(unit, piece.area),
        money.show(prices.bench_hour)
    );
    let (one, name) = crate::shop::area_unit(unit);
    let finish = format!(
        "{} of face, {} for each {name}",
        show_area(unit, piece.area),
        money.show(prices.finish_per_area * one / 1.0e6)
    );
    vec![
        line(PriceItem::Wood, wood_amount, wood),
        line(PriceItem::Machine, by_the_hour(prices.machine_hour), timed(prices.machine_hour)),
        line(PriceItem::CutterWear, by_the_hour(prices.cutter_hour), timed(prices.cutter_hour)),
        line(PriceItem::Bench, Some(bench_minutes / 60.0 * prices.bench_hour), bench),
        line(PriceItem::Finish, Some(prices.finish_per_area * square_metres), finish),
    ]
}
