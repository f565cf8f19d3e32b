//! What a shop charges: the user's own numbers, never facts.
//!
//! Every starting value is a round example, there so that the first sheet shows where each number goes.
//! They are kept in `prices.json` of the config folder, one object.

use super::{Money, Problem, RangeUnit, Weights, Wrong};
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
    /// What advice is ranked by, beside these prices.
    pub weights: Weights,
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
    CashStep,
    Weights,
}

/// More money than any carving costs: beyond it a slip of the keyboard.
pub(super) const MOST_MONEY: f64 = 1.0e9;

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
            weights: Weights::default(),
        }
    }
}

impl Prices {
    /// Whether nobody has changed the built-in examples, however money is written and advice is ranked.
    pub fn are_examples(&self) -> bool {
        *self == Prices { money: self.money.clone(), weights: self.weights, ..Prices::default() }
    }

    /// The price of a board foot of a wood; `None` where the shop has none.
    pub fn wood(&self, id: &str) -> Option<f64> {
        self.woods.get(id).copied().or(self.other_woods)
    }

    /// What makes no sense in them, in the order of their parts.
    pub fn problems(&self) -> Vec<Problem<PricePart>> {
        use PricePart::{
            BenchHour, BenchMinutes, BenchMinutesPerArea, CutterHour, FinishPerArea, MachineHour, Margin,
            Minimum, OtherWoods, Tax, Waste, Woods,
        };
        let mut problems = Vec::new();
        let mut unless = |fine: bool, part: PricePart, wrong: Wrong| {
            if !fine {
                problems.push(Problem { part, wrong });
            }
        };
        // Written so that what is not a number fails.
        let money = |amount: f64| (0.0..=MOST_MONEY).contains(&amount);
        let range = |least: f64, most: f64, unit| Wrong::Range { least, most, unit };
        unless(self.woods.values().all(|&price| money(price)), Woods, Wrong::Negative);
        unless(self.other_woods.is_none_or(money), OtherWoods, Wrong::Negative);
        unless((0.0..=10.0).contains(&self.waste), Waste, range(0.0, 1000.0, RangeUnit::Percent));
        for (amount, part) in [(self.machine_hour, MachineHour), (self.bench_hour, BenchHour)] {
            unless(money(amount), part, Wrong::Negative);
        }
        for (minutes, part) in
            [(self.bench_minutes, BenchMinutes), (self.bench_minutes_per_area, BenchMinutesPerArea)]
        {
            unless((0.0..=1.0e6).contains(&minutes), part, Wrong::Negative);
        }
        for (amount, part) in
            [(self.finish_per_area, FinishPerArea), (self.cutter_hour, CutterHour), (self.minimum, Minimum)]
        {
            unless(money(amount), part, Wrong::Negative);
        }
        unless((0.0..=0.95).contains(&self.margin), Margin, range(0.0, 95.0, RangeUnit::PercentOfPrice));
        unless((0.0..=1.0).contains(&self.tax), Tax, range(0.0, 100.0, RangeUnit::Percent));
        problems.extend(self.money.problems());
        if !self.weights.all().into_iter().all(money) {
            problems.push(Problem { part: PricePart::Weights, wrong: Wrong::Negative });
        }
        problems
    }
}

impl FeetRule {
    /// Every rule, in the order a list shows them.
    pub const ALL: [FeetRule; 3] = [FeetRule::TrueSize, FeetRule::Nominal, FeetRule::SurfaceMeasure];
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
