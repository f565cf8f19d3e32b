//! What a shop charges: the user's own numbers, never facts.
//!
//! Every starting value is a round example, there so that the first sheet shows where each number goes.
//! They are kept in `prices.json` of the config folder, one object.

use super::Problem;
use crate::units::{LengthUnit, MM_PER_INCH, trimmed};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What a shop charges. Money is in the shop's own currency throughout.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Prices {
    /// Price of a board foot, by the wood's id.
    pub woods: BTreeMap<String, f64>,
    /// Price of a board foot of a wood that has none of its own; `None`: such a wood is not priced.
    pub other_woods: Option<f64>,
    /// How board feet are counted.
    pub feet: FeetRule,
    /// Wood bought beyond the board, as a share of it: 0.2 for a fifth more. From 0 up.
    pub waste: f64,
    /// Price of an hour of the machine.
    pub machine_hour: f64,
    /// Price of an hour at the bench.
    pub bench_hour: f64,
    /// Minutes at the bench for any piece: setting up, brushing off, packing.
    pub bench_minutes: f64,
    /// Further minutes at the bench for each square metre of the finished piece: sanding.
    pub bench_minutes_per_area: f64,
    /// Price of the finish for each square metre of the finished piece.
    pub finish_per_area: f64,
    /// What an hour of carving wears off the cutters.
    pub cutter_hour: f64,
    /// The least a piece is sold for, before tax.
    pub minimum: f64,
    /// The shop's margin, as a share of the price before tax: 0.25 makes a cost of 75 a price of 100.
    /// From 0 to under 1.
    pub margin: f64,
    /// Tax, as a share of the price before it.
    pub tax: f64,
    /// How money is written and rounded.
    pub money: Money,
}

/// How the board feet of a piece are counted. A board foot is 144 cubic inches (PS 20-25 sec. 2).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FeetRule {
    /// Thickness x width x length as they are, to a hundredth of a board foot.
    #[default]
    TrueSize,
    /// Softwood: the nominal thickness and width of the dressed size it is sawn from, to a hundredth.
    /// Thinner than 1 in counts as 1 in. What no dressed size holds is counted by its true size.
    Nominal,
    /// Hardwood (NHLA): surface measure, width in inches x length in feet / 12, rounded to a whole foot
    /// (at least 1), times the thickness it is sold at in inches. Thinner than 1 in counts as 1 in.
    SurfaceMeasure,
}

/// How money is written and rounded.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Money {
    /// The currency's sign or letters.
    pub sign: String,
    /// Where it stands.
    pub sign_at: SignAt,
    /// Digits after the mark, 0 to 3: every line is rounded to as many.
    pub decimals: u8,
    /// What stands before them.
    pub decimal_mark: char,
    /// What stands between thousands; `None` for nothing.
    pub thousands_mark: Option<char>,
    /// A price before tax is rounded up to a whole number of these; 0 leaves it as it is.
    pub round_up_to: f64,
}

/// Where a currency's sign stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SignAt {
    /// `$12.50`
    #[default]
    Front,
    /// `12.50 $`
    Back,
}

/// A part of the prices that can be wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each is the part of the prices that bears its name")]
pub enum PricePart {
    Woods,
    OtherWoods,
    Waste,
    MachineHour,
    BenchHour,
    BenchMinutes,
    BenchMinutesPerArea,
    FinishPerArea,
    CutterHour,
    Minimum,
    Margin,
    Tax,
    Sign,
    Decimals,
    Marks,
    RoundUpTo,
}

/// More money than any carving costs: beyond it a slip of the keyboard.
const MOST_MONEY: f64 = 1.0e9;

/// Examples to be changed: round numbers of our own, no market's.
impl Default for Prices {
    fn default() -> Prices {
        Prices {
            woods: BTreeMap::new(),
            other_woods: Some(10.0),
            feet: FeetRule::default(),
            waste: 0.25,
            machine_hour: 20.0,
            bench_hour: 30.0,
            bench_minutes: 30.0,
            bench_minutes_per_area: 300.0,
            finish_per_area: 40.0,
            cutter_hour: 3.0,
            minimum: 25.0,
            margin: 0.25,
            tax: 0.0,
            money: Money::default(),
        }
    }
}

impl Default for Money {
    fn default() -> Money {
        Money {
            sign: "$".to_owned(),
            sign_at: SignAt::Front,
            decimals: 2,
            decimal_mark: '.',
            thousands_mark: Some(','),
            round_up_to: 0.0,
        }
    }
}

impl Prices {
    /// Whether nobody has changed the built-in examples.
    pub fn are_examples(&self) -> bool {
        *self == Prices::default()
    }

    /// The price of a board foot of a wood; `None` where the shop has none.
    pub fn wood(&self, id: &str) -> Option<f64> {
        self.woods.get(id).copied().or(self.other_woods)
    }

