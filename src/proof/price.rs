//! What a piece costs to make and sells for, by the shop's own prices, every line shown.
//!
//! The order: wood, machine, cutter wear, bench and finish make the cost; the margin makes the price;
//! the shop's minimum lifts it, its step rounds it up, tax comes on top, and what is paid goes to the
//! nearest step of cash. Every line is rounded to the currency's digits before it is added, so the lines
//! on paper add up to the last digit.

use crate::job::Job;
use crate::shop::{FeetRule, Prices, board_feet, dressed_size, surfaced_size};
use crate::units::Mm;
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
    pub counted: [Option<f64>; 2],
    /// Square feet of face before and after rounding, where the rule rounds that.
    pub surface: Option<[f64; 2]>,
}

/// One line of a price.
#[derive(Clone, Debug, PartialEq)]
pub struct PriceLine {
    /// What it is for.
    pub item: PriceItem,
    /// How much, in the shop's currency; `None` where it cannot be worked out.
    pub amount: Option<f64>,
    /// What it was worked out from.
    pub by: PricedBy,
}

/// What a line of a price was worked out from. Money is in the shop's currency, areas are square millimetres.
#[derive(Clone, Debug, PartialEq)]
pub enum PricedBy {
    /// A board's feet.
    Wood {
        /// How many.
        feet: BoardFeet,
        /// What is bought beyond them, as a share.
        waste: f64,
        /// The price of one.
        foot: f64,
        /// The wood's name.
        wood: String,
    },
    /// A wood that has no price.
    NoWoodPrice {
        /// The wood's name.
        wood: String,
    },
    /// Time at the machine.
    Time {
        /// How long.
        minutes: f64,
        /// The price of an hour.
        hour: f64,
    },
    /// Time at the machine that is not worked out.
    NoTime,
    /// Time at the machine, which costs nothing here.
    NotCharged,
    /// Time at the bench.
    Bench {
        /// Minutes that any piece takes.
        any_piece: f64,
        /// Minutes that this much face takes.
        by_area: f64,
        /// The face.
        area: f64,
        /// The price of an hour.
        hour: f64,
    },
    /// The finish of a face.
    Finish {
        /// The face.
        area: f64,
        /// The price of a square metre.
        per_area: f64,
    },
    /// The lines before it together.
    Sum,
    /// The shop's margin.
    Margin {
        /// As a share of the price before tax.
        share: f64,
    },
    /// The least that any piece is sold for.
    Minimum {
        /// That.
        least: f64,
    },
    /// A step that prices are rounded up to.
    RoundedUp {
        /// The step.
        to: f64,
    },
    /// All before tax.
    BeforeTax,
    /// Tax.
    Tax {
        /// As a share of the price before tax.
        share: f64,
    },
    /// A step of cash.
    CashStep {
        /// The step.
        step: f64,
    },
    /// All of it.
    Paid,
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
}

impl BoardFeet {
    /// A share of them, 0 to 1: of one piece of several on a board.
    #[must_use]
    pub fn share(&self, share: f64) -> BoardFeet {
        BoardFeet {
            feet: self.feet * share,
            unrounded: self.unrounded * share,
            counted: [None; 2],
            surface: None,
        }
    }

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

/// The price of a piece. `O(1)`.
pub fn price(prices: &Prices, piece: &PricedPiece) -> Price {
    price_by_feet(prices, piece, BoardFeet::count(piece.board, prices.feet))
}

/// The price of a piece that takes so many feet of its board: one of several on it. `O(1)`.
pub fn price_by_feet(prices: &Prices, piece: &PricedPiece, feet: BoardFeet) -> Price {
    let money = &prices.money;
    let mut lines = cost_lines(prices, piece, &feet);
    let known = |amount: Option<f64>| amount.map(|amount| money.rounded(amount));
    for line in &mut lines {
        line.amount = known(line.amount);
    }
    let cost: Option<f64> = lines.iter().map(|line| line.amount).sum();
    let cost = known(cost);
    let mut push = |item, amount: Option<f64>, by: PricedBy| lines.push(PriceLine { item, amount, by });
    push(PriceItem::Cost, cost, PricedBy::Sum);
    let margin = known(cost.map(|cost| cost / (1.0 - prices.margin) - cost));
    push(PriceItem::Margin, margin, PricedBy::Margin { share: prices.margin });
    let asked = known(cost.zip(margin).map(|(cost, margin)| cost + margin));
    let lifted = asked.map(|asked| asked.max(money.rounded(prices.minimum)));
    if lifted > asked {
        let added = known(lifted.zip(asked).map(|(lifted, asked)| lifted - asked));
        push(PriceItem::Minimum, added, PricedBy::Minimum { least: prices.minimum });
    }
    let rounded = lifted.map(|price| money.rounded_up(price));
    if rounded > lifted {
        let added = known(rounded.zip(lifted).map(|(rounded, lifted)| rounded - lifted));
        push(PriceItem::RoundingUp, added, PricedBy::RoundedUp { to: money.round_up_to });
    }
    let tax = known(rounded.map(|price| price * prices.tax));
    if prices.tax > 0.0 {
        push(PriceItem::BeforeTax, rounded, PricedBy::BeforeTax);
        push(PriceItem::Tax, tax, PricedBy::Tax { share: prices.tax });
    }
    let owed = known(rounded.zip(tax).map(|(price, tax)| price + tax));
    let total = owed.map(|owed| money.as_paid(owed));
    if total != owed {
        let added = known(total.zip(owed).map(|(total, owed)| total - owed));
        push(PriceItem::CashRounding, added, PricedBy::CashStep { step: money.cash_step });
    }
    push(PriceItem::Total, total, PricedBy::Paid);
    Price { lines, total, feet }
}

/// What the piece costs the shop, unrounded.
fn cost_lines(prices: &Prices, piece: &PricedPiece, feet: &BoardFeet) -> Vec<PriceLine> {
    let line = |item, amount, by| PriceLine { item, amount, by };
    let wood = piece.wood_name.clone();
    let (wood_amount, wood) = match prices.wood(&piece.wood) {
        Some(foot) => (
            Some(feet.feet * (1.0 + prices.waste) * foot),
            PricedBy::Wood { feet: *feet, waste: prices.waste, foot, wood },
        ),
        None => (None, PricedBy::NoWoodPrice { wood }),
    };
    // What is charged at nothing needs no time.
    let timed = |item, hour: f64| match piece.minutes {
        _ if hour == 0.0 => line(item, Some(0.0), PricedBy::NotCharged),
        Some(minutes) => line(item, Some(minutes / 60.0 * hour), PricedBy::Time { minutes, hour }),
        None => line(item, None, PricedBy::NoTime),
    };
    let (any_piece, square_metres) = (prices.bench_minutes, piece.area / 1.0e6);
    let by_area = prices.bench_minutes_per_area * square_metres;
    let bench = (any_piece + by_area) / 60.0 * prices.bench_hour;
    let finish = prices.finish_per_area * square_metres;
    vec![
        line(PriceItem::Wood, wood_amount, wood),
        timed(PriceItem::Machine, prices.machine_hour),
        timed(PriceItem::CutterWear, prices.cutter_hour),
        line(
            PriceItem::Bench,
            Some(bench),
            PricedBy::Bench { any_piece, by_area, area: piece.area, hour: prices.bench_hour },
        ),
        line(
            PriceItem::Finish,
            Some(finish),
            PricedBy::Finish { area: piece.area, per_area: prices.finish_per_area },
        ),
    ]
}
