//! Lengths and angles: the only place that knows a unit other than the millimetre and the radian.
//!
//! Everything inside Spelk is in [`Mm`]. A person reads and types the unit they work in, fractions
//! of an inch included; [`parse_length`] and [`LengthUnit::show`] are the two doors.

use serde::{Deserialize, Serialize};
use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub};
use thiserror::Error;

/// Millimetres in an inch, exactly (international inch, 1959; CSS Values and Units 3 uses the same).
pub const MM_PER_INCH: f64 = 25.4;

/// A length counts as a fraction of an inch if it is no farther from it than this share of its part: a three-thousandth
/// of an inch at most. A round value of our own.
const EXACTLY: f64 = 0.05;

/// More parts than this are not shown in fractions.
const MOST_PARTS: f64 = 1e12;

/// Newtons of a pound-force: 0.453 592 37 kg times 9.806 65 m/s² (both by definition).
pub const NEWTONS_PER_POUND: f64 = 4.448_221_615_260_5;

/// A length in millimetres.
///
/// Saved files hold it as a bare number. Any `f64` is allowed: what a length may be is the business
/// of the type that holds it.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Mm(f64);

impl Mm {
    /// No length at all.
    pub const ZERO: Mm = Mm(0.0);

    /// A length of so many millimetres.
    pub const fn new(millimetres: f64) -> Mm {
        Mm(millimetres)
    }

    /// A length of so many inches.
    ///
    /// ```
    /// # use spelk::units::Mm;
    /// assert_eq!(Mm::from_inches(3.5), Mm::new(88.9));
    /// ```
    pub const fn from_inches(inches: f64) -> Mm {
        // By ten and a tenth, so that 3 1/2 in is 88.9 mm to the last bit and not next to it.
        Mm(inches * (MM_PER_INCH * 10.0) / 10.0)
    }

    /// The bare number of millimetres, for a numeric kernel.
    pub const fn get(self) -> f64 {
        self.0
    }

    /// The bare number of inches.
    pub const fn to_inches(self) -> f64 {
        self.0 * 10.0 / (MM_PER_INCH * 10.0)
    }

    /// The longer of the two.
    #[must_use]
    pub const fn max(self, other: Mm) -> Mm {
        Mm(self.0.max(other.0))
    }

    /// The shorter of the two.
    #[must_use]
    pub const fn min(self, other: Mm) -> Mm {
        Mm(self.0.min(other.0))
    }
}

impl Add for Mm {
    type Output = Mm;
    fn add(self, other: Mm) -> Mm {
        Mm(self.0 + other.0)
    }
}

impl AddAssign for Mm {
    fn add_assign(&mut self, other: Mm) {
        self.0 += other.0;
    }
}

impl Sub for Mm {
    type Output = Mm;
    fn sub(self, other: Mm) -> Mm {
        Mm(self.0 - other.0)
    }
}

impl Neg for Mm {
    type Output = Mm;
    fn neg(self) -> Mm {
        Mm(-self.0)
    }
}

impl Mul<f64> for Mm {
    type Output = Mm;
    fn mul(self, factor: f64) -> Mm {
        Mm(self.0 * factor)
    }
}

impl Div<f64> for Mm {
    type Output = Mm;
    fn div(self, divisor: f64) -> Mm {
        Mm(self.0 / divisor)
    }
}

impl Div for Mm {
    type Output = f64;
    fn div(self, other: Mm) -> f64 {
        self.0 / other.0
    }
}

impl Sum for Mm {
    fn sum<I: Iterator<Item = Mm>>(lengths: I) -> Mm {
        Mm(lengths.map(Mm::get).sum())
    }
}

/// Shown as a developer reads it: `12.7 mm`. For a user's eyes take [`LengthUnit::show`].
impl fmt::Display for Mm {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", trimmed(self.0, 3))
    }
}

/// The unit a person sees and types.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LengthUnit {
    /// Millimetres, to a tenth.
    #[default]
    Millimetres,
    /// Inches, to a thousandth.
    InchDecimal,
    /// Inches and fractions, to the nearest sixteenth.
    InchSixteenth,
    /// Inches and fractions, to the nearest thirty-second.
    InchFraction,
    /// Inches and fractions, to the nearest sixty-fourth.
    InchSixtyFourth,
}

