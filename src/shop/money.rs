//! How money is written and rounded, and how it is in many places.

use super::prices::{MOST_MONEY, PricePart};
use super::{Problem, RangeUnit, Wrong};
use serde::{Deserialize, Serialize};
use std::sync::LazyLock;

/// How money is written and rounded.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Money {
    /// The currency's three letters (ISO 4217); empty where only its sign is known.
    pub currency: String,
    /// The currency's sign or letters.
    pub sign: String,
    /// Where it stands.
    pub sign_at: SignAt,
    /// Digits after the mark, 0 to 3: every line is rounded to as many.
    pub decimals: u8,
    /// What stands before them.
    pub decimal_mark: char,
    /// What stands between groups of digits; `None` for nothing.
    pub thousands_mark: Option<char>,
    /// How the digits before the mark are grouped.
    pub grouping: Grouping,
    /// A price before tax is rounded up to a whole number of these; 0 leaves it as it is.
    pub round_up_to: f64,
    /// What is paid is rounded to the nearest whole number of these, as where there are no small coins;
    /// 0 leaves it as it is.
    pub cash_step: f64,
}

/// Where a currency's sign stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SignAt {
    /// `$12.50`
    #[default]
    Front,
    /// `$ 12.50`
    FrontApart,
    /// `12.50 $`
    Back,
    /// `12.50$`
    BackClose,
}

/// How the digits of a whole number are grouped.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Grouping {
    /// `1,234,567`
    #[default]
    Thousands,
    /// `12,34,567`
    Lakhs,
}

/// A place, and how money is written there.
#[derive(Clone, Debug, PartialEq)]
pub struct MoneyPlace {
    /// Language and territory: `de-CH`.
    pub tag: String,
    /// Its English name, with the language where the place has several.
    pub name: String,
    /// How money is written there.
    pub money: Money,
}

/// Between a sign and digits: no line is broken there.
const GAP: char = '\u{a0}';

impl Default for Money {
    fn default() -> Money {
        Money {
            currency: "USD".to_owned(),
            sign: "$".to_owned(),
            sign_at: SignAt::Front,
            decimals: 2,
            decimal_mark: '.',
            thousands_mark: Some(','),
            grouping: Grouping::Thousands,
            round_up_to: 0.0,
            cash_step: 0.0,
        }
    }
}

impl SignAt {
    /// Every place of a sign, in the order a list shows them.
    pub const ALL: [SignAt; 4] = [SignAt::Front, SignAt::FrontApart, SignAt::Back, SignAt::BackClose];
}

impl MoneyPlace {
    /// Every place there are figures for, by name (Unicode CLDR, written by `tests/recipes/money.py`).
    pub fn all() -> &'static [MoneyPlace] {
        #[derive(Deserialize)]
        struct Row {
            tag: String,
            place: String,
            currency: String,
            sign: String,
            sign_at: SignAt,
            decimals: u8,
            decimal_mark: char,
            thousands_mark: Option<char>,
            grouping: Grouping,
            cash_step: f64,
        }
        static PLACES: LazyLock<Vec<MoneyPlace>> = LazyLock::new(|| {
            let place = |row: Result<Row, csv::Error>| {
                let row = row.expect("the built-in table of money is well formed");
                let money = Money {
                    currency: row.currency,
                    sign: row.sign,
                    sign_at: row.sign_at,
                    decimals: row.decimals,
                    decimal_mark: row.decimal_mark,
                    thousands_mark: row.thousands_mark,
                    grouping: row.grouping,
                    round_up_to: 0.0,
                    cash_step: row.cash_step,
                };
                MoneyPlace { tag: row.tag, name: row.place, money }
            };
            csv::Reader::from_reader(include_str!("money.csv").as_bytes()).deserialize().map(place).collect()
        });
        &PLACES
    }

    /// The place a system's locale names, as `de_CH.UTF-8` or `de-CH`: language and territory, else the
    /// territory (money goes by the country, whatever is spoken), else the language where it is spoken in
    /// one place of the table. `None` where nothing is known, as of `C`.
    ///
    /// ```
    /// # use spelk::shop::MoneyPlace;
    /// let tag = |locale| MoneyPlace::of_locale(locale).map(|place| place.tag.as_str());
    /// assert_eq!(tag("fr_CH.UTF-8"), Some("fr-CH"));
    /// assert_eq!(tag("en-DE"), Some("de-DE"));
    /// assert_eq!(tag("C.UTF-8"), None);
    /// ```
    pub fn of_locale(locale: &str) -> Option<&'static MoneyPlace> {
        let tag = locale.split(['.', '@']).next()?;
        let mut parts = tag.split(['-', '_']);
        let language = parts.next()?;
        // Between language and territory a script may stand, of four letters.
        let territory = parts.find(|part| part.len() == 2);
        let is = |part: &str, wanted: &str| part.eq_ignore_ascii_case(wanted);
        let places =
            || MoneyPlace::all().iter().filter_map(|place| Some((place, place.tag.split_once('-')?)));
        let Some(territory) = territory else {
            let mut spoken = places().filter(|(_, (spoken, _))| is(spoken, language));
            return spoken.next().filter(|_| spoken.next().is_none()).map(|(place, _)| place);
        };
        let there = || places().filter(|(_, (_, there))| is(there, territory));
        let (place, _) = there().find(|(_, (spoken, _))| is(spoken, language)).or_else(|| there().next())?;
        Some(place)
    }
}

