//! How the system writes money: asked at the outer edge, by the command line and the window, and handed
//! on. Nothing else depends on it.

use crate::shop::{Money, MoneyPlace};

/// Money as the system's locale has it; the built-in way where it names no place we know.
pub fn usual_money() -> Money {
    let set = |name: &str| std::env::var(name).ok();
    let locale = named(set).or_else(of_desktop);
    let place = locale.and_then(|locale| MoneyPlace::of_locale(&locale));
    place.map_or_else(Money::default, |place| place.money.clone())
}

/// The locale of money that the environment names: the first of these that is set and not empty
/// (POSIX.1-2017, XBD 8.2).
fn named(set: impl Fn(&str) -> Option<String>) -> Option<String> {
    ["LC_ALL", "LC_MONETARY", "LANG"].into_iter().filter_map(set).find(|locale| !locale.is_empty())
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
    use super::named;

    #[test]
    fn the_narrowest_variable_that_is_set_names_the_place() {
        let of = |pairs: &[(&str, &str)]| {
            named(|name| pairs.iter().find(|(key, _)| *key == name).map(|(_, value)| (*value).to_owned()))
        };
        assert_eq!(of(&[("LANG", "en_US.UTF-8"), ("LC_MONETARY", "de_CH")]).as_deref(), Some("de_CH"));
        assert_eq!(of(&[("LC_ALL", "C"), ("LC_MONETARY", "de_CH")]).as_deref(), Some("C"));
        assert_eq!(of(&[("LC_ALL", ""), ("LANG", "nb_NO")]).as_deref(), Some("nb_NO"));
        assert_eq!(of(&[]), None);
    }
}