impl LengthUnit {
    /// Every unit on offer, in the order a list shows them.
    pub const ALL: [LengthUnit; 5] = [
        LengthUnit::Millimetres,
        LengthUnit::InchDecimal,
        LengthUnit::InchSixteenth,
        LengthUnit::InchFraction,
        LengthUnit::InchSixtyFourth,
    ];

    /// The finest parts that an inch is shown in, where it is shown in fractions.
    pub fn parts(self) -> Option<u32> {
        match self {
            LengthUnit::Millimetres | LengthUnit::InchDecimal => None,
            LengthUnit::InchSixteenth => Some(16),
            LengthUnit::InchFraction => Some(32),
            LengthUnit::InchSixtyFourth => Some(64),
        }
    }

    /// A length as this unit's user reads it: `88.9 mm`, `3.500 in`, `3 1/2 in`.
    ///
    /// ```
    /// # use spelk::units::{LengthUnit, Mm};
    /// assert_eq!(LengthUnit::InchFraction.show(Mm::from_inches(3.5)), "3 1/2 in");
    /// assert_eq!(LengthUnit::Millimetres.show(Mm::new(88.9)), "88.9 mm");
    /// ```
    ///
    /// What is not that fraction is marked, and what is something is never nothing.
    ///
    /// ```
    /// # use spelk::units::{LengthUnit, Mm};
    /// assert_eq!(LengthUnit::InchFraction.show(Mm::new(3.0)), "about 1/8 in");
    /// assert_eq!(LengthUnit::InchFraction.show(Mm::new(0.2)), "under 1/32 in");
    /// ```
    pub fn show(self, length: Mm) -> String {
        match self.parts() {
            Some(parts) if self.is_unseen(length) => format!("under 1/{parts} in"),
            _ => self.show_several([length], ""),
        }
    }

    /// Several lengths that belong together, with one unit, and one mark where any of them is not its fraction.
    ///
    /// ```
    /// # use spelk::units::{LengthUnit, Mm};
    /// let size = [Mm::new(400.0), Mm::from_inches(5.5)];
    /// assert_eq!(LengthUnit::InchFraction.show_several(size, " x "), "about 15 3/4 x 5 1/2 in");
    /// assert_eq!(LengthUnit::Millimetres.show_several(size, " x "), "400 x 139.7 mm");
    /// ```
    pub fn show_several<const N: usize>(self, lengths: [Mm; N], between: &str) -> String {
        let about = if lengths.iter().any(|&length| self.is_rounded(length)) { "about " } else { "" };
        let numbers = lengths.map(|length| self.number(length)).join(between);
        format!("{about}{numbers} {}", self.symbol())
    }

    /// Whether a length is something that this unit's fractions show as nothing.
    fn is_unseen(self, length: Mm) -> bool {
        let parts = |parts| length.to_inches() * f64::from(parts);
        self.parts().is_some_and(|of| parts(of) != 0.0 && parts(of).abs() < 0.5)
    }

    /// Whether a length is not the fraction that it is shown as.
    fn is_rounded(self, length: Mm) -> bool {
        let Some(parts) = self.parts() else { return false };
        let counted = length.to_inches() * f64::from(parts);
        counted.abs() < MOST_PARTS && (counted - counted.round()).abs() > EXACTLY && !self.is_unseen(length)
    }

    /// The same without the unit's symbol, and without a mark where it is not that fraction.
    pub fn number(self, length: Mm) -> String {
        if let Some(parts) = self.parts() {
            let inches = length.to_inches();
            // A field must not say of something that it is nothing.
            return if self.is_unseen(length) { trimmed(inches, 4) } else { fraction(inches, parts) };
        }
        match self {
            LengthUnit::Millimetres => trimmed(length.get(), if length.get().abs() < 10.0 { 2 } else { 1 }),
            _ => format!("{:.3}", positive_zero(length.to_inches(), 3)),
        }
    }

    /// A width in the wood, where a thirty-second of an inch is too coarse to tell a sound wall from a
    /// thin one: `0.94 mm`, `0.037 in`.
    pub fn show_fine(self, length: Mm) -> String {
        match self {
            LengthUnit::Millimetres => format!("{} mm", trimmed(length.get(), 2)),
            _ => {
                format!("{:.3} in", positive_zero(length.to_inches(), 3))
            }
        }
    }