/// A finer step rounds nothing: money has three decimals at most.
const FINEST_STEP: f64 = 0.001;

/// The most letters of a currency or its sign.
const MOST_LETTERS: usize = 8;

impl Money {
    /// The parts that make no sense.
    pub(super) fn problems(&self) -> Vec<Problem<PricePart>> {
        let mark = |mark: char| !mark.is_ascii_digit() && !mark.is_control() && mark != '-';
        let plain = |words: &str| words.chars().count() <= MOST_LETTERS && !words.contains(char::is_control);
        let money = |amount: f64| (0.0..=MOST_MONEY).contains(&amount);
        let marks = mark(self.decimal_mark)
            && self.thousands_mark.is_none_or(mark)
            && self.thousands_mark != Some(self.decimal_mark);
        let sign = plain(&self.sign) && plain(&self.currency);
        let decimals = Wrong::Range { least: 0.0, most: 3.0, unit: RangeUnit::Count };
        [
            (sign, PricePart::Sign, Wrong::TooLong { letters: MOST_LETTERS }),
            (self.decimals <= 3, PricePart::Decimals, decimals),
            (marks, PricePart::Marks, Wrong::Marks),
            (money(self.round_up_to), PricePart::RoundUpTo, Wrong::Negative),
            (money(self.cash_step), PricePart::CashStep, Wrong::Negative),
        ]
        .into_iter()
        .filter_map(|(fine, part, wrong)| (!fine).then_some(Problem { part, wrong }))
        .collect()
    }

    /// The currency's three letters, or its sign where they are not known.
    pub fn code(&self) -> &str {
        if self.currency.is_empty() { &self.sign } else { &self.currency }
    }

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
        if self.round_up_to >= FINEST_STEP {
            let steps = (self.rounded(price) / self.round_up_to - 1e-9).ceil();
            self.rounded(steps * self.round_up_to)
        } else {
            self.rounded(price)
        }
    }

    /// An amount as it is paid: to the nearest step of cash, half a step up.
    ///
    /// ```
    /// # use spelk::shop::Money;
    /// let money = Money { cash_step: 0.05, ..Money::default() };
    /// assert_eq!([12.32, 12.325, 12.34].map(|amount| money.as_paid(amount)), [12.3, 12.35, 12.35]);
    /// ```
    pub fn as_paid(&self, amount: f64) -> f64 {
        if self.cash_step >= FINEST_STEP {
            let steps = (self.rounded(amount) / self.cash_step + 1e-9).round();
            self.rounded(steps * self.cash_step)
        } else {
            self.rounded(amount)
        }
    }

    /// An amount as it is written: `$1,234.50`, `1.234,50 €`. What stands apart stands behind a space that
    /// no line is broken at; a minus stands before everything.
    ///
    /// ```
    /// # use spelk::shop::{Money, SignAt};
    /// let mut money = Money::default();
    /// assert_eq!(money.show(1234.5), "$1,234.50");
    /// assert_eq!(money.show(-0.5), "-$0.50");
    /// (money.sign, money.sign_at) = ("kr".to_owned(), SignAt::Back);
    /// (money.decimal_mark, money.thousands_mark) = (',', Some('.'));
    /// assert_eq!(money.show(1234.5), "1.234,50\u{a0}kr");
    /// ```
    pub fn show(&self, amount: f64) -> String {
        let rounded = self.rounded(amount);
        let fixed = format!("{:.*}", usize::from(self.decimals), rounded.abs());
        let (whole, part) = fixed.split_once('.').unwrap_or((&fixed, ""));
        let mut digits = String::new();
        for (index, digit) in whole.chars().enumerate() {
            let left = whole.len() - index;
            let starts_group = match self.grouping {
                Grouping::Thousands => left.is_multiple_of(3),
                Grouping::Lakhs => left == 3 || left > 3 && !left.is_multiple_of(2),
            };
            if let Some(mark) = self.thousands_mark.filter(|_| index > 0 && starts_group) {
                digits.push(mark);
            }
            digits.push(digit);
        }
        if !part.is_empty() {
            digits.push(self.decimal_mark);
            digits.push_str(part);
        }
        let minus = if rounded < 0.0 { "-" } else { "" };
        let sign = &self.sign;
        if sign.is_empty() {
            return format!("{minus}{digits}");
        }
        match self.sign_at {
            SignAt::Front => format!("{minus}{sign}{digits}"),
            SignAt::FrontApart => format!("{minus}{sign}{GAP}{digits}"),
            SignAt::Back => format!("{minus}{digits}{GAP}{sign}"),
            SignAt::BackClose => format!("{minus}{digits}{sign}"),
        }
    }

    fn scale(&self) -> f64 {
        10f64.powi(i32::from(self.decimals))
    }
}
