//! How the system writes money and which unit it measures in: asked at the outer edge, by the command line
//! and the window, and handed on. Nothing else depends on it.

use crate::shop::{Money, MoneyPlace};
use crate::units::LengthUnit;

/// Money as the system's locale has it; the built-in way where it names no place we know.
pub fn usual_money() -> Money {
    let set = |name: &str| std::env::var(name).ok();
    let locale = named("LC_MONETARY", set).or_else(of_desktop);
    let place = locale.and_then(|locale| MoneyPlace::of_locale(&locale));
    place.map_or_else(Money::default, |place| place.money.clone())
}

/// The unit that lengths are shown in before the user chooses one: inches where the system's locale is of a
/// place that measures in them, else millimetres.
pub fn usual_unit() -> LengthUnit {
    let set = |name: &str| std::env::var(name).ok();
    let locale = named("LC_MEASUREMENT", set).or_else(of_desktop);
    unit_of(locale.as_deref().unwrap_or(""))
}

/// The unit of a locale such as `en_US.UTF-8`, by its territory. The United States, Liberia and Myanmar are
/// the territories with the measurement system `US` of the Unicode CLDR (from memory).
fn unit_of(locale: &str) -> LengthUnit {
    let name = locale.split(['.', '@']).next().unwrap_or("");
    match name.split(['_', '-']).next_back() {
        Some("US" | "LR" | "MM") => LengthUnit::InchFraction,
        _ => LengthUnit::Millimetres,
    }
}

/// The locale that the environment names for one category: the first of these that is set and not empty
/// (POSIX.1-2017, XBD 8.2).
fn named(category: &str, set: impl Fn(&str) -> Option<String>) -> Option<String> {
    ["LC_ALL", category, "LANG"].into_iter().filter_map(set).find(|locale| !locale.is_empty())
}

/// Desktops that set no such variables know it themselves.
#[cfg(any(windows, target_os = "macos"))]
fn of_desktop() -> Option<String> {
    sys_locale::get_locale()
}

#[cfg(not(any(windows, target_os = "macos")))]
fn of_desktop() -> Option<String> {
    None
}

#[cfg(test)]
mod tests {
    use super::{named, unit_of};
    use crate::units::LengthUnit;

    #[test]
    fn places_that_measure_in_inches_start_in_inches() {
        for inches in ["en_US.UTF-8", "es-US", "en_LR", "my_MM@currency"] {
            assert_eq!(unit_of(inches), LengthUnit::InchFraction, "{inches}");
        }
        for metric in ["en_GB.UTF-8", "de_CH", "C", "POSIX", "", "us", "en_US_extra.UTF-8x"] {
            assert_eq!(unit_of(metric), LengthUnit::Millimetres, "{metric}");
        }
    }

    #[test]
    fn the_narrowest_variable_that_is_set_names_the_place() {
        let of = |pairs: &[(&str, &str)]| {
            named("LC_MONETARY", |name| {
                pairs.iter().find(|(key, _)| *key == name).map(|(_, value)| (*value).to_owned())
            })
        };
        assert_eq!(of(&[("LANG", "en_US.UTF-8"), ("LC_MONETARY", "de_CH")]).as_deref(), Some("de_CH"));
        assert_eq!(of(&[("LC_ALL", "C"), ("LC_MONETARY", "de_CH")]).as_deref(), Some("C"));
        assert_eq!(of(&[("LC_ALL", ""), ("LANG", "nb_NO")]).as_deref(), Some("nb_NO"));
        assert_eq!(of(&[]), None);
    }
}