    /// The number of a small length in a form, fine enough that a cutter is told exactly, and without the
    /// unit's symbol: `3.175`, `0.125`.
    pub fn number_fine(self, length: Mm) -> String {
        match self {
            LengthUnit::Millimetres => trimmed(length.get(), 3),
            _ => trimmed(length.to_inches(), 4),
        }
    }

    /// The exact value, for a hover: what [`show`](Self::show) rounded, in both units.
    pub fn show_exact(self, length: Mm) -> String {
        let millimetres = trimmed(length.get(), 4);
        let inches = trimmed(length.to_inches(), 5);
        match self {
            LengthUnit::Millimetres => format!("{millimetres} mm = {inches} in"),
            _ => format!("{inches} in = {millimetres} mm"),
        }
    }

    /// A force as this unit's user reads it, to so many decimals of a newton: `3.47 N`, `0.78 lb`.
    ///
    /// ```
    /// # use spelk::units::LengthUnit;
    /// assert_eq!(LengthUnit::Millimetres.show_force(3.47, 2), "3.47 N");
    /// assert_eq!(LengthUnit::InchFraction.show_force(1.0, 0), "0.2 lb");
    /// ```
    pub fn show_force(self, newtons: f64, places: usize) -> String {
        match self {
            LengthUnit::Millimetres => format!("{} N", trimmed(newtons, places)),
            // A pound is some four newtons: as fine takes a digit more, but two are enough.
            _ => format!("{} lb", trimmed(newtons / NEWTONS_PER_POUND, (places + 1).min(2))),
        }
    }

    /// A force for each of this unit along an edge: `K` of the push.
    pub fn show_force_along(self, newtons_per_mm: f64) -> String {
        match self {
            LengthUnit::Millimetres => trimmed(newtons_per_mm, 2),
            _ => trimmed(newtons_per_mm * MM_PER_INCH / NEWTONS_PER_POUND, 1),
        }
    }

    /// A stress or strength as this unit's user reads it: `2.41 MPa`, `350 psi`.
    ///
    /// ```
    /// # use spelk::units::LengthUnit;
    /// assert_eq!(LengthUnit::Millimetres.show_stress(2.41), "2.41 MPa");
    /// assert_eq!(LengthUnit::InchDecimal.show_stress(2.41), "350 psi");
    /// ```
    pub fn show_stress(self, megapascals: f64) -> String {
        if self == LengthUnit::Millimetres {
            return format!("{} MPa", trimmed(megapascals, 2));
        }
        let pounds = megapascals * MM_PER_INCH * MM_PER_INCH / NEWTONS_PER_POUND;
        format!("{} psi", trimmed(pounds, 0))
    }

    /// What a force is counted in.
    pub fn force_symbol(self) -> &'static str {
        match self {
            LengthUnit::Millimetres => "N",
            _ => "lb",
        }
    }

    /// `mm` or `in`.
    pub fn symbol(self) -> &'static str {
        match self {
            LengthUnit::Millimetres => "mm",
            _ => "in",
        }
    }

    /// One of this unit, in millimetres.
    pub fn one(self) -> Mm {
        match self {
            LengthUnit::Millimetres => Mm::new(1.0),
            _ => Mm::from_inches(1.0),
        }
    }
}

/// Degrees of temperature, as the user reads them; Celsius inside.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DegreeUnit {
    /// Degrees Celsius.
    #[default]
    Celsius,
    /// Degrees Fahrenheit.
    Fahrenheit,
}

impl DegreeUnit {
    /// What most users of a unit of length read temperatures in.
    pub fn beside(unit: LengthUnit) -> DegreeUnit {
        match unit {
            LengthUnit::Millimetres => DegreeUnit::Celsius,
            _ => DegreeUnit::Fahrenheit,
        }
    }

    /// `°C` or `°F`.
    pub fn symbol(self) -> &'static str {
        match self {
            DegreeUnit::Celsius => "\u{b0}C",
            DegreeUnit::Fahrenheit => "\u{b0}F",
        }
    }

    /// A temperature in this unit.
    ///
    /// ```
    /// # use spelk::units::DegreeUnit;
    /// assert_eq!(DegreeUnit::Fahrenheit.number(100.0), 212.0);
    /// assert_eq!(DegreeUnit::Fahrenheit.celsius(32.0), 0.0);
    /// ```
    pub fn number(self, celsius: f64) -> f64 {
        match self {
            DegreeUnit::Celsius => celsius,
            DegreeUnit::Fahrenheit => celsius * 9.0 / 5.0 + 32.0,
        }
    }

    /// The way back from [`number`](Self::number).
    pub fn celsius(self, number: f64) -> f64 {
        match self {
            DegreeUnit::Celsius => number,
            DegreeUnit::Fahrenheit => (number - 32.0) * 5.0 / 9.0,
        }
    }
}