    /// What makes no sense in them, in the order of their parts.
    pub fn problems(&self) -> Vec<Problem<PricePart>> {
        use PricePart::{
            BenchHour, BenchMinutes, BenchMinutesPerArea, CutterHour, Decimals, FinishPerArea, MachineHour,
            Margin, Marks, Minimum, OtherWoods, RoundUpTo, Sign, Tax, Waste, Woods,
        };
        let mut problems = Vec::new();
        let mut unless = |fine: bool, part: PricePart, reason: &str| {
            if !fine {
                problems.push(Problem { part, reason: reason.to_owned() });
            }
        };
        // Written so that what is not a number fails.
        let money = |amount: f64| (0.0..=MOST_MONEY).contains(&amount);
        let not_money = "a price must be 0 or more";
        unless(self.woods.values().all(|&price| money(price)), Woods, not_money);
        unless(self.other_woods.is_none_or(money), OtherWoods, not_money);
        unless((0.0..=10.0).contains(&self.waste), Waste, "it must be from 0 to 1000 %");
        for (amount, part) in [(self.machine_hour, MachineHour), (self.bench_hour, BenchHour)] {
            unless(money(amount), part, not_money);
        }
        for (minutes, part) in
            [(self.bench_minutes, BenchMinutes), (self.bench_minutes_per_area, BenchMinutesPerArea)]
        {
            unless((0.0..=1.0e6).contains(&minutes), part, "minutes must be 0 or more");
        }
        for (amount, part) in
            [(self.finish_per_area, FinishPerArea), (self.cutter_hour, CutterHour), (self.minimum, Minimum)]
        {
            unless(money(amount), part, not_money);
        }
        unless((0.0..=0.95).contains(&self.margin), Margin, "it must be from 0 to 95 % of the price");
        unless((0.0..=1.0).contains(&self.tax), Tax, "it must be from 0 to 100 %");
        let written = &self.money;
        let fine = written.sign.chars().count() <= 8 && !written.sign.contains(char::is_control);
        unless(fine, Sign, "it must be no longer than 8 letters");
        unless(written.decimals <= 3, Decimals, "it must be from 0 to 3");
        let mark = |mark: char| !mark.is_ascii_digit() && !mark.is_control() && mark != '-';
        let fine = mark(written.decimal_mark)
            && written.thousands_mark.is_none_or(mark)
            && written.thousands_mark != Some(written.decimal_mark);
        unless(fine, Marks, "the marks must be two different signs, and no digits");
        unless(money(written.round_up_to), RoundUpTo, "it must be 0 or more");
        problems
    }
}

impl Money {
    /// An amount to the digits that are written; halves go away from nothing.
    ///
    /// ```
    /// # use spelk::shop::Money;
    /// assert_eq!(Money::default().rounded(2.346), 2.35);
    /// ```
    pub fn rounded(&self, amount: f64) -> f64 {
        let scale = self.scale();
        // What is worked out as 1.005 may be held a hair below it.
        let nudge = 1e-9_f64.copysign(amount);
        (amount * scale + nudge).round() / scale + 0.0
    }

    /// A price rounded up to the step prices are sold at.
    pub fn rounded_up(&self, price: f64) -> f64 {
        if self.round_up_to > 0.0 {
            let steps = (self.rounded(price) / self.round_up_to - 1e-9).ceil();
            self.rounded(steps * self.round_up_to)
        } else {
            self.rounded(price)
        }
    }

    /// An amount as it is written: `$1,234.50`, `1.234,50 €`.
    ///
    /// ```
    /// # use spelk::shop::{Money, SignAt};
    /// let mut money = Money::default();
    /// assert_eq!(money.show(1234.5), "$1,234.50");
    /// assert_eq!(money.show(-0.5), "-$0.50");
    /// (money.sign, money.sign_at) = ("kr".to_owned(), SignAt::Back);
    /// (money.decimal_mark, money.thousands_mark) = (',', Some('.'));
    /// assert_eq!(money.show(1234.5), "1.234,50 kr");
    /// ```
    pub fn show(&self, amount: f64) -> String {
        let rounded = self.rounded(amount);
        let fixed = format!("{:.*}", usize::from(self.decimals), rounded.abs());
        let (whole, part) = fixed.split_once('.').unwrap_or((&fixed, ""));
        let mut digits = String::new();
        for (index, digit) in whole.chars().enumerate() {
            if let Some(mark) = self.thousands_mark.filter(|_| index > 0 && (whole.len() - index) % 3 == 0) {
                digits.push(mark);
            }
            digits.push(digit);
        }
        if !part.is_empty() {
            digits.push(self.decimal_mark);
            digits.push_str(part);
        }
        let minus = if rounded < 0.0 { "-" } else { "" };
        match self.sign_at {
            SignAt::Front => format!("{minus}{}{digits}", self.sign),
            SignAt::Back => format!("{minus}{digits} {}", self.sign).trim_end().to_owned(),
        }
    }

    fn scale(&self) -> f64 {
        10f64.powi(i32::from(self.decimals))
    }
}

impl FeetRule {
    /// Every rule, in the order a list shows them.
    pub const ALL: [FeetRule; 3] = [FeetRule::TrueSize, FeetRule::Nominal, FeetRule::SurfaceMeasure];

    /// Its name for a list.
    pub fn label(self) -> &'static str {
        match self {
            FeetRule::TrueSize => "True size",
            FeetRule::Nominal => "Nominal size (softwood)",
            FeetRule::SurfaceMeasure => "Surface measure (hardwood)",
        }
    }
}

/// Areas as a unit's user buys them: square millimetres in one, and its name.
pub fn area_unit(unit: LengthUnit) -> (f64, &'static str) {
    match unit {
        LengthUnit::Millimetres => (1.0e6, "m\u{b2}"),
        _ => ((12.0 * MM_PER_INCH) * (12.0 * MM_PER_INCH), "sq ft"),
    }
}

/// An area in square millimetres as a unit's user reads it: `0.045 m²`, `0.48 sq ft`.
pub fn show_area(unit: LengthUnit, square_millimetres: f64) -> String {
    let (one, name) = area_unit(unit);
    let places = if unit == LengthUnit::Millimetres { 4 } else { 3 };
    format!("{} {name}", trimmed(square_millimetres / one, places))
}
