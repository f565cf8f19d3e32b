//! Names that a file can have on every system that Spelk runs on, so that a job's folder can be carried from
//! one to another. The rules are Windows', which are the narrowest: Microsoft Learn, "Naming Files, Paths, and
//! Namespaces".

use std::path::Path;

/// Characters that no file name has on Windows, beside control characters.
const NOT_IN_NAMES: &str = "<>:\"/\\|?*";

/// The last part of a path, to call a file or a folder by; the whole path where it has none, as `/` has.
///
/// ```
/// # use spelk::file_name::name_of;
/// assert_eq!(name_of("signs/gate.svg".as_ref()), "gate.svg");
/// assert_eq!(name_of("/".as_ref()), "/");
/// ```
pub fn name_of(path: &Path) -> String {
    path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned()
}

/// Whether Windows takes this file name for a device, whatever the folder and the ending: `nul`, `CON.svg`,
/// `Com1.spelk`. Writing there prints, or goes nowhere; reading waits for a keyboard.
pub fn is_device(path: &Path) -> bool {
    let Some(name) = path.file_name() else { return false };
    let name = name.to_string_lossy();
    let stem = name.split(['.', ':']).next().unwrap_or_default().trim_end_matches(' ').to_uppercase();
    if ["CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$"].contains(&stem.as_str()) {
        return true;
    }
    let port = stem.strip_prefix("COM").or_else(|| stem.strip_prefix("LPT"));
    let mut number = port.unwrap_or_default().chars();
    // The superscript digits of Latin-1 count as digits there.
    matches!((number.next(), number.next()), (Some('0'..='9' | '¹' | '²' | '³'), None))
}

/// A file name like this one that every system takes: what Windows forbids becomes `-`, no space or full stop
/// is at the end, and a device's name gets a `-` behind its first part. A name that has nothing left is
/// `design`.
pub fn portable(name: &str) -> String {
    let allowed = |c: char| if c.is_control() || NOT_IN_NAMES.contains(c) { '-' } else { c };
    let name: String = name.chars().map(allowed).collect();
    let name = name.trim_start().trim_end_matches([' ', '.']);
    if name.is_empty() {
        return "design".to_owned();
    }
    if !is_device(Path::new(name)) {
        return name.to_owned();
    }
    let (first, rest) = name.split_at(name.find('.').unwrap_or(name.len()));
    format!("{}-{rest}", first.trim_end())
}

#[cfg(test)]
mod tests {
    use super::{is_device, portable};
    use proptest::prelude::*;
    use std::path::Path;

    #[test]
    fn devices_are_known_in_any_case_and_with_any_ending() {
        for device in
            ["nul", "NUL", "con.svg", "jobs/Aux.spelk", "prn .pdf", "COM1", "lpt9.a.b", "com\u{b9}", "CONIN$"]
        {
            assert!(is_device(Path::new(device)), "{device}");
        }
        for file in ["null.svg", "icon.svg", "COM.svg", "COM10", "lpt", "a.con", "console", "", "..", "nul-1"]
        {
            assert!(!is_device(Path::new(file)), "{file}");
        }
    }

    #[test]
    fn what_windows_forbids_is_replaced_and_the_rest_stays() {
        for (name, expected) in [
            ("inn-sign-outline.svg", "inn-sign-outline.svg"),
            ("Zum Bären.svg", "Zum Bären.svg"),
            ("8:30 \"fresh\".pdf", "8-30 -fresh-.pdf"),
            ("to/from\\it.dxf", "to-from-it.dxf"),
            ("con.spelk", "con-.spelk"),
            ("NUL", "NUL-"),
            ("aux .svg", "aux-.svg"),
            ("sign. .", "sign"),
            (" . ", "design"),
            ("", "design"),
            ("a\tb", "a-b"),
        ] {
            assert_eq!(portable(name), expected, "{name:?}");
        }
    }

    proptest! {
        #[test]
        fn a_portable_name_is_one_name_on_every_system(name in r#"[\PC<>:"/\\|?*. ]{0,12}|(?i)(con|nul|com1)[. ]{0,3}[a-z]{0,3}"#) {
            let made = portable(&name);
            prop_assert!(!made.is_empty() && !made.ends_with([' ', '.']), "{made:?}");
            prop_assert!(!made.chars().any(|c| c.is_control() || "<>:\"/\\|?*".contains(c)), "{made:?}");
            prop_assert!(!is_device(Path::new(&made)), "{made:?}");
            prop_assert_eq!(portable(&made), made.clone(), "once is enough");
        }
    }
}
