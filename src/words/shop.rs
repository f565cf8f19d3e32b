//! The shop's own entries: what makes no sense in them, and what is not used for that.

use crate::shop::{Aside, RangeUnit, ShopNotice, Wrong};
use crate::units::{LengthUnit, trimmed};

/// Why a value of an entry makes no sense: no capital and no full stop, for it stands under its field or
/// after the entry's name.
pub fn wrong(wrong: &Wrong, unit: LengthUnit) -> String {
    match *wrong {
        Wrong::NoName => "it needs a name".to_owned(),
        Wrong::NoSource => "say where the numbers come from".to_owned(),
        Wrong::NotOverZero => "it must be more than 0".to_owned(),
        Wrong::Negative => "it must be 0 or more".to_owned(),
        Wrong::Range { least, most, unit } => range(&trimmed(least, 2), &trimmed(most, 2), unit),
        Wrong::Length { least, most } => {
            format!("it must be from {} to {}", unit.show_fine(least), unit.show(most))
        }
        Wrong::Feed { least, most } => {
            format!("it must be from {}/min to {}/min", unit.show(least), unit.show(most))
        }
        Wrong::TipTooWide => "it must be narrower than the cutter".to_owned(),
        Wrong::BallTooWide { least, most } => format!(
            "it must be from {} to {} and no wider than the cutter",
            unit.show_fine(least),
            unit.show(most)
        ),
        Wrong::PassTooDeep => "it must be more than 0 and no deeper than the flutes are long".to_owned(),
        Wrong::WoodStrength => "no wood is as strong as its wood is said to be".to_owned(),
        Wrong::OverMost { most, bound } => {
            format!("it must be no more than the {}, {}", most.label().to_lowercase(), unit.show(bound))
        }
        Wrong::TooLong { letters } => format!("it must be no longer than {letters} letters"),
        Wrong::Marks => "the two marks must differ, and neither may be a digit".to_owned(),
    }
}

fn range(least: &str, most: &str, unit: RangeUnit) -> String {
    match unit {
        RangeUnit::Count => format!("it must be from {least} to {most}"),
        RangeUnit::Degrees => format!("it must be from {least} to {most} degrees"),
        RangeUnit::Percent => format!("it must be from {least} to {most} %"),
        RangeUnit::Turns => format!("it must be from {least} to {most} turns a minute"),
        RangeUnit::PercentOfDiameter => format!("it must be from {least} to {most} % of the diameter"),
        RangeUnit::PercentOfPrice => format!("it must be from {least} to {most} % of the price"),
        RangeUnit::PercentOfWidthAPoint => {
            format!("it must be from {least} to {most} % of the width for each point of moisture")
        }
        RangeUnit::Density => format!("it must be from {least} to {most} kg/m\u{b3}"),
        RangeUnit::Megapascals => format!("it must be from {least} to {most} MPa"),
    }
}

/// A file of the shop's own could not be used when something was to be kept in it.
pub fn set_aside(aside: &Aside) -> String {
    let Aside { path, kept_as } = aside;
    format!(
        "{} could not be used and is kept as {}; correct it there, and what it held can be put back",
        path.display(),
        kept_as.display()
    )
}

/// Something of the shop's own is not used; lengths are in `unit`.
pub fn not_used(notice: &ShopNotice, unit: LengthUnit) -> String {
    match notice {
        ShopNotice::Unreadable { path, error } => {
            format!("{} cannot be read ({}): Spelk uses what is built in", path.display(), error)
        }
        ShopNotice::Damaged { path, error } => {
            format!(
                "{} cannot be used: {error}; until you correct it, Spelk uses what is built in",
                path.display()
            )
        }
        ShopNotice::WrongEntry { path, name, wrong: found } => {
            format!("'{name}' is left out: {}; correct it in {}", wrong(found, unit), path.display())
        }
        ShopNotice::WrongPrices { path, wrong: found } => format!(
            "{} cannot be used: a price in it makes no sense ({}); until you correct it, Spelk uses the built-in examples",
            path.display(),
            wrong(found, unit)
        ),
    }
}