/// Why a length could not be read.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum LengthError {
    /// Nothing was typed.
    Missing,
    /// It does not read as a length.
    NotALength(String),
    /// A fraction is divided by nothing.
    DivideByZero(String),
    /// A board needs three lengths.
    NotABoard(String),
}

/// Reads a length as a person writes it; a bare number is in `bare`.
///
/// Understood: `89`, `89 mm`, `8.9cm`, `3.5in`, `3 1/2`, `3-1/2 in`, `3½"`, `1' 2 1/4"`, `2 ft`.
/// Signs are kept, so that an offset may be negative.
///
/// ```
/// # use spelk::units::{parse_length, LengthUnit, Mm};
/// let inches = LengthUnit::InchFraction;
/// assert_eq!(parse_length("3 1/2", inches).unwrap(), Mm::new(88.9));
/// assert_eq!(parse_length("1' 2 1/4\"", inches).unwrap(), Mm::from_inches(14.25));
/// ```
///
/// # Errors
///
/// Where the text is no length, or one that is not finite.
pub fn parse_length(text: &str, bare: LengthUnit) -> Result<Mm, LengthError> {
    let trimmed = text.trim();
    // What a screen says may be typed as it stands.
    let trimmed = trimmed.strip_prefix("about ").map_or(trimmed, str::trim);
    if trimmed.is_empty() {
        return Err(LengthError::Missing);
    }
    let (sign, body) = match trimmed.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (-1.0, rest),
        None => (1.0, trimmed.strip_prefix('+').unwrap_or(trimmed)),
    };
    let length = parse_unsigned(&spelled_plainly(body), bare, text)?;
    if length.get().is_finite() {
        Ok(length * sign)
    } else {
        Err(LengthError::NotALength(text.trim().to_owned()))
    }
}

/// Reads `24x6x0.75in`: length, width, thickness; a part without a unit takes the last part's.
///
/// # Errors
///
/// Where the text is not three lengths, as in `24x6x0.75in`.
pub fn parse_board(text: &str, bare: LengthUnit) -> Result<[Mm; 3], LengthError> {
    let not_a_board = || LengthError::NotABoard(text.trim().to_owned());
    let lower = text.to_lowercase().replace('\u{d7}', "x");
    let parts: Vec<&str> = lower.split('x').map(str::trim).collect();
    let &[length, width, thickness] = parts.as_slice() else {
        return Err(not_a_board());
    };
    let unit_of = |part: &str| part.trim_start_matches(|c: char| !is_unit_char(c)).trim().to_owned();
    let last_unit = unit_of(thickness);
    let read = |part: &str| {
        let spelled = if unit_of(part).is_empty() { format!("{part} {last_unit}") } else { part.to_owned() };
        parse_length(&spelled, bare)
    };
    match (read(length), read(width), read(thickness)) {
        (Ok(length), Ok(width), Ok(thickness)) => Ok([length, width, thickness]),
        _ => Err(not_a_board()),
    }
}

fn is_unit_char(c: char) -> bool {
    c.is_alphabetic() || matches!(c, '"' | '\'' | '\u{2032}' | '\u{2033}')
}

/// Typographic signs and vulgar fractions in their plain spelling.
fn spelled_plainly(text: &str) -> String {
    const VULGAR: [(char, &str); 9] = [
        ('½', "1/2"),
        ('¼', "1/4"),
        ('¾', "3/4"),
        ('⅛', "1/8"),
        ('⅜', "3/8"),
        ('⅝', "5/8"),
        ('⅞', "7/8"),
        ('⅓', "1/3"),
        ('⅔', "2/3"),
    ];
    let mut plain = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\u{2033}' | '\u{201d}' | '\u{201c}' => plain.push('"'),
            '\u{2032}' | '\u{2019}' | '\u{2018}' => plain.push('\''),
            '\u{2044}' => plain.push('/'),
            '\u{a0}' | '\u{2009}' | '\u{202f}' => plain.push(' '),
            _ => match VULGAR.iter().find(|(sign, _)| *sign == c) {
                Some((_, spelled)) => {
                    plain.push(' ');
                    plain.push_str(spelled);
                }
                None => plain.extend(c.to_lowercase()),
            },
        }
    }
    plain.replace("''", "\"")
}

fn parse_unsigned(text: &str, bare: LengthUnit, original: &str) -> Result<Mm, LengthError> {
    let not_a_length = || LengthError::NotALength(original.trim().to_owned());
    let text = text.trim();
    // Feet come first and leave inches behind: 1' 2 1/4", 2 ft 3 in, 2 ft.
    for feet_sign in ["'", "feet", "foot", "ft"] {
        if let Some((feet, inches)) = text.split_once(feet_sign) {
            let feet = parse_number(feet, original)?;
            let inches = inches.trim().trim_start_matches('-').trim();
            let inches = if inches.is_empty() {
                Mm::ZERO
            } else {
                parse_unsigned(inches, LengthUnit::InchDecimal, original)?
            };
            return Ok(Mm::from_inches(12.0 * feet) + inches);
        }
    }
    let split = text.find(is_unit_char).unwrap_or(text.len());
    let (number, unit) = text.split_at(split);
    let length: fn(f64) -> Mm = match unit.trim().trim_end_matches('.') {
        "" => match bare {
            LengthUnit::Millimetres => Mm::new,
            _ => Mm::from_inches,
        },
        "mm" => Mm::new,
        "cm" => |number| Mm::new(number * 10.0),
        "m" => |number| Mm::new(number * 1000.0),
        "in" | "inch" | "inches" | "\"" => Mm::from_inches,
        _ => return Err(not_a_length()),
    };
    Ok(length(parse_number(number, original)?))
}

/// A number as a person writes it: `3`, `3.5`, `3,5`, `1/2`, `3 1/2`, `3-1/2`.
fn parse_number(text: &str, original: &str) -> Result<f64, LengthError> {
    let not_a_length = || LengthError::NotALength(original.trim().to_owned());
    // A dash between digits joins a fraction to its whole, as in 3-1/2; a leading one is a second sign.
    if text.trim().starts_with('-') {
        return Err(not_a_length());
    }
    let spaced = text.trim().replace('-', " ");
    let parts: Vec<&str> = spaced.split_whitespace().collect();
    let decimal = |part: &str| {
        let digits = part.chars().all(|c| c.is_ascii_digit() || c == '.' || c == ',');
        let number = if digits { part.replace(',', ".").parse::<f64>().ok() } else { None };
        number.ok_or_else(not_a_length)
    };
    let ratio = |part: &str| match part.split_once('/') {
        None => decimal(part),
        Some((top, bottom)) => {
            let (top, bottom) = (decimal(top)?, decimal(bottom)?);
            if bottom == 0.0 {
                return Err(LengthError::DivideByZero(original.trim().to_owned()));
            }
            Ok(top / bottom)
        }
    };
    match parts.as_slice() {
        [single] => ratio(single),
        [whole, part] if part.contains('/') => Ok(decimal(whole)? + ratio(part)?),
        _ => Err(not_a_length()),
    }
}

/// At most `places` decimals, with no idle zeros.
pub(crate) fn trimmed(value: f64, places: usize) -> String {
    let fixed = format!("{:.places$}", positive_zero(value, places));
    if fixed.contains('.') { fixed.trim_end_matches('0').trim_end_matches('.').to_owned() } else { fixed }
}

/// Keeps `-0.0` and what rounds to it from printing a minus sign.
#[expect(clippy::cast_possible_wrap, reason = "a handful of decimals")]
fn positive_zero(value: f64, places: usize) -> f64 {
    if value.abs() < 0.5 * 10f64.powi(-(places as i32)) { 0.0 } else { value }
}

/// `3 1/2`, `1/32`, `-2`, to the nearest `1/denominator`, in lowest terms.
fn fraction(value: f64, denominator: u32) -> String {
    let parts = (value.abs() * f64::from(denominator)).round();
    if parts > MOST_PARTS {
        return format!("{value:.0}");
    }
    #[expect(clippy::cast_sign_loss, reason = "a rounded absolute value under 1e12")]
    let parts = parts as u64;
    let sign = if value < 0.0 && parts > 0 { "-" } else { "" };
    let mut bottom = u64::from(denominator);
    let (whole, mut top) = (parts / bottom, parts % bottom);
    while top > 0 && top % 2 == 0 && bottom % 2 == 0 {
        (top, bottom) = (top / 2, bottom / 2);
    }
    match (whole, top) {
        (_, 0) => format!("{sign}{whole}"),
        (0, _) => format!("{sign}{top}/{bottom}"),
        _ => format!("{sign}{whole} {top}/{bottom}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, expected: Mm) {
        let read = parse_length(text, LengthUnit::InchFraction).unwrap();
        assert!((read - expected).get().abs() < 1e-9, "{text} read as {read}, not {expected}");
    }

    #[test]
    fn lengths_are_read_as_people_write_them() {
        check("3 1/2", Mm::new(88.9));
        check("3-1/2 in", Mm::new(88.9));
        check("3½\"", Mm::new(88.9));
        check("½", Mm::new(12.7));
        check("89 mm", Mm::new(89.0));
        check("89mm", Mm::new(89.0));
        check("8,9 cm", Mm::new(89.0));
        check("1.2m", Mm::new(1200.0));
        check("1' 2 1/4\"", Mm::from_inches(14.25));
        check("1'2.25", Mm::from_inches(14.25));
        check("2 ft", Mm::from_inches(24.0));
        check("2 ft 3 in", Mm::from_inches(27.0));
        check("-3/8 in", Mm::from_inches(-0.375));
        check("  12 ", Mm::from_inches(12.0));
        check("12″", Mm::from_inches(12.0));
    }

    #[test]
    fn what_is_not_a_length_is_refused() {
        for text in ["", "wide", "3 4", "1/0", "1//2", "3 furlongs", "nan", "inf", "1e400", "--3", "1/2/3"] {
            assert!(parse_length(text, LengthUnit::Millimetres).is_err(), "{text:?} was read");
        }
    }

    #[test]
    fn boards_share_the_last_unit() {
        let board = parse_board("24x6x0.75in", LengthUnit::Millimetres).unwrap();
        assert_eq!(board, [Mm::from_inches(24.0), Mm::from_inches(6.0), Mm::from_inches(0.75)]);
        let board = parse_board("600 x 150 x 19", LengthUnit::Millimetres).unwrap();
        assert_eq!(board, [Mm::new(600.0), Mm::new(150.0), Mm::new(19.0)]);
        let board = parse_board("2ft x 5 1/2in x 19mm", LengthUnit::Millimetres).unwrap();
        assert_eq!(board, [Mm::from_inches(24.0), Mm::from_inches(5.5), Mm::new(19.0)]);
        assert!(parse_board("24x6", LengthUnit::Millimetres).is_err());
        assert!(parse_board("24x6xthick", LengthUnit::Millimetres).is_err());
    }

    #[test]
    fn fractions_show_in_lowest_terms() {
        let show = |inches: f64| LengthUnit::InchFraction.show(Mm::from_inches(inches));
        assert_eq!(show(3.5), "3 1/2 in");
        assert_eq!(show(0.03125), "1/32 in");
        assert_eq!(show(12.0), "12 in");
        assert_eq!(show(0.9995), "1 in");
        assert_eq!(show(0.99), "about 1 in");
        assert_eq!(show(-0.25), "-1/4 in");
        assert_eq!(show(-0.001), "under 1/32 in");
        assert_eq!(show(0.0), "0 in");
        assert_eq!(LengthUnit::InchFraction.number(Mm::from_inches(0.001)), "0.001");
    }

    #[test]
    fn a_shown_fraction_reads_back_within_half_its_finest_part() {
        for unit in LengthUnit::ALL {
            let Some(parts) = unit.parts() else { continue };
            for step in 0..400 {
                let length = Mm::new(0.37 * f64::from(step));
                let shown = unit.show(length);
                if shown.starts_with("under") {
                    continue;
                }
                let read = parse_length(&shown, LengthUnit::Millimetres).unwrap();
                let half = MM_PER_INCH / f64::from(2 * parts);
                assert!((read - length).get().abs() <= half + 1e-9, "{shown}");
            }
        }
        let third = Mm::from_inches(1.0 / 3.0);
        assert_eq!(LengthUnit::InchSixteenth.show(third), "about 5/16 in");
        assert_eq!(LengthUnit::InchFraction.show(third), "about 11/32 in");
        assert_eq!(LengthUnit::InchSixtyFourth.show(third), "about 21/64 in");
    }
}
